"""Which sections are alike: equal after rotation, or mirror images of each other.

Knows:  the kind of a section (same kind: one print serves both), which patch of one lies on which of the other.
Leaves: how a shape is written down (canon), letters (repeats), what sameness is worth (ties).
Units:  inches. Lengths that differ by less than canon's gap are equal.
Method: two sections can be laid on each other if canonical walks over them list the same, lengths, fabrics and all;
        two walks of one hand are a rotation, two of different hands a mirror image. Most sections are told apart
        by less: one that holds a patch of which no other patch has the area is like no other.
"""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Iterable, Sequence

from seamwright.block.model import Block
from seamwright.geometry import signed_area
from seamwright.piecing.canon import GAP_IN, Shape, Walks

SAME_AREA_IN2 = 1e-5
"""Areas of equal patches differ by less: gap of lengths times the girth of a patch."""

Kind = tuple[int, bool | None]
"""Number of a shape with its fabrics, and the hand that tells it from its mirror image; None if it is its own."""


class Alike:
    """The kinds of sections of one block."""

    def __init__(self, block: Block) -> None:
        self.block = block
        self._walks: Walks | None = None
        self._shapes: dict[frozenset[int], Shape] = {}
        self._known: dict[tuple[object, ...], list[tuple[tuple[float, ...], int]]] = {}
        self._kinds: dict[frozenset[int], Kind] = {}
        self._count = 0
        self._like = _clusters(block)
        self._supply = Counter(self._like)

    def may_repeat(self, patches: Iterable[int]) -> bool:
        """Whether the block has patches enough of the same sizes for another section like this one."""
        return all(2 * need <= self._supply[like] for like, need in Counter(self.cluster(patches)).items())

    def cluster(self, patches: Iterable[int]) -> list[int]:
        """For each patch a number that patches equal to it share (and perhaps others)."""
        return [self._like[patch] for patch in patches]

    def kind(self, patches: Iterable[int]) -> Kind:
        """Equal for sections that are equal after rotation, and for no others."""
        inside = frozenset(patches)
        found = self._kinds.get(inside)
        if found is None:
            shape = self.shape(inside)
            number = self._number(shape)
            hands = {walk.mirrored for walk in shape.walks}
            found = self._kinds[inside] = (number, None if len(hands) > 1 else hands.pop())
        return found

    def shape(self, patches: Iterable[int]) -> Shape:
        """The canonical shape of a section."""
        inside = frozenset(patches)
        found = self._shapes.get(inside)
        if found is None:
            self._walks = self._walks or Walks(self.block)
            found = self._shapes[inside] = self._walks.shape(sorted(inside))
        return found

    def laid_on(self, first: Sequence[int], other: Iterable[int], *, mirrored: bool = False) -> tuple[int, ...]:
        """The patches of `other` that lie on those of `first` when one section is laid on the other.

        Where that can be done in several ways, the one that gives the lowest numbers, first to last, is taken.

        Args:
            first: a section, its patches in any order, which the answer keeps.
            other: a section of the same kind; with `mirrored` one of the mirror image's kind.
        """
        one, two = self.shape(first), self.shape(other)
        walk = one.walks[0]
        ways = []
        for fitting in two.walks:
            if (fitting.mirrored != walk.mirrored) == mirrored:
                lies = dict(zip(walk.patches, fitting.patches, strict=True))
                ways.append(tuple(lies[patch] for patch in first))
        return min(ways)

    def _number(self, shape: Shape) -> int:
        """The number of a shape, mirror images alike."""
        alike = self._known.setdefault((shape.code, shape.fabrics), [])
        for sizes, number in alike:
            if all(abs(a - b) <= GAP_IN for a, b in zip(sizes, shape.sizes, strict=True)):
                return number
        self._count += 1
        alike.append((shape.sizes, self._count))
        return self._count


def _clusters(block: Block) -> list[int]:
    """For each patch the number of its cluster: one fabric, and areas without a gap between them."""
    rows = []
    for number, patch in enumerate(block.patches):
        area = signed_area(block.patch_ring(number))
        rows.append((patch.fabric or "", area, number))
    rows.sort()
    found = [0] * len(rows)
    cluster, before = -1, ("", -math.inf)
    for fabric, area, number in rows:
        if fabric != before[0] or area - before[1] > SAME_AREA_IN2:
            cluster += 1
        found[number] = cluster
        before = (fabric, area)
    return found
