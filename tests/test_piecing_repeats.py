"""Sections that are alike: letters, places and one order; the fewest different prints; one drawing for all."""

from __future__ import annotations

import itertools
import math
import random
from collections import Counter
from collections.abc import Callable, Iterator
from dataclasses import replace
from fractions import Fraction
from functools import cache

import pytest

from seamwright.block.model import Block
from seamwright.claims.plans import claim_of
from seamwright.foundation.common import common_to
from seamwright.foundation.make import foundations
from seamwright.geometry import moved
from seamwright.options import Fit, PlanOptions, Priority
from seamwright.piecing import mostrepeats, ties
from seamwright.piecing.plan import plan
from seamwright.proof.checker import check
from seamwright.report.checks import check_object
from seamwright.words.checks import check_words
from support.congruent import can_be_laid_on, kinds, mirrored, shapes
from support.exact import exact_block
from support.exhaustive import Exhaustive, Region
from support.random_blocks import Line, grid, mixed_blocks, random_lines, star

ANY_SIZE = PlanOptions(fit=Fit.NONE)
REPEATS = PlanOptions(fit=Fit.NONE, priority=Priority.REPEATS)
SIDE = 4
Unit = list[Line]
THREE: Unit = [((0, 0), (4, 3)), ((0, 2), (2, Fraction(3, 2)))]
"""Three patches, no symmetry."""
SEVEN: Unit = [
    ((0, 1), (4, 2)),
    ((1, Fraction(5, 4)), (1, 4)),
    ((1, 2), (4, 3)),
    ((2, Fraction(7, 3)), (2, 4)),
    ((3, 0), (4, 1)),
    ((0, 3), (1, 4)),
]
CROSS: Unit = [((0, 1), (4, 2)), ((1, 0), (2, 4))]
"""Four patches round a crossing: two sections."""


def turned(point: tuple[Fraction | int, Fraction | int], quarters: int) -> tuple[Fraction | int, Fraction | int]:
    x, y = point
    for _ in range(quarters):
        x, y = SIDE - y, x
    return x, y


def tiled(unit: Unit, quarters: list[list[int]], flipped: Callable[[int, int], bool] = lambda i, j: False) -> Block:
    """Copies of a unit side by side, each rotated by so many quarter turns; flipped ones are mirror images."""
    rows, columns = len(quarters), len(quarters[0])
    width, height = columns * SIDE, rows * SIDE
    lines: list[Line] = [((i * SIDE, 0), (i * SIDE, height)) for i in range(1, columns)]
    lines += [((0, j * SIDE), (width, j * SIDE)) for j in range(1, rows)]
    for j, i in itertools.product(range(rows), range(columns)):
        for a, b in unit:
            ends = []
            for point in (a, b):
                x, y = turned(point, quarters[j][i])
                ends.append(((SIDE - x if flipped(i, j) else x) + i * SIDE, y + j * SIDE))
            lines.append((ends[0], ends[1]))
    return exact_block(lines, ((0, 0), (width, 0), (width, height), (0, height)))


FOUR_WAYS = [[0, 1], [3, 2]]


def sixteen(unit: Unit, seed: int) -> Block:
    chance = random.Random(seed)
    return tiled(unit, [[chance.randrange(4) for _ in range(4)] for _ in range(4)])


# -- letters and places --------------------------------------------------------------------------------------


@cache
def blocks_with_repeats() -> tuple[Block, ...]:
    return tuple(_blocks())


def _blocks() -> Iterator[Block]:
    yield from (tiled(THREE, FOUR_WAYS), tiled(SEVEN, FOUR_WAYS), tiled(CROSS, FOUR_WAYS), sixteen(THREE, 5))
    yield tiled(SEVEN, [[0, 0], [0, 0]], lambda i, j: i == 1)
    yield from (grid(4, 4), grid(3, 5), star(5), star(6))
    yield from mixed_blocks(50, 20, most_lines=7)
    yield from (on_a_lattice(seed) for seed in range(25))


def on_a_lattice(seed: int, size: int = 3) -> Block:
    """Whole lines and diagonals of a coarse grid: many equal patches."""
    chance = random.Random(seed)
    half = Fraction(1, 2)
    grid_lines: list[Line] = [((i, 0), (i, size)) for i in range(1, size)]
    grid_lines += [((0, i), (size, i)) for i in range(1, size)]
    cells = list(itertools.product(range(size), repeat=2))
    short: list[Line] = []
    for x, y in chance.sample(cells, chance.randint(1, 5)):
        short.append(
            chance.choice(
                [
                    ((x, y), (x + 1, y + 1)),
                    ((x + 1, y), (x, y + 1)),
                    ((x + half, y), (x + half, y + 1)),
                    ((x, y + half), (x + 1, y + half)),
                ]
            )
        )
    lines = chance.sample(grid_lines, chance.randint(2, 4)) + short
    try:
        return exact_block(lines, ((0, 0), (size, 0), (size, size), (0, size)))
    except ValueError:  # a line ends in the open
        return on_a_lattice(seed + 1000, size)


