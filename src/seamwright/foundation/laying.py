"""How pieces of fabric are laid, shown on the foundation: ticks, and what can be drawn of outlines.

Knows:  which marks a piece has there, where a word beside them finds room, what the legend says.
Leaves: how large a piece is and where it lies (cutting), what of an outline is drawn (fabric.laying).
Units:  inches as printed.
Method: ticks are short and needed exactly where they are, so words keep clear of them; outlines are drawn after the
        numbers and give way to them. Ticks are solid, outlines dotted: neither is like a line to stitch or cut on.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Sequence
from itertools import chain, product

import shapely
from shapely.geometry import LineString, MultiLineString, Polygon
from shapely.geometry.base import BaseGeometry

from seamwright.fabric.laying import APART_IN, Shown, off_most, room_of, shown
from seamwright.fabric.pieces import Lay as HowLaid
from seamwright.fabric.pieces import Piece
from seamwright.foundation.lay import Lay
from seamwright.foundation.model import Foundation, LaidPiece
from seamwright.foundation.printed import upright_deg
from seamwright.foundation.room import UNIT_PT, Room
from seamwright.geometry import Point, Ring, Segment
from seamwright.ink.lettering import width_pt, words_box
from seamwright.ink.model import Pen, Words
from seamwright.ink.place import CLEARANCE_PT
from seamwright.units import say_list

NAME_PT = 7.0
NAMELESS = "these have marks without a name"
FEW_MARKS = "few marks, or none, show where these lie; pin each and fold it back to see that it covers"
_NEAR_IN = 0.45
"""A name stands half as near to its mark, or where that is taken as near as this."""
_AIR_PT, _LEAST_AIR_PT = (3.0, 1.8), 1.0
"""White round a name: nearer to a line it looks underlined, nearer to a number it looks like a fabric."""


def place_ticks(room: Room, lay: Lay, pieces: Sequence[Piece]) -> None:
    """The ticks of a section's pieces, drawn and kept clear of words."""
    for piece in pieces:
        for one in lay.lines(piece.ticks):
            room.keep_line(Pen.RULE, one)


def place_outlines(
    room: Room, lay: Lay, pieces: Sequence[Piece], trim: Ring, allowance_in: float
) -> tuple[LaidPiece, ...]:
    """What is drawn of the outlines of a section's pieces, and how each is laid, in sewing order.

    Args:
        trim: as printed.
    """
    found = []
    words = shapely.union_all([Polygon(box).buffer(CLEARANCE_PT / UNIT_PT) for box in room.boxes])
    free = room_of(trim).difference(words)
    ends = [line for piece in pieces for line in lay.lines(piece.ticks)]
    taken: BaseGeometry = MultiLineString(ends).buffer(APART_IN)
    for piece in pieces:
        outline, ticks = lay.ring(piece.laid) if piece.laid else (), lay.lines(piece.ticks)
        drawn = Shown((), (), True)
        if piece.lay is HowLaid.ANGLED:
            drawn = shown(outline, free, taken, off_most(allowance_in), lay.ring(piece.sure) if piece.sure else ())
            for leg in drawn.legs:
                room.keep_line(Pen.LAID, leg)
            for one in drawn.middles:
                room.keep_line(Pen.RULE, one)
                if not any(LineString(leg).intersects(LineString(one)) for leg in drawn.legs):
                    # A tick alone would be the end of a piece.
                    room.keep_line(Pen.LAID, _edge_at(one))
            taken = taken.union(MultiLineString([*drawn.legs, *drawn.middles]).buffer(APART_IN))
        found.append(LaidPiece(piece.lay.value, ticks, outline, drawn.legs, drawn.middles, drawn.enough))
    return tuple(found)


