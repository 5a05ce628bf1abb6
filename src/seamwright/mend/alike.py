"""Which mends are alike, since a symmetry of the drawing takes one to the other; which of two as good comes first.

Knows:  the rotations and mirror images that take a block to itself, and the pose in which all its copies are one.
Leaves: finding them (piecing.canon); fabrics (a change of lines is the same change in another colour).
Units:  inches.
Method: each canonical walk over the block meets the same points in the same order. So the move that lays one walk
        on another is a symmetry, and two points that lie far apart give it. The first walk laid on an axis is the
        pose of the block: what ranks alike is put in order by its place there, so that a drawing has the same mends
        however it is rotated, mirrored or moved.
"""

from __future__ import annotations

import math
from collections.abc import Iterable
from dataclasses import dataclass, replace

from seamwright.block.model import Block
from seamwright.geometry import IDENTITY, Affine, Point, Segment, levels, moved
from seamwright.mend.change import Change
from seamwright.piecing.canon import Walk, Walks


def symmetries(block: Block) -> list[Affine]:
    """The rotations and mirror images that take the block to itself, whatever its fabrics, the identity first."""
    walk, *others = _walks(block)
    start, far = _two_apart(block, walk)
    found = [IDENTITY]
    for other in others:
        to = (block.points[other.points[place]] for place in (0, far))
        found.append(_onto(start, block.points[walk.points[far]], *to, mirrored=other.mirrored != walk.mirrored))
    return found


@dataclass(frozen=True, slots=True)
class Pose:
    """How a block lies when its canonical walk begins at the origin and runs clockwise."""

    lay: Affine = IDENTITY

    def key(self, segments: Iterable[Segment]) -> tuple[tuple[Point, Point], ...]:
        """What puts sets of segments in the same order in every copy of a block, whichever way each runs."""
        places = ([moved(self.lay, p) for p in segment] for segment in segments)
        return tuple(sorted(_in_order((round(x, 6) + 0.0, round(y, 6) + 0.0) for x, y in pair) for pair in places))


def pose_of(block: Block) -> Pose:
    """The pose of a block, whatever its fabrics."""
    walk = _walks(block)[0]
    start, far = _two_apart(block, walk)
    end = block.points[walk.points[far]]
    return Pose(_onto(start, end, (0.0, 0.0), (math.dist(start, end), 0.0), mirrored=walk.mirrored))


def _walks(block: Block) -> tuple[Walk, ...]:
    """The canonical walks over a block, its fabrics left out."""
    plain = replace(block, patches=tuple(replace(patch, fabric=None) for patch in block.patches))
    return Walks(plain).shape(range(len(block.patches))).walks


def _two_apart(block: Block, walk: Walk) -> tuple[Point, int]:
    """Where a walk begins, and the place in it of the point that lies farthest from there."""
    places = [block.points[number] for number in walk.points]
    # The first of those as far, to far below what is drawn: the same one in every copy.
    far = levels([math.dist(places[0], place) for place in places])
    return places[0], far.index(max(far))


def _in_order(pair: Iterable[Point]) -> tuple[Point, Point]:
    low, high = sorted(pair)
    return low, high


def signature(change: Change, ways: Iterable[Affine]) -> tuple[object, ...]:
    """The same for changes that are alike."""
    return min(_written(change, affine) for affine in ways)


def _written(change: Change, affine: Affine) -> tuple[object, ...]:
    def place(point: Point) -> tuple[int, int]:
        x, y = moved(affine, point)
        # A grid far finer than the drawing and far coarser than noise, moved off the places that drawings use.
        return (math.floor(x / 0.004 + 0.37), math.floor(y / 0.004 + 0.37))

    return (
        change.kind,
        change.extra,
        tuple(sorted((place(a), place(b)) for a, b in change.moved)),
        tuple(sorted(tuple(sorted((place(a), place(b)))) for a, b in change.seams)),
        tuple(sorted(tuple(sorted((place(a), place(b)))) for a, b in change.dropped)),
    )


def _onto(a: Point, b: Point, c: Point, d: Point, *, mirrored: bool) -> Affine:
    """The rotation, mirrored first if need be, that takes a to c and b to d."""
    hand = -1 if mirrored else 1
    before = math.atan2((b[1] - a[1]) * hand, b[0] - a[0])
    turn = math.atan2(d[1] - c[1], d[0] - c[0]) - before
    cos, sin = math.cos(turn), math.sin(turn)
    p, q, r, s = cos, sin, -sin * hand, cos * hand
    return (p, q, r, s, c[0] - p * a[0] - r * a[1], c[1] - q * a[0] - s * a[1])
