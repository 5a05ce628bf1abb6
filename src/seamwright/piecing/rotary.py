"""Divide a block so that what a ruler cuts is left off the paper: units first, the rest as ever.

Knows:  which units are taken off, in which order, and how their plans and that of the rest become one.
Leaves: which regions are units, and how each is sewn (unitcuts); how the rest is divided (divide); words
        (rotarynotes).
Method: a unit counts as one piece to be joined, whatever it is sewn of. Of a region that is no unit itself the
        largest unit that one cut parts off is taken, as long as the rest needs no more sections than the region
        did: then it costs one join at most. On straight seams that holds for every cut, since a plan of the region,
        cut down to one side, is a plan of that side; with curves, and seams that turn, both are counted. Again and
        again; then joins that stand in every plan part what is left, and both parts are looked at again. What is
        left then is divided into the fewest sections, under the limits; and wherever a region of that division is a
        unit, or parts one off, it is taken, and the region's rest divided anew.
Limits: the largest first is greedy. That each unit costs one join at most is proven; that no other choice of units
        would take more patches off the paper is not. Steps are counted; when they are out, no more units are taken.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from seamwright.options import PlanOptions, Priority
from seamwright.piecing.balance import balanced
from seamwright.piecing.budget import Budget, OutOfSteps, Progress, deep_recursion
from seamwright.piecing.cuts import Cut, Tree
from seamwright.piecing.divide import Division, Portion, trees_within
from seamwright.piecing.facts import Facts
from seamwright.piecing.forced import forced_cuts
from seamwright.piecing.limits import Limits
from seamwright.piecing.mostrepeats import most_repeats
from seamwright.piecing.seammap import SeamMap
from seamwright.piecing.unitcuts import Region, UnitCuts, border_of, cuts_of, side_of


def divide_with_units(
    seams: SeamMap, options: PlanOptions, base: Division, progress: Progress | None = None
) -> Division:
    """The division of a block whose units are pieced without paper.

    Args:
        base: the division without units, under the same options; what it says of the fewest stands.

    Returns:
        `base` with another tree, the units' patches and the sections cut by ruler. With no unit to be taken off it
        keeps its tree.
    """
    with deep_recursion(6 * len(seams.block.patches)):
        return _Rotary(seams, options, progress).divide(base)


class _Rotary:
    """One block, its units and the parts between them."""

    def __init__(self, seams: SeamMap, options: PlanOptions, progress: Progress | None) -> None:
        self.seams, self.options = seams, options
        self.budget = Budget(options.steps, options.seconds, progress)
        self.facts, self.limits = Facts(seams), Limits(seams, options)
        looking = self.budget.as_much_again()
        self.cuts = UnitCuts(seams, self.facts, options, looking)
        self.forced = frozenset(forced_cuts(seams).cuts)
        self.units: dict[Region, None] = {}
        self.planned: dict[Region, Tree] = {}
        self._open: dict[Region, None] = {}
        self._needs: dict[Region, int] = {}

    def divide(self, base: Division) -> Division:
        """See `divide_with_units`."""
        whole = frozenset(range(len(self.seams.block.patches)))
        if not self.cuts.may_hold(whole):
            return self._marked(base)
        top = self._grown(whole)
        while self._open:
            regions, self._open = list(self._open), {}
            for region, tree in zip(regions, self._trees(regions), strict=True):
                self.planned[region] = self._looked_into(tree)
        if not self.units:
            return self._marked(base)
        outer = balanced(self.seams, self._whole(top), rectangles=True)
        tree = self._with_insides(outer)
        return self._marked(
            replace(
                base,
                tree=tree,
                units=tuple(self.units),
                repeated=None,
                ended=base.ended or self.budget.ended,
                looked_everywhere=not self.cuts.budget.ended,
            )
        )

    def _marked(self, division: Division) -> Division:
        """With the sections that a ruler cuts: those of units, and plain pieces of its shapes and sizes."""
        leaves = [frozenset(node.patches) for node in division.tree.nodes() if node.cut is None]
        found = [
            leaf
            for leaf in leaves
            if any(leaf <= unit for unit in division.units) or (len(leaf) == 1 and self.cuts.is_cut(*leaf))
        ]
        return replace(division, by_ruler=frozenset(found))

    # -- units first ---------------------------------------------------------------------------------------

    def _grown(self, region: Region) -> Tree:
        """A region with its units off; leaves are units, or wait for their plan."""
        patches = tuple(sorted(region))
        if self._is_unit(region):
            self.units[region] = None
            return Tree(patches)
        parted = self._taken(region)
        if parted is not None:
            cut, unit = parted
            self.units[unit] = None
            return Tree(patches, cut, (Tree(tuple(sorted(unit))), self._grown(region - unit)))
        stands = self._forced(region)
        if stands is not None:
            cut, side = stands
            return Tree(patches, cut, (self._grown(side), self._grown(region - side)))
        self._open[region] = None
        return Tree(patches)

    def _is_unit(self, region: Region) -> bool:
        try:
            return self.cuts.made(region) is not None
        except OutOfSteps:
            return False

    def _taken(self, region: Region) -> tuple[Cut, Region] | None:
        """The cut that parts off the largest unit, and its patches, if it costs one join at most."""
        if not self.cuts.may_hold(region):
            return None
        try:
            parted = self.cuts.largest(region)
        except OutOfSteps:
            return None
        if parted is None or not self._costs_one_join(region, region - parted.unit):
            return None
        return parted.cut, parted.unit

    def _costs_one_join(self, region: Region, rest: Region) -> bool:
        block = self.seams.block
        numbers = {block.edges[edge].seam for patch in region for edge in block.patches[patch].edges}
        if all(block.seams[number].straight for number in numbers if number >= 0):
            return True  # proven: see above
        return self._sections(rest) <= self._sections(region)

    def _sections(self, region: Region) -> int:
        """Fewest sections found of a region."""
        if region not in self._needs:
            tree = self._portion(region).plans.first()
            self._needs[region] = sum(node.cut is None for node in tree.nodes())
        return self._needs[region]

    def _forced(self, region: Region) -> tuple[Cut, Region] | None:
        """A join inside a region that stands in every plan, and its one side."""
        for cut in cuts_of(self.seams, region, straight=False):
            if cut in self.forced:
                return cut, side_of(self.seams, region, cut, True) or region
        return None

    # -- the rest --------------------------------------------------------------------------------------------

    def _portion(self, region: Region) -> Portion:
        patches = tuple(sorted(region))
        return Portion(self.seams, patches, border_of(self.seams, region), self.budget, self.facts)

    def _trees(self, regions: Sequence[Region]) -> Sequence[Tree]:
        """Plans of regions, chosen together as those of a whole block are."""
        portions = [self._portion(region) for region in regions]
        trees, _ = trees_within(portions, self.limits)
        if self.options.priority is Priority.REPEATS:
            again = self.budget.as_much_again()
            fields = [one.field(tree, self.limits, again) for one, tree in zip(portions, trees, strict=True)]
            return most_repeats(fields, self.facts).trees
        return trees

    def _looked_into(self, tree: Tree) -> Tree:
        """A plan; wherever one of its regions is a unit, or parts one off, that is taken."""
        if tree.cut is None:
            return tree
        sides = []
        for side in tree.sides:
            region = frozenset(side.patches)
            if len(region) > 1 and (self._is_unit(region) or self._taken(region) is not None):
                sides.append(self._grown(region))
            else:
                sides.append(self._looked_into(side))
        return replace(tree, sides=tuple(sides))

    # -- put together ----------------------------------------------------------------------------------------

    def _whole(self, tree: Tree) -> Tree:
        """A tree whose leaves are units and sections: what waited for its plan has it."""
        region = frozenset(tree.patches)
        if tree.cut is None:
            planned = self.planned.get(region)
            if region in self.units or planned is None or planned.cut is None:
                return Tree(tuple(sorted(region)))
            return self._whole(planned)
        return replace(tree, sides=tuple(self._whole(side) for side in tree.sides))

    def _with_insides(self, tree: Tree) -> Tree:
        """The same, each unit with its own seams."""
        if tree.cut is None:
            inside = self.cuts.tree(frozenset(tree.patches)) if frozenset(tree.patches) in self.units else None
            return tree if inside is None else inside
        return replace(tree, sides=tuple(self._with_insides(side) for side in tree.sides))
