"""Do trim outlines sew true: do edges meet edge on edge at the end of every join, judged from coordinates alone?

Knows:  stitch outlines, trim outlines, joins and the block's outline, as bare coordinates in front view.
Leaves: how trims are made, and what a plan is. Nothing of the planner or of the foundations is used.
Units:  inches, front view, x right and y down.
Method: a side of one section that is a side of another backwards is sewn to it. At both ends of such a side what
        each of the two has beyond the end, as deep as the allowance, is laid flat and one turned over on the other,
        by GEOS: nothing wider than a twentieth of a millimetre may stick out. Where a section runs (almost)
        straight past the point, or the join runs on through it, nothing is asked. Where another corner of the two
        is as near to the end as CROWDED, tips get in each other's way; an end that does not coincide there is
        handed back, so that the sewer can be told to match points and not edges.
        Around every section the whole allowance must be there, and all trims together must cover the unfinished
        block.
Limits: what other sides of one of the two need may stick out: it lies in the way where a section is narrower than
        its allowances. So may what the corners' own sides need, where all corners that lie together are wider than
        a straight line. Tips are looked at up to TIP allowances beyond the point.
"""

from __future__ import annotations

import math
from collections import defaultdict
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import combinations, pairwise

import shapely
from shapely import LineString, Polygon
from shapely.affinity import affine_transform
from shapely.geometry.base import BaseGeometry

from seamwright.errors import Fault, ProofError
from seamwright.geometry import Point, Ring
from seamwright.proof.claim import Polyline

TOLERANCE_IN = 0.05 / 25.4
"""Edges that lie nearer than a twentieth of a millimetre lie edge on edge."""
TIP = 11.5
"""So many allowances beyond the point a tip is looked at."""
PAST_RAD, SURELY_PAST_RAD = math.radians(5), math.radians(4.5)
"""A corner within this of straight runs past its point, one within the second beyond doubt."""
CROWDED = 1.5
"""So many allowances from the end of a seam another corner may keep two tips from lying edge on edge."""
BEND_RAD = 0.2
"""A seam that turns by less runs straight on, as a line or a curve."""
CORNER_LIMIT = 5.0
"""Mitres of the unfinished block's corners are cut off this many allowances from the point."""
SAME_IN = 1e-6
GRID_IN = 1e-9
"""Areas are laid over each other on this grid: with plain floats, GEOS may take areas that only touch for one."""
Side = tuple[Point, Point]


@dataclass(frozen=True, slots=True)
class ClaimedTrim:
    """A section: its name, its stitch outline with all points where others end on it, and its trim outline."""

    name: str
    ring: Ring
    trim: Ring


@dataclass(frozen=True, slots=True)
class TrimClaim:
    """All sections of a block; the seams of its joins from end to end, curves as polylines; its outline."""

    sections: tuple[ClaimedTrim, ...]
    seams: tuple[Polyline, ...]
    outline: Ring
    allowance_in: float


@dataclass(frozen=True, slots=True)
class LooseEnd:
    """The end of a seam in a crowded place at which two sections do not lie edge on edge."""

    at_in: Point
    sections: tuple[str, str]


def check_trims(claim: TrimClaim) -> tuple[LooseEnd, ...]:
    """Holds trim outlines against each other, against the stitch outlines and against the unfinished block.

    Returns:
        Ends in crowded places that do not coincide; () for nearly every block.

    Raises:
        ProofError: with one fault, whose `code` names it: "trim crosses itself", "too little allowance", "trims do
            not match", "block not covered", "not a number".
    """
    numbers = [v for s in claim.sections for ring in (s.ring, s.trim) for point in ring for v in point]
    if not all(map(math.isfinite, numbers)):
        raise _refuse("not a number", "a coordinate is no finite number")
    if not claim.allowance_in:
        return ()
    areas = {section.name: _with_allowance(section, claim.allowance_in) for section in claim.sections}
    sewn = {section.name: Polygon(section.ring) for section in claim.sections}
    loose = []
    for end in _ends(claim):
        if not _edge_on_edge(end, areas, sewn, claim.allowance_in):
            if not _is_crowded(end, claim):
                seam = f"the seam of {end.names[0]} and {end.names[1]}"
                raise _refuse("trims do not match", f"at the end of {seam} one reaches further", end.at)
            loose.append(LooseEnd(end.at, (min(end.names), max(end.names))))
    unfinished = Polygon(claim.outline).buffer(claim.allowance_in, join_style="mitre", mitre_limit=CORNER_LIMIT)
    bare = _wide(unfinished.difference(_united(list(areas.values())), grid_size=GRID_IN))
    if not bare.is_empty:
        where = bare.representative_point()
        raise _refuse("block not covered", "opened out, no section reaches a part of the block", (where.x, where.y))
    return tuple(dict.fromkeys(loose))


