"""Nobody else gets in: hostile requests, slow ones, huge ones, and what becomes of processes that fall over.

Rules of the wire: RFC 9112 (one Host, no lies about lengths) and RFC 9110 (status codes). What a browser says of
other pages: Fetch Standard (Origin), Fetch Metadata (Sec-Fetch-Site). Policies: Content Security Policy Level 3.
"""

from __future__ import annotations

import asyncio
import json
import os
import signal
import socket
import threading
import time
from collections.abc import AsyncIterator, Iterator
from concurrent.futures import CancelledError, ThreadPoolExecutor
from contextlib import contextmanager, suppress
from multiprocessing import resource_tracker
from pathlib import Path
from typing import Any

import httpx
import pytest
from pebble import ProcessFuture

from seamwright.cli import main
from seamwright.errors import SeamwrightError
from seamwright.page import guard, wire
from seamwright.page import workers as working
from seamwright.page.guard import guarded
from seamwright.page.serve import listener_at
from seamwright.page.wire import server_of
from seamwright.page.workers import Workers
from seamwright.processes import MEMORY
from support.asking import BASE, PASSWORD, Asking, asking, awaited
from support.browser import STOPPED, Served

KITE = "seamwright block 1\nsize 6 in\ngrid 8\nseam 0, 8 to 8, 0\nseam 0, 2 to 4, 4\n"
ASKED = {"name": "kite.seams", "text": KITE}


@pytest.fixture
def inside(tmp_path: Path) -> Iterator[Asking]:
    """Asks the application itself, as the browser of this start would; a secret lies beside the folder."""
    folder = tmp_path / "designs"
    folder.mkdir()
    (tmp_path / "secret.palette").write_text("seamwright palette 1\nfabric of-the-secret colour #a9c9dc\n")
    with asking(folder) as made:
        yield made


@pytest.fixture(scope="module")
def there(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Served]:
    """The real command, for requests that only a socket can make."""
    served = Served(tmp_path_factory.mktemp("designs"))
    served.start()
    yield served
    assert served.stop() == STOPPED


# -- who may ask -----------------------------------------------------------------------------------------------


def test_the_page_of_this_start_is_answered(inside: Asking) -> None:
    assert inside.get("/api/designs").status_code == 200
    assert inside.post("/api/sketch", {"text": KITE}).status_code == 200


@pytest.mark.parametrize(
    "given", [{}, {"Seamwright-Pass": ""}, {"Seamwright-Pass": "pass of this star"}, {"Seamwright-Pass": "påss"}]
)
@pytest.mark.parametrize("path", ["/api/designs", "/api/openapi.json", "/api/nothing", "/api", "/%61pi/designs"])
def test_without_the_pass_nothing_is_told(inside: Asking, path: str, given: dict[str, str]) -> None:
    inside.headers.clear()
    encoded = {name.encode(): value.encode() for name, value in given.items()}
    answer = inside.get(path, headers=encoded)
    assert answer.status_code == 403
    assert "pass" in answer.json()["error"]["text"]


def test_two_passes_are_none(inside: Asking) -> None:
    inside.headers.clear()
    given = [("Seamwright-Pass", "another"), ("Seamwright-Pass", PASSWORD)]
    assert inside.get("/api/designs", headers=given).status_code == 403


@pytest.mark.parametrize(
    "host",
    ["", "harbour.example:8000", "127.0.0.1", "127.0.0.1:8001", "127.0.0.1.harbour.example:8000", "[::1]:8000"],
)
@pytest.mark.parametrize("path", ["/", "/api/designs"])
def test_a_name_that_was_not_printed_is_not_answered(inside: Asking, host: str, path: str) -> None:
    assert inside.get(path, headers={"Host": host}).status_code == 421


