"""For whom a block is, and how long it takes: worked out from its plan.

Knows:  the rule below.
Leaves: counting patches, joins and points (piecing), saying it (title).
Units:  degrees, minutes.
Method: what makes a block hard is counted: patches, points to match, sharp points, joins that curve or turn. Time
        is so many minutes for each patch, each join and each point, and some to begin and to end.
Limits: levels and minutes are our own estimate, from memory of how classes go; no source stands behind them. The
        teacher knows better: `--level` and `--hours` win.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from seamwright.options import BookOptions
from seamwright.piecing.model import Plan
from seamwright.piecing.shapes import corners

LEVELS = ("a first block on paper", "some practice", "experienced")
WITHOUT_PAPER = "a first block"
"""What the first level is called where nothing is sewn on paper."""
MOST_PATCHES, MOST_POINTS, LEAST_DEG = (24, 60), (4, 16), (25.0, 12.0)
"""The first level holds up to the first of these, the second up to the second."""
BEGIN_MIN = 30
"""Printing, measuring, cutting out the paper."""
PATCH_MIN, PLAIN_MIN = 6, 3
"""A patch on paper: cut, laid, stitched, trimmed, pressed; a plain piece: cut."""
JOIN_MIN, POINT_MIN, TURN_MIN = 8, 3, 12
"""A join, what each point that must meet adds to it, and what a curve or a turn does."""
PAPER_MIN = 1
"""Taking off the paper, a patch."""


@dataclass(frozen=True, slots=True)
class Effort:
    """What a block asks for.

    Attributes:
        patches, foundations, plain: how many; plain ones are sewn without paper.
        joins: how many; special: those that curve, are set in or partial.
        points: that must meet at joins. sharpest_deg: the sharpest point of a patch.
        level: in words. hours: for one block, to the half hour.
    """

    patches: int
    foundations: int
    plain: int
    joins: int
    special: int
    points: int
    sharpest_deg: float
    level: str
    hours: float


def effort_of(plan: Plan, book: BookOptions) -> Effort:
    """What a plan with sections asks for; level and hours as its designer says, if she does.

    The level is the highest that one of these asks for: patches (24, 60), points to match (4, 16), the sharpest
    point (25, 12 degrees), and a join that curves or turns, which asks for the highest.
    """
    block = plan.block
    plain = sum(s.kind == "plain" or s.method == "ruler" for s in plan.sections)
    on_paper = sum(len(s.patches) for s in plan.sections if s.kind != "plain" and s.method != "ruler")
    special = sum(join.kind != "straight" for join in plan.joins)
    angles = [angle for patch in range(len(block.patches)) for _, angle in corners(block, patch)]
    sharpest = min(angles, default=180.0)
    counts = ((len(block.patches), MOST_PATCHES), (plan.points_to_match, MOST_POINTS), (-sharpest, _NEGATIVE))
    rank = max(2 * bool(special), *(sum(count > most for most in mosts) for count, mosts in counts))
    level = LEVELS[rank] if rank or on_paper else WITHOUT_PAPER
    minutes = (
        BEGIN_MIN
        + (PATCH_MIN + PAPER_MIN) * on_paper
        + PLAIN_MIN * (len(block.patches) - on_paper)
        + JOIN_MIN * len(plan.joins)
        + POINT_MIN * plan.points_to_match
        + TURN_MIN * special
    )
    return Effort(
        len(block.patches),
        len(plan.sections) - plain,
        plain,
        len(plan.joins),
        special,
        plan.points_to_match,
        sharpest,
        book.level or level,
        book.hours or math.ceil(minutes / 30) / 2,
    )


_NEGATIVE = tuple(-degrees for degrees in LEAST_DEG)
