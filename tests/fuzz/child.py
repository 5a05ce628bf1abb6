"""One reader under libFuzzer, in a process of its own: `python -m fuzz.child NAME FOLDER [options of libFuzzer]`.

Knows:  how the fuzzer is set up; findings are kept as files, one an error, and the run goes on.
Leaves: what to run, for how long, and what is said of it (run).
Limits: needs atheris. Memory is bounded by the system, above what the process has once all is imported.
"""

from __future__ import annotations

import hashlib
import sys
from pathlib import Path

sys.dont_write_bytecode = True
SLOWED = 3
"""Instrumented code is so many times slower at the most: what is not done by then is tried again without."""


def main(name: str, folder: Path, options: list[str]) -> None:
    """Fuzz until libFuzzer ends; what is found lies in `folder`/found."""
    import atheris

    from fuzz.again import bound_memory

    atheris.enabled_hooks.add("str")  # not "RegEx": its patterns refuse to begin in the middle of a text
    with atheris.instrument_imports(include=["seamwright"]):
        from fuzz.targets import TARGETS
        from fuzz.watch import LONGEST_S, judged

        target, found = TARGETS[name], folder / "found"
        for seed in target.seeds():  # what is imported late is imported now, and instrumented
            judged(target.read, seed, 60)
    known: set[str] = set()
    bound_memory()

    def one(data: bytes) -> None:
        finding = judged(target.read, data, SLOWED * LONGEST_S)
        if finding is not None and finding.sign not in known:
            known.add(finding.sign)
            path = found / hashlib.sha256(finding.sign.encode()).hexdigest()[:12]
            path.write_bytes(data)
            path.with_suffix(".txt").write_text(f"{finding.sign}\n\n{finding.told}\n", encoding="utf-8")

    atheris.Setup([sys.argv[0], *options], one)
    atheris.Fuzz()


if __name__ == "__main__":
    main(sys.argv[1], Path(sys.argv[2]), sys.argv[3:])
