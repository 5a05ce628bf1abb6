"""A booklet from plans that can be sewn: its chapters in the order in which a beginner needs them.

Knows:  which chapters there are, in which order, what stands at the foot of a page.
Leaves: every chapter (one module each), pages (pages), the sheets behind them (sheet), the file (handouts).
Units:  inches.
Method: plans that differ in their fabrics alone are one part, told once, with a picture, amounts and cutting tables
        of each colourway. What holds for every block is told once, in the first part. The list of contents is
        written when the pages are known, and they are laid out again with it.

To add a chapter: a module with one function from what it needs to a Story, and its place in `_rest`.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from itertools import groupby

from seamwright.booklet.model import Break, Item, Story
from seamwright.booklet.pages import LARGE, full_room, lay_out_parts, room
from seamwright.booklet.saying import called
from seamwright.cutting.model import Cutting
from seamwright.ink.page import Page
from seamwright.options import BookOptions, Units
from seamwright.paper import Paper
from seamwright.paper import paper as paper_named
from seamwright.piecing.model import Plan
from seamwright.rehearsal.model import Rehearsed
from seamwright.sheet.naming import SHEETS, block_names

MOST_LISTED = 30
"""A list of contents is no longer, but for one block alone: it is to be seen at a glance."""
MOST_IN = (9.0, 14.5)
"""Larger papers are for prints."""


@dataclass(frozen=True, slots=True)
class Part:
    """A block in one colourway or several.

    Attributes:
        plans: alike but for their fabrics. rehearsed: the first one, sewn.
        cuttings: of each plan, for one student; () in a quilt, which is cut as a whole.
        together: for a class, () for none.
        apart: plans of other colourways of the block that are sewn in another way, so told in parts of their own.
    """

    plans: tuple[Plan, ...]
    rehearsed: Rehearsed
    cuttings: tuple[Cutting, ...]
    together: tuple[Cutting, ...] = ()
    apart: tuple[Plan, ...] = ()


@dataclass(frozen=True, slots=True)
class Behind:
    """The sheets behind the pages: paper, how many, how many copies of each foundation; words for the foot."""

    paper: Paper
    sheets: int
    copies: int = 1
    footer: str = ""


def to_read(page: Paper, units: Units) -> Paper:
    """The paper of the pages: that of the sheets, but for one too large to be held in a hand while sewing."""
    if page.width_in <= MOST_IN[0] and page.height_in <= MOST_IN[1]:
        return page
    return paper_named("letter" if units is Units.INCH else "a4")


def alike(plans: Sequence[Plan]) -> tuple[tuple[Plan, ...], ...]:
    """Plans in parts: those that follow each other and differ in their fabrics alone are one."""
    return tuple(tuple(same) for _, same in groupby(plans, key=_shape))


def make_booklet(parts: Sequence[Part], behind: Behind, book: BookOptions, paper: Paper) -> tuple[Page, ...]:
    """All pages of a booklet but its sheets."""
    parts, scale = with_others(parts), LARGE if book.large_type else 1.0

    names = block_names([part.plans[0] for part in parts], titles=[called(part.plans) for part in parts])
    told = [
        _told(part, name, behind, book, paper, first=part is parts[0])
        for part, name in zip(parts, names, strict=True)
    ]
    feet = [_foot(part.plans, name, behind.footer) for part, name in zip(parts, names, strict=True)]

    def laid(found: Sequence[tuple[str, str]]) -> tuple[Page, ...]:
        stories = [(story.with_contents(found), foot) for story, foot in zip(told, feet, strict=True)]
        return lay_out_parts(stories, paper, scale=scale)

    # Twice: where chapters begin is known when the list of them has its place. One block's title page goes without.
    pages, begin = laid(()), 0 if len(parts) > 1 else 1
    for _ in range(2):
        found = listed(contents(pages, begin), names[1:])
        pages = laid([*found, *([(SHEETS, "sheets")] if behind.sheets else [])])
    return pages


def contents(pages: Sequence[Page], begin: int = 0) -> list[tuple[str, str]]:
    """(chapter, page number) of what begins behind so many pages."""
    return [
        (mark.text, str(number))
        for number, page in enumerate(pages, start=1)
        for mark in page.bookmarks
        if mark.level == 1 and number > begin
    ]


def listed(found: Sequence[tuple[str, str]], titles: Sequence[str]) -> list[tuple[str, str]]:
    """What the list of contents holds: all chapters, or of many blocks the titles of all behind the first.

    Args:
        found: as `contents`. titles: of the blocks behind the first, in order.
    """
    if len(found) <= MOST_LISTED:
        return list(found)
    ahead, kept = list(titles), []
    for chapter, page in found:
        if ahead and chapter == ahead[0]:
            kept.append((chapter, page))
            del ahead[0]
        elif len(ahead) == len(titles):
            kept.append((chapter, page))
    return kept


def _shape(plan: Plan) -> tuple[object, ...]:
    """What plans of colourways of one block have in common."""
    return plan.block.file, plan.block.points, plan.sections, plan.joins, replace(plan.options, colourway="")


def with_others(parts: Sequence[Part]) -> tuple[Part, ...]:
    """The parts, the first of each drawing knowing of its colourways that are told apart."""
    found: list[Part] = []
    for part in parts:
        same = [one for one in parts if one.plans[0].block.file == part.plans[0].block.file]
        apart = tuple(plan for one in same[1:] for plan in one.plans) if part is same[0] else ()
        found.append(replace(part, apart=apart))
    return tuple(found)


def _foot(plans: Sequence[Plan], name: str, footer: str) -> str:
    ids = ", ".join(dict.fromkeys(plan.id for plan in plans))
    return f"{name}, plan {ids}. {footer}".rstrip()


@dataclass(frozen=True, slots=True)
class _Told:
    """All chapters of one block; the list of contents stands between the two in the first block's alone."""

    title: Story
    rest: Story
    has_contents: bool

    def with_contents(self, found: Sequence[tuple[str, str]]) -> Story:
        from seamwright.booklet.title import contents_story

        return (*self.title, *(contents_story(found) if self.has_contents else (Break(),)), *self.rest)


