"""Steps of a shape as pieces in inches: straight where a straight line fits, else flattened.

Knows:  straightness of a cubic, flattening within a tolerance.
Leaves: grammar of paths (svg_paths), what is painted (svg_tree).
Units:  inches after the transform.
Method: flatness of a cubic from the distances of its control points to its chord: T. W. Sederberg and T. Nishita,
        "Curve intersection using Bezier clipping", Computer-Aided Design 22(9), 1990, pp. 538-549 ("fat line":
        3/4 of the larger distance if both lie on one side, 4/9 if not). Number of parts from the second
        differences of its control points: a chord over a parameter step h is off by at most h^2/8 times the
        second derivative.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise

from seamwright.drawing.svg_paths import Trace
from seamwright.drawing.svg_xml import unreadable
from seamwright.errors import SeamwrightError
from seamwright.geometry import Affine, Point, along, moved, off_line

FLAT_IN = 0.0005
"""A curve nearer than this to a straight line is one; curves are flattened to this."""
SHORTEST_IN = 1e-6
"""Shorter pieces are no pieces: editors leave them where a point was clicked twice."""
MOST_PARTS = 2000
MOST_POINTS = 500_000
"""Points of one drawing's curves; a curve this long is no seam."""

Piece = tuple[Point, ...]
"""Two points: straight. More: a curve, flattened."""


@dataclass(frozen=True, slots=True)
class Run:
    """One subpath: pieces end to end.

    Attributes:
        pieces: in order, each starting where the one before ends.
        closed: drawn as a loop.
    """

    pieces: tuple[Piece, ...]
    closed: bool

    def points(self) -> list[Point]:
        """All points along it; the last repeats the first if it is closed."""
        return [self.pieces[0][0], *(p for piece in self.pieces for p in piece[1:])]


def place(trace: Trace, affine: Affine) -> Run | None:
    """A traced subpath in inches, or None if nothing of it has any length.

    Raises:
        DrawingError: its curves need more than MOST_POINTS points.
    """
    pieces: list[Piece] = []
    count = 0
    here = moved(affine, trace.start)
    for step in trace.steps:
        points = [moved(affine, p) for p in step]
        if len(points) == 1:
            new: list[Piece] = [(here, points[0])]
        else:
            new = cubic_pieces(here, points[0], points[1], points[2])
            count += sum(map(len, new))
            if count > MOST_POINTS:
                raise too_many_points()
        for piece in new:
            # A dropped short step must not open a gap: the next piece starts where the last kept one ended.
            start = pieces[-1][-1] if pieces else piece[0]
            if len(piece) > 2 or math.dist(start, piece[-1]) > SHORTEST_IN:
                pieces.append((start, *piece[1:]))
        here = points[-1]
    return Run(tuple(pieces), trace.closed) if pieces else None


def too_many_points() -> SeamwrightError:
    """The error of curves that are too long to be seams."""
    return unreadable(
        "too many",
        f"the drawing's curves need more than {MOST_POINTS:,} points",
        "Draw seams as straight lines, and set the page's size and units",
    )


def cubic_pieces(a: Point, b: Point, c: Point, d: Point) -> list[Piece]:
    """A cubic curve as straight pieces if it is straight, else as one flattened piece; [] if it is a point."""
    if math.dist(a, d) <= FLAT_IN:
        if max(math.dist(a, b), math.dist(a, c)) <= FLAT_IN:
            return [(a, d)] if a != d else []
        return [flatten(a, b, c, d)]
    first, second = off_line(b, a, d), off_line(c, a, d)
    share = 3 / 4 if first * second > 0 else 4 / 9
    if share * max(abs(first), abs(second)) > FLAT_IN:
        return [flatten(a, b, c, d)]
    chord = math.dist(a, d)
    reach = [along(b, a, d), along(c, a, d)]
    if min(reach) >= -FLAT_IN and max(reach) <= chord + FLAT_IN:
        return [(a, d)]
    # Straight, but it runs past an end and comes back: keep all of the run.
    run = flatten(a, b, c, d)
    turns = [a, min(run, key=lambda p: along(p, a, d)), max(run, key=lambda p: along(p, a, d)), d]
    kept = [a]
    for p in turns[1:]:
        if math.dist(p, kept[-1]) > FLAT_IN or p == d:
            kept.append(p)
    return list(pairwise(kept))


def flatten(a: Point, b: Point, c: Point, d: Point) -> Piece:
    """Points along a cubic curve, three or more, within FLAT_IN of it."""
    bend = max(
        math.hypot(a[0] - 2 * b[0] + c[0], a[1] - 2 * b[1] + c[1]),
        math.hypot(b[0] - 2 * c[0] + d[0], b[1] - 2 * c[1] + d[1]),
    )
    count = min(MOST_PARTS, max(2, math.ceil(math.sqrt(6 / 8 * bend / FLAT_IN))))
    points = [a]
    for index in range(1, count):
        t = index / count
        s = 1 - t
        wa, wb, wc, wd = s * s * s, 3 * s * s * t, 3 * s * t * t, t * t * t
        points.append(
            (wa * a[0] + wb * b[0] + wc * c[0] + wd * d[0], wa * a[1] + wb * b[1] + wc * c[1] + wd * d[1])
        )
    return (*points, d)


def extent(runs: Sequence[Run]) -> tuple[float, float, float, float]:
    """(least x, least y, greatest x, greatest y) of all points."""
    points = [p for run in runs for piece in run.pieces for p in piece]
    xs, ys = [x for x, _ in points], [y for _, y in points]
    return (min(xs), min(ys), max(xs), max(ys))
