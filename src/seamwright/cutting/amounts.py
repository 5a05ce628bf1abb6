"""What is bought: length from the bolt, fat quarters in its place, and what is left over.

Knows:  how wide fabric is, in which steps it is sold, what is lost before the first strip.
Leaves: strips themselves (strips).
Units:  inches.

Common practice: fabric is 42 in (110 cm) wide, and 40 in (105 cm) is counted, without selvedges; it is sold by the
eighth of a yard (10 cm). A fat quarter is 18 x 21 in (50 x 55 cm); half the counted width is counted of its longer
side. The cut edge is straightened before the first strip: 1 in (2.5 cm) is counted for it, for shops cut by hand
and threads run askew, and 1/2 in (1 cm) for a fat quarter.
"""

from __future__ import annotations

import math
from collections.abc import Sequence

from seamwright.cutting.fill import Fills, Kind, ways_of
from seamwright.options import Units

CM = 1 / 2.54
BOUGHT_WIDTH_IN = {Units.INCH: 42.0, Units.METRIC: 110 * CM}
"""From selvedge to selvedge."""
USABLE_IN = {Units.INCH: 40.0, Units.METRIC: 105 * CM}
"""What is counted of it; a fabric may state its own."""
STRAIGHTEN_IN = {Units.INCH: 1.0, Units.METRIC: 2.5 * CM}
"""Of the length, once a fabric."""
SOLD_BY_IN = {Units.INCH: 36 / 8, Units.METRIC: 10 * CM}
QUARTER_IN = {Units.INCH: (21.0, 18.0), Units.METRIC: (55 * CM, 50 * CM)}
"""A fat quarter, across the fabric and along its selvedge."""
QUARTER_USABLE_IN = {Units.INCH: (20.0, 17.5), Units.METRIC: (52.5 * CM, 49 * CM)}
"""What is counted of it."""
USEFUL_IN = {Units.INCH: 2.5, Units.METRIC: 6 * CM}
"""What is left over is told from this width on."""
TOLD = 3
"""So many rectangles left over are told of a fabric."""
_HAIR = 1e-9


def bought_in(length_in: float, spare: float, units: Units) -> float:
    """What to buy for strips and straightening that take so much length."""
    return sold(length_in * (1 + spare), units)


def sold(length_in: float, units: Units) -> float:
    """A length rounded up to what shops sell."""
    step = SOLD_BY_IN[units]
    return math.ceil(length_in / step - _HAIR) * step


def share_out(widths: Sequence[tuple[int, int]], room: int) -> list[tuple[int, tuple[tuple[int, int], ...]]]:
    """Strips parted among pieces of cloth: (how many pieces alike, (line of strips, how many of it) of each).

    The widest strip that is left leads, and the best fill goes with it.

    Args:
        widths: (width of a strip, how many) of each line, none wider than `room`.
    """
    kinds = [Kind(width, 1, count, False) for width, count in widths]
    ways = ways_of(kinds, room, 1)
    left = [count for _, count in widths]
    found: list[tuple[int, tuple[tuple[int, int], ...]]] = []
    while any(left):
        lead = max((n for n, count in enumerate(left) if count), key=lambda n: (widths[n][0], -n))
        without = [count - (n == lead) for n, count in enumerate(left)]
        fills = Fills(ways, without, [float(width) for width, _ in widths], room - widths[lead][0], 1)
        each = {lead: 1}
        for way, number in fills.fill(fills.within(1)[0]).items():
            each[way.kind] = each.get(way.kind, 0) + number
        times = min(left[n] // number for n, number in each.items())
        left = [count - each.get(n, 0) * times for n, count in enumerate(left)]
        found.append((times, tuple(sorted(each.items()))))
    return found


def quarters_bought(pieces: int, used: float, room: float, spare: float) -> int:
    """How many fat quarters to buy: those that are cut, and more until the spare is there.

    Args:
        pieces: how many are cut; used: what their strips take, all together, as a length or as an area; room: what
            one gives of it.
    """
    return max(pieces, math.ceil(used * (1 + spare) / room - _HAIR))


def quarter_side(strip_in: float, units: Units) -> str:
    """Along which side of a fat quarter strips of this length lie."""
    longer, shorter = QUARTER_USABLE_IN[units]
    return "longer" if abs(strip_in - longer) < abs(strip_in - shorter) else "shorter"


def useful(rectangles: Sequence[tuple[float, float]], units: Units) -> tuple[tuple[float, float], ...]:
    """Of rectangles left over those worth keeping, longer side first, the largest first, few."""
    kept = [(max(r), min(r)) for r in rectangles if min(r) >= USEFUL_IN[units] - _HAIR]
    return tuple(sorted(kept, key=lambda r: (-r[0] * r[1], -r[0]))[:TOLD])
