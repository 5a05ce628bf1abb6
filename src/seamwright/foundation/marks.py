"""Match marks: ticks on both sides of a join, from the stitch line out to the trim line.

Knows:  the ticks of every section, the same at all places of a print and on both sides of every join; which of them
        would be clutter.
Leaves: which places of a join are marked (spots), what a print says of them (wording).
Units:  inches, front view.
Method: a tick stands at right angles to the join. Both sides get it at the same point, so that they coincide when
        one section is turned over the join on to the other. One drawing serves several places of a print, and what
        it shows at one of them it shows at all; so a tick is carried over to every place of its print, from there
        across the join, and so on until nothing is new. What was carried from one spot stands or falls together.
Limits: where a place of a print lies at the edge of the block, such a tick has nothing to match.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from itertools import pairwise
from typing import NamedTuple

import shapely
from shapely.geometry import LineString, Polygon

from seamwright.block.model import OUTSIDE
from seamwright.block.rings import region_sides
from seamwright.foundation.border import Stretch, section_of_patch
from seamwright.foundation.places import SAME_IN, Place
from seamwright.foundation.spots import BEND_COSINE, Spot, Weight, mark_spots
from seamwright.geometry import Affine, Point, Ring, Segment, after, moved
from seamwright.geometry import foot as nearest_on
from seamwright.piecing.model import Plan

LEAST_SHARE, MOST_SHARE = 0.6, 1.03
"""A tick shorter than this share of the allowance lies on a trimmed tip; a longer one runs out by another edge, as
beside an inside corner. Chords of a curve leave a little."""
AIR_IN = {Weight.MEET: 1 / 20, Weight.TIP: 1 / 12, Weight.CURVE: 1 / 4, Weight.LONG: 3 / 4}
"""Nearest that a tick may stand to one more needed: nearer they could not be told apart, or are not worth it."""
HAIR_IN = 1e-6
_GRAZE_IN = 1e-3
"""A tick at a corner may run along another edge, and into the section by so much: points are as exact as drawn."""
_SAME_COSINE, _BESIDE_COSINE, _UPRIGHT_COSINE = 0.9999, 0.7, 0.9
"""Ticks in one direction to a degree; ticks of one edge or curve, not of another beside it; a tick upright on an
edge, or half upright on two that bend as far as a leg may."""
_LESS_UPRIGHT = 0.005


@dataclass(frozen=True, slots=True)
class _Tick:
    """A tick of a section; `family`: number of the spot from which it was carried over first."""

    foot: Point
    out: Point
    family: int


def match_marks(
    plan: Plan, trims: Mapping[str, Ring], drawings: Iterable[Sequence[Place]] = ()
) -> dict[str, tuple[Segment, ...]]:
    """For every section by name its match marks, each from the stitch line out to the trim line.

    Args:
        trims: trim outlines by the name of a section.
        drawings: sections together that one drawing serves.
    """
    spots = sorted(mark_spots(plan), key=lambda spot: spot.weight)
    spread = _Spread(plan, drawings)
    for family, spot in enumerate(spots):
        spread.add_spot(family, spot)
    weights = [spot.weight for spot in spots]
    drawn = {
        section.name: _Drawn(spread.pieces[section.name], trims[section.name], plan.options.seam_allowance_in)
        for section in plan.sections
    }
    for number, ticks in sorted(spread.families().items()):
        lines = {name: [drawn[name].line(tick) for tick in own] for name, own in ticks.items()}
        found = {name: [line for line in own if line is not None] for name, own in lines.items()}
        if found == lines and all(
            drawn[name].is_clear(line, weights[number], own) for name, own in found.items() for line in own
        ):
            for name, own in found.items():
                drawn[name].kept += own
    return {name: tuple(one.kept) for name, one in drawn.items()}


class _Spread:
    """Ticks carried over to all places of a print and across every join, until nothing is new."""

    def __init__(self, plan: Plan, drawings: Iterable[Sequence[Place]]) -> None:
        self._section_of = section_of_patch(plan)
        self.pieces = {
            section.name: [
                _Piece(a, b, side.across)
                for side in region_sides(plan.block, section.patches)
                for a, b in pairwise(side.points)
            ]
            for section in plan.sections
        }
        self._ticks: dict[str, list[_Tick]] = {section.name: [] for section in plan.sections}
        self._root: list[int] = []
        self._motions: dict[str, list[tuple[str, Affine]]] = {}
        for places in drawings:
            for one in places:
                self._motions[one.section.name] = [
                    (other.section.name, after(one.motion, _back(other.motion)))
                    for other in places
                    if other is not one
                ]

    def add_spot(self, family: int, spot: Spot) -> None:
        """The ticks of one spot, and all that they bring about; families are numbered from 0 without a gap."""
        self._root.append(family)
        waiting = [(self._section_of[t.patch].name, t.foot, t.out) for t in spot.ticks]
        while waiting:
            name, foot, out = waiting.pop()
            if not self._add(name, foot, out, family):
                continue
            waiting += [(there, moved(by, foot), _turned(by, out)) for there, by in self._motions.get(name, ())]
            under = {piece.tag for piece, _ in _under(self.pieces[name], foot, out)}
            across = {self._section_of[patch].name for patch in under - {OUTSIDE}}
            waiting += [(there, foot, (-out[0], -out[1])) for there in sorted(across)]

    def _add(self, name: str, foot: Point, out: Point, family: int) -> bool:
        """Whether the tick is new; else its families become one."""
        for tick in self._ticks[name]:
            if math.dist(foot, tick.foot) < SAME_IN and _cosine(out, tick.out) > _SAME_COSINE:
                one, two = sorted((self._find(tick.family), self._find(family)))
                self._root[two] = one
                return False
        self._ticks[name].append(_Tick(foot, out, family))
        return True

    def _find(self, family: int) -> int:
        while self._root[family] != family:
            family = self._root[family]
        return family

    def families(self) -> dict[int, dict[str, list[_Tick]]]:
        """The ticks that stand or fall together, by the number of the first of their spots and by section."""
        found: dict[int, dict[str, list[_Tick]]] = {}
        for name, ticks in self._ticks.items():
            for tick in ticks:
                found.setdefault(self._find(tick.family), {}).setdefault(name, []).append(tick)
        return found


class _Drawn:
    """A section with the ticks that it keeps."""

    def __init__(self, pieces: Sequence[_Piece], trim: Ring, allowance: float) -> None:
        self._pieces, self._allowance = pieces, allowance
        self._stitch, self._trim = Polygon([piece.a for piece in pieces]), Polygon(trim).exterior
        self._corners = [
            two.a
            for one, two in zip((*pieces[-1:], *pieces[:-1]), pieces, strict=True)
            if _cosine(_unit(one.a, one.b), _unit(two.a, two.b)) < BEND_COSINE
        ]
        self.kept: list[Segment] = []

    def line(self, tick: _Tick) -> Segment | None:
        """A tick as far as the trim line; None where it would not reach it squarely."""
        piece, upright = max(_under(self._pieces, tick.foot, tick.out), key=lambda found: found[1])
        # Carried over, it may lie beside the line by as much as places of a print differ.
        (x, y), (u, v) = _nearest(tick.foot, piece), tick.out
        ray = LineString([(x, y), (x + 2 * self._allowance * u, y + 2 * self._allowance * v)])
        ends = [math.dist(p, (x, y)) for p in shapely.get_coordinates(ray.intersection(self._trim)).tolist()]
        length = min((end for end in ends if end > HAIR_IN), default=0.0)
        share = length / (self._allowance or 1.0)
        if not LEAST_SHARE <= share <= MOST_SHARE / upright:
            return None
        tip = (x + length * u, y + length * v)
        through = LineString([(x, y), tip]).intersection(self._stitch).length
        return ((x, y), tip) if through < _GRAZE_IN else None

    def is_clear(self, line: Segment, weight: Weight, family: Sequence[Segment]) -> bool:
        """Whether a tick is far enough from all that are kept, and from others of its own family."""
        foot, air = line[0], AIR_IN[weight]
        if weight >= Weight.CURVE and any(SAME_IN < math.dist(foot, corner) < air for corner in self._corners):
            return False
        if any(math.dist(foot, other[0]) < air and _cosine_of(line, other) > _BESIDE_COSINE for other in self.kept):
            return False
        return not any(_run_together(line, other) for other in (*self.kept, *family) if other is not line)


def _run_together(one: Segment, two: Segment) -> bool:
    """Whether two ticks cross or can't be told apart; two edges of a corner may have a tick there each."""
    if math.dist(one[0], two[0]) < SAME_IN:
        return _cosine_of(one, two) > _BESIDE_COSINE
    return bool(LineString(one).distance(LineString(two)) < AIR_IN[Weight.MEET])


