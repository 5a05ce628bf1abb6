"""Colours of pictures: quiet tints that tell sections apart, those of fabrics, one signal, one for what is new.

The six tints differ in lightness as well as in hue, so that a grey copy and colour-blind eyes still tell
neighbours apart; the letter in each section says the same without any colour.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING

from seamwright.fabric.shade import colour_lightness

if TYPE_CHECKING:  # colours alone are asked for by those who know no block and no plan
    from seamwright.block.model import Block
    from seamwright.fabric.model import Fabric
    from seamwright.piecing.model import Plan

CHALK = "#F7F5F0"
INK = "#14213D"
QUIET = "#5F6878"
SIGNAL = "#C8102E"
"""For what cannot be sewn, and only for that."""
CHANGE = "#1F6FB2"
"""For what a mend draws anew: told from the ink of section lines by hue, and by its caption."""

TINTS = ("#F4E9C8", "#C9E0E6", "#EDB9A8", "#93B88C", "#C090B4", "#6A95C6")

WHITE, BLACK = "#FFFFFF", "#000000"
INK_OVER, BLACK_OVER = 57.0, 49.4
"""Lightness L* from which ink, and below it black, reads better on a colour than white: every colour has words of
at least 4.5 to 1 (WCAG 2.2, success criterion 1.4.3)."""


def on(ground: str) -> str:
    """The colour of words on a ground."""
    lightness = colour_lightness(ground)
    return INK if lightness >= INK_OVER else BLACK if lightness >= BLACK_OVER else WHITE


def patch_colours(block: Block) -> tuple[str, ...]:
    """A colour for every patch by number: its fabric's, else a tint, the same for all patches of one fabric.

    Patches of no fabric choose in turn the tint least used among those that no neighbour has.
    """
    known = fabric_colours(block)
    chosen = {
        p: known[f] for p, f in enumerate(patch.fabric for patch in block.patches) if f is not None and f in known
    }
    used = {tint: list(known.values()).count(tint) for tint in TINTS}
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
    return tuple(chosen[patch] for patch in range(len(block.patches)))


def fabric_colours(block: Block) -> dict[str, str]:
    """The colour of each fabric of a block by its name, a tint where none is known."""
    return colours_of(block.fabrics)


def colours_of(fabrics: Sequence[Fabric]) -> dict[str, str]:
    """The colour of each fabric by its name, a tint where none is known.

    A tint goes by the fabric's place among all, so a colour given to one leaves the others as they were; what comes
    behind the sixth takes a tint that is not taken, as far as there are any.
    """
    known = {fabric.name: fabric.colour for fabric in fabrics if fabric.colour}
    names = list(dict.fromkeys(fabric.name for fabric in fabrics))
    chosen = {name: TINTS[k] for k, name in enumerate(names[: len(TINTS)]) if name not in known}
    for k, name in enumerate(names[len(TINTS) :]):
        if name not in known:
            free = [tint for tint in TINTS if tint not in chosen.values()]
            chosen[name] = free[0] if free else TINTS[k % len(TINTS)]
    return known | chosen


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
