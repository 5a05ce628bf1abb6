"""What is said to fit a sheet is laid whole on it, and so is every part of it."""

from __future__ import annotations

from fractions import Fraction

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from seamwright.block.model import Block
from seamwright.foundation.make import foundations
from seamwright.options import Fit, PlanOptions, Units
from seamwright.paper import Margins, Paper, paper, papers_for
from seamwright.piecing.fit import Fit as Fitting
from seamwright.piecing.plan import plan
from seamwright.sheet.layout import lay_out
from support.exact import exact_block
from support.exhaustive import Exhaustive
from support.random_blocks import CONVEX, NOTCHED, OUTLINES, Line, Outline, random_line_list, random_lines

SHAPES: dict[str, Outline] = OUTLINES | {
    "wide": ((0, 0), (6, 0), (6, 3), (0, 3)),
    "tall": ((0, 0), (3, 0), (3, 7), (0, 7)),
    "octagon": ((2, 0), (4, 0), (6, 2), (6, 4), (4, 6), (2, 6), (0, 4), (0, 2)),
    "strip": ((0, 0), (20, 0), (20, 3), (0, 3)),
    "slanted": ((0, 2), (5, 0), (9, 7), (4, 9)),
    "kite": ((3, 0), (6, 3), (3, 10), (0, 3)),
    "needle": ((0, 0), (1, 0), (12, 9)),
    "wedge": ((0, 0), (9, 2), (9, 4), (0, 6)),
}


def _block(outline: Outline, size: Fraction, lines: list[Line] | None = None) -> Block:
    def at(points):  # type: ignore[no-untyped-def]
        return tuple((x * size, y * size) for x, y in points)

    return exact_block([at(line) for line in lines or []], at(outline), "a rather long name for a harbour block")


def _largest(outline: Outline, options: PlanOptions) -> Fraction:
    """The largest scale at which a shape of one patch fits the papers, to 1/64."""
    low, high = Fraction(1, 10), Fraction(20)
    while high - low > Fraction(1, 64):
        middle = (low + high) / 2
        fitting = Fitting(_block(outline, middle), papers_for(options.paper), options.seam_allowance_in)
        low, high = (middle, high) if fitting.fits([0]) else (low, middle)
    return low


@pytest.mark.parametrize("name", sorted(SHAPES))
@pytest.mark.parametrize(
    "options",
    [
        PlanOptions(),
        # The foot names every option that is not at its default: words take room.
        PlanOptions(units=Units.METRIC, max_patches=60, steps=1_000_001, tolerance_in=1 / 32),
    ],
    ids=["default", "many words"],
)
def test_what_just_fits_is_laid_whole_on_letter_and_on_a4(name: str, options: PlanOptions) -> None:
    size = _largest(SHAPES[name], options)
    lines = random_line_list(1, 3, SHAPES[name]) if name in OUTLINES else []
    made = plan(_block(SHAPES[name], size, lines), options)
    prints = foundations(made)
    for page in ("letter", "a4"):
        sheets = lay_out([(made, prints)], paper=page)
        assert not any(placed.tile for sheet in sheets for placed in sheet.placed)


@pytest.mark.long
@pytest.mark.parametrize("name", sorted(OUTLINES))
@pytest.mark.parametrize("page", ["letter", "a4", "legal", "tabloid", "a3"])
def test_sections_of_large_blocks_are_all_laid_whole(name: str, page: str) -> None:
    for seed in range(3):
        block = _block(OUTLINES[name], Fraction(6 + seed, 4), random_line_list(seed, 9, OUTLINES[name]))
        made = plan(block, PlanOptions(paper=page))
        prints = foundations(made)
        fitting = Fitting(block, papers_for(page), 0.25)
        large = [section for section in made.sections if not fitting.fits(section.patches)]
        assert all(len(section.patches) == 1 for section in large)
        for one in ("letter", "a4") if page == "letter" else (page,):
            for sheet in lay_out([(made, prints)], paper=one):
                for placed in sheet.placed:
                    assert placed.tile is None or placed.foundation.section in {s.name for s in large}


def test_a_large_part_of_the_paper_is_used() -> None:
    # Letter prints 8 in across, and 10 1/4 in down less a foot; a section has its allowance on both sides.
    fitting = Fitting(exact_block([], ((0, 0), (7, 0), (7, 8), (0, 8))), papers_for("letter"), 0.25)
    assert fitting.fits([0])
    assert not Fitting(exact_block([], ((0, 0), (8, 0), (8, 8), (0, 8))), papers_for("letter"), 0.25).fits([0])


