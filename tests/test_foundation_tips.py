"""Tips of trim outlines: edge on edge beyond the end of every seam, reflected by GEOS; and what a ruler cuts."""

from __future__ import annotations

import math
from collections.abc import Sequence
from itertools import pairwise

import pytest
import shapely
from hypothesis import example, given, settings
from hypothesis import strategies as st
from shapely.affinity import affine_transform
from shapely.geometry import Polygon
from shapely.geometry.base import BaseGeometry

from seamwright.foundation.corners import Corner, Fan, fans, runs_past
from seamwright.foundation.tips import caps
from seamwright.foundation.trims import trim_outlines
from seamwright.options import PlanOptions
from support.exact import SQUARE6, exact_block
from support.plans import plan_any_size
from support.random_blocks import star
from support.turning import two_rings

MM = 1 / 25.4
LONG = 40.0


def fan_of(degrees: Sequence[float], *, of_block: bool = False) -> Fan:
    """A fan of corners of these angles; `of_block`: its outer sides lie on the block's outline."""
    low, found = 0.0, []
    for k, angle in enumerate(degrees):
        high = low + math.radians(angle)
        ends = (of_block and k == 0, of_block and k == len(degrees) - 1)
        found.append(Corner(f"s{k}", 0, (0.0, 0.0), low, high, k, k + 1, *ends))
        low = high
    return tuple(found)


def areas(
    fan: Fan, allowance: float, *, tips: Sequence[Sequence[Sequence[tuple[float, float]]]]
) -> list[BaseGeometry]:
    """For each corner its strips and its tip."""
    found = []
    for corner, shapes in zip(fan, tips, strict=True):
        parts = [Polygon(shape) for shape in shapes]
        for ray, hand in ((corner.low, -1.0), (corner.high, 1.0)):
            x, y = math.cos(ray), math.sin(ray)
            out = (-hand * allowance * y, hand * allowance * x)
            parts.append(Polygon([(0, 0), (LONG * x, LONG * y), (LONG * x + out[0], LONG * y + out[1]), out]))
        found.append(shapely.union_all(parts, grid_size=1e-10))
    return found


def mismatch_mm(fan: Fan, shapes: Sequence[BaseGeometry], allowance: float) -> float:
    """Widest that sticks out beyond the point when one section of a pair is turned over on the other."""
    worst = 0.0
    for k, (one, two) in enumerate(pairwise(shapes)):
        c, s = math.cos(fan[k].high), math.sin(fan[k].high)
        seen = [
            shapely.clip_by_rect(
                affine_transform(area, [-c, -s, -hand * s, hand * c, 0, 0]), 0, 0, 11.9 * allowance, allowance
            )
            for area, hand in ((one, 1.0), (two, -1.0))
        ]
        for part in shapely.get_parts(seen[0].symmetric_difference(seen[1])):
            low, high = 0.0, 1.0
            for _ in range(16 if part.area > 1e-9 else 0):
                middle = (low + high) / 2
                low, high = (low, middle) if part.buffer(-middle).is_empty else (middle, high)
            worst = max(worst, 2 * low / MM)
    return worst


@pytest.mark.parametrize(
    "degrees",
    [
        (30, 60, 90),
        (20, 30, 130),
        (10, 170),
        (170, 10),
        (5, 175),
        (45, 135),
        (15,) * 12,
        (22.5,) * 8,
        (83, 14, 13, 13, 57),
    ],
    ids=str,
)
@pytest.mark.parametrize("of_block", [False, True])
def test_tips_at_a_seam_that_runs_through_match_at_known_hard_angles(
    degrees: tuple[float, ...], of_block: bool
) -> None:
    # The first two are where trimming pair by pair leaves 4.65 mm and more; ours is cut round the point.
    fan = fan_of(degrees, of_block=of_block)
    tips = caps(fan, 0.25)
    assert mismatch_mm(fan, areas(fan, 0.25, tips=tips), 0.25) < 0.02
    assert (
        mismatch_mm(fan, areas(fan, 0.25, tips=[caps((c,), 0.25)[0] for c in fan]), 0.25) < 0.02
        or len(set(degrees)) > 1
    )


