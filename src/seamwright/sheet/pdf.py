"""Sheets as one PDF file.

Knows:  the order SVG page, cairo, pypdf; what the print dialog is told; bookmarks, labels, title, language.
Leaves: what lies on a sheet (layout), how words become text (pdfwords), measuring the file (readback).
Units:  points, 72 to the inch (ISO 32000-1, 8.3.2.3).
Method: the lines of each sheet are one SVG document of physical size, converted by cairo; pypdf joins the pages
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
from seamwright.ink.png import cairo
from seamwright.ink.svg import to_svg
from seamwright.sheet.model import Placed, Sheet
from seamwright.sheet.pdfwords import Type, add_stream

LANGUAGE = "en-GB"


def to_pdf(sheets: Sequence[Sheet], *, title: str, made_from: str) -> bytes:
    """The finished file.

    Args:
        sheets: one page each, in order.
        title: shown in the reader's window.
        made_from: kept in the file's Info, such as "made by seamwright from [kite.svg]".

    Raises:
        LibraryError: the cairo library is missing.
        ValueError: there are no sheets.
    """
    if not sheets:
        raise ValueError("no sheets to print")
    convert = cairo().svg2pdf
    writer = PdfWriter()
    for sheet in sheets:
        lines = [ink for ink in sheet.ink if not isinstance(ink, Words)]
        svg = to_svg(lines, sheet.width_pt, sheet.height_pt, "pt")
        writer.append(PdfReader(BytesIO(convert(bytestring=svg.encode()))), import_outline=False)
    type_ = Type(ink for sheet in sheets for ink in sheet.ink if isinstance(ink, Words))
    fonts = writer._add_object(type_.fonts(writer))
    above: IndirectObject | None = None
    for number, sheet in enumerate(sheets):
        _add_words(writer, number, sheet, type_, fonts)
        if sheet.in_set is not None and sheet.in_set.sheet == 1:
            words = f"Set {sheet.in_set.set} of {sheet.in_set.sets}"
            # Closed, or a class of thirty fills the pane with hundreds of lines.
            above = writer.add_outline_item(title=words, page_number=number, is_open=False)
        _add_bookmarks(writer, number, sheet, above)
    _tell_reader(writer, title, made_from)
    _add_page_labels(writer, sheets)
    writer.compress_identical_objects()
    out = BytesIO()
    writer.write(out)
    return out.getvalue()


def _add_words(writer: PdfWriter, number: int, sheet: Sheet, type_: Type, fonts: IndirectObject) -> None:
    """Shows the words of a sheet over what cairo drew, whose page leaves the coordinates changed."""
    page = writer.pages[number]
    words = type_.show((ink for ink in sheet.ink if isinstance(ink, Words)), sheet.height_pt)
    drawn = page.raw_get("/Contents")
    page[NameObject("/Contents")] = ArrayObject(
        [add_stream(writer, b"q"), drawn, add_stream(writer, b"Q\n" + words)]
    )
    resources = page.setdefault(NameObject("/Resources"), DictionaryObject()).get_object()
    resources[NameObject("/Font")] = fonts


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


def _add_page_labels(writer: PdfWriter, sheets: Sequence[Sheet]) -> None:
    """What a reader calls the pages: their numbers, or those of each set under its name."""
    ranges: dict[str, list[int]] = {}
    for page, sheet in enumerate(sheets):
        ranges.setdefault(f"set {sheet.in_set.set} sheet " if sheet.in_set else "", []).append(page)
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
