"""What the paper can show of a piece of fabric that is laid on it: corners, ends of its sides, middles.

Knows:  how much of a laid outline lies on the paper, whether a piece can be laid by that.
Leaves: which outline that is (cutting), drawing it (foundation).
Units:  inches.
Method: a piece is laid by two of its sides, or by one of which an end or the middle is shown. Of a long side its
        ends alone are drawn: a hand lays an edge by two places of it, and the paper stays clear.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import product

import shapely
from shapely.geometry import LineString, Polygon
from shapely.geometry.base import BaseGeometry

from seamwright.geometry import Point, Ring, Segment

LEG_IN = 3 / 8
"""How much is drawn of a side at an end of what is seen of it."""
LEAST_IN = 1 / 8
"""Less of a side shows nothing."""
SPREAD = 0.3
"""Marks lie as far apart, as a share of the longer side: a hand that is 1/32 in off at one is then 1/8 in off at
the far end, half of the extra."""
AIR_IN = 1 / 32
"""Marks stay as far inside the trim line."""
TICK_IN = 1 / 8
"""Length of a tick across an edge."""


@dataclass(frozen=True, slots=True)
class Shown:
    """What is drawn of a laid outline.

    Attributes:
        legs: of its sides what is drawn. middles: short lines across sides at their middles, where they are needed.
        enough: a piece can be laid by it.
    """

    legs: tuple[Segment, ...]
    middles: tuple[Segment, ...]
    enough: bool


def room_of(trim: Sequence[Point]) -> BaseGeometry:
    """Where marks may stand inside a trim line."""
    return Polygon(trim).buffer(-AIR_IN, join_style="mitre")


@dataclass(frozen=True, slots=True)
class _End:
    """An end of what is seen of a side: the side, where it lies, the leg drawn there; whether a corner is there."""

    side: int
    place: Point
    leg: Segment
    corner: bool


def shown(outline: Sequence[Point], room: BaseGeometry) -> Shown:
    """What is drawn of a rectangle in the room that marks have, and whether that is enough to lay a piece by.

    The two ends that lie farthest apart, with both sides where they are corners; a third where these show one
    direction only.
    """
    ends, middles = _seen(outline, room)
    if not ends:
        return Shown((), (), False)
    one, two = max(product(ends, ends), key=lambda pair: round(math.dist(pair[0].place, pair[1].place), 6))
    spread = math.dist(one.place, two.place) / max(math.dist(a, b) for a, b in sides(outline))
    taken = [one, two]
    for end in (one, two):
        taken += [
            other for other in ends if end.corner and other.corner and math.dist(other.place, end.place) < AIR_IN
        ]
    ways = {end.side % 2 for end in taken}
    if len(ways) == 1:
        taken += sorted((e for e in ends if e.side % 2 not in ways), key=lambda e: -round(math.dist(*e.leg), 6))[:1]
    fixed = len({end.side % 2 for end in taken}) == 2 or any(end.corner for end in taken)
    crossing = [] if fixed else [line for side, line in middles if side == one.side][:1]
    legs = dict.fromkeys(end.leg for end in taken)
    return Shown(tuple(legs), tuple(crossing), spread >= SPREAD and (fixed or bool(crossing)))


def _seen(outline: Sequence[Point], room: BaseGeometry) -> tuple[list[_End], list[tuple[int, Segment]]]:
    """The ends of what is seen of the sides; for each side whose middle is seen the tick across it."""
    ends: list[_End] = []
    middles: list[tuple[int, Segment]] = []
    for number, (a, b) in enumerate(sides(outline)):
        length = math.dist(a, b)
        for start, end in _parts(a, b, room):
            if end - start < LEAST_IN:
                continue
            leg = min(LEG_IN, end - start)
            if end - start <= 3 * LEG_IN:
                whole = (at(a, b, start), at(a, b, end))
                first = last = whole
            else:
                first = (at(a, b, start), at(a, b, start + leg))
                last = (at(a, b, end - leg), at(a, b, end))
            ends.append(_End(number, first[0], first, start < AIR_IN))
            ends.append(_End(number, last[1], last, end > length - AIR_IN))
            if start + LEAST_IN < length / 2 < end - LEAST_IN:
                middles.append((number, tick(a, b, length / 2)))
    return ends, middles


def tick(a: Point, b: Point, distance: float) -> Segment:
    """A short line across the line from a to b, a distance along it."""
    (x, y), length = at(a, b, distance), math.dist(a, b)
    u, v = ((b[0] - a[0]) / length * TICK_IN / 2, (b[1] - a[1]) / length * TICK_IN / 2)
    return ((x + v, y - u), (x - v, y + u))


def at(a: Point, b: Point, distance: float) -> Point:
    """The place a distance along the line from a to b."""
    share = distance / math.dist(a, b)
    return (a[0] + share * (b[0] - a[0]), a[1] + share * (b[1] - a[1]))


def sides(ring: Sequence[Point]) -> list[Segment]:
    """The sides of a ring."""
    return list(zip(ring, (*ring[1:], *ring[:1]), strict=True))


def _parts(a: Point, b: Point, room: BaseGeometry) -> list[tuple[float, float]]:
    """From where to where a side lies in the room, in distances along it."""
    found = []
    for part in shapely.get_parts(LineString((a, b)).intersection(room)):
        if isinstance(part, LineString) and part.length:
            ends = [math.dist(a, (x, y)) for x, y in (part.coords[0], part.coords[-1])]
            found.append((min(ends), max(ends)))
    return sorted(found)


def grown_until_shown(outline: Ring, room: BaseGeometry, step_in: float, most: int) -> Ring | None:
    """A rectangle made longer, mark by mark, until it can be laid by what is shown; None if it never can.

    It grows beyond one end of its visible sides, so that their middles come to lie on the paper.
    """
    for count in range(1, most + 1):
        for k in range(4):
            a, b, c, d = outline[k:] + outline[:k]
            length, more = math.dist(a, b), count * step_in
            longer = (a, at(a, b, length + more), at(d, c, length + more), d)
            if shown(longer, room).enough:
                return longer[-k:] + longer[:-k] if k else longer
    return None
