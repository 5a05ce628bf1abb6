"""The independent checker: does a claimed plan really sew, judged from coordinates alone?

Knows:  shapely (GEOS) finds the faces of the drawn lines anew; every patch, step and join is then held
        against them.
Leaves: how plans are made. Nothing of the planner or of the block's own map is used.
Units:  inches, front view, x right and y down.
Method: the noded lines make faces whose borders are the same coordinates on both sides. A region is the set of
        its directed border edges; an edge inside it appears both ways and drops out. Where two regions meet, the
        edges of the one are the edges of the other backwards: what is left of them must be one run, straight, from
        end to end the seam that was claimed, and the edges left over one single ring.
Limits: that a seam sewn in two goes is stopped short where it is begun anew is the sewer's to do; the order of the
        joins is proven to allow it.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from itertools import pairwise

import shapely
from shapely import LineString, Polygon, STRtree
from shapely.affinity import affine_transform
from shapely.geometry.base import BaseGeometry
from shapely.geometry.polygon import orient

from seamwright.errors import Fault, ProofError
from seamwright.geometry import Point, signed_area
from seamwright.proof.claim import Claim, ClaimedSection, ClaimedStep, Polyline
from seamwright.proof.ruled import unruled
from seamwright.proof.runs import STRAIGHT_IN, Edge, agree, lies_near, lies_on, runs, sharpest_bend, sharpest_turn
from seamwright.proof.turning import fault_of

GRID_IN = 1e-7
"""Noding snaps to this grid. A point of a seam lies off its line by rounding only (under 1e-9 in), and the
grid must stay well below the straightness that is to be judged."""
FINE_IN = 1e-9
"""Areas are compared on this grid: without, GEOS may take two areas for one whose edges differ in the last digits.
On it a border of 100 in errs by far less than is judged."""
Border = frozenset[Edge]
TURNING = ("set-in", "partial")


def check(claim: Claim) -> None:
    """Holds every step and join of a plan against the faces of the drawn lines.

    Raises:
        ProofError: with one fault, whose `code` names it: "loose line", "mirrored section", "patch twice",
            "patch moved", "gap", "overlap", "wrong section outline", "steps out of order", "wrong cut",
            "seam too short", "set-in called straight", "not one piece", "join dropped", "part twice",
            "unknown kind", "not a number"; of joins that turn "straight called set-in", "straight called partial",
            "missing turn", "extra turn", "turn at the wrong point", "partial called set-in",
            "set-in called partial"; of sections without paper "not cut by ruler".
    """
    _finite(claim)
    faces = _faces(claim)
    borders = [_border(face) for face in faces]
    parts: dict[str, Border] = {}
    for section, numbers in zip(claim.sections, _match(claim, faces), strict=True):
        if section.name in parts:
            raise _refuse("part twice", f"there are two sections {section.name}")
        parts[section.name] = _sew(section, [borders[n] for n in numbers])
        _same_ring(section, [faces[n] for n in numbers])
        off = unruled(section, metric=claim.metric) if section.by_ruler else None
        if off is not None:
            what = f"a patch of section {section.name} has no shape or no size that a ruler cuts"
            raise _refuse("not cut by ruler", what, off)
    _join(claim, parts, borders)


def _refuse(name: str, what: str, at_in: Point | None = None) -> ProofError:
    mend = "Nothing is printed from it; please report this drawing"
    return ProofError("proof", (Fault(name, f"the plan failed its proof ({name}): {what}", mend, at_in),))


# -- the drawing and its faces ---------------------------------------------------------------------------


def _finite(claim: Claim) -> None:
    steps = [step for section in claim.sections for step in section.steps]
    polylines = [*claim.lines, claim.outline, *(join.seam for join in claim.joins)]
    polylines += [run for step in steps for run in (step.ring, *step.holes, step.stitch)]
    polylines += [section.ring for section in claim.sections] + [join.turns for join in claim.joins]
    if not all(math.isfinite(v) for run in polylines for point in run for v in point):
        raise _refuse("not a number", "a coordinate is no finite number")


def _faces(claim: Claim) -> list[Polygon]:
    """The faces of lines and outline, found anew, exterior rings clockwise as seen."""
    closed = [*claim.outline, claim.outline[0]]
    noded = shapely.union_all([LineString(run) for run in (*claim.lines, closed)], grid_size=GRID_IN)
    found, cuts, dangles, invalid = shapely.polygonize_full([noded])
    for loose in (*cuts.geoms, *dangles.geoms, *invalid.geoms):
        raise _refuse("loose line", "a drawn line does not end on another at both ends", loose.coords[0])
    # In a frame with y down, GEOS's anticlockwise runs clockwise as seen.
    faces = [orient(face, 1.0) for face in found.geoms if isinstance(face, Polygon)]
    outline = Polygon(claim.outline)
    over = shapely.symmetric_difference(shapely.coverage_union_all(faces), outline, grid_size=FINE_IN)
    if over.area > STRAIGHT_IN * outline.length:
        raise _refuse("gap", "the faces of the lines are not the whole of the outline", _inside(over))
    return faces


def _border(face: Polygon) -> Border:
    return frozenset(edge for ring in (face.exterior, *face.interiors) for edge in pairwise(ring.coords))


# -- patches and sections against the faces -----------------------------------------------------------------


def _match(claim: Claim, faces: list[Polygon]) -> list[list[int]]:
    """For each section the face numbers of its patches in sewing order; every face once."""
    for section in claim.sections:
        for step in section.steps:
            if signed_area(step.ring) <= 0:
                raise _refuse("mirrored section", f"a patch of section {section.name} runs backwards", step.ring[0])
    patches = [_polygon(step) for section in claim.sections for step in section.steps]
    owners = [section for section in claim.sections for _ in section.steps]
    tree = STRtree(faces)
    asked, hit = tree.query(shapely.point_on_surface(patches), predicate="within")
    face_of = {int(patch): int(face) for patch, face in zip(asked, hit, strict=True)}
    taken: dict[int, int] = {}
    wrong: list[int] = []
    for number, patch in enumerate(patches):
        face = face_of.get(number)
        if face is None or not _same(patch, faces[face]):
            wrong.append(number)
        elif face in taken:
            names = f"{owners[taken[face]].name} and {owners[number].name}"
            raise _refuse("patch twice", f"one patch is sewn twice, in section {names}", _inside(patch))
        else:
            taken[face] = number
    free = [face for number, face in enumerate(faces) if number not in taken]
    if wrong:
        section = owners[wrong[0]]
        of_section = [patches[n] for n in wrong if owners[n] is section]
        raise _misfit(section.name, of_section, faces, free)
    if free:
        raise _refuse("gap", "a patch of the drawing is in no section", _inside(free[0]))
    numbers = iter(face_of[number] for number in range(len(patches)))
    return [[next(numbers) for _ in section.steps] for section in claim.sections]


def _polygon(step: ClaimedStep) -> Polygon:
    polygon = Polygon(step.ring, step.holes)
    if not polygon.is_valid:
        raise _refuse("patch moved", "the border of a patch crosses itself", step.ring[0])
    return polygon


def _same(one: BaseGeometry, other: BaseGeometry) -> bool:
    """Whether two areas are one, up to a strip of STRAIGHT_IN along the border."""
    return bool(shapely.symmetric_difference(one, other, grid_size=FINE_IN).area <= STRAIGHT_IN * other.length)


def _misfit(section: str, patches: list[Polygon], faces: list[Polygon], free: list[Polygon]) -> ProofError:
    """The name of what is wrong with a section's patches that are no faces of the drawing."""
    patch = patches[0]
    if free and _mirror_image_fits(patches, free):
        return _refuse("mirrored section", f"section {section} is its own mirror image", _inside(patch))
    face = max(faces, key=lambda face: patch.intersection(face, grid_size=FINE_IN).area)
    least = STRAIGHT_IN * face.length
    beyond, left_open = (a.difference(b, grid_size=FINE_IN) for a, b in ((patch, face), (face, patch)))
    where = f"a patch of section {section}"
    if left_open.area <= least:
        return _refuse("overlap", f"{where} lies on its neighbours", _inside(beyond))
    if beyond.area <= least:
        return _refuse("gap", f"{where} does not fill its place", _inside(left_open))
    return _refuse("patch moved", f"{where} does not lie where it was drawn", _inside(patch))


