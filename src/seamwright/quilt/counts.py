"""How many of which block a quilt has, and how often each of its foundations is printed.

Knows:  blocks by look and turn, prints by look, letter and hand.
Leaves: where blocks lie (layout), which sections share a print (plan), sheets (sheet).
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass

from seamwright.piecing.model import Plan
from seamwright.quilt.model import Quilt


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
    """One foundation, and how often it is printed.

    Attributes:
        look: number of the look. print: its letter. reversed: the mirror image of that letter's own foundation.
        sections: names of those that it serves in one block. count: in the whole quilt.
        kind: "foundation", or "plain" for templates, of which one serves all. method: "paper" or "ruler".
    """

    look: int
    print: str
    reversed: bool
    sections: tuple[str, ...]
    count: int
    kind: str = "foundation"
    method: str = "paper"


def blocks_counted(quilt: Quilt) -> tuple[BlockCount, ...]:
    """All blocks of a quilt, by look and by turn, in that order."""
    found = Counter((spot.look, spot.quarters) for spot in quilt.spots)
    return tuple(BlockCount(look, quarters, count) for (look, quarters), count in sorted(found.items()))


def prints_counted(quilt: Quilt, plans: Sequence[Plan]) -> tuple[PrintCount, ...]:
    """Every print of every look; its count is that of the places in all blocks.

    Args:
        plans: of its looks, in their order.
    """
    blocks = Counter(spot.look for spot in quilt.spots)
    return tuple(
        PrintCount(
            look,
            sections[0].print,
            sections[0].reversed,
            tuple(section.name for section in sections),
            len(sections) * blocks[look],
            sections[0].kind,
            sections[0].method,
        )
        for look, plan in enumerate(plans)
        for sections in plan.prints()
    )
