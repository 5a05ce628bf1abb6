"""Numbers and lengths as SVG writes them.

Knows:  numbers, CSS length units, percentages.
Leaves: which attribute is measured against what (svg_shapes, svg_tree).
Units:  user units; 96 of them are an inch where no transform or viewBox says otherwise.
Source: W3C CSS Values and Units Level 3, section 6.2 (absolute lengths: 1in = 2.54cm = 96px, 1pc = 16px,
        1pt = 1/72in, 1mm = 1/10cm, 1Q = 1/40cm) and section 4 (units are case-insensitive); SVG 2, section 8.9
        (percentages against the viewport's width, height, or sqrt((w^2 + h^2)/2)).
"""

from __future__ import annotations

import math
import re

from seamwright.drawing.svg_xml import unreadable

NUMBER = r"[+-]?(?:[0-9]++\.?+[0-9]*+|\.[0-9]++)(?:[eE][+-]?[0-9]++)?"
"""Never tried a second time with fewer figures: that takes as long as their number squared."""
PER_INCH: dict[str, float] = {
    "": 96.0,
    "px": 96.0,
    "in": 1.0,
    "cm": 2.54,
    "mm": 25.4,
    "q": 101.6,
    "pt": 72.0,
    "pc": 6.0,
}
"""How many of each make an inch. Dividing by these keeps 8in and 203.2mm the same to the last digit."""

PX = {unit: 96.0 / count for unit, count in PER_INCH.items()}
"""User units in one of each absolute unit."""

ABSOLUTE = ("in", "cm", "mm", "q", "pt", "pc")
"""Units that state a physical size; px and none leave it to a guess."""

_FONT_EM = {"em": 1.0, "rem": 1.0, "ex": 0.5, "ch": 0.5}
"""Font-relative units in ems; ex and ch as CSS Values 3, section 6.1, lets readers assume them."""

_LENGTH = re.compile(rf"\s*+({NUMBER})\s*+([A-Za-z]++|%)?\s*+\Z")
_NUMBER = re.compile(NUMBER)
_SEPARATOR = re.compile(r"[\s,]*")
_LARGEST = 1e9


def finite(value: float, text: str, where: str) -> float:
    """`value`, refused if no drawing can mean it."""
    if not math.isfinite(value) or abs(value) > _LARGEST:
        raise unreadable(
            "number", f"{where}: {text[:40]!r} is no usable number", "Give a number below a thousand million"
        )
    return value


def split_length(text: str, where: str) -> tuple[float, str]:
    """A length as (number, unit in lower case).

    Raises:
        DrawingError: not a number, or a unit that SVG does not know.
    """
    found = _LENGTH.match(text)
    if not found:
        raise unreadable("number", f"{where}: {text[:40]!r} is no length", "Write a number and a unit, such as 8in")
    unit = (found[2] or "").lower()
    if unit not in PX and unit not in _FONT_EM and unit != "%":
        raise unreadable(
            "unit", f"{where}: the unit {found[2][:40]!r} is unknown", "Use in, cm, mm, pt, pc, px or no unit"
        )
    return finite(float(found[1]), text, where), unit


def length(text: str, where: str, *, percent_of: float, font_size: float = 16.0) -> float:
    """A length in user units.

    Args:
        text: "0.5in", "12", "50%" ...
        where: element and attribute, for messages.
        percent_of: user units that 100 % stands for.
        font_size: user units of one em.

    >>> length("1in", "here", percent_of=0)
    96.0
    """
    number, unit = split_length(text, where)
    if unit == "%":
        return number / 100 * percent_of
    if unit in _FONT_EM:
        return number * _FONT_EM[unit] * font_size
    return number * 96 / PER_INCH[unit]


def numbers(text: str, where: str, most: int = 1000) -> list[float]:
    """A list of numbers parted by blanks, commas or nothing but their signs; of too many the first `most` and one.

    Raises:
        DrawingError: anything else stands in the list.
    """
    values: list[float] = []
    at = _SEPARATOR.match(text).end()  # type: ignore[union-attr]
    while at < len(text) and len(values) <= most:
        found = _NUMBER.match(text, at)
        if not found:
            raise unreadable(
                "number", f"{where}: {text[at : at + 20]!r} is no number", "Write plain numbers parted by blanks"
            )
        values.append(finite(float(found[0]), found[0], where))
        at = _SEPARATOR.match(text, found.end()).end()  # type: ignore[union-attr]
    return values
