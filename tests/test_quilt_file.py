"""The file of a quilt: read with all its faults at once, written so that it reads back, taken by commands."""

from __future__ import annotations

import contextlib
import json
import shutil
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from seamwright.cli import main
from seamwright.drawing.palette import palette_of
from seamwright.errors import DrawingError
from seamwright.fabric.model import Colourway, Fabric
from seamwright.quilt.form import read_setting, setting_of, stated_in
from seamwright.quilt.formhelp import QUILT_GRAMMAR
from seamwright.quilt.formwrite import entry_words, row_lines, turn_words, write_setting
from seamwright.quilt.model import (
    Backing,
    Batting,
    Binding,
    Border,
    Cell,
    Edging,
    Sashing,
    Set,
    Setting,
    Source,
    Turn,
    Wanted,
)

ROOT = Path(__file__).parent.parent
HEAD = "seamwright quilt 1\n"
BLOCKS = "block kite kite.svg size 8 in\nblock star star.seams\n"
ROW = "row kite, star\n"


def quilt(text: str, file: str = "some.setting") -> Setting:
    stated, lines = stated_in((HEAD + text).encode(), file)
    return setting_of(stated, file, lines)


def faults(text: str) -> list[tuple[int | None, int | None, str, str]]:
    with pytest.raises(DrawingError) as error:
        quilt(text)
    return [(fault.line, fault.column, fault.what, fault.mend) for fault in error.value.faults]


# -- what lines mean -----------------------------------------------------------------------------------------


def test_all_lines_of_a_quilt_are_read() -> None:
    read = quilt(
        """name evening watch
block kite kite.svg size 8 in   # a remark
block "two kites" "my kite.svg" size 20 x 30 cm
set straight
row kite, kite 90, 2 kite reversed
row kite 270, plain sea, kite 180 reversed in dusk, "two kites"
repeat 4 x 5
sashing 1 1/2 in foam cornerstones brass outside
border 1 in foam
border 4 in ink mitred
border coping sea at least 3/4 in
border of kite corners plain brass
binding ink 2 1/4 in
backing foam width 108 in over 3 in
batting none
fit twin
fabric sea colour navy
colourway dusk sea becomes ink
option rotary auto
""",
        "quilts/watch.setting",
    )
    kite = ("kite", "")
    assert (read.name, read.repeat, read.set) == ("evening watch", (4, 5), Set.STRAIGHT)
    assert read.sources == (
        Source("kite", "quilts/kite.svg", "8 in", 3),
        Source("two kites", "quilts/my kite.svg", "20 x 30 cm", 4),
    )
    assert [(c.source, c.colourway, c.turn) for c in read.rows[0]] == [
        (*kite, Turn()),
        (*kite, Turn(1)),
        (*kite, Turn(0, True)),
        (*kite, Turn(0, True)),
    ]
    assert [(c.source, c.fabric, c.colourway, c.turn) for c in read.rows[1]] == [
        ("kite", "", "", Turn(3)),
        ("", "sea", "", Turn()),
        ("kite", "", "dusk", Turn(2, True)),
        ("two kites", "", "", Turn()),
    ]
    assert read.sashing == Sashing(1.5, "foam", "brass", True)
    assert [(b.edging, b.width_in, b.fabric, b.corners) for b in read.borders] == [
        (Edging.BUTTED, 1.0, "foam", ""),
        (Edging.MITRED, 4.0, "ink", ""),
        (Edging.COPING, 0.75, "sea", ""),
        (Edging.PIECED, 0.0, "", "brass"),
    ]
    assert read.binding == Binding("ink", 2.25)
    assert read.backing == Backing("foam", 108.0, 3.0)
    assert read.batting is None
    assert read.wanted is not None and (read.wanted.name, read.wanted.repeats) == ("twin", False)
    # W3C CSS Color Module Level 3, section 4.3: navy is #000080
    assert read.fabrics == (Fabric("sea", colour="#000080"),)
    assert read.colourways == (Colourway("dusk", (("sea", "ink"),)),)
    assert read.options == (("rotary", "auto"),)


