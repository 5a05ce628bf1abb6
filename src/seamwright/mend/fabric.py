"""Where the words and points that name fabrics must go when patches change.

Knows:  which patch each of them lies in, before and after.
Leaves: writing them (svgedit, seamsedit).
Units:  inches of the finished block.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

import shapely

from seamwright.block.model import Block
from seamwright.drawing.textwrite import neat
from seamwright.geometry import Point
from seamwright.ink.place import roomiest
from seamwright.mend.apply import came_from


@dataclass(frozen=True, slots=True)
class Laid:
    """A fabric named at a place."""

    fabric: str
    at: Point


Moved = list[tuple[int, Point]]
Added = list[tuple[str, Point]]
Surplus = list[int]


def laid_out(
    block: Block, wanted: Block, new: Mapping[int, Point], laid: Sequence[Laid]
) -> tuple[Moved, Added, Surplus]:
    """What must change so that every patch of `wanted` has its fabric named once.

    Args:
        block, new: the block as it was, and the new places of its points.
        laid: what names fabrics now.

    Returns:
        (number in `laid`, new place) of those that would lie in the wrong patch; (fabric, place) to be added;
        numbers of those that lie in a patch whose fabric another names already.
    """
    origins = came_from(block, wanted, dict(new))
    before = _areas(block)
    after = _areas(wanted)
    tree = shapely.STRtree(before)
    parts: dict[int, list[int]] = {}
    for number, old in enumerate(origins):
        if old is not None:
            parts.setdefault(old, []).append(number)
    home = {}
    for number, at in enumerate(laid):
        inside = sorted(int(k) for k in tree.query(shapely.Point(at.at), "within"))
        if inside:
            home[number] = inside[0]
    named: dict[int, int] = {}
    moves: Moved = []
    surplus: Surplus = []
    homeless: list[tuple[int, int]] = []
    for number, old in home.items():
        place = shapely.Point(laid[number].at)
        here = next((n for n in range(len(after)) if after[n].contains(place)), None)
        if here is not None and (here in parts.get(old, ()) or wanted.patches[here].fabric == laid[number].fabric):
            if here in named:
                surplus.append(number)
            else:
                named[here] = number
        else:
            homeless.append((number, old))
    for number, old in homeless:
        free = [n for n in parts.get(old, ()) if n not in named]
        if free:
            named[free[0]] = number
            moves.append((number, _middle(wanted, free[0])))
        else:
            surplus.append(number)
    stated = {laid[number].fabric for number in home}
    added: Added = []
    for number, patch in enumerate(wanted.patches):
        if number not in named and patch.fabric in stated and patch.fabric is not None:
            original = origins[number]
            if any(old == original for old in home.values()):
                added.append((patch.fabric, _middle(wanted, number)))
    return moves, added, surplus


def _areas(block: Block) -> list[shapely.Polygon]:
    return [shapely.Polygon(block.patch_ring(n), block.patch_holes(n)) for n in range(len(block.patches))]


def _middle(block: Block, patch: int) -> Point:
    """A place well inside a patch, in figures that are easy to read."""
    return neat(*roomiest(block.patch_ring(patch), block.patch_holes(patch)))
