"""Whether sections that are said to be cut by ruler can be: judged from the corners of their patches alone.

Knows:  rectangles, and right-angled triangles with equal legs, whose sides a ruler's marks show.
Leaves: whether such a section is quicker without paper; steps and joins (checker).
Units:  inches.
Method: a quadrilateral with four right angles (its sides' scalar products) is a rectangle; both its sides must be
        whole marks. A triangle must have two equal sides at a right angle, and either these or the third a whole
        mark: half of a square is measured by the one, a quarter by the other.
"""

from __future__ import annotations

import math

from seamwright.geometry import Point, Ring
from seamwright.proof.claim import ClaimedSection

MARK_IN = 1 / 8
MARK_METRIC_IN = 1 / 25.4
NEAR_IN = 1 / 200
"""Within this a side is as long as a mark shows: drawings are rounded to less, and a thread is thicker."""


def unruled(section: ClaimedSection, *, metric: bool) -> Point | None:
    """A corner of the first patch of a section that no ruler cuts; None if it cuts all of them."""
    mark = MARK_METRIC_IN if metric else MARK_IN
    for step in section.steps:
        corners = _corners(step.ring)
        if step.holes or not (_is_rectangle(corners, mark) or _is_half_square(corners, mark)):
            return step.ring[0]
    return None


def _corners(ring: Ring) -> list[Point]:
    """The ring without points that lie between their neighbours."""
    kept = []
    for i, (x, y) in enumerate(ring):
        (ax, ay), (bx, by) = ring[i - 1], ring[(i + 1) % len(ring)]
        longest = max(math.dist((ax, ay), (bx, by)), NEAR_IN)
        if abs((x - ax) * (by - ay) - (y - ay) * (bx - ax)) > NEAR_IN * longest:
            kept.append((x, y))
    return kept


def _is_rectangle(corners: list[Point], mark: float) -> bool:
    if len(corners) != 4:
        return False
    sides = [_between(corners[i], corners[(i + 1) % 4]) for i in range(4)]
    square = all(_is_square(sides[i], sides[(i + 1) % 4]) for i in range(4))
    return square and all(_is_on_mark(math.hypot(*side), mark) for side in sides)


def _is_half_square(corners: list[Point], mark: float) -> bool:
    if len(corners) != 3:
        return False
    for i in range(3):
        one, two = _between(corners[i], corners[i - 1]), _between(corners[i], corners[i - 2])
        leg = math.hypot(*one)
        if _is_square(one, two) and abs(leg - math.hypot(*two)) <= NEAR_IN:
            return _is_on_mark(leg, mark) or _is_on_mark(math.dist(corners[i - 1], corners[i - 2]), mark)
    return False


def _between(a: Point, b: Point) -> Point:
    return (b[0] - a[0], b[1] - a[1])


def _is_square(one: Point, two: Point) -> bool:
    """Whether two sides meet at a right angle: the one's end lies off the other's normal by a hair at most."""
    return abs(one[0] * two[0] + one[1] * two[1]) <= NEAR_IN * max(math.hypot(*one), math.hypot(*two))


def _is_on_mark(length: float, mark: float) -> bool:
    return length > NEAR_IN and abs(length - round(length / mark) * mark) <= NEAR_IN
