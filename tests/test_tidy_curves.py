"""Curves in the map: where they meet lines, round outlines, closed curves; faces checked by GEOS."""

from __future__ import annotations

import math
import random
from dataclasses import replace
from itertools import pairwise

import pytest
import shapely

from seamwright.block.make import make_block
from seamwright.block.model import Block
from seamwright.claims.plans import claim_of
from seamwright.drawing.model import Drawing
from seamwright.drawing.read import read_drawing
from seamwright.geometry import Point, signed_area
from seamwright.piecing.plan import plan
from seamwright.proof.checker import check
from support.drawn import drawing, square


def arc(radius: float, start: float, end: float, steps: int = 200, at: Point = (3.0, 3.0)) -> list[Point]:
    """Part of a circle flattened; angles in degrees."""
    angles = [math.radians(start + (end - start) * k / steps) for k in range(steps + 1)]
    return [(at[0] + radius * math.cos(a), at[1] + radius * math.sin(a)) for a in angles]


def circle(radius: float) -> list[Point]:
    points = arc(radius, 0, 360)
    return [*points[:-1], points[0]]


def areas(block: Block) -> list[float]:
    return sorted(
        shapely.Polygon(block.patch_ring(n), block.patch_holes(n)).area for n in range(len(block.patches))
    )


def faces(drawn: Drawing) -> list[float]:
    """Areas of the faces that GEOS finds."""
    lines = [shapely.LineString([line.start, line.end]) for line in drawn.lines]
    lines += [shapely.LineString(curve.points) for curve in drawn.curves]
    return sorted(face.area for face in shapely.polygonize([shapely.union_all(lines, grid_size=1e-7)]).geoms)


DRAWINGS = {
    "an arc from side to side cut by lines": drawing(
        [*square(), ((3, 0), (3, 6)), ((1, 0), (1, 6)), ((0, 4.5), (6, 4.5))],
        curves=[arc(3, 180, 360)],
    ),
    "a line through a flattened point": drawing([*square(), ((3, 0), (3, 6))], curves=[arc(3, 180, 360)]),
    "a line that cuts an arc twice": drawing([*square(), ((0, 1.5), (6, 1.5))], curves=[arc(3, 180, 360)]),
    "a seam that ends on an arc": drawing(
        [*square(), ((3, 6), (3, 0)), ((3, 0), (3, 6))], curves=[arc(3, 90, 180)]
    ),
    "a circle round a crossing": drawing([*square(), ((0, 3), (6, 3)), ((3, 0), (3, 6))], curves=[circle(1.5)]),
    "a circle that floats": drawing([*square(), ((0, 0.5), (6, 0.5))], curves=[circle(1.5)]),
    "a round block": drawing([((1.5, 3), (4.5, 3))], curves=[circle(1.5)]),
    "a round block in four": drawing([((1.5, 3), (4.5, 3)), ((3, 1.5), (3, 4.5))], curves=[circle(1.5)]),
    "two arcs that cross": drawing(
        square(), curves=[arc(3, 90, 180, at=(6, 0)), arc(3, 180, 270, at=(6, 6)), arc(4, 0, 90, at=(0, 0))]
    ),
}


@pytest.mark.parametrize("name", [n for n in DRAWINGS if n != "two arcs that cross"])
def test_patches_between_curves_are_the_faces_that_geos_finds(name: str) -> None:
    block = make_block(DRAWINGS[name])
    assert areas(block) == pytest.approx(faces(DRAWINGS[name]), abs=1e-5)
    assert signed_area(block.outline_ring()) == pytest.approx(sum(areas(block)))


def test_arcs_that_cross_share_a_point() -> None:
    drawn = drawing(square(), curves=[arc(4, 0, 90, at=(0.0, 0.0)), arc(4, 90, 180, at=(6.0, 0.0))])
    block = make_block(drawn)
    assert areas(block) == pytest.approx(faces(drawn), abs=1e-5)
    assert [seam.straight for seam in block.seams] == [False, False]
    assert [len(seam.points) for seam in block.seams] == [3, 3]


def test_a_curve_cut_by_lines_is_one_seam_of_several_edges() -> None:
    block = make_block(DRAWINGS["an arc from side to side cut by lines"])
    (curve,) = [seam for seam in block.seams if not seam.straight]
    assert len(curve.points) == 4
    assert all(block.edges[e].via for e in curve.edges)


