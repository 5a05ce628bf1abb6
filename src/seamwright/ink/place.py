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
from itertools import pairwise

import shapely
from shapely.geometry import MultiPoint, MultiPolygon, Polygon
from shapely.geometry.base import BaseGeometry

from seamwright.geometry import Point, Ring
from seamwright.ink.lettering import centred, words_box
from seamwright.ink.model import Words

Areas = Polygon | MultiPolygon

CLEARANCE_PT = 1.5
"""White between a line's middle and words: at least a point is left beside a stitch line of 0.9 pt."""
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
    near: Point | None = None,
) -> Point | None:
    """Centre of an upright box inside an area, as far from lines and obstacles as can be, or None if it cannot fit.

    Args:
        obstacles: convex rings, lines or points that the box must not touch.
        near: the place wanted; without it the roomiest is taken.
    """
    area = _area(ring, holes)
    free = area.difference(_forbidden(_lines(area), width, height))
    free = free.difference(_forbidden(obstacles, width, height))
    parts = [p for p in shapely.get_parts(free) if p.geom_type == "Polygon" and p.area > 0]
    if not parts:
        return None
    if near is not None:
        spot = shapely.shortest_line(MultiPolygon(parts), shapely.Point(near)).coords[0]
        return (float(spot[0]), float(spot[1]))
    # The first of equally roomy parts in reading order, so that the answer never hangs on the order of parts.
    places = [_roomiest(part) for part in parts]
    best = max(radius for _, radius in places) * (1 - 1e-6)
    return min((place for place, radius in places if radius >= best), key=lambda p: (p[1], p[0]))


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
    turn = math.radians(angle_deg)
    flat, kept = _turned(ring, -turn), [_turned(hole, -turn) for hole in holes]
    blocked = [_turned(obstacle, -turn) for obstacle in obstacles]
    wanted = _turned([near], -turn)[0] if near is not None else None
    clear = 2 * clearance_pt / unit_pt
    for size in sizes_pt:
        words = centred(text, (0.0, 0.0), size, unit_pt=unit_pt, bold=bold, underline=underline)
        (left, top), _, (right, bottom), _ = words_box(words, unit_pt)
        spot = place_box(
            flat, right - left + clear, bottom - top + clear, holes=kept, obstacles=blocked, near=wanted
        )
        if spot is not None:
            # Words are centred by their capitals, boxes by all that shows.
            capitals = (spot[0] - (left + right) / 2, spot[1] - (top + bottom) / 2)
            return centred(
                text,
                _turned([capitals], turn)[0],
                size,
                unit_pt=unit_pt,
                angle_deg=angle_deg,
                bold=bold,
                underline=underline,
            )
    return None


def box_inside(box: Ring, ring: Sequence[Point], holes: Iterable[Sequence[Point]] = ()) -> bool:
    """Whether a box lies wholly inside an area."""
    return bool(_area(ring, holes).covers(Polygon(box)))


def _area(ring: Sequence[Point], holes: Iterable[Sequence[Point]]) -> Areas:
    area = Polygon(ring, list(holes))
    if area.is_valid:
        return area
    # A ring that touches itself is two areas or more.
    return MultiPolygon([p for p in shapely.get_parts(shapely.make_valid(area)) if isinstance(p, Polygon)])


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


def _forbidden(shapes: Iterable[Sequence[Point]], width: float, height: float) -> BaseGeometry:
    """Where a box's centre may not lie if the box is to keep clear of convex shapes."""
    u, v = width / 2, height / 2
    hulls = [
        MultiPoint([(x + dx, y + dy) for x, y in shape for dx in (-u, u) for dy in (-v, v)]).convex_hull
        for shape in shapes
    ]
    return shapely.union_all(hulls)


def _turned(points: Sequence[Point], radians: float) -> Ring:
    if radians == 0:
        return tuple(points)
    cos, sin = math.cos(radians), math.sin(radians)
    return tuple((cos * x - sin * y, sin * x + cos * y) for x, y in points)
