"""Which places of a print can share one drawing on paper.

Knows:  how one place of a print is laid on another, what has to be equal before one drawing may serve both, what
        can still be said on it of neighbours.
Leaves: drawing (make), which sections share a print (the plan).
Units:  inches, front view.
Method: sections of one print are equal in lines, order and fabrics; but paper also shows what lies round them.
        Where trim line, grain (of each patch, too) and the ways that fabrics run come out equal when one place is
        laid on another, one drawing serves both, and it says of neighbours only what is true at each; else each
        place keeps its own drawing, under its own name. A grain a quarter turn round is a grain still, lengthwise
        or crosswise. Match marks are carried over to all places of a drawing (marks).
"""

from __future__ import annotations

import cmath
import math
from collections import Counter
from collections.abc import Collection, Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from itertools import pairwise

from seamwright.block.model import Block
from seamwright.foundation.border import Stretch, runs_joined
from seamwright.foundation.directions import Direction, same_directions
from seamwright.foundation.words import ordinal
from seamwright.geometry import IDENTITY, Affine, Point, Ring, canonical_ring, moved
from seamwright.piecing.model import Plan, Section

SAME_IN = 0.01
"""What lies nearer than this when laid on each other is equal: coordinates in files and by hand are rounded, and a
thread is thicker."""
SAME_DEG = 0.1
_ON_LINE_IN = 0.01
MOST_TOLD = 9
"""Places whose neighbours a legend lists one by one."""


@dataclass(frozen=True, slots=True)
class Place:
    """A section, and the motion that lays it on the section whose drawing it shares."""

    section: Section
    motion: Affine


def shared_drawings(
    plan: Plan,
    trims: Mapping[str, Ring],
    grains_deg: Mapping[str, float],
    ways: Mapping[str, Sequence[Direction | None]],
    edges_deg: Mapping[str, Sequence[float | None]],
    own: Collection[str] = (),
) -> tuple[tuple[Place, ...], ...]:
    """The sections of a plan, those together that one drawing serves; the first of each is drawn.

    Args:
        trims, grains_deg: of every section by name; ways: where the fabrics of its patches run; edges_deg: for each
            patch in sewing order where its grain has to lie at the block's edge, None where it has none.
        own: names of sections that need a drawing of their own.
    """
    groups: list[list[Place]] = []
    for section in plan.sections:
        for group in groups:
            first = group[0].section
            if (first.print, first.reversed) != (section.print, section.reversed):
                continue
            if first.name in own or section.name in own:
                continue
            motion = next(
                (
                    motion
                    for motion in motions(plan.block, section.patches, first.patches)
                    if _same_trim(motion, trims[first.name], trims[section.name])
                    and same_grain(motion, grains_deg[first.name], grains_deg[section.name])
                    and same_directions(motion, ways[first.name], ways[section.name])
                    and all(
                        _agree(
                            turned_deg(motion, edges_deg[section.name]),
                            turned_deg(p.motion, edges_deg[p.section.name]),
                        )
                        for p in group
                    )
                ),
                None,
            )
            if motion is not None:
                group.append(Place(section, motion))
                break
        else:
            groups.append([Place(section, IDENTITY)])
    return tuple(map(tuple, groups))


def shared_edges_deg(
    places: Sequence[Place], edges_deg: Mapping[str, Sequence[float | None]]
) -> dict[str, tuple[float | None, ...]]:
    """For each place of a drawing where the grain of its patches lies, asked for there or at any other place.

    So a patch that lies at the block's edge at one place is cut and laid alike at all.
    """
    laid = [turned_deg(place.motion, edges_deg[place.section.name]) for place in places]
    asked = [next((one for one in patch if one is not None), None) for patch in zip(*laid, strict=True)]
    found = {}
    for place in places:
        back = -_turn_deg(place.motion)
        own = edges_deg[place.section.name]
        found[place.section.name] = tuple(
            mine if mine is not None or one is None else (one + back) % 180
            for mine, one in zip(own, asked, strict=True)
        )
    return found


def turned_deg(motion: Affine, directions_deg: Sequence[float | None]) -> tuple[float | None, ...]:
    """Directions under a motion; None stays."""
    turn = _turn_deg(motion)
    return tuple(None if one is None else one + turn for one in directions_deg)


def _agree(one: Sequence[float | None], other: Sequence[float | None]) -> bool:
    """Whether all directions of which both are known are threads of one piece, lengthwise or crosswise."""
    return all(
        a is None or b is None or min((a - b) % 90, (b - a) % 90) < SAME_DEG
        for a, b in zip(one, other, strict=True)
    )


def _turn_deg(motion: Affine) -> float:
    return math.degrees(math.atan2(motion[1], motion[0]))


def drawing_labels(drawings: Iterable[Sequence[Place]], letters: Mapping[str, str]) -> dict[str, str]:
    """What the paper calls each section: its letter if one drawing serves all places of its print, else a place."""
    names = [[place.section.name for place in places] for places in drawings]
    count = Counter(letters[group[0]] for group in names)
    return {name: letters[name] if count[letters[name]] == 1 else group[0] for group in names for name in group}


