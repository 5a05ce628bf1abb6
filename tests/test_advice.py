"""Advice before cutting: each threshold just below and just above it, and silence where nothing is amiss.

The thresholds and what quilters do about each place are common practice, as handbooks and classes teach it.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import replace
from fractions import Fraction

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from seamwright.block.make import make_block
from seamwright.block.model import Block
from seamwright.fabric.model import Fabric, Value
from seamwright.fabric.shade import colour_lightness, is_dark, is_light, lightness
from seamwright.notes import Note
from seamwright.options import Fit, PlanOptions, Units
from seamwright.piecing.advice import _joins, advice
from seamwright.piecing.plan import plan
from seamwright.piecing.seammap import SeamMap
from seamwright.report.checks import check_object
from seamwright.words.checks import check_words
from support.drawn import drawing, square
from support.exact import exact_block
from support.random_blocks import grid, mixed_blocks, star

Line = tuple[tuple[float, float], tuple[float, float]]


def advice_of(block: Block, **options: object) -> dict[str, Note]:
    """Advice of a block by its kind."""
    made = plan(block, PlanOptions(**options))  # type: ignore[arg-type]
    return {note.code: note for note in made.notes if note.code.startswith("advice")}


def exact(
    lines: Iterable[Line], outline: Sequence[tuple[float, float]] = ((0, 0), (6, 0), (6, 6), (0, 6))
) -> Block:
    """A block of lines whose coordinates are taken as rational numbers of a few digits."""

    def near(p: tuple[float, float]) -> tuple[Fraction, Fraction]:
        return Fraction(str(p[0])), Fraction(str(p[1]))

    return exact_block([(near(a), near(b)) for a, b in lines], [near(p) for p in outline])


def dressed(block: Block, fabrics: dict[int, str], known: Sequence[Fabric]) -> Block:
    """The block with fabrics laid on patches by number."""
    patches = tuple(replace(p, fabric=fabrics.get(n)) for n, p in enumerate(block.patches))
    return replace(block, patches=patches, fabrics=tuple(known))


# -- sharp points ----------------------------------------------------------------------------------------------


@pytest.mark.parametrize(("degrees", "sharp"), [(14.9, 1), (15.0, 0), (15.1, 0), (3.0, 1)])
def test_a_point_sharper_than_fifteen_degrees_is_told(degrees: float, sharp: int) -> None:
    # Common practice: points under about 15 degrees are lost in their own allowances.
    end = 6 - 6 * math.tan(math.radians(degrees))
    block = make_block(drawing([*square(), ((0, 6), (6, end))]))
    found = advice_of(block).get("advice-sharp")
    assert (found.count if found else 0) == sharp
    if found:
        assert found.places_in == ((0, 6),)
        assert f"({math.floor(degrees)} degrees)" in found.text
        assert "trim the allowances under the point" in found.text


def test_sharp_points_are_counted_point_by_point_and_named_patch_by_patch() -> None:
    # A needle: two tips of one patch.
    found = advice_of(exact([((0, 3), (3, 2.6)), ((3, 2.6), (6, 3)), ((0, 3), (6, 3))]))["advice-sharp"]
    assert found.count == len(found.places_in) == 2
    assert set(found.places_in) == {(0, 3), (6, 3)}


# -- narrow patches ----------------------------------------------------------------------------------------------


@pytest.mark.parametrize(("width", "narrow"), [(0.249, True), (0.25, False), (0.251, False), (0.1, True)])
def test_a_strip_narrower_than_a_quarter_inch_is_told(width: float, narrow: bool) -> None:
    # Common practice: under 1/4 in finished, a patch's allowances reach beyond it on both sides.
    found = advice_of(exact([((2, 0), (2, 6)), ((2 + width, 0), (2 + width, 6))])).get("advice-narrow")
    assert (found is not None) == narrow
    if found:
        ((x, y),) = found.places_in
        assert 2 < x < 2 + width and 0 < y < 6
        assert found.count == 1


def test_a_sharp_tip_alone_makes_no_patch_narrow() -> None:
    assert "advice-narrow" not in advice_of(exact([((0, 6), (6, 5))]))


@pytest.mark.parametrize(("gap", "narrow"), [(0.24, True), (0.26, False)])
def test_a_patch_that_narrows_in_between_is_told_there(gap: float, narrow: bool) -> None:
    # A waist between two notches of the outline: both halves are wide.
    low, high = 3 - gap / 2, 3 + gap / 2
    outline = [(0, 0), (2, 0), (3, low), (4, 0), (6, 0), (6, 6), (4, 6), (3, high), (2, 6), (0, 6)]
    found = advice_of(exact([((5, 0), (5, 6))], outline)).get("advice-narrow")
    assert (found is not None) == narrow
    if found:
        assert found.places_in[0] == pytest.approx((3, 3), abs=0.01)


@pytest.mark.parametrize(("thick", "narrow"), [(0.2, True), (0.3, False)])
def test_a_narrow_arm_of_a_wide_patch_is_told(thick: float, narrow: bool) -> None:
    outline = [(0, 0), (3, 0), (3, 3 - thick), (6, 3 - thick), (6, 3), (3, 3), (0, 3)]
    found = advice_of(exact([((1, 0), (1, 3))], outline)).get("advice-narrow")
    assert (found is not None) == narrow
    if found:
        assert found.places_in[0] == pytest.approx((3, 3 - thick / 2), abs=0.01)


# -- crowds ----------------------------------------------------------------------------------------------------


@pytest.mark.parametrize(("lines", "crowded"), [(4, False), (5, True), (8, True)])
def test_more_than_eight_patches_at_a_point_are_told(lines: int, crowded: bool) -> None:
    # Common practice: eight wedges press flat if their seams are pressed round; more make a lump.
    block = star(lines)
    found = advice_of(block).get("advice-bulk")
    assert (found is not None) == crowded
    if found:
        assert found.places_in == (block.points[next(p for p in range(len(block.points)) if _is_middle(block, p))],)
        assert f"up to {2 * lines} at one" in found.text


def _is_middle(block: Block, point: int) -> bool:
    return sum(point in (edge.start, edge.end) for edge in block.edges) > 8


# -- seams that nearly meet -----------------------------------------------------------------------------------


@pytest.mark.parametrize(("apart", "missed"), [(0.124, True), (0.125, False), (0.126, False), (0.07, True)])
def test_seams_that_miss_each_other_by_less_than_an_eighth_are_told(apart: float, missed: bool) -> None:
    # Common practice: a step of less than 1/8 in reads as a mistake, a larger one as drawn on purpose.
    block = exact([((0, 3), (6, 3)), ((2, 0), (2, 3)), ((2 + apart, 3), (2 + apart, 6))])
    found = advice_of(block).get("advice-miss")
    assert (found is not None) == missed
    if found:
        assert found.largest_in == pytest.approx(apart)
        assert found.places_in == (pytest.approx((2 + apart / 2, 3)),)
        assert "(2 1/16, 3) in" in found.text


def test_seams_on_one_side_and_seams_that_meet_miss_nothing() -> None:
    one_side = [((0, 3), (6, 3)), ((2, 0), (2, 3)), ((2.1, 0), (2.1, 3))]
    meeting = [((0, 3), (6, 3)), ((2, 0), (2, 6))]
    assert "advice-miss" not in advice_of(exact(one_side))
    assert "advice-miss" not in advice_of(exact(meeting))


@given(seed=st.integers(0, 10**6))
@settings(derandomize=True, deadline=None, max_examples=40)
def test_seams_that_end_on_both_sides_of_a_seam_meet_at_a_join_in_every_plan(seed: int) -> None:
    for block in mixed_blocks(seed, 1):
        made, seams = plan(block), SeamMap(block)
        joined = {frozenset(pair) for join in made.joins for pair in zip(join.seam, join.seam[1:], strict=False)}
        for number, seam in enumerate(block.seams):
            met = {k: seams.arrivals(number, k) for k in range(1, len(seam.points) - 1)}
            for k, sides in met.items():
                if made.pieceable and {sides, met.get(k + 1)} == {(True, False), (False, True)}:
                    assert frozenset(seam.points[k : k + 2]) in joined


# -- off the paper --------------------------------------------------------------------------------------------


@pytest.mark.parametrize(("side", "large"), [(4.99, False), (5.0, False), (5.01, True), (8.0, True)])
def test_a_plain_patch_wider_than_a_charm_square_is_better_off_the_paper(side: float, large: bool) -> None:
    # Common practice: fabric is sold in squares of 5 in to be pieced without paper; what is larger is cut by ruler.
    outline = [(0, 0), (side + 3, 0), (side + 3, side), (0, side)]
    lines = [((side, 0), (side, side)), ((side, 2), (side + 3, 3)), ((side, 3), (side + 3, 3))]
    found = advice_of(exact(lines, outline)).get("advice-large")
    assert (found is not None) == large
    if found:
        assert found.count == 1 and found.largest_in == pytest.approx(side, abs=0.01)
        assert found.places_in[0] == pytest.approx((side / 2, side / 2), abs=0.01)


def test_a_large_patch_that_others_are_sewn_to_stays_on_the_paper() -> None:
    # The middle of five: strips go on all round, so it cannot be left out of the foundation.
    outline = [(0, 0), (8, 0), (8, 8), (0, 8)]
    lines = [((1, 0), (1, 7)), ((0, 7), (7, 7)), ((7, 8), (7, 1)), ((8, 1), (1, 1))]
    assert "advice-large" not in advice_of(exact(lines, outline))
    lines = [((1, 0), (1, 8)), ((1, 7), (7, 7)), ((7, 8), (7, 0)), ((7, 1), (1, 1))]
    made = plan(exact(lines, outline), PlanOptions(fit=Fit.NONE))
    assert len(made.sections) == 1
    assert "advice-large" not in {note.code for note in made.notes}


def test_a_large_patch_with_a_sharp_tip_stays_on_the_paper() -> None:
    assert "advice-large" not in advice_of(exact([((0, 0), (12, 9))], [(0, 0), (12, 0), (12, 9), (0, 9)]))


# -- shadows ---------------------------------------------------------------------------------------------------

INK, SAIL, SAND = (
    Fabric("ink", value=Value.DARK),
    Fabric("sail", value=Value.LIGHT),
    Fabric("sand", value=Value.MEDIUM),
)


def test_a_join_of_dark_and_light_is_pressed_to_the_dark_side() -> None:
    # Common practice: allowances are pressed towards the darker fabric.
    block = grid(2, 2)
    top = {n: "ink" if block.points[p.ring[0]][1] < 1 else "sail" for n, p in enumerate(block.patches)}
    found = advice_of(dressed(block, top, [INK, SAIL]))["advice-shadow"]
    assert found.text == "dark allowance would show through light patches: press join 1 to the dark side"
    assert found.places_in == ((1, 1),)


def test_a_join_with_dark_beside_light_on_both_sides_is_pressed_open() -> None:
    block = grid(2, 2)
    checked = {n: "ink" if sum(block.points[p.ring[0]]) % 2 < 1 else "sail" for n, p in enumerate(block.patches)}
    found = advice_of(dressed(block, checked, [INK, SAIL]))["advice-shadow"]
    assert "press join 1 open" in found.text


@pytest.mark.parametrize(
    ("numbers", "told"),
    [
        ([3], "join 3"),
        ([1, 2], "joins 1 and 2"),
        ([1, 2, 3, 5, 7, 8], "joins 1 to 3, 5, 7 and 8"),
        (list(range(1, 24)), "joins 1 to 23"),
    ],
)
def test_joins_are_all_named(numbers: list[int], told: str) -> None:
    assert _joins(numbers) == told


@pytest.mark.parametrize("other", [SAND, Fabric("plain"), INK])
def test_nothing_shows_through_where_dark_does_not_meet_light(other: Fabric) -> None:
    block = grid(2, 2)
    top = {n: "ink" if block.points[p.ring[0]][1] < 1 else other.name for n, p in enumerate(block.patches)}
    assert "advice-shadow" not in advice_of(dressed(block, top, list(dict.fromkeys([INK, other]))))


@pytest.mark.parametrize(
    ("colour", "lightness_expected"),
    # Y and L* of the primaries and of mid grey in sRGB; worked out from CIE 15:2004 and IEC 61966-2-1, and as
    # colour handbooks print them (red 53.24, green 87.73, blue 32.30).
    [
        ("#000000", 0),
        ("#ffffff", 100),
        ("#ff0000", 53.24),
        ("#00ff00", 87.73),
        ("#0000ff", 32.30),
        ("#777777", 50.03),
    ],
)
def test_lightness_agrees_with_colour_handbooks(colour: str, lightness_expected: float) -> None:
    assert colour_lightness(colour) == pytest.approx(lightness_expected, abs=0.01)


def test_a_value_given_goes_before_the_colour() -> None:
    faded = Fabric("faded", colour="#101010", value=Value.LIGHT)
    assert is_light(faded) and not is_dark(faded)
    assert (
        lightness(Fabric("unknown")) is None and not is_dark(Fabric("unknown")) and not is_light(Fabric("unknown"))
    )


# -- where it is told ------------------------------------------------------------------------------------------


def test_a_block_that_asks_for_no_care_gets_no_advice() -> None:
    for block in (grid(3, 3), grid(4, 2), exact([((0, 3), (6, 3))])):
        assert advice(plan(block), SeamMap(block)) == ()


def test_a_stuck_drawing_is_advised_too() -> None:
    pinwheel = [((2, 0), (2, 4)), ((0, 4), (4, 4)), ((4, 6), (4, 2)), ((6, 2), (2, 2)), ((4.1, 4), (6, 4))]
    block = exact([*pinwheel[:4], ((0, 3.8), (2, 3.8))])
    made = plan(block)
    assert not made.pieceable
    found = {note.code: note for note in made.notes}
    assert "?" in found["advice-narrow"].text


def test_advice_is_told_in_sentences_and_as_notes() -> None:
    made = plan(exact([((0, 3), (6, 3)), ((2, 0), (2, 3)), ((2.1, 3), (2.1, 6))]))
    lines = [line.strip() for line in check_words("reef.seams", made)]
    assert any(line.startswith("Advice: 1 pair of seams misses each other by less than 1/8 in") for line in lines)
    assert lines[-1].startswith("Proven")
    (note,) = (n for n in check_object("reef.seams", made)["notes"] if n["code"] == "advice-miss")
    assert (note["code"], note["count"], note["largest_in"]) == ("advice-miss", 1, 0.1)


def test_advice_speaks_the_sewers_measures() -> None:
    block = exact([((2, 0), (2, 6)), ((2.1, 0), (2.1, 6))])
    text = advice_of(block, units=Units.METRIC)["advice-narrow"].text
    assert "narrower than 0.65 cm" in text and " in " not in text.replace("in the seam", "").replace("lay a", "")


def test_many_places_are_told_in_one_line_with_the_first_few() -> None:
    strips = [((x / 10, 0), (x / 10, 6)) for x in range(1, 60)]
    found = advice_of(exact(strips))
    assert set(found) == {"advice-narrow"}
    note = found["advice-narrow"]
    assert note.count == len(note.places_in) == 60
    assert "A1, A2, A3 and 57 more" in note.text
    assert len(note.text) < 250
