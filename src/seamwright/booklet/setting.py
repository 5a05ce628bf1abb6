"""A story's items as boxes of ink: sizes of type, where words stand beside pictures, what belongs together.

Knows:  how each kind of item looks, and which of its parts may stand on different pages.
Leaves: pages (pages), tables (rows), what is told (the chapters).
Units:  points; a box is drawn from its own top left corner. Figures come in inches.
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass, replace

from seamwright.booklet.model import (
    PICTURE_IN,
    Break,
    Figure,
    Full,
    Heading,
    Item,
    Paragraph,
    Pictures,
    Points,
    Step,
    Story,
    Table,
)
from seamwright.ink.lettering import CAP_HEIGHT, width_pt
from seamwright.ink.model import Anchor, Area, Ink, Pen, Stroke, Words, move_ink
from seamwright.ink.wrap import wrapped as wrapped_at_blanks
from seamwright.paper import PT_PER_IN

BODY_PT, CAPTION_PT, MARK_PT = 9.75, 8.25, 17.0
HEADING_PT = {0: 27.0, 1: 18.0, 2: 13.0, 3: 10.5}
MOST_TITLE = 2
"""A title of more lines is set smaller."""
LEADING = 1.36
"""From baseline to baseline, as a share of the type size."""
GAP_PT = 9.0
COLUMN_GAP_PT = 18.0
CAPTION_WIDE_PT = 90.0
"""Words below a picture have so much room at least."""
MOST_LED = 3
"""A paragraph below a heading stays with what follows if it has no more lines than these."""
LEAST_WORDS_PT = 150.0
"""A narrower column of words beside a picture is none: the picture then stands above them."""


@dataclass(frozen=True, slots=True)
class Measure:
    """Room on a page: width and height in points, and how much larger than usual words are."""

    width: float
    height: float
    scale: float = 1.0

    @property
    def body(self) -> float:
        """Size of running words."""
        return BODY_PT * self.scale

    @property
    def step(self) -> float:
        """From baseline to baseline of running words."""
        return self.body * LEADING

    @property
    def gap(self) -> float:
        """Space between items."""
        return GAP_PT * self.scale

    def heading_pt(self, level: int) -> float:
        """Size of a heading."""
        return HEADING_PT[level] * self.scale


@dataclass(frozen=True, slots=True)
class Box:
    """Ink that is never parted.

    Attributes:
        height: of it; before: space above it where it does not begin a page.
        held: kept on one page with the box behind it.
        bookmark, level: what begins with it, "" for nothing.
        forced: begins a page; chapter: does so unless its chapter fits below another.
        runs: words at the head of a page that begins with it; again: boxes repeated there, below them.
        shows: what its pictures show.
    """

    height: float
    ink: tuple[Ink, ...]
    before: float = 0.0
    held: bool = False
    bookmark: str = ""
    level: int = 0
    forced: bool = False
    chapter: bool = False
    runs: str = ""
    again: tuple[Box, ...] = ()
    shows: tuple[str, ...] = ()


def set_story(story: Story, measure: Measure) -> list[Box]:
    """All items of a story as boxes, in order; words of their figures grow with the others where there is room."""
    boxes: list[Box] = []
    head, forced, leads = "", False, False
    for item in story:
        if isinstance(item, Break):
            forced = True
            continue
        made = _set(item, measure)
        if isinstance(item, Heading):
            head = item.text if 1 <= item.level <= 2 else head
        elif not isinstance(item, Full):
            named = f"Section {item.section}" if isinstance(item, Step) and item.section else head
            # Only what goes on gets a head: the first box below a heading is held to it anyway.
            made = [replace(box, runs=f"{named}, continued" if named else "") for box in made]
        if made:
            made[0] = replace(made[0], forced=made[0].forced or forced)
            forced = False
        if leads and isinstance(item, Paragraph) and 0 < len(made) <= MOST_LED:
            made[-1] = replace(made[-1], held=True)
        leads = isinstance(item, Heading) and item.level > 1
        boxes += made
        if isinstance(item, Full):
            head, forced = "", True
    return boxes


def wrapped(text: str, size_pt: float, most_pt: float, bold: bool = False) -> tuple[str, ...]:
    """Words in lines of a width, a figure with its fraction and unit in one; words too long are parted."""
    kept = _MEASURE.sub("\\1\N{NO-BREAK SPACE}\\2", _SIDES.sub("\N{NO-BREAK SPACE}x\N{NO-BREAK SPACE}", text))
    kept = _MIXED.sub("\\1\N{NO-BREAK SPACE}\\2", kept)
    return wrapped_at_blanks(kept, size_pt, most_pt, bold, part=True)


_MIXED = re.compile(r"(\d) (\d+/\d+)\b")
_MEASURE = re.compile(r"([\d¼½¾⅓⅔⅛⅜⅝⅞]) (in|cm|mm|yd|m)\b")
_SIDES = re.compile(r"(?<=[\d¼½¾⅓⅔⅛⅜⅝⅞]) x (?=[\d¼½¾⅓⅔⅛⅜⅝⅞])")


def running_head(text: str, measure: Measure) -> Box:
    """The head of a page on which something goes on."""
    size = measure.heading_pt(3)
    lines = wrapped(text, size, measure.width, True)
    ink = lines_of(lines, 0, 0, size, bold=True)
    return Box(len(lines) * size * LEADING + measure.gap, ink, held=True)


def lines_of(
    lines: Sequence[str],
    x: float,
    y: float,
    size: float,
    *,
    bold: bool = False,
    anchor: Anchor = Anchor.START,
) -> tuple[Ink, ...]:
    """Lines one below the other, the first one's capitals hanging from y."""
    return tuple(
        Words(line, (x, y + baseline(size) + n * size * LEADING), size, anchor, bold=bold)
        for n, line in enumerate(lines)
        if line
    )


