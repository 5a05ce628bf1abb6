"""The cutting of a quilt as a table for spreadsheets: the columns of any cutting list.

Knows:  which lines a quilt has beside those of its fabrics: lengths of joined strips, back and batting.
Leaves: columns and cells (table), every fact itself (quilt.cutting).
Units:  each size twice: as a ruler is read, and as a decimal number.
"""

from __future__ import annotations

import csv
import io
from collections.abc import Iterator, Sequence

from seamwright.fabric.pieces import Shape
from seamwright.options import Cloth
from seamwright.quilt.cutmodel import QuiltCutting
from seamwright.report.table import (
    HEAD,
    encoded,
    fabric_lines,
    harmless,
    known_cells,
    piece_cells,
    section_of,
)
from seamwright.units import say_bought, say_length

JOINED = "strips joined"


def quilt_cutting_csv(cutting: QuiltCutting, made_from: str) -> bytes:
    """The table of one quilt.

    Args:
        made_from: words that say that we made it and from what.
    """
    out = io.StringIO(newline="")
    writer = csv.writer(out)
    writer.writerow([*HEAD, made_from])
    plans = " ".join(dict.fromkeys(plan.id for plan in cutting.plans))
    for line in (*_fabrics(cutting), *_back(cutting)):
        writer.writerow([*map(harmless, line), plans])
    return encoded(out.getvalue())


def _fabrics(cutting: QuiltCutting) -> Iterator[list[str]]:
    patches = {each.piece.name: each for each in cutting.pieces if each.look is not None}

    def sections(names: Sequence[str]) -> str:
        return ", ".join(dict.fromkeys(section_of(name) for name in names if name in patches))

    for cut in cutting.fabrics:
        begin = [*_begin(cutting), *known_cells(cut)]
        yield from fabric_lines(begin, cut, cutting.units, sections)
        name = None if cut.fabric is None else cut.fabric.name
        for strips in cutting.joined:
            for each in strips.lengths if strips.fabric == name else ():
                piece = each.piece
                size = piece_cells(piece.width_in, piece.height_in, Shape.RECTANGLE, 1, "", cutting.units)
                width = [say_length(strips.width_in, cutting.units), size[3]]
                cells = [JOINED, "", str(strips.strips), *width, str(each.count)]
                yield [*begin, *cells, *size, str(each.count), piece.name, "", ""]


def _back(cutting: QuiltCutting) -> Iterator[list[str]]:
    units = cutting.units
    if (back := cutting.backing) is not None:
        size = piece_cells(back.panel_in, back.usable_in, Shape.RECTANGLE, 1, "", units)
        what = f"panel of the backing, {'upright' if back.upright else 'level'}"
        cells = [Cloth.BOLT.value, *[""] * 4, str(back.panels), *size[:4], what, str(back.panels), "backing", ""]
        yield [*_begin(cutting), back.fabric, "", *cells, say_bought(back.bought_in, units)]
    if (batting := cutting.batting) is not None:
        size = piece_cells(batting.width_in, batting.height_in, Shape.RECTANGLE, 1, "", units)
        yield [*_begin(cutting), "batting", "", "one piece", *[""] * 4, "1", *size, "1", "batting", "", ""]


def _begin(cutting: QuiltCutting) -> list[str]:
    return [cutting.quilt.setting.name, "", str(len(cutting.quilt.spots))]
