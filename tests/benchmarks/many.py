"""Many drawings: what a process beside costs for each, what a second one gains, what waits in memory.

Knows:  a folder of drawings of 20 patches, checked by the command in a process of its own.
Leaves: rounds and ratios (measuring), the table they stand in (run, speed). `python tests/benchmarks/many.py`
        prints what is no ratio of two times: processor seconds, and the most memory of whoever asks.
Units:  seconds, megabytes (2^20 bytes).
"""

from __future__ import annotations

import os
import tempfile
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

from measuring import Figure, elapsed, environment, machine, peak_mb, process, side_by_side


def beside(small: bool) -> Figure:
    """`check FOLDER --jobs 1`, whose work is done by a process beside it, against a plain `check` of the same."""
    with drawings(2 if small else 200) as folder:
        names = sorted(map(str, folder.iterdir()))
        ratio, seconds = side_by_side(
            lambda: checked(str(folder), "--jobs", "1", "--json"),
            lambda: checked(*names, "--json"),
            rounds=1 if small else 5,
        )
    what = f"check of a folder of {len(names)}, one process"
    return Figure(what, "plain check of the same", ratio, 1.5, seconds)


def two_jobs(small: bool) -> Figure:
    """A second process against one: on two free cores half, start-up apart."""
    with drawings(2 if small else 200) as folder:
        ratio, seconds = side_by_side(
            lambda: checked(str(folder), "--jobs", "2"),
            lambda: checked(str(folder), "--jobs", "1"),
            rounds=1 if small else 5,
            clock=elapsed,
        )
    return Figure("check of a folder, --jobs 2", "--jobs 1", ratio, 0.75, seconds)


@contextmanager
def drawings(count: int) -> Iterator[Path]:
    """A folder of different drawings that can be sewn."""
    from speed import written

    from support.random_blocks import cut_block

    with tempfile.TemporaryDirectory() as name:
        for number in range(count):
            written(Path(name), cut_block(100 + number, 20), f"random-{number:05}")
        yield Path(name)


def checked(*words: str) -> None:
    """A check in a fresh process that comes to a good end."""
    process("-m", "seamwright", "check", *words)


def processor_seconds(*words: str) -> float:
    """What a check and all of its processes took of processors, however busy these are with others."""
    before = os.times()
    checked(*words)
    after = os.times()
    return after.children_user + after.children_system - before.children_user - before.children_system


def held(count: int) -> float:
    """The most memory of whoever asks for so many drawings and looks at each result."""
    from seamwright.many import check_many

    with drawings(1) as folder:
        (path,) = folder.iterdir()
        for done in check_many((path for _ in range(count)), jobs=2):
            assert done.exit_code == 0
    return peak_mb()


def main() -> None:
    """Prints the table."""
    with drawings(200) as folder:
        names = sorted(map(str, folder.iterdir()))
        ways = {"plain": (*names, "--json"), **{f"--jobs {n}": (str(folder), "--json", "--jobs", n) for n in "12"}}
        print("| check of 200 drawings | processor seconds |\n| --- | --- |")
        for name, words in ways.items():
            print(f"| {name} | {sorted(processor_seconds(*words) for _ in range(3))[1]:.2f} |", flush=True)
    print("\n| drawings asked for | most memory of whoever asks |\n| --- | --- |")
    for count in (100, 1000, 4000):
        here = str(Path(__file__).parent)
        code = f"import sys; sys.path.insert(0, {here!r}); import many; print(many.held({count}))"
        print(f"| {count:,} | {float(held_alone(code)):.0f} MB |", flush=True)
    print(f"\nMeasured on {machine()}.")


def held_alone(code: str) -> str:
    """What a script prints that may start processes."""
    with tempfile.TemporaryDirectory() as name:
        script = Path(name) / "held.py"
        script.write_text(f"if __name__ == '__main__':\n    {code}\n", encoding="utf-8")
        return process(str(script))


if __name__ == "__main__":
    os.environ.update(environment())
    main()
