"""Colour in a real browser: painted by mouse and keyboard, judged by what the folder then holds."""

from __future__ import annotations

import re
from collections.abc import Callable
from pathlib import Path
from typing import TYPE_CHECKING

import pytest
from playwright.sync_api import Locator, expect

from seamwright.drawing.read import read_drawing
from support.board import on_screen
from support.browser import Served, Watch

if TYPE_CHECKING:
    from playwright.sync_api import Page

pytestmark = pytest.mark.long

WALL = """seamwright block 1
# The harbour wall at low tide.
name wall
size 8 in
grid 8

seam 0, 0 to 8, 8   # from the light to the rocks
seam 8, 0 to 0, 8
"""
TOP, RIGHT, LOW, LEFT = (4, 1), (7, 4), (4, 7), (1, 4)
"""A place in each of the four patches."""


def opened(tab: Callable[[], Page]) -> Page:
    page = tab()
    page.get_by_role("button", name="Colour", exact=True).click()
    expect(page.get_by_role("group", name="Patches, in the order of reading").get_by_role("button")).to_have_count(
        4
    )
    return page


def patch(page: Page, fabric: str) -> Locator:
    """The patches that are read aloud with a fabric."""
    return page.locator("#chart").get_by_role("button", name=re.compile(f", {fabric}$"))


def kept(file: Path) -> dict[str, list[tuple[float, float]]]:
    """Where each fabric is laid in the file, to a tenth of an inch."""
    found: dict[str, list[tuple[float, float]]] = {}
    for swatch in read_drawing(file).swatches:
        found.setdefault(swatch.fabric, []).append((round(swatch.at[0], 1), round(swatch.at[1], 1)))
    return found


def saved(page: Page) -> None:
    expect(page.locator("#saved")).to_have_text("Saved")


def test_a_block_is_painted_from_ready_fabrics_by_mouse_and_by_keyboard(
    tab: Callable[[], Page], served: Served
) -> None:
    file = served.folder / "wall.seams"
    file.write_text(WALL)
    page = opened(tab)
    expect(patch(page, "no fabric")).to_have_count(4)

    # One click paints, and writes the fabric that was ready.
    page.get_by_role("radio", name=re.compile("^sky")).check()
    page.mouse.click(*on_screen(page, TOP))
    expect(patch(page, "sky")).to_have_count(1)
    saved(page)
    assert list(kept(file)) == ["sky"]
    assert "# from the light to the rocks" in file.read_text()

    # One drag paints what lies on its way, and one undo takes it back.
    page.get_by_role("radio", name=re.compile("^ink")).check()
    page.mouse.move(*on_screen(page, LEFT))
    page.mouse.down()
    page.mouse.move(*on_screen(page, (2, 6.5)), steps=4)
    page.mouse.move(*on_screen(page, LOW), steps=4)
    page.mouse.up()
    expect(patch(page, "ink")).to_have_count(2)
    page.get_by_role("button", name="Undo").click()
    expect(patch(page, "ink")).to_have_count(0)
    page.get_by_role("button", name="Redo").click()
    expect(patch(page, "ink")).to_have_count(2)

    # By keyboard alone: a number holds a fabric, arrows go in the order of reading, Enter paints.
    page.locator("#chart").focus()
    page.keyboard.press("1")
    page.keyboard.press("Home")
    page.keyboard.press("ArrowDown")
    page.keyboard.press("End")
    expect(page.locator("#chart .cloth:focus")).to_have_accessible_name(re.compile(", ink$"))
    page.keyboard.press("Enter")
    expect(patch(page, "sky")).to_have_count(2)
    expect(page.locator("#chart .cloth:focus")).to_have_accessible_name(re.compile(", sky$"))
    expect(page.get_by_role("status").filter(has_text=re.compile(r"^\S+: sky\.$"))).to_be_attached()

    # Taken from a patch, then off a patch.
    page.keyboard.press("t")
    page.mouse.click(*on_screen(page, LEFT))
    expect(page.get_by_role("radio", name=re.compile("^ink"))).to_be_checked()
    page.get_by_role("radio", name=re.compile("^No fabric")).check()
    page.mouse.click(*on_screen(page, LEFT))
    expect(patch(page, "no fabric")).to_have_count(2)
    saved(page)
    assert {fabric: len(places) for fabric, places in kept(file).items()} == {"sky": 2}


def test_values_in_grey_show_what_reads_alike_and_words_and_marks_show_each_other(
    tab: Callable[[], Page], served: Served
) -> None:
    fabrics = "fabric fog colour #d3d9dd\nfabric foam colour #dce8ea\nfabric ink colour #1b2a41\n"
    lays = "lay fog at 4, 1\nlay foam at 1, 4\nlay ink at 4, 7 and 7, 4\n"
    (served.folder / "wall.seams").write_text(WALL + fabrics + lays)
    page = opened(tab)
    warning = page.get_by_role("listitem").filter(has_text="fog and foam read alike")
    expect(warning).to_contain_text("5 21/32 in of seam")
    mark = page.locator("#chart .alike-mark.alike")
    warning.hover()
    expect(mark).to_have_class(re.compile("lit"))
    page.mouse.move(*on_screen(page, TOP))
    expect(mark).not_to_have_class(re.compile("lit"))
    page.mouse.move(*on_screen(page, (2, 2)))
    expect(warning).to_have_class(re.compile("lit"))

    def fill() -> str | None:
        return patch(page, "fog").get_attribute("fill")

    assert fill() == "#d3d9dd"
    greys = page.get_by_role("button", name="Values in grey")
    page.keyboard.press("v")
    expect(greys).to_have_attribute("aria-pressed", "true")
    assert fill() == "#d8d8d8"  # as light as #d3d9dd: luminance by WCAG 2.2, written as sRGB writes greys
    page.keyboard.press("v")
    expect(greys).to_have_attribute("aria-pressed", "false")
    page.keyboard.down("v")
    expect(greys).to_have_attribute("aria-pressed", "true")
    page.wait_for_function("start => performance.now() - start > 500", arg=page.evaluate("performance.now()"))
    page.keyboard.up("v")
    expect(greys).to_have_attribute("aria-pressed", "false")