def test_letter_means_letter_and_a4_and_another_paper_itself() -> None:
    assert [page.name for page in papers_for("letter")] == ["letter", "a4"]
    assert [page.name for page in papers_for("a4")] == ["a4"]
    assert [page.name for page in papers_for("tabloid")] == ["tabloid"]


@given(
    seed=st.integers(0, 10**6),
    name=st.sampled_from(sorted(OUTLINES)),
    size=st.integers(3, 12),
    lines=st.integers(1, 6),
)
@settings(derandomize=True, deadline=None, max_examples=60)
def test_a_part_of_what_fits_fits(seed: int, name: str, size: int, lines: int) -> None:
    # All regions that cuts make of a block, on a sheet of about their size.
    block = random_lines(seed, lines, OUTLINES[name])
    page = Paper("scrap", size / 2 + 1.0, size / 2 + 2.25, Margins(0.0, 0.0, 0.0, 0.0))
    fitting, regions = Fitting(block, [page], 0.25), Exhaustive(block)
    waiting = [regions.everything]
    while waiting:
        region = waiting.pop()
        for one, two, _ in regions.cuts(region)[:3]:
            if fitting.fits(region):
                assert fitting.fits(one) and fitting.fits(two)
            waiting += [one, two]


@given(seed=st.integers(0, 10**6), name=st.sampled_from(sorted(OUTLINES)), lines=st.integers(1, 6))
@settings(derandomize=True, deadline=None, max_examples=40)
def test_trim_outlines_need_no_more_paper_than_is_counted(seed: int, name: str, lines: int) -> None:
    made = plan(random_lines(seed, lines, OUTLINES[name]), PlanOptions(max_patches=3))
    fitting = Fitting(made.block, [paper("a3")], 0.25)
    for section, foundation in zip(made.sections, foundations(made), strict=True):
        if section.place == 1 and not section.reversed:
            xs, ys = zip(*foundation.trim_outline, strict=True)
            across, down = fitting._box(frozenset(section.patches), 0)
            assert max(xs) - min(xs) <= across + 1e-6
            assert max(ys) - min(ys) <= down + 1e-6


def test_a_plan_whose_sections_fit_anyway_is_not_changed_by_the_limit() -> None:
    for name in sorted(CONVEX):
        block = random_lines(7, 5, CONVEX[name])
        made = plan(block)
        assert made.sections == plan(block, PlanOptions(fit=Fit.NONE)).sections
        assert not [note for note in made.notes if note.code == "limits"]


def test_sections_that_fit_cost_more_sections_and_a_note_says_which_option_lifts_it() -> None:
    # Fourteen strips of 7 x 1 in: one foundation, but no sheet holds it.
    block = exact_block([((0, y), (7, y)) for y in range(1, 14)], ((0, 0), (7, 0), (7, 14), (0, 14)))
    made = plan(block)
    assert made.fewest is not None and (made.fewest.sections, made.fewest.foundations) == (1, 1)
    assert len(made.sections) == 2
    (note,) = [note for note in made.notes if note.code == "limits"]
    assert note.text == (
        "2 sections because they must fit Letter and A4 paper, 1 more than without; --fit none lifts that limit"
    )
    assert len(plan(block, PlanOptions(fit=Fit.NONE)).sections) == 1


def test_a_patch_larger_than_the_sheet_is_a_plain_piece_and_told() -> None:
    block = exact_block(
        [((0, 12), (9, 12)), ((3, 12), (3, 13)), ((6, 12), (6, 13))], ((0, 0), (9, 0), (9, 13), (0, 13))
    )
    made = plan(block)
    assert sorted(len(section.patches) for section in made.sections) == [1, 3]
    (large,) = [section for section in made.sections if section.kind == "plain"]
    (note,) = [note for note in made.notes if note.code == "too large"]
    assert note.text == (
        f"{large.name} is larger than a sheet of Letter and A4 paper, though only one patch: it prints in parts to "
        "glue together, or can be cut by ruler without paper. A larger --paper or a smaller --size helps"
    )
    ((x, y),) = note.places_in
    assert 0 < x < 9 and 0 < y < 12
    for page in ("letter", "a4"):
        parted = [
            p.foundation.section
            for s in lay_out([(made, foundations(made))], paper=page)
            for p in s.placed
            if p.tile
        ]
        assert set(parted) == {large.name}


@pytest.mark.parametrize("name", sorted(NOTCHED))
def test_notched_outlines_are_held_to_the_sheet_too(name: str) -> None:
    made = plan(_block(NOTCHED[name], Fraction(2), random_line_list(3, 6, NOTCHED[name])))
    fitting = Fitting(made.block, papers_for("letter"), 0.25)
    for section in made.sections:
        assert len(section.patches) == 1 or fitting.fits(section.patches)
