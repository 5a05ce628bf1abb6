"""Places of blocks in rows, and the strips between them: the same for a straight set and for one on point.

Knows:  where places lie in rows, which sashes and cornerstones go between and round them.
Leaves: how rows are laid in the quilt (layout, onpoint), fabrics and their cutting.
Units:  inches, finished; u along a row, v from row to row, (0, 0) where the place of row 0, column 0 begins.
Method: a place begins at a whole number of pitches (cell and sash), multiplied and never summed up, so that places
        far from the first are as exact as it is. Sashes between two places of a row are as long as a place. Between
        two rows lie either sashes and cornerstones by turns, or one strip along all of both rows.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from seamwright.geometry import Affine, Ring, after, moved
from seamwright.quilt.model import Cloth, Role, Sashing

Rows = dict[int, range]
"""For each row its columns, without gaps; rows follow each other, and neighbours share a column or touch at one."""


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


def sashes(grid: Grid, rows: Rows, sashing: Sashing, *, outside: bool) -> Iterator[Cloth]:
    """All strips and squares between places, and with `outside` those round them, row by row.

    A sash has the row and column of the place behind or below it, a cornerstone those of the place that it lies at
    the first corner of.
    """
    wide = grid.sash_in

    def cloth(role: Role, row: int, column: int, box: tuple[float, float, float, float], fabric: str) -> Cloth:
        return Cloth(role, grid.box(*box), fabric, "centre", row, column, box[2], box[3])

    for row in range(min(rows), max(rows) + 2):
        above, here = rows.get(row - 1), rows.get(row)
        if outside or (above and here):
            columns = _both(above, here, outside=outside)
            starts = range(columns.start + (not outside), columns.stop + outside)
            u, v = grid.corner(row, columns.start)
            if sashing.cornerstones:
                for column in columns:
                    box = (grid.corner(row, column)[0], v - wide, grid.width_in, wide)
                    yield cloth(Role.SASH, row, column, box, sashing.fabric)
                for column in starts:
                    box = (grid.corner(row, column)[0] - wide, v - wide, wide, wide)
                    yield cloth(Role.CORNERSTONE, row, column, box, sashing.cornerstones)
            else:
                over = wide if outside else 0.0
                length = grid.corner(row, columns.stop)[0] - wide - u + 2 * over
                yield cloth(Role.SASH, row, columns.start, (u - over, v - wide, length, wide), sashing.fabric)
        if here:
            for column in range(here.start + (not outside), here.stop + outside):
                u, v = grid.corner(row, column)
                yield cloth(Role.SASH, row, column, (u - wide, v, wide, grid.height_in), sashing.fabric)


def _both(above: range | None, here: range | None, *, outside: bool) -> range:
    """Columns that lie beside the line between two rows: of either of them, or without the outside of both."""
    found = [columns for columns in (above, here) if columns is not None]
    starts, stops = [columns.start for columns in found], [columns.stop for columns in found]
    return range(min(starts), max(stops)) if outside else range(max(starts), min(stops))
