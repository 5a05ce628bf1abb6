"""The finished file read back and measured before anyone prints it.

Knows:  the drawing operators of a page, the lines they draw, where the corners of those lines lie.
Leaves: whether a foundation is the right one (foundation, proof); here paper is held against the sheets' values.
Units:  points in, millimetres in what is said; a point is 1/72 in (ISO 32000-1, 8.3.2.3), an inch 25.4 mm.
Method: the content streams are followed operator by operator (q, Q, cm and path construction, ISO 32000-1, 8.4 and
        8.5) and the points of every stroked line are kept. Each thing that must be there is looked for among them:
        its nearest point is where it is, and how far that lies from where it should be is the error. Lengths that
        the standards fix (1 in, 5 cm, 6 in) and the lengths of seams in inches are measured between points found.
Limits: numbers in a file are rounded to cairo's grid of 1/256 pt, 0.0014 mm.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from io import BytesIO
from typing import Any

import numpy as np
import numpy.typing as npt
from pypdf import PdfReader

from seamwright.errors import ProofError, fail
from seamwright.geometry import IDENTITY, Point, after, moved
from seamwright.sheet.furniture import FIVE_CM_PT, INCH_PT, RULES
from seamwright.sheet.model import Placed, Sheet
from seamwright.sheet.nest import rotation

TOLERANCE_MM = 0.05
MM_PER_PT = 25.4 / 72


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
    """

    sheets: int
    points: int
    largest_error_mm: float
    squares_error_mm: float
    lines_error_mm: float
    seams_error_mm: float


def read_back(pdf: bytes, sheets: Sequence[Sheet]) -> Measured:
    """Measures a finished file against the sheets it was made from.

    Raises:
        ProofError: something is missing, or lies or measures more than 0.05 mm off; the message names it.
    """
    pages = PdfReader(BytesIO(pdf)).pages
    if len(pages) != len(sheets):
        raise _off(f"the file has {len(pages)} pages for {len(sheets)} sheets")
    found = [_Page(page, sheet) for page, sheet in zip(pages, sheets, strict=True)]
    for page in found:
        page.measure()
    return Measured(
        sheets=len(found),
        points=sum(page.points for page in found),
        largest_error_mm=max((page.largest for page in found), default=0.0),
        squares_error_mm=max((page.squares for page in found), default=0.0),
        lines_error_mm=max((page.lines for page in found), default=0.0),
        seams_error_mm=max((page.seams for page in found), default=0.0),
    )


class _Page:
    """One page of the file against its sheet."""

    def __init__(self, page: Any, sheet: Sheet) -> None:
        self.sheet, self.page = sheet, page
        self.points, self.largest, self.squares, self.lines, self.seams = 0, 0.0, 0.0, 0.0, 0.0
        self.corners = stroked_points(page.get_contents().get_data(), sheet.height_pt)

    def measure(self) -> None:
        """All that must be there, one thing after the other."""
        self._size()
        sheet = self.sheet
        if not any(math.isclose(side, INCH_PT) for *_, side in sheet.check_squares_pt):
            raise _off(f"sheet {sheet.number} has no check square of 1 in")
        if not any(math.isclose(side, FIVE_CM_PT) for *_, side in sheet.check_squares_pt):
            raise _off(f"sheet {sheet.number} has no check square of 5 cm")
        if len(sheet.check_lines_pt) < 2:
            raise _off(f"sheet {sheet.number} has no long line each way")
        for x, y, side in sheet.check_squares_pt:
            name = "1 in check square" if math.isclose(side, INCH_PT) else "5 cm check square"
            ring = self._find(name, [(x, y), (x + side, y), (x + side, y + side), (x, y + side)])
            true = INCH_PT if math.isclose(side, INCH_PT) else FIVE_CM_PT
            for a, b in zip(ring, ring[1:] + ring[:1], strict=True):
                self.squares = max(self.squares, self._length(f"a side of the {name}", a, b, true))
        for line in sheet.check_lines_pt:
            a, b = self._find("long line", line)
            true = min((rule.length_pt for rule in RULES), key=lambda pt: abs(pt - math.dist(*line)))
            self.lines = max(self.lines, self._length("a long line", a, b, true))
        for placed in sheet.placed:
            self._foundation(placed)
        self._longest_seam()

    def _size(self) -> None:
        box = [float(side) for side in self.page.mediabox]
        wanted = [0.0, 0.0, self.sheet.width_pt, self.sheet.height_pt]
        worst = max(abs(a - b) for a, b in zip(box, wanted, strict=True)) * MM_PER_PT
        if worst > TOLERANCE_MM:
            raise _off(f"sheet {self.sheet.number} is {worst:.3f} mm off its size")
        if int(self.page.get("/Rotate", 0)) % 360 or float(self.page.get("/UserUnit", 1)) != 1:
            raise _off(f"sheet {self.sheet.number} is rotated or has a unit of its own")

    def _foundation(self, placed: Placed) -> None:
        """Every corner of a print, and that it is neither scaled nor turned over."""
        name = f"{placed.foundation.block} {placed.foundation.section}"
        a, b, c, d, _, _ = placed.affine
        if max(abs(a - d), abs(b + c), abs(math.hypot(a, b) - INCH_PT)) > 1e-9:
            raise _off(f"sheet {self.sheet.number}: {name} is scaled or turned over")
        print_ = placed.foundation
        for what, points in (
            ("trim line", print_.trim_outline),
            ("stitch line", print_.stitch_outline),
            ("seam", tuple(p for seam in print_.seams for p in seam)),
            ("match mark", tuple(p for mark in print_.marks for p in mark)),
        ):
            shown = [moved(placed.affine, p) for p in points if _shown(placed, p)]
            self._find(f"{name}, {what}", shown)

    def _longest_seam(self) -> None:
        """One long seam of the sheet, its length against the inches of its foundation."""
        stretches = [
            (math.dist(a, b) * INCH_PT, placed, a, b)
            for placed in self.sheet.placed
            for ring in (placed.foundation.stitch_outline,)
            for a, b in (*placed.foundation.seams, *zip(ring, ring[1:] + ring[:1], strict=True))
            if _shown(placed, a) and _shown(placed, b)
        ]
        if stretches:
            true, placed, a, b = max(stretches, key=lambda s: s[0])
            name = f"{placed.foundation.block} {placed.foundation.section}, its longest seam"
            first, last = self._find(name, [moved(placed.affine, a), moved(placed.affine, b)])
            self.seams = self._length(name, first, last, true)

    def _find(self, name: str, points: Sequence[Point]) -> list[Point]:
        """Where each point is on the page."""
        if not points:
            return []
        if not len(self.corners):
            raise _off(f"sheet {self.sheet.number} is empty, so its {name} is missing")
        wanted = np.array(points)
        gaps = np.hypot(*(wanted[:, None, :] - self.corners[None, :, :]).transpose(2, 0, 1))
        nearest = gaps.argmin(axis=1)
        errors = gaps[np.arange(len(points)), nearest] * MM_PER_PT
        worst = int(errors.argmax())
        if errors[worst] > TOLERANCE_MM:
            x, y = points[worst]
            raise _off(
                f"sheet {self.sheet.number}: the {name} should have a corner at ({x:.2f}, {y:.2f}) pt, "
                f"and the nearest in the file lies {errors[worst]:.3f} mm away"
            )
        self.points += len(points)
        self.largest = max(self.largest, float(errors[worst]))
        return [(float(x), float(y)) for x, y in self.corners[nearest]]

    def _length(self, name: str, a: Point, b: Point, true_pt: float) -> float:
        """Error of a length in mm."""
        error = abs(math.dist(a, b) - true_pt) * MM_PER_PT
        if error > TOLERANCE_MM:
            raise _off(f"sheet {self.sheet.number}: {name} is {error:.3f} mm off its length")
        return error


