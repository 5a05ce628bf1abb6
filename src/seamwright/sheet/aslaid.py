"""A page of the file against all ink of its sheet: nothing is missing, nothing is there besides.

Knows:  how strokes, areas and words of a sheet are found again in what a page draws.
Leaves: what the ink should be (foundation, layout), measuring (readback).
Units:  points from the page's top left corner.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Sequence

import numpy as np

from seamwright.geometry import Point, bounds, signed_area
from seamwright.ink.lettering import words_box
from seamwright.ink.model import Area, Ink, Stroke, Words
from seamwright.sheet.cover import Pieces, bare, pieces_of
from seamwright.sheet.operators import Fill, Look, Written
from seamwright.sheet.wanted import look_of, written

MM_PER_PT = 25.4 / 72
TOLERANCE_MM = 0.01
TOLERANCE_PT = TOLERANCE_MM / MM_PER_PT
_TURN = 1e-3
"""How far the direction and size of words may be off, as a share: 0.1 mm at the end of a line of 4 in."""


def line_faults(drawn: dict[Look, Pieces], ink: Iterable[Ink]) -> Iterator[str]:
    """Strokes that the page lacks, or has besides, pen by pen."""
    runs: dict[Look, list[tuple[Point, ...]]] = {}
    for mark in ink:
        if isinstance(mark, Stroke):
            runs.setdefault(look_of(mark.pen, mark.colour.lower()), []).append(
                (*mark.points, *mark.points[: mark.closed])
            )
    nothing = pieces_of(())
    for look in {**runs, **drawn}:
        pen = f"{look[0]:g} pt wide, {'dashed' if look[1] else 'solid'}, {look[2]}"
        wanted, found = pieces_of(runs.get(look, ())), drawn.get(look, nothing)
        yield from longest_bare(wanted, found, f"is missing ({pen})")
        yield from longest_bare(found, wanted, f"is drawn besides ({pen})")


def longest_bare(wanted: Pieces, drawn: Pieces, fault: str) -> Iterator[str]:
    """The longest stretch that nothing covers, in words that end in `fault`; nothing if all are covered."""
    left = bare(wanted, drawn, TOLERANCE_PT)
    stretches = left[:, 1] - left[:, 0]
    worst = int(stretches.argmax()) if len(stretches) else 0
    if len(stretches) and stretches[worst] > TOLERANCE_PT:
        a, b = wanted[worst, :2], wanted[worst, 2:]
        x, y = a + (b - a) / np.hypot(*(b - a)) * left[worst].mean()
        yield f"a line of {stretches[worst] * MM_PER_PT:.2f} mm about ({x:.2f}, {y:.2f}) pt {fault}"


def area_faults(drawn: Sequence[Fill], ink: Iterable[Ink]) -> Iterator[str]:
    """Filled areas, and lines under figures, that the page lacks or has besides."""
    left: dict[tuple[str, int], list[_Filled]] = {}
    for one in drawn:
        left.setdefault((one.colour, len(one.rings)), []).append(_Filled(one.rings))
    for mark in ink:
        if isinstance(mark, Area) and any(mark.rings):
            what, at, among = "an area", mark.rings[0][0], left.get((mark.colour.lower(), len(mark.rings)), [])
            found = next((one for one in among if one.is_area(mark.rings)), None)
        elif isinstance(mark, Words) and mark.underline and written(mark, 1.0):
            what, at, among = f'the line under "{mark.text}"', mark.at, left.get((mark.colour.lower(), 1), [])
            found = next((one for one in among if one.is_under(mark)), None)
        else:
            continue
        if found is not None:
            among.remove(found)
        else:
            yield f"{what} at ({at[0]:.2f}, {at[1]:.2f}) pt is missing"
    for one_ in (one for several in left.values() for one in several):
        x, y = one_.rings[0][0]
        yield f"an area at ({x:.2f}, {y:.2f}) pt is drawn besides"


def word_faults(drawn: Iterable[Written], ink: Iterable[Ink]) -> Iterator[str]:
    """Words that the page lacks, has besides, or shows in another place, direction, size or colour."""
    left: dict[str, list[Written]] = {}
    for one in drawn:
        left.setdefault(one.text, []).append(one)
    for mark in ink:
        there = written(mark, 1.0) if isinstance(mark, Words) else None
        if there is None:
            continue
        same = [
            one
            for one in left.get(there.text, ())
            if same_place(one, there)
            and math.isclose(one.size_pt, there.size_pt, rel_tol=_TURN)
            and one.colour == there.colour.lower()
        ]
        if same:
            left[there.text].remove(same[0])
        else:
            yield f'the words "{there.text}" are not in its text at ({there.at[0]:.2f}, {there.at[1]:.2f}) pt'
    for one in (one for several in left.values() for one in several):
        yield f'the words "{one.text}" at ({one.at[0]:.2f}, {one.at[1]:.2f}) pt are there besides'


def same_place(one: Written, other: Written) -> bool:
    """Whether two lines of words say the same in the same place and direction."""
    return (
        one.text == other.text
        and math.dist(one.at, other.at) <= TOLERANCE_PT
        and math.dist(one.ahead, other.ahead) <= _TURN
    )


class _Filled:
    """A fill of the page, its box and its size worked out once."""

    def __init__(self, rings: Sequence[Sequence[Point]]) -> None:
        self.rings = rings
        self.box = bounds([p for ring in rings for p in ring])
        self.size = sum(abs(signed_area(ring)) for ring in rings)

    def is_area(self, rings: Sequence[Sequence[Point]]) -> bool:
        """Whether it has, within the tolerance, the box and the size of an area of its colour."""
        box = bounds([p for ring in rings for p in ring])
        if max(abs(a - b) for a, b in zip(self.box, box, strict=True)) > TOLERANCE_PT:
            return False
        size = sum(abs(signed_area(ring)) for ring in rings)
        round_ = sum(math.dist(a, b) for ring in rings for a, b in zip(ring, (*ring[1:], ring[0]), strict=True))
        return abs(self.size - size) <= round_ * TOLERANCE_PT

    def is_under(self, words: Words) -> bool:
        """Whether it lies in the box that underlined words of its colour fill, a hair more all round."""
        left, top, right, bottom = bounds(words_box(words, 1.0))
        return all(
            left - 1 <= x <= right + 1 and top - 1 <= y <= bottom + 1 for ring in self.rings for x, y in ring
        )
