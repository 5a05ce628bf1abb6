"""Blocks eased to the places that they fill: sizes differ by what tidying may move, and neighbours meet exactly.

Knows:  how a block is laid into a place of very nearly its size.
Leaves: which differences are too large (layout, borders, coping), what is said of them (layout, bordernotes).
Units:  inches, finished; front view, x right, y down.
"""

from __future__ import annotations

from seamwright.block.model import Block
from seamwright.geometry import Affine, after
from seamwright.quilt.model import Turn

EXACT_IN = 1e-7
"""Lengths that differ by less are one."""
EASED_IN = 0.001
"""What is eased by more than this is told: no smaller gap is drawn on purpose."""


def eased(block: Block, quarters: int, room_in: tuple[float, float]) -> Affine:
    """From a block's inches to those of a place that it fills, rotated, (0, 0) the place's top left corner.

    Args:
        room_in: width and height of the place; the block's own as it lies, to within tidying.
    """
    width, height = room_in[::-1] if quarters % 2 else room_in
    to = tuple(
        room / own if abs(room - own) > EXACT_IN else 1.0
        for room, own in ((width, block.width_in), (height, block.height_in))
    )
    turned = Turn(quarters).place(width, height)
    return turned if to == (1.0, 1.0) else after((to[0], 0.0, 0.0, to[1], 0.0, 0.0), turned)
