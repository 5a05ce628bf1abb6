"""From the front view to the printed side of the paper, and back."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from seamwright.geometry import Point, Ring


@dataclass(frozen=True, slots=True)
class Mirror:
    """x' = right - x, y' = y - top: the fabric lies on the blank side, so the print runs the other way.

    Attributes:
        right, top: inches in the block; the greatest x and the least y of what is printed.
    """

    right: float
    top: float

    def point(self, point: Point) -> Point:
        """Where a point of the front view is printed."""
        return (self.right - point[0], point[1] - self.top)

    def line(self, points: Sequence[Point]) -> tuple[Point, ...]:
        """A line as printed, in the same order."""
        return tuple(self.point(p) for p in points)

    def ring(self, ring: Sequence[Point]) -> Ring:
        """A ring as printed: run backwards, so that clockwise stays clockwise."""
        return self.line(ring)[::-1]

    def back(self, point: Point) -> Point:
        """The point of the front view that is printed at `point`."""
        return (self.right - point[0], point[1] + self.top)
