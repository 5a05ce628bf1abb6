"""Binding, backing and batting of a quilt.

Knows:  how many strips the binding takes, how the back is parted into panels so that the least is wasted.
Leaves: what shops sell (cutting.amounts), the top (cutting).
Units:  inches.
Method: common practice. The binding is as long as the quilt's edge and 12 in (30 cm) more for corners and ends;
        strips are joined on the diagonal, and each joint takes a strip's width. The back is larger than the top on
        all sides; panels are joined with seams of 1/2 in (1.5 cm), their selvedges cut off before, and run upright
        or level, whichever takes less fabric; what lies beyond the top is spare enough.
"""

from __future__ import annotations

import math

from seamwright.cutting import amounts
from seamwright.options import Units
from seamwright.quilt.cutmodel import BackingCut, BattingCut, BindingCut
from seamwright.quilt.longstrips import strips_for
from seamwright.quilt.model import Backing, Batting, Binding

BINDING_MORE_IN = {Units.INCH: 12.0, Units.METRIC: 30 / 2.54}
BACK_SEAM_IN = {Units.INCH: 0.5, Units.METRIC: 1.5 / 2.54}
BINDING_IN = {Units.INCH: 2.5, Units.METRIC: 6.5 / 2.54}
"""Width of a binding's strips where none is stated."""
OVER_IN = {Units.INCH: 4.0, Units.METRIC: 10 / 2.54}
"""Back and batting beyond the top on each side where nothing is stated."""
_HAIR = 1e-6


def binding_cut(
    binding: Binding, size: tuple[float, float], usable_in: float, spare: float, units: Units
) -> BindingCut:
    """The strips of a binding.

    Args:
        size: finished width and height of the quilt. usable_in: width of the fabric. spare: a share more is bought.
    """
    needed = 2 * sum(size) + BINDING_MORE_IN[units]
    width = BINDING_IN[units] if binding.width_in is None else binding.width_in
    number = strips_for(needed, usable_in, width)
    length = number * usable_in - (number - 1) * width
    bought = amounts.bought_in(number * width + amounts.STRAIGHTEN_IN[units], spare, units)
    return BindingCut(binding.fabric, width, usable_in, number, needed, length, bought)


def backing_cut(backing: Backing, size: tuple[float, float], usable_in: float, units: Units) -> BackingCut:
    """The panels of a back, upright or level; upright where both take as much."""
    over = OVER_IN[units] if backing.over_in is None else backing.over_in
    width, height = (side + 2 * over for side in size)
    seam = BACK_SEAM_IN[units]

    def cut(across: float, along: float, upright: bool) -> BackingCut:
        panels = strips_for(across, usable_in, 2 * seam)
        length = panels * along + amounts.STRAIGHTEN_IN[units]
        bought = amounts.sold(length, units)
        return BackingCut(
            backing.fabric, usable_in, width, height, over, panels, along, upright, seam, length, bought
        )

    ways = cut(width, height, True), cut(height, width, False)
    # What comes as one panel has no seam: of two such the shorter, as of two with seams.
    return min(ways, key=lambda way: (math.ceil(way.bought_in - _HAIR), way.panels, not way.upright))


def batting_cut(batting: Batting, size: tuple[float, float], units: Units) -> BattingCut:
    """Batting in one piece, larger than the top on all sides."""
    over = OVER_IN[units] if batting.over_in is None else batting.over_in
    return BattingCut(size[0] + 2 * over, size[1] + 2 * over, over)
