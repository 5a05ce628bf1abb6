"""Edits done to a block's text: the lines touched change and no others, figures are short, refusals say the mend.

Wanted figures are worked out by hand on squared paper; regular shapes are checked by the geometry of their angles.
"""

from __future__ import annotations

import math

import pytest
from shapely import LineString, MultiLineString, Point, Polygon
from shapely.affinity import rotate, scale

from seamwright.drawing.textform import read_seams
from seamwright.errors import DrawingError, OptionError
from seamwright.sketch.change import changed
from seamwright.sketch.draw import direction
from seamwright.sketch.edits import (
    Copies,
    Draw,
    DrawArc,
    DrawLength,
    Edit,
    Erase,
    Move,
    Outline,
    Regrid,
    Rename,
    Resize,
    SetOption,
)
from seamwright.sketch.figures import figure
from seamwright.sketch.outline import SHAPES
from seamwright.sketch.view import view_of

PIER = """seamwright block 1
# drawn on the pier
name pier
size 8 in   # finished
grid 8

seam 0, 0 to 8, 8   # the long one
  seam (4, 4) to (8, 0)

# cloth comes later
"""
EMPTY = "seamwright block 1\nname mole\nsize 8 in\ngrid 8\n"


def after(text: str, *edits: Edit) -> list[str]:
    """Lines that are not in the old text, as written in the new one."""
    old = text.splitlines()
    return [line for line in changed(text, edits).splitlines() if line not in old]


def seams(text: str) -> MultiLineString:
    drawing = read_seams(text, name="", file="")
    return MultiLineString([(s.start, s.end) for s in drawing.lines] + [c.points for c in drawing.curves])


def same(one: MultiLineString, other: MultiLineString, within: float = 1e-5) -> bool:
    return one.buffer(within).covers(other) and other.buffer(within).covers(one)


# -- figures --------------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("value", "said"),
    [
        (2.9999999999, "3"),
        (2 + 2 / 3, "2 2/3"),
        (-1 / 3, "-1/3"),
        (5.5, "5.5"),
        (0.125, "0.125"),
        (3 / 16, "3/16"),
        (-0.0, "0"),
        (math.sqrt(2), "1.4142136"),
    ],
)
def test_a_figure_is_as_short_as_a_person_would_write_it(value: float, said: str) -> None:
    assert figure(value, 1.0) == said


# -- drawing --------------------------------------------------------------------------------------------------


def test_a_seam_drawn_is_one_line_behind_the_last() -> None:
    text = changed(PIER, [Draw(((0.0, 4.0), (4.0, 4.0)))])
    assert text.splitlines()[8] == "  seam 0, 4 to 4, 4"
    assert after(PIER, Draw(((0.0, 4.0), (4.0, 4.0)))) == ["  seam 0, 4 to 4, 4"]


def test_the_first_seam_of_all_stands_behind_what_is_said_of_the_block() -> None:
    assert changed(EMPTY, [Draw(((0.0, 0.0), (8.0, 8.0)))]) == EMPTY + "\nseam 0, 0 to 8, 8\n"


def test_a_seam_is_cut_at_the_edge_of_the_block() -> None:
    assert after(EMPTY, Draw(((-2.0, 1.0), (4.0, 4.0), (4.0, 11.0))))[1:] == ["seam 0, 2 to 4, 4 to 4, 8"]


def test_what_lies_on_a_seam_or_on_the_edge_is_not_drawn_a_second_time() -> None:
    assert after(PIER, Draw(((2.0, 2.0), (6.0, 6.0), (8.0, 6.0), (8.0, 8.0)))) == ["  seam 6, 6 to 8, 6"]
    for points in (((1.0, 1.0), (7.0, 7.0)), ((0.0, 1.0), (0.0, 7.0))):
        with pytest.raises(OptionError, match="a seam or the edge of the block lies where"):
            changed(PIER, [Draw(points)])


