"""Her work is safe in the browser: two pages, other programs, a server that dies, a browser that is closed."""

from __future__ import annotations

import socket
from collections.abc import Callable
from pathlib import Path
from typing import TYPE_CHECKING
from urllib.parse import quote

import pytest

from support.board import drag as draw
from support.browser import Served, Watch

if TYPE_CHECKING:
    from playwright.sync_api import Page, Route

PLAIN = "seamwright block 1\nname harbour\nsize 8 in\ngrid 8\n\nseam 0, 4 to 8, 4\n"
OFFLINE = (
    "net::ERR_",  # the browser has a word of its own for each way in which an answer can stay away or break off
    "status of 403",  # the pass of the start before
    "status of 503",  # what was under way when the server stopped
)
SVG = (
    b'<svg xmlns="http://www.w3.org/2000/svg" width="6in" height="6in" viewBox="0 0 6 6">'
    b'<path fill="none" stroke="#000" stroke-width="0.02" d="M0 0H6V6H0Z M0 3H6 M3 3.01V6"/></svg>'
)


def seams(page: Page, count: int) -> None:
    """Waits until so many seams are drawn."""
    from playwright.sync_api import expect

    expect(page.locator("#chart g.seams path.seam")).to_have_count(count)


def drawn_on(tab: Callable[..., Page]) -> Page:
    """A page of the harbour with one seam more, which is saved."""
    page: Page = tab()
    seams(page, 1)
    draw(page, (4, 0), (4, 4))
    seams(page, 2)
    saved(page)
    return page


def saved(page: Page, words: str = "Saved") -> None:
    from playwright.sync_api import expect

    expect(page.locator("#saved")).to_have_text(words)


def opened(page: Page, name: str) -> None:
    """Waits until a design is on the table: the address names it."""
    page.wait_for_url(f"**/#{quote(name)}")


def press(page: Page, words: str) -> None:
    page.get_by_role("button", name=words, exact=True).click()


def free_port() -> int:
    """A port that is free now, and is not the folder's own."""
    with socket.socket() as asked:
        asked.bind(("127.0.0.1", 0))
        return int(asked.getsockname()[1])


@pytest.fixture
def harbour(served: Served) -> Path:
    """A design in the folder before the page is opened."""
    path = served.folder / "harbour.seams"
    path.write_text(PLAIN)
    return path


def test_a_first_block_is_written_when_it_is_drawn_on_and_takes_the_name_she_gives_it(
    served: Served, page: Page
) -> None:
    saved(page, "Kept as soon as you draw")
    page.get_by_text("This folder has no designs yet").wait_for()
    assert not [path for path in served.folder.iterdir() if path.suffix]
    draw(page, (0, 4), (6, 4))
    seams(page, 1)
    saved(page)
    opened(page, "new block.seams")
    assert (served.folder / "new block.seams").read_text().endswith("seam 0, 4 to 6, 4\n")
    page.get_by_label("Name", exact=True).fill("Storm: rose")
    page.keyboard.press("Enter")
    page.get_by_role("heading", name="Storm: rose").wait_for()
    saved(page)
    opened(page, "Storm rose.seams")
    assert [path.name for path in served.folder.iterdir() if path.suffix == ".seams"] == ["Storm rose.seams"]
    page.reload()
    seams(page, 1)
    for _ in range(2):
        press(page, "Undo")
    seams(page, 0)


def test_two_pages_of_one_design_follow_each_other_and_undo_brings_hers_back(
    harbour: Path, tab: Callable[..., Page]
) -> None:
    one, two = tab(), tab()
    seams(two, 1)
    seams(one, 1)
    one.bring_to_front()
    draw(one, (4, 0), (4, 4))
    seams(one, 2)
    saved(one)
    two.bring_to_front()
    two.get_by_text("harbour.seams was changed elsewhere").wait_for()
    seams(two, 2)
    press(two, "Undo")
    seams(two, 1)
    saved(two)
    assert harbour.read_text() == PLAIN
    one.bring_to_front()
    seams(one, 1)
    press(one, "Undo")
    seams(one, 2)


