"""Each rule of tidying with a case and a counter-case: what is repaired, and what was drawn on purpose and stays.

The default tolerance is 1/16 in; an end lies on a point on purpose if it does so to 0.001 in.
"""

from __future__ import annotations

import math
import random
from itertools import pairwise

import pytest

from seamwright.block.make import make_block
from seamwright.block.model import Block
from seamwright.errors import DrawingError
from seamwright.notes import Note
from seamwright.options import PlanOptions
from support.drawn import Seg, drawing, jittered, square


def tidied(block: Block) -> list[Note]:
    return [note for note in block.notes if note.code == "tidied"]


def said(block: Block) -> str:
    return "; ".join(note.text for note in block.notes)


def seam_sizes(block: Block) -> list[int]:
    """How many points each seam has."""
    return sorted(len(seam.points) for seam in block.seams)


def full_lines(count: int, miss: float = 0.0, seed: int = 1) -> list[Seg]:
    """Lines through the middle of a 6 in square (or past it by up to `miss`), each from edge to edge."""
    rng = random.Random(seed)
    found = []
    for k in range(count):
        angle = math.pi * (k + 0.31) / count
        dx, dy, off = math.cos(angle), math.sin(angle), rng.uniform(-miss, miss)
        ox, oy = 3 - off * dy, 3 + off * dx
        steps = [(side - o) / d for o, d in ((ox, dx), (oy, dy)) for side in (0.0, 6.0)]
        back, ahead = max(t for t in steps if t < 0), min(t for t in steps if t > 0)
        found.append(((ox + back * dx, oy + back * dy), (ox + ahead * dx, oy + ahead * dy)))
    return found


# ---- ends


def test_short_ends_are_closed_and_told_as_a_group() -> None:
    block = make_block(drawing([*square(), ((0.03, 3), (5.98, 3)), ((3, 0.04), (3, 2.95))]))
    assert len(block.patches) == 3
    (note,) = tidied(block)
    assert note.text == "4 ends closed, largest about 1/16 in"
    assert note.count == 4
    assert note.largest_in == pytest.approx(0.05, abs=1e-6)
    assert len(note.places_in) == 4


def test_an_end_short_by_more_than_the_tolerance_is_a_fault_with_its_place_and_mend() -> None:
    with pytest.raises(DrawingError, match="1/8in") as caught:
        make_block(drawing([*square(), ((0, 3), (5.9, 3))]))
    (fault,) = caught.value.faults
    assert caught.value.code == fault.code == "unfinished"
    assert fault.at_in == pytest.approx((5.9, 3))
    assert fault.mend == "Draw it on to that line, or raise the tolerance with --tolerance 1/8in"


def test_the_tolerance_advised_closes_the_gap() -> None:
    lines = [*square(), ((0, 3), (5.9, 3))]
    assert len(make_block(drawing(lines), PlanOptions(tolerance_in=1 / 8)).patches) == 2


def test_all_open_ends_are_told_together() -> None:
    with pytest.raises(DrawingError) as caught:
        make_block(drawing([*square(), ((0, 3), (6, 3)), ((3, 0), (3, 2.5)), ((1, 6), (1, 4.2)), ((5, 5), (5, 4))]))
    assert [fault.at_in for fault in caught.value.faults] == [
        pytest.approx(p) for p in [(3, 2.5), (5, 4), (1, 4.2), (5, 5)]
    ]


def test_overshoots_are_trimmed() -> None:
    block = make_block(drawing([*square(), ((-0.03, 3), (6.05, 3)), ((3, 0), (3, 3.04))]))
    assert len(block.patches) == 3
    assert said(block) == "3 overshoots trimmed, largest about 1/16 in"


def test_sketched_corners_that_miss_or_run_past_each_other_become_one() -> None:
    sides = [((0.03, 0), (6.02, 0)), ((6, 0.04), (6, 6.05)), ((6.05, 6), (-0.02, 6)), ((0, 6.03), (0, -0.05))]
    block = make_block(drawing([*sides, ((0, 3), (6, 3))]))
    assert (block.width_in, block.height_in) == pytest.approx((6, 6), abs=1e-9)
    assert len(block.outline) == 6


def test_a_closed_corner_turns_no_side() -> None:
    # The ends miss by different amounts along their own lines: the lines stay exactly where they are.
    block = make_block(drawing([((0.03, 0), (6, 0)), *square()[1:], ((0, 3), (6, 3))]))
    assert block.points[0] == (0.0, 0.0)


