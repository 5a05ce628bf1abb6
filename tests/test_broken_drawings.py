"""Good designs drawn badly: up to a third of the tolerance the right block comes back, never a wrong one unsaid.

What is right is judged from coordinates by GEOS and NetworkX (support.asmeant), which share no code with tidying.
"""

from __future__ import annotations

from collections import Counter
from dataclasses import replace
from fractions import Fraction
from itertools import pairwise

import pytest

from seamwright.block.make import make_block
from seamwright.block.model import Block
from seamwright.drawing.model import Drawing
from seamwright.errors import DrawingError
from seamwright.options import DEFAULT_TOLERANCE_IN
from support.asmeant import NOWHERE, RIGHT, UNTOLD, differs, has_place, shown, told
from support.drawn import drawing, square
from support.prints import designs
from support.sketchy import KINDS, all_strokes, sketch
from support.trials import cut_names, meant, outcome, tried

THIRD = Fraction(1, 3)
NAMES = [path.name for path in designs()]
SOME = ["kite.svg", "crest.seams", "pennant.svg", "lamp.seams", "breakwater.seams", "mooring-star.seams"]


@pytest.mark.parametrize("kind", KINDS)
def test_designs_drawn_badly_by_a_third_of_the_tolerance_come_back(kind: str) -> None:
    found = Counter(outcome(name, kind, THIRD, seed=500 + n) for n, name in enumerate(NAMES))
    assert found[RIGHT] == len(NAMES), found


@pytest.mark.parametrize("strength", [Fraction(1, 10), Fraction(3, 4), 1, Fraction(3, 2), 3])
def test_a_design_drawn_worse_comes_back_right_or_told_or_is_refused_with_the_place(
    strength: Fraction | int,
) -> None:
    found = Counter(outcome(SOME[n % len(SOME)], kind, strength, seed=600 + n) for n, kind in enumerate(KINDS))
    assert not found[UNTOLD] + found[NOWHERE], found


@pytest.mark.long
@pytest.mark.parametrize("kind", KINDS)
@pytest.mark.parametrize("name", NAMES)
def test_99_of_100_bad_drawings_of_each_design_come_back(name: str, kind: str) -> None:
    found = tried(name, kind, THIRD, range(100))
    assert found[RIGHT] >= 98 and not found[NOWHERE], found


@pytest.mark.long
@pytest.mark.parametrize("kind", KINDS)
def test_99_of_100_bad_drawings_of_blocks_cut_at_random_come_back(kind: str) -> None:
    found = sum((tried(name, kind, THIRD, range(10)) for name in cut_names(40)), Counter())
    assert found[RIGHT] >= 396, found


@pytest.mark.long
@pytest.mark.parametrize("strength", [Fraction(1, 10), Fraction(1, 2), Fraction(3, 4), 1, Fraction(3, 2), 2, 3])
@pytest.mark.parametrize("kind", KINDS)
def test_no_strength_brings_a_wrong_block_without_a_word(kind: str, strength: Fraction | int) -> None:
    found = sum((tried(name, kind, strength, range(4)) for name in NAMES), Counter())
    assert not found[UNTOLD] + found[NOWHERE], found


# ---- generator and judge


def test_of_one_seed_the_same_drawing_comes_and_of_another_another() -> None:
    block, _ = meant("kite.svg")
    for kind in KINDS:
        one, again, other = (sketch(block, kind, 0.02, seed) for seed in (1, 1, 2))
        assert one == again != other


def test_without_faults_a_sketch_is_the_design() -> None:
    for name in SOME:
        block, as_meant = meant(name)
        for kind in KINDS:
            assert not differs(as_meant, shown(make_block(sketch(block, kind, 0.0, 3))), 1e-6)


def _without(drawn: Drawing, number: int) -> Drawing:
    return replace(drawn, lines=drawn.lines[:number] + drawn.lines[number + 1 :])


