"""The page from end to end, in a real browser, as someone who has never seen it uses it.

She finds every control by the words she reads on it, and every place of the drawing by the grid she sees. What she
does is counted. The printed file is read by pypdf and measured against the seams that were drawn; its units are 72
points to the inch (ISO 32000-1, 8.3.2.3).
"""

from __future__ import annotations

import csv
import re
import time
from collections.abc import Callable, Iterable, Sequence
from pathlib import Path
from typing import Any

import pytest
import shapely
from playwright.sync_api import Locator, Page, expect
from pypdf import PdfReader
from shapely import affinity

from support.browser import DESIGNS, Served

Point = tuple[float, float]
Line = tuple[Point, ...]

MOST_ACTIONS = 40
FRAME: Line = ((0, 0), (6, 0), (6, 6), (0, 6), (0, 0))
KITE: tuple[Line, ...] = (  # its spine, from the nose past the wing tips, from the tail to the wing tips
    ((6, 0), (0, 6)),
    ((6, 0), (0, 2)),
    ((6, 0), (4, 6)),
    ((0, 6), (3, 1)),
    ((0, 6), (5, 3)),
)
RING: tuple[Line, ...] = (((2, 0), (2, 4)), ((0, 4), (4, 4)), ((4, 6), (4, 2)), ((6, 2), (2, 2)))
SEEN = """one => [...(one.labels?.length ? one.labels : [one])]
  .map((each) => each.innerText.replace(each.querySelector("select")?.innerText ?? "", "")).join(" ")"""
EDGE = """chart => {
  const box = chart.querySelector(".outline path").getBoundingClientRect();
  return [box.x, box.y, box.width, box.height];
}"""
STOP = """() => {
  const one = document.activeElement, style = getComputedStyle(one), box = one.getBoundingClientRect();
  const drawn = style.outlineStyle !== "none" && parseFloat(style.outlineWidth) >= 2;
  const round = one.matches("#chart .cloth") && document.querySelector("#chart .at-keys") !== null;
  const at = (across, down) => document.elementsFromPoint(box.x + box.width * across, box.y + box.height * down);
  const shares = [0.5, 0.3, 0.7]; // the middle of what holds a patch may lie beside the patch
  const over = shares.flatMap((across) => shares.flatMap((down) => at(across, down)));
  const shown = one === document.body || over.includes(one) || over.some((each) => one.contains(each));
  const words = one.getAttribute("aria-label") ?? (one.labels?.[0] ?? one).innerText;
  const named = one.matches("select, input") ? one.labels?.[0]?.cloneNode(true) : null;
  for (const each of named?.querySelectorAll("select") ?? []) each.remove();
  const text = one.matches("select") ? named?.textContent ?? words : words;
  const ended = one === document.body; // between the last stop and the first
  return { words: ended ? "" : text, seen: ended || ((drawn || round) && shown), drawn, round, shown, box };
}"""
COUNT_DIALOGS = """() => {
  window.dialogs = 0;
  new MutationObserver((records) => {
    const opened = ({ target, oldValue }) => target.matches("dialog[open]") && oldValue === null;
    window.dialogs += records.filter(opened).length;
  }).observe(document, { subtree: true, attributeFilter: ["open"], attributeOldValue: true });
}"""
DROP = """([name, text]) => {
  const data = new DataTransfer();
  data.items.add(new File([text], name, { type: "image/svg+xml" }));
  const how = { dataTransfer: data, bubbles: true, cancelable: true };
  for (const kind of ["dragover", "drop"]) document.body.dispatchEvent(new DragEvent(kind, how));
}"""


def plain(words: str) -> str:
    return " ".join(words.split())


