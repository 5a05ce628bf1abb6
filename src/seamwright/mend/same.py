"""Whether two blocks are one and the same map.

Knows:  points that lie near each other, edges, seams, patches and their fabrics.
Leaves: why they should be.
Units:  inches.
"""

from __future__ import annotations

import math

from seamwright.block.model import OUTLINE, Block
from seamwright.geometry import Point


def same_map(one: Block, other: Block, within: float, fabrics: bool = True) -> str:
    """ "" if two blocks are the same map, their points no further than `within` apart; else what differs."""
    if len(one.points) != len(other.points) or len(one.patches) != len(other.patches):
        return f"{len(one.patches)} patches, {len(other.patches)} patches"
    to = _matched(one, other, within)
    if to is None:
        return "the points do not match"
    edges = {frozenset((to[e.start], to[e.end])): e.seam == OUTLINE for e in one.edges}
    if edges != {frozenset((e.start, e.end)): e.seam == OUTLINE for e in other.edges}:
        return "the edges differ"
    if {frozenset(to[n] for n in s.points) for s in one.seams} != {frozenset(s.points) for s in other.seams}:
        return "the seams differ"
    theirs = {frozenset(p.ring): p for p in other.patches}
    for patch in one.patches:
        match = theirs.get(frozenset(to[n] for n in patch.ring))
        if match is None:
            return "the patches differ"
        if fabrics and match.fabric != patch.fabric:
            return f"a patch is {match.fabric} and should be {patch.fabric}"
    return ""


def _matched(one: Block, other: Block, within: float) -> list[int] | None:
    """For each point of one the point of the other that lies nearest; None unless they match one to one."""
    size = max(2 * within, 1e-6)
    cells: dict[tuple[int, int], list[int]] = {}
    for number, (x, y) in enumerate(other.points):
        cells.setdefault((math.floor(x / size), math.floor(y / size)), []).append(number)

    def nearest(point: Point) -> int | None:
        i, j = math.floor(point[0] / size), math.floor(point[1] / size)
        near = [n for a in (-1, 0, 1) for b in (-1, 0, 1) for n in cells.get((i + a, j + b), ())]
        best = min(near, key=lambda n: math.dist(point, other.points[n]), default=None)
        return best if best is not None and math.dist(point, other.points[best]) <= within else None

    found = [nearest(point) for point in one.points]
    if None in found or len(set(found)) != len(found):
        return None
    return [n for n in found if n is not None]
