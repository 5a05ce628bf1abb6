"""The independent checker: a true claim passes, and each planted fault is refused by its name."""

from __future__ import annotations

import math
import subprocess
import sys
from collections.abc import Callable
from dataclasses import replace
from typing import TypeVar

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from seamwright.claims.plans import claim_of
from seamwright.errors import ProofError
from seamwright.geometry import Point
from seamwright.piecing.plan import plan
from seamwright.proof.checker import check
from seamwright.proof.claim import Claim, ClaimedJoin, ClaimedSection, ClaimedStep
from support.random_blocks import cut_block, mixed_blocks

T = TypeVar("T")

# A block 6 x 8 in: A on the left, B on the right of x = 3, and C, a plain piece, under both.
# On the join of A and B a seam of A arrives at y = 3 and one of B at y = 2.
A = ClaimedSection(
    "A",
    (
        ClaimedStep(((0, 0), (1, 0), (2, 3), (0, 3))),
        ClaimedStep(((1, 0), (3, 0), (3, 3), (2, 3)), stitch=((1, 0), (2, 3))),
        ClaimedStep(((0, 3), (2, 3), (3, 3), (3, 6), (0, 6)), stitch=((0, 3), (2, 3), (3, 3))),
    ),
    ((0, 0), (3, 0), (3, 6), (0, 6)),
)
B = ClaimedSection(
    "B",
    (
        ClaimedStep(((3, 0), (6, 0), (6, 5), (3, 2))),
        ClaimedStep(((3, 2), (6, 5), (6, 6), (3, 6)), stitch=((6, 5), (3, 2))),
    ),
    ((3, 0), (6, 0), (6, 6), (3, 6)),
)
C = ClaimedSection("C", (ClaimedStep(((0, 6), (6, 6), (6, 8), (0, 8))),), ((0, 6), (6, 6), (6, 8), (0, 8)))
TRUE = Claim(
    lines=(((3, 0), (3, 6)), ((0, 6), (6, 6)), ((0, 3), (3, 3)), ((1, 0), (2, 3)), ((3, 2), (6, 5))),
    outline=((0, 0), (6, 0), (6, 8), (0, 8)),
    sections=(A, B, C),
    joins=(
        ClaimedJoin("A", "B", "A+B", ((3, 0), (3, 2), (3, 6))),
        ClaimedJoin("A+B", "C", "A+B+C", ((0, 6), (6, 6))),
    ),
)


def with_section(section: ClaimedSection) -> Claim:
    return replace(TRUE, sections=tuple(section if s.name == section.name else s for s in TRUE.sections))


def with_step(section: ClaimedSection, number: int, **changes: object) -> Claim:
    steps = list(section.steps)
    steps[number] = replace(steps[number], **changes)
    return with_section(replace(section, steps=tuple(steps)))


def moved(points: tuple[Point, ...], dx: float, dy: float) -> tuple[Point, ...]:
    return tuple((x + dx, y + dy) for x, y in points)


def mirrored(points: tuple[Point, ...], turn: bool) -> tuple[Point, ...]:
    """Left to right within section A; `turn` keeps rings clockwise, as careful mirroring would."""
    image = tuple((3 - x, y) for x, y in points)
    return image[::-1] if turn else image


def mirrored_section(turn: bool) -> Claim:
    steps = tuple(ClaimedStep(mirrored(s.ring, turn), (), mirrored(s.stitch, turn)) for s in A.steps)
    return with_section(ClaimedSection("A", steps, mirrored(A.ring, turn)))


def test_a_true_claim_passes():
    check(TRUE)


def test_the_first_two_patches_may_change_places():
    first, second, third = A.steps
    check(with_section(replace(A, steps=(replace(second, stitch=()), replace(first, stitch=second.stitch), third))))


WITH_C = ((0, 0), (3, 0), (3, 6), (6, 6), (6, 8), (0, 8))


def joined(*joins: ClaimedJoin) -> Claim:
    return replace(TRUE, joins=joins)


FIRST, LAST = TRUE.joins
A_ON_C = ClaimedJoin("A", "C", "A+C", ((0, 6), (3, 6)))
B_IN_CORNER = ClaimedJoin("A+C", "B", "A+B+C", ((3, 0), (3, 6), (6, 6)))
C_SEWN_ON = replace(C.steps[0], stitch=((3, 6), (6, 6)))

