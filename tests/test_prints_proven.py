"""Whatever plan is made, its prints pass their proofs: trims edge on edge, sheets read back, no print missing."""

from __future__ import annotations

import random
from collections import defaultdict
from collections.abc import Iterator, Sequence
from dataclasses import replace

import pytest
import shapely
from shapely.geometry import Polygon

from seamwright import api
from seamwright.block.model import Block
from seamwright.foundation.model import Foundation, Use
from seamwright.geometry import Point, Ring, bounds
from seamwright.ink.lettering import words_box
from seamwright.ink.model import Area, Stroke, Words
from seamwright.options import Fit, PlanOptions, PrintOptions, Sets
from seamwright.paper import paper
from seamwright.piecing.plan import plan
from seamwright.sheet.layout import lay_out
from seamwright.sheet.model import Placed, Sheet
from seamwright.sheet.pdf import to_pdf
from seamwright.sheet.readback import read_back
from support.plans import plan_any_size
from support.random_blocks import (
    CONVEX,
    NOTCHED,
    OUTLINES,
    cut_block,
    erased_lines,
    grid,
    random_lines,
    spiral,
    star,
    strip_of_triangles,
)
from support.turning import bent_over, tiled, voronoi

ALLOWANCES_IN = (0.0, 1 / 8, 1 / 4, 3 / 8, 0.75 / 2.54)
KINDS = ("convex", "notched", "turning", "repeated")


def scaled(block: Block, times: float) -> Block:
    """The block so many times as large."""

    def larger(points: Ring) -> Ring:
        return tuple((x * times, y * times) for x, y in points)

    return replace(
        block,
        width_in=block.width_in * times,
        height_in=block.height_in * times,
        points=larger(block.points),
        edges=tuple(replace(edge, via=larger(edge.via)) for edge in block.edges),
    )


def block_of(kind: str, seed: int) -> Block:
    """A random block of a kind, six inches wide or a few more."""
    chance = random.Random(f"{kind} {seed}")
    sub = chance.randrange(10**6)
    if kind == "convex":
        outline = CONVEX[chance.choice(sorted(CONVEX))]
        if chance.random() < 0.5:
            return cut_block(sub, chance.randint(2, 18), outline)
        return random_lines(sub, chance.randint(2, 9), outline, chance.random())
    if kind == "notched":
        return random_lines(sub, chance.randint(2, 9), NOTCHED[chance.choice(sorted(NOTCHED))], chance.random())
    if kind == "turning":
        way = chance.randrange(3)
        if way == 0:
            outline = OUTLINES[chance.choice(sorted(OUTLINES))]
            return erased_lines(sub, chance.randint(3, 9), outline, chance.random() / 2)
        if way == 1:
            return tiled(sub, chance.randint(5, 14), chance.randint(1, 2))
        middle = (chance.uniform(3, 5), chance.uniform(3, 5))
        push = (chance.uniform(-0.4, 0.4), chance.uniform(-0.4, 0.4))
        return bent_over(voronoi(sub, chance.randint(4, 9)), middle, chance.uniform(1, 2.5), push)
    made = (
        star(chance.randint(2, 9)),
        grid(chance.randint(1, 5), chance.randint(1, 5)),
        spiral(chance.randint(3, 12), crossed=chance.random() < 0.5),
        strip_of_triangles(chance.randint(2, 12)),
    )
    return chance.choice(made)


@pytest.mark.parametrize(
    ("cells", "patches", "middle", "reach", "push", "allowance_in"),
    [
        # two corners near each other both looked straight, and were lost
        (
            875887,
            8,
            (4.6719565755724295, 3.1237915131275837),
            1.9353002372019934,
            (-0.28425936947, -0.0086875),
            1 / 8,
        ),
        # a hair stayed open between a strip and a tip
        (
            8558,
            7,
            (4.182488072123402, 4.3696544169147264),
            1.6181897769905726,
            (0.0661877234942, -0.07152023303),
            1 / 4,
        ),
    ],
)
def test_curves_of_short_pieces_keep_their_allowance(
    cells: int, patches: int, middle: Point, reach: float, push: Point, allowance_in: float
) -> None:
    bent = bent_over(voronoi(cells, patches), middle, reach, push)
    options = PlanOptions(set_in=True, allowance_in=allowance_in, steps=20_000)
    assert api.foundations(plan_any_size(bent, options))


def test_a_tip_that_no_blade_would_notice_shifts_no_fabric() -> None:
    # Left untrimmed, a tip of 0.0009 in told where the next strip of 34 in lies, and the plan was refused.
    whirl = plan(scaled(block_of("repeated", 147), 2.0), PlanOptions(set_in=True, allowance_in=1 / 8, fit=Fit.NONE))
    assert api.rehearse(whirl)


def test_what_a_part_shows_is_never_empty() -> None:
    made = plan(scaled(block_of("turning", 1), 2.0), PlanOptions(set_in=True, fit=Fit.NONE, paper="a5"))
    sheets = lay_out([(made, api.foundations(made))], paper="a5", printing=PrintOptions(effort=1))
    assert any(placed.tile for sheet in sheets for placed in sheet.placed)
    assert all(ring for sheet in sheets for mark in sheet.ink if isinstance(mark, Area) for ring in mark.rings)


