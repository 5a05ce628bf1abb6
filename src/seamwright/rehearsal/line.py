"""The stitch line of a step, found from the patches alone, and places measured along and across it.

Knows:  where a new patch borders on what is sewn, whether that is one straight line.
Leaves: what is done along the line (hands, sew).
Units:  inches, front view; u along the line from its start, v across it, positive on the new patch's side.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt
import shapely
from shapely.geometry import Polygon
from shapely.geometry.base import BaseGeometry

from seamwright.geometry import Point

Coords = npt.NDArray[np.float64]
ON_LINE_IN = 1e-6
"""Closer than this is on the line: far above rounding, far below a thread."""


@dataclass(frozen=True, slots=True)
class StitchLine:
    """A directed line; the new patch lies on the right hand of a walker from `start` to `end` (y down)."""

    start: Point
    end: Point

    @property
    def length(self) -> float:
        """From start to end."""
        return math.dist(self.start, self.end)

    @property
    def ahead(self) -> Point:
        """Unit direction."""
        length = self.length
        return ((self.end[0] - self.start[0]) / length, (self.end[1] - self.start[1]) / length)

    def measured(self, points: Coords) -> Coords:
        """(u, v) of points, shape (n, 2)."""
        dx, dy = self.ahead
        x, y = points[:, 0] - self.start[0], points[:, 1] - self.start[1]
        return np.column_stack((x * dx + y * dy, dx * y - dy * x))

    def place(self, u: float, v: float) -> Point:
        """The point at (u, v)."""
        dx, dy = self.ahead
        return (self.start[0] + u * dx - v * dy, self.start[1] + u * dy + v * dx)

    def rectangle(self, u0: float, u1: float, v0: float, v1: float) -> Polygon:
        """All places between u0 and u1, and v0 and v1."""
        return Polygon([self.place(u, v) for u, v in ((u0, v0), (u1, v0), (u1, v1), (u0, v1))])

    def mirrored(self, shape: BaseGeometry) -> BaseGeometry:
        """The shape folded over the line."""
        dx, dy = self.ahead

        def fold(points: Coords) -> Coords:
            v = dx * (points[:, 1] - self.start[1]) - dy * (points[:, 0] - self.start[0])
            return np.column_stack((points[:, 0] + 2 * v * dy, points[:, 1] - 2 * v * dx))

        return shapely.transform(shape, fold)


def borders(ring: Coords, sewn: BaseGeometry) -> list[Coords]:
    """The runs of a clockwise ring that lie along the border of what is sewn, each in the ring's order.

    Args:
        ring: shape (n, 2), the first corner not repeated. A run that goes all the way round repeats it.
    """
    stops = _with_stops(ring, shapely.get_coordinates(sewn))
    after = np.roll(stops, -1, axis=0)
    shapely.prepare(sewn)
    beside = shapely.dwithin(shapely.points((stops + after) / 2), sewn, ON_LINE_IN)
    if beside.all():
        return [np.vstack((stops, stops[:1]))]
    # Begin where no run goes on over the ring's own beginning.
    begin = int(np.flatnonzero(~beside)[0])
    stops, after, beside = np.roll(stops, -begin, axis=0), np.roll(after, -begin, axis=0), np.roll(beside, -begin)
    runs: list[Coords] = []
    first: int | None = None
    for i, on in enumerate([*beside.tolist(), False]):
        if on and first is None:
            first = i
        elif not on and first is not None:
            runs.append(np.vstack((stops[first:i], after[i - 1 : i])))
            first = None
    return runs


def straight(run: Coords) -> bool:
    """Whether all points of a run lie on the line through its ends, one after the other."""
    a, b = run[0], run[-1]
    length = math.dist(a, b)
    if length <= ON_LINE_IN:
        return False
    measured = StitchLine((float(a[0]), float(a[1])), (float(b[0]), float(b[1]))).measured(run)
    return bool(np.abs(measured[:, 1]).max() <= ON_LINE_IN and (np.diff(measured[:, 0]) > 0).all())


def _with_stops(ring: Coords, others: Coords) -> Coords:
    """The ring with every other point that lies on one of its sides added as a corner."""
    after = np.roll(ring, -1, axis=0)
    way = after - ring
    length = np.hypot(way[:, 0], way[:, 1])
    keep = length > 0
    ring, way, length = ring[keep], way[keep] / length[keep, None], length[keep]
    dx, dy = others[:, 0] - ring[:, :1], others[:, 1] - ring[:, 1:]
    along = dx * way[:, :1] + dy * way[:, 1:]
    off = np.abs(dx * way[:, 1:] - dy * way[:, :1])
    on = (off <= ON_LINE_IN) & (along > ON_LINE_IN) & (along < length[:, None] - ON_LINE_IN)
    sides, points = np.nonzero(on)
    owner = np.concatenate((np.arange(len(ring)), sides))
    reach = np.concatenate((np.zeros(len(ring)), along[sides, points]))
    every = np.concatenate((ring, others[points]))[np.lexsort((reach, owner))]
    # The same point of two patches is one stop.
    apart = np.hypot(*(every - np.roll(every, 1, axis=0)).T) > ON_LINE_IN
    return every[apart] if apart.any() else every
