"""The first pages: the block in its fabrics, what it is, what it asks for, and what is in the booklet.

Knows:  what stands on the title page and in the list of contents.
Leaves: pictures of blocks (picture.cloth), level and time (effort), page numbers (make).
Units:  inches.
"""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction

from seamwright.booklet.effort import Effort
from seamwright.booklet.model import Break, Figure, Heading, Item, Paragraph, Pictures, Story, Table
from seamwright.options import BookOptions
from seamwright.piecing.model import Plan
from seamwright.units import say_count, say_fraction, say_list, say_size

CONTENTS = "In this booklet"
PAPER, RULER = "Foundation paper piecing", "Cut by ruler and sewn without paper"
WIDEST_IN, LEAST_IN = 4.6, 1.5
"""The picture on the title page, at the most and at the least."""
WORDS_IN = 4.3
"""What the words of the title page take of its height at their usual size."""
GAP_IN = 0.3


def title_story(
    name: str,
    plans: Sequence[Plan],
    apart: Sequence[Plan],
    effort: Effort,
    book: BookOptions,
    room_in: tuple[float, float],
    footer: str,
    scale: float,
) -> Story:
    """The title page of a block in one colourway or several, its facts in a table.

    Args:
        name: what tells the block from the others of the booklet.
        plans: one of each colourway, alike in all else. apart: other colourways, told in parts of their own.
        room_in: width and height of a page's contents.
        footer: the designer's own words, "" for none. scale: of words.
    """
    plan = plans[0]
    block, units = plan.block, plan.options.units
    allowance = plan.options.seam_allowance_in
    grown = (block.width_in + 2 * allowance, block.height_in + 2 * allowance)
    ids = say_list(list(dict.fromkeys(one.id for one in plans)))
    rows = [
        ("Finished", say_size(block.width_in, block.height_in, units, glyphs=True)),
        ("Unfinished", say_size(*grown, units, glyphs=True)),
        ("Level", effort.level),
        ("Time for one block", f"about {hours_said(effort.hours)}{'' if book.hours else ', estimated'}"),
        ("Patches", str(effort.patches)),
        ("Sections", _sections(effort)),
        ("Joins", _joins(effort)),
        ("Points to match", str(effort.points)),
        ("Sharpest point", f"about {effort.sharpest_deg:.0f} degrees"),
        ("Plan", f"{ids}{', as on every sheet' * bool(effort.foundations)}"),
    ]
    items: list[Item] = [Heading(name, 0), Paragraph(f"{PAPER if effort.foundations else RULER}, step by step.")]
    items.append(Pictures(*_pictures([*plans, *apart], (room_in[0], room_in[1] - WORDS_IN * scale))))
    items.append(Table(("The block", ""), tuple(rows)))
    if apart:
        names = say_list([one.block.title for one in apart], most=4)
        items.append(Paragraph(f"The sewing order of {names} is another: chapters of its own follow at the end."))
    if footer:
        items.append(Paragraph(footer, strong=True))
    return tuple(items)


def contents_story(found: Sequence[tuple[str, str]]) -> Story:
    """The list of contents: (chapter, page) one below the other, beginning a page."""
    return (Break(), Heading(CONTENTS, 2), Table(("", "Page"), tuple(found), figures=(1,)))


def hours_said(hours: float) -> str:
    """Such as "2½ hours".

    >>> hours_said(1.0), hours_said(2.5)
    ('1 hour', '2½ hours')
    """
    return f"{say_fraction(Fraction(hours).limit_denominator(8), glyphs=True)} hour{'' if hours == 1 else 's'}"


def _sections(effort: Effort) -> str:
    if not effort.foundations:
        return f"{effort.plain} without paper"
    on_paper = f"{effort.foundations} on paper"
    return f"{on_paper}, {effort.plain} without" if effort.plain else on_paper


def _joins(effort: Effort) -> str:
    special = f", {effort.special} of them with a curve or a turn" if effort.special else ""
    return f"{effort.joins}{special}"


def _pictures(plans: Sequence[Plan], room_in: tuple[float, float]) -> tuple[tuple[Figure, ...], tuple[str, ...]]:
    from seamwright.picture.cloth import Finish, block_picture

    width, height = room_in
    row = min(len(plans), 2 if len(plans) in (2, 4) else 3)
    rows = -(-len(plans) // row)
    shape = max(1.0, max(plan.block.height_in / plan.block.width_in for plan in plans))
    across = (width - (row - 1) * GAP_IN) / row
    longest = max(LEAST_IN, min(WIDEST_IN, height / rows - GAP_IN, across * shape))
    figures = []
    for plan in plans:
        picture = block_picture(plan.block, longest, Finish.COLOUR)
        says = f"{plan.block.title} in its fabrics, from the front"
        figures.append(Figure(picture.inks, picture.width_in, picture.height_in, says))
    captions = (
        tuple(plan.block.colourway or "own fabrics" for plan in plans)
        if len(plans) > 1
        else ("The finished block, from the front",)
    )
    return tuple(figures), captions


def level_words(effort: Effort) -> str:
    """Level and time in one sentence, for a screen."""
    return f"{effort.level}, about {hours_said(effort.hours)}, {say_count(effort.patches, 'patch', 'patches')}"
