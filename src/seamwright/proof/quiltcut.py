"""The cutting of a quilt proven: all of it is cut, and large enough; long strips, binding and back suffice.

Knows:  bare coordinates and numbers: the plain pieces of a quilt, what is cut for them, how strips and panels are
        joined. It shares no code with what planned the cutting.
Leaves: whether strips hold their pieces and what is bought holds all strips (proof.cut), whether patches are
        covered by their pieces (the rehearsal).
Units:  inches.
Method: by GEOS. The finished shape of a plain piece is grown by the seam allowance with full points; what is cut is
        laid round it, rectangles along its longest side, triangles about the middle of the circle inside it.
"""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from shapely import Polygon
from shapely.affinity import rotate, scale

from seamwright.errors import ProofError, SeamwrightError, fail
from seamwright.geometry import Ring

HAIR_IN = 1e-4
"""A thread is thicker by far; printed constants are rounded up by more."""
FULL_POINTS = 20.0
"""Points of the allowance down to 6 degrees are grown in full."""
ON_GRAIN_DEG = 0.5
RECTANGLE, HALF, QUARTER = "rectangle", "half-square triangle", "quarter-square triangle"
SHARES = {RECTANGLE: 1, HALF: 2, QUARTER: 4}
"""As many pieces come of what is cut at most."""


@dataclass(frozen=True, slots=True)
class PlainPiece:
    """A plain piece of the quilt.

    Attributes:
        ring: its finished shape. fabric: its name. where: what it is called in messages.
        grain_deg: the direction that has to lie on the straight grain.
        print_deg: that of a print that runs one way.
    """

    ring: Ring
    fabric: str
    where: str
    grain_deg: float | None = None
    print_deg: float | None = None


@dataclass(frozen=True, slots=True)
class CutPlain:
    """What is cut for plain pieces that are alike.

    Attributes:
        pieces: their numbers. kind: RECTANGLE, HALF or QUARTER. across_in, selvedge_in: of the rectangle or square,
            the second along the selvedge where that matters. share: how many come of one. count: pieces.
    """

    fabric: str
    pieces: tuple[int, ...]
    kind: str
    across_in: float
    selvedge_in: float
    share: int
    count: int


@dataclass(frozen=True, slots=True)
class JoinedClaim:
    """Strips sewn end to end, each joint taking so much; `lengths`: (length, how many) of what is cut of them."""

    name: str
    width_in: float
    strip_in: float
    strips: int
    lost_in: float
    diagonal: bool
    lengths: tuple[tuple[float, int], ...]


@dataclass(frozen=True, slots=True)
class BackClaim:
    """Panels of a back; `upright`: their length runs from top to bottom. `bought_in`: along the selvedge."""

    width_in: float
    height_in: float
    usable_in: float
    panels: int
    panel_in: float
    upright: bool
    seam_in: float
    straighten_in: float
    bought_in: float


@dataclass(frozen=True, slots=True)
class QuiltCutClaim:
    """What the cutting of a quilt claims.

    Attributes:
        plain: all plain pieces of the quilt. cut: what is cut for them.
        patches: for each block as it is sewn how often it lies in the quilt; (name of a piece of its patches, how
            many are counted) of all of them; those names as the plan has them.
        joined: strips sewn end to end. binding: None for none; its one length is what the edge takes.
        back: None for none.
    """

    allowance_in: float
    plain: tuple[PlainPiece, ...]
    cut: tuple[CutPlain, ...]
    patches: tuple[tuple[int, tuple[tuple[str, int], ...], tuple[str, ...]], ...] = ()
    joined: tuple[JoinedClaim, ...] = ()
    binding: JoinedClaim | None = None
    back: BackClaim | None = None


def check_quilt_cut(claim: QuiltCutClaim) -> None:
    """Proves that all of a quilt is cut, and large enough.

    Raises:
        ProofError: with what is wrong.
    """
    for wrong in (*_patches(claim), *_counted(claim), *_large_enough(claim), *_printed(claim), *_joined(claim)):
        raise wrong


