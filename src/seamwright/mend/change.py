"""What a mend changes in a block, before it has a number and words.

Knows:  points moved, seams added or dropped; the region and the block that come of it.
Leaves: which changes are worth a try (move, extra, drop), whether they hold (proof).
Units:  inches of the finished block.
"""

from __future__ import annotations

import math
from collections.abc import Collection, Iterable, Mapping, Sequence
from dataclasses import dataclass
from itertools import pairwise
from typing import Any

from seamwright.block.model import Block
from seamwright.errors import DrawingError, fail
from seamwright.geometry import Point, Segment, along, foot, off_line
from seamwright.mend.region import Face, Points, Region, Ring
from seamwright.piecing.model import Mend
from seamwright.units import say_point

SAME_IN = 1e-6
GRID_IN = 1e-9
"""Areas are laid over each other on this grid: with plain floats, GEOS may take areas that only touch for one."""
"""Places nearer to each other than this are one."""


NARROWEST_IN = 1 / 16
"""No mend leaves a patch narrower than this, unless one beside it was so before: it could hardly be sewn."""


class CannotEdit(Exception):
    """A drawing that cannot be changed where it stands, with the reason."""


@dataclass(frozen=True, slots=True)
class Change:
    """A change of the drawing.

    Attributes:
        kind: as of a Mend.
        extra: how many patches more the block then has.
        moved: (from, to) of every point that moves; the first `main` of them are moved, the others slide along.
        seams: segments added.
        dropped: segments taken away.
        amount: what ranks changes of one kind: how far a point moves, how long the new seams are.
    """

    kind: str
    extra: int = 0
    moved: tuple[tuple[Point, Point], ...] = ()
    main: int = 0
    seams: tuple[Segment, ...] = ()
    dropped: tuple[Segment, ...] = ()
    amount: float = 0.0


def region_of(
    block: Block,
    patches: Iterable[int],
    new: Mapping[int, Point] | None = None,
    straightened: Collection[int] = (),
) -> Region:
    """Patches of a block as a region.

    Args:
        new: other places of points; points that come to lie in one place become one.
        straightened: edges that are curves and shall be straight.
    """
    new = new or {}
    place = {n: new.get(n, p) for n, p in enumerate(block.points)}
    first: dict[Point, int] = {}
    one = {n: first.setdefault(place[n], n) if n in new else n for n in sorted(place, key=lambda n: n in new)}
    for n in new:
        one[n] = next((m for m, p in enumerate(block.points) if m not in new and p == new[n]), one[n])

    def ring(points: Sequence[int]) -> Ring:
        same = [one.get(p, p) for p in points]
        return tuple(p for before, p in zip(same[-1:] + same[:-1], same, strict=True) if p != before)

    faces: list[Face] = []
    at = {n: place[n] for n in sorted(set(one.values()))}
    along_edge: dict[int, list[int]] = {}
    for number, edge in enumerate(block.edges):
        if edge.via and number not in straightened:
            along_edge[number] = list(
                range(len(block.points) + len(at), len(block.points) + len(at) + len(edge.via))
            )
            at.update(zip(along_edge[number], edge.via, strict=True))

    def whole(points: Sequence[int], edges: Sequence[int], patch: int) -> Ring:
        """A ring with the points of its curves, the patch on its right."""
        found: list[int] = []
        for start, number in zip(points, edges, strict=True):
            edge = block.edges[number]
            via = along_edge.get(number, [])
            ahead = edge.right == patch if edge.start == edge.end else edge.start == start
            found += [start, *(via if ahead else via[::-1])]
        return ring(found)

    for number in patches:
        patch = block.patches[number]
        holes = zip(patch.holes, patch.hole_edges, strict=True)
        faces.append(tuple(whole(*r, number) for r in ((patch.ring, patch.edges), *holes)))
    curves = []
    for seam in block.seams:
        if any(block.edges[e].via for e in seam.edges):
            run: list[int] = []
            for start, number in zip(seam.points, seam.edges, strict=False):
                via = along_edge.get(number, [])
                run += [start, *(via if block.edges[number].start == start else via[::-1])]
            run.append(seam.points[-1])
            # One that closes on itself runs on where it closes, too.
            curves.append([*run, run[1]] if run[0] == run[-1] else run)
    return Region(Points(at, curves), tuple(faces))


