"""Foundations laid back on the block they come from, and judged as a strict teacher would."""

from __future__ import annotations

import math
import os
import subprocess
import sys
from dataclasses import replace
from fractions import Fraction
from functools import cache
from pathlib import Path

import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely.affinity import translate
from shapely.geometry import LineString, Polygon

from seamwright.block.model import Block
from seamwright.fabric.model import Fabric
from seamwright.foundation.codes import fabric_codes
from seamwright.foundation.common import printed_letter
from seamwright.foundation.make import foundations
from seamwright.foundation.model import Foundation
from seamwright.foundation.printed import upright_deg
from seamwright.foundation.purpose import TEMPLATE
from seamwright.foundation.words import ordinal
from seamwright.geometry import canonical_ring
from seamwright.ink.lettering import words_box
from seamwright.ink.model import Area, Pen
from seamwright.options import Fit, PlanOptions, Units
from seamwright.piecing.model import Plan
from seamwright.piecing.plan import plan
from support.exact import SQUARE6, exact_block
from support.prints import (
    DESIGNS,
    designs,
    faults_of,
    laid_back,
    patch_polygon,
    planned,
    printed,
    strokes_of,
    words_of,
)
from support.random_blocks import OUTLINES, random_lines, spiral, star

SAME_IN = 1e-9
SHARED_IN = 1e-5
"""Places of one print may differ by as little as the drawing's last digits."""
ONE_FOUNDATION = PlanOptions(fit=Fit.NONE)
"""However large: what is on the print is looked at, not how it finds room."""


def fabrics(block: Block, *names: str) -> Block:
    """The block with fabrics laid on its patches in turn."""
    patches = tuple(replace(p, fabric=names[i % len(names)]) for i, p in enumerate(block.patches))
    return replace(block, patches=patches, fabrics=tuple(Fabric(name) for name in names))


def half() -> Fraction:
    return Fraction(1, 2)


def fan() -> Block:
    """Twelve wedges of half an inch that meet in one point."""
    lines = [((1 + i * half(), 0), (4, 8)) for i in range(13)]
    return exact_block(lines, [(0, 0), (8, 0), (8, 8), (0, 8)], "fan")


def reef_teeth() -> Block:
    """Sixty-eight spikes, four rows."""
    rows = [((0, y), (8, y)) for y in (2, 4, 6)]
    spikes = [
        line
        for row in range(4)
        for i in range(8)
        for line in (((i, 2 * row + 2), (i + half(), 2 * row)), ((i + half(), 2 * row), (i + 1, 2 * row + 2)))
    ]
    return fabrics(exact_block(rows + spikes, [(0, 0), (8, 0), (8, 8), (0, 8)], "reef teeth"), "reef", "deep water")


def needles() -> Block:
    """Patches a sixteenth of an inch wide."""
    lines = [((0, 3), (6, 3))]
    lines += [((1 + Fraction(i, 8), 3), (1 + Fraction(i, 8) + Fraction(1, 16), 6)) for i in range(8)]
    lines += [((0, Fraction(9, 10)), (3, 0)), ((0, 1), (Fraction(10, 3), 0))]
    return fabrics(exact_block(lines, SQUARE6, "needles"), "reef", "sand")


def inch() -> Block:
    """A block of one inch."""
    lines = [((0, 0), (1, 1)), ((half(), 0), (half(), half())), ((0, Fraction(3, 4)), (half(), half()))]
    return fabrics(exact_block(lines, [(0, 0), (1, 0), (1, 1), (0, 1)], "inch"), "a very long fabric name", "sand")


def ell() -> Block:
    """An inside corner at which two seams must stop dead."""
    lines = [((3, 3), (2, 6)), ((3, 3), (6, 1)), ((0, 2), (3, 0))]
    return exact_block(lines, OUTLINES["L"], "ell")


def cabin() -> Block:
    """Strips round a middle."""
    return spiral(9)


def rays() -> Block:
    """Lines that all run through one point."""
    return star(4)


