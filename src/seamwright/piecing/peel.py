"""Peeling: sewing read backwards, one patch after another taken off a section.

Knows:  which patches can come off now and along which line, and which of them fold clear.
Leaves: which one to take (order, shadows).
Method: a patch comes off when what is still sewn to it is one straight run from border to border. What can come
        off now still can later, shortened at most; what folds clear now still does later. So taking any such patch
        never leads into a blind alley, and after each only its neighbours are looked at anew.
Limits: linear in the sides of the patches, apart from folds: these look at all that is left, and only in a block
        with an inside corner.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence

from seamwright.geometry import off_line
from seamwright.piecing.model import Step
from seamwright.piecing.seammap import ONE_SIDE_IN, SeamMap

Choose = Callable[[list[int]], int]
"""Takes the patches that may come off now, returns one of them."""
Undo = tuple[int, list[tuple[int, tuple[int, ...] | None]], int]
"""(patch taken, what could come off before, how many folds were known to be clear)."""


def is_fold_clear(seams: SeamMap, step: Step, before: Iterable[int]) -> bool:
    """Whether the patches sewn before lie on one side of the step's fold line."""
    if not seams.notched:
        return True
    block = seams.block
    a, b = block.points[step.stitch[0]], block.points[step.stitch[-1]]
    offs = [off_line(p, a, b) for patch in before for p in seams.rings[patch]]
    return min(offs) >= -ONE_SIDE_IN or max(offs) <= ONE_SIDE_IN


class Peeling:
    """A section from which patches are taken.

    Attributes:
        left: the patches still there, as a set that keeps its order.
        free: the patches that can come off now, each with the line of points along which it does.
        last: the patch taken last, None before the first.
    """

    def __init__(
        self, seams: SeamMap, patches: Iterable[int], first: Sequence[int] = (), fold_clear: bool = False
    ) -> None:
        """
        Args:
            first: patches kept to the end of peeling, so sewn first, in this order.
            fold_clear: only take patches that fold clear of all that is left; else these are preferred.
        """
        self.seams, self.block = seams, seams.block
        self.left = dict.fromkeys(patches)
        self.free: dict[int, tuple[int, ...]] = {}
        self.last: int | None = None
        self._kept = {patch: place for place, patch in enumerate(first)}
        self._fold_clear = fold_clear
        self._clear: dict[int, None] = {}
        for patch in self.left:
            self._look_at(patch)

    def may_come_off(self) -> list[int]:
        """The patches to choose from, highest number first; [] when there is none."""
        free = [p for p in self.free if p not in self._kept or self._kept[p] == len(self.left) - 1]
        if self.seams.notched:
            clear = [patch for patch in free if self._folds_clear(patch)]
            free = clear if clear or self._fold_clear else free
        return sorted(free, reverse=True)

    def run(self, choose: Choose) -> tuple[Step, ...] | None:
        """Take patch after patch; the steps in sewing order, or None if one patch cannot be reached."""
        backwards: list[Step] = []
        while len(self.left) > 1:
            choices = self.may_come_off()
            if not choices:
                return None
            patch = choose(choices)
            backwards.append(Step(patch, self.free[patch]))
            self.take(patch)
        (first,) = self.left
        if self.block.patches[first].holes:
            return None
        return (Step(first), *reversed(backwards))

    def take(self, patch: int) -> Undo:
        """Take a patch off; what comes back puts it on again."""
        changes: list[tuple[int, tuple[int, ...] | None]] = [(patch, self.free.pop(patch))]
        clear = len(self._clear)
        del self.left[patch]
        touched = {q: None for p in self.block.patches[patch].ring for q in self.seams.fans[p] if q in self.left}
        for neighbour in touched:
            changes.append((neighbour, self.free.get(neighbour)))
            self._look_at(neighbour)
        self.last = patch
        return patch, changes, clear

    def put_back(self, undo: Undo) -> None:
        """Undo the last take (those before it can be undone afterwards, newest first). `last` is lost."""
        patch, changes, clear = undo
        self.left[patch] = None
        for neighbour, stitch in changes:
            if stitch is None:
                self.free.pop(neighbour, None)
            else:
                self.free[neighbour] = stitch
        while len(self._clear) > clear:
            self._clear.popitem()
        self.last = None

    def _folds_clear(self, patch: int) -> bool:
        if patch not in self._clear:
            others = [other for other in self.left if other != patch]
            if is_fold_clear(self.seams, Step(patch, self.free[patch]), others):
                self._clear[patch] = None
        return patch in self._clear

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
        if not self._is_straight([face.edges[i] for i in run]):
            return ()
        return (*(face.ring[i] for i in run), face.ring[(run[-1] + 1) % count])

    def _is_straight(self, edges: list[int]) -> bool:
        """Whether a run of edges of one seam is straight."""
        number = self.block.edges[edges[0]].seam
        seam = self.block.seams[number]
        if seam.straight:
            return True
        places = [seam.edges.index(edge) for edge in edges]
        one, other = min(places), max(places)
        if other - one == len(places) - 1:
            return self.seams.is_straight(number, one, other + 1)
        return False  # round the point at which a closed curve begins

    def _on_border(self, point: int) -> bool:
        return bool(self.seams.on_outline[point]) or any(q not in self.left for q in self.seams.fans[point])
