"""The command, begun as a copy of a process that has loaded it already.

Half of what it takes to start the page's server is loading it, and each test in a browser has a server of its own.
So one process loads what `draw` needs, once for all tests of a worker; it has no threads, asks nothing and opens
nothing, and every copy of it is a process, session and command line of its own. Run as a program, this file is that
process. Tests of how the command itself begins and ends start it from nothing.
"""

from __future__ import annotations

import json
import os
import select
import signal
import socket
import subprocess
import sys
import tempfile
import time
from importlib import import_module
from importlib.util import find_spec
from typing import NoReturn

LOADED = (
    *("seamwright.commands.draw", "seamwright.page.serve", "seamwright.page.app", "seamwright.page.wire"),
    # What these load only when they run.
    *("anyio._backends._asyncio", "uvicorn.loops.asyncio", "uvicorn.lifespan.off"),
)


class Copy:
    """A running copy, to be talked to like a `subprocess.Popen`."""

    def __init__(self, pid: int, stdout: int, stderr: int) -> None:
        self.pid = pid
        self.stdout = open(stdout, encoding="utf-8")  # noqa: SIM115
        self._stderr = open(stderr, encoding="utf-8")  # noqa: SIM115

    def send_signal(self, how: signal.Signals) -> None:
        """A signal to it alone."""
        os.kill(self.pid, how)

    def communicate(self, timeout: float | None = None) -> tuple[str, str]:
        """What it said after its first line, once it and all its processes have ended.

        Raises:
            subprocess.TimeoutExpired: it has not by then.
        """
        end = None if timeout is None else time.monotonic() + timeout
        while True:
            left = None if end is None else end - time.monotonic()
            if (left is not None and left < 0) or not select.select([self.stdout], [], [], left)[0]:
                raise subprocess.TimeoutExpired("seamwright", timeout or 0)
            if not os.read(self.stdout.fileno(), 4096):
                break
        self._stderr.seek(0)
        said = self._stderr.read()
        self.stdout.close()
        self._stderr.close()
        return "", said


class Warm:
    """The process that is copied; ends with `close`, or with the process that made this."""

    def __init__(self) -> None:
        ours, theirs = socket.socketpair()
        self._asks = ours
        with theirs:
            command = [sys.executable, "-P", __file__, str(theirs.fileno())]
            self._loaded = subprocess.Popen(command, pass_fds=[theirs.fileno()], start_new_session=True)

    def copy(self, *words: str) -> Copy:
        """A copy of it that runs the command with these words."""
        stdout, writes = os.pipe()
        stderr = os.open(tempfile.gettempdir(), os.O_TMPFILE | os.O_RDWR | os.O_APPEND)
        try:
            socket.send_fds(self._asks, [json.dumps(words).encode()], [writes, stderr])
            return Copy(int(self._asks.recv(64)), stdout, stderr)
        finally:
            os.close(writes)

    def close(self) -> None:
        """Ends it; copies that still run are not ended."""
        self._asks.close()
        self._loaded.wait(20)


def _serve(asked: socket.socket) -> None:
    """Copies this process for each request, until nobody asks any more."""
    for name in LOADED:
        import_module(name)
    while True:
        words, files, _, _ = socket.recv_fds(asked, 65536, 2)
        if not words:
            return
        pid = os.fork()
        if not pid:
            asked.close()
            _run(json.loads(words), *files)
        for file in files:
            os.close(file)
        asked.send(str(pid).encode())
        while _one_ended():
            pass


def _one_ended() -> bool:
    """Whether a copy has ended since this was asked last."""
    try:
        return os.waitpid(-1, os.WNOHANG)[0] > 0
    except ChildProcessError:
        return False


def _run(words: list[str], stdout: int, stderr: int) -> NoReturn:
    """Becomes `python -m seamwright` with these words."""
    os.setsid()
    os.dup2(stdout, 1)
    os.dup2(stderr, 2)
    os.close(stdout)
    os.close(stderr)
    sys.stdout = sys.__stdout__ = open(1, "w", encoding="utf-8", closefd=False)  # noqa: SIM115
    sys.stderr = sys.__stderr__ = open(2, "w", encoding="utf-8", buffering=1, closefd=False)  # noqa: SIM115
    sys.argv[1:] = words
    # Its own processes look here for what they should load.
    sys.modules["__main__"].__spec__ = find_spec("seamwright.__main__")
    from seamwright.cli import run

    run()
    raise AssertionError("unreachable")


if __name__ == "__main__":
    with socket.socket(fileno=int(sys.argv[1])) as asked:
        _serve(asked)
