"""What a plan leaves off the paper: its units, each with the sections that it is sewn of.

Knows:  which ruler sections make a unit together, as the joins bring them together.
Leaves: how a unit is cut (cutting), which units there are to be (rotary).
"""

from __future__ import annotations

from dataclasses import dataclass

from seamwright.fabric.units import Recognised, recognise
from seamwright.geometry import canonical_ring
from seamwright.piecing.model import Plan, Section


@dataclass(frozen=True, slots=True)
class LeftOff:
    """A unit of two patches or more that is sewn without paper.

    Attributes:
        sections: that it is sewn of, in the plan's order; patches: their patches, in sewing order.
        made: what it is; its places count in `patches`.
        whole: name of the part that is the whole unit: a section's or a join's.
    """

    sections: tuple[Section, ...]
    patches: tuple[int, ...]
    made: Recognised
    whole: str


def left_off(plan: Plan) -> tuple[LeftOff, ...]:
    """The units that a plan leaves off the paper, the largest that sections make together, in the plan's order."""
    parts: dict[str, tuple[Section, ...]] = {section.name: (section,) for section in plan.sections}
    for join in plan.joins:
        parts[join.makes] = parts[join.first] + parts[join.second]
    place = {section.name: number for number, section in enumerate(plan.sections)}
    found: list[LeftOff] = []
    taken: set[str] = set()
    for whole, sections in sorted(parts.items(), key=lambda part: -len(part[1])):
        ruled = all(section.method == "ruler" and section.name not in taken for section in sections)
        unit = _unit(plan, whole, tuple(sorted(sections, key=lambda s: place[s.name]))) if ruled else None
        if unit is not None:
            found.append(unit)
            taken.update(section.name for section in sections)
    return tuple(sorted(found, key=lambda unit: place[unit.sections[0].name]))


def _unit(plan: Plan, whole: str, sections: tuple[Section, ...]) -> LeftOff | None:
    patches = tuple(patch for section in sections for patch in section.patches)
    if len(patches) == 1:
        return None
    rings = [canonical_ring(plan.block.patch_ring(patch)) for patch in patches]
    made = recognise(rings, None, plan.options.seam_allowance_in, plan.options.units)
    return None if made is None else LeftOff(sections, patches, made, whole)
