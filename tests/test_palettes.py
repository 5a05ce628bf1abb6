"""Palettes: fabrics that recolour a block without touching its drawing."""

from __future__ import annotations

import contextlib
import json
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from seamwright.api import plan, read_block
from seamwright.block.model import Block
from seamwright.cli import main
from seamwright.drawing.palette import palette_of, write_palette
from seamwright.drawing.textform import read_seams, write_seams
from seamwright.errors import DrawingError, FileError
from seamwright.fabric.colourways import dressed
from seamwright.fabric.model import Colourway, Fabric, Palette, Value
from seamwright.mending import mends as mends_of
from seamwright.mending import write_mended

ROOT = Path(__file__).parent.parent
KITE, DUSK = ROOT / "designs" / "kite.svg", ROOT / "designs" / "dusk.palette"
HEAD = "seamwright palette 1\n"
FILLED = """<svg xmlns="http://www.w3.org/2000/svg" width="6in" height="4in" viewBox="0 0 6 4">
<rect width="2" height="4" fill="#a9c9dc"/><rect x="2" width="2" height="4" fill="#1b2a41"/>
<rect x="4" width="2" height="4" fill="#f4f1ea"/>{words}</svg>"""


def palette(text: str, file: str = "some.palette") -> Palette:
    return palette_of((HEAD + text).encode(), file)


def filled(tmp_path: Path, words: str = "") -> Path:
    path = tmp_path / "stripes.svg"
    path.write_text(FILLED.format(words=words))
    return path


def worn(block: Block) -> list[str | None]:
    return [patch.fabric for patch in block.patches]


def known(block: Block, name: str) -> Fabric:
    return next(fabric for fabric in block.fabrics if fabric.name == name)


# -- the file ------------------------------------------------------------------------------------------------


def test_a_palette_is_fabric_and_colourway_lines_under_its_own_first_line() -> None:
    read = palette("# dusk\nfabric sky colour navy value dark stripes 45\ncolourway night sky becomes ink\n")
    # W3C CSS Color Module Level 3, section 4.3: navy is #000080
    assert read.fabrics == (Fabric("sky", "", "#000080", Value.DARK, direction_deg=45.0, striped=True),)
    assert read.colourways == (Colourway("night", (("sky", "ink"),)),)


names = st.text("abxyz ÄØ'\"#,1", min_size=1, max_size=12).map(lambda t: " ".join(t.split())).filter(bool)
fabrics = st.builds(
    Fabric,
    name=names,
    colour=st.none() | st.integers(0, 0xFFFFFF).map("#{:06x}".format),
    value=st.none() | st.sampled_from(Value),
    warmth=st.sampled_from(["", "warm", "cool"]),
    direction_deg=st.none() | st.floats(-360, 360),
    width_in=st.none() | st.floats(1, 200),
)


@given(some=st.lists(fabrics, min_size=1, max_size=4, unique_by=lambda f: f.name), swap=st.booleans())
@settings(max_examples=60, deadline=None)
def test_what_is_written_reads_back_and_is_written_the_same(some: list[Fabric], swap: bool) -> None:
    ways = (Colourway("all at sea", ((some[0].name, some[-1].name), ("reed", "rush"))),) if swap else ()
    text = write_palette(Palette("p", tuple(some), ways))
    again = palette_of(text.encode(), "p")
    assert (list(again.fabrics), again.colourways) == (some, ways)
    assert write_palette(again) == text


@pytest.mark.parametrize("name", ["dusk.palette"])
def test_the_palettes_that_come_with_the_project_read(name: str) -> None:
    data = (ROOT / "designs" / name).read_bytes()
    read = palette_of(data, name)
    assert palette_of(write_palette(read).encode(), name).fabrics == read.fabrics


def test_all_faults_of_a_palette_are_told_at_once_with_line_column_and_mend() -> None:
    with pytest.raises(DrawingError) as told:
        palette(
            "fabric sky colour blu\nfabricc sea\nfabric sky\nseam 0, 0 to 1, 1\ncolourway all sky becomes sea\n"
        )
    faults = [(f.line, f.column, f.what) for f in told.value.faults]
    assert faults == [
        (2, 19, "a colour should stand here"),
        (3, 1, "'fabricc' is no keyword"),
        (5, 1, "'seam' is no keyword"),
        (6, 11, "'all' means all colourways"),
    ]
    assert all(fault.mend for fault in told.value.faults)
    assert told.value.faults[1].mend == "Perhaps 'fabric' is meant"


