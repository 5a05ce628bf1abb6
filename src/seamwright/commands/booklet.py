"""`seamwright booklet`: the handout of a class, from the title page to the foundations, in one PDF.

Knows:  what the command may be asked, and in which order things are done.
Leaves: the work (handouts, quiltbooks), the words and the data (words.books, report.books and those of quilts).
"""

from __future__ import annotations

from seamwright.commands.asking import drawings_of, each_colourway, given_of, quilt_asked
from seamwright.commands.planning import all_planned
from seamwright.commands.telling import print_json, say, tell_unmade
from seamwright.parser import Slip

TYPE_CHECKING = False
if TYPE_CHECKING:  # typing itself is not imported: it is not needed to run
    from argparse import Namespace
    from pathlib import Path

    from seamwright.quilt.model import Quilt
    from seamwright.results import Booked


def booklet(asked: Namespace) -> int:
    """Writes the booklet of one drawing or several, or of a quilt; returns the exit code."""
    from pathlib import Path

    from seamwright import handouts, outfiles
    from seamwright.asked import split_size
    from seamwright.progress import Progress
    from seamwright.report.books import booklet_object
    from seamwright.words.books import booklet_words

    drawings, given = drawings_of(asked), given_of(asked)
    if not asked.output:
        raise Slip("where should the booklet go? Add -o and the name of a PDF, such as -o kite.pdf.")
    out = Path(asked.output)
    quilt = quilt_asked(drawings, given)
    if quilt is not None:
        return _of_quilt(asked, quilt, out)
    outfiles.may_write_pdf(out, [split_size(drawing)[0] for drawing in drawings], force=asked.force)
    jobs = each_colourway(drawings, given)
    booked: Booked | None = None
    with Progress(len(jobs) + handouts.BOOK_STEPS, "step") as progress:
        plans, unmade = all_planned(jobs, progress)
        if plans:
            booked = handouts.write_booklet(out, *plans, force=asked.force, progress=progress.doing)
    if unmade:
        return tell_unmade(unmade, f"no booklet was made, and {out} was not written")
    assert booked is not None
    if asked.json:
        print_json(booklet_object(booked))
    else:
        say("\n".join(booklet_words(booked)))
    return 0


def _of_quilt(asked: Namespace, quilt: Quilt, out: Path) -> int:
    from seamwright import quiltbooks
    from seamwright.progress import Progress
    from seamwright.report.quiltbooks import quilt_booklet_object
    from seamwright.words.quiltbooks import quilt_booklet_words

    with Progress(quiltbooks.BOOK_STEPS, "step") as progress:
        booked = quiltbooks.write_quilt_booklet(
            out, quilt, force=asked.force, progress=progress.doing, searched=progress.looked_at
        )
    if asked.json:
        print_json(quilt_booklet_object(booked))
    else:
        say("\n".join(quilt_booklet_words(booked)))
    return 0
