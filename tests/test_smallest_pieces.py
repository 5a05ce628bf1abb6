"""One mark less in either direction never does: every piece tried anew by shapely at every place it might have.

A convex piece moved by t covers what it has to exactly if each corner p of that lies on it, so if t lies in the
mirrored piece moved to p, for all p at once. That area is worked out by shapely and looked at: an empty one means
that no place will do. Nothing of `cutting` or `rehearsal` is used but the pieces.
"""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Iterable, Iterator
from dataclasses import replace
from fractions import Fraction
from pathlib import Path

import pytest
import shapely
from shapely import affinity
from shapely.geometry import LineString, Polygon, box

from seamwright.claims.sewing import printed_marks, sewing_of
from seamwright.cutting.make import cutting
from seamwright.cutting.pieces import pieces_of
from seamwright.errors import ProofError
from seamwright.fabric.laying import off_most, room_of, shown
from seamwright.fabric.pieces import Lay, Shape
from seamwright.foundation.make import foundations
from seamwright.foundation.trims import trim_outlines
from seamwright.geometry import canonical_ring
from seamwright.options import CutOptions, Fit, PlanOptions, Units
from seamwright.piecing.model import Plan
from seamwright.piecing.plan import plan
from seamwright.rehearsal.rehearse import rehearse
from support.exact import exact_block
from support.prints import designs, planned
from support.random_blocks import mixed_blocks
from support.random_cloth import job
from test_pieces_judged import EXTRA_IN, STEP_IN, Job, jobs_of, own_shape, to_level

HAIR_IN = 5e-5
"""What lies over a mark by less is rounding."""
LONGER = 2
"""Marks by which a piece at an angle may be longer so that the paper can show it."""


def to_cover(one: Job) -> Polygon:
    """The hull of what a piece has to cover, seen along its stitch line; of the first of a section as it lies."""
    options = one.made.options
    allowance, extra = options.seam_allowance_in, EXTRA_IN[options.units]
    around = one.patch.buffer(allowance + extra, quad_segs=64)
    if one.is_clear:
        around = shapely.union_all([around, one.place.buffer(extra, quad_segs=64)])
    if one.line is None:
        return around.convex_hull
    level = to_level(around, one.line)
    if not one.round_end:
        strip = box(-allowance, -allowance, math.dist(*one.line) + allowance, 0)
        level = shapely.union_all([level.intersection(box(-500, 0, 500, 500)), strip])
    return level.convex_hull


def places(piece: Polygon, hull: Polygon, line: LineString | None = None) -> shapely.Geometry:
    """The moves by which a piece covers a hull; on a line only, if one is given."""
    mirrored = affinity.scale(piece.buffer(HAIR_IN, join_style="mitre", mitre_limit=20), -1, -1, origin=(0, 0))
    corners = hull.exterior.coords[:-1]
    found: shapely.Geometry = affinity.translate(mirrored, *corners[0]) if line is None else line
    for corner in corners:
        found = found.intersection(affinity.translate(mirrored, *corner))
        if found.is_empty:
            break
    return found


def laid_so(one: Job, width: float, height: float) -> Polygon | None:
    """A piece of a size laid in the same way, in the middle of all places where it covers; None if there is none.

    Seen along its stitch line; the first of a section as it lies.
    """
    piece, hull, line = one.piece, to_cover(one), None
    if one.line is None or piece.lay is Lay.ANGLED:
        level = Polygon(piece.outline) if one.line is None else to_level(Polygon(piece.outline), one.line)
        ring = list(level.exterior.coords)
        turn = math.degrees(math.atan2(ring[1][1] - ring[0][1], ring[1][0] - ring[0][0]))
        if piece.shape is Shape.RECTANGLE:
            cut = affinity.rotate(box(0, 0, width, height), turn, origin=(0, 0))
        else:
            cut = affinity.scale(level, width / piece.width_in, width / piece.width_in, origin=ring[0])
    else:
        cut, _ = own_shape(replace(one, piece=replace(piece, width_in=width, height_in=height)))
        cut = affinity.translate(cut, 0, -one.made.options.seam_allowance_in)
        line = LineString([(-900, 0), (900, 0)])
    moves = places(cut, hull, line)
    return None if moves.is_empty else affinity.translate(cut, moves.centroid.x, moves.centroid.y)


def does(one: Job, width: float, height: float) -> bool:
    """Whether a piece of a size, laid in the same way, would cover at some place."""
    return laid_so(one, width, height) is not None


def less(one: Job) -> Iterator[tuple[float, float]]:
    """The sizes a mark less in either direction; a triangle from a square has one side."""
    step, (w, h) = STEP_IN[one.made.options.units], (one.piece.width_in, one.piece.height_in)
    if one.piece.shape in (Shape.RECTANGLE, Shape.HALF_RECTANGLE):
        yield from ((w - step, h), (w, h - step))
    else:
        yield w - step, h - step


