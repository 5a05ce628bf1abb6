"""Lines sketched twice: drawing programs with a hand-drawn look run over each line a second time.

Knows:  pairs of nearly straight strokes of one object that go the same way.
Leaves: making what is nearly straight straight (block).
Units:  inches.
Method: two strokes of one object are one line if both keep within SWAY_IN of straight, at least one of them sways
        (nobody drew two exact lines on purpose) and their ends lie within ENDS_IN of one another. The first stays.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from itertools import product

from seamwright.drawing.model import Curve, Line
from seamwright.geometry import Point, off_line
from seamwright.notes import Note
from seamwright.units import say_count

SWAY_IN = 1 / 32
SWAY_SHARE = 0.04
"""A short stroke that sways by more than this share of its length is a curve."""
ENDS_IN = 1 / 16


def once(lines: Sequence[Line], curves: Sequence[Curve]) -> tuple[list[Curve], list[Note]]:
    """The curves without the second stroke of each pair, and what to say about it.

    Args:
        lines, curves: as drawn; a second stroke may run over a line that came out exactly straight.
    """
    drawn = _Drawn()
    kept: list[Curve] = []
    dropped: list[Point] = []
    for line in lines if curves else ():
        if line.shape is None:
            drawn.add(line.source, line.start, line.end)
    for curve in curves:
        start, end = curve.points[0], curve.points[-1]
        if curve.shape is not None or not _nearly_straight(curve.points):
            kept.append(curve)
        elif drawn.has(curve.source, start, end):
            dropped.append(start)
        else:
            drawn.add(curve.source, start, end)
            kept.append(curve)
    if not dropped:
        return kept, []
    text = f"{say_count(len(dropped), 'line')} sketched twice, counted once"
    return kept, [Note("sketched twice", text, len(dropped), places_in=tuple(dropped))]


class _Drawn:
    """Strokes found by object and by the cell of the plane that they start in."""

    def __init__(self) -> None:
        self._ends: dict[tuple[str, int, int], list[tuple[Point, Point]]] = {}

    def add(self, source: str, start: Point, end: Point) -> None:
        for a, b in ((start, end), (end, start)):
            cell = (source, math.floor(a[0] / ENDS_IN), math.floor(a[1] / ENDS_IN))
            self._ends.setdefault(cell, []).append((a, b))

    def has(self, source: str, start: Point, end: Point) -> bool:
        """Whether a stroke of the object runs between about the same ends."""
        x, y = math.floor(start[0] / ENDS_IN), math.floor(start[1] / ENDS_IN)
        return any(
            math.dist(a, start) <= ENDS_IN and math.dist(b, end) <= ENDS_IN
            for i, j in product((-1, 0, 1), repeat=2)
            for a, b in self._ends.get((source, x + i, y + j), ())
        )


def _nearly_straight(points: tuple[Point, ...]) -> bool:
    chord = math.dist(points[0], points[-1])
    sway = min(SWAY_IN, SWAY_SHARE * chord)
    return chord > 2 * ENDS_IN and all(abs(off_line(p, points[0], points[-1])) <= sway for p in points)
