"""The cutting of a quilt as data for programs.

Knows:  the fields that other programs rely on; those of a fabric are as of any cutting list.
Leaves: every fact itself (quilt.cutting), the same facts in sentences (words.quiltcuts), as a table (quilttable).
Units:  `_in` inches; with metric measures the same lengths as `_cm` beside them; yards and metres of fabric bought.
Method: fields are only ever added, never renamed.
"""

from __future__ import annotations

from seamwright.foundation.codes import fabric_codes
from seamwright.options import Units
from seamwright.quilt.counts import blocks_of_looks
from seamwright.quilt.cutmodel import Counted, Joined, QuiltCutting
from seamwright.report.cuts import fabric_object, length_bought, piece_object, unit_object, with_cm
from seamwright.report.values import Json, note_object, options_as_text, plan_object, rounded


def quilt_cutting_object(cutting: QuiltCutting) -> Json:
    """The whole cutting of one quilt."""
    quilt = cutting.quilt
    times = blocks_of_looks(quilt)
    codes = fabric_codes(quilt.fabrics)
    made = {
        "setting": quilt.setting.file,
        "name": quilt.setting.name,
        "width_in": rounded(quilt.width_in),
        "height_in": rounded(quilt.height_in),
        "blocks": len(quilt.spots),
        "looks": [
            {
                "name": look.name,
                "drawing": look.drawing,
                "colourway": look.colourway or None,
                "reversed": look.reversed,
                "count": times[number],
                "plan": plan_object(plan),
            }
            for number, (look, plan) in enumerate(zip(quilt.looks, cutting.plans, strict=True))
        ],
        "cutting": {name: text for name, text in options_as_text(cutting.options).items() if name != "blocks"},
        "fabrics": [
            fabric_object(
                cut,
                [
                    _counted(each)
                    for each in cutting.pieces
                    if each.piece.fabric == (None if cut.fabric is None else cut.fabric.name)
                ],
                codes,
            )
            for cut in cutting.fabrics
        ],
        "joined": [_joined(strips) for strips in cutting.joined],
        "rotary": [unit_object(unit) for unit in cutting.made],
        "extras": extras_object(cutting),
        "notes": [note_object(note) for note in cutting.all_notes],
    }
    return with_cm(made) if cutting.units is Units.METRIC else made


def _counted(each: Counted) -> Json:
    return {
        **piece_object(each.piece, each.count),
        "look": each.look,
        "patch_of_look": each.patch or None,
        "cloths": list(each.cloths),
        "along_selvedge": each.along,
    }


def _joined(strips: Joined) -> Json:
    return {
        "name": strips.name,
        "fabric": strips.fabric,
        "width_in": rounded(strips.width_in),
        "strip_in": rounded(strips.strip_in),
        "strips": strips.strips,
        "joins": strips.joints,
        "join": strips.joint.value,
        "lost_in": rounded(strips.lost_in),
        "length_in": rounded(strips.length_in),
        "cut": [
            {
                "for": each.piece.name,
                "length_in": rounded(each.piece.width_in),
                "count": each.count,
                "cloths": list(each.cloths),
            }
            for each in strips.lengths
        ],
    }


def extras_object(cutting: QuiltCutting) -> list[Json]:
    """Binding, backing and batting, those that are asked for."""
    found: list[Json] = []
    if (binding := cutting.binding) is not None:
        found.append(
            {
                "for": "binding",
                "strips": binding.strips,
                "width_in": rounded(binding.width_in),
                **length_bought(binding.bought_in),
                "fabric": binding.fabric,
                # Its strips are among those of its fabric, and bought with it; alone it is all that is of it.
                "among_fabrics": not binding.alone,
                "needed_in": rounded(binding.needed_in),
                "length_in": rounded(binding.length_in),
                "joins": binding.joints,
            }
        )
    if (backing := cutting.backing) is not None:
        found.append(
            {
                "for": "backing",
                "strips": backing.panels,
                "width_in": rounded(backing.usable_in),
                **length_bought(backing.bought_in),
                "fabric": backing.fabric,
                "among_fabrics": False,
                "finished_in": [rounded(backing.width_in), rounded(backing.height_in)],
                "panel_in": rounded(backing.panel_in),
                "seams": "upright" if backing.upright else "level",
                "over_in": rounded(backing.over_in),
            }
        )
    if (batting := cutting.batting) is not None:
        found.append(
            {
                "for": "batting",
                "strips": 1,
                "width_in": rounded(batting.width_in),
                "height_in": rounded(batting.height_in),
                "yards": None,
                "metres": None,
                "over_in": rounded(batting.over_in),
            }
        )
    return found
