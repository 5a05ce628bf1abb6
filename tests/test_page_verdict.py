"""The verdict and the mends that the page is given: the same findings as the command's, in the page's words."""

from __future__ import annotations

import re
from functools import cache
from pathlib import Path
from typing import Any

import pytest
from shapely.geometry import Point as Dot
from shapely.geometry import Polygon, box

from seamwright.api import outcome, read_block
from seamwright.drawing.textform import stated, write_seams
from seamwright.ink.lettering import width_pt
from seamwright.offered import OPTION_NAMES
from seamwright.page.verdicts import what_is_sewn
from seamwright.page.verdicttasks import mends_for, verdict_on
from seamwright.page.workers import Workers
from seamwright.report.checks import check_object
from seamwright.sketch.change import changed
from seamwright.sketch.edits import SetOption
from seamwright.words.onpage import LABELS, on_page
from support.asking import asking
from support.browser import DESIGNS

HEAD = "seamwright block 1\nname dock\nsize 8 in\ngrid 8\n"
OPEN = "seam 0, 0 to 8, 8\nseam 4, 4 to 6, 5\n"
CUT = "seam 0, 0 to 8, 8\n"
FLOATING = "seam 2, 2 to 6, 2 to 6, 6 to 2, 6 to 2, 2\n"
"""A square in the middle that no seam reaches: neither straight nor turned seams can sew it."""
CAN = ("beacon.seams", "compass-star.seams", "harbour-lights.seams", "tide-chart.seams", "lamp.seams")
RINGS = "seamwright block 1\nname two rings\nsize 16 x 8 in\ngrid 16 x 8\nseam 8, 0 to 8, 8\n" + "".join(
    f"seam {x + a}, {b} to {x + c}, {d}\n"
    for x in (0, 8)
    for a, b, c, d in ((0, 3, 5, 3), (5, 0, 5, 5), (8, 5, 3, 5), (3, 8, 3, 3))
)
"""Two places that are stuck, each a ring of four seams."""
CANNOT = ("breakwater.seams", "sea-urchin.svg", "floating", "rings")
COMMANDS = re.compile(r"--[a-z]|seamwright (?!block)[a-z]|\.svg\b")


@cache
def text_of(name: str) -> str:
    if name.endswith(".svg"):
        return write_seams(read_block(DESIGNS / name))
    made = {"floating": HEAD + FLOATING, "rings": RINGS}
    return made[name] if name in made else (DESIGNS / name).read_text()


@cache
def found(name: str) -> dict[str, Any]:
    return verdict_on(name, text_of(name), ())


@cache
def mended(name: str) -> dict[str, Any]:
    return mends_for(name, text_of(name), ())


# -- found once --------------------------------------------------------------------------------------------------

PRINTED = {
    "copies": "12",
    "tints": "yes",
    "footer": "Harbour class",
    "spare": "20",
    "students": "9",
    "stack": "yes",
}


@pytest.mark.parametrize("name", ["lamp.seams", "breakwater.seams"])
def test_what_sheets_and_lists_are_asked_for_changes_no_verdict(name: str) -> None:
    text = text_of(name)
    asked = changed(text, [SetOption(option, value) for option, value in PRINTED.items()])
    assert asked != text and what_is_sewn(asked) == text.rstrip()
    assert verdict_on(name, asked, ()) == found(name)


@pytest.mark.parametrize(
    "line",
    [
        pytest.param("option paper a4", id="of the plan"),
        pytest.param("option copies none", id="no value"),
        pytest.param("option copies 3\noption copies 4", id="said twice"),
        pytest.param("opton copies 3", id="no option"),
    ],
)
def test_what_the_verdict_speaks_of_is_asked_anew(line: str) -> None:
    assert what_is_sewn(f"{HEAD}{CUT}{line}\n") == f"{HEAD}{CUT}{line}"


def test_a_verdict_is_found_once_and_one_that_rests_on_a_palette_again(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    begun = []

    async def run(self: Workers, work: Any, path: str, text: str, *more: Any, limit_s: float) -> dict[str, Any]:
        begun.append(text)
        return verdict_on(path, text, ())

    monkeypatch.setattr(Workers, "run", run)
    (tmp_path / "dusk.palette").write_text((DESIGNS / "dusk.palette").read_text())
    with asking(tmp_path) as inside:
        for text in (HEAD + CUT, HEAD + CUT + "option copies 3\n", HEAD + CUT + "option copies 4\n"):
            assert inside.post("/api/verdict", {"name": "dock.seams", "text": text}).json()["state"] == "can"
        assert len(begun) == 1
        for _ in range(2):
            asked = {"name": "dock.seams", "text": HEAD + CUT + "option palette dusk.palette\n"}
            assert inside.post("/api/verdict", asked).json()["state"] == "can"
        assert len(begun) == 3


# -- the sentence ------------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("lines", "state", "sentence"),
    [
        ("", "empty", "Nothing is drawn yet: draw the first seam from one edge to another."),
        (CUT, "can", "Can be sewn: 2 plain pieces from 1 print."),
        (OPEN, "unfinished", "Not finished yet: a line still ends in the open."),
        (f"{OPEN}seam 1, 7 to 2, 7\n", "unfinished", "Not finished yet: 3 ends still lie in the open."),
        (FLOATING, "cannot", "Cannot be sewn with straight full seams: stuck in 1 place."),
        (f"{CUT}sem 0, 4 to 8, 4\n", "unreadable", "Cannot be read as it stands: line 6: 'sem' is no keyword."),
    ],
)
def test_every_state_has_its_sentence(lines: str, state: str, sentence: str) -> None:
    told = verdict_on("dock.seams", HEAD + lines, ())
    assert (told["state"], told["sentence"]) == (state, sentence)


