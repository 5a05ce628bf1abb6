"""Plane geometry that every part shares: points, rings, distances.

Knows:  points (x, y) and rings of them, front view, inches, x right and y down.
Leaves: areas of overlaps, buffers, faces (shapely, where they are needed).
Units:  whatever the caller's points are in; nothing here depends on the scale.

Only `math` is imported: `--help` and the readers must start fast.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from itertools import pairwise

Point = tuple[float, float]
Ring = tuple[Point, ...]
"""Corners in order, the first not repeated at the end."""
Segment = tuple[Point, Point]
Affine = tuple[float, float, float, float, float, float]
"""(a, b, c, d, e, f): x' = a x + c y + e, y' = b x + d y + f, the order of SVG's matrix()."""

IDENTITY: Affine = (1.0, 0.0, 0.0, 1.0, 0.0, 0.0)


def signed_area(ring: Sequence[Point]) -> float:
    """Area inside a ring; positive when its corners run clockwise as seen (y down).

    Source: B. Braden, "The Surveyor's Area Formula", College Mathematics Journal
    17(4), 1986, pp. 326-337.

    >>> signed_area([(0, 0), (5, 0), (5, 2)])
    5.0
    """
    # Measure from a corner, not the page origin: far from it, digits cancel.
    ox, oy = ring[0]
    shifted = [(x - ox, y - oy) for x, y in ring]
    return (
        math.fsum(x1 * y2 - x2 * y1 for (x1, y1), (x2, y2) in zip(shifted, shifted[1:] + shifted[:1], strict=True))
        / 2
    )


def centroid(ring: Sequence[Point]) -> Point:
    """The middle of the area inside a ring.

    Source: as `signed_area`, each triangle from the first corner weighed by its area.

    >>> centroid([(0, 0), (3, 0), (0, 3)])
    (1.0, 1.0)
    """
    ox, oy = ring[0]
    shifted = [(x - ox, y - oy) for x, y in ring[1:]]
    pairs = list(pairwise(shifted))
    twice = [x1 * y2 - x2 * y1 for (x1, y1), (x2, y2) in pairs]
    total = 3 * math.fsum(twice)
    across = math.fsum(w * (a[0] + b[0]) for w, (a, b) in zip(twice, pairs, strict=True))
    down = math.fsum(w * (a[1] + b[1]) for w, (a, b) in zip(twice, pairs, strict=True))
    return (ox + across / total, oy + down / total)


def off_line(point: Point, a: Point, b: Point) -> float:
    """Signed distance of `point` from the line through `a` and `b`, positive on its right hand (y down).

    Raises:
        ZeroDivisionError: `a` and `b` are the same point.
    """
    ux, uy = b[0] - a[0], b[1] - a[1]
    return (ux * (point[1] - a[1]) - uy * (point[0] - a[0])) / math.hypot(ux, uy)


def along(point: Point, a: Point, b: Point) -> float:
    """Distance of `point`'s foot on the line through `a` and `b` from `a`, positive towards `b`."""
    ux, uy = b[0] - a[0], b[1] - a[1]
    return (ux * (point[0] - a[0]) + uy * (point[1] - a[1])) / math.hypot(ux, uy)


def foot(point: Point, a: Point, b: Point, *, between: bool = False) -> Point:
    """The foot of `point` on the line through `a` and `b`; with `between` the nearest place between the two.

    Raises:
        ZeroDivisionError: `a` and `b` are the same point.

    >>> foot((5, 3), (0, 0), (2, 0)), foot((5, 3), (0, 0), (2, 0), between=True)
    ((5.0, 0.0), (2.0, 0.0))
    """
    share = along(point, a, b) / math.dist(a, b)
    if between:
        share = min(max(share, 0.0), 1.0)
    return (a[0] + share * (b[0] - a[0]), a[1] + share * (b[1] - a[1]))


def canonical_ring(ring: Sequence[Point], straight_within: float = 1e-7) -> Ring:
    """The ring clockwise as seen, from its topmost then leftmost corner, points inside a straight side left out.

    Args:
        ring: three corners or more, not all on one line.
        straight_within: a point nearer than this to the line through its neighbours is no corner, nor is one
            nearer than this to the corner before it.
    """
    turned = list(ring) if signed_area(ring) > 0 else list(reversed(ring))
    # Two corners in one place go as one: else each is straight beside the other and both would be left out.
    points = [
        p
        for before, p in zip(turned[-1:] + turned[:-1], turned, strict=True)
        if math.dist(before, p) > straight_within
    ]

    def is_straight(p: Point, before: Point, after: Point) -> bool:
        return math.dist(before, after) > 0 and abs(off_line(p, before, after)) <= straight_within

    # One after the other: two points close together may each look straight beside the other.
    corners: list[Point] = []
    for p in points:
        while len(corners) > 1 and is_straight(corners[-1], corners[-2], p):
            corners.pop()
        corners.append(p)
    while len(corners) > 3 and is_straight(corners[-1], corners[-2], corners[0]):
        corners.pop()
    while len(corners) > 3 and is_straight(corners[0], corners[-1], corners[1]):
        corners.pop(0)
    top = min(y for _, y in corners)
    # Corners of one height may differ in the last digits; take them as one height.
    first = min((i for i, (_, y) in enumerate(corners) if y <= top + straight_within), key=lambda i: corners[i][0])
    return tuple(corners[first:] + corners[:first])