@pytest.mark.parametrize(
    ("entry", "turn", "colourway"),
    [
        ("kite 90 in dusk", Turn(1), "dusk"),  # "90 in" is no length here
        ("kite 90in dusk", Turn(1), "dusk"),
        ("kite in dusk 90", Turn(1), "dusk"),
        ("kite reversed 180", Turn(2, True), ""),
        ("kite -90", Turn(3), ""),
        ("kite 360", Turn(), ""),
        ("kite 270°", Turn(3), ""),
        ("KITE", Turn(), ""),
    ],
)
def test_an_entry_may_be_said_in_several_ways(entry: str, turn: Turn, colourway: str) -> None:
    (cell,) = quilt(f"{BLOCKS}row {entry}\n").rows[0]
    assert (cell.source, cell.turn, cell.colourway) == ("kite", turn, colourway)


def test_where_nothing_is_said_a_quilt_is_straight_bound_backed_and_padded() -> None:
    read = quilt(BLOCKS + ROW)
    assert (read.set, read.repeat, read.sashing, read.borders) == (Set.STRAIGHT, (1, 1), None, ())
    assert (read.binding, read.backing, read.batting) == (Binding(), Backing(), Batting())


def test_rows_on_point_that_are_repeated_are_cut_to_the_shape() -> None:
    read = quilt(f"{BLOCKS}set on point\ntriangles sea\nrow kite, star\nrow star, kite\nrepeat 2 x 2\n")
    assert [[cell.source for cell in row] for row in read.cells] == [
        ["kite", "star", "kite", "star"],
        ["star", "kite", "star"],
        ["kite", "star", "kite", "star"],
    ]


def test_what_is_assumed_is_noted() -> None:
    read = quilt(f"{BLOCKS}row kite\nborder 2 in foma\nfabric foam\n")
    assert [note.text for note in read.notes] == [
        "block star (line 3) lies nowhere in the quilt",
        "foma (line 5) has no fabric line; perhaps foam is meant",
    ]


def test_the_help_is_a_quilt_by_itself() -> None:
    """Every example line of the help is read; what only stands on point is tried there."""
    lines = [line[2:40].rstrip() for line in QUILT_GRAMMAR.splitlines() if line.startswith("  ") and line[2] != " "]
    wide = [line[2:] for line in QUILT_GRAMMAR.splitlines() if line.startswith("  sashing")]
    lines = [line for line in lines if not line.startswith("sashing")] + wide
    rows = [line for line in lines if line.startswith("row")]
    lines = ["block wave wave.svg", *lines]
    assert len(lines) > 20 and len(rows) == 3
    read = quilt("\n".join(line for line in lines if not line.startswith("triangles")) + "\n")
    assert len(read.borders) == 5 and read.sashing is not None
    on_point = [line.replace("set straight", "set on point") for line in lines]
    assert quilt("\n".join(on_point) + "\n").triangles == "sea"


