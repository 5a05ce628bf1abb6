"""How figures are taken: the thing and its floor in turn, medians, memory of a process of its own.

Knows:  rounds, ratios, a fresh Python with its bytecode at hand, the most memory a process held.
Leaves: what is measured (speed, growth, memory, page, quilt, piecing).
Units:  seconds, megabytes (2^20 bytes).
"""

from __future__ import annotations

import gc
import os
import platform
import statistics
import subprocess
import sys
import time
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path

ROOT = Path(__file__).parent.parent.parent
if str(ROOT / "tests") not in sys.path:
    sys.path.insert(0, str(ROOT / "tests"))


@dataclass(frozen=True)
class Figure:
    """One measured ratio, what it is measured against, and the most it should be (0: no limit of its own)."""

    what: str
    floor: str
    ratio: float
    at_most: float
    seconds: float


def side_by_side(ours: Callable[[], object], floor: Callable[[], object], rounds: int) -> tuple[float, float]:
    """(median ratio, median seconds of ours), taken in turn after one warm-up of each (none for a single round)."""
    if rounds > 1:
        ours()
        floor()
    gc.collect()
    times = [(timed(ours), timed(floor)) for _ in range(rounds)]
    return statistics.median(a / b for a, b in times), statistics.median(a for a, _ in times)


def medians(*calls: Callable[[], object], rounds: int = 5) -> list[float]:
    """Median seconds of each, taken in turn, so that a machine that slows down slows all."""
    gc.collect()
    times = [[timed(call) for call in calls] for _ in range(rounds)]
    return [statistics.median(taken) for taken in zip(*times, strict=True)]


def timed(call: Callable[[], object]) -> float:
    """Seconds that it takes; the collector of unused memory rests meanwhile, as with Python's own timeit."""
    gc.disable()
    begin = time.perf_counter()
    try:
        call()
        return time.perf_counter() - begin
    finally:
        gc.enable()


def process(*words: str) -> str:
    """What a fresh Python prints; whatever it is told to do must be done."""
    done = subprocess.run([sys.executable, *words], check=True, capture_output=True, text=True, env=environment())
    return done.stdout


def environment() -> dict[str, str]:
    """Of a Python that finds our modules and may keep their bytecode: else each start would compile them."""
    given = {**os.environ, "PYTHONPATH": os.pathsep.join([str(ROOT / "src"), str(ROOT / "tests")])}
    given.pop("PYTHONDONTWRITEBYTECODE", None)
    return given


def peak_mb() -> float:
    """Most memory that this process held, since its start or since `forget_peak`."""
    status = Path("/proc/self/status")
    if status.exists():  # getrusage counts what the process held that started this one
        (line,) = (line for line in status.read_text().splitlines() if line.startswith("VmHWM"))
        return int(line.split()[1]) / 1024
    import resource

    most = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss
    return most / 1024 / (1024 if sys.platform == "darwin" else 1)


def machine() -> str:
    """Processor, cores, Python."""
    name = platform.processor() or platform.machine()
    info = Path("/proc/cpuinfo")
    if info.exists():
        names = [line.partition(":")[2].strip() for line in info.read_text().splitlines() if "model name" in line]
        name = f"{names[0]}, {len(names)} cores" if names else name
    return f"{name}, Python {platform.python_version()}"