def places_of(block: Block, mends: Sequence[Mend]) -> dict[int, Point]:
    """The new places of the points that mends move, by point number.

    Raises:
        DrawingError: two of them move one point to different places.
    """
    new: dict[int, Point] = {}
    mover: dict[int, int] = {}
    for mend in mends:
        for old, to in mend.moved:
            for number, point in enumerate(block.points):
                if math.dist(point, old) > SAME_IN:
                    continue
                if math.dist(new.get(number, to), to) > SAME_IN:
                    what = f"mends {mover[number]} and {mend.number} move the point at {say_point(old)} differently"
                    mend_ = "Choose another mend for one of the two places, or do one and check again"
                    raise fail(DrawingError, "mends", what, mend_, drawing=block.file, at_in=old)
                new[number], mover[number] = to, mend.number
    return new


def dropped_edges(block: Block, dropped: Iterable[Segment]) -> set[int]:
    """The edges that lie on segments taken away; a curve is taken away by its ends."""
    return {
        number
        for segment in dropped
        for number, edge in enumerate(block.edges)
        if all(on_segment(block.points[p], segment) for p in (edge.start, edge.end))
    }


def dropped_by(mends: Iterable[Mend]) -> list[Segment]:
    """The segments that mends take away."""
    return [segment for mend in mends for segment in mend.dropped]


def on_top_area(block: Block, dropped: Iterable[Segment]) -> Any:
    """The area of the patches of which every side is taken away, as a shapely geometry; None without any."""
    from shapely import Polygon, union_all

    edges = dropped_edges(block, dropped)
    gone = [
        Polygon(block.patch_ring(number), block.patch_holes(number))
        for number, patch in enumerate(block.patches)
        if edges.issuperset(patch.edges)
    ]
    return union_all(gone, grid_size=GRID_IN) if gone else None


def on_segment(point: Point, segment: Segment, within: float = SAME_IN) -> bool:
    """Whether a point lies on a segment."""
    a, b = segment
    if math.dist(a, b) <= SAME_IN:
        return math.dist(point, a) <= within
    return abs(off_line(point, a, b)) <= within and -within <= along(point, a, b) <= math.dist(a, b) + within


def left_of(points: Sequence[Point], dropped: Sequence[Segment], within: float) -> list[list[Point]] | None:
    """What is left of a line through points when segments are taken out of it; None if it loses nothing.

    Args:
        within: how far a place on the line may lie from a segment that it is drawn for.
    """
    kept: list[list[Point]] = []
    lost = False
    for a, b in pairwise(points):
        length = math.dist(a, b)
        spans = [s for segment in dropped if (s := _share(a, b, segment, within)) is not None] if length else []
        lost = lost or bool(spans)
        start = 0.0
        for first, last in [*sorted(spans), (1.0, 1.0)]:
            if (first - start) * length > within or (not spans and first > start):
                piece = [_at(a, b, start), _at(a, b, first)]
                if kept and start == 0.0 and kept[-1][-1] == piece[0]:
                    kept[-1].append(piece[1])
                else:
                    kept.append(piece)
            start = max(start, last)
    return kept if lost else None


def _at(a: Point, b: Point, share: float) -> Point:
    return a if share <= 0 else b if share >= 1 else (a[0] + share * (b[0] - a[0]), a[1] + share * (b[1] - a[1]))


def _share(a: Point, b: Point, segment: Segment, within: float) -> tuple[float, float] | None:
    """Which share of the way from a to b runs along a segment; None if it does not."""
    length = math.dist(a, b)
    ends = sorted(along(p, a, b) / length for p in segment)
    first, last = max(ends[0], 0.0), min(ends[1], 1.0)
    if (last - first) * length <= within:
        return None
    if any(abs(off_line(p, *segment)) > within for p in (_at(a, b, first), _at(a, b, last))):
        return None
    return first, last


def narrowest(ring: Sequence[Point]) -> float:
    """The least distance of a corner of a ring from a side that it does not lie on."""
    corners = [
        p
        for a, p, b in zip((*ring[-1:], *ring[:-1]), ring, (*ring[1:], *ring[:1]), strict=True)
        if math.dist(a, b) == 0 or abs(off_line(p, a, b)) > SAME_IN
    ]
    least = math.inf
    for a, b in zip(corners, corners[1:] + corners[:1], strict=True):
        for p in corners:
            if p not in (a, b):
                least = min(least, math.dist(p, foot(p, a, b, between=True)))
    return least
