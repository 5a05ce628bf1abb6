"""How much light a colour gives, and the grey that gives as much.

Knows:  the transfer function of sRGB, relative luminance, its inverse for greys.
Leaves: which value that is (shade), how two colours stand beside each other (contrast).
Units:  colours are sRGB "#rrggbb"; luminance is 0 for black and 1 for white.
"""

from __future__ import annotations

RED, GREEN, BLUE = 0.2126, 0.7152, 0.0722
"""Shares of the channels in luminance: IEC 61966-2-1; WCAG 2.2, "relative luminance"."""
BENT_AT = 0.04045
"""Below, the transfer function is a line: IEC 61966-2-1:1999. WCAG 2.0 prints 0.03928, from an older draft of that
standard (later editions say so in a note; from memory); a channel of 8 bits is 10/255 = 0.0392 or 11/255 = 0.0431,
so both give the same for every colour."""


def channels(colour: str) -> tuple[float, float, float]:
    """Red, green, blue of "#rrggbb" as shares of their greatest, not linear.

    >>> channels("#ff0033")
    (1.0, 0.0, 0.2)
    """
    red, green, blue = (int(colour[i : i + 2], 16) / 255 for i in (1, 3, 5))
    return red, green, blue


def linear(channel: float) -> float:
    """Light given by a channel: the sRGB transfer function, IEC 61966-2-1."""
    return channel / 12.92 if channel <= BENT_AT else float(((channel + 0.055) / 1.055) ** 2.4)


def luminance(colour: str) -> float:
    """Relative luminance of a colour: WCAG 2.2, by IEC 61966-2-1.

    >>> luminance("#000000"), luminance("#ffffff"), round(luminance("#c8102e"), 4)
    (0.0, 1.0, 0.1285)
    """
    red, green, blue = map(linear, channels(colour))
    return RED * red + GREEN * green + BLUE * blue


def grey_of(colour: str) -> str:
    """The grey that gives as much light as a colour, to the nearest of 256.

    >>> grey_of("#0000ff"), grey_of("#f2d38b"), grey_of("#777777")
    ('#4c4c4c', '#d6d6d6', '#777777')
    """
    return grey_giving(luminance(colour))


def grey_giving(light: float) -> str:
    """The grey of a relative luminance from 0 to 1: the transfer function the other way round."""
    # Where the line ends: BENT_AT brought through it.
    share = 12.92 * light if light <= BENT_AT / 12.92 else 1.055 * light ** (1 / 2.4) - 0.055
    level = round(255 * share)
    return f"#{level:02x}{level:02x}{level:02x}"


def evened(light: float) -> float:
    """Light brought to steps that are alike to the eye: f in L* = 116 f(Y) - 16, CIE 15:2004, 8.2.1."""
    return light ** (1 / 3) if light > (6 / 29) ** 3 else light * (29 / 6) ** 2 / 3 + 4 / 29
