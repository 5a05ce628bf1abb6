"""Set-in and partial seams: the stuck drawing as it is, with seams that turn.

Knows:  how turns chosen for the stuck parts become seams, so that everything else is planned as if they were drawn.
Leaves: which turns (setin_search); sections, ties, names, orders (the same calls as for any block).
Method: which edge runs on into which at a point is a pairing. The drawing's own pairs make straight seams and
        curves. A set-in seam is a seam that is paired where it turns; a partial seam is what cutting finds once a
        seam that ends on the side of another is paired with one half of it, while the other half ends there. Given
        the pairing, cuts, stuck parts and fewest sections hold word for word; only steps inside a section keep to
        the straight runs.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from itertools import pairwise

from seamwright.block.model import OUTLINE, Block, Seam
from seamwright.options import PlanOptions
from seamwright.piecing.cuts import Cut, Tree
from seamwright.piecing.fewest import Budget, Progress
from seamwright.piecing.forced import forced_cuts
from seamwright.piecing.seammap import SeamMap, root
from seamwright.piecing.setin_ground import Bent, Ground
from seamwright.piecing.setin_search import Bends, bends

LENGTH_UNIT_IN = 1 / 65536
STEPS_PER_CUT = 10
"""A bent cut is looked at as slowly as this many regions of the plain search."""


@dataclass(frozen=True, slots=True)
class SetIn:
    """A block whose stuck parts are freed by seams that turn.

    Attributes:
        seams: the seam map of the block with these seams; points, edges and patches keep their numbers.
        tree: the whole block, divided by cuts along them.
        sections: how many; at_least: proven lower bound under as few freed points and turns in a join.
        turns: most turns in one join. freed: seams sewn in two goes.
        proven: that neither can be fewer.
    """

    seams: SeamMap
    tree: Tree
    sections: int
    at_least: int
    turns: int
    freed: int
    proven: bool


def floating(block: Block) -> tuple[int, ...]:
    """Patches that something floats in, or that meet themselves in a point: no seam from border to border
    frees what they hold.
    """
    return tuple(
        number
        for number, patch in enumerate(block.patches)
        if patch.holes or len(set(patch.ring)) < len(patch.ring)
    )


def set_in(
    seams: SeamMap,
    options: PlanOptions,
    progress: Progress | None = None,
    may_be_section: Callable[[tuple[int, ...]], bool] = lambda patches: True,
) -> SetIn:
    """The seams that free what is stuck, and the best division with them.

    Args:
        seams: of a block in which nothing floats.
        may_be_section: a limit on sections of several patches (by patch number) that holds for parts of what it
            holds for.
    """
    block = seams.block
    budget = Budget(max(1, options.steps // STEPS_PER_CUT), options.seconds, progress)
    lengths = [
        round(math.fsum(math.dist(a, b) for a, b in pairwise(block.edge_points(number))) / LENGTH_UNIT_IN)
        for number in range(len(block.edges))
    ]
    forced = forced_cuts(seams)
    found: list[tuple[Ground, Bends]] = []
    for patches in forced.parts:
        ground = Ground(seams, patches)
        found.append((ground, bends(ground, _limited(ground, may_be_section), lengths, budget)))
    edge, start = block.edges[block.seams[0].edges[0]], block.seams[0].points[0]
    mirrored = (seams.sides[0][0][0] == edge.left) != (edge.start == start)
    bent = SeamMap(turned(block, [cut for _, part in found for cut in part.cuts if cut.turns]), mirrored=mirrored)
    place = {
        edge: (number, position)
        for number, seam in enumerate(bent.block.seams)
        for position, edge in enumerate(seam.edges)
    }
    trees = [_tree(ground, list(part.cuts), place) for ground, part in found]
    part_of = {patch: number for number, tree in enumerate(trees) for patch in tree.patches}
    parents = list(range(len(trees)))
    for cut in reversed(forced.cuts):
        edges = cut.edges(block)
        left, right = (root(parents, part_of[patch]) for patch in seams.beside(edges[0]))
        one, two = trees[left], trees[right]
        parents[right] = left
        trees[left] = Tree((*one.patches, *two.patches), _cut(edges, place), (one, two))
    return SetIn(
        seams=bent,
        tree=trees[root(parents, 0)],
        sections=sum(part.sections for _, part in found),
        at_least=sum(part.at_least for _, part in found),
        turns=max((len(cut.turns) for _, part in found for cut in part.cuts), default=0),
        freed=sum(part.freed for _, part in found),
        proven=all(part.proven for _, part in found),
    )


def turned(block: Block, cuts: Sequence[Bent]) -> Block:
    """The block with a seam along each of the cuts; what is left of other seams ends there.

    Args:
        cuts: no edge lies in two of them.
    """
    taken = {edge for cut in cuts for edge in cut.edges}
    found = [Seam(cut.points, cut.edges, False, cut.turns) for cut in cuts]
    for seam in block.seams:
        start = 0
        for place in range(len(seam.edges) + 1):
            if place == len(seam.edges) or seam.edges[place] in taken:
                if place > start:
                    found.append(Seam(seam.points[start : place + 1], seam.edges[start:place], seam.straight))
                start = place + 1
    number = {edge: n for n, seam in enumerate(found) for edge in seam.edges}
    edges = tuple(replace(edge, seam=number.get(e, OUTLINE)) for e, edge in enumerate(block.edges))
    return replace(block, seams=tuple(found), edges=edges)


def _limited(ground: Ground, may_be_section: Callable[[tuple[int, ...]], bool]) -> Callable[[int], bool]:
    def is_section(region: int) -> bool:
        patches = tuple(patch for patch, bit in ground.bit.items() if bit & region)
        return len(patches) == 1 or (ground.is_foundation(region) and may_be_section(patches))

    return is_section


def _tree(ground: Ground, cuts: list[Bent], place: dict[int, tuple[int, int]]) -> Tree:
    """The division of a part by its cuts, which stand each before those of its two sides."""
    waiting = cuts[::-1]

    def grow(region: int) -> Tree:
        patches = tuple(patch for patch, bit in ground.bit.items() if bit & region)
        if not waiting or not all(ground.pair[e] & region == ground.pair[e] for e in waiting[-1].edges):
            return Tree(patches)
        cut = waiting.pop()
        one = ground.side(region, cut)
        first = grow(one)
        return Tree(patches, _cut(cut.edges, place), (first, grow(region & ~one)))

    return grow(ground.whole)


def _cut(edges: Sequence[int], place: dict[int, tuple[int, int]]) -> Cut:
    """The cut along some edges that follow each other on one seam."""
    positions = sorted(place[edge] for edge in edges)
    return Cut(positions[0][0], positions[0][1], positions[-1][1] + 1)
