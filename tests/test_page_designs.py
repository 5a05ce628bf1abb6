"""Her designs on the server: nothing leads out of the folder, no work is overwritten, refusals are sentences."""

from __future__ import annotations

import base64
import errno
import os
import threading
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from seamwright import api
from seamwright.errors import FileError, SeamwrightError
from seamwright.page.app import make_app
from seamwright.page.bringing import brought
from seamwright.page.folder import free_name, inside, may_be_new, path_of, plain_stem
from seamwright.page.keeping import Keeper, Step
from seamwright.page.place import Place
from seamwright.page.workers import Workers
from support.asking import PASSWORD, Asking
from support.browser import DESIGNS

KITE = "seamwright block 1\nname kite\nsize 8 in\nseam 0, 0 to 8, 8\n"
OTHER = KITE + "seam 8, 0 to 0, 8\n"
SECRET = "seamwright palette 1\nfabric of-the-secret colour #a9c9dc\n"


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    """An empty folder; a secret lies beside it."""
    made = tmp_path / "designs"
    made.mkdir()
    (tmp_path / "secret.palette").write_text(SECRET)
    return made


@pytest.fixture(scope="module")
def workers() -> Iterator[Workers]:
    """One process for all of these tests; it may read anywhere, so what keeps to the folder is not the process."""
    with Workers(None, 1) as made:
        yield made


@pytest.fixture
def asked(folder: Path, workers: Workers) -> Asking:
    return Asking(make_app(Place(folder, PASSWORD, workers)))


def sentence(answer: Any) -> str:
    """What a refusal says."""
    assert answer.status_code == 422, answer.text
    error = answer.json()["error"]
    assert error["text"].endswith((".", "?"))
    return str(error["text"])


def bring(asked: Asking, name: str, data: bytes | None = None, **more: str) -> Any:
    given = {} if data is None else {"data": base64.b64encode(data).decode()}
    return asked.post("/api/bring", {"name": name, **given, **more})


# -- names -------------------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    "name",
    [
        "../secret.palette",
        "..",
        "/etc/passwd",
        "..\\secret.palette",
        "a/../../secret.palette",
        ".hidden.seams",
        ".seamwright/versions/x.seams",
        "kite.txt",
        "kite",
        "",
        "a\0.seams",
        "a\n.seams",
        "\u202esmaes.seams",
        "\ud800.seams",
        "k" * 300 + ".seams",
    ],
)
def test_no_name_leads_out_of_the_folder(folder: Path, name: str) -> None:
    with pytest.raises(FileError):
        path_of(folder, name)


@pytest.mark.parametrize("text", ["../secret.palette", "/etc/passwd", "a/../../x", "", "\0", ".seamwright/lock"])
def test_nothing_that_a_text_names_leads_out_of_the_folder(folder: Path, text: str) -> None:
    with pytest.raises(FileError, match="does not lie in the folder"):
        inside(folder, text)


def test_a_link_that_leads_out_of_the_folder_is_no_design(folder: Path, asked: Asking) -> None:
    (folder / "dusk.palette").symlink_to(folder.parent / "secret.palette")
    (folder / "round.seams").symlink_to("round.seams")
    (folder / "mine.seams").write_text(KITE)
    (folder / "same.seams").symlink_to("mine.seams")
    assert [row["name"] for row in asked.get("/api/designs").json()] == ["mine.seams", "same.seams"]
    for name in ("dusk.palette", "round.seams"):
        assert "of-the-secret" not in asked.get(f"/api/designs/{name}").text
        sentence(asked.get(f"/api/designs/{name}"))
        sentence(asked.put(f"/api/designs/{name}", {"text": KITE, "base": ""}))
    assert (folder.parent / "secret.palette").read_text() == SECRET


