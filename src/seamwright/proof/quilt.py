"""A laid quilt proven: is it whole, and is every block in it the one that was asked for?

Knows:  bare coordinates: the patches of each look of a block, where looks lie, plain pieces. It shares no code with
        what laid the quilt.
Leaves: whether a block can be sewn (proof.checker), and how fabric is cut (proof.cut).
Units:  inches, finished; front view, x to the right, y down.
Method: by GEOS. The patches of a look fill its outline, once for each look. A look is its drawing, or the mirror
        image of it, patch by patch. A block is laid by a rotation alone: it keeps its size, its shape and its hand,
        and lies as it was asked to. Outlines and plain pieces then must not overlap, must keep within the quilt,
        and their areas must add up to its width times its height, so that there is no hole.
        What plain pieces are said to measure is measured on their corners.
Limits: a block may be longer or shorter than its looks by `ease_in`, which the sewer was told to ease in.
"""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Iterable, Sequence

import numpy as np
import shapely
from shapely import Polygon
from shapely.geometry.base import BaseGeometry

from seamwright.errors import Fault, ProofError
from seamwright.geometry import Affine, Point, Ring
from seamwright.proof.quiltclaim import (
    ClaimedCell,
    ClaimedCloth,
    ClaimedLook,
    ClaimedPatch,
    ClaimedSpot,
    QuiltClaim,
)

GRID_IN = 1e-7
"""GEOS lays areas on a grid of this before it compares them. Without one, edges that all but coincide can make it
take a strip beside a block for one inside it (seen with GEOS 3.14.1 and blocks of 20 cm on point)."""
HAIR_IN = 1e-5
"""Far below a thread's width, far above what adding up lengths costs in floats."""
NO_TURN = 1e-6
"""A shear of less moves no corner of a block by a hair."""
SAME_LINE_IN = 1 / 16
"""Blocks whose middles are no further off lie in one row."""
SAME_EDGE_IN = 0.015
"""Half of what rulers show: a block whose mirror image is no further off is its own mirror to every eye."""


def check_quilt(claim: QuiltClaim) -> None:
    """Proves that a quilt is whole and that its blocks lie as asked.

    Raises:
        ProofError: with one fault, whose `code` names it: "not a number", "look not whole", "block misshapen",
            "block not as asked", "rows not as asked", "wrong size of a piece", "outside the quilt", "overlap",
            "hole".
    """
    rings = [
        *(patch.ring for look in claim.looks for patch in look.patches),
        *(look.outline for look in claim.looks),
        *(cloth.ring for cloth in claim.cloths),
    ]
    numbers = [claim.width_in, claim.height_in, claim.ease_in, *(v for spot in claim.spots for v in spot.place)]
    if not all(map(math.isfinite, [*numbers, *(v for ring in rings for point in ring for v in point)])):
        raise _refuse("not a number", "a coordinate is no finite number")
    for look in claim.looks:
        _check_look(look)
    asked = _read(claim)
    for spot in claim.spots:
        _check_rotation(claim, spot)
    _check_turns(claim, asked)
    for cloth in claim.cloths:
        _check_size(cloth)
    _check_whole(claim)


# -- blocks -------------------------------------------------------------------------------------------------------


def _check_look(look: ClaimedLook) -> None:
    """Its patches fill its outline, and none lies on another."""
    outline = Polygon(look.outline)
    patches = [Polygon(patch.ring, patch.holes) for patch in look.patches]
    if not outline.is_valid or not all(patch.is_valid for patch in patches):
        raise _refuse("look not whole", f"a patch of {look.name}, or its outline, crosses itself")
    together = math.fsum(patch.area for patch in patches)
    over = abs(together - outline.area)
    missed = shapely.symmetric_difference(outline, _all_of(patches), grid_size=GRID_IN).area
    hair = HAIR_IN * math.fsum(patch.length for patch in patches)
    if over > hair or missed > hair:
        what = f"patches of {look.name} cover {together:.6g} of {outline.area:.6g} square inches"
        raise _refuse("look not whole", what)


def _check_rotation(claim: QuiltClaim, spot: ClaimedSpot) -> None:
    """A block is laid by a rotation alone: no mirror, no shear, and no more stretched than was told."""
    a, b, c, d, _, _ = spot.place
    # Columns square to each other, x before y: a rotation. A mirror image has y before x: its prints would be
    # reversed ones that nobody printed.
    across, down = math.hypot(a, b), math.hypot(c, d)
    if abs(a * c + b * d) > NO_TURN or a * d - b * c <= 0:
        raise _refuse("block misshapen", f"{spot.where} is not laid by a rotation alone", spot.place[4:])
    xs, ys = zip(*claim.looks[spot.look].outline, strict=True)
    off = max(abs(across - 1) * (max(xs) - min(xs)), abs(down - 1) * (max(ys) - min(ys)))
    if off > claim.ease_in + HAIR_IN:
        raise _refuse("block misshapen", f"{spot.where} is stretched by {off:.4f} in", spot.place[4:])


