"""The order within a section: what a sewer wishes of it, which wish goes first, and where she may start.

Orders are held against all orders there are, which `support.exhaustive` finds by another definition of a cut.
"""

from __future__ import annotations

import math
import random
from collections.abc import Iterator
from dataclasses import replace
from functools import cache
from itertools import pairwise, permutations
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from seamwright.api import plan as proven_plan
from seamwright.api import read_block
from seamwright.block.model import OUTSIDE, Block
from seamwright.errors import OptionError
from seamwright.fabric.model import Fabric, Value
from seamwright.fabric.shade import SHADOW_STEP, colour_lightness, shows_through
from seamwright.foundation.make import foundations
from seamwright.options import Fit, PlanOptions
from seamwright.piecing import shadows as shadows_module
from seamwright.piecing.cloth import shadowed
from seamwright.piecing.model import Plan
from seamwright.piecing.order import can_be_sewn, sewing_order
from seamwright.piecing.plan import plan
from seamwright.piecing.seammap import SeamMap
from support.exact import SQUARE6, exact_block
from support.exhaustive import Exhaustive, Region
from support.random_blocks import (
    CONVEX,
    NOTCHED,
    OUTLINES,
    cut_block,
    grid,
    random_lines,
    spiral,
    strip_of_triangles,
)

SETTINGS = settings(derandomize=True, deadline=None, max_examples=40)
ANY_SIZE = PlanOptions(fit=Fit.NONE)
INK, SEA, SAIL = (
    Fabric("ink", value=Value.DARK),
    Fabric("sea", value=Value.MEDIUM),
    Fabric("sail", value=Value.LIGHT),
)


def laid(block: Block, names: list[str | None]) -> Block:
    """The block with a fabric for each patch."""
    patches = tuple(replace(patch, fabric=name) for patch, name in zip(block.patches, names, strict=True))
    return replace(block, patches=patches, fabrics=(INK, SEA, SAIL))


def laid_by_chance(block: Block, seed: int) -> Block:
    chance = random.Random(seed)
    return laid(block, [chance.choice(("ink", "sea", "sail", None)) for _ in block.patches])


def left_to_right(made: Plan, section: int = 0) -> list[float]:
    """The left edges of a section's patches in sewing order."""
    return [min(x for x, _ in made.block.patch_ring(p)) for p in made.sections[section].patches]


def small_blocks() -> Iterator[tuple[int, Block]]:
    """Blocks of up to nine patches that are one foundation, without inside corners: there, folds go first."""
    for seed in range(120):
        kind, size = seed % 4, 4 + seed % 6
        block = (
            spiral(size - 1)
            if kind == 0
            else strip_of_triangles(size)
            if kind == 1
            else cut_block(seed, size)
            if kind == 2
            else random_lines(seed, 4, CONVEX[sorted(CONVEX)[seed % len(CONVEX)]])
        )
        if len(block.patches) <= 9 and can_be_sewn(SeamMap(block), range(len(block.patches))):
            yield seed, block


# -- dark allowance ----------------------------------------------------------------------------------------------


@pytest.mark.parametrize("names", list(permutations(("ink", "sea", "sail"))), ids="-".join)
def test_of_two_neighbours_the_darker_is_added_later(names: tuple[str, str, str]) -> None:
    block = laid(exact_block([((2, 0), (2, 6)), ((4, 0), (4, 6))]), list(names))
    made = plan(block)
    order = [block.patches[p].fabric for p in made.sections[0].patches]
    wrong = [
        (light, dark)
        for pair in pairwise(names)
        for dark, light in [sorted(pair, key=("ink", "sea", "sail").index)]
        if order.index(dark) < order.index(light)
    ]
    # A strip between two others is sewn before one of them at least: the darkest there lies under one neighbour.
    assert len(wrong) == (1 if names[1] == "ink" else 0)
    assert sum(note.count for note in made.notes if note.code == "shadow") == len(wrong)


def _least(block: Block) -> int:
    """Fewest pairs with the darker under the lighter, over all orders of a block that is one foundation."""
    everything = Exhaustive(block)
    fabrics = {fabric.name: fabric for fabric in block.fabrics}
    beside: dict[int, set[int]] = {patch: set() for patch in range(len(block.patches))}
    for edge in block.edges:
        if OUTSIDE not in (edge.left, edge.right):
            beside[edge.left].add(edge.right)
            beside[edge.right].add(edge.left)

    def cost(patch: int, rest: Region) -> int:
        over = fabrics.get(block.patches[patch].fabric or "")
        unders = [fabrics.get(block.patches[other].fabric or "") for other in beside[patch] & rest]
        return sum(over is not None and under is not None and shows_through(under, over) for under in unders)

    @cache
    def least(region: Region) -> int:
        if len(region) == 1:
            return 0
        return min(
            cost(next(iter(single)), rest) + least(rest)
            for one, two, _ in everything.cuts(region)
            for single, rest in ((one, two), (two, one))
            if len(single) == 1 and everything.is_foundation(rest)
        )

    return least(everything.everything)