def _refuse(name: str, what: str, at_in: Point | None = None) -> ProofError:
    mend = "Nothing is printed from it; please report this drawing"
    return ProofError("proof", (Fault(name, f"the trim lines failed their proof ({name}): {what}", mend, at_in),))


def _with_allowance(section: ClaimedTrim, allowance: float) -> Polygon:
    """The inside of a trim outline, which must hold the section with its whole allowance."""
    sewn, trim = Polygon(section.ring), Polygon(section.trim)
    if not trim.is_valid:
        raise _refuse("trim crosses itself", f"the trim line of {section.name} crosses itself", section.trim[0])
    near = trim.exterior.distance(sewn)
    if not trim.contains(sewn) or near < allowance - TOLERANCE_IN:
        what = f"section {section.name} keeps {max(0.0, near):.4f} in of its allowance of {allowance:.4f} in"
        at = shapely.shortest_line(trim.exterior, sewn).coords[0]
        raise _refuse("too little allowance", what, (float(at[0]), float(at[1])))
    return trim


# -- where edges must meet ------------------------------------------------------------------------------------


@dataclass(frozen=True, slots=True)
class _End:
    """The end of a seam between two sections, seen along it.

    Attributes:
        at: the point; behind: the next point along the seam.
        names: the section on the left hand of one who walks to the end (y down), then the one on the right.
        sides: of both, those sides whose allowance may lie in the way.
    """

    at: Point
    behind: Point
    names: tuple[str, str]
    sides: tuple[list[Side], list[Side]]


def _ends(claim: TrimClaim) -> Iterator[_End]:
    """Both ends of every side that two sections share, where something is asked."""
    rings = {section.name: section.ring for section in claim.sections}
    owners = {side: name for name, ring in rings.items() for side in _sides(ring)}
    beside: dict[str, dict[Point, tuple[Point, Point]]] = {
        name: {p: (a, b) for a, p, b in zip((ring[-1], *ring), ring, (*ring[1:], ring[0]), strict=False)}
        for name, ring in rings.items()
    }
    corners: dict[Point, list[float]] = defaultdict(list)
    angles: dict[tuple[str, Point], float] = {}
    for name, ring in rings.items():
        for p in ring:
            angles[name, p] = _angle(p, *beside[name][p])
            corners[p].append(angles[name, p])
    onward: dict[Point, set[Point]] = defaultdict(set)
    for seam in claim.seams:
        for a, p, b in zip(seam, seam[1:], seam[2:], strict=False):
            onward[p] |= {a, b}
    squares = _corner_squares(claim)
    for (a, b), one in owners.items():
        other = owners.get((b, a))
        # A clockwise ring (y down) has its section on the right hand.
        if other is None or other == one:
            continue
        names = (other, one)
        if any(angles[name, b] > math.pi - PAST_RAD for name in names):
            continue
        if a in onward[b] and not any(angle > math.pi - SURELY_PAST_RAD for angle in corners[b]):
            continue
        wide = sum(angles[name, b] for name in names) > math.pi + SAME_IN or (
            sum(corners[b]) > math.pi + SAME_IN
            and max(corners[b]) < math.pi - PAST_RAD
            and not any(abs(_angle(b, p, q) - math.pi) < BEND_RAD for p, q in combinations(onward[b], 2))
        )
        sides = [[side for side in _sides(rings[name]) if wide or b not in side] for name in names]
        # A corner of the block beside the end has to be filled: its square is needed like a strip.
        for mine, name in zip(sides, names, strict=True):
            mine += [side for p in rings[name] if p != b and (side := squares.get(p))]
        yield _End(b, a, names, (sides[0], sides[1]))


