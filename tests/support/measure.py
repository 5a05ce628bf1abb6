"""Pages measured as a strict teacher would: what is on the paper, in millimetres, against the block itself.

Where lines should be comes from the block's own points through each foundation's `front` and its place on the
sheet; what the print says of its lines is not asked. Where lines are comes from pictures of the page by engines
that share no code with us, or from the file's operators as MuPDF reads them.

Method for pictures: along a line, where nothing else is near, the darkness across it is summed up and its middle
taken: so the middle of the stroke is measured, not its edges, which engines round to dots each in its own way. A
straight line is then fitted through the middles, and how far its two ends are off counts.
"""

from __future__ import annotations

import math
import subprocess
import tempfile
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from functools import cached_property
from itertools import pairwise
from pathlib import Path

import numpy as np
import numpy.typing as npt
import pymupdf
import pypdfium2
import shapely
from shapely.geometry import LineString, Polygon

from seamwright.foundation.model import Use
from seamwright.geometry import Affine, Point, after, moved
from seamwright.ink.lettering import words_box
from seamwright.ink.model import Stroke, Words
from seamwright.piecing.model import Plan
from seamwright.sheet.model import Placed, Sheet

DPI = 600
MM_PER_PT = 25.4 / 72
REACH_PT = 2.2
"""How far to both sides of a line is looked."""
CLEAR_PT = REACH_PT + 1.2
"""Other ink is at least as far as this from where a line is measured: REACH_PT and half the widest pen."""
OWN_PT = 0.5
"""A piece of line that lies nearer than this all along is the line itself, off its place perhaps."""
STEP_PT = 2.4
LEAST_SPOTS = 3
STITCH_PENS_PT = (0.9, 0.7, 2.7)
"""The usual one, the one that saves ink, the one for the wall."""

Grey = npt.NDArray[np.uint8]
"""Darkness of each dot, 0 white to 255 black, rows from the top."""


# -- pictures ------------------------------------------------------------------------------------------------


def _poppler(pdf: bytes, page: int, dpi: float) -> Grey:
    with tempfile.TemporaryDirectory() as folder:
        out = Path(folder) / "page"
        command = ["pdftoppm", "-r", f"{dpi}", "-gray", "-singlefile", "-f", f"{page + 1}", "-", str(out)]
        subprocess.run(command, input=pdf, check=True)
        return _pgm(out.with_suffix(".pgm").read_bytes())


def _ghostscript(pdf: bytes, page: int, dpi: float) -> Grey:
    with tempfile.TemporaryDirectory() as folder:
        source, out = Path(folder) / "in.pdf", Path(folder) / "page.pgm"
        source.write_bytes(pdf)
        subprocess.run(
            [
                *("gs", "-q", "-dSAFER", "-dNOPAUSE", "-dBATCH", "-sDEVICE=pgmraw", "-dGraphicsAlphaBits=4"),
                *(f"-r{dpi}", f"-dFirstPage={page + 1}", f"-dLastPage={page + 1}", f"-sOutputFile={out}"),
                str(source),
            ],
            check=True,
            stdout=subprocess.DEVNULL,
        )
        return _pgm(out.read_bytes())


def _pgm(data: bytes) -> Grey:
    """A picture in the portable graymap format (Netpbm, "P5")."""
    words: list[bytes] = []
    at = 0
    while len(words) < 4:
        end = data.index(b"\n", at)
        words += data[at:end].split(b"#")[0].split()
        at = end + 1
    width, height = int(words[1]), int(words[2])
    return 255 - np.frombuffer(data, dtype=np.uint8, offset=at).reshape(height, width)


def _pdfium(pdf: bytes, page: int, dpi: float) -> Grey:
    # Its usual call stretches the page to whole dots, by 1 in 6600 here; this one takes a scale as it is.
    from ctypes import byref

    raw = pypdfium2.raw
    shown = pypdfium2.PdfDocument(pdf)[page]
    wide, high = (math.ceil(size * dpi / 72 - 1e-6) for size in shown.get_size())
    bitmap = pypdfium2.PdfBitmap.new_native(wide, high, raw.FPDFBitmap_Gray)
    bitmap.fill_rect((255, 255, 255, 255), 0, 0, wide, high)
    matrix, clip = raw.FS_MATRIX(dpi / 72, 0, 0, dpi / 72, 0, 0), raw.FS_RECTF(0, 0, wide, high)
    raw.FPDF_RenderPageBitmapWithMatrix(bitmap, shown, byref(matrix), byref(clip), raw.FPDF_ANNOT)
    return 255 - bitmap.to_numpy().reshape(high, -1)[:, :wide].copy()


