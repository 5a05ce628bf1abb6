"""What a plan and a print come to, as data for programs.

Knows:  the fields that other programs rely on.
Leaves: every fact itself (plan, sheets), the same facts in sentences (sentences).
Units:  `_in` inches, front view, from the top left corner of the outline's bounding box; `_pt` points
        (1/72 in) from the sheet's top left corner, as printed.
Method: fields are only ever added, never renamed. Numbers are rounded far below what a needle can follow (1e-9
        in, 1e-6 pt), so that the last digits of a machine's arithmetic do not show.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable, Sequence
from enum import Enum
from typing import TYPE_CHECKING, Any

from seamwright.block.rings import Runs, region_ring
from seamwright.claims import joined_parts
from seamwright.errors import SeamwrightError
from seamwright.foundation.model import LaidPiece
from seamwright.geometry import Point, canonical_ring, moved
from seamwright.notes import Note
from seamwright.options import AnyOptions, Size
from seamwright.optiontext import ALL_OPTIONS
from seamwright.paper import PT_PER_IN, Margins
from seamwright.piecing.model import Mend, Plan, Section
from seamwright.printnotes import print_notes
from seamwright.units import parse_length

if TYPE_CHECKING:
    from seamwright.files.model import MachineFiles
    from seamwright.results import Printed, Rehearsal
    from seamwright.sheet.model import Placed, Sheet

Json = dict[str, Any]


# -- check, for programs -----------------------------------------------------------------------------------


def check_object(
    drawing: str, plan: Plan | None, error: SeamwrightError | None = None, mends: Sequence[Mend] = ()
) -> Json:
    """One drawing's findings; the error object if there is no plan."""
    if plan is None:
        assert error is not None
        return {"drawing": drawing, "error": _error(error)}
    block, names = plan.block, plan.patch_names()
    section_of = {patch: section for section in plan.sections for patch in section.patches}
    return {
        "drawing": drawing,
        "block": {
            "name": block.name,
            "colourway": block.colourway or None,
            "width_in": rounded(block.width_in),
            "height_in": rounded(block.height_in),
            "outline_in": _ring(region_ring(block, range(len(block.patches)))),
        },
        "pieceable": plan.pieceable,
        "sewable": plan.sewable,
        "points_to_match": plan.points_to_match,
        "set_in_points": plan.set_in_points,
        "plan": plan_object(plan),
        "fabrics": _fabrics(plan),
        "patches": [_patch(plan, patch, names[patch], section_of.get(patch)) for patch in _in_order(plan)],
        "sections": [_section(plan, section, names) for section in plan.sections],
        "prints": [
            {
                "name": places[0].print + "r" * places[0].reversed,
                "reversed": places[0].reversed,
                "kind": places[0].kind,
                "count": len(places),
                "places": [section.name for section in places],
            }
            for places in plan.prints()
        ],
        "fewest": _fewest(plan),
        "joins": _joins(plan),
        "obstructions": [
            {
                "number": obstruction.number,
                "kind": obstruction.kind,
                "patches": [names[patch] for patch in obstruction.patches],
                "points_in": rounded_points(block.points[p] for p in obstruction.points),
                "why": obstruction.why,
            }
            for obstruction in plan.obstructions
        ],
        "mends": [_mend(mend) for mend in mends],
        "notes": [note_object(note) for note in all_notes(plan)],
    }


def _fabrics(plan: Plan) -> list[Json]:
    """The fabrics that are worn; value and warmth are worked out from the colour where they are not said."""
    from seamwright.fabric.worn import worn
    from seamwright.foundation.codes import fabric_codes

    codes = fabric_codes(plan.block.fabrics)
    return [
        {
            "name": wear.fabric.name,
            "code": codes.get(wear.fabric.name, ""),
            "colour": wear.fabric.colour,
            "value": wear.value.value if wear.value else None,
            "warmth": wear.warmth or None,
            "direction_deg": wear.fabric.direction_deg,
            "striped": wear.fabric.striped,
            "width_in": wear.fabric.width_in,
            "patches": len(wear.patches),
        }
        for wear in worn(plan.block).wear
    ]


def rehearsal_object(rehearsal: Rehearsal) -> Json:
    """What became of a sewing rehearsal; `largest_difference` is a share of the block's area."""
    rehearsed = rehearsal.rehearsed
    return {
        "steps": rehearsed.steps,
        "largest_difference": rounded(rehearsed.largest_share),
        "notes": [note_object(note) for note in rehearsed.notes],
        "folder": rehearsal.folder,
        "pictures": list(rehearsal.files),
    }


