"""Her work is kept, and nobody waits for ever, in a folder where other programs are at work as well."""

from __future__ import annotations

import os
import shutil
import threading
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

from seamwright.errors import FileError, SeamwrightError
from seamwright.page import alone
from seamwright.page.keeping import Changed, Keeper, Step
from seamwright.page.listing import Listing
from seamwright.page.tracing import found, keep
from seamwright.page.versions import MOST, hash_of

NAME = "kite.seams"
KITE = "seamwright block 1\nname kite\nsize 8 in\nseam 0, 0 to 8, 8\n"
PNG = b"\x89PNG\r\n\x1a\n"


def text(number: int) -> str:
    return f"{KITE}# {number}\n"


def within(work: Callable[[], Any], seconds: float = 20.0) -> Any:
    """What work comes to, or its refusal; fails if it waits for ever."""
    came: list[Any] = []

    def do() -> None:
        try:
            came.append(work())
        except Exception as refused:
            came.append(refused)

    thread = threading.Thread(target=do, daemon=True)
    thread.start()
    thread.join(seconds)
    assert came, "it waits for ever"
    return came[0]


def texts(keeper: Keeper) -> list[str]:
    """Texts that undo leads back to."""
    return [keeper.version(NAME, one) for one in keeper.read(NAME).chain.past]


@pytest.fixture
def keeper(tmp_path: Path) -> Keeper:
    """Whoever keeps an empty folder."""
    (tmp_path / "designs").mkdir()
    return Keeper(tmp_path / "designs")


def test_a_design_comes_back_though_another_program_took_its_name(keeper: Keeper) -> None:
    keeper.save(NAME, [Step(KITE)], "")
    keeper.take_away(NAME)
    (keeper.folder / NAME).write_text(text(9))
    assert within(lambda: keeper.bring_back(NAME)).name == "kite 2.seams"
    assert (keeper.folder / NAME).read_text() == text(9)
    assert (keeper.folder / "kite 2.seams").read_text() == KITE
    assert within(lambda: keeper.save("storm.seams", [Step(KITE)], "")).name == "storm.seams"


def test_many_steps_saved_at_once_are_all_kept_however_long_the_journal(keeper: Keeper) -> None:
    base = ""
    for number in range(2 * MOST - 10):
        base = keeper.save(NAME, [Step(text(number))], base).hash
    keeper.save(NAME, [Step(text(number)) for number in range(200, 200 + MOST)], base)
    assert texts(keeper) == [text(number) for number in range(200, 200 + MOST - 1)]
    assert len(keeper.versions_of(NAME)) == MOST


def test_steps_of_which_the_file_holds_one_already_are_no_conflict(keeper: Keeper) -> None:
    """The server was killed between the writing and its answer: she has drawn on, and sends all of it again."""
    base = keeper.save(NAME, [Step(KITE)], "").hash
    keeper.save(NAME, [Step(text(1)), Step(text(2))], base)
    keeper.save(NAME, [Step(text(number)) for number in (1, 2, 3, 4)], base)
    assert (keeper.folder / NAME).read_text() == text(4)
    assert texts(keeper) == [KITE, text(1), text(2), text(3)]
    again = keeper.save(NAME, [Step(text(number)) for number in (1, 2, 3, 4)], base)
    assert again.hash == keeper.hash(NAME)
    assert texts(keeper) == [KITE, text(1), text(2), text(3)]


def test_steps_that_were_written_and_never_noted_are_noted_when_they_come_again(keeper: Keeper) -> None:
    base = keeper.save(NAME, [Step(KITE)], "").hash
    (keeper.folder / NAME).write_text(text(2))  # as far as a killed server came
    keeper.save(NAME, [Step(text(1)), Step(text(2))], base)
    assert texts(keeper) == [KITE, text(1)]


def test_what_is_no_step_of_hers_is_a_conflict_whatever_she_sends(keeper: Keeper) -> None:
    base = keeper.save(NAME, [Step(KITE)], "").hash
    (keeper.folder / NAME).write_text(text(9))
    with pytest.raises(Changed):
        keeper.save(NAME, [Step(text(1)), Step(text(2))], base)
    assert (keeper.folder / NAME).read_text() == text(9)


@pytest.mark.skipif(not hasattr(os, "mkfifo"), reason="this system has no such files")
def test_a_pipe_among_the_designs_is_not_waited_for(keeper: Keeper) -> None:
    for name in ("kite.seams", "kite.setting"):
        os.mkfifo(keeper.folder / name)
    assert isinstance(within(lambda: keeper.hash(NAME)), SeamwrightError)
    assert isinstance(within(lambda: keeper.read(NAME)), SeamwrightError)
    assert isinstance(within(lambda: keeper.save(NAME, [Step(KITE)], "")), SeamwrightError)
    assert within(lambda: Listing(keeper.folder).quilts_naming(NAME)) == []


