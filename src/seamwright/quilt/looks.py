"""The blocks of a quilt, each read once and dressed as its cells ask for it.

Knows:  which looks a setting has, under which options each is read and planned, which cells wear the same one.
Leaves: reading and dressing (api, dressing), mirroring (block.mirrored), which turns show the
        same block (symmetry).
Units:  inches, finished; front view.
Method: a look is one drawing in one size, one colourway, reversed or not; the colourway may be named, or be the one
        that the drawing has anyway. A reversed block that looks like itself rotated is no look of its own:
        M B = R^-q B where R^q M B = B, so such cells are rotated instead.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, replace
from pathlib import Path

from seamwright.asked import Given, usable_options
from seamwright.block.model import Block
from seamwright.errors import Fault, FileError, OptionError, SeamwrightError, SettingError, fail
from seamwright.fabric.model import Palette, folded
from seamwright.options import DEFAULT_TOLERANCE_IN, Units
from seamwright.quilt.model import Cell, Look, Setting, Source
from seamwright.units import parse_size, quoted, say_length, say_list

_Key = tuple[str, str, bool]


@dataclass(frozen=True, slots=True)
class LookBook:
    """The looks of a quilt.

    Attributes:
        looks: each once, in the order in which cells wear them: rows first, then borders.
        worn: for each (name of the block, colourway, reversed) that a cell may ask for, its number and the quarter
            turns that the look is to be rotated beside the cell's own.
        tolerance_in: sizes that differ by less are the same.
    """

    looks: tuple[Look, ...]
    worn: Mapping[_Key, tuple[int, int]]
    tolerance_in: float = DEFAULT_TOLERANCE_IN

    def of(self, cell: Cell) -> tuple[int, int]:
        """Number of the look that a cell wears, and how it is rotated there: quarter turns clockwise, 0 to 3.

        Raises:
            KeyError: the cell is plain, or was not among those that the book was made of.
        """
        number, more = self.worn[_key(cell)]
        return number, (cell.turn.quarters + more) % 4

    def block(self, cell: Cell) -> Block:
        """The block that a cell wears, not rotated."""
        return self.looks[self.worn[_key(cell)][0]].block

    def size(self, cell: Cell) -> tuple[float, float]:
        """Finished width and height of what lies in a cell, rotated as it lies there."""
        block = self.block(cell)
        size = (block.width_in, block.height_in)
        return size[::-1] if self.of(cell)[1] % 2 else size


def read_looks(setting: Setting, cells: Iterable[Cell] = ()) -> LookBook:
    """Reads every block that rows, borders and `cells` wear.

    Args:
        cells: further ones that the quilt may come to wear.

    Raises:
        SeamwrightError: a block cannot be read, is no rectangle, or has no such colourway.
    """
    sources: dict[str, Source] = {}
    for source in setting.sources:
        if sources.setdefault(folded(source.name), source) is not source:
            what = f"two blocks are called {quoted(source.name)}"
            raise refused(setting, what, "Give one of them another name", source.line)
    read: dict[tuple[str, str, str], Block] = {}
    looks: list[Look] = []
    worn: dict[_Key, tuple[int, int]] = {}
    numbers: dict[tuple[str, str, bool], int] = {}
    for cell in (*cells_of(setting), *cells):
        if not cell.source or _key(cell) in worn:
            continue
        if folded(cell.source) not in sources:
            raise _unnamed(setting, cell)
        source = sources[folded(cell.source)]
        seen = (source.path, source.size, folded(cell.colourway))
        if seen not in read:
            read[seen] = _read(setting, source, cell)
        block, reversed_, more = read[seen], cell.turn.reversed, 0
        if reversed_:
            own = _own_mirror(block)
            if own is not None:
                reversed_, more = False, -own % 4
        number = numbers.setdefault((drawing_of(source), block.colourway, reversed_), len(looks))
        if number == len(looks):
            looks.append(_look(source, cell, block, reversed_))
        elif cell.colourway not in looks[number].asked:
            looks[number] = replace(looks[number], asked=(*looks[number].asked, cell.colourway))
        worn[_key(cell)] = (number, more)
    return LookBook(tuple(looks), worn, _tolerance(setting))


def cells_of(setting: Setting) -> Iterator[Cell]:
    """All cells that a quilt may show, row by row as stated, then those of its borders."""
    for row in setting.rows:
        yield from row
    for border in setting.borders:
        yield from (cell for cell in (border.cell, border.corner) if cell is not None)


def drawing_of(source: Source) -> str:
    """What commands call the drawing of a block: "kite.svg@8in", or its path alone where it keeps its own size."""
    size = " ".join(source.size.split())
    for unit in ("in", "cm", "mm"):
        size = size.replace(f" {unit}", unit)
    return f"{source.path}@{size}" if size else source.path


def given_to(setting: Setting, look: Look) -> Given:
    """The options under which a look is planned: the quilt's, and what its cells ask for."""
    return _given(setting, look.asked[0] if look.asked else look.colourway, reversed=look.reversed)