class Newcomer:
    """Someone at the page. `actions`: clicks, drags and keys so far; every letter of a word is one."""

    def __init__(self, page: Page) -> None:
        self.page = page
        self.actions = 0
        self._asked = 0
        page.on("dialog", self._answer)
        page.evaluate(COUNT_DIALOGS)
        self.sees("Nothing is drawn yet")

    @property
    def dialogs(self) -> int:
        return int(self.page.evaluate("window.dialogs")) + self._asked

    def _answer(self, dialog: Any) -> None:
        self._asked += 1
        dialog.accept()

    # -- what she sees -------------------------------------------------------------------------------------------

    def sees(self, words: str | re.Pattern[str]) -> None:
        expect(self.page.get_by_text(words).filter(visible=True).first).to_be_visible()

    def control(self, role: Any, words: str) -> Locator:
        """The one control that these words stand on, or beside if it is a field: no hidden name will do."""
        found = self.page.get_by_role(role, name=words, exact=True)
        expect(found).to_be_visible()
        patience = time.monotonic() + 20  # a list that is made anew just now has no words yet
        while (seen := plain(found.evaluate(SEEN))) != words and time.monotonic() < patience:
            time.sleep(0.05)
        assert seen == words
        return found

    def place(self, at: Point) -> Point:
        """Where a corner of the grid is on the screen: the grid of the block is seen, and the block is 6 in."""
        x, y, width, height = self.page.get_by_role("application", name="Drawing of the block").evaluate(EDGE)
        return x + at[0] * width / 6, y + at[1] * height / 6

    # -- what she does -------------------------------------------------------------------------------------------

    def clicks(self, words: str, role: Any = "button") -> None:
        self.actions += 1
        self.control(role, words).click()

    def clicks_at(self, *places: Point) -> None:
        for place in places:
            self.actions += 1
            self.page.mouse.click(*self.place(place))

    def drags(self, start: Point, end: Point) -> None:
        self.actions += 1
        self.page.mouse.move(*self.place(start))
        self.page.mouse.down()
        self.page.mouse.move(*self.place(end), steps=3)
        self.page.mouse.up()

    def draws(self, *seams: Line) -> None:
        """Drags from end to end; she looks at what is said of each seam before the next."""
        for start, end in seams:
            self.drags(start, end)
            self.sees(f"A seam from {start[0]}, {start[1]} to {end[0]}, {end[1]}")

    def presses(self, *keys: str) -> None:
        for key in keys:
            self.actions += 1
            self.page.keyboard.press(key)

    def types(self, words: str) -> None:
        self.presses(*(word if word != " " else "Space" for word in words))

    def chooses(self, field: str, words: str) -> None:
        """Opens a list and clicks one of its lines: two actions."""
        self.actions += 2
        self.control("combobox", field).select_option(label=words)

    def downloads(self, words: str, folder: Path, do: Callable[[], None] | None = None) -> Path:
        with self.page.expect_download() as coming:
            (do or (lambda: self.clicks(words)))()
        path = folder / coming.value.suggested_filename
        coming.value.save_as(path)
        return path


# -- the printed file ------------------------------------------------------------------------------------------


