"""Reversed blocks: mirror images as blocks, as plans, on paper; and the symmetries of a block."""

from __future__ import annotations

import math
import random
from dataclasses import replace
from itertools import pairwise
from pathlib import Path

import numpy as np
import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely.affinity import affine_transform

from seamwright import api, mending
from seamwright.block.mirrored import mirrored
from seamwright.block.model import Block
from seamwright.cli import main
from seamwright.drawing.textform import read_seams, write_seams
from seamwright.fabric.model import Fabric
from seamwright.geometry import Affine, moved, signed_area
from seamwright.piecing.model import Plan, Section
from seamwright.piecing.plan import plan as planned
from seamwright.quilt.symmetry import ALL_TURNS, compose, inverse, symmetries
from support.measure import page_affine, stitched_by_mupdf
from support.random_cloth import job

DESIGNS = Path(__file__).parent.parent / "designs"
NAMES = sorted(path.name for path in DESIGNS.iterdir() if path.suffix in (".svg", ".seams"))
FEW = ("kite.svg", "beacon.seams", "lamp.seams")
"""Straight; with A and Ar and a section that is its own mirror; with curves."""


def block_of(name: str) -> Block:
    return api.read_block(DESIGNS / name)


def plan_of(name: str, **options: bool) -> Plan:
    made = api.plan(block_of(name), **options)
    return made if made.sections else api.plan(block_of(name), set_in=True, **options)


def area_of(block: Block, patch: int) -> shapely.Polygon:
    return shapely.Polygon(block.patch_ring(patch), block.patch_holes(patch))


def by_shapely(affine: Affine) -> list[float]:
    a, b, c, d, e, f = affine
    return [a, c, b, d, e, f]  # shapely's matrix goes row by row


# -- blocks ----------------------------------------------------------------------------------------------------


@pytest.mark.parametrize("name", NAMES)
def test_left_and_right_change_places_patch_by_patch_as_shapely_mirrors_them(name: str) -> None:
    block = block_of(name)
    seen = mirrored(block)
    flip = [-1, 0, 0, 1, block.width_in, 0]
    for number, patch in enumerate(seen.patches):
        there = affine_transform(area_of(block, number), flip)
        assert area_of(seen, number).symmetric_difference(there).area < 1e-9
        assert signed_area(seen.patch_ring(number)) > 0  # clockwise again
        assert patch.fabric == block.patches[number].fabric
        assert patch.ring[0] == block.patches[number].ring[0]
        for place, edge in enumerate(patch.edges):
            ends = {seen.edges[edge].start, seen.edges[edge].end}
            assert ends == {patch.ring[place], patch.ring[(place + 1) % len(patch.ring)]}
    outline = affine_transform(shapely.Polygon(block.outline_ring()), flip)
    assert shapely.Polygon(seen.outline_ring()).symmetric_difference(outline).area < 1e-9


@pytest.mark.parametrize("name", NAMES)
def test_the_mirror_image_of_the_mirror_image_is_the_block(name: str) -> None:
    block = block_of(name)
    assert mirrored(mirrored(block)) == block
    # Done by arithmetic, not by what was kept, it is the same but for rounding.
    seen = mirrored(block)
    again = mirrored(replace(seen, mirror_of=None, reversed=False))
    assert [replace(e, via=()) for e in again.edges] == [replace(e, via=()) for e in block.edges]
    assert again.patches == block.patches
    assert again.outline == block.outline
    assert np.allclose(again.points, block.points, rtol=0, atol=1e-12)


def test_every_edge_has_the_patch_on_its_left_that_was_on_its_right() -> None:
    block = block_of("kite.svg")
    for edge, seen in zip(block.edges, mirrored(block).edges, strict=True):
        assert (seen.left, seen.right) == (edge.right, edge.left)


@pytest.mark.parametrize(("drawn", "seen"), [(0, 180), (45, 135), (90, 90), (200, 340), (None, None)])
def test_stripes_and_prints_run_as_in_a_mirror(drawn: float | None, seen: float | None) -> None:
    block = replace(block_of("kite.svg"), fabrics=(Fabric("ticking", direction_deg=drawn),))
    assert mirrored(block).fabrics == (Fabric("ticking", direction_deg=seen),)


