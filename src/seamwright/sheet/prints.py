"""From a foundation to the prints that show it: one that finds room on a sheet, or parts to glue.

Knows:  whether a foundation fits a sheet beside its furniture, square, slantwise, or not at all.
Leaves: how it is parted (tiling), which prints share a sheet (pack).
Units:  points; foundations come in inches.
"""

from __future__ import annotations

from dataclasses import replace

from seamwright.errors import OptionError, SeamwrightError, fail
from seamwright.foundation.model import Foundation
from seamwright.geometry import after, moved
from seamwright.ink.model import move_ink
from seamwright.paper import PT_PER_IN, Paper
from seamwright.sheet.desk import Desk, Print
from seamwright.sheet.model import Tile
from seamwright.sheet.nest import CELL_PT, rotation, slanted
from seamwright.sheet.pack import fits
from seamwright.sheet.tiling import Tiling, assembly, assembly_room, tile


def prints_of(job: int, foundation: Foundation, desk: Desk) -> list[Print]:
    """The foundation as one print if it finds room on a sheet, else in parts."""
    inches = (PT_PER_IN, 0.0, 0.0, PT_PER_IN, 0.0, 0.0)
    ring = tuple(moved(inches, p) for p in foundation.trim_outline)
    whole = Print(job, foundation, inches, 0.0, ring, tuple(move_ink(mark, inches) for mark in foundation.ink))
    wants = replace(desk, prints=(whole,)).wants
    if fits(ring, desk.frame, wants) or fits(ring, desk.frame, wants, bare=True):
        return [whole]
    for angle in slanted(ring, desk.frame.width, desk.frame.bottom - desk.frame.top):
        turn = rotation(angle)
        turned = tuple(moved(turn, p) for p in ring)
        if fits(turned, desk.frame, wants) or fits(turned, desk.frame, wants, bare=True):
            ink = tuple(move_ink(mark, turn, angle) for mark in whole.ink)
            return [replace(whole, affine=after(inches, turn), turn_deg=angle, ring=turned, ink=ink)]
    name = foundation.label if len(desk.jobs) == 1 else f"{foundation.block} {foundation.label}"
    windows = _windows(whole, desk, name)
    while windows:
        parts = _parts(whole, tile(foundation, windows), name)
        lone = [(part.ring, replace(desk, prints=(part,)).wants) for part in parts]
        if all(fits(r, desk.frame, w) or fits(r, desk.frame, w, bare=True) for r, w in lone):
            return parts
        # Words that belong to a part needed more room than was thought.
        windows = [(wide, high - 4 * CELL_PT) for wide, high in windows if high > 72.0]
    raise too_small(desk.page)


def _parts(whole: Print, tiling: Tiling, name: str) -> list[Print]:
    """Each part of a foundation as a print of its own."""
    return [
        replace(
            whole,
            affine=tiling.affine,
            turn_deg=tiling.angle_deg,
            ring=part.ring,
            ink=part.ink,
            tile=Tile(part.row, part.column, part.of, part.window, tiling.angle_deg),
            beside=(assembly(tiling, part, name),),
        )
        for part in tiling.parts
    ]


def too_small(page: Paper) -> SeamwrightError:
    """What is said of a paper on which nothing finds room."""
    what = f"{page.name} paper is too small: not even a small part of a foundation finds room on it"
    return fail(OptionError, "option", what, "Choose a larger --paper")


def _windows(whole: Print, desk: Desk, name: str) -> list[tuple[float, float]]:
    """The largest parts that find room on a sheet: with all furniture beside them, and with as little as can be."""
    stand_in = replace(whole, tile=Tile(1, 1, 2), beside=(assembly_room(name),))
    alone = replace(desk, prints=(stand_in,))
    width, height = desk.frame.width, desk.frame.bottom - desk.frame.top
    found = []
    for bare in (False, True):
        for steps in range(int(height / CELL_PT), 0, -2):
            high = steps * CELL_PT
            ring = ((0.0, 0.0), (width, 0.0), (width, high), (0.0, high))
            if fits(ring, desk.frame, alone.wants, bare=bare):
                found.append((width, high))
                break
    return found
