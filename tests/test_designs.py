"""Every design that comes with the project reads, and gives the patches and the verdict it was drawn for."""

from __future__ import annotations

from dataclasses import replace
from functools import cache
from pathlib import Path

import pytest

from seamwright.block.make import make_block
from seamwright.block.model import Block
from seamwright.drawing.read import read_drawing
from seamwright.drawing.textform import read_seams, write_seams
from seamwright.geometry import signed_area
from seamwright.ink.place import roomiest
from seamwright.options import Fit, PlanOptions
from seamwright.optiontext import with_options
from seamwright.piecing.plan import plan

FOLDER = Path(__file__).parent.parent / "designs"

# (file, finished width and height in inches, patches, fewest sections; 0: cannot be pieced)
DESIGNS = [
    ("anchor-flukes.svg", (200 / 25.4, 200 / 25.4), 23, 5),
    ("beacon.seams", (8, 12), 26, 5),
    ("breakwater.seams", (8, 8), 9, 0),
    ("compass-star.seams", (12, 12), 40, 8),
    ("crest.seams", (6, 4), 8, 1),
    ("gull.svg", (10, 10), 29, 7),
    ("harbour-lights.seams", (12, 12), 40, 6),
    ("kite.svg", (6, 6), 8, 2),
    ("lamp.seams", (8, 8), 15, 3),
    ("lighthouse-beam.svg", (20 / 2.54, 20 / 2.54), 14, 5),
    ("mooring-star.seams", (8, 6.9282), 24, 6),
    ("pennant.svg", (6, 4.5), 4, 1),
    ("reef.seams", (10, 10), 27, 3),
    ("sea-urchin.svg", (9, 9), 36, 0),
    ("shoal.seams", (9, 9), 27, 6),
    ("spinnaker.seams", (10, 10), 21, 5),
    ("storm-rose.svg", (16, 16), 80, 24),
    ("tide-chart.seams", (12, 6), 18, 6),
    ("whirlpool.seams", (8, 8), 24, 4),
]
STUCK = {"breakwater.seams": "ring of seams", "sea-urchin.svg": "no seam straight through"}
CURVED = {"lamp.seams"}
FILES = [name for name, *_ in DESIGNS]


@cache
def block_of(name: str) -> Block:
    return make_block(read_drawing(FOLDER / name))


def test_each_design_is_stated_here() -> None:
    assert sorted(path.name for path in FOLDER.iterdir() if path.suffix in (".svg", ".seams")) == FILES


@pytest.mark.parametrize(("name", "size", "patches", "sections"), DESIGNS)
def test_a_design_has_its_size_patches_and_verdict(
    name: str, size: tuple[float, float], patches: int, sections: int
) -> None:
    block = block_of(name)
    assert (block.width_in, block.height_in) == pytest.approx(size, abs=1e-3)
    assert len(block.patches) == patches
    made = plan(block, PlanOptions(fit=Fit.NONE))
    assert made.sewable == (("curved" if name in CURVED else "straight") if sections else "no")
    assert len(made.sections) == sections
    assert {o.kind for o in made.obstructions} == ({STUCK[name]} if not sections else set())


@pytest.mark.parametrize("name", FILES)
def test_a_design_is_a_sound_plane_map(name: str) -> None:
    block = block_of(name)
    # Euler's formula for a connected plane map, the outside not counted: V - E + F = 1
    assert len(block.points) - len(block.edges) + len(block.patches) == 1
    areas = [signed_area(block.patch_ring(n)) for n in range(len(block.patches))]
    assert min(areas) > 0
    assert sum(areas) == pytest.approx(signed_area(block.outline_ring()), rel=1e-9)


@pytest.mark.parametrize("name", FILES)
def test_a_design_can_be_sewn_by_a_person(name: str) -> None:
    block = block_of(name)
    # Common practice: what is narrower than about 1/4 in finished is lost in its own seam allowances.
    assert min(2 * roomiest(block.patch_ring(n))[1] for n in range(len(block.patches))) > 0.25
    assert 6 <= block.width_in <= 16


@pytest.mark.parametrize("name", FILES)
def test_each_patch_of_a_design_has_its_fabric(name: str) -> None:
    block = block_of(name)
    named = {fabric.name for fabric in block.fabrics}
    assert all(patch.fabric in named for patch in block.patches)
    assert not [n for n in block.notes if n.code in ("tidied", "label")]
    if name.endswith(".seams"):
        assert all(f.colour and f.value and f.warmth and f.code for f in block.fabrics)
        assert set(read_drawing(FOLDER / name).fabrics) == set(block.fabrics)  # none is left over


@pytest.mark.parametrize("name", FILES)
def test_a_design_written_as_text_reads_back_to_itself(name: str) -> None:
    block = block_of(name)
    text = write_seams(block)
    again = make_block(read_seams(text, name="?", file=""))
    assert again == replace(block, file="", notes=again.notes)
    assert write_seams(again) == text


def test_designs_come_in_both_forms_and_many_sizes() -> None:
    assert len({name.rpartition(".")[2] for name in FILES}) == 2
    counts = [patches for _, _, patches, _ in DESIGNS]
    assert min(counts) == 4 and max(counts) == 80
    assert sum(not sections for *_, sections in DESIGNS) == 2


@pytest.mark.parametrize(("name", "places"), [("whirlpool.seams", 4), ("shoal.seams", 9)])
def test_a_design_of_one_unit_is_one_print(name: str, places: int) -> None:
    block = block_of(name)
    made = plan(block, with_options(PlanOptions(), block.options))
    assert [section.print for section in made.sections] == ["A"] * places
