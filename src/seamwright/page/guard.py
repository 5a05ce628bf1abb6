"""Who gets in: this computer's own browser, with the pass of this start, and nobody else.

Knows:  the pass, Host, Origin, how large a request may be, how long it may take to arrive and to be answered, that
        a browser which hangs up waits no more, the headers that every answer carries.
Leaves: what is asked (the routers), what a request's head may be (wire), paths (designs), work (workers).
Units:  bytes, seconds.
Method: names of hosts are checked against rebinding, origins against other pages in the same browser (Fetch
        Standard: a browser names the origin of whatever changes anything; Fetch Metadata: it says in Sec-Fetch-Site
        whether it is this one); the pass is a header of our own, which no other page can send without asking
        first, and comparing it takes the same time whatever is wrong with it. The page's own files hold nothing
        secret and need no pass. A body is read whole before anything is made of it, so that no part of the work
        meets half a request.
Limits: whoever may read this user's memory or files needs no pass; nothing here is meant to keep them out.
"""

from __future__ import annotations

import asyncio
import json
import secrets
from collections.abc import Awaitable, Callable, MutableMapping
from typing import Any

Scope = MutableMapping[str, Any]
Message = MutableMapping[str, Any]
Receive = Callable[[], Awaitable[Message]]
Send = Callable[[Message], Awaitable[None]]
App = Callable[[Scope, Receive, Send], Awaitable[None]]

HEAD_BYTES = 16_384
"""Of a request's first line and headers."""
PASS = b"seamwright-pass"
"""Header that carries the pass."""
MAX_REQUEST = 30_000_000
"""Of one request: a drawing may have 20 million, more as text."""
BODY_S = 20.0
"""For a body to arrive: it comes from this computer."""
ANSWER_S = 300.0
"""For an answer; work that may take long has a shorter limit of its own."""
HOSTS = ("127.0.0.1", "localhost")
WAYS = ("GET", "HEAD", "POST", "PUT", "DELETE")
FINISHED = ("PUT", "DELETE")
"""What is done to the end although the browser hangs up: her work is being kept."""

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
    (b"x-frame-options", b"DENY"),
    (b"referrer-policy", b"no-referrer"),
    (b"cross-origin-opener-policy", b"same-origin"),
    (b"cross-origin-resource-policy", b"same-origin"),
    # Another version of the program may serve this address tomorrow.
    (b"cache-control", b"no-store"),
)


class _Refused(Exception):
    """A request that is not passed on: status and sentence."""


def guarded(app: App, password: str) -> App:
    """An ASGI application behind the guard."""

    async def inner(scope: Scope, receive: Receive, send: Send) -> None:
        if scope["type"] == "lifespan":
            await app(scope, receive, send)
        if scope["type"] != "http":
            return
        answer = _Answer(send)
        try:
            _look(scope, password)
            body = await _whole(receive) if scope["path"].startswith("/api") else b""
            await _answered(app, scope, body, receive, answer)
        except _Refused as refused:
            if not answer.started:
                await answer.say(*refused.args)
        except asyncio.CancelledError:  # the server ends; left alone, this would be answered as a fault of ours
            if not answer.started:
                await answer.say(503, "seamwright was stopped before this was done")
        except Exception as problem:
            from seamwright.commands.telling import tell

            tell(problem)  # where the server was started; the page has its own answer
            if not answer.started:
                await answer.say(500, "something went wrong inside seamwright; please report it")

    return inner


class _Answer:
    """An answer on its way: every one carries the same headers."""

    def __init__(self, send: Send) -> None:
        self._send = send
        self.started = self.whole = False

    async def __call__(self, message: Message) -> None:
        if message["type"] == "http.response.start":
            self.started = True
            ours = {name for name, _ in HEADERS}
            kept = [header for header in message.get("headers", ()) if header[0].lower() not in ours]
            message = {**message, "headers": [*kept, *HEADERS]}
        elif not message.get("more_body"):
            self.whole = True
        await self._send(message)

    async def say(self, status: int, sentence: str) -> None:
        """A refusal, in the shape that all refusals have."""
        text = f"{sentence[0].upper()}{sentence[1:]}."
        body = json.dumps({"error": {"code": "refused", "text": text, "faults": []}}).encode()
        headers = [(b"content-type", b"application/json"), (b"content-length", str(len(body)).encode())]
        headers.append((b"connection", b"close"))  # what else comes this way is not read
        await self({"type": "http.response.start", "status": status, "headers": headers})
        await self({"type": "http.response.body", "body": body})


