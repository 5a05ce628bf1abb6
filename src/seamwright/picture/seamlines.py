"""Lines that stand for seams in a picture of many blocks: how heavy, how dark.

Knows:  the pen and the strength of seams by how large patches are drawn, the colour of a seam by its two sides.
Leaves: where the seams run (quiltlooks, joints).
Units:  points for pens and patches; strength from 0 to 1.
Method: a seam is a shadow between two fabrics. Where patches are drawn large it is an ink line; the smaller they
        are, the thinner it gets and the nearer it comes to the colours of its sides, or lines would be all that is
        seen of many small patches. Between dark fabrics it is lighter than both, or nothing would be seen of it.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache

from seamwright.fabric.luminance import grey_giving, luminance
from seamwright.fabric.shade import colour_lightness
from seamwright.ink.model import Pen
from seamwright.picture.cloth import BLANK_SEAM, SEAM, Finish
from seamwright.picture.tints import INK, WHITE

LARGE_PT, SMALL_PT = 22.0, 5.0
"""Sides of patches drawn as large as a block in a booklet, and so small that only their colours are seen."""
LEAST = 0.2
"""Share of ink in a seam between the smallest patches: two patches of one fabric can still be told apart."""
DARK = 40.0
"""Lightness L* of both sides below which a seam is drawn lighter than they are."""
LIGHTER = 0.6
"""Share of white where it is, at full strength."""


@dataclass(frozen=True, order=True, slots=True)
class Side:
    """What lies on one side of a seam.

    Attributes:
        colour: of the picture. known: its fabric has a colour or a value of its own.
    """

    colour: str
    known: bool = True


@lru_cache(maxsize=4096)
def side_of(colour: str, known: bool) -> Side:
    """One value for all places alike: thousands of edges are compared."""
    return Side(colour, known)


PAPER = side_of(WHITE, False)


@dataclass(frozen=True, slots=True)
class SeamStyle:
    """How seams of one picture look.

    Attributes:
        pen: their weight. strength: from LEAST to 1, the share of ink in them. finish: of the picture.
    """

    pen: Pen
    strength: float
    finish: Finish

    @staticmethod
    def of(patch_pt: float, finish: Finish) -> SeamStyle:
        """The style of a picture whose patches are about so many points wide and high."""
        large = min(1.0, max(0.0, (patch_pt - SMALL_PT) / (LARGE_PT - SMALL_PT)))
        pens = (Pen.FINEST_SEAM, Pen.FINE_SEAM, BLANK_SEAM if finish is Finish.BLANK else SEAM)
        return SeamStyle(pens[min(2, int(large * 3))], LEAST + (1 - LEAST) * large, finish)

    def colour(self, one: Side | None, other: Side | None) -> str:
        """The colour of a seam between two sides, in either order, or of an edge with nothing on one side of it."""
        return _colour(one, other, self.strength, self.finish)


@lru_cache(maxsize=4096)
def _colour(one: Side | None, other: Side | None, strength: float, finish: Finish) -> str:
    one, other = sorted((one or other or PAPER, other or one or PAPER))
    if finish is Finish.GREY and one.known and other.known:
        # A line of ink would part what the eye does not: a seam is as light as its two sides together.
        return grey_giving((luminance(one.colour) + luminance(other.colour)) / 2)
    between = mixed(one.colour, other.colour, 0.5)
    if max(colour_lightness(one.colour), colour_lightness(other.colour)) < DARK:
        return mixed(between, WHITE, LIGHTER * strength)
    return mixed(between, INK, strength)


def mixed(colour: str, other: str, share: float) -> str:
    """A colour with a share of another in it, by its channels."""
    pairs = zip(_channels(colour), _channels(other), strict=True)
    return "#" + "".join(f"{round(a + (b - a) * share):02x}" for a, b in pairs)


def _channels(colour: str) -> tuple[int, ...]:
    return tuple(int(colour[at : at + 2], 16) for at in (1, 3, 5))
