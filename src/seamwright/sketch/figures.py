"""Points as figures, short: what a person would have typed.

Knows:  whole squares, halves and eighths as decimals, thirds and their like as fractions, all else as few decimals
        as stay in place.
Leaves: what a figure counts (drawing.measured).
"""

from __future__ import annotations

from fractions import Fraction

from seamwright.drawing.textwrite import digits
from seamwright.units import say_fraction

WITHIN_IN = 1e-7
"""A figure may put a point this far from where it was meant: a tenth of what counts as one place anywhere here."""
BOTTOMS = (3, 6, 7, 9, 11, 12, 13, 14, 15, 16, 24, 32, 48, 64)
"""What a fraction may have below its line; halves, quarters, fifths and eighths are short as decimals."""


def figure(value: float, square_in: float, within_in: float = WITHIN_IN) -> str:
    """A coordinate in as short a way as keeps it where it is.

    Args:
        value: so many squares. square_in: inches of one.

    >>> [figure(v, 1.0) for v in (2.9999999999, 2.5, 8 / 3, -2 / 3, 2**0.5)]
    ['3', '2.5', '2 2/3', '-2/3', '1.4142136']
    """

    def near(other: float) -> bool:
        return abs(other - value) * square_in <= within_in

    for places in range(4):
        if near(round(value, places)):
            return digits(round(value, places) + 0.0)
    for bottom in BOTTOMS:
        part = Fraction(round(value * bottom), bottom)
        if near(float(part)):
            return "-" * (part < 0) + say_fraction(abs(part))
    for places in range(4, 17):
        if near(round(value, places)):
            return digits(round(value, places))
    return digits(value)
