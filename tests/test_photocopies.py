"""A class copies sheets: what black-and-white printers and copiers leave of every line, with all ink and with less.

Method: a page is drawn at 600 dpi, brought to 150 dpi (a coarse copier, a fax), blurred by 0.6 dots and turned into
        black and white at two fifths of full black. Along every line of the sheet it is then asked whether what was
        inked is still black, and how often black and white take turns.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from functools import cache
from itertools import pairwise

import numpy as np
import numpy.typing as npt
import pypdfium2
import pytest
from PIL import Image, ImageFilter

from seamwright.foundation.make import foundations
from seamwright.ink.model import Pen, Stroke, Words
from seamwright.ink.saver import THIN
from seamwright.options import PlanOptions, PrintOptions
from seamwright.piecing.plan import plan
from seamwright.sheet.layout import lay_out
from seamwright.sheet.model import Sheet
from seamwright.sheet.pdf import to_pdf
from support.by_hand import fan

SHARP_DPI, COPY_DPI = 600, 150
BLACK = 0.4
Dots = npt.NDArray[np.bool_]


@dataclass(frozen=True)
class Copied:
    """A page in black and white: as printed sharply, and as copied."""

    sheet: Sheet
    sharp: Dots
    copy: Dots


def copied(sheet: Sheet) -> Copied:
    page = pypdfium2.PdfDocument(to_pdf([sheet], title="t", made_from="m"))[0]
    drawn = page.render(scale=SHARP_DPI / 72, grayscale=True).to_pil().convert("L")
    step = SHARP_DPI // COPY_DPI
    coarse = drawn.resize((drawn.width // step, drawn.height // step), Image.Resampling.BOX)
    blurred = coarse.filter(ImageFilter.GaussianBlur(0.6))
    return Copied(sheet, np.asarray(drawn) < 128, np.asarray(blurred) < 255 * (1 - BLACK))


@cache
def page(less_ink: bool) -> Copied:
    made = plan(fan(6, 6, "beacon fan"), PlanOptions())
    return copied(lay_out([(made, foundations(made))], printing=PrintOptions(effort=1, ink_saver=less_ink))[0])


def along(stroke: Stroke) -> Iterator[tuple[npt.NDArray[np.float64], npt.NDArray[np.float64]]]:
    """Points every 0.24 pt along each side of a stroke, half a dot of the copy apart."""
    for (ax, ay), (bx, by) in pairwise([*stroke.points, *stroke.points[: stroke.closed]]):
        count = int(np.hypot(bx - ax, by - ay) / 0.24) + 1
        share = (np.arange(count) + 0.5) / count
        yield ax + share * (bx - ax), ay + share * (by - ay)


def black(dots: Dots, dpi: int, x: npt.NDArray[np.float64], y: npt.NDArray[np.float64], reach: float) -> Dots:
    """Whether the dots at the points, or one of their neighbours, are black."""
    found = np.zeros(len(x), dtype=bool)
    for dx in (-reach, 0.0, reach):
        for dy in (-reach, 0.0, reach):
            rows = np.clip((y * dpi / 72 + dy).astype(int), 0, dots.shape[0] - 1)
            columns = np.clip((x * dpi / 72 + dx).astype(int), 0, dots.shape[1] - 1)
            found |= dots[rows, columns]
    return found


def survival(page: Copied, pen: Pen) -> float:
    """The share of what a pen has inked that is black in the copy."""
    inked = kept = 0
    for mark in page.sheet.ink:
        if isinstance(mark, Stroke) and mark.pen is pen:
            for x, y in along(mark):
                on = black(page.sharp, SHARP_DPI, x, y, 1.0)
                inked += int(on.sum())
                kept += int((on & black(page.copy, COPY_DPI, x, y, 0.5)).sum())
    assert inked > 500, "there is nothing to look at"
    return kept / inked


def turns_to_the_inch(page: Copied, pen: Pen) -> float:
    """How often black begins anew along the long lines of a pen in the copy, for each inch."""
    starts, inches = 0, 0.0
    for mark in page.sheet.ink:
        if isinstance(mark, Stroke) and mark.pen is pen:
            for x, y in along(mark):
                length = np.hypot(x[-1] - x[0], y[-1] - y[0]) / 72
                if length > 0.3:
                    there = black(page.copy, COPY_DPI, x, y, 0.0)
                    starts += int((there[1:] & ~there[:-1]).sum())
                    inches += length
    assert inches > 1, "there is no long line of that pen"
    return starts / inches


INKS = pytest.mark.parametrize("less_ink", [False, True], ids=["all ink", "ink saver"])
PENS = (Pen.STITCH, Pen.TRIM, Pen.HELPER, Pen.LAID, Pen.RULE)


@INKS
@pytest.mark.parametrize("pen", PENS, ids=[pen.name.lower() for pen in PENS])
def test_lines_survive_a_coarse_copy(pen: Pen, less_ink: bool) -> None:
    least = 0.995 if pen in (Pen.STITCH, Pen.RULE) else 0.92  # ends of dashes turn grey first
    assert survival(page(less_ink), THIN[pen] if less_ink else pen) >= least


def test_a_hairline_would_not_survive() -> None:
    # Two dots of 600 to the inch, 0.24 pt: what this method says of it shows that it can fail.
    grey = Image.new("L", (600, 600), 255)
    grey.paste(0, (300, 0, 302, 600))
    coarse = grey.resize((150, 150), Image.Resampling.BOX).filter(ImageFilter.GaussianBlur(0.6))
    line = Stroke(Pen.RULE, ((36.06, 0.0), (36.06, 72.0)))
    lone = replace(page(False).sheet, ink=(line, line))
    copy = np.asarray(coarse) < 255 * (1 - BLACK)
    assert survival(Copied(lone, np.asarray(grey) < 128, copy), Pen.RULE) < 0.05


@INKS
def test_stitch_trim_and_helper_lines_are_told_apart_in_a_copy(less_ink: bool) -> None:
    pens = [THIN[pen] if less_ink else pen for pen in (Pen.STITCH, Pen.TRIM, Pen.HELPER)]
    stitch, trim, helper = (turns_to_the_inch(page(less_ink), pen) for pen in pens)
    assert stitch < 0.6
    # A dash and its gap are 10 pt and 4 pt long: 7.2 and 18 to the inch.
    assert 5.5 < trim < 9
    assert 12 < helper < 24


def test_less_ink_is_spent() -> None:
    # The share of black of the page; tints, letters and lines alike.
    full, less = (page(less_ink).sharp.mean() for less_ink in (False, True))
    assert less < 0.9 * full


def test_nothing_is_told_by_colour() -> None:
    for less_ink in (False, True):
        for mark in page(less_ink).sheet.ink:
            colour = mark.colour.removeprefix("#")
            assert colour[0:2] == colour[2:4] == colour[4:6]
            if isinstance(mark, Stroke | Words):
                assert colour == "000000"
