"""Work that takes long or may hang, done by processes of its own that can be stopped.

Knows:  how many processes there are, how long one piece of work may take, how much memory, how much may wait.
Leaves: what is done (functions of this package that take and return plain values).
Units:  seconds, bytes.
Method: a process that exceeds its time, or whose answer nobody waits for any more, is ended and made anew; the
        server itself never stands still. Work is handed over as a function of a module and picklable values, and
        changes nothing outside of itself: what was lost with its process may be done once more.
Limits: where the system has no limit of memory for a process (Windows), there is none.
"""

from __future__ import annotations

import asyncio
import multiprocessing
import os
import signal
import threading
from collections.abc import Callable, Iterator
from concurrent.futures import InvalidStateError
from concurrent.futures.process import BrokenProcessPool
from contextlib import contextmanager, suppress
from importlib import import_module
from multiprocessing import resource_tracker
from pathlib import Path
from types import TracebackType
from typing import Any, Self, TypeVar

from pebble import ProcessExpired, ProcessFuture, ProcessPool

from seamwright.errors import OptionError, SeamwrightError, fail, unexpected

_Made = TypeVar("_Made")

LIMIT_S = 60.0
"""Longest time for one piece of work, unless it states its own."""
MEMORY = 6_000_000_000
"""Address space of one process: three times what the largest drawing took that may be read."""
QUICK_S = 30.0
"""What may take longer than this leaves one process free: a verdict does not wait behind a print."""
MOST_WAITING = 40
"""Pieces of work under way and waiting, all together."""


class _Asked(ProcessFuture[Any]):
    """What a piece of work comes to. It may be taken back at any moment, also while the answer arrives.

    The library looks whether it was taken back and sets the answer after that: what is taken back between the two
    would end the thread that hands out all answers, and nothing would be answered any more.
    """

    def set_result(self, result: Any) -> None:
        with suppress(InvalidStateError):
            super().set_result(result)

    def set_exception(self, exception: BaseException | None) -> None:
        with suppress(InvalidStateError):
            super().set_exception(exception)

    def set_running_or_notify_cancel(self) -> bool:
        with suppress(RuntimeError):
            return bool(super().set_running_or_notify_cancel())
        return False


class Workers:
    """Processes that do one piece of work each at a time.

    Args:
        folder: the only one whose files they may read; None for any.
        count: 0 for as many as this computer bears.
    """

    def __init__(self, folder: Path | None = None, count: int = 0) -> None:
        self._folder = folder
        self._count = count or max(2, min(4, (os.cpu_count() or 2) - 1))
        self._pool = self._new_pool()
        self._under_way = 0
        self._long = asyncio.Semaphore(max(1, self._count - 1))

    def start(self) -> None:
        """Starts the processes, so that the first piece of work need not wait for them."""
        with suppress(RuntimeError), _without_interrupts():
            self._pool.schedule(int)

    async def run(self, work: Callable[..., _Made], *values: Any, limit_s: float = LIMIT_S) -> _Made:
        """What `work` makes of values.

        Raises:
            SeamwrightError: what `work` raised, that it took longer than its limit or more memory than there is, or
                that too much waits already.
        """
        if self._under_way >= MOST_WAITING:
            raise fail(OptionError, "busy", "too much is under way at once", "Wait a moment, then try again")
        self._under_way += 1
        try:
            if limit_s <= QUICK_S:
                return await self._done(work, values, limit_s)
            async with self._long:
                return await self._done(work, values, limit_s)
        except TimeoutError:
            what = f"this took longer than {limit_s:g} seconds and was stopped"
            raise fail(OptionError, "too long", what, "Make the drawing simpler, or ask the command line") from None
        except (ProcessExpired, MemoryError):
            what = "this needed more memory than there is, or the computer ended it"
            raise fail(
                OptionError, "ended", what, "Try again; if it comes back, make the drawing simpler"
            ) from None
        except SeamwrightError:
            raise
        except Exception as problem:
            raise unexpected(problem) from problem
        finally:
            self._under_way -= 1

    async def _done(self, work: Callable[..., _Made], values: tuple[Any, ...], limit_s: float) -> _Made:
        for last in (False, True):
            pool = self._pool
            try:
                # cancelled with whoever waits for it
                with _without_interrupts():
                    future = pool.schedule(work, args=values, timeout=limit_s)
                future.__class__ = _Asked
                made: _Made = await asyncio.wrap_future(future)
                return made
            except (BrokenProcessPool, RuntimeError) as problem:
                # A process that idled was ended from outside: the pool gives up, another takes its place.
                if last or (isinstance(problem, RuntimeError) and pool.active):
                    raise
                if self._pool is pool:
                    self._pool = self._new_pool()
                    threading.Thread(target=_end, args=(pool,), daemon=True).start()
        raise AssertionError("unreachable")

    def _new_pool(self) -> ProcessPool:
        context = multiprocessing.get_context("spawn")
        return ProcessPool(self._count, initializer=begin, initargs=(self._folder,), context=context)

    def __enter__(self) -> Self:
        return self

    def __exit__(
        self, kind: type[BaseException] | None, problem: BaseException | None, trace: TracebackType | None
    ) -> None:
        _end(self._pool)


@contextmanager
def _without_interrupts() -> Iterator[None]:
    """What is started meanwhile never hears Ctrl-C, from its first moment on, which a terminal sends to all."""
    if not hasattr(signal, "pthread_sigmask"):  # this operating system has none
        yield
        return
    resource_tracker.ensure_running()  # starting it lets interrupts in again
    before = signal.pthread_sigmask(signal.SIG_BLOCK, {signal.SIGINT})
    try:
        yield
    finally:
        signal.pthread_sigmask(signal.SIG_SETMASK, before)


def _end(pool: ProcessPool) -> None:
    pool.stop()
    with suppress(RuntimeError, OSError):
        pool.join()


def begin(folder: Path | None) -> None:
    """A process begins: what every verdict needs is loaded before the first one is asked for.

    Ctrl-C is the server's to answer; an order to end is followed at once, also inside a library; and the process
    goes when the server went without a word. Whatever path a drawing names, it reads in `folder` alone.
    """
    from seamwright.drawing.read import only_within

    signal.signal(signal.SIGINT, signal.SIG_IGN)
    signal.signal(signal.SIGTERM, signal.SIG_DFL)
    threading.Thread(target=_follow_parent, daemon=True).start()
    with suppress(ImportError, ValueError, OSError):
        import resource

        most = resource.getrlimit(resource.RLIMIT_AS)[1]
        wanted = MEMORY if most == resource.RLIM_INFINITY else min(MEMORY, most)
        resource.setrlimit(resource.RLIMIT_AS, (wanted, most))
    with suppress(OSError):  # where memory runs out the system ends this first, and neither server nor browser
        Path("/proc/self/oom_score_adj").write_text("500")
    if folder is not None:
        only_within(folder)
    for module in ("api", "block.make", "piecing.plan", "proof.checker", "claims.plans", "mend.find", "page.shown"):
        import_module(f"seamwright.{module}")


def _follow_parent() -> None:
    parent = multiprocessing.parent_process()
    if parent is not None:
        parent.join()
        os._exit(1)
