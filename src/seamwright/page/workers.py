"""Work that takes long or may hang, done by processes of its own that can be stopped.

Knows:  how many processes there are, how long one piece of work may take, how much may wait.
Leaves: how a process begins and ends (processes), what is done (functions of this package that take and
        return plain values).
Units:  seconds.
Method: a process that exceeds its time, or whose answer nobody waits for any more, is ended and made anew; the
        server itself never stands still. Work is handed over as a function of a module and picklable values, and
        changes nothing outside of itself: what was lost with its process may be done once more.
"""

from __future__ import annotations

import asyncio
import os
import threading
from collections.abc import Callable
from concurrent.futures.process import BrokenProcessPool
from contextlib import suppress
from pathlib import Path
from types import TracebackType
from typing import Any, Self, TypeVar

from pebble import ProcessExpired, ProcessPool

from seamwright.errors import OptionError, SeamwrightError, fail, unexpected
from seamwright.processes import PLANNING, end, new_pool, scheduled

_Made = TypeVar("_Made")

LIMIT_S = 60.0
"""Longest time for one piece of work, unless it states its own."""
QUICK_S = 30.0
"""What may take longer than this leaves one process free: a verdict does not wait behind a print."""
MOST_WAITING = 40
"""Pieces of work under way and waiting, all together."""


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
        with suppress(RuntimeError):
            scheduled(self._pool, int, (), {}, None)

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
                made: _Made = await asyncio.wrap_future(scheduled(pool, work, values, {}, limit_s))
                return made
            except (BrokenProcessPool, RuntimeError) as problem:
                # A process that idled was ended from outside: the pool gives up, another takes its place.
                if last or (isinstance(problem, RuntimeError) and pool.active):
                    raise
                if self._pool is pool:
                    self._pool = self._new_pool()
                    threading.Thread(target=end, args=(pool,), daemon=True).start()
        raise AssertionError("unreachable")

    def _new_pool(self) -> ProcessPool:
        return new_pool(self._count, self._folder, (*PLANNING, "page.shown"))

    def __enter__(self) -> Self:
        return self

    def __exit__(
        self, kind: type[BaseException] | None, problem: BaseException | None, trace: TracebackType | None
    ) -> None:
        end(self._pool)