@pytest.mark.parametrize(
    ("data", "told"),
    [
        (b"", "the file is empty"),
        (b"\n\n", "the file is empty"),
        (b"# remark only\n", "the file is empty"),
        (b"\x89PNG\r\n\x1a\n\0\0\0", "this is no text"),
        (b"seamwright palette 1\nfabric \xff\n", "the palette is not in UTF-8"),
        ("seamwright palette 1\nfabric sky\n".encode("utf-16"), "the palette is not in UTF-8"),
        (b"<?xml version='1.0'?><svg/>", "this is a drawing (SVG), not a palette"),
        (b"seamwright block 1\nsize 8\n", "this is the drawing of a block, not a palette"),
        (b"seamwright quilt 2\n", "form 2 of the text is not known"),
        (b"seamwright palette 2\n", "form 2 of the text is not known"),
        (b"fabric sky\n", "the first line is 'fabric sky'"),
        (b"seamwright palette 1\n# nothing\n", "the palette names no fabrics"),
        (b"seamwright palette 1\nfabric sky\nfabric sky\n", "fabric 'sky' stands in line 2 too"),
        (b"seamwright palette 1\nfabric " + b"x" * 500, "the name is 500 characters long"),
        (b'seamwright palette 1\ncolourway "' + b"x" * 41 + b'" a becomes b', "the name is 41 characters long"),
        (b"seamwright palette 1\ncolourway n a becomes b and a becomes c", "'a' changes a second time"),
    ],
)
def test_what_is_no_palette_is_told_in_words(data: bytes, told: str) -> None:
    with pytest.raises(DrawingError) as error:
        palette_of(data, "wrong.palette")
    assert told in str(error.value) and "wrong.palette" in str(error.value)


@given(data=st.binary(max_size=200), headed=st.booleans())
@settings(max_examples=150, deadline=None)
def test_any_bytes_are_a_palette_or_a_fault(data: bytes, headed: bool) -> None:
    with contextlib.suppress(DrawingError):
        palette_of(HEAD.encode() * headed + data, "p")


def test_a_file_of_too_many_fabrics_or_colourways_is_told_and_takes_no_time() -> None:
    many = "".join(f"fabric f{k} code C{k}\n" for k in range(20_000))
    many += "".join(f"colourway w{k} f0 becomes f1\n" for k in range(20_000))
    with pytest.raises(DrawingError) as told:
        palette(many)
    assert told.value.faults[0].what == "there are more than 1000 fabrics"
    assert (told.value.faults[0].line, told.value.faults[-1].code) == (1002, "more")


