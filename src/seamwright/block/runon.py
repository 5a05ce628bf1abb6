"""Curves that run on: at a point each edge runs on into one other at most, the smoothest.

Knows:  which ends of seams go on into each other where at least one of them is a curve.
Leaves: straight seams (they run on as tidying decided), corners, what follows for sewing (piecing).
Method: at each point inside the block the ends that bend least into each other are paired first: by their tangents
        there and, a little way on, by their curvature, so that an arc runs on into its own circle and not into the
        line that is tangent to it. The other is a branch that ends there. A seam that would meet itself on the way
        is not made longer, unless it closes to a ring.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace
from itertools import pairwise

from seamwright.block.model import OUTLINE, Block, Seam
from seamwright.geometry import Point

SMOOTH = math.radians(15) + 1e-9
"""A needle follows a bend of so much without a stop; what turns more sharply is a corner."""
CORNER = math.radians(30)
"""A curve that turns by more at a step is two: a flattened one turns by less, unless it is too tight to sew."""
ON_IN = 1 / 4
"""So far on from a point it is asked how much two ends have bent away from each other."""
EVEN = 1e-6
"""Turns that differ by less are equally smooth; then place decides."""

End = tuple[int, int]
"""(seam, 0 for its first point or -1 for its last)."""


@dataclass(frozen=True, slots=True)
class _Pair:
    """Two ends, and by how much the way from one into the other bends (radians)."""

    bend: float
    at: Point
    one: End
    two: End


def run_on(block: Block) -> Block:
    """The block with seams joined where a curve runs on smoothly; the seams are numbered anew."""
    if all(seam.straight for seam in block.seams):
        return block
    block = _parted(block)
    chains = dict(enumerate(block.seams))
    owner = list(range(len(block.seams)))

    def end_of(end: End) -> tuple[int, int]:
        """The chain of an end, and whether the end is its first (0) or last (-1) point still."""
        chain = owner[end[0]]
        return chain, 0 if chains[chain].points[0] == block.seams[end[0]].points[end[1]] else -1

    for pair in _pairs(block):
        (one, first), (two, second) = end_of(pair.one), end_of(pair.two)
        a, b = chains[one], chains[two]
        if one == two:
            continue
        ahead = a if first == -1 else _reversed(a)
        behind = b if second == 0 else _reversed(b)
        meets = set(ahead.points) & set(behind.points) - {ahead.points[-1]}
        if meets - ({ahead.points[0]} & {behind.points[-1]}):
            continue
        if meets and _turn(block, (behind.edges[-1], ahead.edges[0]), ahead.points[0]) > SMOOTH:
            continue  # it would close with a corner
        chains[one] = Seam((*ahead.points, *behind.points[1:]), (*ahead.edges, *behind.edges), False)
        del chains[two]
        owner = [one if chain == two else chain for chain in owner]
    order = {chain: number for number, chain in enumerate(chains)}
    edges = tuple(
        edge if edge.seam == OUTLINE else replace(edge, seam=order[owner[edge.seam]]) for edge in block.edges
    )
    return replace(block, edges=edges, seams=tuple(chains.values()))


def _parted(block: Block) -> Block:
    """The block with curved seams parted where they turn a corner: near crossings, moved together, may make one."""
    seams: list[Seam] = []
    for seam in block.seams:
        inner = [] if seam.straight else range(1, len(seam.points) - 1)
        corners = [k for k in inner if _turn(block, seam.edges[k - 1 : k + 1], seam.points[k]) > CORNER]
        if inner and seam.points[0] == seam.points[-1]:
            corner = _turn(block, (seam.edges[-1], seam.edges[0]), seam.points[0]) > CORNER
            # A ring with a corner is an open seam that comes back to it: it is parted somewhere else as well.
            corners = corners or [1] * corner
        for start, end in pairwise([0, *corners, len(seam.points) - 1]):
            edges = seam.edges[start:end]
            straight = seam.straight or not any(block.edges[e].via for e in edges)
            seams.append(Seam(seam.points[start : end + 1], edges, straight) if corners else seam)
    if len(seams) == len(block.seams):
        return block
    number_of = {edge: number for number, seam in enumerate(seams) for edge in seam.edges}
    numbered = tuple(replace(edge, seam=number_of.get(n, edge.seam)) for n, edge in enumerate(block.edges))
    return replace(block, edges=numbered, seams=tuple(seams))


def _turn(block: Block, edges: Sequence[int], point: int) -> float:
    """Angle turned at a point between two edges that are not one, radians."""
    before, after = (_leaving(block, edge, point)[0] for edge in edges)
    return _between(before, after)


def _reversed(seam: Seam) -> Seam:
    return replace(seam, points=seam.points[::-1], edges=seam.edges[::-1])


def _pairs(block: Block) -> list[_Pair]:
    """Ends that may run on into each other, each end once, the smoothest first."""
    around: dict[int, list[End]] = {}
    on_outline = set(block.outline)
    for number, seam in enumerate(block.seams):
        if seam.points[0] != seam.points[-1]:
            for side in (0, -1):
                if seam.points[side] not in on_outline:
                    around.setdefault(seam.points[side], []).append((number, side))
    found: list[_Pair] = []
    for point in sorted(around):
        ends = around[point]
        choices = [
            _Pair(bend, block.points[point], e, f)
            for i, e in enumerate(ends)
            for f in ends[i + 1 :]
            if not (block.seams[e[0]].straight and block.seams[f[0]].straight)
            and e[0] != f[0]
            and (bend := _bend_on(block, e, f)) is not None
        ]
        taken: set[End] = set()
        for pair in sorted(choices, key=lambda p: (round(p.bend / EVEN), _far(block, p))):
            if pair.one not in taken and pair.two not in taken:
                taken |= {pair.one, pair.two}
                found.append(pair)
    return sorted(found, key=lambda p: (round(p.bend / EVEN), p.at))


def _far(block: Block, pair: _Pair) -> tuple[Point, ...]:
    """Where the seams of a pair lead to: what decides between pairs that turn alike."""
    return tuple(sorted(block.points[block.seams[n].points[-1 - side]] for n, side in (pair.one, pair.two)))


def _bend_on(block: Block, e: End, f: End) -> float | None:
    """By how much the way into end e and on out of end f bends, radians; None if it turns a corner."""
    (one, curve_one), (two, curve_two) = (
        _leaving(block, block.seams[n].edges[side], block.seams[n].points[side]) for n, side in (e, f)
    )
    turn = _between(one, two)
    # Both are walked away from the point: of one curve the two curvatures are opposite.
    return None if turn > SMOOTH else turn + abs(curve_one + curve_two) * ON_IN


def _between(one: float, two: float) -> float:
    """Angle turned in coming against direction `one` and going on in direction `two`, radians."""
    return abs(math.remainder(two - one - math.pi, math.tau))


def angle_between(before: Point, at: Point, after: Point) -> float:
    """Angle turned at a point in coming from one and going on to another, radians, 0 to pi."""
    ux, uy, vx, vy = at[0] - before[0], at[1] - before[1], after[0] - at[0], after[1] - at[1]
    return abs(math.atan2(ux * vy - uy * vx, ux * vx + uy * vy))


def _leaving(block: Block, number: int, point: int) -> tuple[float, float]:
    """(direction, curvature) with which an edge leaves a point, as of the circle through its first three points."""
    run = block.edge_points(number)
    if block.edges[number].start != point:
        run = run[::-1]
    (ax, ay), (bx, by) = run[:2]
    first = math.atan2(by - ay, bx - ax)
    if len(run) == 2:
        return first, 0.0
    cx, cy = run[2]
    one, two = math.dist(run[0], run[1]), math.dist(run[1], run[2])
    turn = math.remainder(math.atan2(cy - by, cx - bx) - first, math.tau)
    return first - turn * one / (one + two), 2 * turn / (one + two)
