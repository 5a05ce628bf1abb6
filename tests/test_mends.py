"""Mends: the smallest changes that free what is stuck, the fewest extra patches, and laws that hold for them."""

from __future__ import annotations

import math
import random
from dataclasses import replace
from itertools import combinations

import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st

from seamwright import mending
from seamwright.block.make import make_block
from seamwright.block.model import Block
from seamwright.drawing.model import Drawing, Line
from seamwright.drawing.textform import read_seams
from seamwright.geometry import Point
from seamwright.mend import find, prove
from seamwright.mend.apply import apply_mends
from seamwright.mend.chord import chords, cut_along
from seamwright.mend.extra import at_least, fewest_extra
from seamwright.mend.find import find_mends
from seamwright.mend.move import farthest
from seamwright.mend.region import Points, Region, stuck_parts
from seamwright.piecing.decide import decide
from seamwright.piecing.model import Mend
from seamwright.piecing.plan import plan
from seamwright.piecing.seammap import SeamMap
from support.drawn import seam_lines
from support.random_blocks import mixed_blocks, rectangulation_block, rectangulations
from support.stuck import Seg, bent, cells_of_points, coloured, pinwheels, ring_block, square_block, stuck_region

PINWHEEL = [((0, 2), (4, 2)), ((4, 0), (4, 4)), ((2, 4), (6, 4)), ((2, 2), (2, 6))]
ISLAND = [((2, 2), (4, 2)), ((4, 2), (4, 4)), ((4, 4), (2, 4)), ((2, 4), (2, 2))]


def mends_of(block: Block) -> tuple[Mend, ...]:
    return find_mends(plan(block)).mends


# -- the fewest extra patches --------------------------------------------------------------------------------


def stuck_rectangulations(points: int) -> list[Region]:
    blocks = map(rectangulation_block, rectangulations(points))
    return [stuck_region(block) for block in blocks if decide(SeamMap(block)).stuck]


# Baxter numbers (OEIS A001181) less large Schroeder numbers (OEIS A006318): how many divisions of a square by
# segments through n points of its diagonal no guillotine makes; see Ackerman, Barequet, Pinter, "On the number of
# rectangulations of a planar point set", J. Combin. Theory A 113 (2006).
@pytest.mark.parametrize(("points", "stuck"), [(3, 0), (4, 92 - 90), (5, 422 - 394)])
def test_every_stuck_rectangulation_needs_exactly_one_extra_patch(points: int, stuck: int) -> None:
    regions = stuck_rectangulations(points)
    assert len(regions) == stuck
    assert [fewest_extra(region).count for region in regions] == [1] * stuck


@pytest.mark.long
def test_every_stuck_rectangulation_of_six_points_needs_exactly_one_extra_patch() -> None:
    regions = stuck_rectangulations(6)
    assert len(regions) == 2074 - 1806
    assert {fewest_extra(region).count for region in regions} == {1}


def test_an_island_square_costs_three_patches() -> None:
    # Each side of it must lie on a seam that runs to the edge, and one seam can serve two sides.
    found = fewest_extra(stuck_region(square_block(ISLAND)))
    assert (found.count, found.exhaustive) == (3, True)


@pytest.mark.parametrize("seed", [3, 18, 21])
def test_no_fewer_extra_patches_would_do(seed: int) -> None:
    """One chord at a time through any two points of the block, drawn, read and cut by the planner itself."""
    block = cells_of_points(seed, 5 + seed % 3)
    region = stuck_region(block)
    found = fewest_extra(region, steps=10**7)
    needed = found.count or found.tried + 1
    assert found.exhaustive
    assert at_least(region) <= needed
    lines = seam_lines(block)
    freed = []
    for chord in single_chords(block):
        made = make_block(Drawing("", "", tuple(Line(a, b) for a, b in [*lines, chord]), exact=True))
        extra = len(made.patches) - len(block.patches)
        if not decide(SeamMap(made)).stuck:
            freed.append(extra)
    assert min(freed, default=99) >= needed


def single_chords(block: Block) -> list[tuple[Point, Point]]:
    """From edge to edge of the block through any two of its points."""
    outline = shapely.Polygon(block.outline_ring())
    found = []
    for a, b in combinations(block.points, 2):
        reach = 20 / math.dist(a, b)
        dx, dy = (b[0] - a[0]) * reach, (b[1] - a[1]) * reach
        run = shapely.LineString([(a[0] - dx, a[1] - dy), (b[0] + dx, b[1] + dy)]).intersection(outline)
        if isinstance(run, shapely.LineString) and run.length > 0.5:
            found.append((run.coords[0], run.coords[-1]))
    return found


