"""Borders: against lengths worked by hand as handbooks do it, and the laws they keep whatever they go round."""

from __future__ import annotations

import math
from dataclasses import replace
from pathlib import Path

import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st

from seamwright.errors import SettingError
from seamwright.fabric.model import Fabric
from seamwright.geometry import bounds, moved
from seamwright.options import Size, Units
from seamwright.picture.cloth import Finish
from seamwright.picture.quilt import quilt_drawn
from seamwright.quilt.beds import SIZES
from seamwright.quilt.coping import EASE_IN, Growth, Repeated, how_many, widths
from seamwright.quilt.model import (
    Border,
    Cell,
    Cloth,
    Edging,
    Quilt,
    Role,
    Sashing,
    Set,
    Setting,
    Source,
    Spot,
    Turn,
    Wanted,
)
from seamwright.quilts import quilt_of

DESIGNS = Path(__file__).resolve().parents[1] / "designs"
OBLONG = """seamwright block 1
name pier
size 6x4 in
grid 6 x 4
seam 0, 0 to 6, 4
"""
BUTTED, MITRED, PIECED, COPING = Edging.BUTTED, Edging.MITRED, Edging.PIECED, Edging.COPING


def laid(*borders: Border, across: int = 2, down: int = 3, block: str = "8 in", **changes: object) -> Quilt:
    """Kites in rows, with borders; `wave` is a kite of 4 in, `star` one of 3 in."""
    sources = tuple(
        Source(name, str(DESIGNS / "kite.svg"), size)
        for name, size in (("kite", block), ("wave", "4 in"), ("star", "3 in"))
    )
    rows = ((Cell("kite"),) * across,) * down
    given = {"rows": rows, "triangles": "sea", "borders": borders, **changes}
    return quilt_of(Setting("evening watch", "", sources, **given))  # type: ignore[arg-type]


def strips(quilt: Quilt, number: int) -> dict[int, Cloth]:
    """The strips of a border by side: 0 top, 1 right, 2 bottom, 3 left."""
    part = f"border {number}"
    return {c.row: c for c in quilt.cloths if c.part == part and c.role is not Role.BORDER_CORNER}


def in_border(quilt: Quilt, number: int, side: int) -> list[Spot]:
    return [s for s in quilt.spots if s.part == f"border {number}" and s.row == side]


def length(cloth: Cloth) -> float:
    return max(cloth.width_in, cloth.height_in)


def said(quilt: Quilt, code: str) -> list[str]:
    return [note.text for note in quilt.notes if note.code == code]


# -- worked by hand ------------------------------------------------------------------------------------------------


def test_butted_borders_are_as_long_as_a_handbook_works_them_out() -> None:
    # Common practice: measure through the middle; the sides are as long as the centre is high; then, measured
    # again, top and bottom go over the sides. By hand, for 6 x 8 blocks of 9 in (54 x 72 in) and borders of 1 1/2
    # and 5 in:
    #   1st: sides 72, top and bottom 54 + 2 x 1 1/2 = 57; now 57 x 75 in
    #   2nd: sides 75, top and bottom 57 + 2 x 5 = 67; now 67 x 85 in
    quilt = laid(Border(BUTTED, 1.5, "foam"), Border(BUTTED, 5.0, "ink"), across=6, down=8, block="9 in")
    assert [length(strips(quilt, 1)[side]) for side in range(4)] == [57, 72, 57, 72]
    assert [length(strips(quilt, 2)[side]) for side in range(4)] == [67, 75, 67, 75]
    assert (quilt.width_in, quilt.height_in) == (67, 85)
    assert quilt.borders_in == ((1.5, 1.5), (5, 5))


