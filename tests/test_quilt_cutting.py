"""Cutting of whole quilts: against handbook practice, worked examples and exact geometry."""

from __future__ import annotations

import csv
import json
import math
from collections.abc import Callable
from dataclasses import replace
from functools import cache
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely import Polygon

from seamwright import api
from seamwright.claims.quiltcuts import claim_of_cutting
from seamwright.cli import main
from seamwright.cutting import search
from seamwright.errors import ProofError, SeamwrightError
from seamwright.fabric.model import Fabric
from seamwright.fabric.pieces import Shape
from seamwright.fabric.rulers import Ruler
from seamwright.options import CutOptions, Units
from seamwright.piecing.model import Plan
from seamwright.proof.quiltcut import BackClaim, JoinedClaim, QuiltCutClaim, check_quilt_cut
from seamwright.quilt.cutmodel import Counted, Joint, QuiltCutting
from seamwright.quilt.cutting import quilt_cutting
from seamwright.quilt.extras import backing_cut, batting_cut, binding_cut
from seamwright.quilt.longstrips import joined, strips_for
from seamwright.quilt.model import Backing, Batting, Binding, Cell, Cloth, Look, Quilt, Role, Setting, Source, Spot
from seamwright.quilt.plaincuts import plain_pieces
from seamwright.quiltcuts import cutting_of, write_quilt_cutting
from seamwright.quilts import read_quilt
from seamwright.report.quiltcuts import quilt_cutting_object
from seamwright.words.quiltcuts import quilt_cutting_words

DESIGNS = Path(__file__).resolve().parents[1] / "designs"


@pytest.fixture(autouse=True)
def _looked_for_less_long(monkeypatch: pytest.MonkeyPatch) -> None:
    """Lists are true at every effort."""
    monkeypatch.setattr(search, "EFFORT", 3_000)


@cache
def kite(units: str = "inch") -> Plan:
    size = "8 in" if units == "inch" else "20 cm"
    plan = api.outcome(f"{DESIGNS / 'kite.svg'}@{size}", [("units", units)]).plan
    assert plan is not None
    return plan


def box(x: float, y: float, width: float, height: float) -> tuple[tuple[float, float], ...]:
    return ((x, y), (x + width, y), (x + width, y + height), (x, y + height))


def strip(part: int, row: int, *place: float, fabric: str = "ink") -> Cloth:
    return Cloth(Role.BORDER, box(*place), fabric, f"border {part}", row, 0, *place[2:])


def kites(columns: int, rows: int, border_in: float = 0.0, **changes: object) -> Quilt:
    """Kites of 8 in in rows, one butted border of ink round them."""
    plan, wide = kite(), border_in
    look = Look("kite", "kite", "kite.svg@8 in", plan.block)
    width, height = 8.0 * columns, 8.0 * rows
    spots = tuple(
        Spot(0, 0, (1, 0, 0, 1, 8.0 * c + wide, 8.0 * r + wide), "centre", r, c)
        for r in range(rows)
        for c in range(columns)
    )
    cloths = (
        strip(1, 3, 0, wide, wide, height),
        strip(1, 1, width + wide, wide, wide, height),
        strip(1, 0, 0, 0, width + 2 * wide, wide),
        strip(1, 2, 0, height + wide, width + 2 * wide, wide),
    )
    setting = Setting("evening watch", "evening.setting", (Source("kite", "kite.svg", "8 in"),), ((Cell("kite"),),))
    whole = (width + 2 * wide, height + 2 * wide)
    return Quilt(
        replace(setting, **changes),  # type: ignore[arg-type]
        *whole, rows, columns, (8.0, 8.0), (look,), spots, cloths if wide else (),
    )  # fmt: skip


def cut(quilt: Quilt, **options: object) -> QuiltCutting:
    return quilt_cutting(quilt, [kite()] * len(quilt.looks), CutOptions(**options))  # type: ignore[arg-type]


