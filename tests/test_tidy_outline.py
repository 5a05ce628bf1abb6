"""Which part of a drawing is the block, how large it is, and what is said when there is none."""

from __future__ import annotations

import math

import pytest

from seamwright.block.make import DEFAULTS, make_block
from seamwright.block.strokes import MOST_CROSSINGS, MOST_SEGMENTS
from seamwright.drawing.model import Drawing, Line
from seamwright.errors import DrawingError, OptionError, SeamwrightError
from seamwright.geometry import Point
from seamwright.options import PlanOptions, Size, Units
from support.drawn import drawing, square

MIDDLE = ((0, 3), (6, 3))
PAGE = ((0.0, 0.0), (6.0, 0.0), (6.0, 6.0), (0.0, 6.0))


def said(drawn: Drawing, options: PlanOptions = DEFAULTS) -> list[str]:
    return [note.text for note in make_block(drawn, options).notes]


def refusal(drawn: Drawing, options: PlanOptions = DEFAULTS) -> SeamwrightError:
    with pytest.raises(SeamwrightError) as caught:
        make_block(drawn, options)
    assert all(fault.what and fault.mend for fault in caught.value.faults)
    return caught.value


# ---- outline


def test_the_outline_is_the_border_of_the_largest_part_that_closes() -> None:
    furniture = [*square(1, 8, 0), ((8, 0.5), (9, 0.5)), ((-1, 3), (-0.5, 3)), ((0, 7), (6, 7))]
    block = make_block(drawing([*square(), MIDDLE, *furniture]))
    assert (block.width_in, block.height_in) == (6, 6)
    assert len(block.patches) == 2
    assert [note.text for note in block.notes] == ["3 lines or shapes outside the block ignored"]


def test_the_block_starts_at_its_top_left_corner_wherever_it_was_drawn() -> None:
    block = make_block(drawing([*square(6, 10.5, -3), ((10.5, 0), (16.5, 0))]))
    assert block.points[0] == (0.0, 0.0)
    assert block.points[-1] == (6.0, 6.0)


def test_a_stated_outline_leaves_out_what_lies_beyond_it() -> None:
    lines = [((-1, 3), (7, 3)), ((3, -0.5), (3, 3)), ((8, 0), (9, 1))]
    block = make_block(drawing(lines, outline=PAGE))
    assert len(block.patches) == 3
    assert block.outline_ring()[0] == (0.0, 0.0)


def test_the_page_is_the_outline_where_lines_reach_its_edge() -> None:
    lines = [((0, 3), (6, 3)), ((3, 0.02), (3, 3)), ((1, 3), (1, 6.03))]
    block = make_block(drawing(lines, artboard=PAGE))
    assert len(block.patches) == 4
    assert "the page is taken as the block" in block.notes[0].text


def test_the_page_is_no_outline_where_one_is_drawn() -> None:
    page = ((-1.0, -1.0), (9.0, -1.0), (9.0, 9.0), (-1.0, 9.0))
    block = make_block(drawing([*square(), MIDDLE], artboard=page))
    assert block.width_in == 6
    assert not block.notes


def test_a_title_rule_from_edge_to_edge_of_the_page_does_not_make_the_page_the_block() -> None:
    page = ((0.0, 0.0), (8.0, 0.0), (8.0, 10.0), (0.0, 10.0))
    block = make_block(drawing([*square(6, 1, 1), ((1, 4), (7, 4)), ((0, 9), (8, 9))], artboard=page))
    assert (block.width_in, block.height_in) == (6, 6)


def test_lines_that_reach_no_edge_of_the_page_are_unfinished() -> None:
    error = refusal(drawing([((1, 3), (5, 3)), ((3, 1), (3, 3))], artboard=PAGE))
    assert error.code == "unfinished"
    assert len(error.faults) == 3


def test_a_corner_that_gapes_is_told_at_both_ends() -> None:
    sides = [((0.3, 0), (6, 0)), ((6, 0), (6, 6)), ((6, 6), (0, 6)), ((0, 6), (0, 0.3))]
    error = refusal(drawing([*sides, MIDDLE, ((3, 0), (3, 6))]))
    assert error.code == "unfinished"
    assert len(error.faults) == 2


