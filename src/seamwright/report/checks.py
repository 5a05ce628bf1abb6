"""What a check comes to, as data for programs: which fields other programs rely on.

Knows:  what is told of a drawing, its plan, its rehearsal and its mends.
Leaves: every fact itself (plan), the same facts in sentences (words.checks).
Units:  `_in` inches, front view, from the top left corner of the outline's bounding box.
Method: fields are only ever added, never renamed.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING

from seamwright.block.rings import Runs, region_ring
from seamwright.claims.plans import joined_parts
from seamwright.errors import SeamwrightError
from seamwright.geometry import Point
from seamwright.notes import all_notes
from seamwright.piecing.model import Mend, Plan, Section
from seamwright.report.values import Json, note_object, plan_object, ring, rounded, rounded_point, rounded_points

if TYPE_CHECKING:
    from seamwright.results import Rehearsal


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
            "reversed": block.reversed,
            "width_in": rounded(block.width_in),
            "height_in": rounded(block.height_in),
            "outline_in": ring(region_ring(block, range(len(block.patches)))),
        },
        "pieceable": plan.pieceable,
        "sewable": plan.sewable,
        "points_to_match": plan.points_to_match,
        "set_in_points": plan.set_in_points,
        "plan": plan_object(plan),
        "fabrics": _fabrics(plan),
        "patches": [_patch(plan, patch, names[patch], section_of.get(patch)) for patch in in_order(plan)],
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
        "mends": [mend_object(mend) for mend in mends],
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


def in_order(plan: Plan) -> list[int]:
    """Patch numbers: section by section in sewing order, then those in no section."""
    planned = [patch for section in plan.sections for patch in section.patches]
    return planned + sorted(set(range(len(plan.block.patches))) - set(planned))


def _patch(plan: Plan, patch: int, name: str, section: Section | None) -> Json:
    return {
        "name": name,
        "section": section.name if section else None,
        "step": section.patches.index(patch) + 1 if section else None,
        "outline_in": ring(plan.block.patch_ring(patch)),
        "holes_in": [ring(hole) for hole in plan.block.patch_holes(patch)],
        "fabric": plan.block.patches[patch].fabric,
        "pre_pieced": [
            {"name": part.name, "outline_in": ring(part.ring), "fabric": part.fabric}
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
        "outline_in": ring(region_ring(plan.block, section.patches)),
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


def mend_object(mend: Mend) -> Json:
    """One mend."""
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
