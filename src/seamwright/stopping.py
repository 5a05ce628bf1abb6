"""How a command ends that is told to: by Ctrl-C, by an order of the system, by a terminal that closes.

Knows:  the signals; what is half written just then and goes with it; what must not be parted.
Leaves: writing (output), what is told of a search that was stopped (piecing.budget), the server's own end (page).
Method: a command ends there and then, in one sentence. An exception would run through whatever is at work just
        then: a library that is being loaded, or one that calls back from C, shows where it was or swallows it.
        Whoever has something to tell or to end first asks for the exception by `raised`.
Limits: until Python has read our first line it answers for itself. An order that cannot be heard (SIGKILL) leaves
        what was half written; the next file of that name takes it away (output).
"""

from __future__ import annotations

import os
import signal
import sys
from collections.abc import Iterator
from contextlib import contextmanager
from types import FrameType
from typing import NoReturn

from seamwright.start import SAYS, STOPPED

_ORDERS = ("SIGINT", "SIGTERM", "SIGHUP")
_half: dict[str, None] = {}
_together = 0
_heard = False


def listen() -> None:
    """From now on an order to end is followed at once. One that is ignored from outside (nohup) stays so."""
    _answer(at_once, (signal.default_int_handler, signal.SIG_DFL))


def at_once(number: int, frame: FrameType | None) -> None:
    """Ends this process, unless something is under way that must not be parted: then as soon as it is done."""
    global _heard
    if _together:
        _heard = True
        return
    for path in reversed(_half):
        try:
            os.rmdir(path) if os.path.isdir(path) else os.unlink(path)
        except OSError:
            continue
    _end(STOPPED, SAYS)


def ended(code: int) -> None:
    """What was asked for is done: an order that comes from now on changes nothing, and its exit code least."""
    if signal.getsignal(signal.SIGINT) == at_once:
        signal.signal(signal.SIGINT, signal.SIG_IGN)  # Python itself forgets all other answers before it ends
    _answer(lambda number, frame: _end(code), (at_once,))


@contextmanager
def raised() -> Iterator[None]:
    """Within, an order to end raises KeyboardInterrupt in place of ending the process."""
    changed = _answer(signal.default_int_handler, (at_once,))
    try:
        yield
    finally:
        for number in changed:
            signal.signal(number, at_once)


@contextmanager
def together() -> Iterator[None]:
    """Within, steps that belong together are not parted by an order to end."""
    global _together
    _together += 1
    try:
        yield
    finally:
        _together -= 1
        if _heard and not _together:
            at_once(signal.SIGINT, None)


@contextmanager
def half(path: str | os.PathLike[str]) -> Iterator[None]:
    """Within, a file or folder is half made, and goes if the process ends."""
    _half[os.fspath(path)] = None
    try:
        yield
    finally:
        _half.pop(os.fspath(path), None)


def _answer(answer: object, instead_of: tuple[object, ...]) -> list[signal.Signals]:
    """Has orders answered that are answered by one of `instead_of`; returns which. Only the main thread may."""
    changed = []
    for name in _ORDERS:
        number = getattr(signal, name, None)  # Windows has no SIGHUP
        if number is not None and signal.getsignal(number) in instead_of:
            try:
                signal.signal(number, answer)  # type: ignore[arg-type]
            except ValueError:  # another thread
                break
            changed.append(number)
    return changed


def _end(code: int, sentence: str = "") -> NoReturn:
    if sentence and sys.stderr is not None:
        try:
            # A bar may stand in this line. Printing as usual could be just what was broken off.
            bar = f"\r{' ' * 79}\r" if os.isatty(2) else ""
            os.write(2, f"{bar}seamwright: {sentence}\n".encode())
        except OSError:
            pass
    os._exit(code)
