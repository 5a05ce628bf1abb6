"""A print larger than the sheet, in parts that are glued together.

Knows:  at which angle it is parted, what each part shows, which part lies on which when glued.
Leaves: where parting lines lie (parting), what is drawn along them (joints), the picture of the parts (assembly),
        where the parts lie on sheets (pack treats them as prints of their own).
Units:  points, in the parts' own frame: the print, rotated so that parting lines lie square.
Method: neighbouring parts share a band of paper. The later part is cut along a line and laid on the same line of
        the earlier one, crosses on crosses. Angles are tried until no fewer parts are possible by area: square,
        along the print's sides, then every third degree.
Limits: see parting; angles between those tried are left out.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from functools import lru_cache
from itertools import pairwise

from shapely.geometry import LineString, Polygon, box
from shapely.geometry.base import BaseGeometry

from seamwright.geometry import Affine, Point, Ring, Segment, bounds, boxes_meet, moved, signed_area
from seamwright.ink.lettering import words_box
from seamwright.ink.model import Area, Ink, Stroke, Words, move_ink
from seamwright.ink.place import place_words
from seamwright.sheet.joints import Ground, Joint, crosses, label, parting
from seamwright.sheet.keeping import kept_whole
from seamwright.sheet.nest import Box, angles, rotation
from seamwright.sheet.parting import Drawn, Row, fewest, grid

NAME_PT = (10.0, 9.0, 8.0, 7.0)
"""Type sizes of a part's own name."""
EVERY_DEG = 3
LARGE = 150.0
"""What a part larger than half a sheet weighs beside what parting lines spoil: less than a corner under a cut."""
AS_GOOD = 4
"""Of so many ways that need equally few parts the least spoilt is taken."""


@dataclass(frozen=True, slots=True)
class Shown:
    """A print to be parted, in points.

    Attributes:
        label: what the paper calls it.
        ring: its outline, clockwise; ink: all that is on it.
        lines: stitch lines, seam by seam; corners: of its patches.
        upright: it keeps its direction.
    """

    label: str
    ring: Ring
    ink: tuple[Ink, ...]
    lines: tuple[Segment, ...]
    corners: tuple[Point, ...]
    upright: bool = False


@dataclass(frozen=True, slots=True)
class Part:
    """One part of a print.

    Attributes:
        row, column: from 1, as printed. of: how many parts.
        ring: outline of the paper that this part needs, clockwise.
        window: the rectangle that this part shows. seen: outline of what shows of it when all are glued.
        ink: everything on it.
    """

    row: int
    column: int
    of: int
    ring: Ring
    window: Box
    seen: Ring
    ink: tuple[Ink, ...]


@dataclass(frozen=True, slots=True)
class Tiling:
    """All parts of one print.

    Attributes:
        turn: the print's own points -> points of the parts' frame; angle_deg: its rotation.
        parts: row by row; parts that would be empty are left out.
    """

    turn: Affine
    angle_deg: float
    parts: tuple[Part, ...]


@lru_cache(maxsize=128)
def tile(shown: Shown, windows: tuple[tuple[float, float], ...]) -> Tiling:
    """The print in as few parts as can be.

    Args:
        windows: width and height of the largest parts that find room on a sheet; of those that need equally few
            parts the first is taken.
    """
    ways = [
        (angle, *size)
        for angle in _square_angles(shown)
        for window in windows
        for size in ((window, window[::-1]) if not shown.upright else (window,))
    ]
    found = _fewest(shown.ring, ways)
    area = abs(signed_area(shown.ring))
    if not shown.upright and found[0][0] > max(2, math.ceil(area / max(w * h for w, h in windows))):
        largest = max(windows, key=lambda window: window[0] * window[1])
        crooked = [
            (float(deg), *size) for deg in range(EVERY_DEG, 180, EVERY_DEG) for size in (largest, largest[::-1])
        ]
        # Crooked parts are worth it only where they are fewer.
        found = min(found, _fewest(shown.ring, crooked), key=lambda some: some[0][0])
    good = [way for parts, way in found if parts == found[0][0]]
    first = {_window(way, windows) for way in good[:1]}
    good = [way for way in good if _window(way, windows) in first and (way[0] % 90 == 0) == (good[0][0] % 90 == 0)]
    half = max(w * h for w, h in windows) / 2
    made = [_grid(shown, *way, half, even=even) for way in good[:AS_GOOD] for even in (True, False)]
    _, rows, angle = min(made, key=lambda one: one[0])
    return _tiling(shown, rows, angle)


Way = tuple[float, float, float]
"""Angle, greatest width and height of a part."""
Worth = tuple[int, float]
"""Parts; what their parting lines spoil, and how many need a sheet of their own."""


