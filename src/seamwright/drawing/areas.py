"""Areas that filled shapes cover, as shapely polygons.

Knows:  fill rules, subpaths that touch or cross themselves.
Leaves: what hides what (visible).
Units:  inches.
Method: one simple ring is its own area; anything else is cut into faces along all its rings, and each face is in
        or out by the winding number of a point inside it (SVG 1.1, section 11.3, `fill-rule`).
"""

from __future__ import annotations

import math
from collections.abc import Sequence

import numpy as np
import shapely
from shapely.geometry import LinearRing, Polygon
from shapely.geometry.base import BaseGeometry

from seamwright.drawing.pieces import Run
from seamwright.drawing.svg_xml import unreadable
from seamwright.geometry import Point, bounds, off_line

NOTHING = Polygon()
MAX_CROSSINGS = 100_000
MAX_NEAR = 1_500_000
"""Pairs of sides with boxes that meet; 1,200 sides that all lie across one another have as many."""
CHUNK = 64
"""Sides looked up at once: enough to be quick, few enough to stay small."""


def area_of(runs: tuple[Run, ...], evenodd: bool) -> BaseGeometry:
    """The area a fill covers; empty for one without any."""
    rings = [ring for ring in (_ring(run) for run in runs) if len(ring) >= 3]
    if not rings:
        return NOTHING
    if len(rings) == 1:
        polygon = Polygon(rings[0])
        if polygon.is_valid:
            return polygon
    lines = shapely.unary_union([LinearRing(ring) for ring in rings])
    faces = shapely.get_parts(shapely.polygonize([lines]))
    boxes = shapely.STRtree([shapely.box(*bounds(ring)) for ring in rings])
    inside = []
    for face in faces:
        spot = face.representative_point()
        turns = sum(_winding(rings[k], (spot.x, spot.y)) for k in boxes.query(spot))
        if turns % 2 if evenodd else turns:
            inside.append(face)
    return shapely.unary_union(inside) if inside else NOTHING


def refuse_tangles(runs: Sequence[Run]) -> None:
    """Stop before areas are worked out that cross one another without end.

    Raises:
        DrawingError: the borders cross more than MAX_CROSSINGS times.
    """
    rings = [np.array([*ring, ring[0]]) for ring in (_ring(run) for run in runs) if len(ring) >= 3]
    if sum(map(len, rings)) ** 2 < MAX_CROSSINGS:
        return
    ends = np.concatenate([np.stack((ring[:-1], ring[1:]), axis=1) for ring in rings])
    sides = np.asarray(shapely.linestrings(ends), dtype=object)
    tree = shapely.STRtree(sides)
    # Sides whose boxes meet are counted before it is asked whether they cross: a pile of shapes has millions.
    near = 0
    for start in range(0, len(sides), CHUNK):
        near += tree.query(sides[start : start + CHUNK]).shape[1]
        if near > MAX_NEAR:
            raise unreadable(
                "too many",
                f"the borders of filled shapes lie over one another more than {MAX_NEAR:,} times",
                "Draw each patch as one plain shape",
            )
    crossings = 0
    for start in range(0, len(sides), CHUNK):
        first, second = tree.query(sides[start : start + CHUNK], predicate="crosses")
        crossings += int(np.count_nonzero(second > first + start))
        if crossings > MAX_CROSSINGS:
            raise unreadable(
                "too many",
                f"the borders of filled shapes cross more than {MAX_CROSSINGS:,} times",
                "Draw each patch as one plain shape",
            )


def _ring(run: Run) -> list[Point]:
    points = run.points()
    return points[:-1] if points[0] == points[-1] else points


def _winding(ring: list[Point], at: Point) -> int:
    """How often the ring runs round a point.

    Source: D. Sunday's crossing rule as in J. O'Rourke, "Computational Geometry in C", section 7.4, from memory.
    """
    x, y = at
    turns = 0
    for (x1, y1), (x2, y2) in zip(ring, ring[1:] + ring[:1], strict=True):
        if (y1 <= y) != (y2 <= y):
            side = (x2 - x1) * (y - y1) - (x - x1) * (y2 - y1)
            if y1 <= y and side > 0:
                turns += 1
            elif y2 <= y and side < 0:
                turns -= 1
    return turns


def corners(part: Polygon) -> list[Point]:
    """Corners of a polygon's outer border, points within 0.0001 in of a straight side left out."""
    ring = [(float(x), float(y)) for x, y in part.exterior.coords[:-1]]
    return [
        p
        for before, p, after in zip(ring[-1:] + ring[:-1], ring, ring[1:] + ring[:1], strict=True)
        if math.dist(before, after) == 0 or abs(off_line(p, before, after)) > 1e-4
    ]


def polygons(geometry: BaseGeometry) -> list[Polygon]:
    """The polygons of any geometry, in a fixed order."""
    parts = [part for part in shapely.get_parts(geometry) if part.geom_type == "Polygon" and not part.is_empty]
    return sorted(parts, key=lambda part: (part.bounds[1], part.bounds[0], -part.area))
