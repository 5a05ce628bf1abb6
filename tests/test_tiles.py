"""Foundations in parts: few of them, glued they are the whole again; and foundations enlarged for the wall."""

from __future__ import annotations

import math
import random
import re
from collections import Counter
from dataclasses import replace
from fractions import Fraction
from functools import cache
from itertools import combinations, pairwise
from pathlib import Path

import numpy as np
import pytest
import shapely
from hypothesis import example, given, settings
from hypothesis import strategies as st
from shapely.geometry import LineString, MultiPoint, Point, Polygon, box

from seamwright import api
from seamwright.asked import agreed
from seamwright.foundation.make import foundations
from seamwright.foundation.model import Foundation
from seamwright.geometry import moved
from seamwright.ink.lettering import words_box
from seamwright.ink.model import Area, Pen, Stroke, Words
from seamwright.options import Fit, PlanOptions, PrintOptions
from seamwright.piecing.model import Plan
from seamwright.piecing.plan import plan
from seamwright.sheet.assembly import assembly
from seamwright.sheet.keeping import kept_whole
from seamwright.sheet.layout import lay_out
from seamwright.sheet.model import Placed, Sheet
from seamwright.sheet.nest import rotation
from seamwright.sheet.parting import KEEP_OFF_PT, OVERLAP_PT, fewest, partings
from seamwright.sheet.tiling import Shown, Tiling, sides, tile
from support.by_hand import fan, foundations_by_hand, plan_by_hand, strips
from support.exact import exact_block

DESIGNS = Path(__file__).parent.parent / "designs"
MM = 72 / 25.4
LETTER = (576.0, 680.0)
"""About what letter paper leaves for a part, points."""


def as_one(block) -> tuple[Plan, tuple[Foundation, ...]]:
    """The whole block as one section, whatever a planner would say."""
    planned = plan_by_hand(block, [range(len(block.patches))])
    return planned, foundations_by_hand(planned)


def shown(foundation: Foundation, *, upright: bool = False) -> Shown:
    """What parting needs of a foundation at true size."""

    def at(points):
        return tuple((72 * x, 72 * y) for x, y in points)

    return Shown(
        foundation.label or foundation.section,
        at(foundation.trim_outline),
        tuple(
            replace(m, at=at([m.at])[0]) if isinstance(m, Words) else replace(m, points=at(m.points))
            for m in foundation.ink
            if not isinstance(m, Area)
        ),
        tuple(at(seam) for seam in (*foundation.seams, *sides(foundation.stitch_outline))),
        tuple(dict.fromkeys(p for patch in foundation.patches for p in at(patch.outline))),
        upright,
    )


@cache
def star() -> tuple[Plan, tuple[Foundation, ...]]:
    """A compass star of 30 in in as few sections as can be: each is larger than a sheet."""
    planned = api.plan(api.read_block(DESIGNS / "compass-star.seams", size="30in", fit="none"))
    return planned, foundations(planned)


QUICK = PrintOptions(effort=1)
"""How parts lie on sheets is tested elsewhere: here the first way does."""
RUNS = {
    "a fan": lambda: lay_out([as_one(fan(13, 8))], printing=QUICK),
    "a fan on A4": lambda: lay_out([as_one(fan(20, 6))], paper="a4", printing=QUICK),
    "a star of 30 in": lambda: lay_out([(star()[0], star()[1][:1])], printing=QUICK),
    "enlarged": lambda: lay_out([as_one(fan(6, 6))], printing=replace(QUICK, enlarge=2.5)),
}
_laid = cache(lambda name: RUNS[name]())
runs = pytest.mark.parametrize("name", RUNS)


def glued(name: str) -> list[tuple[Sheet, Placed, Polygon]]:
    """Parts of a run that print the first section, each with what is seen of it when all are glued.

    Worked out from the windows alone: parts are laid in order, row by row, each on top of those before it.
    """
    found = [(s, p) for s in _laid(name) for p in s.placed if p.tile and p.foundation.section == "A"]
    found.sort(key=lambda one: (one[1].tile.row, one[1].tile.column))
    windows = [box(*p.tile.window) for _, p in found]
    return [
        (sheet, placed, windows[n].difference(shapely.union_all(windows[n + 1 :])))
        for n, (sheet, placed) in enumerate(found)
    ]


