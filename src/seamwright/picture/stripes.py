"""What is printed on a fabric, as far as it is known: stripes, or small marks that tell where the print runs.

Knows:  where stripes and marks lie in a patch, and in which shade of its colour.
Leaves: the patch and its colour (cloth).
Units:  inches of the picture; directions in degrees clockwise from +x, as seen in the block.
Method: stripes and marks are in step all over the block, as if cut from one cloth, and end at the patch's edge.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence

import shapely
from shapely.geometry import Polygon
from shapely.geometry.base import BaseGeometry

from seamwright.fabric.model import Fabric
from seamwright.fabric.shade import colour_lightness
from seamwright.geometry import Point, Ring
from seamwright.ink.model import Area, Ink

STRIPES_ACROSS = 24
"""From one side of a block to the other, where it is drawn small; else they lie `STRIPE_IN` apart."""
STRIPE_IN, LEAST_STRIPE_IN = 1 / 10, 1 / 25
STRIPE_SHARE = 0.4
"""Width of a stripe, as a share of what lies between two."""
THIN_IN = 1 / 1000
"""What is left of a stripe at a corner and is thinner than this no file holds and nobody sees."""
MARKS_APART = 2.2
"""From one mark to the next, in stripes; a mark is a chevron that points where the print runs."""
SHADE = 0.22
"""How far a stripe is from its fabric's colour towards white, or towards black on a light one: it is seen, and the
fabric still reads as it does."""


def printed_on(fabric: Fabric, rings: Sequence[Ring], ground: str, longest_in: float) -> Iterator[Ink]:
    """What is seen of a fabric's stripes or print in one patch.

    Args:
        rings: of the patch, holes after the first.
        ground: its colour.
        longest_in: the longer side of the picture of the block.
    """
    if fabric.direction_deg is None:
        return
    step = max(LEAST_STRIPE_IN, min(STRIPE_IN, longest_in / STRIPES_ACROSS))
    turn = math.radians(fabric.direction_deg)
    along, across = (math.cos(turn), math.sin(turn)), (-math.sin(turn), math.cos(turn))
    spans = [[x * way[0] + y * way[1] for x, y in rings[0]] for way in (along, across)]
    (left, right), (low, high) = ((min(span), max(span)) for span in spans)

    def place(a: float, b: float) -> Point:
        return (a * along[0] + b * across[0], a * along[1] + b * across[1])

    shapes = _stripes(left, right, low, high, step) if fabric.striped else _marks(left, right, low, high, step)
    area = shapely.make_valid(Polygon(rings[0], rings[1:]))
    colour = _shade(ground)
    for shape in shapes:
        yield from _areas(shapely.intersection(area, Polygon([place(a, b) for a, b in shape])), colour)


def _stripes(left: float, right: float, low: float, high: float, step: float) -> Iterator[Ring]:
    """Stripes along the first axis."""
    for count in range(math.floor(low / step) - 1, math.ceil(high / step) + 1):
        near, far = count * step, (count + STRIPE_SHARE) * step
        yield ((left, near), (right, near), (right, far), (left, far))


def _marks(left: float, right: float, low: float, high: float, step: float) -> Iterator[Ring]:
    """Chevrons that point along the first axis, every other row half a step on."""
    apart, arm, thick = MARKS_APART * step, 0.45 * step, 0.4 * step
    for row in range(math.floor(low / apart) - 1, math.ceil(high / apart) + 2):
        for place in range(math.floor(left / apart) - 2, math.ceil(right / apart) + 2):
            x, y = (place + (row % 2) / 2) * apart, row * apart
            yield (
                *((x, y), (x - arm, y - arm), (x - arm - thick, y - arm)),
                *((x - thick, y), (x - arm - thick, y + arm), (x - arm, y + arm)),
            )


def _areas(shape: BaseGeometry, colour: str) -> Iterator[Ink]:
    for part in shapely.get_parts(shape):
        if isinstance(part, Polygon) and 2 * part.area > THIN_IN * part.length:
            rings = (part.exterior, *part.interiors)
            yield Area(tuple(tuple((float(x), float(y)) for x, y in ring.coords[:-1]) for ring in rings), colour)


def _shade(ground: str) -> str:
    """A little darker than a light colour, a little lighter than any other."""
    towards = 0 if colour_lightness(ground) > 50 else 255
    parts = (int(ground[i : i + 2], 16) for i in (1, 3, 5))
    return "#" + "".join(f"{round(p + (towards - p) * SHADE):02x}" for p in parts)
