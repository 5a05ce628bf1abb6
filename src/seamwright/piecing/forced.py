"""Forced cuts: joins that stand in every plan, taken before anything is searched.

Knows:  cuts that no seam crosses and that are no step of a foundation: seams end on them from both sides, or they
        are not straight.
Leaves: the choice among the cuts that are left (fewest, general).
Method: a step of a foundation needs one whole patch on one side, and a straight line to fold along. A cut with
        seams that end on it from both sides has no whole patch on either: these seams are divided after it, since
        their ends are reached by it alone. Nothing crosses such a cut, so no other cut shortens it, and whatever is
        cut before it lies on one side of it. So it is a join in every plan, no section lies on both its sides, and
        every plan falls into two plans, one for each side, under any limit on sections too. The cuts are found by
        one pass over reached points, as in `decide`.
"""

from __future__ import annotations

from dataclasses import dataclass

from seamwright.piecing.cuts import Cut
from seamwright.piecing.seammap import SeamMap


@dataclass(frozen=True, slots=True)
class Forced:
    """The forced cuts of a block.

    Attributes:
        cuts: in an order in which they can be cut.
        reached: for each point, whether it is on the outline or on a forced cut.
        parts: patches of each part that is left, parts by their first patch.
    """

    cuts: tuple[Cut, ...]
    reached: bytearray
    parts: tuple[tuple[int, ...], ...]


def forced_cuts(seams: SeamMap) -> Forced:
    """All forced cuts, one after another until none is left."""
    block = seams.block
    reached = bytearray(seams.on_outline)
    cut_edges = bytearray(len(block.edges))
    cuts: list[Cut] = []
    # Places to look from, in either direction along their seam.
    work = [(seam, at) for point in range(len(reached)) if reached[point] for seam, at in seams.places[point]]
    work.reverse()
    while work:
        seam, at = work.pop()
        for way in (1, -1):
            cut = _forced_from(seams, reached, seam, at, way)
            if cut is None or cut_edges[cut.edges(block)[0]]:
                continue
            cuts.append(cut)
            for edge in cut.edges(block):
                cut_edges[edge] = 1
            for point in cut.points(block)[1:-1]:
                reached[point] = 1
                work.extend(place for place in seams.places[point] if place[0] != seam)
    return Forced(tuple(cuts), reached, tuple(map(tuple, seams.parts(cut_edges))))


def _forced_from(seams: SeamMap, reached: bytearray, seam: int, at: int, way: int) -> Cut | None:
    """The forced cut that starts at place (seam, at) and goes that way, if there is one."""
    points, count = seams.block.seams[seam].points, len(seams.block.seams[seam].edges)
    closed = seams.is_closed(seam)
    from_left = from_right = False
    place = at + way
    while abs(place - at) < count if closed else 0 <= place <= count:
        point = points[place % count if closed else place]
        if reached[point]:
            start, end = min(at, place), max(at, place)
            if closed and start < 0:
                start, end = start + count, end + count
            if (from_left and from_right) or not seams.is_straight(seam, start, end):
                return Cut(seam, start, end) if seams.is_simple(seam, start, end) else None
            return None
        if len(seams.through[point]) != 1 or (not closed and place in (0, count)):
            return None
        left, right = seams.arrivals(seam, place % count)
        from_left, from_right = from_left or left, from_right or right
        place += way
    return None
