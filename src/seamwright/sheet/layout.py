"""From foundations to sheets: as few as can be, furniture and all.

Knows:  how many prints of what, in which sets they lie, what a page of them is numbered.
Leaves: how a foundation becomes prints (prints), what each sheet says about itself (desk), which prints share a
        sheet (pack, often), the page to try a printer with (trial).
Units:  points on the sheet from its top left corner; foundations come in inches.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from seamwright.ink.saver import saved
from seamwright.options import PrintOptions, Units
from seamwright.paper import PT_PER_IN, Paper
from seamwright.paper import paper as paper_named
from seamwright.sheet import stock
from seamwright.sheet.desk import Desk, Job, Print, frame_of, numbered
from seamwright.sheet.model import ForQuilt, InSet, Sheet
from seamwright.sheet.often import alike_together, pack_often
from seamwright.sheet.pack import Filled
from seamwright.sheet.prints import too_small, ways_to_print
from seamwright.sheet.trial import trial_page


def lay_out(
    jobs: Sequence[Job],
    *,
    paper: str | Paper = "letter",
    printing: PrintOptions | None = None,
    units: Units | None = None,
    quilt: ForQuilt | None = None,
) -> tuple[Sheet, ...]:
    """Sheets that hold every foundation of every job, as often as asked for.

    Args:
        jobs: plans with their foundations; several blocks share sheets.
        paper: its name, or a paper of one's own.
        printing: copies, sets, direction of the sheet and so on; None: the defaults.
        units: for the words on the sheet; None: those of the first plan.
        quilt: of which the jobs are the blocks, one job each; then every copy is for a whole quilt. None: a copy is
            for one block of each.

    Raises:
        OptionError: the paper is not known, or too small for anything.
    """
    how = printing or PrintOptions()
    page = paper_named(paper) if isinstance(paper, str) else paper
    page = page.lying() if how.landscape else page
    shown = units or (jobs[0][0].options.units if jobs else Units.INCH)
    frame = frame_of(page)
    if how.ink_saver:
        jobs = [(plan, tuple(replace(f, ink=saved(f.ink, PT_PER_IN)) for f in prints)) for plan, prints in jobs]
    desk = Desk(jobs, page, frame, shown, how, quilt=quilt)
    copies = 1 if desk.apart else how.copies
    laid = _sheets(*_filled([_often(desk, once, copies) for once in ways_to_print(desk)]))
    trial = [trial_page(desk, 1 + len(laid) * (how.copies // copies))] if how.trial_page else []
    if how.ink_saver:
        laid, trial = ([replace(sheet, ink=saved(sheet.ink)) for sheet in sheets] for sheets in (laid, trial))
    if not desk.apart:
        sheets = [*trial, *laid]
        return tuple(numbered(sheet, n, len(sheets)) for n, sheet in enumerate(sheets, start=1))
    # All sets are alike but for what they are called, so they are laid out once.
    first, of = len(trial) + 1, len(trial) + how.copies * len(laid)
    sets = [InSet(c, how.copies, n, len(laid)) for c in range(1, how.copies + 1) for n in range(1, len(laid) + 1)]
    return (
        *(numbered(sheet, 1, of) for sheet in trial),
        *(numbered(laid[s.sheet - 1], n, of, s) for n, s in enumerate(sets, start=first)),
    )


def _often(desk: Desk, once: Sequence[Print], copies: int) -> tuple[Desk, tuple[int, ...]]:
    """The desk with every print as often as it is needed, and for each print the number of what it is equal to."""
    times = [
        stock.times(one.foundation, desk.printing.stock, copies, desk.quilt.blocks[one.job] if desk.quilt else 1)
        for one in once
    ]
    order = [(copy, n) for copy in range(1, max(times) + 1) for n in range(len(once)) if copy <= times[n]]
    prints = tuple(replace(once[n], copy=copy) for copy, n in order)
    return replace(desk, prints=prints), tuple(n for _, n in order)


def _sheets(desk: Desk, kinds: Sequence[int], filled: Sequence[Filled]) -> list[Sheet]:
    """The pages; one that shows what another shows is drawn once."""
    drawn: dict[object, Sheet] = {}
    pages = []
    for one in filled:
        shows = (tuple((kinds[n.number], n.affine, n.angle_deg) for n in one.laid), one.furniture)
        page = drawn.get(shows)
        if page is None:
            page = drawn[shows] = desk.sheet(one)
        copies = [desk.prints[laid.number].copy for laid in one.laid]
        placed = tuple(replace(p, copy=copy) for p, copy in zip(page.placed, copies, strict=True))
        pages.append(replace(page, placed=placed))
    return pages


def _filled(desks: Sequence[tuple[Desk, tuple[int, ...]]]) -> tuple[Desk, tuple[int, ...], tuple[Filled, ...]]:
    """The one of several ways to print a run that needs the fewest sheets, what its prints are, and these, filled.

    Keys and legends are told in fewer words only where that saves a sheet.

    Args:
        desks: each with what its prints are equal to.
    """
    how = desks[0][0].printing

    def packed(desk: Desk, kinds: tuple[int, ...], effort: int, enough: int = 0) -> tuple[Filled, ...] | None:
        rings = [p.ring for p in desk.prints]
        return pack_often(kinds, rings, desk.frame, desk.wants, effort, upright=how.upright, enough=enough)

    found = [
        (desk, kinds, brief)
        for desk, kinds in desks
        if (brief := packed(replace(desk, brief=True), kinds, how.effort)) is not None
    ]
    if not found:
        raise too_small(desks[0][0].page)
    # Of ways that need as many sheets the first wins: it parts the fewest prints.
    desk, kinds, brief = min(found, key=lambda one: len(one[2]))
    # A quarter of the effort: what is full of words is rarely worth a long search.
    full = packed(desk, kinds, how.effort // 4, enough=len(brief))
    best = full if full is not None and len(full) <= len(brief) else brief
    # A quilt is sewn one print after the other, not one block after the other.
    return desk, kinds, alike_together(best, kinds) if desk.quilt else best