def all_notes(plan: Plan) -> tuple[Note, ...]:
    """The drawing's notes, then the plan's, none twice."""
    return tuple(dict.fromkeys((*plan.block.notes, *plan.notes)))


def fabric_notes(plan: Plan) -> tuple[Note, ...]:
    """Those of them that tell what was made of a drawing's, a palette's or a colourway's fabrics."""
    return tuple(note for note in all_notes(plan) if note.code in ("fabric", "palette", "colourway"))


def _in_order(plan: Plan) -> list[int]:
    """Patch numbers: section by section in sewing order, then those in no section."""
    planned = [patch for section in plan.sections for patch in section.patches]
    return planned + sorted(set(range(len(plan.block.patches))) - set(planned))


def _patch(plan: Plan, patch: int, name: str, section: Section | None) -> Json:
    return {
        "name": name,
        "section": section.name if section else None,
        "step": section.patches.index(patch) + 1 if section else None,
        "outline_in": _ring(plan.block.patch_ring(patch)),
        "holes_in": [_ring(hole) for hole in plan.block.patch_holes(patch)],
        "fabric": plan.block.patches[patch].fabric,
        "pre_pieced": [
            {"name": part.name, "outline_in": _ring(part.ring), "fabric": part.fabric}
            for part in plan.block.parts_of(patch)
        ],
    }


def _section(plan: Plan, section: Section, names: Sequence[str]) -> Json:
    return {
        "name": section.name,
        "print": section.print,
        "place": section.place,
        "reversed": section.reversed,
        "kind": section.kind,
        "method": section.method,
        "patches": [names[patch] for patch in section.patches],
        "outline_in": _ring(region_ring(plan.block, section.patches)),
    }


def _fewest(plan: Plan) -> Json | None:
    fewest = plan.fewest
    if fewest is None:
        return None
    return {
        "sections": fewest.sections,
        "foundations": fewest.foundations,
        "proven": fewest.proven,
        "at_least": fewest.at_least,
        "ties_settled": fewest.ties_settled,
        "ended_by": fewest.ended or None,
    }


def _joins(plan: Plan) -> list[Json]:
    runs = Runs(plan.block)
    return [
        {
            "first": join.first,
            "second": join.second,
            "makes": join.makes,
            "seam_in": rounded_points(_corners(runs.along(join.seam, first, second), join.kind)),
            "kind": join.kind,
            "turns_in": rounded_points(plan.block.points[p] for p in join.turns),
        }
        for join, first, second in joined_parts(plan)
    ]


def _mend(mend: Mend) -> Json:
    return {
        "number": mend.number,
        "obstruction": mend.obstruction,
        "kind": mend.kind,
        "text": mend.text,
        "extra_patches": mend.extra_patches,
        "seams_in": [rounded_points(seam) for seam in mend.seams],
        "points_moved_in": [rounded_points(pair) for pair in mend.moved],
        "seams_dropped_in": [rounded_points(seam) for seam in mend.dropped],
    }


def _corners(run: Sequence[Point], kind: str) -> Sequence[Point]:
    """A straight seam needs its two ends only."""
    return (run[0], run[-1]) if kind == "straight" else run


def _error(error: SeamwrightError) -> Json:
    faults = [
        {
            "code": fault.code,
            "text": fault.text,
            "at_in": rounded_point(fault.at_in) if fault.at_in is not None else None,
            "line": fault.line,
            "column": fault.column,
        }
        for fault in error.faults
    ]
    # Lines and columns are those of this file: a palette's, where it is the palette that is wrong.
    text = " ".join(fault.text for fault in error.faults)
    return {"code": error.code, "text": text, "file": error.drawing or None, "faults": faults}


def note_object(note: Note) -> Json:
    """One note."""
    return {
        "code": note.code,
        "text": note.text,
        "count": note.count,
        "largest_in": None if note.largest_in is None else rounded(note.largest_in),
        "places_in": rounded_points(note.places_in),
    }


def plan_object(plan: Plan) -> Json:
    """Which plan it is: its id, and its options as far as they are not the defaults."""
    return {"id": plan.id, "options": options_as_text(plan.options)}