def _read(claim: QuiltClaim) -> list[ClaimedCell | None]:
    """What was asked for of each spot; those of the centre are read as one reads a page, by where they lie."""
    found: list[ClaimedCell | None] = [spot.asked for spot in claim.spots]
    centre: list[tuple[Point, int, ClaimedCloth | None]] = []
    for number, spot in enumerate(claim.spots):
        if spot.asked is None:
            middle = _polygon(claim.looks[spot.look].outline, spot.place).centroid
            centre.append(((middle.x, middle.y), number, None))
    for cloth in claim.cloths:
        if cloth.in_row:
            middle = Polygon(cloth.ring).centroid
            centre.append(((middle.x, middle.y), -1, cloth))
    if len(centre) != sum(map(len, claim.rows)):
        what = f"{sum(map(len, claim.rows))} places were asked for in rows, {len(centre)} are filled"
        raise _refuse("rows not as asked", what)
    lines: list[list[tuple[Point, int, ClaimedCloth | None]]] = []
    for entry in sorted(centre, key=lambda e: e[0][1]):
        if lines and entry[0][1] - lines[-1][0][0][1] < SAME_LINE_IN:
            lines[-1].append(entry)
        else:
            lines.append([entry])
    rows = [row for row in claim.rows if row]  # on point a column of blocks has nothing between them
    if [len(line) for line in lines] != [len(row) for row in rows]:
        raise _refuse("rows not as asked", "rows do not lie below each other with as many blocks as asked for")
    for row, line in zip(rows, lines, strict=True):
        for cell, (at, number, plain) in zip(row, sorted(line, key=lambda e: e[0][0]), strict=True):
            if (cell.drawn is None) != (plain is not None) or (plain is not None and plain.fabric != cell.fabric):
                raise _refuse("rows not as asked", "another piece lies here than was asked for", at)
            if plain is None:
                found[number] = cell
    return found


def _check_turns(claim: QuiltClaim, asked: Sequence[ClaimedCell | None]) -> None:
    """Each block shows its drawing as it was asked to: the same patches of the same fabrics."""
    seen: set[tuple[object, ...]] = set()
    for spot, cell in zip(claim.spots, asked, strict=True):
        if cell is None or cell.drawn is None:
            raise _refuse("rows not as asked", f"nothing was asked for where {spot.where} lies", spot.place[4:])
        a, b, c, d, _, _ = spot.place
        across, down = math.hypot(a, b), math.hypot(c, d)
        laid = (a / across, b / across, c / down, d / down)
        way = (spot.look, cell, *(round(v, 6) for v in laid))
        if way in seen:
            continue
        seen.add(way)
        turn, flip = math.radians(cell.turn_deg), -1.0 if cell.reversed else 1.0
        wanted = (flip * math.cos(turn), flip * math.sin(turn), -math.sin(turn), math.cos(turn))
        if not _same(_laid(claim.drawn[cell.drawn], wanted), _laid(claim.looks[spot.look].patches, laid)):
            hand = ", reversed" if cell.reversed else ""
            what = f"{spot.where} does not show its drawing rotated by {cell.turn_deg:g} degrees{hand}"
            raise _refuse("block not as asked", what, spot.place[4:])


def _laid(
    patches: Sequence[ClaimedPatch], way: tuple[float, float, float, float]
) -> list[tuple[str, BaseGeometry]]:
    """Patches under (a, b, c, d) of an affine, moved so that their bounding box starts at (0, 0)."""
    a, b, c, d = way
    turn = np.array([[a, b], [c, d]])
    areas = shapely.transform([Polygon(patch.ring, patch.holes) for patch in patches], lambda xy: xy @ turn)
    corner = shapely.total_bounds(areas)[:2]
    areas = shapely.transform(areas, lambda xy: xy - corner)
    return [(patch.fabric, area) for patch, area in zip(patches, areas, strict=True)]


def _same(wanted: list[tuple[str, BaseGeometry]], shown: list[tuple[str, BaseGeometry]]) -> bool:
    """Whether two sets of patches, each without overlaps, are one and the same with their fabrics."""
    if Counter(name for name, _ in wanted) != Counter(name for name, _ in shown):
        return False
    tree = shapely.STRtree([area for _, area in shown])
    taken: set[int] = set()
    for name, area in wanted:
        middle = area.representative_point()
        here = [int(i) for i in tree.query(middle, predicate="within")]
        if len(here) != 1 or here[0] in taken or shown[here[0]][0] != name:
            return False
        other = shown[here[0]][1]
        if shapely.symmetric_difference(area, other, grid_size=GRID_IN).area > SAME_EDGE_IN * area.length:
            return False
        taken.add(here[0])
    return True


# -- plain pieces -------------------------------------------------------------------------------------------------


