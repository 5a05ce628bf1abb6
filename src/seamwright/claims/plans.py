"""From a plan to the claim that the checker judges: numbers become coordinates, and nothing else passes.

Knows:  plans, blocks, trim outlines and claims.
Leaves: judging (proof.checker, proof.trimmed).
"""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from typing import TYPE_CHECKING

from seamwright.block.model import Block
from seamwright.block.rings import Runs, region_ring, seam_points
from seamwright.geometry import Ring
from seamwright.options import Units
from seamwright.piecing.model import Join, Plan, Section
from seamwright.proof.claim import Claim, ClaimedJoin, ClaimedSection, ClaimedStep

if TYPE_CHECKING:  # only printing needs it; check starts faster without
    from seamwright.foundation.model import Foundation
    from seamwright.proof.trimmed import TrimClaim


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
        metric=plan.options.units is Units.METRIC,
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
    return ClaimedSection(section.name, steps, ring, by_ruler=section.method == "ruler")


def trim_claim_of(plan: Plan, trims: Mapping[str, Ring]) -> TrimClaim:
    """What trim outlines claim of a plan with sections, in coordinates.

    Args:
        trims: of every section by its name, front view.
    """
    from seamwright.proof.trimmed import ClaimedTrim, TrimClaim

    block, runs = plan.block, Runs(plan.block)
    return TrimClaim(
        sections=tuple(
            ClaimedTrim(section.name, runs.around(section.outline, section.patches), trims[section.name])
            for section in plan.sections
        ),
        seams=tuple(runs.along(join.seam, first, second) for join, first, second in joined_parts(plan)),
        outline=region_ring(block, range(len(block.patches))),
        allowance_in=plan.options.seam_allowance_in,
    )


def printed_trims(plan: Plan, prints: Sequence[Foundation]) -> dict[str, Ring]:
    """The trim outline of every section by its name, front view, as its print has it.

    A print that serves several places is laid back on the first, for which it was drawn; for other places, and
    where a section is not printed to be sewn on, the outline is the one that a print of its own would have.
    """
    from seamwright.foundation.model import Use
    from seamwright.foundation.trims import trim_outlines

    found: dict[str, Ring] = {}
    drawn: set[Ring] = set()
    for one in prints:
        if one.use is Use.SEW and one.mirrored and one.trim_outline not in drawn:
            drawn.add(one.trim_outline)
            _, _, _, _, right, down = one.front
            # Mirrored left to right and moved: a place that was not drawn for itself is told by its rotation.
            if math.dist(one.front[:4], (-1.0, 0.0, 0.0, 1.0)) < 1e-9:
                found.setdefault(one.section, tuple((right - x, y - down) for x, y in reversed(one.trim_outline)))
    if any(section.name not in found for section in plan.sections):
        found = trim_outlines(plan) | found
    return found