def clipped(shape: Sequence[Point], direction: float, distance: float) -> Ring:
    """The part of a convex shape within a distance of the origin along a direction (radians, x towards y).

    Method: I. E. Sutherland, G. W. Hodgman, Communications of the ACM 17(1), 1974, pp. 32-42, for one line.

    >>> clipped([(0, 0), (2, 0), (2, 1), (0, 1)], 0.0, 1.0)
    ((0, 0), (1.0, 0.0), (1.0, 1.0), (0, 1))
    """
    across, down = math.cos(direction), math.sin(direction)
    over = [x * across + y * down - distance for x, y in shape]
    kept: list[Point] = []
    for i, point in enumerate(shape):
        j = (i + 1) % len(shape)
        if over[i] <= 0:
            kept.append(point)
        if (over[i] < 0 < over[j]) or (over[j] < 0 < over[i]):
            share = over[i] / (over[i] - over[j])
            kept.append((point[0] + share * (shape[j][0] - point[0]), point[1] + share * (shape[j][1] - point[1])))
    return tuple(kept)


Box = tuple[float, float, float, float]
"""(least x, least y, greatest x, greatest y)."""


def shares_inside(a: Point, b: Point, box: Box) -> tuple[float, float]:
    """From where to where, as shares of the way from `a` to `b`, a line lies inside a box; (1, 0) or so if nowhere.

    Source: Y.-D. Liang and B. Barsky, "A new concept and method for line clipping", ACM Transactions on Graphics
    3(1), 1984, pp. 1-22.

    >>> shares_inside((0, 1), (8, 1), (2, 0, 4, 2))
    (0.25, 0.5)
    """
    (ax, ay), (bx, by), (left, top, right, bottom) = a, b, box
    start, end = 0.0, 1.0
    for step, room in ((ax - bx, ax - left), (bx - ax, right - ax), (ay - by, ay - top), (by - ay, bottom - ay)):
        if step == 0.0:
            if room < 0.0:
                return 1.0, 0.0
        elif step < 0.0:
            start = max(start, room / step)
        else:
            end = min(end, room / step)
    return start, end


ONE_HEIGHT = 1e-7
"""Share of a block's larger side: places whose heights differ by less are as high (a millionth of an inch in ten).
Far above the noise of floats, far below a thread, and the same decision in a block of any size."""


def levels(values: Sequence[float], gap: float = 1e-6) -> list[int]:
    """For each value how many gaps lie below it: values that differ by noise share a level, and none is rounded.

    >>> levels([2.5, 1.0, 2.5000000001, 7.0])
    [1, 0, 1, 2]
    """
    order = sorted(range(len(values)), key=values.__getitem__)
    found, level = [0] * len(values), 0
    for before, i in zip([*order[:1], *order], order, strict=False):
        level += values[i] - values[before] > gap
        found[i] = level
    return found


def moved(affine: Affine, point: Point) -> Point:
    """`point` under `affine`."""
    a, b, c, d, e, f = affine
    x, y = point
    return (a * x + c * y + e, b * x + d * y + f)


def after(first: Affine, second: Affine) -> Affine:
    """The affine that does `first` and then `second`."""
    a, b, c, d, e, f = first
    p, q, r, s, t, u = second
    return (p * a + r * b, q * a + s * b, p * c + r * d, q * c + s * d, p * e + r * f + t, q * e + s * f + u)


def boxes_meet(one: Box, other: Box) -> bool:
    """Whether two boxes share a point; boxes that only touch do."""
    return one[0] <= other[2] and other[0] <= one[2] and one[1] <= other[3] and other[1] <= one[3]


def bounds(points: Sequence[Point]) -> Box:
    """(least x, least y, greatest x, greatest y)."""
    xs, ys = [p[0] for p in points], [p[1] for p in points]
    return (min(xs), min(ys), max(xs), max(ys))
