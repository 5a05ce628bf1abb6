"""From a plan to the claim that the checker judges: numbers become coordinates, and nothing else passes.

Knows:  plans, blocks and claims.
Leaves: judging (proof.checker).
"""

from __future__ import annotations

from seamwright.block.model import Block
from seamwright.block.rings import Runs, region_ring, seam_points
from seamwright.piecing.model import Join, Plan, Section
from seamwright.proof.claim import Claim, ClaimedJoin, ClaimedSection, ClaimedStep


def claim_of(plan: Plan) -> Claim:
    """What a plan with sections claims, in coordinates."""
    block, runs = plan.block, Runs(plan.block)
    return Claim(
        lines=tuple(seam_points(block, number) for number in range(len(block.seams))),
        outline=region_ring(block, range(len(block.patches))),
        sections=tuple(_section(block, runs, section) for section in plan.sections),
        joins=tuple(
            ClaimedJoin(
                join.first,
                join.second,
                join.makes,
                runs.along(join.seam, first, second),
                join.kind,
                tuple(block.points[p] for p in join.turns),
            )
            for join, first, second in joined_parts(plan)
        ),
    )


def joined_parts(plan: Plan) -> list[tuple[Join, tuple[int, ...], tuple[int, ...]]]:
    """The joins in sewing order, each with the patches of its two parts (none if there is no such part)."""
    patches = {section.name: section.patches for section in plan.sections}
    parts = []
    for join in plan.joins:
        first, second = patches.get(join.first, ()), patches.get(join.second, ())
        parts.append((join, first, second))
        patches[join.makes] = first + second
    return parts


def _section(block: Block, runs: Runs, section: Section) -> ClaimedSection:
    steps = tuple(
        ClaimedStep(
            block.patch_ring(step.patch),
            block.patch_holes(step.patch),
            runs.along(step.stitch, (step.patch,), section.patches[:number]),
        )
        for number, step in enumerate(section.steps)
    )
    ring = runs.around(section.outline, section.patches)
    return ClaimedSection(section.name, steps, ring)
