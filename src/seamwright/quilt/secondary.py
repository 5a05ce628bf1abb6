"""Secondary lines: what blocks make together that none of them shows alone.

Knows:  which seams run on across the edges of a repeating layout, how long the lines are that come of it, which
        patches of one fabric grow together, and a rank that comes of these.
Leaves: where seams and patches reach the edge of a block (lines), which layouts there are (turnings, rules).
Units:  inches; counts and lengths are of one repeat.
Method: what two states make beside each other, above each other or corner to corner is found once for each pair. A
        layout is then a graph on a torus: lines and patches are followed across edges with the number of cells gone
        right and down, so that one that comes back to its start elsewhere is known to have no end.
Limits: a seam that shows nowhere but in the middle of a block counts as it is at its end; a line that turns at the
        edge is no line longer than a block, though its seams meet.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import cached_property
from itertools import pairwise

from seamwright.block.asseen import as_seen
from seamwright.block.model import Block
from seamwright.geometry import Affine, Point, after
from seamwright.quilt.lines import (
    MEET_WITHIN_IN,
    EdgeRun,
    SeamEnd,
    bend_deg,
    edge_runs,
    meet,
    moved_ends,
    moved_runs,
    runs_on,
    seam_ends,
)
from seamwright.quilt.turnings import Group, Layout, State, kept_by

LONG_LINE = 4.0
"""A line of so many block sides, or one without end, is as long as counts."""
WEIGHTS = {"run on": 30, "meet": 15, "longest": 15, "shapes": 20, "regular": 20}
"""Points of 100 that each part of the rank can bring."""


@dataclass(frozen=True, slots=True)
class Secondary:
    """What the blocks of one repeat make together.

    Attributes:
        ends: seams that show and end on the edge of their block. running: of these, how many run on in the block
            beside. meeting: how many meet a seam there, those that run on included.
        longest_in: longest line of seams that show; math.inf for one without end.
        edge_patches: patches, or patches of one fabric that are one already, along the edges of blocks.
        grown: of these, how many are part of a shape of one fabric that lies in two blocks or more and is closed.
        shapes: how many such shapes there are.
        kept: how many moves of the group leave the layout as it is: the more, the more regular it is.
    """

    ends: int
    running: int
    meeting: int
    longest_in: float
    edge_patches: int
    grown: int
    shapes: int
    kept: int

    def points(self, side_in: float, most_kept: int) -> float:
        """The rank, 0 to 100: the higher is shown first.

        Each part is a share from 0 to 1, weighed by `WEIGHTS`: of the seam ends that run on; of those that meet a
        seam; of the longest line in `LONG_LINE` block sides; of the patches at edges that grow into closed shapes;
        and how regular the layout is, the logarithm of `kept` as a share of that of the most regular one.
        """
        shares = {
            "run on": self.running / max(1, self.ends),
            "meet": self.meeting / max(1, self.ends),
            "longest": min(1.0, self.longest_in / (LONG_LINE * side_in)),
            "shapes": self.grown / max(1, self.edge_patches),
            "regular": math.log(self.kept) / math.log(most_kept) if most_kept > 1 else 1.0,
        }
        return sum(WEIGHTS[part] * share for part, share in shares.items())


@dataclass(frozen=True, slots=True)
class Ranked:
    """A layout, what its blocks make together, and its points of 100."""

    layout: Layout
    secondary: Secondary
    points: float


def ranked(layouts: Sequence[Layout], group: Group, blocks: Sequence[Block]) -> tuple[Ranked, ...]:
    """Layouts with what their blocks make together, the most telling first.

    Of equal ones that of fewer different states comes first, then the one that is less in the order of `turnings`.
    """
    weave = Weave(group, blocks)
    side = max(weave.cell)
    found = [(layout, weave.secondary(layout)) for layout in layouts]
    most = max((secondary.kept for _, secondary in found), default=1)
    # Sums of shares differ in their last digits where they are the same.
    order = [Ranked(layout, seen, round(seen.points(side, most), 6)) for layout, seen in found]
    return tuple(sorted(order, key=lambda one: (-one.points, len(set(one.layout)), one.layout)))


@dataclass(frozen=True, slots=True)
class _Tile:
    """One state, as it lies in its cell.

    Attributes:
        ends: seams on the edge that show. others: for each of them the number of the other end of its seam that is
            on the edge and shows, or -1. lengths: of their seams.
        runs: patches along the edge. shape: for each run the number of what it is part of within the block.
    """

    ends: tuple[SeamEnd, ...]
    others: tuple[int, ...]
    lengths: tuple[float, ...]
    runs: tuple[EdgeRun, ...]
    shape: tuple[int, ...]


@dataclass(frozen=True, slots=True)
class _Pair:
    """What two states make where the second lies at an offset from the first.

    Attributes:
        on: (end of the first, end of the second) that are one line.
        met: ends of the first, and of the second, that meet one.
        grown: (shape of the first, shape of the second) of one fabric along the edge.
    """

    on: tuple[tuple[int, int], ...]
    met: tuple[frozenset[int], frozenset[int]]
    grown: tuple[tuple[int, int], ...]


Offset = tuple[int, int]
"""Cells to the right, cells down."""
BESIDE: tuple[Offset, ...] = ((1, 0), (0, 1), (1, 1), (-1, 1))
"""Each neighbour once: right, below, and the two across a corner below."""


class Weave:
    """What the states of a group make beside each other; its answers are kept."""

    def __init__(self, group: Group, blocks: Sequence[Block]) -> None:
        self.group, self.blocks = group, blocks
        self.cell = (blocks[0].width_in, blocks[0].height_in)
        self._pairs: dict[tuple[int, int, Offset], _Pair] = {}

    @cached_property
    def tiles(self) -> tuple[_Tile, ...]:
        """Each state as it lies in its cell."""
        shown = [_Shown(block, self.cell) for block in self.blocks]
        return tuple(shown[state.block].tile(state) for state in self.group.states)

    def secondary(self, layout: Layout) -> Secondary:
        """What the blocks of a layout make together."""
        tiles = [self.tiles[state] for state in layout]
        across: list[dict[int, tuple[int, int, Offset]]] = [{} for _ in tiles]
        met: list[set[int]] = [set() for _ in tiles]
        grown: list[list[tuple[int, int, int, Offset]]] = [[] for _ in tiles]
        for cell, other, offset in self._neighbours():
            pair = self._pair(layout[cell], layout[other], offset)
            back = (-offset[0], -offset[1])
            for one, two in pair.on:
                across[cell][one] = (other, two, offset)
                across[other][two] = (cell, one, back)
            met[cell] |= pair.met[0]
            met[other] |= pair.met[1]
            for a, b in pair.grown:
                grown[cell].append((a, other, b, offset))
                grown[other].append((b, cell, a, back))
        at_edges, part, shapes = _shapes(tiles, grown)
        return Secondary(
            ends=sum(len(tile.ends) for tile in tiles),
            running=sum(map(len, across)),
            meeting=sum(map(len, met)),
            longest_in=_longest(tiles, across),
            edge_patches=at_edges,
            grown=part,
            shapes=shapes,
            kept=kept_by(self.group, layout),
        )

    def _neighbours(self) -> Iterator[tuple[int, int, Offset]]:
        rows, columns = self.group.rows, self.group.columns
        for row in range(rows):
            for column in range(columns):
                for right, down in BESIDE:
                    other = (row + down) % rows * columns + (column + right) % columns
                    yield row * columns + column, other, (right, down)

    def _pair(self, one: int, other: int, offset: Offset) -> _Pair:
        key = (one, other, offset)
        if key not in self._pairs:
            self._pairs[key] = _paired(self.tiles[one], self.tiles[other], offset, self.cell)
        return self._pairs[key]


class _Shown:
    """What shows of one block, in its own inches."""

    def __init__(self, block: Block, cell: Point) -> None:
        seen, _ = as_seen(block)
        self.cell = cell
        # Blocks differ by no more than tidying may move; as in the quilt they are eased to the cell.
        self.eased: Affine = (cell[0] / block.width_in, 0.0, 0.0, cell[1] / block.height_in, 0.0, 0.0)
        self.ends = tuple(end for end in seam_ends(block) if end.shows)
        self.runs = edge_runs(block)
        self.lengths = tuple(
            sum(math.dist(a, b) for edge in seam.edges for a, b in pairwise(seen.edge_points(edge)))
            for seam in seen.seams
        )
        of = list(range(len(seen.patches)))

        def root(patch: int) -> int:
            while of[patch] != patch:
                patch = of[patch]
            return patch

        for edge in seen.edges:
            if edge.left >= 0 and edge.right >= 0:
                one, other = (seen.patches[side].fabric for side in (edge.left, edge.right))
                if one is not None and one == other:
                    low, high = sorted((root(edge.left), root(edge.right)))
                    of[high] = low
        self.shape = tuple(root(run.patch) for run in self.runs)

    def tile(self, state: State) -> _Tile:
        """The block as it lies in its cell."""
        place = after(self.eased, state.turn.place(*self.cell))
        numbers: dict[int, list[int]] = {}
        for k, end in enumerate(self.ends):
            numbers.setdefault(end.seam, []).append(k)
        others = [next((o for o in numbers[end.seam] if o != k), -1) for k, end in enumerate(self.ends)]
        lengths = tuple(self.lengths[end.seam] for end in self.ends)
        return _Tile(moved_ends(self.ends, place), tuple(others), lengths, moved_runs(self.runs, place), self.shape)


def _paired(one: _Tile, other: _Tile, offset: Offset, cell: Point) -> _Pair:
    shift: Affine = (1.0, 0.0, 0.0, 1.0, offset[0] * cell[0], offset[1] * cell[1])
    ends, runs = moved_ends(other.ends, shift), moved_runs(other.runs, shift)
    close = [(a, b) for a, first in enumerate(one.ends) for b, second in enumerate(ends) if meet(first, second)]
    on: list[tuple[int, int]] = []
    # Several may end in one place: those that bend the least go on in each other.
    for a, b in sorted(close, key=lambda p: (round(bend_deg(one.ends[p[0]], ends[p[1]]), 6), p)):
        if runs_on(one.ends[a], ends[b]) and all(a != c and b != d for c, d in on):
            on.append((a, b))
    grown = {
        (one.shape[k], other.shape[m])
        for k, first in enumerate(one.runs)
        for m, second in enumerate(runs)
        if first.fabric is not None and first.fabric == second.fabric and _shared(first, second) > MEET_WITHIN_IN
    }
    return _Pair(
        tuple(sorted(on)), (frozenset(a for a, _ in close), frozenset(b for _, b in close)), tuple(sorted(grown))
    )


def _shared(one: EdgeRun, other: EdgeRun) -> float:
    """Length along which two runs on level or upright edges lie on each other."""
    for axis in (0, 1):
        (a, b), (c, d) = ([end[axis] for end in run.ends] for run in (one, other))
        if max(a, b, c, d) - min(a, b, c, d) <= MEET_WITHIN_IN:
            (a, b), (c, d) = (sorted(end[1 - axis] for end in run.ends) for run in (one, other))
            return min(b, d) - max(a, c)
    return 0.0


def _longest(tiles: Sequence[_Tile], across: Sequence[dict[int, tuple[int, int, Offset]]]) -> float:
    """Length of the longest line; math.inf for one that comes back to its start somewhere else."""
    longest, gone = 0.0, set()
    for start, tile in enumerate(tiles):
        for first, end in enumerate(tile.ends):
            if (start, end.seam) in gone:
                continue
            # Both ways from this seam; no seam has more than two ends, so a line comes back to no other.
            length, closed = tile.lengths[first], False
            for out in (first, tile.others[first]):
                cell, right, down = start, 0, 0
                while not closed and out in across[cell]:
                    cell, into, (x, y) = across[cell][out]
                    right, down = right + x, down + y
                    closed = (cell, tiles[cell].ends[into].seam) == (start, end.seam)
                    if closed and (right, down) != (0, 0):
                        return math.inf
                    if not closed:
                        length += tiles[cell].lengths[into]
                        gone.add((cell, tiles[cell].ends[into].seam))
                    out = tiles[cell].others[into]
            longest = max(longest, length)
    return longest


def _shapes(
    tiles: Sequence[_Tile], grown: Sequence[Sequence[tuple[int, int, int, Offset]]]
) -> tuple[int, int, int]:
    """(patches at edges, how many of them are in closed shapes over two blocks or more, how many such shapes)."""
    beside: dict[tuple[int, int], list[tuple[int, int, Offset]]] = {
        (cell, shape): [] for cell, tile in enumerate(tiles) for shape in tile.shape
    }
    for cell, links in enumerate(grown):
        for shape, other, its, offset in links:
            beside[cell, shape].append((other, its, offset))
    left, part, shapes = dict.fromkeys(beside), 0, 0
    while left:
        start = next(iter(left))
        reached: dict[tuple[int, int], Offset] = {start: (0, 0)}
        todo, closed = [start], True
        while todo:
            node = todo.pop()
            left.pop(node, None)
            right, down = reached[node]
            for other, its, offset in beside[node]:
                there = (right + offset[0], down + offset[1])
                if (other, its) not in reached:
                    reached[other, its] = there
                    todo.append((other, its))
                elif reached[other, its] != there:
                    closed = False  # it grows on for ever
        if closed and len(reached) > 1:
            part += len(reached)
            shapes += 1
    return len(beside), part, shapes
