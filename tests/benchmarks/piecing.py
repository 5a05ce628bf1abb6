"""Speed of the planner in detail, as ratios within one run: `python tests/benchmarks/piecing.py [LINES]`.

decision     cutting as far as it goes, against GEOS polygonizing the same lines, alone and with the planar map
fewest       fewest sections with exact ties, and memory, against the plain recursion memoised on patches
growth       exponent of the time over random cut blocks of 100, 400 and 1,600 patches
units        the time that leaving units off the paper takes beside the division itself
stopped      what a search that ends at its limit of steps knows, against the fewest

Printed as Markdown, with the machine it ran on, as it stands in src/seamwright/piecing/README.md. Nothing here is
a test: times on a shared machine say nothing alone, ratios do.
"""

from __future__ import annotations

import json
import math
import statistics
import subprocess
import sys
import time
from collections.abc import Callable
from dataclasses import replace

from measuring import machine, medians, peak_mb

from seamwright.block.model import Block
from seamwright.block.planar import Piece, build_block
from seamwright.geometry import off_line
from seamwright.options import Fit, PlanOptions, Rotary
from seamwright.piecing.decide import decide
from seamwright.piecing.divide import divide
from seamwright.piecing.plan import plan
from seamwright.piecing.rotary import divide_with_units
from seamwright.piecing.seammap import SeamMap
from support.random_blocks import grid, large_cut_block, lines_across, mixed_cells

ANY_SIZE = PlanOptions(fit=Fit.NONE)
"""The drawing alone: blocks of thousands of inches fit no sheet."""
STEPS = (1_000, 20_000, 200_000)
LARGE = 100
"""Lines of a block that no search goes through to the end."""


def main() -> None:
    if sys.argv[1:2] == ["--one"]:
        print(json.dumps(one(sys.argv[2], int(sys.argv[3]), int(sys.argv[4]))))
        return
    lines = int(sys.argv[1]) if len(sys.argv) > 1 else 36
    print(f"Measured on {machine()}.\n")
    print("| what | against | measured | asked for |\n| --- | --- | --- | --- |")
    decision("10,000 patches of T cuts", large_cut_block(1, 10_000))
    decision("100 x 100 grid", grid(100, 100))
    fewest(lines)
    growth()
    block = large_cut_block(1, 80)
    row("a plan of 80 patches, all of it", "", f"{median(lambda: plan(block, ANY_SIZE)) * 1000:.0f} ms", "")
    without_paper()
    print("\n| lines across, patches | steps | sections found | at least | fewest | time |")
    print("| --- | --- | --- | --- | --- | --- |")
    stopped(lines)
    stopped(LARGE)


def row(*cells: str) -> None:
    print("|", " | ".join(cells), "|", flush=True)


def decision(what: str, block: Block) -> None:
    from shapely import LineString, polygonize

    edges = [LineString([block.points[e.start], block.points[e.end]]) for e in block.edges]
    lines = {e: number for number, seam in enumerate(block.seams) for e in seam.edges}
    pieces = [Piece(e.start, e.end, lines.get(n, -1 - n)) for n, e in enumerate(block.edges)]
    points = list(block.points)
    seams = SeamMap(block)
    theirs, ours, mapped = medians(
        lambda: polygonize(edges),
        lambda: decide(seams),
        lambda: decide(SeamMap(build_block("map", "", points, pieces))),
    )
    against = f"GEOS polygonize of its {len(edges):,} edges"
    row(f"decision, {what}", against, f"{ours / theirs:.2f} times as long", "1 at most")
    row("the same with planar map and tables", against, f"{mapped / theirs:.2f} times as long", "4 at most")


def without_paper() -> None:
    """A division with units off the paper, beside the one without, of grids in which both kinds lie mixed."""
    block = mixed_cells(1, 12)
    seams, auto = SeamMap(block), replace(ANY_SIZE, rotary=Rotary.AUTO)
    base = divide(seams, ANY_SIZE)
    never, more = medians(lambda: divide(seams, ANY_SIZE), lambda: divide_with_units(seams, auto, base))
    units = len(divide_with_units(seams, auto, base).units)
    row(
        f"units off the paper: 12 x 12 cells, {len(block.patches)} patches, {units} units",
        "the division with all of it on paper",
        f"{(never + more) / never:.1f} times as long",
        "4 at most",
    )


