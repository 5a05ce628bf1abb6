"""From a plan to the claim that the checker judges: numbers become coordinates, and nothing else passes.

Knows:  plans, blocks and claims.
Leaves: judging (proof.checker).
"""

from __future__ import annotations

from seamwright.block.model import Block
from seamwright.block.rings import region_ring, run_points, seam_points
from seamwright.piecing.model import Plan, Section
from seamwright.proof.claim import Claim, ClaimedJoin, ClaimedSection, ClaimedStep


def claim_of(plan: Plan) -> Claim:
    """What a plan with sections claims, in coordinates."""
    block = plan.block
    return Claim(
        lines=tuple(seam_points(block, number) for number in range(len(block.seams))),
        outline=region_ring(block, range(len(block.patches))),
        sections=tuple(_section(block, section) for section in plan.sections),
        joins=_joins(plan),
    )


def _section(block: Block, section: Section) -> ClaimedSection:
    steps = tuple(
        ClaimedStep(
            block.patch_ring(step.patch),
            block.patch_holes(step.patch),
            run_points(block, step.stitch, (step.patch,)),
        )
        for step in section.steps
    )
    return ClaimedSection(
        section.name, steps, run_points(block, (*section.outline, section.outline[0]), section.patches)[:-1]
    )


def _joins(plan: Plan) -> tuple[ClaimedJoin, ...]:
    patches = {section.name: section.patches for section in plan.sections}
    claimed = []
    for join in plan.joins:
        first = patches.get(join.first, ())
        claimed.append(
            ClaimedJoin(join.first, join.second, join.makes, run_points(plan.block, join.seam, first), join.kind)
        )
        patches[join.makes] = first + patches.get(join.second, ())
    return tuple(claimed)