def chapters_of(
    part: Part, name: str, behind: Behind, book: BookOptions, paper: Paper, *, first: bool
) -> tuple[Story, Story]:
    """(title page, chapters) of a block of a quilt, whose fabric is bought and cut for all of it."""
    told = _told(part, name, behind, book, paper, first=first, alone=False)
    return told.title, told.rest


def _told(
    part: Part, name: str, behind: Behind, book: BookOptions, paper: Paper, *, first: bool, alone: bool = True
) -> _Told:
    from seamwright.booklet.effort import effort_of
    from seamwright.booklet.title import title_story

    scale = LARGE if book.large_type else 1.0
    effort, space = effort_of(part.plans[0], book), room(paper, scale=scale)
    title = title_story(name, part.plans, part.apart, effort, book, space, behind.footer, scale)
    return _Told(title, tuple(_rest(part, behind, book, paper, first, alone)), first)


def _rest(part: Part, behind: Behind, book: BookOptions, paper: Paper, first: bool, alone: bool) -> Iterator[Item]:
    """The chapters behind the title page, in order.

    Args:
        first: tell also what holds for every block.
        alone: no part of a quilt, which has chapters of its own for what is bought and cut.
    """
    from seamwright.booklet.afterwards import afterwards_story
    from seamwright.booklet.care import care_story
    from seamwright.booklet.checks import checks_story
    from seamwright.booklet.colouring import colouring_page
    from seamwright.booklet.fabrics import fabrics_story, kits_story
    from seamwright.booklet.howto import howto_story
    from seamwright.booklet.joins import joins_story
    from seamwright.booklet.sizes import Sizes
    from seamwright.booklet.steps import steps_story
    from seamwright.booklet.tables import another_way_story, cutting_story
    from seamwright.booklet.words import words_story
    from seamwright.claims.sewing import sewing_of
    from seamwright.cutting.pieces import pieces_of

    plan, rehearsed = part.plans[0], part.rehearsed
    scale = LARGE if book.large_type else 1.0
    sizes = Sizes(plan, {section.name: section.trim for section in sewing_of(plan).sections})
    if first and alone:
        yield from _before(plan, behind)
    if first:
        yield from words_story(plan, scale=scale)
    if alone:
        yield from fabrics_story(part.cuttings)
    if part.together:
        yield from kits_story(part.cuttings, part.together, book.students, behind.sheets, behind.copies)
    for one in part.cuttings:
        yield from cutting_story(one, one.plan.block.title if len(part.cuttings) > 1 else "")
    if first:
        yield from howto_story(plan, rehearsed, left_handed=book.left_handed, scale=scale)
    yield from care_story(plan, rehearsed)
    yield from steps_story(plan, rehearsed, scale=scale)
    yield from joins_story(plan, rehearsed, scale=scale)
    yield from checks_story(plan, sizes)
    yield from afterwards_story(plan, sizes, {piece.patch: piece for piece in pieces_of(plan)})
    if alone:
        yield from another_way_story(part.cuttings[0])
    yield colouring_page(plan, full_room(paper, scale=scale))


def _before(plan: Plan, behind: Behind) -> Story:
    """What holds for every block and is read first."""
    from seamwright.booklet.cautions import cautions_story
    from seamwright.booklet.needs import needs_story

    needs = needs_story(behind.paper, behind.sheets, plan.options.seam_allowance_in, plan.options.units)
    return (*cautions_story(), *needs)
