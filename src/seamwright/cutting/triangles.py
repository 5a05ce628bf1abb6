"""Triangles of fabric for patches that are right-angled triangles: halves and quarters of squares, half-rectangles.

Knows:  which triangle serves a patch, which way its grain runs, in which sizes it covers, when halves of rectangles
        pay.
Leaves: whether half-squares are taken (pieces), laying them.
Units:  inches; degrees clockwise from +x.
Method: a triangle of fabric has the patch's shape and lies with the same side on the stitch line. Both legs of a
        half-rectangle are cut to marks of their own, so that its slant is not quite the patch's: each size is tried
        against all it has to cover, the least fabric first.
Limits: half-rectangles are handed: a patch that is the mirror image of another needs the other diagonal.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping, Sequence
from itertools import islice, product

from seamwright.cutting.fits import Fit, fitted, marks
from seamwright.cutting.needs import Need
from seamwright.fabric.pieces import Piece, Shape
from seamwright.geometry import Point, canonical_ring

Corner = tuple[Point, Point, Point]
"""Of a right-angled triangle the corner of the right angle, and the two others clockwise from it."""
OFF_GRAIN_DEG = 1.0
"""Fabric lies along a thread if it is off by less: 1 in 57."""
SAME_IN = 0.004
"""Legs that differ by less are equal: a thread is thicker."""
SAME_SINE = 0.004
"""A corner is square if the cosine of its angle is less."""
SAVES = 0.2
"""Half-rectangles are taken where they save this share of the fabric: they are handed, and easily cut amiss."""
MARKS_TRIED = 20
"""Sizes of each leg tried of a half-rectangle, from that of its patch on."""


def off_grain(one_deg: float, grain_deg: float) -> float:
    """Degrees between a direction and the nearest thread, lengthwise or crosswise."""
    turn = one_deg - grain_deg
    return min(turn % 90, -turn % 90)


def square_corner(ring: Sequence[Point]) -> Corner | None:
    """(corner of the right angle, the two others clockwise from it) of a right-angled triangle; None for others."""
    corners = canonical_ring(ring)
    if len(corners) != 3:
        return None
    for k in range(3):
        at, one, two = corners[k], corners[(k + 1) % 3], corners[(k + 2) % 3]
        (ux, uy), (vx, vy) = (one[0] - at[0], one[1] - at[1]), (two[0] - at[0], two[1] - at[1])
        if abs(ux * vx + uy * vy) < SAME_SINE * math.hypot(ux, uy) * math.hypot(vx, vy):
            return at, one, two
    return None


def is_half_square(corner: Corner) -> bool:
    """Whether both legs are equal."""
    at, one, two = corner
    return abs(math.dist(at, one) - math.dist(at, two)) <= SAME_IN


def triangle_of(
    need: Need, corner: Corner, grain: float | None
) -> tuple[Shape, Callable[[float], tuple[float, float, float]]] | None:
    """The triangle that serves a patch that is half of a square, and its (edge, apex, height) by the square's side.

    From a square cut once where its legs may lie on the grain, cut twice where its long edge has to.
    """
    assert need.line is not None
    at, one, two = corner
    if not is_half_square(corner):
        return None
    on_legs = grain is None or off_grain(slope_deg(at, one), grain) <= OFF_GRAIN_DEG
    if not on_legs and off_grain(slope_deg(one, two), grain or 0.0) > OFF_GRAIN_DEG:
        return None
    root = math.sqrt(2)
    start, end = (math.dist(at, p) < SAME_IN for p in need.line)
    if not (start or end):
        if not on_legs:
            return Shape.QUARTER_SQUARE, lambda side: (side, side / 2, side / 2)
        return Shape.HALF_SQUARE, lambda side: (side * root, side / root, side / root)
    shape, share = (Shape.HALF_SQUARE, 1.0) if on_legs else (Shape.QUARTER_SQUARE, 1 / root)
    return shape, lambda side: (side * share, 0.0 if start else side * share, side * share)


def half_rectangles(
    need: Need, corner: Corner, cover: Sequence[Point], allowance_in: float, step_in: float, grain: float | None
) -> list[Fit]:
    """Halves of rectangles that cover, cut corner to corner, the least fabric first.

    Their `cut` is the shorter leg, then the longer. With a grain asked for along the patch's legs those alone whose
    legs lie on it; () where it lies along none.
    """
    assert need.line is not None
    at, one, two = corner
    if grain is not None and off_grain(slope_deg(at, one), grain) > OFF_GRAIN_DEG:
        return []
    legs = math.dist(at, one), math.dist(at, two)
    start, end = (math.dist(at, p) < SAME_IN for p in need.line)
    found = []
    for first, second in product(*(list(islice(marks(leg, step_in), MARKS_TRIED)) for leg in legs)):
        turned = math.degrees(math.atan2(second, first) - math.atan2(legs[1], legs[0]))
        if not (start or end) and grain is not None and abs(turned) > OFF_GRAIN_DEG:
            continue
        slant = math.hypot(first, second)
        if start:
            edge, apex, height = first, 0.0, second
        elif end:
            edge, apex, height = second, second, first
        else:
            edge, apex, height = slant, first * first / slant, first * second / slant
        fit = fitted(cover, allowance_in, (min(first, second), max(first, second)), edge, apex, height)
        if fit is not None:
            found.append(fit)
    return sorted(found, key=lambda fit: (round(math.prod(fit.cut), 6), fit.cut))


def in_pairs(pieces: Sequence[Piece], halves: Mapping[int, Piece]) -> tuple[Piece, ...]:
    """The pieces, with half-rectangles in place of those of which several are alike, where that saves fabric."""
    alike: dict[tuple[str | None, str, float, float], list[Piece]] = {}
    for piece in pieces:
        if half := halves.get(piece.patch):
            alike.setdefault((half.fabric, half.hand, half.width_in, half.height_in), []).append(piece)
    taken: dict[int, Piece] = {}
    for group in alike.values():
        half = halves[group[0].patch]
        cut = math.ceil(len(group) / 2) * half.width_in * half.height_in
        saved = 1 - cut / math.fsum(piece.width_in * piece.height_in / piece.share for piece in group)
        if len(group) > 1 and saved >= SAVES:
            taken |= {piece.patch: halves[piece.patch] for piece in group}
    return tuple(taken.get(piece.patch, piece) for piece in pieces)


def hand(corner: Corner) -> str:
    """The side of the right angle of a triangle stood on its shorter leg, right side up."""
    at, one, two = corner
    return "left" if math.dist(at, one) > math.dist(at, two) else "right"


def slope_deg(a: Point, b: Point) -> float:
    """Direction from one point to another."""
    return math.degrees(math.atan2(b[1] - a[1], b[0] - a[0]))
