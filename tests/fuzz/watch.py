"""What no reader may do: fail in another way than by a sentence, take for ever, fill the memory, look elsewhere.

Knows:  which of Python's audit events mean a file, another process or the network; how an input is judged.
Leaves: what is read (targets).
Units:  seconds of the processor's time, bytes.
Limits: modules may be imported while a reader works, since ours import late; nothing else is opened. A loop in
        a compiled library is stopped only once it returns.
"""

from __future__ import annotations

import signal
import sys
import sysconfig
import traceback
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path
from types import FrameType

from seamwright.errors import SeamwrightError

LONGEST_S = 5.0
MOST_BYTES = 1_000_000_000
"""What reading one input may take, above what the process had before."""

_ELSEWHERE = (
    *("open", "os.", "shutil.", "tempfile.", "glob.", "pathlib.", "mmap.", "ctypes.dlopen", "sqlite3.", "pty."),
    *("socket.", "urllib.", "http.", "ftplib.", "smtplib.", "poplib.", "imaplib.", "subprocess.", "webbrowser."),
)
_SOURCES = Path(__file__).resolve().parents[2] / "src"
_LIBRARIES = tuple(
    {str(_SOURCES), *(str(Path(sysconfig.get_path(kind)).resolve()) for kind in ("stdlib", "purelib", "platlib"))}
)
_touched: list[str] = []
_watching = False
_hooked = False


class TookForEver(BaseException):
    """The processor's time is up; no `except Exception` holds it up."""


@dataclass(frozen=True, slots=True)
class Finding:
    """An input that a reader does not stand.

    Attributes:
        sign: what went wrong and where in our sources, the same for all inputs that show the same fault.
        told: the whole of it, for a person.
    """

    sign: str
    told: str


def _heard(event: str, args: tuple[object, ...]) -> None:
    if not _watching or not event.startswith(_ELSEWHERE):
        return
    what = args[0] if args else ""
    name = what.decode(errors="replace") if isinstance(what, bytes) else str(what)
    reads = event in ("open", "os.listdir", "os.scandir", "ctypes.dlopen")
    if reads and name.startswith(_LIBRARIES) and not (event == "open" and "w" in str(args[1])):
        return  # a module that is imported late
    _touched.append(f"{event} {name[:200]}")


def _time_is_up(_signal: int, _frame: FrameType | None) -> None:
    raise TookForEver


@contextmanager
def watched(seconds: float = LONGEST_S) -> Iterator[list[str]]:
    """All that is opened as long as the context lasts; ends it by `TookForEver` after so much of the processor."""
    global _watching, _hooked
    if not _hooked:
        sys.addaudithook(_heard)  # cannot be taken off again
        signal.signal(signal.SIGPROF, _time_is_up)
        _hooked = True
    _touched.clear()
    signal.setitimer(signal.ITIMER_PROF, seconds)
    _watching = True
    try:
        yield _touched
    finally:
        _watching = False
        signal.setitimer(signal.ITIMER_PROF, 0)


def judged(read: Callable[[bytes], object], data: bytes, seconds: float = LONGEST_S) -> Finding | None:
    """What a reader does wrong with an input; None for nothing: it reads it, or refuses it in a sentence."""
    try:
        with watched(seconds) as touched:
            try:
                read(data)
            except SeamwrightError as error:
                _told_well(error)
    except KeyboardInterrupt:
        raise
    except BaseException as problem:
        return Finding(_sign(problem), "".join(traceback.format_exception(problem))[-6000:])
    if touched:
        return Finding(f"opened {touched[0].split()[0]}", "\n".join(touched))
    return None


def _told_well(error: SeamwrightError) -> None:
    """Every refusal says what and the mend, in signs that a terminal only shows; our own proof never fails."""
    assert error.exit_code != 3, str(error)
    assert error.faults
    for fault in error.faults:
        assert fault.what.strip(), "no word of what is wrong"
        assert fault.mend.strip(), "no word of what mends it"
    text = str(error)
    text.encode()
    unseen = {c for c in text if c != "\n" and (ord(c) < 32 or 127 <= ord(c) < 160)}
    assert not unseen, f"signs that steer a terminal: {sorted(unseen)} in {text!r}"


def _sign(problem: BaseException) -> str:
    """Kind of an error and the last place of ours that it went through."""
    ours = [
        f"{Path(frame.filename).name}:{frame.lineno}"
        for frame in traceback.extract_tb(problem.__traceback__)
        if str(_SOURCES) in frame.filename
    ]
    if isinstance(problem, TookForEver):
        ours = [name.split(":")[0] for name in ours[:2]]  # where it stands when time is up is chance
        return f"TookForEver {' '.join(ours)}"
    return f"{type(problem).__name__} {ours[-1] if ours else ''} {str(problem)[:30] if not ours else ''}".strip()
