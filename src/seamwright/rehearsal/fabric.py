"""A piece of fabric as it was cut, and how hands find where it lies.

Knows:  shapes that scissors and ruler make; laying one by the middle of a line, by ticks, by marks, by an outline,
        by eye.
Leaves: the line itself (line), where marks put a rectangle (marks), what has to be covered (looks).
Units:  inches, front view. A piece by itself lies right side up, x along its first side, clockwise (y down).
Method: nothing tells the hands where a piece has to lie but what is printed: they find the line, its middle and the
        trimmed edge themselves, and choose the edge of a triangle by the shape of its patch. A thread of the fabric
        goes along wherever the piece goes, so that at the end it shows which way the grain runs.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

import numpy as np
import shapely
from shapely.geometry import LineString, Polygon
from shapely.geometry.base import BaseGeometry

from seamwright.geometry import Point, Ring, Segment, canonical_ring
from seamwright.rehearsal.line import Coords, StitchLine
from seamwright.rehearsal.marks import Placing, placed_by_marks
from seamwright.rehearsal.model import PieceToLay
from seamwright.rehearsal.overlay import less
from seamwright.rehearsal.paper import refuse

SAME_IN = 0.01
"""What differs by less is as drawn: half the width of a printed line."""


@dataclass(frozen=True, slots=True)
class Cut:
    """A piece by itself: its corners and a thread of it, along the print if that runs one way."""

    ring: Ring
    thread: Segment


@dataclass(frozen=True, slots=True)
class Laid:
    """A piece in a place: where it lies, its thread there, which of its sides lies on the trimmed edge.

    `side` is "long", "short", "longer short" or "shorter short" for a triangle, "" for a rectangle.
    """

    shape: BaseGeometry
    thread: LineString
    side: str = ""

    def mirrored(self, line: StitchLine) -> Laid:
        """The same folded over a line."""
        folded = line.mirrored(self.thread)
        assert isinstance(folded, LineString)
        return Laid(line.mirrored(self.shape), folded, self.side)

    @property
    def thread_deg(self) -> float:
        """Direction of the thread, 0 or more and under 180."""
        (ax, ay), (bx, by) = self.thread.coords
        return math.degrees(math.atan2(by - ay, bx - ax)) % 180


def cut(piece: PieceToLay) -> Cut:
    """What comes from the rectangle or square that is cut, right side up."""
    w, h = piece.width, piece.height
    thread = ((0.0, 0.0), (0.0, 1.0)) if piece.runs == "height" else ((0.0, 0.0), (1.0, 0.0))
    if piece.shape == "half-square triangle":
        _square(piece)
        return Cut(((0, 0), (w, 0), (0, w)), thread)
    if piece.shape == "quarter-square triangle":
        _square(piece)
        return Cut(((0, 0), (w, 0), (w / 2, w / 2)), thread)
    if piece.shape == "half-rectangle triangle":
        # Stood on the shorter leg, the right angle on the left or on the right.
        w, h = min(w, h), max(w, h)
        ring = ((0, 0), (w, h), (0, h)) if piece.hand == "left" else ((w, 0), (w, h), (0, h))
        return Cut(ring, thread)
    return Cut(((0, 0), (w, 0), (w, h), (0, h)), thread)


def lay_by_edge(piece: PieceToLay, patch: Polygon, line: StitchLine, edge: float) -> Laid:
    """A piece right side down, a side on the trimmed edge at v = `edge`: by the middle of the line or by ticks."""
    own = cut(piece)
    side = _side_for(piece, own.ring, patch, line)
    start, end = _sides(own.ring)[side]
    length = math.dist(start, end)
    ahead = ((end[0] - start[0]) / length, (end[1] - start[1]) / length)
    at = (line.length - length) / 2 if piece.lay == "centred" else _by_ticks(piece, line, length, edge)

    def placed(point: Point) -> Point:
        x, y = point[0] - start[0], point[1] - start[1]
        # Turned over: what lies on the right hand of the side comes to lie on its left.
        return line.place(at + x * ahead[0] + y * ahead[1], edge - (ahead[0] * y - ahead[1] * x))

    said = _said_side(own.ring, side)
    return Laid(Polygon(map(placed, own.ring)), LineString(map(placed, own.thread)), said)


def lay_drawn(piece: PieceToLay) -> Laid:
    """A rectangle laid on the outline drawn for it, its first side along the outline's first side."""
    if len(piece.drawn) != 4:
        refuse("does not fit its outline", f"no rectangle is drawn for the fabric of {piece.name}")
    (a, b, c, _), middle = piece.drawn, Polygon(piece.drawn).centroid
    if abs(math.dist(a, b) - piece.width) > SAME_IN or abs(math.dist(b, c) - piece.height) > SAME_IN:
        what = f"the fabric of {piece.name} is not as large as the outline that is drawn for it"
        refuse("does not fit its outline", what, a)
    return _turned(cut(piece), math.atan2(b[1] - a[1], b[0] - a[0]), (middle.x, middle.y))


