"""Sheets: papers, what lies where on them, what they say, and foundations in parts."""

from __future__ import annotations

import math
import re
from collections import Counter
from functools import cache
from itertools import combinations
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely.geometry import LineString, MultiPoint, Polygon, box

from seamwright import api
from seamwright.block.model import Block
from seamwright.errors import OptionError
from seamwright.foundation.make import foundations
from seamwright.foundation.model import Foundation
from seamwright.geometry import bounds, moved
from seamwright.ink.lettering import words_box
from seamwright.ink.model import Stroke, Words
from seamwright.options import PlanOptions, PrintOptions, Units
from seamwright.paper import PAPERS, Margins, Paper, paper
from seamwright.piecing.model import Plan
from seamwright.piecing.plan import plan
from seamwright.sheet.furniture import BEFORE_SEWING, CAUTIONS
from seamwright.sheet.gauges import RULES, edge_ticks
from seamwright.sheet.layout import lay_out
from seamwright.sheet.legends import joins_in_order, legends
from seamwright.sheet.model import Sheet
from seamwright.sheet.nest import AIR_PT, Bed, angles, shape
from support.by_hand import fan, foundations_by_hand, plan_by_hand, strips

MM = 72 / 25.4
ISO_216_AND_ANSI = [
    # ISO 216:2007, table 1
    pytest.param("a4", 210 * MM, 297 * MM, id="A4"),
    pytest.param("a3", 297 * MM, 420 * MM, id="A3"),
    # ANSI/ASME Y14.1, table 1: sizes A and B
    pytest.param("letter", 8.5 * 72, 11 * 72, id="letter"),
    pytest.param("tabloid", 11 * 72, 17 * 72, id="tabloid"),
    # common practice in North America
    pytest.param("legal", 8.5 * 72, 14 * 72, id="legal"),
]


def made(block: Block, options: PlanOptions | None = None) -> tuple[Plan, tuple[Foundation, ...]]:
    planned = plan(block, options or PlanOptions())
    return planned, foundations(planned)


def as_one(block: Block) -> tuple[Plan, tuple[Foundation, ...]]:
    """The whole block as one section, whatever a planner would say."""
    planned = plan_by_hand(block, [range(len(block.patches))])
    return planned, foundations_by_hand(planned)


@cache
def a_large_fan() -> tuple[Sheet, ...]:
    # Half the usual effort: enough of a search for two sheets fewer than without one.
    return lay_out([made(fan(9, 10, "fan"))], printing=PrintOptions(effort=128))


@cache
def some_sheets(paper_name: str = "letter") -> tuple[Sheet, ...]:
    """Two real blocks on shared sheets."""
    return lay_out([made(fan(6, 6, "beacon fan")), made(strips(5, 4, 4, "tide"))], paper=paper_name)


# A sheet that is nearly full, a print that leaves no room for squares, one in parts, one that lies slantwise.
LAYOUTS = {
    "two blocks": lambda: some_sheets(),
    "a4": lambda: some_sheets("a4"),
    "a square as wide as the paper": lambda: lay_out([as_one(strips(7.5, 7.5, 3))]),
    "no room for squares": lambda: lay_out([as_one(strips(7.5, 9, 3))]),
    "in parts": lambda: lay_out([as_one(fan(12, 6))]),
    "slantwise": lambda: lay_out([as_one(strips(10, 2, 3))]),
    "many": lambda: lay_out([made(fan(3, 4, f"fan {n}")) for n in range(6)]),
}
layouts = pytest.mark.parametrize("sheets", [pytest.param(f, id=name) for name, f in LAYOUTS.items()])


@pytest.mark.parametrize(("name", "width", "height"), ISO_216_AND_ANSI)
def test_papers_have_the_size_of_their_standard(name: str, width: float, height: float) -> None:
    found = paper(name.upper())
    assert (found.width_pt, found.height_pt) == pytest.approx((width, height), abs=1e-9)


def test_a4_is_what_pdf_readers_call_a4() -> None:
    # 595.276 x 841.890 pt, the usual rounding of 210 x 297 mm at 72 to 25.4 mm
    assert (round(paper("a4").width_pt, 3), round(paper("a4").height_pt, 3)) == (595.276, 841.890)


