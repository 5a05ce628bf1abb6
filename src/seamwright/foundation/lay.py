"""From the front view of a block to a print, and back.

Knows:  the two ways in which a section lies on paper: mirrored to be sewn on, or as seen to cut by and to look at.
Units:  inches.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from seamwright.geometry import Affine, Point, Ring, Segment, bounds


@dataclass(frozen=True, slots=True)
class Lay:
    """x' = x - start, or x' = start - x in a mirror: the fabric lies on the blank side. y' = y - top in both.

    Attributes:
        start, top: inches in the block; of a mirror the greatest x of what is printed, else the least; its least y.
        mirrored: whether x runs the other way.
    """

    start: float
    top: float
    mirrored: bool = True

    @property
    def affine(self) -> Affine:
        """From the front view to the print."""
        sign = -1.0 if self.mirrored else 1.0
        return (sign, 0.0, 0.0, 1.0, -sign * self.start, -self.top)

    def point(self, point: Point) -> Point:
        """Where a point of the front view is printed."""
        x = self.start - point[0] if self.mirrored else point[0] - self.start
        return (x, point[1] - self.top)

    def line(self, points: Sequence[Point]) -> tuple[Point, ...]:
        """A line as printed, in the same order."""
        return tuple(self.point(p) for p in points)

    def lines(self, lines: Sequence[Segment]) -> tuple[Segment, ...]:
        """Straight lines of two points as printed."""
        return tuple((self.point(a), self.point(b)) for a, b in lines)

    def ring(self, ring: Sequence[Point]) -> Ring:
        """A ring as printed: run backwards in a mirror, so that clockwise stays clockwise."""
        return self.line(ring)[::-1] if self.mirrored else self.line(ring)

    def direction_deg(self, direction_deg: float) -> float:
        """A direction as printed, clockwise from +x."""
        return 180 - direction_deg if self.mirrored else direction_deg


def printed_at_origin(ring: Ring, mirrored: bool = True) -> Lay:
    """The lay that prints a ring of the front view with its bounding box at (0, 0)."""
    left, top, right, _ = bounds(ring)
    return Lay(right if mirrored else left, top, mirrored)
