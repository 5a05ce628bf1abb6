"""Dark allowance under light patches: which neighbours it concerns, and an order with the fewest of them.

Knows:  pairs of neighbours of which one would show through the other, and how to peel a section with few of them.
Leaves: how dark a fabric is (fabric.shade), all other wishes for an order (order).
Method: allowances are pressed under the patch that is added later. So read backwards a light patch costs the
        darker neighbours that are still there when it comes off. What comes off without cost may come off at once:
        it can only save cost for others, and nothing that comes off now is lost later (peel). Only when each patch
        that can come off costs something is there a choice. These choices are tried out, each set of patches that
        is left once: exactly, if there are no more than MOST_SETS such sets (so always up to twelve patches);
        beyond, the patch of least cost is taken each time, and nothing is proven.
"""

from __future__ import annotations

from collections.abc import Iterable

from seamwright.block.model import OUTSIDE, Block
from seamwright.fabric.shade import shows_through
from seamwright.piecing.peel import Peeling

MOST_SETS = 4096
"""Sets of patches left that are tried: all sets of twelve patches."""
MOST_PATCHES = 96
"""In larger sections the patch of least cost is taken without trying."""


class Shadows:
    """The pairs of neighbours in a section of which one would show through the other.

    Attributes:
        darker: for each patch that has any, its neighbours in the section that would show through it.
    """

    def __init__(self, block: Block, patches: Iterable[int]) -> None:
        self.darker: dict[int, tuple[int, ...]] = {}
        if not block.fabrics:
            return
        fabrics = {fabric.name: fabric for fabric in block.fabrics}
        of = {patch: fabrics.get(block.patches[patch].fabric or "") for patch in patches}
        for patch, over in of.items():
            if over is None:
                continue
            edges = [block.edges[number] for number in block.patches[patch].edges]
            beside = dict.fromkeys(edge.right if edge.left == patch else edge.left for edge in edges)
            dark = [
                other
                for other in beside
                if other != OUTSIDE and (under := of.get(other)) is not None and shows_through(under, over)
            ]
            if dark:
                self.darker[patch] = tuple(sorted(dark))

    def cost(self, patch: int, left: dict[int, None]) -> int:
        """How many darker neighbours would lie under a patch that comes off now."""
        return sum(other in left for other in self.darker.get(patch, ()))

    def under(self, order: Iterable[int]) -> list[tuple[int, tuple[int, ...]]]:
        """(patch, darker neighbours sewn before it) for each patch of a sewing order that has such neighbours."""
        sewn: dict[int, None] = {}
        found = []
        for patch in order:
            dark = tuple(other for other in self.darker.get(patch, ()) if other in sewn)
            if dark:
                found.append((patch, dark))
            sewn[patch] = None
        return found

    def cheapest(self, choices: list[int], left: dict[int, None]) -> list[int]:
        """Those of the patches that cost least."""
        costs = [self.cost(patch, left) for patch in choices]
        return [patch for patch, cost in zip(choices, costs, strict=True) if cost == min(costs)]


def fewest_shadows(peeling: Peeling, shadows: Shadows) -> list[int]:
    """What to take whenever each patch that may come off costs something, one after another; [] leaves it open.

    Args:
        peeling: a section from which nothing was taken; it is as before afterwards.
    """
    if len(peeling.left) > MOST_PATCHES:
        return []
    search = _Search(peeling, shadows)
    search.least()
    return search.choices()


class _Search:
    def __init__(self, peeling: Peeling, shadows: Shadows) -> None:
        self.peeling, self.shadows = peeling, shadows
        self.bit = {patch: 1 << i for i, patch in enumerate(peeling.left)}
        self.known: dict[int, tuple[int, int | None]] = {}  # set left -> (cost from there on, what to take)

    def least(self) -> int:
        """The least cost of peeling what is left."""
        undo = self._free_of_cost()
        key = self._key()
        if key not in self.known:
            self.known[key] = (0, None)
            self.known[key] = self._try()
        for one in reversed(undo):
            self.peeling.put_back(one)
        return self.known[key][0]

    def choices(self) -> list[int]:
        """What was found best to take, choice after choice."""
        found, undo = [], []
        while True:
            undo += self._free_of_cost()
            patch = self.known[self._key()][1]
            if patch is None:
                break
            found.append(patch)
            undo.append(self.peeling.take(patch))
        for one in reversed(undo):
            self.peeling.put_back(one)
        return found

    def _try(self) -> tuple[int, int | None]:
        """The least cost from here on, where each patch that may come off costs something, and what to take."""
        peeling = self.peeling
        costs = {patch: self.shadows.cost(patch, peeling.left) for patch in peeling.may_come_off()}
        if len(peeling.left) < 2 or not costs:
            return 0, None
        ranked = sorted(costs, key=costs.__getitem__)
        best: tuple[int, int | None] | None = None
        for patch in ranked if len(self.known) <= MOST_SETS else ranked[:1]:
            if best is not None and costs[patch] >= best[0]:
                break
            undo = peeling.take(patch)
            cost = costs[patch] + self.least()
            peeling.put_back(undo)
            if best is None or cost < best[0]:
                best = (cost, patch)
        assert best is not None
        return best

    def _free_of_cost(self) -> list[tuple[int, list[tuple[int, tuple[int, ...] | None]], int]]:
        """Take what costs nothing."""
        undo = []
        while len(self.peeling.left) > 1:
            free = [p for p in self.peeling.may_come_off() if not self.shadows.cost(p, self.peeling.left)]
            if not free:
                break
            undo.append(self.peeling.take(free[0]))
        return undo

    def _key(self) -> int:
        return sum(self.bit[patch] for patch in self.peeling.left)