def test_a_reversed_block_is_written_as_it_was_drawn() -> None:
    block = block_of("beacon.seams")
    assert write_seams(mirrored(block)) == write_seams(block)


def test_a_palette_says_how_stripes_run_in_the_block_as_drawn(tmp_path: Path) -> None:
    palette = tmp_path / "striped.palette"
    palette.write_text("seamwright palette 1\nfabric sky colour #a9c9dc stripes 30\n")
    made = api.plan(mirrored(block_of("kite.svg")), palette=str(palette))
    (sky,) = (fabric for fabric in made.block.fabrics if fabric.name == "sky")
    assert (made.block.reversed, sky.direction_deg) == (True, 150)


# -- plans -----------------------------------------------------------------------------------------------------


def _clockwise(block: Block, patch: int) -> set[tuple[int, int]]:
    ring = block.patches[patch].ring
    return set(pairwise((*ring, ring[0])))


def name_of(section: Section) -> str:
    return section.print + "r" * section.reversed


def check_letters(plan: Plan, seen: Plan) -> None:
    """Each section keeps its patches and its letter; only one that is its own mirror keeps its hand, too."""
    before = {frozenset(section.patches): section for section in plan.sections}
    width = plan.block.width_in
    for section in seen.sections:
        own = before[frozenset(section.patches)]
        assert section.print == own.print
        assert section.method == own.method
        if section.reversed == own.reversed:
            area = shapely.union_all([area_of(plan.block, patch) for patch in own.patches])
            rings = [area_of(plan.block, patch) for patch in own.patches]
            assert is_own_mirror(area, rings, [plan.block.patches[p].fabric for p in own.patches])
        else:
            assert section.patches == own.patches
        for step in section.steps[1:]:
            # Clockwise round the patch that is added, as in every plan: cutting lays fabric by that.
            assert set(pairwise(step.stitch)) <= _clockwise(seen.block, step.patch)
    assert len({section.name for section in seen.sections}) == len(seen.sections)
    assert [name_of(s) for s in seen.sections] == sorted(
        (name_of(s) for s in seen.sections), key=lambda name: (len(name.rstrip("r")), name)
    )
    assert [{frozenset(join.seam), join.kind} for join in plan.joins] == [
        {frozenset(join.seam), join.kind} for join in seen.joins
    ]
    for note in seen.notes:
        assert all(-0.01 <= x <= width + 0.01 for x, _ in note.places_in)


def is_own_mirror(area: shapely.Polygon, parts: list[shapely.Polygon], fabrics: list[str | None]) -> bool:
    """Whether a mirror line through its middle, and a corner or halfway between two, lays a section on itself."""
    middle = area.centroid
    ring = [p for part in parts for p in part.exterior.coords]
    corners = [*ring, *(((a[0] + b[0]) / 2, (a[1] + b[1]) / 2) for a in ring for b in ring)]
    for x, y in corners:
        u, v = x - middle.x, y - middle.y
        if (length := np.hypot(u, v)) < 1e-6:
            continue
        cos, sin = (u * u - v * v) / length**2, 2 * u * v / length**2
        flip = [cos, sin, sin, -cos, middle.x - cos * middle.x - sin * middle.y, 0.0]
        flip[5] = middle.y - sin * middle.x + cos * middle.y
        laid = [affine_transform(part, flip) for part in parts]
        if all(
            any(
                fabrics[i] == fabrics[j] and one.symmetric_difference(other).area < 0.02
                for j, other in enumerate(parts)
            )
            for i, one in enumerate(laid)
        ):
            return True
    return False


@pytest.mark.parametrize("name", FEW)
def test_what_a_plan_calls_a_is_ar_in_the_reversed_plan_unless_it_is_its_own_mirror(name: str) -> None:
    plan, seen = plan_of(name), plan_of(name, reversed=True)
    check_letters(plan, seen)
    assert seen.id != plan.id
    assert seen.options.reversed
    assert seen.block.title == f"{plan.block.title} reversed"
    assert (seen.sewable, seen.points_to_match, seen.fewest) == (plan.sewable, plan.points_to_match, plan.fewest)
    assert api.plan(seen.block) == seen  # a block that is reversed stays so
    assert planned(mirrored(seen.block), replace(seen.options, reversed=False)) == plan


