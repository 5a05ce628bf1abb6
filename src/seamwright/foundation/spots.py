"""Where joins are marked: what must meet what when two parts are pinned together.

Knows:  the points of a join at which seams of both sides meet, at which a tip touches, and the parts of long and of
        curved joins.
Leaves: ticks on the sections that lie there (marks).
Units:  inches, front view.
Method: a seam that arrives from one side only has nothing to meet and gets no mark, unless a part of a long or
        curved join is near: then it is marked in its stead, since an eye finds a seam sooner than a bare place.
        Where a join turns there is no mark: ticks of the two legs would not meet, and the dot is pinned through.
"""

from __future__ import annotations

import math
from bisect import bisect_right
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from enum import IntEnum
from itertools import accumulate, chain, pairwise

from seamwright.block.model import Block
from seamwright.foundation.border import section_of_patch
from seamwright.geometry import Point
from seamwright.piecing.model import Plan, Section
from seamwright.piecing.turns import join_edges

LONG_IN = 6.0
"""A straight join is marked so often that no part is longer: pins stand 2 to 3 in apart (common practice, from
memory), so a mark at every second or third pin keeps long edges from creeping past each other."""
CURVE_PARTS, LEAST_CURVE_PART_IN, LONG_CURVE_PART_IN = 4, 0.75, 4.0
"""A curve is pinned at its quarters (common practice); a short one at its middle, a long one at more places."""
SNAP_IN = 0.75, 0.375
"""A seam as near as this to a part of a straight join, or of a curve, is marked in its stead."""
PAIR_IN = 1 / 8
"""Two ticks this far apart tell one end of a curve from the other, as double notches do on patterns (common
practice): so it cannot be pinned the wrong way round."""
_NEAR_SHARE = 1 / 3
"""A part of a curve needs no mark of its own if another mark is nearer than this share of the part."""
_EVEN_IN = 1 / 4
"""Marks that lie this evenly look the same from both ends."""
BEND_COSINE = 0.65
"""Where a leg turns by more than about 49 degrees it has a corner, and no direction of its own."""


class Weight(IntEnum):
    """Why a place is marked, the most needed first."""

    MEET = 0
    TIP = 1
    CURVE = 2
    LONG = 3


@dataclass(frozen=True, slots=True)
class Tick:
    """A place on the border of a patch: its foot on the stitch line, and the unit direction away from the patch."""

    patch: int
    foot: Point
    out: Point


@dataclass(frozen=True, slots=True)
class Spot:
    """One place of a join, or a pair of places close together, with the ticks of both sides."""

    weight: Weight
    ticks: tuple[Tick, ...]


def mark_spots(plan: Plan) -> Iterator[Spot]:
    """Every place at which a join is marked, in sewing order and along each join."""
    return chain.from_iterable(join_spots(plan))


def join_spots(plan: Plan) -> Iterator[tuple[Spot, ...]]:
    """For each join in sewing order the places at which it is marked, along it."""
    block, sections = plan.block, section_of_patch(plan)
    arriving: list[list[int]] = [[] for _ in block.points]
    for number, edge in enumerate(block.edges):
        for point in {edge.start, edge.end}:
            arriving[point].append(number)
    parts = {section.name: frozenset(section.patches) for section in plan.sections}
    for join, edges in zip(plan.joins, join_edges(plan), strict=True):
        sides = (parts[join.first], parts[join.second])
        parts[join.makes] = sides[0] | sides[1]
        stops = [0, *(join.seam.index(turn) for turn in join.turns), len(edges)]
        found: list[Spot] = []
        for first, last in pairwise(stops):
            leg = _leg(block, join.seam[first:last], edges[first:last])
            inner = join.seam[first + 1 : last]
            counts = [_seams_from(block, arriving[point], sides) for point in inner]
            found += _spots(leg, counts, sections, plan.options.seam_allowance_in)
        yield tuple(found)


def _seams_from(block: Block, around: Sequence[int], sides: Sequence[frozenset[int]]) -> tuple[int, ...]:
    """How many of the edges round a point lie inside each of two parts."""
    ends = [(block.edges[number].left, block.edges[number].right) for number in around]
    return tuple(sum(left in side and right in side for left, right in ends) for side in sides)


@dataclass(frozen=True, slots=True)
class _Leg:
    """A join, or what lies of it between two turns, walked one way.

    Attributes:
        points: coordinates along it.
        sides: patches on the walker's left and right hand along each piece from one of these to the next.
        stops: places in `points` of the points of the block, both ends included.
        at: how far along it each of `points` lies. curved: whether any of it is.
    """

    points: tuple[Point, ...]
    sides: tuple[tuple[int, int], ...]
    stops: tuple[int, ...]
    at: tuple[float, ...]
    curved: bool

    def at_point(self, place: int) -> tuple[Tick, ...]:
        """The ticks at an inner one of `points`, of the patches along both pieces; () where the leg bends there."""
        one, two = self._ahead(place - 1), self._ahead(place)
        if one[0] * two[0] + one[1] * two[1] < BEND_COSINE:
            return ()
        # The pieces of a curve are chords: the ticks of both sides share the direction between them.
        ahead = _unit((0.0, 0.0), (one[0] + two[0], one[1] + two[1]))
        sides = dict.fromkeys(self.sides[place - 1 : place + 1])
        return tuple(tick for pair in sides for tick in _ticks(pair, self.points[place], ahead))

    def at_length(self, length: float, allowance: float) -> tuple[Tick, ...]:
        """The ticks anywhere along the leg but at its ends.

        Where chords of a curve meet, offsets of the hollow side run over one another and those of the other do not:
        a tick that would stand so near stands where they meet, and reaches both trim lines in one length.
        """
        place = min(bisect_right(self.at, length), len(self.sides)) - 1
        nearest = place if 2 * length < self.at[place] + self.at[place + 1] else place + 1
        if 0 < nearest < len(self.sides):
            one, two = self._ahead(nearest - 1), self._ahead(nearest)
            half_turn = abs(one[0] * two[1] - one[1] * two[0]) / (1 + one[0] * two[0] + one[1] * two[1])
            if abs(length - self.at[nearest]) <= allowance * half_turn:
                return self.at_point(nearest)
        (x, y), (u, v), rest = self.points[place], self._ahead(place), length - self.at[place]
        return tuple(_ticks(self.sides[place], (x + rest * u, y + rest * v), (u, v)))

    def _ahead(self, place: int) -> Point:
        return _unit(self.points[place], self.points[place + 1])


