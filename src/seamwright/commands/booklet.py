"""`seamwright booklet`: the handout of a class, from the title page to the foundations, in one PDF.

Knows:  what the command may be asked, and in which order things are done.
Leaves: the work (handouts), the words and the data (words.books, report.books).
"""

from __future__ import annotations

from seamwright.commands.asking import drawings_of, each_colourway, given_of
from seamwright.commands.telling import print_json, say, tell_unmade
from seamwright.parser import Slip

TYPE_CHECKING = False
if TYPE_CHECKING:  # typing itself is not imported: it is not needed to run
    from argparse import Namespace

    from seamwright.results import Booked, Outcome


def booklet(asked: Namespace) -> int:
    """Writes the booklet of one drawing or several; returns the exit code."""
    from pathlib import Path

    from seamwright import api, handouts, mending, outfiles
    from seamwright.asked import split_size
    from seamwright.progress import Progress
    from seamwright.report.books import booklet_object
    from seamwright.words.books import booklet_words

    drawings, given = drawings_of(asked), given_of(asked)
    if not asked.output:
        raise Slip("where should the booklet go? Add -o and the name of a PDF, such as -o kite.pdf.")
    out = Path(asked.output)
    outfiles.may_write_pdf(out, [split_size(drawing)[0] for drawing in drawings], force=asked.force)
    jobs = each_colourway(drawings, given)
    outcomes: list[Outcome] = []
    booked: Booked | None = None
    with Progress(len(jobs) + handouts.BOOK_STEPS, "step") as progress:
        for drawing, options in jobs:
            progress.doing(drawing)
            outcomes.append(api.outcome(drawing, options, progress.looked_at))
            if outcomes[-1].stopped:
                break
        if len(outcomes) < len(jobs):
            raise KeyboardInterrupt  # half of what was asked for is no booklet
        unmade = [outcome for outcome in outcomes if outcome.plan is None or not outcome.plan.sections]
        if unmade:
            progress.doing("looking for mends")
            unmade = [mending.with_mends(outcome) for outcome in unmade]
        else:
            plans = [outcome.plan for outcome in outcomes if outcome.plan is not None]
            booked = handouts.write_booklet(out, *plans, force=asked.force, progress=progress.doing)
    if unmade:
        return tell_unmade(unmade, f"no booklet was made, and {out} was not written")
    assert booked is not None
    if asked.json:
        print_json(booklet_object(booked))
    else:
        say("\n".join(booklet_words(booked)))
    return 0
