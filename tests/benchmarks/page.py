"""The verdict through the page against the plain call, in detail: `python tests/benchmarks/page.py`.

A block of 60 patches, in each question another drawing: plain calls in a warm process and questions through the
page's server (HTTP, from another process) take turns, so that a machine that slows down slows both.

verdict     after a change: one end of a seam lies elsewhere than in the question before
other size  every place of the drawing is another: nothing that was found before is of use
ratio       page over plain: of the medians; and the page's 95th percentile over the median of plain calls
overhead    what the page adds to a plain call, median and 95th percentile of neighbours in turn
burst       100 changes at once in a real browser: questions asked, and how long until the last has its verdict
start       first line of `seamwright draw`, against a Python that only imports fastapi; first verdict after it

Needs chromium for the burst. A machine with other work to do has longer 95th percentiles, in plain calls too: these
are told beside.
"""

from __future__ import annotations

import math
import re
import statistics
import subprocess
import sys
import tempfile
from functools import partial
from pathlib import Path

import httpx
from measuring import Figure, timed

from seamwright.api import outcome
from seamwright.drawing.textform import write_seams
from support.browser import ARGUMENTS, CHROMIUM, Served
from support.random_blocks import large_cut_block

PATCHES = 60
ROUNDS = 60
WARM = 8
"""Questions asked beforehand, so that both are warm, all processes too."""
CHANGES = 100
BURST = """async (count) => {
  const app = window.seamwright, from = performance.now();
  const rows = Array.from({ length: count }, (_, k) => ({ do: "name", name: `change ${k + 1}` }));
  await Promise.all(rows.map((edit) => app.desk.change([edit])));
  const changed = performance.now() - from;
  while (app.verdict.asking || !app.verdict.isFresh) await new Promise((go) => setTimeout(go, 5));
  return [changed, performance.now() - from, app.verdict.now.state, app.desk.view.name];
}"""


def main() -> None:
    """Prints the table."""
    with tempfile.TemporaryDirectory() as folder:
        served = Served(Path(folder))
        first_line, bare, first_verdict = start_up(served)
        (Path(folder) / "burst.seams").write_text(drawing(0))
        served.start()
        plain, page = turns(served, [with_end_moved(k) for k in range(2 * ROUNDS + WARM)])
        plain_anew, page_anew = turns(served, [drawing(k) for k in range(2 * ROUNDS + WARM)])
        asked, changed, told = burst(served)
        served.stop()
    added = [ours - theirs for ours, theirs in zip(page, plain, strict=True)]
    row("verdict, median", f"{statistics.median(page) / statistics.median(plain):.2f}", "1.5", page, 0.5)
    row("verdict, 95th percentile", f"{at(page, 0.95) / statistics.median(plain):.2f}", "2.0", page, 0.95)
    row(
        "other size, median",
        f"{statistics.median(page_anew) / statistics.median(plain_anew):.2f}",
        "",
        page_anew,
        0.5,
    )
    row(
        "other size, 95th percentile",
        f"{at(page_anew, 0.95) / statistics.median(plain_anew):.2f}",
        "",
        page_anew,
        0.95,
    )
    row("plain call, 95th percentile", f"{at(plain, 0.95) / statistics.median(plain):.2f}", "", plain, 0.95)
    row("overhead, median", "", "100 ms", added, 0.5)
    row("overhead, 95th percentile", "", "100 ms", added, 0.95)
    print(f"{'first line':30} {first_line / bare:7.2f} {'':>8} {first_line * 1000:8.0f} ms")
    print(f"{'first verdict after it':30} {'':7} {'':>8} {first_verdict * 1000:8.0f} ms")
    print(
        f"{CHANGES} changes: {asked} verdicts asked; all done after {changed:.0f} ms, verdict after {told:.0f} ms"
    )


