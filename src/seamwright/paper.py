"""Papers by name or by their sides, and what a home printer can print of them.

Knows:  sizes, how people write them, margins for each side, what becomes of these on a sheet that lies on its side.
Leaves: what lies on the sheet (layout).
Units:  inches; portrait, or as given; x right and y down.
Limits: home printers only; a machine that prints to the edge gains nothing here.

To add a size, add a line to `PAPERS`.
"""

from __future__ import annotations

import difflib
import math
from dataclasses import dataclass, replace
from fractions import Fraction

from seamwright.errors import OptionError, SeamwrightError, fail
from seamwright.units import UNIT_IN, parse_sides, quoted, say_size

MM_PER_IN = 25.4
PT_PER_IN = 72.0
LEAST_IN, WIDEST_IN, LONGEST_IN = (5.5, 7.0), 60.0, 200.0
"""Sides of a paper. On a smaller one the check squares, the long lines and the words leave next to no room; a wider
one fits no printer; a longer one is no PDF page (14 400 units, ISO 32000-1, annex C)."""
LEAST_WIDTH_IN, LEAST_HEIGHT_IN = 4.5, 6.0
"""What margins must leave of a paper, the shorter side and the longer, for a sheet to hold more than its proof of
scale."""


@dataclass(frozen=True, slots=True)
class Margins:
    """Paper along each side that must stay empty, inches; the top edge enters the printer first."""

    top: float
    right: float
    bottom: float
    left: float


HOME = Margins(top=0.25, right=0.25, bottom=0.5, left=0.25)
"""Common practice: home printers leave out 1/4 in all round, many 1/2 in at the edge that leaves last."""


