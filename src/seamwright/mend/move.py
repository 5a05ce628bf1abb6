"""Points moved a little so that seams run straight on.

Knows:  which moves could free a region, and which of them do.
Leaves: what hangs on a point that moves (slide), whether a region is free (region), words, proof.
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
from itertools import combinations, islice, pairwise

from seamwright.block.model import Block
from seamwright.geometry import Point, Segment, along, foot, off_line
from seamwright.mend.alike import Pose
from seamwright.mend.change import Change, region_of
from seamwright.mend.region import stuck_parts
from seamwright.mend.slide import Mover, Moves, meet
from seamwright.piecing.seammap import SeamMap

FARTHEST_IN = 1 / 4
FARTHEST_SHARE = 0.03
"""A point moves at most 1/4 in or 3 % of the block's larger side, whichever is more; the words say by how much."""
LEAST_IN = 1 / 200
"""Where two points move, each moves by this much at least: else one would do."""
MOST_LINES = 40
"""Lines that one point should lie on, of which each two are tried together."""
MOST_TRIED = 400
"""Moves of one region tried, nearest first."""
MOST_FOUND = 6
MOST_FIRST, MOST_SECOND = 4, 100
"""Where one move is not enough: first moves that help in part, and second moves tried after each."""


def farthest(block: Block) -> float:
    """How far a point may be moved, inches: the same however the block is rotated."""
    return max(FARTHEST_IN, FARTHEST_SHARE * _larger_side(block))


def _larger_side(block: Block) -> float:
    """The larger side of a block laid so that it is smallest: a straight side of it is then level."""
    from shapely import LinearRing, get_coordinates

    ring: list[Point] = [(x, y) for x, y in get_coordinates(LinearRing(block.outline_ring()).convex_hull).tolist()]

    def reach(a: Point, b: Point) -> float:
        ways = [[along(p, a, b) for p in ring], [off_line(p, a, b) for p in ring]]
        return max(max(way) - min(way) for way in ways)

    return min(reach(a, b) for a, b in pairwise(ring))


def moves(
    seams: SeamMap, patches: tuple[int, ...], inner: list[int], others: Collection[int], pose: Pose
) -> list[Change]:
    """The moves that free a stuck region, the smallest first.

    Args:
        patches: of the stuck region.
        inner: its points that cutting does not reach.
        others: points inside other stuck regions; they stay, so that each region is mended by itself.
        pose: of the block: it decides which of two moves as far comes first.
    """
    mover, block = Mover(seams, farthest(seams.block)), seams.block
    found: list[Change] = []
    partly: list[_Step] = []
    whole = len(patches)
    for step in _tried(mover, inner, others, pose):
        left = sum(len(part.faces) for part in stuck_parts(region_of(block, patches, step.new)))
        if not left:
            found.append(_change(block, step.move, step.new))
        elif left < whole:
            partly.append(replace(step, left=left))
        if len(found) == MOST_FOUND:
            break
    return found or _in_two(mover, patches, partly, others, pose)


@dataclass(frozen=True, slots=True)
class _Step:
    """A move that keeps all patches: the points moved, every point's new place, how far, what stays stuck then."""

    move: Moves
    new: Moves
    amount: float
    left: int = 0


def _tried(mover: Mover, inner: list[int], others: Collection[int], pose: Pose) -> Iterator[_Step]:
    """The moves that leave every patch and every straight seam, nearest first."""
    block = mover.block
    tried: dict[tuple[tuple[int, Point], ...], tuple[float, Moves]] = {}
    for move in _candidates(mover, inner):
        far = [math.dist(block.points[p], to) for p, to in move.items()]
        amount = max(far)
        # Of two points each must truly move: else one move does the same.
        if amount <= mover.far_away and min(far) > (1e-6 if len(far) == 1 else LEAST_IN):
            key = tuple(sorted((p, (round(x, 6), round(y, 6))) for p, (x, y) in move.items()))
            tried.setdefault(key, (amount, move))

    def rank(step: tuple[float, Moves]) -> tuple[object, ...]:
        amount, move = step
        return round(amount, 6), len(move), pose.key((block.points[p], to) for p, to in move.items())

    for amount, move in sorted(tried.values(), key=rank)[:MOST_TRIED]:
        new = mover.slide(move)
        if new is None or any(point in others for point in new) or not mover.keeps_patches(new):
            continue
        if amount <= FARTHEST_IN or mover.turns_little(new):
            yield _Step(move, new, amount)


