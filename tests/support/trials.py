"""What becomes of a design drawn badly: the generator and the judge put together, with the tidying between them.

Knows:  the designs by name, blocks cut at random by number ("cut 7").
Leaves: faults of drawing (support.sketchy), the verdict (support.asmeant).
Units:  inches; strength is a share of the tolerance.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable
from dataclasses import replace
from fractions import Fraction
from functools import lru_cache

from seamwright.block.make import make_block
from seamwright.block.model import Block
from seamwright.drawing.read import read_drawing
from seamwright.errors import DrawingError
from seamwright.options import DEFAULT_TOLERANCE_IN
from support.asmeant import NOWHERE, REFUSED, RIGHT, TOLD, UNTOLD, Shown, differs, has_place, shown, told
from support.drawn import drawing, roomy, seam_lines
from support.prints import DESIGNS
from support.random_blocks import cut_block
from support.sketchy import sketch

NEAR = 4 * DEFAULT_TOLERANCE_IN
"""Where lines cross at a slant, a point moves by more than its lines do."""
ROOM_IN, LEAN = 0.15, 0.12
"""As near as points and lines of the designs come to each other, and as sharp as most of their angles are."""


@lru_cache(maxsize=64)
def meant(name: str) -> tuple[Block, Shown]:
    """A good design by its file's name, or the block cut at random that has this number."""
    block = _cut(int(name[4:])) if name.startswith("cut ") else make_block(read_drawing(DESIGNS / name))
    return block, shown(block)


def cut_names(count: int) -> list[str]:
    """Names of the first blocks cut at random that keep room between their lines."""
    found: list[str] = []
    seed = 0
    while len(found) < count:
        if roomy(_cut(seed), ROOM_IN, LEAN):
            found.append(f"cut {seed}")
        seed += 1
    return found


def _cut(seed: int) -> Block:
    """A block of 8 in cut to 3 to 14 patches."""
    block = cut_block(seed, 3 + seed % 12)
    grown = [tuple((x * 8 / 6, y * 8 / 6) for x, y in line) for line in seam_lines(block)]
    return replace(make_block(drawing(grown)), name=f"cut {seed}")


def tried(name: str, kind: str, strength: Fraction | float, seeds: Iterable[int]) -> Counter[str]:
    """How often each outcome came, over sketches of one design."""
    return Counter(outcome(name, kind, strength, seed) for seed in seeds)


def outcome(name: str, kind: str, strength: Fraction | float, seed: int) -> str:
    """What came of one sketch: one of `asmeant.OUTCOMES`."""
    block, as_meant = meant(name)
    try:
        made = make_block(sketch(block, kind, float(strength) * DEFAULT_TOLERANCE_IN, seed))
    except DrawingError as error:
        return REFUSED if has_place(error) else NOWHERE
    near = NEAR * max(1.0, float(strength))
    odd = differs(as_meant, shown(made), near)
    if not odd:
        return RIGHT
    return TOLD if told(made, odd, near) else UNTOLD
