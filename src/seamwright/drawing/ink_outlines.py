"""Strokes turned into filled outlines: the centre lines of the ink, or a refusal with that reason.

Knows:  what outlined strokes look like: a bar for each seam, a bent band, or one network of ink with holes.
Leaves: networks with holes (ink_network), everything that is no ink (visible).
Units:  inches.
Method: a shape is ink if its mean width 2A/P (area A, all its borders P: the width of a long bar) is tiny beside
        the drawing and the same along it. A bar gives its axis; a bent band the middle between its two sides; a
        network the borders of its holes, each grown by half the ink's width: the holes are the patches.
Limits: curved seams of ink and branches without holes are refused. The borders of ink are never taken for seams.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import replace
from itertools import pairwise

import shapely
from shapely.geometry import Polygon

from seamwright.drawing.areas import area_of, corners, polygons, refuse_tangles
from seamwright.drawing.ink_network import patch_borders
from seamwright.drawing.painted import Painted
from seamwright.drawing.pieces import Run, extent
from seamwright.errors import DrawingError, fail
from seamwright.geometry import Point, off_line
from seamwright.notes import Note
from seamwright.units import say_count

INK_SHARE = 0.006
"""Ink is at most this wide, as a share of the drawing's diagonal: 1/16 in for an 8 in block."""
SLENDER = 8.0
"""Ink is at least this many times as long as wide."""
FEWEST_BARS = 3
"""Fewer thin bars among other filled shapes are patches, narrow as they are."""
SAME_WIDTH = 0.3
"""Widths of one stroke differ by at most this share."""
ROUND_ENDS = 0.15
"""Round ends leave 1 - pi/4 = 0.215 widths squared of their box empty, blunt ones nothing."""
LARGE_SHARE = 0.3
"""Thin shapes smaller than this share of the diagonal are no reason to refuse a drawing."""

_MEND = (
    "Undo the step that turned strokes into outlines (often called outline stroke or stroke to path),"
    " or draw each seam as one line"
)


def centre_lines(items: Sequence[Painted]) -> tuple[list[Painted], list[Note]]:
    """The items with ink replaced by its centre lines, and what to say about it.

    Raises:
        DrawingError: "ink outlines": the ink's centre lines cannot be told.
    """
    if not any(_inky(item) for item in items):
        return list(items), []
    refuse_tangles([run for item in items if item.fill for run in item.runs])
    x0, y0, x1, y1 = extent([run for item in items for run in item.runs])
    widest = INK_SHARE * math.hypot(x1 - x0, y1 - y0)
    large = LARGE_SHARE * math.hypot(x1 - x0, y1 - y0)
    found: dict[int, tuple[list[Run], bool, float]] = {}
    networks = 0
    for number, item in enumerate(items):
        if not _inky(item):
            continue
        read = _read_ink(item, widest, large)
        if read is not None:
            found[number] = read
            networks += read[1]
    others = sum(item.fill is not None for n, item in enumerate(items) if n not in found)
    if not found or (not networks and others and len(found) < FEWEST_BARS):
        return list(items), []
    replaced = [
        replace(item, runs=tuple(found[n][0]), fill=None, colour=None, stroked=True, border=found[n][1])
        if n in found
        else item
        for n, item in enumerate(items)
    ]
    width = max(width for _, _, width in found.values())
    text = f"{say_count(len(found), 'outlined stroke')} read as centre lines"
    return replaced, [Note("ink outlines", text, len(found), largest_in=width)]


def _inky(item: Painted) -> bool:
    """Filled, and not stroked in another colour: an outlined stroke may still inherit its old stroke."""
    return item.fill is not None and (not item.stroked or item.stroke == item.colour)


def _read_ink(item: Painted, widest: float, large: float) -> tuple[list[Run], bool, float] | None:
    """(centre lines, whether they are borders of patches, width) of a shape; None if it is no ink."""
    apart = _each_apart(item, widest)
    if apart is not None:
        return apart
    runs: list[Run] = []
    network = False
    broadest = 0.0
    for part in polygons(area_of(item.runs, item.evenodd)):
        width = 2 * part.area / part.length
        if width > widest or part.length / 2 < SLENDER * width:
            return None
        if part.interiors:
            read = patch_borders(part, has_curves=_long_curves(item, part, width))
            network = network or read is not None
        else:
            read = _bar(part) or _band(part)
        if read is None:
            if part.interiors or (len(corners(part)) > 4 and _span(part) > large):
                raise _refused(item, part)
            return None
        broadest = max(broadest, width)
        runs += read
    return (runs, network, broadest) if runs else None


