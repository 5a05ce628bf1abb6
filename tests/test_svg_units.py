"""Lengths, pages and view boxes of SVG against the standards' own figures and a second reader."""

from __future__ import annotations

import io
import math

import pytest
import svgelements

from seamwright.drawing.svg_units import length, numbers
from seamwright.errors import DrawingError
from support.svg_text import STROKE, read, read_text, said, segments, svg

LINE = f'<line x1="1" y1="2" x2="5" y2="3" {STROKE}/>'


@pytest.mark.parametrize(
    ("text", "px"),
    [
        # W3C CSS Values and Units Level 3, 6.2: 1in = 96px = 2.54cm, 1pc = 1/6in, 1pt = 1/72in, 1Q = 1/40cm
        ("1in", 96.0),
        ("2.54cm", 96.0),
        ("25.4mm", 96.0),
        ("101.6Q", 96.0),
        ("72pt", 96.0),
        ("6pc", 96.0),
        ("96px", 96.0),
        ("96", 96.0),
        # section 4: units are ASCII case-insensitive
        ("1IN", 96.0),
        ("25.4Mm", 96.0),
        # SVG 2, section 8.9: percentages of the viewport
        ("50%", 400.0),
        # numbers as SVG 1.1, section 4.2 allows them
        ("+1e1in", 960.0),
        (".5in", 48.0),
        ("-.5in", -48.0),
        # what people type
        ("8 in", 768.0),
    ],
)
def test_a_length_agrees_with_its_standard(text: str, px: float) -> None:
    assert length(text, "here", percent_of=800.0) == pytest.approx(px, rel=1e-14)


@pytest.mark.parametrize("text", ["4ft", "3furlongs", "12xy"])
def test_an_unknown_unit_is_refused_by_name(text: str) -> None:
    with pytest.raises(DrawingError, match=r"unit .* is unknown"):
        length(text, "line 'a', x1", percent_of=1.0)


@pytest.mark.parametrize("text", ["nan", "inf", "-inf", "NaNin", "1e999", "1e12", "", "--1", "1..2"])
def test_a_number_that_is_none_is_refused(text: str) -> None:
    with pytest.raises(DrawingError):
        length(text, "rect 'r', width", percent_of=1.0)


def test_numbers_need_no_blanks_where_signs_and_points_part_them() -> None:
    # SVG 1.1, section 8.3.9: "M 0.6.5" is 0.6 then .5
    assert numbers("10-20+3.5.25,1e1 -2e-1", "here") == [10, -20, 3.5, 0.25, 10, -0.2]


@pytest.mark.parametrize(
    ("width", "height", "inches"),
    [
        ("8in", "8in", (8.0, 8.0)),
        ("203.2mm", "203.2mm", (8.0, 8.0)),
        ("20.32cm", "20.32cm", (8.0, 8.0)),
        ("576pt", "576pt", (8.0, 8.0)),
        ("48pc", "48pc", (8.0, 8.0)),
    ],
)
def test_a_page_of_physical_size_is_the_same_in_every_unit(
    width: str, height: str, inches: tuple[float, float]
) -> None:
    drawing = read(LINE, f'width="{width}" height="{height}" viewBox="0 0 8 8"')
    assert drawing.physical
    assert drawing.artboard == ((0, 0), (inches[0], 0), inches, (0, inches[1]))  # to the last digit
    assert segments(drawing) == [((1, 2), (5, 3))]
    assert drawing.notes == ()


@pytest.mark.parametrize(
    ("attributes", "scale", "words"),
    [
        ('width="768" height="768" viewBox="0 0 8 8"', 1.0, "in pixels"),
        ('width="768px" height="768px" viewBox="0 0 8 8"', 1.0, "in pixels"),
        ('viewBox="0 0 768 768"', 1 / 96, "a viewBox but no size"),
        ('width="100%" height="100%" viewBox="0 0 768 768"', 1 / 96, "a viewBox but no size"),
        ("", 1 / 96, "gives no size"),
    ],
)
def test_a_size_that_is_no_physical_one_is_said_to_be_assumed(attributes: str, scale: float, words: str) -> None:
    drawing = read(LINE, attributes)
    assert not drawing.physical
    assert segments(drawing, 9) == [
        ((round(scale, 9), round(2 * scale, 9)), (round(5 * scale, 9), round(3 * scale, 9)))
    ]
    assert words in said(drawing)
    assert "96 units to the inch" in said(drawing)
    assert "--size" in said(drawing)


