"""A set on point: blocks on their corners, rows that run slantwise, setting triangles round them.

Knows:  which sewn row and place each block of a level row has, the shape and size of setting triangles, the frame.
Leaves: which blocks there are (model), strips between them (sashes), cutting sizes (cutting).
Units:  inches, finished; front view, x right, y down, (0, 0) the top left corner of the centre.
Method: rows are sewn from the upper left to the lower right; sewn row 0 is the top right corner triangle alone.
        Block c of level row r has place (r // 2 - c, c + (r + 1) // 2), counted from the first block. Triangles
        fill the places beside them, as if level rows of n - 1 went on all round the edge.
        A block of side s measures s sqrt 2 across its corners. A side triangle is half of a block: its long side
        lies on the edge of the quilt, and its legs are blocks' sides. A corner triangle is a quarter of one: its
        legs lie on the edge. With sashes of width t round every block the outer cornerstones stay whole and touch
        the edge with their tips: legs of side triangles are s + t, the long side of corner triangles is s + 2 t.
"""

from __future__ import annotations

import math

from seamwright.geometry import Affine, Ring
from seamwright.options import Units
from seamwright.quilt.model import Cloth, Role, Sashing
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
    across, down = (side_in + 2 * sash_in) * _HALF, sash_in * 2 * _HALF
    # The first block is in row `columns`, place 1, a pitch of (side + sash) each way from where rows begin.
    rows, places = columns * (side_in + sash_in), side_in + sash_in
    return (_HALF, _HALF, -_HALF, _HALF, across - (places - rows) * _HALF, down - (places + rows) * _HALF)


def size(side_in: float, sash_in: float, rows: int, columns: int) -> tuple[float, float]:
    """Width and height of the centre; `rows` and `columns` count the long rows and their blocks.

    >>> [round(length, 2) for length in size(6, 0, 5, 4)]
    [33.94, 42.43]
    """
    pitch, over = (side_in + sash_in) * math.sqrt(2), sash_in * math.sqrt(2)
    return columns * pitch + over, rows * pitch + over


def triangles(side_in: float, sash_in: float, rows: int, columns: int, fabric: str) -> tuple[Cloth, ...]:
    """Setting triangles, straight grain on the outside: top, right, bottom and left side, then the corners.

    Side triangles come of squares cut twice, corner triangles of squares cut once (common practice): so the long
    side of the one and the legs of the other lie on the straight grain.
    """
    pitch, leg = (side_in + sash_in) * math.sqrt(2), (side_in + 2 * sash_in) * _HALF
    width, height = size(side_in, sash_in, rows, columns)
    deep, legs = pitch / 2, side_in + sash_in
    found: list[Cloth] = []

    def side(ring: Ring, row: int, column: int, grain_deg: float) -> None:
        at = place(row, column, columns)
        found.append(Cloth(Role.SIDE_TRIANGLE, ring, fabric, "centre", *at, legs, legs, grain_deg))

    def corner(ring: Ring, row: int, column: int) -> None:
        at = place(row, column, columns)
        found.append(Cloth(Role.CORNER_TRIANGLE, ring, fabric, "centre", *at, leg, leg, 0.0))

    last = 2 * rows - 1
    tops = [leg + k * pitch for k in range(columns)]
    sides = [leg + k * pitch for k in range(rows)]
    for k in range(columns - 1):
        side(((tops[k], 0.0), (tops[k + 1], 0.0), (tops[k] + deep, deep)), -1, k, 0.0)
    for k in range(rows - 1):
        apex = (width - deep, sides[k] + deep)
        side(((width, sides[k]), (width, sides[k + 1]), apex), 2 * k + 1, columns - 1, 90.0)
    for k in range(columns - 1):
        apex = (tops[k] + deep, height - deep)
        side((apex, (tops[k + 1], height), (tops[k], height)), last, k, 0.0)
    for k in range(rows - 1):
        side(((0.0, sides[k]), (deep, sides[k] + deep), (0.0, sides[k + 1])), 2 * k + 1, -1, 90.0)
    corner(((0.0, 0.0), (leg, 0.0), (0.0, leg)), -1, -1)
    corner(((width - leg, 0.0), (width, 0.0), (width, leg)), -1, columns - 1)
    corner(((width, height - leg), (width, height), (width - leg, height)), last, columns - 1)
    corner(((0.0, height - leg), (leg, height), (0.0, height)), last, -1)
    return tuple(found)


def construction(side_in: float, sashing: Sashing, units: Units) -> str:
    """What setting triangles beside sashes are cut for, for whoever sews them."""
    wide = sashing.width_in
    legs, long_side = say_length(side_in + wide, units), say_length(side_in + 2 * wide, units)
    tips = "outer cornerstones stay whole" if sashing.cornerstones else "outer strips keep their square ends"
    return (
        f"Side triangles are cut for a block and one sash ({legs} finished along each short side), corner "
        f"triangles for a block and two sashes ({long_side} along the long side): {tips}, and their tips touch the "
        f"edge of the quilt"
    )
