"""Print and Cut in a real browser: sheets looked at, files downloaded, read back and measured."""

from __future__ import annotations

import csv
import re
from collections.abc import Callable
from pathlib import Path
from zipfile import ZipFile

import pymupdf
from playwright.sync_api import Page, expect

from support.browser import Served

KITE = (
    "seamwright block 1\nname kite\nsize 6 in\ngrid 8\n"
    "seam 0, 8 to 8, 0\nseam 0, 3 to 8, 0\nseam 5, 8 to 8, 0\n"
    "fabric sky colour #a9c9dc value light\nfabric ink colour #1b2a41 value dark\n"
    "lay sky at 1, 1\nlay ink at 3, 4\n"
)
PT_PER_MM = 72 / 25.4
SQUARES_PT = (72.0, 50 * PT_PER_MM)
"""Sides of the check squares: 1 in and 5 cm (ISO 32000-1, 8.3.2.3: 72 points to the inch)."""


def squares(page: pymupdf.Page) -> list[float]:
    """Sides of all upright squares that strokes of a page bound, points, as MuPDF reads them."""
    level: dict[tuple[float, float], set[float]] = {}
    upright: dict[tuple[float, float], set[float]] = {}
    for drawn in page.get_drawings():
        for item in drawn["items"]:
            if item[0] in ("re", "qu"):
                box = item[1] if item[0] == "re" else item[1].rect
                corners = [box.tl, box.tr, box.br, box.bl]
                sides = list(zip(corners, [*corners[1:], corners[0]], strict=True))
            else:
                sides = [(item[1], item[2])] if item[0] == "l" else []
            for start, end in sides:
                a, b = sorted((round(p.x, 2), round(p.y, 2)) for p in (start, end))
                if a[1] == b[1]:
                    level.setdefault(a, set()).add(round(b[0] - a[0], 2))
                elif a[0] == b[0]:
                    upright.setdefault(a, set()).add(round(b[1] - a[1], 2))
    return sorted(
        side
        for (x, y), sides_ in level.items()
        for side in sides_ & upright.get((x, y), set())
        if side in level.get((x, round(y + side, 2)), set()) and side in upright.get((round(x + side, 2), y), set())
    )


def keep(page: Page, words: str, folder: Path) -> Path:
    """Presses a button that makes a file; where the file went."""
    with page.expect_download() as coming:
        page.get_by_role("button", name=words).click()
    path = folder / coming.value.suggested_filename
    coming.value.save_as(path)
    expect(page.get_by_text("is in your browser's downloads")).to_be_in_viewport()
    return path


def look_at_sheets_and_download_them(page: Page, tmp_path: Path) -> None:
    page.get_by_role("button", name="Print", exact=True).click()
    sheet = page.get_by_role("button", name="Sheet 1 of 1: A")
    expect(sheet).to_be_visible()
    expect(page.get_by_text('Print at 100 %, not "fit to page"')).to_be_visible()

    # Large by the keyboard, and back to where she was.
    sheet.focus()
    page.keyboard.press("Enter")
    expect(page.get_by_role("img", name="Sheet 1 of 1: A")).to_be_visible()
    page.keyboard.press("Escape")
    expect(page.get_by_role("button", name="Back to the drawing")).to_be_hidden()
    expect(sheet).to_be_focused()

    # A wrong value says so at its field, and nothing changes; a right one makes other sheets.
    copies = page.get_by_label("Copies", exact=True)
    copies.fill("many")
    copies.press("Enter")
    expect(page.get_by_text("Copies: 'many' is no number of copies. Give a whole number")).to_be_visible()
    copies.fill("12")
    copies.press("Enter")
    print_all = page.get_by_role("button", name=re.compile(r"Foundations \(PDF\).*[2-9]\d* sheets"))
    expect(print_all).to_be_visible()
    expect(page.get_by_text("is no number of copies")).to_be_hidden()
    count = int(re.findall(r"(\d+) sheets", print_all.inner_text())[0])

    file = keep(page, "Foundations (PDF)", tmp_path)
    assert file.name == "kite.pdf"
    with pymupdf.open(file) as pdf:
        assert len(pdf) == count
        for leaf in pdf:
            assert (leaf.rect.width, leaf.rect.height) == (612, 792)
            found = squares(leaf)
            for side in SQUARES_PT:
                assert any(abs(side - one) < 0.02 for one in found), (leaf.number, found)

    with ZipFile(keep(page, "For a cutter", tmp_path)) as packed:
        assert {"kite-A.svg", "kite-A.dxf"} <= set(packed.namelist())


def read_what_to_cut(page: Page, tmp_path: Path) -> None:
    page.get_by_role("button", name="Cut", exact=True).click()
    expect(page.get_by_text("kite, 1 block of 6 x 6 in finished")).to_be_visible()
    blocks = page.get_by_label("Blocks", exact=True)
    blocks.fill("12")
    blocks.press("Enter")
    expect(page.get_by_text("kite, 12 blocks of 6 x 6 in finished")).to_be_visible()
    expect(page.get_by_text("draw the blade away from your body")).to_be_visible()

    # A file that breaks off on its way, as when the server ends, is told in our words and may be asked for again.
    page.evaluate(
        "() => { window.whole = Response.prototype.blob;"
        " Response.prototype.blob = () => Promise.reject(new TypeError('network error')); }"
    )
    page.get_by_role("button", name="Table for a spreadsheet").click()
    expect(
        page.get_by_text("Seamwright does not answer. Is it still running?").filter(visible=True)
    ).to_be_visible()
    page.evaluate("() => { Response.prototype.blob = window.whole; }")
    file = keep(page, "Table for a spreadsheet", tmp_path)
    assert file.name == "kite-cutting.csv"
    rows = list(csv.DictReader(file.read_text(encoding="utf-8-sig").splitlines()))
    table = page.get_by_role("table").filter(has_text="Strips and subcuts")
    shown = [int(cell.inner_text()) for cell in table.get_by_role("row").locator("td:first-child").all()]
    assert sum(shown) == sum(int(row["Subcuts"]) for row in rows)


def find_nothing_to_print_of_what_cannot_be_sewn(page: Page) -> None:
    page.get_by_role("button", name="Designs").click()
    page.get_by_role("dialog").get_by_role("button", name="breakwater").first.click()
    why = page.get_by_text("This cannot be sewn as it is drawn, so nothing is printed or cut.")
    expect(why.filter(visible=True)).to_be_visible()
    expect(page.get_by_role("button", name="Cutting list (PDF)")).to_be_disabled()
    page.get_by_role("button", name="Print", exact=True).click()
    expect(page.get_by_role("button", name="Foundations (PDF)")).to_be_disabled()


def test_a_kite_is_printed_and_cut_from_the_page(served: Served, tab: Callable[..., Page], tmp_path: Path) -> None:
    served.put("breakwater.seams")
    (served.folder / "kite.seams").write_text(KITE)
    page = tab()
    page.get_by_role("button", name="Designs").click()
    page.get_by_role("dialog").get_by_role("button", name="kite").first.click()
    expect(page.get_by_role("heading", name="kite")).to_be_visible()
    look_at_sheets_and_download_them(page, tmp_path)
    read_what_to_cut(page, tmp_path)
    find_nothing_to_print_of_what_cannot_be_sewn(page)
