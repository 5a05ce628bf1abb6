"""Contrast, hue, and points that vanish: published values of the standards, and planted points that must be found.

Names of colours are those of W3C CSS Color Module Level 3, section 4.3, with the values it prints.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import replace
from itertools import groupby, pairwise

import numpy as np
import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely.geometry import LineString, Polygon

from seamwright.block.make import make_block
from seamwright.block.model import Block
from seamwright.drawing.read import read_drawing
from seamwright.fabric.contrast import ALIKE, contrast, opponents, ratio, read_alike, warmth
from seamwright.fabric.luminance import grey_of, luminance
from seamwright.fabric.model import Fabric, Value
from seamwright.fabric.worn import worn
from seamwright.geometry import Point
from seamwright.options import PlanOptions
from seamwright.piecing.plan import plan
from seamwright.piecing.vanishing import vanishing
from seamwright.report.checks import check_object
from seamwright.words.checks import check_words
from support.exact import exact_block
from support.prints import designs, planned
from support.random_blocks import cut_block

COLOURS = st.integers(0, 0xFFFFFF).map(lambda n: f"#{n:06x}")


def coloured(name: str, colour: str, warm: str = "") -> Fabric:
    return Fabric(name, colour=colour, warmth=warm)


# -- luminance and contrast ------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("colour", "expected"),
    [
        ("#000000", 0.0),
        ("#ffffff", 1.0),
        # The shares of the primaries: IEC 61966-2-1, printed so in WCAG 2's definition of relative luminance.
        ("#ff0000", 0.2126),
        ("#00ff00", 0.7152),
        ("#0000ff", 0.0722),
        # Half the light of white lies at 188 of 255 in sRGB (0.5029), the grey card of 18 % at 118 (0.1812): as
        # handbooks of photography print them; from memory.
        ("#bcbcbc", 0.5029),
        ("#767676", 0.1812),
    ],
)
def test_luminance_agrees_with_what_is_published(colour: str, expected: float):
    assert luminance(colour) == pytest.approx(expected, abs=5e-5)


@pytest.mark.parametrize(
    ("one", "other", "expected"),
    [
        # WCAG 2.2, definition of contrast ratio: from 1 to 21.
        ("#000000", "#ffffff", 21.0),
        ("#4f8196", "#4f8196", 1.0),
        # The lightest greys that pass 4.5 and 3 to 1 on white, and the one beside the first that fails, as teaching
        # material on WCAG prints them; from memory.
        ("#767676", "#ffffff", 4.54),
        ("#777777", "#ffffff", 4.48),
        ("#949494", "#ffffff", 3.03),
        # Pure red and pure blue on white; from memory, as above.
        ("#ff0000", "#ffffff", 4.00),
        ("#0000ff", "#ffffff", 8.59),
    ],
)
def test_contrast_agrees_with_what_is_published(one: str, other: str, expected: float):
    assert ratio(one, other) == ratio(other, one)
    assert ratio(one, other) == pytest.approx(expected, abs=0.005)


def test_both_published_thresholds_of_the_transfer_function_give_one_luminance():
    # 0.04045 of IEC 61966-2-1:1999 and 0.03928 of WCAG 2.0 part the same channels of 8 bits.
    for level in range(256):
        channel = level / 255
        by_either = {
            channel / 12.92 if channel <= bent else ((channel + 0.055) / 1.055) ** 2.4
            for bent in (0.04045, 0.03928)
        }
        assert len(by_either) == 1
        assert luminance(f"#{level:02x}{level:02x}{level:02x}") == pytest.approx(by_either.pop(), rel=1e-12)


def light_of_level(level: float) -> float:
    """Light of a grey between two of 256: the transfer function of IEC 61966-2-1, written out once more."""
    channel = level / 255
    return channel / 12.92 if channel <= 0.04045 else ((channel + 0.055) / 1.055) ** 2.4


@given(colour=COLOURS)
def test_a_grey_gives_as_much_light_as_its_colour_to_the_nearest_of_256(colour: str):
    grey = grey_of(colour)
    level = int(grey[1:3], 16)
    assert grey == f"#{level:02x}" + 2 * f"{level:02x}"
    assert light_of_level(level - 0.5) - 1e-9 <= luminance(colour) <= light_of_level(level + 0.5) + 1e-9


@given(one=COLOURS, other=COLOURS)
def test_contrast_lies_between_1_and_21_and_does_not_change_in_greys(one: str, other: str):
    assert 1 <= ratio(one, other) <= 21
    # A step of grey is at most 1/12.92/255 of light near black, far below a tenth of the contrast there.
    assert ratio(grey_of(one), grey_of(other)) == pytest.approx(ratio(one, other), rel=0.03)


# -- warm and cool ---------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("colour", "a", "b"),
    # a* and b* of the primaries of sRGB under its own white, as colour handbooks print them; from memory.
    [("#ff0000", 80.09, 67.20), ("#00ff00", -86.18, 83.18), ("#0000ff", 79.19, -107.86), ("#808080", 0.0, 0.0)],
)
def test_hues_agree_with_colour_handbooks(colour: str, a: float, b: float):
    # The matrix of the standard has four digits.
    assert opponents(colour) == pytest.approx((a, b), abs=0.05)


@pytest.mark.parametrize(
    ("reads", "names"),
    [
        # Common practice: colour wheels are halved so.
        ("warm", ["#ff0000 red", "#ffa500 orange", "#ffff00 yellow", "#a52a2a brown", "#ff69b4 hot pink"]),
        ("warm", ["#c71585 medium violet red", "#ffd700 gold", "#ffc0cb pink", "#d2b48c tan", "#800000 maroon"]),
        ("cool", ["#0000ff blue", "#008000 green", "#008080 teal", "#000080 navy", "#800080 purple"]),
        (
            "cool",
            ["#9acd32 yellow green", "#4b0082 indigo", "#40e0d0 turquoise", "#87ceeb sky blue", "#e6e6fa lavender"],
        ),
        ("neutral", ["#000000 black", "#808080 grey", "#ffffff white", "#f5f5f5 white smoke", "#fffafa snow"]),
    ],
)
def test_hues_are_warm_or_cool_as_on_any_wheel_and_greys_are_neither(reads: str, names: Sequence[str]):
    for name in names:
        assert warmth(coloured(name, name[:7])) == reads, name


def test_what_the_owner_says_wins_and_nothing_is_made_up():
    assert warmth(coloured("brick", "#c8102e", "cool")) == "cool"
    assert warmth(Fabric("sky")) == ""
    assert warmth(Fabric("sky", warmth="cool")) == "cool"


def test_no_design_calls_warm_what_is_worked_out_as_cool_nor_the_other_way_round():
    stated = [f for path in designs() for f in make_block(read_drawing(path), PlanOptions()).fabrics if f.warmth]
    assert len(stated) > 20
    for fabric in stated:
        if fabric.colour:
            assert warmth(replace(fabric, warmth="")) in (fabric.warmth, "neutral"), fabric


# -- what reads alike ------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("one", "other", "alike"),
    [
        (coloured("fog", "#d3d9dd"), coloured("spray", "#dce8ea"), True),
        (coloured("fog", "#d3d9dd"), coloured("ink", "#1b2a41"), False),
        # Of one value, but warm against cool, or either against a grey.
        (coloured("brick", "#b04a3a"), coloured("lake", "#46738a"), False),
        (coloured("brick", "#b04a3a"), coloured("slate", "#757575"), False),
        # Warm and warm, of one value.
        (coloured("brick", "#b04a3a"), coloured("rust", "#a85426"), True),
        # Two off-whites that are called warm and cool, which nobody can see.
        (coloured("chalk", "#f7f5f0", "warm"), coloured("fog", "#e6ebee", "cool"), True),
        # Values alone.
        (Fabric("a", value=Value.DARK), Fabric("b", value=Value.DARK), True),
        (Fabric("a", value=Value.DARK), Fabric("b", value=Value.MEDIUM), False),
        (Fabric("a", value=Value.DARK, warmth="warm"), Fabric("b", value=Value.DARK, warmth="cool"), False),
        (Fabric("a", value=Value.LIGHT), coloured("b", "#f4f1ea"), True),
        # Nothing is known.
        (Fabric("a"), Fabric("b"), False),
        (Fabric("a"), coloured("b", "#f4f1ea"), False),
    ],
    ids=lambda value: value.name if isinstance(value, Fabric) else str(value),
)
def test_fabrics_read_alike_only_if_that_is_known(one: Fabric, other: Fabric, alike: bool):
    assert read_alike(one, other) is alike
    assert read_alike(other, one) is alike


@given(one=COLOURS, other=COLOURS)
def test_what_has_contrast_never_reads_alike(one: str, other: str):
    a, b = coloured("a", one), coloured("b", other)
    if ratio(one, other) >= ALIKE:
        assert not read_alike(a, b)


# -- points that vanish ----------------------------------------------------------------------------------------

SAIL, FOG, INK, BRASS = (
    coloured("sail", "#f4f1ea"),
    coloured("fog", "#e6e6e2"),
    coloured("ink", "#1b2a41"),
    coloured("brass", "#f2d38b"),
)
SPIKE = [((2, 6), (3, 0)), ((3, 0), (4, 6))]
"""A point of 18.9 degrees that stands on the bottom of a block of 6 in and touches its top, between two grounds."""


def dressed(block: Block, at: dict[Point, Fabric]) -> Block:
    """The block with fabrics on the patches in which places lie."""
    areas = [Polygon(block.patch_ring(n), block.patch_holes(n)) for n in range(len(block.patches))]
    names: dict[int, str] = {}
    for (x, y), fabric in at.items():
        (number,) = (n for n, area in enumerate(areas) if area.contains(LineString([(x, y), (x + 1e-6, y)])))
        names[number] = fabric.name
    patches = tuple(replace(patch, fabric=names.get(n)) for n, patch in enumerate(block.patches))
    return replace(block, patches=patches, fabrics=tuple(dict.fromkeys(at.values())))


def spike(point: Fabric, left: Fabric, right: Fabric) -> Block:
    return dressed(exact_block(SPIKE), {(3, 5): point, (1, 1): left, (5, 1): right})


@pytest.mark.parametrize(
    ("left", "right", "vanishes"),
    [
        (FOG, FOG, True),
        (FOG, INK, True),  # it melts into one side: a bent edge is left, and no point
        (INK, FOG, True),
        (INK, INK, False),
        (BRASS, INK, False),  # hardly darker, but warm against a white
        (Fabric("unknown"), INK, False),
    ],
    ids=["both sides", "left side", "right side", "neither", "parted by hue", "not known"],
)
def test_a_planted_point_vanishes_where_a_neighbour_reads_alike(left: Fabric, right: Fabric, vanishes: bool):
    block = spike(SAIL, left, right)
    found = [lost for lost in vanishing(block) if lost.at == (3, 0)]
    tip = [lost for lost in found if lost.fabric == SAIL]
    assert bool(tip) is vanishes
    if vanishes:
        assert tip[0].angle_deg == pytest.approx(2 * math.degrees(math.atan2(1, 6)))
        assert tip[0].alike == (FOG,)
        assert {block.patches[patch].fabric for patch in tip[0].beside} == {"fog"}


def test_a_point_of_the_fabric_beside_it_is_one_shape_with_it_on_purpose():
    assert vanishing(spike(SAIL, SAIL, INK)) == ()
    assert vanishing(spike(SAIL, SAIL, SAIL)) == ()


def test_two_halves_of_one_point_that_read_alike_lose_nothing():
    halved = exact_block([*SPIKE, ((3, 0), (3, 6))])
    block = dressed(halved, {(2.8, 5): SAIL, (3.2, 5): FOG, (1, 1): INK, (5, 1): INK})
    assert vanishing(block) == ()
    # Both vanish in a ground that reads like either.
    mist = coloured("mist", "#eceae4")
    lost = vanishing(dressed(halved, {(2.8, 5): SAIL, (3.2, 5): FOG, (1, 1): mist, (5, 1): mist}))
    assert len([one for one in lost if one.angle_deg < 15]) == 2


@pytest.mark.parametrize(("half_width", "sharp"), [(2, True), (3, False)], ids=["36.9 degrees", "53.1 degrees"])
def test_only_sharp_points_are_looked_at(half_width: int, sharp: bool):
    block = exact_block([((3 - half_width, 6), (3, 0)), ((3, 0), (3 + half_width, 6))])
    found = vanishing(dressed(block, {(3, 5): SAIL, (0.5, 1): FOG, (5.5, 1): FOG}))
    assert ((3, 0) in {lost.at for lost in found}) is sharp


@pytest.mark.parametrize(("down", "vanishes"), [(3.9, False), (4.6, True)], ids=["55 degrees", "65 degrees"])
def test_a_point_that_still_reads_as_a_point_is_not_lost(down: float, vanishes: bool):
    # A tip of 18.4 degrees and, beside it, a patch that reads alike: both together make 55.0 or 65.0 degrees.
    block = exact_block([((3, 6), (3, 0)), ((3, 6), (5, 0)), ((3, 6), (6, down))])
    found = vanishing(dressed(block, {(3.1, 1): SAIL, (5.5, 1): FOG, (1, 1): INK, (5.9, 5.5): INK}))
    assert ((3, 6) in {lost.at for lost in found if lost.fabric == SAIL}) is vanishes


def test_the_corners_of_half_squares_count_as_points():
    # The corner of 45 degrees of a half-square triangle that lies beside another one of the same value.
    block = exact_block([((0, 0), (6, 6))])
    found = vanishing(dressed(block, {(5, 1): SAIL, (1, 5): FOG}))
    assert {lost.at for lost in found} == {(0, 0), (6, 6)}
    assert {round(lost.angle_deg, 6) for lost in found} == {45.0}


def moved(lines: Sequence[tuple[Point, Point]], turns: int, mirrored: bool) -> list[tuple[Point, Point]]:
    def place(point: Point) -> Point:
        x, y = point
        x = 6 - x if mirrored else x
        for _ in range(turns):
            x, y = 6 - y, x
        return (x, y)

    return [(place(a), place(b)) for a, b in lines]


@pytest.mark.parametrize("mirrored", [False, True])
@pytest.mark.parametrize("turns", range(4))
def test_a_block_rotated_or_mirrored_loses_the_same_points(turns: int, mirrored: bool):
    at = [((3.0, 5.0), (0.0, 0.0)), ((1.0, 1.0), (0.0, 0.0)), ((5.0, 1.0), (0.0, 0.0))]
    places = [a for a, _ in moved(at, turns, mirrored)]
    block = dressed(exact_block(moved(SPIKE, turns, mirrored)), dict(zip(places, (SAIL, FOG, INK), strict=True)))
    still = spike(SAIL, FOG, INK)
    told = [
        sorted((round(lost.angle_deg, 6), round(lost.seen_deg, 6)) for lost in vanishing(b)) for b in (block, still)
    ]
    assert told[0] == told[1] != []


def seen_from(block: Block, at: Point, steps: int = 720) -> list[tuple[str | None, float]]:
    """(fabric, degrees) round a point, clockwise, as a walk round it on a tiny circle finds them by GEOS."""
    turns = (np.arange(steps) + 0.5) * 2 * np.pi / steps
    places = shapely.points(at[0] + 1e-4 * np.cos(turns), at[1] + 1e-4 * np.sin(turns))
    areas = [Polygon(block.patch_ring(n), block.patch_holes(n)) for n in range(len(block.patches))]
    found: list[str | None] = [None] * steps
    for place, patch in zip(*shapely.STRtree(areas).query(places, "within"), strict=True):
        found[place] = block.patches[patch].fabric
    start = next((k for k in range(steps) if found[k] != found[k - 1]), 0)
    runs = [(name, 360 * len(list(run)) / steps) for name, run in groupby(found[start:] + found[:start])]
    return runs


def lost_by_eye(block: Block, at: Point) -> tuple[list[float], bool]:
    """The angles of the tips that vanish at a point, and whether one of the angles is too near a bound to tell."""
    runs, fabrics = seen_from(block, at), {fabric.name: fabric for fabric in block.fabrics}
    lost, unsure = [], False
    for place, (name, angle) in enumerate(runs):
        if name is None:
            continue
        seen, left = angle, len(runs) - 1
        for step in (1, -1):
            k = place + step
            while left and (other := runs[k % len(runs)])[0] is not None:
                if other[0] != name and not read_alike(fabrics[name], fabrics[other[0]]):
                    break
                seen, left, k = seen + other[1], left - 1, k + step
        unsure |= abs(angle - 45) < 1 or abs(seen - 60) < 1
        if angle < 45 and seen > 60 and seen > angle + 0.1:
            lost.append(angle)
    return sorted(lost), unsure


@given(seed=st.integers(0, 10**6), picks=st.lists(st.integers(0, 4), min_size=12, max_size=12))
@settings(max_examples=12, deadline=None)
def test_points_vanish_as_a_walk_round_each_of_them_finds(seed: int, picks: list[int]):
    block = cut_block(seed, 12)
    cloths = (SAIL, FOG, INK, BRASS, coloured("spray", "#dfe7e8"))
    patches = tuple(
        replace(patch, fabric=cloths[pick].name) for patch, pick in zip(block.patches, picks, strict=True)
    )
    block = replace(block, patches=patches, fabrics=cloths)
    found: dict[Point, list[float]] = {}
    for lost in vanishing(block):
        found.setdefault(lost.at, []).append(lost.angle_deg)
    for at in block.points:
        expected, unsure = lost_by_eye(block, at)
        if not unsure:
            assert sorted(found.get(at, [])) == pytest.approx(expected, abs=0.6)


# -- where it is told ------------------------------------------------------------------------------------------


def test_a_point_that_vanishes_is_told_as_advice_with_its_place():
    made = plan(spike(SAIL, FOG, INK))
    (note,) = (note for note in made.notes if note.code == "advice-alike")
    assert note.places_in == ((3, 0),)
    assert note.text.startswith("1 point vanishes, in ")
    assert f"sail beside fog (contrast {math.floor(100 * (contrast(SAIL, FOG) or 0)) / 100:.2f} to 1)" in note.text
    assert any("point vanishes" in line for line in check_words("spike.seams", made))
    told = [n for n in check_object("spike.seams", made)["notes"] if n["code"] == "advice-alike"]
    assert told[0]["places_in"] == [[3.0, 0.0]]


def test_a_block_without_colours_or_values_is_silent():
    bare = [replace(fabric, colour=None) for fabric in (SAIL, FOG, INK)]
    made = plan(spike(*bare))
    assert not [note for note in made.notes if note.code == "advice-alike"]
    assert not [note for note in plan(exact_block(SPIKE)).notes if note.code == "advice-alike"]


def test_of_the_designs_only_those_lose_points_whose_whites_lie_on_near_whites():
    # Looked at, without lines, in colour and in greys: the gull's wings on its sky, the spinnaker on its fog.
    lost = {path.stem for path in designs() if vanishing(make_block(read_drawing(path), PlanOptions()))}
    assert lost == {"gull", "spinnaker"}


# -- what a block wears ----------------------------------------------------------------------------------------


@pytest.mark.parametrize("path", designs(), ids=lambda path: path.stem)
def test_areas_and_shared_seams_agree_with_geos(path):
    block = planned(path).block
    areas = [Polygon(block.patch_ring(n), block.patch_holes(n)) for n in range(len(block.patches))]
    found = worn(block)
    whole = sum(area.area for area in areas)
    for wear in found.wear:
        of = [n for n, patch in enumerate(block.patches) if patch.fabric == wear.fabric.name]
        assert list(wear.patches) == of
        assert wear.area_in2 == pytest.approx(sum(areas[n].area for n in of), rel=1e-9)
    shares = sum(wear.share for wear in found.wear) + sum(areas[n].area for n in found.bare) / whole
    assert shares == pytest.approx(1)
    for pair in found.beside:
        sides = [
            [areas[n] for n, patch in enumerate(block.patches) if patch.fabric == fabric.name]
            for fabric in (pair.one, pair.other)
        ]
        # Lines that two areas share; in a buffer of a hair, for corners are rounded.
        shared = sum(
            sum(math.dist(a, b) for a, b in pairwise(part.coords))
            for one in sides[0]
            for other in sides[1]
            for part in [one.exterior.intersection(other.exterior.buffer(1e-7))]
            for part in getattr(part, "geoms", [part])
            if part.geom_type == "LineString"
        )
        assert pair.seam_in == pytest.approx(shared, abs=1e-4)


def test_neighbours_that_read_alike_stand_first_and_contrast_rises():
    for path in designs():
        found = worn(planned(path).block).beside
        keys = [(not pair.alike, pair.contrast if pair.contrast is not None else 99) for pair in found]
        assert keys == sorted(keys)


def test_what_is_pieced_beforehand_is_worn_and_vanishes_as_if_it_were_not():
    halved = exact_block([*SPIKE, ((3, 0), (3, 6))])
    mist = coloured("mist", "#eceae4")
    block = dressed(halved, {(2.8, 5): SAIL, (3.2, 5): INK, (1, 1): mist, (5, 1): BRASS})
    apart = plan(block)
    names = apart.patch_names()
    halves = [names[n] for n, patch in enumerate(block.patches) if patch.fabric in ("sail", "ink")]
    joined = plan(block, PlanOptions(pre_pieced="+".join(halves)))
    assert len(joined.block.patches) == len(block.patches) - 1
    one, other = worn(joined.block), worn(apart.block)
    assert [(w.fabric, w.pieces) for w in one.wear] == [(w.fabric, w.pieces) for w in other.wear]
    assert [w.share for w in one.wear] == pytest.approx([w.share for w in other.wear])
    assert one.beside == other.beside
    lost = [(found.at, found.fabric, found.alike) for found in vanishing(joined.block)]
    assert lost == [(found.at, found.fabric, found.alike) for found in vanishing(apart.block)] != []
    (made,) = (n for n in range(len(joined.block.patches)) if joined.block.parts_of(n))
    assert made in {patch for found in vanishing(joined.block) for patch in found.patches}
