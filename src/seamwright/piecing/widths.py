"""How wide a patch is, and where it is narrow.

Knows:  the largest circle in a patch, waists between two wide parts, arms beside an inside corner.
Leaves: what follows from it (advice).
Units:  inches.
Method: a patch is as wide as the largest circle in it, so a sharp tip alone makes none narrow. But one that narrows
        in between, or has an arm, is narrow there: where shrinking it parts it in two, or between an inside corner
        and what lies across. Most patches are settled by area and length of border: the largest circle in a shape
        is wider than twice its area over its border, and in a convex one no wider than four times that.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from itertools import pairwise
from typing import TYPE_CHECKING

from seamwright.block.model import Block
from seamwright.geometry import Point, signed_area
from seamwright.piecing.shapes import ANGLE_SLACK_DEG, corners

if TYPE_CHECKING:
    import shapely

ACROSS = 3.0
"""The way along the border to what lies across a narrow place is so many times longer than straight over."""
SLACK_IN = 1e-5
"""A width drawn as 1/4 in is not narrower than 1/4 in for the last digits of its coordinates."""

Width = tuple[float, Point]
"""How wide, and where."""


def across(block: Block, patch: int, enough: float = 0.0) -> Width:
    """Diameter and middle of the largest circle in a patch.

    Args:
        enough: of a convex patch that is surely no wider only a bound is worked out, and some place.
    """
    ring = block.patch_ring(patch)
    bound = 4 * signed_area(ring) / _around(ring)
    if bound <= enough:
        return bound, ring[0]
    import shapely

    spoke = shapely.maximum_inscribed_circle(shapely.Polygon(ring, block.patch_holes(patch)), tolerance=1e-4)
    x, y = spoke.coords[0]
    return 2 * spoke.length, (x, y)


def narrowest(block: Block, patch: int, limit: float) -> Width | None:
    """Where a patch is narrower than `limit`, at its narrowest; None if it is nowhere."""
    ring, holes = block.patch_ring(patch), block.patch_holes(patch)
    bends = [block.points[p] for p, angle in corners(block, patch) if angle > 180 + ANGLE_SLACK_DEG]
    wide = 2 * signed_area(ring) > limit * _around(ring)
    curved = any(block.edges[e].via for e in block.patches[patch].edges)
    if wide and not bends and not curved and not holes:
        return None
    import shapely

    area = shapely.Polygon(ring, holes)
    left = area.buffer(-(limit / 2 - SLACK_IN), join_style="mitre")
    if left.is_empty:
        return across(block, patch)
    spots = [spot for spot in (_beside(area, ring, bend, limit) for bend in bends) if spot is not None]
    parts = sorted(shapely.get_parts(left), key=lambda part: part.bounds)
    for i, one in enumerate(parts):
        for other in parts[i + 1 :]:
            middle = shapely.shortest_line(one, other).interpolate(0.5, normalized=True)
            width = 2 * area.boundary.distance(middle)
            if width < limit - SLACK_IN and area.contains(middle):
                spots.append((width, (middle.x, middle.y)))
    return min(spots, default=None)


def _beside(area: shapely.Polygon, ring: Sequence[Point], bend: Point, limit: float) -> Width | None:
    """The shortest way through a patch from an inside corner to what lies across, if it is shorter than `limit`."""
    import shapely

    best: Width | None = None
    first = ring.index(bend)
    total, walked = _around(ring), 0.0
    for a, b in pairwise((*ring[first:], *ring[: first + 1])):
        way = shapely.shortest_line(shapely.Point(bend), shapely.LineString([a, b]))
        middle, foot = way.interpolate(0.5, normalized=True), walked + math.dist(a, way.coords[-1])
        walked += math.dist(a, b)
        # What lies near along the border, such as the next piece of a curve, does not lie across.
        opposite = min(foot, total - foot) > ACROSS * way.length
        if opposite and 0 < way.length < limit - SLACK_IN and area.contains(middle):
            best = min(best or (math.inf, bend), (way.length, (middle.x, middle.y)))
    return best


def _around(ring: Sequence[Point]) -> float:
    return math.fsum(math.dist(a, b) for a, b in zip(ring, (*ring[1:], ring[0]), strict=True))
