"""What the fabric of each patch has to cover: its patch, its part of the allowance, and what the needle catches.

Knows:  the stitch line of every step with its patch on the right hand; how the trim outline is parted by them.
Leaves: extra beyond the allowance, the shape of a piece (fits), how it is laid (pieces).
Units:  inches, front view.
Method: read from the last step back each stitch line parts what is left of the trimmed section, as scissors would:
        what lies beyond it is the place of that step's fabric. So at a sharp tip, where a line runs through the
        allowance at a slant, a place reaches as far as the allowance does. Where the section goes round an inside
        corner no line parts all of it; there a fabric has its patch with the allowance, and its place is that.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

import shapely
from shapely.geometry import MultiPolygon, Polygon
from shapely.geometry.base import BaseGeometry

from seamwright.block.model import Block
from seamwright.geometry import Point, Ring, Segment, along, bounds, off_line
from seamwright.piecing.model import Section, Step

ON_LINE_IN = 1e-6
GRID_IN = 1e-9
THIN_IN = 1e-6
"""What is left of a section is freed of threads as thin: a slanted cut leaves some along its line, for floats lie
on a grid, and they would be covered to their far ends."""
MITRE_LIMIT = 2.7
"""Longer mitres of the allowance are cut off, as on the trim outline."""


@dataclass(frozen=True, slots=True)
class Need:
    """What one patch's fabric has to cover.

    Attributes:
        patch: patch number.
        ring: of the patch, clockwise.
        line: its stitch line, the patch on the right hand of a walker from start to end; None for the first patch.
        place: corners of the convex hull of its part of the trimmed section; of a stitched patch only what lies on
            its own side of the line, unless it `crosses`.
        crosses: the patch goes round an end of its line, so its fabric is laid by the line, not by a trimmed edge.
    """

    patch: int
    ring: Ring
    line: Segment | None
    place: tuple[Point, ...]
    crosses: bool = False


def needs_of(block: Block, section: Section, trim: Sequence[Point], allowance_in: float) -> tuple[Need, ...]:
    """The needs of a section's patches, in sewing order; `trim` is its trim outline."""
    areas = [Polygon(block.patch_ring(step.patch)) for step in section.steps]
    left: BaseGeometry = Polygon(trim)
    found: list[Need] = []
    for number in range(len(areas) - 1, 0, -1):
        step = section.steps[number]
        line = stitch_line(block, step)
        crosses = _goes_round(block.patch_ring(step.patch), line)
        before = _united(areas[:number])
        is_clear = not crosses and max(off_line(p, *line) for p in shapely.get_coordinates(before)) <= ON_LINE_IN
        if is_clear:
            mine = [part for part in _parts(_right_of(line, left)) if _common(part, areas[number]).area > 0]
            place = _areas(_united(mine))
        else:
            mine = _nearer(left, areas[number], before, None if crosses else line, allowance_in)
            place = _united([_common(areas[number].buffer(allowance_in), left), *mine])
        left = _without_threads(shapely.difference(left, _united(mine), grid_size=GRID_IN))
        own = place if crosses else _right_of(line, place)
        found.append(Need(step.patch, block.patch_ring(step.patch), line, _hull(own), crosses))
    first = section.steps[0].patch
    return (Need(first, block.patch_ring(first), None, _hull(left)), *reversed(found))


def stitch_line(block: Block, step: Step) -> Segment:
    """The ends of a step's stitch line, its patch on the right hand of a walker from the first to the second."""
    ring, (a, b) = block.patches[step.patch].ring, step.stitch[:2]
    ends = (block.points[step.stitch[0]], block.points[step.stitch[-1]])
    # Rings run clockwise: the patch lies on the right hand of whoever walks round it.
    ahead = any((one, two) == (a, b) for one, two in zip(ring, ring[1:] + ring[:1], strict=True))
    return ends if ahead else ends[::-1]


def _goes_round(ring: Ring, line: Segment) -> bool:
    """Whether a patch goes round an end of its stitch line, or runs on along it."""
    length = math.dist(*line)
    return any(
        off_line(p, *line) < ON_LINE_IN and not -ON_LINE_IN < along(p, *line) < length + ON_LINE_IN for p in ring
    )


def _nearer(
    left: BaseGeometry, patch: Polygon, before: BaseGeometry, line: Segment | None, allowance_in: float
) -> list[Polygon]:
    """What of a section with inside corners is out of reach of what is sewn before, and nearer to a patch."""
    arms = before if line is None else _right_of(line, before)
    mine = left if line is None else _right_of(line, left)
    rest = shapely.difference(mine, _grown(arms, allowance_in), grid_size=GRID_IN)
    return [part for part in _parts(rest) if arms.is_empty or part.distance(patch) <= part.distance(arms)]


def _common(one: BaseGeometry, other: BaseGeometry) -> BaseGeometry:
    return shapely.intersection(one, other, grid_size=GRID_IN)


def _united(areas: Sequence[BaseGeometry]) -> BaseGeometry:
    return shapely.union_all(areas, grid_size=GRID_IN)


def _parts(area: BaseGeometry) -> list[Polygon]:
    return [part for part in shapely.get_parts(area) if isinstance(part, Polygon)]


def _areas(area: BaseGeometry) -> BaseGeometry:
    """Without points and lines, in which areas only touch."""
    return MultiPolygon(_parts(area))


def _without_threads(area: BaseGeometry) -> BaseGeometry:
    """Areas with their sharp tips, but without what is thinner than a thread."""
    inside = area.buffer(-THIN_IN / 2, join_style="mitre", mitre_limit=100)
    return _areas(inside.buffer(THIN_IN / 2, join_style="mitre", mitre_limit=100))


def _right_of(line: Segment, area: BaseGeometry) -> BaseGeometry:
    """What of an area lies on the right hand of a line."""
    (ax, ay), (bx, by) = line
    x0, y0, x1, y1 = bounds([*line, *map(tuple, shapely.get_coordinates(area))])
    length = shapely.Point(line[0]).distance(shapely.Point(line[1]))
    share = 2 * (x1 - x0 + y1 - y0 + 1) / length
    ux, uy = (bx - ax) * share, (by - ay) * share
    corners = [(ax - ux, ay - uy), (bx + ux, by + uy), (bx + ux - uy, by + uy + ux), (ax - ux - uy, ay - uy + ux)]
    return _areas(_common(area, Polygon(corners)))


def _grown(area: BaseGeometry, allowance_in: float) -> BaseGeometry:
    return area.buffer(allowance_in, join_style="mitre", mitre_limit=MITRE_LIMIT)


def _hull(area: BaseGeometry) -> tuple[Point, ...]:
    hull = shapely.convex_hull(area)
    return tuple((float(x), float(y)) for x, y in shapely.get_coordinates(hull)[:-1])
