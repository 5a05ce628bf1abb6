"""A quilt made on the page by somebody with a mouse, then by somebody with keys alone."""

from __future__ import annotations

import io
import re
from collections.abc import Callable
from pathlib import Path

from playwright.sync_api import BrowserContext, Page, Route, expect
from pypdf import PdfReader

from seamwright.quilt.extras import BINDING_IN, OVER_IN
from seamwright.quilt.form import read_setting
from seamwright.quilt.model import Setting, Turn
from seamwright.units import Units, say_length
from support.browser import Served


def kept(served: Served, name: str) -> Setting:
    return read_setting(served.folder / name)


def turns(setting: Setting) -> list[list[Turn]]:
    return [[cell.turn for cell in row] for row in setting.cells]


def test_a_block_is_set_in_a_quilt_turned_framed_counted_and_printed(
    served: Served, tab: Callable[..., Page], context: BrowserContext, tmp_path: Path
) -> None:
    served.put("lamp.seams", "crest.seams")
    held: list[Route] = []
    context.route("**/api/designs/*.seams", lambda route: held.append(route), times=1)
    with context.expect_event("request", lambda request: request.url.endswith(".seams")):
        page = tab()
    verdict, said = page.locator("#verdict"), page.locator("#quilt-place")
    # While the design that the page begins with is on its way, no other is opened for it to cover.
    page.get_by_role("button", name="Designs").click()
    expect(page.get_by_role("dialog")).to_have_count(0)
    held[0].continue_()
    page.get_by_role("dialog").get_by_text(re.compile(r"^lamp( \(open now\))?$")).click()
    expect(page.get_by_role("heading", level=1)).to_have_text("lamp")
    page.get_by_role("button", name="Quilt", exact=True).click()
    page.get_by_label("Blocks across").fill("3")
    page.get_by_label("Blocks down").fill("2")
    page.get_by_role("button", name="Set this block in a quilt").click()
    expect(verdict).to_contain_text("24 x 16 in finished: 6 blocks, 3 across and 2 down.")

    # By mouse: one block is rotated, another seen in a mirror, a third plain.
    page.locator("[data-place='0,1']").click()
    expect(said).to_contain_text("Row 1, place 2: lamp, rotated 90°")
    page.get_by_role("button", name="Reverse", exact=True).click()
    page.locator("[data-place='1,2']").click()
    expect(said).to_contain_text("Row 2, place 3: lamp, reversed")
    page.get_by_label("What is put").select_option(label="plain brass")
    page.locator("[data-place='1,0']").click()
    expect(verdict).to_contain_text("5 blocks and 1 plain")
    page.get_by_role("button", name="Undo").click()
    expect(verdict).to_contain_text("6 blocks, 3 across")

    # By keys: from the first place to the last, rotated back, all of them mirrored and back.
    page.locator("#quilt-picture").focus()
    page.keyboard.press("Home")
    page.keyboard.press("ArrowRight")
    page.keyboard.press("ArrowDown")
    page.keyboard.press("Shift+R")
    expect(said).to_contain_text("Row 2, place 2: lamp, rotated 270°")
    page.keyboard.press("Control+a")
    expect(said).to_contain_text("6 places are selected")
    page.keyboard.press("m")
    page.keyboard.press("m")
    page.keyboard.press("Escape")
    expect(said).to_contain_text("Row 2, place 2: lamp, rotated 270°.")

    # Framed by fields; what cannot be is said, and nothing has changed.
    page.locator("summary", has_text="Setting and sashing").click()
    page.get_by_label("Sashing, finished width").fill("wide")
    page.keyboard.press("Tab")
    expect(page.locator("#word")).to_contain_text("'wide' is no length")
    page.get_by_label("Sashing, finished width").fill("1 1/2")
    page.keyboard.press("Tab")
    expect(verdict).to_contain_text("27 x 17 1/2 in finished")
    page.locator("summary", has_text="Borders").click()
    page.get_by_role("button", name="Add a border").click()
    expect(verdict).to_contain_text("33 x 23 1/2 in finished")
    expect(page.locator("#saved")).to_contain_text("Saved")
    made = kept(served, "lamp quilt.setting")
    one = Turn()
    assert turns(made) == [[one, Turn(1), one], [one, Turn(3), Turn(0, True)]]
    assert made.sashing is not None and made.sashing.width_in == 1.5
    assert [border.width_in for border in made.borders] == [3.0]

    # What is left out is shown as it is then taken.
    page.locator("summary", has_text="Edge, back and size").click()
    for field, inches in (("Cut this wide", BINDING_IN), ("Beyond the top", OVER_IN)):
        usual = say_length(inches[Units.INCH], Units.INCH)
        expect(page.get_by_label(field)).to_have_attribute("placeholder", usual)

    # Its name is a line of its file, and so is a colour for all blocks, until they have their own again.
    page.get_by_label("Name of the quilt").fill("harbour light")
    page.keyboard.press("Tab")
    expect(page.get_by_role("heading", level=1)).to_have_text("harbour light")
    page.locator("summary").get_by_text("Fabrics", exact=True).click()
    page.get_by_label("brass", exact=True).fill("#123456")
    page.get_by_role("button", name="brass as in the blocks").click()
    expect(page.get_by_label("brass", exact=True)).to_have_value("#b98b3e")
    expect(page.get_by_role("button", name="brass as in the blocks")).to_have_count(0)
    page.get_by_role("button", name="Undo").click()
    expect(page.get_by_label("brass", exact=True)).to_have_value("#123456")
    expect(page.locator("#saved")).to_contain_text("Saved")
    made = kept(served, "lamp quilt.setting")
    assert made.name == "harbour light" and [fabric.colour for fabric in made.fabrics] == ["#123456"]

    # A turning is chosen from pictures; every place then repeats it.
    page.get_by_role("button", name="Turnings to choose from").click()
    page.get_by_role("button", name=re.compile("^Layout 2:")).click()
    expect(page.get_by_role("dialog")).to_have_count(0)
    expect(page.locator("#quilt-repeat")).to_be_visible()

    # What it comes to, and its cutting list on paper.
    page.locator("summary", has_text="Fabric, prints and advice").click()
    page.get_by_role("button", name="Count fabric and prints").click()
    expect(page.locator(".told")).to_contain_text("33 x 23 1/2 in finished")
    expect(page.locator(".told table")).to_contain_text("yd")
    page.locator("summary", has_text="Print the whole quilt").click()
    with page.expect_download() as download:
        page.get_by_role("button", name="Cutting list (PDF)").click()
    file = tmp_path / "list.pdf"
    download.value.save_as(file)
    assert download.value.suggested_filename == "lamp-quilt-cutting.pdf"
    assert "harbour light" in PdfReader(io.BytesIO(file.read_bytes())).pages[0].extract_text()

    # The block is a click away, and so is the quilt.
    page.get_by_role("button", name="Open block lamp").click()
    expect(page.get_by_role("heading", level=1)).to_have_text("lamp")
    page.get_by_role("button", name="lamp quilt").click()
    expect(verdict).to_contain_text("33 x 23 1/2 in finished")


def test_a_block_without_a_seam_makes_no_quilt(tab: Callable[..., Page], served: Served) -> None:
    (served.folder / "bare.seams").write_text("seamwright block 1\nname bare\nsize 6 in\n")
    page = tab()
    expect(page.locator("#title")).to_have_text("bare")
    page.get_by_role("button", name="Quilt", exact=True).click()
    page.get_by_role("button", name="Set this block in a quilt").click()
    expect(page.locator("#word")).to_contain_text("Nothing is drawn yet")
    expect(page.locator("#title")).to_have_text("bare")
    assert not list(served.folder.glob("*.setting"))
