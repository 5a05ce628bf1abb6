"""Whether a section fits a sheet of paper, so that its foundation is printed whole.

Knows:  how much paper a section and every part of it may need, at whole degrees of rotation.
Leaves: the trim outlines themselves (foundation), where they lie on a sheet (sheet).
Units:  inches, front view; angles in degrees.
Method: a section needs the convex hull of this: everything within the allowance of its patches, and, at every tip
        of every patch, the mitre of the allowance there, cut off where a trim outline cuts it off at the latest.
        Two things
        follow. The section's own trim outline lies inside: where patches meet at one of its corners, the corner's
        mitre runs along the same allowance as one of theirs, less far, since its angle is wider. And *a part of
        what fits fits*: fewer patches need no paper that more patches did not, at the same angle.
        How far a patch reaches in each direction is found once; a section reaches as far as its patches do.
        A section fits if at some whole degree its box goes into the printable part less a strip at the foot, where
        the words of the sheet and the long check line find room.
        Where patches lie within a straight line round a point, the one beside a tip of t degrees has no more than
        180 - t, and its trim edge crosses their seam 1 / sin t allowances beyond the point: the tip ends there.
Limits: paper that a tip needs is counted although, in a larger section, its neighbours may cover it, and its
        neighbours' trim edges may end it sooner.
"""

from __future__ import annotations

import math
from collections import defaultdict
from collections.abc import Collection, Iterable, Mapping, Sequence
from dataclasses import dataclass
from itertools import combinations

from seamwright.block.model import Block
from seamwright.geometry import Point, clipped
from seamwright.paper import Paper

FOOT_IN = 1.25
"""The strip at the foot of a sheet that words need when a foundation takes up all the rest: eight lines and a long
check line (1.13 in), and a little more. That it is enough is held against real sheets by a test."""
WIDE_IN, MORE_FOOT_IN, FOOT_SHARE = 7.75, 0.18, 0.17
"""On paper that prints less wide than the first (A4 prints 7.77 in), words need more lines, and squares find less
room beside a print: the strip grows by the second, and by the third of every inch that is missing. Lines for names
and words on freezer paper are not counted: they would cost sections on every print to spare parts on few."""
CELL_IN = 1 / 16
"""Sheets are laid out in cells of this size; what is left of one at the edge counts for nothing."""
TIP_LIMIT, LONGEST_TIP = 2.7, 12.0
"""A tip's mitre is cut off so many allowances from the point: the first, unless a neighbour beside it is so wide
that it ends further out on the neighbour's trim edge; never further than the second (as foundation.tips does)."""
SLACK_IN = 5e-8
"""So little too large still fits: no more than a sheet forgives when it counts cells."""
BLOCK_LIMIT = 5.0
"""The block's own corners are cut off this many allowances from the point."""
STRAIGHT_RAD, CURVED_RAD = 1e-3, 0.2
"""Two directions that are opposite but for less than this make a line, or a curve."""
ANGLES = 180
SECTOR = 12
"""Angles are looked at in sectors of so many degrees."""


