"""The fabric of each patch: sizes by hand, laws by shapely, clumsy cuts that the rehearsal finds out."""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from dataclasses import replace
from fractions import Fraction
from functools import cache
from pathlib import Path

import pytest
import shapely
from shapely import affinity
from shapely.geometry import LineString, Polygon

from seamwright import api
from seamwright.block.model import Block
from seamwright.claims.sewing import Marks, printed_marks, sewing_of
from seamwright.cutting.pieces import pieces_of
from seamwright.errors import ProofError
from seamwright.fabric.laying import shown
from seamwright.fabric.model import Fabric
from seamwright.fabric.pieces import Lay, Piece, Shape
from seamwright.foundation.common import common_to
from seamwright.foundation.laying import said_of_marks
from seamwright.foundation.make import foundations
from seamwright.foundation.model import Foundation
from seamwright.geometry import moved
from seamwright.ink.model import Pen, Stroke
from seamwright.options import Fit, PlanOptions, PrintOptions, Rotary, Units
from seamwright.piecing.model import Plan
from seamwright.piecing.plan import plan
from seamwright.rehearsal.captions import cut_size, lay_words
from seamwright.rehearsal.marks import placed_by_marks
from seamwright.rehearsal.model import PieceToLay, SewnStep
from seamwright.rehearsal.rehearse import rehearse
from seamwright.report.prints import _placed as placed_object
from seamwright.sheet.layout import lay_out
from seamwright.sheet.model import Placed, Sheet
from seamwright.sheet.pdf import to_pdf
from seamwright.sheet.readback import read_back
from support.exact import exact_block
from support.prints import designs, laid_back, planned
from support.random_blocks import mixed_blocks

EXTRA_IN = 1 / 4
"""Beyond the allowance, on all sides but the stitched one (common practice)."""


def cut(lines: Sequence[tuple[tuple[float, float], tuple[float, float]]], **options: object) -> dict[str, Piece]:
    """The pieces of a square block of 6 in with lines on a grid of inches."""
    return {piece.name: piece for piece in pieces_of(planned_lines(lines, **options))}


def planned_lines(lines: Sequence[tuple[tuple[float, float], tuple[float, float]]], **options: object) -> Plan:
    return plan(exact_block(lines), PlanOptions(**options))  # type: ignore[arg-type]


@cache
def design(name: str) -> tuple[Plan, tuple[Piece, ...]]:
    made = planned(next(path for path in designs() if path.stem == name))
    if not made.sections:
        made = planned(Path(made.block.file), PlanOptions(set_in=True))
    return made, pieces_of(made)


# -- sizes by hand ---------------------------------------------------------------------------------------------

# Common practice: allowance only on the stitch side, 1/4 in more beyond it on the other three; extra all round for
# the first patch; up to the next 1/4 in (metric: 0.5 cm).


@pytest.mark.parametrize(
    ("options", "first", "second"),
    [
        # 6 + 2 (1/4 + 1/4) along; 2 + 1 with extra all round, 4 + 1/4 + 1/4 + 1/4 with allowance behind the line.
        ({}, (7, 3), (7, 4.75)),
        # 15.24 + 4 x 0.75 = 18.24 cm; 5.08 + 3 = 8.08; 10.16 + 3 x 0.75 = 12.41: up to 18.5, 8.5, 12.5.
        ({"units": Units.METRIC}, (18.5 / 2.54, 8.5 / 2.54), (18.5 / 2.54, 12.5 / 2.54)),
        # 3/8 in allowance: 6 + 2 x 5/8 = 7 1/4; 2 + 1 1/4 = 3 1/4; 4 + 3/8 + 3/8 + 1/4 = 5.
        ({"allowance_in": 3 / 8}, (7.25, 3.25), (7.25, 5)),
    ],
)
def test_two_strips_have_the_sizes_worked_out_by_hand(
    options: dict[str, object], first: tuple[float, float], second: tuple[float, float]
):
    pieces = cut([((0, 4), (6, 4))], **options)
    assert (pieces["A1"].width_in, pieces["A1"].height_in) == pytest.approx(first)
    assert (pieces["A2"].width_in, pieces["A2"].height_in) == pytest.approx(second)
    assert (pieces["A1"].lay, pieces["A2"].lay) == (Lay.FIRST, Lay.CENTRED)


