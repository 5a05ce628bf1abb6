"""The pictures of a quilt with their captions: whole and at arm's length, in colour and in greys; greys by area.

Knows:  which part is seen at arm's length, what stands beside what, and how large.
Leaves: the quilt in its fabrics (quilt), the words (words.quiltpictures), files (quiltpictures).
Units:  inches.
Method: a picture shows the quilt as from as far away as what it shows is long, so that it fills the eye's view
        alike: the whole from across the room, at arm's length 24 in of it (60 cm in metric measures), round the
        place nearest its middle where blocks meet. A quilt no larger than that is seen whole at arm's length.
"""

from __future__ import annotations

import math
import re
from collections.abc import Iterator
from dataclasses import dataclass

from seamwright.geometry import IDENTITY, Box, Point, moved
from seamwright.ink.model import Ink, Repeated, Words, move_ink
from seamwright.ink.wrap import lines_of, wrapped
from seamwright.options import Units
from seamwright.picture.cloth import Finish
from seamwright.picture.greys import greys_figure
from seamwright.picture.model import Picture
from seamwright.picture.quilt import quilt_repeated
from seamwright.picture.quiltview import shown_box
from seamwright.picture.tints import INK
from seamwright.quilt.balance import balance
from seamwright.quilt.model import Quilt
from seamwright.words.quiltpictures import facts, greys_words, part_words, shown_in, whole_words

ARM_IN, ARM_CM = 24.0, 60.0
"""How far a hand holds away what it shows to its own eyes (common practice)."""
MARGIN_IN, GAP_IN = 0.4, 0.4
SIDE_IN, HIGH_IN = 6.0, 7.5
"""Room for one picture of the whole; that of a part is SIDE_IN wide at the most."""
TITLE_PT, WORDS_PT = 16.0, 11.0
TITLE_LINE_IN, LINE_IN = 0.3, 0.21
GREYS_IN = 1.5
"""How high the bars of its greys stand, with their figures."""
_HELD = re.compile(r"(?<=\d) (?=\d+/\d|in\b|ft\b|cm\b|m\b)")
"""The blank between a number and its fraction or unit, at which no line is broken."""
LEAST_IN = 4.0
"""A narrow quilt leaves as much room for its words."""


@dataclass(frozen=True, slots=True)
class Shown:
    """One of the pictures.

    Attributes:
        finish: in colour or in greys. part: what of the quilt it shows, None for all of it. says: its caption.
    """

    finish: Finish
    part: Box | None
    says: str


def shown(quilt: Quilt) -> tuple[Shown, ...]:
    """The pictures that are made of a quilt, those of the whole first; greys if a colour or value is known."""
    units, fabrics = quilt.setting.units, quilt.fabrics
    finishes = [Finish.COLOUR]
    if any(fabric.colour is not None or fabric.value is not None for fabric in fabrics):
        finishes.append(Finish.GREY)
    near = arms_length(quilt)
    found = []
    for part in (None, near) if near is not None else (None,):
        how = whole_words(max(quilt.width_in, quilt.height_in) if near is not None else 0.0, units)
        if part is not None:
            left, top, right, bottom = part
            how = f"at arm's length, {part_words(right - left, bottom - top, units)}"
        found += [Shown(finish, part, f"{shown_in(finish, fabrics)}: {how}") for finish in finishes]
    return tuple(found)


def arms_length(quilt: Quilt) -> Box | None:
    """The part of a quilt that is seen at arm's length; None if that is all of it."""
    side = ARM_IN if quilt.setting.units is Units.INCH else ARM_CM / 2.54
    left, top, right, bottom = shown_box(quilt)
    if right - left <= side and bottom - top <= side:
        return None
    x, y = _meeting(quilt)
    wide, high = min(side, right - left), min(side, bottom - top)
    x = min(max(x - wide / 2, left), right - wide)
    y = min(max(y - high / 2, top), bottom - high)
    return (x, y, x + wide, y + high)


def _meeting(quilt: Quilt) -> Point:
    """The corner of a block nearest to the middle; the upper one, then the left one, of several."""
    middle = (quilt.width_in / 2, quilt.height_in / 2)
    corners = [
        moved(spot.place, (x, y))
        for spot in quilt.spots
        for block in (quilt.looks[spot.look].block,)
        for x in (0.0, block.width_in)
        for y in (0.0, block.height_in)
    ]
    # Rounded, or noise would choose among corners that lie as far away as each other.
    return min(
        corners, key=lambda p: (round(math.dist(p, middle), 6), round(p[1], 6), round(p[0], 6)), default=middle
    )


def quilt_sheet(quilt: Quilt) -> tuple[tuple[Repeated, ...], Picture]:
    """All pictures on one sheet: colours at the left, greys at the right, the whole above, arm's length below.

    Returns:
        What is drawn below all else, block by block, and the picture on top of it.
    """
    pictures = shown(quilt)
    columns = len({one.finish for one in pictures})
    left, top, right, bottom = shown_box(quilt)
    share = (right - left) / (bottom - top)
    wide = min(SIDE_IN, HIGH_IN * share)
    near = arms_length(quilt)
    part_wide = 0.0
    if near is not None:
        part_wide = SIDE_IN * min(1.0, (near[2] - near[0]) / (near[3] - near[1]))
    column = max(wide, part_wide, LEAST_IN)
    width = 2 * MARGIN_IN + columns * column + (columns - 1) * GAP_IN
    inks: list[Ink] = []
    y = MARGIN_IN + 0.2
    for count, line in enumerate(lines_of(quilt.setting.name, TITLE_PT, (width - 2 * MARGIN_IN) * 72, bold=True)):
        y += TITLE_LINE_IN if count else 0.0
        inks.append(Words(line, (MARGIN_IN, y), TITLE_PT, bold=True, colour=INK))
    for line in wrapped(facts(quilt, quilt.setting.units), WORDS_PT, (width - 2 * MARGIN_IN) * 72):
        y += LINE_IN + 0.04
        inks.append(Words(line, (MARGIN_IN, y), WORDS_PT, colour=INK))
    y += 0.2
    repeated: list[Repeated] = []
    for first in range(0, len(pictures), columns):
        below = y
        for number, one in enumerate(pictures[first : first + columns]):
            x = MARGIN_IN + number * (column + GAP_IN)
            longest = max(wide, wide / share) if one.part is None else SIDE_IN
            drawn, view = quilt_repeated(quilt, longest, one.finish, (x, y), one.part)
            repeated += drawn
            high = view.height
            caption = list(_caption(one.says, (x, y + high), column))
            inks += caption
            below = max(below, caption[-1].at[1])
        y = below + 0.3
    light = balance(quilt)
    if light.greys:
        figure = greys_figure(light, min(SIDE_IN, width - 2 * MARGIN_IN), GREYS_IN)
        inks += [move_ink(ink, (*IDENTITY[:4], MARGIN_IN, y)) for ink in figure.inks]
        says = greys_words(light.known)
        caption = list(_caption(says, (MARGIN_IN, y + figure.height_in), width - 2 * MARGIN_IN))
        inks += caption
        y = caption[-1].at[1] + 0.3
    return tuple(repeated), Picture(tuple(inks), width, y - 0.3 + MARGIN_IN)


def _caption(says: str, corner: Point, width: float) -> Iterator[Words]:
    for count, line in enumerate(wrapped(_HELD.sub("\u00a0", says), WORDS_PT, width * 72)):
        at = (corner[0], corner[1] + 0.2 + count * LINE_IN)
        yield Words(line, at, WORDS_PT, colour=INK)
