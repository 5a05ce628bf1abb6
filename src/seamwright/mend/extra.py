"""The fewest extra patches that free a stuck region: seams continued, or chords added.

Knows:  which lines are tried, the search, its lower bounds, what it proves.
Leaves: cutting (region), words, proof.
Method: extra(R) is the least, over divisions of R by any straight cuts, of the number of faces that cuts divide.
        Free cuts first lose nothing, so the stuck parts that a chord leaves are mended each by itself and add up. A
        chord can be shifted, without crossing more, until it holds two points that are there; so lines through two
        points are enough. The lines of seams alone gave as few in all cases known; they are tried first, and all
        lines through two points only where that could find fewer.
        Cuts that would leave a face narrower than can be sewn do not count.
Limits: MOST_EXTRA faces; STEPS chords. What was not searched to the end is said (`exhaustive`).
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from seamwright.geometry import Segment, bounds
from seamwright.mend.alike import Pose
from seamwright.mend.change import NARROWEST_IN, SAME_IN, narrowest
from seamwright.mend.chord import Unit, chords, cut_along
from seamwright.mend.region import ON_LINE_IN, Region, seams_of, stuck_parts
from seamwright.piecing.budget import OutOfSteps

MOST_EXTRA = 3
MOST_PATCHES = 30
"""Regions of more patches are searched for as long as the steps last, and that is said."""
STEPS = 4_000_000
"""Points that may be held against a line, or looked at after a cut, in one search: about three seconds."""
ANYHOW = Pose()
MOST_SOLUTIONS = 40


@dataclass(frozen=True, slots=True)
class Extra:
    """What the search for extra patches found.

    Attributes:
        count: the fewest extra patches; None if more than the search went up to are needed.
        solutions: sets of segments to add, the best first; each gives `count` patches more.
        tried: no fewer than this many help, proven.
        exhaustive: the search came to its end.
    """

    count: int | None
    solutions: tuple[tuple[Segment, ...], ...]
    tried: int
    exhaustive: bool


def fewest_extra(region: Region, most: int = MOST_EXTRA, steps: int = STEPS, pose: Pose = ANYHOW) -> Extra:
    """The fewest extra patches of a stuck region, and the ways to that number, shortest first.

    Args:
        pose: of the block: it decides which of two ways of one length comes first.
    """
    search = _Search(region, steps, pose)
    proven = min(at_least(region) - 1, most)
    try:
        for budget in range(proven + 1, most + 1):
            for every in (False, True):
                found = search.ways(region, budget, every)
                if found:
                    return Extra(budget, tuple(found), budget, True)
            proven = budget
    except OutOfSteps:
        return Extra(None, (), proven, False)
    return Extra(None, (), proven, True)


Way = tuple[float, tuple[Segment, ...]]
"""(length of what is added, what is added)."""


class _Search:
    def __init__(self, region: Region, steps: int, pose: Pose) -> None:
        self.region, self.steps, self.pose = region, steps, pose
        rings = [[region.at[p] for p in ring] for face in region.faces for ring in face]
        self._narrowest = min(NARROWEST_IN, *map(narrowest, rings)) - SAME_IN
        self._known: dict[tuple[object, int, bool], Way | None] = {}

    def ways(self, region: Region, budget: int, every: bool) -> list[tuple[Segment, ...]]:
        """All first chords with their best completion, within a budget; shortest first, none twice."""
        found: dict[frozenset[Segment], Way] = {}
        for way in self._tried(region, budget, every):
            found.setdefault(frozenset(way[1]), way)
        ranked = sorted(found.values(), key=self._rank)
        return [segments for _, segments in ranked[:MOST_SOLUTIONS]]

    def _tried(self, region: Region, budget: int, every: bool) -> Iterator[Way]:
        for line in _lines_of_pairs(region) if every else _lines_of_seams(region):
            self._spend(len(region.points))
            for run in chords(region, line, budget):
                self._spend(10 * len(region.points))
                made, more = cut_along(region, run)
                if more > budget or len(made) < 2:
                    continue
                rest = self._rest(made, budget - more, every)
                if rest is not None and self._wide(region, made):
                    added = _added(region, run)
                    yield _length(added) + rest[0], (*added, *rest[1])

    def _rest(self, made: Iterable[Region], budget: int, every: bool) -> Way | None:
        """The best way to free all that is stuck in some regions within a budget, or None."""
        stuck = [part for region in made for part in stuck_parts(region)]
        length = 0.0
        segments: tuple[Segment, ...] = ()
        for count, part in enumerate(stuck, start=1):
            # The parts still to come take theirs.
            spare = budget - sum(at_least(other) for other in stuck[count:])
            way = None
            for most in range(at_least(part), spare + 1):
                way = self._best(part, most, every)
                if way is not None:
                    budget -= most
                    break
            if way is None:
                return None
            length, segments = length + way[0], (*segments, *way[1])
        return length, segments

    def _best(self, region: Region, budget: int, every: bool) -> Way | None:
        key = (region.key, budget, every)
        if key not in self._known:
            ways = self._tried(region, budget, every)
            self._known[key] = min(ways, key=self._rank, default=None)
        return self._known[key]

    def _rank(self, way: Way) -> tuple[object, ...]:
        return round(way[0], 6), self.pose.key(way[1])

    def _wide(self, region: Region, made: Iterable[Region]) -> bool:
        """Whether the faces that a cut leaves can be sewn."""
        before = set(region.faces)
        new = [face for part in made for face in part.faces if face not in before]
        return all(narrowest([region.at[p] for p in ring]) >= self._narrowest for face in new for ring in face)

    def _spend(self, steps: int) -> None:
        self.steps -= steps
        if self.steps < 0:
            raise OutOfSteps


def at_least(region: Region) -> int:
    """A lower bound on the extra patches of a stuck region.

    One is needed; and each point that no seam runs straight through needs a chord into a face beside it, while one
    divided face can serve two such points, one at each end of the chord.
    """
    passed = {p for seam in seams_of(region) for p in seam[1:-1]}
    turned = sum(p not in passed and p not in region.border for p in region.points)
    return max(1, (turned + 1) // 2)


def _lines_of_seams(region: Region) -> list[Segment]:
    """The lines that seams lie on, each once; level and upright lines through the middle of what floats, too."""
    at = region.at
    lines = [(at[seam[0]], at[seam[-1]]) for seam in seams_of(region) if not any(p in at.bends for p in seam)]
    for face in region.faces:
        for hole in face[1:]:
            left, top, right, bottom = bounds([at[p] for p in hole])
            x, y = (left + right) / 2, (top + bottom) / 2
            lines += [((left, y), (right, y)), ((x, top), (x, bottom))]
    return _distinct(lines)


def _lines_of_pairs(region: Region) -> list[Segment]:
    """The lines through two points, each once."""
    at = region.at
    points = [at[p] for p in region.points if p not in at.bends]
    return _distinct((a, b) for i, a in enumerate(points) for b in points[i + 1 :])


def _distinct(lines: Iterable[Segment]) -> list[Segment]:
    """Lines without those that lie on an earlier one, to far below the width of a thread."""
    found: dict[tuple[int, int], Segment] = {}
    for a, b in lines:
        dx, dy = b[0] - a[0], b[1] - a[1]
        size = math.hypot(dx, dy)
        if size <= ON_LINE_IN:
            continue
        angle = math.atan2(dy, dx) % math.pi
        if angle > math.pi - 1e-7:
            angle = 0.0
        off = a[0] * math.sin(angle) - a[1] * math.cos(angle)
        found.setdefault((round(angle * 1e6), round(off * 1e5)), (a, b))
    return list(found.values())


def _added(region: Region, run: Iterable[Unit]) -> tuple[Segment, ...]:
    """The pieces of a chord that are new, those end to end as one."""
    found: list[Segment] = []
    end = None
    for unit in run:
        if unit.face < 0:
            continue
        a, b = region.at[unit.start], region.at[unit.end]
        if found and end == unit.start:
            found[-1] = (found[-1][0], b)
        else:
            found.append((a, b))
        end = unit.end
    return tuple(found)


def _length(segments: Iterable[Segment]) -> float:
    return math.fsum(math.dist(a, b) for a, b in segments)
