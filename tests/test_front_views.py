"""Prints that are not sewn on: front views, templates of plain pieces, windows for choosing a motif, grey tints."""

from __future__ import annotations

import json
import math
import re
from collections.abc import Sequence
from dataclasses import replace
from functools import cache
from itertools import pairwise
from pathlib import Path

import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely.geometry import Polygon

from seamwright.api import lay_out, plan, read_block, write_pdf
from seamwright.block.model import Block
from seamwright.cli import main
from seamwright.fabric.model import Fabric, Value
from seamwright.fabric.rulers import plain_grain_deg, ruler_cut
from seamwright.fabric.shade import value_of
from seamwright.files.layers import drawings_of
from seamwright.foundation.make import foundations
from seamwright.foundation.model import Foundation, Use
from seamwright.foundation.purpose import NOT_FOR_SEWING, ON_SHEETS, TEMPLATE, TINTED, all_called, called
from seamwright.foundation.tints import GREYS, grey
from seamwright.foundation.windows import OPENING
from seamwright.geometry import Point, canonical_ring
from seamwright.ink.model import Area, Pen, Words
from seamwright.options import PlanOptions, PrintOptions, Sets, Stock, Units
from seamwright.piecing.model import Plan
from seamwright.piecing.plan import plan as make_plan
from seamwright.printnotes import print_notes
from seamwright.sheet.stock import needed
from seamwright.words.prints import foundations_words
from support.exact import SQUARE6, exact_block
from support.prints import DESIGNS, box_of, designs, faults_of, laid_back, planned, printed, strokes_of, words_of
from support.random_blocks import OUTLINES, random_lines

SAME_IN = 1e-9
SHARED_IN = 1e-5
"""Places of one print may differ by as little as the drawing's last digits."""
VIEWS, WINDOWS, TINTS = (PrintOptions(unmirrored=True), PrintOptions(windows=True), PrintOptions(tints=True))
SEWN = [path for path in designs() if path.stem not in ("breakwater", "sea-urchin")]
NAMES = [path.stem for path in SEWN]
SINGLE = PlanOptions(max_patches=1)
WITH_PLAIN = ("lamp", "lighthouse-beam", "reef", "spinnaker")


def path_of(name: str) -> Path:
    return next(path for path in SEWN if path.stem == name)


def plan_of(name: str) -> Plan:
    return planned(path_of(name))


def prints_of(name: str, how: PrintOptions = PrintOptions()) -> tuple[Foundation, ...]:  # noqa: B008
    return printed(path_of(name), printing=how)


def apart(points: Sequence[Point], others: Sequence[Point]) -> float:
    """The farthest that any point lies from its like."""
    return max((math.dist(p, q) for p, q in zip(points, others, strict=True)), default=0.0)


def sheet_words(made: Plan, **how: str | float | bool) -> str:
    """All words on the sheets of a plan, laid without much search."""
    sheets = lay_out(made, effort=1, **how)
    return " ".join(ink.text for sheet in sheets for ink in sheet.ink if isinstance(ink, Words))


def said_on(print_: Foundation) -> str:
    return " ".join([*(words.text for words in words_of(print_)), *print_.legend])


def fabrics(block: Block, *found: Fabric) -> Block:
    """The block with fabrics laid on its patches in turn."""
    patches = tuple(replace(p, fabric=found[i % len(found)].name) for i, p in enumerate(block.patches))
    return replace(block, patches=patches, fabrics=found)


# -- front views ---------------------------------------------------------------------------------------------


@pytest.mark.parametrize("name", NAMES)
def test_a_front_view_is_the_exact_mirror_image_of_its_foundation(name: str) -> None:
    for sewn, view in zip(prints_of(name), prints_of(name, VIEWS), strict=True):
        assert view.section == sewn.section
        if sewn.kind == "plain":
            assert view == sewn, "a template is a front view already"
            continue
        assert (sewn.use, sewn.mirrored, view.use, view.mirrored) == (Use.SEW, True, Use.VIEW, False)
        right = max(x for x, _ in sewn.trim_outline)

        def turned(points: tuple[Point, ...], right: float = right) -> list[Point]:
            return [(right - x, y) for x, y in points]

        rings = [(sewn.stitch_outline, view.stitch_outline), (sewn.trim_outline, view.trim_outline)]
        rings += [(a.outline, b.outline) for a, b in zip(sewn.patches, view.patches, strict=True)]
        for one, other in rings:
            assert other == canonical_ring(other), "clockwise as printed"
            assert apart(canonical_ring(turned(one)), other) < SAME_IN
        for lines, others in ((sewn.seams, view.seams), (sewn.marks, view.marks)):
            assert all(apart(turned(a), b) < SAME_IN for a, b in zip(lines, others, strict=True))
        assert [p.name for p in view.patches] == [p.name for p in sewn.patches]