def test_letters_are_shared_exactly_where_trying_every_rotation_says_so() -> None:
    shared = reversed_ = 0
    for block, options in itertools.product(blocks_with_repeats(), (ANY_SIZE, REPEATS)):
        made = plan(block, options)
        laid = {section.name: shapes(block, section.patches) for section in made.sections}
        for one, two in itertools.combinations(made.sections, 2):
            same = can_be_laid_on(laid[one.name], laid[two.name])
            flipped = can_be_laid_on(mirrored(laid[one.name]), laid[two.name])
            assert ((one.print, one.reversed) == (two.print, two.reversed)) == same
            assert (one.print == two.print) == (same or flipped)
            shared, reversed_ = shared + same, reversed_ + (one.reversed != two.reversed and one.print == two.print)
    assert shared > 100 and reversed_ > 5


def test_names_say_letter_reversal_and_place() -> None:
    for block in blocks_with_repeats():
        made = plan(block, ANY_SIZE)
        places = Counter((section.print, section.reversed) for section in made.sections)
        for (letter, flipped), count in places.items():
            numbers = [s.place for s in made.sections if (s.print, s.reversed) == (letter, flipped)]
            assert numbers == list(range(1, count + 1))
            assert not flipped or (letter, False) in places
        for section in made.sections:
            stem = section.print + "r" * section.reversed
            assert section.name == (stem if section.place == 1 else f"{stem}.{section.place}")
            first = made.patch_names()[section.patches[0]]
            assert first == (f"{stem}1" if section.place == 1 else f"{stem}.{section.place}-1")
        assert len({s.name for s in made.sections}) == len(made.sections)
        letters = list(dict.fromkeys(s.print for s in made.sections))
        assert letters == sorted(letters, key=lambda name: (len(name), name))


def test_all_places_of_a_print_are_sewn_in_one_order() -> None:
    for block in blocks_with_repeats():
        made = plan(block, ANY_SIZE)
        if made.sections:
            check(claim_of(made))
        firsts = {section.print: section for section in made.sections if section.name == section.print}
        for section in made.sections:
            # Laid on each other in their order: the k-th patch lies on the k-th, in every motion but a wrong one.
            one, two = ([shapes(block, [p])[0] for p in s.patches] for s in (firsts[section.print], section))
            if section.reversed:
                one = [shape for (shape,) in (mirrored([shape]) for shape in one)]
            for count in range(1, len(one) + 1):
                assert can_be_laid_on(one[:count], two[:count])


def test_fabrics_tell_prints_apart() -> None:
    block = tiled(THREE, FOUR_WAYS)
    made = plan(block, REPEATS)
    assert {section.print for section in made.sections} == {"A"}
    patch = made.sections[0].patches[0]
    patches = tuple(replace(p, fabric="foam") if n == patch else p for n, p in enumerate(block.patches))
    other = plan(replace(block, patches=patches), REPEATS)
    assert len({section.print for section in other.sections}) == 2


@pytest.mark.parametrize("noise", [0.0, 1e-9, 1e-8])
def test_noise_changes_no_kind(noise: float) -> None:
    chance = random.Random(1)
    block = tiled(SEVEN, FOUR_WAYS)
    points = tuple((x + chance.uniform(-noise, noise), y + chance.uniform(-noise, noise)) for x, y in block.points)
    made = plan(replace(block, points=points), REPEATS)
    assert [s.name for s in made.sections] == ["A", "A.2", "A.3", "A.4"]


# -- different foundations, the tie that is no sum ----------------------------------------------------------------


def all_plans(block: Block) -> Iterator[tuple[frozenset[Region], frozenset[tuple[int, ...]]]]:
    yield from Exhaustive(block).plans(frozenset(range(len(block.patches))))


def test_different_foundations_are_as_few_as_in_any_plan_that_ties_before() -> None:
    # The costs that come before it are compared by test_piecing_fewest; here blocks have many equal patches.
    from test_piecing_fewest import _as_found, _cost

    varied = 0
    for seed in range(80):
        block = on_a_lattice(seed)
        if len(block.patches) > 12:
            continue
        made = plan(block, ANY_SIZE)
        if not made.pieceable:
            continue
        costs = [_cost(block, *other) for other in all_plans(block)]
        assert _cost(block, *_as_found(made)) == min(costs)
        least = min(cost[:5] for cost in costs)
        varied += len({cost[5] for cost in costs if cost[:5] == least}) > 1
    assert varied > 3


