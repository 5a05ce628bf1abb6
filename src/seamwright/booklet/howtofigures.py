"""The pictures that teach sewing on paper: the first section of a block at six moments, with the tools in them.

Knows:  what lies on the table at each moment, how the work is rotated for a blade, where tools lie for either hand.
Leaves: the words (howto), the work itself (rehearsal.sides), tools (tools).
Units:  inches; figures with their origin at the top left.
Method: where a blade runs, the work is rotated so that it runs straight up, away from the body, with what is kept
        under the ruler: for the left hand by half a turn more. The work itself is mirrored only where it is seen
        from its printed side.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field
from itertools import pairwise

import shapely
from shapely.geometry import LineString, Polygon
from shapely.geometry.base import BaseGeometry

from seamwright.booklet.model import PICTURE_IN, Figure
from seamwright.booklet.stage import Type
from seamwright.booklet.tools import arrow, cutter, foot, iron, pin, ruler
from seamwright.geometry import Affine, Point, Ring, bounds, canonical_ring, moved
from seamwright.ink.lettering import width_pt
from seamwright.ink.model import Area, Ink, Pen, Stroke, Words, move_ink
from seamwright.ink.place import place_words, roomiest
from seamwright.paper import PT_PER_IN
from seamwright.picture.tints import INK, QUIET
from seamwright.rehearsal.line import StitchLine
from seamwright.rehearsal.model import SewnStep
from seamwright.rehearsal.overlay import common, less
from seamwright.rehearsal.sides import PAPER, Sides
from seamwright.rehearsal.view import Panel, wrong_side

HIGH_IN = 2.1
"""Height of the work in a picture."""
LEAST_HIGH_IN = 0.9
"""Room for a tool."""
NAME_PT = (10.0, 9.0, 8.0, 7.0)
FAR = 100.0
MOST_IN = 3.5
"""Of the work round a fold, or as much as the line is long."""
OFFCUT = "#F1F1F1"


@dataclass(slots=True)
class _Scene:
    """A picture while it is drawn: the work in its own place, turned as it lies on the table; then tools.

    Attributes:
        panel: the work is drawn in it round the origin, before it is turned.
        turn_deg: clockwise as seen. size: of the figure.
    """

    panel: Panel
    turn_deg: float
    size: Point
    kind: Type
    inks: list[Ink] = field(default_factory=list)
    tools: list[Ink] = field(default_factory=list)

    @property
    def affine(self) -> Affine:
        """From the panel to the figure."""
        cos, sin = math.cos(math.radians(self.turn_deg)), math.sin(math.radians(self.turn_deg))
        return (cos, sin, -sin, cos, self.size[0] / 2, self.size[1] / 2)

    def at(self, point: Point) -> Point:
        """Where a point of the block lies in the figure."""
        return moved(self.affine, self.panel.point(point))

    def name(self, name: str, ring: Ring, clear_of: Iterable[Ring] = (), *, always: bool = False) -> None:
        """A patch's name where it finds room, upright; `always`: else beside the work, with a line to it."""
        words = place_words(
            [self.at(p) for p in ring], name, self.kind.sizes(*NAME_PT), bold=True, obstacles=list(clear_of)
        )
        if words is not None:
            self.tools.insert(0, Words(words.text, words.at, words.size_pt, words.anchor, bold=True, colour=INK))
        elif always:
            self.tools += self._led(name, [self.at(p) for p in ring])

    def _led(self, name: str, ring: Sequence[Point]) -> list[Ink]:
        """A name at the left or right end of the picture, as near its patch as it can be; none without room."""
        (size,) = self.kind.sizes(NAME_PT[-1])
        lines = [LineString(p) for ink in self.inks if (p := _drawn(ink, self.affine))]
        in_the_way = shapely.union_all(lines)
        (x, y), half = roomiest(ring)
        wide, high = width_pt(name, size, True) / PT_PER_IN, size / PT_PER_IN
        spots = [
            (left, 0.05 + high / 2 + 0.05 * step)
            for left in (0.02, self.size[0] - wide - 0.02)
            for step in range(math.ceil((self.size[1] - 0.1 - high) / 0.05))
        ]
        free = [
            (math.hypot(left + wide / 2 - x, middle - y), left, middle)
            for left, middle in spots
            if not in_the_way.intersects(
                shapely.box(left - 0.04, middle - high / 2, left + wide + 0.04, middle + high / 2)
            )
        ]
        if not free:
            return []
        _, left, middle = min(free)
        # Into the patch beside the pin, which lies level in its middle.
        end = (x, y + 0.6 * half * (1 if middle > y else -1))
        start = (left + wide + 0.03, middle) if left < x else (left - 0.03, middle)
        return [
            Stroke(Pen.HELPER, (start, end), colour=INK),
            Words(name, (left, middle + 0.36 * high), size, bold=True, colour=INK),
        ]

    def figure(self, says: str, label: str) -> Figure:
        """All of it, with a word for the side below."""
        width, height = self.size
        words = self.kind.label(label, width / 2, height, width)
        work = (move_ink(ink, self.affine) for ink in self.inks)
        return Figure(
            (*work, *self.tools, *words), width, height + self.kind.high_in(len(words)), says, self.kind.scale
        )


