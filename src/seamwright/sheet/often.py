"""Many prints that come again and again on few sheets: a way to fill some is found once, and repeated.

Knows:  which prints are equal, how a few sheets stand for all.
Leaves: which prints share a sheet, and where each lies (pack).
Units:  points on the sheet.
Method: samples that have of every print as large a share as there is of it are packed; the sheets of the one that
        fills them best are repeated as often as there are prints for them, the emptiest left out if it is far
        emptier than the rest. So on with what is left, until that is few enough to be packed as it is: 400 blocks
        take little longer than ten.
Limits: a heuristic, as packing is; it may need a few sheets more than packing all at once would.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import replace

from seamwright.geometry import Ring, signed_area
from seamwright.options import DEFAULT_EFFORT
from seamwright.sheet.furnish import Frame, Wanted
from seamwright.sheet.pack import Filled, Wants, pack

MANY = 60
"""So many prints are packed as they are."""
SAMPLES = (12, 24, 36)
"""So many prints stand for all, of every kind one at least; which sample fills its sheets best is tried."""
FAR_EMPTIER = 0.85
"""A sheet of a sample that holds a smaller share of what its sheets hold on average is not repeated."""


def pack_often(
    kinds: Sequence[int],
    rings: Sequence[Ring],
    frame: Frame,
    wants: Wants,
    effort: int = DEFAULT_EFFORT,
    *,
    upright: bool = False,
    enough: int = 0,
) -> tuple[Filled, ...] | None:
    """As `pack`, for prints of which many are equal.

    Args:
        kinds: a number for each print, the same for equal ones: those may stand for each other on any sheet.
    """
    left: dict[int, list[int]] = {}
    for number, kind in enumerate(kinds):
        left.setdefault(kind, []).append(number)

    def packed(some: Sequence[int], enough: int = 0) -> tuple[Filled, ...] | None:
        def told(numbers: Sequence[int], *, bare: bool = False) -> Wanted:
            return wants([some[n] for n in numbers], bare=bare)

        sheets = pack([rings[n] for n in some], frame, told, effort, upright=upright, enough=enough)
        return sheets and tuple(_renumbered(sheet, some) for sheet in sheets)

    if len(rings) <= MANY:
        return packed(range(len(rings)), enough)
    areas = [abs(signed_area(ring)) for ring in rings]
    sheets: list[Filled] = []
    while (many := sum(map(len, left.values()))) > MANY:
        fewest = math.gcd(*map(len, left.values()))
        shares = [[-(-size * len(some) // many) for some in left.values()] for size in SAMPLES]
        if many // fewest <= max(SAMPLES):
            # Prints of one block by themselves: if they fill sheets as well, that is the handier way.
            shares.insert(0, [len(some) // fewest for some in left.values()])
        ways = []
        for share in shares:
            found = packed(sorted(n for some, of in zip(left.values(), share, strict=True) for n in some[:of]))
            if found is None:
                return None
            ways.append(_worth_repeating(found, areas))
        kept = max(ways, key=lambda sheets: round(_area(sheets, areas) / len(sheets), 3))
        used = [kinds[n] for sheet in kept for n in sheet.numbers]
        for _ in range(min(len(left[kind]) // used.count(kind) for kind in set(used))):
            sheets += [_renumbered(sheet, {n: left[kinds[n]].pop(0) for n in sheet.numbers}) for sheet in kept]
        left = {kind: some for kind, some in left.items() if some}
    rest = packed(sorted(n for some in left.values() for n in some))
    if rest is None:
        return None
    return alike_together([*sheets, *rest], kinds)


def _renumbered(sheet: Filled, numbers: Sequence[int] | dict[int, int]) -> Filled:
    """The same sheet of other prints, in the order of their numbers."""
    laid = sorted((replace(one, number=numbers[one.number]) for one in sheet.laid), key=lambda one: one.number)
    return Filled(tuple(laid), sheet.furniture)


def _worth_repeating(sheets: Sequence[Filled], areas: Sequence[float]) -> list[Filled]:
    held = [_area([sheet], areas) for sheet in sheets]
    emptiest = min(range(len(sheets)), key=held.__getitem__)
    if len(sheets) > 1 and held[emptiest] < FAR_EMPTIER * sum(held) / len(held):
        return [sheet for place, sheet in enumerate(sheets) if place != emptiest]
    return [*sheets]


def _area(sheets: Sequence[Filled], areas: Sequence[float]) -> float:
    """Of the prints on sheets."""
    return sum(areas[n] for sheet in sheets for n in sorted(sheet.numbers))


def alike_together(sheets: Sequence[Filled], kinds: Sequence[int]) -> tuple[Filled, ...]:
    """The sheets in an order in which those that hold the same follow each other, first those with the first print.

    Args:
        kinds: as for `pack_often`.
    """
    order: dict[tuple[int, ...], int] = {}
    sheets = sorted(sheets, key=lambda sheet: sheet.laid[0].number)
    holds = [tuple(sorted(kinds[n] for n in sheet.numbers)) for sheet in sheets]
    for what in holds:
        order.setdefault(what, len(order))
    return tuple(sheets[i] for i in sorted(range(len(sheets)), key=lambda i: (order[holds[i]], i)))
