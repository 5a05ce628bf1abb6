"""The plan as a whole: letters, joins, orders, folds, ids, and what leaves it unchanged."""

from __future__ import annotations

import math
import re
import subprocess
import sys
from collections import Counter
from collections.abc import Iterator
from dataclasses import replace
from fractions import Fraction
from itertools import pairwise

import pytest
from hypothesis import example, given, settings
from hypothesis import strategies as st

from seamwright.block.model import Block
from seamwright.claims.plans import claim_of
from seamwright.options import Fit, PlanOptions
from seamwright.piecing.model import Plan, Step
from seamwright.piecing.names import section_name
from seamwright.piecing.order import sewing_order
from seamwright.piecing.peel import is_fold_clear
from seamwright.piecing.plan import plan
from seamwright.piecing.seammap import SeamMap
from seamwright.piecing.shapes import is_quick_shape, tips
from seamwright.proof.checker import check
from support.exact import SQUARE6, exact_block
from support.exhaustive import Exhaustive, Region
from support.random_blocks import (
    CONVEX,
    DIAMOND,
    L_SHAPE,
    NOTCHED,
    OUTLINES,
    U_SHAPE,
    Line,
    cut_block,
    grid,
    large_cut_block,
    mixed_blocks,
    random_line_list,
    random_lines,
    spiral,
    star,
    strip_of_triangles,
)

SETTINGS = settings(derandomize=True, deadline=None, max_examples=50)


def test_every_plan_stands_before_the_independent_checker() -> None:
    made = [plan(block) for block in mixed_blocks(40, 200)]
    pieceable = [one for one in made if one.pieceable]
    assert len(pieceable) > 150
    for one in pieceable:
        check(claim_of(one))


def test_a_large_plan_stands_before_the_independent_checker() -> None:
    check(claim_of(plan(large_cut_block(3, 300))))


# -- letters and joins ---------------------------------------------------------------------------------------


def test_letters_leave_out_i_and_o() -> None:
    names = [section_name(number) for number in range(24 + 24 * 24 + 1)]
    assert "".join(names[:24]) == "ABCDEFGHJKLMNPQRSTUVWXYZ"
    assert names[24:26] == ["AA", "AB"] and names[-2:] == ["ZZ", "AAA"]
    assert len(set(names)) == len(names)


@given(seed=st.integers(0, 10**6), patches=st.integers(1, 40))
@SETTINGS
def test_joins_are_a_tree_in_sewing_order(seed: int, patches: int) -> None:
    made = plan(cut_block(seed, patches))
    letters = [section.name for section in made.sections]
    assert letters == [section_name(number) for number in range(len(letters))]
    assert [(s.print, s.place, s.reversed) for s in made.sections] == [(name, 1, False) for name in letters]
    ready = set(letters)
    for join in made.joins:
        assert {join.first, join.second} <= ready and join.kind == "straight"
        ready -= {join.first, join.second}
        assert join.makes == f"{join.first}+{join.second}" and join.makes not in letters
        ready.add(join.makes)
    assert len(ready) == 1


@given(seed=st.integers(0, 10**6), name=st.sampled_from(sorted(OUTLINES)))
@SETTINGS
def test_every_stitch_and_join_is_one_run_of_one_seam(seed: int, name: str) -> None:
    made = plan(random_lines(seed, 6, OUTLINES[name]))
    runs = [join.seam for join in made.joins]
    runs += [step.stitch for section in made.sections for step in section.steps[1:]]
    for run in runs:
        holding = [seam.points for seam in made.block.seams if set(run) <= set(seam.points)]
        assert any(run in (p[i : i + len(run)], p[i : i + len(run)][::-1]) for p in holding for i in range(len(p)))
    assert all(section.steps[0].stitch == () for section in made.sections)


def test_rows_are_joined_in_pairs_and_pairs_in_pairs() -> None:
    made = plan(grid(8, 8))
    deep: dict[str, int] = {section.name: 0 for section in made.sections}
    for join in made.joins:
        deep[join.makes] = 1 + max(deep[join.first], deep[join.second])
    assert max(deep.values()) == 3


