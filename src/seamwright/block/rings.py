"""Rings and runs of a block as coordinates, the points of curves included.

Knows:  which edges lie round a set of patches, and between two sets.
Leaves: the map itself (block.model), canonical rings (geometry).
Units:  inches, front view.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from itertools import pairwise

from seamwright.block.model import Block
from seamwright.geometry import Point, Ring


def region_ring(block: Block, patches: Iterable[int]) -> Ring:
    """Coordinates round patches that lie together without a hole, clockwise, points inside its sides included.

    Raises:
        ValueError: the patches do not make one piece without a hole.
    """
    inside = frozenset(patches)
    onward: dict[int, tuple[int, tuple[Point, ...]]] = {}
    for number, edge in enumerate(block.edges):
        if (edge.left in inside) == (edge.right in inside):
            continue
        run = block.edge_points(number)
        # Clockwise in front view means that the region lies on the walker's right hand.
        start, end = (edge.start, edge.end) if edge.right in inside else (edge.end, edge.start)
        if start in onward:
            raise ValueError(f"the region meets itself at point {start}")
        onward[start] = (end, run if edge.right in inside else run[::-1])
    ring: list[Point] = []
    first = point = next(iter(onward))
    for _ in onward:
        point, run = onward[point]
        ring.extend(run[:-1])
        if point == first:
            break
    if len(ring) != sum(len(run) - 1 for _, run in onward.values()):
        raise ValueError("the region is not one piece without a hole")
    return tuple(ring)


def run_points(block: Block, points: Sequence[int], parts: Iterable[int] = ()) -> tuple[Point, ...]:
    """Coordinates along neighbouring points of the map, the points of curves included.

    Args:
        points: point numbers in order.
        parts: patches on one side of the run; tells two edges between the same two points apart.
    """
    inside = frozenset(parts)
    between: dict[frozenset[int], list[int]] = {}
    wanted = {frozenset(pair) for pair in pairwise(points)}
    for number, edge in enumerate(block.edges):
        pair = frozenset((edge.start, edge.end))
        if pair in wanted:
            between.setdefault(pair, []).append(number)
    run: list[Point] = [block.points[points[0]]] if points else []
    for a, b in pairwise(points):
        choice = between[frozenset((a, b))]
        parting = [n for n in choice if (block.edges[n].left in inside) != (block.edges[n].right in inside)]
        number = (parting or choice)[0]
        along = block.edge_points(number)
        run.extend((along if block.edges[number].start == a else along[::-1])[1:])
    return tuple(run)


def seam_points(block: Block, number: int) -> tuple[Point, ...]:
    """Coordinates along seam `number` from end to end, the points of curves included."""
    seam = block.seams[number]
    run = [block.points[seam.points[0]]]
    for start, edge in zip(seam.points, seam.edges, strict=False):
        along = block.edge_points(edge)
        run.extend((along if block.edges[edge].start == start else along[::-1])[1:])
    return tuple(run)
