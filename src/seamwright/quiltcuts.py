"""The cutting of a whole quilt as a few calls: worked out, proven, written.

Knows:  the order of the stages, and that no cutting leaves here without its proof.
Leaves: every stage itself (quilt.cutting, proof, booklet, report), the quilt and its plans (quilts).
Units:  inches.
"""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path
from typing import TYPE_CHECKING

from seamwright.asked import Text, agreed, one_paper, usable_options
from seamwright.options import CutOptions
from seamwright.outfiles import may_write_list, write_pages_file
from seamwright.output import made_by, write_ours
from seamwright.paper import Paper, paper
from seamwright.piecing.model import Plan
from seamwright.quilt.cutmodel import QuiltCutting
from seamwright.quilt.model import Quilt

if TYPE_CHECKING:
    from seamwright.ink.page import Page


def cutting_of(quilt: Quilt, plans: Sequence[Plan] | None = None, **asked: Text) -> QuiltCutting:
    """What to cut for a whole quilt, strips shared by all of it, with binding, back and batting; proven.

    Args:
        plans: of its looks, in their order; None: they are made.
        asked: options of cutting lists: spare, cloth, stack. They win over what the quilt's file asks for, that
            over what its blocks' drawings do. How many blocks there are is known of the quilt.

    Raises:
        StuckError: a block cannot be sewn as asked.
        OptionError: an option cannot be used, or blocks ask for different ones.
        ProofError: a patch is not covered in the sewing rehearsal, or the cutting failed its proof; our fault,
            please report it.
    """
    from seamwright.api import rehearse
    from seamwright.claims.quiltcuts import claim_of_cutting, claims_of_fabrics
    from seamwright.proof.cut import check_cut
    from seamwright.proof.quiltcut import check_quilt_cut
    from seamwright.quilt.cutting import quilt_cutting
    from seamwright.quilts import plans_of

    plans = plans_of(quilt) if plans is None else plans
    stated = {name.replace("-", "_"): text for name, text in quilt.setting.options}
    options = agreed(CutOptions, plans, {**stated, **asked, "blocks": "1"})
    for plan in plans:
        rehearse(plan)
    made = quilt_cutting(quilt, plans, options)
    for claim in claims_of_fabrics(made):
        check_cut(claim)
    check_quilt_cut(claim_of_cutting(made))
    return made


def write_quilt_cutting(path: str | Path, cutting: QuiltCutting, *, force: bool = False) -> None:
    """Writes the cutting of a quilt as a table for spreadsheets (.csv) or as pages (.pdf), by the name's ending.

    Args:
        path: the file; one that we did not make from the same quilt is not written over without `force`.

    Raises:
        OptionError: the name ends in neither, or blocks ask for different papers. FileError: the file cannot be
            written, or is not ours. LibraryError: the cairo library is missing (PDF only). ProofError: the finished
            file does not hold its pages.
    """
    out, files = Path(path), cutting.quilt.setting.files
    may_write_list(out, files, force=force)
    if out.suffix.lower() == ".csv":
        from seamwright.report.quilttable import quilt_cutting_csv

        write_ours(out, quilt_cutting_csv(cutting, made_by(files)), files, force=force)
        return
    write_pages_file(out, _pages(cutting), f"{cutting.quilt.setting.name}: cutting list", files, force=force)


def _pages(cutting: QuiltCutting) -> tuple[Page, ...]:
    from seamwright.booklet.labels import labels_story
    from seamwright.booklet.pages import full_room, lay_out
    from seamwright.booklet.quiltcuts import quilt_sheet_story, stacked

    page = _paper(cutting)
    story = list(quilt_sheet_story(cutting))
    if cutting.options.stack:
        for _, each in stacked(cutting):
            story += labels_story(each, full_room(page))
    return lay_out(tuple(story), page, foot=f"Cutting list of {cutting.quilt.setting.name}")


def _paper(cutting: QuiltCutting) -> Paper:
    if cutting.plans:
        return one_paper(cutting.plans)
    options = usable_options(cutting.quilt.setting.options)
    return paper(options.paper, options.margins)
