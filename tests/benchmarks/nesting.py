"""Sheets needed by our packing and by others', as a table: `python tests/benchmarks/nesting.py [--seconds N]`.

ours        `pack`, with the effort that a user gets, or that of `--effort`
boxes       bounding boxes turned by quarters, packed by rectpack: every heuristic it has, the best of them
least boxes the same with each print first turned to the angle at which its box is smallest
true shape  spyrrow, a general strip-nesting library, at any angle; sheet by sheet
area        no packing needs fewer: prints with half of their air do not overlap

All get the same prints, the same printable part and the same air of 1/4 in between trim lines. Furniture (check
squares, foot, keys, legends, long lines) is half of the problem, so everything is counted twice: on bare paper, and
with furniture. There the others get an easier sheet than we do: of all ways to say what a sheet must say they get
the one that takes least paper, as rectangles that may lie anywhere, and long lines are free.

The others are packed sheet by sheet, by the same search: the largest number of prints that goes on a sheet taken in
order (found by halving), then each further print that still goes on it; in several orders, the fewest sheets win.

Needs the packages of the extra `bench`. The true-shape library's budget is given in seconds only, so it needs quiet
cores: a quarter of an hour on two for bare paper. `--furnished` asks it for sheets with furniture too, which takes
as long again; `--keep FILE` keeps its results, so that ours can be measured again without it. Rows are printed as
they come; a table that was broken off is taken up where it stood by naming the same file.
"""

from __future__ import annotations

import argparse
import itertools
import json
import math
import multiprocessing
import os
import random
import sys
import threading
import time
from collections.abc import Callable, Sequence
from concurrent.futures import ProcessPoolExecutor
from dataclasses import dataclass, replace
from functools import partial
from pathlib import Path

from shapely.geometry import Polygon

ROOT = Path(__file__).parent.parent.parent
sys.path.insert(0, str(ROOT / "tests"))

from seamwright.block.make import make_block  # noqa: E402
from seamwright.drawing.read import read_drawing  # noqa: E402
from seamwright.foundation.make import foundations  # noqa: E402
from seamwright.geometry import Ring, bounds, moved  # noqa: E402
from seamwright.options import DEFAULT_EFFORT, PlanOptions, Size, Units  # noqa: E402
from seamwright.paper import paper  # noqa: E402
from seamwright.piecing.plan import plan  # noqa: E402
from seamwright.sheet.desk import Desk, Job, frame_of  # noqa: E402
from seamwright.sheet.nest import AIR_PT, angles, rotation  # noqa: E402
from seamwright.sheet.pack import least_sheets, pack  # noqa: E402
from seamwright.sheet.prints import prints_of  # noqa: E402
from support.random_blocks import large_cut_block  # noqa: E402

AIR = 2 * AIR_PT
mp = multiprocessing.get_context()
SIZES = {
    "anchor-flukes": (12, 18),
    "beacon": (12, 18),
    "compass-star": (12, 18),
    "gull": (12, 18),
    "kite": (12, 18),
    "lamp": (12,),
    "lighthouse-beam": (12, 18),
    "mooring-star": (12, 18),
    "pennant": (12,),
    "reef": (12,),
    "shoal": (12,),
    "spinnaker": (12, 18),
    "storm-rose": (9, 12, 18),
    "tide-chart": (12, 18),
    "whirlpool": (12,),
}
"""Finished sizes in inches of the designs that are sewn on paper."""
RANDOM = ((1, 12, 10), (2, 20, 12), (3, 30, 12), (4, 40, 12), (5, 30, 16))
"""Seed, patches, inches."""

Fits = Callable[[Sequence[int]], bool]
"""Whether these prints go on one sheet."""


@dataclass(frozen=True)
class Task:
    """Prints to be laid, and what their sheets look like."""

    rings: tuple[Ring, ...]
    desk: Desk
    furniture: bool

    @property
    def room(self) -> tuple[float, float]:
        """Width and height of the printable part."""
        frame = self.desk.frame
        return frame.width, frame.bottom - frame.top

    def items(self, numbers: Sequence[int]) -> list[tuple[float, float]]:
        """Width and height of what lies beside these prints: the least that will do, each item at its smallest."""
        if not self.furniture:
            return []
        wanted = self.desk.wants(numbers)
        while wanted.brief is not None:
            wanted = wanted.brief
        sizes = [(wanted.squares,), *([wanted.feet] if wanted.feet else []), *wanted.blocks]
        least = [min(size, key=lambda item: item.width * item.height) for size in sizes]
        return [(item.width, item.height) for item in least]

    def area(self, numbers: Sequence[int]) -> float:
        """What these prints and their furniture take, with their air."""
        prints = sum(Polygon(self.rings[n]).buffer(AIR_PT, quad_segs=4).area for n in numbers)
        return prints + sum((w + AIR) * (h + AIR) for w, h in self.items(numbers))


