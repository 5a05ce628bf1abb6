"""The lines of a print: stitch lines and run-on, trim line, match marks, dots and rings where stitching stops.

Knows:  which lines a drawing shows, laid on paper by any lay, mirrored or not; the ink of each.
Leaves: where run-ons and marks are (seams, marks), trim outlines (trims), words (wording).
Units:  inches as printed.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

import shapely
from shapely.geometry import LineString, Polygon
from shapely.geometry.base import BaseGeometry

from seamwright.block.rings import region_ring
from seamwright.foundation.border import seam_corners
from seamwright.foundation.common import Common
from seamwright.foundation.lay import Lay
from seamwright.foundation.model import Use
from seamwright.foundation.places import Place
from seamwright.foundation.room import UNIT_PT, round_spot
from seamwright.foundation.seams import run_ons, stitch_lines
from seamwright.geometry import Point, Ring, Segment
from seamwright.ink.model import Area, Ink, Pen, Stroke
from seamwright.ink.place import CLEARANCE_PT

STOP_PT = 2.0
"""Radius of the dot at which stitching stops dead."""
RING_PT, RING_PEN_PT = 3.2, 1.0
"""Radius of the ring at which the first go of a partial seam stops, and how thick it is drawn."""
CORNER_PT = 1.4
"""Radius of the dot at a corner of a template, smaller than one at which stitching stops dead."""
_BLACK = "#000000"


@dataclass(frozen=True, slots=True)
class PrintLines:
    """The lines of one print, as printed.

    Attributes:
        stitch, trim: rings of the section. seams: stitch lines inside.
        marks: match marks.
        outer, inner: run-ons through the allowance, and inside the section.
        dots: where stitching stops. rings: where the first go of a partial seam stops.
        corners: where seams round a template start and stop.
    """

    stitch: Ring
    trim: Ring
    seams: tuple[Segment, ...]
    marks: tuple[Segment, ...]
    outer: tuple[Segment, ...]
    inner: tuple[Segment, ...]
    dots: tuple[Point, ...]
    rings: tuple[Point, ...]
    corners: tuple[Point, ...] = ()

    def obstacles(self) -> Iterator[Sequence[Point]]:
        """What words must keep clear of, stitch and trim lines and inner run-ons left out."""
        yield from (round_spot(point, STOP_PT) for point in self.dots)
        yield from (round_spot(point, RING_PT) for point in self.rings)
        yield from (round_spot(point, CORNER_PT) for point in self.corners)
        yield from self.outer
        yield from self.marks

    def ink(self, inner: Sequence[Segment]) -> Iterator[Ink]:
        """All lines drawn; `inner`: the inner run-ons that are left beside words."""
        yield Stroke(Pen.STITCH, self.stitch, closed=True)
        yield from (Stroke(Pen.STITCH, seam) for seam in self.seams)
        yield Stroke(Pen.TRIM, self.trim, closed=True)
        yield from (Stroke(Pen.HELPER, line) for line in (*self.outer, *inner))
        yield from (Stroke(Pen.MARK, mark) for mark in self.marks)
        yield from (Area((round_spot(point, STOP_PT),), _BLACK) for point in self.dots)
        yield from (Area((round_spot(point, CORNER_PT),), _BLACK) for point in self.corners)
        for point in self.rings:
            yield Area((round_spot(point, RING_PT), round_spot(point, RING_PT - RING_PEN_PT)), _BLACK)


def lines_of(common: Common, places: Sequence[Place], lay: Lay, use: Use = Use.SEW) -> PrintLines:
    """The lines of the drawing that serves `places`, as it lies at the first of them.

    What only the needle needs, run-ons and stops, is left out where nothing is sewn by the print.
    """
    block, section = common.plan.block, places[0].section
    stitch, trim = region_ring(block, section.patches), common.trims[section.name]
    seams = stitch_lines(block, section)
    turns = {block.points[p]: common.turns[p].is_half for p in section.outline if p in common.turns}
    beyond = run_ons(seams, stitch, trim, tuple(turns))
    dots = dict.fromkeys((*beyond.stops, *(p for p, half in turns.items() if not half)))
    if use is Use.VIEW:
        beyond, dots, turns = replace(beyond, outer=(), inner=()), {}, {}
    corners = seam_corners(common.borders[section.name]) if use is Use.CUT else ()
    return PrintLines(
        stitch=lay.ring(stitch),
        trim=lay.ring(trim),
        seams=lay.lines(seams),
        marks=lay.lines(common.marks[section.name]),
        outer=lay.lines(beyond.outer),
        inner=lay.lines(beyond.inner),
        dots=lay.line(tuple(dots)),
        rings=lay.line([point for point, half in turns.items() if half]),
        corners=lay.line(tuple(p for p in corners if p not in turns)),
    )


def given_way(run_ons: Sequence[Segment], boxes: Sequence[Ring]) -> tuple[Segment, ...]:
    """Run-ons cut short in front of words."""
    shown: list[Segment] = []
    for start, end in run_ons:
        line: BaseGeometry = LineString([start, end])
        for box in boxes:
            line = line.difference(Polygon(box).buffer(CLEARANCE_PT / UNIT_PT))
        whole = [
            p for p in shapely.get_parts(line) if p.distance(shapely.Point(start)) < 1e-9 and p.length > 1 / 32
        ]
        shown += [(start, (float(part.coords[-1][0]), float(part.coords[-1][1]))) for part in whole]
    return tuple(shown)