def scale_of(placed: Placed) -> float:
    return math.hypot(*placed.affine[:2])


def back(placed: Placed, point):
    """A point of the sheet in the frame of the parts: the placement undone, the parts' own turn done."""
    a, b, c, d, e, f = placed.affine
    x, y = point[0] - e, point[1] - f
    determinant = a * d - b * c
    inch = ((d * x - c * y) / determinant, (a * y - b * x) / determinant)
    return in_frame(placed, inch)


def in_frame(placed: Placed, inch):
    scale = scale_of(placed)
    return moved(rotation(placed.tile.angle_deg), (inch[0] * scale, inch[1] * scale))


# -- few parts ----------------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("width", "height", "parts"),
    [
        # counted by hand: parts of at most 8 in across (or down), 1/2 in shared
        pytest.param(12, 8, 2, id="two side by side"),
        pytest.param(12, 12, 4, id="two by two"),
        pytest.param(15, 15, 4, id="two by two, to a hair"),
        pytest.param(16, 16, 6, id="two by three"),
    ],
)
def test_a_foundation_larger_than_the_sheet_comes_in_the_fewest_parts(width: int, height: int, parts: int) -> None:
    sheets = lay_out([as_one(strips(width, height, 4))], printing=QUICK)
    tiles = [p.tile for sheet in sheets for p in sheet.placed]
    assert len(tiles) == parts
    assert all(tile is not None and tile.of == parts for tile in tiles)


def _by_brute_force(ring, width: float, height: float) -> int:
    """Fewest rectangles of one regular grid that hold something, over angles and offsets of the grid.

    Each rectangle shares the overlap with those after it, so the grid steps on by what is left.
    """
    across, down = width - OVERLAP_PT, height - OVERLAP_PT
    least = 99
    for angle in range(0, 180, 5):
        turned = Polygon([moved(rotation(angle), p) for p in ring]).buffer(-0.01)
        left, top, right, bottom = turned.bounds
        shapely.prepare(turned)
        offsets = [(i / 7, j / 7) for i in range(7) for j in range(7)]
        for u, v in offsets:
            xs = np.arange(left - u * across, right, across)
            ys = np.arange(top - v * down, bottom, down)
            cells = shapely.box(
                *(g.ravel() for g in np.meshgrid(xs, ys)), *(g.ravel() for g in np.meshgrid(xs + across, ys + down))
            )
            least = min(least, int(shapely.intersects(turned, cells).sum()))
    return least


@pytest.mark.parametrize("seed", range(8))
def test_no_regular_grid_at_any_angle_and_offset_needs_fewer_parts(seed: int) -> None:
    chance = random.Random(seed)
    points = [(chance.uniform(0, 1900), chance.uniform(0, 1400)) for _ in range(chance.choice((3, 4, 7)))]
    ring = tuple((float(x), float(y)) for x, y in MultiPoint(points).convex_hull.exterior.coords[:-1])
    ring = ring if Polygon(ring).exterior.is_ccw else ring[::-1]
    tiling = tile(Shown("A", ring, (), (), ()), (LETTER,))
    assert len(tiling.parts) <= _by_brute_force(ring, *LETTER)
    _covers(ring, tiling, LETTER)


def _covers(ring, tiling: Tiling, most: tuple[float, float]) -> None:
    """What is seen of the parts is the whole, no part is too large, and each joint has paper to glue on."""
    turned = Polygon([moved(tiling.turn, p) for p in ring])
    seen = [Polygon(part.seen) for part in tiling.parts]
    assert shapely.union_all(seen).symmetric_difference(turned).area < 1
    assert sum(s.area for s in seen) == pytest.approx(turned.area, abs=1)
    for part in tiling.parts:
        left, top, right, bottom = part.window
        wide, high = sorted((right - left, bottom - top)), sorted(most)
        assert wide[0] <= high[0] + 1e-6 and wide[1] <= high[1] + 1e-6


