"""Sheets: foundations laid on paper, with the furniture that proves the scale.

PDF, JSON and pictures are all drawn from these values and from nothing else.
"""

from __future__ import annotations

from dataclasses import dataclass

from seamwright.foundation.model import Foundation
from seamwright.geometry import Affine, Segment
from seamwright.ink.model import Ink


@dataclass(frozen=True, slots=True)
class Tile:
    """Which part of a foundation larger than the sheet this is.

    Attributes:
        row, column: from 1. of: how many parts.
        window: the rectangle (least x, least y, greatest x, greatest y) that the part shows, points in the frame of
            the parts: the foundation as large as printed, rotated by `angle_deg` about its origin.
    """

    row: int
    column: int
    of: int
    window: tuple[float, float, float, float] = (0.0, 0.0, 0.0, 0.0)
    angle_deg: float = 0.0


@dataclass(frozen=True, slots=True)
class InSet:
    """Where a sheet stands where every copy is a set of sheets of its own, all counted from 1.

    Attributes:
        set: which set; sets: how many.
        sheet: which sheet of its set; sheets: how many to a set.
    """

    set: int
    sets: int
    sheet: int
    sheets: int


@dataclass(frozen=True, slots=True)
class Placed:
    """A foundation on a sheet.

    Attributes:
        foundation: what is printed.
        affine: foundation inches -> sheet points (72 to the inch, more on an enlarged sheet), a rotation and a
            shift, never a mirror.
        copy: from 1.
        tile: None for a whole foundation.
        block: what its block is called in this run: its name, and its size where that tells two apart; "" for the
            one block of a run.
    """

    foundation: Foundation
    affine: Affine
    copy: int = 1
    tile: Tile | None = None
    block: str = ""


@dataclass(frozen=True, slots=True)
class ForQuilt:
    """The quilt that a run of prints is for.

    Attributes:
        name: what it is called, "" for nothing.
        blocks: how many blocks of each plan of the run it has.
        files: what it is made from, its own file first; () for one that has none.
    """

    name: str
    blocks: tuple[int, ...]
    files: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Sheet:
    """One page.

    Attributes:
        number: from 1, the page in the file; of: how many pages.
        paper: its name; width_pt, height_pt: its size.
        placed: foundations on it.
        check_squares_pt: (x, y of the top left corner, side), the 1 in one first, then the 5 cm one.
        check_lines_pt: the long lines, one each way.
        ink: everything drawn, in points from the top left corner, foundations included.
        title: the page's bookmark.
        enlarged: how many times as large as for sewing its prints are; the squares and long lines stay true.
        in_set: which sheet of which set, where every copy is a set of its own.
    """

    number: int
    of: int
    paper: str
    width_pt: float
    height_pt: float
    placed: tuple[Placed, ...]
    check_squares_pt: tuple[tuple[float, float, float], ...]
    check_lines_pt: tuple[Segment, ...]
    ink: tuple[Ink, ...]
    title: str
    in_set: InSet | None = None
    enlarged: float = 1.0
