"""What a ruler cuts is left off the paper: units first, one join each at most, the rest as ever."""

from __future__ import annotations

import json
import random
from dataclasses import replace
from fractions import Fraction
from pathlib import Path

import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely.affinity import rotate, translate

import seamwright
from seamwright.api import rehearse
from seamwright.block.model import Block
from seamwright.claims.plans import claim_of
from seamwright.claims.sewing import sewing_of
from seamwright.cli import main
from seamwright.cutting.pieces import pieces_of
from seamwright.cutting.units import units_of
from seamwright.errors import OptionError, ProofError, StuckError
from seamwright.fabric.model import Fabric
from seamwright.foundation.common import common_to
from seamwright.foundation.make import foundations
from seamwright.foundation.purpose import cut_by_ruler
from seamwright.options import CutOptions, Fit, PlanOptions, Priority, Rotary, Units
from seamwright.picture.named import patch_colours
from seamwright.piecing.leftoff import left_off
from seamwright.piecing.model import Plan
from seamwright.piecing.plan import plan
from seamwright.proof.checker import check
from seamwright.proof.claim import Claim, ClaimedSection, ClaimedStep
from seamwright.rehearsal.pictures import draw_rehearsal
from seamwright.rehearsal.plain import PlainHands
from seamwright.rehearsal.rehearse import rehearse as sew
from seamwright.report.checks import check_object
from seamwright.sheet.naming import ruled_words
from seamwright.words.checks import check_words, verdict
from support.exact import exact_block
from support.random_blocks import Line, cut_block, mixed_blocks, mixed_cells

AUTO = PlanOptions(rotary=Rotary.AUTO)
DESIGNS = Path(__file__).parent.parent / "designs"
SETTINGS = settings(derandomize=True, deadline=None, max_examples=15)
HALF = Fraction(3, 2)

# -- small blocks, 6 x 6 in ---------------------------------------------------------------------------------

CROSS: list[Line] = [((3, 0), (3, 6)), ((0, 3), (6, 3))]
NINE: list[Line] = [((0, 2), (6, 2)), ((0, 4), (6, 4)), ((2, 0), (2, 6)), ((4, 0), (4, 6))]
DIAGONALS: list[Line] = [((x, y), (x + 2, y + 2)) for x in (0, 2, 4) for y in (0, 2, 4)]
FRAME: list[Line] = [((0, a), (6, a)) for a in (HALF, 6 - HALF)] + [((a, 0), (a, 6)) for a in (HALF, 6 - HALF)]
"""A middle square of 3 in, corner squares of 1 1/2 in, rectangles between them."""
GEESE: list[Line] = [
    ((HALF, HALF), (3, 0)), ((3, 0), (6 - HALF, HALF)), ((HALF, 6 - HALF), (3, 6)), ((3, 6), (6 - HALF, 6 - HALF)),
    ((HALF, HALF), (0, 3)), ((0, 3), (HALF, 6 - HALF)), ((6 - HALF, HALF), (6, 3)), ((6, 3), (6 - HALF, 6 - HALF)),
]  # fmt: skip
BEAMS: list[Line] = [((HALF, HALF), (6 - HALF, Fraction(5, 2))), ((HALF, HALF), (Fraction(5, 2), 6 - HALF))]
"""Two sharp beams in the middle square: a foundation of three patches."""


def block_of(*lines: list[Line]) -> Block:
    return exact_block([line for some in lines for line in some], name="harbour wall")


def auto(*lines: list[Line], **options: object) -> Plan:
    return plan(block_of(*lines), replace(AUTO, **options))  # type: ignore[arg-type]


def on_paper(made: Plan) -> list[str]:
    return [section.name for section in made.sections if section.method == "paper"]


def kinds(made: Plan) -> list[str]:
    return [unit.made.kind for unit in left_off(made)]


def pieces(made: Plan) -> int:
    """What is joined in the end, each unit as one piece."""
    units = left_off(made)
    return len(made.sections) + sum(1 - len(unit.sections) for unit in units)


def test_a_four_patch_is_two_rows_without_paper() -> None:
    made = auto(CROSS)
    assert kinds(made) == ["grid"] and on_paper(made) == []
    assert [len(section.patches) for section in made.sections] == [2, 2] and len(made.joins) == 1
    assert verdict(made) == "Can be sewn: 1 unit by ruler."


