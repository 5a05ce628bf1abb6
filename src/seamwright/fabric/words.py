"""What a fabric and a piece cut of it are called, on the screen, in tables and on pages alike.

Knows:  how a name stands with its short code, how a fabric reads, what is done with a rectangle once it is cut.
Leaves: which of it is said where (words, booklet, report).
"""

from __future__ import annotations

from seamwright.fabric.contrast import warmth
from seamwright.fabric.model import Fabric
from seamwright.fabric.pieces import Shape
from seamwright.fabric.shade import value_of

NO_FABRIC = "fabric of your choice"
"""What a patch is said to be of if its drawing names none."""


def fabric_called(fabric: Fabric | str | None, code: bool = True) -> str:
    """A fabric's name, its short code behind it if it has one.

    >>> fabric_called(Fabric("night sky", "NS")), fabric_called(None)
    ('night sky (NS)', 'fabric of your choice')
    """
    if fabric is None or isinstance(fabric, str):
        return fabric or NO_FABRIC
    return f"{fabric.name} ({fabric.code})" if fabric.code and code else fabric.name


def value_word(fabric: Fabric | None) -> str:
    """Such as "dark, cool"; "" if nothing is known."""
    if fabric is None:
        return ""
    value = value_of(fabric)
    return ", ".join(word for word in (value.value if value else "", warmth(fabric)) if word)


def becomes(shape: Shape, share: int, square: bool, hand: str = "", *, down: bool = False) -> str:
    """What is done with a rectangle once it is cut; `down`: it is trimmed first, being narrower than its strip.

    >>> becomes(Shape.HALF_SQUARE, 2, True)
    'square, cut once corner to corner'
    """
    what = "square" if square else "rectangle"
    what += ", cut down" * down
    if shape is Shape.QUARTER_SQUARE:
        return f"{what}, cut twice corner to corner"
    if shape is Shape.HALF_SQUARE:
        return f"{what}, cut once corner to corner"
    if shape is Shape.HALF_RECTANGLE:
        side = f", square corner on the {hand}" if hand else ""
        return f"{what}, cut once corner to corner{side}"
    if shape is Shape.TEMPLATE:
        return f"{what}, then cut by its template"
    return what
