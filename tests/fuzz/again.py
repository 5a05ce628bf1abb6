"""One input given to a reader once more, as it runs for a person: `python -m fuzz.again NAME FILE ...`.

Knows:  time and memory as they count; a process of its own, so that one input cannot harm the next.
Leaves: what is judged, and how (watch); what is read (targets).
"""

from __future__ import annotations

import resource
import subprocess
import sys
from pathlib import Path

TESTS = Path(__file__).parents[1]


def environment() -> dict[str, str]:
    """For processes of ours: the same order of sets in each, our sources and these tests."""
    import os

    paths = [str(TESTS), str(TESTS.parent / "src")]
    return {**os.environ, "PYTHONHASHSEED": "0", "PYTHONPATH": os.pathsep.join(paths)}


def stands(name: str, path: Path) -> str:
    """What a reader does wrong with a file, in a process of its own; "" for nothing."""
    words = [sys.executable, "-m", "fuzz.again", name, str(path)]
    done = subprocess.run(words, env=environment(), capture_output=True, text=True, errors="replace", timeout=600)
    if done.returncode in (0, 1):
        return done.stdout.strip()
    return f"the process ended with {done.returncode}\n{done.stderr[-2000:]}"


def bound_memory() -> None:
    """From now on this process may take so much more."""
    from fuzz.watch import MOST_BYTES

    pages = int(Path("/proc/self/statm").read_text(encoding="ascii").split()[0])
    most = pages * resource.getpagesize() + MOST_BYTES
    resource.setrlimit(resource.RLIMIT_AS, (most, most))


def main(name: str, paths: list[str]) -> int:
    """Judge files in turn; prints what is wrong, and returns 1 for anything."""
    from fuzz.targets import TARGETS
    from fuzz.watch import judged

    read = TARGETS[name].read
    for seed in TARGETS[name].seeds()[:10]:  # what is imported late does not count
        judged(read, seed, 60)
    bound_memory()
    wrong = 0
    for path in paths:
        finding = judged(read, Path(path).read_bytes())
        if finding is not None:
            wrong = 1
            print(f"{path}: {finding.sign}\n{finding.told}")
    return wrong


if __name__ == "__main__":
    sys.exit(main(sys.argv[1], sys.argv[2:]))
