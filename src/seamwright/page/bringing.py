"""A drawing from elsewhere brought in: the text of its copy, what was tidied, and where.

Knows:  which kinds of files can be brought in, what becomes of a drawing whose lines end in the open.
Leaves: reading and tidying (drawing, block), keeping the copy (keeping).
Units:  inches of the finished block.
Method: plain values in and out, so that a process of its own can do it. A drawing that is a block already is
        written as that block. One that is none yet is written as its tidied lines, in its outline if it has one,
        else in the box round all: so it can be finished on the page.
"""

from __future__ import annotations

from dataclasses import asdict, replace
from pathlib import Path
from typing import TYPE_CHECKING, Any

from seamwright.errors import DrawingError, FileError, fail
from seamwright.geometry import Point
from seamwright.page.folder import kind_of

if TYPE_CHECKING:
    from seamwright.block.model import Block

PLACES = 9
"""Decimals of an inch in a copy: far below what a drawing's own figures mean."""

UNFINISHED = frozenset({"unfinished", "no outline", "no seams"})
"""Faults of a drawing that can be mended by drawing on."""


def brought(name: str, data: bytes, size: str = "") -> dict[str, Any]:
    """What a file's bytes come to on the page.

    Args:
        name: of the file, with its ending. size: finished width, or width and height; "" for the drawing's own.

    Returns:
        ending: of the copy; text; notes: code, text, count, largest_in, places_in of each; unfinished: sentences of
        what is still to be done.

    Raises:
        SeamwrightError: it cannot be read, with all its faults.
    """
    kind = kind_of(name)
    if kind == "drawing" or (kind == "block" and data.lstrip(b"\xef\xbb\xbf \t\r\n").startswith(b"<")):
        return _of_drawing(name, data, size)
    return _of_text(kind, name, data)


def _of_text(kind: str, name: str, data: bytes) -> dict[str, Any]:
    """A text form stays as it is, if it can be read at all."""
    from seamwright.drawing.read import decoded

    noun = {"block": "text form", "quilt": "quilt file", "palette": "palette"}[kind]
    if not data.strip(b"\xef\xbb\xbf \t\r\n\0"):
        raise fail(DrawingError, "empty", "the file is empty", "Save it again where it was made")
    text = decoded(data, noun)
    if kind == "block":
        from seamwright.sketch.view import view_of

        view_of(text, Path(name).stem)
    elif kind == "quilt":
        from seamwright.quilt.form import stated_in

        stated_in(data, name)[0].faults.stop_if_any(name)
    else:
        from seamwright.drawing.palette import palette_of

        palette_of(data, name)
    return {"ending": Path(name).suffix.lower(), "text": text, "notes": [], "unfinished": []}


def _of_drawing(name: str, data: bytes, size: str) -> dict[str, Any]:
    from seamwright.asked import usable_options
    from seamwright.block.make import make_block
    from seamwright.drawing.read import read_bytes
    from seamwright.drawing.textwrite import write_seams

    drawing = read_bytes(data, Path(name))
    options = usable_options([*drawing.options, *([("size", size)] if size else [])])
    made: dict[str, Any] = {"ending": ".seams", "unfinished": []}
    try:
        block = make_block(drawing, options)
    except DrawingError as error:
        if error.code not in UNFINISHED:
            raise
        from seamwright.page.loose import loose_seams

        text, notes = loose_seams(drawing, options)
        unfinished = [fault.what for fault in error.faults]
        return {**made, "text": text, "notes": [asdict(n) for n in notes], "unfinished": unfinished}
    text = write_seams(_short(block.as_drawn()))
    return {**made, "text": text, "notes": [asdict(note) for note in block.notes]}


def _short(block: Block) -> Block:
    """A block in figures that a person may read: millimetres told in inches end in a long tail of digits."""

    def at(point: Point) -> Point:
        return round(point[0], PLACES), round(point[1], PLACES)

    return replace(
        block,
        width_in=round(block.width_in, PLACES),
        height_in=round(block.height_in, PLACES),
        points=tuple(map(at, block.points)),
        edges=tuple(replace(edge, via=tuple(map(at, edge.via))) for edge in block.edges),
    )


def may_bring(name: str) -> None:
    """Makes sure that a file can be brought in by its name.

    Raises:
        FileError: it has another ending.
    """
    from seamwright.page.folder import KINDS

    if Path(name).suffix.lower() not in KINDS:
        what = f"{name[:80]} is of no kind that can be brought in"
        raise fail(FileError, "file", what, f"Bring in a file that ends in {', '.join(KINDS)}")
