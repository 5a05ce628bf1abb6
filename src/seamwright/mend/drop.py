"""Seams that may go: between patches of one fabric, round a part for the top, or a curve for a straight one.

Knows:  which seams may be taken away, and whether a stuck region is free without them.
Leaves: words, proof.
"""

from __future__ import annotations

import math
from collections.abc import Sequence

from seamwright.block.model import OUTLINE, Block
from seamwright.geometry import Segment, off_line
from seamwright.mend.alike import Pose
from seamwright.mend.change import Change, region_of
from seamwright.mend.chord import merged
from seamwright.mend.region import Face, Region, inside, stuck_parts

MOST_PATCHES = 60
"""In larger regions no seam is dropped: too much to try, and a mend that helps is found elsewhere."""


def drops(block: Block, patches: tuple[int, ...], pose: Pose) -> list[Change]:
    """Seams between two patches that may be one piece of fabric, without which a stuck region is free.

    Both must be of one fabric; or neither may say of which it is.

    Args:
        pose: of the block: it decides which of two seams of one length comes first.
    """
    if len(patches) > MOST_PATCHES:
        return []
    region, place = region_of(block, patches), {patch: k for k, patch in enumerate(patches)}
    between: dict[tuple[int, int], list[int]] = {}
    for number, edge in enumerate(block.edges):
        if edge.seam != OUTLINE and edge.left in place and edge.right in place:
            between.setdefault((min(edge.left, edge.right), max(edge.left, edge.right)), []).append(number)
    found = []
    for (one, two), edges in sorted(between.items()):
        if block.patches[one].fabric != block.patches[two].fabric or any(block.edges[e].via for e in edges):
            continue
        pair = [region.faces[place[one]], region.faces[place[two]]]
        others = [face for k, face in enumerate(region.faces) if k not in (place[one], place[two])]
        made = merged(region.at, pair)
        if len(made) == 1 and not stuck_parts(Region(region.at, (*made, *others))):
            segments = segments_of(block, edges)
            length = math.fsum(math.dist(*segment) for segment in segments)
            found.append(Change("drop a seam", extra=-1, dropped=segments, amount=length))
    return sorted(found, key=lambda change: (round(change.amount, 6), pose.key(change.dropped)))


def straightened(block: Block, patches: tuple[int, ...], pose: Pose) -> list[Change]:
    """Curves without which a stuck region is free: each drawn as a straight seam between its ends. As `drops`."""
    members, found = set(patches), []
    for seam in block.seams:
        edge = block.edges[seam.edges[0]]
        if len(seam.edges) > 1 or not edge.via or edge.start == edge.end:
            continue
        if members.issuperset((edge.left, edge.right)):
            if stuck_parts(region_of(block, patches, straightened={seam.edges[0]})):
                continue
            chord = (block.points[edge.start], block.points[edge.end])
            off = max(abs(off_line(p, *chord)) for p in edge.via)
            found.append(Change("straighten a curve", seams=(chord,), dropped=(chord,), amount=off))
    return sorted(found, key=lambda change: (round(change.amount, 6), pose.key(change.seams)))


def on_top(block: Block, patches: tuple[int, ...]) -> list[Change]:
    """A part that floats in another patch, sewn on top of it instead."""
    region = region_of(block, patches)
    holders = [(k, hole) for k, face in enumerate(region.faces) for hole in face[1:]]
    if not holders:
        return []
    floating = {
        n
        for n, face in enumerate(region.faces)
        if any(n != k and _within(region, face, hole) for k, hole in holders)
    }
    left = [(face[0],) for n, face in enumerate(region.faces) if n not in floating]
    if not left or stuck_parts(Region(region.at, tuple(left))):
        return []
    gone = {patches[n] for n in floating}
    edges = [n for n, e in enumerate(block.edges) if e.seam != OUTLINE and (e.left in gone or e.right in gone)]
    return [Change("applique", extra=-len(gone), dropped=segments_of(block, edges))]


def _within(region: Region, face: Face, hole: Sequence[int]) -> bool:
    """Whether a face lies in a hole: a place inside the face does."""
    from shapely import Polygon

    ring, *holes = ([region.at[p] for p in part] for part in face)
    place = Polygon(ring, holes).representative_point()
    return inside(region.at, (tuple(hole),), (place.x, place.y))


def segments_of(block: Block, edges: Sequence[int]) -> tuple[Segment, ...]:
    """Edges as segments, those of one straight seam that follow each other as one; a curve as its ends."""
    wanted = set(edges)
    found: list[Segment] = [
        (block.points[e.start], block.points[e.end]) for e in (block.edges[n] for n in edges) if e.via
    ]
    wanted.difference_update(n for n in edges if block.edges[n].via)
    for seam in block.seams:
        start = None
        for place, edge in enumerate((*seam.edges, -1)):
            if edge in wanted and start is None:
                start = place
            elif edge not in wanted and start is not None:
                found.append((block.points[seam.points[start]], block.points[seam.points[place]]))
                start = None
    return tuple(found)
