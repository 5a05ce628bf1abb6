"""The independent checker on joins that turn: true claims pass, each planted fault is refused by its name."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest

from seamwright.errors import ProofError
from seamwright.geometry import Point
from seamwright.proof.checker import check
from seamwright.proof.claim import Claim, ClaimedJoin, ClaimedSection, ClaimedStep, Polyline

SIX: Polyline = ((0, 0), (6, 0), (6, 6), (0, 6))


def plain(name: str, *ring: Point) -> ClaimedSection:
    return ClaimedSection(name, (ClaimedStep(ring),), ring)


# Three patches that meet in a Y at (3, 3): A on the left, B on the right, C below.
LEFT, RIGHT, BELOW = ((0, 0), (3, 0), (3, 3), (0, 5)), ((3, 0), (6, 0), (6, 5), (3, 3)), ((0, 5), (3, 3), (6, 5))
Y = Claim(
    lines=(((3, 0), (3, 3)), ((3, 3), (0, 5)), ((3, 3), (6, 5))),
    outline=SIX,
    sections=(plain("A", *LEFT), plain("B", *RIGHT), plain("C", *BELOW, (6, 6), (0, 6))),
    joins=(
        ClaimedJoin("A", "B", "A+B", ((3, 0), (3, 3))),
        ClaimedJoin("A+B", "C", "A+B+C", ((0, 5), (3, 3), (6, 5)), "set-in", ((3, 3),)),
    ),
)

# Four strips round a centre, each ending on the side of the next: E in the middle, A above, then clockwise.
RING_LINES = (((0, 2), (4, 2)), ((4, 0), (4, 4)), ((2, 4), (6, 4)), ((2, 2), (2, 6)))
RING = Claim(
    lines=RING_LINES,
    outline=SIX,
    sections=(
        plain("A", (0, 0), (4, 0), (4, 2), (2, 2), (0, 2)),
        plain("B", (4, 0), (6, 0), (6, 4), (4, 4), (4, 2)),
        plain("C", (2, 4), (4, 4), (6, 4), (6, 6), (2, 6)),
        plain("D", (0, 2), (2, 2), (2, 4), (2, 6), (0, 6)),
        plain("E", (2, 2), (4, 2), (4, 4), (2, 4)),
    ),
    joins=(
        ClaimedJoin("A", "E", "A+E", ((2, 2), (4, 2))),
        ClaimedJoin("A+E", "B", "A+E+B", ((4, 0), (4, 2), (4, 4))),
        ClaimedJoin("A+E+B", "C", "A+E+B+C", ((2, 4), (4, 4), (6, 4))),
        ClaimedJoin("A+E+B+C", "D", "all", ((2, 6), (2, 4), (2, 2), (0, 2)), "partial", ((2, 2),)),
    ),
)

# Two Ys on one seam of C, under A, B and D: C is set in with two turns.
TWO = Claim(
    lines=(((2, 0), (2, 2)), ((4, 0), (4, 2)), ((0, 4), (2, 2)), ((2, 2), (4, 2)), ((4, 2), (6, 4))),
    outline=SIX,
    sections=(
        plain("A", (0, 0), (2, 0), (2, 2), (0, 4)),
        plain("B", (2, 0), (4, 0), (4, 2), (2, 2)),
        plain("D", (4, 0), (6, 0), (6, 4), (4, 2)),
        plain("C", (0, 4), (2, 2), (4, 2), (6, 4), (6, 6), (0, 6)),
    ),
    joins=(
        ClaimedJoin("A", "B", "A+B", ((2, 0), (2, 2))),
        ClaimedJoin("A+B", "D", "A+B+D", ((4, 0), (4, 2))),
        ClaimedJoin("A+B+D", "C", "all", ((0, 4), (2, 2), (4, 2), (6, 4)), "set-in", ((2, 2), (4, 2))),
    ),
)

# The same Y, its lower right seam an arc round (3, 5) (a tight circle would close on the outline).
BOW = tuple((3 + 2 * math.sin(k * math.pi / 60), 5 - 2 * math.cos(k * math.pi / 60)) for k in range(31))
CURVED = Claim(
    lines=(((3, 0), (3, 3)), ((3, 3), (0, 3)), (*BOW[:-1], (5, 5)), ((5, 5), (5, 6))),
    outline=SIX,
    sections=(
        plain("A", (0, 0), (3, 0), (3, 3), (0, 3)),
        plain("B", (3, 0), (6, 0), (6, 6), (5, 6), (5, 5), *BOW[-2::-1]),
        plain("C", (0, 3), *BOW[:-1], (5, 5), (5, 6), (0, 6)),
    ),
    joins=(
        ClaimedJoin("B", "C", "B+C", (*BOW[:-1], (5, 5), (5, 6)), "set-in", ((5, 5),)),
        ClaimedJoin("A", "B+C", "all", ((3, 0), (3, 3), (0, 3)), "set-in", ((3, 3),)),
    ),
)


def last(claim: Claim, **changes: object) -> Claim:
    """The claim with changes to its last join."""
    return replace(claim, joins=(*claim.joins[:-1], replace(claim.joins[-1], **changes)))  # type: ignore[arg-type]


@pytest.mark.parametrize("claim", [Y, RING, TWO], ids=["a Y", "a ring", "two turns"])
def test_a_true_claim_passes_in_either_direction(claim: Claim) -> None:
    check(claim)
    join = claim.joins[-1]
    check(last(claim, seam=join.seam[::-1], turns=join.turns[::-1]))
    check(last(claim, first=join.second, second=join.first))


def test_the_other_pairs_of_a_y_may_be_joined_first() -> None:
    around = {"A": ((3, 0), (3, 3), (0, 5)), "B": ((3, 0), (3, 3), (6, 5))}
    for set_in, other in (("A", "B"), ("B", "A")):
        first = ClaimedJoin(other, "C", "two", ((3, 3), (6, 5) if other == "B" else (0, 5)))
        check(replace(Y, joins=(first, ClaimedJoin("two", set_in, "all", around[set_in], "set-in", ((3, 3),)))))


PLANTED: list[tuple[str, str, Claim]] = [
    ("a set-in called straight", "set-in called straight", last(Y, kind="straight", turns=())),
    ("a partial called straight", "set-in called straight", last(RING, kind="straight", turns=())),
    ("a partial called a curve", "set-in called straight", last(RING, kind="curved", turns=())),
    ("a partial called set-in", "partial called set-in", last(RING, kind="set-in")),
    ("a set-in called partial", "set-in called partial", last(Y, kind="partial")),
    (
        "a straight seam called set-in",
        "straight called set-in",
        replace(Y, joins=(replace(Y.joins[0], kind="set-in"), Y.joins[1])),
    ),
    (
        "a straight seam called partial where another seam ends on it",
        "straight called partial",
        replace(
            RING,
            joins=(RING.joins[0], replace(RING.joins[1], kind="partial", turns=((4, 2),)), *RING.joins[2:]),
        ),
    ),
    ("a turn not told", "missing turn", last(Y, turns=())),
    ("one turn of two not told", "missing turn", last(TWO, turns=((2, 2),))),
    ("a partial's turn not told", "missing turn", last(RING, turns=())),
    ("a turn where a seam ends on a straight one", "extra turn", last(RING, turns=((2, 4), (2, 2)))),
    ("a turn on no point of the drawing", "turn at the wrong point", last(Y, turns=((1.5, 4),))),
    ("a turn off the seam", "turn at the wrong point", last(Y, turns=((3, 2.9),))),
    ("a turn off by a hair", "turn at the wrong point", last(Y, turns=((3.00001, 3),))),
    ("a turn at the seam's end", "turn at the wrong point", last(Y, turns=((3, 3), (6, 5)))),
    ("one turn told twice", "turn at the wrong point", last(Y, turns=((3, 3), (3, 3)))),
    (
        "turns out of order",
        "turn at the wrong point",
        last(TWO, turns=((4, 2), (2, 2), (4, 2))),
    ),
    (
        "a turn of a straight join",
        "extra turn",
        replace(Y, joins=(replace(Y.joins[0], turns=((3, 1.5),)), Y.joins[1])),
    ),
    ("a set-in seam that leaves one leg unsewn", "seam too short", last(Y, seam=((0, 5), (3, 3)))),
    ("a set-in seam across its corner", "wrong cut", last(Y, seam=((0, 5), (6, 5)))),
    (
        "the ring closed without a partial seam",
        "set-in called straight",
        replace(
            RING,
            joins=(
                *RING.joins[:3],
                ClaimedJoin("A+E+B+C", "D", "all", ((2, 2), (2, 6))),
            ),
        ),
    ),
    (
        "the ring closed round a hole, so that its last part meets it in two places",
        "set-in called straight",
        replace(
            RING,
            joins=(
                ClaimedJoin("A", "B", "A+B", ((4, 0), (4, 2))),
                ClaimedJoin("A+B", "C", "A+B+C", ((4, 4), (6, 4))),
                ClaimedJoin("A+B+C", "D", "round", ((2, 4), (2, 6))),
                ClaimedJoin(
                    "round", "E", "all", ((2, 2), (4, 2), (4, 4), (2, 4)), "set-in", ((4, 2), (4, 4), (2, 4))
                ),
            ),
        ),
    ),
    ("a turn that is no number", "not a number", last(Y, turns=((math.nan, 3),))),
    ("a curve and a line as one curve", "missing turn", last(CURVED, turns=())),
]


@pytest.mark.parametrize(("name", "claim"), [p[1:] for p in PLANTED], ids=[p[0] for p in PLANTED])
def test_a_planted_fault_is_refused_by_name(name: str, claim: Claim) -> None:
    with pytest.raises(ProofError) as caught:
        check(claim)
    assert caught.value.faults[0].code == name


def test_an_island_has_no_seam_with_ends() -> None:
    """A square inside a square: no outline is that of its ground, which has a hole."""
    hole = ((2, 2), (2, 4), (4, 4), (4, 2))
    square = hole[::-1]
    island = Claim(
        lines=tuple(zip(square, square[1:] + square[:1], strict=True)),
        outline=SIX,
        sections=(ClaimedSection("A", (ClaimedStep(SIX, (hole,)),), SIX), plain("B", *square)),
        joins=(ClaimedJoin("A", "B", "all", (*square, square[0]), "set-in", square[1:]),),
    )
    with pytest.raises(ProofError) as caught:
        check(island)
    assert caught.value.faults[0].code == "wrong section outline"


def test_a_curve_may_be_a_leg_of_a_seam_that_turns() -> None:
    check(CURVED)
