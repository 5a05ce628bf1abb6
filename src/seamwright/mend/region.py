"""A stuck region as bare polygons.

Knows:  faces as rings of points, which edges two faces share, what straight cuts divide for free.
Leaves: cuts across faces (chord), what the faces mean (find).
Units:  inches, front view.
Method: the border of a region is reached. A seam is a chain of shared edges that run straight on into each other,
        or along one curve; between two of its reached points all is cut, and so on to the end (as for a whole
        block).
Limits: points are told apart by number; those of curves are points like all others, and it is told how they run on.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Mapping, Sequence
from functools import cached_property
from itertools import pairwise

from seamwright.geometry import Point, off_line

ON_LINE_IN = 1e-6
"""A point nearer to a line than this lies on it: the block's points lie on their seams far better."""
STRAIGHT = 2e-6
"""Sine of the largest turn that still is straight on."""

Ring = tuple[int, ...]
Face = tuple[Ring, ...]
"""Outer ring clockwise as seen, then holes the other way round: the face lies to the right of every edge."""
Edge = tuple[int, int]


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
    def places(self) -> list[tuple[int, Point]]:
        """The points with their coordinates."""
        return [(p, self.at[p]) for p in self.points]

    @cached_property
    def corners(self) -> list[frozenset[int]]:
        """The points of each face."""
        return [frozenset(p for ring in face for p in ring) for face in self.faces]

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
    return next((n for n in ends if between(at[point], at[n], at[end])), None)


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


def inside(at: Points, face: Face, place: Point) -> bool:
    """Whether a place that is on no edge lies in a face."""
    x, y = place
    odd = False
    for a, b in face_edges(face):
        (ax, ay), (bx, by) = at[a], at[b]
        if (ay > y) != (by > y) and x < ax + (y - ay) * (bx - ax) / (by - ay):
            odd = not odd
    return odd


def between(a: Point, p: Point, b: Point) -> bool:
    """Whether p lies on the segment from a to b, as exactly as floats put it there."""
    if not (
        min(a[0], b[0]) - ON_LINE_IN <= p[0] <= max(a[0], b[0]) + ON_LINE_IN
        and min(a[1], b[1]) - ON_LINE_IN <= p[1] <= max(a[1], b[1]) + ON_LINE_IN
    ):
        return False
    return abs(off_line(p, a, b)) <= 1e-9 + 1e-9 * math.dist(a, b)