def test_a_length_is_read_as_typed_and_counts_in_the_unit_of_the_size() -> None:
    assert after(EMPTY, DrawLength((1.0, 1.0), 0.0, "2 1/2"))[1:] == ["seam 1, 1 to 3.5, 1"]
    metric = EMPTY.replace("8 in", "20 cm").replace("grid 8\n", "")
    start = (10 / 2.54, 0.0)
    assert after(metric, DrawLength(start, 90.0, "7.5"))[1:] == ["seam 10, 0 to 10, 7.5"]
    assert after(metric, DrawLength(start, 90.0, "2 in"))[1:] == ["seam 10, 0 to 10, 5.08"]


def test_a_typed_length_of_no_use_is_refused() -> None:
    for typed, said in (("-1", "cannot be -1 long"), ("long", "is no length"), ("0", "cannot be 0 long")):
        with pytest.raises(OptionError, match=said):
            changed(EMPTY, [DrawLength((1.0, 1.0), 0.0, typed)])


def test_right_angles_and_halves_are_exact() -> None:
    assert [direction(d) for d in (0, 90, 180, 270)] == [(1, 0), (0, 1), (-1, 0), (0, -1)]
    assert direction(30)[1] == direction(60)[0] == 0.5


def test_an_arc_is_written_as_an_arc_and_cut_at_the_edge_stays_on_its_circle() -> None:
    assert after(EMPTY, DrawArc((0.0, 4.0), (4.0, 0.5), (8.0, 4.0)))[1:] == ["arc 0, 4 through 4, 0.5 to 8, 4"]
    cut = seams(changed(EMPTY, [DrawArc((5.0, 4.0), (8.0, 7.0), (5.0, 10.0))]))  # 3 in round (5, 7)
    assert len(cut.geoms) == 1
    assert all(abs(math.dist(p, (5, 7)) - 3) < 1e-4 for p in cut.geoms[0].coords)
    assert cut.bounds == pytest.approx((5, 4, 8, 8), abs=1e-4)  # a curve is drawn with short straight steps


def test_three_points_on_one_line_make_a_straight_seam_or_a_sentence() -> None:
    assert after(EMPTY, DrawArc((0.0, 4.0), (4.0, 4.0), (8.0, 4.0)))[1:] == ["seam 0, 4 to 8, 4"]
    with pytest.raises(OptionError, match="lie on one line"):
        changed(EMPTY, [DrawArc((0.0, 4.0), (6.0, 4.0), (3.0, 4.0))])
    with pytest.raises(OptionError, match=r"one line|far larger"):  # nearly so, the far way round
        changed(EMPTY, [DrawArc((0.0, 4.0), (6.0, 4.00001), (3.0, 4.0))])


# -- moving ---------------------------------------------------------------------------------------------------


def test_seams_that_meet_in_a_point_still_meet_in_one_and_the_one_that_runs_through_bends() -> None:
    assert after(PIER, Move((4.0, 4.0), (5.0, 3.0))) == [
        "seam 0, 0 to 5, 3 to 8, 8   # the long one",
        "  seam (5, 3) to (8, 0)",
    ]


def test_a_point_on_a_seam_slides_along_it() -> None:
    assert after(PIER, Move((4.0, 4.0), (5.5, 5.5))) == ["  seam (5.5, 5.5) to (8, 0)"]


def test_what_ended_on_a_moved_seam_still_ends_on_it_at_the_same_share() -> None:
    text = EMPTY + "\nseam 4, 0 to 4, 8\nseam 4, 2 to 8, 2\nseam 0, 6 to 4, 6\nseam 6, 0 to 6, 2\n"
    # The end at 2 of 8 moves by a quarter, that at 6 of 8 by three quarters. The arm stays on
    # its own line, and so does what stands on it.
    assert after(text, Move((4.0, 8.0), (6.0, 8.0))) == [
        "seam 4, 0 to 6, 8",
        "seam 4.5, 2 to 8, 2",
        "seam 0, 6 to 5.5, 6",
    ]
    assert after(text, Move((8.0, 2.0), (8.0, 4.0)))[-1] == "seam 6, 0 to 6, 3"