@pytest.mark.parametrize("name", NAMES)
def test_front_views_laid_on_the_block_right_side_up_coincide_with_it_reversed_ones_too(name: str) -> None:
    made = plan_of(name)
    for view, section in zip(prints_of(name, VIEWS), made.sections, strict=True):
        a, b, c, d, _, _ = view.front
        assert a * d - b * c == pytest.approx(1), "rotated, never turned over"
        same = SAME_IN if section.place == 1 else SHARED_IN
        # The front from the patches alone, united by GEOS: another road than the one the print took.
        rings = [Polygon(made.block.patch_ring(p)) for p in section.patches]
        front = shapely.union_all(rings, grid_size=1e-10)
        back = Polygon([laid_back(view)(p) for p in view.stitch_outline])
        assert back.symmetric_difference(front).area < same * max(front.length, 10)
    if name == "gull":
        assert any(section.reversed for section in made.sections)


@pytest.mark.parametrize("name", NAMES)
def test_a_front_view_says_that_it_is_not_sewn_on_and_shows_nothing_for_the_needle(name: str) -> None:
    for view in (p for p in prints_of(name, VIEWS) if p.use is Use.VIEW):
        assert list(faults_of(view)) == []
        assert NOT_FOR_SEWING in said_on(view) or "front view, not for sewing on" in said_on(view)
        assert not any(word in said_on(view) for word in ("thread", "stop at", "sew past"))
        assert view.stops == ()
        boxes = [box_of(words) for words in words_of(view)]
        # A line to a number outside its patch starts at the number; all other helper lines are run-ons.
        for line in strokes_of(view, Pen.HELPER):
            assert any(box.distance(shapely.Point(line.coords[0])) < 1e-6 for box in boxes)


def test_a_sheet_of_front_views_says_so_and_a_sheet_of_foundations_does_not() -> None:
    made = plan_of("kite")
    assert ON_SHEETS[Use.VIEW] in sheet_words(made, unmirrored=True)
    assert not any(words in sheet_words(made) for words in ON_SHEETS.values())


@settings(derandomize=True, deadline=None, max_examples=6)
@given(seed=st.integers(0, 10_000), outline=st.sampled_from(sorted(OUTLINES)), lines=st.integers(2, 8))
def test_a_strict_eye_finds_nothing_on_views_and_templates_of_random_blocks(
    seed: int, outline: str, lines: int
) -> None:
    block = random_lines(seed, lines, OUTLINES[outline], whole=0.6)
    for options in (PlanOptions(), PlanOptions(max_patches=1)):
        for print_ in foundations(make_plan(block, options), PrintOptions(unmirrored=True, tints=True)):
            assert list(faults_of(print_)) == [], print_.section


# -- templates -----------------------------------------------------------------------------------------------


@pytest.mark.parametrize("name", WITH_PLAIN)
def test_a_template_has_its_seam_line_trim_line_grain_name_and_dots_at_the_seam_corners(name: str) -> None:
    made = plan_of(name)
    found = [p for p in prints_of(name) if p.kind == "plain"]
    assert found
    for print_ in found:
        assert (print_.use, print_.mirrored) == (Use.CUT, False)
        section = next(s for s in made.sections if s.name == print_.section)
        patch = made.block.patches[section.patches[0]]
        words = said_on(print_)
        assert TEMPLATE in words and print_.label in words.split() and (patch.fabric or "") in words
        arrows = [ink for ink in print_.ink if isinstance(ink, Area) and len(ink.rings[0]) == 3]
        assert len(arrows) == 1 or "straight grain" in words
        seam, trim = Polygon(print_.stitch_outline), Polygon(print_.trim_outline)
        assert trim.exterior.distance(seam) == pytest.approx(made.options.seam_allowance_in, abs=1e-6)
        spots = [Polygon(ink.rings[0]).centroid for ink in print_.ink if isinstance(ink, Area)]
        ring = print_.stitch_outline
        for before, corner, after in zip((*ring[-1:], *ring), ring, (*ring[1:], *ring[:1]), strict=False):
            ahead, on = (math.atan2(q[1] - p[1], q[0] - p[0]) for p, q in ((before, corner), (corner, after)))
            if abs(math.sin(ahead - on)) > math.sin(math.radians(20)):
                assert min(spot.distance(shapely.Point(corner)) for spot in spots) < 1e-6


