"""Curves from drawing to print: read true, joined along, allowance along them, marked, proven and rehearsed."""

from __future__ import annotations

import math
import random
from dataclasses import replace
from functools import cache
from itertools import pairwise
from pathlib import Path

import pytest
import shapely
from shapely.geometry import LineString, Point, Polygon

from seamwright import api
from seamwright.block.make import make_block
from seamwright.block.model import Block
from seamwright.block.rings import region_ring
from seamwright.claims.plans import claim_of
from seamwright.claims.sewing import sewing_of
from seamwright.drawing.arcs import arc
from seamwright.drawing.read import read_drawing
from seamwright.drawing.textform import read_seams, write_seams
from seamwright.foundation.common import common_to
from seamwright.foundation.make import foundations
from seamwright.foundation.trims import trim_outlines
from seamwright.ink.model import Area
from seamwright.options import Fit, PlanOptions
from seamwright.piecing.model import Plan
from seamwright.piecing.plan import plan
from seamwright.proof.checker import check
from seamwright.rehearsal.rehearse import rehearse
from seamwright.sheet.key import Key
from support.drawn import drawing, square

DESIGNS = Path(__file__).parent.parent / "designs"
FLAT_IN = 0.0005
MM = 1 / 25.4
FREE = PlanOptions(fit=Fit.NONE)


def svg(path: str, side: float = 6) -> bytes:
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" width="{side}in" height="{side}in" viewBox="0 0 {side} {side}">'
        f'<path fill="none" stroke="#000" stroke-width=".02" d="M0 0H{side}V{side}H0Z {path}"/></svg>'
    ).encode()


def block_of(tmp_path: Path, path: str) -> Block:
    (tmp_path / "block.svg").write_bytes(svg(path))
    return make_block(read_drawing(tmp_path / "block.svg"))


def typed(*lines: str) -> Block:
    return make_block(read_seams("seamwright block 1\nsize 6 in\n" + "\n".join(lines), name="typed", file=""))


@cache
def lamp() -> Plan:
    return plan(make_block(read_drawing(DESIGNS / "lamp.seams")), FREE)


# -- read ----------------------------------------------------------------------------------------------------


def curve_of(block: Block) -> LineString:
    (seam,) = [seam for seam in block.seams if not seam.straight]
    points = [block.points[seam.points[0]]]
    for start, number in zip(seam.points, seam.edges, strict=False):
        run = block.edge_points(number)
        points += (run if block.edges[number].start == start else run[::-1])[1:]
    return LineString(points)


@pytest.mark.parametrize(
    "path",
    [
        "M0 2A4 4 0 0 1 4 6",
        "M4 6A4 4 0 0 0 0 2",
        "M0 2a4 4 0 0 1 4 4",
        "M0 2A4 4 0 0 1 2.8284 3.1716A4 4 0 0 1 4 6",
    ],
)
def test_an_arc_lies_on_its_circle_within_half_a_thousandth(tmp_path: Path, path: str) -> None:
    run = curve_of(block_of(tmp_path, path))
    assert run.length == pytest.approx(2 * math.pi, abs=0.002)
    for k in range(401):
        at = run.interpolate(k / 400, normalized=True)
        assert math.dist((at.x, at.y), (0, 6)) == pytest.approx(4, abs=FLAT_IN + 1e-4)  # the last path is rounded


@pytest.mark.parametrize(
    ("path", "control"),
    [
        ("M0 3C2 0 4 6 6 3", ((0, 3), (2, 0), (4, 6), (6, 3))),
        ("M0 1Q3 5 6 1", ((0, 1), (2, 11 / 3), (4, 11 / 3), (6, 1))),  # the same curve as a cubic one
    ],
)
def test_a_bezier_curve_lies_on_its_polynomial_within_half_a_thousandth(
    tmp_path: Path, path: str, control: tuple[tuple[float, float], ...]
) -> None:
    run = curve_of(block_of(tmp_path, path))
    a, b, c, d = control
    ts = [k / 500 for k in range(501)]
    true = [
        tuple(
            (1 - t) ** 3 * a[i] + 3 * (1 - t) ** 2 * t * b[i] + 3 * (1 - t) * t * t * c[i] + t**3 * d[i]
            for i in (0, 1)
        )
        for t in ts
    ]
    assert max(run.distance(Point(p)) for p in true) <= FLAT_IN
    assert shapely.hausdorff_distance(run, LineString(true)) <= 2 * FLAT_IN


