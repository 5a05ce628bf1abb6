"""The proof of trim outlines: it passes what sews true, and refuses planted faults by name."""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import replace
from itertools import pairwise
from pathlib import Path

import pytest
from hypothesis import example, given, settings
from hypothesis import strategies as st
from shapely.affinity import translate
from shapely.geometry import Polygon, box

from seamwright import api
from seamwright.claims.plans import printed_trims, trim_claim_of
from seamwright.errors import ProofError
from seamwright.foundation.make import foundations
from seamwright.foundation.trims import trim_outlines
from seamwright.geometry import Ring, canonical_ring
from seamwright.options import PlanOptions
from seamwright.piecing.model import Plan
from seamwright.proof.trimmed import TrimClaim, check_trims
from support.curves import random_curved
from support.exact import SQUARE6, exact_block
from support.plans import plan_any_size
from support.prints import designs, planned
from support.random_blocks import OUTLINES, random_lines
from support.turning import tiled, voronoi

MM = 1 / 25.4
TURNING = PlanOptions(set_in=True)


def claim(made: Plan) -> TrimClaim:
    return trim_claim_of(made, trim_outlines(made))


def refused(claimed: TrimClaim) -> str:
    """The name of the fault, "" if it passes."""
    try:
        check_trims(claimed)
    except ProofError as error:
        assert "report" in str(error)
        return error.faults[0].code
    return ""


@pytest.mark.parametrize("path", designs(), ids=lambda path: path.stem)
def test_the_trims_of_the_designs_pass(path: Path) -> None:
    made = planned(path, TURNING)
    assert check_trims(claim(made)) == ()


@settings(derandomize=True, deadline=None, max_examples=25)
@given(seed=st.integers(0, 10**6), outline=st.sampled_from(sorted(OUTLINES)), lines=st.integers(2, 9))
@example(seed=215, outline="hexagon", lines=9)  # what was cut off stayed as a hole with a rim of rounding
@example(seed=332, outline="diamond", lines=6)
@example(seed=421, outline="L", lines=7)  # three sections in an inside corner of the block
def test_the_trims_of_random_plans_pass(seed: int, outline: str, lines: int) -> None:
    assert check_trims(claim(plan_any_size(random_lines(seed, lines, OUTLINES[outline], whole=0.6), TURNING))) == ()


@pytest.mark.parametrize("seed", range(3))
def test_the_trims_of_curved_and_turning_joins_pass(seed: int) -> None:
    for block in (random_curved(seed, 5), voronoi(seed, 7), tiled(seed, 8, 1)):
        assert check_trims(claim(plan_any_size(block, TURNING))) == ()


# -- planted faults ------------------------------------------------------------------------------------------------


def rays(*degrees: float) -> Plan:
    """Sections of two patches each that meet in the middle of a square's lower side."""
    ends = [0.0, *degrees, 180.0]
    turns = [math.radians(d) for d in sorted({*degrees, *((a + b) / 2 for a, b in pairwise(ends))})]
    far = [
        (5 + (k := min(5 / abs(math.cos(t)) if abs(math.cos(t)) > 1e-9 else 9e9, 10 / math.sin(t))) * math.cos(t),
         10 - k * math.sin(t))
        for t in turns
    ]  # fmt: skip
    shape = ((0, 0), (10, 0), (10, 10), (0, 10))
    rounded = [((5, 10), (round(x * 64) / 64, round(y * 64) / 64)) for x, y in far]
    return plan_any_size(exact_block(rounded, shape), PlanOptions(max_patches=2))


def kite() -> Plan:
    return planned(next(path for path in designs() if path.stem == "kite"))


def with_trim(claimed: TrimClaim, number: int, change: Callable[[Polygon], Polygon]) -> TrimClaim:
    """A claim in which the trim outline of one section is another."""
    section = claimed.sections[number]
    ring = canonical_ring([(float(x), float(y)) for x, y in change(Polygon(section.trim)).exterior.coords[:-1]])
    sections = [*claimed.sections]
    sections[number] = replace(section, trim=ring)
    return replace(claimed, sections=tuple(sections))


def test_a_tip_left_untrimmed_is_refused() -> None:
    claimed = claim(rays(30, 90))
    assert refused(claimed) == ""
    found = []
    for number, section in enumerate(claimed.sections):
        natural = Polygon(section.ring).buffer(0.25, join_style="mitre", mitre_limit=12)
        unfinished = Polygon(claimed.outline).buffer(0.25, join_style="mitre")
        if natural.intersection(unfinished).difference(Polygon(section.trim)).area > 1e-4:
            found.append(refused(with_trim(claimed, number, lambda _, n=natural, u=unfinished: n.intersection(u))))
    assert found and set(found) == {"trims do not match"}


