"""Files made of a quilt as it stands on the page: its picture, all its foundations, its cutting list, its booklet.

Knows:  which call makes what, what is told of each once it is made.
Leaves: the work (quiltpictures, quiltcuts, quiltbooks, api), who asks (quilting).
Method: functions of plain values, run in a process of their own; what the calls write goes to a folder of its own,
        which is gone when the bytes are read.
"""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import TYPE_CHECKING, Any

from seamwright.asked import Given, texts_of
from seamwright.errors import SeamwrightError
from seamwright.page.printtasks import Made, booklet_words
from seamwright.page.quiltwork import plain, setting_at

if TYPE_CHECKING:
    from seamwright.quilt.model import Quilt

ENDINGS = {
    "picture": (".pdf", ".png", ".svg"),
    "foundations": (".pdf",),
    "cutting": (".pdf", ".csv"),
    "booklet": (".pdf",),
}
"""Kind of file -> how it may end."""


def file_made(folder: str, name: str, text: str, given: Given, kind: str, ending: str) -> Made:
    """A file of a quilt.

    Args:
        given: options that win over those of the quilt's text. kind, ending: a pair of ENDINGS.

    Raises:
        SeamwrightError: a block cannot be sewn, an option cannot be used, and so on, in words.
    """
    from seamwright.quilts import quilt_of

    asked: dict[str, Any] = {option.replace("-", "_"): value for option, value in given}
    texts_of(asked)
    try:
        with setting_at(folder, name, text) as setting:
            quilt = quilt_of(setting, **asked)
            if kind == "foundations":
                return _foundations(quilt, asked)
            with TemporaryDirectory(prefix="seamwright-") as made_in:
                out = Path(made_in) / f"quilt{ending}"
                said = _write(out, quilt, kind, asked)
                return Made(out.read_bytes(), said)
    except SeamwrightError as error:
        raise plain(error, folder) from error


def _foundations(quilt: Quilt, asked: dict[str, Any]) -> Made:
    from seamwright.api import pdf_of
    from seamwright.paper import paper
    from seamwright.quilt.counts import for_quilt
    from seamwright.quilts import plans_of
    from seamwright.words.onpage import capital
    from seamwright.words.prints import made_words, next_words, true_words

    pdf, printed = pdf_of(*plans_of(quilt), file=quilt.setting.file, quilt=for_quilt(quilt), **asked)
    made = made_words(replace(printed, paper=paper(printed.paper).said))
    return Made(pdf, (f"{made}.", capital(next_words(printed.printing)), true_words(printed)))


def _write(out: Path, quilt: Quilt, kind: str, asked: dict[str, Any]) -> tuple[str, ...]:
    """Writes a file; what is told of it."""
    if kind == "picture":
        from seamwright.quiltpictures import write_quilt_picture

        write_quilt_picture(out, quilt)
        return ("The whole quilt and a part of it at arm's length, in colour and in greys.",)
    if kind == "cutting":
        from seamwright.quiltcuts import cutting_of, write_quilt_cutting

        write_quilt_cutting(out, cutting_of(quilt, **asked))
        return ("Proven: what is bought holds all that is cut.",)
    from seamwright.quiltbooks import write_quilt_booklet

    booked = write_quilt_booklet(out, quilt, **asked)
    return booklet_words(booked)