def _patches(claim: QuiltCutClaim) -> Iterator[SeamwrightError]:
    for times, counted, expected in claim.patches:
        found = dict(counted)
        if set(found) != set(expected) or len(counted) != len(expected):
            yield _wrong("patches of a block are left out, or counted twice")
        for name, number in counted:
            if number != times:
                yield _wrong(f"{number} pieces of {name} are cut for {times} blocks")


def _counted(claim: QuiltCutClaim) -> Iterator[SeamwrightError]:
    """Each plain piece is cut once, of its own fabric."""
    groups: dict[tuple[int, ...], int] = {}
    for cut in claim.cut:
        groups[cut.pieces] = groups.get(cut.pieces, 0) + cut.count
        for number in cut.pieces:
            if claim.plain[number].fabric != cut.fabric:
                yield _wrong(f"{claim.plain[number].where} is cut of {cut.fabric or 'another fabric'}")
    for pieces, count in groups.items():
        if count != len(pieces):
            yield _wrong(f"{count} of {len(pieces)} pieces like {claim.plain[pieces[0]].where} are cut")
    times = Counter(number for pieces in groups for number in pieces)
    for number, piece in enumerate(claim.plain):
        if times[number] != 1:
            yield _wrong(f"{piece.where} is cut {times[number]} times")


def _large_enough(claim: QuiltCutClaim) -> Iterator[SeamwrightError]:
    seen: set[tuple[object, ...]] = set()
    for cut in claim.cut:
        if cut.share > SHARES.get(cut.kind, 1):
            yield _wrong(f"{cut.share} pieces are said to come of one {cut.kind}")
        for number in cut.pieces:
            piece = claim.plain[number]
            # Of pieces that are equal but for their place one is enough: there may be thousands.
            x, y = piece.ring[0]
            shape = tuple((round(px - x, 6), round(py - y, 6)) for px, py in piece.ring)
            key = (shape, cut, piece.grain_deg, piece.print_deg)
            if key in seen:
                continue
            seen.add(key)
            if not _covers(cut, piece, claim.allowance_in):
                yield _wrong(f"{piece.where} is cut too small, or off the grain")


def _covers(cut: CutPlain, piece: PlainPiece, allowance_in: float) -> bool:
    finished = Polygon(piece.ring)
    grown = finished.buffer(allowance_in, join_style="mitre", mitre_limit=FULL_POINTS)
    if cut.kind == RECTANGLE:
        side = max(_sides(piece.ring), key=lambda each: round(math.dist(*each), 6))
        turn = _slope(*side)
        off = None if piece.print_deg is None else (turn - piece.print_deg + 90) % 180 - 90
        x0, y0, x1, y1 = rotate(grown, -turn, origin=(0, 0)).bounds
        along, across = x1 - x0, y1 - y0
        if off is None or abs(abs(off) - 45) < 45 - ON_GRAIN_DEG:  # no print, or one that lies aslant
            needed, given = sorted((along, across)), sorted((cut.across_in, cut.selvedge_in))
        else:
            needed = [across, along] if abs(off) < 45 else [along, across]
            given = [cut.across_in, cut.selvedge_in]
        return all(n <= g + HAIR_IN for n, g in zip(needed, given, strict=True))
    corners = [(float(x), float(y)) for x, y in finished.exterior.coords[:-1]]
    if len(corners) != 3:
        return False
    long_side = max(_sides(corners), key=lambda each: math.dist(*each))
    apex = next(point for point in corners if point not in long_side)
    side = (apex, long_side[0]) if cut.kind == HALF else long_side
    if piece.grain_deg is not None:
        off = _slope(*side) - piece.grain_deg
        if min(off % 90, -off % 90) > ON_GRAIN_DEG:
            return False
    # The middle of the circle inside a triangle: its corners, each weighed by the side across from it.
    weights = [math.dist(corners[k - 1], corners[k - 2]) for k in range(3)]
    middle = tuple(
        sum(w * c[axis] for w, c in zip(weights, corners, strict=True)) / sum(weights) for axis in (0, 1)
    )
    grow = min(cut.across_in, cut.selvedge_in) / math.dist(*side)
    laid = scale(finished, grow, grow, origin=(middle[0], middle[1]))
    return bool(laid.buffer(HAIR_IN, join_style="mitre", mitre_limit=FULL_POINTS).covers(grown))


