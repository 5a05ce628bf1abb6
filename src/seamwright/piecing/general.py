"""Fewest sections, exactly, under limits on sections and with curves.

Knows:  least(R) = 1 if region R may be one section, else the least of least(P) + least(Q) over its cuts into P, Q.
Leaves: what a section may be (limits), cuts and sides (part, flood), which of several best plans to take (ties).
Method: as in `fewest`, but the memo is kept by patches, since limits depend on them, and cuts without inner points
        count too: they take off a patch that is too much. Taken at any time, these would lead through every set of
        such patches. They come last instead: no other cut ends inside a cut along one edge, so none waits for it,
        and it gives other cuts no new end; hence any plan's cuts can be put in an order in which cuts along single
        edges follow all others, region by region. So a region is first cut by runs with inner points only, and
        what is left is cut along single edges by `lumps`, in one go.
        Forced cuts stay forced under limits (see forced). A lower bound is what the region needs without limits,
        where that was found before, and the number of its patches over the largest number allowed; pairs of sides
        whose bounds add up to no less than the best found are skipped. (That a side needs no more than the whole
        is not used: with curves it is false. A line and a curve that cross twice part a block into five patches
        that two sections hold, the sides of the curve; beyond the line lie three of them that no line joins.)
Limits: the number of regions can grow with a power of the number of crossings; the search stops at a number of
        regions with the best it has. Where many patches hang on one lump and some must go, not every set of them is
        looked at: `exact` and `all_compared` say so.
"""

from __future__ import annotations

import sys
from contextlib import suppress
from dataclasses import replace
from typing import Protocol

from seamwright.piecing.budget import Budget, OutOfSteps
from seamwright.piecing.cuts import Cut, Tree
from seamwright.piecing.fewest import Search
from seamwright.piecing.limits import Limits
from seamwright.piecing.lumps import lumps_of, part_singly
from seamwright.piecing.part import Region, Run, bits
from seamwright.piecing.seammap import SeamMap

NONE = sys.maxsize
"""Sections of a region that cannot be parted that way."""
MOST_SINGLES = 6
"""Regions with more cuts along single edges than this are not compared in every way these could be cut."""
CUTS_A_STEP = 24
"""Comparing the bounds of so many cuts takes as long as looking at one region."""
STEPS_A_LUMP = 20
"""Looking at lumps as one section takes the time of this many regions."""
EXACT_WHEN_HURRIED = 24
"""When steps are out, regions of up to this many patches are still searched exactly ..."""
HURRIED_STEPS = 500
"""... each with at most this many regions."""


class Ground(Protocol):
    """What `Part` and `FloodPart` both are: a part of a block, its regions and their cuts."""

    seams: SeamMap
    patches: tuple[int, ...]
    patch_bit: dict[int, int]
    to_match: int
    whole: Region

    def areas(self, run: Run, region: Region) -> tuple[int, int]:
        """The patches on the left and on the right of a cut."""

    def side(self, run: Run, region: Region, left: bool) -> Region:
        """The region on one side of a cut."""

    def cut(self, run: Run, region: Region) -> Cut:
        """Where a run cuts a region."""

    def forced(self, region: Region) -> Run | None:
        """A cut of the region that is a join in every plan, if there is one."""

    def single_edges(self, region: Region) -> list[Run]:
        """The cuts of a region along one edge, without inner points."""

    def is_one_foundation(self, region: Region) -> bool:
        """Whether patches come off one at a time until one is left."""


