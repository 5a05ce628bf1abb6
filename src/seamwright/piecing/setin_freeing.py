"""The fewest points to free so that bent cuts divide a region: rings of seams, each opened at a point.

Knows:  which points opened together make a new cut, and how few are enough.
Leaves: what a bent cut is (setin_ground), what partial seams become of it (setin).
Method: a stuck part needs a next cut, and that cut frees some points at once, mostly one. Freeing a point never
        spoils another, so of two choices of as many points the one that leaves finer parts is as good as the other,
        and points that make a cut by themselves need not be tried in pairs; and the first and the last point that
        a cut frees lie where it can come to from the border. Numbers are tried from below: is one enough, are two.
Limits: the number of choices grows with a power of the number freed; a region of twenty patches has four or so.
"""

from __future__ import annotations

from itertools import combinations

from seamwright.piecing.budget import Budget
from seamwright.piecing.setin_ground import NO_WAY, Ground

STEPS_PER_LOOK = 5
"""To cut a region as far as it goes takes as long as this many single cuts."""
Left = tuple[int, ...]
"""Stuck parts that are left of a part."""


class Freeing:
    """The fewest points to free so that cuts with at most `turns` turns divide a region into single patches.

    Args:
        most: of more points than these it is enough to know that they are more.
        at_once: points that one cut may free; with fewer than `turns` what is found is enough, but maybe too much.
    """

    def __init__(
        self, ground: Ground, turns: int, budget: Budget, most: int = NO_WAY, at_once: int = NO_WAY
    ) -> None:
        self.ground, self.turns, self.budget, self.most = ground, turns, budget, most
        self._at_once = min(turns, at_once)
        self._of_region: dict[int, int] = {}
        self._exact: dict[int, int] = {}
        self._at_least: dict[int, int] = {}
        self._choices: dict[tuple[int, int], list[Left]] = {}
        self._making: dict[tuple[int, int], set[frozenset[int]]] = {}

    def fewest(self, region: int) -> int:
        """Of any region; more than `most` if as many are not enough, or if no number is.

        Its stuck parts are independent: what is reached in the one is border of the other.

        Raises:
            OutOfSteps: the budget is spent.
        """
        found = self._of_region.get(region)
        if found is None:
            left = self.ground.stuck(region, self.turns)
            found = self._of_region[region] = self._of_parts(left, self.most)
        return found

    def _of_parts(self, parts: list[int] | Left, most: int) -> int:
        """Of stuck parts together; more than `most` if as many are not enough."""
        total = len(parts)  # one each at least
        for part in parts:
            if total > most:
                break
            total += self._of_stuck(part, most - total + 1) - 1
        return total

    def _of_stuck(self, part: int, most: int) -> int:
        if part in self._exact:
            return self._exact[part]
        points = len(self.ground.inside(part, self.ground.passed))
        number = self._at_least.get(part) or self.ground.least_freed(part)
        while number <= min(most, points):
            if self._is_enough(part, number):
                self._exact[part] = number
                return number
            number += 1
            self._at_least[part] = number
        return number if number <= points else NO_WAY

    def _is_enough(self, part: int, number: int) -> bool:
        return any(
            self._of_parts(left, number - count) <= number - count
            for count in range(1, min(number, self._at_once) + 1)
            for left in self._choices_of(part, count)
        )

    def _choices_of(self, part: int, count: int) -> list[Left]:
        """What is left of a stuck part by each choice of so many points that make a cut, but no fewer of them do.

        Of choices that leave finer and coarser parts only the finest are listed.
        """
        found = self._choices.get((part, count))
        if found is not None:
            return found
        fewer = [chosen for smaller in range(1, count) for chosen in self._makers(part, smaller)]
        near = self.ground.near(part)
        making = self._making[part, count] = set()
        lefts: dict[Left, None] = {}
        for points in combinations(self.ground.inside(part, self.ground.passed), count):
            chosen = frozenset(points)
            if len(chosen & near) < min(count, 2) or any(maker <= chosen for maker in fewer):
                continue
            self.budget.spend(STEPS_PER_LOOK)
            left = tuple(sorted(self.ground.stuck(part, self.turns, points)))
            if left != (part,):
                making.add(chosen)
                lefts[left] = None
        found = [left for left in lefts if not any(_finer(other, left) for other in lefts if other != left)]
        self._choices[part, count] = found
        return found

    def _makers(self, part: int, count: int) -> set[frozenset[int]]:
        self._choices_of(part, count)
        return self._making[part, count]


def _finer(one: Left, other: Left) -> bool:
    """Whether every part of `one` lies in a part of `other`."""
    return all(any(part & whole == part for whole in other) for part in one)
