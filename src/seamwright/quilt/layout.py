"""Where every block and every plain piece of a quilt lies.

Knows:  rows of cells become places, straight or on point, with sashes between; which settings cannot be
        laid, and why.
Leaves: reading blocks (looks), places and strips (sashes), setting triangles (onpoint), borders, easing, proof
        (proof.quilt).
Units:  inches, finished; front view, x right, y down; (0, 0) the top left corner of the quilt.
Method: all cells are of one size, that of the first block as it lies. A block that differs by no more than what
        tidying may move is eased to it, so that neighbours meet exactly; quarter turns are exact.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from seamwright.errors import Fault, SettingError
from seamwright.geometry import Affine, after
from seamwright.notes import Note
from seamwright.options import Units
from seamwright.quilt import onpoint
from seamwright.quilt.borders import bordered
from seamwright.quilt.easing import EASED_IN, eased
from seamwright.quilt.looks import LookBook, cells_of, refused
from seamwright.quilt.model import Cell, Cloth, Quilt, Role, Set, Setting, Spot
from seamwright.quilt.plaincloth import in_its_fabrics
from seamwright.quilt.sashes import Edge, Grid, sashes
from seamwright.units import say_length, say_list, say_size

ASPECT = 0.005
"""Two shapes that differ by less are the same, as when a block is read in a size."""


def laid(setting: Setting, looks: LookBook) -> Quilt:
    """A quilt as its setting states it, with its borders.

    Args:
        looks: of all cells of the setting.

    Raises:
        SettingError: rows differ in length, blocks in size, or one cannot be turned as asked.
    """
    rows = setting.cells
    _must_be_rows(setting, rows)
    cell_in = place_size(setting, looks)
    units = setting.units
    columns = len(rows[0])
    sash_in = setting.sashing.width_in if setting.sashing else 0.0
    construction = ""
    cloths: tuple[Cloth, ...] = ()

    def cut(row: int, column: int) -> Edge | None:
        return onpoint.edge_through(row, column, down, columns) if setting.set is Set.ON_POINT else None

    if setting.set is Set.ON_POINT:
        down = (len(rows) + 1) // 2
        grid = Grid(*cell_in, sash_in, onpoint.frame(cell_in[0], sash_in, columns))
        cloths = onpoint.triangles(cell_in[0], sash_in, down, columns, setting.triangles)
        if setting.sashing:
            construction = onpoint.construction(cell_in[0], setting.sashing, units)
        places = {onpoint.place(r, c, columns): cell for r, row in enumerate(rows) for c, cell in enumerate(row)}
    else:
        down = len(rows)
        outside = sash_in if setting.sashing and setting.sashing.outside else 0.0
        grid = Grid(*cell_in, sash_in, (1.0, 0.0, 0.0, 1.0, outside, outside))
        places = {(r, c): cell for r, row in enumerate(rows) for c, cell in enumerate(row)}
    if setting.sashing:
        all_round = setting.set is Set.ON_POINT or setting.sashing.outside
        cloths = (*cloths, *sashes(grid, _spans(places), setting.sashing, outside=all_round, cut=cut))
    size = centre_size(setting, cell_in)
    quilt = Quilt(
        setting=setting,
        width_in=size[0],
        height_in=size[1],
        rows=down,
        columns=columns,
        cell_in=cell_in,
        looks=looks.looks,
        spots=tuple(_spots(grid, places, looks)),
        cloths=(*_plain(grid, places), *cloths),
        construction=construction,
        notes=(*setting.notes, *_left_out(setting), *_eased(cell_in, rows, looks, units)),
    )
    if setting.borders:
        quilt = bordered(quilt, looks, units)
    return in_its_fabrics(_worn_only(quilt))


def centre_size(setting: Setting, cell_in: tuple[float, float]) -> tuple[float, float]:
    """Width and height of what borders go round, with all of its sashes and setting triangles.

    Args:
        cell_in: width and height of a place.
    """
    rows = setting.cells
    across, down = len(rows[0]), len(rows)
    sash_in = setting.sashing.width_in if setting.sashing else 0.0
    if setting.set is Set.ON_POINT:
        return onpoint.size(cell_in[0], sash_in, (down + 1) // 2, across)
    round_it = 1 if setting.sashing and setting.sashing.outside else -1
    return (
        across * (cell_in[0] + sash_in) + round_it * sash_in,
        down * (cell_in[1] + sash_in) + round_it * sash_in,
    )


# -- within -------------------------------------------------------------------------------------------------

_Places = dict[tuple[int, int], Cell]


def _spots(grid: Grid, places: _Places, looks: LookBook) -> Iterator[Spot]:
    lies: dict[tuple[int, int], Affine] = {}
    for (row, column), cell in sorted(places.items(), key=_by_place):
        if not cell.source:
            continue
        look, quarters = looks.of(cell)
        if (look, quarters) not in lies:
            lies[look, quarters] = eased(looks.looks[look].block, quarters, (grid.width_in, grid.height_in))
        yield Spot(look, quarters, after(lies[look, quarters], grid.at(row, column)), "centre", row, column)


def _plain(grid: Grid, places: _Places) -> Iterator[Cloth]:
    for (row, column), cell in sorted(places.items(), key=_by_place):
        if not cell.source:
            ring, size = grid.ring(row, column), (grid.width_in, grid.height_in)
            yield Cloth(Role.SETTING_BLOCK, ring, cell.fabric, "centre", row, column, *size)


def _by_place(entry: tuple[tuple[int, int], Cell]) -> tuple[int, int]:
    return entry[0]


def _spans(places: _Places) -> dict[int, range]:
    """For each row the columns that have a place."""
    found: dict[int, list[int]] = {}
    for row, column in places:
        found.setdefault(row, []).append(column)
    return {row: range(min(columns), max(columns) + 1) for row, columns in found.items()}


def _must_be_rows(setting: Setting, rows: tuple[tuple[Cell, ...], ...]) -> None:
    """Refuses rows that make no quilt."""
    if not rows or not rows[0]:
        mend = "Add a line: row kite, kite 90 (with the names of your blocks)"
        raise refused(setting, "the quilt has no rows", mend)
    if setting.sashing and not setting.sashing.width_in > 0:
        raise refused(setting, "sashing has no width", "Give one: sashing 1 1/2 in foam, or leave the line out")
    longest, on_point = len(rows[0]), setting.set is Set.ON_POINT
    for number, row in enumerate(rows):
        wanted = longest - 1 if on_point and number % 2 else longest
        if len(row) != wanted:
            what = f"row {number + 1} has {len(row)} blocks, and {wanted} fit there"
            mend = "Give all rows as many blocks as the first"
            if on_point:
                what += f": on point rows of {longest} and of {longest - 1} take turns"
                mend = (
                    f"Give every second row {longest - 1} blocks, or all rows {longest}: then they are cut to fit"
                )
            raise refused(setting, what, mend, *_where(row))
    if on_point and len(rows) % 2 == 0:
        what = f"the quilt has {len(rows)} rows, and on point it begins and ends with a row of {longest}"
        mend = f"Add a row of {longest} blocks, or leave the last one out"
        raise refused(setting, what, mend, *_where(rows[-1]))


def place_size(setting: Setting, looks: LookBook) -> tuple[float, float]:
    """Width and height of all places of the centre, once it is sure that every block fills one.

    Raises:
        SettingError: blocks differ in size, or one cannot be turned as asked.
    """
    first: dict[tuple[int, int], Cell] = {}
    for cell in (cell for row in setting.cells for cell in row if cell.source):
        first.setdefault(looks.of(cell), cell)
    # Where all places are plain they are as large as the blocks of a border, which then comes out.
    worn = list(first.values()) or [cell for cell in cells_of(setting) if cell.source][:1]
    if not worn:
        what = "all places of the quilt are plain, so nothing says how large they are"
        mend = "Name a block in one of the rows, or in a border"
        raise refused(setting, what, mend)
    units, slack = setting.units, looks.tolerance_in
    width, height = (_round(length) for length in looks.size(worn[0]))
    if abs(width - height) <= slack:
        height = width
    faults = [
        _misfit(cell, worn, (width, height), looks, units)
        for cell in worn
        if any(abs(own - room) > slack for own, room in zip(looks.size(cell), (width, height), strict=True))
    ]
    if setting.set is Set.ON_POINT and width != height:
        what = f"block {worn[0].source} is {say_size(width, height, units)}, and on point blocks are square"
        mend = "Draw it as a square, or write: set straight"
        faults = [Fault("setting", what, mend, None, worn[0].line or None, worn[0].column or None)]
    if faults:
        raise SettingError("setting", tuple(faults), setting.file)
    return width, height


def _misfit(cell: Cell, worn: list[Cell], room_in: tuple[float, float], looks: LookBook, units: Units) -> Fault:
    """Why a block does not fill a cell."""
    own_in, drawn, where = looks.size(cell), looks.block(cell), (None, cell.line or None, cell.column or None)
    own, room = say_size(*own_in, units), say_size(*room_in, units)
    if any(looks.block(other) is drawn and looks.size(other) != own_in for other in worn):
        turned = "so a quarter turn makes it" if looks.of(cell)[1] % 2 else "so without a quarter turn it is"
        what = f"{cell.source} is no square, {turned} {own} where all places are {room}"
        mend = "Rotate it by 180 degrees or not at all, or draw it as a square"
        return Fault("setting", what, mend, *where)
    what = f"{cell.source} is {own} as it lies, and the places of the quilt are {room}"
    if abs(own_in[0] * room_in[1] / (own_in[1] * room_in[0]) - 1) <= ASPECT:
        mend = (
            f"Give all blocks one size, such as size {say_length(room_in[0], units)} on the line of {cell.source}"
        )
    else:
        mend = (
            "Its shape is another, so no size makes it fit: draw it in theirs, or leave it to a border of its own"
        )
    return Fault("setting", what, mend, *where)


def _left_out(setting: Setting) -> Iterator[Note]:
    """What rows on point that are all stated alike lose at the edge of the quilt."""
    stated, cells = len(setting.rows) * setting.repeat[1], setting.cells
    alike = len({len(row) for row in setting.rows}) == 1
    if setting.set is Set.ON_POINT and alike and len(cells) > 1 and len(cells[0]) > 1:
        what = f"on point every second row has {len(cells[1])} blocks, one less than the others"
        if stated > len(cells):
            what += f"; the last of {stated} rows has no row below it and is left out"
        yield Note("rows", what, len(cells) // 2)


def _worn_only(quilt: Quilt) -> Quilt:
    """The quilt without looks that lie nowhere in it: a row on point that has no row below it is left out."""
    worn = sorted({spot.look for spot in quilt.spots})
    if len(worn) == len(quilt.looks):
        return quilt
    numbers = {look: number for number, look in enumerate(worn)}
    names = [look.name for number, look in enumerate(quilt.looks) if number not in numbers]
    what = f"{say_list(names)} {'lies' if len(names) == 1 else 'lie'} nowhere in the quilt"
    return replace(
        quilt,
        looks=tuple(quilt.looks[look] for look in worn),
        spots=tuple(replace(spot, look=numbers[spot.look]) for spot in quilt.spots),
        notes=(*quilt.notes, Note("unused", what, len(names))),
    )


def _eased(
    cell_in: tuple[float, float], rows: tuple[tuple[Cell, ...], ...], looks: LookBook, units: Units
) -> Iterator[Note]:
    """What was made of blocks whose sizes differ by what tidying may move."""
    off = {
        cell.source: max(abs(own - room) for own, room in zip(looks.size(cell), cell_in, strict=True))
        for row in rows
        for cell in row
        if cell.source
    }
    told = {name: much for name, much in off.items() if much > EASED_IN}
    if told:
        most = max(told.values())
        what = f"{', '.join(told)}: eased to {say_size(*cell_in, units)}, by up to {say_length(most, units)}"
        yield Note("eased", what, len(told), most)


def _round(length_in: float) -> float:
    """A length without the noise of its drawing's scale, where it is a fraction of an inch that rulers show."""
    shown = round(length_in * 64) / 64
    return shown if abs(length_in - shown) <= 1e-6 else length_in


def _where(row: tuple[Cell, ...]) -> tuple[int, int]:
    return (row[0].line, 1) if row else (0, 0)
