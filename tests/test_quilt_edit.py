"""Edits of a quilt's text: what they do, that they read back, and that nothing else changes."""

from __future__ import annotations

import math
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from seamwright.errors import DrawingError, OptionError
from seamwright.quilt.edit import changed, new_quilt
from seamwright.quilt.edits import (
    AddLine,
    DropBlock,
    DropFabric,
    DropLine,
    Edit,
    Fit,
    Laid,
    Pattern,
    Put,
    Regrid,
    Rename,
    Reverse,
    Rotate,
    SetBacking,
    SetBatting,
    SetBinding,
    SetBlock,
    SetBorder,
    SetColour,
    SetOn,
    SetOption,
    SetSashing,
)
from seamwright.quilt.editview import QuiltView, view_of
from seamwright.quilt.form import setting_of, stated_in
from seamwright.quilt.model import Cell, Setting, Turn

DESIGNS = Path(__file__).parents[1] / "designs"
REMARKED = """\
seamwright quilt 1
# for Friday
  name   Friday watch   # no hurry
block kite "kite.svg"  size 7 in
BLOCK star star.seams

row kite 0°, kite 90 , plain "sea"  # top
row kite  reversed, 2 kite # middle
# below the middle
row star, star 180 reversed, kite in dusk
sashing 1.5in foam   # narrow
border 3 in ink  mitred
backing none # from the cupboard
fabric sea colour #2f6b7e value medium # washed
"""


def setting(text: str) -> Setting:
    """The quilt of a text that must hold together."""
    stated, lines = stated_in(text.encode(), "evening.setting")
    return setting_of(stated, "evening.setting", lines)


def cells(text: str) -> list[list[Cell]]:
    """What lies where, wherever it is said."""
    return [[Cell(c.source, c.turn, c.colourway, c.fabric) for c in row] for row in setting(text).cells]


def others(text: str, *keywords: str) -> list[str]:
    """The lines that say something else, as typed."""
    return [line for line in text.splitlines() if not line.strip().lower().startswith(keywords)]


def remarks(text: str) -> list[str]:
    return [line[line.index("#") :] for line in text.splitlines() if "# " in line]


# -- one edit ------------------------------------------------------------------------------------------------


def test_a_new_quilt_has_every_place_in_its_rows() -> None:
    text = new_quilt("kites", "two kites", "two kites.svg", 3, 2)
    assert text == (
        "seamwright quilt 1\nname kites\n"
        'block "two kites" "two kites.svg"\n\n'
        'row "two kites", "two kites", "two kites"\nrow "two kites", "two kites", "two kites"\n'
    )
    assert len(setting(text).cells) == 2


def test_only_the_row_that_changes_is_written_anew_and_its_remark_stays() -> None:
    text = changed(REMARKED, [Rotate(((0, 1),))])
    was, now = REMARKED.splitlines(), text.splitlines()
    assert [k for k in range(len(was)) if was[k] != now[k]] == [6]
    assert now[6] == "row kite, kite 180, plain sea  # top"


def test_a_plain_piece_is_not_rotated() -> None:
    assert changed(REMARKED, [Rotate(((0, 2),)), Reverse(((0, 2),))]) == REMARKED


def test_a_repeat_changes_wherever_it_is_seen() -> None:
    text = "seamwright quilt 1\nblock kite kite.svg\nrow kite, kite\nrepeat 3 x 2\n"
    now = changed(text, [Rotate(((1, 4),))])
    assert "row kite 90, kite\nrepeat 3 x 2\n" in now
    assert [c.turn.quarters for c in cells(now)[0]] == [1, 0] * 3


@pytest.mark.parametrize("on_point", [False, True])
@pytest.mark.parametrize("turn", [Turn(q, m) for q in range(4) for m in (False, True)])
def test_a_reversed_block_lies_as_a_mirror_shows_it(turn: Turn, *, on_point: bool) -> None:
    """Held against matrices: a mirror upright between left and right takes x to -x."""
    words = " ".join(filter(None, [str(90 * turn.quarters), "reversed" if turn.reversed else ""]))
    point = "set on point\ntriangles sea\n" if on_point else ""
    text = f"seamwright quilt 1\nblock kite kite.svg\n{point}row kite {words}\n"
    (after,) = cells(changed(text, [Reverse(((0, 0),))]))[0]

    def lies(of: Turn) -> list[float]:
        a, b, c, d, _, _ = of.place(1, 1)
        angle = math.pi / 4 if on_point else 0.0
        cos, sin = math.cos(angle), math.sin(angle)
        return [cos * a - sin * b, sin * a + cos * b, cos * c - sin * d, sin * c + cos * d]

    xx, xy, yx, yy = lies(turn)
    assert lies(after.turn) == pytest.approx([-xx, xy, -yx, yy])