def _check_size(cloth: ClaimedCloth) -> None:
    """What it is said to measure is what its corners measure."""
    ring = cloth.ring
    sides = [math.dist(p, q) for p, q in zip(ring, (*ring[1:], ring[0]), strict=True)]
    said = sorted((cloth.width_in, cloth.height_in))
    found: list[float]
    if len(ring) == 3:
        # Legs at the right angle; Pythagoras says whether there is one.
        short, long, across = sorted(sides)
        right = abs(math.hypot(short, long) - across) <= HAIR_IN
        found = [short, long] if right else []
    elif len(ring) == 4 and all(abs(sides[i] - sides[i + 2]) <= HAIR_IN for i in range(2)) and _is_square(ring):
        found = sorted(sides[:2])
    elif len(ring) == 4:
        # A strip with slanted ends: from tip to tip along its longer side, and how far the other is from that.
        longest = max(range(4), key=sides.__getitem__)
        p, q = ring[longest], ring[(longest + 1) % 4]
        ux, uy = ((q[0] - p[0]) / sides[longest], (q[1] - p[1]) / sides[longest])
        apart = sorted(abs(ux * (r[1] - p[1]) - uy * (r[0] - p[0])) for r in ring)[2:]
        along = [ux * (r[0] - p[0]) + uy * (r[1] - p[1]) for r in ring]
        found = sorted((apart[0], max(along) - min(along))) if abs(apart[1] - apart[0]) <= HAIR_IN else []
    else:
        found = []
    if not found or any(abs(f - s) > HAIR_IN for f, s in zip(found, said, strict=True)):
        measured = " x ".join(f"{side:g}" for side in found) or "no triangle, rectangle or strip"
        what = f"{cloth.where} is said to be {said[0]:g} x {said[1]:g} in and is {measured}"
        raise _refuse("wrong size of a piece", what, ring[0])


def _is_square(ring: Ring) -> bool:
    return abs(math.dist(ring[0], ring[2]) - math.dist(ring[1], ring[3])) <= HAIR_IN


# -- the whole ----------------------------------------------------------------------------------------------------


def _check_whole(claim: QuiltClaim) -> None:
    """Nothing overlaps, nothing sticks out, no hole."""
    names = [*(spot.where for spot in claim.spots), *(cloth.where for cloth in claim.cloths)]
    areas = np.array(
        [
            *(_polygon(claim.looks[spot.look].outline, spot.place) for spot in claim.spots),
            *(Polygon(cloth.ring) for cloth in claim.cloths),
        ],
        dtype=object,
    )
    for k in np.flatnonzero(~shapely.is_valid(areas) | (shapely.area(areas) <= 0)):
        raise _refuse("overlap", f"{names[k]} crosses itself", areas[k].exterior.coords[0])
    quilt = shapely.box(0.0, 0.0, claim.width_in, claim.height_in)
    left, top, right, bottom = shapely.bounds(areas).T
    beyond = np.maximum.reduce([-left, -top, right - claim.width_in, bottom - claim.height_in])
    for k in np.flatnonzero(beyond > HAIR_IN):
        raise _refuse("outside the quilt", f"{names[k]} reaches beyond the edge of the quilt", (left[k], top[k]))
    tree = shapely.STRtree(areas)
    first, second = tree.query(areas, predicate="intersects")
    once = first < second
    first, second = first[once], second[once]
    common = shapely.intersection(areas[first], areas[second], grid_size=GRID_IN)
    for k in np.flatnonzero(shapely.area(common) > 0):
        if at := _wide(common[k]):
            what = f"{names[first[k]]} and {names[second[k]]} lie on each other"
            raise _refuse("overlap", what, at)
    bare = shapely.difference(quilt, _all_of(areas), grid_size=GRID_IN)
    if at := _wide(bare):
        raise _refuse("hole", "a part of the quilt is covered by nothing", at)
    together, whole = math.fsum(shapely.area(areas)), claim.width_in * claim.height_in
    if abs(together - whole) > HAIR_IN * math.fsum(shapely.length(areas)):
        what = f"all pieces together have {together:.6g} square inches, the quilt has {whole:.6g}"
        raise _refuse("hole", what)


def _polygon(ring: Ring, place: Affine) -> Polygon:
    a, b, c, d, e, f = place
    return Polygon([(a * x + c * y + e, b * x + d * y + f) for x, y in ring])


def _all_of(areas: Iterable[BaseGeometry]) -> BaseGeometry:
    return shapely.union_all(list(areas), grid_size=GRID_IN)


def _wide(area: BaseGeometry) -> Point | None:
    """A place in a part of an area that is wider than a hair, if there is one."""
    for part in shapely.get_parts(area):
        if part.area > HAIR_IN**2 and not (core := part.buffer(-HAIR_IN / 2)).is_empty:
            at = core.representative_point()
            return (at.x, at.y)
    return None


def _refuse(code: str, what: str, at: Iterable[float] | None = None) -> ProofError:
    place = None if at is None else tuple(at)
    mend = "Nothing was written; this is our fault, not the quilt's: please report it with the quilt's file"
    return ProofError(code, (Fault(code, f"the quilt as laid does not hold together: {what}", mend, place),))  # type: ignore[arg-type]
