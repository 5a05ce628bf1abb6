"""Tidying: from strokes as drawn to points and pieces that touch only at their ends.

Knows:  the order of repairs: what was drawn twice, ends that hang, runs that are nearly straight, crossings that
        nearly meet; after each decision the points are moved on to their lines.
Leaves: which part of the drawing is the block (outline), its size (make).
Units:  inches of the finished block.
Method: every decision is taken once and kept as identity (which points lie on which run); floats decide nothing
        twice. What was drawn on purpose (an end lies on it to 0.001 in) stays as drawn.
"""

from __future__ import annotations

import copy
import math
from collections.abc import Sequence
from dataclasses import dataclass, replace
from functools import partial
from itertools import pairwise

from seamwright.block.bends import join_bends
from seamwright.block.closing import close_ends
from seamwright.block.crossing import gather_stars, node_crossings
from seamwright.block.doubled import net_of
from seamwright.block.net import Net, Run, meet, place_on
from seamwright.block.overlaid import join_aligned, join_overlaid
from seamwright.block.planar import Piece
from seamwright.block.settle import KEEP_IN, settle
from seamwright.block.steps import Steps
from seamwright.block.straight import straighten
from seamwright.block.strokes import MOST_CROSSINGS, SAME_IN, Stroke
from seamwright.block.unsteady import lay_on_unsteady
from seamwright.geometry import Point, off_line

ROUNDS = 4
CLEAR_IN = 4 * SAME_IN
"""A node may lie off its curve by what counts as one place; points of the curve this near would make it jerk."""
TUCK_IN = 1e-8
"""A point this far past the end of its run is there by rounding only."""


@dataclass(frozen=True, slots=True)
class Tidied:
    """What tidying hands over.

    Attributes:
        points: inches.
        pieces: they touch only at their ends; `line` is the number of the run.
        sources: by run, where it stands in the drawing.
        borders: runs that are sides of the outline the drawing states.
        hanging: points at which a single piece ends.
        repairs: (kind, place, amount in inches) of every repair.
    """

    points: tuple[Point, ...]
    pieces: tuple[Piece, ...]
    sources: tuple[str, ...]
    borders: frozenset[int]
    hanging: tuple[int, ...]
    repairs: tuple[tuple[str, Point, float], ...]


def tidy(
    strokes: Sequence[Stroke], tolerance: float, exact: bool, drawing: str = "", steps: Steps | None = None
) -> Tidied:
    """Repair strokes and find where they meet.

    Args:
        strokes: in finished inches, sorted.
        tolerance: the largest repair, inches.
        exact: coordinates are meant as written; then only hanging ends are repaired to the tolerance.
        steps: counts the work.

    Raises:
        DrawingError: too many crossings, or too much work.
    """
    close = min(tolerance, SAME_IN) if exact else tolerance
    net = net_of(strokes, tolerance, steps or Steps(drawing), close)
    net.far = tolerance
    hanging = frozenset(net.hanging())
    node_crossings(net, MOST_CROSSINGS, drawing, hanging)
    if hanging:
        close_ends(net, tolerance, hanging)
    net.drop_crossings()
    join_bends(net, close)
    straighten(net, close)
    lay_on_unsteady(net, close)
    _rest(net)
    _meet(net, drawing)
    net = _gathered(net, close)
    # Runs that ended at two of the crossings gathered may now end at one point, and run on there.
    if straighten(net, close):
        _rest(net)
    _meet(net, drawing)
    for lay_together in (partial(_collapse, tolerance=tolerance), join_overlaid, join_aligned):
        for _ in range(ROUNDS):
            if not lay_together(net):
                break
            _rest(net)
    _part_bent(net)
    join_bends(net)
    return _pieces(net)


def _meet(net: Net, drawing: str) -> None:
    """Runs that cross or touch share a node; moving the nodes on to their runs may make new ones."""
    for _ in range(ROUNDS):
        if not net.attach(net.nodes(), SAME_IN) + node_crossings(net, MOST_CROSSINGS, drawing):
            break
        _rest(net)


def _rest(net: Net) -> None:
    """Move the nodes on to their runs until nothing is left to move."""
    for _ in range(ROUNDS):
        _settle(net)
        if not _tuck(net):
            break


