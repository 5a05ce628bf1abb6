"""Forced cuts: joins that stand in every plan, taken before anything is searched.

Knows:  cuts that no seam crosses and on which seams end from both sides.
Leaves: the choice among the cuts that are left (fewest).
Method: such a cut is no step of a foundation, because a step needs one whole patch on one side of it; and nothing
        crosses it, so no other cut shortens it. It is a join in every plan, and every plan falls into two plans,
        one for each side. The cuts are found by one pass over reached points, as in `decide`.
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
            end = _forced_from(seams, reached, seam, at, way)
            if end is None:
                continue
            cut = Cut(seam, min(at, end), max(at, end))
            cuts.append(cut)
            for edge in cut.edges(block):
                cut_edges[edge] = 1
            for point in cut.points(block)[1:-1]:
                reached[point] = 1
                work.extend(place for place in seams.places[point] if place[0] != seam)
    return Forced(tuple(cuts), reached, tuple(map(tuple, seams.parts(cut_edges))))


def _forced_from(seams: SeamMap, reached: bytearray, seam: int, at: int, way: int) -> int | None:
    """Where the forced cut that starts at place (seam, at) ends, or None if there is none that way."""
    points = seams.block.seams[seam].points
    from_left = from_right = False
    place = at + way
    while 0 <= place < len(points):
        point = points[place]
        if reached[point]:
            return place if from_left and from_right else None
        if len(seams.through[point]) != 1 or place in (0, len(points) - 1):
            return None
        left, right = seams.arrivals(seam, place)
        from_left, from_right = from_left or left, from_right or right
        place += way
    return None
