"""Numbers by position: one drawing gives one map, in whatever order its lines were drawn.

Knows:  scaling and shifting to the finished block, crossings as a function of the ends of their seams, numbering.
Leaves: what the map means.
Units:  inches.
Method: points are numbered from the topmost, then leftmost; heights that hardly differ in a row of neighbours count
        as one height, so that neither the noise of floats nor the block's size changes a number. A crossing where
        no seam ends is computed from the ends of two seams, so that a block written as its seams reads back to the
        same bits.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import replace
from fractions import Fraction

from seamwright.block.model import Block, Patch, Seam
from seamwright.block.net import sine
from seamwright.block.planar import Piece, build_block
from seamwright.block.runon import CORNER, angle_between, run_on
from seamwright.geometry import ONE_HEIGHT, Point, Ring, bounds, levels, signed_area


def numbered_block(
    name: str, file: str, points: Sequence[Point], pieces: Sequence[Piece], ring: Ring, scale: tuple[float, float]
) -> Block:
    """The block of a map, scaled, shifted to its outline's top left corner and numbered by position."""
    left, top = min(x for x, _ in ring), min(y for _, y in ring)

    stays = (left, top, *scale) == (0, 0, 1, 1)

    def finished(p: Point) -> Point:
        return p if stays else (_clean((p[0] - left) * scale[0]), _clean((p[1] - top) * scale[1]))

    at = [finished(p) for p in points]
    pieces = [replace(p, via=tuple(map(finished, p.via))) if p.via else p for p in pieces]
    pieces = _without_idle_points(pieces, at)
    at = _crossings(at, pieces, {finished(p) for p in ring})
    at = [(x + 0.0, y + 0.0) for x, y in at]  # no minus nought
    used = sorted({n for p in pieces for n in (p.start, p.end)})
    x0, y0, x1, y1 = bounds([at[n] for n in used])
    heights = levels([at[n][1] for n in used], ONE_HEIGHT * max(x1 - x0, y1 - y0))
    order = [n for _, _, n in sorted(zip(heights, (at[n] for n in used), used, strict=True))]
    number = {n: i for i, n in enumerate(order)}
    turned = []
    for p in pieces:
        i, j = number[p.start], number[p.end]
        # A closed curve with one point on it runs clockwise.
        back = i > j or (i == j and signed_area((at[p.start], *p.via)) < 0)
        turned.append((j, i, p.via[::-1], p.line) if back else (i, j, p.via, p.line))
    turned.sort(key=lambda t: t[:3])
    lines: dict[int, int] = {}
    built = [Piece(i, j, lines.setdefault(line, len(lines)), via) for i, j, via, line in turned]
    return _patches_by_place(run_on(build_block(name, file, [at[n] for n in order], built)))


def _clean(value: float) -> float:
    """The value without the last-digit noise of scaling and shifting: 8.000000000000002 is 8."""
    near = round(value, 9)
    return near + 0.0 if abs(value - near) <= 4 * math.ulp(value) else value


def _without_idle_points(pieces: Sequence[Piece], at: Sequence[Point]) -> list[Piece]:
    """The pieces, those of one line joined at points where nothing else meets it."""
    joined = dict(enumerate(pieces))
    around: dict[int, list[int]] = {}
    for number, p in joined.items():
        around.setdefault(p.start, []).append(number)
        around.setdefault(p.end, []).append(number)
    for node in sorted(around):
        if len(around[node]) != 2 or around[node][0] == around[node][1]:
            continue
        first, second = around[node]
        p, q = joined[first], joined[second]
        if p.line != q.line or bool(p.via) != bool(q.via):
            continue
        if p.end != node:
            p = Piece(p.end, p.start, p.line, p.via[::-1])
        if q.start != node:
            q = Piece(q.end, q.start, q.line, q.via[::-1])
        if p.via and angle_between(p.via[-1], at[node], q.via[0]) > CORNER:
            continue  # where a closed curve begins it may have a corner
        joined[first] = Piece(p.start, q.end, p.line, (*p.via, at[node], *q.via) if p.via else ())
        around[q.end][around[q.end].index(second)] = first
        around[node] = []
        del joined[second]
    return list(joined.values())


