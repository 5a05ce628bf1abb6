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
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace

from seamwright.block.asseen import as_seen
from seamwright.block.model import OUTSIDE, Block
from seamwright.fabric.contrast import read_alike
from seamwright.fabric.model import Fabric
from seamwright.geometry import Point
from seamwright.piecing.shapes import ANGLE_SLACK_DEG, TIP_DEG

STILL_SHARP_DEG = 60.0
"""As wide as this a point still reads as one, if no longer as the one that was drawn: our own judgement, the corner
of a triangle of equal sides. Tips of 45 degrees, those of half-squares and flying geese, count as points here."""


@dataclass(frozen=True, slots=True)
class Lost:
    """A point that vanishes.

    Attributes:
        at: where, inches.
        patches: numbers of those whose tip lies there: one shape.
        fabric: what it is of.
        beside: numbers of the patches that read as one with it, on one side or on both.
        alike: their fabrics, that of the tip left out.
        angle_deg: of the tip; seen_deg: of all that reads as one there.
    """

    at: Point
    patches: tuple[int, ...]
    fabric: Fabric
    beside: tuple[int, ...]
    alike: tuple[Fabric, ...]
    angle_deg: float
    seen_deg: float


@dataclass(frozen=True, slots=True)
class _Sector:
    """What lies between two lines at a point: patches of one fabric, or OUTSIDE alone."""

    patches: tuple[int, ...]
    angle_deg: float
    fabric: Fabric | None


def vanishing(block: Block) -> tuple[Lost, ...]:
    """The points that vanish, in the order of the block's; () if too little is known of the fabrics to say so."""
    seen, lies_in = as_seen(block)
    fabrics = {
        fabric.name: fabric for fabric in block.fabrics if fabric.colour is not None or fabric.value is not None
    }
    if len(fabrics) < 2:
        return ()
    found = []
    for at, sectors in zip(seen.points, _round_points(seen), strict=True):
        shapes = _shapes(seen, sectors, fabrics)
        found += [lost for place in range(len(shapes)) if (lost := _lost(at, shapes, place)) is not None]
    return tuple(
        replace(lost, patches=_named(lost.patches, lies_in), beside=_named(lost.beside, lies_in)) for lost in found
    )


def alike_pairs(lost: Iterable[Lost]) -> list[tuple[Fabric, Fabric]]:
    """The pairs of fabrics that lose points, each once, the one of the tip first."""
    pairs: dict[frozenset[str], tuple[Fabric, Fabric]] = {}
    for one in lost:
        for other in one.alike:
            pairs.setdefault(frozenset((one.fabric.name, other.name)), (one.fabric, other))
    return list(pairs.values())


def _named(patches: Iterable[int], lies_in: Sequence[int]) -> tuple[int, ...]:
    return tuple(dict.fromkeys(lies_in[patch] for patch in patches))


def _lost(at: Point, shapes: list[_Sector], place: int) -> Lost | None:
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
    alike = dict.fromkeys(other.fabric for other in beside if other.fabric is not None)
    alike.pop(shape.fabric, None)
    patches = tuple(patch for other in beside for patch in other.patches)
    return Lost(at, shape.patches, shape.fabric, patches, tuple(alike), shape.angle_deg, seen)


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


def _direction(start: Point, end: Point) -> float:
    return math.degrees(math.atan2(end[1] - start[1], end[0] - start[0]))
