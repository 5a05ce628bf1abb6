"""Rows of lines that are too short to keep, drawn with fewer points.

Knows:  which lines follow each other with nothing else between; how few points are enough.
Leaves: what a line is and when it is too short (strokes).
Units:  inches.
Method: D. Douglas, T. Peucker, "Algorithms for the reduction of the number of points required to represent a
        digitized line", Cartographica 10(2), 1973 (GEOS), within what a curve is flattened to.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from itertools import pairwise

import shapely

from seamwright.geometry import Point

THIN_IN = 0.0005
"""No point of a row is further off than this, which is what curves are flattened to."""

Pair = Sequence[Point]


def neighbours(lines: Sequence[Pair]) -> dict[Point, set[Point]]:
    """For each end of a line the other ends of all lines there."""
    found: dict[Point, set[Point]] = {}
    for a, b in lines:
        found.setdefault(a, set()).add(b)
        found.setdefault(b, set()).add(a)
    return found


def thin_rows(lines: Sequence[Pair], short: float, stops: Callable[[Point], bool]) -> list[list[Point]]:
    """The lines as rows of points, those with a line of at most `short` in them drawn with fewer.

    Args:
        lines: pairs of different points.
        stops: whether a row ends at a point whatever follows.
    """
    merged = shapely.get_parts(shapely.line_merge(shapely.MultiLineString([list(line) for line in lines])))
    rows = [row for line in merged for row in _parted([(x, y) for x, y in line.coords], stops)]
    thin: list[list[Point]] = []
    for row in rows:
        if min(math.dist(p, q) for p, q in pairwise(row)) > short:
            thin.append(row)
            continue
        for part in _open(row):
            few = shapely.LineString(part).simplify(THIN_IN, preserve_topology=False)
            thin.append([(x, y) for x, y in few.coords])
    return thin


def _parted(row: list[Point], stops: Callable[[Point], bool]) -> list[list[Point]]:
    if row[0] == row[-1] and (firm := next((k for k, p in enumerate(row) if stops(p)), 0)):
        row = row[firm:-1] + row[: firm + 1]
    places = [0, *(k for k in range(1, len(row) - 1) if stops(row[k])), len(row) - 1]
    return [row[a : b + 1] for a, b in pairwise(places)]


def _open(row: list[Point]) -> list[list[Point]]:
    """A row of points so that it does not matter from where it was walked; one that closes in two halves."""
    if row[0] != row[-1]:
        return [min(row, row[::-1])]
    first = row.index(min(row))
    ring = row[first:-1] + row[:first]
    far = max(range(len(ring)), key=lambda k: (math.dist(ring[0], ring[k]), ring[k]))
    return [min(half, half[::-1]) for half in (ring[: far + 1], [*ring[far:], ring[0]])]
