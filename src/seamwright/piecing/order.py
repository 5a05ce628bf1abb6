"""The sewing order within a section: one stable choice out of all valid ones.

Knows:  which patches can come off a section, the line along which each comes off, an order to sew in.
Leaves: which patches make a section (fewest).
Method: read backwards, sewing is peeling: a patch comes off when what is still sewn to it is one straight run from
        border to border. A patch that comes off now still comes off later, shortened at most; so taking any of them
        never leads into a blind alley, and the valid orders are those of an antimatroid (no precedence: a patch may
        come free in more than one way). The patch with the longest seam comes off first, so that seams lengthen
        towards the end of sewing; but a neighbour of the last one goes before it, unless its seam is much shorter,
        so that sewing runs on in one direction; among equals the lowest, then the one furthest right.
"""

from __future__ import annotations

import math
from collections.abc import Iterable

from seamwright.geometry import off_line
from seamwright.piecing.model import Step
from seamwright.piecing.seammap import ONE_SIDE_IN, SeamMap
from seamwright.piecing.shapes import corners

SAME_LENGTH_IN = 1 / 64
"""Seams whose lengths differ by less are taken as equally long."""
MUCH_LONGER = 1.5
"""Sewing runs on from neighbour to neighbour unless another seam is longer by this factor."""


def sewing_order(seams: SeamMap, patches: Iterable[int]) -> tuple[Step, ...] | None:
    """The steps of a section in sewing order, or None if its patches make no single foundation.

    Where the section has an inside corner, steps that fold clear of all that is sewn before are preferred:
    whenever an order of such steps exists, one is returned.
    """
    return _Peeling(seams, patches).steps()


def is_fold_clear(seams: SeamMap, step: Step, before: Iterable[int]) -> bool:
    """Whether the patches sewn before lie on one side of the step's fold line."""
    if not seams.notched:
        return True
    block = seams.block
    a, b = block.points[step.stitch[0]], block.points[step.stitch[-1]]
    offs = [off_line(block.points[p], a, b) for patch in before for p in block.patches[patch].ring]
    return min(offs) >= -ONE_SIDE_IN or max(offs) <= ONE_SIDE_IN


class _Peeling:
    """Patches come off one at a time."""

    def __init__(self, seams: SeamMap, patches: Iterable[int]) -> None:
        self.seams, self.block = seams, seams.block
        self.left = dict.fromkeys(patches)  # a set that keeps its order
        self.free: dict[int, tuple[int, ...]] = {}
        self.middles: dict[int, tuple[float, float]] = {}
        for patch in self.left:
            self._look_at(patch)

    def steps(self) -> tuple[Step, ...] | None:
        backwards: list[Step] = []
        last: int | None = None
        while len(self.left) > 1:
            if not self.free:
                return None
            patch = self._choose(last)
            backwards.append(Step(patch, self.free.pop(patch)))
            del self.left[patch]
            touched = {
                q: None for p in self.block.patches[patch].ring for q in self.seams.fans[p] if q in self.left
            }
            for neighbour in touched:
                self._look_at(neighbour)
            last = patch
        (first,) = self.left
        if self.block.patches[first].holes:
            return None
        return (Step(first), *reversed(backwards))

    def _look_at(self, patch: int) -> None:
        """Find out anew whether a patch can come off."""
        stitch = self._stitch(patch)
        if stitch:
            self.free[patch] = stitch
        else:
            self.free.pop(patch, None)

    def _stitch(self, patch: int) -> tuple[int, ...]:
        """The one straight run over which `patch` is still sewn on, from border to border; () if it is not one."""
        face, block = self.block.patches[patch], self.block
        count = len(face.ring)
        sewn = [self.seams.across(patch, e) in self.left for e in face.edges]
        if not any(sewn) or all(sewn) or face.holes:
            return ()
        first = next(i for i in range(count) if sewn[i] and not sewn[i - 1])
        run = [first]
        for step in range(1, sum(sewn)):
            i = (first + step) % count
            before, after = (block.edges[face.edges[j]].seam for j in (i - 1, i))
            if not sewn[i] or before != after or self._on_border(face.ring[i]):
                return ()
            run.append(i)
        if not block.seams[block.edges[face.edges[first]].seam].straight:
            return ()
        return (*(face.ring[i] for i in run), face.ring[(run[-1] + 1) % count])

    def _on_border(self, point: int) -> bool:
        return bool(self.seams.on_outline[point]) or any(q not in self.left for q in self.seams.fans[point])

    def _choose(self, last: int | None) -> int:
        points = self.block.points
        beside = set() if last is None else {self.seams.across(last, e) for e in self.block.patches[last].edges}

        ends = {patch: (points[stitch[0]], points[stitch[-1]]) for patch, stitch in self.free.items()}
        lengths = {patch: round(math.dist(*pair) / SAME_LENGTH_IN) for patch, pair in ends.items()}
        longest = max(lengths.values())

        def wish(patch: int) -> tuple[bool, int, float, float]:
            goes_on = patch in beside and lengths[patch] * MUCH_LONGER >= longest
            return goes_on, lengths[patch], *self._middle(patch)

        if not self.seams.notched:
            return max(self.free, key=wish)
        ranked = sorted(self.free, key=wish, reverse=True)
        clear = (p for p in ranked if is_fold_clear(self.seams, Step(p, self.free[p]), self._without(p)))
        return next(clear, ranked[0])

    def _middle(self, patch: int) -> tuple[float, float]:
        """(y, x) of the mean of a patch's corners; points inside its sides do not count."""
        if patch not in self.middles:
            turns = [self.block.points[p] for p, _ in corners(self.block, patch)]
            x, y = (round(math.fsum(p[axis] for p in turns) / len(turns), 6) for axis in (0, 1))
            self.middles[patch] = (y, x)
        return self.middles[patch]

    def _without(self, patch: int) -> list[int]:
        return [other for other in self.left if other != patch]
