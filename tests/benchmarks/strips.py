"""Length of fabric that our strips take, against others: `python tests/benchmarks/strips.py [DESIGN ...]`.

ours     strips across the fabric, subcuts, what is left of a strip cut along
area     no cutting takes less: the area of all pieces over the width, and never less than the lowest piece
lines    strips and subcuts only, as an integer program: of every strip its width and how many of which piece lie in
         it, solved by CP-SAT of ortools where strips are few, else columns found by its linear solver (Gilmore and
         Gomory, "Multistage cutting stock problems of two and more dimensions", 1965) and then taken whole
through  rectpack, cutting right through again and again, in as many stages as it likes: the best of its ways, for
         up to 150 pieces, since it lays every piece by itself
boxes    rectpack, rectangles anywhere on the cloth: a rotary cutter cannot cut all of that

Each design is counted fabric by fabric, and once more as if all of it were of one fabric: then many kinds share
their strips. Ratios are of sums over a design's fabrics. `worst` is our length over the
shortest that can be cut, lines or through. Where rectpack finds nothing shorter than ours its ratio is 1.
Straightening is in none of them. The integer programs have seconds, so only they depend on the machine.

Needs the packages of the extras `test` and `bench`.
"""

from __future__ import annotations

import argparse
import math
import random
import sys
from collections.abc import Iterator, Sequence
from pathlib import Path

import rectpack
from ortools.linear_solver import pywraplp
from ortools.sat.python import cp_model

ROOT = Path(__file__).parent.parent.parent

from seamwright.api import plan, read_block  # noqa: E402
from seamwright.cutting.amounts import USABLE_IN  # noqa: E402
from seamwright.cutting.band import length_of  # noqa: E402
from seamwright.cutting.fill import Kind  # noqa: E402
from seamwright.cutting.pieces import pieces_of  # noqa: E402
from seamwright.cutting.rows import rows_of, ticks, whole_ticks  # noqa: E402
from seamwright.cutting.strips import pack  # noqa: E402
from seamwright.options import Units  # noqa: E402

BLOCKS = (1, 12, 100)
NO_LIMIT = 10**9
MOST_BOXES = 150
STEP = 4
"""Heights are tried by a quarter of an inch."""
ANYWHERE = (rectpack.MaxRectsBl, rectpack.MaxRectsBssf, rectpack.MaxRectsBaf, rectpack.SkylineMwf)
THROUGH = (
    *(rectpack.GuillotineBssfSas, rectpack.GuillotineBssfMinas, rectpack.GuillotineBssfLlas),
    *(rectpack.GuillotineBlsfSas, rectpack.GuillotineBafSas, rectpack.GuillotineBafMinas),
)
MOST_LEVELS = 14
"""More strips than these are left to columns."""


def main() -> None:
    """Prints the table, rows as they come."""
    asked = argparse.ArgumentParser(description="Compares the length of fabric that strips take.")
    asked.add_argument(
        "designs", nargs="*", help="names of designs (default: all that can be sewn, and random ones)"
    )
    asked.add_argument("--seconds", type=float, default=5.0, help="for each integer program (default: 5)")
    given = asked.parse_args()
    titles = f"{'/ area':>8}{'/ lines':>9}{'/through':>9}{'/ boxes':>9}{'worst':>7}"
    print(f"{'':25}{'blocks':>7}{'kinds':>6}{'inches':>9}{titles}")
    worst = 0.0
    for name, fabrics, length in _jobs(given.designs):
        for blocks in BLOCKS:
            kinds = [[Kind(k.along, k.across, k.count * blocks, k.turns) for k in each] for each in fabrics]
            worst = max(worst, _row(name, blocks, kinds, length, given.seconds))
    print(f"our length over the better of the others, at worst: {worst:.3f}")


