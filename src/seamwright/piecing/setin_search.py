"""Which bent cuts divide a part: fewest partial seams, then fewest turns in one join, then fewest sections.

Knows:  the fewest points to free, the fewest turns that a join must make, the fewest sections under both.
Leaves: what a bent cut is (setin_ground), what becomes of the turns chosen (setin).
Method: every point that no seam runs through is turned at by one join in every plan; so their number is no choice.
        What is stuck even then is held by rings of seams, and a point on the side of a seam must be freed: the join
        turns from the stem into one half of the seam, which is sewn in two goes. Both "what must be freed" and "how
        many turns one join needs" are decided by cutting as far as it goes, because a cut never spoils another.
        Fewest sections: least(R) = 1 if R is one foundation, else the least of least(P) + least(Q) over its cuts;
        remembered by patches. Every join turns at `turns` points at most, and every point to turn at inside R lies
        in one of its joins: that bounds least(R) from below and ends most searches early.
Limits: the number of regions may double with every patch; beyond some twenty the steps run out, and the best so
        far is taken.
"""

from __future__ import annotations

import math
import sys
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from itertools import islice

from seamwright.piecing.budget import Budget, OutOfSteps
from seamwright.piecing.setin_freeing import Freeing
from seamwright.piecing.setin_ground import NO_WAY, Bent, Ground

EXACT_FIRST = 20
"""Parts of more patches are divided quickly first; a plan with as few sections as the lower bound is taken."""
EXACT_WHEN_HURRIED = 12
"""When the steps are spent, regions of up to this many patches are still searched exactly ..."""
HURRIED_STEPS = 4_000
"""... each with at most this many cuts."""
HURRIED_CUTS = 1_000
"""Cuts compared in a larger region then."""
MOST_TURNS = 64
"""More turns than any one join can need."""

Cost = tuple[int, int, int]
"""(sections, pivots where a seam runs through, length of the joins in 1/65536 in)."""


@dataclass(frozen=True, slots=True)
class Bends:
    """How a part is divided by cuts that may bend.

    Attributes:
        cuts: all of them, each before those of its two sides.
        turns: most turns allowed in one of them. freed: points freed, in all.
        at_least: proven lower bound on sections for as few freed points and turns as can be.
        proven: no plan frees fewer points, nor, with as few, makes do with fewer turns in a join.
    """

    cuts: tuple[Bent, ...]
    turns: int
    freed: int
    at_least: int
    proven: bool


def bends(ground: Ground, is_section: Callable[[int], bool], lengths: Sequence[int], budget: Budget) -> Bends:
    """The best division of a part in which nothing floats.

    Args:
        is_section: whether a region may be a section; what is cut off one may be one as well, and any patch alone.
        lengths: of each edge of the block, 1/65536 in.
    """
    freeing, proven = _freeing_needed(ground, budget)
    if freeing is None:
        return _greedy(ground, is_section)
    turns, freed = freeing.turns, freeing.fewest(ground.whole)
    search = _Search(ground, freeing, is_section, lengths, budget)
    quick: tuple[Bent, ...] | None = None
    if len(ground.patches) > EXACT_FIRST:
        quick = search.hurried()
        if proven and len(quick) + 1 == search.bound(ground.whole):
            return Bends(quick, turns, freed, len(quick) + 1, proven)
    try:
        search.least(ground.whole)
        search.best(ground.whole)
        cuts = search.cuts()
        return Bends(cuts, turns, freed, len(cuts) + 1 if proven else 2, proven)
    except OutOfSteps:
        # In this order: the bound of the whole is found under the budget of the hurried search, the other is spent.
        cuts, at_least = search.hurried(), search.bound(ground.whole)
        if quick is not None and len(quick) < len(cuts):
            cuts = quick
        return Bends(cuts, turns, freed, at_least if proven else 2, proven)


def _freeing_needed(ground: Ground, budget: Budget) -> tuple[Freeing | None, bool]:
    """The fewest points to free, with the fewest turns in one join that are enough for as few; and if it is proven.

    Out of steps, points are freed one at a time only: mostly these are as few. None if that took too long, too.
    """
    for spent, at_once in ((budget, NO_WAY), (budget.as_much_again(), 1)):
        try:
            most = Freeing(ground, MOST_TURNS, spent, at_once=at_once).fewest(ground.whole)
            for turns in range(1, MOST_TURNS + 1):
                freeing = Freeing(ground, turns, spent, most, at_once)
                if freeing.fewest(ground.whole) <= most < NO_WAY:
                    return freeing, spent is budget
        except OutOfSteps:
            continue
    return None, False


def _greedy(ground: Ground, is_section: Callable[[int], bool]) -> Bends:
    """Some division, each cut with few points freed and few turns when it is taken."""
    found: list[Bent] = []
    waiting = [ground.whole]
    while waiting:
        region = waiting.pop()
        if not is_section(region):
            cut = ground.easiest(region)
            found.append(cut)
            side = ground.side(region, cut.edges)
            waiting += [region & ~side, side]
    turns, freed = max(len(cut.turns) for cut in found), sum(cut.freed for cut in found)
    return Bends(tuple(found), turns, freed, 2, proven=False)


