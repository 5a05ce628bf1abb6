"""Colourways: several sets of fabrics for one block, planned in one run."""

from __future__ import annotations

import json
from dataclasses import replace
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from pypdf import PdfReader

from seamwright import read_colourways
from seamwright.api import lay_out, plan, read_block
from seamwright.block.make import make_block
from seamwright.block.model import Block
from seamwright.cli import main
from seamwright.commands.asking import each_colourway
from seamwright.drawing.textform import read_seams, write_seams
from seamwright.dressing import colourways_asked
from seamwright.errors import DrawingError, OptionError
from seamwright.fabric.colourways import asked_for, dressed
from seamwright.fabric.model import Colourway, Fabric, Palette
from seamwright.report.checks import check_object

DESIGNS = Path(__file__).parent.parent / "designs"
KITE, STAR, DUSK = (str(DESIGNS / name) for name in ("kite.svg", "compass-star.seams", "dusk.palette"))
TEXT = """seamwright block 1
name flag
size 6
seam 2, 0 to 2, 6
seam 4, 0 to 4, 6
fabric sky colour #a9c9dc value light
fabric ink colour #1b2a41 value dark
fabric sand colour #d8c9a0 value light
fabric reed colour #55624a value dark
lay sky at 1, 3
lay ink at 3, 3
lay sand at 5, 3
colourway Night sky becomes ink and ink becomes sky
colourway "low tide" sky becomes ink and ink becomes sand and sand becomes reed
"""


def flag() -> Block:
    return make_block(read_seams(TEXT, name="flag", file=""))


def worn(block: Block) -> list[str | None]:
    return [patch.fabric for patch in sorted(block.patches, key=lambda p: block.points[p.ring[0]])]


@pytest.fixture
def drawing(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> str:
    monkeypatch.chdir(tmp_path)
    Path("flag.seams").write_text(TEXT)
    return "flag.seams"


# -- what a colourway does -----------------------------------------------------------------------------------


def test_swaps_and_chains_are_done_at_once() -> None:
    assert worn(flag()) == ["sky", "ink", "sand"]
    assert worn(dressed(flag(), None, "Night")) == ["ink", "sky", "sand"]
    assert worn(dressed(flag(), None, "low tide")) == ["ink", "sand", "reed"]
    # Another one begins with the drawing's own fabrics, not with what is worn.
    assert worn(dressed(dressed(flag(), None, "Night"), None, "low tide")) == ["ink", "sand", "reed"]
    assert dressed(dressed(flag(), None, "Night"), None, "") == flag()


@given(order=st.permutations(["sky", "ink", "sand", "reed"]))
@settings(max_examples=24, deadline=None)
def test_any_shuffle_of_fabrics_changes_no_shape_and_its_reverse_brings_it_back(order: list[str]) -> None:
    block, fabrics = flag(), ["sky", "ink", "sand", "reed"]
    there = Colourway("there", tuple(zip(fabrics, order, strict=True)))
    back = Colourway("back", tuple(zip(order, fabrics, strict=True)))
    one = dressed(replace(block, colourways=(there,)), None, "there")
    assert worn(one) == [dict(there.changes)[name] for name in worn(block)]
    again = dressed(replace(one, drawn=None, colourways=(back,)), None, "back")
    assert worn(again) == worn(block)
    assert (one.points, one.edges, [p.ring for p in one.patches]) == (
        block.points,
        block.edges,
        [p.ring for p in block.patches],
    )


few = st.sampled_from(["sky", "ink", "sand", "reed", "plum", "Sky "])
lines = st.builds(
    Fabric, name=few, colour=st.sampled_from([None, "#a9c9dc", "#55624a", "#6a3d5b"]), code=st.just("A")
)


@given(
    fabrics=st.lists(lines, max_size=4, unique_by=lambda f: f.name),
    changes=st.lists(st.tuples(few, few), max_size=4, unique_by=lambda pair: pair[0]),
)
@settings(max_examples=40, deadline=None)
def test_whatever_is_laid_over_a_block_its_shapes_stay_and_all_fabrics_are_known(
    fabrics: list[Fabric], changes: list[tuple[str, str]]
) -> None:
    palette = Palette("p", tuple(fabrics), (Colourway("night", tuple(changes)),) if changes else ())
    try:
        block = dressed(flag(), palette, "night")
    except DrawingError as told:
        assert "neither palette nor drawing says what fabric" in str(told)
        return
    assert set(worn(block)) <= {fabric.name for fabric in block.fabrics}
    assert (block.points, block.edges, block.seams) == (flag().points, flag().edges, flag().seams)
    codes = [fabric.code for fabric in block.fabrics if fabric.code]
    assert len(codes) == len(set(codes))
    # As text it is the drawing still, with all that it says of other sets of fabrics.
    assert write_seams(block) == write_seams(flag())
    again = make_block(read_seams(write_seams(replace(block, drawn=None)), name="", file=""))
    assert worn(again) == worn(block) and again.colourways == block.colourways


def test_a_block_that_is_shuffled_one_to_one_keeps_sections_order_and_letters() -> None:
    # All as dark as each other: where fabrics differ in value the order may follow them.
    drawn = read_block(STAR)
    drawn = replace(drawn, fabrics=tuple(Fabric(f.name, colour="#777777") for f in drawn.fabrics))
    one, other = plan(drawn), plan(dressed(drawn, None, "night"))
    assert one.sections == other.sections and one.patch_names() == other.patch_names()
    assert other.block.title == "compass star in night" and one.block.title == "compass star"


def test_a_palettes_colourway_speaks_of_the_drawings_fabrics_and_of_its_own() -> None:
    palette = Palette(
        "p.palette",
        (Fabric("mist", colour="#a9c9dc"), Fabric("plum", colour="#6a3d5b")),
        (Colourway("night", (("ink", "plum"), ("SKY", "ink"), ("rush", "plum"))),),
        (("plum", 4, 30),),
    )
    block = dressed(flag(), palette, "night")
    # Its line of that name stands in for the drawing's; sky is mist by its colour, and is still called sky here.
    assert worn(block) == ["ink", "plum", "sand"]
    assert [way.name for way in block.colourways] == ["low tide", "night"]
    assert ("mist", "ink") in block.colourways[0].changes, "the drawing's own colourways know the new name"
    assert [note.text for note in block.notes] == []
    lost = replace(palette, colourways=(Colourway("night", (("ink", "plumm"),)),), places=(("plumm", 4, 30),))
    with pytest.raises(DrawingError) as told:
        dressed(flag(), lost, "night")
    fault = told.value.faults[0]
    assert (fault.line, fault.column, told.value.drawing) == (4, 30, "p.palette")
    assert fault.mend == "Perhaps 'plum' is meant, or add a line: fabric plumm"
    # One that speaks of other blocks only changes nothing, and says so.
    other = replace(palette, colourways=(Colourway("marsh", (("rush", "plumm"),)),))
    assert "colourway marsh changes no fabric of flag" in dressed(flag(), other, "marsh").notes[0].text


# -- which are asked for -------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("text", "names"),
    [
        ("", ("",)),
        ("own", ("",)),
        ("night", ("Night",)),
        ("  LOW   tide ", ("low tide",)),
        ("low tide, Night,low tide", ("low tide", "Night")),
        ("all", ("", "Night", "low tide", "red, white")),
        ("own,night", ("", "Night")),
        ("red, white", ("red, white",)),
        (",", ("",)),
    ],
)
def test_case_and_spaces_are_forgiven_and_several_are_parted_by_commas(text: str, names: tuple[str, ...]) -> None:
    assert asked_for(text, [*flag().colourways, Colourway("red, white", ())]) == names


