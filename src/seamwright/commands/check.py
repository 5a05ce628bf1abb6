"""`seamwright check`: the verdict, its picture, mends, the rehearsal.

Knows:  what the command may be asked, and in which order things are done.
Leaves: the work (api), the words (words.checks), the data (report).
"""

from __future__ import annotations

import sys

from seamwright.commands.asking import (
    drawings_of,
    each_colourway,
    given_of,
    is_quilt,
    left_out,
    outcome,
    tell_of_quilts,
)
from seamwright.commands.many import are_many, check_many
from seamwright.commands.telling import complain, print_json, say, tell_outcome
from seamwright.parser import Slip

TYPE_CHECKING = False
if TYPE_CHECKING:  # typing itself is not imported: it is not needed to run
    from argparse import Namespace
    from collections.abc import Sequence
    from pathlib import Path
    from typing import Any

    from seamwright.piecing.model import Plan
    from seamwright.results import Outcome

    Job = tuple[str, Sequence[tuple[str, str]]]


def check(asked: Namespace) -> int:
    """Plans each drawing and tells what came of it; returns the exit code."""
    from seamwright import mending, picturing
    from seamwright.progress import Progress
    from seamwright.report.checks import check_object

    drawings, given = drawings_of(asked), given_of(asked)
    if are_many(asked):
        return check_many(asked, drawings, given)
    jobs = each_colourway(drawings, given)
    _of_one_block(asked, drawings)
    pictures = _pictures_asked(asked, drawings, jobs)
    folder = _rehearsal_folder(asked, drawings, jobs)
    wanted, out = _mends_asked(asked, drawings)
    if out is not None:
        jobs = jobs[:1]  # mends change lines only, and the mended drawing keeps its own fabrics
    outcomes: list[Outcome] = []
    if not asked.json:
        tell_of_quilts(drawings, given)
    with Progress(len(jobs), "drawing") as progress:
        for drawing, one in jobs:
            progress.doing(drawing)
            outcomes.append(mending.with_mends(outcome(drawing, one, progress.looked_at)))
            if not asked.json and out is None:
                progress.clear()
                tell_outcome(outcomes[-1], sys.stdout)
            if outcomes[-1].stopped:
                break
    if out is not None:
        return _mend(outcomes[0], wanted, out, asked, jobs[0][1])
    for picture, made in zip(pictures, outcomes, strict=False):
        if made.plan is not None:
            picturing.write_picture(picture, made.plan, made.mends, force=asked.force)
            if not asked.json:
                say(f"Picture: {picture}")
    plan = outcomes[0].plan
    objects = [check_object(o.drawing, o.plan, o.error, o.mends) for o in outcomes] if asked.json else []
    if folder is not None and plan is not None:
        rehearsed = _rehearse(plan, folder, asked)
        if asked.json:
            objects[0]["rehearsed"] = rehearsed
    if asked.json:
        print_json(objects)
    return left_out(jobs, outcomes) or max(made.exit_code for made in outcomes)


def _of_one_block(asked: Namespace, drawings: Sequence[str]) -> None:
    """Refuses what is done with one block where a quilt is given."""
    wanted = {"--picture": asked.picture, "--rehearse": asked.rehearse, "--mend": asked.mend}
    for option, text in wanted.items():
        quilt = next((drawing for drawing in drawings if is_quilt(drawing)), None)
        if text and quilt is not None:
            whole = " seamwright quilt draws the whole." if option == "--picture" else ""
            raise Slip(f"{option} is for one block, and {quilt} is a quilt. Name the drawing of a block.{whole}")


def _pictures_asked(asked: Namespace, drawings: Sequence[str], jobs: Sequence[Job]) -> list[Path]:
    """Where the picture of each job goes; none if none is asked for."""
    from pathlib import Path

    from seamwright import outfiles
    from seamwright.asked import split_size

    if asked.picture is None:
        return []
    if not asked.picture:
        raise Slip("--picture: where should the picture go? Give a name that ends in .svg or .png.")
    if len(drawings) > 1:
        raise Slip(f"--picture shows one drawing, but {len(drawings)} are given. Check them one at a time.")
    ways = [dict(given).get("colourway", "") for _, given in jobs]
    pictures = outfiles.one_for_each(Path(asked.picture), ways) if len(jobs) > 1 else [Path(asked.picture)]
    for picture in pictures:
        outfiles.may_write_picture(picture, split_size(drawings[0])[0], force=asked.force)
    return pictures


