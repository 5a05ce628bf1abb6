"""Stacked shapes: what shows is what is meant; shapes side by side keep their borders whole."""

from __future__ import annotations

import itertools
import random

import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st

from seamwright.block.make import make_block
from seamwright.drawing.model import Drawing
from support.svg_text import STROKE, read, said, segments


def rect(x: float, y: float, w: float, h: float, colour: str = "red", more: str = "") -> str:
    return f'<rect x="{x}" y="{y}" width="{w}" height="{h}" fill="{colour}" {more}/>'


def drawn(drawing: Drawing) -> shapely.Geometry:
    return shapely.union_all([shapely.LineString([s.start, s.end]) for s in drawing.lines], grid_size=1e-6)


def area(drawing: Drawing, fabric: str) -> float:
    return sum(
        shapely.Polygon(fill.rings[0], fill.rings[1:]).area for fill in drawing.fills if fill.fabric == fabric
    )


def test_a_later_fill_hides_the_lines_beneath_it() -> None:
    drawing = read(rect(0, 0, 8, 8, "#00f") + rect(2, 2, 3, 3) + rect(4, 4, 4, 4, "lime"))
    # By hand: the red square loses the two half sides inside the green one.
    expected = shapely.MultiLineString(
        [
            [(0, 0), (8, 0), (8, 4), (8, 8), (4, 8), (0, 8), (0, 0)],
            [(5, 4), (5, 2), (2, 2), (2, 5), (4, 5)],
            [(4, 8), (4, 4), (8, 4)],
        ]
    )
    assert drawn(drawing).symmetric_difference(expected).length == pytest.approx(0, abs=1e-6)
    assert area(drawing, "#0000ff") == pytest.approx(64 - 9 - 16 + 1)
    assert area(drawing, "#ff0000") == pytest.approx(9 - 1)
    assert area(drawing, "#00ff00") == pytest.approx(16)


def test_a_stroke_beneath_a_fill_is_hidden_and_one_above_it_is_not() -> None:
    line = f'<path d="M0 4H8" {STROKE}/>'
    assert ((0, 4), (8, 4)) not in segments(read(line + rect(2, 2, 4, 4)))
    assert segments(read(line + rect(2, 2, 4, 4)))[:2] == [((0, 4), (2, 4)), ((6, 4), (8, 4))]
    assert ((0, 4), (8, 4)) in segments(read(rect(2, 2, 4, 4) + line))


def test_a_glassy_fill_hides_no_line() -> None:
    line = f'<path d="M0 4H8" {STROKE}/>'
    assert ((0, 4), (8, 4)) in segments(read(line + rect(2, 2, 4, 4, more='fill-opacity="0.4"')))


def test_a_stroked_shape_without_fill_hides_nothing() -> None:
    line = f'<path d="M0 4H8" {STROKE}/>'
    assert ((0, 4), (8, 4)) in segments(read(line + rect(2, 2, 4, 4, "none", 'stroke="black"')))


def test_a_shape_hidden_altogether_is_said_to_be() -> None:
    drawing = read(rect(2, 2, 2, 2) + rect(1, 1, 5, 5, "blue"))
    assert len(drawing.lines) == 4
    assert [fabric.name for fabric in drawing.fabrics] == ["#0000ff"]
    assert "1 shape ignored" in said(drawing)


def test_lines_under_the_shared_border_of_two_fills_stay() -> None:
    # Outlines drawn first, colours laid on top of them.
    line = f'<path d="M4 0V8" {STROKE}/>'
    drawing = read(line + rect(0, 0, 4, 8) + rect(4, 0, 4, 8, "blue"))
    assert segments(drawing).count(((4, 0), (4, 8))) == 3


@pytest.mark.parametrize("miss", [-0.02, -0.01, -0.003, 0.0, 0.003, 0.01, 0.02])
def test_shapes_side_by_side_make_no_slivers_though_they_miss(miss: float) -> None:
    drawing = read(rect(0, 0, 4, 8) + rect(4 + miss, 0, 4 - miss, 8, "blue"))
    assert len(drawing.lines) == 8
    assert {round(abs(s.end[0] - s.start[0]) + abs(s.end[1] - s.start[1]), 1) for s in drawing.lines} == {4.0, 8.0}
    assert len(drawing.fills) == 2
    block = make_block(drawing)
    assert len(block.patches) == 2
    assert [p.fabric for p in block.patches] == ["#ff0000", "#0000ff"]


@settings(derandomize=True, deadline=None, max_examples=60)
@given(st.integers(0, 10_000))
def test_a_grid_of_patches_drawn_loosely_is_read_as_its_patches(seed: int) -> None:
    rng = random.Random(seed)
    shapes = []
    for i, j in itertools.product(range(3), range(3)):
        corners = [(i * 2, j * 2), (i * 2 + 2, j * 2), (i * 2 + 2, j * 2 + 2), (i * 2, j * 2 + 2)]
        loose = " ".join(
            f"{x + rng.uniform(-0.01, 0.01):.4f},{y + rng.uniform(-0.01, 0.01):.4f}" for x, y in corners
        )
        shapes.append(f'<polygon points="{loose}" fill="#{i}{j}8"/>')
    rng.shuffle(shapes)
    drawing = read("".join(shapes))
    assert len(drawing.lines) == 36
    assert len(make_block(drawing).patches) == 9


