"""The chapters of a booklet that teach and sew: steps, joins, sizes, pressing, paper off, colouring."""

from __future__ import annotations

import math
import re
from collections import Counter
from functools import cache
from pathlib import Path

import pytest
from shapely.geometry import Polygon, box

from seamwright import api
from seamwright.block.rings import region_ring
from seamwright.booklet.afterwards import afterwards_story, bias_edges, last_joins
from seamwright.booklet.colouring import colouring_page
from seamwright.booklet.howto import howto_story
from seamwright.booklet.joinfigures import CIRCLE_IN
from seamwright.booklet.joins import joins_story
from seamwright.booklet.model import (
    PICTURE_HIGH_IN,
    PICTURE_IN,
    Figure,
    Full,
    Heading,
    Paragraph,
    Points,
    Step,
    Story,
    Table,
)
from seamwright.booklet.pages import LARGE, full_room
from seamwright.booklet.sizes import Sizes, measured
from seamwright.booklet.steps import shared_prints, steps_story
from seamwright.cutting.pieces import pieces_of
from seamwright.foundation.trims import trim_outlines
from seamwright.geometry import signed_area
from seamwright.ink.lettering import words_box
from seamwright.ink.model import Area, Ink, Pen, Stroke, Words
from seamwright.options import Fit, PlanOptions, Rotary, Units
from seamwright.paper import paper
from seamwright.piecing.model import Plan
from seamwright.piecing.plan import plan as make_plan
from seamwright.piecing.pressing import Pressing
from seamwright.rehearsal.model import Rehearsed
from seamwright.units import say_length
from support.exact import exact_block
from support.prints import DESIGNS, designs

LEAST_PT = 7.0
QUICK = ["kite.svg", "breakwater.seams", "lamp.seams", "beacon.seams"]
LONG = sorted({path.name for path in designs()} - set(QUICK))


@cache
def plan_of(name: str, units: Units = Units.INCH, rotary: Rotary = Rotary.NEVER) -> Plan:
    block = api.read_block(DESIGNS / name, set_in="yes", units=units.value, rotary=rotary.value)
    return api.plan(block)


@cache
def rehearsed(name: str) -> Rehearsed:
    return api.rehearse(plan_of(name))


@cache
def told(name: str, left_handed: bool = False) -> dict[str, Story]:
    plan, sewn = plan_of(name), rehearsed(name)
    sizes, pieces = Sizes(plan, trim_outlines(plan)), {piece.patch: piece for piece in pieces_of(plan)}
    return {
        "steps": steps_story(plan, sewn),
        "joins": joins_story(plan, sewn),
        "howto": howto_story(plan, sewn, left_handed=left_handed),
        "afterwards": afterwards_story(plan, sizes, pieces),
        "colouring": (colouring_page(plan, full_room(paper("letter"))),),
    }


def steps_of(story: Story) -> list[Step]:
    return [item for item in story if isinstance(item, Step)]


def figures_of(name: str) -> list[tuple[str, Figure]]:
    chapters = told(name)
    found = [(f"{c} {s.mark} {s.title}", s.figure) for c, story in chapters.items() for s in steps_of(story)]
    return [*found, *((item.title, item.figure) for item in chapters["colouring"] if isinstance(item, Full))]


def sentences(text: str) -> int:
    """Ends of sentences: a full stop, or a mark, before a capital or the end; not that of A.2."""
    return len(re.findall(r"[.?!](?=\s+[A-Z0-9]|$)", text))


def points_of(ink: Ink) -> list[tuple[float, float]]:
    if isinstance(ink, Words):
        return list(words_box(ink))
    return list(ink.points) if isinstance(ink, Stroke) else [p for ring in ink.rings for p in ring]


def every_design(test):  # type: ignore[no-untyped-def]
    """A few designs always, all the others among the long tests."""
    names = [*QUICK, *(pytest.param(name, marks=pytest.mark.long) for name in LONG)]
    return pytest.mark.parametrize("name", names)(test)


# -- every step, every join ------------------------------------------------


