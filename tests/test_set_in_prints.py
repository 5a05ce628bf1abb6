"""Prints, pictures and sheets of plans whose joins turn."""

from __future__ import annotations

import json
import math
from functools import cache
from pathlib import Path

import pytest
import shapely
from shapely.geometry import LineString, Polygon

from seamwright.block.model import Block
from seamwright.cli import main
from seamwright.foundation.common import common_to
from seamwright.foundation.make import foundations
from seamwright.foundation.model import Foundation
from seamwright.foundation.trims import trim_outlines
from seamwright.geometry import Point, moved
from seamwright.ink.model import Area, Pen, Stroke, Words
from seamwright.options import PlanOptions
from seamwright.picture.plan import draw_plan
from seamwright.piecing.model import Plan, Section
from seamwright.piecing.plan import plan
from seamwright.piecing.turns import turns_of
from seamwright.sheet.layout import lay_out
from support.exact import exact_block
from support.prints import DESIGNS, faults_of, planned
from support.random_blocks import OUTLINES, erased_lines
from support.turning import HEXAGON, PINWHEEL, Y, rings_within, tide_line, two_rings, voronoi

SET_IN = PlanOptions(set_in=True)
BLOCKS: dict[str, Block] = {
    "a Y": exact_block(Y),
    "a ring": exact_block(PINWHEEL),
    "five rays": exact_block([((3, 3), end) for end in ((3, 0), (6, 2), (5, 6), (1, 6), (0, 2))]),
    "three diamonds": exact_block([((4, 3), end) for end in ((2, 0), (8, 3), (2, 6))], HEXAGON),
    "nested rings": rings_within(2),
    "two rings": two_rings(),
    "a curved leg": tide_line(),
    "nine cells": voronoi(9, 9),
    "sixteen cells": voronoi(16, 16),
    "erased lines": erased_lines(32, 7, OUTLINES[sorted(OUTLINES)[32 % 7]], 0.4),
}
NAMES = [*BLOCKS, "breakwater", "sea-urchin"]


@cache
def made(name: str) -> Plan:
    """The plan of a block or design, with seams that turn."""
    if name in BLOCKS:
        return plan(BLOCKS[name], SET_IN)
    (path,) = DESIGNS.glob(f"{name}.*")
    return planned(path, SET_IN)


@cache
def prints(name: str) -> tuple[Foundation, ...]:
    return foundations(made(name))


def turning_on(name: str, section: Section) -> dict[Point, bool]:
    """Points on a section's border at which a join turns, and whether a seam is sewn on from there."""
    block = made(name).block
    return {block.points[t.point]: t.is_half for t in turns_of(made(name)) if t.point in section.outline}


@pytest.mark.parametrize("name", NAMES)
def test_every_plan_here_turns(name: str) -> None:
    assert made(name).sewable == "set-in"


@pytest.mark.parametrize("name", NAMES)
def test_a_strict_eye_sends_no_print_back(name: str) -> None:
    for one in prints(name):
        assert list(faults_of(one)) == []


@pytest.mark.parametrize("name", NAMES)
def test_where_a_join_turns_every_print_round_the_point_has_a_dot_or_a_ring(name: str) -> None:
    for section, one in zip(made(name).sections, prints(name), strict=True):
        for point, half in turning_on(name, section).items():
            at = moved(one.front, point)
            assert any(math.dist(at, stop) < 1e-9 for stop in one.stops)
            spots = [
                ink
                for ink in one.ink
                if isinstance(ink, Area) and math.dist(_middle(ink), at) < 1e-9 and ink.colour == "#000000"
            ]
            assert len(spots) == 1
            # A ring is hollow: the point itself stays white, to be pinned through.
            assert len(spots[0].rings) == (2 if half else 1)


@pytest.mark.parametrize("name", NAMES)
def test_no_run_on_leaves_a_point_at_which_a_join_turns(name: str) -> None:
    for section, one in zip(made(name).sections, prints(name), strict=True):
        helpers = [ink.points for ink in one.ink if isinstance(ink, Stroke) and ink.pen is Pen.HELPER]
        for point in turning_on(name, section):
            at = moved(one.front, point)
            assert not [line for line in helpers if min(math.dist(at, p) for p in line) < 1e-6]


@pytest.mark.parametrize("name", NAMES)
def test_lines_that_end_elsewhere_still_run_on(name: str) -> None:
    """Only the points that turn lose their run-on: every other end of a line on the border has one, or a dot."""
    for section, one in zip(made(name).sections, prints(name), strict=True):
        turning = [moved(one.front, point) for point in turning_on(name, section)]
        border = Polygon(one.stitch_outline).exterior
        helpers = [LineString(ink.points) for ink in one.ink if isinstance(ink, Stroke) and ink.pen is Pen.HELPER]
        for seam in one.seams:
            for end in seam:
                here = shapely.Point(end)
                if border.distance(here) < 1e-9 and not any(
                    math.dist(end, t) < 1e-9 for t in (*turning, *one.stops)
                ):
                    goes_on = any(line.distance(here) < 1e-6 for line in helpers)
                    assert goes_on or _border_goes_on(one, seam, end)


