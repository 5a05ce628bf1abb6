"""Drawings written with mends done: only what is touched changes, all else survives, and nothing gets lost."""

from __future__ import annotations

import difflib
import gzip
import json
import re
from dataclasses import replace
from pathlib import Path
from xml.etree import ElementTree

import pytest

from seamwright import api, mending, picturing
from seamwright.cli import main
from seamwright.drawing.textform import write_seams
from seamwright.errors import DrawingError, FileError, OptionError
from seamwright.mend.clean import clean_svg
from seamwright.mend.write import ANEW
from seamwright.output import made_from
from seamwright.picture.tints import CHANGE
from support.stuck import (
    bent,
    cells_of_points,
    coloured,
    fabrics_by_place,
    pinwheels,
    plan_of,
    polygons_svg,
    square_block,
)

ROOT = Path(__file__).parent.parent
NEAR = """<?xml version="1.0" encoding="UTF-8"?>
<!-- sketched on the quay -->
<svg xmlns="http://www.w3.org/2000/svg" xmlns:inkscape="http://www.inkscape.org/namespaces/inkscape"
     width="6in" height="6in" viewBox="0 0 6 6">
  <style>.seam { stroke: #1b2a41; stroke-width: 0.03 }</style>
  <rect id="frame" width="6" height="6" fill="none" stroke="#1b2a41" stroke-width="0.03"/>
  <g inkscape:groupmode="layer" inkscape:label="seams" transform="translate(1 1)">
    <line id="a" class="seam" x1="-1" y1="1" x2="2" y2="1.1"/>
    <path id='b' class="seam" style="fill:none" d="m 2,1.1 3,-0.1"/>
    <polyline id="c" class="seam" fill="none" points="2,1.1 2,5"/>
  </g>
  <g inkscape:groupmode="layer" inkscape:label="words" font-size="0.2" text-anchor="middle">
    <text id="t1" x="1" y="1">sky</text>
    <text x="1" y="4">sea</text>
    <text x="5" y="4"><tspan>ink</tspan></text>
  </g>
</svg>
"""
NEAR_TEXT = """seamwright block 1
# sketched on the quay
name  quay        # two blanks
size 6 in
grid 12
seam 0, 4 to 6, 4 1/5   # the left arm
seam (6, 4 1/5) to (12, 4)
seam 6, 2.1 in to 6, 12

fabric sky colour #a9c9dc
fabric sea
lay sky at 2, 2
lay sea at 2, 8 and 10, 8
option tolerance 1/32 in
"""


