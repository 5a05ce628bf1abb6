"""The whole job as a few calls: read, plan, prove, lay out, print. The command line and scripts use the same.

Knows:  the order of the stages, and that no plan leaves here without its proof.
Leaves: every stage itself.
Units:  inches; an option is given as on the command line ("8in", "a4", "metric") or as a number of inches.

Options: the call's win over the drawing's own (text form), these over the defaults.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import replace
from functools import lru_cache
from pathlib import Path
from typing import TYPE_CHECKING

from seamwright.asked import Given, Text, agreed, one_paper, split_size, texts_of, usable_options
from seamwright.block.model import Block
from seamwright.dressing import OWN, colourways_asked, dress, options_of
from seamwright.errors import OptionError, SeamwrightError, StuckError, fail, unexpected
from seamwright.options import PrintOptions, Sets
from seamwright.outfiles import may_write_pdf
from seamwright.output import made_by, may_use_folder, write_folder, write_ours
from seamwright.piecing.model import Plan
from seamwright.results import Outcome, Printed

if TYPE_CHECKING:  # only printing needs these; check starts faster without
    from seamwright.claims.sewing import Marks
    from seamwright.files.model import MachineFiles
    from seamwright.foundation.model import Foundation
    from seamwright.rehearsal.model import Rehearsed
    from seamwright.sheet.model import ForQuilt, Sheet


PRINT_STEPS = 4
"""How many steps `write_pdf` announces."""


# -- the stages ------------------------------------------------------------------------------------------


def read_block(path: str | Path, **options: Text) -> Block:
    """The block of a drawing (SVG or text form), tidied.

    Args:
        options: the shared ones by their long names, with _ for -: size, paper, max_patches, set_in and so on
            (`seamwright check --help` lists them). They stay with the block.

    Raises:
        SeamwrightError: the drawing or an option cannot be used, in words.
    """
    return _read(path, texts_of(options))


def read_colourways(path: str | Path, **options: Text) -> tuple[Block, ...]:
    """The block of a drawing in each colourway that `colourway` asks for: "all", or names parted by commas.

    Its own fabrics come first in "all", and are called "own". Sections, letters and sewing order are those of each.

    Raises:
        SeamwrightError: as `read_block`.
    """
    return blocks_asked(str(path), texts_of(options))


def blocks_asked(path: str, given: Given = (), source: bytes | None = None) -> tuple[Block, ...]:
    """As `read_colourways`.

    Args:
        given: options as pairs (long name, text).
        source: the drawing's bytes where they are not, or not yet, those of its file; None: read from there.
    """
    names = colourways_asked(path, given, source)
    return tuple(_read(path, [*given, ("colourway", name or OWN)], source) for name in names)


def plan(block: Block, *, progress: Callable[[int], None] | None = None, **options: Text) -> Plan:
    """The piecing plan of a block, proven by the independent checker.

    A drawing that cannot be sewn is no error: the plan says so and shows what is stuck. Ctrl-C while it is searched
    for gives the best plan found until then; its `fewest.ended` says so.

    Args:
        block: what to sew.
        progress: told now and then how many ways to divide the block were looked at.
        options: as for `read_block`; these win.

    Raises:
        ProofError: the plan failed its proof; this is our fault, please report it.
        OptionError: an option cannot be used.
    """
    from seamwright.claims.plans import claim_of
    from seamwright.piecing.plan import plan as make_plan
    from seamwright.proof.checker import check

    pairs = [*block.options, *texts_of(options)]
    how = usable_options(pairs)
    if not any(name == "reversed" for name, _ in pairs):
        how = replace(how, reversed=block.reversed)  # whoever made it the mirror image of a block means it
    block = dress(block, how)
    planned = make_plan(block, replace(how, colourway=block.colourway), progress)
    if planned.sections:
        check(claim_of(planned))
    return planned


def foundations(plan: Plan, printing: PrintOptions | None = None) -> tuple[Foundation, ...]:
    """The foundations of a plan, mirrored, with allowance, numbers and marks; plain pieces as front-view templates.

    What is cut by ruler has none: () for a plan that leaves all of it off the paper.

    Args:
        printing: what else is asked of the print, such as front views or tints; None: nothing.

    Raises:
        StuckError: the plan says that the block cannot be sewn.
        ProofError: its sewing rehearsal failed, or its trim lines do not match; our fault, please report it.
    """
    from seamwright.claims.plans import printed_trims, trim_claim_of
    from seamwright.claims.sewing import printed_marks
    from seamwright.foundation.make import foundations as make
    from seamwright.foundation.make import with_loose_ends
    from seamwright.proof.trimmed import check_trims

    _must_be_sewable(plan)
    prints = make(plan, printing)
    if marks := printed_marks(plan, prints):
        _sewn(plan, tuple(marks.items()))
    else:  # nothing is sewn on these
        rehearse(plan)
    loose = check_trims(trim_claim_of(plan, printed_trims(plan, prints)))
    return with_loose_ends(prints, [end.sections for end in loose])


def rehearse(plan: Plan) -> Rehearsed:
    """A plan sewn with simulated cloth, and how what shows compares with the drawing.

    The cloth is what the cutting list says, laid by what the paper shows: so sizes and marks are proven as well.

    Raises:
        StuckError: the plan says that the block cannot be sewn.
        ProofError: what shows is not what was drawn; this is our fault, please report it.
    """
    from seamwright.claims.sewing import printed_marks
    from seamwright.foundation.make import foundations as make

    _must_be_sewable(plan)
    return _sewn(plan, tuple(printed_marks(plan, make(plan)).items()))


def _must_be_sewable(plan: Plan) -> None:
    from seamwright.piecing.setin import floating

    if not plan.sections:
        why = " ".join(obstruction.why for obstruction in plan.obstructions)
        mend = "Change the drawing there; seamwright check --picture shows where"
        if not plan.options.set_in and not floating(plan.block):
            mend += ". Or sew it as it is drawn, with seams that turn: add --set-in"
        how = ", not even with set-in seams" if plan.options.set_in else " with straight full seams"
        what = f"{plan.block.title} cannot be sewn{how}. {why}".rstrip(" .")
        raise fail(StuckError, "stuck", what, mend, drawing=plan.block.file)


@lru_cache(maxsize=8)
def _sewn(plan: Plan, marks: tuple[tuple[int, Marks], ...]) -> Rehearsed:
    """The last few plans are not sewn again: print, cutting list and booklet ask for the same.

    Args:
        marks: what the paper shows of where pieces are laid, by number of the patch.
    """
    from seamwright.claims.sewing import sewing_of
    from seamwright.cutting.pieces import pieces_of
    from seamwright.rehearsal.rehearse import rehearse as sew

    return sew(sewing_of(plan, pieces_of(plan), dict(marks)))


def lay_out(*plans: Plan, quilt: ForQuilt | None = None, **printing: Text) -> tuple[Sheet, ...]:
    """The foundations of one plan or more on sheets of the plans' paper.

    Args:
        quilt: that the plans are the blocks of: every foundation as often as all of it needs. None: one block each.
        printing: how they are printed, by long names with _ for -: copies, sets, landscape, footer and so on
            (`seamwright foundations --help` lists them). They win over what the drawings themselves ask for.

    Raises:
        StuckError: a plan says that its block cannot be sewn, or has no section on paper.
        OptionError: an option cannot be used, or the drawings ask for different papers or prints.
    """
    from seamwright.sheet.layout import lay_out as lay

    options = agreed(PrintOptions, plans, printing)
    _must_print(plans, options, quilt)
    return lay(_printed(plans, options, quilt), paper=one_paper(plans), printing=options, quilt=quilt)


def _printed(
    plans: Sequence[Plan], options: PrintOptions, quilt: ForQuilt | None
) -> list[tuple[Plan, tuple[Foundation, ...]]]:
    """Each plan with its foundations; templates of a quilt's block say that they serve all of them."""
    blocks = quilt.blocks if quilt is not None else (1,) * len(plans)
    again = replace(options, copies=max(2, options.copies), sets=Sets.PACKED)
    return [
        (plan, foundations(plan, options if many == 1 else again)) for plan, many in zip(plans, blocks, strict=True)
    ]