def lay_by_marks(piece: PieceToLay, line: StitchLine, wanted: BaseGeometry) -> tuple[Laid, Placing]:
    """A rectangle laid right side down by what is drawn of its edges; a one-way print says which is which.

    Args:
        line: over which it is flipped. wanted: what it is to lie on before that, for an eye.
    """
    turns = [0.0, 90.0]
    if piece.runs and piece.grain_deg is not None and piece.edges:
        mark = math.degrees(_direction(*max(piece.edges, key=lambda one: round(math.dist(*one), 6))))
        before = 2 * math.degrees(_direction(line.start, line.end)) - piece.grain_deg
        thread = 90.0 if piece.runs == "height" else 0.0
        turns = [turn for turn in turns if abs((mark + turn + thread - before + 90) % 180 - 90) < 45]
    placing = placed_by_marks(piece, wanted, turns)
    return _turned(cut(piece), placing.turn, placing.middle), placing


def lay_over(piece: PieceToLay, patch: Polygon, wanted: BaseGeometry, grain_deg: float | None) -> Laid:
    """A piece laid by eye, right side up: turned until it covers what is wanted, with as much to spare all round.

    Where the grain is asked for it is turned along that only; else its sides are tried along those of the patch.
    """
    own = cut(piece)
    ring = canonical_ring([(float(x), float(y)) for x, y in shapely.get_coordinates(patch)[:-1]])
    laid = (_evenly(own, turn, wanted) for turn in _turns(own, ring, grain_deg))
    return min(laid, key=lambda one: round(float(less(wanted, one.shape).area), 9))


def _turns(own: Cut, ring: Ring, grain_deg: float | None) -> Iterator[float]:
    """Angles by which a piece may be turned."""
    if grain_deg is not None:
        thread = _direction(*own.thread)
        yield from (math.radians(grain_deg + quarter) - thread for quarter in (0, 180, 90, 270))
        return
    for side in _sides(ring):
        for edge in _sides(own.ring):
            yield _direction(*side) - _direction(*edge)


def _evenly(own: Cut, turn: float, wanted: BaseGeometry) -> Laid:
    """A piece at an angle, shifted so that what is wanted lies as far inside each of its sides."""
    laid = _turned(own, turn, (0.0, 0.0))
    ring = [(float(x), float(y)) for x, y in shapely.get_coordinates(laid.shape)[:-1]]
    points = shapely.get_coordinates(wanted)
    rows, spare = [], []
    for (ax, ay), (bx, by) in _sides(ring):
        length = math.dist((ax, ay), (bx, by))
        nx, ny = (by - ay) / length, -(bx - ax) / length  # outward
        rows.append((nx, ny, -1.0))
        spare.append(nx * ax + ny * ay - float((points @ (nx, ny)).max()))
    # n . shift + own spare is to be the same on all sides; of a rectangle on opposite sides.
    if len(rows) == 4:
        halves = [(spare[k + 2] - spare[k]) / 2 for k in (0, 1)]
        dx, dy = np.linalg.solve([row[:2] for row in rows[:2]], halves)
    else:
        dx, dy, _ = np.linalg.solve(rows, [-one for one in spare])

    def shifted(points: Coords) -> Coords:
        moved: Coords = points + np.array((float(dx), float(dy)))
        return moved

    thread = shapely.transform(laid.thread, shifted)
    return Laid(shapely.transform(laid.shape, shifted), thread)


