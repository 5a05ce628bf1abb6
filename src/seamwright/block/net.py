"""The net that tidying works on: nodes, and runs that pass through them, by identity.

Knows:  which node is an end of which run, which run passes through it, what was repaired.
Leaves: the decisions (doubled, closing, straight, crossings) and the moves (settle).
Units:  inches.
Method: nodes are merged by union-find; `refresh` rewrites the runs with what is left.
"""

from __future__ import annotations

import itertools
import math
from collections import Counter
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field
from typing import Any

import numpy as np
import numpy.typing as npt
import shapely

from seamwright.block.steps import NATIVE, Steps
from seamwright.geometry import Point, along

CHUNK = 64
"""Pieces looked up at once."""


class Union:
    """Union-find over whole numbers; the smallest number of a group stands for it."""

    def __init__(self, size: int) -> None:
        self._parent = list(range(size))

    def add(self) -> int:
        """A new number in a group of its own."""
        self._parent.append(len(self._parent))
        return len(self._parent) - 1

    def find(self, n: int) -> int:
        """The number that stands for the group of `n`."""
        while self._parent[n] != n:
            self._parent[n] = self._parent[self._parent[n]]
            n = self._parent[n]
        return n

    def merge(self, a: int, b: int) -> int:
        """Make two groups one; returns the number that stands for it."""
        a, b = sorted((self.find(a), self.find(b)))
        self._parent[b] = a
        return a

    def groups(self) -> list[list[int]]:
        """All groups."""
        found: dict[int, list[int]] = {}
        for n in range(len(self._parent)):
            found.setdefault(self.find(n), []).append(n)
        return list(found.values())


@dataclass(slots=True)
class Run:
    """A straight run or a curve between two nodes.

    Attributes:
        ends: its first and last node (the same for a closed curve).
        on: nodes it passes through.
        curve: all points of a curve as drawn; () for a straight run.
        source: where it stands in the drawing.
        border: side of the outline that the drawing states.
        shapes: filled shapes it borders.
        unsteady: it was drawn wavering, or with an end that missed where it belongs.
    """

    ends: list[int]
    on: set[int] = field(default_factory=set)
    curve: tuple[Point, ...] = ()
    source: str = ""
    border: bool = False
    shapes: frozenset[int] = frozenset()
    unsteady: bool = False


