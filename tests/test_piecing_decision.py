"""Can it be sewn, and if not, why: decision, stuck regions, obstructions."""

from __future__ import annotations

import math
import random
from itertools import pairwise

import networkx as nx
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from seamwright.block.model import Block
from seamwright.block.planar import Piece, build_block
from seamwright.claims.plans import claim_of
from seamwright.options import PlanOptions, Units
from seamwright.piecing.decide import decide
from seamwright.piecing.explain import StuckRegion
from seamwright.piecing.seammap import SeamMap
from seamwright.proof.checker import check
from support.exact import exact_block
from support.exhaustive import Exhaustive
from support.plans import plan_any_size as plan
from support.random_blocks import (
    L_SHAPE,
    NOTCHED,
    OUTLINES,
    T_SHAPE,
    U_SHAPE,
    erased_lines,
    mixed_blocks,
    rectangulation_block,
    rectangulations,
)

SETTINGS = settings(derandomize=True, deadline=None, max_examples=60)
PINWHEEL = [((0, 2), (4, 2)), ((4, 0), (4, 4)), ((2, 4), (6, 4)), ((2, 2), (2, 6))]
FIVE_RAYS = [((3, 3), end) for end in ((3, 0), (6, 2), (5, 6), (1, 6), (0, 2))]

blocks_with_erased_lines = st.builds(
    lambda seed, name: erased_lines(seed, 7, OUTLINES[name], 0.4),
    st.integers(0, 10**6),
    st.sampled_from(sorted(OUTLINES)),
)


# Ackerman, Barequet, Pinter, "On the number of rectangulations of a planar point set", J. Combin. Theory A 113
# (2006): on a diagonal, Baxter numbers in all (OEIS A001181), large Schroeder numbers guillotine-wise (A006318).
# One foundation: a(n) = 4 a(n-1) - 2 a(n-2), a(0) = 1, a(1) = 2, because the patch sewn last sits at the first or
# the last diagonal point, two ways each, and both at once only when parallel.
@pytest.mark.parametrize(
    ("points", "in_all", "pieceable", "one_foundation"),
    [(1, 2, 2, 2), (2, 6, 6, 6), (3, 22, 22, 20), (4, 92, 90, 68), (5, 422, 394, 232)],
)
def test_rectangulations_of_a_diagonal_are_pieceable_as_often_as_they_are_guillotine(
    points: int, in_all: int, pieceable: int, one_foundation: int
) -> None:
    plans = [plan(rectangulation_block(lines)) for lines in rectangulations(points)]
    assert len(plans) == in_all
    assert sum(p.pieceable for p in plans) == pieceable
    assert sum(p.fewest is not None and p.fewest.sections == 1 for p in plans) == one_foundation


@pytest.mark.long
def test_rectangulations_of_six_points() -> None:
    # The same sources: 2074 in all, 1806 guillotine; 792 of one foundation by the recurrence.
    plans = [plan(rectangulation_block(lines)) for lines in rectangulations(6)]
    assert len(plans) == 2074
    assert sum(p.pieceable for p in plans) == 1806
    assert sum(p.fewest is not None and p.fewest.sections == 1 for p in plans) == 792


@given(block=blocks_with_erased_lines, seed=st.integers(0, 1000))
@SETTINGS
def test_stuck_regions_are_the_same_whatever_the_order_of_cuts(block: Block, seed: int) -> None:
    stuck = Exhaustive(block).stuck(random.Random(seed))
    assert {frozenset(part) for part in decide(SeamMap(block)).stuck} == stuck


def test_a_pinwheel_is_a_ring_of_four_seams() -> None:
    made = plan(exact_block(PINWHEEL))
    (stuck,) = made.obstructions
    assert made.sewable == "no" and not made.pieceable
    assert made.sections == made.joins == () and made.fewest is None
    assert stuck.kind == "ring of seams"
    assert {made.block.points[p] for p in stuck.points} == {(2, 2), (4, 2), (4, 4), (2, 4)}
    assert stuck.patches == (0, 1, 2, 3, 4)
    assert stuck.why == (
        "Patches ?1, ?2, ?3, ?4 and ?5 lock one another: 4 seams run in a ring round (2, 2), (4, 2), (4, 4) and "
        "(2, 4) in from the top left corner, each ending on the side of the next, so none of them can be sewn from "
        "end to end before the others."
    )


def test_a_whole_line_through_a_pinwheel_frees_it() -> None:
    # A ring in the seam graph that is no obstruction: 8 patches, 2 sections.
    made = plan(exact_block([*PINWHEEL, ((0, 3), (6, 3))]))
    assert made.fewest is not None
    assert (len(made.block.patches), made.fewest.sections) == (8, 2)


def test_a_seam_that_ends_where_two_run_through_waits_for_one_of_them() -> None:
    # The seam graph has a ring; the block needs two sections.
    lines = [((0, 3), (6, 3)), ((3, 3), (0, 6)), ((0, 0), (4.5, 4.5)), ((1.5, 4.5), (6, 4.5))]
    made = plan(exact_block(lines))
    assert made.fewest is not None and made.fewest.sections == 2