def test_the_binding_of_a_throw_is_as_in_a_handbook():
    # Common practice, worked by hand for 60 x 76 in: perimeter 272 + 12 = 284 in. Seven strips of 40 in joined on
    # the diagonal give 280 - 6 x 2 1/2 = 265 in, eight give 320 - 7 x 2 1/2 = 302 1/2 in.
    binding = binding_cut(Binding("ink"), (60.0, 76.0), 40.0, 0.1, Units.INCH)
    assert (binding.strips, binding.joints, binding.needed_in, binding.length_in) == (8, 7, 284.0, 302.5)
    # 8 x 2 1/2 = 20 in, 1 in to straighten the edge and a tenth to spare: 23.1 in, so 3/4 yd (27 in).
    assert binding.bought_in == 27.0


@pytest.mark.parametrize(
    ("size", "usable_in", "upright", "panels", "length_in"),
    [
        # Common practice, by hand, 40 in usable, seams of 1/2 in: 64 x 80 in with 4 in all round is 72 x 88 in.
        # Upright two panels (79 in wide) of 88 in, 176 in; level three (118 in) of 72 in, 216 in.
        pytest.param((64.0, 80.0), 40.0, True, 2, 176.0, id="upright"),
        # 48 x 56 in: 56 x 64 in. Upright 2 x 64, level 2 x 56.
        pytest.param((48.0, 56.0), 40.0, False, 2, 112.0, id="level"),
        # A wide fabric goes over all of it in one piece, turned so that least is taken: 72 x 88 in of 108 in.
        pytest.param((64.0, 80.0), 108.0, False, 1, 72.0, id="wide"),
    ],
)
def test_panels_of_the_back_run_the_way_that_wastes_least(
    size: tuple[float, float], usable_in: float, upright: bool, panels: int, length_in: float
):
    back = backing_cut(Backing("foam"), size, usable_in, Units.INCH)
    assert (back.upright, back.panels, back.panels * back.panel_in) == (upright, panels, length_in)
    # The edge is straightened, and shops sell by the eighth of a yard.
    assert length_in + 1 <= back.bought_in < length_in + 1 + 4.5


def test_a_back_without_a_seam_is_preferred_to_one_with_a_seam_of_as_much_fabric():
    # 28 x 64 in with 4 in all round is 36 x 72 in: upright one panel of 72 in, level two of 36 in.
    back = backing_cut(Backing("foam"), (28.0, 64.0), 40.0, Units.INCH)
    assert (back.upright, back.panels, back.panel_in) == (True, 1, 72.0)


@pytest.mark.parametrize(("needed_in", "strips"), [(40.0, 1), (40.1, 2), (77.5, 2), (265.0, 7), (265.1, 8)])
def test_as_many_strips_as_come_to_the_length_and_none_more(needed_in: float, strips: int):
    # By hand: n strips of 40 in joined on the diagonal, 2 1/2 in lost at each joint, are 40 n - 2 1/2 (n - 1) in.
    assert strips_for(needed_in, 40.0, 2.5) == strips


def test_batting_is_one_piece_larger_all_round():
    batting = batting_cut(Batting(3.0), (32.0, 40.0), Units.INCH)
    assert (batting.width_in, batting.height_in) == (38.0, 46.0)


def test_a_metric_quilt_has_the_usual_centimetres_where_nothing_is_stated():
    # Common practice: binding 6.5 cm wide and 30 cm longer than the edge, back and batting 10 cm larger all round.
    metric = Units.METRIC
    edge = binding_cut(Binding(), (100 / 2.54, 150 / 2.54), 105 / 2.54, 0.0, metric)
    assert [round(side * 2.54, 6) for side in (edge.width_in, edge.needed_in)] == [6.5, 530.0]
    back, batting = backing_cut(Backing(), (40.0, 60.0), 41.0, metric), batting_cut(Batting(), (40.0, 60.0), metric)
    assert back.over_in == batting.over_in == pytest.approx(10 / 2.54)
    assert backing_cut(Backing("", None, 3.0), (40.0, 60.0), 41.0, metric).over_in == 3.0
    # What a metric quilt states in inches holds.
    assert batting_cut(Batting(4.0), (40.0, 60.0), metric).over_in == 4.0
    assert binding_cut(Binding("", 2.5), (40.0, 60.0), 41.0, 0.1, metric).width_in == 2.5


