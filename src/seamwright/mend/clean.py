"""A block as a clean SVG drawing: its patches in their colours, its seams as lines, its fabrics as words.

Knows:  how a block is written so that the reader finds the same block again, at its finished size.
Leaves: text form (drawing.textwrite), changing a drawing that is there (svgedit).
Units:  inches; the page is the block, one user unit an inch.
Limits: straight lines. Colourways, options, and what is known of a fabric named by its colour alone, have no place
        in an SVG.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from xml.sax.saxutils import escape, quoteattr

from seamwright.block.model import Block
from seamwright.drawing.textwrite import digits, fabric_parts
from seamwright.geometry import Point, off_line

LINE = "#1b2a41"


def can_write(block: Block) -> bool:
    """Whether all of its lines are straight."""
    return not any(edge.via for edge in block.edges)


def clean_svg(block: Block, comment: str) -> str:
    """The block as an SVG document.

    Args:
        comment: words kept inside the file.
    """
    return "\n".join(_lines(block, comment)) + "\n"


def _lines(block: Block, comment: str) -> Iterator[str]:
    width, height = digits(block.width_in), digits(block.height_in)
    yield (
        f'<svg xmlns="http://www.w3.org/2000/svg" width="{width}in" height="{height}in" '
        f'viewBox="0 0 {width} {height}">'
    )
    yield f"  <title>{escape(block.name)}</title>"
    yield f"  <desc>{escape(comment)}</desc>"
    colours = {fabric.name: fabric.colour for fabric in block.fabrics if fabric.colour}
    filled = [n for n, patch in enumerate(block.patches) if patch.fabric in colours]
    if filled:
        yield '  <g id="patches" stroke="none">'
        for number in filled:
            rings = (block.patch_ring(number), *block.patch_holes(number))
            data = " ".join(_path(ring, closed=True) for ring in rings)
            colour = colours[block.patches[number].fabric or ""]
            yield f'    <path fill={quoteattr(colour)} fill-rule="evenodd" d="{data}"/>'
        yield "  </g>"
    pen = digits(round(max(block.width_in, block.height_in) / 300, 3))
    yield f'  <g id="seams" fill="none" stroke="{LINE}" stroke-width="{pen}" stroke-linecap="round">'
    yield f'    <path d="{_path(block.outline_ring(), closed=True)}"/>'
    for seam in block.seams:
        points = [block.points[p] for p in seam.points]
        if all(abs(off_line(p, points[0], points[-1])) <= 1e-6 for p in points[1:-1]):
            points = [points[0], points[-1]]
        yield f'    <path d="{_path(points, closed=False)}"/>'
    yield "  </g>"
    yield from _names(block, colours)
    yield "</svg>"


def _names(block: Block, colours: dict[str, str]) -> Iterator[str]:
    """The names of fabrics in their patches, and what is known of them; one that is only a colour needs none."""
    from seamwright.ink.place import roomiest

    worn = [(n, p.fabric) for n, p in enumerate(block.patches) if p.fabric and p.fabric != colours.get(p.fabric)]
    if not worn:
        return
    # One patch of each fabric, the roomiest, says all that is known of it.
    rooms = {n: roomiest(block.patch_ring(n), block.patch_holes(n)) for n, _ in worn}
    more = {f.name: " ".join(fabric_parts(replace(f, colour=None))) for f in block.fabrics}
    best = {name: max((n for n, of in worn if of == name), key=lambda n: rooms[n][1]) for _, name in worn}
    told = {best[name]: f"{name}, {more[name]}" for name in best if more.get(name) and "," not in name}
    yield f'  <g id="fabrics" font-family="sans-serif" text-anchor="middle" fill="{LINE}">'
    for number, name in ((n, told.get(n, name)) for n, name in worn):
        (x, y), room = rooms[number]
        size = min(max(block.width_in, block.height_in) / 30, 1.2 * room, 3 * room / max(len(name), 1))
        at = f'x="{digits(round(x, 4))}" y="{digits(round(y + size / 3, 4))}" font-size="{digits(round(size, 4))}"'
        yield f"    <text {at}>{escape(name)}</text>"
    yield "  </g>"


def _path(points: list[Point] | tuple[Point, ...], closed: bool) -> str:
    return "M" + " L".join(f"{digits(x)},{digits(y)}" for x, y in points) + (" Z" if closed else "")