def test_a_palette_is_no_drawing_and_a_missing_one_is_told(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert main(["check", str(DUSK)]) == 2
    assert (
        "this is a palette of fabrics, not a drawing of a block. Give it with --palette" in capsys.readouterr().err
    )
    for wrong in (tmp_path / "none.palette", tmp_path):
        assert main(["check", str(KITE), "--palette", str(wrong)]) == 2
        assert str(wrong) in capsys.readouterr().err
    with pytest.raises(FileError):
        read_block(KITE, palette=str(tmp_path / "none.palette"))
    (tmp_path / "bad.palette").write_text(HEAD + "fabric\nfabric sky hue 3\n")
    assert main(["check", str(KITE), "--palette", str(tmp_path / "bad.palette"), "--json"]) == 2
    (found,) = json.loads(capsys.readouterr().out)
    assert [(f["line"], f["column"]) for f in found["error"]["faults"]] == [(2, 7), (3, 12)]
    assert found["error"]["file"] == str(tmp_path / "bad.palette"), "the lines of the palette, not of the drawing"


# -- what it changes -----------------------------------------------------------------------------------------


def test_a_fabric_named_by_its_colour_takes_the_line_of_that_very_colour(tmp_path: Path) -> None:
    lines = "fabric mist colour #A9C9DC value light code M stripes 30 width 110 cm\nfabric near colour #1b2a42\n"
    block = dressed(read_block(filled(tmp_path)), palette(lines))
    assert worn(block) == ["mist", "#1b2a41", "#f4f1ea"]
    assert known(block, "mist") == Fabric("mist", "M", "#a9c9dc", Value.LIGHT, "", 30.0, 11000 / 254, striped=True)
    assert known(block, "#1b2a41") == Fabric("#1b2a41", colour="#1b2a41"), "one step of blue is another colour"


def test_a_fabric_is_matched_by_name_first(tmp_path: Path) -> None:
    drawn = read_block(filled(tmp_path, '<text x="0.3" y="2" font-size="0.3">Sky</text>'))
    assert known(drawn, "Sky").colour == "#a9c9dc"
    # The line of its name wins over the line of its colour, case and spaces forgiven.
    block = dressed(drawn, palette("fabric mist colour #a9c9dc\nfabric sky colour #112233\n"))
    assert worn(block)[0] == "sky" and known(block, "sky").colour == "#112233"
    assert [n.text for n in block.notes][-1] == "of some.palette, mist matches no fabric of this block"
    # A line that another fabric's name has taken gives its colour to no other.
    block = dressed(drawn, palette('fabric sky colour #1b2a41\nfabric "#f4f1ea" colour #00ff00\n'))
    assert worn(block) == ["sky", "#1b2a41", "#f4f1ea"]
    assert known(block, "#f4f1ea").colour == "#00ff00"


def test_what_a_line_does_not_say_stays_but_a_new_colour_takes_old_value_and_warmth_with_it() -> None:
    text = "seamwright block 1\nsize 6\nseam 0, 3 to 6, 3\nlay sky at 1, 1\n"
    drawn = read_seams_block(text + "fabric sky colour #a9c9dc value light cool code S stripes 9\n")
    kept = known(dressed(drawn, palette("fabric sky width 40 in\n")), "sky")
    assert kept == Fabric("sky", "S", "#a9c9dc", Value.LIGHT, "cool", 9.0, 40.0, striped=True)
    turned = known(dressed(drawn, palette("fabric sky colour #7a1f2b direction 90\n")), "sky")
    assert turned == Fabric("sky", "S", "#7a1f2b", None, "", 90.0)


def read_seams_block(text: str) -> Block:
    from seamwright.block.make import make_block

    return make_block(read_seams(text, name="test", file=""))


def test_lines_that_match_nothing_are_told_with_the_nearest_name() -> None:
    block = dressed(read_block(KITE), palette("fabric chalkk\nfabric reed\nfabric ink\n"))
    assert [n.text for n in block.notes if n.code == "palette"] == [
        "of some.palette, chalkk (nearest here: chalk) and reed match no fabric of this block"
    ]
    assert [n.count for n in block.notes if n.code == "palette"] == [2]


@pytest.mark.parametrize("command", ["check", "fabrics", "cutting"])
def test_every_command_that_speaks_of_fabrics_tells_what_a_palette_did_not_match(
    command: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    (tmp_path / "my.palette").write_text(HEAD + "fabric chalkk colour #ffffff\n")
    asked = [command, str(KITE), "--palette", str(tmp_path / "my.palette")]
    told = "of my.palette, chalkk (nearest here: chalk) matches no fabric of this block"
    assert main(asked) == 0
    assert f"Note: {told}." in capsys.readouterr().out
    assert main([*asked, "--json"]) == 0
    found = json.loads(capsys.readouterr().out)
    notes = (found if isinstance(found, dict) else found[0])["notes"]
    assert [note["text"] for note in notes if note["code"] == "palette"] == [told]


def test_two_fabrics_never_have_one_code() -> None:
    text = "seamwright block 1\nsize 6\nseam 0, 3 to 6, 3\nfabric sky code A\nfabric sea code B\n"
    drawn = read_seams_block(text + "lay sky at 1, 1\nlay sea at 1, 5\n")
    codes = {fabric.name: fabric.code for fabric in dressed(drawn, palette("fabric sea code A\n")).fabrics}
    assert codes == {"sky": "", "sea": "A"}, "the palette's own code stays"


@pytest.mark.parametrize("name", ["kite.svg", "compass-star.seams", "lamp.seams", "reef.seams"])
def test_recolouring_one_to_one_changes_no_line_section_letter_or_order(name: str) -> None:
    drawn = read_block(ROOT / "designs" / name)
    # Values stay, for where the order is free it keeps dark allowance from under light patches.
    lines = (Fabric(f.name, colour=f"#0{k}1122", value=f.value) for k, f in enumerate(drawn.fabrics))
    block = dressed(drawn, Palette("p", tuple(lines)))
    assert (block.points, block.edges, block.seams, block.outline) == (
        drawn.points, drawn.edges, drawn.seams, drawn.outline,
    )  # fmt: skip
    assert [(p.ring, p.edges) for p in block.patches] == [(p.ring, p.edges) for p in drawn.patches]
    one, other = plan(drawn), plan(block)
    assert one.sections == other.sections and one.joins == other.joins
    assert one.patch_names() == other.patch_names()
    assert one.id != other.id


def test_an_id_tells_the_fabrics_that_come_out_not_the_way_to_the_palette(tmp_path: Path) -> None:
    text = HEAD + "fabric sky colour #102030\n"
    for name in ("a.palette", "b.palette"):
        (tmp_path / name).write_text(text)
    (tmp_path / "c.palette").write_text(text.replace("102030", "102031"))
    (tmp_path / "nothing.palette").write_text(HEAD + "fabric reed\n")
    ids = {name: plan(read_block(KITE, palette=str(tmp_path / f"{name}.palette"))).id for name in ("a", "b", "c")}
    assert ids["a"] == ids["b"] != ids["c"]
    nothing = plan(read_block(KITE, palette=str(tmp_path / "nothing.palette")))
    assert nothing.id == plan(read_block(KITE)).id


def test_a_text_form_names_a_palette_that_lies_beside_it(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    (tmp_path / "blocks").mkdir()
    (tmp_path / "blocks" / "p.palette").write_text(HEAD + "fabric sky colour #102030\n")
    text = "seamwright block 1\nsize 6\nseam 0, 3 to 6, 3\nfabric sky\nlay sky at 1, 1\noption palette p.palette\n"
    (tmp_path / "blocks" / "one.seams").write_text(text)
    monkeypatch.chdir(tmp_path)
    assert known(read_block("blocks/one.seams"), "sky").colour == "#102030"
    (tmp_path / "q.palette").write_text(HEAD + "fabric sky colour #405060\n")
    assert known(read_block("blocks/one.seams", palette="q.palette"), "sky").colour == "#405060"
    assert main(["check", "blocks/one.seams", "--json"]) == 0
    (found,) = json.loads(capsys.readouterr().out)
    assert found["fabrics"] == [
        {
            "name": "sky", "code": "SK", "colour": "#102030", "value": "dark", "warmth": "cool",
            "direction_deg": None, "striped": False, "width_in": None, "patches": 1,
        }
    ]  # fmt: skip


def test_a_mended_drawing_keeps_its_own_fabrics(tmp_path: Path) -> None:
    path = ROOT / "designs" / "breakwater.seams"
    (tmp_path / "p.palette").write_text(
        HEAD + "".join(f"fabric {f.name} colour #111111\n" for f in read_block(path).fabrics)
    )
    stuck = plan(read_block(path, palette=str(tmp_path / "p.palette")))
    assert {f.colour for f in stuck.block.fabrics} == {"#111111"}
    for form in ("mended.seams", "mended.svg"):
        write_mended(tmp_path / form, stuck, mends_of(stuck)[:1])
        colours = {f.name: f.colour for f in read_block(tmp_path / form).fabrics}
        assert colours == {f.name: f.colour for f in read_block(path).fabrics}
    text = path.read_text() + "option palette p.palette\n"
    (tmp_path / "here.seams").write_text(text)
    (tmp_path / "there").mkdir()
    stuck_here = plan(read_block(tmp_path / "here.seams"))
    for folder, said in (
        (tmp_path, ()),
        (tmp_path / "there", ("it asks for the palette p.palette beside it: copy that there too",)),
    ):
        assert write_mended(folder / "again.seams", stuck_here, mends_of(stuck_here)[:1]).said == said
    assert write_seams(stuck.block) == write_seams(read_block(path, palette=str(tmp_path / "p.palette")).as_drawn())


def test_codes_are_those_of_the_foundations_in_every_command(capsys: pytest.CaptureFixture[str]) -> None:
    """Nobody states a code for the kite's fabrics, so its foundations make them of their names."""
    codes = []
    for command in ("check", "fabrics", "cutting"):
        assert main([command, str(KITE), "--json"]) == 0
        found = json.loads(capsys.readouterr().out)
        known = (found if isinstance(found, dict) else found[0])["fabrics"]
        codes.append({fabric["name"]: fabric["code"] for fabric in known})
    assert codes == [{"sky": "SK", "ink": "IN", "signal": "SI", "chalk": "CH", "sea": "SE"}] * 3
