"""What is printed on: plain paper is sewn through and torn off, freezer paper is ironed on, folded and used again.

Knows:  how many prints freezer paper needs, what its sheets and the screen say of it. All of it is common practice.
Leaves: the lines of a print: they are the same on any paper, mirrored too, for the fabric lies on the blank side.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence

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
CARE = (
    "Try one sheet first: coated paper jams some printers, and the heat of a laser printer may melt it: feed it "
    "none unless its maker allows that. Makers' manuals come first. Irons burn."
)


def needed(foundations: Sequence[Foundation], stock: Stock) -> tuple[Foundation, ...]:
    """The prints to be laid: on freezer paper, of those that are alike, one for every USES places."""
    if stock is Stock.PAPER:
        return tuple(foundations)
    seen: dict[tuple[Use, str], int] = {}
    kept = []
    for one in foundations:
        alike = (one.use, one.label)
        if seen.get(alike, 0) % USES == 0:
            kept.append(one)
        seen[alike] = seen.get(alike, 0) + 1
    return tuple(kept)


def served(foundations: Sequence[Foundation], shown: Iterable[Foundation], stock: Stock) -> tuple[str, ...]:
    """Names of the sections that the shown prints serve: on freezer paper all that are alike."""
    here = {(one.use, one.label) if stock is Stock.FREEZER else one.section for one in shown}
    return tuple(dict.fromkeys(f.section for f in foundations if here & {(f.use, f.label), f.section}))


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
        return (CARE,)
    often = [
        f"{plan.block.name}: {words}"
        for plan in dict.fromkeys(plans)
        if (words := times_words(places[0].name for places in plan.prints() for _ in places))
    ]
    again = "One print is used again, for the next block too."
    if often:
        again = f"One print is used again, so it is printed once for every {USES} places ({'; '.join(often)})."
    return (SEWN, again, CARE)
