"""The page for everyone: what a screen reader is told, what is seen at 200 % and on a tablet, hints that go away.

Rules are those of axe-core (WCAG 2.1 A and AA, and its best practices). 640 x 430 is what a window of 1280 x 860
holds at 200 % (WCAG 2.1, 1.4.4 and 1.4.10); 820 x 1180 is a common tablet, held upright (common practice).
What is pressed is at least 24 px wide and high (WCAG 2.2, 2.5.8).
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator, Sequence

import pytest
from axe_playwright_python.sync_playwright import Axe
from playwright.sync_api import Browser, BrowserContext, Page, Route, expect

from support.browser import PATIENCE_MS, Served, Watch

PARTS = ("Draw", "Check", "Colour", "Cut", "Print", "Sew", "Quilt")
OPEN = "seamwright block 1\nname mole\nsize 8 in\ngrid 8\nseam 0, 0 to 4, 4\n"
BAD = "seamwright block 1\nname bad\nsize 8 in\ngrid 8\nseam 0, 0 to 4\n"
AT_REST = """() => !document.querySelector('[aria-busy="true"], .waiting') && !window.seamwright.verdict.asking
  && !document.querySelector("#work section:has(> .in:not([hidden])) .summary")?.textContent.endsWith("…")"""
COVERED = """() => [...document.querySelectorAll("button, input, select, summary, a[href]")].filter((one) => {
  if (!one.checkVisibility({ visibilityProperty: true }) || one.matches(".skip")) return false;
  one.scrollIntoView({ block: "center", inline: "center", behavior: "instant" });
  const box = one.getBoundingClientRect();
  if (box.width < 2 || box.height < 2) return false;
  const seen = document.elementFromPoint(box.x + box.width / 2, box.y + box.height / 2);
  return !(seen && (one.contains(seen) || seen.closest("label")?.contains(one)));
}).map((one) => one.outerHTML.slice(0, 120))"""
SMALL = """() => [...document.querySelectorAll("button, input, select, summary, a[href]")].filter((one) => {
  if (!one.checkVisibility({ visibilityProperty: true }) || one.matches(".skip")) return false;
  const { width, height } = (one.closest("label") ?? one).getBoundingClientRect();
  return width > 1 && (width < 24 || height < 24);
}).map((one) => one.outerHTML.slice(0, 120))"""
NAMELESS = """() => [...document.querySelectorAll("svg")].filter((one) => one.checkVisibility()
  && !one.closest('[aria-hidden="true"]') && !one.getAttribute("aria-label"))
  .map((one) => one.outerHTML.slice(0, 120))"""
HEARD = """() => {
  const place = document.querySelector("#verdict"), heard = window.heard = [];
  new MutationObserver(() => place.ariaBusy !== "true" && heard.push(place.querySelector(".said").textContent))
    .observe(place, { childList: true });
}"""


@pytest.fixture
def context(chromium: Browser) -> Iterator[BrowserContext]:
    """A new browser that lets a test's own scripts in; the policy itself is tried elsewhere."""
    made = chromium.new_context(viewport={"width": 1280, "height": 860}, bypass_csp=True, reduced_motion="reduce")
    made.set_default_timeout(PATIENCE_MS)
    yield made
    made.close()


def faultless(page: Page) -> None:
    """No violation of any of axe-core's rules."""
    found = Axe().run(page).response
    assert len(found["passes"]) > 10, "the rules did not run"
    told = [
        f"{fault['id']}: {node['html'][:200]} {node.get('failureSummary', '')}"
        for fault in found["violations"]
        for node in fault["nodes"]
    ]
    assert not told, "\n".join(told)


def at_rest(page: Page) -> None:
    """The verdict stands, and nothing is being made."""
    page.wait_for_function(AT_REST)


def part(page: Page, name: str) -> None:
    page.get_by_role("button", name=name, exact=True).first.click()
    at_rest(page)


