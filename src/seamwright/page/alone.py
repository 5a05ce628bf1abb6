"""One change at a time in the folder of her designs, whoever makes it.

Knows:  a lock within this server, and one of the operating system between servers where it has such locks.
Leaves: what is changed (keeping).
"""

from __future__ import annotations

import contextlib
import os
import threading
import time
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import IO, TYPE_CHECKING

from seamwright.errors import FileError, SeamwrightError, fail
from seamwright.page.folder import KEPT, still_there

if TYPE_CHECKING:
    from types import ModuleType


LOCK_S = 10.0
"""For another server on the same folder to be done with its change."""


class Alone:
    """The lock of one folder; whoever holds it may take it again.

    Args:
        ready: makes the store that the lock lies beside.
    """

    def __init__(self, folder: Path, ready: Callable[[], None]) -> None:
        self._folder = folder
        self._file = folder / KEPT / "lock"
        self._ready = ready
        self._one = threading.RLock()
        self._depth = 0

    @contextlib.contextmanager
    def __call__(self, *, looking: bool = False) -> Iterator[None]:
        """Nobody else changes files of this folder meanwhile.

        Args:
            looking: nothing is written, so that the store is not made for it.

        Raises:
            FileError: another server has held it for too long, or there is no such folder to write in.
        """
        if not looking:
            still_there(self._folder)
        with self._one, contextlib.ExitStack() as held:
            lock, free = _system_lock(), True
            self._depth += 1
            held.callback(self._let_go)
            with contextlib.suppress(OSError, SeamwrightError):  # a folder that may only be read needs no lock
                if not looking:
                    self._ready()
                # Taken once: a second handle of this very process would wait for the first for ever.
                if lock is not None and self._depth == 1 and not self._file.parent.is_symlink():
                    how = os.O_WRONLY | os.O_APPEND | os.O_CREAT | os.O_NOFOLLOW | os.O_NONBLOCK
                    file = held.enter_context(open(os.open(self._file, how, 0o666), "ab"))
                    free = _got(lock, file)
            if not free:
                what = "another seamwright is busy in the folder of the designs and does not end"
                raise fail(FileError, "busy", what, "End the other one")
            yield

    def _let_go(self) -> None:
        self._depth -= 1


def _got(lock: ModuleType, file: IO[bytes]) -> bool:
    """Waits for a lock, but not for ever: whoever holds it may have been put to sleep. Whether it was had."""
    until = time.monotonic() + LOCK_S
    while True:
        try:
            lock.flock(file, lock.LOCK_EX | lock.LOCK_NB)
        except BlockingIOError:
            if time.monotonic() > until:
                return False
            time.sleep(0.005)
        else:
            return True


def _system_lock() -> ModuleType | None:
    try:
        import fcntl
    except ImportError:  # this operating system has none
        return None
    return fcntl
