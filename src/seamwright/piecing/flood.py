"""A part of a block with curves in it: the same questions as `part` answers, by flooding alone.

Knows:  which runs of any seam, straight, curved or turning, cut a region, and into what.
Leaves: which cuts to choose (general).
Method: a curve and a line may cut each other more than once; then no one chord tells the two sides of a run for
        all regions. So every region finds its cuts anew: runs of seam edges inside it, parted where they touch its
        border; the patches are flooded from both sides of a run at once, and the side that is done first is one
        side. A run that meets itself is no cut.
Limits: slower than `part` by the flooding; parts with curves that something crosses are small in real blocks.
"""

from __future__ import annotations

import itertools

from seamwright.piecing.cuts import Cut
from seamwright.piecing.order import can_be_sewn
from seamwright.piecing.part import Region, Run, bits
from seamwright.piecing.seammap import SeamMap, run_of


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
        self._seams = sorted(
            {
                block.edges[e].seam
                for patch in patches
                for e in block.patches[patch].edges
                if block.edges[e].seam >= 0
            }
        )
        self._beside: dict[int, int] = {}  # for each edge between two patches of the part, their bits
        self._neighbours: dict[int, list[tuple[int, int]]] = {bit: [] for bit in self.patch_bit.values()}
        for seam in self._seams:
            for edge, (left, right) in zip(block.seams[seam].edges, seams.sides[seam], strict=True):
                one, two = self.patch_bit.get(left, 0), self.patch_bit.get(right, 0)
                if one and two and one != two:
                    self._beside[edge] = one | two
                    self._neighbours[one].append((two, edge))
                    self._neighbours[two].append((one, edge))
        self._regions: dict[int, tuple[Region, list[Run], Run | None]] = {}
        self._foundations: dict[int, bool] = {}
        self.whole = self._region((1 << len(patches)) - 1)[0]

    def _region(self, area: int) -> tuple[Region, list[Run], Run | None]:
        """(region with its cuts that have inner points, its cuts along single edges, its forced cut)."""
        found = self._regions.get(area)
        if found is None:
            inside = sum(self._point_bit[p] for p, fan in self._fans.items() if fan & area == fan)
            runs = [run for seam in self._seams for run in self._runs(seam, area)]
            for number, run in enumerate(runs):
                run.number = number
            forced = next((run for run in runs if self._is_forced(run)), None)
            region = Region(inside, area, [run for run in runs if run.points])
            found = self._regions[area] = (region, [run for run in runs if not run.points], forced)
        return found

    def _runs(self, seam: int, area: int) -> list[Run]:
        """The cuts of a region along one seam."""
        whole, count = self.seams.block.seams[seam], len(self.seams.block.seams[seam].edges)
        closed = self.seams.is_closed(seam)

        def stops(place: int) -> bool:
            """Whether a run ends at this place."""
            if not closed and place in (0, count):
                return True
            fan = self._fans.get(whole.points[place % count if closed else place])
            return fan is None or fan & area != fan

        places = [place for place in range(count if closed else count + 1) if stops(place)]
        if closed and places:
            places.append(places[0] + count)
        found = []
        for start, end in itertools.pairwise(places):
            edges = run_of(whole.edges, start, end)
            if all(self._beside.get(e, -1) & ~area == 0 for e in edges) and self._ends_on_border(
                seam, start, end, area
            ):
                run = self._run(seam, start, end, edges, area)
                if run is not None:
                    found.append(run)
        return found

    def _ends_on_border(self, seam: int, start: int, end: int, area: int) -> bool:
        if not self.seams.is_simple(seam, start, end):
            return False
        points = Cut(seam, start, end).points(self.seams.block)
        return all((fan := self._fans.get(p)) is None or fan & area != fan for p in (points[0], points[-1]))

    def _run(self, seam: int, start: int, end: int, edges: tuple[int, ...], area: int) -> Run | None:
        left, right = self.seams.sides[seam][start % len(self.seams.sides[seam])]
        small, is_left = self._flood(self.patch_bit[left], self.patch_bit[right], frozenset(edges), area)
        if small < 0:
            return None
        inner = sum(self._point_bit[p] for p in Cut(seam, start, end).points(self.seams.block)[1:-1])
        run = Run(0, seam, start, end, inner, 0, 0, 0, 0, tuple(self._beside[e] for e in edges))
        run.left_area, run.right_area = (small, area & ~small) if is_left else (area & ~small, small)
        return run

    def _flood(self, left: int, right: int, edges: frozenset[int], area: int) -> tuple[int, bool]:
        """(patches of the side that is flooded first, whether it is the left one); -1 if they are one side."""
        seen, waiting = [left, right], ([left], [right])
        while True:
            for side in (0, 1):
                if not waiting[side]:
                    return seen[side], side == 0
                for neighbour, edge in self._neighbours[waiting[side].pop()]:
                    if neighbour & area and not neighbour & seen[side] and edge not in edges:
                        if neighbour & seen[1 - side]:
                            return -1, False
                        seen[side] |= neighbour
                        waiting[side].append(neighbour)

    def _is_forced(self, run: Run) -> bool:
        seams, count = self.seams, len(self.seams.block.seams[run.seam].edges)
        inner = Cut(run.seam, run.start, run.end).points(seams.block)[1:-1]
        if any(len(seams.through[p]) != 1 for p in inner):
            return False
        sides = [seams.arrivals(run.seam, place % count) for place in range(run.start + 1, run.end)]
        both = any(left for left, _ in sides) and any(right for _, right in sides)
        return both or not seams.is_straight(run.seam, run.start, run.end)

    # -- what searches ask ------------------------------------------------------------------------------------

    def areas(self, run: Run, region: Region) -> tuple[int, int]:
        """The patches on the left and on the right of a cut of this region, or of a larger one."""
        return region.area & run.left_area, region.area & run.right_area

    def side(self, run: Run, region: Region, left: bool) -> Region:
        """The region on one side of a cut."""
        return self._region(region.area & (run.left_area if left else run.right_area))[0]

    def cut(self, run: Run, region: Region) -> Cut:
        """Where a run cuts a region."""
        return Cut(run.seam, run.start, run.end)

    def forced(self, region: Region) -> Run | None:
        """A cut of the region that is a join in every plan, if there is one (see forced)."""
        return self._region(region.area)[2]

    def single_edges(self, region: Region) -> list[Run]:
        """The cuts of a region along one edge, without inner points."""
        return self._region(region.area)[1]

    def is_one_foundation(self, region: Region) -> bool:
        """Whether patches come off one at a time, over straight lines, until one is left."""
        area = region.area
        if area not in self._foundations:
            matched = bool(region.inside & self.to_match)
            patches = tuple(self.patches[bit.bit_length() - 1] for bit in bits(area))
            self._foundations[area] = not matched and can_be_sewn(self.seams, patches)
        return self._foundations[area]
