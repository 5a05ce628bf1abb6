"""Paint of SVG elements: which colour a fill has, whether fill and stroke show at all.

Knows:  currentColor, opacity, gradients, patterns.
Leaves: colours (svg_colour), the cascade (svg_style), shapes (svg_tree).
Source: SVG 1.1 (second edition), sections 11.2 to 11.4.
Limits: a gradient counts as its first colour; a pattern is a fabric without a colour.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass
from xml.etree.ElementTree import Element

from seamwright.drawing.svg_colour import parse_colour
from seamwright.drawing.svg_style import Sheet
from seamwright.drawing.svg_xml import href_of, tag_of

_URL = re.compile(r"url\(\s*+['\"]?+\s*+#?([^'\")]*+)['\"]?+\s*+\)\s*+(.*)\Z", re.DOTALL)
MOST_LINKS = 20
"""Gradients that refer to one another; programs write two."""
_HIDES = 0.95
"""Paint at least this opaque hides what lies beneath."""
_SHOWS = 0.004
"""Paint below one step of 255 does not show."""


@dataclass(frozen=True, slots=True)
class Paint:
    """A visible paint.

    Attributes:
        name: "#rrggbb", or the pattern's name.
        colour: "#rrggbb", None for a pattern.
        opaque: it hides what lies beneath.
    """

    name: str
    colour: str | None
    opaque: bool


def opacity(text: str | None) -> float:
    """An opacity value, 1 if absent or unreadable."""
    if not text:
        return 1.0
    try:
        value = float(text[:-1]) / 100 if text.endswith("%") else float(text)
    except ValueError:
        return 1.0
    return min(1.0, max(0.0, value)) if value == value else 1.0


class Paints:
    """Resolves the paints of one document."""

    def __init__(self, ids: Mapping[str, Element], sheet: Sheet) -> None:
        self._ids = ids
        self._sheet = sheet
        self._stops: dict[Element, Element | None] = {}

    def fill(self, style: Mapping[str, str], group_opacity: float) -> Paint | None:
        """The fill of a shape; None if none shows. Black if nobody says otherwise, as the standard has it."""
        return self._paint(style.get("fill", "#000000"), style, "fill-opacity", group_opacity)

    def stroke(self, style: Mapping[str, str], group_opacity: float) -> Paint | None:
        """The stroke of a shape; None if none shows."""
        return self._paint(style.get("stroke", "none"), style, "stroke-opacity", group_opacity)

    def _paint(self, text: str, style: Mapping[str, str], alpha_name: str, group_opacity: float) -> Paint | None:
        alpha = opacity(style.get(alpha_name)) * group_opacity
        found = _URL.match(text)
        if found:
            server = self._server(found[1].rstrip(), style)
            if server is not None:
                name, colour, its_alpha = server
                alpha *= its_alpha
                return Paint(name, colour, alpha >= _HIDES) if alpha > _SHOWS else None
            text = found[2].strip() or "none"
        solid = self._solid(text, style)
        if solid is None or alpha * solid[1] <= _SHOWS:
            return None
        return Paint(solid[0], solid[0], alpha * solid[1] >= _HIDES)

    def _solid(self, text: str, style: Mapping[str, str]) -> tuple[str, float] | None:
        word = text.strip().lower()
        if word in ("none", "transparent", "context-fill", "context-stroke"):
            return None
        if word == "currentcolor":
            own = style.get("color", "black")
            return ("#000000", 1.0) if own.strip().lower() == "currentcolor" else self._solid(own, style)
        return parse_colour(text)

    def _server(self, name: str, style: Mapping[str, str]) -> tuple[str, str | None, float] | None:
        """Name, colour and alpha of a gradient or pattern."""
        element = self._ids.get(name)
        tag = tag_of(element) if element is not None else ""
        if tag == "pattern":
            return (f"pattern {name}", None, 1.0)
        seen: set[str] = set()
        while element is not None and tag_of(element) in ("linearGradient", "radialGradient"):
            if element not in self._stops:
                self._stops[element] = next((child for child in element if tag_of(child) == "stop"), None)
            stop = self._stops[element]
            if stop is not None:
                own = self._sheet.inherit(style, stop)
                solid = self._solid(own.get("stop-color", "black"), own)
                alpha = opacity(own.get("stop-opacity"))
                return (solid[0], solid[0], solid[1] * alpha) if solid else ("#000000", "#000000", 0.0)
            # A gradient without stops has those of the one that it refers to.
            target = href_of(element).removeprefix("#")
            if target in seen or len(seen) >= MOST_LINKS:
                return None
            seen.add(target)
            element = self._ids.get(target)
        return None
