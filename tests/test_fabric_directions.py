"""Marks of stripes and of prints that run one way: mirrored on foundations, as seen on all other prints."""

from __future__ import annotations

import json
import math
import random
import re
from dataclasses import replace
from functools import cache
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely.affinity import affine_transform
from shapely.geometry import LineString, Polygon

from seamwright import cutting
from seamwright.api import foundations as proven_foundations
from seamwright.api import plan as proven_plan
from seamwright.api import read_block
from seamwright.block.model import Block
from seamwright.cli import main
from seamwright.errors import ProofError
from seamwright.fabric.model import Fabric
from seamwright.files.check import measure
from seamwright.files.layers import drawings_of
from seamwright.files.make import machine_files
from seamwright.files.model import FABRIC
from seamwright.files.svg import to_svg_file
from seamwright.foundation.directions import ARROW, BARS, MIRRORED
from seamwright.foundation.make import foundations
from seamwright.foundation.model import Foundation, FoundationPatch, Use
from seamwright.foundation.places import motions
from seamwright.geometry import moved
from seamwright.ink.model import Pen, Stroke, Words
from seamwright.options import PlanOptions, PrintOptions
from seamwright.piecing.model import Plan
from seamwright.piecing.plan import plan
from seamwright.sheet.layout import lay_out
from seamwright.sheet.pdf import to_pdf
from seamwright.sheet.readback import read_back
from support.exact import SQUARE6, exact_block
from support.prints import box_of, designs, faults_of, laid_back, words_of
from support.random_blocks import cut_block

DESIGNS = Path(__file__).parent.parent / "designs"
FRONT, WINDOWS = PrintOptions(unmirrored=True), PrintOptions(windows=True)


def striped(block: Block, deg: float, *, stripes: bool = True) -> Block:
    """The block with all of its fabrics, or one if it has none, running one way."""
    if not block.fabrics:
        patches = tuple(replace(p, fabric="waves") for p in block.patches)
        block = replace(block, patches=patches, fabrics=(Fabric("waves"),))
    return replace(block, fabrics=tuple(replace(f, direction_deg=deg, striped=stripes) for f in block.fabrics))


@cache
def planned(name: str, size: str, deg: float, stripes: bool) -> Plan:
    return proven_plan(striped(read_block(DESIGNS / name, size=size), deg, stripes=stripes))


def angle_of(patch: FoundationPatch) -> float:
    assert patch.direction is not None
    (ax, ay), (bx, by) = patch.direction
    return math.degrees(math.atan2(by - ay, bx - ax))


def apart_deg(one: float, other: float, *, stripes: bool) -> float:
    full = 180 if stripes else 360
    return min((one - other) % full, (other - one) % full)


def patches_printed(
    made: Plan, printing: PrintOptions | None = None
) -> list[tuple[int, Foundation, FoundationPatch]]:
    names = made.patch_names()
    return [(names.index(p.name), print_, p) for print_ in foundations(made, printing) for p in print_.patches]


# -- where it runs -------------------------------------------------------------------------------------------


@given(seed=st.integers(0, 10**6), deg=st.floats(-360, 360), stripes=st.booleans())
@settings(max_examples=12, deadline=None)
def test_a_mirrored_mark_is_the_reflection_of_the_fabrics_direction(seed: int, deg: float, stripes: bool) -> None:
    made = plan(striped(cut_block(seed, 6), deg, stripes=stripes))
    a = math.radians(deg)
    for patch, print_, printed in patches_printed(made):
        # The reflection worked out on its own: shapely turns the patch over about an upright line.
        across = -1.0 if print_.use is Use.SEW else 1.0
        shape = affine_transform(Polygon(made.block.patch_ring(patch)), [across, 0.0, 0.0, 1.0, 0.0, 0.0])
        there = Polygon(printed.outline)
        dx, dy = (there.bounds[k] - shape.bounds[k] for k in (0, 1))
        laid = affine_transform(shape, [1.0, 0.0, 0.0, 1.0, dx, dy])
        if laid.symmetric_difference(there).area < 1e-6:
            expected = math.degrees(math.atan2(math.sin(a), across * math.cos(a)))
            assert apart_deg(angle_of(printed), expected, stripes=stripes) < 1e-6
        else:
            assert abs(print_.front[0] - across) > 1e-9, "a later place of a print, which lies rotated on it"
        assert printed.striped is stripes


