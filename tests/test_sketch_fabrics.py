"""Fabrics changed in a block's text: what is asked for happens, and nothing else does.

What a text says afterwards is judged by the reader of drawings, which painting does not share.
"""

from __future__ import annotations

import difflib
import random
from functools import cache
from pathlib import Path

import hypothesis.strategies as st
import pytest
from hypothesis import example, given, settings

from seamwright.block.make import make_block
from seamwright.block.model import Block
from seamwright.drawing.read import read_drawing
from seamwright.drawing.textform import read_seams
from seamwright.drawing.textwrite import write_seams
from seamwright.errors import OptionError
from seamwright.fabric.colourways import dressed
from seamwright.sketch.change import changed
from seamwright.sketch.edits import DropColourway, DropFabric, Edit, Paint, SetColourway, SetFabric
from seamwright.sketch.fabrics import typed

DESIGNS = Path(__file__).parents[1] / "designs"
DRAWINGS = sorted(path.name for path in DESIGNS.iterdir() if path.suffix in (".seams", ".svg"))

HARBOUR = """seamwright block 1
# The harbour wall at low tide.
name wall
size 8 in   # finished
grid 8

seam 0, 4 to 8, 4   # the water line
seam 0, 0 to 4, 4
seam 8, 0 to 4, 4
seam 4, 4 to 4, 8

fabric sky colour #a9c9dc value light cool code Y  # the blue lawn
fabric "storm sea" colour #4f8196 stripes 45 width 110 cm
  fabric sand

lay sky at (4, 1) and 1, 3 and (7, 3)   # three of them
lay "storm sea" at 2, 6 and 6, 6
colourway dusk sky becomes sand and "storm sea" becomes sky
colourway Dusk sand becomes sky
colourway fog: sky becomes sand
"""
"""Spaces, remarks, brackets, two spellings and an indent, as people write."""


@cache
def text_of(name: str) -> str:
    """A design as text: its own, or the one made of its drawing."""
    path = DESIGNS / name
    return path.read_text() if path.suffix == ".seams" else write_seams(make_block(read_drawing(path)))


def block_of(text: str) -> Block:
    """What a text gives."""
    return make_block(read_seams(text, name="block", file="block.seams"))


@cache
def block_as_it_was(name: str) -> Block:
    return block_of(text_of(name))


def worn(block: Block) -> list[str | None]:
    """The fabric of every patch by number."""
    return [patch.fabric for patch in block.patches]


def painted(block: Block, patch: int, fabric: str) -> Paint:
    return Paint(fabric, block.patch_ring(patch), block.patch_holes(patch))


def touched(before: str, after: str) -> list[str]:
    """The lines that are not as they were: "- ..." and "+ ..."."""
    return [line for line in difflib.ndiff(before.splitlines(), after.splitlines()) if line[0] in "-+"]


def with_buoy(text: str) -> str:
    """The text with a fabric that no design has."""
    return changed(text, [SetFabric("buoy", colour="#c8102e")])


# -- patches ---------------------------------------------------------------------------------------------------


@given(data=st.data(), name=st.sampled_from(DRAWINGS))
@settings(max_examples=50)
def test_painting_a_patch_changes_its_fabric_and_no_other(data: st.DataObject, name: str) -> None:
    block = block_as_it_was(name)
    text = with_buoy(text_of(name))
    patch = data.draw(st.integers(0, len(block.patches) - 1), label="patch")
    known = [fabric.name for fabric in block.fabrics]
    fabric = data.draw(st.sampled_from(["buoy", "", *known]), label="fabric")
    after = changed(text, [painted(block, patch, fabric)])
    expected = worn(block)
    expected[patch] = fabric or None
    assert worn(block_of(after)) == expected
    moved = touched(text, after)
    assert all(line[2:].lstrip().startswith("lay ") or not line[2:].strip() for line in moved)
    assert len(moved) <= 5  # the points of a patch, and of the fabric it gets; a free line before the first


