"""The chapter of fabric: what to buy for the blocks, and the kits of a class.

Knows:  which columns these tables have, what belongs into a kit.
Leaves: amounts (cutting), how tables look (rows).
Units:  inches in, yards or metres out.
"""

from __future__ import annotations

from collections.abc import Sequence

from seamwright.booklet.model import Heading, Item, Paragraph, Points, Story, Table
from seamwright.booklet.saying import swatch_of
from seamwright.cutting.model import Cutting, FabricCut
from seamwright.fabric.words import fabric_called, value_word
from seamwright.options import Cloth, Units
from seamwright.units import say_bought, say_count, say_length


def fabrics_story(cuttings: Sequence[Cutting]) -> Story:
    """What to buy, a table for each colourway."""
    first = cuttings[0]
    units = first.plan.options.units
    wide = _width(first, units)
    items: list[Item] = [
        Heading("Fabric"),
        Paragraph(
            f"For {say_count(first.options.blocks, 'block')}, {_spare(first)} rounded up to what shops sell.{wide} "
            f"Backing, batting and binding are not counted. {_swatch_words(cuttings)}"
        ),
    ]
    for cutting in cuttings:
        rows = [
            (fabric_called(cut.fabric), value_word(cut.fabric), amount(cut, units), other_amount(cut, units))
            for cut in cutting.fabrics
        ]
        caption = cutting.plan.block.title if len(cuttings) > 1 else ""
        items.append(_told(("Fabric", "Value", "Buy", "Or"), rows, _swatches(cutting), caption, (2,)))
    return tuple(items)


def _spare(cutting: Cutting) -> str:
    spare = cutting.options.spare
    return f"with {spare * 100:g} % more than is cut, for shrinkage and mistakes," if spare else "nothing to spare,"


def _swatch_words(cuttings: Sequence[Cutting]) -> str:
    """What the colours beside the names are worth."""
    fabrics = [cut.fabric for cutting in cuttings for cut in cutting.fabrics if cut.fabric is not None]
    words = "A swatch is as near as a printer comes: go by name, value and your own eyes."
    if fabrics and all(fabric.colour is None for fabric in fabrics):
        words = "The drawing states no colours: those of this booklet only tell the fabrics apart."
    if any(fabric.name.startswith("#") for fabric in fabrics):
        words += " A fabric without a name is called by the number of its colour; write yours beside it."
    return words


def kits_story(
    each: Sequence[Cutting], together: Sequence[Cutting], students: int, sheets: int, copies: int
) -> Story:
    """The kit of each student, and what a class needs in all.

    Args:
        each: cutting lists for one student's blocks, a colourway each; together: for those of all students.
        sheets: of foundations in the file; copies: of each foundation on them.
    """
    blocks, units = each[0].options.blocks, each[0].plan.options.units
    sets = blocks * students
    items: list[Item] = [
        Heading(f"Kits for a class of {students}"),
        Paragraph(
            f"Each student makes {say_count(blocks, 'block')}. The class needs less of each fabric where all "
            "kits are cut together than where each is cut apart."
        ),
    ]
    for one, all_ in zip(each, together, strict=True):
        rows = [
            (fabric_called(cut.fabric), value_word(cut.fabric), amount(cut, units), amount(whole, units))
            for cut, whole in zip(one.fabrics, all_.fabrics, strict=True)
        ]
        caption = one.plan.block.title if len(each) > 1 else ""
        head = ("Fabric", "Value", "One student", "The class")
        items.append(_told(head, rows, _swatches(one), caption, (2, 3)))
    held = f"{say_count(copies, 'set')} of foundations on {say_count(sheets, 'sheet')}"
    paper_rows = (
        *((("Foundations, sets", str(blocks), str(sets)),) if sheets else ()),
        ("Booklet", "1", str(students)),
        ("Needle, size 80 to 90", "1", str(students)),
        ("Thread, spool", "1", str(students)),
    )
    items += [
        Table(("For each student also", "One student", "The class"), paper_rows, (1, 2)),
        *(
            [
                Paragraph(
                    f"One set of foundations makes one block; this file holds {held}, so print its sheets "
                    f"{say_count(-(-sets // copies), 'time')} for the class, and one spare in ten."
                )
            ]
            if sheets
            else []
        ),
        Heading("For the table to share", 2),
        Points(
            (
                "rotary cutters with their mats and rulers, and a place to lay them down closed",
                "irons and boards, on cords that nobody trips over",
                "lamps or a window to look through",
                "scissors, seam rippers, pins in a tin: counted before and after",
            ),
            boxes=True,
        ),
    ]
    return tuple(items)


def _told(
    head: Sequence[str],
    rows: Sequence[Sequence[str]],
    swatches: tuple[str | None, ...],
    caption: str,
    figures: tuple[int, ...],
) -> Table:
    """A table without the columns in which nothing stands."""
    kept = [n for n in range(len(head)) if any(row[n] for row in rows)]
    cells = tuple(tuple(row[n] for n in kept) for row in rows)
    flush = tuple(kept.index(n) for n in figures if n in kept)
    return Table(tuple(head[n] for n in kept), cells, flush, swatches, caption)


def amount(cut: FabricCut, units: Units) -> str:
    """What to buy of a fabric, such as "⅜ yd", "2 fat quarters"."""
    if cut.cloth is Cloth.FAT_QUARTERS and cut.fat_quarters is not None:
        return say_count(cut.fat_quarters, "fat quarter")
    return say_bought(cut.bought_in, units, glyphs=True)


def other_amount(cut: FabricCut, units: Units) -> str:
    """The other way to buy it."""
    if cut.cloth is Cloth.FAT_QUARTERS:
        return say_bought(cut.bought_in, units, glyphs=True)
    return say_count(cut.fat_quarters, "fat quarter") if cut.fat_quarters is not None else ""


def _swatches(cutting: Cutting) -> tuple[str | None, ...]:
    return tuple(swatch_of(cutting.plan.block, cut.fabric) for cut in cutting.fabrics)


def _width(cutting: Cutting, units: Units) -> str:
    """Which width was counted with, if it is one for all."""
    widths = {cut.width_in for cut in cutting.fabrics if cut.cloth is Cloth.BOLT}
    if len(widths) != 1:
        return ""
    return f" Fabric counts as {say_length(widths.pop(), units, glyphs=True)} wide, its selvedges left out."
