"""From a plan to what is sewn in rehearsal: numbers become coordinates, and no stitch line passes.

Knows:  plans, blocks and the rehearsal's input.
Leaves: sewing (rehearsal).
"""

from __future__ import annotations

from seamwright.block.rings import region_ring
from seamwright.piecing.model import Plan
from seamwright.rehearsal.model import JoinToSew, PatchToSew, SectionToSew, Sewing


def sewing_of(plan: Plan) -> Sewing:
    """What a plan with sections says is sewn, in coordinates: patches in their order, sections and joins."""
    block, names = plan.block, plan.patch_names()
    return Sewing(
        sections=tuple(
            SectionToSew(
                section.name,
                tuple(PatchToSew(names[p], block.patch_ring(p), block.patches[p].fabric) for p in section.patches),
                region_ring(block, section.patches),
            )
            for section in plan.sections
        ),
        joins=tuple(JoinToSew(join.first, join.second, join.makes, join.kind) for join in plan.joins),
        outline=region_ring(block, range(len(block.patches))),
        allowance_in=plan.options.seam_allowance_in,
    )
