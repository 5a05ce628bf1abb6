"""Which mends are alike: a symmetry of the drawing takes one to the other.

Knows:  the rotations and mirror images that take a block's map to itself.
Leaves: fabrics (a change of lines is the same change in another colour).
Units:  inches.
Method: a symmetry takes the outline to itself, so it is given by the corner that the first corner goes to, and by
        the hand; each is tried on all points and edges.
"""

from __future__ import annotations

import math
from collections.abc import Iterable

from seamwright.block.model import Block
from seamwright.geometry import IDENTITY, Affine, Point, moved, off_line
from seamwright.mend.change import Change

NEAR_IN = 1e-3
"""Places this near each other are one: a drawing that is symmetric to the eye counts as symmetric."""
MOST_CORNERS = 60


def symmetries(block: Block) -> list[Affine]:
    """The rotations and mirror images that take the block to itself, the identity first."""
    ring = _corners(block)
    found = [IDENTITY]
    if not 3 <= len(ring) <= MOST_CORNERS:
        return found
    places = _Places(block.points)
    edges = {frozenset((e.start, e.end)) for e in block.edges}
    for shift in range(len(ring)):
        for hand in (1, -1):
            affine = _onto(ring[0], ring[1], ring[shift], ring[(shift + hand) % len(ring)], hand)
            if affine is None or (shift == 0 and hand == 1):
                continue
            to = [places.at(moved(affine, p)) for p in block.points]
            if None not in to and all(frozenset((to[e.start], to[e.end])) in edges for e in block.edges):
                found.append(affine)
    return found


def signature(change: Change, ways: Iterable[Affine]) -> tuple[object, ...]:
    """The same for changes that are alike."""
    return min(_written(change, affine) for affine in ways)


def _written(change: Change, affine: Affine) -> tuple[object, ...]:
    def place(point: Point) -> tuple[int, int]:
        x, y = moved(affine, point)
        # A grid far finer than the drawing and far coarser than noise, moved off the places that drawings use.
        return (math.floor(x / 0.004 + 0.37), math.floor(y / 0.004 + 0.37))

    return (
        change.kind,
        change.extra,
        tuple(sorted((place(a), place(b)) for a, b in change.moved)),
        tuple(sorted(tuple(sorted((place(a), place(b)))) for a, b in change.seams)),
        tuple(sorted(tuple(sorted((place(a), place(b)))) for a, b in change.dropped)),
    )


def _corners(block: Block) -> list[Point]:
    ring = [block.points[p] for p in block.outline]
    return [
        p
        for a, p, b in zip(ring[-1:] + ring[:-1], ring, ring[1:] + ring[:1], strict=True)
        if abs(off_line(p, a, b)) > NEAR_IN
    ]


def _onto(a: Point, b: Point, c: Point, d: Point, hand: int) -> Affine | None:
    """The rotation, mirrored first if `hand` is -1, that takes a to c and b to d; None if there is none."""
    if abs(math.dist(a, b) - math.dist(c, d)) > NEAR_IN:
        return None
    before = math.atan2((b[1] - a[1]) * hand, b[0] - a[0])
    turn = math.atan2(d[1] - c[1], d[0] - c[0]) - before
    cos, sin = math.cos(turn), math.sin(turn)
    p, q, r, s = cos, sin, -sin * hand, cos * hand
    return (p, q, r, s, c[0] - p * a[0] - r * a[1], c[1] - q * a[0] - s * a[1])


class _Places:
    """Points by where they lie."""

    def __init__(self, points: Iterable[Point]) -> None:
        self._cells: dict[tuple[int, int], list[tuple[int, Point]]] = {}
        for number, point in enumerate(points):
            self._cells.setdefault(self._cell(point), []).append((number, point))

    @staticmethod
    def _cell(point: Point) -> tuple[int, int]:
        return (math.floor(point[0] / 0.01), math.floor(point[1] / 0.01))

    def at(self, place: Point) -> int | None:
        """The number of the point at a place, or None."""
        x, y = self._cell(place)
        near = (
            (math.dist(place, point), number)
            for i in (-1, 0, 1)
            for j in (-1, 0, 1)
            for number, point in self._cells.get((x + i, y + j), ())
        )
        best = min(near, default=(math.inf, -1))
        return best[1] if best[0] <= NEAR_IN else None