def test_an_open_end_is_told_quietly_with_its_place_and_no_number_of_a_line() -> None:
    (fault,) = verdict_on("dock.seams", HEAD + OPEN, ())["error"]["faults"]
    assert fault["at_in"] == (6.0, 5.0)
    assert fault["text"].startswith("A line ends in the open at (6, 5) in")
    assert "sewn" not in fault["text"]


def test_a_line_that_cannot_be_read_is_shown_as_it_stands() -> None:
    (fault,) = verdict_on("dock.seams", f"{HEAD}{CUT}  sem 0, 4 to 8, 4\n", ())["error"]["faults"]
    assert (fault["line"], fault["source"]) == (6, "  sem 0, 4 to 8, 4")


def test_a_fault_of_ours_is_no_fault_of_the_drawing(monkeypatch: pytest.MonkeyPatch) -> None:
    def broken(*_: object) -> None:
        raise ZeroDivisionError("planted")

    monkeypatch.setattr("seamwright.proof.checker.check", broken)
    told = verdict_on("dock.seams", HEAD + CUT, ())
    assert told["state"] == "unproven"
    assert told["sentence"].startswith("No verdict: something went wrong inside seamwright")


@pytest.mark.parametrize("name", [*CAN, *CANNOT])
def test_facts_are_those_of_the_command(name: str) -> None:
    plan = outcome(name, source=text_of(name).encode()).plan
    here, told = found(name), check_object(name, plan)
    for key in ("block", "plan", "sections", "prints", "joins", "obstructions", "fewest", "pieceable", "sewable"):
        assert here[key] == told[key], key
    assert [patch["name"] for patch in here["patches"]] == [patch["name"] for patch in told["patches"]]
    assert here["counts"]["patches"] == len(told["patches"])
    assert here["counts"]["sections"] == len(told["sections"])
    assert here["counts"]["points_to_match"] == told["points_to_match"]


def test_options_that_the_drawing_holds_count_and_those_of_the_question_win() -> None:
    text = text_of("beacon.seams")
    many = verdict_on("beacon.seams", text, ())["counts"]["sections"]
    held = verdict_on("beacon.seams", f"{text}option max-patches 2\n", ())
    assert held["counts"]["sections"] > many
    assert held["plan"]["options"]["max-patches"] == "2"
    asked = verdict_on("beacon.seams", f"{text}option max-patches 2\n", (("max-patches", "100"),))
    assert asked["counts"]["sections"] == many


# -- words -------------------------------------------------------------------------------------------------------


def strings_in(value: object) -> list[str]:
    if isinstance(value, dict):
        return [text for key, inner in value.items() if key != "drawing" for text in strings_in(inner)]
    if isinstance(value, (list, tuple)):
        return [text for inner in value for text in strings_in(inner)]
    return [value] if isinstance(value, str) else []


@pytest.mark.parametrize("name", [*CAN, *CANNOT])
@pytest.mark.parametrize("options", ["", "option rotary auto\noption max-patches 3\n", "option steps 1\n"])
def test_no_words_of_the_command_line_reach_the_page(name: str, options: str) -> None:
    told = verdict_on(name, text_of(name) + options, ())
    shown = ("sentence", "proven", "lines", "stuck", "notes", "turn_words")
    for text in strings_in([told[key] for key in shown]):
        assert not COMMANDS.search(text), text


@pytest.mark.parametrize("name", CANNOT)
def test_nor_with_its_mends(name: str) -> None:
    for text in strings_in(mended(name)["mends"] + mended(name)["notes"]):
        assert not COMMANDS.search(text), text


def test_a_search_that_ended_says_what_to_press() -> None:
    told = verdict_on("harbour-lights.seams", text_of("harbour-lights.seams") + "option steps 1\n", ())
    assert any('"Search longer" in Check may find' in text for text in strings_in([told["proven"], told["notes"]]))


@pytest.mark.parametrize("option", OPTION_NAMES)
def test_every_option_has_a_name_and_a_part_of_the_work_on_the_page(option: str) -> None:
    part, label = LABELS[option]
    assert part in ("Draw", "Check", "Colour", "Cut", "Print")
    assert on_page(f"use --{option} here") == f'use "{label}" in {part} here'


