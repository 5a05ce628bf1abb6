"""Strokes: the drawn lines and curves as tidying takes them up, in finished inches and in an order of their own.

Knows:  which drawn pieces are of use, how many are too many.
Leaves: what is repaired (tidy), where the block lies (outline).
Units:  inches of the finished block; the origin is the drawing's.
Method: strokes are sorted by position, so that nothing that follows depends on the order of drawing. Rows of pieces
        that are too short to keep are drawn with fewer; a curve is parted where it turns a corner or crosses
        itself, since a seam is sewn from there anew.
"""

from __future__ import annotations

import itertools
import math
from dataclasses import dataclass, replace

from seamwright.block.runon import CORNER, angle_between
from seamwright.block.thin import neighbours, thin_rows
from seamwright.drawing.model import Drawing
from seamwright.errors import DrawingError, fail
from seamwright.geometry import Point

SAME_IN = 0.001
"""Places nearer than this are one place: an end that lies on a point so nearly was put there on purpose. A file
rounded to 0.01 mm puts two equal ends 0.0006 in apart at worst."""

SHORT_IN = 2 * SAME_IN
"""Both ends of a line this short may be taken for one point, and a row of such lines would be lost."""
MOST_SEGMENTS = 50_000
MOST_CROSSINGS = 100_000
LARGEST_IN = 1e5


@dataclass(frozen=True, slots=True)
class Stroke:
    """A drawn line (two points) or curve (more), inches.

    Attributes:
        points: from end to end.
        source: where it stands in the drawing.
        shape: number of the filled shape whose border it is, or None.
        border: it is a side of the outline that the drawing states.
    """

    points: tuple[Point, ...]
    source: str = ""
    shape: int | None = None
    border: bool = False

    @property
    def straight(self) -> bool:
        """Whether it is a line."""
        return len(self.points) == 2


def strokes_of(drawing: Drawing, scale: tuple[float, float]) -> list[Stroke]:
    """The drawing's lines and curves at `scale`, those without length left out, sorted by position.

    Raises:
        DrawingError: a coordinate is no number, or there are too many pieces.
    """
    shapes = [(line.start, line.end) for line in drawing.lines]
    total = len(shapes) + sum(len(c.points) - 1 for c in drawing.curves) + len(drawing.outline or ())
    if total > MOST_SEGMENTS:
        raise fail(
            DrawingError,
            "too many lines",
            f"the drawing has {total:,} pieces of line; {MOST_SEGMENTS:,} are the most that are read",
            "Keep the block's seams and leave hatching, pictures and text out",
            drawing=drawing.file,
        )
    found = [Stroke((line.start, line.end), line.source, line.shape) for line in drawing.lines]
    for curve in drawing.curves:
        parts = [part for simple in _simple(curve.points) for part in _between_corners(simple)]
        found += [Stroke(part, curve.source, curve.shape) for part in parts]
    if drawing.outline:
        ring = drawing.outline
        sides = drawing.sides or tuple(zip(ring, ring[1:] + ring[:1], strict=True))
        found += [Stroke(side, "the outline", border=True) for side in sides]
    for stroke in found:
        if not all(abs(v) <= LARGEST_IN for p in stroke.points for v in p):
            raise fail(
                DrawingError,
                "not a number",
                f"{stroke.source or 'a line'} has a coordinate that is no number or lies miles away",
                "Draw it again or delete it",
                drawing=drawing.file,
            )
    scaled = [s if scale == (1.0, 1.0) else replace(s, points=_scaled(s.points, scale)) for s in found]
    forward = [_forward(s) for s in _thinned(scaled) if _length(s.points) > SAME_IN]
    return sorted(forward, key=lambda s: (s.points, not s.border, -1 if s.shape is None else s.shape, s.source))


def _simple(points: tuple[Point, ...]) -> list[tuple[Point, ...]]:
    """A curve parted where it meets itself; one that only ends where it began is whole."""
    import shapely

    if not all(map(math.isfinite, itertools.chain(*points))) or shapely.LineString(points).is_simple:
        return [points]
    parts = shapely.get_parts(shapely.line_merge(shapely.node(shapely.LineString(points))))
    return sorted(tuple(map(tuple, part.coords)) for part in parts)


def _thinned(strokes: list[Stroke]) -> list[Stroke]:
    """The strokes, those lines replaced that would be lost for being short."""
    if not any(stroke.straight and math.dist(*stroke.points) <= SHORT_IN for stroke in strokes):
        return strokes
    kept = [stroke for stroke in strokes if not stroke.straight or stroke.border]
    lines = [stroke for stroke in strokes if stroke.straight and not stroke.border]
    ends = {p for stroke in kept for p in (stroke.points[0], stroke.points[-1])}
    by_shape: dict[int, list[Stroke]] = {}
    for stroke in lines:
        by_shape.setdefault(-1 if stroke.shape is None else stroke.shape, []).append(stroke)
    beside = neighbours([stroke.points for stroke in lines])
    for some in by_shape.values():
        first = {p: s for s in reversed(some) for p in s.points}
        rows = thin_rows([s.points for s in some], SHORT_IN, lambda p: len(beside[p]) != 2 or p in ends)
        kept += [replace(first[row[0]], points=pair) for row in rows for pair in itertools.pairwise(row)]
    return kept


def _between_corners(points: tuple[Point, ...]) -> list[tuple[Point, ...]]:
    """A curve parted where it turns a corner."""
    parts, start = [], 0
    for k in range(1, len(points) - 1):
        if angle_between(*points[k - 1 : k + 2]) > CORNER:
            parts.append(points[start : k + 1])
            start = k
    return [*parts, points[start:]]


def _scaled(points: tuple[Point, ...], scale: tuple[float, float]) -> tuple[Point, ...]:
    return tuple((x * scale[0], y * scale[1]) for x, y in points)


def _length(points: tuple[Point, ...]) -> float:
    return sum(math.dist(p, q) for p, q in itertools.pairwise(points))


def _forward(stroke: Stroke) -> Stroke:
    return stroke if stroke.points <= stroke.points[::-1] else replace(stroke, points=stroke.points[::-1])