@pytest.mark.parametrize(
    "headers",
    [
        {"Origin": "http://harbour.example"},
        {"Origin": "null"},
        {"Origin": "https://127.0.0.1:8000"},
        {"Origin": "http://127.0.0.1:8001"},
        {"Sec-Fetch-Site": "cross-site"},
        {"Sec-Fetch-Site": "same-site"},
    ],
)
def test_another_page_of_the_same_browser_is_not_answered(inside: Asking, headers: dict[str, str]) -> None:
    put = inside.put("/api/designs/x.seams", {"text": KITE, "base": ""}, headers=headers)
    assert put.status_code == 403
    assert inside.get("/api/designs", headers=headers).status_code == 403
    assert inside.get("/api/designs", headers={"Origin": BASE, "Sec-Fetch-Site": "same-origin"}).json() == []


def test_no_other_page_may_ask_whether_it_may_ask(inside: Asking) -> None:
    asks = {"Access-Control-Request-Method": "PUT", "Access-Control-Request-Headers": "seamwright-pass"}
    answer = inside.request("OPTIONS", "/api/designs/x.seams", headers={"Origin": BASE, **asks})
    assert answer.status_code == 405
    assert not any(name.startswith("access-control") for name in answer.headers)


@pytest.mark.parametrize("path", ["/", "/start.js", "/nothing", "/api/designs", "/api/nothing"])
@pytest.mark.parametrize("known", [True, False])
def test_every_answer_carries_the_policy(inside: Asking, path: str, known: bool) -> None:
    if not known:
        inside.headers.clear()
    headers = inside.get(path).headers
    policy = dict(part.strip().split(" ", 1) for part in headers["content-security-policy"].split(";"))
    assert policy["default-src"] == policy["frame-ancestors"] == policy["base-uri"] == "'none'"
    assert policy["script-src"] == policy["style-src"] == policy["connect-src"] == "'self'"
    assert headers["x-content-type-options"] == "nosniff"
    assert headers["cache-control"] == "no-store"
    assert "server" not in headers


def test_the_page_s_own_files_have_the_types_that_browsers_ask_for(inside: Asking) -> None:
    """HTML Standard: a module script needs a JavaScript type, text/javascript."""
    for path, kind in (("/", "text/html"), ("/start.js", "text/javascript"), ("/look.css", "text/css")):
        assert inside.get(path).headers["content-type"].partition(";")[0] == kind


@pytest.mark.parametrize(
    "path",
    [
        "/../guard.py",
        "/..%2fguard.py",
        "/..%5cguard.py",
        "/%2e%2e/guard.py",
        "/%00",
        "/%ff",
        "/a/b",
        "//etc/passwd",
    ],
)
def test_no_file_but_the_page_s_own_is_served(inside: Asking, path: str) -> None:
    answer = inside.get(path)
    assert answer.status_code == 404
    assert "designs" not in answer.text and "import" not in answer.text


# -- what is asked ---------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    "name",
    [
        "../x.seams",
        "..%2fx.seams",
        "..%5cx.seams",
        "%2e%2e%2fx.seams",
        "/x.seams",
        "a%00.seams",
        ".x.seams",
        "x",
        "x.py",
    ],
)
def test_no_path_leaves_the_folder(inside: Asking, tmp_path: Path, name: str) -> None:
    before = sorted(tmp_path.rglob("*"))
    assert inside.put(f"/api/designs/{name}", {"text": KITE, "base": ""}).status_code in (404, 405, 422)
    assert inside.get(f"/api/designs/{name}").status_code in (404, 405, 422)
    assert [path for path in sorted(tmp_path.rglob("*")) if path.suffix != ".seamwright"] == before


def test_a_link_that_leads_out_of_the_folder_is_not_followed(inside: Asking, tmp_path: Path) -> None:
    (tmp_path / "elsewhere.seams").write_text(KITE)
    (tmp_path / "designs" / "link.seams").symlink_to(tmp_path / "elsewhere.seams")
    assert inside.get("/api/designs/link.seams").status_code == 422
    assert inside.put("/api/designs/link.seams", {"text": "", "base": ""}).status_code in (409, 422)
    assert (tmp_path / "elsewhere.seams").read_text() == KITE


