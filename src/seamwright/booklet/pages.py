"""Pages of a booklet: a story's items laid one below the other, and where a page ends.

Knows:  margins, the foot, which items may be parted where, what is repeated at the head of a page.
Leaves: how an item looks (setting, rows), what is told (the chapters), the file (sheet.pdf).
Units:  points from the page's top left corner; papers and figures in inches.
Method: every item becomes boxes that are never parted themselves; a box is held to the next where both belong on
        one page. Pages are filled from the top. A chapter begins a page unless all of it fits below another or the
        page would stay half empty; where the last page of a run would stay nearly empty, the one before ends
        earlier.
Limits: one column. What is too long for a whole page is parted where it can be.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field

from seamwright.booklet.model import Story
from seamwright.booklet.setting import Box, Measure, running_head, set_story
from seamwright.ink.lettering import width_pt
from seamwright.ink.model import Anchor, Ink, Words, move_ink
from seamwright.ink.page import Bookmark, Page
from seamwright.ink.wrap import wrapped
from seamwright.paper import PT_PER_IN, Paper

LARGE = 4 / 3
"""Scale of words in large type."""
NEAR_EMPTY = 0.38
"""No page holds less than this share of its height, unless it is the only one of its run."""
FULL_ENOUGH = 0.6
"""A chapter begins below another on a page that is filled less than that."""
FOOT_PT, FOOT_STEP = 7.0, 9.0
_PAGES = "Page 000 of 000"
_FULL_LINES = 3
"""Lines of words above a picture that fills the page, at the most."""


def lay_out(story: Story, paper: Paper, *, scale: float = 1.0, foot: str = "") -> tuple[Page, ...]:
    """A story on pages.

    Args:
        paper: size and margins; wide margins beside the words are added for notes by hand.
        scale: of all words but those inside figures.
        foot: words at the foot of each page, beside its number.
    """
    return lay_out_parts([(story, foot)], paper, scale=scale)


def lay_out_parts(parts: Sequence[tuple[Story, str]], paper: Paper, *, scale: float = 1.0) -> tuple[Page, ...]:
    """Stories one after the other, each with its own foot, pages numbered through; else as `lay_out`."""
    filled: list[tuple[_Filled, _Sheet]] = []
    for story, foot in parts:
        sheet = _Sheet.of(paper, scale, foot)
        filled += [(page, sheet) for page in _filled(set_story(story, sheet.measure), sheet.measure)]
    return tuple(_drawn(page, sheet, number, len(filled)) for number, (page, sheet) in enumerate(filled, start=1))


def room(paper: Paper, *, scale: float = 1.0) -> tuple[float, float]:
    """Width and height, inches, of what a page holds between its margins."""
    measure = _Sheet.of(paper, scale, "two lines " * 30).measure
    return measure.width / PT_PER_IN, measure.height / PT_PER_IN


def full_room(paper: Paper, *, scale: float = 1.0) -> tuple[float, float]:
    """Width and height, inches, of the largest figure of a `Full` page, whose words take up to three lines."""
    width, height = room(paper, scale=scale)
    measure = Measure(width * PT_PER_IN, height * PT_PER_IN, scale)
    words = measure.heading_pt(1) * 1.4 + _FULL_LINES * measure.step + 2 * measure.gap
    return width, height - words / PT_PER_IN


@dataclass(frozen=True, slots=True)
class _Sheet:
    """The paper as pages of a booklet use it."""

    paper: Paper
    measure: Measure
    left: float
    top: float
    foot: tuple[str, ...]

    @staticmethod
    def of(paper: Paper, scale: float, foot: str) -> _Sheet:
        """Margins in which there is room to write, more of it at the right; less on small papers."""
        m, wide, high = paper.margins, paper.width_in, paper.height_in
        left = max(m.left + 0.2, min(0.85, 0.1 * wide))
        right = max(m.right + 0.2, min(1.2, 0.14 * wide))
        top = max(m.top + 0.2, min(0.8, 0.07 * high))
        # On a large paper lines would grow too long to be read.
        width = min(wide - left - right, 7.2 * max(1.0, scale))
        left += max(0.0, wide - left - right - width) / 2
        room = width * PT_PER_IN - width_pt(_PAGES, FOOT_PT * scale) - 12
        lines = wrapped(foot, FOOT_PT * scale, room, part=True) or ("",)
        below = m.bottom * PT_PER_IN + FOOT_STEP * scale * len(lines) + 20
        height = high * PT_PER_IN - top * PT_PER_IN - below
        return _Sheet(paper, Measure(width * PT_PER_IN, height, scale), left * PT_PER_IN, top * PT_PER_IN, lines)


@dataclass(slots=True)
class _Filled:
    """A page while it is filled: boxes with the height at which each begins; its own are those of the story."""

    boxes: list[tuple[float, Box]] = field(default_factory=list)
    own: list[Box] = field(default_factory=list)
    used: float = 0.0

    @staticmethod
    def of(boxes: Sequence[Box], measure: Measure) -> _Filled:
        """A page of these boxes."""
        page = _Filled()
        page.add(boxes, measure)
        return page

    def add(self, boxes: Sequence[Box], measure: Measure) -> None:
        self.own += boxes
        for box in boxes:
            at_top = not self.boxes
            for one in (*_head(box, measure), box) if at_top else (box,):
                self.used += one.before if self.boxes else 0.0
                self.boxes.append((self.used, one))
                self.used += one.height


def _head(box: Box, measure: Measure) -> tuple[Box, ...]:
    """What is repeated above a box that begins a page in the middle of something."""
    return (*((running_head(box.runs, measure),) if box.runs else ()), *box.again)


def _height(boxes: Sequence[Box], at_top: bool, measure: Measure) -> float:
    head = sum(b.height for b in _head(boxes[0], measure)) if at_top and boxes else 0.0
    return head + sum(b.height for b in boxes) + sum(b.before for b in boxes[at_top:])


def _filled(boxes: Sequence[Box], measure: Measure) -> list[_Filled]:
    """All pages of a story."""
    pages: list[_Filled] = []
    run: list[Box] = []
    for chapter in _chapters(boxes):
        if run and (chapter[0].forced or not _goes_below(chapter, run, measure)):
            pages += _balanced(run, measure)
            run = []
        run += chapter
    return [*pages, *(_balanced(run, measure) if run else [])]


def _chapters(boxes: Sequence[Box]) -> list[list[Box]]:
    found: list[list[Box]] = []
    for box in boxes:
        if box.chapter or box.forced or not found:
            found.append([])
        found[-1].append(box)
    return found


def _goes_below(chapter: Sequence[Box], run: Sequence[Box], measure: Measure) -> bool:
    """Whether a chapter begins on the page on which what goes before it ends."""
    used = _fill(_clusters(run), measure)[-1].used
    return used <= FULL_ENOUGH * measure.height or used + _height(chapter, False, measure) <= measure.height


def _clusters(run: Sequence[Box]) -> list[list[Box]]:
    """Boxes that are held together."""
    found: list[list[Box]] = [[]]
    for box in run:
        found[-1].append(box)
        if not box.held:
            found.append([])
    return [cluster for cluster in found if cluster]


def _balanced(run: Sequence[Box], measure: Measure) -> list[_Filled]:
    """The pages of a run; the last is not nearly empty if the one before can give it something."""
    pages = _fill(_clusters(run), measure)
    least = NEAR_EMPTY * measure.height
    if len(pages) == 1 or pages[-1].used >= least:
        return pages
    clusters = _clusters([box for page in pages[-2:] for box in page.own])
    found: tuple[int, list[Box], list[Box]] | None = None
    for split in range(len(clusters) - 1, 0, -1):
        first, last = ([box for c in part for box in c] for part in (clusters[:split], clusters[split:]))
        both = (_height(first, True, measure), _height(last, True, measure))
        if min(both) >= least and max(both) <= measure.height:
            # Best where a chapter begins, then where something else does, then as far down as may be.
            rank = 2 * last[0].chapter + bool(last[0].bookmark)
            if found is None or rank > found[0]:
                found = (rank, first, last)
    return pages if found is None else [*pages[:-2], *(_Filled.of(boxes, measure) for boxes in found[1:])]


def _fill(clusters: Sequence[Sequence[Box]], measure: Measure) -> list[_Filled]:
    pages = [_Filled()]
    for cluster in clusters:
        if pages[-1].boxes and pages[-1].used + _height(cluster, False, measure) > measure.height:
            pages.append(_Filled())
        left = cluster
        while left:
            # Too much to be kept together: as much as there is room for.
            counts = range(len(left), 1, -1)
            whole = not pages[-1].boxes and _height(left, True, measure) > measure.height
            fits = (n for n in counts if _height(left[:n], True, measure) <= measure.height)
            count = next(fits, 1) if whole else len(left)
            pages[-1].add(left[:count], measure)
            left = left[count:]
            if left:
                pages.append(_Filled())
    return pages


def _drawn(filled: _Filled, sheet: _Sheet, number: int, of: int) -> Page:
    ink: list[Ink] = []
    marks: list[Bookmark] = []
    for down, box in filled.boxes:
        shift = (1.0, 0.0, 0.0, 1.0, sheet.left, sheet.top + down)
        ink += [move_ink(one, shift) for one in box.ink]
        if box.bookmark:
            marks.append(Bookmark(box.bookmark, box.level, sheet.top + down))
    scale = sheet.measure.scale
    last = (sheet.paper.height_in - sheet.paper.margins.bottom) * PT_PER_IN - 6
    for count, line in enumerate(reversed(sheet.foot)):
        if line:
            ink.append(Words(line, (sheet.left, last - count * FOOT_STEP * scale), FOOT_PT * scale))
    corner = (sheet.left + sheet.measure.width, last)
    ink.append(Words(f"Page {number} of {of}", corner, FOOT_PT * scale, Anchor.END))
    shows = tuple(says for _, box in filled.boxes for says in box.shows)
    return Page(sheet.paper.width_pt, sheet.paper.height_pt, tuple(ink), tuple(marks), shows)
