"""Printing and cutting from the page: the bytes that commands write, sheets to look at, refusals in words."""

from __future__ import annotations

import csv
import io
import json
import re
import shutil
from collections.abc import Iterator
from pathlib import Path
from typing import Any
from urllib.parse import unquote
from zipfile import ZipFile

import pytest
from pypdf import PdfReader

from seamwright.cli import main
from seamwright.options import PlanOptions
from seamwright.optiontext import ALL_OPTIONS, read_option
from seamwright.page.choices import FIELDS, choices_object
from seamwright.words.onpage import LABELS
from support.asking import Asking, asking
from support.browser import DESIGNS

KITE = (
    "seamwright block 1\nname kite\nsize 6 in\ngrid 8\n"
    "seam 0, 8 to 8, 0\nseam 0, 3 to 8, 0\nseam 5, 8 to 8, 0\n"
    "fabric sky colour #a9c9dc value light\nfabric ink colour #1b2a41 value dark\n"
    "lay sky at 1, 1\nlay ink at 3, 4\n"
)
COLOURED = KITE + "colourway dusk ink becomes sky\n"
RING = (DESIGNS / "breakwater.seams").read_text()
OPEN = "seamwright block 1\nsize 6 in\ngrid 8\nseam 0, 0 to 4, 4\n"


@pytest.fixture(scope="module")
def folder(tmp_path_factory: pytest.TempPathFactory) -> Path:
    made = tmp_path_factory.mktemp("designs")
    shutil.copy(DESIGNS / "dusk.palette", made)
    return made


@pytest.fixture(scope="module")
def desk(folder: Path) -> Iterator[Asking]:
    """A server on a folder that holds no drawing: what is printed is the text that is asked with."""
    with asking(folder) as made:
        yield made


def of(text: str = KITE, **more: Any) -> dict[str, Any]:
    return {"name": "kite.seams", "text": text, **more}


def command(folder: Path, text: str, *words: str) -> Path:
    """What a command writes of a file that holds the text: a file or folder `out` beside it."""
    folder.mkdir(exist_ok=True)
    (folder / "kite.seams").write_text(text)
    assert main([word.replace("HERE", str(folder)) for word in words]) == 0
    return folder


OPTIONS = ("", "option copies 3\noption sets apart\n", "option paper a4\noption units metric\noption tints\n")


@pytest.mark.parametrize("options", OPTIONS)
def test_a_print_from_the_page_is_byte_for_byte_the_one_of_the_command(
    desk: Asking, tmp_path: Path, options: str
) -> None:
    text = KITE + options
    out = command(tmp_path, text, "foundations", "HERE/kite.seams", "-o", "HERE/out.pdf") / "out.pdf"
    answer = desk.post("/api/print/file", of(text, kind="pdf"))
    assert answer.status_code == 200
    assert answer.content == out.read_bytes()
    assert 'filename="kite.pdf"' in answer.headers["Content-Disposition"]
    said = json.loads(unquote(answer.headers["Seamwright-Said"]))
    assert any("none further than" in sentence for sentence in said)
    assert any('at 100 %, not "fit to page"' in sentence for sentence in said)


def test_options_of_the_request_win_over_those_of_the_text(desk: Asking, tmp_path: Path) -> None:
    out = command(tmp_path, KITE + "option paper a4\n", "foundations", "HERE/kite.seams", "-o", "HERE/out.pdf")
    given = {"paper": "a4"}
    answer = desk.post("/api/print/file", of(KITE + "option paper legal\n", options=given, kind="pdf"))
    first = PdfReader(io.BytesIO(answer.content)).pages[0].mediabox
    assert first == PdfReader(out / "out.pdf").pages[0].mediabox


def test_a_sheet_is_shown_for_each_page_of_the_file(desk: Asking) -> None:
    text = KITE + "option copies 12\n"
    told = desk.post("/api/print/pages", of(text)).json()
    pdf = PdfReader(io.BytesIO(desk.post("/api/print/file", of(text, kind="pdf")).content))
    assert told["sheets"] == told["shown"] == len(pdf.pages) > 1
    pictures = list(told["pictures"])
    while len(pictures) < told["shown"]:
        more = desk.post("/api/print/pages", of(text, first=len(pictures) + 1)).json()
        assert more["pictures"]
        pictures += more["pictures"]
    assert len(pictures) == told["shown"]
    for picture, leaf in zip(pictures, pdf.pages, strict=True):
        width, height = (f"{float(side):g}pt" for side in (leaf.mediabox.width, leaf.mediabox.height))
        assert f'width="{width}"' in picture and f'height="{height}"' in picture
    assert len(set(pictures)) == len(pictures)


def test_of_sets_that_are_alike_the_first_is_shown_and_the_rest_told(desk: Asking) -> None:
    told = desk.post("/api/print/pages", of(KITE + "option copies 3\noption sets apart\n")).json()
    assert told["sheets"] == 3 * told["shown"]
    assert "first of 3 sets" in told["alike"]
    assert told["captions"][0].startswith(f"Sheet 1 of {told['shown']}: ")


