"""Notes: what was done to or seen in a drawing that its owner should know, but that stops nothing."""

from __future__ import annotations

from dataclasses import dataclass

from seamwright.geometry import Point


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
