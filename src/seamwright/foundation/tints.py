"""Patches tinted grey by the value of their fabric.

Knows:  which grey stands for which value.
Leaves: how a fabric reads (fabric.shade), its name on the patch, which tells fabrics of one value apart (numbers).
Units:  as printed; grey in per cent of black.
"""

from __future__ import annotations

from collections.abc import Iterator

from seamwright.block.model import Block
from seamwright.fabric.model import Value
from seamwright.fabric.shade import value_of
from seamwright.foundation.lay import Lay
from seamwright.ink.model import Area
from seamwright.options import PrintOptions
from seamwright.piecing.model import Section

GREYS = {Value.LIGHT: 4.5, Value.MEDIUM: 9.5, Value.DARK: 14.5}
"""Told apart side by side; the darkest leaves words a contrast of 14 to 1 (4.5 to 1 is the least, WCAG 2)."""


def tinted(printing: PrintOptions) -> bool:
    """Whether any tints are printed: none to save ink, none in windows, which are cut out."""
    return printing.tints and not printing.ink_saver and not printing.windows


def left_white(block: Block) -> tuple[int, tuple[str, ...]]:
    """How many patches get no tint, and the names of their fabrics."""
    values = {fabric.name: value_of(fabric) for fabric in block.fabrics}
    white = [patch.fabric or "" for patch in block.patches if values.get(patch.fabric or "") is None]
    return len(white), tuple(sorted({name for name in white if name}))


def tints_of(block: Block, section: Section, lay: Lay) -> Iterator[Area]:
    """A grey area for every patch of which it is known how its fabric reads, in sewing order."""
    fabrics = {fabric.name: fabric for fabric in block.fabrics}
    for number in section.patches:
        fabric = fabrics.get(block.patches[number].fabric or "")
        value = value_of(fabric) if fabric else None
        if value is not None:
            holes = (lay.ring(hole) for hole in block.patch_holes(number))
            yield Area((lay.ring(block.patch_ring(number)), *holes), grey(GREYS[value]))


def grey(per_cent: float) -> str:
    """The colour of so much grey.

    >>> grey(0), grey(100), grey(14.5)
    ('#ffffff', '#000000', '#dadada')
    """
    level = round(255 * (1 - per_cent / 100))
    return f"#{level:02x}{level:02x}{level:02x}"
