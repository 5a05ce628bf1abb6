"""Match marks: where they help and nowhere else, and in one place on both sides of a join.

What must meet what is counted here from the block alone: seams that end on a point of a join from both sides.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from fractions import Fraction
from functools import cache
from itertools import combinations, pairwise
from pathlib import Path

import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely.geometry import LineString, Polygon

from seamwright.block.model import OUTSIDE, Block
from seamwright.block.planar import Piece, build_block
from seamwright.foundation.common import common_to
from seamwright.foundation.lay import printed_at_origin
from seamwright.foundation.lines import PrintLines, lines_of
from seamwright.foundation.make import foundations
from seamwright.geometry import Affine, Point, Segment, after
from seamwright.ink.model import Pen, Stroke
from seamwright.options import Fit, PlanOptions, Priority, Size
from seamwright.piecing.model import Join, Plan, Section, Step
from seamwright.piecing.plan import plan
from support.curves import random_curved
from support.exact import SQUARE6, exact_block
from support.prints import designs, faults_of, planned
from support.random_blocks import CONVEX, OUTLINES, erased_lines, grid, random_lines
from test_piecing_repeats import blocks_with_repeats

MM = 1 / 25.4
TOLERANCE_IN = 0.05 * MM
SET_IN = PlanOptions(set_in=True, fit=Fit.NONE)
REPEATS = PlanOptions(priority=Priority.REPEATS, fit=Fit.NONE)


Drawn = dict[str, tuple[PrintLines, Affine]]
"""The lines of each section's print by its name, and the motion from the block's front view to it."""


def drawn(made: Plan) -> Drawn:
    """What is drawn of every section, words left out."""
    common = common_to(made)
    found: Drawn = {}
    for places in common.drawings:
        lay = printed_at_origin(common.trims[places[0].section.name])
        lines = lines_of(common, places, lay)
        for place in places:
            found[place.section.name] = (lines, after(place.motion, lay.affine))
    return found


def front_of(lines: PrintLines, front: Affine) -> list[Segment]:
    """The marks of a print, laid back on the block."""
    a, b, c, d, e, f = front

    def back(p: Point) -> Point:
        # The inverse of a motion that keeps lengths is its transpose.
        return (a * (p[0] - e) + b * (p[1] - f), c * (p[0] - e) + d * (p[1] - f))

    return [(back(foot), back(tip)) for foot, tip in lines.marks]


@cache
def borders(block: Block, patches: tuple[int, ...]) -> list[tuple[int, Point, Point]]:
    """The straight pieces of a section's border, each with the patch across and the section on the right hand."""
    inside = set(patches)
    found = []
    for number, edge in enumerate(block.edges):
        run = block.edge_points(number)
        if edge.right in inside and edge.left not in inside:
            found += [(edge.left, a, b) for a, b in pairwise(run)]
        if edge.left in inside and edge.right not in inside:
            found += [(edge.right, b, a) for a, b in pairwise(run)]
    return found


def across(made: Plan, section: Section, mark: Segment) -> set[str]:
    """The sections that lie beyond a section's border where one of its marks stands; "" for the block's edge."""
    (x, y), tip = mark
    found = []
    for patch, a, b in borders(made.block, section.patches):
        length = math.dist(a, b)
        out = ((b[1] - a[1]) / length, (a[0] - b[0]) / length)  # the left hand of a walker, y down
        upright = ((tip[0] - x) * out[0] + (tip[1] - y) * out[1]) / math.dist(*mark)
        if LineString([a, b]).distance(shapely.Point(x, y)) < 2e-3 and upright > 0.9:
            found.append((upright, patch))
    # At a corner two edges may lie nearly in one line: the mark is of the one it is more upright on.
    beyond = [patch for upright, patch in found if upright > max(found)[0] - 0.005]
    return {"" if p == OUTSIDE else next(s.name for s in made.sections if p in s.patches) for p in beyond}


def apart(one: Segment, two: Segment) -> float:
    """How far two marks are apart that ought to coincide, as far as both reach.

    Each ends on its own trim line. Coarse chords of a curve have none in common: there one may be a little longer.
    """
    lengths = math.dist(*one), math.dist(*two)
    if abs(lengths[0] - lengths[1]) > 0.01:
        return math.inf
    ends = [
        tuple(f + min(lengths) / length * (t - f) for f, t in zip(foot, tip, strict=True))
        for (foot, tip), length in zip((one, two), lengths, strict=True)
    ]
    return max(math.dist(one[0], two[0]), math.dist(*ends))


