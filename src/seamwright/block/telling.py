"""What is said of a drawing: faults that stop it, repairs made, places left narrow.

Knows:  the words, with counts, measures and places; the mend beside each fault.
Leaves: finding them (outline, tidy).
Units:  inches of the finished block, from its top left corner.
"""

from __future__ import annotations

import math
from collections.abc import Callable

from shapely.geometry import Polygon

from seamwright.block.model import Block
from seamwright.block.outline import OpenEnd, Part
from seamwright.block.tidy import Tidied
from seamwright.errors import DrawingError, Fault
from seamwright.geometry import Point, bounds
from seamwright.notes import Note
from seamwright.options import PlanOptions
from seamwright.units import say_length, say_point

NARROW_IN = 1 / 16
"""Narrower places can hardly be sewn; they are left as drawn, with this advice."""
MOST_RAISED_IN = 0.5
"""A tolerance above this would close gaps that were meant; it is not advised."""

_REPAIRS = {
    "closed": ("end closed", "ends closed"),
    "trimmed": ("overshoot trimmed", "overshoots trimmed"),
    "doubled": ("doubled line merged", "doubled lines merged"),
    "straight": ("nearly straight seam made straight", "nearly straight seams made straight"),
    "curved": ("row of short lines taken for a curve", "rows of short lines taken for curves"),
    "gathered": ("near crossing gathered into one point", "near crossings gathered into one point each"),
}


def refuse_unfinished(drawing_file: str, part: Part, options: PlanOptions) -> None:
    """Stop where lines end in the open or nothing closes.

    Raises:
        DrawingError: "unfinished" with a fault for each place, "several blocks", or "no outline".
    """
    ends = (*part.open_ends, *part.loose_outside)
    if ends:
        left, top, _, _ = bounds(part.ring or tuple(e.at for e in ends))
        faults = tuple(_fault(end, (end.at[0] - left, end.at[1] - top), options) for end in ends)
        raise DrawingError("unfinished", faults, drawing_file)
    if part.rivals:
        told = f"{len(part.rivals) + 1} blocks are drawn apart from each other, and only one can be meant"
        places = f"another begins at {say_point(part.rivals[0], options.units)} on the drawing"
        fault = Fault("several blocks", f"{told}; {places}", "Keep one block in a drawing and move the others out")
        raise DrawingError("several blocks", (fault,), drawing_file)
    if not part.ring:
        mend = "Draw the block's outline, or make the page the block's size and draw its seams to the page's edge"
        fault = Fault("no outline", "nothing in the drawing closes to an outline", mend)
        raise DrawingError("no outline", (fault,), drawing_file)


def _fault(end: OpenEnd, at: Point, options: PlanOptions) -> Fault:
    what = end.source or "a line"
    where = f"{say_point(at, options.units)} {options.units.sign}"
    if end.bridge:
        told = f"{what} has one and the same patch on both sides at {where}"
        return Fault("unfinished", told, "Draw it on to another line, or delete it", at)
    if end.gap is None:
        return Fault("unfinished", f"{what} ends in the open at {where}", "Draw it on to another line", at)
    raised = math.ceil(end.gap * 16 - 1e-9) / 16
    other = "delete it"
    if options.tolerance_in < raised <= MOST_RAISED_IN:
        other = f"raise the tolerance with --tolerance {say_length(raised).replace(' ', '')}"
    told = f"{what} ends in the open at {where}, {say_length(end.gap, options.units)} from the nearest other line"
    return Fault("unfinished", told, f"Draw it on to that line, or {other}", at)


def repair_notes(tidied: Tidied, part: Part, place: Callable[[Point], Point], options: PlanOptions) -> list[Note]:
    """One note for each kind of repair, with the largest and all places; repairs outside the block left out."""
    left, top, right, bottom = bounds(part.ring)
    reach = options.tolerance_in
    notes = []
    for kind, (one, many) in _REPAIRS.items():
        found = [
            (amount, place(at))
            for k, at, amount in tidied.repairs
            if k == kind and left - reach <= at[0] <= right + reach and top - reach <= at[1] <= bottom + reach
        ]
        if found:
            most = max(amount for amount, _ in found)
            places = tuple(sorted((p for _, p in found), key=lambda p: (p[1], p[0])))
            what = f"1 {one}" if len(found) == 1 else f"{len(found)} {many}"
            said = f"{what}, largest {say_length(most, options.units)}" if len(found) > 1 else what
            if len(found) == 1:
                said += f", {say_length(most, options.units)}"
            notes.append(Note("curve" if kind == "curved" else "tidied", said, len(found), most, places))
    return notes


def narrow_notes(block: Block, options: PlanOptions) -> list[Note]:
    """Places left as drawn that are narrower than 1/16 in: patches, and points too near each other."""
    places = []
    for number in range(len(block.patches)):
        patch = Polygon(block.patch_ring(number), block.patch_holes(number))
        # A patch that holds a circle of radius r has at least r/2 of area for each inch round it.
        if patch.area <= patch.length * NARROW_IN / 2 and patch.buffer(-NARROW_IN / 2).is_empty:
            at = patch.representative_point()
            places.append((at.x, at.y))
    for edge in block.edges:
        a, b = block.points[edge.start], block.points[edge.end]
        if not edge.via and math.dist(a, b) < NARROW_IN - 1e-9:
            places.append(((a[0] + b[0]) / 2, (a[1] + b[1]) / 2))
    if not places:
        return []
    what = "1 place" if len(places) == 1 else f"{len(places)} places"
    told = f"{what} narrower than {say_length(NARROW_IN, options.units)} left as drawn; hard to sew"
    return [Note("narrow", told, len(places), None, tuple(sorted(places, key=lambda p: (p[1], p[0]))))]
