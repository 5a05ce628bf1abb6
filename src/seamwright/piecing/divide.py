"""Divide a pieceable block into the fewest sections: forced cuts, exact search, ties, and a good plan out of time.

Knows:  how the parts between forced cuts are searched, and how their plans are put together again.
Leaves: names, orders, words.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

from seamwright.block.model import Seam
from seamwright.options import PlanOptions, Priority
from seamwright.piecing.balance import balanced
from seamwright.piecing.budget import Budget, OutOfSteps, Progress, deep_recursion
from seamwright.piecing.cuts import Tree
from seamwright.piecing.facts import Facts
from seamwright.piecing.fewest import Search
from seamwright.piecing.flood import FloodPart
from seamwright.piecing.forced import Forced, forced_cuts
from seamwright.piecing.general import GeneralSearch
from seamwright.piecing.limits import Limits
from seamwright.piecing.mostrepeats import LARGEST, Field, Repeated, most_repeats
from seamwright.piecing.order import sewing_order
from seamwright.piecing.part import Part, Region, Run, bits
from seamwright.piecing.seammap import SeamMap, root
from seamwright.piecing.ties import Plans, Ties, best_trees

EXACT_WHEN_HURRIED = 24
"""When time is up, regions of up to this many inner points are still searched exactly ..."""
HURRIED_STEPS = 2_000
"""... each with at most this many regions."""
HURRIED_PATCHES = 1_000
"""So divided are parts of up to this many patches: a second try beside the plan that bounds guide."""
FEW_STEPS = 80_000
"""Bounds may guide a plan for this long at least, about a second, even if the search may look at few regions."""
MANY_REGIONS = 400
"""A part is not searched region by region if its points to match, cubed, are more than this times the steps.