def _in_two(
    mover: Mover, patches: tuple[int, ...], partly: list[_Step], others: Collection[int], pose: Pose
) -> list[Change]:
    """Two points moved, each a little, where no single one is enough."""
    block, taken = mover.block, set(mover.block.points)
    single = [step for step in partly if len(step.move) == 1 and taken.isdisjoint(step.new.values())]
    found: list[Change] = []
    for first in sorted(single, key=lambda step: (step.left, round(step.amount, 6)))[:MOST_FIRST]:
        points = tuple(first.new.get(n, p) for n, p in enumerate(block.points))
        after = Mover(SeamMap(replace(block, points=points)), mover.far_away)
        stuck = stuck_parts(region_of(after.block, patches))
        inner = [p for part in stuck for p in part.points if p < len(points) and p not in part.border]
        if first.amount < LEAST_IN:
            continue
        for second in islice(_tried(after, inner, (*others, *first.new), pose), MOST_SECOND):
            new = {**first.new, **second.new}
            if second.amount < LEAST_IN or stuck_parts(region_of(block, patches, new)) or not mover.keeps(new):
                continue
            found.append(_change(block, {**first.move, **second.move}, new))
            break
    return sorted(found, key=lambda change: (round(change.amount, 6), pose.key(change.moved)))


def _change(block: Block, move: Moves, new: Moves) -> Change:
    # Told from left to right.
    every = [*sorted(move, key=lambda p: block.points[p]), *(p for p in sorted(new) if p not in move)]
    return Change(
        "move a point",
        moved=tuple((block.points[p], new[p]) for p in every),
        main=len(move),
        amount=max(math.dist(block.points[p], new[p]) for p in move),
    )


def _candidates(mover: Mover, inner: list[int]) -> Iterator[Moves]:
    """Places for the points inside, and for the far ends of seams that end there."""
    ends = (mover.far(seam, point) for point in inner for seam in mover.ends[point])
    within = set(inner)
    for point in dict.fromkeys((*inner, *ends)):
        lines = _lines_through(mover, point, within)
        through = mover.seams.through[point]
        if mover.seams.on_outline[point] or len(through) == 1:
            for rail in mover.rails(point):
                yield from ({point: met} for line in lines if (met := meet(line, rail)) is not None)
        elif not through:
            yield from ({point: foot(mover.block.points[point], *line)} for line in lines)
            for one, other in combinations(lines[:MOST_LINES], 2):
                met = meet(one, other)
                if met is not None:
                    yield {point: met}
        if point in within and len(through) == 1:
            yield from _along(mover, point, through[0])
        if point in within and not through:
            for seam in mover.ends[point]:
                yield from _both_ends(mover, point, seam)


def _lines_through(mover: Mover, point: int, within: set[int]) -> list[Segment]:
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


def _along(mover: Mover, point: int, rail: int) -> Iterator[Moves]:
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
                met = meet(mover.at((mover.far(a, point), mover.far(b, other))), mover.line(rail))
                if met is not None:
                    yield {point: met, other: met}


def _both_ends(mover: Mover, point: int, seam: int) -> Iterator[Moves]:
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
        yield {point: foot(one, *line), other: foot(two, *line)}
    if len(run) != 2:
        return
    middle = ((one[0] + two[0]) / 2, (one[1] + two[1]) / 2)
    for at in (foot(middle, *line) for line in lines):
        yield {point: at, other: at}
    for first, second in combinations(lines, 2):
        met = meet(first, second)
        if met is not None:
            yield {point: met, other: met}
