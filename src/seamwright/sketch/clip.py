"""New seams cut at the block's edge, and without what is drawn already.

Knows:  which parts of a seam lie in the block, which lie on another seam or on the edge.
Leaves: where new seams come from (draw, copies, outline).
Units:  inches of the finished block.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from itertools import accumulate, pairwise

from seamwright.geometry import Point, Ring, along, off_line
from seamwright.sketch.network import crossing, on_segment
from seamwright.sketch.strand import Strand

ON_IN = 0.002
"""A new seam that stays nearer to another than this lies on it: less than a pencil line is wide."""


def inside(strand: Strand, ring: Ring) -> list[Strand]:
    """The parts of a seam that lie in the block, cut at its outline."""
    import shapely

    area = shapely.Polygon(ring).buffer(1e-7)
    flat = strand.flat()
    if area.covers(shapely.LineString(flat)):
        return [strand]
    reach = list(accumulate((math.dist(a, b) for a, b in pairwise(flat)), initial=0.0))
    cuts = [(0.0, flat[0]), (reach[-1], flat[-1])]
    for k, (a, b) in enumerate(pairwise(flat)):
        for c, d in zip(ring, ring[1:] + ring[:1], strict=True):
            at = crossing(a, b, c, d)
            if at is None or not on_segment(at, (c, d), 1e-9) or not on_segment(at, (a, b), 1e-9):
                continue
            # On a level or upright side one coordinate is known exactly.
            at = (c[0] if c[0] == d[0] else at[0], c[1] if c[1] == d[1] else at[1])
            at = next((p for p in (c, d) if math.dist(p, at) <= 1e-9), at)
            cuts.append((reach[k] + along(at, a, b), at))
    cuts.sort()
    kept: list[tuple[float, Point, float, Point]] = []
    for (start, first), (end, last) in pairwise(cuts):
        if end - start <= 1e-9:
            continue
        if not area.covers(shapely.Point(_at(flat, reach, (start + end) / 2))):
            continue
        if kept and abs(kept[-1][2] - start) <= 1e-9:
            kept[-1] = (*kept[-1][:2], end, last)
        else:
            kept.append((start, first, end, last))
    return [strand.part(*span) for span in kept]


def _at(flat: Sequence[Point], reach: Sequence[float], at: float) -> Point:
    k = max(k for k in range(len(flat) - 1) if reach[k] <= at)
    share = (at - reach[k]) / (reach[k + 1] - reach[k])
    (ax, ay), (bx, by) = flat[k], flat[k + 1]
    return ax + share * (bx - ax), ay + share * (by - ay)


def fresh(strand: Strand, there: Sequence[Strand], ring: Ring) -> list[Strand]:
    """What of a seam is new: not on the edge of the block and on no seam that is there."""
    edge = list(zip(ring, ring[1:] + ring[:1], strict=True))
    if not strand.straight:
        same = [other for other in there if not other.straight]
        return [] if any(_alike(strand, other) for other in same) or _on_edge(strand, edge) else [strand]
    taken = [pair for other in there if other.straight for pair in pairwise(other.points)] + edge
    kept: list[list[Point]] = []
    for a, b in pairwise(strand.points):
        at = a
        spans = sorted(s for pair in taken if (s := _covered(a, b, *pair)) is not None)
        for start, first, end, last in [*spans, (math.dist(a, b), b, math.dist(a, b), b)]:
            if start - along(at, a, b) > ON_IN:
                if at == a and kept and kept[-1][-1] == a:
                    kept[-1].append(first)
                else:
                    kept.append([at, first])
            if end > along(at, a, b):
                at = last
    return [Strand("seam", tuple(points)) for points in kept]


def _covered(a: Point, b: Point, c: Point, d: Point) -> tuple[float, Point, float, Point] | None:
    """From where to where a straight seam runs along another."""
    length = math.dist(a, b)
    ends = sorted([(along(c, a, b), c), (along(d, a, b), d)])
    first, last = max(ends[0], (0.0, a), key=lambda e: e[0]), min(ends[1], (length, b), key=lambda e: e[0])
    if last[0] - first[0] <= ON_IN or c == d:
        return None
    if any(abs(off_line(p, c, d)) > ON_IN for _, p in (first, last)):
        return None
    if any(abs(off_line(p, a, b)) > ON_IN for _, p in (first, last)):
        return None
    return (*first, *last)


def _alike(one: Strand, other: Strand) -> bool:
    """Whether two curves run the same way, whichever end they begin at."""
    import shapely

    a, b = shapely.LineString(one.flat()), shapely.LineString(other.flat())
    return bool(a.buffer(ON_IN).covers(b) and b.buffer(ON_IN).covers(a))


def _on_edge(strand: Strand, edge: Sequence[tuple[Point, Point]]) -> bool:
    import shapely

    return bool(shapely.MultiLineString(edge).buffer(ON_IN).covers(shapely.LineString(strand.flat())))