def test_with_corner_squares_all_four_strips_are_as_long_as_the_sides() -> None:
    # Common practice: both ways are measured before anything is sewn on.
    quilt = laid(Border(BUTTED, 2.0, "foam", "brass"))
    assert [length(strips(quilt, 1)[side]) for side in range(4)] == [16, 24, 16, 24]
    corners = [c for c in quilt.cloths if c.role is Role.BORDER_CORNER]
    assert [(c.width_in, c.height_in, c.fabric) for c in corners] == [(2, 2, "brass")] * 4
    # Clockwise from the top left one, each at the start of its side.
    assert [(c.row, c.column, c.ring[0]) for c in corners] == [
        (0, 0, (0, 0)),
        (1, 0, (18, 0)),
        (2, 0, (18, 26)),
        (3, 0, (0, 26)),
    ]


def test_mitred_strips_are_a_side_and_twice_the_width_long() -> None:
    # Common practice: cut = side + 2 x width + seam allowances, and some inches to spare.
    quilt = laid(Border(MITRED, 4.0, "ink"))
    assert [(strips(quilt, 1)[side].width_in, strips(quilt, 1)[side].height_in) for side in range(4)] == [
        (24, 4),
        (32, 4),
        (24, 4),
        (32, 4),
    ]
    for strip in strips(quilt, 1).values():
        # A trapezium: half the sum of the parallel sides times the width.
        assert shapely.Polygon(strip.ring).area == pytest.approx((2 * strip.width_in - 8) / 2 * 4)
        slants = [
            math.degrees(math.atan2(b[1] - a[1], b[0] - a[0])) % 90
            for a, b in zip(strip.ring, (*strip.ring[1:], strip.ring[0]), strict=True)
        ]
        assert sorted(round(s) for s in slants) == [0, 0, 45, 45]
    (text,) = said(quilt, "border")
    assert "24 in (top and bottom) and 32 in (sides) finished" in text and "2 in to spare" in text


def test_mitred_borders_that_follow_each_other_are_sewn_into_one_first() -> None:
    quilt = laid(Border(MITRED, 1.0, "foam"), Border(MITRED, 3.0, "ink"), Border(BUTTED, 1.0, "sea"))
    (text,) = (text for text in said(quilt, "border") if "as one" in text)
    assert text.startswith("borders 1 and 2 are mitred")
    apart = laid(Border(MITRED, 1.0, "foam"), Border(BUTTED, 1.0, "sea"), Border(MITRED, 3.0, "ink"))
    assert not [text for text in said(apart, "border") if "as one" in text]


@pytest.mark.parametrize(("side_in", "blocks"), [(3.0, 1), (11.9, 1), (12.1, 2), (16.0, 2)])
def test_a_side_takes_the_nearest_number_of_blocks_and_one_at_least(side_in: float, blocks: int) -> None:
    assert how_many(side_in, 8.0) == blocks


def test_a_pieced_border_goes_round_with_its_tops_outside() -> None:
    quilt = laid(Border(PIECED, 4.0, cell=Cell("wave")))
    # 16 / 4 = 4 and 24 / 4 = 6 blocks, and the block again in each corner.
    assert [len(in_border(quilt, 1, side)) for side in range(4)] == [5, 7, 5, 7]
    for spot in (s for s in quilt.spots if s.part == "border 1"):
        top = moved(spot.place, (2.0, 0.0))
        # The middle of a block's top side lies on the edge of the quilt: top, right, bottom, left.
        edge = (top[1], quilt.width_in - top[0], quilt.height_in - top[1], top[0])[spot.row]
        assert edge == pytest.approx(0, abs=1e-9)
        assert spot.quarters == spot.row
    # Places along a side are counted clockwise without a gap, the corner at its start first.
    assert [[s.column for s in in_border(quilt, 1, side)] for side in (0, 1)] == [[*range(5)], [*range(7)]]
    walked = [moved(s.place, (2.0, 2.0)) for s in in_border(quilt, 1, 0)]
    assert [round(x, 6) for x, _ in walked] == [2, 6, 10, 14, 18]
    assert [round(y, 6) for _, y in (moved(s.place, (2.0, 2.0)) for s in in_border(quilt, 1, 3))][1:] == [
        26, 22, 18, 14, 10, 6,
    ]  # fmt: skip


