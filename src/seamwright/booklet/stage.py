"""The figure of a step: the work large from one side, small from the other, each with a word for the side.

Knows:  how two panels share a figure, how large the work may become in it, which names of patches show.
Leaves: what lies in the panels (rehearsal.sides, joinfigures), the words beside the figure (the chapters).
Units:  inches of the figure.
Method: the small panel stands beside or below the large one, whichever leaves the large one more room; all
        figures of a section share one stage, so that the work stays in one place from step to step.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from seamwright.booklet.model import PICTURE_HIGH_IN, PICTURE_IN, Figure
from seamwright.geometry import Point, Ring
from seamwright.ink.model import Anchor, Ink, Words
from seamwright.picture.tints import QUIET
from seamwright.rehearsal.view import Bounds, NameSizes, Panel

LABEL_PT = 7.0
LABEL_IN = 0.17
"""Height of the line of words below a panel."""
EDGE_IN = 0.04
"""Free all round, so that no pen is cut off."""
GAP_IN = 0.12
LARGE_SHARE = 0.66
"""Share of the large panel where two stand beside or below each other."""
MOST_SCALE = 1.25
"""A small section is drawn no larger than a quarter over its true size: it would look like another."""
SIZES = NameSizes((10.0, 9.0, 8.0, 7.0), (8.0, 7.0), 7.0)
SMALL_SIZES = NameSizes((8.0, 7.0), (7.0,), 7.0)


@dataclass(frozen=True, slots=True)
class Stage:
    """Two panels of a figure.

    Attributes:
        large, small: where the work is drawn.
        room: of the large panel, for names beside the work.
        width, height: of the figure.
        labels: points on the baselines of the words below each panel.
    """

    large: Panel
    small: Panel
    room: Ring
    width: float
    height: float
    labels: tuple[Point, Point]

    @staticmethod
    def of(
        bounds: Bounds,
        *,
        mirrored: bool = True,
        small_bounds: Bounds | None = None,
        most_high: float = PICTURE_HIGH_IN,
        true_small: bool = False,
    ) -> Stage:
        """The stage on which what lies in `bounds` is drawn as large as can be.

        Args:
            mirrored: the large panel shows the printed side.
            small_bounds: of what the small panel shows; None: the same.
            most_high: no figure of this stage is higher.
            true_small: the small panel is as large as its bounds say, and stands beside the large one.
        """
        below = small_bounds or bounds
        beside, under = (form(bounds, below, mirrored, most_high, true_small) for form in (_beside, _under))
        if true_small:
            return beside
        return under if under.large.scale > beside.large.scale * 1.02 else beside

    def figure(self, inks: Sequence[Ink], says: str, labels: tuple[str, str]) -> Figure:
        """A figure of this stage with the words for its two sides."""
        words = [
            Words(text, at, LABEL_PT, Anchor.MIDDLE, colour=QUIET)
            for text, at in zip(labels, self.labels, strict=True)
            if text
        ]
        return Figure((*inks, *words), self.width, self.height, says)


def _size(bounds: Bounds) -> Point:
    return (bounds[2] - bounds[0], bounds[3] - bounds[1])


def _beside(bounds: Bounds, below: Bounds, mirrored: bool, most_high: float, true_small: bool) -> Stage:
    (wide, high), (w, h) = _size(bounds), _size(below)
    inner = PICTURE_IN - 2 * EDGE_IN - GAP_IN
    large_w, small_w = inner * LARGE_SHARE, inner * (1 - LARGE_SHARE)
    most = most_high - 2 * EDGE_IN - LABEL_IN
    scale = min(large_w / wide, most / high, MOST_SCALE)
    small = 1.0 if true_small else min(small_w / w, most / h, scale)
    height = max(scale * high, small * h) + 2 * EDGE_IN
    left, middle = EDGE_IN, height / 2
    large_panel = Panel.within(bounds, (left + large_w / 2, middle), scale * wide, scale * high, mirrored)
    right = left + large_w + GAP_IN
    small_panel = Panel.within(below, (right + small_w / 2, middle), small * w, small * h, False)
    base = height + LABEL_IN - 0.06
    room = _box(left, EDGE_IN, left + large_w, height - EDGE_IN)
    labels = ((left + large_w / 2, base), (right + small_w / 2, base))
    return Stage(large_panel, small_panel, room, PICTURE_IN, height + LABEL_IN, labels)


def _under(bounds: Bounds, below: Bounds, mirrored: bool, most_high: float, true_small: bool) -> Stage:
    (wide, high), (w, h) = _size(bounds), _size(below)
    inner = PICTURE_IN - 2 * EDGE_IN
    tall = most_high - 2 * LABEL_IN - 2 * EDGE_IN - GAP_IN
    scale = min(inner / wide, tall * LARGE_SHARE / high, MOST_SCALE)
    small = min(inner * 0.55 / w, tall * (1 - LARGE_SHARE) / h, scale)
    top = EDGE_IN + scale * high + EDGE_IN
    middle = PICTURE_IN / 2
    large_panel = Panel.within(bounds, (middle, EDGE_IN + scale * high / 2), scale * wide, scale * high, mirrored)
    start = top + LABEL_IN + GAP_IN - EDGE_IN
    small_panel = Panel.within(below, (middle, start + small * h / 2), small * w, small * h, False)
    height = start + small * h + EDGE_IN
    labels = ((middle, top + LABEL_IN - 0.06), (middle, height + LABEL_IN - 0.06))
    room = _box(EDGE_IN, EDGE_IN, PICTURE_IN - EDGE_IN, top - EDGE_IN)
    return Stage(large_panel, small_panel, room, PICTURE_IN, height + LABEL_IN, labels)


def _box(left: float, top: float, right: float, bottom: float) -> Ring:
    return ((left, top), (right, top), (right, bottom), (left, bottom))
