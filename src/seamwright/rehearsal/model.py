"""What is sewn in a rehearsal, and what came of it.

Knows:  patches, sections and joins as bare coordinates: nothing tells where to stitch, a rehearsal must find out.
Leaves: sewing (sew, rehearse), hands (hands), pictures (pictures).
Units:  inches, front view, x right and y down.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from seamwright.geometry import Point, Ring, Segment
from seamwright.notes import Note

if TYPE_CHECKING:
    from shapely.geometry.base import BaseGeometry

EXTRA_IN = 1 / 4
"""Fabric beyond the allowance, on all sides but the stitched one (common practice)."""


# -- what is to be sewn -----------------------------------------------------------------------------------


@dataclass(frozen=True, slots=True)
class PieceToLay:
    """The real piece of fabric of a patch: what is cut, and what tells where it is laid.

    Attributes:
        name: of its patch.
        shape: "rectangle", "half-square triangle", "quarter-square triangle", "half-rectangle triangle" or
            "cut by its template".
        width, height: of the rectangle or square that is cut.
        lay: "first": by eye, extra all round; "centred": on the middle of the line; "ticks"; "angled": by
            `edges` and `middles`, or on the outline drawn for what is pieced; "plain": by eye, without extra.
        hand: of a half-rectangle, stood on its shorter leg, the side of its right angle, "left" or "right".
        ticks, drawn: as they lie on the foundation, front view.
        edges: of an angled piece stretches on which its edges lie, as they are printed; middles: short lines across
            its edges at their middles.
        folded: the paper says in words that it is pinned over its patch and folded back.
        grain_deg: where the straight grain has to lie in the end, or the print if it runs one way; None: anywhere.
        runs: side of the rectangle along which a one-way print runs, "width" or "height"; "" for none.
    """

    name: str
    shape: str
    width: float
    height: float
    lay: str
    hand: str = ""
    ticks: tuple[Segment, ...] = ()
    drawn: Ring = ()
    edges: tuple[Segment, ...] = ()
    middles: tuple[Segment, ...] = ()
    folded: bool = False
    grain_deg: float | None = None
    runs: str = ""


@dataclass(frozen=True, slots=True)
class PartToSew:
    """One part of a patch that is pieced beforehand: the ring round it, and the rectangle that is cut for it.

    `width` runs along the first side of the piece that the parts make, `height` across it.
    """

    ring: Ring
    width: float
    height: float


@dataclass(frozen=True, slots=True)
class PatchToSew:
    """One patch: its name, the ring round it, and the fabric it is cut from (None: not said).

    `piece` is the fabric as it is really cut; None: hands cut the least that will do. `parts` are those that it is
    sewn of before it is laid on, in that order; () for a patch of one fabric.
    """

    name: str
    ring: Ring
    fabric: str | None = None
    piece: PieceToLay | None = None
    parts: tuple[PartToSew, ...] = ()


@dataclass(frozen=True, slots=True)
class SectionToSew:
    """Patches in sewing order, and the ring round all of them. One patch alone is a plain piece.

    It is trimmed along `trim`; () for the outline grown by the allowance, its tips cut off. `by_ruler`: it is cut
    by ruler and sewn without paper.
    """

    name: str
    patches: tuple[PatchToSew, ...]
    outline: Ring
    trim: Ring = ()
    by_ruler: bool = False


@dataclass(frozen=True, slots=True)
class JoinToSew:
    """Two parts laid right sides together and sewn where they meet; `kind` as in a plan's joins.

    At `turns` it pivots or closes a seam that was left open: what ends there inside a section stops there.
    """

    first: str
    second: str
    makes: str
    kind: str = "straight"
    turns: tuple[Point, ...] = ()


@dataclass(frozen=True, slots=True)
class Sewing:
    """A whole block to be sewn.

    Attributes:
        sections: in any order; joins: in sewing order.
        outline: round the finished block.
        allowance_in: seam allowance.
        extra_in: what every piece of fabric has beyond it.
        edges: the straight sides of the outline, on which grain may lie; None: it has no curves.
    """

    sections: tuple[SectionToSew, ...]
    joins: tuple[JoinToSew, ...]
    outline: Ring
    allowance_in: float
    extra_in: float = EXTRA_IN
    edges: tuple[Segment, ...] | None = None


# -- what came of it --------------------------------------------------------------------------------------


@dataclass(frozen=True, slots=True)
class Cloth:
    """One layer on the table.

    Attributes:
        patch: name of the patch it is for.
        shape: where it lies, front view.
        right_side_up: its right side looks at us.
    """

    patch: str
    shape: BaseGeometry
    right_side_up: bool


@dataclass(frozen=True, slots=True)
class Stitched:
    """A seam as the rehearsal found and stitched it.

    Attributes:
        start, end: of the border between the new patch and what was sewn before.
        needle: where stitching starts and ends: beyond the border, into the allowance, unless it stops dead.
        stops: ends of the border at which it stops dead, for the line runs on into what is sewn, or a join turns
            there.
        clear: all that was sewn before lies on one side of the line, so the paper folds along all of it.
        clipped: the new patch lies on both sides of the line, so its fabric is clipped to the end of the seam.
    """

    start: Point
    end: Point
    needle: tuple[Point, Point]
    stops: tuple[Point, ...] = ()
    clear: bool = True
    clipped: bool = False


@dataclass(frozen=True, slots=True)
class SewnStep:
    """One patch laid on.

    Attributes:
        patch: its name; number: from 1.
        width_in, height_in: the piece of fabric, along the stitch line and across it; of a real piece the rectangle
            or square that is cut for it.
        laid: where the fabric lies before it is flipped (the first patch is laid as it stays).
        seam: None for the first patch.
        trimmed_off: what the scissors took off the allowance of earlier patches; None if nothing.
        cleared: what of the new fabric lay on another arm of the section and was cut off there; None if nothing.
        table: all layers after the step, the lowest first.
        piece: the real piece that was laid; None where hands cut their own.
        side: of a triangle that which lay on the trimmed edge: "long", "short", "longer short", "shorter short".
    """

    patch: str
    number: int
    width_in: float
    height_in: float
    laid: BaseGeometry
    seam: Stitched | None
    trimmed_off: BaseGeometry | None
    cleared: BaseGeometry | None
    table: tuple[Cloth, ...]
    piece: PieceToLay | None = None
    side: str = ""


@dataclass(frozen=True, slots=True)
class SewnSection:
    """A section, sewn and trimmed.

    Attributes:
        steps: in sewing order.
        trim: inside of its trim line.
        shown: what of each patch's fabric shows after trimming, allowance included, in sewing order.
    """

    name: str
    steps: tuple[SewnStep, ...]
    trim: BaseGeometry
    shown: tuple[Cloth, ...]


@dataclass(frozen=True, slots=True)
class SewnJoin:
    """Two parts sewn together; `runs` are the stretches of border along which they met."""

    first: str
    second: str
    makes: str
    kind: str
    runs: tuple[tuple[Point, ...], ...]


@dataclass(frozen=True, slots=True)
class Rehearsed:
    """A block sewn to the end, and how it compares with the drawing.

    Attributes:
        sections: in the order given; joins: in sewing order.
        steps: patches laid on, all in all.
        largest_share: the largest difference between a patch as it shows and as it was drawn, as a share of the
            block's area.
        notes: places where the sewer has to take care.
    """

    sections: tuple[SewnSection, ...]
    joins: tuple[SewnJoin, ...]
    steps: int
    largest_share: float
    notes: tuple[Note, ...] = ()
