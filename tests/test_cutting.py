"""Cutting lists: what is needed is cut and bought, each list is proven, people and programs read the same."""

from __future__ import annotations

import csv
import io
import json
import re
from collections import Counter
from dataclasses import replace
from itertools import pairwise
from pathlib import Path

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from pypdf import PdfReader

import seamwright
from seamwright.booklet.labels import labels_story
from seamwright.booklet.model import Points, Table
from seamwright.booklet.pages import full_room, lay_out
from seamwright.booklet.tables import cutting_story
from seamwright.claims.cuts import cut_claims
from seamwright.cli import main
from seamwright.cutting.make import cutting as make
from seamwright.cutting.model import Cutting
from seamwright.cutting.rows import parts_of
from seamwright.cutting.shopping import shopping
from seamwright.cutting.stacks import stacks
from seamwright.errors import ProofError, SeamwrightError
from seamwright.fabric.model import Fabric
from seamwright.fabric.pieces import Lay, Piece, Shape
from seamwright.ink.model import Words
from seamwright.options import Cloth, CutOptions, PlanOptions, Units
from seamwright.output import made_from
from seamwright.paper import paper
from seamwright.piecing.model import Plan
from seamwright.proof.cut import CutClaim, CutPieces, CutStrip, NeededPiece, check_cut
from seamwright.report.cuts import cutting_object, cuttings_object
from seamwright.report.table import HEAD, section_of
from seamwright.units import say_size
from seamwright.words.cuts import cutting_words
from support.inked import faults

ROOT = Path(__file__).parent.parent
DESIGNS = ROOT / "designs"

QUAY = """seamwright block 1
name quay
size 6 in
grid 6
seam 3, 0 to 3, 6
seam 0, 3 to 6, 3
fabric night colour #14213d
fabric foam value light
lay night at 1, 1 and 5, 5
lay foam at 5, 1 and 1, 5
"""
"""A four-patch: squares of 3 in finished, so of 3 1/2 in cut."""
STUCK = """seamwright block 1
size 6 in
seam 2, 0 to 2, 4
seam 0, 4 to 4, 4
seam 4, 6 to 4, 2
seam 6, 2 to 2, 2
"""


@pytest.fixture(autouse=True)
def _in_a_folder_of_its_own(tmp_path: Path, monkeypatch: pytest.MonkeyPatch):
    monkeypatch.chdir(tmp_path)
    Path("quay.seams").write_text(QUAY)
    Path("reef.seams").write_text(STUCK)
    # Lists are true at every effort.
    monkeypatch.setattr("seamwright.cutting.search.EFFORT", 3_000)


def planned(name: str, **options: str) -> Plan:
    return seamwright.plan(seamwright.read_block(DESIGNS / name, **options))


def plain(name: str, width_in: float, height_in: float, fabric: str | None = "night", **more: object) -> Piece:
    """A plain rectangle, as it lies in the block."""
    ring = ((0.0, 0.0), (width_in, 0.0), (width_in, height_in), (0.0, height_in))
    return Piece(0, name, fabric, Shape.RECTANGLE, width_in, height_in, 1, ring, lay=Lay.PLAIN, **more)  # type: ignore[arg-type]


def cut_for(plan: Plan, pieces: list[Piece], **options: object) -> Cutting:
    return make(plan, CutOptions(**options), pieces, ())  # type: ignore[arg-type]


@pytest.fixture(scope="module")
def quay(tmp_path_factory: pytest.TempPathFactory) -> Plan:
    path = tmp_path_factory.mktemp("quay") / "quay.seams"
    path.write_text(QUAY)
    return seamwright.plan(seamwright.read_block(path, max_patches="1"))


# -- by hand -------------------------------------------------------------------------------------------------------


def test_a_handbook_example_comes_out_as_by_hand(quay: Plan):
    """Common practice, worked by hand. 30 four-patch blocks of 6 in need 60 squares of 3 1/2 in of each fabric.

    40 in hold 11 of them (38 1/2 in), so 6 strips, 21 in; with 1 in to straighten 22 in, with 10 % spare 24.2 in,
    which is more than 5/8 yd (22 1/2 in): 3/4 yd. A fat quarter, 20 x 17 1/2 in counted, holds 5 strips of 5: 25 of
    them; so 3.
    """
    night, foam = seamwright.cutting(quay, blocks=30).fabrics
    for cut in (night, foam):
        (strip,) = cut.strips
        assert (strip.width_in, strip.count, strip.left_in) == (3.5, 6, 22.5)
        assert [(sub.length_in, sub.height_in, sub.count) for sub in strip.subcuts] == [(3.5, 3.5, 60)]
        assert (cut.length_in, cut.bought_in, cut.fat_quarters) == (22.0, 27.0, 3)
    assert night.left_over == ((40.0, 5.0), (22.5, 3.5))