def _mupdf(pdf: bytes, page: int, dpi: float) -> Grey:
    seen = pymupdf.open(stream=pdf)[page].get_pixmap(dpi=round(dpi), colorspace=pymupdf.csGRAY)
    return 255 - np.frombuffer(seen.samples, dtype=np.uint8).reshape(seen.height, seen.stride)[:, : seen.width]


ENGINES: dict[str, Callable[[bytes, int, float], Grey]] = {
    "poppler": _poppler,
    "pdfium": _pdfium,
    "MuPDF": _mupdf,
    "Ghostscript": _ghostscript,
}
"""Each makes a picture of one page (from 0) of a PDF."""
PROGRAMS = {"poppler": "pdftoppm", "Ghostscript": "gs"}
"""Engines that are programs of their own, which a machine may lack."""


# -- where lines should be -----------------------------------------------------------------------------------


def true_lines(plan: Plan, section_name: str) -> Iterator[tuple[Point, ...]]:
    """Every line to stitch on of a section, border and seams, by the block: straight runs in one, inches."""
    block = plan.block
    inside = set(next(s for s in plan.sections if s.name == section_name).patches)
    edges = [block.edge_points(n) for n, e in enumerate(block.edges) if e.left in inside or e.right in inside]
    runs = [list(points) for points in edges]
    merged = True
    while merged:
        merged = False
        for i, one in enumerate(runs):
            for j, other in enumerate(runs):
                joined = _joined(one, other) if i != j else None
                if joined:
                    runs[i] = joined
                    del runs[j]
                    merged = True
                    break
            if merged:
                break
    yield from (tuple(run) for run in runs)


def _joined(one: list[Point], other: list[Point]) -> list[Point] | None:
    """Two straight runs as one if the second carries on where the first ends."""
    if len(one) != 2 or len(other) != 2:
        return None
    for (a, b), (c, d) in ((r, s) for r in (one, one[::-1]) for s in (other, other[::-1])):
        if b == c and a != d:
            turn = (b[0] - a[0]) * (d[1] - c[1]) - (b[1] - a[1]) * (d[0] - c[0])
            ahead = (b[0] - a[0]) * (d[0] - c[0]) + (b[1] - a[1]) * (d[1] - c[1])
            if ahead > 0 and abs(turn) < 1e-6 * ahead:
                return [a, d]
    return None


def page_affine(placed: Placed) -> Affine:
    """From the block's front view to the page.

    Raises:
        AssertionError: a print to sew on is not a mirror image of the block at true size, or another one is.
    """
    a, b, c, d, _, _ = placed.foundation.front
    turned = -1.0 if placed.foundation.use is Use.SEW else 1.0
    assert math.isclose(a * d - b * c, turned, abs_tol=1e-9), "mirrored or not, against its use"
    assert math.isclose(math.hypot(a, b), 1.0, abs_tol=1e-9) and math.isclose(math.hypot(c, d), 1.0, abs_tol=1e-9)
    return after(placed.foundation.front, placed.affine)


def lines_on_page(plan: Plan, placed: Placed) -> Iterator[tuple[str, tuple[Point, ...]]]:
    """(name, points on the page) of each line to stitch on of a print; of a part only what it shows."""
    affine = page_affine(placed)
    window = _window(placed)
    for line in true_lines(plan, placed.foundation.section):
        points = tuple(moved(affine, p) for p in line)
        (ax, ay), (bx, by) = line[0], line[-1]
        name = f"{placed.foundation.section} ({ax:.2f}, {ay:.2f})-({bx:.2f}, {by:.2f})"
        if window is None:
            yield name, points
            continue
        for part in shapely.get_parts(LineString(points).intersection(window)):
            if isinstance(part, LineString) and part.length > 1e-6:
                yield name, tuple((float(x), float(y)) for x, y in part.coords)


