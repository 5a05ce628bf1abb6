"""Strokes turned into outlines, and dashes turned into crumbs, are read as the lines they were."""

from __future__ import annotations

import math
import random

import pytest
import shapely

from seamwright.block.make import make_block
from seamwright.drawing.model import Drawing
from seamwright.errors import DrawingError
from support.exact import SQUARE6, exact_block
from support.random_blocks import random_line_list
from support.svg_text import read, said
from support.ways import FACES, OUTLINE, SEAMS

SIDES = [*zip(OUTLINE, OUTLINE[1:] + OUTLINE[:1], strict=True)]
LINES = [*SIDES, *SEAMS]


def ring_data(ring: object) -> str:
    return "M" + "L".join(f"{x + 1:.6f} {y + 1:.6f}" for x, y in ring.coords[:-1]) + "Z"  # type: ignore[attr-defined]


def outline_of(line: object, width: float, cap: str, join: str = "mitre") -> str:
    """Path data of a stroke's outline, made by GEOS."""
    shape = line.buffer(width / 2, cap_style=cap, join_style=join, mitre_limit=50)  # type: ignore[attr-defined]
    return "".join(ring_data(ring) for ring in (shape.exterior, *shape.interiors))


def expect_the_block(drawing: Drawing) -> None:
    block = make_block(drawing)
    assert (block.width_in, block.height_in) == pytest.approx((8, 8), abs=0.02)
    ours = sorted(shapely.Polygon(block.patch_ring(k)).area for k in range(len(block.patches)))
    assert ours == pytest.approx(sorted(shapely.Polygon(face).area for face in FACES), abs=0.1)


@pytest.mark.parametrize("cap", ["flat", "square", "round"])
@pytest.mark.parametrize("width", [0.01, 0.03, 0.06])
def test_bars_are_read_as_their_axes(cap: str, width: float) -> None:
    body = "".join(f'<path d="{outline_of(shapely.LineString(line), width, cap)}"/>' for line in LINES)
    drawing = read(body)
    assert len(drawing.lines) == len(LINES)
    assert drawing.fills == ()
    assert "9 outlined strokes read as centre lines" in said(drawing)
    for line, (a, b) in zip(drawing.lines, LINES, strict=True):
        ends = sorted([line.start, line.end])
        wanted = sorted([(a[0] + 1, a[1] + 1), (b[0] + 1, b[1] + 1)])
        reach = width / 2 + 1e-4 if cap == "square" else 0.002
        assert all(math.dist(p, q) <= reach for p, q in zip(ends, wanted, strict=True))
    expect_the_block(drawing)


@pytest.mark.parametrize("width", [0.01, 0.03, 0.06])
def test_all_bars_in_one_path_are_read_too(width: float) -> None:
    d = "".join(outline_of(shapely.LineString(line), width, "flat") for line in SEAMS)
    frame = outline_of(shapely.LinearRing(OUTLINE), width, "flat")
    expect_the_block(read(f'<path d="{d}"/><path d="{frame}" fill-rule="evenodd"/>'))


@pytest.mark.parametrize("width", [0.01, 0.03, 0.06])
@pytest.mark.parametrize("rule", ["evenodd", "nonzero"])
def test_one_network_of_ink_with_holes_is_read_by_its_holes(width: float, rule: str) -> None:
    ink = shapely.union_all([shapely.LineString(line).buffer(width / 2, cap_style="square") for line in LINES])
    rings = [ink.exterior, *ink.interiors]
    d = "".join(ring_data(ring) for ring in rings)
    drawing = read(f'<path d="{d}" fill="#202020" fill-rule="{rule}"/>')
    assert drawing.fills == ()
    block = make_block(drawing)
    assert len(block.patches) == 6
    assert (block.width_in, block.height_in) == pytest.approx((8, 8), abs=1e-3)
    expect_the_block(drawing)