def test_an_edge_along_a_curve_keeps_the_points_between() -> None:
    block = make_block(DRAWINGS["a round block"])
    (seam,) = block.seams
    assert seam.straight
    lengths = [shapely.LineString(block.edge_points(e)).length for e in block.outline_edges]
    assert lengths == pytest.approx([1.5 * math.pi] * 2, abs=1e-3)


def test_an_end_short_of_a_curve_is_put_on_it() -> None:
    block = make_block(drawing([*square(), ((3, 6), (3, 0.03))], curves=[arc(3, 180, 360)]))
    assert len(block.patches) == 4
    (note,) = [n for n in block.notes if n.code == "tidied"]
    assert note.largest_in == pytest.approx(0.03, abs=1e-4)


def test_the_ends_of_a_curve_are_closed_like_those_of_lines() -> None:
    bow = arc(2.97, 180, 360, at=(3.0, 4.0))
    block = make_block(drawing([*square(), ((0, 5), (6, 5))], curves=[bow]))
    assert len(block.patches) == 3
    assert block.notes[0].code == "tidied"


def test_a_curve_that_two_shapes_share_is_one() -> None:
    bow, other = arc(3, 180, 360, at=(3.0, 4.0)), arc(3, 360, 180, 333, at=(3.0, 4.0))
    block = make_block(drawing([*square(), ((0, 5), (6, 5))], curves=[bow, other]))
    assert len(block.patches) == 3


def loop() -> list[Point]:
    """From side to side with a loop in the middle: x = t^3 - t, y = t^2, which crosses itself at t = 1 and -1."""
    ts = [1.5 * (k / 300 - 1) for k in range(601)]
    return [(3 + 1.6 * (t**3 - t), 2 + 1.2 * t * t) for t in ts]


def test_a_curve_that_crosses_itself_is_parted_where_it_does() -> None:
    bow = loop()
    block = make_block(drawing([((0.0, 4.7), (6.0, 4.7)), *square()], curves=[bow]))
    assert areas(block) == pytest.approx(
        faces(drawing([((0.0, 4.7), (6.0, 4.7)), *square()], curves=[bow])), abs=1e-5
    )
    assert min(math.dist(p, (3, 3.2)) for p in block.points) < 1e-3
    assert not plan(block).pieceable


# -- one curve in several pieces ----------------------------------------------------------------------------------


def curved(block: Block) -> list[int]:
    """Points on each curved seam."""
    return sorted(len(seam.points) for seam in block.seams if not seam.straight)


@pytest.mark.parametrize("pieces", [1, 2, 3, 6])
def test_an_arc_drawn_in_several_curves_is_one_seam_of_one_edge(pieces: int) -> None:
    each = 90 / pieces
    bows = [arc(3, 180 + k * each, 180 + (k + 1) * each, 40, at=(6.0, 6.0)) for k in range(pieces)]
    joined = make_block(drawing(square(), curves=[arc(3, 180, 270, 40 * pieces, at=(6.0, 6.0))]))
    block = make_block(drawing(square(), curves=bows))
    assert curved(block) == [2]
    assert areas(block) == pytest.approx(areas(joined), abs=1e-9)


def test_an_arc_runs_on_through_a_point_where_a_seam_ends() -> None:
    bows = [arc(3, 180, 225, at=(6.0, 6.0)), arc(3, 225, 270, at=(6.0, 6.0))]
    middle = bows[0][-1]
    block = make_block(drawing([*square(), (middle, (0, 0))], curves=bows))
    assert curved(block) == [3]
    assert len(block.seams) == 2


@pytest.mark.parametrize(("degrees", "seams"), [(5, 1), (14, 1), (16, 2), (60, 2)])
def test_curves_that_meet_at_a_corner_stay_two(degrees: float, seams: int) -> None:
    first = arc(3, 180, 225, at=(6.0, 6.0))
    (ax, ay), turn = first[-1], math.radians(degrees)
    second = [
        (
            ax + (x - ax) * math.cos(turn) - (y - ay) * math.sin(turn),
            ay + (x - ax) * math.sin(turn) + (y - ay) * math.cos(turn),
        )
        for x, y in arc(3, 225, 300, at=(6.0, 6.0))
    ]
    block = make_block(
        drawing([*square(), ((0, 5.9), (3, 5.9))], curves=[first, [p for p in second if p[0] < 6.0]])
    )
    assert len(block.seams) >= seams
    whole = [seam for seam in block.seams if not seam.straight]
    assert len(whole) == seams