def test_five_rays_meet_where_no_seam_runs_straight_on() -> None:
    # No seam ends on the side of another: a graph of waiting seams has no edge, and yet nothing can be cut.
    made = plan(exact_block(FIVE_RAYS))
    (stuck,) = made.obstructions
    assert stuck.kind == "no seam straight through"
    assert [made.block.points[p] for p in stuck.points] == [(3, 3)]
    assert made.set_in_points == 1
    assert "(3, 3) in from the top left corner, and no seam runs straight on there" in stuck.why


def test_an_inside_corner_is_named() -> None:
    made = plan(exact_block([((0, 2), (3, 2)), ((3, 2), (3, 0))]))
    (stuck,) = made.obstructions
    assert stuck.kind == "inside corner"
    assert [made.block.points[p] for p in stuck.points] == [(3, 2)]


def test_a_patch_that_floats_inside_another_is_an_island() -> None:
    square = [(2, 2), (4, 2), (4, 4), (2, 4)]
    made = plan(exact_block(list(zip(square, square[1:] + square[:1], strict=True))))
    (stuck,) = made.obstructions
    assert stuck.kind == "island"
    assert sorted(made.block.points[p] for p in stuck.points) == sorted(square)
    assert stuck.patches == (0, 1)


def test_of_an_island_in_patches_only_its_own_corners_are_shown() -> None:
    square = [(1, 1), (5, 1), (5, 5), (1, 5)]
    small = [(2, 2), (2, 3), (3, 3), (3, 2)]
    lines = [side for ring in (square, small) for side in zip(ring, ring[1:] + ring[:1], strict=True)]
    for more in ([], [((1, 4), (5, 4))]):
        made = plan(exact_block([*lines, *more]))
        (stuck,) = made.obstructions
        assert sorted(made.block.points[p] for p in stuck.points) == sorted(square)
        assert stuck.why.startswith(
            "The part with its corners at (1, 1), (5, 1), (1, 5) and (5, 5) in from the top left"
        )


def test_a_part_that_hangs_on_by_one_point_is_stuck_at_its_other_corners() -> None:
    for top, more in (((3, 0), []), ((3, 3), [((0, 3), (6, 3))])):
        corners = [top, (2, top[1] + 2), (4, top[1] + 2)]
        made = plan(exact_block([*zip(corners, corners[1:] + corners[:1], strict=True), *more]))
        (stuck,) = made.obstructions
        assert stuck.kind == "inside corner"
        assert [made.block.points[p] for p in stuck.points] == corners[1:]


def test_an_island_beside_a_whole_seam_sticks_only_to_the_patch_round_it() -> None:
    square = [(1, 2), (2, 2), (2, 4), (1, 4)]
    made = plan(exact_block([*zip(square, square[1:] + square[:1], strict=True), ((3, 0), (3, 6))]))
    (stuck,) = made.obstructions
    assert stuck.kind == "island" and len(stuck.patches) == 2


def test_two_stuck_places_are_two_obstructions() -> None:
    shifted = [((x + 6, y), (u + 6, v)) for (x, y), (u, v) in FIVE_RAYS]
    lines = [*PINWHEEL, *shifted, ((6, 0), (6, 6))]
    made = plan(exact_block(lines, ((0, 0), (12, 0), (12, 6), (0, 6))))
    assert [o.number for o in made.obstructions] == [1, 2]
    assert sorted(o.kind for o in made.obstructions) == ["no seam straight through", "ring of seams"]


def test_places_are_told_in_centimetres_when_asked() -> None:
    made = plan(exact_block(FIVE_RAYS), PlanOptions(units=Units.METRIC))
    assert "(7.6, 7.6) cm from the top left corner" in made.obstructions[0].why


# Outlines with inside corners: sides of whole lines give wrong answers for each of these; connected runs are right.
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
def test_cuts_of_notched_outlines_are_connected_runs(outline, lines, sections) -> None:  # type: ignore[no-untyped-def]
    made = plan(exact_block(lines, outline))
    assert made.fewest is not None and made.fewest.sections == sections


@pytest.mark.parametrize("name", sorted(NOTCHED))
def test_a_notched_outline_alone_is_one_plain_piece(name: str) -> None:
    made = plan(exact_block([], NOTCHED[name]))
    assert [section.kind for section in made.sections] == ["plain"]


