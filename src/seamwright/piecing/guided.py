"""A good plan without looking at every region: cuts are tried where the parity bound says that they cost nothing.

Knows:  for a region the fewest sections any plan may have (bounds), and which run wins which point there; from
        both, a plan first made quickly, then made better as long as there are steps.
Leaves: the bound itself (bounds), small regions (fewest), ties between plans as good (ties).
Method: `quick` cuts wherever a run wins all its points in a region, since that loses nothing against the bound.
        Where none does (runs wait for each other in a ring), it cuts along the run that wins most of them, and
        asks the bound afresh for both sides. `attain` asks whether a region can have as few sections as a number
        says, depth first: of all cuts only those are followed whose two bounds add up to it. It is exact: where no
        cut leads there, the region's bound goes up by one, for good.
        `careful` is between both: it attains what can be attained in regions of middling size, and cuts larger
        ones where that loses least against the bounds of both sides.
Limits: work is counted in steps, a bound as `STEPS_PER_POINT` for each inner point of its region.
"""

from __future__ import annotations

import sys

from seamwright.piecing.bounds import Bounds
from seamwright.piecing.budget import Budget, OutOfSteps
from seamwright.piecing.cuts import Tree
from seamwright.piecing.fewest import Search
from seamwright.piecing.part import Region, Run, bits

SMALL = 20
"""Regions of up to this many inner points are searched region by region, ..."""
SMALL_STEPS = 2_000
"""... with at most this many."""
MIDDLE = 250
"""Regions of up to this many inner points are divided at their best, ..."""
MIDDLE_STEPS = 80_000
"""... if this many steps are enough."""
COMPARED = 12
"""Cuts of a larger region whose bounds are compared."""
STEPS_PER_POINT = 6
"""A bound takes about as long as looking at so many regions for each inner point."""