def test_corners_hold_a_block_a_plain_square_or_the_block_again() -> None:
    again = laid(Border(PIECED, 4.0, cell=Cell("wave", Turn(1))))
    assert [in_border(again, 1, side)[1].quarters for side in range(4)] == [1, 2, 3, 0]
    assert sorted(s.quarters for s in again.spots if s.part == "border 1" and s.column == 0) == [0, 1, 2, 3]
    plain = laid(Border(PIECED, 4.0, corners="brass", cell=Cell("wave")))
    assert len([c for c in plain.cloths if c.role is Role.BORDER_CORNER and c.fabric == "brass"]) == 4
    star = laid(Border(BUTTED, 3.0, "sea", corner=Cell("star")))
    assert [s.column for s in star.spots if s.part == "border 1"] == [0] * 4
    assert [length(strips(star, 1)[side]) for side in range(4)] == [16, 24, 16, 24]


@pytest.mark.parametrize("width", ["3 in", "6 in"])
def test_a_corner_block_of_another_size_is_refused_with_the_size_that_fits(width: str) -> None:
    fits, got = width, "3 x 3 in" if width == "6 in" else "4 x 4 in"
    corner = Cell("star") if width == "6 in" else Cell("wave")
    with pytest.raises(SettingError, match=f"is {got}, the corners of border 1 are {fits[0]} x {fits[0]} in"):
        laid(Border(BUTTED, float(width[0]), "sea", corner=corner, line=7))


# -- blocks that are not square ------------------------------------------------------------------------------------


def oblong(tmp_path: Path, *borders: Border) -> Quilt:
    path = tmp_path / "pier.seams"
    path.write_text(OBLONG)
    sources = (Source("kite", str(DESIGNS / "kite.svg"), "12 in"), Source("pier", str(path)))
    return quilt_of(Setting("t", "", sources, ((Cell("kite"),) * 2,) * 3, borders=borders))


def test_an_oblong_block_stands_on_its_long_side_all_round(tmp_path: Path) -> None:
    # 24 / 6 and 36 / 6 blocks, 4 in outwards; given a quarter turn 24 / 4 and 36 / 4, 6 in outwards.
    lying = oblong(tmp_path, Border(PIECED, 4.0, corners="sea", cell=Cell("pier")))
    assert [len(in_border(lying, 1, side)) for side in range(4)] == [4, 6, 4, 6]
    assert (lying.width_in, lying.height_in) == (32, 44)
    upright = oblong(tmp_path, Border(PIECED, 4.0, corners="sea", cell=Cell("pier", Turn(1))))
    assert [len(in_border(upright, 1, side)) for side in range(4)] == [6, 9, 6, 9]
    assert (upright.width_in, upright.height_in) == (36, 48)


def test_an_oblong_block_does_not_fill_corners(tmp_path: Path) -> None:
    with pytest.raises(SettingError, match=r"6 x 4 in: it is not square.*corners plain FABRIC.*block of 4 x 4 in"):
        oblong(tmp_path, Border(PIECED, 4.0, cell=Cell("pier")))


# -- coping --------------------------------------------------------------------------------------------------------


def test_coping_brings_an_on_point_centre_to_whole_blocks() -> None:
    # Three blocks of 8 in on point are 3 x 8 x 1.41421 = 33.941 in wide (common practice: x 1.414), four 45.255.
    # Blocks of 4 in: 9 of them are 36, and (36 - 33.941) / 2 = 1.029; 12 are 48, and (48 - 45.255) / 2 = 1.373.
    quilt = laid(
        Border(COPING, 1.0, "sea"),
        Border(PIECED, 4.0, cell=Cell("wave")),
        rows=((Cell("kite"),) * 3,),
        repeat=(1, 7),
        set=Set.ON_POINT,
    )
    assert quilt.borders_in[0] == pytest.approx((1.0294, 1.3726), abs=1e-4)
    assert [len(in_border(quilt, 2, side)) - 1 for side in range(4)] == [9, 12, 9, 12]
    assert (quilt.width_in, quilt.height_in) == pytest.approx((44, 56))
    (text,) = said(quilt, "measure")
    assert "measure your own through the middle first" in text and "about 33 7/8 in" not in text
    assert "33 15/16" not in text  # told to an eighth


