"""Paint that is no part of a block, told by its look alone: page background, dots, lettering, drafting grid.

Knows:  marks that drawing programs and people add to a drawing.
Leaves: what lies outside the outline (block).
Units:  inches.
Limits: when in doubt a shape stays: a needless line is seen, a missing one is not.
"""

from __future__ import annotations

import math
import re
from collections.abc import Sequence
from itertools import pairwise

from seamwright.drawing.painted import Painted
from seamwright.drawing.pieces import extent
from seamwright.geometry import Point, Ring
from seamwright.notes import Note

DOT_IN = 1 / 8
"""Round marks smaller than this are dots at the ends of lines, no patches."""
BACKGROUND_SLACK = 0.02
"""A background may miss the page's edge by this share of the page."""
LETTER_SHARE = 0.06
"""Letters drawn as shapes are at most this share of the drawing's diagonal: 2/3 in for an 8 in block."""
PALE = 0.5
"""Darkness of a line (0 white, 1 black) below which it may be a grid over coloured areas."""
GRID_STEPS = 5
"""A drafting grid has at least this many spaces each way."""

_GRID_WORDS = frozenset(
    ("grid", "grids", "guide", "guides", "guideline", "guidelines", "raster", "graph", "construction", "drafting")
)


def without_background(items: list[Painted], artboard: Ring | None) -> tuple[list[Painted], list[Note]]:
    """Leave out a white sheet of the page's size painted under everything."""
    first = next((n for n, item in enumerate(items) if item.fill is not None), None)
    if first is None or artboard is None:
        return items, []
    item = items[first]
    right, bottom = artboard[2]
    x0, y0, x1, y1 = extent(item.runs)
    slack_x, slack_y = right * BACKGROUND_SLACK, bottom * BACKGROUND_SLACK
    covers = x0 <= slack_x and y0 <= slack_y and x1 >= right - slack_x and y1 >= bottom - slack_y
    plain = len(item.runs) == 1 and len(item.runs[0].pieces) == 4 and not item.stroked
    if not (covers and plain and _white(item.colour)):
        return items, []
    note = Note("ignored", f"white background of the page ignored ({item.source})")
    return items[:first] + items[first + 1 :], [note]


def _white(colour: str | None) -> bool:
    return colour is not None and min(int(colour[k : k + 2], 16) for k in (1, 3, 5)) >= 0xFA


def without_dots(items: list[Painted]) -> tuple[list[Painted], list[Note]]:
    """Leave out round marks too small for a patch."""
    kept: list[Painted] = []
    places: list[Point] = []
    for item in items:
        x0, y0, x1, y1 = extent(item.runs)
        all_round = all(len(piece) > 2 for run in item.runs for piece in run.pieces)
        closed = all(run.closed or run.points()[0] == run.points()[-1] for run in item.runs)
        if (item.round or (all_round and closed)) and max(x1 - x0, y1 - y0) < DOT_IN:
            places.append(((x0 + x1) / 2, (y0 + y1) / 2))
        else:
            kept.append(item)
    return kept, _noted(places, "dot smaller than 1/8 in ignored", "dots smaller than 1/8 in ignored")


def _noted(places: list[Point], one: str, many: str) -> list[Note]:
    if not places:
        return []
    text = f"{len(places)} {one if len(places) == 1 else many}"
    return [Note("ignored", text, len(places), places_in=tuple(places))]


def without_lettering(items: list[Painted]) -> tuple[list[Painted], list[Note]]:
    """Leave out letters that were turned into shapes.

    A run of small filled shapes of one colour, one after the other, is lettering if at least half of them have
    curved borders: no sewn patch is that small and round.
    """
    if not items:
        return items, []
    x0, y0, x1, y1 = extent([run for item in items for run in item.runs])
    small = LETTER_SHARE * math.hypot(x1 - x0, y1 - y0)
    kept: list[Painted] = []
    places: list[Point] = []
    at = 0
    while at < len(items):
        end = at
        while end < len(items) and _glyph(items[end], small) and items[end].colour == items[at].colour:
            end += 1
        group = items[at : max(end, at + 1)]
        if end > at and 2 * sum(_curved(item) for item in group) >= len(group):
            for item in group:
                gx0, gy0, gx1, gy1 = extent(item.runs)
                places.append(((gx0 + gx1) / 2, (gy0 + gy1) / 2))
        else:
            kept += group
        at += len(group)
    return kept, _noted(
        places,
        "small round shape read as lettering and ignored",
        "small round shapes read as lettering and ignored",
    )


def _glyph(item: Painted, small: float) -> bool:
    """A filled, unstroked shape made of small parts."""
    if item.fill is None or item.stroked or item.round:
        return False
    boxes = [extent([run]) for run in item.runs]
    return all(max(x1 - x0, y1 - y0) <= small for x0, y0, x1, y1 in boxes)


