"""The contact sheet of turnings: small quilts to choose from, each with its number and its lines to type.

Knows:  how many stand side by side, what stands below each, what is said at the head.
Leaves: the quilts themselves (picture.quilt), the words at the head (words.turnings), ink to files (choosing).
Units:  inches; pages in points.
Method: one grid, filled row by row; a row is as high as its pictures and the longest words below one of them.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from seamwright.geometry import IDENTITY
from seamwright.ink.lettering import width_pt
from seamwright.ink.model import Anchor, Ink, Words, move_ink
from seamwright.ink.page import Bookmark, Page
from seamwright.ink.wrap import lines_of, wrapped
from seamwright.paper import PT_PER_IN, Paper
from seamwright.picture.cloth import Finish
from seamwright.picture.model import Picture
from seamwright.picture.quilt import quilt_picture
from seamwright.picture.tints import INK, QUIET
from seamwright.quilt.layout import laid
from seamwright.quilt.looks import LookBook, read_looks
from seamwright.quilt.model import Cell
from seamwright.words.turnings import caption, foot_words, head_sentences, title

if TYPE_CHECKING:
    from seamwright.exploring import Turning, Turnings

SIDE_IN = 2.25
"""Longer side of a small quilt in a picture: its blocks are 9/16 in, so that one sees what they make together."""
LEAST_IN, MOST_IN, STEP_IN = 1.9, 3.0, 0.03
"""On pages it is between these: what takes the fewest, then what fills the first; tried in steps."""
JUDGED = 48
"""Of more layouts the first are enough to choose it by."""
GAP_IN, WIDEST_GAP_IN, ROW_GAP_IN = 0.25, 0.6, 0.22
LEFT_IN, TOP_IN, FOOT_IN = 0.25, 0.2, 0.34
"""Beyond what the printer leaves white."""
TITLE_PT, WORDS_PT, NUMBER_PT, LINES_PT, FOOT_PT = 14.0, 8.0, 10.0, 8.0, 7.0
FOOT_LINES = 2
NUMBER_IN = 0.17
"""From a picture to the line of its number."""
STEP = 1.35
"""From line to line, in type sizes."""
HANG_IN = 0.14
"""How far a line goes in where one of the file goes on below itself."""
TOUCH_IN = 1e-6
HELD = "\N{NO-BREAK SPACE}"
PICTURE_MARGIN_IN, PICTURE_COLUMNS = 0.4, 4
PNG_MOST_IN = 160.0
"""At 200 dots per inch: cairo draws no picture taller than 32,767 dots."""


def turnings_pages(
    found: Turnings, shown: Sequence[Turning], paper: Paper, progress: Callable[[str], None] = lambda _: None
) -> tuple[Page, ...]:
    """The sheet on pages, numbered; the head stands on the first."""
    margins = paper.margins
    left, top = margins.left + LEFT_IN, margins.top + TOP_IN
    width = paper.width_in - left - margins.right - LEFT_IN
    bottom = paper.height_in - margins.bottom - FOOT_IN
    head, down = _head(found, shown, width)
    grid = _Grid.filling(found, shown, width, (bottom - top - down, bottom - top))
    pages: list[list[Ink]] = [list(_at(head, left, top))]
    down += top
    heights = grid.heights(found, shown)
    for row, height in zip(_rows(found, shown, grid, progress), heights, strict=True):
        if down + height > bottom + TOUCH_IN and down > top:
            pages.append([])
            down = top
        pages[-1] += _at(row, left, down)
        down += height + ROW_GAP_IN
    base = bottom + FOOT_IN - 0.06
    scale = (PT_PER_IN, 0.0, 0.0, PT_PER_IN, 0.0, 0.0)
    made = []
    for number, inks in enumerate(pages, start=1):
        says = f"Page {number} of {len(pages)}"
        told = lines_of(foot_words(found), FOOT_PT, (width - 1) * PT_PER_IN, most=FOOT_LINES)
        rise = FOOT_PT * STEP / PT_PER_IN
        foot = [Words(line, (left, base - k * rise), FOOT_PT) for k, line in enumerate(reversed(told))]
        foot.append(Words(says, (left + width, base), FOOT_PT, Anchor.END))
        marks = (Bookmark(title(found), 1, 0.0),) if number == 1 else ()
        ink = tuple(move_ink(one, scale) for one in (*inks, *foot))
        made.append(Page(paper.width_pt, paper.height_pt, ink, marks))
    return tuple(made)


def turnings_picture(
    found: Turnings, shown: Sequence[Turning], progress: Callable[[str], None] = lambda _: None
) -> Picture:
    """The sheet as one picture, as tall as it gets."""
    grid, width = _across(shown)
    head, down = _head(found, shown, width)
    inks = list(_at(head, PICTURE_MARGIN_IN, PICTURE_MARGIN_IN))
    down += PICTURE_MARGIN_IN
    for row, height in zip(_rows(found, shown, grid, progress), grid.heights(found, shown), strict=True):
        inks += _at(row, PICTURE_MARGIN_IN, down)
        down += height + ROW_GAP_IN
    return Picture(tuple(inks), width + 2 * PICTURE_MARGIN_IN, picture_height_in(found, shown))


def picture_height_in(found: Turnings, shown: Sequence[Turning]) -> float:
    """How tall the picture gets, known before it is drawn."""
    grid, width = _across(shown)
    _, down = _head(found, shown, width)
    return 2 * PICTURE_MARGIN_IN + down + sum(h + ROW_GAP_IN for h in grid.heights(found, shown)) - ROW_GAP_IN


def _across(shown: Sequence[Turning]) -> tuple[_Grid, float]:
    """The grid of the picture, and how wide it is."""
    grid = _Grid(max(2, min(PICTURE_COLUMNS, len(shown))), SIDE_IN, SIDE_IN + GAP_IN)
    return grid, grid.columns * grid.step_in - GAP_IN


@dataclass(frozen=True, slots=True)
class _Grid:
    """Small quilts side by side.

    Attributes:
        columns: how many in a row. side_in: the longer side of each. step_in: from one to the next.
    """

    columns: int
    side_in: float
    step_in: float

    def heights(self, found: Turnings, shown: Sequence[Turning]) -> list[float]:
        """How high each row is: its pictures, and the most words below one of them."""
        block = found.blocks[0]
        high = self.side_in * min(1.0, block.height_in / block.width_in) + NUMBER_IN
        words = [sum(len(_broken(line, self.side_in)) for line in turning.lines) for turning in shown]
        rows = [words[k : k + self.columns] for k in range(0, len(words), self.columns)]
        return [high + max(row) * LINES_PT * STEP / PT_PER_IN for row in rows]

    @staticmethod
    def filling(found: Turnings, shown: Sequence[Turning], width: float, free: tuple[float, float]) -> _Grid:
        """Pictures as wide as so many in a row can be; a little less if that takes fewer pages, or fills the first.

        Args:
            width: of the page between its margins. free: height that the first page has for rows, and the others.
        """
        judged, grids = shown[:JUDGED], []
        for columns in range(1, max(2, int((width + GAP_IN) // (LEAST_IN + GAP_IN)) + 1)):
            side = widest = min((width + GAP_IN) / columns - GAP_IN, free[0] / 2, MOST_IN)
            while side >= min(LEAST_IN, widest):
                step = (width - side) / (columns - 1) if columns > 1 else side
                grids.append(_Grid(columns, side, min(step, side + WIDEST_GAP_IN)))
                side -= STEP_IN
        return min(grids, key=lambda grid: (*_use(grid.heights(found, judged), *free), -grid.side_in))


def _use(heights: Sequence[float], first: float, others: float) -> tuple[int, int]:
    """How many pages rows of these heights take, and how many rows do not fit on the first."""
    pages, on_first, left = 1, 0, first
    for height in heights:
        if height > left + TOUCH_IN and left < (first if pages == 1 else others):
            pages, left = pages + 1, others
        left -= height + ROW_GAP_IN
        on_first += pages == 1
    return pages, len(heights) - on_first


def _head(found: Turnings, shown: Sequence[Turning], width: float) -> tuple[tuple[Ink, ...], float]:
    """Title and sentences, and how high they are with the room below."""
    down = TITLE_PT / PT_PER_IN
    inks: list[Ink] = []
    for line in lines_of(title(found), TITLE_PT, width * PT_PER_IN, bold=True):
        inks.append(Words(line, (0.0, down), TITLE_PT, bold=True, colour=INK))
        down += TITLE_PT * STEP / PT_PER_IN
    down -= 0.03
    for sentence in head_sentences(found, len(shown)):
        for line in wrapped(sentence, WORDS_PT, width * PT_PER_IN):
            inks.append(Words(line, (0.0, down), WORDS_PT, colour=INK))
            down += WORDS_PT * STEP / PT_PER_IN
        down += 0.03
    return tuple(inks), down


def _rows(
    found: Turnings, shown: Sequence[Turning], grid: _Grid, progress: Callable[[str], None]
) -> Iterator[tuple[Ink, ...]]:
    """Row by row, each from (0, 0)."""
    book = looks_of_all(found)
    for first in range(0, len(shown), grid.columns):
        inks: list[Ink] = []
        for place, turning in enumerate(shown[first : first + grid.columns]):
            progress(f"layout {turning.number}")
            left, side = place * grid.step_in, grid.side_in
            picture = quilt_picture(laid(replace(found.setting(turning), binding=None), book), side, Finish.COLOUR)
            inks += _at(picture.inks, left, 0.0)
            down = picture.height_in + NUMBER_IN
            inks.append(Words(str(turning.number), (left, down), NUMBER_PT, bold=True, colour=INK))
            inks.append(Words(caption(turning), (left + side, down), LINES_PT, Anchor.END, colour=QUIET))
            for line in turning.lines:
                for count, part in enumerate(_broken(line, side)):
                    down += LINES_PT * STEP / PT_PER_IN
                    inks.append(Words(part, (left + HANG_IN * (count > 0), down), LINES_PT, colour=INK))
        yield tuple(inks)


def _broken(line: str, side: float) -> tuple[str, ...]:
    """A line of the file in lines as wide as its picture, if it can be between one block and the next."""
    room = (side - HANG_IN) * PT_PER_IN
    held = ", ".join(entry.replace(" ", HELD) for entry in line.split(", "))
    whole = wrapped(held.replace(HELD, " ", 1), LINES_PT, room)  # "row" may stand alone
    if all(width_pt(part, LINES_PT) <= room for part in whole):
        return tuple(part.replace(HELD, " ") for part in whole)
    return wrapped(line, LINES_PT, room, part=True)


def looks_of_all(found: Turnings) -> LookBook:
    """The looks of all layouts, each read once."""
    cells = {
        Cell(found.ways[state.block][0], state.turn, found.ways[state.block][1]) for state in found.group.states
    }
    first = tuple(sorted(cells, key=lambda cell: (cell.source, cell.colourway, cell.turn.reversed)))
    return read_looks(found.setting(found.every[0]), first)


def _at(inks: Sequence[Ink], left: float, top: float) -> Iterator[Ink]:
    return (move_ink(ink, (*IDENTITY[:4], left, top)) for ink in inks)
