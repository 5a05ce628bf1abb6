"""The mirror image of a block: left and right change places.

Knows:  what a mirror does to points, rings, sides, curves, prints and stripes of fabric, and to what lies beside a
        block (how it is drawn, parts pieced beforehand, notes).
Leaves: how the mirror image is sewn (piecing.mirrored).
Units:  inches, front view.
Method: every part keeps its number, so that whatever is said of a block by number is true of its mirror image too.
        Rings run the other way round, so that they are clockwise again, and begin at the same point.
Limits: the width less a float is rounded; so the block itself is kept, and mirrored twice is the same to the last
        digit.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace

from seamwright.block.model import Block, Edge, Part, Patch, PrePieced
from seamwright.fabric.model import Fabric
from seamwright.geometry import Affine, Point, Ring, after
from seamwright.notes import Note


def mirrored(block: Block) -> Block:
    """The mirror image of a block, fabrics and all; of one that is reversed the block that it is the image of.

    Raises:
        ValueError: it is called reversed, and what it is the mirror image of was not kept.
    """
    if block.mirror_of is not None:
        return replace(block.mirror_of, file=block.file, options=block.options)
    if block.reversed:
        raise ValueError(f"{block.title} was not made by this function")
    width = block.width_in
    return replace(
        block,
        points=mirrored_points(block.points, width),
        edges=tuple(_edge(edge, width) for edge in block.edges),
        patches=tuple(map(_patch, block.patches)),
        outline=_back(block.outline),
        outline_edges=block.outline_edges[::-1],
        fabrics=tuple(map(mirrored_fabric, block.fabrics)),
        notes=tuple(mirrored_note(note, width) for note in block.notes),
        lay=after(block.lay, mirror(width)),
        drawn=None if block.drawn is None else mirrored(block.drawn),
        pre_pieced=tuple(_pre_pieced(made, width) for made in block.pre_pieced),
        reversed=True,
        mirror_of=block,
    )


def mirror(width_in: float) -> Affine:
    """From a block's inches to those of its mirror image."""
    return (-1.0, 0.0, 0.0, 1.0, width_in, 0.0)


def mirrored_points(points: Iterable[Point], width_in: float) -> tuple[Point, ...]:
    """Places of a block in its mirror image."""
    return tuple((width_in - x, y) for x, y in points)


def mirrored_fabric(fabric: Fabric) -> Fabric:
    """A fabric whose print or stripes run as in a mirror."""
    if fabric.direction_deg is None:
        return fabric
    return replace(fabric, direction_deg=(180 - fabric.direction_deg) % 360)


def mirrored_note(note: Note, width_in: float) -> Note:
    """A note whose places are those of the mirror image."""
    return replace(note, places_in=mirrored_points(note.places_in, width_in))


def _back(ring: tuple[int, ...]) -> tuple[int, ...]:
    """A ring walked the other way from the same point."""
    return ring[:1] + ring[:0:-1]


def _edge(edge: Edge, width: float) -> Edge:
    via = mirrored_points(edge.via, width)
    if edge.start == edge.end:
        # A closed curve with one point on it runs clockwise, and still has its inside on its right.
        return replace(edge, via=via[::-1])
    return replace(edge, left=edge.right, right=edge.left, via=via)


def _patch(patch: Patch) -> Patch:
    return replace(
        patch,
        ring=_back(patch.ring),
        edges=patch.edges[::-1],
        holes=tuple(map(_back, patch.holes)),
        hole_edges=tuple(edges[::-1] for edges in patch.hole_edges),
    )


def _pre_pieced(made: PrePieced, width: float) -> PrePieced:
    def ring(points: Ring) -> Ring:
        there = mirrored_points(points, width)
        return there[:1] + there[:0:-1]

    def part(one: Part) -> Part:
        return replace(one, ring=ring(one.ring))

    seams = tuple(((width - ax, ay), (width - bx, by)) for (ax, ay), (bx, by) in made.seams)
    return replace(made, parts=tuple(map(part, made.parts)), seams=seams)
