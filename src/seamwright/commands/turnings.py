"""`seamwright turnings`: all layouts of one or two blocks that differ, a sheet of them, one of them as a quilt.

Knows:  what the command may be asked, and in which order things are done.
Leaves: the work (exploring, choosing), the words (words.turnings), the data (report.turnings).
"""

from __future__ import annotations

from seamwright.commands.asking import drawings_of, given_of
from seamwright.commands.telling import print_json, say
from seamwright.parser import Slip

TYPE_CHECKING = False
if TYPE_CHECKING:  # typing itself is not imported: it is not needed to run
    from argparse import Namespace

GRIDS = ("2x2", "4x4")
MOST = 1_000_000
"""More layouts, and larger seeds, are a slip."""


def turnings(asked: Namespace) -> int:
    """Tells of the turnings, writes the sheet, or one of them; returns the exit code."""
    from pathlib import Path

    from seamwright import choosing, exploring, outfiles
    from seamwright.asked import split_size
    from seamwright.progress import Progress
    from seamwright.words.turnings import turnings_lines, written_sentence

    drawings, given = drawings_of(asked), given_of(asked)
    show = None if asked.show == "all" else _number("--show", asked.show, exploring.SHOWN, "or all")
    write = None if asked.write is None else _number("--write", asked.write, 1)
    if asked.reversed:
        raise Slip("--reversed: turnings lay the block as drawn; --with-reversed lays its mirror image beside it.")
    grid = (asked.grid or GRIDS[0]).replace(" ", "").lower()
    if grid not in GRIDS:
        raise Slip(
            f"--grid: '{asked.grid}' is neither 2x2, all layouts, nor 4x4, layouts by rule. Give one of them."
        )
    if asked.output == "":
        raise Slip("-o: where should it go? Give a name that ends in .pdf, .svg or .png, or .setting with --write.")
    out = Path(asked.output) if asked.output is not None else None
    if write is not None and out is None:
        raise Slip(f"--write {write}: into which file? Add -o evening.setting, say.")
    if write is None and out is not None and out.suffix.lower() == ".setting":
        raise Slip(f"{out}: which layout is wanted? Add --write with its number; or name the sheet turnings.pdf.")
    if out is not None:
        files = [split_size(drawing)[0] for drawing in drawings]
        if write is None:
            outfiles.may_write_drawn(out, *files, force=asked.force, example="turnings.pdf")
        else:
            outfiles.may_write_setting(out, files, force=asked.force)
    found = exploring.turnings(
        *drawings,
        reversed_too=asked.with_reversed,
        repeat=exploring.Repeat(int(grid[0])),
        seed=_number("--seed", asked.seed, 1),
        **{name.replace("-", "_"): text for name, text in given},
    )
    told = []
    if out is not None and write is not None:
        choosing.write_turning(out, found, write, force=asked.force)
        told.append(written_sentence(found, write, str(out)))
    elif out is not None:
        count = len(found.every[:show])
        with Progress(count, "layout") as progress:
            pages = choosing.write_turnings(out, found, show=show, force=asked.force, progress=progress.doing)
        on = f", {pages} pages" if pages > 1 else ""
        told.append(f"Sheet: {out}, {count:,} of {len(found.every):,} shown{on}")
    if asked.json:
        from seamwright.report.turnings import turnings_object

        print_json(turnings_object(found, show, asked.output))
    elif write is not None:
        say("\n".join(told))
    else:
        say("\n".join([*turnings_lines(found, briefly=out is not None), *told]))
    return 0


def _number(option: str, text: str | None, otherwise: int, also: str = "") -> int:
    """A whole number from 1 that an option asks for."""
    if text is None:
        return otherwise
    if not (text.isascii() and text.isdigit() and 1 <= int(text) <= MOST):
        raise Slip(f"{option}: '{text}' is no whole number from 1. Give one, such as 12{', ' * bool(also)}{also}.")
    return int(text)
