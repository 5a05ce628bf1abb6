"""Reading what a page draws from its operators, and whether lines lie on lines."""

from __future__ import annotations

import math
from io import BytesIO
from itertools import pairwise

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from pypdf import PdfReader

from seamwright.ink.model import Anchor, Area, Pen, Stroke, Words
from seamwright.sheet.cover import bare, pieces_of
from seamwright.sheet.model import Sheet
from seamwright.sheet.operators import Drawn, drawn_on, operations
from seamwright.sheet.pdf import to_pdf


class Page(dict):
    """A page that holds nothing but operators."""

    def __init__(self, content: bytes) -> None:
        super().__init__()
        self.content = content

    def get_contents(self) -> Page:
        return self

    def get_data(self) -> bytes:
        return self.content


def drawn(content: bytes, height: float = 100.0) -> Drawn:
    return drawn_on(Page(content), height)


def test_operators_are_followed_through_saved_and_changed_coordinates() -> None:
    # ISO 32000-1, 8.3.4: a matrix given later applies first.
    found = drawn(
        b"q 2 0 0 2 10 10 cm q 1 0 0 -1 0 5 cm 1 2 m 3 4 l S Q 1 1 m 2 1 l 2 2 l h S Q 0 0 3 4 re B 9 9 m 8 8 l f"
    )
    assert [line.points for line in found.lines] == [
        ((12.0, 84.0), (16.0, 88.0)),
        ((12.0, 88.0), (14.0, 88.0), (14.0, 86.0), (12.0, 88.0)),
        ((0.0, 100.0), (3.0, 100.0), (3.0, 96.0), (0.0, 96.0), (0.0, 100.0)),
    ]
    # A pen is scaled like all else (8.4.3.2).
    assert [line.look[0] for line in found.lines] == [2.0, 2.0, 1.0]
    assert len(found.fills) == 2


def test_pen_dashes_and_colour_belong_to_the_graphics_state() -> None:
    found = drawn(b"q 0.6 w [7 3] 0 d 1 0 0 RG 1 1 m 2 2 l S Q 1 1 m 2 2 l S .5 G 1 1 m 2 2 l s")
    assert [line.look for line in found.lines] == [
        (0.6, (7.0, 3.0), "#ff0000"),
        (1.0, (), "#000000"),
        (1.0, (), "#808080"),
    ]


@pytest.mark.parametrize(
    ("content", "named"),
    [
        (b"0 0 9 9 re W n", "a clip"),
        (b"/Im0 Do", "an image or a form"),
        (b"/Sh0 sh", "a shading"),
        (b"1 1 m 1 2 3 4 5 6 c S", "a curve"),
        (b"0 1 0 0 k", "paint of a colour that is not followed"),
        (b"BT 3 Tr (A) Tj ET", "words that do not show"),
        (b"BT -1 0 0 1 5 5 Tm (A) Tj ET", "words that are mirrored"),
    ],
)
def test_what_could_hide_or_add_something_is_named(content: bytes, named: str) -> None:
    assert any(thing.startswith(named) for thing in drawn(content).strange)


def test_names_strings_and_arrays_are_told_from_numbers() -> None:
    content = rb"/F1 -1.5 Tf [(a\)b) -20 <4 1 4>] TJ .5 +2 m f*"
    assert list(operations(content)) == [
        (b"Tf", ["/F1", -1.5]),
        (b"TJ", [b"a)b", -20.0, b"A@"]),
        (b"m", [0.5, 2.0]),
        (b"f*", []),
    ]


