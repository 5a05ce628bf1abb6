"""Whatever is drawn, at whatever size, angle and place: its plan passes the checker, and sews in rehearsal.

Blocks of 5 to 25 patches of ten kinds, each drawn, tidied, planned, proven and sewn. The rehearsal cuts with its
own hands; every eleventh block is sewn of the pieces that its cutting list says, laid as its paper shows.
"""

from __future__ import annotations

import math
from collections import Counter

import pytest

from seamwright.block.make import make_block
from seamwright.block.model import OUTLINE, Block
from seamwright.claims.plans import claim_of
from seamwright.claims.sewing import sewing_of
from seamwright.cutting.pieces import pieces_of
from seamwright.errors import DrawingError, ProofError
from seamwright.options import Fit, PlanOptions
from seamwright.piecing.plan import plan
from seamwright.proof.checker import check
from seamwright.rehearsal.rehearse import rehearse
from support.drawn import drawing, square
from support.random_sewing import FEWEST, MOST, drawn

QUICK, QUICK_CHUNK = 500, 50
LONG, LONG_CHUNK = 10_000, 500
OPEN = {3963: "wrong cut", 6380: "gap in the allowance"}
"""Not mended yet: a sliver of 1 degree between nearly equal lines; fabric too short at an inside corner."""
REAL = 11
"""Kinds of blocks come in tens."""


def idle_ends(block: Block) -> list[int]:
    """Points at which one straight seam ends, another begins, and nothing turns."""
    at: dict[int, list[int]] = {}
    for number, edge in enumerate(block.edges):
        at.setdefault(edge.start, []).append(number)
        at.setdefault(edge.end, []).append(number)
    found = []
    for point, edges in at.items():
        if len(edges) != 2 or any(block.edges[e].seam == OUTLINE or block.edges[e].via for e in edges):
            continue
        (ax, ay), (bx, by), (cx, cy) = (
            block.points[p] for p in (point, *(e.start + e.end - point for e in (block.edges[n] for n in edges)))
        )
        if abs((bx - ax) * (cy - ay) - (by - ay) * (cx - ax)) < 1e-7:
            found.append(point)
    return found


def sewn(seed: int) -> str:
    """Draws, plans, proves and sews the block of a seed; "stuck" if there is no plan, even with set-in seams."""
    job = drawn(seed)
    block = job.block()
    assert not idle_ends(block)
    made = plan(block, job.options)
    if not made.sections:
        assert made.obstructions
        return "stuck"
    check(claim_of(made))
    rehearse(sewing_of(made, pieces_of(made) if seed % REAL == 0 else ()))
    return "sewn"


def all_sewn(start: int, count: int) -> None:
    """Every block of a run of seeds; all that fail are told, not only the first."""
    counts: Counter[str] = Counter()
    failed = []
    for seed in range(start, start + count):
        try:
            counts["open" if still_refused(seed) else sewn(seed)] += 1
        except DrawingError:
            counts["refused"] += 1  # wild curves, most of them: a sentence and its place, before any plan
        except Exception as problem:
            failed.append(f"seed {seed}, {type(problem).__name__}: {problem}")
    if failed:
        pytest.fail("\n".join(failed), pytrace=False)
    assert counts["stuck"] <= count // 50  # what floats in a patch cannot be sewn on at all
    assert counts["refused"] <= max(1, count // 100)


def still_refused(seed: int) -> bool:
    """Whether a block is one of those whose plan is known to fail its proof, so that nothing is printed of it."""
    if seed not in OPEN:
        return False
    with pytest.raises(ProofError, match=OPEN[seed]):
        sewn(seed)
    return True


@pytest.mark.parametrize("start", range(0, QUICK, QUICK_CHUNK))
def test_a_random_block_passes_the_checker_and_sews_in_rehearsal(start: int) -> None:
    all_sewn(start, QUICK_CHUNK)


@pytest.mark.parametrize("seed", [3090, 3677])
def test_what_ten_thousand_blocks_found_stays_mended(seed: int) -> None:
    """A curve of pieces nearer to each other than points can be; trim edges that come to lie on each other."""
    assert sewn(seed) == "sewn"


@pytest.mark.long
@pytest.mark.parametrize("start", range(0, LONG, LONG_CHUNK))
def test_ten_thousand_random_blocks_pass_the_checker_and_sew_in_rehearsal(start: int) -> None:
    all_sewn(start, LONG_CHUNK)


def test_a_line_on_which_another_comes_to_lie_is_one_seam() -> None:
    """A sliver closed as its points were put on the lines beside it: two seams met there and turned nowhere."""
    lines = [
        ((1.3, 0.625), (0.979, 0.0)),
        ((0.618, 1.112), (0.465, 1.152)),
        ((2.0, 1.99), (1.3, 0.625)),
        ((1.658, 1.783), (1.758, 1.517)),
        ((1.426, 0.87), (0.367, 1.256)),
        ((1.578, 1.994), (1.658, 1.783)),
        ((1.293, 0.919), (0.715, 1.1)),
        ((0.557, 0.866), (0.0, 2.01)),
        ((1.004, 1.01), (0.489, 1.147)),
        ((1.86, 1.864), (1.812, 1.991)),
        ((0.503, 1.142), (0.763, 1.074)),
        ((1.234, 0.497), (0.99, 0.664)),
        ((0.0, 2.01), (2.0, 1.99)),
        ((0.99, 0.664), (0.49, 1.005)),
        ((0.896, 1.063), (0.572, 1.13)),
        ((1.892, 1.78), (1.86, 1.864)),
        ((0.979, 0.0), (0.557, 0.866)),
        ((0.572, 1.13), (0.413, 1.162)),
    ]
    options = PlanOptions(tolerance_in=1 / 48, fit=Fit.NONE, set_in=True)
    block = make_block(drawing(lines), options)
    assert len(block.patches) == 8 and not idle_ends(block)
    check(claim_of(plan(block, options)))


def test_a_line_along_which_a_curve_comes_to_lie_runs_on() -> None:
    """Two lines and a circle nearly meet in a point: a piece of a line became the curve's, and parted the line."""
    lines = [*square(9.7), ((0.0, 0.0), (9.7, 9.7)), ((7.544, 9.7), (4.311, 0.0))]
    angles = [0.3 + math.tau * k / 48 for k in range(49)]
    round_ = [(5.86 + 1.97 * math.cos(t), 4.66 + 1.97 * math.sin(t)) for t in angles]
    options = PlanOptions(tolerance_in=0.101, fit=Fit.NONE, set_in=True)
    block = make_block(drawing(lines, curves=[round_]), options)
    assert sum(seam.straight for seam in block.seams) == 2
    check(claim_of(plan(block, options)))


def test_every_kind_is_tried_with_few_patches_and_with_many() -> None:
    """Kinds and numbers take turns, so a few seeds have them all."""
    found: dict[str, set[int]] = {}
    for seed in range(210):
        job = drawn(seed)
        found.setdefault(job.kind, set()).add(job.patches)
    assert len(found) == 10
    for some in found.values():
        assert FEWEST <= min(some) <= 7 and 18 <= max(some) <= MOST