def on_table(page: Page, card: str, title: str = "") -> None:
    """A design of the folder, opened by its card; which of them the page began with is chance."""
    expect(page.get_by_role("heading", level=1)).not_to_be_empty()
    page.get_by_role("button", name="Designs", exact=True).click()
    page.get_by_role("dialog").get_by_text(re.compile(rf"^{card}( \(open now\))?$")).click()
    expect(page.get_by_role("dialog")).to_have_count(0)
    expect(page.get_by_role("heading", level=1)).to_have_text(title or card)
    at_rest(page)


def fill(served: Served) -> None:
    """A design for each state."""
    served.put("beacon.seams", "breakwater.seams", "kites-star.setting", "kite.svg")
    (served.folder / "mole.seams").write_text(OPEN)
    (served.folder / "bad.seams").write_text(BAD)


def test_a_rule_that_is_broken_is_found(page: Page) -> None:
    page.evaluate("document.body.append(document.createElement('button'))")
    with pytest.raises(AssertionError, match="button-name"):
        faultless(page)


def test_no_part_breaks_a_rule_on_an_empty_table(page: Page) -> None:
    page.get_by_text("This folder has no designs yet").wait_for()
    for name in ("Draw", "Colour", "Print", "Quilt"):
        part(page, name)
        faultless(page)
    page.get_by_role("button", name="Keys", exact=True).click()
    faultless(page)


@pytest.mark.parametrize(
    ("card", "parts"),
    [
        ("beacon", PARTS),
        ("breakwater", ("Check", "Colour", "Print")),  # cannot be sewn
        ("mole", ("Draw", "Check", "Cut")),  # not finished
        ("bad", ("Draw", "Sew")),  # cannot be read
        ("kites, stars", ("Quilt",)),
    ],
)
def test_no_part_breaks_a_rule(card: str, parts: Sequence[str], served: Served, tab: Callable[..., Page]) -> None:
    fill(served)
    page = tab()
    on_table(page, card, "bad.seams" if card == "bad" else card)
    for name in parts:
        part(page, name)
        faultless(page)


def test_no_list_note_or_large_sheet_breaks_a_rule(served: Served, tab: Callable[..., Page], watch: Watch) -> None:
    fill(served)
    page = tab()
    on_table(page, "beacon")
    part(page, "Print")
    expect(page.locator("#work")).to_contain_text("Sheet 1")
    page.get_by_role("button", name="Sheet 1").click()
    page.get_by_role("button", name="Back to the drawing").wait_for()
    faultless(page)
    page.get_by_role("button", name="Designs", exact=True).click()
    page.get_by_role("dialog").get_by_text("breakwater", exact=True).wait_for()
    faultless(page)
    page.keyboard.press("Escape")
    watch.allow("ERR_INTERNET_DISCONNECTED")
    page.context.set_offline(True)
    part(page, "Draw")
    page.get_by_label("Name", exact=True).fill("beacon light")
    page.keyboard.press("Enter")
    page.get_by_role("region", name="About saving").get_by_text("Seamwright does not answer").wait_for()
    faultless(page)


def test_two_texts_of_one_design_break_no_rule(served: Served, tab: Callable[..., Page], watch: Watch) -> None:
    watch.allow("ERR_FAILED")
    mole = served.folder / "mole.seams"
    mole.write_text(OPEN)
    page = tab()
    expect(page.get_by_role("heading", level=1)).to_have_text("mole")
    page.route("**/api/designs/*", lambda route: route.abort())
    page.get_by_label("Name", exact=True).fill("pier")
    page.keyboard.press("Enter")
    saving = page.get_by_role("region", name="About saving")
    saving.get_by_text("Your last change to pier is kept in this browser").wait_for()
    mole.write_text(f"{OPEN}# of another program\n")
    page.unroute("**/api/designs/*")
    saving.get_by_role("button", name="Keep mine as a copy").wait_for()
    at_rest(page)
    faultless(page)
    for size in ((640, 430), (820, 1180)):
        page.set_viewport_size({"width": size[0], "height": size[1]})
        for wrong in (COVERED, SMALL):
            assert page.evaluate(wrong) == []