@every_design
def test_every_step_of_the_rehearsal_has_one_picture_and_a_sentence_or_two(name: str):
    plan, story = plan_of(name), steps_of(told(name)["steps"])
    first_place = {s.name: places[0].name for _, places in shared_prints(plan) for s in places}
    wanted = [
        step.patch
        for section in rehearsed(name).sections
        if first_place[section.name] == section.name
        for step in section.steps
    ]
    letters = {section.name for section in plan.sections} | {f"{s.print}r" for s in plan.sections}
    marks = [step.mark for step in story if step.mark not in letters]
    assert Counter(marks) == Counter(wanted)
    # What is not told itself stands in another place of a print that is.
    left = {s.name for s in rehearsed(name).sections} - first_place.keys()
    assert not left
    for step in story:
        assert step.figure.inks
        assert step.texts
        assert all(1 <= sentences(text) <= 2 for text in step.texts), step.texts
        if step.mark in wanted and "plain piece" not in step.texts[0]:
            assert len(step.texts) == 1


@every_design
def test_every_section_on_paper_begins_with_its_fabric_and_ends_with_its_size(name: str):
    plan, story = plan_of(name), told(name)["steps"]
    pieces = {piece.name: piece for piece in pieces_of(plan)}
    rows = [row for item in story if isinstance(item, Table) for row in item.rows]
    sewn = [(letter, places[0]) for letter, places in shared_prints(plan) if places[0].kind != "plain"]
    assert [row[0] for row in rows] == [
        section.patch_name(n) for _, section in sewn for n in range(1, len(section.patches) + 1)
    ]
    for patch, _, cut, _ in rows:
        piece = pieces[patch]
        for side in (piece.width_in, piece.height_in):
            assert say_length(side, Units.INCH, glyphs=True).removesuffix(" in") in cut
    sizes, steps = Sizes(plan, trim_outlines(plan)), steps_of(story)
    for letter, section in sewn:
        (last,) = (step for step in steps if (step.mark, step.title) == (letter, "trim and measure"))
        assert sizes.unfinished(section.name).said(Units.INCH) in last.texts[0]


@every_design
def test_a_step_names_only_patches_that_lie_across_its_line(name: str):
    plan = plan_of(name)
    rings = dict(zip(plan.patch_names(), map(plan.block.patch_ring, range(len(plan.block.patches))), strict=True))
    named = 0
    for step in steps_of(told(name)["steps"]):
        if step.mark not in rings or "plain piece" in step.texts[0]:
            continue
        letters = re.escape(step.mark.rstrip("0123456789"))
        for other in set(re.findall(rf"(?<![\w.-]){letters}\d+(?!\d)", " ".join(step.texts))) - {step.mark}:
            shared = Polygon(rings[step.mark]).buffer(1e-6).intersection(Polygon(rings[other]))
            assert shared.length > 0.01, (step.mark, other)
            named += 1
    assert named


@every_design
def test_every_place_of_a_print_is_named_where_it_is_told(name: str):
    story = told(name)["steps"]
    words = " ".join(text for step in steps_of(story) for text in (step.mark, *step.texts))
    words += " ".join(item.text for item in story if isinstance(item, Heading))
    for section in plan_of(name).sections:
        assert re.search(rf"(?<![\w.]){re.escape(section.name)}(?![\w-])", words), section.name


@every_design
def test_every_join_is_told_once_in_sewing_order_with_what_it_makes(name: str):
    plan, story = plan_of(name), steps_of(told(name)["joins"])
    assert len(story) == len(plan.joins)
    for number, (join, step) in enumerate(zip(plan.joins, story, strict=True), start=1):
        assert step.mark in (join.makes, f"Join {number}")
        said = " ".join((step.mark, *step.texts))
        assert join.makes in said or number == len(plan.joins)
        assert "unfinished" in said
        assert "Press it" in said
        assert all(1 <= sentences(text) <= 2 for text in step.texts), step.texts


