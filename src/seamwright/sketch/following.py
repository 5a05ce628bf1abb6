"""What follows when a point of a drawing moves: ends on moved seams, curves, crossings that others share.

Knows:  which points lie on which seams, and where they come to lie when these move.
Leaves: which point moves and where to (move), the forms of curves (reshaped).
Units:  inches of the finished block.
Method: ends on a moved seam stay if it still runs through all of their places, as when it is pulled along itself;
        else each keeps its share of that seam's length, all alike, so that their order stays. Where two seams run
        through a point in which others end, it stays their crossing. Where three or more run through it stays where
        it is, and what moves bends in it, for three straight lines moved one by one share no point any more. Seams
        may end on each other round and round, so places are found anew until none moves any further.
"""

from __future__ import annotations

import math
from bisect import bisect
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import lru_cache
from itertools import pairwise

from seamwright.geometry import Point, Segment
from seamwright.sketch.draft import SAME_IN
from seamwright.sketch.network import Network, Stop, crossing, nearest, on_segment
from seamwright.sketch.reshaped import alongside, at_share, similar
from seamwright.sketch.strand import Strand

MOST_ROUNDS = 1000
SETTLED_IN = 1e-12
SAME_WAY = 1e-4
"""Lines through one point whose directions differ by less (radians) are one line."""


@dataclass(frozen=True, slots=True)
class Vertex:
    """A point at which a straight seam ends or bends, or may bend.

    Attributes:
        corner: number of the seam's own point, None for one that its line does not have yet.
        at: position along the seam.
    """

    node: int
    corner: int | None
    at: float


@dataclass(frozen=True, slots=True)
class _Carrier:
    """What a point lies on: a straight piece of a seam, a curve or a side of the outline.

    Attributes:
        start, end: the nodes between which it runs. old: its own ends, which may lie beside them by the tolerance.
        seam: its number; None for a side of the outline.
        bowed: whether it runs other than straight.
    """

    start: int
    end: int
    old: Segment
    seam: int | None
    bowed: bool


