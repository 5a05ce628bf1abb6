"""Where words find room: the roomiest place of an area, and boxes that cross no line.

Knows:  areas with holes, boxes, what a box must keep clear of.
Leaves: which words go where, and what to do when they find no room (foundation, picture, sheet).
Units:  those of the ring; type sizes in points, `unit_pt` points to one unit (72 for inches).
Method: a box with its centre at c keeps clear of a line exactly if c lies outside the Minkowski sum of the line and
        the box, the hull of the box laid at both ends of the line. So the area less these hulls is all the places a
        centre may have: the search is exact, and no place is overlooked. M. de Berg et al., "Computational
        Geometry", 3rd ed., section 13.3.
Limits: one box, not turned against its own line of words.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import replace
from itertools import pairwise

import numpy as np
import shapely
from shapely.geometry import MultiPolygon, Polygon
from shapely.geometry.base import BaseGeometry

from seamwright.geometry import Point, Ring, bounds, boxes_meet, signed_area
from seamwright.ink.lettering import CAP_HEIGHT, words_box
from seamwright.ink.model import Anchor, Words

Areas = Polygon | MultiPolygon

CLEARANCE_PT = 1.5
"""White between a line's middle and words: at least a point is left beside a stitch line of 0.9 pt."""
DESCENT, LEADING_PT = 0.24, 1.5
"""Between lines: descenders as a share of the type size, and white."""
_GRID = 1e-9
"""Corners closer than this are one where an area can only be worked out on a grid; in units of the ring."""
_KEEP = 0.95
"""How much of the greatest clearance is kept when a place nearer to the middle is preferred."""


def roomiest(ring: Sequence[Point], holes: Iterable[Sequence[Point]] = ()) -> tuple[Point, float]:
    """The place farthest from all lines round an area, and its distance from them (pole of inaccessibility).

    Where many places are nearly as good, as along a strip, the one nearest to the middle of the area.

    Args:
        ring: three corners or more, not all on one line; holes: rings inside it.
    """
    return _roomiest(_area(ring, holes))


def place_box(
    ring: Sequence[Point],
    width: float,
    height: float,
    *,
    holes: Iterable[Sequence[Point]] = (),
    obstacles: Iterable[Sequence[Point]] = (),
    angle_deg: float = 0.0,
    near: Point | None = None,
) -> Point | None:
    """Centre of a box inside an area, as far from lines and obstacles as can be, or None if it cannot fit.

    Args:
        obstacles: convex rings, lines or points that the box must not touch.
        angle_deg: how far the box is turned, clockwise as seen.
        near: the place wanted; without it the roomiest is taken.
    """
    # Turn all else back, so that the box is upright.
    turn = math.radians(angle_deg)
    area = _area(_turned(ring, -turn), [_turned(hole, -turn) for hole in holes])
    blocked = [_turned(obstacle, -turn) for obstacle in obstacles]
    if area.is_empty:
        return None
    left, top, right, bottom = area.bounds
    if width >= right - left or height >= bottom - top or width * height >= area.area:
        return None
    free = _without(_shrunk(area, width, height), blocked, width, height)
    parts = [p for p in shapely.get_parts(free) if p.geom_type == "Polygon" and p.area > 0]
    if not parts:
        return None
    if near is not None:
        wanted = shapely.Point(_turned([near], -turn)[0])
        x, y = shapely.shortest_line(MultiPolygon(parts), wanted).coords[0]
        return _turned([(float(x), float(y))], turn)[0]
    # Of parts about as roomy the one nearest to the middle; in reading order, not in the order of parts.
    places = [_roomiest(part) for part in parts]
    best = _KEEP * max(radius for _, radius in places)
    middle = area.centroid.coords[0]
    spot = min(
        (place for place, radius in places if radius >= best),
        key=lambda p: (round(math.dist(p, middle), 6), round(p[1], 6), p[0]),
    )
    return _turned([spot], turn)[0]


