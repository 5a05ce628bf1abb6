"""Path data and shapes of SVG: the grammar, and points against a second reader."""

from __future__ import annotations

import math

import pytest
import svgelements
from hypothesis import given, settings
from hypothesis import strategies as st

from seamwright.drawing.pieces import FLAT_IN, flatten, place
from seamwright.drawing.svg_paths import arc_steps, parse_path
from seamwright.drawing.svg_transform import parse_transform
from seamwright.errors import DrawingError
from seamwright.geometry import IDENTITY, moved
from support.svg_text import STROKE, read, segments

SQUARE = [((0, 0), (4, 0)), ((4, 0), (4, 3)), ((0, 3), (4, 3)), ((0, 0), (0, 3))]


def path(d: str) -> str:
    return f'<path d="{d}" {STROKE}/>'


@pytest.mark.parametrize(
    "d",
    [
        "M0 0L4 0L4 3L0 3Z",
        "M 0,0 L 4,0 L 4,3 L 0,3 z",
        "M0 0 4 0 4 3 0 3z",  # implicit linetos, SVG 1.1, section 8.3.2
        "m0 0 4 0 0 3-4 0z",  # relative, compact
        "M0 0H4V3H0Z",
        "m0 0h4v3h-4z",
        "M0 0h2 2v1 2H0v-1-2",  # several numbers after h and v; drawn closed by hand (collinear pieces)
        "M0 0L4 0M4 0L4 3M4 3L0 3M0 3L0 0",  # four subpaths
        "M0 0C1 0 3 0 4 0M4 0S4 2 4 3M4 3Q2 3 0 3M0 3T0 0Z",  # degenerate curves are straight
        "M0,0A0,5 0 0 1 4,0 L4 3A1e9 1e9 0 0 0 0 3Z",  # radius 0; radius so large that it is straight
        "M0 0L4 0L4 0L4 3L0 3L0 3L0 0Z",  # points clicked twice
        "\n M0 0 , 4 0 \t 4 3 , 0 3 Z \n",
        "M4e0 3e0H0V0H4Z",
    ],
)
def test_a_square_is_a_square_however_it_is_written(d: str) -> None:
    import shapely

    drawing = read(path(d))
    assert drawing.curves == ()
    drawn = shapely.line_merge(shapely.MultiLineString([[s.start, s.end] for s in drawing.lines]))
    expected = shapely.LinearRing([(0, 0), (4, 0), (4, 3), (0, 3)])
    assert drawn.hausdorff_distance(expected) < 1e-3  # the arc of radius 1e9 is not quite straight
    assert drawn.length == pytest.approx(14, abs=1e-6)


def test_after_a_close_the_next_relative_move_counts_from_the_start() -> None:
    # SVG 1.1, section 8.3.3
    assert segments(read(path("m1 1h2v2zm0 5h1"))) == [
        ((1, 1), (3, 1)),
        ((3, 1), (3, 3)),
        ((1, 1), (3, 3)),
        ((1, 6), (2, 6)),
    ]
    assert segments(read(path("M1 1h2v2zl0 5")))[-1] == ((1, 1), (1, 6))


def test_a_loop_of_two_points_is_one_line() -> None:
    assert segments(read(path("M1 1L5 2Z"))) == [((1, 1), (5, 2))]
    assert segments(read(f'<polygon points="1,1 5,2" {STROKE}/>')) == [((1, 1), (5, 2))]


def test_pieces_without_length_are_dropped_and_leave_no_gap() -> None:
    drawing = read(path("M1 1L1 1L2 1L2.0000000001 1L3 2M5 5L5 5M6 6Z"))
    assert segments(drawing) == [((1, 1), (2, 1)), ((2, 1), (3, 2))]


@pytest.mark.parametrize(
    ("d", "character"),
    [
        ("M0 0L4 0L4", None),
        ("M0 0 L nan 3", 7),
        ("M0 0 L 4 x", 9),
        ("L4 0", 1),
        ("M0 0A1 1 0 2 0 4 4", 11),
        ("M0 0ZZ4", 7),
        ("M0 0L1e999 0", None),
        ("M0 0L4 0 #", 9),
    ],
)
def test_a_fault_in_path_data_is_refused_with_its_element(d: str, character: int | None) -> None:
    with pytest.raises(DrawingError, match="path 'seam-3'") as caught:
        read(f'<path id="seam-3" d="{d}" {STROKE}/>')
    if character is not None:
        assert f"character {character} " in str(caught.value)


def test_flags_of_an_arc_need_no_blanks() -> None:
    # SVG 1.1, section 8.3.9: flags are single digits
    one = parse_path("M0 0a2 2 0 0 1 1 1", "here")[0].steps
    two = parse_path("M0 0a2 2 0 011 1", "here")[0].steps
    assert one == two