@dataclass(frozen=True, slots=True)
class Paper:
    """One size of paper, upright or as given.

    Attributes:
        name: as the user writes it; a size without a name is called by its sides in one way only: "20x30cm".
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
    def sides_in(self) -> tuple[float, float]:
        """Width and height."""
        return (self.width_in, self.height_in)

    @property
    def printable_in(self) -> tuple[float, float]:
        """Width and height of the part that prints."""
        m = self.margins
        return (self.width_in - m.left - m.right, self.height_in - m.top - m.bottom)

    @property
    def said(self) -> str:
        """The name in a sentence: "Letter", "A4", "JIS B5", "20x30cm"."""
        if self.name.startswith(("iso-", "jis-")):
            return self.name.replace("-", " ").upper()
        return self.name.capitalize()

    def lying(self) -> Paper:
        """The paper on its long side; one that is wider than high lies there already.

        Margins belong to the paper, so they turn with it. A page on its long side is turned anticlockwise against
        the paper (RFC 8011, 5.2.10), so the edge that leaves the printer last would be its left one; but many a
        driver turns it the other way. So each side keeps the larger of the two margins that may come to lie there:
        whichever way it is turned, nothing is cut off.
        """
        if self.width_in >= self.height_in:
            return self
        m = self.margins
        short, long = max(m.top, m.bottom), max(m.left, m.right)
        return replace(
            self, width_in=self.height_in, height_in=self.width_in, margins=Margins(long, short, long, short)
        )


def _mm(name: str, width: float, height: float) -> Paper:
    return Paper(name, width / MM_PER_IN, height / MM_PER_IN)


PAPERS: tuple[Paper, ...] = (
    Paper("letter", 8.5, 11.0),  # ANSI/ASME Y14.1, size A
    _mm("a4", 210.0, 297.0),  # ISO 216
    Paper("legal", 8.5, 14.0),  # common practice in North America, in no ANSI series
    Paper("tabloid", 11.0, 17.0),  # ANSI/ASME Y14.1, size B
    _mm("a3", 297.0, 420.0),  # ISO 216
    Paper("half-letter", 5.5, 8.5),  # common practice: a letter cut in two
    Paper("executive", 7.25, 10.5),  # common practice in North America; 7 1/2 x 10 in occurs too
    Paper("super-tabloid", 13.0, 19.0),  # common practice: the largest sheet of many home photo printers
    _mm("a3+", 329.0, 483.0),  # common practice: the same printers, in millimetres
    _mm("a5", 148.0, 210.0),  # ISO 216
    _mm("a2", 420.0, 594.0),  # ISO 216
    _mm("a1", 594.0, 841.0),  # ISO 216
    _mm("a0", 841.0, 1189.0),  # ISO 216
    _mm("iso-b5", 176.0, 250.0),  # ISO 216
    _mm("iso-b4", 250.0, 353.0),  # ISO 216
    _mm("jis-b5", 182.0, 257.0),  # JIS P 0138
    _mm("jis-b4", 257.0, 364.0),  # JIS P 0138
)

_ALSO = {"ledger": "tabloid", "us-letter": "letter", "us-legal": "legal", "statement": "half-letter"}
"""Other names that the trade uses; ledger is the name of tabloid on its long side (common practice)."""


def paper(text: str, margins: Margins | None = None) -> Paper:
    """The paper of that name or size, upper or lower case, with the margins of home printers or these.

    Sides make the same paper however they are written: `20x30cm` is `200x300mm`, `8.5x11in` is letter.

    Raises:
        OptionError: no such paper, or its margins leave next to nothing.

    >>> paper("A4").name, paper("200 x 300 mm").name, paper("8 1/2 x 11").name
    ('a4', '20x30cm', 'letter')
    """
    found = _named(text) or _sized(text)
    return found if margins is None else _with_margins(found, margins)


def papers_for(name: str, margins: Margins | None = None) -> tuple[Paper, ...]:
    """The papers that sections must fit: Letter and A4 alike if Letter, the default, is asked for.

    So that a class with both kinds of paper has one set of letters.

    Raises:
        OptionError: as `paper`.
    """
    names = ("letter", "a4") if name == PAPERS[0].name else (name,)
    return tuple(paper(one, margins) for one in names)


def _named(text: str) -> Paper | None:
    """The paper of a name; None for what begins like a size."""
    wanted = "-".join(text.lower().replace("_", " ").replace("-", " ").split())
    by_name = {page.name: page for page in PAPERS}
    name = _ALSO.get(wanted, wanted)
    if name in by_name:
        return by_name[name]
    if wanted[:1].isdigit() or wanted[:1] in ("", ".", "+", "−", "x", "×") or text.strip()[:1] == "-":
        return None
    mend = f"Give one of {', '.join(by_name)}, or a size such as 20x30cm or 8x10in"
    stem, _, way = wanted.rpartition("-")
    near = difflib.get_close_matches(wanted, [*by_name, *_ALSO], n=1)
    if wanted in ("b4", "b5"):
        two = [by_name[f"{standard}-{wanted}"] for standard in ("iso", "jis")]
        what = f"{quoted(text)} is two papers: " + " and ".join(
            f"{page.name} is {page.width_in * MM_PER_IN:g} x {page.height_in * MM_PER_IN:g} mm" for page in two
        )
        raise fail(OptionError, "option", what, f"Give {two[0].name} or {two[1].name}")
    if way in ("landscape", "portrait") and stem:
        lies = f"--paper {stem} --landscape" if way == "landscape" else f"--paper {stem} alone"
        mend = f"Papers stand upright unless --landscape lays them on their long side: give {lies}"
    elif near:
        mend = f"Did you mean '{near[0]}'? Papers: {', '.join(by_name)}, or a size such as 20x30cm"
    raise fail(OptionError, "option", f"{quoted(text)} is no paper that is known here", mend)


def _sized(text: str) -> Paper:
    """The paper with these sides: one that has a name if the sides are its own, else called by its sides."""
    try:
        width, height = parse_sides(text)
    except SeamwrightError as error:
        mend = "Give width x height, such as 20x30cm or 8x10in, or a name such as a4"
        raise fail(OptionError, "option", error.faults[0].what, mend) from None
    if height is None:
        what = f"{quoted(text)} is one side only"
        mend = "Give width x height, such as 24x36in; of a roll, its width and the length that is cut"
        raise fail(OptionError, "option", what, mend)
    short, long = sorted((width, height))
    if short < Fraction(LEAST_IN[0]) or long < LEAST_IN[1] or short > WIDEST_IN or long > LONGEST_IN:
        what = f"{say_size(*LEAST_IN)} is the least, {WIDEST_IN:g} in by {LONGEST_IN:g} in the most"
        what = f"{quoted(text)} is no paper to print on: {what}"
        raise fail(
            OptionError,
            "option",
            what,
            "Check the numbers and their unit (inches, if none is given), as in 20x30cm",
        )
    name, width, height = _called(width, height)
    found = Paper(name, float(width), float(height))
    # To a millionth of an inch: what is printed on is then the same paper.
    return next((p for p in PAPERS if math.dist(p.sides_in, found.sides_in) < 1e-6), found)


def _called(width: Fraction, height: Fraction) -> tuple[str, Fraction, Fraction]:
    """The one way to write two sides, and the sides as it says them: in inches if these are short, else in cm.

    What is short in neither, a third of an inch, is taken to the nearest thousandth of a millimetre.
    """
    for unit, digits in (("in", 6), ("cm", 4)):
        sides = [side / UNIT_IN[unit] for side in (width, height)]
        if all((side * 10**digits).denominator == 1 for side in sides):
            return "x".join(_decimal(side, digits) for side in sides) + unit, width, height
    micron = UNIT_IN["mm"] / 1000
    return _called(round(width / micron) * micron, round(height / micron) * micron)


def _decimal(value: Fraction, digits: int) -> str:
    text = f"{int(value * 10**digits):0{digits + 1}d}"
    return f"{text[:-digits]}.{text[-digits:]}".rstrip("0").rstrip(".")


def _with_margins(page: Paper, margins: Margins) -> Paper:
    found = replace(page, margins=margins)
    left = found.printable_in
    if min(left) < LEAST_WIDTH_IN or max(left) < LEAST_HEIGHT_IN:
        if min(left) <= 0:
            what = f"these margins leave nothing of {page.said} paper"
        else:
            what = f"these margins leave {say_size(*left)} of {page.said} paper"
        need = say_size(LEAST_WIDTH_IN, LEAST_HEIGHT_IN)
        mend = f"Leave {need} at the least; home printers need 1/4 to 1/2 in a side"
        raise fail(OptionError, "option", what, mend)
    return found
