"""What is really on the paper: every line to stitch on, measured on rendered pages against the block itself.

The block's own points, through each foundation's `front` and its place on the sheet, say where lines should be.
Three engines (four where time does not count) show where they are, at 600 dots to the inch: at most 0.05 mm apart.
The corners are looked for among the file's own drawing operators too, as MuPDF reads them: at most 0.01 mm.
"""

from __future__ import annotations

import math
import re
import shutil
from collections.abc import Callable
from dataclasses import dataclass, replace
from fractions import Fraction
from functools import cache

import numpy as np
import pymupdf
import pytest
from PIL import Image

from seamwright.foundation.make import foundations
from seamwright.geometry import Affine, moved
from seamwright.ink.model import Stroke, move_ink
from seamwright.options import Fit, PlanOptions, PrintOptions, Size
from seamwright.piecing.model import Plan
from seamwright.sheet.layout import lay_out
from seamwright.sheet.model import Sheet
from seamwright.sheet.pdf import to_pdf
from support.measure import (
    DPI,
    ENGINES,
    PROGRAMS,
    Errors,
    Page,
    corner_error_mm,
    errors_of,
    page_affine,
    true_lines,
)
from support.prints import DESIGNS, designs, planned

PICTURE_MM, OPERATORS_MM = 0.05, 0.01
TENTH_MM_PT = 0.1 * 72 / 25.4
SEWN = [path.name for path in designs() if path.name not in ("breakwater.seams", "sea-urchin.svg")]
"""All designs but the two that are there because they cannot be sewn."""


def engine(name: str) -> str:
    """The engine, if this machine has it."""
    program = PROGRAMS.get(name)
    if program and shutil.which(program) is None:
        pytest.skip(f"{name} is not installed")
    return name


def printed(
    plan: Plan, printing: PrintOptions | None = None, paper: str = "letter"
) -> tuple[tuple[Sheet, ...], bytes]:
    sheets = lay_out([(plan, foundations(plan, printing))], paper=paper, printing=printing)
    return sheets, to_pdf(sheets, title=plan.block.name, made_from="test")


@cache
def kite() -> tuple[Plan, Sheet, bytes]:
    """A small block and the first sheet of it, which holds one foundation or both."""
    plan = planned(DESIGNS / "kite.svg")
    sheets, _ = printed(plan)
    return plan, sheets[0], to_pdf(sheets[:1], title="kite", made_from="test")


def measured(plan: Plan, sheets: tuple[Sheet, ...], pdf: bytes, name: str) -> Errors:
    """The largest errors over all pages of a file, seen by one engine."""
    errors = Errors()
    for number, sheet in enumerate(sheets):
        errors |= errors_of(Page(ENGINES[name](pdf, number, DPI), sheet), plan)
    return errors


def keeps_to_the_tolerance(errors: Errors) -> None:
    assert errors.squares[0] <= PICTURE_MM, errors.squares
    assert errors.lines[0] <= PICTURE_MM, errors.lines
    assert errors.stitches[0] <= PICTURE_MM, errors.stitches


@pytest.mark.parametrize(
    "name", ["poppler", "pdfium", "MuPDF", pytest.param("Ghostscript", marks=pytest.mark.long)]
)
def test_squares_long_lines_and_stitch_lines_are_where_the_block_has_them(name: str) -> None:
    plan, sheet, pdf = kite()
    errors = measured(plan, (sheet,), pdf, engine(name))
    keeps_to_the_tolerance(errors)
    assert errors.measured == errors.lines_in_all >= 6
    # ANSI/ASME Y14.1, size A: 8.5 x 11 in.
    assert ENGINES[name](pdf, 0, 60).shape == (660, 510)


@pytest.mark.parametrize("name", ["kite.svg", "pennant.svg", "whirlpool.seams"])
def test_all_corners_of_the_block_are_among_the_operators(name: str) -> None:
    plan = planned(DESIGNS / name)
    sheets, pdf = printed(plan)
    worst = max(corner_error_mm(pdf, number, sheet, plan) for number, sheet in enumerate(sheets))
    assert worst[0] <= OPERATORS_MM, worst[1]


