"""How two fabrics stand beside each other: contrast, warm against cool, and whether they read alike.

Knows:  contrast of luminances, which hues are warm, when the eye loses the edge between two fabrics.
Leaves: the light a colour gives (luminance), values (shade), where such fabrics lie side by side (the caller).
Units:  contrast from 1 to 21; hue in degrees and chroma of CIELAB, CIE 15:2004, 8.2.1, of the white of sRGB.
"""

from __future__ import annotations

import math

from seamwright.fabric.luminance import channels, evened, linear, luminance
from seamwright.fabric.model import Fabric
from seamwright.fabric.shade import value_of

ALIKE = 1.3
"""Under this contrast the tip of a sharp patch is lost at arm's length: our own judgement, by looking at points of
10 to 20 degrees on grounds from dark to light. No standard speaks of it; WCAG 2 asks 3 for lines with a meaning."""
WARM_FROM_DEG, WARM_TO_DEG = 340.0, 110.0
"""Warm from red-violet over red and orange to yellow, cool from yellow-green over green and blue to violet: common
practice, as colour wheels are halved. In CIELAB the bounds lie between yellow and yellow-green (#ffff00 is at 103
degrees, #9acd32 at 120) and between purple and red-violet (#800080 is at 328, #c71585 at 348)."""
GREY_CHROMA = 6.0
"""Under this chroma a fabric is a grey, a white or a black, neither warm nor cool: our own judgement."""
APART_CHROMA = 20.0
"""Warm against cool, or either against a grey, parts fabrics of one value only if their colours lie this far apart
in a* and b*: pale sand and pale blue do, two off-whites do not. Our own judgement, by looking."""


def ratio(one: str, other: str) -> float:
    """Contrast of two colours, from 1 to 21: WCAG 2.2, "contrast ratio".

    >>> ratio("#000000", "#ffffff"), ratio("#ffffff", "#000000"), ratio("#c8102e", "#c8102e")
    (21.0, 21.0, 1.0)
    """
    low, high = sorted((luminance(one), luminance(other)))
    return (high + 0.05) / (low + 0.05)


def contrast(one: Fabric, other: Fabric) -> float | None:
    """Contrast of two fabrics; None if the colour of one is not known."""
    return None if one.colour is None or other.colour is None else ratio(one.colour, other.colour)


def warmth(fabric: Fabric) -> str:
    """ "warm" or "cool" as its owner says, else by its colour, "neutral" for greys; "" if neither is known.

    >>> [warmth(Fabric("", colour=colour)) for colour in ("#c8102e", "#f2d38b", "#4f8196", "#777777")]
    ['warm', 'warm', 'cool', 'neutral']
    """
    if fabric.warmth or fabric.colour is None:
        return fabric.warmth
    a, b = opponents(fabric.colour)
    if math.hypot(a, b) < GREY_CHROMA:
        return "neutral"
    hue = math.degrees(math.atan2(b, a)) % 360
    return "cool" if WARM_TO_DEG < hue < WARM_FROM_DEG else "warm"


def read_alike(one: Fabric, other: Fabric) -> bool:
    """Whether the eye is known to lose the edge between two fabrics: little contrast, and not warm against cool.

    Colours decide where both are known, else the values; nothing is known of a fabric that has neither.

    >>> fog, foam, sand = (Fabric("", colour=colour) for colour in ("#d3d9dd", "#dce8ea", "#dcc9a6"))
    >>> read_alike(fog, foam), read_alike(fog, sand), read_alike(fog, Fabric(""))
    (True, False, False)
    """
    stands = contrast(one, other)
    if stands is None:
        value = value_of(one)
        return value is not None and value == value_of(other) and not _opposed(one, other)
    return stands < ALIKE and not _opposed(one, other)


def _opposed(one: Fabric, other: Fabric) -> bool:
    """Whether warm stands against cool, or either against a grey, strongly enough to be seen."""
    if one.colour is None or other.colour is None:
        return {warmth(one), warmth(other)} == {"warm", "cool"}
    if warmth(one) == warmth(other):
        return False
    return math.dist(opponents(one.colour), opponents(other.colour)) >= APART_CHROMA


def opponents(colour: str) -> tuple[float, float]:
    """a* and b* of an sRGB colour: towards red and towards yellow.

    Source: the matrix of IEC 61966-2-1, to its four digits; CIE 15:2004, 8.2.1.
    """
    red, green, blue = map(linear, channels(colour))
    x = (0.4124 * red + 0.3576 * green + 0.1805 * blue) / 0.9505
    z = (0.0193 * red + 0.1192 * green + 0.9505 * blue) / 1.0890
    y = evened(luminance(colour))
    return 500 * (evened(x) - y), 200 * (y - evened(z))
