"""The chapter of sizes to check against: every section, every join and the block, as they measure before sewn on.

Knows:  which parts are listed, in the order in which they come about.
Leaves: what a part measures (sizes).
Units:  inches in, words out.
"""

from __future__ import annotations

from seamwright.booklet.model import Heading, Paragraph, Story, Table
from seamwright.booklet.sizes import Sizes
from seamwright.piecing.model import Plan
from seamwright.units import say_length, say_size


def checks_story(plan: Plan, sizes: Sizes) -> Story:
    """A table to tick off; equal sections of one print are one line."""
    units, block = plan.options.units, plan.block
    allowance = plan.options.seam_allowance_in
    sections = [
        (", ".join(section.name for section in places), sizes.unfinished(places[0].name).said(units), "")
        for places in plan.prints()
    ]
    joins = [
        (f"join {number}: {join.makes}", sizes.unfinished(join.makes).said(units), "")
        for number, join in enumerate(plan.joins, start=1)
    ]
    whole = say_size(block.width_in + 2 * allowance, block.height_in + 2 * allowance, units, glyphs=True)
    finished = say_size(block.width_in, block.height_in, units, glyphs=True)
    slack = "1/16 in" if units.sign == "in" else "1 mm"
    return (
        Heading("Sizes to check"),
        Paragraph(
            "Measure each part before it is sewn on, pressed, its paper still on. What is off by more than "
            f"{slack} is sewn again now: later it costs the whole block. These sizes hold the seam allowance of "
            f"{say_length(allowance, units, glyphs=True)} on every side."
        ),
        Table(("Part", "Unfinished", "Yours"), (*sections, *joins, ("the block", whole, ""))),
        Paragraph(f"Once it is sewn into the quilt the block is {finished}."),
    )
