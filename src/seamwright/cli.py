"""The command line: asks, calls the one function that does the job, tells, and answers with a number.

Knows:  which command calls what, which exit code, how to tell a person what went wrong.
Leaves: the words asked (parser), the work (api), the words of a report (report), files (output).
Limits: nothing heavy is imported until a command runs, so that help is there at once.

Exit codes: 0 done; 1 the drawing cannot be sewn as asked; 2 input, option, file or missing library; 3 our own
proof or read-back failed; 130 interrupted. Ctrl-C while a plan is searched for ends that search only: the best plan
found is told, and what was asked for is done with it, unless more drawings wait; these make it 130.
"""

from __future__ import annotations

import os
import sys

from seamwright.parser import PRINT_OPTIONS, SHARED_OPTIONS, Slip, build_parser, parse

TYPE_CHECKING = False
if TYPE_CHECKING:  # typing itself is not imported: it is not needed to run
    from argparse import Namespace
    from collections.abc import Sequence
    from pathlib import Path
    from typing import Any, NoReturn, TextIO

    from seamwright.files.model import MachineFiles
    from seamwright.piecing.model import Plan
    from seamwright.results import Outcome, Printed

__all__ = ["build_parser", "main", "run"]

TRACE = "SEAMWRIGHT_TRACE"
"""Environment variable: if set, a failure also shows where in the program it happened."""

FAULTS_TOLD = 6
"""More faults of one drawing are counted, not told: the first ones mended, most of the others often vanish."""


def run() -> NoReturn:
    """Entry point of the command `seamwright`."""
    sys.exit(main())


def main(argv: Sequence[str] | None = None) -> int:
    """Runs one command and returns its exit code; never raises, never shows a traceback unasked."""
    for stream in (sys.stdout, sys.stderr):
        # A terminal that lacks a letter shows its code instead of stopping us.
        if hasattr(stream, "reconfigure"):
            stream.reconfigure(errors="backslashreplace")
    try:
        name, asked = parse(list(sys.argv[1:] if argv is None else argv))
        return {"check": _check, "foundations": _foundations, "text-form": _text_form}[name](asked)
    except Slip as slip:
        _complain(str(slip))
        return 2
    except KeyboardInterrupt:
        _complain("stopped; no file was left half-written")
        return 130
    except SystemExit as left:  # help or version were shown
        return left.code if isinstance(left.code, int) else 2
    except Exception as problem:
        return _tell(problem)


# -- the commands ------------------------------------------------------------------------------------------


def _check(asked: Namespace) -> int:
    from pathlib import Path

    from seamwright import api, outfiles, report
    from seamwright.asked import split_size
    from seamwright.progress import Progress

    drawings, given = _drawings(asked), _given(asked)
    if asked.picture == "":
        raise Slip("--picture: where should the picture go? Give a name that ends in .svg or .png.")
    picture = Path(asked.picture) if asked.picture is not None else None
    if picture is not None:
        if len(drawings) > 1:
            raise Slip(f"--picture shows one drawing, but {len(drawings)} are given. Check them one at a time.")
        outfiles.may_write_picture(picture, split_size(drawings[0])[0], force=asked.force)
    folder = _rehearsal_folder(asked, drawings)
    wanted, out = _mends_asked(asked, drawings)
    outcomes: list[Outcome] = []
    with Progress(len(drawings), "drawing") as progress:
        for drawing in drawings:
            progress.doing(drawing)
            outcomes.append(api.with_mends(api.outcome(drawing, given, progress.looked_at)))
            if not asked.json and out is None:
                progress.clear()
                _tell_outcome(outcomes[-1], sys.stdout)
            if outcomes[-1].stopped:
                break
    if out is not None:
        return _mend(outcomes[0], wanted, out, asked, given)
    plan = outcomes[0].plan
    if picture is not None and plan is not None:
        api.write_picture(picture, plan, outcomes[0].mends, force=asked.force)
        if not asked.json:
            _print(f"Picture: {picture}")
    objects = [report.check_object(o.drawing, o.plan, o.error, o.mends) for o in outcomes] if asked.json else []
    if folder is not None and plan is not None:
        rehearsed = _rehearse(plan, folder, asked)
        if asked.json:
            objects[0]["rehearsed"] = rehearsed
    if asked.json:
        _print_json(objects)
    return _left_out(drawings, outcomes) or max(outcome.exit_code for outcome in outcomes)


