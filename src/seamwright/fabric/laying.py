"""What the paper can show of a piece of fabric that is laid on it: corners, ends of its sides, middles.

Knows:  how much of a laid outline lies on the paper, whether a piece can be laid by that.
Leaves: which outline that is (cutting), drawing it (foundation).
Units:  inches.
Method: of each side that is seen its ends alone are drawn, for a hand lays an edge by two places, and of these the
        fewest that will do, so that the paper stays clear. Each holds the piece square to its side; a middle holds
        it along. With hands that are off by 1/32 in at each mark, how far off a corner comes to lie follows from
        least squares (C. F. Gauss's; A. Bjorck, "Numerical Methods for Least Squares Problems", SIAM 1996, 1.1).
        What it has to cover however it is laid is asked of the worst that such hands can do: the sum of what each
        mark moves it by.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import combinations, product

import numpy as np
import numpy.typing as npt
import shapely
from shapely.geometry import LineString, Polygon
from shapely.geometry.base import BaseGeometry

from seamwright.geometry import Point, Ring, Segment

LEG_IN = 3 / 8
"""How much is drawn of a side at an end of what is seen of it."""
LEAST_IN = 1 / 8
"""Less of a side shows nothing."""
HAND_IN, OFF_IN = 1 / 32, 1 / 10
"""How far off a hand is at a mark, and a corner may be by that: twice as much is still within the extra."""
OFF_SHARE = 0.4
"""So much of the allowance it may be off at most: at worst it is more, and half of it has to stay in the seam."""
SAME_IN = 0.02
"""What differs by less is the same to a hand."""
ALIKE_IN = 1.0
"""Sides that differ by less are taken for each other where nothing but one corner, or one middle, is shown."""
MOST_LEGS = 4
_ROUNDING_IN = 1e-9
AIR_IN = 1 / 32
"""Marks stay as far inside the trim line."""
TICK_IN = 1 / 8
"""Length of a tick across an edge."""
APART_IN = 1 / 10
"""Marks of two pieces that lie nearer to each other are taken for one."""


@dataclass(frozen=True, slots=True)
class Shown:
    """What is drawn of a laid outline.

    Attributes:
        legs: of its sides what is drawn. middles: short lines across sides at their middles, where they are needed.
        enough: a piece is laid well enough by it.
    """

    legs: tuple[Segment, ...]
    middles: tuple[Segment, ...]
    enough: bool


def room_of(trim: Sequence[Point]) -> BaseGeometry:
    """Where marks may stand inside a trim line."""
    return Polygon(trim).buffer(-AIR_IN, join_style="mitre")


def off_most(allowance_in: float) -> float:
    """How far off a corner may be, by the allowance of which enough has to be left in the seam."""
    return min(OFF_IN, OFF_SHARE * allowance_in)


def shown(
    outline: Sequence[Point],
    room: BaseGeometry,
    besides: BaseGeometry | None = None,
    off_in: float = OFF_IN,
    sure: Sequence[Point] = (),
) -> Shown:
    """What is drawn of a rectangle in the room that marks have, and whether that is enough to lay a piece by.

    The fewest marks by which it is laid well enough; else those by which it is laid best.

    Args:
        besides: the marks of other pieces. Marks clear of them are taken where these are enough.
        off_in: how far off a corner may be, see `off_most`.
        sure: what has to lie on the piece whatever a hand does.
    """
    marks = _marks(outline, room)
    if besides is not None:
        found = _fewest([mark for mark in marks if LineString(mark.line).disjoint(besides)], outline, off_in, sure)
        if found.enough:
            return found
    return _fewest(marks, outline, off_in, sure)


def _fewest(marks: Sequence[_Mark], outline: Sequence[Point], off_in: float, sure: Sequence[Point]) -> Shown:
    """The fewest of the marks that are enough, else the best of them."""
    if not marks:
        return Shown((), (), False)
    corners = np.array(outline) - np.mean(outline, axis=0)
    best: tuple[float, tuple[int, ...]] = (math.inf, ())
    enough: list[_Mark] = []
    for count in range(1, min(len(marks), MOST_LEGS) + 1):
        sets = list(combinations(range(len(marks)), count))
        held = np.array([mark.holds for mark in marks])[np.array(sets)].sum(axis=1)
        off = np.round(_off(held, corners), 6)
        order = np.argsort(off, kind="stable").tolist()
        best = min(best, (float(off[order[0]]), sets[order[0]]))
        well = ([marks[m] for m in sets[k]] for k in order if off[k] <= off_in)
        enough = next((some for some in well if not _mistaken(some, outline) and _covers(some, outline, sure)), [])
        if enough:
            break
    taken = enough or [marks[k] for k in best[1]]
    return Shown(
        tuple(mark.line for mark in taken if not mark.is_middle),
        tuple(mark.line for mark in taken if mark.is_middle),
        bool(enough),
    )


@dataclass(frozen=True, slots=True)
class _Mark:
    """A line that may be drawn, and what of shift across, shift down and rotation about the middle it holds.

    `rows` tells it of each point where a hand lays the piece on it, shape (1 or 2, 3). It lies on side `side` of
    the outline, from `start` to `end` along it.
    """

    line: Segment
    is_middle: bool
    rows: npt.NDArray[np.float64]
    side: int
    start: float
    end: float

    @property
    def holds(self) -> npt.NDArray[np.float64]:
        """The sum of squares that least squares add up, shape (3, 3)."""
        return np.asarray(self.rows.T @ self.rows, dtype=np.float64)


def _covers(marks: Sequence[_Mark], outline: Sequence[Point], sure: Sequence[Point]) -> bool:
    """Whether points lie on a rectangle laid by its marks, each of them off by the worst that a hand does."""
    if not sure:
        return True
    moves = np.linalg.pinv(np.concatenate([mark.rows for mark in marks]))
    middle, points = np.mean(outline, axis=0), np.array(sure)
    x, y = (points - middle).T
    for a, b in sides(outline):
        normal = np.array((a[1] - b[1], b[0] - a[0])) / math.dist(a, b)
        normal *= np.sign((middle - a) @ normal)
        shift = np.full((len(x), 2), normal)
        by = np.column_stack((shift, normal[1] * x - normal[0] * y))
        if ((points - a) @ normal < HAND_IN * np.abs(by @ moves).sum(axis=1) - _ROUNDING_IN).any():
            return False
    return True


def _mistaken(marks: Sequence[_Mark], outline: Sequence[Point]) -> bool:
    """Whether a rectangle fits its marks as well when it is given a quarter turn, and looks much alike.

    Seen with its first side level, corner in the origin: of the turned one each mark leaves one or two places.
    """
    size = math.dist(*outline[:2]), math.dist(*outline[1:3])
    if not SAME_IN < abs(size[0] - size[1]) < ALIKE_IN - SAME_IN:
        return False
    turned = size[::-1]
    places: tuple[list[tuple[float, ...]], list[tuple[float, ...]]] = ([], [])
    reach: list[tuple[int, float, float]] = []
    for mark in marks:
        along, across = mark.side % 2, 1 - mark.side % 2
        far = size[across] if mark.side in (1, 2) else 0.0
        places[across].append((far, far - turned[across]))
        if mark.is_middle:
            places[along].append(((size[along] - turned[along]) / 2,))
        else:
            # The third and the fourth side run backwards.
            ends = (mark.start, mark.end) if mark.side < 2 else (size[along] - mark.end, size[along] - mark.start)
            reach.append((along, *ends))
    return any(
        all(at[k] - SAME_IN <= low and high <= at[k] + turned[k] + SAME_IN for k, low, high in reach)
        for at in product(*map(_agreed, places))
    )


def _agreed(choices: Sequence[tuple[float, ...]]) -> list[float]:
    """Values that are among all choices."""
    first, *others = choices
    return [a for a in first if all(min(abs(a - b) for b in other) < SAME_IN for other in others)]


def _off(held: npt.NDArray[np.float64], corners: npt.NDArray[np.float64]) -> npt.NDArray[np.float64]:
    """How far off the worst corner comes to lie, for each of several sums of marks, shape (n, 3, 3)."""
    # What nothing holds is held a little, so that it can be inverted: it comes out far off.
    spread = HAND_IN**2 * np.linalg.inv(held + 1e-9 * np.eye(3))
    moves = np.array([[[1.0, 0.0, -y], [0.0, 1.0, x]] for x, y in corners])
    squares = np.einsum("cij,njk,cik->nc", moves, spread, moves)
    return np.asarray(np.sqrt(squares.max(axis=1)), dtype=np.float64)


def _marks(outline: Sequence[Point], room: BaseGeometry) -> list[_Mark]:
    """The ends of what is seen of the sides, and ticks across their middles."""
    x0, y0 = np.mean(outline, axis=0)
    found: list[_Mark] = []
    middles: list[_Mark] = []

    def holding(points: Sequence[Point], u: float, v: float) -> npt.NDArray[np.float64]:
        return np.array([(u, v, -u * (y - y0) + v * (x - x0)) for x, y in points])

    for side, (a, b) in enumerate(sides(outline)):
        length = math.dist(a, b)
        u, v = (b[0] - a[0]) / length, (b[1] - a[1]) / length
        for start, end in _parts(a, b, room):
            if end - start < LEAST_IN:
                continue
            legs = [(start, start + LEG_IN), (end - LEG_IN, end)] if end - start > 3 * LEG_IN else [(start, end)]
            for one, two in legs:
                leg = (at(a, b, one), at(a, b, two))
                found.append(_Mark(leg, False, holding(leg, -v, u), side, one, two))
            across = tick(a, b, length / 2)
            if start + LEAST_IN < length / 2 < end - LEAST_IN and room.covers(LineString(across)):
                middle = at(a, b, length / 2)
                holds = holding([middle], u, v)
                middles.append(_Mark(across, True, holds, side, length / 2, length / 2))
    return found + middles


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


def grown_until_shown(
    outline: Ring,
    room: BaseGeometry,
    step_in: float,
    most: int,
    off_in: float = OFF_IN,
    sure: Sequence[Point] = (),
) -> Ring | None:
    """A rectangle made longer, mark by mark, until it can be laid by what is shown; None if it never can.

    It grows beyond one end of its visible sides, so that their middles come to lie on the paper, or beyond both. Of
    several ways the smallest is taken, then the one nearest to the paper's middle: so it does not matter at which
    corner the outline begins, and places of one print that are rotated grow alike.
    """
    heart = room.centroid

    def rank(longer: Ring) -> tuple[float, float]:
        paper = Polygon(longer)
        return round(paper.area, 6), round(paper.centroid.distance(heart), 6)

    for count in range(1, most + 1):
        for share in (1.0, 0.5):
            grown = [_grown(outline, k, count * step_in, share) for k in range(4)]
            fit = [one for one in grown if shown(one, room, off_in=off_in, sure=sure).enough]
            if fit:
                return min(fit, key=rank)
    return None


def _grown(outline: Ring, side: int, more_in: float, share: float) -> Ring:
    """A rectangle with one pair of its sides longer, by a share beyond their end and by the rest before it."""
    a, b, c, d = outline[side:] + outline[:side]
    start, end = -(1 - share) * more_in, math.dist(a, b) + share * more_in
    longer = (at(a, b, start), at(a, b, end), at(d, c, end), at(d, c, start))
    return longer[-side:] + longer[:-side] if side else longer