@pytest.mark.parametrize("way", ["option", "drawing"])
def test_a_drawing_reads_no_palette_outside_of_the_folder(inside: Asking, tmp_path: Path, way: str) -> None:
    secret = str(tmp_path / "secret.palette")
    asked: dict[str, Any] = {**ASKED, "options": {"palette": secret}}
    if way == "drawing":
        asked = {**ASKED, "text": f"{KITE}option palette ../secret.palette\n"}
    answer = inside.post("/api/verdict", asked)
    assert answer.json()["state"] == "unreadable"
    assert "of-the-secret" not in answer.text
    (tmp_path / "designs" / "own.palette").write_bytes(Path(secret).read_bytes())
    within = {**ASKED, "options": {"palette": str(tmp_path / "designs" / "own.palette")}}
    assert "of-the-secret" in inside.post("/api/verdict", within).text


@pytest.mark.parametrize(
    "body",
    [
        b'{"text": "", "edits": [{"do": "draw", "points": [[NaN, 0], [1, 1]]}]}',
        b'{"text": "", "edits": [{"do": "draw", "points": [[-Infinity, 0], [1, 1]]}]}',
        b'{"text": "", "edits": [{"do": "draw", "points": [[1e999, 0], [1, 1]]}]}',
        b'{"text": "\\ud800"}',
        b'{"text": ',
        b'{"text": "", "more": 1}',
        b'{"text": 5}',
        b'{"text": "", "edits": [{"do": "fly"}]}',
        b"\xff\xfe",
        b"[" * 100_000,
        b"[]",
        b"null",
        b"",
    ],
)
def test_what_is_no_request_is_refused_in_the_shape_of_all_refusals(inside: Asking, body: bytes) -> None:
    answer = inside.post("/api/sketch", content=body, headers={"Content-Type": "application/json"})
    assert answer.status_code in (400, 422)
    error = answer.json()["error"]
    assert error["code"] and error["text"].endswith(".") and isinstance(error["faults"], list)


@pytest.mark.parametrize(
    ("way", "path"), [("GET", "/api/nothing"), ("PATCH", "/api/designs"), ("POST", "/api/designs/a/b")]
)
def test_what_is_not_there_is_refused_in_the_same_shape(inside: Asking, way: str, path: str) -> None:
    answer = inside.request(way, path)
    assert answer.status_code in (404, 405)
    assert answer.json()["error"]["text"]


def test_a_text_above_the_limit_is_refused(inside: Asking) -> None:
    assert inside.post("/api/sketch", {"text": "x" * 2_000_001}).status_code == 422


@pytest.mark.parametrize("told", [True, False])
def test_a_body_above_the_limit_is_refused_whether_its_length_is_told_or_not(
    inside: Asking, monkeypatch: pytest.MonkeyPatch, told: bool
) -> None:
    monkeypatch.setattr(guard, "MAX_REQUEST", 50_000)
    body = b'{"text": "' + b"x" * 60_000 + b'"}'
    content = body if told else pieces(body)
    assert inside.post("/api/sketch", content=content).status_code == 413


async def pieces(body: bytes) -> AsyncIterator[bytes]:
    """A body that comes without its length."""
    for at in range(0, len(body), 30_000):
        yield body[at : at + 30_000]


def test_a_fault_of_ours_is_told_without_what_lies_inside(capsys: pytest.CaptureFixture[str]) -> None:
    async def broken(*_: Any) -> None:
        raise ValueError("of the inside")

    answer = Asking(guarded(broken, PASSWORD)).get("/api/designs")
    assert answer.status_code == 500
    assert (
        "report" in answer.json()["error"]["text"]
        and "inside" not in answer.json()["error"]["text"].split("wrong inside")[-1]
    )
    assert "ValueError" in capsys.readouterr().err


# -- raw sockets -----------------------------------------------------------------------------------------------


def exchanged(port: int, sent: bytes, *, over: bool = False) -> bytes:
    """What comes back on one connection until the server ends it; over: we say that no more will come."""
    with socket.create_connection(("127.0.0.1", port), timeout=20) as connection:
        came = b""
        with suppress(ConnectionError):
            connection.sendall(sent)
            if over:
                connection.shutdown(socket.SHUT_WR)
            while part := connection.recv(65536):
                came += part
        return came