def test_what_stands_on_a_seam_that_is_pulled_along_its_own_line_stays_where_it_is() -> None:
    text = EMPTY + "\nseam 0, 4 to 6, 4\nseam 2, 0 to 2, 4\nseam 4, 4 to 5, 8\n"
    assert after(text, Move((6.0, 4.0), (8.0, 4.0))) == ["seam 0, 4 to 8, 4"]
    assert after(text, Move((6.0, 4.0), (5.0, 4.0))) == ["seam 0, 4 to 5, 4"]
    # One of the two would stand in the open: both keep their share, so that neither passes the other.
    assert after(text, Move((6.0, 4.0), (3.0, 4.0))) == [
        "seam 0, 4 to 3, 4",
        "seam 2, 0 to 1, 4",
        "seam 2, 4 to 5, 8",
    ]


def test_what_stands_on_the_edge_stays_while_a_corner_goes_along_that_side() -> None:
    roof = (
        "seamwright block 1\nsize 8 x 6 in\noutline 0, 2 to 4, 0 to 8, 2 to 8, 6 to 0, 6\n"
        "seam 2, 1 to 2, 6\nseam 6, 1 to 6, 6\n"
    )
    # Half an inch comes off above, so all figures down are that much less.
    assert after(roof, Move((4.0, 0.0), (3.0, 0.5)))[2:] == ["seam 2, 0.5 to 2, 5.5", "seam 5.5, 0.75 to 6, 5.5"]


def test_a_point_set_down_beside_the_seam_it_stands_on_slides_onto_it() -> None:
    text = EMPTY + "\nseam 4, 0 to 4, 8\nseam 4, 2 to 8, 2\n"
    assert after(text, Move((4.0, 2.0), (4.03, 5.0))) == ["seam 4, 5 to 8, 2"]
    assert changed(text, [Move((4.0, 2.0), (4.03, 2.0))]) == text
    assert after(text, Move((4.0, 2.0), (4.5, 2.0))) == ["seam 4, 0 to 4.5, 2 to 4, 8", "seam 4.5, 2 to 8, 2"]
    # Along one of two that cross, the other bends, however flat their angle.
    cross = EMPTY + "\nseam 0, 4 to 8, 4\nseam 0, 3.7 to 8, 4.3\n"
    assert after(cross, Move((4.0, 4.0), (4.5, 4.01))) == ["seam 0, 3.7 to 4.5, 4 to 8, 4.3"]
    assert changed(cross, [Move((4.0, 4.0), (4.05, 4.0))]) == cross


def test_an_end_where_two_cross_stays_their_crossing_on_another_piece_of_one_that_bends() -> None:
    text = EMPTY + "\nseam 0, 2 to 6, 2 to 8, 2\nseam 3, 0 to 3, 8\nseam 3, 2 to 0, 8\n"
    # The bend at (2, 5) puts the crossing with the upright behind it: from (2, 5) to (8, 2), at 3 across, 4.5 down.
    assert after(text, Move((6.0, 2.0), (2.0, 5.0))) == ["seam 0, 2 to 2, 5 to 8, 2", "seam 3, 4.5 to 0, 8"]


def test_an_end_where_a_curve_and_a_seam_cross_stays_their_crossing() -> None:
    text = EMPTY + "\nseam 3, 0 to 3, 8\narc 0, 6 through 3, 5 to 6, 6\nseam 3, 5 to 0, 0\n"
    # The arc, 5 in round (3, 10), shrinks to two thirds about its left end: to 3 1/3 in round (2, 8 2/3).
    x, y = view_of(changed(text, [Move((6.0, 6.0), (4.0, 6.0))])).strokes[2].points[0]
    assert x == pytest.approx(3)
    assert y == pytest.approx(26 / 3 - math.sqrt((10 / 3) ** 2 - 1), abs=1e-4)


def test_a_seam_that_passes_beside_a_crowded_point_begins_to_bend_where_it_lies() -> None:
    # Four seams run through (4, 4), the last of them beside it by less than the tolerance; one more ends on that.
    star = EMPTY + "\nseam 0, 4 to 8, 4\nseam 4, 0 to 4, 8\nseam 0, 0 to 8, 8\n"
    text = star + "seam 0, 8 to 8, 0.06\nseam 0, 5 to 2, 6.015\n"
    assert after(text, Move((8.0, 0.06), (8.0, 1.0))) == ["seam 0, 8 to 4.0149996, 4.015113 to 8, 1"]