Of lines right across a square, that has more regions than steps, by far.
"""


@dataclass(frozen=True, slots=True)
class Division:
    """A block divided into sections.

    Attributes:
        tree: the whole block, divided under the limits of the options.
        fewest: sections of the best division without limits; foundations: those of two patches or more in it.
        at_least: proven lower bound on `fewest`.
        ties_settled: among the plans with the fewest sections the best was found, as far as costs are sums.
        kinds_settled: and none of these has fewer different foundations.
        broken: names of the options whose limits that best division breaks; () where `tree` is it.
        limits_settled: no division under the limits has fewer sections than `tree`.
        ended: what ended the search before its time: "steps", "seconds", "stopped" (by Ctrl-C); "" if nothing did.
        repeated: of a division with most repeats what was found and proven; `tree` is it then.
        units: patches of each unit that is cut off to be pieced without paper; see rotary.
        by_ruler: patches of each section that is cut by ruler and sewn without paper.
        looked_everywhere: no unit was missed because steps were out.
    """

    tree: Tree
    fewest: int
    foundations: int
    at_least: int
    ties_settled: bool
    kinds_settled: bool
    broken: tuple[str, ...] = ()
    limits_settled: bool = True
    ended: str = ""
    repeated: Repeated | None = None
    units: tuple[frozenset[int], ...] = ()
    by_ruler: frozenset[frozenset[int]] = frozenset()
    looked_everywhere: bool = True

    @property
    def sections(self) -> int:
        """How many sections the tree has."""
        return sum(node.cut is None for node in self.tree.nodes())


def divide(seams: SeamMap, options: PlanOptions, progress: Progress | None = None) -> Division:
    """The best division of a block that cuts along its seams divide into single patches.

    First without limits on sections: what is said to be the fewest speaks of the drawing alone. If that division
    keeps to the limits, no other can be better. Where it does not, the parts concerned are searched again, under
    the limits. Forced cuts are joins under any limits, so parts stay independent.
    """
    budget = Budget(options.steps, options.seconds, progress)
    facts, limits = Facts(seams), Limits(seams, options)
    forced = forced_cuts(seams)
    with deep_recursion(6 * len(seams.block.patches)):
        parts = [Portion(seams, patches, forced.reached, budget, facts) for patches in forced.parts]
        trees, capped, _ = best_trees([part.plans for part in parts])
        sections = [node.patches for tree in trees for node in tree.nodes() if node.cut is None]
        broken = tuple(dict.fromkeys(name for patches in sections for name in limits.broken(patches)))
        trees, capped = trees_within(parts, limits, (trees, capped))
        repeated = None
        if options.priority is Priority.REPEATS:
            again = budget.as_much_again()
            fields = [part.field(tree, limits, again) for part, tree in zip(parts, trees, strict=True)]
            repeated = most_repeats(fields, facts)
            if not all(part.ties_settled and part.limits_settled for part in parts):
                repeated = replace(repeated, settled=False, ended=True, at_least=1)
            trees = repeated.trees
        tree = balanced(seams, _put_together(seams, forced, trees))
    settled = all(part.ties_settled for part in parts)
    return Division(
        tree,
        fewest=len(sections),
        foundations=sum(len(patches) > 1 for patches in sections),
        at_least=sum(part.at_least for part in parts),
        ties_settled=settled,
        kinds_settled=settled and not capped,
        broken=broken,
        limits_settled=all(part.limits_settled for part in parts),
        ended=budget.ended or ("" if settled else "steps"),
        repeated=repeated,
    )


def trees_within(
    parts: Sequence[Portion], limits: Limits, chosen: tuple[list[Tree], bool] | None = None
) -> tuple[list[Tree], bool]:
    """Plans of parts, chosen together, whose sections keep to the limits; and whether choices were left out.

    Parts whose plans without limits keep to them are not searched again.

    Args:
        chosen: what would come of it without limits, if it is known already.
    """
    while True:
        trees, capped = chosen or best_trees([part.plans for part in parts])[:2]
        outside = [
            part
            for part, tree in zip(parts, trees, strict=True)
            if any(not limits.allow(node.patches) for node in tree.nodes() if node.cut is None)
        ]
        if not outside:
            return trees, capped
        for part in outside:
            part.plan_under(limits)
        chosen = None


class Portion:
    """One part between forced cuts, and its plans.

    Attributes:
        plans: those that may be part of the best plan of the block.
        at_least: lower bound on its sections without limits.
        ties_settled: whether all plans were compared.
        limits_settled: whether no plan under the limits has fewer sections.
    """

    def __init__(
        self, seams: SeamMap, patches: tuple[int, ...], reached: bytearray, budget: Budget, facts: Facts
    ) -> None:
        self.seams, self.patches, self.reached = seams, patches, reached
        self.budget, self.facts = budget, facts
        self.ground: Part | FloodPart | None = None
        self.plain: Search | None = None
        self.at_least, self.ties_settled, self.limits_settled = 1, True, True
        if self._is_foundation():
            self.plans = Plans.only(Tree(patches), facts)
        elif any(not seam.straight for seam in self._seams_inside()):
            self._plan_generally(Limits.none(seams))
        else:
            self._plan()

    def _is_foundation(self) -> bool:
        """Whether it is one: in linear time, while the tables of a search grow with its square."""
        seams = self.seams
        points = (p for patch in self.patches for p in seams.block.patches[patch].ring)
        matched = any(seams.to_match[p] and not self.reached[p] for p in points)
        return not matched and sewing_order(seams, self.patches) is not None

    def _seams_inside(self) -> Iterator[Seam]:
        block, inside = self.seams.block, set(self.patches)
        for patch in self.patches:
            for number in block.patches[patch].edges:
                edge = block.edges[number]
                if edge.left in inside and edge.right in inside:
                    yield block.seams[edge.seam]

    def _plan(self) -> None:
        part = self.ground = Part(self.seams, self.patches, self.reached)
        search = self.plain = Search(part, self.budget)
        try:
            if part.to_match.bit_count() ** 3 > MANY_REGIONS * self.budget.steps:
                raise OutOfSteps  # they would only fill the memory
            self.at_least = search.least(part.whole)
        except OutOfSteps:
            self._plan_by_bounds(search)
            self.ties_settled = False
            return
        try:
            self.plans = Ties(part, search, self.facts).plans(part.whole)
        except OutOfSteps:
            self.plans, self.ties_settled = Plans.only(_hurried(search), self.facts), False

    def _plan_by_bounds(self, search: Search) -> None:
        """A good plan and a good bound where the search has no steps left."""
        # Matching needs a library that nobody waits for whose block is searched to the end.
        from seamwright.piecing.guided import Guided

        guided = Guided(search, self.budget.as_much_again(FEW_STEPS))
        trees = [guided.plan()]
        if len(self.patches) <= HURRIED_PATCHES:
            trees.append(_hurried(search))
        self.at_least = max(search.bound(search.part.whole), guided.at_least)
        tree = min(trees, key=lambda tree: sum(node.cut is None for node in tree.nodes()))
        self.plans = Plans.only(tree, self.facts)

    def _plan_generally(self, limits: Limits) -> bool:
        """Plans by the general search; whether no plan has fewer sections."""
        ground = self._the_ground()
        budget, along = self.budget, None
        if limits.any:
            # What could not be searched without limits is not searched under them: the plan found is divided on.
            searched = self.plain is None or self.plain.part.whole.inside in self.plain.known
            budget = self.budget.as_much_again() if searched else Budget(0, None, None)
            along = None if searched else self.plans.first()
        search = GeneralSearch(ground, budget, limits, self.plain)
        try:
            least = search.least(ground.whole)
        except OutOfSteps:
            trees = [search.good(ground.whole, along)]
            if along is not None and len(self.patches) <= HURRIED_PATCHES:
                trees.append(search.good(ground.whole))
            tree = min(trees, key=lambda tree: sum(node.cut is None for node in tree.nodes()))
            self.plans, self.ties_settled = Plans.only(tree, self.facts), False
            if isinstance(ground, FloodPart) and not limits.any:
                self.at_least = 1 + ground.joins_at_least()
            return False
        if not limits.any:
            self.at_least = least if search.exact else least - 1
        try:
            self.plans = Ties(ground, search, self.facts).plans(ground.whole)
            self.ties_settled = self.ties_settled and search.all_compared
        except OutOfSteps:
            self.plans, self.ties_settled = Plans.only(search.good(ground.whole), self.facts), False
        return search.exact

    def field(self, tree: Tree, limits: Limits, budget: Budget) -> Field:
        """The part for a division with most repeats; `tree` is its best one otherwise."""
        if not 1 < len(self.patches) <= LARGEST:
            return Field(tree, None)
        return Field(tree, GeneralSearch(self._the_ground(), budget, limits, self.plain))

    def _the_ground(self) -> Part | FloodPart:
        if self.ground is None:
            curved = any(not seam.straight for seam in self._seams_inside())
            self.ground = (FloodPart if curved else Part)(self.seams, self.patches, self.reached)
        return self.ground

    def plan_under(self, limits: Limits) -> None:
        """Plans again, so that every section keeps to the limits."""
        self.limits_settled = self._plan_generally(limits)


def _hurried(search: Search) -> Tree:
    """A good plan with little searching: regions that are known at their best, the others cut quickly."""
    part = search.part

    def best_known(region: Region) -> Run | None:
        """A cut that keeps the fewest sections of a region that was searched to the end; None if it was not."""
        forced = search.forced(region)
        if forced is not None:
            return forced
        if region.inside not in search.known and region.inside.bit_count() <= EXACT_WHEN_HURRIED:
            search.budget = Budget(HURRIED_STEPS, None, None)
            try:
                search.least(region)
            except OutOfSteps:
                return None
        least = search.known.get(region.inside)
        if least is None:
            return None
        for run in region.cuts:
            one, two = (part.side(run, region, left=left).inside for left in (True, False))
            if search.known.get(one, least) + search.known.get(two, least) == least:
                return run
        return None

    def grow(region: Region) -> Tree:
        patches = tuple(part.patches[bit.bit_length() - 1] for bit in bits(region.area))
        if part.is_one_foundation(region):
            return Tree(patches)
        run = best_known(region)
        if run is None:
            run = search.quick_cut(region)
        sides = (part.side(run, region, left=True), part.side(run, region, left=False))
        return Tree(patches, search.cut(run, region), (grow(sides[0]), grow(sides[1])))

    return grow(part.whole)


def _put_together(seams: SeamMap, forced: Forced, trees: list[Tree]) -> Tree:
    """The tree of the whole block: forced cuts read backwards join the parts."""
    part_of = {patch: number for number, tree in enumerate(trees) for patch in tree.patches}
    parents = list(range(len(trees)))
    for cut in reversed(forced.cuts):
        left, right = (root(parents, part_of[patch]) for patch in seams.sides[cut.seam][cut.start])
        one, two = trees[left], trees[right]
        parents[right] = left
        trees[left] = Tree((*one.patches, *two.patches), cut, (one, two))
    return trees[root(parents, 0)]
