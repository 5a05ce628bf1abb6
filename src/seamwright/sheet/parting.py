"""Where a print that is too large for the sheet is parted.

Knows:  how few parts cover it at an angle, row by row, and which parting lines spoil least.
Leaves: at which angle, and what the parts show (tiling).
Units:  points, in a frame whose axes the parting lines follow.
Method: rows of parts lie one below the other, and each row is parted on its own, so that a short row needs no more
        parts than its own length: parting lines down may jump from row to row like joints of bricks. Dynamic
        programming over places a sixteenth of an inch apart finds the rows of fewest parts, and of those the ones
        that spoil least: words crossed, then stitch lines run along, then corners beside.
Limits: parting lines across run right through; a print with a hollow counts as wide as from side to side.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass, field

import numpy as np
import numpy.typing as npt

from seamwright.geometry import Point, Ring, Segment, bounds

OVERLAP_PT = 36.0
"""1/2 in to glue."""
STEP_PT = 4.5
KEEP_OFF_PT = 6.0
"""A parting line this near to a stitch line along it, or to a corner, spoils it."""
CLEAR_PT = 2.0
"""White between a parting line and words."""
LONG_PT = 12 * KEEP_OFF_PT
"""A stitch line that stays near a parting line for longer (at 10 degrees or less) runs along it."""
MOST_PLACES, COUNTED_PLACES = 300, 60
"""Rows of a large print, and rows that are only counted, are looked for on a coarser grid."""
PART, WORD, CORNER, RUN = 1e8, 1000.0, 200.0, 10.0
"""What a part, a word crossed, a corner beside, and a point of stitch line run along weigh."""

Span = tuple[float, float]
"""From the parting line at its start (or the foundation's edge) to its end, the overlap included."""


@dataclass(frozen=True, slots=True)
class Row:
    """One row of parts: what it takes of the height, and of the width each part."""

    down: Span
    across: tuple[Span, ...]


@dataclass(frozen=True, slots=True)
class Drawn:
    """What parting lines are to keep clear of.

    Attributes:
        lines: stitch and trim lines. corners: corners of patches and ends of lines. words: boxes of words.
    """

    lines: tuple[Segment, ...] = ()
    corners: tuple[Point, ...] = ()
    words: tuple[Ring, ...] = field(default=())


def count(length: float, most: float) -> int:
    """How many parts of a length, overlapping, cover it."""
    return max(1, math.ceil((length - OVERLAP_PT) / (most - OVERLAP_PT) - 1e-9))


def grid(
    ring: Ring, across: float, down: float, drawn: Drawn, *, even: bool = True
) -> tuple[tuple[Row, ...], float]:
    """Rows of parts that cover a ring, as few parts as can be, and what their parting lines spoil.

    Args:
        across, down: the largest part.
        even: parts are of one size where nothing is in the way, else the first ones as large as can be: what is
            left is then small, and shares a sheet.
    """
    left, _, right, _ = bounds(ring)
    spoilt = cost_of(drawn, 1, left, right)
    spans = _rows(ring, across, down, spoilt, even=even)
    total = sum(spoilt(top) for top, _ in spans[1:])
    rows = []
    for top, bottom in spans:
        left, right = _extent(ring, top, bottom)
        cost = cost_of(drawn, 0, top, bottom)
        columns = partings(left, right, across, cost, even=even)
        total += sum(cost(start) for start, _ in columns[1:])
        rows.append(Row((top, bottom), tuple(columns)))
    return tuple(rows), total


def fewest(ring: Ring, across: float, down: float) -> int:
    """How few parts of a size cover a ring in rows."""
    spans = _rows(ring, across, down, lambda _: 0.0, COUNTED_PLACES)
    extents = [_extent(ring, top, bottom) for top, bottom in spans]
    return sum(count(right - left, across) for left, right in extents)


def _rows(
    ring: Ring,
    across: float,
    down: float,
    cost: Callable[[float], float],
    most: int = MOST_PLACES,
    *,
    even: bool = True,
) -> list[Span]:
    """The heights of the rows that need the fewest parts in all; of those the ones that spoil least."""
    _, top, _, bottom = bounds(ring)
    places = _places(top, bottom, down, most)
    last = len(places) - 1
    low, high = _between(ring, places)
    # A row that ends at place j reaches the overlap beyond it.
    ends = np.minimum(np.searchsorted(places, places + OVERLAP_PT - 1e-6), last)
    allowed = np.append(places[1:-1] <= bottom - OVERLAP_PT - STEP_PT + 1e-6, False)
    costs = np.array([cost(float(p)) if ok else 0.0 for p, ok in zip(places[1:], allowed, strict=True)])
    best = np.full(len(places), np.inf)
    following = np.full(len(places), last)
    for i in range(last - 1, -1, -1):
        reach = np.maximum.accumulate(high[i:]) - np.minimum.accumulate(low[i:])
        if bottom - places[i] <= down + 1e-6:
            best[i] = _row_cost(reach[last - 1 - i], across, (bottom - places[i]) / down, even)
        js = np.arange(i + 1, last)
        js = js[allowed[js - 1] & (places[js] - places[i] >= STEP_PT - 1e-6)]
        js = js[places[js] + OVERLAP_PT - places[i] <= down + 1e-6]
        if len(js):
            share = (places[js] + OVERLAP_PT - places[i]) / down
            scores = _row_cost(reach[ends[js] - 1 - i], across, share, even) + costs[js - 1] + best[js]
            found = int(scores.argmin())
            if scores[found] < best[i]:
                best[i], following[i] = scores[found], js[found]
    spans, at = [], 0
    while at < last:
        after = int(following[at])
        spans.append((float(places[at]), float(places[after]) + (OVERLAP_PT if after < last else 0.0)))
        at = after
    return spans


def _row_cost(width: npt.ArrayLike, across: float, share: npt.ArrayLike, even: bool) -> npt.NDArray[np.float64]:
    """What a row weighs: its parts, and a little for its height, least where rows are most (or least) even."""
    parts = np.maximum(1, np.ceil((np.asarray(width) - OVERLAP_PT) / (across - OVERLAP_PT) - 1e-9))
    return np.asarray(parts * PART + np.asarray(share) ** 2 * (1 if even else -1))


def _places(top: float, bottom: float, down: float, most: int) -> npt.NDArray[np.float64]:
    """Where rows may start: a grid, and where rows as high as can be start, reckoned from above and from below."""
    halvings = [OVERLAP_PT / n for n in (8, 4, 2, 1)] + [OVERLAP_PT * n for n in range(2, 99)]
    step = next((s for s in halvings if (bottom - top) / s <= most), halvings[-1])
    reach = down - OVERLAP_PT
    full = np.arange(math.ceil((bottom - top) / reach) + 1) * reach
    found = np.concatenate([np.arange(top, bottom, step), top + full, bottom - OVERLAP_PT - full])
    found = np.concatenate([found, found + OVERLAP_PT, [top, bottom]])
    found = np.unique(np.round(found[(found >= top) & (found <= bottom)], 6))
    found = found[np.append(np.diff(found) > 1e-5, True)]
    found[0], found[-1] = top, bottom
    return np.asarray(found, dtype=np.float64)


def _between(ring: Ring, places: npt.NDArray[np.float64]) -> tuple[npt.NDArray[np.float64], ...]:
    """How far left and how far right a ring reaches between each place and the next."""
    low, high = np.full(len(places) - 1, np.inf), np.full(len(places) - 1, -np.inf)
    for (ax, ay), (bx, by) in zip(ring, ring[1:] + ring[:1], strict=True):
        if ay > by:
            ax, ay, bx, by = bx, by, ax, ay
        # Which stretches the side runs through; a level one counts for both that it parts.
        first = min(len(low) - 1, max(0, int(np.searchsorted(places, ay, "left")) - 1))
        after = min(len(low), max(first + 1, int(np.searchsorted(places, by, "right"))))
        ends = np.clip(np.stack([places[first:after], places[first + 1 : after + 1]]), ay, by)
        level = by - ay < 1e-12
        xs = np.full_like(ends, ax) if level else ax + (ends - ay) * ((bx - ax) / (by - ay))
        xs = np.stack([*xs, np.full(after - first, bx)]) if level else xs
        low[first:after] = np.minimum(low[first:after], xs.min(axis=0))
        high[first:after] = np.maximum(high[first:after], xs.max(axis=0))
    return low, high


def _extent(ring: Ring, top: float, bottom: float) -> Span:
    """How far left and right a ring reaches in a row."""
    low, high = _between(ring, np.array([-1e9, top, bottom, 1e9]))
    return float(low[1]), float(high[1])


def partings(
    start: float, end: float, most: float, cost: Callable[[float], float], *, even: bool = True
) -> list[Span]:
    """Where the parts begin and end along one direction, at the least cost.

    Part k runs from its parting line to the overlap beyond the next one. Parting lines may lie anywhere that
    leaves no part longer than `most`. Ties go to parts of even size, or to the longest ones first.
    """
    parts = count(end - start, most)
    if parts == 1:
        return [(start, end)]
    reach = most - OVERLAP_PT
    wanted = (end - OVERLAP_PT - start) / parts if even else reach
    best: dict[float, tuple[float, tuple[float, ...]]] = {start: (0.0, ())}
    for number in range(1, parts):
        # Those before need room to reach it, those after to reach the end.
        low = max(start + STEP_PT, end - OVERLAP_PT - (parts - number) * reach)
        high = min(start + number * reach, end - OVERLAP_PT - STEP_PT)
        steps = max(0, round((high - low) / STEP_PT))
        places = [low + (high - low) * k / max(1, steps) for k in range(steps + 1)]
        after: dict[float, tuple[float, tuple[float, ...]]] = {}
        for place in places:
            here = cost(place) + abs(place - start - number * wanted) / 1000
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


def cost_of(drawn: Drawn, axis: int, first: float, last: float) -> Callable[[float], float]:
    """What a parting line at a place spoils: words crossed, stitch lines it runs along, corners beside it.

    Args:
        axis: 0 for lines down, whose places are x; 1 for lines across.
        first, last: from where to where the line runs, in the other direction.
    """
    other = 1 - axis
    spans = [
        (min(p[axis] for p in box), max(p[axis] for p in box))
        for box in drawn.words
        if min(p[other] for p in box) < last and max(p[other] for p in box) > first
    ]
    words = np.array(spans).reshape(-1, 2)
    corners = np.array([p[axis] for p in drawn.corners if first - KEEP_OFF_PT <= p[other] <= last + KEEP_OFF_PT])
    runs = [piece for line in drawn.lines for piece in _stretch(line, axis, first, last)]
    lines = np.array(runs).reshape(-1, 3)

    def cost(place: float) -> float:
        crossed = int(((words[:, 0] - CLEAR_PT < place) & (place < words[:, 1] + CLEAR_PT)).sum())
        beside = int((np.abs(corners - place) < KEEP_OFF_PT).sum())
        return WORD * crossed + RUN * _run_along(lines, place) + CORNER * beside

    return cost


def _stretch(line: Segment, axis: int, first: float, last: float) -> list[tuple[float, float, float]]:
    """What of a line lies beside a parting line: least and greatest place, and length."""
    a, b = sorted(line, key=lambda p: p[1 - axis])
    rise = b[1 - axis] - a[1 - axis]
    if b[1 - axis] < first or a[1 - axis] > last:
        return []
    shares = [0.0, 1.0]
    if rise > 1e-9:
        shares = [min(1.0, max(0.0, (v - a[1 - axis]) / rise)) for v in (first, last)]
    ends = [a[axis] + share * (b[axis] - a[axis]) for share in shares]
    return [(min(ends), max(ends), (shares[1] - shares[0]) * math.dist(a, b))]


def _run_along(lines: npt.NDArray[np.float64], place: float) -> float:
    """Length of the lines that stay within a hair of a parting line for long."""
    if not len(lines):
        return 0.0
    low, high, length = lines.T
    inside = np.minimum(high, place + KEEP_OFF_PT) - np.maximum(low, place - KEEP_OFF_PT)
    wide = np.maximum(high - low, 1e-9)
    near = np.where(inside >= 0, length * np.minimum(1.0, np.maximum(inside, 1e-9) / wide), 0.0)
    return float(near[near > LONG_PT].sum())
