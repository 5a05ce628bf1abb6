"""Which regions of a block are units that a ruler cuts, which cuts part them off, and how a unit is sewn.

Knows:  the units among a block's regions, the cuts that have one on a side, the order in which a unit's own seams
        are sewn.
Leaves: what a unit is (fabric.units), which of them are taken off (rotary), what the rest needs (divide).
Method: a cut is a run of one seam, straight, inside the region, its ends on the region's border. A side is flooded
        from one patch beside the run; it is given up as soon as it meets a patch that no ruler cuts. So blocks
        without such patches cost nothing. A unit of rectangles only is sewn as any region is, with the fewest
        sections; one with triangles by its cells: each smallest unit is a section, for a triangle is sewn to its
        other half before anything is sewn to either.
Limits: units of two patches or more. One patch off the paper saves no paper.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

from seamwright.fabric.rulers import equal_legs, is_rectangle, keeps_print, plain_grain_deg, ruler_cut
from seamwright.fabric.units import GRID, Recognised, recognise
from seamwright.geometry import Ring, canonical_ring
from seamwright.options import Fit, PlanOptions
from seamwright.piecing.balance import balanced
from seamwright.piecing.budget import Budget
from seamwright.piecing.cuts import Cut, Tree
from seamwright.piecing.divide import Portion, trees_within
from seamwright.piecing.facts import Facts
from seamwright.piecing.limits import Limits
from seamwright.piecing.seammap import SeamMap
from seamwright.piecing.shapes import outer_grain_deg

PATCHES_A_STEP = 32
"""Flooding so many patches takes as long as looking at one region."""

Region = frozenset[int]


@dataclass(frozen=True, slots=True)
class Parted:
    """A cut of a region that parts a unit off.

    Attributes:
        unit: its patches. made: what they make.
    """

    cut: Cut
    unit: Region
    made: Recognised


class UnitCuts:
    """The units of one block."""

    def __init__(self, seams: SeamMap, facts: Facts, options: PlanOptions, budget: Budget) -> None:
        """`budget`: steps of looking; when they are out, no more units are found."""
        self.seams, self.facts, self.budget = seams, facts, budget
        self.allowance_in, self.units = options.seam_allowance_in, options.units
        self.limits = Limits(seams, replace(options, fit=Fit.NONE))
        block = seams.block
        directions = {fabric.name: fabric.direction_deg for fabric in block.fabrics}
        self._rings: list[Ring] = [canonical_ring(ring) for ring in seams.rings]
        self._triangles = [equal_legs(ring) is not None for ring in self._rings]
        self._quick = [
            not patch.holes
            and not block.parts_of(number)
            and not any(block.edges[edge].via for edge in patch.edges)
            and (self._triangles[number] or is_rectangle(self._rings[number]))
            and keeps_print(self._rings[number], directions.get(patch.fabric or ""))
            and not block.parts_of(number)
            for number, patch in enumerate(block.patches)
        ]
        self._made: dict[Region, Recognised | None] = {}
        self._trees: dict[Region, Tree | None] = {}

    # -- units ---------------------------------------------------------------------------------------------

    def made(self, patches: Region) -> Recognised | None:
        """The unit that a region is; None if it is none, or cannot be sewn as one."""
        if patches not in self._made:
            found = None
            if len(patches) > 1 and all(self._quick[patch] for patch in patches):
                rings = [self._rings[patch] for patch in sorted(patches)]
                found = recognise(rings, None, self.allowance_in, self.units)
            self._made[patches] = found
            if found is not None and self.tree(patches) is None:
                self._made[patches] = None
        return self._made[patches]

    def is_cut(self, patch: int) -> bool:
        """Whether a ruler cuts a plain piece that is this patch alone."""
        if not self._quick[patch]:
            return False
        ring = self._rings[patch]
        grain = outer_grain_deg(self.seams.block, patch)
        grain = plain_grain_deg(ring) if grain is None else grain
        return grain is not None and ruler_cut(ring, grain, self.allowance_in, self.units) is not None

    def tree(self, patches: Region) -> Tree | None:
        """How a unit is sewn; None if a seam between its cells is no cut."""
        if patches not in self._trees:
            made = self._made[patches]
            self._trees[patches] = None if made is None else self._tree(made, tuple(sorted(patches)))
        return self._trees[patches]

    def _tree(self, made: Recognised, patches: tuple[int, ...]) -> Tree | None:
        """`made` counts places in `patches`."""
        members = tuple(sorted(patches[place] for place in made.patches))
        if made.kind != GRID or not any(self._triangles[patch] for patch in members):
            if len(members) == 1:
                return Tree(members)
            portion = Portion(
                self.seams, members, border_of(self.seams, frozenset(members)), self.budget, self.facts
            )
            ((tree,), _) = trees_within([portion], self.limits)
            return balanced(self.seams, tree)
        trees = [self._tree(cell, patches) for cell in made.cells]
        cells = [tree for tree in trees if tree is not None]
        return self._joined(cells) if len(cells) == len(trees) else None

    def _joined(self, cells: list[Tree]) -> Tree | None:
        """Cells in a row, sewn in halves."""
        if len(cells) == 1:
            return cells[0]
        half = len(cells) // 2
        sides = [self._joined(cells[:half]), self._joined(cells[half:])]
        one, two = sides
        if one is None or two is None:
            return None
        patches = tuple(sorted((*one.patches, *two.patches)))
        region, wanted = frozenset(patches), (frozenset(one.patches), frozenset(two.patches))
        for cut in cuts_of(self.seams, region):
            if side_of(self.seams, region, cut, True) in wanted:
                return Tree(patches, cut, (one, two))
        return None

    # -- cuts ----------------------------------------------------------------------------------------------

    def largest(self, region: Region) -> Parted | None:
        """The cut that parts off the largest unit, by patches, then by area; None if none does."""
        found: list[tuple[tuple[int, float, tuple[int, ...]], Parted]] = []
        for cut, side in self._sides(region):
            made = self.made(side) if 1 < len(side) < len(region) else None
            if made is not None:
                size = (-len(side), -round(made.width_in * made.height_in, 6), cut.rank(self.seams.block))
                found.append((size, Parted(cut, side, made)))
        return min(found, key=lambda one: (one[0], min(one[1].unit)))[1] if found else None

    def may_hold(self, region: Region) -> bool:
        """False if no two neighbours in a region are patches that a ruler cuts: then it holds no unit."""
        block = self.seams.block
        return any(
            (other := self.seams.across(patch, edge)) in region and self._quick[other]
            for patch in region
            if self._quick[patch]
            for edge in block.patches[patch].edges
        )

    def _sides(self, region: Region) -> Iterator[tuple[Cut, Region]]:
        """Straight cuts of a region, each with a side that holds only patches that a ruler cuts."""
        for cut in cuts_of(self.seams, region):
            for left in (True, False):
                side = side_of(self.seams, region, cut, left, self._quick)
                if side is not None:
                    self.budget.spend(1 + len(side) // PATCHES_A_STEP)
                    yield cut, side


def cuts_of(seams: SeamMap, region: Region, *, straight: bool = True) -> Iterator[Cut]:
    """The cuts of a region, by seam and along it; those of curves that end where they began left out."""
    block, inner = seams.block, inner_points(seams, region)
    numbers = {block.edges[edge].seam for patch in region for edge in block.patches[patch].edges}
    for number in sorted(number for number in numbers if number >= 0):
        if seams.is_closed(number):
            continue
        points, sides = block.seams[number].points, seams.sides[number]
        start = None
        for place, point in enumerate(points):
            if point in inner:
                continue
            if start is not None and (not straight or seams.is_straight(number, start, place)):
                yield Cut(number, start, place)
            onward = place < len(sides) and all(patch in region for patch in sides[place])
            start = place if onward else None


def side_of(
    seams: SeamMap, region: Region, cut: Cut, left: bool, only: Sequence[bool] | None = None
) -> Region | None:
    """The patches of a region on one side of a cut; None if one of them is not among `only`, told by patch."""
    block, along = seams.block, set(cut.edges(seams.block))
    start = seams.sides[cut.seam][cut.start][0 if left else 1]
    if only is not None and not only[start]:
        return None
    seen, waiting = {start}, [start]
    while waiting:
        patch = waiting.pop()
        for edge in block.patches[patch].edges:
            other = seams.across(patch, edge)
            if edge not in along and other in region and other not in seen:
                if only is not None and not only[other]:
                    return None
                seen.add(other)
                waiting.append(other)
    return frozenset(seen)


def inner_points(seams: SeamMap, region: Region) -> set[int]:
    """The points inside a region, its border left out."""
    points = {point for patch in region for point in seams.block.patches[patch].ring}
    return {p for p in points if not seams.on_outline[p] and region.issuperset(seams.fans[p])}


def border_of(seams: SeamMap, region: Region) -> bytearray:
    """For each point of the block whether it lies on a region's border, or outside the region."""
    found = bytearray(b"\1") * len(seams.fans)
    for point in inner_points(seams, region):
        found[point] = 0
    return found
