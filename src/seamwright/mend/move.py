"""Points moved a little so that seams run straight on, and what slides along with them.

Knows:  which moves could free a region; that a seam stays straight when one of its ends moves, and that what ends
        on it or crosses it slides along; when the patches are no longer the same, or too narrow.
Leaves: whether the region is free then (region), words, proof.
Units:  inches.
Method: two seams that end at one point run on into each other once it lies on the line between their far ends, or
        once the far end of one lies on the other, drawn on. A point on a seam or on the outline slides along it to
        such a line; a free one goes to the nearest place on one, or to where two of them meet. Near ends on both
        sides of a seam are brought together where the line between their far ends meets it; an end near another
        point of the seam it lies on is brought to that point; the two ends of one seam are put on one line, or
        closed up to one point. Where no single move is enough, a second one follows the first.
"""

from __future__ import annotations

import math
from collections.abc import Collection, Iterator
from dataclasses import dataclass, replace
from itertools import combinations, islice

from seamwright.block.model import Block
from seamwright.geometry import Point, Segment, along, off_line, signed_area
from seamwright.mend.change import NARROWEST_IN, Change, narrowest, region_of
from seamwright.mend.region import stuck_parts
from seamwright.piecing.seammap import SeamMap

FARTHEST_IN = 1 / 4
FARTHEST_SHARE = 0.03
"""A point moves at most 1/4 in or 3 % of the block's larger side, whichever is more; the words say by how much."""
STEEPEST = math.sin(math.radians(6))
"""Moves beyond 1/4 in turn no seam by more than 6 degrees: among small patches 3 % of a large block is a lot."""
LEAST_IN = 1 / 200
"""Where two points move, each moves by this much at least: else one would do."""
MOST_LINES = 40
"""Lines that one point should lie on, of which each two are tried together."""
MOST_TRIED = 400
"""Moves of one region tried, nearest first."""
MOST_FOUND = 6
MOST_FIRST, MOST_SECOND = 4, 100
"""Where one move is not enough: first moves that help in part, and second moves tried after each."""

Moves = dict[int, Point]


def farthest(block: Block) -> float:
    """How far a point may be moved, inches."""
    return max(FARTHEST_IN, FARTHEST_SHARE * max(block.width_in, block.height_in))


def moves(seams: SeamMap, patches: tuple[int, ...], inner: list[int], others: Collection[int] = ()) -> list[Change]:
    """The moves that free a stuck region, the smallest first.

    Args:
        patches: of the stuck region.
        inner: its points that cutting does not reach.
        others: points inside other stuck regions; they stay, so that each region is mended by itself.
    """
    mover, block = _Mover(seams), seams.block
    found: list[Change] = []
    partly: list[_Step] = []
    whole = len(patches)
    for step in _tried(mover, inner, others):
        left = sum(len(part.faces) for part in stuck_parts(region_of(block, patches, step.new)))
        if not left:
            found.append(_change(block, step.move, step.new))
        elif left < whole:
            partly.append(replace(step, left=left))
        if len(found) == MOST_FOUND:
            break
    return found or _in_two(mover, patches, partly, others)


@dataclass(frozen=True, slots=True)
class _Step:
    """A move that keeps all patches: the points moved, every point's new place, how far, what stays stuck then."""

    move: Moves
    new: Moves
    amount: float
    left: int = 0


def _tried(mover: _Mover, inner: list[int], others: Collection[int]) -> Iterator[_Step]:
    """The moves that leave every patch and every straight seam, nearest first."""
    block = mover.block
    tried: dict[tuple[tuple[int, Point], ...], tuple[float, Moves]] = {}
    for move in _candidates(mover, inner):
        far = [math.dist(block.points[p], to) for p, to in move.items()]
        amount = max(far)
        # Of two points each must truly move: else one move does the same.
        if amount <= farthest(block) and min(far) > (1e-6 if len(far) == 1 else LEAST_IN):
            key = tuple(sorted((p, (round(x, 6), round(y, 6))) for p, (x, y) in move.items()))
            tried.setdefault(key, (amount, move))
    ranked = sorted(tried.items(), key=lambda item: (round(item[1][0], 6), len(item[1][1]), item[0]))
    for _, (amount, move) in ranked[:MOST_TRIED]:
        new = mover.slide(move)
        if new is None or any(point in others for point in new) or not mover.keeps_patches(new):
            continue
        if amount <= FARTHEST_IN or mover.turns_little(new):
            yield _Step(move, new, amount)