class _Search:
    """least(R) for the regions of one part, each found once."""

    def __init__(
        self,
        ground: Ground,
        freeing: Freeing,
        is_section: Callable[[int], bool],
        lengths: Sequence[int],
        budget: Budget,
    ) -> None:
        self.ground, self.freeing, self.turns = ground, freeing, freeing.turns
        self.is_section, self.lengths, self.budget = is_section, lengths, budget
        # Only points inside stuck parts are ever freed in a plan that frees the fewest.
        stuck = ground.stuck(ground.whole, freeing.turns)
        self.freeable = dict.fromkeys(p for part in stuck for p in ground.inside(part, ground.passed))
        self.known: dict[int, int] = {}
        self._bounds: dict[int, int] = {}
        self._choices: dict[int, list[tuple[Bent, int, int]]] = {}
        self._costs: dict[int, tuple[Cost, Bent | None, int]] = {}

    def bound(self, region: int) -> int:
        """A lower bound on the sections of a region."""
        found = self._bounds.get(region)
        if found is None:
            if self.is_section(region):
                found = 1
            else:
                points = len(self.ground.inside(region, self.ground.turning)) + self.freed(region)
                found = max(2, 1 + math.ceil(points / self.turns))
            self._bounds[region] = found
        return found

    def freed(self, region: int) -> int:
        """The fewest points to free in a region."""
        return self.freeing.fewest(region) if self.ground.inside(region, self.freeable) else 0

    def choices(self, region: int) -> list[tuple[Bent, int, int]]:
        """(cut, one side, other side) of every cut with which as few points are freed as need be."""
        found = self._choices.get(region)
        if found is None:
            found = sorted(
                self._cuts(region),
                key=lambda choice: (self.bound(choice[1]) + self.bound(choice[2]), choice[0].points),
            )
            self._choices[region] = found
        return found

    def _cuts(self, region: int) -> Iterator[tuple[Bent, int, int]]:
        need = self.freed(region)
        for cut in self.ground.cuts(region, self.turns, self.freeable if need else (), need):
            self.budget.spend()
            one = self.ground.side(region, cut.edges)
            two = region & ~one
            if not need or cut.freed + self.freed(one) + self.freed(two) == need:
                yield cut, one, two

    def least(self, region: int) -> int:
        """Fewest sections of a region.

        Raises:
            OutOfSteps: the budget is spent; what was found so far stays known.
        """
        found = self.known.get(region)
        if found is not None:
            return found
        low = self.bound(region)
        if low == 1:
            self.known[region] = 1
            return 1
        best = sys.maxsize
        for _, one, two in self.choices(region):
            if self.bound(one) + self.bound(two) >= best:
                break
            first = self.least(one)
            if first + self.bound(two) < best:
                best = min(best, first + self.least(two))
            if best == low:
                break
        self.known[region] = best
        return best

    def best(self, region: int) -> Cost:
        """The least cost of a region among its plans with the fewest sections."""
        found = self._costs.get(region)
        if found is not None:
            return found[0]
        least = self.least(region)
        if least == 1:
            self._costs[region] = ((1, 0, 0), None, 0)
            return (1, 0, 0)
        ways = []
        for cut, one, two in self.choices(region):
            if self.bound(one) + self.bound(two) > least:
                break
            if self.least(one) + self.least(two) == least:
                first, second = self.best(one), self.best(two)
                length = sum(self.lengths[edge] for edge in cut.edges)
                cost = (least, first[1] + second[1] + cut.pivots, first[2] + second[2] + length)
                ways.append((cost, cut.points, cut, one))
        cost, _, cut, one = min(ways, key=lambda way: way[:2])
        self._costs[region] = (cost, cut, one)
        return cost

    def cuts(self) -> tuple[Bent, ...]:
        """The cuts of the best plan of the whole part, each before those of its two sides."""
        found, waiting = [], [self.ground.whole]
        while waiting:
            region = waiting.pop()
            _, cut, one = self._costs[region]
            if cut is not None:
                found.append(cut)
                waiting += [region & ~one, one]
        return tuple(found)

    def hurried(self) -> tuple[Bent, ...]:
        """The cuts of a good plan with little searching."""
        budget = self.budget
        found, waiting = [], [self.ground.whole]
        while waiting:
            region = waiting.pop()
            self.budget = self.freeing.budget = Budget(sys.maxsize, None, None)
            if self.bound(region) > 1:
                cut, one = self._hurried_cut(region)
                found.append(cut)
                waiting += [region & ~one, one]
        self.budget = self.freeing.budget = budget
        return tuple(found)

    def _hurried_cut(self, region: int) -> tuple[Bent, int]:
        if region in self.known or region.bit_count() <= EXACT_WHEN_HURRIED:
            self.choices(region)
            self.budget = Budget(HURRIED_STEPS, None, None)
            try:
                self.best(region)
                _, cut, one = self._costs[region]
                assert cut is not None
                return cut, one
            except OutOfSteps:
                self.budget = Budget(sys.maxsize, None, None)

        def promise(choice: tuple[Bent, int, int]) -> tuple[int, int, int]:
            cut, one, two = choice
            known = sum(self.known.get(side, self.bound(side)) for side in (one, two))
            return known, -max(one.bit_count(), two.bit_count()), sum(self.lengths[e] for e in cut.edges)

        choices = self._choices.get(region) or list(islice(self._cuts(region), HURRIED_CUTS))
        cut, one, _ = min(choices, key=promise)
        return cut, one
