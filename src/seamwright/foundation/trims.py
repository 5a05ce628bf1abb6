"""Trim outlines: where the sewn section is cut, one allowance outside its stitch outline.

Knows:  all sections of a plan at once, so that the two that a join brings together end edge on edge.
Leaves: who meets in a point (corners), the shape of tips (tips), mirroring and drawing (make), sheets (sheet).
Units:  inches, front view of the block.
Method: the section, a strip one allowance wide on every side of it, and its tips, all united; whatever lies beyond
        the block's own trim line is cut away. Then, at the end of each join, section against facing section, what
        one has beyond the end and the other has not is cut off, seam by seam, until nothing changes: there is
        something only where a side ends within its neighbour's tip. What a strip needs is never cut.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Mapping, Sequence
from itertools import pairwise

import shapely
from shapely.affinity import affine_transform
from shapely.geometry import MultiPolygon, Polygon
from shapely.geometry.base import BaseGeometry

from seamwright.block.rings import region_ring
from seamwright.foundation.corners import Corner, fans
from seamwright.foundation.tips import BLOCK_LIMIT, TIP_LIMIT, caps
from seamwright.geometry import Point, Ring, canonical_ring, off_line
from seamwright.piecing.model import Plan

GRID_IN = 1e-9
"""Corners are rounded to this, so that strips that share a side leave no slit between them."""
HAIR_IN = 1e-7
"""The block's trim line is taken this much further out: sides that nearly coincide would cross in false corners."""
EDGE_IN = 4e-4
"""Edges nearer to each other than this (0.01 mm) lie edge on edge."""
FAR = 14.0
"""No tip reaches further than this many allowances."""
ARC = 16
"""Pieces of a quarter circle where an outline has to be round."""
ROUNDS = 8
"""How often the ends of all joins are gone through at most; two or three times do."""


def trim_outlines(plan: Plan) -> dict[str, Ring]:
    """The trim outline of every section by its name, clockwise in front view.

    Everything within the allowance of a side of the section, square to it, lies inside. Laid right sides together
    along a join, two outlines coincide beyond its ends.
    """
    allowance, block = plan.options.seam_allowance_in, plan.block
    rings = {section.name: region_ring(block, section.patches) for section in plan.sections}
    if not allowance:
        return {name: canonical_ring(ring) for name, ring in rings.items()}
    whole = grown(region_ring(block, range(len(block.patches))), allowance + HAIR_IN, BLOCK_LIMIT)
    at_points = fans(plan)
    tips: dict[str, dict[Point, list[Polygon]]] = {name: {} for name in rings}
    for fan in at_points:
        for corner, shapes in zip(fan, caps(fan, allowance), strict=True):
            (x, y), moved = corner.at, tips[corner.section].setdefault(corner.at, [])
            moved += [Polygon([(x + u, y + v) for u, v in shape]) for shape in shapes]
    areas: dict[str, BaseGeometry] = {}
    strips: dict[str, list[Polygon]] = {}
    for name, ring in rings.items():
        strips[name] = _strips(ring, allowance)
        area = _united([*strips[name], *_tips(ring, allowance, TIP_LIMIT, tips[name])])
        area = _without_slits(area, strips[name][0], allowance)
        areas[name] = _areal(area.intersection(whole, grid_size=GRID_IN))
    for fan in at_points:
        if len(fan) == 1 and fan[0].low_open and fan[0].high_open:
            # A corner of the block that one section alone has to fill.
            strips[fan[0].section] += tips[fan[0].section][fan[0].at]
    _match(areas, strips, [pair for fan in at_points for pair in pairwise(fan)], allowance)
    return {name: _ring(_without_slits(area, strips[name][0], allowance)) for name, area in areas.items()}


def grown(ring: Sequence[Point], allowance: float, limit: float) -> BaseGeometry:
    """A ring with its inside, grown outward by the allowance with mitred corners.

    Args:
        ring: of one piece, in either direction.
        limit: mitres longer than this many allowances are cut off square to the corner's middle; 1 or more.
    """
    return _united([*_strips(ring, allowance), *_tips(ring, allowance, limit, {})])


def _without_slits(area: BaseGeometry, sewn: Polygon, allowance: float) -> BaseGeometry:
    """Closes hairs between a strip and a tip: a side next to one almost in its line starts a little beside it."""
    if area.boundary.distance(sewn) > allowance - EDGE_IN:
        return area
    closed = area.buffer(EDGE_IN / 2, join_style="mitre").buffer(-EDGE_IN / 2, join_style="mitre")
    return shapely.set_precision(closed, GRID_IN)


def _united(parts: Sequence[BaseGeometry]) -> BaseGeometry:
    return shapely.union_all(parts, grid_size=GRID_IN)


def _strips(ring: Sequence[Point], allowance: float) -> list[Polygon]:
    """The inside of a ring, and the allowance along every side of it."""
    # Points inside a straight side are left out: their strips would meet in slits of rounding.
    points = canonical_ring(ring)
    parts = [Polygon(points)]
    for a, b in zip(points, points[1:] + points[:1], strict=True):
        normal = _outward(a, b)
        parts.append(Polygon([a, b, _shifted(b, normal, allowance), _shifted(a, normal, allowance)]))
    return parts