def test_tips_cut_without_a_look_at_the_neighbours_do_not_match() -> None:
    # So that the measure above can fail.
    fan = fan_of((30, 60, 90))
    alone = [caps((corner,), 0.25)[0] for corner in fan]
    assert mismatch_mm(fan, areas(fan, 0.25, tips=alone), 0.25) > 1


angles = st.lists(st.integers(1, 60), min_size=2, max_size=7)


@settings(derandomize=True, deadline=None, max_examples=60)
@given(shares=angles, total=st.sampled_from((180, 180, 150, 120, 90, 60, 45)), of_block=st.booleans())
@example(shares=[31, 16, 40, 8, 71, 4, 10], total=180, of_block=True)
def test_tips_match_in_any_fan_up_to_a_straight_line_and_keep_the_allowance(
    shares: list[int], total: int, of_block: bool
) -> None:
    degrees = [share * total / sum(shares) for share in shares]
    if any(runs_past(math.radians(d)) for d in degrees):
        return  # nothing is asked of it
    fan = fan_of(degrees, of_block=of_block)
    tips = caps(fan, 0.25)
    shapes = areas(fan, 0.25, tips=tips)
    assert mismatch_mm(fan, shapes, 0.25) < 0.02
    for corner, shape in zip(fan, shapes, strict=True):
        rays = [(LONG * math.cos(ray), LONG * math.sin(ray)) for ray in (corner.low, corner.high)]
        whole = shapely.union_all([shape, Polygon([(0, 0), *rays]).buffer(1e-6)])
        assert whole.buffer(1e-6).contains(shapely.Point(0, 0).buffer(0.25))
    if of_block and total < 180:
        # The corner of the unfinished block, as one section alone would have it.
        (alone,) = caps(fan_of([total], of_block=True), 0.25)
        square = shapely.union_all([Polygon(shape) for shape in alone])
        assert square.difference(shapely.union_all([Polygon(s) for t in tips for s in t]).buffer(1e-6)).area < 1e-6


def test_a_ten_degree_tip_ends_on_its_neighbours_trim_edge() -> None:
    # Its mitre would be a / sin 5 degrees = 2.87 in long; the neighbour's edge crosses the seam at a / sin 10.
    fan = fan_of((10, 170))
    (tip,), _ = caps(fan, 0.25)
    assert max(math.hypot(*p) for p in tip) == pytest.approx(0.25 / math.sin(math.radians(10)), abs=1e-3)


def test_half_square_triangles_meet_as_a_ruler_cuts_them() -> None:
    # Common practice: the 45 degree tip in a square corner is cut off along the square's own raw edges.
    made = plan_any_size(exact_block([((0, 0), (6, 6)), ((3, 0), (3, 3)), ((3, 6), (3, 3))], SQUARE6))
    for ring in trim_outlines(made).values():
        assert min(x for x, _ in ring) >= -0.25 - 1e-6 and min(y for _, y in ring) >= -0.25 - 1e-6


def test_outlines_have_no_short_edges_and_equal_sections_equal_trims() -> None:
    for lines in (4, 6, 8):
        trims = list(trim_outlines(plan_any_size(star(lines), PlanOptions(max_patches=1))).values())
        for ring in trims:
            assert min(math.dist(a, b) for a, b in pairwise((*ring, ring[0]))) > 1 / 64
        sizes = sorted({(len(ring), round(Polygon(ring).area, 4)) for ring in trims})
        assert len(sizes) < len(trims)


def test_a_fan_ends_where_a_join_runs_through_and_where_a_section_runs_past() -> None:
    made = plan_any_size(exact_block([((3, 0), (3, 6)), ((0, 3), (6, 3))], SQUARE6), PlanOptions(max_patches=1))
    middle = [fan for fan in fans(made) if fan[0].at == (3.0, 3.0)]
    # A four-patch: two joins end in the middle, the third runs through it.
    assert sorted(len(fan) for fan in middle) == [2, 2]
    turning = plan_any_size(two_rings(), PlanOptions(set_in=True))
    assert all(not runs_past(c.angle) for fan in fans(turning) if len(fan) > 1 for c in fan)
