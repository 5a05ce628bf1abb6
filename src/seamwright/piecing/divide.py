"""Divide a pieceable block into the fewest sections: forced cuts, exact search, ties, and a good plan out of time.

Knows:  how the parts between forced cuts are searched, and how their plans are put together again.
Leaves: names, orders, words.
"""

from __future__ import annotations

from dataclasses import dataclass

from seamwright.options import PlanOptions
from seamwright.piecing.balance import balanced
from seamwright.piecing.cuts import Tree
from seamwright.piecing.facts import Facts
from seamwright.piecing.fewest import Budget, OutOfSteps, Progress, Search, deep_recursion
from seamwright.piecing.forced import Forced, forced_cuts
from seamwright.piecing.order import sewing_order
from seamwright.piecing.part import Part, Region, Run, bits
from seamwright.piecing.seammap import SeamMap, root
from seamwright.piecing.ties import Plans, Ties, best_trees

EXACT_WHEN_HURRIED = 24
"""When time is up, regions of up to this many inner points are still searched exactly ..."""
HURRIED_STEPS = 2_000
"""... each with at most this many regions."""


@dataclass(frozen=True, slots=True)
class Division:
    """A block divided into sections.

    Attributes:
        tree: the whole block, divided.
        sections: how many; at_least: proven lower bound.
        ties_settled: among the plans with the fewest sections the best was found, as far as costs are sums.
        kinds_settled: and none of these has fewer different foundations.
    """

    tree: Tree
    sections: int
    at_least: int
    ties_settled: bool
    kinds_settled: bool = True


def divide(seams: SeamMap, options: PlanOptions, progress: Progress | None = None) -> Division:
    """The best division of a block that straight cuts divide into single patches."""
    budget = Budget(options.steps, options.seconds, progress)
    facts = Facts(seams)
    forced = forced_cuts(seams)
    plans: list[Plans] = []
    at_least, settled = 0, True
    with deep_recursion(6 * len(seams.block.patches)):
        for patches in forced.parts:
            if _is_foundation(seams, patches, forced.reached):
                plans.append(Plans.only(Tree(patches), facts))
                at_least += 1
                continue
            best, bound, exact = _divide_part(Part(seams, patches, forced.reached), budget, facts)
            plans.append(best)
            at_least += bound
            settled = settled and exact
        trees, capped = best_trees(plans)
        tree = balanced(seams, _put_together(seams, forced, trees))
    sections = sum(node.cut is None for node in tree.nodes())
    return Division(tree, sections, at_least, settled, settled and not capped)


def _is_foundation(seams: SeamMap, patches: tuple[int, ...], reached: bytearray) -> bool:
    """Whether a whole part is one foundation: in linear time, while the tables of a search grow with its square."""
    points = (p for patch in patches for p in seams.block.patches[patch].ring)
    return (
        not any(seams.to_match[p] and not reached[p] for p in points) and sewing_order(seams, patches) is not None
    )


def _divide_part(part: Part, budget: Budget, facts: Facts) -> tuple[Plans, int, bool]:
    """(best plans, lower bound, whether ties are settled) of one part."""
    search = Search(part, budget)
    try:
        least = search.least(part.whole)
    except OutOfSteps:
        return Plans.only(_hurried(search), facts), search.bound(part.whole), False
    ties = Ties(part, search, facts)
    try:
        return ties.plans(part.whole), least, True
    except OutOfSteps:
        return Plans.only(_hurried(search), facts), least, False


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
