"""Where sections meet in a point: their corners there, those together that joins ending at the point line up.

Knows:  every corner of every section, its sides and who lies across them.
Leaves: what a corner's allowance looks like (tips), trim outlines (trims).
Units:  inches, front view; angles in radians from x towards y, so that they grow clockwise as seen.
Method: round a point the sections that joins ending there sew together make a *fan*. The join that runs on through
        the point (straight, or with a turn) parts one fan from the next; so does a section that runs past it, for
        nothing is asked of a seam that runs past.
"""

from __future__ import annotations

import math
from collections import defaultdict
from collections.abc import Iterable
from dataclasses import dataclass, replace
from itertools import pairwise

from seamwright.block.model import OUTSIDE
from seamwright.block.rings import Side, region_sides
from seamwright.geometry import Point
from seamwright.piecing.model import Plan
from seamwright.piecing.turns import join_edges

PAST_RAD = math.radians(4.8)
"""A section whose corner is this near to straight runs past the point: to end on its trim edge, a neighbour's tip
would have to be twelve allowances long."""


@dataclass(frozen=True, slots=True)
class Corner:
    """A corner of a section's stitch outline.

    Attributes:
        section: its name; point: number of the point; at: where it is.
        low, high: directions of the sides that leave it and lead to it, clockwise round the section; the section
            lies between them, from low up to high.
        low_edge, high_edge: numbers of those sides' edges.
        low_open, high_open: whether that side lies on the block's outline.
    """

    section: str
    point: int
    at: Point
    low: float
    high: float
    low_edge: int
    high_edge: int
    low_open: bool
    high_open: bool

    @property
    def angle(self) -> float:
        """Inside the section."""
        return self.high - self.low


Fan = tuple[Corner, ...]


def fans(plan: Plan) -> tuple[Fan, ...]:
    """Every corner of every section once, in fans: each corner's high side is sewn to the low side of the next.

    Directions grow through a fan without a jump, each `low` being the `high` before it.
    """
    through = _sewn_through(plan)
    at_point: dict[int, list[Corner]] = defaultdict(list)
    for section in plan.sections:
        for corner in _corners(section.name, region_sides(plan.block, section.patches)):
            at_point[corner.point].append(corner)
    found: list[Fan] = []
    for point in sorted(at_point):
        past = any(runs_past(corner.angle) for corner in at_point[point])
        found += _chains(at_point[point], set() if past else through[point])
    return tuple(found)


def runs_past(angle: float) -> bool:
    """Whether a corner of this angle is so near to straight, or beyond, that its seam runs past the point."""
    return angle >= math.pi - PAST_RAD


def _sewn_through(plan: Plan) -> dict[int, set[int]]:
    """For each point the edges of joins that run on through it."""
    found: dict[int, set[int]] = defaultdict(set)
    for edges in join_edges(plan):
        for one, two in pairwise(edges):
            a, b = plan.block.edges[one], plan.block.edges[two]
            for point in {a.start, a.end} & {b.start, b.end}:
                found[point] |= {one, two}
    return found


def _corners(name: str, sides: tuple[Side, ...]) -> Iterable[Corner]:
    for before, after in pairwise((sides[-1], *sides)):
        (x, y), ahead, behind = after.points[0], after.points[1], before.points[-2]
        low = math.atan2(ahead[1] - y, ahead[0] - x)
        angle = (math.atan2(behind[1] - y, behind[0] - x) - low) % math.tau
        yield Corner(
            name,
            after.start,
            (x, y),
            low,
            low + angle,
            after.edge,
            before.edge,
            after.across == OUTSIDE,
            before.across == OUTSIDE,
        )


def _chains(corners: list[Corner], closed: set[int]) -> list[Fan]:
    """The corners at one point as fans; none goes on over an edge that is closed."""
    by_low = {corner.low_edge: corner for corner in corners}

    def onward(corner: Corner) -> Corner | None:
        beyond = None if corner.high_edge in closed else by_low.get(corner.high_edge)
        if beyond is None or beyond.section == corner.section:
            return None
        return None if runs_past(corner.angle) or runs_past(beyond.angle) else beyond

    led_to = {beyond.low_edge for corner in corners if (beyond := onward(corner)) is not None}
    # A ring of corners that no join runs through has no first one: it is opened anywhere, always the same way.
    firsts = [corner for corner in corners if corner.low_edge not in led_to] or corners[:1]
    found: list[Fan] = []
    for first in firsts:
        fan = [first]
        while (beyond := onward(fan[-1])) is not None and beyond.low_edge != first.low_edge:
            fan.append(replace(beyond, low=fan[-1].high, high=fan[-1].high + beyond.angle))
        found.append(tuple(fan))
    return found
