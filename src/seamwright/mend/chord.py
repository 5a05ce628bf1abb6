"""Chords: cuts of a region that also go across its patches, and what they leave.

Knows:  the runs of any line from border to border, the parts that a cut along one leaves, faces made one.
Leaves: which chords are worth a try (extra).
Units:  inches, front view.
Method: a chord is a run of a line from border to border; where it follows a seam it divides nothing, elsewhere the
        faces that it crosses are divided. Only connected runs are looked at, so regions and faces may have inside
        corners and holes. A new point comes from the ends of one edge, so both faces beside it get the same floats.
"""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from itertools import pairwise

from seamwright.geometry import Segment, signed_area
from seamwright.mend.region import ON_LINE_IN, Edge, Face, Points, Region, Ring, between, face_edges, inside, parts


@dataclass(frozen=True, slots=True)
class Unit:
    """A piece of a chord: along a seam (`face` -1) or through the face of that number."""

    start: int
    end: int
    face: int


def chords(region: Region, line: Segment, most: int) -> list[tuple[Unit, ...]]:
    """The runs of a line from border to border that cross one face or more, and at most `most` of them."""
    at = region.at
    (ax, ay), (bx, by) = line
    ux, uy = bx - ax, by - ay
    size = math.hypot(ux, uy)
    # As `off_line` has it, written out: thousands of lines are tried, and most are dropped at once.
    offset = {p: (ux * (y - ay) - uy * (x - ax)) / size for p, (x, y) in region.places}
    right = {p for p, d in offset.items() if d > ON_LINE_IN}
    left = {p for p, d in offset.items() if d < -ON_LINE_IN}
    crossed = [
        number
        for number, corners in enumerate(region.corners)
        if not (right.isdisjoint(corners) or left.isdisjoint(corners))
    ]
    # In a convex region a chord is the whole of its line, and crosses all faces that lie on both its sides.
    if not crossed or (region.convex and len(crossed) > most):
        return []
    side = {p: (p in right) - (p in left) for p in offset}
    edges = region.edges
    units = [Unit(a, b, -1) for a, b in edges if a < b and side[a] == side[b] == 0 and (b, a) in edges]
    for number in crossed:
        units += _through(region, number, side, offset, line)

    def place(point: int) -> float:
        return at[point][0] * ux + at[point][1] * uy

    turned = [u if place(u.start) < place(u.end) else Unit(u.end, u.start, u.face) for u in units]
    turned.sort(key=lambda u: place(u.start))
    new_on_border = {
        at_edge
        for a, b in edges
        if (b, a) not in edges and side[a] * side[b] < 0
        for at_edge in (_meet(region.at, a, b, offset),)
    }
    border = region.border | new_on_border
    runs: list[list[Unit]] = []
    for unit in turned:
        if runs and runs[-1][-1].end == unit.start and unit.start not in border:
            runs[-1].append(unit)
        else:
            runs.append([unit])
    return [
        tuple(run)
        for run in runs
        if 0 < len({u.face for u in run if u.face >= 0}) <= most
        and run[0].start in border
        and run[-1].end in border
    ]


def _meet(at: Points, a: int, b: int, offset: Mapping[int, float]) -> int:
    """The point where the line crosses an edge: the same from both its sides."""
    a, b = min(a, b), max(a, b)
    share = offset[a] / (offset[a] - offset[b])
    (ax, ay), (bx, by) = at[a], at[b]
    return at.number((ax + share * (bx - ax), ay + share * (by - ay)))


