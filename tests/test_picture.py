"""The picture of a plan shows every patch with its name, sections apart, and what is stuck."""

from __future__ import annotations

import xml.etree.ElementTree as ET

import pytest
from shapely.geometry import Polygon

from seamwright.ink.lettering import words_box
from seamwright.ink.model import Area, Words
from seamwright.picture.plan import draw_plan, plan_picture
from seamwright.picture.tints import SIGNAL, section_tints
from seamwright.piecing.plan import plan
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