def test_a_change_elsewhere_while_hers_is_unsaved_overwrites_nobody_s_work(
    harbour: Path, served: Served, tab: Callable[..., Page], watch: Watch
) -> None:
    watch.allow("ERR_FAILED")
    page = tab()
    seams(page, 1)
    for answer in ("Keep mine as a copy", "Take what is there"):
        count = page.locator("#chart g.seams path.seam").count()
        theirs = harbour.read_text() + f"# {answer}\n"
        page.route("**/api/designs/*", lambda route: route.abort())
        draw(page, (4, 0) if count == 1 else (2, 0), (4, 4) if count == 1 else (2, 4))
        saved(page, "Offline: kept here, saved as soon as seamwright answers")
        harbour.write_text(theirs)
        page.unroute("**/api/designs/*")
        page.get_by_text("was changed elsewhere while you worked on it").wait_for()
        assert harbour.read_text() == theirs
        press(page, answer)
        saved(page)
        assert harbour.read_text() == theirs
        if answer == "Keep mine as a copy":
            copy = served.folder / "harbour 2.seams"
            opened(page, "harbour 2.seams")
            assert copy.read_text() != theirs
            seams(page, count + 1)
            page.evaluate("seamwright.desk.open('harbour.seams')")
            seams(page, 1)
        else:
            seams(page, count)
            press(page, "Undo")
            seams(page, count + 1)
            saved(page)
    page.close()


def test_a_design_that_vanished_is_written_again_only_if_she_says_so(
    harbour: Path, tab: Callable[..., Page]
) -> None:
    page = tab()
    seams(page, 1)
    harbour.unlink()
    page.get_by_text("is no longer in the folder").wait_for()
    assert not harbour.exists()
    press(page, "Write it again")
    saved(page)
    assert harbour.read_text() == PLAIN


def test_after_a_kill_and_a_restart_elsewhere_drawing_and_undo_are_there(
    harbour: Path, served: Served, tab: Callable[..., Page], watch: Watch
) -> None:
    watch.allow(*OFFLINE)
    page = tab()
    seams(page, 1)
    draw(page, (4, 0), (4, 4))
    seams(page, 2)
    draw(page, (2, 0), (2, 4))
    seams(page, 3)
    saved(page)
    served.kill()
    page.locator("#banner").get_by_text("Seamwright does not answer").wait_for()
    page.close()
    served.start(free_port())
    again = tab()
    seams(again, 3)
    press(again, "Undo")
    seams(again, 2)
    press(again, "Undo")
    seams(again, 1)
    press(again, "Redo")
    seams(again, 2)
    saved(again)
    served.kill()
    served.start(free_port())
    last = tab()
    seams(last, 2)
    press(last, "Redo")
    seams(last, 3)
    saved(last)


def test_what_was_not_saved_when_the_page_was_closed_is_saved_by_the_next(
    harbour: Path, served: Served, tab: Callable[..., Page], watch: Watch
) -> None:
    watch.allow(*OFFLINE)
    page, other = tab(), tab()
    page.bring_to_front()
    seams(page, 1)
    draw(page, (4, 0), (4, 4))
    seams(page, 2)
    saved(page)
    other.bring_to_front()
    seams(other, 2)
    page.bring_to_front()
    served.kill()
    press(page, "Undo")
    seams(page, 1)
    saved(page, "Offline: kept here, saved as soon as seamwright answers")
    page.close()
    assert harbour.read_text() != PLAIN
    served.start()  # at the folder's own port, so that what this browser keeps is found
    again = tab()
    seams(again, 1)
    saved(again)
    assert harbour.read_text() == PLAIN
    press(again, "Redo") if again.locator("#redo").is_enabled() else press(again, "Undo")
    seams(again, 2)
    # The page that was open all along has the pass of the new start from the one opened now.
    other.bring_to_front()
    saved(other)
    seams(other, 2)


