"""The sewing rehearsal: every plan comes out as drawn, and clumsy hands are found out from the cloth alone."""

from __future__ import annotations

import math
import random
from collections.abc import Callable, Sequence
from dataclasses import replace
from itertools import pairwise
from pathlib import Path

import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely import affinity
from shapely.geometry import Polygon
from shapely.geometry.base import BaseGeometry

from seamwright.claims.sewing import sewing_of
from seamwright.errors import ProofError
from seamwright.geometry import Point, Ring
from seamwright.options import Fit, PlanOptions
from seamwright.piecing.model import Plan
from seamwright.piecing.plan import plan
from seamwright.rehearsal import hands as true_hands
from seamwright.rehearsal.hands import Hands, Knife, Need, Piece
from seamwright.rehearsal.line import StitchLine
from seamwright.rehearsal.model import Cloth, JoinToSew, PatchToSew, Rehearsed, SectionToSew, Sewing
from seamwright.rehearsal.rehearse import SAME_SHARE, rehearse
from support.prints import designs, planned
from support.random_blocks import L_SHAPE, mixed_blocks, random_lines

STAR = ((6, 0), (8, 4), (12, 4), (9, 7), (10, 12), (6, 9), (2, 12), (3, 7), (0, 4), (4, 4))
"""Five points, five inside corners."""


# -- every plan ------------------------------------------------------------------------------------------


@pytest.mark.parametrize("path", designs(), ids=lambda path: path.stem)
def test_every_design_comes_out_as_drawn(path: Path):
    made = planned(path)
    comes_out_as_drawn(made if made.sections else planned(path, PlanOptions(set_in=True)))


@pytest.mark.parametrize("seed", range(6))
def test_random_blocks_of_every_kind_and_outline_come_out_as_drawn(seed: int):
    for block in mixed_blocks(seed, 10, most_lines=7):
        made = plan(block, PlanOptions(fit=Fit.NONE))
        if made.sections:
            comes_out_as_drawn(made)


@pytest.mark.parametrize("seed", range(6))
def test_a_star_with_inside_corners_comes_out_as_drawn(seed: int):
    comes_out_as_drawn(plan(random_lines(seed, 4, STAR, 0.6), PlanOptions(fit=Fit.NONE)))


@pytest.mark.long
@pytest.mark.parametrize("seed", range(20))
def test_thousands_of_blocks_come_out_as_drawn_at_any_size_angle_and_allowance(seed: int):
    chance = random.Random(seed)
    stars = (random_lines(chance.randrange(2**32), chance.randint(1, 8), STAR, chance.random()) for _ in range(50))
    for block in (*mixed_blocks(seed + 1000, 150), *stars):
        made = plan(block, PlanOptions(set_in=True, fit=Fit.NONE))
        if made.sections:
            scale, angle = chance.choice((0.2, 0.5, 1, 2, 8)), chance.choice((0.0, chance.random() * math.tau))
            allowance = chance.choice((1 / 4, 1 / 4, 0.75 / 2.54, 1 / 8, 1 / 2))
            rehearse(moved(sewing_of(made), scale, angle, allowance))


def comes_out_as_drawn(made: Plan) -> Rehearsed:
    done = rehearse(sewing_of(made))
    assert done.steps == len(made.block.patches)
    assert done.largest_share <= SAME_SHARE
    return done


def moved(sewing: Sewing, scale: float, angle: float, allowance: float) -> Sewing:
    cos, sin = scale * math.cos(angle), scale * math.sin(angle)

    def ring(points: Ring) -> Ring:
        return tuple((cos * x - sin * y + 11.3, sin * x + cos * y) for x, y in points)

    sections = tuple(
        # At another scale its trim outline would not be an allowance away.
        replace(
            s, outline=ring(s.outline), trim=(), patches=tuple(replace(p, ring=ring(p.ring)) for p in s.patches)
        )
        for s in sewing.sections
    )
    return replace(sewing, outline=ring(sewing.outline), sections=sections, allowance_in=allowance)


