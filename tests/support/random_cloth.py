"""Random blocks dressed in random fabrics, with random options of plan and cutting: what a whole run is tried on.

Knows:  blocks of every kind here, rotated by odd angles and scaled to sizes from 2 to 30 in; grids on a ruler's
        marks with sharp cells among them; fabrics with stripes at odd angles and narrow cloth.
Leaves: whether they can be sewn.
Units:  inches, front view.
"""

from __future__ import annotations

import math
import random
from collections.abc import Callable
from dataclasses import dataclass, replace
from fractions import Fraction
from itertools import accumulate, product

from seamwright.block.model import Block
from seamwright.fabric.model import Fabric, Value
from seamwright.geometry import Point, bounds
from seamwright.options import Cloth, CutOptions, Fit, PlanOptions, Rotary, Units
from support.curves import random_curved
from support.exact import exact_block
from support.random_blocks import (
    CONVEX,
    NOTCHED,
    OUTLINES,
    Line,
    cut_block,
    erased_lines,
    grid,
    mixed_cells,
    random_lines,
    spiral,
    star,
    strip_of_triangles,
)
from support.turning import bent_over, tiled, voronoi

KINDS = ("convex", "repeated", "voronoi", "curved", "set-in", "notched", "grid")
SIZES_IN = (2.0, 3.0, 4.5, 6.0, 7.3, 8.0, 12.0, 20.0, 30.0)
ALLOWANCES_IN = (1 / 4, 3 / 8, 1 / 8, 0.75 / 2.54)
CM = Fraction(100, 254)


@dataclass(frozen=True, slots=True)
class Job:
    """One block with all that is asked of it."""

    seed: int
    kind: str
    block: Block
    options: PlanOptions
    cut: CutOptions


def job(seed: int, kind: str = "") -> Job:
    """A random job; one of a kind if that is given."""
    chance = random.Random(f"cloth {seed} {kind}")
    kind = kind or KINDS[seed % len(KINDS)]
    units = chance.choice((Units.INCH, Units.INCH, Units.METRIC))
    block = of_kind(kind, chance, units)
    if kind != "grid" or chance.random() < 0.1:
        turn = chance.choice((0.0, 0.0, 90.0, 45.0, 30.0, chance.uniform(0, 360)))
        block = sized(rotated(block, turn), chance.choice(SIZES_IN))
    elif chance.random() < 0.3:  # drawn off the marks by a hair
        block = stretched(block, chance.uniform(-7e-4, 7e-4))
    block = dressed(block, chance, 0.15 if kind == "grid" else 0.55)
    options = PlanOptions(
        units=units,
        allowance_in=chance.choice((None, None, *ALLOWANCES_IN)),
        set_in=kind in ("set-in", "voronoi", "curved") or chance.random() < 0.3,
        fit=chance.choice((Fit.NONE, Fit.NONE, Fit.SHEET)),
        rotary=Rotary.AUTO if chance.random() < (0.7 if kind == "grid" else 0.25) else Rotary.NEVER,
        max_patches=chance.choice((None, None, None, 4)),
        steps=20_000,
    )
    cut = CutOptions(
        blocks=chance.choice((1, 1, 7, 300)),
        spare=chance.choice((0.0, 0.1, 0.25)),
        cloth=chance.choice((Cloth.BOLT, Cloth.FAT_QUARTERS)),
        stack=chance.random() < 0.3,
    )
    return Job(seed, kind, block, options, cut)


def of_kind(kind: str, chance: random.Random, units: Units = Units.INCH) -> Block:
    """A random block of a kind, six inches wide or a few more."""
    sub = chance.randrange(10**6)
    if kind == "convex":
        outline = CONVEX[chance.choice(sorted(CONVEX))]
        if chance.random() < 0.6:
            return cut_block(sub, chance.randint(2, 16), outline)
        return random_lines(sub, chance.randint(2, 8), outline, chance.random())
    if kind == "repeated":
        made = (
            lambda: star(chance.randint(2, 8)),
            lambda: grid(chance.randint(1, 4), chance.randint(1, 4)),
            lambda: spiral(chance.randint(3, 10), crossed=chance.random() < 0.5),
            lambda: strip_of_triangles(chance.randint(2, 10)),
            lambda: mixed_cells(sub, chance.randint(2, 3)),
        )
        return chance.choice(made)()
    if kind == "voronoi":
        return voronoi(sub, chance.randint(3, 9))
    if kind == "curved":
        if chance.random() < 0.5:
            return random_curved(sub, chance.randint(1, 4))
        middle = (chance.uniform(3, 5), chance.uniform(3, 5))
        push = (chance.uniform(-0.4, 0.4), chance.uniform(-0.4, 0.4))
        return bent_over(voronoi(sub, chance.randint(4, 8)), middle, chance.uniform(1, 2.5), push)
    if kind == "set-in":
        if chance.random() < 0.5:
            return tiled(sub, chance.randint(5, 12), chance.randint(1, 2))
        outline = OUTLINES[chance.choice(sorted(OUTLINES))]
        return erased_lines(sub, chance.randint(3, 8), outline, chance.random() / 2)
    if kind == "notched":
        return random_lines(sub, chance.randint(2, 8), NOTCHED[chance.choice(sorted(NOTCHED))], chance.random())
    return sharp_grid(chance, units)


