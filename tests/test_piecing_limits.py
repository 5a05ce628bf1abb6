"""Fewest sections under limits, on every outline: against trying everything, and what others have proven."""

from __future__ import annotations

import math
import random
from collections.abc import Iterator
from dataclasses import replace
from fractions import Fraction
from itertools import pairwise

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from seamwright.block.model import Block
from seamwright.claims.plans import claim_of
from seamwright.options import Fit, PlanOptions, Priority
from seamwright.piecing.limits import Limits
from seamwright.piecing.model import Plan
from seamwright.piecing.peel import is_fold_clear
from seamwright.piecing.plan import plan
from seamwright.piecing.seammap import SeamMap
from seamwright.proof.checker import check
from seamwright.words.checks import check_words
from support.exact import exact_block
from support.exhaustive import Exhaustive, Region
from support.random_blocks import (
    CONVEX,
    L_SHAPE,
    NOTCHED,
    OUTLINES,
    T_SHAPE,
    U_SHAPE,
    Outline,
    cut_block,
    erased_lines,
    full_chords,
    grid,
    random_lines,
    spiral,
)

STAR: Outline = ((6, 0), (8, 4), (12, 6), (8, 8), (6, 12), (4, 8), (0, 6), (4, 4))
ARROW: Outline = ((3, 0), (6, 3), (4, 3), (4, 6), (2, 6), (2, 3), (0, 3))
SHAPES = OUTLINES | {"star": tuple((x // 2, y // 2) for x, y in STAR), "arrow": ARROW}
FREE = PlanOptions(fit=Fit.NONE)
LIMITS = {
    "none": FREE,
    "one patch": replace(FREE, max_patches=1),
    "two patches": replace(FREE, max_patches=2),
    "three patches": replace(FREE, max_patches=3),
    "five patches": replace(FREE, max_patches=5),
    "fold clear": replace(FREE, fold_clear=True),
    # An allowance of 2 in makes sheets small for blocks of 6 in.
    "small sheet": PlanOptions(allowance_in=2.0),
    "middling sheet": PlanOptions(allowance_in=1.6),
    "all": PlanOptions(allowance_in=1.6, max_patches=4, fold_clear=True),
}


def _blocks(seed: int, count: int, most: int) -> Iterator[Block]:
    """Blocks of every outline that has up to `most` patches."""
    chance = random.Random(seed)
    while count:
        name = chance.choice(sorted(SHAPES))
        if name in CONVEX and chance.random() < 0.3:
            block = cut_block(chance.randrange(2**32), chance.randint(3, most), CONVEX[name])
        else:
            block = random_lines(chance.randrange(2**32), chance.randint(2, 9), SHAPES[name], chance.random())
        if 1 < len(block.patches) <= most:
            count -= 1
            yield block


def _held(made: Plan, options: PlanOptions) -> None:
    """The plan is true, and every section of it keeps to the limits."""
    limits = Limits(SeamMap(made.block), options)
    check(claim_of(made))
    assert all(limits.allow(section.patches) for section in made.sections)
    extra = len(made.sections) - (made.fewest.sections if made.fewest else 0)
    assert [note.count for note in made.notes if note.code == "limits"] == ([extra] if extra else [])


def _is_least(block: Block, options: PlanOptions) -> None:
    made, everything = plan(block, options), Exhaustive(block, allow=Limits(SeamMap(block), options).allow)
    assert len(made.sections) == everything.least(everything.everything)
    _held(made, options)


def test_no_plan_under_limits_has_fewer_sections() -> None:
    names = sorted(LIMITS)
    for number, block in enumerate(_blocks(1, 120, 9)):
        _is_least(block, LIMITS[names[number % len(names)]])


@pytest.mark.long
@pytest.mark.parametrize("name", sorted(LIMITS))
def test_no_plan_under_limits_has_fewer_sections_on_many_more(name: str) -> None:
    for block in _blocks(2, 200, 13):
        _is_least(block, LIMITS[name])


def _cost(made: Plan, sections: frozenset[Region]) -> tuple[int, int]:
    """The first two of what ties are broken by, counted on the whole plan."""
    from seamwright.piecing.shapes import tips

    plain = [patch for section in sections if len(section) == 1 for patch in section]
    return sum(bool(tips(made.block, patch)) for patch in plain), sum(len(section) > 1 for section in sections)


@pytest.mark.parametrize("name", ["two patches", "small sheet", "fold clear"])
def test_among_plans_under_limits_ties_are_broken_as_among_all(name: str) -> None:
    options = LIMITS[name]
    for block in _blocks(3, 40, 9):
        made = plan(block, options)
        everything = Exhaustive(block, allow=Limits(SeamMap(block), options).allow)
        found = frozenset(frozenset(section.patches) for section in made.sections)
        plans = everything.plans(everything.everything)
        assert found in {sections for sections, _ in plans}
        assert _cost(made, found) == min(_cost(made, sections) for sections, _ in plans)


# A board of a x b squares is filled by bricks of 1 x n exactly if n divides a or b: N. G. de Bruijn, "Filling boxes
# with bricks", American Mathematical Monthly 76 (1969), cited from memory. Sections of at most n squares of a grid
# are such bricks, since two by two squares meet at a point to match. So 10 x 10 takes one more than 100 / 4.
@pytest.mark.parametrize(
    ("columns", "rows", "most", "sections"),
    [(8, 6, 4, 12), (10, 10, 5, 20), (10, 10, 4, 26), (6, 6, 4, 10), (9, 5, 3, 15), (7, 7, 1, 49)],
)
def test_a_grid_is_parted_into_bricks(columns: int, rows: int, most: int, sections: int) -> None:
    made = plan(grid(columns, rows), replace(FREE, max_patches=most))
    assert len(made.sections) == sections
    assert made.fewest is not None and made.fewest.sections == min(columns, rows)


@pytest.mark.parametrize(("strips", "most"), [(12, 5), (30, 7), (8, 8), (9, 1)])
def test_a_row_of_strips_is_parted_evenly_as_far_as_needed(strips: int, most: int) -> None:
    block = exact_block([((0, y), (4, y)) for y in range(1, strips)], ((0, 0), (4, 0), (4, strips), (0, strips)))
    assert len(plan(block, replace(FREE, max_patches=most)).sections) == math.ceil(strips / most)


def test_corners_hung_on_by_one_edge_each_do_not_multiply_the_work() -> None:
    # Twelve squares in a row, each with its four corners cut off: 48 corners, and any of them may come off first.
    # Seams end on the line between two squares from both sides: it is a join in every plan.
    lines = [((2 * i, 0), (2 * i, 2)) for i in range(1, 12)]
    for i in range(12):
        left, right, y = 2 * i, 2 * i + 2, Fraction(3 + 2 * (i % 2), 4)
        lines += [((left + 1, end), (side, y)) for end in (0, 2) for side in (left, right)]
    block = exact_block(lines, ((0, 0), (24, 0), (24, 2), (0, 2)))
    assert len(block.patches) == 60
    for most, sections in ((5, 12), (4, 24), (3, 36), (2, 48), (1, 60)):
        made = plan(block, replace(FREE, max_patches=most, steps=20_000))
        assert len(made.sections) == sections
        assert not [note for note in made.notes if "--steps" in note.text]


@pytest.mark.parametrize(("teeth", "most", "sections"), [(12, 6, 8), (24, 12, 14), (32, 5, 29)])
def test_teeth_all_round_do_not_multiply_the_work(teeth: int, most: int, sections: int) -> None:
    # A wheel with teeth: any of them may go, and as many stay with the wheel as the limit leaves room for.
    def at(radius: float, step: float) -> tuple[Fraction, Fraction]:
        x, y = (round(1000 * (5 + radius * part(math.tau * step / teeth))) for part in (math.cos, math.sin))
        return Fraction(x, 1000), Fraction(y, 1000)

    inner, outer = [at(3.3, k) for k in range(teeth)], [at(4.4, k + 0.5) for k in range(teeth)]
    outline = [point for pair in zip(inner, outer, strict=True) for point in pair]
    block = exact_block(pairwise([*inner, inner[0]]), outline)
    assert len(plan(block, replace(FREE, max_patches=most, steps=5_000)).sections) == sections == teeth + 2 - most
    # A sheet that holds the wheel but not all its teeth tells every set of them apart: a good one will do.
    held = plan(block, PlanOptions(steps=5_000))
    assert all(Limits(SeamMap(block), PlanOptions()).allow(section.patches) for section in held.sections)


def test_a_log_cabin_of_few_patches_a_section_is_its_heart_and_single_strips() -> None:
    # What lies outside the heart can only be cut off strip by strip.
    for most in (2, 5, 9):
        made = plan(spiral(12), replace(FREE, max_patches=most))
        assert sorted(len(section.patches) for section in made.sections) == [1] * (13 - most) + [most]


@pytest.mark.parametrize("steps", [1, 20, 300])
@pytest.mark.parametrize("name", ["three patches", "small sheet"])
def test_a_search_without_steps_gives_a_sound_plan_under_the_limits(name: str, steps: int) -> None:
    for seed in range(4):
        block = full_chords(seed, 9, 6)
        hurried = plan(block, replace(LIMITS[name], steps=steps))
        _held(hurried, LIMITS[name])
        assert len(hurried.sections) >= len(plan(block, LIMITS[name]).sections)


def test_a_search_under_limits_that_stops_says_so() -> None:
    block = grid(9, 9)
    codes = [
        [note.code for note in plan(block, replace(FREE, max_patches=4, steps=steps)).notes]
        for steps in (60, 10**6)
    ]
    assert "limits" in codes[0] and "limits-open" in codes[0]
    assert "limits" in codes[1] and "limits-open" not in codes[1]


def test_what_is_proven_is_told_without_and_within_the_limits() -> None:
    made = plan(grid(10, 10), replace(FREE, max_patches=4))
    assert check_words("grid.svg", made)[-1].strip() == (
        "Proven: every step and seam holds; without the limits 10 sections are the fewest, and within them no plan "
        "has fewer than 26."
    )


def test_each_limit_is_named_with_what_lifts_it() -> None:
    block = random_lines(5, 7, U_SHAPE, 0.5)
    made = plan(block, PlanOptions(allowance_in=1.6, max_patches=2))
    (note,) = [note for note in made.notes if note.code == "limits"]
    assert "have 2 patches at most" in note.text and "a larger --max-patches" in note.text


# -- folds ------------------------------------------------------------------------------------------------------


def test_a_u_with_a_seam_across_each_arm_folds_clear_only_in_two_sections() -> None:
    block = exact_block([((0, 4), (2, 4)), ((4, 5), (6, 5))], U_SHAPE)
    made = plan(block, FREE)
    assert len(made.sections) == 1 and [note.code for note in made.notes if note.code == "fold"]
    clear = plan(block, replace(FREE, fold_clear=True))
    assert len(clear.sections) == 2
    assert clear.fewest is not None and clear.fewest.sections == 1
    (note,) = [note for note in clear.notes if note.code == "limits"]
    assert note.text == (
        "2 sections because they must fold clear of all that is sewn before, 1 more than without; "
        "leaving out --fold-clear lifts that limit"
    )


@pytest.mark.parametrize("name", sorted(SHAPES))
def test_required_clear_folds_are_clear(name: str) -> None:
    for seed in range(12):
        block = random_lines(seed, 5, SHAPES[name], 0.5)
        made, seams = plan(block, replace(FREE, fold_clear=True)), SeamMap(block)
        check(claim_of(made))
        for section in made.sections:
            for number, step in enumerate(section.steps[1:], start=1):
                assert is_fold_clear(seams, step, section.patches[:number])
        if name in CONVEX:
            assert made.fewest is not None and len(made.sections) == made.fewest.sections


@pytest.mark.parametrize(
    ("outline", "lines", "sections"),
    [
        pytest.param(U_SHAPE, [((0, 4), (2, 2))], 1, id="U: a seam to an inside corner"),
        pytest.param(
            L_SHAPE,
            [((3, 4), (2, 0)), ((2.75, 3), (3, 3)), ((6, 2), (2.5, 2)), ((0, 5), (6, 1))],
            3,
            id="L: one line cuts three parts",
        ),
        pytest.param(
            T_SHAPE,
            [((4, 0), (4, 4)), ((2, 2), (0, 0)), ((4, 6), (2, 3)), ((2, 5), (3, 6)), ((2, 3), (2, 0))],
            1,
            id="T: lines run on beyond the arms",
        ),
    ],
)
def test_lines_that_leave_a_notched_outline_and_come_back_are_several_seams(outline, lines, sections) -> None:  # type: ignore[no-untyped-def]
    block = exact_block(lines, outline)
    assert len(plan(block, FREE).sections) == sections
    for options in LIMITS.values():
        _is_least(block, options)


# -- everything at once --------------------------------------------------------------------------------------


@given(
    seed=st.integers(0, 10**6),
    lines=st.integers(1, 12),
    name=st.sampled_from(sorted(SHAPES)),
    whole=st.floats(0, 1),
    options=st.builds(
        PlanOptions,
        fit=st.sampled_from(Fit),
        max_patches=st.none() | st.integers(1, 9),
        fold_clear=st.booleans(),
        allowance_in=st.sampled_from([None, 0.75, 1.6, 2.0]),
        paper=st.sampled_from(["letter", "a4", "a3"]),
        steps=st.sampled_from([1, 50, 100_000]),
        priority=st.sampled_from(Priority),
    ),
)
@settings(derandomize=True, deadline=None, max_examples=80)
def test_every_plan_under_any_limits_is_true(
    seed: int, lines: int, name: str, whole: float, options: PlanOptions
) -> None:
    made = plan(random_lines(seed, lines, SHAPES[name], whole), options)
    limits = Limits(SeamMap(made.block), options)
    check(claim_of(made))
    assert all(limits.allow(section.patches) for section in made.sections)
    inner = [point for join in made.joins for point in join.seam[1:-1]]
    assert len(inner) == len(set(inner))


def test_stuck_blocks_are_stuck_under_any_limits() -> None:
    blocks = (erased_lines(seed, 7, OUTLINES[name], 0.4) for seed in range(6) for name in sorted(OUTLINES))
    stuck = [block for block in blocks if plan(block, FREE).sewable == "no"]
    assert len(stuck) >= 5
    for block in stuck:
        regions = [obstruction.patches for obstruction in plan(block, FREE).obstructions]
        for options in LIMITS.values():
            assert [obstruction.patches for obstruction in plan(block, options).obstructions] == regions


def test_the_outlines_of_these_tests_turn_as_they_should() -> None:
    for ring in SHAPES.values():
        assert sum(x * v - y * u for (x, y), (u, v) in pairwise([*ring, ring[0]])) > 0
    assert set(NOTCHED) <= set(SHAPES)


@pytest.mark.parametrize("name", ["two patches", "five patches"])
def test_where_ties_are_left_open_the_plan_still_has_as_few_sections_as_were_proven(name: str) -> None:
    for block in (full_chords(3, 8, 6), grid(6, 5), random_lines(4, 7)):
        enough = next(n for n in range(1, 100_000, 31) if _settled(plan(block, replace(LIMITS[name], steps=n))))
        for steps in range(enough, enough + 60, 20):
            made = plan(block, replace(LIMITS[name], steps=steps))
            assert len(made.sections) == len(plan(block, LIMITS[name]).sections)


def _settled(made: Plan) -> bool:
    assert made.fewest is not None
    return made.fewest.proven and not any(note.code == "limits-open" for note in made.notes)
