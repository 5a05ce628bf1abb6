"""How large squares and rectangles are cut with a ruler, so that what is sewn of them has its finished size.

Knows:  rectangles, half-square and quarter-square triangles, units sewn two, four and eight at a time, stitched
        corners, half-rectangle triangles, setting triangles; which finished shapes a ruler cuts at all.
Leaves: which patches make a unit (units), what is said of it (foundation.purpose), how much fabric it takes
        (cutting).
Units:  inches; front view.
Method: a triangle whose legs lie on the straight grain is half of a square cut once corner to corner, one whose
        long side lies on it a quarter of a square cut twice: so no outer edge of a block is on the bias. What is
        added to the finished size is common practice in inches, and holds at 1/4 in allowance only. At any other an
        allowance s adds, by geometry, 2s to a square, s(2 + sqrt 2) to the short side of a half-square triangle,
        s(2 + 2 sqrt 2) to the long side of a quarter-square one. All is rounded up to what a ruler shows.
        Metric is a practice of its own: at 0.75 cm a square takes 1.5 cm more, as geometry says. To triangles the
        trade adds 2.5 and 3.5 cm, which is 0.6 and 1.2 mm less than they need: here 2.56 and 3.62 are added, and
        rounded up to the millimetre. So a piece is never too small; a hair of it is trimmed.
Limits: what a ruler does not show, to a hair, it does not cut.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise

from seamwright.geometry import Point
from seamwright.options import Units

COMMON_ALLOWANCE_IN = 1 / 4
SQUARE_MORE_IN = 1 / 2
"""Common practice at 1/4 in, as all that follow: finished + 1/2 in each way."""
HALF_SQUARE_MORE_IN = 7 / 8
"""Finished short side + 7/8 in, two triangles from a square cut once."""
QUARTER_SQUARE_MORE_IN = 1 + 1 / 4
"""Finished long side + 1 1/4 in, four triangles from a square cut twice."""
PAIR_MORE_IN = 1.0
"""Two half-square units at a time: squares finished + 1 in, the units trimmed to finished + 1/2 in."""
EIGHT_MORE_IN = 1 + 3 / 4
"""Eight half-square units at a time: squares twice the finished size + 1 3/4 in."""
HALF_RECTANGLE_MORE_IN = (11 / 16, 1 + 5 / 16)
"""Half-rectangle triangles 1 to 2: short side + 11/16 in, long side + 1 5/16 in."""
COMMON_DIAGONAL = 1.414
"""The trade's figure for a square's diagonal; it holds where the additions above hold."""
STEP_IN = {Units.INCH: 1 / 8, Units.METRIC: 0.1 / 2.54}
"""The finest line of a ruler that is cut by: 1/8 in, 1 mm."""
FINE_STEP_IN = {Units.INCH: 1 / 16, Units.METRIC: 0.1 / 2.54}
"""What half-rectangles are cut by: their common sizes are in sixteenths."""
TRIM_IN = {Units.INCH: 1 / 8, Units.METRIC: 0.3 / 2.54}
"""What units sewn two at a time are made larger by, to be trimmed true: at 1/4 in that gives finished + 1 in."""
SAME_IN = 0.004
"""Sides and corners of a drawing that differ by less are equal: drawings are rounded, a thread is thicker."""
SAME_DEG = 0.5
GENEROUS_IN = 1 / 20
"""A triangle that comes out larger by more is trimmed; the common constants are 0.043 too large at most."""
_SQRT2 = math.sqrt(2)


@dataclass(frozen=True, slots=True)
class Ruler:
    """Sizes to cut at one allowance. All take finished sizes and give inches, rounded up to a mark of the ruler.

    Attributes:
        allowance_in: on every side.
        units: whose marks the ruler has.

    >>> ruler = Ruler(1 / 4, Units.INCH)
    >>> ruler.square(3), ruler.half_square(3), ruler.quarter_square(3), ruler.pair(3), ruler.side_setting(6)
    (3.5, 3.875, 4.25, 4.0, 9.75)
    """

    allowance_in: float = COMMON_ALLOWANCE_IN
    units: Units = Units.INCH

    @property
    def is_common(self) -> bool:
        """Whether the trade's printed constants hold: inches, at 1/4 in allowance."""
        return self.units is Units.INCH and math.isclose(self.allowance_in, COMMON_ALLOWANCE_IN)

    def square(self, finished_in: float) -> float:
        """Side of a square, or one side of a rectangle."""
        return self._up(finished_in, SQUARE_MORE_IN, 2)

    def half_square(self, short_in: float) -> float:
        """Square cut once, corner to corner, for two triangles with legs of this length."""
        return self._up(short_in, HALF_SQUARE_MORE_IN, 2 + _SQRT2)

    def quarter_square(self, long_in: float) -> float:
        """Square cut twice, corner to corner, for four triangles with a long side of this length."""
        return self._up(long_in, QUARTER_SQUARE_MORE_IN, 2 + 2 * _SQRT2)

    def pair(self, finished_in: float) -> float:
        """Two squares for two half-square units at a time, sewn on both sides of the diagonal, then trimmed.

        At other allowances than the common one: what a half-square triangle needs, rounded up, and as much more to
        trim as the trade allows itself.
        """
        if self.is_common:
            return self._up(finished_in, PAIR_MORE_IN, 0)
        return self.half_square(finished_in) + TRIM_IN[self.units]

    def eight(self, finished_in: float) -> float:
        """Two squares for eight half-square units at a time, sewn on both sides of both diagonals."""
        return self._up(2 * finished_in, EIGHT_MORE_IN, 2 * (2 + _SQRT2))

    def geese_four(self, height_in: float) -> tuple[float, float]:
        """(one large square, four small ones) for four flying geese at a time, each twice as wide as high."""
        return self.quarter_square(2 * height_in), self.half_square(height_in)

    def folded_corner(self, finished_in: float) -> float:
        """Square sewn on its diagonal over the corner of a larger piece, then cut off beyond the stitching."""
        return self.square(finished_in)

    def half_rectangle(self, short_in: float, long_in: float) -> tuple[float, float]:
        """Rectangle cut once, corner to corner, for two triangles with these legs. They are handed.

        The triangle grows on all sides by the allowance, so it keeps its shape and its inscribed circle grows by as
        much: r = (a + b - c) / 2 for legs a, b and long side c (Euclid, Elements IV.4, for a right angle).
        """
        step = FINE_STEP_IN[self.units]
        if self.is_common and abs(long_in - 2 * short_in) <= SAME_IN:
            short, long = (
                finished + more for finished, more in zip((short_in, long_in), HALF_RECTANGLE_MORE_IN, strict=True)
            )
        else:
            radius = (short_in + long_in - math.hypot(short_in, long_in)) / 2
            short, long = (side * (1 + self.allowance_in / radius) for side in (short_in, long_in))
        return _up(short, step), _up(long, step)

    def side_setting(self, block_in: float) -> float:
        """Square cut twice for the triangles at the sides of blocks set on point."""
        return self.quarter_square(block_in * (COMMON_DIAGONAL if self.is_common else _SQRT2))

    def corner_setting(self, block_in: float) -> float:
        """Square cut once for the triangles in the corners of blocks set on point."""
        return self.half_square(block_in / (COMMON_DIAGONAL if self.is_common else _SQRT2))

    def _up(self, finished_in: float, common_in: float, share: float) -> float:
        more = common_in if self.is_common else share * self.allowance_in
        return _up(finished_in + more, STEP_IN[self.units])


