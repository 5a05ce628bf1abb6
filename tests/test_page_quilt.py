"""The quilt on the page, as the server answers: edits, picture and places, facts, turnings, files."""

from __future__ import annotations

import csv
import io
import os
import re
import shutil
from collections.abc import Iterator
from pathlib import Path
from typing import Any
from urllib.parse import unquote
from xml.etree import ElementTree

import pytest
from pypdf import PdfReader
from shapely import Polygon
from shapely.ops import unary_union

from seamwright.cli import main
from seamwright.quilt.edit import new_quilt
from support.asking import Asking, asking
from support.browser import DESIGNS

STARS = (DESIGNS / "kites-star.setting").read_text()
WATCH = (DESIGNS / "evening-watch.setting").read_text()


@pytest.fixture(scope="module")
def folder(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Blocks alone: the quilts are the texts that are asked with."""
    made = tmp_path_factory.mktemp("around") / "designs"
    made.mkdir()
    for name in ("kite.svg", "compass-star.seams", "crest.seams", "beacon.seams", "breakwater.seams"):
        shutil.copy(DESIGNS / name, made)
    (made.parent / "secret.seams").write_text((DESIGNS / "crest.seams").read_text())
    os.symlink(made.parent / "secret.seams", made / "link.seams")
    return made


@pytest.fixture(scope="module")
def desk(folder: Path) -> Iterator[Asking]:
    with asking(folder) as made:
        yield made


def of(text: str, **more: Any) -> dict[str, Any]:
    return {"name": "evening.setting", "text": text, **more}


def picture(desk: Asking, text: str, finish: str = "colour") -> dict[str, Any]:
    answer = desk.post("/api/quilt/picture", of(text, finish=finish))
    assert answer.status_code == 200, answer.text
    return answer.json()  # type: ignore[no-any-return]


def test_an_edit_answers_with_the_text_and_what_to_show(desk: Asking) -> None:
    edits = [{"do": "rotate", "cells": [[0, 0]]}, {"do": "sashing", "width": "1 in", "fabric": "sea"}]
    made = desk.post("/api/quilt/edit", of(STARS, edits=edits)).json()
    assert "row kite, kite\n" in made["text"]
    assert made["view"]["rows"][0][0] == {
        "block": "kite",
        "quarters": 0,
        "reversed": False,
        "colourway": "",
        "fabric": "",
    }
    assert made["view"]["sashing"] == ["1 in", "sea", "", False]
    assert made["view"]["across"] == made["view"]["down"] == 6


def test_an_edit_that_cannot_be_done_is_refused_in_words(desk: Asking) -> None:
    answer = desk.post("/api/quilt/edit", of(STARS, edits=[{"do": "sashing", "width": "wide", "fabric": "sea"}]))
    assert answer.status_code == 422
    assert answer.json()["error"]["text"] == "'wide' is no length. Write it as 2 1/2 in, or 6 cm."
    assert desk.post("/api/quilt/edit", of(STARS, edits=[{"do": "wobble"}])).status_code == 422


def test_a_new_quilt_has_a_free_name(desk: Asking, folder: Path) -> None:
    asked = {"block": "kite.svg", "across": 3, "down": 2}
    made = desk.post("/api/quilt/new", asked).json()
    assert made == {"name": "kite quilt.setting", "text": new_quilt("kite quilt", "kite", "kite.svg", 3, 2)}
    (folder / "kite quilt.setting").write_text(made["text"])
    assert desk.post("/api/quilt/new", asked).json()["name"] == "kite quilt 2.setting"
    assert desk.post("/api/quilt/new", {**asked, "block": "../secret.seams"}).status_code == 422


def test_places_lie_side_by_side_in_the_picture_as_a_library_for_polygons_says(desk: Asking) -> None:
    for text, across, down in ((STARS, 6, 6), (WATCH, 3, 4)):
        found = picture(desk, text)
        assert (found["state"], found["across"], found["down"]) == ("can", across, down)
        rings = [Polygon(ring) for _, _, ring in found["places"]]
        whole = unary_union(rings)
        assert whole.area == pytest.approx(sum(ring.area for ring in rings), rel=1e-9)
        left, top, right, bottom = whole.bounds
        assert left > 0 and top > 0 and right < found["width"] and bottom < found["height"]
    rows = [row for row, _, _ in found["places"]]
    assert [rows.count(row) for row in range(7)] == [3, 2, 3, 2, 3, 2, 3]
    middles = {(row, column): Polygon(ring).centroid.coords[0] for row, column, ring in found["places"]}
    assert middles[0, 0][1] == pytest.approx(middles[0, 2][1])
    assert middles[1, 0][0] == pytest.approx((middles[0, 0][0] + middles[0, 1][0]) / 2)


def test_the_picture_holds_each_block_once_and_nothing_that_the_page_forbids(desk: Asking) -> None:
    svg = picture(desk, new_quilt("large", "kite", "kite.svg", 20, 20))["svg"]
    small = picture(desk, new_quilt("small", "kite", "kite.svg", 2, 2))["svg"]
    assert len(ElementTree.fromstring(svg).findall(".//{*}use")) > 400
    assert len(svg) - len(small) < 300 * 396  # a block more is its place, and its share of the seams between
    assert not re.search(r"style=|<style|<script|href=\"(?!#)", svg)


def test_greys_are_greys(desk: Asking) -> None:
    colours = set(re.findall(r"#[0-9a-fA-F]{6}", picture(desk, STARS, "grey")["svg"])) - {"#14213D"}
    assert all(colour[1:3] == colour[3:5] == colour[5:7] for colour in colours) and len(colours) >= 4


def test_the_text_on_the_page_counts_and_not_its_file(desk: Asking, folder: Path) -> None:
    (folder / "evening.setting").write_text(STARS)
    red = STARS.replace("#2f6b7e", "#aa1122")
    assert "#aa1122" in picture(desk, red)["svg"] and "#2f6b7e" not in picture(desk, red)["svg"]
    facts = desk.post("/api/quilt/facts", of(red)).json()
    assert ["sea", "#aa1122", "3/4 yd"] in facts["fabrics"]
    (folder / "evening.setting").unlink()


@pytest.mark.parametrize(
    ("line", "words"),
    [
        ("block kite ../secret.seams", "'../secret.seams' does not lie in the folder of the designs"),
        ("block kite /etc/passwd", "'/etc/passwd' does not lie in the folder"),
        ("block kite link.seams", "'link.seams' does not lie in the folder"),
        ("block kite .seamwright/x.seams", "does not lie in the folder"),
        ("block kite none.seams", "there is no block none.seams in the folder"),
    ],
)
def test_blocks_of_a_quilt_lie_in_its_folder(desk: Asking, folder: Path, line: str, words: str) -> None:
    text = f"seamwright quilt 1\n{line}\nrow kite\n"
    found = picture(desk, text)
    assert found["state"] == "unreadable" and words in found["sentence"] and "svg" not in found
    assert found["faults"][0]["line"] == 2
    asked: dict[str, dict[str, Any]] = {
        "facts": {},
        "turnings": {"blocks": [{"name": "kite"}]},
        "file": {"kind": "picture"},
    }
    for path, more in asked.items():
        answer = desk.post(f"/api/quilt/{path}", of(text, **more))
        assert answer.status_code == 422 and words in answer.json()["error"]["text"]
        assert str(folder) not in answer.text


def test_what_is_wrong_with_a_quilt_is_one_sentence_with_its_mend(desk: Asking, folder: Path) -> None:
    text = (
        new_quilt("b", "beacon", "beacon.seams", 2, 2)
        .replace("row 2", "row beacon 90,", 1)
        .replace("row beacon,", "row beacon 90,", 1)
    )
    found = picture(desk, text)
    assert found["state"] == "unreadable" and found["sentence"].startswith("This quilt cannot be laid yet: beacon")
    assert "Rotate it by 180 degrees or not at all" in found["sentence"]
    refused = desk.post("/api/quilt/facts", of(text)).json()["error"]["text"]
    assert refused.startswith("beacon"), "no line of a file that she does not read"
    stuck = desk.post("/api/quilt/facts", of(new_quilt("s", "stuck", "breakwater.seams", 2, 2)))
    assert stuck.status_code == 422
    assert "cannot be sewn" in stuck.json()["error"]["text"]
    assert "Open the block: there stands what mends it" in stuck.json()["error"]["text"]
    assert "--" not in stuck.text and "seamwright check" not in stuck.text and str(folder) not in stuck.text


def test_blocks_that_cannot_be_sewn_or_laid_are_said_once_with_what_to_do_on_the_page(desk: Asking) -> None:
    stuck = "seamwright quilt 1\nblock b breakwater.seams\nrow b, b reversed\nrow b 90, b\n"
    told = desk.post("/api/quilt/sewable", of(stuck)).json()["stuck"]
    assert told == ["Block b cannot be sewn.", "Open the block: there stands what mends it."]
    assert desk.post("/api/quilt/sewable", of(STARS)).json() == {"stuck": []}
    sizes = "seamwright quilt 1\nblock kite kite.svg\nblock wall breakwater.seams\nrow kite, wall\n"
    assert "such as 6 in as the finished size of wall" in picture(desk, sizes)["sentence"]


def test_facts_are_those_of_the_command_in_words_of_the_page(
    desk: Asking, folder: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    facts = desk.post("/api/quilt/facts", of(STARS)).json()
    (folder / "told.setting").write_text(STARS)
    assert main(["quilt", str(folder / "told.setting")]) == 0
    told = capsys.readouterr().out
    (folder / "told.setting").unlink()
    phrases = told.casefold()

    def phrase(sentence: str) -> str:
        return sentence.removesuffix(".").casefold()

    for title, lines in facts["parts"]:
        assert title in told
        assert all(phrase(line).partition(" (")[0].partition(":")[0] in phrases for line in lines)
    for fabric, _, amount in facts["fabrics"]:
        assert fabric in told and amount in told
    assert all(phrase(edge) in phrases for edge in facts["edges"])
    sentences = [*facts["edges"], *(line for _, lines in facts["parts"] for line in lines)]
    assert all(re.fullmatch(r"[^a-z].*[.?!]", sentence) for sentence in sentences)
    assert "--" not in str(facts) and "seamwright" not in str(facts)


def test_turnings_are_found_shown_and_taken(desk: Asking) -> None:
    asked = of(STARS, blocks=[{"name": "kite"}])
    found = desk.post("/api/quilt/turnings", asked).json()
    # Common practice has no table of these; Burnside's lemma, tried by the call itself, gives the count.
    assert found["count"] == len(found["layouts"]) == 23
    assert all("<svg" in layout["svg"] for layout in found["layouts"])
    rows = found["layouts"][0]["rows"]
    edits = [{"do": "pattern", "rows": rows, "across": 6, "down": 6}]
    made = desk.post("/api/quilt/edit", of(STARS, edits=edits)).json()
    assert made["view"]["stated"] == [2, 2] and made["view"]["repeat"] == [3, 3]
    assert [row[:2] for row in made["view"]["rows"][:2]] == rows
    many = desk.post("/api/quilt/turnings", {**asked, "reversed_too": True, "first": 25}).json()
    assert many["count"] == 154 and [layout["number"] for layout in many["layouts"]] == list(range(25, 49))
    assert "--" not in str(found["sentences"])


def test_two_colourways_of_a_block_are_two_blocks_by_the_quilts_own_names(desk: Asking) -> None:
    blocks = [{"name": "star"}, {"name": "star", "colourway": "night"}]
    found = desk.post("/api/quilt/turnings", of(WATCH, blocks=blocks)).json()
    laid = [one for layout in found["layouts"] for row in layout["rows"] for one in row]
    assert {(one["block"], one["colourway"]) for one in laid} == {("star", ""), ("star", "night")}
    refused = desk.post("/api/quilt/turnings", of(WATCH, blocks=[{"name": "star"}, {"name": "crest"}]))
    assert refused.status_code == 422 and "choose two blocks of one shape" in refused.json()["error"]["text"]


@pytest.mark.parametrize(
    ("kind", "form", "pages"),
    [
        ("picture", "pdf", 4),
        ("cutting", "pdf", None),
        pytest.param("foundations", "pdf", None, marks=pytest.mark.long),
        pytest.param("booklet", "pdf", None, marks=pytest.mark.long),
    ],
)
def test_files_of_the_whole_quilt_are_downloaded(desk: Asking, kind: str, form: str, pages: int | None) -> None:
    small = STARS.replace("repeat 3 x 3", "repeat 1 x 1")
    answer = desk.post("/api/quilt/file", of(small, kind=kind, form=form))
    assert answer.status_code == 200, answer.text
    assert f'filename="evening-{kind}.pdf"' in answer.headers["content-disposition"]
    read = PdfReader(io.BytesIO(answer.content))
    assert pages is None or len(read.pages) == pages
    assert "made by seamwright from [evening.setting, kite.svg]" in str(read.metadata) or kind == "foundations"
    said = unquote(answer.headers["seamwright-said"])
    assert said != "[]"
    assert ("print at 100 %" in said.lower()) == (kind in ("foundations", "booklet"))


def test_pictures_and_tables_have_their_forms(desk: Asking) -> None:
    small = STARS.replace("repeat 3 x 3", "repeat 1 x 1")
    table = desk.post("/api/quilt/file", of(small, kind="cutting", form="csv"))
    assert len(list(csv.reader(io.StringIO(table.content.decode("utf-8-sig"))))) > 5
    assert desk.post("/api/quilt/file", of(small, kind="picture", form="png")).content.startswith(b"\x89PNG")
    drawn = desk.post("/api/quilt/file", of(small, kind="picture", form="svg"))
    assert drawn.headers["content-type"].startswith("image/svg+xml") and b"<svg" in drawn.content
    refused = desk.post("/api/quilt/file", of(small, kind="booklet", form="png"))
    assert refused.status_code == 422 and "Ask for PDF" in refused.json()["error"]["text"]