def test_each_half_square_unit_of_nine_is_sewn_before_the_rows() -> None:
    made = auto(NINE, DIAGONALS)
    assert kinds(made) == ["grid"] and on_paper(made) == []
    assert [len(section.patches) for section in made.sections] == [2] * 9 and len(made.joins) == 8
    # On paper three rows would do, for a patch may be laid on anything there.
    assert made.fewest is not None and made.fewest.sections == 3


def test_a_quarter_square_unit_is_two_pairs() -> None:
    made = auto([((0, 0), (6, 6)), ((6, 0), (0, 6))])
    assert kinds(made) == ["quarter-square unit"]
    assert [len(section.patches) for section in made.sections] == [2, 2]
    (unit,) = units_of(made, CutOptions())
    assert (unit.kind, len(unit.sections), unit.on_paper) == ("quarter-square unit", 2, False)


def test_a_print_that_runs_one_way_keeps_its_triangles_on_paper() -> None:
    """Halves of one square point two ways; a rectangle along the print may be cut by ruler."""
    stripes = Fabric("awning", direction_deg=0.0, striped=True)
    for lines, by_ruler in ((DIAGONALS, False), ([], True)):
        block = block_of(NINE, lines)
        worn = tuple(replace(patch, fabric="awning") for patch in block.patches)
        made = plan(replace(block, patches=worn, fabrics=(stripes,)), AUTO)
        assert bool(left_off(made)) == by_ruler
        rehearse(made)


def test_each_unit_of_a_grid_is_whole_before_it_is_joined() -> None:
    """Four quarter-square units: their pairs are never sewn to a neighbour first."""
    halves: list[Line] = [((0, 0), (6, 6)), ((6, 0), (0, 6)), ((0, 3), (3, 0)), ((3, 6), (6, 3))]
    more: list[Line] = [((0, 3), (3, 6)), ((3, 0), (6, 3))]
    made = auto(CROSS, halves, more)
    assert kinds(made) == ["grid"] and len(made.sections) == 8
    pairs = [{join.first, join.second} for join in made.joins if "+" not in join.first + join.second]
    assert len(pairs) == 4 and len(set.union(*pairs)) == 8
    whole = [shapely.union_all([_patches(made, name) for name in pair]).bounds for pair in pairs]
    assert sorted(whole) == [(x, y, x + 3, y + 3) for x in (0, 3) for y in (0, 3)]


def _patches(made: Plan, name: str) -> shapely.Geometry:
    (section,) = (section for section in made.sections if section.name == name)
    return shapely.union_all([shapely.Polygon(made.block.patch_ring(patch)) for patch in section.patches])


def test_the_sawtooth_round_sharp_beams_is_left_off_the_paper() -> None:
    never, made = plan(block_of(FRAME, GEESE, BEAMS)), auto(FRAME, GEESE, BEAMS)
    # Rows of square, geese, square above and below; geese left and right; the beams alone stay on paper.
    assert sorted(kinds(made)) == ["flying geese", "flying geese", "grid", "grid"]
    assert sorted(len(unit.patches) for unit in left_off(made)) == [3, 3, 5, 5]
    assert on_paper(made) == ["A"] and [s.kind for s in made.sections if s.name == "A"] == ["foundation"]
    assert pieces(made) == 5 <= len(never.sections) + 4
    assert {patch for s in made.sections for patch in s.patches} == set(range(len(made.block.patches)))
    sides = [s for s in made.sections if len(s.patches) == 3 and s.method == "ruler"]
    assert len(sides) == 4
    for section in sides:
        # The large triangle first, then the corners.
        areas = [shapely.Polygon(made.block.patch_ring(patch)).area for patch in section.patches]
        assert areas[0] > 1.9 * areas[1] == pytest.approx(1.9 * areas[2])


def test_a_unit_that_no_single_cut_parts_off_stays_where_it_is() -> None:
    """Squares in a ring of four seams that each end on the next: once the block is divided one cut frees them."""
    pinwheel: list[Line] = [
        ((0, 2), (4, 2)), ((4, 0), (4, 4)), ((2, 4), (6, 4)), ((2, 2), (2, 6)),  # a ring about the middle
        ((0, 3), (6, 3)), ((3, 2), (3, 4)),  # and what divides it
        ((0, 0), (1, 2)), ((5, 4), (6, 6)),  # sharp corners
    ]  # fmt: skip
    made = auto(pinwheel)
    check(claim_of(made))
    for unit in left_off(made):
        whole = shapely.union_all([shapely.Polygon(made.block.patch_ring(patch)) for patch in unit.patches])
        # What is left without it is one piece: it was parted off.
        assert isinstance(
            shapely.Polygon(made.block.outline_ring()).difference(whole.buffer(1e-9)), shapely.Polygon
        )


