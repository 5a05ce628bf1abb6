"""Seams that nest where blocks meet, against all ways of pressing small quilts."""

from __future__ import annotations

from dataclasses import replace
from itertools import product
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

import seamwright
from seamwright.block.model import Block
from seamwright.piecing.model import Plan
from seamwright.quilt.contacts import contacts_of, pieces_of
from seamwright.quilt.model import Sashing
from seamwright.quilt.pressing import Literal, nesting, settle
from support.set_by_hand import set_by_hand

ONE_CROSS = "seam 4, 0 to 4, 8\n"


def planned(tmp_path: Path, lines: str, name: str = "b") -> tuple[Block, Plan]:
    """A block of 8 in, every patch a section of its own, so that all its seams are joins."""
    path = tmp_path / f"{name}.seams"
    path.write_text(f"seamwright block 1\nname {name}\nsize 8 in\n{lines}")
    block = seamwright.read_block(path, max_patches=1)
    return block, seamwright.plan(block)


def best_of_all(quilt_literals: list[tuple[Literal, ...]]) -> int:
    """The most meetings that nest in any way of pressing, by trying all."""
    free = sorted({key for lits in quilt_literals for key, _ in lits if key is not None}, key=repr)
    best = 0
    for sides in product((1, -1), repeat=len(free)):
        chosen = {None: 1, **dict(zip(free, sides, strict=True))}
        best = max(best, sum(len({side * chosen[key] for key, side in lits}) == 1 for lits in quilt_literals))
    return best


def test_seams_straight_across_nest_when_alternate_blocks_are_pressed_the_other_way(tmp_path) -> None:
    """A column of blocks with one upright seam each: pressed alike the seams lie one over the other."""
    block, plan = planned(tmp_path, ONE_CROSS)
    found = nesting(set_by_hand([block], [[(0, 0)], [(0, 0)], [(0, 0)]]), [plan])
    assert (found.meetings, found.nested, found.settled) == (2, 2, 0)
    assert not found.alike
    assert [way.spots for way in found.ways] == [(0, 2), (1,)]
    assert {press.towards for way in found.ways for press in way.presses} == {"A", "A.2"}


def test_joins_that_meet_nothing_in_a_block_are_pressed_as_in_others(tmp_path) -> None:
    """A seam from side to side and one from the top to it: that one meets another where a block above is on its
    head, so in the left and right columns only, and the level ones ask blocks by turns to be pressed the other way.
    """
    block, plan = planned(tmp_path, "seam 0, 4 to 8, 4\nseam 4, 0 to 4, 4\n")
    found = nesting(set_by_hand([block], [[(0, 2), (0, 0), (0, 2)], [(0, 0)] * 3]), [plan])
    assert (found.meetings, found.nested, found.alike) == (6, 6, False)
    assert {len(way.presses) for way in found.ways} == {2}, "every block is told of both joins"
    assert sorted(spot for way in found.ways for spot in way.spots) == list(range(6))
    assert len(found.ways) == 2


def test_half_a_turn_lets_blocks_that_are_pressed_alike_nest(tmp_path) -> None:
    block, plan = planned(tmp_path, ONE_CROSS)
    found = nesting(set_by_hand([block], [[(0, 0)], [(0, 2)], [(0, 0)]]), [plan])
    assert (found.nested, found.meetings, found.alike) == (2, 2, True)
    assert found.places == ()


def four_rings(quarters: list[int]) -> list[list[tuple[int, int]]]:
    return [[(0, quarters[0]), (0, quarters[1])], [(0, quarters[3]), (0, quarters[2])]]


def test_a_half_square_pinwheel_nests_all_the_way_round(tmp_path) -> None:
    """Pressed to spin round the middle every diagonal lies on the far side of its neighbour: common practice."""
    block, plan = planned(tmp_path, "seam 0, 0 to 8, 8\nfabric a colour #888888\nlay a at 6, 2 and 2, 6\n")
    found = nesting(set_by_hand([block], four_rings([0, 1, 2, 3])), [plan])
    assert (found.meetings, found.nested, found.alike) == (4, 4, True)


def test_dark_allowance_settles_the_side_and_two_settled_seams_cannot_nest(tmp_path) -> None:
    dark = "fabric sail value light\nfabric ink value dark\nlay sail at 2, 4\nlay ink at 6, 4\n"
    block, plan = planned(tmp_path, ONE_CROSS + dark)
    found = nesting(set_by_hand([block], [[(0, 0)], [(0, 0)]]), [plan])
    assert (found.meetings, found.nested, found.settled) == (1, 0, 1)
    assert found.places == ((4.0, 8.0),)
    assert nesting(set_by_hand([block], [[(0, 0)], [(0, 2)]]), [plan]).nested == 1


def test_on_paper_allowance_lies_under_the_patch_added_last(tmp_path) -> None:
    """One foundation of two patches: the side is settled, and half a turn makes it nest."""
    path = tmp_path / "b.seams"
    path.write_text(f"seamwright block 1\nsize 8 in\n{ONE_CROSS}")
    block = seamwright.read_block(path, size="4in")
    plan = seamwright.plan(block)
    assert len(plan.sections) == 1
    alike = nesting(set_by_hand([block], [[(0, 0)], [(0, 0)]]), [plan])
    assert (alike.nested, alike.settled, alike.ways) == (0, 1, ())
    assert nesting(set_by_hand([block], [[(0, 0)], [(0, 2)]]), [plan]).nested == 1


