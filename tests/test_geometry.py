"""Rings, distances, moves: the plane geometry that all parts share."""

import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from seamwright.geometry import along, bounds, canonical_ring, moved, off_line, signed_area

SQUARE = ((0.0, 0.0), (2.0, 0.0), (2.0, 2.0), (0.0, 2.0))


def test_a_ring_runs_clockwise_from_its_topmost_then_leftmost_corner():
    for start in range(4):
        for ring in (SQUARE[start:] + SQUARE[:start], (SQUARE[start:] + SQUARE[:start])[::-1]):
            assert canonical_ring(ring) == SQUARE


def test_points_inside_a_side_are_no_corners():
    assert canonical_ring(((0, 0), (1, 0), (2, 0), (2, 2), (1, 2), (0, 2))) == SQUARE


def test_two_corners_in_one_place_stay_one_corner():
    ring = canonical_ring(((0, 0), (2, 0), (2, 5e-8), (2, 2), (0, 2)))
    assert len(ring) == 4
    assert signed_area(ring) == pytest.approx(4)


def test_a_corner_cut_by_a_hair_stays_a_corner() -> None:
    # Two points 1e-7 apart in the place of one corner: each looks straight beside the other, the corner is not.
    ring = canonical_ring(((0, 0), (2.00000005, 0), (2, 8.7e-8), (1.9, 0.17), (2, 2), (0, 2)))
    assert len(ring) == 5
    assert min(math.dist(p, (2, 0)) for p in ring) < 1e-6


def test_a_needle_keeps_its_tip():
    assert len(canonical_ring(((0, 0), (5, 0.01), (0, 0.02)))) == 3


@pytest.mark.parametrize(
    ("point", "off", "ahead"),
    [((3, 4), 4, 3), ((3, -4), -4, 3), ((-1, 0), 0, -1)],
)
def test_distances_from_a_line_are_positive_on_the_right_hand(point, off, ahead):
    assert off_line(point, (0, 0), (10, 0)) == off
    assert along(point, (0, 0), (10, 0)) == ahead


corner = st.tuples(st.integers(-400, 400), st.integers(-400, 400))


@given(st.lists(corner, min_size=3, max_size=9), st.integers(0, 359))
@settings(derandomize=True, deadline=None)
def test_turning_a_ring_keeps_its_area_and_mirroring_turns_it_over(ring, angle):
    cos, sin = math.cos(math.radians(angle)), math.sin(math.radians(angle))
    turned = [moved((cos, sin, -sin, cos, 3, 4), p) for p in ring]
    assert signed_area(turned) == pytest.approx(signed_area(ring), abs=1e-6)
    assert signed_area([(-x, y) for x, y in ring]) == -signed_area(ring)
    left, top, right, bottom = bounds(ring)
    assert all(left <= x <= right and top <= y <= bottom for x, y in ring)
