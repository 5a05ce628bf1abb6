"""The sewing order within a section: one stable choice out of all valid ones.

Knows:  what a sewer wishes of an order, and which wish goes before which.
Leaves: which patches can come off a section (peel), how dark allowance is kept from under light patches (shadows),
        which patches make a section (fewest), the words of `--start` (start).
Method: read backwards, sewing is peeling. Whatever can come off now still can later; so taking any patch never
        leads into a blind alley, and the valid orders are those of an antimatroid (no precedence: a patch may come
        free in more than one way). The wishes choose among what can come off, patch after patch.

What is wished for, the first wish first; a later one is granted as far as those before it leave room:
    1. the patches that the sewer asks for are laid on first;
    2. every fold is clear of what is sewn before, wherever there is such an order (else as late as can be);
    3. fewest pairs of neighbours of which the darker lies under the lighter: allowances are pressed under the
       patch that is added later, so of two neighbours the darker is added later (common practice: press to the dark
       side). How far this goes is told in `shadows`;
    4. seams lengthen towards the end of sewing: of the patches that can come off, those whose seam is not much
       shorter than the longest;
    5. of these, one of the fabric that came off last: fewer changes of fabric and thread;
    6. of these, a neighbour of the patch that came off last: sewing runs on in one direction;
    7. of these, the one with the longest seam, and at last the one of the highest number: under canonical numbers
       (twin) all copies of a drawing are sewn alike.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence

from seamwright.piecing.model import Step
from seamwright.piecing.peel import Peeling
from seamwright.piecing.seammap import SeamMap
from seamwright.piecing.shadows import Shadows, fewest_shadows

MUCH_LONGER = 1.51
"""A seam is much longer by this factor: half as long again and a little, for whole inches stand in that ratio."""
LONGER = 1.0063
"""Seams whose lengths differ by less than this factor are equally long: 1/32 in on 5 in. Factors, so that a copy in
another size is sewn alike; and none that drawings have, or else noise would decide."""


def sewing_order(
    seams: SeamMap, patches: Iterable[int], *, first: Sequence[int] = (), fold_clear: bool = False
) -> tuple[Step, ...] | None:
    """The steps of a section in sewing order, or None if there is no such order.

    Args:
        first: patches of the section that are to be laid on first, in this order.
        fold_clear: only steps that fold clear of all that is sewn before. Without it they are preferred: whenever
            an order of such steps exists, one is returned.
    """
    peeling = Peeling(seams, patches, first, fold_clear)
    return peeling.run(_Wishes(peeling).choose)


def can_be_sewn(seams: SeamMap, patches: Iterable[int], *, fold_clear: bool = False) -> bool:
    """Whether patches make one foundation; quicker than an order to sew it in."""
    return Peeling(seams, patches, (), fold_clear).run(lambda choices: choices[0]) is not None


class _Wishes:
    """Chooses the patch to come off next."""

    def __init__(self, peeling: Peeling) -> None:
        self.peeling, self.block = peeling, peeling.block
        self.shadows = Shadows(peeling.block, peeling.left)
        self.costly = fewest_shadows(peeling, self.shadows) if self.shadows.darker else []

    def choose(self, choices: list[int]) -> int:
        """One of the patches that may come off."""
        peeling, last = self.peeling, self.peeling.last
        if self.shadows.darker:
            choices = self.shadows.cheapest(choices, peeling.left)
            if self.costly and self.shadows.cost(choices[0], peeling.left):
                return self.costly.pop(0)
        lengths = {patch: self._length(patch) for patch in choices}
        longest = max(lengths.values())
        if last is not None:
            choices = [patch for patch in choices if lengths[patch] * MUCH_LONGER >= longest]
            fabric = self.block.patches[last].fabric
            if fabric is not None:
                choices = [p for p in choices if self.block.patches[p].fabric == fabric] or choices
            beside = {peeling.seams.across(last, edge) for edge in self.block.patches[last].edges}
            choices = [patch for patch in choices if patch in beside] or choices
        longest = max(lengths[patch] for patch in choices)
        return max(patch for patch in choices if lengths[patch] * LONGER >= longest)

    def _length(self, patch: int) -> float:
        stitch = self.peeling.free[patch]
        return math.dist(self.block.points[stitch[0]], self.block.points[stitch[-1]])