def _printed(claim: QuiltCutClaim) -> Iterator[SeamwrightError]:
    """Triangles of a print that runs one way: a square gives one of each way, so there must be squares enough."""
    squares: dict[tuple[int, ...], tuple[str, int]] = {}
    for cut in claim.cut:
        if cut.kind != RECTANGLE and claim.plain[cut.pieces[0]].print_deg is not None:
            _, before = squares.get(cut.pieces, (cut.kind, 0))
            squares[cut.pieces] = (cut.kind, before - (-cut.count // cut.share))
    for pieces, (kind, number) in squares.items():
        ways = Counter(_points_to(claim.plain[each].ring) for each in pieces)
        if kind == QUARTER:
            needed = max(ways.values())
        else:
            half = {way % 180 for way in ways}
            needed = sum(max(ways[way], ways[way + 180]) for way in half)
        if number < needed:
            yield _wrong(f"{number} squares for {claim.plain[pieces[0]].where} leave prints upside down")


def _points_to(ring: Sequence[tuple[float, float]]) -> int:
    long_side = max(_sides(ring), key=lambda each: math.dist(*each))
    apex = next(point for point in ring if point not in long_side)
    middle = ((long_side[0][0] + long_side[1][0]) / 2, (long_side[0][1] + long_side[1][1]) / 2)
    return round(_slope(middle, apex)) % 360


def _joined(claim: QuiltCutClaim) -> Iterator[SeamwrightError]:
    for strips in (*claim.joined, *([claim.binding] if claim.binding else [])):
        needed = sum(length * count for length, count in strips.lengths)
        lost = strips.width_in if strips.diagonal else 2 * claim.allowance_in
        made = strips.strips * strips.strip_in - (strips.strips - 1) * lost
        if strips.lost_in < lost - HAIR_IN or made < needed - HAIR_IN:
            yield _wrong(f"{strips.name} come to {made:g} in once they are joined, and {needed:g} in are needed")
        if strips.strips > 1 and made - (strips.strip_in - lost) >= needed + HAIR_IN:
            yield _wrong(f"{strips.name} are more than are needed")
    back = claim.back
    if back is None:
        return
    ways = [_back_in(back, upright=upright) for upright in (True, False)]
    across, along = (back.width_in, back.height_in) if back.upright else (back.height_in, back.width_in)
    joined = back.panels * back.usable_in - (back.panels - 1) * 2 * back.seam_in
    if joined < across - HAIR_IN or back.panel_in < along - HAIR_IN:
        yield _wrong("the back is smaller than it has to be")
    if back.bought_in < back.panels * back.panel_in + back.straighten_in - HAIR_IN:
        yield _wrong("less is bought for the back than its panels take")
    if back.panels * back.panel_in > min(ways) + 36 / 8:
        yield _wrong("panels of the back that run the other way would take less")


def _back_in(back: BackClaim, *, upright: bool) -> float:
    """What panels take that run one way, by adding one after the other."""
    across, along = (back.width_in, back.height_in) if upright else (back.height_in, back.width_in)
    panels, reach = 1, back.usable_in
    while reach < across - HAIR_IN:
        panels, reach = panels + 1, reach + back.usable_in - 2 * back.seam_in
    return panels * along


def _sides(ring: Sequence[tuple[float, float]]) -> list[tuple[tuple[float, float], tuple[float, float]]]:
    return list(zip(ring, (*ring[1:], ring[0]), strict=True))


def _slope(a: tuple[float, float], b: tuple[float, float]) -> float:
    return math.degrees(math.atan2(b[1] - a[1], b[0] - a[0]))


def _wrong(what: str) -> SeamwrightError:
    mend = "Nothing was handed out; please report it with the quilt's file"
    return fail(ProofError, "proof", f"The cutting of the quilt failed its proof: {what}", mend)