def _gathered(net: Net, tolerance: float) -> Net:
    """The net with crossings that nearly meet gathered, as far as straight lines can go through all of them."""
    spoilt: list[Point] = []
    for _ in range(ROUNDS):
        net.steps.take(sum(10 + 2 * len(run.on) for run in net.runs) + 2 * len(net.at))
        trial = copy.deepcopy(net)
        if not gather_stars(trial, tolerance, spoilt):
            return trial
        left = set(_settle(trial, part=False))
        left.update(n for n in trial.nodes() if net.drawn[n] and math.dist(trial.at[n], net.at[n]) > 2 * tolerance)
        for _, nodes in _astray(trial):
            # What a line was turned for lies on the runs that end at the node gone astray.
            left.update(m for n in nodes for r, _ in trial.ends_at.get(n, ()) for m in (n, *trial.runs[r].on))
        if not left:
            return trial
        # Lines in a tangle cannot meet everywhere that three of them nearly do: leave those crossings as drawn.
        spoilt += [trial.at[n] for n in sorted(left)]
    return net


def _astray(net: Net) -> list[tuple[Run, list[int]]]:
    """Straight runs with nodes that were moved past one of their ends."""
    found = []
    for run in net.runs:
        if run.curve or not run.on:
            continue
        length = math.dist(*net.shape(run))
        nodes = sorted(n for n in run.on if not -TUCK_IN <= net.place(run, net.at[n]) <= length + TUCK_IN)
        if nodes:
            found.append((run, nodes))
    return found


def _tuck(net: Net) -> bool:
    """Points moved past the end of their run become one with it; returns whether any were."""
    astray = _astray(net)
    for run, nodes in astray:
        for n in nodes:
            end = run.ends[0] if net.place(run, net.at[n]) < 0 else run.ends[1]
            net.repaired("gathered", net.at[net.find(end)], math.dist(net.at[n], net.at[net.find(end)]))
            net.merge(end, n)
    net.refresh()
    return bool(astray)


def _settle(net: Net, part: bool = True) -> list[int]:
    """Move the nodes on to their runs; returns the nodes that cannot be.

    Args:
        part: part a run at a node that it cannot hold.
    """
    for _ in range(ROUNDS):
        rows: list[tuple[int, int, int]] = []
        owners: list[int] = []
        through = {n: [r for r in runs if not net.runs[r].curve] for n, runs in net.through.items()}
        for number, run in enumerate(net.runs):
            if run.curve:
                continue
            for n in sorted(run.on):
                if net.drawn[n] or len(through[n]) != 2 or len(net.through[n]) != 2:
                    rows.append((n, run.ends[0], run.ends[1]))
                    owners.append(number)
        on_curve = {n for run in net.runs if run.curve for n in run.on if not net.pinned[n]}
        for run in net.runs:
            for n in run.on if run.curve else ():
                net.at[n] = place_on(net.shape(run), net.at[n])[1]
        ease, spare = [], []
        for n in range(len(net.at)):
            count = max(net.drawn[n], 1)
            stuck = n in on_curve and net.drawn[n] > 0
            # Corners and star centres that were drawn on purpose stay where they are as long as that goes.
            corner = net.fast[n] and (not through.get(n) or len(through[n]) > 2)
            ease.append(0.0 if stuck or net.pinned[n] or corner else 4.0 if not net.drawn[n] else 1 / count)
            spare.append(0.0 if stuck else 0.05 if net.pinned[n] else 1 / count)
        net.at, left = settle(net.at, rows, ease, spare, net.far, net.steps)
        for n, runs in through.items():
            if not net.drawn[n] and len(runs) == 2 and len(net.through[n]) == 2:
                net.at[n] = meet(*net.shape(net.runs[runs[0]]), *net.shape(net.runs[runs[1]])) or net.at[n]
        if not left or not part:
            return [net.find(rows[row][0]) for row in left]
        for number in sorted({owners[row] for row in left}):
            run = net.runs[number]
            _part(net, number, next(rows[row][0] for row in left if owners[row] == number), run)
        net.refresh()
    return []


def _part(net: Net, number: int, node: int, run: Run) -> None:
    """Two runs in place of one that cannot be straight through `node`."""
    here = net.place(run, net.at[node])
    before = {n for n in run.on - {node} if net.place(run, net.at[n]) < here}
    after = run.on - before - {node}
    net.runs[number] = replace(run, ends=[run.ends[0], node], on=before)
    net.runs.append(replace(run, ends=[node, run.ends[1]], on=after))


