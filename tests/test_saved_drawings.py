"""One block saved by Inkscape 1.2.2, LibreOffice 7.4.7, poppler 22.12 and potrace 1.16: still one block.

The block is that of support/ways.py. Inkscape wrote strokes as outlines (each alone, united, one path), layers as
its own and as plain SVG, a PDF read back; LibreOffice wrote filled polygons with words, dashed lines and an
imported SVG; potrace traced a picture of 300 dots to the inch.
"""

from __future__ import annotations

from pathlib import Path

import pytest
import shapely

from seamwright.block.make import make_block
from seamwright.drawing.read import read_drawing
from support.ways import COLOURS, FACES, SEAMS

FOLDER = Path(__file__).parent / "drawings" / "saved"
MANNERS = FOLDER.parent / "manners"
PHYSICAL = ("cad.svg", "diagram.svg", "glyphs.svg", "stats.svg", "symbols.svg", "whitegap.svg")
COLOURED = ("outlined_polygons", "polygons_pdf", "stacked_pdf")
WORDS = {
    "boxed_words": ["sand", "sky", "rose", "leaf", "plum", "amber"],
    "wrapped_words": ["sand", "deep sea", "rose", "leaf", "plum", "deep sea blue"],
}


@pytest.mark.parametrize("file", sorted(path.name for path in FOLDER.glob("*.svg")))
def test_the_block_is_the_same_whoever_saved_it(file: str) -> None:
    block = make_block(read_drawing(FOLDER / file))
    # LibreOffice rounds to 0.01 mm, Inkscape's outlines to 1/512 unit, a scan to its dots.
    within = 1 / 300 if file.startswith("traced") else 0.001
    assert (block.width_in, block.height_in) == pytest.approx((8, 8), abs=within)
    assert (len(block.patches), len(block.seams)) == (len(FACES), len(SEAMS))
    kind = file.partition("__")[0]
    fabrics = list(COLOURS) if kind in COLOURED else WORDS.get(kind, [None] * len(FACES))
    for face, fabric in zip(FACES, fabrics, strict=True):
        meant = shapely.Polygon(face)
        areas = [shapely.Polygon(block.patch_ring(k)) for k in range(len(block.patches))]
        best = max(range(len(areas)), key=lambda k: areas[k].intersection(meant).area)
        assert areas[best].symmetric_difference(meant).area < 0.05
        assert block.patches[best].fabric == fabric


@pytest.mark.parametrize("file", sorted(path.name for path in MANNERS.glob("*.svg")))
def test_the_block_is_the_same_in_the_manners_of_many_writers(file: str) -> None:
    # Written by hand after what kinds of writers do: slides, flow charts, hand-drawn looks, statistics, CAD ...
    drawing = read_drawing(MANNERS / file)
    block = make_block(drawing)
    assert (len(block.patches), len(block.seams)) == (len(FACES), len(SEAMS))
    # A page of percentages has no size of its own: 3000 units for 10 in then read as 31.25 in.
    side = 25.0 if file == "percent.svg" else 8.0
    assert (block.width_in, block.height_in) == pytest.approx((side, side), abs=0.02)
    assert drawing.physical is (file in PHYSICAL)


def test_there_are_files_to_read() -> None:
    assert len(list(FOLDER.glob("*.svg"))) >= 14