@pytest.mark.parametrize("name", WITH_PLAIN)
def test_marks_of_a_template_coincide_with_those_of_the_mirrored_foundations_round_it(name: str) -> None:
    made, prints = plan_of(name), prints_of(name)
    block = [(laid_back(p), p) for p in prints]
    feet = {p.section: {(round(x, 6), round(y, 6)) for x, y in (on(a) for a, _ in p.marks)} for on, p in block}
    joined = shapely.union_all([Polygon(made.block.patch_ring(p)) for s in made.sections for p in s.patches])
    shared = 0
    for onto, print_ in block:
        if print_.kind != "plain":
            continue
        own = Polygon([onto(p) for p in print_.stitch_outline])
        for foot, tip in print_.marks:
            at = onto(foot)
            assert own.exterior.distance(shapely.Point(at)) < 1e-6
            assert not own.contains(shapely.Point(onto(tip)))
            if joined.exterior.distance(shapely.Point(at)) > 1e-6:
                others = [found for section, found in feet.items() if section != print_.section]
                assert any((round(at[0], 6), round(at[1], 6)) in found for found in others)
                shared += 1
    assert shared or name == "lighthouse-beam", "its lamp in the corner needs no marks"


# Sizes of a quilter's handbook at 1/4 in allowance (common practice): finished + 1/2 in each way; finished short
# side + 7/8 in, cut once; finished long side + 1 1/4 in, cut twice. Metric practice at 0.75 cm: finished + 1.5 cm;
# + 2.56 and + 3.62 cm, up to the next millimetre. At 3/8 in, s(2 + sqrt 2) = 1.280 and s(2 + 2 sqrt 2) = 1.811,
# up to the next 1/8 in.
@pytest.mark.parametrize(
    ("shape", "finished", "allowance", "units", "pieces", "across", "down"),
    [
        ("square", 3, 1 / 4, Units.INCH, 1, 3.5, 3.5),
        ("square", 4.625, 1 / 4, Units.INCH, 1, 5.125, 5.125),
        ("rectangle", 2, 1 / 4, Units.INCH, 1, 2.5, 4.5),
        ("half", 3, 1 / 4, Units.INCH, 2, 3.875, 3.875),
        ("half", 2.5, 1 / 4, Units.INCH, 2, 3.375, 3.375),
        ("quarter", 4, 1 / 4, Units.INCH, 4, 5.25, 5.25),
        ("square", 3, 3 / 8, Units.INCH, 1, 3.75, 3.75),
        ("half", 3, 3 / 8, Units.INCH, 2, 4.375, 4.375),
        ("quarter", 4, 3 / 8, Units.INCH, 4, 5.875, 5.875),
        ("square", 10 / 2.54, 0.75 / 2.54, Units.METRIC, 1, 11.5 / 2.54, 11.5 / 2.54),
        ("half", 10 / 2.54, 0.75 / 2.54, Units.METRIC, 2, 12.6 / 2.54, 12.6 / 2.54),
        ("quarter", 10 / 2.54, 0.75 / 2.54, Units.METRIC, 4, 13.7 / 2.54, 13.7 / 2.54),
    ],
)
@pytest.mark.parametrize("turn_deg", [0, 90, 17, 200])
def test_ruler_sizes_are_those_of_the_handbook(
    shape: str,
    finished: float,
    allowance: float,
    units: Units,
    pieces: int,
    across: float,
    down: float,
    turn_deg: int,
) -> None:
    ring = turned(SHAPES[shape], finished, turn_deg)
    cut = ruler_cut(ring, turn_deg, allowance, units)
    assert cut is not None and cut.pieces == pieces
    assert sorted((cut.width_in, cut.height_in)) == pytest.approx(sorted((across, down)), abs=1e-9)
    assert cut.is_generous == (pieces > 1 and allowance == 3 / 8)


SHAPES: dict[str, list[Point]] = {
    "square": [(0, 0), (1, 0), (1, 1), (0, 1)],
    "rectangle": [(0, 0), (1, 0), (1, 2), (0, 2)],
    "half": [(0, 0), (1, 0), (0, 1)],
    "quarter": [(0, 0), (1, 0), (0.5, 0.5)],
}


def turned(ring: list[Point], size: float, turn_deg: float) -> list[Point]:
    cos, sin = math.cos(math.radians(turn_deg)), math.sin(math.radians(turn_deg))
    return [(size * (x * cos - y * sin), size * (x * sin + y * cos)) for x, y in ring]


@pytest.mark.parametrize(
    ("ring", "grain_deg"),
    [
        pytest.param([(0, 0), (3.06, 0), (3.06, 3), (0, 3)], 0, id="no size of a ruler"),
        pytest.param([(0, 0), (3, 0), (3.1, 3), (0, 3)], 0, id="not square"),
        pytest.param([(0, 0), (3, 0), (4, 2), (1, 2)], 0, id="slanted"),
        pytest.param([(0, 0), (3, 0), (0, 2.5)], 0, id="legs not equal"),
        pytest.param([(0, 0), (3, 0), (1.5, 2.5)], 0, id="no right angle"),
        pytest.param([(0, 0), (3, 0), (3, 3), (0, 3)], 45, id="square on the bias"),
        pytest.param([(0, 0), (3, 0), (0, 3)], 20, id="grain along no side"),
        pytest.param([(0, 0), (3, 0), (0, 3)], 45, id="long side of 4.24 in on the grain"),
    ],
)
def test_what_a_ruler_does_not_show_is_cut_by_the_print(ring: list[Point], grain_deg: float) -> None:
    assert ruler_cut(ring, grain_deg, 1 / 4, Units.INCH) is None


