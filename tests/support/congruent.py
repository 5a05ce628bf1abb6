"""Which sets of patches can be laid on each other, found by trying every rotation: shares nothing with the planner.

Knows:  rotations as complex factors; patches as their corners, to 1e-6.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from seamwright.block.model import Block
from seamwright.geometry import canonical_ring

SAME = 1e-6
Shape = tuple[tuple[complex, ...], str | None]
"""Corners of a patch, clockwise, and its fabric."""


def shapes(block: Block, patches: Iterable[int]) -> list[Shape]:
    """The patches' corners as complex numbers, with their fabrics."""
    return [
        (tuple(complex(*p) for p in canonical_ring(block.patch_ring(patch))), block.patches[patch].fabric)
        for patch in sorted(patches)
    ]


def can_be_laid_on(one: list[Shape], two: list[Shape]) -> bool:
    """Whether a rotation and a shift lay one set of patches on another, patch on patch."""
    if len(one) != len(two):
        return False
    return any(
        all(any(_equal([factor * z + shift for z in ring], fabric, other) for other in two) for ring, fabric in one)
        for factor, shift in _motions(one[0][0], [ring for ring, _ in two])
    )


def mirrored(one: list[Shape]) -> list[Shape]:
    """The mirror image."""
    return [(tuple(z.conjugate() for z in reversed(ring)), fabric) for ring, fabric in one]


def kinds(block: Block, sections: Iterable[Iterable[int]]) -> int:
    """How many different foundations the sections of two patches or more need."""
    found: list[list[Shape]] = []
    for section in sections:
        here = shapes(block, section)
        if len(here) > 1 and not any(can_be_laid_on(here, other) for other in found):
            found.append(here)
    return len(found)


def _motions(ring: tuple[complex, ...], others: list[tuple[complex, ...]]) -> Iterator[tuple[complex, complex]]:
    """Every motion that lays the first side of a ring on an equally long side of another."""
    a, b = ring[0], ring[1]
    for other in others:
        for c, d in zip(other, other[1:] + other[:1], strict=True):
            if abs(abs(b - a) - abs(d - c)) < SAME:
                factor = (d - c) / (b - a)
                factor /= abs(factor)
                yield factor, c - factor * a


def _equal(ring: list[complex], fabric: str | None, other: Shape) -> bool:
    corners, its_fabric = other
    return (
        fabric == its_fabric
        and len(ring) == len(corners)
        and all(min(abs(z - w) for w in corners) < SAME for z in ring)
    )