def test_letters_of_known_designs() -> None:
    assert [s.name for s in plan_of("kite.svg", reversed=True).sections] == ["Ar", "Br"]
    # The beacon's roof halves mirror each other; its tower C leans, B and D are their own mirrors.
    assert [s.name for s in plan_of("beacon.seams").sections] == ["A", "Ar", "B", "C", "D"]
    assert [s.name for s in plan_of("beacon.seams", reversed=True).sections] == ["A", "Ar", "B", "Cr", "D"]


def test_a_reversed_plan_is_proven_and_rehearsed_like_every_plan() -> None:
    assert api.foundations(plan_of("beacon.seams", reversed=True))


@pytest.mark.long
@pytest.mark.parametrize("name", NAMES)
def test_every_design_can_be_sewn_reversed(name: str) -> None:
    plan, seen = plan_of(name), plan_of(name, reversed=True)
    check_letters(plan, seen)
    assert len(api.foundations(seen)) == len(api.foundations(plan))


@settings(max_examples=6, deadline=None)
@given(seed=st.integers(0, 10**6))
def test_whatever_block_can_be_planned_reversed(seed: int) -> None:
    asked = job(seed)
    plan = planned(asked.block, asked.options)
    seen = api.plan(mirrored(plan.block if plan.block.pre_pieced else asked.block), **_texts(asked.options))
    assert bool(seen.sections) == bool(plan.sections)
    assert len(seen.obstructions) == len(plan.obstructions)
    if plan.sections:
        check_letters(plan, seen)


@pytest.mark.long
@pytest.mark.parametrize("seed", range(120))
def test_whatever_block_can_be_sewn_reversed(seed: int) -> None:
    asked = job(seed)
    plan = planned(asked.block, asked.options)
    seen = api.plan(mirrored(asked.block), **_texts(asked.options))
    if plan.sections:
        check_letters(plan, seen)
        api.rehearse(seen)


def _texts(options: object) -> dict[str, str]:
    from seamwright.report.values import options_as_text

    return {name.replace("-", "_"): text for name, text in options_as_text(options).items()}  # type: ignore[arg-type]


def test_names_in_start_and_pre_pieced_are_those_of_the_block_as_drawn() -> None:
    started = api.plan(block_of("kite.svg"), start="A2", reversed=True)
    assert next(s for s in started.sections if s.print == "A").patches == (
        next(s for s in api.plan(block_of("kite.svg"), start="A2").sections if s.print == "A").patches
    )
    pieced = api.plan(block_of("kite.svg"), pre_pieced="A1+A2", reversed=True)
    (made,) = pieced.block.pre_pieced
    assert [part.name for part in made.parts] == ["A1", "A2"]
    assert any("A1+A2 is Ar3 now" in note.text for note in pieced.notes)
    api.rehearse(pieced)


def test_the_text_form_can_ask_for_it_and_reads_back(tmp_path: Path) -> None:
    text = write_seams(block_of("beacon.seams")).replace("option", "option", 1)
    head, rest = text.split("\n\n", 1)
    drawing = tmp_path / "beacon.seams"
    drawing.write_text(f"{head}\noption reversed yes\n\n{rest}")
    block = api.read_block(drawing)
    assert block.reversed
    assert api.plan(block).block.reversed
    assert not api.plan(block, reversed=False).block.reversed
    assert read_seams(write_seams(block), name="beacon", file="").options == block.options