def _given(setting: Setting, colourway: str = "", *, reversed: bool = False) -> Given:
    """The options of the quilt, which is the palette of its blocks if it states fabrics or colourways."""
    given = list(setting.options)
    if setting.file and (setting.fabrics or setting.colourways) and "palette" not in dict(given):
        given.append(("palette", setting.file))
    if colourway:
        given.append(("colourway", colourway))
    if reversed:
        given.append(("reversed", "yes"))
    return given


def asked_with(setting: Setting, given: Given) -> Setting:
    """The setting with options of a call, which win over its own.

    A palette recolours a quilt that states no fabrics and no colourways itself, its plain pieces too.

    Raises:
        OptionError: an option says what only rows of the quilt can say, or a palette is given beside its fabrics.
        SeamwrightError: the palette cannot be read.
    """
    options = dict([*setting.options, *given])
    if options.get("reversed", "no") != "no":
        what, mend = "option reversed: a quilt says it of each block", "Write it as: row kite reversed, kite"
        raise fail(OptionError, "option", what, mend, drawing=setting.file)
    usable_options(options.items())
    fabrics, colourways = setting.fabrics, setting.colourways
    if options.get("palette"):
        if fabrics or colourways:
            what = "option palette: the quilt states fabrics of its own, which are the palette of its blocks"
            mend = "Leave the palette out, or write its lines in the quilt's file in place of those"
            raise fail(OptionError, "option", what, mend, drawing=setting.file)
        from seamwright.drawing.palette import read_palette

        palette = read_palette(Path(options["palette"]))
        fabrics, colourways = palette.fabrics, palette.colourways
    return replace(setting, options=tuple(options.items()), fabrics=fabrics, colourways=colourways)


# -- within -------------------------------------------------------------------------------------------------


def _key(cell: Cell) -> _Key:
    return folded(cell.source), folded(cell.colourway), cell.turn.reversed


def _own_mirror(block: Block) -> int | None:
    """The least quarter turns that bring a reversed block back onto itself, with its fabrics; None for no such."""
    from seamwright.quilt.symmetry import symmetries  # few quilts have reversed blocks

    return min((turn.quarters for turn in symmetries(block) if turn.reversed), default=None)


def _read(setting: Setting, source: Source, cell: Cell) -> Block:
    from seamwright.api import read_block
    from seamwright.fabric.colourways import asked_for, dressed, known_colourways

    given = {name.replace("-", "_"): text for name, text in _given(setting, cell.colourway)}
    if source.size:
        given["size"] = source.size
    loose = "palette" not in given and (setting.fabrics or setting.colourways)
    if loose:  # made in Python: its fabrics stand in no file
        given.pop("colourway", None)
    try:
        block = read_block(source.path, **given)
        if loose:
            palette = Palette("", setting.fabrics, setting.colourways, shared=True)
            known = known_colourways(block.as_drawn().colourways, palette)
            block = dressed(block, palette, asked_for(cell.colourway or block.colourway, known)[0])
    except SeamwrightError as error:
        raise _told_of(error, setting, source, cell) from error
    _must_be_rectangle(setting, source, block)
    return replace(block, file=drawing_of(source))


