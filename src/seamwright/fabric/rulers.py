"""Which finished shapes a ruler and a rotary cutter cut from strips and squares, and how large.

Knows:  rectangles, and right-angled triangles with equal legs, as halves or quarters of a square.
Leaves: what is said of it (foundation.purpose), how much fabric it takes.
Units:  inches; front view.
Method: a triangle whose legs lie on the straight grain is half of a square cut once corner to corner, one whose
        long side lies on it a quarter of a square cut twice: so no outer edge of a block is on the bias. Sizes are
        common practice, see the constants; they hold at 1/4 in allowance only. At any other an allowance s adds
        s(2 + sqrt 2) to the short side of a half-square triangle and s(2 + 2 sqrt 2) to the long side of a
        quarter-square one, rounded up to what a ruler shows.
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
HALF_SQUARE_MORE_IN = 7 / 8
"""Common practice at 1/4 in: finished short side + 7/8 in, two triangles from a square cut once."""
QUARTER_SQUARE_MORE_IN = 1 + 1 / 4
"""Common practice at 1/4 in: finished long side + 1 1/4 in, four triangles from a square cut twice."""
STEP_IN = {Units.INCH: 1 / 8, Units.METRIC: 0.1 / 2.54}
"""The finest line of a ruler that is cut by: 1/8 in, 1 mm."""
SAME_IN = 0.004
"""Sides and corners of a drawing that differ by less are equal: drawings are rounded, a thread is thicker."""
SAME_DEG = 0.5
GENEROUS_IN = 1 / 20
"""A triangle that comes out larger by more is trimmed; the common constants are 0.043 too large at most."""


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
    usual = units is Units.INCH and math.isclose(allowance_in, COMMON_ALLOWANCE_IN)
    if off_grain(corner, one, grain_deg) <= SAME_DEG:
        true, side, pieces = allowance_in * (2 + math.sqrt(2)), math.dist(corner, one), 2
        more = HALF_SQUARE_MORE_IN if usual else true
    elif off_grain(one, two, grain_deg) <= SAME_DEG:
        true, side, pieces = allowance_in * (2 + 2 * math.sqrt(2)), math.dist(one, two), 4
        more = QUARTER_SQUARE_MORE_IN if usual else true
    else:
        return None
    finished = on_step(side, STEP_IN[units])
    if finished is None:
        return None
    square = math.ceil((finished + more) / STEP_IN[units] - 1e-6) * STEP_IN[units]
    return RulerCut(pieces, square, square, is_generous=square - finished - true > GENEROUS_IN)


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
