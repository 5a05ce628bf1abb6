"""Options of sheets, cutting lists and booklets as fields of the page, and whether a value typed there can be used.

Knows:  in which order they are offered, which are in sight, what can be chosen, words where the help of the command
        line reads badly on a page.
Leaves: what an option's text means (optiontext), its help (offered), its name on the page (words.onpage).
"""

from __future__ import annotations

import re
from argparse import ArgumentParser
from dataclasses import dataclass, field
from functools import cache
from typing import TYPE_CHECKING, Any

from seamwright import offered
from seamwright.errors import OptionError, fail
from seamwright.optiontext import read_option
from seamwright.words.onpage import LABELS, capital, on_page

if TYPE_CHECKING:
    from seamwright.paper import Paper

YES = "yes"


@dataclass(frozen=True, slots=True)
class Field:
    """An option as a field.

    Attributes:
        option: its long name. where: "check", "print", "cut" or "book", the part that offers it.
        group: the words above it and its neighbours; "" for those in sight.
        kind: "words", "length", "number", "choice", "paper", "yes", "no" (ticked unless the value is stated).
        usual: what holds if nothing is said, as it stands in an empty field; metric: with metric measures, if it is
            another. choices: (value, words).
        value: what "yes" or "no" states. help: a sentence; "" for that of the command line.
    """

    option: str
    where: str = "print"
    group: str = ""
    kind: str = "yes"
    usual: str = ""
    metric: str = ""
    choices: tuple[tuple[str, str], ...] = ()
    value: str = YES
    help: str = field(default="", repr=False)


_SHEETS, _LINES = "Sheets", "What is printed"

FIELDS = (
    Field("paper", kind="paper", help="The size in your printer."),
    Field("copies", kind="number", usual="1", help="Of every foundation: one for each block."),
    Field("allowance", kind="length", usual="1/4 in", metric="0.75 cm", help="Beyond the stitch line, all round."),
    Field(
        "units", kind="choice", choices=(("", "inches"), ("metric", "centimetres")), help="On paper and in words."
    ),
    Field(
        "sets",
        group=_SHEETS,
        value="apart",
        help="Every copy is a set of sheets of its own, with a line for a name, to hand out in class.",
    ),
    Field("landscape", group=_SHEETS, help="Margins turn with the paper."),
    Field("upright", group=_SHEETS),
    Field(
        "margins",
        group=_SHEETS,
        kind="length",
        usual="1/4in,1/4in,1/2in,1/4in",
        help="What your printer leaves white: one length, or four: top, right, bottom, left of upright paper.",
    ),
    Field("trial-page", group=_SHEETS),
    Field("footer", group=_SHEETS, kind="words"),
    Field("tints", group=_LINES),
    Field("ink-saver", group=_LINES),
    Field("unmirrored", group=_LINES),
    Field("windows", group=_LINES),
    Field(
        "stock",
        group=_LINES,
        kind="choice",
        choices=(("", "paper, sewn through and torn off"), ("freezer", "freezer paper, ironed on and used again")),
        help="Try one sheet of freezer paper first, and none in a laser printer unless its maker allows it.",
    ),
    Field("enlarge", group=_LINES, kind="number", usual="1"),
    Field(
        "fit",
        "check",
        kind="no",
        value="none",
        help="Where any plan allows it, on Letter and A4 alike; without it sections may print in parts to glue.",
    ),
    Field(
        "rotary",
        "check",
        value="auto",
        help="What a ruler and a rotary cutter do quicker stays off the paper and stands in the cutting list.",
    ),
    Field("max-patches", "check", kind="number", usual="any number"),
    Field(
        "start",
        "check",
        kind="words",
        usual="as planned",
        help="The patch that its section starts with, by the name it has with nothing here, such as A4.",
    ),
    Field(
        "priority",
        "check",
        value="repeats",
        help="A block of one unit comes out as one foundation printed often, even if that takes more sections.",
    ),
    Field(
        "fold-clear",
        "check",
        help="Only steps whose fold line runs clear of all that is sewn before, even if that takes more sections.",
    ),
    Field(
        "reversed",
        "check",
        help="For a quilt in which the block comes both ways: what is A in the block is printed reversed, as Ar.",
    ),
    Field(
        "pre-pieced",
        "check",
        kind="words",
        usual="nothing",
        help="Neighbours laid on as one, by the names they have with nothing here, such as A2+A3.",
    ),
    Field(
        "tolerance",
        "check",
        kind="length",
        usual="1/16 in",
        help="Gaps and wobbles up to this are taken for slips of the hand.",
    ),
    Field("set-in", "check", help="With seams that turn at a point: set in, or sewn in two goes."),
    Field("blocks", "cut", kind="number", usual="1", help="How many you make."),
    Field("spare", "cut", kind="number", usual="10 %"),
    Field(
        "cloth",
        "cut",
        kind="choice",
        choices=(("", "by the yard or metre"), ("fat-quarters", "in fat quarters")),
        help="Fat quarters are 18 x 21 in, or 50 x 55 cm.",
    ),
    Field("stack", "cut"),
    Field("students", "book", kind="number", usual="1", help="What each one and the whole class needs."),
    Field("level", "book", kind="words", usual="worked out", help="For whom it is, in your words."),
    Field("hours", "book", kind="number", usual="worked out", help="How long one block takes."),
    Field("large-type", "book"),
    Field("left-handed", "book"),
)