def main() -> None:
    parser = argparse.ArgumentParser(description="Sheets needed by our packing and by others'.")
    parser.add_argument("--seconds", type=int, default=1, help="for each sheet tried by the true-shape library")
    parser.add_argument("--keep", type=Path, help="file of its results, read and added to")
    parser.add_argument("--no-library", action="store_true", help="leave the true-shape library out")
    parser.add_argument("--furnished", action="store_true", help="ask that library for sheets with furniture too")
    # Six times the usual effort takes about 10 s a block, still less than the library is given.
    parser.add_argument("--effort", type=int, default=6 * DEFAULT_EFFORT, help="of our packing")
    parser.add_argument("--only", default="", help="blocks whose names begin so, several with commas")
    parser.add_argument("--workers", type=int, default=2, help="blocks measured at once")
    asked = parser.parse_args()
    kept = json.loads(asked.keep.read_text()) if asked.keep and asked.keep.exists() else {}
    names = [name for name in CASES if name.startswith(tuple(begin.strip() for begin in asked.only.split(",")))]
    if not names:
        parser.error(f"no block's name begins with {asked.only}; there are {', '.join(CASES)}")
    totals, rows = [[0] * 5, [0] * 5], 0
    print(f"{'':22}{'':8}{'bare paper':^36}{'with furniture':^36}")
    print(
        f"{'block':22}{'prints':>8}" + f"{'ours':>7}{'boxes':>7}{'least':>7}{'shape':>7}{'area':>7} " * 2,
        flush=True,
    )
    with ProcessPoolExecutor(asked.workers) as at_work:
        for row in at_work.map(measured, names, itertools.repeat(asked), itertools.repeat(kept)):
            rows += 1
            for total, counts in zip(totals, row.counts, strict=True):
                total[:] = [a + b for a, b in zip(total, counts, strict=True)]
            kept |= row.shape
            if asked.keep:
                asked.keep.write_text(json.dumps(kept, indent=1))
            cells = "".join(line(counts) for counts in row.counts)
            print(f"{row.name:22}{row.prints:8}{cells} {row.seconds[0]:5.1f} {row.seconds[1]:5.1f} s", flush=True)
    print(f"{'all':22}{rows:8}" + "".join(line(total) for total in totals))
    for what, total in zip(("bare paper", "with furniture"), totals, strict=True):
        ours, plain, least = total[:3]
        saved = f"{1 - ours / plain:.0%} fewer sheets than boxes, {1 - ours / least:.0%} fewer than least boxes"
        print(f"{what}: {saved}")


@dataclass(frozen=True)
class Row:
    """What one block needs: on bare paper, then with furniture.

    Attributes:
        counts: sheets of ours, boxes, least boxes, true shape (0: not asked), area.
        shape: results of the true-shape library, to be kept.
        seconds: processor time of our packing.
    """

    name: str
    prints: int
    counts: tuple[tuple[int, ...], ...]
    shape: dict[str, int]
    seconds: tuple[float, ...]


def measured(name: str, asked: argparse.Namespace, kept: dict[str, int]) -> Row:
    """A row of the table."""
    jobs = CASES[name]()
    counts, seconds, shape = [], [], {}
    for furniture in (False, True):
        task = task_of(jobs, furniture=furniture)
        begin = time.process_time()
        filled = pack(task.rings, task.desk.frame, task.desk.wants if furniture else None, asked.effort)
        seconds.append(time.process_time() - begin)
        assert filled is not None
        key = f"{name} {'furnished' if furniture else 'bare'}"
        if key in kept:
            shape[key] = kept[key]
        elif not asked.no_library and (asked.furnished or not furniture):
            shape[key] = true_shape(task, asked.seconds)
        bound = least_sheets(task.rings, task.desk.frame, furniture=furniture)
        counts.append((len(filled), boxes(task, least=False), boxes(task, least=True), shape.get(key, 0), bound))
    return Row(name, len(task.rings), tuple(counts), shape, tuple(seconds))


def line(cells: Sequence[int]) -> str:
    return "".join(f"{cell or '-':>7}" for cell in cells) + " "


def design(path: Path, size: int) -> Job:
    options = PlanOptions(size=Size(float(size)))
    planned = plan(make_block(read_drawing(path), options), options)
    return planned, foundations(planned)


