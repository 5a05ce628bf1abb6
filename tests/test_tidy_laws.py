"""Laws of tidying: what may not change a block, whatever the block.

The maps are compared with those of `support.exact`, which nodes in rational numbers, and with the faces and areas
that GEOS finds (shapely.polygonize), both outside the code under test.
"""

from __future__ import annotations

import math
import random
from dataclasses import replace

import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st

from seamwright.block.make import make_block
from seamwright.block.model import Block
from seamwright.drawing.model import Drawing
from seamwright.geometry import Point, signed_area
from seamwright.options import DEFAULT_TOLERANCE_IN
from support.drawn import (
    drawing,
    edge_lines,
    jittered,
    moved_by,
    patch_rings,
    random_block,
    roomy,
    same_map,
    seam_lines,
)

law = settings(derandomize=True, deadline=None, max_examples=60)
seeds = st.integers(0, 10**6)
STYLES = ["seams", "edges", "patches"]


def drawn(block: Block, style: str, rng: random.Random, jitter: float = 0.0) -> Drawing:
    """A block as loose seams, as loose edges, or as a filled shape for each patch, in any order and direction."""
    if style == "patches":
        rings = [[p for p, _ in jittered([(q, q) for q in ring], jitter, rng)] for ring in patch_rings(block)]
        rng.shuffle(rings)
        return drawing([], shapes=rings)
    lines = jittered(seam_lines(block) if style == "seams" else edge_lines(block), jitter, rng)
    rng.shuffle(lines)
    return drawing([line if rng.random() < 0.5 else line[::-1] for line in lines])


def bare(block: Block) -> Block:
    """The block without what depends on how it was drawn."""
    return replace(block, notes=(), name="", file="", options=())


@pytest.mark.parametrize("style", STYLES)
@law
@given(seed=seeds)
def test_an_exact_drawing_gives_the_map_found_in_rational_numbers(style: str, seed: int) -> None:
    rng = random.Random(seed)
    block = random_block(rng)
    if block is None:
        return
    made = make_block(drawn(block, style, rng))
    # These random blocks have places finer than the tolerance; nothing is tidied where all is roomy.
    tidied = [note for note in made.notes if note.code == "tidied"]
    assert not (tidied and roomy(block, 0.07))
    if not tidied and roomy(block, 0.01, 0.0):
        # Points at which seams end are the very same; crossings are rounded once more, in the last digit.
        assert same_map(block, made, within=2e-15 * 8) == ""
        ends = {p for line in seam_lines(block) for p in line}
        assert ends <= set(made.points)


@pytest.mark.parametrize("style", STYLES)
@law
@given(seed=seeds)
def test_ends_off_by_up_to_a_third_of_the_tolerance_give_the_same_map(style: str, seed: int) -> None:
    rng = random.Random(seed)
    block = random_block(rng)
    if block is None or not roomy(block, 0.3):
        return
    jitter = DEFAULT_TOLERANCE_IN / 3
    assert same_map(block, make_block(drawn(block, style, rng, jitter)), within=4 * jitter) == ""


@pytest.mark.parametrize("jitter", [0.0, DEFAULT_TOLERANCE_IN / 3])
@law
@given(seed=seeds)
def test_the_order_and_direction_of_lines_change_nothing(jitter: float, seed: int) -> None:
    rng = random.Random(seed)
    block = random_block(rng)
    if block is None or (jitter and not roomy(block, 0.3)):
        return
    lines = jittered(seam_lines(block), jitter, rng)
    shuffled = [line[::-1] if rng.random() < 0.5 else line for line in lines]
    rng.shuffle(shuffled)
    assert bare(make_block(drawing(lines))) == bare(make_block(drawing(shuffled)))


@law
@given(seed=seeds)
def test_seams_drawn_whole_or_in_pieces_are_the_same_block(seed: int) -> None:
    rng = random.Random(seed)
    block = random_block(rng)
    if block is None:
        return
    whole = make_block(drawing(seam_lines(block)))
    pieces = make_block(drawn(whole, "edges", rng))
    assert bare(whole) == bare(pieces)
    shapes = make_block(drawn(whole, "patches", rng))
    assert bare(whole) == bare(shapes)


