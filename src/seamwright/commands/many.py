"""`check` and `foundations` of many drawings: folders, several at a time, told as they come, summed up at the end.

Knows:  what may be asked of many drawings together, in which words their run is summed up.
Leaves: which files are drawings (archive.found), the work (many), what is told of one drawing (words, report).
"""

from __future__ import annotations

import sys

from seamwright.commands.asking import is_quilt
from seamwright.commands.telling import complain, print_json, print_line, say
from seamwright.parser import Slip
from seamwright.start import STOPPED

TYPE_CHECKING = False
if TYPE_CHECKING:  # typing itself is not imported: it is not needed to run
    from argparse import Namespace
    from collections.abc import Iterator, Sequence
    from typing import Any

    from seamwright.archive.found import Found, LeftOut
    from seamwright.archive.model import Done
    from seamwright.commands.asking import Pairs

LIMIT_S = 600.0
"""Longest time for one drawing, unless another is asked for: nothing that may be read takes so long by far."""
NAMED = 20
"""Drawings named in a summary, of each kind; all of them were told before."""


def are_many(asked: Namespace) -> bool:
    """Whether a command is asked for a folder, or for something that only many drawings have."""
    if asked.jobs is not None or asked.limit is not None or asked.lines:
        return True
    from seamwright.archive.found import is_folder

    return any(map(is_folder, asked.drawings))


def check_many(asked: Namespace, drawings: Sequence[str], given: Pairs) -> int:
    """Checks all drawings, in folders too; returns the exit code."""
    from seamwright import many
    from seamwright.archive.found import LeftOut, found_in, is_folder
    from seamwright.archive.model import Words

    for option, text in (("picture", asked.picture), ("rehearse", asked.rehearse), ("mend", asked.mend)):
        if text is not None:
            raise Slip(f"--{option} is for one drawing by itself. Name that drawing, without --jobs and its like.")
    if asked.output is not None:
        raise Slip("-o takes a drawing with mends done, of one drawing by itself. Leave it out.")
    how, folders = _how(asked, drawings), any(map(is_folder, drawings))
    left = LeftOut()
    found = found_in(drawings, left)
    words = Words.SHORT if folders else Words.FULL
    results = many.check_many(
        (one.drawing for one in found),
        words=Words.NONE if asked.lines or asked.json else words,
        objects=asked.lines or asked.json,
        **how,
        **_options(given),
    )
    run = _Run(asked, found, left)
    code = run.told(results)
    if folders and not (asked.lines or asked.json):
        run.sum_up("can be sewn")
    return code


def print_many(asked: Namespace, drawings: Sequence[str], given: Pairs) -> int:
    """Prints each drawing, in folders too, into a PDF of its own; returns the exit code."""
    from pathlib import Path

    from seamwright import many
    from seamwright.archive.found import LeftOut, found_in, pdf_names
    from seamwright.archive.model import Words
    from seamwright.options import PrintOptions
    from seamwright.optiontext import with_options
    from seamwright.words.prints import next_words

    if not asked.output:
        raise Slip("where should the PDFs go? Add -o and the name of a folder, new or not, such as -o prints.")
    if asked.files is not None:
        raise Slip("--files is for drawings without a folder, --jobs and its like. Leave one of them out.")
    if asked.json:
        raise Slip("--json tells of one print. --lines tells of many, one JSON object a line.")
    out = Path(asked.output)
    if out.suffix.lower() == ".pdf" and not out.is_dir():
        raise Slip(
            f"each drawing has a PDF of its own here. Name a folder for them, such as -o {out.stem or 'prints'}."
        )
    how = _how(asked, drawings)
    left = LeftOut()
    found = found_in(drawings, left)
    results = many.print_many(
        zip((one.drawing for one in found), pdf_names(found), strict=True),
        out,
        words=Words.NONE if asked.lines else Words.SHORT,
        objects=asked.lines,
        force=asked.force,
        **how,
        **_options(given),
    )
    run = _Run(asked, found, left)
    code = run.told(results)
    if code == STOPPED:
        complain("the same command again goes on from here")
    elif not asked.lines:
        run.sum_up(f"printed ({run.unchanged} of them before)" if run.unchanged else "printed")
        if run.counts.get("done"):
            say(f"Next: {next_words(with_options(PrintOptions(), given))}")
    return code


