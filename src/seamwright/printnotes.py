"""What is told of a print besides what is told of its drawings: what options could not do, or did unasked.

Knows:  how a print's options go with its drawings, with each other and with the type.
Leaves: notes of drawings and plans (their makers), saying notes (report, words).
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING

from seamwright.notes import Note
from seamwright.options import PrintOptions
from seamwright.paper import paper
from seamwright.units import say_list

if TYPE_CHECKING:
    from seamwright.results import Printed


def print_notes(printed: Printed) -> tuple[Note, ...]:
    """What is to be told of a print besides what is told of its drawings."""
    blocks = [plan.block for plan in printed.plans]
    names = "".join(f"{block.title}{''.join(fabric.name for fabric in block.fabrics)}" for block in blocks)
    letters = (*lettering_notes("footer", printed.printing.footer), *lettering_notes("names", names))
    return (*letters, *_overruled(printed.printing), *_untinted(printed), *_parted_lying(printed))


def lettering_notes(of: str, words: str) -> Iterator[Note]:
    """What of words is not printed as it is written, for the type has no such letters; `of`: where they stand."""
    from seamwright.ink.lettering import lacking

    boxes, plain = lacking(words)
    for letters, how in ((boxes, "each prints as a box"), (plain, "they print without their accents")):
        if letters:
            yield Note(of, f"the type has no {' '.join(letters)} of the {of}: {how}", count=len(letters))


def _overruled(how: PrintOptions) -> Iterator[Note]:
    """Options that others leave without effect."""
    if how.windows and how.unmirrored:
        without = "without --windows it prints front views of the sections"
        yield Note("options", f"windows are front views already, so --unmirrored changes nothing; {without}", 1)
    if how.tints and how.windows:
        yield Note("options", "windows have no tints, for they are cut out", 1)
    elif how.tints and how.ink_saver:
        yield Note("options", "no tints are printed, for --ink-saver leaves them out", 1)


def _untinted(printed: Printed) -> Iterator[Note]:
    """What stays white though tints were asked for, block by block."""
    from seamwright.foundation.tints import left_white, tinted

    if not tinted(printed.printing):
        return
    for plan in dict.fromkeys(printed.plans):
        count, names = left_white(plan.block)
        if count:
            of = f", for nothing says how {say_list(names, most=6)} read{'s' * (len(names) == 1)}" if names else ""
            patches = f"{count} patch{'es stay' if count > 1 else ' stays'} white"
            mend = "say a value or a colour for each fabric in the drawing"
            yield Note("tints", f"{plan.block.title}: {patches}{of}; {mend}", count=count)


def _parted_lying(printed: Printed) -> Iterator[Note]:
    """Sections that only sheets on their long side print in parts: plans fit sections to upright ones."""
    from seamwright.piecing.fit import Fit

    how = printed.printing
    if not how.landscape or how.enlarge > 1:
        return
    parted = {(p.foundation.drawing, p.foundation.section) for s in printed.sheets for p in s.placed if p.tile}
    names: dict[str, None] = {}
    for plan in printed.plans:
        here = [section for section in plan.sections if (plan.block.file, section.name) in parted]
        page = paper(plan.options.paper, plan.options.margins)
        fit = Fit(plan.block, [page], plan.options.seam_allowance_in)
        names |= dict.fromkeys(section.name for section in here if fit.fits(section.patches))
    if names:
        prints = f"{say_list([*names])} {'prints' if len(names) == 1 else 'print'} in parts"
        text = f"{prints} because sheets lie on their long side; without --landscape not"
        yield Note("landscape", text, len(names))
