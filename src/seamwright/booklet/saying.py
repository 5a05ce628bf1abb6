"""Words that several chapters share: fabrics, sizes, what becomes of a piece.

Knows:  how a fabric, a cut size and a list of patches are written in tables.
Leaves: lengths (units), which chapter says what.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from seamwright.block.model import Block
from seamwright.fabric.contrast import warmth
from seamwright.fabric.model import Fabric
from seamwright.fabric.pieces import Shape
from seamwright.fabric.shade import value_of
from seamwright.options import Units
from seamwright.piecing.model import Plan
from seamwright.units import say_size

NO_FABRIC = "fabric of your choice"
"""What a patch is said to be of if its drawing names none."""


def called(plans: Sequence[Plan]) -> str:
    """What plans of one block are called: its name, with the colourway if there is but one."""
    return plans[0].block.title if len(plans) == 1 else plans[0].block.name


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


def colour_of(fabric: Fabric | None) -> str | None:
    """The colour of a swatch, None if it is not known."""
    return None if fabric is None else fabric.colour


def swatch_of(block: Block, fabric: Fabric | str | None) -> str | None:
    """The colour in which pictures of a block show a fabric: its own, else a tint; None if none is named."""
    from seamwright.picture.tints import fabric_colours

    name = fabric if fabric is None or isinstance(fabric, str) else fabric.name
    return None if name is None else fabric_colours(block).get(name)


def fabric_named(block: Block, name: str | None) -> Fabric | None:
    """What is known of a block's fabric."""
    return next((fabric for fabric in block.fabrics if fabric.name == name), None)


def cut_size(width_in: float, height_in: float, units: Units) -> str:
    """Such as "3¼ x 2½ in"."""
    return say_size(width_in, height_in, units, glyphs=True)


def becomes(shape: Shape, share: int, square: bool, hand: str = "") -> str:
    """What is done with a rectangle once it is cut.

    >>> becomes(Shape.HALF_SQUARE, 2, True)
    'square, cut once corner to corner'
    """
    what = "square" if square else "rectangle"
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


def patch_list(names: Iterable[str]) -> str:
    """Names of patches, one after the other."""
    return ", ".join(names)


def times(count: int, what: str, several: str = "") -> str:
    """Such as "1 strip", "12 strips".

    >>> times(1, "strip"), times(2, "patch", "patches")
    ('1 strip', '2 patches')
    """
    return f"{count} {what}" if count == 1 else f"{count} {several or what + 's'}"
