"""Edits done to a block's text form: only the lines touched change, remarks and order stay.

Knows:  what each edit does to the text.
Leaves: the edits as values (edits), what the page shows (view), the grammar (drawing).
Units:  inches come in; figures are written as the text counts them.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import fields
from typing import Any

from seamwright.sketch import fabrics
from seamwright.sketch.copies import copied
from seamwright.sketch.draft import refuse
from seamwright.sketch.draw import drawn, drawn_arc, drawn_length
from seamwright.sketch.edits import (
    Copies,
    Draw,
    DrawArc,
    DrawLength,
    Edit,
    Erase,
    Move,
    Outline,
    Regrid,
    Rename,
    Resize,
    SetOption,
)
from seamwright.sketch.erase import erased
from seamwright.sketch.facts import optioned, renamed
from seamwright.sketch.move import point_moved
from seamwright.sketch.outline import outlined
from seamwright.sketch.sizes import regridded, resized

FARTHEST_IN = 10_000.0
"""A point beyond this is no place on any cloth."""


def changed(text: str, edits: Sequence[Edit]) -> str:
    """The text with edits done one after the other.

    Raises:
        DrawingError: the text cannot be read. OptionError: an edit cannot be done, in words; then nothing is.
    """
    for edit in edits:
        text = _changed(text, edit)
    return text


def _changed(text: str, edit: Edit) -> str:
    if not all(
        abs(number) <= FARTHEST_IN for field in fields(edit) for number in _numbers(getattr(edit, field.name))
    ):
        raise refuse("a point lies far outside of the block", "Give points in the block")
    match edit:
        case Draw():
            return drawn(text, edit)
        case DrawLength():
            return drawn_length(text, edit)
        case DrawArc():
            return drawn_arc(text, edit)
        case Move():
            return point_moved(text, edit)
        case Erase():
            return erased(text, edit)
        case Copies():
            return copied(text, edit)
        case Outline():
            return outlined(text, edit)
        case Resize():
            return resized(text, edit)
        case Regrid():
            return regridded(text, edit)
        case Rename():
            return renamed(text, edit)
        case SetOption():
            return optioned(text, edit)
    return fabrics.done(text, edit)


def _numbers(value: Any) -> Iterator[float]:
    """All floats in a value of an edit."""
    if isinstance(value, float):
        yield value
    elif isinstance(value, tuple):
        for part in value:
            yield from _numbers(part)
