"""A seam by itself: straight through points, an arc, a bending curve or a curve through many points.

Knows:  the points along it, its image under a transform, the part of it between two places.
Leaves: how it is written (draft), what it meets (network).
Units:  inches of the finished block; positions are lengths along the flattened seam.
Method: part of a Bezier curve by its blossom: L. Ramshaw, "Blossoms are polar forms", Computer Aided Geometric
        Design 6(4), 1989, pp. 323-358.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import accumulate, pairwise

from seamwright.drawing.arcs import arc, centre_of
from seamwright.drawing.measured import bent
from seamwright.geometry import Affine, Point, along, moved


@dataclass(frozen=True, slots=True)
class Strand:
    """One seam.

    Attributes:
        kind: "seam", "arc", "bending" or "curve".
        points: as its line gives them: all corners; start, a point between and end; start, one or two points that
            it is pulled towards and end; all points.
    """

    kind: str
    points: tuple[Point, ...]

    @property
    def straight(self) -> bool:
        """Whether it runs straight from point to point, so that each of its points is a corner."""
        return self.kind == "seam"

    @property
    def ends(self) -> tuple[Point, Point]:
        """Where it begins and where it ends."""
        return self.points[0], self.points[-1]

    def flat(self) -> tuple[Point, ...]:
        """Points along it, straight between them."""
        if self.kind == "arc":
            start, middle, end = self.points
            try:
                return arc(start, middle, end)
            except ValueError:  # on its way from one form to another it may be straight
                return self.points
        if self.kind == "bending":
            return tuple(bent(self.points))
        return self.points

    def moved(self, affine: Affine) -> Strand:
        """Its image; of an arc only if the transform keeps circles circles."""
        return Strand(self.kind, tuple(moved(affine, p) for p in self.points))

    def part(self, start: float, first: Point, end: float, last: Point) -> Strand:
        """The part between two positions, `first` and `last` being the places there, as others name them."""
        points = self.flat()
        reach = list(accumulate((math.dist(a, b) for a, b in pairwise(points)), initial=0.0))
        if self.kind in ("seam", "curve"):
            inner = [p for p, at in zip(points, reach, strict=True) if start + 1e-9 < at < end - 1e-9]
            inner = [p for p in inner if p not in (first, last)]
            kind = self.kind if inner else "seam"
            return Strand(kind, (first, *inner, last))
        if self.kind == "arc":
            return Strand("arc", (first, self._on_arc((start + end) / 2 / reach[-1]), last))
        t, u = (self.parameter(p, at / reach[-1]) for p, at in ((first, start), (last, end)))
        degree = len(self.points) - 1
        inner = [_blossom(self.points, [t] * (degree - k) + [u] * k) for k in range(1, degree)]
        return Strand("bending", (first, *inner, last))

    def _on_arc(self, share: float) -> Point:
        """The place on an arc at a share of its length."""
        a, b, c = self.points
        x, y = centre_of(a, b, c)
        radius = math.dist((x, y), a)
        first, middle, last = (math.atan2(p[1] - y, p[0] - x) for p in self.points)
        clockwise = (middle - first) % math.tau < (last - first) % math.tau
        turn = (last - first) % math.tau if clockwise else -((first - last) % math.tau)
        return x + radius * math.cos(first + share * turn), y + radius * math.sin(first + share * turn)

    def parameter(self, point: Point, guess: float) -> float:
        """The parameter of a Bezier curve nearest to a place on it."""
        if point == self.points[0] and guess < 0.5:
            return 0.0
        if point == self.points[-1] and guess > 0.5:
            return 1.0

        def away(t: float) -> float:
            return math.dist(point, _blossom(self.points, [t] * (len(self.points) - 1)))

        best, step = min((k / 64 for k in range(65)), key=away), 1 / 64
        while step > 1e-12:
            best = min((best, max(0.0, best - step), min(1.0, best + step)), key=away)
            step /= 1.5 if step > 1e-3 else 2
        return best


def _blossom(points: Sequence[Point], shares: Sequence[float]) -> Point:
    """The polar form of a Bezier curve: with all shares alike the place on the curve there."""
    row = list(points)
    for t in shares:
        row = [(a[0] + t * (b[0] - a[0]), a[1] + t * (b[1] - a[1])) for a, b in pairwise(row)]
    return row[0]


def position(points: Sequence[Point], segment: int, at: Point) -> float:
    """How far along a flattened seam a place on one of its segments lies."""
    before = math.fsum(math.dist(a, b) for a, b in pairwise(points[: segment + 1]))
    a, b = points[segment], points[segment + 1]
    return before + min(max(along(at, a, b), 0.0), math.dist(a, b))
