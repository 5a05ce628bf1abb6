"""What is handed out beside prints: cutting lists.

Knows:  the order of the stages, and that nothing is handed out without its proof.
Leaves: every stage itself.
Units:  inches; an option is given as on the command line or as a number of inches.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from pathlib import Path
from typing import TYPE_CHECKING

from seamwright.asked import Text, agreed, one_paper, split_size
from seamwright.cutting.model import Cutting
from seamwright.options import CutOptions
from seamwright.outfiles import may_write_list
from seamwright.output import made_by, write_whole
from seamwright.piecing.model import Plan

if TYPE_CHECKING:
    from seamwright.booklet.model import Page


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
    from seamwright.cutclaims import cut_claims
    from seamwright.cutting.make import cutting as make
    from seamwright.proof.cut import check_cut

    options = agreed(CutOptions, [plan], asked)
    api.rehearse(plan)
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
    if out.suffix.lower() == ".csv":
        from seamwright.cutting.table import cutting_csv

        write_whole(out, cutting_csv(cuttings, made_by(drawings)))
        return
    from seamwright.sheet.pdf import to_pdf
    from seamwright.sheet.readback import read_back

    pages = tuple(_cutting_pages(cuttings))
    title = ", ".join(dict.fromkeys(cutting.plan.block.title for cutting in cuttings))
    pdf = to_pdf(pages, title=f"{title}: cutting list", made_from=made_by(drawings))
    read_back(pdf, pages)
    write_whole(out, pdf)


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
