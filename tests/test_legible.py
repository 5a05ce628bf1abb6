"""Type and lines that an eye, a copier and a printer can tell: measured on every print, however small the block."""

from __future__ import annotations

import io
import re
from collections import Counter
from dataclasses import replace
from functools import cache
from itertools import combinations
from pathlib import Path

import pymupdf
import pypdfium2
import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st
from pypdf import PdfReader
from shapely.geometry import LineString, MultiLineString, Polygon

from seamwright.block.model import Block
from seamwright.foundation.common import common_to
from seamwright.foundation.laying import NAMELESS
from seamwright.foundation.make import foundations
from seamwright.foundation.model import Foundation
from seamwright.foundation.numbers import NUMBER_PT
from seamwright.foundation.words import ordinal
from seamwright.ink.lettering import looks_turned
from seamwright.ink.model import Area, Pen, Stroke, Words
from seamwright.options import Fit, PlanOptions, Size
from seamwright.piecing.plan import plan
from seamwright.sheet.layout import lay_out
from seamwright.sheet.model import Sheet
from seamwright.sheet.pdf import to_pdf
from support.prints import (
    DESIGNS,
    box_of,
    designs,
    faults_of,
    patch_polygon,
    planned,
    printed,
    strokes_of,
    words_of,
)
from support.random_blocks import OUTLINES, random_lines

LETTERS = "ABCDEFGHJKLMNPQRSTUVWXYZr"
ROOMY_IN = 3 / 8
LEAST_PT, LEAST_PEN_PT = 7.0, 0.5
INCHES = [3.0, *(pytest.param(inches, marks=pytest.mark.long) for inches in (4.5, 6.0, 12.0))]


def prints(path: Path, inches: float | None) -> tuple[Foundation, ...]:
    size = Size(inches) if inches else None
    return printed(path, PlanOptions(set_in=True, fit=Fit.NONE, size=size))


def own_number(print_: Foundation, place: int) -> list[Words]:
    """The numbers on a print that say this place in the order."""
    return [
        words
        for words in words_of(print_)
        if words.bold
        and words.size_pt <= NUMBER_PT
        and words.text.lstrip("ABCDEFGHJKLMNPQRSTUVWXYZr") == str(place)
    ]


def leaders(print_: Foundation) -> list[LineString]:
    """Helper lines that end in a small dot."""
    dots = [Polygon(ink.rings[0]) for ink in print_.ink if isinstance(ink, Area) and len(ink.rings[0]) == 12]
    helpers = [LineString(ink.points) for ink in print_.ink if isinstance(ink, Stroke) and ink.pen is Pen.HELPER]
    return [line for line in helpers if any(dot.covers(shapely.Point(line.coords[-1])) for dot in dots)]


def judge(print_: Foundation) -> Counter[str]:
    """Everything that must hold of any print; returns how many patches, leaders and small numbers there are."""
    assert list(faults_of(print_)) == []
    found: Counter[str] = Counter()
    numbers = [w for w in words_of(print_) if w.bold and w.size_pt <= NUMBER_PT and w.text != print_.label]
    assert {w.angle_deg for w in numbers} <= {0.0}, "all of one section the same way up"
    for place, patch in enumerate(print_.patches, start=1):
        inside = patch_polygon(patch.outline)
        own = [w for w in own_number(print_, place) if inside.contains(box_of(w))]
        circle = shapely.maximum_inscribed_circle(Polygon(patch.outline), tolerance=1e-3).length
        assert own or 2 * circle < ROOMY_IN, (
            f"{print_.section}{place}: {2 * circle:.3f} in across, and no number inside"
        )
        found["patches"] += 1
        found["led"] += not own
        for words in own:
            found[f"{words.size_pt:g} pt"] += 1
            assert words.underline == looks_turned(words.text)
    for words in words_of(print_):
        assert words.size_pt >= LEAST_PT
        assert words.colour == "#000000"
    for ink in print_.ink:
        if isinstance(ink, Stroke):
            assert ink.pen.value.width_pt >= LEAST_PEN_PT
            assert ink.colour == "#000000"
        if isinstance(ink, Area):
            assert ink.colour == "#000000"
    return found