@pytest.mark.parametrize("allowance", [1 / 4, 3 / 8, 1 / 8])
@pytest.mark.parametrize(("shape", "pieces"), [("half", 2), ("quarter", 4)])
def test_what_is_cut_from_a_square_covers_the_trim_line_and_hardly_more(
    shape: str, pieces: int, allowance: float
) -> None:
    ring = turned(SHAPES[shape], 4, 0)
    cut = ruler_cut(ring, 0, allowance, Units.INCH)
    assert cut is not None and cut.pieces == pieces
    # GEOS draws the trim line with whole tips, another road than the sums of the table.
    trim = Polygon(ring).buffer(allowance, join_style="mitre", mitre_limit=10)
    assert trim.area <= cut.width_in**2 / pieces + 1e-9
    side = math.sqrt(trim.area * pieces)
    assert cut.width_in - side < (0.05 if allowance == 1 / 4 else 1 / 8)


def test_an_inner_square_on_its_point_is_cut_along_its_own_sides() -> None:
    corners = [((3, 0), (6, 3)), ((6, 3), (3, 6)), ((3, 6), (0, 3)), ((0, 3), (3, 0))]
    made = make_plan(exact_block(corners, SQUARE6), PlanOptions(max_patches=1))
    middle = next(p for p in foundations(made) if len(p.stitch_outline) == 4)
    (ax, ay), (bx, by) = middle.grain
    assert abs(bx - ax) == pytest.approx(abs(by - ay))
    assert plain_grain_deg([(0, 0), (1, 0), (2, 3)]) is None


def test_a_print_says_the_rulers_size_or_that_it_is_a_template_only() -> None:
    lines = [((0, 2), (6, 2)), ((4, 0), (4, 2)), ((2, 2), (2, 6)), ((2, 4), (6, 4)), ((2, 4), (4, 6))]
    made = make_plan(exact_block(lines, SQUARE6), PlanOptions(max_patches=1))
    said = {p.section: said_on(p) for p in foundations(made)}
    told = [words for words in said.values() if "by ruler" in words]
    for size in ("by ruler 4½ x 2½ in", "by ruler 2½ x 2½ in", "by ruler half of a 2⅞ in square"):
        assert any(size in words for words in told)
    assert len(told) == len(said) - 1, "the piece with five corners"


def test_a_mirrored_plain_piece_is_a_template_of_its_own_so_that_none_is_turned_over() -> None:
    lines = [((3, 0), (3, 6)), ((0, 4), (3, 3)), ((3, 3), (6, 4))]
    made = make_plan(exact_block(lines, SQUARE6), PlanOptions(max_patches=1))
    prints = foundations(made)
    for print_, section in zip(prints, made.sections, strict=True):
        back = Polygon([laid_back(print_)(p) for p in print_.stitch_outline])
        front = Polygon(made.block.patch_ring(section.patches[0]))
        assert back.symmetric_difference(front).area < SAME_IN
    labels = {p.label for p in prints}
    assert {"Ar", "Br"} <= labels
    assert {p.label for p in needed(prints, Stock.PAPER)} == labels


NINE = [((0, 2), (6, 2)), ((0, 4), (6, 4)), ((2, 0), (2, 6)), ((4, 0), (4, 6))]


@cache
def nine_squares(*found: Fabric) -> Plan:
    """Nine squares of 2 in, in two fabrics by turns, each a plain piece."""
    return make_plan(fabrics(exact_block(NINE, SQUARE6), *found or (Fabric("sea"), Fabric("sky"))), SINGLE)


def test_plain_pieces_that_are_equal_have_one_template_that_says_how_many_to_cut() -> None:
    made = nine_squares()
    assert len(made.sections) == 9
    (sheet,) = lay_out(made, effort=1)
    found = {p.foundation.label: p.foundation for p in sheet.placed}
    assert sorted(len(print_.sections) for print_ in found.values()) == [4, 5] and len(sheet.placed) == 2
    for print_ in found.values():
        assert f"{TEMPLATE} {len(print_.sections)}" in said_on(print_)
        kinds = {made.block.patches[s.patches[0]].fabric for s in made.sections if s.name in print_.sections}
        assert len(kinds) == 1, "of one fabric"
    assert sorted(name for print_ in found.values() for name in print_.sections) == sorted(
        s.name for s in made.sections
    )
    words = " ".join(ink.text for ink in sheet.ink if isinstance(ink, Words))
    assert "A, 4 times" in words and "B, 5 times" in words
    assert sheet.title == "Sheet 1 of 1: A, B"


