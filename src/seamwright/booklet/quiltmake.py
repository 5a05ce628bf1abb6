"""The booklet of a whole quilt: shop and cut for all of it, each block told once, then set, bordered and finished.

Knows:  which chapters there are, in which order; which blocks are told in full and which as the mirror image of
        another.
Leaves: every chapter (one module each), the chapters of a block (make), pages (pages).
Units:  inches.
Method: looks that differ in their fabrics alone are one part, as in the booklet of a class. A reversed look beside
        its unreversed one is told as its mirror image: which section and which join stand for which.
"""

from __future__ import annotations

from collections.abc import Container, Iterator, Sequence
from dataclasses import dataclass

from seamwright.booklet.cautions import cautions_story
from seamwright.booklet.make import MOST_LISTED, Behind, Part, alike, chapters_of, contents
from seamwright.booklet.model import Break, Figure, Full, Heading, Item, Paragraph, Pictures, Story, Table
from seamwright.booklet.needs import needs_story
from seamwright.booklet.pages import LARGE, full_room, lay_out_parts, room
from seamwright.booklet.quiltborders import borders_story
from seamwright.booklet.quiltclass import class_story
from seamwright.booklet.quiltcuts import quilt_cutting_story, quilt_shopping_story
from seamwright.booklet.quiltfinish import finish_needs, finish_story
from seamwright.booklet.quiltfront import prints_story, title_story, values_story
from seamwright.booklet.quiltsetting import LAYING, laying_story, rows_story
from seamwright.booklet.saying import called
from seamwright.booklet.title import contents_story
from seamwright.ink.page import Page
from seamwright.options import BookOptions
from seamwright.paper import Paper
from seamwright.picture.cloth import Finish, block_picture
from seamwright.picture.quilt import quilt_picture
from seamwright.piecing.model import Plan
from seamwright.quilt.counts import blocks_of_looks
from seamwright.quilt.model import Quilt
from seamwright.quiltfacts import QuiltFacts
from seamwright.sheet.naming import SHEETS, block_names
from seamwright.units import say_count, say_list

SIDE_IN = 2.2
"""The pictures of a block and of its mirror image."""
COLOUR_IN = "A page to colour the quilt in"


@dataclass(frozen=True, slots=True)
class Mirror:
    """A look that is told as the mirror image of another.

    Attributes:
        plan: of the reversed block. of: of the block as it is drawn.
    """

    plan: Plan
    of: Plan


def parted(plans: Sequence[Plan]) -> tuple[tuple[tuple[Plan, ...], ...], tuple[Mirror, ...]]:
    """The looks that are told in full, colourways that are sewn alike together; and those told as mirror images."""
    full = [plan for plan in plans if not plan.options.reversed]
    mirrors = []
    for plan in plans:
        if plan.options.reversed:
            same = [one for one in full if one.block.file == plan.block.file and not one.options.reversed]
            own = [one for one in same if one.block.colourway == plan.block.colourway]
            if found := [one for one in (*own, *same) if _is_mirror(one, plan)]:
                mirrors.append(Mirror(plan, found[0]))
            else:
                full.append(plan)
    order = {plan: number for number, plan in enumerate(full)}
    files = list(dict.fromkeys(plan.block.file for plan in full))
    full.sort(key=lambda plan: (files.index(plan.block.file), order[plan]))
    return alike(full), tuple(mirrors)


def _is_mirror(plan: Plan, other: Plan) -> bool:
    """Whether steps and joins of a plan are those of another, mirrored."""
    return len(_pairs(plan, other)) == len(plan.sections) and len(plan.joins) == len(other.joins)


def _pairs(plan: Plan, other: Plan) -> tuple[tuple[str, str], ...]:
    """(section of a plan, the section of its mirror image that is sewn in its place), in sewing order."""
    by_patches = {frozenset(section.patches): section.name for section in other.sections}
    return tuple(
        (section.name, by_patches[frozenset(section.patches)])
        for section in plan.sections
        if frozenset(section.patches) in by_patches
    )


def make_quilt_booklet(
    facts: QuiltFacts,
    parts: Sequence[Part],
    mirrors: Sequence[Mirror],
    behind: Behind,
    book: BookOptions,
    paper: Paper,
) -> tuple[Page, ...]:
    """All pages of a quilt's booklet but its sheets."""
    scale = LARGE if book.large_type else 1.0
    space = room(paper, scale=scale)
    names = block_names([part.plans[0] for part in parts], titles=[called(part.plans) for part in parts])
    foot = f"{facts.quilt.setting.name}{'. ' * bool(behind.footer)}{behind.footer}"

    def told(found: Sequence[tuple[str, str]]) -> list[tuple[Story, str]]:
        title = (*title_story(facts, space, behind.footer, scale), *contents_story(found))
        stories: list[tuple[Story, str]] = [((*title, *_before(facts, behind, book)), foot)]
        for part, name in zip(parts, names, strict=True):
            stories.append((_block(facts.quilt, part, name, behind, book, paper, part is parts[0]), foot))
            stories += [(_mirrored(mirror), foot) for mirror in mirrors if mirror.of in part.plans]
        stories.append((tuple(_after(facts, book, space, full_room(paper, scale=scale), scale)), foot))
        return stories

    titles = {*names, *map(_mirror_title, mirrors)}
    pages = lay_out_parts(told(()), paper, scale=scale)
    for _ in range(2):
        found = _listed(contents(pages, 1), titles)
        behind_all = [(SHEETS, "sheets")] if behind.sheets else []
        pages = lay_out_parts(told([*found, *behind_all]), paper, scale=scale)
    return pages


