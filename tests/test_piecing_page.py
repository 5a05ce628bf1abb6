"""The page about piecing says what the code does: its pictures are the tool's, its measures are the constants."""

from __future__ import annotations

import math
import re
from pathlib import Path

import pytest

from seamwright.block import runon
from seamwright.block.strokes import SAME_IN
from seamwright.drawing.pieces import FLAT_IN
from seamwright.options import DEFAULT_TOLERANCE_IN
from seamwright.piecing import advice, shapes
from seamwright.units import say_length
from support.piecing_pictures import FOLDER, pictures

PAGE = FOLDER.parent / "README.md"
TEXT = PAGE.read_text(encoding="utf-8")
LARGEST_BYTES = 60_000
"""Of one picture: pages must load at once."""


@pytest.fixture(scope="module")
def made() -> dict[str, str]:
    return pictures()


def test_the_pictures_are_those_that_the_tool_makes(made: dict[str, str]) -> None:
    # If this fails after a change that was meant: python tests/support/piecing_pictures.py, and look at them.
    assert {path.name for path in FOLDER.iterdir()} == set(made)
    changed = [name for name, svg in made.items() if (FOLDER / name).read_text(encoding="utf-8") != svg]
    assert changed == []
    assert all(len(svg.encode()) < LARGEST_BYTES for svg in made.values())


def test_each_picture_is_shown_once_with_words_for_those_who_do_not_see_it() -> None:
    shown = re.findall(r"!\[([^\]]+)\]\(([^)]+)\)", TEXT)
    assert sorted(path for _, path in shown) == sorted(f"pictures/{path.name}" for path in FOLDER.iterdir())
    assert all(len(words) > 10 for words, _ in shown)


def test_each_place_that_the_page_points_to_is_there() -> None:
    heads = {
        re.sub(r"[^\w -]", "", head).lower().replace(" ", "-") for head in re.findall(r"^## (.+)$", TEXT, re.M)
    }
    assert set(re.findall(r"\]\(#([^)]+)\)", TEXT)) <= heads
    for name in re.findall(r"`([\w/]+\.py)`", TEXT):
        source = PAGE.parent
        assert any((root / name).is_file() for root in (source, source.parent, source.parent.parent.parent)), name


@pytest.mark.parametrize(
    "words",
    [
        f"points sharper than {advice.SHARP_DEG:g} degrees",
        f"patches narrower than {say_length(advice.NARROW_IN)}",
        f"more than {advice.CROWD} patches at a point",
        f"miss each other by less than {say_length(advice.MISS_IN)}",
        f"| {say_length(advice.LARGE_IN)} | a plain patch wider",
        f"| {shapes.TIP_DEG:g} degrees | a tip under this",
        f"| {FLAT_IN} in | how true a curve",
        f"| {math.degrees(runon.SMOOTH):.0f} degrees, {math.degrees(runon.CORNER):.0f} degrees |",
        f"| {SAME_IN} in | ends nearer than this",
        f"| {say_length(DEFAULT_TOLERANCE_IN)} | what tidying may move",
    ],
)
def test_the_measures_on_the_page_are_those_in_the_code(words: str) -> None:
    assert words in " ".join(TEXT.split())


def test_the_place_of_the_benchmark_is_marked() -> None:
    begin, end = TEXT.index("<!-- benchmark: begin -->"), TEXT.index("<!-- benchmark: end -->")
    table = TEXT[begin:end]
    assert "|" in table and "cores" in table  # figures, and the machine they were taken on


def test_developers_find_the_page() -> None:
    root = Path(__file__).parent.parent
    assert "(src/seamwright/piecing/README.md)" in (root / "DEVELOPERS.md").read_text(encoding="utf-8")
