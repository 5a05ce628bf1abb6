"""The key: a small picture of the block from the front, the sections of this sheet tinted.

Knows:  how to draw the outline, the seams, the joins and the letters small.
Leaves: where the key lies (furnish), which sections a sheet shows (layout).
Units:  points from its own top left corner.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from shapely import intersects, union_all
from shapely.geometry import LineString, Polygon
from shapely.geometry.base import BaseGeometry

from seamwright.block.rings import region_ring
from seamwright.geometry import Ring, signed_area
from seamwright.ink.lettering import centred, width_pt, words_box
from seamwright.ink.model import Area, Ink, Pen, Stroke, Words
from seamwright.ink.place import place_words, roomiest
from seamwright.ink.wrap import lines_of
from seamwright.options import Units
from seamwright.piecing.model import Plan, Section
from seamwright.sheet.furniture import NOTE_PT, NOTE_STEP, TINT, Item, Later, column
from seamwright.units import say_size

LETTER_PT = (12.0, 10.0, 8.0, 7.0)
CAPTION_PT = 108.0
"""A long name is broken into lines no wider than this, or than the picture."""
CROWDED_PT2 = 150.0
"""With less paper to a patch than this, lines inside sections would only blacken the key."""


class Key:
    """The key of one block at one size, ready to be drawn for any sheet.

    Args:
        side: length of the block's longer side in the picture, points.
        units: for the finished size.
        often: how often each print is needed, in words; "" if all are needed once.
    """

    def __init__(self, plan: Plan, side: float, units: Units = Units.INCH, often: str = "") -> None:
        block = plan.block
        self._plan, self._scale = plan, side / max(block.width_in, block.height_in)
        self._outlines = {section.name: self._ring(section) for section in plan.sections}
        # Letters are bold where their section is on the sheet: room for the bold one is room for both.
        self._letters = {name: self._letter(name, outline) for name, outline in self._outlines.items()}
        boxes = [Polygon(words_box(letter, 1.0)).buffer(1.0) for letter in self._letters.values() if letter]
        self._kept_free = union_all(boxes)
        self._lines = self._drawn_lines()
        self._strings = _strings(self._lines)
        size = say_size(block.width_in, block.height_in, units)
        self._name = lines_of(block.title, NOTE_PT, max(side, CAPTION_PT), bold=True, most=3)
        times = lines_of(often, NOTE_PT, max(side, CAPTION_PT)) if often else ()
        self._words = (f"{size} finished", f"plan {plan.id}", *times)
        self._widest = max(width_pt(w, NOTE_PT, bold=w in self._name) for w in (*self._name, *self._words))
        self._over: dict[str, Words] = {}
        self._pictures: dict[frozenset[str], tuple[Ink, ...]] = {}
        self._items: dict[tuple[frozenset[str], bool], Item] = {}

    def item(self, shown: frozenset[str], *, beside: bool = False) -> Item:
        """The key for a sheet.

        Args:
            shown: names of the sections whose prints lie on this sheet.
            beside: the words stand right of the picture, not below it.
        """
        if (shown, beside) not in self._items:
            self._items[shown, beside] = self._drawn(shown, beside)
        return self._items[shown, beside]

    def _drawn(self, shown: frozenset[str], beside: bool) -> Item:
        width, height = self.size_pt
        left, top = (width + 6.0, 0.0) if beside else (0.0, height + 2.0)
        below = top + NOTE_STEP * len(self._name)
        bottom = below + NOTE_STEP * len(self._words)

        def ink() -> list[Ink]:
            name = column(self._name, left, top, NOTE_PT, NOTE_STEP, bold=True)
            return [*self.picture(shown), *name, *column(self._words, left, below, NOTE_PT, NOTE_STEP)]

        return Item(max(width, left + self._widest), max(height, bottom), Later(ink))

    @property
    def size_pt(self) -> tuple[float, float]:
        """Width and height of the block in the picture."""
        return (self._plan.block.width_in * self._scale, self._plan.block.height_in * self._scale)

    def picture(self, shown: frozenset[str]) -> list[Ink]:
        """The block alone, the sections of these names tinted, their letters bold."""
        if shown not in self._pictures:  # asked for with the words below it, and beside it
            self._pictures[shown] = tuple(self._pictured(shown))
        return [*self._pictures[shown]]

    def _pictured(self, shown: frozenset[str]) -> list[Ink]:
        ink: list[Ink] = [Area((ring,), TINT) for name, ring in self._outlines.items() if name in shown]
        over = [
            self._over_lines(name) for name, letter in self._letters.items() if letter is None and name in shown
        ]
        ink += self._interrupted(over) if over else self._lines
        letters = ((name, letter) for name, letter in self._letters.items() if letter is not None)
        ink += [letter if name in shown else replace(letter, bold=False) for name, letter in letters]
        return ink + over

    def _over_lines(self, name: str) -> Words:
        """The letter of a section too small for it, at the roomiest place; the lines there make way."""
        if name not in self._over:
            middle = roomiest(self._outlines[name])[0]
            self._over[name] = centred(name, middle, LETTER_PT[-1], unit_pt=1.0, bold=True)
        return self._over[name]

    def _interrupted(self, over: Sequence[Words]) -> list[Ink]:
        """The lines without what would run through letters that lie over them."""
        spots = union_all([Polygon(words_box(letter, 1.0)).buffer(0.7) for letter in over])
        lines = [mark for mark in self._lines if isinstance(mark, Stroke)]
        # Asked at once: most lines lie clear of the letters.
        clear = ~intersects(self._strings, spots)
        return [
            Stroke(line.pen, run)
            for line, whole in zip(lines, clear, strict=True)
            for run in ([line.points] if whole else _beside(line.points, spots))
        ]

    def _drawn_lines(self) -> list[Ink]:
        """Outline and joins; seams inside sections where they do not only blacken the key."""
        block = self._plan.block
        section_of = {patch: section.name for section in self._plan.sections for patch in section.patches}
        crowded = block.width_in * block.height_in * self._scale**2 < CROWDED_PT2 * len(block.patches)
        ink: list[Ink] = []
        for number, edge in enumerate(block.edges):
            inside = edge.seam >= 0 and section_of.get(edge.left) == section_of.get(edge.right)
            points = tuple((x * self._scale, y * self._scale) for x, y in block.edge_points(number))
            if not inside:
                ink.append(Stroke(Pen.RULE, points))
            elif not crowded:
                ink += [Stroke(Pen.HELPER, run) for run in _beside(points, self._kept_free)]
        return ink

    def _ring(self, section: Section) -> Ring:
        ring = region_ring(self._plan.block, section.patches)
        return tuple((x * self._scale, y * self._scale) for x, y in ring)

    @staticmethod
    def _letter(name: str, outline: Ring) -> Words | None:
        if abs(signed_area(outline)) < LETTER_PT[-1] ** 2:
            return None
        return place_words(outline, name, LETTER_PT, clearance_pt=1.0, unit_pt=1.0, bold=True)


def _strings(lines: Sequence[Ink]) -> list[LineString]:
    """Lines as shapes, in order."""
    return [LineString(mark.points) for mark in lines if isinstance(mark, Stroke)]


def _beside(points: Ring, spots: BaseGeometry) -> list[Ring]:
    """A line without what would run through letters."""
    left = LineString(points).difference(spots)
    runs = [part for part in getattr(left, "geoms", [left]) if part.length > 1.0]
    return [tuple((float(x), float(y)) for x, y in run.coords) for run in runs]
