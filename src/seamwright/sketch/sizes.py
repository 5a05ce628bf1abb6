"""The finished size and the grid of a drawing.

Knows:  what grows with the size, how figures are counted anew so that points stay where they are.
Leaves: the outline's shape (outline), which sizes a block may have (units).
Units:  inches of the finished block.
Method: every point has a place that it shall have, and is written anew only where its figures would put it
        elsewhere. A circle that is stretched is one no more: an arc then becomes a curve through many points.
"""

from __future__ import annotations

import math
from fractions import Fraction

from seamwright.drawing.arcs import arc
from seamwright.drawing.pieces import FLAT_IN
from seamwright.drawing.tokens import Reading
from seamwright.geometry import Point
from seamwright.sketch.draft import Draft, Rewriting, checked, draft_of, refuse
from seamwright.sketch.edits import Regrid, Resize
from seamwright.sketch.figures import figure
from seamwright.sketch.strand import Strand
from seamwright.units import UNIT_IN, parse_sides, parse_size, scan_amount

MOST_SQUARES = 1000

Grid = tuple[int, int | None] | None


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
    unit = _unit(typed)
    said = typed if unit else f"{typed} {draft.unit}"
    if down is None and not math.isclose(width, height, rel_tol=1e-9):
        said = _size(float(across), float(across) * height / width, unit or draft.unit)
        parse_size(said)
    new = parse_sides(said, draft.unit)
    sx, sy = float(new[0]) / width, float(new[1] or new[0]) / height
    return _counted_anew(draft, said, _stretching(draft), (sx, sy))


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
    # What follows by itself is not written: square squares.
    follows = math.isclose(width / max(edit.across, 1) * edit.down, height, rel_tol=1e-9)
    grid = (edit.across, None if follows else edit.down or None) if edit.across else None
    assert draft.facts.size is not None
    size = None
    if draft.facts.size[1] is None and not draft.measured.outline and not math.isclose(width, height, rel_tol=1e-9):
        size = _size(width, height, draft.unit)  # so far only the grid has said how high the block is
    return _counted_anew(draft, size, grid, (1.0, 1.0))


def _stretching(draft: Draft) -> Grid:
    """The grid, so written that its rows grow with the height, if they are whole."""
    grid = draft.facts.grid
    if grid is None or grid[1] is not None:
        return grid
    rows = draft.measured.height / draft.square[1]
    return (grid[0], round(rows)) if abs(rows - round(rows)) < 1e-9 else grid


def _unit(typed: str) -> str:
    """The unit of a size as typed, "" for none."""
    first = scan_amount(typed)
    assert first is not None
    rest = typed[first.end :].lstrip(" xX×*bByY")
    second = scan_amount(rest) if rest else None
    return (second.unit if second else "") or first.unit


def _size(width_in: float, height_in: float, unit: str) -> str:
    one = float(UNIT_IN[unit])
    width, height = figure(width_in / one, one), figure(height_in / one, one)
    return f"{width} {unit}" if width == height else f"{width} x {height} {unit}"


def _counted_anew(draft: Draft, said: str | None, grid: Grid, grown: tuple[float, float]) -> str:
    """The text with another size and grid, every point `grown` times as far from the corner as it was.

    Args:
        said: the size as it is to be written; None: it stays.
    """
    facts = draft.facts
    assert facts.size is not None
    if said is None:
        width = facts.size[0].exact(draft.unit)
        height = None if facts.size[1] is None else facts.size[1].exact(draft.unit)
    else:
        width, height = parse_sides(said, draft.unit)
    if grid is not None and grid[1] is not None and height is not None:
        alike = width / grid[0] == height / grid[1]
        grid = (grid[0], None) if alike and (facts.grid is None or facts.grid[1] is None) else grid
    unit = (_unit(said) if said else "") or draft.unit
    rewriting = Rewriting(draft, _square(width, height, unit, grid))
    if said is not None:
        _state(rewriting, "size", said)
    if grid != facts.grid:
        _state(rewriting, "grid", _grid_words(grid))
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


def _square(width: Fraction, height: Fraction | None, unit: str, grid: Grid) -> tuple[Fraction, Fraction]:
    """Inches that 1 across and 1 down count for."""
    if grid is None:
        return UNIT_IN[unit], UNIT_IN[unit]
    across, down = grid
    square = width / across
    return square, square if down is None else (square * down if height is None else height) / down


def _grid_words(grid: Grid) -> str:
    if grid is None:
        return ""
    return str(grid[0]) if grid[1] is None else f"{grid[0]} x {grid[1]}"


def _state(rewriting: Rewriting, word: str, said: str) -> None:
    """A fact in place of the line that states it, or in a line of its own behind the size; "" takes it away."""
    first_said = rewriting.draft.facts.first_said
    number = first_said.get(f"the {word}")
    written = rewriting.written
    if number is None:
        written.add(first_said["the size"], f"{word} {said}")
    elif not said:
        written.drop(number)
    else:
        reading = Reading(written.line(number), number)
        written.put(number, reading.tokens[0].start, reading.end, f"{word} {said}")
