"""A block with mends done: drawn anew from its seams, tidied, its fabrics kept.

Knows:  how moved points, added and dropped seams become lines again; which patch each new patch came from.
Leaves: finding mends (find), the drawing's file (write).
Units:  inches of the finished block.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import replace
from itertools import pairwise

import shapely

from seamwright.block.make import make_block
from seamwright.block.mirrored import mirrored
from seamwright.block.model import Block
from seamwright.drawing.model import Curve, Drawing, Line
from seamwright.geometry import Point, off_line
from seamwright.mend.change import GRID_IN, dropped_by, dropped_edges, places_of
from seamwright.options import PlanOptions
from seamwright.piecing.model import Mend


def apply_mends(block: Block, mends: Sequence[Mend]) -> Block:
    """The block with mends done.

    Args:
        mends: of this block.

    Raises:
        DrawingError: what comes of it is no block.
    """
    if block.reversed:
        back = [mirrored_mend(mend, block.width_in) for mend in mends]
        return mirrored(apply_mends(mirrored(block), back))
    new = places_of(block, mends)
    drawing = Drawing(
        name=block.name,
        file=block.file,
        lines=tuple(Line(a, b, f"seam {n}") for n, (a, b) in enumerate(_lines(block, mends, new), start=1)),
        curves=tuple(Curve(run, "curve") for run in _curves(block, mends, new)),
        outline=tuple(_moved(block, block.outline, block.outline_edges, new)),
        sides=moved_sides(block, block.outline_sides(), new),
        exact=True,
    )
    made = make_block(drawing, PlanOptions())
    from_patch = came_from(block, made, new)
    patches = tuple(
        replace(patch, fabric=None if old is None else block.patches[old].fabric)
        for patch, old in zip(made.patches, from_patch, strict=True)
    )
    return replace(made, patches=patches, fabrics=block.fabrics, options=block.options, colourways=block.colourways)


def mirrored_mend(mend: Mend, width_in: float) -> Mend:
    """The same change of the mirror image of a block of some width; its words are not changed."""

    def seen(pairs: Iterable[tuple[Point, Point]]) -> tuple[tuple[Point, Point], ...]:
        return tuple(((width_in - ax, ay), (width_in - bx, by)) for (ax, ay), (bx, by) in pairs)

    return replace(mend, seams=seen(mend.seams), moved=seen(mend.moved), dropped=seen(mend.dropped))


def came_from(block: Block, made: Block, new: dict[int, Point]) -> list[int | None]:
    """For each patch of a mended block the patch that it is, or that it is a part of."""
    areas = [
        shapely.make_valid(shapely.Polygon(_moved(block, patch.ring, patch.edges, new), block.patch_holes(number)))
        for number, patch in enumerate(block.patches)
    ]
    tree = shapely.STRtree(areas)
    found: list[int | None] = []
    for number in range(len(made.patches)):
        area = shapely.Polygon(made.patch_ring(number), made.patch_holes(number))
        share = {int(k): areas[k].intersection(area, grid_size=GRID_IN).area for k in tree.query(area)}
        best = max(share, key=lambda k: (round(share[k], 9), -k), default=None)
        found.append(best if best is not None and share[best] > 0 else None)
    return found


def _lines(block: Block, mends: Sequence[Mend], new: dict[int, Point]) -> Iterator[tuple[Point, Point]]:
    gone = dropped_edges(block, dropped_by(mends))
    for seam in block.seams:
        if any(block.edges[e].via for e in seam.edges):
            continue
        for first, last in _kept(seam.edges, gone):
            run = [new.get(p, block.points[p]) for p in seam.points[first : last + 1]]
            a, b = run[0], run[-1]
            if a == b:
                continue
            if all(abs(off_line(p, a, b)) <= 1e-6 for p in run[1:-1]):
                yield a, b
            else:
                yield from ((p, q) for p, q in pairwise(run) if p != q)
    for mend in mends:
        yield from mend.seams


def _kept(edges: Sequence[int], gone: set[int]) -> Iterator[tuple[int, int]]:
    """Runs of edges that stay, as positions of their points."""
    start = None
    for place, edge in enumerate((*edges, None)):
        stays = edge is not None and edge not in gone
        if stays and start is None:
            start = place
        elif not stays and start is not None:
            yield start, place
            start = None


def _curves(block: Block, mends: Sequence[Mend], new: dict[int, Point]) -> Iterator[tuple[Point, ...]]:
    gone = dropped_edges(block, dropped_by(mends))
    for seam in block.seams:
        if not any(block.edges[e].via for e in seam.edges):
            continue
        for first, last in _kept(seam.edges, gone):
            run: list[Point] = []
            for start, number in zip(seam.points[first:last], seam.edges[first:last], strict=True):
                a, *via, b = block.edge_points(number)
                points = [new.get(block.edges[number].start, a), *via, new.get(block.edges[number].end, b)]
                ahead = points if block.edges[number].start == start else points[::-1]
                run += ahead if not run else ahead[1:]
            yield tuple(run)


def moved_sides(
    block: Block, sides: Sequence[tuple[Point, ...]], new: dict[int, Point]
) -> tuple[tuple[Point, ...], ...]:
    """The sides of an outline with points moved, if any is curved; () if all are straight."""
    if all(len(side) == 2 for side in sides):
        return ()
    to = {block.points[number]: place for number, place in new.items()}
    return tuple((to.get(a, a), *via, to.get(b, b)) for a, *via, b in sides if to.get(a, a) != to.get(b, b) or via)


def _moved(block: Block, ring: Sequence[int], edges: Sequence[int], new: dict[int, Point]) -> list[Point]:
    """A ring of points at their new places, points of curves included, none twice in a row."""
    found: list[Point] = []
    for start, number in zip(ring, edges, strict=True):
        edge = block.edges[number]
        via = edge.via if edge.start == start else edge.via[::-1]
        for point in (new.get(start, block.points[start]), *via):
            if not found or point != found[-1]:
                found.append(point)
    if len(found) > 1 and found[0] == found[-1]:
        found.pop()
    return found
