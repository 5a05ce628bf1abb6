"""What is handed out beside prints: cutting lists, and the booklet of a class.

Knows:  the order of the stages, and that nothing is handed out without its proof.
Leaves: every stage itself.
Units:  inches; an option is given as on the command line or as a number of inches.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import replace
from pathlib import Path
from typing import TYPE_CHECKING

from seamwright.asked import Text, agreed, one_paper, split_size
from seamwright.cutting.model import Cutting
from seamwright.errors import OptionError, fail
from seamwright.options import BookOptions, CutOptions, PrintOptions, Stock
from seamwright.outfiles import may_write_list, may_write_pdf, pages_pdf
from seamwright.output import made_by, write_ours
from seamwright.piecing.model import Plan
from seamwright.results import Booked, Printed

if TYPE_CHECKING:
    from seamwright.ink.page import Page
    from seamwright.sheet.model import Sheet


def cutting(plan: Plan, **asked: Text) -> Cutting:
    """What to cut of each fabric for the blocks of a plan: strips, subcuts, what to buy; each list proven.

    Args:
        plan: of a block that can be sewn.
        asked: options of cutting lists: blocks, spare, cloth, stack. They win over what the drawing asks for.

    Raises:
        StuckError: the plan says that its block cannot be sewn.
        OptionError: an option cannot be used.
        ProofError: a patch is not covered in the sewing rehearsal, or a list failed its proof; our fault, please
            report it.
    """
    from seamwright import api

    options = agreed(CutOptions, [plan], asked)
    api.rehearse(plan)
    return _proven(plan, options)


def _proven(plan: Plan, options: CutOptions) -> Cutting:
    """The cutting list of a plan that has been rehearsed, proven."""
    from seamwright.claims.cuts import cut_claims
    from seamwright.cutting.make import cutting as make
    from seamwright.proof.cut import check_cut

    made = make(plan, options)
    for claim in cut_claims(made):
        check_cut(claim)
    return made


def write_cutting(path: str | Path, *cuttings: Cutting, force: bool = False) -> None:
    """Writes cutting lists as a table for spreadsheets (.csv) or as pages (.pdf), by the name's ending.

    Args:
        path: the file; one that we did not make from the same drawings is not written over without `force`.

    Raises:
        OptionError: the name ends in neither, or the drawings ask for different papers. FileError: the file cannot
            be written, or is not ours. LibraryError: the cairo library is missing (PDF only). ProofError: the
            finished file does not hold its pages.
    """
    out, drawings = Path(path), [split_size(cutting.plan.block.file)[0] for cutting in cuttings]
    may_write_list(out, drawings, force=force)
    write_ours(out, cutting_file(out.suffix.lower(), *cuttings), drawings, force=force)


def cutting_file(form: str, *cuttings: Cutting) -> bytes:
    """Cutting lists as a table for spreadsheets (".csv") or as pages (".pdf"), read back; as `write_cutting`."""
    made = made_by([split_size(cutting.plan.block.file)[0] for cutting in cuttings])
    if form == ".csv":
        from seamwright.report.table import cutting_csv

        return cutting_csv(cuttings, made)
    title = ", ".join(dict.fromkeys(cutting.plan.block.title for cutting in cuttings))
    return pages_pdf(tuple(_cutting_pages(cuttings)), f"{title}: cutting list", made)


def _cutting_pages(cuttings: Sequence[Cutting]) -> Iterator[Page]:
    from seamwright.booklet.cutsheet import sheet_story
    from seamwright.booklet.labels import labels_story
    from seamwright.booklet.pages import full_room, lay_out

    paper = one_paper([cutting.plan for cutting in cuttings])
    story = list(sheet_story(cuttings))
    for cutting in cuttings:
        if cutting.options.stack:
            story += labels_story(cutting, full_room(paper))
    foot = "; ".join(dict.fromkeys(f"{c.plan.block.title}, plan {c.plan.id}" for c in cuttings))
    yield from lay_out(tuple(story), paper, foot=f"Cutting list of {foot}")


BOOK_STEPS = 6
"""How many steps `write_booklet` announces."""


def write_booklet(
    path: str | Path,
    *plans: Plan,
    force: bool = False,
    progress: Callable[[str], None] = lambda _: None,
    **asked: Text,
) -> Booked:
    """Tells and draws the booklet of a class, reads it back, measures its sheets, and only then writes it.

    Args:
        path: the file; one that we did not make from the same drawings is not written over without `force`.
        plans: one or more, of blocks that can be sewn; those of colourways of one block are told together.
        progress: told at the start of each of BOOK_STEPS steps what is being done.
        asked: options of prints, cutting lists and booklets, by long names with _ for -. They win over what the
            drawings themselves ask for.

    What is all cut by ruler has no sheets behind its pages.

    Raises:
        StuckError: a plan says that its block cannot be sewn.
        OptionError: an option cannot be used, or the drawings ask for different papers, prints or booklets.
        FileError: the file cannot be written, or is not ours. LibraryError: the cairo library is missing.
        ProofError: a proof failed, or the finished file is not as it was laid out; our fault, please report it.
    """
    out, drawings = Path(path), [split_size(plan.block.file)[0] for plan in plans]
    may_write_pdf(out, drawings, force=force)
    pdf, booked = booklet_of(*plans, file=str(path), progress=progress, **asked)
    progress(f"writing {out.name}")
    write_ours(out, pdf, drawings, force=force)
    return booked


def booklet_of(
    *plans: Plan, file: str = "", progress: Callable[[str], None] = lambda _: None, **asked: Text
) -> tuple[bytes, Booked]:
    """The booklet of a class, read back and its sheets measured, as its bytes; `write_booklet` writes the same.

    Args:
        file: what it is called in what is told of it.

    Raises:
        StuckError, OptionError, LibraryError, ProofError: as `write_booklet`.
    """
    from seamwright import api
    from seamwright.booklet.make import Behind, Part, alike, make_booklet, to_read
    from seamwright.sheet.pdf import to_pdf
    from seamwright.sheet.readback import read_back

    printing, cut = agreed(PrintOptions, plans, asked), agreed(CutOptions, plans, asked)
    book = agreed(BookOptions, plans, asked)
    to_sew_on(printing)
    progress("sewing in rehearsal")
    parts = [(same, api.rehearse(same[0])) for same in alike(plans)]
    progress("cutting fabric")
    # Drawings that are equal but for their names have one id and lists of their own.
    lists = {_known_by(plan): _proven(plan, cut) for plan in plans}
    whole = replace(cut, blocks=cut.blocks * book.students)
    together = {_known_by(plan): _proven(plan, whole) for plan in plans} if book.students > 1 else {}
    progress("placing the foundations on sheets")
    page, on_paper = one_paper(plans), [plan for plan in plans if any(s.method == "paper" for s in plan.sections)]
    sheets = api.lay_out(*on_paper, quilt=None, **asked) if on_paper else ()
    progress("telling every step")
    told = [
        Part(
            same,
            rehearsed,
            tuple(lists[_known_by(plan)] for plan in same),
            tuple(together[_known_by(plan)] for plan in same if together),
        )
        for same, rehearsed in parts
    ]
    behind = Behind(page, len(sheets), printing.copies, printing.footer)
    pages = make_booklet(told, behind, book, to_read(page, plans[0].options.units))
    progress("drawing the pages and measuring the finished file")
    leaves: tuple[Page | Sheet, ...] = (*pages, *sheets)
    title = ", ".join(dict.fromkeys(plan.block.title for plan in plans))
    pdf = to_pdf(
        leaves, title=f"{title}: booklet", made_from=made_by([split_size(plan.block.file)[0] for plan in plans])
    )
    measured = read_back(pdf, leaves)
    printed = Printed(file, page.name, printing, plans, sheets, measured)
    return pdf, Booked(printed, book, pages, tuple(lists[_known_by(plan)] for plan in plans))


def _known_by(plan: Plan) -> tuple[str, str]:
    return plan.id, plan.block.file


def to_sew_on(printing: PrintOptions) -> None:
    """A booklet holds foundations to sew on, and teaches sewing through their paper.

    Raises:
        OptionError: something else is asked for.
    """
    others = {"enlarge": printing.enlarge != 1, "unmirrored": printing.unmirrored, "windows": printing.windows}
    for name, is_asked in others.items():
        if is_asked:
            what = f"a booklet holds foundations to sew on, and --{name} asks for others"
            raise fail(OptionError, "option", what, f"Leave out --{name}; seamwright foundations prints them apart")
    if printing.stock is not Stock.PAPER:
        what = "a booklet teaches how to sew through the paper, and freezer paper is folded and sewn beside"
        raise fail(
            OptionError, "option", what, "Leave out --stock; seamwright foundations prints such sheets apart"
        )
