"""Good designs drawn badly: the same lines, each with the faults of a hand in a hurry.

Knows:  one fault of drawing a kind; how strong it is, as the farthest that a point comes to lie from where it
        belongs.
Leaves: what becomes of such a drawing (support.asmeant judges).
Units:  inches of the finished block.
Method: pure functions of a block, a kind, an amount and a seed. Of one seed the same places are at fault at any
        amount, only farther off, so that strengths can be compared.
"""

from __future__ import annotations

import math
import random
from collections.abc import Callable, Iterable, Sequence
from itertools import pairwise

from seamwright.block.model import Block
from seamwright.block.rings import seam_points
from seamwright.drawing.model import Curve, Drawing, Line
from seamwright.geometry import Point
from support.drawn import corners, patch_rings, sides

Stroke = tuple[Point, ...]
"""A line (two points) or a curve (more) as one movement of the hand."""


def strokes_meant(block: Block) -> list[tuple[Stroke, bool]]:
    """The seams from end to end and the sides of the outline, each with whether it is a curve."""
    found = [(seam_points(block, n) if not s.straight else _ends(block, s.points), not s.straight)
             for n, s in enumerate(block.seams)]  # fmt: skip
    return [*found, *((side, False) for side in sides(corners(block.outline_ring())))]


def sketch(block: Block, kind: str, amount: float, seed: int) -> Drawing:
    """The block drawn with faults of one kind, its lines in any order and direction.

    Args:
        kind: one of KINDS. amount: how far off a point may be, inches.
    """
    chance = random.Random(f"{block.name}, {kind}, {seed}")
    if kind == "shapes":
        return _as_shapes(block, amount, chance)
    lines: list[tuple[Stroke, bool]] = []
    for stroke, curved in strokes_meant(block):
        lines += [(s, curved) for s in FAULTS[kind](stroke, amount, chance)]
    chance.shuffle(lines)
    lines = [(s if chance.random() < 0.5 else s[::-1], curved) for s, curved in lines]
    straight = [
        Line(p, q, f"line {n}")
        for n, (s, curved) in enumerate(lines, 1)
        if not curved
        for p, q in pairwise(s)
        if p != q
    ]
    curves = [Curve(s, f"curve {n}") for n, (s, curved) in enumerate(lines, 1) if curved]
    return Drawing(block.name, "", tuple(straight), tuple(curves))


def _as_shapes(block: Block, amount: float, chance: random.Random) -> Drawing:
    """Each patch as a shape of its own, its corners off: no two shapes share a side any more."""
    if any(edge.via for edge in block.edges):
        return sketch(block, "ends", amount, chance.randrange(1000))
    rings = [[off(p, amount, chance) for p in ring] for ring in patch_rings(block)]
    chance.shuffle(rings)
    lines = [Line(p, q, f"shape {n}", shape=n) for n, ring in enumerate(rings) for p, q in sides(ring) if p != q]
    return Drawing(block.name, "", tuple(lines))


def off(point: Point, amount: float, chance: random.Random) -> Point:
    """The point somewhere in a disc round it."""
    far, way = amount * math.sqrt(chance.random()), chance.uniform(0, math.tau)
    return (point[0] + far * math.cos(way), point[1] + far * math.sin(way))


def ends_off(stroke: Stroke, amount: float, chance: random.Random) -> list[Stroke]:
    """Both ends somewhere near where they belong."""
    return [_with_ends(stroke, off(stroke[0], amount, chance), off(stroke[-1], amount, chance))]


def falls_short(stroke: Stroke, amount: float, chance: random.Random) -> list[Stroke]:
    """Both ends stop before they arrive."""
    return [_longer(stroke, -amount * chance.random(), -amount * chance.random())]


def runs_past(stroke: Stroke, amount: float, chance: random.Random) -> list[Stroke]:
    """Both ends run past where they arrive."""
    return [_longer(stroke, amount * chance.random(), amount * chance.random())]


def drawn_twice(stroke: Stroke, amount: float, chance: random.Random) -> list[Stroke]:
    """Every other line has a second one beside it, which begins and ends elsewhere."""
    twice, second = chance.random() < 0.5, ends_off(stroke, amount, chance)
    return [stroke, *second] if twice else [stroke]


def in_pieces(stroke: Stroke, amount: float, chance: random.Random) -> list[Stroke]:
    """Two or three pieces, which miss each other where they should be one."""
    count = chance.choice((2, 2, 3))
    places = [0.0, *(k / count + chance.uniform(-0.1, 0.1) for k in range(1, count)), 1.0]
    found = []
    for k, (low, high) in enumerate(pairwise(places)):
        piece = _part(stroke, low, high)
        first = off(piece[0], amount, chance) if k else piece[0]
        last = off(piece[-1], amount, chance) if k < count - 1 else piece[-1]
        found.append(_with_ends(piece, first, last))
    return found


