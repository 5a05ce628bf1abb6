"""Colours by the names of patches, for pictures of the work: they know names and rings, no blocks.

Knows:  which patch and which part of one has which name.
Leaves: the colours themselves (tints), the pictures (rehearsal, booklet).
Units:  inches, front view.
"""

from __future__ import annotations

from seamwright.geometry import Ring
from seamwright.picture import tints
from seamwright.piecing.model import Plan


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
