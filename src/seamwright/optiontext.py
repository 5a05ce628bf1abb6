"""Shared options as words: `tolerance 1/8 in` in a file is `--tolerance 1/8in` on the command line.

Knows:  the long name of every option that a drawing's text form can hold, how its text is read, which field of
        its kind of options it sets.
Leaves: which of several sources wins (the caller applies them from the weakest to the strongest).
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable
from dataclasses import replace
from typing import Any, TypeVar

from seamwright.errors import OptionError, SeamwrightError, fail
from seamwright.options import (
    AnyOptions,
    BookOptions,
    Cloth,
    CutOptions,
    Fit,
    PlanOptions,
    PrintOptions,
    Priority,
    Rotary,
    Sets,
    Stock,
    Units,
)
from seamwright.paper import HOME, Margins, paper, papers_for
from seamwright.units import parse_length, parse_size, quoted, say_length, scan_amount

_T = TypeVar("_T")
_Options = TypeVar("_Options", bound=AnyOptions)


def with_options(options: _Options, pairs: Iterable[tuple[str, str]]) -> _Options:
    """`options` with each (long name, text) applied in turn; those of the other kinds are read and left.

    Raises:
        OptionError: a name or a text cannot be used.
    """
    mine = TABLES[type(options)]
    for name, text in pairs:
        field, value = read_option(name, text)
        if name in mine:
            options = replace(options, **{field: value})
    if isinstance(options, PlanOptions) and options.margins is not None:
        try:
            papers_for(options.paper, options.margins)
        except SeamwrightError as error:
            fault = error.faults[0]
            raise fail(OptionError, "option", f"option margins: {fault.what}", fault.mend) from None
    return options


def read_option(name: str, text: str) -> tuple[str, Any]:
    """(field of its kind of options, value) for a long option name and its text.

    Raises:
        OptionError: the name is not known (the mend names the nearest), or the text is no value for it.
    """
    known = ALL_OPTIONS
    if name not in known:
        import difflib  # only a slip needs it

        near = difflib.get_close_matches(name.lower(), known, n=1)
        mend = f"Perhaps '{near[0]}' is meant" if near else f"Use one of: {', '.join(known)}"
        raise fail(OptionError, "option", f"{quoted(name)} is no option", mend)
    field, read = known[name]
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
            raise fail(OptionError, "option", f"{quoted(text)} is none of the choices", f"Use one of: {named}")
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


def _whole(least: int, what: str, most: int = 10**15) -> Callable[[str], int]:
    def read(text: str) -> int:
        plain = text.replace(",", "").replace("_", "")
        if not (plain.isascii() and plain.isdigit() and len(plain) <= 15 and least <= int(plain) <= most):
            to = f" to {most:,}" if most < 10**15 else ""
            raise fail(
                OptionError,
                "option",
                f"{quoted(text)} is no number of {what}",
                f"Give a whole number from {least:,}{to}",
            )
        return int(plain)

    return read


def _seconds(text: str) -> float:
    try:
        seconds = float(text.removesuffix("s"))
    except ValueError:
        seconds = math.nan
    if not 0 < seconds < math.inf:
        raise fail(OptionError, "option", f"{quoted(text)} is no time", "Give seconds above 0, such as 2.5")
    return seconds


def _margins(text: str) -> Margins | None:
    """One length for all sides, or four: top, right, bottom, left; None for those of home printers."""
    lengths = [_length(0.0, 3.0)(part.strip()) for part in text.split(",")]
    if len(lengths) not in (1, 4):
        what = f"{quoted(text)} is {len(lengths)} lengths"
        mend = "Give one for all sides: 1/2in, or four for top, right, bottom, left: 1/4in,1/4in,1/2in,1/4in"
        raise fail(OptionError, "option", what, mend)
    margins = Margins(*(lengths * 4)[:4])
    return None if margins == HOME else margins


def _times(text: str) -> float:
    """2, 2x or 200 %."""
    plain = text.lower().removesuffix("x").strip()
    try:
        times = float(plain.removesuffix("%")) / 100 if plain.endswith("%") else float(plain)
    except ValueError:
        times = math.nan
    if not 1 <= times <= 12:
        raise fail(
            OptionError, "option", f"{quoted(text)} is no enlargement", "Give 1 to 12 times, such as 3 or 300%"
        )
    return times


def _share(text: str) -> float:
    """10 or 10 %, as a share of one."""
    try:
        per_cent = float(text.removesuffix("%"))
    except ValueError:
        per_cent = math.nan
    if not 0 <= per_cent <= 100:
        raise fail(OptionError, "option", f"{quoted(text)} is no share", "Give 0 to 100 per cent, such as 10")
    return per_cent / 100


def _hours(text: str) -> float:
    """2.5, 2 1/2, 2 1/2 h or 2 1/2 hours."""
    body = text.strip().lower()
    body = next((body.removesuffix(unit) for unit in ("hours", "hour", "h") if body.endswith(unit)), body).strip()
    amount = scan_amount(body)
    if amount is None or amount.unit or amount.end != len(body) or not 0 < amount.value <= 1000:
        raise fail(OptionError, "option", f"{quoted(text)} is no time", "Give hours, such as 2.5 or 2 1/2")
    return float(amount.value)


LONGEST_FOOTER = 300
"""Characters: two lines of a sheet of letter paper, six where the foot is at its narrowest."""


def _footer(text: str) -> str:
    words = " ".join(text.split())
    # In a file, where no shell takes them away, quotation marks round the whole are not meant to be printed.
    if len(words) > 1 and (words[0], words[-1]) in (('"', '"'), ("“", "”")) and not set('"“”') & set(words[1:-1]):
        words = words[1:-1].strip()
    if len(words) > LONGEST_FOOTER:
        what = f"the words are {len(words)} characters long"
        mend = f"Keep to {LONGEST_FOOTER}: name, copying permission, edition, date; more needs a page of its own"
        raise fail(OptionError, "option", what, mend)
    return words


OPTIONS: dict[str, tuple[str, Callable[[str], Any]]] = {
    "size": ("size", parse_size),
    "stretch": ("stretch", _yes_no),
    "tolerance": ("tolerance_in", _length(0.0, 1.0)),
    "allowance": ("allowance_in", _length(0.0, 2.0)),
    "units": ("units", _choice({unit.value: unit for unit in Units})),
    "paper": ("paper", lambda text: paper(text).name),
    "margins": ("margins", _margins),
    "fit": ("fit", _choice({fit.value: fit for fit in Fit})),
    "max-patches": ("max_patches", _whole(1, "patches")),
    "start": ("start", str.strip),
    "priority": ("priority", _choice({priority.value: priority for priority in Priority})),
    "fold-clear": ("fold_clear", _yes_no),
    "set-in": ("set_in", _yes_no),
    "palette": ("palette", str.strip),
    "colourway": ("colourway", str.strip),
    "rotary": ("rotary", _choice({rotary.value: rotary for rotary in Rotary})),
    "pre-pieced": ("pre_pieced", str.strip),
    "reversed": ("reversed", _yes_no),
    "steps": ("steps", _whole(1, "steps")),
    "seconds": ("seconds", _seconds),
}
"""Long name -> (field of PlanOptions, reader of its text)."""

PRINT_OPTIONS: dict[str, tuple[str, Callable[[str], Any]]] = {
    "copies": ("copies", _whole(1, "copies", 500)),
    "sets": ("sets", _choice({sets.value: sets for sets in Sets})),
    "upright": ("upright", _yes_no),
    "effort": ("effort", _whole(1, "steps")),
    "landscape": ("landscape", _yes_no),
    "stock": ("stock", _choice({stock.value: stock for stock in Stock})),
    "unmirrored": ("unmirrored", _yes_no),
    "windows": ("windows", _yes_no),
    "tints": ("tints", _yes_no),
    "ink-saver": ("ink_saver", _yes_no),
    "trial-page": ("trial_page", _yes_no),
    "enlarge": ("enlarge", _times),
    "footer": ("footer", _footer),
}
"""Long name -> (field of PrintOptions, reader of its text)."""

CUT_OPTIONS: dict[str, tuple[str, Callable[[str], Any]]] = {
    "blocks": ("blocks", _whole(1, "blocks", 5000)),
    "spare": ("spare", _share),
    "cloth": ("cloth", _choice({cloth.value: cloth for cloth in Cloth})),
    "stack": ("stack", _yes_no),
}
"""Long name -> (field of CutOptions, reader of its text)."""

BOOK_OPTIONS: dict[str, tuple[str, Callable[[str], Any]]] = {
    "students": ("students", _whole(1, "students", 500)),
    "level": ("level", _footer),
    "hours": ("hours", _hours),
    "large-type": ("large_type", _yes_no),
    "left-handed": ("left_handed", _yes_no),
}
"""Long name -> (field of BookOptions, reader of its text)."""

TABLES: dict[type, dict[str, tuple[str, Callable[[str], Any]]]] = {
    PlanOptions: OPTIONS,
    PrintOptions: PRINT_OPTIONS,
    CutOptions: CUT_OPTIONS,
    BookOptions: BOOK_OPTIONS,
}
"""The options of each kind."""
ALL_OPTIONS = OPTIONS | PRINT_OPTIONS | CUT_OPTIONS | BOOK_OPTIONS
"""Those of all kinds; no two share a name."""
