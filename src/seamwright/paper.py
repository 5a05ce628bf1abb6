"""Papers by name, and what a home printer can print of them.

Knows:  sizes, margins for each side.
Leaves: what lies on the sheet (layout).
Units:  inches; portrait, x right and y down.
Limits: home printers only; a machine that prints to the edge gains nothing here.

To add a size, add a line to `PAPERS`.
"""

from __future__ import annotations

import difflib
from dataclasses import dataclass, replace

from seamwright.errors import OptionError, fail

MM_PER_IN = 25.4
PT_PER_IN = 72.0


@dataclass(frozen=True, slots=True)
class Margins:
    """Paper along each side that must stay empty, inches."""

    top: float
    right: float
    bottom: float
    left: float


HOME = Margins(top=0.25, right=0.25, bottom=0.5, left=0.25)
"""Common practice: home printers leave out 1/4 in all round, many 1/2 in at the edge that leaves last."""


@dataclass(frozen=True, slots=True)
class Paper:
    """One size of paper, portrait.

    Attributes:
        name: as the user writes it.
        width_in, height_in: the whole sheet.
        margins: what the printer cannot reach.
    """

    name: str
    width_in: float
    height_in: float
    margins: Margins = HOME

    @property
    def width_pt(self) -> float:
        """Width in points."""
        return self.width_in * PT_PER_IN

    @property
    def height_pt(self) -> float:
        """Height in points."""
        return self.height_in * PT_PER_IN

    @property
    def printable_in(self) -> tuple[float, float]:
        """Width and height of the part that prints."""
        m = self.margins
        return (self.width_in - m.left - m.right, self.height_in - m.top - m.bottom)


def _mm(name: str, width: float, height: float) -> Paper:
    return Paper(name, width / MM_PER_IN, height / MM_PER_IN)


PAPERS: tuple[Paper, ...] = (
    Paper("letter", 8.5, 11.0),  # ANSI/ASME Y14.1, size A
    _mm("a4", 210.0, 297.0),  # ISO 216
    Paper("legal", 8.5, 14.0),  # common practice in North America, in no ANSI series
    Paper("tabloid", 11.0, 17.0),  # ANSI/ASME Y14.1, size B
    _mm("a3", 297.0, 420.0),  # ISO 216
)


def paper(name: str, margins: Margins | None = None) -> Paper:
    """The paper of that name, upper or lower case, with its own margins or these.

    Raises:
        OptionError: no such paper; the mend names the nearest one or all.

    >>> paper("A4").name
    'a4'
    """
    wanted = name.strip().lower()
    by_name = {p.name: p for p in PAPERS}
    if wanted in by_name:
        found = by_name[wanted]
        return found if margins is None else replace(found, margins=margins)
    near = difflib.get_close_matches(wanted, by_name, n=1)
    known = ", ".join(by_name)
    raise fail(
        OptionError,
        "option",
        f"'{name}' is no paper that is known here",
        (f"Did you mean '{near[0]}'? Papers: {known}" if near else f"Give one of {known}"),
    )