@pytest.mark.parametrize("name", ["kite", "gull", "compass-star"])
def test_the_topmost_layer_at_any_point_is_the_patch_that_was_drawn_there(name: str):
    """A second road to the comparison: points instead of areas, GEOS's point-in-polygon instead of its overlays."""
    path = next(path for path in designs() if path.stem == name)
    sewing = sewing_of(planned(path))
    chance = random.Random(7)
    for section, sewn in zip(sewing.sections, rehearse(sewing).sections, strict=True):
        for patch in section.patches:
            area = Polygon(patch.ring).buffer(-1e-6)
            for _ in range(20):
                x, y = inside(area, chance)
                top = [cloth for cloth in sewn.steps[-1].table if shapely.contains_xy(cloth.shape, x, y)][-1]
                assert top.patch == patch.name
                assert top.right_side_up


def inside(area: BaseGeometry, chance: random.Random) -> Point:
    left, top, right, bottom = area.bounds
    while True:
        point = (chance.uniform(left, right), chance.uniform(top, bottom))
        if shapely.contains_xy(area, *point):
            return point


def test_no_stitch_line_of_the_planner_is_read():
    made = planned(next(path for path in designs() if path.stem == "gull"))
    blind = tuple(replace(s, steps=tuple(replace(step, stitch=()) for step in s.steps)) for s in made.sections)
    assert sewing_of(replace(made, sections=blind)) == sewing_of(made)


# -- pieces of fabric against sizes worked out by hand ----------------------------------------------------------

# Common practice for fabric of a foundation patch: the allowance on the stitch side, at least 1/4 in more beyond it
# on the other three sides; extra all round for the first patch; the patch boxed.


def square(x: float, y: float, width: float, height: float) -> Ring:
    return ((x, y), (x + width, y), (x + width, y + height), (x, y + height))


def section_of(*rings: Ring, outline: Ring) -> SectionToSew:
    return SectionToSew("A", tuple(PatchToSew(f"A{n}", ring) for n, ring in enumerate(rings, 1)), outline)


def alone(section: SectionToSew, allowance: float = 1 / 4) -> Sewing:
    return Sewing((section,), (), section.outline, allowance)


CENTRE_AND_STRIP = section_of(square(0, 0, 2, 2), square(0, 2, 2, 1), outline=square(0, 0, 2, 3))
SHARP_TIP = section_of(
    ((4, 0), (8, 0), (8, 4), (0, 4), (0, 1)), ((0, 0), (4, 0), (0, 1)), outline=square(0, 0, 8, 4)
)
TWO_TRIANGLES = section_of(((0, 0), (3, 0), (0, 3)), ((3, 0), (3, 3), (0, 3)), outline=square(0, 0, 3, 3))


@pytest.mark.parametrize(
    ("section", "allowance", "sizes"),
    [
        # Square 2 x 2: 1/4 + 1/4 in on each side. Strip 2 x 1 along its 2 in seam: 2 + 4/4; 1 + 1/4 + 2/4.
        pytest.param(CENTRE_AND_STRIP, 1 / 4, [(3, 3), (3, 1.75)], id="strip on a square"),
        # The same at 3/8 in: 2 + 2 (3/8 + 1/4); 1 + 3/8 + 3/8 + 1/4.
        pytest.param(CENTRE_AND_STRIP, 3 / 8, [(3.25, 3.25), (3.25, 2)], id="at another allowance"),
        # Half-squares, 3 in legs: the seam is 4.2426, the height above it 2.1213. At the ends and at the square
        # corner the allowance reaches 1/4 x 1.4142 = 0.3536 out: 4.2426 + 2 (0.3536 + 1/4); 2.1213 + 0.3536 + 1/4,
        # and behind the seam 1/4 + 1/4 for the first, 1/4 for the second.
        pytest.param(TWO_TRIANGLES, 1 / 4, [(5.4497, 3.2249), (5.4497, 2.9749)], id="half-square triangles"),
        # A seam of 4.1231 in that meets the top edge at 14.04 degrees (1 in 4): there the second patch's share of
        # the allowance runs on to 1/4 / sin = 1.0308 past the tip; at the left edge to 1/4 / cos = 0.2577. The
        # corner (-1/4, -1/4) lies 0.9701 + (1/4 + 4/4) / 4.1231 = 1.2733 from the seam.
        pytest.param(SHARP_TIP, 1 / 4, [(9, 5), (5.9116, 1.7733)], id="a sharp tip"),
    ],
)
def test_pieces_have_the_sizes_worked_out_by_hand(
    section: SectionToSew, allowance: float, sizes: Sequence[tuple[float, float]]
):
    (sewn,) = rehearse(alone(section, allowance)).sections
    assert [(step.width_in, step.height_in) for step in sewn.steps] == [pytest.approx(s, abs=1e-4) for s in sizes]