coordinate = st.floats(-20, 20).map(lambda v: round(v, 3))
points = st.tuples(coordinate, coordinate)


@settings(derandomize=True, deadline=None, max_examples=200)
@given(
    start=points,
    end=points,
    rx=st.floats(0.01, 30),
    ry=st.floats(0.01, 30),
    turn=st.floats(-180, 180),
    large=st.booleans(),
    sweep=st.booleans(),
)
def test_an_arc_lies_where_a_second_reader_has_it(start, end, rx, ry, turn, large, sweep) -> None:  # type: ignore[no-untyped-def]
    # Second reader: svgelements 1.9.6 (arcs by their centre); the rule: SVG 1.1, appendix F.6.
    if math.dist(start, end) < 0.01:
        return
    text = f"M{start[0]},{start[1]}A{rx:.6f},{ry:.6f},{turn:.6f},{int(large)},{int(sweep)},{end[0]},{end[1]}"
    arc = svgelements.Path(text)[1]
    reach = max(abs(arc.rx), abs(arc.ry))
    here = start
    for step in arc_steps(start, round(rx, 6), round(ry, 6), round(turn, 6), large, sweep, end):
        for p in flatten(here, step[0], step[1], step[2])[::4]:
            # How far the point is off the ellipse, by the ellipse's own equation.
            c, s = math.cos(arc.get_rotation()), math.sin(arc.get_rotation())
            dx, dy = p[0] - arc.center.x, p[1] - arc.center.y
            u, v = (c * dx + s * dy) / arc.rx, (-s * dx + c * dy) / arc.ry
            assert abs(math.hypot(u, v) - 1) * min(abs(arc.rx), abs(arc.ry)) < 1e-4 * max(1, reach)
        here = step[2]
    assert here == end


@settings(derandomize=True, deadline=None, max_examples=200)
@given(st.lists(points, min_size=4, max_size=4))
def test_a_curve_is_flattened_within_the_tolerance(controls: list[tuple[float, float]]) -> None:
    # The curve's own formula at points between; distance to the nearest piece of the polyline by GEOS.
    import shapely

    a, b, c, d = controls
    flat = shapely.LineString(flatten(a, b, c, d))
    for k in range(101):
        t = k / 100
        p = tuple(
            (1 - t) ** 3 * a[i] + 3 * (1 - t) ** 2 * t * b[i] + 3 * (1 - t) * t * t * c[i] + t**3 * d[i]
            for i in (0, 1)
        )
        assert flat.distance(shapely.Point(p)) <= FLAT_IN + 1e-9


def test_a_real_curve_is_handed_over_as_a_curve() -> None:
    drawing = read(path("M0 5C2 3 4 7 8 5"))
    assert drawing.lines == ()
    assert len(drawing.curves) == 1
    assert drawing.curves[0].points[0] == (0, 5)
    assert drawing.curves[0].points[-1] == (8, 5)
    assert len(drawing.curves[0].points) >= 3


@pytest.mark.parametrize("bulge", [0.0, 0.0004, 0.00066])
def test_a_curve_within_half_a_thousandth_of_straight_is_straight(bulge: float) -> None:
    # The middle of a cubic with both controls b off its chord is 3/4 b off.
    assert read(path(f"M0 5C2 {5 + bulge} 4 {5 + bulge} 8 5")).curves == ()


def test_a_curve_off_by_more_is_not() -> None:
    assert len(read(path("M0 5C2 5.0008 4 5.0008 8 5")).curves) == 1


def test_a_straight_curve_that_overshoots_keeps_its_reach() -> None:
    ends = [p for s in segments(read(path("M2 5C-4 5 10 5 6 5"))) for p in s]
    trace = parse_path("M2 5C-4 5 10 5 6 5", "here")
    assert min(x for x, _ in ends) < 2
    assert max(x for x, _ in ends) > 6
    assert place(trace[0], IDENTITY) is not None


@pytest.mark.parametrize(
    "shape",
    [
        '<rect x="1" y="2" width="4" height="3" {s}/>',
        '<polygon points="1,2 5,2 5,5 1,5" {s}/>',
        '<polygon points="1 2 5 2,5,5+1,5" {s}/>',
        '<polyline points="1,2 5,2 5,5 1,5 1,2" {s}/>',
        '<rect x="1" y="2" width="4" height="3" rx="0" ry="1" {s}/>',
        '<rect style="x:1px;y:2px;width:4px;height:3px" {s}/>',
    ],
)
def test_a_rectangle_in_any_shape(shape: str) -> None:
    assert sorted(segments(read(shape.format(s=STROKE)))) == sorted(
        [((1, 2), (5, 2)), ((5, 2), (5, 5)), ((1, 5), (5, 5)), ((1, 2), (1, 5))]
    )


