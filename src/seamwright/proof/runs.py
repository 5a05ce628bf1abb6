"""Runs of edges, and whether they are the straight or curved seam they are said to be.

Knows:  points in order along a line, how far they stray from it, how sharply they turn.
Leaves: what is sewn to what (checker).
Units:  inches.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from itertools import pairwise

from seamwright.geometry import Point, along, off_line

Edge = tuple[Point, Point]
STRAIGHT_IN = 1e-6
"""A run is straight if no point of it lies further than this from the line through its ends; also how closely
a claimed seam must agree with the border found."""
PIVOT_DEG = 30.0
"""A curved seam that turns more sharply than this at one point has a corner there, where the needle would pivot.
(Flattened to 0.0005 in, even a curve of 1/8 in radius turns by less than 11 degrees a piece.)"""


def runs(edges: Iterable[Edge]) -> list[list[Point]]:
    """The edges as runs, head to tail, in a fixed order; a point that several leave ends a run there.

    A closed run repeats its first point.
    """
    after: dict[Point, list[Point]] = {}
    before: dict[Point, int] = {}
    for start, end in sorted(edges):
        after.setdefault(start, []).append(end)
        before[end] = before.get(end, 0) + 1

    def plain(point: Point) -> bool:
        return len(after.get(point, ())) == 1 and before.get(point) == 1

    def walk(start: Point, first: Point) -> list[Point]:
        run = [start, first]
        while plain(run[-1]) and run[-1] != start:
            run.append(after[run[-1]][0])
        return run

    found = [walk(start, end) for start in after if not plain(start) for end in after[start]]
    left = set(after) - {point for run in found for point in run}
    for start in after:
        if start in left:
            found.append(walk(start, after[start][0]))
            left.difference_update(found[-1])
    return found


def agree(stated: Sequence[Point], real: Sequence[Point]) -> bool:
    """Whether two runs are the same line from end to end, in either direction."""
    ends = [math.dist(stated[i], real[j]) for i, j in ((0, 0), (-1, -1), (0, -1), (-1, 0))]
    if max(ends[:2]) > STRAIGHT_IN and max(ends[2:]) > STRAIGHT_IN:
        return False
    return all(lies_near(p, real) for p in stated) and all(lies_near(p, stated) for p in real)


def sharpest_bend(run: Sequence[Point]) -> Point | None:
    """The point furthest from the line through the ends, if the run is not straight."""
    if math.dist(run[0], run[-1]) <= STRAIGHT_IN:
        return run[len(run) // 2]
    worst = max(run, key=lambda p: abs(off_line(p, run[0], run[-1])))
    if abs(off_line(worst, run[0], run[-1])) > STRAIGHT_IN:
        return worst
    # On the line, but running back on itself, is no straight seam either.
    steps = [along(p, run[0], run[-1]) for p in run]
    return next((p for p, (a, b) in zip(run, pairwise(steps), strict=False) if b <= a), None)


def sharpest_turn(run: Sequence[Point]) -> Point | None:
    """The first point at which a curve has a corner; its ends if it closes on itself."""
    if run[0] == run[-1]:
        return run[0]
    for a, b, c in zip(run, run[1:], run[2:], strict=False):
        turn = math.atan2(c[1] - b[1], c[0] - b[0]) - math.atan2(b[1] - a[1], b[0] - a[0])
        if abs(math.degrees(math.remainder(turn, math.tau))) > PIVOT_DEG:
            return b
    return None


def lies_on(edge: Edge, run: Sequence[Point]) -> bool:
    """Whether the middle of an edge lies on a polyline."""
    return lies_near(((edge[0][0] + edge[1][0]) / 2, (edge[0][1] + edge[1][1]) / 2), run)


def lies_near(point: Point, run: Sequence[Point]) -> bool:
    """Whether a point lies on a polyline, within STRAIGHT_IN."""
    return any(_distance(point, a, b) <= STRAIGHT_IN for a, b in pairwise(run))


def _distance(point: Point, a: Point, b: Point) -> float:
    length = math.dist(a, b)
    if length == 0:
        return math.dist(point, a)
    foot = min(max(along(point, a, b), 0.0), length)
    share = foot / length
    return math.dist(point, (a[0] + share * (b[0] - a[0]), a[1] + share * (b[1] - a[1])))
