"""Reading the finished file back: what is right passes, each planted fault is refused by name."""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import replace
from functools import cache
from io import BytesIO
from typing import Any

import pytest
from pypdf import PdfReader, PdfWriter
from pypdf.generic import FloatObject, NameObject, RectangleObject, StreamObject

from seamwright.errors import ProofError
from seamwright.foundation.make import foundations
from seamwright.geometry import Affine, Point, moved
from seamwright.ink.model import Ink, Pen, Stroke, Words, move_ink
from seamwright.piecing.plan import plan
from seamwright.sheet.aslaid import TOLERANCE_MM
from seamwright.sheet.layout import lay_out
from seamwright.sheet.model import Sheet
from seamwright.sheet.pdf import to_pdf
from seamwright.sheet.readback import read_back
from seamwright.sheet.wanted import bends
from support.by_hand import fan, foundations_by_hand, plan_by_hand, strips

TENTH_MM_PT = 0.1 * 72 / 25.4


@cache
def sheets() -> tuple[Sheet, ...]:
    jobs = []
    for block in (fan(6, 6, "fan"), strips(5, 4, 4, "tide")):
        planned = plan(block)
        jobs.append((planned, foundations(planned)))
    return lay_out(jobs)


@cache
def in_parts() -> tuple[Sheet, ...]:
    block = fan(13, 8)
    planned = plan_by_hand(block, [range(len(block.patches))])
    return lay_out([(planned, foundations_by_hand(planned))])


def printed(changed: tuple[Sheet, ...]) -> bytes:
    return to_pdf(changed, title="t", made_from="m")


def with_ink(ink: list[Ink], which: int = 0) -> tuple[Sheet, ...]:
    return tuple(replace(s, ink=tuple(ink)) if n == which else s for n, s in enumerate(sheets()))


def redrawn(change: Callable[[Stroke], Stroke | None]) -> tuple[Sheet, ...]:
    """The sheets with each stroke of the first changed, or left out."""
    changed = [change(m) if isinstance(m, Stroke) else m for m in sheets()[0].ink]
    return with_ink([m for m in changed if m is not None])


def test_a_true_file_is_measured_to_a_few_thousandths_of_a_millimetre() -> None:
    measured = read_back(printed(sheets()), sheets())
    assert measured.sheets == len(sheets())
    assert measured.points > 60
    # cairo's grid of 1/256 pt is 0.0014 mm
    assert measured.largest_error_mm < 0.003
    assert max(measured.squares_error_mm, measured.lines_error_mm, measured.seams_error_mm) < 0.003


def test_parts_of_a_large_foundation_are_measured_too() -> None:
    large = in_parts()
    assert all(p.tile for s in large for p in s.placed)
    measured = read_back(printed(large), large)
    assert measured.points > 12 * len(large)
    assert measured.seams_error_mm < 0.003


def scaled() -> tuple[Sheet, ...]:
    shrunk: Affine = (0.999, 0.0, 0.0, 0.999, 0.0, 0.0)
    return with_ink([move_ink(mark, shrunk) for mark in sheets()[0].ink])


def scaled_one_way() -> tuple[Sheet, ...]:
    shrunk: Affine = (1.0, 0.0, 0.0, 0.999, 0.0, 0.0)
    return with_ink([move_ink(mark, shrunk) for mark in sheets()[0].ink])


def one_not_mirrored() -> tuple[Sheet, ...]:
    sheet = sheets()[0]
    placed = sheet.placed[0]
    width = max(x for x, _ in placed.foundation.trim_outline)
    own = {move_ink(mark, placed.affine) for mark in placed.foundation.ink if isinstance(mark, Stroke)}
    a, b, c, d, e, f = placed.affine
    # x' = width - x before the print is placed: the front view instead of its mirror image.
    front: Affine = (-a, -b, c, d, e + a * width, f + b * width)
    flipped = [move_ink(mark, front) for mark in placed.foundation.ink]
    kept = [mark for mark in sheet.ink if mark not in own]
    assert len(kept) < len(sheet.ink)
    return with_ink(flipped + kept)


def moved_corner(share: float = 1.0) -> tuple[Sheet, ...]:
    sheet = sheets()[0]
    corner = next(m for m in sheet.ink if isinstance(m, Stroke) and m.closed).points[0]
    there = (corner[0] + share * TENTH_MM_PT, corner[1])
    return redrawn(lambda m: replace(m, points=tuple(there if p == corner else p for p in m.points)))