def test_a_fabric_is_changed_and_a_colourway_made_and_a_palette_kept_and_worn(
    tab: Callable[[], Page], served: Served
) -> None:
    file = served.folder / "wall.seams"
    file.write_text(WALL + "fabric sky colour #a9c9dc\nlay sky at 4, 1 and 1, 4\n")
    page = opened(tab)
    page.get_by_role("button", name="Change sky").click()
    form = page.locator(".cloth-form")
    form.get_by_label("Name").fill("storm sky")
    form.get_by_label("Colour", exact=True).fill("#12345")
    expect(form.get_by_role("alert")).to_contain_text("a colour should stand here")
    form.get_by_label("Colour", exact=True).fill("slateblue")
    expect(form.get_by_text("Reads medium, cool.")).to_be_visible()
    form.get_by_role("combobox", name="Stripes or print").select_option("stripes")
    form.get_by_label("Runs at, in degrees").fill("45")
    page.keyboard.press("Enter")
    expect(page.get_by_role("radio", name=re.compile("^storm sky.*stripes at 45°"))).to_be_checked()
    expect(patch(page, "storm sky")).to_have_count(2)
    saved(page)
    assert 'fabric "storm sky" colour slateblue stripes 45' in file.read_text()

    # In a colourway a fabric becomes another wherever it lies; it is kept with its first change.
    page.get_by_role("button", name="New colourway").click()
    page.get_by_label("Name of the colourway").fill("night")
    page.keyboard.press("Enter")
    expect(page.get_by_text("It is kept with its first change.")).to_be_visible()
    page.get_by_text("Ready fabrics", exact=True).first.click()
    page.get_by_role("radio", name=re.compile("^ink")).check()
    page.mouse.click(*on_screen(page, TOP))
    expect(patch(page, "ink")).to_have_count(2)
    saved(page)
    assert 'colourway night "storm sky" becomes ink' in file.read_text()
    assert "option colourway night" in file.read_text()
    # Side by side they are compared, and the one pressed is shown.
    beside = page.get_by_role("group", name="Colourways side by side")
    expect(beside.get_by_role("button", name="night")).to_have_attribute("aria-pressed", "true")
    beside.get_by_role("button", name="own fabrics").click()
    expect(patch(page, "storm sky")).to_have_count(2)
    expect(beside.get_by_role("button", name="own fabrics")).to_have_attribute("aria-pressed", "true")
    beside.get_by_role("button", name="night").click()
    expect(patch(page, "ink")).to_have_count(2)
    page.get_by_role("combobox", name="Colourway").select_option(label="the block's own fabrics")
    expect(patch(page, "storm sky")).to_have_count(2)
    saved(page)
    assert "option colourway" not in file.read_text()

    # Her fabrics become a palette; a palette of the folder is worn, and its colours can become the block's own.
    page.get_by_label("Keep these fabrics as a palette called").fill("quay")
    page.get_by_role("button", name="Keep palette").click()
    expect(page.get_by_text("Kept as quay.palette")).to_be_visible()
    palette = served.folder / "quay.palette"
    assert 'fabric "storm sky" colour #6a5acd stripes 45' in palette.read_text()
    palette.write_text(palette.read_text().replace("#6a5acd", "#102030"))
    page.get_by_role("combobox", name="Palette").select_option("quay.palette")
    expect(page.get_by_text("The block wears the colours of quay.palette.")).to_be_visible()
    expect(patch(page, "storm sky").first).to_have_attribute("fill", "#102030")
    page.get_by_role("button", name="Write its colours into this block").click()
    expect(page.get_by_text("The block wears the colours of")).to_have_count(0)
    expect(patch(page, "storm sky").first).to_have_attribute("fill", "#102030")
    saved(page)
    assert 'fabric "storm sky" colour #102030 stripes 45' in file.read_text()
    assert "palette" not in file.read_text()


def test_while_there_is_nothing_to_paint_the_page_says_so(
    tab: Callable[[], Page], served: Served, watch: Watch
) -> None:
    (served.folder / "wall.seams").write_text(WALL + "seam 4, 4 to 4, 6\n")
    page = tab()
    watch.allow("ERR_FAILED")
    page.route("**/api/fabrics", lambda route: route.abort())
    page.get_by_role("button", name="Colour", exact=True).click()
    expect(page.locator(".colour-state")).to_contain_text("Seamwright does not answer")
    page.unroute("**/api/fabrics")
    page.get_by_role("button", name="Ask again").click()
    expect(page.locator(".colour-state")).to_contain_text("Painting comes once every line meets another")
    expect(page.get_by_role("button", name="Values in grey")).to_be_disabled()
    expect(page.get_by_role("radio", name=re.compile("^chalk"))).to_be_visible()