@pytest.mark.parametrize(
    ("sets", "prints", "said"),
    [(Sets.PACKED, [1, 1], " for each block"), (Sets.APART, [1, 1, 2, 2, 3, 3], "")],
    ids=["on shared sheets", "in sets"],
)
def test_copies_on_shared_sheets_share_templates_and_every_set_has_its_own(
    sets: Sets, prints: list[int], said: str
) -> None:
    placed = [p for sheet in lay_out(nine_squares(), copies=3, sets=sets.value, effort=1) for p in sheet.placed]
    assert sorted(p.copy for p in placed) == prints
    for one in placed:
        words = said_on(one.foundation)
        assert f"{TEMPLATE} {len(one.foundation.sections)}{said}" in words
        assert ("each block" in words) == bool(said)


def test_copies_of_foundations_are_all_printed_and_their_templates_once() -> None:
    made = plan_of("lighthouse-beam")
    placed = [p for sheet in lay_out(made, copies=2, effort=1) for p in sheet.placed]
    for section in made.sections:
        copies = {p.copy for p in placed if section.name in p.foundation.sections}
        assert copies == ({1} if section.kind == "plain" else {1, 2})


@pytest.mark.parametrize("name", [*WITH_PLAIN, "whirlpool", "compass-star"])
@pytest.mark.parametrize("options", [PlanOptions(), SINGLE], ids=["few", "single"])
def test_every_section_is_served_by_a_print_that_coincides_with_it(name: str, options: PlanOptions) -> None:
    made = planned(next(path for path in SEWN if path.stem == name), options)
    prints = {p.section: p for p in foundations(made)}
    served: dict[str, int] = {}
    for stock in Stock:
        kept = needed(tuple(prints.values()), stock)
        for one in kept:
            for section in one.sections:
                served[section] = served.get(section, 0) + 1
                # The place's own motion, from its own print, and the outline of the print that serves it.
                back = Polygon([laid_back(prints[section])(p) for p in one.stitch_outline])
                wanted = next(s for s in made.sections if s.name == section)
                front = shapely.union_all(
                    [Polygon(made.block.patch_ring(p)) for p in wanted.patches], grid_size=1e-10
                )
                assert back.symmetric_difference(front).area < SHARED_IN * max(front.length, 10)
        assert [s.name for s in made.sections if s.name not in served] == []
        templates = [p for p in kept if p.use is Use.CUT]
        assert len({p.label for p in templates}) == len(templates)
    assert {name: 2 for name in prints if prints[name].use is Use.CUT}.items() <= served.items()


@given(st.integers(0, 10**6), st.integers(1, 4))
@settings(max_examples=10, deadline=None)
def test_templates_together_tell_as_many_pieces_as_there_are(seed: int, lines: int) -> None:
    made = make_plan(random_lines(seed, lines, whole=0.9), SINGLE)
    kept = needed(foundations(made), Stock.PAPER)
    told = [int(re.search(rf"{TEMPLATE} (\d+)", said_on(p))[1]) for p in kept]
    assert told == [len(p.sections) for p in kept]
    assert sorted(name for p in kept for name in p.sections) == sorted(s.name for s in made.sections)


def test_fabric_that_runs_one_way_has_a_template_for_each_way_its_pieces_lie() -> None:
    quarters = exact_block([((0, 0), (6, 6)), ((6, 0), (0, 6))], SQUARE6)
    waves = Fabric("waves", direction_deg=0.0)
    # A half turn changes nothing of stripes, nor a quarter turn of fabric that looks the same all ways.
    for fabric, count in ((Fabric("sea"), 1), (waves, 4), (replace(waves, striped=True), 2)):
        prints = needed(foundations(make_plan(fabrics(quarters, fabric), SINGLE)), Stock.PAPER)
        assert len(prints) == count
        assert all(bool(print_.patches[0].mark) is (fabric.direction_deg is not None) for print_ in prints)
    assert len(needed(foundations(nine_squares(waves, Fabric("sky"))), Stock.PAPER)) == 2, "squares lie as drawn"


def test_a_file_of_a_template_is_not_printed_again_for_every_place(tmp_path: Path) -> None:
    made = nine_squares()
    for one, times in drawings_of([(made, foundations(made))]):
        told = " ".join(ink.text for _, inks in one.layers for ink in inks if isinstance(ink, Words))
        assert f"{TEMPLATE} {times}" in told and "print it" not in told
        assert times in (4, 5)


# -- windows -------------------------------------------------------------------------------------------------


