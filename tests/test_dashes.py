"""Dashed rings: every corner is drawn, a curve shows its dashes, and nothing is left out."""

from __future__ import annotations

import math
from itertools import pairwise

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from seamwright.geometry import Point
from seamwright.ink.svg import halves, sides

SQUARE = [(0.0, 0.0), (4.0, 0.0), (4.0, 3.0), (0.0, 3.0)]
CIRCLE = [(math.cos(math.radians(a)), math.sin(math.radians(a))) for a in range(0, 360, 3)]
QUARTER = [(0.0, 0.0), *((6 * math.cos(math.radians(a)), 6 * math.sin(math.radians(a))) for a in range(0, 91, 2))]


def length(points: list[Point]) -> float:
    return math.fsum(math.dist(a, b) for a, b in pairwise(points))


@pytest.mark.parametrize(("ring", "count"), [(SQUARE, 4), (CIRCLE, 1), (QUARTER, 3)])
def test_a_ring_is_parted_at_its_corners_only(ring: list[Point], count: int) -> None:
    assert len(sides(ring)) == count


@pytest.mark.parametrize("ring", [SQUARE, CIRCLE, QUARTER])
def test_all_of_a_ring_is_drawn_once(ring: list[Point]) -> None:
    drawn = [half for side in sides(ring) for half in halves(side)]
    assert math.fsum(length(half) for half in drawn) == pytest.approx(length([*ring, ring[0]]))
    for one, other in zip(drawn[::2], drawn[1::2], strict=True):
        assert one[-1] == other[-1]
        assert length(one) == pytest.approx(length(other))


@settings(derandomize=True, deadline=None)
@given(st.lists(st.tuples(st.integers(0, 9), st.integers(0, 9)), min_size=3, max_size=7, unique=True))
def test_every_corner_starts_a_dash(corners: list[tuple[int, int]]) -> None:
    ring = [(float(x), float(y)) for x, y in corners]
    starts = {half[0] for side in sides(ring) for half in halves(side)}
    parted = {side[0] for side in sides(ring)}
    assert parted <= starts
    assert math.fsum(length(side) for side in sides(ring)) == pytest.approx(length([*ring, ring[0]]))
