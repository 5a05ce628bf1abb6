"""A page to colour in: the block blank and large, boxes for fabrics, four small blocks to try values on.

Knows:  how the page is parted, what is written into patches.
Leaves: the blank block itself (picture.cloth), pages (pages).
Units:  inches.
"""

from __future__ import annotations

import math

from seamwright.booklet.model import Figure, Full
from seamwright.geometry import Point
from seamwright.ink.model import Anchor, Ink, Pen, Stroke, Words, move_ink
from seamwright.picture.cloth import Finish, block_picture
from seamwright.picture.tints import INK, QUIET
from seamwright.piecing.model import Plan

GAP_IN = 0.22
LOW_SHARE = 0.3
"""Share of the page's height that is left to the small blocks and the boxes."""
BOX_IN, LABEL_PT = 0.3, 8.0
LEAST_BOXES, MOST_BOXES = 6, 10
SMALL_LEAST_IN = 0.5
"""A small block is at least this wide, or it can hardly be coloured: then there are fewer of them."""
REPEAT = 2
"""Small blocks side by side and below each other."""


def colouring_page(plan: Plan, room: Point, *, names: bool = True) -> Full:
    """The page, filled as far as the block's shape allows.

    Args:
        room: width and height that the figure may take.
        names: write the name of each patch into it where there is room.
    """
    block, (width, height) = plan.block, room
    low = height * LOW_SHARE
    share = block.width_in / block.height_in
    wide = min(width, (height - low - GAP_IN) * share)
    large = block_picture(block, max(wide, wide / share), Finish.BLANK, names=plan.patch_names() if names else ())
    inks: list[Ink] = _at(large.inks, ((width - large.width_in) / 2, 0.0))
    top = large.height_in + GAP_IN
    low = min(height - top, low)
    rows, wide = REPEAT, min((low - 0.02) / REPEAT * share, width * 0.5 / REPEAT)
    if wide < SMALL_LEAST_IN:  # a tall block: side by side alone there is room for twice as much of it
        rows, wide = 1, min((low - 0.02) * share, width * 0.5 / REPEAT)
    small = block_picture(block, max(wide, wide / share), Finish.BLANK)
    step = (small.width_in - _edge(small.width_in), small.height_in - _edge(small.height_in))
    for row in range(rows):
        for column in range(REPEAT):
            inks += _at(small.inks, (column * step[0], top + row * step[1]))
    right = REPEAT * small.width_in + 2 * GAP_IN
    inks += _boxes(len(block.fabrics), (right, top), (width - right, low))
    bottom = max(top + low, top + rows * small.height_in)
    many = "four" if rows > 1 else "two"
    says = f"The block as outlines, large; below it {many} small ones side by side, and boxes for fabrics"
    text = (
        "Colour the block with your own fabrics in mind; squint, or look at it in grey, to see its values. The "
        f"{many} small ones show what comes about where blocks meet."
    )
    return Full("A page to colour in", text, Figure(tuple(inks), width, bottom, says))


def _edge(side: float) -> float:
    """The outer line that two small blocks side by side share."""
    return min(Pen.BOLD.value.width_pt / 72, side / 4)


def _boxes(fabrics: int, corner: Point, room: Point) -> list[Ink]:
    """Boxes to fill with colour or to paste fabric into, a line to write on behind each."""
    (left, top), (wide, high) = corner, room
    count = min(max(fabrics + 2, LEAST_BOXES), MOST_BOXES)
    rows = max(1, min(count, math.floor((high - 0.2) / (BOX_IN + 0.1))))
    columns = math.ceil(count / rows)
    step = wide / columns
    inks: list[Ink] = [Words("My fabrics", (left, top + 0.1), LABEL_PT, Anchor.START, colour=QUIET)]
    for number in range(count):
        x = left + number // rows * step
        y = top + 0.2 + number % rows * (BOX_IN + 0.1)
        corners = ((x, y), (x + BOX_IN, y), (x + BOX_IN, y + BOX_IN), (x, y + BOX_IN))
        inks.append(Stroke(Pen.RULE, corners, closed=True, colour=INK))
        line = ((x + BOX_IN + 0.1, y + BOX_IN), (x + step - 0.15, y + BOX_IN))
        inks.append(Stroke(Pen.RULE, line, colour=QUIET))
    return inks


def _at(inks: tuple[Ink, ...], corner: Point) -> list[Ink]:
    return [move_ink(ink, (1, 0, 0, 1, *corner)) for ink in inks]