# -- faults ---------------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("text", "line", "column", "what", "mend"),
    [
        ("rwo kite\n", 5, 1, "'rwo' is no keyword", "'row'"),
        ("row kite, skua\n", 5, 11, "no block is called 'skua'", "kite, star"),
        ("row kite, kit\n", 5, 11, "no block is called 'kit'", "Perhaps 'kite'"),
        ("row kite, foam\nfabric foam\n", 5, 11, "no block is called 'foam'", "plain foam"),
        ("row kite\n", 5, 1, "this row has 1 block, and it should have 2", "line 4, has 2"),
        ("row kite, kite 45\n", 5, 16, "rotated by '45'", "90, 180 or 270"),
        ("row kite, kite 90 in\n", 5, 21, "name of the colourway", "in dusk"),
        ("row kite, kite 90 90\n", 5, 19, "rotated twice", "Keep one"),
        ("row kite,\n", 5, 10, "name of a block should stand here, but the line ends", "row kite"),
        ("row kite star\n", 5, 10, "a comma should stand between blocks", "row kite, "),
        ("row 90 kite, star\n", 5, 5, "'90' is no number of blocks alike", "1 to 60"),
        ('row 2 "two kites"\n', 5, 5, "a quotation mark means inches", "as often as it comes"),
        ("row 0 kite, star\n", 5, 5, "'0' is no number of blocks alike", "1 to 60"),
        ("row plain, kite\n", 5, 10, "name of the fabric should stand here", "plain sea"),
        ("row kite reversed reversed, star\n", 5, 19, "'reversed' stands here twice", "Keep one"),
        ("block kite other.svg\n", 5, 7, "block 'kite' stands in line 2 too", "another name"),
        ("block gull\n", 5, 11, "file of the block's drawing", "block gull"),
        ("block gull.svg size 8 in\n", 5, 7, "only one of them stands here", "block gull gull.svg"),
        ("block gull gull.svg size\n", 5, 25, "the size is missing", "size 8 in"),
        ("block gull gull.svg size 8 furlongs\n", 5, 26, "is no length", "in, cm or mm"),
        ("block gull gull.svg size 800 in\n", 5, 26, "a block is 1 to 60 in", "Check the number"),
        ("block gull gull.svg 8 in\n", 5, 21, "the line should end here", "size 8 in"),
        ("block gull other.setting\n", 5, 12, "this is the file of a quilt", "drawing of a block"),
        ("set sideways\n", 5, 5, "how the blocks are set", "set on point"),
        ("set on edge\n", 5, 8, "the word 'point' should stand here", "set on point"),
        ("set straight\nset straight\n", 6, 1, "stands here a second time, first in line 5", "Keep one"),
        ("triangles sea\n", 5, 1, "a straight set has no setting triangles", "set on point"),
        ("set on point\n", 5, 1, "no line says of which fabric", "triangles sea"),
        ("repeat 4\n", 5, 9, "times down are missing", "repeat 4 x 5"),
        ("repeat 0 x 3\n", 5, 8, "'0' is no number of times across", "1 to 200"),
        ("repeat 200 x 200\n", 5, 1, "these are 400 x 200 blocks", "10,000"),
        ("sashing -1 in foam\n", 5, 9, "is negative for the width of the sashing", "1/8 in to 60 in"),
        (
            "sashing 1 in\n",
            5,
            13,
            "name of the fabric should stand here, but the line ends",
            "sashing 1 1/2 in foam",
        ),
        ("sashing 1 in outside\n", 5, 14, "name of the fabric should stand here, not 'outside'", "in quotes"),
        ("sashing 1 in sea inside\n", 5, 18, "'inside' is no part of a sashing line", "outside"),
        ("border ink\n", 5, 8, "a border is so wide, 'of' a block, or 'coping'", "border 4 in ink"),
        ("border 4 in navy blue mitred\n", 5, 18, "behind the fabric 'navy' stands 'blue'", '"navy blue"'),
        ("border 4 in ink mitered\n", 5, 17, "no part of a border line", "'mitred'"),
        ("border 90 in ink\n", 5, 8, "is too much for the width of the border", "cm"),
        ("border of plain sea\n", 5, 11, "a border is of a block again and again", "border 4 in sea"),
        ("border of skua\n", 5, 11, "no block is called 'skua'", "kite, star"),
        ("border of kite corners brass\n", 5, 24, "no block is called 'brass'", "kite, star"),
        ("border 2 in ink mitred corners sea\n", 5, 1, "mitred or squares of their own", "Leave out"),
        ("border coping sea at least 1 in\n", 5, 1, "there is none outside it", "border of wave"),
        ("border coping sea\nborder coping sea\nborder of kite\n", 6, 1, "that of line 5", "Keep one"),
        ("binding ink 90 yd\n", 5, 13, "is too much", "binding ink 2 1/2 in"),
        ("binding ink 20 in\n", 5, 13, "is too much for the width of the binding", "1 in to 8 in"),
        ("binding none 2 in\n", 5, 14, "the line should end here", "binding none"),
        ("backing foam over -1 in\n", 5, 19, "is negative", "over 4 in"),
        ("backing foam width 3 in\n", 5, 20, "no backing is '3 in' wide", "10 in to 200 in"),
        ("batting 4 in\n", 5, 9, "the word 'over' should stand here", "batting over 4 in"),
        ("fit sofa\n", 5, 5, "'sofa' is no size of a quilt", "crib, lap, twin, queen, king"),
        ("fit 60 in\n", 5, 10, "the height wanted is missing", "fit 60 x 80 in"),
        ("fit 600 x 800 in\n", 5, 5, "no quilt is 600 x 800 in", "8 in to 200 in"),
        ("option palette dusk.palette\n", 5, 8, "itself the palette", "fabric and colourway lines"),
        ("option colourway dusk\n", 5, 8, "of each block in its row", "row kite in dusk"),
        ("option tolernce 1/8 in\n", 5, 8, "is no option", "tolerance"),
    ],
)
def test_each_fault_has_its_place_and_its_mend(text: str, line: int, column: int, what: str, mend: str) -> None:
    ((at_line, at_column, said, mended),) = faults(BLOCKS + ROW + text)
    assert (at_line, at_column) == (line, column), said
    assert what in said
    assert mend in mended