def _rehearsal_folder(asked: Namespace, drawings: Sequence[str], jobs: Sequence[Job]) -> Path | None:
    """Where the pictures of a rehearsal go; None if none is asked for."""
    from pathlib import Path

    from seamwright.output import may_use_folder

    if asked.rehearse is None:
        return None
    if not asked.rehearse:
        raise Slip("--rehearse: where should the pictures go? Give the name of a folder, new or not.")
    if len(drawings) > 1:
        raise Slip(f"--rehearse sews one drawing, but {len(drawings)} are given. Rehearse them one at a time.")
    if len(jobs) > 1:
        raise Slip(f"--rehearse sews one colourway, but {len(jobs)} are asked for. Name one with --colourway.")
    if asked.mend:
        raise Slip("--rehearse and --mend do not go together. Mend first, then rehearse the mended drawing.")
    folder = Path(asked.rehearse)
    may_use_folder(folder)
    return folder


def _rehearse(plan: Plan, folder: Path, asked: Namespace) -> dict[str, Any] | None:
    """Rehearses a plan that can be sewn, tells of it, and returns the facts for programs; None if it cannot."""
    from seamwright import picturing
    from seamwright.report.checks import rehearsal_object
    from seamwright.words.checks import rehearsal_words

    if not plan.sections:
        if not asked.json:
            say("Not rehearsed: what is stuck cannot be sewn.")
        return None
    rehearsal = picturing.write_rehearsal(folder, plan, force=asked.force)
    if not asked.json:
        say("\n".join(rehearsal_words(rehearsal)))
    return rehearsal_object(rehearsal)


def _mends_asked(asked: Namespace, drawings: Sequence[str]) -> tuple[list[int], Path | None]:
    """The numbers of mends to be done, and where the drawing goes; (.., None) if none is asked for."""
    from pathlib import Path

    from seamwright import outfiles
    from seamwright.asked import split_size

    if not asked.mend:
        if asked.output is not None:
            raise Slip("-o takes a drawing with mends done. Say which with --mend, such as --mend 1.")
        return [], None
    if len(drawings) > 1:
        raise Slip(f"--mend works on one drawing, but {len(drawings)} are given. Mend them one at a time.")
    if not asked.output:
        raise Slip("where should the mended drawing go? Add -o and a name, such as -o mended.svg.")
    numbers = []
    for text in asked.mend:
        if not (text.isascii() and text.isdigit() and len(text) < 5 and int(text) > 0):
            raise Slip(f"--mend: '{text}' is no number of a mend. check lists them: --mend 1, say.")
        numbers.append(int(text))
    out = Path(asked.output)
    outfiles.may_write_mended(out, split_size(drawings[0])[0], force=asked.force)
    return list(dict.fromkeys(numbers)), out


def _mend(
    outcome: Outcome, numbers: Sequence[int], out: Path, asked: Namespace, given: Sequence[tuple[str, str]]
) -> int:
    """Does the mends asked for, writes the drawing, and tells of the mended drawing as of any other."""
    from seamwright import api, mending, picturing
    from seamwright.asked import split_size
    from seamwright.report.checks import check_object
    from seamwright.words.checks import mended_words

    if outcome.plan is None:
        return tell_outcome(outcome, sys.stderr)
    drawing, known = outcome.drawing, {mend.number: mend for mend in outcome.mends}
    if not outcome.plan.obstructions:
        complain(f"{drawing} is not stuck: there is nothing to mend, and {out} was not written")
        return 2
    strange = [number for number in numbers if number not in known]
    if strange:
        there = (
            "there is none" if not known else "there is 1 only" if len(known) == 1 else f"they go to {len(known)}"
        )
        raise Slip(f"--mend {strange[0]}: {drawing} has no such mend; {there}. check lists them.")
    chosen = [known[number] for number in numbers]
    places = [mend.obstruction for mend in chosen]
    twice = next((place for place in places if places.count(place) > 1), None)
    if twice is not None:
        both = " and ".join(str(mend.number) for mend in chosen if mend.obstruction == twice)
        raise Slip(f"--mend: {both} are for the same place ({twice}). Choose one for each place.")
    done = mending.write_mended(out, outcome.plan, chosen, force=asked.force)
    size = split_size(drawing)[1]
    after = mending.with_mends(api.outcome(f"{out}@{size}" if size else str(out), given))
    if asked.picture is not None and after.plan is not None:
        before = (outcome.plan.block, chosen)
        picturing.write_picture(asked.picture, after.plan, after.mends, before, force=asked.force)
    if asked.json:
        print_json([check_object(after.drawing, after.plan, after.error, after.mends)])
    else:
        say("\n".join(mended_words(str(out), drawing, chosen, done.said)))
        tell_outcome(after, sys.stdout)
    return after.exit_code
