"""A quilt in its fabrics: coloured, in greys, or blank to be coloured in; whole, or a part of it.

Knows:  where every patch, plain piece and seam of the quilt lies in its picture, how its binding shows.
Leaves: a block's own lines (quiltlooks), where pieces meet (joints), weights and colours of lines (seamlines),
        what stands round it (quiltsheet).
Units:  inches of the picture; the quilt, with its binding, is drawn with its longer side as long as asked.
Method: patches of one colour are one area of many rings, seams of one colour follow each other: the picture of
        thousands of patches stays small, in a file and for who draws it.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Any

import numpy as np

from seamwright.asked import usable_options
from seamwright.fabric.model import Fabric
from seamwright.geometry import Affine, Point, Ring
from seamwright.ink.model import Area, Ink, Stroke
from seamwright.picture.cloth import BLANK_OUTER, OUTER, Finish, fabric_fills
from seamwright.picture.joints import joints
from seamwright.picture.model import Picture
from seamwright.picture.quiltlooks import ByColour, DrawnLook, Rim, add_print, drawn_look
from seamwright.picture.seamlines import SeamStyle, Side
from seamwright.picture.tints import INK, WHITE
from seamwright.quilt.model import Quilt, Spot

LEAST_BINDING_IN = 1.2 / 72
"""A binding drawn narrower than this would be lost beside the line round it."""


def quilt_picture(quilt: Quilt, longest_in: float, finish: Finish) -> Picture:
    """The quilt from the front, in its fabrics, patch by patch.

    Args:
        longest_in: the longer side of the picture.
        finish: COLOUR: each patch in its fabric's colour, or a tint where it is not known; GREY: in the grey that
            gives as much light, white where neither colour nor value is known; BLANK: outlines alone.
    """
    view = QuiltView.of(quilt, longest_in)
    style = SeamStyle.of(patch_side_in(quilt) * view.scale * 72, finish)
    fabrics = all_fabrics(quilt)
    looks = [drawn_look(look.block, fabrics, view.scale, style) for look in quilt.looks]
    plain = _plain(quilt, fabrics, view, finish)
    fills: ByColour = {colour: list(rings) for colour, rings in plain.fills.items()}
    prints: ByColour = {colour: list(rings) for colour, rings in plain.prints.items()}
    seams: ByColour = {}
    rims = list(plain.rim)
    for number, look in enumerate(looks):
        places = [view.place(spot) for spot in quilt.spots if spot.look == number]
        _lay(look.fills, places, fills)
        _lay(look.prints, places, prints)
        _lay(look.seams, places, seams)
        rims += _laid_rims(look, places)
    for start, end, left, right in joints(rims):
        known = [side for side in (left, right) if side is not None]
        seams.setdefault(style.colour(*sorted(known, key=lambda s: (s.colour, s.known))), []).append((start, end))
    inks: list[Ink] = [Area(tuple(rings), colour) for colour, rings in fills.items()]
    inks += [Area(tuple(rings), colour) for colour, rings in prints.items()]
    inks += [Stroke(style.pen, line, colour=colour) for colour, lines in seams.items() for line in lines]
    inks += _edge(view, style)
    return Picture(tuple(inks), view.width, view.height)


@dataclass(frozen=True, slots=True)
class QuiltView:
    """From the quilt's inches to those of its picture.

    Attributes:
        scale: picture inches to the inch. margin: what lies round the quilt: its binding, or half a pen.
        binding: how wide that shows, 0 for none. width, height: of the picture.
    """

    scale: float
    margin: float
    binding: float
    width: float
    height: float

    @staticmethod
    def of(quilt: Quilt, longest_in: float) -> QuiltView:
        """The view of `quilt_picture`."""
        edge = OUTER.value.width_pt / 72 / 2
        longest = max(quilt.width_in, quilt.height_in)
        binding = 0.0
        if quilt.setting.binding is not None:
            # Sewn on along the seam allowance and turned over it: as wide as that it shows (common practice).
            shows = usable_options(quilt.setting.options).seam_allowance_in
            scale = (longest_in - 2 * edge) / (longest + 2 * shows)
            binding = max(shows * scale, LEAST_BINDING_IN)
        margin = edge + binding
        scale = (longest_in - 2 * margin) / longest
        return QuiltView(
            scale, margin, binding, quilt.width_in * scale + 2 * margin, quilt.height_in * scale + 2 * margin
        )

    def line(self, points: Sequence[Point]) -> Ring:
        """Places of the quilt in its picture."""
        return tuple((self.margin + x * self.scale, self.margin + y * self.scale) for x, y in points)

    def place(self, spot: Spot) -> Affine:
        """From a block's own picture to that of the quilt."""
        a, b, c, d, e, f = spot.place
        return (a, b, c, d, self.margin + e * self.scale, self.margin + f * self.scale)


def all_fabrics(quilt: Quilt) -> tuple[Fabric, ...]:
    """The quilt's fabrics by name; of those named more than once the first with a colour."""
    found = {fabric.name: fabric for fabric in quilt.fabrics}
    for look in quilt.looks:
        for fabric in look.block.fabrics:
            if found[fabric.name].colour is None and fabric.colour is not None:
                found[fabric.name] = fabric
    return tuple(found.values())


def patch_side_in(quilt: Quilt) -> float:
    """How wide and high patches are, as most of them are: each weighs as one, whichever block it is of."""
    counted = [0] * len(quilt.looks)
    for spot in quilt.spots:
        counted[spot.look] += 1
    number = total = 0.0
    for look, count in zip(quilt.looks, counted, strict=True):
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

    def add(ring: Ring, name: str) -> None:
        fabric, ground = by_name.get(name), colours.get(name, WHITE)
        known = fabric is not None and (fabric.colour is not None or fabric.value is not None)
        fills.setdefault(ground, []).append(ring)
        if fabric is not None and finish is not Finish.BLANK:
            add_print(prints, fabric, (ring,), ground, longest)
        rims.extend((a, b, Side(ground, known)) for a, b in zip(ring, (*ring[1:], ring[0]), strict=True))

    for cloth in quilt.cloths:
        add(view.line(cloth.ring), cloth.fabric)
    if quilt.setting.binding is not None:
        for ring in _binding(view):
            add(ring, quilt.setting.binding.fabric)
    return DrawnLook(fills, prints, {}, tuple(rims))


def _binding(view: QuiltView) -> Iterator[Ring]:
    """The four strips of the binding, their corners mitred, from the top one clockwise."""
    inner = _box(view, view.margin)
    outer = _box(view, view.margin - view.binding)
    for side in range(4):
        onward = (side + 1) % 4
        yield (outer[side], outer[onward], inner[onward], inner[side])


def _edge(view: QuiltView, style: SeamStyle) -> Iterator[Ink]:
    """The line round it all."""
    pen = style.pen if view.binding else BLANK_OUTER if style.finish is Finish.BLANK else OUTER
    yield Stroke(pen, _box(view, view.margin - view.binding), closed=True, colour=INK)


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


def _laid_rims(look: DrawnLook, places: Sequence[Affine]) -> Iterator[Rim]:
    """The edges of a block in all of its places."""
    ends = np.array([point for start, end, _ in look.rim for point in (start, end)])
    for points in _moved(ends, places):
        for k, (_, _, side) in enumerate(look.rim):
            yield points[2 * k], points[2 * k + 1], side


def _moved(points: Any, places: Sequence[Affine]) -> Iterator[list[Point]]:
    """Points, shape (n, 2), under each of some affines."""
    for a, b, c, d, e, f in places:
        yield [(x, y) for x, y in (points @ ((a, b), (c, d)) + (e, f)).tolist()]
