"""Which foundations share a sheet, and where each lies.

Knows:  the order in which prints are tried, which sheets are taken apart and filled anew, when to stop.
Leaves: how one sheet is filled (fill), cells and places (nest), furniture (furnish), tiles of what is too large
        (tiling).
Units:  points on the sheet.
Method: prints in order of size, sheet by sheet (first fit, decreasing), upright, by quarter turns, at any angle.
        Then a few sheets at a time are taken apart and their prints laid again, in orders, at angles, from corners
        drawn from fixed seeds; what needs fewer sheets, or leaves one of them emptier, is kept. At last each sheet
        is laid once more as orderly as its prints allow.
Limits: a heuristic: another packing may need a sheet fewer.
"""

from __future__ import annotations

import itertools
import math
import random
from collections.abc import Sequence
from dataclasses import replace

from shapely.geometry import Polygon

from seamwright.geometry import Ring, bounds, signed_area
from seamwright.options import DEFAULT_EFFORT
from seamwright.sheet.fill import CROOKED_CELLS, QUARTERS, UPRIGHT, Filled, Laid, Table, Turned, Wants, Way
from seamwright.sheet.furnish import Frame, Wanted
from seamwright.sheet.gauges import FIVE_CM_PT
from seamwright.sheet.nest import AIR_PT, Corner

__all__ = ["Filled", "Laid", "Wants", "fits", "least_sheets", "pack"]

Sheets = tuple[Filled, ...]
TRIES = 4
"""Ways in which a sheet is filled anew before the fullest is taken."""


def pack(
    rings: Sequence[Ring],
    frame: Frame,
    wants: Wants | None,
    effort: int = DEFAULT_EFFORT,
    *,
    upright: bool = False,
    enough: int = 0,
) -> Sheets | None:
    """All prints on few sheets, or None if one of them fits on no sheet.

    Args:
        rings: trim outlines in points, clockwise, each in its own coordinates.
        wants: the furniture of a sheet; None: sheets carry none.
        effort: how often each print is tried on a sheet, on average, before the best way found is taken.
        upright: prints keep the direction of the block.
        enough: so few sheets that no better way is looked for.
    """
    if not rings:
        return ()
    # Which print was named first must not decide how many sheets are needed.
    order = sorted(range(len(rings)), key=lambda n: (-_area(rings[n]), _rounded(rings[n]), n))
    told = wants and _renumbered(wants, order)
    table = Table([rings[n] for n in order], frame, told, upright=upright)
    least = max(enough, least_sheets(rings, frame, furniture=wants is not None))
    best = _plain(table, least)
    if best is None:
        return None
    best = _orderly(table, _again(table, best, least, effort * len(rings)))
    return _in_order(
        [Filled(tuple(replace(one, number=order[one.number]) for one in s.laid), s.furniture) for s in best]
    )


def _area(ring: Ring) -> float:
    return round(abs(signed_area(ring)), 3)


def _rounded(ring: Ring) -> Ring:
    return tuple((round(x, 3), round(y, 3)) for x, y in ring)


def _renumbered(wants: Wants, order: Sequence[int]) -> Wants:
    """The same furniture for prints that are called otherwise here."""

    def told(numbers: Sequence[int], *, bare: bool = False) -> Wanted:
        return wants([order[n] for n in numbers], bare=bare)

    return told


def fits(ring: Ring, frame: Frame, wants: Wants, *, bare: bool = False, upright: bool = False) -> bool:
    """Whether a print with a side along the sheet finds room alone (bare: with as little furniture as can be)."""
    table = Table([ring], frame, wants, upright=upright, slanting=False)
    return (table.bare(0) if bare else table.together([0], Way())) is not None


def least_sheets(rings: Sequence[Ring], frame: Frame, *, furniture: bool = True) -> int:
    """No packing needs fewer sheets: areas with their air do not overlap, nor with that of the check squares."""
    if len(rings) == 1:
        return 1
    area = sum(Polygon(ring).buffer(AIR_PT, quad_segs=4).area for ring in rings)
    sheet = (frame.width + 2 * AIR_PT) * (frame.bottom - frame.top + 2 * AIR_PT)
    squares = (FIVE_CM_PT + 2 * AIR_PT) ** 2 if furniture else 0.0
    return math.ceil(area / (sheet - squares))


def _plain(table: Table, least: int) -> Sheets | None:
    """The plain ways: upright before lying before crooked."""
    best: tuple[tuple[int, ...], Sheets] | None = None
    for turned in (Turned.UPRIGHT,) if table.upright else Turned:
        for order in _orders(table.rings):
            sheets = _sheets(table, order, Way(turned, beside=turned is Turned.FREE), len(order))
            if sheets is None:
                return None
            score = (len(sheets), *_crookedness(sheets))
            if best is None or score < best[0]:
                best = (score, sheets)
        if best is not None and len(best[1]) <= least:
            break
    return best[1] if best else None


def _orderly(table: Table, sheets: Sheets) -> Sheets:
    """Each sheet with the same prints less crooked, where they go on it so."""
    found = []
    for sheet in sheets:
        order = sorted(sheet.numbers)
        better = [sheet]
        for turned in Turned:
            again = table.together(order, Way(turned))
            if again is not None:
                better.append(again)
        found.append(min(better, key=lambda one: _crookedness([one])))
    return tuple(found)


