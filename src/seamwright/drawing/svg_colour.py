"""Colours as SVG and CSS write them.

Knows:  names, hex, rgb(), hsl() and the like (tinycss2), system colours, light-dark().
Leaves: which colour holds (svg_style), opacity and gradients (svg_paint).
Source: CSS Color Level 4, sections 4 to 6 and 6.2 (system colours); Level 5, section 2 (light-dark()); SVG 1.1
        (second edition), section 12.3 (an ICC colour after the sRGB one).
"""

from __future__ import annotations

import re
from functools import lru_cache

_INK = ("canvastext", "windowtext", "buttontext", "captiontext", "infotext", "menutext", "graytext", "linktext")
_SHEET = ("canvas", "window", "buttonface", "field", "background")
_ICC = re.compile(r"\s*(icc-color|device-cmyk)\(.*\)\s*\Z")
_LIGHT_DARK = re.compile(r"light-dark\(((?:[^(),]|\([^()]*\))*),.*\)\s*\Z", re.DOTALL)
_KEYWORDS = ("none", "currentcolor", "transparent", "inherit", "initial", "unset", "revert", "context-fill")


LONGEST = 1000
"""Characters of a paint; none that a program writes is longer, and matching takes longer than in proportion."""


@lru_cache(maxsize=4096)
def parse_colour(text: str) -> tuple[str, float] | None:
    """("#rrggbb", alpha) of a colour other than currentColor; None if it is none.

    >>> parse_colour("teal")
    ('#008080', 1.0)
    """
    import tinycss2.color4

    text = _ICC.sub("", text.strip())
    light = _LIGHT_DARK.match(text)
    if light:
        return parse_colour(light[1])
    if text.lower() in _INK or text.lower() in _SHEET:
        return ("#000000" if text.lower() in _INK else "#ffffff", 1.0)
    try:
        colour = tinycss2.color4.parse_color(text)
        if colour is None or isinstance(colour, str):
            return None
        srgb = colour.to("srgb")
        channels = [min(255, max(0, round(channel * 255))) for channel in srgb.coordinates]
        return "#" + "".join(f"{channel:02x}" for channel in channels), float(colour.alpha)
    except (NotImplementedError, ValueError, TypeError, ArithmeticError):
        return None


@lru_cache(maxsize=4096)
def is_paint(text: str) -> bool:
    """Whether CSS takes `text` as a paint; a declaration that is none is dropped, and an earlier one holds."""
    if len(text) > LONGEST:
        return False
    word = text.strip().lower()
    return word in (*_KEYWORDS, "context-stroke") or word.startswith("url(") or parse_colour(text) is not None
