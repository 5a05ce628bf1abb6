"""The border of a section: who lies across each stretch of it.

Knows:  where the border is parted into stretches; who lies across each, which join sews it, where its grain runs.
Leaves: mirroring, words, marks (make, words, marks).
Units:  inches, front view.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from itertools import pairwise

from seamwright.block.model import OUTSIDE, Block
from seamwright.block.rings import region_sides
from seamwright.geometry import Point, Segment, canonical_ring, foot
from seamwright.piecing.model import Plan, Section
from seamwright.piecing.turns import join_edges

SAME_LINE_SINE, SAME_CURVE_SINE = 0.02, 0.26
"""Neighbouring straight edges that turn by under about 1 degree, curved ones by under 15, are one stretch."""

SEAM_CORNER_DEG = 15.0
"""A seam line that turns by more has a corner there; the pieces of a curve turn by less."""

_ON_SIDE_IN = 0.004
"""What lies nearer to a side of a patch is on it: a thread is thicker."""


@dataclass(frozen=True, slots=True)
class Stretch:
    """A run of a section's border with one neighbour across it.

    Attributes:
        points: along it, clockwise round the section, curve points included; two for a straight one.
        neighbour: name of the section across, or None at the block's edge.
        join: its place in the sewing order of joins, from 1; None at the block's edge, and where it varies.
        varies: what lies across differs from place to place of a print.
    """

    points: tuple[Point, ...]
    neighbour: str | None = None
    join: int | None = None
    varies: bool = False

    @property
    def length_in(self) -> float:
        """Length along the stretch."""
        return math.fsum(math.dist(a, b) for a, b in pairwise(self.points))


def section_of_patch(plan: Plan) -> dict[int, Section]:
    """The section each patch belongs to."""
    return {patch: section for section in plan.sections for patch in section.patches}


def stretches(plan: Plan) -> dict[str, tuple[Stretch, ...]]:
    """For every section by name its border, parted where the neighbour, the join or the direction changes."""
    sections = section_of_patch(plan)
    joins = {edge: place for place, edges in enumerate(join_edges(plan), start=1) for edge in edges}
    return {section.name: _stretches(plan.block, section, sections, joins) for section in plan.sections}


def _stretches(
    block: Block, section: Section, sections: dict[int, Section], joins: dict[int, int]
) -> tuple[Stretch, ...]:
    """Clockwise round the section, in front view, from its lowest point number on."""
    pieces = []
    sides = region_sides(block, section.patches)
    first = min(range(len(sides)), key=lambda place: sides[place].start)
    for side in sides[first:] + sides[:first]:
        neighbour = None if side.across == OUTSIDE else sections[side.across].name
        pieces.append(Stretch(side.points, neighbour, joins.get(side.edge)))
    return runs_joined(pieces)


def runs_joined(pieces: Iterable[Stretch]) -> tuple[Stretch, ...]:
    """The pieces of a border in order, those made one that run on into each other and have the same across them."""
    runs: list[Stretch] = []
    for piece in pieces:
        if runs and _runs_on(runs[-1], piece):
            runs[-1] = _joined(runs[-1], piece)
        else:
            runs.append(piece)
    if len(runs) > 1 and _runs_on(runs[-1], runs[0]):
        runs[0] = _joined(runs.pop(), runs[0])
    return tuple(runs)


def _runs_on(one: Stretch, two: Stretch) -> bool:
    if (one.neighbour, one.join, one.varies) != (two.neighbour, two.join, two.varies):
        return False
    (a, b), (c, d) = one.points[-2:], two.points[:2]
    ux, uy, vx, vy = b[0] - a[0], b[1] - a[1], d[0] - c[0], d[1] - c[1]
    most = SAME_LINE_SINE if len(one.points) == 2 and len(two.points) == 2 else SAME_CURVE_SINE
    turn = abs(ux * vy - uy * vx) / (math.hypot(ux, uy) * math.hypot(vx, vy))
    return ux * vx + uy * vy > 0 and turn <= most


def _joined(one: Stretch, two: Stretch) -> Stretch:
    points = one.points + two.points[1:]
    if len(one.points) == 2 and len(two.points) == 2:
        points = (one.points[0], two.points[1])
    return replace(one, points=points)


def grain_deg(block: Block, borders: Sequence[Stretch]) -> float:
    """Direction, in front view, of the longest edge that the section has of the block, else of the block's longest.

    Of edges equally long the one most up and down counts, as bolts of cloth are shown.
    """
    outer = [(s.points[0], s.points[-1]) for s in borders if s.neighbour is None]
    outline = canonical_ring(block.outline_ring())
    runs = outer or list(zip(outline, outline[1:] + outline[:1], strict=True))

    def weight(run: Segment) -> tuple[float, float]:
        (ax, ay), (bx, by) = run
        length = math.hypot(bx - ax, by - ay)
        return (round(length, 6), abs(by - ay) / length)

    (ax, ay), (bx, by) = max(runs, key=weight)
    return math.degrees(math.atan2(by - ay, bx - ax))


def edge_grain_deg(block: Block, patch: int) -> float | None:
    """Direction of the side of a patch that runs longest along the block's edge, 0 <= and < 180; None for none.

    There the straight grain belongs (common practice: edges on the bias stretch); curves have none.
    """
    outer = [
        block.edge_points(number)
        for number in block.patches[patch].edges
        if OUTSIDE in (block.edges[number].left, block.edges[number].right) and not block.edges[number].via
    ]
    if not outer:
        return None
    corners = canonical_ring(block.patch_ring(patch))

    def along(a: Point, b: Point) -> float:
        edges = (e for e in outer if all(math.dist(p, foot(p, a, b, between=True)) < _ON_SIDE_IN for p in e))
        return round(math.fsum(math.dist(*edge) for edge in edges), 6)

    (ax, ay), (bx, by) = max(zip(corners, corners[1:] + corners[:1], strict=True), key=lambda side: along(*side))
    return math.degrees(math.atan2(by - ay, bx - ax)) % 180


def seam_corners(border: Sequence[Stretch]) -> tuple[Point, ...]:
    """Where stitching round a section starts and stops: at its corners, and where one join ends and another begins.

    Args:
        border: all round the section, in order.
    """
    return tuple(
        after.points[0]
        for before, after in zip([*border[-1:], *border], border, strict=False)
        if before.join != after.join or _bend_deg(before.points, after.points) > SEAM_CORNER_DEG
    )


def _bend_deg(before: Sequence[Point], after: Sequence[Point]) -> float:
    """By how much a walk turns from one run of points to the next."""
    (a, b), (c, d) = before[-2:], after[:2]
    turn = math.degrees(math.atan2(d[1] - c[1], d[0] - c[0]) - math.atan2(b[1] - a[1], b[0] - a[0])) % 360
    return min(turn, 360 - turn)
