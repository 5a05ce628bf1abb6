"""What hangs on a point that moves: seams stay straight and turn, what ends on them or crosses them slides along.

Knows:  the far ends of seams, what a point can slide along, all places that change by a move; when the patches are
        no longer the same, or too narrow.
Leaves: which moves are worth a try (move).
Units:  inches.
Limits: points on curves stay; a seam that turns carries other seams with it, up to MOST_MOVED points in all.
"""

from __future__ import annotations

import math

from seamwright.geometry import Point, Segment, along, foot, off_line, signed_area
from seamwright.mend.change import NARROWEST_IN, narrowest
from seamwright.piecing.seammap import SeamMap

STEEPEST = math.sin(math.radians(6))
"""Moves beyond 1/4 in turn no seam by more than 6 degrees: among small patches 3 % of a large block is a lot."""
MOST_MOVED = 60

Moves = dict[int, Point]


class Mover:
    """Moves points of one block and lets what hangs on them slide along."""

    def __init__(self, seams: SeamMap, far_away: float) -> None:
        self.seams, self.block = seams, seams.block
        self.ends: list[list[int]] = [[] for _ in self.block.points]
        for number, seam in enumerate(self.block.seams):
            if seam.straight and seam.points[0] != seam.points[-1]:
                for point in (seam.points[0], seam.points[-1]):
                    self.ends[point].append(number)
        self.curved = {p for seam in self.block.seams if not seam.straight for p in seam.points}
        self.far_away = far_away

    def far(self, seam: int, point: int) -> int:
        """The other end of a seam."""
        run = self.block.seams[seam].points
        return run[-1] if run[0] == point else run[0]

    def at(self, pair: tuple[int, int]) -> Segment:
        """Two points as a segment."""
        return self.block.points[pair[0]], self.block.points[pair[1]]

    def line(self, seam: int) -> Segment:
        """A seam from end to end."""
        run = self.block.seams[seam].points
        return self.at((run[0], run[-1]))

    def rails(self, point: int) -> list[Segment]:
        """What a point can slide along: the one side of the outline or the one seam that it lies on."""
        if self.seams.on_outline[point]:
            ring, sides = self.block.outline, self.block.outline_edges
            k = ring.index(point)
            if any(self.block.edges[sides[side]].via for side in (k - 1, k)):
                return []  # a curved side, though the points beside may lie on one line with it
            before, after = self.block.points[ring[k - 1]], self.block.points[ring[(k + 1) % len(ring)]]
            here = self.block.points[point]
            straight = abs(off_line(here, before, after)) <= 1e-6 and along(here, before, after) > 0
            return [(before, after)] if straight else []
        through = self.seams.through[point]
        return [self.line(through[0])] if len(through) == 1 else []

    # -- what slides along ------------------------------------------------------------------------------

    def slide(self, move: Moves) -> Moves | None:
        """All places that change by a move; None if seams could not stay straight."""
        new = dict(move)
        work = list(move)
        turned: dict[int, None] = {}
        while work:
            point = work.pop()
            if point in self.curved or len(new) > MOST_MOVED:
                return None
            for number, _ in self.seams.places[point]:
                turned[number] = None
                run = self.block.seams[number].points
                if point not in (run[0], run[-1]):
                    continue
                for inner in run[1:-1]:
                    if inner in move:
                        continue
                    to = self._slid(inner, number, new)
                    if to is None or math.dist(to, self.block.points[inner]) > self.far_away:
                        return None
                    before = new.get(inner, self.block.points[inner])
                    if math.dist(to, before) > 1e-9:
                        if inner in new:
                            return None
                        new[inner] = to
                        work.append(inner)
        return new if all(self._is_straight(number, new) for number in turned) else None

    def _slid(self, point: int, seam: int, new: Moves) -> Point | None:
        """Where a point inside a seam goes when the seam turns."""
        line = self._now(seam, new)
        others = [n for n, _ in self.seams.places[point] if n != seam]
        through = [n for n in others if n in self.seams.through[point]]
        if self.seams.on_outline[point] or len(through) > 1 or math.dist(*line) < 1e-9:
            return None
        if through:
            return meet(line, self._now(through[0], new))
        if len(others) == 1:
            end = self.block.points[self.far(others[0], point)]
            return meet(line, (end, self.block.points[point]))
        return foot(self.block.points[point], *line)

    def _now(self, seam: int, new: Moves) -> Segment:
        run = self.block.seams[seam].points
        a, b = (new.get(p, self.block.points[p]) for p in (run[0], run[-1]))
        return a, b

    def _is_straight(self, seam: int, new: Moves) -> bool:
        """Whether all points of a seam lie on it, in their order; a seam closed up to a point is none any more."""
        run = [new.get(p, self.block.points[p]) for p in self.block.seams[seam].points]
        a, b = run[0], run[-1]
        if math.dist(a, b) < 1e-9:
            return len(run) == 2
        places = [along(p, a, b) for p in run]
        return all(abs(off_line(p, a, b)) <= 1e-7 for p in run) and places == sorted(places)

    # -- what must stay ---------------------------------------------------------------------------------

    def keeps_patches(self, new: Moves) -> bool:
        """Whether every patch beside a moved point is still there, and not too narrow to sew."""
        touched = dict.fromkeys(patch for point in new for patch in self.seams.fans[point])
        return all(self._keeps(patch, new) for patch in touched)

    def keeps(self, new: Moves) -> bool:
        """Whether seams stay straight, patches stay there, and no point goes too far."""
        touched = dict.fromkeys(number for point in new for number, _ in self.seams.places[point])
        near = all(math.dist(self.block.points[p], to) <= self.far_away for p, to in new.items())
        return near and all(self._is_straight(n, new) for n in touched) and self.keeps_patches(new)

    def turns_little(self, new: Moves) -> bool:
        """Whether no seam is turned much."""
        for number in dict.fromkeys(seam for point in new for seam in self.ends[point]):
            (ax, ay), (bx, by) = self.line(number)
            (cx, cy), (dx, dy) = self._now(number, new)
            ux, uy, vx, vy = bx - ax, by - ay, dx - cx, dy - cy
            if abs(ux * vy - uy * vx) > STEEPEST * math.hypot(ux, uy) * math.hypot(vx, vy):
                return False
        return True

    def _keeps(self, patch: int, new: Moves) -> bool:
        before = [self.block.points[p] for p in self.block.patches[patch].ring]
        after = _without_repeats([new.get(p, self.block.points[p]) for p in self.block.patches[patch].ring])
        if len(after) < 3 or signed_area(after) <= 0:
            return False
        from shapely import Polygon

        holes = [[new.get(p, self.block.points[p]) for p in hole] for hole in self.block.patches[patch].holes]
        if not Polygon(after, holes).is_valid:
            return False
        least = min(NARROWEST_IN, narrowest(before))
        return narrowest(after) >= least - 1e-9


def _without_repeats(ring: list[Point]) -> list[Point]:
    return [p for before, p in zip(ring[-1:] + ring[:-1], ring, strict=True) if p != before]


def meet(one: Segment, other: Segment) -> Point | None:
    """Where two lines meet; None if they run nearly side by side."""
    (ax, ay), (bx, by) = one
    (cx, cy), (dx, dy) = other
    ux, uy, vx, vy = bx - ax, by - ay, dx - cx, dy - cy
    cross = ux * vy - uy * vx
    if abs(cross) <= 1e-3 * math.hypot(ux, uy) * math.hypot(vx, vy):
        return None
    share = ((cx - ax) * vy - (cy - ay) * vx) / cross
    return (ax + share * ux, ay + share * uy)
