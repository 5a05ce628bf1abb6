"""The fabrics of planned blocks: what stands beside what, which points vanish, and pictures of it.

Knows:  which facts make it up, how its picture is written.
Leaves: the plan (api), the facts themselves (fabric.worn, piecing.vanishing), the words (words.fabrics), the data
        (report.fabrics), the picture (picture.fabrics).
"""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path

from seamwright.asked import split_size
from seamwright.fabric.worn import Worn, worn
from seamwright.outfiles import may_write_picture, write_picture_file
from seamwright.output import made_by
from seamwright.piecing.model import Plan
from seamwright.piecing.vanishing import Lost, vanishing


@dataclass(frozen=True, slots=True)
class Cloths:
    """What is known of the fabrics of one plan.

    Attributes:
        worn: how much of each, and which stand beside each other.
        lost: the points that vanish, because fabrics beside them read alike.
    """

    plan: Plan
    worn: Worn
    lost: tuple[Lost, ...]


def fabrics(plan: Plan) -> Cloths:
    """The fabrics of a plan's block, values and contrasts, and the points that vanish.

    Nothing has to be sewable: a block that is stuck wears fabrics all the same.
    """
    return Cloths(plan, worn(plan.block), vanishing(plan.block))


def fabrics_picture(*plans: Plan) -> str:
    """Each plan's block in colour, beside it in greys of the same light, its fabrics below: an SVG document."""
    from seamwright.ink.svg import to_svg
    from seamwright.picture.fabrics import fabrics_sheet
    from seamwright.picture.tints import CHALK

    picture = fabrics_sheet([fabrics(plan) for plan in plans])
    title = ", ".join(dict.fromkeys(plan.block.title for plan in plans))
    return to_svg(
        picture.inks,
        picture.width_in,
        picture.height_in,
        title=f"{title}: fabrics",
        description=made_by(_drawings(plans)),
        background=CHALK,
    )


def write_fabrics(path: str | Path, *plans: Plan, force: bool = False) -> None:
    """Writes the picture of the fabrics of one plan or more, a row for each, as SVG or PNG by the name's ending.

    Raises:
        OptionError: the name ends in neither. FileError: the file cannot be written, or is not ours.
        LibraryError: the cairo library is missing (PNG only).
    """
    out = Path(path)
    may_write_picture(out, *_drawings(plans), force=force)
    write_picture_file(out, fabrics_picture(*plans), _drawings(plans), force=force)


def _drawings(plans: tuple[Plan, ...]) -> list[str]:
    return list(dict.fromkeys(split_size(plan.block.file)[0] for plan in plans))
