"""Any edit of a drawing is done, or refused in words with a mend; what it does not touch stays as written.

Seams are compared by shapely; which patch is of which fabric is judged by the reader of drawings.
"""

from __future__ import annotations

import math

import hypothesis.strategies as st
import pytest
import shapely
from hypothesis import assume, given, settings
from shapely import LineString, Point, Polygon
from shapely.affinity import rotate, scale

from seamwright.block.make import make_block
from seamwright.drawing.textform import read_seams
from seamwright.errors import OptionError
from seamwright.sketch.change import changed
from seamwright.sketch.edits import Copies, Draw, DrawArc, DrawLength, Edit, Erase, Move, Outline, Regrid, Resize
from seamwright.sketch.view import view_of

PIER = """seamwright block 1
name pier   # where it was drawn
size 8 in
grid 8
seam 0, 0 to 8, 8   # the long one
seam 4, 4 to 8, 0
arc 0, 8 through 1, 5 to 4, 4
"""

numbers = st.one_of(
    st.integers(-1, 9).map(float),
    st.floats(-1, 9),
    st.sampled_from([math.nan, math.inf, -math.inf, 1e300, -1e300, 1e-300, -0.0]),
)
points = st.one_of(st.sampled_from([(0.0, 0.0), (4.0, 4.0), (8.0, 8.0), (8.0, 0.0)]), st.tuples(numbers, numbers))
several = st.lists(points, max_size=5).map(tuple)
typed = st.one_of(
    st.sampled_from(["2 1/2", "-1", "", "1e300 in", "nan", "8 x", "9 in", "6 x 9 cm"]), st.text(max_size=8)
)
additions = st.one_of(
    st.builds(Draw, several),
    st.builds(DrawArc, points, points, points),
    st.builds(DrawLength, points, numbers, typed),
    st.builds(Copies, points, st.integers(-1, 9), st.just(()), st.booleans(), numbers),
)
edits = st.one_of(
    additions,
    st.builds(Move, points, points),
    st.builds(Erase, st.lists(several.filter(len), max_size=3).map(tuple)),
    st.builds(Outline, st.just(""), several),
    st.builds(Resize, typed),
    st.builds(Regrid, st.integers(-5, 2000), st.integers(-5, 2000)),
)


def done(text: str, edit: Edit) -> str | None:
    """The new text; None for a refusal, which must say what and the mend."""
    try:
        return changed(text, [edit])
    except OptionError as refusal:
        assert refusal.faults[0].what
        assert refusal.faults[0].mend
        return None


@settings(max_examples=150, deadline=None)
@given(st.lists(edits, min_size=1, max_size=4))
def test_any_edits_are_done_or_refused_in_words(wanted: list[Edit]) -> None:
    text = PIER
    for edit in wanted:
        text = done(text, edit) or text
        if view_of(text).strokes:
            read_seams(text, name="", file="")  # raises if the whole is no drawing any more


@settings(max_examples=80, deadline=None)
@given(additions)
def test_what_is_drawn_leaves_all_lines_as_they_were(edit: Edit) -> None:
    text = done(PIER, edit)
    if text is not None:
        assert text.startswith(PIER)
        assert len(text) > len(PIER)


# -- laws of single edits, on drawings made at random ---------------------------------------------------------

MARKS = st.integers(1, 15).map(lambda n: n / 2)
EDGES = st.builds(
    lambda side, at: ((at, 0.0), (8.0, at), (at, 8.0), (0.0, at))[side], st.integers(0, 3), MARKS
)  # places on the edge of a block of 8 in
some = settings(max_examples=20, deadline=None)


@st.composite
def drawings(draw: st.DrawFn) -> str:
    """Seams from edge to edge, then arms that stand on what is there and run to the edge."""
    text = "seamwright block 1\nname pier\nsize 8 in\n"
    for _ in range(draw(st.integers(1, 3))):
        text = done(text, Draw((draw(EDGES), draw(EDGES)))) or text
    assume(view_of(text).strokes)
    for _ in range(draw(st.integers(1, 4))):
        line = LineString(draw(st.sampled_from(view_of(text).strokes)).points)
        foot = line.interpolate(draw(st.integers(1, 7)) / 8, normalized=True)
        text = done(text, Draw(((foot.x, foot.y), draw(EDGES)))) or text
    return text


