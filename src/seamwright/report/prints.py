"""What a print and files for machines come to, as data for programs: which fields other programs rely on.

Knows:  what lies where on the sheets, and which prints there are.
Leaves: every fact itself (sheets), the same facts in sentences (words.prints).
Units:  `_pt` points (1/72 in) from the sheet's top left corner, as printed.
Method: fields are only ever added, never renamed.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable, Sequence
from typing import TYPE_CHECKING

from seamwright.foundation.model import LaidPiece
from seamwright.geometry import Point, moved
from seamwright.paper import PT_PER_IN
from seamwright.printnotes import print_notes
from seamwright.report.values import Json, note_object, options_as_text, plan_object, ring, rounded, rounded_points

if TYPE_CHECKING:
    from seamwright.files.model import MachineFiles
    from seamwright.results import Printed
    from seamwright.sheet.model import Placed, Sheet


def foundations_object(printed: Printed) -> Json:
    """What lies where on the sheets."""
    plans = [
        {
            "drawing": plan.block.file,
            "colourway": plan.block.colourway or None,
            "block_reversed": plan.block.reversed,
            **plan_object(plan),
            "by_ruler": [section.name for section in plan.sections if section.method == "ruler"],
        }
        for plan in printed.plans
    ]
    return {
        "file": printed.file,
        "paper": printed.paper,
        "printing": options_as_text(printed.printing),
        "plan": plan_object(printed.plans[0]),
        "plans": plans,
        "prints": [
            one
            for drawing, block in dict.fromkeys((p.block.file, p.block.title) for p in printed.plans)
            for one in _prints(printed, drawing, block)
        ],
        "sheets": [_sheet(sheet) for sheet in printed.sheets],
        "notes": [note_object(note) for note in print_notes(printed)],
        "measured": {
            "points": printed.measured.points,
            "largest_error_mm": rounded(printed.measured.largest_error_mm, 6),
            "squares_error_mm": rounded(printed.measured.squares_error_mm, 6),
            "lines_error_mm": rounded(printed.measured.lines_error_mm, 6),
        },
        "quilt": None if printed.quilt is None else {"name": printed.quilt.name, "blocks": [*printed.quilt.blocks]},
    }


def _prints(printed: Printed, drawing: str, block: str) -> list[Json]:
    """The different prints of a block: for which sections, how often for one block, how often in the file."""
    found: dict[tuple[str, str], list[Placed]] = {}
    for placed in (p for sheet in printed.sheets for p in sheet.placed):
        if (placed.foundation.drawing, placed.foundation.block) == (drawing, block):
            found.setdefault((placed.foundation.use.value, placed.foundation.label), []).append(placed)
    return [
        {
            "drawing": drawing,
            "colourway": placed[0].foundation.colourway or None,
            "block_reversed": placed[0].foundation.block_reversed,
            "label": label,
            "print": placed[0].foundation.print,
            "reversed": placed[0].foundation.reversed,
            "kind": placed[0].foundation.kind,
            "use": use,
            "sections": list(dict.fromkeys(name for p in placed for name in p.foundation.sections)),
            "times": len({name for p in placed for name in p.foundation.sections}),
            "times_in_file": len(placed) // len({p.tile for p in placed}),
        }
        for (use, label), placed in found.items()
    ]


def files_object(folder: str, made: Sequence[MachineFiles]) -> list[Json]:
    """Which files for machines were made, and what they show."""
    return [
        {
            "name": one.name,
            **{form: f"{folder}/{one.name}.{form}" for form in ("svg", "dxf", "png")},
            "drawing": one.foundation.drawing,
            "colourway": one.foundation.colourway or None,
            "block_reversed": one.foundation.block_reversed,
            "section": one.foundation.section,
            "print": one.foundation.print,
            "use": one.foundation.use.value,
            "mirrored": one.foundation.mirrored,
            "reversed": one.foundation.reversed,
            "times": one.times,
            "largest_error_mm": rounded(one.largest_error_mm, 6),
        }
        for one in made
    ]


def _sheet(sheet: Sheet) -> Json:
    return {
        "number": sheet.number,
        "set": None if sheet.in_set is None else sheet.in_set.set,
        "sheet_of_set": None if sheet.in_set is None else sheet.in_set.sheet,
        "width_pt": rounded(sheet.width_pt, 6),
        "height_pt": rounded(sheet.height_pt, 6),
        "check_squares_pt": [[rounded(v, 6) for v in square] for square in sheet.check_squares_pt],
        "check_lines_pt": [rounded_points(line, 6) for line in sheet.check_lines_pt],
        "foundations": [_placed(placed) for placed in sheet.placed],
    }


def _placed(placed: Placed) -> Json:
    foundation, tile = placed.foundation, placed.tile

    def here(points: Iterable[Point]) -> list[Point]:
        return [moved(placed.affine, point) for point in points]

    return {
        "drawing": foundation.drawing,
        "colourway": foundation.colourway or None,
        "block_reversed": foundation.block_reversed,
        "section": foundation.section,
        "print": foundation.print,
        "kind": foundation.kind,
        "use": foundation.use.value,
        "also_for": list(foundation.also_for),
        "copy": placed.copy,
        "enlarged": rounded(math.hypot(*placed.affine[:2]) / PT_PER_IN),
        "mirrored": foundation.mirrored,
        "reversed": foundation.reversed,
        "tile": None if tile is None else {"row": tile.row, "column": tile.column, "of": tile.of},
        "stitch_outline_pt": ring(here(foundation.stitch_outline), 6),
        "trim_outline_pt": ring(here(foundation.trim_outline), 6),
        "marks_pt": [rounded_points(here(mark), 6) for mark in foundation.marks],
        "stops_pt": rounded_points(here(foundation.stops), 6),
        "grain_pt": rounded_points(here(foundation.grain), 6),
        "patches": [
            {
                "name": patch.name,
                "outline_pt": ring(here(patch.outline), 6),
                "direction_pt": None if patch.direction is None else rounded_points(here(patch.direction), 6),
                "striped": patch.striped,
                "lay": None if patch.laid is None else _lay(patch.laid, here),
            }
            for patch in foundation.patches
        ],
    }


def _lay(laid: LaidPiece, here: Callable[[Iterable[Point]], list[Point]]) -> Json:
    """How a piece of fabric is laid: by ticks, on an outline, of which `drawn_pt` is on the paper."""
    return {
        "how": laid.how,
        "ticks_pt": [rounded_points(here(line), 6) for line in (*laid.ticks, *laid.middles)],
        "laid_pt": ring(here(laid.outline), 6) if laid.outline else [],
        "drawn_pt": [rounded_points(here(line), 6) for line in laid.legs],
    }