@pytest.mark.parametrize(
    ("rows", "told"),
    [
        (["kite, star", "kite, star", "kite, star"], ["this row has 2 blocks, and it should have 1"]),
        (["kite, star", "kite"], ["the last row lies between rows of 2, and there is none below it"]),
        (["kite", "kite, star"], ["this row has 2 blocks, and it should have 1"]),
        (["2 kite, star", "kite, star", "kite"], ["this row has 1 block, and it should have 3"]),
    ],
)
def test_rows_on_point_take_turns(rows: list[str], told: list[str]) -> None:
    lines = "".join(f"row {row}\n" for row in rows)
    assert [what for _, _, what, _ in faults(f"{BLOCKS}set on point\ntriangles sea\n{lines}")] == told


def test_rows_of_one_block_on_point_are_a_column() -> None:
    stated, lines = stated_in((HEAD + BLOCKS + "set on point\ntriangles sea\nrow kite\nrow star\n").encode(), "f")
    assert [len(row) for row in setting_of(stated, "f", lines).cells] == [1, 0, 1]


def test_rows_on_point_that_are_repeated_are_stated_alike() -> None:
    ((line, _, what, mend),) = faults(
        f"{BLOCKS}set on point\ntriangles sea\nrow kite, star\nrow kite\nrepeat 2 x 2\n"
    )
    assert line == 7 and "should have 2" in what and "repeated" in mend


@pytest.mark.parametrize(
    ("entry", "what", "mend"),
    [
        ("kite flipped", "not 'flipped'", "kite reversed"),
        ("kite 90 mirrored", "not 'mirrored'", "kite reversed"),
        ("kite rotated 90", "not 'rotated'", "Degrees alone say that it is rotated, clockwise: kite 90"),
        ("reversed kite", "'reversed' stands before the name", "kite reversed"),
        ("rotated kite 90", "'rotated' stands before the name", "kite 90"),
        ("plain navy blue", "behind the fabric 'navy' stands 'blue'", 'quotes ("navy blue")'),
        ("kite in", "name of the colourway", "kite 90 in dusk"),
        ("kite star", "a comma should stand between blocks, not 'star'", "kite, kite 90"),
    ],
)
def test_other_words_for_how_a_block_lies_are_known_for_what_they_mean(entry: str, what: str, mend: str) -> None:
    ((line, _, said, mended),) = faults(f"{BLOCKS}row {entry}\n")
    assert line == 4 and what in said and mend in mended


def test_a_block_of_such_a_name_may_be_named() -> None:
    stated, lines = stated_in(f"{HEAD}block flip flip.svg\nrow flip reversed, flip in dusk, flip\n".encode(), "f")
    assert len(setting_of(stated, "f", lines).cells[0]) == 3


def test_rows_are_not_blamed_for_what_is_wrong_with_a_line_of_a_block() -> None:
    assert [line for line, *_ in faults("block kite kite.svg 8 in\nrow kite\nrow kite 90\n")] == [2]


def test_rows_that_state_too_many_blocks_are_told_at_the_first() -> None:
    row = ", ".join(["50 kite"] * 4)
    ((line, _, what, mend),) = faults(BLOCKS + f"row {row}\n" * 51)
    assert line == 4 and "200 x 51 blocks" in what and "10,000" in mend


def test_all_faults_are_told_at_once_in_the_order_of_their_lines() -> None:
    found = faults("block kite\nblok star\nrow kite 30\nborder -1 in ink\nborder coping sea\n")
    assert [line for line, *_ in found] == [2, 3, 4, 5, 6]


@pytest.mark.parametrize(("text", "told"), [("", {"the quilt names no block", "the quilt has no rows"})])
def test_a_quilt_needs_blocks_and_rows(text: str, told: set[str]) -> None:
    assert {what for _, _, what, _ in faults(text)} == told


