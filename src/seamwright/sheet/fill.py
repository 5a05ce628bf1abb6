"""One sheet filled: prints in the order given, furniture in what they leave.

Knows:  the angles a print may lie at, the arrangements of furniture it is tried with, how many prints were tried.
Leaves: which prints are offered to a sheet (pack), cells and places (nest), furniture (furnish).
Units:  points on the sheet.
Method: each print at the place that keeps the used part of the sheet smallest. What furniture needs is kept free
        beforehand, in several arrangements; where it still finds no room, the prints laid last come off again.
Limits: a heuristic: another order or other angles may get more on the sheet, and `pack` tries some.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from enum import Enum
from functools import lru_cache
from typing import Protocol

from seamwright.geometry import Affine, Ring, moved, signed_area
from seamwright.sheet.furnish import Frame, Wanted, furnish, panels
from seamwright.sheet.furniture import Item
from seamwright.sheet.nest import FINER, Bed, Corner, Memory, Shape, Spot, angles, coarser, goes_into, shape

UPRIGHT, QUARTERS = (0.0,), (0.0, 90.0, 180.0, 270.0)
CROOKED_CELLS = 4 * FINER
"""Paper worth spending (in cells) to keep a print square to the sheet: sheets then look ordered and read easily."""


class Turned(Enum):
    """Which angles a print may lie at."""

    UPRIGHT = "upright"
    QUARTERS = "quarters"
    FREE = "free"


MOST_SLANTS = 16
"""Angles at which a print is tried that lies only slantwise on the sheet."""


MOST_BESIDE = 16
"""Angles at which a print is tried along its neighbours."""


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

    @property
    def numbers(self) -> frozenset[int]:
        """Which prints lie on it."""
        return frozenset(one.number for one in self.laid)


class Wants(Protocol):
    """From the numbers of the prints on a sheet to the furniture that it needs."""

    def __call__(self, numbers: Sequence[int], *, bare: bool = False) -> Wanted:
        """Bare: the words of squares and keys go to the foot."""


@dataclass(frozen=True, slots=True)
class Way:
    """One way of filling sheets.

    Attributes:
        turned: the angles allowed.
        corners: where each print is laid, in turn: TOP_LEFT, row by row from the top, and so on.
        turns: which of equally good angles is taken, for each print: how far its list of angles is rotated.
        arrangements: numbers of the arrangements of furniture to try, from the most orderly one on; None: all.
        beside: prints are tried too at angles that lay them along those that lie there already.
        askew: further angles that all prints are tried at.
        crooked: paper worth spending to keep a print square to the sheet, in cells.
    """

    turned: Turned = Turned.FREE
    corners: tuple[Corner, ...] = (Corner.TOP_LEFT,)
    turns: tuple[int, ...] = ()
    arrangements: tuple[int, ...] | None = None
    beside: bool = False
    askew: tuple[float, ...] = ()
    crooked: int = CROOKED_CELLS

    def turn(self, number: int) -> int:
        """How far the angles of a print are rotated."""
        return self.turns[number % len(self.turns)] if self.turns else 0


class Table:
    """Where sheets are filled: the prints, the paper, and what has been tried so far.

    Args:
        rings: trim outlines in points, clockwise, each in its own coordinates.
        wants: the furniture of a sheet; None: sheets carry none.
        upright: prints keep the direction of the block.
        slanting: prints too long to lie along the sheet may lie slantwise.

    Attributes:
        steps: prints tried on a sheet, whatever became of them.
    """

    def __init__(
        self,
        rings: Sequence[Ring],
        frame: Frame,
        wants: Wants | None,
        *,
        upright: bool = False,
        slanting: bool = True,
    ) -> None:
        self.rings, self.frame, self.wants = rings, frame, wants
        self.upright, self.slanting = upright, slanting
        self.areas = [abs(signed_area(ring)) for ring in rings]
        self.steps = 0
        self._known: dict[tuple[frozenset[int], bool], Wanted] = {}
        self._slants: dict[Ring, tuple[float, ...]] = {}
        memory: Memory = {}
        self._empty = Bed(frame.left, frame.top, frame.right, frame.bottom, memory, FINER)
        self._whole = Bed(frame.left, frame.top, frame.right, frame.bottom)

    def area(self, sheet: Filled) -> float:
        """What its prints cover."""
        return sum(self.areas[one.number] for one in sheet.laid)

    def sheet(self, numbers: Sequence[int], way: Way) -> Filled | None:
        """As many of the prints as go on, first come first served; at the least the first one alone.

        Args:
            numbers: of the prints, in the order in which they are tried.

        Returns:
            None if the first print fits on no sheet.
        """
        first = numbers[:1]
        return self._full(numbers, way) or self._full(first, Way()) or self.bare(first[0])

    def together(self, numbers: Sequence[int], way: Way) -> Filled | None:
        """All of the prints on one sheet, or None."""
        filled = self._full(numbers, way, whole=True)
        return filled if filled is not None and len(filled.laid) == len(numbers) else None

    def bare(self, number: int) -> Filled | None:
        """A print that leaves room for little else, alone on its sheet."""
        ring = self.rings[number]
        for angle in self._angles(ring, Turned.FREE):
            spot = self._empty.spot(_fine(ring, angle))
            if spot is not None:
                filled = self._furnished([(number, spot)], bare=True)
                if filled is not None:
                    return filled
        return None

    def _wanted(self, numbers: Sequence[int], *, bare: bool = False) -> Wanted:
        assert self.wants is not None
        key = (frozenset(numbers), bare)
        if key not in self._known:
            self._known[key] = self.wants(numbers, bare=bare)
        return self._known[key]

    def _angles(self, ring: Ring, turned: Turned) -> tuple[float, ...]:
        if self.upright or turned is Turned.UPRIGHT:
            return UPRIGHT
        return QUARTERS if turned is Turned.QUARTERS else self._free(ring)

    def _free(self, ring: Ring) -> tuple[float, ...]:
        """Angles at which a print goes on a sheet: along its sides, or slantwise if it is too long for that."""
        if ring not in self._slants:
            width, height = self.frame.width, self.frame.bottom - self.frame.top
            along = angles(ring)
            room = [a for a in along if goes_into(ring, a, width, height)]
            if self.slanting and len(room) < len(along):
                slants = [float(a) for a in range(0, 360, 2) if goes_into(ring, float(a), width, height)]
                step = max(1, math.ceil(len(slants) / MOST_SLANTS))
                room += [a for a in slants[::step] if a not in room]
            self._slants[ring] = tuple(room)
        return self._slants[ring]

    def _full(self, numbers: Sequence[int], way: Way, *, whole: bool = False) -> Filled | None:
        """One sheet with as much of the prints on it as any arrangement of furniture allows."""
        best: Filled | None = None
        most = 0.0
        blocked = panels(self.frame, self._wanted(numbers[:1]).row) if self.wants else [[]]
        for arrangement in way.arrangements or range(len(blocked)):
            bed = self._empty.copy()
            for box in blocked[arrangement % len(blocked)]:
                bed.block(box)
            spots = self._spots(bed, numbers, way)
            area = sum(self.areas[n] for n, _ in spots)
            if area <= most * (1 + 1e-9) or (whole and len(spots) < len(numbers)):
                continue
            filled = self._furnished(spots)
            if filled is not None and self.area(filled) > most * (1 + 1e-9):
                best, most = filled, self.area(filled)
            if filled is not None and len(filled.laid) == len(numbers):
                break
        return best

    def _spots(self, bed: Bed, numbers: Sequence[int], way: Way) -> list[tuple[int, Spot]]:
        """Prints and their places on a bed, which is filled with them."""
        spots: list[tuple[int, Spot]] = []
        lies: dict[int, None] = {}
        hopeless: set[object] = set()
        for number in numbers:
            ring = self.rings[number]
            allowed = self._angles(ring, way.turned)
            like = _likeness(ring) if way.turned is Turned.FREE and not self.upright else ring
            if like in hopeless:
                continue
            self.steps += 1
            if way.askew and not self.upright:
                width, height = self.frame.width, self.frame.bottom - self.frame.top
                allowed = (*allowed, *(a for a in way.askew if goes_into(ring, a, width, height)))
            if way.beside:
                allowed = (*allowed, *(a for a in self._beside(ring, lies) if a not in allowed))
            spot = _best_spot(bed, ring, allowed, way, number)
            if spot is not None:
                bed.take(spot)
                spots.append((number, spot))
                lies.update(dict.fromkeys(round(side + spot.shape.angle_deg) % 360 for side in _long_sides(ring)))
            else:
                # A bed only fills: what found no room once, or its like, finds none later.
                hopeless.add(like)
        return spots

    def _beside(self, ring: Ring, lies: Iterable[int]) -> list[float]:
        """Angles, in whole degrees, that lay a side of a print along one of those that lie there."""
        width, height = self.frame.width, self.frame.bottom - self.frame.top
        found = dict.fromkeys(float(round(lie + 180 - side) % 360) for lie in lies for side in _long_sides(ring))
        return [a for a in found if goes_into(ring, a, width, height)][:MOST_BESIDE]

    def _furnished(self, spots: Sequence[tuple[int, Spot]], *, bare: bool = False) -> Filled | None:
        """The sheet with its furniture; the prints laid last are taken off again until it finds room."""
        for count in range(len(spots), 0, -1):
            full = self._whole.copy()
            laid = []
            for number, spot in spots[:count]:
                if self.wants is not None:
                    full.take(coarser(spot, FINER))
                laid.append(Laid(number, self._empty.affine(spot), spot.shape.angle_deg))
            if self.wants is None:
                return Filled(tuple(laid), ())
            trims = [tuple(moved(one.affine, p) for p in self.rings[one.number]) for one in laid]
            wanted = self._wanted([one.number for one in laid], bare=bare)
            furniture = furnish(full, self.frame, trims, wanted, bare=bare)
            if furniture is not None:
                return Filled(tuple(laid), furniture)
        return None


def _fine(ring: Ring, angle: float) -> Shape:
    """A print with its air in the cells that prints are laid by."""
    return shape(ring, angle, finer=FINER)


def _best_spot(bed: Bed, ring: Ring, allowed: Sequence[float], way: Way, print_: int) -> Spot | None:
    """The place that reaches least far from the side filled first; crooked only where that saves paper."""
    best: tuple[tuple[int, ...], Spot] | None = None
    corner, turn = way.corners[print_ % len(way.corners)], way.turn(print_)
    for number, angle in enumerate(allowed):
        spot = bed.spot(_fine(ring, angle), corner)
        if spot is not None:
            crooked = way.crooked if angle not in QUARTERS else 0
            score = (*_reach(bed, spot, corner, crooked), (number - turn) % 4, number)
            if best is None or score < best[0]:
                best = (score, spot)
    return best[1] if best else None


def _reach(bed: Bed, spot: Spot, corner: Corner, crooked: int) -> tuple[int, int, int]:
    """How far a place reaches, how far it begins from the side filled first, how far it reaches beside that."""
    if corner is Corner.LEFT_TOP:
        return spot.right + crooked, spot.column, spot.bottom
    if corner is Corner.TOP_LEFT:
        return spot.bottom + crooked, spot.row, spot.right
    beside = spot.right if corner is Corner.BOTTOM_LEFT else bed.columns - spot.column
    return bed.rows - spot.row + crooked, bed.rows - spot.bottom, beside


@lru_cache(maxsize=4096)
def _long_sides(ring: Ring) -> tuple[float, ...]:
    """Directions of the three longest sides, degrees clockwise as seen."""
    sides = sorted(zip(ring, [*ring[1:], ring[0]], strict=True), key=lambda s: -round(math.dist(*s), 6))
    return tuple(math.degrees(math.atan2(b[1] - a[1], b[0] - a[0])) for a, b in sides[:3])


@lru_cache(maxsize=4096)
def _likeness(ring: Ring) -> tuple[tuple[float, float], ...]:
    """The same for rings that differ by a rotation and a shift only: sides and short diagonals in order."""
    after = [*ring[1:], *ring[:2]]
    sides = [
        (round(math.dist(a, b), 1), round(math.dist(a, c), 1))
        for a, b, c in zip(ring, after, after[1:], strict=False)
    ]
    return min(tuple(sides[k:] + sides[:k]) for k in range(len(sides)))