def test_an_end_near_a_drawn_corner_goes_to_the_corner_not_to_the_side_of_it() -> None:
    block = make_block(drawing([*square(), ((0, 3), (6, 3)), ((3, 3), (5.98, 0.04))]))
    assert (3.0, 3.0) in block.points
    assert len(block.points) == 7


def test_two_ends_at_purpose_beside_each_other_on_a_line_stay_two() -> None:
    # Each lies on the seam to 0.001 in, 1/32 apart: on purpose, however close.
    lines = [*square(), ((0, 3), (6, 3)), ((3, 0), (3, 3)), ((3 + 1 / 32, 6), (3 + 1 / 32, 3))]
    block = make_block(drawing(lines))
    assert seam_sizes(block) == [2, 2, 4]
    assert not tidied(block)
    assert "1 place narrower than 1/16 in left as drawn" in said(block)


def test_two_hanging_ends_that_nearly_meet_on_a_line_meet() -> None:
    lines = [*square(), ((0, 3), (6, 3)), ((3, 0), (3, 2.98)), ((3.03, 6), (3.03, 3.02))]
    block = make_block(drawing(lines))
    assert seam_sizes(block) == [3, 3]


def test_a_corner_drawn_near_a_seam_stays_off_it() -> None:
    # The tip of a kite, two ends in one point, 1/32 in above a seam: drawn on purpose.
    lines = [*square(), ((0, 3), (6, 3)), ((2, 0), (3, 3 - 1 / 32)), ((3, 3 - 1 / 32), (4, 0))]
    block = make_block(drawing(lines))
    assert len(block.patches) == 3
    assert not tidied(block)


def test_an_end_on_a_slanted_seam_is_found_however_its_digits_are_rounded() -> None:
    rng = random.Random(5)
    for _ in range(200):
        a, b = (0.0, rng.uniform(1, 5)), (6.0, rng.uniform(1, 5))
        t = rng.uniform(0.2, 0.8)
        foot = (round(6 * t, 5), round(a[1] + t * (b[1] - a[1]), 5))
        block = make_block(drawing([*square(), (a, b), ((rng.uniform(1, 5), 0.0), foot)]))
        assert len(block.patches) == 3
        assert seam_sizes(block) == [2, 3]


# ---- doubled lines


def test_a_seam_traced_twice_is_one_where_one_tracing_hangs() -> None:
    block = make_block(drawing([*square(), ((0, 3), (6, 3)), ((0.5, 3.02), (5.5, 3.03))]))
    assert len(block.patches) == 2
    assert said(block) == "2 doubled lines merged, largest 1/32 in"


def test_near_parallel_seams_drawn_on_purpose_stay_two() -> None:
    lines = [*square(), ((0, 3), (6, 3)), ((0, 3 + 1 / 32), (6, 3 + 1 / 32)), ((3, 0), (3, 6))]
    block = make_block(drawing(lines))
    assert len(block.patches) == 6
    assert not tidied(block)
    assert "narrower than 1/16 in left as drawn" in said(block)


def test_a_line_drawn_twice_in_the_same_place_is_one() -> None:
    lines = [*square(), *square(), ((0, 3), (4, 3)), ((2, 3), (6, 3)), ((3, 0), (3, 6))]
    block = make_block(drawing(lines))
    assert len(block.patches) == 4
    assert seam_sizes(block) == [3, 3]


def test_sides_of_two_shapes_that_miss_each_other_are_one_seam() -> None:
    left, right = [(0, 0), (3.01, 0), (3, 6), (0, 6)], [(3, 0.01), (6, 0), (6, 6), (2.99, 6)]
    block = make_block(drawing([], shapes=[left, right]))
    assert len(block.patches) == 2
    assert len(block.points) == 6


def test_a_narrow_shape_between_two_others_keeps_its_sides() -> None:
    shapes = [
        [(0, 0), (3, 0), (3, 6), (0, 6)],
        [(3, 0), (3.03, 0), (3.03, 6), (3, 6)],
        [(3.03, 0), (6, 0), (6, 6), (3.03, 6)],
    ]
    block = make_block(drawing([], shapes=shapes))
    assert len(block.patches) == 3
    assert not tidied(block)


def test_a_corner_missing_on_the_long_side_of_another_shape_is_put_there() -> None:
    shapes = [
        [(0, 0), (6, 0), (6, 3), (0, 3)],
        [(0, 3), (2.5, 3), (2.5, 6), (0, 6)],
        [(2.5, 3), (6, 3), (6, 6), (2.5, 6)],
    ]
    block = make_block(drawing([], shapes=shapes))
    assert seam_sizes(block) == [2, 3]


# ---- straight runs


