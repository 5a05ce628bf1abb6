"""Seeded random blocks with exact coordinates: the same seed gives the same block everywhere.

Knows:  lines of blocks that are cut to pieces, of full chords, of stars, grids, spirals and chance.
Leaves: noding (support.exact, in rational numbers); large blocks are noded here, since they are made of Ts only.
Units:  whole grid units inside small outlines; large blocks use floats.
"""

from __future__ import annotations

import random
from collections import Counter
from collections.abc import Iterator, Sequence
from fractions import Fraction
from itertools import pairwise, product

from seamwright.block.model import Block
from seamwright.block.planar import Piece, build_block
from support.exact import SQUARE6, exact_block, exact_point, meet

Point = tuple[Fraction | int, Fraction | int]
Line = tuple[Point, Point]
Outline = Sequence[tuple[int, int]]

HEXAGON: Outline = ((2, 0), (4, 0), (6, 3), (4, 6), (2, 6), (0, 3))
TRIANGLE: Outline = ((3, 0), (6, 6), (0, 6))
DIAMOND: Outline = ((3, 0), (6, 3), (3, 6), (0, 3))
L_SHAPE: Outline = ((0, 0), (6, 0), (6, 3), (3, 3), (3, 6), (0, 6))
U_SHAPE: Outline = ((0, 0), (6, 0), (6, 6), (4, 6), (4, 2), (2, 2), (2, 6), (0, 6))
T_SHAPE: Outline = ((0, 0), (6, 0), (6, 2), (4, 2), (4, 6), (2, 6), (2, 2), (0, 2))
CONVEX: dict[str, Outline] = {"square": SQUARE6, "hexagon": HEXAGON, "triangle": TRIANGLE, "diamond": DIAMOND}
NOTCHED: dict[str, Outline] = {"L": L_SHAPE, "U": U_SHAPE, "T": T_SHAPE}
OUTLINES: dict[str, Outline] = CONVEX | NOTCHED


def random_lines(seed: int, lines: int, outline: Outline = SQUARE6, whole: float = 0.4) -> Block:
    """`lines` lines through grid points, each from one line to another: crossings, T ends, stuck regions or not.

    Args:
        whole: share of the lines that run as far as the outline lets them.
    """
    return exact_block(random_line_list(seed, lines, outline, whole), outline)


def random_line_list(seed: int, lines: int, outline: Outline = SQUARE6, whole: float = 0.4) -> list[Line]:
    """The lines of `random_lines`."""
    chance = random.Random(seed)
    grid = [(x, y) for x in range(7) for y in range(7)]
    drawn: list[Line] = []
    while len(drawn) < lines:
        a, b = chance.sample(grid, 2)
        runs = _open_runs(a, b, [*_sides(outline), *drawn], outline)
        if not runs:
            continue
        stops = chance.choice(runs)
        if chance.random() < whole:
            drawn.append((stops[0], stops[-1]))
        else:
            first, last = sorted(chance.sample(range(len(stops)), 2))
            drawn.append((stops[first], stops[last]))
    return drawn


def erased_lines(seed: int, lines: int, outline: Outline = SQUARE6, erased: float = 0.3) -> Block:
    """`random_lines` with a share of the pieces between crossings rubbed out: rings, Ys, inside corners, islands.

    No end is left hanging; tried again with a next seed where what is left would hang together by a bridge.
    """
    while True:
        chance = random.Random(seed)
        drawn = random_line_list(seed, lines, outline, whole=0.6)
        fewest = chance.choice((2, 3, 3))
        pieces = _between_crossings(drawn, outline)
        ends = Counter(
            p for piece in (*pieces, *_between_crossings(_sides(outline), outline, drawn)) for p in piece
        )
        for piece in chance.sample(pieces, round(erased * len(pieces))):
            # A point keeps two pieces at least, the outline's counted, or three so that it is no bend.
            if all(ends[p] > fewest for p in piece):
                pieces.remove(piece)
                ends.subtract(piece)
        try:
            return exact_block(pieces, outline)
        except ValueError:
            seed += 1


