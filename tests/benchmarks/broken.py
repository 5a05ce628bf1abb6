"""Broken drawings: `python tests/benchmarks/broken.py [--seeds N] [--strengths S,...] [--cut N] [DESIGN...]`.

Every design, and blocks cut at random, drawn badly (support.sketchy) in every kind at rising strength, and what
came
back (support.asmeant): right, refused with a place, wrong but told, wrong without a word, refused without a place.
Strength is the farthest that a point lies off, as a share of the tolerance. The same seeds give the same table.
"""

from __future__ import annotations

import argparse
import sys
from collections import Counter
from concurrent.futures import ProcessPoolExecutor
from fractions import Fraction
from functools import partial
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parent.parent))

STRENGTHS = "1/10,1/3,1/2,3/4,1,3/2,2,3"


def main() -> None:
    """Prints the table."""
    from support.asmeant import OUTCOMES, RIGHT
    from support.prints import designs
    from support.sketchy import KINDS
    from support.trials import cut_names, tried

    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("designs", nargs="*", help="file names; all if none are given")
    parser.add_argument("--seeds", type=int, default=10, help="drawings of each design, kind and strength")
    parser.add_argument("--first", type=int, default=0, help="the first seed")
    parser.add_argument("--strengths", default=STRENGTHS, help=f"shares of the tolerance, such as {STRENGTHS}")
    parser.add_argument("--kinds", default=",".join(KINDS))
    parser.add_argument("--cut", type=int, default=20, help="how many blocks cut at random")
    parser.add_argument("--jobs", type=int, default=2)
    asked = parser.parse_args()
    strengths = [Fraction(s) for s in asked.strengths.split(",")]
    names = asked.designs or [path.name for path in designs()] + cut_names(asked.cut)
    seeds = range(asked.first, asked.first + asked.seeds)
    print(f"{len(names)} designs, {asked.seeds} drawings of each, seeds {seeds.start} to {seeds.stop - 1}")
    print(f"{'kind':10} {'strength':>8} " + " ".join(f"{what:>9}" for what in OUTCOMES) + "  worst design")
    with ProcessPoolExecutor(asked.jobs) as pool:
        for kind in asked.kinds.split(","):
            for strength in strengths:
                counts = list(pool.map(partial(tried, kind=kind, strength=strength, seeds=seeds), names))
                total = sum(counts, Counter())
                _, worst = min((count[RIGHT], name) for name, count in zip(names, counts, strict=True))
                right = min(count[RIGHT] for count in counts)
                row = " ".join(f"{total[what]:9}" for what in OUTCOMES)
                print(f"{kind:10} {strength!s:>8} {row}  {worst} {right}/{asked.seeds}", flush=True)


if __name__ == "__main__":
    main()