def test_home_printers_lose_half_an_inch_at_the_edge_that_leaves_last() -> None:
    # common practice: 1/4 in all round, 1/2 in at the trailing edge
    assert all(p.margins == Margins(0.25, 0.25, 0.5, 0.25) for p in PAPERS)
    assert paper("letter").printable_in == (8.0, 10.25)


@pytest.mark.parametrize(("slip", "meant"), [("leter", "letter"), ("A-4", "a4"), ("tabliod", "tabloid")])
def test_a_paper_that_is_not_known_is_refused_with_the_nearest(slip: str, meant: str) -> None:
    with pytest.raises(OptionError, match=f"'{slip}' is no paper.*Did you mean '{meant}'"):
        paper(slip)


rings = st.lists(st.tuples(st.integers(0, 40), st.integers(0, 40)), min_size=3, max_size=9).map(
    lambda points: MultiPoint([(x * 6.0, y * 6.0) for x, y in points]).convex_hull
)
convex = rings.filter(lambda hull: isinstance(hull, Polygon) and hull.area > 100)


@settings(derandomize=True, deadline=None, max_examples=60)
@given(hulls=st.lists(convex, min_size=2, max_size=8), free=st.booleans())
def test_a_quarter_inch_of_air_lies_between_any_two_prints(hulls: list[Polygon], free: bool) -> None:
    bed = Bed(18.0, 18.0, 594.0, 756.0)
    laid: list[Polygon] = []
    for hull in hulls:
        ring = tuple(hull.exterior.coords[:-1])
        spots = [bed.spot(shape(ring, a)) for a in (angles(ring) if free else (0.0, 90.0))]
        spot = next((s for s in spots if s is not None), None)
        if spot is not None:
            bed.take(spot)
            laid.append(Polygon([moved(bed.affine(spot), p) for p in ring]))
    assert laid
    frame = box(18, 18, 594, 756).buffer(1e-6)
    assert all(frame.covers(one) for one in laid)
    assert all(a.distance(b) >= 2 * AIR_PT - 1e-6 for a, b in combinations(laid, 2))


@pytest.mark.parametrize("over", [0.0, 0.45, 2.0, 2.25, 4.4])
def test_a_level_side_a_little_over_a_row_of_cells_keeps_its_air(over: float) -> None:
    bed = Bed(0.0, 0.0, 216.0, 720.0)
    sides = []
    for _ in range(2):
        ring = ((0.0, 0.0), (216.0, 0.0), (216.0, 180.0 + over), (0.0, 180.0 + over))
        spot = bed.spot(shape(ring))
        assert spot is not None
        bed.take(spot)
        sides.append(Polygon([moved(bed.affine(spot), p) for p in ring]))
    assert sides[0].distance(sides[1]) >= 2 * AIR_PT - 1e-6


def test_a_notch_is_filled() -> None:
    # An L and the square that its notch holds with a quarter inch of air lie in the box of the L.
    ell = ((0.0, 0.0), (216.0, 0.0), (216.0, 72.0), (72.0, 72.0), (72.0, 216.0), (0.0, 216.0))
    bed = Bed(0.0, 0.0, 216.0, 216.0)
    bed.take(bed.spot(shape(ell)))
    square = ((0.0, 0.0), (126.0, 0.0), (126.0, 126.0), (0.0, 126.0))
    spot = bed.spot(shape(square))
    assert spot is not None
    assert bed.affine(spot)[4:] == (90.0, 90.0)


@layouts
def test_nothing_is_printed_where_printers_do_not_print(sheets) -> None:
    for sheet in sheets():
        m = paper(sheet.paper).margins
        left, top = m.left * 72 - 0.5, m.top * 72 - 0.5
        right, bottom = sheet.width_pt - m.right * 72 + 0.5, sheet.height_pt - m.bottom * 72 + 0.5
        for mark in sheet.ink:
            points = (
                words_box(mark, 1.0) if isinstance(mark, Words) else getattr(mark, "points", None) or mark.rings[0]
            )
            x0, y0, x1, y1 = bounds(points)
            assert left <= x0 and top <= y0 and x1 <= right and y1 <= bottom, (sheet.number, mark)