class Bearing:
    """Where the nodes of a drawing lie while one of them moves.

    Attributes:
        at: the place of each node now. vertices: of each straight seam, in order.
        remade: curves that are others now, by number.
    """

    def __init__(self, strands: Sequence[Strand], network: Network, sides: Sequence[Sequence[Point]]) -> None:
        """Begin with the drawing as it is.

        Args:
            sides: of the outline, if its corners may move.
        """
        self.strands, self.network, self.sides = strands, network, sides
        self.at = list(network.nodes)
        self.remade: dict[int, Strand] = {}
        self.vertices = [
            [Vertex(s.node, s.corner, s.at) for s in stops if s.corner is not None] for stops in network.along
        ]
        self._busy: set[int] = set()
        self._sharing: set[_Carrier] = set()
        self._images: dict[Point, Point] | None = None
        lines = self._lines_through()
        for k, stops in enumerate(network.along):
            for stop in stops:
                if stop.corner is None and lines.get(stop.node, 0) > 2:
                    self._busy.add(stop.node)
                    if strands[k].straight:
                        self.bend(k, stop)

    def moved(self, node: int) -> bool:
        """Whether a node lies elsewhere than it did."""
        return self.at[node] != self.network.nodes[node]

    def bend(self, k: int, stop: Stop) -> None:
        """Let a straight seam bend where it only ran through."""
        if all(v.node != stop.node or abs(v.at - stop.at) > 1e-9 for v in self.vertices[k]):
            self.vertices[k] = sorted([*self.vertices[k], Vertex(stop.node, None, stop.at)], key=lambda v: v.at)

    def place(self, k: int, vertex: Vertex) -> Point:
        """Where a point of a straight seam lies now; one that stays does so to the last figure."""
        return self.at[vertex.node] if self.moved(vertex.node) else self._was(k, vertex)

    def curve(self, k: int) -> Strand:
        """A curve as it is now."""
        strand = self.strands[k]
        first, last = (self.network.along[k][j].node for j in (0, -1))
        strand = self.remade.get(k, strand)
        if not (self.moved(first) or self.moved(last)):
            return strand
        old, new = strand.ends, (self.at[first], self.at[last])
        new = tuple(n if self.moved(node) else o for o, n, node in zip(old, new, (first, last), strict=True))  # type: ignore[assignment]
        return Strand(strand.kind, (new[0], *(similar(p, old, new) for p in strand.points[1:-1]), new[1]))

    def image(self, point: Point) -> Point:
        """Where a corner of a patch lies now: a node, or a place on a curve."""
        if self._images is None:
            self._images = dict(zip(self.network.nodes, self.at, strict=True))
            for k, flat in enumerate(self.network.flats):
                if not self.network.straight[k] and (new := self.curve(k)) != self.strands[k]:
                    self._images |= alongside(flat, new.flat()) | self._images
        return self._images.get(point, point)

    def settle(self, node: int, to: Point) -> None:
        """Move a node, and all that must follow."""
        self.at[node] = to
        self._sharing = set()
        carried = {n: c for n, c in self._carried().items() if n != node and n not in self._busy}
        standing: dict[_Carrier, list[int]] = {}
        for n in self._ends():
            for carrier, _ in carried.get(n, ()):
                standing.setdefault(carrier, []).append(n)
        for _ in range(MOST_ROUNDS):
            farthest = 0.0
            for n, carriers in carried.items():
                new = self._carried_to(n, carriers, standing)
                farthest = max(farthest, math.dist(new, self.at[n]))
                self.at[n] = new
            if farthest <= SETTLED_IN:
                return

    def _lines_through(self) -> dict[int, int]:
        """Of each node how many different lines run through it without a bend."""
        ways: dict[int, list[float]] = {}
        for k, stops in enumerate(self.network.along):
            for stop in stops:
                if stop.corner is None:
                    a, b = self._piece(self.network.flats[k], stop)
                    angle = math.atan2(b[1] - a[1], b[0] - a[0])
                    known = ways.setdefault(stop.node, [])
                    if all(abs(math.sin(angle - other)) > SAME_WAY for other in known):
                        known.append(angle)
        return {node: len(known) for node, known in ways.items()}

    def _piece(self, flat: Sequence[Point], stop: Stop) -> Segment:
        """The straight piece of a seam that a position lies on."""
        reach = 0.0
        for a, b in pairwise(flat):
            reach += math.dist(a, b)
            if reach >= stop.at - 1e-9:
                return a, b
        return flat[-2], flat[-1]

    def _ends(self) -> list[int]:
        """The nodes in which seams end or bend."""
        return sorted({stop.node for stops in self.network.along for stop in stops if stop.corner is not None})

    def _carried(self) -> dict[int, list[tuple[_Carrier, float]]]:
        """Of each node that lies on something what it lies on, and at which share of the way."""
        found: dict[int, list[tuple[_Carrier, float]]] = {}
        for k, stops in enumerate(self.network.along):
            for stop in stops:
                if stop.corner is not None:
                    continue
                if not self.strands[k].straight:
                    carrier = _Carrier(stops[0].node, stops[-1].node, self.strands[k].ends, k, bowed=True)
                    found.setdefault(stop.node, []).append((carrier, stop.at / stops[-1].at))
                    continue
                vertices = self.vertices[k]
                if any(v.node == stop.node and abs(v.at - stop.at) <= 1e-9 for v in vertices):
                    continue
                index = min(max(bisect([v.at for v in vertices], stop.at), 1), len(vertices) - 1)
                before, after = vertices[index - 1], vertices[index]
                old = self._was(k, before), self._was(k, after)
                share = (stop.at - before.at) / (after.at - before.at)
                carrier = _Carrier(before.node, after.node, old, k, bowed=False)
                found.setdefault(stop.node, []).append((carrier, share))
        for k, stops in enumerate(self.network.sides) if self.sides else ():
            flat = self.network.side_flats[k]
            for stop in stops[1:-1]:
                carrier = _Carrier(stops[0].node, stops[-1].node, (flat[0], flat[-1]), None, bowed=len(flat) > 2)
                found.setdefault(stop.node, []).insert(0, (carrier, stop.at / stops[-1].at))
        return found

    def _was(self, k: int, vertex: Vertex) -> Point:
        """Where a point of a straight seam lay."""
        points = self.strands[k].points
        if vertex.corner is not None:
            return points[vertex.corner]
        return at_share(points, vertex.at / self.network.along[k][-1].at)

    def _now(self, carrier: _Carrier) -> Segment:
        """The ends of what carries others."""
        a, b = (
            self.at[node] if self.moved(node) else old
            for node, old in zip((carrier.start, carrier.end), carrier.old, strict=True)
        )
        return a, b

    def _stays(self, carrier: _Carrier, standing: Sequence[int]) -> bool:
        """Whether all that ends on something lies on it as before, and so stays; else it goes along by its shares.

        It never is so again once it was not: what goes to and fro would come to no rest.
        """
        if carrier.seam in self.remade or carrier in self._sharing:
            return False
        new = self._now(carrier)
        if new == carrier.old:
            return True
        if not carrier.bowed and all(
            math.dist(at, nearest(at, new)) <= math.dist(at, nearest(at, carrier.old)) + SAME_IN
            for at in (self.network.nodes[n] for n in standing)
        ):
            return True
        self._sharing.add(carrier)
        return False

    def _carried_to(
        self, node: int, carriers: Sequence[tuple[_Carrier, float]], standing: Mapping[_Carrier, Sequence[int]]
    ) -> Point:
        moving = [(c, share) for c, share in carriers if not self._stays(c, standing.get(c, ()))]
        if not moving:
            return self.network.nodes[node]
        first, share = moving[0]
        place = self._share_of(node, first, share)
        if first.seam is None:
            return place
        others = [c for c, _ in carriers if c is not first and c.seam is not None]
        for other in others:
            if not first.bowed and not other.bowed and (at := _met(self._now(first), self._now(other))):
                return at
        # A seam that bends elsewhere may be crossed on another of its pieces, a curve on any.
        run = self._run(first.seam)
        crossings = [
            at for other in others if other.seam is not None for at in _crossings(run, self._run(other.seam))
        ]
        return min(crossings, key=lambda at: math.dist(at, place), default=place)

    def _run(self, k: int) -> tuple[Point, ...]:
        """The points along a seam, straight between them."""
        if self.strands[k].straight:
            return tuple(self.place(k, v) for v in self.vertices[k])
        return _flat(self.curve(k))

    def _share_of(self, node: int, carrier: _Carrier, share: float) -> Point:
        """The place at the same share of what carries a node."""
        if carrier.seam in self.remade and carrier.seam is not None:
            return at_share(self.curve(carrier.seam).flat(), share)
        (ax, ay), (bx, by) = new = self._now(carrier)
        if carrier.bowed or carrier.seam is None:
            return similar(self.network.nodes[node], carrier.old, new)
        return ax + share * (bx - ax), ay + share * (by - ay)


@lru_cache(maxsize=64)
def _flat(strand: Strand) -> tuple[Point, ...]:
    # What is at rest is asked for again in every round.
    return strand.flat()


def _crossings(one: Sequence[Point], other: Sequence[Point]) -> list[Point]:
    """Where two lines through points cross."""
    import shapely

    shared = shapely.LineString(one).intersection(shapely.LineString(other))
    return [(x, y) for x, y in shapely.get_coordinates(shared).tolist()]


def _met(one: Segment, other: Segment) -> Point | None:
    """Where two segments cross or touch."""
    if one[0] == one[1] or other[0] == other[1]:
        return None
    at = crossing(*one, *other)
    return at if at is not None and all(on_segment(at, segment, 1e-9) for segment in (one, other)) else None