@pytest.mark.parametrize("stripes", [True, False])
@pytest.mark.parametrize("name", ["whirlpool.seams", "compass-star.seams"])
def test_each_place_of_a_print_has_a_mark_that_is_right_for_it(name: str, stripes: bool) -> None:
    made = planned(name, "8in", 25.0, stripes)
    for patch, print_, printed in patches_printed(made):
        # Its own affine lays the patch of this very place on the paper; the fabric's direction goes along.
        a, b, c, d, e, f = print_.front
        laid = affine_transform(Polygon(made.block.patch_ring(patch)), [a, c, b, d, e, f])
        assert laid.symmetric_difference(Polygon(printed.outline)).area < 0.02 * laid.length
        x, y = math.cos(math.radians(25)), math.sin(math.radians(25))
        expected = math.degrees(math.atan2(b * x + d * y, a * x + c * y))
        assert apart_deg(angle_of(printed), expected, stripes=stripes) < 0.2


def test_a_quarter_turn_parts_places_half_a_turn_parts_those_of_prints_with_a_top() -> None:
    for fabric, count in (
        (Fabric("sea"), 1),
        (Fabric("sea", direction_deg=10.0), 4),
        (Fabric("sea", direction_deg=10.0, striped=True), 2),
    ):
        block = read_block(DESIGNS / "whirlpool.seams", size="8in")
        made = plan(replace(block, fabrics=tuple(replace(fabric, name=f.name) for f in block.fabrics)))
        assert len({print_.label for print_ in foundations(made)}) == count
        assert len({section.print for section in made.sections}) == 1, "the plan's letters stay"


@pytest.mark.parametrize("printing", [FRONT, WINDOWS], ids=["views", "windows"])
def test_front_views_and_windows_show_the_direction_as_it_is(printing: PrintOptions) -> None:
    made = planned("kite.svg", "6in", 30.0, False)
    for _, print_, printed in patches_printed(made, printing):
        assert not print_.mirrored
        assert apart_deg(angle_of(printed), 30.0, stripes=False) < 1e-6
    if printing is WINDOWS:
        for print_ in foundations(made, printing):
            opening = Polygon(print_.stitch_outline)
            assert all(LineString(line).disjoint(opening) for p in print_.patches for line in p.mark)


def test_a_template_of_a_plain_piece_is_seen_from_the_front() -> None:
    made = plan(striped(exact_block([((0, 3), (6, 3))], SQUARE6), 30.0), PlanOptions(max_patches=1))
    prints = foundations(made)
    assert [p.use for p in prints] == [Use.CUT, Use.CUT]
    assert all(apart_deg(angle_of(print_.patches[0]), 30.0, stripes=True) < 1e-6 for print_ in prints)
    assert all(MIRRORED not in line for print_ in prints for line in print_.legend)


# -- how it looks --------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("name", "size"),
    [("kite.svg", "3in"), ("kite.svg", "12in"), ("compass-star.seams", "3in"), ("whirlpool.seams", "3in")],
)
def test_marks_lie_in_their_patch_clear_of_words_and_lines_or_are_told_of(name: str, size: str) -> None:
    for stripes in (True, False):
        made = planned(name, size, 25.0, stripes)
        for print_ in foundations(made):
            assert list(faults_of(print_)) == []
            boxes = [box_of(words) for words in words_of(print_)]
            for number, patch in enumerate(print_.patches, start=1):
                inside = Polygon(patch.outline).buffer(-1 / 72)
                for line in patch.mark:
                    assert LineString(line).within(inside)
                    assert all(LineString(line).distance(box) > 0.5 / 72 for box in boxes)
                    assert Stroke(Pen.RULE, line) in print_.ink
                told = rf"{print_.print}{'r' * print_.reversed}{number}\b.* (stripes run|print runs)"
                lost = [line for line in print_.legend if line.startswith(f"{print_.label}: in ")]
                assert bool(patch.mark) != any(re.search(told, line) for line in lost)
            kind = (BARS if stripes else ARROW) + MIRRORED * print_.mirrored
            assert print_.legend.count(kind) == any(patch.mark for patch in print_.patches)


