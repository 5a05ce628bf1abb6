"""Blocks from lines with whole or rational coordinates, noded exactly: independent of the tidying under test."""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from fractions import Fraction
from itertools import pairwise

from seamwright.block.model import Block
from seamwright.block.planar import Piece, build_block

Number = int | float | Fraction
ExactPoint = tuple[int | Fraction, int | Fraction]

SQUARE6: tuple[tuple[int, int], ...] = ((0, 0), (6, 0), (6, 6), (0, 6))


def exact_block(
    lines: Iterable[tuple[tuple[Number, Number], tuple[Number, Number]]],
    outline: Sequence[tuple[Number, Number]] = SQUARE6,
    name: str = "test",
) -> Block:
    """The block of straight lines inside an outline, every crossing found in rational numbers."""
    ring = [exact_point(p) for p in outline]
    drawn = [(exact_point(a), exact_point(b)) for a, b in lines]
    drawn += zip(ring, ring[1:] + ring[:1], strict=True)
    unit, whole = in_whole_numbers(drawn)
    segments = [tuple(sorted(line)) for line in whole]
    numbers: dict[ExactPoint, int] = {}
    line_numbers: dict[tuple[Fraction, ...], int] = {}
    pieces: dict[tuple[int, int], Piece] = {}
    for a, b in segments:
        on: set[ExactPoint] = {a, b}
        for c, d in segments:
            on.update(meet(a, b, c, d))
        line = line_numbers.setdefault(_line(a, b), len(line_numbers))
        for p, q in pairwise(sorted(on)):
            i, j = (numbers.setdefault(x, len(numbers)) for x in (p, q))
            pieces.setdefault((i, j), Piece(i, j, line))
    return build_block(name, "", in_floats(numbers, unit), list(pieces.values()))


def exact_point(point: tuple[Number, Number]) -> ExactPoint:
    """A point in rational numbers."""
    return (Fraction(point[0]), Fraction(point[1]))


def in_whole_numbers(chains: Iterable[Sequence[ExactPoint]]) -> tuple[int, list[list[ExactPoint]]]:
    """The largest unit of which every coordinate is a whole number, as a share of one, and the chains in it.

    Whole numbers are many times as fast as rational ones.
    """
    chains = list(chains)
    unit = math.lcm(*(number.denominator for chain in chains for point in chain for number in point))
    return unit, [[(int(x * unit), int(y * unit)) for x, y in chain] for chain in chains]


def in_floats(points: Iterable[ExactPoint], unit: int) -> list[tuple[float, float]]:
    """What was in whole numbers, or lies between them."""
    return [(float(Fraction(x, unit)), float(Fraction(y, unit))) for x, y in points]


def _line(a: ExactPoint, b: ExactPoint) -> tuple[Fraction, ...]:
    """The line through two points in a form that is the same for all pairs of points on it."""
    u, v = a[1] - b[1], b[0] - a[0]
    w = -(u * a[0] + v * a[1])
    scale = u or v
    return (Fraction(u, scale), Fraction(v, scale), Fraction(w, scale))


def meet(a: ExactPoint, b: ExactPoint, c: ExactPoint, d: ExactPoint) -> list[ExactPoint]:
    """Points of segment ab (a first) where segment cd touches or crosses it; ends only, if they share a line."""
    (ax, ay), (bx, by), (cx, cy), (dx, dy) = a, b, c, d
    if (cx < ax and dx < ax) or (cx > bx and dx > bx):
        return []
    # On which side of one segment the ends of the other lie.
    sc = (bx - ax) * (cy - ay) - (by - ay) * (cx - ax)
    sd = (bx - ax) * (dy - ay) - (by - ay) * (dx - ax)
    if sc == 0 or sd == 0:
        return [p for p, s in ((c, sc), (d, sd)) if s == 0 and a <= p <= b]
    if (sc > 0) == (sd > 0):
        return []
    sa = (dx - cx) * (ay - cy) - (dy - cy) * (ax - cx)
    sb = (dx - cx) * (by - cy) - (dy - cy) * (bx - cx)
    if sa == 0 or sb == 0:
        return [p for p, s in ((a, sa), (b, sb)) if s == 0]
    if (sa > 0) == (sb > 0):
        return []
    t = Fraction(sa, sa - sb)
    return [(ax + t * (bx - ax), ay + t * (by - ay))]
