"""How long a search may go on, and who ends it: a number of regions, a time if asked for, or Ctrl-C.

Knows:  counting regions, the clock, the progress hook, the interrupt key.
Leaves: what is done with the best found until then (divide).
Method: a search counts each region it looks at. When no more may be looked at, counting raises `OutOfSteps`, and
        whoever began the search takes the best so far. Ctrl-C does just that, as if the steps had run out there: it
        never tears a search apart. A second Ctrl-C, or one outside a search, is answered as it was before.
"""

from __future__ import annotations

import signal
import sys
import threading
import time
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from types import FrameType

from seamwright.stopping import at_once

Progress = Callable[[int], None]
LOOK_EVERY = 256
"""Regions between two looks at the clock and two calls of the progress hook."""


class OutOfSteps(Exception):
    """The search has looked at as many regions as it may."""


class Watch:
    """Over all searches of one plan: told how far they are, and ends them all.

    Attributes:
        ended: what ended them: "seconds", "stopped" (by Ctrl-C), or "" while nothing has.
    """

    def __init__(self, progress: Progress | None = None, seconds: float | None = None) -> None:
        self.ended = ""
        self._progress = progress
        self._until = None if seconds is None else time.monotonic() + seconds
        self._budgets: list[Budget] = []

    def __call__(self, looked_at: int) -> None:
        """Passes on how many regions were looked at; ends all searches if the time is up."""
        if self._progress:
            self._progress(looked_at)
        if self._until is not None and time.monotonic() > self._until:
            self.end("seconds")

    def add(self, budget: Budget) -> None:
        """One more search to end when all are ended."""
        self._budgets.append(budget)
        if self.ended:
            budget.end(self.ended)

    def end(self, why: str) -> None:
        """No search may go on."""
        self.ended = self.ended or why
        for budget in self._budgets:
            budget.end(why)

    @contextmanager
    def listening(self) -> Iterator[None]:
        """Within, the first Ctrl-C ends the searches, not the program.

        Only the main thread hears the key, and only where it would end the program: whoever made another rule for
        it keeps that.
        """
        before = signal.getsignal(signal.SIGINT)
        ends = before in (signal.default_int_handler, at_once)
        if threading.current_thread() is not threading.main_thread() or not ends:
            yield
            return

        def heard(number: int, frame: FrameType | None) -> None:
            signal.signal(signal.SIGINT, before)
            self.end("stopped")

        signal.signal(signal.SIGINT, heard)
        try:
            yield
        finally:
            signal.signal(signal.SIGINT, before)


class Budget:
    """Regions that one search may look at.

    Attributes:
        ended: what ended the search: "steps", "seconds", "stopped", or "" while nothing has.
    """

    def __init__(self, steps: int, seconds: float | None, progress: Progress | None) -> None:
        self.steps, self.used, self.ended = steps, 0, ""
        self._watch = progress if isinstance(progress, Watch) else Watch(progress, seconds)
        self._look_at = LOOK_EVERY
        self._watch.add(self)

    def spend(self, regions: int = 1) -> None:
        """One more region, or work worth as much as some.

        Raises:
            OutOfSteps: none is left, the time is up, or the search was stopped.
        """
        self.used += regions
        if self.used >= self._look_at:
            self._look_at = self.used + LOOK_EVERY
            self._watch(self.used)
        if self.used > self.steps:
            self.ended = self.ended or "steps"
            raise OutOfSteps

    def end(self, why: str) -> None:
        """No more steps."""
        self.ended, self.steps = self.ended or why, -1

    def as_much_again(self, at_least: int = 0) -> Budget:
        """The same number of steps for another search, or more; none if time or Ctrl-C ended this one."""
        return Budget(max(self.steps, at_least), None, self._watch)


@contextmanager
def deep_recursion(depth: int) -> Iterator[None]:
    """Room for a recursion as deep as a block has seams; plain Python calls take no room on the machine's stack."""
    before = sys.getrecursionlimit()
    sys.setrecursionlimit(max(before, depth + 1000))
    try:
        yield
    finally:
        sys.setrecursionlimit(before)
