"""Where the stripes or the print of a fabric run, marked in its patches.

Knows:  the two marks (bars for stripes, a barbed arrow for a print that runs one way), when two places of a print
        may share them, what is said where a mark finds no room.
Leaves: what a fabric is (fabric.model), the straight grain, which has an arrow of its own (words).
Units:  inches as printed; angles in degrees, clockwise from straight across.
Method: a fabric's direction is that of the finished block from the front. The lay of a print turns it like any
        line: on a foundation, which shows the back, it is mirrored, and the fabric comes out right on the front.
Limits: all of a fabric runs one way in a block, as the drawing says; a rotated place of a print keeps that
        direction, so it is marked at another angle there, and has a drawing of its own.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass

from seamwright.block.model import Block
from seamwright.foundation.lay import Lay
from seamwright.foundation.model import FoundationPatch
from seamwright.foundation.printed import PrintedPatch
from seamwright.foundation.room import UNIT_PT, Room
from seamwright.foundation.words import unseen_arrow
from seamwright.geometry import IDENTITY, Affine, Point, Ring, Segment, canonical_ring
from seamwright.ink.model import Pen
from seamwright.ink.place import CLEARANCE_PT
from seamwright.piecing.model import Section
from seamwright.units import say_list

SIZES = ((0.6, 2.5), (0.45, 2.0), (0.35, 2.0), (0.27, 2.0), (0.2, CLEARANCE_PT), (0.15, CLEARANCE_PT))
"""Lengths of a mark in inches, and the white round it in points; what is shorter is lost beside the lines."""
SAME_DEG = 0.1
_BAR_PT = 1.5
"""Half of what lies between two bars."""
_BARB_PT, _SPREAD_PT, _APART_PT = 3.6, 2.2, 3.2
BARS = "two bars in a patch: the stripes of its fabric run along them"
ARROW = "a barbed arrow in a patch: the print of its fabric runs that way"
MIRRORED = ", seen from the back like all on this paper"
MEANINGS = tuple(words + seen for words in (BARS, ARROW) for seen in ("", MIRRORED))
"""What marks stand for, on any print."""


@dataclass(frozen=True, slots=True)
class Direction:
    """Where a fabric runs.

    Attributes:
        angle_deg: as it shows in the block. striped: half a turn changes nothing.
    """

    angle_deg: float
    striped: bool


@dataclass(frozen=True, slots=True)
class Marked:
    """A patch's mark.

    Attributes:
        direction: from tail to head, drawn or not. lines: what is drawn, () where it found no room.
    """

    direction: Segment
    striped: bool
    lines: tuple[tuple[Point, ...], ...]


def directions_of(block: Block, patches: Sequence[int]) -> tuple[Direction | None, ...]:
    """For each patch where its fabric runs, None where it looks the same all ways.

    A patch that is pieced beforehand has one for each of its parts.
    """
    return tuple(direction for _, direction, _ in _cloths(block, patches))


def _cloths(block: Block, patches: Sequence[int]) -> Iterator[tuple[int, Direction | None, Ring]]:
    """(place among the patches, where the fabric runs, ring) of every patch, or of the parts it is pieced of."""
    fabrics = {fabric.name: fabric for fabric in block.fabrics}
    parts = {made.patch: made.parts for made in block.pre_pieced}
    for place, patch in enumerate(patches):
        whole = [(block.patches[patch].fabric, block.patch_ring(patch))]
        for name, ring in [(part.fabric, part.ring) for part in parts.get(patch, ())] or whole:
            fabric = fabrics.get(name or "")
            runs = fabric is not None and fabric.direction_deg is not None
            yield place, Direction(fabric.direction_deg or 0.0, fabric.striped) if fabric and runs else None, ring


def same_directions(motion: Affine, one: Sequence[Direction | None], other: Sequence[Direction | None]) -> bool:
    """Whether what `other` marks, laid on `one` by a rotation with a shift, is marked there already."""
    turn = math.degrees(math.atan2(motion[1], motion[0]))
    if len(one) != len(other):
        return False
    for a, b in zip(one, other, strict=True):
        if a is None or b is None or a.striped is not b.striped:
            if a is b is None:
                continue
            return False
        full = 180.0 if a.striped else 360.0
        off = (b.angle_deg + turn - a.angle_deg) % full
        if min(off, full - off) > SAME_DEG:
            return False
    return True


def place_directions(
    room: Room, lay: Lay, block: Block, section: Section, patches: Sequence[PrintedPatch], label: str
) -> tuple[tuple[tuple[Marked, ...], ...], tuple[str, ...]]:
    """The marks of each patch, placed in its room, in sewing order; and what its legend has to say of them.

    Args:
        patches: as printed, in sewing order. label: what the paper calls the section.
    """
    marked: list[list[Marked]] = [[] for _ in patches]
    for place, direction, ring in _cloths(block, section.patches):
        if direction is not None:
            angle_deg = lay.direction_deg(direction.angle_deg)
            holes = patches[place].holes
            marked[place].append(place_direction(room, angle_deg, direction.striped, lay.ring(ring), holes))
    named = [(p.letter + p.number, mark) for p, marks in zip(patches, marked, strict=True) for mark in marks]
    said = (*meanings([mark for _, mark in named], mirrored=lay.mirrored), *_homeless(label, named))
    return tuple(map(tuple, marked)), said


def place_direction(room: Room, angle_deg: float, striped: bool, area: Ring, holes: Iterable[Ring] = ()) -> Marked:
    """One mark, as long as finds room in an area, placed there; else where it would run.

    Args:
        angle_deg: as printed.
    """
    half, holes = _BAR_PT if striped else _SPREAD_PT, tuple(holes)
    for length, air in SIZES:
        width, height = length + 2 * air / UNIT_PT, 2 * (half + air) / UNIT_PT
        spot = room.box(area, width, height, holes=holes, angle_deg=angle_deg)
        if spot is not None:
            turn = math.radians(angle_deg)
            dx, dy = length / 2 * math.cos(turn), length / 2 * math.sin(turn)
            shaft = ((spot[0] - dx, spot[1] - dy), (spot[0] + dx, spot[1] + dy))
            lines = _bars(shaft) if striped else _barbed(shaft)
            for line in lines:
                room.keep_line(Pen.RULE, line)
            return Marked(shaft, striped, lines)
    return Marked(unseen_arrow(area[0], angle_deg), striped, ())


def foundation_patch(name: str, ring: Ring, marks: Sequence[Marked]) -> FoundationPatch:
    """A patch with its marks; `ring` as printed."""
    if not marks:
        return FoundationPatch(name, canonical_ring(ring))
    lines = tuple(line for mark in marks for line in mark.lines)
    return FoundationPatch(name, canonical_ring(ring), marks[0].direction, marks[0].striped, lines)


def meanings(marked: Iterable[Marked], *, mirrored: bool) -> tuple[str, ...]:
    """What the marks that are drawn stand for, in the same words on every print, so that a sheet says them once."""
    drawn = {mark.striped for mark in marked if mark.lines}
    seen = MIRRORED * mirrored
    return tuple(words + seen for words, striped in ((BARS, True), (ARROW, False)) if striped in drawn)


def _homeless(label: str, named: Sequence[tuple[str, Marked]]) -> Iterator[str]:
    """What is said of patches too small for a mark: as in another one that has it, else at which angle."""
    said: dict[str, list[str]] = {}
    for name, mark in named:
        if mark.lines:
            continue
        like = next((other for other, m in named if m.lines and _alike(m, mark)), None)
        runs = f"{say_runs(mark)} {f'as in {like}' if like else say_angle(mark)}"
        said.setdefault(runs, []).append(name)
    yield from (f"{label}: in {say_list(names)} {runs}" for runs, names in said.items())


def _alike(one: Marked, other: Marked) -> bool:
    ways = [Direction(_angle_deg(mark.direction), mark.striped) for mark in (one, other)]
    return same_directions(IDENTITY, ways[:1], ways[1:])


def say_runs(mark: Marked) -> str:
    """What runs in a direction."""
    return "the stripes run" if mark.striped else "the print runs"


def say_angle(mark: Marked) -> str:
    """The direction in words, as it lies on the paper with its numbers upright.

    >>> line = ((0.0, 0.0), (1.0, 1.0))
    >>> say_angle(Marked(line, True, ())), say_angle(Marked(line[::-1], False, ()))
    ('down to the right, 45 degrees from level', 'up to the left, 45 degrees from level')
    """
    angle = _angle_deg(mark.direction) % (180 if mark.striped else 360)
    level = round(min(angle % 180, -angle % 180))
    if level == 0:
        return "level" if mark.striped else "to the right" if min(angle, 360 - angle) < 90 else "to the left"
    if level == 90:
        return "upright" if mark.striped else "down" if angle < 180 else "up"
    down, right = math.sin(math.radians(angle)) > 0, math.cos(math.radians(angle)) > 0
    return f"{'down' if down else 'up'} to the {'right' if right else 'left'}, {level} degrees from level"


def _angle_deg(line: Segment) -> float:
    (ax, ay), (bx, by) = line
    return math.degrees(math.atan2(by - ay, bx - ax))


def _bars(shaft: Segment) -> tuple[tuple[Point, ...], ...]:
    return tuple(tuple(_beside(shaft, along, side * _BAR_PT) for along in (0.0, 1.0)) for side in (1, -1))


def _barbed(shaft: Segment) -> tuple[tuple[Point, ...], ...]:
    long = math.dist(*shaft) * UNIT_PT
    barbs = []
    for back in (0.0, _APART_PT):
        tip, end = 1 - back / long, 1 - (back + _BARB_PT) / long
        barbs.append((_beside(shaft, end, -_SPREAD_PT), _beside(shaft, tip, 0.0), _beside(shaft, end, _SPREAD_PT)))
    return (shaft, *barbs)


def _beside(shaft: Segment, along: float, off_pt: float) -> Point:
    """A point beside a line: a share of it along, and so many points to its right."""
    (ax, ay), (bx, by) = shaft
    off = off_pt / UNIT_PT / math.dist(*shaft)
    return (ax + along * (bx - ax) - off * (by - ay), ay + along * (by - ay) + off * (bx - ax))
