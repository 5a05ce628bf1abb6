"""The most memory that each stage holds, in a process of its own, beside a bare import of the libraries.

Knows:  a process for each stage: it makes what the stage takes, forgets its peak, does the stage, tells the peak.
Leaves: the stages (stages), how a peak is read (measuring).
Units:  megabytes (2^20 bytes).
Limits: where the system cannot forget a peak, a stage has that of all stages before it.
"""

from __future__ import annotations

import contextlib
import importlib
import json
import sys
from collections.abc import Sequence
from pathlib import Path

from measuring import peak_mb, process
from stages import LIBRARIES, STAGES, Bench

SIZES = (100, 1_000)


def table(sizes: Sequence[int] = SIZES, stages: Sequence[str] = tuple(STAGES)) -> None:
    """Prints a line for each stage: its peak at each size, and as a multiple of the bare import."""
    bare = json.loads(process(str(Path(__file__)), "--bare"))
    print("| stage | " + " | ".join(f"{size:,} patches" for size in sizes) + " |")
    print("| --- " * (len(sizes) + 1) + "|")
    print(f"| import {', '.join(LIBRARIES)} | " + " | ".join(f"{bare:.0f} MB" for _ in sizes) + " |", flush=True)
    for name in stages:
        peaks = [json.loads(process(str(Path(__file__)), name, str(size))) for size in sizes]
        cells = [f"{peak:.0f} MB, {peak / bare:.1f} times" for peak in peaks]
        print(f"| {name} | {' | '.join(cells)} |", flush=True)


def one(name: str, patches: int) -> float:
    """Peak of one stage in this process, which has loaded all libraries first."""
    load()
    bench = Bench(patches)
    names = list(STAGES)
    if name != names[0]:
        bench.through(names[names.index(name) - 1])
    forget_peak()
    bench.stage(name)()
    return peak_mb()


def load() -> None:
    """Imports what the stages load between them."""
    for library in LIBRARIES:
        importlib.import_module(library)


def forget_peak() -> None:
    """The peak is what is held now, where the system can do that (Linux: proc(5), clear_refs)."""
    with contextlib.suppress(OSError):
        Path("/proc/self/clear_refs").write_text("5")


if __name__ == "__main__":
    if sys.argv[1] == "--bare":
        load()
        print(peak_mb())
    else:
        print(one(sys.argv[1], int(sys.argv[2])))
