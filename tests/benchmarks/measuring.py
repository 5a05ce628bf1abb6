"""How figures are taken: the thing and its floor in turn, medians, memory of a process of its own.

Knows:  rounds, ratios, a fresh Python with its bytecode at hand, the most memory a process held.
Leaves: what is measured (speed, growth, memory, page, quilt, piecing).
Units:  seconds, megabytes (2^20 bytes).
"""

from __future__ import annotations

import gc
import os
import platform
import resource
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


LEAST_S = 1e-6
"""What the clock tells apart."""


@dataclass(frozen=True)
class Figure:
    """One measured ratio, what it is measured against, and the most it should be (0: no limit of its own)."""

    what: str
    floor: str
    ratio: float
    at_most: float
    seconds: float


Clock = Callable[[], float]
elapsed: Clock = time.perf_counter
"""Seconds on the wall: for work that waits, or that several cores share."""


def spent() -> float:
    """Processor seconds of this process and of those it started that have ended; a busy machine adds little."""
    here, ended = resource.getrusage(resource.RUSAGE_SELF), resource.getrusage(resource.RUSAGE_CHILDREN)
    return here.ru_utime + here.ru_stime + ended.ru_utime + ended.ru_stime


def side_by_side(
    ours: Callable[[], object], floor: Callable[[], object], rounds: int, clock: Clock = spent
) -> tuple[float, float]:
    """(median ratio, median seconds of ours), taken in turn after one warm-up of each (none for a single round)."""
    if rounds > 1:
        ours()
        floor()
    gc.collect()
    times = [(timed(ours, clock), timed(floor, clock)) for _ in range(rounds)]
    return statistics.median(a / max(b, LEAST_S) for a, b in times), statistics.median(a for a, _ in times)


def medians(*calls: Callable[[], object], rounds: int = 5) -> list[float]:
    """Median processor seconds of each, taken in turn, so that a machine that slows down slows all.

    The collector of unused memory rests meanwhile, as with Python's own timeit.
    """
    gc.collect()
    gc.disable()
    try:
        times = [[timed(call, spent) for call in calls] for _ in range(rounds)]
    finally:
        gc.enable()
    return [statistics.median(taken) for taken in zip(*times, strict=True)]


def timed(call: Callable[[], object], clock: Clock = elapsed) -> float:
    """Seconds that it takes."""
    begin = clock()
    call()
    return clock() - begin


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
