"""Work that hurts whoever does it, for the tests of many drawings: functions that a process of its own can load."""

from __future__ import annotations

import os
import signal
import time

from seamwright.archive.model import Done, Job, State
from seamwright.processes import MEMORY


def work(what: str) -> str:
    """Answers with what it was asked, if it lives that long."""
    if what == "crash":
        os.kill(os.getpid(), signal.SIGKILL)
    if what == "hang":
        time.sleep(600)
    if what == "memory":
        bytearray(MEMORY)
    if what == "raise":
        raise ValueError(what)
    return what


def done(job: Job) -> Done:
    """As `work`, of a drawing that is called like what it does."""
    return Done(work(job.drawing), State.DONE, 0)


def lost(what: str, problem: BaseException) -> str:
    """What is told of work without an answer."""
    return f"{what}: {type(problem).__name__}"
