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
from seamwright.ink.wrap import wrapped
from seamwright.picture.tints import INK
from seamwright.rehearsal.view import Bounds, NameSizes, Panel

EDGE_IN = 0.04
"""Free all round, so that no pen is cut off."""
GAP_IN = 0.12
LARGE_SHARE = 0.66
"""Share of the large panel where two stand beside or below each other."""
MOST_SCALE = 1.25
"""A small section is drawn no larger than a quarter over its true size: it would look like another."""
_NAMES = NameSizes((10.0, 9.0, 8.0, 7.0), (8.0, 7.0), 7.0)
_SMALL_NAMES = NameSizes((8.0, 7.0), (7.0,), 7.0)


@dataclass(frozen=True, slots=True)
class Type:
    """Sizes of all words in figures: `scale` times what is usual, never below."""

    scale: float = 1.0

    @property
    def label_pt(self) -> float:
        """Words below a panel, the smallest of all."""
        return 8.0 * self.scale

    @property
    def line_in(self) -> float:
        """From one line of such words to the next."""
        return 0.14 * self.scale

    def high_in(self, lines: int) -> float:
        """Height that lines of such words take."""
        return 0.045 + lines * self.line_in

    @property
    def names(self) -> NameSizes:
        """Names of patches in a large panel."""
        return self._scaled(_NAMES)

    @property
    def small_names(self) -> NameSizes:
        """Names of patches in a small panel."""
        return self._scaled(_SMALL_NAMES)

    def sizes(self, *usual_pt: float) -> tuple[float, ...]:
        """Any other sizes."""
        return tuple(size * self.scale for size in usual_pt)

    def _scaled(self, sizes: NameSizes) -> NameSizes:
        led = sizes.led_pt * self.scale
        return NameSizes(self.sizes(*sizes.names_pt), self.sizes(*sizes.numbers_pt), led)

    def label(self, text: str, middle: float, top: float, wide_in: float) -> list[Ink]:
        """Words below a panel, in lines no wider than it."""
        return [
            Words(line, (middle, self._base(top, number)), self.label_pt, Anchor.MIDDLE, colour=INK)
            for number, line in enumerate(wrapped(text, self.label_pt, wide_in * 72), start=1)
        ]

    def _base(self, top: float, number: int) -> float:
        """Baseline of one of such lines, from 1; descenders find room below it."""
        return top + self.high_in(number) - 0.03 * self.scale

    def lines(self, text: str, wide_in: float) -> int:
        """How many lines such words take."""
        return len(wrapped(text, self.label_pt, wide_in * 72))


USUAL = Type()


@dataclass(frozen=True, slots=True)
class Stage:
    """Two panels of a figure.

    Attributes:
        large, small: where the work is drawn.
        room: of the large panel, for names beside the work.
        width, height: of the figure.
        spots: middle, top and width of the words below each panel.
    """

    large: Panel
    small: Panel
    room: Ring
    width: float
    height: float
    spots: tuple[tuple[float, float, float], tuple[float, float, float]]

    @staticmethod
    def of(
        bounds: Bounds,
        labels: tuple[str, str],
        *,
        mirrored: bool = True,
        small_bounds: Bounds | None = None,
        most_high: float = PICTURE_HIGH_IN,
        true_small: bool = False,
        kind: Type = USUAL,
    ) -> Stage:
        """The stage on which what lies in `bounds` is drawn as large as can be.

        Args:
            labels: words below the two panels, the longest that any figure of the stage has.
            mirrored: the large panel shows the printed side.
            small_bounds: of what the small panel shows; None: the same.
            most_high: no figure of this stage is higher.
            true_small: the small panel is as large as its bounds say, and stands beside the large one.
        """
        wanted = _Wanted(bounds, small_bounds or bounds, labels, mirrored, most_high, true_small, kind)
        beside = _beside(wanted)
        if true_small:
            return beside
        under = _under(wanted)
        return under if under.large.scale > beside.large.scale * 1.02 else beside

    def figure(self, inks: Sequence[Ink], says: str, labels: tuple[str, str], kind: Type = USUAL) -> Figure:
        """A figure of this stage with the words for its two sides."""
        words = [ink for text, spot in zip(labels, self.spots, strict=True) for ink in kind.label(text, *spot)]
        return Figure((*inks, *words), self.width, self.height, says, kind.scale)


@dataclass(frozen=True, slots=True)
class _Wanted:
    """What a stage is made for."""

    bounds: Bounds
    small_bounds: Bounds
    labels: tuple[str, str]
    mirrored: bool
    most_high: float
    true_small: bool
    kind: Type


def _size(bounds: Bounds) -> Point:
    return (bounds[2] - bounds[0], bounds[3] - bounds[1])


def _beside(of: _Wanted) -> Stage:
    (wide, high), (w, h) = _size(of.bounds), _size(of.small_bounds)
    inner = PICTURE_IN - 2 * EDGE_IN - GAP_IN
    large_w, small_w = inner * LARGE_SHARE, inner * (1 - LARGE_SHARE)
    label = of.kind.high_in(max(map(of.kind.lines, of.labels, (large_w, small_w))))
    most = of.most_high - 2 * EDGE_IN - label
    scale = min(large_w / wide, most / high, MOST_SCALE)
    small = 1.0 if of.true_small else min(small_w / w, most / h, scale)
    height = max(scale * high, small * h) + 2 * EDGE_IN
    left, middle = EDGE_IN, height / 2
    at = (left + large_w / 2, middle)
    large_panel = Panel.within(of.bounds, at, scale * wide, scale * high, of.mirrored)
    right = left + large_w + GAP_IN
    small_panel = Panel.within(of.small_bounds, (right + small_w / 2, middle), small * w, small * h, False)
    room = _box(left, EDGE_IN, left + large_w, height - EDGE_IN)
    spots = ((at[0], height, large_w), (right + small_w / 2, height, small_w))
    return Stage(large_panel, small_panel, room, PICTURE_IN, height + label, spots)


def _under(of: _Wanted) -> Stage:
    (wide, high), (w, h) = _size(of.bounds), _size(of.small_bounds)
    inner = PICTURE_IN - 2 * EDGE_IN
    first, second = (of.kind.high_in(of.kind.lines(text, inner)) for text in of.labels)
    tall = of.most_high - first - second - 2 * EDGE_IN - GAP_IN
    scale = min(inner / wide, tall * LARGE_SHARE / high, MOST_SCALE)
    small = min(inner * 0.55 / w, tall * (1 - LARGE_SHARE) / h, scale)
    middle, top = PICTURE_IN / 2, EDGE_IN + scale * high + EDGE_IN
    at = (middle, EDGE_IN + scale * high / 2)
    large_panel = Panel.within(of.bounds, at, scale * wide, scale * high, of.mirrored)
    start = top + first + GAP_IN - EDGE_IN
    small_panel = Panel.within(of.small_bounds, (middle, start + small * h / 2), small * w, small * h, False)
    height = start + small * h + EDGE_IN
    room = _box(EDGE_IN, EDGE_IN, PICTURE_IN - EDGE_IN, top - EDGE_IN)
    spots = ((middle, top, inner), (middle, height, inner))
    return Stage(large_panel, small_panel, room, PICTURE_IN, height + second, spots)


def _box(left: float, top: float, right: float, bottom: float) -> Ring:
    return ((left, top), (right, top), (right, bottom), (left, bottom))
