"""Drawing in the browser: by mouse, by keyboard and by touch, with what was drawn read back from the saved file."""

from __future__ import annotations

import random
import time
from collections.abc import Callable
from math import hypot
from pathlib import Path

import pytest
from PIL import Image
from playwright.sync_api import Page, expect
from shapely import LineString
from shapely import Point as GeosPoint

from support.board import drag, on_screen
from support.browser import Served

EMPTY = "seamwright block 1\nname trial\nsize 8 in\ngrid 8\n"
STAR = f"{EMPTY}seam 0, 0 to 8, 8\nseam 8, 0 to 0, 8\nseam 0, 2 to 2, 2\n"


class Board:
    """The chart as a hand knows it; places are counted in inches of the block."""

    def __init__(self, page: Page, file: Path) -> None:
        self.page = page
        self.file = file

    def on_screen(self, x: float, y: float) -> tuple[float, float]:
        return on_screen(self.page, (x, y))

    def move(self, x: float, y: float) -> None:
        self.page.mouse.move(*self.on_screen(x, y), steps=4)

    def drag(self, start: tuple[float, float], end: tuple[float, float]) -> None:
        drag(self.page, start, end)

    def click(self, x: float, y: float) -> None:
        self.page.mouse.click(*self.on_screen(x, y))

    def press(self, *keys: str) -> None:
        for key in keys:
            self.page.keyboard.press(key)

    def tells(self, words: str) -> None:
        expect(self.page.locator("#told")).to_contain_text(words)

    def says(self, words: str) -> None:
        """What stands beside the pointer."""
        expect(self.page.locator("#chart .pointer")).to_contain_text(words)

    def seams(self, *lines: str) -> None:
        """The saved file has just these seams."""
        expect(self.page.locator("#chart .seams path")).to_have_count(len(lines))
        expect(self.page.locator("#saved")).to_contain_text("Saved")
        patience = time.monotonic() + 10
        while self.kept() != list(lines) and time.monotonic() < patience:
            time.sleep(0.02)
        assert self.kept() == list(lines)

    def kept(self) -> list[str]:
        return [line for line in self.file.read_text().splitlines() if line.startswith(("seam ", "arc "))]


@pytest.fixture
def board(served: Served, tab: Callable[[], Page]) -> Callable[[str], Board]:
    """Opens the page on a folder with one block."""

    def opened(text: str) -> Board:
        file = served.folder / "trial.seams"
        file.write_text(text)
        page = tab()
        expect(page.get_by_role("heading", name="trial")).to_be_visible()
        return Board(page, file)

    return opened


def test_a_block_is_drawn_by_mouse_from_nothing(board: Callable[[str], Board]) -> None:
    """Dragging, clicking on and on, a typed length, and what is snapped to, said beside the pointer."""
    trial = board(EMPTY)
    expect(trial.page.get_by_text("No seam yet")).to_be_visible()
    trial.drag((0.04, -0.03), (7.96, 8.05))
    trial.tells("A seam from 0, 0 to 8, 8, 11 5/16 in long.")
    expect(trial.page.get_by_text("No seam yet")).to_be_hidden()
    trial.seams("seam 0, 0 to 8, 8")

    trial.click(8, 0)
    trial.move(4.05, 4.06)
    trial.says("5 21/32 in, 45°")
    trial.says("middle, 45°")
    trial.click(4.05, 4.06)
    trial.tells("A seam from 8, 0 to 4, 4")
    trial.click(0.1, 4.02)
    trial.tells("A seam from 4, 4 to 0, 4")
    trial.press("Escape")
    trial.seams("seam 0, 0 to 8, 8", "seam 8, 0 to 4, 4", "seam 4, 4 to 0, 4")

    trial.click(0, 6)
    trial.move(3.5, 6.03)
    trial.says("level")
    trial.page.keyboard.type("2 1/2")
    trial.press("Enter")
    trial.tells("2 1/2 in long")
    trial.press("Escape")
    trial.seams("seam 0, 0 to 8, 8", "seam 8, 0 to 4, 4", "seam 4, 4 to 0, 4", "seam 0, 6 to 2.5, 6")
    trial.press("Control+z", "Control+z")
    trial.seams("seam 0, 0 to 8, 8", "seam 8, 0 to 4, 4")
    trial.press("Control+Shift+z")
    trial.seams("seam 0, 0 to 8, 8", "seam 8, 0 to 4, 4", "seam 4, 4 to 0, 4")


