"""Joins that turn: are a set-in and a partial seam what they are said to be?

Knows:  the legs of a run between its turns, where a drawn line runs on beyond a turn.
Leaves: whether the run is where two parts meet (checker), straight lines and curves as such (runs).
Units:  inches, front view.
Method: between two turns a run must be straight or lie on one drawn curve; at a turn it must not run on as one.
        At the turn of a partial seam one of its legs runs straight on in the drawing, beyond the turn and inside
        one of the two parts: that is the half that was sewn before, and the leg is its second go. At a turn of
        a set-in seam neither does, so the needle has to pivot there.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Mapping, Sequence
from itertools import pairwise

from seamwright.geometry import Point
from seamwright.proof.claim import Polyline
from seamwright.proof.runs import STRAIGHT_IN, lies_near, sharpest_bend, sharpest_turn

Run = Sequence[Point]
Finding = tuple[str, str, Point]
"""(name of the fault, what is wrong, where)."""


def fault_of(
    kind: str, run: Run, turns: Sequence[Point], lines: Sequence[Polyline], beyond: Mapping[Point, Sequence[Point]]
) -> Finding | None:
    """What is wrong with a join that is said to turn, or None.

    Args:
        kind: "set-in" or "partial".
        run: where the two parts meet, from end to end, each point at which any line ends among its points.
        turns: where it is said to turn, in the order of the run in either direction.
        lines: of the drawing. beyond: for each point of its faces the other ends of all edges there.
    """
    if _is_one(run, lines):
        return f"straight called {kind}", "the seam turns nowhere", run[len(run) // 2]
    places = [_place(run, turn) for turn in turns]
    for place, turn in zip(places, turns, strict=True):
        if place is None:
            return "turn at the wrong point", "the seam has no inner point there", turn
    at = [place for place in places if place is not None]
    if at != sorted(set(at)) and at != sorted(set(at), reverse=True):
        return "turn at the wrong point", "the turns are not in the order of the seam", turns[0]
    stops = [0, *sorted(at), len(run) - 1]
    for start, end in pairwise(stops):
        leg = run[start : end + 1]
        if not _is_one(leg, lines):
            return "missing turn", "the seam turns where no turn is stated", _bend(leg)
    for before, place, after in zip(stops, stops[1:], stops[2:], strict=False):
        if _is_one(run[before : after + 1], lines):
            return "extra turn", "the seam runs straight on where a turn is stated", run[place]
    halves = [_runs_on(run, place, beyond[run[place]], lines) for place in stops[1:-1]]
    if kind == "partial" and not all(halves):
        where = run[stops[1 + halves.index(False)]]
        return "set-in called partial", "neither leg of the seam runs on beyond its turn", where
    if kind == "set-in" and all(halves):
        return "partial called set-in", "at each turn one leg of the seam runs on beyond it", run[stops[1]]
    return None


def _is_one(run: Run, lines: Sequence[Polyline]) -> bool:
    """Whether a run is straight, or one drawn curve."""
    if sharpest_bend(run) is None:
        return True
    return sharpest_turn(run) is None and any(all(lies_near(p, line) for p in run) for line in lines)


def _bend(leg: Run) -> Point:
    corner = sharpest_turn(leg) or sharpest_bend(leg)
    return leg[0] if corner is None else corner


def _place(run: Run, turn: Point) -> int | None:
    """Which inner point of the run a stated turn is."""
    near = (place for place in range(1, len(run) - 1) if math.dist(run[place], turn) <= STRAIGHT_IN)
    return next(near, None)


def _runs_on(run: Run, place: int, beyond: Iterable[Point], lines: Sequence[Polyline]) -> bool:
    """Whether a leg of the run, at one of its turns, runs on in the drawing as one line.

    Args:
        beyond: the other ends of all edges at the turn.
    """
    here = run[place]
    legs = (run[place - 1], run[place + 1])
    return any(_is_one((leg, here, end), lines) for end in beyond for leg in legs if end not in legs)