def _corner_squares(claim: TrimClaim) -> dict[Point, Side]:
    """For each outward corner of the block the line from it to where the block's own trim lines meet."""
    ring, found = claim.outline, {}
    for before, p, after in zip((ring[-1], *ring), ring, (*ring[1:], ring[0]), strict=False):
        half = _angle(p, before, after) / 2
        if half < math.pi / 2 - SAME_IN:
            way = math.atan2(after[1] - p[1], after[0] - p[0]) + half
            reach = claim.allowance_in * min(CORNER_LIMIT, 1 / math.sin(half))
            found[p] = (p, (p[0] - reach * math.cos(way), p[1] - reach * math.sin(way)))
    return found


def _sides(ring: Ring) -> Iterator[Side]:
    return pairwise((*ring, ring[0]))


def _angle(at: Point, before: Point, after: Point) -> float:
    """Inside a clockwise ring (y down) at one of its points."""
    one = math.atan2(after[1] - at[1], after[0] - at[0])
    return (math.atan2(before[1] - at[1], before[0] - at[0]) - one) % math.tau


# -- whether they do ------------------------------------------------------------------------------------------


def _is_crowded(end: _End, claim: TrimClaim) -> bool:
    """Whether another corner of the two sections lies near the end of their seam."""
    near = CROWDED * claim.allowance_in
    rings = (section.ring for section in claim.sections if section.name in end.names)
    return any(SAME_IN < math.dist(p, end.at) < near for ring in rings for p in ring)


def _edge_on_edge(end: _End, areas: dict[str, Polygon], sewn: dict[str, Polygon], allowance: float) -> bool:
    """Whether what two sections have beyond the end of their seam coincides."""
    shown = [
        _beyond(areas[name], end, right, allowance) for name, right in zip(end.names, (1.0, -1.0), strict=True)
    ]
    off = _wide(shown[0].symmetric_difference(shown[1], grid_size=GRID_IN))
    if off.is_empty:
        return True
    needed = [
        _beyond(_united([sewn[name], *_strips(sides, allowance)]), end, right, allowance, near=False)
        for name, sides, right in zip(end.names, end.sides, (1.0, -1.0), strict=True)
    ]
    return bool(_wide(off.difference(_united(needed).buffer(TOLERANCE_IN / 2), grid_size=GRID_IN)).is_empty)


def _beyond(area: BaseGeometry, end: _End, right: float, allowance: float, *, near: bool = True) -> BaseGeometry:
    """What of an area lies beyond an end, in the allowance on the right hand (1) or the left (-1), laid flat."""
    (x, y), (u, v) = end.at, _ahead(end)
    # Along the walk, and square to it: to the right lies (-v, u), y down.
    flat = affine_transform(area, [u, v, -right * v, right * u, -(u * x + v * y), right * (v * x - u * y)])
    seen = shapely.clip_by_rect(flat, 0.0, 0.0, TIP * allowance, allowance)
    parts = shapely.get_parts(seen)
    if near:
        parts = parts[shapely.distance(parts, shapely.Point(0.0, 0.0)) < TOLERANCE_IN]
    return _united(parts.tolist())


def _ahead(end: _End) -> Point:
    length = math.dist(end.behind, end.at)
    return ((end.at[0] - end.behind[0]) / length, (end.at[1] - end.behind[1]) / length)


def _strips(sides: Sequence[Side], allowance: float) -> list[BaseGeometry]:
    """The allowance along sides, and round their ends, on both hands of each."""
    lines = map(LineString, sides)
    return [line.buffer(allowance, quad_segs=32) for line in lines]


def _wide(area: BaseGeometry) -> BaseGeometry:
    """The parts of an area that are wider than the tolerance."""
    parts = [p for p in shapely.get_parts(area) if p.area > TOLERANCE_IN**2]
    return _united([p for p in parts if not p.buffer(-TOLERANCE_IN / 2).is_empty])


def _united(areas: Sequence[BaseGeometry]) -> BaseGeometry:
    return shapely.union_all(areas, grid_size=GRID_IN)