def status(came: bytes) -> int:
    assert came.startswith(b"HTTP/1.1 ") or not came, came[:80]
    return int(came[9:12]) if came else 0


HOST = b"Host: 127.0.0.1:%d\r\nConnection: close\r\n"
LINE = b"POST /api/sketch HTTP/1.1\r\n" + HOST


@pytest.mark.parametrize(
    ("sent", "answers"),
    [
        (b"GET / HTTP/1.1\r\n\r\n", {400}),
        (b"GET / HTTP/1.0\r\n\r\n", {421}),
        (b"GET / HTTP/1.1\r\nHost: 127.0.0.1:%d\r\n" + HOST + b"\r\n", {400}),
        (b"GET http://127.0.0.1:%d/api/designs HTTP/1.1\r\n" + HOST + b"\r\n", {403, 404}),
        (b"GET //api/designs HTTP/1.1\r\n" + HOST + b"\r\n", {404}),
        (b"GET /../guard.py HTTP/1.1\r\n" + HOST + b"\r\n", {404}),
        (b"GET /..\\guard.py HTTP/1.1\r\n" + HOST + b"\r\n", {404}),
        (b"GET /\0 HTTP/1.1\r\n" + HOST + b"\r\n", {400, 404}),
        (b"GET /" + b"a" * 200_000 + b" HTTP/1.1\r\n" + HOST + b"\r\n", {400, 431}),
        (b"GET / HTTP/1.1\r\n" + HOST + b"X: " + b"a" * 200_000 + b"\r\n\r\n", {400, 431}),
        (b"GET / HTTP/1.1\r\n" + HOST + b"X: a\r\n" * 5_000 + b"\r\n", {400, 431}),
        (b"CONNECT harbour.example:443 HTTP/1.1\r\n" + HOST + b"\r\n", {400, 404, 405}),
        (b"TRACE / HTTP/1.1\r\n" + HOST + b"\r\n", {405}),
        (b"\x16\x03\x01\x02\x00\x01\r\n\r\n", {400}),
        (b"PRI * HTTP/2.0\r\n\r\nSM\r\n\r\n", {400, 421}),
        (LINE + b"Transfer-Encoding: chunked\r\n\r\nZZ\r\n{}\r\n0\r\n\r\n", {400, 403}),
        (LINE + b"Content-Length: 5\r\nContent-Length: 6\r\n\r\n{}", {400}),
        (LINE + b"Content-Length: -5\r\n\r\n{}", {400}),
        (LINE + b"Content-Length: 9\r\n\r\n{}", {0, 400, 403}),
        (b"", {0}),
    ],
)
def test_what_is_no_http_is_refused_and_the_next_request_is_answered(
    there: Served, sent: bytes, answers: set[int]
) -> None:
    port = str(there.port).encode()
    assert status(exchanged(there.port, sent.replace(b"%d", port), over=0 in answers)) in answers
    fine = b"GET /start.js HTTP/1.1\r\nHost: 127.0.0.1:%s\r\nConnection: close\r\n\r\n" % port
    assert status(exchanged(there.port, fine)) == 200


def test_it_listens_on_this_computer_alone(there: Served) -> None:
    listening = Path("/proc/net/tcp").read_text() if Path("/proc/net/tcp").exists() else ""
    ours = [line.split() for line in listening.splitlines() if f":{there.port:04X} " in line]
    listeners = {words[1] for words in ours if words[3] == "0A"}
    assert listeners == {f"0100007F:{there.port:04X}"} or not listening
    with pytest.raises(OSError):
        socket.create_connection(("::1", there.port), timeout=5).close()


# -- time ------------------------------------------------------------------------------------------------------


@contextmanager
def running(app: Any) -> Iterator[int]:
    """A server in a thread of this process; its port."""
    with listener_at(0) as listener:
        server = server_of(app)
        thread = threading.Thread(target=server.run, kwargs={"sockets": [listener]})
        thread.start()
        yield listener.getsockname()[1]
        server.should_exit = True
        thread.join()