def test_true_lines_are_those_drawn() -> None:
    """A square with a diagonal cross: drawn as two diagonals, found as two, not as four halves."""
    from support.exact import exact_block

    block = exact_block([((0, 0), (4, 4)), ((4, 0), (0, 4))], ((0, 0), (4, 0), (4, 4), (0, 4)), "cross")
    from support.by_hand import plan_by_hand

    plan = plan_by_hand(block, [range(4)])
    lines = {frozenset((a, b)) for a, b in true_lines(plan, "A")}
    corners = [(0.0, 0.0), (4.0, 0.0), (4.0, 4.0), (0.0, 4.0)]
    sides = {frozenset(side) for side in zip(corners, corners[1:] + corners[:1], strict=True)}
    assert lines == sides | {frozenset((corners[0], corners[2])), frozenset((corners[1], corners[3]))}


# -- the whole, over all designs -------------------------------------------------------------------------------

WAYS: list[tuple[str, PrintOptions, PlanOptions]] = [
    ("as it comes", PrintOptions(), PlanOptions()),
    ("in parts", PrintOptions(), PlanOptions(size=Size(14.0), fit=Fit.NONE)),
    ("A4, on its long side", PrintOptions(landscape=True), PlanOptions(paper="a4")),
    ("front views", PrintOptions(unmirrored=True), PlanOptions()),
    ("tinted", PrintOptions(tints=True, upright=True), PlanOptions()),
    ("ink saved", PrintOptions(ink_saver=True, copies=2), PlanOptions()),
]
EVERYWHERE = ("as it comes",)
ELSEWHERE = ("kite.svg", "beacon.seams", "lamp.seams", "lighthouse-beam.svg")
"""Designs that stand for all where prints are laid in other ways: plain, tall, curved, metric."""


@pytest.mark.long
@pytest.mark.parametrize("name", SEWN)
@pytest.mark.parametrize(("way", "printing", "options"), WAYS, ids=[way for way, *_ in WAYS])
def test_every_design_is_true_as_engines_show_it_and_in_its_operators(
    name: str, way: str, printing: PrintOptions, options: PlanOptions
) -> None:
    if way not in EVERYWHERE and name not in ELSEWHERE:
        pytest.skip("other designs stand for it")
    plan = planned(DESIGNS / name, options)
    sheets, pdf = printed(plan, printing, options.paper)
    worst = max(corner_error_mm(pdf, number, sheet, plan) for number, sheet in enumerate(sheets))
    assert worst[0] <= OPERATORS_MM, worst[1]
    for seen_by in ENGINES if way in EVERYWHERE else ("pdfium", "MuPDF"):
        errors = measured(plan, sheets, pdf, engine(seen_by))
        keeps_to_the_tolerance(errors)
        # Lines with other ink near all along them cannot be measured in pictures, only in the operators.
        assert errors.measured >= 0.9 * errors.lines_in_all


# -- planted faults --------------------------------------------------------------------------------------------


def faulty(change: Callable[[Sheet], Sheet]) -> Errors:
    """What is measured on the page of a sheet with a fault, by the sheet as it should be."""
    plan, sheet, _ = kite()
    pdf = to_pdf([change(sheet)], title="t", made_from="m")
    return errors_of(Page(ENGINES["pdfium"](pdf, 0, DPI), sheet), plan)


def with_strokes(sheet: Sheet, change: Callable[[Stroke], Stroke | None]) -> Sheet:
    changed = [change(mark) if isinstance(mark, Stroke) else mark for mark in sheet.ink]
    return replace(sheet, ink=tuple(mark for mark in changed if mark is not None))


def test_a_sheet_at_0_999_is_found_by_its_long_lines_and_stitch_lines() -> None:
    shrunk: Affine = (0.999, 0.0, 0.0, 0.999, 0.0, 0.0)
    errors = faulty(lambda sheet: replace(sheet, ink=tuple(move_ink(mark, shrunk) for mark in sheet.ink)))
    assert errors.lines[0] == pytest.approx(0.1524, abs=0.01)
    assert errors.stitches[0] > PICTURE_MM


