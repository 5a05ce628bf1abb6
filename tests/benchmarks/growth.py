"""How the cost of each stage grows with the number of patches.

Knows:  blocks of rising size, the processor time of each stage, the exponent between the sizes.
Leaves: the stages (stages), quilts (quilt).
Method: the exponent is the slope of log(time) over log(patches) through all sizes that take TOO_SHORT_S and more. A
        stage that is likely to take more than TOO_LONG_S at a size is left out there, and whatever takes from it.
"""

from __future__ import annotations

import math
import statistics
import sys
import time
from collections.abc import Mapping, Sequence

from stages import STAGES, Bench

from seamwright.errors import SeamwrightError

SIZES = (10, 100, 1_000, 3_000, 10_000)
SIDES = (2, 6, 20, 60)
"""Blocks a side of the quilts; each has 80 patches."""
TOO_SHORT_S, TOO_LONG_S = 0.002, 12.0
ROUNDS, LONG_S = 3, 0.3
"""Of stages that take less than LONG_S; the least of the rounds counts."""


def table(sizes: Sequence[int] = SIZES, sides: Sequence[int] = SIDES) -> None:
    """Prints a line for each stage: seconds at each size, and the exponent; meanwhile each as it comes, for the
    impatient."""
    found: dict[str, dict[int, float | str]] = {name: {} for name in STAGES}
    counts: list[int] = []
    for size in sizes:
        bench = Bench(size)
        for name in STAGES:
            if expected(found[name], size) > TOO_LONG_S:
                if name in NEEDED:
                    break
                continue
            try:
                found[name][size] = least(bench, name)
            except SeamwrightError as error:
                found[name][size] = f"refused ({error.code})"
                break
            print(f"{size:,} patches, {name}: {found[name][size]:.3f} s", file=sys.stderr, flush=True)
        counts.append(len(bench.block.patches) if bench.block else size)
    print("| stage | " + " | ".join(f"{count:,} patches" for count in counts) + " | grows with |")
    print("| --- " * (len(sizes) + 2) + "|")
    for name, row in found.items():
        line(name, counts, [row.get(size) for size in sizes])
    pictures(sides)


NEEDED = ("reading", "tidying", "planning", "foundations", "layout", "printing")
"""Stages that later ones take from."""


def expected(known: Mapping[int, float | str], size: int) -> float:
    """Seconds that a stage is likely to take, from the last two sizes."""
    past = [(count, seconds) for count, seconds in known.items() if isinstance(seconds, float)][-2:]
    if not past:
        return 0.0
    power = 1.0
    if len(past) == 2:
        (few, short), (many, long) = past
        power = max(power, math.log(long / short) / math.log(many / few))
    return past[-1][1] * (size / past[-1][0]) ** power


def least(bench: Bench, name: str) -> float:
    """Processor seconds of one stage."""
    taken = []
    while not taken or (len(taken) < ROUNDS and taken[0] < LONG_S):
        begin = time.process_time()
        bench.stage(name)()
        taken.append(time.process_time() - begin)
    return min(taken)


def line(name: str, counts: Sequence[int], row: Sequence[float | str | None]) -> None:
    """A row of the table."""
    cells = [one if isinstance(one, str) else "" if one is None else f"{one:.3f} s" for one in row]
    print(f"| {name} | {' | '.join(cells)} | {exponent(counts, row)} |", flush=True)


def exponent(counts: Sequence[int], row: Sequence[float | str | None]) -> str:
    """The power of the number of patches by which the time grows; nothing of fewer than two times."""
    known = [
        (math.log(count), math.log(seconds))
        for count, seconds in zip(counts, row, strict=True)
        if isinstance(seconds, float) and seconds >= TOO_SHORT_S
    ]
    if len(known) < 2:
        return ""
    return f"n^{statistics.linear_regression(*zip(*known, strict=True)).slope:.2f}"


def pictures(sides: Sequence[int]) -> None:
    """Prints a table of its own for pictures of quilts."""
    from quilt import PATCHES, chart_quilt

    from seamwright.quiltpictures import quilt_svg

    counts, row = [], []
    for side in sides:
        made, _ = chart_quilt(side)
        begin = time.process_time()
        quilt_svg(made)
        row.append(time.process_time() - begin)
        counts.append(side * side * PATCHES)
    print("\n| quilt | " + " | ".join(f"{side * side:,} blocks" for side in sides) + " | grows with |")
    print("| --- " * (len(sides) + 2) + "|")
    line("picture", counts, row)
