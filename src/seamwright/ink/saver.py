"""Less ink for the same sheet: thinner lines, wider gaps, no tints, no bold words.

Knows:  the thin pen of each pen; what a tint or bold words told, and how else to tell it.
Leaves: what the ink shows (foundations, furniture).
Units:  pens in points; places in whatever unit the ink is in.
Method: every line keeps its pattern, and lines that may be mistaken for each other keep their order of weight; none
        is under 0.5 pt, or a copier loses it. Tints are left out. Bold words become plain; on a tint, bold told
        which one is meant among its likes, so there they are underlined.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace

from seamwright.ink.lettering import words_box
from seamwright.ink.model import Area, Ink, Pen, Stroke, Words

THIN = {
    Pen.STITCH: Pen.THIN_STITCH,
    Pen.TRIM: Pen.THIN_TRIM,
    Pen.HELPER: Pen.THIN_HELPER,
    Pen.MARK: Pen.THIN_MARK,
    Pen.RULE: Pen.THIN_RULE,
    Pen.BOLD: Pen.THIN_BOLD,
    Pen.LAID: Pen.THIN_LAID,
}
"""The pen that saves ink in place of each pen."""
_PALE = 0x80
"""An area whose three channels are all above this is a tint; darker ones are marks."""


def saved(ink: Sequence[Ink], unit_pt: float = 1.0) -> tuple[Ink, ...]:
    """The same marks with less ink, in the same order; done twice it changes nothing more.

    Args:
        unit_pt: points to one unit of the ink's coordinates.

    >>> saved([Stroke(Pen.STITCH, ((0.0, 0.0), (9.0, 0.0)))])[0].pen.value.width_pt
    0.7
    """
    tints = [mark for mark in ink if isinstance(mark, Area) and _is_tint(mark)]
    return tuple(_thinned(ink, tints, unit_pt))


def _thinned(ink: Sequence[Ink], tints: Sequence[Area], unit_pt: float) -> Iterator[Ink]:
    for mark in ink:
        if isinstance(mark, Stroke):
            yield replace(mark, pen=THIN.get(mark.pen, mark.pen))
        elif isinstance(mark, Words):
            told = mark.bold and any(_on(tint, mark, unit_pt) for tint in tints)
            yield replace(mark, bold=False, underline=mark.underline or told)
        elif not _is_tint(mark):
            yield mark


def _is_tint(area: Area) -> bool:
    channels = area.colour.removeprefix("#")
    return all(int(channels[n : n + 2], 16) > _PALE for n in (0, 2, 4))


def _on(tint: Area, words: Words, unit_pt: float) -> bool:
    """Whether the middle of the words lies on a tint."""
    from shapely.geometry import Point, Polygon

    shape = Polygon(tint.rings[0], tint.rings[1:])
    xs, ys = zip(*words_box(words, unit_pt), strict=True)
    return bool(shape.covers(Point(sum(xs) / len(xs), sum(ys) / len(ys))))