def place_words(
    ring: Sequence[Point],
    text: str,
    sizes_pt: Iterable[float],
    *,
    holes: Iterable[Sequence[Point]] = (),
    obstacles: Iterable[Sequence[Point]] = (),
    clearance_pt: float = CLEARANCE_PT,
    unit_pt: float = 72.0,
    angle_deg: float = 0.0,
    bold: bool = False,
    underline: bool = False,
    near: Point | None = None,
) -> Words | None:
    """Words inside an area at the first of the sizes that fits, or None.

    Args:
        sizes_pt: in the order of preference, such as 12, 11, 10.
        clearance_pt: white left all round the words.
        angle_deg: the words' own line, clockwise as seen; they are upright to it.
        obstacles, near: as for `place_box`.
    """
    holes, obstacles = list(holes), list(obstacles)
    for size in sizes_pt:
        placed = place_lines(
            ring,
            [Words(text, (0.0, 0.0), size, bold=bold, underline=underline)],
            holes=holes,
            obstacles=obstacles,
            clearance_pt=clearance_pt,
            unit_pt=unit_pt,
            angle_deg=angle_deg,
            near=near,
        )
        if placed:
            return placed[0]
    return None


def place_lines(
    ring: Sequence[Point],
    lines: Sequence[Words],
    *,
    holes: Iterable[Sequence[Point]] = (),
    obstacles: Iterable[Sequence[Point]] = (),
    clearance_pt: float = CLEARANCE_PT,
    unit_pt: float = 72.0,
    angle_deg: float = 0.0,
    near: Point | None = None,
) -> tuple[Words, ...] | None:
    """Lines of words, one under the other and centred, as one box inside an area, or None if it cannot fit.

    Args:
        lines: what they say and how; their point, anchor and angle are set here.
        clearance_pt, angle_deg, obstacles, near: as for `place_words`.
    """
    turn = math.radians(angle_deg)
    stacked, (left, top, right, bottom) = _stacked(lines, unit_pt)
    clear = 2 * clearance_pt / unit_pt
    spot = place_box(
        ring,
        right - left + clear,
        bottom - top + clear,
        holes=holes,
        obstacles=obstacles,
        angle_deg=angle_deg,
        near=near,
    )
    if spot is None:
        return None
    middle = ((left + right) / 2, (top + bottom) / 2)
    offsets = _turned([(words.at[0] - middle[0], words.at[1] - middle[1]) for words in stacked], turn)
    return tuple(
        replace(words, at=(spot[0] + dx, spot[1] + dy), angle_deg=angle_deg)
        for words, (dx, dy) in zip(stacked, offsets, strict=True)
    )


def _stacked(lines: Sequence[Words], unit_pt: float) -> tuple[list[Words], tuple[float, float, float, float]]:
    """Lines centred under one another about x = 0, and the box (left, top, right, bottom) of them all."""
    stacked: list[Words] = []
    corners: list[Point] = []
    baseline = 0.0
    for before, words in zip([None, *lines], lines, strict=False):
        if before is not None:
            # Room for descenders below the line before, whether it has any or not: even lines are easier to read.
            baseline += DESCENT * before.size_pt + LEADING_PT + CAP_HEIGHT * words.size_pt
        line = replace(words, at=(0.0, baseline / unit_pt), anchor=Anchor.MIDDLE, angle_deg=0.0)
        stacked.append(line)
        corners += words_box(line, unit_pt)
    return stacked, bounds(corners)


def _area(ring: Sequence[Point], holes: Iterable[Sequence[Point]]) -> Areas:
    area = Polygon(ring, list(holes))
    if area.is_valid:
        return area
    # A ring that touches itself is two areas or more.
    return _mended(area)


def _roomiest(area: Areas) -> tuple[Point, float]:
    left, top, right, bottom = area.bounds
    circle = shapely.maximum_inscribed_circle(area, tolerance=max(right - left, bottom - top) * 1e-3)
    (x, y), radius = circle.coords[0], circle.length
    core = area.buffer(-_KEEP * radius)
    if not core.is_empty:
        x, y = shapely.shortest_line(core, area.centroid).coords[0]
        radius = area.boundary.distance(shapely.Point(x, y))
    return (float(x), float(y)), float(radius)


def _lines(area: Areas) -> list[Ring]:
    """The straight pieces of an area's border."""
    return [
        (a, b)
        for part in shapely.get_parts(area)
        if part.geom_type == "Polygon"
        for loop in (part.exterior, *part.interiors)
        for a, b in pairwise([(float(x), float(y)) for x, y in loop.coords])
    ]