HELD_BACK = """() => {
  const real = window.fetch;
  const gate = new Promise((done) => { window.letGo = () => { window.fetch = real; done(); }; });
  window.fetch = async (path, how) => { if (path.endsWith("/sketch")) await gate; return real(path, how); };
}"""
"""Answers about the drawing come when the page is told `letGo()`."""


def test_a_chain_goes_on_faster_than_the_answers_come(board: Callable[[str], Board]) -> None:
    """What hangs on a refused seam is not drawn; undo takes back what has no answer yet; redo ends the chain."""
    trial = board(f"{EMPTY}seam 0, 2 to 8, 2\n")
    trial.page.evaluate(HELD_BACK)
    for place in ((1, 2), (5, 2), (6, 5), (2, 6)):
        trial.click(*place)
    trial.page.evaluate("letGo()")
    trial.tells("lies where one from (1, 2) is to be drawn")
    trial.click(3, 7)
    trial.tells("A seam from 1, 2 to 3, 7")
    expect(trial.page.locator("#word")).to_be_hidden()
    trial.seams("seam 0, 2 to 8, 2", "seam 1, 2 to 3, 7")

    trial.page.evaluate(HELD_BACK)
    for place in ((6, 7), (6, 5), (4, 5)):
        trial.click(*place)
    trial.press("Control+z", "Control+z")
    trial.page.evaluate("letGo()")
    trial.tells("A seam from 3, 7 to 6, 7")
    there = ("seam 0, 2 to 8, 2", "seam 1, 2 to 3, 7", "seam 3, 7 to 6, 7")
    trial.click(8, 8)
    trial.tells("A seam from 6, 7 to 8, 8")
    trial.seams(*there, "seam 6, 7 to 8, 8")
    trial.press("Control+z")
    trial.seams(*there)
    trial.press("Control+y")
    expect(trial.page.locator("#chart .band")).to_have_count(0)
    trial.move(2, 3)
    trial.says("grid")
    expect(trial.page.locator("#chart .band")).to_have_count(0)
    trial.seams(*there, "seam 6, 7 to 8, 8")

    trial.press("c")  # what is under way of anything else goes alone
    trial.click(0, 4)
    trial.press("Control+z")
    trial.seams(*there, "seam 6, 7 to 8, 8")


def test_lengths_are_typed_as_they_are_written_where_she_lives(board: Callable[[str], Board]) -> None:
    """Centimetres of a metric block; a comma that may be a decimal point is asked about; a fraction in one sign."""
    trial = board("seamwright block 1\nname trial\nsize 20 cm\noption units metric\n")
    field = trial.page.get_by_label("Length or place")
    trial.click(0, 3)
    trial.move(5, 3)
    for typed, told in (
        ("7,5", "Write 7.5 for a length, or 7, 5 for a place."),
        ("7.5", "A seam 7.5 cm long, to 7.5,"),
        ("2½", "A seam 2.5 cm long, to 10,"),
        ("1 in", "A seam 2.55 cm long, to 12.54,"),
    ):
        field.fill(typed)
        trial.press("Enter")
        trial.tells(told)


def test_points_move_with_their_seams_and_pieces_are_erased(board: Callable[[str], Board]) -> None:
    """What met in a point meets in it still; a refused move leaves the drawing."""
    trial = board(STAR)
    trial.page.get_by_role("button", name="Move").click()
    trial.move(4.02, 4.03)
    trial.page.mouse.down()
    trial.move(5.03, 3.02)
    expect(trial.page.locator("#chart .ghosts path").first).to_be_attached()
    trial.says("moved about 1 7/16 in")
    trial.page.mouse.up()
    trial.tells("The point is at 5, 3 now.")
    trial.seams("seam 0, 0 to 5, 3 to 8, 8", "seam 8, 0 to 0, 8", "seam 0, 2 to 2.5, 1.5")

    trial.press("e")
    trial.click(6.5, 1.55)
    trial.tells("A piece of seam is erased.")
    trial.seams("seam 0, 0 to 5, 3 to 8, 8", "seam 5, 3 to 0, 8", "seam 0, 2 to 2.5, 1.5")
    trial.page.get_by_role("button", name="Whole seams").click()
    trial.click(7, 6.3)
    trial.tells("3 pieces of seam are erased.")
    trial.seams("seam 5, 3 to 0, 8", "seam 0, 2 to 2.5, 1.5")

    trial.press("p")
    trial.drag((-0.3, 0.4), (3, 3))
    trial.tells("One piece of seam is picked.")
    trial.press("Delete")
    trial.seams("seam 5, 3 to 0, 8")