@pytest.mark.parametrize("degrees", range(0, 360, 45))
def test_an_outline_a_tenth_of_a_millimetre_off_is_refused(degrees: int) -> None:
    claimed = claim(kite())
    across, down = 0.1 * MM * math.cos(math.radians(degrees)), 0.1 * MM * math.sin(math.radians(degrees))
    for number in range(len(claimed.sections)):
        assert refused(with_trim(claimed, number, lambda area: translate(area, across, down)))


def test_an_outline_a_tenth_of_a_millimetre_too_wide_is_refused() -> None:
    claimed = claim(rays(30, 90))
    wider = [
        refused(with_trim(claimed, n, lambda area: area.buffer(0.1 * MM, join_style="mitre")))
        for n in range(len(claimed.sections))
    ]
    assert set(wider) == {"trims do not match"}


def test_a_corner_square_left_out_is_refused() -> None:
    claimed = claim(kite())
    left, top, *_ = Polygon(claimed.outline).bounds
    square = box(left - 1, top - 1, left, top)
    bare = claimed
    for number in range(len(claimed.sections)):
        bare = with_trim(bare, number, lambda area: area.difference(square))
    # The allowance round the very corner of a section goes with it.
    assert refused(bare) == "too little allowance"


def with_round_corners(claimed: TrimClaim, square: Polygon) -> TrimClaim:
    """In a square only what is within the allowance of the section is left of its trim."""
    for number, section in enumerate(claimed.sections):
        near = Polygon(section.ring).buffer(claimed.allowance_in, quad_segs=64)
        claimed = with_trim(claimed, number, lambda area, n=near: area.difference(square.difference(n)))
    return claimed


def test_a_corner_square_rounded_off_is_refused() -> None:
    made = plan_any_size(exact_block([((0, 3), (6, 3))], SQUARE6), PlanOptions(max_patches=1))
    claimed = claim(made)
    assert refused(claimed) == ""
    assert refused(with_round_corners(claimed, box(-1, -1, 0, 0))) == "block not covered"


def test_an_allowance_too_narrow_is_refused() -> None:
    claimed = claim(kite())
    for number in range(len(claimed.sections)):
        narrow = with_trim(claimed, number, lambda area: area.buffer(-0.1 * MM, join_style="mitre"))
        assert refused(narrow) == "too little allowance"


def test_a_trim_line_that_crosses_itself_is_refused() -> None:
    claimed = claim(kite())
    first = claimed.sections[0]
    crossed: Ring = (first.trim[1], first.trim[0], *first.trim[2:])
    assert refused(replace(claimed, sections=(replace(first, trim=crossed), *claimed.sections[1:]))) in (
        "trim crosses itself",
        "too little allowance",
    )
    astray: Ring = ((math.nan, 0.0), *first.trim[1:])
    assert (
        refused(replace(claimed, sections=(replace(first, trim=astray), *claimed.sections[1:]))) == "not a number"
    )


# -- before every print --------------------------------------------------------------------------------------------


def test_what_is_proven_is_what_is_printed() -> None:
    for path in designs():
        made = planned(path)
        if path.stem in ("kite", "mooring-star", "lamp"):
            printed, trims = printed_trims(made, foundations(made)), trim_outlines(made)
            assert list(trims) == [name for name in trims if name in printed]
            for name, ring in trims.items():
                assert Polygon(ring).symmetric_difference(Polygon(printed[name])).area < 1e-6


def test_nothing_is_printed_without_the_proof(monkeypatch: pytest.MonkeyPatch) -> None:
    from seamwright.foundation import trims as made_by

    monkeypatch.setattr(made_by, "caps", lambda fan, allowance: [() for _ in fan])
    with pytest.raises(ProofError, match="trim lines failed their proof"):
        api.foundations(kite())


def test_where_there_is_no_room_for_even_edges_the_print_says_so() -> None:
    # Two seams end on the block's edge within 1 1/2 allowances: the tips beyond them are in each other's way.
    made = plan_any_size(voronoi(43, 12), replace(TURNING, allowance_in=3 / 8))
    (end,) = check_trims(claim(made))
    assert end.sections == ("F", "G")
    said = {f.section: [line for line in f.legend if "one tip reaches past" in line] for f in api.foundations(made)}
    assert {name for name, lines in said.items() if lines} == {"F", "G"}
    assert all("pin through the points" in line for lines in said.values() for line in lines)
