"""The diagram by which the blocks of a quilt are laid out: which lies where, and where its top points.

Knows:  numbers of looks, arrows, letters of plain blocks, numbers of rows; in how many parts a large one is drawn.
Leaves: rows (quiltrows), words round it (quiltsetting).
Units:  inches of the quilt in, of the figure out.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from itertools import pairwise

from seamwright.booklet.model import Figure
from seamwright.booklet.quiltrows import CENTRE, Entry, mean, rows_of
from seamwright.geometry import Point, Ring, moved
from seamwright.ink.model import Anchor, Area, Ink, Pen, Stroke, Words
from seamwright.picture.tints import INK, QUIET
from seamwright.quilt.model import Quilt, Role, Set, Spot

LEAST_IN, MARKED_IN = 0.36, 0.26
"""Where a block would be smaller than the first, the quilt is drawn in parts; parts that end between blocks may be
larger than others. A block smaller than the second has no room for a number beside its arrow."""
MOST_PARTS = 6
LEAST_ARROW_IN = 0.14
"""A block of a border drawn smaller shows neither."""
EDGE_IN, HAIR_IN = 0.3, 0.02
"""Left and above the quilt, for the numbers of its rows; right and below, for half a line."""
MOST_PT, LEAST_PT = 11.0, 7.0
CAP = 0.7 / 72
"""Height of capitals, inches a point."""
_At = Callable[[Point], Point]
_Within = Callable[[Point], bool]


def laying_figures(quilt: Quilt, room_in: tuple[float, float]) -> tuple[Figure, ...]:
    """The quilt as outlines, in one figure or in several that part it, each no larger than `room_in`."""
    room, parts = _free(room_in), parts_needed(quilt, room_in)
    across, down = (_cuts(quilt, axis, parts) for axis in (0, 1))
    scale = min(room[0] / max(q - p for p, q in across), room[1] / max(q - p for p, q in down))
    found: list[Figure] = []
    for top, bottom in down:
        for left, right in across:
            says = "The quilt as outlines, every block with the number of its kind and an arrow to its top"
            if parts > 1:
                says += f"; part {len(found) + 1} of {len(across) * len(down)}"
            found.append(_figure(quilt, (left, top, right, bottom), scale, says))
    return tuple(found)


def _cuts(quilt: Quilt, axis: int, parts: int) -> list[tuple[float, float]]:
    """From where to where each part goes, left to right or top to bottom; between blocks where they can."""
    whole = (quilt.width_in, quilt.height_in)[axis]
    edges = {
        round(end, 6)
        for spot in quilt.spots
        if spot.part == CENTRE
        for end in _ends(_placed(_corners(quilt, spot), spot), axis)
    }
    cuts = [min(edges | {whole}, key=lambda edge: abs(edge - whole * n / parts)) for n in range(1, parts)]
    ends = sorted({0.0, *cuts, whole})
    return list(pairwise(ends))


def _ends(ring: Sequence[Point], axis: int) -> tuple[float, float]:
    return min(point[axis] for point in ring), max(point[axis] for point in ring)


def _corners(quilt: Quilt, spot: Spot) -> Ring:
    block = quilt.looks[spot.look].block
    return ((0.0, 0.0), (block.width_in, 0.0), (block.width_in, block.height_in), (0.0, block.height_in))


def parts_needed(quilt: Quilt, room_in: tuple[float, float]) -> int:
    """In how many parts, each way, a quilt is drawn so that its blocks have room for a number and an arrow."""
    room = _free(room_in)
    whole = min(room[0] / quilt.width_in, room[1] / quilt.height_in)
    return min(MOST_PARTS, max(1, math.ceil(LEAST_IN / (_least_side(quilt) * whole) - 1e-9)))


def _free(room_in: tuple[float, float]) -> tuple[float, float]:
    """What of a figure is left to the quilt."""
    return room_in[0] - EDGE_IN - HAIR_IN, room_in[1] - EDGE_IN - HAIR_IN


def letters_of(quilt: Quilt) -> dict[str, str]:
    """A letter for each fabric of plain setting blocks, in order of appearance."""
    names = [cloth.fabric for cloth in quilt.cloths if cloth.role is Role.SETTING_BLOCK]
    return {name: chr(ord("a") + n % 26) * (n // 26 + 1) for n, name in enumerate(dict.fromkeys(names))}


def _least_side(quilt: Quilt) -> float:
    centre = [quilt.looks[spot.look].block for spot in quilt.spots if spot.part == CENTRE]
    return min((min(block.width_in, block.height_in) for block in centre), default=quilt.width_in)


def _figure(quilt: Quilt, window: tuple[float, float, float, float], scale: float, says: str) -> Figure:
    left, top, right, bottom = window

    def at(point: Point) -> Point:
        return EDGE_IN + (point[0] - left) * scale, EDGE_IN + (point[1] - top) * scale

    def within(point: Point) -> bool:
        return left - 1e-6 <= point[0] <= right + 1e-6 and top - 1e-6 <= point[1] <= bottom + 1e-6

    inks: list[Ink] = []
    letters = letters_of(quilt)
    for cloth in quilt.cloths:
        ring = tuple(at(_kept(point, window)) for point in cloth.ring)
        if _has_area(ring):
            inks.append(Stroke(Pen.RULE, ring, closed=True, colour=QUIET))
        middle = mean(cloth.ring)
        if cloth.role is Role.SETTING_BLOCK and within(middle):
            size = _type(min(cloth.width_in, cloth.height_in) * scale)
            inks.append(_said(letters[cloth.fabric], at(middle), size))
    for spot in quilt.spots:
        ring = tuple(at(_kept(point, window)) for point in _placed(_corners(quilt, spot), spot))
        if _has_area(ring):
            inks.append(Stroke(Pen.STITCH, ring, closed=True, colour=INK))
        inks += _mark(quilt, spot, at, within, scale)
    inks += _row_numbers(quilt, at, within, scale)
    width, height = (right - left) * scale + EDGE_IN + HAIR_IN, (bottom - top) * scale + EDGE_IN + HAIR_IN
    return Figure(tuple(inks), width, height, says)


def _mark(quilt: Quilt, spot: Spot, at: _At, within: _Within, scale: float) -> list[Ink]:
    """The number of a block's look, and an arrow to its top."""
    block = quilt.looks[spot.look].block
    width, height = block.width_in, block.height_in
    middle, top = _placed(((width / 2, height / 2), (width / 2, 0.0)), spot)
    side = min(width, height) * scale
    if not within(middle) or side < LEAST_ARROW_IN:
        return []
    (x, y), (tx, ty) = at(middle), at(top)
    share = side / (height * scale)
    along = ((tx - x) * share, (ty - y) * share)
    if side < MARKED_IN:
        return _arrow((x - along[0] * 0.6, y - along[1] * 0.6), (x + along[0] * 0.7, y + along[1] * 0.7), side)
    number = (x - along[0] * 0.38, y - along[1] * 0.38)
    start, end = (x + along[0] * 0.12, y + along[1] * 0.12), (x + along[0] * 0.85, y + along[1] * 0.85)
    return [_said(str(spot.look + 1), number, _type(side)), *_arrow(start, end, side)]