def test_no_order_has_fewer_dark_allowances_under_light_patches() -> None:
    tried = told = 0
    for seed, bare in small_blocks():
        block = laid_by_chance(bare, seed)
        made = plan(block, ANY_SIZE)
        if len(made.sections) != 1:
            continue
        found = sum(len(darker) for _, darker in shadowed(block, made.sections[0]))
        assert found == _least(block)
        tried, told = tried + 1, told + bool(found)
    assert tried > 60 and told > 20


def test_without_trying_the_least_is_met_nearly_always(monkeypatch: pytest.MonkeyPatch) -> None:
    """In very large sections the cheapest patch is taken each time; in small ones, that is close to the least."""
    monkeypatch.setattr(shadows_module, "MOST_PATCHES", 0)
    over = least = 0
    for seed, bare in small_blocks():
        block = laid_by_chance(bare, seed)
        made = plan(block, ANY_SIZE)
        if len(made.sections) == 1:
            least += _least(block)
            over += sum(len(darker) for _, darker in shadowed(block, made.sections[0])) - _least(block)
    assert 0 <= over <= least / 10


def test_a_large_section_with_many_dark_and_light_patches_is_ordered_in_no_time() -> None:
    block = laid_by_chance(spiral(90), 7)
    made = plan(block, ANY_SIZE)
    assert len(made.sections) == 1
    block = laid_by_chance(cut_block(3, 60), 3)
    assert plan(block, ANY_SIZE).pieceable


@pytest.mark.parametrize(
    ("under", "over", "shows"),
    [
        pytest.param(INK, SAIL, True, id="dark under light"),
        pytest.param(INK, SEA, True, id="dark under medium"),
        pytest.param(SEA, SAIL, True, id="medium under light"),
        pytest.param(SAIL, INK, False, id="light under dark"),
        pytest.param(Fabric("soot", colour="#000000"), INK, False, id="nothing shows through dark"),
        pytest.param(Fabric("a", colour="#777777"), Fabric("b", colour="#888888"), False, id="nearly alike"),
        pytest.param(Fabric("a", colour="#000000"), Fabric("b", colour="#ffffff"), True, id="black under white"),
        pytest.param(Fabric("unknown"), SAIL, False, id="nothing is known of it"),
    ],
)
def test_what_shows_through(under: Fabric, over: Fabric, shows: bool) -> None:
    assert shows_through(under, over) is shows


@pytest.mark.parametrize(
    ("colour", "luminance"),
    [
        # WCAG 2.2, definition of relative luminance: 0.2126 R + 0.7152 G + 0.0722 B of the linear channels
        pytest.param("#ff0000", 0.2126, id="red"),
        pytest.param("#00ff00", 0.7152, id="green"),
        pytest.param("#0000ff", 0.0722, id="blue"),
        pytest.param("#ffffff", 1.0, id="white"),
        # IEC 61966-2-1: ((0.5 + 0.055) / 1.055) ** 2.4 for a channel of 0.5 (here 128 / 255)
        pytest.param("#808080", 0.2159, id="middle grey"),
    ],
)
def test_lightness_follows_relative_luminance(colour: str, luminance: float) -> None:
    # CIE 15:2004, 8.2.1: L* = 116 Y^(1/3) - 16 for a white of 1
    assert colour_lightness(colour) == pytest.approx(116 * luminance ** (1 / 3) - 16, abs=0.02)


def test_one_step_of_value_counts_and_the_play_within_one_value_does_not() -> None:
    assert shows_through(SEA, SAIL) and shows_through(INK, SEA)
    assert SHADOW_STEP < 25


