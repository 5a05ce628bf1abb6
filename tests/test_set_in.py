"""Set-in and partial seams: a stuck drawing sewn as it is, with as few as can be."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise

import networkx as nx
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from seamwright.block.model import OUTSIDE, Block
from seamwright.claims.plans import claim_of
from seamwright.options import Fit, PlanOptions, Units
from seamwright.piecing.decide import decide
from seamwright.piecing.model import Plan
from seamwright.piecing.plan import plan
from seamwright.piecing.seammap import SeamMap
from seamwright.piecing.setin import floating, set_in
from seamwright.piecing.turns import legs_of, turns_of
from seamwright.proof.checker import check
from seamwright.words.checks import check_words
from support.bent import Bent
from support.exact import exact_block
from support.random_blocks import (
    OUTLINES,
    erased_lines,
    rectangulation_block,
    rectangulations,
    spiral,
)
from support.turning import HEXAGON, PINWHEEL, Y, bent_over, rings_within, tide_line, tiled, two_rings, voronoi

SET_IN = PlanOptions(set_in=True)
WHOLE = PlanOptions(set_in=True, fit=Fit.NONE)


def counted(made: Plan) -> tuple[int, int, int]:
    """(partial turns, most turns in one join, sections)."""
    assert made.fewest is not None
    halves = sum(turn.is_half for turn in turns_of(made))
    return halves, max((len(join.turns) for join in made.joins), default=0), made.fewest.sections


def stuck(block: Block) -> bool:
    return bool(decide(SeamMap(block)).stuck)


# -- what is known beforehand ----------------------------------------------------------------------------------


def test_a_ring_of_four_strips_round_a_centre_is_one_partial_seam_and_no_set_in() -> None:
    made = plan(exact_block(PINWHEEL), SET_IN)
    assert made.sewable == "set-in" and not made.pieceable
    assert [join.kind for join in made.joins if join.turns] == ["partial"]
    assert made.set_in_points == 0
    # All but one strip are a log cabin round the centre; the last strip closes the ring.
    assert counted(made) == (1, 1, 2)
    assert made.fewest is not None and made.fewest.proven


THREE_DIAMONDS = [((4, 3), end) for end in ((2, 0), (8, 3), (2, 6))]
FIVE_RAYS = [((3, 3), end) for end in ((3, 0), (6, 2), (5, 6), (1, 6), (0, 2))]


@pytest.mark.parametrize(
    ("block", "expected", "points"),
    [
        pytest.param(exact_block(Y), (0, 1, 2), 1, id="three patches that meet in a Y"),
        pytest.param(exact_block(THREE_DIAMONDS, HEXAGON), (0, 1, 2), 1, id="hexagon of three diamonds"),
        pytest.param(exact_block(FIVE_RAYS), (0, 1, 2), 1, id="five rays"),
        pytest.param(exact_block([((0, 2), (3, 2)), ((3, 2), (3, 0))]), (0, 1, 2), 1, id="a square in a corner"),
        pytest.param(rings_within(2), (2, 1, 4), 0, id="a ring in a ring"),
        pytest.param(two_rings(), (2, 1, 4), 0, id="two rings side by side"),
    ],
)
def test_constructions_with_known_facts(block: Block, expected: tuple[int, int, int], points: int) -> None:
    made = plan(block, WHOLE)
    assert counted(made) == expected
    assert made.set_in_points == points
    check(claim_of(made))


def test_two_of_three_patches_at_a_y_share_a_foundation() -> None:
    made = plan(exact_block(Y), SET_IN)
    assert sorted(len(section.patches) for section in made.sections) == [1, 2]


def test_what_can_be_sewn_straight_is_planned_as_ever() -> None:
    for block in (spiral(7), exact_block([((0, 3), (6, 3)), ((3, 0), (3, 6))])):
        one, two = plan(block), plan(block, SET_IN)
        assert one.pieceable and two.pieceable
        assert (one.sections, one.joins, one.fewest) == (two.sections, two.joins, two.fewest)


def test_a_curve_may_be_a_leg_of_a_seam_that_turns() -> None:
    made = plan(tide_line(), SET_IN)
    assert made.sewable == "set-in"
    check(claim_of(made))
    (turning,) = [join for join in made.joins if join.turns]
    assert len(turning.turns) == 1


def test_an_island_stays_an_obstruction_and_is_told_so() -> None:
    square = [(2, 2), (4, 2), (4, 4), (2, 4)]
    block = exact_block(list(zip(square, square[1:] + square[:1], strict=True)))
    assert floating(block)
    made = plan(block, SET_IN)
    assert made.sewable == "no" and made.sections == ()
    assert [o.kind for o in made.obstructions] == ["island"]
    assert any("Sew it on top (applique)" in note.text for note in made.notes)
    assert "not even with set-in seams" in check_words("x", made)[0]


def test_beside_an_island_only_the_island_is_an_obstruction() -> None:
    square = [(1, 1), (2, 1), (2, 2), (1, 2)]
    lines = [*zip(square, square[1:] + square[:1], strict=True), ((0, 3), (6, 3))]
    lines += [((3, 3), (3, 4)), ((3, 4), (0, 5)), ((3, 4), (6, 5))]
    assert len(plan(exact_block(lines)).obstructions) == 2
    assert [o.kind for o in plan(exact_block(lines), SET_IN).obstructions] == ["island"]


# -- against trying everything ---------------------------------------------------------------------------------


def small_stuck_blocks() -> list[Block]:
    blocks = [erased_lines(seed, 7, OUTLINES[sorted(OUTLINES)[seed % 7]], 0.4) for seed in range(24)]
    blocks += [voronoi(seed, 4 + seed % 5) for seed in range(10)]
    blocks += [rectangulation_block(lines) for lines in rectangulations(4)]
    return [b for b in blocks if len(b.patches) <= 8 and stuck(b) and not floating(b)]


def test_nothing_is_better_than_what_is_found() -> None:
    blocks = small_stuck_blocks()
    assert len(blocks) >= 15
    for block in blocks:
        made = plan(block, WHOLE)
        assert counted(made) == Bent(block).best()
        assert made.fewest is not None and made.fewest.proven
        check(claim_of(made))


@pytest.mark.long
def test_nothing_is_better_than_what_is_found_in_many_more() -> None:
    blocks = [erased_lines(seed, 7, OUTLINES[sorted(OUTLINES)[seed % 7]], 0.4) for seed in range(24, 500)]
    blocks += [voronoi(seed, 4 + seed % 6) for seed in range(10, 120)]
    blocks += [rectangulation_block(lines) for lines in rectangulations(5)]
    for block in blocks:
        if len(block.patches) <= 9 and stuck(block) and not floating(block):
            made = plan(block, WHOLE)
            assert counted(made) == Bent(block).best()
            check(claim_of(made))


def test_of_a_rectangulation_that_is_no_guillotine_one_partial_seam_is_enough() -> None:
    # 92 rectangulations of four diagonal points less 90 guillotine ones, 422 less 394 of five: the sources stand
    # beside the counts in test_piecing_decision. With five patches or six there is but one ring in each.
    found = [rectangulation_block(lines) for n in (4, 5) for lines in rectangulations(n)]
    rings = [block for block in found if stuck(block)]
    assert len(rings) == 2 + 28
    for block in rings:
        assert counted(plan(block, WHOLE)) == (1, 1, 2)


@pytest.mark.parametrize("rings", [1, 2, 3, 4])
def test_each_ring_among_tiles_is_one_partial_seam(rings: int) -> None:
    # Made of cuts and rings alone: no point is without a seam straight through, and each ring must be opened once.
    for seed in range(2):
        made = plan(tiled(seed, 12 + 4 * rings, rings), WHOLE)
        assert counted(made)[:2] == (rings, 1)
        assert [join.kind for join in made.joins if join.turns] == ["partial"] * rings
        check(claim_of(made))


def test_with_some_seams_bent_to_curves_nothing_is_better_either() -> None:
    compared = 0
    for seed in range(6):
        for block in (voronoi(seed, 4 + seed % 5, 6.0), exact_block(PINWHEEL)):
            curved = bent_over(block, (2.3 + seed / 10, 3.0), 2.0, (0.2, 0.05 * (seed % 4) - 0.1))
            made = plan(curved, WHOLE)
            check(claim_of(made))
            if made.sewable == "set-in":
                compared += 1
                assert counted(made) == Bent(curved).best()
    assert compared >= 10


# -- laws ------------------------------------------------------------------------------------------------------

stuck_blocks = st.one_of(
    st.builds(
        lambda seed, name: erased_lines(seed, 8, OUTLINES[name], 0.4),
        st.integers(0, 10**6),
        st.sampled_from(sorted(OUTLINES)),
    ),
    st.builds(voronoi, st.integers(0, 10**6), st.integers(3, 12)),
).filter(lambda block: stuck(block) and not floating(block))


@given(block=stuck_blocks)
@settings(derandomize=True, deadline=None, max_examples=20)
def test_a_plan_that_turns_is_true_and_turns_at_every_point_once(block: Block) -> None:
    made = plan(block, WHOLE)
    check(claim_of(made))
    turned = [turn.point for turn in turns_of(made)]
    assert len(set(turned)) == len(turned)
    # Points that no seam runs through are turned at once each, in every plan: the count is the drawing's.
    assert set(SeamMap(block).no_seam_through) <= set(turned)
    assert made.set_in_points == len(SeamMap(block).no_seam_through)
    assert sum(turn.is_half for turn in turns_of(made)) == len(turned) - made.set_in_points


@given(block=stuck_blocks)
@settings(derandomize=True, deadline=None, max_examples=10)
def test_with_the_turns_chosen_nothing_is_stuck(block: Block) -> None:
    seams = SeamMap(block, turning=True)
    found = set_in(seams, SET_IN)
    assert decide(found.seams, lambda seam: True).stuck == ()
    assert found.seams.block.points == block.points and found.seams.block.patches == block.patches
    for number, seam in enumerate(found.seams.block.seams):
        assert len(set(seam.points)) == len(seam.points)
        assert all(found.seams.block.edges[edge].seam == number for edge in seam.edges)


@given(block=stuck_blocks)
@settings(derandomize=True, deadline=None, max_examples=10)
def test_no_part_is_closed_round_patches_that_it_does_not_hold(block: Block) -> None:
    """By networkx, on the graph of patches that meet: what is outside a part always reaches the block's edge."""
    made = plan(block, WHOLE)
    graph = nx.Graph((edge.left, edge.right) for edge in block.edges)
    parts = {section.name: frozenset(section.patches) for section in made.sections}
    for join in made.joins:
        parts[join.makes] = parts[join.first] | parts[join.second]
    for patches in parts.values():
        assert nx.is_connected(graph.subgraph(patches))
        for point in block.outline:  # patches that touch the edge in a point reach it, too
            graph.add_edges_from((patch, OUTSIDE) for patch in SeamMap(block).fans[point])
        assert nx.is_connected(graph.subgraph(set(graph) - patches))