def test_a_foundation_that_is_not_mirrored_is_found_by_its_stitch_lines() -> None:
    def front(sheet: Sheet) -> Sheet:
        placed = sheet.placed[-1]
        own = {move_ink(mark, placed.affine) for mark in placed.foundation.ink if isinstance(mark, Stroke)}
        width = max(x for x, _ in placed.foundation.trim_outline)
        a, b, c, d, e, f = placed.affine
        turned: Affine = (-a, -b, c, d, e + a * width, f + b * width)
        ink = [mark for mark in sheet.ink if mark not in own]
        return replace(sheet, ink=(*ink, *(move_ink(mark, turned) for mark in placed.foundation.ink)))

    errors = faulty(front)
    section = kite()[1].placed[-1].foundation.section
    assert (errors.stitches[0], errors.stitches[1].split()[0]) == (math.inf, section)


def test_a_print_whose_front_is_no_mirror_image_is_found_before_it_is_rendered() -> None:
    _, sheet, _ = kite()
    placed = sheet.placed[0]
    a, b, c, d, _, f = placed.foundation.front
    wrong = replace(placed, foundation=replace(placed.foundation, front=(-a, b, -c, d, 0.0, f)))
    with pytest.raises(AssertionError, match="mirrored or not"):
        page_affine(wrong)


def test_a_corner_moved_by_a_tenth_of_a_millimetre_is_found_by_the_lines_that_end_in_it() -> None:
    _, sheet, pdf = kite()
    placed = sheet.placed[0]
    # Inside the section, so that nothing but stitch lines is there.
    corner = moved(placed.affine, placed.foundation.seams[0][1])

    def move(mark: Stroke) -> Stroke:
        ends = [
            (x + TENTH_MM_PT, y + TENTH_MM_PT) if math.dist((x, y), corner) < 1e-6 else (x, y)
            for x, y in mark.points
        ]
        return replace(mark, points=tuple(ends))

    errors = faulty(lambda sheet: with_strokes(sheet, move))
    assert PICTURE_MM < errors.stitches[0] < 0.15
    assert errors.stitches[1].split()[0] == placed.foundation.section
    plan, moved_sheet = kite()[0], with_strokes(sheet, move)
    found = corner_error_mm(to_pdf([moved_sheet], title="t", made_from="m"), 0, sheet, plan)
    assert found[0] == pytest.approx(0.1 * math.sqrt(2), abs=0.01)
    assert corner_error_mm(pdf, 0, sheet, plan)[0] < OPERATORS_MM


def test_a_missing_seam_is_found() -> None:
    _, sheet, _ = kite()
    placed = sheet.placed[0]
    seam = tuple(moved(placed.affine, p) for p in placed.foundation.seams[-1])
    errors = faulty(lambda sheet: with_strokes(sheet, lambda mark: None if mark.points == seam else mark))
    assert (errors.stitches[0], errors.stitches[1].split()[0]) == (math.inf, placed.foundation.section)


def test_a_check_square_of_0_99_in_is_found() -> None:
    def smaller(sheet: Sheet) -> Sheet:
        x, y, side = sheet.check_squares_pt[0]
        ring = ((x, y), (x + side, y), (x + side, y + side), (x, y + side))
        shrunk = tuple((x + 0.99 * (px - x), y + 0.99 * (py - y)) for px, py in ring)
        return with_strokes(sheet, lambda mark: replace(mark, points=shrunk) if mark.points == ring else mark)

    errors = faulty(smaller)
    assert errors.squares == (pytest.approx(0.254, abs=0.01), "25.4 mm square")
    assert errors.stitches[0] < PICTURE_MM


def test_a_print_in_another_place_than_its_sheet_says_is_found() -> None:
    def shifted(sheet: Sheet) -> Sheet:
        a, b, c, d, e, f = sheet.placed[0].affine
        return replace(sheet, placed=(replace(sheet.placed[0], affine=(a, b, c, d, e + 0.2, f)), *sheet.placed[1:]))

    plan, sheet, pdf = kite()
    errors = errors_of(Page(ENGINES["pdfium"](pdf, 0, DPI), shifted(sheet)), plan)
    assert errors.stitches[0] == pytest.approx(0.2 * 25.4 / 72, abs=0.01)


# -- a print scaled by mistake ---------------------------------------------------------------------------------


