"""Reading the finished file back: what is right passes, each planted fault is refused by name."""

from __future__ import annotations

from dataclasses import replace
from functools import cache

import pytest

from seamwright.errors import ProofError
from seamwright.foundation.make import foundations
from seamwright.geometry import Affine
from seamwright.ink.model import Ink, Stroke, move_ink
from seamwright.piecing.plan import plan
from seamwright.sheet.layout import lay_out
from seamwright.sheet.model import Sheet
from seamwright.sheet.pdf import to_pdf
from seamwright.sheet.readback import TOLERANCE_MM, read_back, stroked_paths
from support.by_hand import fan, foundations_by_hand, plan_by_hand, strips

TENTH_MM_PT = 0.1 * 72 / 25.4


@cache
def sheets() -> tuple[Sheet, ...]:
    jobs = []
    for block in (fan(6, 6, "fan"), strips(5, 4, 4, "tide")):
        planned = plan(block)
        jobs.append((planned, foundations(planned)))
    return lay_out(jobs)


def printed(changed: tuple[Sheet, ...]) -> bytes:
    return to_pdf(changed, title="t", made_from="m")


def with_ink(ink: list[Ink], which: int = 0) -> tuple[Sheet, ...]:
    return tuple(replace(s, ink=tuple(ink)) if n == which else s for n, s in enumerate(sheets()))


def test_a_true_file_is_measured_to_a_few_thousandths_of_a_millimetre() -> None:
    measured = read_back(printed(sheets()), sheets())
    assert measured.sheets == len(sheets())
    assert measured.points > 60
    # cairo's grid of 1/256 pt is 0.0014 mm
    assert measured.largest_error_mm < 0.003
    assert max(measured.squares_error_mm, measured.lines_error_mm, measured.seams_error_mm) < 0.003


def test_parts_of_a_large_foundation_are_measured_too() -> None:
    block = fan(13, 8)
    planned = plan_by_hand(block, [range(len(block.patches))])
    large = lay_out([(planned, foundations_by_hand(planned))])
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
    ink = [
        replace(m, points=tuple(there if p == corner else p for p in m.points)) if isinstance(m, Stroke) else m
        for m in sheet.ink
    ]
    return with_ink(ink)


def square_too_small() -> tuple[Sheet, ...]:
    x, y, side = sheets()[0].check_squares_pt[1]
    corner = (x + side, y + side)
    ink = [
        replace(m, points=tuple((p[0] - TENTH_MM_PT, p[1]) if p == corner else p for p in m.points))
        if isinstance(m, Stroke)
        else m
        for m in sheets()[0].ink
    ]
    return with_ink(ink)


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
        pytest.param(scaled, "should have a corner", id="a sheet at 0.999"),
        pytest.param(scaled_one_way, "should have a corner", id="a sheet at 0.999 along the feed only"),
        pytest.param(one_not_mirrored, "fan A, .* should have a corner", id="one foundation not mirrored"),
        pytest.param(moved_corner, "fan A.* should have a corner", id="a corner moved 0.1 mm"),
        pytest.param(square_too_small, "5 cm check square", id="a check square 0.1 mm too small"),
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
    measured = read_back(printed(moved_corner(0.3)), sheets())
    assert 0.025 < measured.largest_error_mm < TOLERANCE_MM


def test_a_page_of_the_wrong_size_is_refused() -> None:
    wrong = tuple(replace(s, height_pt=s.height_pt + 0.3) for s in sheets())
    with pytest.raises(ProofError, match="off its size"):
        read_back(printed(wrong), sheets())


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


def test_operators_are_followed_through_saved_and_changed_coordinates() -> None:
    # ISO 32000-1, 8.3.4: a matrix given later applies first.
    content = (
        b"q 2 0 0 2 10 10 cm q 1 0 0 -1 0 5 cm 1 2 m 3 4 l S Q 1 1 m 2 1 l 2 2 l h S Q 0 0 3 4 re B 9 9 m 8 8 l f"
    )
    assert list(stroked_paths(content)) == [
        [(12.0, 16.0), (16.0, 12.0)],
        [(12.0, 12.0), (14.0, 12.0), (14.0, 14.0)],
        [(0.0, 0.0), (3.0, 0.0), (3.0, 4.0), (0.0, 4.0)],
    ]