# -- order within a section ----------------------------------------------------------------------------------


def test_a_log_cabin_is_sewn_from_its_centre_with_lengthening_seams() -> None:
    made = plan(spiral(12), PlanOptions(fit=Fit.NONE))
    (section,) = made.sections
    lengths = [
        math.dist(made.block.points[step.stitch[0]], made.block.points[step.stitch[-1]])
        for step in section.steps[1:]
    ]
    assert lengths == sorted(lengths)


def test_a_strip_of_triangles_is_sewn_from_one_end_to_the_other() -> None:
    made = plan(strip_of_triangles(9))
    (section,) = made.sections
    places = [sum(x for x, _ in made.block.patch_ring(p)) for p in section.patches]
    assert places in (sorted(places), sorted(places, reverse=True))


@given(seed=st.integers(0, 10**6))
@SETTINGS
def test_a_set_of_patches_has_an_order_exactly_when_trying_everything_finds_one(seed: int) -> None:
    block = random_lines(seed, 5, OUTLINES[sorted(OUTLINES)[seed % len(OUTLINES)]])
    seams, everything = SeamMap(block), Exhaustive(block)
    waiting = [everything.everything]
    while waiting:
        region = waiting.pop()
        assert (sewing_order(seams, sorted(region)) is not None) == everything.is_foundation(region)
        waiting += [side for one, two, _ in everything.cuts(region)[:2] for side in (one, two)]


# -- folds ---------------------------------------------------------------------------------------------------


def test_a_fold_that_runs_across_the_other_arm_is_told() -> None:
    # One foundation of three patches, and no order in which every fold is clear of what is sewn before.
    made = plan(exact_block([((0, 4), (2, 4)), ((4, 5), (6, 5))], U_SHAPE))
    assert [section.kind for section in made.sections] == ["foundation"]
    (note,) = (note for note in made.notes if note.code == "fold")
    assert note.count == len(note.places_in) == 1


def _orders(everything: Exhaustive, region: Region) -> Iterator[list[tuple[int, tuple[int, ...]]]]:
    """Every way to peel a region: (patch, edges of its stitch line), first to come off first."""
    if len(region) == 1:
        yield [(next(iter(region)), ())]
    for one, two, edges in everything.cuts(region):
        for single, rest in ((one, two), (two, one)):
            if len(single) == 1:
                for order in _orders(everything, rest):
                    yield [(next(iter(single)), edges), *order]


@pytest.mark.parametrize("name", sorted(NOTCHED))
def test_an_order_of_clear_folds_is_found_wherever_there_is_one(name: str) -> None:
    tried = told = 0
    for seed in range(120):
        block = random_lines(seed, 4, NOTCHED[name])
        seams, everything = SeamMap(block), Exhaustive(block)
        if len(block.patches) > 6 or not everything.is_foundation(everything.everything):
            continue

        def clear(order: list[tuple[int, tuple[int, ...]]], seams: SeamMap = seams, block: Block = block) -> bool:
            for place, (patch, edges) in enumerate(order[:-1]):
                ends = [(block.edges[e].start, block.edges[e].end) for e in (edges[0], edges[-1])]
                stitch = max(((a, b) for a in ends[0] for b in ends[1]), key=lambda ab: _far(block, *ab))
                if not is_fold_clear(seams, Step(patch, stitch), [p for p, _ in order[place + 1 :]]):
                    return False
            return True

        possible = any(clear(order) for order in _orders(everything, everything.everything))
        noted = any(note.code == "fold" for note in plan(block).notes)
        assert noted != possible
        tried, told = tried + 1, told + noted
    assert tried > 20
    assert told or name == "T"


def _far(block: Block, a: int, b: int) -> float:
    return math.dist(block.points[a], block.points[b])


@pytest.mark.parametrize("name", sorted(CONVEX))
def test_without_an_inside_corner_every_fold_is_clear(name: str) -> None:
    for seed in range(20):
        made = plan(random_lines(seed, 6, CONVEX[name]))
        assert not any(note.code == "fold" for note in made.notes)


