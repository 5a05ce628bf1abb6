"""Match marks: ticks that must meet when two sections are laid together for a join.

Knows:  the points along every join at which seams arrive, the sections on both sides.
Leaves: drawing (make).
Units:  inches, front view.
Method: a mark stands at right angles to the join, from the stitch line out to the trim line. Both sides get it at
        the same point of the join, so that they coincide when one section is turned over the join on to the other.
        A curve has no straight edge to trust: it gets marks at its quarters, too. Where a join turns there is no
        mark: ticks of the two legs would not meet, and the dot is what is pinned through.
"""

from __future__ import annotations

import math
from itertools import pairwise

from seamwright.block.model import Block
from seamwright.foundation.border import section_of_patch
from seamwright.geometry import Point, Segment
from seamwright.piecing.model import Plan
from seamwright.piecing.turns import join_edges

CURVE_PARTS = 4
SAME_CURVE_COSINE = 0.96
"""Edges that turn by less than about 16 degrees at a point of a join are one line or curve."""
_APART_IN = 1 / 4
"""A curve's own mark is left out where another one is as near as this."""


def match_marks(plan: Plan) -> dict[str, tuple[Segment, ...]]:
    """For every section by name its match marks, each from the stitch line out to the trim line."""
    block, allowance = plan.block, plan.options.seam_allowance_in
    sections = section_of_patch(plan)
    degrees = [0] * len(block.points)
    for edge in block.edges:
        degrees[edge.start] += 1
        degrees[edge.end] += 1
    marks: dict[str, list[Segment]] = {section.name: [] for section in plan.sections}
    for edges in _legs(plan):
        for number, point, ahead in _meeting(block, edges, degrees) + _quarters(block, edges):
            edge = block.edges[number]
            left = (ahead[1], -ahead[0])  # the left hand of a walker, y down
            # A section on the right hand has its allowance on the left, and the other way round.
            for patch, side in ((edge.right, 1.0), (edge.left, -1.0)):
                tip = (point[0] + side * allowance * left[0], point[1] + side * allowance * left[1])
                found = marks[sections[patch].name]
                if not any(math.dist(point, a) + math.dist(tip, b) < 1e-6 for a, b in found):
                    found.append((point, tip))
    return {name: tuple(found) for name, found in marks.items()}


def _legs(plan: Plan) -> list[tuple[int, ...]]:
    """The edges of every join, those of one that turns leg by leg."""
    legs = []
    for join, edges in zip(plan.joins, join_edges(plan), strict=True):
        stops = [0, *(join.seam.index(turn) for turn in join.turns), len(edges)]
        legs += [edges[a:b] for a, b in pairwise(stops)]
    return legs


Spot = tuple[int, Point, Point]
"""Edge number, point on it, unit direction along the edge from its start to its end."""


def _meeting(block: Block, edges: tuple[int, ...], degrees: list[int]) -> list[Spot]:
    """Both edges beside each inner point of a join at which seams arrive."""
    spots: list[Spot] = []
    for one, two in pairwise(edges):
        shared = {block.edges[one].start, block.edges[one].end} & {block.edges[two].start, block.edges[two].end}
        for point in sorted(shared):
            if degrees[point] > 2:
                directions = _smoothed(_ahead(block, one, point), _ahead(block, two, point))
                spots += [
                    (number, block.points[point], ahead)
                    for number, ahead in zip((one, two), directions, strict=True)
                ]
    return spots


def _smoothed(one: Point, two: Point) -> tuple[Point, Point]:
    """Directions of two edges at their common point: those of a curve become one, since its pieces are chords.

    Both point along their own edge, so a run may hold them head to head.
    """
    along = one[0] * two[0] + one[1] * two[1]
    if abs(along) < SAME_CURVE_COSINE:
        return one, two
    sense = math.copysign(1.0, along)
    x, y = one[0] + sense * two[0], one[1] + sense * two[1]
    length = math.hypot(x, y)
    return (x / length, y / length), (sense * x / length, sense * y / length)


def _quarters(block: Block, edges: tuple[int, ...]) -> list[Spot]:
    """The quarters of a join that has a curve in it, where no other mark is near."""
    if not any(block.edges[number].via for number in edges):
        return []
    # Every straight piece of the run, edge by edge in the order of the join.
    pieces: list[tuple[int, Point, Point, bool]] = []
    for i, number in enumerate(edges):
        run = block.edge_points(number)
        beside = edges[i + 1] if i + 1 < len(edges) else edges[i - 1]
        ends_shared = block.edges[number].end in (block.edges[beside].start, block.edges[beside].end)
        forward = ends_shared == (i + 1 < len(edges)) or len(edges) == 1
        pieces += [(number, a, b, forward) for a, b in pairwise(run if forward else run[::-1])]
    total = math.fsum(math.dist(a, b) for _, a, b, _ in pieces)
    kept_clear = [block.points[p] for n in edges for p in (block.edges[n].start, block.edges[n].end)]
    spots: list[Spot] = []
    for part in range(1, CURVE_PARTS):
        rest = total * part / CURVE_PARTS
        for number, a, b, forward in pieces:
            length = math.dist(a, b)
            if rest <= length:
                ux, uy = (b[0] - a[0]) / length, (b[1] - a[1]) / length
                point = (a[0] + rest * ux, a[1] + rest * uy)
                if all(math.dist(point, other) > _APART_IN for other in kept_clear):
                    spots.append((number, point, (ux, uy) if forward else (-ux, -uy)))
                break
            rest -= length
    return spots


def _ahead(block: Block, number: int, point: int) -> Point:
    """Unit direction of an edge, from its start to its end, at one of its ends."""
    run = block.edge_points(number)
    a, b = run[:2] if block.edges[number].start == point else run[-2:]
    length = math.dist(a, b)
    return ((b[0] - a[0]) / length, (b[1] - a[1]) / length)