def _must_print(plans: Sequence[Plan], printing: PrintOptions, quilt: ForQuilt | None = None) -> None:
    """Refuses plans that have no section on paper; of a quilt one block that has some is enough."""
    bare = [plan for plan in plans if plan.sections and all(section.method == "ruler" for section in plan.sections)]
    if quilt is not None and len(bare) < len(plans):
        return
    for plan in bare:
        if not printing.windows:
            what = f"{plan.block.title} is all cut by ruler and sewn without paper, so it has nothing to print"
            mend = "Add --rotary never for foundations all the same; seamwright cutting lists what to cut"
            raise fail(StuckError, "no foundations", what, mend, drawing=plan.block.file)


def write_pdf(
    path: str | Path,
    *plans: Plan,
    force: bool = False,
    progress: Callable[[str], None] = lambda _: None,
    quilt: ForQuilt | None = None,
    **printing: Text,
) -> Printed:
    """Lays out, prints, reads back, measures, and only then writes the PDF.

    Args:
        path: the file; one that we did not make from the same drawings is not written over without `force`.
        plans: one or more, of blocks that can be sewn.
        progress: told at the start of each of PRINT_STEPS steps what is being done.
        quilt, printing: as for `lay_out`.

    Raises:
        StuckError, OptionError: as `lay_out`. FileError: the file cannot be written, or is not ours.
        LibraryError: the cairo library is missing. ProofError: the finished file does not measure true.
    """
    out, drawings = Path(path), _files(plans, quilt)
    may_write_pdf(out, drawings, force=force)
    pdf, printed = pdf_of(*plans, file=str(path), progress=progress, quilt=quilt, **printing)
    progress(f"writing {out.name}")
    write_ours(out, pdf, drawings, force=force)
    return printed


