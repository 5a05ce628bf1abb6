"""A foundation enlarged for the wall of a classroom, where it is looked at and not sewn on.

Knows:  what grows with the paper: lines, words, pens; how large numbers may be in their patches.
Leaves: how it is parted (tiling), what the sheet says of it (desk).
Units:  inches of the foundation in, points out.
Method: all is scaled about one point, type too, so that what was clear of lines stays clear. Pens do not grow with
        it but change to heavier ones, which show across a room. Each number then grows in its patch as far as it
        stays clear of everything.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from shapely import STRtree
from shapely.geometry import LineString, Polygon

from seamwright.foundation.model import Foundation
from seamwright.geometry import moved
from seamwright.ink.lettering import words_box
from seamwright.ink.model import Area, Ink, Pen, Stroke, Words
from seamwright.sheet.keeping import sized

HEAVY = {
    Pen.STITCH: Pen.WALL_STITCH,
    Pen.TRIM: Pen.WALL_TRIM,
    Pen.HELPER: Pen.WALL_HELPER,
    Pen.MARK: Pen.WALL_MARK,
    Pen.RULE: Pen.WALL_RULE,
    Pen.LAID: Pen.WALL_LAID,
}
GROWTH = (2.5, 2.0, 1.75, 1.5, 1.25)
"""How much larger than the rest a number may become, the largest tried first."""


TRUE_STILL = "The squares and long lines are not enlarged."
"""What every sheet of an enlarged print says besides."""


def enlarged_words(times: float) -> str:
    """What every sheet of an enlarged print says in bold; "" for prints at true size."""
    return f"Enlarged {times:g} times, for the wall: not for sewing." if times > 1 else ""


def ink_of(foundation: Foundation, scale: float, *, heavy: bool = True) -> tuple[Ink, ...]:
    """All ink of a foundation in points.

    Args:
        scale: points to an inch; 72 for true size.
        heavy: what is enlarged is drawn with heavier pens.
    """
    times = scale / 72.0
    about = (scale, 0.0, 0.0, scale, 0.0, 0.0)
    ink: list[Ink] = []
    for mark in foundation.ink:
        if isinstance(mark, Stroke):
            pen = HEAVY.get(mark.pen, mark.pen) if heavy and times > 1 else mark.pen
            ink.append(replace(mark, pen=pen, points=tuple(moved(about, p) for p in mark.points)))
        elif isinstance(mark, Area):
            ink.append(replace(mark, rings=tuple(tuple(moved(about, p) for p in ring) for ring in mark.rings)))
        else:
            ink.append(replace(mark, at=moved(about, mark.at), size_pt=mark.size_pt * times))
    return _with_large_numbers(ink) if times > 1 else tuple(ink)


def _with_large_numbers(ink: Sequence[Ink]) -> tuple[Ink, ...]:
    """Numbers of patches as large as their patches allow."""
    lines = STRtree(
        [LineString([*m.points, *m.points[: m.closed]]).buffer(2.0) for m in ink if isinstance(m, Stroke)]
        + [Polygon(m.rings[0], m.rings[1:]) for m in ink if isinstance(m, Area) and m.colour == "#000000"]
    )
    boxes = [Polygon(words_box(m, 1.0)) for m in ink if isinstance(m, Words)]
    grown: list[Ink] = []
    number = -1
    for mark in ink:
        if isinstance(mark, Words):
            number += 1
            if any(c.isdigit() for c in mark.text) and len(mark.text) <= 6:
                others = STRtree(boxes[:number] + boxes[number + 1 :])
                mark = next((one for s in GROWTH if _clear(one := sized(mark, s), lines, others)), mark)
                boxes[number] = Polygon(words_box(mark, 1.0))
        grown.append(mark)
    return tuple(grown)


def _clear(words: Words, lines: STRtree, others: STRtree) -> bool:
    spot = Polygon(words_box(words, 1.0)).buffer(3.0)
    return not len(lines.query(spot, "intersects")) and not len(others.query(spot, "intersects"))
