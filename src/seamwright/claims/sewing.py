"""From a plan to what is sewn in rehearsal: numbers become coordinates, and no stitch line passes.

Knows:  plans, blocks, trim outlines, marks on prints and the rehearsal's input.
Leaves: sewing (rehearsal).
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

from seamwright.block.model import Block
from seamwright.block.rings import region_ring
from seamwright.fabric.pieces import EXTRA_IN, Lay, Piece
from seamwright.geometry import Affine, Point, Ring, Segment
from seamwright.piecing.model import Plan
from seamwright.rehearsal.model import JoinToSew, PartToSew, PatchToSew, PieceToLay, SectionToSew, Sewing

if TYPE_CHECKING:
    from seamwright.foundation.model import Foundation


@dataclass(frozen=True, slots=True)
class Marks:
    """What the paper shows of where a piece is laid, front view.

    Attributes:
        ticks: across the trimmed edge. edges, middles: of an outline what is drawn.
        sure: the paper does not ask to fold it back.
    """

    ticks: tuple[Segment, ...] = ()
    edges: tuple[Segment, ...] = ()
    middles: tuple[Segment, ...] = ()
    sure: bool = True


def sewing_of(plan: Plan, pieces: Sequence[Piece] = (), marks: Mapping[int, Marks] | None = None) -> Sewing:
    """What a plan with sections says is sewn, in coordinates: patches in order, sections with their trim, joins.

    Args:
        pieces: the fabric as it is cut for each patch; patches without one are cut by the rehearsal's own hands.
        marks: by number of the patch what prints show of pieces; of others all that may be shown.
    """
    from seamwright.foundation.trims import trim_outlines

    block, names, trims = plan.block, plan.patch_names(), trim_outlines(plan)
    seen = {**_wished(plan, pieces, trims), **(marks or {})}
    given = {piece.patch: _to_lay(piece, block, seen[piece.patch]) for piece in pieces}
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


def _to_lay(piece: Piece, block: Block, marks: Marks) -> PieceToLay:
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
        ticks=marks.ticks,
        drawn=(piece.laid or piece.outline) if piece.parts else (),
        edges=marks.edges,
        middles=marks.middles,
        folded=not marks.sure,
        grain_deg=piece.grain_deg if runs_deg is None else runs_deg % 180,
        runs=piece.runs if runs_deg is None else piece.runs or "width",
    )


def printed_marks(plan: Plan, prints: Sequence[Foundation]) -> dict[int, Marks]:
    """What prints show of where pieces are laid, by number of the patch; nothing of those that are not sewn on."""
    found: dict[int, Marks] = {}
    sections = {section.name: section for section in plan.sections}
    for one in prints:
        patches = sections[one.section].patches
        for patch, printed in zip(patches, one.patches, strict=True) if len(patches) == len(one.patches) else ():
            if (laid := printed.laid) is not None:
                ticks, edges, middles = (_back(one.front, lines) for lines in (laid.ticks, laid.legs, laid.middles))
                found[patch] = Marks(ticks, edges, middles, laid.sure)
    return found


def _wished(plan: Plan, pieces: Sequence[Piece], trims: Mapping[str, Ring]) -> dict[int, Marks]:
    """What paper may show of pieces, where no word stands in the way."""
    from seamwright.fabric.laying import off_most, room_of, shown

    where = {patch: section.name for section in plan.sections for patch in section.patches}
    found: dict[int, Marks] = {}
    for piece in pieces:
        found[piece.patch] = Marks(piece.ticks)
        if piece.lay is Lay.ANGLED:
            off = off_most(plan.options.seam_allowance_in)
            one = shown(piece.laid, room_of(trims[where[piece.patch]]), off_in=off, sure=piece.sure)
            found[piece.patch] = Marks(piece.ticks, one.legs, one.middles, one.enough)
    return found


def _back(front: Affine, lines: Sequence[Segment]) -> tuple[Segment, ...]:
    """Printed lines as they lie in the front view, which `front` lays on the print."""
    a, b, c, d, e, f = front
    over = a * d - b * c

    def point(at: Point) -> Point:
        x, y = at[0] - e, at[1] - f
        return ((d * x - c * y) / over, (a * y - b * x) / over)

    return tuple((point(one), point(two)) for one, two in lines)
