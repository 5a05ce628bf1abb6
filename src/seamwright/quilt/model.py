"""A quilt: what its file states, and what comes of it.

Knows:  the values only.
Leaves: reading the file (form), where everything lies (layout, borders), proof (proof.quilt), counts and fabric
        (counts, cutting), pictures (picture.quilt).
Units:  inches, finished; front view, x to the right, y down; (0, 0) is the top left corner of the quilt inside its
        binding.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from enum import Enum

from seamwright.block.model import Block
from seamwright.fabric.model import Colourway, Fabric
from seamwright.geometry import IDENTITY, Affine, Ring, after
from seamwright.notes import Note
from seamwright.options import PlanOptions, Size, Units
from seamwright.optiontext import with_options

MOST_PLACES = 10_000
"""Of one quilt: no bed is so large."""

# -- what the file states ------------------------------------------------------------------------------------


class Set(Enum):
    """How rows of blocks lie."""

    STRAIGHT = "straight"
    ON_POINT = "on point"


@dataclass(frozen=True, slots=True)
class Turn:
    """How a block lies: first reversed (left and right change places), then rotated.

    Attributes:
        quarters: quarter turns clockwise as seen from the front, 0 to 3.
        reversed: mirror image.
    """

    quarters: int = 0
    reversed: bool = False

    def place(self, width_in: float, height_in: float) -> Affine:
        """From a block's inches to those of the cell it lies in, whose top left corner is (0, 0).

        Args:
            width_in, height_in: of the block; its cell is as high as the block is wide after a quarter turn.

        >>> Turn(1).place(6, 4)
        (0.0, 1.0, -1.0, 0.0, 4.0, 0.0)
        """
        lies: Affine = (-1.0, 0.0, 0.0, 1.0, width_in, 0.0) if self.reversed else IDENTITY
        width, height = width_in, height_in
        for _ in range(self.quarters % 4):
            lies = after(lies, (0.0, 1.0, -1.0, 0.0, height, 0.0))
            width, height = height, width
        return lies


@dataclass(frozen=True, slots=True)
class Source:
    """A block that the quilt is made of.

    Attributes:
        name: what rows call it.
        path: of its drawing, ready to be opened; the quilt's file states it from where that file lies.
        size: finished size as the file gives it ("8 in"); "" for the drawing's own.
        line: number of the line that names it, for messages.
    """

    name: str
    path: str
    size: str = ""
    line: int = 0


@dataclass(frozen=True, slots=True)
class Cell:
    """One place in a row.

    Attributes:
        source: name of the block, "" for a plain setting block.
        turn: how the block lies. colourway: of the block, "" for its own fabrics.
        fabric: of a plain setting block.
        line, column: where the file says it, for messages.
    """

    source: str = ""
    turn: Turn = Turn()
    colourway: str = ""
    fabric: str = ""
    line: int = 0
    column: int = 0


@dataclass(frozen=True, slots=True)
class Sashing:
    """Strips between blocks.

    Attributes:
        width_in: finished. fabric: of the strips.
        cornerstones: fabric of the squares where strips meet; "": strips between rows run through.
        outside: strips run round the outside of all blocks as well. On point they always do.
    """

    width_in: float
    fabric: str
    cornerstones: str = ""
    outside: bool = False


class Edging(Enum):
    """How a border meets at its corners, or what it is made of."""

    BUTTED = "butted"
    MITRED = "mitred"
    PIECED = "pieced"
    COPING = "coping"


@dataclass(frozen=True, slots=True)
class Border:
    """One border; the first is the innermost.

    Attributes:
        edging: BUTTED: sides first, then top and bottom; MITRED: corners at 45 degrees; PIECED: of one block after
            the other, its top to the outside; COPING: plain, as wide as makes the next pieced border come out.
        width_in: finished; of a PIECED one the height of its block; of a COPING one the least it may be.
        fabric: of a plain one. corners: fabric of plain squares at its corners, "" for none (of a PIECED border "":
            its block again, or what `corner` says).
        cell: what a PIECED border repeats. corner: what lies in its corners, None: `corners`, else the block again.
        line: number of its line, for messages.
    """

    edging: Edging
    width_in: float
    fabric: str = ""
    corners: str = ""
    cell: Cell | None = None
    corner: Cell | None = None
    line: int = 0


@dataclass(frozen=True, slots=True)
class Binding:
    """The strip that encloses the edge, folded double.

    Attributes:
        fabric: its name. width_in: as cut; None: not stated, so that of common practice.
    """

    fabric: str = ""
    width_in: float | None = None


@dataclass(frozen=True, slots=True)
class Backing:
    """The back.

    Attributes:
        fabric: its name. width_in: usable width of it, None for the usual one.
        over_in: beyond the top on each side; None: not stated, so that of common practice.
    """

    fabric: str = ""
    width_in: float | None = None
    over_in: float | None = None


@dataclass(frozen=True, slots=True)
class Batting:
    """What lies between top and back. over_in: beyond the top on each side; None: not stated, as for the back."""

    over_in: float | None = None


@dataclass(frozen=True, slots=True)
class Wanted:
    """A size to come near to: a bed's, by name, or one of its own.

    Attributes:
        name: "crib", "lap", "twin", "queen", "king", or "" for a size of its own. size: of the quilt.
        repeats: rows may be repeated to come near to it; False where the file says how often they are.
    """

    name: str
    size: Size
    repeats: bool = True


@dataclass(frozen=True, slots=True)
class Setting:
    """A quilt as its file states it.

    Attributes:
        name: of the quilt. file: its path.
        sources: its blocks, in the order of their lines.
        rows: as stated, the first is the top one. On point the rows lie level, with points up: rows of n and of
            n - 1 take turns, the first and the last are of n. Cells of such a row are rotated 45 degrees clockwise
            from how they would lie in a straight set, and then by their own turn.
        repeat: how many times the rows stated are repeated across and down; `cells` has what comes of it. On point
            rows that are repeated are all stated with the same number of blocks.
        set: STRAIGHT or ON_POINT.
        triangles: fabric of the side and corner setting triangles of a quilt on point.
        sashing: None for none. borders: the innermost first.
        binding, backing, batting: None: the quilt has none, and none is counted.
        wanted: fit to a size; None: as big as it comes out.
        fabrics, colourways: as in a palette they recolour all blocks; they also name what plain pieces are of.
        options: (long name, text) that hold for all of its blocks.
        notes: what was assumed.
    """

    name: str
    file: str
    sources: tuple[Source, ...]
    rows: tuple[tuple[Cell, ...], ...]
    repeat: tuple[int, int] = (1, 1)
    set: Set = Set.STRAIGHT
    triangles: str = ""
    sashing: Sashing | None = None
    borders: tuple[Border, ...] = ()
    binding: Binding | None = Binding()
    backing: Backing | None = Backing()
    batting: Batting | None = Batting()
    wanted: Wanted | None = None
    fabrics: tuple[Fabric, ...] = ()
    colourways: tuple[Colourway, ...] = ()
    options: tuple[tuple[str, str], ...] = ()
    notes: tuple[Note, ...] = ()

    @property
    def files(self) -> list[str]:
        """What it is made from: its own file, if it has one, then its blocks' drawings."""
        paths = (self.file, *(source.path for source in self.sources))
        return [path for path in dict.fromkeys(paths) if path]

    @property
    def units(self) -> Units:
        """In what its lengths are said."""
        return with_options(PlanOptions(), [pair for pair in self.options if pair[0] == "units"]).units

    @property
    def cells(self) -> tuple[tuple[Cell, ...], ...]:
        """All rows of the centre, repeated.

        On point rows stated with the same number of blocks are cut to the shape: every second one loses its last
        block, and where the number of rows comes out even, the last one is left out. One block wide it is a column
        of blocks, none of them lost, with nothing between them.
        """
        across, down = self.repeat
        rows = tuple(row * across for row in self.rows) * down
        if self.set is Set.ON_POINT and all(len(row) == 1 for row in rows):
            return tuple(row for each in rows for row in (each, ()))[:-1]
        if self.set is Set.STRAIGHT or len({len(row) for row in self.rows}) > 1:
            return rows
        return tuple(row[:-1] if number % 2 else row for number, row in enumerate(rows[: (len(rows) - 1) | 1]))


