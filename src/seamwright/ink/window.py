"""The part of ink that is seen through a window.

Knows:  what is left of lines and areas.
Leaves: what is drawn, the line round the window (the caller).
Units:  those of the ink.
Limits: words are left as they are where their place is inside, and left out where it is not.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator
from dataclasses import replace
from itertools import pairwise

from seamwright.geometry import Box, Point, Ring, bounds, boxes_meet, clipped, shares_inside
from seamwright.ink.model import Area, Ink, Stroke

THIN = 1e-6
"""What is left of an area and is thinner than this share of the window is not seen."""


def seen_through(inks: Iterable[Ink], window: Box) -> Iterator[Ink]:
    """What lies inside the window, in the same order.

    >>> from seamwright.ink.model import Pen
    >>> [stroke.points for stroke in seen_through([Stroke(Pen.RULE, ((0, 1), (8, 1)))], (2, 0, 4, 2))]
    [((2.0, 1.0), (4.0, 1.0))]
    """
    for ink in inks:
        if isinstance(ink, Area):
            # Ring by ring: what is even or odd outside the window changes nothing within.
            rings = tuple(ring for ring in (_ring(ring, window) for ring in ink.rings) if ring)
            if rings:
                yield replace(ink, rings=rings)
        elif isinstance(ink, Stroke):
            yield from _lines(ink, window)
        elif _covers(window, (*ink.at, *ink.at)):
            yield ink


def _ring(ring: Ring, window: Box) -> Ring:
    box = bounds(ring)
    if _covers(window, box):
        return ring
    if not boxes_meet(window, box):
        return ()
    left, top, right, bottom = window
    for direction, distance in ((0.0, right), (math.pi / 2, bottom), (math.pi, -left), (-math.pi / 2, -top)):
        ring = clipped(ring, direction, distance)
    # What only touches the window leaves a line, or less.
    left, top, right, bottom = bounds(ring) if ring else (0.0, 0.0, 0.0, 0.0)
    return (
        ring if min(right - left, bottom - top) > THIN * max(window[2] - window[0], window[3] - window[1]) else ()
    )


def _lines(stroke: Stroke, window: Box) -> Iterator[Ink]:
    left, top, right, bottom = window
    if all(left <= x <= right and top <= y <= bottom for x, y in stroke.points):
        yield stroke
        return
    if not boxes_meet(window, bounds(stroke.points)):
        return
    run: list[Point] = []
    for a, b in pairwise((*stroke.points, *stroke.points[: stroke.closed])):
        start, end = shares_inside(a, b, window)
        if end > start:
            run += [] if run and start == 0.0 else [_between(a, b, start)]
            run.append(_between(a, b, end))
        if run and (end < 1.0 or end <= start):
            yield replace(stroke, points=tuple(run), closed=False)
            run = []
    if run:
        yield replace(stroke, points=tuple(run), closed=False)


def _between(a: Point, b: Point, share: float) -> Point:
    # The ends themselves are kept as they are, to the last digit.
    if share in (0.0, 1.0):
        return b if share else a
    return (a[0] + share * (b[0] - a[0]), a[1] + share * (b[1] - a[1]))


def _covers(window: Box, box: Box) -> bool:
    return window[0] <= box[0] and window[1] <= box[1] and box[2] <= window[2] and box[3] <= window[3]
