"""Every piece of fabric laid anew by shapely alone, as its words say, and judged: cover, grain, size.

Nothing of `cutting` or `rehearsal` is used but the pieces; of the plan its patches, stitch and trim lines.
"""

from __future__ import annotations

import math
import re
from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass
from itertools import pairwise

import pytest
import shapely
import shapely.ops
from shapely import affinity
from shapely.geometry import LineString, MultiLineString, Polygon, box

from seamwright.cutting.pieces import pieces_of
from seamwright.fabric.pieces import Lay, Piece, Shape
from seamwright.foundation.make import foundations
from seamwright.foundation.trims import trim_outlines
from seamwright.ink.lettering import words_box
from seamwright.ink.model import Words
from seamwright.options import Units
from seamwright.piecing.model import Plan, Section
from seamwright.piecing.plan import plan
from support.prints import designs, planned
from support.random_cloth import job

EXTRA_IN = {Units.INCH: 1 / 4, Units.METRIC: 0.75 / 2.54}
"""Beyond the allowance on three sides (common practice); metric as wide as the allowance is by default."""
STEP_IN = {Units.INCH: 1 / 4, Units.METRIC: 0.5 / 2.54}
HAIR_IN = 2e-3


@dataclass(frozen=True)
class Job:
    """One piece in its place: `line` has the patch on the right of a walker, None for the first of a section."""

    made: Plan
    piece: Piece
    patch: Polygon
    line: tuple[tuple[float, float], tuple[float, float]] | None
    round_end: bool
    place: shapely.Geometry
    is_clear: bool


def jobs_of(made: Plan) -> Iterator[Job]:
    """Every piece that is laid on paper."""
    pieces = {piece.patch: piece for piece in pieces_of(made)}
    for section in made.sections:
        if section.method == "ruler" or section.kind == "plain":
            continue
        whole = shapely.union_all([Polygon(made.block.patch_ring(patch)) for patch in section.patches])
        convex = whole.convex_hull.area - whole.area < 1e-4
        places = _places(made, section)
        for number, step in enumerate(section.steps):
            patch = Polygon(made.block.patch_ring(step.patch))
            line, round_end = None, False
            if number:
                a, b = (made.block.points[step.stitch[end]] for end in (0, -1))
                x, y = _beside(patch, LineString([a, b]))
                if (b[0] - a[0]) * (y - a[1]) - (b[1] - a[1]) * (x - a[0]) < 0:
                    a, b = b, a
                line = (a, b)
                level = to_level(patch, line)
                length = math.dist(a, b)
                reach = [u for u, v in level.exterior.coords if v < 1e-6]
                round_end = min(reach) < -1e-6 or max(reach) > length + 1e-6
            yield Job(made, pieces[step.patch], patch, line, round_end, places[step.patch], convex)


def _places(made: Plan, section: Section) -> dict[int, shapely.Geometry]:
    """The part of the trimmed section that each patch's fabric fills: cut along the lines, the last one first."""
    left: shapely.Geometry = Polygon(trim_outlines(made)[section.name])
    found = {}
    for step in reversed(section.steps[1:]):
        patch = Polygon(made.block.patch_ring(step.patch))
        a, b = (made.block.points[step.stitch[end]] for end in (0, -1))
        u, v = (500 * (b[0] - a[0]) / math.dist(a, b), 500 * (b[1] - a[1]) / math.dist(a, b))
        halves = shapely.ops.split(left.buffer(0), LineString([(a[0] - u, a[1] - v), (b[0] + u, b[1] + v)]))
        mine = [part for part in halves.geoms if part.intersection(patch).area > 1e-6]
        found[step.patch] = shapely.union_all(mine)
        left = left.difference(found[step.patch]).buffer(-1e-7).buffer(1e-7)
    found[section.steps[0].patch] = left
    return found


def _beside(patch: Polygon, line: LineString) -> tuple[float, float]:
    """A point of the patch beside the middle of a line on its border."""
    near = patch.intersection(line.interpolate(0.5, normalized=True).buffer(min(0.05, line.length / 4)))
    return near.representative_point().coords[0]