def _tips(
    ring: Sequence[Point], allowance: float, limit: float, known: Mapping[Point, Sequence[Polygon]]
) -> Iterable[BaseGeometry]:
    """What lies beyond each corner: as it is known, else the mitre of its two strips."""
    points = canonical_ring(ring)
    normals = [_outward(a, b) for a, b in zip(points, points[1:] + points[:1], strict=True)]
    for i, corner in enumerate(points):
        if corner in known:
            yield from known[corner]
        else:
            mitre = _mitre(corner, normals[i - 1], normals[i], allowance, limit)
            if mitre:
                yield Polygon(mitre)


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
    # Of two corners near each other each looks straight from its neighbours: one goes, and the other has to stay.
    kept: list[Point] = []
    for number, p in enumerate(apart):
        before, after = (kept or apart)[-1], apart[(number + 1) % len(apart)]
        if before == after or abs(off_line(p, before, after)) > HAIR_IN:
            kept.append(p)
    return canonical_ring(kept)


def _outward(a: Point, b: Point) -> Point:
    """Unit normal on the left hand of a walker from a to b (y down): outside of a clockwise ring."""
    length = math.dist(a, b)
    return ((b[1] - a[1]) / length, (a[0] - b[0]) / length)


def _shifted(point: Point, direction: Point, distance: float) -> Point:
    return (point[0] + direction[0] * distance, point[1] + direction[1] * distance)


# -- what is left to be matched ---------------------------------------------------------------------------


def _match(
    areas: dict[str, BaseGeometry],
    strips: Mapping[str, Sequence[Polygon]],
    ends: Sequence[tuple[Corner, Corner]],
    allowance: float,
) -> None:
    """Cuts off what a section has beyond the end of a join and its neighbour, reflected over the seam, has not."""
    # No blade comes nearer to a stitch outline than the allowance: round its corners, too.
    round_ = allowance / math.cos(math.pi / 4 / ARC)
    needs: dict[str, BaseGeometry] = {}
    for _ in range(ROUNDS):
        changed = False
        for corner, beside in ends:
            here = _Beyond(corner, allowance)
            for name, other, sides in (
                (corner.section, beside.section, (1.0, -1.0)),
                (beside.section, corner.section, (-1.0, 1.0)),
            ):
                mine, theirs = here.seen(areas[name], sides[0]), here.seen(areas[other], sides[1])
                if shapely.hausdorff_distance(mine, theirs) < EDGE_IN / 4:
                    break
                excess = _wide(_less(mine, theirs))
                if excess.is_empty:
                    continue
                if name not in needs:
                    needs[name] = _united([*strips[name], strips[name][0].buffer(round_, quad_segs=ARC)])
                # A little more, or a hair of rounding would stay as a rim round it.
                off = _wide(_less(here.back(excess, sides[0]).buffer(HAIR_IN, join_style="mitre"), needs[name]))
                left = _less(areas[name], off)
                changed = changed or areas[name].area - left.area > EDGE_IN * EDGE_IN
                areas[name] = left
        if not changed:
            return


def _less(area: BaseGeometry, other: BaseGeometry) -> BaseGeometry:
    return _areal(shapely.difference(area, other, grid_size=GRID_IN))


def _areal(found: BaseGeometry) -> BaseGeometry:
    """The areas alone: where two edges come to lie on each other, a grid leaves a line."""
    if isinstance(found, Polygon | MultiPolygon):
        return found
    return _united([part for part in shapely.get_parts(found) if isinstance(part, Polygon)])


class _Beyond:
    """The strip of allowance beyond the end of a seam, laid flat: along the seam's line, and square to it."""

    def __init__(self, corner: Corner, allowance: float) -> None:
        self._at, self._allowance = corner.at, allowance
        self._ahead = (-math.cos(corner.high), -math.sin(corner.high))

    def seen(self, area: BaseGeometry, side: float) -> BaseGeometry:
        """What of an area lies in the strip, from the seam's end on; `side` is 1 beyond the first corner's side."""
        (x, y), (u, v) = self._at, self._ahead
        # Square to the seam, away from the first corner's section, lies (v, -u).
        flat = affine_transform(area, [u, v, side * v, -side * u, -(u * x + v * y), -side * (v * x - u * y)])
        strip = shapely.clip_by_rect(flat, 0.0, 0.0, FAR * self._allowance, self._allowance)
        near = [part for part in shapely.get_parts(strip) if part.distance(shapely.Point(0, 0)) < EDGE_IN]
        return near[0] if len(near) == 1 else _united(near)

    def back(self, seen: BaseGeometry, side: float) -> BaseGeometry:
        """An area of the strip back in its place."""
        (x, y), (u, v) = self._at, self._ahead
        return shapely.set_precision(affine_transform(seen, [u, side * v, v, -side * u, x, y]), GRID_IN)


def _wide(area: BaseGeometry) -> BaseGeometry:
    """The parts of an area that are more than two edges side by side."""
    parts = [
        part
        for part in shapely.get_parts(area)
        if isinstance(part, Polygon) and not part.buffer(-EDGE_IN / 2).is_empty
    ]
    return _united(parts)
