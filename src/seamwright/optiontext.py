"""Shared options as words: `tolerance 1/8 in` in a file is `--tolerance 1/8in` on the command line.

Knows:  the long name of every shared option, how its text is read, which field of PlanOptions it sets.
Leaves: which of several sources wins (the caller applies them from the weakest to the strongest).
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable
from dataclasses import replace
from typing import Any, TypeVar

from seamwright.errors import OptionError, SeamwrightError, fail
from seamwright.options import Fit, PlanOptions, Priority, Units
from seamwright.units import parse_length, parse_size, say_length

_T = TypeVar("_T")


def with_options(options: PlanOptions, pairs: Iterable[tuple[str, str]]) -> PlanOptions:
    """`options` with each (long name, text) applied in turn.

    Raises:
        OptionError: a name or a text cannot be used.
    """
    for name, text in pairs:
        field, value = read_option(name, text)
        options = replace(options, **{field: value})
    return options


def read_option(name: str, text: str) -> tuple[str, Any]:
    """(field of PlanOptions, value) for a long option name and its text.

    Raises:
        OptionError: the name is not known (the mend names the nearest), or the text is no value for it.
    """
    if name not in OPTIONS:
        import difflib  # only a slip needs it

        near = difflib.get_close_matches(name.lower(), OPTIONS, n=1)
        mend = f"Perhaps '{near[0]}' is meant" if near else f"Use one of: {', '.join(OPTIONS)}"
        raise fail(OptionError, "option", f"'{name}' is no option", mend)
    field, read = OPTIONS[name]
    try:
        return field, read(text.strip())
    except SeamwrightError as error:
        fault = error.faults[0]
        raise fail(OptionError, "option", f"option {name}: {fault.what}", fault.mend) from None


def _yes_no(text: str) -> bool:
    # On the command line the bare name means yes.
    return _choice({"": True, "yes": True, "no": False})(text)


def _choice(choices: dict[str, _T]) -> Callable[[str], _T]:
    def read(text: str) -> _T:
        if text.lower() not in choices:
            named = ", ".join(c for c in choices if c)
            raise fail(OptionError, "option", f"'{text}' is none of the choices", f"Use one of: {named}")
        return choices[text.lower()]

    return read


def _length(least_in: float, most_in: float) -> Callable[[str], float]:
    def read(text: str) -> float:
        inches = parse_length(text)
        if not least_in <= inches <= most_in:
            raise fail(
                OptionError,
                "option",
                f"{text} is out of range",
                f"Give {say_length(least_in)} to {say_length(most_in)}",
            )
        return inches

    return read


def _whole(least: int, what: str) -> Callable[[str], int]:
    def read(text: str) -> int:
        plain = text.replace(",", "").replace("_", "")
        if not (plain.isascii() and plain.isdigit() and len(plain) <= 15 and int(plain) >= least):
            raise fail(
                OptionError, "option", f"'{text}' is no number of {what}", f"Give a whole number from {least:,}"
            )
        return int(plain)

    return read


def _seconds(text: str) -> float:
    try:
        seconds = float(text.removesuffix("s"))
    except ValueError:
        seconds = math.nan
    if not 0 < seconds < math.inf:
        raise fail(OptionError, "option", f"'{text}' is no time", "Give seconds above 0, such as 2.5")
    return seconds


OPTIONS: dict[str, tuple[str, Callable[[str], Any]]] = {
    "size": ("size", parse_size),
    "stretch": ("stretch", _yes_no),
    "tolerance": ("tolerance_in", _length(0.0, 1.0)),
    "allowance": ("allowance_in", _length(0.0, 2.0)),
    "units": ("units", _choice({unit.value: unit for unit in Units})),
    "paper": ("paper", str.lower),
    "fit": ("fit", _choice({fit.value: fit for fit in Fit})),
    "max-patches": ("max_patches", _whole(1, "patches")),
    "start": ("start", str.strip),
    "priority": ("priority", _choice({priority.value: priority for priority in Priority})),
    "fold-clear": ("fold_clear", _yes_no),
    "set-in": ("set_in", _yes_no),
    "steps": ("steps", _whole(1, "steps")),
    "seconds": ("seconds", _seconds),
}
"""Long name -> (field of PlanOptions, reader of its text)."""
