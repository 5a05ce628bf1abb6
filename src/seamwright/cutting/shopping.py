"""What to buy for several cutting lists at once: fabrics of one name are one.

Knows:  how lengths and fat quarters of several lists add up.
Leaves: each list (make), what shops sell (amounts).
Units:  inches.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from seamwright.cutting import amounts
from seamwright.cutting.model import Cutting, FabricCut
from seamwright.fabric.model import Fabric
from seamwright.options import Cloth


@dataclass(frozen=True, slots=True)
class Bought:
    """What to buy of one fabric, spare included.

    Attributes:
        fabric: None: the fabric of patches of which none was said.
        length_in: from the bolt, 0.0 for none.
        fat_quarters: beside it, 0 for none.
        instead: fat quarters that do in place of the length; None: a piece is too large, or none is bought.
    """

    fabric: Fabric | None
    length_in: float
    fat_quarters: int
    instead: int | None


def shopping(cuttings: Sequence[Cutting]) -> tuple[Bought, ...]:
    """One list for all, fabrics in order of appearance; () if some measure in inches and others in centimetres."""
    if len({cutting.plan.options.units for cutting in cuttings}) != 1:
        return ()
    found: dict[str | None, list[tuple[FabricCut, Cutting]]] = {}
    for cutting in cuttings:
        for cut in cutting.fabrics:
            found.setdefault(None if cut.fabric is None else cut.fabric.name, []).append((cut, cutting))
    return tuple(_bought(parts) for parts in found.values())


def bought_of(cut: FabricCut) -> Bought:
    """What to buy of a fabric that one list holds all of."""
    if cut.cloth is Cloth.FAT_QUARTERS:
        return Bought(cut.fabric, 0.0, cut.fat_quarters or 0, None)
    return Bought(cut.fabric, cut.bought_in if cut.strips else 0.0, 0, cut.fat_quarters)


def _bought(parts: Sequence[tuple[FabricCut, Cutting]]) -> Bought:
    units = parts[0][1].plan.options.units
    spare = max(cutting.options.spare for _, cutting in parts)
    bolt = [cut for cut, _ in parts if cut.cloth is Cloth.BOLT]
    quartered = [cut for cut, _ in parts if cut.cloth is Cloth.FAT_QUARTERS]
    # The cut edge is straightened once for all of them.
    edge = amounts.STRAIGHTEN_IN[units]
    strips = sum(cut.length_in - edge for cut in bolt if cut.strips)
    length = amounts.bought_in(strips + edge, spare, units) if strips else 0.0
    sheets = sum(quarter.count for cut in quartered for quarter in cut.quarters)
    # Strips lie along either side of a fat quarter, so what they take is added up as areas.
    used = sum(cut.length_in * cut.width_in for cut in quartered)
    number = amounts.quarters_bought(sheets, used, math.prod(amounts.QUARTER_USABLE_IN[units]), spare)
    others = [cut.fat_quarters for cut in bolt]
    instead = sum(n for n in others if n is not None) if length and None not in others else None
    return Bought(parts[0][0].fabric, length, number, instead)
