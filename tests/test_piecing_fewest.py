"""Fewest sections and ties, against published facts, a general solver, and trying everything."""

from __future__ import annotations

import itertools
import math
import sys
import time

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from seamwright.block.model import Block
from seamwright.claims.plans import claim_of
from seamwright.options import PlanOptions
from seamwright.piecing.model import Plan
from seamwright.piecing.shapes import is_quick_shape, tips
from seamwright.proof.checker import check
from support.congruent import kinds
from support.exact import exact_block
from support.exhaustive import Exhaustive, Joins, Region
from support.plans import plan_any_size as plan
from support.random_blocks import (
    cut_block,
    full_chords,
    grid,
    mixed_blocks,
    spiral,
    star,
    strip_of_triangles,
)
from support.solver import fewest_sections

SMALL = 12
"""Patches up to which all plans are listed."""


def _sections(block: Block) -> int:
    made = plan(block)
    assert made.fewest is not None and made.fewest.proven and made.fewest.at_least == made.fewest.sections
    assert made.fewest.sections == len(made.sections) == len(made.joins) + 1
    return made.fewest.sections


# Each crossing lies on a join, and no whole line holds two of the k - 1 crossings on the diagonal.
@pytest.mark.parametrize("k", range(1, 10))
def test_a_grid_of_k_by_k_needs_k_sections(k: int) -> None:
    assert _sections(grid(k, k)) == k


@pytest.mark.parametrize(("columns", "rows"), [(2, 5), (5, 2), (4, 7), (1, 6)])
def test_a_grid_needs_as_many_sections_as_its_shorter_side(columns: int, rows: int) -> None:
    assert _sections(grid(columns, rows)) == min(columns, rows)


@pytest.mark.parametrize("lines", [2, 3, 4, 6, 8])
def test_a_star_of_whole_lines_needs_two_sections(lines: int) -> None:
    # Half a star is a fan of wedges, pieced one after the other; the whole has a point where lines cross.
    assert _sections(star(lines)) == 2


@pytest.mark.parametrize(
    ("block", "sections"),
    [
        # Common practice: a four-patch is two pairs, a nine-patch three rows, a log cabin one foundation,
        # a strip of triangles one foundation.
        pytest.param(grid(2, 2), 2, id="four-patch"),
        pytest.param(grid(3, 3), 3, id="nine-patch"),
        pytest.param(spiral(12), 1, id="log cabin"),
        pytest.param(strip_of_triangles(9), 1, id="strip of triangles"),
        pytest.param(exact_block([]), 1, id="one patch"),
    ],
)
def test_blocks_that_every_quilter_knows(block: Block, sections: int) -> None:
    assert _sections(block) == sections


# The lazy caterer's sequence, OEIS A000124: n lines make at most n (n + 1) / 2 + 1 pieces, reached when all cross
# and no three meet.
@pytest.mark.parametrize("lines", range(1, 9))
def test_chords_make_at_most_as_many_patches_as_the_lazy_caterer(lines: int) -> None:
    most = lines * (lines + 1) // 2 + 1
    for seed in range(5):
        made = plan(full_chords(seed, lines, 1000))
        assert len(made.block.patches) <= most
        assert made.points_to_match == len(made.block.patches) - lines - 1
    # Ends in opposite order on two opposite sides: every two chords cross; squares as places keep three apart.
    chords = [((i * i + 1, 0), (200 - i, 200)) for i in range(lines)]
    block = exact_block(chords, ((0, 0), (200, 0), (200, 200), (0, 200)))
    assert len(block.patches) == most
    assert plan(block).points_to_match == lines * (lines - 1) // 2


def test_the_fewest_agree_with_a_general_constraint_solver() -> None:
    # OR-tools CP-SAT on the model in support/solver.py.
    blocks = [block for block in mixed_blocks(20, 45, most_lines=8) if len(block.patches) <= 22]
    assert len(blocks) >= 36
    for block in blocks:
        made = plan(block)
        assert (made.fewest.sections if made.fewest else None) == fewest_sections(block)


@pytest.mark.long
def test_the_fewest_agree_with_a_general_constraint_solver_on_two_hundred_more() -> None:
    blocks = [block for block in mixed_blocks(21, 330, most_lines=10) if 5 <= len(block.patches) <= 25]
    assert len(blocks) >= 200
    for block in blocks:
        made = plan(block)
        assert (made.fewest.sections if made.fewest else None) == fewest_sections(block)


def _as_found(made: Plan) -> tuple[frozenset[Region], Joins]:
    """A plan as (sections, edges of each join), for comparison with all plans."""
    block = made.block
    numbers = {frozenset((edge.start, edge.end)): number for number, edge in enumerate(block.edges)}
    joins = (
        tuple(sorted(numbers[frozenset(pair)] for pair in itertools.pairwise(join.seam))) for join in made.joins
    )
    return frozenset(frozenset(section.patches) for section in made.sections), frozenset(joins)


def _cost(block: Block, sections: frozenset[Region], joins: Joins) -> tuple[float, ...]:
    """What ties are broken by, counted on the whole plan at once."""
    plain = [patch for section in sections if len(section) == 1 for patch in section]
    ends = {number: {block.edges[number].start, block.edges[number].end} for join in joins for number in join}
    on_joins = {p for pair in ends.values() for p in pair}
    matched = 0
    for join in joins:
        inner = [p for number in join for p in ends[number]]
        matched += any(inner.count(p) == 2 and _meets(block, p, join) for p in set(inner))
    return (
        sum(bool(tips(block, patch)) for patch in plain),
        sum(len(section) > 1 for section in sections),
        -sum(is_quick_shape(block, patch) for patch in plain),
        sum(point in on_joins for patch in range(len(block.patches)) for point in tips(block, patch)),
        matched,
        kinds(block, sections),
        round(sum(math.dist(*(block.points[p] for p in ends[n])) for join in joins for n in join), 2),
    )


