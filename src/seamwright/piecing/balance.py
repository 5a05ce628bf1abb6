"""The same joins in a handier order: halves before pairs before single sections.

Knows:  which joins must wait for which; a division of the block by the same cuts that falls into even halves.
Leaves: which cuts there are (divide), names and sewing order (joins).
Method: each inner point lies inside one cut only; a cut waits for those that its ends lie inside of, and for no
        others. So any cut that waits for none may divide a region first. The one that leaves the most equal numbers
        of sections is taken: sewn backwards, sections are joined in pairs, and pairs in pairs, not one after
        another to a piece that grows under the needle. Where units are off the paper, parts that are rectangles
        come first of all: a square is whole before its borders are sewn on, and each part can be measured.
"""

from __future__ import annotations

from seamwright.block.rings import region_ring
from seamwright.fabric.rulers import is_rectangle
from seamwright.geometry import canonical_ring
from seamwright.piecing.cuts import Cut, Tree
from seamwright.piecing.seammap import SeamMap, run_of

MOST_CUTS = 200
"""Every cut is tried in every region: the time grows with the square of their number. Above it the order stays."""


def balanced(seams: SeamMap, tree: Tree, *, rectangles: bool = False) -> Tree:
    """The division of a block by the cuts of `tree`, in an order that halves it evenly.

    Args:
        rectangles: cuts that leave a rectangle on both sides go first.
    """
    cuts = [node.cut for node in tree.nodes() if node.cut is not None]
    if len(cuts) > MOST_CUTS:
        return tree
    sections = [node.patches for node in tree.nodes() if node.cut is None]
    return _Balance(seams, cuts, sections, rectangles).divide()


class _Balance:
    def __init__(self, seams: SeamMap, cuts: list[Cut], sections: list[tuple[int, ...]], rectangles: bool) -> None:
        block = self.block = seams.block
        self.rectangles = rectangles
        self._shapes: dict[frozenset[int], bool] = {}
        self.cuts, self.sections = cuts, sections
        self.rank = [cut.rank(block) for cut in cuts]
        inside = {point: number for number, cut in enumerate(cuts) for point in cut.points(block)[1:-1]}
        self.waits = [
            {inside[p] for p in (cut.points(block)[0], cut.points(block)[-1]) if p in inside} for cut in cuts
        ]
        section_of = {patch: number for number, patches in enumerate(sections) for patch in patches}
        # For each section, the (cut, section) across each edge of its border.
        self.across: list[dict[tuple[int, int], None]] = [{} for _ in sections]
        self.beside: list[list[tuple[int, int]]] = []
        for number, cut in enumerate(cuts):
            sides = run_of(seams.sides[cut.seam], cut.start, cut.end)
            pairs = [(section_of[left], section_of[right]) for left, right in sides]
            self.beside.append(pairs)
            for left, right in pairs:
                self.across[left][number, right] = None
                self.across[right][number, left] = None

    def divide(self) -> Tree:
        return self._divide(frozenset(range(len(self.sections))), list(range(len(self.cuts))))

    def _divide(self, region: frozenset[int], cuts: list[int]) -> Tree:
        """`cuts`: those that divide this region or a part of it."""
        patches = tuple(sorted(patch for section in region for patch in self.sections[section]))
        if not cuts:
            return Tree(patches)
        open_cuts = set(cuts)
        choices = []
        for number in cuts:
            if not self.waits[number] & open_cuts:
                one = self._side(number, region)
                ragged = self.rectangles and not (self._is_rectangle(one) and self._is_rectangle(region - one))
                choices.append((ragged, abs(2 * len(one) - len(region)), self.rank[number], number, one))
        _, _, _, number, one = min(choices, key=lambda choice: choice[:4])
        sides = []
        for side in (one, region - one):
            within = [c for c in cuts if c != number and self.beside[c][0][0] in side]
            sides.append(self._divide(side, within))
        return Tree(patches, self.cuts[number], tuple(sides))

    def _is_rectangle(self, region: frozenset[int]) -> bool:
        if region not in self._shapes:
            patches = [patch for section in region for patch in self.sections[section]]
            self._shapes[region] = is_rectangle(canonical_ring(region_ring(self.block, patches)))
        return self._shapes[region]

    def _side(self, number: int, region: frozenset[int]) -> frozenset[int]:
        """The sections on the left of a cut of the region."""
        start = next(left for left, _ in self.beside[number] if left in region)
        seen, waiting = {start}, [start]
        while waiting:
            for cut, other in self.across[waiting.pop()]:
                if cut != number and other in region and other not in seen:
                    seen.add(other)
                    waiting.append(other)
        return frozenset(seen)