# -- clumsy hands ------------------------------------------------------------------------------------------


def no_flip(cloth: Cloth, line: StitchLine, held: BaseGeometry) -> Cloth:
    return cloth


def turned_over_but_left(cloth: Cloth, line: StitchLine, held: BaseGeometry) -> Cloth:
    return replace(cloth, right_side_up=True)


def slid_across(cloth: Cloth, line: StitchLine, held: BaseGeometry) -> Cloth:
    (x, y), (u, v) = line.place(0, 0), line.place(0, 1)
    return replace(cloth, shape=affinity.translate(cloth.shape, u - x, v - y), right_side_up=True)


def wrong_side_out(cloth: Cloth, line: StitchLine, held: BaseGeometry) -> Cloth:
    return replace(true_hands.flip(cloth, line, held), right_side_up=False)


def trim_at(depth: float) -> Callable[[BaseGeometry, StitchLine, float, Knife], BaseGeometry]:
    def trim(layer: BaseGeometry, line: StitchLine, allowance: float, knife: Knife) -> BaseGeometry:
        return true_hands.trim(layer, line, depth, knife)

    return trim


def no_trim(layer: BaseGeometry, line: StitchLine, allowance: float, knife: Knife) -> BaseGeometry:
    return layer


def cut_with(extra: float) -> Callable[[Need, float], Piece]:
    return lambda need, _: true_hands.cut_piece(need, extra)


def cut_short_on(**less_in: float) -> Callable[[Need, float], Piece]:
    def cut(need: Need, extra: float) -> Piece:
        piece = true_hands.cut_piece(need, extra)
        return replace(piece, **{side: getattr(piece, side) - by for side, by in less_in.items()})

    return cut


def laid_along(by: float) -> Callable[[Piece, StitchLine, float | None], Cloth]:
    def lay(piece: Piece, line: StitchLine, edge: float | None) -> Cloth:
        return true_hands.lay(replace(piece, low=piece.low + by, high=piece.high + by), line, edge)

    return lay


def laid_on_the_line(piece: Piece, line: StitchLine, edge: float | None) -> Cloth:
    return true_hands.lay(piece, line, 0.0)


def right_side_up(piece: Piece, line: StitchLine, edge: float | None) -> Cloth:
    return replace(true_hands.lay(piece, line, edge), right_side_up=True)


def mitred(piece: Piece, line: StitchLine, edge: float | None) -> Cloth:
    whole = true_hands.lay(piece, line, edge)
    corner = shapely.Point(whole.shape.exterior.coords[0]).buffer(0.5)
    return replace(whole, shape=whole.shape.difference(corner))


def wrong_side_first(piece: Piece, line: StitchLine) -> Cloth:
    return replace(true_hands.lay_first(piece, line), right_side_up=False)


PLANTED = [
    ("not flipped", Hands(flip=no_flip), "wrong flip"),
    ("turned over, yet on the old side", Hands(flip=turned_over_but_left), "wrong flip"),
    ("slid across instead of folded", Hands(flip=slid_across), "wrong flip"),
    ("the wrong side out", Hands(flip=wrong_side_out), "wrong flip"),
    ("laid right side up", Hands(lay=right_side_up), "wrong flip"),
    ("the first piece laid wrong side up", Hands(lay_first=wrong_side_first), "wrong flip"),
    ("trimmed to 1/8 in", Hands(trim=trim_at(1 / 8)), "trim too deep"),
    ("trimmed a thread too deep", Hands(trim=trim_at(1 / 4 - 0.004)), "trim too deep"),
    ("trimmed beyond the line", Hands(trim=trim_at(-1 / 8)), "trimmed into a patch"),
    ("not trimmed", Hands(trim=no_trim), "allowance not trimmed"),
    ("trimmed to 3/8 in", Hands(trim=trim_at(3 / 8)), "allowance not trimmed"),
    ("cut without extra", Hands(cut_piece=cut_with(0)), "too little extra"),
    ("cut with 1/8 in extra", Hands(cut_piece=cut_with(1 / 8)), "too little extra"),
    ("cut short at one end", Hands(cut_piece=cut_short_on(high=1 / 16)), "too little extra"),
    ("cut narrow", Hands(cut_piece=cut_short_on(deep=1 / 16)), "too little extra"),
    ("cut narrow on the stitch side", Hands(cut_piece=cut_short_on(beyond=1 / 16)), "too little extra"),
    ("a corner cut off", Hands(lay=mitred), "too little extra"),
    ("laid 3/16 in too far along", Hands(lay=laid_along(3 / 16)), "too little extra"),
    ("laid 2 in too far along", Hands(lay=laid_along(2)), "too little in the seam"),
    ("cut far too small", Hands(cut_piece=cut_with(-1)), "does not cover"),
    ("laid to the line instead of the trimmed edge", Hands(lay=laid_on_the_line), "too little in the seam"),
]