def test_copies_are_shown_before_they_are_made(board: Callable[[str], Board]) -> None:
    """Four ways round the middle, then one mirror image of what is picked; sizes and grids follow."""
    trial = board(f"{EMPTY}seam 4, 4 to 8, 1\n")
    trial.page.get_by_text("Copies and mirror images").click()
    expect(trial.page.locator("#chart .ghosts path")).to_have_count(5)  # the block's edge, and four seams
    trial.page.get_by_role("button", name="Make the copies").click()
    trial.tells("The copies are made.")
    expect(trial.page.locator("#chart .ghosts path")).to_have_count(0)
    turned = ("seam 4, 4 to 8, 1", "seam 4, 4 to 7, 8", "seam 4, 4 to 0, 7", "seam 4, 4 to 1, 0")
    trial.seams(*turned)

    trial.press("p")
    trial.click(6, 2.5)
    trial.tells("One piece of seam is picked.")
    trial.page.get_by_text("Copies and mirror images").click()
    trial.page.get_by_label("How many in all").select_option(label="One mirror image")
    trial.page.get_by_role("button", name="Make the copies").click()
    trial.tells("The copies are made.")
    trial.seams(*turned, "seam 4, 4 to 0, 1")

    trial.page.get_by_label("Finished size").fill("10 in")
    trial.press("Tab")
    expect(trial.page.locator("#chart .figures")).to_contain_text("10")
    trial.seams(*turned, "seam 4, 4 to 0, 1")
    assert "size 10 in" in trial.file.read_text()
    trial.page.get_by_label("Finished size").fill("ten")
    trial.press("Tab")
    expect(trial.page.get_by_role("alert")).to_contain_text("ten")
    assert "size 10 in" in trial.file.read_text()


def test_a_block_is_drawn_by_keyboard_alone(board: Callable[[str], Board]) -> None:
    """The cursor says where it is and what is there; points are jumped to; places are typed."""
    trial = board(EMPTY)
    trial.page.get_by_role("button", name="Seam").focus()
    trial.press("ArrowRight", "ArrowRight", "ArrowRight", "Enter")
    trial.tells("Click seams")
    trial.press("s")
    trial.page.locator("#chart").focus()
    trial.page.keyboard.type("0, 2")
    trial.press("Enter")
    trial.tells("At 0, 2: on the edge.")
    trial.press(*["ArrowRight"] * 8)
    trial.tells("At 8, 2: on the edge. 8 in, 0°.")
    trial.press("Enter", "Escape")
    trial.seams("seam 0, 2 to 8, 2")
    trial.press("b")
    trial.tells("At 0, 2: a point on the edge with one seam.")
    trial.press("Enter", "ArrowDown", "ArrowDown", "Shift+ArrowRight")
    trial.tells("At 1/8, 4.")
    trial.page.keyboard.type("4, 8")
    trial.press("Enter")
    trial.tells("At 4, 8: a point on the edge with one seam.")
    trial.press("Escape")
    trial.seams("seam 0, 2 to 8, 2", "seam 0, 2 to 4, 8")
    trial.press("e", "n", "Enter")
    trial.tells("erased")
    trial.press("Control+z")
    trial.seams("seam 0, 2 to 8, 2", "seam 0, 2 to 4, 8")


