"""Patch numbers, with the fabric beneath where there is room.

Knows:  how a number gives way: to a name, to a short code, to no letter, to smaller type, to a leader.
Leaves: keeping words apart (room), the roomiest place (ink.place), other words (words).
Units:  inches as printed; type in points.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence

import shapely
from shapely.geometry import LineString, Polygon
from shapely.geometry.base import BaseGeometry

from seamwright.foundation.printed import PrintedPatch
from seamwright.foundation.room import UNIT_PT, Room, round_spot
from seamwright.geometry import Point, Ring, Segment
from seamwright.ink.lettering import looks_turned, words_box
from seamwright.ink.model import Pen, Words
from seamwright.ink.place import CLEARANCE_PT, roomiest

NUMBER_PT = 12.0
SMALLER_PT = (11.0, 10.0, 9.0, 8.0, 7.0)
FABRIC_PT = (8.0, 7.0)
TOO_SMALL = "too small for a number, see the key"
_DOT_PT = 1.2
_INSIDE = 0.7
"""A leader ends this share of the patch's greatest clearance away from its lines."""
_NEAR_IN, _SMALLER_IN, _ELSEWHERE_IN = 0.4, 0.05, 0.75
"""What a leader may cost before smaller type is tried; what a point of type less costs, and another patch."""
_NO_POINT: Point = (0.0, 0.0)


def place_numbers(
    room: Room,
    patches: Sequence[PrintedPatch],
    stitch: Ring,
    trim: Ring,
    seams: Sequence[Segment],
    run_ons: Sequence[Segment],
) -> tuple[str, ...]:
    """Place the number of every patch; returns what the legend has to say of fabrics and homeless numbers.

    Args:
        stitch, trim: rings of the section; seams: its stitch lines.
        run_ons: helper lines inside the section that give way to a number where there is no room for both.
    """
    coded: dict[str, None] = {}
    bare: dict[str, list[str]] = {}
    homeless: list[PrintedPatch] = []
    for patch in patches:
        placed = room.first(patch.ring, _with_fabric(patch), holes=patch.holes, besides=run_ons)
        if placed:
            if placed[-1].text != patch.fabric:
                coded[patch.fabric] = None
            continue
        if patch.fabric:
            bare.setdefault(patch.fabric, []).append(patch.letter + patch.number)
        for besides in (run_ons, ()):
            if placed := room.first(patch.ring, _alone(patch), holes=patch.holes, besides=besides):
                break
        else:
            homeless.append(patch)
    lost = [patch for patch in homeless if not _lead(room, patch, stitch, trim, seams)]
    codes = {patch.fabric: patch.code for patch in patches}
    legend = [f"{codes[fabric]} = {fabric}" for fabric in coded]
    legend += [f"{fabric}: {', '.join(names)}" for fabric, names in bare.items()]
    if lost:
        names = ", ".join(patch.letter + patch.number for patch in lost)
        legend.append(f"{TOO_SMALL}: {names}")
    return tuple(legend)


def _label(text: str, size_pt: float) -> Words:
    return Words(text, _NO_POINT, size_pt, bold=True, underline=looks_turned(text))


def _with_fabric(patch: PrintedPatch) -> Iterator[tuple[list[Words], float]]:
    """Choices with the fabric's name, then its code, each with the letter and without."""
    tags = [tag for tag in (patch.fabric, patch.code) if tag]
    for tag in dict.fromkeys(tags):
        for text in (patch.letter + patch.number, patch.number):
            for size in FABRIC_PT:
                yield [_label(text, NUMBER_PT), Words(tag, _NO_POINT, size)], 3.0


def _alone(patch: PrintedPatch) -> Iterator[tuple[list[Words], float]]:
    """Choices of the number alone: the letter goes before the figure shrinks."""
    yield [_label(patch.letter + patch.number, NUMBER_PT)], 2.5
    yield [_label(patch.number, NUMBER_PT)], 2.0
    for size in SMALLER_PT:
        yield [_label(patch.number, size)], 1.5


def _lead(room: Room, patch: PrintedPatch, stitch: Ring, trim: Ring, seams: Sequence[Segment]) -> bool:
    """Place a number outside its patch, in the allowance or else in another patch, with a leader to its own."""
    inside, radius = roomiest(patch.ring, patch.holes)
    # A leader may end anywhere well inside the patch, not only at its middle.
    core = Polygon(patch.ring, patch.holes).buffer(-_INSIDE * radius)
    best: tuple[float, Words, Segment] | None = None
    allowance: tuple[Ring, tuple[Ring, ...], tuple[Segment, ...]] = (trim, (stitch,), ())
    elsewhere: tuple[Ring, tuple[Ring, ...], tuple[Segment, ...]] = (stitch, (), tuple(seams))
    for (area, holes, besides), extra in ((allowance, 0.0), (elsewhere, _ELSEWHERE_IN)):
        for size in (NUMBER_PT, 10.0, 8.0, 7.0):
            for near in (inside, *patch.borders):
                # Room.lines keeps what it places: here several are tried first.
                placed = room.trial().lines(
                    area, [_label(patch.letter + patch.number, size)], holes=holes, besides=besides, near=near
                )
                if not placed:
                    continue
                leader = _leader(placed[0], core)
                cost = _cost(leader, patch, stitch, room.boxes) + extra + _SMALLER_IN * (NUMBER_PT - size)
                if cost < math.inf and (best is None or cost < best[0]):
                    best = (cost, placed[0], leader)
            if best is not None and best[0] < _NEAR_IN:
                break
    if best is None:
        return False
    _, words, leader = best
    room.keep_words([words])
    room.keep_line(Pen.HELPER, leader)
    room.keep_spot(round_spot(leader[1], _DOT_PT))
    return True


def _leader(words: Words, core: BaseGeometry) -> Segment:
    """The shortest way from the words' box to the inner part of a patch."""
    start, end = shapely.shortest_line(Polygon(words_box(words, UNIT_PT)), core).coords
    return ((float(start[0]), float(start[1])), (float(end[0]), float(end[1])))


def _cost(leader: Segment, patch: PrintedPatch, stitch: Ring, boxes: Sequence[Ring]) -> float:
    """Length, what runs through other patches of the section counted four times; infinite through words."""
    line = LineString(leader)
    if any(line.distance(Polygon(box)) < CLEARANCE_PT / UNIT_PT for box in boxes):
        return math.inf
    astray = line.intersection(Polygon(stitch)).difference(Polygon(patch.ring)).length
    return line.length + 4 * astray
