"""What can go wrong, in words a person can act on.

Every message says what, where and the mend. `exit_code` is the command line's answer:
1 the drawing cannot be sewn as asked, 2 input, option, file or missing library, 3 our own
proof or read-back failed.
"""

from __future__ import annotations

import os
from dataclasses import dataclass

from seamwright.geometry import Point

TRACE = "SEAMWRIGHT_TRACE"
"""Environment variable: if set, a failure also shows where in the program it happened."""


@dataclass(frozen=True, slots=True)
class Fault:
    """One thing wrong with the input.

    Attributes:
        code: one or two stable words for programs, such as "not closed".
        what: what is wrong and where, without a full stop.
        mend: what the person can do about it, without a full stop.
        at_in: place in the finished block, inches, front view; None if it has none.
        line, column: place in a text file, both from 1; None if it has none.
    """

    code: str
    what: str
    mend: str
    at_in: Point | None = None
    line: int | None = None
    column: int | None = None

    @property
    def text(self) -> str:
        """The fault as one or two sentences."""
        where = f"line {self.line}, column {self.column}: " if self.line is not None else ""
        return f"{where}{self.what}. {self.mend}{'' if self.mend.endswith('?') else '.'}"


class SeamwrightError(Exception):
    """Base of all errors a person can mend; carries one fault or more.

    Args:
        code: one stable word for programs ("unreadable", "unfinished", "option", "file", ...).
        faults: one or more, in reading order.
        drawing: file the faults lie in, "" if none.
    """

    exit_code = 2

    def __init__(self, code: str, faults: tuple[Fault, ...], drawing: str = "") -> None:
        super().__init__(code, faults, drawing)  # all three, or pickling loses them
        self.code, self.faults, self.drawing = code, faults, drawing

    def __str__(self) -> str:
        where = f"{self.drawing}: " if self.drawing else ""
        return where + " ".join(fault.text for fault in self.faults)


class DrawingError(SeamwrightError):
    """The drawing cannot become a block as it stands (not whether it can be sewn: that is a finding)."""


class SettingError(SeamwrightError):
    """A quilt cannot be laid as its file states it."""


class OptionError(SeamwrightError):
    """An option has a value that cannot be used."""


class FileError(SeamwrightError):
    """A file cannot be read or written."""


class LibraryError(SeamwrightError):
    """A library the machine should have is missing."""


class StuckError(SeamwrightError):
    """The drawing cannot be sewn as asked, so there is nothing to print."""

    exit_code = 1


class ProofError(SeamwrightError):
    """Our own proof or read-back failed: nothing may be printed; please report it."""

    exit_code = 3


class UnexpectedError(SeamwrightError):
    """A fault in this program, not in the drawing."""

    exit_code = 3


def trace(problem: BaseException) -> None:
    """Shows on standard error where in the program a failure happened, if the environment asks for it."""
    if os.environ.get(TRACE):
        import traceback

        traceback.print_exception(problem)


def unexpected(problem: BaseException) -> SeamwrightError:
    """A failure nobody foresaw, as a sentence that asks to report it; memory that ran out is nobody's fault."""
    if isinstance(problem, MemoryError):
        mend = "Make the drawing simpler, or ask for less at a time"
        return fail(DrawingError, "memory", "this needed more memory than there is", mend)
    what = (
        f"something went wrong inside seamwright ({type(problem).__name__}: {' '.join(str(problem).split())[:200]})"
    )
    mend = "This is our fault, not the drawing's: please report it with the drawing and the command"
    return UnexpectedError("internal", (Fault("internal", what, mend),))


def fail(
    kind: type[SeamwrightError],
    code: str,
    what: str,
    mend: str,
    *,
    drawing: str = "",
    at_in: Point | None = None,
    line: int | None = None,
    column: int | None = None,
) -> SeamwrightError:
    """An error of one fault, ready to raise: `raise fail(OptionError, "option", what, mend)`."""
    return kind(code, (Fault(code, what, mend, at_in, line, column),), drawing)


def read_back_wrong(what: str) -> SeamwrightError:
    """The error of a finished file, of any kind, that does not hold what it was made from."""
    mend = "Nothing was written; please report it with the drawing"
    return fail(ProofError, "read-back", f"The finished file was read back and {what}", mend)