def _before(facts: QuiltFacts, behind: Behind, book: BookOptions) -> Iterator[Item]:
    """What is read, bought, cut and printed before anything is sewn."""
    cutting = facts.cutting
    yield from cautions_story()
    yield from needs_story(behind.paper, behind.sheets, cutting.allowance_in, cutting.units)
    yield from finish_needs(facts)
    yield from quilt_shopping_story(cutting)
    yield from values_story(facts, LARGE if book.large_type else 1.0)
    yield from prints_story(facts, behind.sheets, behind.paper.said)
    yield from quilt_cutting_story(cutting)


def _block(
    quilt: Quilt, part: Part, name: str, behind: Behind, book: BookOptions, paper: Paper, first: bool
) -> Story:
    """A block from its title to its page of colours, cutting left out."""
    title, rest = chapters_of(part, name, behind, book, paper, first=first)
    return (*title, Paragraph(_of_it(quilt, part)), Break(), *rest)


def _of_it(quilt: Quilt, part: Part) -> str:
    """How many of a block the quilt has."""
    file = part.plans[0].block.file
    looks = [number for number, look in enumerate(quilt.looks) if look.drawing == file]
    times = blocks_of_looks(quilt)
    said = [f"{times[number]} of {quilt.looks[number].name}" for number in looks]
    return f"In the quilt: {say_list(said)}."


def _listed(found: Sequence[tuple[str, str]], titles: Container[str]) -> list[tuple[str, str]]:
    """What the list of contents holds: all chapters, or of many the quilt's own and the titles of its blocks."""
    if len(found) <= MOST_LISTED:
        return list(found)
    kept, inside = [], False
    for chapter, page in found:
        inside = chapter in titles or (inside and chapter != LAYING)
        if chapter in titles or not inside:
            kept.append((chapter, page))
    return kept


def _mirror_title(mirror: Mirror) -> str:
    return f"{mirror.plan.block.title}: the mirror image"


def _mirrored(mirror: Mirror) -> Story:
    """A reversed block beside the one whose mirror image it is."""
    plan, of = mirror.plan, mirror.of
    figures = []
    for one in (of, plan):
        picture = block_picture(one.block, SIDE_IN, Finish.COLOUR, names=one.patch_names())
        says = f"{one.block.title}, from the front, its patches named"
        figures.append(Figure(picture.inks, picture.width_in, picture.height_in, says))
    pairs = _pairs(of, plan)
    joins = tuple(
        (f"Join {number}", f"{one.first} to {one.second}", f"{two.first} to {two.second}")
        for number, (one, two) in enumerate(zip(of.joins, plan.joins, strict=True), start=1)
    )
    items: list[Item] = [
        Break(),
        Heading(_mirror_title(mirror), 1),
        Paragraph(
            f"This block is {of.block.title} with left and right changed. It is sewn in the same steps, from "
            "pieces of the same sizes, in the same order; its pictures are those of that block, seen in a mirror."
        ),
        Paragraph(
            "Its foundations are those of the letters in the right column. One marked r is the mirror image of the "
            "one without, and neither can be used for the other. A piece that is handed, a half-rectangle, is cut "
            "for it the other way round.",
            strong=True,
        ),
        Pictures(tuple(figures), (of.block.title, plan.block.title)),
        Table(("", of.block.title, plan.block.title), (*(("Section", a, b) for a, b in pairs), *joins)),
    ]
    return tuple(items)


def _after(
    facts: QuiltFacts, book: BookOptions, room_in: tuple[float, float], full_in: tuple[float, float], scale: float
) -> Iterator[Item]:
    """The quilt, once its blocks are sewn."""
    yield Break()
    yield from laying_story(facts, room_in, scale)
    yield from rows_story(facts)
    yield from borders_story(facts)
    yield from finish_story(facts)
    yield from class_story(facts, book)
    quilt = facts.quilt
    longest = min(
        max(full_in), *(side * max(quilt.width_in, quilt.height_in) / own for side, own in _sides(quilt, full_in))
    )
    picture = quilt_picture(quilt, longest, Finish.BLANK)
    says = f"The whole quilt as outlines, {say_count(len(quilt.spots), 'block')}"
    text = "Colour it with your own fabrics in mind, before any is bought."
    yield Full(COLOUR_IN, text, Figure(picture.inks, picture.width_in, picture.height_in, says))


def _sides(quilt: Quilt, full_in: tuple[float, float]) -> list[tuple[float, float]]:
    return [(full_in[0], quilt.width_in), (full_in[1], quilt.height_in)]
