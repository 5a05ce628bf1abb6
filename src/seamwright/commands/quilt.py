"""`seamwright quilt`: size, blocks, prints, fabric and advice of a whole quilt, and its picture.

Knows:  what the command may be asked, and in which order things are done.
Leaves: the work (quilts, quiltfacts), the words (words.quilts), the data (report.quilts).
"""

from __future__ import annotations

import os
from contextlib import suppress

from seamwright.commands.asking import SETTING, drawings_of, given_of, is_quilt, quilt_at
from seamwright.commands.telling import print_json, say, tell
from seamwright.parser import Slip

TYPE_CHECKING = False
if TYPE_CHECKING:  # typing itself is not imported: it is not needed to run
    from argparse import Namespace
    from pathlib import Path
    from typing import Any

    from seamwright.errors import SeamwrightError
    from seamwright.quiltfacts import QuiltFacts


def quilt(asked: Namespace) -> int:
    """Tells what each quilt comes to, and draws it where asked; returns the exit code."""
    from seamwright.errors import SeamwrightError
    from seamwright.progress import Progress
    from seamwright.quiltfacts import FACT_STEPS, facts_of
    from seamwright.report.checks import check_object
    from seamwright.report.quilts import quilt_object, quilts_object
    from seamwright.words.quilts import quilt_words

    files, given = _quilts_of(asked), given_of(asked)
    out = _picture_asked(asked, files, given)
    told: list[dict[str, Any]] = []
    code = 0
    with Progress(len(files) * (FACT_STEPS + 1) + (out is not None), "step") as progress:
        for file in files:
            facts: QuiltFacts | SeamwrightError
            try:
                progress.doing(f"laying {file}")
                laid = quilt_at(file, given)
                facts = facts_of(laid, progress=progress.doing, searched=progress.looked_at, **_cut(given))
                if out is not None:
                    progress.doing(f"drawing {out.name}")
                    _draw(out, facts, force=asked.force)
            except SeamwrightError as error:
                facts = error
            progress.clear()
            if isinstance(facts, SeamwrightError):
                code = max(code, facts.exit_code)
                if asked.json:
                    told.append(check_object(file, None, facts))
                else:
                    tell(facts, file)
            elif asked.json:
                told.append(quilt_object(facts))
            else:
                say("\n".join(quilt_words(file, facts)))
                if out is not None:
                    say(f"Picture: {out}")
    if asked.json:
        print_json(quilts_object(told))
    return code


def _quilts_of(asked: Namespace) -> list[str]:
    """The files asked for, each of a quilt."""
    if not asked.drawings or not all(asked.drawings):
        raise Slip("which quilt? Name its .setting file; seamwright text-form quilt shows how one is typed.")
    files = drawings_of(asked)
    for file in files:
        if not is_quilt(file):
            if not os.path.exists(file):
                near = f"{file}{SETTING}"
                mend = f"Perhaps {near} is meant" if os.path.exists(near) else "Check the name and the folder"
                raise Slip(f"{file}: there is no such file. {mend}.")
            raise Slip(
                f"{file} is no quilt: name a .setting file that says how blocks are set. "
                "For a block by itself use seamwright check."
            )
    return files


def _cut(given: list[tuple[str, str]]) -> dict[str, str]:
    """Those of the options that say how fabric is cut."""
    from seamwright.offered import CUT_OPTIONS

    return {name: text for name, text in given if name in CUT_OPTIONS}


def _picture_asked(asked: Namespace, files: list[str], given: list[tuple[str, str]]) -> Path | None:
    """Where the picture goes, looked at before any block is planned; None if none is asked for."""
    from pathlib import Path

    from seamwright.errors import SeamwrightError
    from seamwright.outfiles import may_write_drawn

    if asked.output is None:
        return None
    if not asked.output:
        raise Slip("-o: where should the picture go? Give a name that ends in .svg, .png or .pdf.")
    if len(files) > 1:
        raise Slip(f"-o shows one quilt, but {len(files)} are given. Draw them one at a time.")
    out, made_from = Path(asked.output), files
    with suppress(SeamwrightError):  # what is wrong with the quilt itself is told in its turn
        made_from = quilt_at(files[0], given).setting.files
    may_write_drawn(out, *made_from, force=asked.force)
    return out


def _draw(out: Path, facts: QuiltFacts, *, force: bool) -> None:
    from seamwright.quiltpictures import write_quilt_picture

    write_quilt_picture(out, facts.quilt, force=force)