PLANTED: list[tuple[str, str, Claim]] = [
    (
        "two steps swapped",
        "steps out of order",
        with_section(replace(A, steps=(A.steps[0], A.steps[2], A.steps[1]))),
    ),
    (
        "the first step swapped with the second",
        "steps out of order",
        with_section(replace(A, steps=(A.steps[1], A.steps[0], A.steps[2]))),
    ),
    ("a step without a stitch line", "steps out of order", with_step(A, 1, stitch=())),
    ("a patch moved", "patch moved", with_step(B, 0, ring=moved(B.steps[0].ring, 0.01, 0.005))),
    ("a patch moved by a hair", "patch moved", with_step(B, 0, ring=moved(B.steps[0].ring, 1e-5, 1e-5))),
    (
        "a patch whose border crosses itself",
        "patch moved",
        with_step(C, 0, ring=((0, 6), (6, 6), (6, 8), (3, 5), (0, 8))),
    ),
    ("a join dropped", "join dropped", joined(LAST)),
    ("the last join dropped", "join dropped", joined(FIRST)),
    ("joins swapped", "join dropped", joined(LAST, FIRST)),
    (
        "a gap: a patch left out",
        "gap",
        with_section(replace(A, steps=A.steps[:2], ring=((0, 0), (3, 0), (3, 3), (0, 3)))),
    ),
    ("a gap: a section left out", "gap", replace(TRUE, sections=(A, B))),
    ("a gap: a patch too small", "gap", with_step(C, 0, ring=((0, 6), (5.9, 6), (5.9, 8), (0, 8)))),
    ("a gap: a seam undrawn", "gap", replace(TRUE, lines=TRUE.lines[:-1])),
    ("an overlap", "overlap", with_step(C, 0, ring=((0, 5.9), (6, 5.9), (6, 8), (0, 8)))),
    ("an overlap: a seam forgotten", "overlap", replace(TRUE, lines=(*TRUE.lines, ((3, 6), (3, 8))))),
    (
        "a section's outline over its neighbour",
        "wrong section outline",
        with_section(replace(C, ring=((0, 5), (6, 5), (6, 8), (0, 8)))),
    ),
    ("a wrong cut", "wrong cut", with_step(A, 1, stitch=((1, 0), (2.2, 3)))),
    ("a wrong cut, hardly", "wrong cut", with_step(A, 1, stitch=((1, 0), (2.00001, 3)))),
    ("a wrong join line", "wrong cut", joined(replace(FIRST, seam=((3, 0), (2.9, 6))), LAST)),
    ("a seam too long", "wrong cut", with_step(A, 1, stitch=((1, 0), (2 + 1 / 3, 4)))),
    ("a seam too short", "seam too short", with_step(A, 2, stitch=((0, 3), (2.5, 3)))),
    ("a join's seam too short", "seam too short", joined(replace(FIRST, seam=((3, 2), (3, 6))), LAST)),
    ("a seam of no length", "seam too short", with_step(A, 2, stitch=((0, 3), (0, 3)))),
    ("a mirrored section", "mirrored section", mirrored_section(turn=True)),
    ("a mirrored section, rings backwards", "mirrored section", mirrored_section(turn=False)),
    ("a patch twice in a section", "patch twice", with_section(replace(B, steps=(*B.steps, B.steps[1])))),
    (
        "a patch in two sections",
        "patch twice",
        with_section(replace(B, steps=(*B.steps, replace(C.steps[0], stitch=((3, 6), (6, 6)))))),
    ),
    ("a set-in called straight", "set-in called straight", joined(A_ON_C, B_IN_CORNER)),
    (
        "a set-in called straight by its longer arm",
        "set-in called straight",
        joined(A_ON_C, replace(B_IN_CORNER, seam=((3, 0), (3, 6)))),
    ),
    (
        "a set-in called a curve",
        "set-in called straight",
        joined(A_ON_C, replace(B_IN_CORNER, kind="curved")),
    ),
    (
        "a set-in as a step",
        "set-in called straight",
        replace(
            TRUE,
            sections=(
                replace(A, steps=(*A.steps, replace(C.steps[0], stitch=((0, 6), (3, 6)))), ring=WITH_C),
                B,
            ),
            joins=(replace(FIRST, seam=((3, 0), (3, 6))),),
        ),
    ),
    ("a part used twice", "part twice", joined(FIRST, LAST, replace(LAST, makes="D"))),
    ("a join that makes a section", "part twice", joined(replace(FIRST, makes="C"), LAST)),
    ("two sections of one name", "part twice", replace(TRUE, sections=(A, B, replace(C, name="A")))),
    ("a part joined to itself", "part twice", joined(replace(FIRST, second="A"), LAST)),
    ("a kind that has no proof", "unknown kind", joined(replace(FIRST, kind="glued"), LAST)),
    ("no number", "not a number", with_step(A, 1, stitch=((1, 0), (math.nan, 3)))),
    ("a line that hangs", "loose line", replace(TRUE, lines=(*TRUE.lines, ((4, 7), (5, 7))))),
    ("a smaller outline", "loose line", replace(TRUE, outline=((0, 0), (5.9, 0), (5.9, 8), (0, 8)))),
    (
        "a step that touches nothing sewn",
        "not one piece",
        replace(TRUE, sections=(replace(A, steps=(A.steps[0], C_SEWN_ON, *A.steps[1:])), B)),
    ),
]