def test_seams_that_end_on_each_other_round_and_round_come_to_rest() -> None:
    wheel = EMPTY + "\nseam 0, 3 to 5, 3\nseam 5, 0 to 5, 5\nseam 8, 5 to 3, 5\nseam 3, 8 to 3, 3\n"
    text = changed(wheel, [Move((0.0, 3.0), (0.0, 1.0))])
    ends = view_of(text)
    # Each arm still ends on the next: eight ends, all in places where two seams meet or on the edge.
    for stroke, other in zip(ends.strokes, [*ends.strokes[1:], ends.strokes[0]], strict=True):
        assert LineString(other.points).distance(Point(stroke.points[-1])) < 1e-6


def test_a_crossing_of_two_seams_is_bent_in_both_and_three_through_one_point_stay_together() -> None:
    cross = EMPTY + "\nseam 4, 0 to 4, 8\nseam 0, 4 to 8, 4\n"
    assert after(cross, Move((4.0, 4.0), (5.0, 3.0))) == ["seam 4, 0 to 5, 3 to 4, 8", "seam 0, 4 to 5, 3 to 8, 4"]
    assert after(cross, Move((4.0, 4.0), (6.0, 4.0))) == ["seam 4, 0 to 6, 4 to 4, 8"]
    star = cross + "seam 0, 0 to 8, 8\n"
    assert after(star, Move((8.0, 8.0), (8.0, 6.0))) == ["seam 0, 0 to 4, 4 to 8, 6"]
    assert after(cross, Move((4.0, 8.0), (5.0, 8.0))) == ["seam 4, 0 to 5, 8"]


def test_an_end_where_two_others_cross_stays_their_crossing() -> None:
    text = EMPTY + "\nseam 4, 0 to 4, 8\nseam 0, 4 to 8, 4\nseam 0, 0 to 4, 4\n"
    assert after(text, Move((8.0, 4.0), (8.0, 6.0))) == ["seam 0, 4 to 8, 6", "seam 0, 0 to 4, 5"]


def test_points_on_the_edge_slide_along_it() -> None:
    assert after(PIER, Move((8.0, 0.0), (7.0, 2.5))) == ["  seam (4, 4) to (8, 2.5)"]
    assert after(PIER, Move((8.0, 0.0), (5.0, 0.0))) == ["  seam (4, 4) to (5, 0)"]


def test_a_corner_of_a_stated_outline_takes_the_edge_with_it() -> None:
    roof = (
        "seamwright block 1\nsize 8 x 6 in\noutline 0, 2 to 4, 0 to 8, 2 to 8, 6 to 0, 6\n"
        "seam 4, 0 to 4, 6\nseam 6, 1 to 6, 6\n"
    )
    assert after(roof, Move((4.0, 0.0), (3.0, 0.0))) == [
        "outline 0, 2 to 3, 0 to 8, 2 to 8, 6 to 0, 6",
        "seam 3, 0 to 4, 6",
        "seam 5.5, 1 to 6, 6",
    ]
    # Lower than the top of the block: the size follows, and what lies below stays where it is beside the rest.
    lower = changed(roof, [Move((4.0, 0.0), (4.0, 1.0))])
    assert view_of(lower).size == "8 x 5 in"
    assert view_of(lower).outline == ((0, 1), (4, 0), (8, 1), (8, 5), (0, 5))


def test_curves_keep_their_form_when_an_end_moves_and_bend_through_a_new_place() -> None:
    text = EMPTY + "\narc 0, 4 through 4, 2 to 8, 4\ncurve 0, 8 bending at 4, 4 to 8, 8\nseam 4, 2 to 4, 0\n"
    assert after(text, Move((4.0, 2.0), (4.0, 3.0))) == ["arc 0, 4 through 4, 3 to 8, 4", "seam 4, 3 to 4, 0"]
    assert after(text, Move((4.0, 6.0), (4.0, 5.0))) == ["curve 0, 8 bending at 4, 2 to 8, 8"]
    assert after(text, Move((4.0, 4.0), (5.0, 5.0))) == ["curve 0, 8 bending at 5, 5 to 8, 8"]  # what pulls it
    # Turned and grown about its other end, (8, 4), as (0, 4) goes to (0, 8); what ended in its middle follows.
    assert after(text, Move((0.0, 4.0), (0.0, 8.0))) == ["arc 0, 8 through 3, 4 to 8, 4", "seam 3, 4 to 4, 0"]


