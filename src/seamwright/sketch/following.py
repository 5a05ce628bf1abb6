"""What follows when a point of a drawing moves: ends on moved seams, curves, crossings that others share.

Knows:  which points lie on which seams, and where they come to lie when these move.
Leaves: which point moves and where to (move).
Units:  inches of the finished block.
Method: an end on a moved seam keeps its share of that seam's length; where two seams run through a point in which
        others end, it stays their crossing. Where three or more run through it stays where it is, and what moves
        bends in it, for three straight lines moved one by one share no point any more. Seams may end on each other
        round and round, so places are found anew until none moves any further.
"""

from __future__ import annotations

import math
from bisect import bisect
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise

from seamwright.geometry import Point, Segment, off_line
from seamwright.sketch.draft import SAME_IN
from seamwright.sketch.network import Network, Stop, crossing, on_segment
from seamwright.sketch.strand import Strand

MOST_ROUNDS = 1000
SETTLED_IN = 1e-12
MOST_POINTS = 5000
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
    """A straight piece or a curve that a point lies on: between two nodes, at a share of the way."""

    start: int
    end: int
    share: float
    curve: int | None = None
    edge: bool = False


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
                    self._images |= _alongside(flat, new.flat()) | self._images
        return self._images.get(point, point)

    def settle(self, node: int, to: Point) -> None:
        """Move a node, and all that must follow."""
        self.at[node] = to
        carried = {n: c for n, c in self._carried().items() if n != node and n not in self._busy}
        for _ in range(MOST_ROUNDS):
            farthest = 0.0
            for n, carriers in carried.items():
                new = self._carried_to(n, carriers)
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

    def _carried(self) -> dict[int, list[_Carrier]]:
        """Of each node that lies on something what it lies on."""
        found: dict[int, list[_Carrier]] = {}
        for k, stops in enumerate(self.network.along):
            for stop in stops:
                if stop.corner is not None:
                    continue
                if not self.strands[k].straight:
                    first, last = stops[0], stops[-1]
                    share = stop.at / last.at
                    found.setdefault(stop.node, []).append(_Carrier(first.node, last.node, share, curve=k))
                    continue
                if any(v.node == stop.node and abs(v.at - stop.at) <= 1e-9 for v in self.vertices[k]):
                    continue
                vertices = self.vertices[k]
                index = min(max(bisect([v.at for v in vertices], stop.at), 1), len(vertices) - 1)
                before, after = vertices[index - 1], vertices[index]
                share = (stop.at - before.at) / (after.at - before.at)
                found.setdefault(stop.node, []).append(_Carrier(before.node, after.node, share))
        for stops in self.network.sides if self.sides else ():
            for stop in stops[1:-1]:
                carrier = _Carrier(stops[0].node, stops[-1].node, stop.at / stops[-1].at, edge=True)
                found.setdefault(stop.node, []).insert(0, carrier)
        return found

    def _carried_to(self, node: int, carriers: Sequence[_Carrier]) -> Point:
        changed = [c for c in carriers if self.moved(c.start) or self.moved(c.end) or c.curve in self.remade]
        if not changed:
            return self.network.nodes[node]
        first = changed[0]
        if first.edge or first.curve is not None:
            return self._share_of(node, first)
        straight = [c for c in carriers if c.curve is None]
        for other in straight:
            if other is first:
                continue
            a, b, c, d = (self.at[n] for n in (first.start, first.end, other.start, other.end))
            if a == b or c == d:
                continue
            at = crossing(a, b, c, d)
            if at is not None and on_segment(at, (a, b), 1e-9) and on_segment(at, (c, d), 1e-9):
                return at
        return self._share_of(node, first)

    def _share_of(self, node: int, carrier: _Carrier) -> Point:
        """The place at the same share of what carries a node."""
        old = self.network.nodes[carrier.start], self.network.nodes[carrier.end]
        new = self.at[carrier.start], self.at[carrier.end]
        if carrier.curve is not None and carrier.curve in self.remade:
            return at_share(self.curve(carrier.curve).flat(), carrier.share)
        if carrier.curve is not None or carrier.edge:
            return similar(self.network.nodes[node], old, new)
        (ax, ay), (bx, by) = new
        return ax + carrier.share * (bx - ax), ay + carrier.share * (by - ay)


def similar(point: Point, old: Segment, new: Segment) -> Point:
    """The image of a point when two others move: turned and grown with them, or carried along if they are one."""
    a, b, c, d = (complex(*p) for p in (*old, *new))
    z = complex(*point)
    image = z - a + c if abs(b - a) <= 1e-9 else (z - a) * ((d - c) / (b - a)) + c
    return image.real, image.imag


def at_share(flat: Sequence[Point], share: float) -> Point:
    """The place at a share of the length of a line through points."""
    left = share * math.fsum(math.dist(a, b) for a, b in pairwise(flat))
    for a, b in pairwise(flat):
        length = math.dist(a, b)
        if length and left <= length:
            return a[0] + left / length * (b[0] - a[0]), a[1] + left / length * (b[1] - a[1])
        left -= length
    return flat[-1]


def _alongside(flat: Sequence[Point], new: Sequence[Point]) -> dict[Point, Point]:
    """For each point of a curve the one at the same share of the length of another."""
    reach, images, k, at = 0.0, {}, 0, 0.0
    whole, other = (math.fsum(math.dist(a, b) for a, b in pairwise(line)) for line in (flat, new))
    for a, b in pairwise(flat):
        reach += math.dist(a, b)
        goal = reach / whole * other
        while k < len(new) - 2 and at + math.dist(new[k], new[k + 1]) < goal:
            at += math.dist(new[k], new[k + 1])
            k += 1
        length = math.dist(new[k], new[k + 1])
        share = min((goal - at) / length, 1.0) if length else 0.0
        images[b] = tuple(c + share * (d - c) for c, d in zip(new[k], new[k + 1], strict=True))
    return images  # type: ignore[return-value]


def through(strand: Strand, at: float, old: Point, new: Point) -> Strand:
    """A curve between the same ends that runs through another place than at a position so far.

    An arc becomes that of the circle through the new place, or straight. A bending curve is pulled: at parameter t
    a move of its inner points by d moves the curve by 2 t (1 - t) d with one of them, by 3 t (1 - t) d with two
    (its Bernstein weights). Of a curve through many points each goes along by its share.
    """
    points = strand.points
    dx, dy = new[0] - old[0], new[1] - old[1]
    if strand.kind == "arc":
        straight = points[0] == points[2] or abs(off_line(new, points[0], points[2])) <= SAME_IN
        arc = Strand("arc", (points[0], new, points[2]))
        # One that would have to go all round a huge circle is a slip, too.
        return Strand("seam", points[::2]) if straight or len(arc.flat()) > MOST_POINTS else arc
    flat = strand.flat()
    whole = math.fsum(math.dist(a, b) for a, b in pairwise(flat))
    if strand.kind == "bending":
        t = strand.parameter(old, at / whole)
        weight = max((len(points) - 1) * t * (1 - t), 0.02)
        inner = [(x + dx / weight, y + dy / weight) for x, y in points[1:-1]]
        return Strand("bending", (points[0], *inner, points[-1]))
    share = at / whole
    moved, reach = [points[0]], 0.0
    for a, b in pairwise(points):
        reach += math.dist(a, b)
        s = reach / whole
        w = s * (1 - s) / (share * (1 - share))
        moved.append((b[0] + w * dx, b[1] + w * dy))
    return Strand("curve", (*moved[:-1], points[-1]))