# -- what comes of it ----------------------------------------------------------------------------------------


@dataclass(frozen=True, slots=True)
class Look:
    """A block as it is sewn: one drawing, in one size, in one colourway, reversed or not.

    Attributes:
        name: what people call it: "kite", "kite in dusk reversed".
        source: name of its block. drawing: path and size, as commands take them ("kite.svg@8in").
        block: as seen from the front, not rotated; already mirrored if `reversed`.
        colourway: "" for the quilt's own fabrics. reversed: its foundations are reversed ones.
        asked: what cells say to ask for that colourway: its name, or nothing where the drawing has it anyway.
    """

    name: str
    source: str
    drawing: str
    block: Block
    colourway: str = ""
    reversed: bool = False
    asked: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Spot:
    """A block in the quilt.

    Attributes:
        look: number of its look. quarters: how it is rotated, clockwise, beside the 45 degrees of a set on point.
        place: from the look's inches to the quilt's. part: "centre", or "border 1" and so on.
        row, column: within its part, as rows are sewn; neighbours in a row and from row to row differ by one. On
            point sewn rows run from the upper left to the lower right, row 0 is the triangle in the top right
            corner, and setting triangles have places at both ends of rows. Of a border the side (0 top, 1 right, 2
            bottom, 3 left) and the place along it, clockwise.
    """

    look: int
    quarters: int
    place: Affine
    part: str
    row: int
    column: int


