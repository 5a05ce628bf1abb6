"""Mends in the words of a quilter.

Knows:  how a change is told: what to do, where, by how much, how many patches more.
Leaves: every fact itself.
Units:  places across, then down, from the top left corner, in the units of the plan.
"""

from __future__ import annotations

import math
from collections.abc import Sequence

from seamwright.block.model import Block
from seamwright.geometry import Point, Segment, off_line
from seamwright.mend.change import SAME_IN, Change, on_top_area
from seamwright.options import Units
from seamwright.piecing.model import Obstruction
from seamwright.units import say_length, say_list, say_point

MOST_PLACES = 4
_UPRIGHT = 0.414
"""Tangent of 22.5 degrees: a direction is told as one of eight."""


def sentence(change: Change, block: Block, units: Units, alike: int = 1) -> str:
    """What to do, as one sentence or two."""
    tell = {
        "move a point": _move,
        "straighten a curve": _straighten,
        "continue a seam": _continue,
        "add a seam": _add,
        "drop a seam": _drop,
        "applique": _on_top,
    }
    said = tell[change.kind](change, block, units)
    return f"{said} Any one of {alike} places like it will do." if alike > 1 else said


def no_mend(obstruction: Obstruction, tried: int, exhaustive: bool, found: bool) -> str:
    """How far the search for extra patches went, where it found none."""
    place = f"place {obstruction.number}"
    end = "" if exhaustive else "; the search went no further"
    if tried:
        said = f"{place}: no mend with up to {_number(tried)} extra patch{_es(tried)}{end}"
    else:
        said = f"{place}: no mend with extra patches was found{end}"
    return said if found else f"{said}; --set-in shows how to sew it as it is drawn"


def direction(start: Point, end: Point) -> str:
    """ "to the right", "up", "down and to the left" ..."""
    x, y = end[0] - start[0], end[1] - start[1]
    across = "to the right" if x > 0 else "to the left"
    down = "down" if y > 0 else "up"
    if abs(y) <= _UPRIGHT * abs(x):
        return across
    return down if abs(x) <= _UPRIGHT * abs(y) else f"{down} and {across}"


def _move(change: Change, block: Block, units: Units) -> str:
    main, unit = change.moved[: change.main], f" {units.sign}"
    along = " What ends on its seams slides along." if len(change.moved) > len(main) else ""
    by = say_length(change.amount, units, finest=32)
    if len({to for _, to in main}) > 1:
        told = [
            f"the point at {say_point(old, units)}{unit} by {say_length(math.dist(old, to), units, finest=32)} "
            f"{direction(old, to)}{_new_place(old, to, units)}"
            for old, to in main
        ]
        return f"Move {', and '.join(told)}.{along}"
    if len(main) > 1:
        places = " and ".join(say_point(old, units) for old, _ in main)
        if len({say_point(place, units) for move in main for place in move}) == 1:
            return (
                f"Bring the {len(main)} points at {say_point(main[0][1], units)}{unit} together, {by} away.{along}"
            )
        return f"Bring the points at {places} together at {say_point(main[0][1], units)}{unit}, {by} away.{along}"
    old, to = main[0]
    where = f"{say_point(old, units)}{unit}"
    return f"Move the point at {where} by {by} {direction(old, to)}{_new_place(old, to, units)}.{along}"


def _new_place(old: Point, to: Point, units: Units) -> str:
    """Where a point comes to lie; nothing where both places are one in the fractions that quilters read."""
    told = say_point(to, units)
    return "" if told == say_point(old, units) else f", to {told}"


def _straighten(change: Change, block: Block, units: Units) -> str:
    a, b = (say_point(p, units) for p in change.seams[0])
    by = say_length(change.amount, units, finest=32)
    return f"Draw the curve from {a} to {b} {units.sign} as a straight seam; it bows out by {by}."


def _continue(change: Change, block: Block, units: Units) -> str:
    runs = [_outward(segment, block) for segment in change.seams]
    told = _listed([f"from {say_point(a, units)} to {say_point(b, units)}" for a, b in runs], "lines")
    what = "Continue the seam" if len(runs) == 1 else "Continue the seams"
    return f"{what} {told} {units.sign}{_more(change)}."


def _add(change: Change, block: Block, units: Units) -> str:
    told = _listed([f"from {say_point(a, units)} to {say_point(b, units)}" for a, b in change.seams], "lines")
    what = "Add a seam" if len(change.seams) == 1 else "Add seams"
    return f"{what} {told} {units.sign}{_more(change)}."


def _drop(change: Change, block: Block, units: Units) -> str:
    ends = _listed([f"from {say_point(a, units)} to {say_point(b, units)}" for a, b in change.dropped], "lines")
    fabric = _fabric_beside(change.dropped[0], block)
    if fabric is None:
        why = ": if the patches on both sides are cut from one fabric, they can be one patch"
    else:
        why = f": the patches on both sides are {fabric}, and can be one patch"
    what = "the seam" if len(change.dropped) == 1 else "the seams"
    return f"Leave out {what} {ends} {units.sign}{why}."


def _on_top(change: Change, block: Block, units: Units) -> str:
    left, top, right, bottom = on_top_area(block, change.dropped).bounds
    where = f"between {say_point((left, top), units)} and {say_point((right, bottom), units)} {units.sign}"
    return f"Leave out the part {where}, sew the block, and sew that part on top of it (applique)."


def _more(change: Change) -> str:
    return f": {change.extra} patch{_es(change.extra)} more"


def _es(count: int) -> str:
    return "" if count == 1 else "es"


def _number(count: int) -> str:
    return {1: "one", 2: "two", 3: "three"}.get(count, str(count))


def _listed(said: Sequence[str], what: str) -> str:
    if len(said) > MOST_PLACES:
        return f"{', '.join(said[:MOST_PLACES])} and {len(said) - MOST_PLACES} more {what}"
    return say_list(said)


def continues(segment: Segment, block: Block) -> Point | None:
    """The end of a segment at which a seam ends that runs straight on into it; None if there is none."""
    for here, other in (segment, segment[::-1]):
        for seam in block.seams:
            if not seam.straight:
                continue
            run = [block.points[p] for p in seam.points]
            for end, before in ((run[0], run[1]), (run[-1], run[-2])):
                if math.dist(end, here) > SAME_IN:
                    continue
                ahead = (end[0] - before[0]) * (other[0] - end[0]) + (end[1] - before[1]) * (other[1] - end[1]) > 0
                if ahead and abs(off_line(other, before, end)) <= 1e-4 * max(1.0, math.dist(end, other)):
                    return here
    return None


def _outward(segment: Segment, block: Block) -> Segment:
    """The segment from the end at which it continues a seam."""
    start = continues(segment, block)
    return segment[::-1] if start == segment[1] else segment


def _fabric_beside(segment: Segment, block: Block) -> str | None:
    from seamwright.mend.change import on_segment

    for edge in block.edges:
        if edge.left >= 0 and all(on_segment(block.points[p], segment) for p in (edge.start, edge.end)):
            return block.patches[edge.left].fabric
    return None