def _look(source: Source, cell: Cell, block: Block, reversed: bool) -> Look:
    from seamwright.block.mirrored import mirrored

    name = f"{source.name} in {block.colourway}" if block.colourway else source.name
    return Look(
        name=f"{name} reversed" if reversed else name,
        source=source.name,
        drawing=drawing_of(source),
        block=mirrored(block) if reversed else block,
        colourway=block.colourway,
        reversed=reversed,
        asked=(cell.colourway,),
    )


def _tolerance(setting: Setting) -> float:
    own = [(name, text) for name, text in setting.options if name == "tolerance"]
    return usable_options(own).tolerance_in


def _must_be_rectangle(setting: Setting, source: Source, block: Block) -> None:
    """Refuses what leaves holes beside its neighbours."""
    curved = any(block.edges[number].via for number in block.outline_edges)
    slack = 1e-6
    square_on = all(
        min(abs(x), abs(x - block.width_in)) <= slack or min(abs(y), abs(y - block.height_in)) <= slack
        for x, y in block.outline_ring()
    )
    corners = [(0.0, 0.0), (block.width_in, 0.0), (block.width_in, block.height_in), (0.0, block.height_in)]
    whole = all(
        any(abs(x - p) <= slack and abs(y - q) <= slack for x, y in block.outline_ring()) for p, q in corners
    )
    if not curved and square_on and whole:
        return
    what = f"block {source.name} ({source.path}) has {'a curved' if curved else 'no rectangular'} outline"
    what += ", and blocks of a quilt lie side by side without gaps"
    mend = "Draw it in a rectangle, with the ground round it as patches of its own"
    raise refused(setting, what, mend, source.line)


def _told_of(error: SeamwrightError, setting: Setting, source: Source, cell: Cell) -> SeamwrightError:
    """An error of a drawing as one of the quilt where the quilt's file is what has to be changed."""
    if error.code == "option" and "colourway" in str(error):
        line, column = cell.line, cell.column
    elif isinstance(error, FileError) or error.code in ("option", "size"):
        line, column = source.line, 1
    else:
        return error
    faults = tuple(
        Fault(
            fault.code,
            f"block {source.name} ({source.path}): {fault.what}",
            _for_its_line(fault.mend, source, setting.units),
            line=line or None,
            column=column if line else None,
        )
        for fault in error.faults
    )
    return type(error)(error.code, faults, setting.file)


def _for_its_line(mend: str, source: Source, units: Units) -> str:
    """A mend that speaks of the command line, for the line of a block."""
    if "--size" not in mend:
        return mend
    if not source.size:
        size = "8 in" if units is Units.INCH else "20 cm"
        return f"Give its finished size on its line: block {source.name} FILE size {size}"
    width = say_length(parse_size(source.size).width_in, units)
    return f"Give its width alone, and its height follows from its shape: size {width}"


def _unnamed(setting: Setting, cell: Cell) -> SeamwrightError:
    names = [source.name for source in setting.sources]
    there = f"There {'is' if len(names) == 1 else 'are'}: {say_list(names, most=8)}. " if names else ""
    what = f"no block is called {quoted(cell.source)}"
    mend = f"{there}Name it with a line: block {cell.source} FILE, or write 'plain {cell.source}' for a plain one"
    return refused(setting, what, mend, cell.line, cell.column)


def refused(setting: Setting, what: str, mend: str, line: int = 0, column: int = 0) -> SeamwrightError:
    """The error of a quilt that cannot be laid; one made in Python has no lines."""
    at = {"line": line, "column": column or 1} if line else {}
    return SettingError("setting", (Fault("setting", what, mend, None, **at),), setting.file)