def test_a_file_that_became_a_folder_is_not_gone(keeper: Keeper) -> None:
    keeper.save(NAME, [Step(KITE)], "")
    (keeper.folder / NAME).unlink()
    assert keeper.hash(NAME) == ""
    (keeper.folder / NAME).mkdir()
    with pytest.raises(FileError, match="it is a folder"):
        keeper.hash(NAME)


def test_a_change_of_the_same_size_and_time_is_noticed(keeper: Keeper) -> None:
    path = keeper.folder / NAME
    path.write_text(text(1))
    os.utime(path, (1_700_000_000, 1_700_000_000))
    before = keeper.hash(NAME)
    path.write_text(text(2))
    os.utime(path, (1_700_000_000, 1_700_000_000))
    assert keeper.hash(NAME) != before


def test_a_folder_that_is_gone_is_told_and_not_made_anew(keeper: Keeper) -> None:
    base = keeper.save(NAME, [Step(KITE)], "").hash
    shutil.rmtree(keeper.folder)
    for work in (
        lambda: keeper.save(NAME, [Step(text(1))], base),
        lambda: keeper.save(NAME, [Step(text(1))], ""),
        lambda: keeper.create("storm", ".seams", KITE),
        lambda: keeper.lay_by(NAME, KITE),
    ):
        with pytest.raises(FileError, match="not there any more"):
            work()
    assert not keeper.folder.exists()


def test_a_name_may_change_by_case_alone(keeper: Keeper) -> None:
    keeper.save(NAME, [Step(KITE)], "")
    assert keeper.rename(NAME, "Kite.seams") == "Kite.seams"
    assert [path.name for path in keeper.folder.glob("*.seams")] == ["Kite.seams"]
    (keeper.folder / "storm.seams").write_text(KITE)
    with pytest.raises(FileError, match="already"):
        keeper.rename("storm.seams", "KITE.seams")


def test_a_server_that_sleeps_is_not_waited_for_for_ever(keeper: Keeper, monkeypatch: pytest.MonkeyPatch) -> None:
    fcntl = pytest.importorskip("fcntl")
    monkeypatch.setattr(alone, "LOCK_S", 0.05)
    base = keeper.save(NAME, [Step(KITE)], "").hash
    with open(keeper.folder / ".seamwright/lock", "ab") as other:
        fcntl.flock(other, fcntl.LOCK_EX)
        refused = within(lambda: keeper.save(NAME, [Step(text(1))], base))
    assert isinstance(refused, FileError) and refused.code == "busy"
    keeper.save(NAME, [Step(text(1))], base)


def test_what_is_written_over_is_a_version_though_nobody_read_it_here(keeper: Keeper) -> None:
    (keeper.folder / NAME).write_text(KITE)
    keeper.save(NAME, [Step(text(1))], hash_of(KITE.encode()))
    assert texts(keeper) == [KITE]


def test_the_copy_of_a_drawing_is_known_after_any_number_of_changes(keeper: Keeper) -> None:
    drawing = b"<svg/>"
    base = keeper.create("kite", ".seams", KITE, "brought", "kite.svg", drawing).hash
    for number in range(2 * MOST + 5):
        base = keeper.save(NAME, [Step(text(number))], base).hash
    assert Listing(keeper.folder).copy_of("kite.svg", drawing, keeper.versions) == NAME
    assert keeper.versions.content(hash_of(drawing)) == drawing


# -- what lies beside the designs ------------------------------------------------------------------------------


def test_a_store_that_leads_elsewhere_is_neither_written_nor_read(keeper: Keeper, tmp_path: Path) -> None:
    from seamwright.page.tracing import Laid, Lay

    (tmp_path / "elsewhere").mkdir()
    (keeper.folder / ".seamwright").symlink_to(tmp_path / "elsewhere")
    (keeper.folder / NAME).write_text(KITE)
    keeper.read(NAME)
    asked = Lay(laid=Laid(kind="png", x=0, y=0, wide=1, tall=1, faint=1), data="iVBORw0KGgo=")
    with pytest.raises(FileError, match="link"):
        keep(keeper.folder, NAME, asked)
    assert list((tmp_path / "elsewhere").iterdir()) == []


def test_a_picture_to_trace_that_is_a_link_shows_nothing_of_where_it_leads(keeper: Keeper, tmp_path: Path) -> None:
    from seamwright.page.tracing import Laid, Lay

    asked = Lay(laid=Laid(kind="png", x=0, y=0, wide=1, tall=1, faint=1), data="iVBORw0KGgo=")
    keep(keeper.folder, NAME, asked)
    with pytest.raises(FileError, match="link"):
        (tmp_path / "secret").write_text("of the secret")
        picture = keeper.folder / f".seamwright/tracing/{NAME}.png"
        assert found(keeper.folder, NAME) == (asked.laid, PNG)
        picture.unlink()
        picture.symlink_to(tmp_path / "secret")
        found(keeper.folder, NAME)


