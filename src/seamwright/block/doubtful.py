"""Places that look as if lines missed each other by more than tidying may repair: she is asked to look at them.

Knows:  strips, steps and bends that hardly anybody means: a patch a few tolerances wide, two points so near each
        other, a seam or a side that bends a little where nothing meets it.
Leaves: what is too narrow to sew (telling); whether the place is meant: nothing is moved.
Units:  inches of the finished block.
Limits: drawings whose coordinates are meant as written are not doubted.
"""

from __future__ import annotations

import math

from shapely.geometry import Polygon

from seamwright.block.model import Block
from seamwright.block.runon import angle_between
from seamwright.geometry import Point, off_line
from seamwright.notes import Note
from seamwright.options import Units
from seamwright.units import say_length, say_point

STRIP = 3.0
"""A patch narrower than this many tolerances may be the gap between two drawings of one line."""
STEP = 2.0
"""Two points nearer than this many tolerances may be two drawings of one."""
BEND = 6.0
"""A bend that strays by less than this many tolerances, and turns by less than SLIGHT, may be meant straight."""
NAMED = 3
"""Places that are named in words; all are in the note."""
SLIGHT = math.radians(30)


def doubtful_notes(block: Block, tolerance: float, units: Units) -> list[Note]:
    """One note that names all such places, or none.

    Args:
        tolerance: inches; nothing is doubted at 0. units: for the words, as of the options.
    """
    if not tolerance:
        return []
    places = [
        *_strips(block, STRIP * tolerance),
        *_steps(block, STEP * tolerance),
        *_bends(block, BEND * tolerance),
    ]
    if not places:
        return []
    places.sort(key=lambda p: (round(p[1], 6), round(p[0], 6)))
    what = "1 place" if len(places) == 1 else f"{len(places)} places"
    where = "a narrow strip, points beside each other or a seam that bends by itself"
    told = f"{what} where lines may have missed each other by more than {say_length(tolerance, units)} ({where}): "
    told += ", ".join(say_point(p, units) for p in places[:NAMED]) + f" {units.sign}"
    told += f" and {len(places) - NAMED} more" if len(places) > NAMED else ""
    return [Note("doubtful", told, len(places), None, tuple(places))]


def _strips(block: Block, width: float) -> list[Point]:
    found = []
    for number in range(len(block.patches)):
        patch = Polygon(block.patch_ring(number), block.patch_holes(number))
        # A patch that holds a circle of radius r has at least r/2 of area for each inch round it.
        if patch.area <= patch.length * width / 2 and patch.buffer(-width / 2).is_empty:
            at = patch.representative_point()
            found.append((at.x, at.y))
    return found


def _steps(block: Block, length: float) -> list[Point]:
    found = []
    for edge in block.edges:
        a, b = block.points[edge.start], block.points[edge.end]
        if not edge.via and edge.start != edge.end and math.dist(a, b) < length - 1e-9:
            found.append(((a[0] + b[0]) / 2, (a[1] + b[1]) / 2))
    return found


def _bends(block: Block, most: float) -> list[Point]:
    """Points at which two straight edges turn a little and nothing else is."""
    beside: dict[int, list[int]] = {}
    for edge in block.edges:
        for here, there in ((edge.start, edge.end), (edge.end, edge.start)):
            beside.setdefault(here, []).append(-1 if edge.via else there)
    found = []
    for n, others in beside.items():
        if len(others) == 2 and -1 not in others and others[0] != others[1]:
            a, at, b = block.points[others[0]], block.points[n], block.points[others[1]]
            if 1e-6 < angle_between(a, at, b) < SLIGHT and abs(off_line(at, a, b)) < most:
                found.append(at)
    return found