def test_the_judge_sees_a_seam_left_out_a_seam_moved_and_a_seam_too_many() -> None:
    cross = [*square(), ((0, 3), (6, 3)), ((3, 0), (3, 6))]
    good = shown(make_block(drawing(cross)))
    assert not differs(good, shown(make_block(drawing(cross))), 0.01)
    assert differs(good, shown(make_block(_without(drawing(cross), 4))), 0.01)
    assert differs(good, shown(make_block(drawing([*cross[:5], ((3.1, 0), (3.1, 6))]))), 0.01)
    assert differs(good, shown(make_block(drawing([*cross, ((0, 0), (6, 6))]))), 0.01)


def test_the_judge_sees_two_seams_where_one_was_meant() -> None:
    straight = make_block(drawing([*square(), ((0, 3), (6, 3)), ((3, 0), (3, 3))]))
    bent = make_block(drawing([*square(), ((0, 3), (3, 3)), ((3, 3), (6, 4)), ((3, 0), (3, 3))]))
    assert differs(shown(straight), shown(bent), 1.5)


def test_a_note_elsewhere_does_not_count_as_told() -> None:
    block = make_block(drawing([*square(), ((0, 3), (6, 3)), ((1, 0), (1, 2.98))]))
    assert told(block, [(1.0, 3.0)], 0.1)
    assert not told(block, [(5.0, 6.0)], 0.1)


# ---- what is told of places that are not mended


def _told(block: Block, code: str) -> list[tuple[float, float]]:
    return [place for note in block.notes if note.code == code for place in note.places_in]


def test_a_strip_as_of_a_line_drawn_twice_is_named_but_not_where_coordinates_are_meant() -> None:
    drawn = drawing([*square(), ((0, 3), (6, 3)), ((0, 3.15), (6, 3.15))])
    assert _told(make_block(drawn), "doubtful") == [pytest.approx((3, 3.075), abs=0.1)]
    assert not _told(make_block(replace(drawn, exact=True)), "doubtful")


def test_a_seam_that_bends_by_itself_is_named() -> None:
    block = make_block(drawing([*square(), ((0, 3), (3, 3.2)), ((3, 3.2), (6, 3))]))
    assert _told(block, "doubtful") == [pytest.approx((3, 3.2))]


def test_a_row_of_lines_taken_for_a_curve_is_named() -> None:
    rim = [(0.6 * k, 3 + 0.02 * k * (10 - k)) for k in range(11)]
    block = make_block(drawing([*square(), *pairwise(rim)]))
    assert [seam.straight for seam in block.seams] == [False]
    assert len(_told(block, "curve")) == 1


@pytest.mark.parametrize("name", NAMES)
def test_nothing_is_doubted_in_a_design(name: str) -> None:
    block, _ = meant(name)
    assert not {note.code for note in block.notes} & {"doubtful", "curve", "tidied"}


def test_a_corner_beside_a_line_that_wavers_lies_on_it() -> None:
    waver = [(0.0, 3.0), (2.0, 3.02), (4.0, 2.98), (6.0, 3.0)]
    tip = [((2.5, 0.0), (3.0, 2.985)), ((3.0, 2.985), (4.5, 0.0))]
    block = make_block(drawing([*square(), *pairwise(waver), *tip]))
    assert len(block.patches) == 4
    assert any(seam.straight and len(seam.points) == 3 for seam in block.seams)


def test_every_line_that_falls_far_short_is_refused_with_its_place() -> None:
    block, _ = meant("kite.svg")
    with pytest.raises(DrawingError) as caught:
        make_block(sketch(block, "gaps", 5 * DEFAULT_TOLERANCE_IN, 1))
    assert has_place(caught.value)
    assert len(caught.value.faults) > 5


def test_the_sketches_are_drawn_as_badly_as_they_say() -> None:
    block, _ = meant("kite.svg")
    ends = [{p for s in all_strokes(sketch(block, "ends", a, 1)) for p in s} for a in (0.01, 0.05)]
    assert len(ends[0]) == len(ends[1]) == 20
