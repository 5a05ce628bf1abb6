"""Pictures of a quilt, written: one sheet as SVG or PNG, or pages.

Knows:  what stands on a page, whose file may be written over.
Leaves: the pictures (picture.quiltsheet), pages (booklet.pages), the file (sheet.pdf).
Units:  inches.
"""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

from seamwright.asked import usable_options
from seamwright.outfiles import may_write_drawn, write_pages_file, write_picture_file
from seamwright.output import made_by
from seamwright.paper import paper
from seamwright.quilt.model import Quilt

if TYPE_CHECKING:
    from seamwright.ink.page import Page


def quilt_svg(quilt: Quilt) -> str:
    """The quilt whole and at arm's length, in colour and in greys, on one sheet: an SVG document.

    Every block is written once and used wherever it lies, so that a quilt of thousands of patches stays small.
    """
    from seamwright.ink.svg import to_svg
    from seamwright.picture.quiltsheet import quilt_sheet
    from seamwright.picture.tints import CHALK

    repeated, picture = quilt_sheet(quilt)
    return to_svg(
        picture.inks,
        picture.width_in,
        picture.height_in,
        title=quilt.setting.name,
        description=made_by(quilt.setting.files),
        background=CHALK,
        repeated=repeated,
    )


def write_quilt_picture(path: str | Path, quilt: Quilt, *, force: bool = False) -> None:
    """Writes the pictures of a quilt: one sheet as SVG or PNG, or a page each as PDF, by the name's ending.

    Pages are of the paper, with the margins, that the quilt's options ask for.

    Raises:
        OptionError: the name ends in none of them. FileError: the file cannot be written, or is not ours.
        LibraryError: the cairo library is missing (PNG and PDF). ProofError: the finished file does not hold its
            pages; our fault, please report it.
    """
    out, files = Path(path), quilt.setting.files
    may_write_drawn(out, *files, force=force)
    if out.suffix.lower() != ".pdf":
        write_picture_file(out, quilt_svg(quilt), files, force=force)
        return
    write_pages_file(out, quilt_pages(quilt), f"{quilt.setting.name}: pictures", files, force=force)


def quilt_pages(quilt: Quilt) -> tuple[Page, ...]:
    """A page for each picture, as large as the paper lets it be."""
    from seamwright.booklet.model import Figure, Full
    from seamwright.booklet.pages import full_room, lay_out
    from seamwright.picture.quilt import quilt_picture
    from seamwright.picture.quiltsheet import shown
    from seamwright.picture.quiltview import shown_box
    from seamwright.words.quiltpictures import facts

    options = usable_options(quilt.setting.options)
    page = paper(options.paper, options.margins)
    wide, high = full_room(page)
    story = []
    for one in shown(quilt):
        left, top, right, bottom = one.part or shown_box(quilt)
        share = (right - left) / (bottom - top)
        across = min(wide, high * share)
        picture = quilt_picture(quilt, max(across, across / share), one.finish, one.part)
        figure = Figure(picture.inks, picture.width_in, picture.height_in, f"{quilt.setting.name}. {one.says}")
        story.append(Full(quilt.setting.name, f"{facts(quilt, quilt.setting.units)} {one.says}.", figure))
    return lay_out(tuple(story), page, foot=f"Pictures of {quilt.setting.name}")
