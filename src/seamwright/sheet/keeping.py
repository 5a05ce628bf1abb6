"""Words kept whole: those that a parting line would cross move to where one part shows them.

Knows:  where words still lie inside the lines round them, and clear of one another.
Leaves: where the parting lines lie (parting).
Units:  points.
Method: the nearest place that is seen whole on one part, in steps along the parting line too; where none is clear
        the words shrink a little; at the last they move aside whatever lies there: a number that is cut is lost.
        Words never move farther than half their length and a little, or they would speak of another edge: those too
        long for the parts round them, as enlarged ones can be, shrink until one holds them.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import replace

from shapely import STRtree
from shapely.geometry import LineString, Polygon

from seamwright.geometry import Point, bounds
from seamwright.ink.lettering import words_box
from seamwright.ink.model import Ink, Stroke, Words
from seamwright.sheet.nest import Box
from seamwright.sheet.parting import CLEAR_PT

SMALLER = (1.0, 0.85, 0.7)
"""How far words may shrink that a parting line would cross."""
SMALLEST = (0.5, 0.35, 0.25, 0.18, 0.12)
"""How far they shrink where no part round them is as long as they are even so."""
SLIDES_PT = (0.0, 6.0, -6.0, 12.0, -12.0, 24.0, -24.0)


def kept_whole(ink: Sequence[Ink], seen: Sequence[Box]) -> tuple[Ink, ...]:
    """All ink, its words moved to where one of the parts shows them whole.

    Args:
        seen: what is seen of each part when all are glued.
    """
    lines = STRtree([LineString([*m.points, *m.points[: m.closed]]) for m in ink if isinstance(m, Stroke)])
    placed = [Polygon(words_box(m, 1.0)) for m in ink if isinstance(m, Words)]
    kept: list[Ink] = []
    number = -1
    for mark in ink:
        if not isinstance(mark, Words):
            kept.append(mark)
            continue
        number += 1
        if not any(_inside(words_box(mark, 1.0), part) for part in seen):
            others = STRtree(placed[:number] + placed[number + 1 :])
            mark = _aside(mark, seen, lines, others)
            placed[number] = Polygon(words_box(mark, 1.0))
        kept.append(mark)
    return tuple(kept)


def _aside(words: Words, seen: Sequence[Box], lines: STRtree, others: STRtree) -> Words:
    """The words at the nearest place where one part shows them whole."""
    middle = Polygon(words_box(words, 1.0)).centroid
    last: Words | None = None
    (ax, ay), _, (bx, by), _ = words_box(words, 1.0)
    reach = math.dist((ax, ay), (bx, by)) / 2 + max(SLIDES_PT)
    for share in (*SMALLER, *SMALLEST):
        if last is not None and share in SMALLEST:
            break
        smaller = sized(words, share)
        box = bounds(words_box(smaller, 1.0))
        shifts = [shift for part in seen for shift in _shifts(box, part) if math.hypot(*shift) <= reach]
        for u, v in sorted(shifts, key=lambda s: (math.hypot(*s), s)):
            there = replace(smaller, at=(smaller.at[0] + u, smaller.at[1] + v))
            last = last or there
            spot = Polygon(words_box(there, 1.0)).buffer(1.0)
            way = LineString([middle, spot.centroid])
            crossed = len(lines.query(spot, "intersects")) or len(lines.query(way, "intersects"))
            if not crossed and not len(others.query(spot, "intersects")):
                return there
    return last or words


def _shifts(box: Box, part: Box) -> list[Point]:
    """The least shift that takes a box into what is seen of a part, and others beside it along the parting line."""
    left, top, right, bottom = box
    x0, y0, x1, y1 = (part[0] + CLEAR_PT, part[1] + CLEAR_PT, part[2] - CLEAR_PT, part[3] - CLEAR_PT)
    if right - left > x1 - x0 or bottom - top > y1 - y0:
        return []
    dx, dy = max(x0 - left, 0.0) + min(x1 - right, 0.0), max(y0 - top, 0.0) + min(y1 - bottom, 0.0)
    tries = [(dx, dy + s) if abs(dx) >= abs(dy) else (dx + s, dy) for s in SLIDES_PT]
    slack = 1e-9
    return [(u, v) for u, v in tries if min(left + u - x0, x1 - right - u, top + v - y0, y1 - bottom - v) >= -slack]


def _inside(ring: Sequence[Point], seen: Box) -> bool:
    """Whether words lie inside what is seen of a part, with white between them and its parting lines."""
    left, top, right, bottom = bounds(ring)
    x0, y0, x1, y1 = seen
    return x0 + CLEAR_PT <= left and right <= x1 - CLEAR_PT and y0 + CLEAR_PT <= top and bottom <= y1 - CLEAR_PT


def sized(words: Words, share: float) -> Words:
    """Words of another size with the same middle."""
    if share == 1.0:
        return words
    other = replace(words, size_pt=words.size_pt * share)
    (ax, ay), (bx, by) = ((c.x, c.y) for c in (Polygon(words_box(w, 1.0)).centroid for w in (words, other)))
    return replace(other, at=(words.at[0] + ax - bx, words.at[1] + ay - by))
