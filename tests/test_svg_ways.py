"""The same block in every way of drawing, unit and transform gives the same block.

Rules crossed: eleven ways of drawing, twelve pages (units, viewBox, aspect), seven transforms.
"""

from __future__ import annotations

from functools import cache

import pytest

from seamwright.block.make import make_block
from seamwright.block.model import Block
from seamwright.drawing.svg import read_svg
from seamwright.geometry import canonical_ring
from support.ways import COLOURS, FACES, OUTLINE, PAGES, SEAMS, TURNS, WAYS, draw

COLOURED = ("polygons", "stroked polygons", "stacked")
_NUMBERED = [
    (i + j + k, (way, page, turn))
    for i, way in enumerate(WAYS)
    for j, page in enumerate(PAGES)
    for k, turn in enumerate(TURNS)
]
# Every second case: each pair of rules still meets; the other half runs among the long tests.
CASES = [case for number, case in _NUMBERED if number % 2 == 0]
REST = [case for number, case in _NUMBERED if number % 2]


def rings(block: Block) -> list[tuple[tuple[float, float], ...]]:
    """Corners of all patches from the block's corner, to a thousandth of an inch, in a fixed order."""
    return sorted(fabrics(block))


@cache
def expected() -> list[tuple[tuple[float, float], ...]]:
    return sorted(tuple((float(x), float(y)) for x, y in canonical_ring(face)) for face in FACES)


def test_there_are_at_least_three_hundred_cases() -> None:
    assert len(CASES) >= 400
    assert len(CASES) + len(REST) == 11 * 12 * 7
    assert len(OUTLINE) == 4
    assert len(SEAMS) == 5


def slug(value: str) -> str:
    return value.replace(" ", "-").replace(",", "")


@pytest.mark.parametrize(("way", "page", "turn"), CASES, ids=slug)
def test_the_same_block_however_it_is_drawn(way: str, page: str, turn: str) -> None:
    assert_same_block(way, page, turn)


@pytest.mark.long
@pytest.mark.parametrize(("way", "page", "turn"), REST, ids=slug)
def test_the_same_block_in_all_other_ways(way: str, page: str, turn: str) -> None:
    assert_same_block(way, page, turn)


def assert_same_block(way: str, page: str, turn: str) -> None:
    block = make_block(read_svg(draw(way, page, turn).encode(), name="same", file="same.svg"))
    assert (block.width_in, block.height_in) == pytest.approx((8, 8), abs=1e-5)
    assert rings(block) == expected()
    assert len(block.seams) == len(SEAMS)
    if way in COLOURED:
        assert fabrics(block) == {
            tuple(ring): colour
            for ring, colour in zip((canonical_ring(face) for face in FACES), COLOURS, strict=True)
        }


def fabrics(block: Block) -> dict[tuple[tuple[float, float], ...], str | None]:
    """The fabric of each patch by its corners."""
    return {
        tuple(
            (round(x, 3) + 0.0, round(y, 3) + 0.0) for x, y in canonical_ring(block.patch_ring(k), 1e-4)
        ): patch.fabric
        for k, patch in enumerate(block.patches)
    }
