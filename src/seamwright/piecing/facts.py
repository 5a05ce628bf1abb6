"""What the costs of plans are counted from: tips, quick shapes, lengths, kinds of sections, rows of a grid.

Knows:  facts of patches, points and edges, each found once for a block.
Leaves: which plan is best (ties), which sections are alike (alike), what a tip or a quick shape is (shapes).
Units:  lengths in the whole units of `lengths`.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable, Sequence

from seamwright.geometry import off_line
from seamwright.piecing.alike import Alike
from seamwright.piecing.cuts import Cut
from seamwright.piecing.lengths import whole_lengths
from seamwright.piecing.seammap import SeamMap
from seamwright.piecing.shapes import grain_of, is_quick_shape, tips

RIGHT_ANGLE_SINE = 1e-4
"""Lines whose directions differ by less are parallel, or at right angles."""


class Facts:
    """What costs are made of, once for a block.

    Attributes:
        sharp, quick: for each patch, 1 if it has a tip under 45 degrees, or is quick to cut with a ruler; else 0.
        tips_at: number of tips under 45 degrees at each point that has any.
        lengths: length of each edge in whole units.
    """

    def __init__(self, seams: SeamMap) -> None:
        self.seams, self.block = seams, seams.block
        block = self.block
        self.tips_at: dict[int, int] = {}
        self.sharp, self.quick = [0] * len(block.patches), [0] * len(block.patches)
        grain = grain_of(block)
        for patch in range(len(block.patches)):
            for point in tips(block, patch):
                self.tips_at[point] = self.tips_at.get(point, 0) + 1
                self.sharp[patch] = 1
            self.quick[patch] = int(is_quick_shape(block, patch, grain))
        self.lengths = whole_lengths(block)
        self._bits: dict[object, int] = {}
        self._grid: dict[int, tuple[int, int]] | None = None
        self._spans = (0, 0)

    @property
    def alike(self) -> Alike:
        """Which sections are alike."""
        return self.seams.alike

    def section_cost(self, patches: Sequence[int]) -> tuple[int, int, int, int, int]:
        """Entries of a section: sharp plain pieces, foundations, quick plain pieces (below 0), none for joins."""
        if len(patches) > 1:
            return (0, 1, 0, 0, 0)
        return (self.sharp[patches[0]], 0, -self.quick[patches[0]], 0, 0)

    def join_cost(self, cut: Cut, holds: Callable[[int], bool]) -> tuple[int, int]:
        """Tips that come to lie on a join by this cut, and 1 if it has a point to match.

        A tip is counted with the first join that its point lies on: then all patches round the point are still in
        the region. Afterwards they never are again; so this is a sum. An inner point of a cut is no border yet.

        Args:
            holds: whether all patches round a point lie in the region that is cut.
        """
        points = cut.points(self.block)
        on_join = sum(self.tips_at[p] for p in points if p in self.tips_at and holds(p))
        return on_join, int(any(self.seams.to_match[p] for p in points[1:-1]))

    def length(self, cut: Cut) -> int:
        """Length of a cut in whole units."""
        return sum(self.lengths[edge] for edge in cut.edges(self.block))

    def kinds(self, patches: Sequence[int]) -> tuple[int, int]:
        """(bit of its kind, 0) for a foundation that may not be alone of its kind, (0, 1) for one that is.

        (0, 0) for a plain piece: it is no foundation.
        """
        return self.prints(patches) if len(patches) > 1 else (0, 0)

    def prints(self, patches: Sequence[int]) -> tuple[int, int]:
        """As `kinds`, for plain pieces too."""
        if not self.alike.may_repeat(patches):
            return 0, 1
        kind = self.alike.kind(patches)
        return self._bits.setdefault(kind, 1 << len(self._bits)), 0

    def no_row(self, patches: Iterable[int]) -> int:
        """1 for a section of a grid that is no whole row or column of it, else 0."""
        if self._grid is None:
            self._grid, self._spans = _grid(self.seams)
        if not self._grid:
            return 0
        places = [self._grid[patch] for patch in patches]
        for axis in (0, 1):
            if len({place[axis] for place in places}) == 1 and len(places) == self._spans[1 - axis]:
                return 0
        return 1


def _grid(seams: SeamMap) -> tuple[dict[int, tuple[int, int]], tuple[int, int]]:
    """For each patch its place in two directions, and how many places these have; ({}, (0, 0)) if it is no grid.

    A grid is cut by whole lines of two directions at right angles, into as many patches as that makes.
    """
    block = seams.block
    families: list[list[int]] = [[], []]
    heading: tuple[float, float] | None = None
    for number, seam in enumerate(block.seams):
        (ax, ay), (bx, by) = block.points[seam.points[0]], block.points[seam.points[-1]]
        length = math.hypot(bx - ax, by - ay)
        if (
            not seam.straight
            or length == 0
            or not (seams.on_outline[seam.points[0]] and seams.on_outline[seam.points[-1]])
        ):
            return {}, (0, 0)
        ux, uy = (bx - ax) / length, (by - ay) / length
        heading = heading or (ux, uy)
        sine = abs(ux * heading[1] - uy * heading[0])
        if RIGHT_ANGLE_SINE < sine < 1 - RIGHT_ANGLE_SINE:
            return {}, (0, 0)
        families[sine > 0.5].append(number)
    spans = (len(families[0]) + 1, len(families[1]) + 1)
    if heading is None or spans[0] * spans[1] != len(block.patches):
        return {}, (0, 0)
    places: list[list[int]] = []
    for family in families:
        if not family:
            places.append([0] * len(block.patches))
            continue
        across = block.seams[family[0]].points
        a, b = block.points[across[0]], block.points[across[-1]]
        offs = sorted(off_line(block.points[block.seams[number].points[0]], a, b) for number in family)
        found = []
        for patch in range(len(block.patches)):
            ring = block.patch_ring(patch)
            middle = (math.fsum(x for x, _ in ring) / len(ring), math.fsum(y for _, y in ring) / len(ring))
            off = off_line(middle, a, b)
            found.append(sum(line < off for line in offs))
        places.append(found)
    return {patch: (places[0][patch], places[1][patch]) for patch in range(len(block.patches))}, spans
