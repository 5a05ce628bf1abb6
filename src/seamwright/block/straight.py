"""Straightness: runs that keep to one line, within the tolerance, along their whole length become one run.

Knows:  pieces that meet nothing else may turn as they like, if all of them keep to one line (a hand that shook);
        at any other node each end runs on into at most one other, the one that is best for both; a chain of ends
        is one line only if all of it lies within the tolerance of that line.
Leaves: moving the nodes on to the line (settle).
Units:  inches.
Method: a chain that does not keep to one line is parted where it is farthest off, as in D. Douglas, T. Peucker,
        "Algorithms for the reduction of the number of points required to represent a digitized line",
        Cartographica 10(2), 1973; a part is a line only if it bends much less inside than where it was parted:
        a curve drawn as many short lines bends alike everywhere, and stays as drawn.
"""

from __future__ import annotations

import itertools
import math
from bisect import bisect_left

from seamwright.block.doubled import LEAN
from seamwright.block.net import Net, Run, sine
from seamwright.block.strokes import SAME_IN
from seamwright.geometry import Point, along, off_line

CLEAR = 4.0
"""How many times sharper the corners at a part's ends must be than its own bend."""
TRUE_IN = 1e-5
"""Points this near to their line are on it, whatever the rest of the chain does."""
MOST = 12
EVEN = 1.1
"""Two ways on whose turns differ less than by this factor are equally good, so neither is taken."""

LOOSE = math.sin(math.radians(45))
"""As LEAN, where nothing else is and two pieces were brought together that missed each other, or hardly turn."""
FAINT = 2 / 3
"""A bend that strays by no more than this share of the tolerance is none that anybody meant."""

WOBBLES = 4
"""Pieces that an unsteady line has at the least: two or three short ones may be a corner drawn on purpose."""

End = tuple[int, int]
Part = tuple[tuple[int, int], float]
"""Index range of a chain's nodes that are one line, and how far they lie off it."""


def straighten(net: Net, tolerance: float) -> bool:
    """Merge runs that run straight on into each other; returns whether any were."""
    count = len(net.runs)
    wobbles = [
        (chain, nodes, [part for part in _parts(net, nodes, tolerance) if _wobbles(net, nodes, part[0])])
        for chain, nodes in chains(net, _alone(net))
        if len(chain) >= WOBBLES
    ]
    _merge(net, wobbles)
    _merge(net, [(c, nodes, _parts(net, nodes, tolerance)) for c, nodes in chains(net, _links(net, tolerance))])
    return len(net.runs) < count


def _merge(net: Net, found: list[tuple[list[int], list[int], list[Part]]]) -> None:
    """Each part of a chain becomes one run; runs in no part stay."""
    used: set[int] = set()
    made: list[Run] = []
    for chain, nodes, parts in found:
        for (low, high), off in parts:
            used.update(chain[low:high])
            made.append(_joined(net, [net.runs[r] for r in chain[low:high]], nodes[low : high + 1], off))
    net.runs = [run for n, run in enumerate(net.runs) if n not in used] + made
    net.refresh()


def is_bend(net: Net, node: int) -> bool:
    """Whether a node is no more than a bend in an unsteady line: two straight ends that lead on, nothing else."""
    ends = net.ends_at.get(node, [])
    if len(ends) != 2 or net.through.get(node) or ends[0][0] == ends[1][0]:
        return False
    if any(net.runs[r].curve for r, _ in ends):
        return False
    before, after = (net.at[net.runs[r].ends[1 - side]] for r, side in ends)
    at = net.at[node]
    ahead = (at[0] - before[0]) * (after[0] - at[0]) + (at[1] - before[1]) * (after[1] - at[1])
    return ahead > 0 and sine(before, at, at, after) <= LEAN


def _alone(net: Net) -> dict[End, End]:
    """Links at nodes where two straight ends meet and nothing else, however sharply they turn there."""
    links: dict[End, End] = {}
    for node in net.nodes():
        ends = net.ends_at.get(node, [])
        if len(ends) == 2 and not net.through.get(node) and ends[0][0] != ends[1][0]:
            e, f = ends
            if not net.runs[e[0]].curve and not net.runs[f[0]].curve:
                links[e], links[f] = f, e
    return links