@pytest.mark.parametrize(
    ("data", "told"),
    [
        (b"", "the file is empty"),
        (b"seamwright block 1\nsize 8\n", "this is the drawing of a block, not a quilt"),
        (b"seamwright palette 1\nfabric sky\n", "this is a palette of fabrics, not a quilt"),
        (b"seamwright quilt 2\n", "form 2 of the text is not known"),
        (b"<svg/>", "this is a drawing (SVG), not a quilt"),
        (b"\x89PNG\r\n\x1a\n\0\0", "this is no text"),
        (b"row kite\n", "the first line is 'row kite'"),
        (b"seamwright quilt 1\nname \xff\n", "the quilt file is not in UTF-8"),
    ],
)
def test_what_is_no_quilt_is_told_in_words(data: bytes, told: str) -> None:
    with pytest.raises(DrawingError) as error:
        stated_in(data, "wrong.setting")
    assert told in str(error.value) and "wrong.setting" in str(error.value)


def test_a_drawing_that_is_not_there_is_told_with_its_line(tmp_path: Path) -> None:
    shutil.copy(ROOT / "designs" / "kite.svg", tmp_path)
    path = tmp_path / "watch.setting"
    path.write_text(f"{HEAD}block kite kyte.svg\nblock gull far/gull.svg\nrow kite, gull\n")
    with pytest.raises(DrawingError) as error:
        read_setting(path)
    first, second = error.value.faults
    assert (first.line, first.column, second.line, second.column) == (2, 12, 3, 12)
    assert "kyte.svg" in first.what and first.mend == "Perhaps kite.svg is meant"
    assert "gull.svg" in second.what and "folder" in second.mend


BITS = """row kite star , 90 90_in in reversed plain sea border of coping 1_1/2_in corners mitred x 4 -1 # " repeat
set on point block size fit \\ é sashing binding none backing width over batting at least triangles 3 ( °"""
words = st.sampled_from([bit.replace("_", " ") for bit in BITS.split()])


@given(text=st.lists(st.lists(words, max_size=7).map(" ".join), max_size=6).map("\n".join), whole=st.booleans())
@settings(max_examples=250, deadline=None)
def test_any_lines_are_a_quilt_or_faults_with_places(text: str, whole: bool) -> None:
    try:
        quilt((BLOCKS + ROW if whole else "") + text)
    except DrawingError as error:
        assert all(fault.line is not None or fault.code == "more" for fault in error.faults)


@given(data=st.binary(max_size=120), headed=st.booleans())
@settings(max_examples=100, deadline=None)
def test_any_bytes_are_a_quilt_or_a_fault(data: bytes, headed: bool) -> None:
    with contextlib.suppress(DrawingError):
        stated, lines = stated_in((HEAD.encode() if headed else b"") + data, "any.setting")
        setting_of(stated, "any.setting", lines)


# -- writing --------------------------------------------------------------------------------------------------

names = st.sampled_from(
    ["kite", "star", "plain", "m", "in", "x", "two kites", "reversed", "ft", 'a"b', "l'été", "3d"]
)
cloths = st.sampled_from(["sea", "storm blue", "outside", "none", "mitred", "width", "#aabbcc", "of"])
turns = st.builds(Turn, st.integers(0, 3), st.booleans())
blocks = st.builds(Cell, names, turns, st.sampled_from(["", "dusk", "at sea", "reversed"]))
plain = st.builds(Cell, fabric=cloths)
widths = st.sampled_from([0.5, 1.5, 3 / 2.54, 0.75 / 2.54, 1 / 3 + 1, 2.53125])
strips = st.one_of(
    st.builds(Border, st.just(Edging.MITRED), widths, cloths),
    st.builds(Border, st.just(Edging.BUTTED), widths, cloths, corners=st.just("") | cloths),
    st.builds(Border, st.just(Edging.BUTTED), widths, cloths, corner=blocks),
    st.builds(Border, st.just(Edging.PIECED), st.just(0.0), cell=blocks, corner=st.none() | blocks),
)


