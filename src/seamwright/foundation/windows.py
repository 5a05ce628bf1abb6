"""Windows: each patch as a frame to lay on fabric, so that the wanted motif shows in it (fussy cutting).

Knows:  which patches share a frame, what a frame looks like, what is said on it.
Leaves: cautions about the knife (purpose), where words find room (room).
Units:  inches as printed, which is as seen in the quilt.
Method: the opening is the finished patch; the frame round it is one allowance wide, so that its outer edge is where
        the patch is cut. Once the opening is cut out only the frame is left: so all words lie on the frame. Patches
        of one fabric that lie on each other after a rotation, straight grain on straight grain, have one frame; not
        mirror images, for the fabric has a right side. Where stripes or a print run one way only patches that lie
        the same way share a frame.
Limits: the frame's tips are cut off like those of other trim lines; they are not fitted to the neighbours' edges.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from shapely.geometry import Polygon

from seamwright.block.rings import region_sides
from seamwright.foundation.border import Stretch, runs_joined
from seamwright.foundation.common import Common, grain_words, printed_letter
from seamwright.foundation.directions import (
    directions_of,
    foundation_patch,
    meanings,
    place_direction,
    same_directions,
    say_angle,
    say_runs,
)
from seamwright.foundation.lay import printed_at_origin
from seamwright.foundation.model import Foundation, Use
from seamwright.foundation.places import motions, same_grain
from seamwright.foundation.printed import PrintedStretch, printed_stretch
from seamwright.foundation.room import Room
from seamwright.foundation.words import NOTE_PT, place_grain, unseen_arrow
from seamwright.geometry import Point, Ring, canonical_ring, signed_area
from seamwright.ink.lettering import looks_turned
from seamwright.ink.model import Ink, Pen, Stroke, Words
from seamwright.ink.wrap import wrapped
from seamwright.options import Units
from seamwright.piecing.model import Section
from seamwright.units import say_list, say_size

TIP_LIMIT = 2.7
"""A tip's frame reaches no further than this many allowances beyond it: a 45 degree tip (2.61) stays whole."""
NAME_PT = (12.0, 10.0, 8.0, 7.0)
BEYOND = {Units.INCH: "1/4 in", Units.METRIC: "0.75 cm"}
"""Common practice: fabric for a patch sewn on paper reaches so much beyond the allowance, at least."""
OPENING = "cut out this opening"
MOST_NAMED = 8
_NO_POINT: Point = (0.0, 0.0)


@dataclass(frozen=True, slots=True)
class _Frame:
    """Patches that share a frame: their section, their number; the first is drawn."""

    patches: tuple[tuple[Section, int], ...]


def windows(common: Common) -> tuple[Foundation, ...]:
    """The frames of all patches of a plan, section by section in sewing order."""
    return tuple(_window(common, frame) for frame in _frames(common))


def _frames(common: Common) -> list[_Frame]:
    found: list[list[tuple[Section, int]]] = []
    for section in common.plan.sections:
        for patch in section.patches:
            like = next((frame for frame in found if _share(common, frame[0], (section, patch))), None)
            if like is None:
                found.append([(section, patch)])
            else:
                like.append((section, patch))
    return [_Frame(tuple(frame)) for frame in found]


def _share(common: Common, one: tuple[Section, int], other: tuple[Section, int]) -> bool:
    block = common.plan.block
    patches = [block.patches[patch] for _, patch in (one, other)]
    if patches[0].fabric != patches[1].fabric:
        return False
    areas = [signed_area(block.patch_ring(patch)) for _, patch in (one, other)]
    if not math.isclose(areas[0], areas[1], rel_tol=0.05):
        return False
    ways = [directions_of(block, [patch]) for _, patch in (one, other)]
    grains = [common.grains_deg[section.name] for section, _ in (one, other)]
    return any(
        same_grain(motion, grains[0], grains[1]) and same_directions(motion, *ways)
        for motion in motions(block, [other[1]], [one[1]])
    )


