"""Seams that nest where blocks meet: which way the joins of each block are pressed so that they lock.

Knows:  the side to which every seam that ends on a block's edge is pressed, where seams of two blocks meet in a
        point of their common edge, and whether all of them can nest.
Leaves: which side shows through a light patch (piecing.pressing), which pieces touch (contacts), words
        (words.quilts).
Units:  inches.
Method: two seams nest where they are pressed to opposite sides of their common point (common practice). Walking
        round each block clockwise that is the same side for both, since they walk the edge in opposite directions.
        On paper the side is settled: allowance lies under the patch added last; so it is where dark allowance would
        show through. Any other join is free, in every block by itself, so a meeting says that two free joins go the
        same way or the other way round: whether all can nest is whether a graph of such ties has no odd ring
        (parity). If blocks pressed all alike nest as often, they are pressed alike. Where not all can nest, a first
        guess is bettered join by join, so the count told is reached, and may not be the most.
Limits: seams inside a unit that is cut by ruler are free, whatever order its makers press in.
"""

from __future__ import annotations

from collections.abc import Hashable, Iterable, Iterator, Sequence
from dataclasses import dataclass

from seamwright.geometry import Point
from seamwright.piecing.model import Plan
from seamwright.piecing.pressing import Pressing
from seamwright.piecing.turns import join_edges
from seamwright.quilt.contacts import SAME_IN, End, contacts_of, on_side, pieces_of
from seamwright.quilt.lines import MEET_WITHIN_IN
from seamwright.quilt.model import Quilt, Set

PASSES = 20
"""Rounds of betterment: each must gain a point that nests, and in practice two or three do."""


@dataclass(frozen=True, slots=True)
class Press:
    """One join of a block and the part to which its allowance goes.

    Attributes:
        join: its place in the sewing order, from 1. name: what it makes, "A+B". towards: name of that part.
    """

    join: int
    name: str
    towards: str


@dataclass(frozen=True, slots=True)
class Way:
    """One way of pressing a block.

    Attributes:
        look: number of its look. presses: its joins that reach an edge and nest there, here or in another block.
        spots: numbers of the blocks that are pressed so.
    """

    look: int
    presses: tuple[Press, ...]
    spots: tuple[int, ...]


@dataclass(frozen=True, slots=True)
class Nesting:
    """How the seams of a quilt meet.

    Attributes:
        meetings: points of common edges where seams of both blocks end. nested: how many of them nest if blocks are
            pressed as told.
        settled: how many do not since paper, or dark allowance, settles the sides of both.
        ways: every way of pressing each look in which a seam nests by choice; one each if all blocks are pressed
            alike.
        places: of the meetings that do not nest.
        between: how the seams between blocks are pressed, a sentence; "" for a single block.
    """

    meetings: int
    nested: int
    settled: int
    ways: tuple[Way, ...]
    places: tuple[Point, ...]
    between: str

    @property
    def alike(self) -> bool:
        """Whether every block of a look is pressed the same way."""
        looks = [way.look for way in self.ways]
        return len(looks) == len(set(looks))


Literal = tuple[Hashable, int]
"""(what is free, or None if the side is settled; the side, +1 clockwise round the block, if that goes the way it is
told first)."""
_Meeting = tuple[Point, tuple[tuple[int, Literal], ...]]
"""Where, and (number of the spot, literal) of each seam."""


def nesting(quilt: Quilt, plans: Sequence[Plan]) -> Nesting:
    """How the seams of a quilt meet, and how to press its blocks so that they nest.

    Args:
        plans: of each look, in order; of blocks that can be sewn.
    """
    sides = [_Sides(plan) for plan in plans]
    meetings = list(_meetings(quilt, plans, sides))
    look_of = [spot.look for spot in quilt.spots]
    alike = settle([_owned(lits, look_of) for _, lits in meetings])
    apart = settle([_owned(lits, range(len(look_of))) for _, lits in meetings])
    all_alike = sum(alike.nests) >= sum(apart.nests)
    best = alike if all_alike else apart
    met = {
        (look_of[spot], key)
        for (_, lits), nests in zip(meetings, best.nests, strict=True)
        for spot, (key, _) in lits
        if nests and key is not None
    }
    keys = [[key for key in of.joins if (look, key) in met] for look, of in enumerate(sides)]
    asked = [
        tuple(best.sides.get((look if all_alike else number, key), 0) for key in keys[look])
        for number, look in enumerate(look_of)
    ]
    ways = [
        Way(look, tuple(map(sides[look].press, keys[look], pressed)), tuple(spots))
        for (look, pressed), spots in _alike(look_of, asked)
        if pressed
    ]
    return Nesting(
        len(meetings),
        sum(best.nests),
        sum(len({side for _, (key, side) in lits if key is None}) > 1 for _, lits in meetings),
        tuple(ways),
        tuple(at for (at, _), nests in zip(meetings, best.nests, strict=True) if not nests),
        _between(quilt),
    )


