"""Curves drawn twice, as the shared border of two shapes is: one run for each stretch.

Knows:  which curves run along one another, also where one of them is drawn in other pieces than its twin.
Leaves: straight lines drawn twice (doubled), curves in several pieces that go on into each other (bends, runon).
Units:  inches.
Method: a curve is parted at the ends of those that run along it; what then leads between the same two points and
        keeps near its twin all the way is one. Near is what flattening and rounding to 0.001 in allow; for the
        borders of two shapes, or where an end hangs, it is the tolerance, as for straight lines.
"""

from __future__ import annotations

import math
from dataclasses import replace
from itertools import pairwise

import shapely

from seamwright.block.net import Net, Run, near_pairs, place_on
from seamwright.block.strokes import SAME_IN
from seamwright.geometry import Point

ALONG = 0.3
"""Sine of the largest angle between curves that run along one another: their pieces are chords."""


def join_twins(net: Net, tolerance: float) -> None:
    """Curves that are drawn twice become one; in a net that is refreshed before and after."""
    if sum(bool(run.curve) for run in net.runs) < 2:
        return
    # Those held at both ends come first, so that they stay where one is drawn again loosely.
    hanging = frozenset(net.hanging())
    for run in net.runs:
        run.unsteady = bool(run.curve) and not hanging.isdisjoint(run.ends)
    net.runs.sort(key=lambda run: run.unsteady)
    net.refresh()
    _join_ends(net, tolerance, hanging)
    net.refresh()
    _part(net, tolerance)
    _keep_one(net, tolerance)
    net.refresh()


def _near(one: Run, other: Run, tolerance: float) -> float:
    """How far apart two curves that are one may lie."""
    two_shapes = one.shapes and other.shapes and not one.shapes & other.shapes
    loose = one.unsteady or other.unsteady
    return max(tolerance, 2 * SAME_IN) if two_shapes or loose else 2 * SAME_IN


def _join_ends(net: Net, tolerance: float, hanging: frozenset[int]) -> None:
    """Ends of two shapes' curves that start beside each other and lie near each other become one."""
    ends = [(n, side) for n, run in enumerate(net.runs) if run.curve for side in (0, 1)]
    spots = shapely.points([net.at[net.runs[n].ends[side]] for n, side in ends])
    close = []
    for i, j in near_pairs(shapely.STRtree(spots), spots, tolerance, net.steps):
        (one, side), (other, way) = ends[i], ends[j]
        a, b = net.runs[one].ends[side], net.runs[other].ends[way]
        gap = math.dist(net.at[a], net.at[b])
        if i < j and a != b and gap <= _near(net.runs[one], net.runs[other], tolerance):
            close.append((gap, a, b, _leaving(net, one, side), _leaving(net, other, way)))
    for gap, a, b, ahead, other_ahead in sorted(close):
        apart = not net.shapes_at(a) & net.shapes_at(b)
        if (
            net.find(a) != net.find(b)
            and apart
            and _sine(ahead, other_ahead) <= ALONG
            and _dot(ahead, other_ahead) > 0
        ):
            if gap > SAME_IN:
                net.repaired("doubled", net.at[a], gap)
            net.merge(*((b, a) if a in hanging else (a, b)))


def _part(net: Net, tolerance: float) -> None:
    """Part curves at the ends of those that run along them."""
    curves = [n for n, run in enumerate(net.runs) if run.curve]
    lines = [shapely.LineString(net.shape(net.runs[n])) for n in curves]
    ends = [(n, side) for n in curves for side in (0, 1)]
    spots = shapely.points([net.at[net.runs[n].ends[side]] for n, side in ends])
    stops: dict[int, dict[int, float]] = {}
    for end, line in near_pairs(shapely.STRtree(lines), spots, max(tolerance, 2 * SAME_IN), net.steps):
        (other, side), number = ends[end], curves[line]
        run, node = net.runs[number], net.runs[other].ends[side]
        if other == number or node in run.ends:
            continue
        near = _near(run, net.runs[other], tolerance)
        points = net.shape(run)
        net.steps.take(len(points) // 8 + 1)
        place, foot = place_on(points, net.at[node])
        inside = near < place < lines[line].length - near
        if not inside or math.dist(foot, net.at[node]) > near:
            continue
        if _sine(_direction(points, place), _leaving(net, other, side)) <= ALONG:
            stops.setdefault(number, {})[node] = place
    made = [run for n, run in enumerate(net.runs) if n not in stops]
    for number in sorted(stops):
        made += _pieces(net, net.runs[number], stops[number])
    net.runs = made
    net.refresh()


def _pieces(net: Net, run: Run, stops: dict[int, float]) -> list[Run]:
    """A curve parted at nodes on it, in its order."""
    points = net.shape(run)
    order = sorted(stops, key=lambda n: (stops[n], n))
    places = [0.0, *(stops[n] for n in order), math.inf]
    found = []
    for (low, high), ends in zip(pairwise(places), pairwise([run.ends[0], *order, run.ends[1]]), strict=True):
        done, inner = 0.0, []
        for p, q in pairwise(points):
            done += math.dist(p, q)
            if low + SAME_IN < done < high - SAME_IN:
                inner.append(q)
        if inner and high == math.inf:
            inner.pop()
        on = {n for n in run.on - set(order) if low < place_on(points, net.at[n])[0] < high}
        curve = (net.at[ends[0]], *inner, net.at[ends[1]]) if inner else ()
        found.append(replace(run, ends=list(ends), on=on, curve=curve))
    return found


def _keep_one(net: Net, tolerance: float) -> None:
    """Of curves between the same two points that keep near each other the first, with the shapes of all."""
    kept: list[Run] = []
    between: dict[tuple[int, ...], list[int]] = {}
    for run in net.runs:
        twins = between.setdefault(tuple(sorted(run.ends)), [])
        line = shapely.LineString(net.shape(run))
        for place in twins if run.curve else ():
            other = kept[place]
            net.steps.take(len(run.curve))
            apart = shapely.hausdorff_distance(line, shapely.LineString(net.shape(other)))
            if other.curve and apart <= _near(run, other, tolerance):
                if apart > 2 * SAME_IN:
                    net.repaired("doubled", run.curve[len(run.curve) // 2], float(apart))
                kept[place] = replace(
                    other,
                    on=other.on | run.on,
                    shapes=other.shapes | run.shapes,
                    border=other.border or run.border,
                )
                break
        else:
            twins.append(len(kept))
            kept.append(run)
    net.runs = kept


def _leaving(net: Net, number: int, side: int) -> Point:
    """Direction from an end into its run."""
    points = net.shape(net.runs[number])
    a, b = points[:2] if side == 0 else points[:-3:-1]
    return (b[0] - a[0], b[1] - a[1])


def _direction(points: tuple[Point, ...], place: float) -> Point:
    """Direction of a polyline so far along it."""
    done = 0.0
    for p, q in pairwise(points):
        done += math.dist(p, q)
        if done >= place:
            break
    return (q[0] - p[0], q[1] - p[1])


def _sine(a: Point, b: Point) -> float:
    return abs(a[0] * b[1] - a[1] * b[0]) / (math.hypot(*a) * math.hypot(*b))


def _dot(a: Point, b: Point) -> float:
    return a[0] * b[0] + a[1] * b[1]
