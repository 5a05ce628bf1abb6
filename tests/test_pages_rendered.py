"""What is really on the page: three renderers at 600 dots per inch, measured on the middle of each line."""

from __future__ import annotations

import math
import shutil
import subprocess
from functools import cache
from itertools import pairwise
from pathlib import Path

import numpy as np
import pymupdf
import pypdfium2
import pytest
from PIL import Image

from seamwright.foundation.make import foundations
from seamwright.geometry import Point, moved
from seamwright.ink.lettering import words_box
from seamwright.ink.model import Stroke, Words
from seamwright.piecing.plan import plan
from seamwright.sheet.layout import lay_out
from seamwright.sheet.model import Sheet
from seamwright.sheet.pdf import to_pdf
from support.by_hand import fan

DPI = 600
TOLERANCE_MM = 0.05
MM_PER_DOT = 25.4 / DPI

poppler = pytest.mark.skipif(shutil.which("pdftoppm") is None, reason="poppler is not installed")
ENGINES = [
    pytest.param("poppler", marks=poppler),
    "pdfium",
    "MuPDF",
]
PAPERS = ["letter", pytest.param("a4", marks=pytest.mark.long)]


@cache
def sheet_and_pdf(paper: str) -> tuple[Sheet, bytes]:
    planned = plan(fan(6, 6, "fan"))
    sheets = lay_out([(planned, foundations(planned))], paper=paper)
    return sheets[0], to_pdf(sheets[:1], title="t", made_from="m")


@cache
def picture(engine: str, paper: str, folder: Path) -> np.ndarray:
    """Darkness of each dot, 0 to 1, rows from the top."""
    data = sheet_and_pdf(paper)[1]
    if engine == "poppler":
        (folder / "page.pdf").write_bytes(data)
        subprocess.run(
            ["pdftoppm", "-r", str(DPI), "-gray", "-singlefile", str(folder / "page.pdf"), str(folder / "page")],
            check=True,
        )
        Image.MAX_IMAGE_PIXELS = None
        grey = np.asarray(Image.open(folder / "page.pgm"))
    elif engine == "pdfium":
        grey = np.asarray(
            pypdfium2.PdfDocument(data)[0].render(scale=DPI / 72, grayscale=True).to_pil().convert("L")
        )
    else:
        seen = pymupdf.open(stream=data)[0].get_pixmap(dpi=DPI, colorspace=pymupdf.csGRAY)
        grey = np.frombuffer(seen.samples, dtype=np.uint8).reshape(seen.height, seen.stride)[:, : seen.width]
    return 1.0 - grey.astype(np.float64) / 255.0


@pytest.fixture(scope="module")
def folder(tmp_path_factory: pytest.TempPathFactory) -> Path:
    return tmp_path_factory.mktemp("pages")


def off_mm(dark: np.ndarray, a: Point, b: Point, sheet: Sheet) -> float | None:
    """How far a drawn line lies from where segment ab should be, at right angles, on clear stretches; None if none.

    A stretch is clear if no other line and no words come within 3 pt of the strip that is looked at.
    """
    reach = 3.0
    length = math.dist(a, b)
    ux, uy = (b[0] - a[0]) / length, (b[1] - a[1]) / length
    offs = []
    for k in range(1, 40):
        x, y = a[0] + ux * length * k / 40, a[1] + uy * length * k / 40
        if not _clear((x, y), (a, b), sheet, reach + 3.0):
            continue
        steps = np.arange(-reach, reach, 0.02)
        columns = np.floor((x - uy * steps) * DPI / 72).astype(int)
        rows = np.floor((y + ux * steps) * DPI / 72).astype(int)
        seen = dark[rows, columns]
        if seen.sum() < 5:
            continue  # a gap between dashes
        offs.append(float((steps * seen).sum() / seen.sum()))
    return abs(float(np.median(offs))) * 25.4 / 72 if len(offs) >= 3 else None


def _clear(point: Point, own: tuple[Point, Point], sheet: Sheet, reach: float) -> bool:
    for mark in sheet.ink:
        if isinstance(mark, Words):
            xs, ys = zip(*words_box(mark, 1.0), strict=True)
            if min(xs) - reach < point[0] < max(xs) + reach and min(ys) - reach < point[1] < max(ys) + reach:
                return False
        elif isinstance(mark, Stroke):
            points = [*mark.points, *mark.points[: mark.closed]]
            for p, q in pairwise(points):
                if _distance(point, p, q) < reach and max(_distance(p, *own), _distance(q, *own)) > 0.02:
                    return False
    return True


def _distance(point: Point, a: Point, b: Point) -> float:
    length = math.dist(a, b)
    if length == 0:
        return math.dist(point, a)
    share = ((point[0] - a[0]) * (b[0] - a[0]) + (point[1] - a[1]) * (b[1] - a[1])) / length**2
    share = min(1.0, max(0.0, share))
    return math.dist(point, (a[0] + share * (b[0] - a[0]), a[1] + share * (b[1] - a[1])))


@pytest.mark.parametrize("paper", PAPERS)
@pytest.mark.parametrize("engine", ENGINES)
def test_check_squares_measure_one_inch_and_five_centimetres(engine: str, paper: str, folder: Path) -> None:
    """An inch is 25.4 mm exactly, a point 1/72 in (ISO 32000-1, 8.3.2.3)."""
    sheet, _ = sheet_and_pdf(paper)
    dark = picture(engine, paper, folder)
    for (x, y, side), true_mm in zip(sheet.check_squares_pt, (25.4, 50.0), strict=True):
        # Along a row and a column through the square where nothing else lies: near its far corner.
        across = _edges(dark[int((y + side - 3.5) * DPI / 72), :], x, x + side)
        down = _edges(dark[:, int((x + side - 3.5) * DPI / 72)], y, y + side)
        assert (across[1] - across[0]) * MM_PER_DOT == pytest.approx(true_mm, abs=TOLERANCE_MM)
        assert (down[1] - down[0]) * MM_PER_DOT == pytest.approx(true_mm, abs=TOLERANCE_MM)


def _edges(line: np.ndarray, first: float, last: float) -> tuple[float, float]:
    """Middles of the two lines that a row of dots crosses near two places given in points."""
    middles = []
    for place in (first, last):
        low = int((place - 2.0) * DPI / 72)
        part = line[low : int((place + 2.0) * DPI / 72)]
        assert part.sum() > 1, "no line there"
        middles.append(low + float((np.arange(len(part)) * part).sum() / part.sum()))
    return middles[0], middles[1]


@pytest.mark.parametrize("paper", PAPERS)
@pytest.mark.parametrize("engine", ENGINES)
def test_page_and_every_line_lie_where_they_should(engine: str, paper: str, folder: Path) -> None:
    sheet, _ = sheet_and_pdf(paper)
    dark = picture(engine, paper, folder)
    # ANSI/ASME Y14.1 and ISO 216; engines round a part of a dot up or down
    assert dark.shape == pytest.approx((sheet.height_pt * DPI / 72, sheet.width_pt * DPI / 72), abs=1.5)
    lines = list(sheet.check_lines_pt)
    for placed in sheet.placed:
        ring = placed.foundation.stitch_outline
        for a, b in (*placed.foundation.seams, *zip(ring, ring[1:] + ring[:1], strict=True)):
            lines.append((moved(placed.affine, a), moved(placed.affine, b)))
    offs = [off for a, b in lines if (off := off_mm(dark, a, b, sheet)) is not None]
    assert len(offs) >= len(lines) / 2
    assert max(offs) <= TOLERANCE_MM
