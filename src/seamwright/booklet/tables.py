"""The chapter of cutting tables: strips and their subcuts, pieces by fabric or by section, units without paper.

Knows:  which tables a cutting list needs, and their words.
Leaves: sizes and numbers (cutting), how tables look (rows).
Units:  inches in, words out in the units of the plan.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from functools import partial

from seamwright.booklet.model import Heading, Item, Paragraph, Points, Story, Table
from seamwright.booklet.saying import cut_size, fabric_named, places_list, swatch_of
from seamwright.cutting.amounts import quarter_side
from seamwright.cutting.model import Cutting, FabricCut, Row, Strip, Subcut, Unit
from seamwright.cutting.stacks import stacks
from seamwright.fabric.model import Fabric
from seamwright.fabric.pieces import Lay, Piece
from seamwright.fabric.words import becomes, fabric_called, value_word
from seamwright.options import CutOptions, Units
from seamwright.units import say_count, say_length, say_list, say_once, with_glyphs

BLADE = (
    "A rotary cutter is as sharp as a razor: draw the blade away from your body, close it at once, and keep your "
    "fingers off the ruler's edge."
)
TWICE = "Read each size twice before you cut; every size here already holds the seam allowance."
ALONG = (
    "Of each size the first number lies along the strip. What is cut down is narrower than its strip: cut it off, "
    "then trim it to its size."
)


REST = (
    " What its pieces leave at the end of a strip is its rest: cut it lengthwise, as the strip runs, into narrower "
    "strips."
)


def along_words(fabrics: Sequence[FabricCut]) -> str:
    """How sizes of strips and their pieces are read."""
    return ALONG + REST * any(strip.rest for cut in fabrics for strip in cut.strips)


def cutting_story(cutting: Cutting, of: str = "") -> Story:
    """All cutting tables of a plan.

    Args:
        of: what the block is called, where several are told; "" for one alone.
    """
    blocks = cutting.options.blocks
    parts: list[Item] = [
        Heading(f"Cutting: {of}" if of else "Cutting"),
        Paragraph(f"{TWICE} All numbers are for {say_count(blocks, 'block')}. {_order(cutting)}"),
        Paragraph(along_words(cutting.fabrics)),
        Paragraph(BLADE, strong=True),
    ]
    parts += _notes(cutting)
    for fabric in cutting.fabrics:
        parts += fabric_story(fabric, told_of(cutting))
    if cutting.options.stack:
        parts += stacks_story(cutting)
    parts += _units(cutting)
    return tuple(parts)


@dataclass(frozen=True, slots=True)
class Told:
    """How the tables of one list are told.

    Attributes:
        units: whose measures. options: of the list.
        places: names of patches as a cell holds them. fabric: what is known of a fabric by its name.
        swatch: the colour in which a fabric is shown.
    """

    units: Units
    options: CutOptions
    places: Callable[[Sequence[str]], str]
    fabric: Callable[[str | None], Fabric | None]
    swatch: Callable[[Fabric | str | None], str | None]


def told_of(cutting: Cutting) -> Told:
    """The list of one plan."""
    plan = cutting.plan
    return Told(
        plan.options.units,
        cutting.options,
        partial(places_list, plan),
        partial(fabric_named, plan.block),
        partial(swatch_of, plan.block),
    )


def _order(cutting: Cutting) -> str:
    if cutting.options.stack:
        return "Cut fabric by fabric, widest strips first; then stack the pieces section by section and label them."
    return "Cut fabric by fabric, widest strips first, and keep the pieces of each line together with their names."


def _notes(cutting: Cutting) -> list[Points]:
    texts = tuple(f"{note.text[:1].upper()}{note.text[1:]}." for note in cutting.notes)
    return [Points(texts)] if texts else []


def fabric_story(cut: FabricCut, told: Told) -> Iterator[Heading | Paragraph | Table]:
    """The tables of one fabric."""
    units = told.units
    yield Heading(fabric_called(cut.fabric), 2, told.swatch(cut.fabric) or "")
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
        yield _strips(cut, told)
    if cut.quarters:
        yield _quarters(cut, units)
    if cut.left_over:
        left = "; ".join(say_once([cut_size(*size, units) for size in cut.left_over]))
        spare = ", with all of the spare" if told.options.spare else ""
        yield Paragraph(f"Left over of what is bought{spare}: {left}.")
    if not told.options.stack and not _is_told(cut):
        yield _pieces(cut, told)


def _is_told(cut: FabricCut) -> bool:
    """Whether the strips say all of a fabric's pieces: each size in one line of them, with its whole number."""
    lines = [sub for strip in cut.strips for sub in _subcuts(strip)]
    told = [(_sides(sub.length_in, sub.height_in), sub.count, sub.hand, sub.patches) for sub in lines]
    rows = [(_sides(row.width_in, row.height_in), row.cuts, row.hand, row.patches) for row in cut.rows]
    return sorted(told) == sorted(rows)


def _sides(width_in: float, height_in: float) -> tuple[float, float]:
    """The same of a rectangle and of one rotated by a quarter turn."""
    short, long = sorted((round(width_in, 6), round(height_in, 6)))
    return short, long


def _subcuts(strip: Strip) -> Iterator[Subcut]:
    """Those of a strip, and of what is left of it."""
    yield from strip.subcuts
    for narrow in strip.rest:
        yield from _subcuts(narrow)