# -- what does not change a plan -----------------------------------------------------------------------------


def _told(made: Plan) -> object:
    """What must not depend on how a drawing is turned or written."""
    fewest = made.fewest and (made.fewest.sections, made.fewest.foundations, made.fewest.proven)
    stuck = Counter((o.kind, len(o.patches), len(o.points)) for o in made.obstructions)
    return made.sewable, fewest, made.points_to_match, made.set_in_points, stuck


TURNS = {
    "mirrored": lambda x, y: (-x, y),
    "a quarter turn": lambda x, y: (-y, x),
    "half a turn": lambda x, y: (-x, -y),
    "turned by an odd angle": lambda x, y: (3 * x - 4 * y, 4 * x + 3 * y),
    "larger": lambda x, y: (3 * x, 3 * y),
}


@pytest.mark.parametrize("turn", sorted(TURNS))
@given(seed=st.integers(0, 10**6))
@settings(derandomize=True, deadline=None, max_examples=20)
def test_a_turned_drawing_gets_the_same_decision_and_counts(turn: str, seed: int) -> None:
    outline = OUTLINES[sorted(OUTLINES)[seed % len(OUTLINES)]]
    lines = random_line_list(seed, 6, outline)
    turned = [tuple(TURNS[turn](*p) for p in line) for line in lines]
    # Copies are larger; whether they still fit a sheet is another question.
    options = PlanOptions(fit=Fit.NONE)
    there = plan(exact_block(lines, outline), options)
    here = plan(exact_block(turned, [TURNS[turn](*p) for p in outline]), options)
    assert _told(here) == _told(there)


@given(seed=st.integers(0, 10**6), order=st.randoms(use_true_random=False))
@SETTINGS
def test_lines_in_another_order_and_in_pieces_give_the_same_plan(seed: int, order) -> None:  # type: ignore[no-untyped-def]
    lines = random_line_list(seed, 7)
    pieces: list[Line] = []
    for a, b in lines:
        half = (Fraction(a[0] + b[0]) / 2, Fraction(a[1] + b[1]) / 2)
        pieces += order.choice(([(a, b)], [(b, a)], [(a, half), (half, b)]))
    order.shuffle(pieces)
    one, other = plan(exact_block(lines)), plan(exact_block(pieces))
    assert one.id == other.id
    assert _told(one) == _told(other)
    assert _shown(one) == _shown(other)


def _shown(made: Plan) -> object:
    """Sections and steps by where their patches lie."""
    ring = {p: frozenset(made.block.patch_ring(p)) for p in range(len(made.block.patches))}
    corners = {p: frozenset(q for q in points if _is_corner(points, q)) for p, points in ring.items()}
    return [(section.name, [corners[p] for p in section.patches]) for section in made.sections]


def _is_corner(points: frozenset[tuple[float, float]], q: tuple[float, float]) -> bool:
    """Whether no two other points of a convex ring lie straight on both sides of q."""
    return not any(
        abs((a[0] - q[0]) * (b[1] - q[1]) - (a[1] - q[1]) * (b[0] - q[0])) < 1e-9
        and (a[0] - q[0]) * (b[0] - q[0]) + (a[1] - q[1]) * (b[1] - q[1]) < 0
        for a in points
        for b in points
    )


def test_the_plan_does_not_depend_on_the_hash_seed() -> None:
    code = (
        "import sys; sys.path.insert(0, 'tests')\n"
        "from support.random_blocks import erased_lines, full_chords\n"
        "from seamwright.piecing.plan import plan\n"
        "print([repr(plan(full_chords(3, 9))), repr(plan(erased_lines(5, 9, erased=0.5)))])"
    )
    told = {
        subprocess.run(
            [sys.executable, "-c", code], env={"PYTHONHASHSEED": seed}, capture_output=True, check=True, text=True
        ).stdout
        for seed in ("0", "1", "77")
    }
    assert len(told) == 1