def test_a_hole_shows_what_lies_beneath() -> None:
    # SVG 1.1, section 11.3, fill-rule: two squares, one in the other
    square = "M0 0H8V8H0ZM2 2H6V6H2Z"
    turned = "M0 0H8V8H0ZM2 2V6H6V2Z"
    for d, rule, hole in [(square, "evenodd", 1), (square, "nonzero", 0), (turned, "nonzero", 1)]:
        drawing = read(f'<path d="{d}" fill="red" fill-rule="{rule}"/>')
        assert len(drawing.fills) == 1
        assert len(drawing.fills[0].rings) == 1 + hole


def test_a_star_drawn_in_one_stroke_fills_by_its_rule() -> None:
    # A five-pointed star that crosses itself: SVG 1.1 shows it in section 11.3, hollow only by evenodd.
    d = "M4 0L6.351 7.236L0.196 2.764H7.804L1.649 7.236Z"
    hollow = read(f'<path d="{d}" fill="red" fill-rule="evenodd"/>')
    full = read(f'<path d="{d}" fill="red"/>')
    # Area of the pentagon in the middle of a star of circumradius 4: (5/2) r^2 sin 72 deg, r = 4 / 2.618034.
    middle = 2.5 * (4 / 2.618034) ** 2 * 0.9510565
    assert area(full, "#ff0000") - area(hollow, "#ff0000") == pytest.approx(middle, rel=1e-3)


def test_a_white_page_under_everything_is_no_patch_but_a_white_patch_is_one() -> None:
    page = rect(0, 0, 10, 10, "white")
    drawing = read(page + rect(1, 1, 8, 8, "teal") + rect(2, 2, 2, 2, "white"))
    assert [fill.fabric for fill in drawing.fills] == ["#008080", "#ffffff"]
    assert "white background" in said(drawing)
    for other in (
        rect(0, 0, 10, 10, "white", 'stroke="black"'),
        rect(0, 0, 10, 10, "#ffe"),
        rect(1, 1, 8, 8, "white"),
    ):
        assert len(read(other + rect(1, 1, 2, 2)).fills) == 2
    assert len(read(rect(1, 1, 2, 2) + page).fills) == 1  # painted last, it hides the rest


def test_small_round_marks_are_dots_and_larger_ones_are_not() -> None:
    line = f'<path d="M0 4H8" {STROKE}/>'
    small = '<circle cx="0" cy="4" r="0.06"/><path d="M8 4a.05 .05 0 0 1 .1 0a.05 .05 0 0 1 -.1 0Z"/>'
    drawing = read(line + small)
    assert drawing.curves == ()
    assert len(drawing.lines) == 1
    assert "2 dots" in said(drawing)
    assert read(line + '<circle cx="4" cy="4" r="0.5"/>').curves != ()


def test_letters_turned_into_shapes_are_left_out_and_said_so() -> None:
    letter = "M{x} 1c.1 -.2 .3 -.2 .3 0v.3h-.08v-.3c0 -.1 -.1 -.1 -.14 0v.3h-.08z"
    letters = (
        "".join(f'<path d="{letter.format(x=k / 2)}"/>' for k in range(1, 8)) + '<path d="M5 1h.08v.4h-.08z"/>'
    )
    block = f'<path d="M1 2H9V9H1ZM1 2L9 9" {STROKE}/>'
    drawing = read(block + letters)
    assert drawing.curves == ()
    assert len(drawing.lines) == 5
    assert "8 small round shapes" in said(drawing)


def test_a_faint_even_net_under_the_drawing_is_a_drafting_grid() -> None:
    net = "".join(f"M{k} 0V8M0 {k}H8" for k in range(9))
    grid = f'<path d="{net}" fill="none" stroke="#ccd" stroke-width="0.005"/>'
    block = "".join(f'<path d="{d}" {STROKE}/>' for d in ("M0 0H8V8H0Z", "M0 0L8 8", "M4 0L8 4", "M0 4L4 8"))
    drawing = read(grid + block)
    assert len(drawing.lines) == 7
    assert "drafting grid of 18 faint lines" in said(drawing)
    assert len(read(f'<path d="{net}" {STROKE}/>' + block).lines) == 25  # as dark as the rest: seams
    assert len(read(grid).lines) == 18  # nothing else: the grid is the block
    assert len(read(grid + f'<path d="M0 0H8V8H0Z" {STROKE} id="edge"/>').lines) == 22  # a grid block and its edge


def test_fine_and_coarse_lines_of_a_grid_in_one_layer_go_together() -> None:
    fine = "".join(f"M{k / 2} 0V8M0 {k / 2}H8" for k in range(17) if k % 4)
    coarse = "".join(f"M{k} 0V8M0 {k}H8" for k in range(0, 9, 2))
    layer = (
        f'<g inkscape:groupmode="layer" inkscape:label="Layer 1" fill="none" stroke="#bbb">'
        f'<path d="{fine}" stroke-width="0.004"/><path d="{coarse}" stroke-width="0.008"/></g>'
    )
    drawing = read(layer + f'<path d="M0 0H8V8H0ZM0 0L8 8M8 0L4 4" {STROKE}/>')
    assert len(drawing.lines) == 6
    patches = "".join(f'<path d="{d}" fill="{c}"/>' for d, c in [("M0 0H8L0 8Z", "red"), ("M8 0V8L4 4Z", "tan")])
    assert len(read(layer + patches + '<path d="M0 8L4 4L8 8Z" fill="navy"/>').lines) == 9


def test_a_layer_named_as_a_grid_is_left_out() -> None:
    layer = f'<g inkscape:groupmode="layer" inkscape:label="my_Grid 2"><path d="M0 1H8" {STROKE}/></g>'
    drawing = read(layer + f'<path d="M0 0H8V8H0Z" {STROKE}/>')
    assert len(drawing.lines) == 4
    assert "'my_Grid 2'" in said(drawing)