def _strips(cut: FabricCut, told: Told) -> Table:
    begin = [f"{number}. " if cut.quarters else "" for number in range(1, len(cut.strips) + 1)]
    rows = tuple(
        line for number, strip in zip(begin, cut.strips, strict=True) for line in _strip_lines(strip, told, number)
    )
    return Table(("Strips", "Cut", "Size", "As", "For"), rows, (1,), caption="Strips and subcuts")


def _strip_lines(strip: Strip, told: Told, begin: str) -> Iterator[tuple[str, ...]]:
    """A line for each subcut; then what is left behind them, cut along into narrower strips."""
    units = told.units
    cell = f"{begin}{say_count(strip.count, 'strip')}, {say_length(strip.width_in, units, glyphs=True)} wide"
    for sub in strip.subcuts:
        square = math.isclose(sub.length_in, sub.height_in, abs_tol=1e-6)
        size = cut_size(sub.length_in, sub.height_in, units)
        down = sub.height_in < strip.width_in - 1e-6
        what = becomes(sub.shape, sub.share, square, sub.hand, down=down)
        yield cell, str(sub.count), size, what, told.places(sub.patches)
        cell = ""
    if not strip.subcuts:
        yield cell, "", "", "", ""
    for narrow in strip.rest:
        yield from _strip_lines(narrow, told, "of their rest, lengthwise: ")


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


def _pieces(cut: FabricCut, told: Told) -> Table:
    units = told.units
    lines = tuple(
        (
            cut_size(row.width_in, row.height_in, units),
            str(row.cuts),
            f"{becomes(row.shape, row.share, _is_square(row), row.hand)}{_one_way(row, cut)}",
            str(row.count),
            told.places(row.patches),
        )
        for row in cut.rows
    )
    head = ("Size", "Cut", "As", "Pieces", "For")
    return Table(head, lines, (1, 3), caption="All pieces of these strips")


def _is_square(row: Row | Piece) -> bool:
    return math.isclose(row.width_in, row.height_in, abs_tol=1e-6)


def _one_way(row: Row, cut: FabricCut) -> str:
    # A whole strip lies right across, and can lie no other way.
    is_strip = math.isclose(row.width_in, cut.width_in, abs_tol=1e-6)
    return "; second side along the selvedge" if row.one_way and not is_strip else ""


def stacks_story(cutting: Cutting) -> Iterator[Heading | Paragraph | Table]:
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
    Lay.ANGLED: "along its dotted marks",
    Lay.PLAIN: "edge on edge",
}


def laid(piece: Piece) -> str:
    """How a piece is laid, in a few words."""
    return "its end at the tick" if len(piece.ticks) == 1 else _LAID[piece.lay]


def another_way_story(cutting: Cutting, level: int = 1) -> Story:
    """What this plan sews on paper, and another plan of the block would not; () if there is no such part."""
    units = [unit for unit in cutting.units if unit.on_paper and len(unit.patches) > _places(unit, cutting)]
    if not units:
        return ()
    return (
        Heading("Another way, without paper", level),
        Paragraph(OTHERWISE),
        *units_story(units, told_of(cutting)),
    )


OTHERWISE = (
    "This plan sews all of these on paper, and its tables count them so: cut nothing of this page beside them. "
    "In a plan of the block that leaves them off the paper they are quicker cut with ruler and rotary cutter, and "
    "sewn without paper at a scant seam allowance."
)


def _units(cutting: Cutting) -> Story:
    """What this plan sews without paper. A plain piece alone is no unit to be sewn: its fabric tells of it."""
    units = [unit for unit in cutting.units if not unit.on_paper and len(unit.patches) > _places(unit, cutting)]
    if not units:
        return ()
    text = "These are cut with ruler and rotary cutter and sewn without paper, at a scant seam allowance."
    if cutting.fabrics:
        text += " Their pieces are in the tables above: cut for one of these ways or as the tables say, not both."
    return (Heading("Without paper", 2), Paragraph(text), *units_story(units, told_of(cutting)))


def _places(unit: Unit, cutting: Cutting) -> int:
    """How often a unit lies in one block."""
    return unit.count // cutting.options.blocks


def units_story(units: Sequence[Unit], told: Told) -> Iterator[Item]:
    """Tables of what needs no paper."""
    for unit in units:
        yield from _unit(unit, told)


def _unit(unit: Unit, told: Told) -> Iterator[Item]:
    units = told.units
    kind = f"{unit.kind[:1].upper()}{unit.kind[1:]}"
    size = cut_size(unit.width_in, unit.height_in, units)
    yield Heading(f"{kind}, {size} finished", 3)
    measure = f"measure {cut_size(unit.unfinished_width_in, unit.unfinished_height_in, units)} once it is sewn"
    where = f"section{'s' * (len(unit.sections) > 1)} {say_list(unit.sections)}" if unit.sections else ""
    parts = where or told.places(unit.patches)
    yield Paragraph(f"{say_count(unit.count, 'unit')}: {parts}; {measure}.")
    rows = tuple(
        (
            fabric_called(told.fabric(cut.fabric) or cut.fabric),
            str(cut.count),
            cut_size(cut.width_in, cut.height_in, units),
            becomes(cut.shape, cut.share, math.isclose(cut.width_in, cut.height_in, abs_tol=1e-6)),
            told.places(cut.patches),
        )
        for cut in unit.cuts
    )
    swatches = tuple(told.swatch(cut.fabric) for cut in unit.cuts)
    yield Table(("Fabric", "Cut", "Size", "As", "For"), rows, (1,), swatches)
    if unit.ways:
        yield Points(tuple(map(with_glyphs, unit.ways)))