def test_a_corner_with_legs_of_3_in_is_half_of_a_square_of_4_1_2_in():
    # The legs move out by 1/2 in, the long side by 1/4: 3 + 2 x 1/2 + 1/4 x sqrt 2 = 4.354. In the trade's rule:
    # the half square of a finished leg, s (2 + sqrt 2) more, and the extra at both legs.
    corner = cut([((3, 0), (6, 3))])["A2"]
    assert (corner.shape, corner.share, corner.lay) == (Shape.HALF_SQUARE, 2, Lay.CENTRED)
    assert corner.width_in == corner.height_in == 4.5
    # The same by shapely: both legs moved out by 1/2 in, the long side by 1/4.
    legs = Polygon([(3, 0), (6, 0), (6, 3)]).buffer(0.5, join_style="mitre", mitre_limit=9)
    behind = Polygon([(3 - 9, -9), (6 + 9, 9 + 3), (6 - 9, 9 + 3)])
    wanted = legs.difference(affinity.translate(behind, -0.25 / math.sqrt(2), 0.25 / math.sqrt(2)))
    assert wanted.area == pytest.approx((3 + 2 / 2 + math.sqrt(2) / 4) ** 2 / 2)
    assert wanted.difference(Polygon(corner.outline)).area < 1e-9


def test_a_quarter_of_the_block_whose_long_side_is_its_edge_is_a_quarter_of_a_square():
    # Straight grain on the long side: leg 4.2426 + 1/4 + 1/2 (beside the right angle) + 1/2 sqrt 2 at the far end =
    # 5.70; the square cut twice has 5.70 x sqrt 2 = 8.06, up to 8 1/4.
    quarter = cut([((0, 0), (6, 6)), ((3, 3), (6, 0))])["A2"]
    assert (quarter.shape, quarter.share, quarter.width_in) == (Shape.QUARTER_SQUARE, 4, 8.25)


def test_what_lies_at_the_edge_of_the_block_lies_on_the_straight_grain():
    # Legs 2 and 6 in along the edges: 2 + 1, 6 + 1, though its stitch line lies at 72 degrees.
    tall = cut([((2, 0), (0, 6))])["A2"]
    assert (tall.lay, tall.grain_deg, tall.width_in, tall.height_in) == (Lay.ANGLED, 90, 7, 3)
    # At the far end of the stitch line a little less would do, for there is nothing but allowance behind it.
    left, top, right, bottom = Polygon(tall.outline).bounds
    assert (top, bottom, right - left) == pytest.approx((-0.5, 6.5, 3))
    assert -0.75 < left <= -0.5


def test_ticks_are_taken_where_centring_costs_more_than_a_mark():
    made, pieces = design("compass-star")
    by_ticks = [piece for piece in pieces if piece.lay is Lay.TICKS]
    assert by_ticks
    for piece in by_ticks:
        _, line = stitch_of(made, piece)
        # Centred, both halves would have to be as long as the longer one is with the least extra.
        u = [line.project(shapely.Point(p)) for p in piece.laid[:2]]
        assert abs(sum(u) / 2 - line.length / 2) > 1 / 16 or u[0] == 0.0


def test_long_thin_corners_are_halves_of_rectangles_where_that_saves_fabric():
    made, pieces = design("shoal")
    halves = [piece for piece in pieces if piece.shape is Shape.HALF_RECTANGLE]
    assert halves
    for piece in halves:
        alike = [p for p in halves if (p.fabric, p.hand, p.width_in) == (piece.fabric, piece.hand, piece.width_in)]
        assert len(alike) > 1
        # A rectangle has 1/4 in of allowance on its stitch side, 1/2 in with the extra elsewhere (common practice).
        box = list(Polygon(made.block.patch_ring(piece.patch)).minimum_rotated_rectangle.exterior.coords)
        w, h = math.dist(box[0], box[1]), math.dist(box[1], box[2])
        rectangle = min((w + 1) * (h + 3 / 4), (w + 3 / 4) * (h + 1))
        half = math.ceil(len(alike) / 2) * piece.width_in * piece.height_in / len(alike)
        assert half <= 0.8 * rectangle


# -- laws ------------------------------------------------------------------------------------------------------


def stitch_of(made: Plan, piece: Piece) -> tuple[bool, LineString]:
    """Whether a patch has a stitch line, and that, the patch on its right hand."""
    for section in made.sections:
        for step in section.steps[1:]:
            if step.patch == piece.patch:
                a, b = made.block.points[step.stitch[0]], made.block.points[step.stitch[-1]]
                x, y = Polygon(made.block.patch_ring(piece.patch)).representative_point().coords[0]
                right = (b[0] - a[0]) * (y - a[1]) - (b[1] - a[1]) * (x - a[0]) > 0
                return True, LineString([a, b] if right else [b, a])
    return False, LineString()