@pytest.mark.parametrize(("hands", "code"), [p[1:] for p in PLANTED], ids=[p[0] for p in PLANTED])
def test_clumsy_hands_are_refused_by_name(hands: Hands, code: str):
    assert code_of(KITE, hands) == code


KITE = sewing_of(planned(next(path for path in designs() if path.stem == "kite")))


def code_of(sewing: Sewing, hands: Hands = Hands()) -> str:  # noqa: B008
    with pytest.raises(ProofError, match="failed its rehearsal") as refused:
        rehearse(sewing, hands)
    assert refused.value.exit_code == 3
    return refused.value.faults[0].code


@settings(derandomize=True, deadline=None, max_examples=25)
@given(extra=st.floats(0, 0.2499))
def test_any_extra_below_a_quarter_inch_is_too_little(extra: float):
    assert code_of(KITE, Hands(cut_piece=cut_with(extra))) == "too little extra"


def test_a_piece_boxed_without_regard_to_its_slanting_tip_leaves_a_gap():
    # 1/2 in beyond the tip (4, 0) is enough for the patch, not for its share of the allowance, 1.03 in long.
    tip_first = replace(SHARP_TIP, patches=(SHARP_TIP.patches[1], SHARP_TIP.patches[0]))

    def boxed(piece: Piece, line: StitchLine) -> Cloth:
        return replace(true_hands.lay_first(piece, line), shape=shapely.box(-0.5, -0.5, 4.5, 1.5))

    assert rehearse(alone(tip_first)).largest_share <= SAME_SHARE
    assert code_of(alone(tip_first), Hands(lay_first=boxed)) == "gap in the allowance"


@settings(derandomize=True, deadline=None, max_examples=15)
@given(extra=st.floats(0.25, 3))
def test_more_extra_does_no_harm(extra: float):
    assert rehearse(KITE, Hands(cut_piece=cut_with(extra))).largest_share <= SAME_SHARE


# -- inside corners ------------------------------------------------------------------------------------------


def l_with_a_sliver() -> Sewing:
    """An L whose inside corner (3, 3) a seam runs into: the large part keeps more than 180 degrees there."""
    sliver: Ring = ((3, 3), (3, 6), (2, 6))
    rest: Ring = ((0, 0), (6, 0), (6, 3), (3, 3), (2, 6), (0, 6))
    outline: Ring = tuple((float(x), float(y)) for x, y in L_SHAPE)
    return alone(section_of(rest, sliver, outline=outline))


def test_a_seam_that_runs_into_an_inside_corner_stops_dead_there():
    (sewn,) = rehearse(l_with_a_sliver()).sections
    seam = sewn.steps[1].seam
    assert seam is not None
    assert seam.stops == ((3, 3),)
    assert (3, 3) in seam.needle


def test_fabric_that_falls_on_another_arm_is_cut_off_there_at_once_and_noted():
    done = rehearse(l_with_a_sliver())
    assert done.sections[0].steps[1].cleared is not None
    assert [note.code for note in done.notes] == ["notch"]


def test_fabric_left_on_another_arm_is_refused_by_name():
    left = Hands(clear=lambda cloth, arms, patch: cloth)
    assert code_of(l_with_a_sliver(), left) == "covered by a later patch"


def test_a_patch_that_goes_round_the_end_of_its_seam_is_clipped_and_noted():
    first, second = l_with_a_sliver().sections[0].patches
    done = rehearse(alone(section_of(second.ring, first.ring, outline=l_with_a_sliver().outline)))
    # The sliver keeps its own allowance: to the right of its outer edge its fabric shows, not that of the other.
    sliver, _ = done.sections[0].shown
    assert shapely.contains_xy(sliver.shape, 3.2, 5)
    seam = done.sections[0].steps[1].seam
    assert seam is not None
    assert seam.clipped
    assert "clip" in [note.code for note in done.notes]