def baseline(size: float) -> float:
    """How far below the top of its line the baseline of words lies: capitals stand in the middle of the line."""
    return size * (LEADING + CAP_HEIGHT) / 2


def _set(item: Item, measure: Measure) -> list[Box]:
    if isinstance(item, Heading):
        return _heading(item, measure)
    if isinstance(item, Paragraph):
        return _running(item.text, measure, bold=item.strong)
    if isinstance(item, Points):
        return _points(item, measure)
    if isinstance(item, Table):
        from seamwright.booklet.rows import set_table

        return set_table(item, measure)
    if isinstance(item, Step):
        return _step(item, measure)
    if isinstance(item, Pictures):
        return _pictures(item, measure)
    assert isinstance(item, Full)
    return _full(item, measure)


def _heading(item: Heading, measure: Measure) -> list[Box]:
    size = measure.heading_pt(item.level)
    if item.level == 0 and len(wrapped(item.text, size, measure.width, True)) > MOST_TITLE:
        size = measure.heading_pt(1)
    side = size * 0.9 if item.swatch else 0.0
    indent = side + size * 0.4 if side else 0.0
    lines = wrapped(item.text, size, measure.width - indent, True)
    before = {0: 0.0, 1: 30.0, 2: 18.0, 3: 12.0}[item.level] * measure.scale
    after = size * 0.3
    ink = lines_of(lines, indent, 0, size, bold=True)
    if side:
        ink = (*ink, *swatch(item.swatch, side, baseline(size)))
    height = len(lines) * size * LEADING + after
    return [
        Box(
            height,
            ink,
            before,
            held=True,
            bookmark=item.text if item.level < 3 else "",
            level=max(1, item.level),
            chapter=item.level == 1,
        )
    ]


def _running(text: str, measure: Measure, *, bold: bool = False, indent: float = 0.0, mark: str = "") -> list[Box]:
    """Lines of words that may be parted between pages, two at least on each."""
    size, step = measure.body, measure.step
    lines = wrapped(text, size, measure.width - indent, bold)
    boxes = []
    for n, line in enumerate(lines):
        ink = lines_of([line], indent, 0, size, bold=bold)
        if n == 0 and mark:
            ink = (*lines_of([mark], 0, 0, size, bold=True), *ink)
        held = n == 0 < len(lines) - 1 or n == len(lines) - 2
        boxes.append(Box(step, ink, measure.gap * (0.7 if n == 0 else 0.0), held=held))
    return boxes


def _points(item: Points, measure: Measure) -> list[Box]:
    size = measure.body
    widest = width_pt(f"{len(item.texts)}.", size, True) if item.numbered else size * 0.7
    indent = widest + size * 0.7
    boxes: list[Box] = []
    for n, text in enumerate(item.texts, start=1):
        mark = "" if item.boxes else f"{n}." if item.numbered else "–"
        made = _running(text, measure, indent=indent, mark=mark)
        if item.boxes and made:
            made[0] = replace(made[0], ink=(*made[0].ink, _tick_box(size)))
        if made:
            made[0] = replace(made[0], before=measure.gap * (0.7 if n == 1 else 0.35))
        boxes += made
        # The first and the last are not left alone.
        if n in (1, len(item.texts) - 1) and boxes and len(item.texts) > n:
            boxes[-1] = replace(boxes[-1], held=True)
    return boxes


def swatch(colour: str | None, side: float, bottom: float) -> tuple[Ink, ...]:
    """A small square of a colour beside words whose baseline lies at `bottom`; of one not known only the border."""
    y = bottom - side * 0.86
    corners = ((0.0, y), (side, y), (side, y + side), (0.0, y + side))
    border = Stroke(Pen.RULE, corners, closed=True)
    return (border,) if colour is None else (Area((corners,), colour), border)


