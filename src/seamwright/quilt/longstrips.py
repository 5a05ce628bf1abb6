"""Strips that are longer than the fabric is wide: joined end to end, or cut along the selvedge in one piece.

Knows:  how many strips make a length, what their joints take of it, which way takes less fabric.
Leaves: sizes of what is cut from them (plaincuts), strips of the fabric itself (cutting.strips).
Units:  inches.
Method: all strips of one fabric and one width are joined into one and then cut to lengths, so that only one end is
        left over; the last strip is cut whole too, for a quilt may measure more than it should. They meet on the
        diagonal, which shows least (common practice), where the print runs one way on the straight. Cut along the
        selvedge they need no joint and stretch less: so they are cut where that takes no more fabric.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import replace

from seamwright.fabric.pieces import Lay, Piece, Shape
from seamwright.quilt.cutmodel import Counted, Joined, Joint
from seamwright.units import say_list

_HAIR = 1e-6


def strips_for(needed_in: float, strip_in: float, lost_in: float) -> int:
    """How many strips, each joint taking so much of them, make a length.

    Raises:
        ValueError: joints take all of a strip.
    """
    if lost_in >= strip_in:
        raise ValueError(f"a joint takes {lost_in:g} in, all of a strip {strip_in:g} in long")
    return max(1, math.ceil((needed_in - lost_in) / (strip_in - lost_in) - _HAIR))


def is_long(piece: Piece, usable_in: float) -> bool:
    """Whether a piece has to be joined: longer than the fabric is wide, and no print makes it lie along it."""
    if piece.shape is not Shape.RECTANGLE or min(piece.width_in, piece.height_in) > usable_in / 2:
        return False
    across = piece.height_in if piece.runs == "width" else piece.width_in
    return (across if piece.one_way else max(piece.width_in, piece.height_in)) > usable_in + _HAIR


def joined(counted: Sequence[Counted], usable_in: float, allowance_in: float) -> tuple[Joined, ...]:
    """Strips for all long pieces of one fabric, a line for each width, the widest first."""
    found: dict[tuple[float, bool], list[Counted]] = {}
    for each in counted:
        if is_long(each.piece, usable_in):
            width = round(min(each.piece.width_in, each.piece.height_in), 6)
            found.setdefault((width, each.piece.one_way), []).append(each)
    made = []
    for (width, one_way), those in sorted(found.items(), reverse=True):
        joint = Joint.STRAIGHT if one_way else Joint.DIAGONAL
        lost = 2 * allowance_in if one_way else width
        lengths = tuple(sorted(map(_level, those), key=lambda each: -each.piece.width_in))
        needed = sum(each.piece.width_in * each.count for each in lengths)
        number = strips_for(needed, usable_in, lost)
        name = f"strips for {_called([each.piece.name for each in lengths])}"
        made.append(Joined(name, those[0].piece.fabric, width, usable_in, number, joint, lost, lengths))
    return tuple(made)


def _called(names: Sequence[str]) -> str:
    """Several names by the words with which all begin, such as "border 2"; all of them where none is common."""
    words = [name.replace(",", "").split() for name in names]
    same = [word for word, *others in zip(*words, strict=False) if others.count(word) == len(others)]
    return " ".join(same) if same and len(names) > 1 else say_list(list(names))


def _level(each: Counted) -> Counted:
    """The longer side as the width."""
    piece = each.piece
    if piece.width_in >= piece.height_in:
        return each
    runs = {"width": "height", "height": "width"}.get(piece.runs, "")
    return replace(each, piece=replace(piece, width_in=piece.height_in, height_in=piece.width_in, runs=runs))


def strip_piece(name: str, fabric: str | None, width_in: float, strip_in: float) -> Piece:
    """A strip across the whole width of the fabric, as a piece that is cut."""
    return Piece(0, name, fabric, Shape.RECTANGLE, strip_in, width_in, 1, (), lay=Lay.PLAIN, one_way=True)


def along_selvedge(each: Counted) -> Counted:
    """A long piece cut in one piece along the selvedge."""
    level = _level(each).piece
    piece = replace(
        level, width_in=level.height_in, height_in=level.width_in, one_way=True, runs="height", grain_deg=None
    )
    return replace(each, piece=piece, along=True)
