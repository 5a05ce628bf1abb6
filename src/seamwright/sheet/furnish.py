"""Where furniture lies: in whatever space the foundations leave.

Knows:  the order in which items look for room, and what stands in where there is none.
Leaves: what the items are (furniture, key), which foundations lie on the sheet (pack).
Units:  points on the sheet.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, field
from functools import cache

from seamwright.geometry import Ring, Segment, bounds
from seamwright.ink.model import Words
from seamwright.sheet.furniture import Item
from seamwright.sheet.gauges import (
    FIVE_CM_PT,
    LABEL_PT,
    TICK_PT,
    Rule,
    check_squares,
    edge_ticks,
    line_ends,
    long_edges,
    long_line,
    rule_for,
)
from seamwright.sheet.nest import CELL_PT, Bed, Box, Corner, Shape, shape

ABOVE_FOOT_PT = 2 * CELL_PT
"""Between the foot and the line above it: two rows of cells, whatever the foot's height."""
AIR_CELLS = 2
"""The same air as between foundations, so that left edges line up with theirs."""


@dataclass(frozen=True, slots=True)
class Frame:
    """The printable part of a sheet, points."""

    left: float
    top: float
    right: float
    bottom: float

    @property
    def width(self) -> float:
        """Across."""
        return self.right - self.left

    def rule(self, *, upright: bool) -> Rule:
        """The long line that this part of a sheet can hold, up and down or across."""
        return rule_for(self.bottom - self.top if upright else self.width)

    def line(self, *, upright: bool) -> Item:
        """That line."""
        return long_line(self.rule(upright=upright), upright=upright)


@dataclass(frozen=True, slots=True)
class Wanted:
    """What must find room besides the check squares and the long lines.

    Attributes:
        feet: the foot in several widths, first as a row across the sheet; () where blocks and squares say it.
        apart: the same with words on the ticks or crosses that stand for a long line.
        blocks: keys and legends; each in several sizes, the one wanted most first.
        extras: blocks that are said in words already, and shown too where they find room.
        squares: the check squares.
        air: white around each, in cells.
        brief: what will do if all this finds no room.
    """

    feet: tuple[Item, ...]
    apart: tuple[Item, ...]
    blocks: tuple[tuple[Item, ...], ...]
    extras: tuple[tuple[Item, ...], ...] = ()
    squares: Item = field(default_factory=check_squares)
    air: int = AIR_CELLS
    brief: Wanted | None = None

    @property
    def row(self) -> Item:
        """The foot across the sheet."""
        return self.feet[0]


def panels(frame: Frame, foot: Item) -> list[list[Box]]:
    """Rectangles to keep free of foundations, from the most orderly arrangement to none at all.

    A long line lies above the foot, another stands at the right; squares, keys and legends form a row at the
    bottom. Each arrangement leaves the foundations more room than the one before, and furniture less.
    """
    lying, standing = frame.line(upright=False), frame.line(upright=True)
    low = frame.bottom - foot.height - ABOVE_FOOT_PT - lying.height
    base = (frame.left, low - CELL_PT, frame.right, frame.bottom)
    side = (frame.right - standing.width - CELL_PT, low - standing.height - CELL_PT, frame.right, low)
    row = low - FIVE_CM_PT - 2 * CELL_PT
    return [
        [base, side, (frame.left, row, frame.right, low)],
        [base, side],
        [base],
        [],
    ]


