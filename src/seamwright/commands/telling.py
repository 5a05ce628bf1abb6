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

WIDEST, NARROWEST = 100, 40
"""Columns of a terminal: longer lines are hard to read; on a narrower one breaking them gains nothing."""
_STEERS = {code: f"\\x{code:02x}" for code in (*range(9), *range(11, 32), *range(127, 160))}
"""What steers a terminal is shown, not done: names of files, and words of drawings, may hold anything."""
HELD = "\0"
"""Stands for a blank that holds words together."""


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
    from seamwright.errors import SeamwrightError, trace, unexpected
    from seamwright.words.faults import fault_words

    trace(problem)
    error = problem if isinstance(problem, SeamwrightError) else unexpected(problem)
    complain(fault_words(error, drawing))
    return error.exit_code


def complain(sentence: str) -> None:
    """One message on standard error; if nobody is there to read it, the exit code still tells."""
    if sys.stderr is not None:
        try:
            print(_broken(f"seamwright: {sentence}", sys.stderr), file=sys.stderr, flush=True)
        except OSError:
            return


def say(text: str, stream: TextIO | None = None) -> None:
    """Prints, for a person; if whoever read our output has gone, the rest is dropped and the work goes on.

    Raises:
        FileError: it cannot be written for another reason, such as a full disk.
    """
    _print(_broken(text, stream or sys.stdout), stream)


def _broken(text: str, stream: TextIO) -> str:
    """Lines too long for a terminal, broken between words and set in; all as it is where no terminal shows it.

    Tables, and what is set out to be pasted, hold several blanks in a run: they stay whole.
    """
    text = text.translate(_STEERS)
    try:
        if not stream.isatty():
            return text
        columns = min(WIDEST, os.get_terminal_size(stream.fileno()).columns)
    except (OSError, ValueError, AttributeError):
        return text
    return broken_at(text, columns) if columns >= NARROWEST else text


def broken_at(text: str, columns: int) -> str:
    """The lines of a text, none longer than so many columns where a blank lets it break; the rest set in by 4 more.

    A measure stays whole: "2 7/8 in", "8 1/2 x 2 in".

    >>> print(broken_at("  Press: the seams between blocks to one side", 30))
      Press: the seams between
          blocks to one side
    """
    import re  # only terminals need these
    import textwrap

    told: list[str] = []
    for line in text.split("\n"):
        words = line.lstrip(" ")
        if len(line) <= columns or "  " in words:
            told.append(line)
            continue
        first = " " * (len(line) - len(words))
        told += textwrap.wrap(
            re.sub(r"(?<=\d) (?=[\dx%]|(?:in|cm|mm|yd|m)\b)|(?<=\d x) (?=\d)", HELD, words),
            columns,
            initial_indent=first,
            subsequent_indent=f"{first}    ",
            break_long_words=False,
            break_on_hyphens=False,
        )
    return "\n".join(told).replace(HELD, " ")


def _print(text: str, stream: TextIO | None = None) -> None:
    stream = stream or sys.stdout
    try:
        print(text, file=stream, flush=True)
    except OSError as problem:
        # Python flushes once more when it ends; let that go nowhere.
        os.dup2(os.open(os.devnull, os.O_WRONLY), stream.fileno())
        if not isinstance(problem, BrokenPipeError) and stream is not sys.stderr:
            from seamwright.output import cannot_write

            raise cannot_write("standard output", problem) from problem


def print_line(value: object) -> None:
    """Prints data for programs on one line, at once."""
    import json

    _print(json.dumps(value))


def print_json(value: object) -> None:
    """Prints data for programs."""
    import json

    _print(json.dumps(value, indent=1))