@pytest.mark.parametrize("name", DRAWINGS)
def test_a_whole_block_painted_patch_by_patch_is_of_the_fabrics_asked_for(name: str) -> None:
    block, chance = block_as_it_was(name), random.Random(7)
    text = changed(with_buoy(text_of(name)), [SetFabric("pier", colour="#102030"), SetFabric("old rope")])
    wanted: list[str | None] = [chance.choice(["buoy", "pier", "old rope", None]) for _ in block.patches]
    order = list(range(len(wanted)))
    chance.shuffle(order)
    text = changed(text, [painted(block, patch, wanted[patch] or "") for patch in order])
    assert worn(block_of(text)) == wanted
    assert all(
        len(line) <= 116 for line in text.splitlines() if line.startswith("lay ") and line not in text_of(name)
    )


@pytest.mark.parametrize("name", DRAWINGS)
def test_painting_what_is_painted_so_already_leaves_the_text_as_it_is(name: str) -> None:
    block = block_as_it_was(name)
    edits = [painted(block, patch, fabric or "") for patch, fabric in enumerate(worn(block))]
    assert changed(text_of(name), edits) == text_of(name)


def test_a_line_that_serves_several_patches_loses_one_point_and_keeps_the_rest_as_written() -> None:
    ring = ((0.0, 0.0), (4.0, 4.0), (0.0, 4.0))
    after = changed(HARBOUR, [Paint("storm sea", ring)])
    assert touched(HARBOUR, after) == [
        "- lay sky at (4, 1) and 1, 3 and (7, 3)   # three of them",
        "+ lay sky at (4, 1) and (7, 3)   # three of them",
        '- lay "storm sea" at 2, 6 and 6, 6',
        '+ lay "storm sea" at 2, 6 and 6, 6 and 1.2, 2.8',
    ]


def test_a_line_without_a_point_left_goes_and_its_remark_stays() -> None:
    rings = (
        ((0.0, 0.0), (8.0, 0.0), (4.0, 4.0)),
        ((0.0, 0.0), (4.0, 4.0), (0.0, 4.0)),
        ((8.0, 0.0), (8.0, 4.0), (4.0, 4.0)),
    )
    after = changed(HARBOUR, [Paint("", ring) for ring in rings])
    assert [line for line in touched(HARBOUR, after) if line[0] in "-+"] == [
        "- lay sky at (4, 1) and 1, 3 and (7, 3)   # three of them",
        "+ # three of them",
    ]


def test_ends_of_lines_stay_those_of_the_file_and_new_lines_have_them_too() -> None:
    text = HARBOUR.replace("\n", "\r\n")
    ring = ((0.0, 4.0), (4.0, 4.0), (4.0, 8.0), (0.0, 8.0))
    after = changed(text, [SetFabric("buoy"), Paint("buoy", ring)])
    assert after.count("\n") == after.count("\r\n") == text.count("\r\n") + 2
    assert worn(block_of(after)).count("buoy") == 1


def test_a_text_that_ends_without_a_line_end_can_be_painted() -> None:
    text = "seamwright block 1\nsize 4 in\nfabric sky\nseam 0, 0 to 4, 4"
    after = changed(text, [SetFabric("sea"), Paint("sea", ((0.0, 0.0), (4.0, 0.0), (4.0, 4.0)))])
    assert sorted(map(str, worn(block_of(after)))) == ["None", "sea"]


