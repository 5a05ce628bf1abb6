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

import numpy as np
import shapely
import shapely.ops
from shapely.geometry import LineString, Polygon
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
NO_AREA = 1e-6
"""Square inches: less is what rounding leaves."""
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
        if filled and cover.hides(number):
            hidden += 1
            continue
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
            for polygon in cover.left_over(number):
                rings = (_ring(polygon.exterior), *(_ring(hole) for hole in polygon.interiors))
                fills.append(Fill(rings, item.fill, item.source))
        hidden += len(lines) + len(curves) == before
    return lines, curves, fills, hidden


def _ring(ring: shapely.LinearRing) -> Ring:
    return tuple((float(x), float(y)) for x, y in ring.coords[:-1])


class _Cover:
    """Which fills lie over a shape.

    Areas are left over from the top of the stack downwards, so that a shape which is hidden itself is never asked
    what it hides: whatever hides it hides that too.
    """

    def __init__(self, items: Sequence[Painted], areas: Sequence[BaseGeometry]) -> None:
        fills = np.array([n for n, area in enumerate(areas) if not area.is_empty], dtype=int)
        opaque = np.array([item.opaque for item in items], dtype=bool)
        # Off the floats' own grid, areas that only touch, 1e-16 apart, can swallow one another in GEOS.
        self._areas = [_on_grid(area) for area in areas]
        cores = shapely.buffer(self._areas, -SIDE_BY_SIDE_IN, join_style="mitre")
        tree = shapely.STRtree([self._areas[n] for n in fills])
        self._left: dict[int, BaseGeometry] = {}
        self._hidden: set[int] = set()
        # Shapes deep in one another are gathered in blobs: a stack of a thousand is one area, not a thousand.
        blob_of: dict[int, int] = {}
        blobs: dict[int, BaseGeometry] = {}
        for n in reversed(fills.tolist()):
            over = fills[tree.query(self._areas[n], predicate="intersects")]
            over = np.sort(over[over > n])
            area = self._areas[n]
            deep = sorted({blob_of[k] for k in over.tolist() if cores[n].intersects(self._areas[k])})
            beside = [self._areas[k] for k in over.tolist() if blob_of[k] not in deep]
            later = [*(blobs[k] for k in deep), *beside]
            if later and not np.all(shapely.touches(area, later)):
                area = _on_grid(area.difference(shapely.union_all(later)))
            self._left[n] = area
            if area.area < NO_AREA and bool(np.all(opaque[over])):
                self._hidden.add(n)
            blobs[n] = _on_grid(shapely.union_all([self._areas[n], *(blobs.pop(k) for k in deep)]))
            if deep:
                blob_of.update((k, n) for k, blob in blob_of.items() if blob in deep)
            blob_of[n] = n
        hiding = [n for n in fills.tolist() if opaque[n] and n not in self._hidden and not cores[n].is_empty]
        self._hiding = np.array(hiding, dtype=int)
        self._cores = cores[self._hiding]
        self._hiding_areas = np.array([self._areas[n] for n in hiding], dtype=object)
        self._core_tree = shapely.STRtree(self._cores)

    def hides(self, number: int) -> bool:
        """Whether nothing of the filled shape `number` shows."""
        return number in self._hidden

    def visible(self, number: int, piece: Piece) -> list[Piece]:
        """The parts of a piece of shape `number` that later fills leave, in order along it."""
        if not len(self._hiding):
            return [piece]
        line = LineString(piece)
        found = self._core_tree.query(line, predicate="intersects")
        found = np.sort(found[self._hiding[found] > number])
        if not len(found):
            return [piece]
        if np.any(shapely.covers(self._hiding_areas[found], line)):
            return []
        hidden: list[tuple[float, float]] = []
        inside = shapely.intersection(line, self._hiding_areas[found])
        for k, within in zip(found.tolist(), inside, strict=True):
            for part in shapely.get_parts(shapely.line_merge(within)):
                if part.geom_type == "LineString" and part.intersects(self._cores[k]):
                    ends = [line.project(shapely.Point(p)) for p in (part.coords[0], part.coords[-1])]
                    hidden.append((min(ends), max(ends)))
        if not hidden:
            return [piece]
        shown = _gaps(sorted(hidden), line.length)
        return [part for part in (_cut(line, piece, start, end) for start, end in shown) if part]

    def left_over(self, number: int) -> list[Polygon]:
        """What no later fill covers of the area of shape `number`, slivers dropped."""
        parts = polygons(self._left[number])
        if not parts or self._left[number] is self._areas[number]:
            return parts
        thick = ~shapely.is_empty(shapely.buffer(parts, -THIN_IN))
        return [part for part, keep in zip(parts, thick, strict=True) if keep]


def _on_grid(area: BaseGeometry) -> BaseGeometry:
    """The area with its corners rounded to a grid; later steps work in plain floats again."""
    return shapely.set_precision(shapely.set_precision(area, GRID_IN), 0)


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