def test_a_store_that_is_a_link_is_not_followed(folder: Path, asked: Asking) -> None:
    (folder.parent / "elsewhere").mkdir()
    (folder / ".seamwright").symlink_to("../elsewhere")
    saved = asked.put("/api/designs/kite.seams", {"text": KITE, "base": ""}).json()
    assert "is a link" in saved["warning"]
    assert (folder / "kite.seams").read_text() == KITE
    assert not list((folder.parent / "elsewhere").rglob("*versions*"))


@pytest.mark.parametrize(
    ("name", "mend"),
    [
        ("con.seams", "con block.seams"),  # Microsoft, "Naming Files, Paths, and Namespaces": reserved names
        ("LPT1.seams", "LPT1 block.seams"),
        ("what?.seams", "what.seams"),
        ("a:b.seams", "a b.seams"),
        ("end .seams", "end.seams"),
        ("kite@8in.seams", "kite 8in.seams"),
        ("cafe\u0301.seams", "caf\u00e9.seams"),  # Unicode Standard Annex 15: form C
    ],
)
def test_a_new_name_works_on_every_computer(folder: Path, name: str, mend: str) -> None:
    with pytest.raises(FileError, match="not every computer") as refused:
        may_be_new(folder, name)
    assert mend in str(refused.value)


@pytest.mark.parametrize("twin", ["kite.seams", "KITE.seams", "Kite.SEAMS"])
def test_names_that_differ_by_case_alone_are_one_on_other_computers(folder: Path, asked: Asking, twin: str) -> None:
    (folder / "Kite.seams").write_text(KITE)
    answer = asked.put(f"/api/designs/{twin}", {"text": OTHER, "base": ""})
    if twin == "Kite.SEAMS":
        assert answer.status_code == 422
    assert answer.status_code in (409, 422)
    assert (folder / "Kite.seams").read_text() == KITE
    assert free_name(folder, "kITE", ".seams") == "kITE 2.seams"


@given(st.text(max_size=150))
@settings(max_examples=150)
def test_any_words_make_a_name_that_may_be_new(tmp_path_factory: pytest.TempPathFactory, words: str) -> None:
    stem = plain_stem(words)
    assert stem == plain_stem(stem)
    folder = tmp_path_factory.getbasetemp()
    name = free_name(folder, words, ".seams")
    assert may_be_new(folder, name).name == name
    assert len(name.encode()) <= 200


def test_names_of_any_language_are_kept(folder: Path, asked: Asking) -> None:
    for words in ("Möwe über Föhr", "灯台", "маяк", "منارة", "sea 🌊 star"):
        made = asked.post("/api/designs", {"words": words, "text": KITE}).json()
        assert made["name"] == f"{words}.seams"
        assert asked.get(f"/api/designs/{made['name']}").json()["text"] == KITE


# -- saving ------------------------------------------------------------------------------------------------------


def test_a_write_carries_what_was_read(folder: Path, asked: Asking) -> None:
    first = asked.put("/api/designs/kite.seams", {"text": KITE, "base": ""}).json()
    second = asked.put("/api/designs/kite.seams", {"text": OTHER, "base": first["hash"]}).json()
    refused = asked.put("/api/designs/kite.seams", {"text": KITE + "# x\n", "base": first["hash"]})
    assert refused.status_code == 409
    assert refused.json() == {"text": OTHER, "hash": second["hash"]}
    assert (folder / "kite.seams").read_text() == OTHER


def test_a_new_design_never_takes_the_place_of_another(folder: Path, asked: Asking) -> None:
    (folder / "kite.seams").write_text(OTHER)
    assert asked.put("/api/designs/kite.seams", {"text": KITE, "base": ""}).status_code == 409
    assert asked.post("/api/designs", {"words": "kite", "text": KITE}).json()["name"] == "kite 2.seams"
    assert (folder / "kite.seams").read_text() == OTHER