def test_one_key_leads_to_the_drawing_from_every_part(board: Callable[[str], Board]) -> None:
    """From a field, too; in Colour it is a patch, where arrow keys and Enter paint."""
    trial = board(STAR)
    expect(trial.page.locator("#verdict")).to_contain_text("Can be sewn")
    chart, patch = trial.page.locator("#chart"), trial.page.locator("#chart .cloth[tabindex='0']")
    for part in "12345":
        trial.press(f"Alt+{part}")
        if part == "3":
            expect(patch).to_be_visible()
        trial.press("Alt+0")
        expect(patch if part == "3" else chart).to_be_focused()
    trial.press("Alt+6")
    expect(trial.page.locator("#bench")).to_be_visible()
    trial.press("Alt+0")
    expect(trial.page.get_by_label("Step", exact=True)).to_be_focused()
    trial.press("Alt+1")
    trial.page.get_by_label("Name").focus()
    trial.press("Alt+0")
    expect(chart).to_be_focused()


def test_the_sheet_is_zoomed_round_the_pointer_and_moved(board: Callable[[str], Board]) -> None:
    """What lies under the pointer stays there; the scale of the frame grows finer; the whole block comes back."""
    trial = board(STAR)
    expect(trial.page.locator("#verdict")).to_contain_text("Can be sewn")
    trial.move(2, 2)
    before = trial.on_screen(2, 2)
    for _ in range(3):
        trial.page.mouse.wheel(0, -240)
    expect(trial.page.locator("#chart .figures")).to_contain_text("1/4")
    after = trial.on_screen(2, 2)
    # The wheel is told in whole pixels, and what is less is seen six times as large.
    assert hypot(after[0] - before[0], after[1] - before[1]) < 7.5
    assert hypot(*(b - a for a, b in zip(trial.on_screen(1, 1), after, strict=True))) > 200
    trial.page.mouse.down(button="middle")
    trial.page.mouse.move(before[0] + 50, before[1] + 30, steps=2)
    trial.page.mouse.up(button="middle")
    moved = trial.on_screen(2, 2)
    assert (round(moved[0] - after[0]), round(moved[1] - after[1])) == (50, 30)
    trial.page.get_by_role("button", name="Whole block").click()
    assert trial.on_screen(2, 2) == pytest.approx(before, abs=0.01)
    trial.seams("seam 0, 0 to 8, 8", "seam 8, 0 to 0, 8", "seam 0, 2 to 2, 2")


def test_a_picture_is_traced_and_stays_beside_the_design(
    board: Callable[[str], Board], tab: Callable[[], Page], tmp_path: Path
) -> None:
    """It lies under the drawing and comes back with it; the block's text knows nothing of it."""
    trial = board(STAR)
    picture = tmp_path / "sketch.png"
    Image.new("RGB", (80, 60), "#886644").save(picture)
    trial.page.get_by_text("Picture to trace").click()
    trial.page.get_by_label("Choose a picture").set_input_files(picture)
    expect(trial.page.locator("#chart .tracing image")).to_be_attached()
    trial.page.get_by_label("Width", exact=True).fill("4 in")
    trial.press("Tab")
    expect(trial.page.locator("#chart .tracing image")).to_have_attribute("width", "4")
    place = trial.file.parent / ".seamwright/tracing/trial.seams.json"
    expect(trial.page.locator("#chart .tracing image")).to_have_attribute("height", "3")
    trial.page.get_by_role("button", name="Hide").click()
    expect(trial.page.locator("#chart .tracing image")).to_have_count(0)
    trial.page.get_by_role("button", name="Show", exact=True).click()
    again = tab()
    expect(again.locator("#chart .tracing image")).to_have_attribute("width", "4")
    assert trial.file.read_text() == STAR
    again.get_by_text("Picture to trace").click()
    again.get_by_role("button", name="Take it away").click()
    expect(again.locator("#chart .tracing image")).to_have_count(0)
    again.reload()
    expect(again.get_by_role("heading", name="trial")).to_be_visible()
    expect(again.locator("#chart .seams path")).to_have_count(3)
    assert not list(place.parent.iterdir())