def folded(ring: Sequence[tuple[float, float]], line: LineString) -> Polygon:
    """A ring mirrored in a line, by shapely's own affine maps."""
    (ax, ay), (bx, by) = line.coords
    turn = math.degrees(math.atan2(by - ay, bx - ax))
    flat = affinity.rotate(Polygon(ring), -turn, origin=(ax, ay))
    return affinity.rotate(affinity.scale(flat, 1, -1, origin=(ax, ay)), turn, origin=(ax, ay))


@pytest.mark.parametrize("path", designs(), ids=lambda path: path.stem)
def test_every_piece_covers_its_patch_with_allowance_and_extra(path: Path):
    made, pieces = design(path.stem)
    assert [piece.patch for piece in pieces] == [p for section in made.sections for p in section.patches]
    allowance = made.options.seam_allowance_in
    for piece in pieces:
        if piece.lay is Lay.PLAIN:
            continue
        patch, cloth = Polygon(made.block.patch_ring(piece.patch)), Polygon(piece.outline)
        stitched, line = stitch_of(made, piece)
        wanted = patch.buffer(allowance + EXTRA_IN - 1e-3)
        if stitched:
            wanted = wanted.intersection(half_plane(line))
            behind = folded(tuple(half_plane(line).exterior.coords[:-1]), line)
            strip = line.buffer(allowance - 1e-6, cap_style="flat").intersection(behind)
            assert strip.difference(cloth).area < 1e-6
            assert folded(piece.laid, line).symmetric_difference(cloth).area < 1e-6
        assert wanted.difference(cloth).area < 1e-6
        # What is cut is what is laid: half or a quarter of it for triangles.
        assert cloth.area == pytest.approx(piece.width_in * piece.height_in / piece.share, rel=1e-6)


def half_plane(line: LineString) -> Polygon:
    """All on the right hand of a line, far enough."""
    (ax, ay), (bx, by) = line.coords
    share = 200 / line.length
    u, v = (bx - ax) * share, (by - ay) * share
    return Polygon([(ax - u, ay - v), (bx + u, by + v), (bx + u - v, by + v + u), (ax - u - v, ay - v + u)])


@pytest.mark.parametrize("name", ["compass-star", "reef", "kite"])
def test_a_mark_less_in_either_direction_does_not_cover(name: str):
    """The smallest: proven by the rehearsal, which lays what is left as well as it can be laid."""
    made, pieces = design(name)
    tried = 0
    for number, piece in enumerate(pieces):
        if piece.lay is not Lay.CENTRED or piece.shape is not Shape.RECTANGLE:
            continue
        tried += 1
        # Centred it may be a mark wider than ticks would need, so two marks are taken off the width.
        for less in ({"width_in": piece.width_in - 0.5}, {"height_in": piece.height_in - 0.25}):
            smaller = (*pieces[:number], replace(piece, **less), *pieces[number + 1 :])
            with pytest.raises(ProofError):
                rehearse(sewing_of(made, smaller))
        if tried == 3:
            break
    assert tried


@pytest.mark.parametrize("seed", range(2))
def test_random_blocks_are_rehearsed_with_the_pieces_that_are_cut(seed: int):
    for number, block in enumerate(mixed_blocks(seed + 40, 6, most_lines=5)):
        units = (Units.INCH, Units.METRIC)[number % 2]
        made = plan(block, PlanOptions(fit=Fit.NONE, set_in=True, units=units))
        if made.sections:
            rehearse(sewing_of(made, pieces_of(made)))


@pytest.mark.long
@pytest.mark.parametrize("seed", range(12))
def test_hundreds_of_blocks_are_rehearsed_with_the_pieces_that_are_cut(seed: int):
    for number, block in enumerate(mixed_blocks(seed + 500, 40)):
        sewn_as_cut(number, block)


def test_marks_that_hold_a_piece_hold_it_in_the_worst_of_hands():
    # By least squares alone these marks at 1/8 in of allowance were taken for enough.
    sewn_as_cut(16, list(mixed_blocks(506, 40))[16])


def sewn_as_cut(number: int, block: Block) -> None:
    allowance = (None, 1 / 8, 3 / 8)[number % 3]
    made = plan(block, PlanOptions(fit=Fit.NONE, set_in=True, allowance_in=allowance))
    if made.sections:
        rehearse(sewing_of(made, pieces_of(made)))


def test_a_mirrored_block_has_pieces_of_the_same_sizes_and_the_other_hand():
    made, pieces = design("shoal")
    drawn = made.block
    points = tuple((drawn.width_in - x, y) for x, y in drawn.points)
    mirrored = plan(mirrored_block(drawn, points), made.options)
    others = pieces_of(mirrored)
    assert sorted(key(p) for p in pieces) == sorted(key(p, swap=True) for p in others)
    assert {p.hand for p in pieces} != {""}


