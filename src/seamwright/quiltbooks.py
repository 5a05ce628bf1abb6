"""The booklet of a whole quilt as one call.

Knows:  the order of the stages, and that nothing is handed out without its proof.
Leaves: the facts of a quilt (quiltfacts), every chapter (booklet), plans and sheets (api).
Units:  inches; an option is given as on the command line or as a number of inches.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING

from seamwright.asked import Text, agreed, one_paper
from seamwright.handouts import to_sew_on
from seamwright.options import BookOptions, PrintOptions
from seamwright.outfiles import may_write_pdf
from seamwright.output import made_by, write_ours
from seamwright.quilt.model import Quilt
from seamwright.quiltfacts import FACT_STEPS, QuiltFacts, facts_of
from seamwright.results import Printed

if TYPE_CHECKING:
    from seamwright.ink.page import Page
    from seamwright.sheet.model import Sheet

BOOK_STEPS = FACT_STEPS + 5
"""How many steps `write_quilt_booklet` announces."""


@dataclass(frozen=True, slots=True)
class QuiltBooked:
    """The booklet of a quilt that was written.

    Attributes:
        facts: what the quilt comes to.
        printed: the sheets behind its pages, one of each foundation, and what was measured in the whole file.
        book: what was asked of it. pages: before the sheets.
    """

    facts: QuiltFacts
    printed: Printed
    book: BookOptions
    pages: tuple[Page, ...]


def write_quilt_booklet(
    path: str | Path,
    quilt: Quilt,
    *,
    force: bool = False,
    progress: Callable[[str], None] = lambda _: None,
    searched: Callable[[int], None] | None = None,
    **asked: Text,
) -> QuiltBooked:
    """Tells and draws the booklet of a quilt, reads it back, measures its sheets, and only then writes it.

    Args:
        path: the file; one that we did not make from the same drawings is not written over without `force`.
        progress: told at the start of each of BOOK_STEPS steps what is being done.
        searched: told now and then how many ways to divide a block were looked at.
        asked: options of prints, cutting lists and booklets, by long names with _ for -. They win over what the
            quilt and the drawings of its blocks ask for.

    Raises:
        StuckError: a block cannot be sewn. OptionError: an option cannot be used, or blocks ask for different
            papers, prints or booklets. FileError: the file cannot be written, or is not ours. LibraryError: the
            cairo library is missing. ProofError: a proof failed, or the finished file is not as it was laid out;
            our fault, please report it.
    """
    may_write_pdf(Path(path), quilt.setting.files, force=force)
    facts = facts_of(quilt, progress=progress, searched=searched, **asked)
    return _written(path, facts, progress, asked, force=force)


def _written(
    path: str | Path, facts: QuiltFacts, progress: Callable[[str], None], asked: dict[str, Text], *, force: bool
) -> QuiltBooked:
    from seamwright import api
    from seamwright.booklet.make import Behind, Part, to_read
    from seamwright.booklet.quiltmake import make_quilt_booklet, parted
    from seamwright.sheet.pdf import to_pdf
    from seamwright.sheet.readback import read_back

    plans = facts.plans
    printing, book = agreed(PrintOptions, plans, asked), agreed(BookOptions, plans, asked)
    to_sew_on(printing)
    progress("sewing in rehearsal")
    full, mirrors = parted(plans)
    parts = [Part(same, api.rehearse(same[0]), ()) for same in full]
    progress("placing the foundations on sheets")
    page, on_paper = one_paper(plans), [plan for plan in plans if any(s.method == "paper" for s in plan.sections)]
    sheets = api.lay_out(*on_paper, quilt=None, **asked) if on_paper else ()
    progress("telling every step")
    behind = Behind(page, len(sheets), printing.copies, printing.footer)
    pages = make_quilt_booklet(facts, parts, mirrors, behind, book, to_read(page, facts.cutting.units))
    progress("drawing the pages and measuring the finished file")
    leaves: tuple[Page | Sheet, ...] = (*pages, *sheets)
    pdf = to_pdf(leaves, title=f"{facts.quilt.setting.name}: booklet", made_from=made_by(facts.quilt.setting.files))
    measured = read_back(pdf, leaves)
    progress(f"writing {Path(path).name}")
    write_ours(Path(path), pdf, facts.quilt.setting.files, force=force)
    return QuiltBooked(facts, Printed(str(path), page.name, printing, plans, sheets, measured), book, pages)