def _border_goes_on(one: Foundation, seam: tuple[Point, Point], end: Point) -> bool:
    """Whether a stitch line of the border or another seam carries a seam on beyond its end."""
    other = seam[0] if seam[1] == end else seam[1]
    length = math.dist(other, end)
    beyond = tuple(e + 0.001 * (e - o) / length for e, o in zip(end, other, strict=True))
    lines = [Polygon(one.stitch_outline).exterior, *(LineString(s) for s in one.seams)]
    return any(line.distance(shapely.Point(beyond)) < 1e-6 for line in lines)


@pytest.mark.parametrize("name", NAMES)
def test_the_legend_says_what_a_dot_and_a_ring_mean(name: str) -> None:
    for section, one in zip(made(name).sections, prints(name), strict=True):
        halves = turning_on(name, section).values()
        told = " ".join(one.legend)
        if not all(halves):
            assert "stop at the large dot, secure the thread, do not sew past it" in told
        if any(halves):
            assert "stop at the ring first, secure; the" in told


@pytest.mark.parametrize("name", NAMES)
def test_no_tick_stands_where_a_join_turns_but_its_legs_keep_theirs(name: str) -> None:
    block = made(name).block
    marks = common_to(made(name)).marks
    for join in made(name).joins:
        for turn in join.turns:
            at = block.points[turn]
            around = [p for p, face in enumerate(block.patches) if turn in face.ring]
            for section in made(name).sections:
                # Another join may run straight past the point, and has its tick there.
                if set(around) & set(section.patches) and not _passed_straight(made(name), turn):
                    assert not [foot for foot, _ in marks[section.name] if math.dist(foot, at) < 1e-9]


def _passed_straight(plan_: Plan, point: int) -> bool:
    return any(point in join.seam[1:-1] and point not in join.turns for join in plan_.joins)


@pytest.mark.parametrize("name", NAMES)
def test_trim_lines_keep_their_allowance_at_inside_corners(name: str) -> None:
    """By GEOS's own buffer: nothing within the allowance of a section is cut off, nothing far beyond it is left."""
    plan_ = made(name)
    for section, trim in zip(plan_.sections, trim_outlines(plan_).values(), strict=True):
        whole = shapely.union_all([Polygon(plan_.block.patch_ring(p)) for p in section.patches])
        paper = Polygon(trim)
        assert paper.is_valid
        assert whole.buffer(0.25 - 1e-6).difference(paper).area < 1e-6
        assert paper.difference(whole.buffer(0.25 * 3.2)).area < 1e-6


@pytest.mark.parametrize("name", ["a ring", "five rays", "nested rings", "a curved leg", "nine cells"])
def test_sheets_of_such_prints_read_back_true(name: str) -> None:
    pytest.importorskip("cairosvg")
    from seamwright.sheet.pdf import to_pdf
    from seamwright.sheet.readback import read_back

    sheets = lay_out([(made(name), prints(name))], paper="letter")
    read_back(to_pdf(sheets, title=name, made_from="test"), sheets)


@pytest.mark.parametrize("name", NAMES)
def test_the_picture_has_the_number_of_the_join_at_every_turn(name: str) -> None:
    picture = draw_plan(made(name), ("caption",))
    words = [ink.text for ink in picture.inks if isinstance(ink, Words)]
    turns = turns_of(made(name))
    for turn in turns:
        assert words.count(str(turn.join)) >= sum(other.join == turn.join for other in turns)
    assert any("that pivots there" in text for text in words) == any(not turn.is_half for turn in turns)
    assert any(text.startswith("A light dot") for text in words) == any(turn.is_half for turn in turns)


def _middle(ink: Area) -> Point:
    ring = ink.rings[0]
    return (math.fsum(x for x, _ in ring) / len(ring), math.fsum(y for _, y in ring) / len(ring))


@pytest.mark.parametrize("design", ["breakwater.seams", "sea-urchin.svg"])
def test_the_command_line_sews_both_stuck_designs_as_they_are(
    design: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    drawing = str(DESIGNS / design)
    assert main(["check", drawing]) == 1
    capsys.readouterr()
    assert main(["check", "--json", "--set-in", drawing]) == 0
    (data,) = json.loads(capsys.readouterr().out)
    assert (data["pieceable"], data["sewable"], data["obstructions"]) == (False, "set-in", [])
    assert data["plan"]["options"] == {"set-in": "yes"}
    turning = [join for join in data["joins"] if join["turns_in"]]
    assert {join["kind"] for join in turning} <= {"set-in", "partial"} and turning
    assert data["set_in_points"] == sum(join["kind"] == "set-in" for join in turning)
    for join in turning:
        assert all(turn in join["seam_in"][1:-1] for turn in join["turns_in"])
    pytest.importorskip("cairosvg")
    out = tmp_path / "out.pdf"
    assert main(["foundations", drawing, "-o", str(out)]) == 1 and not out.exists()
    assert "add --set-in" in capsys.readouterr().err
    # What is printed is looked at, not on how few sheets.
    assert main(["foundations", drawing, "--set-in", "--effort", "8", "-o", str(out), "--json"]) == 0
    made_ = json.loads(capsys.readouterr().out)
    stops = [stop for sheet in made_["sheets"] for one in sheet["foundations"] for stop in one["stops_pt"]]
    assert len(stops) >= 2


def test_what_holds_for_several_prints_of_a_sheet_is_one_line() -> None:
    (sheet,) = lay_out([(made("a Y"), prints("a Y"))], paper="letter")
    told = " ".join(ink.text for ink in sheet.ink if isinstance(ink, Words))
    assert "A and B: stop at the large dot" in told
    assert told.count("stop at the large dot") == 1