def kinds_of(made: Plan) -> dict[object, int]:
    """How many patches there are of each fabric, shape, and direction of the grain: by sides and angles alone."""
    counts: dict[object, int] = {}
    grains = {p.section: p for p in foundations(made)}
    for section in made.sections:
        (gx, gy), (hx, hy) = grains[section.name].grain
        grain = math.degrees(math.atan2(hy - gy, hx - gx))
        # Where the section's print lies: the arrow, back in the block.
        a, b, c, d, _, _ = grains[section.name].front
        ux, uy = math.cos(math.radians(grain)), math.sin(math.radians(grain))
        grain = math.degrees(math.atan2(c * ux + d * uy, a * ux + b * uy))
        for patch in section.patches:
            ring = canonical_ring(made.block.patch_ring(patch), 1e-4)
            sides = [math.dist(p, q) for p, q in pairwise((*ring, ring[0]))]
            ways = [math.degrees(math.atan2(q[1] - p[1], q[0] - p[0])) for p, q in pairwise((*ring, ring[0]))]
            bends = [(after - before) % 360 for before, after in zip(ways[-1:] + ways, ways, strict=False)]
            slants = [(way - grain) % 90 for way in ways]
            rounds = [
                (round(s, 2), round(turn), round(slant) % 90)
                for s, turn, slant in zip(sides, bends, slants, strict=True)
            ]
            shape = min(tuple(rounds[k:] + rounds[:k]) for k in range(len(rounds)))
            key = (made.block.patches[patch].fabric, shape)
            counts[key] = counts.get(key, 0) + 1
    return counts


@pytest.mark.parametrize("name", [name for name in NAMES if name != "lamp"])
def test_there_is_one_window_for_all_equal_patches_and_it_says_how_many(name: str) -> None:
    made, windows = plan_of(name), prints_of(name, WINDOWS)
    kinds = kinds_of(made)
    assert len(windows) == len(kinds)
    said = []
    for window in windows:
        before, times, _ = said_on(window).partition(" times")
        said.append(int(before.split()[-1]) if times else 1)
    assert sorted(said) == sorted(kinds.values())
    names = [name for window in windows for name in (window.label, *window.also_for)]
    assert sorted(names) == sorted(made.patch_names())
    assert said == [1 + len(window.also_for) for window in windows]


@pytest.mark.parametrize("name", NAMES)
def test_an_opening_is_the_finished_patch_and_its_frame_one_allowance_wide(name: str) -> None:
    made, windows = plan_of(name), prints_of(name, WINDOWS)
    number = {patch: n for n, patch in enumerate(made.patch_names())}
    order = [made.patch_names()[patch] for section in made.sections for patch in section.patches]
    assert [w.label for w in windows] == [name for name in order if name in {w.label for w in windows}]
    allowance = made.options.seam_allowance_in
    for window in windows:
        assert (window.use, window.mirrored, window.seams, window.marks) == (Use.WINDOW, False, (), ())
        patch = Polygon(made.block.patch_ring(number[window.label]))
        back = Polygon([laid_back(window)(p) for p in window.stitch_outline])
        assert back.symmetric_difference(patch).area < SAME_IN * 10
        opening, outer = Polygon(window.stitch_outline), Polygon(window.trim_outline)
        assert outer.exterior.distance(opening) == pytest.approx(allowance, abs=1e-6)
        # GEOS: nothing within the allowance is cut away, however sharp the tip.
        assert outer.buffer(1e-6).contains(opening.buffer(allowance, quad_segs=32))
        assert [patch.outline for patch in window.patches] == [window.stitch_outline]


@pytest.mark.parametrize("name", NAMES)
def test_all_words_of_a_window_lie_on_its_frame_since_the_opening_is_cut_out(name: str) -> None:
    for window in prints_of(name, WINDOWS):
        assert [fault for fault in faults_of(window) if "number" not in fault] == []
        opening = Polygon(window.stitch_outline)
        inside = [w.text for w in words_of(window) if box_of(w).intersects(opening)]
        assert " ".join(inside) in ("", OPENING)
        (name_,) = (w for w in words_of(window) if w.text == window.label)
        assert name_.bold and name_.size_pt >= 7


def test_a_mirror_image_and_another_fabric_have_windows_of_their_own() -> None:
    lines = [((3, 0), (3, 6)), ((0, 4), (3, 3)), ((3, 3), (6, 4))]
    block = exact_block(lines, SQUARE6)
    one = make_plan(fabrics(block, Fabric("sea")))
    assert len(foundations(one, WINDOWS)) == 4, "two shapes, each with its mirror image"
    halves = exact_block([((0, 3), (6, 3))], SQUARE6)
    assert len(foundations(make_plan(fabrics(halves, Fabric("sea"))), WINDOWS)) == 1
    assert len(foundations(make_plan(fabrics(halves, Fabric("sea"), Fabric("sky"))), WINDOWS)) == 2


