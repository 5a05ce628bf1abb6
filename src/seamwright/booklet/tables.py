"""The chapter of cutting tables: strips and their subcuts, pieces by fabric or by section, units without paper.

Knows:  which tables a cutting list needs, and their words.
Leaves: sizes and numbers (cutting), how tables look (rows).
Units:  inches in, words out in the units of the plan.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence

from seamwright.booklet.model import Heading, Item, Paragraph, Points, Story, Table
from seamwright.booklet.saying import cut_size, fabric_named, patch_list, swatch_of
from seamwright.cutting.amounts import quarter_side
from seamwright.cutting.model import Cutting, FabricCut, Row, Strip, Unit
from seamwright.cutting.stacks import stacks
from seamwright.fabric.pieces import Lay, Piece
from seamwright.fabric.words import becomes, fabric_called, value_word
from seamwright.options import Units
from seamwright.units import say_count, say_length, say_list, with_glyphs

BLADE = (
    "A rotary cutter is as sharp as a razor: draw the blade away from your body, close it at once, and keep your "
    "fingers off the ruler's edge."
)
TWICE = "Read each size twice before you cut; every size here already holds the seam allowance."


def cutting_story(cutting: Cutting, of: str = "") -> Story:
    """All cutting tables of a plan.

    Args:
        of: what the block is called, where several are told; "" for one alone.
    """
    blocks = cutting.options.blocks
    parts: list[Item] = [
        Heading(f"Cutting: {of}" if of else "Cutting"),
        Paragraph(f"{TWICE} All numbers are for {say_count(blocks, 'block')}. {_order(cutting)}"),
        Paragraph(BLADE, strong=True),
    ]
    parts += _notes(cutting)
    for fabric in cutting.fabrics:
        parts += _fabric(fabric, cutting)
    if cutting.options.stack:
        parts += _stacks(cutting)
    parts += _units(cutting)
    return tuple(parts)


def _order(cutting: Cutting) -> str:
    if cutting.options.stack:
        return "Cut fabric by fabric, widest strips first; then stack the pieces section by section and label them."
    return "Cut fabric by fabric, widest strips first, and keep the pieces of each line together with their names."


def _notes(cutting: Cutting) -> list[Points]:
    texts = tuple(f"{note.text[:1].upper()}{note.text[1:]}." for note in cutting.notes)
    return [Points(texts)] if texts else []


def _fabric(cut: FabricCut, cutting: Cutting) -> Iterator[Heading | Paragraph | Table]:
    units = cutting.plan.options.units
    yield Heading(fabric_called(cut.fabric), 2, swatch_of(cutting.plan.block, cut.fabric) or "")
    value = value_word(cut.fabric)
    width = say_length(cut.width_in, units, glyphs=True)
    takes = say_length(cut.length_in, units, glyphs=True)
    if cut.quarters:
        side = quarter_side(cut.width_in, units)
        how = f"Strips run along the {side} side of each fat quarter, {width} usable; together {takes} wide."
    else:
        how = f"Strips run across the fabric, {width} usable; with a straight edge they take {takes} of its length."
    yield Paragraph(f"{value[:1].upper()}{value[1:]}{'. ' * bool(value)}{how}")
    if cut.strips:
        yield _strips(cut, units)
    if cut.quarters:
        yield _quarters(cut, units)
    if cut.left_over:
        left = "; ".join(cut_size(*size, units) for size in cut.left_over)
        yield Paragraph(f"Left over of what is bought, with all of the spare: {left}.")
    if cut.rows and not cutting.options.stack:
        yield _pieces(cut.rows, units)


def _strips(cut: FabricCut, units: Units) -> Table:
    begin = [f"{number}. " if cut.quarters else "" for number in range(1, len(cut.strips) + 1)]
    rows = tuple(
        line for number, strip in zip(begin, cut.strips, strict=True) for line in _strip_lines(strip, units, number)
    )
    return Table(("Strips", "Cut", "Size", "As", "For"), rows, (1,), caption="Strips and subcuts")


def _strip_lines(strip: Strip, units: Units, begin: str) -> Iterator[tuple[str, ...]]:
    """A line for each subcut; then what is left behind them, cut along into narrower strips."""
    cell = f"{begin}{say_count(strip.count, 'strip')}, {say_length(strip.width_in, units, glyphs=True)} wide"
    for sub in strip.subcuts:
        square = math.isclose(sub.length_in, sub.height_in, abs_tol=1e-6)
        size = cut_size(sub.length_in, sub.height_in, units)
        what = becomes(sub.shape, sub.share, square, sub.hand)
        down = ", cut down" if sub.height_in < strip.width_in - 1e-6 else ""
        yield cell, str(sub.count), size, what + down, patch_list(sub.patches)
        cell = ""
    if not strip.subcuts:
        yield cell, "", "", "", ""
    for narrow in strip.rest:
        yield from _strip_lines(narrow, units, "From their rest, cut along: ")


def _quarters(cut: FabricCut, units: Units) -> Table:
    """Which strips come from which fat quarter."""
    rows = tuple(
        (
            say_count(quarter.count, "fat quarter"),
            "; ".join(f"{say_count(count, 'strip')} of line {line + 1}" for line, count in quarter.strips),
        )
        for quarter in cut.quarters
    )
    spare = (cut.fat_quarters or 0) - sum(quarter.count for quarter in cut.quarters)
    rows += ((say_count(spare, "fat quarter"), "kept whole, as spare"),) * bool(spare)
    head = ("Of", "Cut from each")
    return Table(head, rows, caption="Strips and fat quarters")


def _pieces(rows: Sequence[Row], units: Units) -> Table:
    lines = tuple(
        (
            cut_size(row.width_in, row.height_in, units),
            str(row.cuts),
            f"{becomes(row.shape, row.share, _is_square(row), row.hand)}{_one_way(row)}",
            str(row.count),
            patch_list(row.patches),
        )
        for row in rows
    )
    head = ("Size", "Cut", "As", "Pieces", "For")
    return Table(head, lines, (1, 3), caption="Pieces")


def _is_square(row: Row | Piece) -> bool:
    return math.isclose(row.width_in, row.height_in, abs_tol=1e-6)


def _one_way(row: Row) -> str:
    return "; second side along the selvedge" if row.one_way else ""


def _stacks(cutting: Cutting) -> Iterator[Heading | Paragraph | Table]:
    """Pieces section by section, to be stacked and labelled."""
    plan = cutting.plan
    yield Heading("Stacks by section", 2)
    yield Paragraph("One stack for each section, its pieces in sewing order; sections sewn alike share one.")
    for stack in stacks(cutting):
        fabrics = [fabric_named(plan.block, piece.fabric) for piece in stack.pieces]
        rows = tuple(
            (
                piece.name,
                fabric_called(fabric or piece.fabric),
                cut_size(piece.width_in, piece.height_in, plan.options.units),
                becomes(piece.shape, piece.share, _is_square(piece), piece.hand),
                laid(piece),
                str(stack.count),
            )
            for piece, fabric in zip(stack.pieces, fabrics, strict=True)
        )
        head = ("Patch", "Fabric", "Size", "As", "Laid", "Pieces")
        names = f"Section{'s' * (len(stack.sections) > 1)} {say_list(stack.sections)}"
        yield Table(head, rows, (5,), tuple(swatch_of(plan.block, fabric) for fabric in fabrics), names)


_LAID = {
    Lay.FIRST: "first, right side up",
    Lay.CENTRED: "centred on its line",
    Lay.TICKS: "its ends at the ticks",
    Lay.ANGLED: "at the angle drawn",
    Lay.PLAIN: "edge on edge",
}


def laid(piece: Piece) -> str:
    """How a piece is laid, in a few words."""
    return "its end at the tick" if len(piece.ticks) == 1 else _LAID[piece.lay]


def _units(cutting: Cutting) -> Iterator[Heading | Paragraph | Table | Points]:
    if not cutting.units:
        return
    on_paper = any(unit.on_paper for unit in cutting.units)
    yield Heading("Quicker without paper", 2)
    text = "These are cut with ruler and rotary cutter and sewn without paper, at a scant seam allowance."
    if on_paper:
        text += (
            " Where it says so, this plan sews them on paper all the same, and their foundations are printed: "
            "the tables of fabrics count them so."
        )
    yield Paragraph(text)
    for unit in cutting.units:
        yield from _unit(unit, cutting)


def _unit(unit: Unit, cutting: Cutting) -> Iterator[Heading | Paragraph | Table | Points]:
    plan = cutting.plan
    units = plan.options.units
    yield Heading(f"{unit.kind[:1].upper()}{unit.kind[1:]}: {patch_list(unit.patches)}", 3)
    where = f"section{'s' * (len(unit.sections) > 1)} {say_list(unit.sections)}; " if unit.sections else ""
    made = f"{where}{say_count(unit.count, 'unit')}, {cut_size(unit.width_in, unit.height_in, units)} finished; "
    made += f"measure {cut_size(unit.unfinished_width_in, unit.unfinished_height_in, units)} once it is sewn"
    made += "; on paper in this plan" * unit.on_paper
    yield Paragraph(f"{made[:1].upper()}{made[1:]}.")
    rows = tuple(
        (
            fabric_called(fabric_named(plan.block, cut.fabric) or cut.fabric),
            str(cut.count),
            cut_size(cut.width_in, cut.height_in, units),
            becomes(cut.shape, cut.share, math.isclose(cut.width_in, cut.height_in, abs_tol=1e-6)),
            patch_list(cut.patches),
        )
        for cut in unit.cuts
    )
    swatches = tuple(swatch_of(plan.block, cut.fabric) for cut in unit.cuts)
    yield Table(("Fabric", "Cut", "Size", "As", "For"), rows, (1,), swatches)
    if unit.ways:
        yield Points(tuple(map(with_glyphs, unit.ways)))