@given(block=stuck_blocks)
@settings(derandomize=True, deadline=None, max_examples=10)
def test_the_legs_of_a_join_are_all_of_its_seam_and_a_second_go_comes_after_the_leg_that_ends_there(
    block: Block,
) -> None:
    made = plan(block, WHOLE)
    turns = {turn.point: turn for turn in turns_of(made)}
    for number, join in enumerate(made.joins, start=1):
        legs = legs_of(made, number)
        sewn = sorted(tuple(sorted(pair)) for leg in legs for pair in pairwise(leg.points))
        assert sewn == sorted(tuple(sorted(pair)) for pair in pairwise(join.seam))
        assert len(legs) == len(join.turns) + 1
        reached: set[int] = set()
        for leg in legs:
            if leg.closes:
                assert turns[leg.points[0]].is_half and leg.points[0] in reached
            if leg.pivots:
                assert not turns[leg.points[0]].is_half and leg.points[0] in reached
            reached |= {leg.points[0], leg.points[-1]}


def test_the_same_drawing_rotated_has_the_same_counts() -> None:
    for seed in range(6):
        block = voronoi(seed, 9)
        turned = voronoi(seed, 9, turned=True)
        assert counted(plan(block, WHOLE)) == counted(plan(turned, WHOLE))


def test_out_of_steps_points_are_freed_one_at_a_time_and_that_is_said() -> None:
    made = plan(rings_within(4), PlanOptions(set_in=True, fit=Fit.NONE, steps=9_000))
    assert counted(made)[:2] == (4, 1)
    assert made.fewest is not None and not made.fewest.proven
    assert any("fewer partial seams, or fewer turns in one join, may do" in note.text for note in made.notes)
    check(claim_of(made))