def _how(asked: Namespace, drawings: Sequence[str]) -> dict[str, Any]:
    """How many at a time, and how long each, as `many` takes it."""
    jobs, limit_s = asked.jobs or "1", LIMIT_S
    if not (jobs.isascii() and jobs.isdigit() and len(jobs) < 5 and 1 <= int(jobs) <= 256):
        raise Slip(
            f"--jobs: '{jobs}' is no number from 1 to 256. As many as your computer has cores is a good one."
        )
    if asked.limit is not None:
        try:
            limit_s = float(asked.limit)
        except ValueError:
            limit_s = 0.0
        if not 0 < limit_s < 1e9:
            raise Slip(f"--limit: '{asked.limit}' is no number of seconds. Give one above 0, such as 60.")
    if asked.lines and asked.json:
        raise Slip("--lines and --json do not go together. Take --lines for one object a line.")
    quilt = next((drawing for drawing in drawings if is_quilt(drawing)), None)
    if quilt is not None:
        raise Slip(f"{quilt} is a quilt. Take a quilt by itself, without a folder, --jobs and its like.")
    return {"jobs": int(jobs), "limit_s": limit_s}


def _options(given: Pairs) -> dict[str, Any]:
    return {name.replace("-", "_"): text for name, text in given}


class _Run:
    """One run through many drawings: tells each as it comes, and counts."""

    def __init__(self, asked: Namespace, found: Sequence[Found], left: LeftOut) -> None:
        self._asked, self._found, self._left = asked, found, left
        self._named: dict[str, list[str]] = {}
        self.counts: dict[str, int] = {}
        self.unchanged = 0

    def told(self, results: Iterator[Done]) -> int:
        """Tells of all results; the exit code."""
        from seamwright.progress import Progress
        from seamwright.stopping import raised

        code, came = 0, 0
        objects: list[dict[str, Any]] = []
        try:
            with raised(), Progress(len(self._found), "drawing") as progress:
                for one in self._found:
                    progress.doing(one.drawing)
                    done = next(results)
                    came += 1
                    code = max(code, done.exit_code)
                    self._count(done)
                    progress.clear()
                    self._tell(done)
                    if self._asked.json:
                        objects += done.objects
        except KeyboardInterrupt:
            left = len(self._found) - came
            was = "was" if left == 1 else "were"
            complain(f"stopped; {left} of {len(self._found)} drawings {was} not looked at, no file is half-written")
            return STOPPED
        return max(code, self._tell_unread(objects))

    def _tell(self, done: Done) -> None:
        if self._asked.lines:
            for one in done.objects:
                print_line(one)
        elif not self._asked.json:
            if done.words:
                say("\n".join(done.words))
            for sentence in done.complaints:
                complain(sentence)

    def _tell_unread(self, objects: list[dict[str, Any]]) -> int:
        """Folders that could not be read."""
        from seamwright.report.checks import check_object
        from seamwright.words.faults import fault_words

        for folder, error in self._left.unread:
            told = check_object(folder, None, error)
            if self._asked.lines:
                print_line(told)
            else:
                complain(fault_words(error))
            objects.append(told)
        if self._asked.json:
            print_json(objects)
        if self._asked.lines or self._asked.json:
            for line in self._left.words():
                say(line, sys.stderr)
        return 2 if self._left.unread else 0

    def _count(self, done: Done) -> None:
        kind = done.state.value
        self.counts[kind] = self.counts.get(kind, 0) + 1
        self.unchanged += done.unchanged
        if kind != "done" and self.counts[kind] <= NAMED:
            self._named.setdefault(kind, []).append(done.drawing)

    def sum_up(self, done: str) -> None:
        """Says how many came to what, and which came to nothing."""
        from seamwright.units import say_count

        kinds = {
            "done": done,
            "curved": "can be sewn with curved joins",
            "stuck": "cannot be sewn",
            "unread": "could not be read or used",
            "ended": "took too long or too much memory",
            "fault": "failed by our own fault",
        }
        counted = ", ".join(f"{self.counts[kind]} {words}" for kind, words in kinds.items() if kind in self.counts)
        say(f"{say_count(len(self._found), 'drawing')}{': ' if counted else ''}{counted}.")
        for kind, names in self._named.items():
            more = self.counts[kind] - len(names)
            rest = f" and {more} more, told above" if more else ""
            say(f"  {kinds[kind].capitalize()}: {', '.join(names)}{rest}.")
        for line in self._left.words():
            say(f"  {line}")
