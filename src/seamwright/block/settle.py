"""Settling: the least moves that bring every point on to the lines it belongs to.

Knows:  points, and for each straight run its two anchor points and the points that must lie between them.
Leaves: which point belongs to which line (tidy decides that first, once).
Method: Gauss-Newton steps of least weighted length on "distance of the point from its line = 0"; the normal
        equations by conjugate gradients (M. R. Hestenes, E. Stiefel, "Methods of Conjugate Gradients for Solving
        Linear Systems", J. Res. Natl. Bur. Stand. 49(6), 1952, pp. 409-436).
Limits: points that are exact already (KEEP_IN) keep every bit.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from seamwright.block.net import meet, sine
from seamwright.block.steps import Steps
from seamwright.geometry import Point, foot, off_line

KEEP_IN = 1e-9
"""A point this near to its lines is where it belongs: nothing is moved for the noise of floats."""
DONE_IN = 1e-12
DIGITS = 10
"""Decimals of a point that had to move: finer than KEEP_IN, so that a second tidying finds nothing to do."""

Array = npt.NDArray[np.float64]
Whole = npt.NDArray[np.intp]


def settle(
    points: Sequence[Point],
    rows: Sequence[tuple[int, int, int]],
    ease: Sequence[float],
    spare: Sequence[float],
    most: float = math.inf,
    steps: Steps | None = None,
) -> tuple[list[Point], list[int]]:
    """The points moved on to their lines, and the rows that could not be met.

    Args:
        points: inches.
        rows: (point, anchor, anchor): the point belongs on the line through the two anchors.
        ease: how easily each point moves; 0 for not at all.
        steps: counts the work.
        spare: the same for a second try, where the first finds no way, or one with moves longer than `most`.
    """
    steps = steps or Steps()
    steps.take(2 * len(points) + len(rows))
    if not rows:
        return list(points), []
    at = np.array(points, dtype=float)
    index = np.array(rows, dtype=np.intp)
    if _worst(at, index) > KEEP_IN:
        drawn, at = at, np.array(_slide(list(points), rows, ease, steps), dtype=float)
        # Where three lines meet sliding is not enough; then all moves are shared out afresh from what was drawn.
        for weights in (ease, spare):
            if _worst(at, index) <= KEEP_IN and np.abs(at - drawn).max() <= most:
                break
            at = _solve(drawn, index, np.array(weights, dtype=float), steps)
    moved = [
        p if math.dist(p, q) <= KEEP_IN / 10 else (round(q[0], DIGITS), round(q[1], DIGITS))
        for p, q in zip(points, map(tuple, at.tolist()), strict=True)
    ]
    left = np.abs(_state(np.array(moved), index)[2]) > KEEP_IN
    return moved, [int(i) for i in np.flatnonzero(left)]


def _slide(
    at: list[Point], rows: Sequence[tuple[int, int, int]], ease: Sequence[float], steps: Steps
) -> list[Point]:
    """Points on one line slid straight on to it, points on two to their crossing; lines move with their anchors.

    Does all of the work where no three lines meet, and moves nothing but the points that are off.
    """
    lines: dict[int, list[tuple[int, int]]] = {}
    for p, a, b in rows:
        lines.setdefault(p, []).append((a, b))
    for _ in range(60):
        most = 0.0
        steps.take(len(rows))
        for p, through in lines.items():
            if len(through) > 2 or not ease[p]:
                continue
            ends = [(at[a], at[b]) for a, b in through if at[a] != at[b]]
            if not ends or max(abs(off_line(at[p], *line)) for line in ends) <= DONE_IN:
                continue
            to: Point | None = foot(at[p], *ends[0])
            if len(ends) == 2:
                to = meet(*ends[0], *ends[1]) if sine(*ends[0], *ends[1]) > 0.1 else None
            if to is not None:
                most = max(most, math.dist(to, at[p]))
                at[p] = to
        if most <= DONE_IN:
            break
    return at


def _state(at: Array, index: Whole) -> tuple[Array, Array, Array]:
    """Normals of the lines, the points' places along them (0 to 1) and their distances from them."""
    p, a, b = at[index[:, 0]], at[index[:, 1]], at[index[:, 2]]
    d = b - a
    length = np.maximum(np.hypot(d[:, 0], d[:, 1]), 1e-12)
    normal = np.stack([-d[:, 1], d[:, 0]], axis=1) / length[:, None]
    place = ((p - a) * d).sum(axis=1) / length**2
    return normal, place, ((p - a) * normal).sum(axis=1)


def _worst(at: Array, index: Whole) -> float:
    return float(np.abs(_state(at, index)[2]).max())


def _solve(at: Array, index: Whole, ease: Array, steps: Steps) -> Array:
    best, best_worst, stalled = at, _worst(at, index), 0
    for _ in range(25):
        normal, place, off = _state(at, index)
        shares = np.stack([np.ones_like(place), place - 1.0, -place], axis=1)
        # Rows without any point that may move cannot be met; they would spoil the rest.
        free = (ease[index] * shares**2).sum(axis=1) > 0
        goal = np.where(free, -off, 0.0)
        if np.abs(goal).max(initial=0.0) <= DONE_IN:
            break
        step = _Step(index, normal, shares, ease, free)
        at = at + step.moves(_conjugate(step, goal, steps))
        worst = _worst(at, index)
        # Where lines cannot go through all their points no step helps for long.
        stalled = 0 if worst < best_worst / 2 else stalled + 1
        if worst < best_worst:
            best, best_worst = at, worst
        if stalled > 2 or worst > 4 * best_worst + KEEP_IN:
            break
    return best


@dataclass(frozen=True, slots=True)
class _Step:
    """The linear part of one Gauss-Newton step: how pulls on the rows move the points, and what rows see of moves.

    Attributes:
        index: (rows, 3) point and anchors; normal: (rows, 2) across each line; shares: (rows, 3) how far the
            distance follows each of the three points; ease: (points,); free: (rows,) whether the row counts.
    """

    index: Whole
    normal: Array
    shares: Array
    ease: Array
    free: npt.NDArray[np.bool_]

    def moves(self, pull: Array) -> Array:
        """(points, 2) moves under a pull on each row."""
        moves = np.zeros((len(self.ease), 2))
        for k in range(3):
            for axis in range(2):
                weights = pull * self.shares[:, k] * self.normal[:, axis]
                moves[:, axis] += np.bincount(self.index[:, k], weights=weights, minlength=len(moves))
        moves *= self.ease[:, None]
        return moves

    def seen(self, moves: Array) -> Array:
        """(rows,) change of each distance under moves."""
        seen = np.zeros(len(self.index))
        for k in range(3):
            seen += (moves[self.index[:, k]] * self.normal).sum(axis=1) * self.shares[:, k]
        return np.where(self.free, seen, 0.0)


def _conjugate(step: _Step, goal: Array, steps: Steps) -> Array:
    """Pulls under which the rows see `goal`, the least ones if there are many."""
    pull = np.zeros_like(goal)
    rest = goal.copy()
    way = rest.copy()
    size = float(rest @ rest)
    aim = max(size * 1e-26, 1e-30)
    for _ in range(min(4 * len(goal) + 20, 400)):
        if size <= aim:
            break
        steps.take(1 + len(goal) // 4)
        image = step.seen(step.moves(way))
        bend = float(way @ image)
        if bend <= 0:
            break
        pull = pull + way * (size / bend)
        rest = rest - image * (size / bend)
        size, before = float(rest @ rest), size
        way = rest + way * (size / before)
    return pull
