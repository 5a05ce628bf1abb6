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

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace

from seamwright.block.model import OUTLINE, Block, Seam
from seamwright.options import PlanOptions
from seamwright.piecing.budget import Budget, Progress
from seamwright.piecing.facts import Facts
from seamwright.piecing.forced import forced_cuts
from seamwright.piecing.seammap import SeamMap
from seamwright.piecing.setin_ground import Bent, Ground
from seamwright.piecing.setin_search import Bends, bends

STEPS_PER_CUT = 10
"""A bent cut is looked at as slowly as this many regions of the plain search."""


@dataclass(frozen=True, slots=True)
class SetIn:
    """A block whose stuck parts are freed by seams that turn.

    Attributes:
        seams: the seam map of the block with these seams; points, edges and patches keep their numbers.
        turns: most turns in one join. freed: points at which a seam is sewn in two goes.
        proven: that neither can be fewer.
        at_least: proven lower bound on sections, whatever other seams free as much with as few freed points and
            turns. short: by how much such a bound may lie below what is proven for these seams.
    """

    seams: SeamMap
    turns: int
    freed: int
    proven: bool
    at_least: int
    short: int


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
    """The seams that free what is stuck, for the best division.

    Args:
        seams: of a block in which nothing floats.
        may_be_section: a limit on sections of several patches (by patch number) that holds for parts of what it
            holds for.
    """
    block = seams.block
    budget = Budget(max(1, options.steps // STEPS_PER_CUT), options.seconds, progress)
    lengths = Facts(seams).lengths
    found: list[Bends] = []
    parts = forced_cuts(seams).parts
    for patches in parts:
        ground = Ground(seams, patches)
        if ground.stuck(ground.whole, turns=0):
            found.append(bends(ground, _limited(ground, may_be_section), lengths, budget))
    cuts = [cut for part in found for cut in part.cuts if cut.turns]
    return SetIn(
        seams=SeamMap(turned(block, cuts), mirrored=seams.mirrored),
        turns=max((part.turns for part in found), default=0),
        freed=sum(part.freed for part in found),
        proven=all(part.proven for part in found),
        at_least=len(parts) - len(found) + sum(part.at_least for part in found),
        short=sum(len(part.cuts) + 1 - part.at_least for part in found),
    )


def turned(block: Block, cuts: Sequence[Bent]) -> Block:
    """The block with a seam along each of the cuts; what is left of other seams ends there.

    Args:
        cuts: no edge lies in two of them.
    """
    taken = {edge for cut in cuts for edge in cut.edges}
    found = [Seam(cut.points, cut.edges, False, cut.turns) for cut in cuts]
    for seam in block.seams:
        points, edges = seam.points, seam.edges
        if points[0] == points[-1] and not taken.isdisjoint(edges):
            # What is left of a closed curve runs on through the point at which its list begins.
            after = next(place for place, edge in enumerate(edges) if edge in taken) + 1
            points, edges = (*points[after:-1], *points[: after + 1]), (*edges[after:], *edges[:after])
        start = 0
        for place in range(len(edges) + 1):
            if place == len(edges) or edges[place] in taken:
                if place > start:
                    found.append(Seam(points[start : place + 1], edges[start:place], seam.straight))
                start = place + 1
    number = {edge: n for n, seam in enumerate(found) for edge in seam.edges}
    renamed = tuple(replace(edge, seam=number.get(e, OUTLINE)) for e, edge in enumerate(block.edges))
    return replace(block, seams=tuple(found), edges=renamed)


def _limited(ground: Ground, may_be_section: Callable[[tuple[int, ...]], bool]) -> Callable[[int], bool]:
    def is_section(region: int) -> bool:
        patches = tuple(patch for patch, bit in ground.bit.items() if bit & region)
        return len(patches) == 1 or (ground.is_foundation(region) and may_be_section(patches))

    return is_section
