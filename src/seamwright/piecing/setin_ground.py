"""Bent cuts: runs of edges from border to border that may turn at points where no seam runs on.

Knows:  which edge runs on into which at a point, where a cut may turn, the two sides of a cut, whether a region is
        one foundation.
Leaves: which turns are worth it and which cuts are taken (setin_search).
Units:  none; a region is the bits of its patches.
Method: a cut is a path of edges that passes no point twice, its inner points inside the region, its two different
        ends on the region's border. At a point it runs on along its seam, or it turns: at a point that no seam runs
        through for nothing, at any other only where that point is *freed*. It parts a region without holes in two
        regions without holes. What is cut off a cut by a smaller region is again a cut with no more turns; so, as
        with straight cuts, cutting as far as it goes ends in the same stuck parts whatever the order.
"""

from __future__ import annotations

import sys
from collections import deque
from collections.abc import Callable, Collection, Iterable, Iterator, Sequence
from dataclasses import dataclass

from seamwright.piecing.part import bits
from seamwright.piecing.seammap import SeamMap

NO_WAY = sys.maxsize
Way = tuple[int, ...]
"""Edge numbers, or point numbers, in order along a way."""


@dataclass(frozen=True, slots=True)
class Bent:
    """A cut that may turn.

    Attributes:
        edges, points: numbers in order along it; one point more than edges.
        turns: positions in `points` at which it turns.
        freed: how many of these points have a seam through.
        pivots: how many of the freed ones turn from one seam's end into another's, with no leg that runs on.
    """

    edges: tuple[int, ...]
    points: tuple[int, ...]
    turns: tuple[int, ...] = ()
    freed: int = 0
    pivots: int = 0


