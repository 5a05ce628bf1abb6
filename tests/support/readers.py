"""What readers of PDF complain of in a file, all that this machine has."""

from __future__ import annotations

import logging
import shutil
import subprocess
import tempfile
import warnings
from collections.abc import Iterator
from io import BytesIO
from pathlib import Path

import pymupdf
import pypdfium2
from pypdf import PdfReader

PROGRAMS = {
    "qpdf": ("qpdf", "--check"),
    "Ghostscript": ("gs", "-q", "-dSAFER", "-dNOPAUSE", "-dBATCH", "-dPDFSTOPONERROR", "-dPDFSTOPONWARNING"),
    "poppler": ("pdftoppm", "-r", "30", "-png"),
    "poppler's text": ("pdftotext",),
    "poppler's information": ("pdfinfo", "-dests"),
}
_FINE = (
    "checking",
    "PDF Version:",
    "File is not encrypted",
    "File is not linearized",
    "No syntax or stream",
    "errors that qpdf cannot",
)
"""What qpdf says of every good file."""


def complaints(pdf: bytes) -> Iterator[str]:
    """Everything that programs and libraries say is wrong with a file, each with the reader's name."""
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / "file.pdf"
        path.write_bytes(pdf)
        for name, command in PROGRAMS.items():
            if shutil.which(command[0]) is None:
                continue
            more: tuple[str, ...] = {
                "Ghostscript": ("-sDEVICE=nullpage", str(path)),
                "poppler": (str(path), str(Path(folder) / "page")),
                "poppler's text": (str(path), str(Path(folder) / "text")),
            }.get(name, (str(path),))
            run = subprocess.run([*command, *more], capture_output=True, text=True, check=False)
            said = run.stderr.splitlines()
            if name in ("qpdf", "Ghostscript"):
                said += [line for line in run.stdout.splitlines() if not line.startswith(_FINE)]
            if run.returncode or said:
                yield f"{name} ({run.returncode}): {' '.join(said)}"
    yield from _libraries(pdf)


def _libraries(pdf: bytes) -> Iterator[str]:
    pymupdf.TOOLS.reset_mupdf_warnings()
    for page in pymupdf.open(stream=pdf):
        page.get_pixmap(dpi=20)
        page.get_text()
    if said := pymupdf.TOOLS.mupdf_warnings():
        yield f"MuPDF: {said}"
    for page in pypdfium2.PdfDocument(pdf):
        page.render(scale=0.3)
        page.get_textpage().get_text_range()
    heard: list[str] = []
    ears = logging.Handler()
    ears.emit = lambda record: heard.append(record.getMessage())  # type: ignore[method-assign]
    logging.getLogger("pypdf").addHandler(ears)
    try:
        with warnings.catch_warnings(record=True) as caught:
            warnings.simplefilter("always")
            reader = PdfReader(BytesIO(pdf), strict=True)
            _ = (reader.outline, reader.page_labels, [page.extract_text() for page in reader.pages])
    finally:
        logging.getLogger("pypdf").removeHandler(ears)
    yield from (f"pypdf: {line}" for line in (*heard, *(str(w.message) for w in caught)))
