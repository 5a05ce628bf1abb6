"""What commands say to people and programs, on standard output and standard error.

Knows:  how a message, a fault, an outcome and JSON are written, also where nobody reads any more.
Leaves: the words of a report (report, words).
"""

from __future__ import annotations

import os
import sys

TYPE_CHECKING = False
if TYPE_CHECKING:  # typing itself is not imported: it is not needed to run
    from collections.abc import Sequence
    from typing import TextIO

    from seamwright.results import Outcome

TRACE = "SEAMWRIGHT_TRACE"
"""Environment variable: if set, a failure also shows where in the program it happened."""

FAULTS_TOLD = 6
"""More faults of one drawing are counted, not told: the first ones mended, most of the others often vanish."""


def tell_outcome(outcome: Outcome, stream: TextIO) -> int:
    """Says what became of a drawing; returns the exit code."""
    from seamwright.words.checks import check_words

    if outcome.plan is not None:
        say("\n".join(check_words(outcome.drawing, outcome.plan, outcome.mends)), stream)
    elif outcome.error is not None:
        tell(outcome.error, outcome.drawing)
    return outcome.exit_code


def tell_unmade(outcomes: Sequence[Outcome], undone: str) -> int:
    """Says on standard error why drawings came to nothing, with mends, and what was not done; the exit code."""
    from seamwright.words.checks import stuck_words

    for outcome in outcomes:
        if outcome.plan is None:
            tell_outcome(outcome, sys.stderr)
        else:
            say("\n".join(stuck_words(outcome.drawing, outcome.plan, outcome.mends)), sys.stderr)
    complain(undone)
    return max(outcome.exit_code for outcome in outcomes)


def tell(problem: Exception, drawing: str = "") -> int:
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
    complain(" ".join([*where, *told]) if len(told) == 1 else "\n  ".join([*(where or ["this is wrong:"]), *told]))
    return error.exit_code


def complain(sentence: str) -> None:
    """One message on standard error; if nobody is there to read it, the exit code still tells."""
    if sys.stderr is not None:
        try:
            print(f"seamwright: {sentence}", file=sys.stderr, flush=True)
        except OSError:
            return


def say(text: str, stream: TextIO | None = None) -> None:
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


def print_json(value: object) -> None:
    """Prints data for programs."""
    import json

    say(json.dumps(value, indent=1))