def fewest(lines: int) -> None:
    ours = [alone("ours", lines, 0) for _ in range(3)]
    plain = alone("plain", lines, 0)
    assert {run["sections"] for run in (*ours, plain)} == {plain["sections"]}
    assert all(run["settled"] for run in ours)
    seconds = statistics.median(run["seconds"] for run in ours)
    memory = max(run["memory_mb"] for run in ours)
    row(
        f"{lines} lines across, {plain['patches']} patches: fewest ({plain['sections']}), exact ties included",
        f"plain recursion on patches ({plain['seconds']:.1f} s, {plain['memory_mb']:.0f} MB)",
        f"{seconds:.1f} s, {plain['seconds'] / seconds:.1f} times as fast; {memory:.0f} MB",
        "5 times; 1,000 MB at most",
    )


def stopped(lines: int) -> None:
    best = alone("ours", lines, 0) if lines < LARGE else None
    limits = STEPS if best else (*STEPS[1:], ANY_SIZE.steps)
    for steps in limits:
        run = alone("ours", lines, steps)
        known = str(best["sections"]) if best else "not known"
        cells = (
            f"{run['sections']}",
            f"{run['at_least']}",
            known,
            f"{run['seconds']:.1f} s, {run['memory_mb']:.0f} MB",
        )
        row(f"{lines}, {run['patches']:,}", f"{steps:,}", *cells)


def alone(who: str, lines: int, steps: int) -> dict[str, float]:
    """`one` in a process of its own, for its memory."""
    words = [sys.executable, __file__, "--one", who, str(lines), str(steps)]
    return json.loads(subprocess.run(words, check=True, capture_output=True, text=True).stdout)


def one(who: str, lines: int, steps: int) -> dict[str, float]:
    """Fewest sections of `lines` lines across, by us or by the plain recursion; 0 steps: as many as usual."""
    block = lines_across(1, lines)
    seams = SeamMap(block)
    begin = time.perf_counter()
    if who == "plain":
        found = {"sections": plain_recursion(block)[0]}
    else:
        division = divide(seams, PlanOptions(fit=Fit.NONE, steps=steps or ANY_SIZE.steps))
        found = {"sections": division.fewest, "at_least": division.at_least, "settled": division.ties_settled}
    seconds = time.perf_counter() - begin
    return {**found, "patches": len(block.patches), "seconds": seconds, "memory_mb": peak_mb()}


def growth() -> None:
    sizes = (100, 400, 1600)
    exponents = []
    for seed in range(5):
        times = []
        for size in sizes:
            seams = SeamMap(large_cut_block(seed, size))
            times.append(median(lambda seams=seams: divide(seams, ANY_SIZE)))
        exponents.append(
            statistics.linear_regression([math.log(n) for n in sizes], [math.log(t) for t in times])[0]
        )
    found = f"n^{statistics.median(exponents):.2f}, five seeds from {min(exponents):.2f} to {max(exponents):.2f}"
    row(
        "fewest with ties, random cut blocks of 100, 400, 1,600 patches", "growth with their number", found, "n^1.6"
    )


def plain_recursion(block: Block) -> tuple[int, int]:
    """(fewest sections, regions looked at) of a block of whole lines by the recursion as written, on patches."""
    sides = []
    for seam in block.seams:
        a, b = block.points[seam.points[0]], block.points[seam.points[-1]]
        left = 0
        for number in range(len(block.patches)):
            far = max((off_line(p, a, b) for p in block.patch_ring(number)), key=abs)
            left |= (far < 0) << number
        sides.append(left)
    known: dict[int, int] = {}

    def is_foundation(region: int) -> bool:
        while region & (region - 1):
            for left in sides:
                for side in (region & left, region & ~left):
                    if side and side != region and not side & (side - 1):
                        region ^= side
                        break
                else:
                    continue
                break
            else:
                return False
        return True

    def least(region: int) -> int:
        if region in known:
            return known[region]
        if is_foundation(region):
            known[region] = 1
            return 1
        best = region.bit_count()
        for left in sides:
            one = region & left
            if one and one != region:
                best = min(best, least(one) + least(region ^ one))
        known[region] = best
        return best

    # Right for whole lines only: every line that parts a region is a cut of it.
    return least((1 << len(block.patches)) - 1), len(known)


def median(call: Callable[[], object], rounds: int = 5) -> float:
    return medians(call, rounds=rounds)[0]


if __name__ == "__main__":
    main()
