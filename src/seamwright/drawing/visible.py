"""Stacked shapes: what shows is what is meant.

Knows:  which parts of lines and areas later fills hide.
Leaves: what the shapes are (painted), reading ink as lines (ink_outlines), merging doubled lines (block).
Units:  inches.
Method: a later opaque fill hides a run of a line where that run lies in it and somewhere reaches deeper than
        SIDE_BY_SIDE_IN below its border. Shapes drawn side by side overlap or miss by less than that: their
        borders stay whole, so that no slivers arise, and doubled borders are merged later.
"""

from __future__ import annotations

from collections.abc import Sequence

import shapely
import shapely.ops
from shapely.geometry import LineString
from shapely.geometry.base import BaseGeometry

from seamwright.drawing.areas import NOTHING, area_of, polygons
from seamwright.drawing.model import Curve, Fill, Line
from seamwright.drawing.painted import Painted
from seamwright.drawing.pieces import Piece
from seamwright.geometry import Point, Ring

SIDE_BY_SIDE_IN = 0.03
"""Two shapes that overlap by less lie side by side: drawings miss by up to 0.02 in either way."""
CRUMB_IN = 0.06
"""What is left of a hidden line between two hiding shapes that do not quite meet."""
GRID_IN = 1e-7
THIN_IN = 0.01
"""Slivers of an area thinner than twice this are dropped."""


def show(items: Sequence[Painted]) -> tuple[list[Line], list[Curve], list[Fill], int]:
    """What shows of painted shapes.

    Args:
        items: in painting order.

    Returns:
        Lines, curves, visible areas, and the number of shapes that are hidden altogether.
    """
    areas = [area_of(item.runs, item.evenodd) if item.fill else NOTHING for item in items]
    cover = _Cover(items, areas)
    lines: list[Line] = []
    curves: list[Curve] = []
    fills: list[Fill] = []
    hidden = 0
    shape = 0
    for number, item in enumerate(items):
        filled = item.fill is not None and not areas[number].is_empty
        if not filled and not item.stroked:
            continue  # a fill of no area paints nothing
        before = len(lines) + len(curves)
        for run in item.runs:
            pieces = list(run.pieces)
            points = run.points()
            if filled and points[0] != points[-1]:
                pieces.append((points[-1], points[0]))  # a fill closes itself
            if len(pieces) == 2 and pieces[0] == pieces[1][::-1]:
                pieces.pop()  # a loop of two points is one line
            for piece in pieces:
                for part in cover.visible(number, piece):
                    mark = shape if filled or item.border else None
                    if len(part) == 2:
                        lines.append(Line(part[0], part[1], item.source, item.layer, mark))
                    else:
                        curves.append(Curve(part, item.source, item.layer, mark))
            shape += filled or item.border
        if filled and item.fill is not None:
            for polygon in polygons(cover.left_over(number)):
                rings = (_ring(polygon.exterior), *(_ring(hole) for hole in polygon.interiors))
                fills.append(Fill(rings, item.fill, item.source))
        hidden += len(lines) + len(curves) == before
    return lines, curves, fills, hidden


def _ring(ring: shapely.LinearRing) -> Ring:
    return tuple((float(x), float(y)) for x, y in ring.coords[:-1])


class _Cover:
    """Which fills lie over a shape."""

    def __init__(self, items: Sequence[Painted], areas: Sequence[BaseGeometry]) -> None:
        self._areas = areas
        self._fills = [n for n, area in enumerate(areas) if not area.is_empty]
        self._fill_tree = shapely.STRtree([areas[n] for n in self._fills])
        hiding = [n for n in self._fills if items[n].opaque]
        cores = {n: areas[n].buffer(-SIDE_BY_SIDE_IN, join_style="mitre") for n in hiding}
        self._hiding = [n for n in hiding if not cores[n].is_empty]
        self._cores = cores
        self._core_tree = shapely.STRtree([cores[n] for n in self._hiding])

    def visible(self, number: int, piece: Piece) -> list[Piece]:
        """The parts of a piece of shape `number` that later fills leave, in order along it."""
        if not self._hiding:
            return [piece]
        line = LineString(piece)
        over = [self._hiding[k] for k in self._core_tree.query(line, predicate="intersects")]
        hidden: list[tuple[float, float]] = []
        for n in sorted(n for n in over if n > number):
            for part in shapely.get_parts(shapely.line_merge(line.intersection(self._areas[n]))):
                if part.geom_type == "LineString" and part.intersects(self._cores[n]):
                    ends = [line.project(shapely.Point(p)) for p in (part.coords[0], part.coords[-1])]
                    hidden.append((min(ends), max(ends)))
        if not hidden:
            return [piece]
        shown = _gaps(sorted(hidden), line.length)
        return [part for part in (_cut(line, piece, start, end) for start, end in shown) if part]

    def left_over(self, number: int) -> BaseGeometry:
        """The area of shape `number` that no later fill covers, slivers dropped."""
        area = self._areas[number]
        over = [self._fills[k] for k in self._fill_tree.query(area, predicate="intersects")]
        later = [self._areas[n] for n in sorted(over) if n > number]
        if later:
            # On a grid: without one, areas that only touch, 1e-16 apart, can swallow one another.
            area = shapely.difference(area, shapely.union_all(later, grid_size=GRID_IN), grid_size=GRID_IN)
        kept = [p for p in polygons(area) if not p.buffer(-THIN_IN).is_empty]
        return shapely.MultiPolygon(kept)


def _gaps(hidden: list[tuple[float, float]], length: float) -> list[tuple[float, float]]:
    """The stretches of 0..length outside the hidden ones; crumbs between or beside hidden ones left out."""
    shown: list[tuple[float, float]] = []
    at = 0.0
    for start, end in [*hidden, (length, length)]:
        if start - at > CRUMB_IN:
            shown.append((at, start))
        at = max(at, end)
    return shown


def _cut(line: LineString, piece: Piece, start: float, end: float) -> Piece:
    """The part of a piece between two distances along it; its own ends are kept to the digit."""
    part = shapely.ops.substring(line, start, end)
    points: list[Point] = [(float(x), float(y)) for x, y in part.coords]
    if start <= 0:
        points[0] = piece[0]
    if end >= line.length:
        points[-1] = piece[-1]
    return tuple(points) if len(points) > 1 else ()