def test_the_plan_and_the_print_say_where_dark_allowance_must_be_trimmed() -> None:
    # The middle of three must be first or wait for a neighbour: asked to start at the left, light lies over dark.
    block = laid(exact_block([((2, 0), (2, 6)), ((4, 0), (4, 6))]), ["ink", "sail", "ink"])
    without = plan(block)
    assert not [note for note in without.notes if note.code == "shadow"]
    left = next(i + 1 for i, x in enumerate(left_to_right(without)) if x == 0)
    made = plan(block, PlanOptions(start=f"A{left}"))
    (note,) = [note for note in made.notes if note.code == "shadow"]
    assert note.text.startswith("trim the dark allowance a thread narrower") and note.text.endswith("A1 under A2")
    assert note.count == 1 and note.places_in == ((2.0, 3.0),)
    (print,) = foundations(made)
    assert "trim the dark allowance a thread narrower, or it shows through: A1 under A2" in print.legend


# -- the other wishes --------------------------------------------------------------------------------------------


def test_sewing_runs_on_in_one_direction() -> None:
    block = exact_block([((x, 0), (x, 6)) for x in range(1, 6)])
    places = left_to_right(plan(block))
    assert places in (sorted(places), sorted(places, reverse=True))


def test_neighbours_of_one_fabric_come_together() -> None:
    # Strips round a middle one: sea on its left, sail on its right, and no seam longer than another.
    names: list[str | None] = ["sea", "sea", "sea", None, "sail", "sail", "sail"]
    block = laid(exact_block([((x, 0), (x, 1)) for x in range(1, 7)], ((0, 0), (7, 0), (7, 1), (0, 1))), names)
    seams = SeamMap(block)
    steps = sewing_order(seams, range(7), first=(3,))
    assert steps is not None
    fabrics = [block.patches[step.patch].fabric for step in steps]
    assert sum(a != b for a, b in pairwise(fabrics)) == 2


def test_the_longest_of_all_seams_that_can_come_last_comes_last() -> None:
    for seed in range(30):
        block = cut_block(seed, 9)
        for section in plan(block, ANY_SIZE).sections:
            if len(section.steps) > 1:
                stitch = section.steps[-1].stitch
                last = math.dist(block.points[stitch[0]], block.points[stitch[-1]])
                assert last == pytest.approx(max(_last_seams(block, frozenset(section.patches))), rel=0.01)


def _last_seams(block: Block, region: Region) -> Iterator[float]:
    """Lengths of the seams along which a patch comes off a region while the rest can still be sewn."""
    everything = Exhaustive(block)
    for one, two, edges in everything.cuts(region):
        for single, rest in ((one, two), (two, one)):
            if len(single) == 1 and everything.is_foundation(rest):
                yield sum(math.dist(*block.edge_points(edge)) for edge in edges)


@given(seed=st.integers(0, 10**6))
@SETTINGS
def test_whether_there_is_an_order_does_not_depend_on_what_is_wished(seed: int) -> None:
    block = laid_by_chance(random_lines(seed, 5, OUTLINES[sorted(OUTLINES)[seed % len(OUTLINES)]]), seed)
    seams = SeamMap(block)
    everything = tuple(range(len(block.patches)))
    steps = sewing_order(seams, everything)
    assert (steps is not None) == can_be_sewn(seams, everything)
    for clear in (False, True):
        steps = sewing_order(seams, everything, fold_clear=clear)
        assert (steps is not None) == can_be_sewn(seams, everything, fold_clear=clear)


@pytest.mark.parametrize("name", sorted(NOTCHED))
def test_folds_stay_clear_whatever_the_fabrics(name: str) -> None:
    """Dark allowance is a matter of one thread; a fold that is not clear is a matter of the whole paper."""
    tried = 0
    for seed in range(60):
        bare = random_lines(seed, 4, NOTCHED[name])
        seams = SeamMap(bare)
        if not can_be_sewn(seams, range(len(bare.patches)), fold_clear=True):
            continue
        made = plan(laid_by_chance(bare, seed), ANY_SIZE)
        assert not [note for note in made.notes if note.code == "fold"]
        tried += 1
    assert tried > 10


# -- where the sewer starts --------------------------------------------------------------------------------------


def can_be_first(block: Block, patch: int) -> bool:
    """By trying everything: whether all others can be peeled off a patch."""
    everything = Exhaustive(block)

    @cache
    def peels(region: Region) -> bool:
        return len(region) == 1 or any(
            len(single) == 1 and patch in rest and peels(rest)
            for one, two, _ in everything.cuts(region)
            for single, rest in ((one, two), (two, one))
        )

    return peels(everything.everything)