def full_chords(seed: int, lines: int, size: int = 6, outline: Outline = SQUARE6) -> Block:
    """A square crossed from side to side by `lines` lines; where `size` is large no three meet in a point."""
    if size != 6:
        outline = ((0, 0), (size, 0), (size, size), (0, size))
    chance = random.Random(seed)
    chosen: dict[frozenset[tuple[int, int]], Line] = {}
    while len(chosen) < lines:
        one, two = chance.sample(range(4), 2)
        a, b = (_on_square(side, chance.randint(1, size - 1), size) for side in (one, two))
        chosen.setdefault(frozenset((a, b)), (a, b))
    return exact_block(chosen.values(), outline)


def lines_across(seed: int, lines: int, size: int = 10_000) -> Block:
    """A square crossed by `lines` lines, each through two random points of its middle: most of them cross.

    (Of `full_chords` many lie in corners, or beside each other.)
    """
    chance = random.Random(seed)
    drawn: list[Line] = []
    while len(drawn) < lines:
        (x, y), (u, v) = (
            (chance.randint(size // 5, 4 * size // 5), chance.randint(size // 5, 4 * size // 5)) for _ in "ab"
        )
        reaches = [sorted((Fraction(-p, d), Fraction(size - p, d))) for p, d in ((x, u - x), (y, v - y)) if d]
        if reaches:
            first, last = max(low for low, _ in reaches), min(high for _, high in reaches)
            drawn.append(((x + first * (u - x), y + first * (v - y)), (x + last * (u - x), y + last * (v - y))))
    return exact_block(drawn, ((0, 0), (size, 0), (size, size), (0, size)))


def cut_block(seed: int, patches: int, outline: Outline = SQUARE6) -> Block:
    """A convex outline cut `patches - 1` times, each time one patch from side to side: always pieceable."""
    chance = random.Random(seed)
    cells: list[list[Point]] = [[(Fraction(x), Fraction(y)) for x, y in outline]]
    lines: list[Line] = []
    while len(cells) < patches:
        # The largest of three keeps slivers away.
        cell = cells.pop(max(chance.sample(range(len(cells)), min(3, len(cells))), key=lambda i: _size(cells[i])))
        one, two = sorted(chance.sample(range(len(cell)), 2))
        p, q = (_between(cell[i], cell[(i + 1) % len(cell)], Fraction(chance.randint(2, 6), 8)) for i in (one, two))
        lines.append((p, q))
        cells.append([p, *cell[one + 1 : two + 1], q])
        cells.append([q, *cell[two + 1 :], *cell[: one + 1], p])
    return exact_block(lines, outline)


def large_cut_block(seed: int, patches: int, size: float = 60.0) -> Block:
    """A square cut to `patches` patches, T ends only: noded as it is made, for thousands of patches.

    A cell is a list of (corner, line that the side after it lies on); a line keeps its points by place along it.
    """
    chance = random.Random(seed)
    points: list[tuple[float, float]] = [(0.0, 0.0), (size, 0.0), (size, size), (0.0, size)]
    on_line: list[list[int]] = [[i, (i + 1) % 4] for i in range(4)]
    cells: list[list[tuple[int, int]]] = [[(i, i) for i in range(4)]]

    def area(cell: list[tuple[int, int]]) -> float:
        ring = [points[p] for p, _ in cell]
        return abs(sum(a[0] * b[1] - a[1] * b[0] for a, b in zip(ring, ring[1:] + ring[:1], strict=True)))

    while len(cells) < patches:
        cell = cells.pop(max((chance.randrange(len(cells)) for _ in range(5)), key=lambda i: area(cells[i])))
        one, two = sorted(chance.sample(range(len(cell)), 2))
        new = []
        for i in (one, two):
            (a, line), (b, _) = cell[i], cell[(i + 1) % len(cell)]
            share = chance.uniform(0.3, 0.7)
            points.append(tuple(u + share * (v - u) for u, v in zip(points[a], points[b], strict=True)))  # type: ignore[arg-type]
            on_line[line].append(len(points) - 1)
            new.append(len(points) - 1)
        chord = len(on_line)
        on_line.append(list(new))
        cells.append([(new[0], cell[one][1]), *cell[one + 1 : two + 1], (new[1], chord)])
        cells.append([(new[1], cell[two][1]), *cell[two + 1 :], *cell[: one + 1], (new[0], chord)])
    pieces = []
    for line, numbers in enumerate(on_line):
        (x, y), (u, v) = points[numbers[0]], points[numbers[1]]
        numbers.sort(key=lambda n: (points[n][0] - x) * (u - x) + (points[n][1] - y) * (v - y))
        pieces += [Piece(a, b, line) for a, b in pairwise(numbers)]
    return build_block("large", "", points, pieces)


def grid(columns: int, rows: int) -> Block:
    """Whole lines across: columns x rows squares."""
    lines = [((x, 0), (x, rows)) for x in range(1, columns)] + [((0, y), (columns, y)) for y in range(1, rows)]
    return exact_block(lines, ((0, 0), (columns, 0), (columns, rows), (0, rows)))


def mixed_cells(seed: int, count: int) -> Block:
    """A grid of `count` cells each way, each plain, halved, with both diagonals, or with a sharp line in it."""
    chance, side = random.Random(seed), Fraction(6, count)
    lines: list[Line] = [((side * k, 0), (side * k, 6)) for k in range(1, count)]
    lines += [((0, side * k), (6, side * k)) for k in range(1, count)]
    for column, row in product(range(count), repeat=2):
        x, y = side * column, side * row
        corners = [(x, y), (x + side, y), (x + side, y + side), (x, y + side)]
        kind, turn = chance.choice(("plain", "plain", "half", "quarter", "sharp", "halved")), chance.randrange(4)
        a, b, c, d = corners[turn:] + corners[:turn]
        if kind in ("half", "quarter"):
            lines.append((a, c))
        if kind == "quarter":
            lines.append((b, d))
        if kind == "sharp":
            lines.append((a, _between(c, d, Fraction(1, 3))))
        if kind == "halved":
            lines.append((_between(a, b, Fraction(1, 2)), _between(c, d, Fraction(1, 2))))
    return exact_block(lines, name=f"cells {seed}")


def star(lines: int) -> Block:
    """`lines` whole lines through the middle of a square."""
    side = [(x, -12) for x in range(-12, 12)] + [(12, y) for y in range(-12, 12)]
    ends = [side[round(i * len(side) / lines)] for i in range(lines)]
    return exact_block([((x, y), (-x, -y)) for x, y in ends], ((-12, -12), (12, -12), (12, 12), (-12, 12)))


def spiral(strips: int, crossed: bool = False) -> Block:
    """A log cabin: a centre with `strips` strips laid round it; `crossed`: the centre is a four-patch."""
    size = strips // 2 + 4
    left, top, right, bottom = 0, 0, size, size
    lines: list[Line] = []
    for strip in range(strips):
        if strip % 4 == 0:
            top += 1
            lines.append(((left, top), (right, top)))
        elif strip % 4 == 1:
            right -= 1
            lines.append(((right, top), (right, bottom)))
        elif strip % 4 == 2:
            bottom -= 1
            lines.append(((left, bottom), (right, bottom)))
        else:
            left += 1
            lines.append(((left, top), (left, bottom)))
    middle_x, middle_y = Fraction(left + right, 2), Fraction(top + bottom, 2)
    if crossed:
        lines += [((middle_x, top), (middle_x, bottom)), ((left, middle_y), (right, middle_y))]
    corners: list[Point] = [(0, 0), (size, 0), (size, size), (0, size)]
    every = [*zip(corners, corners[1:] + corners[:1], strict=True), *lines]
    on: list[set[Point]] = [set(line) for line in every]
    if crossed:
        for stops in on[-2:]:
            stops.add((middle_x, middle_y))
    holders: dict[tuple[bool, Fraction | int], list[int]] = {}
    for i, ((x1, y1), (_, y2)) in enumerate(every):
        flat = y1 == y2
        holders.setdefault((flat, y1 if flat else x1), []).append(i)
    for line in every:
        for x, y in line:
            for i in holders.get((True, y), []) + holders.get((False, x), []):
                (x1, y1), (x2, y2) = sorted(every[i])
                if x1 <= x <= x2 and min(y1, y2) <= y <= max(y1, y2):
                    on[i].add((x, y))
    numbers: dict[Point, int] = {}
    pieces = [
        Piece(numbers.setdefault(a, len(numbers)), numbers.setdefault(b, len(numbers)), i)
        for i, stops in enumerate(on)
        for a, b in pairwise(sorted(stops))
    ]
    return build_block("spiral", "", [(float(x), float(y)) for x, y in numbers], pieces)


def rectangulations(points: int) -> Iterator[list[Line]]:
    """Lines of every division of a square by one segment, flat or upright, through each of n diagonal points.

    Segments do not cross; each ends on another or on the outline. Side of the square: n + 1; points at (i, i).
    """
    size = points + 1
    for flat in product((False, True), repeat=points):
        # Points are on the diagonal: segment i stands at i; its reach runs from low to high along its own way.
        def reaches(i: int, flat: tuple[bool, ...] = flat) -> Iterator[tuple[int, int]]:
            across = [j for j in range(1, size) if flat[j - 1] != flat[i - 1]]
            for low in [0, *(j for j in across if j < i)]:
                for high in [*(j for j in across if j > i), size]:
                    yield low, high

        def fits(i: int, j: int, one: tuple[int, int], two: tuple[int, int]) -> bool:
            """Segments i and j, of different ways, meet in a T where they meet at all."""
            inside_i, inside_j = one[0] < j < one[1], two[0] < i < two[1]
            ends_i, ends_j = j in one, i in two
            return not (inside_i and inside_j) and (not ends_i or inside_j) and (not ends_j or inside_i)

        def grow(chosen: list[tuple[int, int]], flat: tuple[bool, ...] = flat, reaches=reaches) -> Iterator[list]:  # type: ignore[no-untyped-def, type-arg]
            i = len(chosen) + 1
            if i == size:
                yield list(chosen)
                return
            for reach in reaches(i):
                if all(flat[j - 1] == flat[i - 1] or fits(i, j, reach, chosen[j - 1]) for j in range(1, i)):
                    yield from grow([*chosen, reach])

        for chosen in grow([]):
            yield [
                ((low, i), (high, i)) if flat[i - 1] else ((i, low), (i, high))
                for i, (low, high) in enumerate(chosen, start=1)
            ]


def rectangulation_block(lines: Sequence[Line]) -> Block:
    """The block of one of `rectangulations`."""
    size = len(lines) + 1
    return exact_block(lines, ((0, 0), (size, 0), (size, size), (0, size)))


def strip_of_triangles(triangles: int) -> Block:
    """A long rectangle cut by a zigzag into `triangles` triangles, the two at its ends half as wide."""
    lines: list[Line] = [((i, 2 * (i % 2)), (i + 1, 2 * ((i + 1) % 2))) for i in range(triangles - 1)]
    return exact_block(lines, ((0, 0), (triangles - 1, 0), (triangles - 1, 2), (0, 2)))


def mixed_blocks(seed: int, count: int, most_lines: int = 9) -> Iterator[Block]:
    """`count` small blocks of every kind and outline here, stuck ones among them."""
    chance = random.Random(seed)
    names = sorted(OUTLINES)
    for number in range(count):
        kind = number % 5
        sub = chance.randrange(2**32)
        if kind == 0:
            yield cut_block(sub, chance.randint(2, 2 * most_lines), CONVEX[chance.choice(sorted(CONVEX))])
        elif kind == 1:
            yield full_chords(sub, chance.randint(1, most_lines - 2), size=chance.choice((6, 60)))
        elif kind == 2:
            yield erased_lines(
                sub, chance.randint(3, most_lines), OUTLINES[chance.choice(names)], chance.random() / 2
            )
        else:
            yield random_lines(sub, chance.randint(1, most_lines), OUTLINES[chance.choice(names)], chance.random())


def _on_square(side: int, place: int, size: int) -> tuple[int, int]:
    return [(place, 0), (size, place), (place, size), (0, place)][side]


def _sides(outline: Outline) -> list[Line]:
    return list(zip(outline, [*outline[1:], outline[0]], strict=True))


def _between(a: Point, b: Point, share: Fraction) -> Point:
    return (a[0] + share * (b[0] - a[0]), a[1] + share * (b[1] - a[1]))


def _size(cell: Sequence[Point]) -> Fraction:
    return abs(
        sum((a[0] * b[1] - a[1] * b[0] for a, b in zip(cell, [*cell[1:], cell[0]], strict=True)), Fraction(0))
    )


def _open_runs(a: Point, b: Point, drawn: Sequence[Line], outline: Outline) -> list[list[Point]]:
    """The parts of the line through a and b inside the outline and on no drawn line, as their stops in order.

    A stop is a point where a drawn line crosses or touches; a run has two stops or more.
    """
    stops: set[tuple[Fraction, Fraction]] = set()
    covered: list[tuple[tuple[Fraction, Fraction], tuple[Fraction, Fraction]]] = []
    dx, dy = b[0] - a[0], b[1] - a[1]

    def side(p: Point) -> Fraction | int:
        return dx * (p[1] - a[1]) - dy * (p[0] - a[0])

    for c, d in drawn:
        sc, sd = side(c), side(d)
        ends = [(Fraction(p[0]), Fraction(p[1])) for p, s in ((c, sc), (d, sd)) if s == 0]
        stops.update(ends)
        if len(ends) == 2:
            covered.append((min(ends), max(ends)))
        elif sc * sd < 0:
            t = Fraction(sc, sc - sd)
            stops.add((c[0] + t * (d[0] - c[0]), c[1] + t * (d[1] - c[1])))
    runs: list[list[Point]] = []
    last: Point | None = None
    for p, q in pairwise(sorted(stops)):
        middle = ((p[0] + q[0]) / 2, (p[1] + q[1]) / 2)
        if any(low <= middle <= high for low, high in covered) or not _inside(middle, outline):
            continue
        if last == p:
            runs[-1].append(q)
        else:
            runs.append([p, q])
        last = q
    return runs


def _between_crossings(lines: Sequence[Line], outline: Outline, others: Sequence[Line] = ()) -> list[Line]:
    """The lines divided where any line or the outline meets them, each piece from its lower end."""
    every = [*lines, *others, *_sides(outline)]
    pieces = []
    for a, b in lines:
        low, high = sorted((exact_point(a), exact_point(b)))
        on = {low, high, *(p for c, d in every for p in meet(low, high, exact_point(c), exact_point(d)))}
        pieces += list(pairwise(sorted(on)))
    return pieces


def _inside(p: tuple[Fraction, Fraction], outline: Outline) -> bool:
    inside = False
    for (x1, y1), (x2, y2) in _sides(outline):
        if (y1 > p[1]) != (y2 > p[1]) and p[0] < x1 + (p[1] - y1) / Fraction(y2 - y1) * (x2 - x1):
            inside = not inside
    return inside
