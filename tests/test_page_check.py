"""Check and Sew in a real browser: a mend at one press, answers to older drawings, no answer, the sewing table."""

from __future__ import annotations

import re
from collections.abc import Callable

from playwright.sync_api import Page, Route, expect

from support.browser import DESIGNS, Served, Watch

Tab = Callable[..., Page]
SAID = "#verdict .said"
SENTENCES = """() => {
  window.said = [];
  const place = document.querySelector("#verdict");
  const look = () => window.said.push(place.textContent);
  new MutationObserver(look).observe(place, { childList: true, subtree: true, characterData: true });
}"""


def part(page: Page, name: str) -> None:
    page.get_by_role("button", name=name, exact=True).click()


def draws(page: Page, *points: tuple[float, float]) -> None:
    """A seam, as if it had been drawn; it waits for nothing."""
    page.evaluate("points => { seamwright.desk.change([{ do: 'draw', points }]); }", points)


def test_what_is_stuck_is_mended_at_one_press_and_one_undo_takes_it_back(served: Served, tab: Tab) -> None:
    served.put("breakwater.seams")
    file, was = served.folder / "breakwater.seams", (DESIGNS / "breakwater.seams").read_text()
    page = tab()
    expect(page.locator(SAID)).to_have_text("Cannot be sewn with straight full seams: stuck in 1 place.")
    page.get_by_role("button", name="Show what would mend it").click()
    finding = page.locator(".finding")
    expect(finding).to_contain_text("4 seams run in a ring round (3, 3), (5, 3), (5, 5) and (3, 5) in")
    expect(page.locator("#chart .stuck-line")).to_have_count(4)
    expect(page.locator("#chart .mend-new")).to_have_count(0)

    mend = page.get_by_role("button", name="Do this")
    expect(mend).to_have_accessible_description(re.compile("Continue the seam from"))
    mend.focus()
    expect(page.locator("#chart .mend-new")).to_have_count(1)
    page.keyboard.press("Enter")
    expect(page.locator(SAID)).to_have_text(re.compile("^Can be sewn: "))
    expect(page.locator("#chart .stuck-line, #chart .mend-new")).to_have_count(0)
    expect(page.locator("#saved")).to_have_text("Saved")
    mended = file.read_text()
    assert mended != was
    assert [line for line in mended.splitlines() if line[:1] == "#"] == [
        line for line in was.splitlines() if line[:1] == "#"
    ]
    assert "made by" not in mended
    assert mended.count("\nfabric ") == was.count("\nfabric ")

    page.get_by_role("button", name="Undo").click()
    expect(page.locator(SAID)).to_have_text("Cannot be sewn with straight full seams: stuck in 1 place.")
    expect(page.locator("#saved")).to_have_text("Saved")
    assert file.read_text() == was

    page.get_by_role("button", name="Sew it as it is drawn").click()
    expect(page.locator(SAID)).to_have_text(re.compile("^Can be sewn, 1 partial join: "))
    expect(page.locator("#chart .disc.half")).to_have_count(1)
    page.get_by_role("checkbox", name="Sew it as it is drawn").uncheck()
    expect(page.locator(SAID)).to_have_text(re.compile("^Cannot be sewn"))


def test_an_answer_to_an_older_drawing_is_never_shown(served: Served, tab: Tab, watch: Watch) -> None:
    (served.folder / "dock.seams").write_text(
        "seamwright block 1\nname dock\nsize 8 in\ngrid 8\nseam 0, 4 to 8, 4\n"
    )
    page = tab()
    expect(page.locator(SAID)).to_have_text(re.compile("^Can be sewn: 2 plain pieces"))
    page.evaluate(SENTENCES)

    # The answer about the first change is kept back, and says what is true of none of the drawings.
    asked: list[str] = []
    held: list[Route] = []
    older = "An answer to an older drawing."
    answer = {
        "state": "cannot",
        "sentence": older,
        "proven": "",
        "stuck": [],
        "turns": [],
        "notes": [],
        "patches": [],
    }

    def slow(route: Route) -> None:
        asked.append(route.request.post_data_json["text"])
        if len(asked) in (1, 3):
            held.append(route)
        else:
            route.continue_()

    page.route("**/api/verdict", slow)
    draws(page, (0, 2), (8, 2))
    expect(page.locator(SAID)).to_have_text("Looking whether this can be sewn …")
    draws(page, (1, 2), (1, 4))
    expect(page.locator("#chart .seam")).to_have_count(3)
    held[0].fulfill(json=answer)
    expect(page.locator("#chart .patch")).to_have_count(4)
    expect(page.locator(SAID)).to_have_text(re.compile("^Can be sewn: "))

    # One that never comes is given up once there is a newer drawing; of a burst only the newest is asked about.
    for k in range(20):
        draws(page, (k * 0.25 + 2, 2), (k * 0.25 + 2, 4))
    expect(page.locator("#chart .patch")).to_have_count(24, timeout=60_000)
    expect(page.locator(SAID)).to_have_text(re.compile("^Can be sewn: "))
    part(page, "Check")
    expect(page.locator(".counts")).to_contain_text("24")
    assert len(held) == 2
    assert not any(older in said for said in page.evaluate("window.said"))
    assert len(asked) < 2 + 20
    assert asked[-1] == page.evaluate("seamwright.desk.text")