class Net:
    """Nodes and runs while they are tidied.

    Attributes:
        at: place of each node.
        drawn: how many drawn ends lie on it.
        pinned: it must not move.
        fast: it was drawn on purpose: an end lies on another end or run to 0.001 in.
        runs: what is left of the strokes.
        repairs: kind of repair -> (place, amount in inches) of each.
        steps: counts the work.
        far: how far points may be moved to spare those drawn on purpose, inches; beyond that all give way alike.
    """

    def __init__(self, steps: Steps | None = None) -> None:
        self.steps = steps or Steps()
        self.far = math.inf
        self.at: list[Point] = []
        self.drawn: list[int] = []
        self.pinned: list[bool] = []
        self.fast: list[bool] = []
        self.runs: list[Run] = []
        self.repairs: dict[str, list[tuple[Point, float]]] = {}
        self._union = Union(0)
        self.ends_at: dict[int, list[tuple[int, int]]] = {}
        self.through: dict[int, list[int]] = {}

    def node(self, at: Point, drawn: int = 0, pinned: bool = False) -> int:
        """A new node."""
        self.at.append(at)
        self.drawn.append(drawn)
        self.pinned.append(pinned)
        self.fast.append(False)
        return self._union.add()

    def find(self, node: int) -> int:
        """The node that `node` is one with."""
        return self._union.find(node)

    def merge(self, stays: int, goes: int) -> None:
        """Both nodes become one, at the place of `stays`."""
        stays, goes = self.find(stays), self.find(goes)
        if stays == goes:
            return
        at, drawn, pinned = self.at[stays], self.drawn[stays] + self.drawn[goes], self.pinned[stays]
        fast = self.fast[stays] or self.fast[goes]
        if self.pinned[goes] and not pinned:
            at, pinned = self.at[goes], True
        one = self._union.merge(stays, goes)
        self.at[one], self.drawn[one], self.pinned[one], self.fast[one] = at, drawn, pinned, fast

    def refresh(self) -> None:
        """Runs with merged nodes; what has shrunk to a node is gone; who ends and passes where."""
        kept = []
        for run in self.runs:
            self.steps.take(3 + len(run.on))
            run.ends = [self.find(n) for n in run.ends]
            run.on = {self.find(n) for n in run.on} - set(run.ends)
            if run.ends[0] != run.ends[1] or run.curve:
                kept.append(run)
        self.runs = kept
        self.ends_at, self.through = {}, {}
        for number, run in enumerate(self.runs):
            for side, node in enumerate(run.ends):
                self.ends_at.setdefault(node, []).append((number, side))
            for node in run.on:
                self.through.setdefault(node, []).append(number)

    def hanging(self) -> list[int]:
        """Nodes where one run ends and nothing else is."""
        return sorted(n for n, ends in self.ends_at.items() if len(ends) == 1 and n not in self.through)

    def shapes_at(self, node: int) -> frozenset[int]:
        """Filled shapes with a corner at the node."""
        return frozenset().union(*(self.runs[r].shapes for r, _ in self.ends_at.get(node, ())))

    def nodes(self) -> list[int]:
        """Nodes in use, by number."""
        return sorted(self.ends_at.keys() | self.through.keys())

    def shape(self, run: Run) -> tuple[Point, ...]:
        """Where a run lies now, its ends at their nodes."""
        a, b = (self.at[n] for n in run.ends)
        return (a, *run.curve[1:-1], b) if run.curve else (a, b)

    def trees(self, parted: bool = False) -> tuple[shapely.STRtree, list[int]]:
        """A search tree over the pieces of all runs, and the run of each piece.

        Args:
            parted: straight runs are parted at their nodes.
        """
        pieces: list[tuple[Point, Point]] = []
        owners: list[int] = []
        for number, run in enumerate(self.runs):
            points = self.shape(run)
            if parted and run.on and not run.curve:
                inner = sorted((self.place(run, self.at[n]), self.at[n]) for n in run.on)
                points = (points[0], *(p for _, p in inner), points[1])
            for piece in itertools.pairwise(points):
                pieces.append(piece)
                owners.append(number)
        lines = line_array(pieces)
        return shapely.STRtree(lines), owners

    def near_runs(self, nodes: Sequence[int], distance: float) -> dict[int, list[tuple[float, int]]]:
        """For each node the runs nearer than `distance` that do not have it yet: (distance, run), nearest first."""
        if not nodes or not self.runs:
            return {}
        tree, owners = self.trees()
        spots = shapely.points([self.at[n] for n in nodes])
        found: dict[int, dict[int, float]] = {}
        for which, piece in near_pairs(tree, spots, distance, self.steps):
            self.steps.take(2)
            node, number = nodes[which], owners[piece]
            run = self.runs[number]
            if node in run.ends or node in run.on:
                continue
            gap = float(shapely.distance(spots[which], tree.geometries[piece]))
            best = found.setdefault(node, {})
            best[number] = min(gap, best.get(number, math.inf))
        return {node: sorted((gap, number) for number, gap in best.items()) for node, best in found.items()}

    def attach(self, nodes: Sequence[int], distance: float) -> int:
        """Put nodes on the runs they lie on to `distance`; returns how many."""
        found = self.near_runs(nodes, distance)
        for node in sorted(found):
            for _, number in found[node]:
                self.runs[number].on.add(node)
        if found:
            self.refresh()
        return len(found)

    def drop_crossings(self) -> None:
        """Forget the nodes that no end lies on: they are found again where runs cross."""
        for run in self.runs:
            run.on = {n for n in run.on if self.drawn[n]}
        self.refresh()

    def place(self, run: Run, at: Point) -> float:
        """How far along the run the place is, inches from its start."""
        points = self.shape(run)
        if not run.curve:
            return along(at, *points) if points[0] != points[1] else 0.0
        return place_on(points, at)[0]

    def repaired(self, kind: str, at: Point, amount: float) -> None:
        """Keep a repair for the notes."""
        self.repairs.setdefault(kind, []).append((at, amount))


