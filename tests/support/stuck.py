"""Drawings that are stuck, as people and programs make them, and ways to write them."""

from __future__ import annotations

import random
from collections.abc import Sequence
from dataclasses import replace
from itertools import pairwise
from pathlib import Path

import shapely

from seamwright import api
from seamwright.block.make import make_block
from seamwright.block.model import Block
from seamwright.drawing.model import Drawing, Line
from seamwright.fabric.model import Fabric
from seamwright.geometry import Point
from seamwright.mend.change import region_of
from seamwright.mend.region import Region
from seamwright.piecing.model import Plan
from seamwright.piecing.plan import plan

Seg = tuple[tuple[float, float], tuple[float, float]]
FABRICS = (("sky", "#a9c9dc"), ("sea", "#4f8196"), ("fog", "#d3d9dd"), ("ink", "#1b2a41"), ("sand", "#d0a04a"))


def square_block(lines: Sequence[Seg], side: float = 6.0) -> Block:
    """Lines in a square."""
    return ring_block(lines, ((0.0, 0.0), (side, 0.0), (side, side), (0.0, side)))


def ring_block(lines: Sequence[Seg], ring: Sequence[Point]) -> Block:
    """Lines in an outline."""
    drawn = tuple(Line((float(a), float(b)), (float(c), float(d))) for (a, b), (c, d) in lines)
    return make_block(Drawing("quay", "", drawn, outline=tuple(ring), exact=True))


def bent(off: float, side: float = 6.0) -> Block:
    """A Y that is nearly a T: its point lies `off` below the line between its arms' ends."""
    middle = (side / 2, side / 3 + off)
    arms: list[Seg] = [((0, side / 3), middle), (middle, (side, side / 3)), (middle, (side / 2, side))]
    return square_block(arms, side)


def pinwheels(count: int, cells: int, side: float = 2.0) -> Block:
    """A grid of cells, `count` of them divided by four seams in a ring."""
    size = cells * side
    lines: list[Seg] = []
    for k in range(1, cells):
        lines += [((k * side, 0), (k * side, size)), ((0, k * side), (size, k * side))]
    chosen = random.Random(count).sample([(i, j) for i in range(cells) for j in range(cells)], count)
    for i, j in chosen:
        x, y, a, b = i * side, j * side, 0.35 * side, 0.65 * side
        lines += [((x, y + a), (x + b, y + a)), ((x + b, y), (x + b, y + b))]
        lines += [((x + side, y + b), (x + a, y + b)), ((x + a, y + side), (x + a, y + a))]
    return square_block(lines, size)


def cells_of_points(seed: int, count: int, side: float = 8.0) -> Block:
    """Each place belongs to the nearest of some points: seams that meet in threes."""
    chance = random.Random(seed)
    points = shapely.MultiPoint([(chance.uniform(0, side), chance.uniform(0, side)) for _ in range(count)])
    box = shapely.box(0, 0, side, side)
    lines: set[Seg] = set()
    for cell in shapely.voronoi_polygons(points, extend_to=box).geoms:
        ring = [(round(x, 4), round(y, 4)) for x, y in cell.intersection(box).exterior.coords]
        for a, b in pairwise(ring):
            if a != b and not any(a[k] == b[k] and a[k] in (0, side) for k in (0, 1)):
                lines.add((min(a, b), max(a, b)))
    return square_block(sorted(lines), side)


def coloured(block: Block, seed: int = 1) -> Block:
    """The block with a fabric in every patch."""
    chance = random.Random(seed)
    return replace(
        block,
        fabrics=tuple(Fabric(name, colour=colour) for name, colour in FABRICS),
        patches=tuple(replace(patch, fabric=chance.choice(FABRICS)[0]) for patch in block.patches),
    )


def polygons_svg(block: Block) -> str:
    """The block as filled polygons without any line, in tenths of an inch under a transform."""
    colours = dict(FABRICS)
    rows = [
        f'  <polygon id="p{n}" fill="{colours[patch.fabric or "sky"]}" points="'
        + " ".join(f"{x},{y}" for x, y in block.patch_ring(n))
        + '"/>'
        for n, patch in enumerate(block.patches)
    ]
    width, height = block.width_in, block.height_in
    head = f'<svg xmlns="http://www.w3.org/2000/svg" width="{width}in" height="{height}in" '
    head += f'viewBox="0 0 {10 * width} {10 * height}"><g id="water" transform="scale(10)">'
    return "\n".join([head, *rows, "</g></svg>"])


def stuck_region(block: Block) -> Region:
    """The one stuck region of a block."""
    (obstruction,) = plan(block).obstructions
    return region_of(block, obstruction.patches)


def plan_of(path: Path) -> Plan:
    """The plan of a file."""
    return api.plan(api.read_block(path))


def fabrics_by_place(block: Block) -> list[tuple[str | None, float]]:
    """How much of each fabric shows, in hundredths of a square inch."""
    shown: dict[str | None, float] = {}
    for number, patch in enumerate(block.patches):
        area = shapely.Polygon(block.patch_ring(number), block.patch_holes(number)).area
        shown[patch.fabric] = shown.get(patch.fabric, 0.0) + area
    return sorted(((name, round(area, 2)) for name, area in shown.items()), key=str)