def test_of_many_writes_at_once_from_one_text_one_is_kept_and_the_others_are_told(folder: Path) -> None:
    keeper = Keeper(folder)
    base = keeper.save("kite.seams", [Step(KITE)], "").hash
    told: list[str] = []

    def write(number: int) -> None:
        # Each in its own server: what keeps them apart is the operating system's lock.
        try:
            Keeper(folder).save("kite.seams", [Step(f"{KITE}# {number}\n")], base)
            told.append(f"{KITE}# {number}\n")
        except Exception as refused:
            assert type(refused).__name__ == "Changed"

    writers = [threading.Thread(target=write, args=(number,)) for number in range(12)]
    for writer in writers:
        writer.start()
    for writer in writers:
        writer.join()
    assert told == [(folder / "kite.seams").read_text()]
    assert len(keeper.versions_of("kite.seams")) == 2


def test_a_whole_walk_may_be_saved_at_once(folder: Path, asked: Asking) -> None:
    base = asked.put("/api/designs/kite.seams", {"text": KITE, "base": ""}).json()["hash"]
    before = [{"text": f"{KITE}# {k}\n"} for k in range(3)]
    asked.put("/api/designs/kite.seams", {"text": OTHER, "base": base, "before": before})
    found = asked.get("/api/designs/kite.seams").json()
    assert found["text"] == OTHER
    past = [asked.get(f"/api/designs/kite.seams/versions/{h}").json()["text"] for h in found["past"]]
    assert past == [KITE, *(one["text"] for one in before)]


def test_a_text_laid_by_is_a_version_though_the_file_holds_another(folder: Path, asked: Asking) -> None:
    base = asked.put("/api/designs/kite.seams", {"text": KITE, "base": ""}).json()["hash"]
    laid = asked.post("/api/designs/kite.seams/versions", {"text": OTHER}).json()["hash"]
    found = asked.get("/api/designs/kite.seams").json()
    assert (found["hash"], found["past"], found["ahead"]) == (base, [], [])
    assert [one["hash"] for one in asked.get("/api/designs/kite.seams/versions").json()] == [laid, base]
    assert asked.get(f"/api/designs/kite.seams/versions/{laid}").json()["text"] == OTHER


def test_a_drawing_is_never_written(folder: Path, asked: Asking) -> None:
    svg = (DESIGNS / "kite.svg").read_bytes()
    (folder / "kite.svg").write_bytes(svg)
    assert "never" in sentence(asked.put("/api/designs/kite.svg", {"text": KITE, "base": ""}))
    assert "never" in sentence(asked.get("/api/designs/kite.svg"))
    assert (folder / "kite.svg").read_bytes() == svg


@pytest.mark.parametrize(
    ("data", "says"),
    [
        (b"", "empty"),
        (b"\xef\xbb\xbf", "empty"),
        (b"seamwright block 1\nname k\xe4te\nsize 8 in\n", "UTF-8"),
        ("seamwright block 1\n".encode("utf-16"), "UTF-8"),
        (b"seamwright block 1\n" + b"# more and more\n" * 200_000, "characters"),
    ],
)
def test_a_file_that_is_no_text_for_the_page_is_told_and_left(
    folder: Path, asked: Asking, data: bytes, says: str
) -> None:
    (folder / "kite.seams").write_bytes(data)
    assert says in sentence(asked.get("/api/designs/kite.seams"))
    assert asked.put("/api/designs/kite.seams", {"text": KITE, "base": ""}).status_code == 409
    assert (folder / "kite.seams").read_bytes() == data


@pytest.mark.parametrize(
    "data", [f"\ufeff{KITE}".encode(), KITE.replace("\n", "\r\n").encode(), KITE.replace("\n", "\r").encode()]
)
def test_a_text_of_another_editor_is_listed_opened_and_saved(folder: Path, asked: Asking, data: bytes) -> None:
    (folder / "kite.seams").write_bytes(data)
    row = asked.get("/api/designs").json()[0]
    assert (row["title"], row["size"]) == ("kite", "8 in")
    found = asked.get("/api/designs/kite.seams").json()
    edits = [{"do": "name", "name": "quay"}]
    made = asked.post("/api/sketch", {"text": found["text"], "name": "kite", "edits": edits}).json()
    saved = asked.put("/api/designs/kite.seams", {"text": made["text"], "base": found["hash"]})
    assert saved.status_code == 200, saved.text
    assert asked.get("/api/designs").json()[0]["title"] == "quay"
    now = asked.get("/api/designs/kite.seams").json()
    assert now["past"] == [found["hash"]]