def lines(text: str) -> list[LineString]:
    return [LineString(stroke.points) for stroke in view_of(text).strokes]


def whole(text: str) -> shapely.Geometry:
    return shapely.union_all(lines(text))


def same(one: shapely.Geometry, other: shapely.Geometry, within: float) -> bool:
    return bool(one.buffer(within).covers(other) and other.buffer(within).covers(one))


@some
@given(drawings(), st.data())
def test_what_ended_on_seams_ends_on_them_after_a_move(text: str, data: st.DataObject) -> None:
    start = data.draw(st.sampled_from(view_of(text).points))
    dx, dy = data.draw(st.tuples(st.integers(-8, 8), st.integers(-8, 8)))
    moved = done(text, Move(start, (start[0] + dx / 8, start[1] + dy / 8)))
    assume(moved is not None)
    assert moved is not None
    before, after = lines(text), lines(moved)
    assume(len(before) == len(after))
    edge = shapely.box(0, 0, 8, 8).boundary
    for k, line in enumerate(before):
        for number in (0, -1):
            old, new = Point(line.coords[number]), Point(after[k].coords[number])
            on = [j for j, other in enumerate(before) if j != k and other.distance(old) <= 1e-6]
            left = [j for j in on if after[j].distance(new) > 1e-5]
            # Of two that cross no more it can follow but one.
            apart = any(not after[i].intersects(after[j]) for i in on for j in on)
            assert not left or (apart and len(left) < len(on))
            assert edge.distance(old) > 1e-6 or edge.distance(new) <= 1e-6


@some
@given(drawings(), st.data())
def test_a_piece_erased_is_gone_and_no_seam_lies_elsewhere(text: str, data: st.DataObject) -> None:
    piece = data.draw(st.sampled_from(view_of(text).pieces)).points
    left = done(text, Erase((piece,)))
    assert left is not None
    before, after, gone = whole(text), whole(left), LineString(piece)
    assert after.difference(before.buffer(1e-6)).is_empty
    near = 1 / 16  # places nearer than that are one
    assert gone.intersection(after.buffer(1e-6)).length <= 2 * near
    assert before.difference(after.buffer(1e-5)).difference(gone.buffer(near + 1e-5)).length <= 1e-4


@pytest.mark.parametrize("count", [2, 4, 6, 8])
@pytest.mark.parametrize("mirrored", [False, True])
@settings(max_examples=3, deadline=None)
@given(
    seams=st.lists(
        st.lists(st.tuples(st.floats(0.3, 3.9), st.floats(0, 360)), min_size=2, max_size=3), min_size=1, max_size=2
    ),
    degrees=st.sampled_from([0.0, 45.0, 90.0, 30.0, 17.0]),
)
def test_copies_are_the_images_of_all_seams_and_nothing_else(
    seams: list[list[tuple[float, float]]], degrees: float, count: int, mirrored: bool
) -> None:
    text = "seamwright block 1\nname rose\nsize 8 in\n"
    for seam in seams:
        ways = [(4 + r * math.cos(math.radians(a)), 4 + r * math.sin(math.radians(a))) for r, a in seam]
        text = done(text, Draw(tuple(ways))) or text
    made = done(text, Copies((4.0, 4.0), count, mirrored=mirrored, degrees=degrees))
    assume(made is not None)
    assert made is not None
    images = [whole(text)]
    if mirrored:  # across the line at that angle: turn it level, mirror, turn back
        level = rotate(images[0], -degrees, origin=(4, 4))
        images.append(rotate(scale(level, 1, -1, origin=(4, 4)), degrees, origin=(4, 4)))
    turns = range(0, count, 2 if mirrored else 1)
    wanted = shapely.union_all([rotate(g, k * 360 / count, origin=(4, 4)) for g in images for k in turns])
    assert same(whole(made), wanted, 0.002 + 1e-5)  # what lies nearer to a seam than that lies on it


@some
@given(drawings(), st.sampled_from(["5 in", "20 cm", "12 1/2", "8 x 10 in", "20 x 15 cm"]))
def test_another_size_keeps_all_shapes(text: str, size: str) -> None:
    resized = done(text, Resize(size))
    assert resized is not None
    view = view_of(resized)
    for one, other in zip(lines(text), lines(resized), strict=True):
        assert same(scale(one, view.width / 8, view.height / 8, origin=(0, 0)), other, 1e-6)


