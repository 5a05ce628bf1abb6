"""Sheets and pages of a booklet as one PDF file.

Knows:  the order SVG page, cairo, pypdf; what the print dialog is told; bookmarks, labels, title, language.
Leaves: what lies on a sheet (layout) or a page (booklet.pages), how words become text (pdfwords), measuring the
        file (readback).
Units:  points, 72 to the inch (ISO 32000-1, 8.3.2.3).
Method: the lines of each page are one SVG document of physical size, converted by cairo; pypdf joins the pages
        and adds the words as text. Nothing hangs on the clock or on chance, so the same sheets give the same
        bytes (with the same libraries).
"""

from __future__ import annotations

from collections.abc import Sequence
from io import BytesIO
from typing import Any

from pypdf import PdfReader, PdfWriter
from pypdf.constants import PageLabelStyle
from pypdf.generic import (
    ArrayObject,
    DictionaryObject,
    Fit,
    IndirectObject,
    NameObject,
    TextStringObject,
)

from seamwright.foundation.purpose import called
from seamwright.geometry import bounds, moved
from seamwright.ink.model import Words
from seamwright.ink.page import Page
from seamwright.ink.png import cairo
from seamwright.ink.svg import to_svg
from seamwright.sheet.model import Placed, Sheet
from seamwright.sheet.naming import SHEETS
from seamwright.sheet.pdfwords import Type, add_stream

LANGUAGE = "en-GB"


Leaf = Sheet | Page
"""What becomes a page of the file."""


def to_pdf(leaves: Sequence[Leaf], *, title: str, made_from: str) -> bytes:
    """The finished file.

    Args:
        leaves: one page each, in order: sheets of foundations, pages of words and pictures, or first pages, then
            sheets.
        title: shown in the reader's window.
        made_from: kept in the file's Info, such as "made by seamwright from [kite.svg]".

    Raises:
        LibraryError: the cairo library is missing.
        ValueError: there are no pages.
    """
    if not leaves:
        raise ValueError("no sheets to print")
    convert = cairo().svg2pdf
    writer = PdfWriter()
    for leaf in leaves:
        lines = [ink for ink in leaf.ink if not isinstance(ink, Words)]
        svg = to_svg(lines, leaf.width_pt, leaf.height_pt, "pt")
        writer.append(PdfReader(BytesIO(convert(bytestring=svg.encode()))), import_outline=False)
    type_ = Type(ink for leaf in leaves for ink in leaf.ink if isinstance(ink, Words))
    fonts = writer._add_object(type_.fonts(writer))
    for number, leaf in enumerate(leaves):
        _add_words(writer, number, leaf, type_, fonts)
    _add_outline(writer, leaves)
    _tell_reader(writer, title, made_from)
    _add_page_labels(writer, leaves)
    writer.compress_identical_objects()
    out = BytesIO()
    writer.write(out)
    return out.getvalue()


def _add_words(writer: PdfWriter, number: int, leaf: Leaf, type_: Type, fonts: IndirectObject) -> None:
    """Shows the words of a page over what cairo drew, whose page leaves the coordinates changed."""
    page = writer.pages[number]
    words = type_.show((ink for ink in leaf.ink if isinstance(ink, Words)), leaf.height_pt)
    drawn = page.raw_get("/Contents")
    page[NameObject("/Contents")] = ArrayObject(
        [add_stream(writer, b"q"), drawn, add_stream(writer, b"Q\n" + words)]
    )
    resources = page.setdefault(NameObject("/Resources"), DictionaryObject()).get_object()
    resources[NameObject("/Font")] = fonts


def _add_outline(writer: PdfWriter, leaves: Sequence[Leaf]) -> None:
    """One tree: chapters with what is in them, then sheets, those of a set below it."""
    chapter: IndirectObject | None = None
    above: IndirectObject | None = None
    told = False
    for number, leaf in enumerate(leaves):
        if isinstance(leaf, Page):
            for mark in leaf.bookmarks:
                place = Fit.xyz(left=0, top=round(leaf.height_pt - mark.y_pt))
                parent = chapter if mark.level > 1 else None
                item = writer.add_outline_item(title=mark.text, page_number=number, parent=parent, fit=place)
                chapter = item if mark.level == 1 else chapter
            continue
        if number and not told and isinstance(leaves[number - 1], Page):
            above = chapter = writer.add_outline_item(title=SHEETS, page_number=number)
        told = True
        if leaf.in_set is not None and leaf.in_set.sheet == 1:
            words = f"Set {leaf.in_set.set} of {leaf.in_set.sets}"
            # Closed, or a class of thirty fills the pane with hundreds of lines.
            above = writer.add_outline_item(title=words, page_number=number, parent=chapter, is_open=False)
        _add_bookmarks(writer, number, leaf, above)


def _add_bookmarks(writer: PdfWriter, number: int, sheet: Sheet, above: IndirectObject | None) -> None:
    """A bookmark for the sheet (below that of its set), and below it one for each section, to its place."""
    parent = writer.add_outline_item(title=sheet.title, page_number=number, parent=above)
    told: dict[str, Fit] = {}
    for placed in sheet.placed:
        words = called(placed.foundation)
        if placed.block:
            words = f"{placed.block}: {words}"
        if placed.tile is not None:
            words += f", part {placed.tile.row}.{placed.tile.column} of {placed.tile.of}"
        told.setdefault(words, _corner_of(placed, sheet))
    for words, place in told.items():
        writer.add_outline_item(title=words, page_number=number, parent=parent, fit=place)


def _corner_of(placed: Placed, sheet: Sheet) -> Fit:
    """The top left corner of a print as the place that a bookmark leads to; the reader keeps its zoom."""
    left, top, _, _ = bounds([moved(placed.affine, p) for p in placed.foundation.trim_outline])
    # A part shows less than its whole foundation, which may begin beyond the sheet.
    return Fit.xyz(left=round(max(0.0, left)), top=round(sheet.height_pt - max(0.0, top)))


def _add_page_labels(writer: PdfWriter, leaves: Sequence[Leaf]) -> None:
    """What a reader calls the pages: their numbers, or those of each set under its name; sheets behind other pages
    are called so and have numbers of their own."""
    mixed = isinstance(leaves[0], Page)
    ranges: dict[str, list[int]] = {}
    for page, leaf in enumerate(leaves):
        prefix = ""
        if isinstance(leaf, Sheet):
            prefix = f"set {leaf.in_set.set} sheet " if leaf.in_set else "sheet " * mixed
        ranges.setdefault(prefix, []).append(page)
    for prefix, pages in ranges.items():
        writer.set_page_label(
            pages[0],
            pages[-1],
            style=PageLabelStyle.DECIMAL,
            prefix=prefix or None,
            start=1 if prefix else pages[0] + 1,
        )


def _tell_reader(writer: PdfWriter, title: str, made_from: str) -> None:
    """Hints to the reader and its print dialog (ISO 32000-1, 12.2), and words about the file."""
    writer.pdf_header = "%PDF-1.7"
    hints: Any = writer.create_viewer_preferences()
    hints.print_scaling = "/None"
    hints.duplex = "/Simplex"
    hints.pick_tray_by_pdfsize = True
    hints.display_doctitle = True
    writer.root_object[NameObject("/Lang")] = TextStringObject(LANGUAGE)
    writer.page_mode = "/UseOutlines"
    # Without this the file would carry the name of the library that joined it.
    writer.metadata = None
    writer.add_metadata({"/Title": title, "/Subject": made_from, "/Creator": "seamwright"})
