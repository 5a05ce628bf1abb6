"""A block under its canonical numbers, to be planned in place of the block itself.

Knows:  numbers of points, edges, seams and patches that all copies of a drawing share; the way back from them.
Leaves: the walk that they follow from (canon); what the numbers decide (search, ties, order); letters, which follow
        the eye and not the walk (joins).
Method: parts are numbered in the order in which the canonical walk meets them. Places stay those of the drawing: so
        whatever is decided by number is decided alike in every copy, and whatever is said of places is true here.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from typing import TypeVar

from seamwright.block.model import OUTLINE, OUTSIDE, Block, Edge, Patch, Seam
from seamwright.piecing.canon import Walks
from seamwright.piecing.model import Join, Section, Step
from seamwright.piecing.seammap import SeamMap

_T = TypeVar("_T")


@dataclass(frozen=True, slots=True)
class Canon:
    """The numbers of a block's parts, by their old numbers.

    Attributes:
        points, edges, seams, patches: the new number of each.
        mirrored: whether the numbers were given anticlockwise; what is left of a seam in one copy is right of it in
            a copy of the other hand.
        symmetries: how many walks tie: 1 for a drawing that has no symmetry.
    """

    points: tuple[int, ...]
    edges: tuple[int, ...]
    seams: tuple[int, ...]
    patches: tuple[int, ...]
    mirrored: bool
    symmetries: int


def canonical(block: Block) -> Canon:
    """The canonical numbers of a whole block."""
    shape = Walks(block).shape(range(len(block.patches)))
    walk = shape.walks[0]
    seams = dict.fromkeys(block.edges[e].seam for e in walk.edges if block.edges[e].seam != OUTLINE)
    return Canon(
        points=_places(walk.points),
        edges=_places(walk.edges),
        seams=_places(tuple(seams)),
        patches=_places(walk.patches),
        mirrored=walk.mirrored,
        symmetries=len(shape.walks),
    )


def renumbered(block: Block, canon: Canon) -> Block:
    """The same block under other numbers; seams run from their end of the lower number."""

    def ring(points: Sequence[int], edges: Sequence[int]) -> tuple[tuple[int, ...], tuple[int, ...]]:
        new = [canon.points[p] for p in points]
        first = new.index(min(new))
        onward = [canon.edges[e] for e in edges]
        return (*new[first:], *new[:first]), (*onward[first:], *onward[:first])

    def patch(old: Patch) -> Patch:
        points, edges = ring(old.ring, old.edges)
        holes = sorted(ring(*hole) for hole in zip(old.holes, old.hole_edges, strict=True))
        return Patch(points, edges, tuple(h for h, _ in holes), old.fabric, tuple(e for _, e in holes))

    def seam(old: Seam) -> Seam:
        points = tuple(canon.points[p] for p in old.points)
        edges = tuple(canon.edges[e] for e in old.edges)
        if points <= points[::-1]:
            return Seam(points, edges, old.straight, old.turns)
        turns = tuple(len(points) - 1 - turn for turn in reversed(old.turns))
        return Seam(points[::-1], edges[::-1], old.straight, turns)

    def edge(old: Edge) -> Edge:
        left, right = (canon.patches[p] if p != OUTSIDE else OUTSIDE for p in (old.left, old.right))
        number = canon.seams[old.seam] if old.seam != OUTLINE else OUTLINE
        start, end = canon.points[old.start], canon.points[old.end]
        if start <= end:
            return Edge(start, end, number, left, right, old.via)
        return Edge(end, start, number, right, left, old.via[::-1])

    outline, outline_edges = ring(block.outline, block.outline_edges)
    return replace(
        block,
        points=_by_number(block.points, canon.points),
        edges=_by_number(tuple(map(edge, block.edges)), canon.edges),
        seams=_by_number(tuple(map(seam, block.seams)), canon.seams),
        patches=_by_number(tuple(map(patch, block.patches)), canon.patches),
        outline=outline,
        outline_edges=outline_edges,
        pre_pieced=tuple(replace(made, patch=canon.patches[made.patch]) for made in block.pre_pieced),
    )


class Twin:
    """The block to plan.

    Where numbers alone decide, the twins of all copies of a drawing are decided alike.

    Attributes:
        seams: the seam map of the block under canonical numbers; places are those of the block.
    """

    def __init__(self, block: Block) -> None:
        canon = canonical(block)
        self.seams = SeamMap(renumbered(block, canon), mirrored=canon.mirrored)
        self._points, self._patches = _places(canon.points), _places(canon.patches)

    def back(
        self, sections: Iterable[Section], joins: Iterable[Join]
    ) -> tuple[tuple[Section, ...], tuple[Join, ...]]:
        """Sections and joins of the twin as those of the block."""
        return (
            tuple(
                replace(
                    section,
                    steps=tuple(Step(self._patches[s.patch], self._back(s.stitch)) for s in section.steps),
                    outline=self._back(section.outline),
                )
                for section in sections
            ),
            tuple(replace(join, seam=self._back(join.seam), turns=self._back(join.turns)) for join in joins),
        )

    def patches_back(self, patches: Iterable[int]) -> tuple[int, ...]:
        """Patches of the twin as those of the block."""
        return tuple(self._patches[patch] for patch in patches)

    def _back(self, points: Iterable[int]) -> tuple[int, ...]:
        return tuple(self._points[p] for p in points)


def _places(order: Sequence[int]) -> tuple[int, ...]:
    """For each number its place in `order`."""
    places = [0] * len(order)
    for place, number in enumerate(order):
        places[number] = place
    return tuple(places)


def _by_number(parts: Sequence[_T], numbers: Sequence[int]) -> tuple[_T, ...]:
    """The parts in the order of their new numbers."""
    found = list(parts)
    for part, number in zip(parts, numbers, strict=True):
        found[number] = part
    return tuple(found)