def test_a_stuck_drawing_is_mended_in_its_own_hand(tmp_path: Path) -> None:
    """The mend that is found in the mirror image is done to the drawing, which is not mirrored by it."""
    seen = mending.with_mends(api.outcome(str(DESIGNS / "breakwater.seams"), [("reversed", "yes")]))
    assert seen.plan is not None
    assert seen.plan.block.reversed
    out = tmp_path / "mended.seams"
    mending.write_mended(out, seen.plan, seen.mends[:1])
    before, after = block_of("breakwater.seams"), api.read_block(out)
    lines = [
        shapely.union_all([shapely.LineString(b.edge_points(n)) for n in range(len(b.edges))])
        for b in (before, after)
    ]
    assert lines[0].difference(lines[1].buffer(1e-6)).is_empty  # all that was drawn is where it was
    assert api.plan(after, reversed=True).sections


# -- on paper --------------------------------------------------------------------------------------------------


def stitched(path: Path, plan: Plan) -> np.ndarray:
    """Ends of lines to stitch on, as MuPDF reads them in the file, laid back on the block: inches, front view."""
    printed = api.write_pdf(path, plan)
    found = []
    for number, sheet in enumerate(printed.sheets):
        ends = stitched_by_mupdf(path.read_bytes(), number)
        for placed in sheet.placed:
            a, b, c, d, e, f = page_affine(placed)
            ring = [moved(placed.affine, p) for p in placed.foundation.stitch_outline]
            room = shapely.Polygon(ring).buffer(1.0)
            at = np.array([p for p in ends if room.covers(shapely.Point(p))]) - (e, f)
            found.append(at @ np.linalg.inv(np.array([[a, c], [b, d]])).T)
    return np.concatenate(found)


@pytest.mark.parametrize("name", ["kite.svg", pytest.param("beacon.seams", marks=pytest.mark.long)])
def test_a_reversed_print_is_the_mirror_image_of_the_print_in_the_finished_file(name: str, tmp_path: Path) -> None:
    plan, seen = plan_of(name), plan_of(name, reversed=True)
    drawn, flipped = stitched(tmp_path / "drawn.pdf", plan), stitched(tmp_path / "flipped.pdf", seen)
    flipped[:, 0] = plan.block.width_in - flipped[:, 0]
    apart = np.linalg.norm(drawn[:, None, :] - flipped[None, :, :], axis=2)
    assert apart.min(axis=1).max() < 0.0005  # inches: a hundredth of a millimetre
    assert apart.min(axis=0).max() < 0.0005


def test_a_print_and_its_reversed_one_are_never_called_alike(tmp_path: Path) -> None:
    """Where A and Ar are both there, each patch of each has a name that the other has not."""
    plan, seen = plan_of("kite.svg"), plan_of("kite.svg", reversed=True)
    printed = api.write_pdf(tmp_path / "both.pdf", plan, seen)
    names = {
        one.foundation.block: {
            patch.name
            for p in s.placed
            if p.foundation.block == one.foundation.block
            for patch in p.foundation.patches
        }
        for s in printed.sheets
        for one in s.placed
    }
    assert set(names) == {"kite", "kite reversed"}
    assert not names["kite"] & names["kite reversed"]


def test_the_command_line_says_that_it_is_reversed(capsys: pytest.CaptureFixture[str]) -> None:
    import json

    assert main(["check", str(DESIGNS / "kite.svg"), "--reversed", "--json"]) == 0
    (found,) = json.loads(capsys.readouterr().out)
    assert found["block"]["reversed"] is True
    assert found["plan"]["options"] == {"reversed": "yes"}
    assert [section["name"] for section in found["sections"]] == ["Ar", "Br"]
    assert all(section["reversed"] for section in found["sections"])


# -- symmetries ------------------------------------------------------------------------------------------------


@pytest.mark.parametrize("name", NAMES)
def test_the_symmetries_of_a_block_are_those_under_which_the_unions_of_its_fabrics_stay(name: str) -> None:
    """By another road: the union of each fabric's patches, and all lines, laid on themselves by GEOS."""
    block = block_of(name)
    unions: dict[str | None, list[shapely.Polygon]] = {}
    for number, patch in enumerate(block.patches):
        unions.setdefault(patch.fabric, []).append(area_of(block, number))
    fabrics = [shapely.union_all(some) for some in unions.values()]
    lines = shapely.union_all([shapely.LineString(block.edge_points(n)) for n in range(len(block.edges))])
    stays = set()
    for turn in ALL_TURNS:
        place = by_shapely(turn.place(block.width_in, block.height_in))
        same = all(affine_transform(one, place).symmetric_difference(one).area < 0.01 for one in fabrics)
        if same and affine_transform(lines, place).hausdorff_distance(lines) < 0.01:
            stays.add(turn)
    assert symmetries(block) == stays