def _wobbles(net: Net, nodes: list[int], part: tuple[int, int]) -> bool:
    """Whether a part of a chain is a line drawn with an unsteady hand: many pieces that lead on, some with a jerk.

    Without a jerk the chain may go on beyond its last node, and be part of a curve: that is judged as a whole.
    """
    at = [net.at[n] for n in nodes[part[0] : part[1] + 1]]
    if len(at) <= WOBBLES or math.dist(at[0], at[-1]) <= SAME_IN:
        return False
    places = [along(p, at[0], at[-1]) for p in at]
    jerks = (math.sin(_angle(at, (k - 1, k), (k, k + 1))) > LEAN for k in range(1, len(at) - 1))
    return all(p < q for p, q in itertools.pairwise(places)) and any(jerks)


def _links(net: Net, tolerance: float) -> dict[End, End]:
    links: dict[End, End] = {}
    for node in net.nodes():
        ends = [e for e in net.ends_at.get(node, []) if not net.runs[e[0]].curve]
        turns: dict[tuple[End, End], tuple[float, float]] = {}
        for e, f in _facing(net, node, ends):
            bend = _turn(net, node, e, f, tolerance)
            if bend is not None and e[0] != f[0]:
                turns[e, f] = turns[f, e] = bend
        ways: dict[End, list[tuple[tuple[float, float], End]]] = {}
        for (e, f), bend in turns.items():
            ways.setdefault(e, []).append((bend, f))
        best: dict[End, End] = {}
        for e, some in ways.items():
            some.sort()
            (turn, off), f = some[0]
            if off <= TRUE_IN or len(some) == 1 or some[1][0][0] > EVEN * turn + 1e-6:
                best[e] = f
        links.update({e: f for e, f in best.items() if best.get(f) == e})
    return links


