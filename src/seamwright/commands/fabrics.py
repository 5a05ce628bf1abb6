"""`seamwright fabrics`: values, contrasts, points that vanish, and a picture in colour and in greys.

Knows:  what the command may be asked, and in which order things are done.
Leaves: the work (api, cloths), the words (words.fabrics), the data (report.fabrics).
"""

from __future__ import annotations

from seamwright.commands.asking import (
    drawings_of,
    each_colourway,
    files_of,
    given_of,
    is_quilt,
    left_out,
    outcome,
    tell_of_quilts,
)
from seamwright.commands.telling import complain, print_json, say, tell
from seamwright.parser import Slip

TYPE_CHECKING = False
if TYPE_CHECKING:  # typing itself is not imported: it is not needed to run
    from argparse import Namespace
    from typing import Any

    from seamwright.results import Outcome


def fabrics(asked: Namespace) -> int:
    """Tells of the fabrics of each drawing in each colourway; returns the exit code."""
    from pathlib import Path

    from seamwright import cloths, outfiles
    from seamwright.progress import Progress

    drawings, given = drawings_of(asked), given_of(asked)
    if asked.output == "":
        raise Slip("-o: where should the picture go? Give a name that ends in .svg or .png.")
    out = Path(asked.output) if asked.output is not None else None
    if out is not None:
        outfiles.may_write_picture(out, *files_of(drawings, quilts=False), force=asked.force)
    jobs = each_colourway(drawings, given)
    outcomes: list[Outcome] = []
    if not asked.json:
        tell_of_quilts(drawings, given)
    with Progress(len(jobs), "drawing") as progress:
        for drawing, one in jobs:
            progress.doing(drawing)
            outcomes.append(outcome(drawing, one, progress.looked_at))
            if not asked.json:
                progress.clear()
                _tell(outcomes[-1])
            if outcomes[-1].stopped:
                break
    if asked.json:
        print_json([_object(one) for one in outcomes])
    plans = [one.plan for one in outcomes if one.plan is not None]
    if out is not None:
        if len(plans) < len(jobs):
            complain(f"not all could be shown, and {out} was not written")
        else:
            cloths.write_fabrics(out, *plans, force=asked.force)
            if not asked.json:
                say(f"Picture: {out}")
    for quilt in filter(is_quilt, () if asked.json or len(plans) < len(jobs) else drawings):
        say(f"Sashing and borders, and light and dark over the whole of it: seamwright quilt {quilt}")
    wrong = [one.error.exit_code for one in outcomes if one.error is not None]
    return left_out(jobs, outcomes) or max(wrong, default=0)


def _tell(outcome: Outcome) -> None:
    from seamwright import cloths
    from seamwright.words.fabrics import fabric_lines

    if outcome.plan is not None:
        say("\n".join(fabric_lines(outcome.drawing, cloths.fabrics(outcome.plan))))
    elif outcome.error is not None:
        tell(outcome.error, outcome.drawing)


def _object(outcome: Outcome) -> dict[str, Any]:
    from seamwright import cloths
    from seamwright.report.checks import check_object
    from seamwright.report.fabrics import fabrics_object

    if outcome.plan is None:
        return check_object(outcome.drawing, None, outcome.error)
    return fabrics_object(outcome.drawing, cloths.fabrics(outcome.plan))
