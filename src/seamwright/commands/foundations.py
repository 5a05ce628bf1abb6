"""`seamwright foundations`: the print file, and files for machines.

Knows:  what the command may be asked, and in which order things are done.
Leaves: the work (api), the words (words), the data (report).
"""

from __future__ import annotations

from seamwright.commands.asking import drawings_of, each_colourway, files_of, given_of, quilt_asked
from seamwright.commands.many import are_many, print_many
from seamwright.commands.planning import all_planned
from seamwright.commands.telling import print_json, say, tell_unmade
from seamwright.parser import Slip

TYPE_CHECKING = False
if TYPE_CHECKING:  # typing itself is not imported: it is not needed to run
    from argparse import Namespace

    from seamwright.files.model import MachineFiles
    from seamwright.results import Printed


def foundations(asked: Namespace) -> int:
    """Prints all foundations into one file, or into files for machines; returns the exit code."""
    from pathlib import Path

    from seamwright import api, outfiles
    from seamwright.progress import Progress
    from seamwright.report.prints import files_object, foundations_object
    from seamwright.words.checks import files_words
    from seamwright.words.prints import foundations_words

    drawings, given = drawings_of(asked), given_of(asked)
    if are_many(asked):
        return print_many(asked, drawings, given)
    if not asked.output and (asked.output == "" or asked.files is None):
        raise Slip("where should the sheets go? Add -o and the name of a PDF, such as -o kite.pdf.")
    if asked.files == "":
        raise Slip("--files: where should they go? Give the name of a folder, new or not.")
    out, folder = (Path(name) if name else None for name in (asked.output, asked.files))
    if out is not None:
        outfiles.may_write_pdf(out, files_of(drawings), force=asked.force)
    if folder is not None:
        outfiles.may_write_files(folder)
    printed: Printed | None = None
    made: tuple[MachineFiles, ...] = ()
    laid = quilt_asked(drawings, given)
    quilt = None
    if laid is not None:
        from seamwright.quilt.counts import for_quilt

        quilt = for_quilt(laid)
    jobs = each_colourway(drawings, given)
    with Progress(len(jobs) + api.PRINT_STEPS, "step") as progress:
        plans, unprinted = all_planned(jobs, progress)
        if plans and folder is not None:
            progress.doing(f"writing files into {folder}")
            made = api.write_files(folder, *plans, force=asked.force, quilt=quilt)
        if plans and out is not None:
            printed = api.write_pdf(out, *plans, force=asked.force, progress=progress.doing, quilt=quilt)
    if unprinted:
        return tell_unmade(unprinted, f"nothing was printed, and {out or folder} was not written")
    if asked.json:
        files = {"files": files_object(str(folder), made)} if folder is not None else {}
        print_json({**(foundations_object(printed) if printed is not None else {}), **files})
        return 0
    if printed is not None:
        say("\n".join(foundations_words(printed)))
    if folder is not None:
        say("\n".join(files_words(str(folder), made)))
    return 0
