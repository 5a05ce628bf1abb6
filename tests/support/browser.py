"""The page as a person has it: the command running on a folder, and Debian's chromium opened at its address.

Fixtures: `served` (a server on an empty folder), `page` (a browser's page opened there), `tab` (more pages of that
browser), `watch` (what the pages may complain of). A page's own errors, complaints in its console, refusals that no
test asked for, requests to elsewhere, and a server that broke or did not end by itself, fail the test.

Playwright keeps a loop running in this thread: what needs asyncio in a test asks through starlette's TestClient,
which has a thread of its own.
"""

from __future__ import annotations

import os
import shutil
import signal
import subprocess
import sys
from collections.abc import Callable, Iterator
from contextlib import suppress
from pathlib import Path
from typing import TYPE_CHECKING, Any

import pytest

from support.warm import Copy, Warm

if TYPE_CHECKING:
    from playwright.sync_api import Browser, BrowserContext, Page

CHROMIUM = os.environ.get("CHROMIUM", "/usr/bin/chromium")
SHUT_OFF = (
    # Pages of the address bar, which chromium loads for every context, although nobody sees it.
    *("WebUIOmniboxPopup", "WebUIOmniboxAimPopup", "WebUIOmniboxFullPopup", "SpareRendererForSitePerProcess"),
    # Of several lists the last counts, so what playwright shuts off and may concern us is named again.
    *("AimEnabled", "OptimizationHints", "NetworkTimeServiceQuerying", "PreconnectToSearch", "MediaRouter"),
    *("HttpsUpgrades", "HttpsFirstBalancedModeAutoEnable", "ThirdPartyStoragePartitioning", "PaintHolding"),
    *("AvoidUnnecessaryBeforeUnloadCheckSync", "DestroyProfileOnBrowserClose"),
)
ARGUMENTS = (
    f"--disable-features={','.join(SHUT_OFF)}",
    "--no-sandbox",
    "--disable-gpu",
    "--disable-dev-shm-usage",
    "--disable-quic",
    "--no-first-run",
    "--disable-background-networking",
    "--disable-component-update",
    "--disable-sync",
)
DESIGNS = Path(__file__).parents[2] / "designs"
PATIENCE_MS = 30_000
"""How long a page may take to show what is waited for: a busy machine fails no test."""
REFUSED = (409, 422)
"""Answers that are part of the work: a conflict, a sentence about what she gave."""

STOPPED = "seamwright: stopped; no file was left half-written\n"


def from_nothing(*words: str) -> subprocess.Popen[str]:
    """The command as whoever types it begins it."""
    return subprocess.Popen(
        [sys.executable, "-m", "seamwright", *words],
        stdout=subprocess.PIPE,
        stderr=subprocess.PIPE,
        text=True,
        start_new_session=True,
    )


class Served:
    """The command on a folder of its own, begun by `begin`; `address` is the line it printed."""

    def __init__(self, folder: Path, begin: Callable[..., subprocess.Popen[str] | Copy] = from_nothing) -> None:
        self.folder = folder
        self.address = ""
        self.origins: set[str] = set()
        self._begin = begin
        self._running: subprocess.Popen[str] | Copy | None = None

    @property
    def origin(self) -> str:
        return self.address.partition("/#")[0]

    @property
    def port(self) -> int:
        return int(self.origin.rpartition(":")[2])

    @property
    def password(self) -> str:
        return self.address.partition("#pass=")[2]

    @property
    def running(self) -> subprocess.Popen[str]:
        assert isinstance(self._running, subprocess.Popen), "the server was stopped, or is a copy"
        return self._running

    def start(self, port: int = 0) -> None:
        """Starts it, and reads its first line."""
        self._running = self._begin("draw", str(self.folder), "--no-open", "--port", str(port))
        assert self._running.stdout is not None
        self.address = self._running.stdout.readline().strip()
        assert self.address.startswith("http://127.0.0.1:"), self.stop()
        self.origins.add(self.origin)

    def stop(self) -> str:
        """Stops it as Ctrl-C does; what it said on the way."""
        return self._end(signal.SIGINT)

    def kill(self) -> None:
        """Ends it as a power cut does, its workers with it."""
        self._end(signal.SIGKILL)

    def restart(self, port: int | None = None) -> None:
        """Starts it again after `stop` or `kill`, at its port of before if none is named; the pass is new."""
        port = self.port if port is None else port
        self.stop()
        self.start(port)

    def put(self, *names: str) -> None:
        """Copies of our own designs into the folder."""
        for name in names:
            shutil.copy(DESIGNS / name, self.folder / name)

    def _end(self, how: signal.Signals) -> str:
        running, self._running = self._running, None
        if running is None:
            return ""
        with suppress(ProcessLookupError):
            if how is signal.SIGKILL:
                os.killpg(running.pid, how)
            else:
                running.send_signal(how)
        try:
            _, said = running.communicate(timeout=20)
        except subprocess.TimeoutExpired:
            os.killpg(running.pid, signal.SIGKILL)
            _, said = running.communicate()
            said += "\nit did not end by itself"
        return said