def test_a_seam_that_runs_on_outside_is_cut_off_there() -> None:
    assert said(drawing([*square(), ((-0.5, 3), (6.5, 3))])) == ["2 seams run on outside the block; ignored there"]


# ---- two outlines


@pytest.mark.parametrize("allowance", [0.25, 0.75 / 2.54, 0.375])
def test_of_two_outlines_one_allowance_apart_the_inner_is_the_block(allowance: float) -> None:
    outer = square(6 + 2 * allowance, -allowance, -allowance)
    block = make_block(drawing([*square(), *outer, MIDDLE]))
    assert block.width_in == pytest.approx(6)
    assert [note.text for note in block.notes] == [
        "outer outline ignored: the block is inside it, one allowance in"
    ]


def test_two_outlines_of_a_hexagon_are_told_apart_too() -> None:
    def ring(radius: float) -> list[tuple[Point, Point]]:
        points = [
            (4 + radius * math.cos(k * math.pi / 3), 4 + radius * math.sin(k * math.pi / 3)) for k in range(6)
        ]
        return list(zip(points, [*points[1:], points[0]], strict=True))

    block = make_block(drawing([*ring(3), *ring(3 + 0.25 / math.cos(math.pi / 6)), ((1, 4), (7, 4))]))
    assert block.width_in == pytest.approx(6)


def test_a_ring_with_seams_in_it_is_part_of_the_block() -> None:
    lines = [*square(), *square(6.5, -0.25, -0.25), MIDDLE, ((3, 0), (3, -0.25)), ((3, 6), (3, 6.25))]
    assert make_block(drawing(lines)).width_in == pytest.approx(6.5)


def test_a_ring_of_uneven_width_is_a_border_with_an_island() -> None:
    block = make_block(drawing([*square(), *square(6.6, -0.25, -0.35), MIDDLE]))
    assert block.width_in == pytest.approx(6.6)
    assert len(block.patches) == 3


def test_a_wide_ring_is_a_border_with_an_island() -> None:
    block = make_block(drawing([*square(), *square(9, -1.5, -1.5), MIDDLE]))
    assert block.width_in == pytest.approx(9)
    assert len(block.patches) == 3


def test_a_lone_patch_inside_is_an_island_not_a_block() -> None:
    block = make_block(drawing([*square(), *square(2, 2, 2)]))
    assert len(block.patches) == 2
    assert sum(len(patch.holes) for patch in block.patches) == 1


def test_an_island_tied_by_one_line_is_unfinished() -> None:
    error = refusal(drawing([*square(), *square(2, 2, 2), ((0, 3), (2, 3))]))
    assert error.code == "unfinished"
    assert "same patch on both sides" in str(error)


# ---- nothing there


@pytest.mark.parametrize(
    ("lines", "code"),
    [
        pytest.param([], "nothing drawn", id="empty"),
        pytest.param(square(), "no seams", id="an outline alone"),
        pytest.param([((0, 0), (0.0004, 0))], "no outline", id="a dot"),
        pytest.param([((0, 0), (6, 0)), ((6, 0), (6, 6))], "unfinished", id="an open path"),
        pytest.param([*square(), ((0, math.nan), (6, 3))], "not a number", id="not a number"),
        pytest.param([*square(), ((0, math.inf), (6, 3))], "not a number", id="infinite"),
        pytest.param([*square(), ((0, 3), (1e9, 3))], "not a number", id="miles away"),
        pytest.param([*square(0.5), ((0, 0.25), (0.5, 0.25))], "size", id="half an inch"),
        pytest.param([*square(61), ((0, 3), (61, 3))], "size", id="larger than a bed"),
    ],
)
def test_each_drawing_that_is_no_block_is_refused_with_its_own_code(
    lines: list[tuple[Point, Point]], code: str
) -> None:
    assert refusal(drawing(lines)).code == code
    if code not in ("nothing drawn", "no outline", "size"):
        assert refusal(drawing(lines), PlanOptions(size=Size(8))).code == code


def test_lines_without_length_are_passed_over() -> None:
    assert len(make_block(drawing([*square(), MIDDLE, ((2, 2), (2, 2))])).patches) == 2


