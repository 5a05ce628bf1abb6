"""What stands beside the pictures of a quilt.

Knows:  its size and blocks in a line, what each picture shows and from how far away.
Leaves: the pictures (picture), all else that is said of a quilt (words.quilts).
Units:  inches in, words out in the units of the quilt's options.
"""

from __future__ import annotations

import math
from collections.abc import Sequence

from seamwright.fabric.model import Fabric
from seamwright.options import Units
from seamwright.picture.cloth import Finish
from seamwright.quilt.model import Quilt, Role, Set
from seamwright.units import say_count, say_length, say_size


def facts(quilt: Quilt, units: Units) -> str:
    """Size, blocks and how they are set, in one sentence."""
    size = say_size(quilt.width_in, quilt.height_in, units)
    centre = sum(spot.part == "centre" for spot in quilt.spots)
    borders = len(quilt.spots) - centre
    plain = sum(cloth.role is Role.SETTING_BLOCK for cloth in quilt.cloths)
    how = "on point" if quilt.setting.set is Set.ON_POINT else f"{quilt.columns} across and {quilt.rows} down"
    words = f"{size[:1].upper()}{size[1:]} finished: {say_count(centre, 'block')}"
    words += f" and {plain} plain" if plain else ""
    words += f", {how}" if centre + plain > 1 else ""
    return f"{words}; {borders} more in the borders." if borders else f"{words}."


def greys_words(known: float) -> str:
    """What the bars of light and dark show.

    Args:
        known: share of the quilt of which it is known how light it reads.
    """
    of = f", of the {round(100 * known)} % that are known" if known < 0.995 else ""
    return f"How much of it is how light, by area{of}"


def shown_in(finish: Finish, fabrics: Sequence[Fabric]) -> str:
    """What the colours of a picture mean."""
    if finish is Finish.GREY:
        unknown = any(fabric.colour is None and fabric.value is None for fabric in fabrics)
        return "In greys that give as much light" + (", white where none is known" if unknown else "")
    lacking = [fabric for fabric in fabrics if fabric.colour is None]
    if not lacking:
        return "In colour"
    return (
        "In tints, as no colour is known"
        if len(lacking) == len(fabrics)
        else "In colour, tints where none is known"
    )


def whole_words(longest_in: float, units: Units) -> str:
    """From where the whole is seen: as far away as it is long, so that it fills the view.

    Args:
        longest_in: 0 for what is small enough to be seen whole at arm's length.
    """
    if not longest_in:
        return "at arm's length, all of it"
    return f"the whole, as from {say_distance(longest_in, units)} away"


def part_words(width_in: float, height_in: float, units: Units) -> str:
    """What is seen of it at arm's length."""
    size = (
        say_length(width_in, units) if math.isclose(width_in, height_in) else say_size(width_in, height_in, units)
    )
    return f"{size} of it, as from {say_length(max(width_in, height_in), units)} away"


def say_distance(inches: float, units: Units) -> str:
    """About how far away something is: whole feet, or tenths of a metre.

    >>> say_distance(84, Units.INCH), say_distance(20, Units.INCH), say_distance(84, Units.METRIC)
    ('7 ft', '20 in', '2.1 m')
    """
    if units is Units.METRIC:
        return f"{inches * 0.0254:.1f} m" if inches * 2.54 >= 95 else f"{round(inches * 2.54)} cm"
    return f"{round(inches / 12)} ft" if inches >= 36 else f"{round(inches)} in"
