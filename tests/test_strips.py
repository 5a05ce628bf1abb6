"""Strips: every piece is there and fits, little is wasted, more is never less."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Sequence
from dataclasses import replace

import pytest
import shapely
from hypothesis import example, given, settings
from hypothesis import strategies as st
from ortools.sat.python import cp_model

from seamwright.cutting import amounts, search
from seamwright.cutting.band import Band, left_out, length_of
from seamwright.cutting.fill import Fills, Kind, Way, ways_of
from seamwright.cutting.strips import fits, pack, pack_blocks, plainer
from seamwright.options import Units

LENGTH = 640
"""40 in, the usual width counted (common practice), in sixteenths."""
NO_LIMIT = 10**9
INCH = 16


def kind(along_in: float, across_in: float, count: int, turns: bool = True) -> Kind:
    return Kind(round(along_in * INCH), round(across_in * INCH), count, turns)


sizes = st.integers(6, 40).map(lambda quarters: quarters * 4)
kinds = st.lists(st.builds(Kind, sizes, sizes, st.integers(1, 12), st.booleans()), min_size=1, max_size=4)


@pytest.fixture(autouse=True)
def _looked_for_less_long(monkeypatch: pytest.MonkeyPatch):
    """The laws hold at every effort."""
    monkeypatch.setattr(search, "EFFORT", 2_000)


# -- what a rotary cutter makes of it -------------------------------------------------------------------------


def laid_out(bands: Iterable[Band], left: int = 0, top: int = 0) -> list[tuple[int, tuple[int, int, int, int]]]:
    """(kind, rectangle) of every piece where it lies on the cloth, strips one below the other."""
    found = []
    for band in bands:
        for _ in range(band.times):
            reach = left
            for way, number in band.cuts:
                for _ in range(number):
                    found.append((way.kind, (reach, top, reach + way.along, top + way.across)))
                    reach += way.along
            found += laid_out(band.rest, reach, top)
            top += band.width
    return found


def is_true(bands: Sequence[Band], needed: Sequence[Kind], length: int) -> None:
    """Holds what is laid out against the cloth and against each other, by shapely."""
    laid = laid_out(bands)
    assert Counter(number for number, _ in laid) == Counter({n: k.count for n, k in enumerate(needed)})
    for number, (x0, y0, x1, y1) in laid:
        sides = (x1 - x0, y1 - y0)
        own = (needed[number].along, needed[number].across)
        assert sides == own or (needed[number].turns and sides == own[::-1])
    boxes = [shapely.box(*box) for _, box in laid]
    cloth = shapely.box(0, 0, length, length_of(bands))
    assert shapely.union_all(boxes).difference(cloth).area == 0
    assert shapely.union_all(boxes).area == pytest.approx(sum(box.area for box in boxes))  # no two overlap


@settings(max_examples=80, deadline=None)
@given(kinds)
def test_every_piece_lies_on_the_cloth_by_itself(needed: list[Kind]):
    is_true(pack(needed, LENGTH, NO_LIMIT), needed, LENGTH)


@settings(max_examples=60, deadline=None)
@given(kinds)
def test_strips_of_fat_quarters_lie_on_them(needed: list[Kind]):
    room = 280
    needed = [k for k in needed if fits(k, 320, room)]
    if needed:
        bands = pack(needed, 320, room)
        is_true(bands, needed, 320)
        parted = amounts.share_out([(band.width, band.times) for band in bands], room)
        for _, lines in parted:
            assert sum(bands[line].width * number for line, number in lines) <= room
        taken: Counter[int] = Counter()
        for times, lines in parted:
            taken.update({line: times * number for line, number in lines})
        assert taken == Counter({line: band.times for line, band in enumerate(bands)})


# -- laws --------------------------------------------------------------------------------------------------------


@settings(max_examples=60, deadline=None)
@given(kinds)
def test_no_cutting_takes_less_than_the_area(needed: list[Kind]):
    area = sum(k.along * k.across * k.count for k in needed)
    assert length_of(pack(needed, LENGTH, NO_LIMIT)) * LENGTH >= area


@settings(max_examples=60, deadline=None)
@given(kinds)
def test_leave_to_turn_pieces_never_takes_more(needed: list[Kind]):
    free, bound = ([replace(k, turns=turns) for k in needed] for turns in (True, False))
    assert length_of(pack(free, LENGTH, NO_LIMIT)) <= length_of(pack(bound, LENGTH, NO_LIMIT))


@settings(max_examples=30, deadline=None)
@given(st.lists(st.builds(Kind, sizes, sizes, st.integers(1, 4), st.booleans()), min_size=1, max_size=3))
def test_more_blocks_never_take_less(needed: list[Kind]):
    def needs(blocks: int) -> list[Kind]:
        return [replace(k, count=k.count * blocks) for k in needed]

    lengths = []
    for blocks in range(1, 7):
        bands = pack_blocks(needs, blocks, LENGTH, NO_LIMIT)
        is_true(bands, needs(blocks), LENGTH)
        lengths.append(length_of(bands))
    assert lengths == sorted(lengths)


@settings(max_examples=60, deadline=None)
@given(kinds, st.data())
def test_strips_without_some_of_their_pieces_hold_all_the_others(needed: list[Kind], data: st.DataObject):
    bands = pack(needed, LENGTH, NO_LIMIT)
    surplus = {n: data.draw(st.integers(0, k.count - 1)) for n, k in enumerate(needed)}
    fewer = left_out(bands, surplus)
    is_true(fewer, [replace(k, count=k.count - surplus[n]) for n, k in enumerate(needed)], LENGTH)
    assert length_of(fewer) <= length_of(bands)


def test_strips_lose_pieces_from_what_is_cut_of_their_rest():
    """Two strips of 6 in, each with a square and three rows of four low pieces behind; seven fewer are needed."""
    square, low = Way(0, False, 96, 96), Way(1, False, 64, 32)
    strip = Band(96, 640, 2, ((square, 1),), (Band(32, 544, 3, ((low, 4),)),))
    fewer = left_out([strip], {0: 1, 1: 7})
    is_true(fewer, [Kind(96, 96, 1, False), Kind(64, 32, 17, False)], LENGTH)
    assert length_of(fewer) == 192


@settings(max_examples=40, deadline=None)
@given(kinds)
def test_the_rest_of_a_strip_is_cut_along_only_where_that_makes_two(needed: list[Kind]):
    assert all(sum(i.times for i in band.rest) != 1 for band in pack(needed, LENGTH, NO_LIMIT))


def test_pieces_of_a_kind_lie_alike_where_the_strip_has_room():
    # By hand: 12 of 2 3/4 x 3 3/4 in take 33 of 40 in of a strip 3 3/4 in wide; none has to lie along it and be cut
    # down. Ten of 2 1/2 x 7 in and three of 4 x 6 1/4 in take 37, so none of the three has to lie another way.
    (band,) = pack([kind(3.75, 2.75, 12)], LENGTH, NO_LIMIT)
    assert band.cuts == ((Way(0, True, 44, 60), 12),)
    mixed = Band(
        112, LENGTH, 1, ((Way(0, False, 100, 64), 1), (Way(0, True, 64, 100), 2), (Way(1, True, 40, 112), 10))
    )
    ways = ways_of([kind(6.25, 4, 3), kind(7, 2.5, 10)], LENGTH, NO_LIMIT)
    assert plainer(mixed, ways).cuts == ((Way(0, True, 64, 100), 3), (Way(1, True, 40, 112), 10))


@settings(max_examples=40, deadline=None)
@example([Kind(24, 28, 1, False), Kind(28, 24, 1, True)])
@given(kinds)
def test_no_piece_is_cut_down_that_could_stand_as_high_as_its_strip(needed: list[Kind]):
    for band in pack(needed, LENGTH, NO_LIMIT):
        for way, number in band.cuts if not band.rest else ():
            high = [w for w in ways_of(needed, LENGTH, NO_LIMIT) if w.kind == way.kind and w.across == band.width]
            others = band.used - way.along * number
            assert way.across == band.width or all(others + w.along * number > band.length for w in high)


def test_the_same_pieces_give_the_same_strips():
    needed = [kind(6.25, 4, 24), kind(7, 2.5, 24), kind(3, 3, 5, turns=False)]
    assert pack(needed, LENGTH, NO_LIMIT) == pack(needed, LENGTH, NO_LIMIT)


def test_a_piece_for_which_no_strip_is_long_enough_is_refused():
    with pytest.raises(ValueError, match="fits no strip"):
        pack([kind(41, 50, 1)], LENGTH, NO_LIMIT)


def test_a_piece_longer_than_the_cloth_is_wide_lies_along_it():
    (band,) = pack([kind(50, 3, 1)], LENGTH, NO_LIMIT)
    assert (band.width, band.used) == (50 * INCH, 3 * INCH)


# -- values from outside --------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("pieces", "widths"),
    [
        # Common practice, worked by hand: 40 in hold 16 squares of 2 1/2 in, 11 of 3 1/2 in, 10 of 3 7/8 in.
        ([kind(2.5, 2.5, 48)], [(2.5, 3)]),
        ([kind(3.5, 3.5, 11)], [(3.5, 1)]),
        ([kind(3.875, 3.875, 20)], [(3.875, 2)]),
        # 24 rectangles of 2 1/2 x 4 1/2 in: a strip of 4 1/2 in holds 16 side by side, one of 2 1/2 in 8 in a row:
        # one of each are 7 in; three narrow ones would be 7 1/2, two wide ones 9.
        ([kind(4.5, 2.5, 24)], [(4.5, 1), (2.5, 1)]),
        # 32 of them: four strips of 2 1/2 in are 10 in, two of 4 1/2 in are 9.
        ([kind(4.5, 2.5, 32)], [(4.5, 2)]),
        # Stripes along the selvedge keep their height across the strip.
        ([kind(2.5, 4.5, 24, turns=False)], [(4.5, 2)]),
        # One block's squares of 4 and of 3 1/2 in share a strip: the smaller are cut down.
        ([kind(4, 4, 4), kind(3.5, 3.5, 5)], [(4, 1)]),
    ],
)
def test_strips_are_those_of_a_worked_example(pieces: list[Kind], widths: list[tuple[float, int]]):
    cut: Counter[int] = Counter()
    for band in pack(pieces, LENGTH, NO_LIMIT):
        cut[band.width] += band.times
    assert cut == Counter({round(width * INCH): count for width, count in widths})


def test_two_narrow_pieces_lie_one_above_the_other_in_what_is_left_of_a_wide_strip():
    # By hand: 2 of 8 x 8 in take 16 in of a strip of 8 in; the 24 in behind them hold 12 of 8 x 2 in.
    (band,) = pack([kind(8, 8, 2), kind(8, 2, 12)], LENGTH, NO_LIMIT)
    assert band.width == 8 * INCH


@pytest.mark.parametrize("seed", range(6))
def test_a_strip_is_filled_as_well_as_a_general_solver_fills_it(seed: int):
    """OR-Tools' CP-SAT is the general library."""
    import random

    chance = random.Random(seed)
    needed = [Kind(chance.randrange(20, 200), 10 * n + 10, chance.randrange(1, 9), False) for n in range(8)]
    worth = [chance.randrange(1, 100) for _ in needed]
    fills = Fills(ways_of(needed, LENGTH, NO_LIMIT), [k.count for k in needed], worth, LENGTH, NO_LIMIT)
    for width, best in fills.widths():
        model = cp_model.CpModel()
        uses = [model.new_int_var(0, k.count if k.across <= width else 0, "") for k in needed]
        model.add(sum(k.along * use for k, use in zip(needed, uses, strict=True)) <= LENGTH)
        model.maximize(sum(w * use for w, use in zip(worth, uses, strict=True)))
        solver = cp_model.CpSolver()
        assert solver.solve(model) == cp_model.OPTIMAL
        assert best == pytest.approx(solver.objective_value)
        filled = fills.fill(width)
        assert sum(way.along * number for way, number in filled.items()) <= LENGTH
        assert sum(worth[way.kind] * number for way, number in filled.items()) == pytest.approx(best)