def _shrunk(area: Areas, width: float, height: float) -> BaseGeometry:
    """Where the centre of a box may lie if the box is to stay inside an area."""
    if isinstance(area, Polygon) and not area.interiors:
        ring = [(float(x), float(y)) for x, y in area.exterior.coords[:-1]]
        if signed_area(ring) < 0:
            ring.reverse()
        if all(_right_turn(*three) for three in zip(ring[-1:] + ring[:-1], ring, ring[1:] + ring[:1], strict=True)):
            return Polygon(_clipped(ring, width / 2, height / 2))
    return _without(area, _lines(area), width, height)


def _right_turn(before: Point, point: Point, after: Point) -> bool:
    return (point[0] - before[0]) * (after[1] - point[1]) >= (point[1] - before[1]) * (after[0] - point[0])


def _clipped(ring: list[Point], u: float, v: float) -> list[Point]:
    """A convex clockwise ring with each side moved inward by the reach of a box (half sizes u, v) towards it.

    The convex case of the Minkowski sums, many times quicker: one half-plane after the other is cut away, as in
    I. Sutherland and G. Hodgman, "Reentrant polygon clipping", Communications of the ACM 17(1), 1974.
    """
    kept = ring
    for (ax, ay), (bx, by) in zip(ring, ring[1:] + ring[:1], strict=True):
        dx, dy = bx - ax, by - ay
        reach = abs(dy) * u + abs(dx) * v
        # Twice the area of the triangle on this side: distance from the side times its length.
        clear = [dx * (y - ay) - dy * (x - ax) - reach for x, y in kept]
        cut: list[Point] = []
        for (px, py), p, (qx, qy), q in zip(kept, clear, kept[1:] + kept[:1], clear[1:] + clear[:1], strict=True):
            if p >= 0:
                cut.append((px, py))
            if (p < 0) != (q < 0):
                share = p / (p - q)
                cut.append((px + share * (qx - px), py + share * (qy - py)))
        kept = cut
    return kept if len(kept) > 2 else []


def _without(area: BaseGeometry, shapes: Iterable[Sequence[Point]], width: float, height: float) -> BaseGeometry:
    """An area less all places where the centre of a box may not lie if it is to keep clear of convex shapes."""
    if area.is_empty:
        return area
    left, top, right, bottom = area.bounds
    reach = (left - width / 2, top - height / 2, right + width / 2, bottom + height / 2)
    # Most shapes lie far away: they are left out before anything is built of them.
    lists = [np.asarray(shape, dtype=float) for shape in shapes if boxes_meet(bounds(shape), reach)]
    if not lists:
        return area
    # All hulls in one call: one by one they take most of the time.
    box = np.array([(-1, -1), (1, -1), (1, 1), (-1, 1)]) * (width / 2, height / 2)
    corners = np.concatenate([(shape[:, None, :] + box).reshape(-1, 2) for shape in lists])
    owners = np.repeat(np.arange(len(lists)), [4 * len(shape) for shape in lists])
    hulls = np.asarray(shapely.convex_hull(shapely.multipoints(corners, indices=owners)))
    for hull in hulls[shapely.intersects(hulls, area)]:
        try:
            area = area.difference(hull)
        except shapely.GEOSException:
            area = _mended(area).difference(hull, grid_size=_GRID)
        if area.is_empty:
            break
    return area if area.is_valid else _mended(area)


def _mended(area: BaseGeometry) -> MultiPolygon:
    """An area that hulls cut away to a hair, and rounding made to run through itself, as areas that do not.

    GEOS promises an answer only for areas that do not cross themselves, but may hand out one that does.
    """
    parts = shapely.get_parts(shapely.make_valid(area))
    return MultiPolygon([p for part in parts for p in shapely.get_parts(part) if isinstance(p, Polygon)])


def _turned(points: Sequence[Point], radians: float) -> Ring:
    if radians == 0:
        return tuple(points)
    cos, sin = math.cos(radians), math.sin(radians)
    return tuple((cos * x - sin * y, sin * x + cos * y) for x, y in points)
