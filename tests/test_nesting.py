"""Which prints share a sheet: places on a bed, and the laws of every packing."""

from __future__ import annotations

import itertools
import math
import os
import random
import subprocess
import sys
from itertools import combinations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely.geometry import MultiPoint, Polygon, box

from seamwright.foundation.make import foundations
from seamwright.geometry import Ring, moved
from seamwright.options import PrintOptions
from seamwright.paper import paper
from seamwright.piecing.plan import plan
from seamwright.sheet import nest
from seamwright.sheet.desk import frame_of
from seamwright.sheet.layout import lay_out
from seamwright.sheet.nest import Bed, Corner, shape
from seamwright.sheet.pack import Filled, least_sheets, pack
from support.by_hand import fan

FRAME = frame_of(paper("letter"))
NEAREST = {
    Corner.TOP_LEFT: lambda p: (p[1], p[0]),
    Corner.LEFT_TOP: lambda p: p,
    Corner.BOTTOM_LEFT: lambda p: (-p[1], p[0]),
    Corner.BOTTOM_RIGHT: lambda p: (-p[1], -p[0]),
}


def some_rings(seed: int, count: int) -> list[Ring]:
    """Triangles, quadrilaterals and long thin ones, as sections are."""
    chance = random.Random(seed)
    rings: list[Ring] = []
    while len(rings) < count:
        wide, high = chance.uniform(60, 300), chance.uniform(60, 480)
        points = [(chance.uniform(0, wide), chance.uniform(0, high)) for _ in range(chance.randint(4, 7))]
        hull = MultiPoint(points).convex_hull
        if hull.area > 3000:
            rings.append(tuple((float(x), float(y)) for x, y in hull.exterior.coords[:-1]))
    return rings


def outlines(rings: list[Ring], sheet: Filled) -> list[Polygon]:
    return [Polygon([moved(one.affine, p) for p in rings[one.number]]) for one in sheet.laid]


rings = st.builds(some_rings, st.integers(0, 10_000), st.integers(2, 9))
few = settings(derandomize=True, deadline=None, max_examples=8)


@few
@given(rings=rings)
def test_prints_keep_a_quarter_inch_apart_and_lie_on_the_printable_part(rings: list[Ring]) -> None:
    sheets = pack(rings, FRAME, None, 20)
    assert sheets is not None
    assert sorted(one.number for sheet in sheets for one in sheet.laid) == list(range(len(rings)))
    printable = box(FRAME.left, FRAME.top, FRAME.right, FRAME.bottom).buffer(1e-6)
    for laid in (outlines(rings, sheet) for sheet in sheets):
        assert all(printable.covers(one) for one in laid)
        # 1/4 in, 18 pt: both are cut out roughly first
        assert all(a.distance(b) >= 18.0 - 1e-6 for a, b in combinations(laid, 2))


@few
@given(rings=rings, seed=st.integers(0, 99))
def test_the_order_in_which_prints_are_named_changes_no_number_of_sheets(rings: list[Ring], seed: int) -> None:
    other = random.Random(seed).sample(rings, len(rings))
    assert len(pack(rings, FRAME, None, 20)) == len(pack(other, FRAME, None, 20))


@few
@given(rings=rings)
def test_more_effort_never_needs_more_sheets_and_none_fewer_than_the_area_does(rings: list[Ring]) -> None:
    counts = [len(pack(rings, FRAME, None, effort)) for effort in (1, 10, 40)]
    assert counts == sorted(counts, reverse=True)
    assert counts[-1] >= least_sheets(rings, FRAME, furniture=False)
    area = sum(Polygon(ring).area for ring in rings)
    assert counts[-1] >= area / (FRAME.width * (FRAME.bottom - FRAME.top))


@few
@given(rings=rings)
def test_upright_prints_keep_the_direction_of_the_block(rings: list[Ring]) -> None:
    sheets = pack(rings, FRAME, None, 10, upright=True)
    assert {one.angle_deg for sheet in sheets for one in sheet.laid} == {0.0}


def test_upright_holds_for_whole_sheets() -> None:
    planned = plan(fan(6, 6))
    for sheet in lay_out([(planned, foundations(planned))], printing=PrintOptions(upright=True, effort=5)):
        assert all(placed.affine[:2] == (72.0, 0.0) for placed in sheet.placed)