def facing_in(made: Plan) -> tuple[int, float]:
    """Lays every mark of every print over its join: how many were compared, and the largest error in inches."""
    own = {name: front_of(*lines) for name, lines in drawn(made).items()}
    compared, worst = 0, 0.0
    for section in made.sections:
        for foot, tip in own[section.name]:
            # Turned over the join, which the mark crosses at a right angle, its tip comes to lie inside.
            turned = (2 * foot[0] - tip[0], 2 * foot[1] - tip[1])
            beyond = across(made, section, (foot, tip))
            assert beyond, (section.name, foot, "stands on no edge of its section")
            for other in beyond - {""}:
                gap = min((apart((foot, turned), mark) for mark in own[other]), default=math.inf)
                compared, worst = compared + 1, max(worst, gap)
                assert gap < TOLERANCE_IN, (section.name, other, foot, gap)
    return compared, worst


def seams_met(made: Plan) -> Iterator[tuple[Point, int, int, float]]:
    """Every inner point of a join that does not turn: how many seams arrive from each side, the join's length."""
    block = made.block
    parts = {section.name: frozenset(section.patches) for section in made.sections}
    for join in made.joins:
        one, two = parts[join.first], parts[join.second]
        parts[join.makes] = one | two
        length = math.fsum(math.dist(block.points[p], block.points[q]) for p, q in pairwise(join.seam))
        for point in join.seam[1:-1]:
            if point not in join.turns:
                ends = [(e.left, e.right) for e in block.edges if point in (e.start, e.end)]
                yield (
                    block.points[point],
                    sum({*pair} <= one for pair in ends),
                    sum({*pair} <= two for pair in ends),
                    length,
                )


def strict(made: Plan) -> None:
    """Everything that holds of the marks of any plan."""
    facing_in(made)
    for print_, _ in drawn(made).values():
        trim, stitch = Polygon(print_.trim), Polygon(print_.stitch)
        for foot, tip in print_.marks:
            assert stitch.exterior.distance(shapely.Point(foot)) < 1e-6
            assert trim.exterior.distance(shapely.Point(tip)) < 1e-6
            assert LineString([foot, tip]).intersection(stitch).length < 2e-3
            assert 0.6 * 0.25 - 1e-6 <= math.dist(foot, tip) <= 0.25 * 1.11
        for i, one in enumerate(print_.marks):
            for two in print_.marks[:i]:
                # Two edges of a corner may have one each at the corner itself.
                at_corner = math.dist(one[0], two[0]) < 0.01
                assert at_corner or LineString(one).distance(LineString(two)) > 0.0499


@pytest.mark.parametrize("path", designs(), ids=lambda path: path.stem)
def test_marks_of_both_sides_coincide_in_the_designs(path: Path) -> None:
    strict(planned(path, SET_IN))


@pytest.mark.parametrize("path", designs()[::4], ids=lambda path: path.stem)
def test_prints_show_these_marks(path: Path) -> None:
    made = planned(path, SET_IN)
    lines = drawn(made)
    for print_ in foundations(made):
        own, front = lines[print_.section]
        if print_.mirrored:
            assert (print_.marks, print_.front) == (own.marks, front)
        shown = [ink.points for ink in print_.ink if isinstance(ink, Stroke) and ink.pen is Pen.MARK]
        assert shown == list(print_.marks)


SIZES = [3, 5, 16]


@pytest.mark.long
@pytest.mark.parametrize("inches", SIZES)
@pytest.mark.parametrize("path", designs(), ids=lambda path: path.stem)
def test_marks_of_both_sides_coincide_in_the_designs_at_other_sizes(path: Path, inches: int) -> None:
    strict(planned(path, PlanOptions(set_in=True, fit=Fit.NONE, size=Size(inches))))


@settings(derandomize=True, deadline=None, max_examples=15)
@given(seed=st.integers(0, 10_000), outline=st.sampled_from(sorted(CONVEX)), lines=st.integers(3, 9))
def test_marks_of_both_sides_coincide_in_random_blocks(seed: int, outline: str, lines: int) -> None:
    strict(plan(random_lines(seed, lines, OUTLINES[outline], whole=0.7)))


@settings(derandomize=True, deadline=None, max_examples=15)
@given(seed=st.integers(0, 10_000), outline=st.sampled_from(sorted(OUTLINES)), lines=st.integers(4, 9))
def test_marks_of_both_sides_coincide_where_joins_turn(seed: int, outline: str, lines: int) -> None:
    strict(plan(erased_lines(seed, lines, OUTLINES[outline], 0.3), SET_IN))


