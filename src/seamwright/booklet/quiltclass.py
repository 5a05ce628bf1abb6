"""The chapter for whoever teaches a quilt: one quilt sewn by many hands, or a quilt for each.

Knows:  common practice of sewing classes.
Leaves: level and time of a block (effort), amounts (quilt.cutting), cautions (cautions).
"""

from __future__ import annotations

from seamwright.booklet.effort import effort_of
from seamwright.booklet.model import Heading, Item, Paragraph, Points, Story, Table
from seamwright.booklet.title import hours_said
from seamwright.options import BookOptions
from seamwright.quilt.counts import blocks_of_looks
from seamwright.quiltfacts import QuiltFacts
from seamwright.units import say_count

POINTS = (
    "Print all foundations on one printer and measure a sheet of each run: two printers differ by more than a "
    "point forgives.",
    "Hand them out block by block, clipped together, with the name of the block, a line for the name of the "
    "student, and fabric cut and labelled for it; keep one spare set for every ten.",
    "All sew with the same thread, the same length of stitch and the same allowance; whoever makes many sews "
    "step 1 of all, then step 2 of all.",
    "Every block is measured against its page of sizes before it is handed in, its outer paper still on. Sort "
    "them by size: blocks that are a thread small go side by side.",
    "Lay out the quilt together and take a photograph before anybody sews a row.",
)


def class_story(facts: QuiltFacts, book: BookOptions) -> Story:
    """How a quilt is taught; how long each block takes."""
    quilt, students = facts.quilt, book.students
    times = blocks_of_looks(quilt)
    rows = []
    for number, (look, plan) in enumerate(zip(quilt.looks, facts.plans, strict=True)):
        effort = effort_of(plan, book)
        rows.append((look.name, effort.level, f"about {hours_said(effort.hours)}", str(times[number])))
    items: list[Item] = [Heading("For a class")]
    if students > 1:
        least, more = divmod(len(quilt.spots), students)
        each = say_count(least, "block") if not more else f"{least} or {say_count(least + 1, 'block')}"
        items.append(
            Paragraph(
                f"Sewn together by {students}, this quilt is {each} each. If each of them makes a quilt of her "
                "own, all that is bought, cut and printed here is for one of them."
            )
        )
    else:
        items.append(Paragraph("One quilt can be sewn by many hands, if all of them keep to the same few things."))
    items += [
        Points(POINTS),
        Table(("Block", "Level", "Time for one", "In the quilt"), tuple(rows), (3,)),
        Paragraph(
            "Blades, irons and needles are shared at the table: see the first chapter, and count pins at the end."
        ),
    ]
    return tuple(items)
