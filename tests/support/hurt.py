"""Work that hurts whoever does it, for the tests of many drawings: functions that a process of its own can load."""

from __future__ import annotations

import os
import signal
import time

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


def lost(what: str, problem: BaseException) -> str:
    """What is told of work without an answer."""
    return f"{what}: {type(problem).__name__}"