def _row(name: str, blocks: int, fabrics: Sequence[Sequence[Kind]], length: int, seconds: float) -> float:
    ours = area = lines = better = 0
    packed: dict[str, list[tuple[int, int]]] = {"through": [], "boxes": []}
    for kinds in fabrics:
        mine = length_of(pack(kinds, length, NO_LIMIT))
        other = _lines(kinds, length, mine, seconds)
        ours, area, lines = ours + mine, area + _area(kinds, length), lines + other
        for way, ways in (("through", THROUGH), ("boxes", ANYWHERE)):
            height = _packed(kinds, length, mine, ways)
            packed[way] += [] if height is None else [(mine, height)]
            other = min(other, height or other) if way == "through" else other
        better += other
    ratios = [f"{sum(m for m, _ in p) / sum(b for _, b in p):9.3f}" if p else " " * 9 for p in packed.values()]
    number = max(map(len, fabrics))
    print(
        f"{name:28}{blocks:4}{number:6}{ours / 16:9.2f}{ours / area:8.3f}{ours / lines:9.3f}{''.join(ratios)}"
        f"{ours / better:7.3f}",
        flush=True,
    )
    return ours / better


def _jobs(designs: Sequence[str]) -> Iterator[tuple[str, list[list[Kind]], int]]:
    """(name, kinds of each fabric for one block, length of a strip in ticks)."""
    length = whole_ticks(USABLE_IN[Units.INCH], Units.INCH)
    for path in sorted((ROOT / "designs").iterdir()):
        if path.suffix not in (".svg", ".seams") or (designs and path.stem not in designs):
            continue
        made = plan(read_block(path))
        if not made.sections:
            continue
        pieces = pieces_of(made)
        names = list(dict.fromkeys(piece.fabric for piece in pieces))
        by_fabric = [[p for p in pieces if p.fabric == name] for name in names]
        yield path.stem, [_kinds(each) for each in by_fabric], length
        yield f"{path.stem}, one fabric", [_kinds(pieces)], length
    for seed in () if designs else (1, 2, 3):
        chance = random.Random(seed)
        kinds = [
            Kind(chance.randrange(6, 40) * 4, chance.randrange(6, 24) * 4, chance.choice((1, 1, 2, 4)), True)
            for _ in range((5, 15, 40)[seed - 1])
        ]
        yield f"random {seed}", [kinds], length


def _kinds(pieces: Sequence[object]) -> list[Kind]:
    rows = rows_of([(piece, 1) for piece in pieces], Units.INCH)  # type: ignore[misc]
    return [
        Kind(ticks(r.width_in, Units.INCH), ticks(r.height_in, Units.INCH), r.cuts, not r.one_way) for r in rows
    ]


def _ways(kind: Kind) -> list[tuple[int, int]]:
    """(along, across) of each way it may lie."""
    return list(dict.fromkeys([(kind.along, kind.across)] + [(kind.across, kind.along)] * kind.turns))


def _area(kinds: Sequence[Kind], length: int) -> int:
    lowest = max(min(across for along, across in _ways(k) if along <= length) for k in kinds)
    return max(lowest, math.ceil(sum(k.along * k.across * k.count for k in kinds) / length))