def wobbles(stroke: Stroke, amount: float, chance: random.Random) -> list[Stroke]:
    """A line with bends in it, to either side."""
    count = chance.randint(2, 6)
    places = [(k + chance.uniform(-0.2, 0.2)) / count for k in range(1, count)]
    bends = [amount * chance.uniform(-1, 1) for _ in places]
    if len(stroke) > 2:
        sizes = [0.0, *bends, 0.0]
        return [_moved(stroke, lambda t: _between(sizes, t))]
    (ax, ay), (bx, by) = stroke
    length = math.dist(*stroke)
    across = ((ay - by) / length, (bx - ax) / length)
    inner = [
        (ax + t * (bx - ax) + b * across[0], ay + t * (by - ay) + b * across[1])
        for t, b in zip(places, bends, strict=True)
    ]
    return [(stroke[0], *inner, stroke[1])]


def anything(stroke: Stroke, amount: float, chance: random.Random) -> list[Stroke]:
    """One of the other faults, chosen for each line, after its ends were moved by half as much."""
    fault = chance.choice([ends_off, falls_short, runs_past, drawn_twice, in_pieces, wobbles])
    return [s for moved in ends_off(stroke, amount / 2, chance) for s in fault(moved, amount, chance)]


FAULTS: dict[str, Callable[[Stroke, float, random.Random], list[Stroke]]] = {
    "ends": ends_off,
    "gaps": falls_short,
    "overshoots": runs_past,
    "doubled": drawn_twice,
    "pieces": in_pieces,
    "wobble": wobbles,
    "mixed": anything,
}
KINDS = (*FAULTS, "shapes")


def _ends(block: Block, points: Sequence[int]) -> Stroke:
    return (block.points[points[0]], block.points[points[-1]])


def _places(stroke: Stroke) -> list[float]:
    """Share of its length at which each point of a stroke lies."""
    done = [0.0]
    for p, q in pairwise(stroke):
        done.append(done[-1] + math.dist(p, q))
    return [d / done[-1] for d in done]


def _with_ends(stroke: Stroke, first: Point, last: Point) -> Stroke:
    """The stroke between other ends; a curve goes along with them."""
    (ax, ay), (bx, by) = stroke[0], stroke[-1]
    u, v = (first[0] - ax, first[1] - ay), (last[0] - bx, last[1] - by)
    inner = [
        (x + (1 - t) * u[0] + t * v[0], y + (1 - t) * u[1] + t * v[1])
        for (x, y), t in zip(stroke[1:-1], _places(stroke)[1:-1], strict=True)
    ]
    return (first, *inner, last)


def _longer(stroke: Stroke, before: float, after: float) -> Stroke:
    """The stroke prolonged (or cut short) along its own way at its ends, by inches."""
    length = sum(math.dist(p, q) for p, q in pairwise(stroke))
    stroke = _part(stroke, max(-before, 0.0) / length, 1 - max(-after, 0.0) / length)
    before, after = max(before, 0.0), max(after, 0.0)
    return (_beyond(stroke[1], stroke[0], before), *stroke[1:-1], _beyond(stroke[-2], stroke[-1], after))


def _beyond(inner: Point, end: Point, by: float) -> Point:
    length = math.dist(inner, end)
    return (end[0] + (end[0] - inner[0]) * by / length, end[1] + (end[1] - inner[1]) * by / length)


def _part(stroke: Stroke, low: float, high: float) -> Stroke:
    """The stroke from one share of its length to another."""
    places = _places(stroke)

    def at(t: float) -> Point:
        k = next(k for k in range(1, len(places)) if places[k] >= t)
        (ax, ay), (bx, by) = stroke[k - 1], stroke[k]
        s = (t - places[k - 1]) / (places[k] - places[k - 1])
        return (ax + s * (bx - ax), ay + s * (by - ay))

    inner = [p for p, t in zip(stroke, places, strict=True) if low + 1e-9 < t < high - 1e-9]
    return (stroke[0] if low == 0 else at(low), *inner, stroke[-1] if high == 1 else at(high))


def _moved(stroke: Stroke, by: Callable[[float], float]) -> Stroke:
    """The stroke with its points moved across it, each by what `by` says of its place."""
    moved = [stroke[0]]
    for k, t in enumerate(_places(stroke)[1:-1], 1):
        (ax, ay), (bx, by_) = stroke[k - 1], stroke[k + 1]
        length = math.dist(stroke[k - 1], stroke[k + 1])
        moved.append((stroke[k][0] + by(t) * (ay - by_) / length, stroke[k][1] + by(t) * (bx - ax) / length))
    return (*moved, stroke[-1])


def _between(sizes: Sequence[float], t: float) -> float:
    """A smooth way through sizes at even steps."""
    place = min(t, 1 - 1e-12) * (len(sizes) - 1)
    k, s = int(place), place % 1
    s = s * s * (3 - 2 * s)
    return sizes[k] + s * (sizes[k + 1] - sizes[k])


def all_strokes(drawing: Drawing) -> Iterable[Stroke]:
    """What a drawing shows, for pictures of it."""
    yield from ((line.start, line.end) for line in drawing.lines)
    yield from (curve.points for curve in drawing.curves)