def named(name: str, *sizes: int) -> list[Job]:
    (path,) = (ROOT / "designs").glob(f"{name}.*")
    return [design(path, size) for size in sizes]


def random_block(seed: int, patches: int, size: int) -> list[Job]:
    planned = plan(large_cut_block(seed, patches, size=float(size)), PlanOptions())
    return [(planned, foundations(planned))]


STARS = ("storm-rose", "mooring-star", "compass-star", "tide-chart")
CASES: dict[str, Callable[[], list[Job]]] = {
    **{f"{name} {size} in": partial(named, name, size) for name, sizes in SIZES.items() for size in sizes},
    **{f"random {seed} {size} in": partial(random_block, seed, patches, size) for seed, patches, size in RANDOM},
    "four stars 9 in": lambda: [job for name in STARS for job in named(name, 9)],
    "kite 6, 9, 12 in": partial(named, "kite", 6, 9, 12),
}
"""Thirty blocks and more, and two runs of several blocks at once."""


def task_of(jobs: list[Job], *, furniture: bool) -> Task:
    page = paper("letter")
    desk = Desk(jobs, page, frame_of(page), Units.INCH, brief=True)
    prints = tuple(p for number, (_, made) in enumerate(jobs) for f in made for p in prints_of(number, f, desk))
    return Task(tuple(p.ring for p in prints), replace(desk, prints=prints), furniture)


def by_sheets(task: Task, fits: Fits, orders: Sequence[Sequence[int]]) -> int:
    """Fewest sheets over several orders, each sheet filled as far as it goes before the next."""
    best = len(task.rings)
    for order in orders:
        left, sheets = list(order), 0
        while left and sheets < best:
            took = one_sheet(left, fits)
            left = [n for n in left if n not in took]
            sheets += 1
        best = min(best, sheets + len(left))
    return best


def one_sheet(left: Sequence[int], fits: Fits) -> set[int]:
    """As many from the front as go on a sheet, then whichever else does."""
    low, high = 1, len(left)
    while low < high:
        middle = (low + high + 1) // 2
        if fits(left[:middle]):
            low = middle
        else:
            high = middle - 1
    took = list(left[:low])
    misses = 0
    for number in left[low + 1 :]:
        if fits([*took, number]):
            took.append(number)
        else:
            misses += 1
            if misses == 4:
                break
    return set(took)


def by_area(task: Task) -> list[int]:
    return sorted(range(len(task.rings)), key=lambda n: -Polygon(task.rings[n]).area)


def boxes(task: Task, *, least: bool) -> int:
    """Sheets for the boxes of the prints, packed by rectpack."""
    import rectpack

    width, height = task.room

    def box(ring: Ring) -> tuple[float, float]:
        found = []
        for angle in angles(ring) if least else (0.0,):
            left, top, right, bottom = bounds([moved(rotation(angle), p) for p in ring])
            wide, high = right - left, bottom - top
            if (wide <= width and high <= height) or (high <= width and wide <= height):
                found.append((right - left, bottom - top))
        return min(found, key=lambda b: b[0] * b[1], default=(width, height))

    sizes = [box(ring) for ring in task.rings]
    algorithms = [
        getattr(rectpack, name)
        for name in (
            "MaxRectsBssf",
            "MaxRectsBl",
            "MaxRectsBaf",
            "GuillotineBssfSas",
            "GuillotineBafSlas",
            "SkylineBlWm",
        )
    ]

    def packed(rectangles: Sequence[tuple[float, float]], sheets: int) -> int:
        """Most rectangles that any heuristic lays on so many sheets."""
        most = 0
        for algorithm in algorithms:
            for sort in (rectpack.SORT_AREA, rectpack.SORT_LSIDE, rectpack.SORT_SSIDE):
                packer = rectpack.newPacker(pack_algo=algorithm, sort_algo=sort, rotation=True)
                for n, (w, h) in enumerate(rectangles):
                    packer.add_rect(math.ceil((w + AIR) * 100 - 1e-6), math.ceil((h + AIR) * 100 - 1e-6), n)
                for _ in range(sheets):
                    packer.add_bin(math.floor((width + AIR) * 100), math.floor((height + AIR) * 100))
                packer.pack()
                most = max(most, len(packer.rect_list()))
                if most == len(rectangles):
                    return most
        return most

    known: dict[frozenset[int], bool] = {}

    def fits(numbers: Sequence[int]) -> bool:
        key = frozenset(numbers)
        if key not in known:
            known[key] = fit(numbers)
        return known[key]

    def fit(numbers: Sequence[int]) -> bool:
        if sum((sizes[n][0] + AIR) * (sizes[n][1] + AIR) for n in numbers) > (width + AIR) * (height + AIR):
            return False
        rectangles = [*(sizes[n] for n in numbers), *task.items(numbers)]
        if sum((w + AIR) * (h + AIR) for w, h in rectangles) > (width + AIR) * (height + AIR):
            return False
        return packed(rectangles, 1) == len(rectangles)

    largest = sorted(range(len(sizes)), key=lambda n: -sizes[n][0] * sizes[n][1])
    longest = sorted(range(len(sizes)), key=lambda n: -max(sizes[n]))
    found = by_sheets(task, fits, [largest, longest, *shuffled(largest, 6)])
    if not task.furniture:
        while found > 1 and packed(sizes, found - 1) == len(sizes):
            found -= 1
    return found


