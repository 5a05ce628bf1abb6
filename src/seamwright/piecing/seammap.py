"""The seam map: what lies round each point and beside each seam of a block, looked up once.

Knows:  the patches round a point, the seams through it, the patches on both sides of a run.
Leaves: what may be cut (decide), what should be (fewest).
Units:  none; everything here is numbers of points, edges, seams, patches.

A seam is walked from its first point to its last; left and right are those of the walker, or of the walker in a
mirror where the numbers were given in a mirror: so that copies of either hand look alike.
"""

from __future__ import annotations

from collections.abc import Sequence
from functools import cached_property
from typing import TYPE_CHECKING, TypeVar

from seamwright.block.model import OUTLINE, OUTSIDE, Block
from seamwright.geometry import ONE_HEIGHT, Ring, levels, off_line

_T = TypeVar("_T")
if TYPE_CHECKING:
    from seamwright.piecing.alike import Alike

ONE_SIDE_IN = 1e-6
"""A point may lie this far across a line and still count as on it."""
Place = tuple[int, int]
"""(seam, position): the point `seams[seam].points[position]`, seen as a place on that seam."""


class SeamMap:
    """Tables of one block that all of piecing looks things up in.

    Attributes:
        block: the block.
        on_outline: for each point, whether it lies on the outline.
        places: for each point, its places on seams. A curve that meets itself has several at one point.
        fans: for each point, the patches round it, each once, in patch order.
        sides: for each seam, the (left, right) patches of each of its edges.
        mirrored: whether left and right have changed names.
    """

    def __init__(self, block: Block, *, mirrored: bool = False, turning: bool = False) -> None:
        """`mirrored`: left and right change names. `turning`: joins may turn where no seam of the block does."""
        self.block, self.mirrored, self.turning = block, mirrored, turning
        count = len(block.points)
        self.on_outline = bytearray(count)
        for point in block.outline:
            self.on_outline[point] = 1
        self.places: list[list[Place]] = [[] for _ in range(count)]
        self.sides: list[list[tuple[int, int]]] = []
        for number, seam in enumerate(block.seams):
            beside = []
            for position, edge_number in enumerate(seam.edges):
                edge = block.edges[edge_number]
                ahead = edge.start == seam.points[position]
                beside.append((edge.left, edge.right) if ahead != mirrored else (edge.right, edge.left))
            self.sides.append(beside)
            # The first point of a closed curve is its last one too: it is one place.
            for position, point in enumerate(seam.points[:-1] if self.is_closed(number) else seam.points):
                self.places[point].append((number, position))
        self.fans: list[list[int]] = [[] for _ in range(count)]
        for number, patch in enumerate(block.patches):
            for ring in (patch.ring, *patch.holes):
                for point in ring:
                    if not self.fans[point] or self.fans[point][-1] != number:
                        self.fans[point].append(number)

    def is_closed(self, seam: int) -> bool:
        """Whether a seam is a curve that ends where it began; its positions then run on round it."""
        points = self.block.seams[seam].points
        return points[0] == points[-1]

    def is_simple(self, seam: int, start: int, end: int) -> bool:
        """Whether a run of a seam meets itself nowhere; every run of a straight seam does not."""
        if self.block.seams[seam].straight:
            return True
        points = run_of(self.block.seams[seam].points[: None if not self.is_closed(seam) else -1], start, end + 1)
        return len(set(points)) == len(points)

    def is_straight(self, seam: int, start: int, end: int) -> bool:
        """Whether the run of a seam between two positions is straight, so that it can be stitched and flipped."""
        whole = self.block.seams[seam]
        if whole.straight:
            return True
        if any(self.block.edges[edge].via for edge in run_of(whole.edges, start, end)):
            return False
        if any(start < turn < end for turn in whole.turns):
            return False
        # A line may swing into a curve: then part of one seam is straight. (A curve's pieces are each a chord.)
        ring = whole.points[:-1] if self.is_closed(seam) else whole.points
        first, *inner, last = (self.block.points[p] for p in run_of(ring, start, end + 1))
        return first != last and all(abs(off_line(p, first, last)) <= ONE_SIDE_IN for p in inner)

    @cached_property
    def rings(self) -> list[Ring]:
        """Coordinates round each patch, curves included."""
        return [self.block.patch_ring(number) for number in range(len(self.block.patches))]

    @cached_property
    def through(self) -> list[list[int]]:
        """For each point inside the block the seams that run through it; [] on the outline."""
        found: list[list[int]] = [[] for _ in self.places]
        for number, seam in enumerate(self.block.seams):
            for point in seam.points[not self.is_closed(number) : -1]:
                if not self.on_outline[point]:
                    found[point].append(number)
        return found

    def arrivals(self, seam: int, position: int) -> tuple[bool, bool]:
        """Whether other seams meet `seam` at one of its inner points from its left, and from its right."""
        before, after = self.sides[seam][position - 1], self.sides[seam][position]
        # With nothing arriving the patch beside the seam is one and the same before and after the point.
        return before[0] != after[0], before[1] != after[1]

    @cached_property
    def to_match(self) -> bytearray:
        """For each point, whether seams must meet there when a join is sewn.

        Two seams run through, or one with others arriving from both sides. The first cut through such a
        point is a join in every plan, because a step would need one whole patch on one side of it.
        """
        marks = bytearray(len(self.places))
        for point, seams in enumerate(self.through):
            if len(seams) > 1:
                marks[point] = 1
            elif seams:
                ((seam, position),) = [place for place in self.places[point] if place[0] == seams[0]]
                marks[point] = all(self.arrivals(seam, position))
        return marks

    @cached_property
    def reading(self) -> list[tuple[int, int]]:
        """For each point its (row, column), as one reads: from the top, then from the left; free of noise."""
        gap = ONE_HEIGHT * max(self.block.width_in, self.block.height_in)
        across, down = (levels([point[axis] for point in self.block.points], gap) for axis in (0, 1))
        return list(zip(down, across, strict=True))

    @cached_property
    def no_seam_through(self) -> dict[int, None]:
        """Points inside the block that no seam runs on through, straight or as a curve; a set in order."""
        passed = {p for n, seam in enumerate(self.block.seams) for p in seam.points[not self.is_closed(n) : -1]}
        ends = (p for p, places in enumerate(self.places) if places and p not in passed and not self.on_outline[p])
        return dict.fromkeys(ends)

    @cached_property
    def notched(self) -> bool:
        """Whether a region may have an inside corner: the outline has one, or a join is a curve or turns."""
        if self.turning or any(not seam.straight for seam in self.block.seams):
            return True
        ring = list(self.block.outline_ring())
        return any(
            off_line(after, before, corner) < -ONE_SIDE_IN
            for before, corner, after in zip(ring[-1:] + ring[:-1], ring, ring[1:] + ring[:1], strict=True)
        )

    @cached_property
    def alike(self) -> Alike:
        """Which sections of the block are alike."""
        from seamwright.piecing.alike import Alike

        return Alike(self.block)

    def across(self, patch: int, edge_number: int) -> int:
        """The patch on the other side of an edge of `patch`, or OUTSIDE."""
        edge = self.block.edges[edge_number]
        return edge.right if edge.left == patch else edge.left

    def beside(self, edge_number: int) -> tuple[int, int]:
        """The patches on both sides of an edge."""
        edge = self.block.edges[edge_number]
        return edge.left, edge.right

    def parts(self, cut_edges: bytearray) -> list[list[int]]:
        """Patches that hang together over edges not cut; each part in patch order, parts by their first patch."""
        parents = list(range(len(self.block.patches)))
        for number, edge in enumerate(self.block.edges):
            if edge.seam != OUTLINE and not cut_edges[number] and OUTSIDE not in (edge.left, edge.right):
                parents[root(parents, edge.left)] = root(parents, edge.right)
        gathered: dict[int, list[int]] = {}
        for patch in range(len(parents)):
            gathered.setdefault(root(parents, patch), []).append(patch)
        return list(gathered.values())


def run_of(items: Sequence[_T], start: int, end: int) -> tuple[_T, ...]:
    """The items from position start up to end; round a closed seam positions run on past its last one."""
    if end <= len(items):
        return tuple(items[start:end])
    return tuple(items[place % len(items)] for place in range(start, end))


def root(parents: list[int], member: int) -> int:
    """The leader of `member`'s set; halves the way for the next asker (R. E. Tarjan, J. ACM 22, 1975)."""
    while parents[member] != member:
        parents[member] = parents[parents[member]]
        member = parents[member]
    return member
