"""What can be done to a drawing on the page, as values.

Knows:  every change by its name and what it needs.
Leaves: doing it (change), what a text states (drawing.textform).
Units:  points in inches of the finished block, front view; angles in degrees clockwise from level; lengths and
        sizes as typed ("2 1/2 in"), counted in the unit of the drawing's size where none is typed.
Method: seams and points are named by where they lie, not by number: a change that waits behind another still means
        the same line.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from seamwright.geometry import Point

Piece = tuple[Point, ...]
"""Part of a seam by its two ends; of a curve also by points between, else the straight one that joins them."""


@dataclass(frozen=True, slots=True)
class Draw:
    """A straight seam through points, one after the other."""

    points: tuple[Point, ...]
    do: Literal["draw"] = "draw"


@dataclass(frozen=True, slots=True)
class DrawLength:
    """A straight seam from a point, of a typed length in a typed direction."""

    start: Point
    degrees: float
    length: str
    do: Literal["draw length"] = "draw length"


@dataclass(frozen=True, slots=True)
class DrawArc:
    """Part of a circle from a point through a point to a point."""

    start: Point
    through: Point
    end: Point
    do: Literal["draw arc"] = "draw arc"


@dataclass(frozen=True, slots=True)
class Move:
    """A point with all seams that end, bend, cross or meet in it; what ended on a moved seam still ends on it."""

    start: Point
    end: Point
    do: Literal["move"] = "move"


@dataclass(frozen=True, slots=True)
class Erase:
    """Pieces of seams; the points of a piece as the view gives them will do."""

    seams: tuple[Piece, ...]
    do: Literal["erase"] = "erase"


@dataclass(frozen=True, slots=True)
class Copies:
    """Seams repeated round a point, so that there are 2, 4, 6 or 8 of each; mirrored: every other a mirror image.

    Attributes:
        seams: pieces; () for all seams.
        count: 2, 4, 6, 8; 1 with `mirrored` for one mirror image.
        degrees: of the mirror line through the point, clockwise from level; of no meaning if nothing is mirrored.
    """

    about: Point
    count: int
    seams: tuple[Piece, ...] = ()
    mirrored: bool = False
    degrees: float = 90.0
    do: Literal["copies"] = "copies"


@dataclass(frozen=True, slots=True)
class Outline:
    """The block's shape: a name ("rectangle", "hexagon", ...) or its corners; seams outside of it are cut off."""

    shape: str = ""
    corners: tuple[Point, ...] = ()
    do: Literal["outline"] = "outline"


@dataclass(frozen=True, slots=True)
class Resize:
    """The finished size, "8 in" or "8 x 12 in"; the drawing grows with it."""

    size: str
    do: Literal["size"] = "size"


@dataclass(frozen=True, slots=True)
class Regrid:
    """The grid, squares across and down; 0 for no grid. The drawing stays where it is."""

    across: int
    down: int = 0
    do: Literal["grid"] = "grid"


@dataclass(frozen=True, slots=True)
class Rename:
    """The block's name."""

    name: str
    do: Literal["name"] = "name"


@dataclass(frozen=True, slots=True)
class SetOption:
    """An option that the drawing holds; "" takes it away."""

    name: str
    value: str
    do: Literal["option"] = "option"


@dataclass(frozen=True, slots=True)
class Paint:
    """A patch is of a fabric; "" takes the fabric off.

    Attributes:
        ring, holes: of the patch, inches of the drawing: what was laid inside of it before goes.
    """

    fabric: str
    ring: tuple[Point, ...]
    holes: tuple[tuple[Point, ...], ...] = ()
    do: Literal["paint"] = "paint"


@dataclass(frozen=True, slots=True)
class SetFabric:
    """A fabric's line, made or changed; with `was` it is renamed wherever it stands.

    Attributes:
        name: as its owner calls it; all else as typed in a fabric line behind the word that says what it is, "" for
            what is not said.
        warmth: "warm" or "cool". stripes, direction: degrees; one of them at most.
    """

    name: str
    was: str = ""
    colour: str = ""
    value: str = ""
    warmth: str = ""
    code: str = ""
    stripes: str = ""
    direction: str = ""
    width: str = ""
    do: Literal["fabric"] = "fabric"


@dataclass(frozen=True, slots=True)
class DropFabric:
    """A fabric taken away; patches of it are of none."""

    name: str
    do: Literal["drop fabric"] = "drop fabric"


@dataclass(frozen=True, slots=True)
class SetColourway:
    """In a colourway a fabric becomes another; "" lets it stay as it is. The colourway is made if there is none."""

    name: str
    fabric: str
    becomes: str
    do: Literal["colourway"] = "colourway"


@dataclass(frozen=True, slots=True)
class DropColourway:
    """A colourway taken away; with `becomes` renamed."""

    name: str
    becomes: str = ""
    do: Literal["drop colourway"] = "drop colourway"


Edit = (
    Draw
    | DrawLength
    | DrawArc
    | Move
    | Erase
    | Copies
    | Outline
    | Resize
    | Regrid
    | Rename
    | SetOption
    | Paint
    | SetFabric
    | DropFabric
    | SetColourway
    | DropColourway
)