def test_a_drawing_dropped_on_the_page_is_copied_and_what_was_tidied_is_shown(served: Served, page: Page) -> None:
    saved(page, "Kept as soon as you draw")
    page.evaluate(
        """svg => {
            const data = new DataTransfer();
            data.items.add(new File([svg], "gap.svg", { type: "image/svg+xml" }));
            const how = { dataTransfer: data, bubbles: true, cancelable: true };
            for (const kind of ["dragover", "drop"]) document.body.dispatchEvent(new DragEvent(kind, how));
        }""",
        SVG.decode(),
    )
    page.get_by_text("1 end closed").wait_for()
    seams(page, 2)
    assert page.locator("#chart .tidied circle").count() == 1
    saved(page)
    there = page.locator("#chart .outline path").bounding_box()
    assert [path.name for path in served.folder.iterdir() if path.suffix] == ["gap.seams"]
    press(page, "Put this away")
    assert page.locator("#chart .tidied").count() == 0
    assert page.locator("#chart .outline path").bounding_box() == there  # nothing moved under her hand


def test_the_list_opens_renames_copies_takes_away_and_brings_back(
    harbour: Path, served: Served, tab: Callable[..., Page]
) -> None:
    served.put("reef.seams", "kite.svg")
    page = tab()
    saved(page)
    page.evaluate("seamwright.desk.open('harbour.seams')")
    seams(page, 1)
    press(page, "Designs")
    dialog = page.get_by_role("dialog")
    dialog.locator("img").nth(2).wait_for()
    press(page, "Copy reef.seams")
    dialog.get_by_text("reef 2.seams is a copy of reef.seams").wait_for()
    press(page, "Rename reef 2.seams")
    dialog.get_by_label("New name of reef 2").fill("shallows")
    press(page, "Rename it")
    dialog.get_by_text("reef 2.seams is called shallows.seams now").wait_for()
    press(page, "Take away shallows.seams")
    dialog.get_by_text("It can be brought back").wait_for()
    assert not (served.folder / "shallows.seams").exists()
    press(page, "Close")
    press(page, "Designs")
    dialog.get_by_text("Taken away").click()
    press(page, "Bring back shallows.seams")
    opened(page, "shallows.seams")
    assert (served.folder / "shallows.seams").read_text() == (served.folder / "reef.seams").read_text()
    press(page, "Designs")
    dialog.get_by_role("button", name="Open kite, kite.svg").click()
    opened(page, "kite.seams")


def test_a_version_of_before_is_looked_at_and_brought_back(harbour: Path, tab: Callable[..., Page]) -> None:
    page = drawn_on(tab)
    press(page, "Designs")
    press(page, "Versions of harbour.seams")
    dialog = page.get_by_role("dialog")
    dialog.locator("img").nth(1).wait_for()
    dialog.get_by_role("listitem").nth(1).get_by_role("button").click()
    seams(page, 1)
    saved(page)
    assert harbour.read_text() == PLAIN
    press(page, "Undo")
    seams(page, 2)


def test_a_file_that_was_broken_by_hand_is_said_line_by_line_and_can_be_brought_back(
    harbour: Path, tab: Callable[..., Page]
) -> None:
    page = drawn_on(tab)
    harbour.write_text(PLAIN + "seem 1, 1 to 2, 2\n")
    page.get_by_role("heading", name="harbour.seams cannot be read").wait_for()
    page.get_by_text("Perhaps 'seam' is meant").first.wait_for()
    press(page, "Undo")
    seams(page, 2)
    saved(page)


def test_an_answer_that_breaks_off_is_no_answer(harbour: Path, tab: Callable[..., Page]) -> None:
    """The server died while it said that the change is kept: whether it is, nobody knows."""
    page = tab()
    seams(page, 1)
    page.route("**/api/designs/*", lambda route: route.fulfill(status=200, body='{"name": "harb'))
    draw(page, (4, 0), (4, 4))
    saved(page, "Offline: kept here, saved as soon as seamwright answers")
    assert harbour.read_text() == PLAIN
    page.unroute("**/api/designs/*")
    saved(page)
    assert harbour.read_text() != PLAIN
    press(page, "Undo")
    seams(page, 1)