def test_options_in_check_are_offered_there_by_their_names() -> None:
    """What a sentence sends her to must be there: as a field, or by a button of Check."""
    from seamwright.page.choices import FIELDS

    files = Path(verdict_on.__code__.co_filename).parent / "files"
    buttons = "".join((files / name).read_text() for name in ("check.js", "sewn.js"))
    offered = {field.option for field in FIELDS if field.where == "check"}
    for option, (part, label) in LABELS.items():
        if part == "Check":
            assert option in offered or f'button("{label}"' in buttons, option


# -- what the drawing shows ---------------------------------------------------------------------------------------


@pytest.mark.parametrize("name", [*CAN, *CANNOT])
def test_names_lie_in_their_patches_and_clear_of_its_lines(name: str) -> None:
    told = found(name)
    unit = max(told["block"]["width_in"], told["block"]["height_in"]) / 7.5
    named = [patch for patch in told["patches"] if patch["name_at"]]
    assert len(named) > len(told["patches"]) / 2
    for patch in named:
        area = Polygon(patch["outline_in"], patch["holes_in"])
        (x, y), size = patch["name_at"], patch["name_size"]
        wide, high = width_pt(patch["name"], size / unit * 72) / 72 * unit, 0.7 * size
        assert area.contains(box(x - wide / 2, y - high / 2, x + wide / 2, y + high / 2)), patch["name"]


@pytest.mark.parametrize("name", CAN)
def test_patches_of_a_section_have_its_tint_and_neighbours_another(name: str) -> None:
    told = found(name)
    tints: dict[str, set[str]] = {}
    for patch in told["patches"]:
        tints.setdefault(patch["section"], set()).add(patch["colour"])
    assert all(len(colours) == 1 for colours in tints.values())
    areas = {section["name"]: Polygon(section["outline_in"]) for section in told["sections"]}
    for one, area in areas.items():
        for other, beside in areas.items():
            if one != other and area.intersection(beside).length > 1e-6:
                assert tints[one] != tints[other], (one, other)


@pytest.mark.parametrize("name", CANNOT)
def test_what_is_stuck_is_marked_on_its_patches_with_its_sentence(name: str) -> None:
    told = found(name)
    areas = {patch["name"]: Polygon(patch["outline_in"], patch["holes_in"]) for patch in told["patches"]}
    assert [one["number"] for one in told["stuck"]] == [one["number"] for one in told["obstructions"]]
    for mark, obstruction in zip(told["stuck"], told["obstructions"], strict=True):
        assert mark["why"].startswith(obstruction["why"])
        assert mark["lines_in"] or mark["spots_in"]
        marked = [at for line in mark["lines_in"] for at in line] + mark["spots_in"]
        for at in marked:
            assert min(areas[patch].distance(Dot(at)) for patch in obstruction["patches"]) < 1e-3


# -- mends -------------------------------------------------------------------------------------------------------


def remarks(text: str) -> list[str]:
    return [line.strip() for line in text.splitlines() if line.strip().startswith("#")]


@pytest.mark.parametrize("name", CANNOT)
def test_a_mend_comes_with_a_text_in_which_fewer_places_are_stuck(name: str) -> None:
    stuck = len(found(name)["obstructions"])
    assert mended(name)["mends"]
    for mend in mended(name)["mends"]:
        after = verdict_on(name, mend["drawing"], ())
        assert len(after["obstructions"]) < stuck
        assert after["state"] == ("can" if stuck == 1 else "cannot")


@pytest.mark.parametrize("name", CANNOT)
def test_a_mend_keeps_remarks_and_fabrics_and_signs_nothing(name: str) -> None:
    was = text_of(name)
    facts = stated(was, name="", file="")[0]
    for mend in mended(name)["mends"]:
        text = mend["drawing"]
        assert remarks(text) == remarks(was)
        assert "made by" not in text
        now = stated(text, name="", file="")[0]
        assert now.fabrics == facts.fabrics
        assert {fabric for fabric, *_ in now.laid} == {fabric for fabric, *_ in facts.laid}


def test_lines_of_a_mend_are_what_its_text_draws_anew() -> None:
    (mend,) = mended("breakwater.seams")["mends"]
    assert mend["old_in"] == []
    ((start, end),) = mend["new_in"]
    assert {tuple(start), tuple(end)} == {(3.0, 3.0), (3.0, 1.2)}
    assert "seam 6, 16 to 6, 2.4" in mend["drawing"]


def test_seams_that_turn_are_offered_where_they_help() -> None:
    assert found("breakwater.seams")["may_set_in"]
    assert not verdict_on("dock.seams", HEAD + FLOATING, ())["may_set_in"]
    turned = verdict_on("breakwater.seams", text_of("breakwater.seams") + "option set-in yes\n", ())
    assert turned["state"] == "can"
    assert turned["is_set_in"]
    assert not turned["may_set_in"]
    assert [turn["join"] for turn in turned["turns"]] == [2]


def test_what_can_be_sewn_has_no_mends() -> None:
    assert mends_for("beacon.seams", text_of("beacon.seams"), ()) == {"mends": [], "notes": []}
    assert mends_for("dock.seams", HEAD, ()) == {"mends": [], "notes": []}
