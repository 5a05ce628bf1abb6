"""One network of ink with holes: the borders of the patches it encloses.

Knows:  which hole is a patch, how wide the ink is beside each of its sides.
Leaves: telling ink from patches (ink_outlines).
Units:  inches.
Method: a hole is a patch less half the ink on every side. Each side moves out by half the width of the ink beside
        it, measured to the nearest other border of the ink; the corners are where the moved sides meet. Where that
        gives no clean ring, the hole grows by half the usual width all round. A traced picture wobbles and rounds
        its corners: wobble below a third of the ink's width is straightened, and short sides that cut a corner off
        are left out, first of all.
Limits: a hole with a side that bends on and on is a curved seam: not read.
"""

from __future__ import annotations

import math
from itertools import pairwise

import shapely
from shapely.geometry import Polygon

from seamwright.drawing.areas import corners
from seamwright.drawing.pieces import Run
from seamwright.geometry import Point, along, signed_area

SAME_WIDTH = 0.4
"""Ink that differs by more from the usual width is measured across a junction: the usual width holds."""
LONG_MITRE = 100.0
WOBBLE = 1 / 3
"""As a share of the ink's width: what a border wobbles by less is straight."""
CUT_CORNER = 2.0
"""In widths: a side this short between longer ones is a corner cut off by tracing."""
FARTHEST_TIP = 30.0
"""In widths: how far a cut-off tip may reach."""
BENDS_DEG = 30.0
"""Two corners in a row that turn the same way by less are a curve."""
SAMPLES = (0.5, 0.25, 0.75)
"""Where along a side the ink's width is taken."""


def patch_borders(part: Polygon, *, has_curves: bool) -> list[Run] | None:
    """The closed borders of the patches between strokes; None if a stroke ends in the open or a side is curved.

    Args:
        part: ink, with holes.
        has_curves: some of its borders were drawn as curves: they count as straight only where they are.
    """
    ink = _Ink(part)
    holes = [(number, Polygon(ring)) for number, ring in enumerate(part.interiors, start=1)]
    runs: list[Run] = []
    for number, hole in sorted(holes, key=lambda pair: (pair[1].bounds[1], pair[1].bounds[0], pair[0])):
        if 2 * hole.area / hole.length < ink.width / 2:
            continue  # a crumb where strokes nearly meet
        grown = hole.buffer(ink.width / 2, join_style="mitre", mitre_limit=LONG_MITRE)
        back = grown.buffer(-ink.width / 2, join_style="mitre", mitre_limit=LONG_MITRE)
        slack = 2 * ink.width * ink.width + (WOBBLE * ink.width * hole.length / 4 if has_curves else 0)
        if grown.interiors or abs(back.area - hole.area) > slack:
            return None  # it would be swallowed without a word
        ring = _straightened(hole, ink.width)
        if len(ring) < 3:
            return None
        if has_curves and _bends_on(ring):
            return None
        ring = ink.moved_out(number, ring, hole) or corners(grown)
        runs.append(Run(tuple(pairwise([*ring, ring[0]])), closed=True))
    return runs or None


def _straightened(hole: Polygon, width: float) -> list[Point]:
    """Corners of a hole, clockwise as seen, without wobble and cut-off corners."""
    plain = hole.simplify(WOBBLE * width)
    ring = corners(plain if isinstance(plain, Polygon) and plain.is_valid else hole)
    if len(ring) < 3:
        return ring
    if signed_area(ring) < 0:
        ring.reverse()
    for _ in range(len(ring)):
        count = len(ring)
        short = next((k for k in range(count) if _cut_corner(ring, k, width)), None)
        if short is None or count <= 3:
            break
        a, b, c, d = (ring[(short + k) % count] for k in range(-1, 3))
        tip = _meet((a, b), (c, d))
        ring[short] = tip
        del ring[(short + 1) % count]
    return ring


def _cut_corner(ring: list[Point], k: int, width: float) -> bool:
    """Whether the side from corner `k` only cuts off the corner where its neighbours would meet."""
    a, b, c, d = (ring[(k + j) % len(ring)] for j in range(-1, 3))
    side, before, after = math.dist(b, c), math.dist(a, b), math.dist(c, d)
    if side > CUT_CORNER * width or min(before, after) < 2 * side:
        return False
    tip = _meet((a, b), (c, d))
    beyond = along(tip, a, b) - before, along(tip, d, c) - after
    return min(beyond) > -width and max(math.dist(tip, b), math.dist(tip, c)) < FARTHEST_TIP * width