def verdict_figure(rounds: int, warm: int = WARM) -> Figure:
    """The median verdict after a change through the page's server, against the plain call."""
    with tempfile.TemporaryDirectory() as folder:
        served = Served(Path(folder))
        served.start()
        try:
            plain, page = turns(served, [with_end_moved(k) for k in range(2 * rounds + warm)], warm)
        finally:
            served.stop()
    ratio = statistics.median(page) / statistics.median(plain)
    return Figure(f"verdict on the page, {PATCHES} patches", "the plain call", ratio, 1.5, statistics.median(page))


def row(what: str, ratio: str, most: str, seconds: list[float], share: float) -> None:
    print(f"{what:30} {ratio:>7} {most:>8} {at(seconds, share) * 1000:8.1f} ms", flush=True)


def at(seconds: list[float], share: float) -> float:
    """The value that this share of all does not exceed (nearest rank)."""
    return sorted(seconds)[math.ceil(len(seconds) * share) - 1]


def drawing(k: int) -> str:
    """The text of a block of 60 patches, a little larger with each number."""
    return write_seams(large_cut_block(1, PATCHES, size=12.0 + k / 64))


def with_end_moved(k: int) -> str:
    """The text of that block with the last seam that ends on its lower side ending a little farther on."""
    lines = drawing(0).splitlines()
    at = max(number for number, line in enumerate(lines) if re.match(r"seam [\d.]+, 12 to", line))
    x = float(lines[at].split()[1].rstrip(","))
    lines[at] = lines[at].replace(lines[at].split()[1], f"{x + k / 1024},", 1)
    return "\n".join(lines) + "\n"


def start_up(served: Served) -> tuple[float, float, float]:
    """Medians: seconds to the first line, to import fastapi alone, and from the line to the first verdict."""
    lines, bare, verdicts = [], [], []
    for _ in range(5):
        bare.append(timed(lambda: subprocess.run([sys.executable, "-c", "import fastapi, uvicorn"], check=True)))
        lines.append(timed(served.start))
        with client(served) as asking:
            verdicts.append(timed(lambda: verdict(asking, drawing(0))))
        served.stop()
    return statistics.median(lines), statistics.median(bare), statistics.median(verdicts)


def turns(served: Served, texts: list[str], warm: int = WARM) -> tuple[list[float], list[float]]:
    """Seconds of plain calls and of questions to the page, in turn, each about another of the texts."""
    plain, page = [], []
    with client(served) as asking:
        for text in texts[:warm]:
            outcome("sixty.seams", (), source=text.encode())
            verdict(asking, text)
        for one, other in zip(texts[warm::2], texts[warm + 1 :: 2], strict=True):
            plain.append(timed(partial(outcome, "sixty.seams", (), source=one.encode())))
            page.append(timed(partial(verdict, asking, other)))
    return plain, page


def burst(served: Served) -> tuple[int, float, float]:
    """Verdicts asked, milliseconds until all changes are done, and until the last one's verdict is told."""
    from playwright.sync_api import sync_playwright

    with sync_playwright() as driver:
        browser = driver.chromium.launch(executable_path=CHROMIUM, args=list(ARGUMENTS))
        page = browser.new_page(bypass_csp=True)  # waiting for a condition is a script of ours
        asked: list[str] = []
        page.on("request", lambda request: request.url.endswith("/api/verdict") and asked.append(request.url))
        page.goto(served.address)
        page.wait_for_function("window.seamwright?.desk")
        page.evaluate("seamwright.desk.open('burst.seams')")
        page.wait_for_function("seamwright.verdict.isFresh && !seamwright.verdict.asking")
        asked.clear()
        changed, told, state, name = page.evaluate(BURST, CHANGES)
        browser.close()
    assert (state, name) == ("can", f"change {CHANGES}"), (state, name)
    return len(asked), changed, told


def client(served: Served) -> httpx.Client:
    """Asks with the pass of this start."""
    headers = {"Seamwright-Pass": served.password}
    return httpx.Client(base_url=served.origin, headers=headers, timeout=60, trust_env=False)


def verdict(asking: httpx.Client, text: str) -> None:
    """One question; the drawing can be sewn."""
    answer = asking.post("/api/verdict", json={"name": "sixty.seams", "text": text}).json()
    assert answer["state"] == "can", answer


if __name__ == "__main__":
    main()
