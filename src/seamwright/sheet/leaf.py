"""A page of the finished file as it was read: what it draws, its size, and that it holds its ink and nothing else.

Knows:  what is asked of every page alike, of words and pictures or of foundations.
Leaves: what is measured on foundations (readback), how ink is found again (aslaid), operators (operators).
Units:  points from the page's top left corner; millimetres in what is said.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from seamwright.errors import SeamwrightError, read_back_wrong
from seamwright.geometry import Point
from seamwright.ink.page import Page
from seamwright.sheet.aslaid import MM_PER_PT, TOLERANCE_MM, area_faults, line_faults, word_faults
from seamwright.sheet.cover import pieces_of
from seamwright.sheet.model import Sheet
from seamwright.sheet.operators import Look, drawn_on


class LeafRead:
    """One page of the file against what was laid on it.

    Args:
        page: of pypdf. laid: what it was made from. name: such as "sheet 3", for faults.
    """

    def __init__(self, page: Any, laid: Page | Sheet, name: str) -> None:
        self.page, self.laid, self.name = page, laid, name
        self.drawn = drawn_on(page, laid.height_pt)
        by_look: dict[Look, list[tuple[Point, ...]]] = {}
        for line in self.drawn.lines:
            by_look.setdefault(line.look, []).append(line.points)
        self.pieces = {look: pieces_of(lines) for look, lines in by_look.items()}

    def measure(self) -> None:
        """Its size, then that it shows all its ink and nothing besides.

        Raises:
            ProofError: it does not.
        """
        self.check_size()
        for fault in self.faults():
            raise self.wrong(fault)

    def check_size(self) -> None:
        """That a reader shows it as large as it was laid out."""
        wanted = [0.0, 0.0, self.laid.width_pt, self.laid.height_pt]
        for box in (self.page.mediabox, self.page.cropbox):
            worst = max(abs(float(a) - b) for a, b in zip(box, wanted, strict=True)) * MM_PER_PT
            if worst > TOLERANCE_MM:
                raise self.wrong(f"it is {worst:.3f} mm off its size")
        if int(self.page.get("/Rotate", 0)) % 360:
            raise self.wrong("it is rotated by a flag")
        if float(self.page.get("/UserUnit", 1)) != 1:
            raise self.wrong("it has a unit of its own, by which readers scale it")

    def faults(self) -> Iterator[str]:
        """What of its ink it lacks, and what it draws besides."""
        yield from line_faults(self.pieces, self.laid.ink)
        yield from area_faults(self.drawn.fills, self.laid.ink)
        yield from word_faults(self.drawn.words, self.laid.ink)
        for thing in self.drawn.strange:
            yield f"it holds {thing}, which cannot be measured"

    def wrong(self, what: str) -> SeamwrightError:
        """The error of a page that is not as it was laid out."""
        return read_back_wrong(f"{self.name}: {what}")
