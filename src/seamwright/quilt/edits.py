"""What can be done to a quilt on the page, as values.

Knows:  every change by its name and what it needs.
Leaves: doing it (edit), what a quilt's text states (form), where its blocks come to lie (layout).
Units:  widths and sizes as typed ("1 1/2 in"), without a unit in inches, in a metric quilt in centimetres.
Method: a place is (row, column) of the centre as it is seen, from the top left; on point rows lie level. Where rows
        are repeated, a change at one place is a change at all of its repeats.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

Place = tuple[int, int]


@dataclass(frozen=True, slots=True)
class Laid:
    """What lies in a place: a block and how, or a plain piece of a fabric.

    Attributes:
        block: its name, "" for a plain piece of `fabric`. quarters: clockwise. reversed: before it is rotated.
    """

    block: str = ""
    quarters: int = 0
    reversed: bool = False
    colourway: str = ""
    fabric: str = ""


@dataclass(frozen=True, slots=True)
class Rotate:
    """Blocks rotated further, by quarter turns clockwise; plain pieces stay as they are."""

    cells: tuple[Place, ...]
    quarters: int = 1
    do: Literal["rotate"] = "rotate"


@dataclass(frozen=True, slots=True)
class Reverse:
    """Blocks as in a mirror: left and right, as they are seen in the quilt, change places."""

    cells: tuple[Place, ...]
    do: Literal["reverse"] = "reverse"


@dataclass(frozen=True, slots=True)
class Put:
    """Something laid into places. kept: a block takes the turn of the one that lay there."""

    cells: tuple[Place, ...]
    what: Laid
    kept: bool = False
    do: Literal["put"] = "put"


@dataclass(frozen=True, slots=True)
class Pattern:
    """Rows laid again and again over all of the centre.

    Attributes:
        across, down: how many places the centre has, as seen; 0: as the rows and their repeats say.
    """

    rows: tuple[tuple[Laid, ...], ...]
    across: int = 0
    down: int = 0
    do: Literal["pattern"] = "pattern"


@dataclass(frozen=True, slots=True)
class Regrid:
    """So many places across and down; on point those of the long rows. What is there goes on as it repeats.

    Attributes:
        loose: every row is written out, so that each place can be changed alone.
    """

    across: int
    down: int
    loose: bool = False
    do: Literal["grid"] = "grid"


@dataclass(frozen=True, slots=True)
class AddLine:
    """A row or column more behind one, like it. On point two rows are added, a long and a short one."""

    way: Literal["row", "column"]
    at: int
    do: Literal["add"] = "add"


@dataclass(frozen=True, slots=True)
class DropLine:
    """A row or column taken away; on point two rows."""

    way: Literal["row", "column"]
    at: int
    do: Literal["drop"] = "drop"


@dataclass(frozen=True, slots=True)
class SetOn:
    """Straight, or on point with setting triangles of a fabric."""

    point: bool
    triangles: str = ""
    do: Literal["set"] = "set"


@dataclass(frozen=True, slots=True)
class SetSashing:
    """Strips between blocks; width "": none. cornerstones: fabric of the squares where they meet, "" for none."""

    width: str
    fabric: str = ""
    cornerstones: str = ""
    outside: bool = False
    do: Literal["sashing"] = "sashing"


@dataclass(frozen=True, slots=True)
class SetBorder:
    """A border, the first is the innermost; one more than there are adds one.

    Attributes:
        kind: "" takes it away; blocks: one `block` after the other; coping: as wide as makes the next one of blocks
            come out, `width` at the least.
        corners: fabric of squares in its corners, "" for none. corner: the block in them instead.
    """

    number: int
    kind: Literal["", "butted", "mitred", "coping", "blocks"]
    width: str = ""
    fabric: str = ""
    corners: str = ""
    block: str = ""
    corner: str = ""
    do: Literal["border"] = "border"


@dataclass(frozen=True, slots=True)
class SetBinding:
    """The strip that encloses the edge; width: as cut, "" for the usual one."""

    fabric: str = ""
    width: str = ""
    none: bool = False
    do: Literal["binding"] = "binding"


@dataclass(frozen=True, slots=True)
class SetBacking:
    """The back. width: of its fabric, over: beyond the top on each side; "" for the usual."""

    fabric: str = ""
    width: str = ""
    over: str = ""
    none: bool = False
    do: Literal["backing"] = "backing"


@dataclass(frozen=True, slots=True)
class SetBatting:
    """What lies between; over: beyond the top on each side, "" for as the back."""

    over: str = ""
    none: bool = False
    do: Literal["batting"] = "batting"


@dataclass(frozen=True, slots=True)
class Fit:
    """A size to come near to: a bed's by name, or "60 x 80 in"; "" for as large as it comes out."""

    size: str
    do: Literal["fit"] = "fit"


@dataclass(frozen=True, slots=True)
class Rename:
    """The quilt's name."""

    name: str
    do: Literal["name"] = "name"


@dataclass(frozen=True, slots=True)
class SetOption:
    """An option for all blocks; "" takes it away."""

    name: str
    value: str
    do: Literal["option"] = "option"


@dataclass(frozen=True, slots=True)
class SetBlock:
    """A block that the quilt may use, by the name of its file, or a known one in another size.

    Attributes:
        size: finished; "" for the drawing's own.
    """

    name: str
    file: str = ""
    size: str = ""
    do: Literal["block"] = "block"


@dataclass(frozen=True, slots=True)
class DropBlock:
    """A block that lies nowhere is forgotten."""

    name: str
    do: Literal["drop block"] = "drop block"


@dataclass(frozen=True, slots=True)
class SetColour:
    """A fabric's colour (#rrggbb) in all blocks; what else its line says stays. It gets a line if it has none."""

    name: str
    colour: str
    do: Literal["colour"] = "colour"


@dataclass(frozen=True, slots=True)
class DropFabric:
    """A fabric's line taken away; blocks keep their own."""

    name: str
    do: Literal["drop fabric"] = "drop fabric"


Edit = (
    Rotate
    | Reverse
    | Put
    | Pattern
    | Regrid
    | AddLine
    | DropLine
    | SetOn
    | SetSashing
    | SetBorder
    | SetBinding
    | SetBacking
    | SetBatting
    | Fit
    | Rename
    | SetOption
    | SetBlock
    | DropBlock
    | SetColour
    | DropFabric
)
