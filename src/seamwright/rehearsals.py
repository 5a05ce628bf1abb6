"""From a plan to what is sewn in rehearsal: numbers become coordinates, and no stitch line passes.

Knows:  plans, blocks, trim outlines and the rehearsal's input.
Leaves: sewing (rehearsal).
"""

from __future__ import annotations

from seamwright.block.rings import region_ring
from seamwright.picture import tints
from seamwright.piecing.model import Plan
from seamwright.rehearsal.model import JoinToSew, PatchToSew, SectionToSew, Sewing


def sewing_of(plan: Plan) -> Sewing:
    """What a plan with sections says is sewn, in coordinates: patches in order, sections with their trim, joins."""
    from seamwright.foundation.trims import trim_outlines

    block, names, trims = plan.block, plan.patch_names(), trim_outlines(plan)
    return Sewing(
        sections=tuple(
            SectionToSew(
                section.name,
                tuple(PatchToSew(names[p], block.patch_ring(p), block.patches[p].fabric) for p in section.patches),
                region_ring(block, section.patches),
                trims[section.name],
            )
            for section in plan.sections
        ),
        joins=tuple(
            JoinToSew(j.first, j.second, j.makes, j.kind, tuple(block.points[p] for p in j.turns))
            for j in plan.joins
        ),
        outline=region_ring(block, range(len(block.patches))),
        allowance_in=plan.options.seam_allowance_in,
    )


def patch_colours(plan: Plan) -> dict[str, str]:
    """The colour of every patch by its name."""
    return dict(zip(plan.patch_names(), tints.patch_colours(plan.block), strict=True))
