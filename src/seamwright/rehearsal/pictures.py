"""A picture for every step of a rehearsal, both sides of the work beside each other.

Knows:  where the words of each picture stand, what its file is called.
Leaves: what each shows and the words (panels, captions), files (the caller).
Units:  inches on the page; all pictures have one size, so that they can be played one after the other.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass
from types import MappingProxyType

from seamwright.ink.lettering import width_pt
from seamwright.ink.model import Anchor, Ink, Words
from seamwright.ink.wrap import wrapped
from seamwright.options import Units
from seamwright.picture.tints import CHALK, INK, QUIET
from seamwright.rehearsal.captions import CAUTIONS
from seamwright.rehearsal.model import Rehearsed, Sewing
from seamwright.rehearsal.panels import LEFT, RIGHT, Shown, show_rehearsal
from seamwright.rehearsal.sides import Parts

WIDTH_IN, HEIGHT_IN = 10.6, 7.7
MARGIN_IN = 0.4
TITLE_PT, WORDS_PT, SMALL_PT = 14.0, 10.0, 8.0
NAME_PT = 420.0
"""Room for a block's name in a title."""
LABEL_Y, LEGEND_Y, CAPTION_Y = 1.05, 6.32, 6.68
CAPTION_LINES, LINE_EM = 4, 1.35
"""A longer caption is set smaller; from baseline to baseline, in type sizes."""


@dataclass(frozen=True, slots=True)
class RehearsalPicture:
    """One picture.

    Attributes:
        name: file name without its ending; names sort in sewing order.
        title, caption: the words on it.
        inks: on a page of `width_in` x `height_in` with ground `ground`.
    """

    name: str
    title: str
    caption: str
    inks: tuple[Ink, ...]
    width_in: float = WIDTH_IN
    height_in: float = HEIGHT_IN
    ground: str = CHALK


def draw_rehearsal(
    block: str,
    sewing: Sewing,
    rehearsed: Rehearsed,
    colours: Mapping[str, str],
    units: Units = Units.INCH,
    parts: Parts = MappingProxyType({}),
) -> tuple[RehearsalPicture, ...]:
    """The pictures in sewing order: every step, every section trimmed, the block joined.

    Args:
        block: its name.
        colours: of each patch by name, "#rrggbb".
        parts: of each patch that is pieced beforehand, as `Sides` wants them.
    """
    drawn = show_rehearsal(_short(block), sewing, rehearsed, colours, units, parts)
    digits = max(2, len(str(len(drawn))))
    pictures = []
    for number, shown in enumerate(drawn, start=1):
        words = _words(shown.title, shown.caption, CAUTIONS if number == 1 else "")
        name = f"{file_stem(block)}-{number:0{digits}d}-{shown.what}"
        pictures.append(RehearsalPicture(name, shown.title, shown.caption, (*_page_inks(shown), *words)))
    return tuple(pictures)


def file_stem(block: str) -> str:
    """A block's name as the beginning of file names: letters and figures, the rest as hyphens.

    >>> file_stem("Kite & tail"), file_stem("/")
    ('Kite-tail', 'block')
    """
    return re.sub(r"[^\w.]+", "-", block).strip("-.")[:60] or "block"


def _short(block: str) -> str:
    """A block's name, cut so that a title has room for it."""
    if width_pt(block, TITLE_PT, bold=True) <= NAME_PT:
        return block
    kept = next(
        n for n in range(len(block), -1, -1) if width_pt(f"{block[:n]} ...", TITLE_PT, bold=True) <= NAME_PT
    )
    return f"{block[:kept].rstrip(' ,;')} ..."


def is_step_picture(file: str, block: str) -> bool:
    """Whether a file's name is that of a picture of this block's rehearsal, of this plan or an earlier one."""
    return re.fullmatch(re.escape(file_stem(block)) + r"-\d{2,}-[\w.+-]+\.svg", file) is not None


def _page_inks(shown: Shown) -> list[Ink]:
    """Both panels, their heads above and legends below."""
    middles = (LEFT[0], RIGHT[0])
    heads = [
        Words(text, (x, LABEL_Y), WORDS_PT, Anchor.MIDDLE, colour=QUIET)
        for x, text in zip(middles, shown.heads, strict=True)
    ]
    legends = [
        Words(text, (x, LEGEND_Y), SMALL_PT, Anchor.MIDDLE, colour=QUIET)
        for x, text in zip(middles, shown.legends, strict=True)
        if text
    ]
    return [*heads, *shown.left, *shown.right, *legends]


def _words(title: str, caption: str, cautions: str) -> list[Ink]:
    most = (WIDTH_IN - 2 * MARGIN_IN) * 72
    inks: list[Ink] = [Words(title, (MARGIN_IN, 0.6), TITLE_PT, bold=True, colour=INK)]
    y = CAPTION_Y
    size = WORDS_PT if len(wrapped(caption, WORDS_PT, most)) <= CAPTION_LINES else SMALL_PT
    for text, size_pt in ((caption, size), (cautions, SMALL_PT)):
        lines = list(wrapped(text, size_pt, most))
        room = int((HEIGHT_IN - MARGIN_IN / 2 - y) / (LINE_EM * size_pt / 72)) + 1
        if len(lines) > room:
            # Only the joins of a large block are so many; the plan in words lists them all.
            lines = [*lines[: room - 1], "... and so on, as seamwright check lists them."]
        for line in lines:
            inks.append(Words(line, (MARGIN_IN, y), size_pt, colour=INK))
            y += LINE_EM * size_pt / 72
        y += 0.04
    return inks
