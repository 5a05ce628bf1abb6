"""Which sections are alike: equal after rotation, or mirror images of each other.

Knows:  the kind of a section (same kind: one print serves both), which patch of one lies on which of the other.
Leaves: how a shape is written down (canon), letters (repeats), what sameness is worth (ties).
Units:  inches. Lengths that differ by less than canon's gap are equal.
Method: two sections can be laid on each other if canonical walks over them list the same, lengths, fabrics and all;
        two walks of one hand are a rotation, two of different hands a mirror image. Most sections are told apart
        by less: one that holds a patch of which no other patch has the area is like no other.
"""

from __future__ import annotations

import cmath
import math
from collections import Counter
from collections.abc import Iterable, Sequence

from seamwright.block.model import OUTSIDE, Block
from seamwright.geometry import signed_area
from seamwright.piecing.canon import GAP_IN, Shape, Walk, Walks

SAME_SPOT_IN = 0.01
"""Places round two sections that are nearer than this when one is laid on the other are one."""
MOST_LOOKED_AT = 1000
"""Above so many patches of equal area their shapes are looked at only where sections are compared."""

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
        self._fans: dict[int, tuple[int, ...]] | None = None
        self._like = _clusters(block)
        self._supply = Counter(self._like)
        self._looked_at = False

    def supply(self) -> Counter[int]:
        """How many patches the block has of each size; looks at the shapes of those that agree by chance, too."""
        close = [patch for patch, like in enumerate(self._like) if self._supply[like] > 1]
        if len(close) <= MOST_LOOKED_AT and not self._looked_at:
            for patch in close:
                self._like[patch] = -self.kind((patch,))[0]
            self._supply, self._looked_at = Counter(self._like), True
        return self._supply

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

        Where that can be done in several ways, that one is taken in which the block's edge, and seams that arrive
        from outside, come to lie on each other best, so that one drawing may serve both; then the one that rotates
        least; then the one that gives the lowest numbers, first to last.

        Args:
            first: a section, its patches in any order, which the answer keeps.
            other: a section of the same kind; with `mirrored` one of the mirror image's kind.
        """
        one, two = self.shape(first), self.shape(tuple(other))
        walk = one.walks[0]
        fitting = [w for w in two.walks if (w.mirrored != walk.mirrored) == mirrored]
        ways = [dict(zip(walk.patches, other_walk.patches, strict=True)) for other_walk in fitting]
        orders = [tuple(lies[patch] for patch in first) for lies in ways]
        if len(orders) == 1:
            return orders[0]
        around, beside = self._around(walk.patches), self._around(fitting[0].patches)

        def misfit(way: int) -> tuple[int, int, tuple[int, ...]]:
            (corner, onto), (origin, ahead) = self._frame(walk), self._frame(fitting[way])
            laid = [(onto * _seen((z - origin) / ahead, mirrored) + corner, outer) for z, outer in beside]
            alone = sum(not _among(spot, laid) for spot in around) + sum(not _among(spot, around) for spot in laid)
            # How far a mirror image is rotated says nothing: it depends on the side that one looks along.
            rotated = 0 if mirrored else round(abs(math.degrees(cmath.phase(onto / ahead))) * 10)
            return alone, rotated, orders[way]

        return orders[min(range(len(orders)), key=misfit)]

    def _frame(self, walk: Walk) -> tuple[complex, complex]:
        """Where a walk begins, and in which direction."""
        origin, ahead = (complex(*self.block.points[p]) for p in walk.points[:2])
        return origin, (ahead - origin) / abs(ahead - origin)

    def _around(self, patches: Iterable[int]) -> list[tuple[complex, bool]]:
        """Places round a section: where seams arrive from outside (False), middles of its outer edges (True)."""
        block, inside = self.block, frozenset(patches)
        found: dict[int, None] = {}
        spots: list[tuple[complex, bool]] = []
        for number in dict.fromkeys(e for patch in patches for e in block.patches[patch].edges):
            edge = block.edges[number]
            if OUTSIDE in (edge.left, edge.right):
                middle = (complex(*block.points[edge.start]) + complex(*block.points[edge.end])) / 2
                spots.append((middle, True))
            elif not (edge.left in inside and edge.right in inside):
                found[edge.start] = found[edge.end] = None
        arrivals = [p for p in found if sum(patch not in inside for patch in self._fan(p)) > 1]
        return spots + [(complex(*block.points[p]), False) for p in arrivals]

    def _fan(self, point: int) -> tuple[int, ...]:
        """The patches round a point."""
        if self._fans is None:
            fans: dict[int, list[int]] = {}
            for number, patch in enumerate(self.block.patches):
                for p in dict.fromkeys(patch.ring):
                    fans.setdefault(p, []).append(number)
            self._fans = {p: tuple(fan) for p, fan in fans.items()}
        return self._fans[point]

    def _number(self, shape: Shape) -> int:
        """The number of a shape, mirror images alike."""
        alike = self._known.setdefault((shape.code, shape.fabrics), [])
        for sizes, number in alike:
            if all(abs(a - b) <= GAP_IN for a, b in zip(sizes, shape.sizes, strict=True)):
                return number
        self._count += 1
        alike.append((shape.sizes, self._count))
        return self._count


def _seen(z: complex, mirrored: bool) -> complex:
    """A point as a walk of the other hand sees it."""
    return z.conjugate() if mirrored else z


def _among(spot: tuple[complex, bool], spots: Iterable[tuple[complex, bool]]) -> bool:
    return any(outer == spot[1] and abs(z - spot[0]) < SAME_SPOT_IN for z, outer in spots)


def _clusters(block: Block) -> list[int]:
    """For each patch the number of its cluster: one fabric, and areas without a gap between them."""
    rows = []
    for number, patch in enumerate(block.patches):
        ring = block.patch_ring(number)
        # Sides that are off by less than the gap make areas that are off by less than gap times girth.
        girth = math.fsum(math.dist(a, b) for a, b in zip(ring, (*ring[1:], ring[0]), strict=True))
        rows.append((patch.fabric or "", signed_area(ring), number, GAP_IN * girth))
    rows.sort()
    found = [0] * len(rows)
    cluster, before = -1, ("", -math.inf)
    for fabric, area, number, gap in rows:
        if fabric != before[0] or area - before[1] > gap:
            cluster += 1
        found[number] = cluster
        before = (fabric, area)
    return found