@pytest.mark.parametrize("way", ["bars", "united", "united, round ends"])
@pytest.mark.parametrize("seed", range(12))
def test_random_blocks_are_read_from_their_ink(seed: int, way: str) -> None:
    lines = random_line_list(seed, 3 + seed % 6)
    true = exact_block(lines)
    patches = [shapely.Polygon(true.patch_ring(k)) for k in range(len(true.patches))]
    if any(patch.buffer(-0.08).is_empty for patch in patches):
        return  # nothing but ink would be seen of such a patch
    cap = "round" if "round" in way else "square" if "united" in way else "flat"
    strokes = [shapely.LinearRing(SQUARE6).buffer(0.015, join_style="mitre")]
    strokes += [
        shapely.LineString([(float(x), float(y)) for x, y in line]).buffer(0.015, cap_style=cap) for line in lines
    ]
    if "united" in way:
        strokes = [shapely.union_all(strokes)]
    body = "".join(
        f'<path d="{"".join(ring_data(ring) for ring in (s.exterior, *s.interiors))}" fill-rule="evenodd"/>'
        for s in strokes
    )
    block = make_block(read(body))
    assert (len(block.patches), len(block.seams)) == (len(true.patches), len(true.seams))
    found = sorted(shapely.Polygon(block.patch_ring(k)).area for k in range(len(block.patches)))
    assert found == pytest.approx(sorted(patch.area for patch in patches), abs=0.02)


def test_a_bent_band_is_read_as_its_middle() -> None:
    bent = shapely.LineString([(0, 0), (4, 1), (4, 5), (7, 6)])
    drawing = read(
        f'<path d="{outline_of(bent, 0.04, "flat")}"/>' * 1
        + "".join(f'<path d="{outline_of(shapely.LineString(line), 0.04, "flat")}"/>' for line in SIDES)
    )
    ends = {(round(x - 1, 2), round(y - 1, 2)) for s in drawing.lines[:3] for x, y in (s.start, s.end)}
    assert ends == {(0, 0), (4, 1), (4, 5), (7, 6)}


def test_ink_that_ends_in_the_open_is_refused_not_swallowed() -> None:
    lines = [*LINES, ((5, 4.5), (5, 5.8))]  # from the long seam down, and not as far as the next
    ink = shapely.union_all([shapely.LineString(line).buffer(0.02, cap_style="square") for line in lines])
    parts = [ink] if ink.geom_type == "Polygon" else list(ink.geoms)
    d = "".join(ring_data(ring) for part in parts for ring in (part.exterior, *part.interiors))
    with pytest.raises(DrawingError, match="turned into filled outlines") as caught:
        read(f'<path d="{d}" fill-rule="evenodd"/>')
    assert caught.value.code == "ink outlines"
    assert "draw each seam as one line" in str(caught.value)


def test_a_traced_picture_is_refused_with_that_reason() -> None:
    wave = "".join(f"c.3 {d} .7 {d} 1 0" for d in (0.2, -0.2) * 4)
    back = "".join(f"c-.3 {d} -.7 {d} -1 0" for d in (0.2, -0.2) * 4)
    ring = f"M0 0H8V8H0ZM.04 .04V3.98{wave.replace('c', 'c', 1)}V.04Z"
    d = f"{ring}M.04 4.02V7.96H8.04V4.02{back}Z"
    with pytest.raises(DrawingError, match="traced picture"):
        read(f'<path d="{d}" fill-rule="evenodd"/>')


def test_sharp_patches_and_narrow_strips_are_no_ink() -> None:
    # Spikes half a sixteenth wide on average, and one narrow strip: patches, as drawn.
    spikes = "".join(f'<polygon points="{k},0 {k + 1},0 {k + 0.5},8" fill="#{k}00"/>' for k in range(8))
    thin = (
        '<polygon points="0,8.1 8,8.1 8,8.22" fill="teal"/><rect x="0" y="9" width="8" height="0.06" fill="navy"/>'
    )
    drawing = read(spikes + thin)
    assert len(drawing.fills) == 10
    assert "outlined" not in said(drawing)


