"""Pieces stacked section by section: what lies ready beside the machine, in sewing order.

Knows:  sections that one print serves have one stack if their pieces are equal too.
Leaves: sizes (pieces), labels and tables of them (booklet.labels, booklet.tables), sentences (words.cuts).
"""

from __future__ import annotations

from dataclasses import dataclass

from seamwright.cutting.model import Cutting
from seamwright.cutting.rows import parts_of
from seamwright.fabric.pieces import Piece


@dataclass(frozen=True, slots=True)
class Stack:
    """The pieces of sections that are sewn alike.

    Attributes:
        sections: their names, in the plan's order.
        pieces: of the first of them, in sewing order.
        count: how many of each, for all these sections of all blocks.
    """

    sections: tuple[str, ...]
    pieces: tuple[Piece, ...]
    count: int


def stacks(cutting: Cutting) -> tuple[Stack, ...]:
    """One stack for each print, more where pieces of its places differ."""
    found: dict[object, list[tuple[str, tuple[Piece, ...]]]] = {}
    for section in cutting.plan.sections:
        pieces = tuple(piece for piece in parts_of(cutting.pieces) if piece.patch in section.patches)
        alike = tuple(map(_as_cut, pieces))
        found.setdefault((section.print, section.reversed, alike), []).append((section.name, pieces))
    return tuple(
        Stack(tuple(name for name, _ in places), places[0][1], len(places) * cutting.options.blocks)
        for places in found.values()
    )


def _as_cut(piece: Piece) -> tuple[object, ...]:
    """What has to be equal for two pieces to lie in one stack: what is cut, and how it is laid."""
    cut = (piece.fabric, piece.shape, piece.width_in, piece.height_in, piece.share, piece.hand)
    return (*cut, piece.one_way, piece.runs, piece.lay)
