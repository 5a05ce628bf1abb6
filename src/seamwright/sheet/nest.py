"""Laying shapes on a sheet, close but never too close.

Knows:  which cells of the sheet are taken, where a shape fits at which angle, the topmost or lowest such place.
Leaves: which shapes go on which sheet (layout), what is drawn (furniture, foundations).
Units:  points on the sheet, x right and y down; cells of `CELL_PT` inside.
Method: a sheet is one long integer, a bit to a cell, row by row. A shape is runs of cells, one or more to a row.
        Shifting the sheet by a run's place and joining the shifts with "or" gives, for all places at once, where
        the shape would touch something: integer arithmetic, so the answer is exact and the same everywhere. A few
        rows of the shape rule out most places; the nearest one left is then tried with all its cells, and a row
        that touches there rules out more.
Limits: places are multiples of a cell (of prints: half a cell) apart; a shape takes every cell its air touches.
Why:    the general library for true shapes (see tests/benchmarks/nesting.py) stops by the clock only. On two busy
        cores four runs of 3 s with one seed gave four answers for 24 prints, up to 2.4 % apart in length. The same
        prints must give the same sheets, so it is what we are measured against and not what we rest on.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from enum import Enum
from functools import lru_cache
from itertools import pairwise

from shapely.geometry import MultiPoint, Polygon

from seamwright.geometry import Affine, Point, Ring, bounds, moved

CELL_PT = 4.5
"""1/16 in: what furniture is laid by."""
FINER = 2
"""Prints are laid by cells of half that size: what each loses at its sides, up to a cell, can cost a sheet."""
AIR_PT = 9.0
"""Half the air between neighbours, two whole cells: 1/4 in between trim lines, room to cut out roughly."""
FIRST_ROWS = 8
"""Rows of a shape, spread over it, that rule out places before any is tried."""
MOST_REMEMBERED = 3_000
"""Beds whose answers are kept, some 50 MB at most."""
_ON_CELL = 1e-6
"""A side on the border of two cells takes only one: rounding must not reach across."""

Box = tuple[float, float, float, float]
"""Least x, least y, greatest x, greatest y, points on the sheet."""
Run = tuple[int, int, int]
"""(row, first cell, number of cells)."""


class Corner(Enum):
    """Which end of a bed is filled first."""

    TOP_LEFT = "top left"
    LEFT_TOP = "left top"
    BOTTOM_LEFT = "bottom left"
    BOTTOM_RIGHT = "bottom right"


@dataclass(frozen=True, slots=True, eq=False)
class Shape:
    """A ring at one angle, with its air, as runs of cells. Each is one of a kind: `shape` keeps those it made.

    Attributes:
        angle_deg: clockwise as seen.
        corner: least x and least y of the ring at that angle, in its own coordinates.
        runs: cells touched, counted from `air_cells` left of and above that corner.
        width, height: cells across and down, air included.
        air_cells: air on each side, in whole cells.
        cells: how many it takes.
    """

    angle_deg: float
    corner: Point
    runs: tuple[Run, ...]
    width: int
    height: int
    air_cells: int
    cells: int


@dataclass(frozen=True, slots=True)
class Spot:
    """A place for a shape: its cell at the top left."""

    shape: Shape
    column: int
    row: int

    @property
    def bottom(self) -> int:
        """First row below it."""
        return self.row + self.shape.height

    @property
    def right(self) -> int:
        """First column right of it."""
        return self.column + self.shape.width


Answers = dict[tuple[Shape, str], Spot | None]
"""Shape and corner -> the place found."""
Memory = dict[int, Answers]
"""Taken cells -> the answers for a bed like that."""


class Bed:
    """The part of a sheet that shapes may lie on.

    Args:
        left, top, right, bottom: its sides in points. Shapes may touch them: air is kept between shapes only.
        memory: answers for beds of this size, shared by those who fill many alike.
        finer: cells a side into which each cell is cut; shapes laid here are cut likewise.
    """

    def __init__(
        self,
        left: float,
        top: float,
        right: float,
        bottom: float,
        memory: Memory | None = None,
        finer: int = 1,
    ) -> None:
        self._left, self._top = left - AIR_PT, top - AIR_PT
        self._cell = CELL_PT / finer
        self.columns = finer * math.floor((right - left + 2 * AIR_PT) / CELL_PT + _ON_CELL)
        self.rows = finer * math.floor((bottom - top + 2 * AIR_PT) / CELL_PT + _ON_CELL)
        self._memory: Memory = {} if memory is None else memory
        self._answers: Answers | None = None
        self._set(0)

    def copy(self) -> Bed:
        """An independent bed with the same cells taken."""
        twin = object.__new__(Bed)
        twin.__dict__.update(self.__dict__)
        return twin

    def spot(self, shape: Shape, corner: Corner = Corner.TOP_LEFT) -> Spot | None:
        """The place nearest to a corner where the shape touches nothing, or None if there is none.

        Args:
            corner: the topmost (or lowest) free row counts first, then the leftmost (or rightmost) place in it;
                LEFT_TOP: the leftmost free column first, then the topmost place in it.
        """
        across, down = self.columns - shape.width + 1, self.rows - shape.height + 1
        if across <= 0 or down <= 0 or shape.cells > self._free_cells:
            return None
        if self._answers is None:
            if len(self._memory) >= MOST_REMEMBERED:
                self._memory.clear()
            self._answers = self._memory.setdefault(self._taken, {})
        asked = (shape, corner.value)
        if asked not in self._answers:
            self._answers[asked] = self._found(shape, corner, across, down)
        return self._answers[asked]

    def _found(self, shape: Shape, corner: Corner, across: int, down: int) -> Spot | None:
        free = ((1 << across) - 1) * _every(self.columns, down)
        rows, whole = _cells_of(shape, self.columns)
        step = max(1, len(rows) // FIRST_ROWS)
        for runs in (*rows[::step], rows[-1]):
            free ^= free & self._touching(runs)
            if not free:
                return None
        while free:
            column, row = self._nearest(free, corner)
            touched = self._taken >> (row * self.columns + column) & whole
            if not touched:
                return Spot(shape, column, row)
            clash = ((touched & -touched).bit_length() - 1) // self.columns
            free ^= free & self._touching(rows[clash])
        return None

    def _nearest(self, free: int, corner: Corner) -> tuple[int, int]:
        """Column and row of the free place nearest to a corner."""
        if corner is Corner.LEFT_TOP:
            folded, rows = free, self.rows
            while rows > 1:
                rows = (rows + 1) // 2
                folded |= folded >> (rows * self.columns)
            folded &= (1 << self.columns) - 1
            column = (folded & -folded).bit_length() - 1
            here = free >> column & _every(self.columns, self.rows)
            return column, ((here & -here).bit_length() - 1) // self.columns
        first, last = (free & -free).bit_length() - 1, free.bit_length() - 1
        row = (first if corner is Corner.TOP_LEFT else last) // self.columns
        here = free >> (row * self.columns) & ((1 << self.columns) - 1)
        return (here.bit_length() if corner is Corner.BOTTOM_RIGHT else (here & -here).bit_length()) - 1, row

    def take(self, spot: Spot) -> None:
        """Mark the cells of a placed shape as taken."""
        _, cells = _cells_of(spot.shape, self.columns)
        self._set(self._taken | cells << (spot.row * self.columns + spot.column))

    def block(self, box: Box) -> None:
        """Take all cells that a rectangle touches; parts outside the bed are ignored."""
        self._set(self._taken | self._box(box))

    def touched(self, box: Box) -> bool:
        """Whether a rectangle touches a taken cell."""
        return bool(self._taken & self._box(box))

    def affine(self, spot: Spot) -> Affine:
        """The rotation and shift that take the ring's own coordinates to its place on the sheet, points."""
        a, b, c, d, _, _ = rotation(spot.shape.angle_deg)
        x = self._left + (spot.column + spot.shape.air_cells) * self._cell - spot.shape.corner[0]
        y = self._top + (spot.row + spot.shape.air_cells) * self._cell - spot.shape.corner[1]
        return (a, b, c, d, x, y)

    def _box(self, box: Box) -> int:
        """The cells that a rectangle touches."""
        left, top, right, bottom = box
        x0 = max(0, math.floor((left - self._left) / self._cell + _ON_CELL))
        x1 = min(self.columns, math.ceil((right - self._left) / self._cell - _ON_CELL))
        y0 = max(0, math.floor((top - self._top) / self._cell + _ON_CELL))
        y1 = min(self.rows, math.ceil((bottom - self._top) / self._cell - _ON_CELL))
        if x0 >= x1 or y0 >= y1:
            return 0
        return ((1 << (x1 - x0)) - 1) * _every(self.columns, y1 - y0) << (y0 * self.columns + x0)

    def _touching(self, runs: Sequence[Run]) -> int:
        """All places (as bits) where some cell of the runs would fall on a taken one."""
        if not self._smears:
            self._smear()
        touching = 0
        for row, first, cells in runs:
            # Two smears of a power of two cells overlap to cover the run.
            power = cells.bit_length() - 1
            smeared, shift = self._smears[power], row * self.columns + first
            touching |= smeared >> shift | smeared >> (shift + cells - (1 << power))
        return touching

    def _set(self, taken: int) -> None:
        self._taken = taken
        self._free_cells = self.columns * self.rows - taken.bit_count()
        self._smears: list[int] = []
        self._answers = None

    def _smear(self) -> None:
        """Entry k: a place is set if a taken cell lies in it or in the 2^k - 1 cells to its right."""
        self._smears = [self._taken]
        while 1 << len(self._smears) <= self.columns:
            last = self._smears[-1]
            self._smears.append(last | last >> (1 << (len(self._smears) - 1)))


