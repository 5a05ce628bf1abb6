"""Trim outlines: where the sewn section is cut, one allowance outside its stitch outline.

Knows:  all sections of a plan at once, so that the rule for a corner may look at every neighbour.
Leaves: mirroring and drawing (make), what lies on a sheet (sheet).
Units:  inches, front view of the block.
Method: the section, a strip one allowance wide on every side of it, and at every outward corner the mitre between
        two strips, all united. A tip sharper than 45 degrees is cut off square to its own middle, for its mitre
        would run on for inches; whatever lies beyond the block's own trim line is cut away with it, so that at the
        block's corners a section ends square, as the unfinished block does.
Limits: neighbours' tips are not matched to each other's edges. Another body may replace this one: only
        `trim_outlines` is called from outside.
"""

from __future__ import annotations

import math
from collections.abc import Sequence

import shapely
from shapely.geometry import Polygon
from shapely.geometry.base import BaseGeometry

from seamwright.block.rings import region_ring
from seamwright.geometry import Point, Ring, canonical_ring
from seamwright.piecing.model import Plan

TIP_LIMIT = 2.7
"""A mitre longer than this many allowances is cut off: a 45 degree tip (2.61) stays whole, as rulers cut it."""
BLOCK_LIMIT = 5.0
"""The same for the block's own corners, whose raw edges meet other blocks: 24 degrees and more stay whole."""

GRID_IN = 1e-9
"""Corners are rounded to this, so that strips that share a side leave no slit between them."""
HAIR_IN = 1e-7
"""The block's trim line is taken this much further out: sides that nearly coincide would cross in false corners."""


def trim_outlines(plan: Plan) -> dict[str, Ring]:
    """The trim outline of every section by its name, clockwise in front view.

    No point of it is nearer to the section's stitch outline than the allowance, and everything within the allowance
    of the section lies inside it.
    """
    allowance = plan.options.seam_allowance_in
    block = plan.block
    whole = grown(region_ring(block, range(len(block.patches))), allowance + HAIR_IN, BLOCK_LIMIT)
    return {
        section.name: _ring(grown(region_ring(block, section.patches), allowance, TIP_LIMIT).intersection(whole))
        for section in plan.sections
    }


def grown(ring: Sequence[Point], allowance: float, limit: float) -> BaseGeometry:
    """A ring with its inside, grown outward by the allowance with mitred corners.

    Args:
        ring: of one piece, in either direction.
        limit: mitres longer than this many allowances are cut off square to the corner's middle; 1 or more.
    """
    # Points inside a straight side are left out: their strips would meet in slits of rounding.
    points = canonical_ring(ring)
    parts: list[BaseGeometry] = [Polygon(points)]
    normals = [_outward(a, b) for a, b in zip(points, points[1:] + points[:1], strict=True)]
    for i, corner in enumerate(points):
        before, after = normals[i - 1], normals[i]
        end = points[(i + 1) % len(points)]
        strip = [corner, end, _shifted(end, after, allowance), _shifted(corner, after, allowance)]
        parts.append(Polygon(strip))
        mitre = _mitre(corner, before, after, allowance, limit)
        if mitre:
            parts.append(Polygon(mitre))
    return shapely.union_all(parts, grid_size=GRID_IN)


def _mitre(corner: Point, before: Point, after: Point, allowance: float, limit: float) -> list[Point]:
    """The wedge between two strips at an outward corner; [] where they overlap or meet straight."""
    turn = before[0] * after[1] - before[1] * after[0]
    if turn <= 1e-12 and before[0] * after[0] + before[1] * after[1] > 0:
        return []
    if turn < 0:
        return []
    # The middle of the wedge; at a needle's point the normals are opposite and it runs on along the needle.
    middle = (before[0] + after[0], before[1] + after[1])
    length = math.hypot(*middle)
    middle = (middle[0] / length, middle[1] / length) if length > 1e-9 else (-before[1], before[0])
    share = before[0] * middle[0] + before[1] * middle[1]  # cosine of half the turn
    reach = allowance / share if share > 1e-9 else math.inf
    one, two = _shifted(corner, before, allowance), _shifted(corner, after, allowance)
    if reach <= limit * allowance:
        return [corner, one, _shifted(corner, middle, reach), two]
    # Cut square to the middle: follow each strip's outer side until it has run out far enough.
    cut = limit * allowance
    along = math.sqrt(1 - share * share)
    run = (cut - allowance * share) / along
    ahead, back = (-before[1], before[0]), (after[1], -after[0])
    return [corner, one, _shifted(one, ahead, run), _shifted(two, back, run), two]


def _ring(area: BaseGeometry) -> Ring:
    largest = max((p for p in shapely.get_parts(area) if isinstance(p, Polygon)), key=lambda p: p.area)
    corners = [(float(x), float(y)) for x, y in largest.exterior.coords[:-1]]
    # Rounding may leave a corner twice; both would look straight from their neighbours, and the corner be lost.
    apart = [
        p for before, p in zip(corners[-1:] + corners[:-1], corners, strict=True) if math.dist(before, p) > HAIR_IN
    ]
    return canonical_ring(apart)


def _outward(a: Point, b: Point) -> Point:
    """Unit normal on the left hand of a walker from a to b (y down): outside of a clockwise ring."""
    length = math.dist(a, b)
    return ((b[1] - a[1]) / length, (a[0] - b[0]) / length)


def _shifted(point: Point, direction: Point, distance: float) -> Point:
    return (point[0] + direction[0] * distance, point[1] + direction[1] * distance)
