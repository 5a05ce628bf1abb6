"""Many pieces of work through an executor: answers in the order of the questions, few of them under way at a time.

Knows:  `concurrent.futures.Executor`, and what becomes of work whose pool broke.
Leaves: what is done (work), where it is done: in threads, in processes, on a cluster.
Method: questions are asked ahead of the answer that is waited for, but only so many: whatever is slow holds up no
        more than that, and what waits in memory never grows with the number of questions.
Limits: a pool of processes of this computer that breaks is replaced by processes of our own, and work that was lost
        with it is done once more; a cluster that cannot be reached any more ends the iteration.
"""

from __future__ import annotations

import os
from collections import deque
from collections.abc import Callable, Iterable, Iterator
from concurrent.futures import BrokenExecutor, CancelledError, Executor, Future
from dataclasses import dataclass
from typing import Generic, TypeVar

_Q = TypeVar("_Q")
_A = TypeVar("_A")

TRIES = 3
"""How often work is done anew that was lost with its pool, and not by its own fault."""


@dataclass(slots=True)
class _Asked(Generic[_Q, _A]):
    question: _Q
    future: Future[_A]
    pool: Executor | None
    tries: int = 1


def in_turn(
    work: Callable[[_Q], _A],
    questions: Iterable[_Q | Future[_A]],
    executor: Executor,
    ahead: int,
    lost: Callable[[_Q, BaseException], _A],
) -> Iterator[_A]:
    """The answers of `work` to questions, in their order.

    Args:
        work: a function of a module.
        questions: taken as they are needed; a future in place of one is an answer that is there already.
        ahead: how many questions may be under way, the one waited for included; 1 or more.
        lost: makes an answer of what an executor says where there is none.

    Raises:
        what the executor raises when it cannot be asked any more, other than BrokenExecutor.
    """
    pools = [executor]

    def ask(question: _Q, tries: int = 1) -> _Asked[_Q, _A]:
        try:
            return _Asked(question, pools[-1].submit(work, question), pools[-1], tries)
        except BrokenExecutor:
            pools.append(_instead_of(pools[-1]))
            return _Asked(question, pools[-1].submit(work, question), pools[-1], tries)

    def answer(first: _Asked[_Q, _A]) -> _A:
        while True:
            problem = _problem(first.future)
            if problem is None:
                return first.future.result()
            if not isinstance(problem, BrokenExecutor) or first.tries >= TRIES:
                return lost(first.question, problem)
            if first.pool is pools[-1]:
                pools.append(_instead_of(pools[-1]))
            first = ask(first.question, first.tries + 1)

    waiting: deque[_Asked[_Q, _A]] = deque()
    try:
        for question in questions:
            if isinstance(question, Future):
                waiting.append(_Asked(question, question, None))  # type: ignore[arg-type]
            else:
                waiting.append(ask(question))
            while waiting and (len(waiting) >= ahead or waiting[0].future.done()):
                yield answer(waiting.popleft())
        while waiting:
            yield answer(waiting.popleft())
    finally:
        for one in waiting:
            one.future.cancel()
        for pool in pools[1:]:
            pool.shutdown(wait=False, cancel_futures=True)


def _problem(future: Future[_A]) -> BaseException | None:
    try:
        return future.exception()
    except CancelledError as cancelled:  # a cluster took it back, nobody here did
        return cancelled


def _instead_of(broken: Executor) -> Executor:
    from seamwright.processes import Processes

    return broken.anew() if isinstance(broken, Processes) else Processes(os.cpu_count() or 1)