def test_a_metric_example_comes_out_as_by_hand(quay: Plan):
    """Common practice, worked by hand: squares of 9 cm; 105 cm hold 11, so 60 take 6 strips, 54 cm.

    With a straight edge 56.5 cm, with the spare 62.15: 70 cm. A fat quarter, 52.5 x 49 cm counted, holds 5 strips
    of 5: 3 of them.
    """
    metric = replace(quay, options=replace(quay.options, units=Units.METRIC))
    pieces = [plain(f"A{n}", 9 / 2.54, 9 / 2.54) for n in (1, 2)]
    (night,) = cut_for(metric, pieces, blocks=30).fabrics
    (strip,) = night.strips
    assert strip.count == 6
    assert strip.width_in * 2.54 == pytest.approx(9)
    assert night.bought_in * 2.54 == pytest.approx(70)
    assert night.fat_quarters == 3


def test_halves_and_quarters_of_squares_are_counted_by_their_squares(quay: Plan):
    half = replace(plain("A1", 3.875, 3.875), shape=Shape.HALF_SQUARE, share=2)
    quarter = replace(plain("A2", 7.25, 7.25), shape=Shape.QUARTER_SQUARE, share=4)
    (night,) = cut_for(quay, [half, replace(half, name="A3"), quarter], blocks=7).fabrics
    assert [(row.shape, row.count, row.cuts) for row in night.rows] == [
        (Shape.QUARTER_SQUARE, 7, 2),
        (Shape.HALF_SQUARE, 14, 7),
    ]


def test_half_rectangles_of_either_hand_are_cut_apart(quay: Plan):
    left = replace(plain("A1", 4, 2), shape=Shape.HALF_RECTANGLE, share=2, hand="left")
    right = replace(left, name="A2", hand="right")
    (night,) = cut_for(quay, [left, right], blocks=1).fabrics
    assert [(row.hand, row.cuts) for row in night.rows] == [("left", 1), ("right", 1)]


@pytest.mark.parametrize(("runs", "width", "height"), [("height", 5.0, 3.0), ("width", 3.0, 5.0)])
def test_a_print_that_runs_one_way_keeps_along_the_selvedge(quay: Plan, runs: str, width: float, height: float):
    """The print lies along the side that `runs` names: that side goes across the strip."""
    piece = plain("A1", 5, 3, one_way=True, runs=runs, grain_deg=90.0 if runs == "height" else 0.0)
    made = cut_for(quay, [piece], blocks=8)
    (night,) = made.fabrics
    assert {(sub.length_in, sub.height_in) for strip in night.strips for sub in strip.subcuts} == {(width, height)}
    assert [note.code for note in made.notes] == ["one-way"]
    for one in cut_claims(made):
        check_cut(one)


def test_stripes_off_the_marks_by_a_hair_are_cut_as_a_ruler_shows_them():
    """A square of 3.003 in is cut as one of 3 in: its list was refused for being too small by that."""
    text = QUAY.replace("3, 0 to 3, 6", "3.003, 0 to 3.003, 6").replace("#14213d", "#14213d stripes 90")
    Path("hair.seams").write_text(text)
    made = seamwright.cutting(seamwright.plan(seamwright.read_block("hair.seams", max_patches="1")))
    (row,) = made.fabrics[0].rows
    assert (row.one_way, row.width_in, row.height_in, row.count) == (True, 3.5, 3.5, 2)


def test_a_piece_too_large_for_its_fabric_is_told_with_the_mend(quay: Plan):
    made = cut_for(quay, [plain("A1", 45, 44), plain("A2", 3, 3)])
    (night,) = made.fabrics
    assert [row.patches for row in night.too_large] == [("A1",)]
    words = cutting_words([made])
    assert words[1] == "  Not all is counted: night is too narrow for some pieces, see the notes below."
    assert "but those told of as too large" in words[-2]
    assert "A1" not in {name for strip in night.strips for sub in strip.subcuts for name in sub.patches}
    (note,) = made.notes
    assert "width 108 in" in note.text
    for one in cut_claims(made):
        check_cut(one)
    block = replace(quay.block, fabrics=(Fabric("night", width_in=108.0),))
    wide = cut_for(replace(quay, block=block), [plain("A1", 45, 44), plain("A2", 3, 3)])
    assert not wide.notes
    assert wide.fabrics[0].width_in == 108


