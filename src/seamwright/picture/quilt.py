"""A quilt in its fabrics: coloured, in greys, or blank to be coloured in; whole, or a part of it.

Knows:  which patches, plain pieces and seams make up the picture, and in which order they are drawn.
Leaves: where the quilt lies in it (quiltview), a block's own lines (quiltlooks), where pieces meet (joints),
        weights and colours of lines (seamlines), what stands round it (quiltsheet).
Units:  inches of the picture; the quilt, with its binding, is drawn with its longer side as long as asked.
Method: patches of one colour are one area of many rings, seams of one colour follow each other: the picture of
        thousands of patches stays small, in a file and for who draws it.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from typing import Any

import numpy as np

from seamwright.block.model import Block
from seamwright.fabric.model import Fabric
from seamwright.geometry import IDENTITY, Affine, Box, Point, Ring, after, bounds, moved
from seamwright.ink.model import Area, Ink, Pen, Repeated, Segments, Stroke
from seamwright.ink.window import seen_through
from seamwright.picture.cloth import BLANK_OUTER, OUTER, Finish, fabric_fills
from seamwright.picture.joints import joints
from seamwright.picture.model import Picture
from seamwright.picture.quiltlooks import ByColour, DrawnLook, Rim, add_print, drawn_look
from seamwright.picture.quiltview import EDGE_IN, QuiltView
from seamwright.picture.seamlines import SeamStyle, Side, side_of
from seamwright.picture.tints import INK, QUIET, WHITE
from seamwright.quilt.counts import blocks_of_looks
from seamwright.quilt.model import Cloth, Quilt, Spot
from seamwright.quilt.plaincuts import print_deg


def quilt_picture(quilt: Quilt, longest_in: float, finish: Finish, part: Box | None = None) -> Picture:
    """The quilt from the front, in its fabrics, patch by patch.

    Args:
        longest_in: the longer side of the picture.
        finish: COLOUR: each patch in its fabric's colour, or a tint where it is not known; GREY: in the grey that
            gives as much light, white where neither colour nor value is known; BLANK: outlines alone.
        part: the part to be shown, in the quilt's inches; None: all of it, its binding with it.
    """
    drawn = quilt_drawn(quilt, longest_in, finish, part)
    fills: ByColour = {colour: list(rings) for colour, rings in drawn.plain.fills.items()}
    prints: ByColour = {colour: list(rings) for colour, rings in drawn.plain.prints.items()}
    seams: ByColour = {}
    for look, places in drawn.looks:
        _lay(look.fills, places, fills)
        _lay(look.prints, places, prints)
        _lay(look.seams, places, seams)
    for colour, ends in drawn.joints.items():
        seams.setdefault(colour, []).extend(((ax, ay), (bx, by)) for (ax, ay), (bx, by) in ends.tolist())
    inks: list[Ink] = [*_areas(fills), *_areas(prints), *_strokes(seams, drawn.pen)]
    if part is not None:
        inks = list(seen_through(inks, drawn.view.window))
    return Picture((*inks, drawn.edge), drawn.view.width, drawn.view.height)


def quilt_repeated(
    quilt: Quilt, longest_in: float, finish: Finish, corner: Point = (0.0, 0.0), part: Box | None = None
) -> tuple[tuple[Repeated, ...], QuiltView]:
    """The same picture, every block drawn once, to be laid with its top left corner there."""
    drawn = quilt_drawn(quilt, longest_in, finish, part)
    away: Affine = (*IDENTITY[:4], *corner)
    window = None
    if part is not None:
        left, top, right, bottom = drawn.view.window
        window = (left + corner[0], top + corner[1], right + corner[0], bottom + corner[1])
    looks = [(look, tuple(after(place, away) for place in places)) for look, places in drawn.looks]
    found = [Repeated((*_areas(look.fills), *_areas(look.prints)), places, window) for look, places in looks]
    found.append(Repeated((*_areas(drawn.plain.fills), *_areas(drawn.plain.prints)), (away,), window))
    # Seams lie over all fabrics: half of one on an edge would be lost below the next block.
    found += [Repeated(tuple(_strokes(look.seams, drawn.pen)), places, window) for look, places in looks]
    between = tuple(Segments(drawn.pen, ends, colour) for colour, ends in drawn.joints.items())
    return (*found, Repeated(between, (away,), window), Repeated((drawn.edge,), (away,))), drawn.view


@dataclass(frozen=True, slots=True)
class QuiltDrawn:
    """A quilt as it is drawn, block by block.

    Attributes:
        looks: each block and its places. plain: plain pieces and binding.
        joints: the seams between all of them by colour: starts and ends, shape (n, 2, 2).
        pen: of seams. edge: the line round it all.
    """

    view: QuiltView
    looks: tuple[tuple[DrawnLook, tuple[Affine, ...]], ...]
    plain: DrawnLook
    joints: dict[str, Any]
    pen: Pen
    edge: Stroke


def quilt_drawn(quilt: Quilt, longest_in: float, finish: Finish, part: Box | None = None) -> QuiltDrawn:
    """The lines and areas of `quilt_picture`; of a part of the quilt all blocks that it shows something of."""
    view = QuiltView.of(quilt, longest_in, part)
    style = SeamStyle.of(patch_side_in(quilt) * view.scale * 72, finish)
    fabrics = quilt.fabrics
    looks = []
    plain = _plain(quilt, fabrics, view, finish)
    rims = [_laid_rim(plain, [IDENTITY])]
    for number, look in enumerate(quilt.looks):
        places = tuple(
            view.place(spot)
            for spot in quilt.spots
            if spot.look == number and (part is None or _shows(look.block, spot, part))
        )
        if places:
            drawn = drawn_look(look.block, fabrics, view.scale, style)
            looks.append((drawn, places))
            rims.append(_laid_rim(drawn, places))
    if part is None:
        pen = style.pen if view.binding else BLANK_OUTER if finish is Finish.BLANK else OUTER
        edge = Stroke(pen, _box(view, EDGE_IN), closed=True, colour=INK)
    else:
        edge = Stroke(Pen.RULE, _box(view, EDGE_IN), closed=True, colour=QUIET)
    return QuiltDrawn(view, tuple(looks), plain, _joined(rims, style), style.pen, edge)


def _shows(block: Block, spot: Spot, part: Box) -> bool:
    corners = [(x, y) for x in (0.0, block.width_in) for y in (0.0, block.height_in)]
    left, top, right, bottom = bounds([moved(spot.place, corner) for corner in corners])
    return left < part[2] and top < part[3] and part[0] < right and part[1] < bottom


def patch_side_in(quilt: Quilt) -> float:
    """How wide and high patches are, as most of them are: each weighs as one, whichever block it is of."""
    number = total = 0.0
    for look, count in zip(quilt.looks, blocks_of_looks(quilt), strict=True):
        patches = sum(max(1, len(look.block.parts_of(n))) for n in range(len(look.block.patches)))
        number += count * patches
        total += count * patches * (look.block.width_in * look.block.height_in / patches) ** 0.5
    return total / number if number else max(quilt.width_in, quilt.height_in)


def _plain(quilt: Quilt, fabrics: Sequence[Fabric], view: QuiltView, finish: Finish) -> DrawnLook:
    """Plain pieces and binding, in their places."""
    by_name = {fabric.name: fabric for fabric in fabrics}
    colours = fabric_fills(fabrics, finish)
    longest = max(quilt.cell_in) * view.scale
    fills: ByColour = {}
    prints: ByColour = {}
    rims: list[Rim] = []

    def add(ring: Ring, name: str, cloth: Cloth | None = None) -> None:
        fabric, ground = by_name.get(name), colours.get(name, WHITE)
        known = fabric is not None and (fabric.colour is not None or fabric.value is not None)
        fills.setdefault(ground, []).append(ring)
        if fabric is not None and finish is not Finish.BLANK:
            # Stripes go round the quilt with their border.
            lies = fabric if cloth is None else replace(fabric, direction_deg=print_deg(cloth, fabric))
            add_print(prints, lies, (ring,), ground, longest)
        rims.extend((a, b, side_of(ground, known)) for a, b in zip(ring, (*ring[1:], ring[0]), strict=True))

    for cloth in quilt.cloths:
        add(view.line(cloth.ring), cloth.fabric, cloth)
    if quilt.setting.binding is not None:
        for ring in _binding(quilt, view):
            add(ring, quilt.setting.binding.fabric)
    return DrawnLook(fills, prints, {}, tuple(rims))


def _binding(quilt: Quilt, view: QuiltView) -> Iterator[Ring]:
    """The four strips of the binding, their corners mitred, from the top one clockwise."""
    inner = view.line(
        ((0.0, 0.0), (quilt.width_in, 0.0), (quilt.width_in, quilt.height_in), (0.0, quilt.height_in))
    )
    wide = view.binding
    ways = ((-wide, -wide), (wide, -wide), (wide, wide), (-wide, wide))
    outer = [(x + dx, y + dy) for (x, y), (dx, dy) in zip(inner, ways, strict=True)]
    for side in range(4):
        onward = (side + 1) % 4
        yield (outer[side], outer[onward], inner[onward], inner[side])


def _areas(drawn: ByColour) -> Iterator[Area]:
    return (Area(tuple(rings), colour) for colour, rings in drawn.items())


def _strokes(drawn: ByColour, pen: Pen) -> Iterator[Stroke]:
    return (Stroke(pen, line, colour=colour) for colour, lines in drawn.items() for line in lines)


def _box(view: QuiltView, inside: float) -> Ring:
    """The ring so far inside the edge of the picture, clockwise from its top left corner."""
    right, bottom = view.width - inside, view.height - inside
    return ((inside, inside), (right, inside), (right, bottom), (inside, bottom))


def _lay(drawn: ByColour, places: Sequence[Affine], onto: ByColour) -> None:
    """Adds a block's rings or lines to those of the quilt, once for each place."""
    rings = [ring for rings in drawn.values() for ring in rings]
    if not rings or not places:
        return
    laid = _moved(np.array([point for ring in rings for point in ring]), places)
    for points in laid:
        start = 0
        for colour, lines in drawn.items():
            into = onto.setdefault(colour, [])
            for line in lines:
                into.append(tuple(points[start : start + len(line)]))
                start += len(line)


