"""What is advised of a whole quilt, planted one kind at a time, and light and dark against areas of shapely."""

from __future__ import annotations

import math
from pathlib import Path

import pytest
import shapely

import seamwright
from seamwright.block.model import Block
from seamwright.fabric.luminance import luminance
from seamwright.geometry import moved
from seamwright.ink.model import Area, Words
from seamwright.options import Units
from seamwright.picture.greys import greys_figure
from seamwright.quilt.advice import Advice, advised
from seamwright.quilt.balance import STEPS, balance
from seamwright.quilt.contacts import contacts_of, pieces_of, sides_of
from seamwright.quilt.model import Cloth, Quilt, Role
from support.set_by_hand import set_by_hand

FABRICS = "fabric sail colour #f4f1ea\nfabric ink colour #16233f\nfabric sea colour #5f8196\n"


def drawn(tmp_path: Path, lines: str, name: str = "b") -> Block:
    path = tmp_path / f"{name}.seams"
    path.write_text(f"seamwright block 1\nname {name}\nsize 8 in\n{FABRICS}{lines}")
    return seamwright.read_block(path)


def square(block: Block, rows: list[list[int]]) -> Quilt:
    return set_by_hand([block], [[(0, quarters) for quarters in row] for row in rows])


def told(advice: Advice, code: str) -> str:
    return next((note.text for note in advice.notes if note.code == code), "")


def test_seams_that_miss_by_an_eighth_are_told_with_place_amount_and_sides(tmp_path) -> None:
    block = drawn(tmp_path, "seam 4, 0 to 4.125, 8\n")
    advice = advised(square(block, [[0] * 3] * 3))
    (miss,) = advice.misses
    assert (miss.one, miss.other, miss.off_in) == ("the bottom side of b", "the top side of b", 0.125)
    assert len(miss.places) == 6
    assert miss.places[0] == pytest.approx((4.0625, 8))
    assert "by 1/8 in, 6 times" in told(advice, "advice-meet")


@pytest.mark.parametrize(
    ("off", "misses"), [(0, 0), (1 / 64, 0), (1 / 16, 1), (15 / 64, 1), (1 / 4, 0), (1 / 2, 0)]
)
def test_a_miss_is_less_than_a_quarter_inch_and_more_than_a_needle_is_off(tmp_path, off, misses) -> None:
    block = drawn(tmp_path, f"seam 4, 0 to {4 + off}, 8\n")
    assert len(advised(square(block, [[0], [0]])).misses) == misses


def test_half_a_turn_and_a_quarter_turn_are_met_as_they_lie(tmp_path) -> None:
    """3 in from the left above, 3 in from the right below: turned by a half they meet."""
    block = drawn(tmp_path, "seam 3, 0 to 3.125, 8\n")
    assert not advised(square(block, [[0], [2]])).misses
    (miss,) = advised(square(block, [[0], [0]])).misses
    assert miss.off_in == 0.125


def test_a_seam_to_the_corner_and_one_beside_it_miss(tmp_path) -> None:
    one = drawn(tmp_path, "seam 0, 0 to 8, 8\n", "one")
    other = drawn(tmp_path, "seam 4, 8 to 7.875, 0\n", "other")
    (miss,) = advised(set_by_hand([one, other], [[(0, 0)], [(1, 0)]])).misses
    assert miss.off_in == 0.125


def test_contacts_cover_every_inner_edge_once(tmp_path) -> None:
    block = drawn(tmp_path, "seam 4, 0 to 4, 8\n")
    quilt = square(block, [[0, 1, 2], [3, 0, 1]])
    contacts = contacts_of(pieces_of(quilt))
    assert math.fsum(contact.length for contact in contacts) == pytest.approx((2 * 2 + 3) * 8)
    assert len({(contact.one, contact.other) for contact in contacts}) == len(contacts) == 7


def test_sides_are_named_by_where_they_lie_in_the_block(tmp_path) -> None:
    block = drawn(tmp_path, "seam 4, 0 to 4, 8\n")
    assert [side.name for side in sides_of(block)] == ["top", "right", "bottom", "left"]
    assert [len(side.ends) for side in sides_of(block)] == [3, 2, 3, 2]


def test_one_fabric_on_both_sides_of_an_edge_grows_together(tmp_path) -> None:
    block = drawn(tmp_path, "seam 4, 0 to 4, 8\nlay sail at 2, 4\nlay ink at 6, 4\n")
    advice = advised(square(block, [[0, 0], [0, 0]]))
    assert [(g.fabric, g.edges, g.length_in) for g in advice.grown] == [("ink", 2, 8.0), ("sail", 2, 8.0)]
    assert advice.edges == 4


def test_plain_pieces_grow_together_with_blocks(tmp_path) -> None:
    block = drawn(tmp_path, "seam 4, 0 to 4, 8\nlay sail at 2, 4\nlay ink at 6, 4\n")
    strip = Cloth(Role.BORDER, ((8, 0), (10, 0), (10, 8), (8, 8)), "ink", "border 1", 0, 0, 2, 8)
    (grown,) = advised(set_by_hand([block], [[(0, 0)]], [strip])).grown
    assert (grown.fabric, grown.edges, grown.length_in) == ("ink", 1, pytest.approx(8))