@pytest.mark.parametrize(("name", "claim"), [p[1:] for p in PLANTED], ids=[p[0] for p in PLANTED])
def test_a_planted_fault_is_refused_by_name(name: str, claim: Claim):
    with pytest.raises(ProofError) as caught:
        check(claim)
    assert caught.value.faults[0].code == name
    assert caught.value.exit_code == 3
    assert name in str(caught.value)


# Half a ring of radius 2 set into a square corner: sewn along its arc.
ARC = tuple((2 * math.cos(k * math.pi / 60), 2 * math.sin(k * math.pi / 60)) for k in range(31))
CURVED = Claim(
    lines=(ARC,),
    outline=((0, 0), (6, 0), (6, 6), (0, 6)),
    sections=(
        ClaimedSection("A", (ClaimedStep(((0, 0), *ARC)),), ((0, 0), *ARC)),
        ClaimedSection(
            "B",
            (ClaimedStep(((6, 0), (6, 6), (0, 6), *ARC[::-1])),),
            ((6, 0), (6, 6), (0, 6), *ARC[::-1]),
        ),
    ),
    joins=(ClaimedJoin("A", "B", "A+B", ARC, "curved"),),
)


def test_a_curve_joins_two_parts_but_is_no_straight_seam():
    check(CURVED)
    check(replace(CURVED, joins=(replace(CURVED.joins[0], seam=ARC[::-1]),)))
    for joins, name in (
        ((replace(CURVED.joins[0], kind="straight"),), "set-in called straight"),
        ((replace(CURVED.joins[0], seam=(ARC[0], ARC[-1])),), "wrong cut"),
        ((replace(CURVED.joins[0], seam=ARC[:-1]),), "seam too short"),
    ):
        with pytest.raises(ProofError) as caught:
            check(replace(CURVED, joins=joins))
        assert caught.value.faults[0].code == name


def test_a_curve_pieced_from_two_lines_is_no_single_seam():
    with pytest.raises(ProofError, match="not one line"):
        check(replace(CURVED, lines=(ARC[:16], ARC[15:])))


def test_straight_means_within_a_millionth_of_an_inch():
    """A bend in the long join of A and B: half a millionth passes, two millionths do not."""

    def bent(by: float) -> Claim:
        def bend(points: tuple[Point, ...]) -> tuple[Point, ...]:
            return tuple((x + by, y) if (x, y) in ((3, 2), (3, 3)) else (x, y) for x, y in points)

        with_points = replace(TRUE, lines=(((3, 0), (3, 2), (3, 3), (3, 6)), *TRUE.lines[1:]))
        return Claim(
            tuple(bend(line) for line in with_points.lines),
            with_points.outline,
            tuple(
                ClaimedSection(
                    s.name,
                    tuple(ClaimedStep(bend(t.ring), (), bend(t.stitch)) for t in s.steps),
                    s.ring,
                )
                for s in with_points.sections
            ),
            with_points.joins,
        )

    check(bent(5e-7))
    with pytest.raises(ProofError, match="turns"):
        check(bent(2e-6))


def test_the_checker_stands_alone():
    """It may use coordinates and shapely; nothing that plans or that holds the block's own map."""
    code = "import sys, seamwright.proof.checker; print(*(m for m in sys.modules if m.startswith('seamwright')))"
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert set(done.stdout.split()) == {
        "seamwright",
        "seamwright.errors",
        "seamwright.geometry",
        "seamwright.proof",
        "seamwright.proof.claim",
        "seamwright.proof.checker",
        "seamwright.proof.ruled",
        "seamwright.proof.runs",
        "seamwright.proof.turning",
    }


