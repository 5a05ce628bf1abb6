"""A layered foundation as DXF, for cutters and plotters that read no SVG.

Knows:  layers with their line types and weights, where y runs up, which unit the file declares.
Leaves: what lies on which layer (layers), the format itself (ezdxf).
Units:  inches in the file, as its header says ($INSUNITS 1, $MEASUREMENT 0: DXF Reference, HEADER section).
Method: closed lines are closed polylines, words are text on the baseline. The dots at which stitching stops are
        drawn as outlines; grey tints are left out, since a machine has no use for them.
Limits: words come in whatever type the reading program has; their height and place are ours.
"""

from __future__ import annotations

import io
from typing import TYPE_CHECKING

from seamwright.files.model import HELP, TINT, TRIM, Layered
from seamwright.geometry import Point
from seamwright.ink.lettering import CAP_HEIGHT
from seamwright.ink.model import Anchor, Area, Ink, Pen, Stroke, Words

if TYPE_CHECKING:
    from ezdxf.layouts.layout import Modelspace

VERSION = "R2000"
"""Old enough for the programs that come with cutters, new enough for polylines of one piece and line weights."""
BLACK = 7
_WEIGHTS = (0, 5, 9, 13, 15, 18, 20, 25, 30, 35, 40, 50, 53, 60)
"""The line weights that the format knows, hundredths of a millimetre (DXF Reference, group code 370)."""
COMMENT = "999"
"""A comment, which readers pass over (DXF Reference, group codes)."""


DOTTED = "dotted"
"""The line type of dotted marks, on a layer whose other lines are solid."""


def to_dxf_file(drawn: Layered, made_from: str) -> bytes:
    """The DXF document.

    Args:
        made_from: the mark that tells whose file it is, such as "made by seamwright from [kite.svg]".
    """
    import ezdxf
    from ezdxf import options, units

    # Dates and random ids would make every file of one drawing another one.
    fixed, options.write_fixed_meta_data_for_testing = options.write_fixed_meta_data_for_testing, True
    try:
        document = ezdxf.new(VERSION)
        document.units = units.IN
        document.header["$MEASUREMENT"] = 0
        for name, dashes in ((TRIM, Pen.TRIM), (HELP, Pen.HELPER), (DOTTED, Pen.LAID)):
            on, off = (length / 72 for length in dashes.value.dashes_pt)
            document.linetypes.add(name, pattern=[on + off, on, -off], description=f"{name} line")
        page = document.modelspace()
        page.reset_extents((0, 0, 0), (drawn.width_in, drawn.height_in, 0))
        page.reset_limits((0, 0), (drawn.width_in, drawn.height_in))
        for name, inks in drawn.layers:
            if name == TINT:
                continue
            pens = [ink.pen for ink in inks if isinstance(ink, Stroke)]
            line = name if name in (TRIM, HELP) else "Continuous"
            document.layers.add(name, color=BLACK, linetype=line, lineweight=_weight(pens[0] if pens else Pen.RULE))
            for ink in inks:
                _add(page, name, ink, drawn.height_in)
        text = io.StringIO()
        text.write(f"{COMMENT}\n{made_from}\n")
        document.write(text)
        return document.encode(text.getvalue())
    finally:
        options.write_fixed_meta_data_for_testing = fixed


def _add(page: Modelspace, layer: str, ink: Ink, height: float) -> None:
    """One piece of ink as entities; the page's y runs down, the file's up."""

    def up(points: tuple[Point, ...]) -> list[Point]:
        return [(x, height - y) for x, y in points]

    on = {"layer": layer}
    if isinstance(ink, Stroke):
        dotted = {"linetype": DOTTED} if ink.pen is Pen.LAID else {}
        page.add_lwpolyline(up(ink.points), close=ink.closed, dxfattribs=on | dotted)
    elif isinstance(ink, Area):
        for ring in ink.rings:
            page.add_lwpolyline(up(ring), close=True, dxfattribs=on)
    else:
        _add_words(page, on, ink, up((ink.at,))[0])


def _add_words(page: Modelspace, on: dict[str, str], words: Words, at: Point) -> None:
    from ezdxf.enums import TextEntityAlignment

    sides = {
        Anchor.START: TextEntityAlignment.LEFT,
        Anchor.MIDDLE: TextEntityAlignment.CENTER,
        Anchor.END: TextEntityAlignment.RIGHT,
    }
    # %%u begins an underline (DXF Reference, TEXT).
    text = f"%%u{words.text}" if words.underline else words.text
    height = words.size_pt * CAP_HEIGHT / 72
    entity = page.add_text(text, height=height, rotation=-words.angle_deg % 360, dxfattribs=on)
    entity.set_placement(at, align=sides[words.anchor])


def _weight(pen: Pen) -> int:
    wanted = pen.value.width_pt * 2540 / 72
    return min(_WEIGHTS, key=lambda weight: abs(weight - wanted))