def test_no_part_of_an_answer_waits_until_the_page_has_confirmed_the_part_before() -> None:
    """Nagle's delay (RFC 896) is off on what the server takes on: with it each answer came 40 ms later."""
    held: list[int] = []

    async def taken(reader: asyncio.StreamReader, writer: asyncio.StreamWriter) -> None:
        there = writer.get_extra_info("socket")
        held.append(there.getsockopt(socket.IPPROTO_TCP, socket.TCP_NODELAY))
        writer.close()

    async def once(listener: socket.socket) -> None:
        async with await asyncio.start_server(taken, sock=listener):
            reader, writer = await asyncio.open_connection(*listener.getsockname())
            await reader.read()
            writer.close()

    aside = threading.Thread(target=lambda: asyncio.run(once(listener_at(0))))
    aside.start()
    aside.join()
    assert held and held[0]


@pytest.mark.parametrize("sent", [b"", b"GET / HT", b"GET / HTTP/1.1\r\nHost: a\r\nX:"])
def test_a_head_that_never_ends_is_not_waited_for(monkeypatch: pytest.MonkeyPatch, sent: bytes) -> None:
    monkeypatch.setattr(wire, "HEAD_S", 0.1)
    with running(guarded(nothing, "")) as port:
        assert exchanged(port, sent) == b""


