"""A quilt as data for programs.

Knows:  the fields that other programs rely on; they are only ever added.
Leaves: every fact itself (quiltfacts), the same facts in sentences (words.quilts), its cutting list (report.cuts).
Units:  `_in` inches, front view, from the top left corner of the quilt inside its binding; with metric measures the
        same lengths as `_cm` beside them; yards and metres of fabric bought; lightness L*, shares of 1.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from seamwright.options import Units
from seamwright.quilt.balance import STEPS, Balance
from seamwright.quilt.counts import PrintCount
from seamwright.quilt.cutmodel import QuiltCutting
from seamwright.quilt.model import Quilt
from seamwright.quilt.pressing import Nesting
from seamwright.quiltfacts import QuiltFacts
from seamwright.report.cuts import known_object, length_bought, with_cm
from seamwright.report.quiltcuts import extras_object
from seamwright.report.values import Json, note_object, options_as_text, plan_object, rounded, rounded_points


def quilts_object(told: Sequence[Json]) -> Json:
    """One quilt as itself, several as "quilts"."""
    return told[0] if len(told) == 1 else {"quilts": list(told)}


def quilt_object(facts: QuiltFacts) -> Json:
    """One quilt."""
    quilt, setting = facts.quilt, facts.quilt.setting
    made = {
        "setting": setting.file,
        "name": setting.name,
        "width_in": rounded(quilt.width_in),
        "height_in": rounded(quilt.height_in),
        "set": setting.set.value,
        "rows": quilt.rows,
        "columns": quilt.columns,
        "cell_in": [rounded(side) for side in quilt.cell_in],
        "borders_in": [[rounded(width) for width in widths] for widths in quilt.borders_in],
        "construction": quilt.construction,
        "looks": [
            {
                "name": look.name,
                "drawing": look.drawing,
                "colourway": look.colourway or None,
                "reversed": look.reversed,
                "plan": plan_object(plan),
            }
            for look, plan in zip(quilt.looks, facts.plans, strict=True)
        ],
        "blocks": [
            {
                "drawing": quilt.looks[each.look].drawing,
                "rotated_deg": 90 * each.quarters,
                "reversed": quilt.looks[each.look].reversed,
                "colourway": quilt.looks[each.look].colourway or None,
                "count": each.count,
                "look": each.look,
            }
            for each in facts.blocks
        ],
        "foundations": [_print(quilt, each) for each in facts.prints if each.kind == "foundation"],
        "templates": [_print(quilt, each) for each in facts.prints if each.kind != "foundation"],
        "fabrics": _fabrics(facts.cutting),
        "extras": extras_object(facts.cutting),
        "cutting": options_as_text(facts.cutting.options),
        "balance": _balance(facts.advice.balance),
        "misses": [
            {
                "sides": [miss.one, miss.other],
                "off_in": rounded(miss.off_in),
                "count": len(miss.places),
                "places_in": rounded_points(miss.places),
            }
            for miss in facts.advice.misses
        ],
        "grown_together": [
            {"fabric": grown.fabric, "edges": grown.edges, "length_in": rounded(grown.length_in)}
            for grown in facts.advice.grown
        ],
        "nesting": _nesting(facts.nesting, quilt),
        "advice": [note_object(note) for note in facts.advice.notes],
        "notes": [note_object(note) for note in facts.notes],
        "spots": [
            {
                "look": spot.look,
                "rotated_deg": 90 * spot.quarters,
                "part": spot.part,
                "row": spot.row,
                "column": spot.column,
                "place": [rounded(number) for number in spot.place],
            }
            for spot in quilt.spots
        ],
        "cloths": [
            {
                "role": cloth.role.value,
                "fabric": cloth.fabric,
                "part": cloth.part,
                "row": cloth.row,
                "column": cloth.column,
                "width_in": rounded(cloth.width_in),
                "height_in": rounded(cloth.height_in),
                "grain_deg": None if cloth.grain_deg is None else rounded(cloth.grain_deg),
                "outline_in": rounded_points(cloth.ring),
            }
            for cloth in quilt.cloths
        ],
    }
    return with_cm(made) if facts.cutting.units is Units.METRIC else made


def _print(quilt: Quilt, each: PrintCount) -> Json:
    look = quilt.looks[each.look]
    return {
        "drawing": look.drawing,
        "section": each.sections[0],
        "print": each.print,
        "reversed": each.reversed,
        "count": each.count,
        "sections": list(each.sections),
        "kind": each.kind,
        "colourway": look.colourway or None,
        "looks": list(each.looks),
    }


def _fabrics(cutting: QuiltCutting) -> list[Json]:
    return [
        {
            **known_object(cut.fabric),
            **length_bought(cut.bought_in),
            "fat_quarters": cut.fat_quarters,
            "length_in": rounded(cut.length_in),
            "width_in": rounded(cut.width_in),
            "strips": sum(strip.count for strip in cut.strips),
        }
        for cut in cutting.fabrics
    ]


def _balance(balance: Balance) -> Json:
    return {
        "area_in2": rounded(balance.area_in2),
        "areas_in2": [{"fabric": name, "area_in2": rounded(area)} for name, area in balance.fabrics],
        "values": {value.value: rounded(share) for value, share in balance.values},
        "known": rounded(balance.known),
        "greys": [
            {"from": rounded(step * 100 / STEPS), "to": rounded((step + 1) * 100 / STEPS), "share": rounded(share)}
            for step, share in enumerate(balance.greys)
        ],
        "lightness": {part: rounded(mean, 6) for part, mean in balance.means},
    }


def _nesting(nesting: Nesting, quilt: Quilt) -> Json:
    def way(number: int) -> dict[str, Any]:
        one = nesting.ways[number]
        return {
            "look": one.look,
            "presses": [{"join": p.join, "makes": p.name, "towards": p.towards} for p in one.presses],
            "count": len(one.spots),
            "spots": [
                {"part": quilt.spots[s].part, "row": quilt.spots[s].row, "column": quilt.spots[s].column}
                for s in one.spots
            ],
        }

    return {
        "meetings": nesting.meetings,
        "nested": nesting.nested,
        "settled": nesting.settled,
        "alike": nesting.alike,
        "ways": [way(number) for number in range(len(nesting.ways))],
        "places_in": rounded_points(nesting.places),
        "between": nesting.between,
    }