def test_plain_borders_between_coping_and_blocks_count() -> None:
    # 34 in and 1 in on both sides are 36 in, nine blocks of 4 in: the next number that leaves 1 in or more is ten.
    found = widths((34, 50), [Border(COPING, 1), Border(BUTTED, 1), Border(PIECED, 4)], {2: Repeated(4, 4)})
    assert found[0] == (2, 2)
    assert widths((34, 50), [Border(COPING, 0.5), Border(PIECED, 4)], {1: Repeated(4, 4)})[0] == (1, 1)


def test_coping_that_is_not_needed_on_two_sides_has_no_strips_there() -> None:
    quilt = laid(Border(COPING, 0.0, "sea"), Border(PIECED, 3.0, cell=Cell("star")))
    # 24 in is 8 of 3 in; 16 in is not: 18 in is, and 1 in at each side is needed.
    assert quilt.borders_in[0] == pytest.approx((1.0, 0.0))
    assert sorted(strips(quilt, 1)) == [1, 3]


def test_a_strip_narrower_than_its_allowances_is_never_made() -> None:
    # To 40 in from 39.8 strips would be 0.1 in wide: the next whole number is taken.
    found = widths((39.8, 40), [Border(COPING, 0), Border(PIECED, 4)], {1: Repeated(4, 4)})
    assert found[0] == pytest.approx((2.1, 0))


sizes = st.floats(10, 120)


@settings(max_examples=60)
@given(inside=st.tuples(sizes, sizes), block=st.floats(1.5, 12), least=st.floats(0.25, 3), between=st.floats(0, 6))
def test_coping_is_the_narrowest_that_makes_both_sides_come_out(
    inside: tuple[float, float], block: float, least: float, between: float
) -> None:
    borders = [Border(COPING, least), Border(BUTTED, between), Border(PIECED, block)]
    coping = widths(inside, borders, {2: Repeated(block, block)})[0]
    for side, width in zip(inside, coping, strict=True):
        around = side + 2 * width + 2 * between
        assert around / block == pytest.approx(round(around / block), abs=1e-9 * 120)
        assert width >= least - 1e-6
        # One block fewer on each side would be less than the least.
        assert width - block / 2 < least


# -- what is refused -----------------------------------------------------------------------------------------------


def test_a_pieced_border_that_does_not_come_out_is_told_what_would_do() -> None:
    # 16 x 24 in and 1 in all round: 18 x 26 in, no multiples of 4. 2 in would do: 20 x 28. So would blocks of 2 in.
    with pytest.raises(SettingError) as told:
        laid(Border(BUTTED, 1.0, "foam"), Border(PIECED, 4.0, cell=Cell("wave"), line=9))
    (fault,) = told.value.faults
    assert (fault.line, fault.column) == (9, 1)
    assert "top and bottom are 18 in long" in fault.what and "left and right are 26 in long" in fault.what
    assert "border coping FABRIC; 1 in at left and right and 1 in at top and bottom" in fault.mend
    assert "border 1 2 in wide" in fault.mend
    assert "its block 2 in along the border" in fault.mend
    # And they do.
    laid(Border(BUTTED, 2.0, "foam"), Border(PIECED, 4.0, cell=Cell("wave")))
    laid(Border(BUTTED, 1.0, "foam"), Border(COPING, 1.0, "sea"), Border(PIECED, 4.0, cell=Cell("wave")))


def test_another_number_of_blocks_is_told_where_it_would_do() -> None:
    # 5 x 5 blocks of 6 in are 30 in; a border of 4 in blocks needs an even number of them: 6 x 6 are 36 in.
    with pytest.raises(SettingError, match="centre 6 blocks across and 6 down, which makes its sides 36 x 36 in"):
        laid(Border(PIECED, 4.0, cell=Cell("wave")), across=5, down=5, block="6 in")
    laid(Border(PIECED, 4.0, cell=Cell("wave")), across=6, down=6, block="6 in")