@pytest.mark.parametrize(
    ("edit", "said"),
    [
        (Move((1.0, 5.0), (2.0, 5.0)), "no seam ends, bends or crosses at"),
        (Move((4.0, 4.0), (9.0, 4.0)), "the point would leave the block"),
        (Erase((((0.0, 0.0), (0.0, 5.0)),)), "no seam runs from"),
        (Erase((((0.0, 0.0),),)), "no seam runs from"),
        (Draw(((4.0, 4.0),)), "a seam needs two points"),
        (Draw(((4.0, 4.0), (math.inf, 4.0))), "far outside"),
        (Draw(((9.0, 9.0), (10.0, 9.0))), "lies outside the block"),
        (Copies((4.0, 4.0), 3), "3 copies round a point are not made"),
        (Copies((4.0, 4.0), 1, mirrored=True, degrees=45.0), "the copies all lie on seams that are there"),
        (Outline("star"), "'star' is no shape of a block. Use one of: rectangle, square, hexagon"),
        (Outline(corners=((0.0, 0.0), (8.0, 8.0))), "three corners or more"),
        (Outline(corners=((0.0, 0.0), (8.0, 8.0), (8.0, 0.0), (0.0, 8.0))), "crosses or touches itself"),
        (Resize("90 in"), "a block is 1 to 60 in"),
        (Resize("wide"), "is no length"),
        (Regrid(0, 8), "the squares across are missing"),
        (Regrid(1001), "is no number of squares"),
        (Rename("  "), "the name is missing"),
        (SetOption("tolerence", "1"), "Perhaps 'tolerance' is meant"),
        (SetOption("paper", "napkin"), "option paper"),
        (SetOption("palette", "../dusk.palette"), "is no plain name of a file"),
        (SetOption("palette", "/etc/passwd"), "is no plain name of a file"),
        (SetOption("footer", "copy # 2"), "cannot be written"),
    ],
)
def test_what_cannot_be_done_is_a_sentence_with_its_mend(edit: Edit, said: str) -> None:
    text = PIER if edit != Copies((4.0, 4.0), 1, mirrored=True, degrees=45.0) else PIER.replace("(4, 4)", "(0, 8)")
    with pytest.raises(OptionError) as caught:
        changed(text, [edit])
    assert said in str(caught.value)
    assert caught.value.faults[0].mend


def test_a_text_with_faults_is_refused_with_all_of_them() -> None:
    for edit in (Draw(((0.0, 4.0), (4.0, 4.0))), Rename("mole"), Resize("9 in"), SetOption("paper", "a4")):
        with pytest.raises(DrawingError) as caught:
            changed(PIER + "seem 0, 0 to 4, 4\nseam 1 to 2\n", [edit])
        assert len(caught.value.faults) == 2


# -- erasing, copies ------------------------------------------------------------------------------------------


def test_a_piece_between_two_ends_goes_and_the_rest_becomes_two_lines() -> None:
    text = EMPTY + "\nseam 0, 0 to 2, 2 to 6, 2 to 8, 0   # hull\nseam 2, 2 to 2, 8\n"
    assert after(text, Erase((((6.0, 2.0), (2.0, 2.0)),))) == ["seam 0, 0 to 2, 2   # hull", "seam 6, 2 to 8, 0"]
    assert after(PIER, Erase((((4.0, 4.0), (0.0, 0.0)),))) == ["seam 4, 4 to 8, 8   # the long one"]
    assert "# the long one" in changed(PIER, [Erase((((0.0, 0.0), (8.0, 8.0)),))])


def test_a_curve_goes_by_its_points_and_in_pieces() -> None:
    text = EMPTY + "\nseam 0, 4 to 8, 4\narc 0, 4 through 4, 0 to 8, 4\nseam 4, 0 to 4, 8\n"
    pieces = {len(p.points) > 2: p for p in view_of(text).pieces if (0, 4) in p.points}
    assert after(text, Erase((pieces[False].points,))) == ["seam 4, 4 to 8, 4"]
    left = changed(text, [Erase((pieces[True].points,))])
    assert "arc 4, 0 through" in left and "seam 0, 4 to 8, 4" in left
    assert same(seams(left), seams(text).difference(LineString(pieces[True].points).buffer(1e-4)), 1e-3)


