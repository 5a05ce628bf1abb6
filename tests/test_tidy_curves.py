"""Curves in the map: where they meet lines, round outlines, closed curves; faces checked by GEOS."""

from __future__ import annotations

import math

import pytest
import shapely

from seamwright.block.make import make_block
from seamwright.block.model import Block
from seamwright.drawing.model import Drawing
from seamwright.errors import DrawingError
from seamwright.geometry import Point, signed_area
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


def test_a_curve_that_crosses_itself_is_refused_with_its_place() -> None:
    loop = [(3 + 2 * math.sin(2 * t), 3 + 2 * math.sin(t)) for t in (math.radians(k) for k in range(20, 340))]
    with pytest.raises(DrawingError, match="crosses itself") as caught:
        make_block(drawing(square(), curves=[[(0.0, loop[0][1]), *loop, (0.0, loop[-1][1])]]))
    assert caught.value.code == "curve"