def test_what_is_told_of_sheets_has_no_words_of_the_command_line(desk: Asking) -> None:
    options = "option tints\noption ink-saver\noption windows\noption unmirrored\noption footer naïve Ω\n"
    told = desk.post("/api/print/pages", of(KITE + options)).json()
    del told["pictures"]
    assert told["notes"]
    assert "--" not in json.dumps(told)
    assert told["next"].startswith("Print at 100 %")


def test_every_colourway_asked_for_has_its_sheets(desk: Asking, tmp_path: Path) -> None:
    out = command(tmp_path, COLOURED, "foundations", "HERE/kite.seams", "--colourway", "all", "-o", "HERE/out.pdf")
    answer = desk.post("/api/print/file", of(COLOURED, options={"colourway": "all"}, kind="pdf"))
    assert answer.content == (out / "out.pdf").read_bytes()


def test_the_booklet_is_byte_for_byte_the_one_of_the_command(desk: Asking, tmp_path: Path) -> None:
    text = KITE + "option students 4\n"
    out = command(tmp_path, text, "booklet", "HERE/kite.seams", "-o", "HERE/out.pdf") / "out.pdf"
    answer = desk.post("/api/print/file", of(text, kind="booklet"))
    assert answer.content == out.read_bytes()
    assert 'filename="kite-booklet.pdf"' in answer.headers["Content-Disposition"]


def test_files_for_a_cutter_are_those_that_the_command_writes_packed(desk: Asking, tmp_path: Path) -> None:
    out = command(tmp_path, KITE, "foundations", "HERE/kite.seams", "--files", "HERE/out") / "out"
    answer = desk.post("/api/print/file", of(kind="cutter"))
    assert answer.headers["Content-Type"] == "application/zip"
    packed = ZipFile(io.BytesIO(answer.content))
    assert packed.testzip() is None
    assert {name: packed.read(name) for name in packed.namelist()} == {
        path.name: path.read_bytes() for path in out.iterdir()
    }
    assert answer.content == desk.post("/api/print/file", of(kind="cutter")).content


@pytest.mark.parametrize("form", ["pdf", "csv"])
def test_the_cutting_list_is_byte_for_byte_the_one_of_the_command(desk: Asking, tmp_path: Path, form: str) -> None:
    text = KITE + "option blocks 12\n"
    out = command(tmp_path, text, "cutting", "HERE/kite.seams", "-o", f"HERE/out.{form}") / f"out.{form}"
    answer = desk.post("/api/cutting/file", of(text, form=form))
    assert answer.content == out.read_bytes()
    assert f'filename="kite-cutting.{form}"' in answer.headers["Content-Disposition"]


def test_the_list_to_read_has_every_strip_of_the_table(desk: Asking) -> None:
    text = KITE + "option blocks 12\n"
    told = desk.post("/api/cutting", of(text)).json()
    shown = [item for item in told["story"] if item["kind"] == "table" and item["head"][0] == "Strips"]
    cuts = sorted(row[1] for table in shown for row in table["rows"])
    rows = list(csv.DictReader(io.StringIO(desk.post("/api/cutting/file", of(text, form="csv")).text)))
    assert cuts and rows
    assert sum(map(int, cuts)) == sum(int(row["Subcuts"]) for row in rows)
    assert told["proven"].startswith("Proven: every patch of 12 blocks")
    assert any("blade away from your body" in item.get("text", "") for item in told["story"])
    assert "--" not in json.dumps(told)


FRACTIONS = {"⅛": "1/8", "¼": "1/4", "⅜": "3/8", "½": "1/2", "⅝": "5/8", "¾": "3/4", "⅞": "7/8"}
"""As Unicode has them (Number Forms, Latin-1 Supplement)."""


def typed(words: str) -> str:
    """Words of the page as a terminal has them: 2¾ in is 2 3/4 in."""
    for sign, plain in FRACTIONS.items():
        words = re.sub(rf"(?<=\d){sign}", f" {plain}", words).replace(sign, plain)
    return words


@pytest.mark.parametrize(
    ("name", "options"),
    [
        ("compass-star.seams", "option blocks 12\n"),
        ("lamp.seams", "option units metric\noption spare 20\n"),
        pytest.param("tide-chart.seams", "option blocks 5\noption paper a3\n", marks=pytest.mark.long),
        pytest.param("spinnaker.seams", "option units metric\n", marks=pytest.mark.long),
    ],
)
def test_what_is_bought_and_cut_on_the_page_is_what_the_command_says(
    desk: Asking, tmp_path: Path, capsys: pytest.CaptureFixture[str], name: str, options: str
) -> None:
    text = (DESIGNS / name).read_text() + options
    command(tmp_path, text, "cutting", "HERE/kite.seams")
    said = capsys.readouterr().out
    tables = [item for item in desk.post("/api/cutting", of(text)).json()["story"] if item["kind"] == "table"]
    bought = {row[0]: row[2] for table in tables if table["head"][2:3] == ["Buy"] for row in table["rows"]}
    told = re.findall(
        r"^  (\S.*?)(?: \([^()]*(?:light|medium|dark)[^()]*\))?: ([^,;]+), or .*; strips across", said, re.M
    )
    assert bought and {fabric: typed(amount) for fabric, amount in bought.items()} == dict(told)
    cut = [row for table in tables if table["head"][0] == "Strips" for row in table["rows"]]
    shown = sorted((row[1], typed(row[2])) for row in cut)
    assert shown == sorted(re.findall(r"(\d+) at ([\d/ .]+ x [\d/ .]+ (?:in|cm))", said))
    strips = sorted(
        re.findall(r"\d+ strips? [^:]* wide", typed(" : ".join(row[0].replace(",", "") for row in cut)))
    )
    assert strips == sorted(re.findall(r"(\d+ strips? [^:]* wide): ", said))