def rotation(angle_deg: float) -> Affine:
    """The rotation about the origin, clockwise as seen; quarter turns are exact."""
    quarter = {0.0: (1.0, 0.0), 90.0: (0.0, 1.0), 180.0: (-1.0, 0.0), 270.0: (0.0, -1.0)}
    turn = angle_deg % 360.0
    cos, sin = quarter.get(turn) or (math.cos(math.radians(turn)), math.sin(math.radians(turn)))
    return (cos, sin, -sin, cos, 0.0, 0.0)


@lru_cache(maxsize=4096)
def shape(ring: Ring, angle_deg: float = 0.0, air_cells: int = 2, finer: int = 1) -> Shape:
    """A ring at an angle as cells, with air round it.

    Args:
        ring: points, three corners or more, in its own coordinates.
        angle_deg: clockwise as seen.
        air_cells: whole cells of air on each side, of `CELL_PT`.
        finer: cells a side into which each of these is cut.
    """
    air_cells, cell = air_cells * finer, CELL_PT / finer
    turn = rotation(angle_deg)
    turned = [moved(turn, p) for p in ring]
    left, top, right, bottom = bounds(turned)
    x0, y0 = left - air_cells * cell, top - air_cells * cell
    grown = [((x - x0) / cell, (y - y0) / cell) for x, y in turned]
    if air_cells:
        # Mitred joins cut at once keep the full distance with few corners; a cut tip reaches too far, and what lies
        # beyond the box of the ring and its air is not needed.
        air = Polygon(grown).buffer(air_cells, join_style="mitre", mitre_limit=1.0)
        grown = [(float(x), float(y)) for x, y in air.exterior.coords[:-1]]
    width = math.ceil((right - left) / cell - _ON_CELL) + 2 * air_cells
    height = math.ceil((bottom - top) / cell - _ON_CELL) + 2 * air_cells
    runs = tuple(_convex_cells(grown, width, height) if _is_convex(grown) else _cells(grown, width, height))
    return Shape(angle_deg, (left, top), runs, width, height, air_cells, sum(cells for _, _, cells in runs))


