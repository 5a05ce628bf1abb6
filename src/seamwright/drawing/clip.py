"""Clip paths: what lies outside is not painted.

Knows:  cutting runs and areas with a clip region.
Leaves: which clip path holds where (svg_tree).
Units:  inches.
Source: SVG 1.1 (second edition), section 14.3.
Method: a shape wholly inside is left untouched, as nearly all are: most writers clip to the page. Else strokes are
        cut along the region's border and fills are cut to it. The region is grown by EDGE_IN first, so that a line
        drawn on the border itself stays whole.
"""

from __future__ import annotations

from dataclasses import replace
from itertools import pairwise

import shapely
from shapely.geometry import LineString
from shapely.geometry.base import BaseGeometry

from seamwright.drawing.areas import area_of, polygons, refuse_tangles
from seamwright.drawing.painted import Painted
from seamwright.drawing.pieces import Run

EDGE_IN = 0.01


def clip_region(shapes: list[tuple[tuple[Run, ...], bool]]) -> BaseGeometry:
    """The region of a clip path: the union of its shapes, each with whether it fills by the even-odd rule.

    Raises:
        DrawingError: the shapes cross one another without end.
    """
    refuse_tangles([run for runs, _ in shapes for run in runs])
    whole = shapely.unary_union([area_of(runs, evenodd) for runs, evenodd in shapes])
    region = whole.buffer(EDGE_IN, join_style="mitre")
    shapely.prepare(region)
    return region


def corners_of(region: BaseGeometry) -> int:
    """How many corners a region has: the work of one cut."""
    return int(shapely.get_num_coordinates(region))


def clipped(item: Painted, region: BaseGeometry) -> Painted | None:
    """The part of a painted shape inside a region; None if nothing is left."""
    lines = [LineString(run.points()) for run in item.runs]
    if all(region.covers(line) for line in lines):
        return item
    if item.fill is not None:
        # Filled: the cut is part of what shows, so it becomes part of the border.
        exact = region.buffer(-EDGE_IN, join_style="mitre")
        parts = polygons(shapely.intersection(area_of(item.runs, item.evenodd), exact, grid_size=1e-7))
        rings = [ring for part in parts for ring in (part.exterior, *part.interiors)]
        runs = [_run([(float(x), float(y)) for x, y in ring.coords], closed=True) for ring in rings]
    else:
        runs = []
        for run in item.runs:
            for piece in run.pieces:
                for part in shapely.get_parts(LineString(piece).intersection(region)):
                    if part.geom_type == "LineString" and part.length > EDGE_IN:
                        points = tuple((float(x), float(y)) for x, y in part.coords)
                        runs.append(Run((points,), closed=False))
    return replace(item, runs=tuple(runs)) if runs else None


def _run(points: list[tuple[float, float]], *, closed: bool) -> Run:
    return Run(tuple(pairwise(points)), closed)