def test_too_many_lines_are_refused_before_they_are_looked_at() -> None:
    lines = [((0, k / 1e4), (6, k / 1e4)) for k in range(MOST_SEGMENTS + 1)]
    assert "pieces of line" in str(refusal(drawing(lines)))


def test_too_many_crossings_are_refused_before_they_are_found() -> None:
    lines = [*square(50)]
    for k in range(1, 330):
        lines += [((0, k / 7), (50, k / 7)), ((k / 7, 0), (k / 7, 50))]
    assert f"{MOST_CROSSINGS:,}" in str(refusal(drawing(lines)))


# ---- size


def test_a_width_asked_for_scales_the_block() -> None:
    block = make_block(drawing([*square(), MIDDLE, ((0, 1), (6, 2))]), PlanOptions(size=Size(8)))
    assert (block.width_in, block.height_in) == (8, 8)


def test_the_width_is_the_blocks_not_the_furnitures() -> None:
    furniture = [*square(2, 40, 0)]
    block = make_block(drawing([*square(), MIDDLE, *furniture]), PlanOptions(size=Size(9)))
    assert (block.width_in, block.height_in) == pytest.approx((9, 9))


def test_the_tolerance_is_measured_in_the_finished_block() -> None:
    lines = [*square(), MIDDLE, ((3, 0), (3, 2.95))]
    assert len(make_block(drawing(lines)).patches) == 3
    assert refusal(drawing(lines), PlanOptions(size=Size(12))).code == "unfinished"
    wide = [*square(), MIDDLE, ((3, 0), (3, 2.9))]
    assert refusal(drawing(wide)).code == "unfinished"
    assert len(make_block(drawing(wide), PlanOptions(size=Size(3))).patches) == 3


def test_repairs_are_measured_in_the_finished_block() -> None:
    (note,) = make_block(drawing([*square(), MIDDLE, ((3, 0), (3, 2.98))]), PlanOptions(size=Size(12))).notes
    assert note.largest_in == pytest.approx(0.04)
    assert note.places_in[0] == pytest.approx((6, 6))


def test_a_size_of_another_shape_is_refused_with_the_height_that_fits() -> None:
    error = refusal(drawing([*square(), MIDDLE]), PlanOptions(size=Size(8, 12)))
    assert isinstance(error, OptionError)
    assert "8x8in" in error.faults[0].mend


def test_a_size_within_half_a_percent_fits_and_stretch_takes_any() -> None:
    lines = [*square(), MIDDLE]
    near = make_block(drawing(lines), PlanOptions(size=Size(8, 8.03)))
    assert (near.width_in, near.height_in) == (8, 8)
    stretched = make_block(drawing(lines), PlanOptions(size=Size(8, 12), stretch=True))
    assert (stretched.width_in, stretched.height_in) == pytest.approx((8, 12))


def test_metric_words_in_notes() -> None:
    notes = said(drawing([*square(), MIDDLE, ((3, 0), (3, 2.96))]), PlanOptions(units=Units.METRIC))
    assert notes == ["1 end closed, 0.1 cm"]


def _diagonal_square(left: float, side: float) -> list[Line]:
    corners = [(left, 0.0), (left + side, 0.0), (left + side, side), (left, side)]
    sides = [Line(a, b) for a, b in zip(corners, corners[1:] + corners[:1], strict=True)]
    return [*sides, Line(corners[0], corners[2])]


def test_two_blocks_side_by_side_are_refused_rather_than_one_of_them_taken() -> None:
    drawing = Drawing("pair", "pair.svg", (*_diagonal_square(0, 3), *_diagonal_square(4, 3)))
    with pytest.raises(DrawingError, match="2 blocks are drawn apart") as refused:
        make_block(drawing)
    assert refused.value.code == "several blocks"


def test_a_small_picture_of_the_block_beside_it_is_furniture() -> None:
    block = make_block(Drawing("pair", "pair.svg", (*_diagonal_square(0, 6), *_diagonal_square(7, 2))))
    assert len(block.patches) == 2
    assert any("outside the block ignored" in note.text for note in block.notes)
