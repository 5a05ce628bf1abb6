"""What is written of turnings: the sheet to choose from, and the layout chosen as the file of a quilt.

Knows:  which file a sheet becomes, and that a quilt is laid, proven and read back before its file is written.
Leaves: finding layouts (exploring), the sheet itself (picture.turnings), the quilt's file (quilt.formwrite).
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from pathlib import Path

from seamwright.asked import split_size, usable_options
from seamwright.drawing.read import stem_of
from seamwright.errors import FileError, OptionError, ProofError, fail
from seamwright.exploring import SHOWN, Turnings, names_of
from seamwright.outfiles import may_write_drawn, may_write_setting, write_pages_file, write_picture_file
from seamwright.output import made_by, write_whole
from seamwright.quilt.formwrite import write_setting
from seamwright.quilt.model import Setting


def write_turnings(
    path: str | Path,
    found: Turnings,
    *,
    show: int | None = SHOWN,
    force: bool = False,
    progress: Callable[[str], None] = lambda _: None,
) -> int:
    """Writes the contact sheet as pages (.pdf) or as one picture (.svg, .png), by the name's ending.

    Args:
        show: how many layouts at the most; None: all.
        force: write over a file that we did not make from the same drawings.
        progress: told of each layout when it is drawn.

    Returns:
        How many pages it has.

    Raises:
        OptionError: the name ends in none of these, or a PNG would be too tall. FileError: the file cannot be
            written, or is not ours. LibraryError: the cairo library is missing. ProofError: the finished file does
            not hold its pages.
    """
    from seamwright.paper import paper
    from seamwright.picture.turnings import PNG_MOST_IN, picture_height_in, turnings_pages, turnings_picture

    out, files = Path(path), _files(found)
    may_write_drawn(out, *files, force=force, example="turnings.pdf")
    shown = found.every if show is None else found.every[:show]
    title = f"Turnings of {names_of(found)}"
    if out.suffix.lower() == ".pdf":
        how = usable_options(found.base.options)
        pages = turnings_pages(found, shown, paper(how.paper, how.margins), progress)
        write_pages_file(out, pages, title, files, force=force)
        return len(pages)
    from seamwright.ink.svg import to_svg
    from seamwright.picture.tints import CHALK

    if out.suffix.lower() == ".png" and picture_height_in(found, shown) > PNG_MOST_IN:
        what = f"a PNG of {len(shown):,} layouts would be taller than such files may be"
        raise fail(OptionError, "option", what, f"Show fewer, or write {out.with_suffix('.pdf')}: it has pages")
    picture = turnings_picture(found, shown, progress)
    svg = to_svg(
        picture.inks,
        picture.width_in,
        picture.height_in,
        title=title,
        description=made_by(files),
        background=CHALK,
    )
    write_picture_file(out, svg, files, force=force)
    return 1


def write_turning(path: str | Path, found: Turnings, number: int, *, force: bool = False) -> Setting:
    """Writes one layout as the file of a quilt of 4 x 4 blocks, laid out, proven and read back first.

    Args:
        path: a name that ends in .setting; a file that is there already is not written over without `force`, for
            its owner may have gone on with it.
        number: of the layout.

    Raises:
        OptionError: there is no such layout. FileError: the file cannot be written.
        ProofError: the quilt failed its proof, or does not come back from its file as it was.
    """
    from seamwright.quilt.form import setting_of, stated_in
    from seamwright.quilts import quilt_of

    out = Path(path)
    may_write_setting(out, _files(found), force=force)
    if not 1 <= number <= len(found.every):
        last = len(found.every)
        what = f"there is no layout {number}: " + (
            "there is one" if last == 1 else f"they are numbered 1 to {last}"
        )
        raise fail(OptionError, "option", what, "Look the number up on the contact sheet")
    setting = found.setting(found.every[number - 1])
    for file in _files(found):
        if not file.isprintable():
            what = f"the file of a quilt can hold no such name as {file}"
            raise fail(FileError, "file", what, "Give that drawing a plainer name")
    quilt_of(setting)
    setting = replace(setting, name=stem_of(out).replace("-", " ") or setting.name, file=str(out))
    text = write_setting(setting)
    stated, lines = stated_in(text.encode(), str(out))
    back = setting_of(stated, str(out), lines)
    same = [[(c.source, c.turn, c.colourway) for c in row] for row in back.cells] == [
        [(c.source, c.turn, c.colourway) for c in row] for row in setting.cells
    ]
    if not same:
        raise fail(ProofError, "proof", f"{out} does not read back as layout {number}", "Please report it")
    may_write_setting(out, _files(found), force=force)  # once more: another run may have written it meanwhile
    write_whole(out, text.encode())
    return setting


def _files(found: Turnings) -> list[str]:
    return [split_size(drawing)[0] for drawing in found.drawings]
