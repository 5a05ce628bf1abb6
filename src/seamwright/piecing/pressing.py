"""Which way a join is pressed: to its dark side, else to the side where fewer seams end, or open.

Knows:  the seams that end at a join on either side, the fabrics that face each other along it.
Leaves: the words for a part (joins), how dark a fabric is (fabric.shade).
Source: common practice: dark allowance shows through a light patch; many seams on one side make a seam thick.
"""

from __future__ import annotations

from collections.abc import Iterable

from seamwright.fabric.shade import is_dark, is_light
from seamwright.piecing.model import Plan
from seamwright.piecing.turns import join_edges


class Pressing:
    """The two sides of all joins of a plan."""

    def __init__(self, plan: Plan) -> None:
        self.plan = plan
        self._edges = join_edges(plan)
        self._fabrics = {fabric.name: fabric for fabric in plan.block.fabrics}

    def seams_ending(self, number: int, part: Iterable[int]) -> int:
        """How many seams inside a part end at join `number`, at its two ends too: there they make the cloth thick.

        Args:
            part: patch numbers.
        """
        points, inside = frozenset(self.plan.joins[number - 1].seam), frozenset(part)
        return sum(
            point in points
            for edge in self.plan.block.edges
            if edge.left in inside and edge.right in inside
            for point in (edge.start, edge.end)
        )

    def shows(self, number: int, under: Iterable[int]) -> bool:
        """Whether allowance of one part of join `number` would show through the other, were it pressed there."""
        below = frozenset(under)
        pairs = [(self.plan.block.edges[e].left, self.plan.block.edges[e].right) for e in self._edges[number - 1]]
        return any(self._dark_on_light(*(pair if pair[0] in below else pair[::-1])) for pair in pairs)

    def _dark_on_light(self, under: int, over: int) -> bool:
        dark, light = (self._fabrics.get(self.plan.block.patches[p].fabric or "") for p in (under, over))
        return dark is not None and light is not None and is_dark(dark) and is_light(light)

    def words(self, number: int, parts: tuple[tuple[str, Iterable[int]], tuple[str, Iterable[int]]]) -> str:
        """What is said of it.

        Args:
            parts: name and patch numbers of each, the first part of the join first.
        """
        (one, first), (two, second) = ((name, tuple(patches)) for name, patches in parts)
        dark = [name for name, patches in ((one, first), (two, second)) if self.shows(number, patches)]
        if len(dark) == 2:
            return "Press it open: dark lies beside light on both sides, and dark allowance would show through."
        if dark:
            return f"Press it towards {dark[0]}, the dark side: its allowance would show through the light one."
        few, many = self.seams_ending(number, first), self.seams_ending(number, second)
        if few == many:
            if not few:
                return "Press it open, or to the darker side: no other seam ends at it."
            return f"Press it open: {_seams(few)} at it on either side."
        name, few, many = (one, few, many) if few < many else (two, many, few)
        return f"Press it open, or towards {name}: {_seams(few)} at it there, {many} on the other side."


def _seams(count: int) -> str:
    return "1 seam ends" if count == 1 else f"{count} seams end" if count else "no seam ends"
