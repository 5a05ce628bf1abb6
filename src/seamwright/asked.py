"""What a call asks for: options as a script gives them, and what several drawings that share a print agree on.

Knows:  how values of a call become the text of options, whose options win, a size written behind a drawing's name.
Leaves: what an option's text means (optiontext), doing it (api).
"""

from __future__ import annotations

import os
from collections.abc import Iterable, Sequence
from typing import TypeVar

from seamwright.errors import OptionError, fail
from seamwright.options import BookOptions, CutOptions, PlanOptions, PrintOptions
from seamwright.optiontext import read_option, with_options
from seamwright.paper import Paper, paper
from seamwright.piecing.model import Plan

Text = str | float | bool
"""An option's value: its text, a number (inches, steps, seconds), or True for a bare option."""
Given = Sequence[tuple[str, str]]


def usable_options(pairs: Iterable[tuple[str, str]]) -> PlanOptions:
    """The defaults with (long name, text) applied in turn, each checked, margins against their paper too.

    Raises:
        OptionError: a name or a text cannot be used.
    """
    return with_options(PlanOptions(), pairs)


def texts_of(options: dict[str, Text]) -> list[tuple[str, str]]:
    """Options of a call as pairs (long name, text).

    Raises:
        OptionError: a name or a value cannot be used.
    """
    words = {True: "yes", False: "no"}
    # A keyword of Python holds no dash: set_in is the option set-in.
    texts = [
        (name.replace("_", "-"), words[value] if isinstance(value, bool) else str(value))
        for name, value in options.items()
    ]
    for name, text in texts:
        read_option(name, text)
    return texts


def split_size(drawing: str) -> tuple[str, str]:
    """(path, size) of "kite.svg@8in"; the size is "" if none is given, or if a file has that whole name."""
    path, _, size = drawing.rpartition("@")
    if not (path and size) or os.path.exists(drawing):
        return drawing, ""
    return path, size


_Kind = TypeVar("_Kind", bound=PrintOptions | CutOptions | BookOptions)


def agreed(kind: type[_Kind], plans: Sequence[Plan], asked: dict[str, Text]) -> _Kind:
    """How plans are printed, cut or told of together: the call's options, then those that the drawings hold.

    Args:
        kind: which options; those of other kinds in `asked` are read and left.

    Raises:
        OptionError: one cannot be used, or drawings that share a print ask for different ones.
    """
    given = texts_of(asked)
    found: list[_Kind] = []
    for plan in plans:
        one = with_options(kind(), [*plan.block.options, *given])
        if one not in found:
            found.append(one)
    if len(found) > 1:
        ways = [each.changed() for each in found]
        names = sorted({name for way in ways for name in way if any(w.get(name) != way[name] for w in ways)})
        options = ", ".join(f"--{name.replace('_', '-')}" for name in names)
        done = {PrintOptions: "printed", CutOptions: "cut", BookOptions: "told of"}[kind]
        what = f"the drawings ask to be {done} in different ways ({options})"
        raise fail(OptionError, "option", what, "Say which on the command line, or take them one by one")
    return found[0] if found else kind()


def one_paper(plans: Sequence[Plan]) -> Paper:
    """The paper on which all of these plans are printed.

    Raises:
        OptionError: they ask for different ones.
    """
    papers = list(dict.fromkeys(paper(plan.options.paper, plan.options.margins) for plan in plans))
    if len(papers) > 1:
        names = dict.fromkeys(page.name for page in papers)
        asked = f"papers ({', '.join(names)})" if len(names) > 1 else "margins"
        mend = "Say which with --paper and --margins, or print them one by one"
        raise fail(OptionError, "option", f"the drawings ask for different {asked}", mend)
    return papers[0]
