"""Cutting lists as data for programs.

Knows:  the fields that other programs rely on.
Leaves: every fact itself (cutting), the same facts in sentences (words.cuts) and as a table (report.table).
Units:  `_in` inches; with metric measures the same lengths as `_cm` beside them; yards and metres of fabric bought.
Method: fields are only ever added, never renamed.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from types import MappingProxyType
from typing import Any

from seamwright.cutting.model import Cutting, FabricCut, Row, Strip, Unit, UnitCut
from seamwright.cutting.rows import parts_of
from seamwright.cutting.shopping import Bought, shopping
from seamwright.fabric.model import Fabric
from seamwright.fabric.pieces import Piece
from seamwright.fabric.shade import value_of
from seamwright.foundation.codes import fabric_codes
from seamwright.notes import fabric_notes
from seamwright.options import Units
from seamwright.report.values import Json, note_object, options_as_text, plan_object, rounded, rounded_points

CM_PER_IN = 2.54
_NO_CODES: Mapping[str, str] = MappingProxyType({})


def cuttings_object(cuttings: Sequence[Cutting]) -> Json:
    """One list as itself; several as "cuttings", with one shopping list over all of them."""
    if len(cuttings) == 1:
        return cutting_object(cuttings[0])
    metric = all(cutting.plan.options.units is Units.METRIC for cutting in cuttings)
    bought = {"shopping": [_bought(each) for each in shopping(cuttings)]}
    return {
        "cuttings": [cutting_object(cutting) for cutting in cuttings],
        **(with_cm(bought) if metric else bought),
    }


def cutting_object(cutting: Cutting) -> Json:
    """One cutting list."""
    plan, blocks = cutting.plan, cutting.options.blocks
    made = {
        "drawing": plan.block.file,
        "colourway": plan.block.colourway or None,
        "block_reversed": plan.block.reversed,
        "blocks": blocks,
        "plan": plan_object(plan),
        "cutting": options_as_text(cutting.options),
        "fabrics": [_fabric(cutting, cut) for cut in cutting.fabrics],
        "rotary": [unit_object(unit) for unit in cutting.units],
        "notes": [note_object(note) for note in (*fabric_notes(plan), *cutting.notes)],
    }
    return with_cm(made) if plan.options.units is Units.METRIC else made


def _fabric(cutting: Cutting, cut: FabricCut) -> Json:
    name, blocks = None if cut.fabric is None else cut.fabric.name, cutting.options.blocks
    pieces = [piece_object(piece, blocks) for piece in parts_of(cutting.pieces) if piece.fabric == name]
    return fabric_object(cut, pieces, fabric_codes(cutting.plan.block.fabrics))


def fabric_object(cut: FabricCut, pieces: Sequence[Json], codes: Mapping[str, str]) -> Json:
    """Everything of one fabric; `pieces` and the codes of fabrics by name as they are known of the whole list."""
    return {
        **known_object(cut.fabric, codes),
        **length_bought(cut.bought_in),
        "fat_quarters": cut.fat_quarters,
        "cloth": cut.cloth.value,
        "length_in": rounded(cut.length_in),
        "bought_in": rounded(cut.bought_in),
        "width_in": rounded(cut.width_in),
        "pieces": list(pieces),
        "cuts": [_row(row) for row in cut.rows],
        "strips": [_strip(strip) for strip in cut.strips],
        "quarters": [
            {
                "count": quarter.count,
                "strips": [{"line": line + 1, "count": count} for line, count in quarter.strips],
                "left_in": rounded(quarter.left_in),
            }
            for quarter in cut.quarters
        ],
        "left_over": [{"width_in": rounded(w), "length_in": rounded(h)} for w, h in cut.left_over],
        "too_large": [patch for row in cut.too_large for patch in row.patches],
    }


def known_object(fabric: Fabric | None, codes: Mapping[str, str] = _NO_CODES) -> Json:
    """What is said of a fabric.

    Args:
        codes: those that the foundations of its block have, by name; without them only a code that is stated.
    """
    value = None if fabric is None else value_of(fabric)
    return {
        "name": None if fabric is None else fabric.name,
        "code": "" if fabric is None else codes.get(fabric.name, fabric.code),
        "colour": None if fabric is None else fabric.colour,
        "value": None if value is None else value.value,
    }


def piece_object(piece: Piece, count: int) -> Json:
    """A piece, and how many of it are cut in all."""
    return {
        "patch": piece.name,
        "width_in": rounded(piece.width_in),
        "height_in": rounded(piece.height_in),
        "count": count,
        "shape": piece.shape.value,
        "share": piece.share,
        "hand": piece.hand,
        "lay": piece.lay.value,
        "grain_deg": None if piece.grain_deg is None else rounded(piece.grain_deg),
        "one_way": piece.one_way,
        "outline_in": rounded_points(piece.outline),
        "ticks_in": [rounded_points(tick) for tick in piece.ticks],
        "parts": [piece_object(part, count) for part in piece.parts],
    }


def _row(row: Row) -> Json:
    return {
        "patches": list(row.patches),
        "shape": row.shape.value,
        "width_in": rounded(row.width_in),
        "height_in": rounded(row.height_in),
        "share": row.share,
        "hand": row.hand,
        "one_way": row.one_way,
        "count": row.cuts,
        "pieces": row.count,
    }


def _strip(strip: Strip) -> Json:
    return {
        "width_in": rounded(strip.width_in),
        "length_in": rounded(strip.length_in),
        "count": strip.count,
        "left_in": rounded(strip.left_in),
        "subcuts": [
            {
                "length_in": rounded(sub.length_in),
                "height_in": rounded(sub.height_in),
                "count": sub.count,
                "patches": list(sub.patches),
                "shape": sub.shape.value,
                "share": sub.share,
                "hand": sub.hand,
            }
            for sub in strip.subcuts
        ],
        "rest": [_strip(inner) for inner in strip.rest],
    }


def unit_object(unit: Unit) -> Json:
    """What needs no paper."""
    return {
        "kind": unit.kind,
        "sections": list(unit.sections),
        "patches": list(unit.patches),
        "count": unit.count,
        "width_in": rounded(unit.width_in),
        "height_in": rounded(unit.height_in),
        "unfinished_width_in": rounded(unit.unfinished_width_in),
        "unfinished_height_in": rounded(unit.unfinished_height_in),
        "on_paper": unit.on_paper,
        "cut": [_unit_cut(cut) for cut in unit.cuts],
        "ways": list(unit.ways),
    }


def _unit_cut(cut: UnitCut) -> Json:
    square = abs(cut.width_in - cut.height_in) < 1e-9
    as_square = {"square_in": rounded(cut.width_in), "squares": cut.count} if square else {}
    return {
        "shape": cut.shape.value,
        **as_square,
        "width_in": rounded(cut.width_in),
        "height_in": rounded(cut.height_in),
        "count": cut.count,
        "share": cut.share,
        "fabric": cut.fabric,
        "patches": list(cut.patches),
    }


def _bought(bought: Bought) -> Json:
    return {
        **known_object(bought.fabric),
        **length_bought(bought.length_in),
        "bought_in": rounded(bought.length_in),
        "fat_quarters": bought.fat_quarters,
        "fat_quarters_instead": bought.instead,
    }


def length_bought(length_in: float) -> Json:
    """A length as shops sell it."""
    return {"yards": rounded(length_in / 36), "metres": rounded(length_in * CM_PER_IN / 100)}


def with_cm(value: Any) -> Any:
    """The same data, beside every length in inches the same one in centimetres."""
    if isinstance(value, list):
        return [with_cm(each) for each in value]
    if not isinstance(value, dict):
        return value
    found: Json = {}
    for name, each in value.items():
        found[name] = with_cm(each)
        if name.endswith("_in"):
            found[f"{name[:-3]}_cm"] = _centimetres(each)
    return found


def _centimetres(value: Any) -> Any:
    if isinstance(value, list):
        return [_centimetres(each) for each in value]
    return None if value is None else rounded(value * CM_PER_IN, 6)
