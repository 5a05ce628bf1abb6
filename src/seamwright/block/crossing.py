"""Crossings: where runs cross they share a node; crossings that nearly meet in one point become one.

Knows:  two straight runs meet at most once; crossings within 0.001 in of each other are one.
Leaves: moving (settle).
Units:  inches.
Method: pairs of crossing pieces by search tree. Near crossings become one only where three runs or more each cross
        the others there (a small triangle): crossings of two lines that run beside each other stay two.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from itertools import pairwise

import numpy as np
import numpy.typing as npt
import shapely

from seamwright.block.closing import nearest_to_lines
from seamwright.block.net import CHUNK, Net, Union, box_pairs, clusters, meet
from seamwright.block.steps import Steps
from seamwright.block.strokes import SAME_IN
from seamwright.errors import DrawingError, fail
from seamwright.geometry import Point

ROUNDING_IN = 1e-9
"""Crossings differ by less from where they were written when they are read again."""
TOUCH_IN = 2e-7
"""A curve this near to a line touches it. What is drawn to touch misses by a rounding, and what holds together by
no more than that is one patch in one reading and two in another."""


def _crossing_pieces(
    tree: shapely.STRtree, curved: npt.NDArray[np.intp], most: int, steps: Steps
) -> list[tuple[int, int]]:
    """Pairs of pieces that cross inside both, or of which one belongs to a curve and touches the other."""
    pieces = np.asarray(tree.geometries)
    found: set[tuple[int, int]] = set()
    for start in range(0, len(pieces), CHUNK):
        box_pairs(tree, pieces[start : start + CHUNK], steps)
        some = tree.query(pieces[start : start + CHUNK], "crosses")
        ahead = some[:, some[0] + start < some[1]]
        found.update(zip((ahead[0] + start).tolist(), ahead[1].tolist(), strict=True))
        if len(found) > most:
            break
    # A line may pass a curve exactly at one of the points it was flattened to.
    for start in range(0, len(curved), CHUNK):
        some = tree.query(pieces[curved[start : start + CHUNK]], "dwithin", distance=TOUCH_IN)
        for p, q in zip(curved[start + some[0]].tolist(), some[1].tolist(), strict=True):
            if p != q:
                found.add((min(p, q), max(p, q)))
    return sorted(found)


def node_crossings(net: Net, most: int, drawing: str = "", apart: frozenset[int] = frozenset()) -> int:
    """Give runs that cross a node there; returns how many were made.

    Args:
        most: how many crossings are too many.
        apart: nodes that stay by themselves, however near a crossing is.

    Raises:
        DrawingError: more than `most` crossings.
    """
    _fuse(net, apart)
    if not net.runs:
        return 0
    tree, owners = net.trees(parted=True)
    curved_pieces = np.flatnonzero([bool(net.runs[r].curve) for r in owners])
    pairs = _crossing_pieces(tree, curved_pieces, most, net.steps)
    if len(pairs) > most + 4 * len(curved_pieces):
        raise fail(
            DrawingError,
            "too many crossings",
            f"lines of the drawing cross each other more than {most:,} times",
            "Keep the block's seams and leave hatching, pictures and text out",
            drawing=drawing,
        )
    have = [{*run.ends, *run.on} for run in net.runs]
    made = []
    net.steps.take(4 * len(pairs))
    for p, q in pairs:
        i, j = owners[p], owners[q]
        if i == j:
            _refuse_loop(net, i, p, q, owners, drawing)
            continue
        curved = net.runs[i].curve or net.runs[j].curve
        shared = have[i] & have[j]
        if shared and not curved:
            continue
        a, b = shapely.get_coordinates(tree.geometries[p]).tolist()
        c, d = shapely.get_coordinates(tree.geometries[q]).tolist()
        at = meet(a, b, c, d)
        if at is not None and curved:
            # Lines that all but run along each other meet anywhere: there what counts is where they are nearest.
            bent, other = (p, q) if net.runs[i].curve else (q, p)
            if shapely.distance(shapely.Point(at), tree.geometries[bent]) > SAME_IN:
                nearest = shapely.shortest_line(tree.geometries[bent], tree.geometries[other])
                at = tuple(shapely.get_coordinates(nearest)[0].tolist())
            at = _at_its_point(at, [*((a, b) if net.runs[i].curve else ()), *((c, d) if net.runs[j].curve else ())])
        if at is None or any(math.dist(at, net.at[n]) <= SAME_IN for n in shared):
            continue
        node = net.node(at)
        net.runs[i].on.add(node)
        net.runs[j].on.add(node)
        if not curved:
            have[i].add(node)
            have[j].add(node)
        made.append(node)
    _fuse(net, apart)
    return len(made)


def _at_its_point(at: Point, points: Sequence[Point]) -> Point:
    """The crossing, on a point of the curve if it is there but for rounding: written and read it stays there."""
    return next(((x, y) for x, y in points if math.dist(at, (x, y)) <= ROUNDING_IN), at)


def _refuse_loop(net: Net, number: int, p: int, q: int, owners: list[int], drawing: str) -> None:
    """A curve may not cross itself: the run that such a seam would be has no order."""
    run = net.runs[number]
    if not run.curve:
        return
    points = net.shape(run)
    first = owners.index(number)
    ends_meet = run.ends[0] == run.ends[1] and {p - first, q - first} == {0, len(points) - 2}
    if abs(p - q) > 1 and not ends_meet:
        between = points[min(p, q) - first + 1 : max(p, q) - first + 1]
        if sum(map(math.dist, between, between[1:])) <= SAME_IN:
            return  # pieces so short that they are one place lie near each other, whether they cross or not
        at = points[q - first]
        raise fail(
            DrawingError,
            "curve",
            f"{run.source or 'a curve'} crosses itself near ({at[0]:.3f}, {at[1]:.3f}) in",
            "Draw it as two curves that meet where it crosses",
            drawing=drawing,
        )


def _fuse(net: Net, apart: frozenset[int]) -> None:
    """Crossings within 0.001 in of each other or of a point are one with it."""
    net.refresh()
    nodes = [n for n in net.nodes() if n not in apart]
    for group in clusters([net.at[n] for n in nodes], SAME_IN):
        members = sorted((nodes[i] for i in group), key=lambda n: (not net.fast[n], not net.drawn[n], net.at[n]))
        for n in members[1:]:
            net.merge(members[0], n)
    net.refresh()


def gather_stars(net: Net, tolerance: float, spoilt: Sequence[Point] = ()) -> int:
    """Make crossings that nearly meet in one point one; returns how many were gathered.

    Args:
        spoilt: places where nothing is to be gathered.
    """
    gathered = 0
    while merged := _triangles(net, tolerance, spoilt):
        gathered += merged
    return gathered


def _triangles(net: Net, tolerance: float, spoilt: Sequence[Point]) -> int:
    runs_at: dict[int, set[int]] = {}
    for number, run in enumerate(net.runs):
        for node in (*run.ends, *run.on):
            runs_at.setdefault(node, set()).add(number)
    found = set()
    for number, run in enumerate(net.runs):
        if run.curve:
            continue
        net.steps.take(4 * len(run.on) + 1)
        order = sorted({*run.ends, *run.on}, key=lambda n: (net.place(run, net.at[n]), n))
        for m, n in pairwise(order):
            if math.dist(net.at[m], net.at[n]) > tolerance or (net.fast[m] and net.fast[n]):
                continue
            if any(math.dist(net.at[m], p) <= 2 * tolerance for p in spoilt):
                continue
            for a in sorted(runs_at[m] - {number}):
                for b in sorted(runs_at[n] - {number, a}):
                    net.steps.take(1 + (len(net.runs[a].on) + len(net.runs[b].on)) // 8)
                    here = {*net.runs[a].ends, *net.runs[a].on}
                    for k in sorted((here & {*net.runs[b].ends, *net.runs[b].on}) - {m, n}):
                        three = tuple(sorted((m, n, k)))
                        found.add((round(_width([net.at[x] for x in three]), 9), three))
    union = Union(len(net.at))
    groups: dict[int, list[int]] = {}
    for width, three in sorted(found, key=lambda f: (f[0], [net.at[x] for x in f[1]])):
        if width > tolerance:
            break
        roots = sorted({union.find(x) for x in three})
        members = sorted({y for r in roots for y in groups.get(r, [r])})
        if len(roots) < 2 or sum(net.fast[x] for x in members) > 1:
            continue
        if _width([net.at[x] for x in members]) > 2 * tolerance:
            continue
        for r in roots[1:]:
            union.merge(roots[0], r)
        groups[union.find(roots[0])] = members
    count = 0
    for root in sorted(groups):
        if union.find(root) != root:
            continue
        members = groups[root]
        centre = _centre(net, members, runs_at)
        net.repaired("gathered", centre, max(math.dist(centre, net.at[x]) for x in members))
        for x in members[1:]:
            net.merge(members[0], x)
        net.at[net.find(members[0])] = centre
        count += 1
    net.refresh()
    return count


def _centre(net: Net, members: list[int], runs_at: dict[int, set[int]]) -> Point:
    fast = [x for x in members if net.fast[x] or net.pinned[x]]
    if fast:
        return net.at[fast[0]]
    middle = (
        math.fsum(net.at[x][0] for x in members) / len(members),
        math.fsum(net.at[x][1] for x in members) / len(members),
    )
    numbers = sorted({r for x in members for r in runs_at[x] if not net.runs[r].curve})
    return nearest_to_lines([net.shape(net.runs[r])[:2] for r in numbers], middle)


def _width(places: list[Point]) -> float:
    return max(math.dist(p, q) for p in places for q in places)
