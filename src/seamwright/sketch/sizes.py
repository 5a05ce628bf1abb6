"""The finished size and the grid of a drawing.

Knows:  what grows with the size, how figures are counted anew so that points stay where they are.
Leaves: the lines of size and grid (frame), the outline's shape (outline), which sizes a block may have (units).
Units:  inches of the finished block.
Method: every point has a place that it shall have, and is written anew only where its figures would put it
        elsewhere. A circle that is stretched is one no more: an arc then becomes a curve through many points.
"""

from __future__ import annotations

import math

from seamwright.drawing.arcs import arc
from seamwright.drawing.pieces import FLAT_IN
from seamwright.geometry import Point
from seamwright.sketch.draft import Draft, checked, draft_of, refuse
from seamwright.sketch.edits import Regrid, Resize
from seamwright.sketch.frame import Grid, framed, size_words, unit_of
from seamwright.sketch.strand import Strand
from seamwright.units import parse_sides, parse_size

MOST_SQUARES = 1000


def resized(text: str, edit: Resize) -> str:
    """The text with another finished size; the drawing grows with it, its options stay.

    One length is the width, and the height follows. Two may stretch the drawing: squares of the grid then are
    oblong, and arcs become curves.

    Raises:
        DrawingError: the text cannot be read. OptionError: the size is none, or no block has it.
    """
    draft = draft_of(text)
    width, height = draft.measured.width, draft.measured.height
    typed = " ".join(edit.size.split())
    parse_size(typed, draft.unit)  # says what is wrong with it
    across, down = parse_sides(typed, draft.unit)
    unit = unit_of(typed)
    said = typed if unit else f"{typed} {draft.unit}"
    grid = _stretching(draft)
    if down is None:
        high = size_words(float(across), float(across) * height / width, unit or draft.unit, grid)
        if " x " in high:
            said = high
            parse_size(said)
    new = parse_sides(said, draft.unit)
    sx, sy = float(new[0]) / width, float(new[1] or new[0]) / height
    return _counted_anew(draft, said, grid, (sx, sy))


def regridded(text: str, edit: Regrid) -> str:
    """The text with another grid, or none; points stay where they are.

    Raises:
        DrawingError: the text cannot be read. OptionError: there are no such grids.
    """
    draft = draft_of(text)
    for count in (edit.across, edit.down):
        if not 0 <= count <= MOST_SQUARES:
            mend = f"Give a whole number from 1 to {MOST_SQUARES}, or 0 for no grid"
            raise refuse(f"{count} is no number of squares", mend)
    if edit.down and not edit.across:
        raise refuse("the squares across are missing", "Give both numbers, or 0 across for no grid")
    width, height = draft.measured.width, draft.measured.height
    grid = (edit.across, edit.down or None) if edit.across else None
    assert draft.facts.size is not None
    size = None
    if draft.facts.size[1] is None and ((grid and grid[1]) or not draft.measured.outline):
        # One length says the height only with square squares, and so far perhaps the grid has said it.
        words = size_words(width, height, draft.unit, grid)
        size = words if " x " in words else None
    return _counted_anew(draft, size, grid, (1.0, 1.0))


def _stretching(draft: Draft) -> Grid:
    """The grid, so written that its rows grow with the height, if they are whole."""
    grid = draft.facts.grid
    if grid is None or grid[1] is not None:
        return grid
    rows = draft.measured.height / draft.square[1]
    return (grid[0], round(rows)) if abs(rows - round(rows)) < 1e-9 else grid


def _counted_anew(draft: Draft, said: str | None, grid: Grid, grown: tuple[float, float]) -> str:
    """The text with another size and grid, every point `grown` times as far from the corner as it was.

    Args:
        said: the size as it is to be written; None: it stays.
    """
    facts = draft.facts
    rewriting = framed(draft, said, grid)
    sx, sy = grown
    circles = math.isclose(sx, sy, rel_tol=1e-9)

    def to(point: Point) -> Point:
        return point[0] * sx, point[1] * sy

    for run in (*facts.runs, *facts.sides):
        if run.kind == "arc" and not circles:
            a, b, c = map(draft.measured.point, run.places)
            rewriting.replace(run, [Strand("curve", tuple(map(to, arc(a, b, c, FLAT_IN))))])
            continue
        for place in run.places:
            rewriting.put(place, to(draft.measured.point(place)))
    for place in (*facts.outline, *(place for _, place, _ in facts.laid)):
        rewriting.put(place, to(draft.measured.point(place)))
    return checked(rewriting.text(), "the size" if said else "the grid")