def test_two_grids_side_by_side_choose_alike() -> None:
    # 4 x 2 and 2 x 4 cells: each has one shape of section, cut in twos or in fours; together they have two or one.
    lines: list[Line] = [((4, 0), (4, 4)), ((0, 2), (4, 2))]
    lines += [((i, 0), (i, 2)) for i in (1, 2, 3)] + [((0, 1), (4, 1))]
    lines += [((4, i), (6, i)) for i in (1, 2, 3)] + [((5, 0), (5, 4))]
    lines += [((2, 2), (2, 4))]
    block = exact_block(lines, ((0, 0), (6, 0), (6, 4), (0, 4)))
    made = plan(block, ANY_SIZE)
    sections = [section.patches for section in made.sections if len(section.patches) == 4]
    assert kinds(block, sections) == 1


# -- most repeats first ------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("block", "prints", "sections"),
    [
        pytest.param(tiled(THREE, FOUR_WAYS), 1, 2, id="pairs of units are one foundation each"),
        pytest.param(tiled(SEVEN, FOUR_WAYS), 1, 4, id="a unit rotated four ways"),
        pytest.param(tiled(SEVEN, [[0, 1, 2, 3]]), 1, 4, id="four in a row"),
        pytest.param(tiled(CROSS, FOUR_WAYS), 2, 8, id="a unit of two sections"),
        pytest.param(sixteen(THREE, 1), 1, 16, id="sixteen units of three patches"),
        pytest.param(sixteen(SEVEN, 1), 1, 16, id="sixteen units of seven patches"),
        pytest.param(grid(4, 4), 1, 4, id="a grid in rows, not in cells"),
        pytest.param(star(6), 1, 2, id="halves of a star"),
    ],
)
def test_a_block_of_one_unit_comes_out_as_one_print(block: Block, prints: int, sections: int) -> None:
    made = plan(block, REPEATS)
    check(claim_of(made))
    assert len({(s.print, s.reversed) for s in made.sections}) == prints
    assert len(made.sections) == sections
    (note,) = [note for note in made.notes if note.code == "repeats"]
    assert note.count == prints and "no plan has fewer different prints" in note.text


def _every_division(everything: Exhaustive, region: Region) -> frozenset[frozenset[Region]]:
    """All divisions into foundations by any cuts."""
    found = {frozenset({region})} if everything.is_foundation(region) else set()
    for one, two, _ in everything.cuts(region):
        for left in _every_division(everything, one):
            found |= {left | right for right in _every_division(everything, two)}
    return frozenset(found)


def _hangs(everything: Exhaustive, ways: frozenset[frozenset[Region]], way: frozenset[Region]) -> bool:
    """Whether a plain piece hangs on a section by one edge, and could be sewn on as far as all cuts go."""
    for one, two in itertools.permutations(way, 2):
        if len(one) == 1 and (way - {one, two}) | {one | two} in ways:
            cuts = [edges for left, right, edges in everything.cuts(one | two) if one in (left, right)]
            if cuts and len(cuts[0]) == 1:
                return True
    return False


def _different(block: Block, sections: frozenset[Region]) -> int:
    found: list[list[tuple[tuple[complex, ...], str | None]]] = []
    for section in sections:
        here = shapes(block, section)
        if not any(can_be_laid_on(here, other) for other in found):
            found.append(here)
    return len(found)


def test_no_division_at_all_has_fewer_different_prints_or_as_few_and_fewer_sections() -> None:
    tried = more = 0
    for seed in range(140):
        block = on_a_lattice(seed) if seed % 2 else random_lines(seed, 4)
        if len(block.patches) > 8:
            continue
        everything = Exhaustive(block)
        made = plan(block, REPEATS)
        if not made.pieceable:
            continue
        whole = frozenset(range(len(block.patches)))
        ways = _every_division(everything, whole)
        best = min((_different(block, way), len(way)) for way in ways if not _hangs(everything, ways, way))
        ours = frozenset(frozenset(s.patches) for s in made.sections)
        assert (_different(block, ours), len(ours)) == best, seed
        tried += 1
        more += len(ours) > made.fewest.sections if made.fewest else 0
    assert tried > 40


def test_a_search_for_repeats_that_stops_early_gives_a_sound_plan_and_bound() -> None:
    block = tiled(CROSS, [[0, 1, 2], [3, 1, 0], [2, 2, 1]])
    best = plan(block, REPEATS)
    (proven,) = [note for note in best.notes if note.code == "repeats"]
    told = set()
    for steps in (1, 100, 5000, 2_000_000):
        made = plan(block, replace(REPEATS, steps=steps))
        check(claim_of(made))
        (note,) = [note for note in made.notes if note.code == "repeats"]
        assert note.count is not None and proven.count is not None and note.count >= proven.count
        assert note.count == len({(s.print, s.reversed) for s in made.sections})
        if "no plan has fewer" in note.text:
            assert note.count == proven.count
        else:
            assert "not complete" in note.text and "more --steps" in note.text
        told.add("not complete" in note.text)
    assert told == {True, False}


