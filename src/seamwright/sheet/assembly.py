"""The small picture of how the parts of a print lie, one for each part.

Knows:  the parts as they show when all are glued, their names, the words below.
Leaves: the parts themselves (tiling), where the picture lies (furnish).
Units:  points from the picture's own top left corner.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace
from functools import lru_cache

from seamwright.geometry import Point, Ring, bounds
from seamwright.ink.lettering import width_pt
from seamwright.ink.model import Area, Ink, Pen, Stroke, Words
from seamwright.ink.place import place_words
from seamwright.ink.wrap import lines_of
from seamwright.sheet.furniture import NOTE_PT, NOTE_STEP, TINT, Item, column
from seamwright.sheet.tiling import Part, Tiling, sides

PICTURE_PT = (72.0, 54.0, 36.0)
CAPTION_PT = 108.0
WORDS_PT = 7.0
BLACK = "#000000"


def assembly(tiling: Tiling, part: Part, name: str) -> tuple[Item, ...]:
    """A small picture of how the parts lie, this one tinted, in several sizes."""
    return tuple(_picture(tiling, part, name, side) for side in PICTURE_PT)


def assembly_room(name: str) -> tuple[Item, ...]:
    """Empty items as large as the pictures of parts may be."""
    words = _caption(name, 9, 9, 99)
    wide = max(width_pt(line, NOTE_PT, bold=True) for line in words)
    return tuple(Item(max(side, wide), side + 2.0 + NOTE_STEP * len(words), ()) for side in PICTURE_PT)


def _caption(name: str, row: int, column: int, of: int) -> tuple[str, ...]:
    """Which part a picture is of, in one line or, for a long name, in several."""
    part = f"part {row}.{column} of {of}"
    if width_pt(f"{name}: {part}", NOTE_PT, bold=True) <= CAPTION_PT:
        return (f"{name}: {part}",)
    return (*lines_of(name, NOTE_PT, CAPTION_PT, bold=True, most=2), part)


def _picture(tiling: Tiling, part: Part, name: str, side: float) -> Item:
    left, top, right, bottom = bounds([p for one in tiling.parts for p in one.seen])
    scale = side / max(right - left, bottom - top)

    def small(points: Iterable[Point]) -> Ring:
        return tuple(((x - left) * scale, (y - top) * scale) for x, y in points)

    rings = [small(one.seen) for one in tiling.parts]
    names = _names(tuple(f"{one.row}.{one.column}" for one in tiling.parts), tuple(rings))
    this = tiling.parts.index(part)
    # A part too small for its name is too small to be seen tinted; which it is, the words below say.
    ink: list[Ink] = [Area((rings[this],), TINT if names[this] else BLACK)]
    ink += [Stroke(Pen.RULE, ring, closed=True) for ring in rings]
    ink += [replace(words, bold=i == this) for i, words in enumerate(names) if words is not None]
    words = _caption(name, part.row, part.column, part.of)
    high = (bottom - top) * scale
    ink += column(words, 0.0, high + 2.0, NOTE_PT, NOTE_STEP, bold=True)
    wide = max((right - left) * scale, *(width_pt(line, NOTE_PT, bold=True) for line in words))
    return Item(wide, high + 2.0 + NOTE_STEP * len(words), tuple(ink))


@lru_cache(maxsize=64)
def _names(names: tuple[str, ...], rings: tuple[Ring, ...]) -> list[Words | None]:
    """The name of each part inside it, bold, clear of the lines of all parts; None where it finds no room."""
    borders = [(bounds(side), side) for ring in rings for side in sides(ring)]
    placed = []
    for name, ring in zip(names, rings, strict=True):
        left, top, right, bottom = bounds(ring)
        near = [s for (x, y, u, v), s in borders if x <= right and u >= left and y <= bottom and v >= top]
        placed.append(
            place_words(ring, name, (WORDS_PT,), obstacles=near, clearance_pt=0.5, unit_pt=1.0, bold=True)
        )
    return placed
