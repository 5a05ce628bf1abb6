"""The page to try a printer with: check squares, long lines and what to do with them, nothing else.

Knows:  its words and where they lie.
Leaves: squares, lines and foot (furniture, desk).
Units:  points on the sheet.
"""

from __future__ import annotations

from seamwright.ink.model import Ink
from seamwright.ink.wrap import lines_of
from seamwright.sheet.desk import Desk
from seamwright.sheet.furnish import ABOVE_FOOT_PT
from seamwright.sheet.furniture import column
from seamwright.sheet.gauges import FIVE_CM_PT, check_squares
from seamwright.sheet.model import Sheet
from seamwright.sheet.prints import too_small

TITLE = "trial page"
HEAD_PT, STEP_PT = 18.0, 12.0
LEADING = 1.35
GAP_PT = 18.0
HOW = (
    "1. Print this page alone, at 100 % (some print dialogs say: actual size), with no fit to page.",
    "2. Measure both squares and both long lines with the ruler you sew by. "
    "A line's width is the most that they may be off.",
    "3. All true: print {rest} on the same printer, with the same settings and the same paper.",
    "4. One is off: look in the print dialog for fit, shrink or scale, set 100 %, and print this page again. "
    "Still off, or true one way only: that printer stretches the page. Use another.",
)
"""Common practice: a printer that errs does so on every page alike, so one page shows it before ten are spent."""


def trial_page(desk: Desk, of: int) -> Sheet:
    """The first page of a print, its number still open.

    Args:
        of: how many pages the file has in all.

    Raises:
        OptionError: the paper is too small for it.
    """
    frame = desk.frame
    lying, standing, squares, foot = (
        frame.line(upright=False),
        frame.line(upright=True),
        check_squares(),
        desk.row(TITLE),
    )
    low = frame.bottom - foot.height - ABOVE_FOOT_PT
    width = frame.width - standing.width - GAP_PT
    ink: list[Ink] = []
    y = frame.top
    rest = f"sheets 2 to {of}" if of > 2 else "sheet 2"
    for text, size, bold in (
        ("Is the printer true?", HEAD_PT, True),
        *((h.format(rest=rest), STEP_PT, False) for h in HOW),
    ):
        lines, step = lines_of(text, size, width, bold=bold), size * LEADING
        ink += column(lines, frame.left, y, size, step, bold=bold)
        y += step * len(lines) + size / 2
    line_top = low - lying.height
    squares_top = line_top - GAP_PT - FIVE_CM_PT
    standing_top = line_top - GAP_PT - standing.height
    if squares_top < y or standing_top < frame.top or lying.width > frame.width:
        raise too_small(desk.page)
    furniture = (
        squares.at(frame.left, squares_top),
        lying.at(frame.left, line_top),
        standing.at(frame.right - standing.width, standing_top),
        foot.at(frame.left, frame.bottom - foot.height),
    )
    return desk.page_of((), ink, furniture, TITLE)
