"""Whether a file that is asked for can be made and written: looked at before any work is done.

Knows:  which endings each kind of file may have, which of them need the cairo library; how a picture, and pages of
        words and pictures, become a file.
Leaves: whose a file is that is there already, and writing (output).
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from pathlib import Path
from typing import TYPE_CHECKING

from seamwright.errors import FileError, OptionError, fail
from seamwright.output import made_by, may_use_folder, may_write, write_ours
from seamwright.units import say_list

if TYPE_CHECKING:
    from seamwright.ink.page import Page

LIST_FORMS = (".csv", ".pdf")
PICTURE_FORMS = (".svg", ".png")
SETTING_FORMS = (".setting",)
DRAWN_FORMS = (".pdf", *PICTURE_FORMS)


def one_for_each(path: Path, ways: Sequence[str]) -> list[Path]:
    """A file for each of several colourways: their names before the ending; the drawing's own has none.

    >>> [path.name for path in one_for_each(Path("kite.png"), ["own", "dusk", "night sky"])]
    ['kite.png', 'kite-dusk.png', 'kite-night-sky.png']
    """
    taken: set[str] = set()
    paths = []
    for way in ways:
        stem = path.stem if way in ("", "own") else f"{path.stem}-{plain_name(way)}"
        name = next(n for n in (stem, *(f"{stem}-{k}" for k in range(2, 10_000))) if n.lower() not in taken)
        taken.add(name.lower())
        paths.append(path.with_name(name + path.suffix))
    return paths


def plain_name(words: str) -> str:
    """Words as a name that every file system takes: letters, figures, dots and dashes; "" if none is left."""
    return re.sub(r"[^\w.]+", "-", words.replace("/", "_")).strip("-.")


def may_write_pdf(path: Path, drawings: Sequence[str], *, force: bool = False) -> None:
    """Makes sure that a PDF can be made here and written to `path`.

    Raises:
        OptionError, FileError, LibraryError.
    """
    _is_no_folder(path, "kite.pdf")
    if path.suffix.lower() != ".pdf":
        name = path.with_name("kite.pdf") if path.name.startswith(".") else path.with_suffix(".pdf")
        raise fail(OptionError, "option", f"{path} is no name of a PDF", f"Name it {name}, say")
    may_write(path, drawings, force=force)
    cairo_is_here()


def may_write_picture(path: Path, *drawings: str, force: bool = False) -> None:
    """Makes sure that a picture of one drawing or more can be made here and written to `path`.

    Raises:
        OptionError, FileError, LibraryError.
    """
    _has_form(path, PICTURE_FORMS, "a picture of no form that is known here", "kite.png")
    may_write(path, drawings, force=force)
    if path.suffix.lower() == ".png":
        cairo_is_here()


def may_write_drawn(path: Path, *inputs: str, force: bool = False, example: str = "quilt.png") -> None:
    """Makes sure that pictures, as one sheet or as pages, can be made here and written to `path`.

    Args:
        inputs: files that they are made from. example: of a name.

    Raises:
        OptionError, FileError, LibraryError.
    """
    _has_form(path, DRAWN_FORMS, "a picture of no form that is known here", example)
    may_write(path, inputs, force=force)
    if path.suffix.lower() != ".svg":
        cairo_is_here()


def write_picture_file(path: Path, svg: str, drawings: Sequence[str], *, force: bool = False) -> None:
    """Writes a picture as SVG or PNG, by the name's ending.

    Args:
        svg: the picture; drawings: that it was made from; force: write over a file whoever made it.

    Raises:
        FileError, LibraryError.
    """
    if path.suffix.lower() == ".svg":
        write_ours(path, svg.encode(), drawings, force=force)
        return
    from seamwright.ink.png import to_png

    png = to_png(svg, text={"Software": "seamwright", "Source": made_by(drawings)})
    write_ours(path, png, drawings, force=force)


def write_pages_file(
    path: Path, pages: Sequence[Page], title: str, drawings: Sequence[str], *, force: bool = False
) -> None:
    """Writes pages of words and pictures as PDF, once they have been read back.

    Args:
        title: shown in the reader's window; drawings: that they were made from; force: write over a file whoever
            made it.

    Raises:
        FileError, LibraryError. ProofError: the finished file does not hold its pages; our fault, please report it.
    """
    write_ours(path, pages_pdf(pages, title, made_by(drawings)), drawings, force=force)


def pages_pdf(pages: Sequence[Page], title: str, made: str) -> bytes:
    """Pages of words and pictures as a PDF that has been read back; the rest as `write_pages_file`.

    Args:
        made: from which drawings, as `output.made_by` says it.
    """
    from seamwright.sheet.pdf import to_pdf
    from seamwright.sheet.readback import read_back

    pdf = to_pdf(pages, title=title, made_from=made)
    read_back(pdf, pages)
    return pdf


def may_write_list(path: Path, drawings: Sequence[str], *, force: bool = False) -> None:
    """Makes sure that a cutting list can be made here and written to `path`.

    Raises:
        OptionError, FileError, LibraryError.
    """
    _has_form(path, LIST_FORMS, "no name of a table or of pages", "kite.csv")
    may_write(path, drawings, force=force)
    if path.suffix.lower() == ".pdf":
        cairo_is_here()


def may_write_mended(path: Path, drawing: str, *, force: bool = False) -> None:
    """Makes sure that a drawing can be written to `path`.

    Raises:
        OptionError, FileError.
    """
    from seamwright.mend.write import FORMS

    _has_form(path, FORMS, "no name of a drawing", "mended.svg")
    may_write(path, [drawing], force=force)


def may_write_setting(path: Path, drawings: Sequence[str], *, force: bool = False) -> None:
    """Makes sure that the file of a quilt can be written to `path`; one that is there may have been worked on.

    Raises:
        OptionError, FileError.
    """
    _has_form(path, SETTING_FORMS, "no name of a quilt's file", "evening.setting")
    if path.is_file() and not force:
        mend = "Give another name for the output, or --force to write over it"
        raise fail(FileError, "file", f"{path} is there already, and you may have worked on it", mend)
    may_write(path, drawings, force=force)


def may_write_files(folder: Path) -> None:
    """Makes sure that files for machines and their previews can be made here and written into `folder`.

    Raises:
        FileError, LibraryError.
    """
    may_use_folder(folder)
    cairo_is_here()


def _has_form(path: Path, forms: Sequence[str], otherwise: str, example: str) -> None:
    """Refuses a name that ends in none of the forms, saying what it is otherwise."""
    _is_no_folder(path, example)
    if path.suffix.lower() not in forms:
        raise fail(OptionError, "option", f"{path} is {otherwise}", f"Let its name end in {say_list(forms, 'or')}")


def _is_no_folder(path: Path, example: str) -> None:
    # Said before the ending is looked at: a folder has none, and "." and "/" have not even a name to mend.
    if not path.suffix and path.is_dir():
        raise fail(FileError, "file", f"{path} is a folder", f"Give a file name, such as {path / example}")


def cairo_is_here() -> None:
    """Makes sure that the cairo library is here.

    Raises:
        LibraryError.
    """
    from seamwright.ink.png import cairo

    cairo()
