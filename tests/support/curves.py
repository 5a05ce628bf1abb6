"""Blocks with curves, noded exactly: a curve is a chain of rational points that no seam need touch.

Knows:  curves that lines cross as often as chance has it, closed ones, ones that meet at their ends only.
Leaves: reading curves from drawings.
"""

from __future__ import annotations

import math
import random
from collections.abc import Sequence
from fractions import Fraction
from itertools import pairwise

from seamwright.block.model import Block
from seamwright.block.planar import Piece, build_block
from support.exact import SQUARE6, ExactPoint, Number, exact_point, in_floats, in_whole_numbers, meet
from support.random_blocks import Outline, random_line_list

Chain = Sequence[tuple[Number, Number]]


def curved_block(curves: Sequence[Chain], lines: Sequence[Chain], outline: Outline = SQUARE6) -> Block:
    """The block of curves and lines.

    Raises:
        ValueError: a curve crosses itself or runs along another line, or a line hangs.
    """
    ring = [exact_point(p) for p in outline]
    chains = [[exact_point(p) for p in curve] for curve in curves]
    chains += [[exact_point(p) for p in line] for line in lines]
    chains += [list(side) for side in zip(ring, ring[1:] + ring[:1], strict=True)]
    unit, chains = in_whole_numbers(chains)
    every = [(n, pair) for n, chain in enumerate(chains) for pair in pairwise(chain)]
    touched: dict[ExactPoint, set[int]] = {}
    walks: list[list[ExactPoint]] = []
    for number, chain in enumerate(chains):
        walk = [chain[0]]
        for a, b in pairwise(chain):
            on = {a, b}
            for other, (c, d) in every:
                found = meet(min(a, b), max(a, b), c, d)
                on.update(found)
                for p in found:
                    touched.setdefault(p, set()).update((number, other))
            walk += sorted(on, key=lambda p: (p[0] - a[0]) ** 2 + (p[1] - a[1]) ** 2)[1:]
        if len(set(walk)) < len(walk) - (walk[0] == walk[-1]):
            raise ValueError("a curve crosses itself")
        walks.append(walk)
    numbers: dict[ExactPoint, int] = {}
    pieces: dict[frozenset[ExactPoint], int] = {}
    made: list[Piece] = []
    for number, walk in enumerate(walks):
        # Points at which nothing else is belong to the run of the curve.
        stops = [i for i, p in enumerate(walk) if len(touched.get(p, ())) > 1 or i in (0, len(walk) - 1)]
        for start, end in pairwise(stops):
            via = walk[start + 1 : end]
            for a, b in pairwise(walk[start : end + 1]):
                if pieces.setdefault(frozenset((a, b)), number) != number or a == b:
                    raise ValueError("two lines run along each other")
            if number < len(curves) and not via:
                (x, y), (u, v) = walk[start], walk[end]
                via = [(Fraction(x + u, 2), Fraction(y + v, 2))]
            one, two = (numbers.setdefault(walk[i], len(numbers)) for i in (start, end))
            made.append(Piece(one, two, number, tuple(in_floats(via, unit))))
    return build_block("curved", "", in_floats(numbers, unit), made)


def circle(middle: tuple[Number, Number], radius: Number) -> list[ExactPoint]:
    """A closed chain of 24 points, turned a little so that none of them lies on a grid."""
    angles = [0.1 + math.tau * k / 24 for k in range(24)]
    x, y = middle
    chain = [(x + radius * _rounded(math.cos(t)), y + radius * _rounded(math.sin(t))) for t in angles]
    return [exact_point(p) for p in (*chain, chain[0])]


def wave(heights: Sequence[Fraction], width: int = 6) -> list[tuple[Fraction, Fraction]]:
    """A smooth wave through heights evenly spaced from side to side."""
    steps = 12
    chain = []
    for k in range(steps * (len(heights) - 1) + 1):
        n, share = min(k // steps, len(heights) - 2), Fraction(k, steps) - min(k // steps, len(heights) - 2)
        rise = _rounded((1 - math.cos(math.pi * share)) / 2)
        x = Fraction(width * k, steps * (len(heights) - 1))
        chain.append((x, heights[n] + rise * (heights[n + 1] - heights[n])))
    return chain


def _rounded(value: float) -> Fraction:
    return Fraction(round(value * 9973), 9973)


def random_curved(seed: int, lines: int, curves: int = 1, outline: Outline = SQUARE6) -> Block:
    """A square with wavy curves from side to side or round a place, and lines as in `random_lines`."""
    while True:
        chance = random.Random(seed)
        drawn = random_line_list(seed, lines, outline, whole=0.7)
        waves: list[list[tuple[Fraction, Fraction]]] = []
        for _ in range(curves):
            across = chance.random() < 0.6
            if chance.random() < 0.2:
                middle = [Fraction(chance.randint(10, 30), 8) for _ in range(2)]
                waves.append(circle((middle[0], middle[1]), Fraction(chance.randint(5, 15), 9)))
                continue
            low = chance.randint(3, 40)
            at = [Fraction(chance.randint(low, low + 20), 11) for _ in range(chance.choice((2, 3, 4)))]
            waves.append([(x, y) if across else (y, x) for x, y in wave(at)])
        try:
            return curved_block(waves, drawn, outline)
        except (ValueError, KeyError):
            seed += 100_000
