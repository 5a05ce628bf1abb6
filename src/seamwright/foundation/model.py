"""A foundation: one section as it lies on paper, mirrored, with everything the sewer needs at the needle."""

from __future__ import annotations

from dataclasses import dataclass
from enum import Enum

from seamwright.geometry import IDENTITY, Affine, Point, Ring, Segment
from seamwright.ink.model import Ink


class Use(Enum):
    """What a print is for."""

    SEW = "sew on"
    CUT = "cut by"
    VIEW = "front view"
    WINDOW = "window"


@dataclass(frozen=True, slots=True)
class LaidPiece:
    """How the fabric of a patch is laid on the paper.

    Attributes:
        how: "first", "centred", "ticks", "angled" or "plain".
        ticks: across the trimmed edge, where the ends of the piece lie.
        outline: the whole piece before it is flipped, () for one that is not flipped.
        legs: what is drawn of it. middles: ticks at the middles of its sides.
        sure: a piece can be laid by these.
    """

    how: str
    ticks: tuple[Segment, ...] = ()
    outline: Ring = ()
    legs: tuple[Segment, ...] = ()
    middles: tuple[Segment, ...] = ()
    sure: bool = True


@dataclass(frozen=True, slots=True)
class FoundationPatch:
    """One patch on the paper.

    Attributes:
        name: such as "A3". outline: its ring as printed.
        direction: where its fabric's stripes or print run, from tail to head as printed, drawn or not; None for
            fabric that looks the same all ways. striped: half a turn of it changes nothing.
        mark: the lines of its mark, () where it found no room or there is none.
        laid: how its fabric is laid on, None where nothing is sewn on the print.
    """

    name: str
    outline: Ring
    direction: Segment | None = None
    striped: bool = False
    mark: tuple[tuple[Point, ...], ...] = ()
    laid: LaidPiece | None = None


@dataclass(frozen=True, slots=True)
class Foundation:
    """One section's print, before it is placed on a sheet.

    All coordinates are inches as printed (so the mirror image of the front view), x right and y down, with
    the bounding box of the trim outline at (0, 0). The one exception: an `unmirrored` print. Places of one print
    share a drawing where they can: then only the first lies as in the block, the others are rotated.

    Attributes:
        drawing: the drawing's path; block: what it is called, its colourway and hand too; colourway: that alone, or
            ""; block_reversed: the block is the mirror image of its drawing.
        section: section name; kind: "foundation" or "plain".
        use: SEW: fabric is sewn on it, mirrored; CUT: a plain piece's printed template; VIEW: an unmirrored
            section; WINDOW: a frame to lay on fabric. All but SEW are front views.
        mirrored: True when x runs against the front view. reversed: print of the mirror image of a section.
        stitch_outline, trim_outline: rings, clockwise as printed.
        patches: in sewing order.
        seams: the stitch lines inside, without their run-on.
        marks: match marks, each from the stitch line outward to the trim line.
        stops: where stitching stops: inside corners that a line would run past, points where a join turns.
        grain: arrow for the straight grain, from tail to head.
        ink: all that is to be drawn, the lines above included.
        print: letter of its print, without the r of a reversed one.
        label: what the paper calls it: the letter of its print; the name of its (first) place where places of one
            print need different paper.
        front: from the block's front view to the print.
        also_for: names of what else it serves: patches of a window; sections of one print where it is used again.
        legend: lines of words that found no room on the print; the sheet prints them in free space beside it. Each
            is clear by itself, and may be equal to a line of another print of the block.
    """

    drawing: str
    block: str
    section: str
    kind: str
    mirrored: bool
    reversed: bool
    stitch_outline: Ring
    trim_outline: Ring
    patches: tuple[FoundationPatch, ...]
    seams: tuple[Segment, ...]
    marks: tuple[Segment, ...]
    grain: Segment
    ink: tuple[Ink, ...]
    legend: tuple[str, ...] = ()
    stops: tuple[Point, ...] = ()
    print: str = ""
    label: str = ""
    front: Affine = IDENTITY
    use: Use = Use.SEW
    also_for: tuple[str, ...] = ()
    colourway: str = ""
    block_reversed: bool = False

    @property
    def sections(self) -> tuple[str, ...]:
        """Names of all sections that it serves, its own first; of a window its own."""
        return (self.section, *(() if self.use is Use.WINDOW else self.also_for))
