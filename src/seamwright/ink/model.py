"""Marks on paper or screen: the only thing that page drawing knows.

A foundation, a key, a picture and a whole sheet are all tuples of these. Coordinates are in the unit of
whatever holds them; sizes of type and pens are always in points (1/72 in), so moving ink never scales them.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from enum import Enum
from typing import Any

from seamwright.geometry import Affine, Box, Point, moved


@dataclass(frozen=True, slots=True)
class PenStyle:
    """Weight in points and dash lengths in points (() for a solid line)."""

    width_pt: float
    dashes_pt: tuple[float, ...] = ()


class Pen(Enum):
    """Lines told apart by weight and pattern, never by colour alone."""

    STITCH = PenStyle(0.9)
    TRIM = PenStyle(0.6, (7.0, 3.0))
    HELPER = PenStyle(0.5, (2.0, 2.0))
    MARK = PenStyle(1.2)
    RULE = PenStyle(0.6)
    BOLD = PenStyle(1.8)
    LAID = PenStyle(0.6, (1.2, 1.6))
    # The same, sparing ink; no two may be equal, or they would be one.
    THIN_STITCH = PenStyle(0.7)
    THIN_TRIM = PenStyle(0.5, (6.0, 4.0))
    THIN_HELPER = PenStyle(0.5, (1.5, 2.5))
    THIN_MARK = PenStyle(1.0)
    THIN_RULE = PenStyle(0.5)
    THIN_BOLD = PenStyle(1.4)
    THIN_LAID = PenStyle(0.6, (1.2, 2.0))
    # The same lines on a print for the wall, to be seen across a room.
    WALL_STITCH = PenStyle(2.7)
    WALL_TRIM = PenStyle(1.5, (20.0, 8.0))
    WALL_HELPER = PenStyle(1.2, (5.0, 5.0))
    WALL_MARK = PenStyle(3.6)
    WALL_RULE = PenStyle(1.6)
    WALL_LAID = PenStyle(1.6, (2.5, 4.0))
    # Seams of whole quilts drawn small: in colour pictures only, where a line lost on a copier misleads nobody.
    FINE_SEAM = PenStyle(0.4)
    FINEST_SEAM = PenStyle(0.25)


class Anchor(Enum):
    """Which part of the words lies on their point: along the baseline direction."""

    START = "start"
    MIDDLE = "middle"
    END = "end"


@dataclass(frozen=True, slots=True)
class Stroke:
    """A line through points; closed joins the last to the first. Never filled."""

    pen: Pen
    points: tuple[Point, ...]
    closed: bool = False
    colour: str = "#000000"


@dataclass(frozen=True, slots=True)
class Area:
    """A filled area; rings after the first are holes (even-odd)."""

    rings: tuple[tuple[Point, ...], ...]
    colour: str


@dataclass(frozen=True, slots=True)
class Words:
    """One line of words in the bundled type.

    Attributes:
        at: point on the baseline; `anchor` says which part of the words lies there.
        size_pt: type size.
        angle_deg: clockwise as seen, about `at`.
        underline: as 6 and 9 need it.
    """

    text: str
    at: Point
    size_pt: float
    anchor: Anchor = Anchor.START
    angle_deg: float = 0.0
    bold: bool = False
    underline: bool = False
    colour: str = "#000000"


Ink = Stroke | Area | Words


@dataclass(frozen=True, slots=True)
class Segments:
    """Thousands of straight lines of one pen and colour.

    Attributes:
        ends: numpy array, shape (n, 2, 2): start and end of each.
    """

    pen: Pen
    ends: Any
    colour: str = "#000000"


@dataclass(frozen=True, slots=True)
class Repeated:
    """Ink that comes again and again, written once where a file can do that.

    Attributes:
        inks: of one of them, no words.
        places: from it to the page, one for each; they turn, mirror and shift, and never scale, so that pens keep
            their weight.
        window: the only part of the page that shows them, None for all of it.
    """

    inks: tuple[Stroke | Area | Segments, ...]
    places: tuple[Affine, ...]
    window: Box | None = None


def move_ink(ink: Ink, affine: Affine, turn_deg: float = 0.0) -> Ink:
    """The ink under `affine`; words turn by `turn_deg` more and are never mirrored or scaled."""
    if isinstance(ink, Stroke):
        return replace(ink, points=tuple(moved(affine, p) for p in ink.points))
    if isinstance(ink, Area):
        return replace(ink, rings=tuple(tuple(moved(affine, p) for p in ring) for ring in ink.rings))
    return replace(ink, at=moved(affine, ink.at), angle_deg=ink.angle_deg + turn_deg)
