"""How the plain pieces of a quilt are cut: setting blocks and triangles, sashes, cornerstones, border strips.

Knows:  the shape and size of each, which of them are cut alike, how a print that runs one way lies in them.
Leaves: sizes of squares, rectangles and triangles (fabric.rulers), strips longer than the fabric (longstrips).
Units:  inches.
Method: a triangle with its legs on the grain is half of a square, one with its long side on the grain a quarter; so
        no outer edge of the quilt is on the bias. Mitred strips are cut longer, and trimmed once the corner is
        sewn; coping strips wider, and trimmed once they are sewn on (common practice). A square cut twice gives a
        triangle for each side of the quilt, a square cut once gives triangles for two opposite corners: that is how
        a print that runs one way comes to lie upright in all of them.
Limits: a rectangle that stands askew to a print that runs one way is cut along its own sides.
"""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace

from seamwright.fabric.model import Fabric
from seamwright.fabric.pieces import Lay, Piece, Shape
from seamwright.fabric.rulers import SAME_DEG, Ruler, equal_legs, is_rectangle, off_grain
from seamwright.geometry import Point, Ring, bounds, canonical_ring
from seamwright.options import Units
from seamwright.quilt.bordernotes import SPARE_IN, WIDER_IN
from seamwright.quilt.cutmodel import Counted
from seamwright.quilt.model import SIDES, Cloth, Quilt, Role
from seamwright.units import say_size

_GRID_IN = 1 / 128
"""Sizes that differ by less are cut alike."""
_TIP = math.sqrt(2)
"""At a tip of 45 degrees allowances s wide on both sides meet s (1 + sqrt 2) beyond it, along either side: so much
more than at a square corner, for each inch of s."""


def plain_pieces(quilt: Quilt, fabrics: Mapping[str, Fabric], ruler: Ruler) -> tuple[Counted, ...]:
    """All plain pieces of a quilt, those that are cut alike counted together, in order of appearance.

    Args:
        fabrics: what is known of them, by name.
        ruler: of the quilt's units and allowance.
    """
    alike: dict[tuple[object, ...], list[int]] = {}
    cut: dict[int, Piece] = {}
    for number, cloth in enumerate(quilt.cloths):
        cut[number] = piece = _piece(cloth, fabrics.get(cloth.fabric), ruler)
        size = tuple(round(side / _GRID_IN) for side in (piece.width_in, piece.height_in))
        part = cloth.part if cloth.role in _OF_BORDERS else ""
        alike.setdefault((cloth.role, part, piece.fabric, piece.shape, size, piece.runs), []).append(number)
    groups = list(alike.values())
    names = _names([[quilt.cloths[number] for number in group] for group in groups], ruler.units)
    return tuple(
        Counted(replace(cut[group[0]], name=name + more, share=share), count, cloths=tuple(group))
        for name, group in zip(names, groups, strict=True)
        for count, share, more in _shares([quilt.cloths[number].ring for number in group], cut[group[0]])
    )


_OF_BORDERS = (Role.COPING, Role.BORDER, Role.BORDER_CORNER)


# -- one piece -----------------------------------------------------------------------------------------------


def _piece(cloth: Cloth, fabric: Fabric | None, ruler: Ruler) -> Piece:
    ring = canonical_ring(cloth.ring, 1e-6)
    direction = print_deg(cloth, fabric)
    longest = max(_sides(ring), key=lambda side: round(math.dist(*side), 4))
    if is_rectangle(ring):
        return _along(cloth, longest, direction, ruler, 0.0)
    if legs := equal_legs(ring):
        return _triangle(cloth, legs, direction, ruler)
    if cloth.role is Role.BORDER:
        return _along(cloth, longest, direction, ruler, 2 * SPARE_IN[ruler.units])
    # A strip that the edge of the quilt slants is cut with square ends, and trimmed once it is sewn on.
    return _along(cloth, longest, direction, ruler, 2 * _TIP * ruler.allowance_in)


def _along(cloth: Cloth, side: tuple[Point, Point], direction: float | None, ruler: Ruler, more_in: float) -> Piece:
    """A rectangle along a side, so much longer than what it becomes; of a print that runs one way the right way."""
    (ax, ay), (bx, by) = side
    turn = math.atan2(by - ay, bx - ax)
    ux, uy = math.cos(turn), math.sin(turn)
    seen = [(x * ux + y * uy, y * ux - x * uy) for x, y in cloth.ring]
    u0, v0, u1, v1 = bounds(seen)
    wider_in = WIDER_IN[ruler.units] if cloth.role is Role.COPING else 0.0
    width, height = ruler.square(u1 - u0 + more_in), ruler.square(v1 - v0 + wider_in)
    middle = ((u0 + u1) / 2, (v0 + v1) / 2)
    corners = [
        (middle[0] + i * width / 2, middle[1] + j * height / 2) for i, j in ((-1, -1), (1, -1), (1, 1), (-1, 1))
    ]
    outline = tuple((u * ux - v * uy, u * uy + v * ux) for u, v in corners)
    runs, grain = "", cloth.grain_deg
    if direction is not None:
        off = abs((math.degrees(turn) - direction + 90) % 180 - 90)
        # A print that lies aslant either way runs along the strip.
        runs = "width" if off <= 45 + SAME_DEG else "height"
        grain = math.degrees(turn) + (0 if runs == "width" else 90)
    return Piece(0, "", cloth.fabric or None, Shape.RECTANGLE, width, height, 1, outline, lay=Lay.PLAIN,
                 grain_deg=grain, one_way=direction is not None, runs=runs)  # fmt: skip