def furnish(
    bed: Bed, frame: Frame, trims: Sequence[Ring], wanted: Wanted, *, bare: bool = False
) -> tuple[Item, ...] | None:
    """All furniture of a sheet in its place, or None if something finds no room.

    Args:
        bed: foundations are taken on it; it is left as it is.
        trims: trim outlines on the sheet, clockwise as seen.
        bare: the foot, and long lines where they find room, for a print that fills the sheet; squares are then
            drawn over it, and so are the ends of long lines that found none.
    """
    if bare:
        narrower = (_bare(_Room(bed.copy(), frame), trims, foot, wanted) for foot in wanted.apart)
        return next((items for items in narrower if items is not None), None)
    wanting: Wanted | None = wanted
    while wanting is not None:
        for way in (_in_rows, _in_gaps) if wanting.feet else (_in_gaps, _lines_first):
            for feet in (wanting.feet, wanting.apart):
                room = _Room(bed.copy(), frame, wanting.air)
                items = way(room, trims, feet, wanting)
                if items is None:
                    break
                if feet is wanting.apart or all(_said(item) for item in items if item.lines):
                    more = (room.first(sizes, Corner.BOTTOM_LEFT) for sizes in wanting.extras)
                    return (*items, *(item for item in more if item is not None))
        wanting = wanting.brief
    return None


def _in_rows(room: _Room, trims: Sequence[Ring], feet: Sequence[Item], wanted: Wanted) -> tuple[Item, ...] | None:
    """The foot across the sheet, the lying line above it, the rest as low as it goes."""
    foot = room.at_foot(feet[0], room.frame.bottom - feet[0].height)
    if foot is None:
        return None
    lines = [_line(room, trims, foot, upright=upright) for upright in (False, True)]
    blocks = (room.first(sizes, Corner.BOTTOM_LEFT) for sizes in ((wanted.squares,), *wanted.blocks))
    return _whole([foot, *lines, *blocks])


def _in_gaps(room: _Room, trims: Sequence[Ring], feet: Sequence[Item], wanted: Wanted) -> tuple[Item, ...] | None:
    """The squares first, since they are the largest; words in whatever width finds room."""
    words = [feet] if feet else []
    items = [room.first(sizes, Corner.BOTTOM_LEFT) for sizes in ((wanted.squares,), *words, *wanted.blocks)]
    return _whole([*items, *(_line(room, trims, None, upright=upright) for upright in (False, True))])


def _lines_first(
    room: _Room, trims: Sequence[Ring], feet: Sequence[Item], wanted: Wanted
) -> tuple[Item, ...] | None:
    """The same, but the long lines before words: where no trim edge is long enough for ticks, they need room."""
    squares = room.first([wanted.squares], Corner.BOTTOM_LEFT)
    lines = [_line(room, trims, None, upright=upright) for upright in (False, True)]
    words = [feet, *wanted.blocks] if feet else wanted.blocks
    return _whole([squares, *lines, *(room.first(sizes, Corner.BOTTOM_LEFT) for sizes in words)])


def _bare(room: _Room, trims: Sequence[Ring], foot: Item, wanted: Wanted) -> tuple[Item, ...] | None:
    """Words, what must be seen beside them, and the long lines that find room."""
    needed = _whole([room.first(sizes, Corner.BOTTOM_LEFT) for sizes in ((foot,), *wanted.blocks)])
    if needed is None:
        return None
    lines = (_line(room, trims, None, upright=upright) for upright in (False, True))
    needed = (*needed, *(line for line in lines if line is not None))
    more = (room.first(sizes, Corner.BOTTOM_LEFT) for sizes in wanted.extras)
    return (*needed, *(item for item in more if item is not None))


def _said(line: Item) -> bool:
    """Whether a long line says itself what it reads on a shrunken sheet."""
    return any(isinstance(mark, Words) and "97 %" in mark.text for mark in line.ink)


def _whole(items: Sequence[Item | None]) -> tuple[Item, ...] | None:
    found = tuple(item for item in items if item is not None)
    return found if len(found) == len(items) else None


def _line(room: _Room, trims: Sequence[Ring], foot: Item | None, *, upright: bool) -> Item | None:
    """A long line where a strip is free, else ticks on a trim edge, else its two ends."""
    rule, line = room.frame.rule(upright=upright), room.frame.line(upright=upright)
    if not upright and foot is not None:
        above = room.at_foot(line, room.frame.bottom - foot.height - ABOVE_FOOT_PT - line.height)
        if above is not None:
            return above
    corner = Corner.BOTTOM_RIGHT if upright else Corner.BOTTOM_LEFT
    strip = room.first([line], corner)
    if strip is not None:
        return strip
    edges = [edge for ring in trims for edge in long_edges(ring, rule, upright=upright)]
    for edge in edges:
        # Nothing else ever lies in a foundation's own air; only the edge of the printable part can be in the way.
        if room.inside(_outside(edge)):
            return edge_ticks(edge, rule, outside=True)
    if edges:
        return edge_ticks(edges[0], rule, outside=False)
    # Words beside the crosses if they find room; the foot says what crosses are.
    for label in (True, False):
        ends = line_ends(rule, upright=upright, label=label)
        found = room.first([ends], corner, _ends_shape(rule, upright, label))
        if found is not None:
            return found
    return None