def options_as_text(options: AnyOptions) -> dict[str, str]:
    """The options that are not at their default, by long name, as the command line takes them.

    >>> from seamwright.options import Units
    >>> options_as_text(PlanOptions(size=Size(8.0, 12.0), tolerance_in=0.125, units=Units.METRIC))
    {'size': '8x12in', 'tolerance': '0.125in', 'units': 'metric'}
    """

    def text(name: str, value: object) -> str:
        if isinstance(value, Size):
            return _lengths("x", value.width_in, *([] if value.height_in is None else [value.height_in]))
        if isinstance(value, Enum):
            return str(value.value)
        if isinstance(value, Margins):
            sides = (value.top, value.right, value.bottom, value.left)
            return ",".join(_lengths("", side) for side in sides)
        if isinstance(value, bool):
            return "yes" if value else "no"
        if isinstance(value, float):
            return _lengths("", value) if name.endswith("_in") else _shortest(value)
        return str(value)

    names = {field: name for name, (field, _) in ALL_OPTIONS.items()}
    return {names[field]: text(field, value) for field, value in options.changed().items()}


def _lengths(between: str, *inches: float) -> str:
    """Lengths in inches, or in centimetres where those are shorter, as 1cm is; they read back the same."""
    metric = [f"{length * 2.54:.9g}" for length in inches]
    same = all(parse_length(f"{text}cm") == length for text, length in zip(metric, inches, strict=True))
    told = [between.join(_shortest(length) for length in inches) + "in"]
    return min(told + [between.join(metric) + "cm"] * same, key=len)


def _shortest(value: float) -> str:
    return repr(int(value)) if value == int(value) else repr(float(value))


# -- foundations, for programs -------------------------------------------------------------------------------


def foundations_object(printed: Printed) -> Json:
    """What lies where on the sheets."""
    plans = [
        {
            "drawing": plan.block.file,
            "colourway": plan.block.colourway or None,
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
            for drawing, colourway in dict.fromkeys((p.block.file, p.block.colourway) for p in printed.plans)
            for one in _prints(printed, drawing, colourway)
        ],
        "sheets": [_sheet(sheet) for sheet in printed.sheets],
        "notes": [note_object(note) for note in print_notes(printed)],
        "measured": {
            "points": printed.measured.points,
            "largest_error_mm": rounded(printed.measured.largest_error_mm, 6),
            "squares_error_mm": rounded(printed.measured.squares_error_mm, 6),
            "lines_error_mm": rounded(printed.measured.lines_error_mm, 6),
        },
    }


def _prints(printed: Printed, drawing: str, colourway: str) -> list[Json]:
    """The different prints of a drawing: for which sections, how often for one block, how often in the file."""
    found: dict[tuple[str, str], list[Placed]] = {}
    for placed in (p for sheet in printed.sheets for p in sheet.placed):
        if (placed.foundation.drawing, placed.foundation.colourway) == (drawing, colourway):
            found.setdefault((placed.foundation.use.value, placed.foundation.label), []).append(placed)
    return [
        {
            "drawing": drawing,
            "colourway": colourway or None,
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
        "stitch_outline_pt": _ring(here(foundation.stitch_outline), 6),
        "trim_outline_pt": _ring(here(foundation.trim_outline), 6),
        "marks_pt": [rounded_points(here(mark), 6) for mark in foundation.marks],
        "stops_pt": rounded_points(here(foundation.stops), 6),
        "grain_pt": rounded_points(here(foundation.grain), 6),
        "patches": [
            {
                "name": patch.name,
                "outline_pt": _ring(here(patch.outline), 6),
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
        "laid_pt": _ring(here(laid.outline), 6) if laid.outline else [],
        "drawn_pt": [rounded_points(here(line), 6) for line in laid.legs],
    }


def rounded(value: float, digits: int = 9) -> float:
    """A number for programs, without the noise of arithmetic."""
    return round(float(value), digits) + 0.0  # + 0.0: no minus zero


def rounded_point(point: Point, digits: int = 9) -> list[float]:
    """A place for programs."""
    return [rounded(point[0], digits), rounded(point[1], digits)]


def rounded_points(points: Iterable[Point], digits: int = 9) -> list[list[float]]:
    """Places for programs."""
    return [rounded_point(point, digits) for point in points]


def _ring(ring: Sequence[Point], digits: int = 9) -> list[list[float]]:
    return rounded_points(canonical_ring(ring), digits)