# -- planned and proven -------------------------------------------------------------------------------------------

SEWN = {
    "a quarter circle": ("M0 3A3 3 0 0 0 3 0", ["curved"]),
    "a wave from side to side": ("M0 3C2 0 4 6 6 3", ["curved"]),
    "a line that cuts a curve twice": ("M0 2Q3 5 6 2M0 3H6", ["curved"]),
    "two curves that cross": ("M0 3Q3 1 6 3M3 0Q5 3 3 6", ["curved", "curved", "curved"]),
    "a seam that ends on a curve": ("M0 2Q3 5 6 2M3 3.5V6", ["curved"]),
    "a line that swings into an arc": ("M1 6V3A2 2 0 0 1 5 3V6M0 5H1M3 6V1", None),
}


@pytest.mark.parametrize("name", sorted(SEWN))
def test_a_curve_from_border_to_border_joins_sections(tmp_path: Path, name: str) -> None:
    path, kinds = SEWN[name]
    made = plan(block_of(tmp_path, path))
    assert made.sewable == "curved" and not made.pieceable
    if kinds is not None:
        assert sorted(join.kind for join in made.joins) == kinds
    check(claim_of(made))


@pytest.mark.parametrize("name", sorted(SEWN))
def test_steps_inside_a_section_are_straight(tmp_path: Path, name: str) -> None:
    made = plan(block_of(tmp_path, SEWN[name][0]))
    for step in (step for section in made.sections for step in section.steps[1:]):
        run = [made.block.points[p] for p in step.stitch]
        assert max(LineString([run[0], run[-1]]).distance(Point(p)) for p in run) < 1e-6


def test_a_seam_may_be_stitched_along_the_straight_part_of_a_line_that_swings() -> None:
    # A gate: the patches left of its post are stitched to one another on the paper, the gate itself joined on.
    made = plan(
        typed(
            "seam 1.5, 6 to 1.5, 3",
            "arc 1.5, 3 through 3, 1.5 to 4.5, 3",
            "seam 4.5, 3 to 4.5, 6",
            "seam 0, 5 to 1.5, 5",
            "seam 3, 6 to 3, 1.5",
        )
    )
    assert made.sewable == "curved"
    check(claim_of(made))


def test_a_branch_that_leaves_a_curve_along_its_tangent_ends_there(tmp_path: Path) -> None:
    # The straight seam leaves the arc at its top, where the arc runs level.
    made = plan(block_of(tmp_path, "M0 4A3 3 0 0 1 6 4M3 1H6"))
    (curve,) = [seam for seam in made.block.seams if not seam.straight]
    assert len(curve.points) == 3
    assert made.sewable == "curved"
    check(claim_of(made))


def test_a_curve_that_meets_itself_is_an_obstruction_with_its_place(tmp_path: Path) -> None:
    made = plan(block_of(tmp_path, "M0 5C12 0 -6 0 6 5"))
    assert made.sewable == "no"
    (stuck,) = made.obstructions
    places = [made.block.points[p] for p in stuck.points]
    assert min(math.dist(p, (3, 3.5)) for p in places) < 0.001
    assert "(3, " in stuck.why


def test_a_circle_that_floats_is_an_island(tmp_path: Path) -> None:
    made = plan(block_of(tmp_path, "M4 3A1 1 0 0 1 2 3A1 1 0 0 1 4 3ZM0 5H6"))
    assert [stuck.kind for stuck in made.obstructions] == ["island"]
    assert made.obstructions[0].why.startswith("The part round (3, 3) in from the top left corner floats")


DROP = "M3 1C5 3 4.5 4.5 3 4.5C1.5 4.5 1 3 3 1Z"


@pytest.mark.parametrize(
    ("path", "kind"),
    [
        ("", "island"),
        ("M0 2L6 2.5", "inside corner"),  # the line parts the drop, its tip stays behind
        ("M3 1V0M3 4.5V6", "no seam straight through"),
        ("M0 1H6", "curve"),  # a line through the tip alone
    ],
)
def test_a_drop_is_held_at_its_tip(tmp_path: Path, path: str, kind: str) -> None:
    made = plan(block_of(tmp_path, DROP + path))
    assert [stuck.kind for stuck in made.obstructions] == [kind]
    tip = [p for stuck in made.obstructions for p in stuck.points if math.dist(made.block.points[p], (3, 1)) < 1e-6]
    assert tip