class Sheet:
    """One page of a PDF as pypdf reads it: its strokes by pen, in points, y down."""

    def __init__(self, leaf: Any) -> None:
        self.size = (float(leaf.mediabox.width), float(leaf.mediabox.height))
        self.strokes: list[tuple[float, bool, Line]] = []  # width, solid, places
        self._pen, self._solid, self._path = 1.0, True, []
        self.words = [plain(line) for line in leaf.extract_text(visitor_operand_before=self._read).splitlines()]

    def _read(self, operator: bytes, given: Sequence[Any], matrix: Sequence[float], _: Any) -> None:
        a, b, c, d, e, f = matrix

        def at(x: float, y: float) -> Point:
            return a * x + c * y + e, self.size[1] - (b * x + d * y + f)

        if operator == b"w":
            self._pen = float(given[0])
        elif operator == b"d":
            self._solid = not given[0]
        elif operator == b"m":
            self._path.append([at(*map(float, given))])
        elif operator == b"l":
            self._path[-1].append(at(*map(float, given)))
        elif operator == b"h":
            self._path[-1].append(self._path[-1][0])
        elif operator == b"re":
            x, y, w, h = map(float, given)
            self._path.append([at(*p) for p in ((x, y), (x + w, y), (x + w, y + h), (x, y + h), (x, y))])
        elif operator in (b"S", b"s", b"f", b"f*", b"n"):
            if operator in (b"S", b"s"):
                self.strokes += [(self._pen, self._solid, tuple(line)) for line in self._path if len(line) > 1]
            self._path = []

    @property
    def squares(self) -> list[float]:
        """Sides of the squares drawn in one stroke, points."""
        rings = [shapely.Polygon(line) for _, _, line in self.strokes if len(line) == 5 and line[0] == line[-1]]
        boxes = [(ring, ring.bounds) for ring in rings if ring.area > 1]
        sides = [(ring.area, x1 - x0, y1 - y0) for ring, (x0, y0, x1, y1) in boxes]
        return [w for area, w, h in sides if abs(w - h) < 0.01 and abs(area - w * h) < 0.01]

    @property
    def parts(self) -> list[list[Line]]:
        """Stitch lines (solid, 0.7 or 0.9 pt), those of each foundation together."""
        lines = [line for pen, solid, line in self.strokes if solid and round(pen, 2) in (0.7, 0.9)]
        around = shapely.unary_union([shapely.LineString(line).buffer(0.5) for line in lines])
        return [
            [line for line in lines if part.intersects(shapely.Point(line[0]))]
            for part in shapely.get_parts(around)
        ]

    def check_scale(self) -> None:
        """Its inch is an inch and its 5 cm are 5 cm (an inch is 25.4 mm, NIST SP 811, appendix B)."""
        for side in (72.0, 50 / 25.4 * 72):
            assert any(abs(side - found) < 0.01 for found in self.squares), (side, self.squares)


def network(lines: Iterable[Line]) -> Any:
    return shapely.unary_union([shapely.LineString(line) for line in lines])


def off_by(paper: Iterable[Line], drawn: Iterable[Line]) -> float:
    """How far stitch lines on paper lie from seams of the front, inches: mirrored, whichever way up they lie."""
    printed = affinity.scale(network(paper), 1 / 72, 1 / 72, origin=(0, 0))
    printed = affinity.translate(printed, -printed.bounds[0], -printed.bounds[1])
    mirrored = affinity.scale(network(drawn), -1, 1, origin=(0, 0))
    found = []
    for turn in (0, 90, 180, 270):
        laid = affinity.rotate(mirrored, turn, origin=(0, 0))
        laid = affinity.translate(laid, -laid.bounds[0], -laid.bounds[1])
        found.append(float(shapely.hausdorff_distance(printed, laid, densify=0.02)))
    return min(found)


def sheets_of(path: Path) -> list[Sheet]:
    return [Sheet(leaf) for leaf in PdfReader(path).pages]


def test_lines_that_are_not_mirrored_or_not_to_scale_are_told_from_those_that_are() -> None:
    flag: tuple[Line, ...] = (FRAME, ((0, 2), (5, 6)))
    right = [tuple((72 * (8 - x), 72 * y) for x, y in line) for line in flag]
    turned = [tuple((72 * (9 - y), 72 * (9 - x)) for x, y in line) for line in flag]
    front = [tuple((72 * x, 72 * y) for x, y in line) for line in flag]
    small = [tuple((71.3 * (8 - x), 71.3 * y) for x, y in line) for line in flag]
    assert off_by(right, flag) < 1e-9
    assert off_by(turned, flag) < 1e-9
    assert off_by(front, flag) > 0.5
    assert off_by(small, flag) > 0.02


# -- stories ---------------------------------------------------------------------------------------------------