class GeneralSearch:
    """least(R) for the regions of one part under limits, each found once.

    Attributes:
        exact: False once a cap was hit, so that a count may be too high.
        all_compared: False once `keeping` left out cuts that keep the fewest as well.
    """

    def __init__(self, part: Ground, budget: Budget, limits: Limits, plain: Search | None = None) -> None:
        """`plain`: the search of the same part without limits, for its bounds; None: there is none."""
        self.part, self.budget, self.limits = part, budget, limits
        self.exact = self.all_compared = True
        self._plain = plain.known if plain else {}
        self._known: dict[int, int] = {}
        self._late: dict[int, int] = {}
        self._late_cuts: dict[int, frozenset[int]] = {}
        self._sections: dict[int, bool] = {}

    # -- what may be one section -------------------------------------------------------------------------------

    def is_section(self, region: Region) -> bool:
        """Whether a region is one foundation and keeps to the limits."""
        found = self._sections.get(region.area)
        if found is None:
            found = self.part.is_one_foundation(region) and self.limits.allow(self.numbers(region.area))
            self._sections[region.area] = found
        return found

    def numbers(self, area: int) -> tuple[int, ...]:
        """Patch numbers of area bits."""
        return tuple(self.part.patches[bit.bit_length() - 1] for bit in bits(area))

    # -- the fewest ----------------------------------------------------------------------------------------------

    def least(self, region: Region) -> int:
        """Fewest sections of a region.

        Raises:
            OutOfSteps: the budget is spent; what was found so far stays known.
        """
        if region.late:
            return self._least_late(region)
        found = self._known.get(region.area)
        if found is not None:
            return found
        self.budget.spend(1 + len(region.cuts) // CUTS_A_STEP)
        if self.is_section(region):
            self._known[region.area] = 1
            return 1
        part, inside = self.part, region.inside
        forced = part.forced(region)
        best, runs = (self._least_late(region), region.cuts) if forced is None else (NONE, [forced])
        floor = self._floor(region.area, inside)
        for run in runs:
            if best <= floor:
                break
            one, two = part.areas(run, region)
            first, second = self._known.get(one), self._known.get(two)
            low = first or self._floor(one, inside & run.left)
            low_two = second or self._floor(two, inside & run.right)
            if low + low_two >= best:
                continue
            if first is None:
                low = self.least(part.side(run, region, left=True))
                if low + low_two >= best:
                    continue
            if second is None:
                low_two = self.least(part.side(run, region, left=False))
            best = min(best, low + low_two)
        self._known[region.area] = best
        return best

    def _floor(self, area: int, inside: int) -> int:
        """No plan of a region has fewer sections; `inside`: its inner points, 0 in a part with curves."""
        most = self.limits.most
        return max(self._plain.get(inside, 1), 1 if most is None else -(-area.bit_count() // most))

    def _least_late(self, region: Region) -> int:
        """Fewest sections of a region by cuts along single edges only."""
        found = self._late.get(region.area)
        if found is None:
            found = NONE
            if self.is_section(region):
                found = 1
            # A point to match lies on a join with inner points.
            elif not region.inside & self.part.to_match:
                singles = self.part.single_edges(region)
                found = self._parted(region, singles) if singles else NONE
            self._late[region.area] = found
        return found

    def _parted(self, region: Region, singles: list[Run]) -> int:
        sides = [self.part.areas(run, region) for run in singles]
        edges = [next(step for step in run.steps if step & region.area == step) for run in singles]

        def is_section(area: int) -> bool:
            found = self._sections.get(area)
            if found is None:
                self.budget.spend(STEPS_A_LUMP)
                found = self.is_section(self._cut_down(region, area, singles))
            return found

        by_count = None
        if self.limits.only_counts:
            # Patches that are lumps by themselves are all alike then.
            large = sum(lump for lump in lumps_of(region.area, sides) if lump & (lump - 1))
            by_count = large.__and__
        parted = part_singly(region.area, sides, edges, is_section, by_count, self._size)
        self.exact = self.exact and parted.exact
        if parted.sections is None:
            return NONE
        self._late_cuts[region.area] = frozenset(edges[number] for number in parted.cuts)
        return parted.sections

    def _size(self, area: int) -> float:
        return self.limits.size(self.numbers(area))

    def _cut_down(self, region: Region, area: int, singles: list[Run]) -> Region:
        """The region of some lumps of a region: cut along the edges that part them from the rest."""
        for run in singles:
            if any(step & region.area == step for step in run.steps):
                one, two = self.part.areas(run, region)
                if area & ~one == 0:
                    region = self.part.side(run, region, left=True)
                elif area & ~two == 0:
                    region = self.part.side(run, region, left=False)
        return region

    # -- the plans that have it -----------------------------------------------------------------------------------

    def keeping(self, region: Region) -> list[Run]:
        """The cuts that keep the fewest; [] for a section."""
        least = self.least(region)
        if least == 1:
            return []
        if region.late:
            return self._keeping_late(region, least)
        forced = self.part.forced(region)
        if forced is not None:
            return [forced]
        kept = []
        for run in region.cuts:
            one, two = self.part.areas(run, region)
            low = self._known.get(one) or self._floor(one, region.inside & run.left)
            low_two = self._known.get(two) or self._floor(two, region.inside & run.right)
            # Bounds first: they spare the search of sides that would be too much.
            if low + low_two > least:
                continue
            left, right = self.side(run, region, left=True), self.side(run, region, left=False)
            if self.least(left) + low_two > least:
                continue
            if self.least(left) + self.least(right) == least:
                kept.append(run)
        if self._least_late(region) == least:
            kept += self._keeping_late(region, least)
        return kept

    def _keeping_late(self, region: Region, least: int) -> list[Run]:
        singles = self.part.single_edges(region)
        if len(singles) <= MOST_SINGLES:
            kept = [
                run
                for run in singles
                if sum(self._least_late(self.part.side(run, region, left)) for left in (True, False)) <= least
            ]
            if kept:
                return kept
        # Which of many patches come off would be compared in every combination: the one plan found is taken.
        self.all_compared = False
        chosen = self._late_cuts[region.area]
        run = next(run for run in singles if chosen.intersection(run.steps))
        for side in self.part.areas(run, region):
            cuts = frozenset(edge for edge in chosen if edge & ~side == 0)
            self._late_cuts[side] = cuts
            self._late[side] = len(cuts) + 1
        return [run]

    def side(self, run: Run, region: Region, left: bool) -> Region:
        """The region on one side of a cut."""
        side = self.part.side(run, region, left)
        single = not region.inside & run.points and run is not self.part.forced(region)
        return replace(side, late=True) if region.late or single else side

    def cut(self, run: Run, region: Region) -> Cut:
        """Where a run cuts a region."""
        return self.part.cut(run, region)

    # -- out of steps ---------------------------------------------------------------------------------------------

    def good(self, region: Region, along: Tree | None = None) -> Tree:
        """A good plan with little searching.

        Args:
            region: what to divide.
            along: a good plan of the region without limits; it is followed as long as what is left is not small.

        Regions that were searched to the end at their best, small ones too; others by cuts that keep the fewest
        without limits, where those are known, and else through many points to match; evenly where nothing decides.
        """
        self.budget = Budget(sys.maxsize, None, None)
        return self._grow(region, along)

    def _grow(self, region: Region, along: Tree | None) -> Tree:
        patches = self.numbers(region.area)
        if self.is_section(region):
            return Tree(patches)
        run = self.part.forced(region) or self._run_of(along, region)
        run = run or self._best_known(region) or self._even_cut(region)
        sides = [self.part.side(run, region, left) for left in (True, False)]
        onward = {frozenset(side.patches): side for side in along.sides} if along else {}
        one, two = (self._grow(side, onward.get(frozenset(self.numbers(side.area)))) for side in sides)
        return Tree(patches, self.cut(run, region), (one, two))

    def _run_of(self, along: Tree | None, region: Region) -> Run | None:
        """The run along which a plan cuts a region, if the region is not small."""
        if along is None or along.cut is None or region.area.bit_count() <= EXACT_WHEN_HURRIED:
            return None
        runs = (run for run in region.cuts + self.part.single_edges(region) if run.seam == along.cut.seam)
        return next((run for run in runs if self.cut(run, region) == along.cut), None)

    def _best_known(self, region: Region) -> Run | None:
        """A cut that keeps the fewest of a region that was searched to the end; None if it was not."""
        if region.area not in self._known and region.area.bit_count() <= EXACT_WHEN_HURRIED:
            budget, self.budget = self.budget, Budget(HURRIED_STEPS, None, None)
            with suppress(OutOfSteps):
                self.least(region)
            self.budget = budget
        least = self._known.get(region.area)
        if least is not None:
            for run in region.cuts:
                one, two = (self._known.get(area, NONE) for area in self.part.areas(run, region))
                if one + two == least:
                    return run
        late = self._late.get(region.area, NONE)
        if late < NONE and least in (None, late):
            return self._keeping_late(region, late)[0]
        return None

    def _even_cut(self, region: Region) -> Run:
        """The cut that keeps the fewest without limits, through most points to match, with the most even sides."""
        matched, plain = region.inside & self.part.to_match, self._plain

        def score(run: Run) -> tuple[int, int, int]:
            one, two = self.part.areas(run, region)
            needed = 0
            if region.inside in plain:
                known = (plain.get(region.inside & side, NONE) for side in (run.left, run.right))
                needed = min(sum(known), NONE)
            return needed, -(matched & run.points).bit_count(), abs(one.bit_count() - two.bit_count())

        return min(region.cuts + self.part.single_edges(region), key=score)