HARD = {make.__name__: make for make in (fan, reef_teeth, needles, inch, ell, cabin, rays)}
DRAWN = {path.stem: path for path in designs() if path.stem not in ("breakwater", "sea-urchin", "lamp")}
NAMES = [*DRAWN, *HARD]


@cache
def plan_of(name: str) -> Plan:
    """The plan of one of the project's designs that can be pieced, or of a hard case."""
    return planned(DRAWN[name]) if name in DRAWN else plan(HARD[name](), ONE_FOUNDATION)


@cache
def prints_of(name: str) -> tuple[Foundation, ...]:
    """Its prints."""
    return printed(DRAWN[name]) if name in DRAWN else foundations(plan_of(name))


@pytest.mark.parametrize("name", NAMES)
def test_a_print_mirrored_back_coincides_with_the_block(name: str) -> None:
    made = plan_of(name)
    block = made.block
    prints = prints_of(name)
    assert [p.section for p in prints] == [s.name for s in made.sections]
    for print_, section in zip(prints, made.sections, strict=True):
        assert print_.mirrored == (print_.kind == "foundation")
        same = SAME_IN if section.place == 1 else SHARED_IN
        # The front from the patches alone, united by GEOS: another road than the one the print took.
        front = shapely.union_all([Polygon(block.patch_ring(p)) for p in section.patches], grid_size=1e-10)
        onto = laid_back(print_)
        back = [onto(p) for p in print_.stitch_outline]
        assert Polygon(back).symmetric_difference(front).area < same * max(front.length, 10)
        for x, y in back:
            assert min(math.dist((x, y), p) for p in block.points) < same
        for shown, step in zip(print_.patches, section.steps, strict=True):
            corners = canonical_ring(block.patch_ring(step.patch))
            mirrored = [onto(p) for p in shown.outline]
            assert len(mirrored) == len(corners)
            assert all(min(math.dist(p, corner) for corner in corners) < same for p in mirrored)
        for seam, step in zip(print_.seams, section.steps[1:], strict=True):
            ends = {step.stitch[0], step.stitch[-1]}
            assert all(min(math.dist(onto(p), block.points[end]) for end in ends) < same for p in seam)


@pytest.mark.parametrize("name", NAMES)
def test_rings_run_clockwise_from_the_top_and_the_trim_box_starts_at_the_origin(name: str) -> None:
    for print_ in prints_of(name):
        for ring in (print_.stitch_outline, print_.trim_outline, *(p.outline for p in print_.patches)):
            assert ring == canonical_ring(ring)
        assert min(x for x, _ in print_.trim_outline) == pytest.approx(0, abs=1e-6)
        assert min(y for _, y in print_.trim_outline) == pytest.approx(0, abs=1e-6)


@pytest.mark.parametrize("name", NAMES)
def test_a_strict_eye_finds_nothing_to_send_back(name: str) -> None:
    for print_ in prints_of(name):
        assert list(faults_of(print_)) == [], print_.section


@settings(derandomize=True, deadline=None, max_examples=25)
@given(seed=st.integers(0, 10_000), outline=st.sampled_from(sorted(OUTLINES)), lines=st.integers(2, 9))
def test_a_strict_eye_finds_nothing_on_random_blocks_either(seed: int, outline: str, lines: int) -> None:
    made = plan(random_lines(seed, lines, OUTLINES[outline], whole=0.6))
    for print_ in foundations(made):
        assert list(faults_of(print_)) == [], print_.section


@pytest.mark.long
@pytest.mark.parametrize("first", range(0, 400, 50))
def test_a_strict_eye_finds_nothing_on_many_random_blocks(first: int) -> None:
    for seed in range(first, first + 50):
        for outline in OUTLINES.values():
            for print_ in foundations(plan(random_lines(seed, 3 + seed % 7, outline, whole=0.6))):
                assert list(faults_of(print_)) == [], (seed, print_.section)


