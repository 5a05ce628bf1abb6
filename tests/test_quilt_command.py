"""`seamwright quilt`: its words and data against each other, and its counts against all spots of the quilt."""

from __future__ import annotations

import json
import re
import shutil
from collections import Counter
from pathlib import Path

import pytest
import shapely

import seamwright
from seamwright.cli import main
from seamwright.cutting import search

DESIGNS = Path(__file__).parent.parent / "designs"
QUILTS = sorted(path.name for path in DESIGNS.glob("*.setting"))
SMALL = """seamwright quilt 1
name small watch
block kite kite.svg size 6 in
block shoal shoal.seams size 6 in
row kite, kite 90 reversed, shoal
row plain sea, kite 180, kite reversed
repeat 1 x 2
border 2 in ink
fabric sea colour #2f6b7e
fabric ink colour #14213d
"""
TINY = """seamwright quilt 1
name tiny watch
block kite kite.svg size 6 in
row kite, kite 90
"""


@pytest.fixture(autouse=True)
def _looked_for_less_long(monkeypatch: pytest.MonkeyPatch) -> None:
    """Lists are true at every effort."""
    monkeypatch.setattr(search, "EFFORT", 3_000)


@pytest.fixture
def small(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    for name in ("kite.svg", "shoal.seams", "breakwater.seams"):
        shutil.copy(DESIGNS / name, tmp_path)
    (tmp_path / "small.setting").write_text(SMALL)
    (tmp_path / "tiny.setting").write_text(TINY)
    monkeypatch.chdir(tmp_path)
    return tmp_path


def told(capsys: pytest.CaptureFixture[str], *words: str) -> str:
    assert main(["quilt", *words]) == 0
    return capsys.readouterr().out


def data(capsys: pytest.CaptureFixture[str], *words: str) -> dict:
    return json.loads(told(capsys, *words, "--json"))


def test_counts_are_those_of_all_spots(small, capsys) -> None:
    """By brute force: every block of the rows as stated, every section of every block."""
    found = data(capsys, "small.setting")
    assert (found["width_in"], found["height_in"]) == (22, 28)
    lie = Counter(
        (b["drawing"], b["rotated_deg"], b["reversed"]) for b in found["blocks"] for _ in range(b["count"])
    )
    assert lie == {
        ("kite.svg@6in", 0, False): 2,
        ("kite.svg@6in", 90, True): 2,
        ("shoal.seams@6in", 0, False): 2,
        ("kite.svg@6in", 180, False): 2,
        ("kite.svg@6in", 0, True): 2,
    }
    assert lie == Counter(
        (found["looks"][s["look"]]["drawing"], s["rotated_deg"], found["looks"][s["look"]]["reversed"])
        for s in found["spots"]
    )
    needed: Counter[tuple[str, str, bool]] = Counter()
    for spot in found["spots"]:
        look = found["looks"][spot["look"]]
        plan = seamwright.plan(seamwright.read_block(small / look["drawing"].split("@")[0], size="6in"))
        for section in plan.sections:
            if section.kind == "foundation":
                needed[look["drawing"], section.print, section.reversed != look["reversed"]] += 1
    printed = {(f["drawing"], f["print"], f["reversed"]): f["count"] for f in found["foundations"]}
    assert printed == needed


def test_areas_of_the_data_come_to_the_quilt(small, capsys) -> None:
    found = data(capsys, "small.setting")
    assert sum(shapely.Polygon(c["outline_in"]).area for c in found["cloths"]) == pytest.approx(22 * 28 - 10 * 36)
    assert found["balance"]["area_in2"] == pytest.approx(22 * 28)
    assert sum(each["area_in2"] for each in found["balance"]["areas_in2"]) == pytest.approx(22 * 28)
    assert sum(grey["share"] for grey in found["balance"]["greys"]) == pytest.approx(1)


def test_words_tell_what_the_data_hold(small, capsys) -> None:
    words, found = told(capsys, "small.setting"), data(capsys, "small.setting")
    assert words.startswith("small.setting: small watch, 22 x 28 in finished.")
    for fabric in found["fabrics"]:
        assert fabric["name"] in words
    for note in (*found["notes"], *found["advice"]):
        assert note["text"] in words
    binding = next(extra for extra in found["extras"] if extra["for"] == "binding")
    assert f"{binding['strips']} strips 2 1/2 in wide" in words
    # Perimeter and 12 in over strips of 40 in, a strip's width lost at each joint (common practice).
    assert binding["needed_in"] == 2 * (22 + 28) + 12
    assert binding["strips"] == 3
    for count in found["foundations"]:
        letter = count["print"] + "r" * count["reversed"]
        assert f"{letter} {count['count']} times" in words
    assert len(words.splitlines()) <= 40


def test_metric_words_and_data_stand_beside_the_inches(small, capsys) -> None:
    found = data(capsys, "small.setting", "--units", "metric")
    assert found["width_cm"] == pytest.approx(22 * 2.54)
    assert all("metres" in fabric for fabric in found["fabrics"])
    assert "55.9 x 71.1 cm finished" in told(capsys, "small.setting", "--units", "metric")


def test_several_quilts_are_told_one_after_the_other(small, capsys) -> None:
    (small / "second.setting").write_text(TINY.replace("tiny watch", "second watch"))
    words = told(capsys, "tiny.setting", "second.setting")
    assert "tiny watch" in words
    assert "second watch" in words
    found = data(capsys, "tiny.setting", "second.setting")
    assert [quilt["name"] for quilt in found["quilts"]] == ["tiny watch", "second watch"]


def test_a_block_that_cannot_be_sewn_ends_with_1_and_the_others_are_told(small, capsys) -> None:
    (small / "stuck.setting").write_text(SMALL.replace("shoal.seams", "breakwater.seams"))
    assert main(["quilt", "stuck.setting", "tiny.setting"]) == 1
    out, err = capsys.readouterr()
    assert "cannot be sewn" in err
    assert "tiny watch" in out
    assert main(["quilt", "stuck.setting", "--json"]) == 1
    assert json.loads(capsys.readouterr().out)["error"]["code"] == "stuck"


@pytest.mark.parametrize(
    ("words", "said"),
    [
        ([], "which quilt?"),
        (["kite.svg"], "kite.svg is no quilt"),
        (["missing.setting"], "missing.setting"),
        (["small"], "small: there is no such file. Perhaps small.setting is meant."),
        (["quay"], "quay: there is no such file. Check the name"),
        (["small.setting", "-o", ""], "where should the picture go"),
        (["small.setting", "-o", "quilt.txt"], "no form that is known"),
        (["small.setting", "small.setting", "-o", "quilt.svg"], "one at a time"),
        (["small.setting", "--size", "8in"], "sizes of its blocks stand in its block lines"),
    ],
)
def test_a_slip_is_told_with_its_mend_and_ends_with_2(small, capsys, words, said) -> None:
    assert main(["quilt", *words]) == 2
    assert said in capsys.readouterr().err
    assert not list(small.glob("quilt.*"))


def test_a_fault_in_the_file_is_told_with_its_place(small, capsys) -> None:
    (small / "wrong.setting").write_text(SMALL.replace("kite 180", "kyte 180"))
    assert main(["quilt", "wrong.setting"]) == 2
    assert "line 6" in capsys.readouterr().err


def test_its_picture_is_written_again_and_never_over_what_is_not_ours(small, capsys) -> None:
    assert "Picture: quilt.svg" in told(capsys, "tiny.setting", "-o", "quilt.svg")
    first = (small / "quilt.svg").read_bytes()
    told(capsys, "tiny.setting", "-o", "quilt.svg")
    assert (small / "quilt.svg").read_bytes() == first
    (small / "quilt.svg").write_text("mine")
    assert main(["quilt", "tiny.setting", "-o", "quilt.svg"]) == 2
    assert (small / "quilt.svg").read_text() == "mine"
    told(capsys, "tiny.setting", "-o", "quilt.svg", "--force")


def test_its_picture_comes_as_pages_too(small, capsys) -> None:
    told(capsys, "tiny.setting", "-o", "quilt.pdf")
    assert (small / "quilt.pdf").read_bytes().startswith(b"%PDF")


@pytest.mark.long
@pytest.mark.parametrize("name", QUILTS)
def test_every_quilt_that_comes_with_the_project_can_be_made(name, capsys) -> None:
    found = data(capsys, str(DESIGNS / name))
    assert found["balance"]["area_in2"] == pytest.approx(found["width_in"] * found["height_in"])
    assert not found["misses"]


def test_one_block_is_turned_into_four_quilts() -> None:
    turned = {name: (DESIGNS / name).read_text() for name in QUILTS if name.startswith("kites-")}
    assert len(turned) == 4
    lines = [text.splitlines() for text in turned.values()]
    assert len({tuple(line for line in each if line.startswith(("row", "repeat"))) for each in lines}) == 4
    assert {line for each in lines for line in each if line.startswith("block")} == {
        "block kite kite.svg size 7 in"
    }


ON_POINT = """seamwright quilt 1
name deep watch
option units metric
block kite kite.svg size 15 cm
set on point
row 2 kite
triangles sea
sashing 3 cm foam cornerstones brass
border coping foam at least 2 cm
border of kite corners plain brass
fabric sea colour #2f6b7e direction 0
"""


def test_several_of_a_piece_are_told_as_such_and_lengths_in_the_units_of_the_quilt(small, capsys) -> None:
    (small / "deep.setting").write_text(ON_POINT)
    words = told(capsys, "deep.setting")
    cut = re.search(r"  Cut plain, with seam allowances:\n((?:    .*\n)+)", words)[1]
    found = data(capsys, "deep.setting")["cloths"]
    for role, several in (
        ("side triangle", "side triangles of sea"),
        ("sash", "sashes of foam"),
        ("half cornerstone", "half cornerstones of brass"),
        ("border corner", "corners (border 2) of brass"),
    ):
        counted = sum(int(part.split()[-1]) for part in cut.split(f" {several}")[:-1])
        assert counted == sum(cloth["role"] == role for cloth in found), role
    # Side triangles come of a square cut twice, corner triangles of one cut once (common practice).
    assert all("cut twice" in part for part in cut.splitlines() if "side triangle" in part)
    assert all("cut once" in part for part in cut.splitlines() if "corner triangle" in part)
    assert main(["check", "deep.setting"]) == 0
    first = capsys.readouterr().out.splitlines()[0]
    assert first.startswith("deep.setting: deep watch, ") and " cm, " in first


def test_a_block_that_cannot_have_its_size_is_told_in_the_units_of_the_quilt(small, capsys) -> None:
    (small / "wide.setting").write_text(ON_POINT.replace("size 15 cm", "size 15 x 20 cm"))
    assert main(["quilt", "wide.setting"]) == 2
    told = capsys.readouterr().err
    assert "at 15 cm wide the block is 15 cm high, not 20 cm" in told and "size 15 cm" in told


def test_fabrics_of_a_quilt_are_told_block_by_block_and_where_the_whole_is_told(small, capsys) -> None:
    assert main(["fabrics", "small.setting"]) == 0
    first, *_, last = capsys.readouterr().out.splitlines()
    assert first.startswith("small.setting: small watch, 22 x 28 in, ")
    assert last.endswith("seamwright quilt small.setting")
    assert main(["fabrics", "small.setting", "--json"]) == 0
    assert json.loads(capsys.readouterr().out)


def test_sashes_longer_than_the_fabric_is_wide_are_told_too(small, capsys) -> None:
    rows = "block kite kite.svg size 8 in\nrow 6 kite\nrow 6 kite\nsashing 1 1/2 in foam\n"
    (small / "long.setting").write_text(f"seamwright quilt 1\n{rows}")
    # 6 blocks of 8 in and 5 sashes of 1 1/2 in are 55 1/2 in, and 1/2 in of allowances; a block's sash is 8 1/2 in.
    words = told(capsys, "long.setting")
    assert "    1 sash of foam, 56 x 2 in, joined of strips.\n" in words
    assert "    10 sashes of foam, 8 1/2 x 2 in.\n" in words


def test_help_leaves_out_what_a_quilt_says_in_its_rows(capsys) -> None:
    assert main(["quilt", "--help"]) == 0
    shown = capsys.readouterr().out
    assert "--allowance" in shown and ".setting file can hold too" in shown
    assert not any(f"\n  --{name}" in shown for name in ("size", "stretch", "colourway", "reversed", "blocks"))