@layouts
def test_every_sheet_carries_both_squares_and_a_long_line_each_way(sheets) -> None:
    for sheet in sheets():
        inch, five = sheet.check_squares_pt
        # an inch is 25.4 mm exactly; a point 1/72 in (ISO 32000-1, 8.3.2.3)
        assert inch[2] == 72.0
        assert five[2] == pytest.approx(50 * MM, abs=1e-9)
        assert five[0] < inch[0] and inch[0] + 72 < five[0] + five[2]
        (a, b), (c, d) = sheet.check_lines_pt
        assert math.dist(a, b) == pytest.approx(432.0, abs=1e-9)
        assert math.dist(c, d) == pytest.approx(432.0, abs=1e-9)
        tilted = [math.degrees(math.atan2(abs(q[1] - p[1]), abs(q[0] - p[0]))) for p, q in sheet.check_lines_pt]
        assert tilted == [pytest.approx(0.0, abs=1.0), pytest.approx(90.0, abs=1.0)]


@layouts
def test_every_sheet_says_how_to_print_it_and_what_it_is(sheets) -> None:
    laid = sheets()
    for sheet in laid:
        said = " ".join(mark.text for mark in sheet.ink if isinstance(mark, Words))
        for words in (
            BEFORE_SEWING,
            CAUTIONS,
            f"Sheet {sheet.number} of {len(laid)}:",
            "97 %",
            "94 %",
            "plan finished",
        ):
            assert set(re.findall(r"[\w%]+", words)) <= set(re.findall(r"[\w%]+", said)), words


@layouts
def test_furniture_keeps_off_the_foundations(sheets) -> None:
    for sheet in sheets():
        trims = [Polygon([moved(p.affine, q) for q in p.foundation.trim_outline]) for p in sheet.placed]
        if any(p.tile for p in sheet.placed) or any(t.contains(box(*_square(sheet))) for t in trims):
            continue
        for square in sheet.check_squares_pt:
            x, y, side = square
            assert all(t.distance(box(x, y, x + side, y + side)) >= 9.0 for t in trims)
        for line in sheet.check_lines_pt:
            assert all(
                t.distance(LineString(line)) >= 9.0 or t.exterior.distance(LineString(line)) < 0.01 for t in trims
            )


def _square(sheet: Sheet) -> tuple[float, float, float, float]:
    x, y, side = sheet.check_squares_pt[1]
    return (x, y, x + side, y + side)


@layouts
def test_words_never_lie_over_words(sheets) -> None:
    for sheet in sheets():
        boxes = [
            Polygon(words_box(m, 1.0)).buffer(-0.3) for m in sheet.ink if isinstance(m, Words) and m.text.strip()
        ]
        assert not [1 for a, b in combinations(boxes, 2) if a.intersects(b)], sheet.number


@layouts
def test_prints_are_rotated_and_shifted_but_never_scaled_or_turned_over(sheets) -> None:
    for placed in (p for sheet in sheets() for p in sheet.placed):
        a, b, c, d, _, _ = placed.affine
        assert (a, b) == pytest.approx((d, -c), abs=1e-9)
        assert a * d - b * c == pytest.approx(72.0**2, rel=1e-12)


@layouts
def test_lines_and_type_survive_a_copier(sheets) -> None:
    for mark in (m for sheet in sheets() for m in sheet.ink):
        if isinstance(mark, Stroke):
            assert mark.pen.value.width_pt >= 0.5
        if isinstance(mark, Words):
            assert mark.size_pt >= 7.0
        assert mark.colour in ("#000000", "#dcdcdc")


def test_every_print_lies_on_some_sheet_as_often_as_asked() -> None:
    job = made(fan(4, 6))
    sheets = lay_out([job], printing=PrintOptions(copies=3))
    laid = Counter((p.foundation.section, p.copy) for sheet in sheets for p in sheet.placed)
    assert laid == Counter((f.section, copy) for f in job[1] for copy in (1, 2, 3))


def test_sheets_follow_the_order_of_the_sections() -> None:
    firsts = [min(p.foundation.section for p in sheet.placed) for sheet in a_large_fan()]
    assert firsts == sorted(firsts)


