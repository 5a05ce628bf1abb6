"""Bends: curves in several pieces become one curve each, and a curve drawn as many short lines is taken for one.

Knows:  where nothing else meets, two curves that run on smoothly are one; a row of short lines that turn a little
        at every step, all the same way or slowly from one way to the other, is a curve that was flattened, whatever
        else ends on it.
Leaves: straight runs (straight), curves that run on where a seam ends too (runon).
Units:  inches; angles in radians.
Limits: a row of fewer than LEAST lines, or one that turns by more than SMOOTH at a step, is taken for corners.
"""

from __future__ import annotations

import itertools
import math

from seamwright.block.net import Net, Run
from seamwright.block.runon import SMOOTH
from seamwright.block.straight import End, chains, lines_in
from seamwright.block.strokes import SAME_IN
from seamwright.geometry import Point, off_line

LEAST = 5
"""Lines of a flattened curve; four may be the corners of a shape drawn on purpose."""
ALIKE = 4.0
"""Neighbouring lines of a flattened curve differ in length by this factor at most."""
MOST = 12
"""Ends at one point; in a greater crowd no curve is looked for."""
AT_ONCE = 0.8
"""Curvature changes by no more than this share of its greatest from one point of a flattened curve to the next: a
curve is flattened to lines a half or a quarter as long where it bends more."""
JERK = 4.0
"""So many tolerances from where two curves were brought together neither says which way it goes."""
STRAIGHT = 1e-6
"""Lines that turn by less at a step are one line."""


