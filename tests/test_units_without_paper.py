"""Patches that need no paper: which make a unit, what is cut for them, how many at a time they are made.

Sizes, and ways to make many at a time, are common practice (from memory); that such units come out true is shown in
test_rulers.py.
"""

from __future__ import annotations

import math
import re
from collections.abc import Sequence
from dataclasses import replace
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely import Polygon, union_all

from seamwright import api
from seamwright.cutting.model import Unit
from seamwright.cutting.pieces import pieces_of
from seamwright.cutting.units import units_of
from seamwright.cutting.ways import ways_over
from seamwright.fabric.model import Fabric
from seamwright.fabric.rulers import RulerCut, ruler_cut
from seamwright.fabric.units import recognise
from seamwright.geometry import Point, Ring
from seamwright.options import CutOptions, Units
from seamwright.piecing.model import Plan
from support.exact import exact_block

# -- shapes ------------------------------------------------------------------------------------------------


def square(x: float, y: float, width: float, height: float | None = None) -> Ring:
    height = width if height is None else height
    return ((x, y), (x + width, y), (x + width, y + height), (x, y + height))


def half_squares(x: float, y: float, side: float) -> list[Ring]:
    a, b, c, d = square(x, y, side)
    return [(a, b, d), (b, c, d)]


def quarter_squares(x: float, y: float, side: float, halves: bool = False) -> list[Ring]:
    a, b, c, d = square(x, y, side)
    m = (x + side / 2, y + side / 2)
    rest: list[Ring] = [(c, d, a)] if halves else [(c, d, m), (d, a, m)]
    return [(a, b, m), (b, c, m), *rest]


def geese(x: float, y: float, height: float) -> list[Ring]:
    a, b, c, d = square(x, y, 2 * height, height)
    m = (x + height, y)
    return [(m, c, d), (a, m, d), (m, b, c)]


KINDS = {
    "rectangle": [square(0, 0, 3, 2.125)],
    "half-square unit": half_squares(0, 0, 3),
    "quarter-square unit": quarter_squares(0, 0, 3),
    "quarter-square unit of three": quarter_squares(0, 0, 4, halves=True),
    "flying geese": geese(0, 0, 2),
    "grid": [*half_squares(0, 0, 3), square(3, 0, 3), *quarter_squares(0, 3, 3), *half_squares(3, 3, 3)],
    "grid of rails": [square(0, 0, 4, 1), *geese(0, 1, 2), square(4, 0, 1.5, 3)],
}


def turned(ring: Ring, degrees: float, at: Point = (5.3, -2.1)) -> Ring:
    cos, sin = math.cos(math.radians(degrees)), math.sin(math.radians(degrees))
    return tuple((at[0] + x * cos - y * sin, at[1] + x * sin + y * cos) for x, y in ring)


@pytest.mark.parametrize("turn", [0, 90, 180, 45, -45, 17, 211.5])
@pytest.mark.parametrize("kind", KINDS)
def test_units_are_recognised_however_they_lie(kind: str, turn: float) -> None:
    rings = [turned(ring, turn) for ring in KINDS[kind]]
    made = recognise(rings, None, 1 / 4, Units.INCH)
    assert made is not None and made.kind == kind.split(" of ")[0]
    # GEOS: the patches together are one rectangle of that size.
    whole = union_all([Polygon(ring).buffer(1e-9, join_style="mitre") for ring in rings])
    assert made.width_in * made.height_in == pytest.approx(whole.area, abs=1e-5)
    assert sorted(made.patches) == list(range(len(rings)))
    assert recognise(rings, turn, 1 / 4, Units.INCH) is not None
    assert recognise(rings, turn + 20, 1 / 4, Units.INCH) is None


def test_a_grid_tells_its_units_and_how_they_are_joined() -> None:
    made = recognise(KINDS["grid"], 0, 1 / 4, Units.INCH)
    assert made is not None and not made.beside
    assert [[unit.kind for unit in row.units] for row in made.cells] == [
        ["half-square unit", "rectangle"],
        ["quarter-square unit", "half-square unit"],
    ]
    rails = recognise(KINDS["grid of rails"], 0, 1 / 4, Units.INCH)
    assert rails is not None and rails.beside
    assert [cell.kind for cell in rails.cells] == ["grid", "rectangle"]


