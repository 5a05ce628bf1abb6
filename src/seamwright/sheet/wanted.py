"""What a page must show of a foundation, as plain lines and words to look for.

Knows:  which lines a print has and the pen of each, what of them a part of a print shows, where words begin.
Leaves: looking for them in a file (readback).
Units:  prints in inches, pages in points.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from itertools import pairwise

from seamwright.foundation.model import Foundation, Use
from seamwright.geometry import Point, Segment, along, moved, off_line, shares_inside
from seamwright.ink.lettering import anchor_shift_pt
from seamwright.ink.model import Pen, Words
from seamwright.ink.saver import THIN
from seamwright.sheet.enlarging import HEAVY
from seamwright.sheet.model import Placed
from seamwright.sheet.nest import rotation
from seamwright.sheet.operators import Look, Written
from seamwright.sheet.pdfwords import text_of

Line = tuple[Point, ...]


def look_of(pen: Pen, colour: str = "#000000") -> Look:
    """How a line of a pen looks in the file."""
    return (round(pen.value.width_pt, 3), pen.value.dashes_pt, colour)


def is_drawn_with(look: Look, pen: Pen) -> bool:
    """Whether a line of the file is of a pen, or of the thin or heavy one that stands for it on some prints."""
    return look[:2] in [look_of(one)[:2] for one in (pen, THIN[pen], HEAVY[pen])]


def lines_of(print_: Foundation) -> Iterator[tuple[str, Pen | None, list[Line]]]:
    """What each line of a print is, its pen (None: any), and its lines, inches.

    The border of every patch is a line to stitch on, whether or not the print's seams hold it. Prints that are not
    sewn on may draw their stitch line as a line to cut.
    """
    sewn = print_.use is Use.SEW
    for what, pen, rings in (
        ("stitch line", Pen.STITCH, [print_.stitch_outline]),
        ("trim line", Pen.TRIM, [print_.trim_outline]),
    ):
        yield what, pen if sewn else None, [(*ring, *ring[:1]) for ring in rings if ring]
    yield "seam", Pen.STITCH if sewn else None, list(print_.seams)
    if sewn:
        yield "border of a patch", Pen.STITCH, [(*p.outline, *p.outline[:1]) for p in print_.patches]
    marks = [line for patch in print_.patches for line in patch.mark]
    yield "mark of a fabric's direction", Pen.RULE if sewn else None, marks
    laid = [patch.laid for patch in print_.patches if patch.laid is not None]
    yield "tick for a piece", Pen.RULE, [line for one in laid for line in (*one.ticks, *one.middles)]
    yield "outline of a piece", Pen.LAID, [line for one in laid for line in one.legs]
    yield "match mark", Pen.MARK if sewn else None, list(print_.marks)


def bends(line: Line, straight_within: float) -> Iterator[Point]:
    """The points of a line where it ends or bends; a line that comes back to its first point has no end.

    Points of a straight run need not be in a file: cairo joins pieces of one direction. Whether the run is drawn is
    told by its pieces.

    Args:
        straight_within: how far off the line through its neighbours a point may lie that is no bend.
    """
    closed = line[0] == line[-1]
    points = line[:-1] if closed else line
    for n, point in enumerate(points):
        before, behind = points[n - 1], points[(n + 1) % len(points)]
        straight = (
            (closed or 0 < n < len(points) - 1)
            and before != behind
            and abs(off_line(point, before, behind)) <= straight_within
            and 0.0 < along(point, before, behind) < math.dist(before, behind)
        )
        if not straight:
            yield point


def shown(placed: Placed, line: Line, spare_pt: float) -> Iterator[Line]:
    """What the page shows of a line of a foundation, in points of the page.

    Args:
        spare_pt: what lies nearer than this to the edge of a part is left out.
    """
    if placed.tile is None:
        yield tuple(moved(placed.affine, p) for p in line)
        return
    for a, b in pairwise(line):
        start, end = _part(placed, a, b, spare_pt)
        if end > start:
            ends = [(a[0] + t * (b[0] - a[0]), a[1] + t * (b[1] - a[1])) for t in (start, end)]
            yield tuple(moved(placed.affine, p) for p in ends)


def inside(placed: Placed, point: Point, spare_pt: float) -> bool:
    """Whether a point of a foundation lies in the part of it that the page shows, that far from the part's edge."""
    return placed.tile is None or _part(placed, point, point, spare_pt) == (0.0, 1.0)


def _part(placed: Placed, a: Point, b: Point, spare_pt: float) -> tuple[float, float]:
    """From where to where, as shares, a piece lies inside its part's window; the second is less if nowhere."""
    assert placed.tile is not None
    turn, scale = rotation(placed.tile.angle_deg), math.hypot(*placed.affine[:2])
    a, b = (moved(turn, (x * scale, y * scale)) for x, y in (a, b))
    left, top, right, bottom = placed.tile.window
    return shares_inside(a, b, (left + spare_pt, top + spare_pt, right - spare_pt, bottom - spare_pt))


def written(words: Words, unit_pt: float) -> Written | None:
    """A line of words as a file holds it, its place in the unit of the words; None if nothing of it shows.

    Args:
        unit_pt: points to one unit of `words.at`.
    """
    text = text_of(words.text)
    if not text.strip():
        return None
    angle = math.radians(words.angle_deg)
    cos, sin = math.cos(angle), math.sin(angle)
    back = anchor_shift_pt(words) / unit_pt
    at = (words.at[0] - cos * back, words.at[1] - sin * back)
    return Written(text, at, (cos, sin), round(words.size_pt, 4), words.colour)


def laid(placed: Placed, words: Written) -> Written:
    """Words of a foundation where they are on its page."""
    a, b, _, _, _, _ = placed.affine
    cos, sin = a / math.hypot(a, b), b / math.hypot(a, b)
    u, v = words.ahead
    ahead = (cos * u - sin * v, sin * u + cos * v)
    return Written(words.text, moved(placed.affine, words.at), ahead, words.size_pt, words.colour)


def sides(ring: Sequence[Point]) -> list[Segment]:
    """The sides of a ring."""
    return list(zip(ring, (*ring[1:], *ring[:1]), strict=True))
