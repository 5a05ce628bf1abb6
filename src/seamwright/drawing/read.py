"""Which reader a drawing file needs.

Knows:  files that cannot be read at all, or may not, the size limit, how the forms are told apart.
Leaves: SVG (svg), the text form (textform).
"""

from __future__ import annotations

import os
from collections.abc import Iterator
from contextlib import contextmanager, suppress
from pathlib import Path

from seamwright.drawing.header import OTHERS
from seamwright.drawing.model import Drawing
from seamwright.drawing.svg_xml import MAX_BYTES, too_large
from seamwright.errors import DrawingError, FileError, SeamwrightError, fail

_within: Path | None = None
"""Where files may lie; None for anywhere."""
_newer: dict[Path, bytes] = {}
"""What files hold as far as this process is concerned."""
_BLOCK = "seamwright block"
_QUILT = "seamwright quilt"
_PALETTE = "seamwright palette"


def read_drawing(path: Path) -> Drawing:
    """Read a drawing: the text form if its first line says so, else SVG.

    Raises:
        FileError: there is no such file, or it cannot be opened.
        DrawingError: what is in it cannot be read; the message says what, where and the mend.
    """
    return read_bytes(file_bytes(path), path)


def read_bytes(data: bytes, path: Path) -> Drawing:
    """Read a drawing from its file's bytes; `path` gives its name and, where the bytes leave it open, its form.

    Raises:
        DrawingError: what is in it cannot be read; the message says what, where and the mend.
    """
    file = str(path)
    try:
        text = _text_form(data, path.suffix.lower())
    except DrawingError as error:
        raise DrawingError(error.code, error.faults, file) from None
    if text is not None:
        from seamwright.drawing.textform import read_seams

        return read_seams(text, name=stem_of(path), file=file)
    from seamwright.drawing.svg import read_svg

    return read_svg(data, name=stem_of(path), file=file)


def stem_of(path: Path) -> str:
    """The name of a file without its ending, for what has no other name; what no text can hold becomes _.

    >>> stem_of(Path("two\\nlines.svg"))
    'two_lines'
    """
    stem = path.stem
    with suppress(UnicodeError):  # whatever letters this terminal knows, the file is called the same
        stem = os.fsencode(stem).decode("utf-8")
    return "".join(sign if sign.isprintable() else "_" for sign in stem)


def only_within(folder: Path) -> None:
    """From now on this process reads files of one folder alone, whatever path a drawing or an option names."""
    global _within
    _within = folder.resolve()


@contextmanager
def read_as(path: Path, data: bytes) -> Iterator[None]:
    """As long as the context lasts, the file at `path` is read as if it held `data`: a text not yet kept."""
    _newer[path] = data
    try:
        yield
    finally:
        del _newer[path]


def file_bytes(path: Path, what: str = "drawing") -> bytes:
    """The bytes of a drawing's file, or of what else it is called.

    Raises:
        FileError: there is no such file, or it cannot be opened. DrawingError: it is above the limit.
    """
    file = str(path)

    def no(wrong: str, mend: str) -> SeamwrightError:
        return fail(FileError, "file", wrong, mend, drawing=file)

    try:
        if _within is not None and not path.resolve().is_relative_to(_within):
            raise no("it lies outside of the folder of the designs", f"Copy the {what} into that folder")
        if path in _newer:
            return _newer[path]
        if path.is_dir():
            raise no(f"it is a folder, not a {what}", f"Name the {what} in it")
        if path.exists() and not path.is_file():
            raise no("it is no ordinary file", f"Name the file of a {what}")
        with path.open("rb") as source:
            data = source.read(MAX_BYTES + 1)
    except FileNotFoundError:
        raise no("there is no such file", "Check the name and the folder") from None
    except PermissionError:
        raise no("the file may not be read", "Change its permissions, or copy it") from None
    except (OSError, ValueError) as error:
        reason = getattr(error, "strerror", None) or "its name cannot be used"
        raise no(f"the file cannot be read ({reason})", "Copy it to this machine and try again") from None
    if len(data) > MAX_BYTES:
        raise DrawingError("too large", too_large().faults, file)
    if not data.strip(b"\xef\xbb\xbf \t\r\n\0"):
        raise fail(DrawingError, "empty", "the file is empty", f"Save the {what} again", drawing=file)
    return data


def _text_form(data: bytes, suffix: str) -> str | None:
    """The text of a text form; None if the file is none.

    Raises:
        DrawingError: it is one, but not in UTF-8, or it is a quilt.
    """
    wide = data.startswith((b"\xff\xfe", b"\xfe\xff"))
    head = data[:200].decode("utf-16" if wide else "utf-8", errors="replace").lstrip("\ufeff")
    first = " ".join(head.split("\n", 1)[0].lower().split())
    if first.startswith(_QUILT) or (suffix == ".setting" and not head.lstrip().startswith("<")):
        raise fail(
            DrawingError,
            "quilt file",
            "this is a quilt file (.setting), not a drawing of one block",
            "Name the drawings of its blocks instead",
        )
    if first.startswith(_PALETTE):
        what, mend = OTHERS["block", "palette"]
        raise fail(DrawingError, "palette file", what, mend)
    if not first.startswith(_BLOCK) and (suffix != ".seams" or head.lstrip().startswith("<")):
        return None
    return decoded(data, "text form")


def decoded(data: bytes, what: str, file: str = "") -> str:
    """The text of bytes in UTF-8.

    Raises:
        DrawingError: they are not; the message says where, and calls the text `what`.
    """
    wide = data.startswith((b"\xff\xfe", b"\xfe\xff"))
    try:
        if wide:
            raise UnicodeDecodeError("utf-8", data, 0, 1, "UTF-16")
        return data.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        before = data[: error.start]
        raise fail(
            DrawingError,
            "encoding",
            f"the {what} is not in UTF-8",
            "Save it as UTF-8 in your text editor",
            drawing=file,
            line=before.count(b"\n") + 1,
            column=error.start - (before.rfind(b"\n") + 1) + 1,
        ) from None
