"""The parity bound and the plans it guides, against exact searches, trying everything, and a general solver."""

from __future__ import annotations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from seamwright.block.model import Block
from seamwright.claims.plans import claim_of
from seamwright.options import Fit, PlanOptions
from seamwright.piecing.bounds import Bounds
from seamwright.piecing.budget import Budget, deep_recursion
from seamwright.piecing.decide import decide
from seamwright.piecing.fewest import Search
from seamwright.piecing.forced import forced_cuts
from seamwright.piecing.guided import Guided
from seamwright.piecing.part import Part
from seamwright.piecing.plan import plan
from seamwright.piecing.seammap import SeamMap
from seamwright.proof.checker import check
from support.exhaustive import Exhaustive
from support.random_blocks import cut_block, full_chords, grid, mixed_blocks, spiral, star

LONG = 10**6


def _parts(block: Block) -> list[Part]:
    """The parts of a block between forced cuts that have something to search; [] if it is stuck."""
    seams = SeamMap(block)
    if decide(seams).stuck:
        return []
    forced = forced_cuts(seams)
    parts = [Part(seams, patches, forced.reached) for patches in forced.parts]
    return [part for part in parts if part.points]


def _least(part: Part) -> int:
    with deep_recursion(LONG // 100):
        return Search(part, Budget(LONG, None, None)).least(part.whole)


def _holds(block: Block) -> int:
    """How far the bound is off, over all parts; it is never too high."""
    off = 0
    for part in _parts(block):
        bound, least = 1 + Bounds(part).joins(part.whole), _least(part)
        assert bound <= least
        off += least - bound
    return off


def test_the_bound_is_never_too_high_on_blocks_of_every_kind() -> None:
    blocks = list(mixed_blocks(40, 250, most_lines=9))
    off = [_holds(block) for block in blocks]
    assert sum(map(bool, map(_parts, blocks))) > 150
    # Most often it is exact.
    assert sum(not more for more in off) > 0.7 * len(off)


@pytest.mark.long
def test_the_bound_is_never_too_high_on_thousands_more() -> None:
    for block in mixed_blocks(41, 4000, most_lines=11):
        _holds(block)


def test_the_bound_is_never_too_high_for_trying_everything() -> None:
    for block in mixed_blocks(42, 60, most_lines=5):
        parts = _parts(block)
        if parts and len(block.patches) <= 12:
            everything = Exhaustive(block)
            joins = sum(Bounds(part).joins(part.whole) for part in parts)
            assert 1 + joins + len(forced_cuts(SeamMap(block)).cuts) <= everything.least(everything.everything)


@given(seed=st.integers(0, 10**6), lines=st.integers(2, 16))
@settings(derandomize=True, deadline=None, max_examples=40)
def test_the_bound_holds_in_every_region_and_is_near_where_lines_run_right_across(seed: int, lines: int) -> None:
    for part in _parts(full_chords(seed, lines, 1000)):
        search, bounds = Search(part, Budget(LONG, None, None)), Bounds(part)
        waiting = [part.whole]
        while waiting:
            region = waiting.pop()
            least = search.least(region)
            assert least - 2 <= 1 + bounds.joins(region) <= least
            for run in region.cuts[:2]:
                waiting += [part.side(run, region, left) for left in (True, False)][:1]


@pytest.mark.parametrize("k", [2, 3, 5, 9, 20])
def test_the_bound_of_a_grid_is_exact(k: int) -> None:
    # No whole line holds two of the k - 1 crossings on the diagonal, so k sections are needed; rows are enough.
    (part,) = _parts(grid(k, k))
    assert 1 + Bounds(part).joins(part.whole) == k


@pytest.mark.parametrize("lines", [2, 3, 4, 6, 8])
def test_the_bound_of_a_star_is_exact(lines: int) -> None:
    (part,) = _parts(star(lines))
    assert 1 + Bounds(part).joins(part.whole) == 2


@pytest.mark.parametrize(("lines", "seed"), [(6, 1), (10, 2), (14, 3), (18, 4), (22, 5), (24, 6), (28, 3), (30, 1)])
def test_at_least_is_within_two_of_the_fewest_whenever_the_search_stops(lines: int, seed: int) -> None:
    block = full_chords(seed, lines, 10_000)
    best = plan(block, PlanOptions(fit=Fit.NONE)).fewest
    assert best is not None
    assert best.proven
    for steps in (1, 1_000):
        hurried = plan(block, PlanOptions(fit=Fit.NONE, steps=steps))
        check(claim_of(hurried))
        assert hurried.fewest is not None
        assert best.sections - 2 <= hurried.fewest.at_least <= best.sections
        assert best.sections <= hurried.fewest.sections <= best.sections + 3


def _guided(part: Part, steps: int) -> tuple[int, int]:
    """(sections, lower bound) of a part's guided plan."""
    with deep_recursion(LONG // 100):
        guided = Guided(Search(part, Budget(0, None, None)), Budget(steps, None, None))
        tree = guided.plan()
    patches = sorted(patch for node in tree.nodes() if node.cut is None for patch in node.patches)
    assert patches == sorted(part.patches)
    return sum(node.cut is None for node in tree.nodes()), guided.at_least


def test_a_guided_plan_with_enough_steps_has_the_fewest_sections_and_proves_it() -> None:
    blocks = [
        *mixed_blocks(43, 80, most_lines=10),
        *(full_chords(seed, lines, 1000) for seed in range(3) for lines in (12, 16, 20)),
        *(cut_block(seed, 60) for seed in range(6)),
        *(spiral(strips, crossed=True) for strips in (3, 12, 40)),
        grid(9, 12),
    ]
    for block in blocks:
        for part in _parts(block):
            assert _guided(part, LONG) == (_least(part), _least(part))


def test_a_guided_plan_without_steps_is_a_plan_all_the_same() -> None:
    for block in mixed_blocks(44, 80, most_lines=9):
        for part in _parts(block):
            sections, at_least = _guided(part, 0)
            assert at_least <= _least(part) <= sections


def test_a_guided_plan_is_the_same_each_time() -> None:
    block = full_chords(3, 34, 10_000)
    first, second = (plan(block, PlanOptions(fit=Fit.NONE, steps=2_000)) for _ in range(2))
    assert first == second