def _lines(kinds: Sequence[Kind], length: int, ours: int, seconds: float) -> int:
    """The least length of strips and subcuts that an integer program finds."""
    lowest = min(min(_ways(k), key=lambda way: way[1])[1] for k in kinds)
    levels = min(sum(k.count for k in kinds), -(-ours // lowest))
    if levels > MOST_LEVELS:
        return _columns(kinds, length, seconds)
    model = cp_model.CpModel()
    most = max(max(way) for k in kinds for way in _ways(k))
    widths = [model.new_int_var(0, most, f"w{level}") for level in range(levels)]
    reach: list[list[object]] = [[] for _ in range(levels)]
    for kind in kinds:
        all_of_it = []
        for along, across in _ways(kind):
            for level in range(levels):
                number = model.new_int_var(0, min(kind.count, length // along), "n")
                here = model.new_bool_var("h")
                model.add(number == 0).only_enforce_if(~here)
                model.add(widths[level] >= across).only_enforce_if(here)
                reach[level].append(along * number)
                all_of_it.append(number)
        model.add(sum(all_of_it) == kind.count)
    for level in range(levels):
        model.add(sum(reach[level]) <= length)  # type: ignore[arg-type]
        if level:
            model.add(widths[level - 1] >= widths[level])
    model.minimize(sum(widths))
    solver = cp_model.CpSolver()
    solver.parameters.max_time_in_seconds = seconds
    solver.parameters.num_workers = 2
    found = solver.solve(model)
    return round(solver.objective_value) if found in (cp_model.OPTIMAL, cp_model.FEASIBLE) else NO_LIMIT


def _columns(kinds: Sequence[Kind], length: int, seconds: float) -> int:
    """Ways to fill a strip, found one by one by what they save, then so many of each in whole numbers."""
    widths = sorted({across for kind in kinds for _, across in _ways(kind)})
    columns: set[tuple[int, tuple[int, ...]]] = set()
    for number, kind in enumerate(kinds):
        for along, across in _ways(kind):
            if along <= length:
                fill = tuple(min(kind.count, length // along) * (n == number) for n in range(len(kinds)))
                columns.add((across, fill))
    while True:
        _, prices = _master(kinds, sorted(columns), "GLOP", seconds)
        new = set()
        for width in widths:
            worth, fill = _knapsack(kinds, prices, width, length)
            if worth > width + 1e-6:
                new.add((width, fill))
        if not new - columns:
            break
        columns |= new
    return round(_master(kinds, sorted(columns), "SCIP", seconds * 3)[0])


def _master(
    kinds: Sequence[Kind], columns: Sequence[tuple[int, tuple[int, ...]]], solver: str, seconds: float
) -> tuple[float, list[float]]:
    program = pywraplp.Solver.CreateSolver(solver)
    program.set_time_limit(int(seconds * 1000))
    new = program.NumVar if solver == "GLOP" else program.IntVar
    uses = [new(0, program.infinity(), "") for _ in columns]
    needs = [
        program.Add(sum(fill[n] * use for (_, fill), use in zip(columns, uses, strict=True)) >= kind.count)
        for n, kind in enumerate(kinds)
    ]
    program.Minimize(sum(width * use for (width, _), use in zip(columns, uses, strict=True)))
    found = program.Solve()
    if found not in (pywraplp.Solver.OPTIMAL, pywraplp.Solver.FEASIBLE):
        return NO_LIMIT, []
    return program.Objective().Value(), [need.dual_value() for need in needs] if solver == "GLOP" else []


def _knapsack(
    kinds: Sequence[Kind], prices: Sequence[float], width: int, length: int
) -> tuple[float, tuple[int, ...]]:
    """The fill of a strip that is worth most at these prices, each kind as often as fits."""
    ways = [(n, along) for n, k in enumerate(kinds) for along, across in _ways(k) if across <= width]
    step = math.gcd(length, *(along for _, along in ways)) if ways else length
    best, last = [0.0] * (length // step + 1), [-1] * (length // step + 1)
    for at in range(1, len(best)):
        best[at], last[at] = best[at - 1], -1
        for n, along in ways:
            if along // step <= at and best[at - along // step] + prices[n] > best[at] + 1e-12:
                best[at], last[at] = best[at - along // step] + prices[n], n * 1000000 + along // step
    fill, at = [0] * len(kinds), len(best) - 1
    while at > 0:
        if last[at] < 0:
            at -= 1
        else:
            fill[last[at] // 1000000] += 1
            at -= last[at] % 1000000
    return best[-1], tuple(fill)


def _packed(kinds: Sequence[Kind], length: int, most: int, ways: Sequence[object]) -> int | None:
    """The least height at which rectpack lays all pieces, `most` if none is less; None for too many pieces."""
    if sum(k.count for k in kinds) > MOST_BOXES or not all(k.turns for k in kinds):
        return None
    for height in range(_area(kinds, length), most, STEP):
        for way in ways:
            for order in (rectpack.SORT_AREA, rectpack.SORT_LSIDE, rectpack.SORT_SSIDE, rectpack.SORT_PERI):
                packer = rectpack.newPacker(
                    rectpack.PackingMode.Offline, pack_algo=way, sort_algo=order, rotation=True
                )
                packer.add_bin(length, height)
                for kind in kinds:
                    for _ in range(kind.count):
                        packer.add_rect(kind.along, kind.across)
                packer.pack()
                if len(packer.rect_list()) == sum(k.count for k in kinds):
                    return height
    return most


if __name__ == "__main__":
    sys.exit(main())