def test_an_unknown_name_is_told_with_the_nearest_and_a_list(
    drawing: str, capsys: pytest.CaptureFixture[str]
) -> None:
    assert main(["check", drawing, KITE, "--colourway", "nihgt"]) == 2
    told = capsys.readouterr().err
    assert "no colourway is called 'nihgt'. Perhaps 'Night' is meant. There are: Night and low tide." in told
    assert "Neither the drawing nor a palette states one" in told
    with pytest.raises(OptionError, match="Name one; read_colourways gives the block in each"):
        read_block(drawing, colourway="all")


def test_the_drawing_may_ask_for_a_colourway_and_the_call_wins(drawing: str) -> None:
    Path(drawing).write_text(TEXT + "option colourway low tide, night\n")
    assert colourways_asked(drawing) == ("low tide", "Night")
    assert colourways_asked(drawing, [("colourway", "own")]) == ("",)
    assert [block.title for block in read_colourways(drawing)] == ["flag in low tide", "flag in Night"]
    assert worn(read_block(drawing, colourway="own")) == ["sky", "ink", "sand"]
    made = plan(read_block(drawing, colourway="night"))
    assert worn(plan(made.block, colourway="low tide").block) == ["ink", "sand", "reed"]


def test_each_drawing_comes_once_for_each_colourway() -> None:
    given = [("paper", "a4"), ("palette", DUSK), ("colourway", "all")]
    jobs = each_colourway([KITE, STAR, "none.seams"], given)
    assert [(Path(d).name, dict(g).get("colourway")) for d, g in jobs] == [
        ("kite.svg", "own"), ("kite.svg", "lanterns"), ("kite.svg", "flood tide"),
        ("compass-star.seams", "own"), ("compass-star.seams", "night"), ("compass-star.seams", "lanterns"),
        ("compass-star.seams", "flood tide"), ("none.seams", "all"),
    ]  # fmt: skip
    assert all(dict(g)["paper"] == "a4" for _, g in jobs)


# -- what is told of them ------------------------------------------------------------------------------------