class Fit:
    """Which sections of a block fit one paper, or each of several."""

    def __init__(self, block: Block, papers: Iterable[Paper], allowance_in: float) -> None:
        self.block, self.allowance = block, allowance_in
        papers = tuple(papers)
        self.rooms = [_room(paper) for paper in papers]
        self.sheets = [paper.printable_in for paper in papers]
        self._places = _places(block)
        self._points: dict[int, list[Point]] = {}
        self._tips: dict[int, list[Point]] = {}
        self._reach: dict[tuple[int, int], tuple[float, float, float, float]] = {}
        self._known: dict[frozenset[int], bool] = {}

    def fits(self, patches: Iterable[int]) -> bool:
        """Whether a section of these patches fits every paper."""
        section = frozenset(patches)
        if section not in self._known:
            self._known[section] = all(self._goes_into(section, *room) for room in self.rooms)
        return self._known[section]

    def may_be_whole(self, patches: Collection[int]) -> bool:
        """Whether every paper could hold a section of these patches if the words found room beside it.

        Laid slantwise a long strip leaves corners free; only the sheet itself can tell whether they are enough.
        """
        return all(self._goes_into(patches, *sheet) for sheet in self.sheets)

    def overhang(self, patches: Collection[int]) -> float:
        """How far a section reaches beyond the smallest room, at the best of a few angles; below 0: it has air."""
        width, height = min(self.rooms)
        boxes = (self._box(patches, angle) for angle in range(0, ANGLES, SECTOR))
        return min(max(across - width, down - height) for across, down in boxes)

    def _goes_into(self, section: Collection[int], width: float, height: float) -> bool:
        # What differs by rounding only, in a copy of the drawing, must not decide.
        width, height = width + SLACK_IN, height + SLACK_IN
        across, down = self._box(section, 0)
        # As it stands and lying first: most sections do.
        if (across <= width and down <= height) or (down <= width and across <= height):
            return True
        if max(across, down) > math.hypot(width, height):
            return False  # longer than the paper's diagonal, so too long at every angle
        diagonal = math.hypot(across, down)
        for middle in range(SECTOR // 2, ANGLES, SECTOR):
            # Turned by an angle, a box of a shape grows by at most the shape's diameter times that angle.
            slack = diagonal * math.radians(SECTOR / 2)
            across, down = self._box(section, middle)
            if across - slack > width or down - slack > height:
                continue
            for angle in range(middle - SECTOR // 2, middle + SECTOR // 2 + 1):
                across, down = self._box(section, angle)
                if across <= width and down <= height:
                    return True
        return False

    def _box(self, section: Collection[int], angle: int) -> tuple[float, float]:
        """Across and down of what a section needs, turned by an angle."""
        reach = [self._reach_of(patch, angle) for patch in section]
        return (
            max(r[0] for r in reach) + max(r[1] for r in reach),
            max(r[2] for r in reach) + max(r[3] for r in reach),
        )

    def _reach_of(self, patch: int, angle: int) -> tuple[float, float, float, float]:
        """How far what a patch needs reaches right, left, down and up, turned by an angle, from the origin."""
        found = self._reach.get((patch, angle))
        if found is None:
            if patch not in self._points:
                self._points[patch] = list(self.block.patch_ring(patch))
                self._tips[patch] = _tips(self._points[patch], self.allowance, self._places)
            cos, sin = math.cos(math.radians(angle)), math.sin(math.radians(angle))
            at = [(x * cos - y * sin, x * sin + y * cos) for x, y in self._points[patch]]
            tips = [(x * cos - y * sin, x * sin + y * cos) for x, y in self._tips[patch]]
            a = self.allowance
            found = (
                max(max(x for x, _ in at) + a, *(x for x, _ in tips)),
                max(a - min(x for x, _ in at), *(-x for x, _ in tips)),
                max(max(y for _, y in at) + a, *(y for _, y in tips)),
                max(a - min(y for _, y in at), *(-y for _, y in tips)),
            )
            self._reach[patch, angle] = found
        return found


def _room(paper: Paper) -> tuple[float, float]:
    """Width and height of the largest box that is surely laid whole."""
    width, height = paper.printable_in
    narrow = WIDE_IN - width
    foot = FOOT_IN if narrow <= 0 else FOOT_IN + MORE_FOOT_IN + FOOT_SHARE * narrow
    return (_in_cells(width), _in_cells(height - foot))


def _in_cells(length: float) -> float:
    return math.floor(length / CELL_IN + 1e-6) * CELL_IN


@dataclass(frozen=True, slots=True)
class _Place:
    """What ends tips at a point: normals of the lines straight through it, both ways, else how far they reach."""

    lines: tuple[float, ...]
    limit: float


def _places(block: Block) -> dict[Point, _Place]:
    """The points of a block.

    Where a line runs straight through, what is sewn on one side of it is cut at its trim line. At a corner of the
    block its own trim lines end every tip no further out than they meet; a corner so sharp that they are cut off
    before is rare. Elsewhere patches lie together in more than half a turn.
    """
    directions: dict[int, list[float]] = defaultdict(list)
    for number, edge in enumerate(block.edges):
        run = block.edge_points(number)
        for point, (a, b) in ((edge.start, run[:2]), (edge.end, run[:-3:-1])):
            directions[point].append(math.atan2(b[1] - a[1], b[0] - a[0]))
    found = {}
    for point, angles in directions.items():
        turns = [(a, abs((a - b) % math.tau - math.pi)) for a, b in combinations(angles, 2)]
        lines = [a + side * math.pi / 2 for a, turn in turns if turn < STRAIGHT_RAD for side in (1, -1)]
        curved = any(STRAIGHT_RAD < turn < CURVED_RAD for _, turn in turns)
        found[block.points[point]] = _Place(
            () if curved else tuple(lines), TIP_LIMIT if curved or lines else LONGEST_TIP
        )
    outline = block.outline_ring()
    for before, corner, after in zip((outline[-1], *outline), outline, (*outline[1:], outline[0]), strict=False):
        if corner in found and found[corner].limit == LONGEST_TIP:
            (ux, uy), (vx, vy) = _unit(before, corner), _unit(corner, after)
            half = (math.pi - math.atan2(ux * vy - uy * vx, ux * vx + uy * vy)) / 2
            if math.sin(half) * BLOCK_LIMIT > 1 and half < math.pi / 2:
                found[corner] = _Place((), 1 / math.sin(half))
    return found


def _tips(ring: list[Point], allowance: float, places: Mapping[Point, _Place]) -> list[Point]:
    """The outer corners of the allowance beyond each outward corner of a ring that runs clockwise.

    Args:
        places: of `_places`; other corners are bends of curves.
    """
    found = list(ring[:1])
    for i, corner in enumerate(ring):
        before, after = _unit(ring[i - 1], corner), _unit(corner, ring[(i + 1) % len(ring)])
        turn = before[0] * after[1] - before[1] * after[0]
        straight = before[0] * after[0] + before[1] * after[1]
        if turn <= 1e-9 and straight > 0:
            continue  # straight on, or an inside corner
        if turn < 0:
            continue
        # Directions square to the two sides, outward: left of the walk is outside (y down).
        one = math.atan2(-before[0], before[1])
        two = one + math.atan2(turn, straight)
        place = places.get(corner, _Place((), TIP_LIMIT))
        limit = place.limit
        if limit == TIP_LIMIT and straight < 0:
            limit = max(TIP_LIMIT, min(LONGEST_TIP, 1 / max(turn, 1e-9)))
        middle = (one + two) / 2
        far = [(9e3 * math.cos(way) / k, 9e3 * math.sin(way) / k) for way, k in ((one, 3), (middle, 1), (two, 3))]
        mitre: Sequence[Point] = ((0.0, 0.0), *far)
        for way, distance in ((one, 1.0), (two, 1.0), (middle, limit)):
            mitre = clipped(mitre, way, distance)
        # Any line that has the corner on one side may be the one that runs on through the point.
        sides = [way for way in place.lines if _between(one, way, two)]
        for shape in [clipped(mitre, way, 1.0) for way in sides] or [tuple(mitre)]:
            found += [(corner[0] + allowance * x, corner[1] + allowance * y) for x, y in shape]
    return found


def _between(one: float, way: float, two: float) -> bool:
    """Whether a direction lies between two others, from the first on."""
    return (way - one + STRAIGHT_RAD) % math.tau <= two - one + 2 * STRAIGHT_RAD


def _unit(a: Point, b: Point) -> Point:
    length = math.dist(a, b)
    return ((b[0] - a[0]) / length, (b[1] - a[1]) / length)