@pytest.mark.parametrize(
    ("rings", "units"),
    [
        pytest.param([square(0, 0, 3.06)], Units.INCH, id="off the ruler's marks"),
        pytest.param([square(0, 0, 3)], Units.METRIC, id="inches, with a ruler in cm"),
        pytest.param([((0.0, 0.0), (3.0, 0.0), (0.0, 3.0))], Units.INCH, id="a triangle alone"),
        pytest.param(half_squares(0, 0, 3)[:1] + half_squares(3, 0, 3)[1:], Units.INCH, id="halves of two squares"),
        pytest.param(
            [((0.0, 0.0), (2.0, 0.0), (0.0, 3.0)), ((2.0, 0.0), (2.0, 3.0), (0.0, 3.0))],
            Units.INCH,
            id="halves of a rectangle",
        ),
        pytest.param([square(0, 0, 1), square(2, 0, 1)], Units.INCH, id="with a gap"),
        pytest.param([square(0, 0, 1), square(1, 0, 1), square(0, 1, 1)], Units.INCH, id="an L"),
        pytest.param(
            [square(0, 0, 2, 1), square(2, 0, 1, 2), square(1, 2, 2, 1), square(0, 1, 1, 2), square(1, 1, 1)],
            Units.INCH,
            id="a ring of seams",
        ),
        pytest.param(
            [((0.0, 0.0), (3.0, 0.0), (3.5, 2.0), (0.5, 2.0))], Units.INCH, id="slanted",
        ),
    ],
)  # fmt: skip
def test_what_a_ruler_does_not_make_is_no_unit(rings: Sequence[Ring], units: Units) -> None:
    allowance = 1 / 4 if units is Units.INCH else 0.75 / 2.54
    assert recognise(rings, None, allowance, units) is None


def test_an_allowance_that_no_ruler_shows_makes_no_unit() -> None:
    assert recognise(KINDS["rectangle"], 0, 0.27, Units.INCH) is None
    centimetres = [tuple((x / 2.54, y / 2.54) for x, y in ring) for ring in KINDS["half-square unit"]]
    assert recognise(centimetres, 0, 0.75 / 2.54, Units.METRIC) is not None


@given(
    columns=st.lists(st.integers(4, 24), min_size=1, max_size=4),
    rows=st.lists(st.integers(4, 24), min_size=1, max_size=4),
    kinds=st.lists(st.integers(0, 3), min_size=16, max_size=16),
    turn=st.sampled_from([0.0, 90.0, 30.0, -45.0]),
)
@settings(max_examples=40, deadline=None)
def test_every_grid_on_marks_is_recognised_and_no_other(
    columns: list[int], rows: list[int], kinds: list[int], turn: float
) -> None:
    rings: list[Ring] = []
    y = 0.0
    for j, high in enumerate(rows):
        x = 0.0
        for i, wide in enumerate(columns):
            w, h = wide / 8, high / 8
            kind = kinds[4 * j + i]
            if w == h and kind:
                rings += [half_squares, quarter_squares, half_squares][kind - 1](x, y, w)
            elif w == 2 * h and kind:
                rings += geese(x, y, h)
            else:
                rings.append(square(x, y, w, h))
            x += w
        y += h
    laid = [turned(ring, turn) for ring in rings]
    made = recognise(laid, None, 1 / 4, Units.INCH)
    assert made is not None and len(made.units) == len(rows) * len(columns)
    assert sorted(made.patches) == list(range(len(rings)))
    # One corner moved by 1/32 in: no ruler cuts that.
    (px, py), *others = laid[-1]
    assert recognise([*laid[:-1], ((px + 1 / 32, py + 1 / 50), *others)], None, 1 / 4, Units.INCH) is None
    assert len(rings) == 1 or recognise(laid[:-1] + laid[:1], None, 1 / 4, Units.INCH) is None


# -- of a plan ----------------------------------------------------------------------------------------------

JETTY = """seamwright block 1
name jetty
size 12 in
grid 12
seam 3, 0 to 3, 12
seam 9, 0 to 9, 12
seam 0, 3 to 12, 3
seam 0, 9 to 12, 9
seam 0, 3 to 3, 0
seam 9, 0 to 12, 3
seam 12, 9 to 9, 12
seam 3, 12 to 0, 9
seam 3, 3 to 6, 0 to 9, 3
seam 3, 9 to 6, 12 to 9, 9
seam 3, 3 to 9, 9
seam 9, 3 to 3, 9
fabric sky colour #dbe7ee value light
fabric sea colour #24506b value dark
fabric sand colour #d8b27a value medium
fabric foam colour #f4f1ea value light
lay sky at 0.5, 0.5 and 11.5, 0.5 and 11.5, 11.5 and 0.5, 11.5
lay sea at 2.5, 2.5 and 9.5, 2.5 and 9.5, 9.5 and 2.5, 9.5
lay sand at 6, 2 and 6, 10 and 1.5, 6 and 10.5, 6
lay sky at 3.5, 0.5 and 8.5, 0.5 and 3.5, 11.5 and 8.5, 11.5
lay sea at 6, 4 and 6, 8
lay foam at 4, 6 and 8, 6
"""