def square_too_small(which: int, share: float) -> tuple[Sheet, ...]:
    x, y, side = sheets()[0].check_squares_pt[which]
    ring = ((x, y), (x + side, y), (x + side, y + side), (x, y + side))

    def smaller(mark: Stroke) -> Stroke:
        points = tuple((x + share * (px - x), y + share * (py - y)) for px, py in mark.points)
        return replace(mark, points=points) if mark.points == ring else mark

    return redrawn(smaller)


def first_seam() -> tuple[Point, Point]:
    placed = sheets()[0].placed[0]
    a, b = next(s for s in placed.foundation.seams)
    return moved(placed.affine, a), moved(placed.affine, b)


def seam_missing() -> tuple[Sheet, ...]:
    return redrawn(lambda m: None if m.points == first_seam() else m)


def seam_with_a_gap() -> tuple[Sheet, ...]:
    """All but a millimetre in the middle of a seam."""
    (ax, ay), (bx, by) = first_seam()
    share = 0.5 / (math.dist((ax, ay), (bx, by)) * 25.4 / 72)
    ends = [(ax + t * (bx - ax), ay + t * (by - ay)) for t in (0, 0.5 - share, 0.5 + share, 1)]
    kept = [m for m in sheets()[0].ink if not (isinstance(m, Stroke) and m.points == first_seam())]
    return with_ink([*kept, Stroke(Pen.STITCH, (ends[0], ends[1])), Stroke(Pen.STITCH, (ends[2], ends[3]))])


def seam_in_another_pen() -> tuple[Sheet, ...]:
    return redrawn(lambda m: replace(m, pen=Pen.HELPER) if m.points == first_seam() else m)


def line_to_stitch_on_besides() -> tuple[Sheet, ...]:
    (ax, ay), (bx, by) = first_seam()
    off = (bx - ax) / 9, (by - ay) / 9
    more = Stroke(Pen.STITCH, ((ax + off[1], ay - off[0]), (bx + off[1], by - off[0])))
    return with_ink([*sheets()[0].ink, more])


def number_lost() -> tuple[Sheet, ...]:
    number = next(m for m in sheets()[0].placed[0].foundation.ink if isinstance(m, Words))
    lost = next(m for m in sheets()[0].ink if isinstance(m, Words) and m.text == number.text)
    return with_ink([m for m in sheets()[0].ink if m is not lost])


def number_elsewhere() -> tuple[Sheet, ...]:
    number = next(m for m in sheets()[0].placed[0].foundation.ink if isinstance(m, Words))
    lost = next(m for m in sheets()[0].ink if isinstance(m, Words) and m.text == number.text)
    return with_ink(
        [replace(m, at=(m.at[0] + 9.0, m.at[1])) if m is lost else m for m in sheets()[0].ink]  # type: ignore[union-attr]
    )


def line_too_short() -> tuple[Sheet, ...]:
    end = sheets()[0].check_lines_pt[0][1]
    ink = [
        replace(m, points=tuple((p[0] - 0.3, p[1]) if abs(p[0] - end[0]) < 1e-6 else p for p in m.points))
        if isinstance(m, Stroke) and any(p == end for p in m.points)
        else m
        for m in sheets()[0].ink
        if not (isinstance(m, Stroke) and len(m.points) == 2 and m.points[0][0] == m.points[1][0] == end[0])
    ]
    return with_ink(ink)


def left_out() -> tuple[Sheet, ...]:
    sheet = sheets()[0]
    placed = sheet.placed[0]
    own = {move_ink(mark, placed.affine) for mark in placed.foundation.ink if isinstance(mark, Stroke)}
    return with_ink([mark for mark in sheet.ink if mark not in own])


@pytest.mark.parametrize(
    ("fault", "named"),
    [
        pytest.param(scaled, "1 in check square should have a corner", id="a sheet at 0.999"),
        pytest.param(scaled_one_way, "should have a corner", id="a sheet at 0.999 along the feed only"),
        pytest.param(one_not_mirrored, "of fan A should have a corner", id="one foundation not mirrored"),
        pytest.param(moved_corner, "of fan A should have a corner", id="a corner moved 0.1 mm"),
        pytest.param(lambda: square_too_small(1, 0.998), "5 cm check square", id="a check square 0.1 mm too small"),
        pytest.param(lambda: square_too_small(0, 0.99), "1 in check square", id="a check square of 0.99 in"),
        pytest.param(seam_missing, "the seam of fan A should have a corner", id="a missing seam"),
        pytest.param(
            seam_with_a_gap, r"fan A: a line of [01]\.\d+ mm .* of the seam is missing", id="a gap in a seam"
        ),
        pytest.param(seam_in_another_pen, "the seam of fan A should have a corner", id="a seam in another pen"),
        pytest.param(line_to_stitch_on_besides, "is drawn as a stitch line and is none", id="a line besides"),
        pytest.param(number_lost, "fan A: its words .* are not to be found", id="a number lost"),
        pytest.param(number_elsewhere, "fan A: its words .* are not to be found", id="a number elsewhere"),
        pytest.param(line_too_short, "long line", id="a long line 0.1 mm too short"),
        pytest.param(left_out, "fan A", id="a foundation left out"),
    ],
)
def test_a_planted_fault_is_refused_by_name(fault, named: str) -> None:
    with pytest.raises(ProofError, match=f"sheet 1.*{named}") as caught:
        read_back(printed(fault()), sheets())
    assert caught.value.exit_code == 3
    assert "report" in str(caught.value)