@pytest.mark.parametrize("width", [0.05, 0.2, 0.4, 0.6, 1.0])
def test_a_notch_narrower_than_two_allowances_can_be_sewn_when_trimmed_step_by_step(width: float):
    left, right = (3 - width / 2, 3 + width / 2)
    outline: Ring = ((0, 0), (6, 0), (6, 6), (right, 6), (right, 2), (left, 2), (left, 6), (0, 6))
    top: Ring = ((0, 0), (6, 0), (6, 3), (right, 3), (right, 2), (left, 2), (left, 3), (0, 3))
    legs: tuple[Ring, Ring] = (((0, 3), (left, 3), (left, 6), (0, 6)), ((right, 3), (6, 3), (6, 6), (right, 6)))
    done = rehearse(alone(section_of(top, *legs, outline=outline)))
    # Each leg: (6 - notch) / 2 wide, 3 in long, with 1/2 in on three sides and 1/4 in at the seam.
    for step in done.sections[0].steps[1:]:
        assert (step.width_in, step.height_in) == (pytest.approx(4 - width / 2), pytest.approx(3.75))
    lies_on_the_other = done.sections[0].steps[2].cleared is not None
    # The second leg is 1/4 + 1/4 in wider than its patch on the notch's side.
    assert lies_on_the_other == (width < 0.5)


# -- curved sections ------------------------------------------------------------------------------------------


def part_of_a_ring(seed: int) -> Sewing:
    """A section between two arcs, up to most of a full turn, cut across by slanting lines, pieced from anywhere."""
    chance = random.Random(seed)
    span, inner = chance.uniform(0.6, 5.6), chance.uniform(0.5, 3)
    outer, count = inner + chance.uniform(0.6, 3), chance.randint(2, 7)

    def slanted() -> list[float]:
        turns = [(k + chance.uniform(-0.1, 0.1)) / count * span for k in range(1, count)]
        return [0.0, *turns, span]

    def arc(radius: float, begin: float, end: float) -> list[Point]:
        turns = (begin + (end - begin) * k / 12 for k in range(13))
        return [(radius * math.cos(t), radius * math.sin(t)) for t in turns]

    near, far = slanted(), slanted()
    out = [arc(outer, *pair) for pair in pairwise(far)]
    back = [arc(inner, *pair)[::-1] for pair in pairwise(near)]
    rings = [tuple(a + b) for a, b in zip(out, back, strict=True)]
    outline = [p for run in out for p in run[:-1]] + out[-1][-1:]
    outline += [p for run in reversed(back) for p in run[:-1]] + back[0][-1:]
    first = chance.randrange(count)
    order = sorted(range(count), key=lambda k: abs(k - first))
    return alone(section_of(*(rings[k] for k in order), outline=tuple(outline)))


@pytest.mark.parametrize("seed", range(24))
def test_sections_between_two_arcs_come_out_as_drawn(seed: int):
    assert rehearse(part_of_a_ring(seed)).largest_share <= SAME_SHARE


# -- what is handed in ------------------------------------------------------------------------------------------


def test_patches_out_of_order_are_refused():
    first, second, third, *rest = KITE.sections[0].patches
    order = replace(KITE.sections[0], patches=(third, first, second, *rest))
    assert code_of(replace(KITE, sections=(order, *KITE.sections[1:]))) == "not one line"


def test_a_patch_round_a_corner_is_refused():
    corner: Ring = ((2, 0), (3, 0), (3, 3), (0, 3), (0, 2), (2, 2))
    assert code_of(alone(section_of(square(0, 0, 2, 2), corner, outline=square(0, 0, 3, 3)))) == "not one line"


def test_patches_that_lie_on_each_other_are_refused():
    over = section_of(square(0, 0, 2, 2), square(1.9, 0, 2.1, 2), outline=square(0, 0, 4, 2))
    assert code_of(alone(over)) == "not one line"


def test_an_outline_wider_than_the_patches_is_refused():
    wide = section_of(square(0, 0, 2, 2), square(2, 0, 2, 2), outline=square(0, 0, 4.01, 2))
    assert code_of(alone(wide)) == "does not show as drawn"