def planned(folder: Path, text: str = JETTY, **options: str) -> Plan:
    path = folder / "jetty.seams"
    path.write_text(text)
    return api.plan(api.read_block(path), **options)


@pytest.fixture(scope="module")
def by_ruler(tmp_path_factory: pytest.TempPathFactory) -> Plan:
    return planned(tmp_path_factory.mktemp("jetty"), rotary="auto")


def found(plan: Plan, blocks: int, kind: str) -> Unit:
    (unit,) = (unit for unit in units_of(plan, CutOptions(blocks=blocks)) if unit.kind == kind)
    return unit


@pytest.mark.parametrize("blocks", [1, 3, 12])
def test_equal_units_are_one_and_are_cut_for_all_blocks(by_ruler: Plan, blocks: int) -> None:
    def cuts(kind: str) -> dict[str | None, tuple[float, int, int]]:
        unit = found(by_ruler, blocks, kind)
        return {cut.fabric: (cut.width_in, cut.share, cut.count) for cut in unit.cuts}

    def up(count: float) -> int:
        return math.ceil(count * blocks)

    # By hand from the trade's rules: four half-square units of 3 in, two flying geese of 6 x 3, one of 6 in.
    assert cuts("half-square unit") == {"sky": (3.875, 2, up(4 / 2)), "sea": (3.875, 2, up(4 / 2))}
    assert cuts("flying geese") == {"sand": (7.25, 4, up(2 / 4)), "sky": (3.875, 2, up(4 / 2))}
    assert cuts("quarter-square unit") == {"sea": (7.25, 4, up(2 / 4)), "foam": (7.25, 4, up(2 / 4))}
    assert cuts("rectangle") == {"sand": (6.5, 1, 2 * blocks)}
    geese_unit = found(by_ruler, blocks, "flying geese")
    assert (geese_unit.width_in, geese_unit.height_in, geese_unit.count) == (6, 3, 2 * blocks)
    assert (geese_unit.unfinished_width_in, geese_unit.unfinished_height_in) == (6.5, 3.5)
    assert not any(unit.on_paper for unit in units_of(by_ruler, CutOptions()))


def test_units_and_pieces_of_one_plan_are_cut_alike(by_ruler: Plan) -> None:
    pieces = {piece.name: piece for piece in pieces_of(by_ruler)}
    told = 0
    for unit in units_of(by_ruler, CutOptions()):
        for cut in unit.cuts:
            for name in cut.patches:
                piece, told = pieces[name], told + 1
                assert (piece.shape, piece.share, piece.fabric) == (cut.shape, cut.share, cut.fabric)
                assert sorted((piece.width_in, piece.height_in)) == sorted((cut.width_in, cut.height_in))
    assert told == len(by_ruler.block.patches)


def test_what_lies_on_paper_is_only_advised(tmp_path: Path) -> None:
    plan = planned(tmp_path)
    units = units_of(plan, CutOptions())
    assert {section.method for section in plan.sections} == {"paper"}
    assert {unit.kind: unit.on_paper for unit in units} == {
        "rectangle": False,  # a plain piece is sewn without paper in any plan
        "grid": True,
        "quarter-square unit": True,
    }
    (grid,) = (unit for unit in units if unit.kind == "grid")
    assert (grid.width_in, grid.height_in, grid.count) == (12, 3, 2)
    inside = {name for unit in units for name in unit.patches}
    assert inside == set(plan.patch_names())


def test_many_at_a_time_are_offered_where_the_fabrics_allow_it(by_ruler: Plan) -> None:
    one, two, eight = found(by_ruler, 6, "half-square unit").ways
    assert one.startswith("One by one")
    # 24 units of 3 in: 12 pairs of squares 4 in, trimmed to 3 1/2; 3 pairs of 7 3/4 in make 8 each.
    assert "cut 12 squares 4 in of sea and as many of sky" in two and "back of sky, the lighter one" in two
    assert "sew 1/4 in away from it on both sides" in two and "trim each unit to 3 1/2 in" in two
    assert "cut 3 squares 7 3/4 in" in eight and "This makes 24." in eight
    assert len(found(by_ruler, 1, "half-square unit").ways) == 2, "four units are too few for eight at a time"
    _, four, corners = found(by_ruler, 3, "flying geese").ways
    # 6 geese: two large squares make 8.
    assert "cut 2 squares 7 1/4 in of sand and 8 squares 3 7/8 in of sky" in four
    assert "This makes 8, two more than needed." in four
    assert "6 rectangles 6 1/2 x 3 1/2 in of sand and 12 squares 3 1/2 in of sky" in corners
    assert all("bias" in unit.ways[0] for unit in units_of(by_ruler, CutOptions()) if unit.ways)