def _files(plans: Sequence[Plan], quilt: ForQuilt | None) -> list[str]:
    """What a print is made from."""
    return [*(quilt.files if quilt is not None else ()), *(split_size(plan.block.file)[0] for plan in plans)]


def pdf_of(
    *plans: Plan,
    file: str = "",
    progress: Callable[[str], None] = lambda _: None,
    quilt: ForQuilt | None = None,
    **printing: Text,
) -> tuple[bytes, Printed]:
    """The print file of plans, read back and measured, as its bytes; `write_pdf` writes the same.

    Args:
        file: what it is called in what is told of it.

    Raises:
        StuckError, OptionError, LibraryError, ProofError: as `write_pdf`.
    """
    from seamwright.foundation.purpose import all_called
    from seamwright.sheet.pdf import to_pdf
    from seamwright.sheet.readback import read_back

    options = agreed(PrintOptions, plans, printing)
    progress("placing the foundations on sheets")
    sheets = lay_out(*plans, quilt=quilt, **printing)
    progress("drawing the pages")
    title = ", ".join(dict.fromkeys(plan.block.title for plan in plans))
    title = (quilt.name if quilt is not None else "") or title
    title += f": {all_called(options)}"
    pdf = to_pdf(sheets, title=title, made_from=made_by(_files(plans, quilt)))
    progress("measuring the finished file")
    measured = read_back(pdf, sheets)
    return pdf, Printed(file, one_paper(plans).name, options, plans, sheets, measured, quilt)


