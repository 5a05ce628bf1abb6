"""How the server speaks HTTP, and how long it listens to whoever says nothing.

Knows:  one parser (h11), how large and how slow a request's head may be, how many are served at once.
Leaves: bodies, who gets in (guard), what is asked (app).
Units:  bytes, seconds.
Method: uvicorn ends a connection that idles between two requests, but waits for ever for a first request, and for
        one that comes byte by byte; here a head has a time to arrive in, whatever comes before it.
"""

from __future__ import annotations

import asyncio

import uvicorn
from uvicorn.protocols.http.h11_impl import H11Protocol

from seamwright.page.guard import HEAD_BYTES, App

HEAD_S = 10.0
"""For a head to arrive; a browser that opens a connection ahead of its need opens another."""
IDLE_S = 30
"""For a connection that waits for its next request."""
ENDING_S = 0.4
"""For requests under way when the server is stopped; what is kept in the folder is whole at any moment."""
AT_ONCE = 100
"""Connections and requests; a browser holds six of each tab's."""


class Listener(H11Protocol):
    """A connection whose requests have to begin in time."""

    _late: asyncio.TimerHandle | None = None

    def connection_made(self, transport: asyncio.Transport) -> None:  # type: ignore[override]
        """The first head is waited for."""
        super().connection_made(transport)
        self._wait()

    def data_received(self, data: bytes) -> None:
        """What came; with the first byte of a further head the wait for it begins."""
        if self._idle and self._late is None:
            self._wait()
        super().data_received(data)
        if not self._idle:
            self._stop_waiting()

    def connection_lost(self, exc: Exception | None) -> None:
        """Nothing is waited for any more."""
        self._stop_waiting()
        super().connection_lost(exc)

    @property
    def _idle(self) -> bool:
        return self.cycle is None or self.cycle.response_complete

    def _wait(self) -> None:
        self._late = self.loop.call_later(HEAD_S, self.transport.abort)

    def _stop_waiting(self) -> None:
        if self._late is not None:
            self._late.cancel()
            self._late = None


def server_of(app: App) -> uvicorn.Server:
    """A server of an application, for sockets of this computer alone."""
    return uvicorn.Server(
        uvicorn.Config(
            app,
            http=Listener,
            loop="asyncio",
            ws="none",
            lifespan="off",
            log_level="critical",  # refusals are answers; what breaks is told by the guard
            access_log=False,
            server_header=False,
            proxy_headers=False,  # nobody stands between the browser and this server
            h11_max_incomplete_event_size=HEAD_BYTES,
            limit_concurrency=AT_ONCE,
            timeout_keep_alive=IDLE_S,
            timeout_graceful_shutdown=ENDING_S,  # type: ignore[arg-type]  # it may be part of a second
        )
    )
