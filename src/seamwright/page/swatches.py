"""Fabrics as the page lists them: how they look, in colour and in grey, and how they read.

Knows:  what a swatch, a patch's fill and the words beside them need.
Leaves: colours, values and stripes themselves (fabric, picture), which patches there are (coloured).
Units:  a swatch is SWATCH wide and high, in units of its own; directions in degrees.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from typing import Any

from seamwright.fabric.model import Fabric
from seamwright.fabric.words import value_word
from seamwright.geometry import Ring
from seamwright.ink.model import Area
from seamwright.options import Units
from seamwright.picture.cloth import Finish, fabric_fills
from seamwright.picture.stripes import printed_on
from seamwright.picture.tints import on
from seamwright.units import say_length

SWATCH = (48.0, 32.0)
SHOWN_IN = 3.7
"""Longer side of the picture in which stripes are drawn: as wide in a block on the screen as in one on paper."""
SWATCH_IN = 0.45
"""Width of a swatch in that picture."""


class Looks:
    """How fabrics look that stand together: those without a colour share tints."""

    def __init__(self, fabrics: Iterable[Fabric]) -> None:
        known = list({fabric.name: fabric for fabric in fabrics}.values())
        self._fills = {finish: fabric_fills(known, finish) for finish in (Finish.COLOUR, Finish.GREY)}

    def of(self, fabric: Fabric, codes: Mapping[str, str], units: Units) -> dict[str, Any]:
        """One fabric: what is known of it, and its swatch."""
        fill, grey = self.fills(fabric)
        width, height = SWATCH
        ring = ((0.0, 0.0), (width, 0.0), (width, height), (0.0, height))
        return {
            "name": fabric.name,
            "code": codes.get(fabric.name, ""),
            "colour": fabric.colour,
            "reads": value_word(fabric),
            "print": print_words(fabric),
            "width": say_length(fabric.width_in, units) if fabric.width_in is not None else "",
            "fill": fill,
            "grey": grey,
            "on": on(fill),
            "on_grey": on(grey),
            **self.printed(fabric, (ring,), width / SWATCH_IN * SHOWN_IN),
        }

    def fills(self, fabric: Fabric) -> tuple[str, str]:
        """Its colour, or the tint that stands for it, and its grey."""
        colour, grey = (self._fills[finish][fabric.name].lower() for finish in (Finish.COLOUR, Finish.GREY))
        return colour, grey

    def printed(self, fabric: Fabric, rings: Sequence[Ring], longest: float) -> dict[str, Any]:
        """Stripes or marks of its print in an area, as path data, and their two shades.

        Args:
            rings: of the area, holes after the first. longest: longer side of the block, in their unit.
        """
        scale = SHOWN_IN / longest
        small = [tuple((x * scale, y * scale) for x, y in ring) for ring in rings]
        shades = []
        data = ""
        for ground in self.fills(fabric):
            inks = [ink for ink in printed_on(fabric, small, ground, SHOWN_IN) if isinstance(ink, Area)]
            shades.append(inks[0].colour if inks else ground)
            data = data or "".join(path_data(ring, 1 / scale) for ink in inks for ring in ink.rings)
        return {"stripes": data, "shade": shades[0], "grey_shade": shades[1]}


def path_data(ring: Ring, scale: float = 1.0) -> str:
    """A closed ring as the path data of SVG."""
    return "M" + "L".join(f"{x * scale:.4g} {y * scale:.4g}" for x, y in ring) + "Z"


def print_words(fabric: Fabric) -> str:
    """Which way stripes or a print run, in words; "" for a fabric without."""
    if fabric.direction_deg is None:
        return ""
    if fabric.striped:
        return f"stripes at {fabric.direction_deg:g}°"
    return f"print runs at {fabric.direction_deg:g}°"
