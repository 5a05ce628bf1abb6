"""A drawing that is no block yet, as the text form of its tidied lines: to be finished on the page.

Knows:  which outline stands for one that is missing, which lines are seams in it.
Leaves: tidying and finding the outline (block), the grammar (textwrite).
Units:  inches of the finished block; places in the notes as well.
Method: lines are tidied as those of a block are. Where something closes that is the outline; else the page, if
        lines reach it, else the box round all that is drawn. What lies on the outline is the outline, what lies
        outside is left out and told.
"""

from __future__ import annotations

from collections.abc import Sequence
from itertools import groupby

import shapely

from seamwright.block.make import tidied_part
from seamwright.block.outline import Part
from seamwright.block.telling import repair_notes
from seamwright.block.tidy import Tidied
from seamwright.drawing.model import Drawing
from seamwright.drawing.textwrite import digits, fabric_line, neat, plain_or_quoted, quoted
from seamwright.errors import DrawingError, fail
from seamwright.geometry import Point, Ring, bounds, off_line
from seamwright.notes import Note
from seamwright.options import PlanOptions
from seamwright.units import LARGEST_BLOCK_IN, SMALLEST_BLOCK_IN

ON_IN = 1e-6
"""A line that keeps as near to the outline all along lies on it."""


def loose_seams(drawing: Drawing, options: PlanOptions) -> tuple[str, tuple[Note, ...]]:
    """The text form of a drawing's lines, and what was tidied.

    Raises:
        DrawingError: its size is that of no block.
    """
    tidied, part, scale = tidied_part(drawing, options)
    ring = part.ring or _box(tidied)
    left, top, right, bottom = bounds(ring)
    width, height = right - left, bottom - top
    if not SMALLEST_BLOCK_IN <= min(width, height) <= max(width, height) <= LARGEST_BLOCK_IN:
        raise fail(
            DrawingError,
            "size",
            f"what is drawn is {width:.4g} x {height:.4g} in; a block is {SMALLEST_BLOCK_IN:g} to "
            f"{LARGEST_BLOCK_IN:g} in each way",
            "Give its finished width",
            drawing=drawing.file,
        )

    def place(p: Point) -> Point:
        return (p[0] - left, p[1] - top)

    seams, outside = _seams(tidied, ring)
    lines = ["seamwright block 1", f"name {plain_or_quoted(drawing.name)}", _size(width, height)]
    if not _is_box(ring):
        lines.append(f"outline {_run([place(p) for p in ring])}")
    lines += [f"option {name} {text}".rstrip() for name, text in drawing.options]
    lines.append("")
    for run in seams:
        straight = all(abs(off_line(p, run[0], run[-1])) <= ON_IN for p in run[1:-1])
        points = [place(p) for p in ((run[0], run[-1]) if straight else run)]
        lines.append(f"{'seam' if straight else 'curve'} {_run(points)}")
    lines += _fabrics(drawing, ring, scale, (left, top))
    notes = [*repair_notes(tidied, Part((), ring, (), (), ()), place, options), *drawing.notes]
    if outside:
        notes.append(
            Note("ignored", f"{outside} line{'s' if outside > 1 else ''} outside the outline left out", outside)
        )
    return "".join(f"{line}\n" for line in lines), tuple(notes)


def _seams(tidied: Tidied, ring: Ring) -> tuple[list[tuple[Point, ...]], int]:
    """Runs inside the ring, each from end to end, and how many lie outside."""
    area = shapely.Polygon(ring).buffer(ON_IN)
    border = shapely.LinearRing(ring).buffer(ON_IN)
    kept: list[tuple[Point, ...]] = []
    outside = 0
    for _, pieces in groupby(sorted(tidied.pieces, key=lambda piece: piece.line), key=lambda piece: piece.line):
        parts = []
        for piece in pieces:
            run = (tidied.points[piece.start], *piece.via, tidied.points[piece.end])
            line = shapely.LineString(run)
            if border.covers(line):
                continue
            if area.covers(line):
                parts.append(line)
            else:
                outside += 1
        merged = shapely.line_merge(shapely.MultiLineString(parts)) if parts else None
        whole = shapely.get_parts(merged) if merged is not None else ()
        kept += [tuple((float(x), float(y)) for x, y in line.coords) for line in whole]
    return sorted(kept, key=lambda run: (run[0][1], run[0][0], run)), outside


def _box(tidied: Tidied) -> Ring:
    points = [*tidied.points, *(p for piece in tidied.pieces for p in piece.via)]
    left, top, right, bottom = bounds(points)
    return ((left, top), (right, top), (right, bottom), (left, bottom))


def _is_box(ring: Ring) -> bool:
    left, top, right, bottom = bounds(ring)
    return abs(shapely.Polygon(ring).area - (right - left) * (bottom - top)) <= ON_IN


def _size(width: float, height: float) -> str:
    if abs(width - height) <= ON_IN:
        return f"size {_digits(width)} in"
    return f"size {_digits(width)} x {_digits(height)} in"


def _fabrics(drawing: Drawing, ring: Ring, scale: tuple[float, float], corner: Point) -> list[str]:
    """Fabrics, and a point in each filled area."""
    lines = [fabric_line(fabric) for fabric in drawing.fabrics]
    area = shapely.Polygon(ring)
    for fabric in drawing.fabrics:
        at = []
        for fill in drawing.fills:
            if fill.fabric != fabric.name or len(fill.rings[0]) < 3:
                continue
            rings = [[(x * scale[0], y * scale[1]) for x, y in one] for one in fill.rings]
            inner = shapely.Polygon(rings[0], rings[1:]).representative_point()
            if area.contains(inner):
                x, y = neat((inner.x - corner[0], inner.y - corner[1]), 0.01)
                at.append(f"{digits(x)}, {digits(y)}")
        if at:
            lines.append(f"lay {quoted(fabric.name)} at " + " and ".join(at))
    return ["", *lines] if lines else []


def _run(points: Sequence[Point]) -> str:
    return " to ".join(f"{_digits(x)}, {_digits(y)}" for x, y in points)


def _digits(number: float) -> str:
    """Nothing is finer than the outline's own slack."""
    return digits(round(number, 9) + 0.0)