def _collapse(net: Net, tolerance: float) -> bool:
    """Make points one between which a curve and another run have come to lie on one another; returns whether any.

    Where three lines nearly meet, a point of two of them may lie on the third to 0.001 in, and the slivers beside
    it are thinner than that.
    """
    if not any(run.curve for run in net.runs):
        return False
    steps: dict[tuple[int, int], int] = {}
    curved: set[tuple[int, int]] = set()
    for run in net.runs:
        places = {n: net.place(run, net.at[n]) for n in run.on}
        order = [run.ends[0], *sorted(run.on, key=lambda n: (places[n], n)), run.ends[1]]
        for m, n in pairwise(order):
            near = m != n and math.dist(net.at[m], net.at[n]) <= tolerance
            if near and not (run.curve and _between(net, run, m, n)):
                pair = (min(m, n), max(m, n))
                steps[pair] = steps.get(pair, 0) + 1
                if run.curve:
                    curved.add(pair)
    twice = sorted(pair for pair in curved if steps[pair] > 1)
    for m, n in twice:
        # The point at which most meet stays where it is; what was drawn goes before what merely crosses.
        stays, goes = sorted((m, n), key=lambda x: (-len(net.through.get(x, ())), -net.drawn[x], net.at[x]))
        net.repaired("gathered", net.at[net.find(stays)], math.dist(net.at[m], net.at[n]))
        net.merge(stays, goes)
    net.refresh()
    return bool(twice)


def _part_bent(net: Net) -> None:
    """Part runs that are not straight, since moving their nodes found no way, at the node that is farthest off."""
    queue = list(range(len(net.runs)))
    while queue:
        number = queue.pop()
        run = net.runs[number]
        ends = net.shape(run)
        if run.curve or not run.on or ends[0] == ends[1]:
            continue
        off, node = max((abs(off_line(net.at[n], *ends)), n) for n in run.on)
        if off > 2 * KEEP_IN:
            _part(net, number, node, run)
            queue += [number, len(net.runs) - 1]
    net.refresh()


def _pieces(net: Net) -> Tidied:
    number_of = {n: i for i, n in enumerate(net.nodes())}
    pieces: dict[tuple[int, int, tuple[Point, ...]], Piece] = {}
    for line, run in enumerate(net.runs):
        places = {n: net.place(run, net.at[n]) for n in (*run.ends, *run.on)}
        inner = sorted(run.on, key=lambda n: (places[n], n))
        for m, n in pairwise([run.ends[0], *inner, run.ends[1]]):
            i, j = number_of[m], number_of[n]
            via = _between(net, run, m, n) if run.curve else ()
            if i != j or via:
                key = (i, j, via) if i < j else (j, i, via[::-1])
                # Where a curve has come to lie on a line, the line runs on.
                if key not in pieces or (net.runs[pieces[key].line].curve and not run.curve):
                    pieces[key] = Piece(i, j, line, via)
    return Tidied(
        points=tuple(net.at[n] for n in net.nodes()),
        pieces=tuple(pieces.values()),
        sources=tuple(run.source for run in net.runs),
        borders=frozenset(n for n, run in enumerate(net.runs) if run.border),
        hanging=tuple(number_of[n] for n in net.hanging()),
        repairs=tuple((kind, at, amount) for kind, some in net.repairs.items() for at, amount in some),
    )


def _between(net: Net, run: Run, m: int, n: int) -> tuple[Point, ...]:
    """Points of a curve between two of its nodes."""
    points = net.shape(run)
    # The ends of a closed curve are one node: by position in the run, never by its place.
    low = 0.0 if m == run.ends[0] else place_on(points, net.at[m])[0]
    high = math.inf if n == run.ends[1] else place_on(points, net.at[n])[0]
    total = sum(math.dist(p, q) for p, q in pairwise(points))
    low, high = low + _clear(net, run, m, 0), min(high, total) - _clear(net, run, n, -1)
    done, inner = 0.0, []
    for p, q in pairwise(points):
        done += math.dist(p, q)
        if low < done < high:
            inner.append(q)
    return tuple(inner)


def _clear(net: Net, run: Run, node: int, end: int) -> float:
    """How far from a node points of its curve are left out: the more, the farther it was moved off the curve."""
    at = net.at[node]
    off = math.dist(at, run.curve[end] if node == run.ends[end] else place_on(run.curve, at)[1])
    return max(CLEAR_IN, 4 * off)