def _in_two(mover: _Mover, patches: tuple[int, ...], partly: list[_Step], others: Collection[int]) -> list[Change]:
    """Two points moved, each a little, where no single one is enough."""
    block, taken = mover.block, set(mover.block.points)
    single = [step for step in partly if len(step.move) == 1 and taken.isdisjoint(step.new.values())]
    found: list[Change] = []
    for first in sorted(single, key=lambda step: (step.left, round(step.amount, 6)))[:MOST_FIRST]:
        points = tuple(first.new.get(n, p) for n, p in enumerate(block.points))
        after = _Mover(SeamMap(replace(block, points=points)))
        stuck = stuck_parts(region_of(after.block, patches))
        inner = [p for part in stuck for p in part.points if p < len(points) and p not in part.border]
        if first.amount < LEAST_IN:
            continue
        for second in islice(_tried(after, inner, (*others, *first.new)), MOST_SECOND):
            new = {**first.new, **second.new}
            if second.amount < LEAST_IN or stuck_parts(region_of(block, patches, new)) or not mover.keeps(new):
                continue
            found.append(_change(block, {**first.move, **second.move}, new))
            break
    return sorted(found, key=lambda change: (round(change.amount, 6), change.moved))


def _change(block: Block, move: Moves, new: Moves) -> Change:
    # Told from left to right.
    every = [*sorted(move, key=lambda p: block.points[p]), *(p for p in sorted(new) if p not in move)]
    return Change(
        "move a point",
        moved=tuple((block.points[p], new[p]) for p in every),
        main=len(move),
        amount=max(math.dist(block.points[p], new[p]) for p in move),
    )


def _candidates(mover: _Mover, inner: list[int]) -> Iterator[Moves]:
    """Places for the points inside, and for the far ends of seams that end there."""
    ends = (mover.far(seam, point) for point in inner for seam in mover.ends[point])
    within = set(inner)
    for point in dict.fromkeys((*inner, *ends)):
        lines = _lines_through(mover, point, within)
        through = mover.seams.through[point]
        if mover.seams.on_outline[point] or len(through) == 1:
            for rail in mover.rails(point):
                yield from ({point: met} for line in lines if (met := _meet(line, rail)) is not None)
        elif not through:
            yield from ({point: _foot(mover.block.points[point], line)} for line in lines)
            for one, other in combinations(lines[:MOST_LINES], 2):
                met = _meet(one, other)
                if met is not None:
                    yield {point: met}
        if point in within and len(through) == 1:
            yield from _along(mover, point, through[0])
        if point in within and not through:
            for seam in mover.ends[point]:
                yield from _both_ends(mover, point, seam)


def _lines_through(mover: _Mover, point: int, within: set[int]) -> list[Segment]:
    """The lines that a point should lie on for two seams to run straight on into each other.

    Either both end at it: then between their far ends. Or one of them goes to a point inside at which the other
    ends: then on that one, drawn on.
    """
    pairs = [(mover.far(a, point), mover.far(b, point)) for a, b in combinations(mover.ends[point], 2)]
    for seam in mover.ends[point]:
        turn = mover.far(seam, point)
        if turn in within:
            pairs += [(mover.far(other, turn), turn) for other in mover.ends[turn] if other != seam]
    return [mover.at(pair) for pair in dict.fromkeys(pairs) if point not in pair and pair[0] != pair[1]]


def _along(mover: _Mover, point: int, rail: int) -> Iterator[Moves]:
    """An end on a seam brought to the next point there, or both to where their seams make one line."""
    run = mover.block.seams[rail].points
    here = run.index(point)
    for place in (here - 1, here + 1):
        if not 0 <= place < len(run):
            continue
        other = run[place]
        yield {point: mover.block.points[other]}
        if mover.seams.on_outline[other] or place in (0, len(run) - 1):
            continue
        for a in mover.ends[point]:
            for b in mover.ends[other]:
                met = _meet(mover.at((mover.far(a, point), mover.far(b, other))), mover.line(rail))
                if met is not None:
                    yield {point: met, other: met}


