"""Runs that turn out to be one line once their points were moved: overlaid ones, and ones that run straight on.

Knows:  straight runs that share a piece between two points; straight runs whose points all lie on one line, one of
        them beginning where the other ends. Told apart they would be two seams that turn where nothing turns.
Leaves: lines that were drawn twice (doubled) or unsteadily (straight), moving points on to a line (settle).
Units:  inches.
Method: a sliver thinner than 0.001 in closes as its points are put on the lines beside it: two runs are left on one
        piece of it, and beyond it only one of them. A run that could not be straight for a while, because of points
        that were put elsewhere since, was parted and is straight again.
"""

from __future__ import annotations

import math
from dataclasses import replace
from itertools import combinations, pairwise

from seamwright.block.net import Net, Run, Union
from seamwright.block.straight import End, chains
from seamwright.block.strokes import SAME_IN
from seamwright.geometry import along, off_line

TRUE_IN = 1e-6
"""Points this near to a line are on it: the proof of a plan asks no more."""


def join_overlaid(net: Net) -> bool:
    """Make runs one that share a piece; returns whether any were."""
    union = Union(len(net.runs))
    owners: dict[tuple[int, int], int] = {}
    for number, run in enumerate(net.runs):
        if run.curve:
            continue
        inner = sorted(run.on, key=lambda n: (net.place(run, net.at[n]), n))
        for m, n in pairwise([run.ends[0], *inner, run.ends[1]]):
            union.merge(owners.setdefault((min(m, n), max(m, n)), number), number)
    return _join(net, union.groups(), SAME_IN)


def join_aligned(net: Net) -> bool:
    """Make runs one that run straight on into each other; returns whether any were."""
    union = Union(len(net.runs))
    groups: dict[int, list[int]] = {}
    for chain, _ in chains(net, _straight_on(net)):
        for one, other in pairwise(chain):
            # One by one: a long chain may bend where no two of its runs do.
            a, b = union.find(one), union.find(other)
            both = groups.get(a, [a]) + groups.get(b, [b])
            if a != b and _one(net, [net.runs[number] for number in both], TRUE_IN) is not None:
                groups[union.merge(a, b)] = both
    return _join(net, union.groups(), TRUE_IN)


def _straight_on(net: Net) -> dict[End, End]:
    """Links between ends of two runs that lie on one line, from opposite sides of a point."""
    links: dict[End, End] = {}
    for node in net.nodes():
        ends = [end for end in net.ends_at.get(node, ()) if not net.runs[end[0]].curve]
        for e, f in combinations(ends, 2):
            p, q = (net.at[net.runs[r].ends[1 - side]] for r, side in (e, f))
            if e in links or f in links or p == q or e[0] == f[0]:
                continue
            if abs(off_line(net.at[node], p, q)) <= TRUE_IN and 0 < along(net.at[node], p, q) < math.dist(p, q):
                links[e], links[f] = f, e
    return links


def _join(net: Net, groups: list[list[int]], within: float) -> bool:
    """Each group of runs becomes one run if it keeps to one line; returns whether any did."""
    runs: list[Run] = []
    for group in groups:
        some = [net.runs[number] for number in group]
        whole = _one(net, some, within) if len(some) > 1 else None
        runs += some if whole is None else [whole]
    joined = len(runs) < len(net.runs)
    net.runs = runs
    if joined:
        net.refresh()
    return joined


def _one(net: Net, runs: list[Run], within: float) -> Run | None:
    """The run of all of them, from end to end; None if they do not keep to one line."""
    longest = max(runs, key=lambda run: math.dist(*net.shape(run)))
    nodes = sorted({n for run in runs for n in (*run.ends, *run.on)})
    places = {n: along(net.at[n], *net.shape(longest)) for n in nodes}
    first, last = (end(nodes, key=lambda n: (places[n], n)) for end in (min, max))
    if any(abs(off_line(net.at[n], net.at[first], net.at[last])) > within for n in nodes):
        return None
    return replace(
        longest,
        ends=[first, last],
        on=set(nodes) - {first, last},
        border=any(run.border for run in runs),
        shapes=frozenset().union(*(run.shapes for run in runs)),
    )