@every_design
def test_the_words_of_a_join_that_turns_are_those_of_the_plan(name: str):
    from seamwright.words.joins import Turning

    plan = plan_of(name)
    turning = Turning(plan)
    for number, step in enumerate(steps_of(told(name)["joins"]), start=1):
        how = turning.join(number)
        if how:
            assert any(text.lower() == f"{how}.".lower() for text in step.texts)


@every_design
def test_as_many_points_are_circled_as_the_prints_mark(name: str):
    from seamwright.foundation.spots import mark_spots

    circles = 0
    for step in steps_of(told(name)["joins"]):
        for ink in step.figure.inks:
            if isinstance(ink, Stroke) and ink.pen is Pen.MARK and ink.closed:
                xs = [x for x, _ in ink.points]
                circles += math.isclose(max(xs) - min(xs), 2 * CIRCLE_IN, abs_tol=1e-6)
    # One on each part.
    assert circles == 2 * len(list(mark_spots(plan_of(name))))


# -- what can be read ------------------------------------------------


@every_design
def test_no_words_in_a_figure_are_tiny_and_none_lie_on_others(name: str):
    for what, figure in figures_of(name):
        boxes = [(ink, Polygon(words_box(ink))) for ink in figure.inks if isinstance(ink, Words)]
        for number, (ink, area) in enumerate(boxes):
            assert ink.size_pt >= LEAST_PT, f"{what}: {ink.text}"
            for other, beside in boxes[number + 1 :]:
                assert not area.intersects(beside), f"{what}: {ink.text} on {other.text}"


@pytest.mark.parametrize("name", ["kite.svg", "lamp.seams", "breakwater.seams"])
def test_large_type_is_a_third_larger_in_pictures_too(name: str):
    plan, sewn = plan_of(name), rehearsed(name)
    stories = [tell(plan, sewn, scale=LARGE) for tell in (steps_story, joins_story, howto_story)]
    keys = {section.name for section in plan.sections}
    for figure in (step.figure for story in stories for step in steps_of(story)):
        boxes = [Polygon(words_box(ink)) for ink in figure.inks if isinstance(ink, Words)]
        assert all(not one.intersects(two) for k, one in enumerate(boxes) for two in boxes[k + 1 :])
        for ink, area in zip((i for i in figure.inks if isinstance(i, Words)), boxes, strict=True):
            assert box(0, 0, figure.width_in, figure.height_in).buffer(1e-6).contains(area), ink.text
            # Letters of the small key are those of the sheets.
            assert ink.size_pt >= LEAST_PT * LARGE or ink.text in keys
        assert figure.height_in <= PICTURE_HIGH_IN + 1e-9


@every_design
def test_a_figure_keeps_to_its_box_and_a_step_to_its_column(name: str):
    for what, figure in figures_of(name):
        page = box(-1e-6, -1e-6, figure.width_in + 1e-6, figure.height_in + 1e-6)
        for ink in figure.inks:
            assert all(page.contains(box(x, y, x, y)) for x, y in points_of(ink)), f"{what}: {ink}"
        assert figure.says
        if what != "A page to colour in":
            assert figure.width_in <= PICTURE_IN + 1e-9
            assert figure.height_in <= PICTURE_HIGH_IN + 1e-9


@every_design
def test_the_line_just_stitched_is_the_only_bold_one_of_its_step(name: str):
    letters = {section.name for section in plan_of(name).sections} | {f"{s.print}r" for s in plan_of(name).sections}
    stitched = {step.patch: step.seam is not None for section in rehearsed(name).sections for step in section.steps}
    for step in steps_of(told(name)["steps"]):
        bold = [ink for ink in step.figure.inks if isinstance(ink, Stroke) and ink.pen is Pen.BOLD]
        assert len(bold) == (step.mark not in letters and stitched[step.mark])