class Shower:
    """The pictures of one section.

    Args:
        hand: 1: the right one holds cutter and iron; -1: the left one.
    """

    def __init__(self, sides: Sides, allowance: float, hand: float, kind: Type) -> None:
        self.sides, self.allowance, self.hand, self.kind = sides, allowance, hand, kind
        self.first, self.second = sides.sewn.steps[:2]
        seam = self.second.seam
        assert seam is not None
        self.seam, self.line = seam, StitchLine(seam.start, seam.end)
        self.one, self.two = sides.section.patches[:2]

    def figures(self) -> tuple[Figure, ...]:
        """The six of them."""
        return (self._light(), self._fold(), self._edge(), self._stitch(), self._press(), self._trim())

    # -- one picture each ------------------------------------------------------------------------------------

    def _light(self) -> Figure:
        scene = self._scene(self._window(), mirrored=True)
        scene.inks += self.sides.at_needle(scene.panel, self.first)
        # Pinned beside the line that is folded next, not across it.
        ring = [scene.at(p) for p in self.one.ring]
        middle, half = roomiest(ring)
        reach = min(0.2, max(half, 0.08))
        scene.tools += pin(middle, (self.hand, 0.0), reach)
        corners = [scene.at(p) for p in shapely.get_coordinates(self.first.table[0].shape).tolist()]
        clear = [_around(middle, reach + 0.05, 0.05), *pairwise(corners)]
        scene.name(self.one.name, self.one.ring, clear, always=True)
        scene.name(self.two.name, self.two.ring, clear)
        says = f"The paper from its printed side, behind it, dashed, the larger fabric of {self.one.name}"
        return scene.figure(says, "Printed side; dashed: the fabric behind the paper")

    def _fold(self) -> Figure:
        line, allowance = self.line, self.allowance
        beyond = line.rectangle(-FAR, FAR, 0.0, FAR)
        paper = self.sides.rough
        kept, flap = less(paper, beyond), line.mirrored(common(paper, beyond))
        cloth = self.first.table[0].shape
        offcut = common(cloth, line.rectangle(-FAR, FAR, allowance, FAR))
        near = _near(line, allowance, [kept, flap, cloth])
        window = line.rectangle(near[0], near[1], near[2], near[3])
        scene = self._scene(window, mirrored=True, upright=(line.ahead, True))
        panel, pale = scene.panel, wrong_side(self.sides.colours[self.one.name])
        scene.inks += panel.filled(common(less(cloth, offcut), window), pale, edge=QUIET)
        scene.inks += panel.filled(common(offcut, window), OFFCUT, edge=QUIET)
        scene.inks += panel.filled(common(kept, window), PAPER, edge=QUIET)
        outline = Polygon(self.sides.section.outline)
        scene.inks += panel.edges(outline, common(kept, window), Pen.STITCH, INK)
        scene.inks += panel.filled(common(flap, window), PAPER, edge=INK)
        scene.inks.append(
            Stroke(Pen.BOLD, panel.line((line.place(near[0], 0), line.place(near[1], 0))), colour=INK)
        )
        self._cut(scene, line.place(0.0, allowance), line.place(line.length, allowance))
        says = (
            "The paper folded back on the line, a ruler a seam allowance beyond the fold, the blade along its edge"
        )
        return scene.figure(says, "Paper folded back; grey: what is cut off")

    def _edge(self) -> Figure:
        scene = self._scene(self._front_window(), mirrored=False)
        panel, colours = scene.panel, self.sides.colours
        scene.inks += panel.filled(self.sides.rough, PAPER, edge=QUIET)
        for cloth in self.second.table[:-1]:
            scene.inks += panel.filled(cloth.shape, colours[cloth.patch])
        scene.inks += panel.filled(self.second.laid, wrong_side(colours[self.two.name]), edge=INK)
        scene.inks.append(Stroke(Pen.HELPER, panel.line((self.seam.start, self.seam.end)), colour=INK))
        start, end = (scene.at(p) for p in (self.seam.start, self.seam.end))
        across = (-(end[1] - start[1]), end[0] - start[0])
        # Across the line, the head on the side of the hand that pulls it out.
        sense = self.hand if across[0] > 1e-6 or (abs(across[0]) <= 1e-6 and across[1] > 0) else -self.hand
        length = math.hypot(*across)
        for share in (0.25, 0.75) if length > 0.8 else (0.5,):
            place = scene.at(self.line.place(share * self.line.length, 0.0))
            scene.tools += pin(place, (sense * across[0] / length, sense * across[1] / length), 0.2)
        says = f"The fabric of {self.two.name}, wrong side up, on that of {self.one.name}, edge on edge, pinned"
        return scene.figure(says, "Fabric side; pale: wrong side up; dashed: the line below")

    def _stitch(self) -> Figure:
        scene = self._scene(self._window(), mirrored=True)
        scene.inks += self.sides.at_needle(scene.panel, self.second)
        start, end = (scene.at(p) for p in self.seam.needle)
        length = math.dist(start, end)
        ahead = ((end[0] - start[0]) / length, (end[1] - start[1]) / length)
        scene.tools += foot(start, ahead)
        aside = (-ahead[1] * 0.19, ahead[0] * 0.19)
        away = (start[0] + 0.35 * (end[0] - start[0]) + aside[0], start[1] + 0.35 * (end[1] - start[1]) + aside[1])
        reach = 0.5 * length
        scene.tools += arrow(away, (away[0] + reach * ahead[0], away[1] + reach * ahead[1]))
        clear = [_around(start, 0.3, 0.3), (away, (away[0] + reach * ahead[0], away[1] + reach * ahead[1]))]
        scene.name(self.one.name, self.one.ring, clear)
        scene.name(self.two.name, self.two.ring, clear)
        says = "The printed side under the presser foot, the line of stitches bold, longer than printed"
        return scene.figure(says, "Printed side; bold: the stitching")

    def _press(self) -> Figure:
        scene = self._scene(self._front_window(), mirrored=False)
        scene.inks += self.sides.front(scene.panel, self.second)
        middle = self.second.table[-1].shape.representative_point()
        scene.tools += _kept_in(iron(scene.at((middle.x, middle.y)), self.hand), scene.size)
        says = (
            f"{self.two.name} flipped over, right side up, an iron coming from the side of the hand that holds it"
        )
        return scene.figure(says, "Fabric side, from the front")

    def _trim(self) -> Figure:
        last = self.sides.sewn.steps[-1]
        corners = canonical_ring(self._trim_ring())
        sides = list(pairwise((*corners, corners[0])))
        longest = max(math.dist(*side) for side in sides)
        side = next(s for s in sides if math.dist(*s) > longest - 1e-6)
        ahead = _unit(*side)
        window = shapely.box(*self.sides.window)
        scene = self._scene(window, mirrored=True, upright=(ahead, False))
        seen = _clipped_table(last, window)
        for shape, patch in reversed(seen):
            scene.inks += scene.panel.filled(shape, wrong_side(self.sides.colours[patch]), edge=QUIET)
        scene.inks += scene.panel.filled(self.sides.rough, PAPER, edge=QUIET)
        scene.inks += self.sides.lines(scene.panel, len(self.sides.sewn.steps) + 1)
        self._cut(scene, *side)
        says = (
            "The whole section from its printed side, a ruler along the dashed trim line, the blade along its edge"
        )
        return scene.figure(says, "Printed side, all patches on")

    def _trim_ring(self) -> Ring:
        trim = self.sides.sewn.trim
        assert isinstance(trim, Polygon)
        return tuple((float(x), float(y)) for x, y in trim.exterior.coords[:-1])

    # -- what they share -------------------------------------------------------------------------------------

    def _window(self) -> BaseGeometry:
        return shapely.box(*self.sides.window)

    def _front_window(self) -> BaseGeometry:
        shapes = [self.sides.rough, self.second.laid, *(c.shape for c in self.second.table)]
        return shapely.box(*shapely.total_bounds(shapes))

    def _scene(self, window: BaseGeometry, *, mirrored: bool, upright: tuple[Point, bool] | None = None) -> _Scene:
        """A scene that shows a window of the block.

        Args:
            upright: a direction in the block that lies straight up or down in the picture, and whether what is cut
                off lies on the side of greater v of a stitch line along it (else on its other hand, as outside a
                clockwise ring): that is turned to the side of the hand that cuts.
        """
        turn = 0.0
        if upright is not None:
            (dx, dy), is_right = upright
            # The way out of what is kept, seen from the printed side.
            out = (-dy, dx) if is_right else (dy, -dx)
            across = -out[0] if mirrored else out[0]
            turn = -math.degrees(math.atan2(out[1], across)) + (0.0 if self.hand > 0 else 180.0)
        corners = [(float(x), float(y)) for x, y in shapely.get_coordinates(window)]
        middle = ((min(x for x, _ in corners) + max(x for x, _ in corners)) / 2,
                  (min(y for _, y in corners) + max(y for _, y in corners)) / 2)  # fmt: skip
        cos, sin = math.cos(math.radians(turn)), math.sin(math.radians(turn))
        sense = -1.0 if mirrored else 1.0
        seen = [(sense * (x - middle[0]), y - middle[1]) for x, y in corners]
        turned = [(cos * x - sin * y, sin * x + cos * y) for x, y in seen]
        wide, high = (2 * max(abs(p[k]) for p in turned) for k in (0, 1))
        margin = 0.06
        scale = min((PICTURE_IN - 2 * margin) / wide, (HIGH_IN - 2 * margin) / high, 1.25)
        panel = Panel((0.0, 0.0), 1.0, middle, scale, mirrored)
        return _Scene(panel, turn, (PICTURE_IN, max(scale * high + 2 * margin, LEAST_HIGH_IN)), self.kind)

    def _cut(self, scene: _Scene, *edge: Point) -> None:
        """Ruler and cutter along a line of the block that lies straight up in the picture."""
        bottom, top = sorted((scene.at(p) for p in edge), key=lambda p: -p[1])
        height = scene.size[1]
        low, high = min(bottom[1] + 0.25, height - 0.03), max(top[1] - 0.25, 0.03)
        allowance = self.allowance * scene.panel.scale
        scene.tools += ruler((bottom[0], low), (bottom[0], high), self.hand, allowance)
        scene.tools += cutter((bottom[0], high + 0.42 * (low - high)), self.hand)


