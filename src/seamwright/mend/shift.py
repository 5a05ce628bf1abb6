"""Where a place of the drawing goes when points of the block move.

Knows:  that what lies on a moved point moves with it, and what lies on a moved seam between two points goes along.
Leaves: which places there are (svgedit, seamsedit).
Units:  inches of the finished block.
"""

from __future__ import annotations

import math
from collections.abc import Sequence

from seamwright.block.model import Block
from seamwright.geometry import Point, along
from seamwright.mend.change import places_of
from seamwright.piecing.model import Mend


class Shift:
    """Moves places of a drawing as mends move the points of its block.

    Args:
        within: how far a drawn place may lie from the point or seam of the tidied block that it stands for.
    """

    def __init__(self, block: Block, mends: Sequence[Mend], within: float) -> None:
        self.block, self.within = block, max(within, 1e-6)
        self.new = places_of(block, mends)
        moved = [e for e in block.edges if e.start in self.new or e.end in self.new]
        near = [block.points[p] for e in moved for p in (e.start, e.end)]
        reach = self.within
        self._box = (
            min((x for x, _ in near), default=math.inf) - reach,
            min((y for _, y in near), default=math.inf) - reach,
            max((x for x, _ in near), default=-math.inf) + reach,
            max((y for _, y in near), default=-math.inf) + reach,
        )

    def of(self, place: Point) -> Point | None:
        """Where a place goes; None if it stays."""
        left, top, right, bottom = self._box
        if not (left <= place[0] <= right and top <= place[1] <= bottom):
            return None
        points = self.block.points
        nearest = min(range(len(points)), key=lambda n: math.dist(points[n], place))
        if math.dist(points[nearest], place) <= self.within:
            to = self.new.get(nearest)
            return to if to != points[nearest] else None
        return self._between(place)

    def _between(self, place: Point) -> Point | None:
        """Where a place on an edge goes: as far along it as before."""
        best: tuple[float, Point | None] = (self.within, None)
        for edge in self.block.edges:
            if edge.via:
                continue
            a, b = self.block.points[edge.start], self.block.points[edge.end]
            length = math.dist(a, b)
            share = min(max(along(place, a, b) / length, 0.0), 1.0)
            foot = (a[0] + share * (b[0] - a[0]), a[1] + share * (b[1] - a[1]))
            off = math.dist(place, foot)
            if off > best[0]:
                continue
            if edge.start in self.new or edge.end in self.new:
                c, d = self.new.get(edge.start, a), self.new.get(edge.end, b)
                to = (
                    place[0] + (1 - share) * (c[0] - a[0]) + share * (d[0] - b[0]),
                    place[1] + (1 - share) * (c[1] - a[1]) + share * (d[1] - b[1]),
                )
                best = (off, to)
            else:
                best = (off, None)
        return best[1]