@given(seed=st.integers(0, 10**6))
@SETTINGS
def test_without_a_point_that_stops_every_seam_networkx_finds_a_ring_too(seed: int) -> None:
    block = erased_lines(seed, 9, erased=0.35)
    seams = SeamMap(block)
    decision = decide(seams)
    for obstruction in plan(block).obstructions:
        graph = StuckRegion(seams, decision, obstruction.patches).seam_graph()
        if obstruction.kind == "ring of seams":
            # networkx's own listing of elementary circuits (D. B. Johnson, SIAM J. Comput. 4, 1975).
            shortest = min(map(len, nx.simple_cycles(graph)))
            assert len(obstruction.points) == shortest
            assert not nx.is_directed_acyclic_graph(graph)
        else:
            assert set(obstruction.points) <= set(seams.no_seam_through)


def test_in_rectangulations_that_are_stuck_the_shortest_ring_has_four_seams() -> None:
    stuck = [made for lines in rectangulations(5) if not (made := plan(rectangulation_block(lines))).pieceable]
    assert len(stuck) == 422 - 394
    assert all(len(o.points) == 4 and o.kind == "ring of seams" for made in stuck for o in made.obstructions)


def _with_curve(more: list[tuple[tuple[int, int], tuple[int, int]]]) -> Block:
    """A square with a curve from (0, 3) to (6, 3), and straight pieces between the points given."""
    points: list[tuple[float, float]] = [(0, 0), (6, 0), (6, 3), (6, 6), (0, 6), (0, 3)]
    for pair in more:
        points += [p for p in pair if p not in points]
    at = {p: i for i, p in enumerate(points)}
    on = {side: [] for side in "news"}  # type: ignore[var-annotated]
    for p in points:
        for side, lies in zip("news", (p[1] == 0, p[0] == 6, p[0] == 0, p[1] == 6), strict=True):
            if lies:
                on[side].append(p)
    pieces = [Piece(at[a], at[b], line) for line, side in enumerate("news") for a, b in pairwise(sorted(on[side]))]
    pieces.append(Piece(at[0, 3], at[6, 3], 4, via=((2, 2.0), (4, 2.0))))
    pieces += [Piece(at[a], at[b], 5 + i) for i, (a, b) in enumerate(more)]
    return build_block("curve", "", points, pieces)


def test_a_curve_joins_sections_and_is_no_step_inside_one() -> None:
    made = plan(_with_curve([]))
    assert (made.sewable, made.pieceable, made.obstructions) == ("curved", False, ())
    (join,) = made.joins
    assert join.kind == "curved"
    assert {made.block.points[p] for p in join.seam} == {(0, 3), (6, 3)}
    assert [section.kind for section in made.sections] == ["plain", "plain"]
    check(claim_of(made))


def test_what_lies_straight_beside_a_curve_is_pieced_on_paper() -> None:
    made = plan(_with_curve([((0, 5), (6, 5))]))
    assert made.sewable == "curved"
    assert sorted(len(section.patches) for section in made.sections) == [1, 2]
    check(claim_of(made))


def test_what_is_stuck_beside_a_curve_is_an_obstruction_by_itself() -> None:
    made = plan(_with_curve([((2, 4), (4, 4)), ((4, 4), (4, 5)), ((4, 5), (2, 5)), ((2, 5), (2, 4))]))
    assert [o.kind for o in made.obstructions] == ["island"]
    assert made.sewable == "no"


def _circle(across: bool) -> Block:
    """A circle in a square, with a straight line across both or not."""
    points: list[tuple[float, float]] = [(0, 0), (6, 0), (6, 6), (0, 6), (4, 3), (2, 3), (0, 3), (6, 3)]
    half = tuple((3 + math.cos(math.pi * k / 8), 3 + math.sin(math.pi * k / 8)) for k in range(1, 8))
    circle = [Piece(4, 5, 9, half), Piece(5, 4, 9, tuple((6 - x, 6 - y) for x, y in half))]
    if not across:
        return build_block("circle", "", points[:6], [*(Piece(i, (i + 1) % 4, i) for i in range(4)), *circle])
    sides = [Piece(0, 1, 0), Piece(1, 7, 1), Piece(7, 2, 1), Piece(2, 3, 2), Piece(3, 6, 3), Piece(6, 0, 3)]
    return build_block("circle", "", points, [*sides, *circle, Piece(6, 5, 4), Piece(5, 4, 4), Piece(4, 7, 4)])


def test_a_circle_is_an_island_and_with_a_line_across_two_curved_joins() -> None:
    (stuck,) = plan(_circle(across=False)).obstructions
    assert stuck.kind == "island" and len(stuck.points) == 2
    made = plan(_circle(across=True))
    # The line lies first in every plan: a circle through one point of a border, or none, has no ends.
    assert sorted(join.kind for join in made.joins) == ["curved", "curved", "straight"]
    assert made.points_to_match == 2
    check(claim_of(made))


def test_every_stuck_block_gets_words_for_every_obstruction() -> None:
    for block in mixed_blocks(11, 150, most_lines=8):
        made = plan(block)
        names = made.patch_names()
        for obstruction in made.obstructions:
            assert obstruction.why.endswith(".") and "?" in obstruction.why
            assert names[obstruction.patches[0]] in obstruction.why
            assert obstruction.points
