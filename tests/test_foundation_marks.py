"""Match marks: both sides of a join coincide when one section is turned over it on to the other."""

from __future__ import annotations

import math
from itertools import pairwise

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from seamwright.block.model import Block
from seamwright.block.planar import Piece, build_block
from seamwright.foundation.marks import match_marks
from seamwright.geometry import Point, Segment, off_line
from seamwright.piecing.model import Join, Plan, Section, Step
from seamwright.piecing.plan import plan
from support.exact import SQUARE6, exact_block
from support.prints import designs, planned
from support.random_blocks import CONVEX, OUTLINES, grid, random_lines

SAME_IN = 1e-9


def reflected(point: Point, a: Point, b: Point) -> Point:
    """`point` mirrored in the line through a and b."""
    ux, uy = b[0] - a[0], b[1] - a[1]
    share = ((point[0] - a[0]) * ux + (point[1] - a[1]) * uy) / (ux * ux + uy * uy)
    foot = (a[0] + share * ux, a[1] + share * uy)
    return (2 * foot[0] - point[0], 2 * foot[1] - point[1])


def parts_of(made: Plan) -> dict[str, frozenset[str]]:
    """The sections in each part that a join sews."""
    parts = {section.name: frozenset([section.name]) for section in made.sections}
    for join in made.joins:
        parts[join.makes] = parts[join.first] | parts[join.second]
    return parts


def coincide(made: Plan) -> int:
    """Checks every straight join; returns how many points were marked."""
    marks, parts, points = match_marks(made), parts_of(made), made.block.points
    found = 0
    for join in made.joins:
        if join.kind != "straight":
            continue  # curves have tests of their own
        a, b = points[join.seam[0]], points[join.seam[-1]]

        def on_join(mark: Segment, a: Point = a, b: Point = b) -> bool:
            inside = all(math.dist(mark[0], end) > SAME_IN for end in (a, b))
            beside = math.dist(a, mark[0]) + math.dist(mark[0], b) - math.dist(a, b) < 1e-7
            upright = abs(off_line(mark[1], a, b)) > made.options.seam_allowance_in - 1e-6
            return inside and beside and upright

        sides = [
            [mark for name in sorted(parts[part]) for mark in marks[name] if on_join(mark)]
            for part in (join.first, join.second)
        ]
        for one, other in (sides, sides[::-1]):
            for foot, tip in one:
                turned = reflected(tip, a, b)
                assert any(math.dist(foot, f) + math.dist(turned, t) < 1e-7 for f, t in other), join.makes
        feet = {(round(foot[0], 6), round(foot[1], 6)) for foot, _ in sides[0]}
        expected = {(round(points[p][0], 6), round(points[p][1], 6)) for p in join.seam[1:-1]}
        assert feet == expected, join.makes
        found += len(feet)
    return found


@pytest.mark.parametrize("path", designs(), ids=lambda path: path.stem)
def test_marks_of_both_sides_coincide_in_the_designs(path: object) -> None:
    coincide(planned(path))  # type: ignore[arg-type]


@settings(derandomize=True, deadline=None, max_examples=60)
@given(seed=st.integers(0, 10_000), outline=st.sampled_from(sorted(CONVEX)), lines=st.integers(3, 9))
def test_marks_of_both_sides_coincide_in_random_blocks(seed: int, outline: str, lines: int) -> None:
    coincide(plan(random_lines(seed, lines, OUTLINES[outline], whole=0.7)))


@pytest.mark.parametrize("size", [2, 3, 4])
def test_a_grid_has_a_mark_at_each_of_its_inner_points(size: int) -> None:
    assert coincide(plan(grid(size, size))) == (size - 1) ** 2


def test_a_mark_stands_upright_on_the_stitch_line_and_ends_at_the_trim_line() -> None:
    made = plan(exact_block([((0, 3), (6, 3)), ((2, 0), (2, 3)), ((4, 3), (4, 6))], SQUARE6))
    for section, marks in match_marks(made).items():
        assert len(marks) in (0, 2), section
        for (x, y), (tip_x, tip_y) in marks:
            assert y == 3
            assert x in (2, 4)
            assert tip_x == pytest.approx(x)
            assert abs(tip_y - y) == pytest.approx(0.25)


def test_a_plan_of_one_section_has_no_marks() -> None:
    assert match_marks(plan(exact_block([((3, 0), (3, 6))], SQUARE6))) == {"A": ()}


def arc_block() -> Block:
    """A quarter of a disc of 6 in, in a square of 8 in; a seam ends on the arc at 30 degrees from inside."""

    def on(angle: float) -> Point:
        return (6 * math.cos(math.radians(angle)), 6 * math.sin(math.radians(angle)))

    points = [(0.0, 0.0), (6.0, 0.0), (8.0, 0.0), (8.0, 8.0), (0.0, 8.0), (0.0, 6.0), on(30)]
    border = [(0, 1, 0), (1, 2, 0), (2, 3, 1), (3, 4, 2), (4, 5, 3), (5, 0, 3)]
    pieces = [Piece(*ends) for ends in border]
    pieces += [
        Piece(1, 6, 4, tuple(on(a) for a in range(2, 30, 2))),
        Piece(6, 5, 4, tuple(on(a) for a in range(32, 90, 2))),
        Piece(0, 6, 5),
    ]
    return build_block("tide pool", "", points, pieces)


def arc_plan() -> Plan:
    """Its plan by hand: the disc in two patches, and the rest."""
    block = arc_block()
    inner = [i for i, patch in enumerate(block.patches) if 0 in patch.ring]
    (outer,) = [i for i, patch in enumerate(block.patches) if 3 in patch.ring]
    sections = (
        Section("A", "A", 1, False, (Step(inner[0]), Step(inner[1], (0, 6))), (0, 1, 6, 5)),
        Section("B", "B", 1, False, (Step(outer),), (1, 2, 3, 4, 5, 6)),
    )
    return Plan("0", block, plan(block).options, "curved", sections, (Join("A", "B", "A+B", (1, 6, 5), "curved"),))


def test_a_curve_is_marked_at_its_quarters_and_where_a_seam_arrives_at_one_place_on_both_sides() -> None:
    marks = match_marks(arc_plan())
    feet = {name: sorted(foot for foot, _ in found) for name, found in marks.items()}
    assert feet["A"] == feet["B"]
    angles = sorted(math.degrees(math.atan2(y, x)) for x, y in feet["A"])
    assert angles == pytest.approx([22.5, 30, 45, 67.5], abs=0.05)
    for (x, y), (tip_x, tip_y) in (*marks["A"], *marks["B"]):
        # Square to the curve to a degree (its pieces are chords), outward on one side and inward on the other.
        across = ((tip_x - x) * x + (tip_y - y) * y) / (0.25 * math.hypot(x, y))
        assert abs(across) == pytest.approx(1, abs=1e-3)
    assert all(math.hypot(*tip) > math.hypot(*foot) for foot, tip in marks["A"])
    assert all(math.hypot(*tip) < math.hypot(*foot) for foot, tip in marks["B"])


def test_the_print_of_a_curved_section_holds_all_of_its_curve() -> None:
    from seamwright.foundation.make import foundations
    from support.prints import faults_of

    made = arc_plan()
    for print_ in foundations(made):
        assert list(faults_of(print_)) == []
        assert len(print_.stitch_outline) > 40
        length = math.fsum(math.dist(a, b) for a, b in pairwise([*print_.stitch_outline, print_.stitch_outline[0]]))
        assert length > 6 * math.pi / 2 + 12 - 0.01
