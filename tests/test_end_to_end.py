"""From each design to its print file: what is on the paper, mirrored back, is the block."""

from __future__ import annotations

from itertools import pairwise
from pathlib import Path

import pytest
from shapely import STRtree
from shapely.geometry import LineString, Point

from seamwright.geometry import moved
from seamwright.options import PrintOptions
from seamwright.sheet.layout import lay_out
from seamwright.sheet.pdf import to_pdf
from seamwright.sheet.readback import read_back
from support.prints import designs, planned, printed

ERROR_MM = 0.05


@pytest.mark.parametrize("paper", ["letter", "a4"])
@pytest.mark.parametrize("design", designs(), ids=lambda p: p.stem)
def test_a_section_on_paper_mirrored_back_lies_on_the_block(design: Path, paper: str):
    """Lines as MuPDF finds them on the finished page, against the block's own coordinates."""
    pymupdf = pytest.importorskip("pymupdf")
    plan = planned(design)
    if not plan.sections:
        pytest.skip("stuck on purpose")
    # Where lines lie is measured here, not how few sheets a long search finds.
    sheets = lay_out([(plan, printed(design))], paper=paper, printing=PrintOptions(effort=8))
    pdf = to_pdf(sheets, title=plan.block.name, made_from=design.name)
    read_back(pdf, sheets)
    pages = [_lines(page) for page in pymupdf.open(stream=pdf)]
    sections = {s.name: s for s in plan.sections}
    seen: set[str] = set()
    worst_mm = 0.0
    for sheet, drawn in zip(sheets, pages, strict=True):
        tree = STRtree(drawn)
        for placed in sheet.placed:
            section = sections[placed.foundation.section]
            seen.add(section.name)
            # A foundation is the mirror image, a template is not; rotated where it shares another place's drawing.
            p, q, r, t, _, _ = front = placed.foundation.front
            assert p * t - q * r == pytest.approx(1 if section.kind == "plain" else -1)
            a, b, c, d, e, f = placed.affine
            assert a * d - b * c == pytest.approx(72**2), "paper is never scaled or mirrored once more"
            inside = set(section.patches)
            for number, edge in enumerate(plan.block.edges):
                if not {edge.left, edge.right} & inside:
                    continue
                for sample in _samples(plan.block.edge_points(number)):
                    u, v = moved(front, sample)
                    spot = Point(a * u + c * v + e, b * u + d * v + f)
                    if placed.tile and not (0 <= spot.x <= sheet.width_pt and 0 <= spot.y <= sheet.height_pt):
                        continue
                    gap_mm = spot.distance(drawn[tree.nearest(spot)]) / 72 * 25.4
                    if placed.tile and gap_mm > ERROR_MM:
                        continue  # it lies on the neighbouring tile
                    worst_mm = max(worst_mm, gap_mm)
    assert seen == set(sections)
    assert worst_mm <= ERROR_MM


def _lines(page) -> list[LineString]:
    """Every straight stroke on a page, in points from its top left corner."""
    found = []
    for drawing in page.get_drawings():
        if drawing["type"] != "s":
            continue
        for item in drawing["items"]:
            if item[0] == "l" and item[1] != item[2]:
                found.append(LineString([tuple(item[1]), tuple(item[2])]))
            elif item[0] in {"re", "qu"}:
                q = item[1].quad if item[0] == "re" else item[1]
                corners = [tuple(q.ul), tuple(q.ur), tuple(q.lr), tuple(q.ll)]
                found += [LineString(side) for side in zip(corners, corners[1:] + corners[:1], strict=True)]
    return found


def _samples(points):
    for (x1, y1), (x2, y2) in pairwise(points):
        for t in (0.02, 0.3, 0.5, 0.75, 0.98):
            yield (x1 + t * (x2 - x1), y1 + t * (y2 - y1))