class Watch:
    """What pages complained of. What a test provokes it names: `watch.allow("ERR_CONNECTION_REFUSED")`."""

    def __init__(self, served: Served) -> None:
        self.faults: list[str] = []
        self._served = served
        self._allowed: list[str] = [f"the server responded with a status of {status}" for status in REFUSED]

    def allow(self, *words: str) -> None:
        """Complaints that hold one of these words are expected."""
        self._allowed += words

    def over(self, page: Page) -> None:
        """Looks after a page from now on."""
        page.on("pageerror", lambda error: self._note(f"error in the page: {error}"))
        page.on("crash", lambda _: self._note("the page crashed"))
        page.on(
            "console", lambda said: said.type == "error" and self._note(f"console: {said.text} ({said.location})")
        )
        page.on("request", lambda asked: self._look(asked.url))

    def _look(self, url: str) -> None:
        ours = [f"{origin}/" for origin in self._served.origins]
        if not url.startswith((*ours, "blob:", "data:", "about:")):
            self._note(f"asked elsewhere: {url}")

    def _note(self, fault: str) -> None:
        self.faults.append(fault)

    def check(self) -> None:
        """Fails if there was a complaint that no test expected."""
        left = [fault for fault in self.faults if not any(word in fault for word in self._allowed)]
        assert not left, "\n".join(left)


@pytest.fixture(scope="session")
def warm() -> Iterator[Warm]:
    """What servers are copies of."""
    made = Warm()
    yield made
    made.close()


@pytest.fixture
def served(tmp_path: Path, warm: Warm) -> Iterator[Served]:
    """A server on an empty folder; more lies beside the folder, which it must not touch."""
    folder = tmp_path / "designs"
    folder.mkdir()
    made = Served(folder, warm.copy)
    made.start()
    yield made
    said = made.stop()
    assert said in ("", STOPPED), said


@pytest.fixture(scope="session")
def chromium() -> Iterator[Browser]:
    """One browser for all tests of a worker."""
    if not Path(CHROMIUM).exists():
        missing = f"{CHROMIUM} is missing: install chromium, or name another one in CHROMIUM"
        if os.environ.get("CI"):
            pytest.fail(missing)
        pytest.skip(missing)
    from playwright.sync_api import sync_playwright

    with sync_playwright() as driver:
        browser = driver.chromium.launch(executable_path=CHROMIUM, args=list(ARGUMENTS))
        yield browser
        browser.close()


@pytest.fixture
def watch(served: Served) -> Watch:
    """What the pages of this test may complain of."""
    return Watch(served)


@pytest.fixture
def context(chromium: Browser) -> Iterator[BrowserContext]:
    """A browser that was never here before."""
    made = chromium.new_context(viewport={"width": 1280, "height": 860}, accept_downloads=True)
    made.set_default_timeout(PATIENCE_MS)
    yield made
    made.close()


@pytest.fixture
def tab(context: BrowserContext, served: Served, watch: Watch) -> Iterator[Callable[..., Any]]:
    """Opens a page at the server's address (or another): `tab()`, `tab(address)`."""
    from playwright.sync_api import expect

    expect.set_options(timeout=PATIENCE_MS)

    def opened(address: str | None = None) -> Page:
        page = context.new_page()
        watch.over(page)
        page.goto(served.address if address is None else address)
        return page

    yield opened
    watch.check()


@pytest.fixture
def page(tab: Callable[..., Page]) -> Page:
    """A page opened on an empty folder. What the folder should hold first is put there before `tab()` is called."""
    return tab()
