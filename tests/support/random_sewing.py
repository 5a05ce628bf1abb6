"""Random blocks of 5 to 25 patches, drawn at any size, angle and place, for plan, checker and rehearsal.

Knows:  a kind and a number of patches for each seed; how a block is laid on a page and read from there.
Leaves: the blocks themselves (random_blocks, turning, curves), judging.
Units:  inches.
"""

from __future__ import annotations

import random
from collections.abc import Callable
from dataclasses import dataclass, replace

from seamwright.block.make import make_block
from seamwright.block.model import Block
from seamwright.block.rings import seam_points
from seamwright.drawing.model import Drawing
from seamwright.options import DEFAULT_TOLERANCE_IN, Fit, PlanOptions, Units
from support.copies import copied, turn
from support.curves import random_curved
from support.drawn import drawing, seam_lines
from support.random_blocks import (
    CONVEX,
    NOTCHED,
    OUTLINES,
    cut_block,
    erased_lines,
    full_chords,
    mixed_cells,
    random_lines,
    spiral,
    star,
    strip_of_triangles,
)
from support.turning import bent_over, tiled, voronoi

FEWEST, MOST = 5, 25
FARTHEST_IN = 1000.0
"""How far from the origin a drawing may lie."""
USUAL_IN = 6.0
"""The size at which the usual tolerance is used; it grows and shrinks with the block."""
WIDEST_IN = (2.0, 2.0, 6.0, 9.7, 16.0, 40.0)
NARROWEST_IN = 1.5
"""So that it is 1 in each way at every angle."""

Make = Callable[[random.Random, int], Block]
"""(chance, patches aimed at) to a block."""
MAKES: dict[str, Make] = {
    "cut": lambda c, n: cut_block(_sub(c), n, CONVEX[c.choice(sorted(CONVEX))]),
    "lines": lambda c, n: random_lines(_sub(c), 2 + n // 4, CONVEX[c.choice(sorted(CONVEX))], c.random()),
    "notched": lambda c, n: random_lines(_sub(c), 2 + n // 4, NOTCHED[c.choice(sorted(NOTCHED))], c.random()),
    "chords": lambda c, n: full_chords(_sub(c), 2 + n // 4, size=c.choice((6, 60))),
    "erased": lambda c, n: erased_lines(_sub(c), 3 + n // 4, OUTLINES[c.choice(sorted(OUTLINES))], c.random() / 2),
    "cells": lambda c, n: voronoi(_sub(c), n),
    "rings": lambda c, n: tiled(_sub(c), n, min(c.randint(1, 3), (n - 1) // 4)),
    "bent": lambda c, n: bent_over(voronoi(_sub(c), n), _near(c, 4, 1), c.uniform(1, 2.5), _near(c, 0, 0.4)),
    "curved": lambda c, n: random_curved(_sub(c), 1 + n // 5, c.randint(1, 2)),
    "repeated": lambda c, n: c.choice(
        (
            lambda: star(max(3, n // 2)),
            lambda: spiral(n - 1),
            lambda: strip_of_triangles(n),
            lambda: mixed_cells(_sub(c), 2 + (n > 11)),
        )
    )(),
}  # fmt: skip


@dataclass(frozen=True, slots=True)
class Drawn:
    """A random block as it was drawn, how many patches it has, and what it is planned with."""

    seed: int
    kind: str
    patches: int
    drawing: Drawing
    options: PlanOptions

    def block(self) -> Block:
        """The block that is read from the drawing."""
        return make_block(self.drawing, self.options)


def drawn(seed: int) -> Drawn:
    """The random drawing of a seed. Kinds and numbers of patches take turns."""
    chance = random.Random(f"sewing {seed}")
    kind = sorted(MAKES)[seed % len(MAKES)]
    block = of_size(MAKES[kind], chance, FEWEST + seed // len(MAKES) % (MOST - FEWEST + 1))
    wide, narrow = max(block.width_in, block.height_in), min(block.width_in, block.height_in)
    scale = max(chance.choice(WIDEST_IN) / wide, NARROWEST_IN / narrow)
    angle = chance.choice((0.0, 90.0, 45.0, chance.uniform(0, 360), chance.uniform(0, 360)))
    far = chance.choice((0.0, FARTHEST_IN))
    shift = (chance.uniform(-far, far), chance.uniform(-far, far))
    affine = turn(angle, mirrored=chance.random() < 0.5, scale=scale, shift=shift)
    options = PlanOptions(
        tolerance_in=DEFAULT_TOLERANCE_IN * scale * wide / USUAL_IN,
        set_in=True,
        fit=chance.choice((Fit.NONE, Fit.NONE, Fit.SHEET)),
        max_patches=chance.choice((None, None, None, 4)),
        units=chance.choice((Units.INCH, Units.INCH, Units.METRIC)),
        steps=5_000,
    )
    return Drawn(seed, kind, len(block.patches), copied(as_drawing(block), affine, chance), options)


def as_drawing(block: Block) -> Drawing:
    """A block as a person would draw it: straight seams from end to end, curves, outline."""
    curves = [number for number, seam in enumerate(block.seams) if not seam.straight]
    lines = seam_lines(replace(block, seams=tuple(seam for seam in block.seams if seam.straight)))
    return drawing(lines, curves=[seam_points(block, number) for number in curves])


def of_size(make: Make, chance: random.Random, patches: int) -> Block:
    """A block of a kind, of 5 to 25 patches."""
    while True:
        block = make(chance, patches)
        if FEWEST <= len(block.patches) <= MOST:
            return block
        patches += 1 if len(block.patches) < FEWEST else -1


def _sub(chance: random.Random) -> int:
    return chance.randrange(10**6)


def _near(chance: random.Random, middle: float, reach: float) -> tuple[float, float]:
    return (chance.uniform(middle - reach, middle + reach), chance.uniform(middle - reach, middle + reach))