def test_two_fingers_zoom_and_one_draws(board: Callable[[str], Board]) -> None:
    """Touch, sent as the browser's own driver sends it."""
    trial = board(EMPTY)
    driver = trial.page.context.new_cdp_session(trial.page)

    def touch(kind: str, *places: tuple[float, float]) -> None:
        points = [{"x": x, "y": y, "id": k} for k, (x, y) in enumerate(trial.on_screen(*p) for p in places)]
        driver.send("Input.dispatchTouchEvent", {"type": kind, "touchPoints": points})

    touch("touchStart", (0, 4.2))
    touch("touchMove", (4, 4.2))
    touch("touchMove", (7.8, 4.2))
    touch("touchEnd")
    trial.tells("A seam from 0, 4 to 8, 4")
    trial.seams("seam 0, 4 to 8, 4")
    span = hypot(*(b - a for a, b in zip(trial.on_screen(0, 0), trial.on_screen(1, 0), strict=True)))
    touch("touchStart", (3, 4))
    touch("touchStart", (3, 4), (5, 4))
    touch("touchMove", (2, 4), (6, 4))
    touch("touchEnd")
    wider = hypot(*(b - a for a, b in zip(trial.on_screen(0, 0), trial.on_screen(1, 0), strict=True)))
    assert wider == pytest.approx(2 * span, rel=0.02)
    trial.seams("seam 0, 4 to 8, 4")


def test_what_a_pointer_is_drawn_to(page: Page) -> None:
    """The pure functions of snapping, asked in the browser, against places worked out by hand."""
    scene = {
        "points": [[0, 0], [8, 0], [8, 8], [0, 8], [4, 4]],
        "mids": [[2, 2], [4, 0]],
        "segments": [[[0, 0], [8, 0]], [[8, 0], [8, 8]], [[8, 8], [0, 8]], [[0, 8], [0, 0]], [[0, 0], [8, 8]]],
        "edges": 4,
        "grid": {"across": 8, "down": 8, "width": 8, "height": 8},
    }
    bare = {**scene, "grid": None}
    r = 2**0.5
    cases = [
        (scene, [4.1, 4.05], None, [4, 4], "point"),
        (bare, [2.05, 2.1], None, [2, 2], "middle"),
        (scene, [3.05, 2.95], None, [3, 3], "grid, on the seam"),
        (scene, [6.1, 1.05], None, [6, 1], "grid"),
        (bare, [6.1, 6.0], None, [6.05, 6.05], "on the seam"),
        (bare, [3.0, 0.1], None, [3.0, 0], "on the edge"),
        (bare, [6.0, 3.1], [1, 3], [6.0, 3], "level"),
        (bare, [1.1, 6.0], [1, 3], [1, 6.0], "upright"),
        (bare, [1 + 3, 7.5 - 3.1], [1, 7.5], [4.05, 4.45], "45°"),
        (bare, [6.1, 3.9], [5, 5], [6.1, 3.9], "45°"),
        (bare, [1.5, 6.7], None, [1.5, 6.7], ""),
        (bare, [5.1, 4.95], [5, 1], [5, 5], "on the seam, upright"),
    ]
    slanted = {**bare, "points": [], "mids": [], "segments": [[[0, 0], [8, 0]], [[0, 0], [8, 6]]], "edges": 1}
    cases.append((slanted, [4 - 1.5 + 0.05, 3 + 2.0], [4, 3], [4 - 1.5, 3 + 2.0], "square to the seam"))
    found = page.evaluate(
        """async (cases) => { const { snapped } = await import("/snap.js");
        return cases.map(([scene, pointer, from]) => snapped(pointer, scene, 0.2, from)); }""",
        [[scene, pointer, start] for scene, pointer, start, _, _ in cases],
    )
    for got, (_, pointer, start, at, word) in zip(found, cases, strict=True):
        assert got["word"] == word, (pointer, start, got)
        assert hypot(got["at"][0] - at[0], got["at"][1] - at[1]) < 0.06, (pointer, start, got, r)


def test_the_nearest_point_of_a_seam_is_the_one_that_geos_finds(page: Page) -> None:
    """Distances to 300 random pieces, some of no length, by the GEOS library (through shapely)."""
    draw = random.Random(7)
    pieces = [[[draw.uniform(0, 8) for _ in range(2)] for _ in range(3)] for _ in range(300)]
    pieces += [[[1.0, 1.0], [2.0, 2.0], [2.0, 2.0]]]
    found = page.evaluate(
        """async (pieces) => { const { nearestOn } = await import("/snap.js");
        return pieces.map(([point, a, b]) => nearestOn(point, a, b)); }""",
        pieces,
    )
    for (point, a, b), near in zip(pieces, found, strict=True):
        expected = LineString([a, b]).distance(GeosPoint(point))
        assert abs(hypot(near[0] - point[0], near[1] - point[1]) - expected) < 1e-9
