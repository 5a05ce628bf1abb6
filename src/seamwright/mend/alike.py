"""Which mends are alike: a symmetry of the drawing takes one to the other.

Knows:  the rotations and mirror images that take a block to itself.
Leaves: finding them (piecing.canon); fabrics (a change of lines is the same change in another colour).
Units:  inches.
Method: each canonical walk over the block meets the same points in the same order. So the move that lays one walk
        on another is a symmetry, and two points that lie far apart give it.
"""

from __future__ import annotations

import math
from collections.abc import Iterable
from dataclasses import replace

from seamwright.block.model import Block
from seamwright.geometry import IDENTITY, Affine, Point, moved
from seamwright.mend.change import Change
from seamwright.piecing.canon import Walks


def symmetries(block: Block) -> list[Affine]:
    """The rotations and mirror images that take the block to itself, whatever its fabrics, the identity first."""
    plain = replace(block, patches=tuple(replace(patch, fabric=None) for patch in block.patches))
    walk, *others = Walks(plain).shape(range(len(block.patches))).walks
    start = block.points[walk.points[0]]
    far = max(range(len(walk.points)), key=lambda place: math.dist(start, block.points[walk.points[place]]))
    found = [IDENTITY]
    for other in others:
        to = [block.points[other.points[place]] for place in (0, far)]
        found.append(_onto(start, block.points[walk.points[far]], *to, mirrored=other.mirrored != walk.mirrored))
    return found


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