@pytest.mark.parametrize("steps", [1, 200, 2_000])
def test_out_of_steps_altogether_some_division_is_found(steps: int) -> None:
    for block in (rings_within(3), erased_lines(18, 13, erased=0.45)):
        made = plan(block, PlanOptions(set_in=True, fit=Fit.NONE, steps=steps))
        assert made.sewable == "set-in"
        check(claim_of(made))


def test_out_of_steps_there_is_still_a_true_plan_with_its_bound() -> None:
    for seed in (3, 4):
        block = voronoi(seed, 24)
        best = plan(block, PlanOptions(set_in=True, fit=Fit.NONE, steps=1))
        check(claim_of(best))
        assert best.fewest is not None
        assert best.fewest.at_least <= best.fewest.sections


@pytest.mark.parametrize(
    "block",
    [
        pytest.param(voronoi(20, 20), id="cells"),
        pytest.param(rings_within(4), id="four rings within each other"),
        # Every seam from the border ends on another one here, and one cut alone must turn seven times.
        pytest.param(erased_lines(18, 13, erased=0.45), id="rings and Ys"),
    ],
)
def test_twenty_stuck_patches_are_proven(block: Block) -> None:
    made = plan(block, WHOLE)
    assert made.fewest is not None and made.fewest.proven
    check(claim_of(made))