def test_a_corner_moved_by_less_than_the_tolerance_is_let_pass_and_measured() -> None:
    measured = read_back(printed(moved_corner(0.05)), sheets())
    assert 0.003 < measured.largest_error_mm < TOLERANCE_MM


def with_a_point_between(off_in: float) -> tuple[Sheet, ...]:
    """The sheets; the first side of the first print's stitch line has a point in its middle, or so far off it."""
    sheet = sheets()[0]
    placed = sheet.placed[0]
    (ax, ay), (bx, by), *rest = placed.foundation.stitch_outline
    share = off_in / math.hypot(bx - ax, by - ay)
    middle = ((ax + bx) / 2 - share * (by - ay), (ay + by) / 2 + share * (bx - ax))
    longer = replace(placed.foundation, stitch_outline=((ax, ay), middle, (bx, by), *rest))
    return (replace(sheet, placed=(replace(placed, foundation=longer), *sheet.placed[1:])), *sheets()[1:])


def test_a_point_in_a_straight_run_need_not_be_a_corner_in_the_file() -> None:
    # Cairo joins pieces of one direction.
    read_back(printed(sheets()), with_a_point_between(0.0))
    with pytest.raises(ProofError, match="the stitch line of fan A should have a corner"):
        read_back(printed(sheets()), with_a_point_between(0.05 / 25.4))


@pytest.mark.parametrize(
    ("line", "bent"),
    [
        (((0, 0), (1, 0), (2, 0)), [(0, 0), (2, 0)]),
        (((0, 0), (2, 0), (1, 0)), [(0, 0), (2, 0), (1, 0)]),
        (((0, 0), (1, 0), (0, 0)), [(0, 0), (1, 0)]),
        (((1, 0), (2, 0), (2, 2), (0, 2), (0, 0), (1, 0)), [(2, 0), (2, 2), (0, 2), (0, 0)]),
    ],
)
def test_a_line_bends_at_its_ends_and_where_it_turns(line: tuple[Point, ...], bent: list[Point]) -> None:
    assert list(bends(line, 1e-6)) == bent


def test_a_page_of_the_wrong_size_is_refused() -> None:
    wrong = tuple(replace(s, height_pt=s.height_pt + 0.3) for s in sheets())
    with pytest.raises(ProofError, match="off its size"):
        read_back(printed(wrong), sheets())


def rewritten(change: Callable[[PdfWriter, Any], None]) -> bytes:
    """The true file after something was done to its first page."""
    writer = PdfWriter(clone_from=PdfReader(BytesIO(printed(sheets()))))
    change(writer, writer.pages[0])
    out = BytesIO()
    writer.write(out)
    return out.getvalue()


def drawn_after(more: bytes) -> Callable[[PdfWriter, Any], None]:
    """Adds operators at the end of a page."""

    def change(writer: PdfWriter, page: Any) -> None:
        stream = StreamObject()
        stream.set_data(more)
        page["/Contents"].get_object().append(writer._add_object(stream))

    return change


def replaced(old: bytes, new: bytes) -> Callable[[PdfWriter, Any], None]:
    """Exchanges the first of some operators of a page."""

    def change(writer: PdfWriter, page: Any) -> None:
        data = page.get_contents().get_data()
        assert old in data
        stream = StreamObject()
        stream.set_data(data.replace(old, new, 1))
        page[NameObject("/Contents")] = writer._add_object(stream)

    return change