@pytest.mark.skipif(os.name != "posix", reason="this system has no such permissions")
@pytest.mark.parametrize(("mode", "ours"), [(0o755, 0o700), (0o700, 0o700), (0o775, 0o775), (0o2770, 0o2770)])
def test_older_versions_are_read_by_others_only_where_the_folder_is_shared(
    keeper: Keeper, mode: int, ours: int
) -> None:
    keeper.folder.chmod(mode)
    keeper.save(NAME, [Step(KITE)], "")
    assert (keeper.folder / ".seamwright").stat().st_mode & 0o7777 == ours


def test_a_new_design_that_is_asked_for_again_after_no_answer_is_the_same_one(keeper: Keeper) -> None:
    made = keeper.create("new block", ".seams", text(1), once="a1")
    changed = keeper.save(made.name, [Step(text(2))], made.hash)
    assert keeper.create("new block", ".seams", text(1), once="a1") == made
    assert keeper.create("new block", ".seams", text(1), once="b2").name == "new block 2.seams"
    assert (
        keeper.create("new block", ".seams", text(1), once="c3").name == "new block 3.seams"
    )  # alike, not the same
    keeper.rename(made.name, "quay.seams")
    assert keeper.create("new block", ".seams", text(1), once="a1").name == "quay.seams"
    assert keeper.hash("quay.seams") == changed.hash


def test_a_new_design_whose_server_died_before_it_was_noted_is_the_same_one(
    keeper: Keeper, monkeypatch: pytest.MonkeyPatch
) -> None:
    class Died(BaseException):
        pass

    def die(*_: Any) -> None:
        raise Died

    with monkeypatch.context() as during:
        during.setattr(keeper.versions, "note", die)
        with pytest.raises(Died):
            keeper.create("new block", ".seams", text(1), once="a1")
    again = Keeper(keeper.folder).create("new block", ".seams", text(1), once="a1")
    assert again.name == "new block.seams"
    assert [entry.way for entry in keeper.versions_of(again.name)] == ["new"]
    assert keeper.create("new block", ".seams", text(1)).name == "new block 2.seams"


def test_what_another_program_wrote_is_not_lost_when_the_design_is_taken_away(keeper: Keeper) -> None:
    made = keeper.create("quay", ".seams", text(1))
    (keeper.folder / "quay.seams").write_text(text(2))
    keeper.take_away("quay.seams")
    assert keeper.bring_back("quay.seams").name == "quay.seams"
    held = keeper.read("quay.seams")
    assert held.text == text(2)
    assert held.chain.past == (made.hash,)


def test_a_name_that_could_not_be_given_has_no_versions(keeper: Keeper, monkeypatch: pytest.MonkeyPatch) -> None:
    keeper.create("quay", ".seams", text(1))

    def refused(*_: Any) -> None:
        raise PermissionError

    with monkeypatch.context() as during:
        during.setattr(os, "rename", refused)
        with pytest.raises(FileError):
            keeper.rename("quay.seams", "mole.seams")
    assert keeper.versions.designs() == ["quay.seams"]
    assert len(keeper.versions_of("quay.seams")) == 1


@pytest.mark.skipif(not Path("/proc/self/fd").exists(), reason="the system does not tell what a handle is of")
def test_a_change_that_is_said_to_be_kept_was_forced_to_the_disk(
    keeper: Keeper, monkeypatch: pytest.MonkeyPatch
) -> None:
    forced, force = [], os.fsync

    def told(handle: int) -> None:
        forced.append(Path(os.readlink(f"/proc/self/fd/{handle}")).name)
        force(handle)

    made = keeper.create("quay", ".seams", text(1))
    monkeypatch.setattr(os, "fsync", told)
    saved = keeper.save("quay.seams", [Step(text(2))], made.hash)
    starts = (f".{saved.hash[:20]}", ".quay.seams.", "quay.seams.journal")
    assert [any(name.startswith(start) for name in forced) for start in starts] == [True] * 3


def test_a_journal_that_is_a_link_is_not_followed(keeper: Keeper, tmp_path: Path) -> None:
    outside = tmp_path / "outside.txt"
    outside.write_text("mine\n")
    made = keeper.create("quay", ".seams", text(1))
    journal = keeper.folder / ".seamwright" / "versions" / "quay.seams.journal"
    journal.unlink()
    journal.symlink_to(outside)
    assert keeper.save("quay.seams", [Step(text(2))], made.hash).warning
    assert outside.read_text() == "mine\n"
