"""Fabrics as the drawing names them."""

from __future__ import annotations

from dataclasses import dataclass
from enum import Enum


class Value(Enum):
    """How light or dark a fabric reads."""

    LIGHT = "light"
    MEDIUM = "medium"
    DARK = "dark"


@dataclass(frozen=True, slots=True)
class Fabric:
    """One fabric.

    Attributes:
        name: as its owner calls it; "#rrggbb" when only a colour is known. Unique in a block.
        code: short form for small patches; "" for none given.
        colour: sRGB "#rrggbb" in lower case, or None.
        value: light, medium or dark, or None if not said.
        warmth: "warm", "cool" or "".
        direction_deg: angle of stripe or print as it shows in the block, degrees clockwise from +x, None for
            none.
        width_in: usable width, or None for the usual one.
        striped: the direction is that of stripes, which have no top: half a turn changes nothing. Else it is where
            the print runs.
    """

    name: str
    code: str = ""
    colour: str | None = None
    value: Value | None = None
    warmth: str = ""
    direction_deg: float | None = None
    width_in: float | None = None
    striped: bool = False


RESERVED = {"all": "all colourways", "own": "the drawing's own fabrics"}
"""Words that ask for colourways and name none."""


def folded(name: str) -> str:
    """A name as it is looked for: case and spaces do not count.

    >>> folded("Night  Sky") == folded("night sky")
    True
    """
    return " ".join(name.split()).casefold()


@dataclass(frozen=True, slots=True)
class Colourway:
    """Another set of fabrics for the same block.

    Attributes:
        name: as its owner calls it.
        changes: pairs (fabric, fabric in its place), both by name; fabrics not named stay.
    """

    name: str
    changes: tuple[tuple[str, str], ...]


@dataclass(frozen=True, slots=True)
class Palette:
    """Fabrics that recolour blocks.

    Attributes:
        file: its path, for messages.
        fabrics: in the order of its lines; names differ.
        colourways: sets of fabrics; what they name may be a fabric of the block as well as of the palette.
        places: (name of a fabric, line, column) of all that colourways name, for messages.
        shared: its lines are for a whole quilt, so that one which fits nothing in a block is no slip.
    """

    file: str
    fabrics: tuple[Fabric, ...]
    colourways: tuple[Colourway, ...] = ()
    places: tuple[tuple[str, int, int], ...] = ()
    shared: bool = False
