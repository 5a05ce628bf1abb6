"""Drawing cloth and paper: both sides of the work, as ink on a page.

Knows:  a panel of the page, mirrored or not; cloth, outlines, names.
Leaves: which picture shows what (pictures).
Units:  inches on the page; block inches are brought to it by the panel's scale.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace

import shapely
from shapely.geometry import LineString, MultiPoint, Polygon
from shapely.geometry.base import BaseGeometry

from seamwright.geometry import Point, Ring
from seamwright.ink.lettering import looks_turned, words_box
from seamwright.ink.model import Area, Ink, Pen, Stroke, Words
from seamwright.ink.place import place_words, roomiest
from seamwright.picture.tints import INK, on

NAME_SIZES_PT = (12.0, 11.0, 10.0, 9.0, 8.0)
NUMBER_SIZES_PT = (9.0, 8.0)
LED_PT = 8.0
"""A name that finds no room in its patch stands beside the work, with a leader."""
THIN_IN = 1 / 1000
"""What overlays leave that is thinner on the page no file holds and nobody sees."""
FREE_IN = 0.015
"""White left between words and a line that makes way for them."""
PALER = 0.6
"""Share of white in the wrong side of a fabric."""
Bounds = tuple[float, float, float, float]


@dataclass(frozen=True, slots=True)
class Panel:
    """A square of the page on which one side of the work is drawn.

    Attributes:
        centre: on the page; side: of the square.
        middle: the place in the block that lies at the centre.
        scale: inches of the page to one of the block.
        mirrored: seen from the printed side.
    """

    centre: Point
    side: float
    middle: Point
    scale: float
    mirrored: bool

    @staticmethod
    def around(bounds: Bounds, centre: Point, side: float, mirrored: bool) -> Panel:
        """The panel in which all that lies in `bounds` finds room."""
        return Panel.within(bounds, centre, side, side, mirrored)

    @staticmethod
    def within(bounds: Bounds, centre: Point, width: float, height: float, mirrored: bool) -> Panel:
        """The same in a rectangle of the page."""
        left, top, right, bottom = bounds
        middle = ((left + right) / 2, (top + bottom) / 2)
        scale = min(width / (right - left), height / (bottom - top))
        return Panel(centre, max(width, height), middle, scale, mirrored)

    def point(self, point: Point) -> Point:
        """Where a point of the block lies on the page."""
        across, down = point[0] - self.middle[0], point[1] - self.middle[1]
        sense = -self.scale if self.mirrored else self.scale
        return (self.centre[0] + sense * across, self.centre[1] + self.scale * down)

    def line(self, points: Iterable[Point]) -> tuple[Point, ...]:
        """A line or ring of the block on the page."""
        return tuple(self.point(p) for p in points)

    def rings(self, shape: BaseGeometry) -> list[tuple[Ring, ...]]:
        """For each part of an area its rings on the page, the outer one first; none for slivers."""
        return [
            tuple(
                self.line((float(x), float(y)) for x, y in ring.coords[:-1]) for ring in (p.exterior, *p.interiors)
            )
            for p in shapely.get_parts(shape)
            if isinstance(p, Polygon) and 2 * p.area * self.scale > THIN_IN * p.length
        ]

    def filled(self, shape: BaseGeometry, colour: str, pen: Pen | None = Pen.RULE, edge: str = "") -> list[Ink]:
        """An area with its edges, white on dark cloth if `edge` names no other colour."""
        inks: list[Ink] = []
        for rings in self.rings(shape):
            inks.append(Area(rings, colour))
            if pen is not None:
                inks += [Stroke(pen, ring, closed=True, colour=edge or on(colour)) for ring in rings]
        return inks

    def edges(
        self, shape: BaseGeometry, window: BaseGeometry, pen: Pen, colour: str, free: Sequence[Ring] = ()
    ) -> list[Ink]:
        """The edges of an area as far as a window shows them, words on the page (boxes `free`) left free."""
        seen = shapely.intersection(shape.boundary, window)
        lines = [self.line((float(x), float(y)) for x, y in part.coords) for part in _strings(seen)]
        kept: BaseGeometry = shapely.MultiLineString([line for line in lines if len(line) > 1])
        if free:
            kept = kept.difference(shapely.union_all([Polygon(ring).buffer(FREE_IN) for ring in free]))
        return [
            Stroke(pen, tuple((float(x), float(y)) for x, y in part.coords), colour=colour)
            for part in _strings(shapely.line_merge(kept))
        ]

    def outlined(self, shape: BaseGeometry, pen: Pen, colour: str = INK, halo: bool = False) -> list[Ink]:
        """The edges of an area; with a halo they show on dark cloth too."""
        rings = [ring for rings in self.rings(shape) for ring in rings]
        below: list[Ink] = [Stroke(Pen.BOLD, ring, closed=True, colour="#FFFFFF") for ring in rings] if halo else []
        return [*below, *(Stroke(pen, ring, closed=True, colour=colour) for ring in rings)]


def _strings(lines: BaseGeometry) -> list[LineString]:
    return [part for part in shapely.get_parts(lines) if isinstance(part, LineString)]


@dataclass(frozen=True, slots=True)
class Named:
    """A name to be written into a patch: the full one, the number alone, the patch's ring in the block."""

    name: str
    number: str
    ring: Ring