def test_a_mark_is_long_enough_to_be_seen_and_most_patches_of_3_in_blocks_have_one() -> None:
    marked = shown = 0
    for name in ("kite.svg", "whirlpool.seams"):
        for print_ in foundations(planned(name, "3in", 25.0, True)):
            for patch in print_.patches:
                marked, shown = marked + 1, shown + bool(patch.mark)
                assert all(math.dist(*line) >= 0.15 - 1e-9 for line in patch.mark)
    assert shown >= 0.8 * marked


def test_a_sheet_says_once_what_the_marks_stand_for() -> None:
    made = planned("whirlpool.seams", "3in", 25.0, True)
    (sheet,) = lay_out([(made, foundations(made))])
    said = " ".join(ink.text for ink in sheet.ink if isinstance(ink, Words))
    assert said.count("two bars in a patch") == 1 and "barbed arrow" not in said
    other = replace(made, block=replace(made.block, name="eddy"), id="other")
    (sheet,) = lay_out([(made, foundations(made)), (other, foundations(other))])
    said = " ".join(ink.text for ink in sheet.ink if isinstance(ink, Words))
    assert "eddy" in said and said.count("two bars in a patch") == 1, "of two blocks, too"


def test_a_fabric_that_looks_the_same_all_ways_has_no_mark() -> None:
    for print_ in foundations(plan(read_block(DESIGNS / "kite.svg"))):
        assert all(p.direction is None and p.mark == () for p in print_.patches)


# -- in files ------------------------------------------------------------------------------------------------


def test_a_file_without_a_mark_or_with_one_moved_is_refused() -> None:
    made = planned("kite.svg", "6in", 25.0, True)
    sheets = lay_out([(made, foundations(made))])
    read_back(to_pdf(sheets, title="t", made_from="m"), sheets)
    (sheet,) = sheets
    placed = sheet.placed[0]
    line = tuple(moved(placed.affine, p) for p in placed.foundation.patches[0].mark[0])
    kept = tuple(m for m in sheet.ink if not (isinstance(m, Stroke) and m.points == line))
    assert len(kept) == len(sheet.ink) - 1
    longer = (*kept, Stroke(Pen.RULE, (line[0], (line[1][0] + 3, line[1][1]))))
    for ink in (kept, longer):
        changed = (replace(sheet, ink=ink),)
        with pytest.raises(ProofError, match="mark of a fabric's direction"):
            read_back(to_pdf(changed, title="t", made_from="m"), sheets)


def test_files_for_machines_hold_the_marks_and_are_measured_by_them() -> None:
    made = planned("kite.svg", "6in", 25.0, False)
    prints = foundations(made)
    files = machine_files([(made, prints)], lambda _: "mark")
    assert all(one.largest_error_mm < 0.01 for one in files)
    drawn, _ = drawings_of([(made, prints)])[0]
    gone = replace(
        drawn,
        layers=tuple(
            (layer, tuple(m for m in ink if layer != FABRIC or not isinstance(m, Stroke) or m.pen is not Pen.RULE))
            for layer, ink in drawn.layers
        ),
    )
    with pytest.raises(ProofError, match="mark of a fabric's direction on layer fabric of the SVG file"):
        measure(drawn, to_svg_file(gone, "mark"), files[0].dxf)