class Ground:
    """Tables of one part of a block, in which bent cuts are looked for.

    Attributes:
        patches: patch number of each bit. whole: all bits.
        turning: inner points that no seam runs through. passed: inner points that one does; a set in order.
    """

    def __init__(self, seams: SeamMap, patches: Sequence[int]) -> None:
        block = seams.block
        self.seams, self.patches = seams, tuple(patches)
        self.bit = {patch: 1 << i for i, patch in enumerate(self.patches)}
        self.whole = (1 << len(self.patches)) - 1
        self.fan: dict[int, int] = {}  # bits round a point of no border
        self.at: dict[int, list[int]] = {}  # edges between two patches of the part
        self.pair: dict[int, int] = {}
        self.beside: list[list[tuple[int, int]]] = [[] for _ in self.patches]  # (edge, bit across) of each patch
        self.on: dict[tuple[int, int], int] = {}  # (point, edge) -> the edge that it runs on into there
        for patch in self.patches:
            for edge in block.patches[patch].edges:
                self._add_edge(edge)
        for point in sorted(self.at):
            self.at[point].sort()
            around = [self.bit.get(patch, 0) for patch in seams.fans[point]]
            if all(around) and not seams.on_outline[point]:
                self.fan[point] = sum(around)
        for seam in dict.fromkeys(block.edges[e].seam for e in self.pair):
            run = block.seams[seam]
            for place in range(not seams.is_closed(seam), len(run.edges)):
                one, two, point = run.edges[place - 1], run.edges[place], run.points[place]
                if one in self.pair and two in self.pair:
                    self.on[point, one], self.on[point, two] = two, one
        inner = sorted(self.fan)
        self.passed = dict.fromkeys(p for p in inner if any((p, e) in self.on for e in self.at[p]))
        self.turning = tuple(p for p in inner if p not in self.passed)
        self._never = [p for p in inner if seams.to_match[p] or p not in self.passed]
        self._straight = {e: self._is_straight(e) for e in self.pair}
        self._sections: dict[int, bool] = {}

    def _add_edge(self, number: int) -> None:
        edge = self.seams.block.edges[number]
        if number in self.pair or edge.left not in self.bit or edge.right not in self.bit:
            return
        left, right = self.bit[edge.left], self.bit[edge.right]
        self.pair[number] = left | right
        self.beside[left.bit_length() - 1].append((number, right))
        self.beside[right.bit_length() - 1].append((number, left))
        for point in (edge.start, edge.end):
            self.at.setdefault(point, []).append(number)

    def _is_straight(self, number: int) -> bool:
        seam = self.seams.block.edges[number].seam
        place = self.seams.block.seams[seam].edges.index(number)
        return self.seams.is_straight(seam, place, place + 1)

    def inside(self, region: int, points: Iterable[int]) -> list[int]:
        """Those of some inner points that lie inside a region, not on its border."""
        return [p for p in points if self.fan[p] & region == self.fan[p]]

    # -- cuts ---------------------------------------------------------------------------------------------

    def cuts(self, region: int, turns: int, freeable: Collection[int] = (), most_freed: int = 0) -> Iterator[Bent]:
        """Every cut of a region with up to `turns` turns, up to `most_freed` of them at points of `freeable`."""
        pair, fan, block = self.pair, self.fan, self.seams.block
        starts = sorted(
            (point, edge)
            for edge, both in pair.items()
            if both & region == both
            for point in (block.edges[edge].start, block.edges[edge].end)
            if fan.get(point, -1) & ~region
        )
        for start, first in starts:
            waiting: list[tuple[Way, Way, int, int]] = [((first,), (start,), 0, 0)]
            while waiting:
                edges, points, turned, freed = waiting.pop()
                edge = block.edges[edges[-1]]
                here = edge.end if edge.start == points[-1] else edge.start
                if here in points:
                    continue
                along = (*points, here)
                if fan.get(here, -1) & ~region:
                    if here > start:
                        yield self._bent(edges, along)
                    continue
                ahead = self.on.get((here, edges[-1]))
                if ahead is not None:
                    waiting.append(((*edges, ahead), along, turned, freed))
                if turned == turns:
                    continue
                passed = here in self.passed
                if passed and (freed == most_freed or here not in freeable):
                    continue
                waiting += [
                    ((*edges, other), along, turned + 1, freed + passed)
                    for other in self.at[here]
                    if other not in (edges[-1], ahead)
                ]

    def _bent(self, edges: tuple[int, ...], points: tuple[int, ...]) -> Bent:
        turns = tuple(
            place
            for place in range(1, len(edges))
            if self.on.get((points[place], edges[place - 1])) != edges[place]
        )
        freed = [place for place in turns if points[place] in self.passed]
        pivots = sum(not any((points[k], edge) in self.on for edge in edges[k - 1 : k + 1]) for k in freed)
        return Bent(edges, points, turns, len(freed), pivots)

    def a_cut(self, region: int, turns: int, freeable: Collection[int] = ()) -> tuple[int, ...] | None:
        """The edges of some cut of a region with at most `turns` turns, or None if there is none.

        A way with the fewest turns from one place of the border to another is found in linear time. Mostly it
        passes no point twice, and is a cut; only where none does are all ways tried.
        """
        free = set(freeable)
        passed = self.passed
        found = False
        for start in self._border(region):
            for cost, edges, points in self._ways(
                region, start, lambda p: 1 if p not in passed or p in free else None
            ):
                if cost > turns:
                    break
                if len(set(points)) == len(points):
                    return edges
                found = True
        every = self.cuts(region, turns, freeable, len(free)) if found else iter(())
        return next((cut.edges for cut in every), None)

    def least_freed(self, region: int) -> int:
        """No cut of a region frees fewer points that a seam runs through."""
        passed = self.passed
        costs = (
            next((cost for cost, _, _ in self._ways(region, start, lambda p: int(p in passed))), NO_WAY)
            for start in self._border(region)
        )
        return min(costs, default=NO_WAY)

    def near(self, region: int) -> set[int]:
        """Inner points that a seam runs through and that a cut can come to from the border with no point freed.

        Of the points that a cut frees the first and the last are among these.
        """
        found = set()
        seen: set[tuple[int, int]] = set()
        waiting = [
            (edge, start)
            for start in self._border(region)
            for edge in self.at[start]
            if self.pair[edge] & region == self.pair[edge]
        ]
        while waiting:
            edge, there = waiting.pop()
            if (edge, there) in seen:
                continue
            seen.add((edge, there))
            ends = self.seams.block.edges[edge]
            here = ends.end if ends.start == there else ends.start
            if self.fan.get(here, -1) & ~region:
                continue
            if here in self.passed:
                found.add(here)
                waiting += [(ahead, here) for ahead in (self.on.get((here, edge)),) if ahead is not None]
            else:
                waiting += [(other, here) for other in self.at[here] if other != edge]
        return found

    def easiest(self, region: int) -> Bent:
        """A cut that frees few points, found in linear time mostly."""
        passed = self.passed
        best: tuple[int, tuple[Way, Way]] = (NO_WAY, ((), ()))
        for start in self._border(region):
            for cost, edges, points in self._ways(region, start, lambda p: int(p in passed)):
                if len(set(points)) == len(points):
                    best = min(best, (cost, (edges, points)))
        if best[0] < NO_WAY:
            return self._bent(*best[1])
        return next(self.cuts(region, len(self.fan), self.passed, len(self.passed)))

    def _border(self, region: int) -> list[int]:
        """Points of a region's border at which edges inside it end."""
        ends = {
            point
            for edge, both in self.pair.items()
            if both & region == both
            for point in (self.seams.block.edges[edge].start, self.seams.block.edges[edge].end)
        }
        return sorted(point for point in ends if self.fan.get(point, -1) & ~region)

    def _ways(
        self, region: int, start: int, weigh: Callable[[int], int | None]
    ) -> Iterator[tuple[int, tuple[int, ...], tuple[int, ...]]]:
        """(cost, edges, points) of the cheapest way from a point of the border to every other place of it.

        Args:
            weigh: what it costs to turn at a point, 0 or 1; None where no way may turn.
        """
        edges = self.seams.block.edges
        reached: dict[tuple[int, int], tuple[int, int] | None] = {}
        # Zero-one breadth first: what costs nothing is looked at next, what costs something last.
        waiting: deque[tuple[int, int, int, tuple[int, int] | None]] = deque()
        for edge in self.at[start]:
            if self.pair[edge] & region == self.pair[edge]:
                waiting.append((0, edge, start, None))
        while waiting:
            cost, edge, there, before = waiting.popleft()
            here = edges[edge].end if edges[edge].start == there else edges[edge].start
            state = (edge, here)
            if state in reached:
                continue
            reached[state] = before
            if self.fan.get(here, -1) & ~region:
                if here != start:
                    yield cost, *self._traced(reached, state, start)
                continue
            ahead = self.on.get((here, edge))
            if ahead is not None:
                waiting.appendleft((cost, ahead, here, state))
            more = weigh(here)
            if more is None:
                continue
            for other in self.at[here]:
                if other not in (edge, ahead):
                    if more:
                        waiting.append((cost + 1, other, here, state))
                    else:
                        waiting.appendleft((cost, other, here, state))

    @staticmethod
    def _traced(
        reached: dict[tuple[int, int], tuple[int, int] | None], last: tuple[int, int], start: int
    ) -> tuple[tuple[int, ...], tuple[int, ...]]:
        """Edges and points along the way that ends in a state."""
        edges, points = [], []
        state: tuple[int, int] | None = last
        while state is not None:
            edges.append(state[0])
            points.append(state[1])
            state = reached[state]
        return tuple(edges[::-1]), (start, *points[::-1])

    def side(self, region: int, cut: Sequence[int]) -> int:
        """The patches of a region on one side of a cut along some edges."""
        sewn = set(cut)
        seen = self.pair[cut[0]]
        seen &= -seen
        waiting = [seen]
        while waiting:
            for edge, bit in self.beside[waiting.pop().bit_length() - 1]:
                if bit & region and not bit & seen and edge not in sewn:
                    seen |= bit
                    waiting.append(bit)
        return seen

    def stuck(self, region: int, turns: int, freeable: Collection[int] = ()) -> list[int]:
        """The parts of several patches that are left when a region is cut as far as it goes."""
        left, waiting = [], [region]
        while waiting:
            part = waiting.pop()
            if not part & (part - 1):
                continue
            cut = self.a_cut(part, turns, freeable)
            if cut is None:
                left.append(part)
            else:
                side = self.side(part, cut)
                waiting += [side, part & ~side]
        return left

    # -- foundations ----------------------------------------------------------------------------------------

    def is_foundation(self, region: int) -> bool:
        """Whether patches come off over straight seams one at a time until one is left."""
        found = self._sections.get(region)
        if found is None:
            found = self._sections[region] = not self.inside(region, self._never) and self._peels(region)
        return found

    def _peels(self, region: int) -> bool:
        waiting = bits(region)
        while region & (region - 1):
            kept = []
            for bit in waiting:
                if region & (region - 1) and self._comes_off(region, bit):
                    region ^= bit
                else:
                    kept.append(bit)
            if len(kept) == len(waiting):
                return False
            waiting = kept
        return True

    def _comes_off(self, region: int, bit: int) -> bool:
        """Whether a patch is sewn to the rest of a region over one straight run from border to border."""
        face = self.seams.block.patches[self.patches[bit.bit_length() - 1]]
        pair, rest = self.pair, region & ~bit
        starts = 0
        for place, edge in enumerate(face.edges):
            if not pair.get(edge, 0) & rest:
                continue
            if not self._straight[edge]:
                return False
            before, point = face.edges[place - 1], face.ring[place]
            if (
                not pair.get(before, 0) & rest
                or self.on.get((point, edge)) != before
                or self.fan.get(point, -1) & ~region
            ):
                starts += 1
        return starts == 1