def to_level(shape: shapely.Geometry, line: tuple[tuple[float, float], tuple[float, float]]) -> shapely.Geometry:
    """A shape seen along a line: its start in the origin, x along it, y on its right hand."""
    (ax, ay), (bx, by) = line
    turn = math.degrees(math.atan2(by - ay, bx - ax))
    return affinity.rotate(affinity.translate(shape, -ax, -ay), -turn, origin=(0, 0))


def laid_level(one: Job) -> Polygon:
    """Where a piece lies once it is flipped, seen along its stitch line, found from size, marks and words alone."""
    piece, made = one.piece, one.made
    allowance = made.options.seam_allowance_in
    assert one.line is not None
    length = math.dist(*one.line)
    if piece.lay is Lay.ANGLED:
        before = to_level(Polygon(piece.laid), one.line)
        a, b, c, _ = list(Polygon(piece.laid).exterior.coords)[:4]
        if not piece.parts:
            assert sorted((math.dist(a, b), math.dist(b, c))) == pytest.approx(
                sorted((piece.width_in, piece.height_in)), abs=1e-6
            )
        return affinity.scale(before, 1, -1, origin=(0, 0))
    own, foot = own_shape(one)
    if piece.lay is Lay.CENTRED:
        start = (length - foot) / 2
    else:
        assert piece.lay is Lay.TICKS
        marks = sorted(to_level(LineString(tick), one.line).centroid.x for tick in piece.ticks)
        start = marks[0] if marks[0] < length / 2 else marks[0] - foot
        if len(marks) == 2:
            assert marks[1] - marks[0] == pytest.approx(foot, abs=1e-6)
    return affinity.translate(own, start, -allowance)


def own_shape(one: Job) -> tuple[Polygon, float]:
    """(the piece right side up on its foot, which lies on the trimmed edge; length of the foot)."""
    piece = one.piece
    w, h = piece.width_in, piece.height_in
    if piece.shape is Shape.RECTANGLE:
        return box(0, 0, w, h), w
    # Seen along the line from its start: is the right angle of the patch at the start, at the end, or across?
    assert one.line is not None
    level = to_level(one.patch.simplify(1e-4), one.line)
    length = math.dist(*one.line)
    corners = [p for p in level.exterior.coords[:-1] if p[1] > 1e-4]
    (apex,) = corners
    legs = sorted((length, math.hypot(*apex), math.dist(apex, (length, 0))))
    if length > legs[2] - 0.01:  # the long side on the trimmed edge
        if piece.shape is Shape.HALF_RECTANGLE:
            short, long = sorted((w, h))
            slant = math.hypot(short, long)
            # The right angle lies nearer to the end where the short leg is.
            first = short if math.hypot(*apex) < math.dist(apex, (length, 0)) else long
            return Polygon([(0, 0), (slant, 0), (first**2 / slant, w * h / slant)]), slant
        assert w == pytest.approx(h)
        side = w if piece.shape is Shape.QUARTER_SQUARE else w * math.sqrt(2)
        return Polygon([(0, 0), (side, 0), (side / 2, side / 2)]), side
    at_start = abs(apex[0]) < 0.05 * length or math.hypot(*apex) < legs[2] - 0.01
    if piece.shape is Shape.HALF_RECTANGLE:
        short, long = sorted((w, h))
        foot, up = (
            (short, long) if length < math.hypot(apex[0] - (0 if at_start else length), apex[1]) else (long, short)
        )
        # Stood on the shorter leg, right side up, the right angle is on the left or on the right.
        return Polygon([(0, 0), (foot, 0), (0 if at_start else foot, up)]), foot
    foot = w if piece.shape is Shape.HALF_SQUARE else w / math.sqrt(2)
    return Polygon([(0, 0), (foot, 0), (0 if at_start else foot, foot)]), foot


