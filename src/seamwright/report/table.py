"""Cutting lists as a table for spreadsheets: CSV, one line a cut.

Knows:  its columns; what a spreadsheet makes of cells unless it is told otherwise.
Leaves: every fact itself (make), writing the file (handouts).
Units:  each size twice: as a ruler is read, and as a decimal number.
Method: lines end and cells are quoted as in RFC 4180. A size carries its unit word, for spreadsheets take a bare
        7/8 for a day in August. A cell that begins like a formula gets an apostrophe before it. The title of the
        last column says from which drawings the file was made; below it stands the id of the plan. A file with
        signs beyond ASCII begins with a byte order mark, by which spreadsheets tell UTF-8.
"""

from __future__ import annotations

import csv
import io
import re
from collections.abc import Callable, Iterator, Sequence

from seamwright.booklet.saying import patch_list
from seamwright.cutting.model import Cutting, FabricCut, Strip
from seamwright.cutting.rows import parts_of
from seamwright.fabric.pieces import Shape
from seamwright.fabric.shade import value_of
from seamwright.fabric.words import becomes, fabric_called
from seamwright.options import Cloth, Units
from seamwright.sheet.naming import block_names
from seamwright.units import say_bought, say_count, say_length

HEAD = (
    *("Drawing", "Colourway", "Blocks", "Fabric", "Value", "Cut from", "Line", "Strips", "Strip width"),
    *("Strip width as number", "Subcuts", "Length", "Length as number", "Height", "Height as number", "Becomes"),
    *("Pieces", "Patches", "Section", "Buy"),
)
"""Titles of the columns; that of the last one is the mark of who made the file."""


def cutting_csv(cuttings: Sequence[Cutting], made_from: str) -> bytes:
    """The table of one list or more.

    Args:
        made_from: words that say that we made it and from what, such as "made by seamwright from [kite.svg]".
    """
    out = io.StringIO(newline="")
    writer = csv.writer(out)
    writer.writerow([*HEAD, made_from])
    names = block_names([cutting.plan for cutting in cuttings])
    for cutting, name in zip(cuttings, names, strict=True):
        lines = (
            _stacks(cutting, name)
            if cutting.options.stack
            else (
                line
                for cut in cutting.fabrics
                for line in fabric_lines(_begin(cutting, cut, name), cut, cutting.plan.options.units)
            )
        )
        for line in lines:
            writer.writerow([*map(harmless, line), cutting.plan.id])
    return encoded(out.getvalue())


def encoded(table: str) -> bytes:
    """A table as spreadsheets read it: with a byte order mark where it holds signs beyond ASCII."""
    return table.encode("ascii" if table.isascii() else "utf-8-sig")


Sections = Callable[[Sequence[str]], str]
"""The sections of patches, as they are told."""


def sections_of(patches: Sequence[str]) -> str:
    """The sections of one block's patches."""
    return ", ".join(dict.fromkeys(section_of(name) for name in patches))


def fabric_lines(
    begin: Sequence[str], cut: FabricCut, units: Units, sections: Sections = sections_of
) -> Iterator[list[str]]:
    """In cutting order: strips, then their subcuts; what fits no strip last.

    Args:
        begin: the first cells of each line, up to the fabric and its value.
    """
    for line, strip in enumerate(cut.strips, start=1):
        for cells in _strip(strip, str(line), _source(cut, line - 1), units, sections):
            yield [*begin, *cells, _buy(cut, units)]
    for row in cut.too_large:
        piece = piece_cells(row.width_in, row.height_in, row.shape, row.share, row.hand, units)
        number = [str(row.count), patch_list(row.patches), sections(row.patches)]
        yield [*begin, "too wide for this fabric", *[""] * 4, str(row.cuts), *piece, *number, ""]


def _source(cut: FabricCut, line: int) -> str:
    """What a line of strips is cut from: "bolt", "fat quarters 1 to 3 (2 from each), 4 (1)"."""
    if cut.cloth is Cloth.BOLT:
        return str(cut.cloth.value)
    told, number = [], 1
    for quarter in cut.quarters:
        last = number + quarter.count - 1
        here = dict(quarter.strips).get(line)
        if here:
            each = f"({here} from each)" if last > number else f"({here})"
            told.append(f"{number} to {last} {each}" if last > number else f"{number} {each}")
        number = last + 1
    return f"fat quarters {', '.join(told)}"


def _stacks(cutting: Cutting, name: str) -> Iterator[list[str]]:
    """Section by section in sewing order, one line a patch."""
    units = cutting.plan.options.units
    by_name = {None if cut.fabric is None else cut.fabric.name: cut for cut in cutting.fabrics}
    for piece in parts_of(cutting.pieces):
        cut = by_name[piece.fabric]
        cells = piece_cells(piece.width_in, piece.height_in, piece.shape, piece.share, piece.hand, units)
        number = [str(cutting.options.blocks), piece.name, section_of(piece.name)]
        yield [*_begin(cutting, cut, name), "stack", *[""] * 5, *cells, *number, _buy(cut, units)]


def _begin(cutting: Cutting, cut: FabricCut, name: str) -> list[str]:
    return [name, cutting.plan.block.colourway, str(cutting.options.blocks), *known_cells(cut)]


def known_cells(cut: FabricCut) -> list[str]:
    """A fabric's name and value."""
    value = None if cut.fabric is None else value_of(cut.fabric)
    return [fabric_called(cut.fabric), value.value if value else ""]


def piece_cells(length_in: float, height_in: float, shape: Shape, share: int, hand: str, units: Units) -> list[str]:
    """Two sizes, each as a ruler is read and as a number, and what becomes of the rectangle."""
    sizes = [each for side in (length_in, height_in) for each in (say_length(side, units), _number(side, units))]
    return [*sizes, becomes(shape, share, abs(length_in - height_in) < 1e-9, hand)]


def _strip(strip: Strip, line: str, source: str, units: Units, sections: Sections) -> Iterator[list[str]]:
    width = [say_length(strip.width_in, units), _number(strip.width_in, units)]
    for sub in strip.subcuts:
        yield [
            *(source, line, str(strip.count), *width, str(sub.count)),
            *piece_cells(sub.length_in, sub.height_in, sub.shape, sub.share, sub.hand, units),
            *(str(sub.count * sub.share), patch_list(sub.patches), sections(sub.patches)),
        ]
    for number, inner in enumerate(strip.rest, start=1):
        yield from _strip(inner, f"{line}.{number}", f"rest of line {line}", units, sections)


def section_of(patch: str) -> str:
    """The section in the name of a patch, or of a part of one that is pieced beforehand.

    >>> section_of("A3"), section_of("A.2-3"), section_of("Ar12"), section_of("A3b")
    ('A', 'A.2', 'Ar', 'A')
    """
    return re.sub(r"-?\d+[a-z]?$", "", patch)


def _buy(cut: FabricCut, units: Units) -> str:
    """What to buy of a fabric: "7/8 yd", "40 cm", "3 fat quarters"."""
    if cut.cloth is Cloth.FAT_QUARTERS:
        return say_count(cut.fat_quarters or 0, "fat quarter")
    return say_bought(cut.bought_in, units)


def _number(length_in: float, units: Units) -> str:
    """A size as a decimal number of inches or centimetres."""
    return f"{length_in if units is Units.INCH else length_in * 2.54:.6g}"


def harmless(cell: str) -> str:
    """A cell that no spreadsheet takes for a formula."""
    return f"'{cell}" if cell.startswith(("=", "+", "-", "@", "\t")) else cell
