"""Symmetries of a block: the ways to lay it that show the same, fabrics and all.

Knows:  which quarter turns, of the block or of its mirror image, lay it on itself; how turns follow one another.
Leaves: how a shape is told from its mirror image, and within which noise (piecing.canon: as planning does it, so
        that a block is its own mirror here exactly when its prints say so).
Units:  inches, front view; degrees clockwise.
Method: the canonical walks over a block that tie are its symmetries: each lays the points of the first walk on its
        own. Those that are a quarter turn, of the block or its mirror image, are kept. Walks know fabrics by name;
        a fabric whose print runs somewhere must also run there after the turn.
Limits: symmetries that are no quarter turns, such as those of a hexagon, lay no block into a square cell.
"""

from __future__ import annotations

import math

from seamwright.block.model import Block
from seamwright.geometry import Affine, moved
from seamwright.piecing.canon import Walks
from seamwright.quilt.model import Turn

SAME_SPOT_IN = 0.01
"""Places that are nearer to each other after a turn are one: walks hold lengths to less, and noise adds up."""
SAME_DEG = 0.1
ALL_TURNS = tuple(Turn(quarters, flipped) for flipped in (False, True) for quarters in range(4))
"""The eight ways to lay a square block."""


def symmetries(block: Block) -> frozenset[Turn]:
    """All turns that lay a block on itself, each patch on one of the same fabric; Turn() is always one.

    They make a group under `compose`.
    """
    walks = Walks(block).shape(range(len(block.patches))).walks
    at = block.points
    found = {Turn()}
    for turn in ALL_TURNS[1:]:
        place = turn.place(block.width_in, block.height_in)
        goes = [moved(place, at[point]) for point in walks[0].points]
        lies = any(
            all(math.dist(to, at[point]) <= SAME_SPOT_IN for to, point in zip(goes, walk.points, strict=True))
            for walk in walks
        )
        if lies and _keeps_prints(block, turn) and _keeps_curves(block, place):
            found.add(turn)
    return frozenset(found)


def compose(first: Turn, second: Turn) -> Turn:
    """The turn that does `first` and then `second`.

    >>> compose(Turn(1), Turn(0, True)), compose(Turn(0, True), Turn(1))
    (Turn(quarters=3, reversed=True), Turn(quarters=1, reversed=True))
    """
    # Seen in a mirror a rotation goes the other way round.
    quarters = second.quarters + (-first.quarters if second.reversed else first.quarters)
    return Turn(quarters % 4, first.reversed != second.reversed)


def inverse(turn: Turn) -> Turn:
    """The turn that takes `turn` back.

    >>> compose(Turn(3, True), inverse(Turn(3, True)))
    Turn(quarters=0, reversed=False)
    """
    return turn if turn.reversed else Turn(-turn.quarters % 4)


def _keeps_curves(block: Block, place: Affine) -> bool:
    """Whether curves come to lie on curves; of these walks know length and area only."""
    curves = [block.edge_points(number) for number, edge in enumerate(block.edges) if edge.via]
    if not curves:
        return True
    from shapely import MultiLineString

    laid = MultiLineString([[moved(place, p) for p in curve] for curve in curves])
    return bool(laid.hausdorff_distance(MultiLineString(curves)) <= SAME_SPOT_IN)


def _keeps_prints(block: Block, turn: Turn) -> bool:
    """Whether every fabric that is worn runs the same way after a turn."""
    worn = {name for patch in range(len(block.patches)) for name in block.fabrics_in(patch)}
    for fabric in block.fabrics:
        if fabric.name in worn and (runs := fabric.direction_deg) is not None:
            to = (180 - runs if turn.reversed else runs) + 90 * turn.quarters
            full = 180 if fabric.striped else 360  # stripes have no top
            if min((to - runs) % full, (runs - to) % full) > SAME_DEG:
                return False
    return True