def key(piece: Piece, *, swap: bool = False) -> tuple[object, ...]:
    hand = {"left": "right", "right": "left"}.get(piece.hand, "") if swap else piece.hand
    return (str(piece.fabric), piece.shape.value, sorted((piece.width_in, piece.height_in)), hand)


def mirrored_block(block: Block, points: tuple[tuple[float, float], ...]) -> Block:
    edges = tuple(
        replace(e, left=e.right, right=e.left, via=tuple((block.width_in - x, y) for x, y in e.via))
        for e in block.edges
    )
    patches = tuple(replace(p, ring=p.ring[:1] + p.ring[:0:-1], edges=p.edges[::-1]) for p in block.patches)
    return replace(
        block,
        points=points,
        edges=edges,
        patches=patches,
        outline=block.outline[:1] + block.outline[:0:-1],
        outline_edges=block.outline_edges[::-1],
    )


# -- clumsy cuts -------------------------------------------------------------------------------------------------


def refused(made: Plan, pieces: Sequence[Piece], *changed: Piece) -> str:
    """The name under which the rehearsal refuses pieces of which some are changed; "" if it does not."""
    other = {piece.patch: piece for piece in changed}
    try:
        rehearse(sewing_of(made, [other.get(piece.patch, piece) for piece in pieces]))
    except ProofError as error:
        return error.faults[0].code
    return ""


def test_a_strip_an_eighth_too_narrow_or_too_low_is_refused():
    made = planned_lines([((0, 4), (6, 4))])
    pieces = pieces_of(made)
    strip = pieces[1]
    assert refused(made, pieces) == ""
    assert refused(made, pieces, replace(strip, width_in=strip.width_in - 1 / 8)) == "too little extra"
    assert refused(made, pieces, replace(strip, height_in=strip.height_in - 1 / 8)) == "too little extra"
    first = pieces[0]
    assert refused(made, pieces, replace(first, height_in=1.5)) == "does not cover"
    assert refused(made, pieces, replace(first, height_in=first.height_in - 1 / 8)) == "too little extra"
    assert refused(made, pieces, replace(strip, lay=Lay.FIRST)) == "cannot be laid"


def test_a_half_rectangle_of_the_wrong_hand_is_refused():
    made, pieces = design("shoal")
    half = next(piece for piece in pieces if piece.shape is Shape.HALF_RECTANGLE)
    wrong = replace(half, hand="left" if half.hand == "right" else "right")
    assert refused(made, pieces, wrong) in ("does not cover", "too little extra", "off the grain")


def test_ticks_shifted_by_a_quarter_inch_are_refused():
    made, pieces = design("compass-star")
    piece = next(piece for piece in pieces if piece.lay is Lay.TICKS)
    (ax, ay), (bx, by) = piece.laid[:2]
    length = math.dist((ax, ay), (bx, by))
    for shift in (0.25, -0.25):
        dx, dy = shift * (bx - ax) / length, shift * (by - ay) / length
        moved_ticks = tuple(tuple((x + dx, y + dy) for x, y in tick) for tick in piece.ticks)
        assert refused(made, pieces, replace(piece, ticks=moved_ticks)) == "too little extra"
    off = tuple(tuple((x + (by - ay), y - (bx - ax)) for x, y in tick) for tick in piece.ticks)
    assert refused(made, pieces, replace(piece, ticks=off)) == "ticks do not fit"
    assert refused(made, pieces, replace(piece, ticks=())) == "ticks do not fit"


LAID_AMISS = ("off the grain", "too little extra", "too little in the seam", "does not cover", "cannot be laid")


def test_marks_of_an_outline_that_is_not_mirrored_before_the_flip_are_refused():
    made, pieces = design("kite")
    piece = next(piece for piece in pieces if piece.lay is Lay.ANGLED)
    assert refused(made, pieces, replace(piece, sure=(), laid=piece.outline)) in LAID_AMISS
    turned = affinity.rotate(Polygon(piece.laid), 20)
    ring = tuple((float(x), float(y)) for x, y in turned.exterior.coords[:-1])
    assert refused(made, pieces, replace(piece, sure=(), laid=ring)) in LAID_AMISS
    # Shifted by 1/2 in.
    shifted = tuple((x + 0.5, y) for x, y in piece.laid)
    assert refused(made, pieces, replace(piece, sure=(), laid=shifted)) in LAID_AMISS


@cache
def marks_of(made: Plan) -> dict[int, Marks]:
    return printed_marks(made, foundations(made))