def test_long_triangles_lie_head_to_foot() -> None:
    # Two right triangles make a rectangle: with a quarter inch between them, four go where two boxes do.
    triangle = ((0.0, 0.0), (250.0, 0.0), (0.0, 700.0))
    assert len(pack([triangle] * 4, FRAME, None, 100)) == 1


def test_a_print_longer_than_the_paper_is_wide_lies_slantwise_or_not_at_all() -> None:
    # 11 in along a sheet whose printable part measures 8 x 10 1/4 in, its diagonal 13 in
    strip = ((0.0, 0.0), (792.0, 0.0), (792.0, 60.0), (0.0, 60.0))
    [sheet] = pack([strip], FRAME, None)
    assert sheet.laid[0].angle_deg % 90
    longer = tuple((x * 1.25, y) for x, y in strip)
    assert math.dist(longer[0], longer[2]) > math.hypot(FRAME.width, FRAME.bottom - FRAME.top)
    assert pack([longer], FRAME, None) is None


@pytest.mark.parametrize("corner", Corner)
def test_the_place_found_is_the_nearest_of_all_that_are_free(corner: Corner) -> None:
    chance = random.Random(corner.value)
    bed = Bed(18.0, 18.0, 150.0, 180.0)
    taken: set[tuple[int, int]] = set()
    tried = 0

    def cells(one: nest.Shape, column: int, row: int) -> set[tuple[int, int]]:
        return {(column + first + n, row + down) for down, first, count in one.runs for n in range(count)}

    for ring in some_rings(5, 9):
        small = tuple((x * 0.25, y * 0.25) for x, y in ring)
        one = shape(small, chance.choice((0.0, 90.0, 37.0, 211.0)))
        places = itertools.product(range(bed.columns - one.width + 1), range(bed.rows - one.height + 1))
        here = cells(one, 0, 0)
        free = [(c, r) for c, r in places if not any((c + x, r + y) in taken for x, y in here)]
        spot = bed.spot(one, corner)
        assert (spot and (spot.column, spot.row)) == min(free, key=NEAREST[corner], default=None)
        if spot is not None:
            bed.take(spot)
            taken |= cells(one, spot.column, spot.row)
        tried += 1
    assert tried > 4


@few
@given(rings=rings, column=st.integers(0, 40), row=st.integers(0, 40))
def test_whole_cells_are_those_that_the_finer_ones_of_a_print_touch(
    rings: list[Ring], column: int, row: int
) -> None:
    fine = nest.Spot(shape(rings[0], 37.0, finer=nest.FINER), column, row)
    whole = nest.coarser(fine, nest.FINER)
    touched, taken = (
        {
            ((one.column + first + n) // cut, (one.row + down) // cut)
            for down, first, count in one.shape.runs
            for n in range(count)
        }
        for one, cut in ((fine, nest.FINER), (whole, 1))
    )
    assert taken == touched
    assert len(taken) == whole.shape.cells


@settings(derandomize=True, deadline=None, max_examples=100)
@given(seed=st.integers(0, 10**6), steps=st.sampled_from((1, 4, 1000)))
def test_cells_of_convex_rings_are_those_of_any_ring(seed: int, steps: int) -> None:
    chance = random.Random(seed)
    points = [(chance.randint(0, 40 * steps) / steps, chance.randint(0, 30 * steps) / steps) for _ in range(6)]
    hull = MultiPoint(points).convex_hull
    if isinstance(hull, Polygon):
        ring = list(hull.exterior.coords[:-1])
        assert nest._is_convex(ring)
        assert nest._convex_cells(ring, 40, 30) == nest._cells(ring, 40, 30)


def test_a_packing_is_the_same_whatever_the_hash_seed() -> None:
    program = (
        "from seamwright.paper import paper\n"
        "from seamwright.sheet.desk import frame_of\n"
        "from seamwright.sheet.pack import pack\n"
        "rings = [((0.0, 0.0), (90.0 + 23 * n, 0.0), (31.0 * n, 200.0 + 17 * n)) for n in range(9)]\n"
        "print([sheet.laid for sheet in pack(rings, frame_of(paper('letter')), None, 20)])"
    )
    said = [
        subprocess.run(
            [sys.executable, "-c", program],
            env={**os.environ, "PYTHONHASHSEED": seed, "PYTHONPATH": os.pathsep.join(sys.path)},
            capture_output=True,
            text=True,
            check=True,
        ).stdout
        for seed in ("1", "2")
    ]
    assert said[0] == said[1] != ""