def test_a_line_drawn_in_pieces_is_one_seam_and_leaves_no_points() -> None:
    lines = [*square(), ((0, 3), (2, 3)), ((2, 3), (5, 3)), ((5, 3), (6, 3))]
    block = make_block(drawing(lines))
    assert seam_sizes(block) == [2]
    assert not tidied(block)


def test_a_run_that_wobbles_within_the_tolerance_is_made_straight() -> None:
    lines = [*square(), ((0, 3), (2, 3.03)), ((2, 3.03), (4, 2.98)), ((4, 2.98), (6, 3)), ((2, 3.03), (2, 0))]
    block = make_block(drawing(lines))
    assert seam_sizes(block) == [2, 3]
    assert said(block) == "1 nearly straight seam made straight, 1/32 in"
    assert all(math.isclose(p[1], 3) for p in block.points if 0 < p[1] < 6)


def test_a_bend_beyond_the_tolerance_stays_a_corner() -> None:
    block = make_block(drawing([*square(), ((0, 3), (3, 3.1)), ((3, 3.1), (6, 3))]))
    assert seam_sizes(block) == [2, 2]
    assert (3.0, 3.1) in block.points


def test_a_straight_line_that_turns_off_at_its_end_is_straight_as_far_as_it_goes() -> None:
    lines = [*square(), ((0, 3), (2, 3.01)), ((2, 3.01), (4, 3)), ((4, 3), (6, 3.4))]
    assert seam_sizes(make_block(drawing(lines))) == [2, 2]


@pytest.mark.parametrize("degrees", [20, 100])
def test_a_curve_drawn_as_a_hundred_edges_does_not_pass_as_straight(degrees: float) -> None:
    heights = [math.radians(degrees * (0.5 - k / 100)) for k in range(100)]
    step = 6 / sum(map(math.cos, heights))
    points = [(0.0, 2.0)]
    for h in heights:
        points.append((points[-1][0] + step * math.cos(h), points[-1][1] + step * math.sin(h)))
    points[-1] = (6.0, points[-1][1])
    block = make_block(drawing([*square(), *pairwise(points), (points[30], (points[30][0], 0.0))]))
    assert len(block.patches) == 3
    assert [len(seam.points) for seam in block.seams if seam.straight] == [2]
    assert [len(seam.points) for seam in block.seams if not seam.straight] == [3]
    assert not tidied(block)