_Rims = tuple[Any, list[Side]]
"""Edges in all of their places, shape (places, n, 2, 2), and what lies inside each of the n."""


def _laid_rim(look: DrawnLook, places: Sequence[Affine]) -> _Rims:
    """The edges of a block wherever it lies."""
    ends = np.array([(start, end) for start, end, _ in look.rim]).reshape(-1, 2)
    laid = np.stack([ends @ ((a, b), (c, d)) + (e, f) for a, b, c, d, e, f in places])
    return laid.reshape(len(places), -1, 2, 2), [side for _, _, side in look.rim]


def _joined(rims: Sequence[_Rims], style: SeamStyle) -> dict[str, Any]:
    """The seams between blocks and plain pieces, by colour."""
    sides = list(dict.fromkeys(side for _, inside in rims for side in inside))
    number = {side: k for k, side in enumerate(sides)}
    numbers = [np.tile([number[side] for side in inside], len(laid)) for laid, inside in rims]
    inside = np.concatenate(numbers)
    ends, left, right = joints(np.concatenate([laid.reshape(-1, 2, 2) for laid, _ in rims]), inside)
    # The last of the list, number -1, is nothing.
    beside = [*sides, None]
    pairs, which = np.unique(left * len(beside) + right + 1, return_inverse=True)
    colours = [style.colour(beside[pair // len(beside)], beside[pair % len(beside) - 1]) for pair in pairs.tolist()]
    return {
        colour: ends[np.isin(which, [k for k, one in enumerate(colours) if one == colour])]
        for colour in dict.fromkeys(colours)
    }


def _moved(points: Any, places: Sequence[Affine]) -> Iterator[list[Point]]:
    """Points, shape (n, 2), under each of some affines."""
    for a, b, c, d, e, f in places:
        yield [(x, y) for x, y in (points @ ((a, b), (c, d)) + (e, f)).tolist()]