def test_metric_units_are_cut_by_metric_practice(tmp_path: Path) -> None:
    plan = planned(tmp_path, JETTY.replace("size 12 in", "size 30 cm"), units="metric", rotary="auto")
    cm = 1 / 2.54
    half, goose = found(plan, 6, "half-square unit"), found(plan, 6, "flying geese")
    # 7.5 cm finished: + 1.5 once sewn, + 2.56 for a half-square and 15 + 3.62 for a quarter-square, up to 1 mm.
    assert half.unfinished_width_in == pytest.approx(9 * cm)
    assert [cut.width_in for cut in half.cuts] == pytest.approx([10.1 * cm] * 2)
    assert goose.cuts[0].width_in == pytest.approx(18.7 * cm)
    assert "squares 20.2 cm" in half.ways[2] and "sew 0.75 cm away" in half.ways[1]


def test_a_print_that_runs_one_way_is_cut_piece_by_piece(tmp_path: Path) -> None:
    striped = JETTY.replace("fabric foam colour", "fabric foam stripes 0 colour")
    assert striped != JETTY
    plan = planned(tmp_path, striped, rotary="auto")
    told = {unit.kind for unit in units_of(plan, CutOptions(blocks=6))}
    # Quarters of one square point four ways, and its stripes with them.
    assert told == {"half-square unit", "flying geese", "rectangle"}
    along = JETTY.replace("fabric sand colour", "fabric sand stripes 90 colour")
    rectangles = units_of(planned(tmp_path, along, rotary="auto"), CutOptions())
    assert {unit.kind for unit in rectangles} >= {"rectangle"}, "along its sides a print does no harm"
    askew = JETTY.replace("fabric sand colour", "fabric sand stripes 30 colour")
    assert "rectangle" not in {unit.kind for unit in units_of(planned(tmp_path, askew), CutOptions())}


@pytest.mark.parametrize("count", [*range(2, 20), 31, 32, 33])
@pytest.mark.parametrize(
    ("kind", "lines", "outline"),
    [
        ("half-square unit", [((0, 0), (3, 3))], ((0, 0), (3, 0), (3, 3), (0, 3))),
        ("flying geese", [((0, 2), (2, 0)), ((2, 0), (4, 2))], ((0, 0), (4, 0), (4, 2), (0, 2))),
    ],
)
def test_many_at_a_time_make_enough_and_hardly_more(
    kind: str, lines: list[tuple[Point, Point]], outline: Ring, count: int
) -> None:
    """Counted from the words: so many squares make so many units, one batch too many would be one too many."""
    block = exact_block(lines, outline)
    areas = [Polygon(block.patch_ring(n)).area for n in range(len(block.patches))]
    worn = ["sea" if n == areas.index(max(areas)) else "sky" for n in range(len(areas))]
    patches = tuple(replace(patch, fabric=name) for patch, name in zip(block.patches, worn, strict=True))
    block = replace(block, patches=patches, fabrics=(Fabric("sea"), Fabric("sky")))
    part = recognise([block.patch_ring(n) for n in range(len(patches))], None, 1 / 4, Units.INCH)
    assert part is not None and part.kind == kind
    told = {way.split(":")[0]: way for way in ways_over([(block, part, count)], 1 / 4, Units.INCH)}
    for name, batch in (("Two at a time", 2), ("Eight at a time", 8), ("Four at a time", 4)):
        if name not in told:
            continue
        words = told[name]
        squares = [int(found) for found in re.findall(r"(\d+) squares? [\d ]", words)]
        left = int(found.group(1)) if (found := re.search(r"Make the other (\d+)", words)) else 0
        (makes,) = re.findall(r"This makes (\d+)", words)
        assert int(makes) == squares[0] * batch
        assert count - left <= int(makes) < count - left + batch
        assert squares[1:] == ([4 * squares[0]] if batch == 4 else [])
    assert ("Two at a time" in told) == (kind == "half-square unit")
    assert ("Eight at a time" in told) == (kind == "half-square unit" and count >= 8)
    assert ("Four at a time" in told) == (kind == "flying geese" and count >= 3)


def test_a_rectangle_is_told_across_first_as_it_lies() -> None:
    assert ruler_cut(square(0, 0, 3, 2), 0, 1 / 4, Units.INCH) == RulerCut(1, 3.5, 2.5)
    assert ruler_cut(square(0, 0, 2, 3), 0, 1 / 4, Units.INCH) == RulerCut(1, 2.5, 3.5)
    assert ruler_cut(turned(square(0, 0, 2, 3), 90), 90, 1 / 4, Units.INCH) == RulerCut(1, 3.5, 2.5)