def _crookedness(sheets: Sequence[Filled]) -> tuple[int, int]:
    """How many prints lie crooked, and how many not upright."""
    turned = [laid.angle_deg for sheet in sheets for laid in sheet.laid]
    crooked, lying = (sum(angle not in square for angle in turned) for square in (QUARTERS, UPRIGHT))
    return crooked, lying


def _again(table: Table, sheets: Sheets, least: int, steps: int) -> Sheets:
    """Sheets taken apart and filled anew, a few at a time, until the steps are spent or no fewer are possible."""
    now = list(sheets)
    for turn in itertools.count():
        if len(now) <= least or table.steps >= steps:
            break
        chance = random.Random(turn)
        apart = _some(table, now, chance)
        old = [now[k] for k in apart]
        new = _filled_anew(table, sorted(n for sheet in old for n in sheet.numbers), len(old), chance)
        if new is not None and (len(new), -_unevenness(table, new)) <= (len(old), -_unevenness(table, old)):
            now = [sheet for k, sheet in enumerate(now) if k not in apart] + list(new)
    return tuple(now)


def _filled_anew(table: Table, numbers: Sequence[int], most: int, chance: random.Random) -> Sheets | None:
    """Prints on no more sheets than asked for, the fullest of a few tries each, or None."""
    sheets: list[Filled] = []
    left = list(numbers)
    while left:
        if len(sheets) == most:
            return None
        fullest: Filled | None = None
        for _ in range(TRIES if most - len(sheets) > 1 else 1):
            # Large before small still holds, but prints of like size change places.
            size = {n: table.areas[n] * chance.uniform(0.5, 1.5) for n in left}
            filled = table.sheet(sorted(left, key=lambda n, of=size: (-of[n], n)), _by_chance(chance))  # type: ignore[misc]
            if filled is not None and (fullest is None or table.area(filled) > table.area(fullest)):
                fullest = filled
            if filled is not None and len(filled.laid) == len(left):
                break
        if fullest is None:
            return None
        sheets.append(fullest)
        left = [n for n in left if n not in fullest.numbers]
    return tuple(sheets)


def _by_chance(chance: random.Random) -> Way:
    return Way(
        chance.choice((Turned.FREE, Turned.FREE, Turned.QUARTERS)),
        _corners(chance),
        tuple(chance.randrange(4) for _ in range(8)),
        chance.choice(((3,), (2, 3), (1, 3))),
        beside=chance.random() < 0.6,
        askew=tuple(float(a) for a in chance.sample(range(0, 360, 5), 12)) if chance.random() < 0.4 else (),
        crooked=chance.choice((0, CROOKED_CELLS)),
    )


def _corners(chance: random.Random) -> tuple[Corner, ...]:
    """One corner for all prints, or one for each, which leaves gaps in the middle for long thin ones."""
    if chance.random() < 0.5:
        return (chance.choice((Corner.TOP_LEFT, Corner.LEFT_TOP)),)
    return tuple(chance.choice(tuple(Corner)) for _ in range(8))


def _some(table: Table, sheets: Sequence[Filled], chance: random.Random) -> list[int]:
    """Two to four sheets, the emptiest one mostly among them."""
    count = min(len(sheets), chance.choice((2, 2, 2, 3, 3, 4)))
    if count < 2 or chance.random() < 0.3:
        return sorted(chance.sample(range(len(sheets)), count))
    emptiest = min(range(len(sheets)), key=lambda k: table.area(sheets[k]))
    others = [k for k in range(len(sheets)) if k != emptiest]
    return sorted([emptiest, *chance.sample(others, count - 1)])


def _unevenness(table: Table, sheets: Sequence[Filled]) -> float:
    """Larger the more some sheets are full and others empty: the way to a sheet fewer."""
    return round(sum(table.area(sheet) ** 2 for sheet in sheets), 3)


def _in_order(sheets: Sequence[Filled]) -> Sheets:
    """Sheets by the first print on each, and the prints of each sheet in the order given."""
    sorted_ = [Filled(tuple(sorted(s.laid, key=lambda one: one.number)), s.furniture) for s in sheets]
    return tuple(sorted(sorted_, key=lambda s: s.laid[0].number))


def _orders(rings: Sequence[Ring]) -> tuple[tuple[int, ...], tuple[int, ...]]:
    """Largest first, by area (as they come here) and by longest side of the box."""

    def side(number: int) -> float:
        left, top, right, bottom = bounds(rings[number])
        return -round(max(right - left, bottom - top), 3)

    numbers = tuple(range(len(rings)))
    return numbers, tuple(sorted(numbers, key=lambda n: (side(n), n)))


def _sheets(table: Table, order: Sequence[int], way: Way, most: int) -> Sheets | None:
    """Sheet after sheet; None if more than `most` are needed or a print fits on none."""
    sheets: list[Filled] = []
    left = list(order)
    while left:
        if len(sheets) == most:
            return None
        filled = table.sheet(left, way)
        if filled is None:
            return None
        sheets.append(filled)
        left = [number for number in left if number not in filled.numbers]
    return tuple(sheets)