def test_one_missing_side_of_the_page_follows_from_the_view_box() -> None:
    # SVG 2, section 8.2: "auto" keeps the viewBox's aspect ratio
    drawing = read(LINE, 'width="12in" viewBox="0 0 8 4"')
    assert drawing.artboard is not None
    assert drawing.artboard[2] == (12.0, 6.0)
    assert drawing.physical


FITS = [
    f"x{x}Y{y}{how}"
    for x in ("Min", "Mid", "Max")
    for y in ("Min", "Mid", "Max")
    for how in ("", " meet", " slice")
]


@pytest.mark.parametrize("aspect", [*FITS, "none", ""])
@pytest.mark.parametrize("size", [("6in", "9in"), ("9in", "6in")])
def test_a_view_box_is_fitted_as_a_second_reader_fits_it(aspect: str, size: tuple[str, str]) -> None:
    # Second reader: svgelements 1.9.6. The rule: SVG 1.1, section 7.8.
    given = f'preserveAspectRatio="{aspect}"' if aspect else ""
    text = svg(LINE, f'width="{size[0]}" height="{size[1]}" viewBox="-1 2 10 5" {given}')
    other = next(e for e in svgelements.SVG.parse(io.StringIO(text)).elements() if e.values.get("tag") == "line")
    step = abs(svgelements.Path(other))[1]
    expected = [(p.x / 96, p.y / 96) for p in (step.start, step.end)]
    ours = read_text(text).lines[0]
    for mine, theirs in zip((ours.start, ours.end), expected, strict=True):
        assert math.dist(mine, theirs) < 1e-6


@pytest.mark.parametrize(
    ("aspect", "expected"),
    [
        # SVG 1.1, section 7.8: a square of 8 in a page of 8 x 16 in, worked by hand
        ("xMidYMid meet", ((1.0, 6.0), (5.0, 7.0))),
        ("xMinYMin meet", ((1.0, 2.0), (5.0, 3.0))),
        ("xMaxYMax meet", ((1.0, 10.0), (5.0, 11.0))),
        ("xMidYMid slice", ((-2.0, 4.0), (6.0, 6.0))),
        ("none", ((1.0, 4.0), (5.0, 6.0))),
    ],
)
def test_preserve_aspect_ratio_as_worked_by_hand(
    aspect: str, expected: tuple[tuple[float, float], tuple[float, float]]
) -> None:
    drawing = read(LINE, f'width="8in" height="16in" viewBox="0 0 8 8" preserveAspectRatio="{aspect}"')
    assert segments(drawing) == [expected]


@pytest.mark.parametrize("attributes", ['viewBox="0 0 0 8"', 'viewBox="0 0 8"', 'viewBox="0 0 -1 2"'])
def test_a_view_box_without_a_size_is_refused(attributes: str) -> None:
    with pytest.raises(DrawingError, match="viewBox"):
        read(LINE, f'width="8in" height="8in" {attributes}')


@pytest.mark.parametrize("attributes", ['width="0in" height="8in"', 'width="-8in" height="8in"'])
def test_a_page_of_no_size_is_refused(attributes: str) -> None:
    with pytest.raises(DrawingError, match="not above zero"):
        read(LINE, attributes)


def test_a_view_box_may_have_commas() -> None:
    assert segments(read(LINE, 'width="8in" height="8in" viewBox="0,0,8,8"')) == [((1, 2), (5, 3))]


def test_lengths_inside_are_measured_in_the_user_units_around_them() -> None:
    # SVG 1.1, section 7.10: "1in" inside scale(2) is two inches
    drawing = read(
        f'<g transform="scale(2)"><line x1="1in" y1="0" x2="50%" y2="2.54cm" {STROKE}/></g>',
        'width="10in" height="10in"',
    )
    assert segments(drawing) == [((2, 0), (10, 2))]