@pytest.mark.parametrize("name", ["kite.svg", "beacon.seams", "lamp.seams"])
def test_names_on_the_printed_side_keep_clear_of_all_lines(name: str):
    """A name that a line runs through is read as another: dashes make way, stitch lines never touch it."""
    from shapely.geometry import LineString

    for step in steps_of(told(name)["steps"]):
        lines = [LineString(i.points) for i in step.figure.inks if isinstance(i, Stroke) and i.pen is Pen.HELPER]
        for ink in step.figure.inks:
            if isinstance(ink, Words) and re.fullmatch(r"[A-Z]+r?\d+|\d+", ink.text):
                assert not any(line.intersects(Polygon(words_box(ink))) for line in lines), (step.mark, ink.text)


# -- the other hand ------------------------------------------------


@pytest.mark.parametrize("name", ["kite.svg", "beacon.seams"])
def test_pictures_for_the_left_hand_differ_in_tools_alone_and_never_mirror_the_block(name: str):
    right, left = told(name), told(name, left_handed=True)
    changed = [
        (one, other)
        for one, other in zip(steps_of(right["howto"]), steps_of(left["howto"]), strict=True)
        if one != other
    ]
    assert {one.title for one, _ in changed} >= {
        "fold and trim",
        "edge on edge",
        "flip and press",
        "trim the section",
    }
    for one, other in changed:
        assert (one.mark, one.title, one.texts) == (other.mark, other.title, other.texts)
        # Fabric and paper are areas in the colours of the section: each is the same, or lies half a turn further.
        for a, b in zip(_work(one.figure), _work(other.figure), strict=True):
            (ax, ay), (bx, by) = a[0], b[0]
            same = all(math.dist(p, q) < 1e-6 for p, q in zip(a, b, strict=True))
            half = all(
                math.dist((p[0] - ax, p[1] - ay), (bx - q[0], by - q[1])) < 1e-6 for p, q in zip(a, b, strict=True)
            )
            assert same or half, one.title
            assert signed_area(a) * signed_area(b) > 0


def _work(figure: Figure) -> list[tuple[tuple[float, float], ...]]:
    """Rings of cloth and paper; tools are drawn after them, the iron's in a grey of its own."""
    from seamwright.booklet.howtofigures import OFFCUT
    from seamwright.booklet.tools import METAL
    from seamwright.picture.tints import INK, WHITE

    tools = {METAL, INK, WHITE.lower(), WHITE.upper()} - {OFFCUT}
    return [ink.rings[0] for ink in figure.inks if isinstance(ink, Area) and ink.colour not in tools]


@pytest.mark.parametrize("left_handed", [False, True])
def test_the_blade_runs_straight_up_away_from_the_body_with_the_work_under_the_ruler(left_handed: bool):
    sense = -1 if left_handed else 1
    story = {step.title: step.figure for step in steps_of(told("kite.svg", left_handed)["howto"])}
    for title in ("fold and trim", "trim the section"):
        rulers = [
            ink.points
            for ink in story[title].inks
            if isinstance(ink, Stroke) and ink.pen is Pen.STITCH and ink.closed and len(ink.points) == 4
            and len({round(x, 6) for x, _ in ink.points}) == len({round(y, 6) for _, y in ink.points}) == 2
        ]  # fmt: skip
        (ruler,) = rulers
        edge, far = ruler[0][0], ruler[2][0]
        assert (edge - far) * sense > 0
        arrows = [
            ink.points
            for ink in story[title].inks
            if isinstance(ink, Stroke) and ink.pen is Pen.MARK and not ink.closed
        ]
        (start, end) = arrows[-1]
        assert start[0] == pytest.approx(end[0])
        assert end[1] < start[1]
        assert (start[0] - edge) * sense > 0


# -- how to ------------------------------------------------


@every_design
def test_how_to_sew_on_paper_shows_the_blocks_own_section_with_the_caution_at_each_tool(name: str):
    story = told(name)["howto"]
    plan = plan_of(name)
    intro = next(item.text for item in story if isinstance(item, Paragraph))
    (shown,) = re.findall(r"section (\S+) of this block", intro)
    first = next(s for s in plan.sections if s.name == shown)
    assert first.kind == "foundation"
    steps = steps_of(story)
    assert 5 <= len(steps) <= 7
    cautions = {step.title: text for step in steps for text in step.texts if text.startswith("Take care")}
    assert "blade" in cautions["fold and trim"]
    assert "blade" in cautions["trim the section"]
    assert "needle" in cautions["stitch on the line"]
    assert "iron burns" in cautions["flip and press"]
    assert first.patch_name(2) in " ".join(text for step in steps for text in step.texts)


