"""From a hasty sketch to a proven plan: whatever becomes a block has a plan that passes the independent checker."""

from __future__ import annotations

import math
import random

import pytest

from seamwright import api
from seamwright.block.make import make_block
from seamwright.block.model import Block
from seamwright.drawing.model import Drawing, Line
from seamwright.errors import DrawingError
from seamwright.geometry import Point, canonical_ring
from support.random_blocks import cut_block, full_chords, random_lines

SIDE_IN = 8.0
WOBBLES_IN = (0.0, 1e-6, 1e-4, 1e-3, 0.005, 0.02, 0.04)


def sketch(block: Block, chance: random.Random, wobble_in: float) -> Drawing:
    """The block's seams and sides as loose lines, turned at random, in any order, each end a little off."""
    scale, turn = SIDE_IN / block.width_in, chance.choice((0.0, chance.uniform(0, math.tau)))

    def off(point: Point) -> Point:
        x, y = point[0] * scale, point[1] * scale
        turned = (x * math.cos(turn) - y * math.sin(turn), x * math.sin(turn) + y * math.cos(turn))
        return (
            turned[0] + chance.uniform(-wobble_in, wobble_in),
            turned[1] + chance.uniform(-wobble_in, wobble_in),
        )

    corners = [off(p) for p in canonical_ring(block.outline_ring())]
    lines = [Line(a, b) for a, b in zip(corners, corners[1:] + corners[:1], strict=True)]
    lines += [Line(off(block.points[s.points[0]]), off(block.points[s.points[-1]])) for s in block.seams]
    chance.shuffle(lines)
    return Drawing("sketch", "", tuple(lines))


def proven(seed: int, count: int) -> tuple[int, int]:
    """(how many of `count` sketches became blocks, how many of those can be sewn); raises if a proof fails."""
    chance = random.Random(seed)
    blocks = sewn = 0
    for number in range(count):
        sub = chance.randrange(2**32)
        block = (
            lambda: cut_block(sub, chance.randint(3, 20)),  # noqa: B023
            lambda: random_lines(sub, chance.randint(2, 9)),  # noqa: B023
            lambda: full_chords(sub, chance.randint(2, 8), size=60),  # noqa: B023
        )[number % 3]()
        drawing = sketch(block, chance, chance.choice(WOBBLES_IN))
        try:
            made = make_block(drawing)
        except DrawingError:
            continue
        blocks += 1
        sewn += bool(api.plan(made).sections)
    return blocks, sewn


@pytest.mark.parametrize("seed", range(4))
def test_a_sketch_that_becomes_a_block_has_a_proven_plan(seed: int):
    blocks, sewn = proven(seed, 60)
    assert blocks > 45
    assert sewn > 45


@pytest.mark.long
@pytest.mark.parametrize("seed", range(100, 120))
def test_thousands_of_sketches_have_proven_plans(seed: int):
    blocks, sewn = proven(seed, 400)
    assert blocks > 300
    assert sewn > 300
