"""Areas laid over each other on a fine grid.

Knows:  what is common to two areas, what is left of one, several as one.
Leaves: what the areas are.
Units:  inches.
Method: with plain floats, two edges that coincide up to the last digit may make GEOS hand back an area that is
        plainly wrong (seen: the whole of A for A less B, where B covers A). Snap rounding to a grid is safe by
        construction: J. Hobby, "Practical segment intersection with finite precision output", Computational
        Geometry 13 (1999).
"""

from __future__ import annotations

from collections.abc import Sequence

import shapely
from shapely.geometry import MultiPolygon, Polygon
from shapely.geometry.base import BaseGeometry

GRID_IN = 1e-10
"""Errs by less than a thousand-millionth of a square inch for a border of ten inches."""


def common(one: BaseGeometry, other: BaseGeometry) -> BaseGeometry:
    """What lies in both."""
    return _areas(shapely.intersection(one, other, grid_size=GRID_IN))


def less(one: BaseGeometry, other: BaseGeometry) -> BaseGeometry:
    """What lies in one and not in the other."""
    return _areas(shapely.difference(one, other, grid_size=GRID_IN))


def together(areas: Sequence[BaseGeometry]) -> BaseGeometry:
    """What lies in any of them."""
    return _areas(shapely.union_all(areas, grid_size=GRID_IN))


def _areas(found: BaseGeometry) -> BaseGeometry:
    """Without points and lines, in which areas only touch."""
    if found.geom_type in ("Polygon", "MultiPolygon"):
        return found
    return MultiPolygon([p for p in shapely.get_parts(found) if isinstance(p, Polygon)])


def differing(one: BaseGeometry, other: BaseGeometry) -> float:
    """Area of what lies in only one of the two."""
    return float(shapely.symmetric_difference(one, other, grid_size=GRID_IN).area)
