"""How the cost of each stage grows with the number of patches.

Knows:  blocks of rising size, the processor time of each stage, the exponent between the sizes.
Leaves: the stages (stages), quilts (quilt).
Method: the exponent is the slope of log(time) over log(patches) through all sizes that take TOO_SHORT_S and more; a
        stage that took long at one size is not asked for larger ones, nor are those that take what it makes.
"""

from __future__ import annotations

import math
import statistics
import time
from collections.abc import Sequence

from stages import STAGES, Bench

from seamwright.errors import SeamwrightError

SIZES = (10, 100, 1_000, 10_000)
SIDES = (2, 6, 20, 60)
"""Blocks a side of the quilts; each has 80 patches."""
TOO_SHORT_S, TOO_LONG_S = 0.002, 60.0
ROUNDS = 3
"""Of stages that take less than a second; the least of the rounds counts."""


def table(sizes: Sequence[int] = SIZES, sides: Sequence[int] = SIDES) -> None:
    """Prints a line for each stage: seconds at each size, and the exponent."""
    found: dict[str, dict[int, float | str]] = {name: {} for name in STAGES}
    counts = []
    left_out: set[str] = set()
    for size in sizes:
        bench, stopped = Bench(size), False
        for name in STAGES:
            stopped = stopped or (name in left_out and name in NEEDED)
            if stopped or name in left_out:
                continue
            try:
                seconds = least(bench, name)
            except SeamwrightError as error:
                found[name][size], stopped = f"refused: {error.code}", True
                continue
            found[name][size] = seconds
            if seconds > TOO_LONG_S:
                left_out.add(name)
        counts.append(len(bench.block.patches) if bench.block else size)
    print("| stage | " + " | ".join(f"{count:,} patches" for count in counts) + " | grows with |")
    print("| --- " * (len(sizes) + 2) + "|")
    for name, row in found.items():
        line(name, counts, [row.get(size) for size in sizes])
    pictures(sides)


NEEDED = ("reading", "tidying", "planning", "foundations", "layout", "printing")
"""Stages that later ones take from."""


def least(bench: Bench, name: str) -> float:
    """Processor seconds of one stage."""
    taken = []
    while not taken or (len(taken) < ROUNDS and taken[0] < 1):
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
