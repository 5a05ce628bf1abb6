"""Which foundations share a sheet, and where each lies.

Knows:  the order in which prints are tried, the angles, the arrangements of furniture they are tried with.
Leaves: cells and places (nest), furniture (furnish), tiles of what is too large (tiling).
Units:  points on the sheet.
Method: prints in order of size, each at the place that keeps the sheet's used part lowest (first fit, decreasing),
        sheet by sheet; on each sheet the arrangement of furniture that lets most prints on. Then other orders and
        angles, drawn from a fixed seed, until a count of steps is spent; the fewest sheets win.
Limits: a heuristic: another packing may need a sheet fewer.
"""

from __future__ import annotations

import itertools
import math
import random
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field
from functools import lru_cache
from typing import Protocol

from shapely.geometry import Polygon

from seamwright.geometry import Affine, Ring, bounds, moved, signed_area
from seamwright.options import DEFAULT_EFFORT
from seamwright.sheet.furnish import Frame, Wanted, furnish, panels
from seamwright.sheet.furniture import FIVE_CM_PT, Item
from seamwright.sheet.nest import AIR_PT, Bed, Memory, Spot, angles, shape

UPRIGHT, QUARTERS = (0.0,), (0.0, 90.0, 180.0, 270.0)
CROOKED_CELLS = 4
"""Paper worth spending (in cells) to keep a print square to the sheet: sheets then look ordered and read easily."""


PLAIN_WAYS = 6


@dataclass(frozen=True, slots=True)
class Laid:
    """A print in its place.

    Attributes:
        number: which of the prints given.
        affine: its own points -> points of the sheet; angle_deg: its rotation, clockwise as seen.
    """

    number: int
    affine: Affine
    angle_deg: float


@dataclass(frozen=True, slots=True)
class Filled:
    """A sheet filled: what lies on it, its furniture in place."""

    laid: tuple[Laid, ...]
    furniture: tuple[Item, ...]


class Wants(Protocol):
    """From the numbers of the prints on a sheet to the furniture that it needs."""

    def __call__(self, numbers: Sequence[int], *, bare: bool = False) -> Wanted:
        """Bare: the words of squares and keys go to the foot."""


@dataclass(frozen=True, slots=True)
class _Way:
    """One way of filling sheets.

    Attributes:
        order: numbers of the prints, first come first served.
        square: the angles allowed; None for any that lays a side along the sheet.
        turns: which of equally good angles is taken, for each print: how far its list of angles is rotated.
        memory: places found before, shared by all ways.
    """

    order: tuple[int, ...]
    square: tuple[float, ...] | None
    turns: tuple[int, ...]
    memory: Memory = field(default_factory=dict)


def pack(
    rings: Sequence[Ring], frame: Frame, wants: Wants, effort: int = DEFAULT_EFFORT
) -> tuple[Filled, ...] | None:
    """All prints on few sheets, or None if one of them fits on no sheet.

    Args:
        rings: trim outlines in points, clockwise, each in its own coordinates.
        effort: how many prints are laid in all before the best way found is taken.
    """
    if not rings:
        return ()
    least = _least(rings, frame)
    best: tuple[tuple[int, ...], tuple[Filled, ...]] | None = None
    spent = 0
    for count, way in enumerate(_ways(rings)):
        plain = count < PLAIN_WAYS
        # Ways by chance have only one thing to offer: fewer sheets.
        most = len(rings) if best is None or plain else len(best[1]) - 1
        sheets = _sheets(rings, way, frame, wants, most)
        if sheets is None and best is None and way.square is None:
            return None
        if sheets is not None:
            turned = [laid.angle_deg for sheet in sheets for laid in sheet.laid]
            crooked, lying = (sum(angle not in square for angle in turned) for square in (QUARTERS, UPRIGHT))
            score = (len(sheets), crooked, lying)
            if best is None or score < best[0]:
                best = (score, sheets)
        spent += len(rings)
        if best is not None and (len(best[1]) <= least or spent >= (4 * effort if plain else effort)):
            break
    return _in_order(best[1]) if best else None


