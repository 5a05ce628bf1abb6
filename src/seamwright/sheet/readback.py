"""The finished file read back and measured before anyone prints it.

Knows:  what a page must draw: its size, the squares and lines that prove its scale, every line and every word of
        every foundation in its place, and nothing besides.
Leaves: whether a foundation is the right one (foundation, proof), what a page draws (operators), what it must show
        (wanted), whether lines lie on lines (cover); here paper is held against the sheets' values.
Units:  points in, millimetres in what is said; a point is 1/72 in (ISO 32000-1, 8.3.2.3), an inch 25.4 mm.
Method: each corner is looked for among the points of the lines drawn with the right pen: the nearest is where it
        is, and how far that lies from where it should be is the error. Each line must be covered from end to end by
        lines of the right pen, and what is drawn with the stitch pen must be covered by lines to stitch on. Then
        the whole page is held against its sheet both ways. Lengths that standards fix (1 in, 5 cm, 6 in) and those
        of seams in inches are measured between points found.
Limits: numbers in a file are rounded to cairo's grid of 1/256 pt, 0.0014 mm.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from io import BytesIO
from typing import Any

import numpy as np
import shapely
from pypdf import PdfReader

from seamwright.errors import read_back_wrong
from seamwright.foundation.model import Use
from seamwright.geometry import Point, Ring, Segment, bounds, moved
from seamwright.ink.lettering import words_box
from seamwright.ink.model import Pen, Words
from seamwright.ink.page import Page
from seamwright.sheet.aslaid import (
    MM_PER_PT,
    TOLERANCE_MM,
    TOLERANCE_PT,
    longest_bare,
    same_place,
)
from seamwright.sheet.cover import Pieces, pieces_of
from seamwright.sheet.enlarging import GROWTH
from seamwright.sheet.furniture import INCH_PT
from seamwright.sheet.gauges import FIVE_CM_PT, RULES
from seamwright.sheet.leaf import LeafRead
from seamwright.sheet.model import Placed, Sheet
from seamwright.sheet.operators import Look
from seamwright.sheet.wanted import bends, inside, is_drawn_with, laid, lines_of, shown, sides, written

_EDGE_PT = 0.01
"""What lies nearer than this to the edge of a part may be left to the neighbouring part."""
_ASIDE_PT = 24.0
"""Words of a part may be moved off a parting line: as far as they are long, and a little."""


@dataclass(frozen=True, slots=True)
class Measured:
    """What was found in the file.

    Attributes:
        sheets: pages measured.
        points: corners and ends looked for, all of them found.
        largest_error_mm: the farthest that any of them lay from its place.
        squares_error_mm: the largest error of a check square's side.
        lines_error_mm: the largest error of a long line's length.
        seams_error_mm: the largest error of a long seam's length, one seam to a sheet.
        words: lines of words found, each in its place.
        pages: pages without foundations, each held against its ink.
    """

    sheets: int
    points: int
    largest_error_mm: float
    squares_error_mm: float
    lines_error_mm: float
    seams_error_mm: float
    words: int = 0
    pages: int = 0


def read_back(pdf: bytes, leaves: Sequence[Sheet | Page]) -> Measured:
    """Measures a finished file against the sheets and other pages it was made from.

    Raises:
        ProofError: something is missing, is there besides, or lies or measures more than 0.01 mm off; the message
            names it.
    """
    reader = PdfReader(BytesIO(pdf))
    if len(reader.pages) != len(leaves):
        raise read_back_wrong(f"the file has {len(reader.pages)} pages for {len(leaves)} sheets and pages laid out")
    hints: Any = reader.root_object.get("/ViewerPreferences", {})
    if hints.get("/PrintScaling") != "/None":
        raise read_back_wrong("the file does not ask the print dialog to leave its scale alone")
    read = [
        _SheetRead(page, leaf) if isinstance(leaf, Sheet) else LeafRead(page, leaf, f"page {number}")
        for number, (page, leaf) in enumerate(zip(reader.pages, leaves, strict=True), start=1)
    ]
    for one in read:
        one.measure()
    sheets = [one for one in read if isinstance(one, _SheetRead)]
    for fault in _lost_between_parts(sheets):
        raise read_back_wrong(fault)
    return Measured(
        sheets=len(sheets),
        points=sum(page.points for page in sheets),
        largest_error_mm=max((page.largest for page in sheets), default=0.0),
        squares_error_mm=max((page.squares for page in sheets), default=0.0),
        lines_error_mm=max((page.lines for page in sheets), default=0.0),
        seams_error_mm=max((page.seams for page in sheets), default=0.0),
        words=sum(len(page.drawn.words) for page in read),
        pages=len(read) - len(sheets),
    )


class _SheetRead(LeafRead):
    """A page of foundations: also everything that must measure true."""

    def __init__(self, page: Any, sheet: Sheet) -> None:
        super().__init__(page, sheet, f"sheet {sheet.number}")
        self.sheet = sheet
        self.points, self.largest, self.squares, self.lines, self.seams = 0, 0.0, 0.0, 0.0, 0.0
        self.straight_in = TOLERANCE_PT / (INCH_PT * sheet.enlarged)

    def measure(self) -> None:
        """All that must be there, one thing after the other, and then that nothing else is."""
        self.check_size()
        self._scale()
        for placed in self.sheet.placed:
            self._foundation(placed)
        self._longest_seam()
        for fault in self.faults():
            raise self.wrong(fault)

    def _scale(self) -> None:
        """The check squares and long lines."""
        sheet = self.sheet
        for true, name in ((INCH_PT, "1 in"), (FIVE_CM_PT, "5 cm")):
            squares = [square for square in sheet.check_squares_pt if math.isclose(square[2], true)]
            if not squares:
                raise self.wrong(f"it has no check square of {name}")
            for x, y, side in squares:
                corners = [(x, y), (x + side, y), (x + side, y + side), (x, y + side)]
                ring = self._find(f"{name} check square", corners)
                for a, b in sides(ring):
                    self.squares = max(self.squares, self._length(f"a side of the {name} check square", a, b, true))
        if len(sheet.check_lines_pt) < 2:
            raise self.wrong("it has no long line each way")
        for line in sheet.check_lines_pt:
            a, b = self._find("long line", line)
            true = min((rule.length_pt for rule in RULES), key=lambda pt: abs(pt - math.dist(*line)))
            self.lines = max(self.lines, self._length("a long line", a, b, true))

    def _foundation(self, placed: Placed) -> None:
        """Every corner, line and word of a print, as large as its sheet says and not turned over."""
        print_ = placed.foundation
        name = f"{print_.block} {print_.section}"
        a, b, c, d, _, _ = placed.affine
        if max(abs(a - d), abs(b + c), abs(math.hypot(a, b) - INCH_PT * self.sheet.enlarged)) > 1e-9:
            raise self.wrong(f"{name} is scaled or turned over")
        a, b, c, d, _, _ = print_.front
        if (a * d - b * c < 0) is not print_.mirrored or (print_.use is Use.SEW and not print_.mirrored):
            raise self.wrong(f"{name} is to be sewn on and not mirrored, or the other way round")
        for what, pen, lines in lines_of(print_):
            looks = [look for look in self.pieces if pen is None or is_drawn_with(look, pen)]
            corners = [
                moved(placed.affine, p)
                for line in lines
                for p in bends(line, self.straight_in)
                if inside(placed, p, spare_pt=_EDGE_PT)
            ]
            self._find(f"{what} of {name}", corners, looks)
            drawn = np.concatenate([pieces_of(()), *(self.pieces[look] for look in looks)])
            wanted = pieces_of(run for line in lines for run in shown(placed, line, spare_pt=_EDGE_PT))
            for fault in longest_bare(wanted, drawn, f"of the {what} is missing"):
                raise self.wrong(f"{name}: {fault}")
        if placed.tile is None and self.sheet.enlarged == 1:
            for words in _words_of(placed):
                if not any(same_place(one, words) for one in self.drawn.words):
                    x, y = words.at
                    raise self.wrong(
                        f'{name}: its words "{words.text}" are not to be found at ({x:.2f}, {y:.2f}) pt'
                    )

    def _longest_seam(self) -> None:
        """One long seam of the sheet, its length against the inches of its foundation."""
        stretches = [
            (math.dist(a, b) * INCH_PT * self.sheet.enlarged, placed, a, b)
            for placed in self.sheet.placed
            for a, b in (*placed.foundation.seams, *self._straight_sides(placed.foundation.stitch_outline))
            if all(inside(placed, p, spare_pt=_EDGE_PT) for p in (a, b))
        ]
        if stretches:
            true, placed, a, b = max(stretches, key=lambda s: s[0])
            name = f"longest seam of {placed.foundation.block} {placed.foundation.section}"
            first, last = self._find(name, [moved(placed.affine, a), moved(placed.affine, b)])
            self.seams = self._length(f"the {name}", first, last, true)

    def _straight_sides(self, ring: Ring) -> list[Segment]:
        """Sides of a ring between two bends."""
        ends = set(bends((*ring, *ring[:1]), self.straight_in)) if ring else set()
        return [side for side in sides(ring) if ends.issuperset(side)]

    def faults(self) -> Iterator[str]:
        """What is there besides all this, and what of the sheet is not there."""
        known = pieces_of(
            run
            for placed in self.sheet.placed
            for what, _, lines in lines_of(placed.foundation)
            if what in ("stitch line", "seam")
            for line in lines
            for run in shown(placed, line, spare_pt=-_EDGE_PT)
        )
        for look, pieces in self.pieces.items():
            if is_drawn_with(look, Pen.STITCH):
                yield from longest_bare(pieces, known, "is drawn as a stitch line and is none")
        yield from super().faults()

    def _find(self, name: str, points: Sequence[Point], looks: Iterable[Look] | None = None) -> list[Point]:
        """Where each point is on the page, among the points of lines of some looks; None: of all."""
        if not points:
            return []
        some = [self.pieces[look] for look in (self.pieces if looks is None else looks)]
        corners: Pieces = np.concatenate([pieces_of(()), *some]).reshape(-1, 2)
        if not len(corners):
            raise self.wrong(f"the {name} is missing")
        found, nearest = _nearest(np.array(points), corners)
        errors = found * MM_PER_PT
        worst = int(errors.argmax())
        if errors[worst] > TOLERANCE_MM:
            x, y = points[worst]
            raise self.wrong(
                f"the {name} should have a corner at ({x:.2f}, {y:.2f}) pt, "
                f"and the nearest in the file lies {errors[worst]:.3f} mm away"
            )
        self.points += len(points)
        self.largest = max(self.largest, float(errors[worst]))
        return [(float(x), float(y)) for x, y in corners[nearest]]

    def _length(self, name: str, a: Point, b: Point, true_pt: float) -> float:
        """Error of a length in mm."""
        error = abs(math.dist(a, b) - true_pt) * MM_PER_PT
        if error > TOLERANCE_MM:
            raise self.wrong(f"{name} is {error:.3f} mm off its length")
        return error


def _nearest(points: Pieces, corners: Pieces) -> tuple[Pieces, Any]:
    """How far the nearest corner is from each point, and which it is."""
    spots: Any = shapely.points(corners)
    tree = shapely.STRtree(spots)
    (_, which), far = tree.query_nearest(shapely.points(points), return_distance=True, all_matches=False)
    return far, which


def _words_of(placed: Placed) -> Iterator[Any]:
    """The lines of words of a print, where they are on its page."""
    for mark in placed.foundation.ink:
        there = written(mark, INCH_PT) if isinstance(mark, Words) else None
        if there is not None:
            yield laid(placed, there)


def _lost_between_parts(pages: Sequence[_SheetRead]) -> Iterator[str]:
    """Words of foundations in parts or enlarged that no page shows; they may have moved off an edge, or grown."""
    parts: dict[tuple[int, int], list[tuple[_SheetRead, Placed]]] = {}
    for page in pages:
        for placed in page.sheet.placed:
            if placed.tile is not None or page.sheet.enlarged > 1:
                parts.setdefault((id(placed.foundation), placed.copy), []).append((page, placed))
    for several in parts.values():
        print_ = several[0][1].foundation
        for mark in print_.ink:
            there = written(mark, INCH_PT) if isinstance(mark, Words) else None
            if there is None or not isinstance(mark, Words):
                continue
            left, top, right, bottom = bounds(words_box(mark))
            enlarged = several[0][0].sheet.enlarged
            # Enlarged numbers also grow in their patches, and then move by up to half of what they have become.
            grown = max(GROWTH) if enlarged > 1 else 1.0
            reach = math.hypot(right - left, bottom - top) * INCH_PT * enlarged * max(1.0, grown - 0.5) + _ASIDE_PT
            if not any(
                one.text == there.text and math.dist(one.at, laid(placed, there).at) <= reach
                for page, placed in several
                for one in page.drawn.words
            ):
                yield f'{print_.block} {print_.section}: none of its parts shows its words "{there.text}"'
