"""A part of a block with curves in it: the same questions as `part` answers, by flooding alone.

Knows:  which runs of any seam, straight, curved or turning, cut a region, and into what.
Leaves: which cuts to choose (general).
Method: a curve and a line may cut each other more than once; then no one chord tells the two sides of a run for
        all regions. So every region finds its cuts anew: runs of seam edges inside it, parted where they touch its
        border; the patches are flooded from both sides of a run at once, and the side that is done first is one
        side. A run that meets itself is no cut. Only what is new is flooded: a run that cut a region and still cuts
        a part of it parts it as before, since patches that hang together in the part did so in the region.
Limits: slower than `part` by the flooding; parts with curves that something crosses are small in real blocks.
"""

from __future__ import annotations

from dataclasses import dataclass, replace

from seamwright.piecing.cuts import Cut
from seamwright.piecing.order import can_be_sewn
from seamwright.piecing.part import Region, Run, bits
from seamwright.piecing.seammap import SeamMap, run_of

NO_STEP = -1
"""No edge between two patches of the part; like an edge to a patch outside of every region."""


@dataclass(frozen=True, slots=True)
class _Lane:
    """One seam, as the walk along it sees it.

    Attributes:
        closed: it ends where it began; looped: some point of it comes twice.
        fans: for each place the bits of the patches round the point, 0 on the part's border.
        inner: for each place the point's bit, 0 on the part's border.
        sides: for each edge the bits of the (left, right) patches; steps: both, or NO_STEP.
    """

    seam: int
    closed: bool
    looped: bool
    fans: tuple[int, ...]
    inner: tuple[int, ...]
    sides: tuple[tuple[int, int], ...]
    steps: tuple[int, ...]


@dataclass(frozen=True, slots=True)
class _Found:
    """A region as it was found.

    Attributes:
        region: with its cuts that have inner points; singles: its cuts along single edges.
        forced: a cut that is a join in every plan, if there is one.
        lanes: all its cuts, lane by lane.
    """

    region: Region
    singles: list[Run]
    forced: Run | None
    lanes: list[list[Run]]


