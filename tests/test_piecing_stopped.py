"""A search that is stopped: by Ctrl-C, by the clock, by its number of steps."""

from __future__ import annotations

import json
import os
import pty
import signal
import subprocess
import sys
import time
from pathlib import Path

import pytest

from seamwright.claims.plans import claim_of
from seamwright.options import Fit, PlanOptions
from seamwright.piecing.budget import Budget, OutOfSteps, Watch
from seamwright.piecing.plan import plan
from seamwright.proof.checker import check
from support.heavy import heavy_drawing
from support.random_blocks import full_chords, grid

# Started from a script in the background, a process may find interrupts switched off: switch them on.
COMMAND = "from signal import *; signal(SIGINT, default_int_handler); from seamwright.cli import run; run()"
# Tells on standard output when the search begins: an interrupt sent before would end the program.
TELLING = """
import seamwright.piecing.divide as divide
Facts = divide.Facts
divide.Facts = lambda seams: print("searching", flush=True) or Facts(seams)
"""


@pytest.fixture(autouse=True)
def interrupts_are_heard():
    """Also where the tests themselves were started in the background."""
    before = signal.signal(signal.SIGINT, signal.default_int_handler)
    yield
    signal.signal(signal.SIGINT, before)


def _stopped(*words: str, times: int = 1) -> subprocess.CompletedProcess[str]:
    """`seamwright words`, interrupted as soon as it has searched for a moment."""
    with subprocess.Popen(
        [sys.executable, "-c", TELLING + COMMAND, *words], stdout=subprocess.PIPE, stderr=subprocess.PIPE, text=True
    ) as running:
        assert running.stdout is not None
        assert running.stdout.readline() == "searching\n"
        for _ in range(times):
            time.sleep(0.5)
            running.send_signal(signal.SIGINT)
        out, err = running.communicate(timeout=100)
    return subprocess.CompletedProcess(words, running.returncode, out, err)


def test_ctrl_c_gives_the_best_so_far_with_its_bound(tmp_path: Path) -> None:
    drawing = str(heavy_drawing(tmp_path, 40))
    done = _stopped("check", drawing, "--json", "--fit", "none")
    assert (done.returncode, done.stderr) == (0, "")
    (found,) = json.loads(done.stdout)
    fewest = found["fewest"]
    assert found["pieceable"]
    assert fewest["ended_by"] == "stopped"
    assert not fewest["proven"]
    assert not fewest["ties_settled"]
    assert 2 < fewest["at_least"] < fewest["sections"] == len(found["sections"]) < 1.15 * fewest["at_least"]
    assert "stopped" in [note["code"] for note in found["notes"]]


def test_after_ctrl_c_the_other_drawings_are_left_and_that_is_told(tmp_path: Path) -> None:
    drawing = str(heavy_drawing(tmp_path, 40))
    done = _stopped("check", drawing, drawing, drawing, "--fit", "none")
    assert done.returncode == 130
    assert done.stderr == "seamwright: stopped; 2 of 3 drawings were not looked at\n"
    assert done.stdout.count("Can be sewn") == 1
    assert "Note: you stopped the search" in done.stdout
    assert "You stopped the search: " in done.stdout.splitlines()[-1]


def test_half_of_what_should_be_printed_is_not_printed_after_ctrl_c(tmp_path: Path) -> None:
    drawing, out = str(heavy_drawing(tmp_path, 40)), tmp_path / "out.pdf"
    done = _stopped("foundations", drawing, drawing, "-o", str(out), "--fit", "none")
    assert done.returncode == 130
    assert done.stderr == "seamwright: stopped; no file was left half-written\n"
    assert not out.exists()


def test_a_second_ctrl_c_ends_the_program() -> None:
    # The search looks away for long after the first one.
    code = (
        "import time, seamwright.piecing.budget as b\n"
        "from signal import *; signal(SIGINT, default_int_handler)\n"
        "with b.Watch().listening():\n print('searching', flush=True)\n for _ in range(100): time.sleep(0.1)"
    )
    with subprocess.Popen([sys.executable, "-c", code], stdout=subprocess.PIPE, stderr=subprocess.PIPE) as running:
        assert running.stdout is not None
        running.stdout.readline()
        running.send_signal(signal.SIGINT)
        time.sleep(0.3)
        assert running.poll() is None
        running.send_signal(signal.SIGINT)
        _, err = running.communicate(timeout=5)
    assert b"KeyboardInterrupt" in err


def test_a_terminal_is_told_how_far_the_search_is_and_how_to_end_it(tmp_path: Path) -> None:
    drawing = str(heavy_drawing(tmp_path, 40))
    ours, theirs = pty.openpty()
    with subprocess.Popen(
        [sys.executable, "-c", COMMAND, "check", drawing, "--fit", "none", "--seconds", "3"],
        stdout=subprocess.DEVNULL,
        stderr=theirs,
        env={**os.environ, "COLUMNS": "200"},
    ) as running:
        os.close(theirs)
        shown = b""
        try:
            while more := os.read(ours, 4096):
                shown += more
        except OSError:  # the other end is closed
            pass
    os.close(ours)
    assert running.returncode == 0
    assert b"Ctrl-C takes the best so far of " in shown


def test_the_clock_ends_a_search_and_says_so() -> None:
    from seamwright.options import PlanOptions

    made = plan(full_chords(4, 30, 1000), PlanOptions(seconds=0.0))
    assert made.fewest is not None
    assert made.fewest.ended == "seconds"
    settled = plan(grid(3, 3), PlanOptions(seconds=100.0)).fewest
    assert settled is not None
    assert (settled.ended, settled.proven, settled.ties_settled) == ("", True, True)


def test_one_watch_ends_all_searches_of_a_plan() -> None:
    watch = Watch()
    first, second = Budget(10, None, watch), Budget(1000, None, watch)
    for _ in range(10):
        first.spend()
    with pytest.raises(OutOfSteps):
        first.spend()
    assert (first.ended, second.ended, watch.ended) == ("steps", "", "")
    second.spend(999)
    watch.end("stopped")
    with pytest.raises(OutOfSteps):
        second.spend()
    assert (first.ended, second.ended) == ("steps", "stopped")
    with pytest.raises(OutOfSteps):
        Budget(1000, None, watch).spend()


def test_interrupts_are_as_they_were_outside_a_search() -> None:
    before = signal.getsignal(signal.SIGINT)
    with Watch().listening():
        pass
    assert signal.getsignal(signal.SIGINT) is before

    def own(number: int, frame: object) -> None:
        """Somebody's own rule for the key."""

    signal.signal(signal.SIGINT, own)
    try:
        with Watch().listening():
            assert signal.getsignal(signal.SIGINT) is own
    finally:
        signal.signal(signal.SIGINT, before)


def test_a_search_under_limits_that_is_stopped_says_so() -> None:
    block, limited = full_chords(1, 16, 9_000), PlanOptions(fit=Fit.NONE, max_patches=4)
    looked_at: list[int] = []
    plan(block, PlanOptions(fit=Fit.NONE), looked_at.append)
    before = len(looked_at)
    calls: list[int] = []

    def progress(regions: int) -> None:
        calls.append(regions)
        if len(calls) == before + 2:  # the search without limits is over by then
            signal.raise_signal(signal.SIGINT)

    made = plan(block, limited, progress)
    assert len(calls) >= before + 2
    assert made.fewest is not None and made.fewest.ended == "stopped"
    assert "stopped" in [note.code for note in made.notes]
    check(claim_of(made))
