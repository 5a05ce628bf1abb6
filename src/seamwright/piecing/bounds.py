"""Lower bounds on joins: how few any plan of a region can need, without searching its plans.

Knows:  the parity bound (below) and a cheap one, put together; which crossings each seam would win at that bound.
Leaves: plans (fewest, hurried).
Method: take any plan of a region, its steps inside foundations included: a tree of cuts. Each inner point is an
        inner point of exactly one cut, the first through it. The run of seam that this cut keeps to *wins* the
        point; every other run through it, or ending at it, loses it. On the region's border all lose. A cut ends
        where its run loses, hence the cuts with inner points are the stretches of wins between two losses. A cut
        through a point to match is a join (never a step, for that needs one whole patch on one side).

        So call a run's state at an inner point 1 if it wins that point by a join through some point to match, else
        0; on the border it is 0. Along each run the state changes twice for each such join: joins >= changes / 2.

        Now walk round a patch. Along an edge the state changes or not. At a corner the walk goes over from one
        run to another, and the state *flips* if one of the two has state 1 there. Back at the start the state is
        what it was, so round every patch changes and flips are even together. How many corners flip is known:
        - two runs go through the point and none ends there: one of the two wins, by a join; so all four corners
          flip, in every plan;
        - one run goes through and others end at it from both sides: it wins, by a join; the corners beside it
          flip, those between two that end do not;
        - one goes through and others end at it from one side only: it wins, but perhaps by a step. Then the two
          corners beside it on that side flip both or neither;
        - more runs go through: two corners beside a stretch of one of these flip both or neither (other corners
          do as well; what is not said here only weakens the bound).
        "Both or neither" is a way from one patch to the other that costs nothing. Hence the changes are edges of
        the graph of patches (two are neighbours over an edge with an inner point of the region on it; the state
        cannot change between two points of the border), and the patches in which an odd number of edges change
        are those with an odd number of flips: the changes are a T-join. The least T-join (J. Edmonds, E. L.
        Johnson, "Matching, Euler tours and the Chinese postman", Mathematical Programming 5, 1973) is a least
        perfect matching of the odd patches by their distances, so joins >= half of it, rounded up.

        Nothing here asks for a convex outline, whole lines or straight seams. With whole lines, two through each
        point, the T-join is the least over all ways to say who wins, rings of seams that wait for each other
        included; only these make the optimum larger.

        Seams known to carry a join ("sure": alone through a point to match), and disjoint pairs of seams of which
        one must (they cross at a point to match), may be counted outright instead, if their edges then cost
        nothing in the T-join. The larger number counts.
Limits: matching takes time in the order of the square of the odd patches, if they lie far apart; usually they lie
        close. Limits set by the sewer only add sections, so the bounds hold for them too.
"""

from __future__ import annotations

from collections import deque
from dataclasses import dataclass, field

from seamwright.piecing.part import Part, Region, bits

NEAR = 4
"""Odd patches further apart than this are matched only where a matching of near ones leaves some over."""


@dataclass(slots=True)
class _Place:
    """What the T-join needs to know of one inner point.

    Attributes:
        edges: (patch, patch, edge) over each edge that ends here; patches as bits' places.
        flips: patches with an odd number of corners here that flip in every plan.
        ways: (patch, patch) pairs that flip both or neither.
        through: runs through it, if it is a point to match.
    """

    edges: list[tuple[int, int, int]] = field(default_factory=list)
    flips: list[int] = field(default_factory=list)
    ways: list[tuple[int, int]] = field(default_factory=list)
    through: list[int] = field(default_factory=list)