def _curved(item: Painted) -> bool:
    return any(len(piece) > 2 for run in item.runs for piece in run.pieces)


def without_grid(items: list[Painted]) -> tuple[list[Painted], list[Note]]:
    """Leave out a drafting grid: a layer named so, or an even net of fainter lines under other lines."""
    notes: list[Note] = []
    for layer in sorted({item.layer for item in items if _named_as_grid(item.layer)}):
        rest = [item for item in items if item.layer != layer]
        if sum(len(run.pieces) for item in rest for run in item.runs) >= 3:
            notes.append(Note("ignored", f"layer '{layer}' ignored: its name says it is a drafting aid"))
            items = rest
    # A whole layer first: fine and coarse lines of one grid are even only together.
    by_layer: dict[object, list[Painted]] = {}
    by_look: dict[object, list[Painted]] = {}
    for item in items:
        if item.fill is None:
            by_layer.setdefault(item.layer, []).append(item)
            by_look.setdefault((item.layer, item.stroke, round(item.stroke_in, 5)), []).append(item)
    for group in (*by_layer.values(), *by_look.values()):
        if not _even_net(group):
            continue  # asked first, as it looks at the group alone: a drawing may have a look for every line
        members = {id(item) for item in group}
        others = [item for item in items if id(item) not in members]
        if len(others) < len(items) and _drawn_over(group, others):
            count = sum(len(run.pieces) for item in group for run in item.runs)
            notes.append(Note("ignored", f"drafting grid of {count} faint lines ignored", count))
            items = others
    return items, notes


def _named_as_grid(layer: str) -> bool:
    return not _GRID_WORDS.isdisjoint(re.sub(r"[^a-z]+", " ", layer.lower()).split())


def _drawn_over(group: Sequence[Painted], others: Sequence[Painted]) -> bool:
    """Whether others draw a block of their own: more than a frame round the net, in stronger lines or in areas."""
    x0, y0, x1, y1 = extent([run for item in group for run in item.runs])
    edge = 0.01 * max(x1 - x0, y1 - y0)
    inner = oblique = 0
    for item in others:
        for run in item.runs:
            for piece in run.pieces:
                (xa, ya), (xb, yb) = piece[0], piece[-1]
                inside = x0 + edge < (xa + xb) / 2 < x1 - edge and y0 + edge < (ya + yb) / 2 < y1 - edge
                inner += inside
                oblique += inside and min(abs(xa - xb), abs(ya - yb)) > 1e-3
    return (oblique > 0 or inner > 4) and _fainter(group, others)


def _fainter(group: Sequence[Painted], others: Sequence[Painted]) -> bool:
    """Lighter or thinner than all other strokes, and darker or wider than none; or pale lines over bare areas."""
    own = max(_darkness(item.stroke) for item in group)
    width = max(item.stroke_in for item in group)
    strokes = [(_darkness(item.stroke), item.stroke_in) for item in others if item.stroked]
    if not strokes:
        return own < PALE and sum(item.fill is not None for item in others) >= 3
    return all(
        own <= dark and width <= broad * 1.01 and (own < dark - 0.15 or width < broad * 0.7)
        for dark, broad in strokes
    )


def _darkness(colour: str | None) -> float:
    """0 for white, 1 for black."""
    if colour is None:
        return 1.0
    return 1 - sum(int(colour[k : k + 2], 16) for k in (1, 3, 5)) / 765


def _even_net(group: Sequence[Painted]) -> bool:
    """Whether the lines run only across and down, evenly spaced, each from edge to edge."""
    across: list[tuple[float, float, float]] = []
    down: list[tuple[float, float, float]] = []
    for item in group:
        for run in item.runs:
            for piece in run.pieces:
                (xa, ya), (xb, yb) = piece[0], piece[-1]
                if len(piece) > 2:
                    return False
                if abs(ya - yb) < 1e-4:
                    across.append((ya, min(xa, xb), max(xa, xb)))
                elif abs(xa - xb) < 1e-4:
                    down.append((xa, min(ya, yb), max(ya, yb)))
                else:
                    return False
    return _even(across) and _even(down)


def _even(lines: list[tuple[float, float, float]]) -> bool:
    if len(lines) < GRID_STEPS - 1:
        return False
    places = sorted({round(at, 4) for at, _, _ in lines})
    steps = [b - a for a, b in pairwise(places)]
    if len(steps) < GRID_STEPS - 2 or max(steps) > 1.01 * min(steps) + 2e-4:
        return False
    start, end = min(a for _, a, _ in lines), max(b for _, _, b in lines)
    slack = 0.01 * (end - start)
    return all(abs(a - start) <= slack and abs(b - end) <= slack for _, a, b in lines)
