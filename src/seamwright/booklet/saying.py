"""Words that several chapters share: what a block is called, sizes, lists of patches, colours of swatches.

Knows:  how a cut size and a list of patches are written in tables.
Leaves: lengths (units), names of fabrics and pieces (fabric.words), which chapter says what.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from seamwright.block.model import Block
from seamwright.fabric.model import Fabric
from seamwright.options import Units
from seamwright.piecing.model import Plan
from seamwright.units import say_size


def called(plans: Sequence[Plan]) -> str:
    """What plans of one block are called: its name, with the colourway if there is but one."""
    return plans[0].block.title if len(plans) == 1 else plans[0].block.name


def colour_of(fabric: Fabric | None) -> str | None:
    """The colour of a swatch, None if it is not known."""
    return None if fabric is None else fabric.colour


def swatch_of(block: Block, fabric: Fabric | str | None) -> str | None:
    """The colour in which pictures of a block show a fabric: its own, else a tint; None if none is named."""
    from seamwright.picture.tints import fabric_colours

    name = fabric if fabric is None or isinstance(fabric, str) else fabric.name
    return None if name is None else fabric_colours(block).get(name)


def fabric_named(block: Block, name: str | None) -> Fabric | None:
    """What is known of a block's fabric."""
    return next((fabric for fabric in block.fabrics if fabric.name == name), None)


def cut_size(width_in: float, height_in: float, units: Units) -> str:
    """Such as "3¼ x 2½ in"."""
    return say_size(width_in, height_in, units, glyphs=True)


def patch_list(names: Iterable[str]) -> str:
    """Names of patches, one after the other."""
    return ", ".join(names)


def places_list(plan: Plan, names: Iterable[str]) -> str:
    """Names of patches, one after the other; those of all places of a print are said once, with their number.

    Such as "A6 (4 places), B2": the same patch of A, A.2, A.3 and A.4, and a patch of one section alone.
    """
    places: dict[str, list[str]] = {}
    for section in plan.sections:
        for number in range(1, len(section.patches) + 1):
            places.setdefault(f"{section.print}{'r' * section.reversed} {number}", []).append(
                section.patch_name(number)
            )
    alike = {name: tuple(those) for those in places.values() for name in those}
    named, said = list(names), []
    for name in named:
        those = alike.get(name, (name,))
        if len(those) < 2 or not set(those) <= set(named):
            said.append(name)
        elif name == those[0]:
            said.append(f"{name} ({len(those)} places)")
    return ", ".join(said)
