"""What a sewer's hands do at each step: cut, lay, trim, flip, clear.

Knows:  one piece of fabric, one stitch line.
Leaves: in which order things are done, and whether they came out right (sew).
Units:  inches, front view; u along the stitch line, v across it, positive on the new patch's side.
Method: each is a plain function in `Hands`, so that a test can put a clumsy hand in its place and see that what it
        does is noticed from the cloth alone.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

import shapely
from shapely.geometry import Polygon
from shapely.geometry.base import BaseGeometry

from seamwright.rehearsal.line import StitchLine
from seamwright.rehearsal.model import Cloth
from seamwright.rehearsal.overlay import common, less, together


@dataclass(frozen=True, slots=True)
class Need:
    """What a piece of fabric has to cover once it lies in its place, the allowance included.

    Attributes:
        low, high: along the stitch line.
        deep: across it, on the patch's own side.
        beyond: across it on the other side; the allowance, unless the patch itself reaches over the line.
        crosses: the patch itself reaches over the line.
        first: no stitch line yet: `beyond` is a side like the others.
    """

    low: float
    high: float
    deep: float
    beyond: float
    crosses: bool = False
    first: bool = False


@dataclass(frozen=True, slots=True)
class Piece:
    """A rectangle of fabric, measured as it will lie once flipped: from `low` to `high` along the line."""

    low: float
    high: float
    deep: float
    beyond: float

    @property
    def width(self) -> float:
        """Along the stitch line."""
        return self.high - self.low

    @property
    def height(self) -> float:
        """Across the stitch line."""
        return self.deep + self.beyond


@dataclass(frozen=True, slots=True)
class Knife:
    """Where earlier allowances are trimmed.

    Attributes:
        low, high: how far the ruler reaches along the line.
        keep: what is sewn there with its own allowance, where no blade may come; None: nothing lies there.
        far: further than any fabric.
    """

    low: float
    high: float
    keep: BaseGeometry | None
    far: float


def cut_piece(need: Need, extra: float) -> Piece:
    """The smallest rectangle with the allowance only on the stitch side and `extra` more on the other three."""
    open_side = need.first or need.crosses
    return Piece(
        need.low - extra, need.high + extra, need.deep + extra, need.beyond + (extra if open_side else 0.0)
    )


def lay_first(piece: Piece, line: StitchLine) -> Cloth:
    """The first piece, right side up over its patch."""
    return Cloth("", line.rectangle(piece.low, piece.high, -piece.beyond, piece.deep), True)


def lay(piece: Piece, line: StitchLine, edge: float | None) -> Cloth:
    """A piece right side down on what is sewn, its edge on the trimmed edge at v = `edge`.

    Where the patch crosses the line (`edge` None) there is no edge to lay it to: it lies by the line itself.
    """
    top = piece.beyond if edge is None else edge
    return Cloth("", line.rectangle(piece.low, piece.high, top - piece.height, top), False)


def trim(layer: BaseGeometry, line: StitchLine, allowance: float, knife: Knife) -> BaseGeometry:
    """An earlier layer, cut one allowance beyond the line."""
    away: BaseGeometry = line.rectangle(knife.low, knife.high, allowance, knife.far)
    if knife.keep is not None:
        away = less(away, knife.keep)
    return less(layer, away)


def flip(cloth: Cloth, line: StitchLine, held: BaseGeometry) -> Cloth:
    """The piece folded over its seam; `held` is the allowance that the stitches hold down."""
    return Cloth(cloth.patch, line.mirrored(less(cloth.shape, held)), not cloth.right_side_up)


def clear(cloth: Cloth, arms: BaseGeometry, patch: Polygon) -> Cloth:
    """The flipped piece, cut off where it lies on another arm of the section; loose ends are taken away."""
    left = less(cloth.shape, arms)
    attached = [part for part in shapely.get_parts(left) if common(part, patch).area > 0]
    return Cloth(cloth.patch, together(attached), cloth.right_side_up)


@dataclass(frozen=True, slots=True)
class Hands:
    """The sewer's hands; each may be exchanged for a clumsy one."""

    cut_piece: Callable[[Need, float], Piece] = cut_piece
    lay_first: Callable[[Piece, StitchLine], Cloth] = lay_first
    lay: Callable[[Piece, StitchLine, float | None], Cloth] = lay
    trim: Callable[[BaseGeometry, StitchLine, float, Knife], BaseGeometry] = trim
    flip: Callable[[Cloth, StitchLine, BaseGeometry], Cloth] = flip
    clear: Callable[[Cloth, BaseGeometry, Polygon], Cloth] = clear