def test_a_quilt_may_have_no_binding_and_no_back():
    made = cut(kites(2, 2, binding=None, backing=None, batting=None))
    assert (made.binding, made.backing, made.batting) == (None, None, None)
    assert made.units is Units.INCH


# -- quilts from their files ---------------------------------------------------------------------------------

WAVE = """seamwright block 1
name wave
size 8 in
grid 8
seam 0, 2 to 8, 2
seam 0, 4 to 8, 4
seam 0, 6 to 8, 6
seam 4, 0 to 4, 8
seam 0, 0 to 4, 2
seam 0, 2 to 4, 4
seam 0, 4 to 4, 6
seam 4, 0 to 8, 2
seam 4, 2 to 8, 4
"""
"""A block with triangles of which rectangles give two, all of one hand."""


@pytest.fixture
def quilt_at(tmp_path: Path) -> Callable[[str], Path]:
    """Writes the file of a quilt beside its blocks."""
    for name in ("kite.svg", "compass-star.seams", "harbour-lights.seams"):
        (tmp_path / name).write_bytes((DESIGNS / name).read_bytes())
    (tmp_path / "wave.seams").write_text(WAVE)

    def written(lines: str) -> Path:
        path = tmp_path / "evening.setting"
        path.write_text(f"seamwright quilt 1\nname evening watch\n{lines}")
        return path

    return written


def on_point(size: str, more: str = "") -> str:
    return f"""block kite kite.svg size {size}
set on point
row kite, kite, kite
repeat 1 x 3
triangles sea
{more}"""


def of_role(made: QuiltCutting, role: Role) -> list[Counted]:
    """What is cut for plain pieces of one role, joined or not."""
    all_of_it = [*made.pieces, *(each for strips in made.joined for each in strips.lengths)]
    return [each for each in all_of_it if any(made.quilt.cloths[n].role is role for n in each.cloths)]


@pytest.mark.parametrize(
    ("size", "side_in", "corner_in"),
    [
        # Worked examples of quilters' handouts, at 1/4 in allowance (common practice).
        pytest.param("6 in", 9.75, 5.125, id="6 in"),
        pytest.param("9 in", 14.0, None, id="9 in"),
        pytest.param("12 in", 18.25, 9.375, id="12 in"),
        # Exact geometry at 0.75 cm: 20 sqrt 2 + 0.75 (2 + 2 sqrt 2) = 31.91 cm and 20 / sqrt 2 + 0.75 (2 + sqrt 2)
        # = 16.70 cm, up to the millimetre.
        pytest.param("20 cm", 32.0 / 2.54, 16.8 / 2.54, id="20 cm"),
    ],
)
def test_setting_triangles_come_of_the_squares_that_handouts_say(
    quilt_at: Callable[[str], Path], size: str, side_in: float, corner_in: float | None
):
    metric = "option units metric\n" if size.endswith("cm") else ""
    made = cutting_of(read_quilt(quilt_at(metric + on_point(size))))
    (side,), (corner,) = of_role(made, Role.SIDE_TRIANGLE), of_role(made, Role.CORNER_TRIANGLE)
    assert (side.piece.shape, side.piece.share, side.count) == (Shape.QUARTER_SQUARE, 4, 6)
    assert (corner.piece.shape, corner.piece.share, corner.count) == (Shape.HALF_SQUARE, 2, 4)
    assert side.piece.width_in == pytest.approx(side_in)
    if corner_in is not None:
        assert corner.piece.width_in == pytest.approx(corner_in)
    (sea,) = (cut for cut in made.fabrics if cut.fabric is not None and cut.fabric.name == "sea")
    squares = {row.patches[0]: row.cuts for row in sea.rows}
    assert (squares["side triangle"], squares["corner triangle"]) == (2, 2)


