"""Corners beside a line that was drawn unsteadily: they lie on it, once it is straight.

Knows:  no hand draws a curve to 0.001 in;
        a point at which lines meet to 0.001 in was put there on purpose, and a line that wavers by more than
        that is known no better than it was drawn: what is meant to lie on it may lie beside it, by the tolerance at
        most.
Leaves: which lines are unsteady (straight, doubled), ends that hang (closing), moving (settle).
Units:  inches.
Method: two lines meet at most once, so a point is not put on a line that one of its own meets elsewhere.
"""

from __future__ import annotations

import math

from seamwright.block.net import Net, Run, meet
from seamwright.block.strokes import SAME_IN
from seamwright.geometry import Point, along


def lay_on_unsteady(net: Net, tolerance: float) -> int:
    """Put drawn points beside unsteady straight runs on them; returns how many were put."""
    unsteady = {number for number, run in enumerate(net.runs) if run.unsteady or run.curve}
    nodes = [n for n in net.nodes() if net.drawn[n]]
    count = 0
    beside = net.near_runs(nodes, tolerance)
    order = sorted((gap, net.at[n], n, number) for n, some in beside.items() for gap, number in some)
    for gap, _, node, number in order:
        run = net.runs[number]
        if (number not in unsteady and gap > SAME_IN) or node in run.on or not _may_lie(net, node, run, tolerance):
            continue
        run.on.add(node)
        net.through.setdefault(node, []).append(number)
        if gap > SAME_IN:
            net.repaired("closed", net.at[node], gap)
        count += 1
    if count:
        net.refresh()
    return count


def _may_lie(net: Net, node: int, run: Run, tolerance: float) -> bool:
    """Whether a point may be put on a run: it is no end of it, and none of its lines meets it anywhere else."""
    at, line = net.at[node], net.shape(run)
    if any(math.dist(at, p) <= tolerance for p in (line[0], line[-1])):
        return False
    have = {*run.ends, *run.on}
    for number in {*(r for r, _ in net.ends_at.get(node, ())), *net.through.get(node, ())}:
        other = net.runs[number]
        if run.curve or other.curve:
            # Curves may meet twice, but hardly so near.
            if any(math.dist(net.at[n], at) <= 4 * tolerance for n in have & {*other.ends, *other.on}):
                return False
            continue
        if have & {*other.ends, *other.on}:
            return False
        cross = meet(*line, *net.shape(other))
        if cross is not None and math.dist(cross, at) > tolerance and _inside(cross, line, net.shape(other)):
            return False
    return True


def _inside(at: Point, *lines: tuple[Point, ...]) -> bool:
    """Whether a place on both lines lies between the ends of both."""
    return all(0 <= along(at, p, q) <= math.dist(p, q) for p, q in lines)
