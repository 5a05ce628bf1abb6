"""Names in patches: as large as they find room, at the roomiest place.

Knows:  how the largest size that fits is found.
Leaves: which names, what they keep clear of (the caller), places (ink.place).
Method: a smaller name fits wherever a larger one does, so sizes are halved, not tried one by one.
"""

from __future__ import annotations

from collections.abc import Sequence

from seamwright.geometry import Ring
from seamwright.ink.model import Words
from seamwright.ink.place import place_words


def name_in(
    rings: Sequence[Ring],
    name: str,
    sizes_pt: Sequence[float],
    *,
    obstacles: Sequence[Sequence[tuple[float, float]]] = (),
    clearance_pt: float = 1.0,
    unit_pt: float = 72.0,
) -> Words | None:
    """A name inside a patch at the largest of some sizes that fits, or None.

    Args:
        rings: of the patch, the outer one first.
        sizes_pt: the largest first.
        obstacles, clearance_pt, unit_pt: as for `place_words`.
    """
    ring, *holes = rings

    def at(size: float) -> Words | None:
        return place_words(
            ring, name, (size,), holes=holes, obstacles=obstacles, clearance_pt=clearance_pt, unit_pt=unit_pt
        )

    best = at(sizes_pt[0])
    if best is not None:
        return best
    low, high = 1, len(sizes_pt)
    while low < high:
        middle = (low + high) // 2
        placed = at(sizes_pt[middle])
        if placed is None:
            low = middle + 1
        else:
            best, high = placed, middle
    return best