def test_a_square_is_whole_before_its_borders_are_sewn_on() -> None:
    """Beams from corner to corner: their seams are never sewn with a border hanging on them."""
    middle: list[Line] = [((HALF, HALF), (6 - HALF, 6 - HALF)), ((6 - HALF, HALF), (HALF, 6 - HALF))]
    low, high = Fraction(9, 4), Fraction(15, 4)
    sharp: list[Line] = [((HALF, HALF), (low, high)), ((6 - HALF, 6 - HALF), (high, low))]
    made = auto(FRAME, GEESE, middle, sharp)
    paper = set(on_paper(made))
    assert len(paper) > 1
    mixed = [
        not paper.issuperset(join.makes.split("+")) for join in made.joins if paper & set(join.makes.split("+"))
    ]
    assert mixed == sorted(mixed)


def test_one_patch_is_not_worth_a_join() -> None:
    """A strip beside sharp patches of one foundation stays on paper: off it, it would save none."""
    strip_and_beams: list[Line] = [((0, 2), (6, 2)), ((0, 2), (6, 4)), ((0, 2), (4, 6))]
    made = auto(strip_and_beams)
    assert left_off(made) == () and on_paper(made) == ["A"] and len(made.sections) == 1
    assert "nothing is left off the paper" in " ".join(note.text for note in made.notes)


def test_plain_pieces_that_a_ruler_cuts_have_no_template_and_others_do() -> None:
    """Of two plain pieces beside a foundation that must not grow, the square one is cut by ruler."""
    lines: list[Line] = [((0, 3), (6, 3)), ((3, 0), (3, 3)), ((0, 3), (6, 5))]
    made = auto(lines, max_patches=1)
    by_ruler = {len(made.block.patch_ring(s.patches[0])) for s in made.sections if s.method == "ruler"}
    names = {one.section for one in foundations(made)}
    assert by_ruler and names == set(on_paper(made))
    common = common_to(made)
    for section in made.sections:
        assert (cut_by_ruler(common, section) is not None) == (section.method == "ruler")


# -- laws ---------------------------------------------------------------------------------------------------


def mixed_grid(seed: int) -> Block:
    """Two to four cells each way in 6 in."""
    return mixed_cells(seed, random.Random(seed).choice((2, 3, 4)))


def holds_the_laws(block: Block, options: PlanOptions) -> Plan:
    """Plans a block with and without units; every law of their comparison."""
    never, made = plan(block, replace(options, rotary=Rotary.NEVER)), plan(block, options)
    assert made.sewable == never.sewable
    if not made.sections:
        return made
    check(claim_of(made))
    units = left_off(made)
    assert pieces(made) <= len(never.sections) + len(units), "a unit costs one join at most"
    assert sorted(p for s in made.sections for p in s.patches) == sorted(
        p for s in never.sections for p in s.patches
    )
    assert made.fewest is not None and never.fewest is not None
    assert (made.fewest.sections, made.fewest.at_least) == (never.fewest.sections, never.fewest.at_least)
    # Sections that are printed have the first letters, without a gap.
    methods = [section.method for section in made.sections]
    assert methods == sorted(methods)
    assert all(len({section.method for section in places}) == 1 for places in made.prints())
    in_units = {section.name for unit in units for section in unit.sections}
    for section in made.sections:
        assert section.method == "ruler" or section.name not in in_units
        assert section.method == "paper" or section.name in in_units or section.kind == "plain"
    # A unit is whole before it is joined to anything else.
    ready = {section.name for section in made.sections} | {join.makes for join in made.joins}
    assert all(unit.whole in ready for unit in units)
    return made


@given(seed=st.integers(0, 10**6), most=st.sampled_from([None, None, 3]))
@SETTINGS
def test_units_cost_one_join_each_and_the_rest_is_as_ever(seed: int, most: int | None) -> None:
    made = holds_the_laws(mixed_grid(seed), replace(AUTO, max_patches=most))
    assert all(len(section.patches) <= (most or 99) for section in made.sections)
    assert plan(mixed_grid(seed), replace(AUTO, max_patches=most)) == made


@given(seed=st.integers(0, 10**6))
@settings(SETTINGS, max_examples=5)
def test_what_is_sewn_without_paper_shows_as_drawn(seed: int) -> None:
    """With the pieces of the cutting list, and with hands' own."""
    made = plan(mixed_grid(seed), AUTO)
    rehearse(made)
    sew(sewing_of(made))