def test_no_answer_a_refusal_and_a_long_search_have_their_words(served: Served, tab: Tab, watch: Watch) -> None:
    served.put("lamp.seams")
    page = tab()
    expect(page.locator(SAID)).to_have_text(re.compile("^Can be sewn"))
    watch.allow("ERR_FAILED", "net::ERR")
    page.route("**/api/verdict", lambda route: route.abort())
    draws(page, (1, 1), (2, 2))
    expect(page.locator(SAID)).to_have_text(re.compile("^No verdict: Seamwright does not answer"))
    assert page.locator("#verdict").get_attribute("class") == "offline"
    page.unroute("**/api/verdict")
    expect(page.locator(SAID)).to_have_text(
        re.compile("^Not finished yet: 2 ends still lie in the open")
    )  # by itself
    expect(page.locator("#chart .open-end")).to_have_count(2)
    assert page.locator("#chart .marks .stuck").count() == 0

    late = {
        "error": {
            "code": "too long",
            "text": "",
            "faults": [
                {"what": "this took longer than 20 seconds and was stopped", "mend": "Make the drawing simpler"}
            ],
        }
    }
    page.route("**/api/verdict", lambda route: route.fulfill(status=422, json=late))
    page.get_by_role("button", name="Undo").click()
    expect(page.locator(SAID)).to_have_text(
        "No verdict: this took longer than 20 seconds and was stopped. Make the drawing simpler."
    )
    page.unroute("**/api/verdict")
    page.get_by_role("button", name="Ask again").click()
    expect(page.locator(SAID)).to_have_text(re.compile("^Can be sewn"))


def test_the_rehearsal_is_played_step_by_step_with_slider_buttons_and_keys(served: Served, tab: Tab) -> None:
    served.put("beacon.seams")
    page = tab()
    part(page, "Sew")
    bench = page.get_by_role("region", name="Sewing table")
    expect(bench.get_by_role("heading")).to_have_text("beacon, section A: step 1 of 3, patch A1")
    expect(bench).to_contain_text("Irons burn")
    expect(page.locator("#sheet")).to_be_hidden()
    sides = bench.get_by_role("img")
    expect(sides).to_have_count(2)
    first = [side.get_attribute("src") for side in sides.all()]
    assert all(side.evaluate("image => image.decode().then(() => image.naturalWidth)") for side in sides.all())

    bench.get_by_role("button", name="On").click()
    expect(bench.get_by_role("heading")).to_have_text("beacon, section A: step 2 of 3, patch A2")
    expect(bench).to_contain_text("Stitch on the line")
    expect(bench).not_to_contain_text("Irons burn")
    assert [side.get_attribute("src") for side in sides.all()] != first
    page.keyboard.press("ArrowLeft")
    expect(bench.get_by_role("heading")).to_have_text("beacon, section A: step 1 of 3, patch A1")
    bench.get_by_role("slider", name="Step").press("End")
    expect(bench.get_by_role("heading")).to_have_text("beacon, joined")
    expect(bench.get_by_role("button", name="On")).to_be_disabled()
    page.get_by_role("button", name="Section B").click()
    expect(bench.get_by_role("heading")).to_have_text(re.compile("^beacon, section B: step 1 of"))
    bench.get_by_role("button", name="Play").click()
    expect(bench.get_by_role("heading")).to_have_text(re.compile("step 3 of"))
    bench.get_by_role("button", name="Stop").click()

    part(page, "Draw")
    expect(page.locator("#sheet")).to_be_visible()
    expect(bench).to_be_hidden()
    draws(page, (1, 1), (2, 2))
    part(page, "Sew")
    expect(page.get_by_text("There are no steps yet")).to_be_visible()
    expect(bench).to_be_hidden()