def _drawn(ink: Ink, affine: Affine) -> list[Point]:
    """The corners of a line or of the border of an area, as it lies in the picture."""
    points = ink.points if isinstance(ink, Stroke) else ink.rings[0] if isinstance(ink, Area) else ()
    return [moved(affine, p) for p in points] if len(points) > 1 else []


def _kept_in(inks: list[Ink], size: Point) -> list[Ink]:
    """A tool moved as far as it must be to lie within a picture."""
    points = [p for ink in inks if isinstance(ink, Stroke) for p in ink.points]
    left, top, right, bottom = bounds(points)
    across = max(0.02 - left, 0.0) - max(right - size[0] + 0.02, 0.0)
    down = max(0.02 - top, 0.0) - max(bottom - size[1] + 0.02, 0.0)
    return [move_ink(ink, (1, 0, 0, 1, across, down)) for ink in inks]


def _near(line: StitchLine, allowance: float, shapes: Sequence[BaseGeometry]) -> tuple[float, float, float, float]:
    """How much of the work round a fold is shown, measured along it and across."""
    around = shapely.union_all(shapes)
    uv = line.measured(shapely.get_coordinates(around))
    (u0, v0), (u1, v1) = uv.min(axis=0), uv.max(axis=0)
    around_in = max(MOST_IN, line.length)
    middle = line.length / 2
    return (
        max(float(u0) - 0.1, middle - around_in * 0.75),
        min(float(u1) + 0.1, middle + around_in * 0.75),
        max(float(v0) - 0.1, -around_in),
        min(float(v1), allowance + 1.0) + 0.1,
    )


def _clipped_table(step: SewnStep, window: BaseGeometry) -> list[tuple[BaseGeometry, str]]:
    return [(common(cloth.shape, window), cloth.patch) for cloth in step.table]


def _around(at: Point, across: float, down: float) -> Ring:
    x, y = at
    return ((x - across, y - down), (x + across, y - down), (x + across, y + down), (x - across, y + down))


def _unit(a: Point, b: Point) -> Point:
    length = math.dist(a, b)
    return ((b[0] - a[0]) / length, (b[1] - a[1]) / length)