def _both_ends(mover: _Mover, point: int, seam: int) -> Iterator[Moves]:
    """Both ends of a seam between two points that none runs through: put on one line, or closed up to one point."""
    run = mover.block.seams[seam].points
    other = mover.far(seam, point)
    if other < point or mover.seams.on_outline[other] or mover.seams.through[other]:
        return
    here = [s for s in mover.ends[point] if s != seam]
    there = [s for s in mover.ends[other] if s != seam]
    pairs = [(mover.far(a, point), mover.far(b, other)) for a in here for b in there]
    lines = [mover.at(pair) for pair in pairs if pair[0] != pair[1]]
    one, two = mover.at((point, other))
    for line in lines:
        yield {point: _foot(one, line), other: _foot(two, line)}
    if len(run) != 2:
        return
    middle = ((one[0] + two[0]) / 2, (one[1] + two[1]) / 2)
    for foot in (_foot(middle, line) for line in lines):
        yield {point: foot, other: foot}
    for first, second in combinations(lines, 2):
        met = _meet(first, second)
        if met is not None:
            yield {point: met, other: met}


class _Mover:
    """Moves points of one block and lets what hangs on them slide along."""

    def __init__(self, seams: SeamMap) -> None:
        self.seams, self.block = seams, seams.block
        self.ends: list[list[int]] = [[] for _ in self.block.points]
        for number, seam in enumerate(self.block.seams):
            if seam.straight and seam.points[0] != seam.points[-1]:
                for point in (seam.points[0], seam.points[-1]):
                    self.ends[point].append(number)
        self.curved = {p for seam in self.block.seams if not seam.straight for p in seam.points}
        self.far_away = farthest(self.block)
        self._corners: dict[int, list[int]] = {}

    def far(self, seam: int, point: int) -> int:
        """The other end of a seam."""
        run = self.block.seams[seam].points
        return run[-1] if run[0] == point else run[0]

    def at(self, pair: tuple[int, int]) -> Segment:
        """Two points as a segment."""
        return self.block.points[pair[0]], self.block.points[pair[1]]

    def line(self, seam: int) -> Segment:
        """A seam from end to end."""
        run = self.block.seams[seam].points
        return self.at((run[0], run[-1]))

    def rails(self, point: int) -> list[Segment]:
        """What a point can slide along: the one side of the outline or the one seam that it lies on."""
        if self.seams.on_outline[point]:
            ring = self.block.outline
            k = ring.index(point)
            before, after = self.block.points[ring[k - 1]], self.block.points[ring[(k + 1) % len(ring)]]
            here = self.block.points[point]
            straight = abs(off_line(here, before, after)) <= 1e-6 and along(here, before, after) > 0
            return [(before, after)] if straight else []
        through = self.seams.through[point]
        return [self.line(through[0])] if len(through) == 1 else []

    # -- what slides along ------------------------------------------------------------------------------

    def slide(self, move: Moves) -> Moves | None:
        """All places that change by a move; None if seams could not stay straight."""
        new = dict(move)
        work = list(move)
        turned: dict[int, None] = {}
        while work:
            point = work.pop()
            if point in self.curved or len(new) > 60:
                return None
            for number, _ in self.seams.places[point]:
                turned[number] = None
                run = self.block.seams[number].points
                if point not in (run[0], run[-1]):
                    continue
                for inner in run[1:-1]:
                    if inner in move:
                        continue
                    to = self._slid(inner, number, new)
                    if to is None or math.dist(to, self.block.points[inner]) > self.far_away:
                        return None
                    before = new.get(inner, self.block.points[inner])
                    if math.dist(to, before) > 1e-9:
                        if inner in new:
                            return None
                        new[inner] = to
                        work.append(inner)
        return new if all(self._is_straight(number, new) for number in turned) else None

    def _slid(self, point: int, seam: int, new: Moves) -> Point | None:
        """Where a point inside a seam goes when the seam turns."""
        line = self._now(seam, new)
        others = [n for n, _ in self.seams.places[point] if n != seam]
        through = [n for n in others if n in self.seams.through[point]]
        if self.seams.on_outline[point] or len(through) > 1 or math.dist(*line) < 1e-9:
            return None
        if through:
            return _meet(line, self._now(through[0], new))
        if len(others) == 1:
            end = self.block.points[self.far(others[0], point)]
            return _meet(line, (end, self.block.points[point]))
        return _foot(self.block.points[point], line)

    def _now(self, seam: int, new: Moves) -> Segment:
        run = self.block.seams[seam].points
        a, b = (new.get(p, self.block.points[p]) for p in (run[0], run[-1]))
        return a, b

    def _is_straight(self, seam: int, new: Moves) -> bool:
        """Whether all points of a seam lie on it, in their order; a seam closed up to a point is none any more."""
        run = [new.get(p, self.block.points[p]) for p in self.block.seams[seam].points]
        a, b = run[0], run[-1]
        if math.dist(a, b) < 1e-9:
            return len(run) == 2
        places = [along(p, a, b) for p in run]
        return all(abs(off_line(p, a, b)) <= 1e-7 for p in run) and places == sorted(places)

    # -- what must stay ---------------------------------------------------------------------------------

    def keeps_patches(self, new: Moves) -> bool:
        """Whether every patch beside a moved point is still there, and not too narrow to sew."""
        touched = dict.fromkeys(patch for point in new for patch in self.seams.fans[point])
        return all(self._keeps(patch, new) for patch in touched)

    def keeps(self, new: Moves) -> bool:
        """Whether seams stay straight, patches stay there, and no point goes too far."""
        touched = dict.fromkeys(number for point in new for number, _ in self.seams.places[point])
        near = all(math.dist(self.block.points[p], to) <= self.far_away for p, to in new.items())
        return near and all(self._is_straight(n, new) for n in touched) and self.keeps_patches(new)

    def turns_little(self, new: Moves) -> bool:
        """Whether no seam is turned much."""
        for number in dict.fromkeys(seam for point in new for seam in self.ends[point]):
            (ax, ay), (bx, by) = self.line(number)
            (cx, cy), (dx, dy) = self._now(number, new)
            ux, uy, vx, vy = bx - ax, by - ay, dx - cx, dy - cy
            if abs(ux * vy - uy * vx) > STEEPEST * math.hypot(ux, uy) * math.hypot(vx, vy):
                return False
        return True

    def _keeps(self, patch: int, new: Moves) -> bool:
        before = [self.block.points[p] for p in self.block.patches[patch].ring]
        after = _without_repeats([new.get(p, self.block.points[p]) for p in self.block.patches[patch].ring])
        if len(after) < 3 or signed_area(after) <= 0:
            return False
        from shapely import Polygon

        holes = [[new.get(p, self.block.points[p]) for p in hole] for hole in self.block.patches[patch].holes]
        if not Polygon(after, holes).is_valid:
            return False
        least = min(NARROWEST_IN, narrowest(before))
        return narrowest(after) >= least - 1e-9


def _without_repeats(ring: list[Point]) -> list[Point]:
    return [p for before, p in zip(ring[-1:] + ring[:-1], ring, strict=True) if p != before]


def _meet(one: Segment, other: Segment) -> Point | None:
    """Where two lines meet; None if they run nearly side by side."""
    (ax, ay), (bx, by) = one
    (cx, cy), (dx, dy) = other
    ux, uy, vx, vy = bx - ax, by - ay, dx - cx, dy - cy
    cross = ux * vy - uy * vx
    if abs(cross) <= 1e-3 * math.hypot(ux, uy) * math.hypot(vx, vy):
        return None
    share = ((cx - ax) * vy - (cy - ay) * vx) / cross
    return (ax + share * ux, ay + share * uy)


def _foot(point: Point, line: Segment) -> Point:
    """The foot of a point on a line."""
    share = along(point, *line) / math.dist(*line)
    (ax, ay), (bx, by) = line
    return (ax + share * (bx - ax), ay + share * (by - ay))