def test_all_words_of_a_print_are_turned_with_it() -> None:
    for sheet in some_sheets():
        for placed in sheet.placed:
            a, b, _, _, _, _ = placed.affine
            turn = math.degrees(math.atan2(b, a))
            own = [m for m in placed.foundation.ink if isinstance(m, Words)]
            for mark in own:
                there = moved(placed.affine, mark.at)
                [found] = [
                    m
                    for m in sheet.ink
                    if isinstance(m, Words) and m.text == mark.text and math.dist(m.at, there) < 1e-6
                ]
                assert (found.angle_deg - mark.angle_deg - turn) % 360 == pytest.approx(0, abs=1e-6) or (
                    (found.angle_deg - mark.angle_deg - turn) % 360 == pytest.approx(360, abs=1e-6)
                )


def test_the_key_tints_the_sections_of_its_sheet_and_no_others() -> None:
    sheets = a_large_fan()
    assert len(sheets) > 1
    for sheet in sheets:
        bold = {
            m.text
            for m in sheet.ink
            if isinstance(m, Words) and m.bold and re.fullmatch(r"[A-Z]r?(\.\d+)?", m.text) and m.size_pt < 18
        }
        here = list(dict.fromkeys(p.foundation.section for p in sheet.placed))
        # A crowded sheet says them in words.
        said = " ".join(m.text for m in sheet.ink if isinstance(m, Words))
        assert set(here) == bold or f"fan, section{'s' * (len(here) > 1)} {', '.join(here)}," in said


def test_options_that_are_not_the_usual_ones_stand_on_the_sheet() -> None:
    job = made(strips(4, 4, 3), PlanOptions(allowance_in=0.375, units=Units.INCH))
    [sheet] = lay_out([job])
    assert "Options: allowance 3/8 in." in [m.text for m in sheet.ink if isinstance(m, Words)]


def test_the_same_prints_give_the_same_sheets() -> None:
    jobs = [made(fan(6, 6)), made(strips(5, 4, 4))]
    assert lay_out(jobs) == lay_out(jobs)


def test_a_block_that_just_fits_is_not_pushed_to_a_second_sheet_by_furniture() -> None:
    # 7 1/2 in finished is 8 in with its allowance: the full width that letter paper prints.
    assert len(lay_out([as_one(strips(7.5, 7.5, 3))])) == 1
    assert len(lay_out([as_one(strips(7.5, 9, 3))])) == 1


def test_a_long_strip_lies_slantwise_before_it_is_cut() -> None:
    [sheet] = lay_out([as_one(strips(10, 2, 3))])
    assert [p.tile for p in sheet.placed] == [None]


def test_no_paper_at_all_is_refused_in_words() -> None:
    with pytest.raises(OptionError, match="too small"):
        lay_out([made(strips(3, 3, 2))], paper=Paper("stamp", 1.5, 1.5))


@pytest.mark.parametrize("size", [6, 13])
def test_a_name_longer_than_the_sheet_is_cut_short(size: int) -> None:
    long_name = "Harbourmaster" * 12 + " and all the boats that ever came in before the tide turned" * 5
    sheets = lay_out([as_one(strips(size, size, 4, long_name))])
    for mark in (m for sheet in sheets for m in sheet.ink if isinstance(m, Words)):
        left, _, right, _ = bounds(words_box(mark, 1.0))
        assert left >= 17.5 and right <= 594.5, mark.text
    assert any(m.text.endswith("...") for sheet in sheets for m in sheet.ink if isinstance(m, Words))


def test_squares_lie_over_a_print_only_where_a_sheet_has_no_room_for_them() -> None:
    # A print that is too long to lie upright, left to the last: its sheet has room for everything.
    jobs = [made(strips(8, 2, 4, "long"))] + [as_one(strips(6, 6, 3, f"square {n}")) for n in range(3)]
    for sheet in lay_out(jobs):
        over = box(*_square(sheet))
        trims = [Polygon([moved(p.affine, q) for q in p.foundation.trim_outline]) for p in sheet.placed]
        assert not any(over.intersects(trim) for trim in trims)


