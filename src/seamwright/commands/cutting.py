"""`seamwright cutting`: what to buy, strips and subcuts, on the screen, as data, as a table or as pages.

Knows:  what the command may be asked, and in which order things are done.
Leaves: the work (handouts), the words (words.cuts), the data (report.cuts).
"""

from __future__ import annotations

from seamwright.commands.asking import drawings_of, each_colourway, given_of
from seamwright.commands.planning import all_planned
from seamwright.commands.telling import print_json, say, tell_unmade
from seamwright.parser import Slip

TYPE_CHECKING = False
if TYPE_CHECKING:  # typing itself is not imported: it is not needed to run
    from argparse import Namespace


def cutting(asked: Namespace) -> int:
    """Tells what to cut for each drawing, and writes it where asked; returns the exit code."""
    from pathlib import Path

    from seamwright import handouts, outfiles
    from seamwright.asked import split_size
    from seamwright.progress import Progress
    from seamwright.report.cuts import cuttings_object
    from seamwright.words.cuts import cutting_words, written

    drawings, given = drawings_of(asked), given_of(asked)
    if asked.output == "":
        raise Slip("-o: where should the list go? Name a table or pages, such as -o kite.csv or -o kite.pdf.")
    out = Path(asked.output) if asked.output else None
    if out is not None:
        outfiles.may_write_list(out, [split_size(drawing)[0] for drawing in drawings], force=asked.force)
    jobs = each_colourway(drawings, given)
    cuttings = []
    with Progress(2 * len(jobs) + (out is not None), "step") as progress:
        plans, uncut = all_planned(jobs, progress)
        for plan in plans:
            progress.doing(f"cutting {plan.block.title}")
            cuttings.append(handouts.cutting(plan, **dict(given)))
        if cuttings and out is not None:
            progress.doing(f"writing {out.name}")
            handouts.write_cutting(out, *cuttings, force=asked.force)
    if uncut:
        return tell_unmade(uncut, f"nothing was counted{f', and {out} was not written' if out else ''}")
    if asked.json:
        print_json(cuttings_object(cuttings))
        return 0
    if out is not None:
        say(f"{out}: {written(cuttings, out.suffix.lower())}.")
    say("\n".join(cutting_words(cuttings)))
    return 0