def test_long_strips_of_a_border_are_joined_as_in_a_handbook():
    # Worked by hand (common practice): the centre is 56 x 72 in, a border of 2 in butted. Sides are cut 72 1/2 in,
    # top and bottom 60 1/2 in: 266 in of strips 2 1/2 in wide. Each diagonal join takes 2 1/2 in: seven strips of
    # 40 in give 280 - 15 = 265 in, one inch too few, so eight.
    made = cut(kites(7, 9, 2.0, binding=None))
    (strips,) = made.joined
    assert (strips.width_in, strips.joint, strips.strips, strips.joints) == (2.5, Joint.DIAGONAL, 8, 7)
    assert [(each.piece.width_in, each.count) for each in strips.lengths] == [(72.5, 2), (60.5, 2)]
    assert (strips.needed_in, strips.length_in) == (266.0, 302.5)
    assert [note.code for note in made.notes] == ["joined"]
    check_quilt_cut(claim_of_cutting(made))


def test_strips_that_take_no_more_along_the_selvedge_are_cut_so():
    # Four strips 12 1/2 in wide of about 60 to 90 in: three go beside each other on 40 in, while joined each seam
    # takes 12 1/2 in.
    made = cut(kites(8, 8, 12.0, binding=None))
    assert not made.joined
    long = [each for each in of_role(made, Role.BORDER) if each.along]
    assert {(each.piece.width_in, each.piece.height_in) for each in long} == {(12.5, 64.5), (12.5, 88.5)}
    assert [note.code for note in made.notes] == ["along"]


def test_fabric_is_shared_by_blocks_borders_and_binding():
    quilt = kites(4, 5, 3.0, binding=Binding("ink"))
    whole = {cut_.fabric.name: cut_.length_in for cut_ in cut(quilt).fabrics if cut_.fabric}
    blocks = {cut_.fabric.name: cut_.length_in for cut_ in cut(kites(4, 5, binding=None)).fabrics if cut_.fabric}
    assert whole.keys() == blocks.keys()
    assert all(whole[name] == blocks[name] for name in whole if name != "ink")
    # Blocks alone take 8 in, five border strips 3 1/2 in each and five strips of binding 2 1/2 in: 30 in more.
    edge = cut(quilt).binding
    assert edge is not None and not edge.alone
    assert blocks["ink"] < whole["ink"] <= blocks["ink"] + 5 * 3.5 + edge.strips * 2.5 + 1e-9


def test_a_reversed_block_takes_pieces_of_the_other_hand(quilt_at: Callable[[str], Path]):
    made = cutting_of(read_quilt(quilt_at("block wave wave.seams\nrow wave, wave reversed\nrepeat 2 x 3\n")))
    hands: dict[int | None, set[str]] = {}
    for each in made.pieces:
        hands.setdefault(each.look, set()).update({each.piece.hand} - {""})
    assert (hands[0], hands[1]) == ({"right"}, {"left"})
    told = "\n".join(quilt_cutting_words(made))
    assert "square corner on the left" in told and "square corner on the right" in told


def test_units_without_paper_are_counted_over_the_whole_quilt(quilt_at: Callable[[str], Path]):
    lines = "block harbour harbour-lights.seams\nrow harbour, harbour in all of it\nrepeat 2 x 2\n"
    whole = lines.replace(" in all of it", "")
    made = cutting_of(read_quilt(quilt_at(whole)))
    # Four flying geese and four half-square units in each of eight blocks.
    assert {unit.kind: unit.count for unit in made.made} == {"half-square unit": 32, "flying geese": 32}
    assert any("Eight at a time: cut 4 squares" in way for unit in made.made for way in unit.ways)


