"""Places of blocks in rows, and the strips between them: the same for a straight set and for one on point.

Knows:  where places lie in rows, which sashes and cornerstones go between and round them.
Leaves: how rows are laid in the quilt (layout, onpoint), fabrics and their cutting.
Units:  inches, finished; u along a row, v from row to row, (0, 0) where the place of row 0, column 0 begins.
Method: a place begins at a whole number of pitches (cell and sash), multiplied and never summed up, so that places
        far from the first are as exact as it is. Sashes between two places of a row are as long as a place. Between
        two rows lie either sashes and cornerstones by turns, or one strip along all of both rows.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass, replace
from enum import IntEnum

from seamwright.geometry import Affine, Ring, after, moved
from seamwright.quilt.model import Cloth, Role, Sashing

Rows = dict[int, range]
"""For each row its columns, without gaps; rows follow each other, and neighbours share a column or touch at one."""


class Edge(IntEnum):
    """An edge of the quilt, by number of the corner of a place on point that points to it."""

    TOP = 0
    RIGHT = 1
    BOTTOM = 2
    LEFT = 3


@dataclass(frozen=True, slots=True)
class Grid:
    """Places in rows.

    Attributes:
        width_in, height_in: of a place. sash_in: between two places, each way; 0.0 for none.
        frame: from u and v to the quilt's x and y; it keeps lengths.
    """

    width_in: float
    height_in: float
    sash_in: float
    frame: Affine

    def corner(self, row: int, column: int) -> tuple[float, float]:
        """Where a place begins, in u and v."""
        return column * (self.width_in + self.sash_in), row * (self.height_in + self.sash_in)

    def at(self, row: int, column: int) -> Affine:
        """From inches in a place to the quilt's."""
        u, v = self.corner(row, column)
        return after((1.0, 0.0, 0.0, 1.0, u, v), self.frame)

    def ring(self, row: int, column: int) -> Ring:
        """Round a place, in the quilt."""
        u, v = self.corner(row, column)
        return self.box(u, v, self.width_in, self.height_in)

    def box(self, u: float, v: float, width_in: float, height_in: float) -> Ring:
        """Round a rectangle given in u and v, in the quilt, clockwise."""
        corners = ((u, v), (u + width_in, v), (u + width_in, v + height_in), (u, v + height_in))
        return tuple(moved(self.frame, corner) for corner in corners)


def sashes(
    grid: Grid,
    rows: Rows,
    sashing: Sashing,
    *,
    outside: bool,
    cut: Callable[[int, int], Edge | None] = lambda *_: None,
) -> Iterator[Cloth]:
    """All strips and squares between places, and with `outside` those round them, row by row.

    A sash has the row and column of the place behind or below it, a cornerstone those of the place that it lies at
    the first corner of.

    Args:
        cut: which edge of the quilt runs through the middle of the cornerstone at the first corner of a place
            (row, column), or through the end of a strip that lies there; None for none.
    """
    wide = grid.sash_in

    def cloth(role: Role, row: int, column: int, box: tuple[float, float, float, float], fabric: str) -> Cloth:
        return Cloth(role, grid.box(*box), fabric, "centre", row, column, box[2], box[3])

    def cornerstone(row: int, column: int) -> Cloth:
        u, v = grid.corner(row, column)
        box, edge = (u - wide, v - wide, wide, wide), cut(row, column)
        if edge is None:
            return cloth(Role.CORNERSTONE, row, column, box, sashing.cornerstones)
        half = cloth(Role.HALF_CORNERSTONE, row, column, box, sashing.cornerstones)
        kept = tuple(corner for number, corner in enumerate(half.ring) if number != edge)
        return replace(half, ring=kept, grain_deg=float(90 * (edge % 2)))

    def strip(row: int, columns: range) -> Cloth:
        (u, v), over = grid.corner(row, columns.start), wide if outside else 0.0
        begin, end = u - over, grid.corner(row, columns.stop)[0] - wide + over
        first, last = (cut(row, column) for column in (columns.start, columns.stop))
        # An edge of the quilt takes the corner that it runs beside, and so slants the whole end.
        corners = (
            (begin + (wide if first == Edge.TOP else 0.0), v - wide),
            (end - (wide if last == Edge.RIGHT else 0.0), v - wide),
            (end - (wide if last == Edge.BOTTOM else 0.0), v),
            (begin + (wide if first == Edge.LEFT else 0.0), v),
        )
        ring = tuple(moved(grid.frame, corner) for corner in corners)
        return Cloth(Role.SASH, ring, sashing.fabric, "centre", row, columns.start, end - begin, wide)

    for row in range(min(rows), max(rows) + 2):
        above, here = rows.get(row - 1), rows.get(row)
        if outside or (above and here):
            columns = _both(above, here, outside=outside)
            if sashing.cornerstones:
                for column in columns:
                    u, v = grid.corner(row, column)
                    yield cloth(Role.SASH, row, column, (u, v - wide, grid.width_in, wide), sashing.fabric)
                for column in range(columns.start + (not outside), columns.stop + outside):
                    yield cornerstone(row, column)
            else:
                yield strip(row, columns)
        if here:
            for column in range(here.start + (not outside), here.stop + outside):
                u, v = grid.corner(row, column)
                yield cloth(Role.SASH, row, column, (u - wide, v, wide, grid.height_in), sashing.fabric)


def _both(above: range | None, here: range | None, *, outside: bool) -> range:
    """Columns that lie beside the line between two rows: of either of them, or without the outside of both."""
    found = [columns for columns in (above, here) if columns is not None]
    starts, stops = [columns.start for columns in found], [columns.stop for columns in found]
    return range(min(starts), max(stops)) if outside else range(max(starts), min(stops))
