"""The rows in which the centre of a quilt is sewn: level ones of a straight set, diagonal ones on point.

Knows:  what lies in each row from its left end, with the triangles that end a diagonal one.
Leaves: where everything lies (quilt.layout), words (quiltlaying, quiltsetting).
Units:  inches of the quilt.
Method: on point a diagonal row runs down to the right: along it a block that is not rotated has its top on the
        upper right, so that whoever tilts the head sees rows of a straight set. Rows are counted from the upper
        right.
"""

from __future__ import annotations

from dataclasses import dataclass

from seamwright.geometry import Point, Ring, moved
from seamwright.quilt.model import Cloth, Quilt, Role, Set, Spot

CENTRE = "centre"
APART_IN = 0.25
"""Middles of one row differ by less, those of two rows by more: a block is 1 in wide at least."""


@dataclass(frozen=True, slots=True)
class Entry:
    """One piece of a row.

    Attributes:
        at: its middle in the quilt; of a side triangle that of its long side. spot, cloth: what lies there.
    """

    at: Point
    spot: Spot | None = None
    cloth: Cloth | None = None


def rows_of(quilt: Quilt) -> tuple[tuple[Entry, ...], ...]:
    """The rows in sewing order, each from its left end; corner triangles and sashes are in none."""
    on_point = quilt.setting.set is Set.ON_POINT
    found = [Entry(middle_of(quilt, spot), spot=spot) for spot in quilt.spots if spot.part == CENTRE]
    for cloth in quilt.cloths:
        if cloth.part == CENTRE and cloth.role is Role.SETTING_BLOCK:
            found.append(Entry(mean(cloth.ring), cloth=cloth))
        elif cloth.part == CENTRE and cloth.role is Role.SIDE_TRIANGLE:
            found.append(Entry(_long_side(cloth), cloth=cloth))

    def across(entry: Entry) -> float:
        return entry.at[1] - entry.at[0] if on_point else entry.at[1]

    rows: list[list[Entry]] = []
    for entry in sorted(found, key=across):
        if not rows or across(entry) - across(rows[-1][-1]) > APART_IN:
            rows.append([])
        rows[-1].append(entry)
    return tuple(tuple(sorted(row, key=lambda one: sum(one.at) if on_point else one.at[0])) for row in rows)


def middle_of(quilt: Quilt, spot: Spot) -> Point:
    """The middle of a block in the quilt."""
    block = quilt.looks[spot.look].block
    return moved(spot.place, (block.width_in / 2, block.height_in / 2))


def centre_size(quilt: Quilt) -> tuple[float, float]:
    """Finished width and height of the quilt inside its borders."""
    across, down = (2 * sum(width[side] for width in quilt.borders_in) for side in (0, 1))
    return quilt.width_in - across, quilt.height_in - down


def mean(ring: Ring) -> Point:
    """The middle of the corners of a piece."""
    return sum(x for x, _ in ring) / len(ring), sum(y for _, y in ring) / len(ring)


def _long_side(cloth: Cloth) -> Point:
    ring = cloth.ring
    sides = [(ring[n], ring[(n + 1) % len(ring)]) for n in range(len(ring))]
    one, two = max(sides, key=lambda side: (side[0][0] - side[1][0]) ** 2 + (side[0][1] - side[1][1]) ** 2)
    return (one[0] + two[0]) / 2, (one[1] + two[1]) / 2
