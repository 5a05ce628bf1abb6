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
    ("quilt", "block"): (
        "this is the drawing of a block, not a quilt",
        "Name it in the file of a quilt, which begins: seamwright quilt 1",
    ),
    ("quilt", "palette"): (
        "this is a palette of fabrics, not a quilt",
        "Give the file of a quilt, which begins: seamwright quilt 1; it may hold the palette's lines",
    ),
}
"""(wanted, given) -> what is wrong, and its mend."""


def after_header(lines: Sequence[str], file: str, kind: str) -> int:
    """Number of the line after the header of a file of a kind ("block", "palette", "quilt").

    Raises:
        DrawingError: it is a file of another kind or none of ours, or it is empty.
    """
    return header(lines, file, kind)[1]


def header(lines: Sequence[str], file: str, *kinds: str) -> tuple[str, int]:
    """Of which of several kinds a file is, and the number of the line after its header.

    Raises:
        DrawingError: it is of none of these kinds (the message speaks of the first), or it is empty.
    """
    kind = kinds[0]
    for number, line in enumerate(lines, start=1):
        try:
            reading = Reading(line, number)
        except LineFault as found:
            raise DrawingError("unreadable", (found.fault,), file) from None
        if reading.done():
            continue
        words = reading.rest().lower().split()
        named = words[1] if len(words) > 1 and words[0] == "seamwright" else ""
        if named in kinds and words[2:] == ["1"]:
            return named, number + 1
        if named in kinds:
            what, mend = f"form {' '.join(words[2:]) or '?'} of the text is not known", "This program reads form 1"
        elif (kind, named) in OTHERS:
            what, mend = OTHERS[kind, named]
        else:
            what, mend = f"the first line is {shown(line.strip())}", f"Begin it: seamwright {kind} 1"
        raise fail(DrawingError, "unreadable", what, mend, drawing=file, line=number, column=1)
    what, mend = "the file is empty", f"Begin it: seamwright {kind} 1"
    raise fail(DrawingError, "unreadable", what, mend, drawing=file, line=1, column=1)