@pytest.mark.parametrize("long", [130, 249])
def test_a_name_as_long_as_file_systems_take_is_opened_and_saved(folder: Path, asked: Asking, long: int) -> None:
    name = "k" * (long - 6) + ".seams"
    (folder / name).write_text(KITE)
    found = asked.get(f"/api/designs/{name}").json()
    saved = asked.put(f"/api/designs/{name}", {"text": OTHER, "base": found["hash"]}).json()
    assert bool(saved["warning"]) == (long > 247)  # its journal's name is longer, and says so
    assert (folder / name).read_text() == OTHER
    assert asked.post(f"/api/designs/{name}/rename", {"to": "quay.seams"}).status_code == 200


def test_a_file_that_is_not_there_is_told(asked: Asking) -> None:
    assert "no such file" in sentence(asked.get("/api/designs/kite.seams"))
    assert asked.get("/api/designs/kite.seams/hash").json() == {"hash": ""}


def test_nothing_is_no_design(asked: Asking) -> None:
    sentence(asked.put("/api/designs/kite.seams", {"text": " \n", "base": ""}))


def test_a_full_disk_is_told_and_nothing_is_lost(
    folder: Path, asked: Asking, monkeypatch: pytest.MonkeyPatch
) -> None:
    base = asked.put("/api/designs/kite.seams", {"text": KITE, "base": ""}).json()["hash"]

    def full(handle: int) -> None:
        raise OSError(errno.ENOSPC, os.strerror(errno.ENOSPC))

    with monkeypatch.context() as patched:
        patched.setattr(os, "fsync", full)
        assert "disk is full" in sentence(asked.put("/api/designs/kite.seams", {"text": OTHER, "base": base}))
    assert (folder / "kite.seams").read_text() == KITE
    assert asked.put("/api/designs/kite.seams", {"text": OTHER, "base": base}).status_code == 200
    found = asked.get("/api/designs/kite.seams").json()
    assert len(found["past"]) == 1


def test_where_only_the_store_cannot_be_written_her_work_is_saved_and_it_is_said(
    folder: Path, asked: Asking
) -> None:
    (folder / ".seamwright").write_text("a file of that name")
    saved = asked.put("/api/designs/kite.seams", {"text": KITE, "base": ""}).json()
    assert saved["warning"].startswith("Older versions are not kept")
    assert (folder / "kite.seams").read_text() == KITE


@pytest.mark.parametrize("reason", [errno.EACCES, errno.EROFS, errno.EDQUOT])
def test_a_folder_that_may_only_be_read_is_shown_and_told(
    folder: Path, asked: Asking, monkeypatch: pytest.MonkeyPatch, reason: int
) -> None:
    # By the call that fails, not by permissions: root may write everywhere.
    (folder / "kite.seams").write_text(KITE)

    def refused(*given: object, **named: object) -> None:
        raise OSError(reason, os.strerror(reason))

    for module, call in ((os, "open"), (os, "mkdir"), (os, "rename"), (os, "replace"), (os, "unlink")):
        monkeypatch.setattr(module, call, refused)
    found = asked.get("/api/designs/kite.seams").json()
    assert found["text"] == KITE
    assert "cannot be written" in sentence(
        asked.put("/api/designs/kite.seams", {"text": OTHER, "base": found["hash"]})
    )
    assert "cannot be written" in sentence(asked.post("/api/designs", {"words": "storm", "text": KITE}))
    assert "cannot be written" in sentence(asked.request("DELETE", "/api/designs/kite.seams"))
    assert "cannot be written" in sentence(asked.post("/api/designs/kite.seams/rename", {"to": "storm.seams"}))
    assert [path.name for path in folder.iterdir()] == ["kite.seams"]
    assert (folder / "kite.seams").read_text() == KITE