@pytest.mark.parametrize("option", [("--start", "Z9"), ("--pre-pieced", "A1+Z9")])
def test_a_wrong_name_of_a_patch_is_told_with_the_colourway_whose_plan_has_none_such(
    option: tuple[str, str], drawing: str, capsys: pytest.CaptureFixture[str]
) -> None:
    assert main(["check", drawing, *option, "--colourway", "own,Night"]) == 2
    own, night = capsys.readouterr().err.splitlines()
    assert f"in the drawing's own fabrics, option {option[0][2:]}: there is no patch Z9" in own
    assert f"in colourway Night, option {option[0][2:]}: there is no patch Z9" in night
    assert main(["check", drawing, *option]) == 2
    assert f"flag.seams: option {option[0][2:]}: there is no patch Z9" in capsys.readouterr().err


def test_check_tells_which_colourway_in_words_data_and_pictures(
    drawing: str, capsys: pytest.CaptureFixture[str]
) -> None:
    assert main(["check", drawing, "--colourway", "all", "--picture", "flag.svg"]) == 0
    told = capsys.readouterr().out
    for words in ("flag.seams: flag, 6 x 6 in.", "flag in Night, 6 x 6 in.", "flag in low tide, 6 x 6 in."):
        assert words in told
    for name, title in (("flag", "flag"), ("flag-Night", "flag in Night"), ("flag-low-tide", "flag in low tide")):
        assert f"<title>{title}</title>" in Path(f"{name}.svg").read_text()
    assert main(["check", drawing, "--colourway", "all", "--json"]) == 0
    found = json.loads(capsys.readouterr().out)
    assert [one["block"]["colourway"] for one in found] == [None, "Night", "low tide"]
    assert [[f["name"] for f in one["fabrics"]] for one in found] == [
        ["sky", "ink", "sand"],
        ["sky", "ink", "sand"],
        ["ink", "sand", "reed"],
    ]
    assert len({one["plan"]["id"] for one in found}) == 3
    assert [one["plan"]["options"].get("colourway") for one in found] == [None, "Night", "low tide"]
    for one, block in zip(found, read_colourways(drawing, colourway="all"), strict=True):
        assert one == check_object(drawing, plan(block)), "letters and order are those of that plan anywhere"


def test_a_rehearsal_is_of_one_colourway_and_mends_are_of_the_drawing(
    drawing: str, capsys: pytest.CaptureFixture[str]
) -> None:
    assert main(["check", drawing, "--colourway", "all", "--rehearse", "steps"]) == 2
    assert "--rehearse sews one colourway, but 3 are asked for" in capsys.readouterr().err
    stuck = (
        DESIGNS / "breakwater.seams"
    ).read_text() + "colourway storm sea becomes fog\noption colourway storm, own\n"
    Path("stuck.seams").write_text(stuck)
    assert main(["check", "stuck.seams", "--mend", "1", "-o", "mended.seams"]) == 0
    mended = Path("mended.seams").read_text()
    assert "option colourway storm, own" in mended and "lay sea" in mended
    assert [block.title for block in read_colourways("mended.seams")] == ["breakwater in storm", "breakwater"]


def test_prints_in_several_colourways_share_a_file_and_each_says_its_own(
    drawing: str, capsys: pytest.CaptureFixture[str]
) -> None:
    asked = ["foundations", drawing, "--colourway", "own,night", "-o", "flag.pdf", "--json"]
    assert main(asked) == 0
    data = json.loads(capsys.readouterr().out)
    assert [one["colourway"] for one in data["plans"]] == [None, "Night"]
    counts = {(p["colourway"], p["label"]): (p["times"], p["times_in_file"]) for p in data["prints"]}
    assert counts == {(None, "A"): (1, 1), ("Night", "A"): (1, 1)}
    assert {f["colourway"] for sheet in data["sheets"] for f in sheet["foundations"]} == {None, "Night"}
    words = "".join(page.extract_text() for page in PdfReader("flag.pdf").pages)
    assert "flag in Night, 6 x 6 in" in words and "flag, 6 x 6 in" in words
    assert main([*asked[:-1], "--force"]) == 0
    told = capsys.readouterr().out
    assert "flag in Night, 6 x 6 in finished" in told and "flag, 6 x 6 in finished" in told


def test_files_for_machines_are_told_apart_by_their_colourways(drawing: str) -> None:
    assert main(["foundations", drawing, "--colourway", "all", "--files", "out"]) == 0
    assert sorted(path.name for path in Path("out").glob("*.svg")) == [
        "flag-A.svg",
        "flag-in-Night-A.svg",
        "flag-in-low-tide-A.svg",
    ]


def test_a_sheet_names_a_palette_without_its_folder() -> None:
    sheets = lay_out(plan(read_block(KITE, palette=DUSK, colourway="lanterns")))
    said = " ".join(mark.text for sheet in sheets for mark in sheet.ink if hasattr(mark, "text"))
    assert "palette dusk.palette" in said and str(DESIGNS) not in said
    assert "kite in lanterns" in said