def test_a_fabric_with_a_piece_too_large_for_a_fat_quarter_comes_from_the_bolt(quay: Plan):
    made = cut_for(quay, [plain("A1", 25, 3), plain("A2", 3, 3, "foam")], cloth=Cloth.FAT_QUARTERS)
    assert [cut.cloth for cut in made.fabrics] == [Cloth.BOLT, Cloth.FAT_QUARTERS]
    assert [note.code for note in made.notes] == ["fat-quarters"]


def test_a_narrow_fabric_has_no_fat_quarters(quay: Plan):
    """What is too wide for it was counted in fat quarters wider than itself, and the list refused."""
    narrow = replace(quay, block=replace(quay.block, fabrics=(Fabric("night", width_in=12.5),)))
    made = cut_for(narrow, [plain("A1", 7.5, 16.5, one_way=True, runs="width", grain_deg=0.0), plain("A2", 3, 3)])
    (night,) = made.fabrics
    assert (night.fat_quarters, night.instead) == (None, None)
    assert [row.patches for row in night.too_large] == [("A1",)]
    for claim in cut_claims(made):
        check_cut(claim)
    made = cut_for(narrow, [plain("A2", 3, 3)], cloth=Cloth.FAT_QUARTERS)
    assert "only 12 1/2 in wide" in made.notes[0].text


def test_patches_without_a_fabric_are_cut_too(quay: Plan):
    made = cut_for(quay, [plain("A1", 3, 3, None)])
    assert made.fabrics[0].fabric is None
    assert "fabric of your choice" in cutting_words([made])[0]


# -- every design --------------------------------------------------------------------------------------------------


@pytest.mark.parametrize("cloth", ["bolt", "fat-quarters"])
@pytest.mark.parametrize("name", ["harbour-lights.seams", "kite.svg"])
def test_every_patch_has_its_pieces_in_strips_that_are_bought(name: str, cloth: str):
    """Areas: sums over the pieces themselves, over strips, over what is bought, each no more than the next."""
    plan = planned(name)
    before = 0.0
    for blocks in (1, 12):
        made = seamwright.cutting(plan, blocks=blocks, cloth=cloth)
        bought = 0.0
        for cut in made.fabrics:
            own = [p for p in parts_of(made.pieces) if p.fabric == (cut.fabric.name if cut.fabric else None)]
            pieces = sum(p.width_in * p.height_in / p.share for p in own) * blocks
            strips = sum(strip.width_in * strip.length_in * strip.count for strip in cut.strips)
            assert pieces <= strips + 1e-6
            sheets = 18 * 21 * (cut.fat_quarters or 0) if cut.cloth is Cloth.FAT_QUARTERS else 42 * cut.bought_in
            assert strips * 1.1 <= sheets + 1e-6
            bought += sheets
            assert [s.width_in for s in cut.strips] == sorted((s.width_in for s in cut.strips), reverse=True)
        assert bought >= before
        before = bought


quarters = st.integers(5, 100).map(lambda n: n / 4)
any_pieces = st.lists(
    st.tuples(quarters, quarters, st.sampled_from([1, 2, 4]), st.booleans(), st.sampled_from(["night", "foam"])),
    min_size=1,
    max_size=7,
)