def _leg(block: Block, points: Sequence[int], edges: Sequence[int]) -> _Leg:
    """The leg along `edges`, each entered at the point of the same place in `points`."""
    run, sides, stops = [block.points[points[0]]], [], [0]
    for start, number in zip(points, edges, strict=True):
        edge, along = block.edges[number], block.edge_points(number)
        ahead = edge.start == start
        run += along[1:] if ahead else along[-2::-1]
        sides += [(edge.left, edge.right) if ahead else (edge.right, edge.left)] * (len(along) - 1)
        stops.append(len(sides))
    at = accumulate((math.dist(a, b) for a, b in pairwise(run)), initial=0.0)
    return _Leg(tuple(run), tuple(sides), tuple(stops), tuple(at), any(block.edges[n].via for n in edges))


def _spots(
    leg: _Leg, counts: Sequence[tuple[int, ...]], sections: Mapping[int, Section], allowance: float
) -> Iterator[Spot]:
    """The marked places of a leg; `counts`: how many seams arrive at each inner point from each side."""
    ticks = {place: leg.at_point(place) for place in leg.stops[1:-1]}
    marked: dict[float, Weight] = {}
    single: list[int] = []
    for place, (one, two) in zip(ticks, counts, strict=True):
        if not ticks[place]:
            continue
        if (one and two) or max(one, two) > 1:
            weight = Weight.MEET if one and two else Weight.TIP
            marked[leg.at[place]] = weight
            yield Spot(weight, ticks[place])
        elif one or two:
            single.append(place)
    snap = SNAP_IN[leg.curved]
    weight = Weight.CURVE if leg.curved else Weight.LONG
    bare: list[float] = []
    for wanted in _parts(leg, sorted(marked)):
        near = min(single, key=lambda place: abs(leg.at[place] - wanted), default=None)
        if near is None or abs(leg.at[near] - wanted) > snap:
            bare.append(wanted)
        elif leg.at[near] not in marked:
            marked[leg.at[near]] = weight
            yield Spot(weight, ticks[near])
    pair = _paired(leg, bare, [*bare, *marked], sections) if leg.curved else None
    for wanted in bare:
        places = (wanted - PAIR_IN / 2, wanted + PAIR_IN / 2) if wanted == pair else (wanted,)
        yield Spot(weight, tuple(tick for place in places for tick in leg.at_length(place, allowance)))


def _parts(leg: _Leg, marked: Sequence[float]) -> list[float]:
    """Where a leg is parted, so that no part is long."""
    length = leg.at[-1]
    if leg.curved:
        parts = CURVE_PARTS
        while length / parts > LONG_CURVE_PART_IN:
            parts *= 2
        while parts > 1 and length / parts < LEAST_CURVE_PART_IN:
            parts //= 2
        wanted = [length * k / parts for k in range(1, parts)]
        near = _NEAR_SHARE * length / parts
        return [place for place in wanted if all(abs(place - other) > near for other in marked)]
    found: list[float] = []
    for a, b in pairwise([0.0, *marked, length]):
        parts = math.ceil((b - a) / LONG_IN - 1e-6)
        found += [a + (b - a) * k / parts for k in range(1, parts)]
    return found


def _paired(
    leg: _Leg, bare: Sequence[float], marked: Sequence[float], sections: Mapping[int, Section]
) -> float | None:
    """The bare place of a curve that becomes a pair, where all its marks look the same from both ends.

    It is the first for a walker who has the section of the earlier letter on the right hand: so at all places of a
    print it is the same.
    """
    length = leg.at[-1]
    if any(min(abs(length - place - other) for other in marked) > _EVEN_IN for place in marked):
        return None
    apart = [place for place in bare if abs(place - length / 2) > _EVEN_IN]
    letters = [
        (len(section.print), section.print, section.reversed, hand)
        for pair in leg.sides
        for hand, section in enumerate(sections[patch] for patch in pair)
    ]
    ahead = min(letters)[-1] == 1
    return (apart[0] if ahead else apart[-1]) if apart else None


def _ticks(sides: tuple[int, int], foot: Point, ahead: Point) -> Iterator[Tick]:
    """The ticks of the patches on a walker's left and right hand."""
    left = (ahead[1], -ahead[0])  # y down
    yield Tick(sides[1], foot, left)
    yield Tick(sides[0], foot, (-left[0], -left[1]))


def _unit(a: Point, b: Point) -> Point:
    length = math.dist(a, b)
    return ((b[0] - a[0]) / length, (b[1] - a[1]) / length)