@pytest.mark.parametrize(
    ("edit", "said"),
    [
        (Paint("gold", ((0.0, 0.0), (4.0, 4.0), (0.0, 4.0))), "no fabric called 'gold'"),
        (Paint("sky", ((0.0, 0.0), (4.0, 4.0))), "no patch"),
        (Paint("sky", ((0.0, 0.0), (4.0, 4.0), (8.0, 8.0))), "no patch"),
        (Paint("sky", ((0.0, 0.0), (4.0, 4.0), (0.0, float("inf")))), "far outside"),
        (DropFabric("gold"), "no fabric called 'gold'"),
        (SetFabric("sea", was="gold"), "no fabric called 'gold'"),
        (SetFabric("Sky"), "called 'Sky' already"),
        (SetFabric("sand", was="sky"), "called 'sand' already"),
        (SetFabric("buoy", code="Y"), "taken by sky"),
        (SetFabric("buoy", colour="blueish"), "colour should stand here"),
        (SetFabric("buoy", colour="#12345"), "colour should stand here"),
        (SetFabric("buoy", value="pale"), "no value"),
        (SetFabric("buoy", stripes="1000"), "out of range"),
        (SetFabric("buoy", stripes="4", direction="5"), "second time"),
        (SetFabric("buoy", width="9 m"), "not 354"),
        (SetFabric("buoy", colour="navy # for the sea"), "remark"),
        (SetFabric("  "), "name of the fabric"),
        (SetFabric("b" * 121), "121 characters"),
        (SetColourway("dusk", "gold", "sky"), "no fabric called 'gold'"),
        (SetColourway("all", "sky", "sand"), "all colourways"),
        (SetColourway("d" * 41, "sky", "sand"), "41 characters"),
        (SetColourway("", "sky", "sand"), "name of the colourway"),
        (DropColourway("night"), "no colourway is called 'night'"),
        (DropColourway("fog", "DUSK"), "called 'DUSK' already"),
        (DropColourway("fog", "own"), "own fabrics"),
    ],
)
def test_what_cannot_be_done_is_refused_in_words(edit: Edit, said: str) -> None:
    with pytest.raises(OptionError, match=said):
        changed(HARBOUR, [edit])


# -- fabrics ---------------------------------------------------------------------------------------------------


def test_a_renamed_fabric_is_renamed_wherever_it_stands() -> None:
    after = changed(
        HARBOUR, [SetFabric("north sky", was="sky", colour="#a9c9dc", value="light", warmth="cool", code="Y")]
    )
    assert after == HARBOUR.replace("fabric sky", 'fabric "north sky"').replace(
        "lay sky", 'lay "north sky"'
    ).replace("sky becomes", '"north sky" becomes').replace("becomes sky", 'becomes "north sky"')
    back = changed(
        after, [SetFabric("sky", was="north sky", colour="#a9c9dc", value="light", warmth="cool", code="Y")]
    )
    assert back == HARBOUR


def test_what_is_typed_of_a_fabric_reads_back_part_by_part() -> None:
    parts = {
        "colour": "#A9C9DC",
        "value": "dark",
        "warmth": "warm",
        "code": "N 2",
        "direction": "-90",
        "width": "110 cm",
    }
    after = changed(HARBOUR, [SetFabric("night", **parts)])
    assert typed(after)["night"] == parts
    assert typed(after)["storm sea"] == {"colour": "#4f8196", "stripes": "45", "width": "110 cm"}
    assert typed(after)["sand"] == {}
    assert changed(after, [SetFabric("night", was="night", **parts)]) == after


@pytest.mark.parametrize("name", DRAWINGS)
def test_a_fabric_set_as_it_is_typed_already_leaves_the_text_as_it_is(name: str) -> None:
    text = text_of(name)
    edits = [SetFabric(fabric, was=fabric, **parts) for fabric, parts in typed(text).items()]
    assert changed(text, edits) == text