def test_a_patch_that_is_not_there_is_refused():
    gone = section_of(square(0, 0, 2, 2), square(2, 0, 2, 2), outline=square(0, 0, 9, 2))
    assert code_of(alone(gone)) == "does not show as drawn"


def test_an_island_is_refused():
    ring: Ring = (*square(0, 0, 6, 6), (0, 0), (2, 2), (2, 4), (4, 4), (4, 2), (2, 2))
    refused = code_of(alone(section_of(square(2, 2, 2, 2), ring, outline=square(0, 0, 6, 6))))
    assert refused == "not one line"


JOINS = [
    ("a join left out", (), "part missing"),
    ("a part that is not there", (JoinToSew("A", "C", "A+C"),), "part missing"),
    ("a part joined to itself", (JoinToSew("A", "A", "A+A"),), "part missing"),
]


@pytest.mark.parametrize(("joins", "code"), [j[1:] for j in JOINS], ids=[j[0] for j in JOINS])
def test_joins_that_make_no_block_are_refused(joins: tuple[JoinToSew, ...], code: str):
    assert code_of(replace(KITE, joins=joins)) == code


def test_parts_that_lie_on_each_other_or_leave_a_gap_are_refused():
    a, b = KITE.sections
    assert code_of(replace(KITE, sections=(a, replace(a, name="B")))) == "parts overlap"
    off = replace(
        b,
        trim=(),
        outline=tuple((x + 1, y + 1) for x, y in b.outline),
        patches=tuple(replace(p, ring=tuple((x + 1, y + 1) for x, y in p.ring)) for p in b.patches),
    )
    assert code_of(replace(KITE, sections=(a, off))) == "parts do not meet"


def test_an_outline_that_is_not_the_blocks_is_refused():
    wider = tuple((x * 1.01, y) for x, y in KITE.outline)
    assert code_of(replace(KITE, outline=wider)) == "not the whole block"


def test_a_bent_join_called_straight_is_refused():
    parts = (
        SectionToSew("A", (PatchToSew("A1", square(0, 0, 2, 2)),), square(0, 0, 2, 2)),
        SectionToSew(
            "B",
            (PatchToSew("B1", ((2, 0), (3, 0), (3, 3), (0, 3), (0, 2), (2, 2))),),
            ((2, 0), (3, 0), (3, 3), (0, 3), (0, 2), (2, 2)),
        ),
    )
    sewing = Sewing(parts, (JoinToSew("A", "B", "A+B"),), square(0, 0, 3, 3), 1 / 4)
    assert code_of(sewing) == "not one line"
    set_in = replace(sewing, joins=(JoinToSew("A", "B", "A+B", "set-in"),))
    assert rehearse(set_in).joins[0].runs == (((0, 2), (2, 2), (2, 0)),)


def test_a_line_stops_dead_where_a_join_turns_and_runs_on_where_none_does():
    around = ((2, 0), (3, 0), (3, 3), (0, 3), (0, 2), (2, 2))
    halves = (
        PatchToSew("B1", ((2, 0), (3, 0), (3, 3), (2, 2))),
        PatchToSew("B2", ((3, 3), (0, 3), (0, 2), (2, 2))),
    )
    parts = (
        SectionToSew("A", (PatchToSew("A1", square(0, 0, 2, 2)),), square(0, 0, 2, 2)),
        SectionToSew("B", halves, around),
    )

    def stops(*turns: tuple[float, float]) -> tuple[tuple[float, float], ...]:
        join = JoinToSew("A", "B", "A+B", "set-in", turns)
        seam = rehearse(Sewing(parts, (join,), square(0, 0, 3, 3), 1 / 4)).sections[1].steps[1].seam
        assert seam is not None
        assert all(stop in seam.needle for stop in seam.stops)
        return seam.stops

    assert stops() == ()
    assert stops((2, 2)) == ((2, 2),)
    with pytest.raises(ProofError, match="do not meet where their seam turns"):
        stops((1, 1))


def test_a_coordinate_that_is_no_number_is_refused():
    bad = replace(KITE, outline=((math.nan, 0.0), *KITE.outline[1:]))
    assert code_of(bad) == "not a number"


def test_the_same_sewing_gives_the_same_cloth_to_the_last_bit():
    one, two = rehearse(KITE), rehearse(KITE)
    assert repr(one) == repr(two)
