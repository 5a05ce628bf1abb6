"""Mends of a drawing and of its copy: whether they are the same changes, up to the symmetries of the drawing.

Knows:  places of changes, compared to a hundred-thousandth of an inch, whichever way a segment runs.
Leaves: whether a mend is any good.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence

from seamwright.block.model import Block
from seamwright.geometry import Affine, Point, Segment, after, bounds, moved
from seamwright.mend.alike import symmetries
from seamwright.piecing.model import Mend

NEAR_IN = 1e-5


def home(block: Block, affine: Affine) -> Affine:
    """How a block comes to lie on its copy: as `affine`, but that a block begins at the origin."""
    left, top, _, _ = bounds([moved(affine, p) for p in block.points])
    return (*affine[:4], affine[4] - left, affine[5] - top)


def same_mends(block: Block, mends: Sequence[Mend], copies: Sequence[Mend], affine: Affine) -> bool:
    """Whether a copy has the mends of the block, each once; which of several that are alike is shown is open."""
    lays = [after(way, home(block, affine)) for way in symmetries(block)]
    left = list(copies)
    for mend in mends:
        found = next((copy for copy in left if any(_is_copy(mend, copy, lay) for lay in lays)), None)
        if found is None:
            return False
        left.remove(found)
    return not left


def _is_copy(mend: Mend, copy: Mend, lay: Affine) -> bool:
    if (mend.kind, mend.extra_patches) != (copy.kind, copy.extra_patches):
        return False

    def there(segments: Iterable[Segment]) -> list[Segment]:
        return [(moved(lay, a), moved(lay, b)) for a, b in segments]

    return (
        _same(there(mend.moved), copy.moved, both_ways=False)
        and _same(there(mend.seams), copy.seams)
        and _same(there(mend.dropped), copy.dropped)
    )


def _same(one: Sequence[Segment], other: Sequence[Segment], both_ways: bool = True) -> bool:
    left = list(other)
    for a, b in one:
        ways = [(a, b), (b, a)] if both_ways else [(a, b)]
        found = next((s for s in left if any(_near(s[0], p) and _near(s[1], q) for p, q in ways)), None)
        if found is None:
            return False
        left.remove(found)
    return not left


def _near(p: Point, q: Point) -> bool:
    return math.dist(p, q) <= NEAR_IN
