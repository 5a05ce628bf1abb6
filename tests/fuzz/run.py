"""Fuzz our readers: `python tests/fuzz/run.py --seconds 3600`, or `--runs 2000` for the same inputs each time.

Knows:  what is run for how long, what is told of it; what is found is tried again without the fuzzer before it
        counts.
Leaves: readers (targets), one of them under the fuzzer (child), what they may not do (watch).
Units:  seconds.
Limits: Linux, with atheris (the extra `test` brings it).
"""

from __future__ import annotations

import argparse
import re
import subprocess
import sys
import tempfile
from dataclasses import dataclass
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parents[1]))

from fuzz.again import environment, stands
from fuzz.seeds import dictionary
from fuzz.targets import TARGETS, Target


@dataclass(frozen=True, slots=True)
class Ran:
    """What came of fuzzing one reader.

    Attributes:
        inputs: how many were tried.
        branches: of our code that they went through, as libFuzzer counts them.
        kept: inputs that each went where none before had gone.
        findings: (file, what is wrong).
    """

    inputs: int
    branches: int
    kept: int
    findings: tuple[tuple[Path, str], ...]


def fuzz(name: str, folder: Path, *, runs: int = 0, seconds: int = 0, seed: int = 1) -> Ran:
    """Fuzz one reader; what it is given and what is found stay in a folder.

    Args:
        runs: inputs to try beside the seeds; 0 for as many as there is time for. seconds: 0 for no end.

    Raises:
        RuntimeError: the fuzzer itself did not run.
    """
    target, corpus, found = TARGETS[name], folder / "corpus", folder / "found"
    for needed in (corpus, found):
        needed.mkdir(parents=True, exist_ok=True)
    for number, data in enumerate(target.seeds()):
        (corpus / f"seed-{number:03}").write_bytes(data[: target.longest])
    tokens = folder / "tokens"
    tokens.write_text(dictionary(), encoding="ascii")
    words = [sys.executable, "-m", "fuzz.child", name, str(folder), f"-seed={seed}", f"-max_len={target.longest}"]
    words += [f"-dict={tokens}", f"-artifact_prefix={found}/", "-timeout=300", "-rss_limit_mb=0", "-len_control=20"]
    words += [f"-runs={runs or -1}"]
    words += [f"-max_total_time={seconds}"] if seconds else []
    done = subprocess.run(
        [*words, str(corpus)], env=environment(), capture_output=True, text=True, errors="replace"
    )
    (folder / "log").write_text(done.stderr, encoding="utf-8")
    tried = re.findall(r"^#(\d+)\s+\w+\s+cov: (\d+) ft: \d+ corp: (\d+)", done.stderr, re.MULTILINE)
    if not tried:
        raise RuntimeError(f"{name}: the fuzzer did not run\n{done.stderr[-3000:]}")
    inputs, branches, kept = map(int, tried[-1])
    wrong = [(path, stands(name, path)) for path in sorted(found.iterdir()) if path.suffix != ".txt"]
    if done.returncode and not wrong:
        raise RuntimeError(f"{name}: the fuzzer ended with {done.returncode}\n{done.stderr[-3000:]}")
    return Ran(inputs, branches, kept, tuple((path, told) for path, told in wrong if told))


def main() -> int:
    """Fuzz all readers in turn and tell what came of it; 1 if anything is wrong."""
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("--seconds", type=int, default=0, help="for all readers together")
    parser.add_argument(
        "--runs", type=int, default=0, help="inputs for each reader; without both those of the tests"
    )
    parser.add_argument("--target", action="append", choices=sorted(TARGETS), help="only these")
    parser.add_argument("--seed", type=int, default=1, help="another number, other inputs")
    parser.add_argument("--folder", type=Path, help="where inputs are kept, to go on from another time")
    asked = parser.parse_args()
    folder = asked.folder or Path(tempfile.mkdtemp(prefix="fuzz-"))
    chosen: dict[str, Target] = {name: TARGETS[name] for name in asked.target or TARGETS}
    shares = sum(target.share for target in chosen.values())
    wrong = 0
    print(f"{'reader':10} {'inputs':>10} {'branches':>9} {'kept':>6}  findings (all in {folder})")
    for name, target in chosen.items():
        seconds = round(asked.seconds * target.share / shares)
        runs = asked.runs or (0 if seconds else target.quick)
        ran = fuzz(name, folder / name, runs=runs, seconds=seconds, seed=asked.seed)
        print(f"{name:10} {ran.inputs:10,} {ran.branches:9,} {ran.kept:6,}  {len(ran.findings)}", flush=True)
        for path, told in ran.findings:
            wrong = 1
            print(f"  {path}\n    " + told.replace("\n", "\n    "), flush=True)
    return wrong


if __name__ == "__main__":
    sys.exit(main())
