"""From foundations to sheets: as few as can be, furniture and all.

Knows:  how many prints of what, and in which sets they lie.
Leaves: how a foundation becomes prints (prints), what each sheet says about itself (desk), which prints share a
        sheet (pack).
Units:  points on the sheet from its top left corner; foundations come in inches.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from seamwright.options import PrintOptions, Units
from seamwright.paper import Paper
from seamwright.paper import paper as paper_named
from seamwright.sheet.desk import Desk, Job, frame_of
from seamwright.sheet.model import Sheet
from seamwright.sheet.pack import pack
from seamwright.sheet.prints import prints_of, too_small


def lay_out(
    jobs: Sequence[Job],
    *,
    paper: str | Paper = "letter",
    printing: PrintOptions | None = None,
    units: Units | None = None,
) -> tuple[Sheet, ...]:
    """Sheets that hold every foundation of every job, as often as asked for.

    Args:
        jobs: plans with their foundations; several blocks share sheets.
        paper: its name, or a paper of one's own.
        printing: copies, sets, direction of the sheet and so on; None: the defaults.
        units: for the words on the sheet; None: those of the first plan.

    Raises:
        OptionError: the paper is not known, or too small for anything.
    """
    page = paper_named(paper) if isinstance(paper, str) else paper
    shown = units or (jobs[0][0].options.units if jobs else Units.INCH)
    frame = frame_of(page)
    how = printing or PrintOptions()
    desk = Desk(jobs, page, frame, shown, how)
    once = [
        one
        for number, (_, foundations) in enumerate(jobs)
        for foundation in foundations
        for one in prints_of(number, foundation, desk)
    ]
    desk = replace(desk, prints=tuple(replace(p, copy=c) for c in range(1, how.copies + 1) for p in once))
    filled = pack([p.ring for p in desk.prints], frame, desk.wants, how.effort)
    if filled is None:
        raise too_small(page)
    return tuple(desk.sheet(one, number, len(filled)) for number, one in enumerate(filled, start=1))
