"""Trim outlines, against GEOS's own buffer."""

from __future__ import annotations

import math

import pytest
import shapely
from hypothesis import example, given, settings
from hypothesis import strategies as st
from shapely.geometry import Point, Polygon

from seamwright.foundation.tips import TIP_LIMIT
from seamwright.foundation.trims import grown, trim_outlines
from seamwright.geometry import canonical_ring
from seamwright.options import PlanOptions
from seamwright.piecing.model import Plan
from seamwright.piecing.plan import plan
from support.exact import SQUARE6, exact_block
from support.prints import designs, planned
from support.random_blocks import NOTCHED, OUTLINES, random_lines

NEAR_IN = 1e-6


def fronts(made: Plan) -> dict[str, Polygon]:
    """Each section's stitch outline from its patches, united by GEOS."""
    return {
        section.name: shapely.union_all(
            [Polygon(made.block.patch_ring(p)) for p in section.patches], grid_size=1e-10
        )
        for section in made.sections
    }


def holds_its_allowance(made: Plan) -> None:
    allowance = made.options.seam_allowance_in
    block = Polygon(made.block.outline_ring())
    trims = trim_outlines(made)
    assert list(trims) == [section.name for section in made.sections]
    for name, front in fronts(made).items():
        trim = Polygon(trims[name])
        assert trim.is_valid
        assert trims[name] == canonical_ring(trims[name])
        # Everything within the allowance lies inside it, so no point of it is nearer to the stitch line.
        assert trim.contains(front.buffer(allowance - NEAR_IN, quad_segs=32))
        assert front.exterior.distance(trim.exterior) >= allowance - NEAR_IN
        # And it goes no further than a mitre with the tips cut off: at a neighbour's edge, or square.
        assert front.buffer(allowance + NEAR_IN, join_style="mitre", mitre_limit=12.5).contains(trim)
        # The unfinished block is the limit (a filled notch aside).
        assert trim.area <= trim.intersection(block.buffer(allowance + NEAR_IN, join_style="mitre")).area + 1e-4


@pytest.mark.parametrize("path", designs(), ids=lambda path: path.stem)
def test_the_allowance_holds_all_round_every_section_of_the_designs(path: object) -> None:
    holds_its_allowance(planned(path))  # type: ignore[arg-type]


@settings(derandomize=True, deadline=None, max_examples=60)
@given(
    seed=st.integers(0, 10_000),
    outline=st.sampled_from(sorted(OUTLINES)),
    lines=st.integers(2, 9),
    allowance=st.sampled_from((0.125, 0.25, 0.75 / 2.54)),
)
@example(seed=54, outline="square", lines=8, allowance=0.25)  # strips met in slits of rounding
@example(seed=79, outline="hexagon", lines=5, allowance=0.25)  # a corner came out twice and was lost
@example(seed=44, outline="hexagon", lines=5, allowance=0.25)  # nearly one line with the block's own trim line
def test_the_allowance_holds_all_round_every_section_of_random_blocks(
    seed: int, outline: str, lines: int, allowance: float
) -> None:
    if outline in NOTCHED and allowance != 0.25:
        return  # notches of these outlines are as wide as the wider allowances need
    block = random_lines(seed, lines, OUTLINES[outline], whole=0.6)
    holds_its_allowance(plan(block, PlanOptions(allowance_in=allowance)))


def test_a_square_section_is_cut_square() -> None:
    made = plan(exact_block([((3, 0), (3, 6))], SQUARE6))
    (trim,) = trim_outlines(made).values()
    expected = ((-0.25, -0.25), (6.25, -0.25), (6.25, 6.25), (-0.25, 6.25))
    assert [c for p in trim for c in p] == pytest.approx([c for p in expected for c in p], abs=NEAR_IN)


def two_triangles() -> Plan:
    """Two sections with tips of 45 degrees at two corners of the block."""
    return plan(exact_block([((0, 0), (6, 6)), ((0, 3), (3, 3)), ((3, 0), (3, 6)), ((3, 3), (6, 3))], SQUARE6))


