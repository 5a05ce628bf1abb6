"""A stuck region as bare polygons that can be cut, also across its patches.

Knows:  faces as rings of points, which edges two faces share, what straight cuts divide for free, chords along any
        line and what a cut along one leaves.
Leaves: which chords are worth a try (extra), what the faces mean (find).
Units:  inches, front view.
Method: the border of a region is reached. A seam is a chain of shared edges that run straight on into each other;
        between two of its reached points all is cut, and so on to the end (as for a whole block). A chord is a run
        of a line from border to border; where it follows a seam it divides nothing, elsewhere the faces that it
        crosses are divided. Only connected runs are looked at, so regions and faces may have inside corners and
        holes.
Limits: straight edges. Points are told apart by number; new ones come from the ends of one edge, so both faces
        beside it get the same floats.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property
from itertools import pairwise

from seamwright.geometry import Point, Segment, off_line, signed_area

ON_LINE_IN = 1e-6
"""A point nearer to a line than this lies on it: the block's points lie on their seams far better."""
STRAIGHT = 2e-6
"""Sine of the largest turn that still is straight on."""

Ring = tuple[int, ...]
Face = tuple[Ring, ...]
"""Outer ring clockwise as seen, then holes the other way round: the face lies to the right of every edge."""
Edge = tuple[int, int]


@dataclass(frozen=True, slots=True)
class Unit:
    """A piece of a chord: along a seam (`face` -1) or through the face of that number."""

    start: int
    end: int
    face: int


class Region:
    """Faces that hang together; never changed once made.

    Attributes:
        at: coordinates by point number; shared by all regions cut from one another, and only ever added to.
        faces: one or more.
    """

    def __init__(self, at: Points, faces: tuple[Face, ...]) -> None:
        self.at, self.faces = at, faces

    @cached_property
    def edges(self) -> dict[Edge, int]:
        """Directed border edges of the faces, and whose they are."""
        return {edge: number for number, face in enumerate(self.faces) for edge in face_edges(face)}

    @cached_property
    def points(self) -> list[int]:
        """The points of all faces, each once, in order."""
        return sorted({p for face in self.faces for ring in face for p in ring})

    @cached_property
    def border(self) -> frozenset[int]:
        """Points on the region's border."""
        return frozenset(p for a, b in self.edges if (b, a) not in self.edges for p in (a, b))

    @cached_property
    def convex(self) -> bool:
        """Whether the border is one ring without an inside corner."""
        onward = {a: b for a, b in self.edges if (b, a) not in self.edges}
        if len(onward) != sum((b, a) not in self.edges for a, b in self.edges):
            return False
        ring = [next(iter(onward))]
        while (after := onward[ring[-1]]) != ring[0]:
            ring.append(after)
        corners = zip(ring, ring[1:] + ring[:1], ring[2:] + ring[:2], strict=True)
        return len(ring) == len(onward) and all(
            off_line(self.at[c], self.at[a], self.at[b]) >= -ON_LINE_IN for a, b, c in corners
        )

    @cached_property
    def key(self) -> tuple[Face, ...]:
        """The same for the same faces."""
        return tuple(sorted(tuple(_from_least(ring) for ring in face) for face in self.faces))

    @property
    def whole(self) -> bool:
        """Whether nothing is left to divide: one face, and nothing floats in it."""
        return len(self.faces) == 1 and len(self.faces[0]) == 1


class Points:
    """Coordinates by number; a place that is there already keeps its number."""

    def __init__(self, given: Mapping[int, Point], curves: Iterable[Sequence[int]] = ()) -> None:
        """Take in points, and the points along each curve that runs on though it is not straight."""
        self.at = dict(given)
        self.bends: dict[int, list[tuple[int, int]]] = {}
        for curve in curves:
            for a, point, b in zip(curve, curve[1:], curve[2:], strict=False):
                self.bends.setdefault(point, []).append((a, b))
        self._number = {p: n for n, p in self.at.items()}
        self._next = max(self.at, default=-1) + 1

    def __getitem__(self, number: int) -> Point:
        return self.at[number]

    def number(self, place: Point) -> int:
        """The number of a place, a new one if need be."""
        found = self._number.get(place)
        if found is None:
            found = self._number[place] = self._next
            self.at[found] = place
            self._next += 1
        return found


def face_edges(face: Face) -> Iterable[Edge]:
    """Directed edges round a face and its holes."""
    for ring in face:
        yield from zip(ring, ring[1:] + ring[:1], strict=True)


def _from_least(ring: Ring) -> Ring:
    first = ring.index(min(ring))
    return ring[first:] + ring[:first]


# -- what is divided for free ------------------------------------------------------------------------------


