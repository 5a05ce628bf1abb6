"""New seams drawn: through points, of a typed length, round part of a circle.

Knows:  what becomes of a line drawn over the edge or over another seam.
Leaves: snapping to points, which the pointer's side does (page).
Units:  inches of the finished block; angles in degrees clockwise from level.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from itertools import pairwise

from seamwright.drawing.arcs import arc
from seamwright.geometry import Point
from seamwright.sketch.clip import fresh, inside
from seamwright.sketch.draft import Draft, Rewriting, checked, draft_of, refuse
from seamwright.sketch.edits import Draw, DrawArc, DrawLength
from seamwright.sketch.patches import coloured, with_fabrics
from seamwright.sketch.strand import Strand
from seamwright.units import say_point

SHORTEST_IN = 0.01
"""A seam shorter than this is a slip of the pointer."""
MOST_POINTS = 5000
"""Of a flattened arc; a circle 60 inches across has a quarter of that."""


def drawn(text: str, edit: Draw) -> str:
    """The text with a straight seam through points.

    Raises:
        DrawingError: the text cannot be read. OptionError: nothing new comes of it.
    """
    points = [p for p, before in zip(edit.points, (None, *edit.points), strict=False) if p != before]
    if len(points) < 2:
        raise refuse("a seam needs two points", "Draw it from one point to another", *points[:1])
    return _with(draft_of(text), [Strand("seam", tuple(points))])


def drawn_length(text: str, edit: DrawLength) -> str:
    """The text with a straight seam of a typed length and direction.

    Raises:
        DrawingError: the text cannot be read. OptionError: the length is none, or nothing new comes of it.
    """
    draft = draft_of(text)
    length = draft.length(edit.length)
    if length <= 0:
        raise refuse(f"a seam cannot be {edit.length.strip()} long", "Give a length above 0, such as 2 1/2")
    across, down = direction(edit.degrees)
    x, y = edit.start
    return _with(draft, [Strand("seam", (edit.start, (x + length * across, y + length * down)))])


def drawn_arc(text: str, edit: DrawArc) -> str:
    """The text with part of a circle; three points on one line give a straight seam.

    Raises:
        DrawingError: the text cannot be read. OptionError: nothing new comes of it.
    """
    strand = Strand("arc", (edit.start, edit.through, edit.end))
    try:
        if len(arc(edit.start, edit.through, edit.end)) > MOST_POINTS:
            what = "the circle through the three points is far larger than the block"
            raise refuse(what, "Let the second point lie between the first and the last", edit.through)
    except ValueError:
        strand = Strand("seam", (edit.start, edit.end))
        if math.dist(edit.start, edit.end) < max(math.dist(edit.through, p) for p in strand.points):
            raise refuse(
                "the three points of the curve lie on one line",
                "Let the second point lie beside the line from the first to the last",
                edit.through,
            ) from None
    return _with(draft_of(text), [strand])


def direction(degrees: float) -> Point:
    """One inch in a direction, exact for multiples of 30 and 45 degrees where a coordinate is 0, 1/2 or 1.

    >>> direction(90), direction(-180), direction(30)[1]
    ((0.0, 1.0), (-1.0, 0.0), 0.5)
    """

    def neat(value: float) -> float:
        return round(2 * value) / 2 + 0.0 if abs(2 * value - round(2 * value)) < 1e-12 else value

    return neat(math.cos(math.radians(degrees))), neat(math.sin(math.radians(degrees)))


def added(draft: Draft, strands: Sequence[Strand]) -> list[Strand]:
    """What is new of seams that are laid over a drawing, cut at its edge; each once."""
    there = list(draft.strands)
    found = []
    for strand in strands:
        for part in inside(strand, draft.outline):
            for new in fresh(part, there, draft.outline):
                if _length(new) >= SHORTEST_IN:
                    found.append(new)
                    there.append(new)
    return found


def _length(strand: Strand) -> float:
    return math.fsum(math.dist(a, b) for a, b in pairwise(strand.flat()))


def _with(draft: Draft, strands: Sequence[Strand]) -> str:
    new = added(draft, strands)
    if not new:
        start = strands[0].points[0]
        if _length(strands[0]) < SHORTEST_IN:
            what, mend = f"a seam at {say_point(start)} would have no length", "Draw it from one point to another"
        elif not any(inside(strand, draft.outline) for strand in strands):
            what, mend = f"the seam from {say_point(start)} lies outside the block", "Draw it inside"
        else:
            what = f"a seam or the edge of the block lies where one from {say_point(start)} is to be drawn"
            mend = "Draw it where there is none"
        raise refuse(what, mend, start)
    rewriting = Rewriting(draft)
    rewriting.add(new)
    return checked(with_fabrics(rewriting.text(), coloured(draft)), "the drawing")