@pytest.mark.parametrize(
    ("asked", "more"),
    [
        ("/api/print/pages", {}),
        ("/api/print/file", {"kind": "pdf"}),
        ("/api/print/file", {"kind": "cutter"}),
        ("/api/print/file", {"kind": "booklet"}),
        ("/api/cutting", {}),
        ("/api/cutting/file", {"form": "csv"}),
    ],
)
def test_nothing_comes_of_what_cannot_be_sewn_and_check_is_named(
    desk: Asking, asked: str, more: dict[str, Any]
) -> None:
    refused = desk.post(asked, of(RING, **more))
    assert refused.status_code == 422
    error = refused.json()["error"]
    assert error["code"] == "stuck"
    assert error["text"].endswith("Open Check to see where, and what mends it.")
    refused = desk.post(asked, of(OPEN, **more))
    assert refused.json()["error"]["code"] == "unfinished"


def test_every_option_offered_is_one_and_takes_what_its_field_can_state() -> None:
    fields = choices_object()
    assert len({one["option"] for one in fields}) == len(fields)
    for one in fields:
        assert one["option"] in ALL_OPTIONS
        assert one["label"] == LABELS[one["option"]][1]
        assert one["help"].endswith(".") and "--" not in one["help"] and "(" not in one["help"]
        for value, _ in one["choices"]:
            if value:
                read_option(one["option"], value)
        if one["kind"] in ("yes", "no"):
            read_option(one["option"], one["value"])
    for one, told in zip(FIELDS, fields, strict=True):
        # What an empty field says holds is what holds.
        if one.kind in ("number", "length") and any(letter.isdigit() for letter in one.usual):
            field, value = read_option(one.option, told["usual"])
            if one.option in ("allowance", "margins"):
                assert value == {"allowance": PlanOptions().seam_allowance_in, "margins": None}[one.option]
            else:
                kinds = [kind() for kind in _kinds() if hasattr(kind(), field)]
                assert value == getattr(kinds[0], field)


def _kinds() -> list[type]:
    from seamwright.options import BookOptions, CutOptions, PrintOptions

    return [PlanOptions, PrintOptions, CutOptions, BookOptions]


@pytest.mark.parametrize(
    ("option", "value", "said"),
    [
        ("copies", "abc", "Give a whole number from 1 to 500"),
        ("paper", "a44", "Perhaps 'a4' is meant"),
        ("paper", "1 x 1 in", "a sheet"),
        ("allowance", "5 in", "Give 0 in to 2 in"),
        ("margins", "1, 2", "Give one for all sides"),
        ("footer", "x" * 301, "Keep to 300"),
    ],
)
def test_a_wrong_value_is_refused_with_what_mends_it(desk: Asking, option: str, value: str, said: str) -> None:
    refused = desk.post("/api/print/choice", {"option": option, "value": value})
    assert refused.status_code == 422
    text = refused.json()["error"]["text"]
    assert said in text or option == "paper"
    assert not text.startswith("option ") and "--" not in text
    assert desk.post("/api/print/choice", {"option": option, "value": ""}).status_code == 200


def test_a_palette_outside_of_the_folder_is_not_read(desk: Asking, folder: Path) -> None:
    (folder.parent / "beside.palette").write_text("fabric sky colour #ffffff\n")
    good = desk.post("/api/print/pages", of(KITE + "option palette dusk.palette\n"))
    assert good.status_code == 200
    for path in ("../beside.palette", str(folder.parent / "beside.palette")):
        for asked in (of(KITE + f"option palette {path}\n"), of(options={"palette": path})):
            for where in ("/api/print/pages", "/api/cutting"):
                refused = desk.post(where, asked)
                assert refused.status_code == 422, (where, path)
                assert "outside of the folder" in refused.json()["error"]["text"]


def test_nothing_is_written_into_the_folder(desk: Asking, folder: Path) -> None:
    before = sorted(folder.rglob("*"))
    for kind in ("pdf", "cutter", "picture"):
        assert desk.post("/api/print/file", of(kind=kind)).status_code == 200
    assert sorted(folder.rglob("*")) == before