def _meets(block: Block, point: int, join: tuple[int, ...]) -> bool:
    """Whether lines arrive at a point of a join from both its sides, by angle."""
    x, y = block.points[point]
    along = [e for number, e in enumerate(block.edges) if number in join and point in (e.start, e.end)]
    tips_ = [block.points[e.end if e.start == point else e.start] for e in along]
    (ux, uy) = (tips_[0][0] - x, tips_[0][1] - y)
    sides = set()
    for edge in block.edges:
        if point in (edge.start, edge.end) and edge not in along:
            vx, vy = block.points[edge.end if edge.start == point else edge.start]
            sides.add(ux * (vy - y) - uy * (vx - x) > 0)
    return len(sides) == 2


def _all_is_best(block: Block) -> None:
    """The plan is one of all the plans, proven, and no other has a lower cost."""
    made, everything = plan(block), Exhaustive(block)
    least = everything.least(everything.everything)
    assert (made.fewest.sections if made.fewest else None) == (None if least == float("inf") else least)
    if made.fewest is not None:
        check(claim_of(made))
        plans = everything.plans(everything.everything)
        assert _as_found(made) in plans
        assert _cost(block, *_as_found(made)) == min(_cost(block, *other) for other in plans)


def test_fewest_and_ties_agree_with_trying_everything() -> None:
    blocks = [block for block in mixed_blocks(30, 140, most_lines=7) if len(block.patches) <= SMALL]
    assert len(blocks) >= 100
    for block in blocks:
        _all_is_best(block)


@pytest.mark.long
def test_fewest_and_ties_agree_with_trying_everything_on_many_more() -> None:
    for block in mixed_blocks(31, 3000, most_lines=8):
        if len(block.patches) <= SMALL + 1:
            _all_is_best(block)


@given(seed=st.integers(0, 10**6), patches=st.integers(2, 60))
@settings(derandomize=True, deadline=None, max_examples=40)
def test_points_to_match_lie_each_inside_exactly_one_join(seed: int, patches: int) -> None:
    # Hence their number is the same in every plan.
    made = plan(cut_block(seed, patches))
    inner = [point for join in made.joins for point in join.seam[1:-1]]
    assert len(inner) == len(set(inner))
    assert made.points_to_match <= len(inner)


def test_rows_are_cut_before_columns_where_nothing_else_decides() -> None:
    made = plan(grid(3, 3))
    heights = [{made.block.points[p][1] for p in section.outline} for section in made.sections]
    assert [(min(ys), max(ys)) for ys in heights] == [(0, 1), (1, 2), (2, 3)]


def test_a_sharp_patch_is_not_left_plain_where_another_plan_has_as_few_sections() -> None:
    # Halves of a star, or quarters with a wedge cut off: a wedge under 45 degrees belongs on paper.
    for lines in (4, 5, 6):
        made = plan(star(lines))
        assert [section.kind for section in made.sections] == ["foundation", "foundation"]


def test_a_search_that_stops_early_gives_a_sound_plan_and_a_sound_bound() -> None:
    block = full_chords(4, 14, 1000)
    best = plan(block)
    assert best.fewest is not None and best.fewest.proven
    for steps in (1, 10, 100):
        hurried = plan(block, PlanOptions(steps=steps))
        check(claim_of(hurried))
        assert hurried.fewest is not None
        assert hurried.fewest.at_least <= best.fewest.sections <= hurried.fewest.sections
        assert hurried.fewest.proven == (hurried.fewest.at_least == hurried.fewest.sections)


def test_ties_that_were_not_all_compared_are_told() -> None:
    block = grid(6, 6)
    assert "search" not in {note.code for note in plan(block).notes}
    enough = next(steps for steps in range(1, 400) if _proven(plan(block, PlanOptions(steps=steps))))
    made = plan(block, PlanOptions(steps=enough))
    assert "search" in {note.code for note in made.notes}


def _proven(made: Plan) -> bool:
    return made.fewest is not None and made.fewest.proven


def test_a_search_without_time_still_gives_a_plan() -> None:
    made = plan(full_chords(4, 30, 1000), PlanOptions(seconds=0.0))
    check(claim_of(made))
    assert made.fewest is not None and not made.fewest.proven


def test_progress_is_told_and_an_interruption_passes_through() -> None:
    told: list[int] = []
    block = full_chords(4, 24, 1000)
    plan(block, progress=told.append)
    assert told and told == sorted(told)

    def interrupt(_: int) -> None:
        raise KeyboardInterrupt

    with pytest.raises(KeyboardInterrupt):
        plan(block, progress=interrupt)


def test_a_deep_block_is_no_deeper_than_the_planner() -> None:
    # Round a four-patch all strips but the innermost are pieces of their own: the search goes as deep as that.
    depth = sys.getrecursionlimit()
    made = plan(spiral(1200, crossed=True))
    assert made.fewest is not None and made.fewest.sections == 1201
    assert sys.getrecursionlimit() == depth


def test_the_plan_does_not_depend_on_the_clock_or_on_chance() -> None:
    block = full_chords(9, 10, 1000)
    first = plan(block)
    time.sleep(0.01)
    assert plan(block) == first
