"""A set on point: blocks on their corners, rows that run slantwise, setting triangles round them.

Knows:  which sewn row and place each block of a level row has, the shape and size of setting triangles, the frame.
Leaves: which blocks there are (model), strips between them (sashes), cutting sizes (cutting).
Units:  inches, finished; front view, x right, y down, (0, 0) the top left corner of the centre.
Method: rows are sewn from the upper left to the lower right; sewn row 0 is the top right corner triangle alone.
        Block c of level row r has place (r // 2 - c, c + (r + 1) // 2), counted from the first block. Triangles
        fill the places beside them, as if level rows of n - 1 went on all round the edge.
        A block of side s measures s sqrt 2 across its corners. A side triangle is half of a block: its long side
        lies on the edge of the quilt, and its legs are blocks' sides. A corner triangle is a quarter of one: its
        legs lie on the edge.
        With sashes of width t round every block rows keep straight seams only if setting triangles end where their
        row does: so they stay those of the block, and the edge runs through the middle of the outer cornerstones.
        (Triangles of s + t, which leave these whole, reach past their row into a strip beside it, at one end above
        and at the other below: where strips run through, a quilt longer than wide by two blocks then closes to
        rings of seams, and is not sewn straight at all.)
"""

from __future__ import annotations

import math

from seamwright.geometry import Affine, Ring
from seamwright.options import Units
from seamwright.quilt.model import Cloth, Role, Sashing
from seamwright.quilt.sashes import Edge
from seamwright.units import say_length

_HALF = math.sqrt(0.5)


def place(row: int, column: int, columns: int) -> tuple[int, int]:
    """Sewn row and place in it of block `column` of level row `row`, where long rows are of `columns`.

    >>> [place(0, 0, 3), place(0, 2, 3), place(1, 0, 3)]
    [(3, 1), (1, 3), (3, 2)]
    """
    return columns + row // 2 - column, column + (row + 1) // 2 + 1


def frame(side_in: float, sash_in: float, columns: int) -> Affine:
    """From places in sewn rows to the centre: rotated 45 degrees clockwise, the first block at the top left."""
    pitch = side_in + sash_in
    # The first block is in row `columns`, place 1: its first corner lies below the middle of the first cornerstone.
    return (_HALF, _HALF, -_HALF, _HALF, columns * pitch * _HALF, sash_in * _HALF - (1 + columns) * pitch * _HALF)


def size(side_in: float, sash_in: float, rows: int, columns: int) -> tuple[float, float]:
    """Width and height of the centre; `rows` and `columns` count the long rows and their blocks.

    >>> [round(length, 2) for length in size(6, 0, 5, 4)]
    [33.94, 42.43]
    """
    pitch = (side_in + sash_in) * math.sqrt(2)
    return columns * pitch, rows * pitch


def edge_through(row: int, column: int, rows: int, columns: int) -> Edge | None:
    """Which edge of the quilt runs through the middle of the cornerstone at the first corner of a place."""
    right, down = column - row + columns, column + row - columns - 1
    if down in (0, 2 * rows):
        return Edge.BOTTOM if down else Edge.TOP
    if right in (0, 2 * columns):
        return Edge.RIGHT if right else Edge.LEFT
    return None


def triangles(side_in: float, sash_in: float, rows: int, columns: int, fabric: str) -> tuple[Cloth, ...]:
    """Setting triangles, straight grain on the outside: top, right, bottom and left side, then the corners.

    Side triangles come of squares cut twice, corner triangles of squares cut once (common practice): so the long
    side of the one and the legs of the other lie on the straight grain.
    """
    width, height = size(side_in, sash_in, rows, columns)
    pitch, leg = (side_in + sash_in) * math.sqrt(2), side_in * _HALF
    found: list[Cloth] = []

    def side(ring: Ring, row: int, column: int, grain_deg: float) -> None:
        at = place(row, column, columns)
        found.append(Cloth(Role.SIDE_TRIANGLE, ring, fabric, "centre", *at, side_in, side_in, grain_deg))

    def corner(ring: Ring, row: int, column: int) -> None:
        at = place(row, column, columns)
        found.append(Cloth(Role.CORNER_TRIANGLE, ring, fabric, "centre", *at, leg, leg, 0.0))

    last = 2 * rows - 1
    # Long sides lie round whole pitches along the edge, and are as long as a block is across its corners.
    across = [((k + 1) * pitch - leg, (k + 1) * pitch, (k + 1) * pitch + leg) for k in range(columns - 1)]
    down = [((k + 1) * pitch - leg, (k + 1) * pitch, (k + 1) * pitch + leg) for k in range(rows - 1)]
    for k, (near, middle, far) in enumerate(across):
        side(((near, 0.0), (far, 0.0), (middle, leg)), -1, k, 0.0)
    for k, (near, middle, far) in enumerate(down):
        side(((width, near), (width, far), (width - leg, middle)), 2 * k + 1, columns - 1, 90.0)
    for k, (near, middle, far) in enumerate(across):
        side(((middle, height - leg), (far, height), (near, height)), last, k, 0.0)
    for k, (near, middle, far) in enumerate(down):
        side(((0.0, near), (leg, middle), (0.0, far)), 2 * k + 1, -1, 90.0)
    corner(((0.0, 0.0), (leg, 0.0), (0.0, leg)), -1, -1)
    corner(((width - leg, 0.0), (width, 0.0), (width, leg)), -1, columns - 1)
    corner(((width, height - leg), (width, height), (width - leg, height)), last, columns - 1)
    corner(((0.0, height - leg), (leg, height), (0.0, height)), last, -1)
    return tuple(found)


def construction(side_in: float, sashing: Sashing, units: Units) -> str:
    """What setting triangles beside sashes are cut for, for whoever sews them."""
    side = say_length(side_in, units)
    ends = (
        "the outer cornerstones, which are triangles there, half of a cornerstone with its long side on the edge"
        if sashing.cornerstones
        else "the ends of the strips that run through: sew these with square ends, and trim them with the edge"
    )
    return (
        f"Setting triangles are cut for a block without its sashes (the short sides of a side triangle and the "
        f"long side of a corner triangle are {side} finished, as the row that they end is high), so that the edge "
        f"of the quilt runs through the middle of {ends}"
    )
