"""Rings and runs of a block as coordinates, the points of curves included.

Knows:  which edges lie round a set of patches, and between two sets.
Leaves: the map itself (block.model), canonical rings (geometry).
Units:  inches, front view.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass
from itertools import pairwise

from seamwright.block.model import Block
from seamwright.geometry import Point, Ring


@dataclass(frozen=True, slots=True)
class Side:
    """One edge as walked clockwise round a set of patches.

    Attributes:
        start: number of the point where it is entered.
        edge: its number.
        across: the patch on its other side, or OUTSIDE.
        points: coordinates along it, both ends and curve points included; two for a straight one.
    """

    start: int
    edge: int
    across: int
    points: tuple[Point, ...]


def region_ring(block: Block, patches: Iterable[int]) -> Ring:
    """Coordinates round patches that lie together without a hole, clockwise, points inside its sides included.

    Raises:
        ValueError: the patches do not make one piece without a hole.
    """
    return tuple(point for side in region_sides(block, patches) for point in side.points[:-1])


def region_sides(block: Block, patches: Iterable[int]) -> tuple[Side, ...]:
    """The edges round such patches, clockwise.

    Raises:
        ValueError: the patches do not make one piece without a hole.
    """
    inside = frozenset(patches)
    onward: dict[int, tuple[int, Side]] = {}
    for number, edge in enumerate(block.edges):
        if (edge.left in inside) == (edge.right in inside):
            continue
        run = block.edge_points(number)
        # Clockwise in front view means that the region lies on the walker's right hand.
        if edge.right in inside:
            end, side = edge.end, Side(edge.start, number, edge.left, run)
        else:
            end, side = edge.start, Side(edge.end, number, edge.right, run[::-1])
        if side.start in onward:
            raise ValueError(f"the region meets itself at point {side.start}")
        onward[side.start] = (end, side)
    sides: list[Side] = []
    first = point = next(iter(onward))
    for _ in onward:
        point, side = onward[point]
        sides.append(side)
        if point == first:
            break
    if len(sides) != len(onward):
        raise ValueError("the region is not one piece without a hole")
    return tuple(sides)


class Runs:
    """Coordinates along neighbouring points of a block's map, the points of curves included."""

    def __init__(self, block: Block) -> None:
        self._block = block
        self._between: dict[tuple[int, int], list[int]] = {}
        for number, edge in enumerate(block.edges):
            self._between.setdefault((edge.start, edge.end), []).append(number)
            self._between.setdefault((edge.end, edge.start), []).append(number)

    def along(
        self, points: Sequence[int], part: Iterable[int] = (), other: Iterable[int] | None = None
    ) -> tuple[Point, ...]:
        """Coordinates along `points`, each a neighbour of the next.

        Args:
            points: point numbers in order.
            part: patches on one side of the run.
            other: patches on its other side; None: all others. Together they tell a curve and its chord apart.

        Raises:
            KeyError: two points that follow each other are no neighbours.
        """
        inside = frozenset(part)
        beyond = None if other is None else frozenset(other)

        def between(one: int, two: int) -> bool:
            return one in inside and (two not in inside if beyond is None else two in beyond)

        return self._along(points, lambda left, right: between(left, right) or between(right, left))

    def around(self, points: Sequence[int], part: Iterable[int]) -> Ring:
        """Coordinates round a part, `points` clockwise on its border, the first not repeated at the end.

        Raises:
            KeyError: two points that follow each other are no neighbours.
        """
        inside = frozenset(part)
        run = self._along((*points, *points[:1]), lambda left, right: right in inside and left not in inside)
        return run[:-1]

    def _along(self, points: Sequence[int], is_meant: Callable[[int, int], bool]) -> tuple[Point, ...]:
        """`is_meant`: of several edges between two points, from the patches on the walker's left and right."""
        block = self._block
        run = [block.points[p] for p in points[:1]]
        for a, b in pairwise(points):
            choice = self._between[a, b]
            if len(choice) > 1:
                edges = [(n, block.edges[n]) for n in choice]
                choice = [
                    n
                    for n, edge in edges
                    if is_meant(*((edge.left, edge.right) if edge.start == a else (edge.right, edge.left)))
                ]
            edge = block.edges[choice[0]]
            run.extend(edge.via if edge.start == a else edge.via[::-1])
            run.append(block.points[b])
        return tuple(run)


def seam_points(block: Block, number: int) -> tuple[Point, ...]:
    """Coordinates along seam `number` from end to end, the points of curves included."""
    seam = block.seams[number]
    run = [block.points[seam.points[0]]]
    for start, edge in zip(seam.points, seam.edges, strict=False):
        along = block.edge_points(edge)
        run.extend((along if block.edges[edge].start == start else along[::-1])[1:])
    return tuple(run)
