"""Numbers that do not drift: a drawing of 2 in or 40 in, at an odd angle, a thousand inches away, is the same one.

The tolerance grows and shrinks with the drawing and nothing has to fit a sheet. Plans are compared patch by patch,
up to the drawing's own symmetries; where a copy is neither rotated nor mirrored, names and numbers agree as well.
"""

from __future__ import annotations

import random
from collections import Counter
from collections.abc import Callable
from dataclasses import replace
from pathlib import Path

import pytest

from seamwright.block.make import make_block
from seamwright.block.model import Block
from seamwright.claims.plans import claim_of
from seamwright.claims.sewing import sewing_of
from seamwright.drawing.model import Drawing
from seamwright.drawing.read import read_drawing
from seamwright.geometry import Affine
from seamwright.mend.find import find_mends
from seamwright.options import DEFAULT_TOLERANCE_IN, Fit, PlanOptions, Size
from seamwright.piecing.model import Plan
from seamwright.piecing.plan import plan
from seamwright.proof.checker import check
from seamwright.rehearsal.rehearse import rehearse
from support.copies import copied, laid_on, same_plan, turn
from support.mapped import same_mends
from support.random_sewing import MAKES, as_drawing, of_size
from support.stuck import pinwheels

ANY_SIZE = PlanOptions(fit=Fit.NONE)
DESIGNS = sorted(path for path in Path("designs").iterdir() if path.suffix in (".svg", ".seams"))
WIDEST_IN = 59.0
"""A block of 40 in that is rotated may be wider than any block may be; then it is as large as it can be."""
FAR_IN = 1000.0

Way = tuple[float | None, float, bool, tuple[float, float]]
"""(width in inches, None for its own; degrees; mirrored; shift in inches)."""
WAYS: dict[str, Way] = {
    "2 in, rotated": (2.0, 17.3, False, (FAR_IN, -FAR_IN)),
    "40 in, rotated and mirrored": (40.0, 201.77, True, (-FAR_IN, 777.7)),
    "own size, mirrored": (None, 0.0, True, (-FAR_IN, -FAR_IN)),
}


def affine_of(block: Block, way: Way) -> tuple[Affine, PlanOptions]:
    """How a block is laid, and options of a copy as large as that."""
    size, angle, mirrored, shift = way
    wide = max(block.width_in, block.height_in)
    scale = 1.0 if size is None else min(size / wide, WIDEST_IN / (1.42 * wide))
    affine = turn(angle, mirrored=mirrored, scale=scale, shift=shift)
    return affine, replace(ANY_SIZE, tolerance_in=DEFAULT_TOLERANCE_IN * scale)


def stuck(made: Plan, as_patch: Callable[[int], int] = lambda patch: patch) -> Counter[object]:
    """The stuck regions, with their kinds and how many points there are to look at."""
    return Counter((o.kind, frozenset(map(as_patch, o.patches)), len(o.points)) for o in made.obstructions)


def assert_same_plan(first: Drawing, way: Way, chance: random.Random) -> tuple[Plan, Plan, Affine]:
    """A drawing and a copy of it have one plan, which holds in both; returns both plans."""
    block = make_block(first, ANY_SIZE)
    affine, options = affine_of(block, way)
    copy = make_block(copied(first, affine, chance), options)
    onto = laid_on(block, copy, affine, within=2e-6)
    assert onto is not None
    one, other = plan(block, ANY_SIZE), plan(copy, options)
    for fact in ("sewable", "points_to_match", "set_in_points", "fewest"):
        assert getattr(one, fact) == getattr(other, fact), fact
    assert stuck(one) == stuck(other, onto.__getitem__)
    assert same_plan(one, other, onto)
    if other.sections:
        check(claim_of(other))
        rehearse(sewing_of(other))
    return one, other, affine


@pytest.mark.parametrize("path", DESIGNS, ids=lambda path: path.stem)
def test_a_design_of_any_size_at_any_angle_and_place_has_the_same_plan(path: Path) -> None:
    first = read_drawing(path)
    for way in WAYS.values():
        assert_same_plan(first, way, random.Random(1))


@pytest.mark.parametrize("width", [2.0, 40.0])
@pytest.mark.parametrize("path", DESIGNS, ids=lambda path: path.stem)
def test_a_design_made_larger_or_smaller_keeps_every_letter(path: Path, width: float) -> None:
    first = read_drawing(path)
    block = make_block(first, ANY_SIZE)
    tolerance = DEFAULT_TOLERANCE_IN * width / block.width_in
    copy = make_block(first, replace(ANY_SIZE, size=Size(width), tolerance_in=tolerance))
    one, other = plan(block, ANY_SIZE), plan(copy, replace(ANY_SIZE, tolerance_in=tolerance))
    assert [(e.start, e.end, e.left, e.right) for e in copy.edges] == [
        (e.start, e.end, e.left, e.right) for e in block.edges
    ]
    assert (one.sections, one.joins, one.fewest) == (other.sections, other.joins, other.fewest)
    assert stuck(one) == stuck(other)


def drawn(kind: str, seed: int) -> Drawing:
    """A random drawing in which nothing has to be tidied."""
    chance = random.Random(f"numbers {kind} {seed}")
    while True:
        drawing = as_drawing(of_size(MAKES[kind], chance, chance.randint(5, 14)))
        if not any(note.code == "tidied" for note in make_block(drawing, ANY_SIZE).notes):
            return drawing


@pytest.mark.parametrize("kind", sorted(MAKES))
def test_a_random_drawing_of_any_size_at_any_angle_and_place_has_the_same_plan(kind: str) -> None:
    for seed, way in enumerate(WAYS.values()):
        assert_same_plan(drawn(kind, seed), way, random.Random(seed))


@pytest.mark.parametrize("kind", ["cells", "erased", "rings"])
def test_what_is_stuck_has_the_same_mends_at_any_angle_and_place(kind: str) -> None:
    tried = 0
    for seed in range(40):
        first = drawn(kind, seed)
        if not plan(make_block(first, ANY_SIZE), ANY_SIZE).obstructions:
            continue
        for angle, mirrored in ((90.0, False), (211.4, True)):
            way = (None, angle, mirrored, (FAR_IN, -FAR_IN))
            one, other, affine = assert_same_plan(first, way, random.Random(seed))
            assert same_mends(one.block, find_mends(one).mends, find_mends(other).mends, affine)
        tried += 1
        if tried == 2:
            return
    pytest.fail("too few of them are stuck")


def test_a_stuck_region_smaller_than_a_block_can_be_has_its_mends() -> None:
    """It is tried as a block of its own: one of 0.9 in was refused as such, and no mend was ever shown for it."""
    made = plan(pinwheels(1, 3, side=0.9), ANY_SIZE)
    assert made.obstructions and find_mends(made).mends
