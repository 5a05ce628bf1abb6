"""Fewest sections, exactly.

Knows:  least(R) = 1 if region R is one foundation, else the least of least(P) + least(Q) over its cuts into P, Q.
Leaves: which of several best plans to take (ties).
Method: memoised on the inner points of a region, not its patches: what is hung on by a seam without an inner point
        comes off for free, so least depends on the inner points only. Runs that cut a region are handed down,
        because a cut stays a cut in every smaller region that it crosses. A run that nothing crosses and on which
        seams end from both sides is cut without branching.
Limits: the number of regions can grow with a power of the number of crossings; the search stops at a number of
        regions (never at a time, unless asked) with the best it has and a proven lower bound.
"""

from __future__ import annotations

import sys

from seamwright.piecing.budget import Budget
from seamwright.piecing.cuts import Cut
from seamwright.piecing.part import Part, Region, Run, bits


class Search:
    """least(R) for the regions of one part, each found once."""

    def __init__(self, part: Part, budget: Budget) -> None:
        self.part, self.budget = part, budget
        self.known: dict[int, int] = {0: 1}

    def least(self, region: Region) -> int:
        """Fewest sections of a region.

        Raises:
            OutOfSteps: the budget is spent; what was found so far stays known.
        """
        inside = region.inside
        found = self.known.get(inside)
        if found is not None:
            return found
        self.budget.spend()
        part, known = self.part, self.known
        if part.is_one_foundation(region):
            known[inside] = 1
            return 1
        forced = self.forced(region)
        low, best = 2, sys.maxsize
        # What is known of both sides of a cut first: it may spare the search of other cuts' sides.
        waiting: list[Run] = []
        for run in region.cuts if forced is None else (forced,):
            if inside & run.unknown:
                part.learn(run, inside, region.area)
            first, second = known.get(inside & run.left), known.get(inside & run.right)
            if first is None or second is None:
                waiting.append(run)
                continue
            # least(P) <= least(R): a plan of R, cut down to one side, is a plan of that side.
            if first > low:
                low = first
            if second > low:
                low = second
            if first + second < best:
                best = first + second
            if low >= best:
                waiting.clear()
                break
        for run in waiting:
            first, second = known.get(inside & run.left), known.get(inside & run.right)
            if first is None:
                if second is not None and second >= best - 1:
                    if second >= best:
                        break
                    continue
                first = self.least(part.side(run, region, left=True))
            if first >= best - 1:
                if first >= best:
                    break
                continue
            if second is None:
                second = self.least(part.side(run, region, left=False))
            if first + second < best:
                best = first + second
                if best == 2:
                    break
            elif second >= best:
                break
        known[inside] = best
        return best

    def forced(self, region: Region) -> Run | None:
        """A cut of the region that is a join in every plan, if there is one."""
        return self.part.forced(region)

    def keeping(self, region: Region) -> list[Run]:
        """The cuts that keep the fewest, those without inner points included; [] for one foundation."""
        least = self.least(region)
        if least == 1:
            return []
        forced = self.forced(region)
        if forced is not None:
            return [forced]
        part, known, inside = self.part, self.known, region.inside
        kept = []
        for run in region.cuts + self.bridges(region):
            if inside & run.unknown:
                part.learn(run, inside, region.area)
            first = known.get(inside & run.left)
            if first is None:
                first = self.least(part.side(run, region, left=True))
            if first >= least:
                continue
            second = known.get(inside & run.right)
            if second is None:
                second = self.least(part.side(run, region, left=False))
            if first + second == least:
                kept.append(run)
        return kept

    def side(self, run: Run, region: Region, left: bool) -> Region:
        """The region on one side of a cut."""
        return self.part.side(run, region, left)

    def cut(self, run: Run, region: Region) -> Cut:
        """Where a run cuts a region."""
        return self.part.cut(run, region)

    def bridges(self, region: Region) -> list[Run]:
        """Cuts along a single edge that have inner points on both their sides."""
        found = []
        for run in self.part.single_edges(region):
            self.part.areas(run, region)
            if region.inside & run.left and region.inside & run.right:
                found.append(run)
        return found

    def quick_cut(self, region: Region) -> Run:
        """The cut through the most points to match.

        Each such point lies in exactly one join, in every plan; so long joins through many of them make few joins.
        """
        matched = region.inside & self.part.to_match
        return max(region.cuts, key=lambda run: (matched & run.points).bit_count())

    def bound(self, region: Region) -> int:
        """A lower bound on the sections, cheaply: 1 + joins that no plan avoids.

        A seam that alone runs through a point to match carries a join there. Where several do, one of them does: so
        count disjoint pairs among the others (a maximal matching). Different seams make different joins.
        """
        part = self.part
        holders: dict[int, list[int]] = {bit: [] for bit in bits(region.inside & part.to_match)}
        for number, run in enumerate(part.runs):
            for bit in bits(run.points & region.inside & part.to_match):
                holders[bit].append(number)
        sure = {runs[0] for runs in holders.values() if len(runs) == 1}
        paired: set[int] = set()
        pairs = 0
        for runs in holders.values():
            if not any(number in sure or number in paired for number in runs):
                paired.update(runs)
                pairs += 1
        return 1 + len(sure) + pairs
