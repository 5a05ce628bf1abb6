"""Drawings for tests: blocks as a person might draw them, and the comparison of two maps."""

from __future__ import annotations

import math
import random
from collections.abc import Callable, Iterable, Sequence
from fractions import Fraction
from itertools import combinations, pairwise

from seamwright.block.model import OUTLINE, Block
from seamwright.drawing.model import Curve, Drawing, Line
from seamwright.geometry import Point, Ring
from support.exact import exact_block

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


def random_lines(rng: random.Random) -> list[tuple[tuple[Fraction, Fraction], tuple[Fraction, Fraction]]]:
    """Seams in a square of 8 in: cut after cut, full lines, rays from the middle, or a grid with diagonals."""
    kind = rng.randrange(4)
    if kind == 0:
        return _cut_after_cut(rng, rng.randint(2, 14))
    if kind == 3:
        return _grid(rng)
    found = []
    for _ in range(rng.randint(2, 7)):
        one, other = rng.sample(range(4), 2)
        a = _on_side(one, rng) if kind == 1 else (Fraction(4), Fraction(4))
        b = _on_side(other, rng)
        if a != b:
            found.append((a, b))
    return found


def _on_side(side: int, rng: random.Random) -> tuple[Fraction, Fraction]:
    t = Fraction(rng.randint(0, 16), 2)
    return [(t, Fraction(0)), (Fraction(8), t), (t, Fraction(8)), (Fraction(0), t)][side]


def _grid(rng: random.Random) -> list[tuple[tuple[Fraction, Fraction], tuple[Fraction, Fraction]]]:
    k = rng.choice([2, 4])
    step = Fraction(8, k)
    found = []
    for i in range(1, k):
        found += [
            ((i * step, Fraction(0)), (i * step, Fraction(8))),
            ((Fraction(0), i * step), (Fraction(8), i * step)),
        ]
    for i in range(k):
        for j in range(k):
            x, y = i * step, j * step
            if rng.random() < 0.4:
                found.append(((x, y), (x + step, y + step)))
            if rng.random() < 0.3:
                found.append(((x, y + step), (x + step, y)))
    return found


def _cut_after_cut(
    rng: random.Random, cuts: int
) -> list[tuple[tuple[Fraction, Fraction], tuple[Fraction, Fraction]]]:
    """Each cut parts one convex region between two points at eighths of its sides: all coordinates are dyadic."""
    end = Fraction(8)
    regions = [[(Fraction(0), Fraction(0)), (end, Fraction(0)), (end, end), (Fraction(0), end)]]
    lines = []
    for _ in range(cuts):
        number = rng.randrange(len(regions))
        region = regions[number]
        i, j = sorted(rng.sample(range(len(region)), 2))
        ends = []
        for k in (i, j):
            (ax, ay), (bx, by) = region[k], region[(k + 1) % len(region)]
            t = Fraction(rng.randrange(8), 8)
            ends.append((ax + t * (bx - ax), ay + t * (by - ay)))
        p, q = ends
        parts = [_ring([p, *region[i + 1 : j + 1], q]), _ring([q, *region[j + 1 :], *region[: i + 1], p])]
        if p != q and all(len(part) > 2 and _area(part) for part in parts):
            lines.append((p, q))
            regions[number : number + 1] = parts
    return lines


def _ring(points: list[tuple[Fraction, Fraction]]) -> list[tuple[Fraction, Fraction]]:
    ring = [p for p, before in zip(points, [None, *points], strict=False) if p != before]
    return ring[:-1] if ring[0] == ring[-1] else ring


def _area(ring: list[tuple[Fraction, Fraction]]) -> Fraction:
    return abs(sum((a[0] * b[1] - a[1] * b[0] for a, b in pairwise([*ring, ring[0]])), Fraction(0))) / 2


SQUARE8 = ((0, 0), (8, 0), (8, 8), (0, 8))


def random_block(rng: random.Random) -> Block | None:
    """A random block noded in rational numbers, or None if this one has no seams or a seam in the open."""
    try:
        block = exact_block(random_lines(rng), SQUARE8)
    except ValueError:
        return None
    # Once more from its seams: points inside a seam where nothing meets it are gone.
    return exact_block(seam_lines(block), SQUARE8) if len(block.patches) > 1 else None


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
