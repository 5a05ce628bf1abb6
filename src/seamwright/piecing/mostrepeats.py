"""Most repeats first: the fewest different prints, even if that takes more sections.

Knows:  what a plan of most repeats is, and how it is searched part by part.
Leaves: what one section may be and where regions are cut (general), entries of the cost (ties), words (limitnotes).
Method: a plan is better than another if it has fewer different prints, plain shapes counted too; then if it has
        fewer sections; then by the ties of `ties`. Without more, a block of equal triangles would fall into single
        triangles: so no patch is made a plain piece that hangs on its neighbour by one edge, for it can always be
        sewn on (limits on sections excepted).
        The number of different prints is no sum. But part of a plan has no more of them than the plan: with `most`
        prints allowed, regions keep only choices of so many, and few do. So 1, 2, 3 ... are tried in turn, and the
        first number that has a plan is proven the least. With one print more is known: every region of such a plan
        holds patches of all sizes in the same proportion as the block.
        To have a good plan before that, the block is cut into regions that hold patches in the proportion of the
        block, and each of these as it would be by itself, alike ones alike.
Limits: the number of regions can grow with a power of the number of crossings, and each keeps `MOST_SETS` choices:
        `settled` says whether the answer is the best for certain.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass, replace
from typing import Any

from seamwright.piecing.budget import OutOfSteps
from seamwright.piecing.cuts import Tree
from seamwright.piecing.facts import Facts
from seamwright.piecing.general import GeneralSearch
from seamwright.piecing.part import Run
from seamwright.piecing.ties import Choice, Plans, Rest, Ties, added, best_trees, undominated

LARGEST = 400
"""Parts of more patches keep the division of fewest sections: tables and time grow with a power of their number."""
MOST_SETS = 1024
REGIONS_A_STEP = 60
"""A region looked at for repeats takes as long as this many others ..."""
PAIRS_A_REGION = 4
"""... and that many pairs of choices as long as one other."""


@dataclass(frozen=True, slots=True)
class Repeated:
    """A division with most repeats.

    Attributes:
        trees: a tree for each part.
        prints: different prints in it. at_least: no plan has fewer.
        without: sections of the division of fewest sections, under the same limits.
        settled: no plan has fewer prints, and none with as few has fewer sections.
        ended: the search ran out of steps; if it is not settled and did not, regions had too many choices to keep.
    """

    trees: list[Tree]
    prints: int
    at_least: int
    without: int
    settled: bool
    ended: bool


@dataclass(frozen=True, slots=True)
class Field:
    """A part to be divided: its fewest sections as found, and the search that knows what a section may be.

    Attributes:
        tree: the division of fewest sections.
        search: None for a part that keeps it (see `LARGEST`).
    """

    tree: Tree
    search: GeneralSearch | None


def most_repeats(fields: Sequence[Field], facts: Facts) -> Repeated:
    """The division of all parts that has the fewest different prints, then the fewest sections."""
    supply = facts.alike.supply()
    best = _together([_as_it_is(field.tree, facts) for field in fields])
    settled = all(field.search is not None or len(field.tree.patches) == 1 for field in fields)
    without = sum(node.cut is None for field in fields for node in field.tree.nodes())
    at_least, ended = 1, False
    nothing_repeats = max(supply.values()) == 1
    if nothing_repeats or best[0][0] == 1:
        # As many prints as sections, and these are the fewest; or one print, and the fewest sections.
        return Repeated(best[1], best[0][0], best[0][0], without, True, False)
    try:
        units = _together([_Units(field, facts, supply).plans() for field in fields])
        best = min(best, units, key=lambda found: found[0])
        (prints, (sections, *_)), _, _ = best
        # Fewer sections than without repeats there cannot be.
        for most in range(1, prints + (sections > without)):
            searched = [_Bounded(field, facts, supply, most).plans() for field in fields]
            found = _together(searched) if all(plans.choices for plans in searched) else None
            if found is not None and found[0] <= best[0]:
                best = found
            settled = settled and not (found[2] if found else any(plans.capped for plans in searched))
            if found is not None and found[0][0] <= most:
                break
            # Only as long as nothing was left out does "none found" mean that there is none.
            at_least = most + 1 if settled else at_least
    except OutOfSteps:
        settled, ended = False, True
    weight, trees, _ = best
    return Repeated(trees, weight[0], min(at_least, weight[0]), without, settled, ended)


Found = tuple[tuple[int, Rest], list[Tree], bool]
"""(different prints and what follows, trees, whether choices had to be left out)."""


def _together(parts: Sequence[Plans]) -> Found:
    trees, capped, weight = best_trees(parts)
    return weight, trees, capped


def _as_it_is(tree: Tree, facts: Facts) -> Plans:
    """A division as it stands, its cost counted in full."""
    return Plans([_counted(tree, facts)], lambda _: tree)


def _counted(tree: Tree, facts: Facts) -> Choice:
    whole = Choice(0, 0, 0, ())
    for node in tree.nodes():
        if node.cut is None:
            shared, alone = facts.prints(node.patches)
            whole.shared |= shared
            whole.alone += alone
            whole.rest = added(whole.rest, _section_rest(node.patches, facts))
        else:
            on_join, matched = facts.join_cost(node.cut, _holder(node.patches, facts))
            whole.rest = added(whole.rest, (0, 0, 0, 0, on_join, matched, 0, facts.length(node.cut)))
    return whole


def _holder(patches: Iterable[int], facts: Facts) -> Callable[[int], bool]:
    inside, fans = frozenset(patches), facts.seams.fans
    return lambda point: inside.issuperset(fans[point])


def _section_rest(patches: Sequence[int], facts: Facts) -> Rest:
    return (1, *facts.section_cost(patches), facts.no_row(patches), 0)


class _Dividing:
    """Choices of the regions of one part, each found once."""

    def __init__(self, field: Field, facts: Facts, supply: Counter[int]) -> None:
        self.field, self.facts = field, facts
        self.capped = False
        self._choices: dict[int, list[Choice]] = {}
        if field.search is not None:
            self.search, self.part = field.search, field.search.part
            self.budget = field.search.budget
            clusters: dict[int, int] = {}
            for patch, bit in self.part.patch_bit.items():
                (cluster,) = facts.alike.cluster([patch])
                clusters[cluster] = clusters.get(cluster, 0) | bit
            self._masks = [(mask, supply[cluster]) for cluster, mask in clusters.items()]
            self._whole_kinds = len(clusters) == len(supply)
            self._total = sum(supply.values())

    def plans(self) -> Plans:
        """The choices of the whole part."""
        if self.field.search is None:
            return _as_it_is(self.field.tree, self.facts)
        ties = Ties(self.part, self.search, self.facts)
        return Plans(self.choices(self.part.whole), ties.tree, self.capped)

    def choices(self, region: Any) -> list[Choice]:
        """The choices of a region; [] if it has none."""
        known = self._choices.get(region.key)
        if known is None:
            known = self._choices[region.key] = self._found(region)
        return known

    def _found(self, region: Any) -> list[Choice]:
        raise NotImplementedError

    def in_proportion(self, area: int) -> bool:
        """Whether a region holds patches of all sizes in the proportion of the block."""
        count = area.bit_count()
        return self._whole_kinds and all(
            (area & mask).bit_count() * self._total == supply * count for mask, supply in self._masks
        )

    def section(self, area: int) -> Choice:
        """A region as one section."""
        patches = self.search.numbers(area)
        return Choice(area, *self.facts.prints(patches), _section_rest(patches, self.facts))

    def joined(
        self, region: Any, run: Run, ones: Sequence[Choice], twos: Sequence[Choice], most: int
    ) -> list[Choice]:
        """Every pair of choices of the two sides of a cut that has no more than `most` prints.

        Raises:
            OutOfSteps: the budget is spent.
        """
        self.budget.spend(len(ones) * len(twos) // PAIRS_A_REGION)
        cut = self.search.cut(run, region)
        on_join, matched = self.facts.join_cost(cut, _holder(self.search.numbers(region.area), self.facts))
        join: Rest = (0, 0, 0, 0, on_join, matched, 0, self.facts.length(cut))
        found = []
        for one in ones:
            for two in twos:
                shared, alone = one.shared | two.shared, one.alone + two.alone
                if shared.bit_count() + alone <= most:
                    rest = added(added(one.rest, two.rest), join)
                    found.append(Choice(region.area, shared, alone, rest, [(cut, one, two)]))
        return found

    def kept(self, found: Sequence[Choice]) -> list[Choice]:
        """The choices worth keeping, those that tie made one."""
        made: dict[tuple[int, int, Rest], Choice] = {}
        for choice in found:
            known = made.setdefault((choice.shared, choice.alone, choice.rest), choice)
            if known is not choice:
                known.ways += choice.ways
        kept, capped = undominated(list(made.values()), MOST_SETS)
        self.capped = self.capped or capped
        return kept


class _Bounded(_Dividing):
    """All plans of at most `most` different prints."""

    def __init__(self, field: Field, facts: Facts, supply: Counter[int], most: int) -> None:
        super().__init__(field, facts, supply)
        self.most = most

    def _found(self, region: Any) -> list[Choice]:
        self.budget.spend(REGIONS_A_STEP)
        if self.most == 1 and not self.in_proportion(region.area):
            return []
        whole = self.search.is_section(region)
        found = []
        if whole:
            section = self.section(region.area)
            found += [section] if section.weight[0] <= self.most else []
        forced = self.part.forced(region)
        runs = region.cuts if forced is None else [forced]
        if region.late:
            # A point to match lies on a join with inner points.
            runs = [] if region.inside & self.part.to_match else self.part.single_edges(region)
        for run in runs:
            one, two = self.part.areas(run, region)
            plain = not (one & (one - 1) and two & (two - 1))
            if plain and (whole or (region.late and not self.search.limits.any)):
                continue
            ones = self.choices(self._side(run, region, left=True))
            if ones:
                twos = self.choices(self._side(run, region, left=False))
                found += self.joined(region, run, ones, twos, self.most)
        if not region.late and forced is None:
            found += self.choices(replace(region, late=True))
        return self.kept(found)

    def _side(self, run: Run, region: Any, left: bool) -> Any:
        side = self.part.side(run, region, left)
        return replace(side, late=True) if region.late else side


class _Units(_Dividing):
    """Plans of regions that hold patches in the proportion of the block, each divided as it would be by itself."""

    def __init__(self, field: Field, facts: Facts, supply: Counter[int]) -> None:
        super().__init__(field, facts, supply)
        self._most = sum(supply.values())
        if field.search is not None:
            self._alone = Ties(self.part, self.search, facts)

    def _found(self, region: Any) -> list[Choice]:
        self.budget.spend(REGIONS_A_STEP * region.area.bit_count())
        found = []
        for choice in self._alone.choices(region):
            tree = self._alone.tree(choice)
            found.append(replace(_counted(tree, self.facts), area=region.area, tree=tree))
        for run in region.cuts:
            if all(self.in_proportion(area) for area in self.part.areas(run, region)):
                ones, twos = (self.choices(self.part.side(run, region, left)) for left in (True, False))
                found += self.joined(region, run, ones, twos, self._most)
        return self.kept(found)
