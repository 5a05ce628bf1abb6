"""A block of a quilt drawn once, to be laid wherever the quilt has it.

Knows:  what fills its patches, which lines are seams in which colour, what lies along its edge.
Leaves: where it lies (quilt), what is printed on a fabric (stripes), colours (cloth, seamlines).
Units:  inches of the picture, from the block's top left corner, not rotated.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from itertools import pairwise

from seamwright.block.asseen import as_seen
from seamwright.block.model import OUTSIDE, Block
from seamwright.fabric.model import Fabric
from seamwright.geometry import Point, Ring
from seamwright.ink.model import Area
from seamwright.picture.cloth import Finish, patch_fills
from seamwright.picture.seamlines import SeamStyle, Side, side_of
from seamwright.picture.stripes import printed_on

ByColour = dict[str, list[Ring]]
"""Rings or lines by the colour they are filled or drawn with."""
Rim = tuple[Point, Point, Side]
"""A piece of the edge of something, clockwise, and what lies inside it."""


@dataclass(frozen=True, slots=True)
class DrawnLook:
    """A block's own lines and areas.

    Attributes:
        fills: rings of patches, holes as rings of their own (even-odd); patches of one colour never overlap.
        prints: what lies on them. seams: lines inside the block. rim: its edge.
    """

    fills: ByColour
    prints: ByColour
    seams: ByColour
    rim: tuple[Rim, ...]


def drawn_look(block: Block, fabrics: Sequence[Fabric], scale: float, style: SeamStyle) -> DrawnLook:
    """A block at `scale` picture inches to the inch.

    Args:
        fabrics: those of the whole quilt, so that one fabric has one colour in all blocks.
    """
    seen, _ = as_seen(block)
    seen = replace(seen, fabrics=tuple(fabrics))
    by_name = {fabric.name: fabric for fabric in fabrics}
    grounds = patch_fills(seen, style.finish)
    sides = sides_of(seen, grounds, by_name)
    longest = max(block.width_in, block.height_in) * scale
    fills: ByColour = {}
    prints: ByColour = {}
    for number, (patch, ground) in enumerate(zip(seen.patches, grounds, strict=True)):
        rings = [scaled(ring, scale) for ring in (seen.patch_ring(number), *seen.patch_holes(number))]
        fills.setdefault(ground, []).extend(rings)
        fabric = by_name.get(patch.fabric or "")
        if fabric is not None and style.finish is not Finish.BLANK:
            add_print(prints, fabric, rings, ground, longest)
    seams: ByColour = {}
    for colour, line in _seams(seen, sides, style):
        seams.setdefault(colour, []).append(scaled(line, scale))
    return DrawnLook(fills, prints, seams, tuple(_rim(seen, sides, scale)))


def add_print(prints: ByColour, fabric: Fabric, rings: Sequence[Ring], ground: str, longest: float) -> None:
    """What is printed on a fabric within some rings, added by colour."""
    for area in printed_on(fabric, rings, ground, longest):
        assert isinstance(area, Area)
        prints.setdefault(area.colour, []).extend(area.rings)


def scaled(points: Sequence[Point], scale: float) -> Ring:
    """Points at another scale."""
    return tuple((x * scale, y * scale) for x, y in points)


def sides_of(block: Block, grounds: Sequence[str], fabrics: Mapping[str, Fabric]) -> tuple[Side, ...]:
    """What each patch is to the seams beside it."""
    known = {name for name, fabric in fabrics.items() if fabric.colour is not None or fabric.value is not None}
    return tuple(
        side_of(ground, (patch.fabric or "") in known) for patch, ground in zip(block.patches, grounds, strict=True)
    )


def _seams(block: Block, sides: Sequence[Side], style: SeamStyle) -> Iterator[tuple[str, tuple[Point, ...]]]:
    """Seams in runs of one colour; of a straight run only its ends."""
    for seam in block.seams:
        run: list[Point] = []
        before = ""
        for place, number in enumerate(seam.edges):
            edge = block.edges[number]
            colour = style.colour(sides[edge.left], sides[edge.right])
            points = block.edge_points(number)
            if edge.start != seam.points[place]:
                points = points[::-1]
            if run and colour != before:
                yield before, tuple(run)
                run = []
            if run and seam.straight:
                run[-1] = points[-1]
            else:
                run += points[1:] if run else points
            before = colour
        yield before, tuple(run)


def _rim(block: Block, sides: Sequence[Side], scale: float) -> Iterator[Rim]:
    """The pieces of the block's outline in order, clockwise."""
    for number, points in zip(block.outline_edges, block.outline_sides(), strict=True):
        edge = block.edges[number]
        side = sides[edge.right if edge.left == OUTSIDE else edge.left]
        line = scaled(points, scale)
        yield from ((a, b, side) for a, b in pairwise(line))