def test_what_is_left_of_a_seam_beside_a_piece_erased_stays_on_its_own_line() -> None:
    # The second seam runs beside both ends of the piece by less than the tolerance, so both are one on the page.
    text = EMPTY + "\nseam 0, 2 to 8, 2\nseam 0, 2.08 to 8, 2\nseam 4, 0 to 4, 2\nseam 6, 2 to 6, 8\n"
    (piece,) = {p.points for p in view_of(text).pieces if set(p.points) == {(4.0, 2.0), (6.0, 2.0)}}
    left = changed(text, [Erase((piece,))])
    assert seams(text).buffer(1e-6).covers(seams(left))
    assert not seams(left).intersects(LineString([(4.1, 2.01), (5.9, 2.01)]).buffer(0.05))


@pytest.mark.parametrize("count", [2, 4, 6, 8])
@pytest.mark.parametrize("mirrored", [False, True])
def test_copies_have_the_symmetry_asked_for(count: int, mirrored: bool) -> None:
    text = EMPTY + "\nseam 4, 3 to 5, 1 to 4.5, 2\narc 4, 4 through 4.5, 3 to 4.2, 2\n"
    made = seams(changed(text, [Copies((4.0, 4.0), count, mirrored=mirrored)]))
    turn = 360 / count * (2 if mirrored else 1)
    assert same(made, rotate(made, turn, origin=(4, 4)), 1e-4)
    assert not same(made, rotate(made, turn / 2, origin=(4, 4)), 1e-4) or turn == 360
    assert same(made, scale(made, -1, 1, origin=(4, 4)), 1e-4) is mirrored


def test_quarter_turns_and_mirrors_at_half_right_angles_are_exact() -> None:
    text = EMPTY + "\nseam 1, 0 to 3, 2\n"
    assert after(text, Copies((4.0, 4.0), 4)) == ["seam 8, 1 to 6, 3", "seam 7, 8 to 5, 6", "seam 0, 7 to 2, 5"]
    assert after(text, Copies((4.0, 4.0), 1, mirrored=True, degrees=45.0)) == ["seam 0, 1 to 2, 3"]
    assert after(text, Copies((4.0, 4.0), 1, mirrored=True)) == ["seam 7, 0 to 5, 2"]


def test_copies_of_a_piece_leave_the_rest_and_are_cut_at_the_edge() -> None:
    text = EMPTY + "\nseam 2, 4 to 4, 4 to 4, 6\n"
    arm, leg = ((2.0, 4.0), (4.0, 4.0)), ((4.0, 4.0), (4.0, 6.0))
    assert after(text, Copies((2.0, 4.0), 2, seams=(arm,))) == ["seam 2, 4 to 0, 4"]
    # Of three quarter turns one comes to lie on the edge and one outside.
    assert after(text, Copies((1.0, 5.0), 4, seams=(leg,))) == ["seam 0, 2 to 2, 2"]
    assert after(text, Copies((1.5, 4.0), 2, seams=(arm,))) == ["seam 1, 4 to 0, 4"]
    with pytest.raises(OptionError, match="or outside of the block"):
        changed(text, [Copies((1.0, 4.0), 2, seams=(arm,))])


# -- size, grid, shape ----------------------------------------------------------------------------------------


def test_a_drawing_on_a_grid_grows_without_a_figure_changed() -> None:
    assert after(PIER, Resize("12 in")) == ["size 12 in   # finished"]
    assert after(PIER, Resize("20 cm")) == ["size 20 cm   # finished"]
    assert after(PIER, Resize("10")) == ["size 10 in   # finished"]
    assert after(PIER, Resize("8 x 12")) == ["size 8 x 12 in   # finished", "grid 8 x 8"]


