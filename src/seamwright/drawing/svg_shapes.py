"""Basic shapes of SVG as traces in user units.

Knows:  line, polyline, polygon, rect, circle, ellipse, path and their attributes.
Leaves: transforms and paint (svg_tree).
Source: SVG 1.1 (second edition), chapter 9 and section 8.3; SVG 2, section 7.4 (rounded rectangles).
"""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from xml.etree.ElementTree import Element

from seamwright.drawing.svg_paths import MOST_PIECES, Trace, arc_steps, parse_path, too_many_pieces, trace_points
from seamwright.drawing.svg_units import length, numbers
from seamwright.drawing.svg_xml import tag_of, unreadable

SHAPES = frozenset(("line", "polyline", "polygon", "rect", "circle", "ellipse", "path"))


@dataclass(frozen=True, slots=True)
class Lengths:
    """Reads the lengths of one element.

    Attributes:
        element: whose attributes are read.
        style: its style; SVG 2 lets it set x, y, width, height, cx, cy, r, rx and ry.
        where: its name, for messages.
        width, height: the viewport in user units, for percentages.
        font_size: user units of one em.
    """

    element: Element
    style: Mapping[str, str]
    where: str
    width: float
    height: float
    font_size: float = 16.0

    def get(self, name: str, default: float = 0.0) -> float:
        """The length in user units; `default` if it is not there or "auto"."""
        text = (self.style.get(name) or self.element.get(name) or "").strip()
        if not text or text.lower() in ("auto", "none", "inherit", "initial"):
            return default
        upright = name in ("y", "y1", "y2", "cy", "ry", "height", "dy")
        diagonal = math.hypot(self.width, self.height) / math.sqrt(2)
        whole = diagonal if name == "r" else self.height if upright else self.width
        return length(text, f"{self.where}, {name}", percent_of=whole, font_size=self.font_size)

    def size(self, name: str, default: float = 0.0) -> float:
        """A length that may not be negative."""
        value = self.get(name, default)
        if value < 0:
            raise unreadable(
                "number", f"{self.where}: its {name} is below zero", "Draw the object again in its editor"
            )
        return value


def shape_traces(element: Element, lengths: Lengths) -> list[Trace]:
    """What a shape element draws; [] for one without any extent.

    Raises:
        DrawingError: a value that cannot be read.
    """
    tag, where, get = tag_of(element), lengths.where, lengths.get
    if tag == "line":
        return trace_points([(get("x1"), get("y1")), (get("x2"), get("y2"))], closed=False)
    if tag in ("polyline", "polygon"):
        values = numbers(element.get("points") or "", f"{where}, points", most=2 * MOST_PIECES + 2)
        if len(values) > 2 * MOST_PIECES + 2:
            raise too_many_pieces()
        if len(values) % 2:
            raise unreadable(
                "number", f"{where}: its points have an odd number of coordinates", "Draw the object again"
            )
        return trace_points(list(zip(values[::2], values[1::2], strict=True)), closed=tag == "polygon")
    if tag == "path":
        return parse_path(element.get("d") or "", where)
    if tag == "rect":
        return _rect(lengths)
    if tag == "circle":
        radius = lengths.size("r")
        return _ellipse(get("cx"), get("cy"), radius, radius)
    # SVG 2, section 7.4: one radius left to "auto" is as long as the other.
    rx = lengths.size("rx") if _given(lengths, "rx") else None
    ry = lengths.size("ry") if _given(lengths, "ry") else None
    return _ellipse(get("cx"), get("cy"), (ry if rx is None else rx) or 0.0, (rx if ry is None else ry) or 0.0)


def bare_moves(element: Element, traces: Sequence[Trace]) -> int:
    """How often a path moves its pen and draws nothing then."""
    text = element.get("d") or "" if tag_of(element) == "path" else ""
    return max(0, text.count("M") + text.count("m") - len(traces))


def _given(lengths: Lengths, name: str) -> bool:
    text = (lengths.style.get(name) or lengths.element.get(name) or "auto").strip().lower()
    return text not in ("", "auto")


def _ellipse(cx: float, cy: float, rx: float, ry: float) -> list[Trace]:
    if rx <= 0 or ry <= 0:
        return []
    right, left = (cx + rx, cy), (cx - rx, cy)
    steps = arc_steps(right, rx, ry, 0, False, True, left) + arc_steps(left, rx, ry, 0, False, True, right)
    return [Trace(right, steps, closed=True)]


def _rect(lengths: Lengths) -> list[Trace]:
    x, y, w, h = lengths.get("x"), lengths.get("y"), lengths.size("width"), lengths.size("height")
    if w == 0 or h == 0:
        return []
    rx = lengths.size("rx") if _given(lengths, "rx") else None
    ry = lengths.size("ry") if _given(lengths, "ry") else None
    rx, ry = (ry if rx is None else rx) or 0.0, (rx if ry is None else ry) or 0.0
    rx, ry = min(rx, w / 2), min(ry, h / 2)
    if rx == 0 or ry == 0:
        return trace_points([(x, y), (x + w, y), (x + w, y + h), (x, y + h)], closed=True)
    trace = Trace((x + rx, y))
    corners = [
        ((x + w - rx, y), (x + w, y + ry)),
        ((x + w, y + h - ry), (x + w - rx, y + h)),
        ((x + rx, y + h), (x, y + h - ry)),
        ((x, y + ry), (x + rx, y)),
    ]
    for start, end in corners:
        if start != trace.end:
            trace.steps.append((start,))
        trace.steps.extend(arc_steps(start, rx, ry, 0, False, True, end))
    trace.closed = True
    return [trace]