@st.composite
def quilts(draw: st.DrawFn) -> Setting:
    columns, on_point = draw(st.integers(1, 5)), draw(st.booleans())
    row = st.lists(blocks | plain, min_size=columns, max_size=columns).map(tuple)
    rows = draw(st.lists(row, min_size=1, max_size=3)) if not on_point else [draw(row)]
    return Setting(
        name=draw(st.sampled_from(["watch", "evening watch", "12 m", '"', "naïve #1"])),
        file="quilts/some.setting",
        sources=tuple(
            Source(name, f"quilts/{draw(st.sampled_from(['kite.svg', 'my kite.svg', '../a#1.svg']))}", size)
            for name, size in zip(
                ["kite", "star", "plain", "m", "in", "x", "two kites", "reversed", "ft", 'a"b', "l'été", "3d"],
                ["8 in", "", "20 cm", "8 x 12 in", *[""] * 8],
                strict=True,
            )
        ),
        rows=tuple(rows),
        repeat=draw(st.sampled_from([(1, 1), (2, 3)])),
        set=Set.ON_POINT if on_point else Set.STRAIGHT,
        triangles=draw(cloths) if on_point else "",
        sashing=draw(st.none() | st.builds(Sashing, widths, cloths, st.just("") | cloths, st.booleans())),
        borders=tuple(draw(st.lists(strips, max_size=3))),
        binding=draw(st.none() | st.builds(Binding, st.just("") | cloths, st.none() | st.just(2.5))),
        backing=draw(
            st.none() | st.builds(Backing, st.just("") | cloths, st.none() | st.just(108.0), st.none() | widths)
        ),
        batting=draw(st.none() | st.builds(Batting, st.none() | widths)),
        fabrics=(Fabric("sea", colour="#000080"),),
        colourways=(Colourway("dusk", (("sea", "ink"),)),),
        options=(("rotary", "auto"), ("tolerance", "1/8 in")),
    )


def placeless(setting: Setting) -> str:
    """All that is stated; lines, columns and notes are not."""
    from dataclasses import replace

    def bare(cell: Cell | None) -> Cell | None:
        return cell and replace(cell, line=0, column=0)

    return repr(
        replace(
            setting,
            sources=tuple(replace(source, line=0) for source in setting.sources),
            rows=tuple(tuple(bare(cell) for cell in row) for row in setting.rows),
            borders=tuple(replace(b, line=0, cell=bare(b.cell), corner=bare(b.corner)) for b in setting.borders),
            notes=(),
        )
    )


@given(setting=quilts())
@settings(max_examples=80, deadline=None)
def test_what_is_written_reads_back_and_is_written_the_same(setting: Setting) -> None:
    text = write_setting(setting)
    again = quilt(text.removeprefix(HEAD), setting.file)
    assert placeless(again) == placeless(setting)
    assert write_setting(again) == text


def test_entries_and_rows_are_written_as_they_are_typed() -> None:
    assert [turn_words(Turn(*t)) for t in ((0, False), (1, False), (2, True))] == ["", "90", "180 reversed"]
    assert entry_words(Cell("kite", Turn(3, True), "at sea")) == 'kite 270 reversed in "at sea"'
    row = (*[Cell("kite", Turn(1))] * 3, Cell("star"), Cell("star"))
    assert row_lines((row,), (4, 5)) == ("row 3 kite 90, star, star", "repeat 4 x 5")
    assert row_lines(((Cell("kite"),) * 70,)) == ("row 60 kite, 10 kite",)
    assert row_lines(((Cell("two kites"),) * 3,)) == ('row "two kites", "two kites", "two kites"',)


@pytest.mark.parametrize("wanted", ["fit twin", "fit 60 in x 80 in"])
def test_a_wanted_size_is_kept(wanted: str) -> None:
    read = quilt(f"{BLOCKS}{ROW}{wanted}\n")
    assert read.wanted is not None and read.wanted.repeats
    assert f"\n{wanted}\n" in write_setting(read)
    metric = quilt(f"{BLOCKS}{ROW}fit 150 x 200 cm\n").wanted
    assert metric == Wanted("", metric.size) and metric.size.width_in == pytest.approx(150 / 2.54, abs=1e-12)


@pytest.mark.parametrize("between", ["", "in ", "of "])
def test_widths_in_centimetres_may_be_in_or_of_a_fabric(between: str) -> None:
    """In inches "4 in ink" reads so already."""
    read = quilt(f"{BLOCKS}{ROW}sashing 4 cm {between}sky\nborder 10 cm {between}ink mitred\n")
    assert read.sashing is not None and (read.sashing.fabric, read.borders[0].fabric) == ("sky", "ink")
    assert read.borders[0].width_in == pytest.approx(10 / 2.54)