def test_a_line_that_swings_into_an_arc_is_one_seam_with_a_straight_part() -> None:
    # A gate: up, half round, down; and a seam that ends on its straight part.
    bow = arc(1.5, 180, 360, at=(3.0, 3.0))
    lines = [*square(), ((1.5, 6), (1.5, 3)), ((4.5, 3), (4.5, 6)), ((0, 4), (1.5, 4))]
    block = make_block(drawing(lines, curves=[bow]))
    (gate,) = [seam for seam in block.seams if not seam.straight]
    ends = {block.points[gate.points[0]], block.points[gate.points[-1]]}
    assert ends == {(1.5, 6), (4.5, 6)}


def test_a_branch_that_is_tangent_to_a_curve_ends_there() -> None:
    bow = arc(3, 180, 270, at=(6.0, 6.0))
    touch, away = arc(3, 225, 226, 1, at=(6.0, 6.0))[0], math.radians(225)
    # The branch leaves along the tangent and bends outwards, away from the arc's centre.
    branch = arc(2, 45, -20, at=(touch[0] + 2 * math.cos(away), touch[1] + 2 * math.sin(away)))
    inside = [p for p in branch if 0 < p[0] < 6 and 0 < p[1] < 6]
    block = make_block(drawing([*square(), (inside[-1], (inside[-1][0], 0.0))], curves=[bow, inside]))
    assert sorted(len(seam.points) for seam in block.seams if not seam.straight)[-1] == 3


def test_two_curves_that_cross_where_both_are_drawn_in_two_pieces_run_straight_on() -> None:
    one = [arc(4, 0, 45, at=(0.0, 0.0)), arc(4, 45, 90, at=(0.0, 0.0))]
    meet = one[0][-1]
    # A circle of 3 in through the same point, its centre to the right of it.
    centre = (meet[0] + 3 * math.cos(0.3), meet[1] - 3 * math.sin(0.3))
    start = math.degrees(math.atan2(meet[1] - centre[1], meet[0] - centre[0]))
    other = [arc(3, start - 35, start, at=centre), arc(3, start, start + 35, at=centre)]
    lines = [*square(), (other[0][0], (0.0, 6.0)), (other[1][-1], (0.0, 0.0))]
    block = make_block(drawing(lines, curves=[*one, *other]))
    (at,) = [n for n, p in enumerate(block.points) if math.dist(p, meet) < 1e-6]
    through = [seam for seam in block.seams if at in seam.points[1:-1]]
    assert len(through) == 2
    assert all(at not in (seam.points[0], seam.points[-1]) for seam in block.seams)


# -- curves drawn as many short lines -----------------------------------------------------------------------------


@pytest.mark.parametrize("pieces", [6, 30, 500, 6000])
def test_a_curve_drawn_as_short_lines_is_a_curve_however_short_they_are(pieces: int) -> None:
    # At 6000 pieces each is 0.0008 in long: both its ends lie within what counts as one point.
    bow = arc(3, 180, 270, pieces, at=(6.0, 6.0))
    block = make_block(drawing([*square(), *pairwise(bow)]))
    assert curved(block) == [2]
    assert areas(block) == pytest.approx([math.pi * 9 / 4, 36 - math.pi * 9 / 4], abs=0.1 if pieces == 6 else 0.005)
    for x, y in block.edge_points(block.seams[0].edges[0]):
        assert math.dist((x, y), (6, 6)) == pytest.approx(3, abs=0.002)


def test_corners_drawn_on_purpose_stay_corners() -> None:
    # Four lines that turn by 22 degrees each, and four that turn by 10.
    for turn, lines in ((22.5, 4), (10, 4)):
        bow = arc(3, 180, 180 + turn * lines, lines, at=(6.0, 6.0))
        block = make_block(drawing([*square(), *pairwise(bow), (bow[-1], (bow[-1][0], 0.0))]))
        assert curved(block) == []


def test_straight_stretches_beside_a_flattened_curve_stay_straight() -> None:
    bow = arc(1.5, 180, 360, 24, at=(3.0, 3.0))
    block = make_block(drawing([*square(), ((1.5, 6), (1.5, 3)), *pairwise(bow), ((4.5, 3), (4.5, 6))]))
    (seam,) = block.seams
    assert [len(block.edges[e].via) for e in seam.edges] == [0, 23, 0]
    assert [block.points[p] for p in seam.points] == [
        pytest.approx(p) for p in ((1.5, 6), (1.5, 3), (4.5, 3), (4.5, 6))
    ]