@pytest.mark.parametrize("inches", INCHES)
@pytest.mark.parametrize("path", designs(), ids=lambda path: path.stem)
def test_every_word_is_clear_and_every_number_in_its_patch(path: Path, inches: float) -> None:
    for print_ in prints(path, inches):
        judge(print_)


def test_few_numbers_need_a_leader_and_none_shrinks_before_its_letter_goes() -> None:
    found = sum((judge(p) for path in designs() for p in prints(path, 3.0)), Counter[str]())
    assert found["patches"] > 400
    assert found["led"] < 0.05 * found["patches"], found
    for path in designs():
        for print_ in prints(path, 3.0):
            for place, _ in enumerate(print_.patches, start=1):
                for words in own_number(print_, place):
                    led = any(line.distance(box_of(words)) < 1e-6 for line in leaders(print_))
                    assert words.size_pt == NUMBER_PT or led or words.text == str(place)


@settings(derandomize=True, deadline=None, max_examples=12)
@given(
    seed=st.integers(0, 10_000),
    outline=st.sampled_from(sorted(OUTLINES)),
    lines=st.integers(2, 9),
    share=st.sampled_from([0.5, 1.0]),
)
def test_random_blocks_are_as_legible(seed: int, outline: str, lines: int, share: float) -> None:
    for print_ in foundations(plan(_smaller(random_lines(seed, lines, OUTLINES[outline], whole=0.6), share))):
        judge(print_)


@pytest.mark.long
@pytest.mark.parametrize("first", range(0, 200, 25))
def test_many_random_blocks_are_as_legible(first: int) -> None:
    for seed in range(first, first + 25):
        for outline in OUTLINES.values():
            for share in (0.5, 1.0):
                for print_ in foundations(plan(_smaller(random_lines(seed, 3 + seed % 7, outline, 0.6), share))):
                    judge(print_)


def _smaller(block: Block, share: float) -> Block:
    points = tuple((x * share, y * share) for x, y in block.points)
    return replace(block, points=points, width_in=block.width_in * share, height_in=block.height_in * share)


@pytest.mark.parametrize("inches", INCHES)
@pytest.mark.parametrize("path", designs(), ids=lambda path: path.stem)
def test_edges_of_an_inch_or_less_have_no_words_and_the_legend_says_what_they_join(
    path: Path, inches: float
) -> None:
    made = planned(path, PlanOptions(set_in=True, fit=Fit.NONE, size=Size(inches)))
    common = common_to(made)
    shared = Counter(place.section.name for places in common.drawings for place in places[:1] for _ in places)
    for print_ in prints(path, inches):
        short, long = set(), set()
        for stretch in common.borders[print_.section]:
            if stretch.neighbour:
                (long if stretch.length_in > 1 else short).add((stretch.neighbour, stretch.join))
        texts = {w.text for w in words_of(print_)}
        legend = " ".join(print_.legend)
        for name, join in short - long:
            if shared[print_.section] == 1:
                assert f"{ordinal(join or 0)}: to {name}" not in texts
            assert f"{name} ({ordinal(join or 0)})" in legend


def marks_of(print_: Foundation) -> dict[str, MultiLineString]:
    """The marks for the fabric of each patch that has any, by what the paper calls it."""
    return {
        f"{print_.print}{'r' * print_.reversed}{number}": MultiLineString([*one.ticks, *one.legs, *one.middles])
        for number, patch in enumerate(print_.patches, start=1)
        if (one := patch.laid) is not None and (one.ticks or one.legs or one.middles)
    }