@pytest.mark.parametrize("seed", [0, 2, 8, 13, *(pytest.param(s, marks=pytest.mark.long) for s in range(20, 60))])
def test_marks_of_both_sides_coincide_along_curves(seed: int) -> None:
    block = random_curved(seed, 1 + seed % 5, 1 + seed % 2)
    if min(math.dist(p, q) for p, q in combinations(block.points, 2)) < 1 / 32:
        pytest.skip("three curves that cross within a thread of each other")
    strict(plan(block, SET_IN))


@settings(derandomize=True, deadline=None, max_examples=15)
@given(block=st.sampled_from(blocks_with_repeats()))
def test_marks_of_both_sides_coincide_where_one_drawing_serves_several_places(block: Block) -> None:
    strict(plan(block, REPEATS))


# -- where they stand --------------------------------------------------------------------------------------------


def feet(made: Plan) -> dict[str, list[Point]]:
    """The feet of each section's marks, front view."""
    return {name: [foot for foot, _ in found] for name, found in common_to(made).marks.items()}


def is_marked(found: dict[str, list[Point]], point: Point) -> bool:
    return any(math.dist(point, foot) < 1e-6 for there in found.values() for foot in there)


@pytest.mark.parametrize("path", designs(), ids=lambda path: path.stem)
def test_seams_of_both_sides_are_marked_where_they_meet_and_one_alone_is_not(path: Path) -> None:
    made = planned(path, SET_IN)
    found, curved = feet(made), any(edge.via for edge in made.block.edges)
    for point, one, two, length in seams_met(made):
        if one and two:
            assert is_marked(found, point), point
        elif one + two == 1 and length < 6 and not curved:
            # Where one drawing serves several places, what is marked at one of them is marked at all.
            assert not is_marked(found, point) or len(made.prints()) < len(made.sections), point


@pytest.mark.parametrize("size", [2, 3, 4])
def test_a_grid_has_a_mark_at_each_of_its_inner_points(size: int) -> None:
    made = plan(grid(size, size), PlanOptions(fit=Fit.NONE))
    joined = {p for join in made.joins for p in join.seam[1:-1]}
    assert joined
    found = feet(made)
    assert all(is_marked(found, made.block.points[p]) for p in joined)


def test_a_mark_stands_upright_on_the_stitch_line_and_ends_at_the_trim_line() -> None:
    lines = [((0, 3), (6, 3)), ((2, 0), (2, 3)), ((2, 3), (3, 6)), ((4, 3), (3, 0))]
    made = plan(exact_block(lines, SQUARE6))
    found = [mark for marks in common_to(made).marks.values() for mark in marks]
    assert len(found) == 2
    for (x, y), (tip_x, tip_y) in found:
        assert (x, y) == (2, 3)
        assert tip_x == pytest.approx(x)
        assert abs(tip_y - y) == pytest.approx(0.25)


def test_a_tip_that_touches_the_join_is_marked_on_both_sides() -> None:
    lines = [((0, 3), (6, 3)), ((2, 0), (3, 3)), ((4, 0), (3, 3)), ((0, 1), (Fraction(9, 4), Fraction(3, 4)))]
    lines += [((5, 3), (5, 6)), ((1, 3), (1, 6)), ((1, 5), (5, 5))]
    made = plan(exact_block(lines, SQUARE6))
    assert len(made.joins) == 1
    assert list(feet(made).values()) == [[(3, 3)], [(3, 3)]]


def test_a_plan_of_one_section_has_no_marks() -> None:
    assert common_to(plan(exact_block([((3, 0), (3, 6))], SQUARE6))).marks == {"A": ()}


def test_no_allowance_has_no_marks() -> None:
    made = plan(grid(3, 3), PlanOptions(allowance_in=0.0, fit=Fit.NONE))
    assert not any(common_to(made).marks.values())


@pytest.mark.parametrize(
    ("length", "marked"),
    [(6, []), (8, [4]), (12, [6]), (15, [5, 10]), (18, [6, 12])],
)
def test_a_long_join_is_marked_so_that_no_part_is_longer_than_six_inches(length: int, marked: list[int]) -> None:
    outline = ((0, 0), (length, 0), (length, 4), (0, 4))
    ends = Fraction(1, 2)
    # Seams at both ends of each half keep it from being one section, and meet the join nowhere.
    lines = [((0, 2), (length, 2)), ((ends, 0), (ends, 2)), ((length - ends, 2), (length - ends, 4))]
    made = plan(exact_block(lines, outline), PlanOptions(fit=Fit.NONE))
    assert len(made.joins) == 1
    for found in feet(made).values():
        assert sorted(x for x, _ in found) == pytest.approx(marked)


