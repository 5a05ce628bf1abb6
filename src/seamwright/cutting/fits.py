"""The smallest pieces of fabric of each shape that cover what they have to.

Knows:  how far extra reaches round what a fabric has to cover; rectangles and right-angled triangles with one edge
        on the trimmed allowance, at which places along it they cover.
Leaves: what has to be covered (needs), which shape is taken and how it is laid (pieces).
Units:  inches; u along a frame, v on its right hand (y down); along a stitch line v is positive on the patch's
        side.
Method: a piece of given size, its edge on the allowance, covers at all places t along the line between two bounds,
        one for each of its two other sides; where the bounds cross it is too small at any place. Sizes grow by the
        marks they are cut to until it covers.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt
import shapely

from seamwright.cutting.needs import Need
from seamwright.geometry import Point, Ring, Segment, bounds, clipped
from seamwright.options import Units

STEP_IN = {Units.INCH: 1 / 4, Units.METRIC: 0.5 / 2.54}
"""Pieces for paper are cut to these marks (common practice: up to the next 1/4 in; metric 0.5 cm)."""
ON_MARK_IN = 1e-6
"""A size that rounding alone took over a mark stays on it."""
DIRECTIONS = 64
"""Directions in which extra is exact, the right angle and half of it among them; between them misses 0.0003 in."""
_ROUND = np.array(
    [(math.cos(k * math.tau / DIRECTIONS), math.sin(k * math.tau / DIRECTIONS)) for k in range(DIRECTIONS)]
)
MOST_STEPS = 4000
"""Sizes tried; more than any block asks for."""


@dataclass(frozen=True, slots=True)
class Frame:
    """A place and a unit direction to measure by."""

    origin: Point
    ahead: Point

    def seen(self, points: Sequence[Point]) -> tuple[Point, ...]:
        """(u, v) of points."""
        (ox, oy), (dx, dy) = self.origin, self.ahead
        return tuple(((x - ox) * dx + (y - oy) * dy, dx * (y - oy) - dy * (x - ox)) for x, y in points)

    def placed(self, points: Sequence[Point]) -> tuple[Point, ...]:
        """Points of the block at (u, v)."""
        (ox, oy), (dx, dy) = self.origin, self.ahead
        return tuple((ox + u * dx - v * dy, oy + u * dy + v * dx) for u, v in points)


def along_line(line: Segment) -> Frame:
    """Measured along a line from its start."""
    (ax, ay), (bx, by) = line
    length = math.dist(*line)
    return Frame(line[0], ((bx - ax) / length, (by - ay) / length))


def along_deg(origin: Point, direction_deg: float) -> Frame:
    """Measured along a direction, degrees clockwise from +x."""
    turn = math.radians(direction_deg)
    return Frame(origin, (math.cos(turn), math.sin(turn)))


def to_cover(need: Need, frame: Frame, allowance_in: float, extra_in: float) -> tuple[Point, ...]:
    """Corners of what a piece has to cover, seen in a frame: patch, allowance and extra.

    Behind the stitch line lies the allowance alone, along all that is stitched: from one allowance before the line
    to one past it.
    """
    grown = [
        _grown(need.ring, allowance_in + extra_in, frame),
        _grown(need.place, extra_in, frame),
    ]
    hull = shapely.get_coordinates(shapely.convex_hull(shapely.multipoints(np.concatenate(grown))))[:-1]
    points: tuple[Point, ...] = tuple((float(x), float(y)) for x, y in hull)
    if need.line is None or need.crosses:
        return points
    start, end = frame.seen(need.line)
    length = math.dist(start, end)
    dx, dy = (end[0] - start[0]) / length, (end[1] - start[1]) / length
    # On the right hand of the line lies (-dy, dx); what is kept lies no further than the line the other way.
    points = clipped(points, math.atan2(-dx, dy), start[0] * dy - start[1] * dx)
    ends = [
        (x + allowance_in * (k * dx + back * dy), y + allowance_in * (k * dy - back * dx))
        for (x, y), k in ((start, -1), (end, 1))
        for back in (0, 1)
    ]
    return (*points, *ends)


def sure_of(need: Need, allowance_in: float) -> Ring:
    """Corners of what a piece lies on before it is flipped, however a hand lays it; () where that is not asked.

    Patch and allowance folded over the stitch line, and half the allowance in the seam: that much holds (common
    practice, from memory).
    """
    if need.line is None or need.crosses:
        return ()
    line = along_line(need.line)
    grown = shapely.convex_hull(shapely.multipoints(_grown(need.ring, allowance_in, line)))
    own = clipped([(float(x), float(y)) for x, y in shapely.get_coordinates(grown)[:-1]], -math.pi / 2, 0.0)
    length = math.dist(*need.line)
    return line.placed([*((u, -v) for u, v in own), (0.0, allowance_in / 2), (length, allowance_in / 2)])


def _grown(corners: Sequence[Point], reach: float, frame: Frame) -> npt.NDArray[np.float64]:
    """Points all round the convex hull of others, shape (n, 2), seen in a frame."""
    hull = shapely.get_coordinates(shapely.convex_hull(shapely.multipoints(np.array(frame.seen(corners)))))
    return (hull[:, None, :] + reach * _ROUND[None, :, :]).reshape(-1, 2)


@dataclass(frozen=True, slots=True)
class Fit:
    """A piece with its edge on the trimmed allowance, seen along its stitch line.

    Attributes:
        cut: sides of the rectangle or square cut from the fabric.
        edge: length of the edge on the allowance. apex: where along it the opposite corner of a triangle stands;
            None for a rectangle. height: across the line.
        low, high: between these places along the line its start covers all it has to.
    """

    cut: tuple[float, float]
    edge: float
    apex: float | None
    height: float
    low: float
    high: float

    def centred(self, length_in: float) -> bool:
        """Whether it covers with its middle on the middle of a stitch line of that length."""
        at = (length_in - self.edge) / 2
        return self.low - ON_MARK_IN <= at <= self.high + ON_MARK_IN

    def ring(self, at: float, allowance_in: float) -> Ring:
        """Its corners, with its start at `at`."""
        end, top = at + self.edge, self.height - allowance_in
        foot = ((at, -allowance_in), (end, -allowance_in))
        return (*foot, (end, top), (at, top)) if self.apex is None else (*foot, (at + self.apex, top))


def fitted(
    cover: Sequence[Point],
    allowance_in: float,
    cut: tuple[float, float],
    edge: float,
    apex: float | None,
    height: float,
) -> Fit | None:
    """A piece of a size where it covers; None where it covers at no place."""
    raised = [(u, v + allowance_in) for u, v in cover]
    if apex is None:
        if max(v for _, v in raised) > height + ON_MARK_IN:
            return None
        high = min(u for u, _ in raised)
        low = max(u for u, _ in raised) - edge
    else:
        high = min(u - apex * v / height for u, v in raised)
        low = max(u + (edge - apex) * v / height for u, v in raised) - edge
    return Fit(cut, edge, apex, height, low, max(low, high)) if low <= high + ON_MARK_IN else None


def rectangles(cover: Sequence[Point], allowance_in: float, step_in: float) -> Iterator[Fit]:
    """Rectangles along a stitch line that cover, from the smallest on each a mark wider."""
    us, vs = [u for u, _ in cover], [v for _, v in cover]
    height = up(max(vs) + allowance_in, step_in)
    for width in marks(max(us) - min(us), step_in):
        if found := fitted(cover, allowance_in, (width, height), width, None, height):
            yield found


def triangles(
    cover: Sequence[Point],
    allowance_in: float,
    step_in: float,
    shaped: Callable[[float], tuple[float, float, float]],
) -> Iterator[Fit]:
    """Triangles from squares that cover, from the smallest on; `shaped`: (edge, apex, height) by the side."""
    for side in marks(step_in, step_in):
        if found := fitted(cover, allowance_in, (side, side), *shaped(side)):
            yield found


def box_round(
    need: Need, direction_deg: float, allowance_in: float, extra_in: float, step_in: float, *, on_edge: bool = False
) -> tuple[Ring, tuple[float, float]]:
    """The smallest rectangle along a direction, what rounding adds shared by both sides, and its size.

    Args:
        on_edge: its first side lies where what has to be covered ends.
    """
    frame = along_deg(need.ring[0], direction_deg)
    x0, y0, x1, y1 = bounds(to_cover(need, frame, allowance_in, extra_in))
    width, height = up(x1 - x0, step_in), up(y1 - y0, step_in)
    u, v = (x0 + x1 - width) / 2, y0 if on_edge else (y0 + y1 - height) / 2
    return frame.placed(((u, v), (u + width, v), (u + width, v + height), (u, v + height))), (width, height)


def up(length_in: float, step_in: float) -> float:
    """Up to the next mark."""
    return next(marks(length_in, step_in))


def marks(least_in: float, step_in: float) -> Iterator[float]:
    """Sizes from the first mark at or beyond one on."""
    first = max(1, math.ceil(least_in / step_in - ON_MARK_IN))
    return (k * step_in for k in range(first, first + MOST_STEPS))