@cache
def _helps() -> dict[str, str]:
    """The help of every option on the command line."""
    parser = ArgumentParser(add_help=False)
    for add in (offered.add_shared, offered.add_print, offered.add_cut, offered.add_book):
        add(parser)
    return {
        action.option_strings[0].removeprefix("--"): (action.help or "").replace("%%", "%")
        for action in parser._actions
        if action.option_strings
    }


def help_of(one: Field) -> str:
    """One sentence: the field's own, or the first of the command's help without what names its defaults."""
    if one.help:
        return one.help
    words = re.sub(r"\s*\([^()]*\bdefault\b[^()]*\)", "", _helps()[one.option])
    words = on_page(words.partition(";")[0].strip())
    return f"{capital(words)}."


def choices_object() -> list[dict[str, Any]]:
    """All fields as data, in their order."""
    return [
        {
            "option": one.option,
            "label": LABELS[one.option][1],
            "where": one.where,
            "group": one.group,
            "kind": one.kind,
            "usual": one.usual,
            "metric": one.metric or one.usual,
            "choices": _papers() if one.kind == "paper" else [list(pair) for pair in one.choices],
            "value": one.value,
            "help": help_of(one),
        }
        for one in FIELDS
    ]


def _papers() -> list[list[str]]:
    """Papers with their size; the usual one is not stated."""
    from seamwright.options import PlanOptions
    from seamwright.paper import PAPERS

    usual = PlanOptions().paper
    return [["" if page.name == usual else page.name, f"{page.said}, {_sides(page)}"] for page in PAPERS]


def _sides(page: Paper) -> str:
    """A paper's size in the unit of its standard."""
    from seamwright.paper import MM_PER_IN
    from seamwright.units import say_size

    width, height = (side * MM_PER_IN for side in page.sides_in)
    whole = all(abs(side - round(side)) < 1e-6 for side in (width, height))
    return f"{width:.0f} x {height:.0f} mm" if whole else say_size(*page.sides_in)


def usable(option: str, value: str) -> None:
    """Whether an option can have this value by itself; what goes with other options the plan says.

    Raises:
        OptionError: it cannot, in the page's words.
    """
    if not value:
        return
    try:
        read_option(option, value)
    except OptionError as error:
        fault = error.faults[0]
        what = fault.what.removeprefix(f"option {option}: ")
        raise fail(OptionError, "option", capital(what), fault.mend) from None
