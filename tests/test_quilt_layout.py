"""Where blocks and plain pieces of a quilt lie, straight and on point, and what cannot be laid."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import replace
from itertools import product
from pathlib import Path

import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st

from seamwright import api, cutting_of, plans_of, quilt_of, read_quilt
from seamwright.drawing.textwrite import write_seams
from seamwright.errors import FileError, OptionError, SeamwrightError, StuckError
from seamwright.fabric.model import Colourway, Fabric
from seamwright.fabric.rulers import Ruler
from seamwright.geometry import Affine, after, moved
from seamwright.options import Units
from seamwright.quilt import onpoint
from seamwright.quilt.layout import laid
from seamwright.quilt.looks import LookBook, drawing_of, read_looks
from seamwright.quilt.model import (
    Border,
    Cell,
    Cloth,
    Edging,
    Quilt,
    Role,
    Sashing,
    Set,
    Setting,
    Source,
    Spot,
    Turn,
)

DESIGNS = Path(__file__).parent.parent / "designs"
KITE = Source("kite", str(DESIGNS / "kite.svg"), "6 in", 3)
STAR = Source("star", str(DESIGNS / "compass-star.seams"), "6 in", 4)
PENNANT = Source("pennant", str(DESIGNS / "pennant.svg"), "", 5)
"""6 x 4 1/2 in."""
CELLS = {"k": Cell("kite"), "s": Cell("star"), "p": Cell("pennant"), ".": Cell(fabric="sea")}


def setting(*rows: str, set: Set = Set.STRAIGHT, sashing: Sashing | None = None) -> Setting:
    cells = tuple(tuple(CELLS[c] for c in row) for row in rows)
    return Setting("watch", "", (KITE, STAR, PENNANT), cells, set=set, triangles="sea", sashing=sashing)


@pytest.fixture(scope="module")
def book() -> LookBook:
    """Kite and star as drawn and reversed."""
    return read_looks(setting("ks"), [Cell(name, Turn(0, True)) for name in ("kite", "star")])


def polygons(quilt: Quilt) -> list[shapely.Polygon]:
    blocks = [
        shapely.Polygon([moved(spot.place, p) for p in quilt.looks[spot.look].block.outline_ring()])
        for spot in quilt.spots
    ]
    return blocks + [shapely.Polygon(cloth.ring) for cloth in quilt.cloths]


def of(quilt: Quilt, role: Role) -> list[Cloth]:
    return [cloth for cloth in quilt.cloths if cloth.role is role]


# -- laws ----------------------------------------------------------------------------------------------------


@st.composite
def any_setting(draw: st.DrawFn) -> Setting:
    """Rows of square blocks and plain ones, straight or on point, with or without sashes."""
    on_point, across, down = draw(st.booleans()), draw(st.integers(1, 5)), draw(st.integers(1, 4))
    rows = 2 * down - 1 if on_point else down
    turns = st.builds(Turn, st.integers(0, 3), st.booleans())
    cells = st.one_of(st.builds(Cell, st.sampled_from(["kite", "star"]), turns), st.just(Cell(fabric="sea")))
    # One block at least says how large a place is.
    found = [tuple(draw(cells) for _ in range(across - (on_point and row % 2))) for row in range(rows)]
    found[0] = (Cell("kite", draw(turns)), *found[0][1:])
    sashing = draw(
        st.none()
        | st.builds(
            Sashing,
            st.sampled_from([0.75, 1.0, 2.5, 6.0]),
            st.just("foam"),
            st.sampled_from(["", "brass"]),
            st.booleans(),
        )
    )
    place = Set.ON_POINT if on_point else Set.STRAIGHT
    return replace(setting("k", set=place, sashing=sashing), rows=tuple(found))


@given(stated=any_setting())
@settings(max_examples=60, deadline=None)
def test_all_pieces_fill_the_quilt_and_none_lies_on_another(book: LookBook, stated: Setting) -> None:
    quilt = laid(stated, book)
    shapes = polygons(quilt)
    whole = quilt.width_in * quilt.height_in
    assert math.fsum(shape.area for shape in shapes) == pytest.approx(whole, rel=1e-12)
    assert shapely.union_all(shapes, grid_size=1e-9).area == pytest.approx(whole, rel=1e-9)
    edge = shapely.box(0, 0, quilt.width_in, quilt.height_in).buffer(1e-9)
    assert all(edge.covers(shape) for shape in shapes)
    assert len(quilt.spots) + len(of(quilt, Role.SETTING_BLOCK)) == sum(map(len, stated.rows))


@given(stated=any_setting())
@settings(max_examples=40, deadline=None)
def test_rows_rotated_by_a_quarter_turn_are_the_quilt_rotated(book: LookBook, stated: Setting) -> None:
    """Strips that run through lie across after it; with cornerstones every piece goes to the place of another."""
    if stated.sashing:
        stated = replace(stated, sashing=replace(stated.sashing, cornerstones="brass"))
    before, behind = laid(stated, book), laid(replace(stated, rows=rotated(stated)), book)
    assert (behind.width_in, behind.height_in) == pytest.approx((before.height_in, before.width_in))
    turn: Affine = (0.0, 1.0, -1.0, 0.0, before.height_in, 0.0)

    def lies(spot: Spot, onward: Affine = (1.0, 0.0, 0.0, 1.0, 0.0, 0.0)) -> tuple[float, ...]:
        return (spot.look, *(round(v, 6) + 0.0 for v in after(spot.place, onward)))

    def seen(cloth: Cloth, onward: Affine = (1.0, 0.0, 0.0, 1.0, 0.0, 0.0)) -> tuple[object, ...]:
        ring = sorted((round(x, 6) + 0.0, round(y, 6) + 0.0) for x, y in (moved(onward, p) for p in cloth.ring))
        return (cloth.role, cloth.fabric, tuple(ring))

    assert sorted(lies(spot, turn) for spot in before.spots) == sorted(map(lies, behind.spots))
    assert sorted((seen(cloth, turn) for cloth in before.cloths), key=str) == sorted(
        map(seen, behind.cloths), key=str
    )


def rotated(stated: Setting) -> tuple[tuple[Cell, ...], ...]:
    """The rows that show a setting rotated clockwise."""
    on_point = stated.set is Set.ON_POINT
    at = {
        (2 * c + 1 + r % 2, r + 1) if on_point else (c, r): cell
        for r, row in enumerate(stated.rows)
        for c, cell in enumerate(row)
    }
    high = len(stated.rows) + 1 if on_point else len(stated.rows) - 1
    new = {(high - y, x): cell for (x, y), cell in at.items()}
    rows: dict[int, list[Cell]] = {}
    for (_, y), cell in sorted(new.items(), key=lambda entry: (entry[0][1], entry[0][0])):
        rows.setdefault(y, []).append(
            replace(cell, turn=Turn((cell.turn.quarters + 1) % 4, cell.turn.reversed)) if cell.source else cell
        )
    first, last = min(rows), max(rows)
    return tuple(tuple(rows.get(y, ())) for y in range(first, last + 1))


@pytest.mark.parametrize("quarters", range(4))
def test_a_block_is_rotated_clockwise_by_exact_quarter_turns(quarters: int) -> None:
    turned = replace(setting("k"), rows=((Cell("kite", Turn(quarters)),),))
    a, b, c, d, _, _ = quilt_of(turned).spots[0].place
    assert (a, b, c, d) == [(1, 0, 0, 1), (0, 1, -1, 0), (-1, 0, 0, -1), (0, -1, 1, 0)][quarters]


def test_places_far_from_the_first_are_as_exact_as_it_is() -> None:
    """A third of an inch is no float; 100 sums of it drift, a multiple does not."""
    wide = setting("k" * 100, sashing=Sashing(1 / 3, "foam"))
    spots = quilt_of(wide).spots
    assert [spot.place[4] for spot in spots] == [n * (6 + 1 / 3) for n in range(100)]


# -- on point ------------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("block_in", "side_in", "corner_in"),
    # Common practice: worked examples of quilters' handouts, squares for setting triangles.
    [(6, 9.75, 5.125), (9, 14, None), (12, 18.25, 9.375)],
)
def test_setting_triangles_are_those_of_the_trade(block_in: float, side_in: float, corner_in: float | None) -> None:
    point = setting("kk", "k", "kk", set=Set.ON_POINT)
    quilt = quilt_of(replace(point, sources=(replace(KITE, size=f"{block_in} in"),)))
    ruler = Ruler(0.25, Units.INCH)
    side, corner = of(quilt, Role.SIDE_TRIANGLE)[0], of(quilt, Role.CORNER_TRIANGLE)[0]
    assert ruler.quarter_square(math.dist(side.ring[0], side.ring[1])) <= side_in + 1e-9
    assert ruler.side_setting(side.width_in) == side_in
    # Across its diagonal a block measures its side times the square root of two.
    assert math.dist(side.ring[0], side.ring[1]) == pytest.approx(block_in * math.sqrt(2))
    assert corner.width_in == pytest.approx(block_in / math.sqrt(2))
    if corner_in is not None:
        assert ruler.half_square(corner.width_in) == corner_in


@pytest.mark.parametrize(("across", "down"), list(product((1, 2, 5), (1, 2, 4))))
def test_a_quilt_on_point_has_a_triangle_between_blocks_along_its_edge_and_four_corners(
    across: int, down: int
) -> None:
    rows = ["k" * (across - r % 2) for r in range(2 * down - 1)]
    quilt = quilt_of(setting(*rows, set=Set.ON_POINT))
    assert (quilt.columns, quilt.rows) == (across, down)
    assert (quilt.width_in, quilt.height_in) == pytest.approx((across * 6 * math.sqrt(2), down * 6 * math.sqrt(2)))
    assert len(of(quilt, Role.SIDE_TRIANGLE)) == 2 * (across - 1) + 2 * (down - 1)
    assert len(of(quilt, Role.CORNER_TRIANGLE)) == 4


def test_the_straight_grain_lies_on_the_outside_edge() -> None:
    quilt = quilt_of(setting("kkk", "kk", "kkk", set=Set.ON_POINT, sashing=Sashing(1, "foam", "brass")))
    for cloth in quilt.cloths:
        if cloth.role in (Role.SIDE_TRIANGLE, Role.HALF_CORNERSTONE):
            on_edge = [
                (p, q)
                for p, q in zip(cloth.ring, (*cloth.ring[1:], cloth.ring[0]), strict=True)
                if any(
                    abs(p[axis] - at) < 1e-9 and abs(q[axis] - at) < 1e-9
                    for axis, far in ((0, quilt.width_in), (1, quilt.height_in))
                    for at in (0.0, far)
                )
            ]
            assert len(on_edge) == 1
            (px, py), (qx, qy) = on_edge[0]
            assert math.degrees(math.atan2(abs(qy - py), abs(qx - px))) == pytest.approx(cloth.grain_deg)


def test_rows_of_one_block_on_point_make_a_column_and_none_is_lost() -> None:
    column = replace(setting("k", set=Set.ON_POINT), repeat=(1, 5))
    quilt = quilt_of(column)
    assert (len(quilt.spots), quilt.columns, quilt.rows) == (5, 1, 5)


def test_what_rows_on_point_lose_at_the_edge_is_told() -> None:
    quilt = quilt_of(replace(setting("ks", "sk", set=Set.ON_POINT), repeat=(2, 2)))
    (note,) = [note for note in quilt.notes if note.code == "rows"]
    assert note.text == (
        "on point every second row has 3 blocks, one less than the others; "
        "the last of 4 rows has no row below it and is left out"
    )
    as_stated = quilt_of(setting("ks", "k", "sk", set=Set.ON_POINT))
    assert not [note for note in as_stated.notes if note.code == "rows"]


def test_a_block_of_a_row_that_is_left_out_is_not_planned_and_told() -> None:
    """The star lies only in the last of two rows, and that one has no row below it."""
    quilt = quilt_of(setting("kk", "ss", set=Set.ON_POINT))
    assert [look.name for look in quilt.looks] == ["kite"]
    assert {spot.look for spot in quilt.spots} == {0}
    assert [note.text for note in quilt.notes if note.code == "unused"] == ["star lies nowhere in the quilt"]
    assert len(plans_of(quilt)) == 1


def test_sewn_rows_run_slantwise_and_neighbours_in_them_touch() -> None:
    quilt = quilt_of(setting("ksk", "ks", "ksk", "sk", "ksk", set=Set.ON_POINT))
    both: tuple[Spot | Cloth, ...] = (*quilt.spots, *quilt.cloths)
    pieces = {(piece.row, piece.column): shape for piece, shape in zip(both, polygons(quilt), strict=True)}
    assert min(row for row, _ in pieces) == 0
    for (row, column), shape in pieces.items():
        if beside := pieces.get((row, column + 1)):
            assert shape.exterior.intersection(beside.buffer(1e-6)).length == pytest.approx(6, abs=1e-4)
    assert [cell for cell in sorted(pieces) if cell[0] == 0] == [onpoint.place(-1, 2, 3)]


# -- sashes --------------------------------------------------------------------------------------------------


@pytest.mark.parametrize("outside", [False, True])
def test_straight_sashes_and_cornerstones_are_counted(outside: bool) -> None:
    across, down, more = 4, 3, 1 if outside else -1
    quilt = quilt_of(setting(*["k" * across] * down, sashing=Sashing(1.5, "foam", "brass", outside)))
    lines = (across + more) * down + across * (down + more)
    assert len(of(quilt, Role.SASH)) == lines
    assert len(of(quilt, Role.CORNERSTONE)) == (across + more) * (down + more)
    assert (quilt.width_in, quilt.height_in) == (
        across * 6 + (across + more) * 1.5,
        down * 6 + (down + more) * 1.5,
    )


def test_without_cornerstones_strips_between_rows_run_through() -> None:
    quilt = quilt_of(setting("kkk", "kkk", sashing=Sashing(1.5, "foam", outside=True)))
    long = [cloth for cloth in of(quilt, Role.SASH) if cloth.width_in > 6]
    assert [(cloth.width_in, cloth.height_in) for cloth in long] == [(24.0, 1.5)] * 3


def test_on_point_the_edge_runs_through_the_middle_of_the_outer_cornerstones() -> None:
    quilt = quilt_of(setting("kkk", "kk", "kkk", set=Set.ON_POINT, sashing=Sashing(1.5, "foam", "brass")))
    assert len(of(quilt, Role.HALF_CORNERSTONE)) == 2 * (3 + 2)
    assert {round(cloth.width_in, 9) for cloth in of(quilt, Role.SIDE_TRIANGLE)} == {6.0}
    assert quilt.width_in == pytest.approx(3 * 7.5 * math.sqrt(2))
    # All that lies on the edge in the middle of one side, end to end: corner, half cornerstones, side triangles.
    long_side, half = 6 * math.sqrt(2), 1.5 * math.sqrt(2)
    assert quilt.width_in == pytest.approx(2 * 6 / math.sqrt(2) + 3 * half + 2 * long_side)
    assert "6 in finished" in quilt.construction
    assert "outer cornerstones" in quilt.construction


@pytest.mark.parametrize(
    ("across", "down", "cornerstones"), [(1, 3, ""), (2, 4, ""), (4, 2, "brass"), (1, 1, "brass")]
)
def test_rows_on_point_with_sashes_are_sewn_with_straight_full_seams(
    tmp_path: Path, across: int, down: int, cornerstones: str
) -> None:
    """A plan decides it: the whole quilt drawn as one block, a patch for each block and each plain piece of it."""
    rows = ["k" * (across - r % 2) for r in range(2 * down - 1)]
    quilt = quilt_of(setting(*rows, set=Set.ON_POINT, sashing=Sashing(1, "foam", cornerstones)))
    width, height = quilt.width_in, quilt.height_in
    net = shapely.union_all([shape.exterior for shape in polygons(quilt)], grid_size=1e-9)
    inside = shapely.line_merge(net.difference(shapely.box(0, 0, width, height).exterior.buffer(1e-6)))
    lines = ["seamwright block 1", f"size {width:.9f} x {height:.9f} in"]
    lines.append(f"outline 0, 0 to {width:.9f}, 0 to {width:.9f}, {height:.9f} to 0, {height:.9f}")
    seams = [" to ".join(f"{x:.9f}, {y:.9f}" for x, y in line.coords) for line in shapely.get_parts(inside)]
    lines += [f"seam {seam}" for seam in seams]
    drawing = tmp_path / "whole.seams"
    drawing.write_text("\n".join([*lines, ""]), encoding="utf-8")
    plan = api.plan(api.read_block(drawing))
    assert len(plan.block.patches) == len(quilt.spots) + len(quilt.cloths)
    assert plan.sewable == "straight"


def test_a_quilt_without_sashes_on_point_needs_no_word_on_construction() -> None:
    assert quilt_of(setting("kk", "k", "kk", set=Set.ON_POINT)).construction == ""


# -- looks ---------------------------------------------------------------------------------------------------


def test_each_block_is_read_once_and_worn_by_all_cells_that_ask_for_it() -> None:
    quilt = quilt_of(replace(setting("ks", "sk"), repeat=(3, 2)))
    assert [look.name for look in quilt.looks] == ["kite", "star"]
    assert [look.drawing for look in quilt.looks] == [f"{KITE.path}@6in", f"{STAR.path}@6in"]
    assert len(quilt.spots) == 24


@pytest.mark.parametrize(
    ("asks", "entries", "looks"),
    [
        ("", "kite, kite in own, kite in Dusk, kite in dusk", ["kite", "kite in dusk"]),
        ("option colourway dusk\n", "kite in own, kite, kite in dusk, kite 90", ["kite", "kite in dusk"]),
    ],
)
def test_a_colourway_that_a_drawing_has_anyway_is_one_look_named_or_not(
    asks: str, entries: str, looks: list[str], tmp_path: Path
) -> None:
    block = replace(api.read_block(DESIGNS / "kite.svg"), colourways=(Colourway("dusk", (("sky", "ink"),)),))
    (tmp_path / "kite.seams").write_text(write_seams(block) + asks)
    (tmp_path / "watch.setting").write_text(f"seamwright quilt 1\nblock kite kite.seams\nrow {entries}\n")
    quilt = read_quilt(tmp_path / "watch.setting")
    assert [look.name for look in quilt.looks] == looks
    assert [plan.block.colourway for plan in plans_of(quilt)] == ["", "dusk"]
    assert [plan.block.fabrics_in(0) for plan in plans_of(quilt)] == [
        look.block.fabrics_in(0) for look in quilt.looks
    ]
    assert cutting_of(quilt).fabrics


def test_a_reversed_block_that_is_its_own_mirror_is_rotated_instead() -> None:
    """A gull is the same left and right; a pennant is after half a turn, and a kite never is."""
    there = [Cell(name, turn) for name in ("gull", "pennant") for turn in (Turn(0), Turn(0, True), Turn(2, True))]
    gull = Source("gull", str(DESIGNS / "gull.svg"), "6 in")
    flag = Source("pennant", PENNANT.path, "6 in")
    for rows, quarters in ((there[:3], [0, 0, 2]), (there[3:], [0, 2, 0])):
        quilt = quilt_of(replace(setting("k"), sources=(gull, flag), rows=(tuple(rows),)))
        assert len(quilt.looks) == 1
        assert [spot.quarters for spot in quilt.spots] == quarters
    kite = quilt_of(replace(setting("k"), rows=((Cell("kite"), Cell("kite", Turn(0, True))),)))
    assert [look.name for look in kite.looks] == ["kite", "kite reversed"]


def test_plans_are_those_that_every_command_makes() -> None:
    quilt = quilt_of(replace(setting("ks"), rows=((Cell("kite"), Cell("kite", Turn(1, True))),)))
    plain, reversed_ = plans_of(quilt)
    alone = api.outcome(f"{KITE.path}@6in").plan
    mirrored = api.outcome(f"{KITE.path}@6in", [("reversed", "yes")]).plan
    assert alone is not None
    assert mirrored is not None
    assert (plain.id, reversed_.id) == (alone.id, mirrored.id)
    assert quilt.looks[1].block.points == reversed_.block.points


def test_blocks_that_cannot_be_sewn_are_told_by_their_lines_and_curved_ones_can(tmp_path: Path) -> None:
    pin = tmp_path / "pin.seams"
    lines = ["seamwright block 1", "size 8 in", "grid 8", "outline 0, 0 to 8, 0 to 8, 8 to 0, 8"]
    around = ["seam 0, 2 to 6, 2", "seam 6, 0 to 6, 6", "seam 8, 6 to 2, 6", "seam 2, 8 to 2, 2"]
    pin.write_text("\n".join([*lines, *around, ""]), encoding="utf-8")
    bow = tmp_path / "bow.seams"
    bow.write_text("\n".join([*lines, "arc 0, 4 through 4, 2 to 8, 4", ""]), encoding="utf-8")
    sources = (Source("pin", str(pin), "", 3), Source("bow", str(bow), "", 4))
    with pytest.raises(StuckError, match=r"line 3, column 1: block pin cannot be sewn.*--set-in"):
        plans_of(quilt_of(replace(setting("k"), sources=sources, rows=((Cell("bow"), Cell("pin")),))))
    (curved,) = plans_of(quilt_of(replace(setting("k"), sources=sources, rows=((Cell("bow"),),))))
    assert curved.sewable == "curved"


@pytest.mark.parametrize(
    ("size", "called"),
    [("8 in", "k.svg@8in"), ("8 1/2 in", "k.svg@8 1/2in"), ("20 cm", "k.svg@20cm"), ("", "k.svg")],
)
def test_a_block_is_called_as_commands_take_it(size: str, called: str) -> None:
    assert drawing_of(Source("kite", "k.svg", size)) == called


def test_fabrics_of_a_setting_made_in_python_recolour_its_blocks() -> None:
    fabrics = (Fabric("brass", colour="#112233"), Fabric("sea", colour="#334455"))
    ways = (Colourway("dusk", (("brass", "sea"),)),)
    rows = ((Cell("star"), Cell("star", colourway="dusk")),)
    quilt = quilt_of(replace(setting("s"), fabrics=fabrics, colourways=ways, rows=rows))
    own, dusk = (look.block for look in quilt.looks)
    assert [look.name for look in quilt.looks] == ["star", "star in dusk"]
    assert {f.colour for f in own.fabrics if f.name == "brass"} == {"#112233"}
    assert {patch.fabric for patch in own.patches} - {patch.fabric for patch in dusk.patches} == {"brass"}


def test_plain_pieces_are_of_the_fabrics_that_the_quilt_knows() -> None:
    known = replace(setting("k.", set=Set.STRAIGHT), fabrics=(Fabric("Sea", colour="#335577"),))
    quilt = quilt_of(known)
    assert [cloth.fabric for cloth in quilt.cloths] == ["Sea"]
    assert not [note for note in quilt.notes if note.code == "fabric"]


def test_a_fabric_without_a_colour_is_told_with_the_line_that_gives_it_one() -> None:
    (note,) = [note for note in quilt_of(setting("k.")).notes if note.code == "fabric"]
    assert note.text == "no line says what colour sea is; add a line such as: fabric sea colour #9fb8c8"


def test_one_name_in_two_colours_is_told(tmp_path: Path) -> None:
    other = tmp_path / "other.seams"
    other.write_text(Path(STAR.path).read_text(encoding="utf-8").replace("#4f8196", "#4f8197"), encoding="utf-8")
    sources = (STAR, Source("other", str(other), "6 in"))
    both = replace(setting("s"), sources=sources, rows=((Cell("star"), Cell("other")),))
    told = [note.text for note in quilt_of(both).notes if note.code == "fabric"]
    assert told == [
        "sea is #4f8196 in star and #4f8197 in other, and a quilt has one fabric of a name; say which with a line: "
        "fabric sea colour #4f8196"
    ]
    assert not quilt_of(replace(both, fabrics=(Fabric("sea", colour="#4f8196"),))).notes


def test_a_fabric_line_that_nothing_is_of_is_told_with_the_nearest_name() -> None:
    lines = (Fabric("brasss", colour="#aa8833"), Fabric("sea", colour="#4f8196"))
    texts = [note.text for note in quilt_of(replace(setting("s."), fabrics=lines)).notes]
    assert texts == ["nothing in the quilt is of brasss, which a line states; perhaps brass is meant"]


def test_a_fabric_is_known_from_whichever_block_says_its_colour() -> None:
    """The kite names its ink, the star says what colour it is."""
    quilt = quilt_of(replace(setting("ks"), rows=((Cell("kite"), Cell("star"), Cell(fabric="ink")),)))
    assert next(fabric.colour for fabric in quilt.fabrics if fabric.name == "ink") == "#1b2a41"
    assert not quilt.notes


def test_a_fabric_called_by_a_colour_is_of_that_colour() -> None:
    quilt = quilt_of(replace(setting("k"), rows=((Cell("kite"), Cell(fabric="#aabbcc")),)))
    assert next(f.colour for f in quilt.fabrics if f.name == "#aabbcc") == "#aabbcc"
    assert not [note for note in quilt.notes if note.code == "fabric"]


# -- what cannot be laid -------------------------------------------------------------------------------------


def refused(stated: Setting, kind: type[SeamwrightError] = SeamwrightError) -> str:
    with pytest.raises(kind) as caught:
        quilt_of(replace(stated, file="evening.setting"))
    assert all(fault.mend for fault in caught.value.faults)
    return str(caught.value)


def cell(name: str, quarters: int = 0, **other: object) -> Cell:
    return Cell(name, Turn(quarters), line=9, column=5, **other)  # type: ignore[arg-type]


def rows(*cells: Cell) -> Setting:
    return replace(setting("k"), rows=(tuple(cells),))


@pytest.mark.parametrize(
    ("stated", "words"),
    [
        (
            rows(cell("pennant"), cell("pennant", 1)),
            ["a quarter turn makes it 4 1/2 x 6 in", "180 degrees", "line 9"],
        ),
        (rows(cell("pennant", 1), cell("pennant")), ["without a quarter turn it is 6 x 4 1/2 in", "180 degrees"]),
        (
            rows(cell("pennant", 1), cell("pennant", 2)),
            ["without a quarter turn it is 6 x 4 1/2 in", "180 degrees"],
        ),
        (replace(rows(cell("pennant")), set=Set.ON_POINT), ["on point blocks are square", "set straight"]),
        (
            rows(cell("kite"), cell("pennant")),
            ["pennant is 6 x 4 1/2 in", "places of the quilt are 6 x 6 in", "no size"],
        ),
        (
            replace(rows(cell("kite"), cell("star")), sources=(KITE, replace(STAR, size="8 in"))),
            ["star is 8 x 8 in", "size 6 in on the line of star", "line 9, column 5"],
        ),
        (rows(cell("gull")), ["no block is called 'gull'", "kite, star and pennant", "line 9, column 5"]),
        (rows(cell("kite", colourway="dusk")), ["no colourway is called 'dusk'", "line 9, column 5"]),
        (rows(Cell(fabric="sea")), ["all places of the quilt are plain"]),
        (replace(setting("k"), rows=()), ["no rows"]),
        (setting("kk", sashing=Sashing(0.0, "foam")), ["sashing has no width"]),
        (
            replace(setting("k"), sources=(KITE, replace(STAR, name="Kite"))),
            ["two blocks are called 'Kite'", "line 4"],
        ),
        (setting("kk", "k"), ["row 2 has 1 block"]),
        (setting("kk", "k", "k", set=Set.ON_POINT), ["rows of 2 and of 1 take turns"]),
        (setting("kk", "k", set=Set.ON_POINT), ["begins and ends with a row of 2"]),
    ],
)
def test_what_cannot_be_laid_is_refused_with_its_reason_and_its_mend(stated: Setting, words: Sequence[str]) -> None:
    said = refused(stated)
    assert "evening.setting" in said
    for word in words:
        assert word in said


def test_blocks_of_no_rectangular_outline_are_refused(tmp_path: Path) -> None:
    star = Source("mooring", str(DESIGNS / "mooring-star.seams"), "", 7)
    assert "no rectangular outline" in refused(replace(setting("k"), sources=(star,), rows=((cell("mooring"),),)))
    dome = tmp_path / "dome.seams"
    lines = ["size 8 in", "grid 8", "outline 0, 8 to 0, 2 to 8, 2 to 8, 8", "side 0, 2 through 4, 0 to 8, 2"]
    dome.write_text("\n".join(["seamwright block 1", *lines, "seam 4, 0 to 4, 8", ""]))
    bent = Source("dome", str(dome), "", 7)
    assert "a curved outline" in refused(replace(setting("k"), sources=(bent,), rows=((cell("dome"),),)))


def test_a_drawing_that_is_not_there_is_told_by_the_line_that_names_it() -> None:
    lost = Source("gull", "no-such-gull.svg", "8 in", 6)
    assert "line 6" in refused(replace(setting("k"), sources=(lost,), rows=((cell("gull"),),)), FileError)


def test_a_size_that_the_drawing_cannot_have_is_told_by_its_line() -> None:
    tall = replace(PENNANT, size="6x9in")
    said = refused(replace(setting("k"), sources=(tall,), rows=((cell("pennant"),),)), OptionError)
    assert "line 5" in said
    assert "Give its width alone, and its height follows from its shape: size 6 in" in said


def test_the_first_block_says_how_large_places_are() -> None:
    stated = rows(cell("kite"), cell("star"), cell("kite"))
    said = refused(replace(stated, sources=(KITE, replace(STAR, size="8 in"))))
    assert "star is 8 x 8 in as it lies, and the places of the quilt are 6 x 6 in" in said


def test_places_of_a_plain_centre_are_as_large_as_the_blocks_of_its_border() -> None:
    border = Border(Edging.PIECED, 0.0, cell=Cell("star"))
    plain = replace(rows(Cell(fabric="sea")), repeat=(3, 4), borders=(border,))
    quilt = quilt_of(plain)
    assert (quilt.cell_in, quilt.width_in, quilt.height_in) == ((6.0, 6.0), 30.0, 36.0)


def test_two_names_of_one_drawing_in_one_size_are_one_look() -> None:
    twice = replace(rows(cell("kite"), cell("again")), sources=(KITE, replace(KITE, name="again")))
    assert [look.name for look in quilt_of(twice).looks] == ["kite"]


def test_rectangular_blocks_all_on_their_side_are_laid_so() -> None:
    quilt = quilt_of(rows(cell("pennant", 1), cell("pennant", 3)))
    assert quilt.cell_in == (4.5, 6.0)


def test_blocks_that_differ_by_what_tidying_moves_are_eased_and_told() -> None:
    off = replace(STAR, size="6.03 in")
    quilt = quilt_of(replace(setting("ks"), sources=(KITE, off)))
    assert quilt.width_in == 12.0
    (note,) = [note for note in quilt.notes if note.code == "eased"]
    assert note.largest_in == pytest.approx(0.03)
    assert note.text.startswith("star: eased to 6 x 6 in")


def test_options_that_rows_state_are_refused_for_the_whole_quilt() -> None:
    with pytest.raises(OptionError, match="row kite reversed"):
        quilt_of(setting("k"), reversed=True)
    with pytest.raises(OptionError, match="fabrics of its own"):
        quilt_of(replace(setting("k"), fabrics=(Fabric("sea"),)), palette=str(DESIGNS / "dusk.palette"))
