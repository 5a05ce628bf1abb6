"""What is printed on, and how often a print serves: paper sewn through is torn off, all else is used again.

Knows:  how many prints are needed of what is used again: templates, freezer paper; what sheets and the screen say
        of freezer paper. All of it is common practice.
Leaves: the lines of a print: they are the same on any paper, mirrored too, for the fabric lies on the blank side.
"""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Iterable, Sequence
from dataclasses import replace

from seamwright.foundation.model import Foundation, Use
from seamwright.options import PrintOptions, Stock
from seamwright.piecing.model import Plan
from seamwright.sheet.naming import times_words

USES = 4
"""Times that one print of freezer paper is counted on to stick; many a print does more often."""

SEWN = (
    "Freezer paper: the print is on the dull side. Press the shiny side to the wrong side of the fabric with a dry "
    "iron. Before each seam fold the paper back on the stitch line; stitch beside the fold, not through it. "
    "Peel off, press on, sew again."
)
NOT_SEWN = (
    "Nothing is sewn on this print: an enlarged one is for the wall, windows and front views are for looking. "
    "Plain paper serves as well."
)
CARE = (
    "Try one sheet first: coated paper jams some printers, and the heat of a laser printer may melt it: feed it "
    "none unless its maker allows that. Makers' manuals come first. Irons burn."
)


def needed(foundations: Sequence[Foundation], stock: Stock) -> tuple[Foundation, ...]:
    """The prints to be laid, each with the sections that it serves.

    Of templates that are alike one is enough; on freezer paper, of other prints, one for every USES places.
    """
    alike: dict[tuple[Use, str], list[str]] = {}
    for one in foundations:
        alike.setdefault((one.use, one.label), []).append(one.section)
    seen: Counter[tuple[Use, str]] = Counter()
    kept = []
    for one in foundations:
        kind = (one.use, one.label)
        uses, others = _uses(one.use, stock), tuple(name for name in alike[kind] if name != one.section)
        if seen[kind] % uses == 0:
            kept.append(replace(one, also_for=others) if uses > 1 and others else one)
        seen[kind] += 1
    return tuple(kept)


def _uses(use: Use, stock: Stock) -> float:
    """Places that one print serves."""
    if use is Use.CUT:
        return math.inf
    return USES if stock is Stock.FREEZER else 1


def times(foundation: Foundation, stock: Stock, copies: int, blocks: int = 1) -> int:
    """How often a print is laid that one block needs once: templates once, frames and front views once a copy.

    Args:
        copies: that share sheets. blocks: in each copy.
    """
    if foundation.use is Use.SEW:
        # A block is sewn with prints of the one before: all of a copy are used up first.
        return copies * math.ceil(blocks / _uses(Use.SEW, stock))
    return 1 if foundation.use is Use.CUT else copies


def served(foundations: Sequence[Foundation], shown: Iterable[Foundation]) -> tuple[str, ...]:
    """Names of the sections that the shown prints serve, in the order of the plan."""
    here = {name for one in shown for name in one.sections}
    return tuple(dict.fromkeys(one.section for one in foundations if one.section in here))


def on_sheet(foundations: Iterable[Foundation], printing: PrintOptions) -> tuple[str, ...]:
    """What a sheet with these prints says of its paper; () for plain paper."""
    if printing.stock is Stock.PAPER:
        return ()
    sewn_on = printing.enlarge == 1 and any(one.use is Use.SEW for one in foundations)
    return (SEWN, CARE) if sewn_on else (CARE,)


def on_screen(plans: Sequence[Plan], printing: PrintOptions) -> tuple[str, ...]:
    """What is said before sheets are printed; () for plain paper."""
    if printing.stock is Stock.PAPER:
        return ()
    if printing.unmirrored or printing.windows or printing.enlarge > 1:
        return (NOT_SEWN, CARE)
    often = [
        f"{plan.block.title}: {words}"
        for plan in dict.fromkeys(plans)
        if (words := times_words(places[0].name for places in plan.prints() for _ in places))
    ]
    again = "One print is used again, for the next block too."
    if often:
        again = f"One print is used again, so it is printed once for every {USES} places ({'; '.join(often)})."
    return (SEWN, again, CARE)
