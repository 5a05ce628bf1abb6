"""The rehearsal as the page plays it: what the command's pictures show, side by side, with their words apart."""

from __future__ import annotations

import re
from functools import cache
from typing import Any
from xml.etree import ElementTree

import pytest

from seamwright import api, picturing
from seamwright.claims.sewing import sewing_of
from seamwright.errors import StuckError
from seamwright.ink.model import Stroke, Words
from seamwright.page.steptasks import steps_of
from seamwright.picture.named import patch_colours
from seamwright.rehearsal.captions import CAUTIONS
from seamwright.rehearsal.panels import LEFT, OPENED, PANEL_IN, RIGHT, show_rehearsal
from support.browser import DESIGNS
from support.prints import planned

NAMES = ("beacon.seams", "mooring-star.seams")
FOUR = "seamwright block 1\nname four\nsize 8 in\ngrid 8\nseam 0, 4 to 8, 4\nseam 4, 0 to 4, 8\n"


@cache
def steps(name: str) -> dict[str, Any]:
    return steps_of(name, (DESIGNS / name).read_text())


def test_there_is_a_step_for_every_picture_of_the_command_with_its_words() -> None:
    name = "mooring-star.seams"
    pictures = picturing.rehearsal_pictures(planned(DESIGNS / name))
    told = steps(name)["steps"]
    assert len(told) == len(pictures)
    for step, (_, svg) in zip(told, pictures, strict=True):
        page = ElementTree.fromstring(svg)
        assert page.findtext("{http://www.w3.org/2000/svg}title") == step["title"]
        assert (page.findtext("{http://www.w3.org/2000/svg}desc") or "").startswith(step["caption"])


@pytest.mark.parametrize("name", NAMES)
def test_sections_begin_at_their_first_step_and_the_block_ends_it(name: str) -> None:
    told = steps(name)
    begun = [(step["section"], number) for number, step in enumerate(told["steps"])]
    for section in told["sections"]:
        assert section["first"] == min(number for of, number in begun if of == section["name"])
    assert told["sections"][-1] == {"name": "", "first": len(told["steps"]) - 1}
    assert [section["name"] for section in told["sections"][:-1]] == [
        section.name for section in planned(DESIGNS / name).sections
    ]


@pytest.mark.parametrize("name", NAMES)
def test_both_sides_are_whole_pictures_of_one_size_that_hold_no_script(name: str) -> None:
    for step in steps(name)["steps"]:
        for svg, head in zip(step["pictures"], step["heads"], strict=True):
            page = ElementTree.fromstring(svg)
            assert page.get("viewBox") == "0 0 5 5"
            assert page.findtext("{http://www.w3.org/2000/svg}title") == head
            assert not re.search(r"<script|javascript:|\son\w+=|href=", svg)


@pytest.mark.parametrize("name", NAMES)
def test_nothing_of_a_side_is_cut_off(name: str) -> None:
    plan = planned(DESIGNS / name)
    half = PANEL_IN / 2
    for shown in show_rehearsal(plan.block.name, sewing_of(plan), api.rehearse(plan), patch_colours(plan)):
        for inks, (x, y) in ((shown.left, LEFT), (shown.right, RIGHT)):
            for ink in inks:
                if isinstance(ink, Words):
                    points = [ink.at]
                else:
                    points = ink.points if isinstance(ink, Stroke) else [p for ring in ink.rings for p in ring]
                assert all(abs(a - x) < half and abs(b - y) < half for a, b in points)


def test_the_rehearsal_says_how_it_came_out_and_the_usual_cautions() -> None:
    told = steps("beacon.seams")
    assert told["told"].startswith("Rehearsed: 26 steps and 4 joins sewn. What shows is what was drawn")
    assert told["cautions"] == CAUTIONS


def test_what_is_cut_by_ruler_is_sewn_without_paper() -> None:
    told = steps_of("four.seams", f"{FOUR}option rotary auto\n")
    assert {step["heads"] for step in told["steps"] if ": step " in step["title"]} == {OPENED}


def test_a_stuck_drawing_is_sent_to_check_and_not_to_the_command_line() -> None:
    with pytest.raises(StuckError) as caught:
        steps("breakwater.seams")
    assert "--" not in str(caught.value)
    assert "Open Check" in str(caught.value)