def test_a_newcomer_draws_a_six_patch_kite_and_holds_its_sheet(page: Page, served: Served, tmp_path: Path) -> None:
    """From the empty page: drawn, named, checked, painted in two fabrics, printed."""
    she = Newcomer(page)
    assert served.password not in page.url
    lay = she.place((0, 0)), she.place((6, 6))
    she.draws(*KITE)
    assert (she.place((0, 0)), she.place((6, 6))) == lay  # no word on the page moves the drawing under her hand
    she.sees("Can be sewn: 1 foundation.")
    she.clicks("Name", "textbox")
    she.presses("Control+a")
    she.types("kite")
    she.presses("Enter")
    expect(page.get_by_role("heading", name="kite", exact=True)).to_be_visible()

    she.clicks("Check")
    she.sees("A: 6 patches, sewn in order from A1 to A6.")
    she.clicks("Colour")
    she.clicks("signal medium, warm", "radio")
    she.clicks_at((3, 2.2), (4.2, 3.2))
    she.clicks("sky light, cool", "radio")
    she.clicks_at((1, 1), (1, 3), (3, 5.5), (5.5, 5))
    she.sees(re.compile("No point vanishes"))

    she.clicks("Print it")
    expect(page.get_by_role("button", name="Sheet 1 of 1: A")).to_be_visible()
    for words in ("Draw", "Check", "Colour", "Cut", "Print", "Foundations (PDF) 1 sheet", "Sew", "Quilt"):
        expect(she.control("button", words)).to_be_in_viewport(ratio=0.99)  # nothing is scrolled to
    file = she.downloads("Foundations (PDF) 1 sheet", tmp_path)
    she.sees("kite.pdf")
    print(f"{she.actions} actions, {she.dialogs} dialogs")
    assert she.actions <= MOST_ACTIONS
    assert she.dialogs <= 1

    assert file.name == "kite.pdf"
    (sheet,) = sheets_of(file)
    assert sheet.size == (612, 792)
    sheet.check_scale()
    assert sorted(set(sheet.words) & {f"A{n}" for n in range(1, 9)}) == [f"A{n}" for n in range(1, 7)]
    (foundation,) = sheet.parts
    assert off_by(foundation, [FRAME, *KITE]) < 0.0005
    assert len(list(shapely.polygonize([network(foundation)]).geoms)) == 6
    kept = (served.folder / "kite.seams").read_text()
    assert len(re.findall("^seam ", kept, re.M)) == 5
    assert len(re.findall("^fabric (signal|sky) ", kept, re.M)) == 2
    assert sorted(line.count(", ") for line in re.findall("^lay (?:signal|sky) at .*", kept, re.M)) == [2, 4]


def test_a_block_that_locks_is_mended_painted_and_printed_for_a_class(
    page: Page, served: Served, tmp_path: Path
) -> None:
    """Four seams in a ring; a mend keeps what was painted; one undo takes it back, one redo does it again."""
    she = Newcomer(page)
    file = served.folder / "new block.seams"
    she.draws(*RING)
    she.sees("Cannot be sewn with straight full seams: stuck in 1 place.")
    she.clicks("Colour")
    she.clicks("sea medium, cool", "radio")
    she.clicks_at((3, 3))
    painted = kept(file, "fabric sea ")

    she.clicks("Show what would mend it")
    she.sees("4 seams run in a ring round (2, 2), (2, 4), (4, 4) and (4, 2) in")
    she.clicks("Do this")
    she.sees("Can be sewn: 2 foundations.")
    mended = kept(file, "seam 6, 2 to 0, 2")
    assert re.findall("^(?:fabric|lay) .*", mended, re.M) == re.findall("^(?:fabric|lay) .*", painted, re.M)
    she.clicks("Undo")
    she.sees("Cannot be sewn")
    assert kept(file, "seam 6, 2 to 2, 2") == painted
    she.clicks("Redo")
    she.sees("Can be sewn: 2 foundations.")
    assert kept(file, "seam 6, 2 to 0, 2") == mended

    she.clicks("Colour")
    she.clicks("chalk light, neutral", "radio")
    she.clicks_at((1, 1))
    page.mouse.move(*she.place((4, 1)))  # she is faster than the answer to what she painted first
    page.mouse.down()
    expect(page.get_by_role("button", name=re.compile(r"^\w+, chalk$"))).to_have_count(1)
    page.mouse.up()
    expect(page.get_by_role("button", name=re.compile(r"^\w+, chalk$"))).to_have_count(2)
    she.clicks("New colourway")
    she.types("night")
    she.presses("Enter")
    she.chooses("sea becomes", "ink")
    she.sees("It is what is checked, cut and printed.")

    she.clicks("Print it")
    she.chooses("Paper", "A4, 210 x 297 mm")
    she.clicks("Copies", "textbox")
    she.types("2")
    she.presses("Enter")
    expect(page.get_by_role("button", name=re.compile(r"Foundations \(PDF\) 2 sheets"))).to_be_visible()
    printed = she.downloads("Foundations (PDF) 2 sheets", tmp_path)
    assert she.actions <= MOST_ACTIONS
    assert she.dialogs == 0
    check_copies(sheets_of(printed))

    she.clicks("Cut")
    she.sees("Read each size twice before you cut")
    cut = "\n".join(leaf.extract_text() for leaf in PdfReader(she.downloads("Cutting list (PDF)", tmp_path)).pages)
    assert "ink" in cut and "chalk" in cut
    rows = list(
        csv.DictReader(she.downloads("Table for a spreadsheet (CSV)", tmp_path).read_text("utf-8-sig").splitlines())
    )
    assert {"ink", "chalk"} <= {row["Fabric"] for row in rows}


