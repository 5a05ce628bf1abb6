"""Curves as chains of short straight pieces.

Knows:  quadratic and cubic Bezier curves, circular arcs through three points.
Leaves: where they were written.
Method: equal steps of the parameter. For a Bezier curve of degree d whose second differences of control points are
        at most m long, ceil(sqrt(d (d - 1) m / (8 t))) steps stay within t of it (G. Wang, "The subdivision method
        for finding the intersection between two Bezier curves or surfaces", Zhejiang University Journal, 1984;
        cited from memory). A chord of an arc of radius r stays within t if it spans at most 2 acos(1 - t / r).
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from itertools import pairwise

from seamwright.geometry import Point, off_line

FLAT_IN = 0.0005
"""How far the pieces may lie from the curve: less than a thread is thick."""


def bezier(control: Sequence[Point], within: float = FLAT_IN) -> tuple[Point, ...]:
    """Points along the Bezier curve with these control points (three or four), its ends exact.

    >>> len(bezier([(0, 0), (1, 0), (2, 0)]))
    2
    """
    degree = len(control) - 1
    bend = max(
        math.hypot(a[0] - 2 * b[0] + c[0], a[1] - 2 * b[1] + c[1])
        for a, b, c in zip(control, control[1:], control[2:], strict=False)
    )
    steps = max(1, math.ceil(math.sqrt(degree * (degree - 1) * bend / (8 * within))))
    inner = [_at(control, i / steps) for i in range(1, steps)]
    return (control[0], *inner, control[-1])


def arc(start: Point, through: Point, end: Point, within: float = FLAT_IN) -> tuple[Point, ...]:
    """Points along the circular arc from `start` over `through` to `end`, those three exact.

    Raises:
        ValueError: the three lie on one line (to 1e-9 of their distance).
    """
    if start in (end, through) or abs(off_line(through, start, end)) <= 1e-9 * math.dist(start, end):
        raise ValueError("three points on one line have no arc through them")
    centre = _centre(start, through, end)
    radius = math.dist(centre, start)
    first, middle, last = (math.atan2(p[1] - centre[1], p[0] - centre[0]) for p in (start, through, end))
    # Turn the way that meets the middle point before the end.
    clockwise = (middle - first) % math.tau < (last - first) % math.tau
    points: list[Point] = [start]
    for a, b, stop in ((first, middle, through), (middle, last, end)):
        span = (b - a) % math.tau if clockwise else -((a - b) % math.tau)
        steps = max(1, math.ceil(abs(span) / (2 * math.acos(max(0.0, 1 - within / radius)))))
        for i in range(1, steps):
            angle = a + span * i / steps
            points.append((centre[0] + radius * math.cos(angle), centre[1] + radius * math.sin(angle)))
        points.append(stop)
    return tuple(points)


def _at(control: Sequence[Point], t: float) -> Point:
    """De Casteljau's point at parameter t."""
    row = list(control)
    while len(row) > 1:
        row = [(a[0] + t * (b[0] - a[0]), a[1] + t * (b[1] - a[1])) for a, b in pairwise(row)]
    return row[0]


def _centre(a: Point, b: Point, c: Point) -> Point:
    """Centre of the circle through three points, measured from `a` so that few digits cancel."""
    bx, by, cx, cy = b[0] - a[0], b[1] - a[1], c[0] - a[0], c[1] - a[1]
    twice = 2 * (bx * cy - by * cx)
    b2, c2 = bx * bx + by * by, cx * cx + cy * cy
    return (a[0] + (cy * b2 - by * c2) / twice, a[1] + (bx * c2 - cx * b2) / twice)
