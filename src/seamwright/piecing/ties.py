"""Which of several plans with the fewest sections: the second pass.

Knows:  the cost of a plan beyond its number of sections, as a tuple of sums.
Leaves: the fewest itself (fewest).
Method: only cuts that keep the fewest are looked at, so few regions are. Every entry of the cost is a sum over
        sections or over joins that depends on one region and one cut alone; so the least tuple of a region is the
        least over its cuts of the sum of both sides' least tuples, exactly. Here a region is its patches.

The entries, first to last:
    plain pieces with a tip under 45 degrees (without paper they stretch);
    foundations of two or more patches;
    plain pieces that are rectangles or half-squares on grain, the more the better;
    tips under 45 degrees that lie on a join (paper is there to keep these inside a foundation);
    length of the joins, in 1/65536 in: whole numbers add without rounding.
"""

from __future__ import annotations

import math

from seamwright.block.model import Block
from seamwright.piecing.cuts import Cut, Tree
from seamwright.piecing.fewest import Search
from seamwright.piecing.part import Part, Region, Run, bits
from seamwright.piecing.shapes import is_quick_shape, tips

Cost = tuple[int, int, int, int, int]
LENGTH_UNIT_IN = 1 / 65536
"""Dyadic sizes lie on whole units, not on the edge of rounding."""


class Ties:
    """The least cost of regions of one part, each found once, and the cut that gives it."""

    def __init__(self, part: Part, search: Search, facts: Facts) -> None:
        self.part, self.search, self.facts = part, search, facts
        self.known: dict[int, tuple[Cost, Run | None]] = {}
        self._fan_bits: dict[int, int] = {}

    def best(self, region: Region) -> Cost:
        """The least cost of a region among its plans with the fewest sections.

        Raises:
            OutOfSteps: the search's budget is spent.
        """
        found = self.known.get(region.key)
        if found is not None:
            return found[0]
        kept = self.search.keeping(region)
        if not kept:
            cost = self.section_cost(region.area)
            self.known[region.key] = (cost, None)
            return cost
        self.search.budget.spend()
        choices = []
        for run in kept:
            one = self.best(self.search.side(run, region, left=True))
            two = self.best(self.search.side(run, region, left=False))
            cut = self.search.cut(run, region)
            on_join, length = self.join_cost(cut, region.area)
            total = (
                one[0] + two[0],
                one[1] + two[1],
                one[2] + two[2],
                one[3] + two[3] + on_join,
                one[4] + two[4] + length,
            )
            choices.append((total, cut.rank(self.facts.block), run))
        cost, _, chosen = min(choices, key=lambda choice: choice[:2])
        self.known[region.key] = (cost, chosen)
        return cost

    def section_cost(self, area: int) -> Cost:
        """Cost of a section."""
        if area & (area - 1):
            return (0, 1, 0, 0, 0)
        patch = self.part.patches[area.bit_length() - 1]
        return (self.facts.sharp[patch], 0, -self.facts.quick[patch], 0, 0)

    def join_cost(self, cut: Cut, area: int) -> tuple[int, int]:
        """Tips that come to lie on a join by this cut, and its length.

        A tip is counted with the first join that its point lies on: then all patches round the point are still in
        the region. Afterwards they never are again; so this is a sum.
        """
        on_join = 0
        for point in cut.points(self.facts.block):
            count = self.facts.tips_at.get(point)
            if count:
                fan = self._fan(point)
                if fan & area == fan:
                    on_join += count
        return on_join, sum(self.facts.lengths[edge] for edge in cut.edges(self.facts.block))

    def tree(self, region: Region) -> Tree:
        """The plan of a region whose best cost is known."""
        patches = tuple(self.part.patches[bit.bit_length() - 1] for bit in bits(region.area))
        _, run = self.known[region.key]
        if run is None:
            return Tree(patches)
        sides = (self.search.side(run, region, left=True), self.search.side(run, region, left=False))
        return Tree(patches, self.search.cut(run, region), tuple(self.tree(side) for side in sides))

    def _fan(self, point: int) -> int:
        """Area bits of the patches round a point; one more bit if some lie in another part."""
        fan = self._fan_bits.get(point)
        if fan is None:
            other = 1 << len(self.part.patches)
            fan = 0
            for patch in self.part.seams.fans[point]:
                fan |= self.part.patch_bit.get(patch, other)
            self._fan_bits[point] = fan
        return fan


class Facts:
    """What costs are made of, once for a block.

    Attributes:
        sharp, quick: for each patch, 1 if it has a tip under 45 degrees, or is quick to cut with a ruler; else 0.
        tips_at: number of tips under 45 degrees at each point that has any.
        lengths: length of each edge in whole units.
    """

    def __init__(self, block: Block) -> None:
        self.block = block
        self.tips_at: dict[int, int] = {}
        self.sharp, self.quick = [0] * len(block.patches), [0] * len(block.patches)
        for patch in range(len(block.patches)):
            for point in tips(block, patch):
                self.tips_at[point] = self.tips_at.get(point, 0) + 1
                self.sharp[patch] = 1
            self.quick[patch] = int(is_quick_shape(block, patch))
        self.lengths = [
            round(math.dist(block.points[edge.start], block.points[edge.end]) / LENGTH_UNIT_IN)
            for edge in block.edges
        ]
