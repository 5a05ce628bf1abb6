"""Tables as boxes: columns as wide as they need and no wider than the page, rows never left alone.

Knows:  how width is shared between columns, where a table may be parted, what is repeated.
Leaves: what stands in tables (the chapters), pages (pages).
Units:  points.
Method: columns that are narrower than their fair share keep their width; the rest share what is left, but none
        gets less than its longest word needs if there is room for that.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from seamwright.booklet.model import Table
from seamwright.booklet.setting import LEADING, Box, Measure, baseline, lines_of, swatch, wrapped
from seamwright.ink.lettering import width_pt
from seamwright.ink.model import Anchor, Ink, Pen, Stroke

TABLE_PT, HEAD_PT = 9.0, 8.0
CELL_GAP_PT = 12.0
ROW_AIR_PT = 3.0
MOST_LINES = 8
"""A row of more lines than this may be parted."""
NOTES_PT = 80.0
"""An empty column is for notes by hand."""
MOST_OF_ROOM = 0.3
"""A column gets no more than this share of the room for its longest word alone."""


def set_table(item: Table, measure: Measure) -> list[Box]:
    """A table's caption, head and rows."""
    size, head_size, gap = TABLE_PT * measure.scale, HEAD_PT * measure.scale, CELL_GAP_PT * measure.scale
    side = size * 1.1 if item.swatches else 0.0
    indent = side + size * 0.6 if side else 0.0
    rows = [(*row, *("",) * (len(item.head) - len(row))) for row in item.rows]
    columns = _widths(item.head, rows, (size, head_size), indent, measure.width - gap * (len(item.head) - 1))
    lefts = [sum(columns[:n]) + n * gap for n in range(len(columns))]
    right = lefts[-1] + columns[-1]

    def cells(row: Sequence[str], type_: float, bold: bool) -> list[tuple[str, ...]]:
        return [
            wrapped(text, type_, columns[n] - (indent if n == 0 and not bold else 0), bold)
            for n, text in enumerate(row)
        ]

    def line(found: Sequence[Sequence[str]], type_: float, bold: bool) -> list[Ink]:
        ink: list[Ink] = []
        for n, words in enumerate(found):
            flush = n in item.figures
            x = lefts[n] + (columns[n] if flush else indent if n == 0 and not bold else 0.0)
            ink += lines_of(words, x, air, type_, bold=bold, anchor=Anchor.END if flush else Anchor.START)
        return ink

    air = ROW_AIR_PT * measure.scale
    blank = [n for n in range(len(item.head)) if rows and not any(row[n] for row in rows)]
    boxes: list[Box] = []
    if item.caption:
        caption = wrapped(item.caption, measure.body, measure.width, True)
        ink = lines_of(caption, 0, 0, measure.body, bold=True)
        boxes.append(Box(len(caption) * measure.step + 2, ink, measure.gap, held=True))
    titles = cells(item.head, head_size, True)
    rule = Stroke(Pen.RULE, ((0.0, 0.0), (right, 0.0)))
    high = max((len(words) for words in titles), default=0) * head_size * LEADING + 2 * air
    head = Box(high, (rule, *line(titles, head_size, True)), 0 if item.caption else measure.gap, held=True)
    boxes.append(head)
    again = (replace(head, before=0.0),)
    last = len(rows) - 1
    first: tuple[str, ...] = ()
    for number, row in enumerate(rows):
        found = cells(row, size, False)
        # What the first cell of a line above holds for is said again at the head of a page.
        goes_on = not found[0] and bool(first) and len(first) <= max(map(len, found), default=0)
        said = lines_of(first, indent, air, size) if goes_on else ()
        first = found[0] or first
        most = max((len(words) for words in found), default=1) or 1
        for start in range(0, most, MOST_LINES):
            part = [words[start : start + MOST_LINES] for words in found]
            count = min(MOST_LINES, most - start)
            ink_ = line(part, size, False)
            if ends := start + count == most:
                ink_ += [Stroke(Pen.HELPER, _below(lefts[n], columns[n], baseline(size) + air)) for n in blank]
            if start == 0 and side and number < len(item.swatches):
                ink_ += swatch(item.swatches[number], side, air + baseline(size))
            height = count * size * LEADING + air * (2 if ends else 1)
            if number == last and ends:
                ink_.append(Stroke(Pen.RULE, ((0.0, height), (right, height))))
            # Two rows below the head, two at the end: none is left alone.
            held = ends and ((number == 0 and last > 0) or number == last - 1)
            above = (*again, Box(0.0, said, held=True)) if said and start == 0 else again
            boxes.append(Box(height, tuple(ink_), held=held, again=above))
    return boxes


def _below(left: float, width: float, y: float) -> tuple[tuple[float, float], tuple[float, float]]:
    """A line to write on."""
    return ((left, y + 1.0), (left + width, y + 1.0))


def _widths(
    head: Sequence[str], rows: Sequence[Sequence[str]], sizes: tuple[float, float], indent: float, room: float
) -> list[float]:
    size, head_size = sizes
    wanted, least = [], []
    for n, title in enumerate(head):
        more = indent if n == 0 else 0.0
        texts = [row[n] for row in rows]
        blank = NOTES_PT if not any(texts) else 0.0
        wanted.append(
            max([width_pt(title, head_size, True), blank, *(width_pt(t, size) + more for t in texts)]) + 0.5
        )
        words = [width_pt(word, size) + more for text in texts for word in text.split()]
        least.append(max([width_pt(w, head_size, True) for w in title.split()] + words, default=0.0) + 0.5)
    if sum(wanted) <= room:
        return wanted
    # One endless word does not squeeze the other columns.
    least = [min(width, MOST_OF_ROOM * room) for width in least]
    if sum(least) > room:
        # Words are parted: each column gets its part of what there is.
        return _shared(least, [0.0] * len(least), room)
    return _shared(wanted, least, room)


def _shared(wanted: Sequence[float], least: Sequence[float], room: float) -> list[float]:
    """Widths that fill the room: as wanted up to one level, none below its least."""
    low, high = 0.0, max(wanted)
    for _ in range(60):
        level = (low + high) / 2
        if sum(min(w, max(level, m)) for w, m in zip(wanted, least, strict=True)) > room:
            high = level
        else:
            low = level
    return [min(w, max(low, m)) for w, m in zip(wanted, least, strict=True)]
