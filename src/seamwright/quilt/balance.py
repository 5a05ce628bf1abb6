"""How light and dark lie in a quilt: shares by value, a histogram of greys by area, and how its parts compare.

Knows:  the area of every fabric, whole and by halves and quadrants.
Leaves: how light a fabric reads (fabric.shade), what to make of it (advice).
Units:  square inches, finished; lightness L* from 0 to 100; shares of 1.
Method: blocks that lie in one quadrant count as a whole; only those that the middle lines cross are cut, patch by
        patch. The greys are those of the colours, as the picture in greys shows them; only of a fabric whose value
        alone is known that is taken. Light, medium and dark are as the owner says, else by the colour.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from seamwright.block.asseen import as_seen
from seamwright.block.model import Block
from seamwright.fabric.model import Fabric, Value
from seamwright.fabric.shade import colour_lightness, light_of, lightness, value_of
from seamwright.geometry import Affine, Point, Ring, clipped, moved, signed_area
from seamwright.quilt.model import Quilt

STEPS = 8
"""Greys of the histogram: as many as an eye tells apart at arm's length without comparing, our own judgement."""
PARTS = ("top left", "top right", "bottom right", "bottom left")
HALVES = {
    "top": ("top left", "top right"),
    "bottom": ("bottom left", "bottom right"),
    "left": ("top left", "bottom left"),
    "right": ("top right", "bottom right"),
}


@dataclass(frozen=True, slots=True)
class Balance:
    """Light and dark in a quilt.

    Attributes:
        area_in2: of the whole top.
        fabrics: (name, area) of each, in the order of the quilt's; None for what has no fabric.
        values: share of each value; what is not known is the rest.
        greys: share of the known area in each of STEPS equal steps of L*, the darkest first; () if none is known.
        means: mean L* of each of PARTS and HALVES by name, and of "all"; what is not known is left out.
        known: share of the area of which it is known how light it reads.
    """

    area_in2: float
    fabrics: tuple[tuple[str | None, float], ...]
    values: tuple[tuple[Value, float], ...]
    greys: tuple[float, ...]
    means: tuple[tuple[str, float], ...]
    known: float

    def mean(self, part: str) -> float | None:
        """Mean lightness of a part, None if it is not known."""
        return dict(self.means).get(part)


_Shapes = list[tuple[Ring, tuple[Ring, ...], str | None]]


def balance(quilt: Quilt) -> Balance:
    """What a quilt comes to in light and dark."""
    fabrics = {fabric.name: fabric for fabric in quilt.fabrics}
    parts: list[dict[str | None, list[float]]] = [{} for _ in PARTS]
    middle = (quilt.width_in / 2, quilt.height_in / 2)
    shapes = [_shapes(look.block) for look in quilt.looks]
    whole = [_areas(found) for found in shapes]
    for spot in quilt.spots:
        block = quilt.looks[spot.look].block
        corners = [moved(spot.place, (x, y)) for x in (0.0, block.width_in) for y in (0.0, block.height_in)]
        part = _within(corners, middle)
        if part is not None:
            _add(parts[part], whole[spot.look])
        else:
            _cut(parts, shapes[spot.look], spot.place, middle)
    for cloth in quilt.cloths:
        _cut(parts, [(cloth.ring, (), cloth.fabric or None)], (1.0, 0.0, 0.0, 1.0, 0.0, 0.0), middle)
    sums = [{name: math.fsum(areas) for name, areas in part.items()} for part in parts]
    names = list(dict.fromkeys([*fabrics, *(name for part in sums for name in part)]))
    total = {name: math.fsum(part.get(name, 0.0) for part in sums) for name in names}
    total = {name: area for name, area in total.items() if area > 0}
    area = math.fsum(total.values())
    light = {name: grey_lightness(fabrics[name]) for name in total if name is not None and name in fabrics}
    known = math.fsum(total[name] for name, grey in light.items() if grey is not None)
    values = {name: value_of(fabrics[name]) for name in total if name is not None and name in fabrics}
    means = [
        (part, _mean([(sums[n], light) for n, p in enumerate(PARTS) if p in of])) for part, of in _parts().items()
    ]
    return Balance(
        area,
        tuple(sorted(total.items(), key=lambda pair: names.index(pair[0]))),
        tuple((v, math.fsum(total[name] for name, value in values.items() if value is v) / area) for v in Value),
        _greys(total, light, known),
        tuple((part, mean) for part, mean in means if mean is not None),
        known / area,
    )


