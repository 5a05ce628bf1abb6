"""Circular arcs through three points as chains of short straight pieces.

Method: equal angles on each side of the middle point. A chord that spans the angle a on a circle of radius r lies
        within r (1 - cos(a / 2)) of it (the sagitta of the chord).
"""

from __future__ import annotations

import math

from seamwright.geometry import Point, off_line

NEAR_IN = 0.0001
"""Seams that end on a typed arc still do when the block is made several times as large."""
MOST_POINTS = 20_000
"""On each side of the middle point; a whole circle 60 inches across takes 1,200."""


def arc(start: Point, through: Point, end: Point, within: float = NEAR_IN) -> tuple[Point, ...]:
    """Points along the circular arc from `start` over `through` to `end`, those three exact.

    Raises:
        ValueError: the three lie on one line (to 1e-9 of their distance), or so nearly that the arc leaves every
            block by far.
    """
    if start in (end, through) or abs(off_line(through, start, end)) <= 1e-9 * math.dist(start, end):
        raise ValueError("three points on one line have no arc through them")
    centre = centre_of(start, through, end)
    radius = math.dist(centre, start)
    first, middle, last = (math.atan2(p[1] - centre[1], p[0] - centre[0]) for p in (start, through, end))
    # Turn the way that meets the middle point before the end.
    clockwise = (middle - first) % math.tau < (last - first) % math.tau
    points: list[Point] = [start]
    for a, b, stop in ((first, middle, through), (middle, last, end)):
        span = (b - a) % math.tau if clockwise else -((a - b) % math.tau)
        steps = max(1, math.ceil(abs(span) / (2 * math.acos(max(0.0, 1 - within / radius)))))
        if steps > MOST_POINTS:
            raise ValueError("an arc through points nearly on one line is too large to be followed")
        for i in range(1, steps):
            angle = a + span * i / steps
            points.append((centre[0] + radius * math.cos(angle), centre[1] + radius * math.sin(angle)))
        points.append(stop)
    return tuple(points)


def centre_of(a: Point, b: Point, c: Point) -> Point:
    """Centre of the circle through three points on it, measured from `a` so that few digits cancel."""
    bx, by, cx, cy = b[0] - a[0], b[1] - a[1], c[0] - a[0], c[1] - a[1]
    twice = 2 * (bx * cy - by * cx)
    b2, c2 = bx * bx + by * by, cx * cx + cy * cy
    return (a[0] + (cy * b2 - by * c2) / twice, a[1] + (bx * c2 - cx * b2) / twice)