def kept(file: Path, line: str) -> str:
    """The file once it holds a line that begins so."""
    patience = time.monotonic() + 20
    while f"\n{line}" not in (text := file.read_text()):
        assert time.monotonic() < patience, text
        time.sleep(0.02)
    return text


def check_copies(sheets: Sequence[Sheet]) -> None:
    """Each foundation twice, mirrored and true: the upper part of the block, and the lower one."""
    upper: list[Line] = [((0, 0), (6, 0), (6, 2), (0, 2), (0, 0)), ((2, 0), (2, 2))]
    lower: list[Line] = [
        ((0, 2), (6, 2), (6, 6), (0, 6), (0, 2)),
        ((2, 2), (2, 4)),
        ((0, 4), (4, 4)),
        ((4, 2), (4, 6)),
    ]
    parts = []
    for sheet in sheets:
        assert sheet.size == pytest.approx((210 / 25.4 * 72, 297 / 25.4 * 72), abs=0.01)  # ISO 216
        sheet.check_scale()
        parts += sheet.parts
    fits = [[off_by(part, drawn) < 0.0005 for part in parts] for drawn in (upper, lower)]
    assert [sum(fit) for fit in fits] == [2, 2]
    assert len(parts) == 4


class AtKeys:
    """Someone whose hands stay on the keyboard; where the focus is has to be seen at every stop."""

    def __init__(self, page: Page) -> None:
        self.page = page
        self.stops: list[str] = []

    def press(self, *keys: str) -> None:
        for key in keys:
            self.page.keyboard.press(key)

    def tab(self, back: bool = False) -> str:
        """One stop on; its words."""
        self.press("Shift+Tab" if back else "Tab")
        stop = self.page.evaluate(STOP)
        assert stop["seen"], stop
        self.stops.append(plain(stop["words"]))
        return self.stops[-1]

    def tab_to(self, words: str, back: bool = False) -> None:
        """On to the stop of these words; no place holds the focus."""
        for _ in range(60):
            if self.tab(back) == words:
                return
        raise AssertionError(f"{words!r} is not reached: {self.stops[-60:]}")