def _in_order(sheets: Sequence[Filled]) -> tuple[Filled, ...]:
    """Sheets by the first print on each, and the prints of each sheet in the order given."""
    sorted_ = [Filled(tuple(sorted(s.laid, key=lambda one: one.number)), s.furniture) for s in sheets]
    return tuple(sorted(sorted_, key=lambda s: s.laid[0].number))


def _least(rings: Sequence[Ring], frame: Frame) -> int:
    """No packing needs fewer sheets: areas with their air do not overlap, nor with that of the check squares."""
    area = sum(Polygon(ring).buffer(AIR_PT, quad_segs=4).area for ring in rings)
    sheet = (frame.width + 2 * AIR_PT) * (frame.bottom - frame.top + 2 * AIR_PT)
    squares = (FIVE_CM_PT + 2 * AIR_PT) ** 2
    return math.ceil(area / (sheet - squares)) if len(rings) > 1 else 1


def _ways(rings: Sequence[Ring]) -> Iterator[_Way]:
    """First the plain ways, upright before lying before crooked; then ways by chance, from fixed seeds."""
    memory: Memory = {}
    by_area, by_side = _orders(rings)
    for square in (UPRIGHT, QUARTERS, None):
        for order in (by_area, by_side):
            yield _Way(order, square, (0,) * len(rings), memory)
    for seed in itertools.count():
        chance = random.Random(seed)
        # Large before small still holds, but neighbours in size change places.
        rank = {number: place + chance.uniform(0, 4) for place, number in enumerate(by_area)}
        yield _Way(
            tuple(sorted(by_area, key=lambda n, rank=rank: rank[n])),  # type: ignore[misc]
            None if seed % 2 else QUARTERS,
            tuple(chance.randrange(4) for _ in rings),
            memory,
        )


def fits(ring: Ring, frame: Frame, wants: Wants, *, bare: bool = False) -> bool:
    """Whether a print finds room on a sheet of its own with all its furniture (bare: as little as can be)."""
    if bare:
        return _bare_sheet([ring], 0, frame, wants) is not None
    return _full_sheet([ring], [0], _Way((0,), None, (0,)), frame, wants) is not None


def _orders(rings: Sequence[Ring]) -> tuple[tuple[int, ...], tuple[int, ...]]:
    """Largest first, by area and by longest side of the box."""

    def area(number: int) -> float:
        return -round(abs(signed_area(rings[number])), 3)

    def side(number: int) -> float:
        left, top, right, bottom = bounds(rings[number])
        return -round(max(right - left, bottom - top), 3)

    numbers = range(len(rings))
    by_area = tuple(sorted(numbers, key=lambda n: (area(n), n)))
    by_side = tuple(sorted(numbers, key=lambda n: (side(n), n)))
    return by_area, by_side


def _sheets(rings: Sequence[Ring], way: _Way, frame: Frame, wants: Wants, most: int) -> tuple[Filled, ...] | None:
    """Sheet after sheet; None if more than `most` are needed or a print fits on none."""
    sheets: list[Filled] = []
    left = list(way.order)
    while left:
        if len(sheets) == most:
            return None
        filled = _sheet(rings, left, way, frame, wants)
        if filled is None:
            return None
        sheets.append(filled)
        done = {laid.number for laid in filled.laid}
        left = [number for number in left if number not in done]
    return tuple(sheets)


def _sheet(rings: Sequence[Ring], numbers: Sequence[int], way: _Way, frame: Frame, wants: Wants) -> Filled | None:
    """The next sheet: as full as can be, or at the least one print alone, at any angle."""
    first, free = numbers[0], _Way(way.order, None, way.turns, way.memory)
    return (
        _full_sheet(rings, numbers, way, frame, wants)
        or _full_sheet(rings, [first], free, frame, wants)
        or _bare_sheet(rings, first, frame, wants)
    )


