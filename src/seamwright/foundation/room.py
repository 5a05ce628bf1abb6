"""The room on one foundation: what words must keep clear of, and the words that have found a place.

Knows:  lines and boxes already on the paper.
Leaves: the search for a place (ink.place), what is said where (numbers, words).
Units:  inches as printed; type in points.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence

from seamwright.geometry import Point, Ring, bounds
from seamwright.ink.lettering import words_box
from seamwright.ink.model import Area, Ink, Pen, Stroke, Words
from seamwright.ink.place import CLEARANCE_PT, place_box, place_lines

UNIT_PT = 72.0
Bounds = tuple[float, float, float, float]


class Room:
    """Collects ink while it keeps everything apart.

    Attributes:
        ink: what was placed.
        boxes: those of the words placed.
    """

    def __init__(self, obstacles: Iterable[Sequence[Point]]) -> None:
        self._obstacles: list[tuple[Sequence[Point], Bounds]] = []
        self.avoid(*obstacles)
        self.ink: list[Ink] = []
        self.boxes: list[Ring] = []

    def avoid(self, *obstacles: Sequence[Point]) -> None:
        """Convex rings and lines that nothing new may touch."""
        self._obstacles += [(shape, bounds(shape)) for shape in obstacles]

    def trial(self) -> Room:
        """A copy on which a place may be tried."""
        copy = Room(())
        copy._obstacles = list(self._obstacles)
        return copy

    def lines(
        self,
        area: Sequence[Point],
        lines: Sequence[Words],
        *,
        holes: Iterable[Sequence[Point]] = (),
        besides: Iterable[Sequence[Point]] = (),
        clearance_pt: float = CLEARANCE_PT,
        angle_deg: float = 0.0,
        near: Point | None = None,
    ) -> tuple[Words, ...] | None:
        """Lines of words placed in an area and kept, or None if there is no room; `besides` are more obstacles."""
        placed = place_lines(
            area,
            lines,
            holes=holes,
            obstacles=self._by(area, besides),
            clearance_pt=clearance_pt,
            unit_pt=UNIT_PT,
            angle_deg=angle_deg,
            near=near,
        )
        if placed:
            self.keep_words(placed)
        return placed

    def first(
        self,
        area: Sequence[Point],
        choices: Iterable[tuple[Sequence[Words], float]],
        *,
        holes: Iterable[Sequence[Point]] = (),
        besides: Iterable[Sequence[Point]] = (),
        angle_deg: float = 0.0,
    ) -> tuple[Words, ...] | None:
        """The first of several choices (lines, clearance in points) that finds room."""
        for lines, clearance in choices:
            placed = self.lines(
                area, lines, holes=holes, besides=besides, clearance_pt=clearance, angle_deg=angle_deg
            )
            if placed:
                return placed
        return None

    def box(
        self,
        area: Sequence[Point],
        width: float,
        height: float,
        *,
        holes: Iterable[Sequence[Point]] = (),
        angle_deg: float = 0.0,
    ) -> Point | None:
        """Centre of a box that finds room; nothing is kept."""
        return place_box(area, width, height, holes=holes, obstacles=self._by(area, ()), angle_deg=angle_deg)

    def keep_words(self, placed: Iterable[Words]) -> None:
        """Words on the paper."""
        for words in placed:
            box = words_box(words, UNIT_PT)
            self.ink.append(words)
            self.boxes.append(box)
            self.avoid(box)

    def keep_line(self, pen: Pen, points: Sequence[Point]) -> None:
        """A line on the paper."""
        self.ink.append(Stroke(pen, tuple(points)))
        self.avoid(tuple(points))

    def keep_spot(self, ring: Ring) -> None:
        """A small black convex shape on the paper: an arrow's head, a dot."""
        self.ink.append(Area((ring,), "#000000"))
        self.avoid(ring)

    def _by(self, area: Sequence[Point], besides: Iterable[Sequence[Point]]) -> list[Sequence[Point]]:
        """The obstacles whose bounds meet those of an area."""
        left, top, right, bottom = bounds(area)
        shapes = [*self._obstacles, *((shape, bounds(shape)) for shape in besides)]
        return [
            shape for shape, (x0, y0, x1, y1) in shapes if x0 <= right and x1 >= left and y0 <= bottom and y1 >= top
        ]


def round_spot(at: Point, radius_pt: float) -> Ring:
    """A round dot, as a ring of twelve corners."""
    radius = radius_pt / UNIT_PT
    return tuple(
        (at[0] + radius * math.cos(turn * math.pi / 6), at[1] + radius * math.sin(turn * math.pi / 6))
        for turn in range(12)
    )
