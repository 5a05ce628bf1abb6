"""Copies of a drawing, and whether two plans are one plan up to the drawing's own symmetries.

Knows:  ways to rotate, mirror, move, scale, shuffle and split a drawing; the symmetries of a block, found by trying
        every way to lay one side of its outline on another; what a plan says apart from letters.
Leaves: canonical numbers, which are under test and not used here.
"""

from __future__ import annotations

import math
import random
from collections.abc import Callable, Iterable, Sequence
from dataclasses import replace
from itertools import pairwise

from seamwright.block.model import Block
from seamwright.drawing.model import Drawing, Line
from seamwright.geometry import Affine, Point, moved
from seamwright.piecing.model import Plan
from support.svg_text import STROKE, read_text, svg

Told = tuple[frozenset[object], frozenset[object]]
SAME_IN = 1e-6
SYMMETRIC_IN = 0.003
"""What is off by less is symmetric: coordinates that a person types are rounded."""


def turn(degrees: float, *, mirrored: bool = False, scale: float = 1.0, shift: Point = (0.0, 0.0)) -> Affine:
    """A similarity: mirrored, then rotated, scaled, moved."""
    cos, sin = scale * math.cos(math.radians(degrees)), scale * math.sin(math.radians(degrees))
    hand = -1 if mirrored else 1
    return (hand * cos, hand * sin, -sin, cos, *shift)


def copied(drawing: Drawing, affine: Affine, chance: random.Random | None = None) -> Drawing:
    """The drawing under a similarity.

    Args:
        chance: puts its lines in another order and direction, some of them in two pieces.
    """

    def at(p: Point) -> Point:
        return moved(affine, p)

    lines: list[Line] = []
    for line in drawing.lines:
        a, b = line.start, line.end
        cuts = [a, b]
        if chance is not None and line.shape is None:
            if chance.random() < 0.4 and math.dist(a, b) > 0.5:
                share = chance.uniform(0.3, 0.7)
                cuts = [a, (a[0] + share * (b[0] - a[0]), a[1] + share * (b[1] - a[1])), b]
            if chance.random() < 0.5:
                cuts.reverse()
        for p, q in pairwise(cuts):
            lines.append(replace(line, start=at(p), end=at(q)))
    if chance is not None:
        chance.shuffle(lines)
    return replace(
        drawing,
        lines=tuple(lines),
        curves=tuple(replace(c, points=tuple(map(at, c.points))) for c in drawing.curves),
        outline=drawing.outline and tuple(map(at, drawing.outline)),
        artboard=drawing.artboard and tuple(map(at, drawing.artboard)),
        labels=tuple(replace(label, at=at(label.at)) for label in drawing.labels),
        fills=tuple(
            replace(fill, rings=tuple(tuple(map(at, ring)) for ring in fill.rings)) for fill in drawing.fills
        ),
        swatches=tuple(replace(swatch, at=at(swatch.at)) for swatch in drawing.swatches),
    )


def as_read(drawing: Drawing) -> Drawing:
    """The loose lines of a drawing, written to an SVG document and read from it."""
    left, top = (min(p[axis] for line in drawing.lines for p in (line.start, line.end)) for axis in (0, 1))
    paths = [
        f'<path {STROKE} d="M {a[0] - left!r},{a[1] - top!r} L {b[0] - left!r},{b[1] - top!r}"/>'
        for a, b in ((line.start, line.end) for line in drawing.lines)
    ]
    return read_text(svg("".join(paths), 'width="20in" height="20in" viewBox="0 0 20 20"'))


def moved_a_little(drawing: Drawing, amount: float, chance: random.Random) -> Drawing:
    """The drawing with every end of a line moved by up to `amount` in both directions, each on its own."""

    def at(p: Point) -> Point:
        return (p[0] + chance.uniform(-amount, amount), p[1] + chance.uniform(-amount, amount))

    return replace(drawing, lines=tuple(replace(x, start=at(x.start), end=at(x.end)) for x in drawing.lines))


def in_steps_of(drawing: Drawing, step: float) -> Drawing:
    """The drawing with its coordinates rounded, as a file saved with few decimals has them."""

    def at(p: Point) -> Point:
        return (round(p[0] / step) * step, round(p[1] / step) * step)

    return replace(
        drawing,
        lines=tuple(replace(x, start=at(x.start), end=at(x.end)) for x in drawing.lines),
        curves=tuple(replace(c, points=tuple(map(at, c.points))) for c in drawing.curves),
        outline=drawing.outline and tuple(map(at, drawing.outline)),
    )


def laid_on(block: Block, copy: Block, affine: Affine, within: float = SAME_IN) -> list[int] | None:
    """For each patch of the copy the patch of the block it is a copy of; None if the blocks do not match.

    Args:
        affine: may shift by anything: blocks start at their top left corner.
        within: inches in the copy by which points may be off.
    """
    corners = [moved(affine, p) for p in block.points]
    left, top = min(x for x, _ in corners), min(y for _, y in corners)
    there = [(x - left, y - top) for x, y in corners]
    number = _nearest(there, copy.points, within)
    if number is None:
        return None
    onto = _patches(block, number, copy, lambda p: (moved(affine, p)[0] - left, moved(affine, p)[1] - top))
    return onto and [onto.index(patch) for patch in range(len(onto))]


