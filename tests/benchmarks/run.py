"""Speed, growth and memory, each as one table: `python tests/benchmarks/run.py [NAME...] [--growth] [--memory]`.

Without options: each step of the tool against its floor, as ratios within one run; names choose some of them.
Every figure is the median of several rounds, the thing and its floor in turn, by processor seconds where nothing
waits, so that a busy machine changes little.
Nothing here is a test: times on a shared machine say nothing alone, ratios do. README.md beside this explains them.
"""

from __future__ import annotations

import argparse
from collections.abc import Sequence

from measuring import machine


def main(words: Sequence[str] | None = None) -> None:
    """Prints what is asked for."""
    from speed import FIGURES

    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument(
        "names", nargs="*", metavar="NAME", help=f"some of {', '.join(FIGURES)}; all if none is given"
    )
    parser.add_argument("--growth", action="store_true", help="seconds of each stage from 10 to 10,000 patches")
    parser.add_argument("--memory", action="store_true", help="the most memory of each stage")
    parser.add_argument("--small", action="store_true", help="each once, on little: only to see that it runs")
    asked = parser.parse_args(words)
    if unknown := [name for name in asked.names if name not in FIGURES]:
        parser.error(f"there is no figure {unknown[0]}; there are {', '.join(FIGURES)}")
    if asked.growth:
        from growth import SIDES, SIZES, table

        table(*(((10, 20), (1, 2)) if asked.small else (SIZES, SIDES)))
    if asked.memory:
        from memory import SIZES as HELD
        from memory import table as memory_table

        memory_table(*(((10,), ("tidying",)) if asked.small else (HELD,)))
    if asked.names or not (asked.growth or asked.memory):
        print("| what | against | ratio | at most | median |\n| --- | --- | --- | --- | --- |")
        for name in asked.names or FIGURES:
            figure = FIGURES[name](asked.small)
            most = f"{figure.at_most:g}" if figure.at_most else ""
            cells = (figure.what, figure.floor, f"{figure.ratio:.2f}", most, f"{figure.seconds * 1000:.1f} ms")
            print(f"| {' | '.join(cells)} |", flush=True)
    print(f"\nMeasured on {machine()}.")


if __name__ == "__main__":
    main()