def test_blocks_of_any_lines_keep_the_laws() -> None:
    """Outlines with notches, stuck ones, T cuts: where a ruler cuts little."""
    for block in mixed_blocks(71, 24):
        holds_the_laws(block, AUTO)
    for seed in range(6):
        holds_the_laws(cut_block(seed, 24), AUTO)


@pytest.mark.long
def test_many_grids_keep_the_laws_and_sew_true() -> None:
    found = 0
    for seed in range(150):
        made = holds_the_laws(mixed_grid(seed), replace(AUTO, fit=Fit.NONE))
        rehearse(made)
        found += bool(left_off(made)) and bool(on_paper(made))
    assert found > 50


def test_copies_that_are_rotated_leave_the_same_units_off_the_paper() -> None:
    def shapes(lines: list[Line]) -> list[tuple[str, int, int]]:
        made = auto(lines)
        return sorted((u.made.kind, len(u.patches), len(u.sections)) for u in left_off(made))

    lines = FRAME + GEESE + BEAMS
    quarter = [tuple((6 - y, x) for x, y in line) for line in lines]
    mirror = [tuple((6 - x, y) for x, y in line) for line in lines]
    assert shapes(lines) == shapes(quarter) == shapes(mirror)  # type: ignore[arg-type]


def test_few_steps_still_give_a_plan_that_stands() -> None:
    made = auto(FRAME, GEESE, BEAMS, steps=1)
    check(claim_of(made))
    assert sorted(p for s in made.sections for p in s.patches) == list(range(len(made.block.patches)))


def test_metric_rulers_have_other_marks() -> None:
    """6 x 6 in is 15.24 cm: a third of it, 5.08 cm, is no whole millimetre; a half of 7.62 is not either."""
    assert left_off(auto(NINE)) != ()
    assert left_off(auto(NINE, units=Units.METRIC)) == ()
    scaled = exact_block(
        [tuple((x * 100 / 254, y * 100 / 254) for x, y in line) for line in _fractions(NINE)], _CM6
    )
    assert kinds(plan(scaled, replace(AUTO, units=Units.METRIC))) == ["grid"]


_CM6 = tuple((Fraction(x * 100, 254), Fraction(y * 100, 254)) for x, y in ((0, 0), (6, 0), (6, 6), (0, 6)))


def _fractions(lines: list[Line]) -> list[Line]:
    return [tuple((Fraction(x), Fraction(y)) for x, y in line) for line in lines]  # type: ignore[misc]


def test_options_go_together() -> None:
    made = auto(FRAME, GEESE, BEAMS, priority=Priority.REPEATS)
    assert sorted(kinds(made)) == ["flying geese", "flying geese", "grid", "grid"]
    assert any("most repeats first holds for what stays on paper" in note.text for note in made.notes)
    started = auto(FRAME, GEESE, BEAMS, start="A3")
    before = auto(FRAME, GEESE, BEAMS)
    assert started.sections[0].patches[0] == before.sections[0].patches[2]
    with pytest.raises(OptionError, match="Z9"):
        auto(FRAME, GEESE, BEAMS, start="Z9")


def test_a_block_that_is_stuck_is_sewn_with_turns_and_units() -> None:
    """A Y in the middle square; round it what a ruler cuts."""
    y_seams: list[Line] = [((3, 3), (HALF, HALF)), ((3, 3), (6 - HALF, HALF)), ((3, 3), (3, 6 - HALF))]
    made = auto(FRAME, y_seams, set_in=True)
    assert made.sewable == "set-in" and left_off(made)
    check(claim_of(made))
    rehearse(made)


def test_a_curve_joins_units_and_sections_on_paper(tmp_path: Path) -> None:
    """With curves a side may need more than the whole, so both are counted before a unit is taken."""
    drawing = tmp_path / "wave.seams"
    drawing.write_text(
        "seamwright block 1\nname wave\nsize 6 in\ngrid 6\ncurve 0, 2 bending at 3, -0.5 to 6, 2\n"
        "seam 0, 1 to 6, 1\nseam 0, 4 to 6, 4\nseam 3, 4 to 3, 6\nseam 0, 5 to 6, 5\n"
    )
    made = seamwright.plan(seamwright.read_block(drawing, rotary="auto"))
    assert made.sewable == "curved" and kinds(made) == ["grid"] and on_paper(made) == ["A", "B"]
    rehearse(made)
    assert ruled_words(made) == "C: by ruler, see the cutting list"