def _through(
    region: Region, number: int, side: Mapping[int, int], offset: Mapping[int, float], line: Segment
) -> list[Unit]:
    """The open pieces of the line inside one face."""
    at, face = region.at, region.faces[number]
    on: set[int] = {p for ring in face for p in ring if side[p] == 0}
    along: set[frozenset[int]] = set()
    for a, b in face_edges(face):
        if side[a] * side[b] < 0:
            on.add(_meet(at, a, b, offset))
        elif side[a] == side[b] == 0:
            along.add(frozenset((a, b)))
    ux, uy = line[1][0] - line[0][0], line[1][1] - line[0][1]
    order = sorted(on, key=lambda p: at[p][0] * ux + at[p][1] * uy)
    found = []
    for a, b in pairwise(order):
        middle = ((at[a][0] + at[b][0]) / 2, (at[a][1] + at[b][1]) / 2)
        if frozenset((a, b)) not in along and inside(at, face, middle):
            found.append(Unit(a, b, number))
    return found


def cut_along(region: Region, run: Sequence[Unit]) -> tuple[list[Region], int]:
    """The parts that a chord leaves, and how many faces more there are then."""
    ends = {p for unit in run for p in (unit.start, unit.end)}
    new = sorted(ends.difference(region.points))
    faces = [_with_points(region.at, face, new) for face in region.faces]
    through: dict[int, list[Edge]] = {}
    cut: set[Edge] = set()
    for unit in run:
        cut.update(((unit.start, unit.end), (unit.end, unit.start)))
        if unit.face >= 0:
            through.setdefault(unit.face, []).append((unit.start, unit.end))
    divided: list[Face] = []
    for number, face in enumerate(faces):
        divided += _divided(region.at, face, through[number]) if number in through else [face]
    return parts(Region(region.at, tuple(divided)), cut), len(divided) - len(faces)


def _with_points(at: Points, face: Face, new: Sequence[int]) -> Face:
    """The face with the points that lie on its edges put into its rings."""
    if not new:
        return face
    rings = []
    for ring in face:
        turned: list[int] = []
        for a, b in zip(ring, ring[1:] + ring[:1], strict=True):
            turned.append(a)
            on = [p for p in new if between(at[a], at[p], at[b])]
            turned += sorted(on, key=lambda p: math.dist(at[a], at[p]))
        rings.append(tuple(turned))
    return tuple(rings)


def _divided(at: Points, face: Face, chords_through: Sequence[Edge]) -> list[Face]:
    """The faces into which pieces of line through it divide a face."""
    return traced(at, [*face_edges(face), *chords_through, *((b, a) for a, b in chords_through)])


def merged(at: Points, faces: Sequence[Face]) -> list[Face]:
    """The face that several make once no seam parts them; several faces if they hang together by points only."""
    edges = [edge for face in faces for edge in face_edges(face)]
    every = set(edges)
    return traced(at, [(a, b) for a, b in edges if (b, a) not in every])


def traced(at: Points, directed: Sequence[Edge]) -> list[Face]:
    """The faces that lie to the right of directed edges."""
    leaving: dict[int, list[int]] = {}
    for a, b in directed:
        leaving.setdefault(a, []).append(b)
    following: dict[Edge, Edge] = {}
    for a, b in directed:
        # Arriving, the sharpest turn to the right goes on round the face.
        back = math.atan2(at[a][1] - at[b][1], at[a][0] - at[b][0])
        turns = {c: (back - math.atan2(at[c][1] - at[b][1], at[c][0] - at[b][0])) % math.tau for c in leaving[b]}
        following[a, b] = (b, min(leaving[b], key=lambda c: turns[c] or math.tau))
    outer: list[Ring] = []
    holes: list[Ring] = []
    seen: set[Edge] = set()
    for first in directed:
        ring: list[int] = []
        edge = first
        while edge not in seen:
            seen.add(edge)
            ring.append(edge[0])
            edge = following[edge]
        if ring:
            (outer if signed_area([at[p] for p in ring]) > 0 else holes).append(tuple(ring))
    found: list[list[Ring]] = [[ring] for ring in outer]
    for hole in holes:
        for made in found:
            # A hole's points lie in the face round it, or on its border where they touch.
            free = [p for p in hole if p not in made[0]]
            if free and inside(at, (made[0],), at[free[0]]):
                made.append(hole)
                break
    return [tuple(made) for made in found]
