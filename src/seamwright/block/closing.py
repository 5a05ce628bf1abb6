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
from collections.abc import Iterator, Sequence
from itertools import pairwise

import shapely

from seamwright.block.net import Net, meet, place_on, sine
from seamwright.block.settle import DIGITS
from seamwright.block.straight import is_bend
from seamwright.block.strokes import SAME_IN
from seamwright.geometry import Point, along

STEEP = 0.26
"""Sine of 15 degrees: lines that meet at less are not prolonged to where they would meet, which may be far off."""
EASE = 12.0
"""A curve goes to where its end is moved over so many times the move."""
REACH = 4.0
"""How many tolerances a line may be prolonged to meet another at a slant."""


def close_ends(net: Net, tolerance: float, hanging: frozenset[int]) -> None:
    """Put every hanging end on the point or run in reach."""
    _Closing(net, tolerance, hanging).close()


class _Closing:
    """The net as it was before the first end moved, so that the order of closing decides nothing.

    Attributes:
        own: hanging node -> its run.
        was: hanging node -> its place.
        lines: where each run lay.
        near: hanging node -> (distance, run) of other runs in reach.
        crossings: hanging node -> (distance, crossing without a drawn end) in reach.
        points: hanging node -> (distance, drawn point) in reach; a bend in an unsteady line is none.
    """

    def __init__(self, net: Net, tolerance: float, hanging: frozenset[int]) -> None:
        self.net, self.tolerance, self.hanging = net, tolerance, hanging
        loose = sorted(hanging)
        self.own = {n: net.ends_at[n][0][0] for n in loose}
        self.was = {n: net.at[n] for n in loose}
        self.lines = [net.shape(run) for run in net.runs]
        self.near = net.near_runs(loose, tolerance)
        self.crossings = {n: [(d, m) for d, m in some if not net.drawn[m]] for n, some in self._beside(loose)}
        bends = {m for m in net.nodes() if is_bend(net, m)}
        self.points = {
            n: [(d, m) for d, m in some if net.drawn[m] and m not in bends] for n, some in self._beside(loose)
        }

    def _beside(self, loose: list[int]) -> Iterator[tuple[int, list[tuple[float, int]]]]:
        """For each hanging node the other nodes in reach, with their distances."""
        net, nodes = self.net, self.net.nodes()
        tree = shapely.STRtree(shapely.points([net.at[n] for n in nodes]))
        ends = shapely.points([net.at[n] for n in loose])
        found: dict[int, list[tuple[float, int]]] = {n: [] for n in loose}
        for i, j in zip(*tree.query(ends, "dwithin", self.tolerance).tolist(), strict=True):
            if loose[i] != nodes[j]:
                found[loose[i]].append((round(math.dist(net.at[loose[i]], net.at[nodes[j]]), 9), nodes[j]))
        yield from found.items()

    def close(self) -> None:
        net = self.net
        for group in self._groups():
            loose = [n for n in group if n in self.hanging]
            fixed = [n for n in group if n not in self.hanging] or self._crossing(loose)
            runs = [self.own[n] for n in loose]
            centre = _middle([self.was[n] for n in loose])
            target = None
            if not fixed:
                target, corner = self._nearest_run(loose, runs, centre)
                fixed = [] if corner is None else [corner]
                if target is None and not fixed and len(loose) == 1:
                    continue
            for n in loose:
                net.merge((fixed or loose)[0], n)
            if not fixed:
                one = net.find(loose[0])
                x, y = self._place(centre, runs, target)
                net.at[one] = (round(x, DIGITS), round(y, DIGITS))
                if target is not None:
                    net.runs[target].on.add(one)
            for n in loose:
                self._report(n)
        net.refresh()

    def _groups(self) -> list[list[int]]:
        """Hanging ends with the one drawn point they join, or with each other; each hanging end is in one group."""
        net, hanging, own = self.net, self.hanging, self.own
        pairs = []
        for a, some in self.points.items():
            for gap, b in some:
                if not (b in hanging and (b < a or own[a] == own[b])):
                    pairs.append((gap, net.at[a], net.at[b], a, b))
        group_of = {n: [n] for n in hanging}
        for _, _, _, a, b in sorted(pairs):
            mine, its = group_of[a], group_of.get(b, [b])
            if mine is its or b in mine:
                continue
            both = sorted({*mine, *its})
            fixed = [n for n in both if n not in hanging]
            if len(fixed) > 1 or any(math.dist(net.at[p], net.at[q]) > self.tolerance for p in mine for q in its):
                continue
            runs = [own[n] for n in both if n in hanging]
            if len(set(runs)) < len(runs) or any(f in net.runs[r].ends for f in fixed for r in runs):
                continue
            for n in both:
                if n in hanging:
                    group_of[n] = both
        groups, seen = [], set[int]()
        for n in sorted(hanging):
            if n not in seen:
                groups.append(group_of[n])
                seen.update(group_of[n])
        return groups

    def _crossing(self, loose: list[int]) -> list[int]:
        """The nearest crossing of two other runs in reach of all the ends, if there is one."""
        runs = {self.own[n] for n in loose}
        through = self.net.through
        reach = {m: d for d, m in self.crossings[loose[0]] if len(set(through.get(m, ())) - runs) > 1}
        for n in loose[1:]:
            here = {m: d for d, m in self.crossings[n]}
            reach = {m: max(d, here[m]) for m, d in reach.items() if m in here}
        return [min(reach, key=lambda m: (reach[m], self.net.at[m]))] if reach else []

    def _nearest_run(self, loose: list[int], runs: list[int], centre: Point) -> tuple[int | None, int | None]:
        """The nearest run in reach that none of the ends belongs to, or the near point at which one meets it."""
        net = self.net
        near = {r for n in loose for _, r in self.near.get(n, ())} - set(runs)
        ranked = sorted((math.dist(place_on(self.lines[r], centre)[1], centre), r) for r in near)
        mine = {net.find(n) for r in runs for n in (*net.runs[r].ends, *net.runs[r].on)} - set(loose)
        for gap, number in ranked:
            if gap > self.tolerance:
                break
            if len(loose) > 1 and self._meets_beside(number, runs, centre):
                continue
            met = {net.find(n) for n in (*net.runs[number].ends, *net.runs[number].on)} & mine
            met = {n for n in met if net.drawn[n]}
            if not met:
                return number, None
            # Both lines run past their corner: the end goes where the other one was put.
            beside = [n for n in sorted(met) if math.dist(net.at[n], centre) <= REACH * self.tolerance]
            if beside and not any(beside[0] == net.find(e) for r in runs for e in net.runs[r].ends):
                return None, beside[0]
        return None, None

    def _meets_beside(self, number: int, runs: list[int], centre: Point) -> bool:
        """Whether a run ends beside one of those that join here, but elsewhere: two lines meet at most once."""
        net = self.net
        if net.runs[number].curve:
            return False
        for end in (self.lines[number][0], self.lines[number][-1]):
            for line in (self.lines[r] for r in runs if not net.runs[r].curve):
                beside = place_on(line, end)[1]
                if math.dist(end, beside) <= self.tolerance < math.dist(beside, centre):
                    return True
        return False

    def _place(self, centre: Point, runs: list[int], target: int | None) -> Point:
        """Where the lines of the ends (and of the run they end on) meet, or the middle of the ends."""
        net = self.net
        numbers = [*runs, *([] if target is None else [target])]
        straight = [self.lines[n] for n in numbers if not net.runs[n].curve]
        if target is not None and net.runs[target].curve:
            return place_on(self.lines[target], centre)[1]
        if len(straight) == 2 == len(numbers) and sine(*straight[0], *straight[1]) > STEEP:
            cross = meet(*straight[0], *straight[1])
            if cross is not None and math.dist(cross, centre) <= REACH * self.tolerance:
                return cross
        if target is not None:
            return place_on(self.lines[target], centre)[1]
        return nearest_to_lines(straight, centre)

    def _report(self, node: int) -> None:
        """Note how far the end was moved, and whether it fell short or ran past."""
        was, new = self.was[node], self.net.at[self.net.find(node)]
        if math.dist(was, new) <= SAME_IN:
            return
        run = self.net.runs[self.own[node]]
        run.unsteady = True
        if run.curve:
            run.curve = _eased(run.curve, self.net.ends_at[node][0][1], math.dist(was, new))
        line = self.lines[self.own[node]]
        start = line[0] if math.dist(line[-1], was) < math.dist(line[0], was) else line[-1]
        past = along(new, start, was) < math.dist(start, was)
        self.net.repaired("trimmed" if past else "closed", new, math.dist(was, new))


def _eased(points: tuple[Point, ...], side: int, moved: float) -> tuple[Point, ...]:
    """A curve without the points near an end that is moved, so that it does not turn at once to get there."""
    whole = sum(math.dist(p, q) for p, q in pairwise(points))
    ahead = points if side == 0 else points[::-1]
    kept, done = [ahead[0]], 0.0
    for p, q in pairwise(ahead):
        done += math.dist(p, q)
        if done >= min(EASE * moved, whole / 3):
            kept.append(q)
    if len(kept) < 3:
        return points
    return tuple(kept) if side == 0 else tuple(kept[::-1])


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


def _middle(places: Sequence[Point]) -> Point:
    return (math.fsum(p[0] for p in places) / len(places), math.fsum(p[1] for p in places) / len(places))