@pytest.mark.parametrize("dark_at", [2, 6])
def test_what_paper_settles_nests_with_what_dark_fabric_settles_the_other_way(tmp_path, dark_at: int) -> None:
    """Above one foundation, its allowance under the patch added last; below it a join, pressed to the dark."""
    path = tmp_path / "paper.seams"
    path.write_text(f"seamwright block 1\nsize 8 in\n{ONE_CROSS}")
    paper = seamwright.read_block(path)
    sewn = seamwright.plan(paper, fit="none")
    (section,) = sewn.sections
    last_at = sum(x for x, _ in paper.patch_ring(section.patches[-1])) / 4
    cloth = (
        f"fabric sail value light\nfabric ink value dark\nlay ink at {dark_at}, 4\nlay sail at {8 - dark_at}, 4\n"
    )
    joined, plan = planned(tmp_path, ONE_CROSS + cloth)
    found = nesting(set_by_hand([paper, joined], [[(0, 0)], [(1, 0)]]), [sewn, plan])
    assert (found.meetings, found.settled + found.nested) == (1, 1)
    assert (found.nested == 1) is (last_at != dark_at)


@pytest.mark.parametrize("quarters", [[0, 0, 0, 0], [0, 1, 2, 3], [0, 3, 2, 1], [0, 2, 0, 2], [1, 1, 0, 2]])
def test_what_is_told_of_a_small_quilt_is_reached_and_never_beaten(tmp_path, quarters, monkeypatch) -> None:
    block, plan = planned(tmp_path, "seam 0, 4 to 8, 4\nseam 4, 4 to 4, 8\nseam 2, 0 to 2, 4\nseam 6, 0 to 6, 4\n")
    asked: list[list[tuple[Literal, ...]]] = []

    def watched(meetings):
        asked.append([tuple(lits) for lits in meetings])
        return settle(meetings)

    monkeypatch.setattr("seamwright.quilt.pressing.settle", watched)
    found = nesting(set_by_hand([block], four_rings(quarters)), [plan])
    alike, apart = (best_of_all(literals) for literals in asked)
    assert alike <= apart
    assert found.nested <= apart
    assert (found.nested == found.meetings) == (apart == found.meetings)


literals = st.lists(
    st.lists(
        st.tuples(st.sampled_from([None, "a", "b", "c", "d", "e"]), st.sampled_from([1, -1])),
        min_size=2,
        max_size=3,
    ),
    min_size=1,
    max_size=7,
)


@given(meetings=literals)
@settings(max_examples=60)
def test_all_nest_just_if_any_way_of_pressing_lets_them(meetings) -> None:
    made = [tuple(lits) for lits in meetings]
    found = settle(made)
    best = best_of_all(made)
    told = sum(len({side if key is None else side * found.sides[key] for key, side in lits}) == 1 for lits in made)
    assert sum(found.nests) == told <= best
    assert (told == len(made)) == (best == len(made))


def test_rows_pressed_to_one_side_and_the_other_in_turn_are_the_only_ones_that_nest(tmp_path) -> None:
    """All ways of pressing four rows, each row to one side: at every corner the seams above and below lie apart."""
    block, plan = planned(tmp_path, ONE_CROSS)
    quilt = set_by_hand([block], [[(0, 0)] * 3] * 4)
    pieces = pieces_of(quilt)
    upright = [c for c in contacts_of(pieces) if pieces[c.one].shape[c.side].name in ("left", "right")]
    row = {contact: quilt.spots[contact.one].row for contact in upright}
    column = {contact: quilt.spots[contact.one].column for contact in upright}
    corners = [
        (above, below)
        for above in upright
        for below in upright
        if row[below] == row[above] + 1 and column[below] == column[above]
    ]
    assert len(corners) == 3 * 2
    ways = [
        sides
        for sides in product((1, -1), repeat=4)
        if all(sides[row[above]] == -sides[row[below]] for above, below in corners)
    ]
    assert ways == [(1, -1, 1, -1), (-1, 1, -1, 1)]
    assert "in rows 1, 3, 5 and so on, to the other in rows 2, 4, 6" in nesting(quilt, [plan]).between
    two = set_by_hand([block], [[(0, 0)] * 3] * 2)
    assert "to one side in row 1, and to the other in row 2" in nesting(two, [plan]).between
    assert nesting(set_by_hand([block], [[(0, 0)] * 3]), [plan]).between.endswith("to one side")


def test_a_sashed_quilt_is_pressed_towards_its_sashes(tmp_path) -> None:
    """In a row of blocks towards the upright sash, in a row of sashes away from the cornerstone under it."""
    block, plan = planned(tmp_path, ONE_CROSS)
    quilt = set_by_hand([block], [[(0, 0)] * 2] * 2)
    sashed = replace(quilt, setting=replace(quilt.setting, sashing=Sashing(1.0, "foam", "brass")))
    assert "towards the sashes: at every cornerstone they then nest" in nesting(sashed, [plan]).between
    runs = replace(quilt, setting=replace(quilt.setting, sashing=Sashing(1.0, "foam")))
    assert nesting(runs, [plan]).between == "press all seams of the sashing towards the sashes"
