"""Where the seams and patches of a block reach its edge, and whether they run on in the block beside it.

Knows:  seam ends with the way they leave a block, curves by their tangent; which patch and fabric lies along the
        edge; when two ends meet, and when one line runs on through both.
Leaves: which blocks lie beside each other (layout, turnings), lines longer than a block (secondary), what is
        advised where ends nearly meet (advice).
Units:  inches; a block's own until they are moved to where it lies.
Limits: a curve is a run of short chords; its tangent at the end is that of the circle through the last three
        points, exact for arcs.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace

from seamwright.block.asseen import as_seen
from seamwright.block.model import OUTSIDE, Block
from seamwright.geometry import Affine, Point, moved

MEET_WITHIN_IN = 1 / 32
"""Ends nearer than this meet: half of what a drawing is tidied by, and less than a careful seam is off."""
RUN_ON_WITHIN_DEG = 3.0
"""Lines whose ways differ by less than this look like one that runs on: over the 4 in to the middle of a block a
line is then off by less than 1/4 in."""


@dataclass(frozen=True, slots=True)
class SeamEnd:
    """A seam that ends on the edge of its block.

    Attributes:
        at: where. way: unit vector along the seam, out of the block.
        seam: its number in the block as seen (`block.asseen`).
        shows: the patches on its two sides are of different fabrics, or of none that is known.
    """

    at: Point
    way: Point
    seam: int
    shows: bool


@dataclass(frozen=True, slots=True)
class EdgeRun:
    """A patch along the edge of its block, from corner to corner of the patch, clockwise round the block.

    Attributes:
        ends: first and last place. patch: its number in the block as seen. fabric: its name, or None.
    """

    ends: tuple[Point, Point]
    patch: int
    fabric: str | None


def seam_ends(block: Block) -> tuple[SeamEnd, ...]:
    """All seams that end on the outline of a block, in the order of its seams, a seam that does so twice twice.

    A seam that ends in a corner is among them. Places are in the block's own inches.
    """
    seen, _ = as_seen(block)
    rim = set(seen.outline)
    found = []
    for number, seam in enumerate(seen.seams):
        if seam.points[0] == seam.points[-1]:
            continue  # a closed curve that touches the edge ends nowhere
        for point, edge in ((seam.points[0], seam.edges[0]), (seam.points[-1], seam.edges[-1])):
            if point in rim:
                run = seen.edge_points(edge)
                if seen.edges[edge].start == point:
                    run = run[::-1]
                found.append(SeamEnd(run[-1], _way_out(run), number, _shows(seen, edge)))
    return tuple(found)


def edge_runs(block: Block) -> tuple[EdgeRun, ...]:
    """What lies along the outline of a block, clockwise from the first point of its outline, in its own inches.

    A patch that lies along two sides has a run on each.
    """
    seen, _ = as_seen(block)
    runs: list[EdgeRun] = []
    for number, side in zip(seen.outline_edges, seen.outline_sides(), strict=True):
        edge = seen.edges[number]
        patch = edge.right if edge.left == OUTSIDE else edge.left
        runs.append(EdgeRun((side[0], side[-1]), patch, seen.patches[patch].fabric))
    return tuple(runs)


def moved_ends(ends: Iterable[SeamEnd], place: Affine) -> tuple[SeamEnd, ...]:
    """Ends as they lie in the quilt; `place` rotates, mirrors and shifts, and never scales."""
    a, b, c, d, _, _ = place
    return tuple(replace(end, at=moved(place, end.at), way=moved((a, b, c, d, 0.0, 0.0), end.way)) for end in ends)


def moved_runs(runs: Iterable[EdgeRun], place: Affine) -> tuple[EdgeRun, ...]:
    """Runs as they lie in the quilt; where `place` mirrors they go counter-clockwise round the block."""
    return tuple(replace(run, ends=(moved(place, run.ends[0]), moved(place, run.ends[1]))) for run in runs)


def meet(one: SeamEnd, other: SeamEnd) -> bool:
    """Whether two ends, moved to where they lie, come to one place."""
    return math.dist(one.at, other.at) <= MEET_WITHIN_IN


def runs_on(one: SeamEnd, other: SeamEnd) -> bool:
    """Whether two ends meet and their seams look like one line that crosses the edge."""
    return meet(one, other) and bend_deg(one, other) <= RUN_ON_WITHIN_DEG


def bend_deg(one: SeamEnd, other: SeamEnd) -> float:
    """By how much a walker along one seam turns to go on along the other: 0 straight on, 180 back."""
    cross = -one.way[0] * other.way[1] + one.way[1] * other.way[0]
    ahead = -one.way[0] * other.way[0] - one.way[1] * other.way[1]
    return abs(math.degrees(math.atan2(cross, ahead)))


def _way_out(run: Sequence[Point]) -> Point:
    """Unit tangent at the end of a run: the last chord, turned on as the circle through the last three points."""
    (x1, y1), (x2, y2) = run[-2:]
    angle = math.atan2(y2 - y1, x2 - x1)
    if len(run) > 2:
        x0, y0 = run[-3]
        turn = math.remainder(angle - math.atan2(y1 - y0, x1 - x0), math.tau)
        last, before = math.dist(run[-2], run[-1]), math.dist(run[-3], run[-2])
        # Between chords the way turns by half of both arcs, from the chord to its end by half of the last.
        angle += turn * last / (last + before)
    return (math.cos(angle), math.sin(angle))


def _shows(block: Block, edge: int) -> bool:
    one, other = (block.patches[patch].fabric for patch in (block.edges[edge].left, block.edges[edge].right))
    return one is None or one != other