def line_array(pieces: Sequence[Sequence[Point]]) -> npt.NDArray[np.object_]:
    """Pieces as an array of lines of the geometry library."""
    lines: Any = shapely.linestrings(np.array(pieces, dtype=float).reshape(-1, 2, 2))
    return np.atleast_1d(lines)


def near_pairs(
    tree: shapely.STRtree, things: npt.NDArray[np.object_], distance: float, steps: Steps
) -> list[tuple[int, int]]:
    """(thing, piece of the tree) of all that lie within a distance of each other, in order; a few at a time, so
    that a pile of lines on one another is refused before its pairs fill the memory."""
    found: list[tuple[int, int]] = []
    for start in range(0, len(things), CHUNK):
        which, piece = tree.query(things[start : start + CHUNK], "dwithin", distance)
        steps.take(len(which))
        found += sorted(zip((which + start).tolist(), piece.tolist(), strict=True))
    return found


def box_pairs(tree: shapely.STRtree, things: npt.NDArray[np.object_], steps: Steps) -> None:
    """Count the pairs whose boxes meet: each costs time, whether they cross or not."""
    steps.take(tree.query(things).shape[1] // NATIVE)


def place_on(points: Sequence[Point], at: Point) -> tuple[float, Point]:
    """Distance along a polyline of the place on it that is nearest to `at`, and that place."""
    best, done = (math.inf, 0.0, at), 0.0
    for p, q in itertools.pairwise(points):
        length = math.dist(p, q)
        t = min(max(along(at, p, q), 0.0), length) if length else 0.0
        foot = (p[0] + (q[0] - p[0]) * (t / length), p[1] + (q[1] - p[1]) * (t / length)) if length else p
        best = min(best, (math.dist(foot, at), done + t, foot))
        done += length
    return best[1], best[2]


def clusters(places: Sequence[Point], distance: float) -> list[list[int]]:
    """Places linked by steps of at most `distance`, as lists of their indices."""
    union = Union(len(places))
    # All places in one cell are linked; of cells that lie near each other one link is enough.
    side = distance / 1.5
    cells: dict[tuple[int, int], list[int]] = {}
    for i, (x, y) in enumerate(places):
        cells.setdefault((math.floor(x / side), math.floor(y / side)), []).append(i)
    steps = [(dx, dy) for dx in range(-2, 3) for dy in range(-2, 3) if (dx, dy) > (0, 0)]
    for (cx, cy), here in cells.items():
        for i in here[1:]:
            union.merge(here[0], i)
        for dx, dy in steps:
            there = cells.get((cx + dx, cy + dy))
            if there and any(math.dist(places[i], places[j]) <= distance for i in here for j in there):
                union.merge(here[0], there[0])
    return union.groups()


def usual(places: Iterable[Point]) -> Point:
    """The place most of them share; of equally many the first by position."""
    counts = Counter(places)
    return min(counts, key=lambda p: (-counts[p], p))


def meet(a: Point, b: Point, c: Point, d: Point) -> Point | None:
    """Where the line through a, b meets the line through c, d; None if they are parallel."""
    ux, uy, vx, vy = b[0] - a[0], b[1] - a[1], d[0] - c[0], d[1] - c[1]
    cross = ux * vy - uy * vx
    if abs(cross) <= 1e-12 * math.hypot(ux, uy) * math.hypot(vx, vy):
        return None
    t = ((c[0] - a[0]) * vy - (c[1] - a[1]) * vx) / cross
    return (a[0] + t * ux, a[1] + t * uy)


def sine(a: Point, b: Point, c: Point, d: Point) -> float:
    """Sine of the angle from line ab to line cd, 0 to 1."""
    ux, uy, vx, vy = b[0] - a[0], b[1] - a[1], d[0] - c[0], d[1] - c[1]
    return min(1.0, abs(ux * vy - uy * vx) / (math.hypot(ux, uy) * math.hypot(vx, vy)))
