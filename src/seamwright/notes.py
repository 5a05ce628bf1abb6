"""Notes: what was done to or seen in a drawing that its owner should know, but that stops nothing."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from seamwright.geometry import Point

if TYPE_CHECKING:
    from seamwright.piecing.model import Plan


@dataclass(frozen=True, slots=True)
class Note:
    """One group of alike findings.

    Attributes:
        code: stable word for programs ("tidied", "ignored", "scale", "label", ...).
        text: one sentence or phrase for people, such as "12 ends closed, largest 1/32 in".
        count: how many places it speaks of.
        largest_in: the largest amount, inches in the finished block; None where there is none.
        places_in: where, inches in the finished block, front view (in a Drawing: in the drawing's inches).
    """

    code: str
    text: str
    count: int = 1
    largest_in: float | None = None
    places_in: tuple[Point, ...] = ()


def all_notes(plan: Plan) -> tuple[Note, ...]:
    """The drawing's notes, then the plan's, none twice."""
    return tuple(dict.fromkeys((*plan.block.notes, *plan.notes)))


def fabric_notes(plan: Plan) -> tuple[Note, ...]:
    """Those of them that tell what was made of a drawing's, a palette's or a colourway's fabrics."""
    return tuple(note for note in all_notes(plan) if note.code in ("fabric", "palette", "colourway"))
