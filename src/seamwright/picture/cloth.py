"""A block in its fabrics: coloured, in greys, or blank to be coloured in.

Knows:  what each finish shows, where a word for a patch goes.
Leaves: what is seen of a patch pieced beforehand (block.asseen), which colour stands for which patch (tints),
        stripes (stripes), the light a colour gives (fabric.luminance), what stands round the picture (the caller).
Units:  inches of the picture; the block is drawn with its longer side as long as asked, pens included.
Limits: a fabric is flat but for its stripes or the way its print runs: nothing else of it is known.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, replace
from enum import Enum

from seamwright.block.asseen import as_seen
from seamwright.block.model import OUTLINE, Block, Edge
from seamwright.fabric.luminance import grey_giving, grey_of, luminance
from seamwright.fabric.model import Fabric
from seamwright.fabric.shade import light_of, lightness, value_of
from seamwright.geometry import Point, Ring, bounds, signed_area
from seamwright.ink.lettering import words_box
from seamwright.ink.model import Area, Ink, Pen, Stroke, Words
from seamwright.ink.place import place_words
from seamwright.picture.model import Picture
from seamwright.picture.stripes import printed_on
from seamwright.picture.tints import INK, WHITE, colours_of, on, patch_colours

SEAM, OUTER = Pen.RULE, Pen.MARK
BLANK_SEAM, BLANK_OUTER = Pen.STITCH, Pen.BOLD
"""Lines to be coloured up to are a little stronger."""
NAME_SIZES_PT = (10.0, 9.0, 8.0, 7.0)
"""A word that finds no room at the least of these is left out: nothing smaller is legible on paper."""


class Finish(Enum):
    """What fills the patches of a picture."""

    COLOUR = "colour"
    GREY = "grey"
    BLANK = "blank"


def block_picture(block: Block, longest_in: float, finish: Finish, *, names: Sequence[str] = ()) -> Picture:
    """The block from the front, in its fabrics.

    Args:
        longest_in: the longer side of the picture.
        finish: COLOUR: each patch in its fabric's colour, or a tint where it is not known; GREY: in the grey that
            gives as much light, white where neither colour nor value is known; BLANK: outlines alone.
        names: a word for each patch by number, "" for none; left out where it finds no room at 7 pt.
    """
    view = View.of(block, longest_in, finish)
    seen, lies_in = as_seen(block)
    inks: list[Ink] = []
    grounds = patch_fills(seen, finish)
    fabrics = {fabric.name: fabric for fabric in seen.fabrics}
    worn = [fabrics.get(patch.fabric or "") if finish is not Finish.BLANK else None for patch in seen.patches]
    areas = [view.rings(seen, patch) for patch in range(len(seen.patches))]
    for rings, ground, fabric in zip(areas, grounds, worn, strict=True):
        inks.append(Area(rings, ground))
        if fabric is not None:
            inks += printed_on(fabric, rings, ground, longest_in)
    for patch, name in enumerate(names):
        # Of what is pieced beforehand the largest part has the most room.
        parts = [n for n, within in enumerate(lies_in) if within == patch]
        largest = max(parts, key=lambda n: signed_area(areas[n][0]))
        fabric = worn[largest]
        inks += _named(name, areas[largest], grounds[largest], fabric is None or fabric.direction_deg is None)
    inks += _lines(seen, view, finish, grounds)
    return Picture(tuple(inks), view.width, view.height)


@dataclass(frozen=True, slots=True)
class View:
    """From the block's inches to those of its picture, in which half a pen is left free all round."""

    scale: float
    margin: float
    width: float
    height: float

    @staticmethod
    def of(block: Block, longest_in: float, finish: Finish) -> View:
        """The view of `block_picture`."""
        pen = BLANK_OUTER if finish is Finish.BLANK else OUTER
        margin = pen.value.width_pt / 72 / 2
        scale = (longest_in - 2 * margin) / max(block.width_in, block.height_in)
        return View(scale, margin, block.width_in * scale + 2 * margin, block.height_in * scale + 2 * margin)

    def line(self, points: Sequence[Point]) -> Ring:
        """Places of the block in its picture."""
        return tuple((self.margin + x * self.scale, self.margin + y * self.scale) for x, y in points)

    def rings(self, block: Block, patch: int) -> tuple[Ring, ...]:
        """A patch in the picture, its holes after it."""
        return (self.line(block.patch_ring(patch)), *map(self.line, block.patch_holes(patch)))


def patch_fills(block: Block, finish: Finish) -> tuple[str, ...]:
    """The colour, or grey, that fills each patch by number."""
    if finish is Finish.BLANK:
        return (WHITE,) * len(block.patches)
    colours = patch_colours(block)
    if finish is Finish.COLOUR:
        return colours
    fabrics = {fabric.name: fabric for fabric in block.fabrics}
    return tuple(_grey(fabrics.get(patch.fabric or "")) for patch in block.patches)


def fabric_fill(fabric: Fabric, block: Block, finish: Finish) -> str:
    """The colour, or grey, that stands for one fabric of a block."""
    return fabric_fills(block.fabrics, finish)[fabric.name]


def fabric_fills(fabrics: Sequence[Fabric], finish: Finish) -> dict[str, str]:
    """The colour, or grey, that stands for each fabric by its name."""
    if finish is Finish.COLOUR:
        return colours_of(fabrics)
    return {fabric.name: WHITE if finish is Finish.BLANK else _grey(fabric) for fabric in fabrics}


def _grey(fabric: Fabric | None) -> str:
    """The grey of a fabric: of its colour, else of the value its owner gave it; white if nothing is known."""
    if fabric is None:
        return WHITE
    if fabric.colour is not None:
        return grey_of(fabric.colour)
    known = lightness(fabric)
    return WHITE if known is None else grey_giving(light_of(known))


def seam_shade(block: Block, finish: Finish, grounds: Sequence[str]) -> Callable[[Edge], str]:
    """The colour of each seam: ink, but in greys as light as its two sides together where both are known.

    An ink line would part there what the eye does not.
    """
    values = {fabric.name: value_of(fabric) for fabric in block.fabrics}
    unknown = {n for n, patch in enumerate(block.patches) if values.get(patch.fabric or "") is None}

    def shade(edge: Edge) -> str:
        if finish is not Finish.GREY or edge.left in unknown or edge.right in unknown:
            return INK
        return grey_giving((luminance(grounds[edge.left]) + luminance(grounds[edge.right])) / 2)

    return shade


def _lines(block: Block, view: View, finish: Finish, grounds: Sequence[str]) -> Iterator[Ink]:
    blank = finish is Finish.BLANK
    shade = seam_shade(block, finish, grounds)
    for number, edge in enumerate(block.edges):
        if edge.seam != OUTLINE:
            run = view.line(block.edge_points(number))
            yield Stroke(BLANK_SEAM if blank else SEAM, run, colour=shade(edge))
    yield Stroke(
        BLANK_OUTER if blank else OUTER, view.line(block.outline_ring()), closed=True, colour=INK
    )  # over the ends of the seams


def _named(name: str, rings: tuple[Ring, ...], ground: str, plain: bool) -> Iterator[Ink]:
    """A word in its patch, on plain ground where stripes run under it."""
    words = place_words(rings[0], name, NAME_SIZES_PT, holes=rings[1:]) if name else None
    if words is not None:
        if not plain:
            yield Area((_box(words),), ground)
        yield replace(words, colour=on(ground))


def _box(words: Words) -> Ring:
    left, top, right, bottom = bounds(words_box(words))
    return ((left, top), (right, top), (right, bottom), (left, bottom))
