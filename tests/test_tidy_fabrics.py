"""Which patch is of which fabric: points, words and fills."""

from __future__ import annotations

import pytest

from seamwright.block.make import make_block
from seamwright.block.model import Block
from seamwright.drawing.model import Fill, Label, Swatch
from seamwright.fabric.model import Fabric, Value
from seamwright.options import PlanOptions, Size
from support.drawn import drawing, square
from support.prints import DESIGNS, planned

LINES = [*square(), ((0, 3), (6, 3))]
TOP = (((0.0, 0.0), (6.0, 0.0), (6.0, 3.0), (0.0, 3.0)),)
BOTTOM = (((0.0, 3.0), (6.0, 3.0), (6.0, 6.0), (0.0, 6.0)),)
SKY, SAND = Fabric("#a9c9dc", colour="#a9c9dc"), Fabric("#d8c9a0", colour="#d8c9a0")


def test_a_fill_colours_the_patch_it_covers() -> None:
    block = make_block(drawing(LINES, fills=(Fill(TOP, SKY.name), Fill(BOTTOM, SAND.name)), fabrics=(SKY, SAND)))
    assert [patch.fabric for patch in block.patches] == ["#a9c9dc", "#d8c9a0"]
    assert block.fabrics == (SKY, SAND)


def test_words_beat_the_fill_for_the_name_and_the_fill_gives_the_colour() -> None:
    block = make_block(
        drawing(LINES, fills=(Fill(TOP, SKY.name),), fabrics=(SKY,), labels=(Label("north sky", (3, 1)),))
    )
    assert block.patches[0].fabric == "north sky"
    assert block.patches[1].fabric is None
    assert block.fabrics == (Fabric("north sky", colour="#a9c9dc"),)


def test_numbers_are_labels_and_words_outside_are_furniture() -> None:
    labels = [Label(text, (1.0 + k, 1.0)) for k, text in enumerate(["3", "A1", "b12"])]
    block = make_block(drawing(LINES, labels=(*labels, Label("Storm sail", (3.0, 8.0)), Label("sand", (3.0, 5.0)))))
    assert [patch.fabric for patch in block.patches] == [None, "sand"]
    assert [note.text for note in block.notes] == [
        "3 labels of patches (numbers) ignored",
        "1 text outside the block ignored",
    ]


def test_a_swatch_names_the_patch_it_lies_in() -> None:
    fabrics = (Fabric("sky", code="S"), Fabric("sand"))
    block = make_block(drawing(LINES, swatches=(Swatch((1, 5), "sand"), Swatch((1, 1), "sky")), fabrics=fabrics))
    assert [patch.fabric for patch in block.patches] == ["sky", "sand"]
    assert block.fabrics == fabrics


def test_a_patch_of_two_colours_takes_the_larger_and_says_so() -> None:
    left = (((0.0, 0.0), (2.0, 0.0), (2.0, 3.0), (0.0, 3.0)),)
    right = (((2.0, 0.0), (6.0, 0.0), (6.0, 3.0), (2.0, 3.0)),)
    block = make_block(drawing(LINES, fills=(Fill(left, SKY.name), Fill(right, SAND.name)), fabrics=(SKY, SAND)))
    assert block.patches[0].fabric == SAND.name
    assert [note.text for note in block.notes] == ["1 patch has more than one colour; the larger one counts"]


def test_a_fill_that_laps_over_a_seam_by_a_hair_colours_one_patch_only() -> None:
    wide = (((0.0, 0.0), (6.0, 0.0), (6.0, 3.05), (0.0, 3.05)),)
    block = make_block(drawing(LINES, fills=(Fill(wide, SKY.name), Fill(BOTTOM, SAND.name)), fabrics=(SKY, SAND)))
    assert [patch.fabric for patch in block.patches] == [SKY.name, SAND.name]
    assert not block.notes


def test_one_name_with_two_colours_is_told() -> None:
    fills = (Fill(TOP, SKY.name), Fill(BOTTOM, SAND.name))
    labels = (Label("sea", (3, 1)), Label("sea", (3, 5)))
    block = make_block(drawing(LINES, fills=fills, fabrics=(SKY, SAND), labels=labels))
    assert [fabric.name for fabric in block.fabrics] == ["sea"]
    assert [note.text for note in block.notes] == ["sea has more than one colour; the first is used"]


def test_fabrics_follow_their_patches_when_the_block_is_scaled_and_moved() -> None:
    moved = [((a[0] + 4, a[1] + 1), (b[0] + 4, b[1] + 1)) for a, b in LINES]
    block = make_block(drawing(moved, labels=(Label("sand", (7, 6)),)), PlanOptions(size=Size(12)))
    assert [patch.fabric for patch in block.patches] == [None, "sand"]


def test_a_fill_with_a_hole_leaves_the_island_alone() -> None:
    lines = [*square(), *square(2, 2, 2)]
    ring = (
        ((0.0, 0.0), (6.0, 0.0), (6.0, 6.0), (0.0, 6.0)),
        ((2.0, 2.0), (2.0, 4.0), (4.0, 4.0), (4.0, 2.0)),
    )
    block = make_block(drawing(lines, fills=(Fill(ring, SKY.name),), fabrics=(SKY,)))
    assert [patch.fabric for patch in block.patches] == [SKY.name, None]


@pytest.mark.parametrize("inches", [2.0, 3.0, 9.5])
def test_a_design_has_the_same_fabrics_at_every_size(inches: float) -> None:
    # At some sizes a patch and its fill nearly coincide in a way that GEOS cannot intersect on the finest grid.
    own, other = (planned(DESIGNS / "storm-rose.svg", PlanOptions(size=size)) for size in (None, Size(inches)))
    assert [p.fabric for p in other.block.patches] == [p.fabric for p in own.block.patches]


def worded(*words: str) -> Block:
    """Two patches, with words in the one at the top and in the one below."""
    labels = tuple(Label(text, (3.0, 1.0 + 4.0 * k)) for k, text in enumerate(words))
    return make_block(drawing(LINES, labels=labels))


def test_words_may_tell_more_of_a_fabric_behind_a_comma() -> None:
    block = worded("storm blue, stripes 45, value dark code ST", "storm blue")
    assert [patch.fabric for patch in block.patches] == ["storm blue", "storm blue"]
    assert block.fabrics == (Fabric("storm blue", "ST", None, Value.DARK, direction_deg=45.0, striped=True),)
    assert block.notes == ()


def test_words_that_are_no_fabric_line_are_a_name() -> None:
    assert [p.fabric for p in worded("sand, wet", "sky stripes 45").patches] == ["sand, wet", "sky stripes 45"]
    block = worded("sky, stripes askew", "sea,")
    assert [p.fabric for p in block.patches] == ["sky, stripes askew", "sea,"]
    (note,) = block.notes
    assert note.text.startswith("the words 'sky, stripes askew' are taken as a name: an angle in degrees should")
    assert note.places_in


def test_a_fabric_described_in_two_ways_keeps_the_first_and_says_so() -> None:
    block = worded("sky, stripes 45", "sky, stripes 90")
    assert [fabric.direction_deg for fabric in block.fabrics] == [45.0]
    assert [note.text for note in block.notes] == ["sky is described in more than one way; the first is used"]


def test_a_fill_gives_the_colour_of_a_fabric_that_words_describe() -> None:
    fill, label = Fill(TOP, SKY.name), Label("sky, direction -90", (3, 1))
    block = make_block(drawing(LINES, fills=(fill,), fabrics=(SKY,), labels=(label,)))
    assert block.fabrics == (Fabric("sky", colour="#a9c9dc", direction_deg=-90.0),)