def seams_of(region: Region) -> list[list[int]]:
    """Chains of shared edges that run straight on, as point numbers."""
    edges, at = region.edges, region.at
    shared = [(a, b) for a, b in edges if a < b and (b, a) in edges]
    around: dict[int, list[int]] = {}
    for a, b in shared:
        around.setdefault(a, []).append(b)
        around.setdefault(b, []).append(a)
    onward: dict[Edge, int] = {}
    for point, ends in around.items():
        for one, other in at.bends.get(point, ()):
            before, after = (_towards(at, point, end, ends) for end in (one, other))
            if before is not None and after is not None:
                onward[before, point], onward[after, point] = after, before
        for i, a in enumerate(ends):
            for b in ends[i + 1 :]:
                taken = (a, point) in onward or (b, point) in onward
                if not taken and _straight(at[a], at[point], at[b]):
                    onward[a, point], onward[b, point] = b, a
    seams: list[list[int]] = []
    done: set[Edge] = set()
    for a, b in shared:
        if (a, b) in done:
            continue
        chain = [a, b]
        for _ in range(2):
            while (after := onward.get((chain[-2], chain[-1]))) is not None and after not in chain:
                chain.append(after)
            chain.reverse()
        done.update(edge for one, two in pairwise(chain) for edge in ((one, two), (two, one)))
        seams.append(chain)
    return seams


def _towards(at: Points, point: int, end: int, ends: Sequence[int]) -> int | None:
    """The neighbour of a point that lies on its edge towards `end`: that itself, or where the edge was divided."""
    if end in ends:
        return end
    return next((n for n in ends if _between(at[point], at[n], at[end])), None)


def _straight(a: Point, through: Point, b: Point) -> bool:
    ux, uy, vx, vy = through[0] - a[0], through[1] - a[1], b[0] - through[0], b[1] - through[1]
    size = math.hypot(ux, uy) * math.hypot(vx, vy)
    return abs(ux * vy - uy * vx) <= STRAIGHT * size and ux * vx + uy * vy > 0


def stuck_parts(region: Region) -> list[Region]:
    """What straight cuts cannot divide: parts of several faces, or of one that something floats in."""
    places: dict[int, list[tuple[int, int]]] = {}
    seams = seams_of(region)
    for number, seam in enumerate(seams):
        for position, point in enumerate(seam):
            places.setdefault(point, []).append((number, position))
    reached = set(region.border)
    low, high = [-1] * len(seams), [-1] * len(seams)
    cut: set[Edge] = set()
    work = sorted(reached)
    while work:
        for number, position in places.get(work.pop(), ()):
            if low[number] < 0:
                low[number] = high[number] = position
                continue
            start, end = min(low[number], position), max(high[number], position)
            for one, two in zip(seams[number][start:end], seams[number][start + 1 : end + 1], strict=True):
                cut.update(((one, two), (two, one)))
                for point in (one, two):
                    if point not in reached:
                        reached.add(point)
                        work.append(point)
            low[number], high[number] = start, end
    return [part for part in parts(region, cut) if not part.whole]


def parts(region: Region, cut: set[Edge]) -> list[Region]:
    """The parts that hang together over shared edges not cut."""
    edges = region.edges
    seen: set[int] = set()
    found = []
    for first in range(len(region.faces)):
        if first in seen:
            continue
        seen.add(first)
        members, waiting = [first], [first]
        while waiting:
            for a, b in face_edges(region.faces[waiting.pop()]):
                other = edges.get((b, a))
                if other is not None and other not in seen and (a, b) not in cut:
                    seen.add(other)
                    members.append(other)
                    waiting.append(other)
        found.append(Region(region.at, tuple(region.faces[n] for n in sorted(members))))
    return found


# -- chords --------------------------------------------------------------------------------------------------


def chords(region: Region, line: Segment, most: int) -> list[tuple[Unit, ...]]:
    """The runs of a line from border to border that cross one face or more, and at most `most` of them."""
    at = region.at
    offset = {p: off_line(at[p], *line) for p in region.points}
    side = {p: 0 if abs(d) <= ON_LINE_IN else (1 if d > 0 else -1) for p, d in offset.items()}
    crossed = [n for n, face in enumerate(region.faces) if _both(side, face)]
    # In a convex region a chord is the whole of its line, and crosses all faces that lie on both its sides.
    if not crossed or (region.convex and len(crossed) > most):
        return []
    edges = region.edges
    units = [Unit(a, b, -1) for a, b in edges if a < b and side[a] == side[b] == 0 and (b, a) in edges]
    for number in crossed:
        units += _through(region, number, side, offset, line)
    ux, uy = line[1][0] - line[0][0], line[1][1] - line[0][1]

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


def _both(side: Mapping[int, int], face: Face) -> bool:
    sides = {side[p] for ring in face for p in ring}
    return 1 in sides and -1 in sides


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


def inside(at: Points, face: Face, place: Point) -> bool:
    """Whether a place that is on no edge lies in a face."""
    x, y = place
    odd = False
    for a, b in face_edges(face):
        (ax, ay), (bx, by) = at[a], at[b]
        if (ay > y) != (by > y) and x < ax + (y - ay) * (bx - ax) / (by - ay):
            odd = not odd
    return odd


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
            on = [p for p in new if _between(at[a], at[p], at[b])]
            turned += sorted(on, key=lambda p: math.dist(at[a], at[p]))
        rings.append(tuple(turned))
    return tuple(rings)


def _between(a: Point, p: Point, b: Point) -> bool:
    if not (
        min(a[0], b[0]) - ON_LINE_IN <= p[0] <= max(a[0], b[0]) + ON_LINE_IN
        and min(a[1], b[1]) - ON_LINE_IN <= p[1] <= max(a[1], b[1]) + ON_LINE_IN
    ):
        return False
    return abs(off_line(p, a, b)) <= 1e-9 + 1e-9 * math.dist(a, b)


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