def coarser(spot: Spot, finer: int) -> Spot:
    """The same place on a bed of whole cells: it takes all that are touched."""
    column, row = spot.column // finer, spot.row // finer
    return Spot(_coarser(spot.shape, finer, spot.column % finer, spot.row % finer), column, row)


@lru_cache(maxsize=4096)
def _coarser(fine: Shape, finer: int, right: int, down: int) -> Shape:
    """A shape moved right and down by less than a whole cell, in whole cells."""
    spans: dict[int, list[tuple[int, int]]] = {}
    width, height = -(-(fine.width + right) // finer), -(-(fine.height + down) // finer)
    for row, first, cells in fine.runs:
        span = ((first + right) // finer, -(-(first + right + cells) // finer))
        spans.setdefault((row + down) // finer, []).append(span)
    runs = tuple((row, a, b - a) for row in range(height) for a, b in _joined(spans.get(row, []), width))
    air, cells = fine.air_cells // finer, sum(cells for _, _, cells in runs)
    return Shape(fine.angle_deg, fine.corner, runs, width, height, air, cells)


def angles(ring: Ring, most: int = 12) -> tuple[float, ...]:
    """Angles worth trying: as it stands, quarter turns, then each long side of its hull laid along the sheet.

    Args:
        most: how many at most; the longest sides come first.
    """
    found = [0.0, 90.0, 180.0, 270.0]
    hull = MultiPoint(ring).convex_hull.boundary.coords
    sides = sorted(pairwise(hull), key=lambda s: -round(math.dist(*s), 6))
    for (ax, ay), (bx, by) in sides:
        lies = math.degrees(math.atan2(by - ay, bx - ax))
        for quarter in (0.0, 90.0, 180.0, 270.0):
            angle = round((quarter - lies) % 360.0, 6)
            if len(found) < most and all(min(abs(angle - f), 360 - abs(angle - f)) > 0.05 for f in found):
                found.append(angle)
    return tuple(found)


@lru_cache(maxsize=65536)
def goes_into(ring: Ring, angle_deg: float, width: float, height: float) -> bool:
    """Whether the box of a ring at an angle is no larger than a rectangle, to the rounding of floats."""
    turn = rotation(angle_deg)
    left, top, right, bottom = bounds([moved(turn, p) for p in ring])
    return right - left <= width + _ON_CELL and bottom - top <= height + _ON_CELL


def slanted(ring: Ring, width: float, height: float, most: int = 6) -> tuple[float, ...]:
    """Angles at which the box of a ring goes into a rectangle, for a print too long to lie square.

    Those that leave the most free above and below come first: that is where words find room. Whole degrees are
    looked at: planning takes a section for one that fits if it does at one of them.
    """
    fitting = []
    for angle in range(1, 180):
        left, top, right, bottom = bounds([moved(rotation(angle), p) for p in ring])
        if right - left <= width and bottom - top <= height:
            fitting.append((round(bottom - top, 6), float(angle)))
    return tuple(angle for _, angle in sorted(fitting)[:most])


@lru_cache(maxsize=4096)
def _cells_of(shape: Shape, columns: int) -> tuple[tuple[tuple[Run, ...], ...], int]:
    """The runs of a shape (none overlap) row by row, and all its cells as bits of a bed so many columns wide."""
    rows: list[tuple[Run, ...]] = [()] * shape.height
    digits: list[str] = []
    end = 0
    for run in sorted(shape.runs):
        row, first, count = run
        rows[row] += (run,)
        start = row * columns + first
        digits += ("0" * (start - end), "1" * count)
        end = start + count
    # Read at once, lowest bit last: joining numbers row by row takes ten times as long.
    return tuple(rows), int("".join(digits)[::-1] or "0", 2)


@lru_cache(maxsize=256)
def _every(columns: int, rows: int) -> int:
    """A bit at the start of each of so many rows."""
    return ((1 << (columns * rows)) - 1) // ((1 << columns) - 1)


def _is_convex(ring: Sequence[Point]) -> bool:
    """Whether a ring turns one way only, to the rounding of floats."""
    after = [*ring[1:], *ring[:2]]
    turns = [
        (b[0] - a[0]) * (c[1] - b[1]) - (b[1] - a[1]) * (c[0] - b[0])
        for a, b, c in zip(ring, after, after[1:], strict=False)
    ]
    return min(turns) >= -_ON_CELL or max(turns) <= _ON_CELL


def _convex_cells(ring: Sequence[Point], columns: int, rows: int) -> list[Run]:
    """`_cells` of a convex ring: one run to a row, from its leftmost to its rightmost point there."""
    import numpy as np

    least, most = np.full(rows, np.inf), np.full(rows, -np.inf)
    for (ax, ay), (bx, by) in zip(ring, [*ring[1:], ring[0]], strict=True):
        if ay > by:
            ax, ay, bx, by = bx, by, ax, ay
        first, last = max(0, math.floor(ay + _ON_CELL)), min(rows, math.ceil(by - _ON_CELL))
        if first >= last or ay == by:  # the ends of a level side are those of its neighbours
            continue
        heights = np.clip(np.arange(first, last + 1), ay, by)
        along = ax + (heights - ay) * ((bx - ax) / (by - ay))
        here = slice(first, last)
        least[here] = np.minimum(least[here], np.minimum(along[:-1], along[1:]))
        most[here] = np.maximum(most[here], np.maximum(along[:-1], along[1:]))
    left = np.maximum(np.floor(np.where(least < most, least, 0) + _ON_CELL), 0).astype(int)
    right = np.minimum(np.ceil(np.where(least < most, most, 0) - _ON_CELL), columns).astype(int)
    row = np.flatnonzero(left < right)
    return list(zip(row.tolist(), left[row].tolist(), (right - left)[row].tolist(), strict=True))


def _cells(ring: Sequence[Point], columns: int, rows: int) -> list[Run]:
    """Runs of all unit cells that the inside of a ring touches, out of so many columns and rows."""
    spans: dict[int, list[tuple[int, int]]] = {}
    middles: dict[int, list[float]] = {}
    for (ax, ay), (bx, by) in zip(ring, [*ring[1:], ring[0]], strict=True):
        if ay > by:
            ax, ay, bx, by = bx, by, ax, ay
        slope = (bx - ax) / (by - ay) if by > ay else 0.0
        for row in range(math.floor(ay + _ON_CELL), math.ceil(by - _ON_CELL)):
            # The part of the side inside this row of cells; a level side lies in it whole.
            x1 = ax + (max(ay, row) - ay) * slope
            x2 = ax + (min(by, row + 1) - ay) * slope if by > ay else bx
            # Empty for a side on the border of two columns: which of them is inside, the middles tell.
            touched = (math.floor(min(x1, x2) + _ON_CELL), math.ceil(max(x1, x2) - _ON_CELL))
            spans.setdefault(row, []).append(touched)
            if ay <= row + 0.5 < by:
                middles.setdefault(row, []).append(ax + (row + 0.5 - ay) * slope)
    for row, crossings in middles.items():
        crossings.sort()
        inside = zip(crossings[::2], crossings[1::2], strict=True)
        spans[row].extend((math.floor(a + _ON_CELL), math.ceil(b - _ON_CELL)) for a, b in inside)
    return [(row, a, b - a) for row in range(rows) for a, b in _joined(spans.get(row, []), columns)]


def _joined(spans: Iterable[tuple[int, int]], columns: int) -> list[tuple[int, int]]:
    """Spans from left to right, overlapping and touching ones made one, what lies beyond the columns left out."""
    joined: list[tuple[int, int]] = []
    for a, b in sorted((max(a, 0), min(b, columns)) for a, b in spans):
        if joined and a <= joined[-1][1]:
            joined[-1] = (joined[-1][0], max(joined[-1][1], b))
        elif b > a:
            joined.append((a, b))
    return joined
