"""The chapter of words: what this booklet calls the things on the table, and how patches and sections are named.

Knows:  which words a plan needs: nothing is explained that does not come up in its block.
Leaves: the small picture of the block (stepfigures), all chapters in which the words are used.
Units:  inches in, words out in the units of the plan.
Source: common practice; names of sections and patches are our own.
"""

from __future__ import annotations

from collections.abc import Iterator

from seamwright.booklet.model import Heading, Paragraph, Pictures, Story, Table
from seamwright.booklet.stage import Type
from seamwright.booklet.stepfigures import key_figure
from seamwright.piecing.model import Plan, Section
from seamwright.units import say_length, say_size

SHEETS_TOO = ". Each sheet shows it too"
KEY_IN = 2.0
"""Longer side of the picture."""


def words_story(plan: Plan, *, scale: float = 1.0) -> Story:
    """Words and names, and a picture of where the sections lie.

    Args:
        plan: with sections. scale: of words in the picture.
    """
    on_paper = any(map(_on_paper, plan.sections))
    key = key_figure(plan, (), KEY_IN, Type(scale))
    return (
        Heading("Words and names"),
        Paragraph(f"These words and letters are used on every page from here{', and on the paper' * on_paper}."),
        Pictures((key,), (f"The block from the front, parted in its sections{SHEETS_TOO * on_paper}.",)),
        Table(("Word", "What it means"), (*_cloth(plan), *_names(plan), *_paper(plan))),
    )


def _cloth(plan: Plan) -> Iterator[tuple[str, str]]:
    block, options = plan.block, plan.options
    allowance = say_length(options.seam_allowance_in, options.units, glyphs=True)
    size = (block.width_in, block.height_in)
    grown = (block.width_in + 2 * options.seam_allowance_in, block.height_in + 2 * options.seam_allowance_in)
    yield (
        "block",
        f"the whole design: {say_size(*size, options.units, glyphs=True)} finished, that is sewn into a quilt; "
        f"{say_size(*grown, options.units, glyphs=True)} unfinished, with its seam allowance all round",
    )
    yield "patch", "one piece of fabric as it shows in the finished block"
    yield "right side", "the side of a fabric that is to be seen; right sides together: these two face each other"
    yield (
        "seam allowance",
        f"the {allowance} of fabric between the stitching and the raw edge; it ends up on the back",
    )
    yield "bias", "aslant across the threads: an edge cut so stretches, so it is not pulled"


def _names(plan: Plan) -> Iterator[tuple[str, str]]:
    first = plan.sections[0]
    yield "section", f"patches sewn together before they are joined to others; {_letters(plan)}"
    some = next((s for s in plan.sections if s.place == 1 and not s.reversed and len(s.patches) > 1), first)
    count = len(some.patches)
    yield some.patch_name(count), f"the patch of section {some.name} that is sewn on as number {count}"
    again = next((s for s in plan.sections if s.place > 1), None)
    if again is not None:
        print_name = f"{again.print}{'r' * again.reversed}"
        number = min(2, len(again.patches))
        alike = "paper and fabric are those of" if _on_paper(again) else "it is cut and sewn as"
        yield (
            f"{again.name}, {again.patch_name(number)}",
            f"the {_ordinal(again.place)} place in the block where {print_name} is sewn, and its patch {number}; "
            f"{alike} {print_name}{number}",
        )
    mirrored = next((s for s in plan.sections if s.reversed), None)
    if mirrored is not None:
        yield f"{mirrored.print}r", f"the mirror image of section {mirrored.print}, with a print of its own"
    if plan.joins:
        yield "join", "sewing two finished sections, or what earlier joins have made, together along one seam"


def _paper(plan: Plan) -> Iterator[tuple[str, str]]:
    if any(section.kind == "plain" for section in plan.sections):
        yield "plain piece", "a section of one patch: cut to size and sewn without paper"
    if any(section.method == "ruler" for section in plan.sections):
        yield "without paper", "cut with ruler and rotary cutter, and sewn at a scant seam allowance: a thread less"
    if not any(_on_paper(section) for section in plan.sections):
        return
    yield (
        "foundation",
        "the paper that a section is sewn on: fabric lies on its blank side, you stitch on its printed side, which "
        "is the mirror image of the block",
    )
    yield "stitch line", "solid: patches are sewn on those inside a section, joins on those all round it"
    yield "trim line", "in long dashes, a seam allowance outside: paper and fabric are cut there, all patches on"


def _on_paper(section: Section) -> bool:
    return section.kind != "plain" and section.method != "ruler"


def _letters(plan: Plan) -> str:
    """Which letters there are: "A and B here"."""
    letters = list(dict.fromkeys(f"{s.print}{'r' * s.reversed}" for s in plan.sections))
    if len(letters) == 1:
        return f"{letters[0]} here"
    if len(letters) == 2:
        return f"{letters[0]} and {letters[1]} here"
    return f"{letters[0]} to {letters[-1]} here"


def _ordinal(place: int) -> str:
    return {2: "second", 3: "third"}.get(place, f"{place}th")