def shuffled(order: Sequence[int], count: int) -> list[list[int]]:
    """Orders near a given one."""
    found = []
    for seed in range(count):
        chance = random.Random(seed)
        place = {n: k + chance.uniform(0, 4) for k, n in enumerate(order)}
        found.append(sorted(order, key=place.__getitem__))
    return found


def true_shape(task: Task, seconds: int) -> int:
    """Sheets for the outlines themselves, nested by spyrrow at any angle."""
    width, height = task.room
    asked: dict[frozenset[int], bool] = {}

    def strip(numbers: Sequence[int]) -> Strip:
        shapes: list[tuple[Ring, list[float] | None]] = [(task.rings[n], None) for n in numbers]
        shapes += [(((0.0, 0.0), (w, 0.0), (w, h), (0.0, h)), [0.0]) for w, h in task.items(numbers)]
        # The library keeps its separation from the sides of the strip too.
        return height + 2 * AIR + SLACK, shapes

    def fits(numbers: Sequence[int]) -> bool:
        key = frozenset(numbers)
        if key not in asked:
            asked[key] = task.area(numbers) <= (width + AIR) * (height + AIR)
            if asked[key]:
                one = mp.Process(target=solve_until, args=(strip(numbers), width + 2 * AIR + SLACK, seconds))
                one.start()
                one.join()
                asked[key] = one.exitcode == 0
        return asked[key]

    order = by_area(task)
    whole = mp.SimpleQueue()
    one = mp.Process(target=along, args=(strip(order), len(order), 5 * seconds, whole))
    one.start()
    one.join()
    orders = [order] if whole.empty() else [order, [order[k] for k in whole.get()]]
    return by_sheets(task, fits, orders)


Strip = tuple[float, list[tuple[Ring, "list[float] | None"]]]
"""Height, and outlines with the angles allowed."""


def solved(strip: Strip, seconds: int, reports=None):
    """The library's answer for a strip."""
    import spyrrow

    height, shapes = strip
    items = [spyrrow.Item(str(k), ring, 1, turns) for k, (ring, turns) in enumerate(shapes)]
    config = spyrrow.StripPackingConfig(
        min_items_separation=AIR, total_computation_time=seconds, num_workers=1, seed=1
    )
    return spyrrow.StripPackingInstance("sheet", height, items).solve(config, reports)


def along(strip: Strip, prints: int, seconds: int, answer) -> None:
    """The prints in the order in which they lie along one long strip; none if one is higher than the strip."""
    try:
        placed = solved(strip, seconds).placed_items
    except ValueError:
        return
    ends = []
    for one in placed:
        if int(one.id) < prints:
            ring = strip[1][int(one.id)][0]
            ends.append((one.translation[0] + min(moved(rotation(one.rotation), p)[0] for p in ring), int(one.id)))
    answer.put([number for _, number in sorted(ends)])


def solve_until(strip: Strip, width: float, seconds: int) -> None:
    """Ends this process: with 0 as soon as the strip is no longer than asked for, else with 1.

    The library itself never stops before its time.
    """
    import spyrrow

    kinds = spyrrow.ReportType
    feasible = (kinds.ExplFeas, kinds.CmprFeas, kinds.Final)
    reports = spyrrow.ProgressQueue()
    solver = threading.Thread(target=solved, args=(strip, seconds, reports), daemon=True)
    solver.start()
    while True:
        alive = solver.is_alive()
        if any(kind in feasible and found.width <= width for kind, found in reports.drain()):
            os._exit(0)
        if not alive:
            os._exit(1)
        time.sleep(0.01)


SLACK = 0.5
"""Points given to the library, whose answers are a little wider than they need to be."""


if __name__ == "__main__":
    main()