class Bounds:
    """Lower bounds for the regions of one part, each found once."""

    def __init__(self, part: Part) -> None:
        self.part = part
        self.run_of: list[int] = []  # run of each edge, edges numbered from 0 run by run
        self.places = self._places()
        self._known: dict[int, int] = {0: 0}
        self._edges: dict[int, list[int]] = {}  # of least T-joins

    def _places(self) -> list[_Place]:
        part, block = self.part, self.part.seams.block
        places = [_Place() for _ in part.points]
        run_of: dict[int, int] = {}
        rays: dict[tuple[int, int], list[tuple[int, int]]] = {}  # (point, run through it) -> patches beside it
        for run in part.runs:
            seam = block.seams[run.seam]
            for place, step in enumerate(run.steps, start=run.start):
                run_of[seam.edges[place]] = run.number
                number = len(self.run_of)
                self.run_of.append(run.number)
                left, right = (bit.bit_length() - 1 for bit in bits(step))
                for point in seam.points[place : place + 2]:
                    bit = part.point_bit.get(point, 0)
                    if bit:
                        places[bit.bit_length() - 1].edges.append((left, right, number))
                    if bit & run.points:
                        rays.setdefault((bit, run.number), []).append((left, right))
        through: list[list[int]] = [[] for _ in places]
        for run in part.runs:
            for bit in bits(run.points):
                through[bit.bit_length() - 1].append(run.number)
        corners: list[list[tuple[int, int, int]]] = [[] for _ in places]  # (patch, run before, run after)
        for number, patch in enumerate(part.patches):
            ring, edges = block.patches[patch].ring, block.patches[patch].edges
            for at, point in enumerate(ring):
                bit = part.point_bit.get(point, 0)
                if bit:
                    before, after = run_of[edges[at - 1]], run_of[edges[at]]
                    if before != after:
                        corners[bit.bit_length() - 1].append((number, before, after))
        for index, found in enumerate(places):
            bit, winners = 1 << index, through[index]
            one = part.runs[winners[0]]
            beside = [patch for patch, before, after in corners[index] if (before in winners) != (after in winners)]
            both = [patch for patch, before, after in corners[index] if before in winners and after in winners]
            if len(winners) == 1 and not (bit & one.from_left and bit & one.from_right):
                found.ways = [(beside[0], beside[1])] if len(beside) == 2 else []
                continue
            found.through = winners
            if len(winners) == 1:
                found.flips = beside
            elif len(winners) == 2 and not beside:
                found.flips = both
            else:
                found.ways = [pair for run in winners for pair in rays[bit, run]]
        return places

    def wins(self, inside: int) -> dict[int, int]:
        """For each run the bits of the points that it wins in a way to have the fewest changes.

        Such a way may hold rings of seams that wait for each other, so it need not be a plan.
        """
        edges = self._edges.get(inside)
        if edges is None:
            _, edges = self.least_t_join(inside)
        changed = bytearray(len(self.run_of))
        for edge in edges:
            changed[edge] = 1
        return self._states(changed, inside)

    def _states(self, changed: bytearray, inside: int) -> dict[int, int]:
        won, part, first = {}, self.part, 0
        for run in part.runs:
            if run.points & inside:
                points = part.seams.block.seams[run.seam].points
                state = 0
                bits_won = 0
                for place in range(run.start + 1, run.end):
                    state ^= changed[first + place - run.start - 1]
                    if state:
                        bits_won |= part.point_bit[points[place]]
                won[run.number] = bits_won & inside
            first += len(run.steps)
        return won

    def joins(self, region: Region) -> int:
        """No plan of the region has fewer joins."""
        inside = region.inside
        found = self._known.get(inside)
        if found is None:
            sure, pairs = self.sure(inside)
            found = max(len(sure) + len(pairs), half(self.changes(inside)))
            for counted in (
                [sure, sure | {run for pair in pairs for run in pair}] if sure or found == len(pairs) else []
            ):
                more = len(sure) + (len(pairs) if len(counted) > len(sure) else 0)
                found = max(found, more + half(self.changes(inside, counted)))
            self._known[inside] = found
        return found

    def sure(self, inside: int) -> tuple[set[int], list[tuple[int, ...]]]:
        """(runs that carry a join in every plan, disjoint sets of other runs of each of which one does)."""
        holders = [self.places[bit.bit_length() - 1].through for bit in bits(inside & self.part.to_match)]
        sure = {runs[0] for runs in holders if len(runs) == 1}
        taken = set(sure)
        pairs = []
        for runs in holders:
            if runs and not any(run in taken for run in runs):
                taken.update(runs)
                pairs.append(tuple(runs))
        return sure, pairs

    def changes(self, inside: int, counted: set[int] | frozenset[int] = frozenset()) -> int:
        """The fewest changes of state in any plan of a region, on runs that are not counted otherwise."""
        return self.least_t_join(inside, counted)[0]

    def least_t_join(self, inside: int, counted: set[int] | frozenset[int] = frozenset()) -> tuple[int, list[int]]:
        """(its size, its edges): for a region with these inner points, edges of `counted` runs for nothing.

        Edges for nothing are left out of the list.
        """
        import rustworkx

        graph = _Graph(self, inside, counted)
        near = NEAR
        while graph.odd:
            pairs = rustworkx.PyGraph(multigraph=False)
            pairs.add_nodes_from(range(len(graph.odd)))
            # A pair further apart than `near` costs more than that; if none is left over, none is needed.
            pairs.add_edges_from([(i, j, near + 1 - far) for i, j, far in graph.pairs(near)])
            matched = rustworkx.max_weight_matching(pairs, weight_fn=int, default_weight=0)
            if 2 * len(matched) == len(graph.odd):
                size = sum(near + 1 - pairs.get_edge_data(i, j) for i, j in matched)
                edges = graph.edges_between(sorted((min(pair), max(pair)) for pair in matched))
                if not counted:
                    self._edges[inside] = edges
                return size, edges
            near *= 2
        return 0, []


