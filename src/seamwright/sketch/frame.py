"""Size and grid of a drawing as lines of its text, and what figures count under them.

Knows:  how a size is written, where such lines stand.
Leaves: what happens to points when size or grid change (sizes, outline).
Units:  inches of the finished block; exact fractions until a figure is written.
"""

from __future__ import annotations

from fractions import Fraction

from seamwright.drawing.tokens import Reading
from seamwright.sketch.draft import Draft, Rewriting
from seamwright.sketch.figures import figure
from seamwright.units import UNIT_IN, parse_sides, scan_amount

Grid = tuple[int, int | None] | None
"""Squares across and down as written; None for the second: they are square. None: no grid."""


def framed(draft: Draft, said: str | None, grid: Grid) -> Rewriting:
    """The draft's text with another size and grid, points not yet put where they belong.

    Args:
        said: the size as it is to be written; None: it stays.
    """
    facts = draft.facts
    assert facts.size is not None
    if said is None:
        width, height = (None if side is None else side.exact(draft.unit) for side in facts.size)
        unit = draft.unit
    else:
        width, height = parse_sides(said, draft.unit)
        unit = unit_of(said) or draft.unit
    assert width is not None
    if grid is not None and grid != facts.grid and width * (grid[1] or 0) == (height or width) * grid[0]:
        grid = (grid[0], None)  # square squares need not be said
    rewriting = Rewriting(draft, _square(width, height, unit, grid))
    if said is not None:
        state(rewriting, "size", said)
    if grid != facts.grid:
        state(rewriting, "grid", "" if grid is None else " x ".join(str(n) for n in grid if n))
    return rewriting


def state(rewriting: Rewriting, word: str, said: str) -> None:
    """A fact in place of the line that states it, else in a line of its own; "" takes it away."""
    first_said = rewriting.draft.facts.first_said
    number = first_said.get(f"the {word}")
    written = rewriting.written
    if number is None:
        if said:
            written.add(max(first_said["the size"], first_said.get("the grid", 0)), f"{word} {said}")
    elif not said:
        written.drop(number)
    else:
        reading = Reading(written.line(number), number)
        written.put(number, reading.tokens[0].start, reading.end, f"{word} {said}")


def size_words(width_in: float, height_in: float, unit: str, grid: Grid = None) -> str:
    """A finished size as a text states it.

    Args:
        grid: of the text; where it has oblong squares one length would not say how high the block is.

    >>> size_words(8, 12, "in"), size_words(20 / 2.54, 20 / 2.54, "cm"), size_words(8, 8, "in", (8, 16))
    ('8 x 12 in', '20 cm', '8 x 8 in')
    """
    one = float(UNIT_IN[unit])
    width, height = figure(width_in / one, one), figure(height_in / one, one)
    alone = width == height and (grid is None or grid[1] in (None, grid[0]))
    return f"{width} {unit}" if alone else f"{width} x {height} {unit}"


def unit_of(size: str) -> str:
    """The unit that counts in a size as typed, "" for none."""
    first = scan_amount(size)
    assert first is not None
    second = scan_amount(size[first.end :].lstrip(" xX×*bByY")) if first.end < len(size) else None
    return first.unit or (second.unit if second else "")


def _square(width: Fraction, height: Fraction | None, unit: str, grid: Grid) -> tuple[Fraction, Fraction]:
    """Inches that 1 across and 1 down count for."""
    if grid is None:
        return UNIT_IN[unit], UNIT_IN[unit]
    across, down = grid
    square = width / across
    return square, square if down is None else (square * down if height is None else height) / down