def unmatched(marks: Iterable[Segment], border: Iterable[Stretch]) -> bool:
    """Whether one of a section's marks stands at the block's edge, where nothing is joined."""
    pieces = [_Piece(a, b, s.neighbour is None) for s in border for a, b in pairwise(s.points)]
    return any(piece.tag for mark in marks for piece, _ in _under(pieces, mark[0], _unit(*mark)))


class _Piece(NamedTuple):
    """A straight piece of a section's border, walked clockwise, and what the asker knows of it."""

    a: Point
    b: Point
    tag: int


def _under(pieces: Iterable[_Piece], foot: Point, out: Point) -> list[tuple[_Piece, float]]:
    """The pieces on which a tick stands: of those at its foot the one, or two of a curve, it is most upright on.

    Each with how upright it is, as a cosine.
    """
    found = []
    for piece in pieces:
        upright = _cosine(_left(piece.a, piece.b), out)
        if upright > _UPRIGHT_COSINE and math.dist(foot, _nearest(foot, piece)) < SAME_IN:
            found.append((piece, upright))
    best = max((upright for _, upright in found), default=0.0)
    return [(piece, upright) for piece, upright in found if upright > best - _LESS_UPRIGHT]


def _nearest(point: Point, piece: _Piece) -> Point:
    return nearest_on(point, piece.a, piece.b, between=True)


def _left(a: Point, b: Point) -> Point:
    """The left hand of a walker from a to b, y down: outward for one who walks clockwise round a section."""
    x, y = _unit(a, b)
    return (y, -x)


def _back(motion: Affine) -> Affine:
    """The motion that undoes a rotation with a shift."""
    a, b, c, d, e, f = motion
    return (a, c, b, d, -(a * e + b * f), -(c * e + d * f))


def _turned(motion: Affine, direction: Point) -> Point:
    """A direction under a motion."""
    return moved((*motion[:4], 0.0, 0.0), direction)


def _cosine_of(one: Segment, two: Segment) -> float:
    return _cosine(_unit(*one), _unit(*two))


def _cosine(one: Point, two: Point) -> float:
    return one[0] * two[0] + one[1] * two[1]


def _unit(a: Point, b: Point) -> Point:
    length = math.dist(a, b)
    return ((b[0] - a[0]) / length, (b[1] - a[1]) / length)