def _alike(
    look_of: Sequence[int], asked: Sequence[tuple[int, ...]]
) -> list[tuple[tuple[int, tuple[int, ...]], list[int]]]:
    """Blocks that are pressed alike: ((look, side of each join), blocks), by their first block.

    Args:
        asked: for each block the sides of its joins, 0 where it meets no seam there: such a join goes as in other
            blocks, so that there are few ways to press.
    """
    ways: dict[tuple[int, tuple[int, ...]], list[int]] = {}
    for number in sorted(range(len(asked)), key=lambda each: asked[each].count(0)):
        look, sides = look_of[number], asked[number]
        same = (w for w in ways if w[0] == look and all(a in (0, b) for a, b in zip(sides, w[1], strict=True)))
        way = next(same, (look, tuple(side or 1 for side in sides)))
        ways.setdefault(way, []).append(number)
    return sorted(((way, sorted(spots)) for way, spots in ways.items()), key=lambda each: each[1][0])


class _Sides:
    """The sides to which the seams of one plan are pressed."""

    def __init__(self, plan: Plan) -> None:
        self.plan, self._pressing = plan, Pressing(plan)
        self._step = {p: (s, k) for s, section in enumerate(plan.sections) for k, p in enumerate(section.patches)}
        self._join = {edge: n for n, edges in enumerate(join_edges(plan), 1) for edge in edges}
        parts = {section.name: frozenset(section.patches) for section in plan.sections}
        self._parts: list[tuple[frozenset[int], frozenset[int]]] = []
        for join in plan.joins:
            first, second = parts[join.first], parts[join.second]
            parts[join.makes] = first | second
            self._parts.append((first, second))
        self.joins = range(1, len(plan.joins) + 1)

    def press(self, join: int, side: int) -> Press:
        """A join pressed the way it is told first (1) or the other (-1)."""
        made = self.plan.joins[join - 1]
        to_first = (side == 1) == self._first_told(join)
        return Press(join, made.makes, made.first if to_first else made.second)

    def literals(self, end: End) -> list[Literal]:
        """The seams that end at a point of an edge; those pressed open are left out, for they hinder nothing."""
        return [lit for edge in end.edges if (lit := self._literal(edge, end.point)) is not None]

    def _literal(self, number: int, point: int) -> Literal | None:
        edge = self.plan.block.edges[number]
        # Into the block from its edge: what lies clockwise along the outline is on the left hand.
        left, right = (edge.left, edge.right) if edge.start == point else (edge.right, edge.left)
        if left not in self._step or right not in self._step:
            return None
        (section, k), (other, m) = self._step[left], self._step[right]
        if section == other:
            if self.plan.sections[section].method == "ruler":
                return ("unit", edge.seam), 1
            return None, 1 if k > m else -1
        join = self._join[number]
        first, second = self._parts[join - 1]
        dark = [self._pressing.shows(join, part) for part in (first, second)]
        side = 1 if left in first else -1
        if all(dark):
            return None
        if any(dark):
            return None, side if dark[0] else -side
        return join, side if self._first_told(join) else -side

    def _first_told(self, join: int) -> bool:
        """Whether a free join is told first towards its first part: fewer seams end there, or as many."""
        few, many = (self._pressing.seams_ending(join, part) for part in self._parts[join - 1])
        return few <= many