def test_rows_are_parted_each_on_its_own_where_that_saves_parts() -> None:
    # A triangle of 20 in by 20 in: a row as wide as its own piece only, not as wide as the whole.
    triangle = ((0.0, 0.0), (1440.0, 1440.0), (0.0, 1440.0))
    assert fewest(triangle, 576.0, 576.0) == 6  # counted by hand: rows of 1, 2 and 3; a full grid holds 9


def test_a_part_that_would_hold_nothing_is_left_out() -> None:
    # An L: its two arms need a row of two and a row of one.
    corner = ((0.0, 0.0), (400.0, 0.0), (400.0, 500.0), (1000.0, 500.0), (1000.0, 1000.0), (0.0, 1000.0))
    tiling = tile(Shown("A", corner, (), (), ()), ((576.0, 576.0),))
    assert len(tiling.parts) == 3


@settings(derandomize=True, deadline=None, max_examples=150)
@given(
    length=st.integers(580, 4400),
    most=st.integers(200, 700),
    words=st.lists(st.tuples(st.integers(0, 4400), st.integers(1, 60)), max_size=12),
)
@example(length=1116, most=576, words=[])  # two parts to a hair
def test_parts_cover_a_length_with_overlap_and_are_as_few_as_can_be(length, most, words) -> None:
    def crossed(place: float) -> float:
        return float(sum(low < place < low + wide for low, wide in words))

    spans = partings(0.0, float(length), float(most), crossed)
    assert len(spans) == max(1, math.ceil((length - OVERLAP_PT) / (most - OVERLAP_PT)))
    assert (spans[0][0], spans[-1][1]) == (0.0, float(length))
    assert all(end - start <= most + 1e-5 for start, end in spans)
    assert all(before[1] - after[0] == pytest.approx(OVERLAP_PT) for before, after in pairwise(spans))


def test_an_upright_print_is_neither_laid_slantwise_nor_parted_at_an_angle() -> None:
    job = as_one(strips(10, 2, 3))
    upright = lay_out([job], printing=replace(QUICK, upright=True))
    assert all(p.tile and p.tile.angle_deg == 0 for sheet in upright for p in sheet.placed)
    assert lay_out([job], paper="a4", printing=replace(QUICK, upright=True))
    [foundation] = as_one(fan(20, 6))[1]
    assert tile(shown(foundation, upright=True), (LETTER,)).angle_deg == 0


# -- glued, the parts are the whole -------------------------------------------------------------------------------


@runs
def test_parts_glued_are_the_whole_foundation_line_for_line(name: str) -> None:
    parts = glued(name)
    placed = parts[0][1]
    # A sheet may hold other prints: only what lies on this part's own paper is this part's.
    paper = Polygon([in_frame(placed, p) for p in placed.foundation.trim_outline]).buffer(1)
    for pen, heavy in ((Pen.STITCH, Pen.WALL_STITCH), (Pen.TRIM, Pen.WALL_TRIM)):
        whole = [
            LineString([in_frame(placed, p) for p in (*m.points, *m.points[: m.closed])])
            for m in placed.foundation.ink
            if isinstance(m, Stroke) and m.pen is pen
        ]
        together = []
        for sheet, one, seen in parts:
            lines = [
                LineString([back(one, p) for p in (*m.points, *m.points[: m.closed])])
                for m in sheet.ink
                if isinstance(m, Stroke) and m.pen in (pen, heavy)
            ]
            together += [line.intersection(seen & paper) for line in lines if line.intersects(seen & paper)]
        others = [line for line in together if not line.is_empty]
        wanted, found = shapely.union_all(whole), shapely.union_all(others)
        near = 0.05 * MM
        assert wanted.difference(found.buffer(near)).length < 1e-6
        assert found.difference(wanted.buffer(near)).length < 1e-6


