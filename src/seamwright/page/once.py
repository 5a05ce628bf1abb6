"""Work that several may ask for at once is done once, and what came of the last few stays at hand.

Knows:  who waits for what.
Leaves: the work itself.
Method: whoever asks for what is under way waits for it too; it is given up when nobody waits any more.
"""

from __future__ import annotations

import asyncio
from collections import Counter, OrderedDict
from collections.abc import Callable, Coroutine
from typing import Any, Generic, TypeVar

_Made = TypeVar("_Made")


class Lately(Generic[_Made]):
    """What was made of late, by a key that says of what.

    Args:
        most: so many are kept, those asked for last.
    """

    def __init__(self, most: int) -> None:
        self._most = most
        self._kept: OrderedDict[str, _Made] = OrderedDict()

    def find(self, key: str) -> _Made | None:
        """What is kept for this key; None if nothing is."""
        if key in self._kept:
            self._kept.move_to_end(key)
        return self._kept.get(key)

    def keep(self, key: str, made: _Made) -> None:
        """Keeps it, and lets go of what was not asked for the longest."""
        self._kept[key] = made
        while len(self._kept) > self._most:
            self._kept.popitem(last=False)


class Once(Generic[_Made]):
    """What was made, by a key that says of what.

    Args:
        most: so many are kept, those asked for last.
    """

    def __init__(self, most: int) -> None:
        self._kept: Lately[_Made] = Lately(most)
        self._under_way: dict[str, asyncio.Future[_Made]] = {}
        self._waiting: Counter[str] = Counter()

    async def get(self, key: str, make: Callable[[], Coroutine[Any, Any, _Made]], *, keep: bool = True) -> _Made:
        """What `make` comes to for this key; its errors are everybody's who waits for it.

        Args:
            keep: False for what may come out otherwise the next time.
        """
        found = self._kept.find(key)
        if found is not None:
            return found
        work = self._under_way.get(key)
        if work is None:
            work = self._under_way[key] = asyncio.ensure_future(make())
            work.add_done_callback(lambda _: self._under_way.pop(key, None))
        self._waiting[key] += 1
        try:
            made = await asyncio.shield(work)
        finally:
            self._waiting[key] -= 1
            if not self._waiting[key]:
                del self._waiting[key]
                if not work.done():
                    self._under_way.pop(key, None)
                    work.cancel()
        if keep:
            self._kept.keep(key, made)
        return made