@dataclass(frozen=True, slots=True)
class RulerCut:
    """A piece as a ruler cuts it.

    Attributes:
        pieces: how many come from what is cut: 1 of a rectangle, 2 of a square cut once, 4 of one cut twice.
        width_in, height_in: what is cut, allowance included.
        is_generous: it comes out larger than its trim line and is trimmed.
    """

    pieces: int
    width_in: float
    height_in: float
    is_generous: bool = False


def ruler_cut(ring: Sequence[Point], grain_deg: float, allowance_in: float, units: Units) -> RulerCut | None:
    """How a finished shape is cut with a ruler; None if it is no shape or no size of a ruler's.

    Args:
        ring: its corners, no points inside straight sides.
        grain_deg: direction of the straight grain, degrees clockwise from +x.

    >>> square = [(0, 0), (3, 0), (3, 3), (0, 3)]
    >>> ruler_cut(square, 90, 0.25, Units.INCH)
    RulerCut(pieces=1, width_in=3.5, height_in=3.5, is_generous=False)
    >>> ruler_cut(square[:3], 90, 0.25, Units.INCH)
    RulerCut(pieces=2, width_in=3.875, height_in=3.875, is_generous=False)
    """
    if is_rectangle(ring):
        return _rectangle(ring, grain_deg, allowance_in, STEP_IN[units])
    legs = equal_legs(ring)
    if legs is None:
        return None
    corner, one, two = legs
    ruler = Ruler(allowance_in, units)
    if off_grain(corner, one, grain_deg) <= SAME_DEG:
        true, side, pieces = allowance_in * (2 + _SQRT2), math.dist(corner, one), 2
    elif off_grain(one, two, grain_deg) <= SAME_DEG:
        true, side, pieces = allowance_in * (2 + 2 * _SQRT2), math.dist(one, two), 4
    else:
        return None
    finished = on_step(side, STEP_IN[units])
    if finished is None:
        return None
    square = ruler.half_square(finished) if pieces == 2 else ruler.quarter_square(finished)
    return RulerCut(pieces, square, square, is_generous=square - finished - true > GENEROUS_IN)


