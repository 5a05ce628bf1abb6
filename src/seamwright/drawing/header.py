"""The first line of our text files: which of them a file is.

Knows:  blocks, palettes, quilts; what is said to somebody who gives one for another.
Leaves: the lines after it (textform, palette).
"""

from __future__ import annotations

from collections.abc import Sequence

from seamwright.drawing.faults import LineFault, shown
from seamwright.drawing.tokens import Reading
from seamwright.errors import DrawingError, fail

OTHERS = {
    ("block", "quilt"): (
        "this is the file of a quilt, not of a block",
        "Give a block: a .seams or .svg file",
    ),
    ("block", "palette"): (
        "this is a palette of fabrics, not a drawing of a block",
        "Give it with --palette, beside the drawing that it recolours",
    ),
    ("palette", "block"): (
        "this is the drawing of a block, not a palette",
        "Give a text file that begins: seamwright palette 1",
    ),
    ("palette", "quilt"): (
        "this is the file of a quilt, not a palette",
        "Give a text file that begins: seamwright palette 1",
    ),
}
"""(wanted, given) -> what is wrong, and its mend."""


def after_header(lines: Sequence[str], file: str, kind: str) -> int:
    """Number of the line after the header of a file of a kind ("block", "palette").

    Raises:
        DrawingError: it is a file of another kind or none of ours, or it is empty.
    """
    for number, line in enumerate(lines, start=1):
        try:
            reading = Reading(line, number)
        except LineFault as found:
            raise DrawingError("unreadable", (found.fault,), file) from None
        if reading.done():
            continue
        words = reading.rest().lower().split()
        if words == ["seamwright", kind, "1"]:
            return number + 1
        if words[:2] == ["seamwright", kind]:
            what, mend = f"form {' '.join(words[2:]) or '?'} of the text is not known", "This program reads form 1"
        elif words[:1] == ["seamwright"] and (kind, *words[1:2]) in OTHERS:
            what, mend = OTHERS[kind, words[1]]
        else:
            what, mend = f"the first line is {shown(line.strip())}", f"Begin it: seamwright {kind} 1"
        raise fail(DrawingError, "unreadable", what, mend, drawing=file, line=number, column=1)
    what, mend = "the file is empty", f"Begin it: seamwright {kind} 1"
    raise fail(DrawingError, "unreadable", what, mend, drawing=file, line=1, column=1)
