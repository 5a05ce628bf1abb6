"""Where words find room: exact for boxes, complete, and never over a line."""

from __future__ import annotations

import math
import random

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely.affinity import rotate, translate
from shapely.geometry import LineString, MultiPoint, Point, Polygon, box

from seamwright.foundation.make import foundations
from seamwright.ink.lettering import words_box
from seamwright.ink.model import Words
from seamwright.ink.place import place_box, place_lines, place_words, roomiest
from seamwright.piecing.plan import plan
from support.exact import SQUARE6
from support.random_blocks import TRIANGLE, Outline, cut_block

SQUARE = ((0.0, 0.0), (6.0, 0.0), (6.0, 6.0), (0.0, 6.0))


@pytest.mark.parametrize(
    ("ring", "radius"),
    [
        pytest.param(SQUARE, 3.0, id="square: half the side"),
        # Euclid IV.4; the inradius of a right triangle is (a + b - c) / 2.
        pytest.param(((0, 0), (3, 0), (0, 4)), 1.0, id="3-4-5 triangle"),
        pytest.param(((0, 0), (5, 0), (0, 12)), 2.0, id="5-12-13 triangle"),
        # Inradius of an equilateral triangle of side s: s / (2 sqrt 3).
        pytest.param(((0, 0), (6, 0), (3, 3 * math.sqrt(3))), 6 / (2 * math.sqrt(3)), id="equilateral triangle"),
        pytest.param(((0, 0), (10, 0), (10, 1), (0, 1)), 0.5, id="strip: half its width"),
    ],
)
def test_the_roomiest_place_is_as_far_from_all_lines_as_can_be(
    ring: tuple[tuple[float, float], ...], radius: float
) -> None:
    place, clear = roomiest(ring)
    assert 0.94 * radius <= clear <= radius * (1 + 1e-9)
    assert Polygon(ring).exterior.distance(Point(place)) == pytest.approx(clear)


def test_the_roomiest_place_of_a_strip_is_its_middle() -> None:
    assert roomiest(((0, 0), (10, 0), (10, 1), (0, 1)))[0] == pytest.approx((5.0, 0.5))


def test_the_roomiest_place_keeps_out_of_holes() -> None:
    hole = ((1.0, 1.0), (1.0, 5.0), (4.0, 5.0), (4.0, 1.0))
    place, clear = roomiest(SQUARE, [hole])
    assert 4 < place[0] < 6
    assert clear == pytest.approx(1.0, rel=0.06) or clear > 1


@pytest.mark.parametrize(("a", "b"), [(3.0, 4.0), (1.0, 1.0), (0.5, 6.0)])
def test_the_largest_square_in_a_right_triangle_just_fits(a: float, b: float) -> None:
    # Largest square with a corner in the right angle: side a b / (a + b) (similar triangles; Euclid VI).
    side = a * b / (a + b)
    triangle = ((0.0, 0.0), (a, 0.0), (0.0, b))
    assert place_box(triangle, side * 0.999, side * 0.999) is not None
    assert place_box(triangle, side * 1.001, side * 1.001) is None


def test_a_box_fits_a_slanted_strip_only_when_it_is_slanted_too() -> None:
    strip = tuple(rotate(box(0, 0, 4, 0.5), 30, origin=(0, 0)).exterior.coords[:-1])
    assert place_box(strip, 2, 0.4) is None
    # What shapely turns anticlockwise with y up is clockwise as seen with y down.
    spot = place_box(strip, 2, 0.4, angle_deg=30)
    assert spot is not None
    placed = rotate(box(-1, -0.2, 1, 0.2), 30, origin=(0, 0))
    assert Polygon(strip).contains(translate(placed, *spot))


corner = st.tuples(st.integers(0, 60), st.integers(0, 60)).map(lambda c: (c[0] / 10, c[1] / 10))