def test_sewing_starts_where_she_asks_exactly_when_all_others_can_be_peeled() -> None:
    yes = no = 0
    for seed, block in small_blocks():
        made = plan(block, ANY_SIZE)
        if len(made.sections) != 1 or len(block.patches) > 7 or seed % 2:
            continue
        section = made.sections[0]
        possible = [section.patch_name(n) for n, p in enumerate(section.patches, start=1) if can_be_first(block, p)]
        for number, patch in enumerate(section.patches, start=1):
            name = section.patch_name(number)
            options = replace(ANY_SIZE, start=name)
            if name in possible:
                started = plan(block, options)
                assert started.sections[0].patches[0] == patch
                assert started.sections[0].outline == section.outline and started.joins == made.joins
                yes += 1
            else:
                with pytest.raises(OptionError, match=f"{name} cannot be the first patch of section A") as told:
                    plan(block, options)
                (fault,) = told.value.faults
                assert all(other in fault.mend for other in possible)
                no += 1
    assert yes > 40 and no > 40


def test_a_start_may_be_asked_for_in_each_section_and_in_any_spelling() -> None:
    block = grid(4, 2)
    made = plan(block, ANY_SIZE)
    assert [section.name for section in made.sections] == ["A", "A.2"]
    lone = plan(block, replace(ANY_SIZE, start=" a 4 "))
    # One print for both rows: what starts one starts the other.
    for before, after in zip(made.sections, lone.sections, strict=True):
        assert after.patches == before.patches[::-1]
    assert plan(block, replace(ANY_SIZE, start="A.2-4")).sections == lone.sections
    (note,) = [note for note in lone.notes if note.code == "start"]
    assert note.text.endswith("A4 is A1 now")


def test_several_patches_of_one_section_are_laid_on_first_in_the_order_given() -> None:
    block = exact_block([((x, 0), (x, 6)) for x in (1, 2, 3, 4, 5)])
    made = plan(block)
    started = plan(block, PlanOptions(start="A3, A4, A2"))
    assert started.sections[0].patches[:3] == tuple(made.sections[0].patches[n] for n in (2, 3, 1))
    with pytest.raises(OptionError, match="A5 cannot be laid on right after A3"):
        plan(block, PlanOptions(start="A3, A5"))


@pytest.mark.parametrize(
    ("start", "told"),
    [
        pytest.param("A9", "there is no patch A9", id="too high a number"),
        pytest.param("B1", "there is no patch B1", id="no such section"),
        pytest.param("the red one", "there is no patch the red one", id="a description"),
        pytest.param("A1, A9, C3", "there is no patch C3", id="all faults at once"),
    ],
)
def test_a_name_that_no_patch_has_is_told_with_the_names_there_are(start: str, told: str) -> None:
    block = exact_block([((2, 0), (2, 6)), ((4, 0), (4, 6))])
    with pytest.raises(OptionError, match=told) as slip:
        plan(block, PlanOptions(start=start))
    assert all("from A1 to A3" in fault.mend for fault in slip.value.faults)


def test_a_drawing_can_state_where_sewing_starts(tmp_path: Path) -> None:
    text = "seamwright block 1\nname cabin\nsize 6 in\n{}seam 0, 2 to 6, 2\nseam 0, 4 to 6, 4\n"
    plain, stated = tmp_path / "plain.seams", tmp_path / "stated.seams"
    plain.write_text(text.format(""))
    stated.write_text(text.format("option start A2\n"))
    made, started = proven_plan(read_block(plain)), proven_plan(read_block(stated))
    assert started.sections[0].patches[0] == made.sections[0].patches[1]
    assert started.options.start == "A2" and started.id != made.id
    # The call wins over the drawing.
    assert proven_plan(read_block(stated), start="A1").sections == made.sections


def test_a_start_that_is_asked_for_costs_no_section() -> None:
    for seed in range(20):
        block = cut_block(seed, 12)
        made = plan(block, ANY_SIZE)
        for section in made.sections:
            for number in range(1, len(section.patches) + 1):
                try:
                    started = plan(block, replace(ANY_SIZE, start=section.patch_name(number)))
                except OptionError:
                    continue
                assert started.fewest == made.fewest
                assert {s.name: frozenset(s.patches) for s in started.sections} == {
                    s.name: frozenset(s.patches) for s in made.sections
                }


def test_a_stuck_drawing_stays_stuck_wherever_one_wants_to_start() -> None:
    ring = [((0, 2), (4, 2)), ((4, 0), (4, 4)), ((2, 4), (6, 4)), ((2, 2), (2, 6))]
    made = plan(exact_block(ring, SQUARE6), PlanOptions(start="A4"))
    assert made.sewable == "no" and made.obstructions