def test_a_drop_with_a_line_through_its_tip_and_its_foot_is_joined_along_both_sides(tmp_path: Path) -> None:
    made = plan(block_of(tmp_path, DROP + "M3 0V6"))
    assert made.sewable == "curved"
    assert sorted(join.kind for join in made.joins) == ["curved", "curved", "straight"]
    check(claim_of(made))


def random_curved(seed: int) -> Block | None:
    """Arcs and lines from side to side, some arcs in two pieces, some seams ending on them."""
    chance = random.Random(seed)

    def border() -> tuple[float, float]:
        place = round(chance.uniform(0.25, 5.75) * 8) / 8
        return [(place, 0.0), (6.0, place), (6 - place, 6.0), (0.0, 6 - place)][chance.randrange(4)]

    curves, lines = [], [*square()]
    for _ in range(chance.choice((1, 2, 2, 3))):
        p, q, rise = border(), border(), chance.uniform(-0.35, 0.35)
        top = ((p[0] + q[0]) / 2 - rise * (q[1] - p[1]), (p[1] + q[1]) / 2 + rise * (q[0] - p[0]))
        if math.dist(p, q) < 1.5 or abs(rise) < 0.02:
            continue
        bow = list(arc(p, top, q))
        if not all(0 <= x <= 6 and 0 <= y <= 6 for x, y in bow):
            continue
        k = chance.randrange(1, len(bow) - 1)
        curves += [bow[: k + 1], bow[k:]] if chance.random() < 0.4 and k > 1 and k < len(bow) - 2 else [bow]
        if chance.random() < 0.6:
            lines.append((bow[k], border()))
    lines += [(border(), border()) for _ in range(chance.choice((0, 1, 2)))]
    if not curves:
        return None
    return make_block(drawing([line for line in lines if math.dist(*line) > 0.3], curves=curves))


@pytest.mark.parametrize("seed", range(40))
def test_what_is_planned_of_any_curved_block_is_proven_and_reads_back(seed: int) -> None:
    block = random_curved(seed)
    if block is None:
        return
    made = plan(block)
    assert made.sections or made.obstructions
    if made.sections:
        check(claim_of(made))
    again = make_block(read_seams(write_seams(block), name="?", file=""))
    assert replace(again, name="", notes=()) == replace(block, name="", notes=())


# -- printed -------------------------------------------------------------------------------------------------------


def test_the_allowance_follows_the_curve_to_a_twentieth_of_a_millimetre() -> None:
    """Against the true offsets, circles of 3 and 6 in a quarter inch larger and smaller."""
    made, checked = lamp(), 0
    for name, trim in trim_outlines(made).items():
        ring = Polygon(trim).exterior
        section = next(s for s in made.sections if s.name == name)
        stitched = Polygon(region_ring(made.block, section.patches))
        for radius in (3.0, 6.0):
            for side in (-0.25, 0.25):
                for k in range(4, 87):
                    angle = math.radians(k)
                    at = Point((radius + side) * math.sin(angle), 8 - (radius + side) * math.cos(angle))
                    facing = Point(radius * math.sin(angle), 8 - radius * math.cos(angle))
                    if stitched.exterior.distance(facing) > 0.001 or stitched.contains(at):
                        continue
                    assert ring.distance(at) < 0.05 * MM
                    checked += 1
    assert checked == 4 * 83  # both sides of both curves


def test_the_allowance_agrees_with_a_fine_buffer_of_geos() -> None:
    made = lamp()
    for name, trim in trim_outlines(made).items():
        section = next(s for s in made.sections if s.name == name)
        area = Polygon(region_ring(made.block, section.patches))
        round_corners = area.buffer(0.25, quad_segs=256)
        grown = Polygon(trim)
        # Mitres reach further than rounded corners, and nowhere less.
        assert round_corners.difference(grown.buffer(0.05 * MM)).area < 1e-9
        beyond = grown.difference(round_corners.buffer(0.05 * MM))
        corners = shapely.MultiPoint(canonical_corners(area))
        assert all(corners.distance(part) < 0.7 for part in shapely.get_parts(beyond))


def canonical_corners(area: Polygon) -> list[tuple[float, float]]:
    """Corners that turn by more than a curve's pieces do."""
    ring = list(area.exterior.coords)[:-1]
    found = []
    for before, at, after in zip(ring[-1:] + ring[:-1], ring, ring[1:] + ring[:1], strict=True):
        turn = math.atan2(after[1] - at[1], after[0] - at[0]) - math.atan2(at[1] - before[1], at[0] - before[0])
        if abs(math.remainder(turn, math.tau)) > math.radians(15):
            found.append(at)
    return found