@pytest.mark.parametrize(
    ("change", "named"),
    [
        pytest.param(lambda w, p: p.rotate(90), "rotated by a flag", id="a Rotate flag"),
        pytest.param(
            lambda w, p: p.update({NameObject("/UserUnit"): FloatObject(1.01)}), "unit of its own", id="a UserUnit"
        ),
        pytest.param(
            lambda w, p: p.update({NameObject("/CropBox"): RectangleObject((0, 0, 600, 780))}),
            "off its size",
            id="a smaller crop box",
        ),
        pytest.param(lambda w, p: w.root_object.pop("/ViewerPreferences"), "leave its scale alone", id="no hint"),
        pytest.param(
            drawn_after(b"q 0.9 w 100 100 m 200 230 l S Q"), "stitch line and is none", id="a line besides"
        ),
        pytest.param(drawn_after(b"q 2 w 9 9 m 90 9 l S Q"), "drawn besides", id="a line in a pen of its own"),
        pytest.param(drawn_after(b"1 g 0 0 300 300 re f"), "area .* drawn besides", id="a white cover"),
        pytest.param(drawn_after(b"1 1 m 9 9 9 1 1 9 c S"), "a curve, which cannot be measured", id="a curve"),
        pytest.param(replaced(b"BT", b"3 Tr BT"), "words", id="words that do not show"),
        pytest.param(replaced(b"0.9 w", b"0.3 w"), "missing", id="another pen"),
        pytest.param(replaced(b"[ 7 3] 0 d", b"[] 0 d"), "missing", id="a dashed line that comes out solid"),
        pytest.param(replaced(b"q\n", b"q 0 0 50 50 re W n "), "a clip, which cannot", id="a clip"),
    ],
)
def test_a_file_that_was_tampered_with_is_refused_by_name(change, named: str) -> None:
    with pytest.raises(ProofError, match=named):
        read_back(rewritten(change), sheets())


def test_a_file_that_was_only_copied_is_let_pass() -> None:
    assert read_back(rewritten(lambda w, p: None), sheets()) == read_back(printed(sheets()), sheets())


def test_words_that_no_part_shows_are_missed() -> None:
    large = in_parts()
    number = next(m for m in large[0].placed[0].foundation.ink if isinstance(m, Words))
    without = tuple(
        replace(s, ink=tuple(m for m in s.ink if not (isinstance(m, Words) and m.text == number.text)))
        for s in large
    )
    with pytest.raises(ProofError, match=f'none of its parts shows its words "{number.text}"'):
        read_back(printed(without), without)


def test_a_missing_page_is_refused() -> None:
    with pytest.raises(ProofError, match=r"\d pages for \d sheets"):
        read_back(printed(sheets()[:-1]), sheets())


@pytest.mark.parametrize(
    ("values", "named"),
    [
        pytest.param({"check_squares_pt": ()}, "no check square of 1 in", id="no squares"),
        pytest.param({"check_lines_pt": ()}, "no long line", id="no lines"),
    ],
)
def test_sheets_that_ask_for_no_proof_of_scale_are_refused(values: dict, named: str) -> None:
    bare = (replace(sheets()[0], **values), *sheets()[1:])
    with pytest.raises(ProofError, match=named):
        read_back(printed(sheets()), bare)


def test_a_print_that_is_scaled_in_its_sheet_is_refused_though_the_file_agrees() -> None:
    sheet = sheets()[0]
    placed = sheet.placed[0]
    a, b, c, d, e, f = placed.affine
    wrong = replace(placed, affine=(1.001 * a, 1.001 * b, 1.001 * c, 1.001 * d, e, f))
    with pytest.raises(ProofError, match="scaled or turned over"):
        read_back(printed(sheets()), (replace(sheet, placed=(wrong, *sheet.placed[1:])), *sheets()[1:]))


def test_a_front_view_is_not_to_be_sewn_on() -> None:
    sheet = sheets()[0]
    placed = sheet.placed[0]
    front = replace(placed.foundation, front=(1.0, 0.0, 0.0, 1.0, 0.0, 0.0))
    wrong = replace(sheet, placed=(replace(placed, foundation=front), *sheet.placed[1:]))
    with pytest.raises(ProofError, match="to be sewn on and not mirrored"):
        read_back(printed(sheets()), (wrong, *sheets()[1:]))


def test_a_seam_that_the_print_itself_forgot_is_missed_by_its_patches() -> None:
    sheet = sheets()[0]
    placed = sheet.placed[0]
    print_ = placed.foundation
    seams, drawn = print_.seams[1:], first_seam()
    forgetful = replace(
        print_, seams=seams, ink=tuple(m for m in print_.ink if getattr(m, "points", ()) != print_.seams[0])
    )
    ink = tuple(m for m in sheet.ink if not (isinstance(m, Stroke) and m.points == drawn))
    wrong = (
        replace(sheet, ink=ink, placed=(replace(placed, foundation=forgetful), *sheet.placed[1:])),
        *sheets()[1:],
    )
    with pytest.raises(ProofError, match="the border of a patch of fan A should have a corner"):
        read_back(printed(wrong), wrong)
