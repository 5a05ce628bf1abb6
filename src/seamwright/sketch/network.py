"""Which seams meet where: places of a drawing as numbered nodes, and the nodes along each seam.

Knows:  ends, bends and corners that lie in one place, ends on other seams, crossings.
Leaves: what moves with what (move), what is shown of it (view).
Units:  inches of the finished block; positions are lengths along the flattened seam.
Method: segments near each other are found by a tree of boxes (shapely), each pair is then looked at by itself.
        Places nearer to each other than the drawing's tolerance are one node: tidying will take them for one.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import accumulate, pairwise
from typing import Any

from seamwright.geometry import Point, Ring, Segment, along, foot
from seamwright.sketch.strand import Strand


@dataclass(frozen=True, slots=True)
class Stop:
    """A node on a seam.

    Attributes:
        node: its number. at: position along the seam.
        corner: number of the seam's own point that lies there, None if the seam runs through; of a curve only its
            two ends are such points.
    """

    node: int
    at: float
    corner: int | None


@dataclass(frozen=True, slots=True)
class Network:
    """Nodes, and where they lie on seams.

    Attributes:
        nodes: their places.
        along: for each seam its stops, in order. sides: the same for the sides of the outline, from corner to
            corner.
        flats, side_flats: for each seam and each side the points along it.
        straight: for each seam whether it runs straight from stop to stop.
    """

    nodes: tuple[Point, ...]
    along: tuple[tuple[Stop, ...], ...]
    sides: tuple[tuple[Stop, ...], ...]
    flats: tuple[tuple[Point, ...], ...]
    side_flats: tuple[tuple[Point, ...], ...]
    straight: tuple[bool, ...]

    def node_at(self, point: Point, within: float) -> int | None:
        """The nearest node within a distance."""
        near = min(range(len(self.nodes)), key=lambda n: math.dist(self.nodes[n], point), default=None)
        return near if near is not None and math.dist(self.nodes[near], point) <= within else None

    def parts(self, seam: int) -> Iterator[tuple[Point, ...]]:
        """The points of each piece of a seam, from stop to stop."""
        return self._parts(self.flats[seam], self.along[seam], self.straight[seam])

    def side_parts(self, side: int) -> Iterator[tuple[Point, ...]]:
        """The points of each piece of a side of the outline, from stop to stop."""
        return self._parts(self.side_flats[side], self.sides[side], len(self.side_flats[side]) == 2)

    def _parts(self, flat: Sequence[Point], stops: Sequence[Stop], straight: bool) -> Iterator[tuple[Point, ...]]:
        reach = accumulate((math.dist(a, b) for a, b in pairwise(flat)), initial=0.0)
        along = [] if straight else list(zip(flat, reach, strict=True))
        for one, other in pairwise(stops):
            inner = (p for p, at in along if one.at < at < other.at)
            yield (self.nodes[one.node], *inner, self.nodes[other.node])


class _Places:
    """Nodes made of places: one within `near` of another is the same node."""

    def __init__(self, near: float) -> None:
        self.near, self.points = near, list[Point]()
        self._cells: dict[tuple[int, int], list[int]] = {}

    def node(self, point: Point) -> int:
        """The nearest node that a place belongs to; a new one if there is none."""
        i, j = (math.floor(c / self.near) for c in point)
        best, found = self.near, -1
        for a in (i - 1, i, i + 1):
            for b in (j - 1, j, j + 1):
                for n in self._cells.get((a, b), ()):
                    away = math.dist(self.points[n], point)
                    if away < best or (away <= best and found < 0):
                        best, found = away, n
        if found < 0:
            found = len(self.points)
            self.points.append(point)
            self._cells.setdefault((i, j), []).append(found)
        return found


def network_of(
    strands: Sequence[Strand], sides: Sequence[Sequence[Point]], near: float, more: Sequence[Point] = ()
) -> Network:
    """The network of seams and of the outline's sides (points from corner to corner).

    Args:
        near: places nearer to each other than this are one.
        more: places that are nodes, too.
    """
    import numpy as np
    import shapely

    places = _Places(near)
    flats = [tuple(strand.flat()) for strand in strands]
    runs: list[Sequence[Point]] = [*sides, *flats]
    first = len(sides)
    reaches = [list(accumulate((math.dist(a, b) for a, b in pairwise(run)), initial=0.0)) for run in runs]
    stops: list[dict[int, list[Stop]]] = [{} for _ in runs]
    # What is stated first: corners of the outline, then ends and bends of seams.
    for number, run in enumerate(runs):
        straight = number >= first and strands[number - first].straight
        last = len(run) - 1
        for k in range(len(run)) if straight else (0, last):
            node = places.node(run[k])
            corner = k if straight or k == 0 or number < first else len(strands[number - first].points) - 1
            stops[number].setdefault(node, []).append(Stop(node, reaches[number][k], corner))
    for place in more:
        places.node(place)
    segments = [(number, k) for number, run in enumerate(runs) for k in range(len(run) - 1) if run[k] != run[k + 1]]
    ends = np.array([[runs[n][k], runs[n][k + 1]] for n, k in segments], dtype=float).reshape(-1, 2, 2)
    pieces: Any = shapely.linestrings(ends)
    tree = shapely.STRtree(pieces)

    def pass_through(node: int, number: int, k: int) -> None:
        a, b = runs[number][k], runs[number][k + 1]
        at = reaches[number][k] + min(max(along(places.points[node], a, b), 0.0), math.dist(a, b))
        here = stops[number].setdefault(node, [])
        # One place is near to several pieces of a bend or a curve.
        if all(abs(stop.at - at) > 4 * near for stop in here):
            here.append(Stop(node, at, None))

    stated = len(places.points)
    on, whose = tree.query(shapely.points(np.array(places.points)), predicate="dwithin", distance=near)
    for node, segment in zip(on.tolist(), whose.tolist(), strict=True):
        pass_through(node, *segments[segment])
    left, right = tree.query(pieces, predicate="intersects")
    for i, j in zip(left.tolist(), right.tolist(), strict=True):
        if i >= j:
            continue
        (m, k), (n, q) = segments[i], segments[j]
        if m == n and (abs(k - q) <= 1 or not (m >= first and strands[m - first].straight)):
            continue
        a, b, c, d = runs[m][k], runs[m][k + 1], runs[n][q], runs[n][q + 1]
        at = crossing(a, b, c, d)
        if at is None:
            continue
        # Where an end lies nearly on the other seam the two meet there already.
        shared = (s for s in stops[m] if s < stated and s in stops[n])
        if any(math.dist(places.points[s], at) <= 4 * near for s in shared):
            continue
        node = places.node(at)
        pass_through(node, m, k)
        pass_through(node, n, q)
    ordered = [tuple(sorted((s for here in found.values() for s in here), key=lambda s: s.at)) for found in stops]
    return Network(
        tuple(places.points),
        tuple(ordered[first:]),
        tuple(ordered[:first]),
        tuple(flats),
        tuple(tuple(side) for side in sides),
        tuple(strand.straight for strand in strands),
    )


def crossing(a: Point, b: Point, c: Point, d: Point) -> Point | None:
    """Where the line through a and b crosses that through c and d; None if they run the same way."""
    ux, uy, vx, vy = b[0] - a[0], b[1] - a[1], d[0] - c[0], d[1] - c[1]
    turn = ux * vy - uy * vx
    if abs(turn) <= 1e-9 * math.hypot(ux, uy) * math.hypot(vx, vy):
        return None
    share = ((c[0] - a[0]) * vy - (c[1] - a[1]) * vx) / turn
    return a[0] + share * ux, a[1] + share * uy


def nearest(point: Point, segment: Segment) -> Point:
    """The place on a segment that is nearest to a point; a segment may be a point itself."""
    a, b = segment
    return a if a == b else foot(point, a, b, between=True)


def on_segment(point: Point, segment: Segment, within: float) -> bool:
    """Whether a place lies on a segment."""
    return math.dist(point, nearest(point, segment)) <= within


def sides_of(outline: Ring, sides: Sequence[Sequence[Point]]) -> list[tuple[Point, ...]]:
    """The outline's sides from corner to corner: those stated, else those of its ring."""
    return [tuple(s) for s in sides] or list(zip(outline, outline[1:] + outline[:1], strict=True))