def test_a_change_that_was_kept_without_an_answer_is_no_conflict(
    harbour: Path, tab: Callable[..., Page], watch: Watch
) -> None:
    watch.allow("ERR_FAILED")
    page = tab()
    seams(page, 1)

    def kept(route: Route) -> None:
        route.fetch()
        route.abort()

    page.route("**/api/designs/*", kept, times=1)
    draw(page, (4, 0), (4, 4))
    seams(page, 2)
    saved(page)  # the word about saving that stood over the drawing has gone
    draw(page, (2, 0), (2, 4))
    seams(page, 3)
    saved(page)
    assert harbour.read_text().count("\nseam ") == 3


def test_a_change_that_was_kept_without_an_answer_is_no_conflict_for_the_next_page_either(
    harbour: Path, tab: Callable[..., Page], watch: Watch
) -> None:
    watch.allow("ERR_FAILED")
    page = tab()
    seams(page, 1)
    asked = []

    def first_kept(route: Route) -> None:
        if not asked:
            route.fetch()
        asked.append(route)
        route.abort()

    page.route("**/api/designs/*", first_kept)
    for across in (4, 2):
        draw(page, (across, 0), (across, 4))
        saved(page, "Offline: kept here, saved as soon as seamwright answers")
    seams(page, 3)
    assert harbour.read_text().count("\nseam ") == 2
    page.close()
    again = tab()
    seams(again, 3)
    saved(again)
    assert harbour.read_text().count("\nseam ") == 3
    for left in (2, 1):
        press(again, "Undo")
        seams(again, left)


def test_undo_leads_back_through_what_was_before_a_copy(
    harbour: Path, served: Served, tab: Callable[..., Page], watch: Watch
) -> None:
    watch.allow("ERR_FAILED")
    page = drawn_on(tab)
    page.reload()
    seams(page, 2)
    page.route("**/api/designs/*", lambda route: route.abort())
    draw(page, (2, 0), (2, 4))
    saved(page, "Offline: kept here, saved as soon as seamwright answers")
    harbour.write_text(PLAIN + "# theirs\n")
    page.unroute("**/api/designs/*")
    press(page, "Keep mine as a copy")
    opened(page, "harbour 2.seams")
    for left in (2, 1):
        press(page, "Undo")
        seams(page, left)
    saved(page)
    assert (served.folder / "harbour 2.seams").read_text() == PLAIN


def test_a_name_given_while_she_draws_leaves_nothing_behind_under_the_old_one(
    harbour: Path, served: Served, tab: Callable[..., Page]
) -> None:
    page = tab()
    seams(page, 1)
    page.evaluate(
        """async () => {
            const { desk } = seamwright;
            const renamed = desk.rename("quay");
            await desk.change([{ do: "draw", points: [[4, 0], [4, 4]] }]);
            await renamed;
        }"""
    )
    seams(page, 2)
    opened(page, "quay.seams")
    saved(page)
    assert not harbour.exists()
    assert (served.folder / "quay.seams").read_text().count("\nseam ") == 2
    assert page.evaluate("Object.keys(localStorage).filter((key) => key.startsWith('seamwright kept'))") == []


def test_an_address_that_cannot_be_read_opens_what_was_open_last(harbour: Path, tab: Callable[..., Page]) -> None:
    page = tab()
    seams(page, 1)
    page.evaluate("location.hash = '%'")
    page.reload()
    seams(page, 1)
    saved(page)


def test_where_the_browser_has_little_room_the_last_change_at_least_is_kept(
    harbour: Path, tab: Callable[..., Page], watch: Watch
) -> None:
    watch.allow("ERR_FAILED")
    page = tab()
    seams(page, 1)
    page.route("**/api/designs/*", lambda route: route.abort())
    page.evaluate(
        """async () => {
            const room = "x".repeat(100_000);
            for (let k = 0; ; k++) try { localStorage.setItem(`filled ${k}`, room); } catch { break; }
            localStorage.removeItem("filled 0");
            const { desk } = seamwright;
            for (let k = 0; k < 8; k++)
                await desk.replace(`${desk.text}# ${"y".repeat(20_000)}\\n`).catch(() => {});
        }"""
    )
    saved(page, "Offline: kept here, saved as soon as seamwright answers")
    kept = page.evaluate(
        """() => JSON.parse(localStorage.getItem(
            Object.keys(localStorage).find((key) => key.startsWith("seamwright kept")))).steps.length"""
    )
    assert 1 <= kept < 8
    page.unroute("**/api/designs/*")
    saved(page)
    assert harbour.read_text().count("# y") == 8


