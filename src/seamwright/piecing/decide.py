"""Can it be sewn: cut until nothing more can be cut, and see what is left.

Knows:  which points cutting reaches, which edges it cuts, which patches stay together.
Leaves: how few sections (fewest), why it is stuck (explain).
Method: points of the outline are reached. Between two reached points of one seam all is reached and cut. Repeat.
        Any order of cuts ends here: a cut runs between two reached points of one seam, so nothing else is ever
        reached; and if the end were not closed, two neighbouring reached points on a seam with an uncut run
        between them would bound a cut of the part they lie in. So what is stuck is a fact of the drawing.
        This asks nothing of a seam but that the run between two reached points meets itself nowhere. Of a curve
        that does meet itself, such runs are cut and no others: more reached points only make them shorter, so what
        can be cut now still can later, and the order still does not count. (A closed curve through one reached
        point is no seam from end to end; through two it is two.)
Limits: time linear in the places on seams; on curves that meet themselves, in their square.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from itertools import pairwise

from seamwright.block.model import Seam
from seamwright.piecing.cuts import Cut
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
    looped = [not seam.straight and len(set(seam.points)) < len(seam.points) for seam in block.seams]
    work = [point for point in range(len(reached)) if reached[point]]

    def divide(run: Cut) -> None:
        for edge in run.edges(block):
            cut[edge] = 1
        for passed in run.points(block)[1:-1]:
            if not reached[passed]:
                reached[passed] = 1
                work.append(passed)

    while work:
        point = work.pop()
        for seam, position in seams.places[point]:
            if not allowed[seam]:
                continue
            if looped[seam]:
                for run in _runs_between(seams, seam, reached):
                    if not cut[run.edges(block)[0]]:
                        divide(run)
                continue
            first, last = low[seam], high[seam]
            if first < 0:
                low[seam] = high[seam] = position
            elif position < first:
                low[seam] = position
                divide(Cut(seam, position, first))
            elif position > last:
                high[seam] = position
                divide(Cut(seam, last, position))
    stuck = [part for part in seams.parts(cut) if len(part) > 1 or block.patches[part[0]].holes]
    return Decision(reached, cut, tuple(map(tuple, stuck)))


def _runs_between(seams: SeamMap, seam: int, reached: bytearray) -> list[Cut]:
    """The runs of a seam from one reached point to the next that meet themselves nowhere."""
    points = seams.block.seams[seam].points
    places = [place for place, point in enumerate(points) if reached[point]]
    if seams.is_closed(seam) and places and not reached[points[0]]:
        places.append(places[0] + len(points) - 1)
    return [Cut(seam, a, b) for a, b in pairwise(places) if seams.is_simple(seam, a, b)]