def _facing(net: Net, node: int, ends: list[End]) -> list[tuple[End, End]]:
    """Pairs of ends that come from roughly opposite sides; in a crowd only the MOST nearest to straight."""
    at = net.at[node]
    far = [net.at[net.runs[r].ends[1 - side]] for r, side in ends]
    order = sorted((math.atan2(q[1] - at[1], q[0] - at[0]), e) for q, e in zip(far, ends, strict=True))
    if len(order) <= MOST:
        return [(e, f) for i, (_, e) in enumerate(order) for _, f in order[i + 1 :]]
    angles = [a for a, _ in order]
    pairs = set()
    for a, e in order:
        k = bisect_left(angles, a + math.pi if a <= 0 else a - math.pi)
        for j in range(k - MOST // 2, k + MOST // 2):
            f = order[j % len(order)][1]
            pairs.add((min(e, f), max(e, f)))
    return sorted(pairs)


def _turn(net: Net, node: int, e: End, f: End, tolerance: float) -> tuple[float, float] | None:
    """(angle turned in running from end e on into end f, how far the node lies off), None if it is a corner."""
    at = net.at[node]
    p, q = (net.at[net.runs[r].ends[1 - side]] for r, side in (e, f))
    ux, uy, vx, vy = at[0] - p[0], at[1] - p[1], q[0] - at[0], q[1] - at[1]
    turn = abs(math.atan2(ux * vy - uy * vx, ux * vx + uy * vy))
    if p == q:
        return None
    off = abs(off_line(at, p, q))
    # Short pieces lean by what they waver or missed each other by, and nothing else says that they are to turn.
    alone = len(net.ends_at[node]) == 2 and not net.through.get(node)
    loose = alone and (not net.fast[node] or off <= tolerance * FAINT)
    if math.sin(min(turn, math.pi / 2)) > (LOOSE if loose else LEAN):
        return None
    return (turn, off) if off <= max(tolerance, SAME_IN) else None


def chains(net: Net, links: dict[End, End]) -> list[tuple[list[int], list[int]]]:
    """Linked runs in order, with the nodes from end to end; only chains of two runs or more."""
    done: set[int] = set()
    chains = []
    # Open chains from their free ends first; what is left are rings.
    starts = [e for e in sorted(links) if (e[0], 1 - e[1]) not in links] + sorted(links)
    for run, out in starts:
        if run in done:
            continue
        chain, nodes = [], [net.runs[run].ends[1 - out]]
        end: End | None = (run, out)
        while end is not None and end[0] not in done:
            done.add(end[0])
            chain.append(end[0])
            nodes.append(net.runs[end[0]].ends[end[1]])
            onward = links.get(end)
            end = None if onward is None else (onward[0], 1 - onward[1])
        chains.append((chain, nodes))
    return chains


def _parts(net: Net, nodes: list[int], tolerance: float) -> list[Part]:
    """Index ranges of nodes that are one line each, with how far their nodes lie off it."""
    at = [net.at[n] for n in nodes]
    fine: list[Part] = []
    for part, off, clear in _judged(at, max(tolerance, SAME_IN)):
        if clear:
            fine.append((part, off))
        else:
            fine += [(p, _off(at, *p)[0]) for p in _split(at, *part, TRUE_IN)]
    return fine


def lines_in(row: list[Point], tolerance: float) -> list[tuple[int, int]] | None:
    """Index ranges of a row of points that are one line each, drawn unsteadily; None if it is not made of lines."""
    parts = _judged(row, tolerance)
    return [part for part, _, _ in parts] if all(clear for _, _, clear in parts) else None


def _judged(at: list[Point], tolerance: float) -> list[tuple[tuple[int, int], float, bool]]:
    """Parts of a row of points that keep to one line each, how far they stray from it, and whether that is little
    beside the corners at their ends."""
    parts = _split(at, 0, len(at) - 1, tolerance)
    bends = [0.0] + [_angle(at, a, b) for a, b in itertools.pairwise(parts)] + [0.0]
    found = []
    for k, (low, high) in enumerate(parts):
        off = _off(at, low, high)[0]
        inside = 4 * off / max(math.dist(at[low], at[high]), 1e-12)
        corners = [b for b in (bends[k], bends[k + 1]) if b > 0]
        clear = len(parts) == 1 or off <= TRUE_IN or all(CLEAR * inside <= b for b in corners)
        found.append(((low, high), off, clear))
    return found


def _split(at: list[Point], low: int, high: int, limit: float) -> list[tuple[int, int]]:
    off, where = _off(at, low, high)
    comes_back = high - low > 1 and math.dist(at[low], at[high]) <= SAME_IN
    if off <= limit and not comes_back:
        return [(low, high)]
    return _split(at, low, where, limit) + _split(at, where, high, limit)


def _off(at: list[Point], low: int, high: int) -> tuple[float, int]:
    """The largest distance of the points between from the line through the two, and which point has it."""
    if high - low < 2:
        return 0.0, low
    a, b = at[low], at[high]
    if math.dist(a, b) <= SAME_IN:
        return max((math.dist(at[k], a), k) for k in range(low + 1, high))
    return max((round(abs(off_line(at[k], a, b)), 12), k) for k in range(low + 1, high))


def _angle(at: list[Point], before: tuple[int, int], after: tuple[int, int]) -> float:
    (ax, ay), (bx, by), (cx, cy) = at[before[0]], at[before[1]], at[after[1]]
    ux, uy, vx, vy = bx - ax, by - ay, cx - bx, cy - by
    return abs(math.atan2(ux * vy - uy * vx, ux * vx + uy * vy))


def _joined(net: Net, runs: list[Run], nodes: list[int], off: float) -> Run:
    if len(runs) == 1:
        return runs[0]
    if off > SAME_IN:
        a, b = net.at[nodes[0]], net.at[nodes[-1]]
        worst = max(nodes[1:-1], key=lambda n: abs(off_line(net.at[n], a, b)))
        net.repaired("straight", net.at[worst], off)
    on = set(nodes[1:-1]).union(*(r.on for r in runs))
    return Run(
        [nodes[0], nodes[-1]],
        on,
        source=runs[0].source,
        border=any(r.border for r in runs),
        shapes=frozenset().union(*(r.shapes for r in runs)),
        unsteady=off > SAME_IN or any(r.unsteady for r in runs),
    )
