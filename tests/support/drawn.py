"""Drawings for tests: blocks as a person might draw them, and the comparison of two maps."""

from __future__ import annotations

import math
import random
from collections.abc import Callable, Iterable, Sequence
from itertools import combinations, pairwise

from seamwright.block.model import OUTLINE, Block
from seamwright.drawing.model import Curve, Drawing, Line
from seamwright.geometry import Point, Ring

Seg = tuple[Point, Point]


def sides(ring: Sequence[Point]) -> list[Seg]:
    """The sides of a ring of corners."""
    ring = [(float(x), float(y)) for x, y in ring]
    return list(pairwise([*ring, ring[0]]))


def square(side: float = 6.0, x: float = 0.0, y: float = 0.0) -> list[Seg]:
    """Four sides of a square."""
    return sides([(x, y), (x + side, y), (x + side, y + side), (x, y + side)])


def drawing(
    segments: Iterable[tuple[Sequence[float], Sequence[float]]],
    *,
    curves: Iterable[Sequence[Point]] = (),
    shapes: Sequence[Sequence[Point]] = (),
    **known: object,
) -> Drawing:
    """A drawing of loose lines, curves and filled shapes (rings of corners)."""
    lines = [
        Line((float(a[0]), float(a[1])), (float(b[0]), float(b[1])), f"line {n}")
        for n, (a, b) in enumerate(segments, start=1)
    ]
    for number, ring in enumerate(shapes):
        lines += [Line(a, b, f"shape {number + 1}", shape=number) for a, b in sides(ring)]
    return Drawing(
        "test", "", tuple(lines), tuple(Curve(tuple(c), f"curve {n}") for n, c in enumerate(curves, 1)), **known
    )  # type: ignore[arg-type]


def seam_lines(block: Block) -> list[Seg]:
    """Each straight seam from end to end, and the sides of the outline."""
    points = block.points
    lines = [(points[s.points[0]], points[s.points[-1]]) for s in block.seams]
    return lines + sides(corners(block.outline_ring()))


def edge_lines(block: Block) -> list[Seg]:
    """Each piece between two neighbouring points."""
    return [(block.points[e.start], block.points[e.end]) for e in block.edges]


def patch_rings(block: Block) -> list[Ring]:
    """Each patch as a ring of corners, points inside its straight sides left out."""
    return [tuple(corners(block.patch_ring(n))) for n in range(len(block.patches))]


def corners(ring: Sequence[Point]) -> list[Point]:
    """The ring without points inside straight sides."""
    kept = []
    for p, q, r in zip([ring[-1], *ring[:-1]], ring, [*ring[1:], ring[0]], strict=True):
        u, v = (q[0] - p[0], q[1] - p[1]), (r[0] - q[0], r[1] - q[1])
        if abs(u[0] * v[1] - u[1] * v[0]) > 1e-7 * math.hypot(*u) * math.hypot(*v):
            kept.append(q)
    return kept


def same_map(a: Block, b: Block, within: float) -> str:
    """ "" if two blocks are the same map, their points nearer than `within`; else what differs."""
    if len(a.points) != len(b.points):
        return f"{len(a.points)} points, {len(b.points)} points"
    to: dict[int, int] = {}
    for i, p in enumerate(a.points):
        j = min(range(len(b.points)), key=lambda k: math.dist(p, b.points[k]))
        if math.dist(p, b.points[j]) > within:
            return f"point {p} is {math.dist(p, b.points[j])} off"
        to[i] = j
    if len(set(to.values())) != len(to):
        return "points do not match"
    edges = {frozenset((to[e.start], to[e.end])): e.seam == OUTLINE for e in a.edges}
    others = {frozenset((e.start, e.end)): e.seam == OUTLINE for e in b.edges}
    if edges != others:
        return "edges differ"
    if {frozenset(to[n] for n in s.points) for s in a.seams} != {frozenset(s.points) for s in b.seams}:
        return "seams differ"
    if {frozenset(to[n] for n in p.ring) for p in a.patches} != {frozenset(p.ring) for p in b.patches}:
        return "patches differ"
    return ""


def jittered(segments: Iterable[Seg], amount: float, rng: random.Random) -> list[Seg]:
    """Every end moved by up to `amount`, each on its own."""

    def move(p: Point) -> Point:
        r, a = amount * math.sqrt(rng.random()), rng.uniform(0, 2 * math.pi)
        return (p[0] + r * math.cos(a), p[1] + r * math.sin(a))

    return [(move(a), move(b)) for a, b in segments]


def random_cuts(rng: random.Random, cuts: int, side: int = 8) -> list[tuple[tuple[int, int], tuple[int, int]]]:
    """Chords on a grid of half inches (coordinates are counted in it), each from line to line or to a grid point."""
    found = []
    for _ in range(cuts):
        a, b = ((rng.randint(0, 2 * side), rng.randint(0, 2 * side)) for _ in range(2))
        if a != b:
            found.append((a, b))
    return found


def roomy(block: Block, room: float, lean: float = 0.26) -> bool:
    """Whether points keep `room` from each other and from edges, and edges at a point differ in angle by `lean`."""
    points = block.points
    if any(math.dist(p, q) < room for p, q in combinations(points, 2)):
        return False
    around: dict[int, list[float]] = {}
    for e in block.edges:
        a, b = points[e.start], points[e.end]
        length = math.dist(a, b)
        for n, p in enumerate(points):
            if n not in (e.start, e.end):
                t = ((p[0] - a[0]) * (b[0] - a[0]) + (p[1] - a[1]) * (b[1] - a[1])) / length**2
                foot = (a[0] + t * (b[0] - a[0]), a[1] + t * (b[1] - a[1]))
                if 0 < t < 1 and math.dist(p, foot) < room:
                    return False
        angle = math.atan2(b[1] - a[1], b[0] - a[0])
        around.setdefault(e.start, []).append(angle)
        around.setdefault(e.end, []).append(angle + math.pi)
    for angles in around.values():
        # Directions modulo half a turn: neither too sharp nor nearly straight, unless truly straight.
        for x, y in combinations(angles, 2):
            off = abs((x - y + math.pi / 2) % math.pi - math.pi / 2)
            if 1e-9 < off < lean:
                return False
    return True


def moved_by(segments: Iterable[Seg], change: Callable[[Point], Point]) -> list[Seg]:
    """Segments with `change` done to every end."""
    return [(change(a), change(b)) for a, b in segments]
