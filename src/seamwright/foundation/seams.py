"""Stitch lines inside a section, and their run-on: where the needle starts and stops.

Knows:  the stitch line of every step, how far it is stitched beyond its ends.
Leaves: mirroring (make), lines round the section (trims).
Units:  inches, front view.
Method: an end on the section's border runs on through the allowance to the trim line. An end inside the section
        lies on a line that is sewn later, so its run-on lies where nothing is sewn yet; it is the 1/4 in that is
        stitched, and less where the trim line is nearer. An end at which a join turns has no run-on at all: the
        allowances must stay free there.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

import shapely
from shapely.geometry import LineString, Polygon
from shapely.geometry.base import BaseGeometry

from seamwright.block.model import Block
from seamwright.geometry import Point, Ring, Segment
from seamwright.piecing.model import Section

RUN_ON_IN = 1 / 4
"""Common practice: stitching starts about 1/4 in before a line and stops about 1/4 in past it."""
ON_LINE_IN = 1e-6
_A_HAIR_IN = 1e-3


def stitch_lines(block: Block, section: Section) -> tuple[Segment, ...]:
    """The stitch line of each step after the first, in sewing order."""
    return tuple(
        (block.points[step.stitch[0]], block.points[step.stitch[-1]]) for step in section.steps if step.stitch
    )


@dataclass(frozen=True, slots=True)
class RunOns:
    """What is stitched beyond the ends of stitch lines.

    Attributes:
        outer: through the allowance, from the section's border to the trim line.
        inner: inside the section, over paper where nothing is sewn yet.
        stops: inside corners of the border at which stitching must stop dead, for it would run on into the section.
    """

    outer: tuple[Segment, ...]
    inner: tuple[Segment, ...]
    stops: tuple[Point, ...]


def run_ons(seams: Sequence[Segment], stitch: Ring, trim: Ring, turns: Sequence[Point] = ()) -> RunOns:
    """The run-on beyond both ends of each seam, from the seam's end outward; none where a stitch line goes on.

    Args:
        seams: stitch lines in sewing order; stitch: the section's ring; trim: its trim outline.
        turns: points of the ring at which a join turns.
    """
    section, paper = Polygon(stitch), Polygon(trim)
    sewn = shapely.union_all([LineString(seam) for seam in seams] + [section.exterior])
    left, top, right, bottom = paper.bounds
    across = math.hypot(right - left, bottom - top)
    outer: list[Segment] = []
    inner: list[Segment] = []
    stops: list[Point] = []
    for start, end in ((start, end) for a, b in seams for start, end in ((b, a), (a, b))):
        length = math.dist(start, end)
        ahead = ((end[0] - start[0]) / length, (end[1] - start[1]) / length)
        beyond = shapely.Point(_along(end, ahead, _A_HAIR_IN))
        if sewn.distance(beyond) <= ON_LINE_IN or any(math.dist(end, turn) <= ON_LINE_IN for turn in turns):
            continue  # another stitch line goes on there, or none may
        if section.exterior.distance(shapely.Point(end)) > ON_LINE_IN:
            inner += _on_paper(paper, end, _along(end, ahead, RUN_ON_IN))
        elif section.contains(beyond):
            stops.append(end)
        else:
            outer += _on_paper(paper, end, _along(end, ahead, across))
    return RunOns(tuple(outer), tuple(inner), tuple(stops))


def _on_paper(paper: BaseGeometry, start: Point, end: Point) -> list[Segment]:
    """The part of a line that lies on the paper without a gap from its start on; [] without any."""
    parts = shapely.get_parts(LineString([start, end]).intersection(paper))
    lines = [part for part in parts if isinstance(part, LineString) and part.length > ON_LINE_IN]
    if not lines:
        return []
    first = min(lines, key=lambda part: part.distance(shapely.Point(start)))
    x, y = max(first.coords, key=lambda corner: math.dist(start, corner))
    return [(start, (float(x), float(y)))]


def _along(point: Point, ahead: Point, distance: float) -> Point:
    return (point[0] + ahead[0] * distance, point[1] + ahead[1] * distance)