def _each_apart(item: Painted, widest: float) -> tuple[list[Run], bool, float] | None:
    """The axes of a path whose subpaths are each a stroke of its own, however they cross; else None."""
    runs: list[Run] = []
    broadest = 0.0
    for one in item.runs:
        parts = polygons(area_of((one,), False))
        if len(parts) != 1 or parts[0].interiors:
            return None
        width = 2 * parts[0].area / parts[0].length
        if width > widest or parts[0].length / 2 < SLENDER * width:
            return None
        read = _bar(parts[0]) or _band(parts[0])
        if read is None:
            return None
        broadest = max(broadest, width)
        runs += read
    return (runs, False, broadest) if runs else None


def _long_curves(item: Painted, part: Polygon, width: float) -> bool:
    """Whether more than the round ends and bends of strokes is curved."""
    curved = sum(
        shapely.LineString(piece).length
        for run in item.runs
        for piece in run.pieces
        if len(piece) > 2 and math.dist(piece[0], piece[-1]) > 2 * width
    )
    return curved > 0.05 * part.length


def _refused(item: Painted, part: Polygon) -> Exception:
    x, y = part.exterior.coords[0]
    return fail(
        DrawingError,
        "ink outlines",
        f"{item.source}: its strokes were turned into filled outlines, or it is a traced picture, and the centre"
        " lines cannot be told",
        _MEND,
        at_in=(float(x), float(y)),
    )


def _span(part: Polygon) -> float:
    x0, y0, x1, y1 = part.bounds
    return math.hypot(x1 - x0, y1 - y0)


def _open(points: list[Point]) -> Run:
    return Run(tuple(pairwise(points)), closed=False)


def _bar(part: Polygon) -> list[Run] | None:
    """The axis of a straight stroke with blunt, square or round ends."""
    box = part.minimum_rotated_rectangle
    if not isinstance(box, Polygon) or part.area < 0.9 * box.area:
        return None
    a, b, c, d = [(float(x), float(y)) for x, y in box.exterior.coords[:-1]]
    if math.dist(a, b) > math.dist(b, c):
        a, b, c, d = b, c, d, a
    # Now ab and cd are the short sides.
    start, end = ((a[0] + b[0]) / 2, (a[1] + b[1]) / 2), ((c[0] + d[0]) / 2, (c[1] + d[1]) / 2)
    width, length = math.dist(a, b), math.dist(start, end)
    if box.area - part.area > ROUND_ENDS * width * width:
        # Round ends reach half a width past the ends of the line.
        cut = width / 2 / length
        start, end = (
            (start[0] + (end[0] - start[0]) * cut, start[1] + (end[1] - start[1]) * cut),
            (end[0] - (end[0] - start[0]) * cut, end[1] - (end[1] - start[1]) * cut),
        )
    return [_open([start, end])]


def _band(part: Polygon) -> list[Run] | None:
    """The middle of a bent stroke with pointed (mitred) bends and blunt ends."""
    ring = corners(part)
    if len(ring) < 6 or len(ring) % 2:
        return None
    half = len(ring) // 2
    for start in range(half):
        pairs = [(start, start - 1), ((start + half - 1) % len(ring), start - half)]
        ends = [math.dist(ring[i], ring[j]) for i, j in pairs]
        if max(ends) <= (1 + SAME_WIDTH) * min(ends) and _as_wide(ring, start, min(ends)):
            sides = [(ring[(start + k) % len(ring)], ring[start - 1 - k]) for k in range(half)]
            return [_open([((p[0] + q[0]) / 2, (p[1] + q[1]) / 2) for p, q in sides])]
    return None


def _as_wide(ring: list[Point], start: int, width: float) -> bool:
    """Whether the two sides that begin at a corner and at the one before it keep their distance to the end.

    It stops at the first place where they do not: most corners of most shapes are no end of a stroke.
    """
    least, most = (1 - SAME_WIDTH) * width, (1 + SAME_WIDTH) * width
    half = len(ring) // 2
    for k in range(half):
        p, q = ring[(start + k) % len(ring)], ring[start - 1 - k]
        if math.dist(p, q) < least:
            return False
        p2 = ring[(start + k + 1) % len(ring)]
        if k < half - 1 and math.dist(p, p2) > 0 and not least <= abs(off_line(q, p, p2)) <= most:
            return False
    return True