def wanted_level(one: Job) -> shapely.Geometry:
    """Patch, allowance and extra on three sides, the allowance on the stitched one, seen along the line."""
    options = one.made.options
    assert one.line is not None
    allowance, length = options.seam_allowance_in, math.dist(*one.line)
    around = to_level(one.patch, one.line).buffer(allowance + EXTRA_IN[options.units] - HAIR_IN)
    strip = box(0, -allowance + 1e-6, length, 0)
    if one.round_end:
        return shapely.union_all([around, strip])
    return shapely.union_all([around.intersection(box(-500, 0, 500, 500)), strip])


def faults_of(one: Job) -> list[str]:
    """What is wrong with a piece."""
    piece, options, found = one.piece, one.made.options, []
    allowance, extra = options.seam_allowance_in, EXTRA_IN[options.units]
    if one.line is None:
        cloth = Polygon(piece.outline)
        wanted: shapely.Geometry = one.patch.buffer(allowance + extra - HAIR_IN)
        if piece.laid:
            found.append("the first piece is not flipped")
    else:
        cloth, wanted = laid_level(one), wanted_level(one)
        told = to_level(Polygon(piece.outline), one.line)
        if told.hausdorff_distance(cloth) > 1e-3:
            found.append("lies elsewhere than its outline says")
    bare = wanted.difference(cloth).area
    if bare > 1e-4:
        found.append(f"{bare:.4f} square inches are bare")
    whole = piece.width_in * piece.height_in / piece.share
    if abs(cloth.area - whole) > 1e-6 * whole:
        found.append("is not as large as what is cut")
    return found + list(_grain_faults(one))


def _grain_faults(one: Job) -> Iterator[str]:
    """Prints as they are meant to lie; else an edge of the block on a thread. Pieced patches lie by their seam."""
    piece, made = one.piece, one.made
    if piece.parts:
        return
    corners = list(Polygon(piece.outline).exterior.coords)
    sides = [math.degrees(math.atan2(b[1] - a[1], b[0] - a[0])) for a, b in pairwise(corners)]
    fabric = next((f for f in made.block.fabrics if f.name == piece.fabric), None)
    if fabric is not None and fabric.direction_deg is not None:
        if piece.share != 1 or piece.shape is not Shape.RECTANGLE:
            yield "is a triangle of a print that runs one way"
        off = [abs((side - fabric.direction_deg + 90) % 180 - 90) for side in sides]
        if min(off) > 1.5:
            yield "lies off its print"
        along = math.dist(*corners[off.index(min(off)) : off.index(min(off)) + 2])
        if abs(along - (piece.width_in if piece.runs == "width" else piece.height_in)) > 1e-6:
            yield f"its {piece.runs} does not run along the print"
        return
    threads = sides
    if piece.shape is Shape.QUARTER_SQUARE:
        lengths = [math.dist(a, b) for a, b in pairwise(corners)]
        threads = [sides[lengths.index(max(lengths))]]
    elif piece.shape is not Shape.RECTANGLE:
        lengths = [math.dist(a, b) for a, b in pairwise(corners)]
        threads = [side for side, length in zip(sides, lengths, strict=True) if length < max(lengths) - 1e-6]
    outline = [
        run
        for run in made.block.outline_sides()
        if len(run) == 2
        and LineString(run).distance(one.patch) < 1e-9
        and one.patch.exterior.intersection(LineString(run).buffer(1e-9)).length > 1e-3
    ]
    if not outline or any(len(run) > 2 for run in made.block.outline_sides()):
        return
    edges = [math.degrees(math.atan2(b[1] - a[1], b[0] - a[0])) for a, b in outline]
    off_thread = [min(abs((edge - thread + 45) % 90 - 45) for thread in threads) for edge in edges]
    if min(off_thread) > 1.5:
        yield f"no edge of the block lies on a thread: {min(off_thread):.1f} degrees off"