def _mirror_image_fits(patches: list[Polygon], free: list[Polygon]) -> bool:
    """Whether patches, mirrored left to right, fit the places that nothing fills."""
    _, top, right, _ = shapely.total_bounds(patches)
    left_open, top_open, *_ = shapely.total_bounds(free)
    mirror = (-1, 0, 0, 1, left_open + right, top_open - top)
    image = [affine_transform(patch, mirror) for patch in patches]
    return all(any(_same(patch, face) for face in free) for patch in image)


def _same_ring(section: ClaimedSection, faces: list[Polygon]) -> None:
    stated, real = Polygon(section.ring), shapely.coverage_union_all(faces)
    if signed_area(section.ring) <= 0:
        raise _refuse("mirrored section", f"the outline of section {section.name} runs backwards", section.ring[0])
    if not stated.is_valid or not _same(stated, real):
        what = f"the outline of section {section.name} is not that of its patches"
        raise _refuse("wrong section outline", what, section.ring[0])


# -- steps and joins ------------------------------------------------------------------------------------------


def _sew(section: ClaimedSection, borders: list[Border]) -> Border:
    """Lays the patches on one after the other; returns the border of the finished section."""
    sewn = borders[0]
    if section.steps[0].stitch:
        raise _refuse("steps out of order", f"the first patch of section {section.name} has a stitch line")
    for count, (step, new) in enumerate(zip(section.steps[1:], borders[1:], strict=True), start=2):
        where = f"step {count} of section {section.name}"
        if not step.stitch:
            raise _refuse("steps out of order", f"{where} has no stitch line", step.ring[0])
        later = [edge for other in borders[count:] for edge in _shared(new, other)]
        if any(lies_on(edge, step.stitch) for edge in later):
            what = f"{where} is stitched along a patch that is not there yet"
            raise _refuse("steps out of order", what, later[0][0])
        _one_seam(where, new, sewn, step.stitch, "straight")
        sewn = _together(where, sewn, new)
    return sewn


