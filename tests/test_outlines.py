"""Blocks whose outline is no rectangle, from the drawing file to the print: hexagon, triangle, diamond, L, star."""

from __future__ import annotations

import json
from itertools import pairwise
from pathlib import Path

import pytest
from shapely.geometry import Point, Polygon

from seamwright import api
from seamwright.cli import main
from seamwright.foundation.make import foundations
from seamwright.foundation.trims import trim_outlines
from seamwright.geometry import moved
from seamwright.ink.model import Area
from seamwright.piecing.model import Plan

OUTLINES = {
    # name: (text of the drawing, fewest sections, reason)
    "hexagon": (
        """size 6.9282 x 6 in
        outline 1.7320, 0 to 5.1961, 0 to 6.9282, 3 to 5.1961, 6 to 1.7320, 6 to 0, 3
        seam 1.7320, 0 to 5.1961, 6
        seam 5.1961, 0 to 1.7320, 6
        seam 0, 3 to 6.9282, 3""",
        2,  # a star of full lines through one point
    ),
    "triangle": (
        """size 6 x 5 in
        outline 3, 0 to 6, 5 to 0, 5
        seam 1.5, 2.5 to 4.5, 2.5
        seam 1.5, 2.5 to 3, 5
        seam 4.5, 2.5 to 3, 5""",
        1,  # one corner after the other goes on the middle
    ),
    "diamond": (
        """size 5 x 8 in
        outline 2.5, 0 to 5, 4 to 2.5, 8 to 0, 4
        seam 0, 4 to 5, 4
        seam 2.5, 0 to 2.5, 8""",
        2,  # a four-patch
    ),
    "L": (
        """size 6 in
        outline 0, 0 to 6, 0 to 6, 3 to 3, 3 to 3, 6 to 0, 6
        seam 3, 3 to 2, 6
        seam 0, 0 to 3, 3""",
        1,
    ),
    "star": (
        """size 6 x 6.9282 in
        outline 3, 0 to 4, 1.7320 to 6, 1.7320 to 5, 3.4641 to 6, 5.1961 to 4, 5.1961 to 3, 6.9282 to 2, 5.1961 \
to 0, 5.1961 to 1, 3.4641 to 0, 1.7320 to 2, 1.7320
        seam 2, 1.7320 to 4, 5.1961
        seam 4, 1.7320 to 2, 5.1961
        seam 1, 3.4641 to 5, 3.4641""",
        2,  # again full lines through one point
    ),
}


def written(folder: Path, name: str, form: str) -> Path:
    """The drawing as a file, typed or drawn."""
    path = folder / f"{name}.{form}"
    if form == "seams":
        path.write_text(f"seamwright block 1\n{OUTLINES[name][0]}\n")
        return path
    facts: dict[str, list[list[tuple[float, ...]]]] = {"seam": [], "outline": []}
    for line in OUTLINES[name][0].splitlines():
        word, _, rest = line.strip().partition(" ")
        if word in facts:
            facts[word].append([tuple(map(float, p.split(","))) for p in rest.split(" to ")])
    (ring,) = facts["outline"]
    width, height = max(x for x, _ in ring), max(y for _, y in ring)
    lines = [*facts["seam"], *([a, b] for a, b in pairwise([*ring, ring[0]]))]
    drawn = "".join(f'<path d="M{a[0]},{a[1]} L{b[0]},{b[1]}"/>' for a, b in lines)
    path.write_text(
        f'<svg xmlns="http://www.w3.org/2000/svg" width="{width}in" height="{height}in" '
        f'viewBox="0 0 {width} {height}"><g fill="none" stroke="#000" stroke-width="0.02">{drawn}</g></svg>'
    )
    return path


def planned(folder: Path, name: str) -> Plan:
    return api.plan(api.read_block(written(folder, name, "seams")))


@pytest.mark.parametrize("form", ["seams", "svg"])
@pytest.mark.parametrize("name", sorted(OUTLINES))
def test_it_is_checked_and_drawn(tmp_path: Path, name: str, form: str, capsys: pytest.CaptureFixture[str]) -> None:
    path, picture = written(tmp_path, name, form), tmp_path / "plan.svg"
    assert main(["check", str(path), "--json", "--picture", str(picture)]) == 0
    (found,) = json.loads(capsys.readouterr().out)
    assert found["pieceable"] and found["fewest"]["proven"]
    assert found["fewest"]["sections"] == OUTLINES[name][1]
    corners = {"hexagon": 6, "triangle": 3, "diamond": 4, "L": 6, "star": 12}
    assert len(found["block"]["outline_in"]) == corners[name]
    assert picture.read_text().startswith("<?xml")


@pytest.mark.parametrize("name", sorted(OUTLINES))
def test_it_is_printed_and_what_is_printed_is_the_block(
    tmp_path: Path, name: str, capsys: pytest.CaptureFixture[str]
) -> None:
    out = tmp_path / "print.pdf"
    assert main(["foundations", str(written(tmp_path, name, "svg")), "-o", str(out), "--json"]) == 0
    printed = json.loads(capsys.readouterr().out)
    assert out.read_bytes().startswith(b"%PDF")
    placed = [one for sheet in printed["sheets"] for one in sheet["foundations"]]
    made = planned(tmp_path, name)
    assert sorted({one["section"] for one in placed}) == sorted(section.name for section in made.sections)
    sewn = {one["section"]: Polygon(one["stitch_outline_pt"]).area / 72**2 for one in placed}
    assert sum(sewn.values()) == pytest.approx(Polygon(made.block.outline_ring()).area, rel=1e-3)
    for one in placed:
        stitch, trim = Polygon(one["stitch_outline_pt"]), Polygon(one["trim_outline_pt"])
        assert trim.exterior.distance(stitch.exterior) == pytest.approx(18, abs=0.01)  # 1/4 in


@pytest.mark.parametrize("name", sorted(OUTLINES))
def test_it_is_sewn_in_rehearsal(tmp_path: Path, name: str) -> None:
    api.rehearse(planned(tmp_path, name))


@pytest.mark.parametrize("name", sorted(OUTLINES))
def test_the_allowance_goes_all_round_the_block_whatever_its_corners(tmp_path: Path, name: str) -> None:
    made = planned(tmp_path, name)
    block = Polygon(made.block.outline_ring())
    trims = [Polygon(trim) for trim in trim_outlines(made).values()]
    # Common practice: a quarter inch beyond every raw edge; so no print may end nearer to the block's edge.
    around = [block.exterior.interpolate(k / 200, normalized=True) for k in range(200)]
    for spot in around:
        own = [trim for trim in trims if trim.covers(spot)]
        assert own
        assert max(trim.exterior.distance(spot) for trim in own) >= 0.25 - 1e-6


def test_a_seam_that_ends_at_an_inside_corner_stops_dead_and_says_so(tmp_path: Path) -> None:
    # Common practice: stitching that would run on into the fabric stops at the corner and is secured.
    made = planned(tmp_path, "L")
    corner = (3.0, 3.0)
    (print_,) = foundations(made)
    dots = [ink for ink in print_.ink if isinstance(ink, Area) and ink.colour == "#000000"]
    middles = [Polygon(dot.rings[0]).centroid for dot in dots]
    wanted = Point(moved(print_.front, corner))
    assert min(wanted.distance(middle) for middle in middles) < 1e-6
    assert any("stop at the large dot" in line for line in print_.legend)
    straight = foundations(planned(tmp_path, "hexagon"))
    assert not any("stop at" in line for one in straight for line in one.legend)
