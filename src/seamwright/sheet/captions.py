"""Names beside prints that have no room for their own, where a sheet may mix blocks.

Knows:  which print needs its block's name, where it finds room beside the print's trim line.
Leaves: what blocks are called (naming).
Units:  points on the sheet.
Method: along each straight trim edge, longest first, just outside it: in the air that every print keeps around it
        only ticks can lie, and these are looked at. Cut out roughly, as prints are, the name stays on the paper.
Limits: a print none of whose edges has room for even the shorter name goes without.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence

from shapely import STRtree, box
from shapely.geometry import LineString, Polygon
from shapely.geometry.base import BaseGeometry

from seamwright.geometry import Ring
from seamwright.ink.lettering import CAP_HEIGHT, centred, width_pt, words_box
from seamwright.ink.model import Ink, Stroke, Words
from seamwright.sheet.furnish import Frame
from seamwright.sheet.furniture import FOOT_PT

GAP_PT = 2.5
"""White between the trim line and the name."""
STEP_PT = 9.0


def is_named(ink: Iterable[Ink], block: str) -> bool:
    """Whether a print says itself which block it belongs to."""
    return any(isinstance(mark, Words) and block in mark.text for mark in ink)


def caption(trim: Ring, names: Sequence[str], there: Sequence[Ink], frame: Frame) -> Words | None:
    """The first of the names that finds room beside a trim line, or None.

    Args:
        trim: its ring on the sheet, clockwise as seen.
        names: the one wanted most first.
        there: all that is drawn on the sheet.
    """
    taken: list[BaseGeometry] = [
        LineString([*m.points, *m.points[: m.closed]]) for m in there if isinstance(m, Stroke)
    ]
    taken += [Polygon(words_box(m, 1.0)) for m in there if isinstance(m, Words) and m.text.strip()]
    tree, inside = STRtree(taken), box(frame.left, frame.top, frame.right, frame.bottom)
    edges = sorted(zip(trim, trim[1:] + trim[:1], strict=True), key=lambda edge: -round(math.dist(*edge), 6))
    for name in names:
        for (ax, ay), (bx, by) in edges:
            length, long = math.dist((ax, ay), (bx, by)), width_pt(name, FOOT_PT)
            if length < long:
                break
            ux, uy = (bx - ax) / length, (by - ay) / length
            off = GAP_PT + CAP_HEIGHT * FOOT_PT / 2
            angle = math.degrees(math.atan2(uy, ux))
            upside_down = not -90.5 < angle <= 89.5
            # Letters that hang below the line must not touch the edge where the words stand on its outside.
            off += 0.0 if upside_down else 1.5
            steps = max(1, int((length - long) / STEP_PT))
            places = [long / 2 + (length - long) * k / steps for k in range(steps + 1)]
            for along in sorted(places, key=lambda place: abs(place - length / 2)):
                at = (ax + ux * along + uy * off, ay + uy * along - ux * off)
                words = centred(name, at, FOOT_PT, unit_pt=1.0, angle_deg=angle + 180.0 * upside_down)
                spot = Polygon(words_box(words, 1.0))
                if inside.covers(spot) and not len(tree.query(spot.buffer(1.0), "intersects")):
                    return words
    return None