@dataclass(frozen=True, slots=True)
class NameSizes:
    """Type sizes to try in turn: for whole names, for numbers alone, for names beside the work with a leader."""

    names_pt: tuple[float, ...] = NAME_SIZES_PT
    numbers_pt: tuple[float, ...] = NUMBER_SIZES_PT
    led_pt: float = LED_PT


class Names:
    """Where the names of a section's patches stand in a panel: the same in all its pictures.

    Args:
        work: names beside the work keep clear of its hull.
        room: within which such names stand; () for a little more than the panel.
        taken: convex shapes of which such names keep clear too.
    """

    def __init__(
        self,
        panel: Panel,
        named: Sequence[Named],
        work: BaseGeometry,
        sizes: NameSizes = NameSizes(),
        room: Ring = (),
        taken: Sequence[Ring] = (),
    ) -> None:
        self._words: dict[str, Words] = {}
        self._leaders: dict[str, tuple[Point, Point]] = {}
        self._homeless: set[str] = set()
        self._sizes, self._room = sizes, room or _square(panel)
        hull = MultiPoint([p for ring in panel.rings(work) for p in ring[0]]).convex_hull
        self._taken: list[Ring] = list(taken)
        if isinstance(hull, Polygon):
            self._taken.append(tuple((float(x), float(y)) for x, y in hull.exterior.coords[:-1]))
        for patch in named:
            ring = panel.line(patch.ring)
            words = place_words(ring, patch.name, sizes.names_pt, bold=True, clearance_pt=2.0)
            words = words or place_words(
                ring, patch.number, sizes.numbers_pt, bold=True, underline=looks_turned(patch.number)
            )
            if words is None:
                words = self._led(patch, ring)
            self._words[patch.name] = words

    def _led(self, patch: Named, ring: Ring) -> Words:
        inside, _ = roomiest(ring)
        size, taken = self._sizes.led_pt, self._taken
        words = place_words(
            self._room, patch.name, (size,), obstacles=taken, bold=True, clearance_pt=2.0, near=inside
        )
        if words is None:
            self._homeless.add(patch.name)
            return Words(patch.name, inside, size, bold=True)
        box = words_box(words)
        taken.append(box)
        start = shapely.shortest_line(Polygon(box), shapely.Point(inside)).coords[0]
        self._leaders[patch.name] = ((float(start[0]), float(start[1])), inside)
        return words

    def is_inside(self, name: str) -> bool:
        """Whether a name stands inside its patch."""
        return name not in self._leaders and name not in self._homeless

    def is_beside(self, name: str) -> bool:
        """Whether it stands beside the work; one that is neither has no room, and lies over lines."""
        return name in self._leaders

    def boxes(self, names: Iterable[str]) -> list[Ring]:
        """What these names fill on the page."""
        return [words_box(self._words[name]) for name in names]

    def ink(self, colours: Mapping[str, str]) -> list[Ink]:
        """The names of some patches, each on cloth or paper of a colour."""
        inks: list[Ink] = []
        for name, ground in colours.items():
            words, leader = self._words[name], self._leaders.get(name)
            if leader is not None:
                inks.append(Stroke(Pen.RULE, leader, colour=INK))
                inks += [replace(words, colour=INK)]
            else:
                inks.append(replace(words, colour=on(ground)))
        return inks


def _square(panel: Panel) -> Ring:
    (x, y), half = panel.centre, panel.side / 2 + 0.3
    return ((x - half, y - half), (x + half, y - half), (x + half, y + half), (x - half, y + half))


def wrong_side(colour: str) -> str:
    """How the wrong side of a fabric looks: the same, paler."""
    channels = (int(colour[i : i + 2], 16) for i in (1, 3, 5))
    return "#" + "".join(f"{round(c + (255 - c) * PALER):02x}" for c in channels)