@runs
def test_parts_share_half_an_inch_and_their_crosses_lie_on_each_other(name: str) -> None:
    parts = glued(name)
    bars = []
    for sheet, placed, _ in parts:
        here = box(*placed.tile.window)
        lines = [
            LineString([back(placed, p) for p in m.points])
            for m in sheet.ink
            if isinstance(m, Stroke) and m.pen is Pen.RULE and len(m.points) == 2
        ]
        bars.append([b for b in lines if b.length == pytest.approx(10, abs=0.01) and here.buffer(0.01).covers(b)])
    met = 0
    for (m, (_, one, seen)), (n, (_, other, above)) in combinations(enumerate(parts), 2):
        if abs(one.tile.row - other.tile.row) + abs(one.tile.column - other.tile.column) == 0:
            continue
        touching = seen.intersection(above)
        paper = Polygon([in_frame(one, p) for p in one.foundation.trim_outline])
        if paper.intersection(touching).length < 100:
            continue
        shared = box(*one.tile.window).intersection(box(*other.tile.window))
        left, top, right, bottom = shared.bounds
        assert min(right - left, bottom - top) == pytest.approx(OVERLAP_PT)
        pairs = [a for a in bars[m] for b in bars[n] if a.hausdorff_distance(b) < 0.05 * MM and shared.covers(a)]
        assert len(pairs) >= 2, (one.tile, other.tile)
        met += 1
    assert met or len(parts) == 1


@runs
def test_every_word_is_seen_whole_when_the_parts_are_glued_and_only_once(name: str) -> None:
    parts = glued(name)
    wanted = Counter(m.text for m in parts[0][1].foundation.ink if isinstance(m, Words))
    found: Counter[str] = Counter()
    for sheet, placed, seen in parts:
        for mark in sheet.ink:
            if isinstance(mark, Words) and mark.text in wanted:
                spot = Polygon([back(placed, p) for p in words_box(mark, 1.0)])
                paper = Polygon([in_frame(placed, p) for p in placed.foundation.trim_outline])
                found[mark.text] += seen.buffer(0.01).covers(spot) and paper.covers(spot)
    assert found == wanted


@runs
def test_every_corner_of_every_patch_is_seen_and_lies_under_no_cut(name: str) -> None:
    parts = glued(name)
    placed = parts[0][1]
    corners = {in_frame(placed, p) for patch in placed.foundation.patches for p in patch.outline}
    for corner in corners:
        gaps = [seen.exterior.distance(Point(corner)) for _, _, seen in parts if seen.covers(Point(corner))]
        assert max(gaps) > KEEP_OFF_PT - 1e-6, corner


@runs
def test_no_parting_line_runs_along_a_stitch_line(name: str) -> None:
    parts = glued(name)
    placed = parts[0][1]
    seams = [LineString([in_frame(placed, p) for p in seam]) for seam in placed.foundation.seams]
    for (_, _, one), (_, _, other) in combinations(parts, 2):
        cut = one.intersection(other)
        if cut.length > 1:
            for seam in seams:
                assert seam.intersection(cut.buffer(KEEP_OFF_PT - 0.01)).length < 12 * KEEP_OFF_PT  # 10 degrees


def test_a_parting_line_goes_round_a_word_where_it_can() -> None:
    # In the middle, where an even parting would lie, stands a word; beside it there is room.
    spans = partings(0.0, 900.0, 576.0, lambda place: 1000.0 * (420 < place < 445))
    assert not 420 < spans[1][0] < 445


def test_a_parting_line_keeps_off_a_seam_in_the_very_middle() -> None:
    # Six strips of 2 1/2 in: a line in the very middle would run along the middle seam.
    whole, sheets = (lambda job: (job[1][0], lay_out([job], printing=QUICK)))(as_one(strips(12, 15, 6)))
    for part in (p.tile for s in sheets for p in s.placed):
        for start in (part.window[1],) if part.row > 1 else ():
            assert all(abs(start - 72 * a[1]) >= 6.0 for a, b in whole.seams if part.angle_deg == 0)


