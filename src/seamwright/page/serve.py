"""One run of the page's server, from its first line to Ctrl-C.

Knows:  the address, the pass, who opens the browser.
Leaves: what is served (app).
"""

from __future__ import annotations

import secrets
import socket
from pathlib import Path

from seamwright.errors import FileError, OptionError, fail
from seamwright.page.app import make_app
from seamwright.page.place import Place
from seamwright.page.workers import Workers


def serve(folder: str, port: int, *, opened: bool = True) -> int:
    """Serves the page on this computer; prints its address as the first line.

    Args:
        folder: where the designs lie; made if it is not there.
        port: 0 for any that is free.
        opened: open the page in the browser as well.

    Raises:
        FileError: the folder cannot be used. OptionError: the port cannot be had.
    """
    import uvicorn

    here = Path(folder).resolve()
    if here.exists() and not here.is_dir():
        raise fail(FileError, "file", f"{folder} is a file, not a folder", "Name the folder of your designs")
    here.mkdir(parents=True, exist_ok=True)
    listener = socket.socket()
    try:
        listener.bind(("127.0.0.1", port))
    except OSError:
        listener.close()
        what = f"port {port} is taken, or may not be used"
        raise fail(OptionError, "option", what, "Leave out --port for a free one") from None
    password = secrets.token_urlsafe(24)
    address = f"http://127.0.0.1:{listener.getsockname()[1]}/#pass={password}"
    with Workers() as workers, listener:
        app = make_app(Place(here, password, workers))
        server = uvicorn.Server(uvicorn.Config(app, log_level="warning", access_log=False, server_header=False))
        print(address, flush=True)
        if opened:
            import webbrowser

            webbrowser.open(address)
        server.run(sockets=[listener])
    return 0
