"""Seams inside patches that are pieced beforehand: where the sewn seam has to lie.

Knows:  the broken line on which it lies in the end, the one on which it is laid before the flip, what is said.
Leaves: which patches are pieced (block.prepieced), what is cut for them (cutting).
Units:  inches as printed.
Method: fabric is laid right side down and flipped over its stitch line, so before the flip the seam lies on the
        mirror image of its line. Where the seam runs up to the stitch line a short way of that image will do, for
        both meet in one point there; else all of it is drawn.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence

import shapely
from shapely.geometry import LineString, Polygon

from seamwright.block.model import Block
from seamwright.foundation.lay import Lay
from seamwright.foundation.printed import PrintedPatch, upright_deg
from seamwright.foundation.room import Room
from seamwright.foundation.words import NOTE_PT
from seamwright.geometry import Point, Ring, Segment, foot, off_line
from seamwright.ink.model import Pen, Words
from seamwright.piecing.model import Section, Step
from seamwright.units import say_list

MARKED = "pre-pieced"
BEFORE_FLIP_IN = 3 / 4
"""How much is drawn of the line before the flip, where the seam meets the stitch line."""
_LEAST_IN = 1 / 16
_ON_LINE_IN = 1e-6
_STRIP_IN = 0.2
"""Words stand this near to their line."""


def place_seams_inside(room: Room, lay: Lay, block: Block, section: Section, trim: Ring) -> None:
    """The lines on which seams of patches pieced beforehand lie, drawn and kept clear of words."""
    for step in section.steps:
        for seam in block.seams_in(step.patch):
            for line in (seam, *_before_flip(block, step, seam)):
                printed = LineString(lay.line(line)).intersection(Polygon(trim))
                for part in shapely.get_parts(printed):
                    if part.length >= _LEAST_IN:
                        room.keep_line(Pen.HELPER, [(float(x), float(y)) for x, y in part.coords])


def name_seams_inside(
    room: Room, lay: Lay, block: Block, section: Section, patches: Sequence[PrintedPatch], letter: str
) -> Iterator[str]:
    """A word along each such line where there is room, and what the legend says of the patch.

    Args:
        patches: as printed, in sewing order. letter: what the paper calls the section.
    """
    for count, (step, patch) in enumerate(zip(section.steps, patches, strict=True), start=1):
        parts = block.parts_of(step.patch)
        if not parts:
            continue
        for seam in block.seams_in(step.patch):
            _named(room, lay.line(seam), patch)
        fabrics = [part.fabric for part in parts]
        known = [fabric for fabric in fabrics if fabric is not None]
        of = say_list(known) if len(known) == len(parts) else f"{len(parts)} pieces"
        many = "s" * (len(parts) > 2)
        where = f"on the broken line{many} in its patch"
        if step.stitch:
            then = "they lie" if many else "it lies"
            where = f"on the broken line{many} beyond its stitch line, so that after the flip {then} {where}"
        yield f"{letter}{count}: sew {of} together beforehand; lay their seam{many} {where}"


def _before_flip(block: Block, step: Step, seam: Segment) -> tuple[Segment, ...]:
    """Where a seam lies before its patch is flipped; () for the first patch, which is not."""
    if not step.stitch:
        return ()
    a, b = block.points[step.stitch[0]], block.points[step.stitch[-1]]
    one, two = sorted((_over(p, a, b) for p in seam), key=lambda p: abs(off_line(p, a, b)))
    if abs(off_line(one, a, b)) <= _ON_LINE_IN and (length := math.dist(one, two)) > BEFORE_FLIP_IN:
        share = BEFORE_FLIP_IN / length
        two = (one[0] + share * (two[0] - one[0]), one[1] + share * (two[1] - one[1]))
    return ((one, two),)


def _over(point: Point, a: Point, b: Point) -> Point:
    """The mirror image of a point in the line through two others."""
    x, y = foot(point, a, b)
    return (2 * x - point[0], 2 * y - point[1])


def _named(room: Room, line: Sequence[Point], patch: PrintedPatch) -> None:
    (ax, ay), (bx, by) = line
    angle = upright_deg(math.degrees(math.atan2(by - ay, bx - ax)))
    strip = LineString(line).buffer(_STRIP_IN, cap_style="flat").intersection(Polygon(patch.ring))
    if not isinstance(strip, Polygon) or strip.is_empty:
        return
    area = tuple((float(x), float(y)) for x, y in strip.exterior.coords[:-1])
    room.first(area, [([Words(MARKED, (0.0, 0.0), size)], 1.5) for size in NOTE_PT], angle_deg=angle)