def test_marks_stand_where_tips_touch_the_curve_on_both_sides_alike() -> None:
    made = lamp()
    marks = common_to(made).marks
    feet = {name: {(round(x, 9), round(y, 9)) for (x, y), _ in found} for name, found in marks.items()}
    for radius, seams in ((3.0, (18, 36, 45, 54, 72)), (6.0, (9, 27, 45, 63, 81))):
        # Tips stand so near to the quarters that these have no mark of their own.
        for angle in map(math.radians, seams):
            at = (radius * math.sin(angle), 8 - radius * math.cos(angle))
            sides = [name for name, found in feet.items() if any(math.dist(at, p) < 0.002 for p in found)]
            assert len(sides) == 2, (radius, math.degrees(angle))
            one, two = ([tip for foot, tip in marks[name] if math.dist(foot, at) < 0.002] for name in sides)
            # Square to the curve and one allowance long: turned over the curve the two ticks coincide.
            for tip, other in zip(sorted(one), sorted(two, reverse=True), strict=True):
                assert math.dist(tip, other) == pytest.approx(0.5, abs=0.002)


def test_the_print_says_to_take_the_paper_out_of_a_curved_allowance() -> None:
    for print_ in foundations(lamp()):
        told = [line for line in print_.legend if "paper out of the allowance along the curve" in line]
        curved = print_.kind == "foundation"
        assert bool(told) == curved
    straight = plan(make_block(read_drawing(DESIGNS / "kite.svg")))
    assert not any("curve" in line for print_ in foundations(straight) for line in print_.legend)


def test_the_lamp_is_printed_and_measures_true(tmp_path: Path) -> None:
    printed = api.write_pdf(tmp_path / "lamp.pdf", api.plan(api.read_block(DESIGNS / "lamp.seams")))
    assert printed.measured.largest_error_mm < 0.01
    assert {placed.foundation.section for sheet in printed.sheets for placed in sheet.placed} == set("ABCD")


HALF_RING = """seamwright block 1
size 10 x 5 in
outline 0, 5 to 10, 5 to 8, 5 to 2, 5
side 0, 5 through 5, 0 to 10, 5
side 8, 5 through 5, 2 to 2, 5
seam {} to {}
"""


def half_ring(one: str, two: str) -> Plan:
    return plan(make_block(read_seams(HALF_RING.format(one, two), name="half ring", file="")), FREE)


def test_a_fold_line_that_meets_a_round_outline_again_is_seen() -> None:
    # Run on, the seam's line crosses the left foot of the ring: so what lies right of it is sewn first.
    made = half_ring("5.5205, 2.0455", "7.5, 0.6699")
    (section,) = made.sections
    first = Polygon(made.block.patch_ring(section.patches[0]))
    assert first.centroid.x > 6
    assert not any(note.code == "fold" for note in made.notes)


def test_the_key_of_a_round_section_is_round() -> None:
    made = half_ring("5, 0", "5, 2")
    tints = [ink for ink in Key(made, 72.0).item(frozenset("A")).ink if isinstance(ink, Area)]
    assert [Polygon(ink.rings[0]).area for ink in tints] == [
        pytest.approx(math.pi * 8 * 7.2**2, rel=1e-3)  # half of a ring of 3 to 5 in, 10 in drawn as 72 pt
    ]


def test_the_lamp_is_sewn_in_rehearsal() -> None:
    rehearse(sewing_of(lamp()))


def test_edges_of_a_print_lie_on_the_curve_that_was_drawn() -> None:
    for print_ in foundations(lamp()):
        ring = [*print_.stitch_outline, print_.stitch_outline[0]]
        assert max(math.dist(a, b) for a, b in pairwise(ring) if math.dist(a, b) < 0.5) < 0.2


@pytest.mark.parametrize("size", ["4in", "16in", "40in"])
def test_the_lamp_can_be_sewn_at_any_size(size: str) -> None:
    # A seam typed to end on an arc ends on it in the finished block too, however large that is.
    made = api.plan(api.read_block(DESIGNS / "lamp.seams", size=size, fit="none"))
    assert (made.sewable, made.fewest and made.fewest.sections) == ("curved", 3)