@pytest.mark.parametrize("name", NAMES)
def test_every_print_shows_its_lines_and_its_letter(name: str) -> None:
    for print_ in prints_of(name):
        stitched = shapely.union_all(strokes_of(print_, Pen.STITCH))
        assert all(LineString(seam).within(stitched.buffer(1e-9)) for seam in print_.seams)
        assert len(strokes_of(print_, Pen.TRIM)) == 1
        marks = strokes_of(print_, Pen.MARK)
        assert len(marks) == len(print_.marks)
        letters = [w for w in words_of(print_) if w.text == print_.label and w.bold]
        assert len(letters) == 1


@pytest.mark.parametrize("name", NAMES)
def test_stitching_starts_and_stops_a_quarter_inch_off_or_at_the_trim_line(name: str) -> None:
    for print_ in prints_of(name):
        paper, stitch = Polygon(print_.trim_outline), Polygon(print_.stitch_outline)
        shown = strokes_of(print_, Pen.HELPER, Pen.STITCH)
        for a, b in print_.seams:
            length = math.dist(a, b)
            for start, end in ((a, b), (b, a)):
                ux, uy = (end[0] - start[0]) / length, (end[1] - start[1]) / length
                ahead = shapely.Point(end[0] + 0.03 * ux, end[1] + 0.03 * uy)
                if stitch.contains(ahead):
                    continue  # inside it may give way to a number, or stop dead at an inside corner
                lines = [line for line in shown if line.distance(ahead) < 1e-6]
                assert lines, (print_.section, end)
                reach = max(line.hausdorff_distance(shapely.Point(end)) for line in lines)
                assert reach >= 0.25 - 1e-6
                if not any(line.within(stitch.exterior.buffer(1e-6)) for line in lines):
                    assert min(paper.exterior.distance(line) for line in lines) < 1e-6