def sharp_grid(chance: random.Random, units: Units = Units.INCH) -> Block:
    """Cells of a few widths on a ruler's marks: plain, halved, quartered, geese, checks, some with sharp lines."""
    step = Fraction(1, 8) if units is Units.INCH else CM / 10
    unit = (Fraction(1) if units is Units.INCH else 3 * CM) + chance.randint(0, 7) * step
    columns, rows = (
        [unit * chance.choice((1, 1, 2)) for _ in range(chance.randint(1, 3))] for _ in ("columns", "rows")
    )
    xs, ys = ([Fraction(0), *accumulate(sizes)] for sizes in (columns, rows))
    lines: list[Line] = [((x, 0), (x, ys[-1])) for x in xs[1:-1]] + [((0, y), (xs[-1], y)) for y in ys[1:-1]]
    for i, j in product(range(len(columns)), range(len(rows))):
        lines += _cell(chance, (xs[i], ys[j]), (columns[i], rows[j]))
    return exact_block(lines, ((0, 0), (xs[-1], 0), (xs[-1], ys[-1]), (0, ys[-1])), name="harbour grid")


def _cell(chance: random.Random, corner: tuple[Fraction, Fraction], size: tuple[Fraction, Fraction]) -> list[Line]:
    """Lines inside one cell."""
    (x, y), (w, h) = corner, size

    def at(u: Fraction | int, v: Fraction | int) -> tuple[Fraction, Fraction]:
        return (x + u * w, y + v * h)

    turn = chance.randrange(4)
    corners = [at(0, 0), at(1, 0), at(1, 1), at(0, 1)]
    a, b, c, d = corners[turn:] + corners[:turn]
    half = Fraction(1, 2)
    kind = chance.choice(("plain", "plain", "half", "half", "quarter", "geese", "check", "fan", "spike", "cross"))
    if kind == "half":
        return [(a, c)]
    if kind == "quarter":
        return [(a, c), (b, d)]
    if kind == "geese":
        top = (c[0] + (d[0] - c[0]) * half, c[1] + (d[1] - c[1]) * half)
        return [(a, top), (b, top)]
    if kind == "check":
        return [(at(half, 0), at(half, 1)), (at(0, half), at(1, half))]
    if kind == "fan":
        return [(a, _on(c, d, Fraction(k, 4))) for k in (1, 2, 3)][: chance.randint(1, 3)]
    if kind == "spike":
        return [(a, _on(b, c, Fraction(2, 3))), (d, _on(b, c, Fraction(2, 3)))]
    if kind == "cross":
        return [(_on(a, b, Fraction(1, 3)), _on(c, d, Fraction(1, 5)))]
    return []


def _on(p: tuple[Fraction, Fraction], q: tuple[Fraction, Fraction], share: Fraction) -> tuple[Fraction, Fraction]:
    return (p[0] + share * (q[0] - p[0]), p[1] + share * (q[1] - p[1]))


def dressed(block: Block, chance: random.Random, one_way: float = 0.55) -> Block:
    """A block in one fabric to five, some narrow; some patches bare.

    Args:
        one_way: the share that is striped or printed one way, at odd angles too.
    """
    fabrics = []
    for name in ("sky", "sea", "sand", "night", "foam")[: chance.randint(1, 5)]:
        way = chance.choice((0.0, 90.0, 45.0, chance.uniform(0, 360))) if chance.random() < one_way else None
        fabrics.append(
            Fabric(
                name,
                colour=f"#{chance.randrange(256**3):06x}",
                value=chance.choice((None, *Value)),
                direction_deg=way,
                striped=way is not None and chance.random() < 0.5,
                width_in=chance.choice((None, None, None, 20.0, 12.5, 54.0)),
            )
        )
    bare = chance.random() < 0.2
    patches = tuple(
        replace(patch, fabric=None if bare and chance.random() < 0.3 else chance.choice(fabrics).name)
        for patch in block.patches
    )
    worn = {patch.fabric for patch in patches}
    return replace(block, patches=patches, fabrics=tuple(f for f in fabrics if f.name in worn))


def sized(block: Block, longest_in: float) -> Block:
    """The block with its longer side so long."""
    times = longest_in / max(block.width_in, block.height_in)
    return _moved(block, lambda p: (p[0] * times, p[1] * times))


def stretched(block: Block, share: float) -> Block:
    """The block longer one way by a share of itself, and as much shorter the other way."""
    return _moved(block, lambda p: (p[0] * (1 + share), p[1] * (1 - share)))


def rotated(block: Block, degrees: float) -> Block:
    """The block rotated in the plane."""
    if not degrees:
        return block
    turn = math.radians(degrees)
    cos, sin = (1.0, 0.0) if degrees % 360 == 0 else (math.cos(turn), math.sin(turn))
    return _moved(block, lambda p: (cos * p[0] - sin * p[1], sin * p[0] + cos * p[1]))


def _moved(block: Block, change: Callable[[Point], Point]) -> Block:
    points = [change(p) for p in block.points]
    vias = [[change(p) for p in edge.via] for edge in block.edges]
    on_outline = [points[p] for p in block.outline] + [p for e in block.outline_edges for p in vias[e]]
    x0, y0, x1, y1 = bounds(on_outline)

    def home(p: Point) -> Point:
        return (p[0] - x0, p[1] - y0)

    return replace(
        block,
        width_in=x1 - x0,
        height_in=y1 - y0,
        points=tuple(map(home, points)),
        edges=tuple(replace(edge, via=tuple(map(home, via))) for edge, via in zip(block.edges, vias, strict=True)),
    )
