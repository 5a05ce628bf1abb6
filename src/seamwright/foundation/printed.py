"""Patches and edges of a section as they lie on paper, with what is to be said on them.

Knows:  what number, name and neighbour belong to each, and the strip of allowance beside an edge.
Leaves: what is written there and where (numbers, words).
Units:  inches as printed.
"""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass
from itertools import pairwise

import shapely
from shapely.geometry import Polygon
from shapely.geometry.base import BaseGeometry

from seamwright.block.model import Block
from seamwright.foundation.border import Stretch
from seamwright.foundation.lay import Lay
from seamwright.geometry import Point, Ring
from seamwright.piecing.model import Section


@dataclass(frozen=True, slots=True)
class PrintedPatch:
    """A patch as printed.

    Attributes:
        letter, number: what its label says, such as "A" and "3".
        ring, holes: as printed.
        fabric: name of its fabric, "" for none; code: the short form.
        borders: the middles of its edges that lie on the section's border.
    """

    letter: str
    number: str
    ring: Ring
    holes: tuple[Ring, ...]
    fabric: str
    code: str
    borders: tuple[Point, ...]


@dataclass(frozen=True, slots=True)
class PrintedStretch:
    """A run of the section's border as printed.

    Attributes:
        strip: ring of its allowance; wide: the same with the corners at both ends.
        points: along the stitch line.
        neighbour: name of the section across, "" at the block's edge; join: its place in the order, or None.
        varies: what lies across differs from place to place of the print, so nothing is said of it here.
    """

    strip: Ring
    wide: Ring
    points: tuple[Point, ...]
    neighbour: str
    join: int | None
    varies: bool = False

    @property
    def length_in(self) -> float:
        """Length along the stitch line."""
        return math.fsum(math.dist(a, b) for a, b in pairwise(self.points))

    @property
    def angle_deg(self) -> float:
        """Direction of its middle, turned so that words along it are as upright as can be."""
        half, run = self.length_in / 2, 0.0
        for a, b in pairwise(self.points):
            run += math.dist(a, b)
            if run >= half:
                break
        return upright_deg(math.degrees(math.atan2(b[1] - a[1], b[0] - a[0])))


def printed_patch(
    block: Block, lay: Lay, section: Section, place: int, letter: str, codes: Mapping[str, str]
) -> PrintedPatch:
    """The patch laid on as number `place` (from 0) of a section; `letter` is what its label begins with."""
    number = section.steps[place].patch
    patch = block.patches[number]
    inside = set(section.patches)
    middles = []
    for edge_number in patch.edges:
        edge = block.edges[edge_number]
        if edge.left not in inside or edge.right not in inside:
            run = block.edge_points(edge_number)
            a, b = run[(len(run) - 1) // 2], run[(len(run) - 1) // 2 + 1]
            middles.append(lay.point(((a[0] + b[0]) / 2, (a[1] + b[1]) / 2)))
    fabric = patch.fabric if patch.fabric in codes else None
    return PrintedPatch(
        letter=letter,
        number=str(place + 1),
        ring=lay.ring(block.patch_ring(number)),
        holes=tuple(lay.ring(hole) for hole in block.patch_holes(number)),
        fabric=fabric or "",
        code=codes[fabric] if fabric else "",
        borders=tuple(middles),
    )


def printed_stretch(lay: Lay, stretch: Stretch, allowance: float, free: BaseGeometry) -> PrintedStretch:
    """A stretch with its strip of the allowance; `free` is all of the allowance, as printed."""
    # The section lies on the right hand of the walk, its allowance on the left.
    points = stretch.points
    outside: list[Point] = []
    for i, (x, y) in enumerate(points):
        a, b = points[max(0, i - 1)], points[min(len(points) - 1, i + 1)]
        share = allowance / math.dist(a, b)
        outside.append((x + share * (b[1] - a[1]), y - share * (b[0] - a[0])))
    # On the hollow side of a tight bend the offset points run back over one another.
    strip = shapely.make_valid(Polygon(lay.line((*points, *reversed(outside)))))
    wide = strip
    if len(points) == 2:
        (ax, ay), (bx, by) = outside
        share = allowance / math.dist(*points)
        dx, dy = share * (bx - ax), share * (by - ay)
        longer = [
            (x + k * dx, y + k * dy) for (x, y), k in zip((*points, *outside[::-1]), (-1, 1, 1, -1), strict=True)
        ]
        wide = Polygon(lay.line(longer))
    return PrintedStretch(
        strip=_largest(strip.intersection(free)),
        wide=_largest(wide.intersection(free)),
        points=lay.line(points),
        neighbour=stretch.neighbour or "",
        join=stretch.join,
        varies=stretch.varies,
    )


def upright_deg(angle_deg: float) -> float:
    """The direction or its opposite, whichever words stand more upright along; up and down the page from below.

    >>> [upright_deg(angle) for angle in (0, 90, 135, 180, -90, -120, 270)]
    [0.0, -90.0, -45.0, 0.0, -90.0, 60.0, -90.0]
    """
    return round((angle_deg + 90 + 1e-6) % 180 - 90 - 1e-6, 9) + 0.0


def _largest(area: BaseGeometry) -> Ring:
    """The outer ring of the largest part; () of none."""
    parts = [p for p in shapely.get_parts(area) if isinstance(p, Polygon)]
    largest = max(parts, key=lambda p: p.area, default=Polygon())
    return tuple((float(x), float(y)) for x, y in largest.exterior.coords[:-1])
