"""Which of several plans with the fewest sections.

Knows:  the cost of a plan beyond its number of sections, entry by entry.
Leaves: the fewest itself and what a section may be (the search it is given), what entries are counted from (facts).
Method: only cuts that keep the fewest are looked at, so few regions are. The first entries are sums over sections
        and joins that depend on one region and one cut alone; so the least tuple of a region is the least over its
        cuts of the sum of both sides' least tuples, exactly. How many different foundations a plan has is no such
        sum: two regions that part in rows or in columns may, or may not, choose alike. So among the cuts that keep
        the least tuple each region keeps every set of kinds that could still be best: one is dropped only for
        another that has no kind that it has not, and costs no more in what follows. Here a region is its patches.

The entries, first to last:
    plain pieces with a tip under 45 degrees (without paper they stretch);
    foundations of two or more patches;
    plain pieces that are rectangles or half-squares on grain, the more the better;
    tips under 45 degrees that lie on a join (paper is there to keep these inside a foundation);
    joins with a point to match;
    different foundations;
    where the block is a grid, sections that are no whole row or column of it;
    length of the joins, in whole units (lengths), which add without rounding.
What ties even then is settled by the order of the cuts themselves.

Limits: a region keeps `MOST_SETS` sets of kinds; where that was too few, `capped` says so.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, field
from itertools import zip_longest
from typing import Any, Protocol

from seamwright.piecing.budget import Budget
from seamwright.piecing.cuts import Cut, Tree
from seamwright.piecing.facts import Facts
from seamwright.piecing.general import Ground
from seamwright.piecing.part import bits

Cost = tuple[int, int, int, int, int]
"""The entries up to joins with a point to match."""
Rest = tuple[int, ...]
"""The entries after the different foundations, such as (sections that are no row, length of joins)."""
Key = tuple[int, int, Rest]
"""What tells choices of one region apart: bits of shared kinds, foundations like none, the rest."""
MOST_SETS = 64
CUTS_A_STEP = 1
"""Comparing so many cuts of a region takes as long as looking at one region."""
PAIRS_A_STEP = 16
"""And so does putting so many pairs of sets of kinds together."""


class Searched(Protocol):
    """What a search for the fewest sections offers; a handle stands for a cut of the regions that it cuts.

    A region has an `area`, the bits of its patches, and a `key` that no other region of the part has.

    Attributes:
        budget: regions that may be looked at.
    """

    budget: Budget

    def keeping(self, region: Any) -> list[Any]:
        """Handles of all cuts that keep the fewest sections of a region; [] for a section."""

    def side(self, handle: Any, region: Any, left: bool) -> Any:
        """The region on one side of a cut."""

    def cut(self, handle: Any, region: Any) -> Cut:
        """Where a handle cuts a region."""


@dataclass(slots=True, eq=False)
class Choice:
    """Plans of one region that tie in everything but the order of their cuts.

    Attributes:
        area: bits of the region's patches.
        shared: bits of the kinds that others may share. alone: sections of two or more patches that are like none.
        rest: what follows the different foundations.
        ways: cuts that lead here, each with a choice for both sides; [] for a section.
        tree: its plan, if that is settled.
    """

    area: int
    shared: int
    alone: int
    rest: Rest
    ways: list[tuple[Cut, Choice, Choice]] = field(default_factory=list)
    signature: Any = None
    tree: Tree | None = None

    @property
    def weight(self) -> tuple[int, Rest]:
        """Different foundations, and what follows."""
        return self.alone + self.shared.bit_count(), self.rest


class Ties:
    """The least cost of regions of one part, each found once, and the plans that have it."""

    def __init__(self, part: Ground, search: Searched, facts: Facts) -> None:
        self.part, self.search, self.facts = part, search, facts
        self.capped = False
        # By the regions' keys: cost, and the handles of the cuts that have it. The sides are asked for again:
        # kept, they would fill the memory where very many plans tie.
        self._known: dict[int, tuple[Cost, list[Any]]] = {}
        self._choices: dict[int, list[Choice]] = {}
        self._fan_bits: dict[int, int] = {}

    # -- entries that are sums ---------------------------------------------------------------------------

    def best(self, region: Any) -> Cost:
        """The least cost, as far as it is a sum, of a region among its plans with the fewest sections.

        Raises:
            OutOfSteps: the search's budget is spent.
        """
        found = self._known.get(region.key)
        if found is not None:
            return found[0]
        search = self.search
        kept = search.keeping(region)
        if not kept:
            cost = self.facts.section_cost(self.numbers(region.area))
            self._known[region.key] = (cost, [])
            return cost
        search.budget.spend(1 + len(kept) // CUTS_A_STEP)
        least: Cost | None = None
        cuts: list[Any] = []
        for handle in kept:
            left, right = search.side(handle, region, left=True), search.side(handle, region, left=False)
            one, two = self.best(left), self.best(right)
            total = (one[0] + two[0], one[1] + two[1], one[2] + two[2], one[3] + two[3], one[4] + two[4])
            if least is not None and total > least:
                continue  # a join adds to it
            on_join, matched = self._join_cost(search.cut(handle, region), region.area)
            total = (*total[:3], total[3] + on_join, total[4] + matched)
            if least is None or total < least:
                least, cuts = total, []
            if total == least:
                cuts.append(handle)
        assert least is not None
        self._known[region.key] = (least, cuts)
        return least

    def _join_cost(self, cut: Cut, area: int) -> tuple[int, int]:
        return self.facts.join_cost(cut, lambda point: (fan := self._fan(point)) & area == fan)

    def _fan(self, point: int) -> int:
        """Area bits of the patches round a point; one more bit if some lie in another part."""
        fan = self._fan_bits.get(point)
        if fan is None:
            other = 1 << len(self.part.patches)
            fan = 0
            for patch in self.facts.seams.fans[point]:
                fan |= self.part.patch_bit.get(patch, other)
            self._fan_bits[point] = fan
        return fan

    # -- different foundations, and what follows ----------------------------------------------------------

    def choices(self, region: Any) -> list[Choice]:
        """Every choice of a region, at its least cost, that may be part of a best plan of the block.

        Raises:
            OutOfSteps: the search's budget is spent.
        """
        found = self._choices.get(region.key)
        if found is not None:
            return found
        self.best(region)
        cuts = self._known[region.key][1]
        if not cuts:
            found = [self._section(region.area)]
        else:
            made: dict[Key, list[tuple[Cut, Choice, Choice]]] = {}
            for handle in cuts:
                left, right = (self.search.side(handle, region, left) for left in (True, False))
                ones, twos = self.choices(left), self.choices(right)
                self.search.budget.spend(len(ones) * len(twos) // PAIRS_A_STEP)
                cut = self.search.cut(handle, region)
                length = self.facts.length(cut)
                beside = [(two.shared, two.alone, two.rest[0], two.rest[1] + length, two) for two in twos]
                for one in ones:
                    shared, alone, (broken, long) = one.shared, one.alone, one.rest
                    for other, more, rows, longer, two in beside:
                        key = (shared | other, alone + more, (broken + rows, long + longer))
                        if key in made:
                            made[key].append((cut, one, two))
                        else:
                            made[key] = [(cut, one, two)]
            keys = list(made)
            kept, capped = _best_of(keys, MOST_SETS)
            found = [Choice(region.area, *keys[number], made[keys[number]]) for number in kept]
            self.capped = self.capped or capped
        self._choices[region.key] = found
        return found

    def _section(self, area: int) -> Choice:
        patches = self.numbers(area)
        shared, alone = self.facts.kinds(patches)
        return Choice(area, shared, alone, (self.facts.no_row(patches), 0))

    def numbers(self, area: int) -> tuple[int, ...]:
        """Patch numbers of area bits."""
        return tuple(self.part.patches[bit.bit_length() - 1] for bit in bits(area))

    # -- the plan ------------------------------------------------------------------------------------------

    def plans(self, region: Any) -> Plans:
        """The best plans of a region.

        Raises:
            OutOfSteps: the search's budget is spent.
        """
        choices = self.choices(region)
        return Plans(choices, self.tree, self.capped)

    def tree(self, choice: Choice) -> Tree:
        """The plan of a choice."""
        if choice.tree is not None:
            return choice.tree
        patches = self.numbers(choice.area)
        if not choice.ways:
            return Tree(patches)
        self._sign(choice)
        cut, one, two = min(choice.ways, key=self._way)
        return Tree(patches, cut, (self.tree(one), self.tree(two)))

    def _sign(self, choice: Choice) -> Any:
        """What decides between choices and between ways that tie: the order of their cuts, the first cut first."""
        if choice.signature is None:
            choice.signature = min((self._way(way) for way in choice.ways), default=())
        return choice.signature

    def _way(self, way: tuple[Cut, Choice, Choice]) -> Any:
        cut, one, two = way
        return (cut.rank(self.facts.block), *sorted((self._sign(one), self._sign(two))))


def undominated(choices: list[Choice], most: int = 0) -> tuple[list[Choice], bool]:
    """The choices that no other is better than whatever stands beside them; and whether some had to be left out.

    Args:
        most: how many are kept at most; 0: MOST_SETS.
    """
    kept, capped = _best_of([(one.shared, one.alone, one.rest) for one in choices], most or MOST_SETS)
    return [choices[number] for number in kept], capped


def _best_of(keys: Sequence[Key], most: int) -> tuple[list[int], bool]:
    """Numbers of the keys that `undominated` keeps, in its order; millions are held against each other."""
    weights = [(alone + shared.bit_count(), rest) for shared, alone, rest in keys]
    kept: list[int] = []
    front: list[Key] = []
    for number in sorted(range(len(keys)), key=weights.__getitem__):
        shared, alone, rest = keys[number]
        lacks = ~shared
        for other, fewer, less in front:
            if not other & lacks and (fewer < alone or (fewer == alone and less <= rest)):
                break
        else:
            if len(front) == most:
                return kept, True  # the others come later in this order: none of them would be among the first
            kept.append(number)
            front.append(keys[number])
    return kept, False


@dataclass(frozen=True, slots=True)
class Plans:
    """The best plans of one part.

    Attributes:
        choices: those that may be part of a best plan of the block.
        tree: the plan of a choice.
        capped: some choices had to be left out.
    """

    choices: Sequence[Choice]
    tree: Callable[[Choice], Tree]
    capped: bool = False

    def first(self) -> Tree:
        """One of the plans."""
        return self.tree(self.choices[0])

    @staticmethod
    def only(tree: Tree, facts: Facts) -> Plans:
        """One plan that stands."""
        whole = Choice(0, 0, 0, ())
        for node in tree.nodes():
            if node.cut is None:
                shared, alone = facts.kinds(node.patches)
                whole.shared |= shared
                whole.alone += alone
        return Plans([whole], lambda _: tree)


def best_trees(parts: Sequence[Plans]) -> tuple[list[Tree], bool, tuple[int, Rest]]:
    """A plan for each part, so that all together have the fewest different foundations.

    Returns:
        Their trees, whether choices had to be left out, and their weight together.
    """
    capped = any(part.capped for part in parts)
    chains: list[tuple[Choice, tuple[Choice, ...]]] = [(Choice(0, 0, 0, ()), ())]
    for part in parts:
        made: dict[Key, tuple[Choice, tuple[Choice, ...]]] = {}
        for total, chain in chains:
            for choice in part.choices:
                key = (total.shared | choice.shared, total.alone + choice.alone, added(total.rest, choice.rest))
                made.setdefault(key, (Choice(0, *key), (*chain, choice)))
        kept, over = undominated([total for total, _ in made.values()])
        capped = capped or over
        chains = [made[total.shared, total.alone, total.rest] for total in kept]
    whole, chosen = min(chains, key=lambda chain: chain[0].weight)
    trees = [part.tree(choice) for part, choice in zip(parts, chosen, strict=True)]
    return trees, capped, whole.weight


def added(one: Rest, two: Rest) -> Rest:
    """Entry by entry; () is nothing."""
    return tuple(map(sum, zip_longest(one, two, fillvalue=0)))