def test_sides_within_what_pins_ease_in_come_out_and_it_is_told() -> None:
    off = EASE_IN * 0.9
    quilt = laid(Border(BUTTED, 2.0 + off / 2, "foam"), Border(PIECED, 4.0, cell=Cell("wave")))
    (text,) = said(quilt, "eased")
    assert "about 1/32 in" in text or "1/32 in" in text
    with pytest.raises(SettingError, match="do not come out"):
        laid(Border(BUTTED, 2.0 + EASE_IN, "foam"), Border(PIECED, 4.0, cell=Cell("wave")))


@pytest.mark.parametrize(
    ("borders", "words"),
    [
        ((Border(COPING, 1.0, "sea"),), "no pieced border comes after it"),
        ((Border(COPING, 1.0, "sea"), Border(COPING, 1.0), Border(PIECED, 4, cell=Cell("wave"))), "a second one"),
        ((Border(PIECED, 4, cell=Cell("wave")), Border(COPING, 1.0, "sea")), "no pieced border comes after it"),
        ((Border(BUTTED, -1.0, "ink"),), "border 1 cannot be -1 in wide"),
        ((Border(BUTTED, math.nan, "ink"),), "border 1 cannot be nan wide"),
        ((Border(MITRED, 0.0, "ink"),), "border 1 cannot be 0 in wide"),
        ((Border(MITRED, 4, "ink", "brass"),), "mitred, so its strips meet in the corners"),
    ],
)
def test_impossible_borders_are_refused_in_words(borders: tuple[Border, ...], words: str) -> None:
    with pytest.raises(SettingError, match=words):
        laid(*borders)
    with pytest.raises(SettingError, match=words):
        fit(40, 40, *borders)


def test_growth_that_leads_nowhere_is_not_told() -> None:
    growth = Growth((8.0, 8.0), (2, 2))
    with pytest.raises(SettingError) as told:
        widths((18, 18), [Border(PIECED, 4)], {0: Repeated(4, 4)}, growth=growth)
    assert "make the centre" not in str(told.value)


# -- laws ----------------------------------------------------------------------------------------------------------

quarter_inches = st.integers(1, 32).map(lambda quarters: quarters / 4)
plain = st.builds(
    lambda edging, width, corners: Border(edging, width, "sea", "brass" if corners and edging is BUTTED else ""),
    st.sampled_from([BUTTED, MITRED]),
    quarter_inches,
    st.booleans(),
)
pieced = st.builds(
    lambda least, quarters, flipped, corners: (
        Border(COPING, least, "foam"),
        Border(PIECED, 4.0, corners="brass" if corners else "", cell=Cell("wave", Turn(quarters, flipped))),
    ),
    quarter_inches,
    st.integers(0, 3),
    st.booleans(),
    st.booleans(),
)
rings = st.lists(st.one_of(plain.map(lambda border: (border,)), pieced), max_size=4)


@settings(max_examples=25, deadline=None)
@given(rings=rings, set_=st.sampled_from(Set), sashed=st.booleans())
def test_any_borders_round_any_centre_are_whole(rings: list[tuple[Border, ...]], set_: Set, sashed: bool) -> None:
    # `quilt_of` proves it; areas and sizes are counted again here.
    borders = tuple(border for ring in rings for border in ring)
    sashing = Sashing(1.0, "foam", "brass") if sashed else None
    quilt = laid(*borders, across=2, down=3, set=set_, sashing=sashing)
    bare = laid(across=2, down=3, set=set_, sashing=sashing)
    assert quilt.width_in == pytest.approx(bare.width_in + 2 * sum(x for x, _ in quilt.borders_in))
    assert quilt.height_in == pytest.approx(bare.height_in + 2 * sum(y for _, y in quilt.borders_in))
    sewn = math.fsum(quilt.looks[s.look].block.width_in * quilt.looks[s.look].block.height_in for s in quilt.spots)
    plain_area = math.fsum(shapely.Polygon(cloth.ring).area for cloth in quilt.cloths)
    assert sewn + plain_area == pytest.approx(quilt.width_in * quilt.height_in)


# -- the way a fabric runs -----------------------------------------------------------------------------------------