@pytest.fixture(autouse=True)
def _in_a_folder_of_its_own(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(tmp_path)
    Path("near.svg").write_text(NEAR)
    Path("near.seams").write_text(NEAR_TEXT.replace("6, 2.1 in to", "6, 4 1/5 to"))


def changed(before: str, after: str) -> list[str]:
    """Lines that differ, "-" before those that went, "+" before those that came, blanks around left out."""
    rows = difflib.unified_diff(before.splitlines(), after.splitlines(), lineterm="", n=0)
    return [row[0] + row[1:].strip() for row in rows if row[0] in "+-" and row[:3] not in ("+++", "---")]


def mended(name: str, *numbers: int, form: str = "") -> tuple[str, tuple[str, ...]]:
    plan = plan_of(Path(name))
    known = {m.number: m for m in mending.mends(plan)}
    done = mending.mended_drawing(plan, [known[n] for n in numbers], form)
    return done.content.decode(), done.said


# -- SVG ------------------------------------------------------------------------------------------------------


def test_a_point_moved_changes_only_the_lines_that_end_there() -> None:
    text, said = mended("near.svg", 1)
    assert said == ()
    assert changed(NEAR, text) == [
        '-<line id="a" class="seam" x1="-1" y1="1" x2="2" y2="1.1"/>',
        '-<path id=\'b\' class="seam" style="fill:none" d="m 2,1.1 3,-0.1"/>',
        '-<polyline id="c" class="seam" fill="none" points="2,1.1 2,5"/>',
        '+<line id="a" class="seam" x1="-1" y1="1" x2="2" y2="1"/>',
        '+<path id=\'b\' class="seam" style="fill:none" d="M2,1 L5,1"/>',
        '+<polyline id="c" class="seam" fill="none" points="2,1 2,5"/>',
        "+<!-- made by seamwright from [near.svg] -->",
    ]


def test_a_new_seam_has_the_style_and_group_of_its_neighbour_and_the_fabric_its_word() -> None:
    text, said = mended("near.svg", 3)
    assert said == ()
    assert changed(NEAR, text)[:2] == [
        '+<line class="seam" x1="2" y1="-1" x2="2" y2="1.1"/>',
        '+<g transform="translate(3.5 0.07)"><text x="1" y="1">sky</text></g>',
    ]


def test_every_mend_of_a_sketch_keeps_ids_layers_and_words() -> None:
    for number in range(1, 5):
        root = ElementTree.fromstring(mended("near.svg", number)[0])
        ids = [e.get("id") for e in root.iter() if e.get("id")]
        assert ids == ["frame", "a", "b", "c", "t1"]
        label = "{http://www.inkscape.org/namespaces/inkscape}label"
        assert [e.get(label) for e in root if e.get(label)] == ["seams", "words"]


def test_filled_shapes_are_divided_so_that_their_fills_survive() -> None:
    block = coloured(square_block([((0, 2), (4, 2)), ((4, 0), (4, 4)), ((2, 4), (6, 4)), ((2, 2), (2, 6))]), 4)
    Path("gulls.svg").write_text(polygons_svg(block))
    plan = plan_of(Path("gulls.svg"))
    for mend in mending.mends(plan):
        done = mending.mended_drawing(plan, [mend])
        assert done.said == ()
        assert b"<line" not in done.content
        assert done.content.count(b"<polygon") == 5 + mend.extra_patches
        if mend.extra_patches > 0:
            assert fabrics_by_place(done.block) == fabrics_by_place(plan.block)


def test_filled_shapes_follow_a_point_that_moves() -> None:
    Path("bent.svg").write_text(polygons_svg(coloured(bent(0.15), 2)))
    text, said = mended("bent.svg", 1)
    assert said == ()
    assert text.count("<polygon") == 3
    assert "2.15" not in text.replace("3.15", "")


@pytest.mark.parametrize("name", ["tests/drawings/d__svgjs.svg", "tests/drawings/e__asymptote.svg"])
@pytest.mark.parametrize("number", [1, 2])
def test_drawings_of_other_programs_are_mended_where_they_stand(name: str, number: int) -> None:
    plan = plan_of(ROOT / name)
    mends = mending.mends(plan)
    done = mending.mended_drawing(plan, [mends[min(number, len(mends)) - 1]])
    assert done.said == ()
    assert api.plan(done.block).pieceable


def test_the_designs_that_are_stuck_on_purpose_can_be_mended() -> None:
    for name in ("breakwater.seams", "sea-urchin.svg"):
        plan = plan_of(ROOT / "designs" / name)
        for mend in mending.mends(plan):
            done = mending.mended_drawing(plan, [mend])
            assert done.said == ()
            assert api.plan(done.block).pieceable
            assert len(done.block.patches) == len(plan.block.patches) + mend.extra_patches
            assert fabrics_by_place(done.block) == fabrics_by_place(plan.block)


def test_clones_are_drawn_anew_and_that_is_said() -> None:
    cloned = NEAR.replace('<line id="a" class="seam" x1="-1" y1="1" x2="2" y2="1.1"/>', '<use href="#arm"/>')
    cloned = cloned.replace(
        "<style>", '<defs><line id="arm" class="seam" x1="-1" y1="1" x2="2" y2="1.1"/></defs><style>'
    )
    Path("near.svg").write_text(cloned)
    text, said = mended("near.svg", 1)
    assert said == (ANEW,)
    assert "<use" not in text
    Path("anew.svg").write_text(text)
    after = plan_of(Path("anew.svg"))
    assert after.pieceable
    assert {p.fabric for p in after.block.patches} == {"sky", "sea", "ink"}


def test_a_rectangle_whose_corner_moves_becomes_a_path() -> None:
    bricks = """<svg xmlns="http://www.w3.org/2000/svg" width="6in" height="6in" viewBox="0 0 6 6">
     <g fill="#a9c9dc"><polygon points="0,0 6,0 6,2 3,2.15 0,2.15"/><rect id="r" y="2.15" width="3" height="3.85">
     </rect></g><polygon fill="#4f8196" points="3,2.15 6,2 6,6 3,6"/></svg>"""
    Path("bricks.svg").write_text(bricks)
    text, said = mended("bricks.svg", 1)
    assert said == ()
    path = next(e for e in ElementTree.fromstring(text).iter() if e.get("id") == "r")
    assert path.tag.endswith("}path")
    assert (path.get("y"), path.get("width")) == (None, None)


@pytest.mark.parametrize("encoding", ["utf-8", "iso-8859-1"])
def test_letters_of_any_encoding_stay_as_they_are(encoding: str) -> None:
    text = NEAR.replace("UTF-8", encoding).replace("sketched on the quay", "jetée")
    Path("near.svg").write_bytes(text.encode(encoding))
    plan = plan_of(Path("near.svg"))
    done = mending.mended_drawing(plan, mending.mends(plan)[:1])
    assert done.said == ()
    assert "jetée".encode(encoding) in done.content


def test_a_packed_drawing_is_written_unpacked() -> None:
    Path("near.svg").write_bytes(gzip.compress(NEAR.encode()))
    assert mended("near.svg", 1)[0].startswith("<?xml")


def test_a_size_asked_for_leaves_the_drawing_its_own() -> None:
    plan = api.plan(api.read_block("near.svg", size="12in"))
    done = mending.mended_drawing(plan, mending.mends(plan)[:1])
    assert done.said == ()
    assert b'width="6in"' in done.content
    assert done.block.width_in == pytest.approx(12)


# -- text form --------------------------------------------------------------------------------------------------


def test_the_text_keeps_its_lines_order_and_remarks() -> None:
    before = Path("near.seams").read_text()
    text, said = mended("near.seams", 1)
    assert said == ()
    assert changed(before, text) == [
        "-seam 0, 4 to 6, 4 1/5   # the left arm",
        "-seam (6, 4 1/5) to (12, 4)",
        "-seam 6, 4 1/5 to 6, 12",
        "+seam 0, 4 to 6, 4   # the left arm",
        "+seam (6, 4) to (12, 4)",
        "+seam 6, 4 to 6, 12",
        "+# made by seamwright from [near.seams]",
    ]


def test_a_seam_of_the_text_is_drawn_on_and_its_fabric_laid_on_both_sides() -> None:
    text, said = mended("near.seams", 3)
    assert said == ()
    assert changed(Path("near.seams").read_text(), text) == [
        "-seam 6, 4 1/5 to 6, 12",
        "+seam 6, 0 to 6, 12",
        "+lay sky at 9, 2",
        "+# made by seamwright from [near.seams]",
    ]


def test_windows_line_ends_and_byte_order_mark_do_no_harm() -> None:
    Path("near.seams").write_bytes(b"\xef\xbb\xbf" + Path("near.seams").read_text().replace("\n", "\r\n").encode())
    text, said = mended("near.seams", 1)
    assert said == ()
    assert text.count("\r\n") == text.count("\n")


def test_what_is_left_out_goes_with_its_fabric() -> None:
    lines = [((2, 2), (4, 2)), ((4, 2), (4, 4)), ((4, 4), (2, 4)), ((2, 4), (2, 2)), ((0, 5), (6, 5.5))]
    block = coloured(square_block([((float(a), float(b)), (float(c), float(d))) for (a, b), (c, d) in lines]))
    for name, text in (("island.seams", write_seams(block)), ("island.svg", clean_svg(block, "quay"))):
        Path(name).write_text(text)
        plan = plan_of(Path(name))
        mend = next(m for m in mending.mends(plan) if m.kind == "applique")
        done = mending.mended_drawing(plan, [mend])
        assert done.said == ()
        assert api.plan(done.block).pieceable
        assert len(done.block.patches) == 2
        assert b"sewn on top (applique), lines in inches across, down: (2, 2)" in done.content


# -- both ways, again and again --------------------------------------------------------------------------------


@pytest.mark.parametrize("name", ["near.svg", "near.seams"])
@pytest.mark.parametrize("form", [".svg", ".seams"])
def test_either_form_can_be_written_from_either(name: str, form: str) -> None:
    text, _ = mended(name, 1, form=form)
    Path("out" + form).write_text(text)
    after = plan_of(Path("out" + form))
    assert after.pieceable
    assert fabrics_by_place(after.block)[-1][0] is not None


def stuck_files(seed: int) -> list[Path]:
    block = coloured(cells_of_points(seed, 4 + seed % 2), seed)
    texts = {"a.svg": clean_svg(block, "quay"), "b.svg": polygons_svg(block), "c.seams": write_seams(block)}
    for name, text in texts.items():
        Path(name).write_text(text)
    return [Path(name) for name in texts]


@pytest.mark.parametrize("seed", range(5))
def test_whatever_is_written_reads_back_to_what_was_promised(seed: int) -> None:
    for path in stuck_files(seed):
        plan = plan_of(path)
        for mend in mending.mends(plan)[:2]:
            done = mending.mended_drawing(plan, [mend])
            out = Path("out").with_suffix(path.suffix)
            out.write_bytes(done.content)
            after = plan_of(out)
            assert len(after.obstructions) == len(plan.obstructions) - 1
            assert len(after.block.patches) == len(plan.block.patches) + mend.extra_patches
            if mend.kind != "move a point":
                assert fabrics_by_place(after.block) == fabrics_by_place(plan.block)


@pytest.mark.long
@pytest.mark.parametrize("seed", range(5, 60))
def test_whatever_is_written_reads_back_for_many_more(seed: int) -> None:
    test_whatever_is_written_reads_back_to_what_was_promised(seed)


def test_a_fault_of_ours_leaves_the_verdict_and_is_told(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("seamwright.mend.find.symmetries", lambda block: 1 // 0)
    outcome = mending.with_mends(api.outcome("near.svg"))
    assert (outcome.exit_code, outcome.mends) == (1, ())
    assert outcome.plan is not None
    assert "please report it" in outcome.plan.notes[-1].text


def test_lines_too_near_for_a_drawing_are_offered_as_text(monkeypatch: pytest.MonkeyPatch) -> None:
    plan = plan_of(Path("near.svg"))
    monkeypatch.setattr("seamwright.mend.write.same_map", lambda *_: "planted")
    with pytest.raises(OptionError, match=r"end in \.seams"):
        mending.mended_drawing(plan, mending.mends(plan)[:1])


def test_two_mends_that_move_one_point_to_two_places_are_refused() -> None:
    plan = plan_of(Path("near.svg"))
    first = mending.mends(plan)[0]
    other = replace(first, number=2, moved=((first.moved[0][0], (3.0, 1.9)),))
    with pytest.raises(DrawingError, match="mends 1 and 2 move the point at"):
        mending.apply_mends(plan.block, [first, other])


def test_the_same_mend_gives_the_same_bytes() -> None:
    assert mended("near.svg", 2) == mended("near.svg", 2)


def test_a_drawing_mended_twice_carries_one_mark() -> None:
    Path("harbour.seams").write_text(write_seams(pinwheels(2, 3)))
    assert main(["check", "harbour.seams", "--mend", "1", "-o", "first.seams"]) == 1
    assert main(["check", "first.seams", "--mend", "1", "-o", "second.seams"]) == 0
    assert Path("second.seams").read_text().count("made by seamwright") == 1
    assert made_from(Path("second.seams").read_bytes()) == ("first.seams",)


# -- the command --------------------------------------------------------------------------------------------------


def test_one_mend_for_each_place_leaves_nothing_stuck(capsys: pytest.CaptureFixture[str]) -> None:
    Path("harbour.svg").write_text(clean_svg(pinwheels(3, 4), "quay"))
    best: dict[int, int] = {}
    for mend in mending.mends(plan_of(Path("harbour.svg"))):
        best.setdefault(mend.obstruction, mend.number)
    first, second, third = best.values()
    words = [word for number in best.values() for word in ("--mend", str(number))]
    assert main(["check", "harbour.svg", *words, "-o", "out.svg"]) == 0
    said = capsys.readouterr().out
    assert f"harbour.svg with mend {first}, mend {second} and mend {third} done" in said
    assert "Can be sewn" in said


def test_places_left_are_told(capsys: pytest.CaptureFixture[str]) -> None:
    Path("harbour.svg").write_text(clean_svg(pinwheels(2, 3), "quay"))
    assert main(["check", "harbour.svg", "--mend", "2", "-o", "out.svg"]) == 1
    assert "stuck in 1 place" in capsys.readouterr().out


@pytest.mark.parametrize(
    ("words", "told"),
    [
        (["--mend", "9", "-o", "out.svg"], "no such mend; they go to 4"),
        (["--mend", "one", "-o", "out.svg"], "is no number of a mend"),
        (["--mend", "0", "-o", "out.svg"], "is no number of a mend"),
        (["--mend", "1"], "where should the mended drawing go?"),
        (["-o", "out.svg"], "Say which with --mend"),
        (["--mend", "1", "--mend", "2", "-o", "out.svg"], "for the same place (1)"),
        (["--mend", "1", "-o", "out.pdf"], "Let its name end in .svg or .seams"),
        (["--mend", "1", "-o", "near.svg"], "is the drawing itself"),
        (["--mend", "1", "-o", "nowhere/out.svg"], "there is no folder"),
        (["near.seams", "--mend", "1", "-o", "out.svg"], "one at a time"),
    ],
)
def test_slips_are_told_and_nothing_is_written(
    words: list[str], told: str, capsys: pytest.CaptureFixture[str]
) -> None:
    assert main(["check", "near.svg", *words]) == 2
    assert told in capsys.readouterr().err
    assert Path("near.svg").read_text() == NEAR
    assert not Path("out.svg").exists()


def test_a_drawing_that_is_not_stuck_says_so(capsys: pytest.CaptureFixture[str]) -> None:
    main(["check", "near.svg", "--mend", "1", "-o", "out.svg"])
    assert main(["check", "out.svg", "--mend", "1", "-o", "again.svg"]) == 2
    assert "not stuck" in capsys.readouterr().err
    assert not Path("again.svg").exists()


def test_a_file_of_others_is_written_over_by_force_only() -> None:
    Path("out.svg").write_text("mine")
    assert main(["check", "near.svg", "--mend", "1", "-o", "out.svg"]) == 2
    assert Path("out.svg").read_text() == "mine"
    assert main(["check", "near.svg", "--mend", "1", "-o", "out.svg", "--force"]) == 0
    # What we made of the same drawing may be written over without it.
    assert main(["check", "near.svg", "--mend", "2", "-o", "out.svg"]) == 0
    with pytest.raises(FileError):
        mending.write_mended("near.svg", plan_of(Path("near.svg")), [])
    with pytest.raises(OptionError):
        mending.write_mended("near.png", plan_of(Path("near.svg")), [])


def test_a_name_with_dashes_stays_xml() -> None:
    Path("near--by.svg").write_text(NEAR)
    assert main(["check", "near--by.svg", "--mend", "1", "-o", "out--1.svg"]) == 0
    ElementTree.fromstring(Path("out--1.svg").read_text())
    assert made_from(Path("out--1.svg").read_bytes()) == ("near--by.svg",)


def test_mends_stand_in_the_json(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["check", "near.svg", "--json"]) == 1
    (found,) = json.loads(capsys.readouterr().out)
    first = found["mends"][0]
    assert first["kind"] == "move a point"
    assert first["obstruction"] == 1
    assert first["points_moved_in"] == [[[3.0, 2.1], [3.0, 2.0]]]
    assert (first["seams_in"], first["seams_dropped_in"], first["extra_patches"]) == ([], [], 0)
    assert main(["check", "near.svg", "--json", "--mend", "1", "-o", "out.svg"]) == 0
    (after,) = json.loads(capsys.readouterr().out)
    assert (after["drawing"], after["pieceable"], after["mends"]) == ("out.svg", True, [])


def test_mends_are_pictured(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["check", "near.svg", "--picture", "stuck.svg"]) == 1
    plain = replace(plan_of(Path("near.svg")), notes=())
    assert len(Path("stuck.svg").read_text()) > len(picturing.picture_of(plain))
    assert main(["check", "near.svg", "--mend", "1", "-o", "out.svg", "--picture", "mended.svg"]) == 0
    picture = Path("mended.svg").read_text()
    assert CHANGE in picture
    assert "stroke-dasharray" in picture


def test_a_size_behind_the_name_is_kept(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["check", "near.svg@12in", "--mend", "1", "-o", "out.svg"]) == 0
    assert "12 x 12 in" in capsys.readouterr().out


@pytest.mark.parametrize("form", [".svg", ".seams"])
def test_a_drawing_made_anew_has_numbers_of_six_decimals_at_most(form: str):
    Path("third.seams").write_text(
        "seamwright block 1\nsize 6.1 in\ngrid 3\nseam 0, 0 to 1, 1/2\nseam 3, 0 to 1, 1/2\nseam 1, 1/2 to 2/3, 3\n"
    )
    # In a form other than the drawing's it is made anew.
    Path("third.svg").write_text(
        '<svg xmlns="http://www.w3.org/2000/svg" width="6.1in" height="6.1in" viewBox="0 0 3 3"><path fill="none" '
        'stroke="black" stroke-width=".01" d="M0 0H3V3H0Z M0 0L1 .5 3 0M1 .5L.6666666666 3"/></svg>'
    )
    source = f"third{'.svg' if form == '.seams' else '.seams'}"
    assert main(["check", source, "--mend", "1", "-o", f"out{form}"]) == 0
    written = Path(f"out{form}").read_text()
    assert not re.search(r"\.\d{7}", written)
    assert "2.033333" in written