def _crossings(at: list[Point], pieces: Sequence[Piece], ring: set[Point]) -> list[Point]:
    """The points, those at which only passing straight seams meet computed from the ends of two of these."""
    ends, through = _stretches(at, pieces, ring)
    fresh = list(at)
    for n, some in sorted(through.items()):
        if n in ends or len(some) < 2:
            continue
        seams = sorted(some)
        best: tuple[float, tuple[Point, Point, Point, Point]] | None = None
        for i, (a, b) in enumerate(seams):
            for c, d in seams[i + 1 :]:
                steep = sine(a, b, c, d)
                if best is None or steep > 1.5 * best[0]:
                    best = (steep, (a, b, c, d))
        if best is not None and (where := _exact_meet(*best[1])) is not None:
            fresh[n] = where
    return fresh


def _exact_meet(a: Point, b: Point, c: Point, d: Point) -> Point | None:
    """Where the lines ab and cd meet, in rational numbers, rounded once: three thirds make one."""
    (ax, ay), (bx, by), (cx, cy), (dx, dy) = ((Fraction(x), Fraction(y)) for x, y in (a, b, c, d))
    ux, uy, vx, vy = bx - ax, by - ay, dx - cx, dy - cy
    cross = ux * vy - uy * vx
    if not cross:
        return None
    t = ((cx - ax) * vy - (cy - ay) * vx) / cross
    return (float(ax + t * ux), float(ay + t * uy))


def _stretches(
    at: Sequence[Point], pieces: Sequence[Piece], ring: set[Point]
) -> tuple[set[int], dict[int, list[tuple[Point, Point]]]]:
    """Points at which a stretch of a line ends, and for each other point the ends of the stretches through it.

    A stretch is an unbroken row of pieces of one line, all on the outline or all inside it.
    """
    on_ring = {n for n, p in enumerate(at) if p in ring}
    around: dict[tuple[int, bool], dict[int, list[int]]] = {}
    curved: set[int] = set()
    # A short piece of a curve has no inner points, yet it is no straight line.
    curves = {p.line for p in pieces if p.via}
    for p in pieces:
        # A piece inside that joins two outline points of one line would be the outline itself.
        border = p.start in on_ring and p.end in on_ring
        beside = around.setdefault((p.line, border), {})
        beside.setdefault(p.start, []).append(p.end)
        beside.setdefault(p.end, []).append(p.start)
        if p.line in curves:
            curved.update((p.start, p.end))
    ends = set(curved)
    through: dict[int, list[tuple[Point, Point]]] = {}
    for beside in around.values():
        tips = [n for n, others in beside.items() if len(others) == 1]
        ends.update(tips)
        done: set[int] = set()
        for tip in tips:
            if tip in done:
                continue
            path, before = [tip], -1
            while (onward := [m for m in beside[path[-1]] if m != before]) and len(path) <= len(beside):
                before = path[-1]
                path.append(onward[0])
            done.update((path[0], path[-1]))
            first, last = sorted((at[path[0]], at[path[-1]]))
            for n in path[1:-1]:
                through.setdefault(n, []).append((first, last))
    return ends, through


def _patches_by_place(block: Block) -> Block:
    """The same block, patches numbered by their first points, rings from their first point."""
    turned: list[tuple[tuple[int, ...], int, Patch]] = []
    for old, patch in enumerate(block.patches):
        ring, edges = _from_first(patch.ring, patch.edges)
        holes = sorted(_from_first(*hole) for hole in zip(patch.holes, patch.hole_edges, strict=True))
        inner = (tuple(h for h, _ in holes), tuple(e for _, e in holes))
        turned.append((ring, old, Patch(ring, edges, inner[0], patch.fabric, inner[1])))
    turned.sort(key=lambda t: t[:2])
    new = {old: i for i, (_, old, _) in enumerate(turned)}
    new[-1] = -1
    seams = sorted((_forward(s), n) for n, s in enumerate(block.seams))
    seam_new = {old: i for i, (_, old) in enumerate(seams)}
    seam_new[-1] = -1
    outline, outline_edges = _from_first(block.outline, block.outline_edges)
    return replace(
        block,
        edges=tuple(replace(e, left=new[e.left], right=new[e.right], seam=seam_new[e.seam]) for e in block.edges),
        seams=tuple(Seam(points, edges, block.seams[n].straight) for (points, edges), n in seams),
        patches=tuple(p for _, _, p in turned),
        outline=outline,
        outline_edges=outline_edges,
    )


def _from_first(ring: tuple[int, ...], edges: tuple[int, ...]) -> tuple[tuple[int, ...], tuple[int, ...]]:
    k = ring.index(min(ring))
    return ring[k:] + ring[:k], edges[k:] + edges[:k]


def _forward(seam: Seam) -> tuple[tuple[int, ...], tuple[int, ...]]:
    return min((seam.points, seam.edges), (seam.points[::-1], seam.edges[::-1]))
