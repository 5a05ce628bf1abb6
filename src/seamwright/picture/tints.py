"""Colours of pictures: quiet tints that tell sections apart, one signal colour, one for what is new.

The six tints differ in lightness as well as in hue, so that a grey copy and colour-blind eyes still tell
neighbours apart; the letter in each section says the same without any colour.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

if TYPE_CHECKING:  # colours alone are asked for by those who know no plan
    from seamwright.piecing.model import Plan

CHALK = "#F7F5F0"
INK = "#14213D"
QUIET = "#5F6878"
SIGNAL = "#C8102E"
"""For what cannot be sewn, and only for that."""
CHANGE = "#1F6FB2"
"""For what a mend draws anew: told from the ink of section lines by hue, and by its caption."""

TINTS = ("#F4E9C8", "#C9E0E6", "#EDB9A8", "#93B88C", "#C090B4", "#6A95C6")


def section_tints(plan: Plan) -> dict[str, str]:
    """A tint for each section by name; sections that share a seam get different ones as far as six go.

    Sections choose in name order, each the tint least used so far among those its neighbours leave free.
    """
    section_of = {patch: s.name for s in plan.sections for patch in s.patches}
    neighbours: dict[str, set[str]] = {s.name: set() for s in plan.sections}
    for edge in plan.block.edges:
        a, b = section_of.get(edge.left), section_of.get(edge.right)
        if a is not None and b is not None and a != b:
            neighbours[a].add(b)
            neighbours[b].add(a)
    chosen: dict[str, int] = {}
    used = [0] * len(TINTS)
    for section in plan.sections:
        taken = {chosen[n] for n in neighbours[section.name] if n in chosen}
        tint = min(range(len(TINTS)), key=lambda t: (t in taken, used[t], t))
        chosen[section.name] = tint
        used[tint] += 1
    return {name: TINTS[tint] for name, tint in chosen.items()}