def join_bends(net: Net, tolerance: float = 0.0) -> None:
    """Curves that run on into each other where nothing else meets become one run; rows of short lines too.

    Args:
        tolerance: a row of lines that keeps so near to one line is left for straightening.
    """
    used: set[int] = set()
    made: list[Run] = []
    for chain, nodes in (_from_a_stop(net, *found) for found in chains(net, _smooth(net, tolerance))):
        for low, high in _bends(net, chain, nodes, tolerance):
            # A curve is judged as a whole, and parted where something else meets it.
            stops = [low, *(k for k in range(low + 1, high) if _met(net, nodes[k])), high]
            for start, end in itertools.pairwise(stops):
                if end - start > 1:
                    row = [net.at[n] for n in nodes[start : end + 1]]
                    if tolerance and not net.runs[chain[start]].curve:
                        net.repaired("curved", row[len(row) // 2], _stray(row))
                    used.update(chain[start:end])
                    made.append(_joined(net, chain[start:end], nodes[start : end + 1], JERK * tolerance))
    if made:
        net.runs = [run for n, run in enumerate(net.runs) if n not in used] + made
        net.refresh()


def _from_a_stop(net: Net, chain: list[int], nodes: list[int]) -> tuple[list[int], list[int]]:
    """A closed chain from a point where something else meets it, if there is one."""
    if nodes[0] == nodes[-1]:
        k = next((k for k, node in enumerate(nodes) if _met(net, node)), 0)
        chain, nodes = chain[k:] + chain[:k], nodes[k:-1] + nodes[: k + 1]
    return chain, nodes


def _met(net: Net, node: int) -> bool:
    return len(net.ends_at[node]) > 2 or bool(net.through.get(node))


def _joint(net: Net, node: int) -> bool:
    """Whether two curves were brought together at a node that missed each other there, and nothing else."""
    ends = net.ends_at[node]
    return len(ends) == 2 and not net.fast[node] and not _met(net, node) and all(net.runs[r].curve for r, _ in ends)


def _smooth(net: Net, tolerance: float) -> dict[End, End]:
    """Links between ends that run on smoothly into each other, each the best for both."""
    links: dict[End, End] = {}
    for node in net.nodes():
        ends = net.ends_at.get(node, [])
        if not 2 <= len(ends) <= MOST:
            continue
        past = JERK * tolerance if _joint(net, node) else 0.0
        turns = [
            (_turn(net, e, f, past), e, f)
            for e, f in itertools.combinations(ends, 2)
            if e[0] != f[0] and net.runs[e[0]].border == net.runs[f[0]].border
        ]
        for turn, e, f in sorted(turns):
            if turn > SMOOTH:
                break
            if e not in links and f not in links:
                links[e], links[f] = f, e
    return links


def _turn(net: Net, e: End, f: End, past: float = 0.0) -> float:
    """Angle turned in running into end e and on out of end f.

    Args:
        past: points of curves so near to their ends are not asked for the way that they go.
    """
    (ax, ay), (bx, by) = _ahead(net, e, past), _ahead(net, f, past)
    return math.atan2(abs(ax * by - ay * bx), -(ax * bx + ay * by))


def _ahead(net: Net, end: End, past: float) -> Point:
    """Direction from an end into its run."""
    points = net.shape(net.runs[end[0]])
    a, *others = points if end[1] == 0 else points[::-1]
    b = next((p for p in others if math.dist(a, p) > past), others[-1])
    return (b[0] - a[0], b[1] - a[1])


def _bends(net: Net, chain: list[int], nodes: list[int], tolerance: float) -> list[tuple[int, int]]:
    """Index ranges of a chain's runs that are one curve each."""
    found = []
    start = 0
    for place in range(1, len(chain) + 1):
        if place == len(chain) or not _one_curve(net, chain, nodes, start, place):
            runs = [net.runs[number] for number in chain[start:place]]
            row = [net.at[n] for n in nodes[start : place + 1]]
            if len(runs) > 1 and (runs[0].curve or (len(runs) >= LEAST and _rounds(row, tolerance))):
                found.append((start, place))
            start = place
    return found


def _one_curve(net: Net, chain: list[int], nodes: list[int], start: int, place: int) -> bool:
    """Whether run `place` of a chain belongs to the same curve as the run before it."""
    one, two = net.runs[chain[place - 1]], net.runs[chain[place]]
    if one.curve or two.curve:
        return bool(one.curve and two.curve)
    a, b, c = (net.at[n] for n in nodes[place - 1 : place + 2])
    shorter, longer = sorted((math.dist(a, b), math.dist(b, c)))
    if longer > ALIKE * shorter or abs(_bend(a, b, c)) <= STRAIGHT:
        return False
    if place - start < 2:
        return True
    # A curve may change its hand, but not at every step: that is a line drawn with a shaking hand.
    before = _bend(net.at[nodes[place - 2]], a, b)
    return before * _bend(a, b, c) > 0 or min(abs(before), abs(_bend(a, b, c))) <= SMOOTH / 3


def _rounds(row: list[Point], tolerance: float) -> bool:
    """Whether a row of points goes round a curve: it strays from the line through its ends, and is not made of few
    lines that were drawn unsteadily and turn sharply into each other."""
    if math.dist(row[0], row[-1]) > SAME_IN and _stray(row) <= tolerance:
        return False
    if not tolerance:
        return True
    if not _steady(row):
        return False
    parts = lines_in(row, tolerance)
    return parts is None or 2 * len(parts) > len(row) - 1


def _stray(row: list[Point]) -> float:
    """How far a row of points strays from the line through its ends, or from both if they are one."""
    a, b = row[0], row[-1]
    if math.dist(a, b) <= SAME_IN:
        return max(math.dist(p, a) for p in row)
    return max(abs(off_line(p, a, b)) for p in row)


def _steady(row: list[Point]) -> bool:
    """Whether a row of points bends more and less in turn, never at once: neighbours bend alike."""
    bends = [
        2 * _bend(p, q, r) / (math.dist(p, q) + math.dist(q, r))
        for p, q, r in zip(row, row[1:], row[2:], strict=False)
    ]
    most = max(map(abs, bends))
    return all(abs(one - two) <= AT_ONCE * most for one, two in itertools.pairwise(bends))


def _bend(a: Point, b: Point, c: Point) -> float:
    """Angle turned at b, positive to the right."""
    ux, uy, vx, vy = b[0] - a[0], b[1] - a[1], c[0] - b[0], c[1] - b[1]
    return math.atan2(ux * vy - uy * vx, ux * vx + uy * vy)


def _joined(net: Net, chain: list[int], nodes: list[int], jerk: float) -> Run:
    """One curve in place of a row of runs from node to node, without points near where two missed each other."""
    jerks = [net.at[n] for n in nodes[1:-1] if _joint(net, n)]
    runs = [net.runs[number] for number in chain]
    points: list[Point] = [net.at[nodes[0]]]
    for number, (here, there) in zip(chain, itertools.pairwise(nodes), strict=True):
        shape = net.shape(net.runs[number])
        forward = net.runs[number].ends == [here, there] and shape[0] == net.at[here]
        points.extend((shape if forward else shape[::-1])[1:])
    points[1:-1] = [p for p in points[1:-1] if p in jerks or all(math.dist(p, q) > jerk for q in jerks)]
    return Run(
        [nodes[0], nodes[-1]],
        set().union(*(run.on for run in runs)),
        tuple(points),
        runs[0].source,
        runs[0].border,
        frozenset().union(*(run.shapes for run in runs)),
    )
