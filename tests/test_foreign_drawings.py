"""Drawings saved by other programs, read to the end: size, patches, whether and in how few sections they sew.

The files stand in drawings/ with what is true of them in truth.json, found by hand and not by this program.
"""

from __future__ import annotations

import json
from functools import cache
from pathlib import Path
from typing import Any

import pytest

from seamwright.block.make import make_block
from seamwright.block.model import Block
from seamwright.drawing.read import read_drawing
from seamwright.piecing.model import Plan
from seamwright.piecing.plan import plan

FOLDER = Path(__file__).parent / "drawings"
TRUTH: list[dict[str, Any]] = json.loads((FOLDER / "truth.json").read_text())
BY_FILE = {truth["file"]: truth for truth in TRUTH}

DRAWN_LOOSELY_IN = 0.02
"""Corners of these are off by up to 0.01 in each way in the file itself, so its size is known no better."""
LOOSE = ("h__svgwrite_polygons.svg",)

files = pytest.mark.parametrize("file", [truth["file"] for truth in TRUTH])


@cache
def block_of(file: str) -> Block:
    return make_block(read_drawing(FOLDER / file))


@cache
def plan_of(file: str) -> Plan:
    return plan(block_of(file))


def test_every_drawing_in_the_folder_has_its_truth() -> None:
    assert sorted(path.name for path in FOLDER.glob("*.svg")) == sorted(BY_FILE)


@files
def test_its_size_is_true_to_the_digits_given(file: str) -> None:
    block = block_of(file)
    # The truth is rounded to four digits at most; so is half a unit of the last one.
    within = DRAWN_LOOSELY_IN if file in LOOSE else 0.00051
    assert (block.width_in, block.height_in) == pytest.approx(tuple(BY_FILE[file]["size_in"]), abs=within)


@files
def test_it_has_as_many_patches_as_are_seen(file: str) -> None:
    assert len(block_of(file).patches) == BY_FILE[file]["patches"]


@files
def test_it_is_found_to_be_sewable_with_straight_seams_or_not(file: str) -> None:
    assert plan_of(file).pieceable is BY_FILE[file]["pieceable_straight_seams"]


@files
def test_it_takes_as_few_sections_as_are_known_to_be_enough(file: str) -> None:
    truth = BY_FILE[file]["min_foundations"]
    fewest = plan_of(file).fewest
    if truth is None:  # for straight seams only
        assert not plan_of(file).pieceable
    else:
        # Pieces to be joined, plain ones counted.
        assert fewest is not None
        assert (fewest.sections, fewest.proven) == (truth, True)


def test_the_curve_is_joined_as_one() -> None:
    made = plan_of("j__qt_curve.svg")
    assert made.sewable == "curved"
    assert [join.kind for join in made.joins].count("curved") == 1
    assert len(read_drawing(FOLDER / "j__qt_curve.svg").curves) == 1


def test_dots_at_line_ends_and_the_page_background_are_left_out_and_said_so() -> None:
    drawing = read_drawing(FOLDER / "b__graphviz_nodes.svg")
    said = " / ".join(note.text for note in drawing.notes)
    assert "13 dots" in said
    assert "white background" in said
    assert drawing.curves == ()


def test_eighteen_numbers_and_two_lines_of_text_are_read_as_words() -> None:
    drawing = read_drawing(FOLDER / "m_f2__libreoffice_text.svg")
    assert sorted(label.text for label in drawing.labels if label.text.isdigit()) == sorted(map(str, range(1, 19)))
    assert len(drawing.labels) == 20


def test_every_patch_of_the_coloured_polygons_has_its_own_colour() -> None:
    assert sorted(str(patch.fabric) for patch in block_of("h__svgwrite_polygons.svg").patches) == sorted(
        ["#e8c36a", "#7fb3d5", "#d98880", "#a9cca4", "#c39bd3", "#f0b27a", "#76d7c4", "#f7dc6f"]
    )
