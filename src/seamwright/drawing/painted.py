"""What a vector drawing paints, in inches, before anyone asks what shows.

Knows:  shapes with their fill and stroke, in painting order.
Leaves: what covers what (visible), what the ink means (ink_outlines).
Units:  inches, x right, y down.
"""

from __future__ import annotations

from dataclasses import dataclass

from seamwright.drawing.pieces import Run


@dataclass(frozen=True, slots=True)
class Painted:
    """One shape as it is painted.

    Attributes:
        runs: its subpaths.
        source: its name, for messages.
        layer: the layer it lies in, "" if none.
        fill: name of its fabric ("#rrggbb"), None if it is not filled.
        colour: "#rrggbb" of the fill, None if there is none or it is a pattern.
        opaque: the fill hides what lies beneath.
        evenodd: fill rule.
        stroked: it has a visible stroke.
        stroke: "#rrggbb" of the stroke, None if not stroked or a pattern.
        stroke_in: width of the stroke, inches; 0 if not stroked.
        round: it was drawn as a circle or an ellipse.
        border: it paints nothing, but its runs are borders of patches (read from ink).
    """

    runs: tuple[Run, ...]
    source: str
    layer: str = ""
    fill: str | None = None
    colour: str | None = None
    opaque: bool = True
    evenodd: bool = False
    stroked: bool = False
    stroke: str | None = None
    stroke_in: float = 0.0
    round: bool = False
    border: bool = False