@settings(max_examples=25, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(any_pieces, st.integers(1, 9), st.sampled_from([*Cloth]), st.sampled_from([*Units]))
def test_whatever_the_pieces_the_list_passes_its_proof(
    quay: Plan, sizes: list[tuple[float, float, int, bool, str]], blocks: int, cloth: Cloth, units: Units
):
    shapes = {2: Shape.HALF_SQUARE, 4: Shape.QUARTER_SQUARE}
    pieces = []
    for number, (width, height, share, one_way, fabric) in enumerate(sizes, start=1):
        runs = {"one_way": True, "runs": "height", "grain_deg": 90.0} if one_way else {}
        piece = plain(f"A{number}", width, height, fabric, **runs)
        if share > 1 and not one_way:
            piece = replace(plain(f"A{number}", width, width, fabric), shape=shapes[share], share=share)
        pieces.append(piece)
    plan = replace(quay, options=PlanOptions(units=units))
    made = cut_for(plan, pieces, blocks=blocks, cloth=cloth)
    for one in cut_claims(made):
        check_cut(one)
    assert cuttings_object([made, made])["cuttings"][0]["blocks"] == blocks
    assert cutting_words([made])


@pytest.mark.long
@pytest.mark.parametrize("blocks", [1, 12, 100])
@pytest.mark.parametrize(
    "path", sorted(p for p in DESIGNS.iterdir() if p.suffix in (".svg", ".seams")), ids=lambda path: path.stem
)
def test_every_design_can_be_cut(path: Path, blocks: int):
    for units in ("inch", "metric"):
        plan = seamwright.plan(seamwright.read_block(path, units=units))
        if plan.sections:
            for cloth in ("bolt", "fat-quarters"):
                assert seamwright.cutting(
                    plan, blocks=blocks, cloth=cloth
                ).fabrics  # proven before it is handed out


def test_more_blocks_never_buy_less(quay: Plan):
    bought = [
        [(cut.bought_in, cut.fat_quarters or 0) for cut in seamwright.cutting(quay, blocks=blocks).fabrics]
        for blocks in range(1, 20)
    ]
    assert all(a <= b for fewer, more in pairwise(bought) for one, two in zip(fewer, more, strict=True)
               for a, b in zip(one, two, strict=True))  # fmt: skip


# -- the proof -----------------------------------------------------------------------------------------------------


def claim(**changes: object) -> CutClaim:
    """Two blocks of two patches of 3 x 2 in: one strip of 2 in, four pieces; 1/8 yd."""
    strip = CutStrip(2.0, 40.0, 1, (CutPieces(3.0, 2.0, 4, ("A1", "A2"), "rectangle"),), ())
    needed = tuple(NeededPiece(name, 3.0, 2.0, 1, "rectangle", turns=True, count=2) for name in ("A1", "A2"))
    return replace(CutClaim("night", needed, (strip,), 40.0, (), 17.5, 1.0, 0.1, 4.5), **changes)  # type: ignore[arg-type]


def strip_with(**changes: object) -> CutStrip:
    return replace(claim().strips[0], **changes)  # type: ignore[arg-type]


def piece_with(**changes: object) -> tuple[CutPieces, ...]:
    return (replace(claim().strips[0].pieces[0], **changes),)  # type: ignore[arg-type]


def needed_with(**changes: object) -> tuple[NeededPiece, ...]:
    return tuple(replace(needed, **changes) for needed in claim().needed)  # type: ignore[arg-type]


def test_a_true_list_passes():
    check_cut(claim())
    check_cut(claim(strips=(strip_with(rest=(CutStrip(1.0, 28.0, 2, (), ()),)),)))


INNER = CutStrip(1.0, 28.0, 1, (), ())


@pytest.mark.parametrize(
    ("wrong", "says"),
    [
        (claim(strips=(strip_with(pieces=piece_with(count=3)),)), "3 of 4 pieces"),
        (claim(strips=(strip_with(pieces=piece_with(count=5)),)), "more pieces of A1"),
        (claim(strips=()), "stands in 0 kinds"),
        (claim(strips=claim().strips * 2, bought=9.0), "more pieces of A1"),
        (claim(strips=(strip_with(pieces=piece_with(patches=("A1",))),)), "A2 stands in 0"),
        (claim(strips=(strip_with(pieces=piece_with(patches=("A1", "A2", "B1"))),)), "no patch needs"),
        (claim(strips=(strip_with(pieces=piece_with(along_in=2.9)),)), "too small"),
        (claim(strips=(strip_with(width_in=1.9),)), "higher than the strip"),
        (claim(strips=(strip_with(length_in=11.0),)), "take 12 in of a strip 11 in"),
        (claim(strips=(strip_with(length_in=41.0),)), "from 40 in of cloth"),
        (claim(strips=(strip_with(count=0),)), "has none"),
        (claim(strips=(strip_with(pieces=piece_with(kind="half-square triangle")),)), "should be rectangle"),
        (claim(needed=needed_with(width_in=2.0, height_in=3.0, turns=False)), "given a quarter turn"),
        (claim(strips=(strip_with(rest=(replace(INNER, length_in=28.1),)),)), "longer than what is left"),
        (claim(strips=(strip_with(rest=(replace(INNER, count=3),)),)), "wider together"),
        (claim(bought=3.2), "are bought for 2 in"),
        (claim(too_large=("A1",)), "fits the cloth"),
        (claim(left_over=((40.0, 2.0), (28.0, 3.0))), "more is left over"),
        (claim(sheets=((1, ((0, 1),)),), sheet_in=1.9, bought=9), "wider together than it is long"),
        (claim(sheets=((1, ((0, 2),)),), bought=9), "do not agree"),
        (claim(sheets=((1, ((0, 1),)),), sheet_in=2.1, bought=1), "too few"),
    ],
)
def test_a_fault_in_a_list_is_found(wrong: CutClaim, says: str):
    with pytest.raises(ProofError, match=says) as told:
        check_cut(wrong)
    assert told.value.exit_code == 3


def test_a_list_is_proven_before_it_is_handed_out(quay: Plan, monkeypatch: pytest.MonkeyPatch):
    def short(*words: object) -> Cutting:
        made = make(*words)  # type: ignore[arg-type]
        cut = made.fabrics[0]
        return replace(made, fabrics=(replace(cut, strips=cut.strips[1:]), *made.fabrics[1:]))

    monkeypatch.setattr("seamwright.cutting.make.cutting", short)
    with pytest.raises(ProofError, match="cutting list of night"):
        seamwright.cutting(quay)


# -- several at once -----------------------------------------------------------------------------------------------


def test_places_of_one_print_whose_pieces_are_cut_alike_make_one_stack():
    # Laid at an angle, a piece lies otherwise in each place of the block; it is the same piece of cloth.
    made = make(planned("harbour-lights.seams", rotary="auto"), CutOptions(blocks=12))
    assert Lay.ANGLED in {piece.lay for piece in made.pieces}
    assert next((stack.sections, stack.count) for stack in stacks(made)) == (("A", "A.2", "A.3", "A.4"), 48)


def test_fabrics_of_one_name_are_bought_together(quay: Plan):
    """By hand: strips of 7 in and of 14 in, 1 in to straighten, 10 %: 24.2 in, 3/4 yd; apart 3/8 and 1/2 yd."""
    two = [seamwright.cutting(quay, blocks=10), seamwright.cutting(quay, blocks=20)]
    assert [cut.bought_in for each in two for cut in each.fabrics] == [9.0, 9.0, 18.0, 18.0]
    assert [bought.length_in for bought in shopping(two)] == [27.0, 27.0]
    assert "all together" in cutting_words(two)[0]


def test_one_list_asks_for_the_fat_quarters_that_it_tells_of_each_fabric():
    """Strips along either side of a fat quarter: 6 x 2 3/4 in of 20 in, and more of 17 1/2 in."""
    plan = seamwright.plan(seamwright.read_block(DESIGNS / "kite.svg", size="6in"))
    made = seamwright.cutting(plan, blocks=12, cloth="fat-quarters")
    assert len({cut.width_in for cut in made.fabrics}) == 2
    assert [bought.fat_quarters for bought in shopping([made])] == [cut.fat_quarters for cut in made.fabrics]


def test_two_sizes_of_one_drawing_are_told_apart(tmp_path: Path):
    both = [seamwright.plan(seamwright.read_block(DESIGNS / "kite.svg", size=size)) for size in ("6in", "9in")]
    made = [seamwright.cutting(plan) for plan in both]
    seamwright.write_cutting(tmp_path / "kites.csv", *made)
    seamwright.write_cutting(tmp_path / "kites.pdf", *made)
    names = ["kite 6 x 6 in", "kite 9 x 9 in"]
    rows = csv.DictReader(io.StringIO((tmp_path / "kites.csv").read_text()))
    assert list(dict.fromkeys(row["Drawing"] for row in rows)) == names
    words = " ".join(page.extract_text() for page in PdfReader(tmp_path / "kites.pdf").pages)
    assert all(f"Cutting: {name}" in words for name in names)


def test_what_is_left_over_holds_a_spare_only_if_one_is_bought(quay: Plan):
    for spare, said in (("10", "  Left over, with all of the spare: "), ("0", "  Left over: ")):
        told = cutting_words([seamwright.cutting(quay, spare=spare)])
        assert any(said in line for line in told)


def test_inches_and_centimetres_are_not_added(quay: Plan):
    metric = replace(quay, options=PlanOptions(units=Units.METRIC))
    two = [cut_for(each, [plain("A1", 3, 3)]) for each in (quay, metric)]
    assert shopping(two) == ()
    assert "some measure in inches" in cutting_words(two)[0]


# -- stacks --------------------------------------------------------------------------------------------------------


def test_sections_sewn_alike_share_a_stack():
    plan = planned("compass-star.seams")
    found = stacks(seamwright.cutting(plan, blocks=3))
    assert [name for stack in found for name in stack.sections] == [
        section.name for places in plan.prints() for section in places
    ]
    assert sum(len(stack.pieces) * stack.count for stack in found) == 3 * len(plan.block.patches)


@pytest.mark.parametrize(
    ("patch", "section"), [("A1", "A"), ("A.2-13", "A.2"), ("Ar2", "Ar"), ("AB12", "AB"), ("C.2-3b", "C.2")]
)
def test_the_name_of_a_patch_tells_its_section(patch: str, section: str):
    assert section_of(patch) == section


# -- for programs, spreadsheets and paper --------------------------------------------------------------------------


def test_programs_get_the_fields_they_rely_on(quay: Plan):
    made = cutting_object(seamwright.cutting(quay, blocks=12))
    assert json.loads(json.dumps(made)) == made
    assert made["blocks"] == 12
    assert made["plan"]["id"] == quay.id
    night = made["fabrics"][0]
    # Worked by hand: 24 squares of 3 1/2 in, 3 strips, 10 1/2 + 1 in, with the spare 12.65 in: 3/8 yd.
    assert (night["name"], night["value"], night["yards"], night["length_in"]) == ("night", "dark", 0.375, 11.5)
    assert {name: night["pieces"][0][name] for name in ("width_in", "height_in", "count")} == {
        "width_in": 3.5,
        "height_in": 3.5,
        "count": 12,
    }
    strip = night["strips"][0]
    assert (strip["width_in"], strip["count"]) == (3.5, 3)
    assert [(sub["length_in"], sub["count"]) for sub in strip["subcuts"]] == [(3.5, 24)]
    assert made["rotary"][0]["cut"][0]["square_in"] == 3.5
    assert not any(key.endswith("_cm") for key in night)


def test_metric_lists_have_centimetres_beside_inches():
    made = cutting_object(seamwright.cutting(planned("kite.svg", units="metric")))
    for fabric in made["fabrics"]:
        assert fabric["metres"] * 100 == pytest.approx(round(fabric["metres"] * 10) * 10)
        for piece in fabric["pieces"]:
            assert piece["width_cm"] == pytest.approx(piece["width_in"] * 2.54, abs=1e-6)
            assert piece["width_cm"] * 2 == pytest.approx(round(piece["width_cm"] * 2), abs=1e-6)  # by 0.5 cm


def test_one_list_is_an_object_several_are_in_an_array(quay: Plan):
    made = seamwright.cutting(quay)
    assert "fabrics" in cuttings_object([made])
    assert [len(cuttings_object([made, made])[key]) for key in ("cuttings", "shopping")] == [2, 2]


def rows_of_csv(path: str) -> list[dict[str, str]]:
    return list(csv.DictReader(io.StringIO(Path(path).read_bytes().decode("utf-8-sig"), newline="")))


def test_a_spreadsheet_gets_one_row_a_cut(quay: Plan):
    made = seamwright.cutting(quay, blocks=30)
    seamwright.write_cutting("quay.csv", made)
    data = Path("quay.csv").read_bytes()
    assert data.count(b"\r\n") == data.count(b"\n")  # RFC 4180, section 2.1
    rows = rows_of_csv("quay.csv")
    assert tuple(rows[0])[: len(HEAD)] == HEAD
    assert [(row["Fabric"], row["Strips"], row["Subcuts"], row["Buy"]) for row in rows] == [
        ("night", "6", "60", "3/4 yd"),
        ("foam", "6", "60", "3/4 yd"),
    ]
    assert (rows[0]["Length"], rows[0]["Length as number"]) == ("3 1/2 in", "3.5")
    assert made_from(data) == ("quay.seams",)


def test_a_spreadsheet_tells_from_which_fat_quarter_a_strip_comes(quay: Plan):
    """By hand: 60 squares of 3 1/2 in, 5 to a strip of 20 in: 12 strips; 5 strips of 3 1/2 in are 17 1/2 in."""
    seamwright.write_cutting("quay.csv", seamwright.cutting(quay, blocks=30, cloth="fat-quarters"))
    rows = rows_of_csv("quay.csv")
    assert {(row["Strips"], row["Cut from"]) for row in rows} == {
        ("12", "fat quarters 1 to 2 (5 from each), 3 (2)")
    }


def test_with_stacks_a_spreadsheet_gets_one_row_a_patch(quay: Plan):
    seamwright.write_cutting("quay.csv", seamwright.cutting(quay, blocks=30, stack=True))
    rows = rows_of_csv("quay.csv")
    assert [row["Patches"] for row in rows] == [name for p in quay.sections for name in [p.patch_name(1)]]
    assert {row["Pieces"] for row in rows} == {"30"}


def test_names_cannot_pass_for_formulas_and_keep_their_accents(quay: Plan):
    block = replace(quay.block, fabrics=(Fabric("=1+1"), Fabric("brise d'été")))
    pieces = [plain("A1", 3, 3, "=1+1"), plain("A2", 3, 3, "brise d'été")]
    seamwright.write_cutting("quay.csv", cut_for(replace(quay, block=block), pieces))
    assert [row["Fabric"] for row in rows_of_csv("quay.csv")] == ["'=1+1", "brise d'été"]


def test_the_pages_hold_every_strip_and_every_label(quay: Plan):
    seamwright.write_cutting("quay.pdf", seamwright.cutting(quay, blocks=30, stack=True))
    text = "\n".join(page.extract_text() for page in PdfReader("quay.pdf").pages)
    for words in ("6 strips, 3 1/2 in wide", "60", "night", "foam", "3/4 yd", "Labels of quay", "razor", quay.id):
        assert words in text


@pytest.mark.parametrize("cloth", [*Cloth])
def test_every_subcut_has_its_row_with_its_number_size_and_patches(quay: Plan, cloth: Cloth):
    """Strips of several kinds, narrow strips cut from what is left of others, fat quarters of several lines."""
    sizes = [(9, 7), (7.5, 3.25), (6.25, 3), (5, 5), (4.5, 2.25), (3, 2), (2.5, 2.5), (11, 1.75)]
    made = cut_for(quay, [plain(f"A{n}", *size) for n, size in enumerate(sizes, start=1)], cloth=cloth, blocks=5)
    (night,) = made.fabrics
    strips = [each for strip in night.strips for each in (strip, *strip.rest)]
    assert any(len(strip.subcuts) > 1 for strip in strips) and any(strip.rest for strip in strips)
    tables = [item for item in cutting_story(made) if isinstance(item, Table)]
    (rows,) = (item.rows for item in tables if item.caption == "Strips and subcuts")
    subs = [sub for strip in strips for sub in strip.subcuts]
    told = [(row[1], row[2], row[4]) for row in rows]
    assert sorted(told) == sorted(
        (str(sub.count), say_size(sub.length_in, sub.height_in, Units.INCH, glyphs=True), ", ".join(sub.patches))
        for sub in subs
    )
    heads = [row[0] for row in rows if row[0]]
    assert [sum(f"{strip.count} strip" in head for head in heads) > 0 for strip in strips] == [True] * len(strips)
    assert len(heads) == len(strips)
    if cloth is Cloth.FAT_QUARTERS:
        (quarters,) = (item.rows for item in tables if item.caption == "Strips and fat quarters")
        lines = [[(n + 1, count) for n, count in quarter.strips] for quarter in night.quarters]
        found = [
            [(int(b), int(a)) for a, b in re.findall(r"(\d+) strips? of line (\d+)", row[1])] for row in quarters
        ]
        assert found[: len(lines)] == lines


def test_what_the_sewer_should_know_stands_before_the_tables(quay: Plan):
    pieces = [plain("A1", 45, 44), plain("A2", 3, 2, one_way=True, runs="width", grain_deg=0.0)]
    made = cut_for(quay, pieces)
    assert len(made.notes) == 2
    (told,) = (item.texts for item in cutting_story(made) if isinstance(item, Points))
    assert [text[1:-1] for text in told] == [note.text[1:] for note in made.notes]


@pytest.mark.parametrize("name", ["letter", "a5"])
def test_every_stack_has_its_label_and_none_lies_on_another(name: str):
    made = seamwright.cutting(planned("beacon.seams"), blocks=3, stack=True)
    pages = lay_out(labels_story(made, full_room(paper(name))), paper(name))
    names = Counter(ink.text for page in pages for ink in page.ink if isinstance(ink, Words) and ink.bold)
    wanted = Counter(piece.name for stack in stacks(made) for piece in stack.pieces)
    assert wanted <= names
    assert [fault for page in pages for fault in faults(page)] == []


def test_stacks_and_units_without_paper_have_their_tables(quay: Plan):
    stacked = cutting_story(seamwright.cutting(quay, blocks=5, stack=True))
    (rows,) = ([row for item in stacked if isinstance(item, Table) and len(item.head) == 6 for row in item.rows],)
    assert {row[0] for row in rows} <= {*quay.patch_names()}
    assert sum(int(row[-1]) for row in rows) == 4 * 5
    halves = QUAY.replace("seam 0, 3 to 6, 3", "seam 0, 3 to 6, 3\nseam 0, 0 to 6, 6")
    Path("halves.seams").write_text(halves.replace("lay night at 1, 1 and 5, 5", "lay night at 1, 2 and 5, 5.5"))
    plan = seamwright.plan(seamwright.read_block("halves.seams", rotary="auto"))
    made = seamwright.cutting(plan, blocks=5)
    assert [unit for unit in made.units if unit.ways]
    items = cutting_story(made)
    told = [text for item in items if isinstance(item, Points) for text in item.texts]
    assert {way.split(":")[0] for unit in made.units for way in unit.ways} <= {text.split(":")[0] for text in told}
    tables = [item.rows for item in items if isinstance(item, Table) and item.head[0] == "Fabric"]
    for unit in made.units:
        if len(unit.patches) > unit.count // 5:
            assert [str(cut.count) for cut in unit.cuts] in [[row[1] for row in rows] for rows in tables]


def test_pieces_are_told_by_what_is_cut_and_by_what_comes_of_it(quay: Plan):
    half = replace(plain("A1", 3.875, 3.875), shape=Shape.HALF_SQUARE, share=2)
    quarter = replace(plain("A2", 7.25, 7.25), shape=Shape.QUARTER_SQUARE, share=4)
    made = cut_for(quay, [half, quarter, plain("A3", 5, 2)], blocks=97)
    (rows,) = (
        item.rows
        for item in cutting_story(made)
        if isinstance(item, Table) and item.caption.endswith("pieces of these strips")
    )
    assert [(row[0], row[1], row[3], row[4]) for row in rows] == [
        ("7¼ x 7¼ in", "25", "97", "A2"),
        ("3⅞ x 3⅞ in", "49", "97", "A1"),
        ("5 x 2 in", "97", "97", "A3"),
    ]


@pytest.mark.parametrize("name", ["quay.csv", "quay.pdf"])
def test_a_file_of_someone_else_is_not_written_over(quay: Plan, name: str):
    Path(name).write_text("mine")
    made = seamwright.cutting(quay)
    with pytest.raises(SeamwrightError, match="not made by seamwright"):
        seamwright.write_cutting(name, made)
    seamwright.write_cutting(name, made, force=True)
    first = Path(name).read_bytes()
    seamwright.write_cutting(name, made)
    assert Path(name).read_bytes() == first


# -- the command ---------------------------------------------------------------------------------------------------


def test_the_command_says_first_what_to_buy(capsys: pytest.CaptureFixture[str]):
    assert main(["cutting", "quay.seams", "--max-patches", "1", "--blocks", "30"]) == 0
    out = capsys.readouterr().out.splitlines()
    assert out[0].startswith("quay, 30 blocks of 6 x 6 in, plan ")
    assert "buy 3/4 yd each of night and foam. 10 % more than is cut is in it" in out[0]
    assert "    6 strips 3 1/2 in wide: 60 at 3 1/2 x 3 1/2 in (A1 and A.2-1)." in out
    assert sum("razor" in line for line in out) == 1
    assert len(out) < 25


def test_the_command_writes_both_forms_and_json_for_several_drawings(capsys: pytest.CaptureFixture[str]):
    words = ["cutting", "quay.seams@6in", "quay.seams@9in", "--blocks", "2"]
    assert main([*words, "-o", "two.csv"]) == 0
    assert {row["Blocks"] for row in rows_of_csv("two.csv")} == {"2"}
    capsys.readouterr()
    assert main([*words, "--json"]) == 0
    assert len(json.loads(capsys.readouterr().out)["cuttings"]) == 2


def test_a_stuck_drawing_is_told_as_by_other_commands(capsys: pytest.CaptureFixture[str]):
    assert main(["cutting", "quay.seams", "reef.seams", "-o", "both.csv"]) == 1
    told = capsys.readouterr()
    assert told.out == ""
    assert "stuck in 1 place" in told.err
    assert "nothing was counted, and both.csv was not written" in told.err
    assert not Path("both.csv").exists()
    assert main(["cutting", "reef.seams", "--set-in"]) == 0


@pytest.mark.parametrize(
    ("words", "says"),
    [
        (["quay.seams", "-o", ""], "where should the list go"),
        (["quay.seams", "-o", "quay.txt"], ".csv or .pdf"),
        (["quay.seams", "--blocks", "0"], "from 1 to 5,000"),
        (["quay.seams", "--spare", "lots"], "0 to 100 per cent"),
        (["quay.seams", "--cloth", "sail"], "bolt, fat-quarters"),
        (["nowhere.seams"], "nowhere.seams"),
        ([], "which drawing"),
    ],
)
def test_a_slip_is_told_with_its_mend(words: list[str], says: str, capsys: pytest.CaptureFixture[str]):
    assert main(["cutting", *words]) == 2
    assert says in capsys.readouterr().err


def test_a_drawing_can_hold_how_it_is_cut(capsys: pytest.CaptureFixture[str]):
    Path("quay.seams").write_text(QUAY + "option blocks 30\noption spare 0\noption max-patches 1\n")
    assert main(["cutting", "quay.seams"]) == 0
    assert "buy 5/8 yd each of night and foam. Nothing is in it for shrinkage" in capsys.readouterr().out