def _bends_on(ring: list[Point]) -> bool:
    turns = []
    for a, b, c in zip(ring[-1:] + ring[:-1], ring, ring[1:] + ring[:1], strict=True):
        into, out = math.atan2(b[1] - a[1], b[0] - a[0]), math.atan2(c[1] - b[1], c[0] - b[0])
        turns.append((math.degrees(out - into) + 180) % 360 - 180)
    return any(
        one * two > 0 and max(abs(one), abs(two)) < BENDS_DEG
        for one, two in zip(turns, turns[1:] + turns[:1], strict=True)
    )


class _Ink:
    """The borders of a network and the width of its strokes."""

    def __init__(self, part: Polygon) -> None:
        self._rings = [part.exterior, *part.interiors]
        self._tree = shapely.STRtree(self._rings)
        self._reach = 4 * part.area / part.length + 1e-6  # twice the mean width
        samples: list[tuple[float, float]] = []
        for number, ring in enumerate(self._rings[1:], start=1):
            for a, b in pairwise(ring.coords):
                width = self._beside(number, a, b)
                if width is not None:
                    samples.append((width, math.dist(a, b)))
        self.width = _weighted_median(samples) or 2 * part.area / part.length

    def _beside(self, number: int, a: Point, b: Point) -> float | None:
        """Width of the ink beside a side of ring `number`; None if nothing lies near."""
        best: float | None = None
        for share in SAMPLES:
            spot = shapely.Point(a[0] + (b[0] - a[0]) * share, a[1] + (b[1] - a[1]) * share)
            for k in self._tree.query(spot.buffer(self._reach)):
                if k != number:
                    distance = self._rings[k].distance(spot)
                    best = distance if best is None else min(best, distance)
        return best

    def moved_out(self, number: int, ring: list[Point], hole: Polygon) -> list[Point] | None:
        """Corners of hole `number`, every side moved to the middle of the ink; None if that is no clean ring."""
        sides = []
        for a, b in pairwise([*ring, ring[0]]):
            length = math.dist(a, b)
            width = self._beside(number, a, b)
            if width is None or abs(width - self.width) > SAME_WIDTH * self.width:
                width = self.width
            # Clockwise as seen (y down): the outside is on the left hand, (uy, -ux).
            nx, ny = (b[1] - a[1]) / length * width / 2, -(b[0] - a[0]) / length * width / 2
            sides.append(((a[0] + nx, a[1] + ny), (b[0] + nx, b[1] + ny)))
        out = [_meet(before, side) for before, side in zip(sides[-1:] + sides[:-1], sides, strict=True)]
        moved = Polygon(out)
        least = hole.buffer(-self.width / 4, join_style="mitre")
        most = hole.buffer(self.width, join_style="mitre", mitre_limit=LONG_MITRE)
        return out if moved.is_valid and moved.contains(least) and most.contains(moved) else None


def _meet(one: tuple[Point, Point], two: tuple[Point, Point]) -> Point:
    """Where two neighbouring sides meet; halfway between their ends if they run alike."""
    (x1, y1), (x2, y2) = one
    (x3, y3), (x4, y4) = two
    ux, uy, vx, vy = x2 - x1, y2 - y1, x4 - x3, y4 - y3
    turn = ux * vy - uy * vx
    if abs(turn) < 0.01 * math.hypot(ux, uy) * math.hypot(vx, vy):
        return ((x2 + x3) / 2, (y2 + y3) / 2)
    t = ((x3 - x1) * vy - (y3 - y1) * vx) / turn
    return (x1 + t * ux, y1 + t * uy)


def _weighted_median(samples: list[tuple[float, float]]) -> float | None:
    """The value with half of the weight below it; None for no samples."""
    samples = sorted(samples)
    half = sum(weight for _, weight in samples) / 2
    for value, weight in samples:
        half -= weight
        if half <= 0:
            return value
    return None