@pytest.mark.parametrize(("rings", "needed"), [(0, 1), (1, 2), (2, 3), (3, None), (5, None)])
def test_rings_within_rings_need_a_patch_each_and_are_searched_to_the_end(rings: int, needed: int | None) -> None:
    """Four seams in a ring, and in `rings` of the five patches the same again: a chord opens one ring only."""
    lines: list[Seg] = []
    for x, y, width, height in [(0.0, 0.0, 20.0, 20.0), *windmill(0, 0, 20, 20)[:rings]]:
        a, b, c, d = x + 0.35 * width, x + 0.63 * width, y + 0.38 * height, y + 0.66 * height
        lines += [((x, c), (b, c)), ((b, y), (b, d))]
        lines += [((x + width, d), (a, d)), ((a, y + height), (a, c))]
    region = stuck_region(square_block(lines, 20.0))
    found = fewest_extra(region)
    assert len(region.faces) == 5 + 4 * rings
    assert (found.count, found.exhaustive) == (needed, True)


def windmill(x: float, y: float, width: float, height: float) -> list[tuple[float, float, float, float]]:
    """The five patches of such a ring as (left, top, width, height), the middle last."""
    a, b, c, d = x + 0.35 * width, x + 0.63 * width, y + 0.38 * height, y + 0.66 * height
    right, bottom = x + width, y + height
    return [
        (x, y, b - x, c - y),
        (b, y, right - b, d - y),
        (a, d, right - a, bottom - d),
        (x, c, a - x, bottom - c),
        (a, c, b - a, d - c),
    ]


def test_a_search_that_ends_at_its_limit_says_so() -> None:
    region = stuck_region(square_block(ISLAND))
    found = fewest_extra(region, steps=20)
    assert (found.count, found.exhaustive) == (None, False)


def test_no_mend_is_said_with_how_far_the_search_went() -> None:
    found = find_mends(plan(cells_of_points(0, 9)))
    assert found.mends == ()
    (note,) = found.notes
    assert "no mend with up to three extra patches" in note.text


def test_a_cut_of_a_region_keeps_its_area_and_counts_its_faces() -> None:
    chance = random.Random(7)
    for block in mixed_blocks(3, 12):
        at = Points(dict(enumerate(block.points)))
        region = Region(at, tuple((p.ring, *p.holes) for p in block.patches))
        a, b = chance.sample(block.points, 2)
        for run in chords(region, (a, b), 99):
            made, more = cut_along(region, run)
            faces = [face for part in made for face in part.faces]
            assert len(made) == 2
            assert len(faces) == len(region.faces) + more
            assert sum(area(at, f) for f in faces) == pytest.approx(sum(area(at, f) for f in region.faces))


def area(at: Points, face: tuple[tuple[int, ...], ...]) -> float:
    outer, *holes = ([at[p] for p in ring] for ring in face)
    return float(shapely.Polygon(outer, holes).area)


def test_what_is_stuck_in_a_region_is_what_is_stuck_in_the_block() -> None:
    for block in [*mixed_blocks(11, 60), *(cells_of_points(seed, 7) for seed in range(6))]:
        region = Region(Points(dict(enumerate(block.points))), tuple((p.ring, *p.holes) for p in block.patches))
        stuck = [sorted(region.faces.index(f) for f in part.faces) for part in stuck_parts(region)]
        assert sorted(stuck) == sorted(map(list, decide(SeamMap(block)).stuck))


# -- points moved --------------------------------------------------------------------------------------------


def test_a_y_that_is_nearly_straight_is_moved_by_a_tenth_of_an_inch() -> None:
    first = mends_of(bent(0.1))[0]
    assert first.kind == "move a point"
    ((old, new),) = first.moved
    assert old == pytest.approx((3, 2.1))
    assert new == pytest.approx((3, 2))
    assert first.text == "Move the point at (3, 2 1/8) in by about 3/32 in up, to (3, 2)."


def test_a_move_too_small_for_a_ruler_names_no_second_place_that_reads_the_same() -> None:
    first = mends_of(bent(0.004))[0]
    assert first.text == "Move the point at (3, 2) in by under 1/32 in up."


@settings(derandomize=True, deadline=None, max_examples=12)
@given(off=st.floats(0.08, 0.24), turn=st.floats(0, 360), mirrored=st.booleans())
def test_the_least_move_is_found_however_the_drawing_lies(off: float, turn: float, mirrored: bool) -> None:
    block = turned(bent(off), turn, mirrored)
    first = mends_of(block)[0]
    assert first.kind == "move a point"
    (old, new), *_ = first.moved
    assert math.dist(old, new) == pytest.approx(off, abs=1e-6)


def turned(block: Block, degrees: float, mirrored: bool) -> Block:
    cos, sin = math.cos(math.radians(degrees)), math.sin(math.radians(degrees))

    def to(p: Point) -> Point:
        x, y = (-p[0] if mirrored else p[0]), p[1]
        return (cos * x - sin * y, sin * x + cos * y)

    lines = [(block.points[s.points[0]], block.points[s.points[-1]]) for s in block.seams]
    return ring_block([(to(a), to(b)) for a, b in lines], [to(p) for p in block.outline_ring()])


