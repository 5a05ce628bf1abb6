"""The canonical walk over a block, or over some of its patches: the same for every copy of a drawing.

Knows:  the walk that rotated, mirrored, moved, scaled, shuffled and split copies share, and with which symmetries a
        shape maps on to itself.
Leaves: the numbers that follow from it (twin), which sections are alike (alike).
Method: from every corner of the outline, in either hand, the patches are walked breadth first. A walk lists the
        sides of each patch in turn, and for each side the number of the same side seen from its neighbour; then
        for each side into which one its line runs on. All walks are taken side by side, and only those with the
        smallest list go on. So the walk follows from how the patches hang together. Lengths enter only between
        walks that tie: place for place, a value counts as larger if it is so by a gap, and nothing is rounded. Then
        fabrics. What ties even then are the symmetries of the drawing, and the outline's highest, then leftmost
        corner settles those, in the anticlockwise hand first: there the first seam met is the one that parts off
        the top row.
Limits: noise must stay well below the gap of lengths. Walks take time in proportion to the sides, once for each
        corner and hand that is still in the running; on a drawing without symmetry all but one stop soon.

A point at which nothing happens but that a line runs on is no point here: a line drawn in pieces is one line.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from itertools import pairwise
from typing import TypeVar

from seamwright.block.model import Block
from seamwright.geometry import Point, centroid, levels, signed_area
from seamwright.piecing.shapes import ANGLE_SLACK_DEG

_T = TypeVar("_T")
GAP_IN = 0.003
"""Lengths that differ by less are one length. Files round to 0.01 mm (0.0004 in), so lengths in them are off by up
to 0.0008 in; what is drawn to differ does so by 1/64 in (0.0156 in) or more. No length on purpose lies between."""
SMOOTH_DEG = 10.0
"""Curves that turn by less where they meet run on into each other: their pieces are chords, each a small turn."""
BORDER = -1
"""In a list: no patch of the region lies on the other side."""
APART = -2
"""In a list: here begins what hangs together with the rest by no line."""


@dataclass(frozen=True, slots=True)
class Walk:
    """One canonical walk over a region.

    Attributes:
        mirrored: whether it goes anticlockwise round each patch.
        points, patches, edges: numbers in the block, in the order in which the walk meets them; of the points those
            at which nothing happens come last.
    """

    mirrored: bool
    points: tuple[int, ...]
    patches: tuple[int, ...]
    edges: tuple[int, ...]


@dataclass(frozen=True, slots=True)
class Shape:
    """A region up to moving, turning and mirroring it.

    Two regions are congruent if their codes are equal, their sizes agree place for place to GAP_IN, and (where that
    matters) their fabrics are equal. Then any walk of one matches any walk of the other, point for point and patch
    for patch; two walks of one hand say that turning is enough, two of different hands that one is a mirror image.

    Attributes:
        code: how its patches hang together.
        sizes: lengths (inches; for the area beside a curve square inches) that fix its shape.
        fabrics: name of each patch's fabric in walking order, "" for none.
        walks: all canonical walks, one for each symmetry; the first is the one that position settles on.
    """

    code: tuple[int, ...]
    sizes: tuple[float, ...]
    fabrics: tuple[str, ...]
    walks: tuple[Walk, ...]


class Walks:
    """What canonical walks over one block look things up in.

    A side is an edge as seen from the patch that lies on the right hand of someone who walks along it, so clockwise
    round that patch: side 2 e of edge e runs from its start to its end, side 2 e + 1 back.
    """

    def __init__(self, block: Block) -> None:
        self.block = block
        self.begins = [p for edge in block.edges for p in (edge.start, edge.end)]  # clockwise round its patch
        self.patch = [p for edge in block.edges for p in (edge.right, edge.left)]
        self.curved = bytearray(bool(edge.via) for edge in block.edges)
        self.onward = [-1] * (2 * len(block.edges))  # the side that a line runs on into at a side's end
        for seam in block.seams:
            sides = [self._side(*pair) for pair in zip(seam.edges, seam.points, strict=False)]
            for place, (one, two) in enumerate(pairwise(sides), start=1):
                if place not in seam.turns:
                    self.onward[one], self.onward[two ^ 1] = two, one ^ 1
            if len(sides) > 1 and seam.points[0] == seam.points[-1]:
                self._run_on(sides[-1], sides[0])
        border = [self._side(*pair) for pair in zip(block.outline_edges, block.outline, strict=True)]
        for before, after in zip(border[-1:] + border[:-1], border, strict=True):
            self._run_on(before, after)

    def rings(self, patch: int) -> list[list[int]]:
        """The sides of a patch, clockwise: its outer ring, then each of its holes."""
        edges, own = self.block.edges, self.block.patches[patch]
        return [[2 * e + (edges[e].right != patch) for e in ring] for ring in (own.edges, *own.hole_edges)]

    def along(self, side: int) -> tuple[Point, ...]:
        """Coordinates along a side."""
        run = self.block.edge_points(side >> 1)
        return run[::-1] if side & 1 else run

    def shape(self, patches: Iterable[int]) -> Shape:
        """The shape of patches that hang together."""
        region = _Region(self, tuple(patches))
        running = [_Walker(region, side, mirrored) for side, mirrored in region.starts()]
        code: list[int] = []
        steps = {walker: walker.steps() for walker in running}
        while told := {walker: next(steps[walker], ()) for walker in running}:
            best = min(told.values())
            if not best:
                break
            code += best
            running = [walker for walker in running if told[walker] == best]
        lines = {walker: walker.lines() for walker in running}
        code += (best_lines := min(lines.values()))
        running, sizes = _smallest([walker for walker in running if lines[walker] == best_lines])
        fabrics = {walker: walker.fabrics() for walker in running}
        best_fabrics = min(fabrics.values())
        running = [walker for walker in running if fabrics[walker] == best_fabrics]
        running.sort(key=lambda walker: not walker.mirrored)
        across, heights = (levels([self.block.points[w.corner][axis] for w in running], GAP_IN) for axis in (0, 1))
        order = sorted(range(len(running)), key=lambda i: (heights[i], across[i], i))
        return Shape(tuple(code), sizes, best_fabrics, tuple(running[i].walk() for i in order))

    def _side(self, edge: int, point: int) -> int:
        """The side of an edge that begins at one of its points."""
        return 2 * edge + (self.begins[2 * edge] != point)

    def _run_on(self, before: int, after: int) -> None:
        """Let one side run on into the next, if it goes straight (two curves: smoothly) on."""
        (a, b), (c, d) = self.along(before)[-2:], self.along(after)[:2]
        turn = math.degrees(math.atan2(d[1] - c[1], d[0] - c[0]) - math.atan2(b[1] - a[1], b[0] - a[0])) % 360
        both = self.curved[before >> 1] and self.curved[after >> 1]
        if min(turn, 360 - turn) <= (SMOOTH_DEG if both else ANGLE_SLACK_DEG):
            self.onward[before], self.onward[after ^ 1] = after, before ^ 1


class _Region:
    """Some patches of a block, points at which nothing happens left out. A line's number is its first side's.

    Attributes:
        walks, patches: what it is made of.
        sides: for each line its sides in order, clockwise round its patch.
        cycle: for each line the ring of lines it is in, clockwise, and its place there.
        ending: for each side that is a line's last one that line.
        twin: for each line the same line seen from the other patch; BORDER where none of the region is there.
        apart: for each patch that has holes its rings of lines.
    """

    def __init__(self, walks: Walks, patches: tuple[int, ...]) -> None:
        self.walks, self.patches = walks, patches
        self.sides: dict[int, list[int]] = {}
        self.cycle: dict[int, tuple[list[int], int]] = {}
        self.apart: dict[int, list[list[int]]] = {}
        rings = {patch: walks.rings(patch) for patch in patches}
        leave: dict[int, list[int]] = {}
        for edge in dict.fromkeys(side >> 1 for patch in patches for ring in rings[patch] for side in ring):
            for side in (2 * edge, 2 * edge + 1):
                leave.setdefault(walks.begins[side], []).append(side)
        # Two sides leave such a point, and whoever comes by one runs on into the other.
        idle = {p for p, sides in leave.items() if len(sides) == 2 and walks.onward[sides[0] ^ 1] == sides[1]}
        for patch in patches:
            cycles = [self._lines(ring, idle) for ring in rings[patch]]
            if len(cycles) > 1:
                self.apart[patch] = cycles
        self.ending = {sides[-1]: line for line, sides in self.sides.items()}
        self.twin = {line: last ^ 1 for last, line in self.ending.items()}
        for line, twin in self.twin.items():
            if twin not in self.sides:
                self.twin[line] = BORDER

    def _lines(self, ring: list[int], idle: set[int]) -> list[int]:
        begins = self.walks.begins
        stops = [i for i, side in enumerate(ring) if begins[side] not in idle]
        # On a closed curve that nothing touches any point will do, but the same from both its sides.
        stops = stops or [min(range(len(ring)), key=lambda i: begins[ring[i]])]
        cycle: list[int] = []
        for first, last in pairwise([*stops, stops[0] + len(ring)]):
            sides = [ring[i % len(ring)] for i in range(first, last)]
            self.sides[sides[0]] = sides
            self.cycle[sides[0]] = (cycle, len(cycle))
            cycle.append(sides[0])
        return cycle

    def starts(self) -> list[tuple[int, bool]]:
        """(line, mirrored) of every walk: from each corner of the border, or else from each end of a line on it."""
        border = [line for line, twin in self.twin.items() if twin == BORDER]
        pairs = [(self._before(line), line) for line in border]
        corners = [(p, line) for p, line in pairs if self.walks.onward[self.sides[p][-1]] != line] or pairs
        return [start for before, line in corners for start in ((line, False), (before, True))]

    def _before(self, line: int) -> int:
        """The line of the border that ends where this one begins: round the point from patch to patch."""
        while True:
            cycle, place = self.cycle[line]
            line = cycle[place - 1]
            if self.twin[line] == BORDER:
                return line
            line = self.twin[line]


class _Walker:
    """One walk over a region, from a corner in one hand.

    Attributes:
        corner: the point it starts from.
        order: the lines in the order in which they are met; number: the place of each in it.
        firsts: places in `order` at which the ring of a patch begins.
    """

    def __init__(self, region: _Region, line: int, mirrored: bool) -> None:
        self.region, self.mirrored = region, mirrored
        self.corner = self._begin(line)
        self.order: list[int] = []
        self.number: dict[int, int] = {}
        self.firsts: list[int] = []
        self._enter(line)

    def steps(self) -> Iterator[list[int]]:
        """What it lists, ring by ring."""
        region, done = self.region, 0
        while done < len(self.firsts):
            listed: list[int] = []
            start = self.firsts[done]
            done += 1
            end = self.firsts[done] if done < len(self.firsts) else len(self.order)
            for line in self.order[start:end]:
                twin = region.twin[line]
                if twin == BORDER:
                    listed.append(BORDER)
                else:
                    if twin not in self.number:
                        self._enter(twin)
                    listed.append(self.number[twin])
            if done == len(self.firsts) and (apart := self._next_apart()) is not None:
                listed.append(APART)
                self._enter(apart)
            yield listed

    def lines(self) -> list[int]:
        """For each line the number of the one that it runs on into, and whether it is a curve."""
        found, region = [], self.region
        onward, curved = region.walks.onward, region.walks.curved
        for line in self.order:
            sides = region.sides[line]
            if self.mirrored:
                # Walked the other way: what runs on from its first side's beginning, with the patch on the left.
                back = onward[sides[0] ^ 1]
                after = region.ending.get(back ^ 1, BORDER) if back >= 0 else BORDER
            else:
                after = onward[sides[-1]]
            found.append(2 * self.number.get(after, BORDER) + curved[line >> 1])
        return found

    def sizes(self) -> Iterator[float]:
        """Lengths that fix the shape of the region: those of all lines, and those from one corner of each ring."""
        at, walks = self.region.walks.block.points, self.region.walks
        for first, end in pairwise([*self.firsts, len(self.order)]):
            ring = self.order[first:end]
            points = [at[self._begin(line)] for line in ring]
            for p, q in zip(points, points[1:] + points[:1], strict=True):
                yield math.dist(p, q)
            for p in points[2:-1]:
                yield math.dist(points[0], p)
            for line in ring:
                if walks.curved[line >> 1]:
                    run = [p for side in self.region.sides[line] for p in walks.along(side)]
                    yield sum(math.dist(p, q) for p, q in pairwise(run))
                    # Seen clockwise: a bulge outwards is the same in both hands.
                    yield signed_area(run)
        for first in self.firsts[1:] if self.region.apart else ():
            yield from self._from_corner(self._begin(self.order[first]))
        if walks.block.pre_pieced:
            yield from self._parts()

    def _parts(self) -> Iterator[float]:
        """Lengths that fix the parts of patches pieced beforehand: where each has its middle, how large it is."""
        block = self.region.walks.block
        for patch in self._patches():
            parts = block.parts_of(patch)
            for name in sorted({part.fabric or "" for part in parts}):
                rings = [part.ring for part in parts if (part.fabric or "") == name]
                seen = [self._seen_from_corner(centroid(ring)) for ring in rings]
                # Each in order of size by itself: parts of one fabric have no other order.
                yield from sorted(along for along, _ in seen)
                yield from sorted(into for _, into in seen)
                yield from sorted(math.sqrt(abs(signed_area(ring))) for ring in rings)

    def fabrics(self) -> tuple[str, ...]:
        """Names of the patches' fabrics; of those pieced beforehand with as many marks as there are parts."""
        block = self.region.walks.block
        return tuple((block.patches[p].fabric or "") + "+" * len(block.parts_of(p)) for p in self._patches())

    def walk(self) -> Walk:
        """What it has met."""
        region, begins = self.region, self.region.walks.begins
        points = dict.fromkeys(map(self._begin, self.order))
        edges: dict[int, None] = {}
        for line in self.order:
            sides = region.sides[line]
            for side in reversed(sides) if self.mirrored else sides:
                edges[side >> 1] = None
        for edge in edges:
            points[begins[2 * edge]] = points[begins[2 * edge + 1]] = None
        return Walk(self.mirrored, tuple(points), self._patches(), tuple(edges))

    def _patches(self) -> tuple[int, ...]:
        patch = self.region.walks.patch
        return tuple(dict.fromkeys(patch[self.order[first]] for first in self.firsts))

    def _begin(self, line: int) -> int:
        """The point at which it meets a line first."""
        sides, begins = self.region.sides[line], self.region.walks.begins
        return begins[sides[-1] ^ 1] if self.mirrored else begins[sides[0]]

    def _enter(self, line: int) -> None:
        """Number the lines of a ring from one of them on."""
        cycle, place = self.region.cycle[line]
        ring = cycle[place:] + cycle[:place]
        if self.mirrored:
            ring = ring[:1] + ring[:0:-1]
        self.firsts.append(len(self.order))
        for met in ring:
            self.number[met] = len(self.order)
            self.order.append(met)

    def _next_apart(self) -> int | None:
        """Where to go on when all that hangs together is met: a ring in a patch that was met, or None."""
        for patch in self._patches() if self.region.apart else ():
            rings = [ring for ring in self.region.apart.get(patch, ()) if ring[0] not in self.number]
            lines = [line for ring in rings for line in ring]
            for step in (0, 1):
                for axis in (1, 0):
                    places = {line: self._from_corner(self._begin(self._after(line, step)))[axis] for line in lines}
                    lines = _least(places)
            if lines:
                return lines[0]
        return None

    def _after(self, line: int, steps: int) -> int:
        """The line that many places further in its ring, in this hand."""
        cycle, place = self.region.cycle[line]
        return cycle[(place + (-steps if self.mirrored else steps)) % len(cycle)]

    def _from_corner(self, point: int) -> Point:
        """A point of the block as seen from the corner."""
        return self._seen_from_corner(self.region.walks.block.points[point])

    def _seen_from_corner(self, place: Point) -> Point:
        """A place as seen from the corner: how far along the first line, and how far into the region."""
        at = self.region.walks.block.points
        ox, oy = at[self.corner]
        ahead = next((at[p] for p in map(self._begin, self.order) if at[p] != (ox, oy)), (ox + 1, oy))
        ux, uy = ahead[0] - ox, ahead[1] - oy
        vx, vy = place[0] - ox, place[1] - oy
        length = math.hypot(ux, uy)
        into = (ux * vy - uy * vx) / length
        return ((ux * vx + uy * vy) / length, -into if self.mirrored else into)


def _smallest(running: list[_Walker]) -> tuple[list[_Walker], tuple[float, ...]]:
    """The walks with the smallest sizes, place for place, and these sizes."""
    streams = {walker: walker.sizes() for walker in running}
    sizes: list[float] = []
    while True:
        told = {walker: size for walker in running if (size := next(streams[walker], None)) is not None}
        if not told:
            return running, tuple(sizes)
        running = _least(told) if len(told) > 1 else running
        sizes.append(told[running[0]])


def _least(values: dict[_T, float]) -> list[_T]:
    """The keys of the least values: from the least one up to the first gap."""
    ranked = sorted(values, key=values.__getitem__)
    for count, (one, other) in enumerate(pairwise(ranked), start=1):
        if values[other] - values[one] > GAP_IN:
            ranked = ranked[:count]
            break
    kept = set(ranked)
    return [key for key in values if key in kept]