# -- the list ----------------------------------------------------------------------------------------------------


def test_the_list_says_title_size_and_kind(folder: Path, asked: Asking) -> None:
    for name in ("kite.svg", "reef.seams", "kites-star.setting", "dusk.palette"):
        (folder / name).write_bytes((DESIGNS / name).read_bytes())
    (folder / "notes.txt").write_text("no design")
    rows = {row["name"]: row for row in asked.get("/api/designs").json()}
    assert {name: row["kind"] for name, row in rows.items()} == {
        "kite.svg": "drawing",
        "reef.seams": "block",
        "kites-star.setting": "quilt",
        "dusk.palette": "palette",
    }
    assert rows["reef.seams"]["title"] == "reef"
    assert rows["reef.seams"]["size"] == "10 in"
    for name in rows:
        picture = asked.get(f"/api/designs/{name}/picture")
        assert picture.headers["content-type"].startswith("image/svg+xml")
        assert "<path" in picture.text or "<polygon" in picture.text


def test_a_quilt_that_names_a_file_outside_shows_nothing_of_it(folder: Path, asked: Asking) -> None:
    (folder.parent / "outside.seams").write_text(KITE)
    (folder / "q.setting").write_text(
        "seamwright quilt 1\nname q\nblock k ../outside.seams\nsize 8 in\nrow k k\nrow k k\n"
    )
    assert asked.get("/api/designs/q.setting/picture").status_code == 422


def test_a_design_is_renamed_with_its_versions_and_quilts_that_name_it_are_told(
    folder: Path, asked: Asking
) -> None:
    base = asked.put("/api/designs/kite.seams", {"text": KITE, "base": ""}).json()["hash"]
    asked.put("/api/designs/kite.seams", {"text": OTHER, "base": base})
    (folder / "q.setting").write_text("seamwright quilt 1\nblock k kite.seams\n")
    answer = asked.post("/api/designs/kite.seams/rename", {"to": "Kite.seams"}).json()
    assert answer == {"name": "Kite.seams", "named_in": ["q.setting"]} or not (folder / "Kite.seams").exists()


def test_a_renamed_design_keeps_its_undo(folder: Path, asked: Asking) -> None:
    base = asked.put("/api/designs/kite.seams", {"text": KITE, "base": ""}).json()["hash"]
    asked.put("/api/designs/kite.seams", {"text": OTHER, "base": base})
    (folder / "taken.seams").write_text(KITE)
    assert "already" in sentence(asked.post("/api/designs/kite.seams/rename", {"to": "taken.seams"}))
    sentence(asked.post("/api/designs/kite.seams/rename", {"to": "kite.palette"}))
    asked.post("/api/designs/kite.seams/rename", {"to": "storm.seams"})
    assert not (folder / "kite.seams").exists()
    assert asked.get("/api/designs/storm.seams").json()["past"] == [base]


def test_a_design_taken_away_is_brought_back_with_its_versions(folder: Path, asked: Asking) -> None:
    base = asked.put("/api/designs/kite.seams", {"text": KITE, "base": ""}).json()["hash"]
    last = asked.put("/api/designs/kite.seams", {"text": OTHER, "base": base}).json()["hash"]
    assert asked.request("DELETE", "/api/designs/kite.seams").status_code == 200
    assert [row["name"] for row in asked.get("/api/away").json()] == ["kite.seams"]
    assert asked.get("/api/designs").json() == []
    assert asked.post("/api/away/kite.seams").json()["name"] == "kite.seams"
    found = asked.get("/api/designs/kite.seams").json()
    assert (found["text"], found["hash"], found["past"]) == (OTHER, last, [base])
    assert asked.get("/api/away").json() == []


