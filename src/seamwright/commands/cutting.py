"""`seamwright cutting`: what to buy, strips and subcuts, on the screen, as data, as a table or as pages.

Knows:  what the command may be asked, and in which order things are done; that a quilt is cut as a whole.
Leaves: the work (handouts, quiltcuts), the words (words.cuts, words.quiltcuts), the data (report).
"""

from __future__ import annotations

from seamwright.commands.asking import drawings_of, each_colourway, files_of, given_of, quilt_asked
from seamwright.commands.planning import all_planned
from seamwright.commands.telling import print_json, say, tell_unmade
from seamwright.parser import Slip

TYPE_CHECKING = False
if TYPE_CHECKING:  # typing itself is not imported: it is not needed to run
    from argparse import Namespace
    from collections.abc import Sequence
    from pathlib import Path

    from seamwright.cutting.model import Cutting
    from seamwright.quilt.cutmodel import QuiltCutting


def cutting(asked: Namespace) -> int:
    """Tells what to cut for each drawing or for a quilt, and writes it where asked; returns the exit code."""
    from pathlib import Path

    from seamwright import handouts, outfiles, quiltcuts
    from seamwright.progress import Progress

    drawings, given = drawings_of(asked), given_of(asked)
    if asked.output == "":
        raise Slip("-o: where should the list go? Name a table or pages, such as -o kite.csv or -o kite.pdf.")
    out = Path(asked.output) if asked.output else None
    if out is not None:
        outfiles.may_write_list(out, files_of(drawings), force=asked.force)
    quilt = quilt_asked(drawings, given)
    jobs = each_colourway(drawings, given)
    cuttings: list[Cutting] = []
    whole: QuiltCutting | None = None
    with Progress(2 * len(jobs) + (out is not None), "step") as progress:
        plans, uncut = all_planned(jobs, progress)
        if quilt is not None and not uncut:
            progress.doing(f"cutting {quilt.setting.name}")
            whole = quiltcuts.cutting_of(quilt, plans, **dict(given))
        elif quilt is None:
            for plan in plans:
                progress.doing(f"cutting {plan.block.title}")
                cuttings.append(handouts.cutting(plan, **dict(given)))
        if out is not None and (cuttings or whole):
            progress.doing(f"writing {out.name}")
            if whole is not None:
                quiltcuts.write_quilt_cutting(out, whole, force=asked.force)
            else:
                handouts.write_cutting(out, *cuttings, force=asked.force)
    if uncut:
        return tell_unmade(uncut, f"nothing was counted{f', and {out} was not written' if out else ''}")
    _told(cuttings, whole, out, as_data=asked.json)
    return 0


def _told(cuttings: Sequence[Cutting], whole: QuiltCutting | None, out: Path | None, *, as_data: bool) -> None:
    """Prints lists as data or as words."""
    from seamwright.report.cuts import cuttings_object
    from seamwright.report.quiltcuts import quilt_cutting_object
    from seamwright.words.cuts import cutting_words, written
    from seamwright.words.quiltcuts import quilt_cutting_words, quilt_written

    if as_data:
        print_json(cuttings_object(cuttings) if whole is None else quilt_cutting_object(whole))
        return
    if out is not None:
        form = out.suffix.lower()
        say(f"{out}: {written(cuttings, form) if whole is None else quilt_written(whole, form)}.")
    say("\n".join(cutting_words(cuttings) if whole is None else quilt_cutting_words(whole)))
