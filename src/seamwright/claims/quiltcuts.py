"""What the cutting of a quilt claims, in bare coordinates and numbers for its proof.

Knows:  which fact of a quilt and of its cutting stands where in a claim.
Leaves: the proofs (proof.cut, proof.quiltcut), the cutting itself (quilt.cutting).
Units:  inches.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator

from seamwright.claims.cuts import fabric_claims
from seamwright.cutting import amounts
from seamwright.cutting.pieces import pieces_of
from seamwright.cutting.rows import parts_of
from seamwright.proof.cut import CutClaim
from seamwright.proof.quiltcut import BackClaim, CutPlain, JoinedClaim, PlainPiece, QuiltCutClaim
from seamwright.quilt.cutmodel import Counted, Joint, QuiltCutting
from seamwright.quilt.extras import BINDING_MORE_IN
from seamwright.quilt.plaincuts import print_deg


def claims_of_fabrics(cutting: QuiltCutting) -> list[CutClaim]:
    """One claim for each fabric, and one for the fat quarters that it could be cut from instead."""
    counted = [(each.piece, each.count) for each in cutting.pieces]
    return [
        claim
        for cut in cutting.fabrics
        for claim in fabric_claims(cut, counted, cutting.options.spare, cutting.units)
    ]


def claim_of_cutting(cutting: QuiltCutting) -> QuiltCutClaim:
    """What is cut for the pieces of a quilt, and how strips and panels are joined."""
    quilt = cutting.quilt
    fabrics = {fabric.name: fabric for fabric in quilt.fabrics}
    plain = tuple(
        PlainPiece(
            cloth.ring,
            cloth.fabric,
            f"{cloth.role.value} in {cloth.part}, row {cloth.row}, place {cloth.column}",
            # What runs one way lies as its print does, and borders say so.
            None if print_deg(cloth, fabrics.get(cloth.fabric)) is not None else cloth.grain_deg,
            print_deg(cloth, fabrics.get(cloth.fabric)),
        )
        for cloth in quilt.cloths
    )
    lengths = [each for strips in cutting.joined for each in strips.lengths]
    return QuiltCutClaim(
        cutting.allowance_in,
        plain,
        tuple(_plain(each) for each in (*cutting.pieces, *lengths) if each.cloths),
        tuple(_patches(cutting)),
        tuple(
            JoinedClaim(
                strips.name,
                strips.width_in,
                strips.strip_in,
                strips.strips,
                strips.lost_in,
                strips.joint is Joint.DIAGONAL,
                tuple((each.piece.width_in, each.count) for each in strips.lengths),
            )
            for strips in cutting.joined
        ),
        _binding(cutting),
        _back(cutting),
    )


def _plain(each: Counted) -> CutPlain:
    piece = each.piece
    size = (piece.height_in, piece.width_in) if piece.runs == "width" else (piece.width_in, piece.height_in)
    return CutPlain(piece.fabric or "", each.cloths, piece.shape.value, *size, piece.share, each.count)


def _patches(cutting: QuiltCutting) -> Iterator[tuple[int, tuple[tuple[str, int], ...], tuple[str, ...]]]:
    times = Counter(spot.look for spot in cutting.quilt.spots)
    counted: dict[int | None, list[tuple[str, int]]] = {}
    for each in cutting.pieces:
        counted.setdefault(each.look, []).append((each.patch, each.count))
    for number, plan in enumerate(cutting.plans):
        if times[number]:
            expected = tuple(piece.name for piece in parts_of(pieces_of(plan)))
            yield times[number], tuple(counted.get(number, ())), expected


def _binding(cutting: QuiltCutting) -> JoinedClaim | None:
    made, quilt = cutting.binding, cutting.quilt
    if made is None:
        return None
    edge = 2 * (quilt.width_in + quilt.height_in) + BINDING_MORE_IN[cutting.units]
    size = made.width_in, made.strip_in, made.strips
    return JoinedClaim("strips of the binding", *size, made.width_in, True, ((edge, 1),))


def _back(cutting: QuiltCutting) -> BackClaim | None:
    made, quilt = cutting.backing, cutting.quilt
    if made is None:
        return None
    size = quilt.width_in + 2 * made.over_in, quilt.height_in + 2 * made.over_in
    return BackClaim(
        *size,
        made.usable_in,
        made.panels,
        made.panel_in,
        made.upright,
        made.seam_in,
        amounts.STRAIGHTEN_IN[cutting.units],
        made.bought_in,
    )
