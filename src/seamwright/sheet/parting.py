"""Where a length that is too long for the sheet is parted.

Knows:  how few parts cover a length, which parting lines spoil least.
Leaves: what the parts show (tiling).
Units:  points along one direction.
Method: parting lines may lie anywhere that leaves every part short enough; dynamic programming over places a
        sixteenth of an inch apart finds those that cost least: words crossed, then stitch lines, then corners.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence

from seamwright.geometry import Ring, Segment

OVERLAP_PT = 36.0
"""1/2 in to glue."""
STEP_PT = 4.5
KEEP_OFF_PT = 6.0
"""A parting line this near to a stitch line along it, or to a corner, spoils it."""
CLEAR_PT = 2.0
"""White between a parting line and words."""

Span = tuple[float, float]
"""From the parting line at its start (or the foundation's edge) to its end, the overlap included."""


def count(length: float, most: float) -> int:
    """How many parts of a length, overlapping, cover it."""
    return max(1, math.ceil((length - OVERLAP_PT) / (most - OVERLAP_PT) - 1e-9))


def partings(start: float, end: float, most: float, cost: Callable[[float], float]) -> list[Span]:
    """Where the parts begin and end along one direction, at the least cost.

    Part k runs from its parting line to the overlap beyond the next one. Parting lines may lie anywhere that
    leaves no part longer than `most`. Ties go to parts of even size.
    """
    parts = count(end - start, most)
    if parts == 1:
        return [(start, end)]
    reach = most - OVERLAP_PT
    even = (end - OVERLAP_PT - start) / parts
    best: dict[float, tuple[float, tuple[float, ...]]] = {start: (0.0, ())}
    for number in range(1, parts):
        # Those before need room to reach it, those after to reach the end.
        low = max(start + STEP_PT, end - OVERLAP_PT - (parts - number) * reach)
        high = min(start + number * reach, end - OVERLAP_PT - STEP_PT)
        steps = max(0, round((high - low) / STEP_PT))
        places = [low + (high - low) * k / max(1, steps) for k in range(steps + 1)]
        after: dict[float, tuple[float, tuple[float, ...]]] = {}
        for place in places:
            here = cost(place) + abs(place - start - number * even) / 1000
            ways = [
                (spent + here, (*cuts, place))
                for before, (spent, cuts) in best.items()
                if STEP_PT <= place - before <= reach + 1e-6
            ]
            if ways:
                after[place] = min(ways)
        best = after
    _, cuts = min(way for place, way in best.items() if end - OVERLAP_PT - place <= reach + 1e-6)
    starts = (start, *cuts)
    return [(s, e + OVERLAP_PT) for s, e in zip(starts, cuts, strict=False)] + [(starts[-1], end)]


def cost_of(stitches: Sequence[Segment], words: Sequence[Ring], axis: int) -> Callable[[float], float]:
    """What a parting line at a place spoils: words crossed, stitch lines it runs along, corners beside it."""
    spans = [(min(p[axis] for p in ring), max(p[axis] for p in ring)) for ring in words]
    corners = sorted({round(p[axis], 3) for line in stitches for p in line})
    along = [
        (min(a[axis], b[axis]), max(a[axis], b[axis]), math.dist(a, b))
        for a, b in stitches
        if abs(a[axis] - b[axis]) <= 2 * KEEP_OFF_PT < math.dist(a, b)
    ]

    def cost(place: float) -> float:
        crossed = sum(low - CLEAR_PT < place < high + CLEAR_PT for low, high in spans)
        run = sum(length for low, high, length in along if low - KEEP_OFF_PT < place < high + KEEP_OFF_PT)
        beside = sum(abs(corner - place) < KEEP_OFF_PT for corner in corners)
        return 1000.0 * crossed + 10.0 * run + beside

    return cost


def aside(low: float, high: float, spans: Sequence[Span]) -> float:
    """The least shift that takes a stretch off the parting line it crosses, 0 for none."""
    for start, _ in spans[1:]:
        if low - CLEAR_PT < start < high + CLEAR_PT:
            return start - high - CLEAR_PT if start - low > high - start else start - low + CLEAR_PT
    return 0.0