def why_larger(one: Job) -> str:
    """Why a piece is larger than the smallest that covers; "" if it is the smallest, "WITHOUT REASON" if not so.

    Reasons: "a mark, to be centred": no ticks are needed then. "centred": its ends lie off the paper, where no tick
    can be, and its outline cannot be shown either; halves of squares and rectangles have no outline but that.
    "to be shown": by two marks at most, with which the paper shows enough of it. "not convex": what its section
    asks of it beyond its patch is not known here.
    """
    if one.piece.parts or one.piece.shape is Shape.TEMPLATE:
        return ""
    smaller = [size for size in less(one) if min(size) > 0 and does(one, *size)]
    if not smaller:
        return ""
    piece, step = one.piece, STEP_IN[one.made.options.units]
    w, h = piece.width_in, piece.height_in
    if not one.is_clear:
        return "not convex"
    if piece.lay is Lay.CENTRED:
        if piece.shape in (Shape.HALF_SQUARE, Shape.QUARTER_SQUARE):
            further = [(w - 2 * step, h - 2 * step)]
        elif piece.shape is Shape.RECTANGLE:
            further = [(w - 2 * step, h)]
        else:
            further = smaller
        further = [size for size in further if does(one, *size)]
        if not further:
            return "a mark, to be centred"
        return "WITHOUT REASON" if any(shown_by_ends(one, size) for size in further) else "centred"
    if piece.lay is Lay.ANGLED:
        far = [(w - (LONGER + 1) * step, h), (w, h - (LONGER + 1) * step)]
        if not any(does(one, *size) for size in far) and not any(shown_smaller(one, size) for size in smaller):
            return "to be shown"
    return "WITHOUT REASON"


def shown_by_ends(one: Job, size: tuple[float, float]) -> bool:
    """Whether an end of a smaller piece would lie on the paper at the trimmed edge."""
    assert one.line is not None
    cut = laid_so(one, *size)
    assert cut is not None
    foot = one.made.options.seam_allowance_in
    paper = to_level(Polygon(trim_of(one)), one.line).buffer(-1 / 32, join_style="mitre")
    ends = [x for x, y in cut.exterior.coords if y < -foot + 1e-6]
    return any(
        paper.contains(LineString([(end, foot - 1 / 16), (end, foot + 1 / 16)])) for end in (min(ends), max(ends))
    )


def shown_smaller(one: Job, size: tuple[float, float]) -> bool:
    """Whether the paper would show enough of a smaller piece at an angle."""
    assert one.line is not None
    cut = laid_so(one, *size)
    assert cut is not None
    (ax, ay), (bx, by) = one.line
    before = affinity.scale(cut, 1, -1, origin=(0, 0))
    turned = affinity.rotate(before, math.degrees(math.atan2(by - ay, bx - ax)), origin=(0, 0))
    ring = affinity.translate(turned, ax, ay).exterior.coords[:-1]
    off = off_most(one.made.options.seam_allowance_in)
    return shown(ring, room_of(trim_of(one)), off_in=off).enough


def trim_of(one: Job) -> tuple[tuple[float, float], ...]:
    section = next(s for s in one.made.sections if one.piece.patch in s.patches)
    return trim_outlines(one.made)[section.name]


def counted(plans: Iterable[tuple[str, Plan]]) -> tuple[Counter[str], list[str]]:
    """(how many pieces of each kind, and larger for which reason; those without one)."""
    counts: Counter[str] = Counter()
    without = []
    for name, made in plans:
        for one in jobs_of(made):
            counts["pieces"] += 1
            counts[f"{one.piece.lay.value} {one.piece.shape.value}"] += 1
            if why := why_larger(one):
                counts[f"larger: {why}"] += 1
                if why.isupper():
                    without.append(f"{name} {one.piece.name} {one.piece.lay.value} {one.piece.shape.value}")
    return counts, without


def drawn(path: Path) -> Plan:
    made = planned(path)
    return made if made.sections else planned(path, PlanOptions(set_in=True))


def random_plans(seeds: range) -> Iterator[tuple[str, Plan]]:
    for seed in seeds:
        asked = job(seed)
        made = plan(asked.block, asked.options)
        if made.sections:
            yield f"cloth {seed}", made
    for number, block in enumerate(mixed_blocks(77 + seeds.start, len(seeds), most_lines=5)):
        units = (Units.INCH, Units.METRIC)[number % 2]
        made = plan(block, PlanOptions(fit=Fit.NONE, set_in=True, units=units))
        if made.sections:
            yield f"mixed {seeds.start} {number}", made