def angled(name: str) -> tuple[Plan, tuple[Piece, ...], Piece, Marks]:
    """A design, its first piece that its print shows how to lay at an angle, and its marks."""
    made, pieces = design(name)
    marks = marks_of(made)
    piece = next(p for p in pieces if p.lay is Lay.ANGLED and len(marks[p.patch].edges) > 1)
    return made, pieces, piece, marks[piece.patch]


def refused_by(made: Plan, pieces: Sequence[Piece], piece: Piece, marks: Marks) -> str:
    try:
        rehearse(sewing_of(made, pieces, {**marks_of(made), piece.patch: marks}))
    except ProofError as error:
        return error.faults[0].code
    return ""


@pytest.mark.parametrize("name", ["kite", "pennant", pytest.param("gull", marks=pytest.mark.long)])
def test_marks_that_are_missing_moved_or_of_another_size_are_found_by_laying_the_piece(name: str):
    made, pieces, piece, marks = angled(name)
    assert refused_by(made, pieces, piece, marks) == ""
    # With one mark alone, or none, nothing holds it along; with one 1/16 in askew no rectangle lies at all of them.
    assert refused_by(made, pieces, piece, replace(marks, edges=marks.edges[:1], middles=())) == "cannot be laid"
    assert refused_by(made, pieces, piece, Marks()) == "cannot be laid"
    (ax, ay), (bx, by) = marks.edges[0]
    share = 1 / 16 / math.dist((ax, ay), (bx, by))
    askew = ((ax, ay), (bx - share * (by - ay), by + share * (bx - ax)))
    assert refused_by(made, pieces, piece, replace(marks, edges=(askew, *marks.edges[1:]))) != ""
    # All of them 3/8 in further: more than the extra.
    for dx, dy in ((0.375, 0.0), (-0.375, 0.0), (0.0, 0.375), (0.0, -0.375)):
        edges, middles = (
            tuple(tuple((x + dx, y + dy) for x, y in line) for line in lines)
            for lines in (marks.edges, marks.middles)
        )
        moved_on = refused_by(made, pieces, piece, replace(marks, edges=edges, middles=middles))
        if moved_on == "":
            break
    else:
        return
    # Where rounding left so much to spare on one side, there is none on the other.
    edges, middles = (
        tuple(tuple((x - dx, y - dy) for x, y in line) for line in lines) for lines in (marks.edges, marks.middles)
    )
    assert refused_by(made, pieces, piece, replace(marks, edges=edges, middles=middles)) in LAID_AMISS


@pytest.mark.parametrize("name", ["lighthouse-beam", pytest.param("storm-rose", marks=pytest.mark.long)])
def test_a_piece_without_marks_is_pinned_over_its_patch_and_folded_back(name: str):
    made, pieces, piece, _ = angled(name)
    folded = {**marks_of(made), piece.patch: Marks(sure=False)}
    sewn = rehearse(sewing_of(made, pieces, folded))
    (step,) = (step for section in sewn.sections for step in section.steps if step.patch == piece.name)
    assert lay_words(step, Units.INCH).endswith("pin it on the line and fold it back to see")
    for number, one in enumerate(pieces):
        if one is piece:
            small = replace(piece, width_in=piece.width_in - 3 / 4)
            other = (*pieces[:number], small, *pieces[number + 1 :])
            assert refused_by(made, other, small, Marks(sure=False)) in LAID_AMISS


@pytest.mark.parametrize("longer, enough", [(0.5, False), (1.0, True)])
def test_what_marks_tell_apart_is_the_same_however_a_piece_lies(longer: float, enough: bool):
    """Sizes are whole marks of a ruler, so sides often differ by just as much as an eye can tell: 1 in."""
    outline, corner = shapely.box(0, 0, 4 + longer, 4), shapely.box(-1, -1, 2, 2)
    for degrees in range(0, 360, 7):
        for mirrored in (1, -1):
            laid, room = (
                affinity.rotate(affinity.scale(each, mirrored, origin=(0, 0)), degrees, origin=(3, 2))
                for each in (outline, corner)
            )
            assert shown(tuple(laid.exterior.coords[:-1]), room).enough is enough, (degrees, mirrored)


