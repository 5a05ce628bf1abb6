"""One part of a block as bits: its inner points, its runs of seam, and what lies on either side of them.

Knows:  regions as two integers: `inside`, the part's inner points that are still inner to the region, and `area`,
        its patches; which runs cut a region, and into what.
Leaves: which cuts to choose (fewest), what they cost (ties).
Method: a cut of a region is a straight run of seam whose inner points are inner to the region and whose ends lie on
        its border. The two sides are found by flooding the patches from both sides of the run at once, until the
        smaller side is done. What was learnt is kept: extend the run in a straight line, inside the outline, to the
        outline; this chord parts the outline in two, and every region that the run cuts lies on the chord's two
        sides as the flood found it. (Regions made by straight cuts hold the shortest way between any two of their
        points that stays inside the outline; so none reaches round the end of a cut to the chord beyond.) Hence
        one pair of masks for each run, which only grows, serves convex and notched outlines alike.
"""

from __future__ import annotations

from dataclasses import dataclass, field

from seamwright.piecing.cuts import Cut
from seamwright.piecing.seammap import SeamMap


@dataclass(slots=True, eq=False)
class Run:
    """A run of one seam inside the part, between two points of the part's border or ends of the seam.

    Attributes:
        number: its place among the runs of the part, or, in a part with curves, of a region.
        seam, start, end: the run goes from position start to position end.
        points: bits of its inner points, those that it runs straight through.
        ends: bits of its ends that are inner points of the part: until these are on a border it is no cut.
        crossed: bits of its inner points that another seam runs through.
        from_left, from_right: bits of its inner points at which seams arrive from that side.
        steps: for each edge, the bits of the two patches beside it. beside: those of all edges.
        left, right: inner points known to lie on its sides. unknown: neither, nor on it.
        left_area, right_area: patches known to lie on its sides. unknown_area: neither.
    """

    number: int
    seam: int
    start: int
    end: int
    points: int
    ends: int
    crossed: int
    from_left: int
    from_right: int
    steps: tuple[int, ...]
    left: int = 0
    right: int = 0
    unknown: int = 0
    left_area: int = 0
    right_area: int = 0
    unknown_area: int = 0
    beside: int = 0


@dataclass(slots=True)
class Region:
    """A region to be divided.

    Attributes:
        inside: bits of its inner points. area: bits of its patches.
        cuts: the runs with inner points that cut it.
        late: only cuts along single edges are still to be made (see general).
    """

    inside: int
    area: int
    cuts: list[Run] = field(default_factory=list)
    late: bool = False

    @property
    def key(self) -> int:
        """What a memo of whole regions is kept by."""
        return ~self.area if self.late else self.area


