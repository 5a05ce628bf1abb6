"""The chapter that ends the block: when the paper comes off, how, and what is done before and after.

Knows:  after which join each section's paper may come off; which outer edges lie on the bias.
Leaves: how joins are sewn (joins), sizes (sizes), how fabric is laid (cutting.pieces).
Units:  inches, front view; degrees clockwise from +x.
Source: common practice.
"""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from itertools import pairwise

from seamwright.block.model import OUTSIDE
from seamwright.booklet.model import Heading, Item, Paragraph, Points, Story, Table
from seamwright.booklet.sizes import Sizes
from seamwright.fabric.pieces import Piece
from seamwright.options import Units
from seamwright.piecing.model import Plan
from seamwright.units import say_list

BIAS_DEG = 1.0
"""An edge lies along a thread if it is off by less: 1 in 57, as pieces are laid."""
STAY = {Units.INCH: "1/8 in", Units.METRIC: "3 mm"}
MOST_NAMES = 8
EDGE = "when the block is sewn to its neighbours"


def afterwards_story(plan: Plan, sizes: Sizes, pieces: Mapping[int, Piece]) -> Story:
    """What is done once all is joined.

    Args:
        plan: with sections. pieces: the fabric of each patch by its number.
    """
    on_paper = [s for s in plan.sections if s.kind != "plain" and s.method != "ruler"]
    whole = sizes.unfinished(plan.joins[-1].makes if plan.joins else plan.sections[0].name)
    items: list[Item] = [Heading("Taking off the paper" if on_paper else "When all is joined", 1)]
    if on_paper:
        items.append(Paragraph(_when(plan)))
        if plan.joins:
            items.append(_table(plan))
        items.append(Points((*_before(plan, pieces), *_paper_off(plan)), numbered=True))
    items.append(
        Paragraph(
            "Press the block once more from the front, with a dry iron and without pushing, and measure it: "
            f"unfinished {whole.said(plan.options.units)}."
        )
    )
    return tuple(items)


def last_joins(plan: Plan) -> dict[str, int]:
    """For each section by name the number of the join after which all its inner sides are sewn; 0 for none."""
    inside: dict[str, frozenset[str]] = {section.name: frozenset((section.name,)) for section in plan.sections}
    section_of = {patch: s.name for s in plan.sections for patch in s.patches}
    neighbours: dict[str, set[str]] = {section.name: set() for section in plan.sections}
    for edge in plan.block.edges:
        one, two = section_of.get(edge.left), section_of.get(edge.right)
        if one and two and one != two:
            neighbours[one].add(two)
            neighbours[two].add(one)
    last = dict.fromkeys(inside, 0)
    for number, join in enumerate(plan.joins, start=1):
        first, second = inside[join.first], inside[join.second]
        inside[join.makes] = first | second
        for here, there in ((first, second), (second, first)):
            last |= dict.fromkeys((name for name in here if neighbours[name] & there), number)
    return last


def bias_edges(plan: Plan, pieces: Mapping[int, Piece]) -> tuple[str, ...]:
    """Names of the patches whose edge of the block does not lie along a thread, in sewing order."""
    block, names = plan.block, plan.patch_names()
    found = set()
    for number in block.outline_edges:
        edge = block.edges[number]
        patch = edge.right if edge.left == OUTSIDE else edge.left
        grain = pieces[patch].grain_deg
        if grain is None or any(off_thread(a, b, grain) > BIAS_DEG for a, b in pairwise(block.edge_points(number))):
            found.add(patch)
    order = [patch for section in plan.sections for patch in section.patches]
    return tuple(names[patch] for patch in order if patch in found)


def off_thread(a: Sequence[float], b: Sequence[float], grain_deg: float) -> float:
    """Degrees between an edge and the nearest thread."""
    turn = math.degrees(math.atan2(b[1] - a[1], b[0] - a[0])) - grain_deg
    return min(turn % 90, -turn % 90)


def _when(plan: Plan) -> str:
    if not plan.joins:
        return "The paper stays on until the block is sewn to its neighbours: it keeps the edges from stretching."
    return (
        "A section keeps its paper until all its neighbours are sewn on: the paper keeps edges from stretching, "
        "and joins are sewn by its lines. At the edge of the block the neighbours are the blocks beside it too; "
        "where a block stays alone, stitch round its edge first."
    )


def _table(plan: Plan) -> Table:
    """Which sections' paper comes off when: those at the edge of the block last of all."""
    last, outer = last_joins(plan), _outer(plan)
    rows: dict[int, list[str]] = {}
    at_edge = len(plan.joins) + 1
    for section in plan.sections:
        if section.kind != "plain" and section.method != "ruler":
            rows.setdefault(at_edge if section.name in outer else last[section.name], []).append(section.name)
    told = tuple(
        (", ".join(names), EDGE if number == at_edge else f"after join {number}")
        for number, names in sorted(rows.items())
    )
    return Table(("Section", "Its paper comes off"), told)


def _outer(plan: Plan) -> set[str]:
    """Names of the sections that lie at the edge of the block."""
    section_of = {patch: s.name for s in plan.sections for patch in s.patches}
    edges = [plan.block.edges[number] for number in plan.block.outline_edges]
    return {section_of[edge.right if edge.left == OUTSIDE else edge.left] for edge in edges}


def _before(plan: Plan, pieces: Mapping[int, Piece]) -> tuple[str, ...]:
    stay = f"stitch {STAY[plan.options.units]} from the raw edge with a long stitch before its paper comes off"
    bias = bias_edges(plan, pieces)
    if not bias:
        return (
            "Laid as told, every outer edge of this block lies on the straight grain and will not stretch. If a "
            f"piece was laid otherwise, {stay}.",
        )
    one = len(bias) == 1
    named = say_list(bias, most=MOST_NAMES)
    return (
        f"The outer {'edge' if one else 'edges'} of {named} {'does' if one else 'do'} not lie along a thread and "
        f"may stretch: {stay}.",
    )


def _paper_off(plan: Plan) -> tuple[str, ...]:
    section = next(s for s in plan.sections if s.kind != "plain" and s.method != "ruler")
    names = [section.patch_name(n) for n in range(len(section.patches), 0, -1)]
    order = say_list(names) if len(names) <= 4 else f"{names[0]}, {names[1]} and so on down to {names[-1]}"
    return (
        f"Take the paper off patch by patch, the highest number first: {order}.",
        "Fold the paper on the line of stitches so that it tears there, hold the stitches between two fingers, "
        "and pull the paper, never the fabric. Tweezers fetch what is left in sharp points.",
        "Paper that washes away or may stay in is not torn off: follow its maker.",
    )