def symmetries(block: Block) -> list[list[int]]:
    """Every way to lay the block on itself, as the patch that each patch comes to lie on; fabrics are kept."""
    border = block.outline
    found = []
    a, b = (block.points[p] for p in border[:2])
    for k in range(len(border)):
        for p, q in ((border[k - 1], border[k]), (border[k], border[k - 1])):
            c, d = block.points[p], block.points[q]
            if abs(math.dist(a, b) - math.dist(c, d)) > SYMMETRIC_IN:
                continue
            for mirrored in (False, True):
                affine = _isometry(a, b, c, d, mirrored)
                number = _nearest([moved(affine, x) for x in block.points], block.points, SYMMETRIC_IN)
                if number is None:
                    continue
                way = _patches(block, number, block, lambda p, affine=affine: moved(affine, p))  # type: ignore[misc]
                if way and all(block.patches[i].fabric == block.patches[j].fabric for i, j in enumerate(way)):
                    found.append(way)
    return [list(way) for way in dict.fromkeys(map(tuple, found))]


def told(plan: Plan, as_patch: Callable[[int], int] = lambda patch: patch) -> Told:
    """What a plan says apart from letters: sections in sewing order, and which parts each join brings together.

    Args:
        as_patch: other numbers for the patches.
    """
    sections = frozenset(tuple(as_patch(p) for p in section.patches) for section in plan.sections)
    parts = {section.name: frozenset(as_patch(p) for p in section.patches) for section in plan.sections}
    joins = []
    for join in plan.joins:
        first, second = parts[join.first], parts[join.second]
        joins.append((frozenset((first, second)), join.kind))
        parts[join.makes] = first | second
    return sections, frozenset(joins)


def same_plan(plan: Plan, copy: Plan, onto: list[int]) -> bool:
    """Whether the plan of a copy is the copy of a plan, up to the symmetries of the block.

    Args:
        onto: for each patch of the copy the patch of the block it is a copy of.
    """
    here = told(copy, onto.__getitem__)
    return any(told(plan, way.__getitem__) == here for way in symmetries(plan.block))


def _patches(block: Block, number: list[int], other: Block, at: Callable[[Point], Point]) -> list[int] | None:
    """For each patch of a block the patch of the other that it lies on; None if there is not one for each.

    Args:
        number: the point of the other block on which each point lies.
        at: where any place comes to lie; patches between two curves may have the same points.
    """
    faces: dict[frozenset[int], list[int]] = {}
    for patch in range(len(other.patches)):
        faces.setdefault(frozenset(other.patches[patch].ring), []).append(patch)
    found = []
    for patch in range(len(block.patches)):
        choices = faces.get(frozenset(number[p] for p in block.patches[patch].ring), [])
        middle = _middle([at(p) for p in block.patch_ring(patch)])
        ranked = sorted(choices, key=lambda other_one: math.dist(_middle(other.patch_ring(other_one)), middle))
        found += ranked[:1]
    return found if sorted(found) == list(range(len(other.patches))) else None


def _middle(ring: Sequence[Point]) -> Point:
    return (math.fsum(x for x, _ in ring) / len(ring), math.fsum(y for _, y in ring) / len(ring))


def _isometry(a: Point, b: Point, c: Point, d: Point, mirrored: bool) -> Affine:
    """The rotation (or mirror image) that lays a on c and b on d, as far apart."""
    before, after = math.atan2(b[1] - a[1], b[0] - a[0]), math.atan2(d[1] - c[1], d[0] - c[0])
    # Mirrored across the x axis, a direction of angle t becomes one of -t.
    angle = after + before if mirrored else after - before
    cos, sin = math.cos(angle), math.sin(angle)
    linear = (cos, sin, sin, -cos) if mirrored else (cos, sin, -sin, cos)
    x, y = moved((*linear, 0.0, 0.0), a)
    return (*linear, c[0] - x, c[1] - y)


def _nearest(points: list[Point], others: Iterable[Point], within: float) -> list[int] | None:
    """For each point the number of the other in its place; None if there is not one for each."""
    cells: dict[tuple[int, int], list[int]] = {}
    others = list(others)
    if len(points) != len(others):
        return None
    for number, (x, y) in enumerate(others):
        cells.setdefault((math.floor(x / within), math.floor(y / within)), []).append(number)
    found = []
    for x, y in points:
        i, j = math.floor(x / within), math.floor(y / within)
        near = [n for u in (i - 1, i, i + 1) for v in (j - 1, j, j + 1) for n in cells.get((u, v), ())]
        near = [n for n in near if math.dist(others[n], (x, y)) <= within]
        if not near:
            return None
        found.append(min(near, key=lambda n: math.dist(others[n], (x, y))))
    return found if len(set(found)) == len(found) else None