def test_no_point_moves_further_than_a_quarter_inch_in_a_small_block() -> None:
    assert farthest(bent(0.1)) == 0.25
    assert [m.kind for m in mends_of(bent(0.3)) if m.kind == "move a point"] == []


def test_in_a_large_block_a_point_may_move_by_three_in_a_hundred_if_little_turns() -> None:
    assert farthest(bent(0.4, side=20)) == pytest.approx(0.6)
    assert mends_of(bent(0.4, side=20))[0].kind == "move a point"
    # Among small patches the same way is too far: it would turn their seams by many degrees.
    assert all(m.kind != "move a point" for m in mends_of(pinwheels(2, 12)))


def test_what_ends_on_a_seam_that_turns_slides_along() -> None:
    lines = [((0, 2), (3, 2.1)), ((3, 2.1), (6, 2)), ((3, 2.1), (3, 6)), ((1.5, 0), (1.5, 2.05))]
    first = mends_of(square_block(lines))[0]
    places = {(round(a[0], 6), round(a[1], 6)): b for a, b in first.moved}
    assert places[1.5, 2.05] == pytest.approx((1.5, 2))
    assert "slides along" in first.text


def test_a_wobbly_line_is_made_straight_by_two_moves() -> None:
    arms = [((0, 2), (2, 2.15)), ((2, 2.15), (4, 1.85)), ((4, 1.85), (6, 2))]
    block = square_block([*arms, ((2, 2.15), (2, 6)), ((4, 1.85), (4, 6))])
    first = mends_of(block)[0]
    assert [new for _, new in first.moved] == [pytest.approx((2, 2)), pytest.approx((4, 2))]
    assert first.text.startswith("Move the point at (2, 2 1/8) in by about 5/32 in up, to (2, 2), and the point at")


def test_two_bends_apart_from_each_other_are_moved_one_after_the_other() -> None:
    # A cross of which both lines have a bend, one to each side of where they would meet.
    left: list[Seg] = [((0, 2), (2, 2.15)), ((2, 2.15), (6, 2)), ((2, 2.15), (2, 0))]
    right: list[Seg] = [((4, 2.075), (4.15, 4)), ((4.15, 4), (4, 6)), ((4.15, 4), (6, 4))]
    block = square_block([*left, *right])
    assert len(plan(block).obstructions) == 1
    first = mends_of(block)[0]
    assert first.kind == "move a point"
    assert plan(apply_mends(block, [first])).pieceable


def test_seams_that_miss_each_other_by_a_little_are_brought_together() -> None:
    # A ring that opens once the two uprights meet on the level seam between them.
    lines = [((0, 2), (4, 2)), ((4, 0), (4, 4)), ((1.9, 4), (6, 4)), ((2, 2), (1.9, 4)), ((2.1, 4), (2.2, 6))]
    lines += [((0, 4), (1.9, 4)), ((1, 4), (1, 2))]
    block = square_block(lines)
    for mend in mends_of(block):
        assert not decide(SeamMap(apply_mends(block, [mend]))).stuck


# -- seams left out, parts sewn on top --------------------------------------------------------------------------


def test_a_seam_between_patches_of_one_fabric_may_go() -> None:
    block = square_block([((0, 3), (2, 3)), ((2, 3), (2, 6)), ((4, 0), (4, 6))])
    dropped = [m for m in mends_of(in_fabrics(block, "sea")) if m.kind == "drop a seam"]
    assert [m.extra_patches for m in dropped] == [-1]
    assert "both sides are sea" in dropped[0].text
    assert all(m.kind != "drop a seam" for m in mends_of(in_fabrics(block, "sea", "sky", "ink")))
    # Nothing is known of the fabrics: then it is said what must hold.
    assert any("if the patches on both sides are cut from one fabric" in m.text for m in mends_of(block))


def in_fabrics(block: Block, *names: str) -> Block:
    patches = tuple(replace(p, fabric=names[n % len(names)]) for n, p in enumerate(block.patches))
    return replace(block, patches=patches)


def test_an_island_may_be_sewn_on_top() -> None:
    block = square_block([*ISLAND, ((0, 5), (6, 5.5))])
    mend = next(m for m in mends_of(block) if m.kind == "applique")
    assert mend.extra_patches == -1
    assert len(apply_mends(block, [mend]).patches) == 2
    assert "on top" in mend.text


# -- all of them ------------------------------------------------------------------------------------------------


def test_a_drawing_that_can_be_sewn_has_no_mends() -> None:
    assert mending.mends(plan(square_block([((0, 3), (6, 3))]))) == ()