def test_planning_a_block_that_can_be_sewn_loads_no_heavy_library() -> None:
    code = (
        "import sys; from seamwright.block.planar import Piece, build_block\n"
        "from seamwright.piecing.plan import plan\n"
        "ring = [(0, 0), (4, 0), (4, 4), (0, 4)]\n"
        "sides = [Piece(i, (i + 1) % 4, i) for i in range(4)]\n"
        "assert plan(build_block('b', '', ring, [*sides, Piece(0, 2, 4)])).pieceable\n"
        "print([name for name in ('networkx', 'shapely', 'numpy', 'cairosvg') if name in sys.modules])"
    )
    assert subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True).stdout == "[]\n"


# -- id ------------------------------------------------------------------------------------------------------


def test_the_id_follows_geometry_fabrics_and_options_but_not_the_name() -> None:
    block = star(3)
    first = plan(block).id
    assert re.fullmatch("[0-9a-f]{8}", first)
    assert plan(replace(block, name="other", file="other.svg")).id == first
    assert plan(block, PlanOptions(paper="a4")).id != first
    patches = (replace(block.patches[0], fabric="sky"), *block.patches[1:])
    assert plan(replace(block, patches=patches)).id != first
    assert plan(star(4)).id != first


@given(noise=st.floats(-1e-9, 1e-9))
@example(noise=1e-9)
@SETTINGS
def test_noise_far_below_a_thread_leaves_the_id(noise: float) -> None:
    block = cut_block(5, 12)
    points = tuple((x + noise, y - noise) for x, y in block.points)
    assert plan(replace(block, points=points)).id == plan(block).id


# -- shapes --------------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("lines", "sharp", "quick"),
    [
        pytest.param([((3, 0), (3, 6))], 0, 2, id="two rectangles"),
        pytest.param([((0, 0), (6, 6))], 0, 2, id="two half-squares: 45 degrees pass"),
        pytest.param(
            [((0, 0), (6, 6)), ((6, 0), (0, 6))], 0, 0, id="quarter-squares have their long side on grain"
        ),
        pytest.param([((0, 0), (6, 5))], 1, 0, id="a tip of 40 degrees"),
        pytest.param([((0, 0), (5, 6)), ((3, 0), (6, 3))], 1, 1, id="a half-square corner and a tip of 40 degrees"),
    ],
)
def test_sharp_tips_and_quick_shapes(lines: list[Line], sharp: int, quick: int) -> None:
    block = exact_block(lines, SQUARE6)
    assert sum(bool(tips(block, patch)) for patch in range(len(block.patches))) == sharp
    assert sum(is_quick_shape(block, patch) for patch in range(len(block.patches))) == quick


def test_grain_follows_the_edge_of_the_block_however_it_is_turned() -> None:
    assert is_quick_shape(exact_block([]), 0)
    assert is_quick_shape(exact_block([], DIAMOND), 0)
    on_its_tip = exact_block([((3, 0), (6, 3)), ((6, 3), (3, 6)), ((3, 6), (0, 3)), ((0, 3), (3, 0))])
    corners, square = range(4), max(range(5), key=lambda patch: len(set(on_its_tip.patches[patch].ring)))
    assert not is_quick_shape(on_its_tip, square)
    assert sum(is_quick_shape(on_its_tip, patch) for patch in range(5)) == len(corners)


def test_an_l_is_no_rectangle() -> None:
    block = exact_block([], L_SHAPE)
    assert not is_quick_shape(block, 0)
    assert tips(block, 0) == []


def test_the_outline_of_a_section_runs_clockwise_through_all_its_points() -> None:
    for section, made in ((s, p) for block in mixed_blocks(41, 30) if (p := plan(block)) for s in p.sections):
        ring = [made.block.points[p] for p in section.outline]
        area = sum(a[0] * b[1] - a[1] * b[0] for a, b in pairwise([*ring, ring[0]])) / 2
        patches = [made.block.patch_ring(p) for p in section.patches]
        whole = sum(a[0] * b[1] - a[1] * b[0] for r in patches for a, b in pairwise([*r, r[0]])) / 2
        assert area == pytest.approx(whole) and area > 0
