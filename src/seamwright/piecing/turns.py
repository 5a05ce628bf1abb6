"""Joins by the edges that they sew, and how those that turn are sewn: leg by leg, in which goes.

Knows:  at which points joins turn, whether the needle pivots there or a seam sewn before is carried on, and the
        order of the legs.
Leaves: which joins there are (joins, setin), words (words.checks), dots on paper (foundation).
Method: at a turn where neither leg runs on in the drawing the needle pivots. Where one does, its other half was
        sewn before, up to the point and no further; so the leg that ends there is sewn first, and the leg that runs
        on is the second go of the seam sewn before: it lies flat and straight, and nothing pivots.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from itertools import pairwise

from seamwright.block.model import Block, Edge
from seamwright.piecing.model import Plan


@dataclass(frozen=True, slots=True)
class Turn:
    """A point at which a join turns.

    Attributes:
        point: its number. join: place of the join in the sewing order, from 1.
        before, after: whether the leg that leads to it, and the one that leads away, runs on in the drawing.
    """

    point: int
    join: int
    before: bool
    after: bool

    @property
    def is_half(self) -> bool:
        """Whether a leg is the second go of a seam that was sewn up to here before; else the needle pivots."""
        return self.before or self.after


@dataclass(frozen=True, slots=True)
class Leg:
    """A run of a join from one end or turn to the next, in the direction in which it is sewn.

    Attributes:
        points: along it.
        pivots: it follows the leg before it without a break, the needle being down.
        closes: it is the second go of a seam that was sewn up to its first point before.
    """

    points: tuple[int, ...]
    pivots: bool = False
    closes: bool = False


def join_edges(plan: Plan) -> tuple[tuple[int, ...], ...]:
    """For each join in sewing order the edges that it sews, along its seam."""
    block = plan.block
    between: dict[frozenset[int], list[int]] = {}
    for number, edge in enumerate(block.edges):
        between.setdefault(frozenset((edge.start, edge.end)), []).append(number)
    parts = {section.name: frozenset(section.patches) for section in plan.sections}
    found: list[tuple[int, ...]] = []
    for join in plan.joins:
        first, second = parts.get(join.first, frozenset()), parts.get(join.second, frozenset())
        parts[join.makes] = first | second
        # Two points may be joined by a straight edge and a curve: the one between the two parts is meant.
        found.append(
            tuple(
                number
                for pair in pairwise(join.seam)
                for number in between.get(frozenset(pair), ())
                if _parts(block.edges[number], first, second)
            )
        )
    return tuple(found)


def _parts(edge: Edge, first: frozenset[int], second: frozenset[int]) -> bool:
    return (edge.left in first and edge.right in second) or (edge.right in first and edge.left in second)


def turns_of(plan: Plan) -> tuple[Turn, ...]:
    """Every turn of every join, in sewing order and along each join; () for a plan of straight and curved joins."""
    if not any(join.turns for join in plan.joins):
        return ()
    found = []
    for number, (join, edges) in enumerate(zip(plan.joins, join_edges(plan), strict=True), start=1):
        for point in join.turns:
            at = join.seam.index(point)
            before, after = (_runs_on(plan.block, edge, point) for edge in edges[at - 1 : at + 1])
            found.append(Turn(point, number, before, after))
    return tuple(found)


def _runs_on(block: Block, edge: int, point: int) -> bool:
    """Whether the line of an edge runs on beyond the point at one of its ends."""
    seam = block.seams[block.edges[edge].seam].points
    return point in seam[1:-1] or seam[0] == seam[-1] == point


def with_kinds(plan: Plan) -> Plan:
    """The plan, its joins that turn told apart: partial if a leg runs on at every turn, else set-in."""
    pivots = {turn.join for turn in turns_of(plan) if not turn.is_half}
    joins = tuple(
        replace(join, kind="set-in" if number in pivots else "partial") if join.turns else join
        for number, join in enumerate(plan.joins, start=1)
    )
    return replace(plan, joins=joins)


def legs_of(plan: Plan, number: int) -> tuple[Leg, ...]:
    """The legs of join `number` (from 1) in the order in which they are sewn."""
    join = plan.joins[number - 1]
    turns = {turn.point: turn for turn in turns_of(plan) if turn.join == number}
    seam, ways = join.seam, []
    for points in (seam, seam[::-1]):
        stops = [0, *(place for place, point in enumerate(points) if point in turns), len(points) - 1]
        runs = [points[a : b + 1] for a, b in pairwise(stops)]
        ways.append(tuple(_in_order(runs, turns, backwards=points != seam)))
    # Of both directions the one with fewer goes; then the one whose goes start at an end of the seam.
    return min(
        ways,
        key=lambda legs: (
            sum(not leg.pivots for leg in legs),
            sum(leg.points[0] in turns for leg in legs if not (leg.pivots or leg.closes)),
        ),
    )


def _in_order(runs: list[tuple[int, ...]], turns: dict[int, Turn], backwards: bool) -> Iterator[Leg]:
    """The runs between turns as legs: none that closes a seam comes before the leg that ends where it begins."""

    def closes(point: int, ahead: bool) -> bool:
        """Whether the run ahead of a turn (or behind it) is a second go; where both run on, the one ahead."""
        turn = turns.get(point)
        if turn is None or not turn.is_half:
            return False
        return (turn.before if backwards else turn.after) == ahead

    left = list(range(len(runs)))
    sewn_to: int | None = None
    while left:
        free = [
            k
            for k in left
            if not (k + 1 in left and closes(runs[k][-1], ahead=False))
            and not (k - 1 in left and closes(runs[k][0], ahead=True))
        ]
        here = next((k for k in free if runs[k][0] == sewn_to), free[0])
        left.remove(here)
        points = runs[here]
        if closes(points[0], ahead=True):
            leg = Leg(points, closes=True)
        elif closes(points[-1], ahead=False):
            leg = Leg(points[::-1], closes=True)
        elif points[0] == sewn_to:
            leg = Leg(points, pivots=True)
        elif points[0] in turns and points[-1] not in turns:
            leg = Leg(points[::-1])
        else:
            leg = Leg(points)
        sewn_to = leg.points[-1]
        yield leg
