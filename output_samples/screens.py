"""Takes the pictures of the browser's page anew: `python output_samples/screens.py` (extra `test`, chromium).

Each shows one state of the page on copies of our own designs, at two times the size it is shown at. Type is that of
the machine, so these pictures differ from one to another.
"""

from __future__ import annotations

import sys
import tempfile
from collections.abc import Callable
from pathlib import Path
from typing import TYPE_CHECKING

HERE = Path(__file__).parent
sys.path.insert(0, str(HERE.parent / "tests"))

from support.browser import ARGUMENTS, CHROMIUM, DESIGNS, Served  # noqa: E402

if TYPE_CHECKING:
    from playwright.sync_api import Page

SIZE = {"width": 1280, "height": 900}
QUIET = 1.5  # seconds without a change, after which a page is taken to have come to rest


def main() -> None:
    """All pictures, one browser context each, so that none shows what another left open."""
    from playwright.sync_api import sync_playwright

    for old in HERE.glob("page-*.png"):
        old.unlink()
    with tempfile.TemporaryDirectory() as folder, sync_playwright() as driver:
        served = Served(Path(folder))
        served.put(*(path.name for path in sorted(DESIGNS.iterdir()) if path.is_file()))
        served.start()
        browser = driver.chromium.launch(executable_path=CHROMIUM, args=list(ARGUMENTS))
        for name, (design, show) in STATES.items():
            context = browser.new_context(viewport=SIZE, device_scale_factor=2, reduced_motion="reduce")
            page = context.new_page()
            page.goto(served.address)
            if design:
                open_design(page, design)
            show(page)
            at_rest(page)
            page.screenshot(path=HERE / f"page-{name}.png")
            smaller(HERE / f"page-{name}.png")
            context.close()
            print(f"page-{name}.png")
        browser.close()
        served.stop()


def open_design(page: Page, name: str) -> None:
    """Opens a design of the folder by its card in the list."""
    page.get_by_role("button", name="Designs", exact=True).click()
    page.get_by_role("dialog").get_by_text(name, exact=True).first.click()
    page.get_by_role("heading", level=1, name=name).wait_for()
    at_rest(page)


def at_rest(page: Page) -> None:
    """Waits until nothing is asked and nothing changes any more."""
    before = ""
    while (now := page.locator("body").inner_html()) != before or 'aria-busy="true"' in now:
        before = now
        page.wait_for_timeout(1000 * QUIET)


def smaller(path: Path) -> None:
    """The picture with few colours: a page is lines and flat tints."""
    from PIL import Image

    Image.open(path).convert("RGB").quantize(160).save(path, optimize=True)


def part(name: str) -> Callable[[Page], None]:
    """Opens a part of the work."""
    return lambda page: page.get_by_role("button", name=name, exact=True).first.click()


def drawing(page: Page) -> None:
    """A new block: most of a kite is drawn, its last seam is under the pointer, its length beside it."""
    page.get_by_role("button", name="Designs", exact=True).click()
    page.get_by_label("Name of a new block").fill("first kite")
    page.get_by_role("button", name="Draw a new block").click()
    page.get_by_role("heading", level=1, name="first kite").wait_for()
    at_rest(page)
    for start, end in (((6, 0), (0, 6)), ((6, 0), (0, 2)), ((6, 0), (4, 6)), ((0, 6), (3, 1))):
        page.mouse.move(*place(page, start))
        page.mouse.down()
        page.mouse.move(*place(page, end), steps=4)
        page.mouse.up()
        at_rest(page)
    page.mouse.click(*place(page, (0, 6)))
    page.mouse.move(*place(page, (5, 3)), steps=4)


def place(page: Page, at: tuple[float, float]) -> tuple[float, float]:
    """Where a place of a 6 in block is on the screen."""
    box = page.locator("#chart .outline path").first.bounding_box()
    assert box is not None
    return box["x"] + at[0] * box["width"] / 6, box["y"] + at[1] * box["height"] / 6


def printing(page: Page) -> None:
    """Sheets, once they are made."""
    part("Print")(page)
    page.get_by_role("button", name="Sheet 1").first.wait_for()


def sewing(page: Page) -> None:
    """The third patch of a section."""
    part("Sew")(page)
    at_rest(page)
    for _ in range(2):
        page.get_by_role("button", name="On", exact=True).click()


STATES: dict[str, tuple[str, Callable[[Page], None]]] = {
    "draw": ("", drawing),
    "check": ("breakwater", part("Check")),
    "colour": ("spinnaker", part("Colour")),
    "print": ("compass star", printing),
    "sew": ("harbour lights", sewing),
    "quilt": ("evening watch", lambda page: None),
}


if __name__ == "__main__":
    main()
