"""Overlaid runs: straight runs that have come to lie on one another, once their points were moved, become one.

Knows:  runs that share a piece between two points; they are one line then, if that line holds all their points.
Leaves: lines that were drawn twice (doubled), moving the points on to the line (settle).
Units:  inches.
Method: a sliver thinner than 0.001 in closes as its points are put on the lines beside it. Two runs are left on one
        piece of it, and beyond either end of that piece only one of them: told apart they would be two seams that
        turn at a point where nothing turns.
"""

from __future__ import annotations

import math
from dataclasses import replace
from itertools import pairwise

from seamwright.block.net import Net, Run, Union
from seamwright.block.strokes import SAME_IN
from seamwright.geometry import along, off_line


def join_overlaid(net: Net) -> bool:
    """Make runs one that share a piece; returns whether any were."""
    union = Union(len(net.runs))
    owners: dict[tuple[int, int], int] = {}
    for number, run in enumerate(net.runs):
        if run.curve:
            continue
        inner = sorted(run.on, key=lambda n: (net.place(run, net.at[n]), n))
        for m, n in pairwise([run.ends[0], *inner, run.ends[1]]):
            one = owners.setdefault((min(m, n), max(m, n)), number)
            if union.find(one) != union.find(number):
                union.merge(one, number)
    groups = [[net.runs[number] for number in group] for group in union.groups()]
    made = [_one(net, group) if len(group) > 1 else None for group in groups]
    if not any(made):
        return False
    net.runs = [
        run for whole, group in zip(made, groups, strict=True) for run in ([whole] if whole is not None else group)
    ]
    net.refresh()
    return True


def _one(net: Net, runs: list[Run]) -> Run | None:
    """The run of all of them, from end to end; None if they do not keep to one line."""
    longest = max(runs, key=lambda run: math.dist(*net.shape(run)))
    nodes = sorted({n for run in runs for n in (*run.ends, *run.on)})
    places = {n: along(net.at[n], *net.shape(longest)) for n in nodes}
    first, last = (end(nodes, key=lambda n: (places[n], n)) for end in (min, max))
    if any(abs(off_line(net.at[n], net.at[first], net.at[last])) > SAME_IN for n in nodes):
        return None
    return replace(
        longest,
        ends=[first, last],
        on=set(nodes) - {first, last},
        border=any(run.border for run in runs),
        shapes=frozenset().union(*(run.shapes for run in runs)),
    )
