"""The chapter of sizes to check against: every section, every join and the block, as they measure before sewn on.

Knows:  which parts are listed, in the order in which they come about.
Leaves: what a part measures (sizes).
Units:  inches in, words out.
"""

from __future__ import annotations

from seamwright.booklet.joins import LONG_NAME
from seamwright.booklet.model import Heading, Paragraph, Story, Table
from seamwright.booklet.sizes import Sizes
from seamwright.booklet.steps import shared_prints
from seamwright.piecing.model import Plan
from seamwright.units import say_length, say_size

DEEP = (
    " Of a part that is no rectangle you measure its longest side and how deep it is: square to that side, to its "
    "farthest point."
)


def checks_story(plan: Plan, sizes: Sizes) -> Story:
    """A table to tick off; sections that share a print, so are sewn alike, are one line."""
    units, block = plan.options.units, plan.block
    allowance = plan.options.seam_allowance_in
    parts = [(", ".join(s.name for s in places), places[0].name) for _, places in shared_prints(plan)]
    parts += [(_made(number, join.makes), join.makes) for number, join in enumerate(plan.joins[:-1], start=1)]
    measured = [(called, sizes.unfinished(name)) for called, name in parts]
    whole = say_size(block.width_in + 2 * allowance, block.height_in + 2 * allowance, units, glyphs=True)
    finished = say_size(block.width_in, block.height_in, units, glyphs=True)
    slack = "1/16 in" if units.sign == "in" else "1 mm"
    paper = ", its paper still on" * any(section.method == "paper" for section in plan.sections)
    return (
        Heading("Sizes to check"),
        Paragraph(
            f"Press each part and measure it before it is sewn on{paper}. What is off by more than {slack} is sewn "
            "again now: later it costs the whole block. These sizes hold the seam allowance of "
            f"{say_length(allowance, units, glyphs=True)} on every side. Write down what yours measure."
            f"{'' if all(size.is_rectangle for _, size in measured) else DEEP}"
        ),
        Table(
            ("Part", "Unfinished", "Yours"),
            (*((called, size.said(units), "") for called, size in measured), ("the whole block", whole, "")),
        ),
        Paragraph(f"Once it is sewn into the quilt the block is {finished}."),
    )


def _made(number: int, name: str) -> str:
    """What a join has made: by its number, and by its letters if they are few."""
    return f"join {number}: {name}" if len(name) <= LONG_NAME else f"join {number}"
