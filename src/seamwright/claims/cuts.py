"""What a cutting list claims, as bare rectangles for its proof.

Knows:  which fact of a list stands where in a claim.
Leaves: the proof (proof.cut), the list (cutting).
Units:  inches.
"""

from __future__ import annotations

import math
from collections.abc import Sequence

from seamwright.cutting import amounts
from seamwright.cutting.model import Cutting, FabricCut, Strip
from seamwright.cutting.rows import parts_of
from seamwright.fabric.pieces import Piece, Shape
from seamwright.geometry import Ring
from seamwright.options import Cloth, Units
from seamwright.proof.cut import CutClaim, CutPieces, CutStrip, NeededPiece

NEAR_GRAIN_DEG = 1.5
"""A side that lies along the print but for this is one along the print: half a thread in a hem's width."""
RULER_IN = 0.005
"""A ruler shows no less: what it cuts may be off the drawing by as much."""


def cut_claims(cutting: Cutting) -> list[CutClaim]:
    """One claim for each fabric, and one for the fat quarters that it could be cut from instead."""
    counted = [(part, cutting.options.blocks) for part in parts_of(cutting.pieces)]
    return [
        claim
        for cut in cutting.fabrics
        for claim in fabric_claims(cut, counted, cutting.options.spare, cutting.plan.options.units)
    ]


def fabric_claims(
    cut: FabricCut, counted: Sequence[tuple[Piece, int]], spare: float, units: Units
) -> list[CutClaim]:
    """One claim for a fabric, and one for the fat quarters that it could be cut from instead.

    Args:
        counted: the pieces that are cut, of this fabric and of others, and how many of each are needed in all.
    """
    return [_claim(each, counted, spare, units) for each in (cut, cut.instead) if each is not None]


def _claim(cut: FabricCut, counted: Sequence[tuple[Piece, int]], spare: float, units: Units) -> CutClaim:
    name = None if cut.fabric is None else cut.fabric.name
    quartered = cut.cloth is Cloth.FAT_QUARTERS
    # Not the width that the list says it counted with, but the one that it should have. Strips lie along either
    # side of a fat quarter, and take room of the other.
    sides = sorted(amounts.QUARTER_USABLE_IN[units], key=lambda side: abs(side - cut.width_in))
    own = cut.fabric.width_in if cut.fabric is not None else None
    cloth = sides[0] if quartered else own or amounts.USABLE_IN[units]
    bought = cut.fat_quarters if quartered else cut.bought_in
    assert bought is not None
    return CutClaim(
        "a fabric not named" if name is None else name,
        tuple(_needed(piece, count) for piece, count in counted if piece.fabric == name),
        tuple(map(_strip, cut.strips)),
        cloth,
        tuple((quarter.count, quarter.strips) for quarter in cut.quarters),
        sides[1],
        amounts.STRAIGHTEN_IN[units],
        spare,
        bought,
        tuple(patch for row in cut.too_large for patch in row.patches),
        cut.left_over,
    )


def _needed(piece: Piece, count: int) -> NeededPiece:
    kind = f"{piece.shape.value} {piece.hand}".strip()
    if not piece.one_way or piece.grain_deg is None:
        size = piece.width_in, piece.height_in
        return NeededPiece(piece.name, *size, piece.share, kind, not piece.one_way, count)
    # Sides as they lie in the block, along the print and across it.
    # What is boxed along its grain has no side there.
    boxed = piece.shape is Shape.TEMPLATE
    turn = math.radians(piece.grain_deg if boxed else _side_deg(piece.outline, piece.grain_deg))
    along, across = (
        max(values) - min(values)
        for values in (
            [x * math.cos(turn) + y * math.sin(turn) for x, y in piece.outline],
            [y * math.cos(turn) - x * math.sin(turn) for x, y in piece.outline],
        )
    )
    width, height = _as_cut(across, piece), _as_cut(along, piece)
    return NeededPiece(piece.name, width, height, piece.share, kind, turns=False, count=count)


def _as_cut(length_in: float, piece: Piece) -> float:
    """A length of what lies in the block, as a ruler cuts it: that of a side of the piece if it is so near."""
    return min((s for s in (piece.width_in, piece.height_in) if abs(s - length_in) <= RULER_IN), default=length_in)


def _side_deg(ring: Ring, grain_deg: float) -> float:
    """The direction of the side along the grain, as near as a sewer can lay it; the grain itself if none is."""
    around = zip(ring, (*ring[1:], ring[0]), strict=True)
    sides = (math.degrees(math.atan2(b[1] - a[1], b[0] - a[0])) for a, b in around)
    off = min(((side - grain_deg + 90) % 180 - 90 for side in sides), key=abs)
    return grain_deg + off if abs(off) <= NEAR_GRAIN_DEG else grain_deg


def _strip(strip: Strip) -> CutStrip:
    pieces = tuple(
        CutPieces(sub.length_in, sub.height_in, sub.count, sub.patches, f"{sub.shape.value} {sub.hand}".strip())
        for sub in strip.subcuts
    )
    return CutStrip(strip.width_in, strip.length_in, strip.count, pieces, tuple(map(_strip, strip.rest)))