def test_a_block_is_drawn_checked_painted_and_printed_by_keyboard_alone(page: Page, tmp_path: Path) -> None:
    """From the empty page to the file. The stops of the Tab key follow the work, and none holds the focus."""
    she = Newcomer(page)
    hands = AtKeys(page)
    assert hands.tab() == "Go to the drawing"
    hands.press("Enter")
    expect(page.get_by_role("application", name="Drawing of the block")).to_be_focused()
    for start, end in KITE[:3]:
        for x, y in (start, end):
            page.keyboard.type(f"{x}, {y}")
            hands.press("Enter")
        she.sees(f"At {end[0]}, {end[1]}:")
        hands.press("Escape")
    page.keyboard.type("0, 6")  # the tail; from there by the arrow keys
    hands.press("Enter", *["ArrowRight"] * 3, *["ArrowUp"] * 5, "Enter")
    she.sees("A seam from 0, 6 to 3, 1")
    hands.press("Escape")
    page.keyboard.type("0, 6")
    hands.press("Enter", *["ArrowRight"] * 5, *["ArrowUp"] * 3, "Enter", "Escape")
    she.sees("Can be sewn: 1 foundation.")

    hands.press("Alt+2")
    she.sees("A: 6 patches, sewn in order from A1 to A6.")
    hands.press("Alt+3")
    page.get_by_role("radio", name="sand light, warm").wait_for()
    hands.tab_to("chalk light, neutral")
    hands.press("ArrowDown", "ArrowDown")
    she.sees("Held: sand.")
    hands.tab_to("A3, no fabric", back=True)
    hands.press("Enter")
    page.get_by_role("button", name=re.compile(r"^A\d, sand$")).wait_for()

    hands.press("Alt+5")
    page.get_by_role("button", name="Sheet 1 of 1: A").wait_for()
    with page.expect_download() as coming:
        hands.tab_to("Foundations (PDF) 1 sheet")
        hands.press("Enter")
    coming.value.save_as(tmp_path / "kite.pdf")
    (sheet,) = sheets_of(tmp_path / "kite.pdf")
    sheet.check_scale()
    (foundation,) = sheet.parts
    assert off_by(foundation, [FRAME, *KITE]) < 0.0005

    # Once round, from the first stop to the first again: in the order of the work, and every one is seen.
    hands.tab_to("Go to the drawing")
    hands.stops = []
    hands.tab_to("Go to the drawing")
    works = ["Draw", "Check", "Colour", "Cut", "Print", "Paper", "Foundations (PDF) 1 sheet", "Sew", "Quilt"]
    order = ["Designs", "Undo", "Drawing of the block", *works]
    assert [stop for stop in hands.stops if stop in order] == order


WING = """<svg xmlns="http://www.w3.org/2000/svg" xmlns:inkscape="http://www.inkscape.org/namespaces/inkscape"
 width="152.4mm" height="152.4mm" viewBox="0 0 152.4 152.4">
<g inkscape:label="Layer 1" inkscape:groupmode="layer" transform="matrix(1,0,0,1,-10,-20)">
<rect style="fill:none;stroke:#000000;stroke-width:0.3" width="152.4" height="152.4" x="10" y="20"/>
<path style="fill:none;stroke:#000000;stroke-width:0.3" d="m 10,20 152.4,152.4"/>
<path style="fill:none;stroke:#000000;stroke-width:0.3" d="M 162.4,20 86.3,95.9"/>
</g></svg>
"""


def test_drawings_are_dropped_in_tidied_changed_and_taken_back(page: Page, served: Served) -> None:
    """What is drawn on is a copy of a vector editor's file; a file that lies in the folder stays as it is."""
    she = Newcomer(page)
    served.put("kite.svg")
    page.evaluate(DROP, ["wing.svg", WING])
    she.sees("wing.svg stays as it is; in its copy, wing.seams, this was tidied")
    she.sees(re.compile("^1 1 end closed"))
    assert not page.get_by_text("Reading wing.svg").is_visible()
    she.sees(re.compile("^Can be sewn"))
    brought = kept(served.folder / "wing.seams", "seam ")
    assert not (served.folder / "wing.svg").exists()
    assert re.findall("^size (.*) in$", brought, re.M) == ["6"]  # 152.4 mm
    she.drags((0, 3), (3, 3))
    she.sees("A seam from")
    assert len(re.findall("^seam ", kept(served.folder / "wing.seams", "seam 0, 3"), re.M)) == 3
    she.clicks("Undo")
    expect(page.get_by_role("button", name="Undo", exact=True)).to_be_disabled()
    expect(page.get_by_role("status").filter(has_text=re.compile("^Saved$"))).to_be_visible()
    assert (served.folder / "wing.seams").read_text() == brought

    she.clicks("Designs")
    page.get_by_role("dialog").get_by_role("button", name="Open kite, kite.svg").click()
    expect(page.get_by_role("heading", name="kite", exact=True)).to_be_visible()
    she.sees(re.compile("^Can be sewn"))
    assert (served.folder / "kite.svg").read_bytes() == (DESIGNS / "kite.svg").read_bytes()
    assert (served.folder / "kite.seams").exists()
    assert she.dialogs == 1
