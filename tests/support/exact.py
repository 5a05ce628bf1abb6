"""Blocks from lines with whole or rational coordinates, noded exactly: independent of the tidying under test."""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from fractions import Fraction
from itertools import pairwise

from seamwright.block.model import Block
from seamwright.block.planar import Piece, build_block

Number = int | float | Fraction
ExactPoint = tuple[Fraction, Fraction]

SQUARE6: tuple[tuple[int, int], ...] = ((0, 0), (6, 0), (6, 6), (0, 6))


def exact_block(
    lines: Iterable[tuple[tuple[Number, Number], tuple[Number, Number]]],
    outline: Sequence[tuple[Number, Number]] = SQUARE6,
    name: str = "test",
) -> Block:
    """The block of straight lines inside an outline, every crossing found in rational numbers."""
    drawn = [[exact_point(p) for p in line] for line in lines]
    (ring, *drawn), unit = in_whole_numbers([[exact_point(p) for p in outline], *drawn])
    segments = [tuple(sorted((a, b))) for a, b in drawn]
    segments += [tuple(sorted(side)) for side in zip(ring, ring[1:] + ring[:1], strict=True)]
    numbers: dict[ExactPoint, int] = {}
    line_numbers: dict[tuple[Fraction, ...], int] = {}
    pieces: dict[tuple[int, int], Piece] = {}
    for a, b in segments:
        on = {a, b}
        for c, d in segments:
            on.update(meet(a, b, c, d))
        line = line_numbers.setdefault(_line(a, b), len(line_numbers))
        for p, q in pairwise(sorted(on)):
            i, j = (numbers.setdefault(x, len(numbers)) for x in (p, q))
            pieces.setdefault((i, j), Piece(i, j, line))
    return build_block(name, "", [in_floats(p, unit) for p in numbers], list(pieces.values()))


def in_whole_numbers(chains: Sequence[Sequence[ExactPoint]]) -> tuple[list[list[ExactPoint]], int]:
    """Chains of points enlarged to whole numbers, which are quicker to reckon with, and how many times."""
    unit = math.lcm(*(value.denominator for chain in chains for point in chain for value in point))
    return [[(int(x * unit), int(y * unit)) for x, y in chain] for chain in chains], unit  # type: ignore[misc]


def in_floats(point: ExactPoint, unit: int) -> tuple[float, float]:
    """A point enlarged so many times, as it was."""
    return (float(Fraction(point[0], unit)), float(Fraction(point[1], unit)))


def exact_point(point: tuple[Number, Number]) -> ExactPoint:
    """A point in rational numbers."""
    return (Fraction(point[0]), Fraction(point[1]))


def _line(a: ExactPoint, b: ExactPoint) -> tuple[Fraction, ...]:
    """The line through two points in a form that is the same for all pairs of points on it."""
    u, v = a[1] - b[1], b[0] - a[0]
    w = -(u * a[0] + v * a[1])
    scale = u or v
    return (Fraction(u, scale), Fraction(v, scale), Fraction(w, scale))


def meet(a: ExactPoint, b: ExactPoint, c: ExactPoint, d: ExactPoint) -> list[ExactPoint]:
    """Points of segment ab where segment cd touches or crosses it (ends only, if they share a line)."""

    def side(p: ExactPoint, q: ExactPoint, r: ExactPoint) -> Fraction:
        return (q[0] - p[0]) * (r[1] - p[1]) - (q[1] - p[1]) * (r[0] - p[0])

    sc, sd = side(a, b, c), side(a, b, d)
    if sc == 0 or sd == 0:
        return [p for p, s in ((c, sc), (d, sd)) if s == 0 and a <= p <= b]
    sa, sb = side(c, d, a), side(c, d, b)
    if sc * sd > 0 or sa * sb >= 0:
        return [p for p, s in ((a, sa), (b, sb)) if s == 0 and sc * sd < 0]
    t = Fraction(sa, sa - sb)
    return [(a[0] + t * (b[0] - a[0]), a[1] + t * (b[1] - a[1]))]
