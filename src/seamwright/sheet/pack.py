"""Which foundations share a sheet, and where each lies.

Knows:  the order in which prints are tried, the angles, the arrangements of furniture they are tried with.
Leaves: cells and places (nest), furniture (furnish), tiles of what is too large (tiling).
Units:  points on the sheet.
Method: prints in order of size, each at the place that keeps the sheet's used part lowest (first fit, decreasing),
        sheet by sheet; on each sheet the arrangement of furniture that lets most prints on. Several orders and
        choices of angle are tried, the fewest sheets win. Counts of steps only, so the answer never hangs on time.
Limits: a heuristic: another packing may need a sheet fewer.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Protocol

from seamwright.geometry import Affine, Ring, bounds, moved, signed_area
from seamwright.sheet.furnish import Frame, Wanted, furnish, panels
from seamwright.sheet.furniture import Item
from seamwright.sheet.nest import Bed, Spot, angles, shape

QUARTERS = (0.0, 90.0, 180.0, 270.0)
CROOKED_CELLS = 4
"""Paper worth spending (in cells) to keep a print square to the sheet: sheets then look ordered and read easily."""


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


def pack(rings: Sequence[Ring], frame: Frame, wants: Wants) -> tuple[Filled, ...] | None:
    """All prints on few sheets, or None if one of them fits on no sheet.

    Args:
        rings: trim outlines in points, clockwise, each in its own coordinates.
    """
    if not rings:
        return ()
    best: tuple[tuple[float, ...], tuple[Filled, ...]] | None = None
    for order in _orders(rings):
        for free in (False, True):
            sheets = _sheets(rings, order, frame, wants, free=free)
            if sheets is None:
                continue
            crooked = sum(laid.angle_deg not in QUARTERS for sheet in sheets for laid in sheet.laid)
            last = sum(abs(signed_area(rings[laid.number])) for laid in sheets[-1].laid)
            score = (float(len(sheets)), float(crooked), last)
            if best is None or score < best[0]:
                best = (score, sheets)
            if len(sheets) == 1:
                return sheets
    return best[1] if best else None


def fits(ring: Ring, frame: Frame, wants: Wants) -> bool:
    """Whether a print finds room on a sheet of its own, furniture and all."""
    return _sheets([ring], [0], frame, wants, free=True) is not None


def _orders(rings: Sequence[Ring]) -> list[list[int]]:
    """Largest first, by area and by longest side of the box."""

    def area(number: int) -> float:
        return -round(abs(signed_area(rings[number])), 3)

    def side(number: int) -> float:
        left, top, right, bottom = bounds(rings[number])
        return -round(max(right - left, bottom - top), 3)

    numbers = range(len(rings))
    by_area = sorted(numbers, key=lambda n: (area(n), n))
    by_side = sorted(numbers, key=lambda n: (side(n), n))
    return [by_area] if by_area == by_side else [by_area, by_side]


def _sheets(
    rings: Sequence[Ring], order: Sequence[int], frame: Frame, wants: Wants, *, free: bool
) -> tuple[Filled, ...] | None:
    """Sheet after sheet until all prints are laid."""
    sheets: list[Filled] = []
    left = list(order)
    while left:
        filled = _sheet(rings, left, frame, wants, free=free)
        if filled is None:
            return None
        sheets.append(filled)
        done = {laid.number for laid in filled.laid}
        left = [number for number in left if number not in done]
    return tuple(sheets)


def _sheet(
    rings: Sequence[Ring], numbers: Sequence[int], frame: Frame, wants: Wants, *, free: bool
) -> Filled | None:
    """One sheet with as much of the prints on it as any arrangement of furniture allows."""
    best: tuple[float, Filled] | None = None
    for blocked in panels(frame, wants(numbers).foot[0]):
        bed = Bed(frame.left, frame.top, frame.right, frame.bottom)
        unblocked = bed.copy()
        for box in blocked:
            bed.block(box)
        spots: list[tuple[int, Spot]] = []
        for number in numbers:
            spot = _best_spot(bed, rings[number], free=free)
            if spot is not None:
                bed.take(spot)
                spots.append((number, spot))
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
    return best[1] if best else _bare_sheet(rings, numbers[0], frame, wants)


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


def _best_spot(bed: Bed, ring: Ring, *, free: bool) -> Spot | None:
    """The place that reaches least far down; crooked only where that saves paper."""
    best: tuple[tuple[int, ...], Spot] | None = None
    for rank, angle in enumerate(angles(ring) if free else QUARTERS):
        spot = bed.spot(shape(ring, angle))
        if spot is not None:
            crooked = CROOKED_CELLS if angle not in QUARTERS else 0
            score = (spot.bottom + crooked, spot.row, spot.right, rank)
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