# -- sizes ------------------------------------------------


@every_design
def test_rectangles_measure_what_shapely_says_of_the_finished_part_grown_by_the_allowance(name: str):
    plan = plan_of(name)
    sizes, allowance = Sizes(plan, trim_outlines(plan)), plan.options.seam_allowance_in
    parts = [section.name for section in plan.sections] + [join.makes for join in plan.joins]
    for part in parts:
        size = sizes.unfinished(part)
        finished = Polygon(region_ring(plan.block, sizes.patches(part)))
        grown = finished.buffer(allowance, join_style="mitre", mitre_limit=50)
        assert Polygon(size.ring).difference(grown.buffer(1e-3)).is_empty
        # Nothing within the allowance of a side, square to it, is missing.
        assert finished.buffer(allowance, cap_style="flat", join_style="bevel").difference(
            Polygon(size.ring).buffer(1e-4)
        ).area < 1e-4 or not _is_convex(finished)  # fmt: skip
        is_box = math.isclose(finished.area, finished.minimum_rotated_rectangle.area, rel_tol=1e-6)
        assert size.is_rectangle == is_box, part
        if is_box:
            corners = list(grown.minimum_rotated_rectangle.exterior.coords)
            wanted = sorted((math.dist(corners[0], corners[1]), math.dist(corners[1], corners[2])))
            assert sorted((size.width_in, size.height_in)) == pytest.approx(wanted, abs=1e-6)


def _is_convex(area: Polygon) -> bool:
    return math.isclose(area.area, area.convex_hull.area, rel_tol=1e-9)


@every_design
def test_other_shapes_are_told_by_their_longest_side_and_the_farthest_point_from_it(name: str):
    plan = plan_of(name)
    sizes = Sizes(plan, trim_outlines(plan))
    for part in [*(s.name for s in plan.sections), *(j.makes for j in plan.joins)]:
        size = sizes.unfinished(part)
        ring = Polygon(size.ring)
        sides = [math.dist(a, b) for a, b in zip(size.ring, size.ring[1:] + size.ring[:1], strict=True)]
        if not size.is_rectangle:
            assert size.width_in >= max(sides) - 1 / 32
        (ax, ay), (bx, by) = size.side
        ahead = ((bx - ax) / size.width_in, (by - ay) / size.width_in)
        depths = [abs(ahead[0] * (y - ay) - ahead[1] * (x - ax)) for x, y in ring.exterior.coords]
        assert size.height_in == pytest.approx(max(depths), abs=1e-6)


def test_the_whole_block_measures_its_finished_size_and_two_allowances():
    said = steps_of(told("beacon.seams")["joins"])[-1].texts[-1]
    assert said == "The whole block measures 8½ x 12½ in unfinished."


def test_measures_are_metric_where_the_plan_is():
    plan = plan_of("kite.svg", Units.METRIC)
    story = steps_story(plan, api.rehearse(plan))
    words = " ".join(text for step in steps_of(story) for text in (step.title, *step.texts))
    assert " cm" in words
    assert not re.search(r"\d (1/\d+ )?in\b", words)


def test_a_shape_on_point_is_measured_along_its_own_sides():
    diamond = [(0.0, 2.0), (2.0, 0.0), (4.0, 2.0), (2.0, 4.0)]
    size = measured(diamond)
    assert size.is_rectangle
    assert (size.width_in, size.height_in) == pytest.approx((math.sqrt(8), math.sqrt(8)))


# -- pressing and paper ------------------------------------------------