class FloodPart:
    """Tables of one part of a block that cuts along all its seams divide into single patches.

    Attributes:
        patches: patch number of each area bit. points: point number of each inside bit.
        to_match: inner points where seams must meet when a join runs through.
        whole: the part as a region.
    """

    def __init__(self, seams: SeamMap, patches: tuple[int, ...], reached: bytearray) -> None:
        """`reached`: for each point of the block, whether it lies on the part's border."""
        block = seams.block
        self.seams, self.patches, self.reached = seams, patches, reached
        self.patch_bit = {patch: 1 << i for i, patch in enumerate(patches)}
        corners = sorted({p for patch in patches for p in block.patches[patch].ring if not reached[p]})
        self.points = tuple(corners)
        # An inner point has all its patches in this part.
        self._fans = {p: sum(self.patch_bit[patch] for patch in seams.fans[p]) for p in corners}
        self._point_bit = {point: 1 << i for i, point in enumerate(corners)}
        self.to_match = sum(bit for point, bit in self._point_bit.items() if seams.to_match[point])
        inner_seams = sorted(
            {
                block.edges[e].seam
                for patch in patches
                for e in block.patches[patch].edges
                if block.edges[e].seam >= 0
            }
        )
        self._near: dict[int, int] = dict.fromkeys(self.patch_bit.values(), 0)
        self._between: dict[int, int] = {}  # for the bits of two neighbours, how many edges lie between them
        self._lanes = [self._lane(seam) for seam in inner_seams]
        for step in (step for lane in self._lanes for step in lane.steps if step > 0):
            self._between[step] = self._between.get(step, 0) + 1
            for bit in bits(step):
                self._near[bit] |= step ^ bit
        self._lanes_at: dict[int, set[int]] = {bit: set() for bit in self._point_bit.values()}
        for number, lane in enumerate(self._lanes):
            for bit in filter(None, lane.inner):
                self._lanes_at[bit].add(number)
        self._regions: dict[int, _Found] = {}
        self._forced: dict[tuple[int, int, int], bool] = {}
        self._foundations: dict[int, bool] = {}
        self.whole = self._region((1 << len(patches)) - 1).region

    def _region(self, area: int, parent: _Found | None = None, cut: Run | None = None) -> _Found:
        """A region; `parent` and `cut` tell where it comes from, and spare most of the work."""
        found = self._regions.get(area)
        if found is None:
            lanes: list[list[Run]] = []
            touched = self._touched(cut) if cut else set()
            for number, lane in enumerate(self._lanes):
                before = parent.lanes[number] if parent else []
                if parent is None or number in touched:
                    lanes.append(self._runs(lane, area, before))
                else:
                    # No point of the lane lies inside the cut, so its runs lie whole on one side or the other.
                    lanes.append([_within(run, area) for run in before if run.steps[0] & ~area == 0])
            runs = [run for lane in lanes for run in lane]
            for number, run in enumerate(runs):
                run.number = number
            inside = sum(self._point_bit[p] for p, fan in self._fans.items() if fan & ~area == 0)
            found = self._regions[area] = _Found(
                Region(inside, area, [run for run in runs if run.points]),
                [run for run in runs if not run.points],
                next((run for run in runs if self._is_forced(run)), None),
                lanes,
            )
        return found

    def _touched(self, cut: Run) -> set[int]:
        """The lanes that have a point inside a cut, or run along it."""
        touched = {number for number, lane in enumerate(self._lanes) if lane.seam == cut.seam}
        for bit in bits(cut.points):
            touched |= self._lanes_at[bit]
        return touched

    def _lane(self, seam: int) -> _Lane:
        block, closed = self.seams.block, self.seams.is_closed(seam)
        points = block.seams[seam].points
        sides = [tuple(self.patch_bit.get(patch, 0) for patch in pair) for pair in self.seams.sides[seam]]
        return _Lane(
            seam,
            closed,
            looped=len(set(points)) < len(points),
            fans=tuple(self._fans.get(p, 0) for p in points),
            inner=tuple(self._point_bit.get(p, 0) for p in points),
            sides=tuple((one, two) for one, two in sides),
            steps=tuple(one | two if one and two and one != two else NO_STEP for one, two in sides),
        )

    def _runs(self, lane: _Lane, area: int, before: list[Run]) -> list[Run]:
        """The cuts of a region along one seam: from one point of the border to the next, all edges inside.

        Args:
            before: the cuts along it of a region that this one is part of.
        """
        outside, count = ~area, len(lane.steps)
        known = {(run.start, run.end): run for run in before}
        first = 0
        if lane.closed:
            # Round a closed curve the walk begins at a point of the border.
            stops = (place for place, fan in enumerate(lane.fans[:-1]) if not fan or fan & outside)
            first = next(stops, -1)
            if first < 0:
                return []
        found = []
        start = -1
        for place in range(first, first + count + 1):
            fan = lane.fans[place % count if lane.closed else place]
            if not fan or fan & outside:
                if start >= 0 and (not lane.looped or self.seams.is_simple(lane.seam, start, place)):
                    run = known.get((start, place))
                    run = _within(run, area) if run else self._run(lane, start, place, area)
                    if run is not None:
                        found.append(run)
                start = place
            if place < first + count and lane.steps[place % count] & outside:
                start = -1
        return found

    def _run(self, lane: _Lane, start: int, end: int, area: int) -> Run | None:
        steps = run_of(lane.steps, start, end)
        left, right = lane.sides[start % len(lane.sides)]
        small, is_left = self._flood(left, right, steps, area)
        if small < 0:
            return None
        inner = sum(run_of(lane.inner[:-1] if lane.closed else lane.inner, start + 1, end))
        run = Run(0, lane.seam, start, end, inner, 0, 0, 0, 0, steps)
        run.left_area, run.right_area = (small, area & ~small) if is_left else (area & ~small, small)
        return run

    def _flood(self, left: int, right: int, steps: tuple[int, ...], area: int) -> tuple[int, bool]:
        """(patches of the side that is flooded first, whether it is the left one); -1 if they are one side."""
        near, barred = self._near, dict.fromkeys(steps, 0)
        for step in steps:
            barred[step] += 1
        apart: dict[int, int] = {}
        for step, edges in barred.items():
            if edges == self._between[step]:
                for bit in bits(step):
                    apart[bit] = apart.get(bit, 0) | step
        seen, front = [left, right], [left, right]
        while True:
            for side in (0, 1):
                if not front[side]:
                    return seen[side], side == 0
                grown = 0
                for bit in bits(front[side]):
                    grown |= near[bit] & ~apart.get(bit, 0)
                grown &= area & ~seen[side]
                if grown & seen[1 - side]:
                    return -1, False
                seen[side] |= grown
                front[side] = grown

    def _is_forced(self, run: Run) -> bool:
        key = (run.seam, run.start, run.end)
        if key not in self._forced:
            self._forced[key] = self._stands_in_every_plan(run)
        return self._forced[key]

    def _stands_in_every_plan(self, run: Run) -> bool:
        seams, count = self.seams, len(self.seams.block.seams[run.seam].edges)
        inner = Cut(run.seam, run.start, run.end).points(seams.block)[1:-1]
        if any(len(seams.through[p]) != 1 for p in inner):
            return False
        sides = [seams.arrivals(run.seam, place % count) for place in range(run.start + 1, run.end)]
        both = any(left for left, _ in sides) and any(right for _, right in sides)
        return both or not seams.is_straight(run.seam, run.start, run.end)

    def joins_at_least(self) -> int:
        """No plan has fewer joins.

        A curve that lies inside carries one, and so does a seam that alone runs through a point to match. Where
        several straight seams do, one of them does: so disjoint pairs of others are counted. Different seams make
        different joins.
        """
        seams, block = self.seams, self.seams.block
        sure = {
            lane.seam
            for lane in self._lanes
            if any(
                s >= 0 and block.edges[e].via for s, e in zip(lane.steps, block.seams[lane.seam].edges, strict=True)
            )
        }
        holders = [seams.through[point] for point in self.points if seams.to_match[point]]
        sure.update(through[0] for through in holders if len(through) == 1)
        paired: set[int] = set()
        pairs = 0
        for through in holders:
            if not any(seam in sure or seam in paired for seam in through):
                paired.update(through)
                pairs += 1
        return len(sure) + pairs

    # -- what searches ask ------------------------------------------------------------------------------------

    def areas(self, run: Run, region: Region) -> tuple[int, int]:
        """The patches on the left and on the right of a cut of this region, or of a larger one."""
        return region.area & run.left_area, region.area & run.right_area

    def side(self, run: Run, region: Region, left: bool) -> Region:
        """The region on one side of a cut."""
        area = region.area & (run.left_area if left else run.right_area)
        return self._region(area, self._regions[region.area], run).region

    def cut(self, run: Run, region: Region) -> Cut:
        """Where a run cuts a region."""
        return Cut(run.seam, run.start, run.end)

    def forced(self, region: Region) -> Run | None:
        """A cut of the region that is a join in every plan, if there is one (see forced)."""
        return self._regions[region.area].forced

    def single_edges(self, region: Region) -> list[Run]:
        """The cuts of a region along one edge, without inner points."""
        return self._regions[region.area].singles

    def is_one_foundation(self, region: Region) -> bool:
        """Whether patches come off one at a time, over straight lines, until one is left."""
        area = region.area
        if area not in self._foundations:
            matched = bool(region.inside & self.to_match)
            patches = tuple(self.patches[bit.bit_length() - 1] for bit in bits(area))
            self._foundations[area] = not matched and can_be_sewn(self.seams, patches)
        return self._foundations[area]


def _within(run: Run, area: int) -> Run:
    """A cut of a region as the same cut of a part of the region: what it parted there it parts here."""
    return replace(run, left_area=run.left_area & area, right_area=run.right_area & area)