def test_a_print_that_runs_one_way_has_a_window_for_each_way_its_patches_lie() -> None:
    quarters = exact_block([((0, 0), (6, 6)), ((6, 0), (0, 6))], SQUARE6)
    for fabric, count in ((Fabric("sea"), 1), (Fabric("waves", direction_deg=0.0), 4)):
        assert len(foundations(make_plan(fabrics(quarters, fabric)), WINDOWS)) == count


def test_a_small_patch_has_a_window_with_its_name() -> None:
    lines = [((0, 3), (6, 3)), ((3, 0), (3, 3)), ((3, 2.75), (6, 2.75)), ((3.25, 2.75), (3.25, 3))]
    windows = foundations(make_plan(fabrics(exact_block(lines, SQUARE6), Fabric("a name far too long"))), WINDOWS)
    small = min(windows, key=lambda w: Polygon(w.stitch_outline).area)
    assert Polygon(small.stitch_outline).area == pytest.approx(1 / 16)
    assert small.label in [w.text for w in words_of(small)]
    assert "a name far too long" in said_on(small) or "ANF" in said_on(small)


def test_sheets_of_windows_tell_how_they_are_cut_and_that_children_need_help() -> None:
    told = sheet_words(make_plan(exact_block([((0, 3), (6, 3))], SQUARE6)), windows=True)
    for words in ("craft knife on a mat", "blade away from your fingers", "children need help"):
        assert words in told
    for window in prints_of("lighthouse-beam", WINDOWS):
        larger = any("by 1/4 in on every side, at least" in line for line in window.legend)
        assert larger == (window.kind == "foundation")
        assert larger != any("cut along the outer edge of the frame" in line for line in window.legend)


# -- tints ---------------------------------------------------------------------------------------------------


def test_tints_are_at_most_15_per_cent_grey_and_words_stay_legible_on_them() -> None:
    assert set(GREYS) == set(Value)
    assert GREYS[Value.LIGHT] < GREYS[Value.MEDIUM] < GREYS[Value.DARK]
    for per_cent in GREYS.values():
        level = int(grey(per_cent)[1:3], 16)
        assert level >= 0.85 * 255
        # WCAG 2.1: relative luminance and contrast; black words, 4.5 to 1 at least.
        share = level / 255
        luminance = share / 12.92 if share <= 0.03928 else ((share + 0.055) / 1.055) ** 2.4
        assert (luminance + 0.05) / 0.05 >= 4.5


@pytest.mark.parametrize("name", ["gull", "whirlpool", "compass-star", "reef"])
def test_every_patch_is_tinted_by_the_value_of_its_fabric_beneath_all_else(name: str) -> None:
    made = plan_of(name)
    known = {fabric.name: value_of(fabric) for fabric in made.block.fabrics}
    for print_, plain, section in zip(prints_of(name, TINTS), prints_of(name), made.sections, strict=True):
        assert replace(print_, ink=plain.ink) == plain, "tints change nothing else"
        tints = print_.ink[: len(print_.ink) - len(plain.ink)]
        assert print_.ink[len(tints) :] == plain.ink
        wanted = [
            (patch.outline, grey(GREYS[value]))
            for patch, number in zip(print_.patches, section.patches, strict=True)
            if (value := known.get(made.block.patches[number].fabric or "")) is not None
        ]
        assert wanted
        assert len(tints) == len(wanted)
        for tint, (outline, colour) in zip(tints, wanted, strict=True):
            assert isinstance(tint, Area) and tint.colour == colour
            assert Polygon(tint.rings[0]).symmetric_difference(Polygon(outline)).area < SAME_IN


def test_a_patch_stays_white_where_nothing_is_known_of_its_fabric() -> None:
    block = exact_block([((0, 3), (6, 3))], SQUARE6)
    found = (Fabric("sea", value=Value.DARK), Fabric("a scrap"))
    (print_,) = foundations(make_plan(fabrics(block, *found)), TINTS)
    assert [ink.colour for ink in print_.ink if isinstance(ink, Area) and len(ink.rings[0]) == 4] == ["#dadada"]
    assert foundations(make_plan(block), TINTS) == foundations(make_plan(block))


# CIE 15:2004: L* 0 is black, 100 white; the scale in thirds. Greys of L* 20, 50 and 80 by IEC 61966-2-1.
@pytest.mark.parametrize(
    ("colour", "value"), [("#303030", Value.DARK), ("#777777", Value.MEDIUM), ("#c6c6c6", Value.LIGHT)]
)
def test_a_value_that_is_not_said_follows_from_the_colour(colour: str, value: Value) -> None:
    assert value_of(Fabric(colour, colour=colour)) is value
    assert value_of(Fabric("said", colour=colour, value=Value.MEDIUM)) is Value.MEDIUM
    assert value_of(Fabric("bare")) is None