def _join(claim: Claim, parts: dict[str, Border], faces: list[Border]) -> None:
    """Sews the joins in order until one part, the block, is left."""
    made = set(parts)
    beyond: dict[Point, list[Point]] = {}
    for start, end in (edge for face in faces for edge in face):
        beyond.setdefault(start, []).append(end)
    for join in claim.joins:
        where = f"the join of {join.first} and {join.second}"
        for name in (join.first, join.second):
            if name not in made:
                raise _refuse("join dropped", f"{where} comes before {name} is made")
            if name not in parts:
                raise _refuse("part twice", f"{where} uses {name}, which is part of something else by then")
        if join.makes in made or join.first == join.second:
            raise _refuse("part twice", f"{where} makes {join.makes}, which is there already")
        if join.kind not in ("straight", "curved", *TURNING):
            raise _refuse("unknown kind", f"{where} is of kind {join.kind!r}, which has no proof")
        first, second = parts.pop(join.first), parts.pop(join.second)
        real = _one_seam(where, first, second, join.seam, join.kind)
        if join.kind in TURNING:
            fault = fault_of(join.kind, real, join.turns, claim.lines, beyond)
            if fault is not None:
                raise _refuse(fault[0], f"{where}: {fault[1]}", fault[2])
        elif join.turns:
            raise _refuse("extra turn", f"{where} is {join.kind} and cannot turn", join.turns[0])
        if join.kind == "curved":
            _one_line(where, join.seam, claim.lines)
        parts[join.makes] = _together(where, first, second)
        made.add(join.makes)
    if len(parts) != 1:
        raise _refuse("join dropped", f"the joins end in {len(parts)} parts ({', '.join(parts)}), not in one block")


def _shared(one: Border, other: Border) -> list[Edge]:
    """Where two regions meet: the edges of `one` that `other` has backwards."""
    return [edge for edge in sorted(one) if edge[::-1] in other]


def _together(where: str, one: Border, other: Border) -> Border:
    """The border of two regions sewn together.

    Raises:
        ProofError: it is not one single ring: they meet twice, enclose something or hang by a point.
    """
    inner = _shared(one, other)
    border = (one | other) - frozenset(inner) - frozenset(edge[::-1] for edge in inner)
    if len(runs(border)) != 1:
        raise _refuse("not one piece", f"after {where} the work is not one piece without a hole", min(border)[0])
    return border


def _one_seam(where: str, one: Border, other: Border, stated: Polyline, kind: str) -> list[Point]:
    """Requires that two regions meet in one full seam, and that it is the one stated; returns it.

    A straight or curved one must not turn; what a seam of another `kind` does at its turns is not asked here.
    """
    found = runs(_shared(one, other))
    if not found:
        raise _refuse(
            "not one piece", f"{where}: the two do not meet along any line", stated[0] if stated else None
        )
    if len(found) > 1:
        raise _refuse("set-in called straight", f"{where}: the two meet in {len(found)} places", found[1][0])
    real = found[0]
    if kind not in TURNING:
        turn = sharpest_bend(real) if kind == "straight" else sharpest_turn(real)
        if turn is not None:
            raise _refuse("set-in called straight", f"{where}: the seam turns", turn)
    if len(stated) < 2 or math.dist(stated[0], stated[-1]) == 0:
        raise _refuse("seam too short", f"{where}: the seam stated has no length", real[0])
    if agree(stated, real):
        return real
    if all(lies_near(p, real) for p in stated) and all(lies_on(edge, real) for edge in pairwise(stated)):
        raise _refuse("seam too short", f"{where}: the seam stated leaves part of the border unsewn", real[0])
    raise _refuse("wrong cut", f"{where}: the seam stated is not where the two meet", stated[0])


def _one_line(where: str, seam: Polyline, lines: Sequence[Polyline]) -> None:
    """Requires that a curved seam is part of one drawn line, not pieced from several."""
    if not any(all(lies_near(point, line) for point in seam) for line in lines):
        raise _refuse("set-in called straight", f"{where}: the curve is not one line of the drawing", seam[0])


def _inside(area: BaseGeometry) -> Point:
    point = area.representative_point()
    return (point.x, point.y)