@every_design
def test_joins_are_pressed_as_the_plans_advice_says(name: str):
    """The advice was worked out by the planner, in code of its own."""
    plan = plan_of(name)
    said = " ".join(note.text for note in plan.notes if note.code == "advice-shadow")
    texts = [" ".join(step.texts) for step in steps_of(told(name)["joins"])]
    dark = [n for n, text in enumerate(texts, start=1) if "the dark side" in text]
    both = [n for n, text in enumerate(texts, start=1) if "dark lies beside light on both sides" in text]
    assert _numbers(said, "to the dark side") == dark
    assert _numbers(said, "open, for there") == both


def _numbers(text: str, before: str) -> list[int]:
    """The joins of "press joins 1 to 3 and 5 to the dark side"."""
    found = re.search(rf"press joins? ([^;]*?) {before}", text)
    if found is None:
        return []
    numbers: list[int] = []
    for one in re.findall(r"\d+ to \d+|\d+", found[1]):
        low, _, high = one.partition(" to ")
        numbers += range(int(low), int(high or low) + 1)
    return numbers


def test_the_side_with_fewer_seams_is_counted_on_the_drawing():
    plan = plan_of("lamp.seams")
    pressing, sizes = Pressing(plan), Sizes(plan, trim_outlines(plan))
    # The ring C of eleven patches has ten seams that all end on the arc; the quarter circle D has one.
    number = next(n for n, join in enumerate(plan.joins, start=1) if {join.first, join.second} == {"C", "D"})
    assert pressing.seams_ending(number, sizes.patches("C")) == 10
    assert pressing.seams_ending(number, sizes.patches("D")) == 1


@every_design
def test_paper_stays_on_until_the_last_neighbour_is_joined(name: str):
    plan = plan_of(name)
    last, areas = last_joins(plan), {s.name: Polygon(region_ring(plan.block, s.patches)) for s in plan.sections}
    parts: dict[str, frozenset[str]] = {s.name: frozenset((s.name,)) for s in plan.sections}
    together: dict[frozenset[str], int] = {}
    for number, join in enumerate(plan.joins, start=1):
        for one in parts[join.first]:
            together |= {frozenset((one, other)): number for other in parts[join.second]}
        parts[join.makes] = parts[join.first] | parts[join.second]
    for one, area in areas.items():
        beside = [
            together[frozenset((one, other))]
            for other, shape in areas.items()
            if other != one and area.buffer(1e-6).intersection(shape).length > 1e-3
        ]
        assert last[one] == max(beside, default=0)


def test_outer_edges_off_the_thread_are_told_before_the_paper_comes_off():
    from dataclasses import replace

    plan = plan_of("kite.svg")
    pieces = {piece.patch: piece for piece in pieces_of(plan)}
    assert bias_edges(plan, pieces) == ()
    askew = {patch: replace(piece, grain_deg=30.0) for patch, piece in pieces.items()}
    at_edge = bias_edges(plan, askew)
    assert set(at_edge) == {"A3", "A4", "B3", "B4"} & set(at_edge)
    assert at_edge
    story = afterwards_story(plan, Sizes(plan, trim_outlines(plan)), askew)
    points = next(item for item in story if isinstance(item, Points))
    assert "1/8 in from the raw edge" in points.texts[0]
    assert at_edge[0] in points.texts[0]


# -- without paper, colouring ------------------------------------------------


def ruler_plans() -> list[str]:
    return [
        p.name for p in designs() if p.name in ("lighthouse-beam.svg", "breakwater.seams", "harbour-wall.seams")
    ]


@pytest.mark.parametrize("name", ruler_plans())
def test_sections_without_paper_have_their_own_short_form(name: str):
    plan = plan_of(name, rotary=Rotary.AUTO)
    ruled = [s for s in plan.sections if s.method == "ruler" and s.kind == "foundation"]
    story = steps_of(steps_story(plan, api.rehearse(plan)))
    for section in ruled:
        for number in range(2, len(section.patches) + 1):
            if section.place == 1:
                (step,) = [s for s in story if s.mark == section.patch_name(number)]
                assert "scant ¼ in" in step.texts[0]
                assert "Fold" not in step.texts[0]