@pytest.mark.parametrize("pieces", [20, 60, 200])
def test_a_seam_drawn_with_an_unsteady_hand_is_one_straight_seam(pieces: int) -> None:
    rng = random.Random(pieces)
    shaken = [(6 * k / pieces, 3 + rng.uniform(-0.02, 0.02)) for k in range(1, pieces)]
    points = [(0.0, 3.0), *shaken, (6.0, 3.0)]
    block = make_block(drawing([*square(), *pairwise(points), ((3, 0), shaken[pieces // 2 - 1])]))
    assert sorted(seam_sizes(block)) == [2, 3]
    assert len(block.patches) == 3


def test_two_unsteady_seams_that_meet_in_a_corner_stay_two() -> None:
    rng = random.Random(5)
    down = [(3 + rng.uniform(-0.02, 0.02) * (0 < k < 40), 3 * k / 40) for k in range(41)]
    across = [(3 + 3 * k / 40, 3 + rng.uniform(-0.02, 0.02) * (k < 40)) for k in range(1, 41)]
    block = make_block(drawing([*square(), *pairwise([*down, *across])]))
    assert seam_sizes(block) == [2, 2]
    assert len(block.patches) == 2


# ---- crossings and stars


def test_lines_that_meet_in_one_point_to_1e_12_make_no_slivers() -> None:
    for count in range(3, 25):
        block = make_block(drawing([*square(), *full_lines(count)]))
        assert len(block.patches) == 2 * count
        assert seam_sizes(block) == [3] * count


@pytest.mark.parametrize("count", [3, 4, 5, 6])
def test_full_lines_that_nearly_meet_in_a_star_meet_in_one_point(count: int) -> None:
    for seed in range(20):
        block = make_block(drawing([*square(), *full_lines(count, 0.02, seed)]))
        assert len(block.patches) == 2 * count
        assert seam_sizes(block) == [3] * count


def test_a_star_that_misses_by_more_than_the_tolerance_keeps_its_small_triangle() -> None:
    lines = [*square(), ((0, 3), (6, 3)), ((3, 0), (3, 6)), ((0.2, 0), (6.0, 5.8))]
    block = make_block(drawing(lines))
    assert len(block.patches) == 7
    assert not tidied(block)


def test_crossings_near_each_other_on_lines_that_run_side_by_side_stay_two() -> None:
    # A kite of 2 degrees: near its tip the cross seam meets its two legs 0.04 in apart.
    lines = [*square(), ((3, 0), (2.9, 6)), ((3, 0), (3.1, 6)), ((0, 1.2), (6, 1.2))]
    block = make_block(drawing(lines))
    assert len(block.patches) == 6
    assert not tidied(block)


def test_eight_rays_that_miss_their_middle_are_four_seams_through_one_point() -> None:
    rng = random.Random(2)
    ends = [end for line in full_lines(4) for end in line]
    for _ in range(30):
        lines = jittered([*square(), *(((3.0, 3.0), end) for end in ends)], 0.02, rng)
        block = make_block(drawing(lines))
        assert len(block.patches) == 8
        assert seam_sizes(block) == [3, 3, 3, 3]


def test_eight_wedges_that_miss_their_middle_are_four_seams_through_one_point() -> None:
    rng = random.Random(3)
    ends = sorted((end for line in full_lines(4) for end in line), key=lambda p: math.atan2(p[1] - 3, p[0] - 3))
    corner = {0: (6.0, 6.0), 1: (0.0, 6.0), 2: (0.0, 0.0), 3: (6.0, 0.0)}
    for _ in range(30):
        shapes = []
        for a, b in pairwise([*ends, ends[0]]):
            ring = [(3.0, 3.0), a, b]
            if abs(a[0] - b[0]) > 1e-9 and abs(a[1] - b[1]) > 1e-9:
                ring.insert(2, min(corner.values(), key=lambda c: math.dist(c, a) + math.dist(c, b)))
            shapes.append([p for p, _ in jittered([(q, q) for q in ring], 0.015, rng)])
        block = make_block(drawing([], shapes=shapes))
        assert len(block.patches) == 8
        assert seam_sizes(block) == [3, 3, 3, 3]


def test_a_star_of_24_rays_pairs_each_ray_with_the_one_opposite() -> None:
    rays = [((3.0, 3.0), end) for line in full_lines(12) for end in line]
    block = make_block(drawing([*square(), *rays]))
    assert len(block.patches) == 24
    assert seam_sizes(block) == [3] * 12


def test_a_star_of_23_rays_pairs_none() -> None:
    tips = [(3 + 2 * math.cos(2 * math.pi * k / 23), 3 + 2 * math.sin(2 * math.pi * k / 23)) for k in range(23)]
    lines = [*square(), *(((3.0, 3.0), t) for t in tips), *pairwise([*tips, tips[0]])]
    block = make_block(drawing(lines))
    assert len(block.patches) == 24
    assert max(seam_sizes(block)) == 2


def test_a_fixed_star_centre_stays_where_it_was_drawn() -> None:
    rays = [((3.0, 3.0), end) for line in full_lines(4) for end in line]
    lines = [*square(), *rays, ((0, 2.97), (6, 2.99))]
    block = make_block(drawing(lines))
    assert (3.0, 3.0) in block.points
    assert len(block.patches) == 10


def test_a_tangle_of_random_lines_is_left_as_drawn_where_lines_cannot_meet() -> None:
    # Lazy caterer: n chords in general position make at most n (n + 1) / 2 + 1 patches (OEIS A000124).
    rng = random.Random(4)
    lines = [((rng.uniform(0, 12), 0.0), (rng.uniform(0, 12), 12.0)) for _ in range(15)]
    lines += [((0.0, rng.uniform(0, 12)), (12.0, rng.uniform(0, 12))) for _ in range(15)]
    block = make_block(drawing([*square(12), *lines]))
    assert 15 * 15 <= len(block.patches) <= 30 * 31 / 2 + 1


# ---- text form


def test_in_a_typed_drawing_near_things_are_meant_as_typed() -> None:
    lines = [*square(), ((0, 3), (3, 3.03)), ((3, 3.03), (6, 3)), ((3, 3.03), (3, 6))]
    assert seam_sizes(make_block(drawing(lines, exact=True))) == [2, 2, 2]
    assert seam_sizes(make_block(drawing(lines))) == [2, 3]


def test_in_a_typed_drawing_hanging_ends_are_still_closed() -> None:
    block = make_block(drawing([*square(), ((0, 3), (5.97, 3))], exact=True))
    assert len(block.patches) == 2


def test_digits_typed_to_a_thousandth_are_near_enough() -> None:
    lines = [*square(), ((0, 0), (6, 4)), ((2.333, 1.555), (2.333, 6)), ((3.667, 2.445), (3.667, 0))]
    block = make_block(drawing(lines, exact=True))
    assert seam_sizes(block) == [2, 2, 4]
