"""A cutting list as pages of its own: what to buy, then the cutting tables of each block.

Knows:  what stands before the tables where no booklet tells it.
Leaves: the tables (tables), amounts (cutting), pages (pages).
Units:  inches in, words out in the units of the plans.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from seamwright.booklet.fabrics import fabrics_story
from seamwright.booklet.model import Heading, Item, Paragraph, Story, Table
from seamwright.booklet.saying import colour_of
from seamwright.booklet.tables import another_way_story, cutting_story
from seamwright.cutting.model import Cutting
from seamwright.cutting.shopping import Bought, shopping
from seamwright.fabric.words import fabric_called, value_word
from seamwright.options import Units
from seamwright.sheet.naming import block_names
from seamwright.units import say_bought, say_count, say_size


def sheet_story(cuttings: Sequence[Cutting]) -> Story:
    """The story of one cutting list or more, with one shopping list over all of them."""
    items: list[Item] = [Heading("Cutting list"), *(Paragraph(_made(cutting)) for cutting in cuttings)]
    bought = shopping(cuttings) if len(cuttings) > 1 else ()
    if bought:
        items += _together(bought, cuttings[0].plan.options.units)
    else:
        items += [replace(item, level=2) if isinstance(item, Heading) else item for item in fabrics_story(cuttings)]
    names = block_names([cutting.plan for cutting in cuttings]) if len(cuttings) > 1 else ("",)
    for cutting, name in zip(cuttings, names, strict=True):
        items += (*cutting_story(cutting, name), *another_way_story(cutting, 2))
    return tuple(items)


def _made(cutting: Cutting) -> str:
    plan = cutting.plan
    size = say_size(plan.block.width_in, plan.block.height_in, plan.options.units, glyphs=True)
    return f"{plan.block.title}, {say_count(cutting.options.blocks, 'block')} of {size} finished, plan {plan.id}."


def _together(bought: Sequence[Bought], units: Units) -> Story:
    """What to buy for all blocks."""
    rows = tuple((fabric_called(b.fabric), value_word(b.fabric), *_ways(b, units)) for b in bought)
    head = ("Fabric", "Value", "Buy", "Or") if any(b.instead for b in bought) else ("Fabric", "Value", "Buy")
    swatches = tuple(colour_of(b.fabric) for b in bought)
    return (
        Heading("Fabric", 2),
        Paragraph("For all blocks together: fabrics of one name are one. The spare is in it."),
        Table(head, tuple(row[: len(head)] for row in rows), (2,), swatches),
    )


def _ways(bought: Bought, units: Units) -> tuple[str, str]:
    ways = [say_bought(bought.length_in, units, glyphs=True)] if bought.length_in else []
    ways += [say_count(bought.fat_quarters, "fat quarter")] if bought.fat_quarters else []
    return " and ".join(ways), say_count(bought.instead, "fat quarter") if bought.instead else ""