def test_a_page_reads_back_as_it_was_drawn() -> None:
    square = ((20.0, 20.0), (60.0, 20.0), (60.0, 50.0), (20.0, 50.0))
    ink = (
        Area((square,), "#dcdcdc"),
        Stroke(Pen.STITCH, square, closed=True),
        Stroke(Pen.HELPER, ((5.0, 5.0), (90.0, 5.0))),
        Words("A3, ⅞ in", (70.0, 70.0), 9.0, Anchor.MIDDLE, 30.0, colour="#ff0000"),
    )
    data = to_pdf([Sheet(1, 1, "scrap", 140.0, 100.0, (), (), (), ink, "s")], title="t", made_from="m")
    found = drawn_on(PdfReader(BytesIO(data)).pages[0], 100.0)
    assert [(line.look, line.points) for line in found.lines] == [
        ((0.9, (), "#000000"), (*square, square[0])),
        ((0.5, (2.0, 2.0), "#000000"), ((5.0, 5.0), (90.0, 5.0))),
    ]
    [fill], [words] = found.fills, found.words
    assert (fill.colour, set(fill.rings[0])) == ("#dcdcdc", set(square))
    assert (words.text, words.size_pt, words.colour) == ("A3,  7/8 in", pytest.approx(9.0, abs=1e-3), "#ff0000")
    assert words.ahead == pytest.approx((math.cos(math.pi / 6), 0.5), abs=1e-4)
    assert not found.strange


# -- lines on lines -------------------------------------------------------------------------------------------


def gap(wanted, drawn_lines, tolerance: float = 0.01) -> list[float]:
    left = bare(pieces_of(wanted), pieces_of(drawn_lines), tolerance)
    return [round(float(b - a), 6) for a, b in left]


def test_a_line_is_covered_by_itself_turned_round_and_by_its_parts() -> None:
    line = [((0.0, 0.0), (10.0, 5.0))]
    assert gap(line, line) == [0.0]
    assert gap(line, [((10.0, 5.0), (0.0, 0.0))]) == [0.0]
    assert max(gap(line, [((0.0, 0.0), (4.0, 2.0)), ((10.0, 5.0), (4.0, 2.0))])) < 1e-6
    assert max(gap(line, [((-20.0, -10.0), (20.0, 10.0))])) == 0.0


def test_the_longest_bare_stretch_is_told_with_its_place() -> None:
    left = bare(
        pieces_of([((0.0, 0.0), (10.0, 0.0))]),
        pieces_of([((0.0, 0.0), (2.0, 0.0)), ((7.0, 0.0), (9.5, 0.0))]),
        0.01,
    )
    assert left[0] == pytest.approx((2.0, 7.0))


@pytest.mark.parametrize(
    "other",
    [
        pytest.param(((0.0, 0.02), (10.0, 0.02)), id="beside it"),
        pytest.param(((5.0, -5.0), (5.0, 5.0)), id="across it"),
        pytest.param(((11.0, 0.0), (20.0, 0.0)), id="beyond it"),
    ],
)
def test_a_line_elsewhere_covers_nothing(other) -> None:
    assert gap([((0.0, 0.0), (10.0, 0.0))], [other])[0] >= 9.9


def test_an_end_that_is_off_leaves_that_end_bare() -> None:
    [left] = gap([((0.0, 0.0), (10.0, 0.0))], [((0.0, 0.0), (10.0, 0.1))], 0.01)
    assert left == pytest.approx(9.0, abs=0.01)


@settings(max_examples=60, deadline=None)
@given(
    ends=st.lists(st.tuples(st.integers(-500, 500), st.integers(-500, 500)), min_size=2, max_size=2, unique=True),
    cuts=st.lists(st.floats(0.01, 0.99), max_size=4),
    lost=st.integers(0, 4),
)
def test_what_is_bare_is_what_was_left_out(ends, cuts: list[float], lost: int) -> None:
    (ax, ay), (bx, by) = ends
    stops = [0.0, *sorted(cuts), 1.0]
    points = [(ax + t * (bx - ax), ay + t * (by - ay)) for t in stops]
    parts = list(pairwise(points))
    out = parts.pop(lost % len(parts))
    [left] = gap([(ends[0], ends[1])], parts, 1e-6)
    assert left == pytest.approx(math.dist(*out), abs=1e-4)


def test_no_lines_at_all_are_no_fault_of_the_measuring() -> None:
    assert bare(pieces_of([]), pieces_of([]), 0.01).shape == (0, 2)
    assert np.array_equal(bare(pieces_of([((0, 0), (1, 0))]), pieces_of([]), 0.01), [[0.0, 1.0]])
