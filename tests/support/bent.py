"""Set-in piecing by trying everything: every way to part a region in two along one path, however it turns.

Knows:  for small blocks all triples (partial turns, most turns in one join, sections) that no plan beats.
Leaves: what one foundation is (exhaustive).
Limits: nine patches or so. Shares nothing with the planner but the block.
"""

from __future__ import annotations

from collections.abc import Iterable
from functools import cache
from itertools import combinations

import networkx as nx

from seamwright.block.model import OUTLINE, Block
from support.exhaustive import Exhaustive, Region

Triple = tuple[int, int, int]
"""(turns at points that a seam runs through, most turns in one join, sections)."""


class Bent:
    """All ways to divide a small block along paths."""

    def __init__(self, block: Block) -> None:
        self.block = block
        self.straight = Exhaustive(block, curves=True)
        closed = {seam.points[0] for seam in block.seams if seam.points[0] == seam.points[-1]}
        self.passed = closed.union(*(seam.points[1:-1] for seam in block.seams))
        self.around: dict[int, set[int]] = {p: set() for p in range(len(block.points))}
        for number, patch in enumerate(block.patches):
            for point in patch.ring:
                self.around[point].add(number)
        self.cuts = cache(self._cuts)
        self.triples = cache(self._triples)

    def best(self) -> Triple:
        """The least triple: fewest partial turns, then turns in one join, then sections."""
        return min(self.triples(self.straight.everything))

    def _cuts(self, region: Region) -> tuple[tuple[Region, Region, int, int], ...]:
        """Every cut as (one side, other side, turns, turns at points that a seam runs through)."""
        inner = [
            e
            for e, edge in enumerate(self.block.edges)
            if edge.seam != OUTLINE and edge.left in region and edge.right in region
        ]
        dual = nx.Graph((self.block.edges[e].left, self.block.edges[e].right) for e in inner)
        dual.add_nodes_from(region)
        first, *others = sorted(region)
        found = []
        for count in range(len(others)):
            for more in combinations(others, count):
                one = frozenset((first, *more))
                two = region - one
                if not (nx.is_connected(dual.subgraph(one)) and nx.is_connected(dual.subgraph(two))):
                    continue
                path = [e for e in inner if (self.block.edges[e].left in one) != (self.block.edges[e].right in one)]
                counted = self._turns(region, path)
                if counted is not None:
                    found.append((one, two, *counted))
        return tuple(found)

    def _turns(self, region: Region, edges: list[int]) -> tuple[int, int] | None:
        """Turns of edges that make one path with its ends, and only these, on the region's border; else None."""
        at: dict[int, list[int]] = {}
        for e in edges:
            for point in (self.block.edges[e].start, self.block.edges[e].end):
                at.setdefault(point, []).append(e)
        path = nx.Graph((self.block.edges[e].start, self.block.edges[e].end) for e in edges)
        ends = [p for p, there in at.items() if len(there) == 1]
        if len(ends) != 2 or not nx.is_connected(path) or any(len(there) > 2 for there in at.values()):
            return None
        turns = freed = 0
        for point, there in at.items():
            on_border = not self.around[point] <= region or point in self.block.outline
            if on_border != (point in ends):
                return None
            if len(there) == 2:
                one, two = (self.block.edges[e].seam for e in there)
                turns += one != two
                freed += one != two and point in self.passed
        return turns, freed

    def _triples(self, region: Region) -> frozenset[Triple]:
        if self.straight.is_foundation(region):
            return frozenset({(0, 0, 1)})
        return _unbeaten(
            (freed + a + d, max(turns, b, e), c + f)
            for one, two, turns, freed in self.cuts(region)
            for a, b, c in self.triples(one)
            for d, e, f in self.triples(two)
        )


def _unbeaten(triples: Iterable[Triple]) -> frozenset[Triple]:
    every = set(triples)
    return frozenset(
        t for t in every if not any(u != t and all(x <= y for x, y in zip(u, t, strict=True)) for u in every)
    )