def _look(scope: Scope, password: str) -> None:
    """Refuses whoever should not get in."""
    if len(scope["raw_path"]) + sum(len(name) + len(value) + 4 for name, value in scope["headers"]) > HEAD_BYTES:
        raise _Refused(431, "this asks with too many words")
    headers: dict[bytes, list[bytes]] = {}
    for name, value in scope["headers"]:
        headers.setdefault(name.lower(), []).append(value)
    port = scope["server"][1] if scope.get("server") else 80
    names = {f"{host}:{port}".encode() for host in HOSTS}
    if len(headers.get(b"host", [])) != 1 or headers[b"host"][0] not in names:
        raise _Refused(421, "this server answers by the address it printed, and by no other name")
    origins = {b"http://" + name for name in names}
    if any(origin not in origins for origin in headers.get(b"origin", [])):
        raise _Refused(403, "another page asked for this")
    if not scope["path"].startswith("/api"):
        return
    if any(site not in (b"same-origin", b"none") for site in headers.get(b"sec-fetch-site", [])):
        raise _Refused(403, "another page asked for this")
    given = headers.get(PASS, [])
    if len(given) != 1 or not secrets.compare_digest(given[0], password.encode()):
        raise _Refused(403, "the pass is missing or of an earlier start; open the address that seamwright printed")
    if scope["method"] not in WAYS:
        raise _Refused(405, "there is no such way to ask")


async def _whole(receive: Receive) -> bytes:
    """The body. One that is too large is let in and dropped for a while, so that the answer is read."""
    body = bytearray()
    size, more = 0, True
    try:
        async with asyncio.timeout(BODY_S):
            while more and size <= 3 * MAX_REQUEST:
                message = await receive()
                if message["type"] == "http.disconnect":
                    raise _Refused(400, "the request broke off")
                piece, more = message.get("body", b""), message.get("more_body", False)
                size += len(piece)
                if size <= MAX_REQUEST:
                    body += piece
    except TimeoutError:
        raise _Refused(408, "the request did not arrive in time") from None
    if size > MAX_REQUEST:
        raise _Refused(413, f"this is larger than seamwright takes ({MAX_REQUEST // 1_000_000} MB)")
    return bytes(body)


async def _answered(app: App, scope: Scope, body: bytes, receive: Receive, answer: _Answer) -> None:
    """Asks the application; stops asking when the browser hangs up, or when the time is over."""
    gone = asyncio.ensure_future(_hung_up(receive))
    handed = False

    async def replayed() -> Message:
        nonlocal handed
        if not handed:
            handed = True
            return {"type": "http.request", "body": body, "more_body": False}
        await asyncio.shield(gone)
        return {"type": "http.disconnect"}

    work = asyncio.ensure_future(app(scope, replayed, answer))
    until = {work} if scope["method"] in FINISHED else {work, gone}
    try:
        await asyncio.wait(until, timeout=ANSWER_S, return_when=asyncio.FIRST_COMPLETED)
        if not work.done() and not gone.done():
            raise _Refused(503, "this took too long and was stopped")
        if work.done() or answer.whole:
            await work
    finally:
        for task in (work, gone):
            task.add_done_callback(_heard)
            task.cancel()  # a thread goes on to its end, but nobody waits for it


def _heard(task: asyncio.Task[None]) -> None:
    """What a task that nobody waits for ends with is of no interest."""
    if not task.cancelled():
        task.exception()


async def _hung_up(receive: Receive) -> None:
    while (await receive())["type"] != "http.disconnect":
        pass