def name_marks(
    room: Room, names: Sequence[str], laid: Sequence[LaidPiece], lines: Sequence[Segment], trim: Ring
) -> Iterator[str]:
    """A word beside the marks of each piece, and what the legend says of them.

    Args:
        names: of the patches in sewing order. lines: what no word may lie on besides; trim: as printed.
    """
    unnamed: list[str] = []
    paper = Polygon(trim)
    marks = [MultiLineString([*one.ticks, *one.middles, *one.legs]) for one in laid]
    for number, (name, one) in enumerate(zip(names, laid, strict=True)):
        others = MultiLineString([line for k, of in enumerate(marks) if k != number for line in of.geoms])
        spots = _apart([*one.ticks, *one.middles, *one.legs])
        named = [_named(room, name, spot, (marks[number], others), lines, paper) for spot in spots]
        if not all(named):
            unnamed.append(name)
    unsure = [name for name, one in zip(names, laid, strict=True) if not one.sure]
    yield from (f"{told}: {', '.join(of)}" for told, of in ((NAMELESS, unnamed), (FEW_MARKS, unsure)) if of)


def said_of_marks(prints: Iterable[Foundation]) -> tuple[str, ...]:
    """What a sheet with such marks says of them, by the example of its first; () without any."""
    marked = [
        (f"{print_.print}{'r' * print_.reversed}{number}", patch.laid)
        for print_ in prints
        for number, patch in enumerate(print_.patches, start=1)
        if patch.laid is not None and (patch.laid.ticks or patch.laid.legs)
    ]
    if not marked:
        return ()
    name, laid = marked[0][0], [one for _, one in marked]
    ends = ["its end at a short tick"] * any(one.ticks for one in laid)
    edges = ["its edges along dots"] * any(one.legs for one in laid)
    middles = "; a tick across dots: the middle of that edge" * any(one.middles for one in laid)
    where = f"{say_list([*ends, *edges], 'or')}{middles}"
    return (f'"lay {name}" says where the piece for {name} lies before the flip: {where}.',)


def _apart(marks: Sequence[Segment]) -> list[Segment]:
    """One of those that lie together."""
    kept: list[Segment] = []
    for mark in marks:
        if all(math.dist(_middle(mark), _middle(other)) > _NEAR_IN for other in kept):
            kept.append(mark)
    return kept


def _named(
    room: Room,
    name: str,
    mark: Segment,
    marks: tuple[MultiLineString, MultiLineString],
    lines: Sequence[Segment],
    paper: Polygon,
) -> bool:
    """Whether a word found room near a mark, nearer to it than to others; `marks`: its own and all others."""
    word, spot = Words(f"lay {name}", (0.0, 0.0), NAME_PT), _middle(mark)
    beside = min(lines, key=lambda line: round(shapely.Point(spot).distance(LineString(line)), 6))
    angles = dict.fromkeys((0.0, _angle_deg(beside), _angle_deg(mark), upright_deg(_angle_deg(mark) + 90)))
    half = width_pt(word.text, NAME_PT) / UNIT_PT / 2
    near, far = (
        shapely.get_parts(shapely.Point(spot).buffer(away + half).intersection(paper))
        for away in (_NEAR_IN / 2, _NEAR_IN)
    )
    choices = (
        product(angles, _AIR_PT, near),
        product(angles, (_LEAST_AIR_PT,), near),
        product(angles, _AIR_PT, far),
    )
    for angle, air, part in chain.from_iterable(choices):
        area = [(float(x), float(y)) for x, y in shapely.get_coordinates(part)[:-1]]
        tried = room.trial()
        placed = tried.lines(area, [word], besides=lines, clearance_pt=air, near=spot, angle_deg=angle)
        if placed:
            box = Polygon(words_box(placed[0], UNIT_PT))
            if marks[1].is_empty or 1.5 * box.distance(marks[0]) < box.distance(marks[1]):
                room.keep_words(placed)
                return True
    return False


def _angle_deg(line: Segment) -> float:
    (ax, ay), (bx, by) = line
    return upright_deg(math.degrees(math.atan2(by - ay, bx - ax)))


def _edge_at(tick: Segment) -> Segment:
    """A little of the edge that a tick stands across, as much to either side as a tick is long."""
    (ax, ay), (bx, by) = tick
    x, y = _middle(tick)
    return ((x - (by - ay), y + (bx - ax)), (x + (by - ay), y - (bx - ax)))


def _middle(line: Segment) -> Point:
    (ax, ay), (bx, by) = line
    return ((ax + bx) / 2, (ay + by) / 2)