def _row_numbers(quilt: Quilt, at: _At, within: _Within, scale: float) -> list[Ink]:
    """Numbers of rows: beside level ones, in the first triangle of diagonal ones."""
    inks: list[Ink] = []
    on_point = quilt.setting.set is Set.ON_POINT
    for number, row in enumerate(rows_of(quilt), start=1):
        first = row[0]
        if not within(first.at):
            continue
        inks.append(_said(str(number), _beside(first, at, on_point, scale, quilt), LEAST_PT + 1, bold=True))
    return inks


def _beside(first: Entry, at: _At, on_point: bool, scale: float, quilt: Quilt) -> Point:
    x, y = at(first.at)
    if not on_point:
        return EDGE_IN / 2, y
    step = quilt.cell_in[0] * scale
    if first.cloth is not None and first.cloth.role is Role.SIDE_TRIANGLE:
        inward = mean(first.cloth.ring)
        mx, my = at(inward)
        return (x + mx) / 2, (y + my) / 2
    return x - step * 0.62, y - step * 0.62


def _said(text: str, at: Point, size: float, *, bold: bool = False) -> Words:
    return Words(text, (at[0], at[1] + size * CAP / 2), size, Anchor.MIDDLE, bold=bold, colour=INK)


def _type(side_in: float) -> float:
    """Type for a block drawn so large."""
    return max(LEAST_PT, min(MOST_PT, side_in * 72 * 0.22))


def _arrow(start: Point, end: Point, side: float) -> list[Ink]:
    length = math.dist(start, end)
    u = ((end[0] - start[0]) / length, (end[1] - start[1]) / length)
    head = min(0.09, side * 0.16)
    neck = (end[0] - head * u[0], end[1] - head * u[1])
    wide = (-0.42 * head * u[1], 0.42 * head * u[0])
    tip = (end, (neck[0] + wide[0], neck[1] + wide[1]), (neck[0] - wide[0], neck[1] - wide[1]))
    return [Stroke(Pen.RULE, (start, neck), colour=INK), Area((tip,), INK)]


def _placed(points: Sequence[Point], spot: Spot) -> tuple[Point, ...]:
    return tuple(moved(spot.place, point) for point in points)


def _kept(point: Point, window: tuple[float, float, float, float]) -> Point:
    left, top, right, bottom = window
    return min(max(point[0], left), right), min(max(point[1], top), bottom)


def _has_area(ring: Sequence[Point]) -> bool:
    return max(x for x, _ in ring) - min(x for x, _ in ring) > 1e-6 and (
        max(y for _, y in ring) - min(y for _, y in ring) > 1e-6
    )
