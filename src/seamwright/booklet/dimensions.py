"""A part with its measures drawn beside it: what to lay the ruler on once it is sewn.

Knows:  where the two lines of measure run, how far from the part, where their words stand.
Leaves: which measures they are (sizes), what fills the part (the caller).
Units:  inches of the figure.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence

from seamwright.booklet.model import PICTURE_IN, Figure
from seamwright.booklet.sizes import Measured
from seamwright.booklet.stage import EDGE_IN, USUAL, Type
from seamwright.geometry import Point, bounds
from seamwright.ink.lettering import centred, width_pt, words_box
from seamwright.ink.model import Area, Ink, Pen, Stroke, Words, move_ink
from seamwright.options import Units
from seamwright.picture.tints import INK
from seamwright.rehearsal.view import Panel
from seamwright.units import say_length

WORDS_PT = 8.0
HIGH_IN = 1.9
"""A part is drawn no higher: nothing has to be read in it."""
MOST_SCALE = 1.0
OFF_IN = 0.13
"""From a side to its line of measure."""
ARROW_IN = 0.07
ROOM_IN = 0.34
"""Kept free round the part for lines of measure and their words."""


def measured_figure(
    size: Measured,
    draw: Callable[[Panel], list[Ink]],
    units: Units,
    says: str,
    wide_in: float = PICTURE_IN,
    kind: Type = USUAL,
) -> Figure:
    """A part from the front with its two measures.

    Args:
        draw: the part's ink in a panel.
    """
    box = bounds(size.ring)
    wide, high = box[2] - box[0], box[3] - box[1]
    (words_pt,) = kind.sizes(WORDS_PT)
    aside = max(width_pt(_said(length, units), words_pt) for length in (size.width_in, size.height_in)) / 72
    room = max(ROOM_IN, aside + OFF_IN + 0.1)
    scale = min((wide_in - 2 * room) / wide, (HIGH_IN - 2 * ROOM_IN) / high, MOST_SCALE)
    middle = (wide_in / 2, 2.0)
    panel = Panel.within(box, middle, scale * wide, scale * high, False)
    inks = [*draw(panel), *measures(size, panel, units, words_pt)]
    left, top, right, bottom = _extent(inks)
    # Cut to what is drawn: a flat part needs no high figure.
    width, height = right - left + 2 * EDGE_IN, bottom - top + 2 * EDGE_IN
    moved = tuple(_shifted(ink, EDGE_IN - left, EDGE_IN - top) for ink in inks)
    return Figure(moved, width, height, says, kind.scale)


def measures(size: Measured, panel: Panel, units: Units, words_pt: float) -> list[Ink]:
    """The two lines of measure, outside the part, with arrows at their ends and what they read."""
    (ax, ay), (bx, by) = (panel.point(p) for p in size.side)
    foot, far = (panel.point(p) for p in size.depth)
    length = math.dist((ax, ay), (bx, by))
    along = ((bx - ax) / length, (by - ay) / length)
    deep = math.dist(foot, far)
    inward = ((far[0] - foot[0]) / deep, (far[1] - foot[1]) / deep)
    first = [(x - OFF_IN * inward[0], y - OFF_IN * inward[1]) for x, y in ((ax, ay), (bx, by))]
    inks = _measure(first[0], first[1], _said(size.width_in, units), (-inward[0], -inward[1]), words_pt)
    # The depth stands beyond that end of the part which lies nearer to its farthest point.
    ring = panel.line(size.ring)
    spans = [(x - ax) * along[0] + (y - ay) * along[1] for x, y in ring]
    at = (far[0] - ax) * along[0] + (far[1] - ay) * along[1]
    low, high = min(spans), max(spans)
    sense = -1.0 if at - low < high - at - 1e-6 else 1.0
    u = (low if sense < 0 else high) + sense * OFF_IN
    start = (ax + u * along[0], ay + u * along[1])
    end = (start[0] + deep * inward[0], start[1] + deep * inward[1])
    inks += _measure(start, end, _said(size.height_in, units), (sense * along[0], sense * along[1]), words_pt)
    if not size.is_rectangle and abs(u - at) > OFF_IN:
        # Helper lines lead from the line of measure to what it measures.
        inks.append(Stroke(Pen.HELPER, (far, end), colour=INK))
    return inks


def _measure(a: Point, b: Point, text: str, out: Point, words_pt: float) -> list[Ink]:
    """A line with an arrow at each end and words on its outer side, upright."""
    length = math.dist(a, b)
    u = ((b[0] - a[0]) / length, (b[1] - a[1]) / length)
    inks: list[Ink] = [Stroke(Pen.RULE, (a, b), colour=INK)]
    for at, sense in ((a, 1.0), (b, -1.0)):
        back = (at[0] + sense * ARROW_IN * u[0], at[1] + sense * ARROW_IN * u[1])
        side = (-u[1] * ARROW_IN * 0.32, u[0] * ARROW_IN * 0.32)
        inks.append(
            Area(((at, (back[0] + side[0], back[1] + side[1]), (back[0] - side[0], back[1] - side[1])),), INK)
        )
    # The box of the words touches a circle round the middle of the line just outside it.
    half = (width_pt(text, words_pt) / 144, words_pt / 144 * 0.8)
    reach = 0.05 + abs(out[0]) * half[0] + abs(out[1]) * half[1]
    middle = ((a[0] + b[0]) / 2 + out[0] * reach, (a[1] + b[1]) / 2 + out[1] * reach)
    inks.append(centred(text, middle, words_pt, colour=INK))
    return inks


def _said(length: float, units: Units) -> str:
    return say_length(length, units, glyphs=True).removeprefix("about ")


def _extent(inks: Sequence[Ink]) -> tuple[float, float, float, float]:
    points: list[Point] = []
    for ink in inks:
        if isinstance(ink, Words):
            points += words_box(ink)
        elif isinstance(ink, Stroke):
            points += ink.points
        else:
            points += [p for ring in ink.rings for p in ring]
    return bounds(points)


def _shifted(ink: Ink, across: float, down: float) -> Ink:
    return move_ink(ink, (1, 0, 0, 1, across, down))