@pytest.mark.long
@pytest.mark.parametrize("kind", KINDS)
def test_no_random_plan_is_refused_by_the_proof_of_its_trims(kind: str) -> None:
    chance, sewn = random.Random(kind), 0
    for seed in range(75):
        block = scaled(block_of(kind, seed), chance.choice((1.0, 1.5, 2.0)))
        options = PlanOptions(set_in=True, allowance_in=chance.choice(ALLOWANCES_IN), steps=20_000)
        made = plan_any_size(block, options)
        if made.sections:
            assert api.foundations(made), seed
            sewn += 1
    assert sewn > 40


@pytest.mark.long
@pytest.mark.parametrize(
    "seed",
    [
        pytest.param(
            24, marks=pytest.mark.xfail(reason="letters of two small sections beside each other in the key")
        )
        if seed == 24
        else seed
        # The last four: a file was refused for points in a straight run, a rehearsal for a tip of a hair; words
        # of two joints in one line lay over each other; a trim line in the edge of a part ran on off the paper.
        for seed in (*range(100), 102, 147, 444, 617)
    ],
)
def test_random_plans_print_whole_on_any_paper_in_any_way(seed: int) -> None:
    chance = random.Random(seed)
    block = replace(scaled(block_of(KINDS[seed % 4], seed), chance.choice((0.5, 1.0, 2.0))), name="harbour")
    page = chance.choice(("letter", "a4", "a5", "legal", "a3", "8x10in"))
    options = PlanOptions(
        set_in=True,
        allowance_in=chance.choice(ALLOWANCES_IN),
        paper=page,
        fit=chance.choice(list(Fit)),
        steps=20_000,
    )
    how = PrintOptions(
        copies=chance.choice((1, 1, 2)),
        sets=chance.choice(list(Sets)),
        effort=10,
        enlarge=chance.choice((1.0, 1.0, 1.0, 1.5)),
        footer=chance.choice(("", "Harbour class")),
        **{
            name: chance.random() < 0.25
            for name in ("upright", "landscape", "unmirrored", "tints", "ink_saver", "trial_page")
        },
    )
    made = plan(block, options)
    if not made.sections:
        return
    prints = api.foundations(made, how)
    sheets = lay_out([(made, prints)], paper=page, printing=how)
    read_back(to_pdf(sheets, title="harbour", made_from="harbour"), sheets)
    found = list(_faults(sheets, prints, how, page))
    assert not found, (found[:6], seed, page, how.changed())


def _has_allowance(placed: Placed) -> bool:
    """Whether a print has an allowance."""
    return placed.foundation.trim_outline != placed.foundation.stitch_outline


def _faults(sheets: Sequence[Sheet], prints: Sequence[Foundation], how: PrintOptions, page: str) -> Iterator[str]:
    margins = (paper(page).lying() if how.landscape else paper(page)).margins
    for sheet in sheets:
        dots = 1.0 if any(_has_allowance(placed) for placed in sheet.placed) else 4.0 * how.enlarge
        for mark in sheet.ink:
            # Trim lines may lie on the edge, and without an allowance the dots of stops, which grow with the print.
            over = dots if isinstance(mark, Area) else 1.0
            left, top = margins.left * 72 - over, margins.top * 72 - over
            right, bottom = sheet.width_pt - margins.right * 72 + over, sheet.height_pt - margins.bottom * 72 + over
            x0, y0, x1, y1 = bounds(
                mark.points
                if isinstance(mark, Stroke)
                else words_box(mark, 1.0)
                if isinstance(mark, Words)
                else mark.rings[0]
            )
            if x0 < left or y0 < top or x1 > right or y1 > bottom:
                yield f"sheet {sheet.number}: {mark} leaves the printable part"
        words = [mark for mark in sheet.ink if isinstance(mark, Words) and mark.text.strip()]
        boxes = [Polygon(words_box(mark, 1.0)).buffer(-0.3) for mark in words]
        for i, j in shapely.STRtree(boxes).query(boxes, "intersects").T:
            if i < j:
                yield f"sheet {sheet.number}: {words[i].text!r} lies over {words[j].text!r}"
    # Prints that share a letter may be parted differently: they are told apart by the sections that they serve.
    parts = defaultdict(set)
    for sheet in sheets:
        for placed in sheet.placed:
            copy = sheet.in_set.set if sheet.in_set else placed.copy
            tile = placed.tile
            parts[placed.foundation.sections, copy, tile.of if tile else 1].add(
                (tile.row, tile.column) if tile else (1, 1)
            )
    whole = {(name, copy) for (names, copy, of), found in parts.items() if len(found) == of for name in names}
    for one in prints:
        # Of what is not sewn through one template serves all copies.
        there = [(one.section, copy) in whole for copy in range(1, how.copies + 1)]
        if not (any(there) if one.use is Use.CUT else all(there)):
            yield f"print {one.label} for {one.section} is missing"
