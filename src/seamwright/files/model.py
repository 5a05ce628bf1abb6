"""Files for machines: one foundation to a file, its lines in named layers at true size."""

from __future__ import annotations

from dataclasses import dataclass

from seamwright.foundation.model import Foundation
from seamwright.geometry import Affine
from seamwright.ink.model import Ink

STITCH, TRIM, MARKS, HELP, FABRIC = "stitch", "trim", "marks", "help", "fabric"
TEXT, TINT, CHECK = "text", "tint", "check"
"""Names of layers: stitch lines; trim line; match marks and stops; run-ons, leaders and seams sewn beforehand;
grain, stripes and marks for laying fabric; words; tints of patches; the square that proves the scale."""


@dataclass(frozen=True, slots=True)
class Layered:
    """A foundation on a page of its own.

    Attributes:
        name: the file's name without its ending.
        foundation: what is drawn.
        affine: foundation inches -> inches of the page, a shift.
        width_in, height_in: the page.
        check_in: (x, y of the top left corner, side) of the check square.
        layers: (name, ink in inches of the page) in the order they are drawn; empty ones are left out.
    """

    name: str
    foundation: Foundation
    affine: Affine
    width_in: float
    height_in: float
    check_in: tuple[float, float, float]
    layers: tuple[tuple[str, tuple[Ink, ...]], ...]


@dataclass(frozen=True, slots=True)
class MachineFiles:
    """One foundation's files, read back and measured.

    Attributes:
        name: of the files, without endings. foundation: what they show. times: how often its plan needs it.
        svg, dxf, png: their contents.
        largest_error_mm: the farthest that any corner in the SVG or the DXF lies from its place.
    """

    name: str
    foundation: Foundation
    times: int
    svg: bytes
    dxf: bytes
    png: bytes
    largest_error_mm: float

    @property
    def contents(self) -> dict[str, bytes]:
        """Ending of each file -> what it holds."""
        return {".svg": self.svg, ".dxf": self.dxf, ".png": self.png}
