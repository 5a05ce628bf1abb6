"""A rectangle of fabric laid by the marks that the paper shows of it, and by hands that are a little off.

Knows:  places where a rectangle of a size lies with its edges on the lines shown and its middles on the ticks; how
        far off each of its edges may come to lie by that.
Leaves: what is cut (fabric), what has to be covered (sew).
Units:  inches, front view.
Method: the marks are all that is known. Turned level by the longest of them, each line is a stretch of an edge and
        each tick the middle of one, so each says where two of the four edges may lie; a rectangle lies where all of
        them agree. Where marks leave several such places, an eye that holds the paper against the light takes the
        one that covers best, and does not tell apart what lies nearer than 1/2 in to it: then each of these has to
        do. A hand lays fabric on a mark with an error; how far edges are off by that in the worst case follows from
        the pseudo-inverse of the marks' equations (R. Penrose, Proc. Camb. Phil. Soc. 51, 1955, pp. 406-413).
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise

import numpy as np
import numpy.typing as npt
import shapely
from shapely.geometry import Polygon
from shapely.geometry.base import BaseGeometry

from seamwright.geometry import Point, Segment
from seamwright.rehearsal.line import Coords
from seamwright.rehearsal.model import PieceToLay
from seamwright.rehearsal.overlay import less
from seamwright.rehearsal.paper import refuse

HAND_IN = 1 / 32
"""How far off an edge is laid at either end of a mark: fabric is soft, and a dot is half as wide."""
ALIKE_IN = 1 / 2
"""An eye tells apart places that are as far from each other."""
OFF_IN = 0.01
"""Marks that differ by less agree."""


@dataclass(frozen=True, slots=True)
class Placing:
    """A rectangle in a place.

    Attributes:
        shape: where it lies. turn: direction of its first side, radians.
        slack: for each end of a mark and each middle by how much shift right, shift down and rotation about the
            middle of the shape move the fabric off it, shape (n, 3).
    """

    shape: Polygon
    turn: float
    slack: npt.NDArray[np.float64]

    @property
    def middle(self) -> Point:
        """Of the shape."""
        return (self.shape.centroid.x, self.shape.centroid.y)

    def covers(self, wanted: Coords) -> bool:
        """Whether points lie on it wherever a hand lays it that is off at each mark in the worst way."""
        moves = np.linalg.pinv(self.slack)
        (x0, y0), ring = self.middle, shapely.get_coordinates(self.shape)
        for a, b in pairwise(ring):
            inward = np.array((a[1] - b[1], b[0] - a[0])) / math.dist(a, b)
            inside = (wanted - a) @ inward
            x, y = wanted[:, 0] - x0, wanted[:, 1] - y0
            by = np.column_stack(
                (np.full(len(x), inward[0]), np.full(len(x), inward[1]), inward[1] * x - inward[0] * y)
            )
            if (inside < HAND_IN * np.abs(by @ moves).sum(axis=1) - 1e-9).any():
                return False
        return True


def placed_by_marks(piece: PieceToLay, wanted: BaseGeometry, turns: Sequence[float] = (0.0, 90.0)) -> Placing:
    """Where a rectangle lies by its marks.

    Args:
        wanted: what it is to lie on before it is flipped: what the eye goes by.
        turns: degrees from the longest mark to the fabric's first side, as far as its print leaves a choice.

    Raises:
        ProofError: "cannot be laid": the marks do not hold it, or let it lie in two places that look alike and do
            not both do. "does not fit its marks": a rectangle of its size lies at none.
    """
    if not piece.edges:
        refuse("cannot be laid", f"no mark says where an edge of the fabric of {piece.name} lies")
    found = [one for turn in turns for one in _placings(piece, math.radians(turn))]
    if not found:
        what = f"no edges of a rectangle of its size lie at the marks for the fabric of {piece.name}"
        refuse("does not fit its marks", what, piece.edges[0][0])
    bare = [round(float(less(wanted, one.shape).area), 9) for one in found]
    best = found[bare.index(min(bare))]
    for one, left in zip(found, bare, strict=True):
        if left > min(bare) + 1e-6 and one.shape.hausdorff_distance(best.shape) < ALIKE_IN:
            what = f"the marks for the fabric of {piece.name} leave two places that look alike"
            refuse("cannot be laid", what, piece.edges[0][0])
    return best


def _placings(piece: PieceToLay, quarter: float) -> Iterator[Placing]:
    """All places that agree with the marks, the first side of the fabric at an angle from the longest mark."""
    (ax, ay), (bx, by) = max(piece.edges, key=lambda one: round(math.dist(*one), 6))
    level = math.atan2(by - ay, bx - ax)
    width, height = (piece.width, piece.height) if quarter == 0 else (piece.height, piece.width)
    lines = [_turned(line, -level) for line in piece.edges]
    ticks = [_turned(line, -level) for line in piece.middles]
    lefts: list[tuple[float, ...]] = []
    tops: list[tuple[float, ...]] = []
    for (x0, y0), (x1, y1) in lines:
        if abs(y1 - y0) <= abs(x1 - x0):
            tops.append(((y0 + y1) / 2, (y0 + y1) / 2 - height))
        else:
            lefts.append(((x0 + x1) / 2, (x0 + x1) / 2 - width))
    for (x0, y0), (x1, y1) in ticks:
        x, y = (x0 + x1) / 2, (y0 + y1) / 2
        across = abs(y1 - y0) > abs(x1 - x0)
        lefts.append((x - width / 2,) if across else (x, x - width))
        tops.append((y, y - height) if across else (y - height / 2,))
    if not lefts or not tops:
        refuse("cannot be laid", f"nothing holds the fabric of {piece.name} along its marks", piece.edges[0][0])
    for left in _agreed(lefts):
        for top in _agreed(tops):
            box = (left, top, left + width, top + height)
            if (slack := _slack(box, lines, ticks)) is not None:
                yield _settled(box, slack, level, quarter)


def _agreed(choices: Sequence[tuple[float, ...]]) -> list[float]:
    """Values that are among all choices."""

    first, *others = choices
    return [a for a in first if all(any(abs(a - b) <= OFF_IN for b in two) for two in others)]


def _slack(
    box: tuple[float, float, float, float], lines: Sequence[Segment], ticks: Sequence[Segment]
) -> npt.NDArray[np.float64] | None:
    """(right, down, rotation, how far off) for each mark of a level rectangle; None if one is not on its edge."""
    left, top, right, bottom = box
    x0, y0 = (left + right) / 2, (top + bottom) / 2
    rows = []
    for line in lines:
        flat = abs(line[1][1] - line[0][1]) <= abs(line[1][0] - line[0][0])
        edges, low, high, axis = (top, bottom), left, right, 0
        if not flat:
            edges, low, high, axis = (left, right), top, bottom, 1
        at = (line[0][1 - axis] + line[1][1 - axis]) / 2
        edge = min(edges, key=lambda one: abs(one - at))
        for point in line:
            if not low - OFF_IN <= point[axis] <= high + OFF_IN or abs(edge - point[1 - axis]) > OFF_IN:
                return None
            x, y = point[0] - x0, point[1] - y0
            rows.append((0.0, 1.0, x, point[1] - edge) if flat else (1.0, 0.0, -y, point[0] - edge))
    for one, two in ticks:
        x, y = (one[0] + two[0]) / 2 - x0, (one[1] + two[1]) / 2 - y0
        across = abs(two[1] - one[1]) > abs(two[0] - one[0])
        rows.append((1.0, 0.0, -y, x) if across else (0.0, 1.0, x, y))
    return np.array(rows)


def _settled(
    box: tuple[float, float, float, float], rows: npt.NDArray[np.float64], level: float, quarter: float
) -> Placing:
    """A level rectangle moved on to its marks as nearly as it can lie, and turned back."""
    left, top, right, bottom = box
    right_by, down_by, turn = np.linalg.lstsq(rows[:, :3], rows[:, 3], rcond=None)[0].tolist()
    x0, y0 = (left + right) / 2, (top + bottom) / 2
    cos, sin = math.cos(turn), math.sin(turn)
    corners = [
        _rotated((x0 + right_by + cos * x - sin * y, y0 + down_by + sin * x + cos * y), level)
        for x, y in (
            (left - x0, top - y0), (right - x0, top - y0), (right - x0, bottom - y0), (left - x0, bottom - y0),
        )
    ]  # fmt: skip
    # Rows hold in the level frame: shifts are turned with it.
    back = np.array([[math.cos(level), math.sin(level), 0], [-math.sin(level), math.cos(level), 0], [0, 0, 1]])
    return Placing(Polygon(corners), level + turn + quarter, rows[:, :3] @ back)


def _turned(line: Segment, turn: float) -> Segment:
    return (_rotated(line[0], turn), _rotated(line[1], turn))


def _rotated(point: Point, turn: float) -> Point:
    cos, sin = math.cos(turn), math.sin(turn)
    return (cos * point[0] - sin * point[1], sin * point[0] + cos * point[1])
