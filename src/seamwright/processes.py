"""Processes of this computer for work that may take long, hang or fall over: one piece of work never harms another.

Knows:  how a process begins, what memory it may take, that Ctrl-C is not its business, what becomes of work whose
        process was lost.
Leaves: what is done (functions of a module, with values that can be pickled), in which order (many, page.workers).
Units:  seconds, bytes.
Method: the pool ends the process of whatever exceeds its time and starts another; work is handed over one piece at
        a time, so a process that ends takes one piece of work with it and no more.
Limits: where the system has no limit of memory for a process (Windows), there is none.
"""

from __future__ import annotations

import multiprocessing
import os
import signal
import threading
from collections.abc import Callable, Iterator, Sequence
from concurrent.futures import Executor, Future, InvalidStateError
from contextlib import contextmanager, suppress
from importlib import import_module
from multiprocessing import resource_tracker
from pathlib import Path
from typing import Any, ParamSpec, TypeVar

from pebble import ProcessFuture, ProcessPool

MEMORY = 6_000_000_000
"""Address space of one process: three times what the largest drawing took that may be read."""
MOST = 256
"""Processes at most: more than any one computer has use for."""
PLANNING = ("api", "block.make", "piecing.plan", "proof.checker", "claims.plans", "mend.find")
"""What every verdict needs."""

_P = ParamSpec("_P")
_T = TypeVar("_T")


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


class Processes(Executor):
    """An executor whose work cannot harm each other: what hangs, falls over or takes all memory goes alone.

    A future of it raises TimeoutError for work that took longer than its limit, and `pebble.ProcessExpired` for
    work whose process ended.

    Args:
        count: how many processes, 1 to MOST.
        limit_s: longest time for one piece of work; None: none.
        modules: of this package, loaded before the first piece of work begins, so that they are in nobody's time.
    """

    def __init__(self, count: int, limit_s: float | None = None, modules: Sequence[str] = PLANNING) -> None:
        self.count, self.limit_s, self._modules = count, limit_s, tuple(modules)
        self._pool = new_pool(count, None, self._modules)

    def submit(self, fn: Callable[_P, _T], /, *args: _P.args, **kwargs: _P.kwargs) -> Future[_T]:
        """As every executor.

        Raises:
            BrokenProcessPool: a process that idled was ended from outside, and the pool with it.
        """
        return scheduled(self._pool, fn, args, kwargs, self.limit_s)

    def anew(self) -> Processes:
        """Another one alike, and an end of this one."""
        self.shutdown()
        return Processes(self.count, self.limit_s, self._modules)

    def shutdown(self, wait: bool = True, *, cancel_futures: bool = False) -> None:
        """Ends all processes; work under way is lost, for whoever wants its answer asks for that first."""
        end(self._pool)


def new_pool(count: int, folder: Path | None = None, modules: Sequence[str] = PLANNING) -> ProcessPool:
    """Processes that have not begun yet; `folder`, `modules`: as for `begin`."""
    # A process that were copied from a server with its threads might hold their locks for ever.
    context = multiprocessing.get_context("spawn")
    return ProcessPool(count, initializer=begin, initargs=(folder, tuple(modules)), context=context)


def scheduled(
    pool: ProcessPool,
    work: Callable[..., Any],
    args: Sequence[Any],
    kwargs: dict[str, Any],
    limit_s: float | None,
) -> Future[Any]:
    """A piece of work handed over; processes are started for the first one."""
    with _without_interrupts():
        future = pool.schedule(work, args=args, kwargs=kwargs, timeout=limit_s)
    future.__class__ = _Asked
    return future


def end(pool: ProcessPool) -> None:
    """Ends all processes of a pool, whatever they do."""
    pool.stop()
    with suppress(RuntimeError, OSError):
        pool.join()


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


def begin(folder: Path | None, modules: Sequence[str] = PLANNING) -> None:
    """A process begins: what its work needs is loaded before the first piece of it is asked for.

    Ctrl-C is its parent's to answer; an order to end is followed at once, also inside a library; and the process
    goes when its parent went without a word. Whatever path a drawing names, it reads in `folder` alone, if one is
    given.
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
    with suppress(OSError):  # where memory runs out the system ends this first, and neither parent nor browser
        Path("/proc/self/oom_score_adj").write_text("500")
    if folder is not None:
        only_within(folder)
    for module in modules:
        # One that is broken is told by the work that needs it; here it would end the process for nothing.
        with suppress(Exception):
            import_module(f"seamwright.{module}")


def _follow_parent() -> None:
    parent = multiprocessing.parent_process()
    if parent is not None:
        parent.join()
        os._exit(1)