def test_thousands_of_equal_pieces_are_counted_not_placed():
    needed = [Kind(40 + 4 * n, 24 + 2 * n, 2000, True) for n in range(40)]
    bands = pack(needed, LENGTH, NO_LIMIT)
    assert len(bands) < 400
    area = sum(k.along * k.across * k.count for k in needed)
    assert length_of(bands) * LENGTH < 1.02 * area


# -- what is bought ------------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("length_in", "spare", "bought"),
    [
        # Eighths of a yard are 4 1/2 in (common practice): 9 in are a quarter, a hair more is the next eighth.
        (9, 0, 9),
        (9.01, 0, 13.5),
        (9, 0.1, 13.5),
        (32.7, 0.1, 36),
        (0, 0.1, 0),
    ],
)
def test_fabric_is_bought_by_the_eighth_of_a_yard(length_in: float, spare: float, bought: float):
    assert amounts.bought_in(length_in, spare, Units.INCH) == pytest.approx(bought)


@pytest.mark.parametrize(("cm", "spare", "bought"), [(20, 0, 20), (20.1, 0, 30), (20, 0.1, 30), (90.9, 0.1, 100)])
def test_metric_fabric_is_bought_by_ten_centimetres(cm: float, spare: float, bought: float):
    assert amounts.bought_in(cm / 2.54, spare, Units.METRIC) * 2.54 == pytest.approx(bought)


def test_fat_quarters_are_bought_until_the_spare_is_there():
    assert amounts.quarters_bought(2, 34.0, 17.5, 0.0) == 2
    assert amounts.quarters_bought(2, 34.0, 17.5, 0.1) == 3  # 37.4 in are more than two hold
    assert amounts.quarters_bought(2, 20.0, 17.5, 0.1) == 2


def test_what_is_left_over_is_told_if_it_is_useful_the_largest_first():
    found = amounts.useful([(40, 2.25), (3, 20), (40, 4), (2.5, 2.5), (9, 9)], Units.INCH)
    assert found == ((40, 4), (9, 9), (20, 3))