@pytest.mark.parametrize("jitter", [0.0, DEFAULT_TOLERANCE_IN / 3])
@law
@given(seed=seeds)
def test_a_tidied_block_drawn_again_comes_back_to_the_last_bit(jitter: float, seed: int) -> None:
    rng = random.Random(seed)
    block = random_block(rng)
    if block is None or (jitter and not roomy(block, 0.3)):
        return
    once = make_block(drawing(jittered(seam_lines(block), jitter, rng)))
    again = make_block(drawing(seam_lines(once)))
    assert bare(once) == bare(again)
    assert not [n for n in again.notes if n.code == "tidied"]


@law
@given(seed=seeds)
def test_noise_of_a_billionth_of_an_inch_changes_no_number(seed: int) -> None:
    rng = random.Random(seed)
    block = random_block(rng)
    if block is None:
        return
    lines = seam_lines(block)
    noisy = moved_by(lines, lambda p: (p[0] + rng.uniform(-1e-9, 1e-9), p[1] + rng.uniform(-1e-9, 1e-9)))
    a, b = make_block(drawing(lines)), make_block(drawing(noisy))
    assert (a.edges, a.seams, a.patches, a.outline) == (b.edges, b.seams, b.patches, b.outline)
    assert max(math.dist(p, q) for p, q in zip(a.points, b.points, strict=True)) < 1e-7


@pytest.mark.parametrize("jitter", [0.0, DEFAULT_TOLERANCE_IN / 3])
@law
@given(seed=seeds)
def test_a_turned_or_mirrored_drawing_gives_the_turned_or_mirrored_block(jitter: float, seed: int) -> None:
    rng = random.Random(seed)
    block = random_block(rng)
    if block is None or (jitter and not roomy(block, 0.3)):
        return
    lines = jittered(seam_lines(block), jitter, rng)
    angle, hand = rng.uniform(0, 2 * math.pi), rng.choice([1, -1])
    cos, sin = math.cos(angle), math.sin(angle)

    def turn(p: Point) -> Point:
        return (7 + hand * cos * p[0] - sin * p[1], 9 + hand * sin * p[0] + cos * p[1])

    straight, turned = make_block(drawing(lines)), make_block(drawing(moved_by(lines, turn)))
    corners = [turn(p) for p in straight.points]
    left, top = min(x for x, _ in corners), min(y for _, y in corners)
    expected = replace(straight, points=tuple((x - left, y - top) for x, y in corners))
    # A repair takes the shortest way in any direction; only its order among equal ways may turn with the drawing.
    assert same_map(expected, turned, within=1e-9 if not jitter else 0.01) == ""


@pytest.mark.parametrize("style", STYLES)
@law
@given(seed=seeds)
def test_patches_are_the_faces_that_geos_finds(style: str, seed: int) -> None:
    rng = random.Random(seed)
    block = random_block(rng)
    if block is None:
        return
    if not roomy(block, 0.01, 0.0):
        return
    made = make_block(drawn(block, style, rng))
    if any(note.code == "tidied" for note in made.notes):
        return
    lines = shapely.union_all([shapely.LineString(line) for line in seam_lines(block)], grid_size=1e-6)
    faces = sorted(face.area for face in shapely.polygonize([lines]).geoms)
    patches = sorted(signed_area(made.patch_ring(n)) for n in range(len(made.patches)))
    assert patches == pytest.approx(faces, abs=1e-4)
    assert sum(patches) == pytest.approx(64)


@law
@given(seed=seeds)
def test_every_point_of_a_tidied_seam_lies_on_its_line(seed: int) -> None:
    rng = random.Random(seed)
    block = random_block(rng)
    if block is None or not roomy(block, 0.3):
        return
    made = make_block(drawn(block, "edges", rng, DEFAULT_TOLERANCE_IN / 3))
    for seam in made.seams:
        line = shapely.LineString([made.points[seam.points[0]], made.points[seam.points[-1]]])
        assert all(line.distance(shapely.Point(made.points[n])) < 1e-8 for n in seam.points)


def test_the_random_blocks_are_many_and_of_both_kinds() -> None:
    blocks = [b for b in (random_block(random.Random(seed)) for seed in range(200)) if b is not None]
    assert len(blocks) > 150
    assert sum(roomy(b, 0.3) for b in blocks) > 50
    untouched = [not any(n.code == "tidied" for n in make_block(drawing(seam_lines(b))).notes) for b in blocks]
    assert sum(untouched) > 130