def dashed(a: tuple[float, float], b: tuple[float, float], dash: float = 0.1, gap: float = 0.06) -> str:
    """A line broken into dashes, as paths of one piece, rounded to 0.01 mm."""
    length, at, out = math.dist(a, b), 0.0, []
    while at < length:
        to = min(length, at + dash)
        ends = [
            f"{round((a[i] + (b[i] - a[i]) * t / length) * 25.4, 2) / 25.4:.5f}" for t in (at, to) for i in (0, 1)
        ]
        out.append(
            f'<path d="M{ends[0]} {ends[1]}L{ends[2]} {ends[3]}" fill="none" stroke="black" stroke-width=".01"/>'
        )
        at += dash + gap
    return "".join(out)


@pytest.mark.parametrize(("dash", "gap"), [(0.1, 0.06), (0.02, 0.05), (0.3, 0.2), (0.12, 0.3)])
def test_dashes_are_joined_into_their_lines(dash: float, gap: float) -> None:
    drawing = read("".join(dashed(a, b, dash, gap) for a, b in LINES))
    assert len(drawing.lines) == len(LINES)
    assert "dashes joined into 9 lines" in said(drawing)
    block = make_block(drawing)
    assert len(block.patches) == len(FACES)
    assert (block.width_in, block.height_in) == pytest.approx((8, 8), abs=0.01)


def test_a_row_of_short_seams_is_no_dashed_line() -> None:
    teeth = "".join(f"L{k * 0.25} {0.5 * (k % 2)}" for k in range(1, 20))
    drawing = read(f'<path d="M0 0{teeth}" fill="none" stroke="black"/>')
    assert len(drawing.lines) == 19
    stairs = "".join(f'<path d="M{k} {k}h.3v.3" fill="none" stroke="black"/>' for k in range(8))
    assert len(read(stairs).lines) == 16


def test_short_touching_pieces_are_left_to_tidying() -> None:
    pieces = "".join(f'<path d="M{k / 4} 1H{(k + 1) / 4}" fill="none" stroke="black"/>' for k in range(20))
    assert len(read(pieces).lines) == 20


def sketched(a: tuple[float, float], b: tuple[float, float], rng: random.Random) -> str:
    """A line as drawing programs with a hand-drawn look write it: two swaying strokes in one path."""

    def near(t: float) -> str:
        x, y = a[0] + (b[0] - a[0]) * t, a[1] + (b[1] - a[1]) * t
        return f"{x + 1 + rng.uniform(-0.012, 0.012):.4f} {y + 1 + rng.uniform(-0.012, 0.012):.4f}"

    strokes = "".join(f"M{near(0)}C{near(0.35)} {near(0.7)} {near(1)}" for _ in range(2))
    return f'<path d="{strokes}" fill="none" stroke="black" stroke-width=".01"/>'


@pytest.mark.parametrize("seed", range(8))
def test_lines_sketched_twice_count_once(seed: int) -> None:
    rng = random.Random(seed)
    drawing = read("".join(sketched(a, b, rng) for a, b in LINES))
    assert len(drawing.lines) + len(drawing.curves) == len(LINES)
    assert "9 lines sketched twice" in said(drawing)
    block = make_block(drawing)
    assert (len(block.patches), len(block.seams)) == (len(FACES), len(SEAMS))


def test_two_exact_lines_are_two_and_a_bow_is_a_bow() -> None:
    close = '<path d="M0 1H8M0 1.05H8" fill="none" stroke="black"/>'
    assert len(read(close).lines) == 2
    lens = '<path d="M0 1C3 1.2 5 1.2 8 1M0 1C3 .8 5 .8 8 1" fill="none" stroke="black"/>'
    assert len(read(lens).curves) == 2