def _outside(edge: Segment) -> Box:
    """The band beside a trim edge in which ticks and their words lie, the ring running clockwise."""
    (ax, ay), (bx, by) = edge
    length = math.dist(*edge)
    nx, ny = (by - ay) / length * 11.5, -(bx - ax) / length * 11.5
    return bounds([(ax + nx / 4, ay + ny / 4), (bx + nx / 4, by + ny / 4), (ax + nx, ay + ny), (bx + nx, by + ny)])


@cache
def _ends_shape(rule: Rule, upright: bool, label: bool) -> Shape:
    """Two small boxes at the ends of a long line, the first with room for words; between them all may lie."""
    first, last = (
        shape(((0.0, 0.0), (wide, 0.0), (wide, TICK_PT), (0.0, TICK_PT)), 0.0, AIR_CELLS)
        for wide in (LABEL_PT if label else TICK_PT, TICK_PT)
    )
    away = math.floor(rule.length_pt / CELL_PT)
    across, down = (0, away) if upright else (away, 0)
    runs = (*first.runs, *((row + down, cell + across, cells) for row, cell, cells in last.runs))
    width, height = max(first.width, last.width + across), max(first.height, last.height + down)
    return Shape(0.0, (0.0, 0.0), runs, width, height, AIR_CELLS, sum(cells for _, _, cells in runs))


class _Room:
    """What is still free of a sheet."""

    def __init__(self, bed: Bed, frame: Frame, air: int = AIR_CELLS) -> None:
        self.bed, self.frame, self.air = bed, frame, air
        # The bed is as much wider than the frame as the usual air: with less, the outermost cells are not ours.
        over, less = AIR_CELLS * CELL_PT, air * CELL_PT
        left, top, right, bottom = frame.left - over, frame.top - over, frame.right + over, frame.bottom + over
        if air < AIR_CELLS:
            bed.block((left, top, frame.left - less, bottom))
            bed.block((frame.right + less, top, right, bottom))
            bed.block((left, top, right, frame.top - less))
            bed.block((left, frame.bottom + less, right, bottom))

    def at_foot(self, item: Item, top: float) -> Item | None:
        """The item at the left, just there or not at all."""
        f = self.frame
        if not self.clear((f.left, top - CELL_PT, f.left + item.width, top + item.height)):
            return None
        # The rest of the row stays empty where it is: what lies above then keeps one line.
        self.bed.block((f.left, top - CELL_PT, f.right, top + item.height))
        return item.at(f.left, top)

    def first(self, sizes: Sequence[Item], corner: Corner, cells: Shape | None = None) -> Item | None:
        """The first of the items that finds room, as near to the corner as can be."""
        for item in sizes:
            outline = cells or shape(item.ring(), 0.0, self.air)
            spot = self.bed.spot(outline, corner)
            if spot is not None:
                self.bed.take(spot)
                _, _, _, _, x, y = self.bed.affine(spot)
                return item.at(x, y)
        return None

    def clear(self, box: Box) -> bool:
        """Whether a rectangle lies inside the printable part and touches nothing."""
        return self.inside(box) and not self.bed.touched(box)

    def inside(self, box: Box) -> bool:
        """Whether a rectangle lies inside the printable part."""
        (left, top, right, bottom), f, slack = box, self.frame, 0.01
        return (
            f.left - slack <= left
            and f.top - slack <= top
            and right <= f.right + slack
            and bottom <= f.bottom + slack
        )