def _window(placed: Placed) -> Polygon | None:
    """What a part shows, on its page."""
    if placed.tile is None:
        return None
    left, top, right, bottom = placed.tile.window
    turn, scale = math.radians(-placed.tile.angle_deg), math.hypot(*placed.affine[:2])
    cos, sin = math.cos(turn) / scale, math.sin(turn) / scale
    back: Affine = (cos, sin, -sin, cos, 0.0, 0.0)
    corners = [(left, top), (right, top), (right, bottom), (left, bottom)]
    return Polygon([moved(placed.affine, moved(back, p)) for p in corners])


# -- where lines are -----------------------------------------------------------------------------------------


@dataclass(frozen=True)
class Fit:
    """A line as found: how far off its first and last measured spot are, mm, and at how many it was measured."""

    first_mm: float
    last_mm: float
    spots: int

    @property
    def error_mm(self) -> float:
        return max(abs(self.first_mm), abs(self.last_mm))


@dataclass(frozen=True)
class Page:
    """A picture of a sheet, to be measured.

    Attributes:
        grey: the picture. sheet: what else is on it, to keep clear of.
        dpi: dots to an inch of true paper.
        printed_at: scale at which a print dialog has printed it, about the middle of the sheet.
    """

    grey: Grey
    sheet: Sheet
    dpi: float = DPI
    printed_at: float = 1.0

    @cached_property
    def _near(self) -> tuple[shapely.STRtree, npt.NDArray[np.float64]]:
        """Everything drawn, and as rows (x1, y1, x2, y2) where it is a straight piece, else nan."""
        shapes: list[object] = []
        rows: list[tuple[float, ...]] = []
        for mark in self.sheet.ink:
            if isinstance(mark, Stroke):
                pieces = [s for s in pairwise([*mark.points, *mark.points[: mark.closed]]) if s[0] != s[1]]
                shapes += [LineString(piece) for piece in pieces]
                rows += [(*a, *b) for a, b in pieces]
            elif isinstance(mark, Words) or mark.colour == "#000000":
                # Tints are left out: they end where lines run, and what they add on either side is taken off below.
                rings = [words_box(mark, 1.0)] if isinstance(mark, Words) else [r for r in mark.rings if len(r) > 2]
                shapes += [Polygon(r) for r in rings]
                rows += [(math.nan,) * 4] * len(rings)
        return shapely.STRtree(shapes), np.array(rows).reshape(-1, 4)

    def clear_spots(self, line: Sequence[Point]) -> npt.NDArray[np.float64]:
        """Places along a line where nothing but the line itself is near: rows (distance, x, y, unit direction)."""
        spots = []
        run = 0.0
        for a, b in pairwise(line):
            length = math.dist(a, b)
            if length > 0:
                ux, uy = (b[0] - a[0]) / length, (b[1] - a[1]) / length
                count = max(1, min(160, round(length / STEP_PT)))
                spots += [
                    (run + s, a[0] + ux * s, a[1] + uy * s, ux, uy)
                    for s in (length * (k + 0.5) / count for k in range(count))
                ]
                run += length
        rows = np.array(spots).reshape(-1, 5)
        tree, pieces = self._near
        which, what = tree.query(shapely.points(rows[:, 1:3]), predicate="dwithin", distance=CLEAR_PT)
        ux, uy = rows[which, 3], rows[which, 4]
        off = [
            np.abs((pieces[what, k] - rows[which, 1]) * uy - (pieces[what, k + 1] - rows[which, 2]) * ux)
            for k in (0, 2)
        ]
        # Pieces of the line itself, a hair off perhaps, or that carry it on; those of a gentle curve turn a little.
        own = np.maximum(*off) < OWN_PT
        return rows[np.setdiff1d(np.arange(len(rows)), which[~own])]

    def offsets(
        self, spots: npt.NDArray[np.float64], pen_pt: float, reach_pt: float = REACH_PT
    ) -> npt.NDArray[np.float64]:
        """How far off the middle of a line is at each spot, mm, to its right hand; nan where nothing is drawn."""
        across = np.linspace(-reach_pt, reach_pt, round(2 * reach_pt * self.dpi / 18.0) + 1)
        x = spots[:, 1, None] - spots[:, 4, None] * across
        y = spots[:, 2, None] + spots[:, 3, None] * across
        seen = self._darkness(x, y)
        # A tint of the patch on one side or both is no part of the line.
        seen = np.clip(seen - np.maximum(seen[:, :6].mean(axis=1), seen[:, -6:].mean(axis=1))[:, None] - 0.02, 0, 1)
        weight = seen.sum(axis=1)
        with np.errstate(invalid="ignore", divide="ignore"):
            middle = (seen * across).sum(axis=1) / weight * MM_PER_PT
        return np.where(weight * (across[1] - across[0]) > 0.4 * pen_pt * self.printed_at, middle, np.nan)

    def fit(self, line: Sequence[Point], pen_pt: float) -> Fit | None:
        """A line fitted where it can be measured; None if other ink is too near all along it.

        An error of infinity says that the line is not there.
        """
        spots = self.clear_spots(line)
        if len(spots) < LEAST_SPOTS:
            return None
        offs = self.offsets(spots, pen_pt)
        there = ~np.isnan(offs)
        if there.sum() < max(LEAST_SPOTS, 0.9 * len(spots)):
            return Fit(math.inf, math.inf, int(there.sum()))
        along, offs = spots[there, 0], offs[there]
        if len(line) > 2:
            # A curve is no straight line: the middle of each few spots stands for itself.
            few = [float(np.median(part)) for part in np.array_split(offs, max(1, len(offs) // 5))]
            return Fit(max(few, key=abs), min(few, key=abs), len(offs))
        slope, start = np.polyfit(along, offs, 1)
        return Fit(float(start + slope * along[0]), float(start + slope * along[-1]), len(offs))

    def tick(self, at: Point, ahead: Point) -> float:
        """How far from a place along a direction the middle of a tick across it is, mm."""
        places = [k * s for k in np.arange(1.3, 5.4, 0.1) for s in (-1.0, 1.0)]
        rows = np.array([(0.0, at[0] - ahead[1] * k, at[1] + ahead[0] * k, -ahead[1], ahead[0]) for k in places])
        # A line may come near or cross: ticks are looked for close by, and most places count.
        offs = -self.offsets(rows, 0.6, 1.4)
        offs = offs[~np.isnan(offs)]
        assert len(offs) >= 10, "no tick there"
        return float(np.median(offs))

    def length_mm(self, a: Point, b: Point) -> float:
        """Distance of two ticks or crosses that stand for the ends of a line; places as on the sheet."""
        (ax, ay), (bx, by) = (self._printed(p) for p in (a, b))
        ahead = ((bx - ax) / math.dist((ax, ay), (bx, by)), (by - ay) / math.dist((ax, ay), (bx, by)))
        apart = math.dist((ax, ay), (bx, by)) * MM_PER_PT
        return apart + self.tick((bx, by), ahead) - self.tick((ax, ay), ahead)

    def _printed(self, point: Point) -> Point:
        """Where a place of the sheet is on the print."""
        w, h = self.sheet.width_pt / 2, self.sheet.height_pt / 2
        return (w + self.printed_at * (point[0] - w), h + self.printed_at * (point[1] - h))

    def _darkness(self, x: npt.NDArray[np.float64], y: npt.NDArray[np.float64]) -> npt.NDArray[np.float64]:
        """Darkness from 0 to 1 at places in points, between the middles of dots."""
        column, row = x * self.dpi / 72 - 0.5, y * self.dpi / 72 - 0.5
        high, wide = self.grey.shape
        c, r = np.clip(np.floor(column).astype(int), 0, wide - 2), np.clip(np.floor(row).astype(int), 0, high - 2)
        u, v = column - c, row - r
        g = self.grey
        top = (1 - u) * g[r, c] + u * g[r, c + 1]
        below = (1 - u) * g[r + 1, c] + u * g[r + 1, c + 1]
        return ((1 - v) * top + v * below) / 255.0


# -- a whole sheet -------------------------------------------------------------------------------------------


@dataclass(frozen=True)
class Errors:
    """The largest errors of a page, mm, each with the name of what is off most.

    Attributes:
        squares: sides of check squares, opposite sides apart. lines: long lines.
        stitches: fitted stitch lines. measured, lines_in_all: how many of these could be measured.
    """

    squares: tuple[float, str] = (0.0, "")
    lines: tuple[float, str] = (0.0, "")
    stitches: tuple[float, str] = (0.0, "")
    measured: int = 0
    lines_in_all: int = 0

    def __or__(self, other: Errors) -> Errors:
        """The larger of both."""
        return Errors(
            max(self.squares, other.squares),
            max(self.lines, other.lines),
            max(self.stitches, other.stitches),
            self.measured + other.measured,
            self.lines_in_all + other.lines_in_all,
        )


def errors_of(page: Page, plan: Plan) -> Errors:
    """Everything on a page that proves its scale or is stitched on, measured."""
    sheet = page.sheet
    squares = [
        (abs(square_mm(page, square, upright=up) - true), f"{true:.1f} mm square")
        for square, true in zip(sheet.check_squares_pt, (25.4, 50.0), strict=True)
        for up in (False, True)
    ]
    lines = [(abs(page.length_mm(*line) - _rule_mm(line)), "long line") for line in sheet.check_lines_pt]
    stitches = [(0.0, "")]
    measured = count = 0
    for placed in sheet.placed:
        for name, line in lines_on_page(plan, placed):
            count += 1
            if found := page.fit(line, min(STITCH_PENS_PT)):
                measured += 1
                stitches.append((found.error_mm, name))
    return Errors(max(squares), max(lines), max(stitches), measured, count)


def _rule_mm(line: tuple[Point, Point]) -> float:
    """The whole inches that a long line stands for: an inch is 25.4 mm, a point 1/72 in."""
    return 25.4 * round(math.dist(*line) / 72)


def square_mm(page: Page, square: tuple[float, float, float], *, upright: bool) -> float:
    """How far two opposite sides of a check square are apart: the upper and lower, upright the left and right."""
    x, y, side = square
    near, far = ((x, y), (x, y + side)), ((x + side, y), (x + side, y + side))
    if not upright:
        near, far = ((x, y), (x + side, y)), ((x, y + side), (x + side, y + side))
    middles = []
    for line in (near, far):
        offs = page.offsets(page.clear_spots(line), 0.6)
        offs = offs[~np.isnan(offs)]
        assert len(offs), "no side of a check square can be measured"
        middles.append(float(np.median(offs)))
    # Right of a line that runs down is to the left; right of one that runs across is below.
    sense = -1.0 if upright else 1.0
    return side * MM_PER_PT + sense * (middles[1] - middles[0])


# -- the file's own operators --------------------------------------------------------------------------------


def stitched_by_mupdf(pdf: bytes, page: int) -> npt.NDArray[np.float64]:
    """Ends of all pieces of line in a stitch pen, as MuPDF reads a page's operators, shape (n, 2), y down."""
    found = []
    for path in pymupdf.open(stream=pdf)[page].get_drawings():
        if "s" in path["type"] and any(abs(path["width"] - width) < 1e-3 for width in STITCH_PENS_PT):
            for item in path["items"]:
                corners = item[1:3] if item[0] == "l" else (item[1].quad if item[0] == "re" else item[1])
                found += [(p.x, p.y) for p in corners]
    return np.array(found, dtype=np.float64).reshape(-1, 2)


def corner_error_mm(pdf: bytes, number: int, sheet: Sheet, plan: Plan) -> tuple[float, str]:
    """The farthest that any corner of a block's lines lies from the nearest point of the stitch pen in the file."""
    drawn = stitched_by_mupdf(pdf, number)
    worst = (0.0, "")
    for placed in sheet.placed:
        whole = placed.tile is None
        window = _window(placed)
        for name, line in lines_on_page(plan, placed):
            corners = [p for p in line if whole or (window is not None and window.contains(shapely.Point(p)))]
            if corners:
                gaps = np.hypot(*(np.array(corners)[:, None, :] - drawn[None, :, :]).transpose(2, 0, 1)).min(axis=1)
                worst = max(worst, (float(gaps.max()) * MM_PER_PT, name))
    return worst
