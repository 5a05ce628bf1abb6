"""From a foundation to the prints that show it: one that finds room on a sheet, or parts to glue.

Knows:  whether a foundation fits a sheet beside its furniture, square, slantwise, or not at all; how much it is
        enlarged.
Leaves: how it is parted (tiling), what grows with it (enlarging), which prints share a sheet (pack).
Units:  points; foundations come in inches.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace

from seamwright.errors import OptionError, SeamwrightError, fail
from seamwright.foundation.model import Foundation
from seamwright.geometry import Affine, Point, after, bounds, moved
from seamwright.ink.model import move_ink
from seamwright.options import Fit
from seamwright.paper import PT_PER_IN, Paper
from seamwright.sheet.assembly import assembly, assembly_room
from seamwright.sheet.desk import Desk, Print
from seamwright.sheet.enlarging import ink_of
from seamwright.sheet.model import Tile
from seamwright.sheet.nest import CELL_PT, rotation, slanted
from seamwright.sheet.pack import fits
from seamwright.sheet.stock import needed
from seamwright.sheet.tiling import Shown, Tiling, sides, tile


def ways_to_print(desk: Desk) -> list[tuple[Print, ...]]:
    """All prints of a run: first with those too long to lie square slantwise, then, where parts may be, in parts.

    A print that lies slantwise may take up a sheet that parts of it would share; but glue costs the sewer more than
    a sheet. So only those whose plan allows parts (--fit none) are parted though they would go on a sheet whole.
    """
    slantwise: list[Print] = []
    parted: list[Print] = []
    for number, (plan, foundations) in enumerate(desk.jobs):
        glue = plan.options.fit is Fit.NONE
        for foundation in needed(foundations, desk.printing.stock):
            prints = prints_of(number, foundation, desk)
            slantwise += prints
            if glue and prints[0].tile is None and not _may_lie_square(prints[0], desk):
                prints = prints_of(number, foundation, desk, slanting=False)
            parted += prints
    return [tuple(slantwise)] + ([tuple(parted)] if parted != slantwise else [])


def prints_of(job: int, foundation: Foundation, desk: Desk, *, slanting: bool = True) -> list[Print]:
    """The foundation as one print if it finds room on a sheet, else in parts.

    Args:
        slanting: a print too long to lie square may lie slantwise; else it is parted.
    """
    scale = PT_PER_IN * desk.printing.enlarge
    inches = (scale, 0.0, 0.0, scale, 0.0, 0.0)
    ring = tuple(moved(inches, p) for p in foundation.trim_outline)
    whole = Print(job, foundation, inches, 0.0, ring, ink_of(foundation, scale, heavy=not desk.printing.ink_saver))
    if (slanting or _may_lie_square(whole, desk)) and _alone(whole, desk):
        return [whole]
    if slanting and not desk.printing.upright:
        for angle in slanted(ring, desk.frame.width, desk.frame.bottom - desk.frame.top):
            lying = _turned(whole, angle)
            if _alone(lying, desk):
                return [lying]
    label = foundation.label or foundation.section
    name = f"{desk.names[job]} {label}" if desk.several else label
    shown = _shown(whole, name, upright=desk.printing.upright)
    windows = _windows(whole, desk, name)
    while windows:
        parts = _parts(whole, tile(shown, windows), name)
        if all(_alone(part, desk) for part in parts):
            return parts
        # Words that belong to a part needed more room than was thought.
        windows = tuple((wide, high - 4 * CELL_PT) for wide, high in windows if high > 72.0)
    raise too_small(desk.page)


def too_small(page: Paper) -> SeamwrightError:
    """What is said of a paper on which nothing finds room."""
    what = f"{page.name} paper is too small: not even a small part of a foundation finds room on it"
    return fail(OptionError, "option", what, "Choose a larger --paper")


def _alone(one: Print, desk: Desk) -> bool:
    """Whether a print finds room on a sheet of its own."""
    wants = replace(desk, prints=(one,)).wants
    return any(
        fits(one.ring, desk.frame, wants, bare=bare, upright=desk.printing.upright) for bare in (False, True)
    )


def _may_lie_square(one: Print, desk: Desk) -> bool:
    """Whether the box of a print as it comes from its block is no longer or wider than a sheet."""
    inches = one.foundation.trim_outline
    left, top, right, bottom = bounds(inches)
    scale = PT_PER_IN * desk.printing.enlarge
    sides_ = sorted(((right - left) * scale, (bottom - top) * scale))
    room = sorted((desk.frame.width, desk.frame.bottom - desk.frame.top))
    return sides_[0] <= room[0] + CELL_PT and sides_[1] <= room[1] + CELL_PT


def _turned(whole: Print, angle: float) -> Print:
    turn = rotation(angle)
    return replace(
        whole,
        affine=after(whole.affine, turn),
        turn_deg=angle,
        ring=tuple(moved(turn, p) for p in whole.ring),
        ink=tuple(move_ink(mark, turn, angle) for mark in whole.ink),
    )


def _shown(whole: Print, name: str, *, upright: bool) -> Shown:
    """What parting lines and parts must know of a print."""
    one, affine = whole.foundation, whole.affine

    def at(point: Point) -> Point:
        return moved(affine, point)

    return Shown(
        name,
        whole.ring,
        whole.ink,
        tuple((at(a), at(b)) for a, b in (*one.seams, *sides(one.stitch_outline))),
        tuple(dict.fromkeys(at(p) for patch in one.patches for p in patch.outline)),
        upright,
    )


def _parts(whole: Print, tiling: Tiling, name: str) -> list[Print]:
    """Each part of a foundation as a print of its own."""
    affine: Affine = after(whole.affine, tiling.turn)
    return [
        replace(
            whole,
            affine=affine,
            turn_deg=tiling.angle_deg,
            ring=part.ring,
            ink=part.ink,
            tile=Tile(part.row, part.column, part.of, part.window, tiling.angle_deg),
            beside=(assembly(tiling, part, name),),
        )
        for part in tiling.parts
    ]


def _windows(whole: Print, desk: Desk, name: str) -> tuple[tuple[float, float], ...]:
    """The largest parts that find room on a sheet: with all furniture beside them, and with as little as can be."""
    stand_in = replace(whole, tile=Tile(1, 1, 2), beside=(assembly_room(name),))
    wants = replace(desk, prints=(stand_in,)).wants
    # Whole cells: a part as wide as the sheet to a hair would find no place upright.
    width, height = CELL_PT * int(desk.frame.width / CELL_PT), desk.frame.bottom - desk.frame.top

    def fit(bare: bool) -> Callable[[int], bool]:
        def at(steps: int) -> bool:
            ring = ((0.0, 0.0), (width, 0.0), (width, steps * CELL_PT), (0.0, steps * CELL_PT))
            return fits(ring, desk.frame, wants, bare=bare, upright=desk.printing.upright)

        return at

    found = (_most(int(height / CELL_PT), fit(bare)) for bare in (False, True))
    return tuple((width, steps * CELL_PT) for steps in found if steps)


def _most(most: int, fit: Callable[[int], bool]) -> int:
    """The largest count that fits, if every lower one does too; 0 if none does."""
    low, high = 0, most + 1
    while high - low > 1:
        middle = (low + high) // 2
        low, high = (middle, high) if fit(middle) else (low, middle)
    return low