def could_be_smaller(one: Job) -> str:
    """Why a rectangle is a mark larger than what patch, allowance and extra ask for; "" if it is not."""
    piece, options = one.piece, one.made.options
    if piece.shape is not Shape.RECTANGLE or piece.parts:
        return ""
    step, extra = STEP_IN[options.units], EXTRA_IN[options.units]
    around = one.patch.buffer(options.seam_allowance_in + extra, quad_segs=64)
    if one.is_clear:
        around = shapely.union_all([around, one.place.buffer(extra, quad_segs=64)])
    if one.line is None:
        level_wanted = around
        a, b = Polygon(piece.outline).exterior.coords[:2]
        level_wanted = to_level(level_wanted, (a, b))
    else:
        (a, b) = one.line
        level_wanted = to_level(around, one.line)
        if not one.round_end:
            allowance = options.seam_allowance_in
            low = box(-allowance, -allowance, math.dist(a, b) + allowance, 0)
            level_wanted = shapely.union_all([level_wanted.intersection(box(-500, 0, 500, 500)), low])
        if piece.lay is Lay.ANGLED:
            back = affinity.rotate(level_wanted, math.degrees(math.atan2(b[1] - a[1], b[0] - a[0])), origin=(0, 0))
            c, d = Polygon(piece.outline).exterior.coords[:2]
            turn = math.degrees(math.atan2(d[1] - c[1], d[0] - c[0]))
            level_wanted = affinity.rotate(back, -turn, origin=(0, 0))
    x0, y0, x1, y1 = level_wanted.bounds
    least = sorted(math.ceil((side - 2e-3) / step) * step for side in (x1 - x0, y1 - y0))
    size = sorted((piece.width_in, piece.height_in))
    more = [round((s - m) / step) for s, m in zip(size, least, strict=True)]
    return f"{piece.lay.value} {max(more)}" if max(more) > 0 else ("" if min(more) >= 0 else f"LESS {more}")


def judged(seeds: range) -> tuple[Counter[str], list[str]]:
    """(counts, faults) of the pieces of random jobs."""
    counts: Counter[str] = Counter()
    faults: list[str] = []
    for seed in seeds:
        asked = job(seed)
        made = plan(asked.block, asked.options)
        for one in jobs_of(made) if made.sections else ():
            counts["pieces"] += 1
            counts[one.piece.lay.value] += 1
            faults += [f"{seed} {one.piece.name} {one.piece.lay.value}: {fault}" for fault in faults_of(one)]
            if why := could_be_smaller(one):
                counts[f"larger {why}"] += 1
    return counts, faults


def test_pieces_laid_by_their_words_cover_what_they_have_to() -> None:
    counts, faults = judged(range(14))
    assert faults == []
    assert counts["pieces"] > 60
    assert not any("LESS" in name for name in counts)


@pytest.mark.long
def test_many_pieces_laid_by_their_words_cover_what_they_have_to() -> None:
    counts, faults = judged(range(14, 250))
    assert faults == []
    assert counts["pieces"] > 1000
    assert not any("LESS" in name for name in counts)


@pytest.mark.parametrize("name", ["kite", "compass-star", "lighthouse-beam", "shoal"])
def test_the_name_at_a_mark_is_that_of_the_piece_it_is_for(name: str) -> None:
    made = planned(next(path for path in designs() if path.stem == name))
    named = 0
    for print_ in foundations(made):
        marks = {
            number: MultiLineString([*patch.laid.ticks, *patch.laid.legs, *patch.laid.middles])
            for number, patch in enumerate(print_.patches, start=1)
            if patch.laid is not None and (patch.laid.ticks or patch.laid.legs or patch.laid.middles)
        }
        for ink in print_.ink:
            if isinstance(ink, Words) and ink.text.startswith("lay "):
                box = Polygon(words_box(ink, 72.0))
                own = int(re.fullmatch(r"lay [A-Za-z.]*?(\d+)", ink.text)[1])  # type: ignore[index]
                assert min(marks, key=lambda number: box.distance(marks[number])) == own
                named += 1
    assert named