def test_a_point_that_ends_in_a_broad_patch_of_its_fabric_is_lost(tmp_path) -> None:
    """The tip of an ink triangle touches the top; below the ink side of the block above it is swallowed."""
    block = drawn(
        tmp_path, "seam 4, 0 to 2.5, 8\nseam 4, 0 to 5.5, 8\nlay ink at 4, 6\nlay sail at 1, 2 and 7, 2\n"
    )
    lost = told(advised(square(block, [[0], [0]])), "advice-lost")
    assert "1 point of ink" in lost
    assert "4 in from the left and 8 in from the top" in lost
    assert not told(advised(square(block, [[2], [0]])), "advice-lost")


def test_sixteen_patches_in_a_corner_ask_for_care(tmp_path) -> None:
    block = drawn(tmp_path, "seam 8, 8 to 0, 2\nseam 8, 8 to 0, 0\nseam 8, 8 to 2, 0\n")
    advice = advised(square(block, [[0, 1], [3, 2]]))
    note = next(note for note in advice.notes if note.code == "advice-corner")
    assert note.places_in == ((8.0, 8.0),)
    assert "up to 16" in note.text


def test_light_and_dark_are_areas_of_what_lies_where(tmp_path) -> None:
    """Against shapely, patch by patch: means of halves and quadrants, shares of values and of greys."""
    block = drawn(
        tmp_path, "seam 1, 0 to 6, 8\nseam 0, 5 to 8, 3\nlay ink at 1, 2\nlay sea at 1, 7\nlay sail at 7, 7\n"
    )
    quilt = square(block, [[0, 1, 2], [3, 0, 0], [1, 1, 2]])
    found = balance(quilt)
    fabrics = {fabric.name: fabric for fabric in block.fabrics}
    quarter = {
        "top left": shapely.box(0, 0, 12, 12),
        "bottom right": shapely.box(12, 12, 24, 24),
        "left": shapely.box(0, 0, 12, 24),
        "all": shapely.box(0, 0, 24, 24),
    }
    for part, box in quarter.items():
        areas: dict[str | None, float] = {}
        for spot in quilt.spots:
            for number, patch in enumerate(block.patches):
                shape = shapely.Polygon([moved(spot.place, point) for point in block.patch_ring(number)])
                areas[patch.fabric] = areas.get(patch.fabric, 0.0) + shape.intersection(box).area
        known = {name: area for name, area in areas.items() if name is not None}
        # L* by CIE 15:2004 from the luminance of the colour, all of these being above the linear part.
        light = {name: 116 * luminance(fabrics[name].colour or "") ** (1 / 3) - 16 for name in known}
        mean = sum(area * light[name] for name, area in known.items()) / sum(known.values())
        assert found.mean(part) == pytest.approx(mean)
        if part == "all":
            assert dict(found.fabrics) == pytest.approx(areas)
            assert found.known == pytest.approx(sum(known.values()) / 576)
            greys = [0.0] * STEPS
            for name, area in known.items():
                greys[int(light[name] * STEPS / 100)] += area / sum(known.values())
            assert found.greys == pytest.approx(greys)


def test_nearly_all_of_one_value_is_told(tmp_path) -> None:
    block = drawn(tmp_path, "seam 0.8, 0 to 0.8, 8\nlay ink at 4, 4\nlay sail at 0.5, 4\n")
    assert told(advised(square(block, [[0] * 3] * 3)), "advice-value").startswith("90 % of the quilt is dark")


def test_a_quilt_that_leans_is_told_of(tmp_path) -> None:
    block = drawn(tmp_path, "seam 4, 0 to 4, 8\nlay ink at 2, 4\nlay sail at 6, 4\n")
    assert told(advised(square(block, [[0]])), "advice-balance").startswith("the right half is lighter")
    assert not told(advised(square(block, [[0, 2], [0, 2]])), "advice-balance")


@pytest.mark.parametrize(("rows", "columns", "advice"), [(2, 2, "shows from"), (3, 3, ""), (21, 3, "texture")])
def test_a_block_is_held_against_its_quilt(tmp_path, rows, columns, advice) -> None:
    block = drawn(tmp_path, "seam 4, 0 to 4, 8\n")
    text = told(advised(square(block, [[0] * columns] * rows)), "advice-scale")
    assert (advice in text) if advice else not text


def test_lengths_are_said_in_the_measures_asked_for(tmp_path) -> None:
    block = drawn(tmp_path, "seam 4, 0 to 4.125, 8\n")
    assert "by 0.3 cm" in told(advised(square(block, [[0], [0]]), Units.METRIC), "advice-meet")


def test_bars_of_greys_stand_as_high_as_their_share_of_the_area(tmp_path) -> None:
    block = drawn(tmp_path, "seam 2, 0 to 2, 8\nlay ink at 1, 4\nlay sail at 5, 4\n")
    picture = greys_figure(balance(square(block, [[0]])), 4.0, 1.5)
    bars = [ink for ink in picture.inks if isinstance(ink, Area)]
    heights = [max(y for _, y in bar.rings[0]) - min(y for _, y in bar.rings[0]) for bar in bars]
    assert heights[0] / heights[1] == pytest.approx(1 / 3)
    assert [luminance(bar.colour) for bar in bars] == sorted(luminance(bar.colour) for bar in bars)
    said = [ink.text for ink in picture.inks if isinstance(ink, Words)]
    assert said == ["25 %", "75 %", "dark", "light"]
    assert all(0 <= x <= 4 and 0 <= y <= 1.5 for bar in bars for x, y in bar.rings[0])
