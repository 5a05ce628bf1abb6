"""Strokes: the drawn lines and curves as tidying takes them up, in finished inches and in an order of their own.

Knows:  which drawn pieces are of use, how many are too many.
Leaves: what is repaired (tidy), where the block lies (outline).
Units:  inches of the finished block; the origin is the drawing's.
Method: strokes are sorted by position, so that nothing that follows depends on the order of drawing.
"""

from __future__ import annotations

import itertools
import math
from dataclasses import dataclass, replace

from seamwright.drawing.model import Drawing
from seamwright.errors import DrawingError, fail
from seamwright.geometry import Point

SAME_IN = 0.001
"""Places nearer than this are one place: an end that lies on a point so nearly was put there on purpose. A file
rounded to 0.01 mm puts two equal ends 0.0006 in apart at worst."""

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
    found += [Stroke(curve.points, curve.source, curve.shape) for curve in drawing.curves]
    if drawing.outline:
        ring = drawing.outline
        sides = zip(ring, ring[1:] + ring[:1], strict=True)
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
    forward = [_forward(s) for s in scaled if _length(s.points) > SAME_IN]
    return sorted(forward, key=lambda s: (s.points, not s.border, -1 if s.shape is None else s.shape, s.source))


def _scaled(points: tuple[Point, ...], scale: tuple[float, float]) -> tuple[Point, ...]:
    return tuple((x * scale[0], y * scale[1]) for x, y in points)


def _length(points: tuple[Point, ...]) -> float:
    return sum(math.dist(p, q) for p, q in itertools.pairwise(points))


def _forward(stroke: Stroke) -> Stroke:
    return stroke if stroke.points <= stroke.points[::-1] else replace(stroke, points=stroke.points[::-1])
