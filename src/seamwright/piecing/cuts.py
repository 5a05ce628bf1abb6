"""Cuts, and how a block is divided by them.

Knows:  a cut as a run of one seam, a division as a tree.
Leaves: which cuts are taken (forced, fewest, ties).
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from seamwright.block.model import Block
from seamwright.piecing.seammap import run_of


@dataclass(frozen=True, slots=True)
class Cut:
    """A cut: the run of `seam` from position `start` to position `end`; round a closed seam they run on."""

    seam: int
    start: int
    end: int

    def points(self, block: Block) -> tuple[int, ...]:
        """Point numbers along it, both ends included."""
        points = block.seams[self.seam].points
        if self.end < len(points):
            return points[self.start : self.end + 1]
        return run_of(points[:-1], self.start, self.end + 1)

    def edges(self, block: Block) -> tuple[int, ...]:
        """Edge numbers along it."""
        return run_of(block.seams[self.seam].edges, self.start, self.end)

    def rank(self, block: Block) -> tuple[int, int, int]:
        """Settles ties by number: the cut whose ends have the lower numbers first.

        Under canonical numbers (twin) copies of a drawing are settled alike, and a grid parts in rows.
        """
        points = self.points(block)
        low, high = sorted((points[0], points[-1]))
        return (low, high, self.seam)


@dataclass(frozen=True, slots=True)
class Tree:
    """A region and how it is divided.

    Attributes:
        patches: its patch numbers.
        cut: the cut that divides it; None for a section.
        sides: the trees of its two sides; () for a section.
    """

    patches: tuple[int, ...]
    cut: Cut | None = None
    sides: tuple[Tree, ...] = ()

    def nodes(self) -> Iterator[Tree]:
        """Every region of the division, each after the one it is a side of."""
        waiting = [self]
        while waiting:
            node = waiting.pop()
            yield node
            waiting.extend(reversed(node.sides))