def test_the_data_tells_the_direction_on_the_sheet(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.chdir(tmp_path)
    Path("p.palette").write_text("seamwright palette 1\nfabric sky stripes 30\nfabric sea direction -90\n")
    assert main(["foundations", str(DESIGNS / "kite.svg"), "--palette", "p.palette", "-o", "o.pdf", "--json"]) == 0
    data = json.loads(capsys.readouterr().out)
    (sheet,) = data["sheets"]
    assert main(["check", str(DESIGNS / "kite.svg"), "--palette", "p.palette", "--json"]) == 0
    fabric_of = {p["name"]: p["fabric"] for p in json.loads(capsys.readouterr().out)[0]["patches"]}
    seen = set()
    for print_ in sheet["foundations"]:
        (gx, gy), (hx, hy) = print_["grain_pt"]
        for patch in print_["patches"]:
            fabric = fabric_of[patch["name"]]
            assert (patch["direction_pt"] is not None) == (fabric in ("sky", "sea"))
            if fabric == "sea":
                (ax, ay), (bx, by) = patch["direction_pt"]
                # Upright like the grain, which runs along the block's edge: told however the print is rotated.
                assert (
                    abs((bx - ax) * (hy - gy) - (by - ay) * (hx - gx)) < 1e-3
                    or abs((bx - ax) * (hx - gx) + (by - ay) * (hy - gy)) < 1e-3
                )
            seen.add((fabric, patch["striped"]))
    assert {("sky", True), ("sea", False), ("chalk", False)} <= seen


def test_places_of_one_print_are_laid_on_each_other_before_their_marks_are_compared() -> None:
    made = planned("whirlpool.seams", "8in", 25.0, True)
    one, other = made.sections[:2]
    assert one.print == other.print and motions(made.block, other.patches, one.patches)


def test_each_part_of_a_patch_that_is_pieced_beforehand_has_its_mark() -> None:
    block = read_block(DESIGNS / "kite.svg", size="6in")
    fabrics = tuple(
        replace(f, direction_deg={"sky": 30.0, "chalk": 90.0}.get(f.name), striped=f.name == "sky")
        for f in block.fabrics
    )
    drawn = replace(block, fabrics=fabrics)
    made = proven_plan(drawn, pre_pieced="A3+A2")
    (pieced,) = made.block.pre_pieced
    assert {part.fabric for part in pieced.parts} == {"sky", "chalk"}
    name = made.patch_names()[pieced.patch]
    (patch,) = [p for print_ in foundations(made) for p in print_.patches if p.name == name]
    # Two bars, and an arrow of a shaft with two pairs of barbs.
    assert len(patch.mark) == 5
    for print_ in foundations(made):
        if patch in print_.patches:
            lay = laid_back(print_)
            for part in pieced.parts:
                inside = [
                    line
                    for line in patch.mark
                    if LineString(map(lay, line)).within(Polygon(part.ring).buffer(1e-6))
                ]
                assert len(inside) == (2 if part.fabric == "sky" else 3)


@pytest.mark.long
@pytest.mark.parametrize("seed", range(8))
def test_whichever_way_fabrics_run_designs_are_printed_and_cut(seed: int) -> None:
    """Every print is rehearsed with the pieces that are cut, every list proven, whatever the stripes."""
    chance = random.Random(seed)
    names = [path.name for path in designs() if path.stem not in ("breakwater", "sea-urchin", "storm-rose")]
    for name in chance.sample(names, 6):
        block = read_block(DESIGNS / name, size=chance.choice(["3in", "6in", "9in", "20cm"]))
        ways = [None, 0.0, 45.0, -90.0, chance.uniform(-180, 180), chance.uniform(29.5, 30.5)]
        fabrics = [
            replace(f, direction_deg=chance.choice(ways), striped=chance.random() < 0.5) for f in block.fabrics
        ]
        options = chance.choice([{}, {"rotary": "auto"}, {"units": "metric"}, {"max_patches": "3"}])
        made = proven_plan(replace(block, fabrics=tuple(fabrics)), **options)
        prints = proven_foundations(made)
        assert {section.name for section in made.sections if section.method != "ruler"} == {
            p.section for p in prints
        }
        cutting(made)
        assert proven_foundations(made, WINDOWS)
