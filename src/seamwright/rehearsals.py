"""From a plan to what is sewn in rehearsal: numbers become coordinates, and no stitch line passes.

Knows:  plans, blocks, trim outlines and the rehearsal's input.
Leaves: sewing (rehearsal).
"""

from __future__ import annotations

from seamwright.block.rings import region_ring
from seamwright.picture.tints import TINTS
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
    """A colour for every patch by name: its fabric's, else a tint, the same for all patches of one fabric.

    Patches of no fabric choose in turn the tint least used among those that no neighbour has.
    """
    block, names = plan.block, plan.patch_names()
    known = {fabric.name: fabric.colour for fabric in block.fabrics if fabric.colour}
    unknown = [f.name for f in block.fabrics if f.name not in known]
    known |= {name: TINTS[k % len(TINTS)] for k, name in enumerate(unknown)}
    chosen = {
        p: known[f] for p, f in enumerate(patch.fabric for patch in block.patches) if f is not None and f in known
    }
    used = dict.fromkeys(TINTS, 0)
    beside: dict[int, set[int]] = {p: set() for p in range(len(block.patches))}
    for edge in block.edges:
        if edge.left >= 0 and edge.right >= 0:
            beside[edge.left].add(edge.right)
            beside[edge.right].add(edge.left)
    for patch in range(len(block.patches)):
        if patch not in chosen:
            taken = {chosen[q] for q in beside[patch] if q in chosen}
            tint = min(TINTS, key=lambda t: (t in taken, used[t], TINTS.index(t)))
            chosen[patch] = tint
            used[tint] += 1
    return {names[patch]: colour for patch, colour in chosen.items()}