def test_a_body_that_never_ends_is_not_waited_for(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(guard, "BODY_S", 0.1)
    with running(guarded(nothing, "p")) as port:
        head = f"POST /api/x HTTP/1.1\r\nHost: 127.0.0.1:{port}\r\nSeamwright-Pass: p\r\nContent-Length: 9\r\n\r\n"
        assert status(exchanged(port, head.encode() + b"{")) == 408


def test_an_answer_that_never_comes_is_not_waited_for(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(guard, "ANSWER_S", 0.1)
    with running(guarded(nothing, "p")) as port:
        head = f"PUT /api/x HTTP/1.1\r\nHost: 127.0.0.1:{port}\r\nSeamwright-Pass: p\r\nContent-Length: 0\r\n\r\n"
        assert status(exchanged(port, head.encode())) == 503


def test_what_is_under_way_when_the_server_stops_is_told_so(capfd: pytest.CaptureFixture[str]) -> None:
    begun = threading.Event()

    async def app(scope: Any, receive: Any, send: Any) -> None:
        begun.set()
        await nothing(scope, receive, send)

    with ThreadPoolExecutor(1) as aside, running(guarded(app, "p")) as port:
        head = f"PUT /api/x HTTP/1.1\r\nHost: 127.0.0.1:{port}\r\nSeamwright-Pass: p\r\nContent-Length: 0\r\n\r\n"
        came = aside.submit(exchanged, port, head.encode())
        assert begun.wait(20)
    assert status(came.result()) == 503
    assert b"Seamwright was stopped before this was done." in came.result()
    assert capfd.readouterr() == ("", "")


async def nothing(scope: Any, receive: Any, send: Any) -> None:
    """An application that never answers."""
    await asyncio.Event().wait()


@pytest.mark.parametrize(("way", "ended"), [("POST", True), ("GET", True), ("PUT", False), ("DELETE", False)])
def test_a_browser_that_hangs_up_ends_its_question_but_not_what_keeps_her_work(way: str, ended: bool) -> None:
    begun, done, stopped, go_on = (threading.Event() for _ in range(4))

    async def app(scope: Any, receive: Any, send: Any) -> None:
        begun.set()
        try:
            while not go_on.is_set():
                await asyncio.sleep(0.01)
            done.set()
        except asyncio.CancelledError:
            stopped.set()
            raise

    with running(guarded(app, "p")) as port:
        head = f"{way} /api/x HTTP/1.1\r\nHost: 127.0.0.1:{port}\r\nSeamwright-Pass: p\r\nContent-Length: 0\r\n\r\n"
        with socket.create_connection(("127.0.0.1", port)) as connection:
            connection.sendall(head.encode())
            assert begun.wait(10)
        if ended:
            assert stopped.wait(10)
        go_on.set()
        assert ended or done.wait(10)


# -- processes -------------------------------------------------------------------------------------------------


def made(workers: Workers, work: Any, *values: Any, limit_s: float = 30.0) -> Any:
    """What a worker makes."""
    return awaited(workers.run(work, *values, limit_s=limit_s))


def test_work_that_hangs_falls_over_or_eats_all_memory_is_told_and_the_next_is_done(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    with Workers(count=1) as workers:
        assert made(workers, abs, -3) == 3
        with pytest.raises(SeamwrightError, match="longer than"):
            made(workers, time.sleep, 60, limit_s=0.2)
        assert made(workers, abs, -4) == 4
        with pytest.raises(SeamwrightError, match="memory"):
            made(workers, os._exit, 9)
        with pytest.raises(SeamwrightError, match="memory"):
            made(workers, bytearray, MEMORY)
        with pytest.raises(SeamwrightError, match="inside seamwright"):
            made(workers, int, "no number")
        # The system ends a process that waits for work.
        os.kill(made(workers, os.getpid), signal.SIGKILL)
        time.sleep(0.3)
        assert made(workers, abs, -5) == 5
        monkeypatch.setattr(working, "MOST_WAITING", 0)
        with pytest.raises(SeamwrightError, match="too much"):
            made(workers, abs, -6)


def test_what_is_asked_while_she_draws_does_not_wait_behind_two_prints() -> None:
    async def story() -> None:
        with Workers(count=2) as workers:
            prints = [asyncio.create_task(workers.run(time.sleep, 60, limit_s=120)) for _ in range(2)]
            await asyncio.sleep(0)
            assert await workers.run(abs, -3, limit_s=20) == 3
            for one in prints:
                assert not one.done()
                one.cancel()
            await asyncio.gather(*prints, return_exceptions=True)

    awaited(story())


def test_what_is_taken_back_while_its_answer_arrives_takes_no_other_answer_with_it(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    """The library looks whether work was taken back, and sets its answer after that."""
    looked, taken_back = ProcessFuture.cancelled, []

    def between(future: ProcessFuture[Any]) -> bool:
        was = looked(future)
        if "message_manager" in threading.current_thread().name and not taken_back:
            taken_back.append(future)
            future.cancel()
        return was

    with Workers(count=1) as workers:
        assert made(workers, abs, -3) == 3
        monkeypatch.setattr(ProcessFuture, "cancelled", between)
        with pytest.raises(CancelledError):
            made(workers, time.sleep, 0)
        assert len(taken_back) == 1
        assert made(workers, abs, -4, limit_s=5) == 4


def test_ctrl_c_which_a_terminal_sends_to_all_is_heard_by_the_server_alone_from_the_first_moment_on() -> None:
    resource_tracker._resource_tracker._stop()  # type: ignore[attr-defined]  # as when the server starts
    with Workers(count=1) as workers:
        workers.start()
        assert signal.SIGINT in made(workers, signal.pthread_sigmask, signal.SIG_BLOCK, ())
    assert signal.SIGINT not in signal.pthread_sigmask(signal.SIG_BLOCK, ())


def children(pid: int) -> list[int]:
    return [int(word) for task in Path(f"/proc/{pid}/task").glob("*/children") for word in task.read_text().split()]


def alive(pid: int) -> bool:
    try:
        return Path(f"/proc/{pid}/stat").read_text().rpartition(")")[2].split()[0] not in ("Z", "X")
    except OSError:
        return False


@pytest.mark.parametrize(
    "how", [signal.SIGINT, pytest.param(signal.SIGTERM, marks=pytest.mark.long), signal.SIGKILL]
)
def test_the_server_ends_with_its_processes_also_with_open_connections(tmp_path: Path, how: signal.Signals) -> None:
    served = Served(tmp_path)
    served.start()
    process = served.running
    with socket.create_connection(("127.0.0.1", served.port)) as connection:
        head = f"PUT /api/designs/x.seams HTTP/1.1\r\nHost: 127.0.0.1:{served.port}\r\n"
        connection.sendall(f"{head}Seamwright-Pass: {served.password}\r\nContent-Length: 9\r\n\r\n{{".encode())
        told = {"Seamwright-Pass": served.password}
        answer = httpx.post(f"{served.origin}/api/verdict", json=ASKED, headers=told, timeout=60, trust_env=False)
        assert answer.json()["state"] == "can"
        workers = children(process.pid)
        assert workers
        process.send_signal(how)
        _, said = process.communicate(timeout=20)
    assert process.returncode == (-how if how is signal.SIGKILL else 130)
    assert said == STOPPED or how is signal.SIGKILL
    for _ in range(200):
        if not any(map(alive, workers)):
            break
        time.sleep(0.05)
    assert not any(map(alive, workers))
    assert list(tmp_path.iterdir()) == []


# -- the command -----------------------------------------------------------------------------------------------


def test_a_folder_that_is_none_is_told_in_a_sentence(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    (tmp_path / "file").write_text("")
    for folder in ("file", "file/designs"):
        assert main(["draw", "--no-open", str(tmp_path / folder)]) == 2
        assert "is a file" in capsys.readouterr().err


@pytest.mark.skipif(not hasattr(os, "geteuid") or os.geteuid() == 0, reason="root may do everything")
@pytest.mark.parametrize(("mode", "word"), [(0o500, "written"), (0o300, "read"), (0o000, "")])
def test_a_folder_that_may_not_be_used_is_told_in_a_sentence(
    tmp_path: Path, capsys: pytest.CaptureFixture[str], mode: int, word: str
) -> None:
    folder = tmp_path / "designs"
    folder.mkdir(mode)
    assert main(["draw", "--no-open", str(folder)]) == 2
    assert word in capsys.readouterr().err
    folder.chmod(0o700)


@pytest.mark.parametrize("port", ["", "70000", "-1", "one"])
def test_a_port_that_cannot_be_had_is_told_in_a_sentence(
    there: Served, tmp_path: Path, capsys: pytest.CaptureFixture[str], port: str
) -> None:
    assert main(["draw", "--no-open", str(tmp_path / "designs"), "--port", port or str(there.port)]) == 2
    assert "port" in capsys.readouterr().err


def test_the_address_holds_another_pass_at_each_start(tmp_path: Path) -> None:
    served = Served(tmp_path)
    served.start()
    first, port = served.password, served.port
    served.restart()
    assert served.port == port and served.password != first
    assert len(first) >= 32
    served.stop()


def test_the_description_of_all_requests_is_served(inside: Asking) -> None:
    described = inside.get("/api/openapi.json").json()
    assert "/api/verdict" in described["paths"]
    assert json.dumps(described)


@pytest.mark.skipif(os.name != "posix", reason="this system has no such permissions")
def test_the_browser_is_led_to_the_page_by_a_file_that_nobody_else_may_read(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """A process's arguments are for everybody on the computer to read (proc(5), /proc/pid/cmdline)."""
    import webbrowser

    from seamwright.page import serve

    opened: list[str] = []
    monkeypatch.setattr(webbrowser, "open", opened.append)
    monkeypatch.setattr(serve, "OPENED_S", 0.05)
    serve.open_browser(tmp_path, "http://127.0.0.1:50000/#pass=of-this-start")
    (address,) = opened
    assert address.startswith("file:") and "of-this-start" not in address
    path = Path(address.removeprefix("file://"))
    with suppress(FileNotFoundError):  # it may be gone by now
        assert path.stat().st_mode & 0o777 == 0o600
        assert 'url=http://127.0.0.1:50000/#pass=of-this-start"' in path.read_text()
    for _ in range(200):
        if not path.exists():
            break
        time.sleep(0.05)
    assert list(path.parent.iterdir()) == []