def test_a_rounded_rectangle_has_four_sides_and_four_curves() -> None:
    drawing = read(f'<rect x="1" y="1" width="6" height="4" rx="1" {STROKE}/>')
    assert sorted(segments(drawing)) == sorted(
        [((2, 1), (6, 1)), ((7, 2), (7, 4)), ((2, 5), (6, 5)), ((1, 2), (1, 4))]
    )
    assert len(drawing.curves) == 8  # an eighth of a turn each


def test_circles_and_ellipses_are_curves_of_the_right_reach() -> None:
    drawing = read(f'<ellipse cx="4" cy="5" rx="3" ry="2" {STROKE}/><circle cx="4" cy="5" r="1" {STROKE}/>')
    xs = [x for curve in drawing.curves for x, _ in curve.points]
    ys = [y for curve in drawing.curves for _, y in curve.points]
    assert (min(xs), max(xs), min(ys), max(ys)) == pytest.approx((1, 7, 3, 7), abs=1e-9)


@pytest.mark.parametrize(
    "shape",
    [
        '<rect width="0" height="3" {s}/>',
        '<circle r="0" {s}/>',
        "<path {s}/>",
        '<path d="" {s}/>',
        '<polygon points="" {s}/>',
        '<polyline points="1 1" {s}/>',
        '<path d="M1 1" {s}/>',
        "<line {s}/>",
    ],
)
def test_shapes_without_extent_draw_nothing(shape: str) -> None:
    drawing = read(shape.format(s=STROKE))
    assert drawing.lines == ()
    assert drawing.curves == ()


@pytest.mark.parametrize(
    ("shape", "words"),
    [
        ('<rect width="-1" height="3" {s}/>', "width is below zero"),
        ('<circle r="-2" {s}/>', "r is below zero"),
        ('<line x1="nan" {s}/>', "no length"),
        ('<line x1="3 miles" {s}/>', "unknown"),
        ('<polygon points="1,1 2,x 3,3" {s}/>', "no number"),
        ('<polygon points="1,1 2,2 3" {s}/>', "odd number"),
        ('<line x1="900000" y1="0" x2="0" y2="0" {s}/>', "in away"),
    ],
)
def test_values_that_cannot_be_meant_are_refused_with_their_element(shape: str, words: str) -> None:
    with pytest.raises(DrawingError, match=words) as caught:
        read(shape.format(s=STROKE))
    assert "number 1" in str(caught.value)


TRANSFORMS = [
    "translate(3)",
    "translate(3,-4)",
    "translate(3 -4)rotate(30)",
    "rotate(45 2 3)",
    "rotate(-90)",
    "scale(2)",
    "scale(2,-.5)",
    "scale(-1 1)",
    "skewX(20)",
    "skewY(-10)",
    "matrix(.8 .1 -.2 1.1 3 4)",
    "matrix(1,0,0,1,0,0) , translate( 1 , 2 )",
    "rotate(1e2)translate(1-2)scale(.5.25)",
]


@pytest.mark.parametrize("text", TRANSFORMS)
def test_a_transform_agrees_with_a_second_reader(text: str) -> None:
    # Second reader: svgelements 1.9.6; the rule: SVG 1.1, section 7.6.
    theirs = svgelements.Matrix(text)
    ours = parse_transform(text, "here")
    assert ours == pytest.approx((theirs.a, theirs.b, theirs.c, theirs.d, theirs.e, theirs.f), abs=1e-12)


@settings(derandomize=True, deadline=None, max_examples=100)
@given(st.integers(-8, 8), points)
def test_quarter_turns_are_exact(quarters: int, point: tuple[float, float]) -> None:
    x, y = point
    for _ in range(quarters % 4):
        x, y = -y, x
    assert moved(parse_transform(f"rotate({90 * quarters})", "here"), point) == (x, y)


@pytest.mark.parametrize("text", ["spin(3)", "rotate(1,2)", "matrix(1 2 3)", "translate(1", "scale(nan)", "foo"])
def test_a_transform_that_cannot_be_read_is_refused(text: str) -> None:
    with pytest.raises(DrawingError, match="transform"):
        read(f'<g transform="{text}">{path("M0 0L1 1")}</g>')


def test_a_transform_may_stand_in_a_style() -> None:
    # CSS Transforms Level 1, section 8
    drawing = read(f'<g style="transform: translate(2px, 1px) rotate(90deg)">{path("M0 0L1 0")}</g>')
    assert segments(drawing) == [((2, 1), (2, 2))]