# -- limits ----------------------------------------------------------------------------------------------------


@pytest.mark.parametrize("most", [1, 2, 3])
def test_sections_keep_to_the_number_of_patches_asked_for(most: int) -> None:
    made = plan(two_rings(), PlanOptions(set_in=True, max_patches=most))
    assert max(len(section.patches) for section in made.sections) <= most
    assert counted(made)[:2] == (2, 1)
    check(claim_of(made))


@pytest.mark.parametrize("steps", [1, 50])
@pytest.mark.parametrize("seed", [1, 2, 8, 39])
def test_a_search_that_ends_while_points_to_free_are_counted_still_gives_a_true_plan(seed: int, steps: int) -> None:
    made = plan(erased_lines(seed, 9, erased=0.4), PlanOptions(set_in=True, fit=Fit.NONE, steps=steps))
    assert made.sections
    check(claim_of(made))


def test_steps_fold_clear_where_asked() -> None:
    loose, clear = (
        plan(exact_block(FIVE_RAYS), PlanOptions(set_in=True, fold_clear=clear)) for clear in (False, True)
    )
    # Three wedges fold clear of each other, four do not: the fold line of the last crosses the first.
    assert max(len(section.patches) for section in loose.sections) == 4
    assert max(len(section.patches) for section in clear.sections) == 3
    assert any(note.code == "fold" for note in loose.notes)
    assert not any(note.code == "fold" for note in clear.notes)


# -- words -----------------------------------------------------------------------------------------------------


def told(block: Block, options: PlanOptions = WHOLE) -> Sequence[str]:
    return [line.strip() for line in check_words("x", plan(block, options))]


def test_a_set_in_join_is_told_from_its_start_over_its_pivot_to_its_end() -> None:
    lines = told(exact_block(Y))
    assert "A: the line of A2 stops at (3, 3)." in lines
    (join,) = [line for line in lines if line.startswith("Join 1")]
    assert "one set-in seam" in join
    assert "to the point at (3, 3), stop, secure, pivot, sew on to the edge at" in join
    assert any(line.startswith("Where a seam pivots:") for line in lines)


def test_a_partial_join_is_told_in_two_goes_and_says_what_it_closes() -> None:
    lines = told(exact_block(PINWHEEL), PlanOptions(set_in=True, max_patches=1))
    (last,) = [line for line in lines if "partial seam," in line]
    assert "stop and secure; then close the seam that join" in last and "straight on to the edge at" in last
    stopped = [line for line in lines if "stop and secure at" in line]
    assert len(stopped) == 1 and "sews on from there" in stopped[0]
    # The join that stops there comes before the one that closes it.
    number = int(last.split("the seam that join ")[1].split()[0])
    assert stopped[0].startswith(f"Join {number}:") and int(last.split()[1][:-1]) > number
    assert not any("pivot," in line for line in lines)


def test_a_first_go_inside_a_foundation_is_told_by_its_patch() -> None:
    lines = told(exact_block(PINWHEEL))
    (join,) = [line for line in lines if line.startswith("Join 1")]
    assert "then close the seam that the line of A" in join


def test_what_is_proven_speaks_of_seams_that_turn() -> None:
    assert told(exact_block(PINWHEEL))[-1] == (
        "Proven: every step and seam holds; no plan with as few partial seams and as few turns in one join has "
        "fewer than 2 sections."
    )


def test_a_stuck_drawing_is_offered_seams_that_turn() -> None:
    assert any(line.endswith("add --set-in") for line in told(exact_block(PINWHEEL), PlanOptions()))


def test_centimetres_are_said_in_centimetres() -> None:
    lines = told(exact_block(Y), PlanOptions(set_in=True, units=Units.METRIC))
    assert any("(7.6, 7.6)" in line for line in lines)
    assert any(line.startswith("Places are in centimetres") for line in lines)
