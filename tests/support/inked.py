"""What is wrong with the words of a page, measured by their boxes: over each other, off the paper, too small."""

from __future__ import annotations

from collections.abc import Iterator

import shapely
from shapely.geometry import Polygon, box

from seamwright.ink.lettering import words_box
from seamwright.ink.model import Words
from seamwright.ink.page import Page

LEAST_PT = 7.0
TOUCH_PT2 = 0.6
"""Boxes may share a hair: descenders of one line hang between capitals of the next."""


def faults(page: Page, edge_pt: float = 18.0) -> Iterator[str]:
    """Words of a page that cannot be read.

    Args:
        edge_pt: what home printers leave white.
    """
    words = [ink for ink in page.ink if isinstance(ink, Words) and ink.text.strip()]
    boxes = [Polygon(words_box(line, 1.0)) for line in words]
    paper = box(edge_pt, edge_pt, page.width_pt - edge_pt, page.height_pt - edge_pt)
    for line, outline in zip(words, boxes, strict=True):
        if not paper.covers(outline):
            yield f'"{line.text}" runs off the paper'
        if line.size_pt < LEAST_PT - 1e-6:
            yield f'"{line.text}" is {line.size_pt:g} pt'
    tree = shapely.STRtree(boxes)
    for a, b in tree.query(boxes, predicate="intersects").T:
        if a < b and boxes[a].intersection(boxes[b]).area > TOUCH_PT2:
            yield f'"{words[a].text}" and "{words[b].text}" lie over each other'


def said(page: Page) -> str:
    """All words of a page, a blank between lines."""
    return " ".join(ink.text for ink in page.ink if isinstance(ink, Words))