def test_a_block_with_a_round_outline_of_short_lines_has_few_edges() -> None:
    bow = arc(3, 0, 360, 90)
    block = make_block(drawing([*pairwise([*bow[:-1], bow[0]]), (bow[0], bow[45])]))
    assert len(block.edges) == 3 and len(block.patches) == 2


def test_the_order_and_direction_of_short_lines_do_not_matter() -> None:
    bow = arc(3, 180, 270, 4000, at=(6.0, 6.0))
    lines = [*square(), *pairwise(bow)]
    one = make_block(drawing(lines))
    rng = random.Random(7)
    shuffled = [(a, b) if rng.random() < 0.5 else (b, a) for a, b in rng.sample(lines, len(lines))]
    assert replace(make_block(drawing(shuffled)), notes=()) == replace(one, notes=())


# -- the shared border of two shapes ------------------------------------------------------------------------------


def filled(tmp_path, *paths: str) -> Block:
    shades = ("#f2d38b", "#d9795d", "#24465a", "#a9c9dc")
    body = "".join(f'<path d="{d}" fill="{c}"/>' for d, c in zip(paths, shades, strict=False))
    path = tmp_path / "filled.svg"
    path.write_text(
        f'<svg xmlns="http://www.w3.org/2000/svg" width="6in" height="6in" viewBox="0 0 6 6">{body}</svg>'
    )
    return make_block(read_drawing(path))


@pytest.mark.parametrize("digits", [6, 3, 2])
@pytest.mark.parametrize("degrees", [10, 30, 45, 61])
def test_a_curve_that_one_shape_draws_whole_and_two_draw_in_parts_is_one(
    tmp_path, degrees: int, digits: int
) -> None:
    # A fan of two on the night: the night draws the arc whole, the fan in two parts; rounded as files are.
    x, y = (f"{4 * f(math.radians(degrees)):.{digits}f}" for f in (math.cos, math.sin))
    block = filled(
        tmp_path,
        f"M0 0H4A4 4 0 0 1 {x} {y}L0 0Z",
        f"M0 0L{x} {y}A4 4 0 0 1 0 4Z",
        "M4 0H6V6H0V4A4 4 0 0 0 4 0Z",
    )
    assert len(block.patches) == 3
    assert curved(block) == [3]
    assert areas(block) == pytest.approx(
        sorted([8 * math.radians(degrees), 8 * math.radians(90 - degrees), 36 - 4 * math.pi]), abs=0.05
    )
    assert plan(block).sewable == "curved"


def test_curves_that_lie_beside_each_other_on_purpose_stay_two(tmp_path) -> None:
    # A piping of 1/8 in between two shapes, and loose lines 1/50 in apart.
    piped = filled(
        tmp_path,
        "M0 0H4A4 4 0 0 1 0 4Z",
        "M4 0H4.125A4.125 4.125 0 0 1 0 4.125V4A4 4 0 0 0 4 0Z",
        "M4.125 0H6V6H0V4.125A4.125 4.125 0 0 0 4.125 0Z",
    )
    assert len(piped.patches) == 3
    loose = make_block(
        drawing(square(), curves=[arc(3, 180, 270, at=(6.0, 6.0)), arc(3.02, 180, 270, at=(6.0, 6.0))])
    )
    assert len(loose.patches) == 3


@pytest.mark.parametrize("seams", [[], [((1, 0), (1, 6))]], ids=["alone", "cut by a seam"])
@pytest.mark.parametrize("gap_in", [-1e-5, -1e-9, 0.0, 1e-16, 1e-12, 1e-8])
def test_a_curve_that_only_touches_the_outline_parts_what_lies_above_it(seams, gap_in: float) -> None:
    # A quadratic whose top is 2 (1 - t)^2 + 2 t (1 - t) (2 gap - 2) + 2 t^2 = gap at t = 1/2.
    ts = [k / 64 for k in range(65)]
    bow = [(6 * t, 2 * (1 - t) ** 2 + 2 * t * (1 - t) * (2 * gap_in - 2) + 2 * t * t) for t in ts]
    block = make_block(drawing([*square(), *seams], curves=[bow]))
    assert len(block.patches) == 3 + 2 * len(seams)
    check(claim_of(plan(block)))
