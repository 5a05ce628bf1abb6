"""Greys by area: how much of a quilt is how light, as bars from dark to light.

Knows:  where bars and figures go.
Leaves: the shares (quilt.balance).
Units:  inches; type in points.
"""

from __future__ import annotations

from collections.abc import Iterator

from seamwright.fabric.luminance import grey_giving
from seamwright.ink.model import Anchor, Area, Ink, Pen, Stroke, Words
from seamwright.picture.model import Picture
from seamwright.picture.tints import INK
from seamwright.quilt.balance import Balance, grey_of_step

FIGURE_PT = 9.0
ABOVE_IN, BELOW_IN = 0.2, 0.2
"""Room for the figures over the bars, and for the words under them."""
EDGE_IN = 0.01


def greys_figure(balance: Balance, width_in: float, height_in: float, scale: float = 1.0) -> Picture:
    """The histogram of a quilt: a bar for each step of grey, with its per cent; the tallest bar fills the height.

    Args:
        balance: of which some fabric is known.
        scale: of words.
    """
    return Picture(tuple(_inks(balance.greys, width_in, height_in, scale)), width_in, height_in)


def _inks(shares: tuple[float, ...], width: float, height: float, scale: float) -> Iterator[Ink]:
    size = FIGURE_PT * scale
    foot = height - BELOW_IN * scale
    tallest = foot - ABOVE_IN * scale
    step = (width - 2 * EDGE_IN) / len(shares)
    for number, share in enumerate(shares):
        left = EDGE_IN + number * step
        top = foot - tallest * share / max(shares)
        if share > 0:
            ring = ((left, top), (left + step, top), (left + step, foot), (left, foot))
            yield Area((ring,), grey_giving(grey_of_step(number)))
            yield Stroke(Pen.RULE, ring, closed=True, colour=INK)
            says = f"{round(100 * share)} %" if share >= 0.01 else "< 1 %"
            yield Words(says, (left + step / 2, top - 0.05), size, Anchor.MIDDLE, colour=INK)
    yield Stroke(Pen.RULE, ((0.0, foot), (width, foot)), colour=INK)
    yield Words("dark", (0.0, height - 0.04), size, colour=INK)
    yield Words("light", (width, height - 0.04), size, Anchor.END, colour=INK)