def patches(text: str) -> list[tuple[Polygon, str | None]]:
    block = make_block(read_seams(text, name="", file=""))
    return [(Polygon(block.patch_ring(k)), patch.fabric) for k, patch in enumerate(block.patches)]


def crosses_inside(text: str) -> bool:
    """Whether a seam lies in the block, so that there are patches."""
    return whole(text).intersects(shapely.box(0.1, 0.1, 7.9, 7.9))


def painted(text: str) -> str:
    """The drawing with a fabric of its own in each patch."""
    found = [shapely.maximum_inscribed_circle(area).coords[0] for area, _ in patches(text)]
    cloths = [f"fabric cloth-{k} colour #{k * 9 + 16:02x}9ab0" for k in range(len(found))]
    laid = [f"lay cloth-{k} at {x!r}, {y!r}" for k, (x, y) in enumerate(found)]
    return "\n".join([text, *cloths, *laid, ""])


@settings(max_examples=8, deadline=None)
@given(drawings(), st.data())
def test_fabrics_stay_with_their_patches(text: str, data: st.DataObject) -> None:
    text = painted(text)
    before = patches(text)
    assert all(fabric for _, fabric in before)
    start = data.draw(st.sampled_from(view_of(text).points))
    step = data.draw(st.tuples(st.integers(-4, 4), st.integers(-4, 4)))
    move = Move(start, (start[0] + step[0] / 8, start[1] + step[1] / 8))
    turned = Copies((4.0, 4.0), data.draw(st.sampled_from([2, 4])), mirrored=data.draw(st.booleans()))
    for edit in (move, turned, Resize("12 in")):
        changed_text = done(text, edit)
        if changed_text is None or not crosses_inside(changed_text):
            continue
        after = patches(changed_text)
        if isinstance(edit, Copies):
            circles = [shapely.maximum_inscribed_circle(ring) for ring, _ in after]
            if min(circle.length for circle in circles) <= 1 / 16:
                continue  # seams nearer to each other than the tolerance are one to the reader
            for circle, (_, cloth) in zip(circles, after, strict=True):
                inside = Point(circle.coords[0])
                assert cloth in [fabric for area, fabric in before if area.contains(inside)]
            continue
        grown = 1.5 if isinstance(edit, Resize) else 1.0
        far = 0.0
        if isinstance(edit, Move):
            assume(len(lines(text)) == len(lines(changed_text)))
            far = max(a.hausdorff_distance(b) for a, b in zip(lines(text), lines(changed_text), strict=True))
        for area, fabric in before:
            circle = shapely.maximum_inscribed_circle(area)
            if circle.length > far + 1 / 16:  # else seams may have come as far as its middle
                middle = Point(circle.coords[0][0] * grown, circle.coords[0][1] * grown)
                assert [cloth for ring, cloth in after if ring.contains(middle)] == [fabric]


@pytest.mark.parametrize(
    ("seams", "edit", "cloth", "at"),
    [
        (
            "0.5, 8 to 0, 6.5; 6.5, 8 to 0, 5; 0, 2 to 0.5, 0; "
            "0.25, 1 to 6, 0; 1/16, 1.75 to 5.5, 8; 3.125, 0.5 to 0, 7",
            Move((1.6479214123006833, 3.5723234624145785), (2.1479214123006833, 3.8223234624145785)),
            (2.0, 5.0),
            (2.0, 5.0),
        ),
        (
            "2, 0 to 5, 8; 4.625, 7 to 8, 2.5; 6 5/16, 4.75 to 2, 0; 4.25, 6 to 0, 5",
            Copies((4.0, 4.0), 2),
            (1.2, 2.0),
            (1.9, 4.6),
        ),
    ],
)
def test_patches_that_share_an_edge_but_for_rounding_keep_their_own_fabrics(
    seams: str, edit: Edit, cloth: tuple[float, float], at: tuple[float, float]
) -> None:
    text = painted("seamwright block 1\nname pier\nsize 8 in\n" + "".join(f"seam {s}\n" for s in seams.split("; ")))
    (was,) = [fabric for area, fabric in patches(text) if area.contains(Point(cloth))]
    assert [fabric for area, fabric in patches(changed(text, [edit])) if area.contains(Point(at))] == [was]
