"""Pieces counted by kind, for as many blocks as are made.

Knows:  when two pieces are equal, which of their sides runs along the selvedge, how many rectangles they take.
Leaves: how large a piece is (pieces), how strips are filled (strips).
Units:  inches, rounded up to the finest step: 1/16 in or 1 mm.
Method: a print or stripe that runs one way runs along the selvedge, as most do (common practice). All else may lie
        either way, and its longer side is its width.
"""

from __future__ import annotations

import math
from collections.abc import Iterable
from dataclasses import replace

from seamwright.cutting.model import Row
from seamwright.fabric.pieces import Piece, Shape
from seamwright.options import Units

TICK_IN = {Units.INCH: 1 / 16, Units.METRIC: 0.1 / 2.54}
"""The finest step: half of an eighth, which half-rectangles need; a millimetre."""
_HAIR = 1e-6


def ticks(inches: float, units: Units) -> int:
    """A length in ticks, rounded up."""
    return math.ceil(inches / TICK_IN[units] - _HAIR)


def whole_ticks(inches: float, units: Units) -> int:
    """A length in ticks, rounded down: what there is of a fabric."""
    return math.floor(inches / TICK_IN[units] + _HAIR)


def inches(number: int, units: Units) -> float:
    """Ticks in inches."""
    return number / 16 if units is Units.INCH else number * 0.1 / 2.54


def parts_of(pieces: Iterable[Piece]) -> list[Piece]:
    """What is cut: of a patch that is pieced beforehand its parts, else the piece itself."""
    return [part for piece in pieces for part in piece.parts or (piece,)]


def rows_of(counted: Iterable[tuple[Piece, int]], units: Units) -> tuple[Row, ...]:
    """The rows of one fabric's pieces, the largest first.

    Args:
        counted: each piece and how many of it are needed in all.
    """
    found: dict[Row, list[tuple[str, int]]] = {}
    for piece, count in counted:
        found.setdefault(_alike(piece, units), []).append((piece.name, count))
    rows = [
        _of(replace(row, patches=tuple(name for name, _ in named)), sum(count for _, count in named))
        for row, named in found.items()
    ]
    return tuple(sorted(rows, key=lambda r: (-r.width_in * r.height_in, -r.width_in, r.shape.value, r.hand)))


def for_more(row: Row, number: int, of: int) -> Row:
    """A row with its numbers for `number` blocks, which are those for `of` blocks."""
    return _of(row, -(-row.count * number // of))


def _of(row: Row, count: int) -> Row:
    return replace(row, count=count, cuts=-(-count // row.share))


def _alike(piece: Piece, units: Units) -> Row:
    """What is the same of equal pieces."""
    width, height = (inches(ticks(side, units), units) for side in (piece.width_in, piece.height_in))
    if piece.one_way:
        if piece.runs == "width":
            width, height = height, width
    elif piece.shape is not Shape.HALF_RECTANGLE and width < height:
        width, height = height, width
    return Row((), piece.shape, width, height, piece.share, 0, 0, piece.hand, piece.one_way)