def test_without_a_grid_figures_grow_and_one_length_keeps_the_aspect() -> None:
    text = (
        "seamwright block 1\nsize 8 x 12 in\nseam 0, 1 1/2 to 8, 3\n"
        "lay sky at 2, 2\nfabric sky\noption tolerance 1/8 in\n"
    )
    assert after(text, Resize("6 in")) == ["size 6 x 9 in", "seam 0, 1.125 to 6, 2.25", "lay sky at 1.5, 1.5"]


def test_a_stretched_arc_becomes_a_curve_on_the_stretched_circle() -> None:
    text = EMPTY + "\narc 0, 4 through 4, 0 to 8, 4\n"
    (curve,) = seams(changed(text, [Resize("8 x 16 in")])).geoms
    assert all(abs(math.dist((x, y / 2), (4, 4)) - 4) < 1e-3 for x, y in curve.coords)


def test_another_grid_leaves_every_point_where_it_is() -> None:
    text = PIER + "seam 1, 0 to 2 1/3, 8\n"
    for grid in (Regrid(12), Regrid(0), Regrid(24, 16), Regrid(7)):
        assert same(seams(changed(text, [grid])), seams(text), 2e-7)
    assert after(PIER, Regrid(12)) == [
        "grid 12",
        "seam 0, 0 to 12, 12   # the long one",
        "  seam (6, 6) to (12, 0)",
    ]
    tall = "seamwright block 1\nsize 8 in\ngrid 8 x 12\nseam 0, 0 to 8, 12\n"  # the grid says how high it is
    assert after(tall, Regrid(0)) == ["size 8 x 12 in"]
    assert after(tall, Regrid(4)) == ["size 8 x 12 in", "grid 4", "seam 0, 0 to 4, 6"]


def test_oblong_squares_leave_the_block_as_high_as_it_is() -> None:
    flat = changed(PIER, [Regrid(8, 16)])
    assert after(PIER, Regrid(8, 16))[:2] == ["size 8 x 8 in   # finished", "grid 8 x 16"]
    wider = changed(flat, [Resize("10 in")])
    assert "size 10 x 10 in   # finished" in wider.splitlines() and "grid 8 x 16" in wider.splitlines()
    assert (view_of(wider).width, view_of(wider).height) == (10, 10)
    whole = Outline(corners=((0.0, 0.0), (4.0, 0.0), (4.0, 4.0), (0.0, 4.0)))
    assert view_of(changed(flat, [whole])).outline == ((0, 0), (4, 0), (4, 4), (0, 4))
    peak = (
        "seamwright block 1\nsize 8 in\noutline 0, 2 to 4, 0 to 8, 2 to 8, 6 to 0, 6\n"  # which says how high it is
    )
    assert after(peak, Regrid(4, 6))[:2] == ["size 8 x 6 in", "grid 4 x 6"]
    assert after(peak, Regrid(4))[:1] == ["grid 4"]


@pytest.mark.parametrize("name", SHAPES)
def test_named_shapes_have_the_angles_of_their_name(name: str) -> None:
    view = view_of(changed(EMPTY, [Outline(name)]))
    ring = view.outline
    sides = [math.dist(a, b) for a, b in zip(ring, ring[1:] + ring[:1], strict=True)]
    angles = []
    for a, b, c in zip(ring[-1:] + ring[:-1], ring, ring[1:] + ring[:1], strict=True):
        one, two = (math.atan2(p[1] - b[1], p[0] - b[0]) for p in (a, c))
        angles.append(round(math.degrees(abs((one - two + math.pi) % math.tau - math.pi)), 3))
    wanted = {
        "rectangle": [90] * 4,
        "square": [90] * 4,
        "hexagon": [120] * 6,
        "octagon": [135] * 8,
        "triangle": [60] * 3,
        "half-square triangle": [45, 45, 90],
        "quarter-square triangle": [45, 45, 90],
        "diamond": [90] * 4,
        "60 degree diamond": [60, 60, 120, 120],
        "45 degree diamond": [45, 45, 135, 135],
        "trapezoid": [60, 60, 120, 120],
        "wedge": [45, 67.5, 67.5],
    }
    assert sorted(angles) == wanted[name]
    assert view.width == 8
    if name in ("hexagon", "octagon", "triangle", "diamond", "60 degree diamond", "45 degree diamond"):
        assert max(sides) - min(sides) < 1e-6