@pytest.mark.parametrize("inches", [3.0, None, pytest.param(6.0, marks=pytest.mark.long)])
def test_marks_for_laying_have_names_neither_underlined_nor_taken_for_fabrics(
    inches: float | None,
) -> None:
    found: Counter[str] = Counter()
    for print_ in (p for path in designs() for p in prints(path, inches)):
        marks, lines = marks_of(print_), strokes_of(print_)
        boxes = [box_of(words) for words in words_of(print_)]
        named: Counter[str] = Counter()
        for words in words_of(print_):
            if words.text.startswith("lay "):
                box = box_of(words)
                near = min(box.distance(other) for other in [*lines, *boxes] if not other.equals(box))
                # Half of a pen of 0.9 pt is left of a point of white.
                assert near > (1.0 - 0.01) / 72, f"{print_.section}: {words.text}"
                named[words.text.removeprefix("lay ")] += 1
                found["roomy"] += near > 1.7 / 72
        found["names"] += sum(named.values())
        assert set(named) <= set(marks)
        told = " ".join(line for line in print_.legend if line.startswith(NAMELESS))
        for name in marks:
            assert named[name] or re.search(rf"\b{name}\b", told), f"{print_.section}: {name} is not named"
        found["marked"] += len(marks)
        found["unnamed"] += len(set(marks) - set(named))
    assert found["marked"] > 50
    if inches is None:
        assert found["roomy"] > 0.85 * found["names"], found
        assert found["unnamed"] == 0, found


@pytest.mark.parametrize("inches", [3.0, None])
def test_the_middle_of_an_edge_is_a_tick_across_dots_and_no_words_lie_on_them(inches: float | None) -> None:
    met = 0
    for print_ in (p for path in designs() for p in prints(path, inches)):
        dots = strokes_of(print_, Pen.LAID)
        assert all(line.disjoint(box_of(words)) for line in dots for words in words_of(print_))
        for patch in print_.patches:
            for tick in patch.laid.middles if patch.laid else ():
                middle = LineString(tick).centroid
                assert any(line.distance(middle) < 1e-6 for line in dots)
                met += 1
    assert met


def test_marks_of_two_pieces_are_seldom_taken_for_one() -> None:
    pairs = near = 0
    for print_ in (p for path in designs() for p in prints(path, None)):
        for one, two in combinations(marks_of(print_).values(), 2):
            pairs += 1
            near += one.distance(two) < 1 / 16
    assert near < 0.05 * pairs, (near, pairs)


def test_a_grey_copier_and_colour_blind_eyes_lose_nothing() -> None:
    """Patterns and weights tell the lines apart, not colour: no two pens of a foundation look alike."""
    styles = {
        pen: (pen.value.width_pt, pen.value.dashes_pt)
        for pen in (Pen.STITCH, Pen.TRIM, Pen.HELPER, Pen.MARK, Pen.LAID)
    }
    assert len(set(styles.values())) == len(styles)


@pytest.mark.parametrize("engine", ["pypdf", "pdfium", "MuPDF"])
def test_a_search_in_the_file_finds_every_word_of_every_print(engine: str) -> None:
    pytest.importorskip("cairosvg")
    sheets, data = _file()
    found = _said(engine, data)
    for sheet, said in zip(sheets, found, strict=True):
        for placed in sheet.placed:
            for words in words_of(placed.foundation):
                assert " ".join(words.text.split()) in said, words.text


@cache
def _file() -> tuple[tuple[Sheet, ...], bytes]:
    made = planned(DESIGNS / "kite.svg", PlanOptions(size=Size(6.0)))
    sheets = lay_out([(made, foundations(made))], paper="letter")
    return sheets, to_pdf(sheets, title="kite", made_from="test")


def _said(engine: str, data: bytes) -> list[str]:
    """The text of each page, white space evened out."""
    if engine == "pypdf":
        pages = [page.extract_text() for page in PdfReader(io.BytesIO(data)).pages]
    elif engine == "pdfium":
        pages = [page.get_textpage().get_text_range() for page in pypdfium2.PdfDocument(data)]
    else:
        pages = [page.get_text() for page in pymupdf.open(stream=data)]
    return [" ".join(text.split()) for text in pages]
