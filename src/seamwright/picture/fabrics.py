"""The picture of fabrics: a block in colour, beside it in greys, and a swatch of each fabric below.

Knows:  where pictures, swatches and words go; a row for each block and colourway.
Leaves: the block in its fabrics (cloth), the words (words.fabrics), ink to SVG (ink.svg).
Units:  inches.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import TYPE_CHECKING

from seamwright.block.model import Block
from seamwright.fabric.worn import Wear
from seamwright.geometry import IDENTITY, Point, Ring
from seamwright.ink.model import Area, Ink, Pen, Stroke, Words, move_ink
from seamwright.ink.wrap import lines_of, wrapped
from seamwright.picture.cloth import Finish, View, block_picture, fabric_fill
from seamwright.picture.marks import circle
from seamwright.picture.model import Picture
from seamwright.picture.stripes import printed_on
from seamwright.picture.tints import INK, QUIET, WHITE
from seamwright.words.fabrics import hue_sentence, is_known, reads, share_words, values_sentence, verdict

if TYPE_CHECKING:
    from seamwright.cloths import Cloths

MARGIN_IN, GAP_IN, SIDE_IN = 0.4, 0.4, 3.7
WIDTH_IN = 2 * MARGIN_IN + 2 * SIDE_IN + GAP_IN
TITLE_PT, WORDS_PT, SMALL_PT = 14.0, 10.0, 8.0
TITLE_LINE_IN, LINE_IN, SMALL_LINE_IN = 0.27, 0.2, 0.145
ROW_GAP_IN = 0.5
SWATCH_IN = (0.62, 0.4)
"""Width and height; the right half is the grey of the same light."""
IN_A_ROW = 4
RING_IN = 0.11
"""Round a point that vanishes."""


def fabrics_sheet(rows: Sequence[Cloths]) -> Picture:
    """All rows below each other."""
    inks: list[Ink] = []
    top = MARGIN_IN
    for count, cloths in enumerate(rows):
        top += ROW_GAP_IN if count else 0.0
        drawn, top = _row(cloths, top)
        inks += drawn
    return Picture(tuple(inks), WIDTH_IN, top + MARGIN_IN)


def _row(cloths: Cloths, top: float) -> tuple[list[Ink], float]:
    """One block in one colourway, and where it ends."""
    block = cloths.plan.block
    inks: list[Ink] = []
    y = top + 0.18
    for count, line in enumerate(lines_of(block.title, TITLE_PT, (WIDTH_IN - 2 * MARGIN_IN) * 72, bold=True)):
        y += TITLE_LINE_IN if count else 0.0
        inks.append(Words(line, (MARGIN_IN, y), TITLE_PT, bold=True, colour=INK))
    for text in (verdict(cloths), hue_sentence(cloths.worn.beside), values_sentence(cloths)):
        for count, line in enumerate(wrapped(text, WORDS_PT, (WIDTH_IN - 2 * MARGIN_IN) * 72)):
            y += LINE_IN + (0.05 if count == 0 else 0.0)
            inks.append(Words(line, (MARGIN_IN, y), WORDS_PT, colour=INK))
    y += 0.2
    bottom = y
    shown = [(MARGIN_IN, Finish.COLOUR, _in_colour(cloths))]
    if is_known(cloths):
        shown.append((MARGIN_IN + SIDE_IN + GAP_IN, Finish.GREY, "In greys that give as much light"))
    for x, finish, what in shown:
        picture = block_picture(block, SIDE_IN, finish)
        inks += [move_ink(ink, (*IDENTITY[:4], x, y)) for ink in picture.inks]
        inks += _rings(cloths, View.of(block, SIDE_IN, finish), (x, y))
        what += ". Ringed: points that vanish" if cloths.lost else ""
        inks.append(Words(what, (x, y + picture.height_in + 0.17), SMALL_PT, colour=QUIET))
        bottom = max(bottom, y + picture.height_in + 0.17)
    swatches, bottom = _swatches(block, cloths.worn.wear, bottom + 0.22)
    return [*inks, *swatches], bottom


def _in_colour(cloths: Cloths) -> str:
    """What the coloured picture shows."""
    lacking = [wear for wear in cloths.worn.wear if wear.fabric.colour is None]
    if not lacking and not cloths.worn.bare:
        return "In colour"
    all_lack = len(lacking) == len(cloths.worn.wear)
    return "Tints stand for colours that are not known" if all_lack else "In colour; tints where none is known"


def _rings(cloths: Cloths, view: View, corner: Point) -> Iterator[Ink]:
    """A ring round each point that vanishes, to be seen on dark and on light."""
    for x, y in view.line(list(dict.fromkeys(lost.at for lost in cloths.lost))):
        ring = circle((corner[0] + x, corner[1] + y), RING_IN)
        yield Stroke(Pen.WALL_STITCH, ring, closed=True, colour=WHITE)
        yield Stroke(Pen.STITCH, ring, closed=True, colour=INK)


def _swatches(block: Block, wears: Sequence[Wear], top: float) -> tuple[list[Ink], float]:
    """A swatch of each fabric, with its name, how it reads, and how much of the block it is; and where they end."""
    inks: list[Ink] = []
    cell = (WIDTH_IN - 2 * MARGIN_IN) / IN_A_ROW
    bottom = top
    for count, wear in enumerate(wears):
        if count % IN_A_ROW == 0 and count:
            top = bottom + 0.14
        left = MARGIN_IN + (count % IN_A_ROW) * cell
        inks += _swatch(block, wear, left, top)
        x, y = left + SWATCH_IN[0] + 0.09, top + 0.1
        room = (cell - SWATCH_IN[0] - 0.16) * 72
        code = f" ({wear.fabric.code})" if wear.fabric.code else ""
        lines = [(line, True) for line in lines_of(wear.fabric.name + code, SMALL_PT, room, bold=True)]
        lines += [(line, False) for line in wrapped(f"{reads(wear)}; {share_words(wear.share)}", SMALL_PT, room)]
        for line, bold in lines:
            inks.append(Words(line, (x, y), SMALL_PT, bold=bold, colour=INK))
            y += SMALL_LINE_IN
        bottom = max(bottom, top + SWATCH_IN[1], y - SMALL_LINE_IN)
    return inks, bottom


def _swatch(block: Block, wear: Wear, left: float, top: float) -> Iterator[Ink]:
    """A piece of a fabric, half of it in grey."""
    width, height = SWATCH_IN
    for x, finish in ((left, Finish.COLOUR), (left + width / 2, Finish.GREY)):
        ring = _box(x, top, width / 2, height)
        ground = fabric_fill(wear.fabric, block, finish)
        yield Area((ring,), ground)
        yield from printed_on(wear.fabric, (ring,), ground, SIDE_IN)
    yield Stroke(Pen.RULE, _box(left, top, width, height), closed=True, colour=INK)


def _box(left: float, top: float, width: float, height: float) -> Ring:
    return ((left, top), (left + width, top), (left + width, top + height), (left, top + height))
