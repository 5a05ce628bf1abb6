"""What a laid quilt claims: patches of its looks, where they lie, what was asked for in each place, plain pieces.

Knows:  the values only, bare coordinates.
Leaves: judging them (proof.quilt), making them from a quilt (claims.quilts).
Units:  inches, finished; front view, x to the right, y down; affines as in `seamwright.geometry`.
"""

from __future__ import annotations

from dataclasses import dataclass

from seamwright.geometry import Affine, Ring


@dataclass(frozen=True, slots=True)
class ClaimedPatch:
    """A patch: the ring round it, rings round what floats in it, its fabric ("" for none named)."""

    ring: Ring
    holes: tuple[Ring, ...] = ()
    fabric: str = ""


@dataclass(frozen=True, slots=True)
class ClaimedLook:
    """A block as it is sewn.

    Attributes:
        name: what people call it. outline: round it. patches: as sewn, front view, not rotated.
    """

    name: str
    outline: Ring
    patches: tuple[ClaimedPatch, ...]


@dataclass(frozen=True, slots=True)
class ClaimedCell:
    """What was asked for in one place.

    Attributes:
        drawn: number of the drawing, None for a plain setting block.
        reversed, turn_deg: how it lies: its left and right change places first, then it is rotated clockwise.
        fabric: of a plain one.
    """

    drawn: int | None
    reversed: bool = False
    turn_deg: float = 0.0
    fabric: str = ""


@dataclass(frozen=True, slots=True)
class ClaimedSpot:
    """A look in the quilt.

    Attributes:
        look: its number. place: from its inches to the quilt's.
        where: for messages.
        asked: what was asked for there; None: it lies in one of the centre's rows, and those say it.
    """

    look: int
    place: Affine
    where: str
    asked: ClaimedCell | None = None


@dataclass(frozen=True, slots=True)
class ClaimedCloth:
    """A plain piece.

    Attributes:
        ring: its shape in the quilt. width_in, height_in: its sides as said (see `seamwright.quilt.model.Cloth`).
        where: for messages. fabric: its name.
        in_row: it fills a place in one of the centre's rows.
    """

    ring: Ring
    width_in: float
    height_in: float
    where: str
    fabric: str = ""
    in_row: bool = False


@dataclass(frozen=True, slots=True)
class QuiltClaim:
    """A whole quilt top.

    Attributes:
        width_in, height_in: of it.
        drawn: the patches of each drawing in each of its colourways, as drawn, in the size that it is sewn in.
        rows: what was asked for in the centre, as one reads it: from the left, row by row from the top.
        looks, spots, cloths: see there.
        ease_in: what a block may be longer or shorter than drawn, as the sewer was told.
    """

    width_in: float
    height_in: float
    drawn: tuple[tuple[ClaimedPatch, ...], ...]
    rows: tuple[tuple[ClaimedCell, ...], ...]
    looks: tuple[ClaimedLook, ...]
    spots: tuple[ClaimedSpot, ...]
    cloths: tuple[ClaimedCloth, ...]
    ease_in: float = 0.0