def test_what_is_put_takes_the_turn_of_what_lay_there_if_asked() -> None:
    star = Laid("star", colourway="night")
    text = changed(REMARKED, [Put(((0, 1), (0, 2)), star, kept=True), Put(((1, 0),), Laid(fabric="storm blue"))])
    rows = cells(text)
    assert rows[0][1:] == [Cell("star", Turn(1), "night"), Cell("star", Turn(), "night")]
    assert rows[1][0] == Cell(fabric="storm blue")


def test_a_pattern_repeats_over_all_and_is_said_once_where_it_comes_out() -> None:
    square = ((Laid("kite"), Laid("kite", 1)), (Laid("kite", 3), Laid("kite", 2)))
    text = new_quilt("kites", "kite", "kite.svg", 4, 6)
    assert changed(text, [Pattern(square)]).endswith("row kite, kite 90\nrow kite 270, kite 180\nrepeat 2 x 3\n")
    odd = cells(changed(new_quilt("kites", "kite", "kite.svg", 3, 5), [Pattern(square)]))
    assert [[c.turn.quarters for c in row] for row in odd] == [[0, 1, 0], [3, 2, 3]] * 2 + [[0, 1, 0]]


def test_a_larger_grid_goes_on_as_the_rows_repeat() -> None:
    text = "seamwright quilt 1\nblock k kite.svg\nrow k, k 90\nrow k 270, k 180\nrepeat 2 x 2\n"
    assert changed(text, [Regrid(6, 4)]) == text.replace("2 x 2", "3 x 2")
    loose = changed(text, [Regrid(5, 3)])
    assert [[c.turn.quarters for c in row] for row in cells(loose)] == [
        [0, 1, 0, 1, 0],
        [3, 2, 3, 2, 3],
        [0, 1, 0, 1, 0],
    ]
    assert changed(loose, [Regrid(6, 4)]) == text.replace("2 x 2", "3 x 2")


def test_on_point_and_back_leaves_the_rows_as_they_were() -> None:
    text = changed(REMARKED, [SetOn(True, "deep water")])
    assert [len(row) for row in cells(text)] == [3, 2, 3, 2, 3]
    assert 'triangles "deep water"\n' in text
    assert cells(changed(text, [SetOn(False)])) == cells(REMARKED)


def test_a_row_more_and_the_same_row_less_is_the_same_text() -> None:
    for text in (REMARKED, changed(REMARKED, [SetOn(True, "sea")])):
        for at in range(len(setting(text).cells)):
            more = changed(text, [AddLine("row", at)])
            assert len(setting(more).cells) > len(setting(text).cells)
            assert changed(more, [DropLine("row", at + (1 if text is REMARKED else 2))]) == text
    wider = changed(REMARKED, [AddLine("column", 1)])
    assert cells(changed(wider, [DropLine("column", 2)])) == cells(REMARKED)


@pytest.mark.parametrize(
    ("edit", "line"),
    [
        (SetSashing("2 1/4", "sky", "brass", True), "sashing 2 1/4 in sky cornerstones brass outside   # narrow"),
        (SetSashing(""), "# narrow"),
        (SetBorder(1, "butted", "10 cm", "ink", "brass"), "border 10 cm ink corners plain brass"),
        (SetBorder(2, "blocks", block="star", corner="kite"), "border of star corners kite"),
        (SetBinding("none", "2.5"), 'binding "none" 2.5 in'),
        (SetBinding(none=True), "binding none"),
        (SetBacking("sea", "108 in", "4 in"), "backing sea width 108 in over 4 in # from the cupboard"),
        (SetBatting("3"), "batting over 3 in"),
        (Fit("Twin"), "fit twin"),
        (Fit("60 x 80"), "fit 60 x 80 in"),
        (Rename('the "long" night'), '  name "the \\"long\\" night"   # no hurry'),
        (SetOption("units", "metric"), "option units metric"),
        (SetBlock("KITE", size="8 1/2"), "block kite kite.svg size 8 1/2 in"),
        (SetBlock("gull", "gull.svg"), "block gull gull.svg"),
        (SetColour("foam", "#ffffff"), "fabric foam colour #ffffff"),
        (SetColour("sea", "#AABBCC"), "fabric sea colour #aabbcc value medium # washed"),
        (SetColour("storm blue", "#445566"), 'fabric "storm blue" colour #445566'),
        (DropFabric("Sea"), "# washed"),
    ],
)
def test_a_fact_becomes_its_line_and_nothing_else_changes(edit: Edit, line: str) -> None:
    text = changed(REMARKED, [edit])
    assert line in text.splitlines()
    was, now = set(REMARKED.splitlines()), set(text.splitlines())
    assert len(now - was) == 1 and len(was - now) <= 1
    setting(text)