def test_a_design_taken_away_is_not_lost_when_another_takes_its_name(folder: Path, asked: Asking) -> None:
    asked.put("/api/designs/kite.seams", {"text": KITE, "base": ""})
    asked.request("DELETE", "/api/designs/kite.seams")
    made = asked.post("/api/designs", {"words": "kite", "text": OTHER}).json()
    assert made["name"] == "kite.seams"
    (away,) = asked.get("/api/away").json()
    back = asked.post(f"/api/away/{away['name']}").json()
    assert (folder / back["name"]).read_text() == KITE
    assert (folder / "kite.seams").read_text() == OTHER


def test_a_new_block_is_ready_and_not_written(folder: Path, asked: Asking) -> None:
    made = asked.post("/api/new", {}).json()
    assert made["name"] == "new block.seams"
    assert not list(folder.iterdir())
    assert "metric" in asked.post("/api/new", {"name": "möwe", "size": "20 cm"}).json()["text"]
    for size in ("", "8 in\nseam 0, 0 to 8, 8", "-3 in", "9 miles"):
        sentence(asked.post("/api/new", {"size": size}))


# -- bringing in -------------------------------------------------------------------------------------------------


@pytest.mark.parametrize("name", ["kite.svg", "storm-rose.svg", "lighthouse-beam.svg"])
def test_the_copy_of_a_drawing_is_the_same_block(folder: Path, asked: Asking, name: str) -> None:
    found = bring(asked, name, (DESIGNS / name).read_bytes()).json()
    assert found["name"] == name.replace(".svg", ".seams")
    drawn, copied = api.read_block(DESIGNS / name), api.read_block(folder / found["name"])
    assert np.allclose(sorted(copied.points), sorted(drawn.points), rtol=0, atol=1e-9)
    assert [p.fabric for p in copied.patches] == [p.fabric for p in drawn.patches]


def test_a_drawing_in_the_folder_stays_and_is_opened_by_its_copy(folder: Path, asked: Asking) -> None:
    svg = (DESIGNS / "kite.svg").read_bytes()
    (folder / "kite.svg").write_bytes(svg)
    first = bring(asked, "kite.svg").json()
    assert (first["name"], first["again"]) == ("kite.seams", False)
    base = asked.get("/api/designs/kite.seams").json()["hash"]
    asked.put("/api/designs/kite.seams", {"text": KITE, "base": base})
    again = bring(asked, "kite.svg").json()
    assert (again["name"], again["again"]) == ("kite.seams", True)
    assert (folder / "kite.seams").read_text() == KITE
    assert (folder / "kite.svg").read_bytes() == svg
    rows = {row["name"]: row for row in asked.get("/api/designs").json()}
    assert rows["kite.svg"]["copy"] == "kite.seams"


def test_a_copy_never_takes_the_place_of_another_design(folder: Path, asked: Asking) -> None:
    (folder / "kite.seams").write_text(OTHER)
    assert bring(asked, "kite.svg", (DESIGNS / "kite.svg").read_bytes()).json()["name"] == "kite 2.seams"
    assert (folder / "kite.seams").read_text() == OTHER


def svg_of(path: str) -> bytes:
    return (
        '<svg xmlns="http://www.w3.org/2000/svg" width="6in" height="6in" viewBox="0 0 6 6">'
        f'<path fill="none" stroke="#000" stroke-width="0.02" d="{path}"/></svg>'
    ).encode()


def test_what_was_tidied_is_said_with_its_places(asked: Asking) -> None:
    found = bring(asked, "gap.svg", svg_of("M0 0H6V6H0Z M0 3H6 M3 3.01V6")).json()
    (note,) = [note for note in found["notes"] if note["code"] == "tidied"]
    assert note["places_in"] == [[3.0, 3.0]]
    assert found["unfinished"] == []