def _window(common: Common, frame: _Frame) -> Foundation:
    plan, (section, patch) = common.plan, frame.patches[0]
    allowance, name = plan.options.seam_allowance_in, common.names[patch]
    ring = canonical_ring(plan.block.patch_ring(patch))
    trim = _grown(ring, allowance)
    lay = printed_at_origin(trim, mirrored=False)
    opening, outer = lay.ring(ring), lay.ring(trim)
    free = Polygon(outer).difference(Polygon(opening))
    sides = runs_joined(Stretch(side.points) for side in region_sides(plan.block, [patch]))
    strips = sorted((printed_stretch(lay, side, allowance, free) for side in sides), key=lambda s: -s.length_in)
    room = Room(())
    # All that is left of a window is its frame: the mark lies on that, and before all words.
    ways = directions_of(plan.block, [patch])
    # One of several parts would not tell which of them it means.
    shown = [way for way in ways if way is not None and len(ways) == 1]
    marks = [place_direction(room, way.angle_deg, way.striped, outer, [opening]) for way in shown]
    legend = [*meanings(marks, mirrored=False)]
    legend += [f"{name}: {say_runs(mark)} {say_angle(mark)}" for mark in marks if not mark.lines]
    legend += _words(room, common, frame, strips)
    direction = common.grains_deg[section.name]
    grain = place_grain(room, direction, [], opening, outer)
    if grain is None:
        legend.append(f"{name}: {grain_words(common, section)}")
        grain = unseen_arrow(opening[0], direction)
    for size in NOTE_PT:
        broken = [wrapped(OPENING, size, most) for most in (200.0, 50.0)]
        if room.first(opening, [([Words(line, _NO_POINT, size) for line in lines], 3.0) for lines in broken]):
            break
    drawn: list[Ink] = [Stroke(Pen.STITCH, opening, closed=True), Stroke(Pen.TRIM, outer, closed=True)]
    return Foundation(
        drawing=plan.block.file,
        block=plan.block.title,
        colourway=plan.block.colourway,
        block_reversed=plan.block.reversed,
        section=section.name,
        print=section.print,
        label=name,
        front=lay.affine,
        kind=section.kind,
        use=Use.WINDOW,
        mirrored=False,
        reversed=section.reversed,
        stitch_outline=canonical_ring(opening),
        trim_outline=canonical_ring(outer),
        patches=(foundation_patch(name, opening, marks),),
        also_for=tuple(common.names[other] for _, other in frame.patches[1:]),
        seams=(),
        marks=(),
        grain=grain,
        ink=(*drawn, *room.ink),
        legend=tuple(legend),
    )


def _words(room: Room, common: Common, frame: _Frame, strips: Sequence[PrintedStretch]) -> Iterator[str]:
    """All that a frame says, placed along its sides; what found no room is yielded for the legend."""
    block, units = common.plan.block, common.plan.options.units
    section, patch = frame.patches[0]
    name, fabric = common.names[patch], block.patches[patch].fabric or ""
    code, times = common.codes.get(fabric, ""), len(frame.patches)
    often = f"{times} times" if times > 1 else ""
    named = [Words(name, _NO_POINT, size, bold=True, underline=looks_turned(name)) for size in NAME_PT]
    if not _along(room, strips, named):
        yield f"{name}: the frame without a name"
    tags = (fabric if code else "", code)
    said = [" \N{MIDDLE DOT} ".join(part for part in (tag, often) if part) for tag in tags]
    told = [Words(text, _NO_POINT, size) for text in dict.fromkeys(said) if text for size in NOTE_PT]
    if told and not _along(room, strips, told):
        yield f"{name}: {', '.join(part for part in (fabric if code else '', often) if part)}"
    # Places of one print are told by the key; patches of other prints are not.
    alike = dict.fromkeys(f"{printed_letter(s)}{s.patches.index(p) + 1}" for s, p in frame.patches)
    if len(alike) > 1:
        yield f"{name}: the same frame is for {say_list([*alike][1:], most=MOST_NAMED)}"
    if section.kind == "plain":
        yield f"{name}: a plain piece, its fabric is cut along the outer edge of the frame"
    else:
        yield (
            "a patch sewn on paper: cut its fabric larger than the frame, "
            f"by {BEYOND[units]} on every side, at least"
        )
    size = say_size(block.width_in, block.height_in, units, glyphs=True)
    _along(room, strips, [Words(f"{block.title}, {size}", _NO_POINT, NOTE_PT[-1])])


def _along(room: Room, strips: Sequence[PrintedStretch], choices: Sequence[Words]) -> bool:
    """Whether one of the choices found room along a side, the longest side first."""
    return any(
        room.first(area, [([words], 1.5)], angle_deg=strip.angle_deg)
        for words in choices
        for strip in strips
        for area in (strip.strip, strip.wide)
        if area
    )


def _grown(ring: Ring, allowance: float) -> Ring:
    """The cutting line: one allowance outside the finished patch."""
    outer = Polygon(ring).buffer(allowance, join_style="mitre", mitre_limit=TIP_LIMIT)
    assert isinstance(outer, Polygon)
    return canonical_ring([(float(x), float(y)) for x, y in outer.exterior.coords[:-1]])
