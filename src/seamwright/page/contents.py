"""What a design's file holds: its bytes, its text, and what of it cannot be kept or shown.

Knows:  how large a text may be, what is said of a file that cannot be read.
Leaves: names (folder), writing (keeping), what is in a text (drawing, quilt).
"""

from __future__ import annotations

from pathlib import Path

from seamwright.errors import DrawingError, FileError, fail
from seamwright.page.asked import MOST_TEXT
from seamwright.page.folder import kind_of

_NOUN = {"block": "text form", "quilt": "quilt file", "palette": "palette", "drawing": "drawing"}


def bytes_of(path: Path, name: str, *, empty: bool = False) -> bytes:
    """The bytes of a design's file.

    Args:
        empty: a file of nothing is fine.

    Raises:
        SeamwrightError: it is not there, cannot be read, is too large, or is empty.
    """
    from seamwright.drawing.read import file_bytes

    try:
        return file_bytes(path, _NOUN[kind_of(name)])
    except DrawingError as error:
        if empty and error.code == "empty":
            return path.read_bytes()
        raise


def text_of(data: bytes, name: str) -> str:
    """The text of a design's content.

    Raises:
        SeamwrightError: it is no text in UTF-8, or larger than the page takes.
    """
    from seamwright.drawing.read import decoded

    text = decoded(data, _NOUN[kind_of(name)])
    if len(text) > MOST_TEXT:
        what = f"{name} has {len(text):,} characters, and the page takes {MOST_TEXT:,}"
        raise fail(FileError, "too large", what, "Use it from the command line")
    return text


def encoded(text: str) -> bytes:
    """The bytes of a text.

    Raises:
        FileError: no file can hold it, or it says nothing.
    """
    try:
        data = text.encode()
    except UnicodeEncodeError:
        what = "the text holds half of a sign"
        raise fail(FileError, "file", what, "Take out what cannot be read") from None
    if not data.strip():
        raise fail(FileError, "empty", "there is nothing in it to keep", "Draw something first")
    return data
