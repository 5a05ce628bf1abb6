"""From a plan to what is sewn in rehearsal: numbers become coordinates, and no stitch line passes.

Knows:  plans, blocks, trim outlines and the rehearsal's input.
Leaves: sewing (rehearsal).
"""

from __future__ import annotations

from collections.abc import Sequence

from seamwright.block.model import Block
from seamwright.block.rings import region_ring
from seamwright.fabric.pieces import EXTRA_IN, Lay, Piece
from seamwright.geometry import Ring
from seamwright.picture import tints
from seamwright.piecing.model import Plan
from seamwright.rehearsal.model import JoinToSew, PartToSew, PatchToSew, PieceToLay, SectionToSew, Sewing


def sewing_of(plan: Plan, pieces: Sequence[Piece] = ()) -> Sewing:
    """What a plan with sections says is sewn, in coordinates: patches in order, sections with their trim, joins.

    Args:
        pieces: the fabric as it is cut for each patch; patches without one are cut by the rehearsal's own hands.
    """
    from seamwright.foundation.trims import trim_outlines

    block, names, trims = plan.block, plan.patch_names(), trim_outlines(plan)
    given = {piece.patch: _to_lay(piece, block) for piece in pieces}
    parts = {piece.patch: _parts(block, piece) for piece in pieces if piece.parts}
    return Sewing(
        sections=tuple(
            SectionToSew(
                section.name,
                tuple(
                    PatchToSew(
                        names[p], block.patch_ring(p), block.patches[p].fabric, given.get(p), parts.get(p, ())
                    )
                    for p in section.patches
                ),
                region_ring(block, section.patches),
                trims[section.name],
                section.method == "ruler",
            )
            for section in plan.sections
        ),
        joins=tuple(
            JoinToSew(j.first, j.second, j.makes, j.kind, tuple(block.points[p] for p in j.turns))
            for j in plan.joins
        ),
        outline=region_ring(block, range(len(block.patches))),
        allowance_in=plan.options.seam_allowance_in,
        extra_in=EXTRA_IN[plan.options.units],
        edges=tuple((run[0], run[1]) for run in block.outline_sides() if len(run) == 2),
    )


def _parts(block: Block, piece: Piece) -> tuple[PartToSew, ...]:
    """The parts of a patch that is pieced beforehand, as drawn and as cut."""
    drawn = block.parts_of(piece.patch)
    return tuple(
        PartToSew(part.ring, cut.width_in, cut.height_in) for part, cut in zip(drawn, piece.parts, strict=True)
    )


def _to_lay(piece: Piece, block: Block) -> PieceToLay:
    """What is cut and printed of a piece; where it comes to lie the rehearsal has to find out.

    Which way a print has to run in the end is a fact of the drawing, whatever the piece says of it.
    """
    runs_deg = next((f.direction_deg for f in block.fabrics if f.name == piece.fabric), None)
    return PieceToLay(
        name=piece.name,
        shape=piece.shape.value,
        width=piece.width_in,
        height=piece.height_in,
        lay=piece.lay.value,
        hand=piece.hand,
        ticks=piece.ticks,
        drawn=piece.laid if piece.lay is Lay.ANGLED else piece.outline if piece.parts else (),
        grain_deg=piece.grain_deg if runs_deg is None else runs_deg % 180,
        runs=piece.runs if runs_deg is None else piece.runs or "width",
    )


def part_colours(plan: Plan) -> dict[str, tuple[tuple[Ring, str], ...]]:
    """The parts of every patch that is pieced beforehand, by the patch's name: the ring of each and its colour."""
    names, colours = plan.patch_names(), tints.fabric_colours(plan.block)
    return {
        names[made.patch]: tuple((part.ring, colours.get(part.fabric or "", tints.WHITE)) for part in made.parts)
        for made in plan.block.pre_pieced
    }


def patch_colours(plan: Plan) -> dict[str, str]:
    """The colour of every patch by its name."""
    return dict(zip(plan.patch_names(), tints.patch_colours(plan.block), strict=True))
