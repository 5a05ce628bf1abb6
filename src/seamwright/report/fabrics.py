"""What the fabrics of a block come to, as data for programs.

Knows:  the fields that other programs rely on; they are only ever added.
Leaves: every fact itself (cloths), the same facts in sentences (words.fabrics).
Units:  `_in` inches, front view, from the top left corner of the outline's bounding box; shares of 1; contrast and
        luminance of WCAG 2.
"""

from __future__ import annotations

from collections.abc import Mapping
from typing import TYPE_CHECKING

from seamwright.fabric.luminance import grey_of, luminance
from seamwright.fabric.model import Value
from seamwright.fabric.worn import Beside, Wear
from seamwright.foundation.codes import fabric_codes
from seamwright.notes import fabric_notes
from seamwright.piecing.vanishing import Lost
from seamwright.report.values import Json, note_object, plan_object, rounded, rounded_point
from seamwright.words.fabrics import ALIKE_NOTE, SHADOWS, verdict

if TYPE_CHECKING:
    from seamwright.cloths import Cloths
    from seamwright.notes import Note
    from seamwright.piecing.model import Plan


def fabrics_object(drawing: str, cloths: Cloths) -> Json:
    """One drawing in one colourway."""
    plan, worn = cloths.plan, cloths.worn
    names, codes = plan.patch_names(), fabric_codes(plan.block.fabrics)
    return {
        "drawing": drawing,
        "block": {
            "name": plan.block.name,
            "colourway": plan.block.colourway or None,
            "reversed": plan.block.reversed,
        },
        "plan": plan_object(plan),
        "verdict": verdict(cloths),
        "fabrics": [_wear(wear, names, codes) for wear in worn.wear],
        "without_fabric": [names[patch] for patch in worn.bare],
        "values": {value.value: value in worn.values for value in Value},
        "neighbours": [_beside(pair) for pair in worn.beside],
        "vanishing": [_lost(lost, names) for lost in cloths.lost],
        "notes": [note_object(note) for note in (*fabric_notes(plan), *_worn(plan))],
    }


def _worn(plan: Plan) -> list[Note]:
    """Notes on how its fabrics read beside each other."""
    return [note for note in plan.notes if note.code in (ALIKE_NOTE, *SHADOWS)]


def _wear(wear: Wear, names: tuple[str, ...], codes: Mapping[str, str]) -> Json:
    fabric = wear.fabric
    stated = "stated" if fabric.value is not None else "colour"
    return {
        "name": fabric.name,
        "code": codes.get(fabric.name, ""),
        "colour": fabric.colour,
        "grey": grey_of(fabric.colour) if fabric.colour else None,
        "luminance": rounded(luminance(fabric.colour), 6) if fabric.colour else None,
        "value": wear.value.value if wear.value else None,
        "value_from": stated if wear.value else None,
        "warmth": wear.warmth or None,
        "warmth_from": ("stated" if fabric.warmth else "colour") if wear.warmth else None,
        "direction_deg": fabric.direction_deg,
        "striped": fabric.striped,
        "patches": [names[patch] for patch in wear.patches],
        "pieces": wear.pieces,
        "area_in2": rounded(wear.area_in2),
        "share": rounded(wear.share),
    }


def _beside(pair: Beside) -> Json:
    return {
        "fabrics": [pair.one.name, pair.other.name],
        "contrast": None if pair.contrast is None else rounded(pair.contrast, 6),
        "alike": pair.alike,
        "seam_length_in": rounded(pair.seam_in),
    }


def _lost(lost: Lost, names: tuple[str, ...]) -> Json:
    return {
        "at_in": rounded_point(lost.at),
        "patches": [names[patch] for patch in lost.patches],
        "fabric": lost.fabric.name,
        "beside": [names[patch] for patch in lost.beside],
        "alike": [fabric.name for fabric in lost.alike],
        "angle_deg": rounded(lost.angle_deg, 6),
        "seen_deg": rounded(lost.seen_deg, 6),
    }