def test_stripes_go_round_with_the_border_and_a_print_with_a_top_stands_upright() -> None:
    stripes = Fabric("ticking", direction_deg=0.0, striped=True)
    gulls = Fabric("gulls", direction_deg=270.0)
    quilt = laid(
        Border(MITRED, 3.0, "ticking"),
        Border(BUTTED, 3.0, "gulls"),
        Border(BUTTED, 1.0, "sea"),
        fabrics=(stripes, gulls),
    )
    assert [strips(quilt, 1)[side].grain_deg for side in range(4)] == [0, 90, 0, 90]
    assert [strips(quilt, 2)[side].grain_deg for side in range(4)] == [270] * 4
    assert [strips(quilt, 3)[side].grain_deg for side in range(4)] == [None] * 4


def test_stripes_are_seen_to_go_round() -> None:
    stripes = Fabric("ticking", colour="#335577", direction_deg=0.0, striped=True)
    # Its name may be written in another way in the border's own line.
    quilt = laid(Border(MITRED, 3.0, "Ticking"), fabrics=(stripes,), binding=None)
    drawn = quilt_drawn(quilt, 30.0, Finish.COLOUR)
    rings = [ring for several in drawn.plain.prints.values() for ring in several]
    # A stripe of the top strip is longer than it is wide, one of a side strip higher: as many of each.
    lying = sum(right - left > bottom - top for left, top, right, bottom in map(bounds, rings))
    assert rings and lying == len(rings) - lying


# -- wanted sizes --------------------------------------------------------------------------------------------------


def fit(width: float, height: float, *borders: Border, set: Set = Set.STRAIGHT) -> Quilt:
    return laid(*borders, across=1, down=1, wanted=Wanted("", Size(width, height)), set=set)


def test_rows_are_repeated_until_the_quilt_is_large_enough() -> None:
    # 8 in blocks: 8 x 8 = 64 and 8 x 11 = 88 are the first not under 60 x 82.
    quilt = fit(60, 82)
    assert quilt.setting.repeat == (8, 11) and (quilt.width_in, quilt.height_in) == (64, 88)
    assert said(quilt, "fit") == [
        "to fit 60 x 82 in: rows repeated 8 x 11; the width is 4 in more; the height is 6 in more"
    ]


def test_a_wanted_size_that_takes_too_many_blocks_is_refused() -> None:
    # 200 x 200 in of 1 in blocks.
    with pytest.raises(SettingError, match="takes 40,000 blocks, and a quilt has up to 10,000"):
        laid(across=1, down=1, block="1 in", wanted=Wanted("", Size(200, 200)))


def test_the_outermost_plain_border_takes_up_what_blocks_leave() -> None:
    # 7 x 9 blocks are 56 x 72 in; 60 x 76 needs 2 in all round where 1 in was stated.
    quilt = fit(60, 76, Border(BUTTED, 1.0, "foam"))
    assert quilt.setting.repeat == (7, 9) and quilt.borders_in == ((2, 2),)
    assert (
        "border 1 widened from 1 in to 2 in; the width is as wanted; the height is as wanted"
        in said(quilt, "fit")[0]
    )


def test_where_the_file_says_how_often_only_the_border_is_fitted() -> None:
    wanted = Wanted("", Size(40, 40), repeats=False)
    quilt = laid(Border(BUTTED, 1.0, "foam"), across=2, down=2, repeat=(2, 2), wanted=wanted)
    # 32 in and 2 x 4 in.
    assert quilt.setting.repeat == (2, 2) and quilt.borders_in == ((4, 4),)
    wide = laid(across=2, down=2, repeat=(2, 2), wanted=wanted)
    assert said(wide, "fit") == [
        "to fit 40 x 40 in: nothing could be changed; the width is 8 in less; the height is 8 in less"
    ]


def test_a_border_is_never_widened_beyond_a_block() -> None:
    quilt = laid(Border(BUTTED, 1.0, "foam"), wanted=Wanted("", Size(100, 100), repeats=False))
    assert quilt.borders_in == ((8, 8),)
    # One that was stated wider stays so.
    assert laid(Border(BUTTED, 10.0), wanted=Wanted("", Size(9, 9), repeats=False)).borders_in == ((10, 10),)


