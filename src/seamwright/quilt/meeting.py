"""The patches of a quilt that meet at each point of an edge between its pieces.

Knows:  the angle and the fabric of every patch at such a point, of a patch too that only runs past it.
Leaves: which runs pieces share (contacts), what follows from what meets (advice).
Units:  inches, degrees.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence

from seamwright.block.model import Block
from seamwright.fabric.model import Fabric
from seamwright.geometry import Point
from seamwright.piecing.shapes import corners
from seamwright.quilt.contacts import SAME_IN, Contact, Piece, on_side
from seamwright.quilt.model import Quilt

CELL_IN = 1 / 32
"""Points are looked for in squares of this; any size well above SAME_IN does."""


class Meeting:
    """The points of all edges.

    Args:
        quilt: the quilt. seen: the block of each look whose patches are asked about.
        pieces, contacts: of these blocks.
    """

    def __init__(
        self, quilt: Quilt, seen: Sequence[Block], pieces: Sequence[Piece], contacts: Sequence[Contact]
    ) -> None:
        self._grid: dict[tuple[int, int], list[int]] = {}
        self._at: list[Point] = []
        self._patches: list[dict[tuple[int, int], float]] = []
        self._quilt, self._seen, self._pieces = quilt, seen, pieces
        self._fabrics = {fabric.name: fabric for fabric in quilt.fabrics}
        angles = [_angles(block) for block in seen]
        for contact in contacts:
            ways = (
                (contact.one, contact.side, contact.other, contact.other_side),
                (contact.other, contact.other_side, contact.one, contact.side),
            )
            for one, side, other, other_side in ways:
                piece, across = pieces[one], pieces[other]
                for end in piece.shape[side].ends:
                    there = contact.shift - end.at
                    if not -SAME_IN <= there <= across.shape[other_side].length + SAME_IN:
                        continue
                    here = self._patches[self._number(on_side(piece, side, end.at))]
                    if piece.look >= 0:
                        here.update({(one, patch): angle for patch, angle in angles[piece.look][end.point]})
                    elif end.at in (piece.shape[side].ends[0].at, piece.shape[side].ends[-1].at):
                        here.setdefault((one, 0), _corner(piece, side, end.at <= SAME_IN))
                    for low, high, patch, _ in across.shape[other_side].runs:
                        if low + SAME_IN < there < high - SAME_IN:
                            here.setdefault((other, patch), 180.0)

    def around(self) -> Iterator[tuple[Point, list[tuple[int, int, float, Fabric | None]]]]:
        """Each point with what meets there: (piece, patch, its angle, its fabric)."""
        for at, patches in zip(self._at, self._patches, strict=True):
            yield (
                at,
                [(piece, patch, angle, self._fabric(piece, patch)) for (piece, patch), angle in patches.items()],
            )

    def _fabric(self, number: int, patch: int) -> Fabric | None:
        piece = self._pieces[number]
        if piece.look < 0:
            return self._fabrics.get(self._quilt.cloths[piece.number].fabric)
        return self._fabrics.get(self._seen[piece.look].patches[patch].fabric or "")

    def _number(self, at: Point) -> int:
        """The point that is here, a new one if there is none."""
        cell = (math.floor(at[0] / CELL_IN), math.floor(at[1] / CELL_IN))
        for across in (-1, 0, 1):
            for down in (-1, 0, 1):
                for number in self._grid.get((cell[0] + across, cell[1] + down), ()):
                    if math.dist(self._at[number], at) <= SAME_IN:
                        return number
        self._grid.setdefault(cell, []).append(len(self._at))
        self._at.append(at)
        self._patches.append({})
        return len(self._at) - 1


def _angles(block: Block) -> dict[int, list[tuple[int, float]]]:
    """For each point of the outline the patches round it with their angles there."""
    turned = [dict(corners(block, patch)) for patch in range(len(block.patches))]
    rim = set(block.outline)
    found: dict[int, list[tuple[int, float]]] = {point: [] for point in rim}
    for number, patch in enumerate(block.patches):
        for point in {*patch.ring} & rim:
            found[point].append((number, turned[number].get(point, 180.0)))
    return found


def _corner(piece: Piece, side: int, first: bool) -> float:
    """The inner angle of a plain piece at one end of a side."""
    sides = piece.sides
    one, other = (sides[side - 1], sides[side]) if first else (sides[side], sides[(side + 1) % len(sides)])
    ahead, back = (math.atan2(b[1] - a[1], b[0] - a[0]) for a, b in (other, one))
    return 180.0 - math.degrees(math.remainder(ahead - back, math.tau))
