"""Which patches together make a unit that is quicker cut with a ruler and pieced without paper.

Knows:  rectangles, half-square and quarter-square units, flying geese, and grids of these, at any tilt.
Leaves: how large their pieces are cut (rulers), which patches of a plan are asked about (piecing, cutting).
Units:  inches; front view.
Method: the shape of each patch is looked up once and kept, since a planner asks again and again. A unit lies along
        its own sides: they are its straight grain. It is split by whole straight lines, from side to side, until
        what is left has none; then that is one of the few units that triangles make, or all of it is none.
Limits: straight sides that a ruler shows, pieces that do not overlap (patches of a block never do).
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from functools import lru_cache
from itertools import combinations, pairwise

from seamwright.fabric.rulers import (
    SAME_DEG,
    SAME_IN,
    STEP_IN,
    equal_legs,
    is_rectangle,
    off_grain,
    on_step,
)
from seamwright.geometry import Point, Ring, bounds, off_line
from seamwright.options import Units

RECTANGLE, HALF_SQUARE_UNIT, QUARTER_SQUARE_UNIT = "rectangle", "half-square unit", "quarter-square unit"
FLYING_GEESE, GRID = "flying geese", "grid"
_NEAR_IN = 2 * SAME_IN
"""Corners are compared in a turned frame, each off by as much as a drawing may be."""

_Box = tuple[float, float, float, float]


@dataclass(frozen=True, slots=True)
class Recognised:
    """A unit that needs no paper.

    Attributes:
        kind: "rectangle" (squares too), "half-square unit", "quarter-square unit", "flying geese" or "grid".
        width_in, height_in: finished, as a ruler shows it; width along its side nearest to the horizontal.
        patches: which of the patches asked about, by place in the list, the largest of a unit first.
        cells: of a grid what is sewn together, row by row or in one row; each is a unit itself.
        beside: the cells of a grid lie side by side, not one below another.
        tilt_deg: direction of its width, degrees clockwise from +x, -45 < and <= 45.
    """

    kind: str
    width_in: float
    height_in: float
    patches: tuple[int, ...]
    cells: tuple[Recognised, ...] = ()
    beside: bool = False
    tilt_deg: float = 0.0

    @property
    def units(self) -> tuple[Recognised, ...]:
        """The units of a grid in reading order; of any other the unit itself."""
        return tuple(unit for cell in self.cells for unit in cell.units) if self.cells else (self,)


@dataclass(frozen=True, slots=True)
class _Shape:
    """A patch: its corners, and the direction from 0 up to 90 degrees in which a square round it lies."""

    corners: Ring
    tilt_deg: float
    is_triangle: bool


def recognise(
    rings: Sequence[Ring], grain_deg: float | None, allowance_in: float, units: Units
) -> Recognised | None:
    """The unit that patches make together, on sizes of a ruler; None if they make none.

    Args:
        rings: the corners of each patch, clockwise; points inside straight sides do no harm.
        grain_deg: the direction that its sides must lie along or across, degrees clockwise from +x; None: any.
        allowance_in: on every side; no mark of a ruler shows it: nothing is cut.

    >>> sky, sea = ((0.0, 0.0), (3.0, 0.0), (0.0, 3.0)), ((3.0, 0.0), (3.0, 3.0), (0.0, 3.0))
    >>> made = recognise([sky, sea], 0, 0.25, Units.INCH)
    >>> made.kind, made.width_in, made.height_in
    ('half-square unit', 3.0, 3.0)
    """
    step = STEP_IN[units]
    if not rings or on_step(2 * allowance_in, step) is None:
        return None
    shapes = []
    for ring in rings:
        shape = _shape(ring)
        if shape is None:
            return None
        shapes.append(shape)
    for tilt in _tilts(shapes, grain_deg):
        lying = [_turned(shape.corners, -tilt) for shape in shapes]
        boxes = [bounds(corners) for corners in lying]
        areas = [_area(shape) for shape in shapes]
        found = _Splitting(shapes, lying, boxes, areas, step, tilt).unit(tuple(range(len(shapes))), False)
        if found is not None:
            return found
    return None


@lru_cache(maxsize=8192)
def _shape(ring: Ring) -> _Shape | None:
    corners = ring if len(ring) <= 3 else _corners(ring)
    if is_rectangle(corners):
        return _Shape(corners, _direction(corners[0], corners[1]), False)
    legs = equal_legs(corners)
    return None if legs is None else _Shape(legs, _direction(legs[0], legs[1]), True)


def _corners(ring: Ring) -> Ring:
    """The corners of a ring, points inside its straight sides left out."""
    around = zip(ring[-1:] + ring[:-1], ring, ring[1:] + ring[:1], strict=True)
    return tuple(p for before, p, after in around if before == after or abs(off_line(p, before, after)) > SAME_IN)


def _tilts(shapes: Sequence[_Shape], grain_deg: float | None) -> list[float]:
    """The ways a unit of such shapes can lie, degrees, -45 < and <= 45.

    A triangle's legs lie along the unit's sides or its long side does; a rectangle leaves no choice.
    """
    first = min(shapes, key=lambda shape: shape.is_triangle)
    choices = [first.tilt_deg, first.tilt_deg + 45] if first.is_triangle else [first.tilt_deg]
    if grain_deg is not None:
        choices = [tilt for tilt in choices if _apart(tilt, grain_deg, 90) <= SAME_DEG]
    every = [
        tilt
        for tilt in choices
        if all(_apart(shape.tilt_deg, tilt, 45 if shape.is_triangle else 90) <= SAME_DEG for shape in shapes)
    ]
    # What lies on point is called 45 degrees, whichever way its corners are rounded.
    return [45 + SAME_DEG - (45 + SAME_DEG - tilt) % 90 for tilt in every]


class _Splitting:
    """Patches of one unit as it lies level, split and split again."""

    def __init__(
        self,
        shapes: Sequence[_Shape],
        lying: Sequence[Ring],
        boxes: Sequence[_Box],
        areas: Sequence[float],
        step: float,
        tilt_deg: float,
    ) -> None:
        self.shapes, self.lying, self.boxes, self.areas = shapes, lying, boxes, areas
        self.step, self.tilt_deg = step, tilt_deg

    def unit(self, patches: tuple[int, ...], beside: bool) -> Recognised | None:
        """What patches make; `beside`: it is split side by side first, since it is part of a row."""
        box = self._box(patches)
        width, height = (on_step(box[axis + 2] - box[axis], self.step) for axis in (0, 1))
        if width is None or height is None or min(width, height) <= 0:
            return None
        # A drawing's corners are off by a hair: so its area is by a hair along its sides.
        if abs(math.fsum(self.areas[p] for p in patches) - width * height) > _NEAR_IN * (width + height):
            return None
        if len(patches) == 1:
            if self.shapes[patches[0]].is_triangle:
                return None
            return Recognised(RECTANGLE, width, height, patches, tilt_deg=self.tilt_deg)
        for axis in (0, 1) if beside else (1, 0):
            parts = self._split(patches, axis)
            if len(parts) > 1:
                cells = [self.unit(part, beside=axis == 1) for part in parts]
                made = tuple(cell for cell in cells if cell is not None)
                if len(made) < len(parts):
                    return None
                order = tuple(patch for cell in made for patch in cell.patches)
                return Recognised(GRID, width, height, order, made, axis == 0, self.tilt_deg)
        return self._of_triangles(patches, box, width, height)

    def _box(self, patches: Sequence[int]) -> _Box:
        sides = [self.boxes[p] for p in patches]
        return (
            min(b[0] for b in sides),
            min(b[1] for b in sides),
            max(b[2] for b in sides),
            max(b[3] for b in sides),
        )

    def _split(self, patches: tuple[int, ...], axis: int) -> list[tuple[int, ...]]:
        """Patches parted by whole lines across an axis, in order along it."""
        order = sorted(patches, key=lambda p: (self.boxes[p][axis], p))
        parts, reach = [[order[0]]], self.boxes[order[0]][axis + 2]
        for before, patch in pairwise(order):
            reach = max(reach, self.boxes[before][axis + 2])
            if self.boxes[patch][axis] >= reach - SAME_IN:
                parts.append([])
            parts[-1].append(patch)
        return [tuple(sorted(part)) for part in parts]

    def _of_triangles(self, patches: tuple[int, ...], box: _Box, width: float, height: float) -> Recognised | None:
        """The unit of two to four triangles that no whole line parts."""
        if len(patches) > 4 or not all(self.shapes[p].is_triangle for p in patches):
            return None
        # Two of them in one place would leave another bare.
        if any(math.dist(self._middle(a), self._middle(b)) <= _NEAR_IN for a, b in combinations(patches, 2)):
            return None
        halves: list[int] = []
        quarters: list[int] = []
        for patch in sorted(patches, key=lambda p: (-round(self.areas[p], 2), p)):
            (halves if self._has_legs_along(patch) else quarters).append(patch)
        corners = [self.lying[p][0] for p in halves]
        if not all(self._is_corner(corner, box) for corner in corners):
            return None
        tops = [self.lying[p][0] for p in quarters]
        middle = ((box[0] + box[2]) / 2, (box[1] + box[3]) / 2)
        kind = None
        if abs(width - height) <= SAME_IN:
            if len(halves) == 2 and not quarters:
                kind = HALF_SQUARE_UNIT if math.dist(*corners) > width + SAME_IN else None
            elif (len(halves), len(quarters)) in ((0, 4), (1, 2)):
                kind = QUARTER_SQUARE_UNIT if all(math.dist(top, middle) <= _NEAR_IN for top in tops) else None
        elif abs(max(width, height) - 2 * min(width, height)) <= SAME_IN and (len(halves), len(quarters)) == (2, 1):
            # The goose's top lies in the middle of a long side.
            across = 0 if width > height else 1
            on_side = min(abs(tops[0][1 - across] - box[1 - across]), abs(tops[0][1 - across] - box[3 - across]))
            kind = FLYING_GEESE if max(on_side, abs(tops[0][across] - middle[across])) <= _NEAR_IN else None
        if kind is None:
            return None
        order = sorted(patches, key=lambda p: (-round(self.areas[p], 2), p))
        return Recognised(kind, width, height, tuple(order), tilt_deg=self.tilt_deg)

    def _has_legs_along(self, patch: int) -> bool:
        return off_grain(self.lying[patch][0], self.lying[patch][1], 0.0) <= SAME_DEG

    def _middle(self, patch: int) -> Point:
        ring = self.lying[patch]
        return (math.fsum(x for x, _ in ring) / len(ring), math.fsum(y for _, y in ring) / len(ring))

    def _is_corner(self, point: Point, box: _Box) -> bool:
        return all(
            min(abs(point[axis] - box[axis]), abs(point[axis] - box[axis + 2])) <= _NEAR_IN for axis in (0, 1)
        )


def _area(shape: _Shape) -> float:
    a, b, c = shape.corners[:3]
    if shape.is_triangle:
        return math.dist(a, b) * math.dist(a, c) / 2
    return math.dist(a, b) * math.dist(b, c)


def _turned(ring: Ring, degrees: float) -> Ring:
    """A ring turned about the origin, degrees clockwise as seen."""
    if degrees == 0:
        return ring
    cos, sin = math.cos(math.radians(degrees)), math.sin(math.radians(degrees))
    return tuple((x * cos - y * sin, x * sin + y * cos) for x, y in ring)


def _direction(a: Point, b: Point) -> float:
    """Direction from a to b, degrees from 0 up to 90."""
    return math.degrees(math.atan2(b[1] - a[1], b[0] - a[0])) % 90


def _apart(one: float, other: float, every: float) -> float:
    """Degrees between two directions that come again every so many degrees."""
    return min((one - other) % every, (other - one) % every)
