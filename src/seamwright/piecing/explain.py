"""Why a drawing is stuck, in a sewer's words.

Knows:  for each stuck region its kind, the points to look at, and one sentence.
Leaves: whether it is stuck (decide): the seam graph explains, it does not decide, because a ring may be split by
        another cut; here every region is known to be stuck.
Method: inside one stuck region the nodes of the seam graph are the pieces of seams there. A piece that ends on the
        side of another waits for it. If every inner point has a seam straight through, then every piece has an end
        inside (or it would be a cut), so following these ends closes a ring. A point that no seam runs straight
        through stops every cut by itself: a Y, an inside corner, a corner of an island. So does a curve that closes
        on itself: it has no ends for a cut to run between.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from typing import TYPE_CHECKING

from seamwright.block.model import OUTLINE, Block
from seamwright.geometry import Point, signed_area
from seamwright.options import Units
from seamwright.piecing.decide import Decision
from seamwright.piecing.model import Obstruction
from seamwright.piecing.seammap import SeamMap
from seamwright.piecing.shapes import corners
from seamwright.units import say_list, say_point

if TYPE_CHECKING:
    import networkx as nx

MOST_NAMED = 6
"""Patches or places named in one sentence; of more, the first few and how many in all."""


def explain(seams: SeamMap, decision: Decision, names: Sequence[str], units: Units) -> tuple[Obstruction, ...]:
    """One obstruction for each stuck region.

    Args:
        decision: what cutting along straight seams, and along curves if the block has any, leaves.
        names: of each patch, for the sentence.
    """
    found: list[Obstruction] = []
    for number, region in enumerate(decision.stuck, start=1):
        stuck, say = StuckRegion(seams, decision, region), _Words(seams.block, names, region, units)
        kind, points, why = stuck.cornered(say) or stuck.closed_curve(say) or stuck.ring(say)
        found.append(Obstruction(number, kind, region, points, why))
    return tuple(found)


Finding = tuple[str, tuple[int, ...], str]
"""(kind, points to look at, sentence)."""


class _Words:
    """Names and places as a sewer reads them."""

    def __init__(self, block: Block, names: Sequence[str], patches: Sequence[int], units: Units) -> None:
        self.block, self.units = block, units
        curved = any(not block.seams[block.edges[e].seam].straight for p in patches for e in _seam_edges(block, p))
        self.seam = "a seam from edge to edge" if curved else "a straight seam"
        self.patches = say_list([names[patch] for patch in patches], most=MOST_NAMED)

    def place(self, point: Point) -> str:
        """One place, as in `places`."""
        return f"{say_point(point, self.units)} {self.units.sign} from the top left corner"

    def places(self, points: Sequence[int]) -> str:
        """Points as "(2 1/2, 3) in from the top left corner"; lengths across, then down."""
        from_corner = f" {self.units.sign} from the top left corner"
        shown = [say_point(self.block.points[point], self.units) for point in points[:MOST_NAMED]]
        if len(points) > MOST_NAMED:
            return f"{', '.join(shown)}{from_corner} and {len(points) - MOST_NAMED} more places"
        return f"{say_list(shown)}{from_corner}"


class StuckRegion:
    """One region that is stuck under a decision."""

    def __init__(self, seams: SeamMap, decision: Decision, patches: tuple[int, ...]) -> None:
        self.seams, self.block, self.patches = seams, seams.block, patches
        inside = set(patches)
        # Uncut edges between two patches of the region.
        self.edges = [
            number
            for number in sorted({e for patch in patches for e in self.block.patches[patch].edges})
            if not decision.cut[number] and inside.issuperset(seams.beside(number))
        ]
        ends = {p for e in self.edges for p in (self.block.edges[e].start, self.block.edges[e].end)}
        self.inner = _highest_first(self.seams, (p for p in ends if not decision.reached[p]))
        self.reached = decision.reached

    def closed_curve(self, say: _Words) -> Finding | None:
        """What the largest curve does that closes on itself and is not cut, if there is one."""
        inside = set(self.edges)
        closed = [
            seam
            for number, seam in enumerate(self.block.seams)
            if self.seams.is_closed(number) and inside.issuperset(seam.edges)
        ]
        if not closed:
            return None
        seam = max(closed, key=lambda seam: len(seam.points))
        points = tuple(_highest_first(self.seams, seam.points[:-1]))
        why = (
            f"The curve through {say.places(points)} closes on itself and no seam runs through it, so patches "
            f"{say.patches} cannot be parted by a seam from edge to edge: it would be set in all the way round."
        )
        return "curve", points, why

    def cornered(self, say: _Words) -> Finding | None:
        """What the points that no seam runs straight through do, if there are any."""
        points = [p for p in self.inner if p in self.seams.no_seam_through]
        # A round island has no corners.
        island = self._island(points) or self._island(self.inner)
        if island:
            part = f"The part with its corners at {say.places(island)}"
            if len(island) <= 2:
                # A round one is found by its middle; points on its border are only where it was drawn from.
                part = f"The part round {say.place(self._middle_of_hole(island))}"
            why = (
                f"{part} floats inside another patch, and no seam runs from it to the edge; "
                f"so patches {say.patches} cannot be parted by {say.seam}."
            )
            return "island", tuple(island), why
        if not points:
            return None
        bends = self._inside_corners(set(points))
        if bends:
            why = (
                f"A patch has an inside corner at {say.places(bends)}, where the seam would have to turn; "
                f"so patches {say.patches} cannot be parted by {say.seam}."
            )
            return "inside corner", tuple(bends), why
        there = "no seam runs straight on there" if len(points) == 1 else "no seam runs straight on at any of these"
        why = (
            f"Seams meet at {say.places(points)}, and {there}; "
            f"so patches {say.patches} cannot be parted by {say.seam}."
        )
        return "no seam straight through", tuple(points), why

    def ring(self, say: _Words) -> Finding:
        """A shortest ring of pieces of seam of which each ends on the side of the next."""
        graph = self.seam_graph()
        ring = _shortest_ring(graph)
        around = [graph.edges[a, b]["at"] for a, b in zip(ring, ring[1:] + ring[:1], strict=True)]
        first = around.index(_highest_first(self.seams, around)[0])
        points = (*around[first:], *around[:first])
        why = (
            f"Patches {say.patches} lock one another: {len(ring)} seams run in a ring round {say.places(points)}, "
            "each ending on the side of the next, so none of them can be sewn from end to end before the others."
        )
        return "ring of seams", points, why

    def _island(self, points: list[int]) -> list[int]:
        """Those of `points` that are corners of the largest part floating in one of the region's patches."""
        holes = [
            (abs(signed_area(ring)), hole)
            for patch in self.patches
            for hole, ring in zip(self.block.patches[patch].holes, self.block.patch_holes(patch), strict=True)
        ]
        if not holes:
            return []
        _, largest = max(holes, key=lambda found: found[0])
        return [p for p in points if p in largest]

    def _middle_of_hole(self, points: list[int]) -> Point:
        """The middle of the box round the hole on which points lie."""
        rings = [
            ring
            for patch in self.patches
            for ring, hole in zip(self.block.patch_holes(patch), self.block.patches[patch].holes, strict=True)
            if set(points) <= set(hole)
        ]
        across, down = zip(*rings[0], strict=True)
        return ((min(across) + max(across)) / 2, (min(down) + max(down)) / 2)

    def _inside_corners(self, points: set[int]) -> list[int]:
        found = {
            p for patch in self.patches for p, angle in corners(self.block, patch) if angle > 180 and p in points
        }
        return [p for p in self.inner if p in found]

    def _place(self, one: int, other: int) -> tuple[tuple[int, int], ...]:
        """Where a piece lies: its ends as (row, column), the higher one first."""
        return tuple(sorted((self.seams.reading[one], self.seams.reading[other])))

    def seam_graph(self) -> nx.DiGraph[int]:
        """Pieces of seams as nodes; an edge from each piece to every piece it ends on, with the point."""
        import networkx as nx

        left = set(self.edges)
        graph: nx.DiGraph[int] = nx.DiGraph()
        through: dict[int, list[int]] = {}
        ends: list[tuple[int, int]] = []
        for seam in dict.fromkeys(self.block.edges[e].seam for e in self.edges):
            run = self.block.seams[seam]
            start = None
            for place in range(len(run.points)):
                goes_on = place < len(run.edges) and run.edges[place] in left
                if start is not None and (not goes_on or self.reached[run.points[place]]):
                    node = graph.number_of_nodes()
                    graph.add_node(node, place=self._place(run.points[start], run.points[place]))
                    ends += [(node, run.points[p]) for p in (start, place) if not self.reached[run.points[p]]]
                    for point in run.points[start + 1 : place]:
                        through.setdefault(point, []).append(node)
                    start = None
                if start is None and goes_on:
                    start = place
        for node, point in ends:
            for other in through.get(point, []):
                graph.add_edge(node, other, at=point)
        return graph


def _shortest_ring(graph: nx.DiGraph[int]) -> list[int]:
    """Nodes of a shortest directed ring; among equals the one through the highest, then leftmost piece."""
    import networkx as nx

    best: list[int] = []
    for node in sorted(graph, key=lambda n: graph.nodes[n]["place"]):
        # A ring through this node is a way from it to one of the pieces that wait for it.
        reach = len(best) - 2 if best else None
        ways = nx.single_source_shortest_path(graph, node, cutoff=reach)
        closing = [ways[before] for before in graph.predecessors(node) if before in ways]
        if closing:
            best = min(closing, key=len)
    if not best:
        raise AssertionError("a stuck region without a ring and without a point that stops every seam")
    return best


def _highest_first(seams: SeamMap, points: Iterable[int]) -> list[int]:
    """Points from top to bottom, those of one height from left to right."""
    return sorted(points, key=seams.reading.__getitem__)


def _seam_edges(block: Block, patch: int) -> list[int]:
    return [e for e in block.patches[patch].edges if block.edges[e].seam != OUTLINE]
