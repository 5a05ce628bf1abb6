"""What is drawn where two parts of a print are glued: the line to cut, the line to glue on, crosses, words.

Knows:  where crosses and words find room in the band that both parts share.
Leaves: where parting lines lie (parting), what else a part shows (tiling).
Units:  points, in the frame of the parts.
Method: both parts draw the same crosses at the same places. The long arm of a cross runs over the parting line, so
        that on the part below it shows beside the edge of the part on top, whose own half of the arm carries it on.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from shapely import STRtree
from shapely.geometry import LineString, Polygon, box
from shapely.geometry.base import BaseGeometry

from seamwright.geometry import Point, Segment
from seamwright.ink.lettering import CAP_HEIGHT, centred, words_box
from seamwright.ink.model import Ink, Pen, Stroke, Words
from seamwright.sheet.parting import OVERLAP_PT, STEP_PT

CROSS_PT = 5.0
"""Half a cross."""
PAST_PT = 9.0
"""How far the long arm of a cross runs past the parting line."""
APART_PT = 216.0
"""Crosses on a long line lie about this far apart; there are two at the least."""
WORDS_PT = 7.0

HOW_TO_GLUE = (
    "Glue the parts of each row together, then row to row: cut along the line marked cut, lay the edge on the glue "
    "line, crosses on crosses, and glue. Tape melts under the iron."
)


@dataclass(frozen=True, slots=True)
class Joint:
    """A parting line between two parts, from the part below (printed to the overlap beyond it) to the one on top.

    Attributes:
        line: from left to right, or from top to bottom; the band to glue lies below it, or right of it.
        below, above: numbers of the two parts.
    """

    line: Segment
    below: int
    above: int

    @property
    def upright(self) -> bool:
        """Whether the line runs down."""
        return self.line[0][0] == self.line[1][0]

    def at(self, along: float, off: float) -> Point:
        """The point so far along the line, and so far off it into the band."""
        (x, y), _ = self.line
        return (x + off, y + along) if self.upright else (x + along, y + off)


class Ground:
    """What crosses and words keep clear of.

    Args:
        paper: the whole print.
        ink: all that is on it.
    """

    def __init__(self, paper: Polygon, ink: Sequence[Ink]) -> None:
        self.paper = paper
        self._words = STRtree([Polygon(words_box(mark, 1.0)) for mark in ink if isinstance(mark, Words)])
        self._lines = STRtree(
            [LineString([*mark.points, *mark.points[: mark.closed]]) for mark in ink if isinstance(mark, Stroke)]
        )

    def free(self, spot: BaseGeometry, taken: Sequence[BaseGeometry], *, lines_too: bool = False) -> bool:
        """Whether a spot lies on the print, clear of words and of what is taken, and of lines if asked for."""
        return (
            self.paper.covers(spot)
            and not len(self._words.query(spot, "intersects"))
            and not any(spot.intersects(other) for other in taken)
            and not (lines_too and len(self._lines.query(spot, "intersects")))
        )


def crosses(joint: Joint, ground: Ground, others: Sequence[BaseGeometry]) -> tuple[list[Ink], list[BaseGeometry]]:
    """The crosses of a joint, clear of what other joints take, and the spots that they take themselves."""
    ink: list[Ink] = []
    taken: list[BaseGeometry] = []
    for low, high in _runs(joint, ground):
        places = list(_places(low, high))
        number = max(2, round((high - low) / APART_PT) + 1)
        for k in range(number):
            wanted = low + (high - low) * (k + 0.5) / number
            # Beside the lines of the print if it can be: a cross on one of them is hard to see.
            near = sorted(places, key=lambda p, w=wanted: (abs(p - w), p))  # type: ignore[misc]
            ways = [(True, p) for p in near if abs(p - wanted) < (high - low) / number / 2]
            for lines_too, place in (*ways, *((False, p) for p in near)):
                arm = (joint.at(place, -PAST_PT), joint.at(place, OVERLAP_PT / 2 + CROSS_PT))
                bar = (
                    joint.at(place - CROSS_PT, OVERLAP_PT / 2),
                    joint.at(place + CROSS_PT, OVERLAP_PT / 2),
                )
                (ax, ay), (bx, by) = (
                    joint.at(place - CROSS_PT, -PAST_PT),
                    joint.at(place + CROSS_PT, OVERLAP_PT / 2 + CROSS_PT),
                )
                spot = box(ax, ay, bx, by).buffer(2.0)
                if ground.free(spot, (*others, *taken), lines_too=lines_too):
                    taken.append(spot)
                    ink += [Stroke(Pen.RULE, arm), Stroke(Pen.RULE, bar)]
                    break
    return ink, taken


def parting(line: Segment, paper: Polygon) -> Iterator[Stroke]:
    """A parting line where it lies on the print."""
    found = LineString(line).intersection(paper)
    for part in getattr(found, "geoms", [found]):
        if isinstance(part, LineString) and part.length > 0.01:
            yield Stroke(Pen.HELPER, tuple((float(x), float(y)) for x, y in part.coords))


def label(
    texts: Sequence[str], joint: Joint, ground: Ground, taken: Sequence[BaseGeometry], *, before: bool = False
) -> list[Words]:
    """Words in the band beside a line, near its middle, clear of words, crosses and, if it can be, of lines.

    Args:
        texts: the one wanted most first, shorter ones for narrow tips.
        before: where the band has no room for any, the words may lie on the other side of the line.
    """
    gap = 3.0 + CAP_HEIGHT * WORDS_PT / 2
    length = math.dist(*joint.line)
    band = (gap, OVERLAP_PT / 2, OVERLAP_PT - gap)
    ways = [(True, text, off) for text in texts for off in band]
    ways += [(True, text, -gap) for text in texts if before]
    ways += [(False, text, gap) for text in texts]
    for lines_too, text, off in ways:
        for place in sorted(_places(0.0, length), key=lambda p: (abs(p - length / 2), p)):
            at = joint.at(place, off)
            one = centred(text, at, WORDS_PT, unit_pt=1.0, angle_deg=90.0 if joint.upright else 0.0)
            if ground.free(Polygon(words_box(one, 1.0)).buffer(1.0), taken, lines_too=lines_too):
                return [one]
    return []


def _runs(joint: Joint, ground: Ground) -> list[tuple[float, float]]:
    """Where the middle of the band lies on the print, from how far along the line to how far."""
    length = math.dist(*joint.line)
    middle = LineString([joint.at(0.0, OVERLAP_PT / 2), joint.at(length, OVERLAP_PT / 2)])
    found = middle.intersection(ground.paper)
    start = joint.at(0.0, OVERLAP_PT / 2)
    runs = [
        sorted(math.dist(start, (float(x), float(y))) for x, y in part.coords)
        for part in getattr(found, "geoms", [found])
        if isinstance(part, LineString)
    ]
    return [(run[0], run[-1]) for run in runs if run and run[-1] - run[0] > 4 * CROSS_PT]


def _places(low: float, high: float) -> Iterator[float]:
    """Places a step apart along a run."""
    number = max(1, round((high - low) / STEP_PT))
    return (low + (high - low) * (k + 0.5) / number for k in range(number))