@pytest.mark.parametrize("turn_deg", range(0, 360, 45))
def test_words_beside_ticks_keep_off_the_edge_that_they_measure_and_off_what_lies_beyond(turn_deg: int) -> None:
    turn, rule = math.radians(turn_deg), RULES[0]
    ahead, left = (math.cos(turn), math.sin(turn)), (math.sin(turn), -math.cos(turn))
    edge = ((300.0, 300.0), (300.0 + 500.0 * ahead[0], 300.0 + 500.0 * ahead[1]))
    ticks = edge_ticks(edge, rule, outside=True)
    (words,) = (mark for mark in ticks.ink if isinstance(mark, Words))
    # How far to the left, which is outside, of one who walks along the edge.
    away = [(x - 300.0) * left[0] + (y - 300.0) * left[1] for x, y in words_box(words, 1.0)]
    # Half the height of a letter off the edge; furniture on a crowded sheet may lie 1 1/2 times AIR_PT away.
    assert min(away) > 2.5
    assert max(away) < 1.5 * AIR_PT - 2.0
    # Words longer than the way from tick to tick stand in the foot instead.
    short = edge_ticks(edge, RULES[1], outside=True)
    assert len(short.ink) == 2 and not any(isinstance(mark, Words) for mark in short.ink)
    lines = [LineString(mark.points) for mark in ticks.ink if isinstance(mark, Stroke)]
    assert len(lines) == 2 and all(line.distance(Polygon(words_box(words, 1.0))) > 3.0 for line in lines)


def test_a_legend_says_each_thing_once_of_all_its_patches() -> None:
    path = Path(__file__).parent.parent / "designs" / "compass-star.seams"
    made = api.plan(api.read_block(path, size="3in"))
    [(_, lines)] = legends({"": list(foundations(made))})
    # Counted by eye on the sheet: seven joins; fabrics; what shows through; marks without a name at the most.
    assert 9 <= len(lines) <= 11
    (fabrics,) = [line for line in lines if "brass" in line]
    assert fabrics == "brass: A2, B2; deep: A4; chalk: A5; sea: B4; ink: B5"
    assert any(line.endswith("or it shows through: A2 under A3, A2 and A4 under A5, B2 under B3") for line in lines)


def test_a_pair_of_sections_is_told_once_where_prints_share_a_sheet() -> None:
    lines = joins_in_order(["C joins E (4th)", "D joins E (4th)", "E joins A (4th), C (4th), D (4th)", "A: stop"])
    assert lines == ["4th: C to E, D to E, E to A", "A: stop"]
    assert joins_in_order(["D joins B (4th)"]) == ["D joins B (4th)"]


@pytest.mark.parametrize("design", ["compass-star.seams", "storm-rose.svg"])
def test_a_legend_tells_the_joins_of_prints_with_several_places_in_order_each_pair_once(design: str) -> None:
    made = api.plan(api.read_block(Path(__file__).parent.parent / "designs" / design))
    section_of = {patch: section.name for section in made.sections for patch in section.patches}
    pairs: dict[int, set[frozenset[str]]] = {}
    for edge in made.block.edges:
        if min(edge.left, edge.right) >= 0 and section_of[edge.left] != section_of[edge.right]:
            pair = frozenset((section_of[edge.left], section_of[edge.right]))
            [number] = (
                n
                for n, join in enumerate(made.joins, start=1)
                if len(pair & set(join.first.split("+"))) == 1 and len(pair & set(join.second.split("+"))) == 1
            )
            pairs.setdefault(number, set()).add(pair)
    [(_, lines)] = legends({"": list(foundations(made))})
    heads = [line.rpartition(": ")[0] for line in lines if "; " not in line]
    assert len(set(heads)) == len(heads), "each thing once"
    rows = re.findall(r"(\d+)(?:st|nd|rd|th):? ((?:\S+ to [\w.]+(?:, )?)+)", "\n".join(lines))
    assert [int(number) for number, _ in rows] == sorted(pairs)
    for number, said in rows:
        told = [frozenset(one.split(" to ")) for one in said.strip(", ").split(", ")]
        assert len(told) == len(set(told)) and set(told) == pairs[int(number)]
