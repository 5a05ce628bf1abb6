"""The chapter of what is needed besides fabric: paper, machine, tools.

Knows:  common practice of piecing on paper.
Leaves: fabric (fabrics), how it is all used (howto).

Source: common practice for papers, needle, stitch and thread; the stitch in millimetres and its number to the inch
are one measure (25.4 mm over 1.8 is 14, over 1.5 is 17; handbooks say 14 to 18).
"""

from __future__ import annotations

from seamwright.booklet.model import Heading, Paragraph, Points, Story, Table
from seamwright.options import Units
from seamwright.paper import Paper
from seamwright.units import say_count, say_length

PAPERS = (
    ("thin copy paper", "cheap and at hand; stiffer than the others, so take the shorter stitch"),
    ("vellum", "seen through without a lamp, tears off easily; print one sheet first to see that the ink dries"),
    (
        "wash-away sheets",
        "nothing to tear off; only for fabrics that may be washed, and see that the print does too",
    ),
    ("stay-in sheets", "nothing to take off; adds bulk where many seams meet"),
)
PAPER_AT_MACHINE = (
    "A sewing machine set to a stitch of 1.5 to 1.8 mm, 14 to 18 stitches to the inch: the paper then tears off "
    "cleanly.",
    "A new needle, size 80 to 90: paper blunts it, so change it after a few blocks.",
    "An open foot, or one through which you see the printed line.",
)
RULER_AT_MACHINE = (
    "A sewing machine set to a stitch of 2 to 2.5 mm, 10 to 12 stitches to the inch.",
    "A new needle, size 70 to 80.",
)
"""Common practice for piecing without paper, from memory."""
PAPER_AT_TABLE = (
    "A ruler with a line at {allowance}, to trim the allowance after each fold; a postcard to fold the paper over.",
    "A rotary cutter and its mat, or good scissors; other scissors for paper.",
    "Thin pins, and a dab of glue that washes out, for the first patch.",
    "A light to look through: a window, a lamp under glass.",
)
RULER_AT_TABLE = ("A ruler, a rotary cutter and its mat.", "Thin pins.")


def needs_story(paper: Paper, sheets: int, allowance_in: float, units: Units) -> Story:
    """What is needed for piecing a block on paper.

    Args:
        paper: of the sheets; sheets: of foundations in this file, 0 for a block that is all sewn without.
    """
    allowance = say_length(allowance_in, units, glyphs=True)
    without = Paragraph("No foundations: a ruler cuts all of this block, and it is sewn without paper.")
    return (
        Heading("What you need"),
        *(_papers(paper, sheets) if sheets else (without,)),
        Heading("At the machine", 2),
        Points(
            (
                *(PAPER_AT_MACHINE if sheets else RULER_AT_MACHINE),
                "Thread in a neutral colour that suits all fabrics, fine and strong.",
            ),
            boxes=True,
        ),
        Heading("At the table", 2),
        Points(
            (
                *(text.format(allowance=allowance) for text in (PAPER_AT_TABLE if sheets else RULER_AT_TABLE)),
                "A dry iron, and a firm board beside the machine.",
                f"A seam ripper, {'tweezers for scraps of paper, ' * bool(sheets)}a pencil.",
            ),
            boxes=True,
        ),
    )


def _papers(paper: Paper, sheets: int) -> Story:
    spare = -(-sheets // 10)
    lie, them = ("lies", "it") if sheets == 1 else ("lie", "them")
    return (
        Paragraph(
            f"{say_count(sheets, 'sheet')} of foundations {lie} at the end of this booklet, for {paper.said} "
            f"paper. Print {them} at 100 %, without fit to page, all on one printer, with one spare in ten "
            f"({say_count(spare, 'sheet')} here); measure the check squares and long lines of each before you sew."
        ),
        Table(("Paper", "What to know"), PAPERS, caption="One of these papers"),
        Paragraph(
            "Ink of an inkjet printer may run under steam, and toner of a laser printer may come off on a hot "
            "iron: press one printed sheet with a scrap before you print them all."
        ),
    )