# -- advice -------------------------------------------------------------------------------------------------


def test_without_the_option_one_line_says_what_it_would_save() -> None:
    made = plan(block_of(FRAME, GEESE, BEAMS))
    (advice,) = (note for note in made.notes if note.code == "advice-rotary")
    off = sum(s.kind == "foundation" for s in made.sections) - len(on_paper(auto(FRAME, GEESE, BEAMS)))
    assert f"--rotary auto leaves {off} foundations off the paper" in advice.text
    assert advice.count == 4 and len(advice.places_in) == 4
    assert all(section.method == "paper" for section in made.sections)


def test_where_it_would_save_nothing_nothing_is_said() -> None:
    for lines in ([((0, 2), (6, 2)), ((0, 2), (6, 4))], [((0, 0), (6, 5))]):
        assert not [note for note in plan(block_of(lines)).notes if "rotary" in note.code]


def test_the_plan_says_how_each_kind_of_join_is_sewn() -> None:
    words = check_words("wall.seams", auto(FRAME, GEESE, BEAMS))
    text = "\n".join(words)
    assert "1 foundation and 4 units by ruler" in words[0]
    assert "paper on top, on its printed line" in text and "plain, at a scant 1/4 in" in text
    assert "cut by ruler, sewn without paper" in text and "with all of it on paper" in words[-1]
    for join, line in zip(auto(FRAME, GEESE, BEAMS).joins, [w for w in words if "Join " in w], strict=True):
        assert ("paper on top" in line) == ("A" in (join.first.split("+") + join.second.split("+")))
    methods = {s["name"]: s["method"] for s in check_object("wall.seams", auto(FRAME, GEESE, BEAMS))["sections"]}
    assert methods.pop("A") == "paper" and set(methods.values()) == {"ruler"}


# -- the print -------------------------------------------------------------------------------------------------


def test_sheets_hold_what_is_on_paper_and_name_the_rest(tmp_path: Path) -> None:
    made = seamwright.plan(seamwright.read_block(DESIGNS / "harbour-lights.seams", rotary="auto"))
    sheets = seamwright.lay_out(made)
    assert {placed.foundation.print for sheet in sheets for placed in sheet.placed} == {"A"}
    words = " ".join(getattr(mark, "text", "") for sheet in sheets for mark in sheet.ink)
    assert "B and C: by ruler, see" in words and "Options: rotary auto" in words