def _triangle(cloth: Cloth, legs: tuple[Point, Point, Point], direction: float | None, ruler: Ruler) -> Piece:
    """Half or a quarter of a square."""
    corner, one, _ = legs
    leg = math.dist(corner, one)
    grain = cloth.grain_deg
    on_leg = cloth.role is not Role.SIDE_TRIANGLE if grain is None else off_grain(corner, one, grain) <= SAME_DEG
    if on_leg:
        shape, share, side = Shape.HALF_SQUARE, 2, ruler.corner_setting(leg * math.sqrt(2))
    else:
        shape, share, side = Shape.QUARTER_SQUARE, 4, ruler.side_setting(leg)
    return Piece(0, "", cloth.fabric or None, shape, side, side, share, cloth.ring, lay=Lay.PLAIN,
                 one_way=direction is not None, runs="height" if direction is not None else "")  # fmt: skip


def print_deg(cloth: Cloth, fabric: Fabric | None) -> float | None:
    """The way in which a print or stripes that run one way lie in a plain piece of the quilt; None: any will do.

    Borders say it themselves, for stripes may go round with them; all else shows the fabric as it is stated.
    """
    if fabric is None or fabric.direction_deg is None:
        return None
    return cloth.grain_deg if cloth.role in _OF_BORDERS and cloth.grain_deg is not None else fabric.direction_deg


def is_askew(piece: Piece, cloth: Cloth, direction_deg: float) -> bool:
    """Whether a print that runs one way comes to lie aslant, since the piece is cut along its own sides."""
    if legs := equal_legs(canonical_ring(cloth.ring, 1e-6)):
        corner, one, two = legs
        side = (corner, one) if piece.shape is Shape.HALF_SQUARE else (one, two)
    else:
        side = (piece.outline[0], piece.outline[1])
    return off_grain(*side, direction_deg) > SAME_DEG


def _sides(ring: Sequence[Point]) -> list[tuple[Point, Point]]:
    return list(zip(ring, (*ring[1:], ring[0]), strict=True))


# -- pieces that are cut alike -------------------------------------------------------------------------------


def _shares(rings: Sequence[Ring], piece: Piece) -> Iterator[tuple[int, int, str]]:
    """(How many pieces, how many of one square, words behind the name) of each way that squares are used.

    Of a print that runs one way not all triangles of a square may be of use.
    """
    if not piece.one_way or piece.share == 1:
        yield len(rings), piece.share, ""
        return
    points = Counter(map(_points_to, rings))
    # A square cut twice gives a triangle for each of four ways, one cut once for two that are opposite.
    families = {turn % 90 if piece.shape is Shape.QUARTER_SQUARE else turn % 180 for turn in points}
    step = 90 if piece.shape is Shape.QUARTER_SQUARE else 180
    used: Counter[int] = Counter()
    for family in sorted(families):
        left = {turn: number for turn, number in points.items() if turn % step == family}
        while left:
            squares = min(left.values())
            used[len(left)] += squares * len(left)
            left = {turn: number - squares for turn, number in left.items() if number > squares}
    for share, count in sorted(used.items(), reverse=True):
        yield count, share, "" if share == max(used) else f", {share} of a square"


def _points_to(ring: Ring) -> int:
    """The way to which the square corner of a triangle points, to the nearest degree, clockwise from +x."""
    legs = equal_legs(canonical_ring(ring, 1e-6))
    assert legs is not None
    corner, one, two = legs
    across, down = (corner[axis] - (one[axis] + two[axis]) / 2 for axis in (0, 1))
    return round(math.degrees(math.atan2(down, across))) % 360


def _names(groups: Sequence[Sequence[Cloth]], units: Units) -> list[str]:
    """What pieces cut alike are called; their finished size behind it where others of that name differ."""
    plain = [_called(group) for group in groups]
    sized = [
        f"{name} {say_size(group[0].width_in, group[0].height_in, units)}" if plain.count(name) > 1 else name
        for name, group in zip(plain, groups, strict=True)
    ]
    return [
        f"{name} ({sized[:number].count(name) + 1})" if sized.count(name) > 1 else name
        for number, name in enumerate(sized)
    ]


def _called(group: Sequence[Cloth]) -> str:
    first = group[0]
    if first.role not in _OF_BORDERS:
        return first.role.value
    if first.role is Role.BORDER_CORNER:
        return f"{first.part} corner"
    rows = tuple(sorted({cloth.row for cloth in group}))
    sides = {(0, 1, 2, 3): "", (1, 3): " sides", (0, 2): " top and bottom"}
    name = f"{first.role.value}s of {first.part}" if first.role is Role.COPING else first.part
    return name + sides.get(rows, f" {' and '.join(SIDES[row % 4] for row in rows)}")
