"""Where a quilt lies in its picture.

Knows:  how wide its binding shows, what is left free round it, which part of the quilt fills the picture.
Leaves: what is drawn (quilt).
Units:  inches of the picture, and the quilt's own.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from seamwright.asked import usable_options
from seamwright.geometry import Affine, Box, Point, Ring
from seamwright.picture.cloth import OUTER
from seamwright.quilt.model import Quilt, Spot

EDGE_IN = OUTER.value.width_pt / 72 / 2
"""Left free all round, for half a pen."""
LEAST_BINDING_IN = 1.2 / 72
"""A binding drawn narrower than this would be lost beside the line round it."""


def shown_box(quilt: Quilt) -> Box:
    """All of a quilt that shows from the front, in its own inches: its binding lies outside of its finished edge.

    It is sewn on along the seam allowance and turned over it: as wide as that it shows (common practice).
    """
    shows = 0.0 if quilt.setting.binding is None else usable_options(quilt.setting.options).seam_allowance_in
    return (-shows, -shows, quilt.width_in + shows, quilt.height_in + shows)


@dataclass(frozen=True, slots=True)
class QuiltView:
    """From the quilt's inches to those of its picture.

    Attributes:
        scale: picture inches to the inch. left, top: where the quilt's top left corner lies.
        binding: how wide that shows. width, height: of the picture.
    """

    scale: float
    left: float
    top: float
    binding: float
    width: float
    height: float

    @staticmethod
    def of(quilt: Quilt, longest_in: float, part: Box | None = None) -> QuiltView:
        """The view of `quilt_picture`."""
        free, whole = EDGE_IN, shown_box(quilt)
        shows = -whole[0]
        left, top, right, bottom = part or whole
        scale = (longest_in - 2 * free) / max(right - left, bottom - top)
        binding = shows * scale
        if part is None and 0 < binding < LEAST_BINDING_IN:
            binding = LEAST_BINDING_IN
            scale = (longest_in - 2 * (free + binding)) / max(quilt.width_in, quilt.height_in)
            left = top = -binding / scale
            right, bottom = quilt.width_in - left, quilt.height_in - top
        return QuiltView(
            scale,
            free - left * scale,
            free - top * scale,
            binding,
            (right - left) * scale + 2 * free,
            (bottom - top) * scale + 2 * free,
        )

    @property
    def window(self) -> Box:
        """What of the picture shows the quilt."""
        return (EDGE_IN, EDGE_IN, self.width - EDGE_IN, self.height - EDGE_IN)

    def line(self, points: Sequence[Point]) -> Ring:
        """Places of the quilt in its picture."""
        return tuple((self.left + x * self.scale, self.top + y * self.scale) for x, y in points)

    def place(self, spot: Spot) -> Affine:
        """From a block's own picture to that of the quilt."""
        a, b, c, d, e, f = spot.place
        return (a, b, c, d, self.left + e * self.scale, self.top + f * self.scale)