def test_ink_is_saved_rather_than_tints_printed() -> None:
    both = PrintOptions(tints=True, ink_saver=True)
    made = plan_of("pennant")
    areas = [ink for p in foundations(made, both) for ink in p.ink if isinstance(ink, Area)]
    assert {area.colour for area in areas} == {"#000000"}
    for how, told in (({"tints": True}, True), ({"tints": True, "ink_saver": True}, False), ({}, False)):
        assert (TINTED in sheet_words(made, **how)) == told


# -- files and data ------------------------------------------------------------------------------------------


@pytest.mark.parametrize("how", [{}, {"unmirrored": True, "tints": True}, {"windows": True}], ids=str)
def test_a_file_of_such_prints_reads_back_true(how: dict[str, bool], tmp_path: Path) -> None:
    made = plan(read_block(DESIGNS / "pennant.svg"), max_patches=2)
    printed = write_pdf(tmp_path / "out.pdf", made, effort=1, **how)
    assert printed.measured.largest_error_mm <= 0.05
    from pypdf import PdfReader

    title = PdfReader(tmp_path / "out.pdf").metadata.title
    assert title == f"pennant: {all_called(PrintOptions(**how))}"


@pytest.mark.parametrize(("how", "use"), [(VIEWS, Use.VIEW), (WINDOWS, Use.WINDOW), (TINTS, Use.SEW)])
def test_a_file_of_one_print_says_what_a_sheet_of_it_would(how: PrintOptions, use: Use) -> None:
    made = plan_of("pennant")
    for one, _ in drawings_of([(made, foundations(made, how))]):
        told = " ".join(ink.text for _, inks in one.layers for ink in inks if isinstance(ink, Words))
        assert ON_SHEETS.get(use, TINTED) in told


@pytest.mark.parametrize(
    ("asked", "uses"),
    [
        ([], {"foundation": ("sew on", True), "plain": ("cut by", False)}),
        (["--unmirrored"], {"foundation": ("front view", False), "plain": ("cut by", False)}),
        (["--windows"], {"foundation": ("window", False), "plain": ("window", False)}),
    ],
)
def test_the_data_say_what_each_print_is_for(
    asked: list[str],
    uses: dict[str, tuple[str, bool]],
    tmp_path: Path,
    capsys: pytest.CaptureFixture[str],
) -> None:
    shared = ["--json", "--max-patches", "3", "--effort", "1"]
    out = ["-o", str(tmp_path / "out.pdf")]
    assert main(["foundations", str(DESIGNS / "pennant.svg"), *out, *shared, *asked]) == 0
    found = [one for sheet in json.loads(capsys.readouterr().out)["sheets"] for one in sheet["foundations"]]
    assert {one["kind"]: (one["use"], one["mirrored"]) for one in found} == uses
    for one in found:
        assert Polygon(one["stitch_outline_pt"]).exterior.is_ccw, "clockwise as seen, y down"


@pytest.mark.parametrize(
    ("how", "told"),
    [
        ({}, "1 foundation."),
        ({"unmirrored": True}, "front views, not for sewing on"),
        ({"windows": True}, ": 4 windows, one for each patch."),
    ],
    ids=["sewn", "seen", "windows"],
)
def test_one_is_told_what_was_printed(how: dict[str, bool], told: str, tmp_path: Path) -> None:
    printed = write_pdf(tmp_path / "out.pdf", plan_of("pennant"), effort=1, **how)
    assert told in foundations_words(printed)[1]


@pytest.mark.parametrize(
    ("name", "how", "told"),
    [
        (
            "kite",
            {"tints": True},
            "kite: 8 patches stay white, for nothing says how chalk, ink, sea, signal and sky read;",
        ),
        ("kite", {}, ""),
        ("kite", {"tints": True, "ink_saver": True}, ""),
        ("pennant", {"tints": True}, ""),
    ],
)
def test_one_is_told_which_patches_no_tint_is_known_for(
    name: str, how: dict[str, bool], told: str, tmp_path: Path
) -> None:
    printed = write_pdf(tmp_path / "out.pdf", plan_of(name), effort=1, **how)
    assert told in " ".join(foundations_words(printed))
    assert [note.code for note in print_notes(printed) if note.code == "tints"] == ["tints"] * bool(told)


def test_prints_are_called_what_they_are() -> None:
    names = {called(p) for how in (PrintOptions(), VIEWS, WINDOWS) for p in prints_of("lighthouse-beam", how)}
    assert {"Section A", "Plain piece E", "Section A, front view", "Window A1", "Window E1"} <= names