def test_a_print_that_runs_one_way_lies_upright_all_round(quilt_at: Callable[[str], Path]):
    lines = on_point("8 in", "border 3 in sea\nbinding none\nfabric sea direction 90\n")
    made = cutting_of(read_quilt(quilt_at(lines)))
    # Upright in the quilt the print runs across top and bottom, which are no wider than the fabric here, and along
    # the sides.
    borders = {each.piece.name: each.piece for each in of_role(made, Role.BORDER)}
    assert {name: piece.runs for name, piece in borders.items()} == {
        "border 1 sides": "width",
        "border 1 top and bottom": "height",
    }
    # A square cut twice gives one triangle for each side, one cut once two for opposite corners: two squares for
    # two triangles at top and bottom and one at each side.
    (corner,) = of_role(made, Role.CORNER_TRIANGLE)
    sides = [(each.count, each.piece.share) for each in of_role(made, Role.SIDE_TRIANGLE)]
    assert (sorted(sides), corner.count, corner.piece.share) == ([(2, 2), (4, 4)], 4, 2)
    assert "one-way" in [note.code for note in made.notes]


def test_strips_of_a_print_that_runs_one_way_are_joined_on_the_straight():
    tall = (Fabric("ink", direction_deg=90.0),)
    made = cut(kites(6, 7, 2.0, fabrics=tall))
    (strips,) = made.joined
    # 2 x 52 1/2 in for top and bottom: three strips of 40 in less two seams of 1/2 in.
    assert (strips.joint, strips.strips, strips.length_in) == (Joint.STRAIGHT, 3, 119.0)
    sides = next(each.piece for each in made.pieces if each.piece.name == "border 1 sides")
    assert (sides.one_way, sides.width_in, sides.runs) == (True, 56.5, "width")


