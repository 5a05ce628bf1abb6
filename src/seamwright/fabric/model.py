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
        direction_deg: angle of stripe or print as it shows in the block, degrees clockwise from +x, or None for none.
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


@dataclass(frozen=True, slots=True)
class Colourway:
    """Another set of fabrics for the same block.

    Attributes:
        name: as its owner calls it.
        changes: pairs (fabric, fabric in its place), both by name; fabrics not named stay.
    """

    name: str
    changes: tuple[tuple[str, str], ...]