def _rehearsal_folder(asked: Namespace, drawings: Sequence[str]) -> Path | None:
    """Where the pictures of a rehearsal go; None if none is asked for."""
    from pathlib import Path

    from seamwright.output import may_use_folder

    if asked.rehearse is None:
        return None
    if not asked.rehearse:
        raise Slip("--rehearse: where should the pictures go? Give the name of a folder, new or not.")
    if len(drawings) > 1:
        raise Slip(f"--rehearse sews one drawing, but {len(drawings)} are given. Rehearse them one at a time.")
    if asked.mend:
        raise Slip("--rehearse and --mend do not go together. Mend first, then rehearse the mended drawing.")
    folder = Path(asked.rehearse)
    may_use_folder(folder)
    return folder


def _rehearse(plan: Plan, folder: Path, asked: Namespace) -> dict[str, Any] | None:
    """Rehearses a plan that can be sewn, tells of it, and returns the facts for programs; None if it cannot."""
    from seamwright import api, report, sentences

    if not plan.sections:
        if not asked.json:
            _print("Not rehearsed: what is stuck cannot be sewn.")
        return None
    rehearsal = api.write_rehearsal(folder, plan, force=asked.force)
    if not asked.json:
        _print("\n".join(sentences.rehearsal_words(rehearsal)))
    return report.rehearsal_object(rehearsal)


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
    from seamwright import api, report, sentences
    from seamwright.asked import split_size

    if outcome.plan is None:
        return _tell_outcome(outcome, sys.stderr)
    drawing, known = outcome.drawing, {mend.number: mend for mend in outcome.mends}
    if not outcome.plan.obstructions:
        _complain(f"{drawing} is not stuck: there is nothing to mend, and {out} was not written")
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
    done = api.write_mended(out, outcome.plan, chosen, force=asked.force)
    size = split_size(drawing)[1]
    after = api.with_mends(api.outcome(f"{out}@{size}" if size else str(out), given))
    if asked.picture is not None and after.plan is not None:
        api.write_picture(asked.picture, after.plan, after.mends, (outcome.plan.block, chosen), force=asked.force)
    if asked.json:
        _print_json([report.check_object(after.drawing, after.plan, after.error, after.mends)])
    else:
        _print("\n".join(sentences.mended_words(str(out), drawing, chosen, done.said)))
        _tell_outcome(after, sys.stdout)
    return after.exit_code


def _foundations(asked: Namespace) -> int:
    from pathlib import Path

    from seamwright import api, outfiles, printwords, report, sentences
    from seamwright.asked import split_size
    from seamwright.progress import Progress

    drawings, given = _drawings(asked), _given(asked)
    if not asked.output and (asked.output == "" or asked.files is None):
        raise Slip("where should the sheets go? Add -o and the name of a PDF, such as -o kite.pdf.")
    if asked.files == "":
        raise Slip("--files: where should they go? Give the name of a folder, new or not.")
    out, folder = (Path(name) if name else None for name in (asked.output, asked.files))
    if out is not None:
        outfiles.may_write_pdf(out, [split_size(drawing)[0] for drawing in drawings], force=asked.force)
    if folder is not None:
        outfiles.may_write_files(folder)
    printed: Printed | None = None
    made: tuple[MachineFiles, ...] = ()
    with Progress(len(drawings) + api.PRINT_STEPS, "step") as progress:
        outcomes: list[Outcome] = []
        for drawing in drawings:
            progress.doing(drawing)
            outcomes.append(api.outcome(drawing, given, progress.looked_at))
            if outcomes[-1].stopped:
                break
        if len(outcomes) < len(drawings):
            raise KeyboardInterrupt  # half of what was asked for is no print
        unprinted = [o for o in outcomes if o.plan is None or not o.plan.sections]
        if not unprinted:
            plans = [o.plan for o in outcomes if o.plan is not None]
            if folder is not None:
                progress.doing(f"writing files into {folder}")
                made = api.write_files(folder, *plans, force=asked.force)
            if out is not None:
                printed = api.write_pdf(out, *plans, force=asked.force, progress=progress.doing)
        else:
            progress.doing("looking for mends")
            unprinted = [api.with_mends(outcome) for outcome in unprinted]
    if unprinted:
        for outcome in unprinted:
            if outcome.plan is None:
                _tell_outcome(outcome, sys.stderr)
            else:
                _print("\n".join(sentences.stuck_words(outcome.drawing, outcome.plan, outcome.mends)), sys.stderr)
        _complain(f"nothing was printed, and {out or folder} was not written")
        return max(outcome.exit_code for outcome in unprinted)
    if asked.json:
        files = {"files": report.files_object(str(folder), made)} if folder is not None else {}
        _print_json({**(report.foundations_object(printed) if printed is not None else {}), **files})
        return 0
    if printed is not None:
        _print("\n".join(printwords.foundations_words(printed)))
    if folder is not None:
        _print("\n".join(sentences.files_words(str(folder), made)))
    return 0