def test_alike_mends_are_shown_once_and_counted() -> None:
    (mend,) = (m for m in mends_of(square_block(PINWHEEL)) if m.extra_patches == 1)
    assert mend.text.endswith("Any one of 4 places like it will do.")


def test_at_most_five_are_shown_of_one_region() -> None:
    for seed in range(4):
        block = coloured(cells_of_points(seed, 4), seed)
        assert len(mends_of(block)) <= 5


def test_every_region_has_its_mend_and_one_for_each_frees_the_drawing() -> None:
    block = pinwheels(7, 6)
    made = plan(block)
    found = mending.mends(made)
    assert {m.obstruction for m in found} == {o.number for o in made.obstructions} == set(range(1, 8))
    first = [next(m for m in found if m.obstruction == o.number) for o in made.obstructions]
    assert plan(apply_mends(block, first)).pieceable
    left = plan(apply_mends(block, first[:-2]))
    assert len(left.obstructions) == 2


def test_numbers_run_from_one_and_moves_come_before_new_seams() -> None:
    found = mends_of(bent(0.1))
    assert [m.number for m in found] == list(range(1, len(found) + 1))
    order = ["move a point", "continue a seam", "add a seam", "drop a seam", "applique"]
    ranks = [order.index(m.kind) for m in found]
    assert ranks == sorted(ranks)


def stuck_blocks() -> list[Block]:
    blocks = [b for b in mixed_blocks(5, 150) if decide(SeamMap(b)).stuck]
    return [coloured(b, n) for n, b in enumerate(blocks)]


def test_a_mend_does_what_it_says_and_nothing_else() -> None:
    checked = 0
    for block in stuck_blocks()[:20]:
        made = plan(block)
        for mend in mending.mends(made):
            after = apply_mends(block, [mend])
            assert len(after.patches) == len(block.patches) + mend.extra_patches
            assert len(plan(after).obstructions) == len(made.obstructions) - 1
            assert all(math.dist(a, b) <= farthest(block) + 1e-9 for a, b in mend.moved)
            checked += 1
    assert checked > 10


@settings(derandomize=True, deadline=None, max_examples=8)
@given(seed=st.integers(0, 40), turn=st.sampled_from([90, 180, 270, 37]), mirrored=st.booleans())
def test_turned_and_mirrored_copies_have_the_same_mends(seed: int, turn: float, mirrored: bool) -> None:
    block = cells_of_points(seed, 4)
    assert told(mends_of(block)) == told(mends_of(turned(block, turn, mirrored)))


def told(mends: tuple[Mend, ...]) -> list[tuple[str, int, float]]:
    return [
        (
            m.kind,
            m.extra_patches,
            round(
                max((math.dist(a, b) for a, b in m.moved), default=0) + sum(math.dist(a, b) for a, b in m.seams), 3
            ),
        )
        for m in mends
    ]


def test_a_mend_that_fails_its_rehearsal_is_not_shown(monkeypatch: pytest.MonkeyPatch) -> None:
    from seamwright.errors import ProofError, fail

    def refuse(_: object) -> None:
        raise fail(ProofError, "proof", "planted", "planted")

    monkeypatch.setattr(prove, "rehearse", refuse)
    assert mends_of(bent(0.1)) == ()


def test_a_mend_that_frees_nothing_is_not_shown(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(find, "frees_all", lambda *_: False)
    assert mends_of(bent(0.1)) == ()


def test_a_large_drawing_is_read_back_a_bounded_number_of_times(monkeypatch: pytest.MonkeyPatch) -> None:
    block = pinwheels(10, 16)
    assert len(block.patches) > 290
    sizes: list[int] = []

    def counted(*given: object, **more: object) -> Block:
        made = make_block(*given, **more)  # type: ignore[arg-type]
        sizes.append(len(made.patches))
        return made

    monkeypatch.setattr(prove, "make_block", counted)
    monkeypatch.setattr("seamwright.mend.apply.make_block", counted)
    assert len(mends_of(block)) == 10
    assert sum(size > 100 for size in sizes) <= 2
    assert len(sizes) <= 3 * 10 + 2


def test_no_point_leaves_a_curved_side_of_the_outline() -> None:
    # The curve turns at the seam's end, halfway: there its neighbours lie on one line with it, and no curve does.
    text = """seamwright block 1
size 10 x 8 in
outline 0, 0 to 2, 2 to 8, 2 to 10, 0 to 10, 8 to 0, 8
side 2, 2 bending at 4, 1 and 6, 3 to 8, 2
seam 5, 2 to 5.1, 5
seam 5.1, 5 to 5, 8
seam 5.1, 5 to 0, 6
"""
    moved = [pair for mend in mends_of(make_block(read_seams(text, name="swell", file=""))) for pair in mend.moved]
    assert moved
    assert all(start[1] > 2.1 for start, _ in moved)
