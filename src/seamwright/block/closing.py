"""Closing: ends that hang within the tolerance of something are put on it, overshoots are trimmed.

Knows:  an end hangs if nothing else lies on it to 0.001 in; only hanging ends are moved.
Leaves: ends with nothing in reach (outline reports them).
Units:  inches.
Method: hanging ends near each other, or near a point or crossing, become one with it, nearest pairs first and no
        group wider than the tolerance; what is left is put on the nearest run. The new place keeps to the lines
        as drawn where they meet well, so that closing a corner turns no line.
"""

from __future__ import annotations

import math
from collections.abc import Sequence

import shapely

from seamwright.block.net import Net, meet, place_on, sine
from seamwright.block.strokes import SAME_IN
from seamwright.geometry import Point, along

STEEP = 0.26
"""Sine of 15 degrees: lines that meet at less are not prolonged to where they would meet, which may be far off."""
REACH = 4.0
"""How many tolerances a line may be prolonged to meet another at a slant."""


def close_ends(net: Net, tolerance: float, hanging: frozenset[int]) -> None:
    """Put every hanging end on the point or run in reach."""
    own = {n: net.ends_at[n][0][0] for n in sorted(hanging)}
    was = {n: net.at[n] for n in hanging}
    for group in _groups(net, hanging, own, tolerance):
        loose = [n for n in group if n in hanging]
        fixed = [n for n in group if n not in hanging]
        runs = [own[n] for n in loose]
        centre = _middle([was[n] for n in loose])
        target = None
        if not fixed:
            fixed = _crossing(net, runs, [was[n] for n in loose], tolerance)
        if not fixed:
            target, corner = _nearest_run(net, loose, runs, centre, tolerance)
            fixed = [] if corner is None else [corner]
            if target is None and not fixed and len(loose) == 1:
                continue
        for n in loose:
            net.merge((fixed or loose)[0], n)
        if not fixed:
            one = net.find(loose[0])
            net.at[one] = _place(net, centre, runs, target, tolerance)
            if target is not None:
                net.runs[target].on.add(one)
        for n in loose:
            _report(net, own[n], n, was[n])
    net.refresh()


def _groups(net: Net, hanging: frozenset[int], own: dict[int, int], tolerance: float) -> list[list[int]]:
    """Hanging ends with the one drawn point they join, or with each other; each hanging end is in one group."""
    nodes = [n for n in net.nodes() if net.drawn[n]]
    spots = shapely.points([net.at[n] for n in nodes])
    pairs = []
    loose = sorted(hanging)
    found = shapely.STRtree(spots).query(shapely.points([net.at[n] for n in loose]), "dwithin", tolerance)
    for i, j in zip(*found.tolist(), strict=True):
        a, b = loose[i], nodes[j]
        if a != b and not (b in hanging and (b < a or own[a] == own[b])):
            pairs.append((round(math.dist(net.at[a], net.at[b]), 9), net.at[a], net.at[b], a, b))
    group_of = {n: [n] for n in loose}
    for _, _, _, a, b in sorted(pairs):
        mine, its = group_of[a], group_of.get(b, [b])
        if mine is its:
            continue
        both = sorted({*mine, *its})
        fixed = [n for n in both if n not in hanging]
        if len(fixed) > 1 or any(math.dist(net.at[p], net.at[q]) > tolerance for p in both for q in both):
            continue
        runs = [own[n] for n in both if n in hanging]
        if len(set(runs)) < len(runs) or any(f in net.runs[r].ends for f in fixed for r in runs):
            continue
        for n in both:
            if n in hanging:
                group_of[n] = both
    groups, seen = [], set[int]()
    for n in loose:
        if n not in seen:
            groups.append(group_of[n])
            seen.update(group_of[n])
    return groups


def _crossing(net: Net, runs: list[int], ends: list[Point], tolerance: float) -> list[int]:
    """The nearest crossing of two other runs in reach of all the ends, if there is one."""
    reach = []
    for node, through in net.through.items():
        if not net.drawn[node] and len(set(through) - set(runs)) > 1:
            far = max(math.dist(net.at[node], e) for e in ends)
            if far <= tolerance:
                reach.append((far, net.at[node], node))
    return [min(reach)[2]] if reach else []


def _nearest_run(
    net: Net, loose: Sequence[int], runs: list[int], centre: Point, tolerance: float
) -> tuple[int | None, int | None]:
    """The nearest run in reach that none of the ends belongs to, or the near point at which one of them meets it."""
    probe = net.node(centre)
    near = net.near_runs([probe], tolerance).get(probe, [])
    net.forget_last()
    mine = {net.find(n) for r in runs for n in (*net.runs[r].ends, *net.runs[r].on)} - set(loose)
    for _, number in near:
        if number in runs:
            continue
        met = {net.find(n) for n in (*net.runs[number].ends, *net.runs[number].on)} & mine
        met = {n for n in met if net.drawn[n]}
        if not met:
            return number, None
        # Both lines run past their corner: the end goes where the other one was put.
        beside = [n for n in sorted(met) if math.dist(net.at[n], centre) <= REACH * tolerance]
        if beside and not any(beside[0] == net.find(e) for r in runs for e in net.runs[r].ends):
            return None, beside[0]
    return None, None


def _place(net: Net, centre: Point, runs: list[int], target: int | None, tolerance: float) -> Point:
    """Where the lines of the ends (and of the run they end on) meet, or the middle of the ends."""
    numbers = [*runs, *([] if target is None else [target])]
    straight = [net.shape(net.runs[n]) for n in numbers if not net.runs[n].curve]
    if target is not None and net.runs[target].curve:
        return place_on(net.shape(net.runs[target]), centre)[1]
    if len(straight) == 2 == len(numbers) and sine(*straight[0], *straight[1]) > STEEP:
        cross = meet(*straight[0], *straight[1])
        if cross is not None and math.dist(cross, centre) <= REACH * tolerance:
            return cross
    if target is not None:
        return place_on(net.shape(net.runs[target]), centre)[1]
    return nearest_to_lines(straight, centre)


def nearest_to_lines(lines: Sequence[Sequence[Point]], centre: Point) -> Point:
    """The place with the least squares of distances from lines, drawn a little to `centre` for lines that hardly
    cross."""
    xx = xy = yy = rx = ry = 0.0
    for a, b in lines:
        length = math.dist(a, b)
        nx, ny = (a[1] - b[1]) / length, (b[0] - a[0]) / length
        off = nx * (centre[0] - a[0]) + ny * (centre[1] - a[1])
        xx, xy, yy = xx + nx * nx, xy + nx * ny, yy + ny * ny
        rx, ry = rx - nx * off, ry - ny * off
    pull = 0.05
    det = (xx + pull) * (yy + pull) - xy * xy
    return (centre[0] + ((yy + pull) * rx - xy * ry) / det, centre[1] + ((xx + pull) * ry - xy * rx) / det)


def _report(net: Net, run: int, node: int, was: Point) -> None:
    new = net.at[net.find(node)]
    far = next((n for n in net.runs[run].ends if n != node), node)
    if math.dist(was, new) <= SAME_IN:
        return
    start = net.at[net.find(far)]
    past = start != was and along(new, start, was) < math.dist(start, was)
    net.repaired("trimmed" if past else "closed", new, math.dist(was, new))


def _middle(places: Sequence[Point]) -> Point:
    return (math.fsum(p[0] for p in places) / len(places), math.fsum(p[1] for p in places) / len(places))