def test_a_border_whose_corners_hold_a_block_keeps_its_width() -> None:
    quilt = fit(60, 76, Border(BUTTED, 1.0, "foam"), Border(BUTTED, 3.0, "sea", corner=Cell("star")))
    # 6 x 8 blocks are 48 x 64 in; 2 x 3 in more of the outer border leave 3 in each for the inner one.
    assert quilt.borders_in == ((3, 3), (3, 3)) and (quilt.width_in, quilt.height_in) == (60, 76)


def test_a_quilt_with_a_pieced_border_is_fitted_so_that_it_comes_out() -> None:
    borders = (Border(BUTTED, 1.0, "foam"), Border(PIECED, 4.0, cell=Cell("wave")))
    quilt = fit(60, 60, *borders)
    # The border inside it can only be 2, 4, 6 or 8 in wide: 6 x 8 + 2 x 2 + 8 = 60, and the narrowest is taken.
    assert (quilt.width_in, quilt.height_in) == (60, 60) and quilt.borders_in == ((2, 2), (4, 4))
    with pytest.raises(SettingError, match="do not come out"):
        laid(replace(borders[0], width_in=1.1), borders[1], wanted=Wanted("", Size(9, 9), repeats=False), across=1,
             block="4 1/2 in")  # fmt: skip


@pytest.mark.parametrize("name", SIZES)
@pytest.mark.parametrize("set_", Set)
def test_named_sizes_are_reached_and_what_is_left_is_told(name: str, set_: Set) -> None:
    wanted = Wanted(name, SIZES[name])
    quilt = laid(Border(BUTTED, 2.0, "foam"), across=1, down=1, set=set_, wanted=wanted)
    assert wanted.size.height_in is not None
    for side, goal in ((quilt.width_in, wanted.size.width_in), (quilt.height_in, wanted.size.height_in)):
        # Never smaller; and no row of blocks more than is needed.
        assert goal - 1 / 16 <= side < goal + 8 * math.sqrt(2)
    assert said(quilt, "fit")[0].startswith(f"to fit {name}, ")
    assert bool(said(quilt, "safety")) == (name == "crib")


def test_metric_widths_go_by_half_centimetres() -> None:
    wanted = Wanted("", Size(100 / 2.54, 100 / 2.54))
    quilt = laid(
        Border(BUTTED, 2 / 2.54), across=1, down=1, block="20 cm", wanted=wanted, options=(("units", "metric"),)
    )
    # 4 x 20 cm, and 10 cm all round.
    assert (quilt.width_in * 2.54, quilt.borders_in[0][0] * 2.54) == pytest.approx((100, 10))
    assert "widened from 2 cm to 10 cm" in said(quilt, "fit")[0] and Units.METRIC.sign == "cm"


@settings(max_examples=25, deadline=None)
@given(
    width=st.floats(20, 110),
    height=st.floats(20, 110),
    border=st.sampled_from([None, 1.0, 3.0]),
    set_=st.sampled_from(Set),
)
def test_no_other_number_of_repeats_comes_nearer(
    width: float, height: float, border: float | None, set_: Set
) -> None:
    borders = () if border is None else (Border(BUTTED, border, "foam"),)
    quilt = fit(width, height, *borders, set=set_)
    over = [quilt.width_in - width, quilt.height_in - height]
    assert min(over) >= -1 / 16
    # By hand: every size there is, widths of the border by quarters of an inch up to a block.
    pitch = 8 * (math.sqrt(2) if set_ is Set.ON_POINT else 1)
    frames = [0.0] if border is None else [border + k / 4 for k in range(int((8 - border) * 4) + 1)]

    def least_over(goal: float, frame: float) -> float:
        return min(x for x in (n * pitch + 2 * frame - goal for n in range(1, 20)) if x >= -1 / 16)

    assert sum(over) <= min(least_over(width, frame) + least_over(height, frame) for frame in frames) + 2 / 16
