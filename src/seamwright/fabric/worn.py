"""The fabrics that a block wears: how much there is of each, and what lies beside what.

Knows:  patches and area of each fabric, which fabrics share seams and how they stand beside each other there.
Leaves: what contrast and value are (contrast, shade), which points vanish (piecing.vanishing),
        words (words.fabrics).
Units:  inches and square inches of the finished block.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from itertools import pairwise

from seamwright.block.asseen import as_seen
from seamwright.block.model import OUTSIDE, Block
from seamwright.fabric.contrast import contrast, read_alike, warmth
from seamwright.fabric.model import Fabric, Value
from seamwright.fabric.shade import value_of
from seamwright.geometry import signed_area


@dataclass(frozen=True, slots=True)
class Wear:
    """One fabric as a block wears it.

    Attributes:
        value, warmth: as its owner says, else by its colour; None and "" if neither is known.
        patches: numbers of the patches that are of it, or have a part of it pieced beforehand.
        pieces: how many patches and parts that is.
        area_in2: of them all, finished; share: of the whole block, 0 to 1.
    """

    fabric: Fabric
    value: Value | None
    warmth: str
    patches: tuple[int, ...]
    pieces: int
    area_in2: float
    share: float


@dataclass(frozen=True, slots=True)
class Beside:
    """Two fabrics that share seams.

    Attributes:
        contrast: 1 to 21; None if the colour of one is not known.
        alike: the eye loses the edge between them.
        seam_in: length of all seams they share.
    """

    one: Fabric
    other: Fabric
    contrast: float | None
    alike: bool
    seam_in: float


@dataclass(frozen=True, slots=True)
class Worn:
    """All fabrics of a block.

    Attributes:
        wear: by the order of the block's fabrics; those of other colourways are left out.
        beside: those that read alike first, then the least contrast first; those of which none is known last.
        bare: numbers of patches of which, or of a part of which, no fabric is known.
    """

    wear: tuple[Wear, ...]
    beside: tuple[Beside, ...]
    bare: tuple[int, ...]

    @property
    def values(self) -> tuple[Value, ...]:
        """The values there are, light ones first."""
        there = {wear.value for wear in self.wear}
        return tuple(value for value in Value if value in there)


def worn(block: Block) -> Worn:
    """What a block wears."""
    block, lies_in = as_seen(block)
    areas = [
        abs(signed_area(block.patch_ring(n))) - math.fsum(abs(signed_area(hole)) for hole in block.patch_holes(n))
        for n in range(len(block.patches))
    ]
    whole, fabrics = math.fsum(areas), {fabric.name: fabric for fabric in block.fabrics}
    of = [fabrics.get(patch.fabric or "") for patch in block.patches]
    wear = []
    for fabric in block.fabrics:
        patches = tuple(n for n, worn_there in enumerate(of) if worn_there is fabric)
        if patches:
            area = math.fsum(areas[n] for n in patches)
            within = tuple(dict.fromkeys(lies_in[n] for n in patches))
            wear.append(Wear(fabric, value_of(fabric), warmth(fabric), within, len(patches), area, area / whole))
    return Worn(
        tuple(wear),
        _beside(block, of),
        tuple(dict.fromkeys(lies_in[n] for n, fabric in enumerate(of) if fabric is None)),
    )


def _beside(block: Block, of: list[Fabric | None]) -> tuple[Beside, ...]:
    rank = {fabric.name: n for n, fabric in enumerate(block.fabrics)}
    lengths: dict[tuple[str, str], list[float]] = {}
    for number, edge in enumerate(block.edges):
        if OUTSIDE in (edge.left, edge.right):
            continue
        left, right = of[edge.left], of[edge.right]
        if left is None or right is None or left is right:
            continue
        one, other = sorted((left.name, right.name), key=rank.__getitem__)
        run = block.edge_points(number)
        lengths.setdefault((one, other), []).append(math.fsum(math.dist(a, b) for a, b in pairwise(run)))
    fabrics = {fabric.name: fabric for fabric in block.fabrics}
    found = [
        Beside(a, b, contrast(a, b), read_alike(a, b), math.fsum(lengths[a.name, b.name]))
        for a, b in ((fabrics[one], fabrics[other]) for one, other in lengths)
    ]
    return tuple(
        sorted(
            found,
            key=lambda p: (not p.alike, p.contrast or math.inf, rank[p.one.name], rank[p.other.name]),
        )
    )