@pytest.mark.parametrize("name", ["anchor-flukes", "gull", "shoal", "harbour-lights"])
def test_what_is_larger_than_it_would_have_to_be_is_so_for_a_reason(name: str) -> None:
    counts, without = counted([(name, drawn(next(path for path in designs() if path.stem == name)))])
    assert counts["pieces"] > 20
    assert without == []


def test_a_piece_cut_a_mark_larger_is_found_out() -> None:
    made = drawn(next(path for path in designs() if path.stem == "kite"))
    tried = 0
    for one in jobs_of(made):
        if one.piece.lay is Lay.FIRST:
            step = STEP_IN[made.options.units]
            (ax, ay), (bx, by), (cx, cy), (dx, dy) = one.piece.outline
            share = step / math.dist((ax, ay), (bx, by))
            outline = ((ax, ay), (bx + share * (bx - ax), by + share * (by - ay)))
            outline += ((cx + share * (bx - ax), cy + share * (by - ay)), (dx, dy))
            larger = replace(one.piece, width_in=one.piece.width_in + step, outline=outline)
            assert why_larger(one) == ""
            assert why_larger(replace(one, piece=larger)) == "WITHOUT REASON"
            tried += 1
    assert tried


@pytest.mark.long
def test_of_hundreds_of_blocks_hardly_a_piece_is_larger_without_a_reason() -> None:
    some = [(path.stem, drawn(path)) for path in designs()]
    counts, without = counted(some)
    assert without == []
    counts, without = counted(random_plans(range(100)))
    assert counts["pieces"] > 1000
    # What overlays leave beside a tip goes to one patch or to another; marks may do in the middle, not at an end.
    assert len(without) <= counts["pieces"] / 500


# -- halves of rectangles ------------------------------------------------------------------------------------------


def mirrored_halves() -> Plan:
    """A section of 6 in with two long thin corners, and its mirror image beside it."""
    lines = [
        ((8, 0), (8, 8)), ((3, 0), (0, 6)), ((5, 8), (8, 2)), ((13, 0), (16, 6)),
        ((11, 8), (8, 2)), ((2, 2), (7, 4)), ((14, 2), (9, 4)),
    ]  # fmt: skip
    small = [tuple((Fraction(3 * x, 4), Fraction(3 * y, 4)) for x, y in line) for line in lines]
    return plan(exact_block(small, [(0, 0), (12, 0), (12, 6), (0, 6)]), PlanOptions())


def test_a_mirrored_section_has_half_rectangles_of_the_other_hand_cut_from_rectangles_of_their_own() -> None:
    made = mirrored_halves()
    assert [(s.name, s.print, s.reversed) for s in made.sections] == [("A", "A", False), ("Ar", "A", True)]
    pieces = pieces_of(made)
    halves = [piece for piece in pieces if piece.shape is Shape.HALF_RECTANGLE]
    assert [(p.name, p.hand) for p in halves] == [
        ("A3", "right"),
        ("A4", "right"),
        ("Ar3", "left"),
        ("Ar4", "left"),
    ]
    for piece in halves:
        ring = canonical_ring(made.block.patch_ring(piece.patch))
        # The right angle is opposite to the longest side.
        at = max(ring, key=lambda p: math.dist(*(other for other in ring if other != p)))
        short, long = sorted((other for other in ring if other != at), key=lambda p: math.dist(p, at))
        # Stood on the shorter leg, right side up: with the long leg up the short one goes right from a left corner.
        cross = (short[0] - at[0]) * (long[1] - at[1]) - (short[1] - at[1]) * (long[0] - at[0])
        assert piece.hand == ("left" if cross < 0 else "right")
        # They save: a rectangle on the grain has 1/2 in more at both ends of each leg.
        leg, longer = math.dist(at, short), math.dist(at, long)
        whole = (math.ceil((leg + 1) * 4) / 4) * (math.ceil((longer + 1) * 4 - 1e-9) / 4)
        assert 1 - piece.width_in * piece.height_in / 2 / whole > 0.2
    # As they are printed and laid they cover; with the hands exchanged they do not.
    rehearse(sewing_of(made, pieces, printed_marks(made, foundations(made))))
    other = {"left": "right", "right": "left", "": ""}
    with pytest.raises(ProofError):
        rehearse(sewing_of(made, [replace(piece, hand=other[piece.hand]) for piece in pieces]))
    subcuts = [
        cut for fabric in cutting(made, CutOptions()).fabrics for strip in fabric.strips for cut in strip.subcuts
    ]
    told = {(cut.hand, cut.patches): cut.count for cut in subcuts if cut.hand}
    assert told == {("left", ("Ar3", "Ar4")): 1, ("right", ("A3", "A4")): 1}