def keeps_print(ring: Sequence[Point], direction_deg: float | None) -> bool:
    """Whether a ruler cuts a finished shape so that a print or stripes that run one way lie as they are meant to.

    Rectangles along the print do. Halves and quarters of one square point different ways, so that not all of them
    could be used: such triangles are cut one by one.

    Args:
        direction_deg: of the print, degrees clockwise from +x; None: the fabric looks the same all ways.
    """
    return direction_deg is None or (is_rectangle(ring) and off_grain(ring[0], ring[1], direction_deg) <= SAME_DEG)


def plain_grain_deg(ring: Sequence[Point]) -> float | None:
    """The straight grain of a piece that has no outer edge of the block, as a ruler cuts it; None for other shapes.

    A rectangle's runs along its longer sides, that of a triangle with equal legs along a leg.
    """
    if is_rectangle(ring):
        a, b = max(pairwise(ring[:3]), key=lambda side: round(math.dist(*side), 2))
    elif legs := equal_legs(ring):
        a, b, _ = legs
    else:
        return None
    return math.degrees(math.atan2(b[1] - a[1], b[0] - a[0]))


def _rectangle(ring: Sequence[Point], grain_deg: float, allowance_in: float, step: float) -> RulerCut | None:
    if off_grain(ring[0], ring[1], grain_deg) > SAME_DEG:
        return None
    sides = [on_step(math.dist(a, b) + 2 * allowance_in, step) for a, b in pairwise(ring[:3])]
    # A ruler's sizes are said across first; this piece lies as it does in the block.
    (ax, ay), (bx, by) = ring[:2]
    across, down = sides if abs(bx - ax) >= abs(by - ay) else sides[::-1]
    return None if across is None or down is None else RulerCut(1, across, down)


def is_rectangle(ring: Sequence[Point]) -> bool:
    """Whether four corners are those of a rectangle, to a hair."""
    if len(ring) != 4:
        return False
    a, b, c, d = ring
    middles = math.hypot(a[0] + c[0] - b[0] - d[0], a[1] + c[1] - b[1] - d[1])
    return middles <= SAME_IN and abs(math.dist(a, c) - math.dist(b, d)) <= SAME_IN


def equal_legs(ring: Sequence[Point]) -> tuple[Point, Point, Point] | None:
    """(corner of the right angle, the two others) of a triangle that is half a square."""
    if len(ring) != 3:
        return None
    for k in range(3):
        corner, one, two = ring[k], ring[(k + 1) % 3], ring[(k + 2) % 3]
        legs = math.dist(corner, one), math.dist(corner, two)
        if abs(legs[0] - legs[1]) <= SAME_IN and abs(math.dist(one, two) - math.hypot(*legs)) <= SAME_IN:
            return corner, one, two
    return None


def off_grain(a: Point, b: Point, grain_deg: float) -> float:
    """Degrees between a line and the straight grain, lengthwise or crosswise."""
    turn = math.degrees(math.atan2(b[1] - a[1], b[0] - a[0])) - grain_deg
    return min(turn % 90, -turn % 90)


def on_step(length: float, step: float) -> float | None:
    """The length as a ruler shows it, None if it shows none so near."""
    shown = round(length / step) * step
    return shown if abs(shown - length) <= SAME_IN else None


def _up(length: float, step: float) -> float:
    """The next mark of a ruler from a length upwards; a length on a mark to a hair of noise stays."""
    return math.ceil(length / step - 1e-6) * step