@settings(derandomize=True, deadline=None, max_examples=150)
@given(
    corners=st.lists(corner, min_size=3, max_size=9, unique=True),
    width=st.floats(0.05, 2),
    height=st.floats(0.05, 2),
    bars=st.lists(st.tuples(corner, corner).filter(lambda bar: bar[0] != bar[1]), max_size=3),
    seed=st.integers(0, 999),
)
def test_a_box_is_clear_of_everything_and_is_found_wherever_chance_finds_one(
    corners: list[tuple[float, float]],
    width: float,
    height: float,
    bars: list[tuple[tuple[float, float], tuple[float, float]]],
    seed: int,
) -> None:
    hull = MultiPoint(corners).convex_hull
    if hull.geom_type != "Polygon":
        return
    ring = tuple(hull.exterior.coords[:-1])
    lines = [LineString(bar) for bar in bars]

    def clear(x: float, y: float, spare: float) -> bool:
        placed = box(x - width / 2, y - height / 2, x + width / 2, y + height / 2).buffer(spare, join_style="mitre")
        return bool(hull.contains(placed)) and not any(line.intersects(placed) for line in lines)

    spot = place_box(ring, width, height, obstacles=bars)
    if spot is not None:
        assert clear(*spot, -1e-7)
        return
    chance = random.Random(seed)
    left, top, right, bottom = hull.bounds
    for _ in range(200):
        assert not clear(chance.uniform(left, right), chance.uniform(top, bottom), 1e-6)


@settings(derandomize=True, deadline=None, max_examples=60)
@given(x=st.floats(-20, 20), y=st.floats(-20, 20))
def test_a_place_near_a_point_is_the_nearest_there_is(x: float, y: float) -> None:
    spot = place_box(SQUARE, 1, 2, near=(x, y))
    assert spot == pytest.approx((min(5.5, max(0.5, x)), min(5.0, max(1.0, y))), abs=1e-9)


def test_words_shrink_until_they_fit_and_no_further() -> None:
    ring = ((0.0, 0.0), (0.35, 0.0), (0.35, 0.3), (0.0, 0.3))
    words = place_words(ring, "A12", (12, 11, 10, 9, 8, 7), bold=True)
    assert words is not None
    assert 7 <= words.size_pt < 12
    assert Polygon(ring).buffer(1e-9).covers(Polygon(words_box(words)))
    assert place_words(ring, "A12", (words.size_pt + 1,), bold=True) is None


def test_words_without_room_are_none() -> None:
    assert place_words(((0, 0), (0.1, 0), (0.05, 3)), "A12", (12, 7)) is None


def test_words_keep_their_clearance_on_every_side() -> None:
    ring = ((0.0, 0.0), (1.0, 0.0), (1.0, 0.25), (0.0, 0.25))
    words = place_words(ring, "2nd: to B", (8,), clearance_pt=3)
    assert words is not None
    assert Polygon(ring).exterior.distance(Polygon(words_box(words))) * 72 >= 3 - 1e-6


@pytest.mark.parametrize("angle", [0, 45, -90, 17.5])
def test_lines_under_one_another_neither_touch_nor_leave(angle: float) -> None:
    lines = [
        Words("A16", (0, 0), 12, bold=True, underline=True),
        Words("grey sky", (0, 0), 8),
        Words("g", (0, 0), 8),
    ]
    placed = place_lines(SQUARE, lines, angle_deg=angle)
    assert placed is not None
    boxes = [Polygon(words_box(words)) for words in placed]
    assert all(Polygon(SQUARE).contains(one) for one in boxes)
    assert not any(one.intersects(two) for i, one in enumerate(boxes) for two in boxes[:i])
    assert [words.text for words in placed] == ["A16", "grey sky", "g"]


def test_a_place_is_the_same_however_often_it_is_asked_for() -> None:
    ring = ((0.0, 0.0), (3.1, 0.4), (2.2, 2.9), (0.7, 1.8))
    assert len({place_box(ring, 0.4, 0.2) for _ in range(5)}) == 1


@pytest.mark.parametrize(
    ("seed", "patches", "outline"),
    [(19, 30, TRIANGLE), (31, 45, SQUARE6), (55, 16, SQUARE6)],
    ids=["a hole without a shell", "a hole on the border", "lines nearly on one another"],
)
def test_room_that_rounding_made_cross_itself_is_still_room(seed: int, patches: int, outline: Outline) -> None:
    planned = plan(cut_block(seed, patches, outline))
    assert len(foundations(planned)) == len(planned.sections)
