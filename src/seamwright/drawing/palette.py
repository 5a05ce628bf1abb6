"""A palette: fabrics, and sets of them, that recolour blocks without touching their drawings.

Knows:  the palette file, which is fabric and colourway lines of the text form under a first line of its own; the
        file of a quilt, which holds such lines for its blocks.
Leaves: the other lines of a quilt's file (quilt.form), each line by itself (facts, fabricline), which fabric of a
        block one changes (fabric.colourways).
Method: as the text form: one fault a line, all of a file told at once.
"""

from __future__ import annotations

from pathlib import Path

from seamwright.drawing.facts import LINES, Facts
from seamwright.drawing.header import header
from seamwright.drawing.read import decoded, file_bytes
from seamwright.drawing.textform import gather
from seamwright.drawing.textwrite import colourway_line, fabric_line
from seamwright.drawing.tokens import lines_of
from seamwright.errors import DrawingError, SeamwrightError, fail
from seamwright.fabric.model import Colourway, Palette

PALETTE_LINES = {keyword: LINES[keyword] for keyword in ("fabric", "colourway")}


def read_palette(path: Path) -> Palette:
    """The palette in a file.

    Raises:
        FileError: there is no such file, or it cannot be opened.
        DrawingError: it is no palette, or lines of it cannot be read: all of them, each with line, column and mend.
    """
    return palette_of(file_bytes(path, "palette"), str(path))


def palette_of(data: bytes, file: str) -> Palette:
    """The palette that a file's bytes hold; `file` is its path, for messages.

    Raises:
        DrawingError: as for `read_palette`.
    """

    def no(what: str) -> SeamwrightError:
        mend = "Give a text file that begins: seamwright palette 1"
        return fail(DrawingError, "unreadable", what, mend, drawing=file)

    wide = data.startswith((b"\xff\xfe", b"\xfe\xff"))
    if b"\0" in data and not wide:
        raise no("this is no text, so no palette")
    text = decoded(data, "palette", file)
    if text.lstrip("\ufeff \t\r\n").startswith("<"):
        raise no("this is a drawing (SVG), not a palette")
    lines, facts = lines_of(text, file), Facts("")
    kind, first = header(lines, file, "palette", "quilt")
    if kind == "quilt":
        lines = [line if line.split()[:1] and line.split()[0].lower() in PALETTE_LINES else "" for line in lines]
    gather(facts, lines, first, PALETTE_LINES)
    facts.faults.stop_if_any(file)
    if kind == "palette" and not facts.fabrics and not facts.colourways:
        raise no("the palette names no fabrics")
    return Palette(
        file=file,
        fabrics=tuple(facts.fabrics.values()),
        colourways=tuple(Colourway(name, tuple(changes)) for name, changes in facts.colourways.items()),
        places=tuple(facts.becomes),
        shared=kind == "quilt",
    )


def write_palette(palette: Palette) -> str:
    """A palette as text; reading it gives the same palette back."""
    lines = ["seamwright palette 1", *map(fabric_line, palette.fabrics), *map(colourway_line, palette.colourways)]
    return "".join(f"{line}\n" for line in lines)