def test_a_tip_at_the_corner_of_the_block_is_square_as_the_block_is() -> None:
    made = two_triangles()
    unfinished = Polygon(made.block.outline_ring()).buffer(0.25, join_style="mitre")
    for ring in trim_outlines(made).values():
        assert unfinished.buffer(NEAR_IN).contains(Polygon(ring))


def test_the_tip_of_a_half_square_triangle_stays_whole() -> None:
    # Common practice: a half-square triangle is cut from a square of finished + 7/8 in (0.854 exactly).
    area = grown([(0, 0), (3, 0), (0, 3)], 0.25, TIP_LIMIT)
    left, top, right, bottom = area.bounds
    assert right - left == pytest.approx(3 + 0.25 * (2 + math.sqrt(2)), abs=1e-6)
    assert bottom - top == pytest.approx(3 + 0.25 * (2 + math.sqrt(2)), abs=1e-6)
    assert area.area == pytest.approx((3 + 0.25 * (2 + math.sqrt(2))) ** 2 / 2, abs=1e-6)


@pytest.mark.parametrize("degrees", [8, 15, 30, 43])
def test_a_sharper_tip_is_cut_off_square_to_its_middle(degrees: float) -> None:
    half = math.radians(degrees / 2)
    wedge = [(0.0, 0.0), (6 * math.cos(half), -6 * math.sin(half)), (6 * math.cos(half), 6 * math.sin(half))]
    area = grown(wedge, 0.25, TIP_LIMIT)
    assert area.bounds[0] == pytest.approx(-0.25 * TIP_LIMIT, abs=1e-6)
    # GEOS buffers the same wedge with the same limit.
    assert (
        area.symmetric_difference(Polygon(wedge).buffer(0.25, join_style="mitre", mitre_limit=TIP_LIMIT)).area
        < 1e-6
    )


@settings(derandomize=True, deadline=None, max_examples=80)
@given(
    corners=st.lists(st.tuples(st.integers(0, 20), st.integers(0, 20)), min_size=3, max_size=8, unique=True),
    limit=st.sampled_from((1.5, 2.0, TIP_LIMIT, 5.0)),
)
def test_growing_agrees_with_geos(corners: list[tuple[int, int]], limit: float) -> None:
    hull = shapely.MultiPoint(corners).convex_hull
    if hull.geom_type != "Polygon":
        return
    ours = grown(hull.exterior.coords[:-1], 0.25, limit)
    theirs = hull.buffer(0.25, join_style="mitre", mitre_limit=limit)
    assert ours.symmetric_difference(theirs).area < 1e-6


def test_an_inside_corner_keeps_its_corner() -> None:
    notched = [(0, 0), (6, 0), (6, 3), (3, 3), (3, 6), (0, 6)]
    area = grown(notched, 0.25, TIP_LIMIT)
    assert (
        area.equals(Polygon(notched).buffer(0.25, join_style="mitre"))
        or area.symmetric_difference(Polygon(notched).buffer(0.25, join_style="mitre")).area < 1e-9
    )
    assert any(Point(p).distance(Point(3.25, 3.25)) < 1e-6 for p in area.exterior.coords)


def test_a_curved_side_keeps_its_allowance_inside_and_outside() -> None:
    arc = [(6 * math.cos(t * math.pi / 60), 6 * math.sin(t * math.pi / 60)) for t in range(31)]
    for ring in ([(0.0, 0.0), *arc], [(8.0, 0.0), (8.0, 8.0), (0.0, 8.0), *reversed(arc)]):
        area, plain = grown(ring, 0.25, TIP_LIMIT), Polygon(ring)
        assert area.exterior.distance(plain.exterior) == pytest.approx(0.25, abs=1e-6)
        assert area.contains(plain.buffer(0.2499, quad_segs=64))