@every_design
def test_the_page_to_colour_in_is_as_large_as_the_page_allows(name: str):
    (page,) = told(name)["colouring"]
    assert isinstance(page, Full)
    width, height = full_room(paper("letter"))
    assert page.figure.width_in <= width + 1e-9
    assert page.figure.height_in <= height + 1e-9
    assert page.figure.height_in > 0.6 * height
    assert all(ink.colour == "#FFFFFF" for ink in page.figure.inks if isinstance(ink, Area))


@pytest.mark.parametrize("name", ["letter", "a5"])
@pytest.mark.parametrize("outline", [(1, 4), (1, 9), (4, 1), (9, 1), (1, 3)])
def test_a_narrow_block_to_colour_in_keeps_to_its_page(outline: tuple[int, int], name: str):
    """Four small ones of a tall block ran off the page, and the booklet was refused."""
    wide, high = outline
    ring = ((0, 0), (wide, 0), (wide, high), (0, high))
    plan = make_plan(exact_block([((0, 0), (wide, high))], ring), PlanOptions(fit=Fit.NONE))
    room = full_room(paper(name), scale=LARGE)
    page = colouring_page(plan, room)
    assert isinstance(page, Full)
    points = [p for ink in page.figure.inks if not isinstance(ink, Words) for p in _points_of(ink)]
    points += [p for ink in page.figure.inks if isinstance(ink, Words) for p in words_box(ink)]
    assert max(y for _, y in points) <= page.figure.height_in + 0.02 <= room[1] + 0.02
    assert min(min(p) for p in points) >= -0.02 and max(x for x, _ in points) <= room[0] + 0.02


def _points_of(ink: Ink) -> list[tuple[float, float]]:
    return [p for ring in ink.rings for p in ring] if isinstance(ink, Area) else list(ink.points)  # type: ignore[union-attr]


def test_chapters_are_the_same_again():
    plan = api.plan(api.read_block(Path(DESIGNS / "kite.svg")))
    assert steps_story(plan, api.rehearse(plan)) == told("kite.svg")["steps"]


def test_what_is_pieced_beforehand_is_told_first_and_shows_its_parts():
    plan = api.plan(api.read_block(DESIGNS / "beacon.seams"), pre_pieced="C1+C2")
    (made,) = plan.block.pre_pieced
    name = plan.patch_names()[made.patch]
    sewn = api.rehearse(plan)
    (step,) = [s for s in steps_of(steps_story(plan, sewn)) if s.mark == name]
    assert step.texts[0].startswith("Beforehand sew ")
    assert all(1 <= sentences(text) <= 2 for text in step.texts)
    colours = {fabric.name: fabric.colour for fabric in plan.block.fabrics}
    shown = {ink.colour for ink in step.figure.inks if isinstance(ink, Area)}
    assert {colours[part.fabric] for part in made.parts} <= shown


def test_freezer_paper_is_refused_since_nothing_here_is_sewn_through_it(tmp_path: Path):
    from seamwright.errors import OptionError
    from seamwright.handouts import write_booklet

    with pytest.raises(OptionError, match="Leave out --stock"):
        write_booklet(tmp_path / "kite.pdf", plan_of("kite.svg"), stock="freezer")
    assert not list(tmp_path.iterdir())


def test_places_in_which_a_stripe_lies_otherwise_are_told_with_pictures_of_their_own(tmp_path: Path):
    text = (DESIGNS / "compass-star.seams").read_text()
    (tmp_path / "striped.seams").write_text(re.sub(r"(?m)^(fabric brass .*)$", r"\1 stripes 90", text))
    plan = api.plan(api.read_block(tmp_path / "striped.seams"))
    groups = dict(shared_prints(plan))
    assert {label: len(places) for label, places in groups.items()} == {"A": 2, "A.2": 2, "B": 2, "B.2": 2}
    story = steps_story(plan, api.rehearse(plan))
    marks = [step.mark for step in steps_of(story)]
    assert marks.count("A2") == marks.count("A.2-2") == 1
    (head,) = [step for step in steps_of(story) if step.mark == "A.2" and step.title == "where it lies"]
    assert "lines of section A and a print of its own" in head.texts[-1]
