"""What a drawing says of itself beside its lines: its name and the options that it holds.

Knows:  where these lines stand and how they are written.
Leaves: which values options take (optiontext).
"""

from __future__ import annotations

import re

from seamwright.drawing.fabricline import LONGEST_NAME
from seamwright.drawing.textform import stated
from seamwright.drawing.textwrite import plain_or_quoted
from seamwright.drawing.tokens import Reading
from seamwright.optiontext import ALL_OPTIONS, read_option
from seamwright.sketch.draft import checked, draft_of, refuse
from seamwright.sketch.edits import Rename, SetOption
from seamwright.sketch.written import Written
from seamwright.units import quoted

FILES = ("palette",)
"""Options that name a file."""


def renamed(text: str, edit: Rename) -> str:
    """The text with another name.

    Raises:
        DrawingError: the text cannot be read. OptionError: the name is none.
    """
    facts = draft_of(text).facts
    name = " ".join(edit.name.split())
    if not name:
        raise refuse("the name is missing", "Give the block a name, such as kite")
    if len(name) > LONGEST_NAME:
        raise refuse(f"the name is {len(name)} characters long", f"Use at most {LONGEST_NAME}")
    if name == facts.name:
        return text
    done = _stated(text, facts.first_said.get("the name"), f"name {plain_or_quoted(name)}")
    return checked(done, "the name")


def optioned(text: str, edit: SetOption) -> str:
    """The text with an option of another value, or without it.

    Raises:
        DrawingError: the text cannot be read. OptionError: there is no such option, it has no such value, or it
            would name a file elsewhere.
    """
    facts = draft_of(text).facts
    name, value = edit.name.strip().lower(), " ".join(edit.value.split())
    number = facts.first_said.get(f"option {name}")
    if not value:
        if name not in ALL_OPTIONS:
            read_option(name, value)
        if number is None:
            return text
        written = Written(text)
        written.drop(number)
        return written.text()
    read_option(name, value)
    if name in FILES and (re.search(r"[/\\:\x00]", value) or value.startswith(".")):
        raise refuse(
            f"option {name}: {quoted(value)} is no plain name of a file", "Name a file that lies beside the drawing"
        )
    if facts.options.get(name) == value:
        return text
    done = checked(_stated(text, number, f"option {name} {value}"), f"option {name}")
    if stated(done, name="", file="")[0].options.get(name) != value:
        raise refuse(f"option {name}: {quoted(value)} cannot be written", "Leave out the # with a space behind it")
    return done


def _stated(text: str, number: int | None, line: str) -> str:
    """The text with a line in place of another, or behind those that speak of the block as a whole."""
    written = Written(text)
    if number is not None:
        reading = Reading(written.line(number), number)
        written.put(number, reading.tokens[0].start, reading.end, line)
        return written.text()
    facts = draft_of(text).facts
    before = ("the header",) if line.startswith("name") else ("the size", "the grid", "the outline", "option")
    said = [n for what, n in facts.first_said.items() if what.startswith(before)]
    written.add(max(said, default=_header(text)), line)
    return written.text()


def _header(text: str) -> int:
    """Number of the first line, which says what file this is."""
    from seamwright.drawing.header import after_header
    from seamwright.drawing.tokens import lines_of

    return after_header(lines_of(text, ""), "", "block") - 1