class _Graph:
    """The patches round the inner points of a region: neighbours over edges, ways for nothing taken together."""

    def __init__(self, bounds: Bounds, inside: int, counted: set[int] | frozenset[int]) -> None:
        places = [bounds.places[bit.bit_length() - 1] for bit in bits(inside)]
        self._leader: dict[int, int] = {}
        run_of = bounds.run_of
        for place in places:
            for one, two in place.ways:
                self._unite(one, two)
            if counted:
                for one, two, edge in place.edges:
                    if run_of[edge] in counted:
                        self._unite(one, two)
        odd: dict[int, None] = {}
        self.around: dict[int, dict[int, int]] = {}
        for place in places:
            for patch in place.flips:
                node = self._root(patch)
                if node in odd:
                    del odd[node]
                else:
                    odd[node] = None
            for one, two, edge in place.edges:
                a, b = self._root(one), self._root(two)
                if a != b:
                    self.around.setdefault(a, {}).setdefault(b, edge)
                    self.around.setdefault(b, {}).setdefault(a, edge)
        self.odd = sorted(odd)

    def _root(self, patch: int) -> int:
        leader = self._leader
        while patch in leader:
            patch = leader[patch]
        return patch

    def _unite(self, one: int, two: int) -> None:
        a, b = self._root(one), self._root(two)
        if a != b:
            self._leader[max(a, b)] = min(a, b)

    def pairs(self, near: int) -> list[tuple[int, int, int]]:
        """(i, j, distance) of all odd patches i < j at most `near` apart."""
        numbers = {patch: i for i, patch in enumerate(self.odd)}
        found = []
        for i, start in enumerate(self.odd):
            seen, ring = {start}, [start]
            for far in range(1, near + 1):
                onward = []
                for patch in ring:
                    for other in self.around[patch]:
                        if other not in seen:
                            seen.add(other)
                            onward.append(other)
                            j = numbers.get(other, -1)
                            if j > i:
                                found.append((i, j, far))
                if not onward:
                    break
                ring = onward
        return found

    def edges_between(self, matched: list[tuple[int, int]]) -> list[int]:
        """The edges of shortest ways between matched odd patches; one that two ways share falls out."""
        edges: dict[int, None] = {}
        for i, j in matched:
            start, goal = self.odd[i], self.odd[j]
            before = {start: start}
            waiting = deque([start])
            while goal not in before:
                patch = waiting.popleft()
                for other in self.around[patch]:
                    if other not in before:
                        before[other] = patch
                        waiting.append(other)
            while goal != start:
                edge = self.around[goal][before[goal]]
                if edge in edges:
                    del edges[edge]
                else:
                    edges[edge] = None
                goal = before[goal]
        return list(edges)


def half(changes: int) -> int:
    """Half of a number of changes, rounded up."""
    return (changes + 1) // 2
