"""Neighbouring patches made one: sewn together beforehand, then laid on as one piece of fabric.

Knows:  which patches can be sewn so, the block in which each such group is one patch, what its fabric is called.
Leaves: the names she writes (piecing.beforehand), what is cut for each part (cutting), marks on paper (foundation).
Units:  inches, front view.
Method: the edges between are left out and the map is built anew from those that stay, so that whatever follows sees
        a drawing without that seam; parts and seams are kept beside it. A part is sewn to those before it by one
        straight seam along all of their common border, and what comes of it may have no inside corner at that seam:
        else it could not be laid edge to edge.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import replace

from seamwright.block.model import OUTLINE, OUTSIDE, Block, Part, PrePieced
from seamwright.block.number import numbered_block
from seamwright.block.planar import Piece
from seamwright.block.rings import region_sides
from seamwright.errors import OptionError, SeamwrightError, fail
from seamwright.geometry import Point, Segment, along, centroid, off_line
from seamwright.units import say_list

STRAIGHT_IN = 1e-6
"""Points nearer to a line than this are on it: tidying has put them there."""
LEVEL_SINE = 0.002
"""Lines that turn by less (0.1 degrees) run side by side: over 6 in they come apart by less than 1/64 in."""
ONE_SEAM = "Name patches with one straight seam along all of their common border"
REFLEX_DEG = 180.5
"""Inside corners are larger; a straight side is 180 degrees, and rounding turns it by far less than the rest."""


def pieced(block: Block, groups: Sequence[Sequence[int]], names: Sequence[str]) -> Block:
    """The block in which each group of patches is one, pieced beforehand.

    Args:
        groups: patch numbers, in the order in which they are sewn together; no patch twice.
        names: of all patches, by number.

    Raises:
        OptionError: a group cannot be sewn so.
    """
    seams = [_seams(block, group, names) for group in groups]
    of_group = {patch: place for place, group in enumerate(groups) for patch in group}

    def is_inside(number: int) -> bool:
        edge = block.edges[number]
        one, two = of_group.get(edge.left, -1), of_group.get(edge.right, -2)
        return one == two

    pieces = [
        Piece(edge.start, edge.end, line, edge.via)
        for number, (edge, line) in enumerate(zip(block.edges, _lines(block), strict=True))
        if not is_inside(number)
    ]
    made = numbered_block(block.name, block.file, block.points, pieces, block.outline_ring(), (1.0, 1.0))
    lies_in = came_from(block, made)
    kept = []
    for place, group in enumerate(groups):
        parts = tuple(Part(names[p], block.patch_ring(p), block.patches[p].fabric) for p in group)
        kept.append(PrePieced(lies_in[group[0]], parts, seams[place]))
    fabrics = {lies_in[number]: patch.fabric for number, patch in enumerate(block.patches)}
    fabrics |= {one.patch: fabric_of(part.fabric for part in one.parts) for one in kept}
    return replace(
        block,
        points=made.points,
        edges=made.edges,
        seams=made.seams,
        patches=tuple(replace(patch, fabric=fabrics[number]) for number, patch in enumerate(made.patches)),
        outline=made.outline,
        outline_edges=made.outline_edges,
        drawn=block.drawn or block,
        pre_pieced=tuple(sorted(kept, key=lambda one: one.patch)),
    )


def fabric_of(names: Iterable[str | None]) -> str | None:
    """What the fabric of a patch is called that is made of several; None if none of them is said.

    >>> fabric_of(["sky", "sea"]), fabric_of(["sky", "sky"]), fabric_of(["sky", None]), fabric_of([None, None])
    ('sky + sea', 'sky', 'sky + ?', None)
    """
    each = list(dict.fromkeys(names))
    return None if each == [None] else " + ".join(name or "?" for name in each)


Limits = tuple[float | None, float | None, float | None, float | None]
"""(u0, v0, u1, v1): how far a part goes, u along the first seam, v to its right; None where no seam limits it."""


def limits_of(made: PrePieced) -> tuple[Limits, ...]:
    """For each part of a patch the seams that it lies between.

    The plane is parted by the seams, the last one first, as scissors would.
    """
    a, b = made.seams[0]
    room: list[float | None] = [None] * 4
    found: list[Limits] = []
    for part, seam in zip(reversed(made.parts[1:]), reversed(made.seams), strict=True):
        (u0, v0), (u1, v1) = ((along(p, a, b), off_line(p, a, b)) for p in seam)
        axis, at = (1, (v0 + v1) / 2) if abs(u1 - u0) >= abs(v1 - v0) else (0, (u0 + u1) / 2)
        middle = centroid(part.ring)
        beyond = (along(middle, a, b), off_line(middle, a, b))[axis] > at
        own, side = list(room), axis if beyond else axis + 2
        own[side] = room[(side + 2) % 4] = at
        found.append((own[0], own[1], own[2], own[3]))
    found.append((room[0], room[1], room[2], room[3]))
    return tuple(reversed(found))


def _seams(block: Block, group: Sequence[int], names: Sequence[str]) -> tuple[Segment, ...]:
    """The seams that sew a group together, one after another."""
    seams: list[Segment] = []
    for count, patch in enumerate(group[1:], start=1):
        before = group[:count]
        told = say_list([names[p] for p in (*before, patch)])
        if any(block.patches[p].holes for p in (*before, patch)):
            raise _cannot(told, "cannot be sewn together beforehand: another patch lies inside one of them")
        run = _common_run(block, frozenset(before), patch, told)
        _refuse_inside_corner(block, (*before, patch), run, told)
        _refuse_beyond(block, (before, (patch,)), run, told)
        if seams and not _is_level(seams[0], run):
            what = "have seams at a slant to each other, so no edge is straight to sew the last one to"
            raise _cannot(told, what, f"Sew two of them beforehand, such as {names[before[0]]}+{names[before[1]]}")
        seams.append(run)
    return tuple(seams)


def _is_level(one: Segment, two: Segment) -> bool:
    """Whether two seams run side by side, or square to each other."""
    (ux, uy), (vx, vy) = ((b[0] - a[0], b[1] - a[1]) for a, b in (one, two))
    lengths = math.hypot(ux, uy) * math.hypot(vx, vy)
    return min(abs(ux * vy - uy * vx), abs(ux * vx + uy * vy)) <= LEVEL_SINE * lengths


def _common_run(block: Block, before: frozenset[int], patch: int, told: str) -> Segment:
    """The one straight seam between a patch and those before it, from end to end."""
    edges = [
        number
        for number in block.patches[patch].edges
        if not before.isdisjoint((block.edges[number].left, block.edges[number].right))
    ]
    if not edges:
        raise _cannot(told, "have no seam between them", "Name patches that lie side by side, in sewing order")
    if any(block.edges[number].via for number in edges):
        raise _cannot(told, "have a curve between them; what is sewn beforehand is sewn straight")
    ends = [p for number in edges for p in (block.edges[number].start, block.edges[number].end)]
    tips = [p for p in ends if ends.count(p) == 1]
    if len(tips) != 2:
        raise _cannot(told, "meet in more than one place")
    a, b = (block.points[p] for p in tips)
    if any(abs(off_line(block.points[p], a, b)) > STRAIGHT_IN for p in ends):
        raise _cannot(told, "have a seam between them that turns a corner")
    return (a, b)


def _refuse_inside_corner(block: Block, patches: Sequence[int], run: Segment, told: str) -> None:
    try:
        sides = region_sides(block, patches)
    except ValueError:
        raise _cannot(told, "would close round another patch") from None
    for before, after in zip(sides[-1:] + sides[:-1], sides, strict=True):
        corner = after.points[0]
        if min(math.dist(corner, end) for end in run) > STRAIGHT_IN:
            continue
        if _inner_deg(before.points[-2], corner, after.points[1]) > REFLEX_DEG:
            what = "make a patch with an inside corner, which cannot be laid on edge to edge"
            raise _cannot(told, what, "Name patches whose sides run straight on into each other, or bend outwards")


def _refuse_beyond(block: Block, sides: Iterable[Sequence[int]], run: Segment, told: str) -> None:
    """Refuses a seam whose line runs on through what it sews: strips are sewn from edge to edge."""
    for patches in sides:
        off = [off_line(point, *run) for patch in patches for point in block.patch_ring(patch)]
        if min(off) < -STRAIGHT_IN and max(off) > STRAIGHT_IN:
            what = "cannot be sewn together beforehand: one of them goes round an end of the seam between them"
            raise _cannot(told, what)


def _cannot(told: str, what: str, mend: str = ONE_SEAM) -> SeamwrightError:
    return fail(OptionError, "option", f"option pre-pieced: {told} {what}", mend)


def _inner_deg(before: Point, corner: Point, after: Point) -> float:
    """Inner angle of a ring that runs clockwise as seen."""
    back = math.atan2(before[1] - corner[1], before[0] - corner[0])
    ahead = math.atan2(after[1] - corner[1], after[0] - corner[0])
    return math.degrees(back - ahead) % 360


def _lines(block: Block) -> list[int]:
    """For each edge the identity of its line: inside that of its seam, on the outline one for a straight side."""
    lines = [edge.seam for edge in block.edges]
    line = len(block.seams)
    around = block.outline_edges
    for before, number in zip(around[-1:] + around[:-1], around, strict=True):
        if not _goes_on(block, before, number):
            line += 1
        lines[number] = line
    # The walk began somewhere: its last side may be the one that it began in.
    if _goes_on(block, around[-1], around[0]):
        first = lines[around[0]]
        lines = [line if known == first else known for known in lines]
    return lines


def _goes_on(block: Block, one: int, two: int) -> bool:
    """Whether two neighbouring edges of the outline lie on one straight line, one behind the other."""
    before, after = block.edges[one], block.edges[two]
    if before.via or after.via or OUTLINE not in (before.seam, after.seam):
        return False
    (shared,) = {before.start, before.end} & {after.start, after.end} or {-1}
    if shared < 0 or OUTSIDE not in (before.left, before.right):
        return False
    a = block.points[before.start if before.end == shared else before.end]
    b = block.points[after.start if after.end == shared else after.end]
    at = block.points[shared]
    ahead = (at[0] - a[0]) * (b[0] - at[0]) + (at[1] - a[1]) * (b[1] - at[1]) > 0
    return ahead and abs(off_line(at, a, b)) <= STRAIGHT_IN


def came_from(block: Block, made: Block) -> list[int]:
    """For each patch of a block the patch of another that it lies in."""
    from shapely import Point as Place
    from shapely import Polygon, STRtree

    tree = STRtree([Polygon(made.patch_ring(n), made.patch_holes(n)) for n in range(len(made.patches))])
    found = []
    for number in range(len(block.patches)):
        place = Polygon(block.patch_ring(number), block.patch_holes(number)).representative_point()
        found.append(int(tree.query(Place(place.x, place.y), "within")[0]))
    return found
