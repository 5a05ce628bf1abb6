"""Asks the page's application without a browser and without a socket, from a test that knows no asyncio.

One loop in a thread of its own serves all: the browser's tests hold the loop of the thread that tests run in.
"""

from __future__ import annotations

import asyncio
import threading
from collections.abc import Coroutine, Iterator
from contextlib import contextmanager
from functools import cache
from pathlib import Path
from typing import Any

import httpx

from seamwright.page.app import make_app
from seamwright.page.guard import App
from seamwright.page.place import Place
from seamwright.page.workers import Workers

PASSWORD = "pass of this start"
BASE = "http://127.0.0.1:8000"


@cache
def _loop() -> asyncio.AbstractEventLoop:
    loop = asyncio.new_event_loop()
    threading.Thread(target=loop.run_forever, daemon=True).start()
    return loop


def awaited(work: Coroutine[Any, Any, Any]) -> Any:
    """What a coroutine comes to."""
    return asyncio.run_coroutine_threadsafe(work, _loop()).result()


class Asking:
    """A browser of this start, as far as requests go; `headers` go with each of them."""

    def __init__(self, app: App) -> None:
        self.headers = {"Seamwright-Pass": PASSWORD}
        transport = httpx.ASGITransport(app, raise_app_exceptions=False)  # type: ignore[arg-type]
        self._client = httpx.AsyncClient(transport=transport, base_url=BASE)

    def request(self, way: str, path: str, *, headers: Any = (), **more: Any) -> httpx.Response:
        """One request and its answer."""
        given = dict(headers)
        both = [*((name, value) for name, value in self.headers.items() if name not in given), *_pairs(headers)]
        return awaited(self._client.request(way, path, headers=both, **more))  # type: ignore[no-any-return]

    def get(self, path: str, **more: Any) -> httpx.Response:
        return self.request("GET", path, **more)

    def post(self, path: str, asked: object = None, **more: Any) -> httpx.Response:
        return self.request("POST", path, **({"json": asked} if asked is not None else {}), **more)

    def put(self, path: str, asked: object = None, **more: Any) -> httpx.Response:
        return self.request("PUT", path, **({"json": asked} if asked is not None else {}), **more)


def _pairs(headers: Any) -> list[Any]:
    return list(headers.items()) if isinstance(headers, dict) else list(headers)


@contextmanager
def asking(folder: Path) -> Iterator[Asking]:
    """Asks the application of a folder; one process does the work."""
    with Workers(folder, 1) as workers:
        yield Asking(make_app(Place(folder, PASSWORD, workers)))
