"""How many of which block a quilt has, and how often each of its foundations is printed.

Knows:  blocks by look and turn, prints by drawing, letter and hand, which prints two looks share.
Leaves: where blocks lie (layout), which sections share a print (plan), sheets (sheet).
Method: a block and its mirror image have the same letters, and what is A in both has the same lines and the same
        order: so it is one print, needed as often as both together need it. Where its fabric has stripes or a print
        that runs one way, their marks differ in the mirror image, and the prints stay two.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass, replace

from seamwright.piecing.model import Plan, Section
from seamwright.quilt.model import Quilt
from seamwright.sheet.model import ForQuilt


@dataclass(frozen=True, slots=True)
class BlockCount:
    """Blocks of one look that lie alike.

    Attributes:
        look: its number. quarters: quarter turns clockwise, beside the 45 degrees of a set on point.
    """

    look: int
    quarters: int
    count: int


@dataclass(frozen=True, slots=True)
class PrintCount:
    """One print, and how often it is printed.

    Attributes:
        look: number of the first look that needs it. print: its letter. reversed: the mirror image of that letter's
            own foundation.
        sections: names of those that it serves in one block of that look. count: in the whole quilt; of templates
            one for each look, for they are used again.
        kind: "foundation", or "plain" for templates.
        looks: numbers of all looks that need it.
    """

    look: int
    print: str
    reversed: bool
    sections: tuple[str, ...]
    count: int
    kind: str = "foundation"
    looks: tuple[int, ...] = ()


def blocks_counted(quilt: Quilt) -> tuple[BlockCount, ...]:
    """All blocks of a quilt, by look and by turn, in that order."""
    found = Counter((spot.look, spot.quarters) for spot in quilt.spots)
    return tuple(BlockCount(look, quarters, count) for (look, quarters), count in sorted(found.items()))


def blocks_of_looks(quilt: Quilt) -> tuple[int, ...]:
    """How many blocks of each look the quilt has."""
    blocks = Counter(spot.look for spot in quilt.spots)
    return tuple(blocks[look] for look in range(len(quilt.looks)))


def prints_counted(quilt: Quilt, plans: Sequence[Plan]) -> tuple[PrintCount, ...]:
    """Every print of a quilt, each once, with what it serves; what a ruler cuts is none.

    Those of one drawing in one colourway stand together, by letter, reversed ones last of each.

    Args:
        plans: of its looks, in their order.
    """
    blocks = blocks_of_looks(quilt)
    found: dict[tuple[object, ...], PrintCount] = {}
    for look, plan in enumerate(plans):
        drawn = (quilt.looks[look].drawing, quilt.looks[look].colourway)
        for sections in plan.prints():
            first = sections[0]
            if first.method == "ruler":
                continue
            runs = plan.block.reversed if _runs(plan, first) else None
            key = (*drawn, first.print, first.reversed, runs)
            count = 1 if first.kind == "plain" else len(sections) * blocks[look]
            names = tuple(section.name for section in sections)
            one = PrintCount(look, first.print, first.reversed, names, count, first.kind, (look,))
            known = found.get(key)
            if known is not None:
                one = replace(known, count=known.count + count, looks=(*known.looks, look))
            found[key] = one
    first_of: dict[tuple[str, str], int] = {}
    for number, seen in enumerate(quilt.looks):
        first_of.setdefault((seen.drawing, seen.colourway), number)

    def order(one: PrintCount) -> tuple[int, int, str, bool]:
        seen = quilt.looks[one.look]
        return first_of[seen.drawing, seen.colourway], len(one.print), one.print, one.reversed

    return tuple(sorted(found.values(), key=order))


def _runs(plan: Plan, section: Section) -> bool:
    """Whether a fabric of a section has stripes, or a print that runs one way."""
    directed = {fabric.name for fabric in plan.block.fabrics if fabric.direction_deg is not None}
    return any(name in directed for patch in section.patches for name in plan.block.fabrics_in(patch))


def for_quilt(quilt: Quilt) -> ForQuilt:
    """What a run of prints has to know of the quilt that it is for."""
    return ForQuilt(quilt.setting.name, blocks_of_looks(quilt), tuple(quilt.setting.files))
