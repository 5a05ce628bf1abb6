"""Work is counted where it is done: blocks that nobody can search to the end come to a plan soon."""

from __future__ import annotations

import random
from dataclasses import replace

import pytest

from seamwright.block.model import Block
from seamwright.options import Fit, PlanOptions
from seamwright.piecing.budget import Budget, OutOfSteps
from seamwright.piecing.facts import Facts
from seamwright.piecing.general import GeneralSearch
from seamwright.piecing.limits import Limits
from seamwright.piecing.part import Part, Region, Run
from seamwright.piecing.plan import plan
from seamwright.piecing.seammap import SeamMap
from seamwright.piecing.ties import Choice, Ties, undominated
from support.random_blocks import full_chords


def _sized(block: Block, width: float) -> Block:
    scale = width / block.width_in
    points = tuple((x * scale, y * scale) for x, y in block.points)
    return replace(block, points=points, width_in=width, height_in=width)


def _all_kept(choices: list[Choice]) -> list[Choice]:
    """What no other is better than, each held against all."""

    def better(one: Choice, other: Choice) -> bool:
        return one.shared & ~other.shared == 0 and (one.alone, one.rest) <= (other.alone, other.rest)

    ranked = sorted(choices, key=lambda choice: choice.weight)
    return [c for place, c in enumerate(ranked) if not any(better(before, c) for before in ranked[:place])]


@pytest.mark.parametrize("seed", range(20))
def test_sets_of_kinds_beyond_the_most_that_are_kept_change_nothing(seed: int) -> None:
    rng = random.Random(seed)
    choices = [
        Choice(0, rng.getrandbits(7), rng.randrange(4), (rng.randrange(3), rng.randrange(50)))
        for _ in range(rng.choice([5, 40, 300]))
    ]
    for most in (1, 4, 12, 400):
        kept, capped = undominated(choices, most)
        expected = _all_kept(choices)
        assert kept == expected[:most]
        assert capped == (len(expected) > most)


class _Counting(GeneralSearch):
    """A search that counts the sides it is asked for."""

    sides = 0

    def side(self, run: Run, region: Region, left: bool) -> Region:
        self.sides += 1
        return super().side(run, region, left)


def test_plans_that_all_tie_are_compared_as_long_as_there_are_steps() -> None:
    # No sheet holds a patch of this block: every plan has one section a patch, in whatever order it is cut, and
    # there are far more orders than steps. Each side of each cut is work.
    seams = SeamMap(_sized(full_chords(1, 16, 60_000), 9_000.0))
    patches = tuple(range(len(seams.block.patches)))
    part = Part(seams, patches, bytearray(seams.on_outline))
    search = _Counting(part, Budget(200_000, None, None), Limits(seams, PlanOptions()))
    assert search.least(part.whole) == len(patches)
    search.budget = Budget(2_000, None, None)
    search.sides = 0
    with pytest.raises(OutOfSteps):
        Ties(part, search, Facts(seams)).plans(part.whole)
    assert 1_000 < search.sides < 10_000


@pytest.mark.parametrize(
    "options",
    [PlanOptions(max_patches=5, fit=Fit.NONE, steps=20_000), PlanOptions(steps=20_000)],
    ids=["at most five patches", "all larger than a sheet"],
)
def test_limits_on_a_crossed_block_end_with_their_steps_and_say_so(options: PlanOptions) -> None:
    made = plan(_sized(full_chords(1, 16, 60_000), 20.0 if options.max_patches else 9_000.0), options)
    least = -(-len(made.block.patches) // (options.max_patches or 1))
    assert least <= len(made.sections) <= len(made.block.patches)
    if options.max_patches:
        assert max(len(section.patches) for section in made.sections) <= options.max_patches
    assert made.fewest is not None
    assert made.fewest.ended == "steps" or made.fewest.ties_settled
