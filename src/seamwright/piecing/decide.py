"""Can it be sewn: cut until nothing more can be cut, and see what is left.

Knows:  which points cutting reaches, which edges it cuts, which patches stay together.
Leaves: how few sections (fewest), why it is stuck (explain).
Method: points of the outline are reached. Between two reached points of one seam all is reached and cut. Repeat.
        Any order of cuts ends here: a cut runs between two reached points of one seam, so nothing else is ever
        reached; and if the end were not closed, two neighbouring reached points on a seam with an uncut run
        between them would bound a cut of the part they lie in. So what is stuck is a fact of the drawing.
Limits: time linear in the places on seams. A seam must meet itself nowhere.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

from seamwright.block.model import Seam
from seamwright.piecing.seammap import SeamMap


@dataclass(frozen=True, slots=True)
class Decision:
    """What cutting reaches.

    Attributes:
        reached: for each point, whether it ends on the border of some part.
        cut: for each edge, whether it is cut.
        stuck: the parts of several patches (or of one that something floats in) that no cut divides.
    """

    reached: bytearray
    cut: bytearray
    stuck: tuple[tuple[int, ...], ...]


def decide(seams: SeamMap, may_cut: Callable[[Seam], bool] = lambda seam: seam.straight) -> Decision:
    """Cut along every seam that `may_cut` allows, as far as cutting goes."""
    block = seams.block
    reached = bytearray(seams.on_outline)
    cut = bytearray(len(block.edges))
    low, high = [-1] * len(block.seams), [-1] * len(block.seams)
    allowed = [may_cut(seam) for seam in block.seams]
    work = [point for point in range(len(reached)) if reached[point]]
    while work:
        point = work.pop()
        for seam, position in seams.places[point]:
            if not allowed[seam]:
                continue
            first, last = low[seam], high[seam]
            if first < 0:
                low[seam] = high[seam] = position
                continue
            if position < first:
                low[seam], start, end = position, position, first
            elif position > last:
                high[seam], start, end = position, last, position
            else:
                continue
            for edge in block.seams[seam].edges[start:end]:
                cut[edge] = 1
            for passed in block.seams[seam].points[start + 1 : end]:
                if not reached[passed]:
                    reached[passed] = 1
                    work.append(passed)
    stuck = [part for part in seams.parts(cut) if len(part) > 1 or block.patches[part[0]].holes]
    return Decision(reached, cut, tuple(map(tuple, stuck)))
