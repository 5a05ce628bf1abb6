"""Quilts whose blocks are laid by hand, one after the other, for tests of what follows from how they lie."""

from __future__ import annotations

import math
from collections.abc import Sequence

from seamwright.block.model import Block
from seamwright.quilt.model import Cloth, Look, Quilt, Setting, Spot


def set_by_hand(
    blocks: Sequence[Block], rows: Sequence[Sequence[tuple[int, int]]], cloths: Sequence[Cloth] = ()
) -> Quilt:
    """Square blocks of one size, edge to edge.

    Args:
        blocks: one look each. rows: for each place (number of the block, quarter turns clockwise).
        cloths: plain pieces besides.
    """
    side = blocks[0].width_in
    looks = tuple(Look(block.name, block.name, block.file, block) for block in blocks)
    spots = []
    for row, line in enumerate(rows):
        for column, (look, quarters) in enumerate(line):
            cos, sin = round(math.cos(quarters * math.pi / 2)), round(math.sin(quarters * math.pi / 2))
            # About the middle of the block, then to its place; y runs down, so this turns clockwise as seen.
            shift_x = side / 2 - (cos - sin) * side / 2 + column * side
            shift_y = side / 2 - (sin + cos) * side / 2 + row * side
            place = (float(cos), float(sin), float(-sin), float(cos), shift_x, shift_y)
            spots.append(Spot(look, quarters, place, "centre", row, column))
    setting = Setting("by hand", "by-hand.setting", (), ())
    return Quilt(
        setting,
        side * len(rows[0]),
        side * len(rows),
        len(rows),
        len(rows[0]),
        (side, side),
        looks,
        tuple(spots),
        tuple(cloths),
    )