def _square_angles(shown: Shown) -> tuple[float, ...]:
    """Square to the print, then with a side of it along the parts."""
    if shown.upright:
        return (0.0,)
    return tuple(dict.fromkeys(round(angle % 180.0, 6) for angle in angles(shown.ring, most=12)))


def _window(way: Way, windows: Sequence[tuple[float, float]]) -> int:
    """Which window a way fills, lying or standing."""
    return next(n for n, window in enumerate(windows) if way[1:] in (window, window[::-1]))


def _fewest(ring: Ring, ways: Sequence[Way]) -> list[tuple[int, Way]]:
    """Ways and their parts, those with the fewest parts first, else in the order given."""
    found = []
    for angle, across, down in ways:
        turned = tuple(moved(rotation(angle), p) for p in ring)
        found.append((fewest(turned, across, down), (angle, across, down)))
    return sorted(found, key=lambda one: one[0])


def _turned(shown: Shown, angle: float) -> Shown:
    turn = rotation(angle)
    return Shown(
        shown.label,
        tuple(moved(turn, p) for p in shown.ring),
        tuple(move_ink(mark, turn, angle) for mark in shown.ink),
        tuple((moved(turn, a), moved(turn, b)) for a, b in shown.lines),
        tuple(moved(turn, p) for p in shown.corners),
    )


def _grid(
    shown: Shown, angle: float, across: float, down: float, half: float, *, even: bool
) -> tuple[Worth, tuple[Row, ...], float]:
    """Rows of parts, and what they are worth: few parts, little spoilt, few of them larger than half a sheet."""
    turned = _turned(shown, angle)
    drawn = Drawn(
        (*turned.lines, *sides(turned.ring)),
        turned.corners,
        tuple(words_box(mark, 1.0) for mark in turned.ink if isinstance(mark, Words)),
    )
    rows, spoilt = grid(turned.ring, across, down, drawn, even=even)
    paper = Polygon(turned.ring)
    large = sum(paper.intersection(box(*cell.window)).area > half for cell in _cells(rows))
    return (sum(len(row.across) for row in rows), spoilt + LARGE * large), rows, angle


def sides(ring: Ring) -> list[Segment]:
    """The sides of a ring in order."""
    return list(zip(ring, ring[1:] + ring[:1], strict=True))


@dataclass(frozen=True, slots=True)
class _Cell:
    """A place in the grid: what its part shows, and what of that is seen when all are glued."""

    row: int
    column: int
    window: Box
    seen: Box


def _cells(rows: Sequence[Row]) -> Iterator[_Cell]:
    for r, row in enumerate(rows):
        ends = (*(after.down[0] for after in rows[r + 1 : r + 2]), row.down[1])
        for c, (left, right) in enumerate(row.across):
            beside = (*(start for start, _ in row.across[c + 1 : c + 2]), right)
            yield _Cell(
                r + 1,
                c + 1,
                (left, row.down[0], right, row.down[1]),
                (left, row.down[0], beside[0], ends[0]),
            )


def _tiling(shown: Shown, rows: Sequence[Row], angle: float) -> Tiling:
    turned = _turned(shown, angle)
    paper = Polygon(turned.ring)
    cells = [cell for cell in _cells(rows) if paper.intersection(box(*cell.seen)).area > 1.0]
    ink = kept_whole(turned.ink, [cell.seen for cell in cells])
    ground = Ground(paper, ink)
    drawn: list[list[Ink]] = [[] for _ in cells]
    said: set[tuple[int, bool]] = set()
    # What crosses and words of its joints take of each part: a part may have several joints in one line.
    taken: list[list[BaseGeometry]] = [[] for _ in cells]
    # The longest joint of a cut line has most room for its words: a line marked once needs them nowhere else.
    for joint, whole in sorted(_joints(cells), key=lambda one: -round(math.dist(*one[0].line), 3)):
        below, above = cells[joint.below], cells[joint.above]
        crossed, spots = crosses(joint, ground, (*taken[joint.below], *taken[joint.above]))
        taken[joint.below] += spots
        taken[joint.above] += spots
        name = f"{above.row}.{above.column}"
        onto = name if joint.upright else f"row {above.row}"
        drawn[joint.below] += crossed
        glued = label((f"glue {onto} here", f"glue {onto}", "glue"), joint, ground, taken[joint.below], before=True)
        drawn[joint.below] += glued
        taken[joint.below] += map(_spot, glued)
        drawn[joint.above] += crossed
        if (joint.above, joint.upright) not in said:
            marked = label((f"cut {name}", "cut"), joint, ground, taken[joint.above])
            said |= {(joint.above, joint.upright) for _ in marked}
            drawn[joint.above] += marked
            taken[joint.above] += map(_spot, marked)
        drawn[joint.above] += parting(whole, paper)
        drawn[joint.below] += parting(_within(joint.line, below.window), paper)
    parts = tuple(_part(turned, cell, ink, more, len(cells)) for cell, more in zip(cells, drawn, strict=True))
    return Tiling(rotation(angle), angle, parts)