def test_a_cap_that_was_hit_is_told(monkeypatch: pytest.MonkeyPatch) -> None:
    capped = [block for block in (on_a_lattice(seed) for seed in range(80)) if plan(block, ANY_SIZE).pieceable]
    assert not any("too many ways" in note.text for block in capped for note in plan(block, ANY_SIZE).notes)
    monkeypatch.setattr(ties, "MOST_SETS", 1)
    monkeypatch.setattr(mostrepeats, "MOST_SETS", 1)
    for options in (ANY_SIZE, REPEATS):
        told = [
            any("too many ways" in note.text for note in made.notes)
            for made in (plan(block, options) for block in capped)
        ]
        assert any(told) and not all(told)


# -- on paper ----------------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("block", "drawings"),
    [
        pytest.param(tiled(SEVEN, FOUR_WAYS), 1, id="rotated four ways"),
        pytest.param(sixteen(THREE, 1), 1, id="sixteen, at the edge and inside"),
        pytest.param(grid(3, 3), 1, id="rows of a nine-patch"),
    ],
)
def test_places_with_equal_paper_share_one_drawing(block: Block, drawings: int) -> None:
    prints = foundations(plan(block, REPEATS))
    assert len({one.ink for one in prints}) == drawings
    assert {one.label for one in prints} == {"A"} and len({one.section for one in prints}) == len(prints)
    names = [patch.name for one in prints for patch in one.patches]
    assert len(set(names)) == len(block.patches)


def test_a_shared_drawing_shows_every_mark_that_its_own_seams_and_corners_need() -> None:
    for block in blocks_with_repeats():
        made = plan(block, REPEATS)
        marks = common_to(made).marks
        for print_, section in zip(foundations(made), made.sections, strict=True):
            own = [block.points[p] for step in section.steps for p in step.stitch]
            shown = [one for one, _ in print_.marks]
            for one, _ in marks[section.name]:
                if any(math.dist(one, p) < 1e-9 for p in own):
                    there = moved(print_.front, one)
                    assert any(math.dist(there, p) < 1e-4 for p in shown)


def test_places_whose_trim_line_differs_keep_their_own_drawings() -> None:
    # A tip of 30 degrees is cut by the block's own trim line where it lies in a corner, and is not elsewhere.
    lines: list[Line] = [((4, 0), (4, 4)), ((0, 0), (4, 2)), ((0, 2), (4, 4)), ((4, 0), (8, 2)), ((4, 2), (8, 4))]
    made = plan(exact_block(lines, ((0, 0), (8, 0), (8, 4), (0, 4))), REPEATS)
    prints = foundations(made)
    for one, two in itertools.combinations(prints, 2):
        same = len(one.trim_outline) == len(two.trim_outline) and all(
            math.dist(p, q) < 1e-5 for p, q in zip(one.trim_outline, two.trim_outline, strict=True)
        )
        assert same or one.ink != two.ink
        if one.print == two.print and one.ink != two.ink:
            assert one.label != two.label


def test_a_reversed_print_is_the_mirror_image_of_the_other() -> None:
    block = tiled(SEVEN, [[0, 0], [0, 0]], lambda i, j: i == 1)
    made = plan(block, REPEATS)
    prints = {one.section: one for one in foundations(made)}
    pairs = [(prints[s.print], prints[s.name]) for s in made.sections if s.reversed]
    assert pairs
    for one, two in pairs:
        assert two.label == f"{one.label}r" and two.reversed and not one.reversed and two.mirrored
        ring = [complex(*p) for p in one.stitch_outline]
        flipped = mirrored([(tuple(ring), None)])
        assert can_be_laid_on(flipped, [(tuple(complex(*p) for p in two.stitch_outline), None)])
        assert two.patches[0].name in (f"{one.label}r1", f"{two.section}-1")


def test_the_words_say_how_often_a_print_is_needed() -> None:
    made = plan(tiled(SEVEN, FOUR_WAYS), REPEATS)
    words = check_words("unit.svg", made)
    assert "  A, print 4: 7 patches, sewn in order from A1 to A7. Places: A, A.2, A.3, A.4." in words
    assert words[0].endswith("Can be sewn: 4 foundations from 1 print.")
    (told,) = check_object("unit.svg", made)["prints"]
    assert (told["name"], told["count"], told["places"]) == ("A", 4, ["A", "A.2", "A.3", "A.4"])
    mirror = plan(tiled(SEVEN, [[0, 0], [0, 0]], lambda i, j: i == 1), REPEATS)
    (line,) = [line for line in check_words("unit.svg", mirror) if line.startswith("  Ar")]
    assert "the mirror image of A" in line and line.startswith("  Ar, print ")
