"""The picture of a plan shows every patch with its name, sections apart, and what is stuck."""

from __future__ import annotations

import math
import xml.etree.ElementTree as ET

import pytest
from shapely.geometry import LineString, Point, Polygon

from seamwright.block.make import make_block
from seamwright.ink.lettering import words_box
from seamwright.ink.model import Area, Stroke, Words
from seamwright.picture.plan import SIDE_IN, draw_plan, plan_picture
from seamwright.picture.tints import SIGNAL, section_tints
from seamwright.piecing.plan import plan
from support.drawn import drawing, square
from support.exact import exact_block

PINWHEEL = [((0, 2), (4, 2)), ((4, 0), (4, 4)), ((2, 4), (6, 4)), ((2, 2), (2, 6))]
GRID = [((0, k), (6, k)) for k in (2, 4)] + [((k, 0), (k, 6)) for k in (2, 4)]
STAR = [((0, 0), (6, 6)), ((6, 0), (0, 6)), ((3, 0), (3, 6)), ((0, 3), (6, 3))]


@pytest.mark.parametrize("lines", [PINWHEEL, GRID, STAR], ids=["pinwheel", "grid", "star"])
def test_every_patch_is_named_inside_its_own_lines(lines):
    planned = plan(exact_block(lines))
    picture = draw_plan(planned)
    grounds = [Polygon(ink.rings[0]) for ink in picture.inks if isinstance(ink, Area)][: len(planned.block.patches)]
    words = {ink.text: ink for ink in picture.inks if isinstance(ink, Words)}
    for patch, name in enumerate(planned.patch_names()):
        assert grounds[patch].contains(Polygon(words_box(words[name], 72)))


def test_sections_that_share_a_seam_have_different_tints():
    planned = plan(exact_block(GRID))
    tints = section_tints(planned)
    assert len(planned.sections) == 3
    section_of = {p: s.name for s in planned.sections for p in s.patches}
    for edge in planned.block.edges:
        sides = {section_of.get(edge.left), section_of.get(edge.right)} - {None}
        assert len({tints[s] for s in sides}) == len(sides)


def test_the_signal_colour_stands_only_where_something_cannot_be_sewn():
    good, stuck = plan_picture(plan(exact_block(GRID))), plan_picture(plan(exact_block(PINWHEEL)))
    assert SIGNAL not in good
    assert SIGNAL in stuck


def test_words_stay_on_the_page():
    planned = plan(exact_block(PINWHEEL, name="whirlpool"))
    picture = draw_plan(planned, ["a verdict that is long enough to be broken into two lines at the least " * 3])
    for ink in picture.inks:
        if isinstance(ink, Words):
            for x, y in words_box(ink, 72):
                assert 0 <= x <= picture.width_in
                assert 0 <= y <= picture.height_in


def test_the_picture_is_an_svg_of_physical_size_and_always_the_same():
    planned = plan(exact_block(STAR))
    first, second = plan_picture(planned, ["can be sewn"]), plan_picture(planned, ["can be sewn"])
    assert first == second
    root = ET.fromstring(first)
    assert root.get("width", "").endswith("in")


def strokes(planned, colour):
    return [ink for ink in draw_plan(planned).inks if isinstance(ink, Stroke) and ink.colour == colour]


def length(ink):
    return LineString(ink.points).length


def test_a_ring_is_marked_along_its_seams_from_end_to_end():
    # Each of the four seams of the pinwheel is 4 of the block's 6 in long.
    marked = strokes(plan(exact_block(PINWHEEL)), SIGNAL)
    assert [length(ink) for ink in marked] == pytest.approx([SIDE_IN * 4 / 6] * 4)


def test_a_curve_that_closes_on_itself_is_marked_all_round():
    ring = [(3 + 1.5 * math.cos(math.radians(a)), 3 + 1.5 * math.sin(math.radians(a))) for a in range(360)]
    planned = plan(
        make_block(drawing([*square(), ((3, 0), (3, 1.5)), ((3, 4.5), (3, 6))], curves=[[*ring, ring[0]]]))
    )
    (stuck,) = planned.obstructions
    assert stuck.kind == "curve" and len(stuck.points) == 2
    (round_it,) = strokes(planned, SIGNAL)
    assert length(round_it) == pytest.approx(3 * math.pi * SIDE_IN / 6, abs=1e-2)


def test_an_island_is_marked_all_round():
    around = [((2, 2), (4, 2)), ((4, 2), (4, 4)), ((4, 4), (2, 4)), ((2, 4), (2, 2))]
    (ring,) = strokes(plan(exact_block(around)), SIGNAL)
    assert length(ring) == pytest.approx(SIDE_IN * 8 / 6)


def test_a_point_that_stops_every_seam_is_circled_with_its_number():
    planned = plan(exact_block([((3, 3), (0, 0)), ((3, 3), (6, 0)), ((3, 3), (3, 6))]))
    (circle,) = strokes(planned, SIGNAL)
    assert (
        circle.closed
        and Polygon(circle.points).centroid.distance(Point(0.4 + SIDE_IN / 2, 0.4 + SIDE_IN / 2)) < 1e-6
    )


def test_advice_stands_below_with_the_letter_that_marks_its_place():
    planned = plan(exact_block([((0, 3), (6, 3)), ((0, 3), (6, 4)), ((5, 0), (5, 3))]))
    (note,) = [note for note in planned.notes if note.code.startswith("advice")]
    words = [ink for ink in draw_plan(planned).inks if isinstance(ink, Words)]
    keys = [ink for ink in words if ink.text == "a"]
    assert len(keys) == 2  # at the place and at the sentence
    told = " ".join(ink.text for ink in words)
    assert note.text in told
    middles = [Polygon(ink.rings[0]).centroid for ink in draw_plan(planned).inks if isinstance(ink, Area)]
    at = Point(0.4 + note.places_in[0][0] * SIDE_IN / 6, 0.4 + note.places_in[0][1] * SIDE_IN / 6)
    assert min(at.distance(middle) for middle in middles) < 1e-6


def test_names_keep_clear_of_marks():
    planned = plan(exact_block([((3, 3), (0, 0)), ((3, 3), (6, 0)), ((3, 3), (3, 6))]))
    inks = draw_plan(planned).inks
    badges = [Polygon(ink.rings[0]) for ink in inks if isinstance(ink, Area) and ink.colour == SIGNAL]
    names = [Polygon(words_box(ink, 72)) for ink in inks if isinstance(ink, Words) and ink.text.startswith("?")]
    assert badges and not any(badge.intersects(name) for badge in badges for name in names)