def _full_sheet(
    rings: Sequence[Ring], numbers: Sequence[int], way: _Way, frame: Frame, wants: Wants
) -> Filled | None:
    """One sheet with as much of the prints on it as any arrangement of furniture allows."""
    best: tuple[float, Filled] | None = None
    unblocked = Bed(frame.left, frame.top, frame.right, frame.bottom, way.memory)
    for blocked in panels(frame, wants(numbers).row):
        bed = unblocked.copy()
        for box in blocked:
            bed.block(box)
        spots: list[tuple[int, Spot]] = []
        hopeless: set[object] = set()
        for number in numbers:
            ring = rings[number]
            like = ring if way.square else _likeness(ring)
            spot = (
                None if like in hopeless else _best_spot(bed, ring, way.square or angles(ring), way.turns[number])
            )
            if spot is not None:
                bed.take(spot)
                spots.append((number, spot))
            else:
                # A bed only fills: what found no room once, or its like, finds none later.
                hopeless.add(like)
        if best is not None and sum(abs(signed_area(rings[n])) for n, _ in spots) <= best[0]:
            continue
        filled = _furnished(rings, spots, unblocked, frame, wants)
        if filled is None:
            continue
        area = sum(abs(signed_area(rings[laid.number])) for laid in filled.laid)
        if best is None or area > best[0] * (1 + 1e-9):
            best = (area, filled)
        if len(filled.laid) == len(numbers):
            break
    return best[1] if best else None


def _bare_sheet(rings: Sequence[Ring], number: int, frame: Frame, wants: Wants) -> Filled | None:
    """A print that leaves room for little else, alone on its sheet."""
    bed = Bed(frame.left, frame.top, frame.right, frame.bottom)
    for angle in angles(rings[number]):
        spot = bed.spot(shape(rings[number], angle))
        if spot is not None:
            laid = Laid(number, bed.affine(spot), angle)
            full = bed.copy()
            full.take(spot)
            trim = tuple(moved(laid.affine, p) for p in rings[number])
            furniture = furnish(full, frame, [trim], wants([number], bare=True), bare=True)
            if furniture is not None:
                return Filled((laid,), furniture)
    return None


@lru_cache(maxsize=4096)
def _likeness(ring: Ring) -> tuple[tuple[float, float], ...]:
    """The same for rings that differ by a rotation and a shift only: sides and short diagonals in order."""
    after = [*ring[1:], *ring[:2]]
    sides = [
        (round(math.dist(a, b), 1), round(math.dist(a, c), 1))
        for a, b, c in zip(ring, after, after[1:], strict=False)
    ]
    return min(tuple(sides[k:] + sides[:k]) for k in range(len(sides)))


def _best_spot(bed: Bed, ring: Ring, allowed: Sequence[float], turn: int) -> Spot | None:
    """The place that reaches least far down; crooked only where that saves paper."""
    best: tuple[tuple[int, ...], Spot] | None = None
    for number, angle in enumerate(allowed):
        spot = bed.spot(shape(ring, angle))
        if spot is not None:
            crooked = CROOKED_CELLS if angle not in QUARTERS else 0
            score = (spot.bottom + crooked, spot.row, spot.right, (number - turn) % 4, number)
            if best is None or score < best[0]:
                best = (score, spot)
    return best[1] if best else None


def _furnished(
    rings: Sequence[Ring], spots: Sequence[tuple[int, Spot]], bed: Bed, frame: Frame, wants: Wants
) -> Filled | None:
    """The sheet with its furniture; the smallest prints are taken off again until it finds room."""
    for count in range(len(spots), 0, -1):
        laid, full = [], bed.copy()
        for number, spot in spots[:count]:
            full.take(spot)
            laid.append(Laid(number, full.affine(spot), spot.shape.angle_deg))
        trims = [tuple(moved(one.affine, p) for p in rings[one.number]) for one in laid]
        furniture = furnish(full, frame, trims, wants([one.number for one in laid]))
        if furniture is not None:
            return Filled(tuple(laid), furniture)
    return None
