"""Patches sewn together beforehand and laid on as one: the block, the plan, what is cut and printed, the proof."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import replace
from pathlib import Path

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st
from shapely import Point, Polygon, union_all

from seamwright import api
from seamwright.block.model import Block
from seamwright.block.prepieced import fabric_of, limits_of, pieced
from seamwright.claims.sewing import sewing_of
from seamwright.cutting.make import cutting
from seamwright.cutting.pieces import pieces_of
from seamwright.errors import OptionError, ProofError
from seamwright.geometry import moved
from seamwright.ink.model import Area, Pen, Stroke, Words
from seamwright.mend.same import same_map
from seamwright.options import CutOptions, PlanOptions
from seamwright.picture.cloth import Finish, block_picture
from seamwright.piecing.alike import Alike
from seamwright.piecing.model import Plan
from seamwright.piecing.plan import plan as make_plan
from seamwright.rehearsal.rehearse import rehearse
from seamwright.report.checks import check_object
from support.exact import SQUARE6, exact_block
from support.random_blocks import random_lines

KITE = Path(__file__).parents[1] / "designs" / "kite.svg"
HARBOUR = Path(__file__).parents[1] / "designs" / "harbour-lights.seams"

RAILS = """seamwright block 1
name rails
size 6 in
grid 6
seam 0, 1 to 6, 1
seam 0, 2.5 to 6, 2.5
seam 0, 4 to 6, 4
seam 0, 4 to 6, 6
fabric sky colour #dbe7ee
fabric sea colour #24506b
fabric sand colour #d8b27a
lay sky at 3, 0.5 and 5, 4.5
lay sea at 3, 2
lay sand at 3, 3 and 1, 5.5
"""


def rails(folder: Path) -> Block:
    (folder / "rails.seams").write_text(RAILS)
    return api.read_block(folder / "rails.seams")


def names_at(plan: Plan, *places: tuple[float, float]) -> str:
    """Names of the patches at some places, tied by +."""
    names = plan.patch_names()
    return "+".join(names[patch_at(plan.block, place)] for place in places)


# -- the block ----------------------------------------------------------------------------------------------


@pytest.fixture(scope="module")
def kite() -> Block:
    return api.read_block(KITE)


def test_a_group_is_one_patch_and_its_parts_are_kept(kite: Block) -> None:
    before = api.plan(kite)
    plan = api.plan(kite, pre_pieced="A1+A2")
    assert len(plan.block.patches) == len(kite.patches) - 1
    (made,) = plan.block.pre_pieced
    old = dict(zip(before.patch_names(), range(len(kite.patches)), strict=True))
    assert [part.name for part in made.parts] == ["A1", "A2"]
    assert [part.fabric for part in made.parts] == [kite.patches[old[n]].fabric for n in ("A1", "A2")]
    assert plan.block.patches[made.patch].fabric == " + ".join(str(part.fabric) for part in made.parts)
    # GEOS: parts together are the patch, the seam is all of their common border.
    one, two = (Polygon(part.ring) for part in made.parts)
    whole = Polygon(plan.block.patch_ring(made.patch))
    assert whole.symmetric_difference(union_all([one, two])).area < 1e-9
    assert one.intersection(two).length == pytest.approx(math.dist(*made.seams[0]))
    assert {f.name for f in plan.block.fabrics} == {f.name for f in kite.fabrics}
    assert plan.block.as_drawn() == kite


@given(seed=st.integers(0, 10_000))
@settings(max_examples=40, deadline=None)
def test_the_rest_of_a_block_stays_as_it_is(seed: int) -> None:
    block = random_lines(seed, 6)
    pairs = [(e.left, e.right) for e in block.edges if e.left >= 0 and e.right >= 0]
    assume(pairs and len(block.patches) > 2)
    names = [f"?{n}" for n in range(len(block.patches))]
    for pair in dict.fromkeys(pairs):
        try:
            made = pieced(block, [pair], names)
        except OptionError:
            continue
        assert made.width_in == block.width_in and len(made.patches) == len(block.patches) - 1
        areas = sorted(round(Polygon(made.patch_ring(n)).area, 6) for n in range(len(made.patches)))
        old = [round(Polygon(block.patch_ring(n)).area, 6) for n in range(len(block.patches)) if n not in pair]
        assert areas == pytest.approx(
            sorted([*old, sum(Polygon(block.patch_ring(n)).area for n in pair)]), abs=1e-6
        )
        # What is left is the map of a drawing without that seam.
        assert all(e.left != e.right for e in made.edges)
        again = pieced(block, [pair[::-1]], names)
        assert not same_map(again, made, 1e-9)
        return


@pytest.mark.parametrize(
    ("asked", "what", "mend"),
    [
        pytest.param("A9+A2", "there is no patch A9", "perhaps A", id="unknown"),
        pytest.param("A1", "A1 names one patch", "Tie their names with +", id="one alone"),
        pytest.param("A1+A1", "A1+A1 names one patch", "Tie their names with +", id="the same twice"),
        pytest.param("A4+B3", "have no seam between them", "side by side", id="no neighbours"),
        pytest.param("A1+A2,A2+A3", "A2 is in two groups", "A2+A3+A4", id="in two groups"),
        pytest.param("A1+B9, A7+A1", "there is no patch B9", "A7", id="all faults at once"),
    ],
)
def test_what_cannot_be_pieced_beforehand_is_said_with_the_mend(
    kite: Block, asked: str, what: str, mend: str
) -> None:
    with pytest.raises(OptionError) as caught:
        api.plan(kite, pre_pieced=asked)
    assert what in str(caught.value) and mend in str(caught.value) and "pre-pieced" in str(caught.value)


def test_inside_corners_bends_and_rings_are_refused() -> None:
    names = [f"?{n}" for n in range(20)]
    # A T: its stem and half of its bar make an inside corner.
    t = exact_block([((0, 3), (6, 3)), ((3, 3), (3, 6))], SQUARE6)
    with pytest.raises(OptionError, match="inside corner"):
        pieced(t, [(0, 1)], names)
    # A border that turns: the square in the corner and what goes round it.
    corner = exact_block([((0, 3), (3, 3)), ((3, 3), (3, 0)), ((3, 3), (6, 6))], SQUARE6)
    for pair in ((0, 1), (1, 2), (0, 2)):
        try:
            made = pieced(corner, [pair], names)
        except OptionError as error:
            assert "Name patches" in str(error)
        else:
            assert all(_is_convex(made, n) for n in {p.patch for p in made.pre_pieced})
    with pytest.raises(OptionError, match="nothing would be left"):
        api.plan(exact_block([((0, 3), (6, 3))], SQUARE6), pre_pieced="A1+A2")


def test_a_part_that_goes_round_the_end_of_the_seam_is_refused() -> None:
    """The line of the seam would run on through its other arm; the rehearsal refused what was planned from it."""
    u = ((0, 0), (2, 0), (2, 4), (4, 4), (4, 0), (6, 0), (6, 6), (0, 6))
    block = exact_block([((4, 3), (6, 3)), ((0, 5), (6, 5))], u)
    pair = [patch_at(block, place) for place in ((5, 1), (1, 1))]
    with pytest.raises(OptionError, match="goes round an end"):
        pieced(block, [tuple(pair)], ["?1", "?2", "?3"])


def _is_convex(block: Block, patch: int) -> bool:
    ring = Polygon(block.patch_ring(patch))
    return bool(ring.convex_hull.area - ring.area < 1e-9)


def test_fabrics_are_named_after_all_parts() -> None:
    assert fabric_of(["sky", "sea", "sky"]) == "sky + sea"
    assert fabric_of([None]) is None


# -- the plan -----------------------------------------------------------------------------------------------


def test_what_is_said_of_one_place_holds_for_all_places_of_a_print() -> None:
    plan = api.plan(api.read_block(HARBOUR), pre_pieced="A1+A2")
    assert len(plan.block.pre_pieced) == 4
    prints = [(section.print, len(section.steps)) for section in plan.sections]
    assert prints.count(("A", 5)) == 4, "all four are printed alike, the seams inside included"
    (note,) = (note for note in plan.notes if note.code == "pre-pieced")
    assert "A1+A2 is A4 now" in note.text and note.count == 4
    one_place = api.plan(api.read_block(HARBOUR), pre_pieced="A.3-2 + a.3-1")
    assert [p.parts[0].name for p in one_place.block.pre_pieced if p.parts[0].name[0] == "A"] == [
        made.parts[1].name for made in plan.block.pre_pieced
    ]


def test_equal_outlines_with_other_seams_inside_are_no_copies() -> None:
    # Two rows, each of a narrow patch a and a wide one b; in the second the seam may lie elsewhere.
    def rows(x: int) -> Plan:
        drawn = exact_block([((0, 3), (6, 3)), ((2, 0), (2, 3)), ((x, 3), (x, 6))], SQUARE6)
        at = [patch_at(drawn, place) for place in ((1, 1), (5, 1), (1, 5), (5, 5))]
        fabrics = {at[0]: "a", at[1]: "b", at[2]: "a", at[3]: "b"}
        worn = tuple(replace(patch, fabric=fabrics[n]) for n, patch in enumerate(drawn.patches))
        groups = [tuple(at[:2]), tuple(at[2:])]
        return make_plan(pieced(replace(drawn, patches=worn), groups, ["?1", "?2", "?3", "?4"]), PlanOptions())

    assert [_kinds(rows(x)) for x in (2, 3, 4)] == [1, 2, 2]


def patch_at(block: Block, place: tuple[float, float]) -> int:
    rings = [Polygon(block.patch_ring(n)) for n in range(len(block.patches))]
    return next(n for n, ring in enumerate(rings) if ring.contains(Point(place)))


def _kinds(plan: Plan) -> int:
    alike = Alike(plan.block)
    return len({alike.kind((n,))[0] for n in range(len(plan.block.patches))})


def test_plans_are_told_apart_by_the_parts(kite: Block) -> None:
    ids = {api.plan(kite, pre_pieced=asked).id for asked in ("", "A1+A2", "A2+A1", "A1+B1")}
    assert len(ids) == 4
    assert api.plan(kite, pre_pieced="A1+A2").id == api.plan(kite, pre_pieced="A1+A2").id


def test_a_stuck_block_may_be_freed_by_a_pieced_patch() -> None:
    # A ring of four strips round a square: pieced with the square, one of them frees the others.
    ring = [((0, 2), (4, 2)), ((4, 0), (4, 4)), ((2, 4), (6, 4)), ((2, 2), (2, 6))]
    block = exact_block(ring, SQUARE6)
    stuck = api.plan(block)
    assert stuck.sewable == "no"
    inner = names_at(stuck, (3, 3), (1, 4))
    assert inner.count("?") == 2
    with pytest.raises(OptionError, match="inside corner"):
        api.plan(block, pre_pieced=inner)


def test_the_report_tells_of_parts(kite: Block) -> None:
    plan = api.plan(kite, pre_pieced="A1+A2")
    told = check_object(str(KITE), plan)["patches"]
    parts = [patch["pre_pieced"] for patch in told if patch["pre_pieced"]]
    assert [[part["name"] for part in one] for one in parts] == [["A1", "A2"]]
    assert all(part["outline_in"] and part["fabric"] for part in parts[0])


# -- what is cut ----------------------------------------------------------------------------------------------


@pytest.mark.parametrize("asked", ["A1+A2", "A2+A3", "A1+B1", "B1+B2"])
@pytest.mark.parametrize("units", ["inch", "metric"])
def test_parts_are_cut_so_that_their_seam_lies_on_its_line(kite: Block, asked: str, units: str) -> None:
    plan = api.plan(kite, pre_pieced=asked, units=units)
    allowance = plan.options.seam_allowance_in
    (whole,) = (piece for piece in pieces_of(plan) if piece.parts)
    (made,) = plan.block.pre_pieced
    one, two = (Polygon(part.outline) for part in whole.parts)
    assert Polygon(whole.outline).symmetric_difference(union_all([one, two])).area < 1e-6
    # Sewn one allowance from the edge, both lie on each other for two allowances.
    over = one.intersection(two)
    assert over.area == pytest.approx(2 * allowance * whole.width_in, rel=1e-6)
    seam = made.seams[0]
    assert over.centroid.distance(Polygon([*seam, seam[0]]).exterior) < over.length
    for piece, part in zip(whole.parts, made.parts, strict=True):
        assert Polygon(piece.outline).buffer(1e-6).covers(Polygon(part.ring).buffer(allowance))
        assert piece.fabric == part.fabric
        step = 1 / 4 if units == "inch" else 0.5 / 2.54
        for side in (piece.width_in, piece.height_in):
            assert side / step == pytest.approx(round(side / step), abs=1e-6)
    assert whole.height_in == pytest.approx(sum(p.height_in for p in whole.parts) - 2 * allowance)
    assert [p.width_in for p in whole.parts] == pytest.approx([whole.width_in] * 2)


def test_a_cutting_list_counts_the_parts_of_every_block(kite: Block) -> None:
    plan = api.plan(kite, pre_pieced="A1+A2")
    made = cutting(plan, CutOptions(blocks=5))
    rows = {name: row for cut in made.fabrics for row in cut.rows for name in row.patches}
    assert rows["A3a"].count == rows["A3b"].count == 5 and "A3" not in rows
    assert {cut.fabric.name for cut in made.fabrics if cut.fabric} == {f.name for f in kite.fabrics}
    assert any(note.code == "pre-pieced" and "A3a" in note.text and "press" in note.text for note in made.notes)


def test_the_seam_is_pressed_to_the_darker_fabric_where_that_is_known(kite: Block) -> None:
    plan = api.plan(api.read_block(HARBOUR), pre_pieced="A1+A2")
    (note,) = (note for note in cutting(plan, CutOptions()).notes if note.code == "pre-pieced")
    assert "press towards night, the darker one" in note.text and "likewise for A.2-4, A.3-4 and A.4-4" in note.text
    unknown = cutting(api.plan(kite, pre_pieced="A1+A2"), CutOptions())
    assert any("and press; it measures 2 1/2 x 9 3/4 in" in note.text for note in unknown.notes)


def test_three_strips_are_sewn_side_by_side_and_the_middle_one_is_cut_exactly(tmp_path: Path) -> None:
    block = rails(tmp_path)
    drawn = api.plan(block)
    asked = names_at(drawn, (3, 0.5), (3, 2), (3, 3))
    plan = api.plan(block, pre_pieced=asked)
    (made,) = plan.block.pre_pieced
    assert len(made.parts) == 3 and len(made.seams) == 2
    between = limits_of(made)[1]
    assert abs(between[3] - between[1]) == pytest.approx(1.5)  # type: ignore[operator]
    (whole,) = (piece for piece in pieces_of(plan) if piece.parts)
    assert whole.parts[1].height_in == pytest.approx(2.0)  # 1 1/2 in and two allowances
    assert plan.block.patches[made.patch].fabric == "sky + sea + sand"
    api.rehearse(plan)


def test_a_middle_strip_off_the_marks_of_a_ruler_is_refused(tmp_path: Path) -> None:
    (tmp_path / "rails.seams").write_text(RAILS.replace("2.5 to 6, 2.5", "2.53 to 6, 2.53"))
    block = api.read_block(tmp_path / "rails.seams")
    asked = names_at(api.plan(block), (3, 0.5), (3, 2), (3, 3))
    with pytest.raises(OptionError, match=r"1.53 in apart, and no ruler shows.*draw the seams 1 1/2 in apart"):
        api.plan(block, pre_pieced=asked)


# -- the proof ------------------------------------------------------------------------------------------------


@pytest.mark.parametrize("asked", ["A1+A2", "A2+A3", "A1+B1", "B2+B1"])
def test_the_rehearsal_finds_the_sewn_seam_at_its_place(kite: Block, asked: str) -> None:
    rehearsed = api.rehearse(api.plan(kite, pre_pieced=asked))
    assert rehearsed.largest_share < 1e-6


@pytest.mark.parametrize(
    ("change", "code"),
    [
        pytest.param(lambda p: replace(p, height=p.height - 1 / 8), "does not cover", id="cut too narrow"),
        pytest.param(lambda p: replace(p, width=p.width - 1 / 8), "does not cover", id="cut too short"),
        pytest.param(lambda p: replace(p, ring=_shifted(p.ring)), "does not show as drawn", id="drawn elsewhere"),
    ],
)
def test_the_rehearsal_refuses_parts_that_are_wrong(kite: Block, change: object, code: str) -> None:
    plan = api.plan(kite, pre_pieced="A1+A2")
    sewing = sewing_of(plan, pieces_of(plan))
    sections = tuple(
        replace(
            section,
            patches=tuple(
                replace(patch, parts=(change(patch.parts[0]), *patch.parts[1:])) if patch.parts else patch  # type: ignore[operator]
                for patch in section.patches
            ),
        )
        for section in sewing.sections
    )
    with pytest.raises(ProofError) as caught:
        rehearse(replace(sewing, sections=sections))
    assert caught.value.faults[0].code == code


def _shifted(ring: Sequence[tuple[float, float]]) -> tuple[tuple[float, float], ...]:
    return tuple((x + 1 / 16, y) for x, y in ring)


def test_a_foundation_shows_where_the_seam_lies_before_the_flip_and_after(kite: Block) -> None:
    plan = api.plan(kite, pre_pieced="A1+A2")
    (made,) = plan.block.pre_pieced
    (foundation,) = api.foundations(plan)
    helpers = [ink.points for ink in foundation.ink if isinstance(ink, Stroke) and ink.pen is Pen.HELPER]
    wanted = [moved(foundation.front, p) for p in made.seams[0]]
    assert any(max(min(math.dist(p, q) for q in line) for p in wanted) < 1e-6 for line in helpers if len(line) == 2)
    assert any(isinstance(ink, Words) and ink.text == "pre-pieced" for ink in foundation.ink)
    assert any("together beforehand" in line and "broken line" in line for line in foundation.legend)


def test_pictures_show_both_fabrics() -> None:
    plan = api.plan(api.read_block(HARBOUR), pre_pieced="A1+A2")
    areas = [ink for ink in block_picture(plan.block, 4, Finish.COLOUR).inks if isinstance(ink, Area)]
    worn = {fabric.name: fabric.colour for fabric in plan.block.fabrics}
    for made in plan.block.pre_pieced:
        for part in made.parts:
            middle = Polygon(part.ring).representative_point()
            at = Point(middle.x / 3, middle.y / 3)  # a block of 12 in, 4 in wide
            top = [area for area in areas if Polygon(area.rings[0], area.rings[1:]).contains(at)][-1]
            assert top.colour == worn[part.fabric or ""]


@pytest.mark.long
@pytest.mark.parametrize("units", ["inch", "metric"])
@pytest.mark.parametrize("drawing", sorted(KITE.parent.glob("*.s[ve]*")), ids=lambda path: path.stem)
def test_whatever_may_be_pieced_is_printed_cut_and_sewn(drawing: Path, units: str) -> None:
    block = api.read_block(drawing)
    drawn = api.plan(block, units=units, steps=20_000)
    names, pairs = drawn.patch_names(), {(e.left, e.right) for e in block.edges if min(e.left, e.right) >= 0}
    for one, two in sorted(pairs)[:8]:
        try:
            plan = api.plan(block, units=units, steps=20_000, pre_pieced=f"{names[one]}+{names[two]}")
        except OptionError:
            continue
        if plan.sections:
            assert api.foundations(plan)
            assert cutting(plan, CutOptions()).fabrics
