"""A page of ink beside sheets: what a booklet or a cutting list is made of once it is laid out.

Knows:  the values only.
Leaves: laying out (booklet.pages), the file (sheet.pdf).
Units:  points, origin top left, y down.
"""

from __future__ import annotations

from dataclasses import dataclass

from seamwright.ink.model import Ink


@dataclass(frozen=True, slots=True)
class Bookmark:
    """A place that the list of contents leads to: level 1 a chapter, level 2 what is in it; y from the top."""

    text: str
    level: int
    y_pt: float


@dataclass(frozen=True, slots=True)
class Page:
    """One page, ready to be drawn.

    Attributes:
        width_pt, height_pt: of the paper. ink: points from the top left corner.
        bookmarks: of what begins on it, from the top. shows: what its pictures show, a sentence each.
    """

    width_pt: float
    height_pt: float
    ink: tuple[Ink, ...]
    bookmarks: tuple[Bookmark, ...] = ()
    shows: tuple[str, ...] = ()