def write_files(
    folder: str | Path, *plans: Plan, force: bool = False, quilt: ForQuilt | None = None, **printing: Text
) -> tuple[MachineFiles, ...]:
    """Writes every foundation as SVG and DXF with named layers at true size, and as a PNG preview, into a folder.

    Places of one print that share a drawing share its files. The folder is made if it is not there; every SVG and
    DXF is read back and measured before anything is written.

    Args:
        quilt: that the plans are the blocks of: files say how often all of it needs them. None: one block each.
        printing: as for `lay_out`, as far as it changes the foundations themselves.

    Raises:
        StuckError, ProofError: as `foundations`. OptionError: an enlargement is asked for. FileError: a file cannot
            be written, or is not ours. LibraryError: the cairo library is missing (for the previews).
    """
    out = Path(folder)
    may_use_folder(out)
    made = files_of(*plans, quilt=quilt, **printing)
    contents = [
        (f"{one.name}{form}", content, [split_size(one.foundation.drawing)[0]])
        for one in made
        for form, content in one.contents.items()
    ]
    write_folder(out, contents, force=force)
    return made


def files_of(*plans: Plan, quilt: ForQuilt | None = None, **printing: Text) -> tuple[MachineFiles, ...]:
    """Files of every foundation for machines, read back and measured, with their bytes; `write_files` writes them.

    Raises:
        StuckError, ProofError, OptionError, LibraryError: as `write_files`.
    """
    from seamwright.files.make import machine_files

    options = agreed(PrintOptions, plans, printing)
    if options.enlarge != 1:
        what = "files for machines are at true size, and an enlargement is asked for"
        raise fail(OptionError, "option", what, "Leave out --enlarge, and scale in the machine's own program")
    _must_print(plans, options, quilt)
    jobs, blocks = _printed(plans, options, quilt), quilt.blocks if quilt is not None else ()
    return machine_files(jobs, lambda foundation: made_by([split_size(foundation.drawing)[0]]), blocks)


# -- one of several drawings -------------------------------------------------------------------------------


def outcome(
    drawing: str,
    given: Given = (),
    progress: Callable[[int], None] | None = None,
    source: bytes | None = None,
) -> Outcome:
    """Reads, plans and proves one drawing; whatever goes wrong is in the outcome.

    Args:
        drawing: path of the file, with a size of its own behind it if wanted: "kite.svg@8in".
        given: options as pairs (long name, text).
        progress: told now and then how many ways to divide the block were looked at.
        source: the drawing's bytes where they are not, or not yet, those of its file; None: read from there.
    """
    path, size = split_size(drawing)
    try:
        block = _read(path, [*given, ("size", size)] if size else given, source)
        # One drawing may be asked for in two sizes: each keeps the words it was asked for with.
        return Outcome(drawing, plan=plan(replace(block, file=drawing), progress=progress))
    except SeamwrightError as error:
        return Outcome(drawing, error=_in_colourway(error, dict(given).get("colourway", "")))
    except Exception as problem:  # one drawing never stops the others
        ours = unexpected(problem)
        ours.__cause__ = problem
        return Outcome(drawing, error=ours)


def _in_colourway(error: SeamwrightError, colourway: str) -> SeamwrightError:
    """An error that speaks of patches by their names, which are those of one colourway's plan."""
    names = tuple(f"option {option}:" for option in ("pre-pieced", "start"))
    if not colourway or not any(fault.what.startswith(names) for fault in error.faults):
        return error
    words = "the drawing's own fabrics" if colourway == OWN else f"colourway {colourway}"
    faults = tuple(
        replace(fault, what=f"in {words}, {fault.what}") if fault.what.startswith(names) else fault
        for fault in error.faults
    )
    return type(error)(error.code, faults, error.drawing)


# -- within -------------------------------------------------------------------------------------------------


def _read(path: str | Path, given: Given, source: bytes | None = None) -> Block:
    from seamwright.block.make import make_block
    from seamwright.drawing.read import read_bytes, read_drawing

    drawing = read_drawing(Path(path)) if source is None else read_bytes(source, Path(path))
    pairs = options_of(drawing, path, given)
    how = usable_options(pairs.items())
    block = make_block(drawing, how)
    return dress(replace(block, file=str(path), options=tuple(pairs.items())), how)
