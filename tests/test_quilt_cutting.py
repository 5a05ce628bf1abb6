"""Cutting of whole quilts: against handbook practice, worked examples and exact geometry."""

from __future__ import annotations

from dataclasses import replace
from functools import cache
from pathlib import Path

import pytest

from seamwright import api
from seamwright.options import CutOptions, Units
from seamwright.piecing.model import Plan
from seamwright.quilt.cutmodel import QuiltCutting
from seamwright.quilt.cutting import quilt_cutting
from seamwright.quilt.model import Backing, Binding, Cell, Cloth, Look, Quilt, Role, Setting, Source, Spot

DESIGNS = Path(__file__).resolve().parents[1] / "designs"


@cache
def kite(units: str = "inch") -> Plan:
    size = "8 in" if units == "inch" else "20 cm"
    plan = api.outcome(f"{DESIGNS / 'kite.svg'}@{size}", [("units", units)]).plan
    assert plan is not None
    return plan


def box(x: float, y: float, width: float, height: float) -> tuple[tuple[float, float], ...]:
    return ((x, y), (x + width, y), (x + width, y + height), (x, y + height))


def strip(part: int, row: int, *place: float, fabric: str = "ink") -> Cloth:
    return Cloth(Role.BORDER, box(*place), fabric, f"border {part}", row, 0, *place[2:])


def kites(columns: int, rows: int, border_in: float = 0.0, **changes: object) -> Quilt:
    """Kites of 8 in in rows, one butted border of ink round them."""
    plan, wide = kite(), border_in
    look = Look("kite", "kite", "kite.svg@8 in", plan.block)
    width, height = 8.0 * columns, 8.0 * rows
    spots = tuple(
        Spot(0, 0, (1, 0, 0, 1, 8.0 * c + wide, 8.0 * r + wide), "centre", r, c)
        for r in range(rows)
        for c in range(columns)
    )
    cloths = (
        strip(1, 3, 0, wide, wide, height),
        strip(1, 1, width + wide, wide, wide, height),
        strip(1, 0, 0, 0, width + 2 * wide, wide),
        strip(1, 2, 0, height + wide, width + 2 * wide, wide),
    )
    setting = Setting("evening watch", "evening.setting", (Source("kite", "kite.svg", "8 in"),), ((Cell("kite"),),))
    whole = (width + 2 * wide, height + 2 * wide)
    return Quilt(
        replace(setting, **changes),  # type: ignore[arg-type]
        *whole, rows, columns, (8.0, 8.0), (look,), spots, cloths if wide else (),
    )  # fmt: skip


def cut(quilt: Quilt, **options: object) -> QuiltCutting:
    return quilt_cutting(quilt, [kite()] * len(quilt.looks), CutOptions(**options))  # type: ignore[arg-type]


def test_the_binding_of_a_throw_is_as_in_a_handbook():
    # Common practice, worked by hand for 60 x 76 in: perimeter 272 + 12 = 284 in. Seven strips of 40 in joined on
    # the diagonal give 280 - 6 x 2 1/2 = 265 in, eight give 320 - 7 x 2 1/2 = 302 1/2 in.
    binding = cut(kites(7, 9, 2.0, binding=Binding("binding ink"))).binding
    assert binding is not None
    assert (binding.strips, binding.joints, binding.needed_in, binding.length_in) == (8, 7, 284.0, 302.5)
    # 8 x 2 1/2 = 20 in, 1 in to straighten the edge and a tenth to spare: 23.1 in, so 3/4 yd (27 in).
    assert binding.bought_in == 27.0


@pytest.mark.parametrize(
    ("columns", "rows", "over_in", "width_in", "upright", "panels", "length_in"),
    [
        # Common practice, by hand, 40 in usable, seams of 1/2 in: 64 x 80 in with 4 in all round is 72 x 88 in.
        # Upright two panels (79 in wide) of 88 in, 176 in; level three (118 in) of 72 in, 216 in.
        pytest.param(8, 10, 4.0, None, True, 2, 176.0, id="upright"),
        # 48 x 56 in: 56 x 64 in. Upright 2 x 64, level 2 x 56.
        pytest.param(6, 7, 4.0, None, False, 2, 112.0, id="level"),
        # A wide fabric goes over all of it in one piece, turned so that least is taken: 72 x 88 in of 108 in.
        pytest.param(8, 10, 4.0, 108.0, False, 1, 72.0, id="wide"),
    ],
)
def test_panels_of_the_back_run_the_way_that_wastes_least(
    columns: int, rows: int, over_in: float, width_in: float | None, upright: bool, panels: int, length_in: float
):
    back = cut(kites(columns, rows, backing=Backing("foam", width_in, over_in))).backing
    assert back is not None
    assert (back.upright, back.panels, back.panels * back.panel_in) == (upright, panels, length_in)
    assert back.bought_in >= length_in + 1  # the edge is straightened


def test_batting_is_one_piece_larger_all_round():
    batting = cut(kites(4, 5, batting_over_in=3.0)).batting
    assert batting is not None
    assert (batting.width_in, batting.height_in) == (38.0, 46.0)


def test_a_quilt_may_have_no_binding_and_no_back():
    made = cut(kites(2, 2, binding=None, backing=None, batting_over_in=None))
    assert (made.binding, made.backing, made.batting) == (None, None, None)
    assert made.units is Units.INCH
