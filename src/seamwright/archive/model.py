"""One drawing of many: what is asked of it, and what came of it, as plain values that travel between computers.

Knows:  nothing but the values it holds; all of them can be pickled.
Leaves: doing it (work), in which order (through).
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import Enum
from typing import Any


class Words(Enum):
    """How much is told to a person."""

    NONE = "none"
    SHORT = "short"
    FULL = "full"


class State(Enum):
    """What became of a drawing."""

    DONE = "done"
    CURVED = "curved"
    STUCK = "stuck"
    UNREAD = "unread"
    ENDED = "ended"
    FAULT = "fault"


@dataclass(frozen=True, slots=True)
class Job:
    """What is asked of one drawing.

    Attributes:
        drawing: path of the file, as whoever does the work finds it, with a size behind it if wanted.
        given: options as pairs (long name, text).
        pdf: the file to print, as it will be called; "" to check only.
        known: what its PDF was made of that is there already, as `already.print_key` says it; "" if none is.
        objects: whether data for programs is wanted; words: how much is told to people.
        limit_s: longest time, kept by a process beside the one that is asked; None: none, or kept elsewhere.
    """

    drawing: str
    given: tuple[tuple[str, str], ...] = ()
    pdf: str = ""
    known: str = ""
    objects: bool = True
    words: Words = Words.NONE
    limit_s: float | None = None


@dataclass(frozen=True, slots=True)
class Done:
    """What came of one drawing.

    Attributes:
        drawing: as it was asked for.
        state: DONE: it can be sewn as asked, and is printed if that was asked for; CURVED: it can be sewn, but not
            with straight seams only, as a check asks for; STUCK: it cannot be sewn; UNREAD: drawing,
            option or file is wrong; ENDED: it took too long or too much memory, or its process was lost; FAULT: our
            own proof failed, or we did.
        exit_code: of the command line, for this drawing alone.
        objects: what `check --json` (of each colourway asked for) or `foundations --json` gives of this drawing;
            one with its error if it came to nothing.
        words: lines for a person; complaints: what is wrong, for a person.
        file: the PDF, as it is called; "" where none was made.
        pdf: its bytes, as long as nobody has written them; key: what it was made of (`already.print_key`).
        unchanged: the PDF is there already, made of the very same.
    """

    drawing: str
    state: State
    exit_code: int
    objects: tuple[dict[str, Any], ...] = ()
    words: tuple[str, ...] = ()
    complaints: tuple[str, ...] = ()
    file: str = ""
    pdf: bytes = b""
    key: str = ""
    unchanged: bool = False
