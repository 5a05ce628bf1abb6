"""Work that takes long or may hang, done by processes of its own that can be stopped.

Knows:  how many processes there are, how long one piece of work may take.
Leaves: what is done (functions of this package that take and return plain values).
Method: a process that exceeds its time, or whose answer nobody waits for any more, is ended and made anew; the
        server itself never stands still. Work is handed over as a function of a module and picklable values.
"""

from __future__ import annotations

import asyncio
import multiprocessing
from collections.abc import Callable
from types import TracebackType
from typing import Any, Self, TypeVar

from pebble import ProcessPool

from seamwright.errors import OptionError, fail

_Made = TypeVar("_Made")

LIMIT_S = 60.0
"""Longest time for one piece of work, unless it states its own."""


class Workers:
    """Processes that do one piece of work each at a time."""

    def __init__(self, count: int = 2) -> None:
        self._pool = ProcessPool(
            max_workers=count, context=multiprocessing.get_context("spawn"), initializer=warm_up
        )

    async def run(self, work: Callable[..., _Made], *values: Any, limit_s: float = LIMIT_S) -> _Made:
        """What `work` makes of values.

        Raises:
            SeamwrightError: what `work` raised, or that it took longer than its limit.
        """
        future = self._pool.schedule(work, args=values, timeout=limit_s)
        try:
            made: _Made = await asyncio.wrap_future(future)
        except TimeoutError:
            what = f"this took longer than {limit_s:g} seconds and was stopped"
            raise fail(OptionError, "too long", what, "Make the drawing simpler, or ask the command line") from None
        except asyncio.CancelledError:
            future.cancel()
            raise
        return made

    def __enter__(self) -> Self:
        return self

    def __exit__(
        self, kind: type[BaseException] | None, problem: BaseException | None, trace: TracebackType | None
    ) -> None:
        self._pool.stop()
        self._pool.join()


def warm_up() -> None:
    """What every verdict needs is loaded before the first one is asked for; Ctrl-C is the server's to answer."""
    import signal
    from importlib import import_module

    signal.signal(signal.SIGINT, signal.SIG_IGN)
    for module in (
        "api",
        "block.make",
        "piecing.plan",
        "proof.checker",
        "claims.plans",
        "report.checks",
        "mend.find",
    ):
        import_module(f"seamwright.{module}")