def _tick_box(size: float) -> Ink:
    side, bottom = size * 0.8, baseline(size)
    corners = ((0.0, bottom - side), (side, bottom - side), (side, bottom), (0.0, bottom))
    return Stroke(Pen.RULE, corners, closed=True)


def drawn(figure: Figure, x: float, y: float, scale: float) -> tuple[Ink, ...]:
    """A figure's ink in points, its top left corner at a point; no words grow that are large already."""
    from seamwright.booklet.growing import grown

    return tuple(
        move_ink(ink, (PT_PER_IN, 0.0, 0.0, PT_PER_IN, x, y)) for ink in grown(figure, scale / figure.scale).inks
    )


def _step(item: Step, measure: Measure) -> list[Box]:
    picture = item.figure.width_in * PT_PER_IN, item.figure.height_in * PT_PER_IN
    column = max(PICTURE_IN * PT_PER_IN, picture[0])
    left = column + COLUMN_GAP_PT
    beside = measure.width - left >= LEAST_WORDS_PT * measure.scale
    x, width = (left, measure.width - left) if beside else (0.0, measure.width)
    y = 0.0 if beside else picture[1] + measure.gap
    ink: list[Ink] = list(drawn(item.figure, 0.0, 0.0, measure.scale))
    mark = MARK_PT * measure.scale
    marks = wrapped(item.mark, mark, width, True)
    ink += lines_of(marks, x, y, mark, bold=True)
    title = measure.heading_pt(3)
    titles = wrapped(item.title, title, width, True)
    behind = width_pt(item.mark, mark, True) + mark * 0.6
    if not beside and len(marks) == 1 and behind + width_pt(item.title, title, True) <= width:
        # Below a picture there is more width than height: what the step is stands behind its mark.
        ink.append(Words(item.title, (x + behind, y + baseline(mark)), title, bold=True))
        titles = ()
    y += len(marks) * mark * LEADING
    for lines, size, bold in (
        (titles, title, True),
        *((wrapped(text, measure.body, width), measure.body, False) for text in item.texts),
    ):
        ink += lines_of(lines, x, y, size, bold=bold)
        y += len(lines) * size * LEADING + (measure.gap * 0.4 if lines else 0.0)
    return [Box(max(y, picture[1]), tuple(ink), measure.gap * 1.8, shows=(item.figure.says,))]


def pictures_across(wide_in: float, room_in: float, scale: float) -> int:
    """How many pictures of this width, with captions, stand side by side."""
    gap_in = COLUMN_GAP_PT / PT_PER_IN
    cell_in = max(wide_in, min(CAPTION_WIDE_PT * scale / PT_PER_IN, room_in))
    return max(1, int((room_in + gap_in + 1e-9) / (cell_in + gap_in)))


def _pictures(item: Pictures, measure: Measure) -> list[Box]:
    size = CAPTION_PT * measure.scale
    captions = item.captions or ("",) * len(item.figures)
    cells = []
    for figure, caption in zip(item.figures, captions, strict=True):
        width = max(figure.width_in * PT_PER_IN, min(CAPTION_WIDE_PT * measure.scale, measure.width))
        cells.append((figure, width, wrapped(caption, size, width)))
    boxes: list[Box] = []
    while cells:
        count, used = 1, cells[0][1]
        while count < len(cells) and used + COLUMN_GAP_PT + cells[count][1] <= measure.width:
            used += COLUMN_GAP_PT + cells[count][1]
            count += 1
        row, cells = cells[:count], cells[count:]
        high = max(figure.height_in * PT_PER_IN for figure, _, _ in row)
        ink: list[Ink] = []
        x = 0.0
        for figure, width, lines in row:
            ink += drawn(figure, x, high - figure.height_in * PT_PER_IN, measure.scale)
            ink += lines_of(lines, x, high + 3, size)
            x += width + COLUMN_GAP_PT
        below = max(len(lines) for _, _, lines in row) * size * LEADING + (3 if any(r[2] for r in row) else 0)
        says = tuple(figure.says for figure, _, _ in row)
        boxes.append(Box(high + below, tuple(ink), measure.gap * 1.3, shows=says))
    return boxes


def _full(item: Full, measure: Measure) -> list[Box]:
    """A page of its own, as one box of its whole height: nothing follows on it."""
    [head] = _heading(Heading(item.title), measure)
    ink = list(head.ink)
    lines = wrapped(item.text, measure.body, measure.width)
    ink += lines_of(lines, 0.0, head.height, measure.body)
    y = head.height + len(lines) * measure.step + measure.gap
    x = (measure.width - item.figure.width_in * PT_PER_IN) / 2
    ink += drawn(item.figure, x, y, measure.scale)
    height = max(y + item.figure.height_in * PT_PER_IN, measure.height)
    return [Box(height, tuple(ink), bookmark=item.title, level=1, forced=True, shows=(item.figure.says,))]