def test_squares_for_more_sides_than_ends_are_as_many_as_the_longer_side_needs(quilt_at: Callable[[str], Path]):
    # One triangle at top and bottom, four at each side: a square gives one of each, so four squares, of which three
    # give two that can be used; a fabric that looks the same all ways needs but three squares for ten triangles.
    lines = (
        "block kite kite.svg size 8 in\nset on point\nrow kite, kite\nrow kite\n" + "row kite, kite\nrow kite\n" * 3
    )
    lines += "row kite, kite\ntriangles sea\n"
    plain = cutting_of(read_quilt(quilt_at(lines)))
    upright = cutting_of(read_quilt(quilt_at(lines + "fabric sea direction 90\n")))

    def squares(made: QuiltCutting) -> int:
        return sum(-(-each.count // each.piece.share) for each in of_role(made, Role.SIDE_TRIANGLE))

    assert (squares(plain), squares(upright)) == (3, 4)


@pytest.mark.long
def test_coping_strips_are_cut_wider_and_mitred_ones_longer(quilt_at: Callable[[str], Path]):
    lines = on_point(
        "8 in", "border coping foam at least 1 in\nborder of kite corners kite\nborder 2 in ink mitred\n"
    )
    made = cutting_of(read_quilt(quilt_at(lines)))
    for role, more in ((Role.COPING, (0.5, 0.75)), (Role.BORDER, (4.5, 0.5))):
        for each in of_role(made, role):
            cloth = made.quilt.cloths[each.cloths[0]]
            finished = sorted((cloth.width_in, cloth.height_in), reverse=True)
            sides = sorted((each.piece.width_in, each.piece.height_in), reverse=True)
            for side, whole, extra in zip(sides, finished, more, strict=True):
                assert -1e-6 <= side - whole - extra < 0.125 + 1e-6


# -- laws ------------------------------------------------------------------------------------------------------


@pytest.mark.long
@settings(max_examples=25, deadline=None)
@given(st.integers(1, 5), st.integers(1, 5), st.sampled_from([0.0, 2.0, 4.5]))
def test_more_blocks_never_cost_less(columns: int, rows: int, border_in: float):
    few, more = (cut(kites(columns + k, rows, border_in, binding=Binding("ink"))) for k in (0, 1))
    for one, other in zip(few.fabrics, more.fabrics, strict=True):
        assert one.bought_in <= other.bought_in
    assert few.backing is not None and more.backing is not None
    assert few.backing.bought_in <= more.backing.bought_in


@pytest.mark.parametrize(
    "more",
    ["", "sashing 1 in foam cornerstones ink\n", "sashing 1 in foam\n", "border 3 in foam mitred\n"],
)
def test_what_is_cut_is_larger_than_the_quilt_and_its_allowances(quilt_at: Callable[[str], Path], more: str):
    made = cutting_of(read_quilt(quilt_at(on_point("7 in", more))))
    grown = math.fsum(
        Polygon(cloth.ring).buffer(0.25, join_style="mitre", mitre_limit=20).area for cloth in made.quilt.cloths
    )
    given_ = math.fsum(
        piece.width_in * piece.height_in * each.count / piece.share
        for each in (*made.pieces, *(each for strips in made.joined for each in strips.lengths))
        for piece in [each.piece]
        if each.cloths
    )
    assert given_ >= grown
    blocks = math.fsum(
        each.piece.width_in * each.piece.height_in * each.count / each.piece.share
        for each in made.pieces
        if each.look is not None
    )
    assert blocks > 7.5**2 * len(made.quilt.spots)


@pytest.mark.parametrize("allowance, longest", [("1/4 in", 34.25), ("1/2 in", 35.5)])
def test_strips_that_run_through_on_point_are_cut_for_their_tips(
    quilt_at: Callable[[str], Path], allowance: str, longest: float
):
    """By hand: the centre is 2 x 8 x 1.414 in high, so a strip aslant through it 32 in along its middle and, 1 in
    wide, 33 in from tip to tip; there allowances s wide meet s (1 + sqrt 2) beyond, 0.604 or 1.207 in at each end.
    """
    wide = f"sashing 1 in foam\noption allowance {allowance}\nfabric foam colour #ffffff width 60 in\n"
    made = cutting_of(read_quilt(quilt_at(on_point("7 in", wide))))
    sizes = [
        max(each.piece.width_in, each.piece.height_in) for each in made.pieces if each.piece.name[:4] == "sash"
    ]
    assert max(sizes) == longest


# -- the proof -------------------------------------------------------------------------------------------------


@cache
def good() -> QuiltCutClaim:
    """A border that is joined, a binding and a back; and setting triangles laid by hand beside it."""
    quilt = kites(6, 7, 2.0, binding=Binding("ink"))
    far = 100.0
    side = Cloth(
        Role.SIDE_TRIANGLE, ((far, 0), (far + 12, 0), (far + 6, 6)), "sea", "centre", 0, 0, 72**0.5, 72**0.5, 0.0
    )
    corner = Cloth(Role.CORNER_TRIANGLE, ((far, 9), (far + 6, 9), (far, 15)), "sea", "centre", 0, 0, 6.0, 6.0, 0.0)
    return claim_of_cutting(cut(replace(quilt, cloths=(*quilt.cloths, side, corner))))


def spoilt(number: int, **changes: object) -> QuiltCutClaim:
    """One line of what is cut for plain pieces changed, counted from the end."""
    lines = list(good().cut)
    lines[number] = replace(lines[number], **changes)  # type: ignore[arg-type]
    return replace(good(), cut=tuple(lines))


def edge() -> JoinedClaim:
    found = good().binding
    assert found is not None
    return found


def back() -> BackClaim:
    found = good().back
    assert found is not None
    return found


def line(kind: str) -> int:
    return next(n for n, each in enumerate(good().cut) if each.kind == kind)


def test_a_true_cutting_passes():
    check_quilt_cut(good())


HALF, QUARTER = "half-square triangle", "quarter-square triangle"


@pytest.mark.parametrize(
    ("wrong", "says"),
    [
        (lambda: spoilt(line(QUARTER), across_in=13.1, selvedge_in=13.1), "too small, or off the grain"),
        (lambda: spoilt(line(HALF), across_in=6.8, selvedge_in=6.8), "too small, or off the grain"),
        # The same square cut once: its long side would lie on the bias.
        (lambda: spoilt(line(QUARTER), kind=HALF, share=2), "too small, or off the grain"),
        (lambda: spoilt(line("rectangle"), across_in=2.4), "too small"),
        (lambda: spoilt(line(HALF), share=3), "3 pieces are said to come of one"),
        (lambda: spoilt(line(HALF), count=2), "2 of 1 pieces"),
        (lambda: spoilt(line(HALF), fabric="ink"), "is cut of ink"),
        (lambda: replace(good(), cut=good().cut[1:]), "is cut 0 times"),
        (lambda: replace(good(), cut=(*good().cut, good().cut[-1])), "pieces like"),
        (lambda: replace(good(), patches=((43, *good().patches[0][1:]),)), "are cut for 43 blocks"),
        (lambda: replace(good(), patches=((42, good().patches[0][1][1:], good().patches[0][2]),)), "left out"),
        (lambda: replace(good(), joined=(replace(good().joined[0], strips=5),)), "are needed"),
        (lambda: replace(good(), joined=(replace(good().joined[0], strips=9),)), "more than are needed"),
        (lambda: replace(good(), joined=(replace(good().joined[0], lost_in=0.5),)), "once they are joined"),
        (lambda: replace(good(), binding=replace(edge(), strips=4)), "strips of the binding come to"),
        (lambda: replace(good(), back=replace(back(), panels=1)), "the back is smaller"),
        (lambda: replace(good(), back=replace(back(), panel_in=50.0)), "the back is smaller"),
        (lambda: replace(good(), back=replace(back(), bought_in=100.0)), "less is bought for the back"),
        (lambda: replace(good(), back=replace(back(), upright=True, panel_in=68.0, bought_in=180.0)), "other way"),
    ],
)
def test_a_fault_in_the_cutting_of_a_quilt_is_found(wrong: Callable[[], QuiltCutClaim], says: str):
    with pytest.raises(ProofError, match=says) as told:
        check_quilt_cut(wrong())
    assert told.value.exit_code == 3


def test_no_cutting_of_a_quilt_is_handed_out_unproven(
    quilt_at: Callable[[str], Path], monkeypatch: pytest.MonkeyPatch
):
    def short(*words: object) -> QuiltCutting:
        made = quilt_cutting(*words)  # type: ignore[arg-type]
        return replace(made, pieces=made.pieces[1:])

    monkeypatch.setattr("seamwright.quilt.cutting.quilt_cutting", short)
    with pytest.raises(ProofError):
        cutting_of(read_quilt(quilt_at(on_point("8 in"))))


# -- words, data, table and pages ------------------------------------------------------------------------------

STRAIGHT = """block kite kite.svg size 8 in
block wave wave.seams
row kite, wave, kite reversed
row wave 90, kite 180, wave
repeat 2 x 2
sashing 1 in foam cornerstones brass outside
border 1 in foam
binding foam
backing foam
"""


def test_the_command_tells_of_the_whole_quilt_in_words_as_a_table_and_as_data(
    quilt_at: Callable[[str], Path], capsys: pytest.CaptureFixture[str], tmp_path: Path
):
    path, out = quilt_at(STRAIGHT), tmp_path / "list.csv"
    assert main(["cutting", str(path), "-o", str(out)]) == 0
    told = capsys.readouterr().out
    for words in (
        "evening watch, a quilt of 57 x 39 in with 24 blocks: buy ",
        "Binding: ",
        "Backing: buy ",
        "Batting: one piece, 65 x 47 in",
        "Strips for border 1",
        "kite: ",
        "wave: ",
        "Proven: every patch of all blocks and every plain piece",
        "rotary cutter is as sharp as a razor",
    ):
        assert words in told
    with out.open(newline="", encoding="utf-8-sig") as file:
        rows = list(csv.DictReader(file))
    assert {row["Drawing"] for row in rows} == {"evening watch"}
    # Five rows of six sashes and four rows of seven.
    assert sum(int(row["Subcuts"]) for row in rows if row["Patches"] == "sash") == 58
    assert any(row["Cut from"] == "strips joined" and row["Patches"].startswith("border 1") for row in rows)
    assert {"backing", "batting"} <= {row["Patches"] for row in rows}


def test_the_data_hold_fabrics_and_extras(quilt_at: Callable[[str], Path]):
    quilt = read_quilt(quilt_at("block kite kite.svg size 8 in\nrow kite, kite 90\nborder 20 in ink\n"))
    data = json.loads(json.dumps(quilt_cutting_object(cutting_of(quilt))))
    assert (data["width_in"], data["height_in"], data["blocks"]) == (56.0, 48.0, 2)
    assert sum(look["count"] for look in data["looks"]) == 2
    assert [extra["for"] for extra in data["extras"]] == ["binding", "backing", "batting"]
    assert all({"name", "yards", "pieces", "strips"} <= set(fabric) for fabric in data["fabrics"])
    cut_ = {n for fabric in data["fabrics"] for piece in fabric["pieces"] for n in piece["cloths"]}
    cut_ |= {n for strips in data["joined"] for each in strips["cut"] for n in each["cloths"]}
    assert len(cut_) == 4


@pytest.mark.parametrize(
    ("more", "says"),
    [(["--blocks", "12"], "how many blocks there are follows from its rows"), (["kite.svg"], "by itself")],
)
def test_a_quilt_is_cut_by_itself_and_counts_its_own_blocks(
    quilt_at: Callable[[str], Path], capsys: pytest.CaptureFixture[str], more: list[str], says: str
):
    assert main(["cutting", str(quilt_at(STRAIGHT)), *more]) == 2
    assert says in capsys.readouterr().err


def test_pages_hold_the_list_and_are_the_same_each_time(quilt_at: Callable[[str], Path], tmp_path: Path):
    made = cutting_of(
        read_quilt(quilt_at("block kite kite.svg size 8 in\nrow kite\nborder 3 in ink\n")), stack=True
    )
    for name in ("one.pdf", "two.pdf"):
        write_quilt_cutting(tmp_path / name, made)
    assert (tmp_path / "one.pdf").read_bytes() == (tmp_path / "two.pdf").read_bytes()
    from pypdf import PdfReader

    reader = PdfReader(tmp_path / "one.pdf")
    text = "\n".join(page.extract_text() for page in reader.pages)
    for words in ("Cutting list", "border 1 sides", "Batting", "Stacks by section", "Labels of kite"):
        assert words in text


def test_what_the_file_of_a_quilt_asks_for_wins_over_its_blocks(quilt_at: Callable[[str], Path]):
    quilt = read_quilt(quilt_at("option spare 25 %\nblock kite kite.svg size 8 in\nrow kite\n"))
    assert cutting_of(quilt).options.spare == 0.25
    assert cutting_of(quilt, spare="5 %").options.spare == 0.05


def test_a_fabric_is_one_however_its_name_is_written():
    quilt = kites(1, 1, 2.0, binding=Binding("Ink"), backing=Backing("SKY"))
    made = cut(quilt)
    assert [cut_.fabric.name for cut_ in made.fabrics if cut_.fabric] == ["sky", "ink", "signal", "sea", "chalk"]
    assert made.binding is not None and made.backing is not None
    assert (made.binding.fabric, made.binding.alone, made.backing.fabric) == ("ink", False, "sky")


def test_blocks_at_different_allowances_are_refused():
    quilt = kites(1, 1)
    both = replace(quilt, looks=quilt.looks * 2)
    with pytest.raises(SeamwrightError, match="different units"):
        quilt_cutting(both, [kite(), kite("metric")], CutOptions())


def test_a_narrower_fabric_takes_more_strips():
    counted = plain_pieces(kites(6, 6, 2.0), {}, Ruler(0.25, Units.INCH))
    # By hand: 2 x 48 1/2 + 2 x 52 1/2 = 202 in. Six strips of 40 in give 227 1/2 in, eight of 30 in 222 1/2 in.
    assert [joined(counted, usable, 0.25)[0].strips for usable in (40.0, 30.0)] == [6, 8]
