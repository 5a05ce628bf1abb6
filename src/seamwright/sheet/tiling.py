"""A foundation larger than the sheet, printed in parts that are glued together.

Knows:  what each part shows, the lines to cut and to glue on, crosses, the picture of how the parts lie.
Leaves: where parting lines lie (parting), where the parts lie on sheets (pack treats them as prints of their own).
Units:  points, in the part's own frame: the foundation at 72 to the inch, rotated so that parting lines lie square.
Method: neighbouring parts share a band of paper. The later part is cut along a line and laid on the same line of
        the earlier one, crosses on crosses.
Limits: parting lines run right through the foundation, across and down.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass, replace
from functools import lru_cache

from shapely import STRtree
from shapely.geometry import LineString, Polygon, box
from shapely.geometry.base import BaseGeometry

from seamwright.foundation.model import Foundation
from seamwright.geometry import Affine, Point, Ring, Segment, bounds, moved, signed_area
from seamwright.ink.lettering import CAP_HEIGHT, centred, width_pt, words_box
from seamwright.ink.model import Area, Ink, Pen, Stroke, Words, move_ink
from seamwright.ink.place import place_words
from seamwright.sheet.furniture import NOTE_PT, NOTE_STEP, TINT, Item, column, lines_of
from seamwright.sheet.nest import Box, angles, rotation
from seamwright.sheet.parting import OVERLAP_PT, STEP_PT, Span, aside, cost_of, count, partings

CROSS_PT = 5.0
PICTURE_PT = (72.0, 54.0, 36.0)
CAPTION_PT = 108.0
WORDS_PT = 7.0
BLACK = "#000000"

HOW_TO_GLUE = (
    "Cut along each line marked cut, lay the edge on the glue line of the part before it, crosses on crosses, "
    "and glue. Tape melts under the iron."
)


@dataclass(frozen=True, slots=True)
class Part:
    """One part of a foundation.

    Attributes:
        row, column: from 1, as printed. of: how many parts.
        ring: outline of the paper that this part needs, clockwise.
        window: the rectangle that this part shows.
        ink: everything on it.
    """

    row: int
    column: int
    of: int
    ring: Ring
    window: Box
    ink: tuple[Ink, ...]


@dataclass(frozen=True, slots=True)
class Tiling:
    """All parts of one foundation.

    Attributes:
        affine: foundation inches -> points of the parts' frame; angle_deg: its rotation.
        parts: row by row; parts that would be empty are left out.
    """

    affine: Affine
    angle_deg: float
    parts: tuple[Part, ...]


def tile(foundation: Foundation, windows: Sequence[tuple[float, float]]) -> Tiling:
    """The foundation in as few parts as can be.

    Args:
        windows: width and height of the largest parts that find room on a sheet; of those that need equally few
            parts the first is taken.
    """
    ring = tuple((x * 72.0, y * 72.0) for x, y in foundation.trim_outline)
    best: tuple[int, Tiling] | None = None
    for width, height in windows:
        for angle in angles(ring, most=12):
            for across, down in ((width, height), (height, width)):
                turned = [moved(rotation(angle), p) for p in ring]
                left, top, right, bottom = bounds(turned)
                least = count(right - left, across) * count(bottom - top, down)
                if best is None or least < best[0]:
                    found = _tiling(foundation, angle, across, down)
                    if best is None or len(found.parts) < best[0]:
                        best = (len(found.parts), found)
    assert best is not None
    return best[1]


def assembly(tiling: Tiling, part: Part, name: str) -> tuple[Item, ...]:
    """A small picture of how the parts lie, this one tinted, in several sizes."""
    return tuple(_picture(tiling, part, name, side) for side in PICTURE_PT)


def assembly_room(name: str) -> tuple[Item, ...]:
    """Empty items as large as the pictures of parts may be."""
    words = _caption(name, 9, 9, 99)
    wide = max(width_pt(line, NOTE_PT, bold=True) for line in words)
    return tuple(Item(max(side, wide), side + 2.0 + NOTE_STEP * len(words), ()) for side in PICTURE_PT)


def _caption(name: str, row: int, column: int, of: int) -> tuple[str, ...]:
    """Which part a picture is of, in one line or, for a long name, in several."""
    part = f"part {row}.{column} of {of}"
    if width_pt(f"{name}: {part}", NOTE_PT, bold=True) <= CAPTION_PT:
        return (f"{name}: {part}",)
    return (*lines_of(name, NOTE_PT, CAPTION_PT, bold=True, most=2), part)


def _picture(tiling: Tiling, part: Part, name: str, side: float) -> Item:
    windows = [one.window for one in tiling.parts]
    left, top = min(w[0] for w in windows), min(w[1] for w in windows)
    right, bottom = max(w[2] for w in windows), max(w[3] for w in windows)
    scale = side / max(right - left, bottom - top)

    def small(points: Iterable[Point]) -> Ring:
        return tuple(((x - left) * scale, (y - top) * scale) for x, y in points)

    rings = [small(one.ring) for one in tiling.parts]
    names = _names(tuple(f"{one.row}.{one.column}" for one in tiling.parts), tuple(rings))
    this = tiling.parts.index(part)
    # A part too small for its name is too small to be seen tinted; which it is, the words below say.
    ink: list[Ink] = [Area((rings[this],), TINT if names[this] else BLACK)]
    ink += [Stroke(Pen.RULE, ring, closed=True) for ring in rings]
    ink += [replace(words, bold=i == this) for i, words in enumerate(names) if words is not None]
    words = _caption(name, part.row, part.column, part.of)
    high = (bottom - top) * scale
    ink += column(words, 0.0, high + 2.0, NOTE_PT, NOTE_STEP, bold=True)
    wide = max((right - left) * scale, *(width_pt(line, NOTE_PT, bold=True) for line in words))
    return Item(wide, high + 2.0 + NOTE_STEP * len(words), tuple(ink))


@lru_cache(maxsize=64)
def _names(names: tuple[str, ...], rings: tuple[Ring, ...]) -> list[Words | None]:
    """The name of each part inside it, bold, clear of the lines of all parts; None where it finds no room."""
    borders = [(bounds(side), side) for ring in rings for side in _sides(ring)]
    placed = []
    for name, ring in zip(names, rings, strict=True):
        left, top, right, bottom = bounds(ring)
        near = [s for (x, y, u, v), s in borders if x <= right and u >= left and y <= bottom and v >= top]
        placed.append(
            place_words(ring, name, (WORDS_PT,), obstacles=near, clearance_pt=0.5, unit_pt=1.0, bold=True)
        )
    return placed


def _tiling(foundation: Foundation, angle: float, across: float, down: float) -> Tiling:
    a, b, c, d, _, _ = rotation(angle)
    affine = (72 * a, 72 * b, 72 * c, 72 * d, 0.0, 0.0)
    ink = [move_ink(mark, affine, angle) for mark in foundation.ink]
    trim = Polygon([moved(affine, p) for p in foundation.trim_outline])
    left, top, right, bottom = trim.bounds
    stitches = [
        (moved(affine, p), moved(affine, q))
        for p, q in (*foundation.seams, *_sides(foundation.stitch_outline), *_sides(foundation.trim_outline))
    ]
    words = [words_box(mark, 1.0) for mark in ink if isinstance(mark, Words)]
    columns = partings(left, right, across, cost_of(stitches, words, 0))
    rows = partings(top, bottom, down, cost_of(stitches, words, 1))
    clear = [_kept_whole(mark, columns, rows) if isinstance(mark, Words) else mark for mark in ink]
    parts = [
        _part(clear, trim, columns, rows, column, row) for row in range(len(rows)) for column in range(len(columns))
    ]
    shown = [part for part in parts if part is not None]
    return Tiling(affine, angle, tuple(replace(part, of=len(shown)) for part in shown))


def _sides(ring: Ring) -> list[Segment]:
    return list(zip(ring, ring[1:] + ring[:1], strict=True))


def _kept_whole(words: Words, columns: Sequence[Span], rows: Sequence[Span]) -> Words:
    """Words that a parting line would cross, moved aside to the part that holds their middle."""
    x, y = words.at
    ring = words_box(words, 1.0)
    low_x, low_y, high_x, high_y = bounds(ring)
    shift_x, shift_y = aside(low_x, high_x, columns), aside(low_y, high_y, rows)
    return replace(words, at=(x + shift_x, y + shift_y)) if shift_x or shift_y else words


def _part(
    ink: Sequence[Ink], trim: Polygon, columns: Sequence[Span], rows: Sequence[Span], column: int, row: int
) -> Part | None:
    """What one part shows; None if nothing of the foundation lies on it."""
    (left, right), (top, bottom) = columns[column], rows[row]
    window = box(left, top, right, bottom)
    paper = trim.intersection(window)
    pieces = [p for p in getattr(paper, "geoms", [paper]) if isinstance(p, Polygon) and p.area > 1.0]
    if not pieces:
        return None
    outline = (pieces[0] if len(pieces) == 1 else paper.convex_hull).simplify(0.01)
    assert isinstance(outline, Polygon)
    ring = tuple((float(x), float(y)) for x, y in outline.exterior.coords[:-1])
    ring = ring if signed_area(ring) > 0 else ring[::-1]
    shown = [mark for one in ink for mark in _clipped(one, window)]
    mine, across, down = (f"{row + 1}.{column + 1}", f"{row + 1}.{column + 2}", f"{row + 2}.{column + 1}")
    joints: list[tuple[Segment, str]] = []
    if column > 0:
        joints.append((((left, top), (left, bottom)), f"cut {mine}"))
    if column + 1 < len(columns):
        place = columns[column + 1][0]
        joints.append((((place, top), (place, bottom)), f"glue {across} here"))
    if row > 0:
        joints.append((((left, top), (right, top)), f"cut {mine}"))
    if row + 1 < len(rows):
        place = rows[row + 1][0]
        joints.append((((left, place), (right, place)), f"glue {down} here"))
    words = STRtree([Polygon(words_box(mark, 1.0)) for mark in ink if isinstance(mark, Words)])
    lines = STRtree([LineString(mark.points) for mark in ink if isinstance(mark, Stroke)])
    drawn = [
        mark
        for line, label in joints
        for one in _joint(line, label, trim, words, lines)
        for mark in _clipped(one, window)
    ]
    return Part(row + 1, column + 1, 0, ring, (left, top, right, bottom), (*shown, *drawn))


def _joint(line: Segment, label: str, trim: Polygon, words: STRtree, lines: STRtree) -> list[Ink]:
    """A parting line inside the foundation, the crosses in the band beside it, and its label.

    Both parts that meet in the band put the same crosses there, since all they depend on is the same for both.
    """
    ink: list[Ink] = []
    upright = line[0][0] == line[1][0]
    for run in _lines(LineString(line).intersection(trim)):
        ink.append(Stroke(Pen.HELPER, run))
        (ax, ay), (bx, by) = run[0], run[-1]
        length = math.dist(run[0], run[-1])
        if length < 4 * CROSS_PT:
            continue
        ux, uy = (bx - ax) / length, (by - ay) / length
        # The band lies right of an upright line, below a lying one.
        nx, ny = (1.0, 0.0) if upright else (0.0, 1.0)

        def at(along: float, off: float, a: Point = (ax, ay), u: Point = (ux, uy), n: Point = (nx, ny)) -> Point:
            return (a[0] + u[0] * along + n[0] * off, a[1] + u[1] * along + n[1] * off)

        taken: list[BaseGeometry] = []
        places = [
            length * (k + 0.5) / max(1, round(length / STEP_PT)) for k in range(max(1, round(length / STEP_PT)))
        ]
        count = max(2, round(length / 216.0) + 1)
        for k in range(count):
            wanted = length * (k + 0.5) / count
            for place in sorted(places, key=lambda p, w=wanted: (abs(p - w), p)):  # type: ignore[misc]
                x, y = at(place, OVERLAP_PT / 2)
                spot = box(x - CROSS_PT, y - CROSS_PT, x + CROSS_PT, y + CROSS_PT).buffer(2.0)
                if trim.covers(spot) and not len(words.query(spot, "intersects")) and not _hit(spot, taken):
                    taken.append(spot)
                    ink.append(Stroke(Pen.MARK, ((x - CROSS_PT, y), (x + CROSS_PT, y))))
                    ink.append(Stroke(Pen.MARK, ((x, y - CROSS_PT), (x, y + CROSS_PT))))
                    break
        ink += _label(label, length, places, at, trim, words, lines, taken, 90.0 if upright else 0.0)
    return ink


def _label(
    label: str,
    length: float,
    places: Sequence[float],
    at: Callable[[float, float], Point],
    trim: Polygon,
    words: STRtree,
    lines: STRtree,
    taken: Sequence[BaseGeometry],
    angle: float,
) -> list[Words]:
    """The label beside its line, near the middle, clear of words, crosses and, if it can be, of lines."""
    gap = 3.0 + CAP_HEIGHT * WORDS_PT / 2
    for may_cross in (False, True):
        for place in sorted(places, key=lambda p: (abs(p - length / 2), p)):
            one = centred(label, at(place, gap), WORDS_PT, unit_pt=1.0, angle_deg=angle)
            spot = Polygon(words_box(one, 1.0)).buffer(1.0)
            crossed = len(lines.query(spot, "intersects")) > 0 and not may_cross
            if (
                trim.covers(spot)
                and not crossed
                and not len(words.query(spot, "intersects"))
                and not _hit(spot, taken)
            ):
                return [one]
    return []


def _hit(spot: BaseGeometry, others: Sequence[BaseGeometry]) -> bool:
    return any(spot.intersects(other) for other in others)


def _clipped(mark: Ink, window: Polygon) -> list[Ink]:
    """What of a mark lies in a window; words only whole."""
    if isinstance(mark, Words):
        return [mark] if window.buffer(1.0).covers(Polygon(words_box(mark, 1.0))) else []
    if isinstance(mark, Stroke):
        line = LineString([*mark.points, *mark.points[: mark.closed]])
        if window.covers(line):
            return [mark]
        return [replace(mark, points=run, closed=False) for run in _lines(line.intersection(window))]
    area = Polygon(mark.rings[0], mark.rings[1:]).intersection(window)
    return [
        Area(
            tuple(tuple((float(x), float(y)) for x, y in loop.coords[:-1]) for loop in (p.exterior, *p.interiors)),
            mark.colour,
        )
        for p in getattr(area, "geoms", [area])
        if isinstance(p, Polygon)
    ]


def _lines(found: BaseGeometry) -> list[tuple[tuple[float, float], ...]]:
    """The runs of line in an intersection, points left out."""
    return [
        tuple((float(x), float(y)) for x, y in part.coords)
        for part in getattr(found, "geoms", [found])
        if isinstance(part, LineString) and part.length > 0.01
    ]