def test_lines_that_end_in_the_open_come_in_as_lines(folder: Path, asked: Asking) -> None:
    found = bring(asked, "open.svg", svg_of("M0 0H6V6H0Z M0 3H4 M3 3.01V6")).json()
    assert "ends in the open at (4, 3) in" in found["unfinished"][0]
    text = (folder / found["name"]).read_text()
    assert text.splitlines()[1:3] == ["name open", "size 6 in"]
    assert "seam 0, 3 to 4, 3" in text
    # Drawn on, it is a block.
    (folder / "done.seams").write_text(text.replace("seam 0, 3 to 4, 3", "seam 0, 3 to 6, 3"))
    assert len(api.read_block(folder / "done.seams").patches) == 3


@pytest.mark.parametrize(
    ("path", "outline", "seams"),
    [
        ("M1 1H5V5 M1 2L4 5", False, 1),  # two sides only: the box round all
        ("M3 0L6 3L3 6L0 3Z M3 0L3 4", True, 1),  # a diamond
        ("M0 0H6V6H0Z", False, 0),  # an outline alone
    ],
)
def test_a_drawing_that_is_no_block_yet_comes_in_with_an_outline(path: str, outline: bool, seams: int) -> None:
    found = brought("open.svg", svg_of(path))
    assert ("\noutline " in found["text"]) is outline
    assert found["text"].count("\nseam ") == seams
    assert found["unfinished"]


def test_a_drawing_that_cannot_be_read_is_answered_with_its_faults(folder: Path, asked: Asking) -> None:
    for name, data in (
        ("a.svg", b"<svg"),
        ("b.svg", b"\0\1\2"),
        ("c.svg", b""),
        ("d.seams", b"seamwright block 1\nsize 0"),
    ):
        answer = bring(asked, name, data)
        assert answer.json()["error"]["faults"], name
        sentence(answer)
    assert not [path for path in folder.iterdir() if path.name != ".seamwright"]
    assert "of no kind" in sentence(bring(asked, "a.exe", b"MZ"))
    assert "whole" in sentence(asked.post("/api/bring", {"name": "a.svg", "data": "%%%"}))


def test_a_drawing_of_no_block_s_size_may_be_given_one(asked: Asking) -> None:
    huge = svg_of("M0 0H6V6H0Z M0 3H6").replace(b'"6in"', b'"600in"')
    answer = bring(asked, "huge.svg", huge)
    assert answer.json()["error"]["code"] == "size"
    found = bring(asked, "huge.svg", huge, size="8 in").json()
    assert asked.get(f"/api/designs/{found['name']}").json()["text"].splitlines()[2] == "size 8 in"


@pytest.mark.parametrize("name", ["reef.seams", "evening-watch.setting", "dusk.palette"])
def test_a_text_form_stays_as_it_is(folder: Path, asked: Asking, name: str) -> None:
    data = (DESIGNS / name).read_bytes()
    assert bring(asked, name, data).json()["name"] == name
    assert (folder / name).read_bytes() == data
    assert bring(asked, name, data).json() == {"name": name, "again": True, "notes": [], "unfinished": []}
    other = data + b"# mine\n"
    assert bring(asked, name, other).json()["name"] != name
    assert (folder / name).read_bytes() == data


def test_faults_are_sentences_without_paths(folder: Path, asked: Asking) -> None:
    asked_for = ["/api/designs/none.seams", "/api/designs/x.txt", "/api/designs/none.seams/picture"]
    for path in asked_for:
        assert str(folder) not in sentence(asked.get(path))


def test_every_refusal_of_the_keeper_is_one_of_ours(folder: Path) -> None:
    keeper = Keeper(folder)
    for work in (
        lambda: keeper.read("none.seams"),
        lambda: keeper.rename("none.seams", "other.seams"),
        lambda: keeper.take_away("none.seams"),
        lambda: keeper.bring_back("none.seams"),
        lambda: keeper.version("none.seams", "0" * 64),
        lambda: keeper.save("none.seams", [Step("\ud800")], ""),
    ):
        with pytest.raises(SeamwrightError):
            work()