class Guided:
    """Plans of the regions of one part.

    Attributes:
        low: for the inner points of a region, a proven lower bound on its sections.
        high: sections of the best plan known.
    """

    def __init__(self, search: Search, budget: Budget) -> None:
        """`search`: what is known of small regions; `budget`: for making a first plan better."""
        self.search, self.part, self.bounds = search, search.part, Bounds(search.part)
        self.low: dict[int, int] = {0: 1}
        self.high: dict[int, int] = {0: 1}
        self._cut: dict[int, Run] = {}
        self.budget = budget
        self._most = sys.maxsize

    def plan(self) -> Tree:
        """The best plan found of the whole part."""
        whole = self.part.whole
        self.quick(whole, {})
        try:
            self.careful(whole, {})
            self._ladder(whole)
        except OutOfSteps:
            pass
        return self.tree(whole)

    @property
    def at_least(self) -> int:
        """A proven lower bound on the sections of the whole part."""
        return self.lower(self.part.whole)

    # -- bounds ------------------------------------------------------------------------------------------------

    def lower(self, region: Region) -> int:
        """No plan of a region has fewer sections."""
        inside = region.inside
        low = self.low.get(inside)
        if low is None:
            low = self.search.known.get(inside)
            if low is None and inside.bit_count() <= SMALL:
                low = self._searched(region)
            if low is not None:
                self.high[inside] = low
            elif self.part.is_one_foundation(region):
                low = self.high[inside] = 1
            else:
                self.budget.used += STEPS_PER_POINT * inside.bit_count()
                low = max(2, 1 + self.bounds.joins(region))
            self.low[inside] = low
        return low

    def _searched(self, region: Region) -> int | None:
        """The fewest sections of a small region, searched region by region; None if that takes too long."""
        self.search.budget = Budget(SMALL_STEPS, None, None)
        try:
            return self.search.least(region)
        except OutOfSteps:
            return None
        finally:
            self.budget.used += self.search.budget.used

    # -- a plan at once ------------------------------------------------------------------------------------------

    def quick(self, region: Region, wins: dict[int, int]) -> int:
        """Sections of a plan made without looking back.

        Args:
            region: what to divide.
            wins: for each run the bits of points that it wins; {}: not known yet.
        """
        inside = region.inside
        high = self.high.get(inside)
        if high is not None:
            return high
        if self.part.is_one_foundation(region):
            self.low[inside] = self.high[inside] = 1
            return 1
        if inside.bit_count() <= SMALL:
            self.lower(region)
            if inside in self.high:
                return self.high[inside]
        run = self.search.forced(region) or self._won(region, wins)
        if run is None:
            wins = self.bounds.wins(inside)
            run = self._won(region, wins) or self._most_won(region, wins)
        sides = [self.part.side(run, region, left) for left in (True, False)]
        high = self.high[inside] = sum(self.quick(side, wins) for side in sides)
        self._cut[inside] = run
        return high

    def _won(self, region: Region, wins: dict[int, int]) -> Run | None:
        """The cut that wins all its points in the region; of several the one with most."""
        won = [run for run in region.cuts if not region.inside & run.points & ~wins.get(run.number, 0)]
        return max(won, key=lambda run: (region.inside & run.points).bit_count(), default=None)

    def _most_won(self, region: Region, wins: dict[int, int]) -> Run:
        """The cut that wins the largest share of its points."""

        return max(region.cuts, key=lambda run: self._share(region, run, wins))

    def _share(self, region: Region, run: Run, wins: dict[int, int]) -> tuple[float, int]:
        points = region.inside & run.points
        return (points & wins.get(run.number, 0)).bit_count() / points.bit_count(), points.bit_count()

    # -- better and better ---------------------------------------------------------------------------------------

    def careful(self, region: Region, wins: dict[int, int]) -> int:
        """Sections of a plan that loses as little against the bounds as can be seen one cut ahead.

        Raises:
            OutOfSteps: the steps are spent; what was found so far stays known.
        """
        inside = region.inside
        if self.lower(region) == self.quick(region, wins):
            return self.high[inside]
        if inside.bit_count() <= MIDDLE:
            self._most = self.budget.used + MIDDLE_STEPS
            try:
                self._ladder(region)
                return self.high[inside]
            except OutOfSteps:
                if self.budget.ended:
                    raise
            finally:
                self._most = sys.maxsize
        run = self.search.forced(region) or self._won(region, wins)
        if run is None:
            wins = self.bounds.wins(inside)
            run = self._won(region, wins) or self._cheapest(region, wins)
        sides = [self.part.side(run, region, left) for left in (True, False)]
        try:
            for side in sides:
                self.careful(side, wins)
        finally:
            # Out of steps, what was found on the way is kept.
            self._better(region, run, sum(self.quick(side, wins) for side in sides))
        return self.high[inside]

    def _cheapest(self, region: Region, wins: dict[int, int]) -> Run:
        """The cut that loses least against the bounds, of those that win the largest shares of their points."""
        best, fewest = None, sys.maxsize
        for run in sorted(region.cuts, key=lambda run: self._share(region, run, wins), reverse=True)[:COMPARED]:
            self.budget.spend()
            needed = sum(self.lower(self.part.side(run, region, left)) for left in (True, False))
            if needed < fewest:
                best, fewest = run, needed
                if needed == self.lower(region):
                    break
        assert best is not None
        return best

    def _ladder(self, region: Region) -> None:
        """A plan of a region with the fewest sections, for certain.

        Raises:
            OutOfSteps: the steps are spent; what was found so far stays known.
        """
        while not self.attain(region, self.lower(region)):
            continue

    def _better(self, region: Region, run: Run, sections: int) -> None:
        if sections < self.high.get(region.inside, sys.maxsize):
            self.high[region.inside], self._cut[region.inside] = sections, run

    def attain(self, region: Region, most: int) -> bool:
        """Whether a region has a plan of at most so many sections; if not, its lower bound is higher afterwards.

        Raises:
            OutOfSteps: the steps are spent; all bounds and plans found so far hold.
        """
        inside = region.inside
        if self.lower(region) > most:
            return False
        if self.high.get(inside, sys.maxsize) <= most:
            return True
        self.budget.spend(inside.bit_count())
        if self.budget.used > self._most:
            raise OutOfSteps
        forced = self.search.forced(region)
        for run in [forced] if forced else self._promising(region):
            if self._split(region, run, most):
                return True
        self.low[inside] = most + 1
        return False

    def _promising(self, region: Region) -> list[Run]:
        """The cuts, those first that win all their points, then those through most points."""
        wins = self.bounds.wins(region.inside)

        def rank(run: Run) -> tuple[bool, int]:
            points = region.inside & run.points
            return bool(points & ~wins.get(run.number, 0)), -points.bit_count()

        return sorted(region.cuts, key=rank)

    def _split(self, region: Region, run: Run, most: int) -> bool:
        """Whether cutting along `run` leads to at most so many sections."""
        sides = [self.part.side(run, region, left) for left in (True, False)]
        if sum(self.low.get(side.inside, 1) for side in sides) > most:
            return False
        small, large = sorted(sides, key=lambda side: side.inside.bit_count())
        while self.lower(small) + self.lower(large) <= most:
            least = self.lower(small)
            if self.attain(small, least):
                if self.attain(large, most - least):
                    self._better(region, run, self.high[small.inside] + self.high[large.inside])
                    return True
                return False
        return False

    # -- the plan ------------------------------------------------------------------------------------------------

    def tree(self, region: Region) -> Tree:
        """The best plan known of a region."""
        part, inside = self.part, region.inside
        patches = tuple(part.patches[bit.bit_length() - 1] for bit in bits(region.area))
        if part.is_one_foundation(region):
            return Tree(patches)
        run = self._cut.get(inside) or self._known_cut(region)
        sides = (part.side(run, region, left=True), part.side(run, region, left=False))
        return Tree(patches, self.search.cut(run, region), (self.tree(sides[0]), self.tree(sides[1])))

    def _known_cut(self, region: Region) -> Run:
        """A cut that keeps the fewest sections of a region that was searched to the end."""
        self.search.budget = Budget(SMALL_STEPS, None, None)
        return self.search.keeping(region)[0]
