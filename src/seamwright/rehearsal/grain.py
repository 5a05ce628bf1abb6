"""Whether the grain of a piece lies where it has to.

Knows:  the direction asked for, and the edge of the block that a patch lies at.
Leaves: where the piece lies (fabric, sew).
Units:  degrees clockwise from +x; inches.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from functools import lru_cache

import shapely
from shapely.geometry import LineString, MultiLineString, Polygon
from shapely.geometry.base import BaseGeometry

from seamwright.geometry import Segment, canonical_ring
from seamwright.rehearsal.fabric import SAME_IN, Laid
from seamwright.rehearsal.line import ON_LINE_IN
from seamwright.rehearsal.model import PieceToLay
from seamwright.rehearsal.paper import refuse

OFF_GRAIN_DEG = 1.5
"""A thread is as straight as that: half a thread in a hem's width."""


def look_at_grain(piece: PieceToLay, laid: Laid, patch: Polygon, sides: Sequence[Segment]) -> None:
    """Whether a piece, right side up in its place, has its thread where it is asked for and along the block's edge.

    Raises:
        ProofError: "off the grain".
    """
    at = patch.representative_point()
    one_way = bool(piece.runs)
    if piece.grain_deg is not None and _off(laid.thread_deg, piece.grain_deg, one_way) > OFF_GRAIN_DEG:
        what = f"the fabric of {piece.name} lies off the grain it was asked for"
        refuse("off the grain", what, (at.x, at.y))
    edges = () if one_way else outer_edges_deg(patch, sides)
    if edges and min(_off(laid.thread_deg, edge, False) for edge in edges) > OFF_GRAIN_DEG:
        what = f"the fabric of {piece.name} lies on the bias along the edge of the block"
        refuse("off the grain", what, (at.x, at.y))


def outer_edges_deg(patch: Polygon, sides: Sequence[Segment]) -> tuple[float, ...]:
    """Directions of the longest straight sides of a patch that lie along those of the block; () without any.

    A curve has none: its pieces are among the sides of the patch, not among those of the block.
    """
    edge = _along(tuple(sides))
    corners = canonical_ring([(float(x), float(y)) for x, y in shapely.get_coordinates(patch)[:-1]])
    outer = []
    for a, b in zip(corners, corners[1:] + corners[:1], strict=True):
        side = LineString((a, b))
        if edge.intersects(side) and (length := float(side.intersection(edge).length)) > SAME_IN:
            outer.append((length, math.degrees(math.atan2(b[1] - a[1], b[0] - a[0]))))
    longest = max((length for length, _ in outer), default=0.0)
    return tuple(direction for length, direction in outer if length > longest - SAME_IN)


@lru_cache(maxsize=8)
def _along(sides: tuple[Segment, ...]) -> BaseGeometry:
    """What lies along the sides of a block: every patch of it asks for the same."""
    edge = MultiLineString(sides).buffer(ON_LINE_IN)
    shapely.prepare(edge)
    return edge


def _off(one_deg: float, two_deg: float, one_way: bool) -> float:
    """Degrees between a thread and a direction; across it does as well, unless the print runs one way."""
    turn = 180 if one_way else 90
    return min((one_deg - two_deg) % turn, (two_deg - one_deg) % turn)
