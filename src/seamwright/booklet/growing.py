"""Words inside a figure made larger for large type, as far as there is room.

Knows:  when a larger word would run off the figure, over another word or over a line that it was clear of.
Leaves: what is in the figure (the chapters), words around it (setting).
Units:  inches, type in points.
Method: each word at the largest share at which it stays clear, sentences of one size all alike; the middle of a
        word stays where it is, or the end that it hangs on.
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import replace
from itertools import combinations
from typing import TYPE_CHECKING

from seamwright.booklet.model import Figure
from seamwright.geometry import Point, bounds
from seamwright.ink.lettering import words_box
from seamwright.ink.model import Anchor, Ink, Stroke, Words

if TYPE_CHECKING:
    from shapely.geometry import Polygon

STEPS = 4
"""Sizes tried between the usual one and the largest."""


_NAME = re.compile(r"\S{1,2}|\S*\d\S*")
"""A name in its patch: short, or with a figure."""
HAIR_IN2 = 1e-4
GRID_IN = 1e-6


def grown(figure: Figure, scale: float) -> Figure:
    """A figure whose words are up to `scale` times as large."""
    words = [n for n, ink in enumerate(figure.inks) if isinstance(ink, Words)]
    if scale <= 1 or not words:
        return figure
    import shapely
    from shapely.geometry import LineString, Polygon, box

    lines = [LineString(run) for ink in figure.inks if isinstance(ink, Stroke) if len(run := _run(ink)) > 1]
    inks: list[Ink] = list(figure.inks)
    room = box(0.0, 0.0, figure.width_in, figure.height_in)
    boxes = {n: Polygon(words_box(_words(inks[n]))) for n in words}
    for group in _alike({n: _words(inks[n]) for n in words}):
        others = [boxes[n] for n in words if n not in group]
        clear = {n: shapely.STRtree([line for line in lines if not line.intersects(boxes[n])]) for n in group}
        keep = shapely.STRtree(others)
        for step in range(STEPS, 0, -1):
            new = {n: _larger(_words(inks[n]), 1 + (scale - 1) * step / STEPS) for n in group}
            outlines = {n: Polygon(words_box(line)) for n, line in new.items()}
            if all(
                room.covers(outline)
                and not len(keep.query(outline, predicate="intersects"))
                and not len(clear[n].query(outline, predicate="intersects"))
                for n, outline in outlines.items()
            ) and not _touch([*outlines.values()]):
                boxes |= outlines
                for n, line in new.items():
                    inks[n] = line
                break
    return replace(figure, inks=tuple(inks))


def _alike(words: dict[int, Words]) -> list[list[int]]:
    """Names one by one, sentences of one size together."""
    groups: dict[tuple[float, int], list[int]] = {}
    for n, line in words.items():
        groups.setdefault((line.size_pt, n if _NAME.fullmatch(line.text) else -1), []).append(n)
    return list(groups.values())


def _touch(outlines: Sequence[Polygon]) -> bool:
    return any(a.intersection(b, grid_size=GRID_IN).area > HAIR_IN2 for a, b in combinations(outlines, 2))


def _words(ink: Ink) -> Words:
    assert isinstance(ink, Words)
    return ink


def _run(stroke: Stroke) -> Sequence[Point]:
    return (*stroke.points, *stroke.points[: stroke.closed])


def _larger(words: Words, share: float) -> Words:
    """Words that many times as large; the middle of their box stays, or the end that hangs on a point."""
    larger = replace(words, size_pt=words.size_pt * share)
    (old, new) = (bounds(words_box(one)) for one in (words, larger))
    down = (old[1] + old[3] - new[1] - new[3]) / 2
    across = (old[0] + old[2] - new[0] - new[2]) / 2 if words.anchor is Anchor.MIDDLE or words.angle_deg else 0.0
    return replace(larger, at=(words.at[0] + across, words.at[1] + down))
