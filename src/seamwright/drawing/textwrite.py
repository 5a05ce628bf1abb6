"""A block as text that reads back to the same block.

Knows:  the order of the lines, and how numbers and names are written.
Leaves: what the words mean (textform).
Units:  inches, without a grid: the shortest digits that read back to the same float.
Method: a seam is written from end to end: what stands between is an end of another seam, which says it, or a
        crossing, which is found again. A curve is written with all its points, the outline with all its corners.
"""

from __future__ import annotations

import json
import re
from collections.abc import Iterator
from fractions import Fraction
from typing import TYPE_CHECKING

from seamwright.fabric.model import Colourway, Fabric
from seamwright.geometry import Point, Ring, off_line

if TYPE_CHECKING:  # reading must not load what comes after it
    from seamwright.block.model import Block, Seam


def write_seams(block: Block) -> str:
    """The text form of a block: all of it that a drawing can state, notes and file left out.

    Fabrics are those of its drawing, whatever colourway it is in; options name palette and colourway. One that is
    reversed is written as its drawing has it.
    """
    drawn = block.as_drawn()
    if drawn.reversed:
        from seamwright.block.mirrored import mirrored

        drawn = mirrored(drawn)
    return "".join(line + "\n" for line in _lines(drawn))


def _lines(block: Block) -> Iterator[str]:
    yield "seamwright block 1"
    yield f"name {plain_or_quoted(block.name)}"
    width, height = digits(block.width_in), digits(block.height_in)
    yield f"size {width} in" if width == height else f"size {width} x {height} in"
    yield from _outline(block)
    for name, text in block.options:
        yield f"option {name} {text}".rstrip()
    yield ""
    for number, seam in enumerate(block.seams):
        if seam.straight and _on_one_line(block, seam):
            yield f"seam {_run((block.points[seam.points[0]], block.points[seam.points[-1]]))}"
        else:
            yield f"curve {_run(_along(block, number))}"
    if block.fabrics:
        yield ""
        yield from map(fabric_line, block.fabrics)
        yield from _laid(block)
    yield from map(colourway_line, block.colourways)


def _outline(block: Block) -> Iterator[str]:
    """The corners of the block if it is no rectangle, then its curved sides."""
    sides = block.outline_sides()
    curved = [side for side in sides if len(side) > 2]
    if not curved:
        ring = _corners(block.outline_ring())
        if not _is_rectangle(ring, block):
            yield f"outline {_run(ring)}"
        return
    # Where a curved side ends there is a corner, though the next one may go on straight.
    ends = {p for side in curved for p in (side[0], side[-1])}
    ring = tuple(side[0] for side in sides)
    kept = set(_corners(ring)) | ends if len(ring) > 2 else ends
    yield f"outline {_run(tuple(p for p in ring if p in kept))}"
    yield from (f"side {_run(side)}" for side in curved)


def plain_or_quoted(name: str) -> str:
    """A name of several plain words needs no quotes at the end of its line."""
    words = name.split(" ")
    return name if all(word and quoted(word) == word for word in words) else quoted(name)


def _run(points: tuple[Point, ...]) -> str:
    return " to ".join(_point(p) for p in points)


def _point(point: Point) -> str:
    return f"{digits(point[0])}, {digits(point[1])}"


def _along(block: Block, number: int) -> tuple[Point, ...]:
    """All points along a curved seam."""
    seam = block.seams[number]
    points = [block.points[seam.points[0]]]
    for start, edge in zip(seam.points, seam.edges, strict=False):
        run = block.edge_points(edge)
        points.extend(run[1:] if block.edges[edge].start == start else run[-2::-1])
    return tuple(points)


def _on_one_line(block: Block, seam: Seam) -> bool:
    """False for a curve of which every point is a meet, so that each edge by itself is straight."""
    first, *inner, last = (block.points[p] for p in seam.points)
    return all(abs(off_line(p, first, last)) <= 1e-6 for p in inner)


def _corners(ring: Ring) -> Ring:
    """The ring without points that lie exactly on the side between their neighbours."""
    kept = []
    for before, at, after in zip(ring[-1:] + ring[:-1], ring, ring[1:] + ring[:1], strict=True):
        (ax, ay), (bx, by), (cx, cy) = ((_exact(x), _exact(y)) for x, y in (before, at, after))
        if (bx - ax) * (cy - ay) != (by - ay) * (cx - ax):
            kept.append(at)
    return tuple(kept)


def _is_rectangle(ring: Ring, block: Block) -> bool:
    width, height = block.width_in, block.height_in
    return set(ring) == {(0.0, 0.0), (width, 0.0), (width, height), (0.0, height)} and len(ring) == 4


def colourway_line(way: Colourway) -> str:
    """A colourway as a line of the text form or of a palette."""
    changes = " and ".join(f"{quoted(a)} becomes {quoted(b)}" for a, b in way.changes)
    return f"colourway {quoted(way.name)} {changes}"


def fabric_line(fabric: Fabric) -> str:
    """A fabric as a line of the text form or of a palette."""
    return " ".join([f"fabric {quoted(fabric.name)}", *fabric_parts(fabric)])


def fabric_parts(fabric: Fabric) -> Iterator[str]:
    """What is known of a fabric besides its name, part by part."""
    if fabric.colour:
        yield f"colour {fabric.colour}"
    if fabric.value:
        yield f"value {fabric.value.value}"
    if fabric.warmth:
        yield fabric.warmth
    if fabric.code:
        yield f"code {quoted(fabric.code)}"
    if fabric.direction_deg is not None:
        way = "stripes" if fabric.striped else "direction"
        yield f"{way} {digits(fabric.direction_deg)}"
    if fabric.width_in is not None:
        yield f"width {digits(fabric.width_in)} in"


def _laid(block: Block) -> Iterator[str]:
    """Where each fabric lies: one line a fabric, a point in each of its patches."""
    from seamwright.ink.place import roomiest

    for fabric in block.fabrics:
        at = [
            _point(neat(*roomiest(block.patch_ring(number), block.patch_holes(number))))
            for number, patch in enumerate(block.patches)
            if patch.fabric == fabric.name
        ]
        if at:
            yield f"lay {quoted(fabric.name)} at " + " and ".join(at)


def neat(at: Point, radius: float) -> Point:
    """The point moved to as few decimals as stay well inside the room round it."""
    for places in range(1, 9):
        near = (round(at[0], places), round(at[1], places))
        if abs(near[0] - at[0]) + abs(near[1] - at[1]) < radius / 2:
            return near
    return at


def quoted(name: str) -> str:
    """A name so that `Reading.name` reads it back: one word bare, all else in quotes.

    >>> quoted("sky"), quoted("storm blue")
    ('sky', '"storm blue"')
    """
    if re.fullmatch(r"[^\W\d_][\w'’-]*", name) and name[0].isalpha():  # a fraction begins a number
        return name
    escaped = json.dumps(name, ensure_ascii=False)
    return "".join(c if c.isprintable() else json.dumps(c)[1:-1] for c in escaped)


def digits(number: float) -> str:
    """The shortest digits that read back to the same float.

    >>> digits(8.0), digits(2.5), digits(1 / 3), digits(-0.0)
    ('8', '2.5', '0.3333333333333333', '0')
    """
    return "0" if number == 0 else repr(number).removesuffix(".0")


def _exact(number: float) -> Fraction:
    """A float as the fraction that its shortest digits write: 0.1 is 1/10."""
    return Fraction(digits(number))
