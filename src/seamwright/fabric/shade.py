"""How dark a fabric reads: from the value its owner gives it, else from its colour.

Knows:  value words, lightness of an sRGB colour.
Leaves: the light a colour gives (luminance), what follows from how dark it reads (allowance that shows through,
        prints that tell fabrics apart).
Units:  lightness L* of CIE 15:2004: 0 is black, 100 is white.
"""

from __future__ import annotations

from seamwright.fabric.luminance import evened, luminance
from seamwright.fabric.model import Fabric, Value

LIGHTNESS = {Value.DARK: 25.0, Value.MEDIUM: 50.0, Value.LIGHT: 75.0}
"""Middle of each third: how light a fabric is taken to be of which the value alone is known."""
DARK_UNDER, LIGHT_OVER = 100 / 3, 200 / 3
"""The scale in thirds: between what is dark and what is light lies a third of it at least."""
SHADOW_STEP = 20.0
"""Allowance darker by this shows through what lies over it: one step of value (25) counts, colours within one value
do not. Common practice speaks of pressing to the darker side and gives no number."""


def lightness(fabric: Fabric) -> float | None:
    """L* of a fabric, None if neither its value nor its colour is known.

    >>> lightness(Fabric("ink", value=Value.DARK)), lightness(Fabric("sail", colour="#ffffff"))
    (25.0, 100.0)
    """
    if fabric.value is not None:
        return LIGHTNESS[fabric.value]
    return None if fabric.colour is None else colour_lightness(fabric.colour)


def value_of(fabric: Fabric) -> Value | None:
    """Light, medium or dark: as its owner says, else by its colour; None if neither is known.

    >>> value_of(Fabric("foam", colour="#f4f1ea")), value_of(Fabric("ink", value=Value.DARK)), value_of(Fabric("x"))
    (<Value.LIGHT: 'light'>, <Value.DARK: 'dark'>, None)
    """
    if fabric.value is not None or fabric.colour is None:
        return fabric.value
    if is_dark(fabric):
        return Value.DARK
    return Value.LIGHT if is_light(fabric) else Value.MEDIUM


def is_dark(fabric: Fabric) -> bool:
    """Whether a fabric is known to be dark."""
    found = lightness(fabric)
    return found is not None and found < DARK_UNDER


def is_light(fabric: Fabric) -> bool:
    """Whether a fabric is known to be light."""
    found = lightness(fabric)
    return found is not None and found > LIGHT_OVER


def shows_through(under: Fabric, over: Fabric) -> bool:
    """Whether allowance of one fabric is known to show through a patch of another; nothing does through a dark one.

    >>> ink, sea, sail = (Fabric(v.value, value=v) for v in (Value.DARK, Value.MEDIUM, Value.LIGHT))
    >>> shows_through(ink, sail), shows_through(ink, sea), shows_through(sail, ink), shows_through(ink, ink)
    (True, True, False, False)
    """
    low, high = lightness(under), lightness(over)
    return low is not None and high is not None and high >= DARK_UNDER and high - low >= SHADOW_STEP


def colour_lightness(colour: str) -> float:
    """L* of an sRGB colour "#rrggbb".

    Source: L* = 116 f(Y) - 16 from CIE 15:2004, 8.2.1, of relative luminance (white at 1).

    >>> round(colour_lightness("#777777"), 1)
    50.0
    """
    return 116 * evened(luminance(colour)) - 16


def light_of(lightness: float) -> float:
    """The relative luminance of a lightness L*: the same the other way round.

    >>> light_of(100.0), round(light_of(50.0), 4)
    (1.0, 0.1842)
    """
    return float(((lightness + 16) / 116) ** 3) if lightness > 8 else lightness / (29 / 3) ** 3
