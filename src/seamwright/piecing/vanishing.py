"""Where a point vanishes: sharp tips that the eye loses because the fabric beside them reads alike.

Knows:  the patches round a point with their angles, and what is left to see of a tip between them.
Leaves: which fabrics read alike (fabric.contrast), the words of the advice (advice), dark allowance (shadows).
Units:  degrees.
Method: round a point of the block patches of one fabric are taken as one shape, for they are drawn as one. Where
        such a shape is sharp, what reads alike with it on either side is laid to it, as the eye does. If what then
        shows is no longer sharp, the point has vanished: a spike beside a broad patch of its own value is a bent
        edge. Two halves of one point that read alike lose nothing as long as both together are sharp.
Limits: a point of a fabric of which neither colour nor value is known is never said to vanish, nor one that only
        what lies outside the block could hide.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from seamwright.block.model import OUTSIDE, Block
from seamwright.fabric.contrast import read_alike
from seamwright.fabric.model import Fabric
from seamwright.piecing.shapes import ANGLE_SLACK_DEG, TIP_DEG

STILL_SHARP_DEG = 60.0
"""As wide as this a point still reads as one, if no longer as the one that was drawn: our own judgement, the corner
of a triangle of equal sides. Tips of 45 degrees, those of half-squares and flying geese, count as points here."""


@dataclass(frozen=True, slots=True)
class Lost:
    """A point that vanishes.

    Attributes:
        point: point number; patches: those whose tip lies there, one shape of one fabric.
        beside: patches of other fabrics that read alike with it, on one side or on both.
        angle_deg: of the tip; seen_deg: of all that reads as one there.
    """

    point: int
    patches: tuple[int, ...]
    beside: tuple[int, ...]
    angle_deg: float
    seen_deg: float


@dataclass(frozen=True, slots=True)
class _Sector:
    """What lies between two lines at a point: patches of one fabric, or OUTSIDE alone."""

    patches: tuple[int, ...]
    angle_deg: float
    fabric: Fabric | None


def vanishing(block: Block) -> tuple[Lost, ...]:
    """The points that vanish, by point number; () if too little is known of the fabrics to say so."""
    fabrics = {
        fabric.name: fabric for fabric in block.fabrics if fabric.colour is not None or fabric.value is not None
    }
    if len(fabrics) < 2:
        return ()
    found = []
    for point, sectors in enumerate(_round_points(block)):
        shapes = _shapes(block, sectors, fabrics)
        found += [lost for place in range(len(shapes)) if (lost := _lost(point, shapes, place)) is not None]
    return tuple(found)


def alike_pairs(block: Block, lost: Iterable[Lost]) -> list[tuple[Fabric, Fabric]]:
    """The pairs of fabrics that lose points, each once, the one of the tip first; by the order of the points."""
    fabrics = {fabric.name: fabric for fabric in block.fabrics}
    pairs: dict[frozenset[str], tuple[Fabric, Fabric]] = {}
    for one in lost:
        tip = fabrics[block.patches[one.patches[0]].fabric or ""]
        for patch in one.beside:
            other = fabrics[block.patches[patch].fabric or ""]
            if other != tip:
                pairs.setdefault(frozenset((tip.name, other.name)), (tip, other))
    return list(pairs.values())


def _lost(point: int, shapes: list[_Sector], place: int) -> Lost | None:
    """The tip of one of the shapes round a point, if it vanishes."""
    shape = shapes[place]
    if shape.fabric is None or shape.angle_deg > TIP_DEG + ANGLE_SLACK_DEG:
        return None
    others = [shapes[(place + k) % len(shapes)] for k in range(1, len(shapes))]
    ahead = _alike(shape, others)
    # A shape that is reached from both sides is laid to the tip once.
    behind = _alike(shape, others[len(ahead) :][::-1])
    beside = (*ahead, *behind)
    seen = math.fsum([shape.angle_deg, *(other.angle_deg for other in beside)])
    if not beside or seen <= STILL_SHARP_DEG + ANGLE_SLACK_DEG:
        return None
    named = dict.fromkeys(patch for other in beside for patch in other.patches)
    return Lost(point, shape.patches, tuple(named), shape.angle_deg, seen)


def _alike(shape: _Sector, others: list[_Sector]) -> list[_Sector]:
    """Those of the shapes on one side of another, the nearest first, that read as one with it."""
    found = []
    for other in others:
        if shape.fabric is None or other.fabric is None:
            break
        if other.fabric != shape.fabric and not read_alike(shape.fabric, other.fabric):
            break
        found.append(other)
    return found


def _shapes(block: Block, sectors: list[tuple[int, float]], fabrics: dict[str, Fabric]) -> list[_Sector]:
    """Sectors round a point in order, neighbours of one fabric as one."""
    shapes: list[_Sector] = []
    for patch, angle in sectors:
        fabric = None if patch == OUTSIDE else fabrics.get(block.patches[patch].fabric or "")
        shapes.append(_Sector((patch,), angle, fabric))
    merged: list[_Sector] = []
    for sector in shapes:
        if merged and _same(merged[-1], sector):
            merged[-1] = _together(merged[-1], sector)
        else:
            merged.append(sector)
    # The last lies beside the first.
    if len(merged) > 1 and _same(merged[-1], merged[0]):
        merged[0] = _together(merged.pop(), merged[0])
    return merged


def _same(one: _Sector, other: _Sector) -> bool:
    return one.fabric is not None and one.fabric == other.fabric


def _together(one: _Sector, other: _Sector) -> _Sector:
    return _Sector((*one.patches, *other.patches), one.angle_deg + other.angle_deg, one.fabric)


def _round_points(block: Block) -> Iterator[list[tuple[int, float]]]:
    """For each point the (patch, angle) round it, clockwise as seen; OUTSIDE for what lies outside the block."""
    leaving: list[list[tuple[float, int]]] = [[] for _ in block.points]
    for number, edge in enumerate(block.edges):
        run = block.edge_points(number)
        leaving[edge.start].append((_direction(run[0], run[1]), edge.right))
        # Whoever leaves by the far end walks against the edge: its left hand is then the right one.
        leaving[edge.end].append((_direction(run[-1], run[-2]), edge.left))
    for lines in leaving:
        lines.sort()
        # With y down a walker's right hand lies clockwise of the line by which he leaves.
        yield [
            (patch, (after - direction) % 360 or 360.0)
            for (direction, patch), (after, _) in zip(lines, [*lines[1:], *lines[:1]], strict=True)
        ]


def _direction(start: tuple[float, float], end: tuple[float, float]) -> float:
    return math.degrees(math.atan2(end[1] - start[1], end[0] - start[0]))
