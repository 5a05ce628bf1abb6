"""What is cut with a ruler comes out at its finished size: every row of the trade's table against geometry.

The sizes are common practice, as quilters' handouts print them (from memory, no single source). That they do is
shown by GEOS (shapely), which draws the allowance round the finished shape with whole tips, and by cloth that is
folded, sewn and cut in coordinates.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator
from fractions import Fraction

import pytest
from shapely import Polygon, box
from shapely.affinity import affine_transform
from shapely.geometry.base import BaseGeometry

from seamwright.fabric.rulers import FINE_STEP_IN, STEP_IN, Ruler
from seamwright.options import Units

Point = tuple[float, float]
EIGHTHS = [Fraction(n, 8) for n in range(8, 97)]
"""Finished sizes of 1 to 12 in."""
INCH, METRIC = Ruler(1 / 4, Units.INCH), Ruler(0.75 / 2.54, Units.METRIC)
OTHERS = [Ruler(1 / 8), Ruler(3 / 8), Ruler(1 / 2), Ruler(1 / 4, Units.METRIC)]
CM = 1 / 2.54


def up(length: Fraction, part: int = 8) -> Fraction:
    """Rounded up to the next mark, in whole numbers."""
    return Fraction(-(-length * part // 1), part)


# -- the printed constants (common practice, 1/4 in allowance) ------------------------------------------------


@pytest.mark.parametrize(
    ("cut", "rule"),
    [
        pytest.param(INCH.square, lambda f: f + Fraction(1, 2), id="square: finished + 1/2"),
        pytest.param(INCH.half_square, lambda f: f + Fraction(7, 8), id="half-square: short side + 7/8"),
        pytest.param(INCH.quarter_square, lambda f: f + Fraction(5, 4), id="quarter-square: long side + 1 1/4"),
        pytest.param(INCH.pair, lambda f: f + 1, id="two at a time: finished + 1"),
        pytest.param(INCH.eight, lambda f: 2 * f + Fraction(7, 4), id="eight at a time: 2 x finished + 1 3/4"),
        pytest.param(INCH.folded_corner, lambda f: f + Fraction(1, 2), id="stitched corner: finished + 1/2"),
        pytest.param(
            INCH.side_setting,
            lambda f: up(f * Fraction("1.414") + Fraction(5, 4)),
            id="side setting: block x 1.414 + 1 1/4",
        ),
        pytest.param(
            INCH.corner_setting,
            lambda f: up(f / Fraction("1.414") + Fraction(7, 8)),
            id="corner setting: block / 1.414 + 7/8",
        ),
    ],
)
def test_sizes_are_those_that_the_trade_prints(
    cut: Callable[[float], float], rule: Callable[[Fraction], Fraction]
) -> None:
    assert [cut(float(finished)) for finished in EIGHTHS] == [float(rule(finished)) for finished in EIGHTHS]


def test_flying_geese_and_half_rectangles_are_cut_as_the_trade_prints() -> None:
    for f in EIGHTHS:
        # One square W + 1 1/4 and four H + 7/8; short side + 11/16, long side + 1 5/16 (common practice).
        assert INCH.geese_four(float(f)) == (float(2 * f + Fraction(5, 4)), float(f + Fraction(7, 8)))
        assert INCH.half_rectangle(float(f), float(2 * f)) == (
            float(f + Fraction(11, 16)),
            float(2 * f + Fraction(21, 16)),
        )


@pytest.mark.parametrize(
    ("block_in", "side_in", "corner_in"),
    [
        # Worked examples of quilters' handouts (common practice, from memory): on point, 1/4 in allowance.
        pytest.param(6, 9.75, 5.125, id="6 in"),
        pytest.param(9, 14, None, id="9 in"),
        pytest.param(12, 18.25, 9.375, id="12 in"),
    ],
)
def test_setting_triangles_agree_with_worked_examples(
    block_in: float, side_in: float, corner_in: float | None
) -> None:
    assert INCH.side_setting(block_in) == side_in
    assert corner_in is None or INCH.corner_setting(block_in) == corner_in


# -- geometry -----------------------------------------------------------------------------------------------


def half(leg: float, other: float | None = None) -> list[Point]:
    """A right-angled triangle, its square corner at the origin."""
    return [(0.0, 0.0), (leg, 0.0), (0.0, leg if other is None else other)]


def quarter(long_side: float) -> list[Point]:
    """A quarter of a square, its long side level, its square corner at the origin."""
    return [(0.0, 0.0), (-long_side / 2, long_side / 2), (long_side / 2, long_side / 2)]


def slack(finished: list[Point], cut: list[Point], allowance_in: float) -> float:
    """By how much a triangle as it is cut is larger than its finished shape with allowance, corner upon corner.

    Measured along the longest side. Fails where the piece does not hold all of the shape.
    """
    wanted = Polygon(finished).buffer(allowance_in, join_style="mitre", mitre_limit=20)
    corner = min(wanted.exterior.coords, key=lambda p: math.dist(p, finished[0]))
    piece = Polygon([(x + corner[0], y + corner[1]) for x, y in cut])
    assert piece.buffer(1e-9).covers(wanted)
    return float(math.sqrt(piece.area / wanted.area) - 1) * max(
        math.dist(a, b) for a, b in zip(cut, cut[1:] + cut[:1], strict=True)
    )


def sizes(ruler: Ruler) -> Iterator[float]:
    """Finished sizes: 1 to 12 in by eighths, 2.5 to 30 cm by half centimetres."""
    if ruler.units is Units.INCH:
        yield from map(float, EIGHTHS)
    else:
        yield from (n * 0.5 * CM for n in range(5, 61))


@pytest.mark.parametrize("ruler", [INCH, METRIC, *OTHERS], ids=str)
def test_every_piece_holds_its_shape_with_allowance_and_little_more(ruler: Ruler) -> None:
    s, step = ruler.allowance_in, STEP_IN[ruler.units]
    # What is rounded up to a mark, seen along the long side of a triangle; the common constants are 0.03 and 0.043
    # larger than geometry by themselves. Half-rectangles are cut to sixteenths.
    most = math.sqrt(2) * step if ruler is not INCH else 0.045
    for f in sizes(ruler):
        assert ruler.square(f) - (f + 2 * s) == pytest.approx(0, abs=1e-9 if ruler is INCH else step)
        assert ruler.square(f) >= f + 2 * s - 1e-9
        assert slack(half(f), half(ruler.half_square(f)), s) < most
        assert slack(quarter(f), quarter(ruler.quarter_square(f)), s) < most
        short, long = ruler.half_rectangle(f, 2 * f)
        # Cut from a rectangle that is not twice as long as wide, to a hair: the tips are off by that hair.
        assert slack(half(f, 2 * f), half(short, long), s) < 3 * FINE_STEP_IN[ruler.units]


@pytest.mark.parametrize("ruler", [INCH, METRIC, *OTHERS], ids=str)
def test_setting_triangles_hold_the_space_beside_blocks_on_point(ruler: Ruler) -> None:
    step = STEP_IN[ruler.units]
    for block in sizes(ruler):
        # A side triangle's long side is the block's diagonal, a corner triangle's is the block's side.
        side, corner = quarter(block * math.sqrt(2)), half(block / math.sqrt(2))
        allowed = step * math.sqrt(2) + 0.045
        assert slack(side, quarter(ruler.side_setting(block)), ruler.allowance_in) < allowed
        assert slack(corner, half(ruler.corner_setting(block)), ruler.allowance_in) < allowed


def test_half_rectangles_of_any_shape_hold_their_allowance() -> None:
    for f in EIGHTHS[::8]:
        for times in (1.25, 1.5, 3.0):
            short, long = INCH.half_rectangle(float(f), float(f) * times)
            assert slack(half(float(f), float(f) * times), half(short, long), 1 / 4) < 0.3
            assert short <= float(f) + 1 and long <= float(f) * times + 2


def test_metric_triangles_are_larger_than_the_trade_writes_since_that_is_too_small() -> None:
    # Metric patterns add 2.5 cm and 3.5 cm (common practice); at 0.75 cm geometry asks for 2.561 and 3.621.
    for f in (4.0, 10.0, 25.5):
        assert METRIC.half_square(f * CM) / CM == pytest.approx(f + 2.6)
        assert METRIC.quarter_square(f * CM) / CM == pytest.approx(f + 3.7)
        assert METRIC.square(f * CM) / CM == pytest.approx(f + 1.5)
        for finished, piece in ((half(f), half(f + 2.5)), (quarter(f), quarter(f + 3.5))):
            with pytest.raises(AssertionError):
                slack(finished, piece, 0.75)


# -- cloth, folded and sewn in coordinates ---------------------------------------------------------------------


def beyond(line: tuple[float, float, float], area: BaseGeometry) -> BaseGeometry:
    """What of an area lies where a x + b y >= c."""
    a, b, c = line
    length = math.hypot(a, b)
    ux, uy, far = a / length, b / length, 100.0
    x, y = ux * c / length, uy * c / length
    corners = [(x - uy * far, y + ux * far), (x + uy * far, y - ux * far)]
    return area.intersection(Polygon([*corners, *((p + far * ux, q + far * uy) for p, q in reversed(corners))]))


def flipped(line: tuple[float, float, float], area: BaseGeometry) -> BaseGeometry:
    """An area folded over the line a x + b y = c."""
    a, b, c = line
    n = a * a + b * b
    return affine_transform(
        area, [1 - 2 * a * a / n, -2 * a * b / n, -2 * a * b / n, 1 - 2 * b * b / n, 2 * a * c / n, 2 * b * c / n]
    )


def opened(under: BaseGeometry, over: BaseGeometry, seam: tuple[float, float, float]) -> tuple[BaseGeometry, ...]:
    """Two layers sewn on a line and pressed open: what shows of each; the allowance lies where a x + b y > c."""
    a, b, c = seam
    inner = (-a, -b, -c)
    return beyond(inner, under), flipped(seam, beyond(inner, over))


def pair_unit(side: float, s: float) -> tuple[BaseGeometry, BaseGeometry]:
    """One of two units from two squares, sewn on both sides of the diagonal x + y = side, cut on it and opened."""
    layer = beyond((-1, -1, -side), box(0, 0, side, side))
    one, two = opened(layer, layer, (1, 1, side - s * math.sqrt(2)))
    return one, two


@pytest.mark.parametrize("ruler", [INCH, METRIC, Ruler(3 / 8)], ids=str)
def test_two_at_a_time_can_be_trimmed_to_size(ruler: Ruler) -> None:
    s = ruler.allowance_in
    for f in sizes(ruler):
        one, two = pair_unit(ruler.pair(f), s)
        sewn = one.union(two)
        left, top, right, bottom = sewn.bounds
        trimmed = box(right - ruler.square(f), bottom - ruler.square(f), right, bottom)
        assert sewn.buffer(1e-9).covers(trimmed)
        over = right - left - ruler.square(f)
        assert 1 / 16 < over < 1 / 4, "something to trim, and not too much"
        # The seam runs from corner to corner of the unit: its finished halves are equal.
        finished = trimmed.buffer(-s, join_style="mitre")
        middle = (right - ruler.square(f) / 2, bottom - ruler.square(f) / 2)
        again = box(*(c - f / 2 for c in middle), *(c + f / 2 for c in middle))
        assert finished.symmetric_difference(again).area < f * STEP_IN[ruler.units] * 4
    assert top == left


def test_a_pair_of_3_in_squares_gives_units_of_2_1_2_in() -> None:
    # Common practice: 3 in squares, sewn 1/4 in each side of the diagonal, trimmed to 2 1/2 in, 2 in finished.
    assert INCH.pair(2) == 3 and INCH.square(2) == 2.5
    one, two = pair_unit(3, 1 / 4)
    side = 3 - math.sqrt(2) / 4
    assert one.union(two).area == pytest.approx(side**2)
    assert side - 2.5 == pytest.approx(0.146, abs=1e-3)
    # Trimmed with the seam from corner to corner: a square about the middle of the seam.
    trimmed = box(side / 2 - 1.25, side / 2 - 1.25, side / 2 + 1.25, side / 2 + 1.25)
    assert one.intersection(trimmed).area == pytest.approx(two.intersection(trimmed).area)
    inside = box(side / 2 - 1, side / 2 - 1, side / 2 + 1, side / 2 + 1)
    assert one.intersection(inside).area == pytest.approx(2)  # half of 2 x 2 in


@pytest.mark.parametrize("ruler", [INCH, METRIC, Ruler(3 / 8)], ids=str)
def test_eight_at_a_time_are_pairs_of_a_quarter_of_the_square(ruler: Ruler) -> None:
    s = ruler.allowance_in
    for f in sizes(ruler):
        side = ruler.eight(f)
        # Cut across, down and on both diagonals: eight pieces, all alike.
        parts = [
            beyond(diagonal, box(x, y, x + side / 2, y + side / 2))
            for x in (0, side / 2)
            for y in (0, side / 2)
            for diagonal in (((1, -1, 0), (-1, 1, 0)) if x == y else ((1, 1, side), (-1, -1, -side)))
        ]
        assert {round(part.area, 9) for part in parts} == {round(side**2 / 8, 9)}
        one, two = pair_unit(side / 2, s)
        over = math.sqrt(one.union(two).area) - ruler.square(f)
        assert -1e-9 <= over < STEP_IN[ruler.units]


@pytest.mark.parametrize("ruler", [INCH, METRIC, Ruler(3 / 8)], ids=str)
def test_four_flying_geese_at_a_time_come_out_true(ruler: Ruler) -> None:
    s, root = ruler.allowance_in, math.sqrt(2)
    for height in [f for f in sizes(ruler) if f <= 6]:
        large, small = ruler.geese_four(height)
        # Small squares on two opposite corners, sewn on both sides of the diagonal x = y; one half is looked at.
        half_of = beyond((1, -1, 0), box(0, 0, large, large))
        first = beyond((1, -1, 0), box(0, 0, small, small))
        assert box(0, 0, small, small).intersects(box(large - small, large - small, large, large))
        goose, sky = opened(half_of, first, (-1, 1, -s * root))
        # The third on the corner that is left, on both sides of x + y = large; one of the two units is looked at.
        unit = (-1, -1, -large)
        goose, sky = beyond(unit, goose), beyond(unit, sky)
        third = beyond(unit, box(large - small, 0, large, small))
        seam = (1, 1, large - s * root)
        goose, other = opened(goose, third, seam)
        sky = beyond((-1, -1, -(large - s * root)), sky)
        apex = (large / 2, large / 2 - s * root)
        width = 2 * height
        trimmed = box(apex[0] - width / 2 - s, apex[1] - height - s, apex[0] + width / 2 + s, apex[1] + s)
        sewn = goose.union(sky).union(other)
        # Beyond the goose's point both small ones are caught in the seams, so the top is whole.
        assert sewn.buffer(1e-6).covers(trimmed), height
        finished = box(apex[0] - width / 2, apex[1] - height, apex[0] + width / 2, apex[1])
        wanted = Polygon([apex, (finished.bounds[2], finished.bounds[1]), (finished.bounds[0], finished.bounds[1])])
        assert goose.intersection(finished).symmetric_difference(wanted).area < 1e-9
        assert sewn.area - trimmed.area < 6 * (width + height) * STEP_IN[ruler.units]


def test_a_stitched_corner_is_its_finished_triangle() -> None:
    for f in map(float, EIGHTHS):
        s, square = 1 / 4, INCH.folded_corner(f)
        # The square lies in the corner of a larger piece and is sewn from corner to corner: x + y = square.
        seam = (1.0, 1.0, square)
        shows = flipped(seam, beyond(seam, box(0, 0, square, square)))
        # Inside the allowances of the unit's two sides it is the corner with legs of the finished size.
        finished = shows.intersection(box(s, s, 100, 100))
        assert finished.symmetric_difference(Polygon([(s, s), (s + f, s), (s, s + f)])).area < 1e-9


@pytest.mark.parametrize("finished_in", [1.0, 3.0, 4.125])
def test_what_is_cut_by_other_allowances_grows_with_them(finished_in: float) -> None:
    rulers = [Ruler(s) for s in (1 / 8, 1 / 4, 3 / 8, 1 / 2)]
    for cut in ("square", "half_square", "quarter_square", "eight", "side_setting", "corner_setting"):
        found = [getattr(ruler, cut)(finished_in) for ruler in rulers]
        assert found == sorted(found) and len(set(found)) == 4