class Part:
    """Tables of one part of a pieceable block.

    Attributes:
        patches: patch number of each area bit. points: point number of each inside bit.
        runs: all runs. met: for each run, those runs that cross it or end on it
            and that are no cut of the whole part.
        to_match: inner points where seams must meet when a join runs through.
        whole: the part as a region.
    """

    def __init__(self, seams: SeamMap, patches: tuple[int, ...], reached: bytearray) -> None:
        """`reached`: for each point of the block, whether it lies on the part's border."""
        block = seams.block
        self.seams, self.patches = seams, patches
        self.patch_bit = {patch: 1 << i for i, patch in enumerate(patches)}
        corners = sorted({p for patch in patches for p in block.patches[patch].ring if not reached[p]})
        self.points = tuple(corners)
        self.point_bit = {point: 1 << i for i, point in enumerate(self.points)}
        self.to_match = sum(bit for point, bit in self.point_bit.items() if seams.to_match[point])
        self.corner_bits = [
            sum(self.point_bit.get(p, 0) for p in dict.fromkeys(block.patches[patch].ring)) for patch in patches
        ]
        self.runs: list[Run] = []
        self.neighbours: list[list[tuple[int, int]]] = [[] for _ in patches]
        self._index = {patch: i for i, patch in enumerate(patches)}
        inner_seams = dict.fromkeys(
            block.edges[e].seam for patch in patches for e in block.patches[patch].edges if block.edges[e].seam >= 0
        )
        for seam in sorted(inner_seams):
            self._add_runs(seam, reached)
        late: dict[int, list[Run]] = {bit: [] for bit in self.point_bit.values()}
        for run in self.runs:
            if run.ends:
                for bit in bits(run.points | run.ends):
                    late[bit].append(run)
        self.met: list[list[Run]] = [
            list(dict.fromkeys(other for bit in bits(run.points) for other in late[bit] if other is not run))
            for run in self.runs
        ]
        self._some_forced = any(run.from_left and run.from_right and run.points & ~run.crossed for run in self.runs)
        everything = (1 << len(self.points)) - 1
        self.whole = Region(
            everything,
            (1 << len(patches)) - 1,
            [run for run in self.runs if run.points and not run.ends],
        )

    def _add_runs(self, seam: int, reached: bytearray) -> None:
        """Divide `seam` at points of the border; keep the runs between two patches of this part."""
        points, beside = self.seams.block.seams[seam].points, self.seams.sides[seam]
        start = 0
        for end in range(1, len(points)):
            if not reached[points[end]] and end < len(points) - 1:
                continue
            left, right = beside[start]
            # Patches of the part on both sides, and not parted by a cut along this very run.
            if left in self.patch_bit and right in self.patch_bit:
                self._add_run(seam, start, end)
            start = end

    def _add_run(self, seam: int, start: int, end: int) -> None:
        seams = self.seams
        points, number = seams.block.seams[seam].points, len(self.runs)
        inner = crossed = from_left = from_right = 0
        for place in range(start + 1, end):
            bit = self.point_bit[points[place]]
            inner |= bit
            if len(seams.through[points[place]]) > 1:
                crossed |= bit
            on_left, on_right = seams.arrivals(seam, place)
            from_left |= bit * on_left
            from_right |= bit * on_right
        steps = []
        for place in range(start, end):
            left, right = (self._index[patch] for patch in seams.sides[seam][place])
            steps.append(1 << left | 1 << right)
            self.neighbours[left].append((right, number))
            self.neighbours[right].append((left, number))
        ends = self.point_bit.get(points[start], 0) | self.point_bit.get(points[end], 0)
        run = Run(number, seam, start, end, inner, ends, crossed, from_left, from_right, tuple(steps))
        run.unknown = (1 << len(self.points)) - 1 & ~inner
        run.unknown_area = (1 << len(self.patches)) - 1
        for step in steps:
            run.beside |= step
        self.runs.append(run)

    def learn(self, run: Run, inside: int, area: int) -> None:
        """Find out what lies on either side of a run that cuts the region (inside, area)."""
        place = next(place for place, step in enumerate(run.steps, start=run.start) if step & area == step)
        left, right = (self._index[patch] for patch in self.seams.sides[run.seam][place])
        flooded, small_is_left = self._flood(run.number, area, left, right)
        small = small_points = 0
        for patch in flooded:
            small |= 1 << patch
            small_points |= self.corner_bits[patch]
        # An inner point of the region that is no point of the cut has all its patches on one side.
        small_points &= inside & ~run.points
        large, large_points = area & ~small, inside & ~small_points & ~run.points
        if not small_is_left:
            small, small_points, large, large_points = large, large_points, small, small_points
        run.left |= small_points
        run.right |= large_points
        run.left_area |= small
        run.right_area |= large
        run.unknown &= ~(small_points | large_points)
        run.unknown_area &= ~area

    def _flood(self, number: int, area: int, left: int, right: int) -> tuple[set[int], bool]:
        """The patches of the side of run `number` that is flooded first, and whether it is the left one."""
        seen = ({left}, {right})
        waiting = ([left], [right])
        while True:
            for side in (0, 1):
                if not waiting[side]:
                    return seen[side], side == 0
                for neighbour, run in self.neighbours[waiting[side].pop()]:
                    if run != number and area >> neighbour & 1 and neighbour not in seen[side]:
                        seen[side].add(neighbour)
                        waiting[side].append(neighbour)

    def side(self, run: Run, region: Region, left: bool) -> Region:
        """The region on one side of a cut of `region` along `run`."""
        before, area = region.inside, region.area
        if before & run.unknown or area & run.unknown_area:
            self.learn(run, before, area)
        if left:
            inside, area = before & run.left, area & run.left_area
        else:
            inside, area = before & run.right, area & run.right_area
        cuts = [c for c in region.cuts if inside & c.points]
        met = self.met[run.number]
        if met:
            # Free now: an end was inner to the region, and none is inner to this side.
            cuts += [c for c in met if inside & c.points and before & c.ends and not inside & c.ends]
        return Region(inside, area, cuts)

    def cut(self, run: Run, region: Region) -> Cut:
        """Where a run cuts a region."""
        inside = [place for place, step in enumerate(run.steps, run.start) if step & region.area == step]
        return Cut(run.seam, inside[0], inside[-1] + 1)

    def areas(self, run: Run, region: Region) -> tuple[int, int]:
        """The patches on the left and on the right of a cut."""
        if region.inside & run.unknown or region.area & run.unknown_area:
            self.learn(run, region.inside, region.area)
        return region.area & run.left_area, region.area & run.right_area

    def forced(self, region: Region) -> Run | None:
        """A cut of the region that is a join in every plan, if there is one (see forced)."""
        inside = region.inside
        for run in region.cuts if self._some_forced else ():
            if inside & run.from_left and inside & run.from_right and not inside & run.crossed:
                return run
        return None

    def single_edges(self, region: Region) -> list[Run]:
        """The cuts of a region along one edge, without inner points."""
        inside, area = region.inside, region.area
        return [
            run
            for run in self.runs
            # Most runs lie elsewhere: that is told at once.
            if area & run.beside
            and not inside & (run.points | run.ends)
            and any(step & area == step for step in run.steps)
        ]

    def is_one_foundation(self, region: Region) -> bool:
        """Whether patches come off one at a time until one is left.

        A patch that comes off now still comes off later, so peeling greedily decides it. A run takes patches off
        when on one side of it there is no inner point and no seam that arrives: what lies there are whole patches
        hung on by edges without inner points, and they come off one by one, the one along the run last.
        """
        if region.inside & self.to_match:
            return False
        while region.inside:
            for run in region.cuts:
                if region.inside & run.unknown or region.area & run.unknown_area:
                    self.learn(run, region.inside, region.area)
                if not region.inside & (run.left | run.from_left):
                    region = self.side(run, region, left=False)
                    break
                if not region.inside & (run.right | run.from_right):
                    region = self.side(run, region, left=True)
                    break
            else:
                return False
        return True


def bits(mask: int) -> list[int]:
    """The single bits of a mask, lowest first."""
    found = []
    while mask:
        bit = mask & -mask
        found.append(bit)
        mask ^= bit
    return found
