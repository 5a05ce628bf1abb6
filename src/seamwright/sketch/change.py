"""Edits done to a block's text form: only the lines touched change, remarks and order stay.

Knows:  what each edit does to the text.
Leaves: the edits as values (edits), what the page shows (view), the grammar (drawing).
Units:  inches come in; figures are written as the text counts them.
"""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction

from seamwright.drawing.measured import Measured
from seamwright.drawing.textform import stated
from seamwright.drawing.textwrite import digits
from seamwright.geometry import Point
from seamwright.sketch import fabrics
from seamwright.sketch.edits import Draw, Edit


def changed(text: str, edits: Sequence[Edit]) -> str:
    """The text with edits done one after the other.

    Raises:
        DrawingError: the text cannot be read. OptionError: an edit cannot be done, in words.
    """
    for edit in edits:
        if isinstance(edit, Draw):
            text = text.rstrip("\n") + "\nseam " + " to ".join(_said(text, p) for p in edit.points) + "\n"
        elif isinstance(edit, fabrics.Edit):
            text = fabrics.done(text, edit)
    return text


def _said(text: str, point: Point) -> str:
    facts, file, count = stated(text, name="", file="")
    square = Measured(facts, file, count).square
    return ", ".join(
        digits(float(Fraction(c / float(side)).limit_denominator(1_000_000)))
        for c, side in zip(point, square, strict=True)
    )
