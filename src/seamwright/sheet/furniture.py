"""What a sheet carries besides foundations: blocks of words, each with its size and its ink.

Knows:  what an item of furniture is; the foot, cautions, legends, the line for a name.
Leaves: what is measured (gauges), the key (key), where items lie (furnish).
Units:  points; every item is drawn from its own top left corner, x right and y down.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass, field
from functools import cache, cached_property, lru_cache
from typing import overload

from seamwright.geometry import Ring, Segment, moved
from seamwright.ink.lettering import width_pt
from seamwright.ink.model import Anchor, Ink, Pen, Stroke, Words, move_ink
from seamwright.ink.wrap import lines_of

INCH_PT = 72.0
NOTE_PT, FOOT_PT = 8.0, 7.0
"""Type sizes of notes and of the foot."""
NOTE_STEP, FOOT_STEP = 10.0, 9.0
"""From baseline to baseline."""
TINT = "#dcdcdc"
"""14 % grey: letters stay clear on it, a copier keeps it."""

BEFORE_SEWING = (
    "Print at 100 %, no fit to page. Measure both squares and both long lines before you sew. "
    "A sheet that is off is printed again."
)
ONE_PRINTER = "Print a whole project on one printer. A copied sheet stretches: measure each copy too."
CAUTIONS = f"{ONE_PRINTER} Enlarging a sheet enlarges the allowance too."
NAME_PT, NAME_STEP, NAME_RULE_PT = 8.0, 26.0, 324.0
"""The line for a name: type, room to write in, and how long its rule is at most."""
NAME = "Name"
NAME_GAP_PT = 5.0
NAME_WIDTH_PT = width_pt(NAME, NAME_PT) + NAME_GAP_PT + 3 * INCH_PT
"""A name is written by hand: 3 in at least."""


@dataclass(frozen=True, slots=True)
class Item:
    """A piece of furniture.

    Attributes:
        width, height: the box it fills, from (0, 0).
        ink: what is drawn.
        squares: top left corner and side of each check square in it.
        lines: the long lines in it.
    """

    width: float
    height: float
    ink: Sequence[Ink]
    squares: tuple[tuple[float, float, float], ...] = field(default=())
    lines: tuple[Segment, ...] = field(default=())

    def ring(self) -> Ring:
        """Its box."""
        return ((0.0, 0.0), (self.width, 0.0), (self.width, self.height), (0.0, self.height))

    def at(self, x: float, y: float) -> Item:
        """The item with its top left corner moved to a point of the sheet."""
        shift = (1.0, 0.0, 0.0, 1.0, x, y)
        return Item(
            self.width,
            self.height,
            Later(lambda: (move_ink(mark, shift) for mark in self.ink)),
            tuple((sx + x, sy + y, side) for sx, sy, side in self.squares),
            tuple((moved(shift, a), moved(shift, b)) for a, b in self.lines),
        )


class Later(Sequence[Ink]):
    """Ink made when it is first looked at: most sheets and places tried for an item come to nothing."""

    def __init__(self, made: Callable[[], Iterable[Ink]]) -> None:
        self._made = made

    @cached_property
    def _ink(self) -> tuple[Ink, ...]:
        return tuple(self._made())

    @overload
    def __getitem__(self, at: int) -> Ink: ...
    @overload
    def __getitem__(self, at: slice) -> Sequence[Ink]: ...
    def __getitem__(self, at: int | slice) -> Ink | Sequence[Ink]:
        return self._ink[at]

    def __len__(self) -> int:
        return len(self._ink)


@lru_cache(maxsize=512)
def foot(
    head: str, side_words: str, more: tuple[str, ...], width: float, *, warning: str = "", name_line: bool = False
) -> Item:
    """What the sheet is, and cautions.

    Args:
        head: bold, at the left of the first line; side_words: at its right, left out where there is no room.
        more: further paragraphs.
        warning: a bold one before them, "" for none.
        name_line: above it a line to write a name on.
    """
    above = line_for_name(width) if name_line else Item(0.0, 0.0, ())
    ink, y = list(above.ink), above.height
    heads = lines_of(head, FOOT_PT, width, bold=True, most=2)
    ink += column(heads, 0.0, y, FOOT_PT, FOOT_STEP, bold=True)
    if width_pt(head, FOOT_PT, bold=True) + width_pt(side_words, FOOT_PT) + 12.0 <= width:
        ink.append(Words(side_words, (width, y + FOOT_STEP - 2.0), FOOT_PT, Anchor.END))
    y += FOOT_STEP * len(heads)
    warned = (paragraph(warning, width, bold=True),) if warning else ()
    for one in (*warned, *(paragraph(words, width) for words in more)):
        ink += one.at(0.0, y).ink
        y += one.height
    return Item(width, y, tuple(ink))


@cache
def line_for_name(width: float) -> Item:
    """A line to write a name on, no wider than that, with room for handwriting above it."""
    start, y = width_pt(NAME, NAME_PT) + NAME_GAP_PT, NAME_STEP - 6.0
    end = min(width, start + NAME_RULE_PT)
    return Item(end, NAME_STEP, (Words(NAME, (0.0, y), NAME_PT), Stroke(Pen.RULE, ((start, y), (end, y)))))


@lru_cache(maxsize=2048)
def paragraph(text: str, width: float, *, bold: bool = False) -> Item:
    """Words in the type of the foot, no wider than that."""
    broken = lines_of(text, FOOT_PT, width, bold=bold)
    wide = max(width_pt(line, FOOT_PT, bold=bold) for line in broken)
    return Item(wide, FOOT_STEP * len(broken), tuple(column(broken, 0.0, 0.0, FOOT_PT, FOOT_STEP, bold=bold)))


@lru_cache(maxsize=512)
def legend(head: str, lines: tuple[str, ...], width: float) -> Item:
    """Words that found no room on the prints.

    Args:
        head: bold, above them; "" for none.
        lines: each starts a new line of words.
    """
    heads = lines_of(head, NOTE_PT, width, bold=True) if head else ()
    broken = [part for line in lines for part in lines_of(line, NOTE_PT, width)]
    ink = [
        *column(heads, 0.0, 0.0, NOTE_PT, NOTE_STEP, bold=True),
        *column(broken, 0.0, NOTE_STEP * len(heads), NOTE_PT, NOTE_STEP),
    ]
    widths = [*(width_pt(h, NOTE_PT, bold=True) for h in heads), *(width_pt(line, NOTE_PT) for line in broken)]
    return Item(max(widths), NOTE_STEP * (len(heads) + len(broken)), tuple(ink))


def column(
    lines: Iterable[str], x: float, top: float, size: float, step: float, *, bold: bool = False
) -> list[Ink]:
    """Lines of words one below the other, the first one's letters just below `top`."""
    return [Words(line, (x, top + step * (n + 1) - 2.0), size, bold=bold) for n, line in enumerate(lines)]
