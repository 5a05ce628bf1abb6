"""One run of the page's server, from its first line to Ctrl-C.

Knows:  the address, the pass, who opens the browser, how it ends.
Leaves: what is served (app), how (wire).
Method: it listens before the address is printed, so that nobody comes too early; the workers start meanwhile.
        It listens on 127.0.0.1 alone: the address names it, so nothing is gained by a second family of addresses.
"""

from __future__ import annotations

import atexit
import hashlib
import os
import secrets
import signal
import socket
from pathlib import Path
from typing import NoReturn

from seamwright.drawing.read import only_within
from seamwright.errors import FileError, OptionError, fail
from seamwright.output import make_folder, may_use_folder
from seamwright.page.app import make_app
from seamwright.page.place import Place
from seamwright.page.wire import AT_ONCE, server_of
from seamwright.page.workers import Workers
from seamwright.stopping import raised

OPENED_S = 60.0
"""For a browser to start and to read the file that leads to the page."""
_LEADS_ON = (
    '<!doctype html><meta charset="utf-8"><meta name="referrer" content="no-referrer"><title>seamwright</title>'
    '<meta http-equiv="refresh" content="0; url={address}"><p><a href="{address}">Open the page</a></p>\n'
)


def serve(folder: str, port: int, *, opened: bool = True) -> int:
    """Serves the page on this computer; prints its address as the first line.

    Args:
        folder: where the designs lie; made if it is not there.
        port: 0 for the folder's own, or any that is free.
        opened: open the page in the browser as well.

    Raises:
        FileError: the folder cannot be used. OptionError: the port cannot be had.
        KeyboardInterrupt: it was stopped.
    """
    here = usable_folder(folder)
    with (
        raised(),  # the processes are to be ended first
        listener_at(port) if port else listener_for(here) as listener,
        Workers(here) as workers,
    ):
        only_within(here)
        password = secrets.token_urlsafe(24)
        address = f"http://127.0.0.1:{listener.getsockname()[1]}/#pass={password}"
        print(address, flush=True)
        workers.start()
        if opened:
            open_browser(here, address)
        signal.signal(signal.SIGTERM, _stopped)
        server_of(make_app(Place(here, password, workers))).run(sockets=[listener])
    return 0


def open_browser(folder: Path, address: str) -> None:
    """Opens the address in the browser, without the pass on a command line, where everybody here could read it.

    The browser is given a file that only this user may read and that leads on to the address; the file goes soon.
    Where it cannot be written nothing is opened, and the printed address is there to be followed.
    """
    import contextlib
    import threading
    import webbrowser

    from seamwright.errors import SeamwrightError
    from seamwright.page.versions import ready_within

    try:
        path = ready_within(folder, "opened") / f"{secrets.token_hex(8)}.html"
        with open(os.open(path, os.O_WRONLY | os.O_CREAT | os.O_EXCL, 0o600), "w", encoding="ascii") as file:
            file.write(_LEADS_ON.format(address=address))
    except (OSError, SeamwrightError):
        return

    def away() -> None:
        for left in path.parent.glob("*.html"):  # and what a start that was killed has left
            with contextlib.suppress(OSError):
                left.unlink()

    webbrowser.open(path.as_uri())
    later = threading.Timer(OPENED_S, away)
    later.daemon = True
    later.start()
    atexit.register(away)


def usable_folder(folder: str) -> Path:
    """The folder of the designs, made if it is not there.

    Raises:
        FileError: it is none, or cannot be read or written.
    """
    try:
        here = Path(folder).resolve()
        if here.exists() and not here.is_dir():
            raise fail(FileError, "file", f"{folder} is a file, not a folder", "Name the folder of your designs")
        may_use_folder(here)
        make_folder(here)
        if not os.access(here, os.R_OK):
            raise PermissionError
    except (OSError, ValueError, RuntimeError):
        what = f"the folder {folder} cannot be read"
        raise fail(FileError, "file", what, "Name another one, or ask whoever looks after this computer") from None
    return here


def listener_for(folder: Path) -> socket.socket:
    """A socket at the folder's own port, at any other if that is taken.

    After a restart pages that are still open then go on, and what they kept in the browser is found, which keeps
    it by host and port. Ports from 49152 are nobody's (RFC 6335, 6).
    """
    number = int.from_bytes(hashlib.sha256(os.fsencode(folder)).digest()[:4])
    try:
        return listener_at(49152 + number % 16384)
    except OptionError:
        return listener_at(0)


def listener_at(port: int) -> socket.socket:
    """A socket that listens to this computer alone.

    Raises:
        OptionError: the port is none, is taken or may not be used.
    """
    # Named as TCP, or asyncio leaves its delay on: the second part of an answer would wait 40 ms for the page to
    # confirm the first (Nagle's algorithm, RFC 896, against delayed acknowledgements, RFC 1122, 4.2.3.2).
    listener = socket.socket(socket.AF_INET, socket.SOCK_STREAM, socket.IPPROTO_TCP)
    try:
        if os.name == "posix":  # elsewhere this would let two programs listen at one port
            listener.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
        elif hasattr(socket, "SO_EXCLUSIVEADDRUSE"):
            listener.setsockopt(socket.SOL_SOCKET, socket.SO_EXCLUSIVEADDRUSE, 1)
        listener.bind(("127.0.0.1", port))
        listener.listen(AT_ONCE)
    except (OSError, OverflowError):
        listener.close()
        what = f"port {port} is taken, or may not be used"
        raise fail(OptionError, "option", what, "Leave out --port for a free one") from None
    return listener


def _stopped(*_: object) -> NoReturn:
    """A request to end, from whoever started us, is heard like Ctrl-C."""
    raise KeyboardInterrupt
