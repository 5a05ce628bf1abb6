"""Curves as joins: fewest sections and stuck regions against trying everything and against a general solver."""

from __future__ import annotations

import math
import random
from collections.abc import Iterator
from dataclasses import replace
from fractions import Fraction

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from seamwright.block.model import Block
from seamwright.claims.plans import claim_of
from seamwright.options import Fit, PlanOptions
from seamwright.piecing.decide import decide
from seamwright.piecing.limits import Limits
from seamwright.piecing.model import Step
from seamwright.piecing.peel import is_fold_clear
from seamwright.piecing.plan import plan
from seamwright.piecing.seammap import SeamMap
from seamwright.proof.checker import check
from support.curves import circle, curved_block, random_curved, wave
from support.exhaustive import Exhaustive
from support.solver import fewest_sections

FREE = PlanOptions(fit=Fit.NONE)
OPTIONS = [
    FREE,
    replace(FREE, max_patches=1),
    replace(FREE, max_patches=2),
    replace(FREE, max_patches=3),
    replace(FREE, fold_clear=True),
    PlanOptions(allowance_in=2.0),
    PlanOptions(allowance_in=1.6, max_patches=4, fold_clear=True),
]


def _blocks(first: int, count: int, most: int) -> Iterator[Block]:
    for seed in range(first, first + count):
        block = random_curved(seed, 1 + seed % 5, 1 + seed // 5 % 2)
        if len(block.patches) <= most:
            yield block


def _is_least(block: Block, options: PlanOptions) -> str:
    made = plan(block, options)
    allow = Limits(SeamMap(block), options).allow
    everything = Exhaustive(block, curves=True, allow=allow)
    least = everything.least(everything.everything)
    assert (len(made.sections) or math.inf) == least
    if made.sections:
        check(claim_of(made))
        assert all(allow(section.patches) for section in made.sections)
        assert made.fewest is not None and made.fewest.proven
    return made.sewable


def test_no_plan_of_a_curved_block_has_fewer_sections() -> None:
    found = [_is_least(block, OPTIONS[n % len(OPTIONS)]) for n, block in enumerate(_blocks(0, 42, 9))]
    assert found.count("curved") >= 18


@pytest.mark.long
@pytest.mark.parametrize("options", OPTIONS)
def test_no_plan_of_a_curved_block_has_fewer_sections_on_many_more(options: PlanOptions) -> None:
    for block in _blocks(5000, 250, 12):
        _is_least(block, options)


def test_the_fewest_of_curved_blocks_agree_with_a_general_constraint_solver() -> None:
    # OR-tools CP-SAT on the model in support/solver.py.
    blocks = list(_blocks(300, 14, 16))
    assert len(blocks) >= 10
    for block in blocks:
        made = plan(block, FREE)
        assert (made.fewest.sections if made.fewest else None) == fewest_sections(block)


@pytest.mark.long
def test_the_fewest_of_two_hundred_more_curved_blocks_agree_with_the_solver() -> None:
    blocks = [block for block in _blocks(9000, 320, 25) if len(block.patches) >= 5]
    assert len(blocks) >= 200
    for block in blocks:
        made = plan(block, FREE)
        assert (made.fewest.sections if made.fewest else None) == fewest_sections(block)


@given(seed=st.integers(0, 10**6), lines=st.integers(1, 6), order=st.integers(0, 1000))
@settings(derandomize=True, deadline=None, max_examples=12)
def test_what_is_stuck_with_curves_cut_is_the_same_whatever_the_order(seed: int, lines: int, order: int) -> None:
    block = random_curved(seed, lines, 2)
    stuck = Exhaustive(block, curves=True).stuck(random.Random(order))
    found = decide(SeamMap(block), lambda seam: True).stuck
    assert {frozenset(part) for part in found if len(part) > 1} == stuck


def test_a_side_of_a_wave_may_need_more_sections_than_the_block() -> None:
    # The wave parts the block in two foundations; the part under the line alone lies on both sides of the wave,
    # in three pieces that no line joins.
    block = curved_block([wave([Fraction(5), Fraction(1), Fraction(5)])], [((0, 3), (6, 3))])
    made = plan(block, FREE)
    assert len(block.patches) == 5
    assert sorted(len(section.patches) for section in made.sections) == [2, 3]
    assert [join.kind for join in made.joins] == ["curved"]
    assert made.points_to_match == 2


def test_a_circle_is_parted_only_where_two_points_of_it_lie_on_seams() -> None:
    round_ = circle((Fraction(3), Fraction(3)), Fraction(3, 2))
    once = plan(curved_block([round_], []), FREE)
    assert once.sewable == "no" and len(once.obstructions) == 1
    # One line crosses it twice. Two lines that cross inside it may cut first in either order.
    for lines, joins in (([((0, 3), (6, 3))], 3), ([((0, 3), (6, 3)), ((3, 0), (3, 6))], 7)):
        block = curved_block([round_], lines)
        made = plan(block, FREE)
        assert made.sewable == "curved" and len(made.joins) <= joins
        _is_least(block, FREE)


def test_curved_edges_are_never_stepped_over() -> None:
    for block in _blocks(700, 20, 30):
        made = plan(block, FREE)
        seams = SeamMap(block)
        for section in made.sections:
            inside = set(section.patches)
            edges = [e for e in block.edges if e.left in inside and e.right in inside]
            assert not any(edge.via for edge in edges)
        kinds = {join.kind for join in made.joins}
        assert kinds <= {"straight", "curved"}
        assert (made.sewable == "curved") == ("curved" in kinds)
        assert made.pieceable == (made.sewable == "straight")
        if made.sections:
            assert made.points_to_match == sum(seams.to_match)


@given(
    seed=st.integers(0, 10**6),
    lines=st.integers(1, 9),
    curves=st.integers(1, 3),
    options=st.sampled_from(OPTIONS),
    steps=st.sampled_from([1, 30, 50_000]),
)
@settings(derandomize=True, deadline=None, max_examples=25)
def test_every_plan_of_a_curved_block_is_true(
    seed: int, lines: int, curves: int, options: PlanOptions, steps: int
) -> None:
    _is_true(random_curved(seed, lines, curves), replace(options, steps=steps))


@pytest.mark.long
@pytest.mark.parametrize("options", OPTIONS)
@pytest.mark.parametrize("steps", [1, 100, 50_000])
def test_every_plan_of_many_more_curved_blocks_is_true(options: PlanOptions, steps: int) -> None:
    for seed in range(60):
        _is_true(random_curved(seed, seed % 12, 1 + seed % 3), replace(options, steps=steps))


def _is_true(block: Block, options: PlanOptions) -> None:
    made = plan(block, options)
    if made.sections:
        check(claim_of(made))
    else:
        assert made.obstructions


def test_a_curve_that_bulges_across_a_fold_line_is_seen() -> None:
    # The seam ends on the curve's rise. Beyond it the crest crosses the seam's line, though the curve's ends lie
    # on one side.
    crest = [(Fraction(0), Fraction(2)), *((Fraction(k, 4), 2 + Fraction(k * (24 - k), 90)) for k in range(1, 24))]
    block = curved_block([[*crest, (Fraction(6), Fraction(2))]], [((0, 3), (Fraction(7, 6), 3))])
    seams = SeamMap(block)
    assert len(block.patches) == 3
    for patch, other in ((0, 1), (1, 0), (0, 2), (2, 0), (1, 2), (2, 1)):
        ends = [p for p, (x, y) in enumerate(block.points) if y == 3]
        ring = block.patch_ring(other)
        clear = max(y for _, y in ring) <= 3 + 1e-6 or min(y for _, y in ring) >= 3 - 1e-6
        assert is_fold_clear(seams, Step(patch, (ends[0], ends[-1])), [other]) == clear