def _text_form(asked: Namespace) -> int:
    from seamwright.drawing.textform import GRAMMAR

    if asked.drawings:
        raise Slip(
            f"text-form takes no drawing: it only shows how one is typed; to read {asked.drawings[0]}, use check."
        )
    _print(GRAMMAR.rstrip())
    return 0


def _left_out(drawings: Sequence[str], outcomes: Sequence[Outcome]) -> int:
    """Tells of drawings not looked at, since Ctrl-C stopped the search before; the exit code, 0 for none."""
    left = len(drawings) - len(outcomes)
    if not left:
        return 0
    _complain(f"stopped; {left} of {len(drawings)} drawings {'was' if left == 1 else 'were'} not looked at")
    return 130


def _drawings(asked: Namespace) -> list[str]:
    if not all(asked.drawings) or not asked.drawings:
        raise Slip("which drawing? Name an SVG or .seams file, such as designs/kite.svg.")
    return list(asked.drawings)


def _given(asked: Namespace) -> list[tuple[str, str]]:
    """The shared options given, as pairs of long name and text, each of them usable."""
    from seamwright.asked import usable_options
    from seamwright.errors import OptionError

    given = [(name, getattr(asked, name.replace("-", "_"), None)) for name in (*SHARED_OPTIONS, *PRINT_OPTIONS)]
    pairs = [(name, "yes" if text is True else text) for name, text in given if text not in (None, False)]
    try:
        usable_options(pairs)
    except OptionError as error:
        raise Slip(" ".join(fault.text.replace("option ", "--", 1) for fault in error.faults)) from None
    return pairs


# -- telling -------------------------------------------------------------------------------------------------


def _tell_outcome(outcome: Outcome, stream: TextIO) -> int:
    """Says what became of a drawing; returns the exit code."""
    from seamwright import sentences

    if outcome.plan is not None:
        _print("\n".join(sentences.check_words(outcome.drawing, outcome.plan, outcome.mends)), stream)
    elif outcome.error is not None:
        _tell(outcome.error, outcome.drawing)
    return outcome.exit_code


def _tell(problem: Exception, drawing: str = "") -> int:
    """Says on standard error what went wrong; returns the exit code."""
    from seamwright.errors import SeamwrightError, unexpected

    if os.environ.get(TRACE):
        import traceback

        traceback.print_exception(problem)
    error = problem if isinstance(problem, SeamwrightError) else unexpected(problem)
    where = [f"{error.drawing or drawing}:"] if error.drawing or drawing else []
    told = [fault.text for fault in error.faults[:FAULTS_TOLD]]
    if len(error.faults) > FAULTS_TOLD:
        told.append(f"and {len(error.faults) - FAULTS_TOLD} more like these; check --json lists them all")
    # Several stand one to a line: each is mended by itself.
    _complain(" ".join([*where, *told]) if len(told) == 1 else "\n  ".join([*(where or ["this is wrong:"]), *told]))
    return error.exit_code


def _complain(sentence: str) -> None:
    """One message on standard error; if nobody is there to read it, the exit code still tells."""
    if sys.stderr is not None:
        try:
            print(f"seamwright: {sentence}", file=sys.stderr, flush=True)
        except OSError:
            return


def _print(text: str, stream: TextIO | None = None) -> None:
    """Prints; if whoever read our output has gone, the rest is dropped and the work goes on.

    Raises:
        FileError: it cannot be written for another reason, such as a full disk.
    """
    try:
        print(text, file=stream or sys.stdout, flush=True)
    except OSError as problem:
        # Python flushes once more when it ends; let that go nowhere.
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
        if not isinstance(problem, BrokenPipeError):
            from seamwright.output import cannot_write

            raise cannot_write("standard output", problem) from problem


def _print_json(value: object) -> None:
    import json

    _print(json.dumps(value, indent=1))