@pytest.mark.parametrize("size", [(640, 430), (820, 1180), (1920, 1080)], ids=["200 %", "tablet", "large"])
def test_nothing_is_cut_off_or_covered(size: tuple[int, int], served: Served, tab: Callable[..., Page]) -> None:
    fill(served)
    page = tab()
    page.set_viewport_size({"width": size[0], "height": size[1]})
    for card in ("beacon",) if size[0] > 1000 else ("breakwater", "beacon", "kites, stars"):
        on_table(page, card)
        for name in ("Quilt",) if card == "kites, stars" else PARTS:
            part(page, name)
            wide, seen = page.evaluate("[document.documentElement.scrollWidth, innerWidth]")
            assert wide <= seen, f"{card}, {name}: {wide} px wide"
            for wrong in (COVERED, SMALL, NAMELESS):
                assert page.evaluate(wrong) == [], f"{card}, {name}"


def test_a_control_that_is_covered_is_found(page: Page) -> None:
    page.evaluate("""() => { const over = document.createElement('div'); document.body.append(over);
    Object.assign(over.style, { position: 'fixed', inset: '0 0 50% 0', zIndex: 99 }); }""")
    assert any("undo" in one for one in page.evaluate(COVERED))


def test_a_first_time_hint_goes_away_for_good(page: Page) -> None:
    part(page, "Print")
    hint = page.get_by_text("Look at the pages first")
    expect(hint).to_be_visible()
    hint.get_by_role("button", name="Put this hint away").click()
    expect(hint).to_have_count(0)
    page.reload()
    part(page, "Print")
    expect(page.get_by_text("Paper", exact=True)).to_be_visible()
    expect(hint).to_have_count(0)
    part(page, "Cut")
    expect(page.get_by_role("button", name="Put this hint away")).to_be_visible()


def test_who_listens_hears_the_verdict_once(served: Served, tab: Callable[..., Page]) -> None:
    fill(served)
    page = tab()
    on_table(page, "beacon")
    page.evaluate(HEARD)

    def slowly(route: Route) -> None:
        page.locator("#verdict.looking").wait_for()
        route.continue_()

    page.route("**/api/verdict", slowly)
    page.get_by_label("Name", exact=True).fill("beacon light")
    page.keyboard.press("Enter")
    page.wait_for_function("window.heard.length && !window.seamwright.verdict.asking")
    assert page.evaluate("window.heard") == ["Can be sewn: 5 foundations."]


def test_a_word_for_a_moment_does_not_lie_on_the_verdict(served: Served, tab: Callable[..., Page]) -> None:
    fill(served)
    page = tab()
    page.set_viewport_size({"width": 1200, "height": 800})
    on_table(page, "breakwater")
    page.evaluate(
        "window.seamwright.say('It was moved while the page was looking at it. Open it again from Designs.')"
    )
    word, verdict = page.locator("#word").bounding_box(), page.locator("#verdict").bounding_box()
    assert word and verdict and word["y"] + word["height"] <= verdict["y"]


def test_colours_of_the_system_leave_what_is_pressed_to_be_seen(page: Page) -> None:
    page.emulate_media(forced_colors="active")
    tool = page.get_by_role("button", name="Seam", exact=True)
    expect(tool).to_have_attribute("aria-pressed", "true")
    expect(tool).to_have_css("border-top-width", "3px")


def test_the_browsers_own_print_says_that_nothing_is_sewn_from_it(page: Page) -> None:
    page.emulate_media(media="print")
    expect(page.locator("#work")).to_be_hidden()
    said = page.evaluate("getComputedStyle(document.querySelector('#stage'), '::after').content")
    assert "not to size" in said


def test_the_drawing_stays_under_the_hand_whatever_the_verdict_says(
    served: Served, tab: Callable[..., Page]
) -> None:
    fill(served)
    served.put("spinnaker.seams")  # its proof takes two lines
    page = tab()
    places = set()
    for card in ("mole", "beacon", "breakwater", "spinnaker"):
        on_table(page, card)
        places.add(str(page.locator("#chart").bounding_box()))
        heard = page.locator("#verdict").bounding_box()
        assert heard is not None
        assert heard["y"] + heard["height"] <= 860
    assert len(places) == 1, places