def test_a_seam_near_the_middle_of_a_long_join_is_marked_in_its_stead() -> None:
    lines = [((0, 2), (8, 2)), ((Fraction(9, 2), 0), (Fraction(9, 2), 2)), ((1, 2), (1, 4))]
    made = plan(exact_block(lines, ((0, 0), (8, 0), (8, 4), (0, 4))), PlanOptions(fit=Fit.NONE))
    for found in feet(made).values():
        assert found == [(4.5, 2)]


# -- curves ------------------------------------------------------------------------------------------------------


def arc_block(radius: float = 6.0, at: float = 30.0) -> Block:
    """A quarter of a disc in a square two inches wider; a seam ends on the arc from inside."""

    def on(angle: float) -> Point:
        return (radius * math.cos(math.radians(angle)), radius * math.sin(math.radians(angle)))

    side = radius + 2
    points = [(0.0, 0.0), (radius, 0.0), (side, 0.0), (side, side), (0.0, side), (0.0, radius), on(at)]
    border = [(0, 1, 0), (1, 2, 0), (2, 3, 1), (3, 4, 2), (4, 5, 3), (5, 0, 3)]
    pieces = [Piece(*ends) for ends in border]
    pieces += [
        Piece(1, 6, 4, tuple(on(a / 2) for a in range(2, round(2 * at)))),
        Piece(6, 5, 4, tuple(on(a / 2) for a in range(round(2 * at) + 1, 180))),
        Piece(0, 6, 5),
    ]
    return build_block("tide pool", "", points, pieces)


def arc_plan(radius: float = 6.0, at: float = 30.0) -> Plan:
    """Its plan by hand: the disc in two patches, and the rest."""
    block = arc_block(radius, at)
    inner = [i for i, patch in enumerate(block.patches) if 0 in patch.ring]
    (outer,) = [i for i, patch in enumerate(block.patches) if 3 in patch.ring]
    sections = (
        Section("A", "A", 1, False, (Step(inner[0]), Step(inner[1], (0, 6))), (0, 1, 6, 5)),
        Section("B", "B", 1, False, (Step(outer),), (1, 2, 3, 4, 5, 6)),
    )
    return Plan("0", block, plan(block).options, "curved", sections, (Join("A", "B", "A+B", (1, 6, 5), "curved"),))


@pytest.mark.parametrize(
    ("radius", "at", "angles"),
    [
        # At the quarters; the first of them a pair, an eighth of an inch apart, or both ends would look alike.
        pytest.param(6.0, 30.0, [21.9, 23.1, 45, 67.5], id="a quarter of a disc"),
        pytest.param(
            6.0,
            47.0,
            [22.5, 47, 67.5],
            id="a seam near the middle is marked in its stead, and tells the ends apart",
        ),
        pytest.param(1.5, 30.0, [45], id="a short curve at its middle"),
        pytest.param(0.9, 30.0, [], id="a very short one nowhere"),
        pytest.param(14.0, 30.0, [11.0, 11.5, 22.5, 33.75, 45, 56.25, 67.5, 78.75], id="a long one at its eighths"),
    ],
)
def test_a_curve_is_marked_at_its_quarters_at_one_place_on_both_sides(
    radius: float, at: float, angles: list[float]
) -> None:
    made = arc_plan(radius, at)
    strict(made)
    found = {name: sorted(math.degrees(math.atan2(y, x)) for x, y in there) for name, there in feet(made).items()}
    assert found["A"] == pytest.approx(found["B"])
    assert found["A"] == pytest.approx(angles, abs=0.3)


def test_a_mark_on_a_curve_is_square_to_it() -> None:
    marks = common_to(arc_plan()).marks
    for (x, y), (tip_x, tip_y) in (*marks["A"], *marks["B"]):
        across_it = ((tip_x - x) * x + (tip_y - y) * y) / (0.25 * math.hypot(x, y))
        assert abs(across_it) == pytest.approx(1, abs=1e-3)
    assert all(math.hypot(*tip) > math.hypot(*foot) for foot, tip in marks["A"])
    assert all(math.hypot(*tip) < math.hypot(*foot) for foot, tip in marks["B"])


def test_the_print_of_a_curved_section_holds_all_of_its_curve() -> None:
    for print_ in foundations(arc_plan()):
        assert list(faults_of(print_)) == []
        assert len(print_.stitch_outline) > 40
        length = math.fsum(math.dist(a, b) for a, b in pairwise([*print_.stitch_outline, print_.stitch_outline[0]]))
        assert length > 6 * math.pi / 2 + 12 - 0.01