def test_a_coping_strip_waits_for_the_blocks_outside_of_it() -> None:
    edits = [SetBorder(1, "coping", "1in", "sea"), SetBorder(2, "blocks", block="star", corners="brass")]
    text = changed(REMARKED, edits)
    assert "border coping sea at least 1in\nborder of star corners plain brass\n" in text
    assert view_of(changed(text, edits)).borders == view_of(text).borders
    setting(text)


def test_a_bare_number_counts_centimetres_in_a_metric_quilt() -> None:
    metric = changed(REMARKED, [SetOption("units", "metric")])
    assert "sashing 4 cm foam" in changed(metric, [SetSashing("4", "foam")])
    assert "block kite kite.svg size 20 cm" in changed(metric, [SetBlock("kite", size="20")])


@pytest.mark.parametrize(
    ("edit", "words"),
    [
        (SetSashing("wide", "sky"), "'wide' is no length"),
        (SetSashing("1 in # x", "sky"), "is no length"),
        (SetSashing("90 in", "sky"), "is too much for the width of the sashing"),
        (SetSashing("1 in"), "sashing is of a fabric"),
        (SetBorder(1, "butted", "1 in\nrow kite", "ink"), "is no length"),
        (SetBorder(4, "mitred", "1 in", "ink"), "there is no border 4"),
        (SetBorder(2, "coping", "1 in", ""), "a border is of a fabric"),
        (SetBinding("ink", "20 in"), "is too much"),
        (Put(((0, 0),), Laid("gull")), "no block of the quilt is called 'gull'"),
        (Put(((0, 0),), Laid()), "a plain piece is of a fabric"),
        (Pattern(()), "the pattern has no blocks"),
        (SetBlock("gull"), "no block of the quilt is called 'gull'"),
        (SetBlock("gull", "../gull.svg"), "does not lie beside the quilt"),
        (SetBlock("gull", "/etc/passwd"), "does not lie beside the quilt"),
        (SetBlock("kite", size="200 in"), "a block is 1 to 60 in"),
        (DropBlock("star"), "star lies in the quilt"),
        (SetOn(True), "triangles along its sides"),
        (SetOption("palette", "dusk.palette"), "itself the palette of its blocks"),
        (SetOption("wings", "two"), "wings"),
        (Regrid(0, 500), "are no quilt"),
        (SetColour("foam", "white"), "is no colour"),
        (Rename("  "), "the name is missing"),
    ],
)
def test_what_cannot_be_done_is_said_in_words(edit: Edit, words: str) -> None:
    with pytest.raises(OptionError) as refused:
        changed(REMARKED, [edit])
    assert words in str(refused.value)


def test_a_text_that_cannot_be_read_is_left_alone_and_shown_with_its_faults() -> None:
    text = "seamwright quilt 1\nblock kite kite.svg\nrow kite 45\nwobble\n"
    with pytest.raises(DrawingError):
        changed(text, [Rename("x")])
    assert len(view_of(text, "evening").faults) == 2
    assert view_of("<svg/>", "evening") == QuiltView("evening", faults=view_of("<svg/>", "evening").faults)


def test_a_wanted_size_that_repeats_rows_is_held_to_the_number_asked_for() -> None:
    text = "seamwright quilt 1\nblock kite kite.svg size 8 in\nrow kite\nfit twin\n"
    assert view_of(text).fitted
    held = changed(text, [Regrid(5, 6)])
    assert "repeat 5 x 6\n" in held
    assert "repeat 1 x 1\n" in changed(held, [Regrid(5, 6, loose=True)])
    setting(changed(held, [SetOn(True, "sea"), Regrid(4, 3)]))


# -- laws ------------------------------------------------------------------------------------------------------

