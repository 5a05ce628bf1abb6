"""The first piece of a section: right side up over its patch, extra all round.

Knows:  its size, shape and grain.
Leaves: what it has to cover (needs), pieces with a stitch line (pieces).
Units:  inches, front view; degrees clockwise from +x.
"""

from __future__ import annotations

import math

from seamwright.cutting.fits import along_line, box_round, to_cover, up
from seamwright.cutting.needs import Need
from seamwright.cutting.plain import SHARE
from seamwright.cutting.triangles import (
    OFF_GRAIN_DEG,
    Corner,
    is_half_square,
    off_grain,
    slope_deg,
    square_corner,
)
from seamwright.fabric.pieces import Piece, Shape
from seamwright.geometry import Ring, canonical_ring


def first_piece(
    need: Need,
    name: str,
    fabric: str | None,
    grain: float | None,
    one_way: bool,
    allowance_in: float,
    extra_in: float,
    step_in: float,
) -> Piece:
    """The piece that lies right side up: on the grain, else as it takes least fabric.

    Args:
        grain: where its straight grain has to run, degrees; None: anywhere. one_way: the fabric's print runs there.
    """
    corner = None if one_way else square_corner(need.ring)
    half = None if corner is None else _half_square(need, corner, grain, allowance_in, extra_in, step_in)
    if half is None:
        corners = canonical_ring(need.ring)
        sides = zip(corners, corners[1:] + corners[:1], strict=True)
        ways = [grain] if grain is not None else [slope_deg(*side) for side in sides]
        boxes = (box_round(need, way, allowance_in, extra_in, step_in) for way in ways)
        ring, size = min(boxes, key=lambda found: round(math.prod(found[1]), 6))
        if grain is None and size[0] < size[1]:
            ring, size = (*ring[1:], ring[0]), size[::-1]
        half = Shape.RECTANGLE, ring, size
    shape, ring, size = half
    return Piece(
        need.patch,
        name,
        fabric,
        shape,
        *size,
        share=SHARE.get(shape, 1),
        outline=ring,
        grain_deg=grain,
        one_way=one_way,
        runs="width" if one_way else "",
    )


def _half_square(
    need: Need, corner: Corner, grain: float | None, allowance_in: float, extra_in: float, step_in: float
) -> tuple[Shape, Ring, tuple[float, float]] | None:
    """Half of a square for a patch that is half of one, its legs on the grain; None for others."""
    at, one, _ = corner
    if not is_half_square(corner) or (grain is not None and off_grain(slope_deg(at, one), grain) > OFF_GRAIN_DEG):
        return None
    frame = along_line((at, one))
    cover = to_cover(need, frame, allowance_in, extra_in)
    u, v = min(u for u, _ in cover), min(v for _, v in cover)
    leg = max(u + v for u, v in cover) - u - v
    side = up(leg, step_in)
    # What rounding adds goes to all three sides alike.
    more = (side - leg) / (2 + math.sqrt(2))
    u, v = u - more, v - more
    return Shape.HALF_SQUARE, frame.placed(((u, v), (u + side, v), (u, v + side))), (side, side)
