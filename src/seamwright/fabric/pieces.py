"""Pieces of fabric as they are cut, one for each patch: what shape, how large, how it is laid on.

Knows:  the values only.
Leaves: working them out (cutting), proving them (rehearsal), drawing where they lie (foundation).
Units:  inches; front view, x right and y down.
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import Enum

from seamwright.geometry import Ring, Segment
from seamwright.options import Units

EXTRA_IN = {Units.INCH: 1 / 4, Units.METRIC: 0.75 / 2.54}
"""Fabric beyond the allowance: at least 1/4 in (common practice); metric as much as the allowance is wide."""


class Shape(Enum):
    """What a piece is when it is cut."""

    RECTANGLE = "rectangle"
    """Squares too."""
    HALF_SQUARE = "half-square triangle"
    """Two from a square cut once, corner to corner."""
    QUARTER_SQUARE = "quarter-square triangle"
    """Four from a square cut twice."""
    HALF_RECTANGLE = "half-rectangle triangle"
    """Two from a rectangle cut once; handed."""
    TEMPLATE = "cut by its template"
    """A rectangle from which a printed template is then cut."""


class Lay(Enum):
    """How a piece comes to lie where it belongs."""

    FIRST = "first"
    """Right side up, extra all round."""
    CENTRED = "centred"
    """Its edge on the trimmed allowance, its middle on the middle of the stitch line."""
    TICKS = "ticks"
    """Its edge on the trimmed allowance, its ends at the ticks; where two find no room, one will do."""
    ANGLED = "angled"
    """On the outline drawn for it on the foundation: on the straight grain, at the angle it has before the flip.

    Also where a patch goes round the end of its seam, so that no trimmed edge is there to lay it by."""
    PLAIN = "plain"
    """Sewn without paper, edge on edge."""


@dataclass(frozen=True, slots=True)
class Piece:
    """The fabric of one patch (or of one part of a patch that is pieced beforehand), as it is cut.

    Attributes:
        patch: patch number in the block; name: such as "A3".
        fabric: name of the fabric; None: not said.
        shape: of the piece itself.
        width_in, height_in: of the rectangle or square cut from the fabric. For rectangles on paper width runs
            along the stitch line (along the grain for ANGLED and for FIRST, along the longer side for FIRST without
            one), height across it. Triangles are laid with their long edge on the trimmed allowance where the
            stitch line is the patch's longest side, else with a short edge, square corner to square corner.
        share: how many patches are served by one such rectangle or square: 1, 2 or 4.
        outline: the piece as it lies in the end, in the block, beyond its patch on all sides.
        laid: the same before it is flipped over its stitch line; () for FIRST and PLAIN, which are not flipped.
        sure: for ANGLED corners of what it has to cover before the flip, however a hand lays it; () where nothing
            is asked of hands.
        lay: how it is laid.
        ticks: for TICKS one or two short lines across the trimmed edge, where the ends of the piece lie before the
            flip.
        grain_deg: direction of the straight grain as it lies in the end, degrees clockwise from +x, 0 <= and < 180;
            for a print that runs one way that of the print; None: any grain will do (an edge of the piece then
            still lies on a thread).
        one_way: the fabric has stripes or a print that runs one way: the piece may not be given a quarter turn.
        hand: "left" or "right" for half-rectangles, as the piece is seen right side up, stood on its shorter leg:
            the side on which the right angle lies; "" for all others.
        runs: "width" or "height" where the fabric runs one way: the side of the rectangle along the print.
        parts: of a patch that is pieced beforehand what is cut, in the order in which it is sewn together; the
            piece itself is then what comes of it. () for all others.
    """

    patch: int
    name: str
    fabric: str | None
    shape: Shape
    width_in: float
    height_in: float
    share: int
    outline: Ring
    laid: Ring = ()
    sure: Ring = ()
    lay: Lay = Lay.FIRST
    ticks: tuple[Segment, ...] = ()
    grain_deg: float | None = None
    one_way: bool = False
    hand: str = ""
    runs: str = ""
    parts: tuple[Piece, ...] = ()