def test_run_ons_inside_reach_a_quarter_inch_and_never_past_the_trim_line() -> None:
    (print_,) = prints_of("cabin")
    inside = [
        line
        for line in strokes_of(print_, Pen.HELPER)
        if Polygon(print_.stitch_outline).buffer(-1e-6).contains(line.interpolate(0.5, normalized=True))
    ]
    assert len(inside) > 4
    assert max(line.length for line in inside) <= 0.25 + 1e-9
    assert sorted(line.length for line in inside)[len(inside) // 2] == pytest.approx(0.25)


def test_stitching_stops_dead_at_an_inside_corner() -> None:
    (print_,) = prints_of("ell")
    dots = [ink for ink in print_.ink if isinstance(ink, Area) and len(ink.rings[0]) == 12]
    assert len(dots) == 1
    assert any("stop at the large dot" in line for line in print_.legend)
    corner = shapely.Point(3 + 0.25, 3 + 0.25)
    assert Polygon(dots[0].rings[0]).contains(corner)
    assert not [line for line in strokes_of(print_, Pen.HELPER) if line.distance(corner) < 1e-6]


def test_a_patch_too_narrow_for_its_number_has_a_leader() -> None:
    prints = foundations(plan(needles()))
    helpers = [line for p in prints for line in strokes_of(p, Pen.HELPER)]
    dots = [ink for p in prints for ink in p.ink if isinstance(ink, Area) and len(ink.rings[0]) == 12]
    assert dots
    for dot in dots:
        assert any(Polygon(dot.rings[0]).intersects(line) for line in helpers)


@pytest.mark.parametrize("name", NAMES)
def test_type_has_its_sizes(name: str) -> None:
    for print_ in prints_of(name):
        for words in words_of(print_):
            if words.bold and words.text == print_.label:
                assert words.size_pt in (18, 14, 12)
            elif words.bold:
                assert words.size_pt in range(7, 13)
            else:
                assert words.size_pt in (7, 8)


def test_a_roomy_patch_has_its_number_at_full_size_with_its_letter() -> None:
    for print_ in prints_of("kite"):
        numbers = {w.text: w for w in words_of(print_) if w.bold}
        for patch in print_.patches:
            assert numbers[patch.name].size_pt == 12
            assert patch_polygon(patch.outline).contains(Polygon(words_box(numbers[patch.name])))


def test_six_and_nine_are_underlined_and_others_are_not() -> None:
    (print_,) = foundations(plan(fan(), ONE_FOUNDATION))
    lined = {w.text.lstrip("A") for w in words_of(print_) if w.bold and w.underline}
    assert lined == {"6", "9"}


def test_each_join_says_its_neighbour_and_its_place_in_the_order() -> None:
    lines = [((0, 2), (6, 2)), ((3, 0), (3, 2)), ((3, 2), (3, 6)), ((0, 0), (3, 2)), ((3, 6), (6, 2))]
    made = plan(exact_block(lines))
    assert len(made.joins) >= 1
    texts = {p.section: [w.text for w in words_of(p)] for p in foundations(made)}
    for place, join in enumerate(made.joins, start=1):
        if "+" not in join.first + join.second:
            assert f"{ordinal(place)}: to {join.second}" in texts[join.first]
            assert f"{ordinal(place)}: to {join.first}" in texts[join.second]


@pytest.mark.parametrize("name", NAMES)
def test_every_neighbour_is_named_on_the_print_or_in_its_legend(name: str) -> None:
    made = plan_of(name)
    by_name = {section.name: section for section in made.sections}
    section_of = {patch: section.name for section in made.sections for patch in section.patches}
    for print_, section in zip(prints_of(name), made.sections, strict=True):
        neighbours = {
            section_of[other]
            for edge in made.block.edges
            for one, other in ((edge.left, edge.right), (edge.right, edge.left))
            if one in section.patches and other >= 0 and section_of[other] != section.name
        }
        said = {word for w in words_of(print_) if not w.bold for word in w.text.split()[-1:]}
        said |= {word.strip(",") for line in print_.legend if " joins " in line for word in line.split()[2:]}
        # A drawing that serves several places may name the letter only, where the place is another each time.
        shared = sum(other.ink == print_.ink for other in prints_of(name)) > 1
        assert all(n in said or (shared and printed_letter(by_name[n]) in said) for n in neighbours)


@pytest.mark.parametrize("name", NAMES)
def test_the_grain_arrow_is_parallel_to_an_edge_of_the_block(name: str) -> None:
    made = plan_of(name)
    outline = made.block.outline_ring()
    sides = [math.atan2(b[1] - a[1], b[0] - a[0]) for a, b in zip(outline, outline[1:] + outline[:1], strict=True)]
    for print_ in foundations(made):
        (ax, ay), (bx, by) = print_.grain
        angle = math.atan2(by - ay, ax - bx if print_.mirrored else bx - ax)
        assert min(abs(math.sin(angle - side)) for side in sides) < 1e-6
        heads = [ink for ink in print_.ink if isinstance(ink, Area) and len(ink.rings[0]) == 3]
        assert len(heads) == 1 or any("straight grain" in line for line in print_.legend)
        for head in heads:
            assert Polygon(head.rings[0]).distance(shapely.Point(bx, by)) < 1e-9


def test_the_grain_follows_a_slanted_edge_that_the_section_has() -> None:
    made = plan(exact_block([((3, 0), (3, 6))], OUTLINES["triangle"]))
    for print_ in foundations(made):
        (ax, ay), (bx, by) = print_.grain
        assert abs((by - ay) / (bx - ax)) == pytest.approx(2)  # the long slanted side rather than the base


def plain_plan() -> Plan:
    grid = [((0, 3), (6, 3)), ((3, 0), (3, 6)), ((0, 0), (3, 3)), ((3, 0), (6, 3)), ((0, 3), (3, 6))]
    return plan(fabrics(exact_block(grid, SQUARE6, "plain sailing"), "sky"))


def test_a_plain_piece_says_how_it_is_used() -> None:
    prints = [p for p in foundations(plain_plan()) if p.kind == "plain"] + [
        p for p in prints_of("lighthouse-beam") if p.kind == "plain"
    ]
    assert prints
    for print_ in prints:
        said = " ".join(w.text for w in words_of(print_)) + " ".join(print_.legend)
        assert TEMPLATE in said
        assert not print_.mirrored


def test_an_uneven_plain_piece_is_printed_as_it_shows_in_the_block() -> None:
    made = plan_of("lighthouse-beam")
    section = next(s for s in made.sections if s.kind == "plain")
    print_ = next(p for p in foundations(made) if p.section == section.name)
    front = Polygon(made.block.patch_ring(section.patches[0]))
    flat = Polygon(print_.stitch_outline)
    there = translate(flat, front.bounds[0] - flat.bounds[0], front.bounds[1] - flat.bounds[1])
    assert there.symmetric_difference(front).area < 1e-9


def test_long_fabric_names_become_codes_with_a_legend() -> None:
    print_ = foundations(plan(fabrics(reef_teeth(), "a fabric with a name as long as this", "reef")))[0]
    texts = [w.text for w in words_of(print_)]
    assert "AFW" in texts
    assert "reef" in texts
    assert "AFW = a fabric with a name as long as this" in print_.legend
    assert len(set(print_.legend)) == len(print_.legend)


def test_a_fabric_known_by_its_colour_only_is_not_printed() -> None:
    for print_ in foundations(plan(fabrics(star(4), "#3366cc"))):
        assert not [w for w in words_of(print_) if "#" in w.text]
        assert not [line for line in print_.legend if "#" in line]


def test_codes_are_short_and_all_different() -> None:
    names = ["sea foam", "sun fade", "storm", "stone", "st", "S", "sea fog", "海", "!!", "deep water", "dawn wind"]
    codes = fabric_codes([Fabric(name) for name in names] + [Fabric("mine", code="SF")])
    assert len(set(codes.values())) == len(names) + 1
    assert codes["mine"] == "SF"
    assert all(1 <= len(code) <= 4 for code in codes.values())


@pytest.mark.parametrize("allowance", [0.0, 0.05, 0.125, 0.25, 0.375, 0.75 / 2.54, 0.5, 2.0])
def test_any_allowance_gives_good_prints(allowance: float) -> None:
    made = planned(DESIGNS / "kite.svg", PlanOptions(allowance_in=allowance))
    for print_ in foundations(made):
        assert list(faults_of(print_)) == []


def test_metric_prints_say_the_size_in_centimetres() -> None:
    made = planned(DESIGNS / "kite.svg", PlanOptions(units=Units.METRIC))
    texts = " ".join(w.text for p in foundations(made) for w in words_of(p))
    assert " cm" in texts
    assert " in " not in texts


def test_a_stuck_drawing_has_no_foundations() -> None:
    assert foundations(planned(DESIGNS / "breakwater.seams")) == ()


def test_the_same_plan_gives_the_same_prints_whatever_the_hash_seed() -> None:
    code = (
        "from support.prints import *; from seamwright.foundation.make import foundations; import hashlib;"
        "print(hashlib.sha256(repr(foundations(planned(DESIGNS / 'gull.svg'))).encode()).hexdigest())"
    )
    out = set()
    for seed in ("1", "77"):
        env = os.environ | {"PYTHONHASHSEED": seed, "PYTHONPATH": str(Path(__file__).parent)}
        run = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, env=env, check=True)
        out.add(run.stdout)
    assert len(out) == 1


@pytest.mark.parametrize("angle", range(-360, 361, 15))
def test_words_along_an_edge_are_upright_or_read_from_below(angle: int) -> None:
    upright = upright_deg(angle)
    assert -90 <= upright < 90
    assert math.isclose(abs(math.sin(math.radians(upright - angle))), 0, abs_tol=1e-9)


def test_names_of_odd_characters_break_nothing() -> None:
    block = replace(fabrics(star(3), "海 Ж\x07", "a\nb", ""), name="naïve 海\x00")
    for print_ in foundations(plan(block)):
        assert list(faults_of(print_)) == []


def test_a_block_with_a_long_name_in_small_patches_is_named_in_several_lines() -> None:
    block = replace(exact_block([((0, 2), (6, 4))]), name="big wave of the northern harbour wall")
    small = replace(block, points=tuple((x / 2, y / 2) for x, y in block.points))
    for made in foundations(plan(small)):
        said = " ".join(words.text for words in words_of(made))
        assert all(word in said for word in block.name.split()), said