def test_a_corner_alone_does_not_tell_sides_apart_that_are_much_alike():
    # Legs from one corner: a piece of 4 x 4 1/4 in lies there either way.
    square = ((0.0, 0.0), (4.25, 0.0), (4.25, 4.0), (0.0, 4.0))
    corner = shapely.box(-1, -1, 2, 2)
    assert not shown(square, corner).enough
    assert shown(((0.0, 0.0), (4.0, 0.0), (4.0, 4.0), (0.0, 4.0)), corner).enough
    assert shown(((0.0, 0.0), (6.0, 0.0), (6.0, 4.0), (0.0, 4.0)), corner).enough
    piece = PieceToLay(
        "A2", "rectangle", 4.25, 4.0, "angled", edges=(((0.0, 0.0), (0.5, 0.0)), ((0.0, 0.0), (0.0, 0.5)))
    )
    with pytest.raises(ProofError, match="look alike"):
        placed_by_marks(piece, Polygon(square))
    # The middle of a side besides tells which is which.
    held = replace(piece, middles=(((2.125, -0.1), (2.125, 0.1)),))
    assert placed_by_marks(held, Polygon(square)).shape.symmetric_difference(Polygon(square)).area < 1e-9
    other = replace(piece, middles=(((2.0, -0.1), (2.0, 0.1)),))
    assert placed_by_marks(other, Polygon(square)).shape.bounds == pytest.approx((0, 0, 4, 4.25))


def test_hands_that_are_off_at_each_mark_take_what_a_short_mark_multiplies():
    # A leg of 1/2 in at the end of a piece of 6 in: off by 1/32 in at both its ends, the other end is off by
    # 1/32 (1 + 2 x 5 1/2 / (1/2)) = 23/32 in; with a second leg at the far end by 1/32 (and half of that at most).
    piece = PieceToLay("A2", "rectangle", 6.0, 2.0, "angled", edges=(((0.0, 0.0), (0.5, 0.0)),))
    one = replace(piece, edges=(*piece.edges, ((0.0, 0.5), (0.0, 1.5))))
    two = replace(one, edges=(*one.edges, ((5.5, 0.0), (6.0, 0.0))))
    place = Polygon([(0, 0), (6, 0), (6, 2), (0, 2)])

    def spare(piece: PieceToLay) -> float:
        """How far inside all edges everything that is wanted has to lie."""
        placing = placed_by_marks(piece, place)
        return next(k / 64 for k in range(64) if placing.covers(shapely.get_coordinates(place.buffer(-k / 64))))

    assert spare(two) <= 4 / 64
    assert spare(one) > 8 / 64


def test_a_piece_on_the_bias_at_the_edge_of_the_block_is_refused():
    made = planned_lines([((2, 0), (0, 6))])
    pieces = pieces_of(made)
    first, tall = pieces
    on_bias = affinity.rotate(Polygon(tall.laid).buffer(2, join_style="mitre"), 30)
    ring = tuple((float(x), float(y)) for x, y in on_bias.exterior.coords[:-1])
    large = replace(tall, width_in=tall.width_in + 4, height_in=tall.height_in + 4, laid=ring, grain_deg=None)
    # All of its edges lie beyond the paper: laid by two that are told.
    edges = tuple(zip(ring, (*ring[1:], ring[0]), strict=True))
    assert refused_by(made, (first, large), large, Marks(edges=edges[:2])) == "off the grain"
    assert refused(made, pieces, replace(first, width_in=14.0, height_in=14.0, grain_deg=20.0)) == "off the grain"


def striped(lines: Sequence[tuple[tuple[float, float], tuple[float, float]]], direction_deg: float) -> Plan:
    """A block all of one striped fabric."""
    block = exact_block(lines)
    block = replace(
        block,
        fabrics=(Fabric("deck", direction_deg=direction_deg),),
        patches=tuple(replace(patch, fabric="deck") for patch in block.patches),
    )
    return plan(block, PlanOptions())


@pytest.mark.parametrize("direction", [0.0, 90.0, 30.0])
def test_stripes_lie_as_they_are_meant_to_and_a_square_that_is_turned_is_refused(direction: float):
    made = striped([((0, 3), (6, 3)), ((3, 3), (3, 6))], direction)
    pieces = pieces_of(made)
    assert all(piece.one_way and piece.runs for piece in pieces)
    assert refused(made, pieces) == ""
    piece = pieces[1]
    turned = replace(piece, runs={"width": "height", "height": "width"}[piece.runs])
    # Laid by marks, hands turn it so that its print runs right; then it no longer covers.
    assert refused(made, pieces, turned) in ("off the grain", "too little extra", "does not fit its marks")
    # Nor may the piece itself say where the print runs: the drawing does.
    other = {"runs": turned.runs, "grain_deg": (direction + 90) % 180}
    assert refused(made, pieces, replace(piece, **other)) in ("off the grain", "does not fit its marks")