def _turned(own: Cut, turn: float, middle: Point) -> Laid:
    """A piece turned, the middle of its corners at a place."""
    cos, sin = math.cos(turn), math.sin(turn)
    at = Polygon(own.ring).centroid

    def placed(point: Point) -> Point:
        x, y = point[0] - at.x, point[1] - at.y
        return (middle[0] + cos * x - sin * y, middle[1] + sin * x + cos * y)

    return Laid(Polygon(map(placed, own.ring)), LineString(map(placed, own.thread)))


def _by_ticks(piece: PieceToLay, line: StitchLine, length: float, edge: float) -> float:
    """Where along the line a piece starts whose ends lie at ticks across the trimmed edge."""
    starts = []
    for one, two in piece.ticks:
        (u0, v0), (u1, v1) = line.measured(np.array([one, two]))
        if not (min(v0, v1) <= edge <= max(v0, v1)) or abs(u0 - u1) > SAME_IN:
            refuse("ticks do not fit", f"a tick for the fabric of {piece.name} is not across the trimmed edge", one)
        starts.append(float(u0) if u0 < line.length / 2 else float(u0) - length)
    if not starts or max(starts) - min(starts) > SAME_IN:
        refuse("ticks do not fit", f"the fabric of {piece.name} does not reach from tick to tick")
    return starts[0]


def _side_for(piece: PieceToLay, ring: Ring, patch: Polygon, line: StitchLine) -> int:
    """Which side of a piece is laid on the trimmed edge: for a triangle the one that its patch shows there."""
    if len(ring) == 4:
        return 0
    corners = canonical_ring([(float(x), float(y)) for x, y in shapely.get_coordinates(patch)[:-1]])
    if len(corners) != 3:
        refuse("does not cover", f"{piece.name} is no triangle, but its fabric is one", corners[0])
    sides = [math.dist(a, b) for a, b in _sides(corners)]
    own = [math.dist(a, b) for a, b in _sides(ring)]
    longest = own.index(max(own))
    if line.length > max(sides) - SAME_IN:
        return longest
    # After the longest side comes the leg that ends in the right angle, then the one that starts there.
    ends, starts = (longest + 1) % 3, (longest + 2) % 3
    if abs(own[ends] - own[starts]) > SAME_IN:
        legs = sorted((ends, starts), key=lambda k: own[k])
        return legs[0] if line.length < sorted(sides)[1] - SAME_IN else legs[1]
    right = corners[(sides.index(max(sides)) + 2) % 3]
    return starts if math.dist(right, line.start) < math.dist(right, line.end) else ends


def _square(piece: PieceToLay) -> None:
    if abs(piece.width - piece.height) > SAME_IN:
        refuse("does not cover", f"the fabric of {piece.name} is cut from a square that is none")


def _said_side(ring: Ring, side: int) -> str:
    """Which side of a triangle it is; "" of a rectangle."""
    if len(ring) == 4:
        return ""
    lengths = [math.dist(a, b) for a, b in _sides(ring)]
    order = sorted(range(3), key=lambda k: -lengths[k])
    if side == order[0]:
        return "long"
    if lengths[order[1]] - lengths[order[2]] <= SAME_IN:
        return "short"
    return "longer short" if side == order[1] else "shorter short"


def _sides(ring: Sequence[Point]) -> list[Segment]:
    return list(zip(ring, (*ring[1:], ring[0]), strict=True))


def _direction(a: Point, b: Point) -> float:
    return math.atan2(b[1] - a[1], b[0] - a[0])