PLACES = st.lists(st.tuples(st.integers(0, 11), st.integers(0, 11)), min_size=1, max_size=5).map(tuple)
LAID = st.one_of(
    st.builds(
        Laid, st.sampled_from(["kite", "star"]), st.integers(0, 3), st.booleans(), st.sampled_from(["", "dusk"])
    ),
    st.builds(Laid, fabric=st.sampled_from(["sea", "storm blue", "none", "foam"])),
)
GRID = st.integers(1, 7)
EDITS = st.one_of(
    st.builds(Rotate, PLACES, st.integers(1, 3)),
    st.builds(Reverse, PLACES),
    st.builds(Put, PLACES, LAID, st.booleans()),
    st.builds(
        Pattern,
        st.integers(1, 3)
        .flatmap(
            lambda wide: st.lists(st.lists(LAID, min_size=wide, max_size=wide).map(tuple), min_size=1, max_size=3)
        )
        .map(tuple),
    ),
    st.builds(Regrid, GRID, GRID, st.booleans()),
    st.builds(AddLine, st.sampled_from(["row", "column"]), st.integers(0, 9)),
    st.builds(DropLine, st.sampled_from(["row", "column"]), st.integers(0, 9)),
    st.builds(SetOn, st.booleans(), st.sampled_from(["sea", "deep water"])),
    st.builds(
        SetSashing, st.sampled_from(["", "1 1/2 in", "4 cm"]), st.just("foam"), st.sampled_from(["", "brass"])
    ),
    st.builds(Fit, st.sampled_from(["", "twin", "60 x 80 in"])),
    st.builds(SetBorder, st.just(1), st.sampled_from(["butted", "mitred"]), st.just("2 in"), st.just("ink")),
)


def done(text: str, edits: list[Edit]) -> str:
    """The text with those of the edits done that can be done."""
    for edit in edits:
        try:
            text = changed(text, [edit])
        except OptionError:
            continue
    return text


@settings(max_examples=40, deadline=None)
@given(st.lists(EDITS, max_size=8))
def test_whatever_is_done_to_a_quilt_it_still_is_one(edits: list[Edit]) -> None:
    text = done(REMARKED, edits)
    made, view = setting(text), view_of(text)
    assert [len(row) for row in made.cells if row] == [len(row) for row in view.rows if row]
    assert text.startswith("seamwright quilt 1\n# for Friday\n")


@settings(max_examples=15, deadline=None)
@given(st.lists(EDITS, max_size=5), PLACES)
def test_four_quarters_and_two_mirrors_change_nothing(
    edits: list[Edit], places: tuple[tuple[int, int], ...]
) -> None:
    text = done(REMARKED, edits)
    before = setting(text).cells
    for again in ([Rotate(places)] * 4, [Reverse(places)] * 2, [Rotate(places, 3), Rotate(places)]):
        after = changed(text, again)
        assert [[(c.source, c.turn, c.colourway, c.fabric) for c in row] for row in setting(after).cells] == [
            [(c.source, c.turn, c.colourway, c.fabric) for c in row] for row in before
        ]
        assert changed(after, again) == after  # once it is written in our own way it stays, letter by letter


@settings(max_examples=30, deadline=None)
@given(EDITS)
def test_remarks_stay_and_so_do_all_lines_that_say_something_else(edit: Edit) -> None:
    text = done(REMARKED, [edit])
    assert sorted(remarks(text)) == sorted(remarks(REMARKED))
    touched = ("row", "repeat", "set", "triangles", "sashing", "border", "fit", "#")
    assert others(text, *touched) == others(REMARKED, *touched)


@pytest.mark.parametrize("end", ["\r\n", "\r"])
def test_line_ends_and_the_mark_of_byte_order_stay(end: str) -> None:
    text = "\ufeff" + REMARKED.replace("\n", end)
    assert changed(text, [Rotate(((0, 1),))]) == "\ufeff" + changed(REMARKED, [Rotate(((0, 1),))]).replace(
        "\n", end
    )
    assert changed(text.rstrip(end), [SetBatting("4 in")]).endswith(
        f"{end}fabric sea colour #2f6b7e value medium # washed"
    )


@pytest.mark.parametrize("file", sorted(DESIGNS.glob("*.setting")), ids=lambda path: path.stem)
def test_our_own_quilts_are_seen_as_their_files_state_them(file: Path) -> None:
    text = file.read_text()
    view, made = view_of(text, file.stem), setting(text)
    assert [[(one.block, one.quarters, one.reversed, one.colourway) for one in row] for row in view.rows] == [
        [(c.source, c.turn.quarters, c.turn.reversed, c.colourway) for c in row] for row in made.cells
    ]
    for number, border in enumerate(view.borders, 1):
        kind: Any = border.kind
        edit = SetBorder(number, kind, border.width, border.fabric, border.corners, border.block, border.corner)
        text = changed(text, [edit])
    assert setting(text).borders == made.borders
