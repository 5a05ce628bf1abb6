"""Who gets in: this computer's own browser, with the pass of this start, and nobody else.

Knows:  the pass, Host and Origin, how large a request may be, the headers that every answer carries.
Leaves: what is asked (the routers), paths (folder), how long work may take (workers).
Method: names of hosts are checked against rebinding, origins against other pages in the same browser; the pass is
        a header of our own, which no other page can send without asking first, and comparing it takes the same time
        whatever is wrong with it. The page's own files hold nothing secret and need no pass.
"""

from __future__ import annotations

import secrets
from collections.abc import Awaitable, Callable, MutableMapping
from typing import Any

Scope = MutableMapping[str, Any]
Message = MutableMapping[str, Any]
Receive = Callable[[], Awaitable[Message]]
Send = Callable[[Message], Awaitable[None]]
App = Callable[[Scope, Receive, Send], Awaitable[None]]

PASS = b"seamwright-pass"
"""Header that carries the pass."""
MAX_REQUEST = 30_000_000
"""Bytes of one request: a drawing may have 20 million, more as text."""
HOSTS = ("127.0.0.1", "localhost", "[::1]")

POLICY = "; ".join(
    (
        "default-src 'none'",
        "script-src 'self'",
        "style-src 'self'",
        "img-src 'self' blob: data:",
        "connect-src 'self'",
        "base-uri 'none'",
        "form-action 'none'",
        "frame-ancestors 'none'",
    )
)
HEADERS = (
    (b"content-security-policy", POLICY.encode()),
    (b"x-content-type-options", b"nosniff"),
    (b"referrer-policy", b"no-referrer"),
    (b"cross-origin-opener-policy", b"same-origin"),
    (b"cross-origin-resource-policy", b"same-origin"),
    (b"cache-control", b"no-store"),
)


class TooLarge(Exception):
    """A request went on past the limit."""


def guarded(app: App, password: str) -> App:
    """An ASGI application behind the guard."""

    async def inner(scope: Scope, receive: Receive, send: Send) -> None:
        if scope["type"] != "http":
            if scope["type"] == "lifespan":
                await app(scope, receive, send)
            return
        started = False

        async def answer(message: Message) -> None:
            nonlocal started
            if message["type"] == "http.response.start":
                started = True
                message = {**message, "headers": [*message.get("headers", ()), *HEADERS]}
            await send(message)

        refused = _refused(scope, password)
        if refused:
            await _say(answer, *refused)
            return
        seen = 0

        async def limited() -> Message:
            nonlocal seen
            message = await receive()
            seen += len(message.get("body", b""))
            if seen > MAX_REQUEST:
                raise TooLarge
            return message

        try:
            await app(scope, limited, answer)
        except TooLarge:
            if not started:
                await _say(answer, 413, "this is larger than seamwright takes")

    return inner


def _refused(scope: Scope, password: str) -> tuple[int, str] | None:
    """Status and sentence of a refusal; None for who may come in."""
    headers: dict[bytes, list[bytes]] = {}
    for name, text in scope["headers"]:
        headers.setdefault(name.lower(), []).append(text)
    port = (scope.get("server") or ("", 0))[1]
    names = {f"{host}:{port}".encode() for host in HOSTS}
    if len(headers.get(b"host", [])) != 1 or headers[b"host"][0] not in names:
        return 421, "this server answers by the address it printed, and by no other name"
    origins = headers.get(b"origin", [])
    if any(origin not in {b"http://" + name for name in names} for origin in origins):
        return 403, "another page asked for this"
    if scope["path"].startswith("/api/"):
        given = headers.get(PASS, [])
        if len(given) != 1 or not secrets.compare_digest(given[0], password.encode()):
            return 403, "the pass is missing or of an earlier start"
        if scope["method"] not in ("GET", "HEAD", "POST", "PUT", "DELETE"):
            return 405, "there is no such way to ask"
        length = headers.get(b"content-length", [b"0"])[0]
        if not length.isdigit() or int(length) > MAX_REQUEST:
            return 413, "this is larger than seamwright takes"
    return None


async def _say(send: Send, status: int, sentence: str) -> None:
    import json

    body = json.dumps({"error": {"code": "refused", "text": f"{sentence[0].upper()}{sentence[1:]}.", "faults": []}})
    headers = [(b"content-type", b"application/json"), (b"content-length", str(len(body.encode())).encode())]
    await send({"type": "http.response.start", "status": status, "headers": headers})
    await send({"type": "http.response.body", "body": body.encode()})