@pytest.mark.parametrize("seed", range(8))
def test_every_plan_of_a_random_block_passes(seed: int):
    plans = [plan(block) for block in mixed_blocks(seed, 25)]
    assert sum(bool(planned.sections) for planned in plans) >= 15
    for planned in plans:
        if planned.sections:
            check(claim_of(planned))


# What can go wrong anywhere in any plan; each takes a claim and a number that says where.
ANYWHERE: dict[str, Callable[[Claim, int], Claim]] = {
    "a join dropped": lambda claim, at: replace(claim, joins=_without(claim.joins, at)),
    "a section dropped": lambda claim, at: replace(claim, sections=_without(claim.sections, at)),
    "the last patch dropped": lambda claim, at: _on_section(claim, at, lambda s: replace(s, steps=s.steps[:-1])),
    "a patch twice": lambda claim, at: _on_section(claim, at, lambda s: replace(s, steps=(*s.steps, s.steps[-1]))),
    "a patch moved": lambda claim, at: _on_section(
        claim,
        at,
        lambda s: replace(s, steps=(replace(s.steps[0], ring=moved(s.steps[0].ring, 1e-4, 2e-4)), *s.steps[1:])),
    ),
    "a stitch line too short": lambda claim, at: _on_section(
        claim,
        at,
        lambda s: replace(s, steps=(*s.steps[:-1], replace(s.steps[-1], stitch=_shorter(s.steps[-1].stitch)))),
    ),
    "a section mirrored": lambda claim, at: _on_section(claim, at, _mirror_section),
    "the first step last": lambda claim, at: _on_section(
        claim, at, lambda s: replace(s, steps=(*s.steps[1:], s.steps[0]))
    ),
    "a seam too short": lambda claim, at: replace(
        claim, joins=_changed(claim.joins, at, lambda j: replace(j, seam=_shorter(j.seam)))
    ),
    "a seam moved": lambda claim, at: replace(
        claim, joins=_changed(claim.joins, at, lambda j: replace(j, seam=moved(j.seam, 1e-4, 2e-4)))
    ),
    "an outline grown": lambda claim, _: replace(claim, outline=tuple((x * 1.001, y) for x, y in claim.outline)),
}


def _changed(items: tuple[T, ...], at: int, change: Callable[[T], T]) -> tuple[T, ...]:
    at %= len(items)
    return (*items[:at], change(items[at]), *items[at + 1 :])


def _without(items: tuple[T, ...], at: int) -> tuple[T, ...]:
    at %= len(items)
    return items[:at] + items[at + 1 :]


def _on_section(claim: Claim, at: int, change: Callable[[ClaimedSection], ClaimedSection]) -> Claim:
    """A change to a section of two patches or more."""
    several = [n for n, section in enumerate(claim.sections) if len(section.steps) > 1]
    return replace(claim, sections=_changed(claim.sections, several[at % len(several)], change))


def _shorter(run: tuple[Point, ...]) -> tuple[Point, ...]:
    (x, y), (u, v) = run[0], run[-1]
    return ((x + (u - x) * 1e-3, y + (v - y) * 1e-3), (u, v))


def _mirror_section(section: ClaimedSection) -> ClaimedSection:
    # Rings are turned so that they still run clockwise; a section that is its own mirror image would pass, rightly.
    middle = sum(x for x, _ in section.ring) / len(section.ring)

    def mirror(points: tuple[Point, ...]) -> tuple[Point, ...]:
        return tuple((2 * middle - x, y) for x, y in points)[::-1]

    steps = tuple(ClaimedStep(mirror(s.ring), (), mirror(s.stitch)) for s in section.steps)
    return ClaimedSection(section.name, steps, mirror(section.ring))


@given(seed=st.integers(0, 10_000), at=st.integers(0, 50), what=st.sampled_from(sorted(ANYWHERE)))
@settings(derandomize=True, deadline=None, max_examples=150)
def test_a_fault_anywhere_in_any_plan_is_refused(seed: int, at: int, what: str):
    claim = claim_of(plan(cut_block(seed, 12)))
    assume(any(len(section.steps) > 1 for section in claim.sections))
    assume(claim.joins or ("join" not in what and "seam" not in what))
    check(claim)
    with pytest.raises(ProofError):
        check(ANYWHERE[what](claim, at))
