"""Where pieces of a quilt lie along each other: sides of blocks and plain pieces, and the seams that end there.

Knows:  the sides of a block with what shows along them and which seams end on them; which sides of a quilt share a
        run, and which pieces meet at a point of it.
Leaves: what follows for whoever designs (advice) or presses (pressing).
Units:  inches; places along a side are measured from its start, clockwise round the piece; angles in degrees.
Method: sides of one direction are sorted by their distance from the origin; those on one line whose runs overlap by
        more than a needle's breadth touch. Places of the same line are compared along it, never point with point.
Limits: straight sides; a curved outline touches nothing here.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import lru_cache

from seamwright.block.model import OUTSIDE, Block
from seamwright.geometry import Point, moved
from seamwright.quilt.model import Quilt

SAME_IN = 1e-4
"""Places nearer than this are one: layouts are exact to far less, drawings are tidied to whole points."""
STRAIGHT_DEG = 1e-3
"""An outline that turns by less keeps to one side."""
SIDES = ("right", "bottom", "left", "top")
"""By the direction in which a side looks, in quarter turns clockwise from the right."""


@dataclass(frozen=True, slots=True)
class End:
    """A point on a side where something of its block ends or turns.

    Attributes:
        at: from the start of the side. point: its number in the block.
        edges: numbers of the seams' edges that end there; () at a corner where none does.
    """

    at: float
    point: int
    edges: tuple[int, ...]


@dataclass(frozen=True, slots=True)
class Side:
    """A straight side of a piece.

    Attributes:
        start, end: its ends, in the inches of the piece, clockwise round it.
        ends: points on it, both its corners included, in order.
        runs: (from, to, number of the patch, its fabric) along it, in order.
    """

    start: Point
    end: Point
    ends: tuple[End, ...]
    runs: tuple[tuple[float, float, int, str | None], ...]

    @property
    def length(self) -> float:
        """Inches."""
        return math.dist(self.start, self.end)

    @property
    def name(self) -> str:
        """Where it lies in its own piece: "top", "right", "bottom", "left"."""
        (x1, y1), (x2, y2) = self.start, self.end
        # Clockwise with y down, what lies outside is on the left hand: the direction turned back a quarter.
        return SIDES[round(math.degrees(math.atan2(x1 - x2, y2 - y1)) / 90) % 4]


@dataclass(frozen=True, slots=True)
class Piece:
    """A block or a plain piece in its place.

    Attributes:
        look: number of its look, -1 for a plain piece. number: of the spot, or of the cloth.
        sides: in the quilt's inches, clockwise.
        shape: sides in the inches of the piece, of the same numbers.
    """

    look: int
    number: int
    sides: tuple[tuple[Point, Point], ...]
    shape: tuple[Side, ...]


@dataclass(frozen=True, slots=True)
class Contact:
    """A run that two pieces share.

    Attributes:
        one, other: numbers of the pieces. side, other_side: numbers of their sides.
        start, end: of the run, along the side of `one`.
        shift: place `t` along the side of `one` is place `shift - t` along that of `other`.
    """

    one: int
    other: int
    side: int
    other_side: int
    start: float
    end: float
    shift: float

    @property
    def length(self) -> float:
        """Inches."""
        return self.end - self.start


@lru_cache(maxsize=64)
def sides_of(block: Block) -> tuple[Side, ...]:
    """The straight sides of a block, clockwise from the one that its first outline point belongs to."""
    count = len(block.outline)
    curved = [bool(block.edges[number].via) for number in block.outline_edges]
    heading = [
        _heading(block.points[a], block.points[b])
        for a, b in zip(block.outline, (*block.outline[1:], *block.outline[:1]), strict=True)
    ]
    turns = [
        curved[k] or curved[k - 1] or abs((heading[k] - heading[k - 1] + 180) % 360 - 180) > STRAIGHT_DEG
        for k in range(count)
    ]
    starts = [k for k in range(count) if turns[k]]
    ending: dict[int, list[int]] = {}
    for number, edge in enumerate(block.edges):
        if OUTSIDE not in (edge.left, edge.right):
            ending.setdefault(edge.start, []).append(number)
            ending.setdefault(edge.end, []).append(number)
    found = []
    for first, last in zip(starts, [*starts[1:], *starts[:1]], strict=True):
        if curved[first]:
            continue
        steps = [(first + k) % count for k in range((last - first) % count or count)]
        points = [block.outline[k] for k in (*steps, last)]
        start = block.points[points[0]]
        places = [math.dist(start, block.points[p]) for p in points]
        ends = tuple(End(at, p, tuple(ending.get(p, ()))) for at, p in zip(places, points, strict=True))
        within = [_inside(block, block.outline_edges[k]) for k in steps]
        runs = tuple(
            (a, b, patch, block.patches[patch].fabric)
            for a, b, patch in zip(places, places[1:], within, strict=False)
        )
        found.append(Side(start, block.points[points[-1]], ends, runs))
    return tuple(found)


def _inside(block: Block, number: int) -> int:
    edge = block.edges[number]
    return edge.right if edge.left == OUTSIDE else edge.left


def _heading(a: Point, b: Point) -> float:
    return math.degrees(math.atan2(b[1] - a[1], b[0] - a[0]))


def pieces_of(quilt: Quilt, blocks: Sequence[Block] | None = None) -> tuple[Piece, ...]:
    """All blocks in the order of the quilt's spots, then all plain pieces.

    Args:
        blocks: of each look, where others are asked about than those of the looks (that of its plan, say).
    """
    shapes = [sides_of(block) for block in (blocks or [look.block for look in quilt.looks])]
    found = [
        Piece(
            spot.look,
            number,
            tuple((moved(spot.place, side.start), moved(spot.place, side.end)) for side in shapes[spot.look]),
            shapes[spot.look],
        )
        for number, spot in enumerate(quilt.spots)
    ]
    for number, cloth in enumerate(quilt.cloths):
        ring = list(zip(cloth.ring, (*cloth.ring[1:], *cloth.ring[:1]), strict=True))
        plain = tuple(
            Side(a, b, (End(0.0, -1, ()), End(math.dist(a, b), -1, ())), ((0.0, math.dist(a, b), 0, cloth.fabric),))
            for a, b in ring
        )
        found.append(Piece(-1, number, tuple(ring), plain))
    return tuple(found)


def contacts_of(pieces: Sequence[Piece]) -> tuple[Contact, ...]:
    """Every run that two pieces share, each once, in the order of the pieces."""
    lines: dict[int, list[tuple[float, float, float, bool, int, int]]] = {}
    for number, piece in enumerate(pieces):
        for side, (a, b) in enumerate(piece.sides):
            heading = _heading(a, b) % 360
            forward = heading < 180 - STRAIGHT_DEG or heading >= 360 - STRAIGHT_DEG
            axis = math.radians(heading if forward else heading - 180)
            ux, uy = math.cos(axis), math.sin(axis)
            off = (a[1] + b[1]) / 2 * ux - (a[0] + b[0]) / 2 * uy
            low, high = sorted((a[0] * ux + a[1] * uy, b[0] * ux + b[1] * uy))
            # To the nearest 1/100 of a degree: quilts know multiples of 45 degrees and nothing between.
            lines.setdefault(round(math.degrees(axis) * 100) % 18000, []).append(
                (off, low, high, forward, number, side)
            )
    found: list[Contact] = []
    for line in lines.values():
        line.sort()
        start = 0
        for k, row in enumerate(line):
            if k + 1 == len(line) or line[k + 1][0] - row[0] > SAME_IN:
                found += _along(line[start : k + 1])
                start = k + 1
    return tuple(sorted(found, key=lambda c: (c.one, c.other, c.side, c.start)))


def _along(line: list[tuple[float, float, float, bool, int, int]]) -> Iterator[Contact]:
    """Contacts of the sides on one line: those that run one way touch those that run the other."""
    ahead = sorted((row[1:] for row in line if row[3]), key=lambda row: row[:2])
    back = sorted((row[1:] for row in line if not row[3]), key=lambda row: row[:2])
    first = 0
    for low, high, _, number, side in ahead:
        while first < len(back) and back[first][1] <= low + SAME_IN:
            first += 1
        for other_low, other_high, _, other, other_side in back[first:]:
            if other_low >= high - SAME_IN:
                break
            start, end = max(low, other_low), min(high, other_high)
            if end - start <= SAME_IN or number == other:
                continue
            # The one that runs ahead begins at its low end, the other at its high end.
            if number < other:
                yield Contact(number, other, side, other_side, start - low, end - low, other_high - low)
            else:
                yield Contact(
                    other, number, other_side, side, other_high - end, other_high - start, other_high - low
                )


def on_side(piece: Piece, side: int, at: float) -> Point:
    """The place in the quilt that lies `at` from the start of a piece's side."""
    (x1, y1), (x2, y2) = piece.sides[side]
    share = at / math.dist((x1, y1), (x2, y2))
    return (x1 + share * (x2 - x1), y1 + share * (y2 - y1))
