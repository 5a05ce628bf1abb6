"""Piecing by trying everything: slow, short, and sharing nothing with the planner but the block.

Knows:  cuts by another definition (a minimal run of edges of one seam whose removal parts the patches),
        foundations, fewest sections, and all plans of a small block.
Limits: about a dozen patches for all plans, about twenty-five for the fewest.
"""

from __future__ import annotations

import math
import random
from collections.abc import Callable
from functools import cache
from itertools import product

import networkx as nx

from seamwright.block.model import OUTLINE, Block

Region = frozenset[int]
Joins = frozenset[tuple[int, ...]]
"""The edges of each join, in ascending order."""
PlanSet = frozenset[tuple[frozenset[Region], Joins]]
"""Plans as (sections, joins)."""


class Exhaustive:
    """All there is to know about small blocks.

    Args:
        curves: also cut along curves and seams that turn; these are no steps of a foundation.
        allow: what a section must keep to besides being one foundation.
    """

    def __init__(
        self, block: Block, *, curves: bool = False, allow: Callable[[Region], bool] = lambda region: True
    ) -> None:
        self.block, self.curves, self.allow = block, curves, allow
        self.everything: Region = frozenset(range(len(block.patches)))
        self.least = cache(self._least)
        self.is_foundation = cache(self._is_foundation)
        self.plans = cache(self._plans)
        self.cuts = cache(self._cuts)

    def _cuts(self, region: Region) -> tuple[tuple[Region, Region, tuple[int, ...]], ...]:
        """Every cut as (one side, other side, edges)."""
        graph: nx.MultiGraph[int] = nx.MultiGraph()
        graph.add_nodes_from(region)
        for number, edge in enumerate(self.block.edges):
            if edge.seam != OUTLINE and edge.left in region and edge.right in region:
                graph.add_edge(edge.left, edge.right, key=number)
        found = []
        for seam in self.block.seams:
            if not seam.straight and not self.curves:
                continue
            parting: list[set[int]] = []
            closed, count = seam.points[0] == seam.points[-1], len(seam.edges)
            for length in range(1, count + 1):
                for start in range(count if closed else count - length + 1):
                    run = tuple(seam.edges[(start + k) % count] for k in range(length))
                    sides = [(self.block.edges[e].left, self.block.edges[e].right) for e in run]
                    if not all(a in region and b in region for a, b in sides):
                        continue
                    if any(edges <= set(run) for edges in parting):
                        continue  # not minimal
                    points = [seam.points[(start + k) % count if closed else start + k] for k in range(length + 1)]
                    if len(set(points)) < len(points):
                        continue  # a curve that meets itself has no ends to sew between
                    rest = graph.copy()
                    rest.remove_edges_from([(a, b, e) for (a, b), e in zip(sides, run, strict=True)])
                    parts = [frozenset(part) for part in nx.connected_components(rest)]
                    if len(parts) > 1:
                        assert len(parts) == 2
                        parting.append(set(run))
                        found.append((parts[0], parts[1], run))
        return tuple(found)

    def stuck(self, chance: random.Random) -> set[Region]:
        """What is left of the block after cuts in an order left to chance."""
        waiting, stuck = [self.everything], set()
        while waiting:
            region = waiting.pop()
            cuts = self.cuts(region)
            if cuts:
                one, two, _ = chance.choice(cuts)
                waiting += [one, two]
            elif len(region) > 1:
                stuck.add(region)
        return stuck

    def _is_straight(self, run: tuple[int, ...]) -> bool:
        edges = [self.block.edges[e] for e in run]
        return self.block.seams[edges[0].seam].straight or (len(run) == 1 and not edges[0].via)

    def _is_foundation(self, region: Region) -> bool:
        if len(region) == 1:
            return True
        for one, two, run in self.cuts(region):
            for single, rest in ((one, two), (two, one)):
                if len(single) == 1 and self._is_straight(run) and self.is_foundation(rest):
                    return True
        return False

    def is_section(self, region: Region) -> bool:
        """Whether a region may be one section."""
        return self.is_foundation(region) and self.allow(region)

    def _least(self, region: Region) -> float:
        if self.is_section(region):
            return 1
        return min((self.least(one) + self.least(two) for one, two, _ in self.cuts(region)), default=math.inf)

    def _plans(self, region: Region) -> PlanSet:
        """Every plan with the fewest sections."""
        if self.is_section(region):
            return frozenset({(frozenset({region}), frozenset())})
        least = self.least(region)
        return frozenset(
            (sections | more, joins | also | {tuple(sorted(edges))})
            for one, two, edges in self.cuts(region)
            if self.least(one) + self.least(two) == least
            for (sections, joins), (more, also) in product(self.plans(one), self.plans(two))
        )