def _spot(words: Words) -> Polygon:
    """The box that words take."""
    return Polygon(words_box(words, 1.0))


def _within(line: Segment, window: Box) -> Segment:
    """A parting line as far as a window reaches."""
    (ax, ay), _ = line
    left, top, right, bottom = window
    return ((ax, top), (ax, bottom)) if line[0][0] == line[1][0] else ((left, ay), (right, ay))


def _joints(cells: Sequence[_Cell]) -> Iterator[tuple[Joint, Segment]]:
    """Every joint between two parts, with the whole line that the part on top is cut along."""
    for n, above in enumerate(cells):
        left, top, right, bottom = above.window
        for m, below in enumerate(cells):
            if below.row == above.row and below.column == above.column - 1:
                line = ((left, top), (left, above.seen[3]))
                yield Joint(line, m, n), ((left, top), (left, bottom))
            elif below.row == above.row - 1:
                start, end = max(below.seen[0], above.seen[0]), min(below.seen[2], above.seen[2])
                if end - start > 0.01:
                    yield Joint(((start, top), (end, top)), m, n), ((left, top), (right, top))


def _part(shown: Shown, cell: _Cell, ink: Sequence[Ink], joints: Sequence[Ink], of: int) -> Part:
    """What one part shows."""
    paper, window = Polygon(shown.ring), box(*cell.window)
    ring, seen = _outline(paper.intersection(window)), _outline(paper.intersection(box(*cell.seen)))
    # A side of the print in the window's edge may run on past this part: there it is the neighbour's, and would lie
    # on other prints.
    past = window.exterior.difference(Polygon(ring).buffer(0.01)).buffer(1e-4, cap_style="flat")
    here = [mark for one in (*ink, *joints) for mark in _clipped(one, window, past)]
    name = _name(f"{shown.label}, part {cell.row}.{cell.column} of {of}", seen, here)
    return Part(cell.row, cell.column, of, ring, cell.window, seen, (*here, *name))


def _name(text: str, seen: Ring, ink: Sequence[Ink]) -> list[Words]:
    """A part's own name, where it still shows when all is glued; over lines only where there is no other room."""
    boxes = [words_box(mark, 1.0) for mark in ink if isinstance(mark, Words)]
    lines = [line for mark in ink if isinstance(mark, Stroke) for line in _segments(mark)]
    for obstacles, sizes in (((*boxes, *lines), NAME_PT), (boxes, NAME_PT[-1:])):
        near = [ob for ob in obstacles if boxes_meet(bounds(ob), bounds(seen))]
        for words in (text, text.replace(", part", "").split(" of")[0]):
            name = place_words(seen, words, sizes, obstacles=near, clearance_pt=2.0, unit_pt=1.0, bold=True)
            if name is not None:
                return [name]
    return []


def _segments(stroke: Stroke) -> list[Segment]:
    points = (*stroke.points, *stroke.points[: stroke.closed])
    return list(pairwise(points))


def _outline(paper: BaseGeometry) -> Ring:
    """The outline of the paper of a part, clockwise; pieces that hang apart are joined."""
    pieces = [p for p in getattr(paper, "geoms", [paper]) if isinstance(p, Polygon) and p.area > 1.0]
    outline = (pieces[0] if len(pieces) == 1 else paper.convex_hull).simplify(0.01)
    assert isinstance(outline, Polygon)
    ring = tuple((float(x), float(y)) for x, y in outline.exterior.coords[:-1])
    return ring if signed_area(ring) > 0 else ring[::-1]


def _clipped(mark: Ink, window: Polygon, past: BaseGeometry) -> list[Ink]:
    """What of a mark lies in a window, of lines without what lies `past` the part; words only whole."""
    if isinstance(mark, Words):
        return [mark] if window.buffer(1.0).covers(Polygon(words_box(mark, 1.0))) else []
    if isinstance(mark, Stroke):
        line = LineString([*mark.points, *mark.points[: mark.closed]])
        if window.covers(line) and not line.intersects(past):
            return [mark]
        found = line.intersection(window).difference(past)
        runs = [p for p in getattr(found, "geoms", [found]) if isinstance(p, LineString) and p.length > 0.01]
        return [replace(mark, points=tuple((float(x), float(y)) for x, y in p.coords), closed=False) for p in runs]
    area = Polygon(mark.rings[0], mark.rings[1:]).intersection(window)
    return [
        Area(
            tuple(tuple((float(x), float(y)) for x, y in loop.coords[:-1]) for loop in (p.exterior, *p.interiors)),
            mark.colour,
        )
        for p in getattr(area, "geoms", [area])
        # What lies outside has an empty rest, and filling nothing is a clip in the file.
        if isinstance(p, Polygon) and p.area > 1e-4
    ]
