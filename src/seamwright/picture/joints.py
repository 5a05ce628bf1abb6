"""Lines where blocks and plain pieces of a quilt meet, each once, however their edges are parted.

Knows:  which stretches of edges lie on one line, what lies on either side of each.
Leaves: colours and pens (seamlines), the pieces themselves (quilt).
Units:  inches of the picture.
Method: pieces of edges are gathered by the line they lie on; along each line every stretch between two ends has one
        side on the left and one on the right, or none where the quilt ends.
"""

from __future__ import annotations

import math
from bisect import bisect_right
from collections.abc import Iterable, Iterator
from itertools import groupby, pairwise
from typing import TypeVar

from seamwright.geometry import Point, levels
from seamwright.picture.quiltlooks import Rim
from seamwright.picture.seamlines import Side

SAME_ANGLE, SAME_LINE_IN = 1e-5, 1e-4
"""Lines nearer to each other than this are one: layouts are exact but for noise."""

_T = TypeVar("_T")
Joint = tuple[Point, Point, Side | None, Side | None]
"""From where to where, what lies on the left and on the right hand of a walker."""


def joints(rims: Iterable[Rim]) -> Iterator[Joint]:
    """All stretches in which pieces meet, or have nothing beside them; neighbours with equal sides are one.

    Args:
        rims: pieces of the edges of all blocks and plain pieces, clockwise: inside is on the right.
    """
    found = [(_angle(a, b), a, b, side) for a, b, side in rims if math.dist(a, b) > SAME_LINE_IN]
    for same in _grouped(found, [angle for angle, *_ in found], SAME_ANGLE):
        ux, uy = math.cos(same[0][0]), math.sin(same[0][0])
        off = [(b[1] + a[1]) / 2 * ux - (b[0] + a[0]) / 2 * uy for _, a, b, _ in same]
        for line in _grouped(list(zip(off, same, strict=True)), off, SAME_LINE_IN):
            spans = [(a[0] * ux + a[1] * uy, b[0] * ux + b[1] * uy, side) for _, (_, a, b, side) in line]
            base = line[0][0]

            def at(along: float, base: float = base, ux: float = ux, uy: float = uy) -> Point:
                return (along * ux - base * uy, along * uy + base * ux)

            for near, far, left, right in _stretches(spans):
                yield at(near), at(far), left, right


def _angle(a: Point, b: Point) -> float:
    """Direction of a line, whichever way it is walked: from just below 0 to just below pi."""
    angle = math.atan2(b[1] - a[1], b[0] - a[0]) % math.pi
    return angle - math.pi if angle > math.pi - SAME_ANGLE else angle


def _grouped(items: list[_T], values: list[float], gap: float) -> Iterator[list[_T]]:
    """Items whose values differ by no more than noise."""
    level = levels(values, gap)
    order = sorted(range(len(items)), key=lambda i: level[i])
    for _, group in groupby(order, key=lambda i: level[i]):
        yield [items[i] for i in group]


def _stretches(
    spans: list[tuple[float, float, Side]],
) -> Iterator[tuple[float, float, Side | None, Side | None]]:
    """Along one line: walked forwards a span has its side on the right."""
    ends = sorted(end for near, far, _ in spans for end in (near, far))
    cuts = [b for a, b in pairwise([-math.inf, *ends]) if b - a > SAME_LINE_IN]
    sides: list[dict[bool, Side]] = [{} for _ in cuts]

    def number(end: float) -> int:
        return bisect_right(cuts, end + SAME_LINE_IN / 2) - 1

    for near, far, side in spans:
        forwards = near < far
        for k in range(number(min(near, far)), number(max(near, far))):
            sides[k][forwards] = side
    runs = [(cuts[k], cuts[k + 1], sides[k].get(False), sides[k].get(True)) for k in range(len(cuts) - 1)]
    for (left, right), same in groupby(runs, key=lambda run: run[2:]):
        if left is not None or right is not None:
            stretch = list(same)
            yield stretch[0][0], stretch[-1][1], left, right