def said_of_places(
    places: Sequence[Place], borders: Mapping[str, Sequence[Stretch]], label: str, *, whole: bool
) -> list[str]:
    """What a legend has to say of a drawing that serves several places.

    Args:
        borders: of every section by name; empty where the drawing itself says all of its neighbours.
        label: what the paper calls it. whole: it serves all places of its print.
    """
    names = [place.section.name for place in places]
    said = [] if whole else [f"{label} is the print for {', '.join(names[1:])} too"]
    if borders:
        for name in names[:MOST_TOLD]:
            joins = dict.fromkeys((s.join or 0, s.neighbour) for s in borders[name] if s.neighbour)
            said.append(f"{name} joins {', '.join(f'{other} ({ordinal(join)})' for join, other in sorted(joins))}")
        if names[MOST_TOLD:]:
            said.append(f"{label} joins other sections at its other places: see the key, and the joins in order")
    return said


def motions(block: Block, one: Sequence[int], other: Sequence[int]) -> Sequence[Affine]:
    """Every rotation with a shift that lays patches on others, each on its like; the smallest rotation first."""
    here, there = (
        [[complex(*p) for p in canonical_ring(block.patch_ring(patch))] for patch in patches]
        for patches in (one, other)
    )
    found: list[tuple[float, Affine]] = []
    ring, onto = here[0], there[0]
    if [len(r) for r in here] != [len(r) for r in there]:
        return ()
    for k in range(len(onto)):
        factor = (onto[(k + 1) % len(onto)] - onto[k]) / (ring[1] - ring[0])
        factor /= abs(factor)
        shift = onto[k] - factor * ring[0]
        if all(
            min(abs(factor * z + shift - w) for w in target) < SAME_IN
            for source, target in zip(here, there, strict=True)
            for z in source
        ):
            a, b = factor.real, factor.imag
            found.append((abs(cmath.phase(factor)), (a, b, -b, a, shift.real, shift.imag)))
    return [motion for _, motion in sorted(found, key=lambda turn: round(turn[0], 6))]


def _same_trim(motion: Affine, one: Ring, two: Ring) -> bool:
    return len(one) == len(two) and all(min(math.dist(moved(motion, p), q) for q in one) < SAME_IN for p in two)


def same_grain(motion: Affine, one_deg: float, two_deg: float) -> bool:
    """Whether the grain of `two`, laid on `one`, lies lengthwise or crosswise along that of `one`."""
    turn = two_deg + math.degrees(math.atan2(motion[1], motion[0])) - one_deg
    return min(turn % 90, -turn % 90) < SAME_DEG


def common_stretches(
    places: Sequence[Place], borders: Mapping[str, Sequence[Stretch]], letters: Mapping[str, str]
) -> tuple[Stretch, ...]:
    """The border of the first place, parted where anything differs, with what is true at all of them.

    Args:
        borders: of every section by name. letters: what the paper calls each section.

    Returns:
        Stretches whose neighbour is a section's name where it is one and the same, else a letter where only the
        place differs; `varies` where not even that, or where some places lie at the block's edge there.
    """
    own = borders[places[0].section.name]
    if len(places) == 1:
        return tuple(own)
    laid = [
        [replace(s, points=tuple(moved(place.motion, p) for p in s.points)) for s in borders[place.section.name]]
        for place in places
    ]
    pieces: list[Stretch] = []
    for stretch in own:
        ends = [s.points[at] for stretches in laid for s in stretches for at in (0, -1)]
        for points in _split(stretch.points, ends):
            middle = _middle(points)
            beside = [min(stretches, key=lambda s: _distance(middle, s.points)) for stretches in laid]
            pieces.append(_common(points, beside, letters))
    return runs_joined(pieces)


def _common(points: tuple[Point, ...], beside: Sequence[Stretch], letters: Mapping[str, str]) -> Stretch:
    names = {s.neighbour for s in beside}
    joins = {s.join for s in beside}
    join = joins.pop() if len(joins) == 1 else None
    if len(names) == 1:
        return Stretch(points, names.pop(), join)
    called = {None if name is None else letters[name] for name in names}
    if len(called) == 1:
        return Stretch(points, called.pop(), join)
    return Stretch(points, None, None, varies=True)


def _split(points: tuple[Point, ...], ends: Iterable[Point]) -> list[tuple[Point, ...]]:
    """A straight stretch parted at those of the points that lie on it; a curve stays whole."""
    if len(points) != 2:
        return [points]
    a, b = points
    length = math.dist(a, b)
    ux, uy = (b[0] - a[0]) / length, (b[1] - a[1]) / length
    cuts = {0.0: a, length: b}
    for x, y in ends:
        along, off = (x - a[0]) * ux + (y - a[1]) * uy, (x - a[0]) * uy - (y - a[1]) * ux
        if abs(off) < _ON_LINE_IN and all(abs(along - cut) > _ON_LINE_IN for cut in cuts) and 0 < along < length:
            cuts[along] = (x, y)
    stops = [cuts[at] for at in sorted(cuts)]
    return list(pairwise(stops))


def _middle(points: Sequence[Point]) -> Point:
    a, b = points[(len(points) - 1) // 2], points[(len(points) - 1) // 2 + 1]
    return ((a[0] + b[0]) / 2, (a[1] + b[1]) / 2)


def _distance(point: Point, line: Sequence[Point]) -> float:
    """From a point to a line."""
    best = math.inf
    for a, b in pairwise(line):
        length = math.dist(a, b)
        ux, uy = (b[0] - a[0]) / length, (b[1] - a[1]) / length
        along = min(length, max(0.0, (point[0] - a[0]) * ux + (point[1] - a[1]) * uy))
        best = min(best, math.dist(point, (a[0] + along * ux, a[1] + along * uy)))
    return best
