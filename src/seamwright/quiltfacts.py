"""What a quilt comes to: its plans, prints, fabrics, what is advised, how its seams nest.

Knows:  which facts make it up.
Leaves: the quilt and its plans (quilts), the facts themselves (quilt), words (words.quilts), data (report.quilts).
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

from seamwright.asked import Text
from seamwright.notes import Note
from seamwright.piecing.model import Plan
from seamwright.quilt.advice import Advice, advised
from seamwright.quilt.counts import BlockCount, PrintCount, blocks_counted, prints_counted
from seamwright.quilt.cutmodel import QuiltCutting
from seamwright.quilt.model import Quilt
from seamwright.quilt.pressing import Nesting, nesting

FACT_STEPS = 4
"""How many steps `facts_of` announces."""


@dataclass(frozen=True, slots=True)
class QuiltFacts:
    """All that is told of a quilt.

    Attributes:
        plans: of its looks, in their order.
        blocks: how many of which block lie in which turn. prints: which foundations, how often.
        cutting: what to cut and to buy. advice, nesting: what to look at, and how to press.
    """

    quilt: Quilt
    plans: tuple[Plan, ...]
    blocks: tuple[BlockCount, ...]
    prints: tuple[PrintCount, ...]
    cutting: QuiltCutting
    advice: Advice
    nesting: Nesting

    @property
    def notes(self) -> list[Note]:
        """What was assumed and is to be known of the quilt and its cutting, none twice."""
        return list(dict.fromkeys((*self.quilt.setting.notes, *self.quilt.notes, *self.cutting.notes)))


def facts_of(
    quilt: Quilt,
    *,
    progress: Callable[[str], None] = lambda _: None,
    searched: Callable[[int], None] | None = None,
    **options: Text,
) -> QuiltFacts:
    """What a quilt comes to.

    Args:
        progress: told at the start of each of FACT_STEPS steps what is being done.
        searched: told now and then how many ways to divide a block were looked at.
        options: how it is cut (`seamwright cutting --help` lists them); others are left.

    Raises:
        StuckError: a block cannot be sewn as asked. SeamwrightError: a block or an option cannot be used.
        ProofError: a cutting list failed its proof; our fault, please report it.
    """
    from seamwright.quiltcuts import cutting_of
    from seamwright.quilts import plans_of

    progress("planning its blocks")
    plans = plans_of(quilt, progress=searched)
    progress("counting prints")
    blocks, prints = blocks_counted(quilt), prints_counted(quilt, plans)
    progress("counting fabric")
    cutting = cutting_of(quilt, plans, **options)
    progress("looking where blocks meet")
    advice = advised(quilt, cutting.units, cutting.allowance_in)
    return QuiltFacts(quilt, plans, blocks, prints, cutting, advice, nesting(quilt, plans))