@runs
def test_every_part_says_what_it_is_on_its_own_paper(name: str) -> None:
    for sheet, placed, seen in glued(name):
        said = re.compile(rf"^.*\bA\b.* {placed.tile.row}\.{placed.tile.column}( of {placed.tile.of})?$")
        names = [
            Polygon([back(placed, p) for p in words_box(m, 1.0)])
            for m in sheet.ink
            if isinstance(m, Words) and said.match(m.text)
        ]
        assert any(seen.covers(spot) for spot in names) or seen.area < 2500


def test_names_in_the_picture_of_parts_cross_no_line_and_a_sliver_is_filled() -> None:
    # A slanting edge leaves a part that is a sliver: too small for its name in the picture.
    corners = ((0, 0), (30, 0), (30, 30), (0, 30))
    lines = [((0, 16), (30, 23)), ((0, 26), (15, Fraction(39, 2))), ((8, 0), (14, Fraction(289, 15)))]
    planned = plan(exact_block(lines, corners), PlanOptions())
    tilings = [tile(shown(whole), ((576.0, 576.0),)) for whole in foundations(planned)]
    assert sum(len(tiling.parts) for tiling in tilings) > 12
    filled = 0
    for tiling, part in ((one, part) for one in tilings for part in one.parts):
        for item in assembly(tiling, part, "A"):
            strokes = [LineString([*m.points, m.points[0]]) for m in item.ink if isinstance(m, Stroke)]
            names = [m for m in item.ink if isinstance(m, Words) and re.fullmatch(r"\d+\.\d+", m.text)]
            assert not any(line.intersects(Polygon(words_box(m, 1.0))) for line in strokes for m in names)
            fill = next(m for m in item.ink if isinstance(m, Area))
            filled += fill.colour == "#000000"
            assert (fill.colour == "#000000") == (f"{part.row}.{part.column}" not in {m.text for m in names})
    assert filled


# -- laid slantwise or parted -------------------------------------------------------------------------------------


def four_strips(fit: Fit) -> tuple[Sheet, ...]:
    jobs = [as_one(strips(10, 2, 2, f"strip {n}")) for n in range(4)]
    planned = [(replace(plan, options=replace(plan.options, fit=fit)), of) for plan, of in jobs]
    return lay_out(planned, printing=QUICK)


def test_what_goes_on_a_sheet_slantwise_is_not_parted_to_save_a_sheet() -> None:
    sheets = four_strips(Fit.SHEET)
    assert len(sheets) == 4 and not any(p.tile for sheet in sheets for p in sheet.placed)


def test_where_parts_are_allowed_slantwise_and_parted_are_compared_by_sheets() -> None:
    parted = four_strips(Fit.NONE)
    assert len(parted) == 3 and all(p.tile for sheet in parted for p in sheet.placed)
    plan, prints = as_one(strips(10, 2, 3))
    [sheet] = lay_out([(replace(plan, options=replace(plan.options, fit=Fit.NONE)), prints)], printing=QUICK)
    assert [p.tile for p in sheet.placed] == [None]


# -- enlarged for the wall ----------------------------------------------------------------------------------------


@cache
def beam() -> tuple[Plan, tuple[Foundation, ...]]:
    planned = api.plan(api.read_block(DESIGNS / "lighthouse-beam.svg"))
    whole = foundations(planned)
    return planned, (whole[0], whole[-1])  # a foundation and a plain piece


@cache
def on_the_wall() -> tuple[Sheet, ...]:
    return lay_out([beam()], printing=replace(QUICK, enlarge=3.0))


