"""Blocks that straight full seams cannot sew: rings of seams, points that no seam runs through, both with a curve.

Knows:  lines and blocks of known facts, and Voronoi cells (GEOS), whose inner corners are all Ys.
Leaves: random lines with parts rubbed out (random_blocks).
"""

from __future__ import annotations

import math
import random
from dataclasses import replace
from fractions import Fraction

import shapely
from shapely.geometry import LineString, MultiPoint, box

from seamwright.block.model import Block
from seamwright.block.planar import Piece, build_block
from seamwright.geometry import Point
from support.exact import exact_block

PINWHEEL = (((0, 2), (4, 2)), ((4, 0), (4, 4)), ((2, 4), (6, 4)), ((2, 2), (2, 6)))
"""Four strips round a centre."""
Y = (((3, 0), (3, 3)), ((3, 3), (0, 5)), ((3, 3), (6, 5)))
HEXAGON = ((2, 0), (6, 0), (8, 3), (6, 6), (2, 6), (0, 3))


def two_rings() -> Block:
    """Two rings of four strips side by side."""
    other = [((a + 6, b), (c + 6, d)) for (a, b), (c, d) in PINWHEEL]
    lines = [*PINWHEEL, *other, ((6, 0), (6, 6))]
    return exact_block(lines, ((0, 0), (12, 0), (12, 6), (0, 6)), "two rings")


def tide_line() -> Block:
    """Three patches that meet in a Y of two lines and a quarter of an ellipse."""
    points = [(0.0, 0.0), (6.0, 0.0), (6.0, 6.0), (0.0, 6.0), (3.0, 0.0), (3.0, 3.0), (0.0, 5.0), (6.0, 5.0)]
    arc = tuple((3 + 3 * math.sin(t), 5 - 2 * math.cos(t)) for t in (k * math.pi / 40 for k in range(1, 20)))
    ends = [(0, 4, 0), (4, 1, 0), (1, 7, 1), (7, 2, 1), (2, 3, 2), (3, 6, 3), (6, 0, 3), (4, 5, 4), (5, 6, 5)]
    return build_block("tide line", "", points, [*(Piece(*e) for e in ends), Piece(5, 7, 6, arc)])


def voronoi(seed: int, patches: int, size: float = 8.0, *, turned: bool = False) -> Block:
    """Voronoi cells of seeded points in a square, by GEOS; every border between two cells is a line of its own.

    Args:
        turned: by a quarter, points and all.
    """
    chance = random.Random(seed)
    seeds = [(chance.uniform(0, size), chance.uniform(0, size)) for _ in range(patches)]
    square = box(0, 0, size, size)
    borders = shapely.voronoi_polygons(MultiPoint(seeds), extend_to=square, only_edges=True)
    noded = shapely.union_all([borders.intersection(square), square.exterior], grid_size=1e-6)
    numbers: dict[tuple[float, float], int] = {}
    pieces = []
    sides = ((0, 0.0), (1, size), (0, size), (1, 0.0))
    for line in shapely.get_parts(noded):
        assert isinstance(line, LineString)
        for a, b in zip(line.coords, line.coords[1:], strict=False):
            on = [number for number, (axis, at) in enumerate(sides) if a[axis] == at == b[axis]]
            i, j = (numbers.setdefault((p[0], p[1]), len(numbers)) for p in (a, b))
            pieces.append(Piece(i, j, on[0] if on else 4 + len(pieces)))
    points = [(size - y, x) if turned else (x, y) for x, y in numbers]
    return build_block("cells", "", points, pieces)


def bent_over(block: Block, middle: Point, reach: float, by: Point) -> Block:
    """The block with all that lies within reach of a place pushed aside: seams there become curves.

    Args:
        middle: inside the block, further than `reach` from its outline.
    """

    def pushed(p: Point) -> Point:
        share = max(0.0, 1 - ((p[0] - middle[0]) ** 2 + (p[1] - middle[1]) ** 2) / reach**2) ** 2
        return (p[0] + share * by[0], p[1] + share * by[1])

    edges = []
    for number, edge in enumerate(block.edges):
        a, b = block.edge_points(number)
        run = [(a[0] + k / 16 * (b[0] - a[0]), a[1] + k / 16 * (b[1] - a[1])) for k in range(1, 16)]
        bends = any(pushed(p) != p for p in (a, *run, b))
        edges.append(replace(edge, via=tuple(map(pushed, run))) if bends else edge)
    seams = tuple(replace(seam, straight=not any(edges[e].via for e in seam.edges)) for seam in block.seams)
    return replace(block, points=tuple(map(pushed, block.points)), edges=tuple(edges), seams=seams)


def tiled(seed: int, patches: int, rings: int) -> Block:
    """A square cut and cut again into rectangles, `rings` of the cuts being four seams in a ring."""
    chance = random.Random(seed)
    size = Fraction(12)
    cells = [(Fraction(0), Fraction(0), size, size)]
    lines = []
    while rings or len(cells) < patches:
        cell = max(chance.sample(cells, min(3, len(cells))), key=lambda c: (c[2] - c[0]) * (c[3] - c[1]))
        cells.remove(cell)
        x0, y0, x3, y3 = cell

        def at(low: Fraction, high: Fraction, share: int) -> Fraction:
            return low + (high - low) * Fraction(chance.randint(share, share + 6), 31)

        if rings and chance.random() < rings / max(rings, patches - len(cells)):
            rings -= 1
            x1, x2, y1, y2 = at(x0, x3, 6), at(x0, x3, 18), at(y0, y3, 6), at(y0, y3, 18)
            lines += [((x0, y1), (x2, y1)), ((x2, y0), (x2, y2)), ((x3, y2), (x1, y2)), ((x1, y3), (x1, y1))]
            cells += [(x0, y0, x2, y1), (x2, y0, x3, y2), (x1, y2, x3, y3), (x0, y1, x1, y3), (x1, y1, x2, y2)]
        elif x3 - x0 > y3 - y0:
            x = at(x0, x3, 12)
            lines.append(((x, y0), (x, y3)))
            cells += [(x0, y0, x, y3), (x, y0, x3, y3)]
        else:
            y = at(y0, y3, 12)
            lines.append(((x0, y), (x3, y)))
            cells += [(x0, y0, x3, y), (x0, y, x3, y3)]
    return exact_block(lines, ((0, 0), (12, 0), (12, 12), (0, 12)), "tiles")


def rings_within(count: int) -> Block:
    """A ring of four strips round a ring of four strips, and so on, round one square."""
    lines = []
    size = 2 * count + 1
    for k in range(count):
        a, b = k, size - k
        lines += [((a, a + 1), (b - 1, a + 1)), ((b - 1, a), (b - 1, b - 1))]
        lines += [((b, b - 1), (a + 1, b - 1)), ((a + 1, b), (a + 1, a + 1))]
    return exact_block(lines, ((0, 0), (size, 0), (size, size), (0, size)), "rings within")
