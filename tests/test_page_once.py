"""What several ask for at once is made once, kept for a while, and given up when nobody waits any more."""

from __future__ import annotations

import asyncio

import pytest

from seamwright.page.once import Once
from support.asking import awaited


class Work:
    """Work that goes on until it is let go; counts how often it began and how it ended."""

    def __init__(self) -> None:
        self.begun, self.ended = 0, ""
        self.go = asyncio.Event()

    async def done(self) -> str:
        self.begun += 1
        try:
            await self.go.wait()
        except asyncio.CancelledError:
            self.ended = "given up"
            raise
        return f"print {self.begun}"


def test_two_who_ask_at_once_get_what_is_made_once() -> None:
    async def story() -> None:
        once: Once[str] = Once(2)
        work = Work()
        first, second = (asyncio.create_task(once.get("kite", work.done)) for _ in range(2))
        await asyncio.sleep(0)
        work.go.set()
        assert await first == await second == "print 1"
        assert await once.get("kite", work.done) == "print 1"
        assert work.begun == 1

    awaited(story())


def test_who_hangs_up_takes_nothing_from_another_who_waits() -> None:
    async def story() -> None:
        once: Once[str] = Once(2)
        work = Work()
        first, second = (asyncio.create_task(once.get("kite", work.done)) for _ in range(2))
        await asyncio.sleep(0)
        first.cancel()
        await asyncio.sleep(0)
        work.go.set()
        assert await second == "print 1"
        assert work.ended == ""

    awaited(story())


def test_work_is_given_up_when_nobody_waits_and_begun_anew_for_the_next() -> None:
    async def story() -> None:
        once: Once[str] = Once(2)
        work = Work()
        only = asyncio.create_task(once.get("kite", work.done))
        await asyncio.sleep(0.01)
        only.cancel()
        next_ = asyncio.create_task(once.get("kite", work.done))
        await asyncio.sleep(0.01)
        assert work.ended == "given up"
        work.go.set()
        assert await next_ == "print 2"

    awaited(story())


def test_errors_are_told_to_all_and_not_kept() -> None:
    async def broken() -> str:
        raise ValueError("no")

    async def well() -> str:
        return "yes"

    async def story() -> None:
        once: Once[str] = Once(2)
        both = await asyncio.gather(once.get("kite", broken), once.get("kite", broken), return_exceptions=True)
        assert [str(one) for one in both] == ["no", "no"]
        assert await once.get("kite", well) == "yes"

    awaited(story())


@pytest.mark.parametrize(("keep", "times"), [(True, 1), (False, 2)])
def test_only_what_may_be_kept_is_and_only_the_last_few(keep: bool, times: int) -> None:
    async def story() -> None:
        once: Once[str] = Once(2)
        work = Work()
        work.go.set()
        for _ in range(2):
            await once.get("kite", work.done, keep=keep)
        assert work.begun == times
        for other in ("reef", "gull"):
            await once.get(other, work.done)
        await once.get("kite", work.done)
        assert work.begun == times + 3

    awaited(story())
