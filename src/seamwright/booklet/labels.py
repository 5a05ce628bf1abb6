"""Pages of piece labels to cut out, one for the stack of each patch, section by section.

Knows:  what stands on a label, how many fit a page.
Leaves: sizes of pieces (cutting), pages (pages).
Units:  inches on the page, points for type.
"""

from __future__ import annotations

import math
from collections.abc import Sequence

from seamwright.booklet.model import Figure, Full, Story
from seamwright.booklet.saying import cut_size
from seamwright.cutting.model import Cutting
from seamwright.cutting.stacks import Stack, stacks
from seamwright.fabric.pieces import Piece, Shape
from seamwright.fabric.words import becomes, fabric_called
from seamwright.ink.lettering import width_pt
from seamwright.ink.model import Ink, Pen, Stroke, Words
from seamwright.ink.wrap import wrapped
from seamwright.paper import PT_PER_IN
from seamwright.units import say_count, say_list

WIDE_IN, HIGH_IN = 1.9, 1.15
"""A label is at least so large: it is pinned to a stack and read at arm's length."""
NAME_PT, WORDS_PT = 16.0, 8.5
PAD_IN = 0.1


def labels_story(cutting: Cutting, room_in: tuple[float, float]) -> Story:
    """Pages of labels.

    Args:
        room_in: width and height of what fills a page, as `pages.full_room` says.
    """
    across, down = (
        max(1, math.floor(room / least)) for room, least in zip(room_in, (WIDE_IN, HIGH_IN), strict=True)
    )
    wide = room_in[0] / across
    labels = [(piece, stack) for stack in stacks(cutting) for piece in stack.pieces]
    pages = [labels[at : at + across * down] for at in range(0, len(labels), across * down)]
    text = "Cut the labels out and pin one to each stack; in a section the stacks lie in sewing order."
    title = f"Labels of {cutting.plan.block.title}"
    return tuple(
        Full(
            title if len(pages) == 1 else f"{title}, page {number} of {len(pages)}",
            text,
            _page(cutting, page, across, wide),
        )
        for number, page in enumerate(pages, start=1)
    )


def _page(cutting: Cutting, labels: Sequence[tuple[Piece, Stack]], across: int, wide: float) -> Figure:
    inks: list[Ink] = []
    for number, label in enumerate(labels):
        inks += _label(cutting, *label, number % across * wide, number // across * HIGH_IN, wide)
    down, last = -(-len(labels) // across), len(labels) % across or across
    columns = min(across, len(labels))
    for row in range(down + 1):
        end = last if row == down and down > 1 else columns
        inks.append(Stroke(Pen.HELPER, ((0.0, row * HIGH_IN), (end * wide, row * HIGH_IN))))
    for column in range(columns + 1):
        rows = down if column <= last else down - 1
        inks.append(Stroke(Pen.HELPER, ((column * wide, 0.0), (column * wide, rows * HIGH_IN))))
    says = f"Labels for {', '.join(piece.name for piece, _ in labels)}, each with its fabric, size and number."
    return Figure(tuple(inks), columns * wide, down * HIGH_IN, says)


def _label(cutting: Cutting, piece: Piece, stack: Stack, left: float, top: float, wide: float) -> list[Ink]:
    plan, room = cutting.plan, (wide - 2 * PAD_IN) * PT_PER_IN
    square = abs(piece.width_in - piece.height_in) < 1e-9
    fabric = next((f for f in plan.block.fabrics if f.name == piece.fabric), None)
    size = cut_size(piece.width_in, piece.height_in, plan.options.units)
    cut = "" if piece.shape is Shape.RECTANGLE else f", {becomes(piece.shape, piece.share, square, piece.hand)}"
    more = f"the same in {say_list(stack.sections[1:], most=4)}" if len(stack.sections) > 1 else ""
    words = [
        *wrapped(fabric_called(fabric or piece.fabric), WORDS_PT, room, part=True)[:2],
        *wrapped(f"{size}{cut}", WORDS_PT, room, part=True)[:2],
        *wrapped(more, WORDS_PT, room, part=True)[:1],
    ]
    many = say_count(stack.count, "piece")
    x, base = left + PAD_IN, top + PAD_IN + 0.17
    foot = f"{plan.block.title}, plan {plan.id}"
    if width_pt(foot, 7.0) > room:
        foot = f"plan {plan.id}"
    inks: list[Ink] = [
        Words(piece.name, (x, base), NAME_PT, bold=True),
        Words(many, (left + wide - PAD_IN - width_pt(many, WORDS_PT) / PT_PER_IN, base), WORDS_PT),
        Words(foot, (x, top + HIGH_IN - PAD_IN + 0.02), 7.0),
    ]
    return [*inks, *(Words(line, (x, base + 0.15 * k), WORDS_PT) for k, line in enumerate(words[:4], start=1))]