def _shown(placed: Placed, point: Point) -> bool:
    """Whether a point of a foundation lies well inside the part of it that the page shows."""
    if placed.tile is None:
        return True
    x, y = moved(rotation(placed.tile.angle_deg), (point[0] * INCH_PT, point[1] * INCH_PT))
    left, top, right, bottom = placed.tile.window
    return left + 0.01 < x < right - 0.01 and top + 0.01 < y < bottom - 0.01


def stroked_points(content: bytes, height_pt: float) -> npt.NDArray[np.float64]:
    """Corners and ends of all stroked lines of a page, shape (n, 2), points from its top left corner, y down."""
    found = [point for path in stroked_paths(content) for point in path]
    points = np.array(found, dtype=np.float64).reshape(-1, 2)
    points[:, 1] = height_pt - points[:, 1]
    return np.unique(points, axis=0)


def stroked_paths(content: bytes) -> Iterator[list[Point]]:
    """The points of each stroked subpath in the page's own space (y up)."""
    matrix, stack = IDENTITY, []
    path: list[list[Point]] = []
    numbers: list[float] = []
    for token in _tokens(content):
        if isinstance(token, float):
            numbers.append(token)
            continue
        if token == b"m":
            path.append([moved(matrix, (numbers[-2], numbers[-1]))])
        elif token in (b"l", b"c", b"v", b"y"):
            path[-1].append(moved(matrix, (numbers[-2], numbers[-1])))
        elif token == b"re":
            x, y, width, height = numbers[-4:]
            corners = ((x, y), (x + width, y), (x + width, y + height), (x, y + height))
            path.append([moved(matrix, p) for p in corners])
        elif token == b"cm":
            a, b, c, d, e, f = numbers[-6:]
            matrix = after((a, b, c, d, e, f), matrix)
        elif token == b"q":
            stack.append(matrix)
        elif token == b"Q":
            matrix = stack.pop() if stack else IDENTITY
        elif token in _PAINT:
            if token in _STROKE:
                yield from path
            path = []
        numbers.clear()


_STROKE = (b"S", b"s", b"B", b"B*", b"b", b"b*")
_PAINT = (*_STROKE, b"f", b"F", b"f*", b"n")


def _tokens(content: bytes) -> Iterable[float | bytes]:
    """Numbers and operators; names, strings and arrays come as operators that mean nothing here."""
    for word in content.replace(b"[", b" ").replace(b"]", b" ").split():
        try:
            yield float(word)
        except ValueError:
            yield word


def _off(what: str) -> ProofError:
    error = fail(
        ProofError,
        "read-back",
        f"The finished file was read back and {what}",
        "Nothing was written; please report it with the drawing",
    )
    assert isinstance(error, ProofError)
    return error
