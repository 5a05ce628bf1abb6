"""Text of SVG drawings as labels: the words and the visual middle of where they stand.

Knows:  text, tspan, positions, anchors, font sizes.
Leaves: what the words mean (block).
Method: no font is looked up. A letter counts as 0.55 em wide and the middle of a line as 0.35 em above its
        baseline: common proportions of sans-serif type, from memory. Good enough to tell the patch.
Limits: text on a path stands where its text element says; a paragraph in a shape (flowRoot) at the shape's middle.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from xml.etree.ElementTree import Element

from seamwright.drawing.model import Label
from seamwright.drawing.svg_paths import Trace
from seamwright.drawing.svg_shapes import Lengths
from seamwright.drawing.svg_style import Sheet
from seamwright.drawing.svg_transform import parse_transform, times
from seamwright.drawing.svg_units import length
from seamwright.drawing.svg_xml import tag_of
from seamwright.geometry import Affine, Point, bounds, moved

LETTER_EM = 0.55
MIDDLE_EM = 0.35

_RAISED = {"middle": 0.0, "central": 0.0, "hanging": -MIDDLE_EM, "text-before-edge": -MIDDLE_EM}
"""How far above the stated y the middle of a line lies, in em, where it is no alphabetic baseline."""

_FONT_WORDS = {"xx-small": 9.0, "x-small": 10.0, "small": 13.0, "medium": 16.0, "large": 18.0, "x-large": 24.0}


def font_size(text: str | None, parent: float, where: str) -> float:
    """The font size in user units; the parent's where it is relative, absent or unreadable."""
    if not text:
        return parent
    word = text.strip().lower()
    if word in _FONT_WORDS:
        return _FONT_WORDS[word]
    if word in ("smaller", "larger"):
        return parent * (1.2 if word == "larger" else 1 / 1.2)
    return length(word, f"{where}, font-size", percent_of=parent, font_size=parent)


@dataclass(slots=True)
class _Line:
    """Words set from one point: a new one begins wherever the file gives a new position."""

    x: float
    y: float
    anchor: str
    size: float
    raised: float
    glued: bool = False  # it goes on with the line before: only a narrow frame parts them
    text: str = ""

    def middle(self) -> Point:
        width = LETTER_EM * self.size * len(self.text.strip())
        shift = {"middle": 0.0, "end": -width / 2}.get(self.anchor, width / 2)
        return (self.x + shift, self.y - self.raised * self.size)


class TextReader:
    """Reads one text element."""

    def __init__(self, sheet: Sheet, lengths: Lengths, affine: Affine) -> None:
        self._sheet, self._lengths, self._affine = sheet, lengths, affine
        self._lines: list[_Line] = []

    def label(self, element: Element, style: Mapping[str, str]) -> Label | None:
        """The element's words and where they stand; None if it has none that show."""
        self._read(element, style, self._lengths.font_size, (0.0, 0.0))
        lines = [line for line in self._lines if line.text.strip()]
        if not lines:
            return None
        words = ""
        for line in lines:
            # A number broken over two lines of a narrow frame is still one number.
            digits = words[-1:].isdigit() and line.text.strip()[0].isdigit()
            words += ("" if line.glued or digits else " ") + line.text
        weights = [len(line.text.strip()) for line in lines]
        spots = [line.middle() for line in lines]
        x = sum(w * p[0] for w, p in zip(weights, spots, strict=True)) / sum(weights)
        y = sum(w * p[1] for w, p in zip(weights, spots, strict=True)) / sum(weights)
        return Label(" ".join(words.split()), moved(self._affine, (x, y)), self._lengths.where)

    def _read(
        self, element: Element, style: Mapping[str, str], size: float, pen: Point, glued: bool = False
    ) -> Point:
        """Append the lines of an element of font size `size`; returns where the pen is after it."""
        if style.get("display") == "none":
            return pen
        x, fresh_x = self._place(element, "x", pen[0], size)
        y, fresh_y = self._place(element, "y", pen[1], size)
        x += self._shift(element, "dx", size)
        y += self._shift(element, "dy", size)
        baseline = style.get("dominant-baseline") or style.get("alignment-baseline") or ""
        shows = style.get("visibility", "visible") == "visible"
        raised = _RAISED.get(baseline.lower(), MIDDLE_EM)
        # Letters set one by one, each at its own place, are still one word.
        near = y == pen[1] and -0.6 * size < x - pen[0] < 0.25 * size
        if fresh_x or fresh_y or not self._lines:
            anchor = style.get("text-anchor", "start").lower()
            self._lines.append(_Line(x, y, anchor, size, raised, glued or (near and bool(self._lines))))
        elif (x, y) != pen:
            self._lines.append(_Line(x, y, "start", size, raised, near))
        pen = (x, y)
        pen = self._write(element.text, shows, size, pen)
        before: str | None = None
        for child in element:
            if tag_of(child) in ("tspan", "a", "textPath", "tref", "flowPara", "flowSpan", "flowLine"):
                its_size = font_size(self._sheet.declared(child).get("font-size"), size, self._lengths.where)
                # One writer marks the lines of a paragraph, and keeps the blanks at which it broke them.
                wrapped = before == child.get("class") == "TextPosition"
                before = child.get("class")
                pen = self._read(child, self._sheet.inherit(style, child), its_size, pen, wrapped)
            pen = self._write(child.tail, shows, size, pen)
        return pen

    def _write(self, text: str | None, shows: bool, size: float, pen: Point) -> Point:
        if not text or not shows:
            return pen
        plain = re.sub(r"\s+", " ", text)
        self._lines[-1].text += plain
        self._lines[-1].size = size
        return (pen[0] + LETTER_EM * size * len(plain.strip()), pen[1])

    def _place(self, element: Element, name: str, pen: float, size: float) -> tuple[float, bool]:
        """The first of a list of positions, and whether there is one."""
        first = re.split(r"[\s,]+", (element.get(name) or "").strip(), maxsplit=1)[0]
        if not first:
            return pen, False
        whole = self._lengths.width if name == "x" else self._lengths.height
        return length(first, f"{self._lengths.where}, {name}", percent_of=whole, font_size=size), True

    def _shift(self, element: Element, name: str, size: float) -> float:
        first = re.split(r"[\s,]+", (element.get(name) or "").strip(), maxsplit=1)[0]
        if not first:
            return 0.0
        whole = self._lengths.width if name == "dx" else self._lengths.height
        return length(first, f"{self._lengths.where}, {name}", percent_of=whole, font_size=size)


def flow_label(
    element: Element, lengths: Lengths, affine: Affine, traced: Callable[[Element, Lengths], list[Trace]]
) -> Label | None:
    """The words of a paragraph in a shape (an older form some editors write), at the middle of the shape.

    Args:
        traced: what a shape draws.
    """
    words = " ".join(
        " ".join("".join(part.itertext()).split()) for part in element.iter() if tag_of(part) == "flowPara"
    ).strip()
    region = next((part for part in element.iter() if tag_of(part) == "flowRegion"), None)
    if not words or region is None or not len(region):
        return None
    shape = region[0]
    own = Lengths(shape, {}, lengths.where, lengths.width, lengths.height, lengths.font_size)
    traces = traced(shape, own) if tag_of(shape) in ("rect", "path", "circle", "ellipse", "polygon") else []
    if not traces:
        return None
    turn = parse_transform(shape.get("transform") or "", lengths.where)
    x0, y0, x1, y1 = bounds([trace.start for trace in traces] + [s[-1] for trace in traces for s in trace.steps])
    return Label(words, moved(times(affine, turn), ((x0 + x1) / 2, (y0 + y1) / 2)), lengths.where)