@pytest.mark.parametrize(("direction", "runs"), [(45.0, ("height", "width")), (135.0, ("width", "height"))])
def test_stripes_of_rulers_rectangles_on_point_run_along_the_side_that_is_cut_so(direction: float, runs: object):
    # 8 x 4 in, standing on a corner, parted into 3 x 4 and 5 x 4: neither side is more across than the other.
    share = Fraction(2**53 * math.sqrt(0.5)) / 2**53

    def at(u: int, v: int) -> tuple[Fraction, Fraction]:
        return (10 + (u - v) * share, (u + v) * share)

    block = exact_block([(at(5, 0), at(5, 4))], [at(0, 0), at(8, 0), at(8, 4), at(0, 4)])
    patches = tuple(replace(patch, fabric="deck") for patch in block.patches)
    block = replace(block, fabrics=(Fabric("deck", direction_deg=direction),), patches=patches)
    made = plan(block, PlanOptions(rotary=Rotary.AUTO))
    pieces = pieces_of(made)
    assert [(p.width_in, p.height_in) for p in pieces] == [(4.5, 3.5), (5.5, 4.5)]
    assert tuple(piece.runs for piece in pieces) == runs
    assert refused(made, pieces) == ""
    assert refused(made, [replace(p, runs={"width": "height", "height": "width"}[p.runs]) for p in pieces]) != ""


@pytest.mark.parametrize(
    ("name", "size"), [("compass-star", "4in"), ("compass-star", "5 1/2in"), ("storm-rose", "6in")]
)
def test_quarters_of_a_block_are_cut_alike_in_any_size(name: str, size: str):
    """Four quarters, each the next one rotated: neither floats nor where an outline begins make a difference."""
    drawing = next(path for path in designs() if path.stem == name)
    made = api.outcome(f"{drawing}@{size}", []).plan
    assert made is not None
    cut = {p.patch: (p.shape, p.lay, *sorted((p.width_in, p.height_in))) for p in pieces_of(made)}
    for sections in made.prints():
        assert len(sections) == 4
        assert len({tuple(cut[patch] for patch in section.patches) for section in sections}) == 1
    api.rehearse(made)


# -- what is printed and said ------------------------------------------------------------------------------------


@pytest.mark.parametrize("path", designs(), ids=lambda path: path.stem)
def test_places_of_a_drawing_are_cut_and_laid_alike(path: Path):
    made, pieces = design(path.stem)
    of_patch = {piece.patch: piece for piece in pieces}
    for first, *others in common_to(made).drawings:
        for place in others:
            for one, two in zip(first.section.patches, place.section.patches, strict=True):
                a, b = of_patch[one], of_patch[two]
                assert (a.shape, a.lay, a.hand) == (b.shape, b.lay, b.hand)
                assert sorted((a.width_in, a.height_in)) == pytest.approx(sorted((b.width_in, b.height_in)))
                laid = Polygon([moved(place.motion, p) for p in b.laid]) if b.laid else Polygon()
                assert laid.symmetric_difference(Polygon(a.laid)).area < 0.3


@pytest.mark.parametrize("name", ["kite", "compass-star", "lighthouse-beam"])
def test_marks_on_the_paper_lie_where_the_piece_lies_before_the_flip(name: str):
    made, pieces = design(name)
    of_name = {piece.name: piece for piece in pieces}
    for print_ in drawn_once(made):
        back, trim = laid_back(print_), Polygon(print_.trim_outline)
        for patch in print_.patches:
            piece, laid = of_name[patch.name], patch.laid
            assert laid is not None
            assert laid.how == piece.lay.value
            marks = [*laid.ticks, *laid.legs, *laid.middles]
            assert bool(marks) <= (piece.lay in (Lay.TICKS, Lay.ANGLED))
            for mark in marks:
                assert trim.buffer(1e-9).contains(LineString(mark))
            border = Polygon(piece.laid).exterior if piece.laid else LineString()
            for leg in laid.legs:
                assert all(border.distance(shapely.Point(back(p))) < 1e-6 for p in leg)
            for tick in laid.ticks:
                ends = [shapely.Point(p) for p in piece.laid[:2]]
                middle = LineString([back(p) for p in tick]).interpolate(0.5, normalized=True)
                assert min(middle.distance(end) for end in ends) < 1e-6


def drawn_once(made: Plan) -> list[Foundation]:
    """The print of the first place of each drawing."""
    first = {places[0].section.name for places in common_to(made).drawings}
    return [print_ for print_ in foundations(made) if print_.section in first and print_.mirrored]


@pytest.mark.parametrize("printing", [PrintOptions(unmirrored=True), PrintOptions(windows=True)])
def test_what_is_not_sewn_on_shows_no_marks_for_laying(printing: PrintOptions):
    made, _ = design("kite")
    assert all(patch.laid is None for print_ in foundations(made, printing) for patch in print_.patches)