def test_undo_without_an_answer_changes_nothing(
    harbour: Path, served: Served, tab: Callable[..., Page], watch: Watch
) -> None:
    """What is on the table is what is saved: a text that could not be shown is none of hers."""
    watch.allow(*OFFLINE)
    page = drawn_on(tab)
    page.reload()
    seams(page, 2)
    served.kill()
    press(page, "Undo")
    page.locator("#word-said:has-text('Seamwright does not answer')").wait_for()
    seams(page, 2)
    assert page.evaluate("seamwright.desk.canUndo")
    assert page.evaluate("seamwright.desk.text") == harbour.read_text()


def test_two_new_blocks_that_cannot_be_saved_are_both_kept(
    served: Served, tab: Callable[..., Page], watch: Watch
) -> None:
    """As on a full disk: they have one name until they are written."""
    watch.allow("ERR_FAILED")
    page = tab()
    saved(page, "Kept as soon as you draw")
    page.route("**/api/designs", lambda route: route.abort())
    for seam in ((0, 4), (6, 4)), ((4, 0), (4, 6)):
        draw(page, *seam)
        seams(page, 1)
        saved(page, "Offline: kept here, saved as soon as seamwright answers")
        page.evaluate(
            "seamwright.desk.begin(seamwright.desk.text.split('\\n\\nseam')[0] + '\\n', 'new block.seams')"
        )
        seams(page, 0)
    page.close()
    for _ in range(2):
        again = tab()
        seams(again, 1)
        saved(again)
        again.close()
    assert {path.name for path in served.folder.glob("*.seams")} == {"new block.seams", "new block 2.seams"}
    drawn = {path.read_text().strip().splitlines()[-1] for path in served.folder.glob("*.seams")}
    assert drawn == {"seam 0, 4 to 6, 4", "seam 4, 0 to 4, 6"}


def test_a_new_block_that_was_written_without_an_answer_is_not_written_twice(
    served: Served, page: Page, watch: Watch
) -> None:
    watch.allow("ERR_FAILED")
    saved(page, "Kept as soon as you draw")

    def kept(route: Route) -> None:
        route.fetch()
        route.abort()

    page.route("**/api/designs", kept, times=1)
    draw(page, (0, 4), (6, 4))
    seams(page, 1)
    saved(page)
    assert [path.name for path in served.folder.glob("*.seams")] == ["new block.seams"]


def test_a_pass_that_another_page_made_up_takes_the_place_of_none(
    harbour: Path, served: Served, tab: Callable[..., Page], watch: Watch
) -> None:
    watch.allow(*OFFLINE)
    page = tab()
    seams(page, 1)
    for address in (f"{served.origin}/#pass=wrong", f"{served.origin}/?again#pass=wrong"):
        page.goto(address)
        seams(page, 1)
        draw(page, (4, 0), (4, 4))
        seams(page, 2)
        saved(page)
        press(page, "Undo")
        seams(page, 1)
        saved(page)


def test_the_address_of_a_new_start_opened_in_the_same_tab_is_taken(
    harbour: Path, served: Served, tab: Callable[..., Page], watch: Watch
) -> None:
    watch.allow(*OFFLINE)
    page = tab()
    seams(page, 1)
    page.locator("#verdict .said").get_by_text("Can be sewn").wait_for()  # or it would be broken off
    served.restart()
    page.get_by_text("Seamwright was started anew").wait_for()
    saved(page, "Offline: nothing can be changed until seamwright answers")
    page.goto(served.address)
    saved(page)
    page.locator("#banner").wait_for(state="hidden")
    assert "pass" not in page.url