def _meetings(quilt: Quilt, plans: Sequence[Plan], sides: Sequence[_Sides]) -> Iterator[_Meeting]:
    """Every point of a common edge at which seams of both blocks end, and which way they go."""
    pieces = pieces_of(quilt, [plan.block for plan in plans])
    for contact in contacts_of(pieces):
        one, other = pieces[contact.one], pieces[contact.other]
        if one.look < 0 or other.look < 0:
            continue
        there = [end for end in other.shape[contact.other_side].ends if end.edges]
        for end in one.shape[contact.side].ends:
            if not end.edges or not contact.start - SAME_IN <= end.at <= contact.end + SAME_IN:
                continue
            for across in there:
                if abs(contact.shift - across.at - end.at) <= MEET_WITHIN_IN:
                    mine, theirs = sides[one.look].literals(end), sides[other.look].literals(across)
                    if mine and theirs:
                        lits = [(one.number, lit) for lit in mine] + [(other.number, lit) for lit in theirs]
                        yield on_side(one, contact.side, end.at), tuple(lits)


def _owned(lits: Iterable[tuple[int, Literal]], owner: Sequence[int]) -> tuple[Literal, ...]:
    """The literals of a meeting; what is free is called after what owns it: the block itself, or its look."""
    return tuple((None if key is None else (owner[spot], key), side) for spot, (key, side) in lits)


@dataclass(frozen=True, slots=True)
class Settled:
    """Sides chosen.

    Attributes:
        sides: +1 or -1 for all that is free. nests: of each meeting, whether it does.
    """

    sides: dict[Hashable, int]
    nests: tuple[bool, ...]


def settle(meetings: Sequence[Sequence[Literal]]) -> Settled:
    """Sides for all that is free, so that as many meetings nest as a first guess and its betterment find.

    A meeting nests if all its literals come to one side. If all can nest, all do.
    """
    ties = _Ties()
    for lits in meetings:
        (first, side), *rest = lits
        for key, other in rest:
            ties.tie(first, key, side * other)
    sides = {key: ties.side(key) for lits in meetings for key, _ in lits if key is not None}
    where: dict[Hashable, list[int]] = {}
    for number, lits in enumerate(meetings):
        for key in dict.fromkeys(key for key, _ in lits if key is not None):
            where.setdefault(key, []).append(number)

    def nests(number: int) -> bool:
        return len({side if key is None else side * sides[key] for key, side in meetings[number]}) == 1

    for _ in range(PASSES):
        gained = False
        for key, numbers in where.items():
            before = sum(map(nests, numbers))
            sides[key] = -sides[key]
            if sum(map(nests, numbers)) > before:
                gained = True
            else:
                sides[key] = -sides[key]
        if not gained:
            break
    return Settled(sides, tuple(map(nests, range(len(meetings)))))


class _Ties:
    """What goes the same way, or the other way round: sets with parity; None always goes +1."""

    def __init__(self) -> None:
        self._over: dict[Hashable, tuple[Hashable, int]] = {}

    def side(self, key: Hashable) -> int:
        """The side of something, where what is free by itself goes +1 and a tie to what is settled is kept."""
        root, sign = self._root(key)
        anchor, other = self._root(None)
        return sign * other if root == anchor else sign

    def tie(self, one: Hashable, other: Hashable, same: int) -> None:
        """Ties two, +1 for the same way, unless they are tied already."""
        (a, sign_a), (b, sign_b) = self._root(one), self._root(other)
        if a != b:
            self._over[b] = (a, sign_a * sign_b * same)

    def _root(self, key: Hashable) -> tuple[Hashable, int]:
        path: list[Hashable] = []
        sign = 1
        while key in self._over:
            path.append(key)
            key = self._over[key][0]
        # From the far end back, so that each is laid straight under the root.
        for step in reversed(path):
            sign *= self._over[step][1]
            self._over[step] = (key, sign)
        return key, sign


def _between(quilt: Quilt) -> str:
    sashing = quilt.setting.sashing
    if len(quilt.spots) < 2:
        return ""
    if sashing is not None:
        if sashing.cornerstones:
            return "press all seams of the sashing towards the sashes: at every cornerstone they then nest"
        return "press all seams of the sashing towards the sashes"
    rows = "rows"
    if quilt.setting.set is Set.ON_POINT:
        rows = "diagonal rows"
    elif quilt.rows < 3:
        by_row = " in row 1, and to the other in row 2: where four blocks meet they then nest" * (quilt.rows - 1)
        return f"press the seams between blocks to one side{by_row}"
    return (
        f"press the seams between blocks to one side in {rows} 1, 3, 5 and so on, to the other in rows 2, 4, 6: "
        "where four blocks meet they then nest"
    )