def test_a_block_without_paper_prints_nothing_and_says_why(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    drawing, out = tmp_path / "four.seams", tmp_path / "four.pdf"
    drawing.write_text(
        "seamwright block 1\nname four patch\nsize 6 in\ngrid 2\nseam 1, 0 to 1, 2\nseam 0, 1 to 2, 1\n"
    )
    assert main(["foundations", str(drawing), "--rotary", "auto", "-o", str(out)]) == 1
    said = capsys.readouterr().err
    assert "nothing to print" in said and "--rotary never" in said and not out.exists()
    with pytest.raises(StuckError, match="nothing to print"):
        seamwright.lay_out(seamwright.plan(seamwright.read_block(drawing, rotary="auto")))
    assert main(["foundations", str(drawing), "-o", str(out)]) == 0


def test_data_of_a_print_names_the_sections_without_one(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    drawing, out = str(DESIGNS / "harbour-lights.seams"), str(tmp_path / "lights.pdf")
    assert main(["foundations", drawing, "--rotary", "auto", "-o", out, "--json"]) == 0
    (one,) = json.loads(capsys.readouterr().out)["plans"]
    assert one["by_ruler"] == [f"{letter}{place}" for letter in "BC" for place in ("", ".2", ".3", ".4")]


def test_the_cutting_list_cuts_every_ruler_section_by_ruler() -> None:
    made = auto(FRAME, GEESE, BEAMS)
    plain = {p for s in made.sections if s.method == "ruler" for p in s.patches}
    assert {piece.patch for piece in pieces_of(made) if piece.lay.value == "plain"} == plain
    assert not [piece for piece in pieces_of(made) if piece.patch in plain and "template" in piece.shape.value]


def test_pictures_of_steps_without_paper_speak_of_edges_and_not_of_paper() -> None:
    made = auto(FRAME, GEESE, BEAMS)
    sewing = sewing_of(made)
    pictures = draw_rehearsal(made.block.name, sewing, sew(sewing), patch_colours(made))
    by_ruler = {names for s in made.sections if s.method == "ruler" for names in (s.name,)}
    told = [one for one in pictures if any(f"section {name}:" in one.title for name in by_ruler)]
    assert len(told) == sum(len(s.patches) for s in made.sections if s.method == "ruler" and s.kind != "plain")
    for one in told:
        assert "by ruler" in one.caption and "foundation" not in one.caption and "trimmed edge" not in one.caption
        assert ("raw edges even, sewn at a scant 1/4 in" in one.caption) == ("step 1 of" not in one.title)
    plain = [one for one in pictures if "a plain piece" in one.title]
    assert len(plain) == 4 and all("cut 2 x 2 in by ruler" in one.caption for one in plain)


# -- the checker, and hands that are clumsy -----------------------------------------------------------------------

RECTANGLE = ((0.0, 0.0), (3.0, 0.0), (3.0, 2.125), (0.0, 2.125))
HALF_SQUARE = ((0.0, 0.0), (3.0, 0.0), (0.0, 3.0))
QUARTER = ((0.0, 0.0), (3.0, 0.0), (1.5, 1.5))
LEANING = ((0.0, 0.0), (3.0, 0.0), (3.5, 2.0), (0.5, 2.0))


def lone(ring: tuple[tuple[float, float], ...], *, metric: bool = False) -> Claim:
    return Claim((), ring, (ClaimedSection("A", (ClaimedStep(ring),), ring, by_ruler=True),), (), metric)


@pytest.mark.parametrize("ring", [RECTANGLE, HALF_SQUARE, QUARTER])
def test_the_checker_lets_pass_what_a_ruler_cuts(ring: tuple[tuple[float, float], ...]) -> None:
    check(lone(ring))
    turned = rotate(shapely.Polygon(ring), 27, origin=(0, 0)).exterior.coords[:-1]
    check(lone(tuple((float(x), float(y)) for x, y in turned)))


@pytest.mark.parametrize(
    ("ring", "metric"),
    [
        (LEANING, False),
        (((0.0, 0.0), (3.0, 0.0), (3.0, 2.06), (0.0, 2.06)), False),
        (((0.0, 0.0), (3.0, 0.0), (0.0, 2.5)), False),
        (((0.0, 0.0), (3.05, 0.0), (0.0, 3.05)), False),
        (((0.0, 0.0), (3.0, 0.0), (3.0, 2.0), (1.5, 2.5), (0.0, 2.0)), False),
        (RECTANGLE, True),  # 7.62 x 5.3975 cm
    ],
)
def test_the_checker_refuses_what_no_ruler_cuts(ring: tuple[tuple[float, float], ...], metric: bool) -> None:
    with pytest.raises(ProofError) as refused:
        check(lone(ring, metric=metric))
    assert refused.value.faults[0].code == "not cut by ruler"
    check(replace(lone(ring, metric=metric), sections=(replace(lone(ring).sections[0], by_ruler=False),)))


def test_a_sharp_section_said_to_be_cut_by_ruler_is_refused() -> None:
    made = claim_of(plan(block_of(FRAME, BEAMS)))
    lied = tuple(replace(section, by_ruler=True) for section in made.sections)
    with pytest.raises(ProofError) as refused:
        check(replace(made, sections=lied))
    assert refused.value.faults[0].code == "not cut by ruler"


def off_by(dx: float, dy: float) -> PlainHands:
    return PlainHands(lay_even=lambda piece, line: translate(line.mirrored(piece), dx, dy))


def cut_with(more: float) -> PlainHands:
    return PlainHands(cut_true=lambda patch, allowance: patch.buffer(allowance + more, join_style="mitre"))


@pytest.mark.parametrize(
    ("hands", "names"),
    [
        (cut_with(-0.03), {"too little in the seam", "gap in the allowance"}),
        (cut_with(0.05), {"edges not even"}),
        (off_by(0.06, 0.02), {"edges not even", "too little in the seam"}),
        (PlainHands(press_open=lambda laid, line, far: laid), {"does not cover"}),
        (
            PlainHands(snip=lambda layer, keep: layer.buffer(-0.3)),
            {"gap in the allowance", "too little in the seam"},
        ),
    ],
    ids=["cut too small", "cut too large", "laid askew", "not opened", "cut into the allowance"],
)
def test_clumsy_hands_without_paper_are_found_out(hands: PlainHands, names: set[str]) -> None:
    """The corners of flying geese, sewn by one who does one thing wrong."""
    with pytest.raises(ProofError) as refused:
        sew(sewing_of(auto(FRAME, GEESE, BEAMS)), plain=hands)
    assert refused.value.faults[0].code in names