def test_seams_and_fabrics_outside_of_a_shape_go_and_those_inside_stay_as_written() -> None:
    text = (
        PIER
        + "seam 1 1/2, 7 to 2, 6\nseam 7, 2 to 8, 2\nfabric sky\nlay sky at 6, 7.5 and 1, 7\nlay sky at 7.5, 1\n"
    )
    assert after(text, Outline("half-square triangle"))[:2] == [
        "outline 0, 0 to 8, 8 to 0, 8",
        "# the long one",
    ]
    cut = changed(text, [Outline("half-square triangle")])
    assert "seam 1 1/2, 7 to 2, 6" in cut
    assert "seam 7, 2" not in cut and "7.5, 1" not in cut
    assert Polygon(view_of(cut).outline).buffer(1e-6).covers(seams(cut))
    back = changed(cut, [Outline("rectangle")])
    assert "outline" not in back


def test_corners_given_one_by_one_become_the_size_and_squares_stay_as_large() -> None:
    text = changed(PIER, [Outline(corners=((2.0, 0.0), (8.0, 0.0), (8.0, 4.0), (2.0, 4.0)))])
    view = view_of(text)
    assert (view.size, view.grid) == ("6 x 4 in", (6, 4))
    assert "seam 0, 2 to 2, 4   # the long one" in text


# -- names, options, fabrics ----------------------------------------------------------------------------------


def test_name_and_options_stand_in_lines_of_their_own() -> None:
    assert after(PIER, Rename('the "old" pier')) == ['name "the \\"old\\" pier"']
    assert after(EMPTY.replace("name mole\n", ""), Rename("quay")) == ["name quay"]
    text = changed(PIER, [SetOption("tolerance", "1/8 in"), SetOption("set-in", "yes")])
    assert text.splitlines()[5:7] == ["option tolerance 1/8 in", "option set-in yes"]
    assert changed(text, [SetOption("tolerance", ""), SetOption("set-in", "")]) == PIER
    assert after(text, SetOption("tolerance", "0.1 in")) == ["option tolerance 0.1 in"]
    assert after(PIER, SetOption("palette", "dusk.palette")) == ["option palette dusk.palette"]


def test_fabrics_stay_with_their_patches() -> None:
    text = PIER + "fabric sky\nfabric sea\nlay sky at 6, 1\nlay sea at 1, 6\n"
    drawn = changed(text, [Draw(((0.0, 6.0), (6.0, 6.0)))])  # right through the point of the sea
    laid = [line for line in drawn.splitlines() if line.startswith("lay sea")]
    assert len(laid) == 1 and laid[0].count(" and ") == 1 and "1, 6" not in laid[0].split(" ")
    moved = changed(text, [Move((4.0, 4.0), (7.0, 1.0))])  # over the point of the sky
    assert "lay sea at 1, 6" in moved
    from seamwright.block.make import make_block

    for form in (text, drawn, moved):
        block = make_block(read_seams(form, name="", file=""))
        assert {patch.fabric for patch in block.patches} == {"sky", "sea", None}


# -- the view -------------------------------------------------------------------------------------------------


def test_a_view_has_places_to_grab_pieces_to_pick_and_middles() -> None:
    view = view_of(PIER + "curve 0, 8 bending at 0, 6 to 4, 4\n")
    assert {(0, 0), (8, 0), (8, 8), (0, 8), (4, 4)} == set(view.points)
    assert view.handles == ((0, 6),)
    assert [(p.points[0], p.points[-1], p.line, p.curved) for p in view.pieces] == [
        ((0, 0), (4, 4), 7, False),
        ((4, 4), (8, 8), 7, False),
        ((4, 4), (8, 0), 8, False),
        ((0, 8), (4, 4), 11, True),
    ]
    assert {(2, 2), (6, 6), (6, 2), (4, 0), (8, 4)} <= set(view.mids)


def test_a_drawing_without_a_seam_can_be_shown() -> None:
    view = view_of(EMPTY)
    assert (view.strokes, view.pieces, view.size, view.grid) == ((), (), "8 in", (8, 8))
    assert len(view.points) == len(view.outline) == 4
