"""How large a sewn part is before it is sewn on: what to lay the ruler on.

Knows:  the unfinished shape of any part of a plan, the measures that tell it, how quilters say them.
Leaves: trim lines of single sections (foundation.trims), where measures are drawn (the figures).
Units:  inches, front view.
Method: the finished part grown by the allowance on all sides, corners mitred, less what the trim lines of its
        sections cut off its tips. A rectangle is told by its two sides; any other shape by its longest straight
        side and by its depth, how far it reaches from that side.
"""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from itertools import pairwise
from typing import TYPE_CHECKING

from seamwright.fabric.rulers import is_rectangle
from seamwright.geometry import Point, Ring, Segment, canonical_ring, foot, off_line
from seamwright.options import Units
from seamwright.piecing.model import Plan
from seamwright.units import say_length, say_size

if TYPE_CHECKING:
    from shapely.geometry import Polygon

MITRE_LIMIT = 14.0
"""In allowances; the trim lines say what is cut off a tip."""
STRAIGHT_IN = 1e-4
"""A corner nearer than this to the line of its neighbours is none; a thread is a hundred times as thick."""


@dataclass(frozen=True, slots=True)
class Measured:
    """An unfinished part and what is measured of it.

    Attributes:
        ring: round it, clockwise.
        is_rectangle: its sides are all there is to measure.
        side: the side measured first: of a rectangle one nearest to the horizontal, else the longest one.
        depth: from the foot on that side, or on its line, to the farthest point of the part.
    """

    ring: Ring
    is_rectangle: bool
    side: Segment
    depth: Segment

    @property
    def width_in(self) -> float:
        """Along the side measured first."""
        return math.dist(*self.side)

    @property
    def height_in(self) -> float:
        """Square to it."""
        return math.dist(*self.depth)

    def said(self, units: Units) -> str:
        """The measures as quilters write them."""
        if self.is_rectangle:
            return say_size(self.width_in, self.height_in, units, glyphs=True)
        width, height = (say_length(v, units, glyphs=True) for v in (self.width_in, self.height_in))
        return f"{width} on its longest side, {height} deep"


class Sizes:
    """The unfinished sizes of all parts of a plan with sections.

    Args:
        trims: trim outline of each section by name, front view.
    """

    def __init__(self, plan: Plan, trims: Mapping[str, Ring]) -> None:
        self.plan, self._trims = plan, trims
        self._sections: dict[str, tuple[str, ...]] = {s.name: (s.name,) for s in plan.sections}
        for join in plan.joins:
            self._sections[join.makes] = (*self._sections[join.first], *self._sections[join.second])
        self._patches = {section.name: section.patches for section in plan.sections}

    def sections(self, part: str) -> tuple[str, ...]:
        """Names of the sections of a part, itself a section or what a join makes."""
        return self._sections[part]

    def patches(self, part: str) -> tuple[int, ...]:
        """Patch numbers of a part."""
        return tuple(patch for name in self.sections(part) for patch in self._patches[name])

    def finished(self, part: str) -> Polygon:
        """The part as it shows in the block."""
        from shapely.geometry import Polygon

        from seamwright.block.rings import region_ring

        return Polygon(region_ring(self.plan.block, self.patches(part)))

    def unfinished(self, part: str) -> Measured:
        """The part with its allowance, and what is measured of it."""
        import shapely
        from shapely.geometry import Polygon

        allowance = self.plan.options.seam_allowance_in
        grown = self.finished(part).buffer(allowance, join_style="mitre", mitre_limit=MITRE_LIMIT)
        trimmed = shapely.union_all([Polygon(self._trims[name]) for name in self.sections(part)])
        area = max(shapely.get_parts(grown.intersection(trimmed)), key=lambda p: float(p.area))
        return measured(_ring(area), _ring(grown))


def _ring(area: Polygon) -> list[Point]:
    return [(float(x), float(y)) for x, y in area.exterior.coords[:-1]]


def measured(ring: Sequence[Point], untrimmed: Sequence[Point] = ()) -> Measured:
    """What is measured of an unfinished shape.

    Args:
        untrimmed: the same with its tips: a rectangle that has lost a corner is measured from side to side.

    >>> measured([(0, 0), (3, 0), (3, 2), (0, 2)]).said(Units.INCH)
    '3 x 2 in'
    """
    corners = shape = canonical_ring(ring, STRAIGHT_IN)
    if untrimmed and is_rectangle(whole := canonical_ring(untrimmed, STRAIGHT_IN)):
        corners = whole
    sides = list(pairwise((*corners, corners[0])))
    if is_rectangle(corners):
        side = min(sides, key=lambda s: (round(_steepness(s), 6), s[0][1] + s[1][1]))
    else:
        # Of sides about equally long the one nearest to the horizontal.
        longest = max(math.dist(*s) for s in sides)
        rivals = [s for s in sides if math.dist(*s) > longest - 1 / 32]
        side = min(rivals, key=lambda s: (round(_steepness(s), 6), -(s[0][1] + s[1][1])))
    far = max(corners, key=lambda p: round(abs(off_line(p, *side)), 6))
    return Measured(shape, is_rectangle(corners), side, (foot(far, *side), far))


def _steepness(side: Segment) -> float:
    (ax, ay), (bx, by) = side
    return abs(math.sin(math.atan2(by - ay, bx - ax)))
