"""Speed of the planner as ratios within one run: `python tests/benchmarks/piecing.py [LINES]`.

decision     cutting as far as it goes, against GEOS polygonizing the same lines
fewest       fewest sections with exact ties, against the plain recursion memoised on patches
growth       exponent of the time over random cut blocks of 100, 400 and 1,600 patches
"""

from __future__ import annotations

import math
import statistics
import sys
import time
from collections.abc import Callable
from pathlib import Path

ROOT = Path(__file__).parent.parent.parent
sys.path.insert(0, str(ROOT / "tests"))

from seamwright.block.model import Block  # noqa: E402
from seamwright.geometry import off_line  # noqa: E402
from seamwright.options import Fit, PlanOptions  # noqa: E402
from seamwright.piecing.decide import decide  # noqa: E402
from seamwright.piecing.divide import divide  # noqa: E402
from seamwright.piecing.plan import plan  # noqa: E402
from seamwright.piecing.seammap import SeamMap  # noqa: E402
from support.random_blocks import full_chords, grid, large_cut_block  # noqa: E402

ANY_SIZE = PlanOptions(fit=Fit.NONE)
"""The drawing alone: blocks of thousands of inches fit no sheet."""


def main() -> None:
    lines = int(sys.argv[1]) if len(sys.argv) > 1 else 30
    decision("10,000 patches of T cuts", large_cut_block(1, 10_000))
    decision("100 x 100 grid", grid(100, 100))
    fewest(lines)
    growth()
    block = large_cut_block(1, 80)
    print(f"one plan of 80 patches: {median(lambda: plan(block, ANY_SIZE)) * 1000:.1f} ms")


def decision(what: str, block: Block) -> None:
    from shapely import LineString, polygonize

    edges = [LineString([block.points[e.start], block.points[e.end]]) for e in block.edges]
    seams = SeamMap(block)
    ours, theirs = median(lambda: decide(seams)), median(lambda: polygonize(edges))
    with_map = median(lambda: decide(SeamMap(block)))
    print(
        f"decision, {what}: {ours * 1000:.0f} ms, {ours / theirs:.2f} of polygonize "
        f"({with_map / theirs:.2f} with the tables of the seam map)"
    )


def fewest(lines: int) -> None:
    block = full_chords(1, lines, 10_000)
    seams = SeamMap(block)
    begin = time.perf_counter()
    division = divide(seams, ANY_SIZE)
    ours = time.perf_counter() - begin
    begin = time.perf_counter()
    least, states = plain_recursion(block)
    plain = time.perf_counter() - begin
    assert division.sections == division.at_least == least and division.ties_settled
    print(
        f"fewest, {lines} lines, {len(block.patches)} patches, {least} sections: {ours:.2f} s with ties, "
        f"{plain / ours:.1f} times as fast as the plain recursion ({states} regions, {plain:.2f} s)"
    )


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
    print(f"growth over {sizes} patches: n^{statistics.median(exponents):.2f} (five seeds)")


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
    times = []
    for _ in range(rounds):
        begin = time.perf_counter()
        call()
        times.append(time.perf_counter() - begin)
    return statistics.median(times)


if __name__ == "__main__":
    main()