# -- palettes, and commands -----------------------------------------------------------------------------------


def test_a_quilt_is_the_palette_of_its_blocks() -> None:
    read = palette_of(f"{HEAD}{BLOCKS}row nonsense 12\nfabric sky\ncolourway dusk sky becomes sea\n".encode(), "q")
    assert [fabric.name for fabric in read.fabrics] == ["sky"] and read.shared
    assert [way.name for way in read.colourways] == ["dusk"]
    assert palette_of(f"{HEAD}{BLOCKS}".encode(), "q").fabrics == ()


WATCH = f"""{HEAD}name harbour watch
block kite kite.svg size 8 in
block rose storm-rose.svg size 8 in
row kite, rose, kite 90 reversed
row rose 90, plain foam, kite in dusk
fabric foam colour white
fabric sky colour #a9c9dc
colourway dusk sky becomes foam
"""


@pytest.fixture
def watch(tmp_path: Path) -> Path:
    for name in ("kite.svg", "storm-rose.svg"):
        shutil.copy(ROOT / "designs" / name, tmp_path)
    path = tmp_path / "watch.setting"
    path.write_text(WATCH)
    return path


@pytest.mark.parametrize("command", ["check", "fabrics"])
def test_commands_take_a_quilt_as_the_blocks_it_is_made_of(
    watch: Path, command: str, capsys: pytest.CaptureFixture[str]
) -> None:
    assert main([command, "--json", str(watch)]) == 0
    told = json.loads(capsys.readouterr().out)
    kite, rose = str(watch.with_name("kite.svg@8in")), str(watch.with_name("storm-rose.svg@8in"))
    assert [(one["drawing"], one["block"]["colourway"], one["block"]["reversed"]) for one in told] == [
        (kite, None, False),
        (rose, None, False),
        (kite, None, True),
        (kite, "dusk", False),
    ]


@pytest.mark.parametrize(
    ("words", "told"),
    [
        (["check", "{}@8in"], "Leave out @8in"),
        (["check", "{}", "--colourway", "dusk"], "colourways stand in its rows"),
        (["check", "{}", "--size", "8in"], "sizes of its blocks stand in its block lines"),
        (["check", "{}", "--picture", "x.svg"], "seamwright quilt draws the whole"),
        (["check", "{}", "--mend", "1", "-o", "x.svg"], "Name the drawing of a block"),
    ],
)
def test_what_a_quilt_is_not_asked_for_is_told(
    watch: Path, words: list[str], told: str, capsys: pytest.CaptureFixture[str]
) -> None:
    assert main([word.replace("{}", str(watch)) for word in words]) == 2
    assert told in capsys.readouterr().err


def test_faults_of_a_quilt_stand_in_its_place_beside_other_drawings(
    watch: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    watch.write_text(WATCH.replace("row rose 90", "row rose 45"))
    assert main(["check", "--json", str(watch), str(watch.with_name("kite.svg"))]) == 2
    quilt_told, kite_told = json.loads(capsys.readouterr().out)
    assert quilt_told["error"]["faults"][0]["line"] == 6
    assert kite_told["pieceable"]


def test_options_of_a_quilt_win_over_its_blocks_and_the_command_line_over_both(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    seams = (ROOT / "designs" / "compass-star.seams").read_text()
    (tmp_path / "star.seams").write_text(f"{seams}\noption allowance 1/2 in\noption max-patches 9\n")
    path = tmp_path / "q.setting"

    def planned(lines: str, *more: str) -> dict[str, object]:
        path.write_text(f"{HEAD}block star star.seams\nrow star\n{lines}")
        assert main(["check", "--json", str(path), *more]) == 0
        options = json.loads(capsys.readouterr().out)[0]["plan"]["options"]
        assert isinstance(options, dict)
        return options

    assert planned("") == {"allowance": "0.5in", "max-patches": "9"}
    line = "option allowance 3/8 in\n"
    assert planned(line) == {"allowance": "0.375in", "max-patches": "9"}
    assert planned(line, "--allowance", "3/4in")["allowance"] == "0.75in"


def test_text_form_shows_a_quilt_as_well(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["text-form", "quilt"]) == 0
    assert "seamwright quilt 1" in capsys.readouterr().out
    assert main(["text-form"]) == 0
    assert "seamwright text-form quilt" in capsys.readouterr().out