SIDES = ("top", "right", "bottom", "left")
"""Of a quilt, as rows of its borders are numbered."""


class Role(Enum):
    """What a plain piece of the quilt is."""

    SETTING_BLOCK = "setting block"
    SIDE_TRIANGLE = "side triangle"
    CORNER_TRIANGLE = "corner triangle"
    SASH = "sash"
    CORNERSTONE = "cornerstone"
    HALF_CORNERSTONE = "half cornerstone"
    COPING = "coping strip"
    BORDER = "border strip"
    BORDER_CORNER = "border corner"


@dataclass(frozen=True, slots=True)
class Cloth:
    """A plain piece of the quilt top.

    Attributes:
        role: what it is. ring: its finished shape in the quilt, clockwise. fabric: its name.
        part: "centre", or "border 1" and so on. row, column: as of a spot; of a sash
            or cornerstone those of the place behind or below it.
        width_in, height_in: finished, as it lies flat before it is set: of a rectangle its sides; of a triangle the
            legs at its right angle; of a strip with slanted ends its length from tip to tip and its width.
        grain_deg: direction in the quilt, degrees clockwise from level, that must lie on the straight grain; None:
            either side.
    """

    role: Role
    ring: Ring
    fabric: str
    part: str
    row: int
    column: int
    width_in: float
    height_in: float
    grain_deg: float | None = None


@dataclass(frozen=True, slots=True)
class Quilt:
    """A quilt top, worked out.

    Attributes:
        setting: what was stated; rows are still those of the file.
        width_in, height_in: finished.
        rows, columns: how many cells the centre has; on point the longer rows are counted, and their cells.
        cell_in: finished width and height of a cell.
        looks: what is sewn, each once. spots: where its blocks lie. cloths: all plain pieces.
        borders_in: finished widths of each border, the innermost first: at left and right, at top and bottom. They
            differ where coping strips do.
        construction: what setting triangles on point with sashing are cut for, in words, "" for none.
        notes: what was assumed, and advice.
    """

    setting: Setting
    width_in: float
    height_in: float
    rows: int
    columns: int
    cell_in: tuple[float, float]
    looks: tuple[Look, ...]
    spots: tuple[Spot, ...]
    cloths: tuple[Cloth, ...]
    borders_in: tuple[tuple[float, float], ...] = ()
    construction: str = ""
    notes: tuple[Note, ...] = ()

    @property
    def fabrics(self) -> tuple[Fabric, ...]:
        """All fabrics by name, in order of appearance; those of the setting first.

        Of a fabric that several blocks speak of, the first one counts that says what colour it is.
        """
        found: dict[str, Fabric] = {fabric.name: fabric for fabric in self.setting.fabrics}
        for look in self.looks:
            for fabric in look.block.fabrics:
                if (found.setdefault(fabric.name, fabric)).colour is None and fabric.colour is not None:
                    found[fabric.name] = fabric
        for cloth in self.cloths:
            if cloth.fabric:
                # A fabric called by a colour is of that colour, as in a drawing.
                colour = cloth.fabric.lower() if re.fullmatch("#[0-9a-fA-F]{6}", cloth.fabric) else None
                found.setdefault(cloth.fabric, Fabric(cloth.fabric, colour=colour))
        return tuple(found.values())