def test_every_enlarged_sheet_says_so_in_words_and_its_squares_and_lines_stay_true() -> None:
    for sheet in on_the_wall():
        words = " ".join(m.text for m in sheet.ink if isinstance(m, Words))
        assert "Enlarged 3 times, for the wall: not for sewing" in words
        assert "The squares and long lines are not enlarged" in words
        assert all(m.bold for m in sheet.ink if isinstance(m, Words) and m.text.startswith("Enlarged 3"))
        assert [side for _, _, side in sheet.check_squares_pt] == pytest.approx([72, 5 / 2.54 * 72])
        assert all(math.dist(*line) == pytest.approx(432) for line in sheet.check_lines_pt)
    usual = lay_out([beam()], printing=QUICK)
    assert not any("Enlarged" in m.text for s in usual for m in s.ink if isinstance(m, Words) and "times" in m.text)


def test_an_enlarged_print_is_the_same_plan_mirrored_as_students_have_it_three_times_as_large() -> None:
    seen = set()
    for placed in (p for sheet in on_the_wall() for p in sheet.placed):
        a, b, c, d, _, _ = placed.affine
        assert a * d - b * c == pytest.approx((3 * 72) ** 2)
        assert placed.foundation.mirrored == (placed.foundation.kind == "foundation")
        seen.add(placed.foundation)
    assert seen == set(beam()[1])


def test_enlarged_numbers_are_large_and_lines_heavy() -> None:
    words = [m for s in on_the_wall() for m in s.ink if isinstance(m, Words)]
    numbers = [m.size_pt for m in words if re.fullmatch("[A-E][1-9]", m.text)]
    # At the needle these numbers have 12 pt; on the wall they grow with the paper and the room in their patches.
    assert min(numbers) > 3 * 12
    stitched = {m.pen for s in on_the_wall() for m in s.ink if isinstance(m, Stroke)}
    assert Pen.WALL_STITCH in stitched and not {Pen.STITCH, Pen.TRIM} & stitched


def test_reading_back_takes_the_enlargement_of_the_sheet_and_no_other() -> None:
    from seamwright.errors import ProofError
    from seamwright.sheet.pdf import to_pdf
    from seamwright.sheet.readback import read_back

    sheets = _laid("enlarged")
    pdf = to_pdf(sheets, title="wall", made_from="by hand")
    assert read_back(pdf, sheets).largest_error_mm < 0.01
    for other in (1.0, 2.49, 2.51):
        with pytest.raises(ProofError, match="scaled"):
            read_back(pdf, [replace(sheet, enlarged=other) for sheet in sheets])


@pytest.mark.parametrize("turn", [0.0, 45.0, 90.0, 135.0])
@pytest.mark.parametrize("size_pt", [24.0, 48.0, 96.0])
def test_words_longer_than_every_part_shrink_and_stay_beside_what_they_speak_of(
    size_pt: float, turn: float
) -> None:
    parts = [(x, y, x + 400.0, y + 400.0) for x in range(0, 2000, 400) for y in range(0, 2000, 400)]
    words = Words("kite, 6 x 6 in · edge of block", (1000.0, 1000.0), size_pt, angle_deg=turn)
    [kept] = kept_whole([words], parts)
    assert isinstance(kept, Words)
    there = Polygon(words_box(kept, 1.0))
    assert any(box(*part).covers(there) for part in parts)
    before = Polygon(words_box(words, 1.0))
    left, top, right, bottom = before.bounds
    assert there.centroid.distance(before.centroid) <= math.hypot(right - left, bottom - top) / 2 + 24


@pytest.mark.long
@pytest.mark.parametrize("times", ["6", "12"])
def test_the_largest_enlargements_read_back_true(times: str, tmp_path: Path) -> None:
    planned = api.plan(api.read_block(DESIGNS / "kite.svg"))
    made = api.write_pdf(tmp_path / "wall.pdf", planned, enlarge=times)
    assert {p.foundation.section for s in made.sheets for p in s.placed} == {s.name for s in planned.sections}


@pytest.mark.parametrize(("text", "times"), [("3", 3.0), ("300%", 3.0), ("150%", 1.5), ("1", 1.0)])
def test_an_enlargement_is_read_in_times_or_per_cent(text: str, times: float) -> None:
    assert agreed(PrintOptions, [beam()[0]], {"enlarge": text}).enlarge == times
