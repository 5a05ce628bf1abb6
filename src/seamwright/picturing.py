"""Pictures of a plan and of its sewing rehearsal, as calls: drawn, and written.

Knows:  what stands below a picture of a plan, which file each picture of a rehearsal goes into.
Leaves: the pictures themselves (picture, rehearsal), the plan and its rehearsal (api).
Units:  inches.
"""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path
from typing import TYPE_CHECKING

from seamwright import api
from seamwright.asked import split_size
from seamwright.block.model import Block
from seamwright.outfiles import may_write_picture, write_picture_file
from seamwright.output import made_by, may_use_folder, write_folder
from seamwright.piecing.model import Mend, Plan
from seamwright.results import Rehearsal

if TYPE_CHECKING:
    from seamwright.rehearsal.model import Rehearsed


def picture_of(plan: Plan, mends: Sequence[Mend] = (), done: tuple[Block, Sequence[Mend]] | None = None) -> str:
    """The picture of a plan as an SVG document: front view, sections tinted, what is stuck marked.

    Args:
        mends: each gets a small picture below the words.
        done: the block as it was and the mends by which it became this plan's: what changed is marked.
    """
    from seamwright.picture.plan import plan_picture
    from seamwright.sheet.naming import ruled_words
    from seamwright.units import say_size
    from seamwright.words.checks import verdict

    size = say_size(plan.block.width_in, plan.block.height_in, plan.options.units)
    caption = [f"{size} finished, from the front. {verdict(plan)}"]
    caption += [f"Changed, in blue: {mend.text}" for mend in (done[1] if done else ())]
    ruled = ruled_words(plan)
    caption += [*([f"{ruled}."] if ruled else []), f"Plan {plan.id}"]
    return plan_picture(plan, caption, _made_by(plan), mends, done)


def write_picture(
    path: str | Path,
    plan: Plan,
    mends: Sequence[Mend] = (),
    done: tuple[Block, Sequence[Mend]] | None = None,
    *,
    force: bool = False,
) -> None:
    """Writes the picture of a plan as SVG or PNG, by the name's ending; `mends` and `done` as for `picture_of`.

    Raises:
        OptionError: the name ends in neither. FileError: the file cannot be written, or is not ours.
        LibraryError: the cairo library is missing (PNG only).
    """
    out, drawing = Path(path), split_size(plan.block.file)[0]
    may_write_picture(out, drawing, force=force)
    write_picture_file(out, picture_of(plan, mends, done), [drawing], force=force)


def rehearsal_pictures(plan: Plan) -> tuple[tuple[str, str], ...]:
    """(file name, SVG document) for every step of a rehearsal, every section trimmed, and the block joined.

    All are of one size and sort in sewing order, so that they can be played one after the other.

    Raises:
        StuckError, ProofError: as `rehearse`.
    """
    return _rehearsal_pictures(plan, api.rehearse(plan))


def write_rehearsal(folder: str | Path, plan: Plan, *, force: bool = False) -> Rehearsal:
    """Rehearses a plan and writes its pictures into a folder, which is made if it is not there.

    Raises:
        StuckError, ProofError: as `rehearse`. FileError: a file cannot be written, or is not ours.
    """
    from seamwright.rehearsal.pictures import is_step_picture

    out, drawing = Path(folder), split_size(plan.block.file)[0]
    may_use_folder(out)
    rehearsed = api.rehearse(plan)
    pictures = _rehearsal_pictures(plan, rehearsed)
    write_folder(out, [(name, svg.encode(), [drawing]) for name, svg in pictures], force=force)
    files = tuple(name for name, _ in pictures)
    older = sorted(path.name for path in out.iterdir() if is_step_picture(path.name, plan.block.title))
    return Rehearsal(rehearsed, str(folder), files, tuple(name for name in older if name not in files))


def _rehearsal_pictures(plan: Plan, rehearsed: Rehearsed) -> tuple[tuple[str, str], ...]:
    from seamwright.claims.sewing import sewing_of
    from seamwright.ink.svg import to_svg
    from seamwright.picture.named import part_colours, patch_colours
    from seamwright.rehearsal.pictures import draw_rehearsal

    colours, parts = patch_colours(plan), part_colours(plan)
    drawn = draw_rehearsal(plan.block.title, sewing_of(plan), rehearsed, colours, plan.options.units, parts)
    made = f"{_made_by(plan)}, plan {plan.id}"
    return tuple(
        (
            f"{picture.name}.svg",
            to_svg(
                picture.inks,
                picture.width_in,
                picture.height_in,
                title=picture.title,
                description=f"{picture.caption} {made}",
                background=picture.ground,
            ),
        )
        for picture in drawn
    )


def _made_by(plan: Plan) -> str:
    return made_by([split_size(plan.block.file)[0]])