def shrunken(grey: np.ndarray, scale: float) -> np.ndarray:
    """The page as a print dialog shrinks it: about its middle, white all round."""
    high, wide = grey.shape
    small = Image.fromarray(grey).resize((round(wide * scale), round(high * scale)), Image.Resampling.BICUBIC)
    page = Image.new("L", (wide, high))
    page.paste(small, ((wide - small.width) // 2, (high - small.height) // 2))
    return np.asarray(page)


@dataclass(frozen=True)
class Said:
    """What a sheet says of a long line: its inches, what a print at some scale reads in inches and centimetres.

    Attributes:
        tick_cm: where the tick is that the centimetres speak of; None: they are of the whole line.
    """

    inches: int
    tick_cm: int | None
    reads_in: Fraction
    reads_cm: float


def sayings(text: str, percent: int) -> list[Said]:
    """All that a sheet says of its long lines at 97 % or 94 %."""
    whole = r"(\d) in (?:and (\d+) cm|\([\d.]+ cm\))\. (?:Shrunk to|At)"
    reading = r"([\d /]+?) in (?:and |\()([\d.]+) cm\)?"
    says = "(?:| they read| it reads|:)"
    found = re.findall(rf"{whole} 97 %{says} {reading}, (?:to|at) 94 %{says} {reading}", text)
    return [
        Said(
            int(inches),
            int(tick) if tick else None,
            sum(map(Fraction, read[0].split()), Fraction(0)),
            float(read[1]),
        )
        for inches, tick, *reads in found
        for read in [reads[:2] if percent == 97 else reads[2:]]
    ]


def text_on(pdf: bytes) -> str:
    return " ".join(pymupdf.open(stream=pdf)[0].get_text().split())


@pytest.mark.parametrize("percent", [97, 94])
@pytest.mark.parametrize("paper", ["letter", "a5"])
def test_a_print_scaled_by_mistake_is_found_from_the_sheet_alone(paper: str, percent: int) -> None:
    """Read as on a ruler: to the nearest 1/16 in, to the nearest 0.5 mm."""
    if paper == "letter":
        _, sheet, pdf = kite()
    else:
        plan = planned(DESIGNS / "pennant.svg", PlanOptions(paper=paper, size=Size(3.0)))
        (sheet, *_), pdf = printed(plan, paper=paper)
    whole = ENGINES["pdfium"](pdf, 0, 300)
    true, page = Page(whole, sheet, 300), Page(shrunken(whole, percent / 100), sheet, 300, printed_at=percent / 100)
    told = sayings(text_on(pdf), percent)
    for a, b in sheet.check_lines_pt:
        inches = round(math.dist(a, b) / 72)
        assert true.length_mm(a, b) == pytest.approx(25.4 * inches, abs=PICTURE_MM)
        ours = [one for one in told if one.inches == inches]
        assert ours, "nothing is said of this line"
        assert {one.reads_in for one in ours} == {Fraction(round(page.length_mm(a, b) / 25.4 * 16), 16)}
        for one in ours:
            share = 1.0 if one.tick_cm is None else one.tick_cm / 2.54 / inches
            mark = (a[0] + share * (b[0] - a[0]), a[1] + share * (b[1] - a[1]))
            if one.tick_cm is None or has_tick(sheet, mark):
                assert page.length_mm(a, mark) == pytest.approx(10 * one.reads_cm, abs=0.25)


def has_tick(sheet: Sheet, at: tuple[float, float]) -> bool:
    """Whether a short stroke runs across that place."""
    strokes = [m.points for m in sheet.ink if isinstance(m, Stroke) and len(m.points) == 2]
    return any(
        math.dist(a, b) < 9 and math.dist(((a[0] + b[0]) / 2, (a[1] + b[1]) / 2), at) < 0.01 for a, b in strokes
    )


def test_the_words_about_long_lines_are_those_of_a_ruler() -> None:
    """97 % of 6 in is 5.82 in, nearest 5 13/16; of 15 cm 14.55 cm. 94 %: 5.64 in, nearest 5 5/8; 14.1 cm."""
    plan = planned(DESIGNS / "pennant.svg", PlanOptions(size=Size(3.0)))
    text = text_on(printed(plan)[1])
    assert Said(6, 15, Fraction(93, 16), 14.55) in sayings(text, 97)
    assert Said(6, 15, Fraction(45, 8), 14.1) in sayings(text, 94)