@given(
    name=st.text(st.characters(blacklist_categories=("Cs", "Cc")), min_size=1, max_size=30),
    colour=st.integers(0, 0xFFFFFF),
)
@example(name='the "good" one, 100 % \\ cotton # new', colour=0)
@example(name="code", colour=0)
@settings(max_examples=40)
def test_any_name_that_people_give_can_be_painted_with(name: str, colour: int) -> None:
    name = " ".join(name.split())
    if not name:
        return
    text = "seamwright block 1\nsize 4 in\nseam 0, 0 to 4, 4\n"
    edits = [SetFabric(name, colour=f"#{colour:06x}"), Paint(name, ((0.0, 0.0), (4.0, 0.0), (4.0, 4.0)))]
    after = changed(text, edits)
    assert sorted(map(str, worn(block_of(after)))) == sorted(["None", name])
    assert typed(after) == {name: {"colour": f"#{colour:06x}"}}


def test_a_dropped_fabric_leaves_patches_without_one_and_no_colourway_speaks_of_it() -> None:
    after = changed(HARBOUR, [DropFabric("sky")])
    block = block_of(after)
    assert set(worn(block)) == {None, "storm sea"}
    assert "sky" not in after.replace("# the blue lawn", "").replace("sky,", "")
    assert "# the blue lawn" in after and "# three of them" in after
    assert block.colourways == ()


@pytest.mark.parametrize("name", DRAWINGS)
def test_each_fabric_of_a_design_can_be_dropped(name: str) -> None:
    block = block_as_it_was(name)
    for fabric in block.fabrics:
        after = block_of(changed(text_of(name), [DropFabric(fabric.name)]))
        assert worn(after) == [None if one == fabric.name else one for one in worn(block)]
        assert all(fabric.name not in pair for way in after.colourways for pair in way.changes)


# -- colourways ------------------------------------------------------------------------------------------------


def ways(text: str) -> dict[str, dict[str, str]]:
    return {way.name: dict(way.changes) for way in read_seams(text, name="block", file="block.seams").colourways}


def test_a_fabric_becomes_another_in_one_colourway_and_in_no_other() -> None:
    after = changed(HARBOUR, [SetColourway("DUSK", "sand", "storm sea")])
    assert ways(after) == {"dusk": {"sky": "sand", "storm sea": "sky", "sand": "storm sea"}, "fog": {"sky": "sand"}}
    assert touched(HARBOUR, after) == [
        "- colourway Dusk sand becomes sky",
        '+ colourway Dusk sand becomes "storm sea"',
    ]


@pytest.mark.parametrize("becomes", ["", "storm sea"])
def test_a_fabric_that_becomes_itself_or_nothing_stays_as_it_is(becomes: str) -> None:
    after = changed(HARBOUR, [SetColourway("dusk", "storm sea", becomes)])
    assert ways(after)["dusk"] == {"sky": "sand", "sand": "sky"}


def test_a_new_colourway_dresses_the_block_as_asked() -> None:
    after = changed(
        HARBOUR, [SetColourway("night tide", "sky", "storm sea"), SetColourway("night tide", "storm sea", "sky")]
    )
    assert ways(after)["night tide"] == {"sky": "storm sea", "storm sea": "sky"}
    block = block_of(after)
    swapped = {"sky": "storm sea", "storm sea": "sky", None: None}
    assert worn(dressed(block, None, "night tide")) == [swapped[fabric] for fabric in worn(block)]


def test_a_colourway_that_changes_nothing_any_more_is_gone_and_no_option_asks_for_it() -> None:
    text = HARBOUR + "option colourway own, fog\n"
    after = changed(text, [SetColourway("fog", "sky", "")])
    assert "fog" not in ways(after) and "option colourway own\n" in after
    text = HARBOUR + "option colourway fog  # for the show\n"
    assert changed(text, [DropColourway("fog")]).endswith("# for the show\n")


def test_a_renamed_colourway_is_asked_for_by_its_new_name() -> None:
    text = HARBOUR + "option colourway dusk\n"
    after = changed(text, [DropColourway("Dusk", "low light")])
    assert ways(after)["low light"] == ways(HARBOUR)["dusk"]
    assert after.endswith("option colourway low light\n")
    assert ways(changed(after, [DropColourway("low light")])) == {"fog": {"sky": "sand"}}