def test_turns_follow_one_another_as_their_places_do() -> None:
    rng = random.Random(7)
    for one in ALL_TURNS:
        for two in ALL_TURNS:
            point = (rng.uniform(0, 6), rng.uniform(0, 6))
            there = moved(two.place(6, 6), moved(one.place(6, 6), point))
            assert moved(compose(one, two).place(6, 6), point) == pytest.approx(there)
        assert compose(one, inverse(one)) == compose(inverse(one), one) == ALL_TURNS[0]


def test_stripes_take_symmetries_away() -> None:
    """The gull is its own mirror image; with stripes that lean it is not, with level ones it is."""
    gull = block_of("gull.svg")
    assert len(symmetries(gull)) == 2

    def striped(direction: float, *, stripes: bool) -> Block:
        fabrics = tuple(replace(f, direction_deg=direction, striped=stripes) for f in gull.fabrics)
        return replace(gull, fabrics=fabrics)

    assert len(symmetries(striped(30, stripes=True))) == 1
    assert len(symmetries(striped(0, stripes=True))) == 2
    assert len(symmetries(striped(0, stripes=False))) == 1  # a print that runs to the right
    assert len(symmetries(striped(90, stripes=False))) == 2


@pytest.mark.parametrize("stripes", [True, False])
@pytest.mark.parametrize("direction", range(0, 360, 45))
def test_a_print_stays_where_its_arrow_comes_to_lie_on_itself(
    tmp_path: Path, direction: int, stripes: bool
) -> None:
    """A block that keeps its lines in all eight turns; an arrow along its print is moved as its points are."""
    path = tmp_path / "cross.seams"
    path.write_text(
        "seamwright block 1\nsize 6 in\nseam 0, 0 to 6, 6\nseam 6, 0 to 0, 6\n"
        "fabric sky colour #a9c9dc\nlay sky at 3, 1 and 5, 3 and 3, 5 and 1, 3\n"
    )
    block = api.read_block(path)
    assert len(symmetries(block)) == 8
    runs = tuple(replace(f, direction_deg=direction, striped=stripes) for f in block.fabrics)
    x, y = (round(f(math.radians(direction)), 9) for f in (math.cos, math.sin))
    stays = set()
    for turn in ALL_TURNS:
        a, b, c, d, _, _ = turn.place(6, 6)
        to = (round(a * x + c * y, 6) + 0.0, round(b * x + d * y, 6) + 0.0)
        if to == (round(x, 6), round(y, 6)) or (stripes and to == (-round(x, 6), -round(y, 6))):
            stays.add(turn)
    assert symmetries(replace(block, fabrics=runs)) == stays


def test_places_of_the_drawing_and_rings_round_islands_are_mirrored_too(tmp_path: Path) -> None:
    path = tmp_path / "island.seams"
    path.write_text("seamwright block 1\nsize 6 in\nseam 1, 2 to 4, 2 to 3, 5 to 1, 2\n")
    block = api.read_block(path)
    seen = mirrored(block)
    for place in ((0.0, 0.0), (1.0, 2.0), (3.0, 5.0)):
        x, y = moved(block.lay, place)
        assert moved(seen.lay, place) == pytest.approx((block.width_in - x, y))
    (ground,) = [number for number, patch in enumerate(block.patches) if patch.holes]
    (hole,), (there,) = block.patches[ground].hole_edges, seen.patches[ground].hole_edges
    assert sorted(there) == sorted(hole) and len(there) == 3
    assert area_of(seen, ground).area == pytest.approx(36 - 4.5)
    # Edges run round as the ring does, from corner to corner.
    ring = seen.patches[ground].holes[0]
    for number, ends in zip(there, pairwise((*ring, ring[0])), strict=True):
        assert {seen.edges[number].start, seen.edges[number].end} == set(ends)