def grey_lightness(fabric: Fabric) -> float | None:
    """L* of the grey that stands for a fabric in a picture: of its colour, else that of its value.

    >>> grey_lightness(Fabric("sail", colour="#ffffff", value=Value.DARK)), grey_lightness(Fabric("x"))
    (100.0, None)
    """
    return lightness(fabric) if fabric.colour is None else colour_lightness(fabric.colour)


def grey_of_step(step: int) -> float:
    """Relative luminance of the middle of a step of the histogram."""
    return light_of((step + 0.5) * 100 / STEPS)


def _parts() -> dict[str, tuple[str, ...]]:
    return {"all": PARTS, **HALVES, **{part: (part,) for part in PARTS}}


def _mean(parts: Iterable[tuple[dict[str | None, float], dict[str, float | None]]]) -> float | None:
    weights: list[tuple[float, float]] = []
    for areas, light in parts:
        for name, area in areas.items():
            grey = None if name is None else light.get(name)
            if grey is not None:
                weights.append((area, grey))
    over = math.fsum(area for area, _ in weights)
    return math.fsum(area * grey for area, grey in weights) / over if over else None


def _greys(total: dict[str | None, float], light: dict[str, float | None], known: float) -> tuple[float, ...]:
    if not known:
        return ()
    steps: list[list[float]] = [[] for _ in range(STEPS)]
    for name, grey in light.items():
        if grey is not None:
            steps[min(STEPS - 1, int(grey * STEPS / 100))].append(total[name])
    return tuple(math.fsum(step) / known for step in steps)


def _shapes(block: Block) -> _Shapes:
    seen, _ = as_seen(block)
    return [(seen.patch_ring(n), seen.patch_holes(n), patch.fabric) for n, patch in enumerate(seen.patches)]


def _areas(shapes: _Shapes) -> list[tuple[str | None, float]]:
    """The area of each fabric of a block."""
    found: dict[str | None, list[float]] = {}
    for ring, holes, fabric in shapes:
        found.setdefault(fabric, []).extend([_area(ring), *(-_area(hole) for hole in holes)])
    return [(fabric, math.fsum(areas)) for fabric, areas in found.items()]


def _area(ring: Sequence[Point]) -> float:
    return abs(signed_area(ring)) if len(ring) > 2 else 0.0


def _within(corners: Sequence[Point], middle: Point, slack: float = 1e-9) -> int | None:
    """The quadrant that holds all of these points, None if the middle lines part them."""
    left = all(x <= middle[0] + slack for x, _ in corners)
    right = all(x >= middle[0] - slack for x, _ in corners)
    top = all(y <= middle[1] + slack for _, y in corners)
    bottom = all(y >= middle[1] - slack for _, y in corners)
    for part, (across, down) in enumerate(((left, top), (right, top), (right, bottom), (left, bottom))):
        if across and down:
            return part
    return None


def _add(part: dict[str | None, list[float]], areas: Iterable[tuple[str | None, float]]) -> None:
    for fabric, area in areas:
        part.setdefault(fabric, []).append(area)


def _cut(parts: list[dict[str | None, list[float]]], shapes: _Shapes, place: Affine, middle: Point) -> None:
    """Adds to each quadrant what of these shapes lies in it."""
    for ring, holes, fabric in shapes:
        around = [[moved(place, point) for point in one] for one in (ring, *holes)]
        part = _within(around[0], middle)
        for number, into in enumerate(parts):
            if part is not None and number != part:
                continue
            pieces = [_area(one if part is not None else _quadrant(one, number, middle)) for one in around]
            _add(into, [(fabric, pieces[0] - math.fsum(pieces[1:]))])


def _quadrant(ring: Sequence[Point], number: int, middle: Point) -> Ring:
    """What of a shape lies in a quadrant.

    Cutting by one line at a time leaves, of a shape with inside corners, parts that hang together along the line:
    their area is right all the same, for what runs there and back encloses nothing.
    """
    right, down = number in (1, 2), number in (2, 3)
    kept = clipped(ring, math.pi if right else 0.0, -middle[0] if right else middle[0])
    if len(kept) < 3:
        return ()
    return clipped(kept, -math.pi / 2 if down else math.pi / 2, -middle[1] if down else middle[1])