def test_pictures_say_the_real_size_and_how_it_is_laid():
    made = planned_lines([((3, 0), (6, 3))])
    (section,) = rehearse(sewing_of(made, pieces_of(made))).sections
    first, corner = section.steps
    assert said(first) == "7 x 7 in"
    assert said(corner) == "half of a 4 1/2 in square"
    assert lay_words(corner, Units.INCH).startswith("its long edge on the trimmed edge")


def said(step: SewnStep) -> str:
    return cut_size(step, Units.INCH)


def test_a_sheet_says_once_what_the_marks_are_and_the_data_tell_where_they_lie():
    made, pieces = design("kite")
    prints = foundations(made)
    (told,) = said_of_marks(prints)
    assert told.startswith('"lay A3" says where the piece for A3 lies')
    assert said_of_marks(foundations(made, PrintOptions(unmirrored=True))) == ()
    placed = Placed(prints[0], (72.0, 0.0, 0.0, 72.0, 10.0, 20.0), 1)
    (a1, _, a3, _) = placed_object(placed)["patches"]
    assert a1["lay"] == {"how": "first", "ticks_pt": [], "laid_pt": [], "drawn_pt": []}
    assert a3["lay"]["how"] == "angled"
    assert 2 <= len(a3["lay"]["drawn_pt"]) <= 4
    # In points, on the printed side: mirrored, but of the size that is cut.
    third = next(piece for piece in pieces if piece.name == "A3")
    assert Polygon(a3["lay"]["laid_pt"]).area == pytest.approx(third.width_in * third.height_in * 72**2, rel=1e-4)


@cache
def sheet_with_marks() -> Sheet:
    made, _ = design("compass-star")
    return lay_out([(made, foundations(made))])[0]


def marks_on(sheet: Sheet) -> dict[str, list[tuple[tuple[float, float], ...]]]:
    """Ticks and dotted edges of a sheet's first print, in points of the page."""
    placed = sheet.placed[0]
    laid = [patch.laid for patch in placed.foundation.patches if patch.laid is not None]
    ends = {"tick": [t for one in laid for t in one.ticks], "dots": [leg for one in laid for leg in one.legs]}
    return {what: [tuple(moved(placed.affine, p) for p in line) for line in lines] for what, lines in ends.items()}


def with_mark(what: str, change: Callable[[Stroke], Stroke | None]) -> bytes:
    """The file with the first mark of a kind changed, or left out (None)."""
    first = sheet_with_marks()
    line = marks_on(first)[what][0]
    assert any(isinstance(ink, Stroke) and ink.points == line for ink in first.ink)
    ink = [change(one) if isinstance(one, Stroke) and one.points == line else one for one in first.ink]
    changed = replace(first, ink=tuple(one for one in ink if one is not None))
    return to_pdf((changed,), title="t", made_from="m")


@pytest.mark.parametrize("what", ["tick", "dots"])
def test_a_mark_that_the_file_does_not_hold_where_it_belongs_is_found_by_the_reading_back(what: str):
    def along(one: Stroke) -> Stroke:
        """1/16 in along the edge on which a tick stands, or off the edge that dots show."""
        (ax, ay), (bx, by) = one.points
        share = 4.5 / math.dist((ax, ay), (bx, by))
        return replace(one, points=tuple((x - share * (by - ay), y + share * (bx - ax)) for x, y in one.points))

    def shorter(one: Stroke) -> Stroke:
        (ax, ay), (bx, by) = one.points
        return replace(one, points=((ax, ay), ((ax + bx) / 2, (ay + by) / 2)))

    sheets = (sheet_with_marks(),)
    read_back(with_mark(what, lambda one: one), sheets)
    other = Pen.LAID if what == "tick" else Pen.RULE
    for change in (lambda one: None, along, shorter, lambda one: replace(one, pen=other)):
        with pytest.raises(ProofError, match="tick for a piece" if what == "tick" else "outline of a piece"):
            read_back(with_mark(what, change), sheets)


def test_a_mark_that_is_drawn_besides_is_found_by_the_reading_back():
    first = sheet_with_marks()
    (a, b), *_ = marks_on(first)["dots"]
    more = Stroke(Pen.LAID, ((a[0] + 9, a[1] + 9), (b[0] + 9, b[1] + 9)))
    changed = replace(first, ink=(*first.ink, more))
    with pytest.raises(ProofError, match="besides"):
        read_back(to_pdf((changed,), title="t", made_from="m"), (first,))
